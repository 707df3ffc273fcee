"""The end view: what flats, a tang or a half look like along the axis, on the side that the projection demands.

Source: in first angle a view seen from the left stands at the right, in third angle at the side it is seen from
(ISO 128-3, formerly ISO 5456-2), at second hand. Numbers are mm on paper unless said.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from generator.description import Cross, Edge, Size
from generator.drawing.base import Pen
from generator.drawing.boxes import Box, union
from generator.drawing.certain import certain
from generator.drawing.labels import label_of
from generator.drawing.lane_lines import DimensionLine, lane_item
from generator.drawing.lanes import Placed, Side, lay_out
from generator.drawing.manner import Manner
from generator.drawing.meridian import is_edge_on
from generator.drawing.style import CENTRE_PAST_MM, CLEAR_MM
from generator.drawing.views import View, thread_diameter_mm
from generator.drawing.wanted import Diameter, LengthLine, Requests

__all__ = ["END_VIEW_APART_MM", "EndView", "draw_end_view", "end_view_of"]

END_VIEW_APART_MM = 8.0
_OFF_CIRCLE_MM = 7.0
_LEAST_GAP_MM = 0.8
_CLOSE_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Flats:
    """Flats, a tang or a half as seen along the axis: heights of its chords, the radius they cut, in mm of the part."""

    edge_on: bool
    heights: tuple[float, ...]
    radius: float

    def spared(self, radius: float) -> list[tuple[float, float]]:
        """Arcs (from, to, in degrees) of a circle of this part's stretch that the flats leave."""
        height = self.heights[0]
        if radius <= abs(height) + _CLOSE_MM:
            return [(0.0, 360.0)]
        angle = math.degrees(math.asin(height / radius))
        turn = 0.0 if self.edge_on else 90.0
        if len(self.heights) == 1:
            return [(180.0 - angle + turn, 360.0 + angle + turn)]
        return [(turn - angle, turn + angle), (turn + 180.0 - angle, turn + 180.0 + angle)]


@dataclass(frozen=True, slots=True)
class EndView:
    """One end view. `seen_from` is -1 for the tailstock end, +1 for the work end; lengths are mm of the part.

    `arcs` are (radius, from, to, layer), a full circle from 0 to 360. `box` is relative to the middle of the circles,
    which stands `x` mm of the part along the view's axis.
    """

    seen_from: int
    flats: tuple[Flats, ...]
    arcs: tuple[tuple[float, float, float, str], ...]
    dimensions: tuple[DimensionLine, ...]
    box: Box
    x: float = 0.0

    def moved(self, x: float, scale: float) -> EndView:
        """The same view with its middle at x (mm of the part)."""
        return replace(self, x=x, dimensions=tuple(_moved(line, x, scale) for line in self.dimensions))


def end_view_of(view: View, wanted: Requests, scale: float) -> tuple[EndView | None, Requests]:
    """The end view of a part that needs one, with its sizes, and what is left for the other views to say."""
    asked = {d.address for d in wanted.diameters} | {c.address for c in wanted.callouts}
    by_end: dict[int, list[Cross]] = {}
    for cross in view.part.cross:
        if cross.kind != "hole" and (end := _seen_from(view, cross)) and _address(view, cross) in asked:
            by_end.setdefault(end, []).append(cross)
    if not by_end:
        return None, wanted
    seen_from = max(by_end, key=lambda end: (len(by_end[end]), end))
    shown = by_end[seen_from][:2]
    told = {_address(view, cross) for cross in shown}
    rounds = [
        d for d in wanted.diameters if d.address not in told and any(_is_cut_off(view, d, cross) for cross in shown)
    ][:1]
    told |= {d.address for d in rounds}
    left = Requests(
        wanted.lengths,
        tuple(d for d in wanted.diameters if d.address not in told),
        tuple(c for c in wanted.callouts if c.address not in told),
        wanted.notes,
        wanted.manner,
    )
    return _drawn(view, seen_from, shown, rounds, scale, wanted.manner), left


def _address(view: View, cross: Cross) -> str:
    return f"{view.part.name}/{cross.name}/{'height' if cross.kind == 'half' else 'across'}"


def _size(cross: Cross) -> Size:
    return cross.sizes["height" if cross.kind == "half" else "across"]


def _limit(cross: Cross) -> float:
    """Distance of the flat from the axis."""
    return _size(cross).nominal_mm if cross.kind == "half" else _size(cross).nominal_mm / 2


def _is_cut_off(view: View, diameter: Diameter, cross: Cross) -> bool:
    """True for an outside diameter that only the end view shows, because the flats run all along it."""
    z_of = view.shape.z_of
    is_along = z_of[cross.near] - _CLOSE_MM <= diameter.near and diameter.far <= z_of[cross.far] + _CLOSE_MM
    return is_along and not diameter.is_inside and cross.kind == "flats" and is_edge_on(view.part, cross)


