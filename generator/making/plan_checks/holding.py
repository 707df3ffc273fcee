"""How the work is held: on what is made already, without marks, long enough, supported where it sticks out."""

from __future__ import annotations

from collections.abc import Iterator

from generator.description import Part
from generator.findings import PRACTICE, Finding, Severity
from generator.making.plan_checks.plan import HARD_JAWS, Plan, found, is_hard_held
from generator.making.plan_checks.surfaces import words
from generator.making.setups import SetUp

__all__ = ["about_holding"]

_OVERHANG = 2.5
"""Diameters that work may stick out without support. Source: a lathe's manual, manualsdump.com."""
_DANGER = 4.0
"""Diameters from which it is dangerous. Source: long-shaft tuning, anebonmetal.com."""
_SLENDER = 10.0
"""Diameters between supports from which a steady is needed. Source: long-shaft tuning, anebonmetal.com."""
_OVERHANG_SOURCE = "a lathe's manual, manualsdump.com: support what sticks out more than 2.5 diameters"
_DANGER_SOURCE = f"{_OVERHANG_SOURCE}; danger from 4: long-shaft tuning, anebonmetal.com"
_SLENDER_SOURCE = "long-shaft tuning, anebonmetal.com: from 10 diameters not without a steady"

_GRIP_SHARE, _GRIP_LEAST_MM = 0.7, 15.0
"""Least length in the jaws: of the diameter, and in mm. Source: table keys_and_tools, common practice, no source."""
_SUPPORTED = 0.5
"""Of that length with a centre or a steady. Shop choice; the table says less with one."""
_SOFT_SHARE, _SOFT_OF_LENGTH = 0.35, 0.5
"""Least length in bored soft jaws or on a mandrel: of the diameter, or of the piece where that is less. Shop choice."""
_GRIP_SOURCE = "table keys_and_tools: 0.7 of the diameter, not below 15 mm, less with a centre; common practice"
_SOFT_SOURCE = f"{PRACTICE}: 0.35 of the diameter or half the piece"


def about_holding(plan: Plan) -> Iterator[Finding]:
    """Findings about what each set-up holds and locates on.

    Source: each limit names its own; what marks and what may be held how is common practice, no source.
    """
    for place, setup in enumerate(plan.setups):
        yield from _not_made(plan, setup, place)
        yield from _touches(plan, setup, place)
        yield from _marks(plan, setup, place)
        yield from _too_short(plan, setup, place)
        yield from _longer_than_blank(plan, setup)
        yield from _sticks_out(plan, setup, place)
        yield from _steady(plan, setup, place)
        yield from _walks_out(setup)


def _not_made(plan: Plan, setup: SetUp, place: int) -> Iterator[Finding]:
    """Stops where jaws, socket or indicator need what is cut only later.

    What finishes nothing (roughing, sawing, the tongs of the hardening) may be handled by anything.
    """
    handled = not setup.finishes
    for verb, address in (("holds", setup.grips), ("locates on", setup.locates_on)):
        if address not in plan.cut_in and plan.surface(address) is None:
            continue
        if plan.is_made_before(address, place) or (handled and (verb == "locates on" or setup.located == "bench")):
            continue
        if verb == "holds" and plan.is_turned_before(address, place):
            continue
        yield found(
            "order-not-made", "stop", setup, address,
            f"{verb} {words(address)}, {plan.made_where(address)}",
            f"finish {words(address)} in an earlier set-up, or hold the work by what is finished by then",
            source="nothing can run true to what is not there yet",
        )  # fmt: skip


def _touches(plan: Plan, setup: SetUp, place: int) -> Iterator[Finding]:
    """A stop where lengths are set from a face that is cut only in a later set-up."""
    places = plan.cut_in.get(setup.touches_off, ())
    if setup.finishes and places and places[0] > place:
        yield found(
            "order-not-made", "stop", setup, setup.touches_off,
            f"sets its lengths from {words(setup.touches_off)}, {plan.made_where(setup.touches_off)}",
            "touch off on a face that is finished by then, or face this one first",
            source="nothing can be measured from what is not there yet",
        )  # fmt: skip


