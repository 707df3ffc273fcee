"""Where view, details and notes stand on a page: the view near the middle of the free paper, details beside it.

Everything is mm on paper. Notes stand beside or above the title block, whichever leaves the view its room.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from generator.drawing.boxes import Box, overlaps, union
from generator.drawing.compose import Composition
from generator.drawing.free_place import nearest_free
from generator.drawing.general_marks import Group
from generator.drawing.sheet import CHECK_STRIP_MM, Page, Rect, note_lines, notes_height_mm

__all__ = ["Fit", "fit_on", "rooms_on"]

Point = tuple[float, float]

_UPRIGHT_CHECK_MM = 10.0
_RIM_MM = 3.0
_INNER_RIM_MM = 2.0
_APART_MM = 3.0
_MARK_MM = 4.0
_GROUPS_APART_MM = 2.0
_NEAR_BLOCK_MM = 75.0
"""General symbols no further off than this stand by the title block. Shop choice."""


@dataclass(frozen=True, slots=True)
class Fit:
    """A page on which a composition fits.

    `origin` is where the view's axis meets its z = 0, `details` the lower left corner of each detail's box, `groups`
    that of each group of general symbols.
    """

    page: Page
    origin: Point
    details: tuple[Point, ...]
    groups: tuple[Point, ...]
    notes: Rect
    lines: tuple[str, ...]


def fit_on(found: Composition, page: Page, notes: Sequence[str], groups: Sequence[Group] = ()) -> Fit | None:
    """Where view, details, general symbols and notes stand on the page, or None."""
    for room, notes_at, lines in _rooms(page, notes):
        if notes_at.top > page.frame.top:
            continue
        best: tuple[float, Fit] | None = None
        for placed in _placed(found, page, room.shrunk(_INNER_RIM_MM), groups):
            corners = _beside_block(found, page, room, placed, groups)
            if corners is None:
                continue
            away = max((math.dist(c, _by_block(page, g)) for c, g in zip(corners, groups, strict=True)), default=0.0)
            if best is None or away < best[0]:
                best = away, Fit(page, placed[0], placed[1], corners, notes_at, tuple(lines))
            if away <= _NEAR_BLOCK_MM:
                break
        if best is not None:
            return best[1]
    return None


def _placed(
    found: Composition, page: Page, inner: Rect, groups: Sequence[Group]
) -> Iterator[tuple[Point, tuple[Point, ...]]]:
    """Places of view and details: in the middle of the room, beside its marks, above the general symbols."""
    lifted = max((group.height for group in groups), default=0.0) + 2 * _GROUPS_APART_MM
    for lift in (0.0, lifted):
        for right, top in ((0.0, 0.0), (_MARK_MM, 0.0), (0.0, _MARK_MM), (_MARK_MM, _MARK_MM)):
            placed = _arranged(found, Rect(inner.left, inner.bottom + lift, inner.right - right, inner.top - top))
            if placed is None:
                break
            if _clears_marks(found, page, *placed):
                yield placed
                break


def _by_block(page: Page, group: Group) -> Point:
    """Where a group stands best: on the right over the title block."""
    return (page.block.right - group.width, page.block.top + CHECK_STRIP_MM)


def rooms_on(page: Page) -> list[tuple[float, float]]:
    """Width and height of the rooms that a page has for its views, were there no notes."""
    return [(room.width - 2 * _INNER_RIM_MM, room.height - 2 * _INNER_RIM_MM) for room, _, _ in _rooms(page, ())]


def _beside_block(
    found: Composition, page: Page, room: Rect, placed: tuple[Point, tuple[Point, ...]], groups: Sequence[Group]
) -> tuple[Point, ...] | None:
    """Corners of the groups of general symbols: the free places nearest to the title block."""
    blocked = [box.moved(*placed[0]).grown(_GROUPS_APART_MM) for box in _taken(found)]
    blocked += [box.grown(_GROUPS_APART_MM) for box in (*_detail_boxes(found, placed[1]), *_marks(page))]
    inner = room.shrunk(_INNER_RIM_MM)
    corners: list[Point] = []
    for group in groups:
        mark = _by_block(page, group)
        area = Rect(inner.left, room.bottom, inner.right, inner.top)
        corner = nearest_free((group.width, group.height), area, mark, blocked, (0.3, 1.0))
        if corner is None:
            return None
        corners.append(corner)
        place = Box(corner[0], corner[1], corner[0] + group.width, corner[1] + group.height)
        blocked.append(place.grown(_GROUPS_APART_MM))
    return tuple(corners)


def _detail_boxes(found: Composition, corners: Sequence[Point]) -> list[Box]:
    """The details' boxes on the page."""
    return [
        Box(x, y, x + d.box.right - d.box.left, y + d.box.top - d.box.bottom)
        for (x, y), d in zip(corners, found.details, strict=True)
    ]


def _clears_marks(found: Composition, page: Page, at: Point, corners: Sequence[Point]) -> bool:
    """True where nothing stands on the centring marks, which reach 5 mm into the frame."""
    boxes = [box.moved(*at) for box in _taken(found)]
    boxes += _detail_boxes(found, corners)
    return not any(overlaps(box, mark) for box in boxes for mark in _marks(page))


def _marks(page: Page) -> list[Box]:
    """Room of the centring marks inside the frame."""
    across, up, frame = page.width_mm / 2, page.height_mm / 2, page.frame
    return [
        Box(across - 1, frame.top - 6, across + 1, frame.top), Box(frame.left, up - 1, frame.left + 6, up + 1),
        Box(frame.right - 6, up - 1, frame.right, up + 1),
    ]  # fmt: skip


