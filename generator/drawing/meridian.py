"""The meridian of a part as it is drawn: both halves, flats cut in, split into stretches. Pure geometry, no drawing.

Positions are (z, r) in mm in the part's own frame; r is never negative, the half it belongs to is said beside it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.description import Ball, Cross, Edge, Outline, Part, outline

__all__ = [
    "Half", "Run", "Stretch", "ball_circles", "cut_polygons", "halves", "is_edge_on", "sectioned_spans",
    "view_angle_deg",
]

Point = tuple[float, float]

_CLOSE_MM = 1e-6
_FREE_MM = 4.0
"""How far a local section reaches beyond the bottom of a hole, in mm on paper. Shop choice."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A straight piece of one half of the outline, from (z0, r0) to (z1, r1), z1 > z0."""

    z0: float
    r0: float
    z1: float
    r1: float

    def radius(self, z: float) -> float:
        """Radius at z inside the stretch."""
        span = self.z1 - self.z0
        return self.r0 if span < _CLOSE_MM else self.r0 + (self.r1 - self.r0) * (z - self.z0) / span

    def between(self, start: float, end: float) -> Stretch | None:
        """The piece of the stretch that lies between two positions, if any."""
        z0, z1 = max(self.z0, start), min(self.z1, end)
        return Stretch(z0, self.radius(z0), z1, self.radius(z1)) if z1 - z0 > _CLOSE_MM else None


Run = tuple[Stretch, ...]


@dataclass(frozen=True, slots=True)
class Half:
    """One half of the meridian: `sign` +1 above the axis, -1 below; `outer` has no gaps, `inner` only hollows."""

    sign: int
    outer: Run
    inner: Run

    def outer_path(self) -> list[Point]:
        """Corners (z, r) of the outside from the tailstock end to the work end."""
        return _path(self.outer)

    def outer_radius(self, z: float) -> float:
        """The largest outside radius at z (both sides of a step count); 0 beyond the ends."""
        return max((s.radius(z) for s in self.outer if s.z0 - _CLOSE_MM <= z <= s.z1 + _CLOSE_MM), default=0.0)


def _path(run: Iterable[Stretch]) -> list[Point]:
    points: list[Point] = []
    for stretch in run:
        for corner in ((stretch.z0, stretch.r0), (stretch.z1, stretch.r1)):
            if not points or math.dist(points[-1], corner) > _CLOSE_MM:
                points.append(corner)
    return points


def _stretches(edges: Iterable[Edge]) -> Run:
    return tuple(Stretch(e.z0, e.r0, e.z1, e.r1) for e in edges if not e.is_face and e.z1 - e.z0 > _CLOSE_MM)


def view_angle_deg(part: Part) -> float:
    """The angle about the axis from which the part is looked at, chosen so that its cross features show.

    A half is seen edge-on; in an outside view holes, then flats, face the viewer. A full section turns everything into
    its own plane.
    """
    by_kind = {cross.kind: cross.angle_deg for cross in reversed(part.cross)}
    if "half" in by_kind:
        return by_kind["half"]
    for kind in ("hole", "flats", "tang"):
        if kind in by_kind:
            return by_kind[kind] - 90.0
    return 0.0


def is_edge_on(part: Part, cross: Cross) -> bool:
    """True where the cross feature is drawn in the plane of the paper, False where it faces the viewer."""
    if part.sectioned:
        return True
    turned = (cross.angle_deg - view_angle_deg(part)) % 180.0
    return turned < 45.0 or turned > 135.0


def halves(part: Part, found: Outline | None = None) -> tuple[Half, Half]:
    """The upper and the lower half of the part as drawn, flats and halves that are seen edge-on cut in."""
    shape = found or outline(part)
    outer, inner = _stretches(shape.outer), _stretches(shape.inner)
    upper, lower = outer, outer
    for cross in part.cross:
        if not is_edge_on(part, cross):
            continue
        near, far = shape.z_of[cross.near], shape.z_of[cross.far]
        if cross.kind in ("flats", "tang"):
            limit = cross.sizes["across"].nominal_mm / 2
            upper, lower = _clamped(upper, near, far, limit), _clamped(lower, near, far, limit)
        elif cross.kind == "half":
            upper = _clamped(upper, near, far, max(0.0, cross.sizes["height"].nominal_mm))
    return Half(1, upper, inner), Half(-1, lower, inner)


def _clamped(run: Run, near: float, far: float, limit: float) -> Run:
    """The run with its radius held to `limit` between two positions."""
    return tuple(piece for stretch in run for piece in _clamp_one(stretch, near, far, limit))


