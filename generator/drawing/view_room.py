"""The room round the view of a part: what its callouts must keep off. Pure numbers, mm on paper."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from generator.drawing.boxes import Box, Line
from generator.drawing.details import Detail
from generator.drawing.lanes import Side
from generator.drawing.meridian import ball_circles
from generator.drawing.room import Room
from generator.drawing.style import CENTRE_PAST_MM
from generator.drawing.views import View, treated_line
from generator.drawing.wanted import Diameter

__all__ = ["room_round", "sky_of"]

# Callouts may hang over an end of the view by this much between the labels of its diameters.
END_ROOM_MM = 4.0
_FAR_MM = 300.0


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
    skies = {h.sign: [(z * scale, r * scale) for z, r in h.outer_path()] for h in (view.upper, view.lower)}
    return Room(skies, uprights, lines, boxes)


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
