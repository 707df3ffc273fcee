"""One row of callouts set out along its shelf, and how bad it is. Pure numbers, written for speed.

A search asks this thousands of times for one sheet, so a row is plain numbers here; only the answer becomes callouts in
their places.
"""

from __future__ import annotations

import math
from bisect import bisect
from collections.abc import Sequence
from dataclasses import dataclass

from generator.drawing.arrangement_lines import Box, Segment, segment_hits_box, segments_cross
from generator.drawing.style import ARROW_MM

__all__ = ["CROSSING", "Pin", "Row", "RowMaker", "Shelf", "wanted_place"]

_APART_MM = 2.5
_LEAST_TURN_DEG = 2.0
_TIPS_APART_MM = 4.0
_OFF_UPRIGHT_MM = 1.0
_FAN = 0.55
# A line through an arrow head is a fault, but leaders that cross are a worse one.
_HEAD_CROSSED = 60.0

CROSSING = 100.0
"""What a fault weighs; blemishes weigh a few, a millimetre of leader a little."""


@dataclass(frozen=True, slots=True)
class Shelf:
    """A row of callouts: its side of the view, its height, its ends, and upright lines that pass through it."""

    side: int
    y: float
    left: float
    right: float
    upright: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Pin:
    """One callout by one of its tips: where the tip is, half width and height of what stands in the row, its cost.

    `near` are lines that could run through its arrow head, `short_mm` is how far the leader ends before the row.
    """

    x: float
    y: float
    half_width_mm: float
    half_height_mm: float
    cost: float
    is_dot: bool
    slope_deg: float | None
    number: int | None
    wanted: float
    near: tuple[Segment, ...] = ()
    short_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Row:
    """A row set out: places along the shelf in the order of the pins, numbers as they run, cost, and whose it is."""

    places: tuple[float, ...]
    numbers: tuple[int, ...]
    cost: float
    blame: tuple[float, ...]


def wanted_place(x: float, y: float, shelf: Shelf) -> float:
    """Where a callout would stand if it were alone: leaders fan out from the middle of the row."""
    middle, half = (shelf.left + shelf.right) / 2, max(1.0, (shelf.right - shelf.left) / 2)
    lean = _FAN * (x - middle) / half
    if abs(lean) < 0.08:
        lean = 0.08 if lean >= 0 else -0.08
    return x + lean * abs(shelf.y - y)


