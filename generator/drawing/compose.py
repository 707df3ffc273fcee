"""The composition of a part sheet at one scale: where every dimension line and callout stands round the view.

Outside lengths below, inside lengths above, diameters at the end from which they are seen, callouts close to the view;
lanes begin beyond the callouts they would meet, and upright lanes beyond the overhang of the level ones. Pure numbers
in mm on paper; the view's z = 0 and axis are the origin.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from generator.description import Part
from generator.drawing.boxes import Box, union
from generator.drawing.callouts import LaneEdge, PlacedCallout, place_callouts, reach_over
from generator.drawing.certain import certain
from generator.drawing.details import Detail, details_of
from generator.drawing.end_view import END_VIEW_APART_MM, EndView, end_view_of
from generator.drawing.gap import Gap
from generator.drawing.labels import words_label
from generator.drawing.lane_lines import DimensionLine, diameter_callout, lane_item, level_sides
from generator.drawing.lanes import Placed, Side, lay_out
from generator.drawing.manner import Manner
from generator.drawing.meridian import Half, Stretch
from generator.drawing.requests import requests_of
from generator.drawing.style import (
    CENTRE_PAST_MM,
    CLEAR_MM,
    FIRST_LANE_MM,
)
from generator.drawing.view_room import room_round, sky_of
from generator.drawing.views import View, look_at, treated_line
from generator.drawing.wanted import Callout, CentreHole, Diameter, LengthLine, Requests

__all__ = ["BEFORE_END_MM", "Composition", "compose", "compositions"]

Size2 = tuple[float, float]

_MOST_PER_END = 5
_LONGEST_EXTENSION_MM = 55.0
_LEAST_STEP_MM = 0.3
BEFORE_END_MM = 2.5
CENTRE_HOLE_MM = 4.5
"""How far the symbol of a centre hole reaches out from its end face."""


@dataclass(frozen=True, slots=True)
class Composition:
    """All of a part's view at one scale, and the box that it needs on the paper; `in_words` is left for the notes."""

    part: Part
    scale: float
    view: View
    requests: Requests
    dimensions: tuple[DimensionLine, ...]
    callouts: tuple[PlacedCallout, ...]
    box: Box
    in_words: tuple[Callout, ...] = ()
    details: tuple[Detail, ...] = ()
    end_view: EndView | None = None


def compose(part: Part, scale: float, requests: Requests | None = None) -> Composition | None:
    """The part with everything that has to be said of it, or None where this scale leaves no room."""
    return next(iter(compositions(part, scale, requests)), None)


def compositions(
    part: Part,
    scale: float,
    requests: Requests | None = None,
    *,
    needed_only: bool = False,
    projection: str = "",
    most: Sequence[Size2] = (),
    centres: Sequence[CentreHole] = (),
    gap: Gap | None = None,
) -> Iterator[Composition]:
    """Ways to say everything that has to be said of the part at this scale, the most compact lanes first.

    `needed_only` leaves out details that the view can just do without. A `projection` ("first angle" or "third
    angle") asks for an end view where the part has something to show in it. `most` are the rooms to be had: a way
    that fits none of them even without its callouts is passed over. `gap` is that of a part drawn interrupted.
    """
    view = look_at(part, scale=scale, gap=gap)
    wanted = requests or requests_of(part)
    end_view: EndView | None = None
    if projection:
        end_view, wanted = end_view_of(view, wanted, scale)
        if end_view is None:
            return
    details, wanted = details_of(view, wanted, scale, needed_only=needed_only)
    left, right, called = _by_end(view, wanted.diameters, scale)
    ends = _end_sides(left, right, called, scale, [hole.end for hole in centres])
    callouts = [*_on_treated_lines(view, wanted.callouts, scale), *(diameter_callout(d) for d in called)]
    callouts += [_centre_callout(view, hole, scale, wanted.manner) for hole in centres]
    if gap is not None:
        callouts = [gap.clear(callout, scale) for callout in callouts]
    beside = end_view.box.right - end_view.box.left + END_VIEW_APART_MM if end_view is not None else 0.0
    for sides in level_sides(view, wanted.lengths, scale):
        least = _least_size(view, scale, ends, sides)
        if most and not any(least[0] + beside <= width and least[1] <= height for width, height in most):
            continue
        room = room_round(view, scale, ends, (left, right), sides, details)
        edges = {
            sign: LaneEdge(tuple(_spans(side, sky_of(view, sign, scale) + _first_mm(side, sign), sign)))
            for sign, side in sides.items()
            if side.lanes
        }
        told = place_callouts(callouts, scale, room, edges)
        if told is not None:
            found = _assemble(part, view, wanted, scale, sides, ends, told[0])
            found = replace(found, in_words=tuple(told[1]), details=tuple(details))
            yield _with_end_view(found, end_view, projection) if end_view is not None else found


