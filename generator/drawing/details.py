"""Enlarged details: short steps, grooves and reliefs whose sizes are illegible in the main view, sized here alone.

A detail is drawn from the same halves as the view, cut off to a window, on a spot of model space of its own, and shown
through a viewport at its own scale. Lanes and leaders are mm on paper round the middle of the window. Sources: circle
and letter from the end of the alphabet, scale over the detail, ISO 128-3, at second hand in books on technical drawing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product

from generator.drawing.boxes import Box, Line, crosses, hits, overlaps, union
from generator.drawing.callouts import PlacedCallout, size_of
from generator.drawing.font import text_width_mm
from generator.drawing.heads import head_at
from generator.drawing.labels import words_label
from generator.drawing.lane_lines import DimensionLine, diameter_callout, lane_item
from generator.drawing.lanes import Side, lay_out
from generator.drawing.meridian import Half, cut_polygons
from generator.drawing.style import CLEAR_MM, LARGE_TEXT_MM
from generator.drawing.views import View
from generator.drawing.wanted import Callout, Diameter, LengthLine, Requests

__all__ = ["Detail", "Window", "details_of"]

Point = tuple[float, float]

LETTERS = "ZYXWVU"
_SHORT_ON_PAPER_MM = 3.2
_LEGIBLE_MM = 1.9
_ENLARGED = (2.0, 5.0, 10.0, 20.0)
_LEAST_SHOWN_MM = 5.0
_ROOM_MM = 1.4
_LEAST_SLANT_MM = 4.0
_MOST_MM = 9.0
_FIRST_LANE_MM = 5.0
_COLUMN_MM = 7.0
_ROW_MM = 3.0
_SPOTS_APART_MM = 400.0
_STEEP_LEANS = (0.8, 0.4, 0.1, -0.3)
_TIP_SHIFTS_MM = (0.8, -0.8)
_RISES_MM = (0.0, 5.0, -5.0, 9.0, -9.0, 13.0, -13.0)


@dataclass(frozen=True, slots=True)
class Window:
    """What a detail shows of the upper half: from (z0, r0) to (z1, r1) in mm of the part."""

    z0: float
    r0: float
    z1: float
    r1: float

    @property
    def middle(self) -> Point:
        """Middle of the window."""
        return ((self.z0 + self.z1) / 2, (self.r0 + self.r1) / 2)

    @property
    def reach(self) -> float:
        """Radius of the circle that marks the window in the main view."""
        return math.dist((self.z0, self.r0), (self.z1, self.r1)) / 2

    def holds(self, point: Point, rim: float = 0.0) -> bool:
        """True for a point inside the window, `rim` away from its edge."""
        z, r = point
        return self.z0 + rim <= z <= self.z1 - rim and self.r0 + rim <= r <= self.r1 - rim


@dataclass(frozen=True, slots=True)
class Detail:
    """One enlarged detail: what it says, where each line stands on paper, and the spot of model space it is drawn on.

    `shift` moves the part's own (z, r) to that spot, in mm of the part. Boxes and places are mm on paper there.
    """

    letter: str
    scale: float
    window: Window
    shift: Point
    dimensions: tuple[DimensionLine, ...]
    callouts: tuple[PlacedCallout, ...]
    box: Box
    title: Point
    lines: tuple[tuple[Point, Point, str], ...]
    cut: tuple[tuple[Point, ...], ...]

    def mark(self) -> Callout:
        """The letter by its circle in the main view."""
        (z, r), reach = self.window.middle, self.window.reach
        leans = (70.0, 110.0, 45.0, 135.0, 90.0)
        tips = tuple(
            (z + reach * math.cos(math.radians(a)), r + reach * math.sin(math.radians(a))) for a in leans
        )
        return Callout(f"detail/{self.letter}", "letter", words_label(self.letter), tips, is_inside=True, side=1)


def details_of(
    view: View, wanted: Requests, scale: float, *, needed_only: bool = False
) -> tuple[list[Detail], Requests]:
    """The details that a view at this scale asks for, and what is left for the view itself to say, letters included.

    `needed_only` leaves out those whose sizes can just be read in the view.
    """
    found: list[Detail] = []
    left = wanted
    for window in _windows(view, wanted, scale):
        lengths = [n for n in left.lengths if _is_short(n, scale) and _is_within(n, window)]
        diameters = [d for d in left.diameters if _is_shown(d, window)]
        callouts = [c for c in left.callouts if _may_move(c) and window.holds(c.tips[0], 0.2)]
        if not lengths or (needed_only and all(abs(n.end - n.start) * scale > _LEGIBLE_MM for n in lengths)):
            continue
        detail = _lay_out(view, window, len(found), lengths, [*callouts, *map(diameter_callout, diameters)], scale)
        if detail is None or len(found) + 1 >= len(LETTERS):
            continue
        found.append(detail)
        left = Requests(
            tuple(n for n in left.lengths if n not in lengths),
            tuple(d for d in left.diameters if d not in diameters),
            tuple(c for c in left.callouts if c not in callouts),
            left.notes,
            left.manner,
        )
    return found, replace(left, callouts=(*left.callouts, *(d.mark() for d in found)))


def _is_short(length: LengthLine, scale: float) -> bool:
    return not length.is_auxiliary and abs(length.end - length.start) * scale < _SHORT_ON_PAPER_MM


def _is_within(length: LengthLine, window: Window) -> bool:
    low, high = sorted((length.start, length.end))
    return window.z0 < low and high < window.z1


def _is_shown(diameter: Diameter, window: Window) -> bool:
    return window.z0 < diameter.near and diameter.far < window.z1 and window.r0 < diameter.radius < window.r1


def _may_move(callout: Callout) -> bool:
    """Sizes and words whose tips lie on the spot; symbols stay with the view."""
    return callout.kind in ("size", "words") and callout.tips[0][1] > 0 and len(callout.tips) <= 5


def _windows(view: View, wanted: Requests, scale: float) -> Iterator[Window]:
    """A window round every short groove or relief, those that lie close to each other in one."""
    spots: list[tuple[float, float, float, float]] = []
    z_of = view.shape.z_of
    for surface in view.part.surfaces:
        near, far = z_of[surface.near], z_of[surface.far]
        is_spot = surface.role == "relief" or surface.side.endswith("groove")
        if not is_spot or not 0.0 < (far - near) * scale < _SHORT_ON_PAPER_MM or surface.at:
            continue
        radius = surface.diameter.nominal_mm / 2
        spots.append((near, far, radius, -1.0 if surface.side.startswith("inside") else 1.0))
    done: list[Window] = []
    for near, far, radius, air in sorted(spots):
        ends = [z for n in wanted.lengths if _is_short(n, scale) for z in (n.start, n.end)]
        low = min([near, *(z for z in ends if near - _MOST_MM / 2 < z < near)])
        high = max([far, *(z for z in ends if far < z < far + _MOST_MM / 2)])
        reach = max(_LEAST_SHOWN_MM, high - low + 2 * _ROOM_MM) / 2
        z = (low + high) / 2
        r = radius + air * 0.12 * reach
        window = Window(z - reach, max(0.0, r - reach), z + reach, r + reach)
        if any(w.holds((near, radius)) and w.holds((far, radius)) for w in done):
            continue
        done.append(window)
        yield window


def _scale_for(window: Window, scale: float) -> float:
    """The standard scale above the view's at which the window is 22 to 50 mm wide."""
    width = window.z1 - window.z0
    larger = [s for s in _ENLARGED if s > scale]
    return next((s for s in larger if s * width >= 22.0), larger[-1])


