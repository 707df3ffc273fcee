"""Overall and connection sizes of an arrangement, as real dimensions: lengths under the view, the rest on leaders.

All stand in brackets: they follow from the parts and their seats, and the part sheets govern.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from generator.description import Size, Tool, diameter_at, exact
from generator.drawing.arrangement_lines import Point, Segment
from generator.drawing.arrangement_profile import Half, Placed, radii_at
from generator.drawing.arrangement_view import Scene
from generator.drawing.balloons import Callout, Spot, Tip
from generator.drawing.base import Pen
from generator.drawing.dimension import Picture, add_angular, add_lane_dimension, add_leader_size
from generator.drawing.labels import DIAMETER, Label, angle_label, label_of
from generator.drawing.lane_lines import DimensionLine
from generator.drawing.lanes import Item, Side, lay_out
from generator.drawing.manner import METRIC, Manner
from generator.drawing.requests import LengthLine
from generator.drawing.style import TEXT_GAP_MM, TEXT_MM

__all__ = ["LeaderSize", "Lengths", "add_leader_sizes", "add_lengths", "leader_sizes", "lengths_of"]

_PLACES = 1
_RIM_MM = 0.5


@dataclass(frozen=True, slots=True)
class Lengths:
    """The lengths under the view, in lanes; `roots` tells where the extension line at each z begins (model mm, y)."""

    requests: dict[str, LengthLine]
    side: Side
    roots: dict[float, float]

    @property
    def depth_mm(self) -> float:
        """Room on paper that they need."""
        return self.side.depth

    def extension_lines(self, scale: float) -> list[Segment]:
        """The extension lines on paper, as far down as ever."""
        return [(z * scale, root * scale, z * scale, root * scale - 500.0) for z, root in self.roots.items()]


@dataclass(frozen=True, slots=True)
class LeaderSize:
    """A size told by a leader: its callout, and what the dimension measures (model mm)."""

    callout: Callout
    label: Label
    size: Size
    address: str
    measured: tuple[Point, Point]
    is_angle: bool = False


def lengths_of(tool: Tool, scene: Scene, scale: float, manner: Manner = METRIC) -> Lengths:
    """Overall length, and how much of it stands ahead of the quill's face and behind it."""
    near, _, far, _ = scene.section.box
    seat = next((p for p in scene.others if p.name == tool.root), None)
    face = seat.far_z if seat is not None else math.inf
    spans = [("overall length", near, far)]
    if near + 1.0 < face < far - 1.0:
        spans += [("length behind the quill face", near, face), ("length ahead of the quill face", face, far)]
    requests = {}
    for address, start, end in spans:
        size = exact(end - start, "rule: follows from the parts")
        label = label_of(size, bracketed=True, places=_PLACES, manner=manner)
        requests[address] = LengthLine(
            address, label, size, start, end, 0.0, 0.0, is_inside=False, is_auxiliary=True
        )
    items = [
        Item(key, r.start * scale, r.end * scale, r.label.full_width_mm, r.label.height_mm + TEXT_GAP_MM)
        for key, r in requests.items()
    ]
    side = lay_out(items, text_inward=True) or Side((), ())
    roots = {z: -_lowest(scene.section.placed, z) for z in (near, far)}
    if seat is not None:
        roots.setdefault(face, max(scene.box[1], -seat.radius))
    return Lengths(requests, side, roots)


def _lowest(placed: Sequence[Placed], z: float) -> float:
    """The largest outer radius of any part at z, in the lower half."""
    found = [radii_at(p.lower, z + step) for p in placed for step in (-1e-4, 1e-4)]
    return max((r[1] for r in found if r is not None), default=0.0)


def add_lengths(document: Any, lengths: Lengths, start_mm: float, scale: float) -> None:
    """Draw the lengths; `start_mm` is the height on paper (below 0) from which the lanes grow downwards."""
    for lane, offset in zip(lengths.side.lanes, lengths.side.offsets, strict=True):
        for placed in lane:
            request = lengths.requests[placed.item.key]
            line = DimensionLine(
                request,
                placed,
                start_mm - offset,
                upright=False,
                root_low=lengths.roots[request.start] * scale,
                root_high=lengths.roots[request.end] * scale,
                outward=-1,
            )
            add_lane_dimension(document, document.modelspace(), line, scale)