def _clamp_one(stretch: Stretch, near: float, far: float, limit: float) -> Iterator[Stretch]:
    marks = {stretch.z0, stretch.z1}
    marks.update(z for z in (near, far) if stretch.z0 < z < stretch.z1)
    if abs(stretch.r1 - stretch.r0) > _CLOSE_MM:
        crossing = stretch.z0 + (limit - stretch.r0) / (stretch.r1 - stretch.r0) * (stretch.z1 - stretch.z0)
        if stretch.z0 < crossing < stretch.z1:
            marks.add(crossing)
    for z0, z1 in pairwise(sorted(marks)):
        r0, r1 = stretch.radius(z0), stretch.radius(z1)
        if near - _CLOSE_MM <= z0 and z1 <= far + _CLOSE_MM:
            r0, r1 = min(r0, limit), min(r1, limit)
        yield Stretch(z0, r0, z1, r1)


def sectioned_spans(part: Part, found: Outline, scale: float = 1.0) -> tuple[Point, ...]:
    """Stretches (from, to) along the axis that are drawn cut: all of it, or locally round each bore of a solid part."""
    if part.sectioned:
        return ((found.near_z, found.far_z),)
    spans: list[Point] = []
    margin = _FREE_MM / scale
    for edge in found.inner:
        if edge.is_face:
            continue
        start, end = max(found.near_z, edge.z0 - margin), min(found.far_z, edge.z1 + margin)
        if spans and start <= spans[-1][1]:
            spans[-1] = (spans[-1][0], max(spans[-1][1], end))
        else:
            spans.append((start, end))
    return tuple(spans)


def cut_polygons(
    half: Half, start: float, end: float, balls: Sequence[tuple[float, float, float]] = ()
) -> list[list[Point]]:
    """Closed polygons (z, r) of the cut material of one half between two positions; never self-crossing.

    `balls` are circles (z, r, radius) kept free of hatch where they dip into the material.
    """
    marks = sorted(
        {start, end, *(z for s in (*half.outer, *half.inner) for z in (s.z0, s.z1) if start < z < end)}
        | {z for ball in balls for z in _round_marks(ball) if start < z < end}
    )
    top: list[Point] = []
    bottom: list[Point] = []
    polygons: list[list[Point]] = []
    for z0, z1 in pairwise(marks):
        outer, inner = _at(half.outer, z0, z1), _at(half.inner, z0, z1) or Stretch(z0, 0.0, z1, 0.0)
        if outer is None or max(outer.r0 - inner.r0, outer.r1 - inner.r1) < _CLOSE_MM:
            polygons += _closed(top, bottom)
            top, bottom = [], []
            continue
        high0, low0 = _free_of(balls, z0, outer.r0, inner.r0)
        high1, low1 = _free_of(balls, z1, outer.r1, inner.r1)
        top += [(z0, high0), (z1, high1)]
        bottom += [(z0, low0), (z1, low1)]
    return polygons + _closed(top, bottom)


def _closed(top: list[Point], bottom: list[Point]) -> list[list[Point]]:
    corners: list[Point] = []
    for corner in (*top, *reversed(bottom)):
        if not corners or math.dist(corners[-1], corner) > _CLOSE_MM:
            corners.append(corner)
    return [corners] if len(corners) > 2 else []


def _at(run: Run, z0: float, z1: float) -> Stretch | None:
    middle = (z0 + z1) / 2
    found = next((s for s in run if s.z0 <= middle <= s.z1), None)
    return found.between(z0, z1) if found else None


def _round_marks(ball: tuple[float, float, float]) -> list[float]:
    centre, _, radius = ball
    return [centre + radius * math.cos(math.radians(a)) for a in range(0, 181, 15)]


def _free_of(
    balls: Sequence[tuple[float, float, float]], z: float, high: float, low: float
) -> tuple[float, float]:
    """Outer and inner radius at z, moved off any ball that covers them."""
    for centre, pitch, radius in balls:
        half = math.sqrt(max(0.0, radius**2 - (z - centre) ** 2))
        if half <= 0.0:
            continue
        if low < pitch - half < high:
            high = pitch - half
        elif low < pitch + half < high:
            low = pitch + half
    return high, low


def ball_circles(balls: Iterable[Ball], z_of: dict[str, float]) -> list[tuple[float, float, float]]:
    """Circles (z, r, radius) of rows of balls in the upper half."""
    return [(z_of[b.face] + b.offset_mm, b.pitch_diameter_mm / 2, b.ball_diameter_mm / 2) for b in balls]
