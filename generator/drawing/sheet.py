"""The framed sheet in paper space: frame, centring marks, title block, check lines, notes and views of model space.

Sources: ISO 5457 (sheet, frame 20/10/10/10), ISO 7200 (title block 180 wide, its mandatory fields), ISO 5456-2
(projection symbol), all at second hand; the added shop fields and the check lines are common practice.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from generator.drawing.base import Pen, Point
from generator.drawing.font import STYLE_NAME, WIDTH_FACTOR, text_width_mm
from generator.drawing.style import LARGE_TEXT_MM, SMALL_TEXT_MM, TEXT_MM

__all__ = [
    "BLOCK_HEIGHT_MM",
    "BLOCK_WIDTH_MM",
    "CHECK_STRIP_MM",
    "CHECK_WORDS",
    "LAST_PAGE",
    "PAGES",
    "Page",
    "Rect",
    "TitleBlock",
    "add_sheet",
    "add_viewport",
    "draw_notes",
    "note_lines",
    "notes_height_mm",
]

BLOCK_WIDTH_MM = 180.0
# Edges of the five rows of the block, from below: the two lower rows carry larger lettering.
_ROWS_MM = (0.0, 11.0, 22.0, 31.0, 40.0, 49.0)
BLOCK_HEIGHT_MM = _ROWS_MM[-1]
CHECK_STRIP_MM = 7.0
CHECK_WORDS = "100 mm: print at 100 %, no fitting"
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

    @property
    def frame(self) -> Rect:
        """The drawing space."""
        return Rect(20.0, 10.0, self.width_mm - 10.0, self.height_mm - 10.0)

    @property
    def block(self) -> Rect:
        """Where the title block stands: lower right."""
        frame = self.frame
        return Rect(frame.right - BLOCK_WIDTH_MM, frame.bottom, frame.right, frame.bottom + BLOCK_HEIGHT_MM)

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


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """What the title block says. No field may be empty: the caller writes "none" or "-" where that is meant."""

    owner: str
    number: str
    title: str
    date: str
    sheet: str
    created: str
    approved: str
    document_type: str
    material: str
    stock: str
    mass: str
    scale: str
    general_tolerance: str
    finish: str
    edges: str
    projection: str = "first angle"
    units: str = "mm"
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Cell:
    """One cell: ATTRIB tag, printed heading, left edge, row from the bottom, width, text height."""

    tag: str
    heading: str
    left: float
    row: int
    width: float
    height_mm: float = TEXT_MM

    @property
    def rise_mm(self) -> float:
        """How far the lettering stands above the cell's lower edge, so that tails of letters clear it."""
        return 1.55 if self.height_mm < LARGE_TEXT_MM else 1.9


_CELLS = (
    _Cell("MATERIAL", "Material", 0, 4, 60),
    _Cell("STOCK", "Stock", 60, 4, 66),
    _Cell("MASS", "Mass", 126, 4, 24),
    _Cell("SCALE", "Scale", 150, 4, 30),
    _Cell("GENERAL_TOLERANCE", "General tolerance", 0, 3, 60),
    _Cell("FINISH", "Finish", 60, 3, 66),
    _Cell("UNITS", "Units", 126, 3, 24),
    _Cell("EDGES", "Edges", 0, 2, 60),
    _Cell("CREATED", "Created by", 60, 2, 45),
    _Cell("APPROVED", "Approved by", 105, 2, 45),
    _Cell("DATE", "Date", 150, 2, 30),
    _Cell("OWNER", "Owner", 0, 1, 60),
    _Cell("TITLE", "Title", 60, 1, 120, LARGE_TEXT_MM),
    _Cell("DOCUMENT_TYPE", "Document", 60, 0, 45),
    _Cell("NUMBER", "Number", 105, 0, 45, LARGE_TEXT_MM),
    _Cell("SHEET", "Sheet", 150, 0, 30),
)
_RIM_MM = 1.0


def add_sheet(document: Any, page: Page, block: TitleBlock, name: str = "Sheet") -> Any:
    """A paper layout of the page with frame, marks, filled title block and check lines; no views yet."""
    layout = document.layouts.new(name)
    layout.page_setup(size=(page.width_mm, page.height_mm), margins=(0, 0, 0, 0), units="mm", scale=(1, 1))
    pen = Pen(layout)
    _frame(pen, page)
    _block_definition(document, block.projection)
    _fill_block(layout, page, block)
    _check_lines(pen, page)
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


