"""How a page of the plan looks: sizes, styles and the one grey, all shop choices.

Set to be read at arm's length beside a lathe, with room in each row to write by hand and a margin for filing.
"""

from __future__ import annotations

from functools import cache
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.colors import black, white
from reportlab.lib.enums import TA_CENTER, TA_LEFT, TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import Paragraph

from generator.prints.digits import printable
from generator.prints.lettering import BOLD, REGULAR

__all__ = [
    "BOTTOM_MM",
    "LEFT_MM",
    "PAGE_MM",
    "RIGHT_MM",
    "TEXT_WIDTH_MM",
    "THICK_PT",
    "THIN_PT",
    "TINT",
    "TOP_MM",
    "lettered",
    "style",
]

PAGE_MM = (210.0, 297.0)
LEFT_MM, RIGHT_MM, TOP_MM, BOTTOM_MM = 20.0, 10.0, 12.0, 10.0
TEXT_WIDTH_MM = PAGE_MM[0] - LEFT_MM - RIGHT_MM

THIN_PT, THICK_PT = 0.4, 1.4
TINT = (0.9, 0.9, 0.9)

# Name: font, size and line pitch in points, space before and after in millimetres.
_STYLES: dict[str, tuple[str, float, float, float, float]] = {
    "title": (BOLD, 17.0, 21.0, 0.0, 1.0),
    "page title": (BOLD, 13.0, 16.0, 3.0, 3.0),
    "strong": (BOLD, 10.5, 14.0, 3.0, 1.2),
    "body": (REGULAR, 10.5, 14.0, 0.0, 2.0),
    "small": (REGULAR, 8.5, 11.0, 0.0, 1.5),
    "cell": (REGULAR, 9.5, 12.0, 0.0, 0.0),
    "cell strong": (BOLD, 9.5, 12.0, 0.0, 0.0),
    "cell small": (REGULAR, 8.5, 11.0, 0.0, 0.0),
    "figure": (BOLD, 19.5, 22.0, 0.0, 0.0),
    "heading": (BOLD, 8.5, 10.5, 0.0, 0.0),
    "step": (REGULAR, 10.0, 13.0, 0.0, 0.0),
    "step strong": (BOLD, 10.0, 13.0, 1.0, 0.0),
    "caution": (BOLD, 10.5, 14.0, 0.0, 0.0),
    "mark": (BOLD, 10.0, 12.0, 0.0, 0.0),
    "mark on black": (BOLD, 10.0, 12.0, 0.0, 0.0),
    "foot": (REGULAR, 8.0, 10.0, 0.0, 0.0),
    "foot strong": (BOLD, 8.0, 10.0, 0.0, 0.0),
}
_ALIGN = {"left": TA_LEFT, "centre": TA_CENTER, "right": TA_RIGHT}


@cache
def style(name: str, align: str = "left") -> Any:
    """The paragraph style of that name, set to that side."""
    font, size, leading, before_mm, after_mm = _STYLES[name]
    return ParagraphStyle(
        f"{name} {align}",
        fontName=font,
        fontSize=size,
        leading=leading,
        spaceBefore=before_mm * mm,
        spaceAfter=after_mm * mm,
        alignment=_ALIGN[align],
        textColor=white if name == "mark on black" else black,
        bulletFontName=font,
        splitLongWords=1,
        allowWidows=0,
        allowOrphans=0,
    )


def lettered(text: str, name: str, align: str = "left") -> Any:
    """A paragraph of plain text: mark-up signs are taken literally, line breaks are kept."""
    return Paragraph(escape(printable(text)).replace("\n", "<br/>"), style(name, align))
