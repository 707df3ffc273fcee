"""The title block of a sheet: its fields, the revision table and a mark on it, as one block with attributes.

Sources: ISO 7200 (180 wide, its eight mandatory fields), ISO 5456-2 (projection symbol), revision table on top of the
block with the oldest row at its foot, all at second hand; the added shop fields are common practice.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from generator.drawing.base import Pen, Point
from generator.drawing.font import STYLE_NAME, WIDTH_FACTOR, text_width_mm
from generator.drawing.manner import METRIC, Manner, SheetUnits
from generator.drawing.style import LARGE_TEXT_MM, SMALL_TEXT_MM, TEXT_MM

__all__ = ["BLOCK_HEIGHT_MM", "BLOCK_WIDTH_MM", "Revision", "TitleBlock", "define_block", "fill_block"]

BLOCK_WIDTH_MM = 180.0
# Edges of the five rows of the block, from below: the two lower rows carry larger lettering.
_ROWS_MM = (0.0, 11.0, 22.0, 31.0, 40.0, 49.0)
BLOCK_HEIGHT_MM = _ROWS_MM[-1]
_REVISION_ROW_MM = 5.0
_MARK_ROW_MM = 9.0
_RIM_MM = 1.0


@dataclass(frozen=True, slots=True)
class Revision:
    """One row of the revision table."""

    letter: str
    change: str
    date: str
    by: str


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """What the title block says. No field may be empty: the caller writes what is true, "not issued" or "none".

    `mark` stands large above the block of a sheet that must not be used; `made_with` says where the sheet is from.
    """

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
    notes: tuple[str, ...] = ()
    manner: Manner = METRIC
    revisions: tuple[Revision, ...] = ()
    mark: str = ""
    made_with: str = "tailstock"

    @property
    def units(self) -> SheetUnits:
        """Unit of the printed sizes."""
        return self.manner.units

    @property
    def revision(self) -> str:
        """Letter of the newest revision, "-" for the first issue."""
        return self.revisions[-1].letter if self.revisions else "-"

    @property
    def extra_mm(self) -> float:
        """Height of what stands on the block."""
        rows = len(self.revisions) + 1 if self.revisions else 0
        return rows * _REVISION_ROW_MM + (_MARK_ROW_MM if self.mark else 0.0)


@dataclass(frozen=True, slots=True)
class _Cell:
    """One cell: ATTRIB tag, name of its heading among the words, left edge, lower edge, width, height, text height."""

    tag: str
    heading: str
    left: float
    bottom: float
    width: float
    top: float
    height_mm: float = TEXT_MM

    @property
    def rise_mm(self) -> float:
        """How far the lettering stands above the cell's lower edge, so that tails of letters clear it."""
        return 1.55 if self.height_mm < LARGE_TEXT_MM else 1.9


def _cell(tag: str, heading: str, left: float, row: int, width: float, height_mm: float = TEXT_MM) -> _Cell:
    return _Cell(tag, heading, left, _ROWS_MM[row], width, _ROWS_MM[row + 1], height_mm)


_CELLS = (
    _cell("MATERIAL", "material", 0, 4, 60),
    _cell("STOCK", "stock", 60, 4, 66),
    _cell("MASS", "mass", 126, 4, 24),
    _cell("SCALE", "scale", 150, 4, 30),
    _cell("GENERAL_TOLERANCE", "general_tolerance", 0, 3, 60),
    _cell("FINISH", "finish", 60, 3, 66),
    _cell("UNITS", "units", 126, 3, 24),
    _cell("EDGES", "edges", 0, 2, 60),
    _cell("CREATED", "created", 60, 2, 45),
    _cell("APPROVED", "approved", 105, 2, 45),
    _cell("DATE", "date", 150, 2, 30),
    _cell("OWNER", "owner", 0, 1, 60),
    _cell("TITLE", "title", 60, 1, 120, LARGE_TEXT_MM),
    _cell("DOCUMENT_TYPE", "document", 60, 0, 42),
    _cell("NUMBER", "number", 102, 0, 48, LARGE_TEXT_MM),
    _cell("REVISION", "revision", 150, 0, 12),
    _cell("SHEET", "sheet", 162, 0, 18),
)
# Above its fellow in the lower left corner, without a heading.
_MADE_WITH = _Cell("MADE_WITH", "", 0, 5.6, 60, 11, SMALL_TEXT_MM)
_REVISION_COLUMNS = (
    ("LETTER", "revision", 12.0),
    ("CHANGE", "change", 113.0),
    ("DATE", "changed_on", 25.0),
    ("BY", "by", 30.0),
)


