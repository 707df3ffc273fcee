"""Lengths that only make sense between two limits: a field type that refuses others and says why."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import AfterValidator

from generator.parameters.fields import LengthMm

__all__ = ["HolderWidth", "TipAhead", "WorkDiameter", "between"]


def between(least_mm: float, most_mm: float, why: str) -> Any:
    """A validator for a length in mm that refuses what lies outside two limits and says why."""

    def check(value: float) -> float:
        if least_mm <= value <= most_mm:
            return value
        rule = f"must lie between {least_mm:g} and {most_mm:g} mm: {why}"
        message = f"{rule}|{value:g} mm|measure again, and check the unit"
        raise ValueError(message)

    return AfterValidator(check)


# Shop choices: the smallest and largest that a manual lathe holds.
HolderWidth = Annotated[LengthMm, between(3.0, 100.0, "no tool holder is slimmer or wider")]
TipAhead = Annotated[LengthMm, between(0.5, 60.0, "a tip stands ahead of its holder, or the holder rubs")]
WorkDiameter = Annotated[LengthMm, between(2.0, 1000.0, "thinner work has no centre hole, thicker no lathe")]
