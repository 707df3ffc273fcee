"""The free place for a box on a page, all of a grid asked at once. Kept apart because it brings numpy."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from generator.drawing.boxes import Box

if TYPE_CHECKING:
    from generator.drawing.sheet import Rect

__all__ = ["nearest_free"]

Point = tuple[float, float]

_GRID_MM = 2.5


def nearest_free(
    size: tuple[float, float], area: Rect, wanted: Point, blocked: Sequence[Box], weights: tuple[float, float]
) -> Point | None:
    """Lower left corner of the free place nearest to the one wanted, or None; `weights` are for across and up."""
    import numpy as np

    width, height = size
    if area.width < width or area.height < height:
        return None
    counts = [int(spare / _GRID_MM) + 2 for spare in (area.width - width, area.height - height)]
    x, y = np.meshgrid(
        np.linspace(area.left, area.right - width, counts[0]), np.linspace(area.bottom, area.top - height, counts[1])
    )
    free = np.ones(x.shape, dtype=bool)
    for box in blocked:
        free &= (x >= box.right) | (x + width <= box.left) | (y >= box.top) | (y + height <= box.bottom)
    if not free.any():
        return None
    cost = (weights[0] * (x - wanted[0])) ** 2 + (weights[1] * (y - wanted[1])) ** 2
    best = int(np.argmin(np.where(free, cost, np.inf)))
    return float(x.flat[best]), float(y.flat[best])
