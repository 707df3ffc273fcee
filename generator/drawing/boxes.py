"""Boxes and lines on the paper, and whether they touch. Pure numbers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["Box", "Line", "crosses", "hits", "overlaps", "union"]

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box."""

    left: float
    bottom: float
    right: float
    top: float

    def grown(self, by: float) -> Box:
        """The box with a rim added all round."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def moved(self, dx: float, dy: float) -> Box:
        """The box at another place."""
        return Box(self.left + dx, self.bottom + dy, self.right + dx, self.top + dy)


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line between two points."""

    start: Point
    end: Point


def overlaps(one: Box, other: Box) -> bool:
    """True where two boxes share an area."""
    return one.left < other.right and other.left < one.right and one.bottom < other.top and other.bottom < one.top


def hits(line: Line, box: Box) -> bool:
    """True where the line passes through the inside of the box (parametric clipping against its four sides)."""
    (x0, y0), (x1, y1) = line.start, line.end
    if max(x0, x1) <= box.left or min(x0, x1) >= box.right or max(y0, y1) <= box.bottom or min(y0, y1) >= box.top:
        return False
    enter, leave = 0.0, 1.0
    for run, low, high in ((x1 - x0, box.left - x0, box.right - x0), (y1 - y0, box.bottom - y0, box.top - y0)):
        if run == 0.0:
            continue
        near, far = (low / run, high / run) if run > 0 else (high / run, low / run)
        enter, leave = max(enter, near), min(leave, far)
    return enter < leave


def crosses(one: Line, other: Line) -> bool:
    """True where two lines cross properly (a common end is no crossing)."""
    (ax, ay), (bx, by) = one.start, one.end
    (cx, cy), (dx, dy) = other.start, other.end
    ux, uy = bx - ax, by - ay
    if (ux * (cy - ay) - uy * (cx - ax)) * (ux * (dy - ay) - uy * (dx - ax)) >= -1e-9:
        return False
    vx, vy = dx - cx, dy - cy
    return (vx * (ay - cy) - vy * (ax - cx)) * (vx * (by - cy) - vy * (bx - cx)) < -1e-9


def union(boxes: Iterable[Box]) -> Box:
    """The smallest box round all of them."""
    every = list(boxes)
    return Box(
        min(b.left for b in every), min(b.bottom for b in every), max(b.right for b in every), max(b.top for b in every)
    )
