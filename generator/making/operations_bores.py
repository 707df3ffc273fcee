"""The boring bar of an operation: the stoutest that reaches, and the hole that must be drilled to let it in."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from generator.making.figures import Figures
from generator.making.floors import SQUARED, has_room, hole_in_floor_mm, room_mm
from generator.making.operations_blank import BEYOND_MM
from generator.making.operations_target import Target
from generator.making.operations_tools import Chosen, inside_groove_tool, tool_size
from generator.making.workshop import BoringBar, Workshop

__all__ = [
    "Section", "Starter", "bar_for", "bored", "drilled_span", "full_depth_mm", "mouth_of", "sections_of", "starter_for",
]

ROOM_MM = 2.0
"""How much further than the hole is deep a bar must reach: chips, and the holder clear of the face. Shop choice."""

RUN_OUT_MM = 2.0
"""Width of the tool that opens a run-out in a bore: none is narrower. Source: `route.inside_thread`."""

LEFT_MM = 0.5
"""Least that is left on the diameter for boring after a drill. Source: table boring_rules, common practice."""

_SLOPE = 2 * math.tan(math.radians(59.0))
"""Diameter of a 118 degree point for each mm behind its tip. Source: geometry."""


class Section(NamedTuple):
    """One diameter of the finished hole, from one depth to another below the face where it opens."""

    start_mm: float
    end_mm: float
    diameter_mm: float


class Starter(NamedTuple):
    """A drill for a boring bar, and how deep its full diameter goes; through the whole part where that is infinite."""

    drill_mm: float
    full_mm: float


def sections_of(target: Target) -> tuple[Section, ...]:
    """The finished hole as one looks into it from the end where this bore opens, the mouth first.

    Source: geometry.
    """
    part, main = target.part, target.main
    if part is None or main is None:
        return ()
    mouth, inwards = mouth_of(target)
    found = []
    for one in (one for one in part.surfaces if one.side == "inside" and not one.at):
        deep = [inwards * (target.z_of[face] - mouth) for face in (one.near, one.far)]
        found.append(Section(min(deep), max(deep), one.diameter.nominal_mm))
    return tuple(sorted(one for one in found if one.end_mm > 0))


def mouth_of(target: Target) -> tuple[float, float]:
    """Place where the bore opens and the sign of the way inwards: where a wider hole leads out, else touches off."""
    main = target.main
    assert main is not None
    low, high = min(target.z_of.values()), max(target.z_of.values())
    inside = [one for one in target.part.surfaces if one.side == "inside"] if target.part is not None else []
    here = main.surface.diameter.nominal_mm

    def opens(end: float) -> bool:
        near, far = sorted((end, main.near_mm if end == low else main.far_mm))
        between = [one for one in inside if target.z_of[one.near] >= near - 1e-6 and target.z_of[one.far] <= far + 1e-6]
        reach = sum(target.z_of[one.far] - target.z_of[one.near] for one in between)
        return far - near - reach < 1.0 and all(one.diameter.nominal_mm >= here - 1e-6 for one in between)

    touched = target.z_of.get(target.setup.touches_off.partition("/")[2])
    ways = [(end, inwards) for end, inwards in ((low, 1.0), (high, -1.0)) if opens(end)]
    if len(ways) == 1:
        return ways[0]
    if touched is not None and abs(touched - low) != abs(touched - high):
        return (low, 1.0) if abs(touched - low) < abs(touched - high) else (high, -1.0)
    return (low, 1.0) if main.far_mm - low < high - main.near_mm else (high, -1.0)


def drilled_span(target: Target, full_mm: float) -> tuple[float, float]:
    """Between which places of the part a starter of this depth goes."""
    if math.isinf(full_mm):
        return -BEYOND_MM, BEYOND_MM
    mouth, inwards = mouth_of(target)
    # From before the face on, for what is not faced yet.
    low, high = sorted((mouth - inwards * 10.0, mouth + inwards * full_mm))
    return low, high


def full_depth_mm(drill_mm: float, sections: tuple[Section, ...], *, through: bool) -> float:
    """How deep the full diameter of a drill may go so that its point cuts into nothing that stays.

    Infinite where every section leaves something to bore and the hole goes through.
    Source: geometry of a 118 degree point.

    >>> round(full_depth_mm(10.0, (Section(0.0, 20.0, 12.0),), through=False), 2)
    16.5
    """
    limits = [
        one.start_mm - (drill_mm - one.diameter_mm + LEFT_MM) / _SLOPE
        for one in sections if one.diameter_mm < drill_mm + LEFT_MM
    ]
    if not limits and not through:
        limits = [max((one.end_mm for one in sections), default=0.0) - drill_mm / _SLOPE - LEFT_MM]
    return min(limits, default=math.inf)


def starter_for(
    bar: BoringBar, bore: Section, hole_mm: float, sections: tuple[Section, ...], workshop: Workshop, *, through: bool
) -> Starter | None:
    """The smallest drill that lets the bar in, with how deep it may go; None where none does.

    Source: least bore and half a millimetre over it, table boring_rules, common practice.
    """
    for extra in (0.5, 0.0):
        for drill in sorted(one.diameter_mm for one in workshop.drills):
            if not bar.least_bore_mm + extra - 1e-9 <= drill <= bore.diameter_mm - LEFT_MM + 1e-9:
                continue
            full = full_depth_mm(drill, sections, through=through)
            # Short of the floor by no more than the point: the bar squares the rest.
            if full >= max(min(bore.end_mm, 1.0), bore.end_mm - drill / _SLOPE - 1.0) and drill > hole_mm:
                return Starter(drill, full)
    return None


def bar_for(
    bore: Section, hole_mm: float, sections: tuple[Section, ...], workshop: Workshop, *, through: bool
) -> tuple[BoringBar, Starter | None] | None:
    """The stoutest bar that reaches the bottom and enters the hole that is there, else one that can be drilled.

    Source: common practice, no source (table boring_rules).
    """
    fitting = [
        one for one in sorted(workshop.boring_bars, key=lambda one: (-one.bar_mm, one.reach_mm))
        if one.reach_mm >= bore.end_mm + ROOM_MM - 1e-9 and one.least_bore_mm <= bore.diameter_mm - LEFT_MM + 1e-9
    ]
    entering = next((one for one in fitting if hole_mm >= one.least_bore_mm - 1e-9), None)
    if entering is not None:
        return entering, None
    for bar in fitting:
        starter = starter_for(bar, bore, hole_mm, sections, workshop, through=through)
        if starter is not None:
            return bar, starter
    return None


def bored(target: Target, workshop: Workshop, figures: Figures) -> Chosen:
    """The boring bar of an operation and the hole it needs first; what to do where no bar reaches.

    Source: common practice, no source (table boring_rules).
    """
    main = target.main
    rests = tuple(name for name in ("boring_bars", "drills") if workshop.is_default(name))
    sections = sections_of(target)
    bore = _bore(target, sections)
    if main is None or bore is None:
        return Chosen("boring bar", "carbide", rests_on=rests[:1])
    wide = target.step.diameter_mm
    if wide is not None and wide > main.end_mm + LEFT_MM:
        return inside_groove_tool(RUN_OUT_MM, (wide - main.end_mm) / 2)
    squared = SQUARED in target.step.text
    fitting = _with_room(target, workshop) if squared else workshop
    found = bar_for(bore, main.start_mm, sections, fitting, through=target.opens_through)
    if found is None and squared and target.part is not None:
        return _no_room(bore, hole_in_floor_mm(target.part, main.surface), figures, rests[:1])
    if found is None:
        return _no_bar(target, bore, figures, rests[:1])
    bar, starter = found
    out = f"bar out of its holder {figures.length(bore.end_mm + ROOM_MM, 0)}"
    how = (*_starting(starter, figures), out)
    also = () if starter is None else (f"drill {tool_size(starter.drill_mm, figures)}",)
    return Chosen(
        f"boring bar {tool_size(bar.bar_mm, figures)}", "carbide", 0.4, 30.0, bar=bar, also=also, how=how,
        rests_on=rests if starter is not None else rests[:1],
        starter_mm=None if starter is None else starter.drill_mm,
        starter_deep_mm=0.0 if starter is None else starter.full_mm,
    )


def _bore(target: Target, sections: tuple[Section, ...]) -> Section | None:
    """The section that is bored: the deepest and smallest of them where there are several."""
    main = target.main
    if main is None:
        return None
    mouth, inwards = mouth_of(target)
    ends = [inwards * (z - mouth) for one in target.passes for z in (one.near_mm, one.far_mm)]
    return Section(min(ends), max(ends), min(one.end_mm for one in target.passes))


def _starting(starter: Starter | None, figures: Figures) -> Iterator[str]:
    if starter is None:
        return
    name = f"drill {tool_size(starter.drill_mm, figures)}"
    if math.isinf(starter.full_mm):
        yield f"{name} through first, for the bar"
    else:
        deep = figures.length(starter.full_mm, 1)
        yield f"{name} first for the bar, {deep} deep at its full diameter; the bar squares the rest"


def _with_room(target: Target, workshop: Workshop) -> Workshop:
    """The shop with those bars alone that can face the floor of this bore."""
    main, part = target.main, target.part
    if main is None or part is None:
        return workshop
    to_mm, wide_mm = hole_in_floor_mm(part, main.surface), main.surface.diameter.nominal_mm
    return replace(workshop, boring_bars=tuple(one for one in workshop.boring_bars if has_room(one, wide_mm, to_mm)))


def _no_room(bore: Section, to_mm: float, figures: Figures, rests: tuple[str, ...]) -> Chosen:
    """No bar faces this floor: how large one may be, and what does instead. Source: common practice, no source."""
    room = figures.length(room_mm(bore.diameter_mm, to_mm), 1)
    name = f"boring bar no more than {room} over tip and back that reaches {figures.length(bore.end_mm + ROOM_MM, 0)}"
    return Chosen("boring bar", "HSS", 0.2, 30.0, rests_on=rests, missing=(
        f"{name}: a drill ground flat across its end, or a D-bit of silver steel",
    ))


def _no_bar(target: Target, bore: Section, figures: Figures, rests: tuple[str, ...]) -> Chosen:
    """No bar does: which is missing, and what stands in for it. Source: common practice, no source."""
    name = f"boring bar that enters {figures.length(bore.diameter_mm)} and reaches "
    name += figures.length(bore.end_mm + ROOM_MM, 0)
    if bore.diameter_mm < 12:
        other = "drill 0.3 mm under and ream, or turn a bar of silver steel with an HSS bit"
    else:
        other = "turn a bar from the stoutest steel that enters, HSS bit, light cuts; or bore from both ends"
    return Chosen("boring bar", "HSS", 0.2, 30.0, missing=(f"{name}: {figures.prose(other)}",), rests_on=rests)
