"""Limits of size: ISO 286 classes and grades, ISO 2768-1 general tolerances."""

from __future__ import annotations

import re
from dataclasses import dataclass

from generator.errors import TableError
from generator.tables.loader import Row, band, load

__all__ = ["Limits", "general_angle_tolerance", "general_tolerance", "it_grade", "limits"]

_BASIC = re.compile(r"(h|H|js|JS)(\d{1,2})", re.ASCII)


@dataclass(frozen=True, slots=True)
class Limits:
    """Signed deviations from the nominal size."""

    tolerance_class: str
    upper_mm: float
    lower_mm: float
    source: str
    confidence: str


def limits(tolerance_class: str, nominal_mm: float) -> Limits:
    """The limit deviations of a class such as "h6", "H7", "k5" or "js9" at a nominal size.

    >>> limits("k6", 12.0).upper_mm
    0.012

    Raises: TableError, with the classes and sizes covered.
    Source: ISO 286-1 and ISO 286-2; see the row.
    """
    asked = tolerance_class.strip()
    basic = _BASIC.fullmatch(asked)
    if basic and 5 <= int(basic[2]) <= 14:
        row = _grade_row(int(basic[2]), nominal_mm)
        width = row.number("width_um") / 1000
        upper, lower = {
            "h": (0.0, -width), "H": (width, 0.0), "js": (width / 2, -width / 2), "JS": (width / 2, -width / 2),
        }[basic[1]]
        return Limits(asked, upper, lower, row.source, row.confidence)
    table = load("iso286")
    rows = [row for row in table.rows if row.text("tolerance_class") == asked]
    if not rows:
        known = ", ".join(dict.fromkeys(row.text("tolerance_class") for row in table.rows))
        message = f"tolerance class {asked[:20]!r} is not covered; known: {known}, and h, H, js, JS in grades 5 to 14"
        raise TableError(message)
    row = band(table, nominal_mm, rows)
    return Limits(asked, row.number("upper_um") / 1000, row.number("lower_um") / 1000, row.source, row.confidence)


def it_grade(grade: int, nominal_mm: float) -> float:
    """The width in mm of a standard tolerance grade, 5 to 14.

    Raises: TableError outside the table.
    Source: ISO 286-1; see the row.
    """
    return _grade_row(grade, nominal_mm).number("width_um") / 1000


def general_tolerance(class_letter: str, nominal_mm: float) -> float:
    """The plus-minus deviation in mm of a length without its own tolerance, class f, m, c or v.

    Raises: TableError; below 0.5 mm the standard wants the deviation at the size.
    Source: ISO 2768-1:1989 table 1; see the row.
    """
    if nominal_mm < 0.5:
        message = f"ISO 2768-1 covers sizes from 0.5 to 2000 mm; {nominal_mm:g} mm must carry its own deviation"
        raise TableError(message)
    # The first band of this table begins at 0.5 itself: "from 0.5 up to 3".
    return _general_row("general_tolerances", class_letter, max(nominal_mm, 0.5000001)).number("deviation_mm")


def general_angle_tolerance(class_letter: str, shorter_side_mm: float) -> float:
    """The plus-minus deviation in degrees of an angle without its own tolerance.

    Raises: TableError outside the table.
    Source: ISO 2768-1:1989 table 3; see the row.
    """
    return _general_row("general_tolerances_angles", class_letter, shorter_side_mm).number("deviation_deg")


def _general_row(name: str, class_letter: str, size_mm: float) -> Row:
    table = load(name)
    rows = [row for row in table.rows if row.text("class_letter") == class_letter.lower()]
    if not rows:
        message = f"general tolerance class {class_letter[:20]!r} is not in ISO 2768-1; known: f, m, c, v"
        raise TableError(message)
    return band(table, size_mm, rows)


def _grade_row(grade: int, nominal_mm: float) -> Row:
    table = load("iso286_grades")
    rows = [row for row in table.rows if row.text("grade") == f"IT{grade}"]
    if not rows:
        message = f"grade IT{grade} is not covered; known: IT5 to IT14"
        raise TableError(message)
    return band(table, nominal_mm, rows)
