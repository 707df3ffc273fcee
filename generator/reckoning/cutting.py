"""Cutting forces, torque and power, the finish a feed leaves, and what of it all reaches the tailstock.

Letters of Kienzle's formula inside the formulas only: kc1.1 force for a chip 1 x 1 mm, mc its exponent, h its
thickness.

Sides: a tool in front of the work, cutting from the tailstock to the headstock. On the work the main force then acts
upward (against its weight), the force of depth to the rear, the feed force towards the headstock.
"""

from __future__ import annotations

from typing import NamedTuple

from generator.reckoning.amounts import larger, need, plain, smaller, where
from generator.reckoning.angles import cosine, sine

__all__ = [
    "Forces", "Load", "chip_thickness_mm", "cutting_power_kw", "die_torque_n_mm", "drilling_thrust_n",
    "drilling_torque_n_mm", "feed_for_finish_mm", "finish_height_um", "main_force_n", "metal_removed_mm3_s",
    "specific_force_mpa", "split_force_n", "tailstock_load_n", "tapping_torque_n_mm", "thread_chip_mm",
    "turning_forces",
]

FEED_SHARE = 0.5
DEPTH_SHARE = 0.5
"""Feed force and force of depth over the main force: upper ends of 0.4 to 0.5 and 0.3 to 0.5. From memory."""

THIN_MM, THICK_MM = 0.01, 3.0
"""Chips for which Kienzle's constants are used; they were found between 0.05 and 2.5 mm (from memory)."""

TAP_SECTION = 0.2368
DIE_SECTION = 0.3195
"""Metal cut away in one turn over pitch squared: the ISO 68-1 groove of a nut (depth 0.5413 P) and of a screw (depth
0.6134 P). Source: geometry of the ISO 68-1 profile."""


class Forces(NamedTuple):
    """Forces on the tool in N: main (tangential), feed (along the axis), depth (away from the axis)."""

    main_n: float
    feed_n: float
    depth_n: float


class Load(NamedTuple):
    """Load on the tailstock's point in N: upward, rearward, and its size square to the axis; along the axis apart."""

    upward_n: float
    rearward_n: float
    radial_n: float
    towards_headstock_n: float


def chip_thickness_mm(feed_mm: float, approach_deg: float) -> float:
    """Thickness of the chip from feed and approach angle of the edge (90: square to the axis).

    Source: geometry, h = f sin(approach).
    """
    need("feed", feed_mm, "mm/rev", above=0)
    need("approach angle", approach_deg, "deg", least=10, most=120)
    return feed_mm * sine(approach_deg)


def specific_force_mpa(kc11_mpa: float, exponent: float, thickness_mm: float) -> float:
    """Cutting force over chip section for this chip thickness.

    Source: Kienzle 1952, kc = kc1.1 h^(-mc).

    >>> round(specific_force_mpa(2220.0, 0.14, chip_thickness_mm(0.5, 45.0)))
    2568
    """
    need("kc1.1", kc11_mpa, "MPa", above=0, most=10000)
    need("exponent mc", exponent, least=0, below=0.6)
    need("chip thickness", thickness_mm, "mm", least=THIN_MM, most=THICK_MM)
    found: float = kc11_mpa * thickness_mm ** (-exponent)
    return found


def main_force_n(specific_mpa: float, depth_mm: float, feed_mm: float, worn: float = 1.0) -> float:
    """Main cutting force of turning; `worn` is 1 for a sharp tool, 1.3 to 1.5 for a blunt one (from memory).

    Source: Fc = kc x depth x feed; worked in the power-chuck manual RN-1391, p. 48.
    """
    need("specific force", specific_mpa, "MPa", above=0)
    need("depth of cut", depth_mm, "mm", above=0)
    need("feed", feed_mm, "mm/rev", above=0)
    need("factor for a worn tool", worn, least=1, most=3)
    return specific_mpa * depth_mm * feed_mm * worn


def turning_forces(
    main_n: float, feed_share: float = FEED_SHARE, depth_share: float = DEPTH_SHARE, approach_deg: float = 90.0
) -> Forces:
    """The three forces of turning from the main one: shares of a side-cutting tool, turned with the approach angle.

    The share of the force of depth stays where turning the push gives less: nose and trailing edge still press.
    Source: shares from memory, the defaults the upper ends of what is usual; turning them is geometry.
    """
    need("main force", main_n, "N", least=0)
    need("share of the feed force", feed_share, least=0, most=1.5)
    need("share of the force of depth", depth_share, least=0, most=1.5)
    feed, depth = split_force_n(main_n * feed_share, approach_deg)
    return Forces(main_n, feed, plain(larger(depth, main_n * depth_share)))