def define_block(document: Any, title: TitleBlock) -> None:
    """The block TITLE_BLOCK: its lines, headings, attribute places and the projection symbol."""
    if "TITLE_BLOCK" in document.blocks:
        return
    block = document.blocks.new("TITLE_BLOCK")
    pen = Pen(block)
    words = title.manner.words
    width, height = BLOCK_WIDTH_MM, BLOCK_HEIGHT_MM + title.extra_mm
    pen.polyline([(0, 0), (0, height), (width, height)], "BLOCK")
    for edge in _ROWS_MM[1:] if title.extra_mm else _ROWS_MM[1:-1]:
        pen.line((0, edge), (width, edge), "BLOCK")
    cells = [*_CELLS, _MADE_WITH, *_revision_cells(title), *_mark_cells(title)]
    for cell in cells:
        if cell.left:
            pen.line((cell.left, cell.bottom), (cell.left, cell.top), "BLOCK")
        if cell.heading:
            pen.text(getattr(words, cell.heading), (cell.left + _RIM_MM, cell.top - 2.95), SMALL_TEXT_MM)
        block.add_attdef(
            cell.tag,
            (cell.left + _RIM_MM, cell.bottom + cell.rise_mm),
            dxfattribs={"layer": "TEXT", "style": STYLE_NAME, "height": cell.height_mm, "width": WIDTH_FACTOR},
        )
    pen.line((150, _ROWS_MM[3]), (150, _ROWS_MM[4]), "BLOCK")
    pen.text(words.do_not_scale, (_RIM_MM, 1.75), TEXT_MM)
    _revision_lines(pen, title)
    _projection_symbol(pen, (165.0, (_ROWS_MM[3] + _ROWS_MM[4]) / 2), title.projection)


def _revision_cells(title: TitleBlock) -> list[_Cell]:
    """The cells of the revision table, the oldest row on its heading, the heading on the block."""
    found = []
    for number in range(1, len(title.revisions) + 1):
        bottom, left = BLOCK_HEIGHT_MM + number * _REVISION_ROW_MM, 0.0
        for tag, _, width in _REVISION_COLUMNS:
            top = bottom + _REVISION_ROW_MM
            found.append(_Cell(f"REVISION_{number}_{tag}", "", left, bottom, width, top, SMALL_TEXT_MM))
            left += width
    return found


def _mark_cells(title: TitleBlock) -> list[_Cell]:
    top = BLOCK_HEIGHT_MM + title.extra_mm
    return [_Cell("MARK", "", 0, top - _MARK_ROW_MM, BLOCK_WIDTH_MM, top, LARGE_TEXT_MM)] if title.mark else []


def _revision_lines(pen: Pen, title: TitleBlock) -> None:
    """Headings of the revision table and the line over each of its rows."""
    if not title.revisions:
        return
    left, bottom = 0.0, BLOCK_HEIGHT_MM
    for _, heading, width in _REVISION_COLUMNS:
        if left:
            pen.line((left, bottom), (left, bottom + _REVISION_ROW_MM), "BLOCK")
        pen.text(getattr(title.manner.words, heading), (left + _RIM_MM, bottom + 1.2), SMALL_TEXT_MM)
        left += width
    rows = len(title.revisions) + (1 if title.mark else 0)
    for number in range(1, rows + 1):
        y = bottom + number * _REVISION_ROW_MM
        pen.line((0, y), (BLOCK_WIDTH_MM, y), "BLOCK")


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


def fill_block(layout: Any, corner: Point, block: TitleBlock) -> None:
    """The block TITLE_BLOCK set on a layout with its lower left corner at a point, its attributes filled."""
    left, bottom = corner
    insert = layout.add_blockref("TITLE_BLOCK", corner, dxfattribs={"layer": "BLOCK"})
    cells = [(cell, str(getattr(block, cell.tag.lower()))) for cell in (*_CELLS, _MADE_WITH, *_mark_cells(block))]
    told = [word for row in block.revisions for word in (row.letter, row.change, row.date, row.by)]
    cells += zip(_revision_cells(block), told, strict=True)
    for cell, words in cells:
        height, factor = _lettering(words, cell)
        insert.add_attrib(
            cell.tag,
            words,
            (left + cell.left + _RIM_MM, bottom + cell.bottom + cell.rise_mm),
            dxfattribs={"layer": "TEXT", "style": STYLE_NAME, "height": height, "width": factor},
        )


def _lettering(words: str, cell: _Cell) -> tuple[float, float]:
    """Height and width factor with which words fit their cell: the cell's own, or less where they are long."""
    room = cell.width - 2 * _RIM_MM
    if text_width_mm(words, cell.height_mm) <= room:
        return cell.height_mm, WIDTH_FACTOR
    height = TEXT_MM if text_width_mm(words, TEXT_MM) <= room else SMALL_TEXT_MM
    height = min(height, cell.height_mm)
    return height, WIDTH_FACTOR * min(1.0, room / text_width_mm(words, height))
