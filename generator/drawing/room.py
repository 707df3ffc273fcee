"""The room round a view in which callouts may stand: what is taken, answered fast. Pure numbers, mm on paper.

Thousands of places are asked for on every sheet, so everything is kept as plain numbers and the cheapest question comes
first.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from generator.drawing.boxes import Box, Line, crosses, hits

__all__ = ["Room"]

Point = tuple[float, float]

_BIN_MM = 0.5
_UPRIGHT_APART_MM = 1.5


class Room:
    """The outline of both halves, upright extension lines, other dimension lines, and areas already taken."""

    def __init__(
        self,
        skies: Mapping[int, Sequence[Point]],
        uprights: Mapping[int, Iterable[float]],
        lines: Iterable[Line],
        boxes: Iterable[Box],
    ) -> None:
        self._skies = skies
        self._uprights = {sign: sorted(set(places)) for sign, places in uprights.items()}
        every = list(lines)
        self._level = [(n.start[1], *sorted((n.start[0], n.end[0]))) for n in every if n.start[1] == n.end[1]]
        self._upright = [(n.start[0], *sorted((n.start[1], n.end[1]))) for n in every if n.start[1] != n.end[1]]
        self._lines = every
        self._boxes = list(boxes)
        self._leaders: list[Line] = []
        self._start = min(x for path in skies.values() for x, _ in path)
        self._bins = {sign: _binned(path, self._start) for sign, path in skies.items()}
        self._mark = (len(self._boxes), 0)

    def reset(self) -> None:
        """Forget everything taken since the room was made."""
        del self._boxes[self._mark[0] :]
        self._leaders.clear()

    def take(self, box: Box, leaders: Iterable[Line]) -> None:
        """Mark a box and its leader lines as taken."""
        self._boxes.append(box)
        self._leaders += leaders

    def sky_at(self, x: float, sign: int) -> float:
        """The outline's |y| at x, the larger side of a step; 0 beyond the ends."""
        best = 0.0
        for (x0, y0), (x1, y1) in pairwise(self._skies[sign]):
            if x0 - 0.01 <= x <= x1 + 0.01:
                best = max(best, max(y0, y1) if x1 - x0 < 1e-9 else y0 + (y1 - y0) * (x - x0) / (x1 - x0))
        return best

    def sky(self, left: float, right: float, sign: int) -> float:
        """The greatest |y| of the outline between two x, to half a millimetre on the safe side."""
        bins = self._bins[sign]
        first = max(0, int((left - self._start) / _BIN_MM))
        last = int((right - self._start) / _BIN_MM) + 1
        return max(bins[first:last], default=0.0) if last > 0 else 0.0

    def is_free(self, left: float, bottom: float, right: float, top: float, sign: int) -> bool:
        """True where a box on one side of the axis meets no line and no other box (the outline is not asked)."""
        places = self._uprights[sign]
        if bisect_right(places, left) < bisect_left(places, right):
            return False
        for box in self._boxes:
            if left < box.right and box.left < right and bottom < box.top and box.bottom < top:
                return False
        for y, x0, x1 in self._level:
            if bottom < y < top and x0 < right and left < x1:
                return False
        for x, y0, y1 in self._upright:
            if left < x < right and y0 < top and bottom < y1:
                return False
        area = Box(left, bottom, right, top)
        return all(not hits(leader, area) for leader in self._leaders)

    def is_open(self, leader: Line, rim: float) -> bool:
        """True where a leader meets no box (with a rim) and crosses no other leader."""
        (x0, y0), (x1, y1) = leader.start, leader.end
        left, right, bottom, top = min(x0, x1) - rim, max(x0, x1) + rim, min(y0, y1) - rim, max(y0, y1) + rim
        for box in self._boxes:
            is_near = left < box.right and box.left < right and bottom < box.top and box.bottom < top
            if is_near and hits(leader, box.grown(rim)):
                return False
        return all(not crosses(leader, other) for other in self._leaders)

    def stays_above(self, leader: Line, sign: int) -> bool:
        """True where a leader from a point of the outline does not run through the part again."""
        (x0, y0), (x1, y1) = leader.start, leader.end
        for share in (0.15, 0.4, 0.7, 1.0):
            x, y = x0 + share * (x1 - x0), abs(y0 + share * (y1 - y0))
            if y < self.sky_at(x, sign) - 0.3:
                return False
        return True

    def crossed(self, leader: Line, sign: int) -> int | None:
        """How many dimension and extension lines a leader crosses; None where it runs along one."""
        (x0, _), (x1, _) = leader.start, leader.end
        places = self._uprights[sign]
        if x0 == x1:
            near = bisect_right(places, x0 - _UPRIGHT_APART_MM) < bisect_left(places, x0 + _UPRIGHT_APART_MM)
            if near:
                return None
        low, high = min(x0, x1), max(x0, x1)
        count = max(0, bisect_left(places, high - 1e-6) - bisect_right(places, low + 1e-6))
        for line in self._lines:
            count += crosses(leader, line)
        return count


def _binned(path: Sequence[Point], start: float) -> list[float]:
    """The greatest |y| in each strip of half a millimetre along x."""
    count = int((path[-1][0] - start) / _BIN_MM) + 1
    bins = [0.0] * count
    for (x0, y0), (x1, y1) in pairwise(path):
        first, last = int((x0 - start) / _BIN_MM), int((x1 - start) / _BIN_MM)
        for i in range(max(0, first), min(count, last + 1)):
            left, right = max(x0, start + i * _BIN_MM), min(x1, start + (i + 1) * _BIN_MM)
            if x1 - x0 < 1e-9:
                high = max(y0, y1)
            else:
                slope = (y1 - y0) / (x1 - x0)
                high = max(y0 + slope * (left - x0), y0 + slope * (right - x0))
            bins[i] = max(bins[i], high)
    return bins
