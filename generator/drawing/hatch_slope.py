"""The slope of a hatch, turned aside where a long edge would run along it. Pure geometry."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

__all__ = ["ALONG_DEG", "LONG_EDGE_MM", "free_slope"]

Point = tuple[float, float]

ALONG_DEG = 5.0
LONG_EDGE_MM = 3.0
"""An edge longer on paper and nearer in slope to the hatch reads as one of its lines. Shop choice."""
_TURN_DEG = 15.0


def free_slope(loops: Iterable[Sequence[Point]], angle_deg: float, scale: float) -> float:
    """The slope wanted for closed areas, or one turned by 15 degrees where a long edge of theirs runs along it.

    Source: hatch at 30 or 60 degrees where an edge lies at or near 45, school books on drawing.

    >>> free_slope([[(0.0, 0.0), (9.0, 0.0), (0.0, 9.0)]], 135.0, 1.0)
    120.0
    """
    edges = [
        math.degrees(math.atan2(y1 - y0, x1 - x0))
        for loop in loops
        for (x0, y0), (x1, y1) in zip(loop, [*loop[1:], loop[0]], strict=True)
        if math.hypot(x1 - x0, y1 - y0) * scale > LONG_EDGE_MM
    ]
    return next(
        (
            angle
            for angle in (angle_deg, angle_deg - _TURN_DEG, angle_deg + _TURN_DEG)
            if all(abs((angle - edge + 90.0) % 180.0 - 90.0) > ALONG_DEG for edge in edges)
        ),
        angle_deg,
    )
