"""The freehand line at which a local section ends inside a part, and cut areas torn along it. Pure geometry."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise

from generator.drawing.base import Point
from generator.drawing.views import View

__all__ = ["inner_ends", "torn", "wave"]

_CLOSE_MM = 1e-6
_WAVE_MM, _WAVE_STEPS = 0.6, 16


def inner_ends(view: View) -> list[float]:
    """Where local sections end inside the part."""
    near, far = view.shape.near_z + _CLOSE_MM, view.shape.far_z - _CLOSE_MM
    return [z for ends in view.spans for z in ends if near < z < far]


def wave(view: View, z: float, scale: float) -> list[Point]:
    """A freehand line across the part at z, from above to below."""
    top, low = view.upper.outer_radius(z), view.lower.outer_radius(z)
    swing, points = _WAVE_MM / scale, []
    for i in range(_WAVE_STEPS + 1):
        aside = swing * (math.sin(i * 1.9) + 0.5 * math.sin(i * 0.8 + 1.0)) if 0 < i < _WAVE_STEPS else 0.0
        points.append((z + aside, top - (top + low) * i / _WAVE_STEPS))
    return points


def torn(corners: Sequence[Point], sign: int, waves: Mapping[float, Sequence[Point]]) -> list[Point]:
    """Corners (z, r) of a cut area, its upright edges at the ends of a local section along the freehand line."""
    found: list[Point] = []
    for (z0, r0), (z1, r1) in zip(corners, [*corners[1:], corners[0]], strict=True):
        line = next((w for z, w in waves.items() if abs(z - z0) < _CLOSE_MM and abs(z - z1) < _CLOSE_MM), None)
        if line is None:
            found.append((z0, r0))
            continue
        low, high = sorted((r0, r1))
        between = [(z, sign * y) for z, y in line if low < sign * y < high]
        between.sort(key=lambda point: point[1], reverse=r1 < r0)
        found += [(_place(line, sign * r0), r0), *between, (_place(line, sign * r1), r1)]
    return found


def _place(line: Sequence[Point], y: float) -> float:
    """Position of a freehand line at a height."""
    for (z0, y0), (z1, y1) in pairwise(line):
        if y1 - _CLOSE_MM <= y <= y0 + _CLOSE_MM:
            return z0 + (z1 - z0) * (y0 - y) / (y0 - y1)
    return line[0][0]