class RowMaker:
    """Sets out rows on one shelf, past boxes, lines and hatch slopes that leaders keep off."""

    def __init__(
        self, shelf: Shelf, boxes: Sequence[Box], lines: Sequence[Segment], hatch_deg: Sequence[float]
    ) -> None:
        self.shelf = shelf
        self.boxes = boxes
        self.lines = lines
        self.hatch_deg = hatch_deg
        self.reach = (
            min((min(line[0], line[2]) for line in lines), default=math.inf),
            max((max(line[0], line[2]) for line in lines), default=-math.inf),
        )
        self.upright = sorted(shelf.upright)
        edges = [shelf.left, *(x + side * _OFF_UPRIGHT_MM for x in self.upright for side in (-1, 1)), shelf.right]
        self.cells = list(zip(edges[::2], edges[1::2], strict=True))

    def row(self, pins: Sequence[Pin], most: float = math.inf) -> Row | float:
        """The row for some callouts, uncrossed by exchanging places; only a lower limit of its cost if over `most`."""
        shelf_y = self.shelf.y
        order = sorted(range(len(pins)), key=lambda k: (pins[k].wanted, -abs(pins[k].y)))
        places = self._set_out(pins, order)
        for _ in pins:
            crossed = _first_crossing(pins, order, places, shelf_y)
            if crossed is None:
                break
            a, b = crossed
            order[a], order[b] = order[b], order[a]
            places = self._set_out(pins, order)
        blame = [self._single(pin, x) for pin, x in zip(pins, places, strict=True)]
        total = sum(blame, 0.0)
        if total > most:
            return total
        total += _pairs(pins, order, places, shelf_y, blame)
        running = order if self.shelf.side > 0 else order[::-1]
        numbers = tuple(n for k in running if (n := pins[k].number) is not None)
        return Row(tuple(places), numbers, total, tuple(blame))

    def _set_out(self, pins: Sequence[Pin], order: Sequence[int]) -> list[float]:
        """Places in this order, each as near as may be to where it is wanted, none on an upright line."""
        found = [0.0] * len(pins)
        for (left, right), keys in zip(self.cells, self._shared_out(pins, order), strict=True):
            if keys:
                row = [(pins[k].wanted, pins[k].half_width_mm) for k in keys]
                for k, x in zip(keys, _spaced(row, left, right), strict=True):
                    found[k] = x
        return found

    def _shared_out(self, pins: Sequence[Pin], order: Sequence[int]) -> list[list[int]]:
        """Which callouts stand in each cell between upright lines; what finds no room goes to the cell beside it."""
        if not self.upright:
            return [list(order)]
        found: list[list[int]] = [[] for _ in self.cells]
        least = 0
        for k in order:
            least = max(least, bisect(self.upright, pins[k].wanted))
            found[least].append(k)
        room = [right - left + _APART_MM - sum(2 * pins[k].half_width_mm + _APART_MM for k in keys)
                for (left, right), keys in zip(self.cells, found, strict=True)]  # fmt: skip
        for _ in range(2 * len(pins)):
            full = next((c for c, spare in enumerate(room) if spare < 0.0 and found[c]), None)
            if full is None:
                break
            ways = []
            for other, at, edge in ((full - 1, 0, self.cells[full][0]), (full + 1, -1, self.cells[full][1])):
                if 0 <= other < len(room):
                    width = 2 * pins[found[full][at]].half_width_mm + _APART_MM
                    if room[other] >= width:
                        ways.append((abs(pins[found[full][at]].wanted - edge), other, at, width))
            if not ways:
                break
            _, other, at, width = min(ways)
            key = found[full].pop(at)
            found[other].insert(0 if at else len(found[other]), key)
            room[full] += width
            room[other] -= width
        return found

    def is_crossed(self, pin: Pin, x: float) -> bool:
        """True where a line runs through the arrow head of a callout that stands at x."""
        if not pin.near:
            return False
        head = _head(pin, x, self.shelf.y - self.shelf.side * pin.short_mm)
        return any(segments_cross(head, line) for line in pin.near)

    def _single(self, pin: Pin, x: float) -> float:
        """Faults of one callout by itself."""
        shelf = self.shelf
        across, up = abs(x - pin.x), abs(shelf.y - pin.y)
        total = pin.cost + 0.06 * math.hypot(across, up) + 0.15 * max(0.0, across - up)
        left, right = x - pin.half_width_mm, x + pin.half_width_mm
        if self.upright:
            low, high = (pin.x, x) if pin.x < x else (x, pin.x)
            for at in self.upright:
                total += 60.0 if left - 1.0 < at < right + 1.0 else 3.0 if low - 0.5 < at < high + 0.5 else 0.0
        beyond = max(shelf.left - left, right - shelf.right)
        if beyond > 1e-6:
            total += 30.0 + 5.0 * beyond
        low, high = (pin.x, x) if pin.x < x else (x, pin.x)
        if self.boxes or (low < self.reach[1] and high > self.reach[0]):
            leader = (pin.x, pin.y, x, shelf.y)
            total += sum(CROSSING for box in self.boxes if segment_hits_box(leader, box))
            total += sum(1.5 for line in self.lines if segments_cross(leader, line))
        total += _HEAD_CROSSED * self.is_crossed(pin, x)
        if pin.is_dot or pin.slope_deg is not None:
            angle = math.degrees(math.atan2(shelf.y - pin.y, x - pin.x)) % 180.0
            if pin.is_dot:
                for hatch in self.hatch_deg:
                    if abs((angle - hatch + 90.0) % 180.0 - 90.0) < 6.0:
                        total += 1.0
                        break
            if pin.slope_deg is not None and abs((angle - pin.slope_deg + 90.0) % 180.0 - 90.0) < 20.0:
                total += 15.0
        return total