def _on_treated_lines(view: View, callouts: Iterable[Callout], scale: float) -> Iterator[Callout]:
    """The callouts, those of treated stretches led to the line along the stretch, which stands on one side only."""
    lines = {
        f"{view.part.name}/{zone.name}": pieces[0]
        for zone in view.part.zones
        if zone.form not in ("thread", "knurl") and (pieces := treated_line(view, zone, scale))
    }
    for callout in callouts:
        if callout.address in lines:
            (z0, y0), (z1, y1) = lines[callout.address]
            tips = tuple((z0 + share * (z1 - z0), abs(y0 + share * (y1 - y0))) for share in (0.5, 0.3, 0.7, 0.15, 0.85))
            callout = replace(callout, tips=tips, side=1 if y0 + y1 > 0 else -1)
        yield callout


def _centre_callout(view: View, hole: CentreHole, scale: float, manner: Manner) -> Callout:
    """The code of a centre hole, led out just before the end face."""
    end = view.shape.far_z if hole.end > 0 else view.shape.near_z
    tip = (end + hole.end * BEFORE_END_MM / scale, 0.0)
    address = f"{view.part.name}/centre/{'far' if hole.end > 0 else 'near'}"
    return Callout(
        address, "centre", words_label(manner.marked(hole.code)), (tip,), is_inside=True,
        cells=(hole.meaning, str(hole.end)),
    )  # fmt: skip


def _least_size(view: View, scale: float, ends: Mapping[int, Side], sides: Mapping[int, Side]) -> Size2:
    """Width and height of the view with its lanes as they stand without any callout."""
    width = (view.shape.far_z - view.shape.near_z) * scale
    width += sum(side.depth if side.lanes else CENTRE_PAST_MM for side in ends.values())
    height = 0.0
    for sign, side in sides.items():
        height += sky_of(view, sign, scale)
        if side.lanes:
            height += _first_mm(side, sign) + side.offsets[-1] - side.offsets[0] + 2.0
    return width, height


def _with_end_view(found: Composition, end_view: EndView, projection: str) -> Composition:
    """The composition with its end view beside it: across from where it is seen in first angle."""
    side = -end_view.seen_from if projection.startswith("first") else end_view.seen_from
    box = end_view.box
    if side > 0:
        middle = found.box.right + END_VIEW_APART_MM - box.left
    else:
        middle = found.box.left - END_VIEW_APART_MM - box.right
    placed = end_view.moved(middle / found.scale, found.scale)
    whole = union((found.box, box.moved(middle, 0.0)))
    return replace(found, end_view=placed, dimensions=(*found.dimensions, *placed.dimensions), box=whole)


def _end_sides(
    left: list[Diameter], right: list[Diameter], called: list[Diameter], scale: float, holes: Sequence[int]
) -> dict[int, Side]:
    """Lanes at both ends; a diameter that finds no place moves to those that are called out.

    `holes` are the ends that have the symbol of a centre hole, which the labels keep off.
    """
    ends: dict[int, Side] = {}
    for sign, group in ((-1, left), (1, right)):
        before_mm = CENTRE_HOLE_MM + CLEAR_MM if sign in holes else 0.0
        side = _end_lanes(group, scale, before_mm, text_inward=sign > 0)
        while side is None:
            called.append(group.pop(_worst(group)))
            side = _end_lanes(group, scale, before_mm, text_inward=sign > 0)
        ends[sign] = side
    return ends


def _by_end(
    view: View, diameters: Iterable[Diameter], scale: float
) -> tuple[list[Diameter], list[Diameter], list[Diameter]]:
    """Diameters by the end from which they are seen, the nearer one first; the rest become callouts."""
    left: list[Diameter] = []
    right: list[Diameter] = []
    called: list[Diameter] = []
    for diameter in diameters:
        ways = []
        if _is_seen(view, diameter, -1):
            ways.append(((diameter.near - view.shape.near_z) * scale, len(left), left))
        if _is_seen(view, diameter, 1):
            ways.append(((view.shape.far_z - diameter.far) * scale, len(right), right))
        ways = [way for way in ways if way[0] <= _LONGEST_EXTENSION_MM]
        if not ways:
            called.append(diameter)
            continue
        ways.sort(key=lambda way: (round(way[0] / 15.0), way[1]))
        ways[0][2].append(diameter)
    for group in (left, right):
        group.sort(key=lambda d: -d.radius)
        while len(group) > _MOST_PER_END:
            called.append(group.pop(_worst(group)))
    return left, right, called


