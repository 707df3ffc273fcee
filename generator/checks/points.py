"""The point itself: pressure in the centre hole, rubbing of a point that stands still, what is left of a half point."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from generator.checks.duty import Duty, yield_of
from generator.checks.judged import Limit, Say, judged
from generator.errors import TableError
from generator.findings import Finding
from generator.reckoning.amounts import need
from generator.reckoning.speed import DEAD_RUBBING_M_MIN, speed_of_rpm_m_min

__all__ = [
    "Cone", "Segment", "dead_thrust", "half_strength", "pressure_finding", "rubbing_finding", "segment_below",
]

PRESSURE_SHARE = 0.5
"""Pressure in the centre hole over the yield strength of the work: it must stay round. Shop choice."""
STEEL_YIELD_MPA = 235.0
STEPS = 8
BRITTLE_SHARE = 0.3
"""Bending stress of a hardened half point over the tensile strength of its steel as delivered. Shop choice."""


class Cone(NamedTuple):
    """A point: diameters at its base, at the mouth of the hole and at its tip, half of its angle."""

    head_mm: float
    mouth_mm: float
    tip_mm: float
    half_deg: float


class Segment(NamedTuple):
    """What is left of a round section below a flat: area, height of its middle, second moment about it, both edges."""

    area_mm2: float
    middle_mm: float
    second_moment_mm4: float
    top_mm: float
    bottom_mm: float


def segment_below(diameter_mm: float, height_mm: float) -> Segment:
    """A circle with all above a flat taken away; the flat lies `height_mm` above the axis (below 0: under it).

    Source: integrals of the circle; a half circle gives 0.1098 r^4 about its middle, as in any table of sections.
    """
    radius = diameter_mm / 2
    need("diameter", diameter_mm, "mm", above=0)
    need("height of the flat", height_mm, "mm", above=-radius, most=radius)
    root = math.sqrt(max(radius**2 - height_mm**2, 0.0))
    turned = math.asin(height_mm / radius) + math.pi / 2
    area = height_mm * root + radius**2 * turned
    middle = -2 / 3 * root**3 / area
    about_axis = height_mm / 4 * (2 * height_mm**2 - radius**2) * root + radius**4 / 4 * turned
    return Segment(area, middle, about_axis - area * middle**2, height_mm - middle, middle + radius)


def pressure_finding(
    duty: Duty, address: str, hole: str, mouth_mm: float, tip_mm: float, half_deg: float
) -> Iterator[Finding]:
    """Pressure on the flank of the centre hole at worst: thrust over its shadow, side load over its section.

    `hole` is the parameter that decides the centre hole.
    """
    length = (mouth_mm - tip_mm) / 2 / math.tan(math.radians(half_deg))
    need("length of the point inside the centre hole", length, "mm", above=0)
    by_thrust = duty.thrust_high_n / (math.pi / 4 * (mouth_mm**2 - tip_mm**2))
    by_side = duty.worst_radial_n / (length * (mouth_mm + tip_mm) / 2)
    name = duty.force_source.split(":")[0].split("/")[0].split(" (")[0].strip()
    try:
        strength, _, source = yield_of(name)
    except TableError:
        strength, source = STEEL_YIELD_MPA, f"yield of {name} not known, 235 MPa taken"
    yield judged(
        "pressure", address, "pressure in the centre hole", by_thrust + by_side,
        Limit(most=PRESSURE_SHARE * strength),
        Say(
            f"load over projected area; half of the yield strength, shop choice; {source}",
            f"Thrust gives {by_thrust:.0f}, side load {by_side:.0f} MPa on {length:.1f} mm of cone. A larger centre "
            f"hole lowers it fast.{duty.basis}", "MPa", (hole, "loads.thrust"),
        ),
    )  # fmt: skip


def rubbing_finding(duty: Duty, mouth_mm: float) -> Iterator[Finding]:
    """Rubbing speed at the mouth of the hole on a point that stands still: what heats it."""
    speed = speed_of_rpm_m_min(duty.speed_rpm, mouth_mm)
    limit = DEAD_RUBBING_M_MIN["steel, greased"]
    yield judged(
        "rubbing", "centre/point", "rubbing speed in the centre hole", speed, Limit(most=limit),
        Say(
            "10 m/min on greased steel, 25 on carbide: common practice, no source",
            f"At {duty.speed_rpm:.0f} rpm and {mouth_mm:g} mm. Faster it burns: a carbide point, or a revolving centre."
            f"{duty.basis}", "m/min", ("loads.speed", "point.centre_hole"),
        ),
    )


def dead_thrust(duty: Duty, mouth_mm: float, tip_mm: float) -> Iterator[Finding]:
    """The thrust set on a point without rings, between what keeps the work seated and what crushes its hole."""
    name = duty.force_source.split(":")[0].split("/")[0].split(" (")[0].strip()
    try:
        strength = yield_of(name)[0]
    except TableError:
        strength = STEEL_YIELD_MPA
    most = PRESSURE_SHARE * strength * math.pi / 4 * (mouth_mm**2 - tip_mm**2)
    low, high = duty.thrust_low_n, duty.thrust_high_n
    value = low if low < duty.least_thrust_n else high
    yield judged(
        "thrust", "loads.thrust", "thrust set, in its window", value, Limit(duty.least_thrust_n, most),
        Say(
            "statics of a cone; half of the yield strength of the work in its hole, shop choice",
            f"Below {duty.least_thrust_n:.0f} N a blunt tool lifts the work out; above {most:.0f} N the hole gives "
            f"way. The work grows as it warms and a dead point has no give: ease it after the first cut.{duty.basis}",
            "N", ("loads.thrust", "loads.pull", "loads.depth", "loads.feed", "point.centre_hole"),
        ),
        "stop" if duty.is_given and value < duty.least_thrust_n else "warn",
    )


def half_strength(
    duty: Duty, cone: Cone, height_mm: float, flat_mm: float, material: str
) -> Iterator[Finding]:
    """Stress in what is left of a half point, from the load at the mouth of the hole back to where the flat ends."""
    _, tensile, source = yield_of(material)
    per_mm = 2 * math.tan(math.radians(cone.half_deg))
    behind = max(flat_mm - (cone.mouth_mm - cone.tip_mm) / per_mm, 0.0)
    worst, side, where = 0.0, 0.0, 0.0
    for step in range(STEPS + 1):
        out = behind * step / STEPS
        diameter = min(cone.head_mm, cone.mouth_mm + per_mm * out)
        left = segment_below(diameter, min(height_mm, diameter / 2))
        per_moment = max(left.top_mm, left.bottom_mm) / left.second_moment_mm4
        bent = duty.worst_radial_n * out * per_moment
        pushed = duty.thrust_high_n * (1 / left.area_mm2 + abs(left.middle_mm) * per_moment)
        if bent + pushed > worst:
            worst, side, where = bent + pushed, bent, out
    yield judged(
        "half_strength", "centre/flat", "stress in what is left of the half point", worst,
        Limit(most=BRITTLE_SHARE * tensile),
        Say(
            f"bending of a segment; {BRITTLE_SHARE:g} of the tensile strength as delivered, shop choice; {source}",
            f"Worst {where:.1f} mm behind the hole's mouth: side load {side:.0f} MPa, thrust beside the middle of the "
            f"section {worst - side:.0f} MPa.{duty.basis}",
            "MPa", ("point.flat_height", "loads.depth", "loads.feed", "loads.thrust"),
        ),
        "warn",
    )  # fmt: skip
