"""What the blocks of a text page are built from: lettering for near or far, tables that break well, pictures, boxes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, LongTable

from generator.ink.model import Ink
from generator.prints.content import Field, Reach
from generator.prints.digits import printable
from generator.prints.lettering import REGULAR
from generator.prints.look import TEXT_WIDTH_MM, far_lettered, figured, figured_mm, labelled, lettered
from generator.prints.pdf import draw_ink

__all__ = [
    "BELOW_HEAD_MM", "ROOM_MM", "SIDE_MM", "Bookmark", "Page", "Picture", "TickBox", "grid", "heading", "shared_widths",
    "stacked_mm",
]

SIDE_MM = 1.6
_ROW_MM, _CLOSE_ROW_MM = 2.3, 0.8
_LEAST_COLUMN_MM = 9.0
ROOM_MM, _FAR_ROOM_MM = 32.0, 62.0
"""Room that a heading wants below itself, so that it never stands alone at the foot of a page."""
BELOW_HEAD_MM = 25.0
"""What a row must leave of a page for the headings above it."""
_LONG_CELL = 100
"""A cell longer than this is measured, to see whether its row is higher than a page."""


@dataclass(frozen=True, slots=True)
class Page:
    """How high the text area is, and whether it is read from afar, at the lathe."""

    height_mm: float
    far: bool = False

    def letter(self, text: str, name: str, align: str = "left") -> Any:
        """A paragraph in the style of that name, in the lettering of this page."""
        return (far_lettered if self.far else lettered)(text, name, align)

    def labelled(self, fields: Sequence[Field], name: str = "cell") -> Any:
        """One paragraph of labelled words in the lettering of this page."""
        return labelled([(one.label, one.text) for one in fields], name, far=self.far)

    def figured(self, reach: Reach) -> Any:
        """A figure to stop at with its words; only words where there is no figure."""
        if not reach.figure:
            return self.letter(_words(reach), "cell", "right")
        return figured(reach.before, reach.figure, reach.after, far=self.far)

    def figured_mm(self, reach: Reach) -> float:
        """How wide that stands on one line."""
        if not reach.figure:
            return figured_mm(_words(reach), "", "", far=self.far)
        return figured_mm(reach.before, reach.figure, reach.after, far=self.far)


def _words(reach: Reach) -> str:
    return " ".join(part for part in (reach.before, reach.after) if part)


class Picture(Flowable):  # type: ignore[misc]
    """Ink at a scale."""

    def __init__(self, ink: Ink, scale: float) -> None:
        super().__init__()
        self.ink = ink
        self.scale = scale
        self.hAlign = "LEFT"

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """How wide and high it is, in points."""
        return self.ink.width_mm * self.scale * mm, self.ink.height_mm * self.scale * mm

    def draw(self) -> None:
        """Draws it with its lower left corner at the origin of the canvas."""
        self.canv.scale(self.scale, self.scale)
        draw_ink(self.canv, self.ink, cut=True)


class Bookmark(Flowable):  # type: ignore[misc]
    """An entry in the table of contents, of no size; level 0 for a page, 1 for what stands on it."""

    def __init__(self, title: str, key: str, level: int = 0) -> None:
        super().__init__()
        self.title = printable(title)
        self.key = printable(key)
        self.level = level

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """How wide and high it is, in points."""
        return 0, 0

    def draw(self) -> None:
        """Draws it with its lower left corner at the origin of the canvas."""
        self.canv.bookmarkPage(self.key)
        self.canv.addOutlineEntry(self.title, self.key, level=self.level)


class TickBox(Flowable):  # type: ignore[misc]
    """An empty square to tick."""

    side = 6.0 * mm

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """How wide and high it is, in points."""
        return self.side, self.side

    def draw(self) -> None:
        """Draws it with its lower left corner at the origin of the canvas."""
        self.canv.setLineWidth(1.0)
        self.canv.rect(0, 0, self.side, self.side)


def heading(text: str, page: Page, room_mm: float = ROOM_MM) -> list[Any]:
    """A heading inside a page that keeps room below itself, more where letters are large; nothing for no text."""
    room_mm = max(room_mm, _FAR_ROOM_MM) if page.far else room_mm
    return [CondPageBreak(room_mm * mm), page.letter(text, "strong")] if text else []


def shared_widths(wanted_mm: Sequence[float], columns: int) -> list[float]:
    """Column widths in millimetres that fill or fit the text width, none too narrow to hold a letter."""
    widths = list(wanted_mm[:columns])
    rest = TEXT_WIDTH_MM - sum(widths)
    missing = columns - len(widths)
    if missing:
        widths += [max(rest / missing, _LEAST_COLUMN_MM)] * missing
    least = min(_LEAST_COLUMN_MM, TEXT_WIDTH_MM / columns)
    widths = [max(width, least) for width in widths]
    excess = sum(widths) - TEXT_WIDTH_MM
    if excess <= 0.0:
        return widths
    # What each column has above the least gives way in proportion.
    spare = sum(width - least for width in widths)
    return [width - (width - least) * excess / spare if spare else width for width in widths]


def grid(
    rows: list[list[Any]],
    widths_mm: Sequence[float],
    looks: Sequence[tuple[Any, ...]],
    page: Page,
    *,
    repeat: int = 0,
    close: bool = False,
) -> Any:
    """A table that breaks between rows, and inside a row only where that row is higher than a page.

    `close` leaves out the room that is kept in each row to write in.
    """
    too_high = any(_height_mm(row, widths_mm) > page.height_mm - BELOW_HEAD_MM for row in rows)
    row_mm = _CLOSE_ROW_MM if close else _ROW_MM
    common: list[tuple[Any, ...]] = [
        # Else the library lists a font of its own that no cell uses.
        ("FONT", (0, 0), (-1, -1), REGULAR),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), SIDE_MM * mm),
        ("RIGHTPADDING", (0, 0), (-1, -1), SIDE_MM * mm),
        ("TOPPADDING", (0, 0), (-1, -1), row_mm * mm),
        ("BOTTOMPADDING", (0, 0), (-1, -1), row_mm * mm),
    ]
    return LongTable(
        rows,
        colWidths=[width * mm for width in widths_mm],
        style=[*common, *looks],
        repeatRows=repeat,
        splitInRow=1 if too_high else 0,
        hAlign="LEFT",
    )


def _height_mm(row: Sequence[list[Any]], widths_mm: Sequence[float]) -> float:
    heights = [0.0]
    for cell, width_mm in zip(row, widths_mm, strict=True):
        # A part without text of its own is a picture or holds others.
        if sum(len(getattr(part, "text", " " * (_LONG_CELL + 1))) for part in cell) > _LONG_CELL:
            heights.append(stacked_mm(cell, width_mm - 2 * SIDE_MM) + 2 * _ROW_MM)
    return max(heights)


def stacked_mm(parts: Sequence[Any], width_mm: float) -> float:
    """How high parts stand one below the other in this width."""
    return float(sum(part.wrap(width_mm * mm, 1e6)[1] for part in parts) / mm)