def _seen_from(view: View, cross: Cross) -> int:
    """The end from which nothing hides the flats, 0 for none; the tailstock end first."""
    z_of = view.shape.z_of
    near, far = z_of[cross.near], z_of[cross.far]
    for sign in (-1, 1):
        low, high = (view.shape.near_z, near) if sign < 0 else (far, view.shape.far_z)
        before = [max(e.r0, e.r1) for e in view.shape.outer if e.z0 < high - _CLOSE_MM and e.z1 > low + _CLOSE_MM]
        if high - low < _CLOSE_MM or max(before, default=0.0) <= abs(_limit(cross)):
            return sign
    return 0


def _within(view: View, edge: Edge, cross: Cross) -> bool:
    z_of = view.shape.z_of
    return edge.z0 < z_of[cross.far] - _CLOSE_MM and edge.z1 > z_of[cross.near] + _CLOSE_MM


def _goes_on_behind(view: View, edge: Edge, cross: Cross, seen_from: int) -> bool:
    """True where the surface goes on whole beyond the flats, so that its round is seen behind them."""
    z_of = view.shape.z_of
    if seen_from > 0:
        return edge.z0 < z_of[cross.near] - _CLOSE_MM and edge.r0 > edge.r1 - _CLOSE_MM
    return edge.z1 > z_of[cross.far] + _CLOSE_MM and edge.r1 > edge.r0 - _CLOSE_MM


def _drawn(
    view: View, seen_from: int, shown: list[Cross], rounds: list[Diameter], scale: float, manner: Manner
) -> EndView:
    edges = [e for e in view.shape.outer if not e.is_face]
    flats = []
    for cross in shown:
        own = max(max(e.r0, e.r1) for e in edges if _within(view, e, cross))
        heights = (_limit(cross),) if cross.kind == "half" else (_limit(cross), -_limit(cross))
        flats.append(Flats(is_edge_on(view.part, cross), heights, own))
    arcs: list[tuple[float, float, float, str]] = []
    for radius, edge in _visible(view, seen_from, shown, scale):
        spared = [(0.0, 360.0)]
        for cross, found in zip(shown, flats, strict=True):
            if _within(view, edge, cross) and not _goes_on_behind(view, edge, cross, seen_from):
                spared = found.spared(radius)
        arcs += [(radius, start, end, "OUTLINE") for start, end in spared]
    arcs += _mouth(view, seen_from, scale)
    reach = max(radius for radius, *_ in arcs) * scale
    past = reach + CENTRE_PAST_MM
    dimensions = [
        _flat_size(view, cross, found, reach, scale, hand, manner)
        for cross, found, hand in zip(shown, flats, (-1, 1), strict=False)
    ]
    dimensions += [_round_size(diameter, reach, scale) for diameter in rounds]
    boxes = [Box(-past, -past, past, past), *(d.reach() for d in dimensions)]
    return EndView(seen_from, tuple(flats), tuple(arcs), tuple(dimensions), union(boxes).grown(CLEAR_MM))


def _flat_size(
    view: View, cross: Cross, flats: Flats, reach: float, scale: float, hand: int, manner: Manner
) -> DimensionLine:
    """The size of the flats beside the circles: upright where they lie level, else level below."""
    is_half = cross.kind == "half"
    low, high = (0.0, _limit(cross)) if is_half else (-_limit(cross), _limit(cross))
    low, high = min(low, high), max(low, high)
    label = label_of(_size(cross), "" if is_half else manner.words.across_flats, manner=manner)
    line = LengthLine(_address(view, cross), label, _size(cross), low, high, 0.0, 0.0, False)
    hand = hand if flats.edge_on else -1
    placed, offset = _alone(line, low * scale, high * scale)
    root = hand * math.sqrt(max(0.0, flats.radius**2 - flats.heights[0] ** 2)) * scale
    return DimensionLine(
        line, placed, hand * (reach + offset), flats.edge_on, 0.0 if is_half and low == 0.0 else root, root, hand
    )


def _round_size(diameter: Diameter, reach: float, scale: float) -> DimensionLine:
    """A diameter below the circles."""
    radius = diameter.radius
    line = LengthLine(diameter.address, diameter.label, diameter.size, -radius, radius, 0.0, 0.0, False)
    placed, offset = _alone(line, -radius * scale, radius * scale)
    return DimensionLine(line, placed, -(reach + offset), False, 0.0, 0.0, -1)


def _alone(line: LengthLine, low: float, high: float) -> tuple[Placed, float]:
    """A dimension line that has its side to itself, and its distance from the circles."""
    side = lay_out([lane_item(line, low, high)], text_inward=True, first_mm=_OFF_CIRCLE_MM)
    side = certain(side, Side, "the lane of an end view")
    return side.lanes[0][0], side.offsets[0] + CENTRE_PAST_MM