def _worst(group: Sequence[Diameter]) -> int:
    """Index of the diameter that is hardest to set at an end: longest label for its span."""
    return max(range(len(group)), key=lambda i: group[i].label.full_width_mm / max(group[i].radius, 0.1))


def _is_seen(view: View, diameter: Diameter, sign: int) -> bool:
    """True where nothing stands between the surface and that end of the part."""
    shape = view.shape
    end = shape.far_z if sign > 0 else shape.near_z
    start = diameter.far if sign > 0 else diameter.near
    low, high = min(start, end) + 1e-6, max(start, end) - 1e-6
    if high <= low:
        return True
    if not diameter.is_inside:
        between = [p for half in (view.upper, view.lower) for s in half.outer if (p := s.between(low, high))]
        return all(max(p.r0, p.r1) < diameter.radius - _LEAST_STEP_MM or _is_bevel(p, diameter) for p in between)
    pieces = [p for s in view.upper.inner if (p := s.between(low, high))]
    covered = sum(p.z1 - p.z0 for p in pieces)
    if covered < high - low - 1e-4:
        return False
    return all(min(p.r0, p.r1) > diameter.radius + _LEAST_STEP_MM or _is_bevel(p, diameter) for p in pieces)


def _is_bevel(piece: Stretch, diameter: Diameter) -> bool:
    """True for the chamfer or cone that leads away from the surface itself."""
    steps = [r - diameter.radius if diameter.is_inside else diameter.radius - r for r in (piece.r0, piece.r1)]
    return min(steps) > -1e-6 and max(steps) > 0.2


def _end_lanes(group: Sequence[Diameter], scale: float, before_mm: float, *, text_inward: bool) -> Side | None:
    """The lanes at one end, their labels at least so far off the part."""
    items = [lane_item(d, -d.radius * scale, d.radius * scale) for d in group]
    reach = max((item.above if text_inward else item.under for item in items), default=0.0)
    return lay_out(items, text_inward=text_inward, first_mm=max(FIRST_LANE_MM, before_mm + reach))


def _root(view: View, request: LengthLine, z: float, sign: int) -> float:
    """Radius where the extension line of a length begins."""
    if request.is_inside:
        return request.start_radius if z == request.start else request.end_radius
    half = view.upper if sign > 0 else view.lower
    return half.outer_radius(z)


def _inward(lane: Sequence[Placed], sign: int) -> float:
    """How far the labels of a lane reach towards the view."""
    return max((p.item.above if sign < 0 else p.item.under) for p in lane)


def _first_mm(side: Side, sign: int) -> float:
    """How far the first level lane stands off the outline: more where its labels reach far towards the view."""
    return max(FIRST_LANE_MM, _inward(side.lanes[0], sign) + CLEAR_MM)


def _spans(side: Side, start: float, sign: int) -> Iterator[tuple[float, float, float]]:
    """Reach of every level dimension line, and the |y| up to which a callout leaves it where it is."""
    for lane, offset in zip(side.lanes, side.offsets, strict=True):
        free = start + offset - side.offsets[0] - _inward(lane, sign) - 2.0
        yield from ((p.low, p.high, free) for p in lane)


def _level_places(side: Side, sky: float, sign: int, callouts: Sequence[PlacedCallout]) -> list[float]:
    """Distance of each level lane from the axis: off the outline, and beyond the callouts that stand before it."""
    found: list[float] = []
    for i, lane in enumerate(side.lanes):
        least = found[-1] + side.offsets[i] - side.offsets[i - 1] if i else sky + _first_mm(side, sign)
        reach = max((reach_over(c, sign, p.low, p.high) for c in callouts for p in lane), default=0.0)
        found.append(max(least, reach + _inward(lane, sign) + 2.0) if reach else least)
    return found


