"""Limits, run-out and clearance of rolling-bearing rings."""

from __future__ import annotations

from dataclasses import dataclass

from generator.errors import TableError
from generator.tables.loader import Row, band, load

__all__ = ["RingLimits", "radial_clearance", "ring_limits"]


@dataclass(frozen=True, slots=True)
class RingLimits:
    """Deviations of a ring from nominal and its run-out; every upper deviation is zero."""

    bore_lower_mm: float
    outside_lower_mm: float
    width_lower_mm: float
    inner_runout_mm: float
    outer_runout_mm: float
    width_variation_mm: float
    bore_upper_mm: float
    outside_upper_mm: float
    width_upper_mm: float
    source: str
    confidence: str


def ring_limits(bore_mm: float, outside_mm: float, accuracy: str = "Normal") -> RingLimits:
    """The limits of a radial ball bearing of this size and accuracy class.

    Raises: TableError outside the table.
    Source: ISO 492, as printed in a bearing catalogue; see the rows.
    """
    inner = _row("iso492_inner", accuracy, bore_mm)
    outer = _row("iso492_outer", accuracy, outside_mm)
    return RingLimits(
        bore_lower_mm=inner.number("diameter_lower_um") / 1000,
        outside_lower_mm=outer.number("diameter_lower_um") / 1000,
        width_lower_mm=inner.number("width_lower_um") / 1000,
        inner_runout_mm=inner.number("radial_runout_um") / 1000,
        outer_runout_mm=outer.number("radial_runout_um") / 1000,
        width_variation_mm=inner.number("width_variation_um") / 1000,
        bore_upper_mm=0.0,
        outside_upper_mm=0.0,
        width_upper_mm=0.0,
        source=inner.source,
        confidence=inner.confidence,
    )


def radial_clearance(bore_mm: float, group: str = "CN") -> tuple[float, float]:
    """The least and most radial clearance in mm of a deep groove ring before it is fitted.

    Raises: TableError outside the table.
    Source: ISO 5753-1, as printed in a bearing catalogue; see the rows.
    """
    table = load("iso5753")
    rows = [row for row in table.rows if row.text("group") == group.upper()]
    if not rows:
        message = f"clearance group {group!r} is not in table iso5753; known: C2, CN, C3"
        raise TableError(message)
    row = band(table, bore_mm, rows)
    return row.number("least_um") / 1000, row.number("most_um") / 1000


def _row(name: str, accuracy: str, size_mm: float) -> Row:
    table = load(name)
    rows = [row for row in table.rows if row.text("accuracy").casefold() == accuracy.casefold()]
    if not rows:
        message = f"accuracy class {accuracy!r} is not in table {name}; known: Normal, P6, P5"
        raise TableError(message)
    return band(table, size_mm, rows)
