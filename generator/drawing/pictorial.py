"""A pictorial view as ink: visible edges of bodies in isometric projection, circles as true ellipses."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from generator.drawing.base import Pen, Point
from generator.drawing.pictorial_bodies import Body, without_chamfers
from generator.drawing.pictorial_edges import Arc, Place, Way, edges_of_body
from generator.drawing.pictorial_sight import VIEW, seen_pieces

__all__ = ["Picture", "draw_picture", "on_paper", "picture_of", "size_of", "strokes_of"]

_LEAST_APART_MM = 0.7
"""Parallel lines stand at least so far apart on paper. Source: clear space between lines, ISO 128, at second hand."""

_HALF, _SIXTH = math.sqrt(1 / 2), math.sqrt(1 / 6)
_FLATNESS = 1 / math.sqrt(3)
"""Small over large half axis of a circle square to one of the axes: the cosine of 54.7 degrees."""

_WIDEST = math.radians(45.0 - 90.0)
"""Angle about the axis at which a circle has the end of its large half axis, a quarter turn from the eye."""


@dataclass(frozen=True, slots=True)
class Picture:
    """What is seen of some bodies: pieces of edges, and of the axis between them; box (x0, y0, x1, y1) in model mm."""

    edges: tuple[Arc | Way, ...]
    axis: tuple[Way, ...]
    box: tuple[float, float, float, float]

    @property
    def width_mm(self) -> float:
        """Width at full size."""
        return self.box[2] - self.box[0]

    @property
    def height_mm(self) -> float:
        """Height at full size."""
        return self.box[3] - self.box[1]


def on_paper(place: Place) -> Point:
    """Where a place is seen, in mm at full size; the axis runs down to the right at 30 degrees."""
    z, y, s = place
    return ((z - s) * _HALF, (2.0 * y - z - s) * _SIXTH)


def size_of(bodies: Iterable[Body]) -> tuple[float, float]:
    """Width and height of the picture of some bodies at full size, cross features left on."""
    wide, tall = (math.hypot(*(on_paper(axis)[k] for axis in ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))) for k in (0, 1))
    xs: list[float] = []
    ys: list[float] = []
    for body in bodies:
        for slab in body.slabs:
            for z, radius in ((slab.z0, slab.outer0), (slab.z1, slab.outer1)):
                x, y = on_paper((z, 0.0, 0.0))
                xs += [x - wide * radius, x + wide * radius]
                ys += [y - tall * radius, y + tall * radius]
    return max(xs) - min(xs), max(ys) - min(ys)


def picture_of(
    bodies: Sequence[Body], scale: float = 1.0, *, screens: Sequence[Body] = (), past_mm: float | None = None
) -> Picture:
    """The visible edges of bodies to be drawn at a scale (paper over model), chamfers too small for it left sharp.

    `screens` hide what is behind them without edges of their own; with `past_mm` the axis is shown where it is seen,
    so far beyond both ends.
    """
    bodies = [without_chamfers(body, _LEAST_APART_MM / scale) for body in bodies]
    edges = [edge for body in bodies for edge in edges_of_body(body, VIEW)]
    count = len(edges)
    if past_mm is not None:
        near, far = min(body.near_z for body in bodies), max(body.far_z for body in bodies)
        edges.append(Way(((near - past_mm, 0.0, 0.0), (far + past_mm, 0.0, 0.0))))
    hiding = [*bodies, *screens]
    seen = seen_pieces(_once(edges[:count]), hiding)
    axis = tuple(way for way in seen_pieces(edges[count:], hiding) if isinstance(way, Way))
    return Picture(tuple(seen), axis, _box((*seen, *axis)))


def _once(edges: Iterable[Arc | Way]) -> list[Arc | Way]:
    """Edges without those that touching parts have in common."""
    kept: dict[tuple[float, ...], Arc | Way] = {}
    for edge in edges:
        if isinstance(edge, Arc):
            key = tuple(round(v, 2) for v in (edge.z, edge.radius, edge.start, edge.end))
        else:
            key = tuple(round(v, 2) for point in (edge.points[0], edge.points[-1]) for v in point)
        kept.setdefault(key, edge)
    return list(kept.values())


def _box(edges: Iterable[Arc | Way]) -> tuple[float, float, float, float]:
    points = [point for edge in edges for point in _points(edge)]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), min(ys), max(xs), max(ys))


def _points(edge: Arc | Way) -> list[Point]:
    """An edge as it is seen, in straight pieces."""
    if isinstance(edge, Way):
        return [on_paper(place) for place in edge.points]
    count = max(2, math.ceil((edge.end - edge.start) / math.radians(10.0)))
    angles = (edge.start + k / count * (edge.end - edge.start) for k in range(count + 1))
    return [on_paper((edge.z, edge.radius * math.cos(a), edge.radius * math.sin(a))) for a in angles]


def strokes_of(picture: Picture) -> list[tuple[float, float, float, float]]:
    """All lines of a picture as straight pieces, full size."""
    return [(*a, *b) for edge in (*picture.edges, *picture.axis) for a, b in pairwise(_points(edge))]


def draw_picture(pen: Pen, picture: Picture, centre: Point, scale: float) -> None:
    """Draw a picture with the middle of its box at a point of the pen's space, in mm of that space."""
    x0, y0, x1, y1 = picture.box
    shift = (centre[0] - scale * (x0 + x1) / 2, centre[1] - scale * (y0 + y1) / 2)

    def at(place: Place) -> Point:
        x, y = on_paper(place)
        return (shift[0] + scale * x, shift[1] + scale * y)

    for edge in picture.edges:
        if isinstance(edge, Arc):
            _ellipse(pen, at((edge.z, 0.0, 0.0)), edge, scale)
        elif len(edge.points) == 2:
            pen.line(at(edge.points[0]), at(edge.points[1]))
        else:
            pen.polyline([at(place) for place in edge.points])
    for way in picture.axis:
        pen.line(at(way.points[0]), at(way.points[-1]), "CENTRE")


def _ellipse(pen: Pen, centre: Point, arc: Arc, scale: float) -> Any:
    """An arc about the axis as a piece of a true ellipse."""
    x, y = on_paper((0.0, math.cos(_WIDEST), math.sin(_WIDEST)))
    large = (scale * arc.radius * x, scale * arc.radius * y)
    is_whole = arc.end - arc.start > math.tau - 1e-6
    start, end = (0.0, math.tau) if is_whole else (arc.start - _WIDEST, arc.end - _WIDEST)
    return pen.space.add_ellipse(centre, large, _FLATNESS, start, end, dxfattribs={"layer": "OUTLINE"})
