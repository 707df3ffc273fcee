"""Boring bars that enter the hole, reach its end and stay stiff on the way."""

from __future__ import annotations

from collections.abc import Iterator

from generator.description import Part, Surface
from generator.findings import Finding
from generator.making.floors import SQUARED, has_room, hole_in_floor_mm, room_mm
from generator.making.plan_checks.holes import inside_of, untold, way_out_mm
from generator.making.plan_checks.plan import Cut, Plan, by_whom, found
from generator.making.plan_checks.surfaces import words
from generator.making.workshop import BoringBar

__all__ = ["about_bars"]

_STIFF, _STIFF_CARBIDE = 4.0, 7.0
"""Reach of a boring bar in its own diameters. Source: machref.com, lathe tooling reference (table boring_rules)."""
_SOURCE = "table boring_rules: 4 diameters in steel, 7 in carbide; machref.com, lathe tooling reference"
_STARTER_LEFT_MM = 0.5
"""Least stock on the diameter that a starter hole leaves for boring. Source: table boring_rules, common practice."""
_OPENS = frozenset({"drill", "ream", "bore"})


def about_bars(plan: Plan) -> Iterator[Finding]:
    """Findings about every hole that is bored with the bars of the shop.

    A starter hole counts as drilled where a drill of the shop can make it. Given bars stop, usual ones warn.
    Source: table boring_rules.
    """
    for cut in plan.steps:
        if cut.step.work != "bore":
            continue
        holes = tuple(inside_of(plan, cut))
        for part, surface in holes:
            yield from _bored(plan, cut, part, surface)
            if SQUARED in cut.step.text:
                yield from _squared(plan, cut, part, surface)
        if not holes:
            yield untold(cut, cut.features[0] if cut.features else cut.setup.parts[0], "which hole is bored")


def _bored(plan: Plan, cut: Cut, part: Part, surface: Surface) -> Iterator[Finding]:
    """What is wrong with the bars for a hole: none enters, none reaches, the best one is slender."""
    address = f"{part.name}/{surface.name}"
    hole, depth = _opening_mm(plan, cut, part, surface), _reach_mm(plan, cut, part, surface)
    severity, whose = by_whom(plan, "boring_bars")
    source = f"{_SOURCE}; {whose}"
    bars = plan.workshop.boring_bars
    entering = [bar for bar in bars if bar.least_bore_mm <= hole + 1e-6]
    reaching = [bar for bar in entering if bar.reach_mm >= depth - 1e-6]
    cure = f"get a bar that enters {hole:g} mm and reaches {depth:.0f} mm, of carbide if need be"
    if not entering:
        yield found(
            "order-boring-bar", severity, cut.setup, address,
            f"no boring bar enters the hole of {hole:g} mm that can be there for {words(address)}" if hole
            else f"no hole to lead a boring bar into for {words(address)}, and no drill to make one",
            f"{cure}; or get a drill for a larger starter hole",
            value=hole, least=min((bar.least_bore_mm for bar in bars), default=None), source=source,
        )  # fmt: skip
    elif not reaching:
        yield found(
            "order-boring-bar", severity, cut.setup, address,
            f"no boring bar that enters {hole:g} mm reaches the end of {words(address)}",
            cure, value=max(bar.reach_mm for bar in entering), least=depth, source=source,
        )  # fmt: skip
    else:
        best = min(reaching, key=lambda bar: _slender(bar, depth))
        if _slender(best, depth) > 1.0 + 1e-6:
            yield found(
                "order-boring-bar", "warn", cut.setup, address,
                f"the bar of {best.bar_mm:g} mm sticks out {depth:.0f} mm for {words(address)}: it will chatter",
                "take a carbide bar, or light passes at a slow speed", value=depth / best.bar_mm,
                most=_STIFF_CARBIDE if best.carbide else _STIFF, unit="diameters", source=source,
            )  # fmt: skip


def _squared(plan: Plan, cut: Cut, part: Part, surface: Surface) -> Iterator[Finding]:
    """A finding where every bar that reaches the floor of a bore meets the wall behind it on its way inwards."""
    to_mm, depth = hole_in_floor_mm(part, surface), _reach_mm(plan, cut, part, surface)
    wide_mm, bars = surface.diameter.nominal_mm, plan.workshop.boring_bars
    if any(has_room(bar, wide_mm, to_mm) and bar.reach_mm >= depth - 1e-6 for bar in bars):
        return
    severity, whose = by_whom(plan, "boring_bars")
    room, address = room_mm(wide_mm, to_mm), f"{part.name}/{surface.name}"
    yield found(
        "order-bar-room", severity, cut.setup, address,
        f"no boring bar that reaches {depth:.0f} mm has room to face the floor of {words(address)}",
        f"take a bar of {room:.1f} mm at most from tip to back, or a drill ground flat across its end",
        value=min((bar.least_bore_mm for bar in bars if bar.reach_mm >= depth - 1e-6), default=None), most=room,
        source=f"geometry; {whose}",
    )  # fmt: skip


def _slender(bar: BoringBar, depth_mm: float) -> float:
    """Reach over what is stiff, 1 at the limit."""
    return depth_mm / (bar.bar_mm * (_STIFF_CARBIDE if bar.carbide else _STIFF))


def _opening_mm(plan: Plan, cut: Cut, part: Part, surface: Surface) -> float:
    """Diameter of the hole that a bar can be led into: what is there, or what a drill of the shop can open first."""
    most = surface.diameter.nominal_mm - _STARTER_LEFT_MM
    drills = (drill.diameter_mm for drill in plan.workshop.drills if drill.diameter_mm <= most + 1e-6)
    return max(_starter_mm(plan, cut, part, surface), *drills, 0.0)


def _starter_mm(plan: Plan, cut: Cut, part: Part, surface: Surface) -> float:
    """Diameter of the hole that is there when boring begins, made for it or deeper in the part; 0 where none is."""
    sizes: list[float] = []
    near, far = plan.span(part, surface)
    for before in plan.steps_of(part.name, _OPENS):
        if not before.is_before(cut):
            continue
        for other, hole in inside_of(plan, before):
            if other is not part:
                continue
            start, end = plan.span(part, hole)
            behind = start <= near + 1e-6 or end >= far - 1e-6
            size = before.step.diameter_mm or hole.diameter.nominal_mm
            if (hole is surface or behind) and size <= surface.diameter.nominal_mm + 1e-6:
                sizes.append(size)
    return max(sizes, default=0.0)


def _reach_mm(plan: Plan, cut: Cut, part: Part, surface: Surface) -> float:
    """How far a boring bar must reach in, from the end of the part at which this set-up works."""
    ways = {side: way_out_mm(plan, part, surface, side) for side in (-1, 1)}
    held = plan.surface(cut.setup.grips)
    if held is not None and held[0] is part:
        away = 1 if sum(plan.span(part, surface)) >= sum(plan.span(*held)) else -1
        if (one := ways[away]) is not None:
            return one
    open_ways = [way for way in ways.values() if way is not None]
    near, far = plan.span(part, surface)
    return min(open_ways, default=far - near)