def _lay_out(
    view: View, window: Window, index: int, lengths: Sequence[LengthLine], callouts: Sequence[Callout], scale: float
) -> Detail | None:
    own = _scale_for(window, scale)
    shift = (0.0, -_SPOTS_APART_MM * (index + 1))
    inside = lengths[0].is_inside
    side = lay_out(
        [lane_item(n, min(n.start, n.end) * own, max(n.start, n.end) * own) for n in lengths],
        text_inward=inside,
        first_mm=_FIRST_LANE_MM,
    )
    if side is None:
        return None
    frame = Box(window.z0 * own, (window.r0 + shift[1]) * own, window.z1 * own, (window.r1 + shift[1]) * own)
    dimensions = list(_lanes(view.upper, side, lengths, window, frame, own, shift))
    low, high = [f(x for d in dimensions for x in (d.placed.low, d.placed.high)) for f in (min, max)]
    shown = tuple(_shown_lines(view, window, shift))
    drawn = [Line((a[0] * own, a[1] * own), (b[0] * own, b[1] * own)) for a, b, _ in shown]
    placed = _clear_of(drawn, list(_columns(callouts, frame, own, shift)), [d.reach() for d in dimensions])
    boxes = [frame, *(d.reach() for d in dimensions), *(c.box for c in placed)]
    whole = union(boxes)
    letter = LETTERS[index]
    words = f"{letter} ({own:g}:1)"
    title = ((frame.left + frame.right - text_width_mm(words, LARGE_TEXT_MM)) / 2, whole.top + 2.5)
    head = Box(title[0], title[1] - 1.5, title[0] + text_width_mm(words, LARGE_TEXT_MM), title[1] + LARGE_TEXT_MM)
    box = union((whole, head, Box(low, whole.bottom, high, whole.top))).grown(CLEAR_MM)
    cut = tuple(_cut_areas(view, window, shift))
    return Detail(letter, own, window, shift, tuple(dimensions), tuple(placed), box, title, shown, cut)


