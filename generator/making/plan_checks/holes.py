"""Drills long enough, and boring bars that enter the hole, reach its end and stay stiff on the way."""

from __future__ import annotations

from collections.abc import Iterator

from generator.description import Part, Surface
from generator.findings import Finding, Severity
from generator.making.plan_checks.plan import NOT_TOLD, Cut, Plan, found
from generator.making.plan_checks.surfaces import words
from generator.making.workshop import BoringBar, Drill

__all__ = ["about_holes", "usable_mm"]

_CHIPS = 1.5
"""Of the diameter: flute that must stay out of the hole for the chips. Source: table drill_rules."""
_DRILL_SOURCE = "table drill_rules: flute less 1.5 d; common practice, no source"
_STIFF, _STIFF_CARBIDE = 4.0, 7.0
"""Reach of a boring bar in its own diameters. Source: machref.com, lathe tooling reference (table boring_rules)."""
_BAR_SOURCE = "table boring_rules: 4 diameters in steel, 7 in carbide; machref.com, lathe tooling reference"
_STARTER_LEFT_MM = 0.5
"""Least stock on the diameter that a starter hole leaves for boring. Source: table boring_rules, common practice."""
_SAME_MM = 0.05
_NEAR_MM = 0.5
_MEET_MM = 2.0
"""How far two holes drilled from both ends must overlap. Shop choice."""
_OPENS = frozenset({"drill", "ream", "bore"})


def about_holes(plan: Plan) -> Iterator[Finding]:
    """Findings about every hole that is drilled or bored with what lies in the drawer.

    Source: tables drill_rules and boring_rules; lengths of the shop's own tools.
    """
    for cut in plan.steps:
        if cut.step.work == "drill":
            yield from _drilled(plan, cut)
        elif cut.step.work == "bore":
            yield from _bored(plan, cut)
    yield from _through(plan)


def usable_mm(drill: Drill) -> float:
    """How deep a drill goes before its chips jam.

    Source: flute less 1.5 diameters, common practice, no source.
    """
    return drill.flute_mm - _CHIPS * drill.diameter_mm


def _inside(plan: Plan, cut: Cut) -> Iterator[tuple[Part, Surface]]:
    """Inside surfaces that a step cuts."""
    for address in cut.features:
        known = plan.surface(address)
        if known is not None and known[1].side == "inside" and not known[1].at:
            yield known


def _drilled(plan: Plan, cut: Cut) -> Iterator[Finding]:
    """A finding where no drill of that size reaches as deep as the step wants."""
    holes = [(part, surface, *plan.span(part, surface)) for part, surface in _inside(plan, cut)]
    sizes = [(surface.diameter.nominal_mm, far - near) for _, surface, near, far in holes] + list(_across(plan, cut))
    diameter = cut.step.diameter_mm or max((size for size, _ in sizes), default=None)
    depth = cut.step.length_mm or max((deep for _, deep in sizes), default=None)
    about = cut.features[0] if cut.features else cut.setup.parts[0]
    if diameter is None or depth is None:
        yield _untold(cut, about, "diameter and depth of a hole to drill")
        return
    drill = _drill_for(plan, diameter)
    if drill is None:
        yield found(
            "order-drill", "note", cut.setup, f"{about}/{diameter:g}",
            f"no drill near {diameter:g} mm in the drawer: its length is not compared",
            f"find one with a flute of {depth + _CHIPS * diameter:.0f} mm at least", source=_whose(plan),
        )  # fmt: skip
        return
    if depth <= usable_mm(drill) + 1e-6:
        return
    severity, advice = _short_drill(plan, holes, depth, drill)
    yield found(
        "order-drill", severity, cut.setup, f"{about}/{diameter:g}",
        f"the drill of {drill.diameter_mm:g} mm is too short for a hole {depth:.1f} mm deep: its flute of "
        f"{drill.flute_mm:g} mm carries chips out of {usable_mm(drill):.1f} mm",
        advice, value=usable_mm(drill), least=depth, source=f"{_DRILL_SOURCE}; {_whose(plan)}",
    )  # fmt: skip


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


def _untold(cut: Cut, about: str, what: str) -> Finding:
    """That a step leaves out what its check needs."""
    return found(
        "order-not-told", "note", cut.setup, f"{about}/step {cut.index + 1}", f"the order of work does not say {what}",
        NOT_TOLD, source="this program",
    )  # fmt: skip