def _assemble(
    part: Part,
    view: View,
    wanted: Requests,
    scale: float,
    levels: dict[int, Side],
    ends: dict[int, Side],
    callouts: Sequence[PlacedCallout],
) -> Composition:
    by_address: dict[str, LengthLine | Diameter] = {length.address: length for length in wanted.lengths}
    by_address |= {diameter.address: diameter for diameter in wanted.diameters}
    near, far = view.shape.near_z * scale, view.shape.far_z * scale
    sky = {sign: sky_of(view, sign, scale) for sign in (1, -1)}
    dimensions: list[DimensionLine] = []
    for sign, side in levels.items():
        if not side.lanes:
            continue
        for lane, distance in zip(side.lanes, _level_places(side, sky[sign], sign, callouts), strict=True):
            at = sign * distance
            dimensions += [_level_line(view, by_address[p.item.key], p, at, sign, scale) for p in lane]
    for sign, side in ends.items():
        if not side.lanes:
            continue
        end = near if sign < 0 else far
        extra = _overhang(side, end, sign, dimensions, callouts)
        for lane, offset in zip(side.lanes, side.offsets, strict=True):
            at = end + sign * (offset + extra)
            dimensions += [_upright_line(view, by_address[p.item.key], p, at, sign, scale) for p in lane]
    past = CENTRE_PAST_MM + 0.5
    boxes = [Box(near - past, -sky[-1], far + past, sky[1])]
    boxes += [d.reach() for d in dimensions] + [c.box for c in callouts]
    return Composition(part, scale, view, wanted, tuple(dimensions), tuple(callouts), union(boxes).grown(CLEAR_MM))


def _overhang(
    side: Side, end: float, sign: int, levels: Sequence[DimensionLine], callouts: Sequence[PlacedCallout]
) -> float:
    """How far the lanes at an end move out, so that they clear what hangs over it from above and below."""
    boxes = [d.reach() for d in levels] + [c.box for c in callouts]
    hanging = [b for b in boxes if (b.right - end if sign > 0 else end - b.left) > 0]
    extra = 0.0
    for _ in range(len(hanging) + 1):
        moved = max((_clearing(side, end, sign, extra, box) for box in hanging), default=0.0)
        if moved <= extra:
            break
        extra = moved
    return extra


def _clearing(side: Side, end: float, sign: int, extra: float, box: Box) -> float:
    """How far out the lanes must stand for none of them to touch this box, given how far they stand already."""
    reach = box.right - end if sign > 0 else end - box.left
    wanted = extra
    for lane, offset in zip(side.lanes, side.offsets, strict=True):
        for p in lane:
            if box.bottom > p.high + 1.5 or box.top < p.low - 1.5:
                continue
            inward, outward = (p.item.above, p.item.under) if sign > 0 else (p.item.under, p.item.above)
            start = box.left - end if sign > 0 else end - box.right
            is_beyond = start > offset + extra + max(outward, 2.0) + 1.5
            if not is_beyond and offset + extra - max(inward, 2.0) < reach + 1.5:
                wanted = max(wanted, reach + 1.5 + max(inward, 2.0) - offset)
    return wanted


def _level_line(
    view: View, request: LengthLine | Diameter, placed: Placed, at: float, sign: int, scale: float
) -> DimensionLine:
    request = certain(request, LengthLine, "the length of a level lane")
    low, high = sorted((request.start, request.end))
    roots = [sign * _root(view, request, z, sign) * scale for z in (low, high)]
    return DimensionLine(request, placed, at, False, roots[0], roots[1], sign)


def _upright_line(
    view: View, request: LengthLine | Diameter, placed: Placed, at: float, sign: int, scale: float
) -> DimensionLine:
    request = certain(request, Diameter, "the diameter of an upright lane")
    roots = [_root_z(half, request, sign) * scale for half in (view.lower, view.upper)]
    return DimensionLine(request, placed, at, True, roots[0], roots[1], sign)


def _root_z(half: Half, request: Diameter, sign: int) -> float:
    """Where the surface of a diameter ends on one half, seen from that end; a cut half ends earlier."""
    end = request.far if sign > 0 else request.near
    if request.is_inside or request.near == request.far:
        return end
    ends = [
        z
        for stretch in half.outer
        if (piece := stretch.between(request.near, request.far))
        for z, r in ((piece.z0, piece.r0), (piece.z1, piece.r1))
        if abs(r - request.radius) < 1e-4
    ]
    return (max(ends) if sign > 0 else min(ends)) if ends else end
