"""Fits: clearance or interference of a hole and a shaft, what a ring keeps of its own clearance, and warmth.

Deviations, clearances and interferences in millimetres, signed; a negative clearance is an interference. The rings of a
bearing are taken as plain rings between seat and raceway (Lame). Floats or arrays alike.
"""

from __future__ import annotations

from typing import NamedTuple

from generator.reckoning.amounts import larger, need

__all__ = [
    "Deviations", "Span", "clearance_lost_to_warmth_mm", "clearance_span_mm", "effective_interference_mm",
    "fit_pressure_mpa", "inner_ring_share", "likely_clearance_span_mm", "outer_ring_share", "raceway_diameters_mm",
    "warmth_change_mm",
]

STEEL_GPA = 206.0
POISSON = 0.3
RING_EXPANSION_UM_M_K = 12.5
FLATTENING_MM = {"ground": 2.0, "turned": 3.0, "none": 0.0}


class Deviations(NamedTuple):
    """Limit deviations of one size from nominal."""

    upper_mm: float
    lower_mm: float


class Span(NamedTuple):
    """The least and the most of something."""

    least: float
    most: float


def clearance_span_mm(hole: Deviations, shaft: Deviations) -> Span:
    """The least and most clearance of a hole on a shaft of the same nominal size, at worst.

    Source: ISO 286-1, least = lower of hole - upper of shaft, most = upper of hole - lower of shaft.

    >>> clearance_span_mm(Deviations(0.021, 0.0), Deviations(-0.02, -0.041))
    Span(least=0.02, most=0.062)
    """
    return Span(hole.lower_mm - shaft.upper_mm, hole.upper_mm - shaft.lower_mm)


def likely_clearance_span_mm(hole: Deviations, shaft: Deviations) -> Span:
    """The least and most clearance likely: both sizes free of each other and centred in their limits.

    Source: root of the sum of squares of both tolerances; that sizes are centred is an assumption.
    """
    middle = (hole.lower_mm + hole.upper_mm - shaft.lower_mm - shaft.upper_mm) / 2.0
    half = ((hole.upper_mm - hole.lower_mm) ** 2 + (shaft.upper_mm - shaft.lower_mm) ** 2) ** 0.5 / 2.0
    return Span(middle - half, middle + half)


def effective_interference_mm(interference_mm: float, seat_mm: float, finish: str = "ground") -> float:
    """What the flattening of the surfaces leaves of an interference; nothing where there is clearance.

    Source: bearing makers' rule, d / (d + 2) for ground and d / (d + 3) for turned seats, d in mm, from memory.
    """
    need("seat diameter", seat_mm, "mm", above=0)
    pressed: float = larger(interference_mm, interference_mm * 0.0)
    return pressed * seat_mm / (seat_mm + FLATTENING_MM[finish])


def raceway_diameters_mm(bore_mm: float, outside_mm: float) -> tuple[float, float]:
    """Diameters of the inner and outer raceway, as far as a ring's outside sizes tell them.

    Source: bearing makers' estimate (4 d + D) / 5 and (d + 4 D) / 5 for deep groove rings, from memory.
    """
    need("section of the ring", outside_mm - bore_mm, "mm", above=0)
    return (4.0 * bore_mm + outside_mm) / 5.0, (bore_mm + 4.0 * outside_mm) / 5.0


def inner_ring_share(
    bore_mm: float, raceway_mm: float, shaft_bore_mm: float = 0.0, shaft_modulus_gpa: float = STEEL_GPA
) -> float:
    """The share of the interference by which the inner raceway grows; on a solid steel shaft bore / raceway.

    Source: thick-walled cylinders (Lame), ring and shaft with Poisson ratio 0.3.
    """
    need("bore of a hollow shaft", shaft_bore_mm, "mm", least=0)
    need("wall of a hollow shaft", bore_mm - shaft_bore_mm, "mm", above=0)
    need("wall of the inner ring", raceway_mm - bore_mm, "mm", above=0)
    ring = _outer_yield(bore_mm, raceway_mm, STEEL_GPA)
    shaft = _inner_yield(shaft_bore_mm, bore_mm, shaft_modulus_gpa)
    growth = 2.0 * bore_mm**2 * raceway_mm / (raceway_mm**2 - bore_mm**2) / STEEL_GPA
    return growth / (ring + shaft)


