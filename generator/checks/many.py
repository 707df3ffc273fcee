"""The fast checks over many candidates at once: every size, load and rating may be an array of one value a design.

`FAST` names them. They are those of a single check, on the same formulas; what they leave out is said at each. numpy
is imported by whoever makes the arrays.
"""

from __future__ import annotations

import copy
from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import ModuleType
from typing import Any

from generator.checks.duty import LIFE_H, SAFETY
from generator.description import Choices, evaluate_gap, positions
from generator.fittings.access import Passing
from generator.reckoning.amounts import larger, smaller, where
from generator.reckoning.bending import near_reaction_n, second_moment_mm4, tip_deflection_mm
from generator.reckoning.life import equivalent_load_n, factors_at, hours_at, life_mrev
from generator.reckoning.reactions import RING_STIFFNESS_N_UM
from generator.reckoning.static import (
    DEEP_GROOVE,
    LIGHT_AXIAL_SHARE,
    USUAL_AXIAL_SHARE,
    most_axial_n,
    static_equivalent_n,
    static_safety,
)
from generator.reckoning.thrust import least_thrust_n
from generator.reckoning.truth import levers

__all__ = ["FAST", "Candidates", "Found", "RatedRing", "Wanted", "access_gap_mm", "check_many", "vary"]

FAST = ("gaps", "static", "thrust", "lever", "wall", "access", "deflection", "life")
_MISS_MM = 0.002


@dataclass(frozen=True, slots=True)
class RatedRing:
    """Capacities of a ring in N, its factor f0, and whether it is of a light series or small."""

    dynamic_n: Any
    static_n: Any
    f0: Any
    light: Any = False


@dataclass(frozen=True, slots=True)
class Candidates:
    """What the mechanics of a two-ring spindle want, numbers or arrays of one length.

    `arm_mm` front ring to load, `span_mm` between the rings, `spindle_mm` the even diameter that bends like it,
    `wall_pairs` (outside, bore) diameters at worst limits, `obstacles` (front z, radius) of the fat parts with
    `face_mm`, the work's end face, for the tool that must pass.
    """

    arm_mm: Any
    span_mm: Any
    spindle_mm: Any
    radial_n: Any
    worst_radial_n: Any
    thrust_n: Any
    speed_rpm: Any
    front: RatedRing
    rear: RatedRing
    wall_pairs: tuple[tuple[Any, Any], ...]
    obstacles: tuple[tuple[Any, Any], ...] = ()
    face_mm: Any = 0.0
    passing: Passing | None = None
    point_deg: float = 60.0


@dataclass(frozen=True, slots=True)
class Wanted:
    """The limits of the fast checks; shop choices, as in a single check."""

    safety: float = SAFETY
    life_h: float = LIFE_H
    lever: float = 3.0
    wall_mm: float = 1.0
    deflection_mm: float = 0.2


@dataclass(frozen=True, slots=True)
class Found:
    """Values and passes by name of the check; a gap under "gap NAME", its value the miss at worst limits in mm."""

    values: Mapping[str, Any]
    passes: Mapping[str, Any]

    @property
    def all_pass(self) -> Any:
        """True where every check passes."""
        held: Any = True
        for one in self.passes.values():
            held = held & one
        return held


def vary(choices: Choices, nominals: Mapping[str, Any]) -> Choices:
    """The choices with nominal sizes replaced, numbers or arrays; deviations, names and counts stay.

    Sizes that follow from others are not worked out again: give all that change.
    """
    changed = copy.copy(choices)
    changed.sizes = dict(choices.sizes)
    for name, value in nominals.items():
        changed.sizes[name] = replace(choices.sizes[name], nominal_mm=value, measured_mm=None)
    return changed


def check_many(kind: ModuleType, choices: Choices, of: Candidates, wanted: Wanted | None = None) -> Found:
    """The checks named in `FAST` for all candidates at once; array-valued sizes of `choices` give the gaps."""
    limits = Wanted() if wanted is None else wanted
    values: dict[str, Any] = {}
    passes: dict[str, Any] = {}
    for name, miss in _gap_misses(kind, choices).items():
        values[f"gap {name}"], passes[f"gap {name}"] = miss, miss < _MISS_MM
    for name, (value, passed) in _mechanics(of, limits).items():
        values[name], passes[name] = value, passed
    return Found(values, passes)


