"""An enlarged detail of the arrangement: the spot where most of the narrow gaps are, their letters placed there.

The detail is the same section cut off to a window, drawn on a spot of model space of its own and shown through its own
viewport. Source: circle and letter from the end of the alphabet, scale over the detail, ISO 128-3, at second hand.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise, product

from generator.drawing.arrangement_callouts import LetteredGap
from generator.drawing.arrangement_lines import Point, Segment, edges_of, wave
from generator.drawing.arrangement_section import Circle, Section, Vertex
from generator.drawing.balloons import Callout, Obstacles, Shelf, Spot, Tip, place_callouts
from generator.drawing.base import Pen
from generator.drawing.hatch_slope import free_slope
from generator.drawing.neighbours import Window, clipped
from generator.drawing.style import LARGE_TEXT_MM, scale_text

__all__ = ["DETAIL_LETTER", "Detail", "detail_of", "draw_detail", "mark_of", "spot_of_detail"]

DETAIL_LETTER = "Z"
_NARROW_MM = 0.9
_WINDOWS_MM = ((60.0, 54.0), (80.0, 70.0))
"""Windows on paper to try: the smaller one where it holds two narrow gaps."""

_RIM_MM = 4.0
_ENLARGED = {1.0: 5.0, 2.0: 10.0, 0.5: 5.0, 0.2: 2.0, 0.1: 1.0}
_HATCH_WIDER = 2.0
_SHELF_MM = 9.0
_TITLE_MM = 9.0
_LETTER_MM = LARGE_TEXT_MM / 2 + 1.7
_FAR_OFF_MM = 900.0
_CHORD_DEG = 6.0
_RING_STEPS = 36


@dataclass(frozen=True, slots=True)
class Detail:
    """What is shown enlarged (model mm), at which scale, and the letters of the gaps round it (mm on paper).

    On paper everything is measured from the middle of the window.
    """

    window: Window
    scale: float
    gaps: tuple[LetteredGap, ...]
    spots: tuple[Spot, ...]

    @property
    def middle(self) -> Point:
        """Middle of the window."""
        return ((self.window[0] + self.window[2]) / 2, (self.window[1] + self.window[3]) / 2)

    def ring(self, scale: float) -> Iterator[Segment]:
        """The circle round the window in a view at a scale, as short lines on paper."""
        (x, y), reach = self.middle, self.reach
        turns = [2 * math.pi * step / _RING_STEPS for step in range(_RING_STEPS + 1)]
        points = [((x + reach * math.cos(a)) * scale, (y + reach * math.sin(a)) * scale) for a in turns]
        yield from ((*a, *b) for a, b in pairwise(points))

    @property
    def half(self) -> Point:
        """Half the window on paper."""
        return (
            (self.window[2] - self.window[0]) / 2 * self.scale,
            (self.window[3] - self.window[1]) / 2 * self.scale,
        )

    @property
    def reach(self) -> float:
        """Radius of the circle round the window in the view, model mm."""
        return math.hypot(self.window[2] - self.window[0], self.window[3] - self.window[1]) / 2

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Ends on paper of everything: left, bottom, right, top."""
        wide, high = self.half
        ends = [spot.box for spot in self.spots]
        low = min([-high, *(box[1] for box in ends)]) - 1.0
        top = max([high, *(box[3] for box in ends)]) + _TITLE_MM
        left, right = min([-wide, *(box[0] for box in ends)]), max([wide, *(box[2] for box in ends)])
        return (left - 1.0, low, right + 1.0, top)

    @property
    def size(self) -> tuple[float, float]:
        """Room on paper."""
        left, bottom, right, top = self.box
        return (right - left, top - bottom)


def detail_of(gaps: Sequence[LetteredGap], scale: float, hatch_deg: Sequence[float]) -> Detail | None:
    """The detail that a view at this scale asks for, or None where no gap is too narrow to be seen in it."""
    narrow = [gap for gap in gaps if _is_narrow(gap, scale)]
    own = _ENLARGED[scale]
    found = (_shown(narrow, wide / own, high / own, scale) for wide, high in _WINDOWS_MM)
    bare = next((detail for detail in found if detail is not None), None)
    return Detail(bare.window, own, bare.gaps, tuple(_letters(bare, hatch_deg))) if bare is not None else None


