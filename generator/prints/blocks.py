"""The blocks of a text page as things that flow: each breaks between pages where it may, none runs off the paper."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, LongTable, Spacer

from generator.ink.model import Ink
from generator.prints.content import (
    Align,
    Block,
    Caution,
    Figure,
    FindingBlock,
    KeyValues,
    Paragraph,
    Steps,
    Table,
)
from generator.prints.lettering import REGULAR
from generator.prints.look import TEXT_WIDTH_MM, THICK_PT, THIN_PT, TINT, lettered
from generator.prints.pdf import draw_ink

__all__ = ["flowables"]

_SIDE_MM = 1.6
_ROW_MM = 2.3
_LEAST_COLUMN_MM = 9.0
_AFTER_TABLE_MM = 4.0
# Notes higher than this flow by themselves.
_MOST_NOTES_MM = 60.0
# Room that a heading wants below itself, so that it never stands alone at the foot of a page.
_ROOM_MM = 32.0
# A cell longer than this is measured, to see whether its row is higher than a page.
_LONG_CELL = 100
_MARKS = {"stop": "STOP", "warn": "WARN", "note": "NOTE"}
_STEP_WIDTHS_MM = (12.0, 12.0, 76.0, 40.0, 40.0)


def flowables(blocks: Sequence[Block], page_height_mm: float) -> list[Any]:
    """All blocks of a page in order, each with the room it wants around it."""
    out: list[Any] = []
    for index, block in enumerate(blocks):
        if isinstance(block, Paragraph):
            follower = blocks[index + 1] if index + 1 < len(blocks) else None
            out += _paragraph(block, follower, page_height_mm)
        elif isinstance(block, Table):
            out += _table(block, page_height_mm)
        elif isinstance(block, Steps):
            out += _steps(block, page_height_mm)
        elif isinstance(block, Caution):
            out += _caution(block, page_height_mm)
        elif isinstance(block, KeyValues):
            out += _key_values(block, page_height_mm)
        elif isinstance(block, Figure):
            out += _figure(block, page_height_mm)
        else:
            out += _finding(block, page_height_mm)
    return out


class _Picture(Flowable):  # type: ignore[misc]
    """Ink at a scale."""

    def __init__(self, ink: Ink, scale: float) -> None:
        super().__init__()
        self.ink = ink
        self.scale = scale
        self.hAlign = "LEFT"

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.ink.width_mm * self.scale * mm, self.ink.height_mm * self.scale * mm

    def draw(self) -> None:
        self.canv.scale(self.scale, self.scale)
        draw_ink(self.canv, self.ink, cut=True)


class _TickBox(Flowable):  # type: ignore[misc]
    """An empty square to tick."""

    side = 5.0 * mm

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.side, self.side

    def draw(self) -> None:
        self.canv.setLineWidth(0.8)
        self.canv.rect(0, 0, self.side, self.side)


def _heading(text: str, room_mm: float = _ROOM_MM) -> list[Any]:
    return [CondPageBreak(room_mm * mm), lettered(text, "strong")] if text else []


def _paragraph(block: Paragraph, follower: Block | None, page_height_mm: float) -> list[Any]:
    if block.style != "strong":
        return [lettered(block.text, block.style)]
    room_mm = _ROOM_MM
    if isinstance(follower, Figure):
        room_mm += _figure_scale(follower, page_height_mm) * follower.ink.height_mm
    return _heading(block.text, min(room_mm, page_height_mm - 5.0))


def _shared_widths(wanted_mm: Sequence[float], columns: int) -> list[float]:
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


def _grid(
    rows: list[list[Any]],
    widths_mm: Sequence[float],
    looks: Sequence[tuple[Any, ...]],
    page_height_mm: float,
    *,
    repeat: int = 0,
) -> Any:
    """A table that breaks between rows, and inside a row only where that row is higher than a page."""
    too_high = any(_height_mm(row, widths_mm) > page_height_mm - 25.0 for row in rows)
    common: list[tuple[Any, ...]] = [
        # Else the library lists a font of its own that no cell uses.
        ("FONT", (0, 0), (-1, -1), REGULAR),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), _SIDE_MM * mm),
        ("RIGHTPADDING", (0, 0), (-1, -1), _SIDE_MM * mm),
        ("TOPPADDING", (0, 0), (-1, -1), _ROW_MM * mm),
        ("BOTTOMPADDING", (0, 0), (-1, -1), _ROW_MM * mm),
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
        if sum(len(getattr(part, "text", "")) for part in cell) > _LONG_CELL:
            room = (width_mm - 2 * _SIDE_MM) * mm
            heights.append(sum(part.wrap(room, 1e6)[1] for part in cell) / mm + 2 * _ROW_MM)
    return max(heights)


def _table(block: Table, page_height_mm: float) -> list[Any]:
    columns = max([len(block.headings), *(len(row) for row in block.rows)])
    if columns == 0:
        return []
    spare: list[Align] = ["left"] * (columns - len(block.align))
    sides = [*block.align[:columns], *spare]
    heads = 1 if block.headings else 0
    rows = [_cells(block.headings, sides, "heading")] if heads else []
    rows += [_cells(row, sides, "cell") for row in block.rows]
    looks: list[tuple[Any, ...]] = [
        ("LINEBELOW", (0, 0), (-1, -1), THIN_PT, (0, 0, 0)),
        ("LINEBEFORE", (1, 0), (-1, -1), THIN_PT, (0.6, 0.6, 0.6)),
        ("LINEABOVE", (0, 0), (-1, 0), THIN_PT, (0, 0, 0)),
    ]
    if heads:
        looks += [("BACKGROUND", (0, 0), (-1, 0), TINT), ("VALIGN", (0, 0), (-1, 0), "BOTTOM")]
    widths = _shared_widths(block.widths_mm, columns)
    notes = [lettered(note, "small") for note in block.notes]
    # The last row stays with the notes, so that they never stand alone on a page.
    short = bool(notes) and sum(note.wrap(TEXT_WIDTH_MM * mm, 1e6)[1] for note in notes) < _MOST_NOTES_MM * mm
    split = len(rows) - 1 if short and len(rows) > heads + 1 else len(rows)
    grid = _grid(rows[:split], widths, looks, page_height_mm, repeat=heads) if rows else None
    last = _grid(rows[split:], widths, looks[:2], page_height_mm) if rows[split:] else None
    between = [Spacer(1, 1.5 * mm)] if notes else []
    tail = [*([last] if last else []), *between, *notes]
    return [
        *_heading(block.title), *([grid] if grid else []), *([KeepTogether(tail)] if last else tail),
        Spacer(1, _AFTER_TABLE_MM * mm),
    ]


def _cells(texts: Sequence[str], sides: Sequence[Align], look: str) -> list[list[Any]]:
    padded = [*texts, *([""] * (len(sides) - len(texts)))]
    return [[lettered(text, look, side)] for text, side in zip(padded, sides, strict=True)]


def _steps(block: Steps, page_height_mm: float) -> list[Any]:
    sides: list[Align] = ["left"] * 5
    rows: list[list[Any]] = [_cells(("done", "no.", "operation", "held", "tool, size"), sides, "heading")]
    for step in block.rows:
        what = [lettered(step.what, "step")]
        if step.caution:
            what.append(lettered(f"Caution: {step.caution}", "step strong"))
        number, holding, tool = lettered(step.number, "step strong"), lettered(step.holding, "cell"), step.tool
        rows.append([[_TickBox()], [number], what, [holding], [lettered(tool, "cell")]])
    looks = [
        ("LINEBELOW", (0, 0), (-1, -1), THIN_PT, (0, 0, 0)),
        ("LINEABOVE", (0, 0), (-1, 0), THIN_PT, (0, 0, 0)),
        ("BACKGROUND", (0, 0), (-1, 0), TINT),
        ("BOTTOMPADDING", (0, 1), (-1, -1), 3.5 * mm),
    ]
    grid = _grid(rows, _STEP_WIDTHS_MM, looks, page_height_mm, repeat=1)
    return [*_heading(block.title), grid, Spacer(1, _AFTER_TABLE_MM * mm)]


def _caution(block: Caution, page_height_mm: float) -> list[Any]:
    # The word stands in the row of the first line, so that it never stays behind alone.
    first, *others = block.lines or ("",)
    rows = [
        [[lettered("CAUTION", "caution"), lettered(first, "body")]],
        *([[lettered(line, "body")]] for line in others),
    ]
    looks = [
        ("BOX", (0, 0), (-1, -1), THICK_PT, (0, 0, 0)),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1.2 * mm),
        ("TOPPADDING", (0, 0), (-1, -1), 1.2 * mm),
        ("LEFTPADDING", (0, 0), (-1, -1), 3.0 * mm),
        ("RIGHTPADDING", (0, 0), (-1, -1), 3.0 * mm),
    ]
    grid = _grid(rows, [TEXT_WIDTH_MM], looks, page_height_mm)
    return [Spacer(1, 1 * mm), grid, Spacer(1, _AFTER_TABLE_MM * mm)]


def _key_values(block: KeyValues, page_height_mm: float) -> list[Any]:
    rows = [
        [
            [lettered(row.label, "cell strong" if row.large else "cell")],
            [lettered(row.value, "figure" if row.large else "cell strong")],
            [lettered(row.note, "cell small")],
        ]
        for row in block.rows
    ]
    if not rows:
        return _heading(block.title)
    looks = [
        ("BOX", (0, 0), (-1, -1), THICK_PT / 2, (0, 0, 0)),
        ("LINEBELOW", (0, 0), (-1, -2), THIN_PT, (0.6, 0.6, 0.6)),
        ("BACKGROUND", (0, 0), (0, -1), TINT),
    ]
    grid = _grid(rows, [58.0, 46.0, TEXT_WIDTH_MM - 104.0], looks, page_height_mm)
    return [*_heading(block.title), grid, Spacer(1, _AFTER_TABLE_MM * mm)]


def _figure_scale(block: Figure, page_height_mm: float) -> float:
    wanted = 1.0 if block.width_mm is None else block.width_mm / block.ink.width_mm
    # A fifth of the page is left for title, heading and caption.
    return min(wanted, TEXT_WIDTH_MM / block.ink.width_mm, 0.8 * page_height_mm / block.ink.height_mm)


def _figure(block: Figure, page_height_mm: float) -> list[Any]:
    picture = _Picture(block.ink, _figure_scale(block, page_height_mm))
    caption = [Spacer(1, 1 * mm), lettered(block.caption, "small")] if block.caption else []
    return [KeepTogether([picture, *caption]), Spacer(1, _AFTER_TABLE_MM * mm)]


def _finding(block: FindingBlock, page_height_mm: float) -> list[Any]:
    stop = block.severity == "stop"
    mark = lettered(_MARKS[block.severity], "mark on black" if stop else "mark", "centre")
    words = [lettered(block.title, "cell strong"), lettered(block.text, "cell")]
    words += [lettered(f"\u2192 {change}", "cell") for change in block.changes]
    if block.source:
        words.append(lettered(f"Source: {block.source}", "cell small"))
    # Black, heavy frame or thin frame: the three tell apart on any copier.
    frame = {"stop": THICK_PT, "warn": THICK_PT, "note": THIN_PT}[block.severity]
    looks: list[tuple[Any, ...]] = [
        ("BOX", (0, 0), (0, -1), frame, (0, 0, 0)),
        ("LINEBELOW", (1, 0), (1, -1), THIN_PT, (0, 0, 0)),
        ("LINEABOVE", (1, 0), (1, -1), THIN_PT, (0, 0, 0)),
        ("LEFTPADDING", (1, 0), (1, -1), 3.0 * mm),
    ]
    if stop:
        looks.append(("BACKGROUND", (0, 0), (0, -1), (0, 0, 0)))
    grid = _grid([[[mark], words]], [20.0, TEXT_WIDTH_MM - 20.0], looks, page_height_mm)
    return [grid, Spacer(1, 2 * mm)]