def outer_ring_share(
    raceway_mm: float, outside_mm: float, housing_outside_mm: float, housing_modulus_gpa: float = STEEL_GPA
) -> float:
    """The share of the interference by which the outer raceway shrinks; in a thick steel housing raceway / outside.

    Source: thick-walled cylinders (Lame), ring and housing with Poisson ratio 0.3.
    """
    need("wall of the outer ring", outside_mm - raceway_mm, "mm", above=0)
    need("wall of the housing", housing_outside_mm - outside_mm, "mm", above=0)
    ring = _inner_yield(raceway_mm, outside_mm, STEEL_GPA)
    housing = _outer_yield(outside_mm, housing_outside_mm, housing_modulus_gpa)
    shrinkage = 2.0 * raceway_mm * outside_mm**2 / (outside_mm**2 - raceway_mm**2) / STEEL_GPA
    return shrinkage / (ring + housing)


def fit_pressure_mpa(
    interference_mm: float, joint_mm: float, shaft_bore_mm: float, hub_outside_mm: float,
    shaft_modulus_gpa: float = STEEL_GPA, hub_modulus_gpa: float = STEEL_GPA,
) -> float:
    """The pressure between a shaft and a hub pressed on it with this interference on the diameter.

    Source: thick-walled cylinders (Lame), Poisson ratio 0.3 for both.
    """
    need("interference", interference_mm, "mm", least=0)
    need("wall of a hollow shaft", joint_mm - shaft_bore_mm, "mm", above=0)
    need("wall of the hub", hub_outside_mm - joint_mm, "mm", above=0)
    hub = _outer_yield(joint_mm, hub_outside_mm, hub_modulus_gpa)
    shaft = _inner_yield(shaft_bore_mm, joint_mm, shaft_modulus_gpa)
    return 1000.0 * interference_mm / (hub + shaft)


def _outer_yield(joint_mm: float, outside_mm: float, modulus_gpa: float) -> float:
    """Growth of the bore of an outer cylinder in um for each MPa."""
    need("modulus", modulus_gpa, "GPa", above=0)
    wall = (outside_mm**2 + joint_mm**2) / (outside_mm**2 - joint_mm**2)
    return joint_mm / modulus_gpa * (wall + POISSON)


def _inner_yield(bore_mm: float, joint_mm: float, modulus_gpa: float) -> float:
    """Shrinkage of the outside of an inner cylinder in um for each MPa."""
    need("modulus", modulus_gpa, "GPa", above=0)
    wall = (joint_mm**2 + bore_mm**2) / (joint_mm**2 - bore_mm**2)
    return joint_mm / modulus_gpa * (wall - POISSON)


def warmth_change_mm(diameter_mm: float, expansion_um_m_k: float, warmer_k: float) -> float:
    """How much a diameter grows when it gets this much warmer.

    Source: linear expansion.
    """
    return diameter_mm * expansion_um_m_k * 1e-6 * warmer_k


def clearance_lost_to_warmth_mm(bore_mm: float, outside_mm: float, inner_warmer_k: float) -> float:
    """The radial clearance a ring loses because its inner ring runs warmer than its outer one.

    Source: bearing makers' rule, expansion x difference x outer raceway diameter, from memory.
    """
    _, outer_mm = raceway_diameters_mm(bore_mm, outside_mm)
    return warmth_change_mm(outer_mm, RING_EXPANSION_UM_M_K, inner_warmer_k)
