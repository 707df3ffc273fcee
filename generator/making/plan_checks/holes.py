"""Drills long enough for their holes, from one end or from both; and which way a hole opens."""

from __future__ import annotations

from collections.abc import Iterator

from generator.description import Part, Surface
from generator.findings import Finding, Severity
from generator.making.plan_checks.plan import NOT_TOLD, Cut, Plan, found
from generator.making.plan_checks.surfaces import words
from generator.making.workshop import Drill

__all__ = ["about_drills", "inside_of", "untold", "way_out_mm"]

_CHIPS = 1.5
"""Of the diameter: flute that must stay out of the hole for the chips. Source: table drill_rules."""
_DRILL_SOURCE = "table drill_rules: flute less 1.5 d; common practice, no source"
_SAME_MM = 0.05
_NEAR_MM = 0.5
_WIDE = 2.0
"""A way in of so many diameters lets chips out beside the drill. Shop choice."""
_OPENS = frozenset({"drill", "ream", "bore"})
_MEET_MM = 2.0
"""How far two holes drilled from both ends must overlap. Shop choice."""


def about_drills(plan: Plan) -> Iterator[Finding]:
    """Findings about every hole that is drilled with what lies in the drawer.

    Source: table drill_rules; lengths of the shop's own drills.
    """
    for cut in plan.steps:
        if cut.step.work == "drill":
            yield from _drilled(plan, cut)
    yield from _through(plan)


def inside_of(plan: Plan, cut: Cut) -> Iterator[tuple[Part, Surface]]:
    """Cylinders inside a part that a step cuts."""
    for address in cut.features:
        known = plan.surface(address)
        if known is not None and known[1].side == "inside" and not known[1].at:
            yield known


def _drilled(plan: Plan, cut: Cut) -> Iterator[Finding]:
    """A finding where no drill of that size reaches as deep as the step wants."""
    holes = [(part, surface, *plan.span(part, surface)) for part, surface in inside_of(plan, cut)]
    sizes = [(surface.diameter.nominal_mm, far - near) for _, surface, near, far in holes] + list(_across(plan, cut))
    diameter = cut.step.diameter_mm or max((size for size, _ in sizes), default=None)
    depth = cut.step.length_mm or max((deep for _, deep in sizes), default=None)
    about = cut.features[0] if cut.features else cut.setup.parts[0]
    if diameter is None or depth is None:
        yield untold(cut, about, "diameter and depth of a hole to drill")
        return
    drill = _drill_for(plan, diameter)
    if drill is None:
        yield found(
            "order-drill", "note", cut.setup, f"{about}/{diameter:g}",
            f"no drill near {diameter:g} mm in the drawer: its length is not compared",
            f"find one with a flute of {depth + _CHIPS * diameter:.0f} mm at least", source=_whose(plan),
        )  # fmt: skip
        return
    yield from _behind(plan, cut, holes, depth, drill)
    if depth <= drill.usable_mm + 1e-6:
        return
    severity, advice = _short_drill(plan, holes, depth, drill)
    yield found(
        "order-drill", severity, cut.setup, f"{about}/{diameter:g}",
        f"the drill of {drill.diameter_mm:g} mm is too short for a hole {depth:.1f} mm deep: its flute of "
        f"{drill.flute_mm:g} mm carries chips out of {drill.usable_mm:.1f} mm",
        advice, value=drill.usable_mm, least=depth, source=f"{_DRILL_SOURCE}; {_whose(plan)}",
    )  # fmt: skip


