"""The room round the view of a part: what its callouts must keep off. Pure numbers, mm on paper."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from generator.drawing.base import Pen, Point
from generator.drawing.boxes import Box, Line
from generator.drawing.details import Detail
from generator.drawing.lanes import Side
from generator.drawing.meridian import ball_circles
from generator.drawing.room import Room
from generator.drawing.style import CENTRE_PAST_MM
from generator.drawing.view_drawing import draw_view
from generator.drawing.views import View, treated_line
from generator.drawing.wanted import Diameter

__all__ = ["drawn_lines", "room_round", "sky_of"]

# Callouts may hang over an end of the view by this much between the labels of its diameters.
END_ROOM_MM = 4.0
# Zigzags reach out of their line by so much, and callouts keep off them.
GAP_RIM_MM = 2.0
_FAR_MM = 300.0
_CHORDS = 24
_LONGER_MM = 0.15


def room_round(
    view: View,
    scale: float,
    ends: dict[int, Side],
    groups: tuple[Sequence[Diameter], Sequence[Diameter]],
    sides: Mapping[int, Side],
    details: Sequence[Detail],
) -> Room:
    """What callouts must keep off: extension lines and the lanes at both ends."""
    uprights = {
        sign: [x for lane in side.lanes for p in lane for x in (p.item.low, p.item.high)]
        for sign, side in sides.items()
    }
    near, far = view.shape.near_z * scale, view.shape.far_z * scale
    lines: list[Line] = [Line((near - 4.0, 0.0), (far + 4.0, 0.0))]
    boxes: list[Box] = []
    for sign, group in zip((-1, 1), groups, strict=True):
        side, end = ends[sign], near if sign < 0 else far
        for diameter in group:
            root = (diameter.near if sign < 0 else diameter.far) * scale
            for y in (-diameter.radius * scale, diameter.radius * scale):
                lines.append(Line((root, y), (end + sign * side.depth, y)))
        if side.lanes:
            low, high = side.extent
            inner, outer = sorted((end + sign * END_ROOM_MM, end + sign * _FAR_MM))
            boxes.append(Box(inner, low - 1.0, outer, high + 1.0))
    lines += _lines_across(view, scale, details)
    for z, r, radius in ball_circles(view.part.balls, dict(view.shape.z_of)):
        for sign in (1, -1):
            x, y, reach = z * scale, sign * r * scale, radius * scale
            boxes.append(Box(x - reach, y - reach, x + reach, y + reach))
    if view.gap is not None:
        past = {sign: sky_of(view, sign, scale) + CENTRE_PAST_MM + 1.0 for sign in (1, -1)}
        rim = GAP_RIM_MM
        boxes.append(Box(view.gap.start * scale - rim, -past[-1], view.gap.end * scale + rim, past[1]))
    skies = {h.sign: [(z * scale, r * scale) for z, r in h.outer_path()] for h in (view.upper, view.lower)}
    return Room(skies, uprights, lines, boxes, drawn_lines(view, scale, details))


@dataclass(frozen=True, slots=True)
class _Tracer(Pen):
    """A pen that draws nothing but keeps the straight pieces of what it is asked to draw."""

    pieces: list[Line] = field(default_factory=list)

    def line(self, start: Point, end: Point, layer: str = "OUTLINE") -> Any:
        """Keep a straight line."""
        self.pieces.append(Line(start, end))

    def polyline(self, points: Sequence[Point], layer: str = "OUTLINE", *, closed: bool = False) -> Any:
        """Keep the pieces of a polyline."""
        self.pieces.extend(Line(a, b) for a, b in pairwise([*points, points[0]] if closed else points))

    def circle(self, centre: Point, radius: float, layer: str = "OUTLINE") -> Any:
        """Keep a circle as its chords."""
        ways = [2 * math.pi * i / _CHORDS for i in range(_CHORDS)]
        spots = [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in ways]
        self.polyline(spots, closed=True)

    def hatch(self, *_: Any, **__: Any) -> Any:
        """Hatch lines are no hindrance."""


def drawn_lines(view: View, scale: float, details: Sequence[Detail] = ()) -> list[Line]:
    """Every line of the view in mm on paper, hatch and axis left out: what must not run through an arrow head."""
    pen = _Tracer(None, scale)
    draw_view(pen, view, centre_line=False)
    for surface in view.part.surfaces:
        if surface.role == "taper":
            z, reach = view.shape.z_of[surface.at], surface.diameter.nominal_mm / 2 + CENTRE_PAST_MM / scale
            pen.line((z, -reach), (z, reach), "CENTRE")
    for detail in details:
        pen.circle(detail.window.middle, detail.window.reach, "DIM")
    return [_lengthened(piece, scale) for piece in pen.pieces]


def _lengthened(piece: Line, scale: float) -> Line:
    """A piece in mm on paper, a little longer at both ends, so that nothing slips through where two pieces meet."""
    (x0, y0), (x1, y1) = piece.start, piece.end
    length = math.hypot(x1 - x0, y1 - y0) * scale or 1.0
    dx, dy = (_LONGER_MM * (b - a) * scale / length for a, b in ((x0, x1), (y0, y1)))
    return Line((x0 * scale - dx, y0 * scale - dy), (x1 * scale + dx, y1 * scale + dy))


def _lines_across(view: View, scale: float, details: Sequence[Detail]) -> Iterator[Line]:
    """Centre lines of cross holes, gauge planes, and a square round the circle of each detail."""
    z_of = view.shape.z_of
    for cross in view.part.cross:
        if cross.kind == "hole":
            z = (z_of[cross.near] + z_of[cross.far]) / 2
            reach = view.upper.outer_radius(z) * scale + CENTRE_PAST_MM
            yield Line((z * scale, -reach), (z * scale, reach))
    for surface in view.part.surfaces:
        if surface.role == "taper":
            x, reach = z_of[surface.at] * scale, surface.diameter.nominal_mm / 2 * scale + CENTRE_PAST_MM
            yield Line((x, -reach), (x, reach))
    for zone in view.part.zones:
        if zone.form not in ("thread", "knurl"):
            for start, end in treated_line(view, zone, scale):
                yield Line((start[0] * scale, start[1] * scale), (end[0] * scale, end[1] * scale))
    for detail in details:
        (z, r), reach = detail.window.middle, detail.window.reach * scale
        x, y = z * scale, r * scale
        for side in (-reach, reach):
            yield Line((x - reach, y + side), (x + reach, y + side))
            yield Line((x + side, y - reach), (x + side, y + reach))


def sky_of(view: View, sign: int, scale: float) -> float:
    """The greatest |y| of one half on paper, balls included."""
    half = view.upper if sign > 0 else view.lower
    balls = [b.pitch_diameter_mm / 2 + b.ball_diameter_mm / 2 for b in view.part.balls]
    return max(*(r for _, r in half.outer_path()), *balls) * scale
