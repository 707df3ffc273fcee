"""What is done where the usual tool does not get past the support: another tool, a file, a bit ground to a groove."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from generator.description import diameter_at
from generator.making.figures import Figures
from generator.making.operations_access import Way
from generator.making.operations_target import Target
from generator.making.operations_tools import Chosen
from generator.making.workshop import Cutter, Workshop

__all__ = ["other_way"]

FILED_MM = 1.0
"""Leg up to which a chamfer is filed in the lathe. Common practice, no source."""
_ROOM_MM = 0.5
"""Air between a bit and what stands larger beside its groove. Shop choice."""

Try = Callable[[Target, Cutter], Way]


def other_way(
    target: Target, chosen: Chosen, way: Way, tried: Try, workshop: Workshop, figures: Figures
) -> tuple[Target, Chosen, Way]:
    """The operation, its tool and what was found, with another tool where the first one is blocked and that one is not.

    Source: common practice, no source.
    """
    main, cutter = target.main, chosen.cutter
    if way.clear or main is None or main.inside or cutter is None:
        return target, chosen, way
    if main.surface.role == "chamfer" and target.step.work == "turn":
        leg = min(main.length_mm, abs(main.end_mm - main.other_mm) / 2.0)
        return _filed(target, chosen, way) if leg <= FILED_MM + 1e-9 else (target, chosen, way)
    if target.step.work == "groove":
        return _ground(target, chosen, way, tried, figures)
    if target.step.work in {"turn", "rough"}:
        return target, *_another(target, chosen, way, tried, workshop)
    return target, chosen, way


def _another(target: Target, chosen: Chosen, way: Way, tried: Try, workshop: Workshop) -> tuple[Chosen, Way]:
    """Another turning tool of the shop that gets past and leaves no larger a corner, where there is one."""
    cutter = chosen.cutter
    assert cutter is not None
    for one in workshop.cutters:
        if one == cutter or one.work != cutter.work or one.nose_mm > cutter.nose_mm:
            continue
        found = tried(target, one)
        if found.clear:
            better = replace(chosen, name=one.name, material=one.material, trailing_deg=one.trailing_deg, cutter=one)
            return better, found
    return chosen, way


def _filed(target: Target, chosen: Chosen, way: Way) -> tuple[Target, Chosen, Way]:
    """A small chamfer filed: no holder has to pass."""
    text = target.step.text.replace("turn ", "file ", 1)
    step = replace(target.step, work="file", text=text, caution="File with the left hand, sleeves rolled up.")
    how = ("smooth file at 45 degrees, slowest speed, even all round",)
    filed = Chosen("smooth file", how=how, rests_on=chosen.rests_on)
    return replace(target, step=step), filed, Way("by file: no holder gets past the support", rests_on=way.rests_on)


def _ground(
    target: Target, chosen: Chosen, way: Way, tried: Try, figures: Figures
) -> tuple[Target, Chosen, Way]:
    """A groove by a bit ground to its width, its blade flush with the flank towards the tailstock."""
    main, cutter = target.main, chosen.cutter
    assert main is not None
    assert cutter is not None
    wide = main.length_mm
    if target.part is None or wide > cutter.shank_mm or main.deep_mm > cutter.reach_mm:
        return target, chosen, way
    beside = wide - (cutter.holder_mm or cutter.shank_mm)
    bit = replace(cutter, width_mm=wide, insert_mm=wide, tip_beside_mm=beside)
    ahead = max(cutter.reach_mm, cutter.tip_ahead_mm)
    if _largest_beside_mm(target, cutter.shank_mm) > main.end_mm + 2.0 * (ahead - _ROOM_MM):
        return target, chosen, way
    found = tried(target, bit)
    if not found.clear:
        return target, chosen, way
    name = f"HSS bit ground to the groove, {figures.length(wide)} wide"
    how = ("its blade flush with the flank towards the tailstock; plunged once, fed by hand",)
    return target, replace(chosen, name=name, cutter=bit, how=how), found


def _largest_beside_mm(target: Target, reach_mm: float) -> float:
    """The largest diameter that the bit stands before, on the side away from the tailstock."""
    part, main, z_of = target.part, target.main, target.z_of
    assert part is not None
    assert main is not None
    return max(
        (
            diameter_at(part, one, z_of[face], z_of) for one in part.surfaces for face in (one.near, one.far)
            if one.side == "outside" and abs(z_of[face] - (main.near_mm + main.far_mm) / 2.0) <= reach_mm
        ),
        default=main.start_mm,
    )  # fmt: skip
