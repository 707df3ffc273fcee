"""Places for leader callouts close to the view: words, symbols, frames and datums that nothing touches. Pure numbers.

Coordinates are mm on paper, the view's axis at y = 0. Places are tried cheapest first: short steep leaders, above
before below, where no dimension has to make room.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise, product

from generator.drawing.boxes import Box, Line
from generator.drawing.font import text_width_mm
from generator.drawing.room import Room
from generator.drawing.style import CLEAR_MM, FRAME_HEIGHT_MM, TEXT_GAP_MM, TEXT_MM
from generator.drawing.wanted import Callout

__all__ = [
    "FINISH_KNEE_MM",
    "FINISH_LEFT_MM",
    "FINISH_RISE_MM",
    "TAPER_SYMBOL_MM",
    "LaneEdge",
    "PlacedCallout",
    "frame_cells",
    "place_callouts",
    "size_of",
]

Point = tuple[float, float]

FINISH_RISE_MM = 10.5
FINISH_LEFT_MM = 2.9
FINISH_KNEE_MM = 6.1
TAPER_SYMBOL_MM = 7.0
_UNDER_MM = 4.3
_LEAST_RISE_MM = 5.0
_OFF_OUTLINE_MM = 1.2
_RISES = (0.0, 4.0, 8.0, 12.5, 17.0, 22.0, 28.0, 35.0, 43.0, 52.0, 62.0, 75.0, 90.0)
_LEANS = (0.45, 0.9, 0.15)
_SHOULDERS = {"words": (0.0, 12.0, 28.0), "frame": (4.0, 11.0, 20.0, 32.0, 50.0), "datum": (0.0,)}
_COST_EXTENSION = 0.8
_COST_PUSH = 0.3
_COST_SAME_TIP = 3.0
_TIP_APART_MM = 8.0
_TRIES = 6
_PATIENCE = 60
# A finish further off than this is better said in a note.
_MOST_FOR_FINISH = 2.6


@dataclass(frozen=True, slots=True)
class PlacedCallout:
    """A callout with its leader from tip to text, the box of its words or symbol, and where the reference line runs."""

    callout: Callout
    points: tuple[Point, ...]
    box: Box
    reference: Line | None
    stands: bool = False

    def lines(self) -> list[Line]:
        """Leader and reference line."""
        found = [Line(a, b) for a, b in pairwise(self.points)]
        return found + ([self.reference] if self.reference else [])


@dataclass(frozen=True, slots=True)
class LaneEdge:
    """The level dimension lanes of one side: their reach along x, and the |y| up to which nothing pushes them out."""

    low: float
    high: float
    free: float

    def push(self, placed: PlacedCallout, sign: int) -> float:
        """The |y| that a callout, leader and all, takes from the lanes; 0 where it does not stand before them."""
        low, high = self.low - 2.0, self.high + 2.0
        box = placed.box
        reach = 0.0
        if box.left < high and box.right > low:
            reach = sign * (box.top if sign > 0 else box.bottom)
        for start, end in pairwise(placed.points):
            (x0, y0), (x1, y1) = (start, end) if start[0] <= end[0] else (end, start)
            if x1 <= low or x0 >= high:
                continue
            slope = (y1 - y0) / (x1 - x0) if x1 > x0 else 0.0
            ends = (y0 + slope * (max(low, x0) - x0), y1 + slope * (min(high, x1) - x1))
            reach = max(reach, sign * ends[0], sign * ends[1])
        return max(0.0, reach)


def frame_cells(callout: Callout) -> tuple[float, float, float]:
    """Widths of the three cells of a tolerance frame."""
    _, value, letter = callout.cells
    widths = [text_width_mm(text, TEXT_MM) + 3.0 for text in (value, letter)]
    return FRAME_HEIGHT_MM, widths[0], max(FRAME_HEIGHT_MM, widths[1])


def size_of(callout: Callout) -> tuple[float, float]:
    """Width and height on paper of what stands at the end of the leader."""
    label = callout.label
    if callout.kind == "finish":
        return FINISH_LEFT_MM + FINISH_KNEE_MM + text_width_mm(label.main, TEXT_MM) + 2.0, FINISH_RISE_MM + 0.5
    if callout.kind == "frame":
        return sum(frame_cells(callout)), FRAME_HEIGHT_MM
    if callout.kind == "datum":
        return FRAME_HEIGHT_MM, FRAME_HEIGHT_MM
    width = label.full_width_mm + (TAPER_SYMBOL_MM + 2.0 if callout.kind == "taper" else 0.0)
    return width + 1.0, label.height_mm + TEXT_GAP_MM


def place_callouts(
    callouts: Sequence[Callout], scale: float, room: Room, lanes: dict[int, LaneEdge]
) -> tuple[list[PlacedCallout], list[Callout]] | None:
    """Places for the callouts, and finishes left over for the notes; None where no order of placing them works.

    A finish is the first thing to give way on a crowded sheet, because words in a note say it as well.
    """
    order = sorted(callouts, key=_difficulty)
    for _ in range(_TRIES):
        room.reset()
        placed: list[PlacedCallout] = []
        left_over: list[Callout] = []
        for callout in order:
            best = _Search(callout, scale, room, lanes, placed).best()
            if best is not None:
                placed.append(best)
                room.take(best.box, best.lines())
            elif callout.kind == "finish":
                left_over.append(callout)
            else:
                order = [callout, *(c for c in order if c is not callout)]
                break
        else:
            return placed, left_over
    return None


def _difficulty(callout: Callout) -> tuple[bool, bool, bool, bool, float]:
    """Sorts the hardest to place first: frames, then what can point at few places, then the wide; finishes last."""
    kind = callout.kind
    return kind == "finish", kind == "datum", kind != "frame", len(callout.tips) > 3, -size_of(callout)[0]


@dataclass(frozen=True, slots=True)
class _Way:
    """One manner of leading out: which tip, up or down, how far, to which hand, how slanting, how long a shoulder."""

    cost: float
    tip: int
    sign: int
    rise: float
    hand: int
    lean: float
    shoulder: float


@cache
def _ways(shape: str) -> tuple[_Way, ...]:
    """All manners for a shape of callout, cheapest first."""
    leans = _LEANS if shape == "words" else (0.0,)
    hands = (1,) if shape == "datum" else (1, -1)
    found = []
    for tip, sign, rise, hand, lean, shoulder in product(range(5), (1, -1), _RISES, hands, leans, _SHOULDERS[shape]):
        cost = 0.3 * tip + 0.07 * rise + 0.06 * shoulder + (0.4 if sign < 0 else 0.0) + (0.1 if hand < 0 else 0.0)
        cost += abs(lean - _LEANS[0]) if shape == "words" else 0.0
        found.append(_Way(cost, tip, sign, rise, hand, lean, shoulder))
    return tuple(sorted(found, key=lambda way: way.cost))


class _Search:
    """The search for the cheapest place of one callout."""

    def __init__(
        self,
        callout: Callout,
        scale: float,
        room: Room,
        lanes: dict[int, LaneEdge],
        placed: Sequence[PlacedCallout],
    ) -> None:
        self.callout, self.room, self.lanes, self.placed = callout, room, lanes, placed
        self.width, self.height = size_of(callout)
        self.below = _UNDER_MM if callout.label.below else 0.0
        self.tips = [(z * scale, abs(r) * scale) for z, r in callout.tips]
        self.below_only = [r < 0 for _, r in callout.tips]
        self.skies = [{s: max(r, room.sky_at(x, s)) for s in (1, -1)} for x, r in self.tips]
        self.pushed = {
            sign: max([edge.free, *(edge.push(p, sign) for p in placed)]) for sign, edge in lanes.items()
        }
        self.shape = callout.kind if callout.kind in ("frame", "datum") else "words"

    def best(self) -> PlacedCallout | None:
        """The cheapest place found, or None; places are made up lazily, in order of their own cost."""
        found: PlacedCallout | None = None
        least = math.inf
        patience = _PATIENCE
        for own, candidate in self._candidates():
            if own >= least or patience == 0:
                break
            patience -= found is not None
            cost = own + self._room_cost(candidate)
            if cost >= least:
                continue
            crossing = self._crossing_cost(candidate)
            if crossing is not None and cost + crossing < least:
                least, found = cost + crossing, candidate
        return found

    def _candidates(self) -> Iterator[tuple[float, PlacedCallout]]:
        """Places whose box is free, cheapest first."""
        if self.callout.kind == "finish":
            yield from self._standing()
        width, height, room = self.width, self.height, self.room
        for way in _ways(self.shape):
            if self.callout.kind == "finish" and way.cost > _MOST_FOR_FINISH:
                return
            if way.tip >= len(self.tips) or (way.sign > 0 and self.below_only[way.tip]):
                continue
            x, r = self.tips[way.tip]
            outer = self.skies[way.tip][way.sign] + _LEAST_RISE_MM + way.rise
            y = outer + self.below if way.sign > 0 else -(outer + height)
            knee = x + way.hand * way.lean * (abs(y) - r)
            if self.shape == "datum":
                left = x - width / 2
            else:
                start = knee + way.hand * way.shoulder
                left = start if way.hand > 0 else start - width
            right, bottom, top = left + width, y - self.below, y + height
            near = bottom if way.sign > 0 else -top
            rim = CLEAR_MM
            if near - rim - _OFF_OUTLINE_MM < room.sky(left - rim, right + rim, way.sign):
                continue
            if room.is_free(left - rim, bottom - rim, right + rim, top + rim, way.sign):
                yield way.cost, self._place((x, way.sign * r), (knee, y), Box(left, bottom, right, top), way)

    def _place(self, tip: Point, knee: Point, box: Box, way: _Way) -> PlacedCallout:
        if self.shape == "datum":
            end = (tip[0], box.bottom if way.sign > 0 else box.top)
            return PlacedCallout(self.callout, (tip, end), box, None)
        if self.shape == "frame":
            middle = (box.bottom + box.top) / 2
            end = (box.left if way.hand > 0 else box.right, middle)
            return PlacedCallout(self.callout, (tip, (tip[0], middle), end), box, None)
        reference = Line((min(box.left, knee[0]), knee[1]), (max(box.right, knee[0]), knee[1]))
        return PlacedCallout(self.callout, (tip, knee), box, reference)

    def _standing(self) -> Iterator[tuple[float, PlacedCallout]]:
        """A finish symbol set right on its surface: on top of the outline, or on the lower wall of a wide bore."""
        rim = CLEAR_MM
        for index, (x, r) in enumerate(self.tips):
            inside = self.callout.is_inside
            if self.below_only[index] or (inside and r < self.height + CLEAR_MM):
                continue
            y = -r if inside else r
            box = Box(x - FINISH_LEFT_MM, y + 0.3, x - FINISH_LEFT_MM + self.width, y + self.height)
            if not inside and y + 0.2 < self.room.sky(box.left - rim, box.right + rim, 1):
                continue
            area = box.grown(rim)
            if self.room.is_free(area.left, box.bottom + 0.5, area.right, area.top, -1 if inside else 1):
                yield -1.0 + 0.2 * index, PlacedCallout(self.callout, ((x, y),), box, None, stands=True)

    def _room_cost(self, candidate: PlacedCallout) -> float:
        """Cost of lanes pushed out, and of pointing where another leader points already."""
        x, y = candidate.points[0]
        cost = 0.0
        for other in self.placed:
            x1, y1 = other.points[0]
            apart = max(abs(x - x1), abs(y - y1))
            cost += _COST_SAME_TIP * max(0.0, 1.0 - apart / _TIP_APART_MM)
        sign = _side(candidate)
        if sign in self.lanes:
            cost += _COST_PUSH * max(0.0, self.lanes[sign].push(candidate, sign) - self.pushed[sign])
        return cost

    def _crossing_cost(self, candidate: PlacedCallout) -> float | None:
        """Cost of what the leader crosses; None where it touches what it must not."""
        sign = _side(candidate)
        lines = candidate.lines()
        if lines and not self.callout.is_inside and not self.room.stays_above(lines[0], sign):
            return None
        cost = 0.0
        for line in lines:
            if not self.room.is_open(line, CLEAR_MM):
                return None
            crossed = self.room.crossed(line, sign)
            if crossed is None:
                return None
            cost += _COST_EXTENSION * crossed
        return cost


def _side(candidate: PlacedCallout) -> int:
    """+1 above the axis, -1 below."""
    return 1 if candidate.box.bottom + candidate.box.top > 0 else -1