def _short_drill(
    plan: Plan, holes: list[tuple[Part, Surface, float, float]], depth: float, drill: Drill
) -> tuple[Severity, str]:
    """How bad a short drill is: a stop where the other end would cure it, or where the drawer is known to hold no
    longer one.
    """
    both = bool(holes) and all(_open_ends(part, plan, surface) == 2 for part, surface, *_ in holes)
    if both and (depth + _MEET_MM) / 2.0 <= usable_mm(drill):
        return "stop", f"drill {(depth + _MEET_MM) / 2.0:.0f} mm from each end, the second after turning round"
    longer = f"get a drill with a flute of {depth + _CHIPS * drill.diameter_mm:.0f} mm"
    if both:
        half = (depth + _MEET_MM) / 2.0 + _CHIPS * drill.diameter_mm
        longer = f"get a drill with a flute of {half:.0f} mm and drill from both ends"
    return ("warn" if plan.workshop.is_default("drills") else "stop"), longer


def _drill_for(plan: Plan, diameter_mm: float) -> Drill | None:
    """The longest drill of this size in the drawer, else of the nearest size below half a millimetre away."""
    near = [one for one in plan.workshop.drills if abs(one.diameter_mm - diameter_mm) <= _NEAR_MM]
    same = [one for one in near if abs(one.diameter_mm - diameter_mm) <= _SAME_MM]
    if same:
        return max(same, key=usable_mm)
    return min(near, key=lambda one: (abs(one.diameter_mm - diameter_mm), -one.flute_mm), default=None)


def _through(plan: Plan) -> Iterator[Finding]:
    """A stop where a hole drilled to told depths from its ends does not meet in the middle."""
    drilled: dict[str, list[Cut]] = {}
    for cut in plan.steps:
        if cut.step.work == "drill" and cut.step.length_mm is not None:
            for part, surface in _inside(plan, cut):
                drilled.setdefault(f"{part.name}/{surface.name}", []).append(cut)
    for address, cuts in drilled.items():
        known = plan.surface(address)
        if known is None:
            continue
        near, far = plan.span(*known)
        open_ends = max(1, _open_ends(known[0], plan, known[1]))
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


def _bored(plan: Plan, cut: Cut) -> Iterator[Finding]:
    """A finding where no boring bar enters, reaches, or stays stiff."""
    if not any(True for _ in _inside(plan, cut)):
        about = cut.features[0] if cut.features else cut.setup.parts[0]
        yield _untold(cut, about, "which hole is bored")
    for part, surface in _inside(plan, cut):
        address = f"{part.name}/{surface.name}"
        starter = _starter_mm(plan, cut, part, surface)
        depth = _reach_mm(plan, cut, part, surface)
        if starter is None:
            yield found(
                "order-boring-bar", "stop", cut.setup, address,
                f"a boring bar for {words(address)}, but no hole is there for it",
                "drill a starter hole first, in steps", source="table boring_rules; common practice, no source",
            )  # fmt: skip
            continue
        yield from _bar_for(plan, cut, address, surface.diameter.nominal_mm, starter, depth)