def _gap_misses(kind: ModuleType, choices: Choices) -> dict[str, Any]:
    """How far each gap lies outside what is wanted at worst limits, 0 inside."""
    tool = kind.build(choices)
    forms = positions(tool)
    found = {}
    for gap in tool.gaps:
        result = evaluate_gap(tool, gap, forms)
        miss: Any = result.low_mm * 0.0
        if gap.least_mm is not None:
            miss = larger(gap.least_mm - result.low_mm, miss)
        if gap.most_mm is not None:
            miss = larger(result.high_mm - gap.most_mm, miss)
        found[gap.name] = miss
    return found


def _mechanics(of: Candidates, limits: Wanted) -> dict[str, tuple[Any, Any]]:
    """Value and pass of each check of loads, walls, access and stiffness."""
    front_lever, rear_lever = levers(of.arm_mm, of.span_mm)
    static = _static(of)
    least = least_thrust_n(of.worst_radial_n, of.point_deg)
    front_worst = near_reaction_n(of.worst_radial_n, of.span_mm, of.arm_mm)
    by_rule = of.front.static_n * where(of.front.light, LIGHT_AXIAL_SHARE, USUAL_AXIAL_SHARE)
    most = smaller(most_axial_n(of.front.static_n, front_worst, DEEP_GROOVE, limits.safety), by_rule)
    spare = smaller(of.thrust_n - least, most - of.thrust_n)
    wall = _least([(outside - bore) / 2 for outside, bore in of.wall_pairs])
    bent = tip_deflection_mm(of.radial_n, of.span_mm, of.arm_mm, second_moment_mm4(of.spindle_mm))
    stiff = sum(RING_STIFFNESS_N_UM) / 2 * 1000.0
    deflection = bent + of.radial_n * (front_lever**2 + rear_lever**2) / stiff
    life = _life_h(of)
    found = {
        "static": (static, static >= limits.safety), "thrust": (spare, spare >= 0.0),
        "lever": (front_lever, front_lever <= limits.lever), "wall": (wall, wall >= limits.wall_mm),
        "deflection": (deflection, deflection <= limits.deflection_mm), "life": (life, life >= limits.life_h),
    }
    if of.passing is not None and of.obstacles:
        gap = _least([access_gap_mm(of.passing, of.face_mm, z, radius) for z, radius in of.obstacles])
        found["access"] = (gap, gap >= of.passing.clearance_mm)
    return found


def _least(amounts: list[Any]) -> Any:
    found = amounts[0]
    for one in amounts[1:]:
        found = smaller(found, one)
    return found


def _static(of: Candidates) -> Any:
    """The lower static safety of both rings at worst, all thrust on the front one."""
    front_lever, rear_lever = levers(of.arm_mm, of.span_mm)
    front = static_equivalent_n(of.worst_radial_n * front_lever, of.thrust_n, DEEP_GROOVE)
    rear = static_equivalent_n(of.worst_radial_n * rear_lever, 0.0, DEEP_GROOVE)
    return smaller(static_safety(of.front.static_n, front), static_safety(of.rear.static_n, rear))


def _life_h(of: Candidates) -> Any:
    """The shorter life of both rings in hours, all thrust on the front one."""
    front_lever, rear_lever = levers(of.arm_mm, of.span_mm)
    factors = factors_at(of.front.f0 * of.thrust_n / of.front.static_n)
    front = equivalent_load_n(of.radial_n * front_lever, of.thrust_n, factors)
    front_h = hours_at(life_mrev(of.front.dynamic_n, front), of.speed_rpm)
    rear_h = hours_at(life_mrev(of.rear.dynamic_n, of.radial_n * rear_lever), of.speed_rpm)
    return smaller(front_h, rear_h)


def access_gap_mm(passing: Passing, face_mm: Any, front_mm: Any, radius_mm: Any) -> Any:
    """The gap of holder and insert to a fat part that ends at `front_mm` with this radius; below zero it is in it.

    The part's edge is taken as sharp and the insert as square, so that it is never more than the true gap.
    Source: plan view, as in a single check.
    """
    tip = face_mm + passing.end_distance_mm
    holder = _corner_gap(tip - passing.reach_mm - front_mm, passing.front_radius_mm - radius_mm)
    if passing.tip_ahead_mm <= 0:
        return holder
    insert = _corner_gap(tip - passing.insert_width_mm - front_mm, passing.work_diameter_mm / 2 - radius_mm)
    return smaller(holder, insert)


def _corner_gap(ahead_mm: Any, beside_mm: Any) -> Any:
    """Distance of two square corners that face each other; where they overlap, minus the shorter way out."""
    apart = (ahead_mm > 0) & (beside_mm > 0)
    return where(apart, (ahead_mm**2 + beside_mm**2) ** 0.5, larger(ahead_mm, beside_mm))