def _lanes(
    half: Half, side: Side, lengths: Sequence[LengthLine], window: Window, frame: Box, own: float, shift: Point
) -> Iterator[DimensionLine]:
    by_address = {n.address: n for n in lengths}
    outward = -1 if lengths[0].is_inside else 1
    edge = frame.bottom if outward < 0 else frame.top
    for lane, offset in zip(side.lanes, side.offsets, strict=True):
        for p in lane:
            request = by_address[p.item.key]
            roots = []
            for z in sorted((request.start, request.end)):
                if request.is_inside:
                    radius = request.start_radius if z == request.start else request.end_radius
                else:
                    radius = half.outer_radius(z)
                roots.append((min(max(radius, window.r0), window.r1) + shift[1]) * own)
            yield DimensionLine(request, p, edge + outward * offset, False, roots[0], roots[1], outward)


def _columns(
    callouts: Sequence[Callout], frame: Box, own: float, shift: Point
) -> Iterator[PlacedCallout]:
    """Callouts in a column at either side of the window, in the order of their tips, so that no leaders cross."""
    middle = (frame.left + frame.right) / 2
    moved = [(callout, (callout.tips[0][0] * own, (callout.tips[0][1] + shift[1]) * own)) for callout in callouts]
    for hand in (-1, 1):
        group = sorted((m for m in moved if (m[1][0] > middle) == (hand > 0)), key=lambda m: -m[1][1])
        unders = [c.label.under_mm for c, _ in group]
        heights = [size_of(c)[1] + _ROW_MM + under for (c, _), under in zip(group, unders, strict=True)]
        top = (frame.top + frame.bottom) / 2 + sum(heights) / 2
        levels = _bases(top, heights, unders)
        if any(abs(y - tip[1]) < _LEAST_SLANT_MM for (_, tip), y in zip(group, levels, strict=True)):
            top += -2 * _LEAST_SLANT_MM if group[0][0].is_inside else 2 * _LEAST_SLANT_MM
        for (callout, tip), under, y in zip(group, unders, _bases(top, heights, unders), strict=True):
            width, height = size_of(callout)
            knee = frame.right + _COLUMN_MM if hand > 0 else frame.left - _COLUMN_MM
            left = knee if hand > 0 else knee - width
            box = Box(left, y - under, left + width, y + height)
            measured = callout.measured
            if measured is not None:
                (a, b), (c, d) = measured
                callout = replace(callout, measured=((a, b + shift[1]), (c, d + shift[1])))
            reference = Line((left, y), (left + width, y))
            yield PlacedCallout(callout, (tip, (knee, y)), box, reference)


