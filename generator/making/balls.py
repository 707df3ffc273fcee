"""The ball that bears in a centre hole: the same one wherever the plan speaks of it."""

from __future__ import annotations

from generator import tables
from generator.reckoning.taper import ball_contact_diameter_mm
from generator.units import FileUnit

__all__ = ["ball_for"]

_ABOVE_PILOT, _BELOW_RIM = 1.03, 0.97
"""Where a ball may bear, in parts of pilot and rim. Shop choice."""


def ball_for(mouth_mm: float, pilot_mm: float, unit: FileUnit = "mm") -> tuple[str, float]:
    """Largest stocked ball that bears inside a hole, below its rim and clear of its pilot, and its size; 0 if none.

    A ball of the job's own system comes first. Source: geometry, table balls.

    >>> ball_for(8.5, 6.5)
    ('8 mm', 8.0)
    """
    fitting = [
        (row.text("ball").endswith(unit), row.number("diameter_mm"), row.text("ball"))
        for row in tables.load("balls").rows
        if pilot_mm * _ABOVE_PILOT <= ball_contact_diameter_mm(row.number("diameter_mm")) <= mouth_mm * _BELOW_RIM
    ]
    _, size_mm, name = max(fitting, default=(False, 0.0, ""))
    return name, size_mm
