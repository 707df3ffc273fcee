"""Screws: stress area, preload, torque, stress, engagement against stripping, and size over wires.

Letters of the standards inside the formulas only: d nominal, d2 pitch, P pitch, As stress area.
Millimetres, newtons, N mm, MPa; formulas without a standard's own unit serve inches and pounds as well.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from generator.errors import TableError
from generator.reckoning.amounts import need
from generator.reckoning.angles import cosine, sine, tangent

__all__ = [
    "Class", "best_wire_mm", "combined_stress_mpa", "engagement_needed_mm", "inner_shear_area_mm2_per_mm",
    "outer_shear_area_mm2_per_mm", "pitch_diameter_from_wires_mm", "preload_from_torque_n", "preload_n",
    "property_class", "simple_torque_n_mm", "size_over_wires_mm", "stress_area_mm2", "stripping_load_n",
    "thread_torque_n_mm", "torque_n_mm", "torsion_stress_mpa",
]

_HALF_SIXTY = 30.0
SHEAR_OF_TENSILE = 0.6
"""Shear strength of a thread over tensile strength. From memory, VDI 2230 gives 0.58 to 0.8 by material."""

# Proof and tensile strength in MPa, above 16 mm for 8.8. Source: ISO 898-1, from memory; 580 for M12 8.8 published.
_CLASSES = {
    "4.6": (225.0, 400.0), "4.8": (310.0, 420.0), "5.6": (280.0, 500.0), "5.8": (380.0, 520.0), "6.8": (440.0, 600.0),
    "8.8": (580.0, 800.0), "10.9": (830.0, 1040.0), "12.9": (970.0, 1220.0),
}
_LARGE_8_8 = (600.0, 830.0)
LARGE_8_8_FROM_MM = 16.0
CLASSES = tuple(_CLASSES)


class Class(NamedTuple):
    """Proof strength and tensile strength of a property class."""

    proof_mpa: float
    tensile_mpa: float


def property_class(name: str, diameter_mm: float) -> Class:
    """Proof and tensile strength of a property class at this thread diameter.

    Raises: TableError for an unknown class.
    Source: ISO 898-1, from memory.
    """
    if name not in _CLASSES:
        message = f"no property class {name[:20]!r} is known; known: {', '.join(CLASSES)}"
        raise TableError(message)
    need("thread diameter", diameter_mm, "mm", least=1, most=100)
    return Class(*(_LARGE_8_8 if name == "8.8" and diameter_mm > LARGE_8_8_FROM_MM else _CLASSES[name]))


def stress_area_mm2(diameter_mm: float, pitch_mm: float) -> float:
    """Tensile stress area of a metric thread.

    Source: ISO 898-1, As = (pi / 4) ((d2 + d3) / 2)^2 = (pi / 4) (d - 0.938194 P)^2.

    >>> round(stress_area_mm2(16.0, 2.0), 2)
    156.67
    """
    _thread(diameter_mm, pitch_mm)
    return math.pi / 4 * (diameter_mm - 0.938194 * pitch_mm) ** 2


def preload_n(area_mm2: float, proof_mpa: float, share: float = 0.7) -> float:
    """Preload that uses this share of the proof strength.

    Source: F = share x proof x As; 0.7 to 0.75 for screws that are undone again, common practice.
    """
    need("stress area", area_mm2, "mm2", above=0)
    need("proof strength", proof_mpa, "MPa", above=0)
    need("share of the proof strength", share, above=0, most=1)
    return area_mm2 * proof_mpa * share


def simple_torque_n_mm(clamping_n: float, diameter_mm: float, nut_factor: float = 0.2) -> float:
    """Tightening torque by the nut factor: 0.2 dry or as received, 0.15 oiled, 0.12 with molybdenum disulphide.

    The preload it gives scatters by about a third either way.
    Source: T = K F d; factors common practice, from memory.
    """
    need("preload", clamping_n, "N", least=0)
    need("thread diameter", diameter_mm, "mm", above=0)
    need("nut factor", nut_factor, least=0.05, most=0.5)
    return nut_factor * clamping_n * diameter_mm


def thread_torque_n_mm(clamping_n: float, pitch_mm: float, pitch_diameter_mm: float, friction: float) -> float:
    """Torque that the thread itself takes, which twists the shank.

    Source: VDI 2230, F (0.159 P + 0.577 mu d2), for 60 degree threads.
    """
    need("preload", clamping_n, "N", least=0)
    _thread(pitch_diameter_mm, pitch_mm)
    need("thread friction", friction, least=0.02, most=0.6)
    return clamping_n * (pitch_mm / (2 * math.pi) + friction * pitch_diameter_mm / (2 * cosine(_HALF_SIXTY)))


def torque_n_mm(
    clamping_n: float, pitch_mm: float, pitch_diameter_mm: float, head_mean_mm: float, friction: float
) -> float:
    """Tightening torque with the same friction in the thread and under the head, whose mean friction diameter is given.

    Source: VDI 2230, F (0.159 P + 0.577 mu d2 + mu Dk / 2).
    """
    need("mean diameter under the head", head_mean_mm, "mm", above=0)
    head = clamping_n * friction * head_mean_mm / 2
    return thread_torque_n_mm(clamping_n, pitch_mm, pitch_diameter_mm, friction) + head


def preload_from_torque_n(
    torque_in_n_mm: float, pitch_mm: float, pitch_diameter_mm: float, head_mean_mm: float, friction: float
) -> float:
    """Preload that a tightening torque gives at this friction.

    Source: VDI 2230, solved for the force.
    """
    need("torque", torque_in_n_mm, "N mm", least=0)
    return torque_in_n_mm / torque_n_mm(1.0, pitch_mm, pitch_diameter_mm, head_mean_mm, friction)


def torsion_stress_mpa(torque_in_n_mm: float, area_mm2: float) -> float:
    """Shear stress of the torque in a round shank of this stress area.

    Source: strength of materials, 16 T / (pi d^3) with the diameter of the stress area.
    """
    need("stress area", area_mm2, "mm2", above=0)
    diameter: float = (4 * area_mm2 / math.pi) ** 0.5
    return 16 * torque_in_n_mm / (math.pi * diameter**3)


def combined_stress_mpa(tension_mpa: float, torsion_mpa: float) -> float:
    """Tension and torsion as one stress, to be compared with the proof or yield strength.

    Source: von Mises, root (s^2 + 3 t^2).
    """
    combined: float = (tension_mpa**2 + 3 * torsion_mpa**2) ** 0.5
    return combined


def inner_shear_area_mm2_per_mm(outer_major_mm: float, inner_pitch_mm: float, pitch_mm: float) -> float:
    """Area of the nut's thread sheared off for each mm of engagement: least screw major, largest nut pitch diameter.

    Source: ISO 898 / FED-STD-H28, (pi / P) d [P / 2 + tan 30 (d - D2)], 60 degree threads.

    >>> round(inner_shear_area_mm2_per_mm(9.968, 9.206, 1.5), 2)
    24.84
    """
    _thread(outer_major_mm, pitch_mm)
    need("screw major less nut pitch diameter", outer_major_mm - inner_pitch_mm, "mm", above=0, most=pitch_mm)
    depth = pitch_mm / 2 + tangent(_HALF_SIXTY) * (outer_major_mm - inner_pitch_mm)
    return math.pi / pitch_mm * outer_major_mm * depth


def outer_shear_area_mm2_per_mm(inner_minor_mm: float, outer_pitch_mm: float, pitch_mm: float) -> float:
    """Area of the screw's thread sheared off for each mm: largest nut minor, least screw pitch diameter.

    Source: ISO 898 / FED-STD-H28, (pi / P) D1 [P / 2 + tan 30 (d2 - D1)], 60 degree threads.
    """
    _thread(inner_minor_mm, pitch_mm)
    need("screw pitch less nut minor diameter", outer_pitch_mm - inner_minor_mm, "mm", above=0, most=pitch_mm)
    depth = pitch_mm / 2 + tangent(_HALF_SIXTY) * (outer_pitch_mm - inner_minor_mm)
    return math.pi / pitch_mm * inner_minor_mm * depth


def engagement_needed_mm(load_n: float, shear_strength_mpa: float, area_mm2_per_mm: float) -> float:
    """Length of full thread in engagement that does not strip below this load.

    Source: load over shear strength over area for each mm.
    """
    need("load", load_n, "N", least=0)
    need("shear strength", shear_strength_mpa, "MPa", above=0)
    need("shear area", area_mm2_per_mm, "mm2/mm", above=0)
    return load_n / (shear_strength_mpa * area_mm2_per_mm)


def stripping_load_n(engagement_mm: float, shear_strength_mpa: float, area_mm2_per_mm: float) -> float:
    """Load at which a thread with this engagement strips.

    Source: engagement x area for each mm x shear strength.
    """
    need("engagement", engagement_mm, "mm", least=0)
    need("shear strength", shear_strength_mpa, "MPa", above=0)
    need("shear area", area_mm2_per_mm, "mm2/mm", above=0)
    return engagement_mm * area_mm2_per_mm * shear_strength_mpa


def best_wire_mm(pitch_mm: float, included_deg: float = 60.0) -> float:
    """Wire that touches a thread at its pitch diameter.

    Source: W = P / (2 cos(half angle)); 0.57735 P at 60 degrees.
    """
    need("pitch", pitch_mm, "mm", above=0)
    need("included angle of the thread", included_deg, "deg", least=20, most=90)
    return pitch_mm / (2 * cosine(included_deg / 2))


def size_over_wires_mm(
    pitch_diameter_mm: float, pitch_mm: float, wire_mm: float, included_deg: float = 60.0
) -> float:
    """Size over three wires for a pitch diameter; the lead is not corrected for, 0.002 mm at most on usual threads.

    Source: M = d2 + W (1 + 1 / sin(half)) - (P / 2) cot(half).
    """
    need("pitch diameter", pitch_diameter_mm, "mm", above=0)
    return pitch_diameter_mm + _over_wires(pitch_mm, wire_mm, included_deg)


def pitch_diameter_from_wires_mm(
    over_wires_mm: float, pitch_mm: float, wire_mm: float, included_deg: float = 60.0
) -> float:
    """Pitch diameter from a measured size over three wires.

    Source: the same, solved for d2.
    """
    need("size over wires", over_wires_mm, "mm", above=0)
    return over_wires_mm - _over_wires(pitch_mm, wire_mm, included_deg)


def _over_wires(pitch_mm: float, wire_mm: float, included_deg: float) -> float:
    best = best_wire_mm(pitch_mm, included_deg)
    # A smaller wire sinks below the crests, a larger one rides on them.
    need("wire over best wire", wire_mm / best, least=0.87, most=1.75)
    half = included_deg / 2
    return wire_mm * (1 + 1 / sine(half)) - pitch_mm / 2 / tangent(half)


def _thread(diameter_mm: float, pitch_mm: float) -> None:
    need("pitch", pitch_mm, "mm", above=0)
    need("thread diameter", diameter_mm, "mm", above=0)
    need("pitch over diameter", pitch_mm / diameter_mm, above=0, most=0.35)