def _clear_of(drawn: Sequence[Line], placed: list[PlacedCallout], taken: Sequence[Box]) -> list[PlacedCallout]:
    """The callouts with steeper leaders where a line of the detail would run through an arrow head."""
    for index, one in enumerate(placed):
        others = [other for other in placed if other is not one]
        lines = [line for other in others for line in other.lines()]
        boxes = [*taken, *(other.box for other in others)]
        for way in (one, *_steeper(one, drawn)):
            is_apart = way is one or not (_meets(way.lines(), lines) or any(_is_near(way, box) for box in boxes))
            if is_apart and not _meets([head_at(*way.points)], drawn):
                placed[index] = way
                break
    return placed


def _steeper(placed: PlacedCallout, drawn: Sequence[Line]) -> Iterator[PlacedCallout]:
    """The same callout with its leader bent nearer to the tip, and elsewhere on a level line that it points at."""
    (x, y), (knee, first) = placed.points
    hand = 1.0 if knee > x else -1.0
    shifts = [s for s in _TIP_SHIFTS_MM if any(_is_on(line, x + s, y) for line in drawn)]
    for rise, lean, shift in product(_RISES_MM, _STEEP_LEANS, (0.0, *shifts)):
        box, level, tip = placed.box.moved(0.0, rise), first + rise, (x + shift, y)
        if abs(level - y) < _LEAST_SLANT_MM:
            continue
        bend = (tip[0] + hand * lean * abs(level - y), level)
        line = Line((min(box.left, bend[0]), level), (max(box.right, bend[0]), level))
        yield replace(placed, points=(tip, bend), box=box, reference=line)


def _is_near(placed: PlacedCallout, box: Box) -> bool:
    """True where a callout, leader and all, comes too near to a box."""
    area = box.grown(CLEAR_MM)
    return overlaps(placed.box, area) or any(hits(line, area) for line in placed.lines())


def _meets(lines: Iterable[Line], others: Sequence[Line]) -> bool:
    return any(crosses(line, other) for line in lines for other in others)


def _is_on(level: Line, x: float, y: float) -> bool:
    """True where a point lies within a level line, off its ends."""
    (x0, y0), (x1, y1) = level.start, level.end
    return abs(y0 - y) + abs(y1 - y) < 0.01 and min(x0, x1) + 0.5 < x < max(x0, x1) - 0.5


def _bases(top: float, heights: Sequence[float], unders: Sequence[float]) -> list[float]:
    """Where the reference lines of a column of rows stand, downwards from its top, words under a line counted in."""
    found = []
    for height, under in zip(heights, unders, strict=True):
        found.append(top - height + _ROW_MM / 2 + under)
        top -= height
    return found