def _marks(plan: Plan, setup: SetUp, place: int) -> Iterator[Finding]:
    """Stops where bare jaws, or the screw of a carrier, bear on a finished taper, seat, point or thread."""
    held = plan.surface(setup.grips)
    if held is None or not plan.is_made_before(setup.grips, place):
        return
    part, surface = held
    threads = {zone.surface for zone in part.zones if zone.form == "thread"}
    bare = is_hard_held(setup) or (setup.located == "centres" and "carrier" in setup.holding.casefold())
    is_thread = surface.role == "thread" or surface.name in threads
    grips = setup.located not in {"own bearings", "mandrel", "finished taper"} and "tongs" not in setup.holding
    if is_thread and grips and surface.side.startswith("outside"):
        why, cure = "jaws crush its crests", "hold a plain diameter, or screw it into a tapped bush that is slit"
    elif not bare:
        return
    elif surface.role == "taper":
        why = "jaws touch a cone along one line only, mark it, and let it walk"
        cure = "hold the taper in the headstock spindle, with a sleeve where it is smaller, drawn in by a drawbar"
    elif surface.role in {"seat", "pocket", "point"}:
        why, cure = "hard jaws mark it", "hold it in soft jaws bored to it or between centres, or finish it afterwards"
    else:
        return
    by = "a vice" if setup.located == "bench" else "a carrier" if setup.located == "centres" else _jaws(setup)
    yield found(
        "order-marks", "stop", setup, setup.grips, f"{words(setup.grips)}, finished, held in {by}: {why}", cure
    )


def _jaws(setup: SetUp) -> str:
    return {"bar": "a three-jaw", "soft jaws": "soft jaws"}.get(setup.located, f"a {setup.located}")


def _least_grip_mm(plan: Plan, setup: SetUp, place: int) -> tuple[float, str] | None:
    """Least length to be held, and whose rule; None where the way of holding needs none."""
    held_mm = plan.held_mm(setup, place)
    if held_mm is None or setup.grip_mm is None:
        return None
    if setup.located in HARD_JAWS:
        share = _SUPPORTED if setup.support else 1.0
        return share * max(_GRIP_SHARE * held_mm, _GRIP_LEAST_MM), _GRIP_SOURCE
    if setup.located in {"soft jaws", "mandrel"}:
        piece_mm = setup.grip_mm + (setup.out_mm or 0.0)
        return min(_SOFT_SHARE * held_mm, _SOFT_OF_LENGTH * piece_mm), _SOFT_SOURCE
    return None


def _too_short(plan: Plan, setup: SetUp, place: int) -> Iterator[Finding]:
    """A stop where less than half of the usual length is held, a warning where it is less than usual."""
    least = _least_grip_mm(plan, setup, place)
    if least is None or setup.grip_mm is None:
        return
    usual_mm, source = least
    if setup.grip_mm >= usual_mm - 0.05:
        return
    severity: Severity = "stop" if setup.grip_mm < 0.5 * usual_mm else "warn"
    yield found(
        "order-grip", severity, setup, setup.grips or "grip",
        f"only {setup.grip_mm:.1f} mm of {words(setup.grips)} are held",
        "leave more length to hold by, or carry the free end in a centre",
        value=setup.grip_mm, least=usual_mm, source=source,
    )  # fmt: skip


def _longer_than_blank(plan: Plan, setup: SetUp) -> Iterator[Finding]:
    """A stop where more of a bar is held and stands out than the blank is long; between centres it is faced by then."""
    part = plan.part_of(setup)
    blank = plan.blanks.get(part.name) if part is not None else None
    if blank is None or setup.located not in {"bar", "centres"} or setup.grip_mm is None or setup.out_mm is None:
        return
    wanted_mm, most_mm = setup.grip_mm + setup.out_mm, blank.faced_mm if setup.located == "centres" else blank.cut_mm
    if wanted_mm > most_mm + 0.5:
        yield found(
            "order-grip", "stop", setup, f"{blank.part} blank",
            f"{setup.grip_mm:.1f} mm held and {setup.out_mm:.1f} mm out are more than the blank has",
            "saw the blank longer, or hold less of it", value=wanted_mm, most=most_mm,
        )  # fmt: skip


def _sticks_out(plan: Plan, setup: SetUp, place: int) -> Iterator[Finding]:
    """What sticks out of its holding by more diameters than it may."""
    held_mm = plan.held_mm(setup, place)
    if held_mm is None or setup.out_mm is None or setup.located in {"", "bench", "own bearings"}:
        return
    part = plan.part_of(setup)
    if setup.located == "finished taper" and part is not None:
        # All that is slender of a shank is inside the socket; what sticks out is the body.
        held_mm = max(plan.widest_mm(part, one) for one in part.surfaces if one.side == "outside")
    elif setup.located == "centres" and part is not None:
        held_mm = _mean_mm(plan, part)
    elif plan.surface(setup.grips) is not None and part is not None:
        # The rule speaks of the diameter of the work, which may be thicker than what it is held by.
        held_mm = max(held_mm, _mean_mm(plan, part))
    ratio = setup.out_mm / held_mm
    about = setup.grips or "work"
    if setup.support == "centre" or setup.located == "centres":
        if ratio > _SLENDER:
            yield found(
                "order-overhang", "warn", setup, about, f"{ratio:.1f} diameters between its supports",
                "carry the middle in a steady on a turned band, or take light cuts in more passes",
                value=ratio, most=_SLENDER, unit="diameters", source=_SLENDER_SOURCE,
            )  # fmt: skip
    elif not setup.support and ratio > _OVERHANG:
        # In its own socket a tool sticks out as far as it will in use, where it carries more than a finishing cut.
        stops = ratio > _DANGER and setup.located != "finished taper"
        yield found(
            "order-overhang", "stop" if stops else "warn", setup, about,
            f"{setup.out_mm:.0f} mm stick out of the holding without support, {ratio:.1f} diameters",
            "light cuts at a slow feed" if setup.located == "finished taper"
            else "carry the free end in a centre, or in a steady on a turned band where the end is to be cut",
            value=ratio, most=_DANGER if stops else _OVERHANG, unit="diameters",
            source=_DANGER_SOURCE if stops else _OVERHANG_SOURCE,
        )  # fmt: skip