def _shown(narrow: Sequence[LetteredGap], wide: float, high: float, scale: float) -> Detail | None:
    """A window of this size (model mm) round the gaps that ask most for it, still without letters."""
    own = _ENLARGED[scale]
    rim = _RIM_MM / own
    best: list[tuple[LetteredGap, Point]] = []
    for z, r in (point for gap in narrow for point in gap.points):
        lefts, lows = ((at - rim, at - reach + rim, at - reach / 2) for at, reach in ((z, wide), (r, high)))
        for left, low in product(lefts, lows):
            inner = (left + rim - 1e-9, low + rim - 1e-9, left + wide - rim + 1e-9, low + high - rim + 1e-9)
            near = [(gap, point) for gap in narrow if (point := _inside(gap, inner)) is not None]
            if sum(_worth(gap, scale) for gap, _ in near) > sum(_worth(gap, scale) for gap, _ in best) + 1e-9:
                best = near
    if len(best) < 2:
        return None
    xs, ys = [x for _, (x, _) in best], [y for _, (_, y) in best]
    middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    window = (middle[0] - wide / 2, max(0.0, middle[1] - high / 2), middle[0] + wide / 2, middle[1] + high / 2)
    return Detail(window, own, tuple(gap for gap, _ in best), ())


def _inside(gap: LetteredGap, box: Window) -> Point | None:
    """The first place of a gap that lies in a box."""
    return next(((x, y) for x, y in gap.points if box[0] < x < box[2] and box[1] < y < box[3]), None)


def _worth(gap: LetteredGap, scale: float) -> float:
    """How much a gap asks to be shown enlarged: the narrower the more, most what is made to measure."""
    return (3.0 if gap.result.gap.fit else 1.0) + _NARROW_MM - abs(gap.result.nominal_mm) * scale


def _is_narrow(gap: LetteredGap, scale: float) -> bool:
    return abs(gap.result.nominal_mm) * scale < _NARROW_MM


def _letters(detail: Detail, hatch_deg: Sequence[float]) -> list[Spot]:
    """The letters of the gaps above and below the window."""
    wide, high = detail.half
    shelves = tuple(Shelf(side, side * (high + _SHELF_MM), -wide, wide) for side in (1, -1))
    (z0, r0), own = detail.middle, detail.scale
    callouts = []
    for gap in detail.gaps:
        places = [((z - z0) * own, (r - r0) * own) for z, r in gap.points]
        inside = [(x, y) for x, y in places if abs(x) < wide - 1.0 and abs(y) < high - 1.0]
        tips = tuple(Tip(place, side, "dot", 0.3 * k) for side in (1, -1) for k, place in enumerate(inside))
        callouts.append(Callout(gap.letter, _LETTER_MM, _LETTER_MM, tips))
    return place_callouts(callouts, shelves, Obstacles((), (), tuple(hatch_deg)))


def mark_of(detail: Detail, scale: float) -> Callout:
    """The letter of the detail by its circle in the view."""
    (z, r), reach = detail.middle, detail.reach
    angles = (90.0, 60.0, 120.0, 40.0, 140.0)
    tips = tuple(
        Tip(
            ((z + reach * math.cos(math.radians(a))) * scale, (r + reach * math.sin(math.radians(a))) * scale),
            1, "none", 0.2 * k,
        )
        for k, a in enumerate(angles)
    )  # fmt: skip
    return Callout(DETAIL_LETTER, _LETTER_MM, _LETTER_MM, tips)


def spot_of_detail(section: Section, scale: float) -> Point:
    """Where in model space the middle of the detail is drawn, clear of what the view shows."""
    box = section.box
    return ((box[0] + box[2]) / 2, box[1] - _FAR_OFF_MM / scale)


def draw_detail(pen: Pen, detail: Detail, section: Section, at: Point) -> None:
    """Draw the detail with its middle at a point of model space; the pen's scale is that of the detail."""
    (z0, r0), scale = detail.middle, detail.scale
    dx, dy = at[0] - z0, at[1] - r0

    def moved(points: Iterable[Point]) -> list[Point]:
        return [(x + dx, y + dy) for x, y in points]

    for area in section.areas:
        loops = [_cut_off(_flat(loop), detail.window) for loop in area.loops]
        kept = [moved(loop) for loop in loops if len(loop) > 2]
        if kept:
            pen.hatch(kept, free_slope(kept, area.style.angle_deg, scale), area.style.pitch_mm * _HATCH_WIDER)
    for segments, layer in ((section.narrow, "DIM"), (section.wide, "OUTLINE")):
        for segment in segments:
            piece = clipped(segment, detail.window)
            if piece is not None and math.dist(piece[:2], piece[2:]) > 1e-6:
                start, end = moved([piece[:2], piece[2:]])
                pen.line(start, end, layer)
    for circle in section.circles:
        for begin, stop in _arcs_inside(circle, detail.window):
            [centre] = moved([circle[:2]])
            if stop - begin > 359.99:
                pen.circle(centre, circle[2])
            else:
                pen.arc(centre, circle[2], begin, stop)
    for low, high in _broken(section, detail.window):
        depth, pitch = 0.5 / scale, 5.0 / scale
        pen.polyline(moved(wave(low, high, depth, pitch)), "DIM")
    for spot in detail.spots:
        x0, y0, x1, y1 = (value / scale for value in spot.leader)
        pen.leader([(at[0] + x0, at[1] + y0), (at[0] + x1, at[1] + y1)], end=spot.tip.end)
        place = (at[0] + spot.centre[0] / scale, at[1] + spot.centre[1] / scale)
        pen.text(spot.callout.text, place, LARGE_TEXT_MM, anchor="middle")
    top = detail.box[3] - _TITLE_MM + 2.0
    pen.text(f"{DETAIL_LETTER} ({scale_text(scale)})", (at[0], at[1] + top / scale), LARGE_TEXT_MM, anchor="centre")