def _head(pin: Pin, x: float, y: float) -> Segment:
    """The middle of the arrow head at a tip, its leader coming from (x, y)."""
    length = math.hypot(x - pin.x, y - pin.y) or 1.0
    ux, uy = (x - pin.x) / length, (y - pin.y) / length
    return (pin.x + 0.5 * ux, pin.y + 0.5 * uy, pin.x + ARROW_MM * ux, pin.y + ARROW_MM * uy)


def _pairs(
    pins: Sequence[Pin], order: Sequence[int], places: Sequence[float], shelf_y: float, blame: list[float]
) -> float:
    """Faults between the callouts of a row; what each has to do with is added to its blame."""
    total = 0.0
    leans = [(places[k] - pins[k].x) / ((shelf_y - pins[k].y) or 1e-9) for k in order]
    angles = [math.degrees(math.atan(lean)) for lean in leans]
    for j in range(1, len(order)):
        b = order[j]
        two = pins[b]
        for i in range(j):
            a = order[i]
            one = pins[a]
            bad = 0.0
            if abs(angles[i] - angles[j]) < _LEAST_TURN_DEG:
                bad = 4.0
            # The leader of one through the box of the other; they end side by side, one left of two.
            height = two.half_height_mm if shelf_y > 0 else -two.half_height_mm
            if places[a] - leans[i] * height > places[b] - two.half_width_mm:
                bad += CROSSING
            height = one.half_height_mm if shelf_y > 0 else -one.half_height_mm
            if places[b] - leans[j] * height < places[a] + one.half_width_mm:
                bad += CROSSING
            if _cross(one, places[a], leans[i], two, places[b], leans[j], shelf_y):
                bad += CROSSING
            if abs(one.x - two.x) < _TIPS_APART_MM:
                bad += 2.0 * max(0.0, _TIPS_APART_MM - math.hypot(one.x - two.x, one.y - two.y))
            if bad:
                total += bad
                blame[a] += bad
                blame[b] += bad
    return total


def _cross(
    one: Pin, one_place: float, one_lean: float, two: Pin, two_place: float, two_lean: float, shelf_y: float
) -> bool:
    """True if the leaders of two callouts cross, the first standing left of the second in the row."""
    if abs(shelf_y - one.y) < abs(shelf_y - two.y):
        return one.x >= two_place - two_lean * (shelf_y - one.y)
    return one_place - one_lean * (shelf_y - two.y) >= two.x


def _first_crossing(
    pins: Sequence[Pin], order: Sequence[int], places: Sequence[float], shelf_y: float
) -> tuple[int, int] | None:
    """Places in the order of two callouts whose leaders cross."""
    leans = [(places[k] - pins[k].x) / ((shelf_y - pins[k].y) or 1e-9) for k in order]
    for j in range(1, len(order)):
        b = order[j]
        for i in range(j - 1, -1, -1):
            a = order[i]
            if _cross(pins[a], places[a], leans[i], pins[b], places[b], leans[j], shelf_y):
                return i, j
    return None


def _spaced(row: Sequence[tuple[float, float]], left: float, right: float) -> list[float]:
    """Positions nearest to the targets that keep things apart and, where there is room, inside the row.

    Each thing is (target, half width). Pool adjacent violators: the least squares answer.
    """
    offset = 0.0
    before = -_APART_MM - row[0][1]
    offsets: list[float] = []
    means: list[float] = []
    counts: list[int] = []
    for target, half in row:
        offset += before + half + _APART_MM
        offsets.append(offset)
        before = half
        mean, count = target - offset, 1
        while means and means[-1] > mean:
            other = counts.pop()
            mean = (means.pop() * other + mean * count) / (other + count)
            count += other
        means.append(mean)
        counts.append(count)
    least, most = left + row[0][1], right - row[-1][1] - offset
    if most < least:
        least = most = (least + most) / 2
    found = []
    at = 0
    for mean, count in zip(means, counts, strict=True):
        kept = least if mean < least else most if mean > most else mean
        for _ in range(count):
            found.append(kept + offsets[at])
            at += 1
    return found
