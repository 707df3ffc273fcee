"""The blocks of a text page as things that flow: each breaks between pages where it may, none runs off the paper."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, KeepTogether, Spacer

from generator.prints.content import (
    Align,
    Beside,
    Block,
    Caution,
    Facts,
    Field,
    Figure,
    FindingBlock,
    Group,
    HoldingRow,
    KeyValues,
    Operations,
    Paragraph,
    Table,
)
from generator.prints.grid import (
    BELOW_HEAD_MM,
    ROOM_MM,
    Bookmark,
    Page,
    Picture,
    grid,
    heading,
    shared_widths,
    stacked_mm,
)
from generator.prints.look import TEXT_WIDTH_MM, THICK_PT, THIN_PT, TINT
from generator.prints.operations import caution_lines, operation_grid

__all__ = ["flowables"]

_AFTER_TABLE_MM, _BETWEEN_MM, _LEAST_BESIDE_MM = 4.0, 4.0, 50.0
_AFTER_FACTS_MM, _FAR_CAUTION_MM = 2.0, 0.7
_LETTERS_PER_MM = 0.46
"""Letters of a page read from afar in a millimetre of a line, roughly."""
# What is higher than a page begins on one of which so much is left. Shop choice.
_FIRST_ROW_MM = 25.0
"""Room for the head of a table of operations and its first row. Shop choice."""
_BEGIN_SHARE = 0.25
# Notes higher than this flow by themselves.
_MOST_NOTES_MM = 60.0
_MARKS = {"stop": "STOP", "warn": "WARN", "note": "NOTE"}


def flowables(blocks: Sequence[Block], page: Page, mark: Bookmark | None = None) -> list[Any]:
    """All blocks of a page in order, each with the room it wants around it; a mark stays with a group at their head."""
    out: list[Any] = []
    for index, block in enumerate(blocks):
        if isinstance(block, Paragraph):
            follower = blocks[index + 1] if index + 1 < len(blocks) else None
            out += _paragraph(block, follower, page)
        elif isinstance(block, Table):
            out += _table(block, page)
        elif isinstance(block, Operations):
            out += [operation_grid(block, page), Spacer(1, _AFTER_TABLE_MM * mm)]
        elif isinstance(block, Facts):
            out += [*_facts(block, page), Spacer(1, _AFTER_FACTS_MM * mm)]
        elif isinstance(block, Caution):
            out += _caution(block, page)
        elif isinstance(block, KeyValues):
            out += _key_values(block, page)
        elif isinstance(block, Figure):
            out += _figure(block, page)
        elif isinstance(block, Beside):
            out += _beside(block, page)
        elif isinstance(block, Group):
            out += _group(block, page, mark if index == 0 else None)
        else:
            out += _finding(block, page)
    return out


def _group(block: Group, page: Page, mark: Bookmark | None) -> list[Any]:
    """Whole where it fits on a page; what is higher begins where its title, picture and first row still stand."""
    marks = [mark] if mark is not None else []
    parts = [*marks, Bookmark(block.title, f"group-{block.title}", 1), page.letter(block.title, "group")]
    index = next((at for at, one in enumerate(block.blocks) if isinstance(one, Operations)), 0)
    lead = [*parts, *flowables(block.blocks[:index], page)]
    parts = [*lead, *flowables(block.blocks[index:], page)]
    whole_mm = _whole_mm(parts)
    if whole_mm <= page.height_mm:
        first = _first_clamping(block)
        if first is None:
            return [CondPageBreak(whole_mm * mm), *parts]
        # Parted between two clampings where else the page before would end above its middle.
        first_mm = _whole_mm(flowables((Paragraph(first.title, "strong"), *first.blocks), page))
        return [CondPageBreak(min(whole_mm, max(first_mm, page.height_mm / 2)) * mm), *parts]
    least_mm = max(_BEGIN_SHARE * page.height_mm, _whole_mm(lead) + _FIRST_ROW_MM)
    return [CondPageBreak(min(least_mm, page.height_mm) * mm), *parts]


def _first_clamping(block: Group) -> Group | None:
    """The group up to where its work is held anew; None where it is not."""
    for index, one in enumerate(block.blocks):
        if isinstance(one, Operations):
            held = next((at for at, row in enumerate(one.rows) if isinstance(row, HoldingRow)), None)
            if held is not None:
                return Group(block.title, (*block.blocks[:index], Operations(one.heading, one.rows[:held])))
    return None


def _whole_mm(parts: Sequence[Any]) -> float:
    """How high parts stand on a page with the room around them."""
    flat = [one for part in parts for one in (part._content if isinstance(part, KeepTogether) else [part])]
    if any(isinstance(one, KeepTogether) for one in flat):
        return _whole_mm(flat)
    around = sum(max(one.getSpaceBefore(), one.getSpaceAfter()) for one in flat)
    return stacked_mm(flat, TEXT_WIDTH_MM) + float(around / mm)


def _letters(field: Field) -> int:
    return len(field.label) + len(field.text) + 4


def _facts(block: Facts, page: Page, width_mm: float = TEXT_WIDTH_MM) -> list[Any]:
    """Facts in lines of this width, short ones behind one another."""
    lines: list[list[Field]] = []
    for field in block.fields:
        room = _LETTERS_PER_MM * width_mm - sum(_letters(one) for line in lines[-1:] for one in line)
        if lines and _letters(field) <= room:
            lines[-1].append(field)
        else:
            lines.append([field])
    return [page.labelled(line) for line in lines]


def _paragraph(block: Paragraph, follower: Block | None, page: Page) -> list[Any]:
    if block.style != "strong":
        return [page.letter(block.text, block.style)]
    room_mm = ROOM_MM
    if isinstance(follower, Figure):
        room_mm += _figure_scale(follower, page) * follower.ink.height_mm
    return heading(block.text, page, min(room_mm, page.height_mm - 5.0))


def _table(block: Table, page: Page) -> list[Any]:
    columns = max([len(block.headings), *(len(row) for row in block.rows)])
    if columns == 0:
        return []
    spare: list[Align] = ["left"] * (columns - len(block.align))
    sides = [*block.align[:columns], *spare]
    heads = 1 if block.headings else 0
    rows = [_cells(block.headings, sides, "heading", page)] if heads else []
    rows += [_cells(row, sides, "cell", page) for row in block.rows]
    looks: list[tuple[Any, ...]] = [
        ("LINEBELOW", (0, 0), (-1, -1), THIN_PT, (0, 0, 0)),
        ("LINEBEFORE", (1, 0), (-1, -1), THIN_PT, (0.6, 0.6, 0.6)),
        ("LINEABOVE", (0, 0), (-1, 0), THIN_PT, (0, 0, 0)),
    ]
    if heads:
        looks += [("BACKGROUND", (0, 0), (-1, 0), TINT), ("VALIGN", (0, 0), (-1, 0), "BOTTOM")]
    widths = shared_widths(block.widths_mm, columns)
    notes = [page.letter(note, "small") for note in block.notes]
    # The last row stays with the notes, so that they never stand alone on a page.
    short = bool(notes) and sum(note.wrap(TEXT_WIDTH_MM * mm, 1e6)[1] for note in notes) < _MOST_NOTES_MM * mm
    split = len(rows) - 1 if short and len(rows) > heads + 1 else len(rows)
    body = grid(rows[:split], widths, looks, page, repeat=heads, close=block.close) if rows else None
    last = grid(rows[split:], widths, looks[:2], page, close=block.close) if rows[split:] else None
    between = [Spacer(1, 1.5 * mm)] if notes else []
    tail = [*([last] if last else []), *between, *notes]
    return [
        *heading(block.title, page), *([body] if body else []), *([KeepTogether(tail)] if last else tail),
        Spacer(1, _AFTER_TABLE_MM * mm),
    ]


def _cells(texts: Sequence[str], sides: Sequence[Align], look: str, page: Page) -> list[list[Any]]:
    padded = [*texts, *([""] * (len(sides) - len(texts)))]
    return [[page.letter(text, look, side)] for text, side in zip(padded, sides, strict=True)]


def _caution(block: Caution, page: Page) -> list[Any]:
    # The word stands in the row of the first line, so that it never stays behind alone.
    if page.far:
        rows = [[[line]] for line in caution_lines(block, page)]
    else:
        first, *others = block.lines or ("",)
        rows = [
            [[page.letter(block.word, "caution"), page.letter(first, "body")]],
            *([[page.letter(line, "body")]] for line in others),
        ]
    room_mm = _FAR_CAUTION_MM if page.far else 1.2
    looks = [
        ("BOX", (0, 0), (-1, -1), THICK_PT, (0, 0, 0)),
        ("BOTTOMPADDING", (0, 0), (-1, -1), room_mm * mm),
        ("TOPPADDING", (0, 0), (-1, -1), room_mm * mm),
        ("LEFTPADDING", (0, 0), (-1, -1), 3.0 * mm),
        ("RIGHTPADDING", (0, 0), (-1, -1), 3.0 * mm),
    ]
    after_mm = _AFTER_FACTS_MM if page.far else _AFTER_TABLE_MM
    return [Spacer(1, 1 * mm), KeepTogether([grid(rows, [TEXT_WIDTH_MM], looks, page)]), Spacer(1, after_mm * mm)]


def _key_values(block: KeyValues, page: Page) -> list[Any]:
    rows = [
        [
            [page.letter(row.label, "cell strong" if row.large else "cell")],
            [page.letter(row.value, "figure" if row.large else "cell strong")],
            [page.letter(row.note, "cell small")],
        ]
        for row in block.rows
    ]
    if not rows:
        return heading(block.title, page)
    looks = [
        ("BOX", (0, 0), (-1, -1), THICK_PT / 2, (0, 0, 0)),
        ("LINEBELOW", (0, 0), (-1, -2), THIN_PT, (0.6, 0.6, 0.6)),
        ("BACKGROUND", (0, 0), (0, -1), TINT),
    ]
    body = grid(rows, [*block.widths_mm, TEXT_WIDTH_MM - sum(block.widths_mm)], looks, page, close=True)
    return [*heading(block.title, page), body, Spacer(1, _AFTER_TABLE_MM * mm)]


def _figure_scale(block: Figure, page: Page) -> float:
    wanted = 1.0 if block.width_mm is None else block.width_mm / block.ink.width_mm
    # A fifth of the page is left for title, heading and caption.
    return min(wanted, TEXT_WIDTH_MM / block.ink.width_mm, 0.8 * page.height_mm / block.ink.height_mm)


def _figure(block: Figure, page: Page) -> list[Any]:
    picture = Picture(block.ink, _figure_scale(block, page))
    after = Spacer(1, _AFTER_TABLE_MM * mm)
    if not block.caption:
        return [picture, after]
    return [KeepTogether([picture, Spacer(1, 1 * mm), page.letter(block.caption, "small")]), after]


def _beside(block: Beside, page: Page) -> list[Any]:
    """A picture and facts side by side; one below the other where the facts are as high as a page."""
    left_mm = block.figure.ink.width_mm * _figure_scale(block.figure, page)
    picture = Picture(block.figure.ink, _figure_scale(block.figure, page))
    right_mm = TEXT_WIDTH_MM - left_mm - _BETWEEN_MM
    facts = _facts(block.facts, page, right_mm)
    if right_mm < _LEAST_BESIDE_MM or stacked_mm(facts, right_mm) > page.height_mm - BELOW_HEAD_MM:
        return [*_figure(block.figure, page), *facts]
    looks = [("LEFTPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-1, -1), 0)]
    return [
        grid([[[picture], facts]], [left_mm + _BETWEEN_MM, right_mm], looks, page, close=True),
        Spacer(1, _AFTER_FACTS_MM * mm),
    ]


def _finding(block: FindingBlock, page: Page) -> list[Any]:
    stop = block.severity == "stop"
    mark = page.letter(_MARKS[block.severity], "mark on black" if stop else "mark", "centre")
    words = [page.letter(block.title, "cell strong"), page.letter(block.text, "cell")]
    words += [page.letter(f"\u2192 {change}", "cell") for change in block.changes]
    if block.source:
        words.append(page.letter(f"Source: {block.source}", "cell small"))
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
    return [grid([[[mark], words]], [20.0, TEXT_WIDTH_MM - 20.0], looks, page), Spacer(1, 2 * mm)]
