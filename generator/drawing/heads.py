"""Arrow heads on a sheet, and extension lines broken where they would run through one. Pure numbers, mm on paper.

Source: an extension line may be broken where it crosses an arrow head, ASME Y14.5 and books on technical drawing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from generator.drawing.boxes import Line, crosses
from generator.drawing.callouts import HEADLESS, PlacedCallout
from generator.drawing.lane_lines import DimensionLine
from generator.drawing.style import ARROW_MM

__all__ = ["broken", "head_at", "heads_of"]

Point = tuple[float, float]

_TIP_MM = 0.3
_PAST_BACK_MM = 0.2
_GAP_MM = 1.2
_LEAST_PIECE_MM = 0.5


def heads_of(dimensions: Iterable[DimensionLine], callouts: Iterable[PlacedCallout]) -> list[Line]:
    """The middle line of every arrow head, from just behind its tip to just behind its back."""
    found: list[Line] = []
    for line in dimensions:
        low, high = line.placed.item.low, line.placed.item.high
        inward = 1.0 if line.placed.arrows_inside else -1.0
        for tip, way in ((low, inward), (high, -inward)):
            ends = [(tip + way * _TIP_MM, line.at), (tip + way * (ARROW_MM + _PAST_BACK_MM), line.at)]
            start, end = ((y, x) if line.upright else (x, y) for x, y in ends)
            found.append(Line(start, end))
    for placed in callouts:
        if not placed.stands and placed.callout.kind not in HEADLESS:
            found.append(head_at(*placed.points[:2]))
    return found


def head_at(tip: Point, towards: Point) -> Line:
    """The middle line of the arrow head at the tip of a leader that comes from a point."""
    length = math.dist(tip, towards) or 1.0
    ux, uy = (towards[0] - tip[0]) / length, (towards[1] - tip[1]) / length
    back = ARROW_MM + _PAST_BACK_MM
    return Line((tip[0] + ux * _TIP_MM, tip[1] + uy * _TIP_MM), (tip[0] + ux * back, tip[1] + uy * back))


def broken(start: Point, end: Point, heads: Sequence[Line]) -> Iterator[tuple[Point, Point]]:
    """The pieces of a line that is left out where it runs through arrow heads.

    >>> list(broken((0.0, 0.0), (0.0, 10.0), [Line((-2.0, 4.0), (2.0, 4.0))]))
    [((0.0, 0.0), (0.0, 2.8)), ((0.0, 5.2), (0.0, 10.0))]
    """
    line, length = Line(start, end), math.dist(start, end)
    if length == 0.0:
        return
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    at = 0.0
    for low, high in [*sorted(_gaps(line, (ux, uy), heads)), (length, length)]:
        if low - at > _LEAST_PIECE_MM or (not at and low == length):
            yield (start[0] + at * ux, start[1] + at * uy), (start[0] + low * ux, start[1] + low * uy)
        at = max(at, high)


def _gaps(line: Line, way: Point, heads: Sequence[Line]) -> Iterator[tuple[float, float]]:
    """From where to where along the line each head that it crosses breaks it."""
    for head in heads:
        if not crosses(line, head):
            continue
        (ax, ay), (bx, by) = head.start, head.end
        (x0, y0), (ux, uy) = line.start, way
        # Distances of the head's ends from the line share out where it is crossed.
        one, other = ux * (ay - y0) - uy * (ax - x0), ux * (by - y0) - uy * (bx - x0)
        share = one / (one - other)
        x, y = ax + share * (bx - ax), ay + share * (by - ay)
        lean = abs(ux * (bx - ax) + uy * (by - ay)) / (abs(one - other) or 1.0)
        middle = (x - x0) * ux + (y - y0) * uy
        reach = _GAP_MM * math.hypot(1.0, min(lean, 2.0))
        yield middle - reach, middle + reach
