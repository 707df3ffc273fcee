"""Run-outs that the kinds of centres want, round in the unit of the job."""

from __future__ import annotations

from generator.description import Choices
from generator.units import INCH_MM, FileUnit

__all__ = ["derive_run_outs"]


def derive_run_outs(choices: Choices, unit: FileUnit) -> None:
    """Keep what a seat or a point may run out, and what a bore or a point may run out to the shank's taper.

    An inch shop wants two and four ten-thousandths where a metric one wants 5 and 10 micrometres: converted figures
    would be none that an indicator shows. Source: shop choice.
    """
    fine_mm, usual_mm = (float(INCH_MM) * 0.0002, float(INCH_MM) * 0.0004) if unit == "in" else (0.005, 0.01)
    choices.facts.update(run_out_fine=round(fine_mm, 6), run_out=round(usual_mm, 6))
