"""The longitudinal view drawn: cut or from outside, with threads, flats, cross holes, balls and its centre line."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from generator.description import Ball, Cross, Zone
from generator.drawing.base import Pen, Point
from generator.drawing.freehand import inner_ends, torn, wave
from generator.drawing.gap import Gap
from generator.drawing.hatch_slope import free_slope
from generator.drawing.meridian import Half, ball_circles, cut_polygons, is_edge_on
from generator.drawing.style import CENTRE_PAST_MM, hatch_pitch_mm
from generator.drawing.views import View, thread_diameter_mm, treated_line

__all__ = ["draw_view"]

_CLOSE_MM = 1e-6
# The root of a thread is drawn at 0.85 of its nominal diameter: drafting habit, from memory.
_ROOT_SHARE = 0.85
_ZIGZAG_MM = 3.0
_ZIGZAG_PAST_MM = 3.0


def draw_view(
    pen: Pen,
    view: View,
    *,
    hatch_angle_deg: float = 45.0,
    hatch_pitch: float | None = None,
    layer: str = "OUTLINE",
    centre_line: bool = True,
    balls: Sequence[Ball] | None = None,
) -> None:
    """Draw the view; `layer` is OUTLINE, or NEIGHBOUR for a part shown for understanding (neither hatched nor centred).

    `balls` are the balls to keep the hatch free of, where they are not the part's own (the outer ring of a bearing).
    """
    _contour(pen, view, layer)
    _edges_across(pen, view, layer)
    _bores(pen, view, layer)
    for zone in view.part.zones:
        if zone.form == "thread":
            _thread(pen, view, zone, layer)
        elif zone.form == "knurl":
            _knurl(pen, view, zone)
        elif layer == "OUTLINE":
            for start, end in treated_line(view, zone, pen.scale):
                pen.line(start, end, "ZONE")
    for cross in view.part.cross:
        _crossing(pen, view, cross, layer)
    for z, r, radius in ball_circles(view.part.balls, dict(view.shape.z_of)):
        for half in view.shown():
            pen.circle(view.at(z, half.sign * r), radius, layer)
    if layer == "OUTLINE":
        circles = ball_circles(view.part.balls if balls is None else balls, dict(view.shape.z_of))
        _hatch(pen, view, hatch_angle_deg, hatch_pitch, circles)
        _break_lines(pen, view)
    for z in (view.gap.start, view.gap.end) if view.gap is not None else ():
        _zigzag(pen, view, z)
    if centre_line and layer == "OUTLINE":
        past = CENTRE_PAST_MM / pen.scale
        pen.line(view.at(view.shape.near_z - past), view.at(view.shape.far_z + past), "CENTRE")


def _contour(pen: Pen, view: View, layer: str) -> None:
    if view.gap is not None:
        for corners in _ends_at_gap(view, view.gap):
            pen.polyline(corners, layer)
        return
    paths = [[view.at(z, half.sign * r) for z, r in half.outer_path()] for half in view.shown()]
    if len(paths) == 2:
        corners = paths[0] + paths[1][::-1]
    else:
        near, far = view.at(view.shape.near_z), view.at(view.shape.far_z)
        corners = [near, *paths[0], far]
    kept = _without_doubles(corners)
    if len(paths) == 2 and math.dist(kept[0], kept[-1]) <= _CLOSE_MM:
        kept.pop()
    pen.polyline(kept, layer, closed=len(paths) == 2)


def _ends_at_gap(view: View, gap: Gap) -> Iterator[list[Point]]:
    """The outline of either end of an interrupted view: from the gap above the axis round the end and back below it."""
    for sign, edge in ((-1, gap.start), (1, gap.end)):
        above, below = (
            [view.at(z, half.sign * r) for z, r in _path_from(half, edge, sign)] for half in (view.upper, view.lower)
        )
        yield _without_doubles(above + below[::-1])


def _path_from(half: Half, edge: float, sign: int) -> list[Point]:
    """Corners of one half from the edge of a gap to the end of the part that lies in that direction."""
    beyond = [(z, r) for z, r in half.outer_path() if sign * (z - edge) > 0]
    return [(edge, half.outer_radius(edge)), *beyond[::sign]]


def _without_doubles(corners: Sequence[Point]) -> list[Point]:
    return [c for i, c in enumerate(corners) if i == 0 or math.dist(c, corners[i - 1]) > _CLOSE_MM]


def _across(pen: Pen, view: View, z: float, radius: tuple[float, float], layer: str) -> None:
    """An upright line at z from the axis side of one half to that of the other, as far as the view shows."""
    top = radius[0] if view.side != "lower" else 0.0
    low = radius[1] if view.side != "upper" else 0.0
    if top + low > _CLOSE_MM:
        pen.line(view.at(z, top), view.at(z, -low), layer)


def _edges_across(pen: Pen, view: View, layer: str) -> None:
    """Edges of an outside view: the smaller radius at every step and every change of slope."""
    ends = (view.shape.near_z, view.shape.far_z)
    marks = sorted({round(s.z1, 9) for s in view.upper.outer} | {round(s.z1, 9) for s in view.lower.outer})
    for z in marks:
        if min(abs(z - end) for end in ends) < _CLOSE_MM or view.is_cut(z):
            continue
        radius = tuple(
            min((r for r in _both_sides(half, z)), default=half.outer_radius(z)) for half in (view.upper, view.lower)
        )
        if any(_breaks(half, z) for half in (view.upper, view.lower)):
            _across(pen, view, z, (radius[0], radius[1]), layer)


def _both_sides(half: Half, z: float) -> list[float]:
    return [s.radius(z) for s in half.outer if s.z0 - _CLOSE_MM <= z <= s.z1 + _CLOSE_MM]


def _breaks(half: Half, z: float) -> bool:
    """True where the outside of one half steps or changes its slope."""
    before = next((s for s in half.outer if abs(s.z1 - z) < _CLOSE_MM), None)
    after = next((s for s in half.outer if abs(s.z0 - z) < _CLOSE_MM), None)
    if before is None or after is None:
        return False
    slope = [(s.r1 - s.r0) / (s.z1 - s.z0) for s in (before, after)]
    return abs(before.r1 - after.r0) > _CLOSE_MM or abs(slope[0] - slope[1]) > 1e-9


def _bores(pen: Pen, view: View, layer: str) -> None:
    """Inner edges of both halves and the edges seen behind the cut; hidden lines where nothing is cut."""
    ends = (view.shape.near_z, view.shape.far_z)
    rims: dict[float, float] = {}
    for edge in view.shape.inner:
        if edge.is_face:
            continue
        for half in view.shown():
            for z0, z1 in view.pieces(edge.z0, edge.z1):
                # An edge that runs over a gap is level.
                pen.line(view.at(z0, half.sign * edge.r0), view.at(z1, half.sign * edge.r1), layer)
        for z, r in ((round(edge.z0, 9), edge.r0), (round(edge.z1, 9), edge.r1)):
            rims[z] = max(rims.get(z, 0.0), r)
    for z, r in rims.items():
        if min(abs(z - end) for end in ends) > _CLOSE_MM and not _runs_on(view, z):
            _across(pen, view, z, (r, r), layer)


def _runs_on(view: View, z: float) -> bool:
    """True where one bore goes on as another of its size: there is no edge to be seen."""
    before = next((e for e in view.shape.inner if not e.is_face and abs(e.z1 - z) < _CLOSE_MM), None)
    after = next((e for e in view.shape.inner if not e.is_face and abs(e.z0 - z) < _CLOSE_MM), None)
    if before is None or after is None:
        return False
    is_level = abs(before.r1 - before.r0) < _CLOSE_MM and abs(after.r1 - after.r0) < _CLOSE_MM
    return is_level and abs(before.r1 - after.r0) < _CLOSE_MM


def _hatch(
    pen: Pen, view: View, angle_deg: float, pitch: float | None, balls: Sequence[tuple[float, float, float]]
) -> None:
    polygons: list[list[Point]] = []
    wall = math.inf
    for start, end in view.spans:
        for z0, z1 in (piece for whole in _without_holes(view, start, end) for piece in view.pieces(*whole)):
            for half in view.shown():
                for corners in cut_polygons(half, z0, z1, balls):
                    wall = min(wall, _thickness(corners))
                    rim = torn(corners, half.sign, {z: wave(view, z, pen.scale) for z in inner_ends(view)})
                    polygons.append([view.at(z, half.sign * r) for z, r in rim])
    if polygons:
        chosen = pitch or hatch_pitch_mm(wall * pen.scale)
        pen.hatch(polygons, free_slope(polygons, -angle_deg if view.flip else angle_deg, pen.scale), chosen)


def _thickness(corners: Sequence[Point]) -> float:
    """Mean thickness of a cut area: its surface over its length."""
    area = 0.0
    for (x0, y0), (x1, y1) in zip(corners, [*corners[1:], corners[0]], strict=True):
        area += (x0 * y1 - x1 * y0) / 2
    length = max(x for x, _ in corners) - min(x for x, _ in corners)
    return abs(area) / length if length > 0 else math.inf


def _hole_middle(view: View, cross: Cross) -> tuple[float, float]:
    """Position of the middle of a cross hole and its radius."""
    z_of = view.shape.z_of
    return (z_of[cross.near] + z_of[cross.far]) / 2, cross.sizes["diameter"].nominal_mm / 2


def _without_holes(view: View, start: float, end: float) -> list[Point]:
    """The span less the cross holes that are cut lengthwise."""
    spans = [(start, end)]
    for cross in view.part.cross:
        if cross.kind != "hole" or not is_edge_on(view.part, cross):
            continue
        middle, radius = _hole_middle(view, cross)
        spans = [
            piece
            for z0, z1 in spans
            for piece in ((z0, min(z1, middle - radius)), (max(z0, middle + radius), z1))
            if piece[1] - piece[0] > _CLOSE_MM
        ]
    return spans


def _break_lines(pen: Pen, view: View) -> None:
    """Freehand narrow lines where a local section ends inside the part."""
    for end in inner_ends(view):
        pen.polyline([view.at(z, y) for z, y in wave(view, end, pen.scale)], "DIM")


def _zigzag(pen: Pen, view: View, z: float) -> None:
    """A narrow line with one zigzag at an end of a gap, a little longer than the part is thick."""
    reach = [half.sign * (half.outer_radius(z) + _ZIGZAG_PAST_MM / pen.scale) for half in (view.upper, view.lower)]
    middle, tall, wide = sum(reach) / 2, _ZIGZAG_MM / pen.scale, _ZIGZAG_MM / 2.5 / pen.scale
    turns = ((0.0, tall), (-wide, tall / 3), (wide, -tall / 3), (0.0, -tall))
    points = [(0.0, reach[0]), *((x, middle + y) for x, y in turns), (0.0, reach[1])]
    pen.polyline([view.at(z + x, y) for x, y in points], "BREAK")


def _thread(pen: Pen, view: View, zone: Zone, layer: str) -> None:
    surface = view.part.surface(zone.surface)
    z_of = view.shape.z_of
    near, far = z_of[zone.near], z_of[zone.far]
    wide = surface.diameter.nominal_mm / 2
    inside = surface.side.startswith("inside")
    nominal = (thread_diameter_mm(zone) or 0.0) / 2
    if inside:
        narrow = nominal if nominal > wide + _CLOSE_MM else wide / _ROOT_SHARE
    else:
        narrow = wide * _ROOT_SHARE
    gap = 0.7 / pen.scale
    narrow = max(narrow, wide + gap) if inside else min(narrow, wide - gap)
    if narrow <= 0.0 or (inside and not view.is_cut((near + far) / 2)):
        return
    thin = layer if layer == "NEIGHBOUR" else "DIM"
    for half in view.shown():
        for z0, z1 in view.pieces(near, far):
            pen.line(view.at(z0, half.sign * narrow), view.at(z1, half.sign * narrow), thin)
    ends = {z_of[surface.near], z_of[surface.far], view.shape.near_z, view.shape.far_z}
    for z in (near, far):
        if min(abs(z - end) for end in ends) > _CLOSE_MM:
            reach = max(wide, narrow)
            _across(pen, view, z, (reach, reach), layer)


def _knurl(pen: Pen, view: View, zone: Zone) -> None:
    """The crossed pattern on a part of the surface, in an outside view only."""
    z_of = view.shape.z_of
    near, far = z_of[zone.near], z_of[zone.far]
    if view.is_cut((near + far) / 2):
        return
    start = far - (far - near) / 3
    radius = min(view.upper.outer_radius(far - _CLOSE_MM * 2), view.lower.outer_radius(far - _CLOSE_MM * 2))
    corners = [view.at(start, -radius), view.at(far, -radius), view.at(far, 0.0), view.at(start, 0.0)]
    for angle in (30.0, -30.0):
        pen.hatch([corners], angle, 1.2)


def _crossing(pen: Pen, view: View, cross: Cross, layer: str) -> None:
    if cross.kind == "hole":
        _hole(pen, view, cross, layer)
    elif cross.kind in ("flats", "tang") and not is_edge_on(view.part, cross):
        _flats_in_front(pen, view, cross, layer)


def _hole(pen: Pen, view: View, cross: Cross, layer: str) -> None:
    middle, radius = _hole_middle(view, cross)
    past = CENTRE_PAST_MM / pen.scale
    top, low = view.upper.outer_radius(middle), view.lower.outer_radius(middle)
    thin = "NEIGHBOUR" if layer == "NEIGHBOUR" else "CENTRE"
    if not is_edge_on(view.part, cross):
        pen.circle(view.at(middle), radius, layer)
        pen.line(view.at(middle, radius + past), view.at(middle, -radius - past), thin)
        return
    edge_layer = layer if view.is_cut(middle) else "HIDDEN"
    bore = max((s.radius(middle) for s in view.upper.inner if s.z0 <= middle <= s.z1), default=0.0)
    for z in (middle - radius, middle + radius):
        for sign, outside in ((1, top), (-1, low)):
            if (view.side, sign) in (("upper", -1), ("lower", 1)):
                continue
            pen.line(view.at(z, sign * bore), view.at(z, sign * outside), edge_layer)
    pen.line(view.at(middle, top + past), view.at(middle, -low - past), thin)


def _flats_in_front(pen: Pen, view: View, cross: Cross, layer: str) -> None:
    """Flats that face the viewer: their long edges, their ends, and the narrow diagonal cross."""
    z_of: Mapping[str, float] = view.shape.z_of
    near, far = z_of[cross.near], z_of[cross.far]
    radius = view.upper.outer_radius((near + far) / 2)
    half = cross.sizes["across"].nominal_mm / 2
    if half >= radius:
        return
    chord = math.sqrt(radius**2 - half**2)
    corners = [view.at(z, sign * chord) for z, sign in ((near, 1), (far, 1), (far, -1), (near, -1))]
    pen.line(corners[0], corners[1], layer)
    pen.line(corners[3], corners[2], layer)
    for z in (near, far):
        if not (_breaks(view.upper, z) or min(abs(z - e) for e in (view.shape.near_z, view.shape.far_z)) < _CLOSE_MM):
            pen.line(view.at(z, chord), view.at(z, -chord), layer)
    thin = layer if layer == "NEIGHBOUR" else "DIM"
    pen.line(corners[0], corners[2], thin)
    pen.line(corners[1], corners[3], thin)