def _visible(view: View, seen_from: int, shown: list[Cross], scale: float) -> list[tuple[float, Edge]]:
    """Edges that are seen from an end: each one larger than all before it; of two too close together the larger."""
    edges = [e for e in view.shape.outer if not e.is_face]
    found: list[tuple[float, Edge]] = []
    for edge in edges if seen_from < 0 else reversed(edges):
        for radius in (edge.r0, edge.r1) if seen_from < 0 else (edge.r1, edge.r0):
            if found and radius <= found[-1][0] + _CLOSE_MM:
                # A whole edge behind one that the flats cut shows where the flats are.
                if radius > found[-1][0] - _CLOSE_MM and not any(_within(view, edge, cross) for cross in shown):
                    found[-1] = (radius, edge)
                continue
            if found and (radius - found[-1][0]) * scale < _LEAST_GAP_MM:
                found.pop()
            found.append((radius, edge))
    return [(radius, edge) for radius, edge in found if radius * scale > _LEAST_GAP_MM]


def _mouth(view: View, seen_from: int, scale: float) -> Iterator[tuple[float, float, float, str]]:
    """The bore's mouth at the end that is looked at, a thread with three quarters of a narrow circle."""
    end = view.shape.near_z if seen_from < 0 else view.shape.far_z
    for edge in view.shape.inner:
        if edge.is_face or abs((edge.z0 if seen_from < 0 else edge.z1) - end) > _CLOSE_MM:
            continue
        radius = edge.r0 if seen_from < 0 else edge.r1
        yield radius, 0.0, 360.0, "OUTLINE"
        for zone in view.part.zones:
            nominal = thread_diameter_mm(zone) if zone.form == "thread" and zone.surface == edge.name else None
            if nominal is not None:
                yield max(nominal / 2, radius + _LEAST_GAP_MM / scale), 100.0, 370.0, "DIM"
        yield from ((deeper, 0.0, 360.0, "OUTLINE") for deeper in _through_mouth(view, seen_from, radius, scale))


def _through_mouth(view: View, seen_from: int, mouth: float, scale: float) -> Iterator[float]:
    """Radii of the narrower bores that are seen through the mouth, as far as no floor closes them."""
    edges = [e for e in view.shape.inner if not e.is_face]
    least, place = mouth, view.shape.near_z if seen_from < 0 else view.shape.far_z
    for edge in edges if seen_from < 0 else reversed(edges):
        first, last = (edge.z0, edge.z1) if seen_from < 0 else (edge.z1, edge.z0)
        if abs(first - place) > _CLOSE_MM:
            return
        place = last
        for radius in (edge.r0, edge.r1) if seen_from < 0 else (edge.r1, edge.r0):
            if _LEAST_GAP_MM < radius * scale < least * scale - _LEAST_GAP_MM:
                least = radius
                yield radius


def _moved(line: DimensionLine, x: float, scale: float) -> DimensionLine:
    """The dimension line with the middle of its view at x (mm of the part)."""
    across = x * scale
    if line.upright:
        return replace(line, at=line.at + across, root_low=line.root_low + across, root_high=line.root_high + across)
    request, placed = certain(line.request, LengthLine, "the length of a level line"), line.placed
    item = replace(placed.item, low=placed.item.low + across, high=placed.item.high + across)
    shifted = replace(
        placed, item=item, text=placed.text + across, text_low=placed.text_low + across,
        text_high=placed.text_high + across, low=placed.low + across, high=placed.high + across,
    )  # fmt: skip
    return replace(line, request=replace(request, start=request.start + x, end=request.end + x), placed=shifted)


def draw_end_view(pen: Pen, found: EndView) -> None:
    """Circles, flats and centre lines of an end view; its dimensions are drawn with all others."""
    x = found.x
    for radius, start, end, layer in found.arcs:
        if end - start >= 360.0:
            pen.circle((x, 0.0), radius, layer)
        else:
            pen.arc((x, 0.0), radius, start, end, layer)
    for flats in found.flats:
        for height in flats.heights:
            half = math.sqrt(max(0.0, flats.radius**2 - height**2))
            ends = ((-half, height), (half, height)) if flats.edge_on else ((height, -half), (height, half))
            pen.line((x + ends[0][0], ends[0][1]), (x + ends[1][0], ends[1][1]))
    reach = max(radius for radius, *_ in found.arcs) + CENTRE_PAST_MM / pen.scale
    pen.line((x - reach, 0.0), (x + reach, 0.0), "CENTRE")
    pen.line((x, -reach), (x, reach), "CENTRE")