def leader_sizes(scene: Scene, scale: float, manner: Manner = METRIC) -> list[LeaderSize]:
    """The largest diameter, and the angle of every point."""
    found = [_largest_diameter(scene, scale, manner)]
    for part in scene.section.placed:
        found += [_point_angle(part, name, scale, manner) for name in _points(part)]
    kept: dict[str, LeaderSize] = {}
    for size in found:
        if size is not None:
            kept.setdefault(size.callout.text, size)
    return list(kept.values())


def _points(part: Placed) -> list[str]:
    return [s.name for s in part.part.surfaces if s.role == "point" and s.side == "outside"]


def _largest_diameter(scene: Scene, scale: float, manner: Manner) -> LeaderSize | None:
    """The largest diameter of the tool's own parts, told at the longest cylinder that has it."""
    radius = scene.section.box[3]
    best: tuple[float, Placed, float, float] | None = None
    for part in scene.section.placed:
        for slab in part.upper:
            if min(slab.outer0, slab.outer1) > radius - 1e-6 and (best is None or slab.z1 - slab.z0 > best[0]):
                best = (slab.z1 - slab.z0, part, slab.z0, slab.z1)
    if best is None:
        return None
    _, part, z0, z1 = best
    size = exact(round(2 * radius, 3), "rule: follows from the parts")
    tips = tuple(
        Tip(((z0 + share * (z1 - z0)) * scale, side * radius * scale), side, "arrow", 0.2 * k, 0.0)
        for side in (1, -1)
        for k, share in enumerate((0.5, 0.2, 0.8))
    )
    middle = (z0 + z1) / 2
    measured = ((middle, -radius), (middle, radius))
    label = label_of(size, DIAMETER, bracketed=True, manner=manner)
    return LeaderSize(_callout(label, tips), label, size, f"{part.name}/largest diameter", measured)


def _point_angle(part: Placed, name: str, scale: float, manner: Manner) -> LeaderSize | None:
    """The included angle of a point, its leader on the cone."""
    surface = part.part.surface(name)
    z0, z1 = sorted((part.face(surface.near), part.face(surface.far)))
    # By the cone itself: a half point has less above the axis.
    r0, r1 = (
        diameter_at(part.part, surface, (z - part.zero) * part.sign, part.z_of) / 2 for z in (z0, z1)
    )
    size = exact(2 * abs(surface.half_angle_deg), "rule: follows from the parts")
    slope = math.degrees(math.atan2(r1 - r0, z1 - z0))
    tips = tuple(
        Tip(
            ((z0 + share * (z1 - z0)) * scale, side * (r0 + share * (r1 - r0)) * scale),
            side,
            "arrow",
            0.2 * k,
            side * slope,
        )
        for side in (1, -1)
        for k, share in enumerate((0.5, 0.3, 0.7, 0.15, 0.85))
        if _is_drawn(part.half(side), z0 + share * (z1 - z0), r0 + share * (r1 - r0))
    )
    if not tips:
        return None
    label = angle_label(size.nominal_mm, manner, bracketed=True)
    return LeaderSize(_callout(label, tips), label, size, f"{part.name}/{name}/angle", ((z0, r0), (z1, r1)), True)


def _is_drawn(half: Half, z: float, radius: float) -> bool:
    """True where one half of a part reaches out to a radius: there is an edge to point at."""
    found = radii_at(half, z)
    return found is not None and abs(found[1] - radius) < 1e-3


def _callout(label: Label, tips: tuple[Tip, ...]) -> Callout:
    return Callout(label.plain, label.width_mm / 2 + _RIM_MM, TEXT_MM / 2 + 0.8, tips, is_round=False)


def add_leader_sizes(document: Any, sizes: Sequence[LeaderSize], spots: Sequence[Spot], scale: float) -> None:
    """Draw the sizes on leaders as real dimensions, each in the place found for its callout."""
    space = document.modelspace()
    by_text = {spot.callout.text: spot for spot in spots}
    for found in sizes:
        spot = by_text[found.callout.text]
        block = document.blocks.new_anonymous_block(type_char="D")
        picture = Picture(Pen(block, scale))
        x0, y0, x1, y1 = spot.leader
        picture.pen.leader([picture.at(x0, y0), picture.at(x1, y1)])
        x, y = spot.centre
        picture.label(found.label, (x - found.label.width_mm / 2, y - TEXT_MM / 2 - TEXT_GAP_MM))
        middle = picture.at(x, y)
        if found.is_angle:
            add_angular(space, block, found.label, found.size.nominal_mm, found.address, found.measured, middle)
        else:
            add_leader_size(
                document, space, block, found.label, found.address, found.measured, middle, horizontal=False
            )