def _mean_mm(plan: Plan, part: Part) -> float:
    """Diameter of a part by its length: what a stepped piece between centres is as slender as."""
    spans = [(one, *plan.span(part, one)) for one in part.surfaces if one.side == "outside"]
    long_mm = sum(far - near for _, near, far in spans)
    return sum(plan.widest_mm(part, one) * (far - near) for one, near, far in spans) / long_mm


def _steady(plan: Plan, setup: SetUp, place: int) -> Iterator[Finding]:
    """A stop where the steady would run on the raw bar, or where there is none that takes the work."""
    if setup.support != "steady":
        return
    part, most_mm = plan.part_of(setup), plan.workshop.steady_most_mm
    if part is None:
        return
    on = _under_steady(plan, setup, place)
    if on is None:
        yield found(
            "order-steady", "stop", setup, part.name, "the steady would run on the bar as it came, out of round",
            "turn a band for the steady first: hold short or between chuck and centre, then set the steady on it",
        )  # fmt: skip
    held_mm = plan.held_mm(setup, place) or 0.0
    if most_mm is None:
        yield found(
            "order-steady-room", "stop", setup, part.name, "there is no steady in this shop",
            "give the steady in the shop file, or hold the work short, or bore it between chuck and centre",
            source="the shop file",
        )  # fmt: skip
    elif (on or held_mm) > most_mm:
        yield found(
            "order-steady-room", "warn" if plan.workshop.is_default("steady_most_mm") else "stop", setup, part.name,
            "the work is too thick for the steady", "turn a slimmer band for it, or hold the work short",
            value=on or held_mm, most=most_mm, source=_whose(plan, "steady_most_mm"),
        )  # fmt: skip


def _under_steady(plan: Plan, setup: SetUp, place: int) -> float | None:
    """Diameter of the turned band that the steady runs on, None where nothing on this part is turned before.

    A step of clamping that names its surface says where; else any outside that was turned before will do.
    """
    named = [step.surface for step in setup.steps if step.work == "hold" and plan.surface(step.surface) is not None]
    outside = named or [
        f"{name}/{surface.name}"
        for name in setup.parts
        for surface in plan.tool.parts[name].surfaces
        if surface.side == "outside" and not surface.at
    ]
    turned = [address for address in outside if plan.is_turned_before(address, place)]
    sizes = [plan.widest_mm(*one) for address in turned if (one := plan.surface(address)) is not None]
    bands = [
        cut.step.diameter_mm or 0.0
        for cut in plan.steps
        if set(cut.setup.parts) & set(setup.parts) and cut.step.work in {"turn", "rough"} and cut.place <= place
        and not named and (cut.place < place or _is_before_steady(cut.index, setup))
    ]  # fmt: skip
    return max([*sizes, *bands], default=None)


def _is_before_steady(index: int, setup: SetUp) -> bool:
    """True for a step before the one that sets the steady; without such a step none is."""
    return any(step.work == "hold" and later > index for later, step in enumerate(setup.steps))


def _walks_out(setup: SetUp) -> Iterator[Finding]:
    """A warning where cuts pull at a taper that is only pushed in: no step draws or knocks it home."""
    pulled = [step.work for step in setup.steps if step.work in {"bore", "drill", "turn", "face", "groove", "ream"}]
    if setup.located != "finished taper" or not pulled or any(step.work == "hold" for step in setup.steps):
        return
    yield found(
        "order-walks-out", "warn", setup, setup.grips or "taper",
        "nothing holds the taper in its socket: the cut may walk it out",
        "draw it in with a drawbar; without one seat it with a blow, cut lightly, and look at its mark now and then",
    )


def _whose(plan: Plan, name: str) -> str:
    return plan.workshop.sources.get(name, "the shop file")
