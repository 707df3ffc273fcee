"""Which page an arrangement goes on, at which scale, and where lists, notes and view stand on it. Pure arithmetic."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from generator.drawing.arrangement_tables import GAP_WIDTH_MM, LIST_WIDTH_MM, Table
from generator.drawing.boxes import Box
from generator.drawing.free_place import nearest_free
from generator.drawing.sheet import BLOCK_WIDTH_MM, CHECK_STRIP_MM, PAGES, Page, Rect, notes_height_mm
from generator.drawing.style import SMALL_TEXT_MM

__all__ = [
    "CAPTION_MM", "LEADS", "Extent", "Lead", "PageLayout", "PictureAt", "ViewSize", "lay_out_page", "list_width_mm",
]

_CHECK_COLUMN_MM = 10.0
_CLEAR_MM = 4.0
_MARK_MM = 6.0
_PICTURE_SCALES = (1.0, 0.5, 0.2, 0.1)
_AROUND_MM = 6.0

CAPTION_MM = 8.0
"""Room for the words under a picture."""

_CAPTION_WIDE_MM = 60.0
_LEAST_PICTURE_MM = 45.0

Extent = tuple[float, float]


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
class PictureAt:
    """Where the pictorial view stands with its caption under it, and at which scale."""

    place: Rect
    scale: float


@dataclass(frozen=True, slots=True)
class PageLayout:
    """Where things stand: lower left corners of the tables, upper left corner of the notes, the room for the view.

    `detail` and `picture` are None where the page has no room for them.
    """

    list_at: tuple[float, float]
    gaps_at: tuple[float, float] | None
    notes_at: tuple[float, float]
    note_lines: tuple[str, ...]
    view: Rect
    detail: Rect | None = None
    picture: PictureAt | None = None


def list_width_mm(page: Page) -> float:
    """Width of the parts list: that of the block, less the column of the upright check line on an upright page."""
    return LIST_WIDTH_MM - (_CHECK_COLUMN_MM if page.is_upright else 0.0)


def lay_out_page(
    page: Page,
    parts: Table,
    gaps: Table | None,
    notes: Callable[[float], Sequence[str]],
    view: ViewSize,
    *,
    detail: Extent | None = None,
    picture: Extent | None = None,
    most_scale: float = 1.0,
) -> PageLayout | None:
    """Everything set out on the page, or None where the view finds no room; `notes` breaks them to a width.

    A detail and a picture go where there is room, the picture as large as `most_scale` at most, its size that of 1:1.
    """
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
    rooms = [_in_room(free, view) for free in _rooms(page, right_top, left_top) if _takes(free, view)]
    if not rooms:
        return None
    taken = [
        _box(list_at, parts),
        *([_box(gaps_at, gaps)] if gaps_at is not None and gaps is not None else []),
        Box(left, notes_at[1] - height, left + notes_width, notes_at[1]),
        Box(block.left, frame.bottom, right, block.top + CHECK_STRIP_MM),
    ]
    plain = PageLayout(list_at, gaps_at, notes_at, lines, rooms[0][0])
    best = plain
    for place in rooms[0]:
        found = _with_extras(replace(plain, view=place), page, taken, detail, picture, most_scale)
        if _rank(found) > _rank(best):
            best = found
    return best


def _box(at: tuple[float, float], table: Table) -> Box:
    return Box(at[0], at[1], at[0] + table.width_mm, at[1] + table.height_mm)


def _rank(layout: PageLayout) -> tuple[bool, float]:
    """The more a page shows, the better; the detail comes first."""
    return layout.detail is not None, layout.picture.scale if layout.picture is not None else 0.0


def _with_extras(
    layout: PageLayout,
    page: Page,
    taken: Sequence[Box],
    detail: Extent | None,
    picture: Extent | None,
    most_scale: float,
) -> PageLayout:
    """The layout with detail and picture on free paper, each as near to the view as may be."""
    frame = page.frame
    area = Rect(frame.left + _CHECK_COLUMN_MM, frame.bottom + _CLEAR_MM, frame.right - _MARK_MM, frame.top - _MARK_MM)
    view = layout.view
    blocked = [box.grown(_CLEAR_MM) for box in taken]
    blocked.append(Box(view.left, view.bottom, view.right, view.top).grown(_AROUND_MM))
    if detail is not None:
        place = _free(detail, area, view, blocked)
        if place is not None:
            layout = replace(layout, detail=place)
            blocked.append(Box(place.left, place.bottom, place.right, place.top).grown(_AROUND_MM))
    for scale in _PICTURE_SCALES if picture is not None else ():
        if picture is None or scale > most_scale or max(picture) * scale < _LEAST_PICTURE_MM:
            continue
        extent = (max(picture[0] * scale, _CAPTION_WIDE_MM), picture[1] * scale + CAPTION_MM)
        place = _free(extent, area, view, blocked)
        if place is not None:
            return replace(layout, picture=PictureAt(place, scale))
    return layout


def _free(size: Extent, area: Rect, view: Rect, blocked: Sequence[Box]) -> Rect | None:
    """Free paper of a size, level with the view where there is any."""
    wanted = (view.right + _AROUND_MM, view.centre[1] - size[1] / 2)
    corner = nearest_free(size, area, wanted, blocked, (1.0, 1.0))
    if corner is None:
        return None
    return Rect(corner[0], corner[1], corner[0] + size[0], corner[1] + size[1])


def _takes(rect: Rect, view: ViewSize) -> bool:
    return view.width_mm <= rect.width and view.height_mm <= rect.height


def _rooms(page: Page, right_top: float, left_top: float) -> list[Rect]:
    """Stretches of free paper for the view, the preferred one first."""
    frame = page.frame
    left, top = frame.left + _CHECK_COLUMN_MM, frame.top - _MARK_MM
    column = frame.right - BLOCK_WIDTH_MM
    free = [Rect(left, max(right_top, left_top) + _CLEAR_MM, frame.right - _MARK_MM, top)]
    if not page.is_upright:
        free.append(Rect(left, left_top + _CLEAR_MM, column - _CLEAR_MM, top))
        free.append(Rect(column, right_top + _CLEAR_MM, frame.right - _MARK_MM, top))
    return free


def _in_room(rect: Rect, view: ViewSize) -> list[Rect]:
    """Places for the view in a stretch of paper: in the middle, and nearer to the upper corners."""
    half, up = view.width_mm / 2, view.height_mm / 2
    level, high = rect.centre[1], rect.top - up
    left, right = rect.left + half + _CLEAR_MM, rect.right - half
    middles = [rect.centre, (left, level), (left, high), (right, high)] if right > left else [rect.centre]
    return [Rect(x - half, y - up, x + half, y + up) for x, y in middles]
