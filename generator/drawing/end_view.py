"""The end view: what flats, a tang or a half look like along the axis, on the side that the projection demands.

Source: in first angle a view seen from the left stands at the right, in third angle at the side it is seen from
(ISO 128-3, formerly ISO 5456-2), at second hand. Numbers are mm on paper unless said.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from generator.description import Cross
from generator.drawing.base import Pen
from generator.drawing.boxes import Box, union
from generator.drawing.labels import label_of
from generator.drawing.lane_lines import DimensionLine, lane_item
from generator.drawing.lanes import lay_out
from generator.drawing.meridian import is_edge_on
from generator.drawing.style import CENTRE_PAST_MM, CLEAR_MM
from generator.drawing.views import View
from generator.drawing.wanted import LengthLine, Requests

__all__ = ["END_VIEW_APART_MM", "EndView", "draw_end_view", "end_view_of"]

END_VIEW_APART_MM = 8.0
_OFF_CIRCLE_MM = 7.0
_CLOSE_MM = 1e-6


@dataclass(frozen=True, slots=True)
class EndView:
    """One end view. `seen_from` is -1 for the tailstock end, +1 for the work end; radii are mm of the part.

    `box` is relative to the middle of its circles, which stands `x` mm of the part along the view's axis.
    """

    cross: Cross
    seen_from: int
    edge_on: bool
    circles: tuple[float, ...]
    arcs: tuple[float, ...]
    chords: tuple[tuple[float, float], ...]
    dimensions: tuple[DimensionLine, ...]
    box: Box
    x: float = 0.0

    def moved(self, x: float, scale: float) -> EndView:
        """The same view with its middle at x (mm of the part)."""
        return replace(self, x=x, dimensions=tuple(_moved(line, x, scale) for line in self.dimensions))


def end_view_of(view: View, wanted: Requests, scale: float) -> tuple[EndView | None, Requests]:
    """The end view of a part that needs one, with its sizes, and what is left for the other views to say."""
    for cross in view.part.cross:
        if cross.kind == "hole":
            continue
        seen_from = _seen_from(view, cross)
        if not seen_from:
            continue
        key = "height" if cross.kind == "half" else "across"
        address = f"{view.part.name}/{cross.name}/{key}"
        left = Requests(
            wanted.lengths,
            tuple(d for d in wanted.diameters if d.address != address),
            tuple(c for c in wanted.callouts if c.address != address),
            wanted.notes,
        )
        if left.diameters == wanted.diameters and left.callouts == wanted.callouts:
            continue
        return _drawn(view, cross, seen_from, address, scale), left
    return None, wanted


def _seen_from(view: View, cross: Cross) -> int:
    """The end from which nothing hides the flats, 0 for none; the tailstock end first."""
    z_of = view.shape.z_of
    near, far = z_of[cross.near], z_of[cross.far]
    limit = abs(cross.sizes["height" if cross.kind == "half" else "across"].nominal_mm) / (
        1.0 if cross.kind == "half" else 2.0
    )
    for sign in (-1, 1):
        low, high = (view.shape.near_z, near) if sign < 0 else (far, view.shape.far_z)
        before = [max(e.r0, e.r1) for e in view.shape.outer if e.z0 < high - _CLOSE_MM and e.z1 > low + _CLOSE_MM]
        if high - low < _CLOSE_MM or max(before, default=0.0) <= limit:
            return sign
    return 0


def _drawn(view: View, cross: Cross, seen_from: int, address: str, scale: float) -> EndView:
    z_of = view.shape.z_of
    near, far = z_of[cross.near], z_of[cross.far]
    edges = [e for e in view.shape.outer if not e.is_face]
    inside = [e for e in edges if e.z0 < far - _CLOSE_MM and e.z1 > near + _CLOSE_MM]
    own = max(max(e.r0, e.r1) for e in inside)
    behind = [max(e.r0, e.r1) for e in edges if e not in inside and (e.z0 - near) * seen_from < _CLOSE_MM]
    whole = max(behind, default=0.0) >= own - _CLOSE_MM
    circles = [r for r in _visible(view, seen_from) if whole or abs(r - own) > _CLOSE_MM]
    bores = [e for e in view.shape.inner if not e.is_face]
    end = view.shape.near_z if seen_from < 0 else view.shape.far_z
    mouth = [e for e in bores if abs((e.z0 if seen_from < 0 else e.z1) - end) < _CLOSE_MM]
    circles += [e.r0 if seen_from < 0 else e.r1 for e in mouth]
    edge_on = is_edge_on(view.part, cross)
    size = cross.sizes["height" if cross.kind == "half" else "across"]
    if cross.kind == "half":
        heights = [size.nominal_mm]
    else:
        heights = [size.nominal_mm / 2, -size.nominal_mm / 2]
    chords = tuple((h, math.sqrt(max(0.0, own**2 - h**2))) for h in heights)
    reach = max([*circles, own]) * scale
    low, high = (0.0, size.nominal_mm) if cross.kind == "half" else (heights[1], heights[0])
    line = LengthLine(
        address, label_of(size, "" if cross.kind == "half" else "AF "), size, low, high, 0.0, 0.0, False
    )
    side = lay_out([lane_item(line, low * scale, high * scale)], text_inward=not edge_on, first_mm=_OFF_CIRCLE_MM)
    past = reach + CENTRE_PAST_MM
    boxes = [Box(-past, -past, past, past)]
    dimensions: list[DimensionLine] = []
    if side is not None:
        placed = side.lanes[0][0]
        root = chords[0][1] * scale
        hand = -1
        at = hand * (reach + side.offsets[0])
        roots = (0.0 if cross.kind == "half" else hand * root, hand * root)
        dimensions.append(DimensionLine(line, placed, at, edge_on, roots[0], roots[1], hand))
        boxes += [d.reach() for d in dimensions]
    return EndView(
        cross, seen_from, edge_on, tuple(circles), () if whole else (own,), chords, tuple(dimensions),
        union(boxes).grown(CLEAR_MM),
    )  # fmt: skip


def _visible(view: View, seen_from: int) -> Iterator[float]:
    """Radii of the edges that are seen from an end: each one larger than all before it."""
    edges = [e for e in view.shape.outer if not e.is_face]
    largest = 0.0
    for edge in edges if seen_from < 0 else reversed(edges):
        for radius in (edge.r0, edge.r1) if seen_from < 0 else (edge.r1, edge.r0):
            if radius > largest + 0.25:
                largest = radius
                yield radius


def _moved(line: DimensionLine, x: float, scale: float) -> DimensionLine:
    """The dimension line with the middle of its view at x (mm of the part)."""
    across = x * scale
    if line.upright:
        return replace(line, at=line.at + across, root_low=line.root_low + across, root_high=line.root_high + across)
    request, placed = line.request, line.placed
    assert isinstance(request, LengthLine)
    item = replace(placed.item, low=placed.item.low + across, high=placed.item.high + across)
    shifted = replace(
        placed, item=item, text=placed.text + across, text_low=placed.text_low + across,
        text_high=placed.text_high + across, low=placed.low + across, high=placed.high + across,
    )  # fmt: skip
    return replace(line, request=replace(request, start=request.start + x, end=request.end + x), placed=shifted)


def draw_end_view(pen: Pen, found: EndView) -> None:
    """Circles, flats and centre lines of an end view; its dimensions are drawn with all others."""
    x = found.x
    for radius in found.circles:
        pen.circle((x, 0.0), radius)
    for radius in found.arcs:
        height = abs(found.chords[0][0])
        angle = math.degrees(math.asin(min(1.0, height / radius)))
        turn = 0.0 if found.edge_on else 90.0
        if len(found.chords) == 1:
            pen.arc((x, 0.0), radius, 180.0 - angle + turn, 360.0 + angle + turn)
        else:
            pen.arc((x, 0.0), radius, turn - angle, turn + angle)
            pen.arc((x, 0.0), radius, turn + 180.0 - angle, turn + 180.0 + angle)
    for height, half in found.chords:
        if found.edge_on:
            pen.line((x - half, height), (x + half, height))
        else:
            pen.line((x + height, -half), (x + height, half))
    reach = max([*found.circles, *found.arcs]) + CENTRE_PAST_MM / pen.scale
    pen.line((x - reach, 0.0), (x + reach, 0.0), "CENTRE")
    pen.line((x, -reach), (x, reach), "CENTRE")