def split_force_n(push_n: float, approach_deg: float) -> tuple[float, float]:
    """Feed force and force of depth when the push square to the edge is turned with the approach angle.

    Swinging an edge from 90 to 45 degrees turns seven tenths of the feed force into push on slender work. The nose
    radius is left out: at depths below it the push points at the axis whatever the approach.
    Source: geometry, push x sin and push x cos of the approach angle.
    """
    need("push square to the edge", push_n, "N", least=0)
    need("approach angle", approach_deg, "deg", least=10, most=120)
    return push_n * sine(approach_deg), push_n * cosine(approach_deg)


def metal_removed_mm3_s(depth_mm: float, feed_mm: float, speed_m_min: float) -> float:
    """Metal removed in a second.

    Source: depth x feed x speed.
    """
    need("depth of cut", depth_mm, "mm", above=0)
    need("feed", feed_mm, "mm/rev", above=0)
    need("cutting speed", speed_m_min, "m/min", least=0)
    return depth_mm * feed_mm * speed_m_min * 1000 / 60


def cutting_power_kw(main_n: float, speed_m_min: float, efficiency: float = 1.0) -> float:
    """Power at the tool, or with an efficiency the power the motor must give.

    Source: P = Fc v / 60 000.
    """
    need("main force", main_n, "N", least=0)
    need("cutting speed", speed_m_min, "m/min", least=0)
    need("efficiency", efficiency, least=0.2, most=1)
    return main_n * speed_m_min / 60000 / efficiency


def drilling_torque_n_mm(
    specific_mpa: float, feed_mm: float, diameter_mm: float, hole_mm: float = 0.0, worn: float = 1.0
) -> float:
    """Torque of drilling, from solid or in a hole drilled before.

    Source: kc f (d^2 - d0^2) / 8; worked in Kalpakjian, Manufacturing Engineering, ex. 22.2, p. 632.

    >>> drilling_torque_n_mm(500.0, 0.2, 10.0)
    1250.0
    """
    _drill(specific_mpa, feed_mm, diameter_mm, hole_mm, worn)
    return specific_mpa * feed_mm * (diameter_mm**2 - hole_mm**2) / 8 * worn


def drilling_thrust_n(
    specific_mpa: float, feed_mm: float, diameter_mm: float, hole_mm: float = 0.0, point_deg: float = 118.0,
    web: float = 1.0, worn: float = 1.0,
) -> float:
    """Thrust of drilling; `web` is 0.5 for a thinned or split point or a hole drilled before, about 1 for a plain one.

    Source: web x kc x (d - d0) / 2 x f x sin(point / 2); factors from memory, wide.
    """
    _drill(specific_mpa, feed_mm, diameter_mm, hole_mm, worn)
    need("point angle", point_deg, "deg", least=60, most=180)
    need("factor for the web", web, least=0.3, most=1.5)
    half = sine(point_deg / 2)
    return web * specific_mpa * feed_mm * (diameter_mm - hole_mm) / 2 * half * worn


def tapping_torque_n_mm(specific_mpa: float, pitch_mm: float, pitch_diameter_mm: float, worn: float = 1.0) -> float:
    """Torque of cutting an inside thread once all teeth of the lead cut; a blunt or dry tap takes two to three times.

    Source: section of the ISO 68-1 groove x kc x pitch radius; the P^2 d kc / 8 of handbooks is a sixth more.
    """
    return _thread_torque(TAP_SECTION, specific_mpa, pitch_mm, pitch_diameter_mm, worn)


def die_torque_n_mm(specific_mpa: float, pitch_mm: float, pitch_diameter_mm: float, worn: float = 1.0) -> float:
    """Torque of cutting an outside thread in one pass of a die.

    Source: section of the ISO 68-1 groove x kc x pitch radius.
    """
    return _thread_torque(DIE_SECTION, specific_mpa, pitch_mm, pitch_diameter_mm, worn)


