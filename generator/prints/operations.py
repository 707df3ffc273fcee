"""Operations of one set-up as rows to tick: what to do on the left, the figure to stop at large on the right."""

from __future__ import annotations

from typing import Any

from reportlab.lib.units import mm
from reportlab.platypus import Spacer, Table

from generator.prints.content import OperationRow, Operations
from generator.prints.grid import BELOW_HEAD_MM, Page, TickBox, grid, stacked_mm
from generator.prints.lettering import REGULAR
from generator.prints.look import TEXT_WIDTH_MM, THICK_PT, TINT

__all__ = ["operation_grid"]

_NUMBER_MM = 15.0
_WIDTH_MM = TEXT_WIDTH_MM - _NUMBER_MM
_PAD_MM = 1.6
_RIGHT_MM, _GAP_MM = 77.0, 4.0
_OVER_MM = 3.0
"""What the left side may stand lower than the right one, before its lines go below. Shop choice."""
_NONE = [("LEFTPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-1, -1), 0),
         ("TOPPADDING", (0, 0), (-1, -1), 0), ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
         ("FONT", (0, 0), (-1, -1), REGULAR), ("VALIGN", (0, 0), (-1, -1), "TOP")]  # fmt: skip


def operation_grid(block: Operations, page: Page) -> Any:
    """The rows under a heading that names the set-up again on every page they run on to."""
    inner = _WIDTH_MM - 2 * _PAD_MM
    head = _side_by_side(
        [page.letter(block.heading, "heading")], [page.letter("stop at", "heading")], inner - _RIGHT_MM
    )
    rows: list[list[Any]] = [[[page.letter("no.", "heading")], [head]]]
    rows += [_row(one, page, inner) for one in block.rows]
    tall = any(stacked_mm(row[1], inner) > page.height_mm - BELOW_HEAD_MM for row in rows)
    looks = [
        ("LINEBELOW", (0, 0), (-1, -1), THICK_PT / 2, (0, 0, 0)),
        ("LINEABOVE", (0, 0), (-1, 0), THICK_PT / 2, (0, 0, 0)),
        ("BACKGROUND", (0, 0), (-1, 0), TINT),
    ]
    return grid(rows, (_NUMBER_MM, _WIDTH_MM), looks, page, repeat=1, close=not tall)


def _row(one: OperationRow, page: Page, inner_mm: float) -> list[Any]:
    """What to do beside the figure to stop at; below them, over the whole width, where that is on the dials."""
    left = [page.letter(one.what, "cell strong"), *(page.letter(line, "cell") for line in one.settings)]
    right = []
    for reach in one.figures:
        words = ((reach.before, "cell"), (reach.figure, "figure"), (reach.after, "cell"))
        right += [page.letter(text, look) for text, look in words if text]
    parts = _filled(left, right, inner_mm - _RIGHT_MM) if right else list(left)
    parts += [page.letter(line, "cell") for line in one.stops]
    if one.caution:
        parts += [Spacer(1, 1.5 * mm), _framed(one.caution, page, inner_mm)]
    if stacked_mm(parts, inner_mm) > page.height_mm - BELOW_HEAD_MM:
        # Tables within a row do not break; plain lines do.
        lines = [page.letter(line, "cell") for line in (*one.stops, one.caution)]
        parts = [*left, *right, *lines]
    return [[TickBox(), Spacer(1, 1.2 * mm), page.letter(one.number, "cell strong")], parts]


def _filled(left: list[Any], right: list[Any], left_mm: float) -> list[Any]:
    """As much of the left side beside the right one as stands there, the rest below over the whole width."""
    height = stacked_mm(right, _RIGHT_MM - _GAP_MM)
    count = 1
    while count < len(left) and stacked_mm(left[: count + 1], left_mm) <= height + _OVER_MM:
        count += 1
    return [_side_by_side(left[:count], right, left_mm), *left[count:]]


def _side_by_side(left: list[Any], right: list[Any], left_mm: float) -> Any:
    looks = [*_NONE, ("LEFTPADDING", (1, 0), (1, 0), _GAP_MM * mm)]
    return Table([[left, right]], colWidths=[left_mm * mm, _RIGHT_MM * mm], style=looks, hAlign="LEFT")


def _framed(caution: str, page: Page, width_mm: float) -> Any:
    """A caution in a heavy frame, inside the row that it belongs to."""
    looks = [
        ("FONT", (0, 0), (-1, -1), REGULAR),
        ("BOX", (0, 0), (-1, -1), THICK_PT, (0, 0, 0)),
        ("TOPPADDING", (0, 0), (-1, -1), 1.0 * mm),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1.4 * mm),
        ("LEFTPADDING", (0, 0), (-1, -1), 2.0 * mm),
        ("RIGHTPADDING", (0, 0), (-1, -1), 2.0 * mm),
    ]
    return Table([[[page.letter(caution, "cell")]]], colWidths=[width_mm * mm], style=looks, hAlign="LEFT")