def _shown_lines(view: View, window: Window, shift: Point) -> Iterator[tuple[Point, Point, str]]:
    """Outline and edges of the upper half inside the window, moved to the detail's spot."""
    half = view.upper
    pieces: list[tuple[Point, Point]] = list(pairwise(half.outer_path()))
    for edge in view.shape.inner:
        if view.is_cut((edge.z0 + edge.z1) / 2):
            pieces.append(((edge.z0, edge.r0), (edge.z1, edge.r1)))
    for z in {s.z1 for s in half.inner} | {s.z0 for s in half.inner}:
        radii = [s.radius(z) for s in half.inner if s.z0 - 1e-6 <= z <= s.z1 + 1e-6]
        if view.is_cut(z):
            pieces.append(((z, 0.0), (z, max(radii))))
    for before, after in pairwise(half.outer):
        if not view.is_cut(before.z1) and abs(before.r1 - after.r0) + abs(before.r0 - before.r1) > 1e-6:
            pieces.append(((before.z1, 0.0), (before.z1, min(before.r1, after.r0))))
    for z in (view.shape.near_z, view.shape.far_z):
        bores = [s.radius(z) for s in half.inner if s.z0 - 1e-6 <= z <= s.z1 + 1e-6 and view.is_cut(z)]
        pieces.append(((z, max(bores, default=0.0)), (z, half.outer_radius(z))))
    for start, end in pieces:
        clipped = _clipped(start, end, window)
        if clipped is not None:
            yield _moved(clipped[0], shift), _moved(clipped[1], shift), "OUTLINE"
    for area in _cut_areas(view, window, (0.0, 0.0), everywhere=True):
        for start, end in pairwise([*area, area[0]]):
            if _on_edge(start, end, window):
                yield _moved(start, shift), _moved(end, shift), "DIM"


def _moved(point: Point, shift: Point) -> Point:
    return (point[0] + shift[0], point[1] + shift[1])


def _on_edge(start: Point, end: Point, window: Window) -> bool:
    """True for a piece of a cut area that the window's edge made."""
    for along, values in ((0, (window.z0, window.z1)), (1, (window.r0, window.r1))):
        for value in values:
            is_axis = along == 1 and value < 1e-6
            if not is_axis and abs(start[along] - value) < 1e-6 and abs(end[along] - value) < 1e-6:
                return True
    return False


def _clipped(start: Point, end: Point, window: Window) -> tuple[Point, Point] | None:
    """The piece of a line inside the window."""
    (z0, r0), (z1, r1) = start, end
    enter, leave = 0.0, 1.0
    for run, low, high in ((z1 - z0, window.z0 - z0, window.z1 - z0), (r1 - r0, window.r0 - r0, window.r1 - r0)):
        if abs(run) < 1e-12:
            if low > 1e-9 or high < -1e-9:
                return None
            continue
        near, far = (low / run, high / run) if run > 0 else (high / run, low / run)
        enter, leave = max(enter, near), min(leave, far)
    if leave - enter < 1e-9:
        return None
    return (z0 + enter * (z1 - z0), r0 + enter * (r1 - r0)), (z0 + leave * (z1 - z0), r0 + leave * (r1 - r0))


def _cut_areas(view: View, window: Window, shift: Point, *, everywhere: bool = False) -> Iterator[tuple[Point, ...]]:
    """The cut material inside the window; `everywhere` counts what is seen from outside as well."""
    whole = ((view.shape.near_z, view.shape.far_z),)
    for start, end in whole if everywhere else view.spans:
        low, high = max(start, window.z0), min(end, window.z1)
        if high - low < 1e-6:
            continue
        half = view.upper
        for corners in cut_polygons(half, low, high):
            kept = _clip_area(corners, window)
            if len(kept) > 2:
                yield tuple(_moved(point, shift) for point in kept)


def _clip_area(corners: Iterable[Point], window: Window) -> list[Point]:
    """A polygon cut off at the window, edge by edge (Sutherland and Hodgman)."""
    points = list(corners)
    for along, limit, sign in ((0, window.z0, 1), (0, window.z1, -1), (1, window.r0, 1), (1, window.r1, -1)):
        kept: list[Point] = []
        for start, end in pairwise([*points, points[0]] if points else []):
            is_in = [sign * (p[along] - limit) >= -1e-9 for p in (start, end)]
            if is_in[0]:
                kept.append(start)
            if is_in[0] != is_in[1]:
                share = (limit - start[along]) / (end[along] - start[along])
                kept.append((start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])))
        points = [p for i, p in enumerate(kept) if i == 0 or math.dist(p, kept[i - 1]) > 1e-9]
    return points
