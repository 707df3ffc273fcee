"""The job's own problem: a turning tool that must pass between the work and the fat parts of the tailstock tooling.

Plan view, in the tool's frame: z towards the work, r from the axis towards the operator. A right-hand tool cuts
towards the headstock; its holder lies beside the tip on the tailstock side.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from generator.description import Choices, Silhouette

__all__ = [
    "Nearest",
    "Passing",
    "holder_corners",
    "insert_corners",
    "least_gap",
    "nose_end_needed_mm",
    "passing_of",
    "silhouettes",
]


@dataclass(frozen=True, slots=True)
class Passing:
    """The tool that must pass, all in mm.

    `tip_ahead`: how far the tip stands ahead of the holder (towards the axis). `tip_beside`: how far it stands beside
    the holder's headstock flank. `insert_width`: how far insert and seat reach from the tip towards the tailstock
    before the holder's full front begins. `end_distance`: tip to the work's end face at the end of the cut.
    """

    holder_width_mm: float
    tip_ahead_mm: float
    tip_beside_mm: float
    insert_width_mm: float
    work_diameter_mm: float
    end_distance_mm: float
    clearance_mm: float

    @property
    def reach_mm(self) -> float:
        """From the tip to the holder's tailstock flank."""
        return self.holder_width_mm + self.tip_beside_mm

    @property
    def front_radius_mm(self) -> float:
        """Where the holder's front stands when the tip is at the finished diameter."""
        return self.work_diameter_mm / 2 + self.tip_ahead_mm


def nose_end_needed_mm(
    passing: Passing, obstacles: Iterable[tuple[float, float]], face_beyond_mm: float
) -> float | None:
    """Least z of the nose's front end so that holder and insert clear every obstacle, or None if nothing is in the way.

    `obstacles` are (front z, radius) of the fat parts; `face_beyond_mm` is how far the work's end face stands beyond
    the end of the nose (the point's cone up to the mouth of the centre hole).
    """
    air = passing.clearance_mm
    needed = []
    for z, radius in obstacles:
        if radius + air > passing.front_radius_mm:
            needed.append(z + air + passing.reach_mm)
        elif radius + air > passing.work_diameter_mm / 2:
            needed.append(z + air + passing.insert_width_mm)
    return max(needed) - passing.end_distance_mm - face_beyond_mm if needed else None


def holder_corners(passing: Passing, face_z_mm: float, length_mm: float = 60.0) -> tuple[tuple[float, float], ...]:
    """Outline of the holder with the tip at the end of its cut, the work's end face at `face_z_mm`."""
    tip = face_z_mm + passing.end_distance_mm
    near, far = tip - passing.reach_mm, tip - passing.tip_beside_mm
    front, back = passing.front_radius_mm, passing.front_radius_mm + length_mm
    return ((near, back), (near, front), (far, front), (far, back))


def insert_corners(passing: Passing, face_z_mm: float) -> tuple[tuple[float, float], ...]:
    """Outline of tip and insert: from the tip at the finished diameter back to the holder's front."""
    tip = face_z_mm + passing.end_distance_mm
    edge, front = passing.work_diameter_mm / 2, passing.front_radius_mm
    near = tip - passing.insert_width_mm
    return ((tip, edge), (tip, front), (near, front), (near, edge + min(1.0, passing.tip_ahead_mm / 2)))


def passing_of(choices: Choices) -> Passing | None:
    """The tool that must pass, from the parameters under "passes.", or None where the job names none."""
    values = choices.values()
    if "passes.holder_width" not in values:
        return None

    def number(key: str) -> float:
        return float(values[f"passes.{key}"])

    return Passing(
        number("holder_width"),
        number("tip_ahead"),
        number("tip_beside"),
        number("insert_width"),
        number("work_diameter"),
        number("end_distance"),
        number("clearance"),
    )


def silhouettes(passing: Passing, face_z_mm: float) -> tuple[Silhouette, ...]:
    """Holder and insert with the tip at the end of its cut, to be drawn in thin chain line."""
    holder = Silhouette("holder", "Tool holder", holder_corners(passing, face_z_mm, 25.0))
    return holder, Silhouette("insert", "", insert_corners(passing, face_z_mm))


@dataclass(frozen=True, slots=True)
class Nearest:
    """The least gap between the passing tool and a part; negative where they overlap, by how deep."""

    gap_mm: float
    part: str
    z_mm: float
    r_mm: float


Point = tuple[float, float]


def least_gap(outline: Iterable[tuple[str, Point, Point]], shapes: Iterable[tuple[Point, ...]]) -> Nearest | None:
    """The least gap between named outer edges of a tool (part, start, end) and closed shapes.

    Points are (z, r). Where a corner of an edge lies inside a shape the gap is negative: the depth it is in.
    """
    edges = list(outline)
    best: Nearest | None = None
    for shape in shapes:
        sides = list(pairwise((*shape, shape[0])))
        ordered = [(_apart(start, end, shape), part, start, end) for part, start, end in edges]
        for apart, part, start, end in sorted(ordered, key=lambda held: held[0]):
            if best is not None and apart > max(best.gap_mm, 0.0):
                break
            for gap, (z, r) in _gaps(start, end, shape, sides):
                if best is None or gap < best.gap_mm:
                    best = Nearest(gap, part, z, r)
    return best


def _apart(start: Point, end: Point, shape: tuple[Point, ...]) -> float:
    """The gap of the upright boxes round an edge and a shape: the true gap is never less; 0 where they overlap."""
    gaps = (
        max(min(c[axis] for c in shape) - max(start[axis], end[axis]),
            min(start[axis], end[axis]) - max(c[axis] for c in shape), 0.0)
        for axis in (0, 1)
    )  # fmt: skip
    return math.hypot(*gaps)


def _gaps(
    start: Point, end: Point, shape: tuple[Point, ...], sides: list[tuple[Point, Point]]
) -> Iterable[tuple[float, Point]]:
    for corner in _sampled(start, end):
        away = min(_to_segment(corner, a, b) for a, b in sides)
        yield (-away if _inside(corner, shape) else away), corner
    for corner in shape:
        yield _to_segment(corner, start, end), corner


def _sampled(start: Point, end: Point) -> Iterable[Point]:
    """Both ends, and points every half millimetre between them, so that an overlap in the middle is seen."""
    steps = max(1, math.ceil(math.dist(start, end) / 0.5))
    for step in range(steps + 1):
        share = step / steps
        yield (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))


def _to_segment(point: Point, a: Point, b: Point) -> float:
    dz, dr = b[0] - a[0], b[1] - a[1]
    long = dz * dz + dr * dr
    share = 0.0 if long == 0 else min(1.0, max(0.0, ((point[0] - a[0]) * dz + (point[1] - a[1]) * dr) / long))
    return math.hypot(point[0] - a[0] - share * dz, point[1] - a[1] - share * dr)


def _inside(point: Point, shape: tuple[Point, ...]) -> bool:
    """True strictly inside the closed shape (crossing number)."""
    z, r = point
    crossings = 0
    for (z0, r0), (z1, r1) in pairwise((*shape, shape[0])):
        if (r0 > r) != (r1 > r) and z < z0 + (r - r0) / (r1 - r0) * (z1 - z0):
            crossings += 1
    return crossings % 2 == 1