def _flat(loop: Sequence[Vertex]) -> list[Point]:
    """The loop with short straight pieces in place of arcs."""
    points: list[Point] = []
    for (x0, y0, bulge), (x1, y1, _) in zip(loop, [*loop[1:], loop[0]], strict=True):
        points.append((x0, y0))
        if not bulge:
            continue
        sweep = 4 * math.atan(bulge)
        # The centre lies off the middle of the chord, to its left where the arc turns left by less than half a circle.
        off = (1 / math.tan(sweep / 2)) / 2
        cx, cy = (x0 + x1) / 2 - off * (y1 - y0), (y0 + y1) / 2 + off * (x1 - x0)
        radius, start = math.hypot(x0 - cx, y0 - cy), math.atan2(y0 - cy, x0 - cx)
        count = max(2, math.ceil(abs(math.degrees(sweep)) / _CHORD_DEG))
        angles = (start + sweep * k / count for k in range(1, count))
        points += [(cx + radius * math.cos(a), cy + radius * math.sin(a)) for a in angles]
    return points


def _cut_off(points: list[Point], window: Window) -> list[Point]:
    """A polygon cut off at a window, side by side (Sutherland and Hodgman)."""
    for across, limit, sign in ((0, window[0], 1), (0, window[2], -1), (1, window[1], 1), (1, window[3], -1)):
        kept: list[Point] = []
        for a, b in pairwise([*points, points[0]] if points else []):
            inside = [sign * (p[across] - limit) >= 0.0 for p in (a, b)]
            if inside[0]:
                kept.append(a)
            if inside[0] is not inside[1]:
                share = (limit - a[across]) / (b[across] - a[across])
                kept.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
        points = kept
    return points


def _arcs_inside(circle: Circle, window: Window) -> Iterator[tuple[float, float]]:
    """The pieces of a circle inside a window, as angles in degrees."""
    x, y, radius = circle
    marks = [0.0, 360.0]
    for across, centre in ((0, x), (1, y)):
        for limit in (window[across], window[across + 2]):
            share = (limit - centre) / radius
            if abs(share) < 1.0:
                turn = math.degrees(math.acos(share) if across == 0 else math.asin(share))
                marks += [turn % 360.0, (-turn if across == 0 else 180.0 - turn) % 360.0]
    runs: list[tuple[float, float]] = []
    for start, end in pairwise(sorted(marks)):
        middle = math.radians((start + end) / 2)
        px, py = x + radius * math.cos(middle), y + radius * math.sin(middle)
        if end - start < 1e-6 or not (window[0] < px < window[2] and window[1] < py < window[3]):
            continue
        if runs and abs(runs[-1][1] - start) < 1e-6:
            runs[-1] = (runs[-1][0], end)
        else:
            runs.append((start, end))
    return iter(runs)


def _broken(section: Section, window: Window) -> Iterator[tuple[Point, Point]]:
    """Where material runs on beyond the window: stretches of its edge, those that meet in one."""
    for across in (0, 1):
        for limit in (window[across], window[across + 2]):
            spans: list[tuple[float, float]] = []
            for loop in (loop for loops in section.loops.values() for loop in loops):
                spans += _crossings(loop, across, limit)
            low, high = window[1 - across], window[3 - across]
            for start, end in _united(spans):
                a, b = max(start, low), min(end, high)
                if b - a > 1e-3:
                    yield ((limit, a), (limit, b)) if across == 0 else ((a, limit), (b, limit))


def _crossings(loop: Sequence[Point], across: int, limit: float) -> list[tuple[float, float]]:
    """Stretches of an upright or level line inside a loop."""
    found = []
    for edge in edges_of(loop):
        a, b = edge[across], edge[across + 2]
        if (a > limit) is not (b > limit):
            share = (limit - a) / (b - a)
            found.append(edge[1 - across] + share * (edge[3 - across] - edge[1 - across]))
    found.sort()
    return list(zip(found[::2], found[1::2], strict=False))


def _united(spans: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    found: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        if found and low <= found[-1][1] + 0.05:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found
