"""Closed formulas of bending: an overhanging spindle on two rings, round sections, shoulders, the quill.

Forces in N, lengths in mm, stresses in MPa. Sums, products and roots only, so that arrays pass through, except in
`notch_factor` and `lever_words`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from generator.reckoning.amounts import need

__all__ = [
    "STEEL_MPA", "bending_stress_mpa", "lever_words", "near_reaction_n", "notch_factor",
    "quill_deflection_mm", "second_moment_mm4", "tip_deflection_mm",
]

STEEL_MPA = 206_000.0


def near_reaction_n(force_n: float, span_mm: float, overhang_mm: float) -> float:
    """What the near ring must give against a load on the overhang of a spindle on two rings.

    Source: moments about the far ring, F (L + a) / L.
    """
    need("span", span_mm, "mm", above=0)
    need("overhang", overhang_mm, "mm", least=0)
    return force_n * (span_mm + overhang_mm) / span_mm


def tip_deflection_mm(
    force_n: float, span_mm: float, overhang_mm: float, section_mm4: float, modulus_mpa: float = STEEL_MPA
) -> float:
    """The deflection at the tip of an even overhanging spindle on two stiff rings; arrays pass through.

    Source: beam tables, F a^2 (L + a) / (3 E I).
    """
    need("span", span_mm, "mm", above=0)
    need("overhang", overhang_mm, "mm", least=0)
    need("second moment of area", section_mm4, "mm4", above=0)
    return force_n * overhang_mm**2 * (span_mm + overhang_mm) / (3.0 * modulus_mpa * section_mm4)


def second_moment_mm4(diameter_mm: float, bore_mm: float = 0.0) -> float:
    """The second moment of area of a round section.

    Source: pi (D^4 - d^4) / 64.
    """
    need("bore", bore_mm, "mm", least=0)
    need("wall around the bore", diameter_mm - bore_mm, "mm", above=0)
    return math.pi * (diameter_mm**4 - bore_mm**4) / 64.0


def bending_stress_mpa(moment_n_mm: float, diameter_mm: float, bore_mm: float = 0.0) -> float:
    """The nominal bending stress at the outside of a round section.

    Source: M D / (2 I).
    """
    return abs(moment_n_mm) * diameter_mm / 2.0 / second_moment_mm4(diameter_mm, bore_mm)


def notch_factor(large_mm: float, small_mm: float, fillet_mm: float) -> float:
    """How many times the nominal bending stress of the small diameter stands in the fillet of a shoulder.

    Source: Roark's Formulas for Stress and Strain, table 17.1, square shoulder with fillet in a circular shaft,
    bending; height of the shoulder 0.25 to 20 times the fillet.

    >>> round(notch_factor(38.0, 32.0, 3.0), 2)
    1.66
    """
    need("small diameter", small_mm, "mm", above=0)
    need("height of the shoulder", large_mm - small_mm, "mm", above=0)
    need("fillet", fillet_mm, "mm", above=0)
    height = (large_mm - small_mm) / 2.0
    slender = height / fillet_mm
    need("height of the shoulder over fillet", slender, least=0.25, most=20)
    root = math.sqrt(slender)
    if slender <= 2.0:
        terms = (
            0.927 + 1.149 * root - 0.086 * slender, 0.015 - 3.281 * root + 0.837 * slender,
            0.847 + 1.716 * root - 0.506 * slender, -0.790 + 0.417 * root - 0.246 * slender,
        )
    else:
        terms = (
            1.225 + 0.831 * root - 0.010 * slender, -3.790 + 0.958 * root - 0.257 * slender,
            7.374 - 4.834 * root + 0.862 * slender, -3.809 + 3.046 * root - 0.595 * slender,
        )
    share = 2.0 * height / large_mm
    return sum(term * share**power for power, term in enumerate(terms))


def quill_deflection_mm(
    force_n: float, out_mm: float, beyond_mm: float, diameter_mm: float, bore_mm: float, modulus_mpa: float = STEEL_MPA
) -> float:
    """What the quill's own bending gives at the point: held stiffly, `out_mm` out, the point `beyond_mm` further.

    Source: beam tables, F ((l + c)^3 - c^3) / (3 E I), the head beyond the quill taken as stiff.
    """
    need("quill out", out_mm, "mm", least=0)
    need("point beyond the quill", beyond_mm, "mm", least=0)
    arm = (out_mm + beyond_mm) ** 3 - beyond_mm**3
    return force_n * arm / (3.0 * modulus_mpa * second_moment_mm4(diameter_mm, bore_mm))


def lever_words(borne_n: Sequence[float], force_n: float) -> str:
    """The lever in words: how many times the load the hardest pressed ring bears.

    Source: reaction over load.
    """
    need("load", abs(force_n), "N", above=0)
    number, most = max(enumerate(borne_n, 1), key=lambda held: abs(held[1]))
    return f"ring {number} bears {abs(most / force_n):.2f} times the load"
