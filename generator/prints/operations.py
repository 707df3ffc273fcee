"""Operations of one set-up as rows to tick: what to do on the left, the figure to stop at large on the right."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reportlab.lib.units import mm
from reportlab.platypus import Spacer, Table

from generator.prints.content import Caution, Field, HoldingRow, OperationRow, Operations
from generator.prints.grid import BELOW_HEAD_MM, Page, TickBox, grid, stacked_mm
from generator.prints.lettering import REGULAR
from generator.prints.look import TEXT_WIDTH_MM, THICK_PT, TINT

__all__ = ["caution_lines", "operation_grid"]

_NUMBER_MM = 18.0
_WIDTH_MM = TEXT_WIDTH_MM - _NUMBER_MM
_PAD_MM = 1.6
_RIGHT_MM, _GAP_MM = 82.0, 3.0
_OVER_MM = 3.0
"""What the left side may stand lower than the right one, before its lines go below. Shop choice."""
_NONE = [("LEFTPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-1, -1), 0),
         ("TOPPADDING", (0, 0), (-1, -1), 0), ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
         ("FONT", (0, 0), (-1, -1), REGULAR), ("VALIGN", (0, 0), (-1, -1), "TOP")]  # fmt: skip


def operation_grid(block: Operations, page: Page) -> Any:
    """The rows under a heading that names the set-up again on every page they run on to."""
    inner = _WIDTH_MM - 2 * _PAD_MM
    head = _side_by_side(
        [page.letter(block.heading, "heading")], [page.letter("stop at", "heading", "right")], inner - _RIGHT_MM,
        _RIGHT_MM,
    )
    rows: list[list[Any]] = [[[page.letter("no.", "heading")], [head]]]
    below = _rows(block, page, inner, flat=False)
    tall = any(stacked_mm(row[1], inner) > page.height_mm - BELOW_HEAD_MM for row in below)
    # Where one row must break, the library breaks others as well: tables within a row do not, plain lines do.
    rows += _rows(block, page, inner, flat=True) if tall else below
    looks = [
        ("LINEBELOW", (0, 0), (-1, -1), THICK_PT / 2, (0, 0, 0)),
        ("LINEABOVE", (0, 0), (-1, 0), THICK_PT / 2, (0, 0, 0)),
        ("BACKGROUND", (0, 0), (-1, 0), TINT),
    ]
    for index, one in enumerate(block.rows, start=1):
        if isinstance(one, HoldingRow):
            looks.append(("BACKGROUND", (0, index), (-1, index), TINT))
            # A clamping stays with its operations, but the library never ends where they do not fit on a page.
            last = _last_of(block.rows, index)
            if not tall and _height_mm(rows[index : last + 1], inner) < page.height_mm - BELOW_HEAD_MM:
                looks.append(("NOSPLIT", (0, index), (0, last)))
    return grid(rows, (_NUMBER_MM, _WIDTH_MM), looks, page, repeat=1, close=not tall)


def _rows(block: Operations, page: Page, inner_mm: float, *, flat: bool) -> list[list[Any]]:
    return [
        _held(one, page, inner_mm, flat=flat) if isinstance(one, HoldingRow) else _row(one, page, inner_mm, flat=flat)
        for one in block.rows
    ]


def _last_of(rows: Sequence[OperationRow | HoldingRow], index: int) -> int:
    """The last row, counted from 1, of the clamping that begins with the row of this index."""
    after = (at for at, row in enumerate(rows[index:], start=index) if isinstance(row, HoldingRow))
    return next(after, len(rows))


def _height_mm(rows: list[list[Any]], inner_mm: float) -> float:
    return sum(stacked_mm(row[1], inner_mm) + 2 * _PAD_MM for row in rows)


def _row(one: OperationRow, page: Page, inner_mm: float, *, flat: bool) -> list[Any]:
    """What to do beside the figure to stop at; below them, over the whole width, the fields that find no room there."""
    left = [page.letter(one.what, "cell strong")]
    right = [page.figured(reach) for reach in one.figures]
    right_mm = min(_RIGHT_MM, max(map(page.figured_mm, one.figures), default=0.0) + _GAP_MM + 1.0)
    beside = _beside(one, left, right, page, (inner_mm - right_mm, right_mm)) if right else 0
    left += [page.labelled([field]) for field in one.settings[:beside]]
    parts = [_side_by_side(left, right, inner_mm - right_mm, right_mm)] if right else list(left)
    rest = (*one.settings[beside:], *one.stops)
    below = [page.labelled(rest)] if rest else []
    parts += below
    if one.caution:
        parts += [Spacer(1, 1.0 * mm), _framed([page.letter(one.caution, "cell")], inner_mm)]
    if flat:
        parts = [*left, *right, *below, page.letter(one.caution, "cell")]
    return [[TickBox(), Spacer(1, 1.0 * mm), page.letter(one.number, "cell strong")], parts]


def _beside(
    one: OperationRow, left: list[Any], right: list[Any], page: Page, widths_mm: tuple[float, float]
) -> int:
    """How many fields, a line each, find room below the words on the left."""
    room = stacked_mm(right, widths_mm[1] - _GAP_MM) + _OVER_MM - stacked_mm(left, widths_mm[0])
    count = 0
    for field in one.settings:
        room -= stacked_mm([page.labelled([field])], widths_mm[0])
        if room < 0.0:
            break
        count += 1
    return count


def _held(one: HoldingRow, page: Page, inner_mm: float, *, flat: bool) -> list[Any]:
    """How the work is held for the rows that follow."""
    parts = [page.letter(one.title, "strong" if not page.far else "cell strong")]
    parts += [page.labelled([field]) for field in one.fields]
    for caution in one.cautions:
        lines = caution_lines(caution, page)
        parts += lines if flat else [Spacer(1, 1.0 * mm), _framed(lines, inner_mm)]
    return [[page.letter(one.number, "cell strong")], parts]


def caution_lines(caution: Caution, page: Page) -> list[Any]:
    """The lines of a caution, its word in front of the first."""
    first, *others = caution.lines or ("",)
    return [page.labelled([Field(caution.word, first)], "body"), *(page.letter(line, "body") for line in others)]


def _side_by_side(left: list[Any], right: list[Any], left_mm: float, right_mm: float) -> Any:
    looks = [*_NONE, ("LEFTPADDING", (1, 0), (1, 0), _GAP_MM * mm)]
    return Table([[left, right]], colWidths=[left_mm * mm, right_mm * mm], style=looks, hAlign="LEFT")


def _framed(lines: list[Any], width_mm: float) -> Any:
    """Lines in a heavy frame, inside the row that they belong to."""
    looks = [
        ("FONT", (0, 0), (-1, -1), REGULAR),
        ("BOX", (0, 0), (-1, -1), THICK_PT, (0, 0, 0)),
        ("TOPPADDING", (0, 0), (-1, -1), 0.6 * mm),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1.2 * mm),
        ("LEFTPADDING", (0, 0), (-1, -1), 2.0 * mm),
        ("RIGHTPADDING", (0, 0), (-1, -1), 2.0 * mm),
    ]
    return Table([[lines]], colWidths=[width_mm * mm], style=looks, hAlign="LEFT")
