"""What a design takes from the unit of its job: which bars are sold, and run-outs round in that unit."""

from __future__ import annotations

from generator.description import Choices
from generator.units import INCH_MM, FileUnit

__all__ = ["derive_units"]


def derive_units(choices: Choices, unit: FileUnit) -> None:
    """Keep the unit by which bars are bought, and what the tool may run out in it.

    The finer run-out is that of a seat or a point to the other seats, the other one that of a bore or a point to the
    taper of the shank.

    An inch shop wants two and four ten-thousandths where a metric one wants 5 and 10 micrometres: converted figures
    would be none that an indicator shows. Source: shop choice.
    """
    choices.names["units"] = unit
    fine_mm, usual_mm = (float(INCH_MM) * 0.0002, float(INCH_MM) * 0.0004) if unit == "in" else (0.005, 0.01)
    choices.facts.update(run_out_fine=round(fine_mm, 6), run_out=round(usual_mm, 6))