def _behind(
    plan: Plan, cut: Cut, holes: list[tuple[Part, Surface, float, float]], depth: float, drill: Drill
) -> Iterator[Finding]:
    """A warning where the way in to a hole takes up the flute, or brings the chuck up to the work.

    Of the chuck it is a note where nobody knows how long the drills are: the operation names the longer one.
    """
    for part, surface, *_ in holes:
        before_mm, wide_mm = _way_in(plan, cut, part, surface, drill)
        lacking: Severity = "note" if plan.workshop.is_default("drills") else "warn"
        address, narrow_mm = f"{part.name}/{surface.name}", max(0.0, before_mm - wide_mm)
        if narrow_mm > 1e-6 and depth <= drill.usable_mm + 1e-6 < depth + narrow_mm:
            yield found(
                "order-drill-behind", "warn", cut.setup, address,
                f"{words(address)} lies {narrow_mm:.1f} mm behind what is solid or narrow: the drill of "
                f"{drill.diameter_mm:g} mm clears its chips out of {drill.usable_mm:.1f} mm",
                "open the way to it first, twice as wide as this drill, or drill less deep from this end",
                value=drill.usable_mm, least=depth + narrow_mm, source=f"{_DRILL_SOURCE}; {_whose(plan)}",
            )  # fmt: skip
        if before_mm + depth > drill.out_mm + 1e-6 >= depth:
            yield found(
                "order-drill-chuck", lacking, cut.setup, address,
                f"the drill of {drill.diameter_mm:g} mm stands {drill.out_mm:.0f} mm out of its chuck, its hole ends "
                f"{before_mm + depth:.1f} mm below the face",
                "take the long series, braze it on a longer shank, or drill less deep from this end",
                value=drill.out_mm, least=before_mm + depth, source=f"geometry; {_whose(plan)}",
            )  # fmt: skip


def _way_in(plan: Plan, cut: Cut, part: Part, surface: Surface, drill: Drill) -> tuple[float, float]:
    """How far a hole begins behind the end that the drill goes in at, and how much of that is open and wide by then.

    Both are 0 where that end is not known.
    """
    z_of = plan.z_of(part)
    ends, start = (min(z_of.values()), max(z_of.values())), z_of.get(cut.setup.touches_off.partition("/")[2])
    if start not in ends or start is None:
        return 0.0, 0.0
    before_mm, wide_mm = min(abs(z - start) for z in plan.span(part, surface)), 0.0
    for other in plan.steps_of(part.name, _OPENS):
        if not other.is_before(cut):
            continue
        opened = [one for owner, one in inside_of(plan, other) if owner is part]
        if not opened and other.place == cut.place and (other.step.diameter_mm or 0.0) >= _WIDE * drill.diameter_mm:
            wide_mm = max(wide_mm, other.step.length_mm or 0.0)
        for one in opened:
            if (other.step.diameter_mm or one.diameter.nominal_mm) >= _WIDE * drill.diameter_mm:
                reached = (abs(z - start) for z in plan.span(part, one))
                wide_mm = max([wide_mm, *(mm for mm in reached if mm <= before_mm + 1e-6)])
    return before_mm, wide_mm


def _across(plan: Plan, cut: Cut) -> Iterator[tuple[float, float]]:
    """Diameter and depth of each cross hole that a step drills: right through the part."""
    for address in cut.features:
        name, _, feature = address.partition("/")
        part = plan.tool.parts[name]
        for cross in part.cross:
            if cross.name == feature and "diameter" in cross.sizes:
                outside = (one for one in part.surfaces if one.side == "outside")
                around = (plan.widest_mm(part, one) for one in outside if _covers(plan, part, one, cross.near))
                yield cross.sizes["diameter"].nominal_mm, max(around, default=0.0)


def _covers(plan: Plan, part: Part, surface: Surface, face: str) -> bool:
    near, far = plan.span(part, surface)
    return near - 1e-6 <= plan.z_of(part)[face] <= far + 1e-6


def untold(cut: Cut, about: str, what: str) -> Finding:
    """That a step leaves out what its check needs."""
    return found(
        "order-not-told", "warn", cut.setup, f"{about}/step {cut.index + 1}", f"the order of work does not say {what}",
        NOT_TOLD, source="this program",
    )  # fmt: skip


def _short_drill(
    plan: Plan, holes: list[tuple[Part, Surface, float, float]], depth: float, drill: Drill
) -> tuple[Severity, str]:
    """How bad a short drill is: a stop where the other end would cure it, or where the drawer is known to hold no
    longer one.
    """
    both = bool(holes) and all(_open_ends(plan, part, surface) == 2 for part, surface, *_ in holes)
    half = (max([depth, *(far - near for *_, near, far in holes)]) + _MEET_MM) / 2.0
    if both and all(_reached_mm(plan, part, one, drill) >= far - near + _MEET_MM for part, one, near, far in holes):
        return "stop", f"drill from both ends, {half:.0f} mm or so from each, the second after turning round"
    longer = f"get a drill with a flute of {(half if both else depth) + _CHIPS * drill.diameter_mm:.0f} mm"
    longer += " and drill from both ends" if both else ""
    return ("warn" if plan.workshop.is_default("drills") else "stop"), longer


