"""The framed sheet in paper space: frame, centring marks, title block, check lines, notes and views of model space.

Source: ISO 5457 (sheet, frame 20/10/10/10), at second hand; the check lines are common practice.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from generator.drawing.base import Pen, Point
from generator.drawing.font import text_width_mm
from generator.drawing.style import SMALL_TEXT_MM, TEXT_MM
from generator.drawing.title_block import (
    BLOCK_HEIGHT_MM,
    BLOCK_WIDTH_MM,
    Revision,
    TitleBlock,
    define_block,
    fill_block,
)

__all__ = [
    "BLOCK_HEIGHT_MM",
    "BLOCK_WIDTH_MM",
    "CHECK_STRIP_MM",
    "LAST_PAGE",
    "PAGES",
    "Page",
    "Rect",
    "Revision",
    "TitleBlock",
    "add_sheet",
    "add_viewport",
    "draw_notes",
    "note_lines",
    "notes_height_mm",
]

CHECK_STRIP_MM = 7.0
_LINE_MM = {SMALL_TEXT_MM: 4.5, TEXT_MM: 6.0}


@dataclass(frozen=True, slots=True)
class Rect:
    """An upright rectangle on the paper, corners in mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Width in mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Height in mm."""
        return self.top - self.bottom

    @property
    def centre(self) -> Point:
        """The middle."""
        return ((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    def shrunk(self, by: float) -> Rect:
        """The rectangle less a rim."""
        return Rect(self.left + by, self.bottom + by, self.right - by, self.top - by)


@dataclass(frozen=True, slots=True)
class Page:
    """A trimmed sheet; the frame keeps 20 mm at the left for filing and 10 mm elsewhere."""

    name: str
    width_mm: float
    height_mm: float
    extra_mm: float = 0.0
    """Height that the revision table and a mark take above the title block."""

    def for_block(self, block: TitleBlock) -> Page:
        """The page with room for all of a title block."""
        return replace(self, extra_mm=block.extra_mm) if block.extra_mm else self

    @property
    def frame(self) -> Rect:
        """The drawing space."""
        return Rect(20.0, 10.0, self.width_mm - 10.0, self.height_mm - 10.0)

    @property
    def block(self) -> Rect:
        """Where the title block stands: lower right, with the revision table and a mark on it."""
        frame = self.frame
        top = frame.bottom + BLOCK_HEIGHT_MM + self.extra_mm
        return Rect(frame.right - BLOCK_WIDTH_MM, frame.bottom, frame.right, top)

    @property
    def is_upright(self) -> bool:
        """True for A4 portrait, where the block fills the whole width."""
        return self.frame.width <= BLOCK_WIDTH_MM + 1.0


PAGES = (
    Page("A4 portrait", 210.0, 297.0),
    Page("A4 landscape", 297.0, 210.0),
    Page("A3 landscape", 420.0, 297.0),
)
LAST_PAGE = Page("A2 landscape", 594.0, 420.0)
"""For a part that says more than A3 holds even when it is reduced."""



def add_sheet(document: Any, page: Page, block: TitleBlock, name: str = "Sheet") -> Any:
    """A paper layout of the page with frame, marks, filled title block and check lines; no views yet."""
    layout = document.layouts.new(name)
    layout.page_setup(size=(page.width_mm, page.height_mm), margins=(0, 0, 0, 0), units="mm", scale=(1, 1))
    pen = Pen(layout)
    _frame(pen, page)
    define_block(document, block)
    if not document.header.custom_vars.has_tag("PROJECTION"):
        document.header.custom_vars.append("PROJECTION", block.projection)
    fill_block(layout, (page.block.left, page.block.bottom), block)
    _check_lines(pen, page, block.manner.words.check_line)
    if "Layout1" in document.layouts:
        document.layouts.set_active_layout(name)
        document.layouts.delete("Layout1")
    return layout


def _frame(pen: Pen, page: Page) -> None:
    frame = page.frame
    left, bottom, right, top = frame.left, frame.bottom, frame.right, frame.top
    pen.polyline([(left, bottom), (right, bottom), (right, top), (left, top)], "FRAME", closed=True)
    across, up = page.width_mm / 2, page.height_mm / 2
    for start, end in (
        ((across, page.height_mm - 4.0), (across, frame.top - 5.0)),
        ((across, 4.0), (across, frame.bottom)),
        ((4.0, up), (frame.left + 5.0, up)),
        ((page.width_mm - 4.0, up), (frame.right - 5.0, up)),
    ):
        pen.line(start, end, "FRAME")


def _check_lines(pen: Pen, page: Page, words: str) -> None:
    """One check line across, above the block, and one upright at the left; both exactly 100 mm long."""
    block, frame = page.block, page.frame
    y = block.top + 2.5
    left = block.left + 3.0
    pen.line((left, y), (left + 100.0, y), "DIM")
    for x in (left, left + 100.0):
        pen.line((x, y - 1.5), (x, y + 1.5), "DIM")
    pen.text(words, (left + 103.0, y - 1.2), SMALL_TEXT_MM)
    x = frame.left + 6.5
    bottom = (block.top + CHECK_STRIP_MM if page.is_upright else frame.bottom) + 3.0
    pen.line((x, bottom), (x, bottom + 100.0), "DIM")
    for end in (bottom, bottom + 100.0):
        pen.line((x - 1.5, end), (x + 1.5, end), "DIM")
    pen.text(words.partition(":")[0], (x - 0.8, bottom + 6.0), SMALL_TEXT_MM, angle_deg=90.0)


def add_viewport(layout: Any, place: Rect, centre: Point, scale: float) -> Any:
    """A window of the size of `place` on model space around `centre`, at a scale; its border is not plotted."""
    port = layout.add_viewport(
        center=place.centre,
        size=(place.width, place.height),
        view_center_point=centre,
        view_height=place.height / scale,
        dxfattribs={"layer": "CONSTRUCTION", "status": 1},
    )
    port.dxf.flags |= 0x4000
    return port


def note_lines(notes: Iterable[str], width_mm: float, height_mm: float = SMALL_TEXT_MM) -> list[str]:
    """The notes, numbered and broken into lines no wider than `width_mm`."""
    lines: list[str] = []
    for number, note in enumerate(notes, start=1):
        indent = "    "
        line = f"{number}  "
        for word in note.split():
            longer = f"{line}{'' if line.endswith(' ') else ' '}{word}"
            if text_width_mm(longer, height_mm) > width_mm and line.strip():
                lines.append(line)
                longer = indent + word
            line = longer
        lines.append(line)
    return lines


def notes_height_mm(lines: Sequence[str], height_mm: float = SMALL_TEXT_MM) -> float:
    """Height that note lines take on paper, with their heading; 0 without notes."""
    return (len(lines) * _LINE_MM[height_mm] + 8.0) if lines else 0.0


def draw_notes(
    pen: Pen, lines: Sequence[str], left: float, top: float, height_mm: float = SMALL_TEXT_MM, *, heading: str = "Notes"
) -> None:
    """Write the note lines under their heading, downwards from `top`."""
    if not lines:
        return
    pen.text(heading, (left, top - TEXT_MM - 1.0), TEXT_MM)
    for i, line in enumerate(lines):
        pen.text(line, (left, top - 8.0 - (i + 0.75) * _LINE_MM[height_mm]), height_mm)