def _bar_for(
    plan: Plan, cut: Cut, address: str, diameter_mm: float, starter_mm: float, depth_mm: float
) -> Iterator[Finding]:
    """What is wrong with the bars for a hole: none enters, none reaches, the best one is slender."""
    bars = plan.workshop.boring_bars
    unsure = plan.workshop.is_default("boring_bars")
    source = f"{_BAR_SOURCE}; {_whose(plan, 'boring_bars')}"
    entering = [bar for bar in bars if bar.least_bore_mm <= starter_mm + 1e-6]
    reaching = [bar for bar in entering if bar.reach_mm >= depth_mm - 1e-6]
    after = [bar for bar in bars if bar.least_bore_mm <= diameter_mm - _STARTER_LEFT_MM and bar.reach_mm >= depth_mm]
    cure = (
        f"open the starter hole to {min(bar.least_bore_mm for bar in after):g} mm first: a stiffer bar then enters"
        if after else f"get a bar that enters {starter_mm:g} mm and reaches {depth_mm:.0f} mm, carbide if need be"
    )  # fmt: skip
    severity: Severity = "stop" if after or not unsure else "warn"
    if not entering:
        least = min((bar.least_bore_mm for bar in bars), default=None)
        yield found(
            "order-boring-bar", severity, cut.setup, address,
            f"no boring bar enters the hole of {starter_mm:g} mm at {words(address)}",
            cure, value=starter_mm, least=least, source=source,
        )  # fmt: skip
    elif not reaching:
        longest = max(bar.reach_mm for bar in entering)
        yield found(
            "order-boring-bar", severity, cut.setup, address,
            f"no boring bar that enters {starter_mm:g} mm reaches the end of {words(address)}",
            cure, value=longest, least=depth_mm, source=source,
        )  # fmt: skip
    else:
        best = min(reaching, key=lambda bar: _slender(bar, depth_mm))
        if _slender(best, depth_mm) > 1.0 + 1e-6:
            most = _STIFF_CARBIDE if best.carbide else _STIFF
            yield found(
                "order-boring-bar", "warn", cut.setup, address,
                f"the bar of {best.bar_mm:g} mm sticks out {depth_mm:.0f} mm for {words(address)}: it will chatter",
                cure if after else "take a carbide bar, or light passes and a slow speed",
                value=depth_mm / best.bar_mm, most=most, unit="diameters", source=source,
            )  # fmt: skip


def _slender(bar: BoringBar, depth_mm: float) -> float:
    """Reach over what is stiff, 1 at the limit."""
    return depth_mm / (bar.bar_mm * (_STIFF_CARBIDE if bar.carbide else _STIFF))


def _starter_mm(plan: Plan, cut: Cut, part: Part, surface: Surface) -> float | None:
    """Diameter of the hole that is there when boring begins: drilled for it, or bored or drilled deeper in the part."""
    sizes = []
    near, far = plan.span(part, surface)
    for before in plan.steps_of(part.name, _OPENS):
        if not before.is_before(cut):
            continue
        for other, hole in _inside(plan, before):
            if other is not part:
                continue
            start, end = plan.span(part, hole)
            behind = start <= near + 1e-6 or end >= far - 1e-6
            size = before.step.diameter_mm or hole.diameter.nominal_mm
            if (hole is surface or behind) and size <= surface.diameter.nominal_mm + 1e-6:
                sizes.append(size)
    return max(sizes, default=None)


def _open_ends(part: Part, plan: Plan, surface: Surface) -> int:
    """At how many of its ends a hole opens into the open air: on an end of the part, or into a wider hole that does."""
    return sum(_way_out(part, plan, surface, side) is not None for side in (-1, 1))


def _way_out(part: Part, plan: Plan, surface: Surface, side: int) -> float | None:
    """Distance from the far end of a hole to the end of the part on this side, None where the way is closed.

    Open means that holes as wide as this one, or nearly, lead all the way.
    """
    near, far = plan.span(part, surface)
    holes = [(*plan.span(part, one), plan.widest_mm(part, one)) for one in part.surfaces if one.side == "inside"]
    ends = [z for one in part.surfaces if one.side == "outside" for z in plan.span(part, one)]
    at, end = (far, max(ends)) if side > 0 else (near, min(ends))
    least = surface.diameter.nominal_mm - _NEAR_MM
    while abs(at - end) > 1e-6:
        beyond = [
            (stop if side > 0 else start)
            for start, stop, size in holes
            if size >= least and abs((start if side > 0 else stop) - at) <= 1e-6 and stop - start > 1e-6
        ]
        if not beyond:
            return None
        at = beyond[0]
    return end - near if side > 0 else far - end


def _reach_mm(plan: Plan, cut: Cut, part: Part, surface: Surface) -> float:
    """How far a boring bar must reach in, from the end of the part at which this set-up works."""
    ways = {side: _way_out(part, plan, surface, side) for side in (-1, 1)}
    held = plan.surface(cut.setup.grips)
    if held is not None and held[0] is part:
        away = 1 if sum(plan.span(part, surface)) >= sum(plan.span(*held)) else -1
        if (one := ways[away]) is not None:
            return one
    open_ways = [way for way in ways.values() if way is not None]
    near, far = plan.span(part, surface)
    return min(open_ways, default=far - near)


def _whose(plan: Plan, name: str = "drills") -> str:
    return plan.workshop.sources.get(name, "the shop file")
