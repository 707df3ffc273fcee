"""Which page an arrangement goes on, at which scale, and where lists, notes and view stand on it. Pure arithmetic."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from generator.drawing.arrangement_tables import GAP_WIDTH_MM, LIST_WIDTH_MM, Table
from generator.drawing.sheet import BLOCK_WIDTH_MM, CHECK_STRIP_MM, PAGES, Page, Rect, notes_height_mm
from generator.drawing.style import SMALL_TEXT_MM

__all__ = ["LEADS", "Lead", "PageLayout", "ViewSize", "lay_out_page", "list_width_mm"]

_CHECK_COLUMN_MM = 10.0
_CLEAR_MM = 4.0
_MARK_MM = 6.0


@dataclass(frozen=True, slots=True)
class Lead:
    """A page and a scale to try, and the lettering of item numbers on it: height of a figure, radius of its circle."""

    page: Page
    scale: float
    number_mm: float
    circle_mm: float


def _leads() -> Iterator[Lead]:
    """Pages and scales in the order in which they are wanted: full size first, the smaller page first.

    Item numbers are twice as high as sizes (ISO 6433 practice, at second hand); on A4 they may shrink (shop choice).
    """
    upright, lying, large = PAGES
    yield Lead(upright, 1.0, 5.0, 5.0)
    yield Lead(lying, 1.0, 5.0, 5.0)
    yield Lead(large, 1.0, 7.0, 7.0)
    yield Lead(large, 1.0, 5.0, 5.0)
    # Only where full size leaves no clear leaders: a very small tool of many parts.
    yield Lead(large, 2.0, 5.0, 5.0)
    for scale in (0.5, 0.2, 0.1):
        yield Lead(large, scale, 7.0, 7.0)
        yield Lead(large, scale, 5.0, 5.0)


LEADS = tuple(_leads())


@dataclass(frozen=True, slots=True)
class ViewSize:
    """Room that the view needs on paper."""

    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class PageLayout:
    """Where things stand: lower left corners of the tables, upper left corner of the notes, the room for the view."""

    list_at: tuple[float, float]
    gaps_at: tuple[float, float] | None
    notes_at: tuple[float, float]
    note_lines: tuple[str, ...]
    view: Rect


def list_width_mm(page: Page) -> float:
    """Width of the parts list: that of the block, less the column of the upright check line on an upright page."""
    return LIST_WIDTH_MM - (_CHECK_COLUMN_MM if page.is_upright else 0.0)


def lay_out_page(
    page: Page,
    parts: Table,
    gaps: Table | None,
    notes: Callable[[float], Sequence[str]],
    view: ViewSize,
) -> PageLayout | None:
    """Everything set out on the page, or None where the view finds no room; `notes` breaks them to a width."""
    frame, block = page.frame, page.block
    right = frame.right
    y = block.top + CHECK_STRIP_MM
    list_at = (right - parts.width_mm, y)
    right_top = y + parts.height_mm
    left, left_right = frame.left + _CHECK_COLUMN_MM, block.left - _CLEAR_MM
    left_top = frame.bottom + _CLEAR_MM - 2.0
    in_left = not page.is_upright and left_right - left >= GAP_WIDTH_MM
    gaps_at = None
    if gaps is not None:
        if in_left:
            gaps_at = (left, left_top)
            left_top += gaps.height_mm + _CLEAR_MM
        else:
            gaps_at = (right - gaps.width_mm, right_top + _CLEAR_MM)
            right_top = gaps_at[1] + gaps.height_mm
    notes_width = (right - left if page.is_upright else left_right - left) - 4.0
    lines = tuple(notes(notes_width))
    height = notes_height_mm(lines, SMALL_TEXT_MM)
    if page.is_upright:
        notes_at = (left, right_top + _CLEAR_MM + height)
        right_top = notes_at[1] if lines else right_top
    else:
        notes_at = (left, left_top + height)
        left_top = notes_at[1] if lines else left_top
    room = _room(page, right_top, left_top, view)
    return PageLayout(list_at, gaps_at, notes_at, lines, room) if room is not None else None


def _room(page: Page, right_top: float, left_top: float, view: ViewSize) -> Rect | None:
    """The first stretch of free paper that the view fits into, the view in the middle of it."""
    frame = page.frame
    left, top = frame.left + _CHECK_COLUMN_MM, frame.top - _MARK_MM
    column = frame.right - BLOCK_WIDTH_MM
    free = [Rect(left, max(right_top, left_top) + _CLEAR_MM, frame.right - _MARK_MM, top)]
    if not page.is_upright:
        free.append(Rect(left, left_top + _CLEAR_MM, column - _CLEAR_MM, top))
        free.append(Rect(column, right_top + _CLEAR_MM, frame.right - _MARK_MM, top))
    for rect in free:
        if view.width_mm <= rect.width and view.height_mm <= rect.height:
            x, y = rect.centre
            half, up = view.width_mm / 2, view.height_mm / 2
            return Rect(x - half, y - up, x + half, y + up)
    return None