def _block_definition(document: Any, projection: str) -> None:
    """The block TITLE_BLOCK: its lines, headings, attribute places and the projection symbol."""
    if "TITLE_BLOCK" in document.blocks:
        return
    block = document.blocks.new("TITLE_BLOCK")
    pen = Pen(block)
    width, height = BLOCK_WIDTH_MM, BLOCK_HEIGHT_MM
    pen.polyline([(0, 0), (0, height), (width, height)], "BLOCK")
    for edge in _ROWS_MM[1:-1]:
        pen.line((0, edge), (width, edge), "BLOCK")
    for cell in _CELLS:
        bottom, top = _ROWS_MM[cell.row], _ROWS_MM[cell.row + 1]
        if cell.left:
            pen.line((cell.left, bottom), (cell.left, top), "BLOCK")
        pen.text(cell.heading, (cell.left + _RIM_MM, top - 2.95), SMALL_TEXT_MM)
        block.add_attdef(
            cell.tag,
            (cell.left + _RIM_MM, bottom + cell.rise_mm),
            dxfattribs={"layer": "TEXT", "style": STYLE_NAME, "height": cell.height_mm, "width": WIDTH_FACTOR},
        )
    pen.line((150, _ROWS_MM[3]), (150, _ROWS_MM[4]), "BLOCK")
    pen.text("Do not scale the drawing", (_RIM_MM, 3.5), TEXT_MM)
    _projection_symbol(pen, (165.0, (_ROWS_MM[3] + _ROWS_MM[4]) / 2), projection)


def _projection_symbol(pen: Pen, centre: Point, projection: str) -> None:
    """Frustum and circles: in first angle the frustum stands left, in third angle right, its small end always left."""
    x, y = centre
    h = 3.0
    first = projection.startswith("first")
    cone, rings = (x - 8.0, x + 5.5) if first else (x + 2.0, x - 5.5)
    pen.polyline(
        [(cone, y - h / 2), (cone + 2 * h, y - h), (cone + 2 * h, y + h), (cone, y + h / 2)], "BLOCK", closed=True
    )
    pen.circle((rings, y), h / 2, "BLOCK")
    pen.circle((rings, y), h, "BLOCK")
    pen.line((cone - 1.0, y), (cone + 2 * h + 1.0, y), "CENTRE")
    pen.line((rings - h - 0.8, y), (rings + h + 0.8, y), "CENTRE")
    pen.line((rings, y - h - 0.8), (rings, y + h + 0.8), "CENTRE")


def _fill_block(layout: Any, page: Page, block: TitleBlock) -> None:
    place = page.block
    insert = layout.add_blockref("TITLE_BLOCK", (place.left, place.bottom), dxfattribs={"layer": "BLOCK"})
    values = {cell.tag: getattr(block, cell.tag.lower()) for cell in _CELLS}
    for cell in _CELLS:
        words = str(values[cell.tag])
        factor = WIDTH_FACTOR
        height = cell.height_mm
        room = cell.width - 2 * _RIM_MM
        natural = text_width_mm(words, height)
        if natural > room:
            height = TEXT_MM if text_width_mm(words, TEXT_MM) <= room else SMALL_TEXT_MM
            factor = WIDTH_FACTOR * min(1.0, room / text_width_mm(words, height))
        insert.add_attrib(
            cell.tag,
            words,
            (place.left + cell.left + _RIM_MM, place.bottom + _ROWS_MM[cell.row] + cell.rise_mm),
            dxfattribs={"layer": "TEXT", "style": STYLE_NAME, "height": height, "width": factor},
        )


def _check_lines(pen: Pen, page: Page) -> None:
    """One check line across, above the block, and one upright at the left; both exactly 100 mm long."""
    block, frame = page.block, page.frame
    y = block.top + 2.5
    left = block.left + 3.0
    pen.line((left, y), (left + 100.0, y), "DIM")
    for x in (left, left + 100.0):
        pen.line((x, y - 1.5), (x, y + 1.5), "DIM")
    pen.text(CHECK_WORDS, (left + 103.0, y - 1.2), SMALL_TEXT_MM)
    x = frame.left + 6.5
    bottom = (block.top + CHECK_STRIP_MM if page.is_upright else frame.bottom) + 3.0
    pen.line((x, bottom), (x, bottom + 100.0), "DIM")
    for end in (bottom, bottom + 100.0):
        pen.line((x - 1.5, end), (x + 1.5, end), "DIM")


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


def draw_notes(pen: Pen, lines: Sequence[str], left: float, top: float, height_mm: float = SMALL_TEXT_MM) -> None:
    """Write the note lines under their heading, downwards from `top`."""
    if not lines:
        return
    pen.text("Notes", (left, top - TEXT_MM - 1.0), TEXT_MM)
    for i, line in enumerate(lines):
        pen.text(line, (left, top - 8.0 - (i + 0.75) * _LINE_MM[height_mm]), height_mm)
