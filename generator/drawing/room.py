"""The room round a view in which callouts may stand: what is taken, answered fast. Pure numbers, mm on paper.

Thousands of places are asked for on every sheet, so everything is kept as plain numbers and the cheapest question comes
first.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from typing import Any

from generator.drawing.boxes import Box, Line, hits

__all__ = ["BIN_MM", "LEADERS_APART_MM", "UPRIGHT_APART_MM", "Room"]

Point = tuple[float, float]
Row = tuple[float, float, float, float]

BIN_MM = 0.5
UPRIGHT_APART_MM = 1.5
LEADERS_APART_MM = 1.5


class Room:
    """The outline of both halves, upright extension lines, other dimension lines, and areas already taken.

    `drawn` is every line of the view, which a leader may cross but no arrow head.
    """

    def __init__(
        self,
        skies: Mapping[int, Sequence[Point]],
        uprights: Mapping[int, Iterable[float]],
        lines: Iterable[Line],
        boxes: Iterable[Box],
        drawn: Iterable[Line] = (),
    ) -> None:
        self._skies = skies
        self._drawn: list[Row] = [(*n.start, *n.end) for n in drawn]
        self._uprights = {sign: sorted(set(places)) for sign, places in uprights.items()}
        every = list(lines)
        self._rows: list[Row] = [(*n.start, *n.end) for n in every]
        self._areas: list[Row] = [(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)) for x0, y0, x1, y1 in self._rows]
        self._boxes = list(boxes)
        self._leaders: list[Line] = []
        self.start = min(x for path in skies.values() for x, _ in path)
        self.end = max(x for path in skies.values() for x, _ in path)
        self._bins = {sign: _binned(path, self.start) for sign, path in skies.items()}
        self.tables: dict[int | str, Any] = {}
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

    def is_free(self, area: Box, sign: int) -> bool:
        """True where a box on one side of the axis meets no line and no other box (the outline is not asked)."""
        places = self._uprights[sign]
        if bisect_right(places, area.left) < bisect_left(places, area.right):
            return False
        rows = [*self.box_rows(), *self.line_areas()]
        if any(area.left < x1 and x0 < area.right and area.bottom < y1 and y0 < area.top for x0, y0, x1, y1 in rows):
            return False
        return all(not hits(leader, area) for leader in self._leaders)

    def highest(self, left: float, right: float, sign: int) -> float:
        """The greatest |y| of the outline between two x, to half a millimetre on the safe side."""
        bins = self._bins[sign]
        first = max(0, int((left - self.start) / BIN_MM))
        last = int((right - self.start) / BIN_MM) + 1
        return max(bins[first:last], default=0.0) if last > 0 else 0.0

    def bins(self, sign: int) -> list[float]:
        """The outline's greatest |y| in each strip of half a millimetre, from `start` on."""
        return self._bins[sign]

    def sky_path(self, sign: int) -> tuple[list[float], list[float]]:
        """The outline of one half as x and |y|."""
        path = self._skies[sign]
        return [x for x, _ in path], [y for _, y in path]

    def uprights(self, sign: int) -> list[float]:
        """Places of the upright extension lines on one side, in order."""
        return self._uprights[sign]

    def box_rows(self) -> list[Row]:
        """Areas taken, as (left, bottom, right, top)."""
        return [(b.left, b.bottom, b.right, b.top) for b in self._boxes]

    def line_areas(self) -> list[Row]:
        """Dimension lines and centre lines as areas without width."""
        return self._areas

    def line_rows(self) -> list[Row]:
        """Dimension lines and centre lines from end to end."""
        return self._rows

    def drawn_array(self) -> Any:
        """Lines of the view from end to end, as an array of rows."""
        if "drawn" not in self.tables:
            # Brings numpy, which nothing that only describes a part should have to load.
            import numpy as np

            self.tables["drawn"] = np.array(self._drawn, dtype=float).reshape(-1, 4)
        return self.tables["drawn"]

    def leader_rows(self) -> list[Row]:
        """Leaders taken, from end to end."""
        return [(*n.start, *n.end) for n in self._leaders]


def _binned(path: Sequence[Point], start: float) -> list[float]:
    """The greatest |y| in each strip of half a millimetre along x."""
    count = int((path[-1][0] - start) / BIN_MM) + 1
    bins = [0.0] * count
    for (x0, y0), (x1, y1) in pairwise(path):
        first, last = int((x0 - start) / BIN_MM), int((x1 - start) / BIN_MM)
        for i in range(max(0, first), min(count, last + 1)):
            left, right = max(x0, start + i * BIN_MM), min(x1, start + (i + 1) * BIN_MM)
            if x1 - x0 < 1e-9:
                high = max(y0, y1)
            else:
                slope = (y1 - y0) / (x1 - x0)
                high = max(y0 + slope * (left - x0), y0 + slope * (right - x0))
            bins[i] = max(bins[i], high)
    return bins
