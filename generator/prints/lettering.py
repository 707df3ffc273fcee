"""The fonts of the prints, embedded as subsets."""

from __future__ import annotations

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from generator.drawing.font import bold_font_path, font_path

__all__ = ["BOLD", "REGULAR", "register_fonts"]

REGULAR = "TailstockSans"
BOLD = "TailstockSans-Bold"


def register_fonts() -> None:
    """Makes both fonts known to the PDF library under names of our own; a second call does nothing."""
    if REGULAR in pdfmetrics.getRegisteredFontNames():
        return
    pdfmetrics.registerFont(TTFont(BOLD, str(bold_font_path())))
    pdfmetrics.registerFont(TTFont(REGULAR, str(font_path())))
    pdfmetrics.registerFontFamily(REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD)
