"""Warm work and shrink fits: size at 20 degrees, how long to wait, heating for a fit, its pressure, growth on centres.

Temperatures in degrees Celsius, differences in kelvins, expansion in micrometres for each metre and kelvin.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from generator.reckoning.amounts import need
from generator.reckoning.angles import logarithm

__all__ = [
    "REFERENCE_C", "Cooling", "Metal", "Shrink", "cooling_constant_min", "cooling_min", "growth_mm", "heating_c",
    "metal", "pressure_of_interference_mpa", "rise_for_growth_k", "shrink_fit",
    "thrust_of_growth_n", "true_reading_mm",
]

REFERENCE_C = 20.0
"""Temperature at which sizes hold. Source: ISO 1."""

STILL_AIR_W_M2K = (5.0, 15.0)
"""Heat given off to still air, bright to dark skin, convection and radiation together. From memory, wide."""

COLDEST_C, HOTTEST_C = -200.0, 600.0


class Metal(NamedTuple):
    """What cooling needs to know of a metal. Source: handbooks, from memory."""

    specific_heat_j_kg_k: float
    conductivity_w_m_k: float
    density_g_cm3: float


_METALS = {
    "steel": Metal(470.0, 45.0, 7.85),
    "stainless steel": Metal(500.0, 15.0, 7.95),
    "cast iron": Metal(500.0, 50.0, 7.2),
    "aluminium": Metal(900.0, 170.0, 2.7),
    "brass": Metal(380.0, 115.0, 8.5),
    "bronze": Metal(380.0, 60.0, 8.7),
}
METALS = tuple(_METALS)


class Cooling(NamedTuple):
    """Time constant of cooling, and how even the part's temperature is (below 0.1: even enough)."""

    constant_min: float
    evenness: float


class Shrink(NamedTuple):
    """A shrink or press fit at rest: pressure, stresses at the joint, hold along the axis and against turning."""

    pressure_mpa: float
    outer_hoop_mpa: float
    inner_hoop_mpa: float
    outer_equivalent_mpa: float
    hold_n: float
    torque_n_mm: float


def metal(name: str) -> Metal:
    """Specific heat, conductivity and density of a metal.

    Source: handbooks, from memory.
    """
    return _METALS[name]


def growth_mm(size_mm: float, rise_k: float, expansion_um_m_k: float) -> float:
    """How much a length or diameter, bores too, grows with this rise of temperature.

    Source: thermal expansion, L x alpha x rise.

    >>> round(growth_mm(300.0, 30.0, 11.5), 2)
    0.1
    """
    need("size", size_mm, "mm", least=0)
    need("rise of temperature", rise_k, "K", least=-300, most=700)
    need("expansion", expansion_um_m_k, "um/m/K", least=0, most=300)
    return size_mm * expansion_um_m_k * 1e-6 * rise_k


def rise_for_growth_k(growth_in_mm: float, size_mm: float, expansion_um_m_k: float) -> float:
    """Rise of temperature that makes this size grow by this much.

    Source: thermal expansion solved for the rise; worked in Wentzell, Machine Design, ex. 6.3, p. 122.
    """
    need("size", size_mm, "mm", above=0)
    need("expansion", expansion_um_m_k, "um/m/K", above=0, most=300)
    return growth_in_mm / (size_mm * expansion_um_m_k * 1e-6)


def true_reading_mm(
    reading_mm: float, work_c: float, work_um_m_k: float, gauge_c: float, gauge_um_m_k: float
) -> float:
    """Size at 20 degrees from a reading, work and measuring tool each at its own temperature.

    Where both are of steel and equally warm the reading holds as it is.
    Source: thermal expansion of work and gauge, ISO 1.
    """
    need("reading", reading_mm, "mm", above=0)
    for what, at, by in (("work", work_c, work_um_m_k), ("gauge", gauge_c, gauge_um_m_k)):
        need(f"temperature of the {what}", at, "degC", least=COLDEST_C, most=HOTTEST_C)
        need(f"expansion of the {what}", by, "um/m/K", least=0, most=300)
    gauge = 1 + gauge_um_m_k * 1e-6 * (gauge_c - REFERENCE_C)
    work = 1 + work_um_m_k * 1e-6 * (work_c - REFERENCE_C)
    return reading_mm * gauge / work


def cooling_constant_min(volume_mm3: float, surface_mm2: float, of: Metal, film_w_m2k: float) -> Cooling:
    """Time constant of a part cooling in air, taken to be equally warm right through.

    After one constant 63 % of the excess is gone, after three 95 %. Fan, coolant or a cold iron plate shorten it many
    times over; lying on wood lengthens it.
    Source: lumped capacity, rho c V / (h A); evenness is the Biot number h V / (A k), any text on heat transfer.
    """
    need("volume", volume_mm3, "mm3", above=0)
    need("surface", surface_mm2, "mm2", above=0)
    need("heat given off", film_w_m2k, "W/m2/K", least=1, most=20000)
    depth_m = volume_mm3 / surface_mm2 / 1000
    seconds = of.density_g_cm3 * 1000 * of.specific_heat_j_kg_k * depth_m / film_w_m2k
    return Cooling(seconds / 60, film_w_m2k * depth_m / of.conductivity_w_m_k)


