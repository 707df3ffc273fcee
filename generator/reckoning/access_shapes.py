"""Convex shapes in plan view: the gap between two of them, or how deep they overlap, and where.

Points are (z, r) in mm. Everything a tool or a centre is made of here is split into convex pieces: for those the gap is
a convex function of a straight move, so its least along a path is found without sampling.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

__all__ = ["Gap", "Point", "Shape", "gap_between", "least_along", "moved", "rotated"]

Point = tuple[float, float]
Shape = tuple[Point, ...]

_CLOSE_MM = 1e-9


class Gap(NamedTuple):
    """The gap between two shapes (below zero: depth of overlap), with the nearest point of each."""

    gap_mm: float
    first: Point
    second: Point


def moved(shape: Shape, z_mm: float, r_mm: float) -> Shape:
    """The shape moved. Source: geometry."""
    return tuple((z + z_mm, r + r_mm) for z, r in shape)


def rotated(shape: Shape, swing_deg: float) -> Shape:
    """The shape swung about (0, 0) so that what lies at larger r moves towards larger z. Source: geometry."""
    sin, cos = math.sin(math.radians(swing_deg)), math.cos(math.radians(swing_deg))
    return tuple((z * cos + r * sin, -z * sin + r * cos) for z, r in shape)


def gap_between(first: Shape, second: Shape) -> Gap:
    """The gap between two convex shapes; where they overlap, below zero, the shortest move that parts them.

    Source: separating axes of convex polygons; nearest of corners and edges.
    """
    overlap = _overlap(first, second)
    if overlap is not None:
        return overlap
    best = Gap(math.inf, (0.0, 0.0), (0.0, 0.0))
    for corner in first:
        for start, end in _sides(second):
            foot = _foot(corner, start, end)
            if (apart := math.dist(corner, foot)) < best.gap_mm:
                best = Gap(apart, corner, foot)
    for corner in second:
        for start, end in _sides(first):
            foot = _foot(corner, start, end)
            if (apart := math.dist(corner, foot)) < best.gap_mm:
                best = Gap(apart, foot, corner)
    return best


def _sides(shape: Shape) -> list[tuple[Point, Point]]:
    return list(zip(shape, (*shape[1:], shape[0]), strict=True))


def _overlap(first: Shape, second: Shape) -> Gap | None:
    """The shortest move that parts two overlapping shapes, or None where a line separates them."""
    best, normal = -math.inf, (0.0, 0.0)
    for start, end in (*_sides(first), *_sides(second)):
        long = math.dist(start, end)
        if long < _CLOSE_MM:
            continue
        across = ((end[1] - start[1]) / long, (start[0] - end[0]) / long)
        for tried in (across, (-across[0], -across[1])):
            apart = -_reach(second, (-tried[0], -tried[1])) - _reach(first, tried)
            if apart >= 0:
                return None
            if apart > best:
                best, normal = apart, tried
    return Gap(best, *_where(first, second, best, normal))


def _reach(shape: Shape, direction: Point) -> float:
    return max(z * direction[0] + r * direction[1] for z, r in shape)


def _where(first: Shape, second: Shape, apart: float, normal: Point) -> tuple[Point, Point]:
    """The nearest the axis of the places where that move just parts the shapes: a point of each."""
    top = [p for p in first if _reach((p,), normal) > _reach(first, normal) - 1e-7]
    back = (-normal[0], -normal[1])
    low = [p for p in second if _reach((p,), back) > _reach(second, back) - 1e-7]
    pairs = [(p, _foot(p, low[0], low[-1])) for p in top] + [(_foot(p, top[0], top[-1]), p) for p in low]
    touching = [pair for pair in pairs if math.dist(*pair) < -apart + 1e-6] or pairs
    return min(touching, key=lambda pair: abs(pair[1][1]))


def _foot(point: Point, start: Point, end: Point) -> Point:
    dz, dr = end[0] - start[0], end[1] - start[1]
    long = dz * dz + dr * dr
    share = 0.0 if long == 0 else ((point[0] - start[0]) * dz + (point[1] - start[1]) * dr) / long
    share = min(1.0, max(0.0, share))
    return start[0] + share * dz, start[1] + share * dr


def least_along(gap_at: Callable[[float], float], steps: int = 40) -> float:
    """The share of a straight move, 0 to 1, at which a convex function of it is least.

    Source: ternary search; a convex function that rises at an end is least there.
    """
    if gap_at(1e-4) >= gap_at(0.0):
        return 0.0
    if gap_at(1 - 1e-4) >= gap_at(1.0):
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(steps):
        one, two = low + (high - low) / 3, high - (high - low) / 3
        if gap_at(one) <= gap_at(two):
            high = two
        else:
            low = one
    return (low + high) / 2
