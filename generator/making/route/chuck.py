"""How much of a bar the jaws hold and how much sticks out; the centre hole that suits an end."""

from __future__ import annotations

from generator import tables
from generator.description import Part
from generator.errors import TableError
from generator.fittings.centre_hole import end_hole
from generator.making.route.blank import grip_mm

__all__ = ["MOST_OUT", "end_hole_text", "hole_text", "in_chuck"]

MOST_OUT = 2.5
"""Diameters that a bar may stick out of the jaws without support. Source: a lathe's manual, see plan_checks/holding."""
_OUT_SHARE, _JAW_SHARE = 2.4, 1.2
"""Diameters that a bar should stick out, and that jaws can hold at most. Common practice, no source."""


def in_chuck(bar_mm: float, long_mm: float, spindle_bore_mm: float) -> tuple[float, float]:
    """Length in the jaws and length that sticks out: two diameters where the rest goes into the spindle, else all.

    Source: common practice, no source.
    """
    grip = grip_mm(bar_mm)
    if bar_mm < spindle_bore_mm:
        return grip, round(min(long_mm - grip, 2.0 * bar_mm), 1)
    grip = min(max(grip, long_mm - _OUT_SHARE * bar_mm), _JAW_SHARE * bar_mm)
    return round(grip, 1), round(max(long_mm - grip, 0.0), 1)


def hole_text(diameter_mm: float) -> str:
    """The usual centre hole for this diameter, in words.

    Source: ISO 6411; the choice of hole is common practice, no source.
    """
    try:
        return _hole_text(tables.centre_hole_for(diameter_mm))
    except TableError:
        return "60 degrees"


def end_hole_text(part: Part, face: str) -> str:
    """The centre hole that stays in this end of the part, in words.

    Source: `fittings.centre_hole`.
    """
    hole = end_hole(part, face)
    return "60 degrees" if hole is None else _hole_text(hole)


def _hole_text(hole: tables.CentreHole) -> str:
    return f"form A, pilot {hole.pilot_mm:g} mm, mouth {hole.countersink_mm:g} mm"