def cooling_min(constant_min: float, start_c: float, air_c: float, wanted_c: float) -> float:
    """Minutes from the start temperature to the wanted one, which lies between start and air.

    Source: lumped capacity, tau ln((start - air) / (wanted - air)).

    >>> round(cooling_min(10.0, 120.0, 20.0, 20.0 + 100.0 / math.e), 6)
    10.0
    """
    need("time constant", constant_min, "min", above=0)
    need("excess at the start over excess wanted", (start_c - air_c) / _not_zero(wanted_c - air_c), least=1)
    return constant_min * logarithm((start_c - air_c) / (wanted_c - air_c))


def _not_zero(excess_k: float) -> float:
    need("temperature wanted above that of the air (it is never quite reached)", abs(excess_k), "K", least=0.05)
    return excess_k


def heating_c(
    diameter_mm: float, interference_mm: float, play_mm: float, expansion_um_m_k: float, start_c: float = REFERENCE_C
) -> float:
    """Temperature to which the outer part must be brought so that the shaft drops in with this play.

    Source: thermal expansion; play of 0.001 x diameter or 0.05 mm, whichever is more, is common practice, no source.
    """
    need("interference", interference_mm, "mm", least=0)
    need("play", play_mm, "mm", least=0)
    return start_c + rise_for_growth_k(interference_mm + play_mm, diameter_mm, expansion_um_m_k)


def pressure_of_interference_mpa(
    joint_mm: float, outside_mm: float, bore_mm: float, interference_mm: float, outer: tuple[float, float],
    inner: tuple[float, float],
) -> float:
    """Pressure in a joint of two rings from the interference on the diameter; `outer`, `inner`: (E in MPa, Poisson).

    Elastic, long enough that the ends do not matter.
    Source: Lame, thick-walled cylinders; worked in Bhavikatti, Strength of Materials, ex. 8.16, p. 348.
    """
    need("interference", interference_mm, "mm", least=0)
    need("bore of the inner part", bore_mm, "mm", least=0)
    need("joint diameter less bore of the inner part", joint_mm - bore_mm, "mm", above=0)
    need("outside less joint diameter", outside_mm - joint_mm, "mm", above=0)
    for what, (modulus, poisson) in (("outer", outer), ("inner", inner)):
        need(f"modulus of the {what} part", modulus, "MPa", least=500, most=1e6)
        need(f"Poisson's ratio of the {what} part", poisson, least=0, below=0.5)
    grows = (_outer_factor(joint_mm, outside_mm) + outer[1]) / outer[0]
    shrinks = (_inner_factor(joint_mm, bore_mm) - inner[1]) / inner[0]
    return interference_mm / (joint_mm * (grows + shrinks))


def _outer_factor(joint_mm: float, outside_mm: float) -> float:
    return (outside_mm**2 + joint_mm**2) / (outside_mm**2 - joint_mm**2)


def _inner_factor(joint_mm: float, bore_mm: float) -> float:
    return (joint_mm**2 + bore_mm**2) / (joint_mm**2 - bore_mm**2)


def shrink_fit(
    pressure_mpa: float, joint_mm: float, outside_mm: float, bore_mm: float, length_mm: float, friction: float
) -> Shrink:
    """Stresses at the joint and what it holds.

    Source: Lame for the stresses, Tresca (hoop + pressure) for their sum in the outer part; hold = mu p pi d l.
    """
    need("pressure", pressure_mpa, "MPa", least=0)
    need("outside less joint diameter", outside_mm - joint_mm, "mm", above=0)
    need("joint less bore", joint_mm - bore_mm, "mm", above=0)
    need("length of the joint", length_mm, "mm", above=0)
    need("friction coefficient", friction, least=0.02, most=0.6)
    hoop = pressure_mpa * _outer_factor(joint_mm, outside_mm)
    inside = -pressure_mpa * _inner_factor(joint_mm, bore_mm)
    hold = friction * pressure_mpa * math.pi * joint_mm * length_mm
    return Shrink(pressure_mpa, hoop, inside, hoop + pressure_mpa, hold, hold * joint_mm / 2)


def thrust_of_growth_n(
    growth_in_mm: float, length_mm: float, area_mm2: float, modulus_mpa: float, stiffness_n_um: float | None = None
) -> float:
    """Thrust that growth between fixed centres adds; the work itself gives way, and so does the machine if it is known.

    Without the machine's stiffness it is the thrust of a machine that does not give at all: the upper bound.
    Source: springs in a row, growth / (L / (E A) + 1 / k).
    """
    need("length", length_mm, "mm", above=0)
    need("section of the work", area_mm2, "mm2", above=0)
    need("modulus", modulus_mpa, "MPa", least=500, most=1e6)
    give = length_mm / (modulus_mpa * area_mm2)
    if stiffness_n_um is not None:
        need("stiffness", stiffness_n_um, "N/um", above=0)
        give = give + 1 / (stiffness_n_um * 1000)
    return growth_in_mm / give
