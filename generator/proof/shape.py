"""The long view of a part as its outline tells it: axis, faces, diameters and cones, read from lines alone."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from generator.drawing.boxes import Box, overlaps
from generator.proof.gaps import gaps_of
from generator.proof.sheet import Point, Segment, Sheet

__all__ = ["CLOSE_MM", "Cone", "LongView", "Surface", "long_view", "same"]

CLOSE_MM = 1e-3
_TOUCH_MM = 0.05
_RIM_MM = 0.5
_EDGE_LAYERS = ("OUTLINE", "HIDDEN")


def same(one: float, other: float) -> bool:
    """True for two lengths that are one on any drawing."""
    return abs(one - other) <= CLOSE_MM


@dataclass(frozen=True, slots=True)
class Cone:
    """A slanting edge: its ends as position and radius, the nearer end first."""

    x0: float
    r0: float
    x1: float
    r1: float

    @property
    def half_angle_deg(self) -> float:
        """Angle to the axis."""
        return math.degrees(math.atan2(abs(self.r1 - self.r0), self.x1 - self.x0))

    def radius(self, x: float) -> float | None:
        """Radius at a position between its ends."""
        if not self.x0 - CLOSE_MM <= x <= self.x1 + CLOSE_MM:
            return None
        return self.r0 + (self.r1 - self.r0) * (x - self.x0) / (self.x1 - self.x0)


@dataclass(frozen=True, slots=True)
class Surface:
    """A level edge: a cylinder seen from the side."""

    x0: float
    x1: float
    radius: float
    handle: str


@dataclass(frozen=True, slots=True)
class LongView:
    """The view along the axis of a turned part, heights measured from the axis."""

    axis_y: float
    faces: tuple[tuple[float, str], ...]
    surfaces: tuple[Surface, ...]
    cones: tuple[Cone, ...]
    hole_middles: tuple[float, ...]
    planes: tuple[float, ...]
    narrow: tuple[Surface, ...]
    box: Box
    others: tuple[Box, ...]
    upright: tuple[tuple[float, float, float], ...] = ()

    def home(self, points: Sequence[Point]) -> str:
        """Which view some points lie in: "long", "detail" (above or below it, at its own places) or "end"."""
        rim = self.box.grown(_RIM_MM)
        if all(rim.bottom <= y <= rim.top and rim.left <= x <= rim.right for x, y in points):
            return "long"
        for box in self.others:
            near = box.grown(_RIM_MM)
            # A detail shows one half only, so one end of a diameter lies beyond it.
            is_here = any(near.bottom <= y <= near.top for _, y in points)
            if is_here and all(near.left <= x <= near.right for x, _ in points):
                beside = box.left >= self.box.right or box.right <= self.box.left
                return "end" if beside else "detail"
        xs = [x for x, _ in points]
        return "end" if min(xs) > rim.right or max(xs) < rim.left else "long"

    def edge_at(self, x: float, y: float) -> int:
        """Which of the upright edges at x a height belongs to: a step outside and a floor inside may share a place."""
        spans: list[tuple[float, float]] = []
        for _, low, high in sorted(u for u in self.upright if same(u[0], x)):
            if spans and low <= spans[-1][1] + CLOSE_MM:
                spans[-1] = (spans[-1][0], max(spans[-1][1], high))
            else:
                spans.append((low, high))
        radius = self.radius(y)
        return min(range(len(spans)), key=lambda k: _away(radius, spans[k]), default=0)

    def radius(self, y: float) -> float:
        """Distance of a height from the axis."""
        return abs(y - self.axis_y)

    def on_edge(self, point: Point) -> bool:
        """True where a point lies on a level or slanting edge, at a corner, or at a face."""
        x, r = point[0], self.radius(point[1])
        if any(s.x0 - CLOSE_MM <= x <= s.x1 + CLOSE_MM and same(s.radius, r) for s in (*self.surfaces, *self.narrow)):
            return True
        return any((found := cone.radius(x)) is not None and same(found, r) for cone in self.cones)


def _away(radius: float, span: tuple[float, float]) -> float:
    return max(span[0] - radius, radius - span[1], 0.0)


def long_view(sheet: Sheet) -> LongView | None:
    """The long view of a part, or None where the sheet has no axis with edges about it."""
    axes = [
        s for s in sheet.segments if s.layer == "CENTRE" and same(s.start[1], s.end[1]) and s.length > CLOSE_MM
    ]
    edges = [s for s in sheet.segments if s.layer in _EDGE_LAYERS]
    if not axes or not edges:
        return None
    groups = _groups(edges, [gap.box for gap in gaps_of(sheet.segments)])
    best: tuple[float, Segment, list[Segment]] | None = None
    for group in groups:
        box = _box(s for s in group)
        if _is_end_view(group, box):
            continue
        for axis in axes:
            x0, x1 = sorted((axis.start[0], axis.end[0]))
            inside = box.bottom - _TOUCH_MM <= axis.start[1] <= box.top + _TOUCH_MM
            if inside and x0 <= box.left + _TOUCH_MM and x1 >= box.right - _TOUCH_MM:
                length = box.right - box.left
                if best is None or length > best[0]:
                    best = (length, axis, group)
    if best is None:
        return None
    others = tuple(_box(group) for group in groups if group is not best[2])
    return _read(sheet, best[1].start[1], best[2], others)


def _groups(edges: Sequence[Segment], gaps: Sequence[Box]) -> list[list[Segment]]:
    """Edges that hang together by the boxes of their entities, or over a gap: one group for each view."""
    by_handle: dict[str, list[Segment]] = {}
    for edge in edges:
        by_handle.setdefault(edge.handle, []).append(edge)
    groups: list[tuple[Box, list[Segment]]] = [(box, []) for box in gaps]
    for pieces in by_handle.values():
        box, group = _box(pieces).grown(_TOUCH_MM), list(pieces)
        apart = []
        for other_box, other in groups:
            if overlaps(box, other_box):
                box = Box(
                    min(box.left, other_box.left), min(box.bottom, other_box.bottom),
                    max(box.right, other_box.right), max(box.top, other_box.top),
                )
                group += other
            else:
                apart.append((other_box, other))
        groups = [*apart, (box, group)]
    return [group for _, group in groups if group]


def _box(pieces: Iterable[Segment]) -> Box:
    spots = [spot for piece in pieces for spot in (piece.start, piece.end)]
    xs, ys = [p[0] for p in spots], [p[1] for p in spots]
    return Box(min(xs), min(ys), max(xs), max(ys))


def _is_end_view(group: Sequence[Segment], box: Box) -> bool:
    """True where a circle or arc is as wide as the view: it looks along the axis."""
    round_pieces = [s for s in group if s.kind in ("CIRCLE", "ARC")]
    if not round_pieces:
        return False
    ring = _box(round_pieces)
    width, height = box.right - box.left, box.top - box.bottom
    return ring.right - ring.left > 0.9 * width and ring.top - ring.bottom > 0.7 * height


def _read(sheet: Sheet, axis_y: float, group: Sequence[Segment], others: tuple[Box, ...]) -> LongView:
    straight = [s for s in _merged(group) if s.kind not in ("CIRCLE", "ARC")]
    surfaces, cones, upright = [], [], []
    for s in straight:
        (x0, y0), (x1, y1) = sorted((s.start, s.end))
        if same(x0, x1):
            upright.append((x0, s.handle, min(y0, y1), max(y0, y1)))
        elif same(y0, y1):
            surfaces.append(Surface(x0, x1, abs(y0 - axis_y), s.handle))
        elif (y0 - axis_y) * (y1 - axis_y) > -CLOSE_MM:
            cones.append(Cone(x0, abs(y0 - axis_y), x1, abs(y1 - axis_y)))
    planes = tuple(
        s.start[0] for s in sheet.segments if s.layer == "CENTRE" and same(s.start[0], s.end[0]) and s.length > CLOSE_MM
    )
    middles = tuple(plane for plane in planes if _is_hole(plane, upright, surfaces))
    faces = {round(x, 6): handle for x, handle, _, _ in upright if not _at_hole(x, upright, middles)}
    for cone in cones:
        faces |= {round(x, 6): "" for x in (cone.x0, cone.x1) if round(x, 6) not in faces}
    narrow = tuple(
        Surface(min(s.start[0], s.end[0]), max(s.start[0], s.end[0]), abs(s.start[1] - axis_y), s.handle)
        for s in sheet.segments
        if s.layer == "DIM" and s.kind == "LINE" and same(s.start[1], s.end[1])
    )
    return LongView(
        axis_y, tuple(sorted(faces.items())), tuple(surfaces), tuple(dict.fromkeys(cones)), middles, planes, narrow,
        _box(group), others,
        tuple((x, *_radial(low - axis_y, high - axis_y)) for x, _, low, high in upright),
    )


def _radial(low: float, high: float) -> tuple[float, float]:
    """Least and greatest distance from the axis of an upright edge."""
    return (0.0 if low <= 0.0 <= high else min(abs(low), abs(high))), max(abs(low), abs(high))


def _merged(group: Sequence[Segment]) -> list[Segment]:
    """The pieces with corners that do not turn taken out of polylines."""
    result: list[Segment] = []
    for piece in group:
        last = result[-1] if result else None
        if (
            last is not None
            and last.handle == piece.handle
            and piece.kind == "LWPOLYLINE"
            and last.end == piece.start
            and _is_straight(last.start, last.end, piece.end)
        ):
            result[-1] = Segment(last.start, piece.end, piece.layer, piece.handle, piece.kind)
        elif piece.length > CLOSE_MM / 10:
            result.append(piece)
    return result


def _is_straight(a: Point, b: Point, c: Point) -> bool:
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]
    along = ux * vx + uy * vy
    return along > 0 and abs(ux * vy - uy * vx) <= 1e-6 * along


_Upright = tuple[float, str, float, float]


def _is_hole(plane: float, upright: Sequence[_Upright], surfaces: Sequence[Surface]) -> bool:
    """True where upright edges stand in pairs about a plane and no level edge ends there."""
    if any(same(plane, x) for s in surfaces for x in (s.x0, s.x1)):
        return False
    return any(
        x < plane and any(same(other - plane, plane - x) and same(low, low1) for other, _, low1, _ in upright)
        for x, _, low, _ in upright
    )


def _at_hole(x: float, upright: Sequence[_Upright], middles: Sequence[float]) -> bool:
    """True for an edge of a cross hole: it has its mirror image about the hole's middle."""
    own = [(low, high) for at, _, low, high in upright if same(at, x)]
    return any(
        not same(x, middle)
        and any(
            same(at, 2 * middle - x) and any(same(low, a) and same(high, b) for a, b in own)
            for at, _, low, high in upright
        )
        for middle in middles
    )
