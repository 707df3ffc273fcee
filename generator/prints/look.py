"""How a page of the plan looks: sizes, styles and the one grey, all shop choices.

Set to be read at arm's length beside a lathe, with room in each row to write by hand and a margin for filing.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from math import ceil
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.colors import black, white
from reportlab.lib.enums import TA_CENTER, TA_LEFT, TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Paragraph

from generator.drawing.font import CAP_HEIGHT, WIDTH_FACTOR
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
    "far_lettered",
    "figured",
    "figured_mm",
    "labelled",
    "lettered",
    "style",
]

PAGE_MM = (210.0, 297.0)
LEFT_MM, RIGHT_MM, TOP_MM, BOTTOM_MM = 20.0, 10.0, 12.0, 10.0
TEXT_WIDTH_MM = PAGE_MM[0] - LEFT_MM - RIGHT_MM

THIN_PT, THICK_PT = 0.4, 1.4
TINT = (0.9, 0.9, 0.9)



def _points(cap_mm: float) -> float:
    """Size of type in points whose capitals are this high, rounded up to a tenth."""
    return ceil(10.0 * cap_mm / CAP_HEIGHT * float(mm)) / 10.0


# Name: font, size and line pitch in points, space before and after in millimetres.
_STYLES: dict[str, tuple[str, float, float, float, float]] = {
    "title": (BOLD, 17.0, 21.0, 0.0, 1.0),
    "page title": (BOLD, 13.0, 16.0, 3.0, 3.0),
    "group": (BOLD, 11.5, 15.0, 0.0, 2.0),
    "strong": (BOLD, 10.5, 14.0, 3.0, 1.2),
    "body": (REGULAR, 10.5, 14.0, 0.0, 2.0),
    "small": (REGULAR, 10.0, 12.5, 0.0, 1.5),
    "cell": (REGULAR, 10.0, 12.5, 0.0, 0.0),
    "cell strong": (BOLD, 10.0, 12.5, 0.0, 0.0),
    "cell small": (REGULAR, 10.0, 12.5, 0.0, 0.0),
    "figure": (BOLD, 19.5, 23.0, 0.0, 0.0),
    "heading": (BOLD, 10.0, 12.0, 0.0, 0.0),
    "caution": (BOLD, 10.5, 14.0, 0.0, 0.0),
    "mark": (BOLD, 10.0, 12.0, 0.0, 0.0),
    "mark on black": (BOLD, 10.0, 12.0, 0.0, 0.0),
    "foot": (REGULAR, 10.0, 12.0, 0.0, 0.0),
    "foot strong": (BOLD, 10.0, 12.0, 0.0, 0.0),
}
# At the lathe capitals are 3.5 mm high, which is 20 minutes of arc at 60 cm; figures to stop at 5 mm. Only notes that
# explain a sign stay as they are. Shop choice.
_FAR_PT, _FIGURE_PT = _points(3.5), _points(5.0)
_FAR: dict[str, tuple[str, float, float, float, float]] = {
    "group": (BOLD, 16.0, 19.0, 2.0, 1.0),
    "strong": (BOLD, _FAR_PT, 16.0, 3.0, 1.2),
    "body": (REGULAR, _FAR_PT, 16.0, 0.0, 1.0),
    "cell": (REGULAR, _FAR_PT, 16.0, 0.0, 0.0),
    "cell strong": (BOLD, _FAR_PT, 16.0, 0.0, 0.0),
    "cell small": (REGULAR, _FAR_PT, 16.0, 0.0, 0.0),
    "figure": (BOLD, _FIGURE_PT, 22.0, 0.0, 0.0),
    "heading": (BOLD, _FAR_PT, 16.0, 0.0, 0.0),
    "caution": (BOLD, _FAR_PT, 17.0, 0.0, 0.0),
}
_ON_ONE_LINE = 20
"""Characters of a large figure that are never parted. Shop choice."""
_ALIGN = {"left": TA_LEFT, "centre": TA_CENTER, "right": TA_RIGHT}


@cache
def style(name: str, align: str = "left", *, far: bool = False) -> Any:
    """The paragraph style of that name, set to that side; the larger one of pages read from afar where there is one."""
    font, size, leading, before_mm, after_mm = (_FAR if far and name in _FAR else _STYLES)[name]
    return ParagraphStyle(
        f"{name} {align}{' far' if far else ''}",
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


class _Narrow(Paragraph):  # type: ignore[misc]
    """A paragraph as narrow as the lettering of the drawings: large letters, and still a line that holds something."""

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """The width that is there and the height that the text takes in it; lines once broken are kept."""
        if getattr(self, "_wrapped", (None, 0.0))[0] != width or not hasattr(self, "blPara"):
            self._wrapped = (width, super().wrap(width / WIDTH_FACTOR, height)[1])
        return self._wrapped

    def split(self, width: float, height: float) -> list[Any]:
        """What fits into this height, and the rest."""
        return list(super().split(width / WIDTH_FACTOR, height))

    def draw(self) -> None:
        """Draws the lines, narrowed."""
        self.canv.saveState()
        self.canv.scale(WIDTH_FACTOR, 1.0)
        super().draw()
        self.canv.restoreState()


def lettered(text: str, name: str, align: str = "left") -> Any:
    """A paragraph of plain text: mark-up signs are taken literally, line breaks are kept."""
    return Paragraph(_marked_up(text), style(name, align))


def far_lettered(text: str, name: str, align: str = "left") -> Any:
    """The same for a page read at the lathe."""
    return (_Narrow if name in _FAR else Paragraph)(_marked_up(text), style(name, align, far=True))


def labelled(fields: Sequence[tuple[str, str]], name: str, *, far: bool = False) -> Any:
    """One paragraph of texts, each behind its label in bold."""
    parts = [f'<font name="{BOLD}">{_marked_up(label)}</font> {_marked_up(text)}' for label, text in fields]
    return (_Narrow if far else Paragraph)("\u00a0\u00a0 ".join(parts), style(name, far=far))


def figured(before: str, figure: str, after: str, *, far: bool = False) -> Any:
    """A figure to stop at, large, on one line with the words before and after it where there is room; set right."""
    size = style("cell", far=far).fontSize
    small = f'<font name="{REGULAR}" size="{size}">'
    parts = [f"{small}{_marked_up(before)}</font>" if before else "", _marked_up(_unbroken(figure))]
    parts += [f"{small}{_marked_up(after)}</font>" if after else ""]
    return (_Narrow if far else Paragraph)(" ".join(part for part in parts if part), style("figure", "right", far=far))


def figured_mm(before: str, figure: str, after: str, *, far: bool = False) -> float:
    """How wide that stands on one line, in millimetres."""
    small, large = style("cell", far=far), style("figure", far=far)
    words = sum(stringWidth(f"{printable(word)} ", REGULAR, small.fontSize) for word in (before, after) if word)
    whole = words + stringWidth(printable(figure), large.fontName, large.fontSize)
    return float(whole * (WIDTH_FACTOR if far else 1.0) / mm)


def _unbroken(figure: str) -> str:
    return figure.replace(" ", "\u00a0") if len(figure) <= _ON_ONE_LINE else figure


def _marked_up(text: str) -> str:
    return escape(printable(text)).replace("\n", "<br/>")