def tailstock_load_n(
    forces: Forces, weight_n: float, diameter_mm: float, *, tool_share: float, weight_share: float, between_mm: float
) -> Load:
    """Load on the tailstock's point as vectors: the tool's forces by their share, the weight by its own.

    The main force lifts the work, so it is the difference to the weight that counts, and the worst is not the sum:
    both a cut and a standstill are to be looked at. The feed force acts at the radius and eases the rearward push.
    Source: statics of a shaft on two supports; sides as said at the head of this module.
    """
    need("weight", weight_n, "N", least=0)
    need("work diameter", diameter_mm, "mm", above=0)
    need("distance between supports", between_mm, "mm", above=0)
    need("share of the tool's forces", tool_share, least=0)
    need("share of the weight", weight_share, least=0)
    upward = forces.main_n * tool_share - weight_n * weight_share
    rearward = forces.depth_n * tool_share - forces.feed_n * diameter_mm / 2 / between_mm
    radial: float = (upward**2 + rearward**2) ** 0.5
    return Load(upward, rearward, radial, forces.feed_n)


def finish_height_um(feed_mm: float, nose_mm: float, trailing_deg: float = 90.0) -> float:
    """Height of the ridges a round nose leaves, in micrometres, the trailing edge taken into account.

    While the arc alone shapes the ridge (feed up to 2 r sin(trailing angle)) it is f^2 / (8 r). A small trailing angle
    adds a straight flank. Holds up to a feed of the nose radius.
    Source: f^2 / (8 r), any handbook; with the trailing edge: arc and tangent intersected, geometry.
    """
    need("feed", feed_mm, "mm/rev", above=0)
    need("nose radius", nose_mm, "mm", above=0)
    need("feed over nose radius", feed_mm / nose_mm, above=0, most=1)
    need("trailing angle", trailing_deg, "deg", above=0, most=90)
    arc = feed_mm**2 / (8 * nose_mm)
    sin_t, cos_t = sine(trailing_deg), cosine(trailing_deg)
    ratio = feed_mm / nose_mm
    under = 2 * ratio * sin_t**3 - ratio**2 * sin_t**4
    # Below the branch the root may turn negative; its value is not used there.
    flank = nose_mm * (1 - cos_t + ratio * sin_t * cos_t - where(under > 0, under, under * 0.0) ** 0.5)
    found: float = plain(1000 * where(feed_mm <= 2 * nose_mm * sin_t, arc, flank))
    return found


def feed_for_finish_mm(height_um: float, nose_mm: float, trailing_deg: float = 90.0) -> float:
    """Largest feed that keeps the ridges of the nose's arc at or below this height.

    It is cut off where the trailing edge would begin to shape the ridge, and at the nose radius.
    Source: f = root (8 r Rt).
    """
    need("height of the ridges", height_um, "um", above=0)
    need("nose radius", nose_mm, "mm", above=0)
    need("trailing angle", trailing_deg, "deg", above=0, most=90)
    by_arc = (8 * nose_mm * height_um / 1000) ** 0.5
    by_edge = smaller(2 * nose_mm * sine(trailing_deg), nose_mm + 0.0)
    found: float = plain(smaller(by_arc, by_edge))
    return found


def thread_chip_mm(groove_depth_mm: float, lead_threads: float, flutes: float) -> float:
    """Chip thickness of one tooth of a tap's or die's lead.

    Source: geometry, depth of the groove over teeth that share it.
    """
    need("depth of the groove", groove_depth_mm, "mm", above=0)
    need("threads in the lead", lead_threads, least=1, most=15)
    need("flutes", flutes, least=1, most=10)
    return groove_depth_mm / (lead_threads * flutes)


def _thread_torque(section: float, specific_mpa: float, pitch_mm: float, diameter_mm: float, worn: float) -> float:
    need("specific force", specific_mpa, "MPa", above=0)
    need("pitch", pitch_mm, "mm", above=0)
    need("pitch over pitch diameter", pitch_mm / diameter_mm, above=0, most=0.4)
    need("factor for a worn tool", worn, least=1, most=4)
    return section * pitch_mm**2 * specific_mpa * diameter_mm / 2 * worn


def _drill(specific_mpa: float, feed_mm: float, diameter_mm: float, hole_mm: float, worn: float) -> None:
    need("specific force", specific_mpa, "MPa", above=0)
    need("feed", feed_mm, "mm/rev", above=0)
    need("drill diameter", diameter_mm, "mm", above=0)
    need("hole drilled before, over the drill", hole_mm / diameter_mm, least=0, below=1)
    need("factor for a worn tool", worn, least=1, most=4)