def _rooms(page: Page, notes: Sequence[str]) -> Iterator[tuple[Rect, Rect, list[str]]]:
    """Ways to share the page between view and notes: room of the view, place of the notes, their lines."""
    frame, block = page.frame, page.block
    if page.is_upright:
        lines = note_lines(notes, frame.width - _UPRIGHT_CHECK_MM - 2 * _RIM_MM)
        floor = block.top + CHECK_STRIP_MM
        height = notes_height_mm(lines)
        notes_at = Rect(frame.left + _UPRIGHT_CHECK_MM, floor, frame.right - _RIM_MM, floor + height)
        yield Rect(frame.left + _UPRIGHT_CHECK_MM, floor + height, frame.right, frame.top), notes_at, lines
        return
    column = block.left - frame.left - _UPRIGHT_CHECK_MM - 2 * _RIM_MM
    lines = note_lines(notes, column)
    top = frame.bottom + notes_height_mm(lines) + _RIM_MM
    notes_at = Rect(frame.left + _UPRIGHT_CHECK_MM + _RIM_MM, frame.bottom, block.left - _RIM_MM, top)
    floor = max(block.top + CHECK_STRIP_MM, top)
    yield Rect(frame.left + _UPRIGHT_CHECK_MM, floor, frame.right, frame.top), notes_at, lines
    lines = note_lines(notes, block.width - 2 * _RIM_MM)
    floor = block.top + CHECK_STRIP_MM
    notes_at = Rect(block.left + _RIM_MM, floor, frame.right, floor + notes_height_mm(lines))
    yield Rect(frame.left + _UPRIGHT_CHECK_MM, frame.bottom, block.left, frame.top), notes_at, lines


def _arranged(found: Composition, inner: Rect) -> tuple[Point, tuple[Point, ...]] | None:
    """Origin of the view and corners of the details inside a rectangle, or None."""
    box = found.box
    spare = (inner.width - (box.right - box.left), inner.height - (box.top - box.bottom))
    if min(spare) < 0.0:
        return None
    if not found.details:
        return _origin(inner, box, spare, (0.5, 0.5)), ()
    taken = list(_taken(found))
    for whole in (True, False):
        best: tuple[float, Point, tuple[Point, ...]] | None = None
        for across, up in product((0.5, 0.0, 1.0), repeat=2):
            at = _origin(inner, box, spare, (across, up))
            obstacles = [box.moved(*at)] if whole else [b.moved(*at) for b in taken]
            corners = _corners(found, inner, at, obstacles)
            if corners is None:
                continue
            cost = sum(math.dist(c, _mark(found, i, at)) for i, c in enumerate(corners))
            if best is None or cost < best[0]:
                best = cost, at, corners
        if best is not None:
            return _centred(found, inner, best[1], best[2])
    return None


def _origin(inner: Rect, box: Box, spare: Point, share: Point) -> Point:
    return (inner.left - box.left + share[0] * spare[0], inner.bottom - box.bottom + share[1] * spare[1])


def _mark(found: Composition, index: int, at: Point) -> Point:
    """Where the circle of a detail stands on the page."""
    z, r = found.details[index].window.middle
    return (at[0] + z * found.scale, at[1] + r * found.scale)


def _corners(found: Composition, inner: Rect, at: Point, obstacles: Sequence[Box]) -> tuple[Point, ...] | None:
    """The free place of each detail nearest to its circle."""
    blocked = [b.grown(_APART_MM) for b in obstacles]
    corners: list[Point] = []
    for index, detail in enumerate(found.details):
        width, height = detail.box.right - detail.box.left, detail.box.top - detail.box.bottom
        mark = _mark(found, index, at)
        corner = nearest_free((width, height), inner, (mark[0] - width / 2, mark[1] - height / 2), blocked, (1.0, 1.0))
        if corner is None:
            return None
        corners.append(corner)
        blocked.append(Box(corner[0], corner[1], corner[0] + width, corner[1] + height).grown(_APART_MM))
    return tuple(corners)


def _centred(found: Composition, inner: Rect, at: Point, corners: tuple[Point, ...]) -> tuple[Point, tuple[Point, ...]]:
    """The whole group moved to the middle of the rectangle."""
    whole = union((found.box.moved(*at), *_detail_boxes(found, corners)))
    dx = inner.centre[0] - (whole.left + whole.right) / 2
    dy = inner.centre[1] - (whole.bottom + whole.top) / 2
    return (at[0] + dx, at[1] + dy), tuple((x + dx, y + dy) for x, y in corners)


def _taken(found: Composition) -> Iterator[Box]:
    """Boxes round everything that the view draws and writes, its origin at zero."""
    for half in (found.view.upper, found.view.lower):
        for s in half.outer:
            reach = half.sign * max(s.r0, s.r1) * found.scale
            yield Box(s.z0 * found.scale, min(0.0, reach), s.z1 * found.scale, max(0.0, reach))
    if found.end_view is not None:
        yield found.end_view.box.moved(found.end_view.x * found.scale, 0.0)
    for line in found.dimensions:
        yield line.reach()
        for along, root in ((line.placed.item.low, line.root_low), (line.placed.item.high, line.root_high)):
            low, high = sorted((root, line.at))
            yield Box(low, along - 0.3, high, along + 0.3) if line.upright else Box(along - 0.3, low, along + 0.3, high)
    for callout in found.callouts:
        yield callout.box
        for leader in callout.lines():
            (x0, y0), (x1, y1) = leader.start, leader.end
            yield Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