def _drill_for(plan: Plan, diameter_mm: float) -> Drill | None:
    """The longest drill of this size in the drawer, else of the nearest size below half a millimetre away."""
    near = [one for one in plan.workshop.drills if abs(one.diameter_mm - diameter_mm) <= _NEAR_MM]
    same = [one for one in near if abs(one.diameter_mm - diameter_mm) <= _SAME_MM]
    if same:
        return max(same, key=lambda one: one.usable_mm)
    return min(near, key=lambda one: (abs(one.diameter_mm - diameter_mm), -one.flute_mm), default=None)


def _through(plan: Plan) -> Iterator[Finding]:
    """A stop where a hole drilled to told depths from its ends does not meet in the middle."""
    drilled: dict[str, list[Cut]] = {}
    for cut in plan.steps:
        if cut.step.work == "drill" and cut.step.length_mm is not None:
            for part, surface in inside_of(plan, cut):
                drilled.setdefault(f"{part.name}/{surface.name}", []).append(cut)
    for address, cuts in drilled.items():
        known = plan.surface(address)
        if known is None:
            continue
        near, far = plan.span(*known)
        open_ends = max(1, _open_ends(plan, *known))
        deepest: dict[int, float] = {}
        for cut in cuts:
            deepest[cut.place] = max(deepest.get(cut.place, 0.0), cut.step.length_mm or 0.0)
        reached = sum(sorted(deepest.values(), reverse=True)[:open_ends])
        if reached < far - near - 0.5:
            yield found(
                "order-drill-meets", "stop", cuts[-1].setup, address,
                f"{words(address)} is {far - near:.1f} mm long, drilled {reached:.1f} mm in all",
                "drill deeper, or from the other end as well", value=reached, least=far - near, source="geometry",
            )  # fmt: skip


def _open_ends(plan: Plan, part: Part, surface: Surface) -> int:
    """At how many of its ends a hole opens into the open air: on an end of the part, or into a wider hole that does."""
    return sum(way_out_mm(plan, part, surface, side) is not None for side in (-1, 1))


def way_out_mm(plan: Plan, part: Part, surface: Surface, side: int) -> float | None:
    """Distance from the far end of a hole to the end of the part on this side, None where the way is closed."""
    path = _path(plan, part, surface, side)
    near, far = plan.span(part, surface)
    return None if path is None else far - near + sum(long_mm for long_mm, _ in path)


def _path(plan: Plan, part: Part, surface: Surface, side: int) -> list[tuple[float, float]] | None:
    """Length and diameter of the holes that lead from a hole out to the end of the part, None where the way is closed.

    Open means that holes as wide as this one, or nearly, lead all the way.
    """
    near, far = plan.span(part, surface)
    holes = [(*plan.span(part, one), plan.widest_mm(part, one)) for one in part.surfaces if one.side == "inside"]
    ends = [z for one in part.surfaces if one.side == "outside" for z in plan.span(part, one)]
    at, end = (far, max(ends)) if side > 0 else (near, min(ends))
    least = surface.diameter.nominal_mm - _NEAR_MM
    path: list[tuple[float, float]] = []
    while abs(at - end) > 1e-6:
        beyond = [
            (stop if side > 0 else start, stop - start, size)
            for start, stop, size in holes
            if size >= least and abs((start if side > 0 else stop) - at) <= 1e-6 and stop - start > 1e-6
        ]
        if not beyond:
            return None
        at, *step = beyond[0]
        path.append((step[0], step[1]))
    return path


def _reached_mm(plan: Plan, part: Part, surface: Surface, drill: Drill) -> float:
    """How much of a hole a drill reaches from its open ends; a way in that is not twice as wide takes its share."""
    reached = 0.0
    for side in (-1, 1):
        path = _path(plan, part, surface, side)
        if path is not None:
            narrow = sum(long_mm for long_mm, size in path if size < _WIDE * drill.diameter_mm)
            reached += max(0.0, drill.usable_mm - narrow)
    return reached


def _whose(plan: Plan, name: str = "drills") -> str:
    return plan.workshop.sources.get(name, "the shop file")
