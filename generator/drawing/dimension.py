"""Dimensions as real DIMENSION entities, each with a picture of our own and the address of its size.

The picture (an anonymous *D block) is drawn here, because the DXF library's own renderer does not know how wide a
label is. A CAD program that redraws the entity finds nominal, deviations and style in it. Layout is in mm on paper,
definition points are in mm of model space.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from generator.drawing.base import Pen, Point
from generator.drawing.boxes import Line
from generator.drawing.font import STYLE_NAME
from generator.drawing.heads import broken
from generator.drawing.labels import Label, Redrawn
from generator.drawing.lane_lines import DimensionLine
from generator.drawing.manner import METRIC, Manner
from generator.drawing.style import ARROW_MM, ATTACH_APP, OVERSHOOT_MM, SMALL_TEXT_MM, TEXT_GAP_MM, TEXT_MM
from generator.drawing.wanted import LengthLine

__all__ = ["Picture", "add_angular", "add_dimension_style", "add_lane_dimension", "add_leader_size", "tag"]

DIM_STYLE = "TAILSTOCK"
_BOX_RIM_MM = 1.0
_LINEAR, _ANGULAR = 0, 2
_OWN_TEXT_PLACE = 128
_WHOLE_BLOCK = 32
# Zeros left out of a figure by a program that redraws it: the one before the mark, those at the end.
_NO_FIRST_ZERO, _NO_LAST_ZEROS = 4, 8


def add_dimension_style(document: Any, scale: float, manner: Manner = METRIC) -> str:
    """Name of the dimension style for a scale, made where it is new: unit, mark, text and arrows for redrawing.

    The drawing is in mm whatever is printed; the style's factor turns what is measured into what is printed.
    """
    name = DIM_STYLE if DIM_STYLE not in document.dimstyles else f"{DIM_STYLE}_{scale:g}"
    if name in document.dimstyles:
        return name
    style = document.dimstyles.new(name)
    document.header["$DIMSTYLE"] = DIM_STYLE
    style.dxf.update(
        {
            "dimtxsty": STYLE_NAME, "dimtxt": TEXT_MM, "dimasz": ARROW_MM, "dimexe": OVERSHOOT_MM, "dimexo": 0.0,
            "dimgap": TEXT_GAP_MM, "dimscale": 1.0 / scale, "dimtad": 1, "dimdec": 4, "dimtih": 0, "dimtoh": 0,
            "dimzin": _NO_FIRST_ZERO if manner.unit == "in" else _NO_LAST_ZEROS, "dimdsep": ord(manner.decimal_mark),
            "dimlfac": manner.factor, "dimadec": 4, "dimazin": 2, "dimtfac": SMALL_TEXT_MM / TEXT_MM, "dimtdec": 4,
        }
    )
    return name


def tag(entity: Any, address: str) -> None:
    """Keep the address of a size with an entity, for readers of the file."""
    entity.set_xdata(ATTACH_APP, [(1000, address)])


class Picture:
    """Draws in mm on paper into a space of the given scale, turned by 0 or 90 degrees about a point."""

    def __init__(self, pen: Pen) -> None:
        self.pen = pen

    def at(self, x: float, y: float) -> Point:
        """The point of the space for a point on paper."""
        return (x / self.pen.scale, y / self.pen.scale)

    def line(self, start: Point, end: Point, layer: str = "DIM") -> None:
        """A line between two points on paper."""
        self.pen.line(self.at(*start), self.at(*end), layer)

    def arrow(self, tip: Point, pointing_deg: float) -> None:
        """An arrow head at a point on paper."""
        self.pen.arrow(self.at(*tip), pointing_deg)

    def label(self, label: Label, start: Point, *, upright: bool = False, centre: float | None = None) -> None:
        """The label on a line: `start` is its left end on the line, `centre` the middle for words below."""
        angle = 90.0 if upright else 0.0

        def spot(along: float, over: float) -> Point:
            x, y = (start[0] - over, start[1] + along) if upright else (start[0] + along, start[1] + over)
            return self.at(x, y)

        def write(words: str, along: float, over: float, height: float) -> None:
            if words:
                self.pen.text(words, spot(along, over), height, angle_deg=angle)

        rim = _BOX_RIM_MM if label.boxed else 0.0
        base = TEXT_GAP_MM + rim + label.lift_mm
        middle = base + (label.height_mm - label.lift_mm - TEXT_MM) / 2 if label.upper else base
        write(label.main, rim, middle, TEXT_MM)
        along = rim + label.main_width_mm
        if label.upper:
            write(label.upper, along, base + label.stack_step_mm, label.stack_text_mm)
            write(label.lower, along, base, label.stack_text_mm)
            along += label.stack_width_mm + (0.2 if label.tail else 0.0)
        write(label.tail, along, middle, TEXT_MM)
        if label.boxed:
            width, height = label.width_mm, TEXT_MM + 2 * rim
            corners = [spot(u, v + TEXT_GAP_MM) for u, v in ((0, 0), (width, 0), (width, height), (0, height))]
            self.pen.polyline(corners, "SYMBOL", closed=True)
        if label.below:
            under = self.pen.text_width(label.below, SMALL_TEXT_MM) * self.pen.scale
            write(label.below, (centre or 0.0) - under / 2, -(SMALL_TEXT_MM + 1.0), SMALL_TEXT_MM)


def _entity(
    space: Any,
    picture_block: Any,
    attributes: dict[str, Any],
    label: Label,
    address: str,
    text_at: Point,
    *,
    left_out_mm: float = 0.0,
) -> Any:
    """The DIMENSION with its picture; words, places and deviations stay in it for a program that redraws it.

    Over the gap of an interrupted view it measures what is drawn, and a factor of its own makes up for what is not.
    """
    dimension = space.new_entity(
        "DIMENSION",
        {
            "layer": "DIM",
            "dimstyle": DIM_STYLE,
            "geometry": picture_block.name,
            "text_midpoint": text_at,
            "text": _measured_text(label),
            **attributes,
        },
    )
    drawn, factor = attributes["actual_measurement"], space.doc.dimstyles.get(DIM_STYLE).dxf.dimlfac
    own = {"dimlfac": factor * (drawn + left_out_mm) / drawn} if left_out_mm else {}
    if label.redrawn is not None:
        own |= _overrides(label.redrawn, (drawn + left_out_mm) * factor)
    if own:
        dimension.set_acad_dstyle(own)
    tag(dimension, address)
    return dimension


def _measured_text(label: Label) -> str:
    """What a redrawing program writes: the measured value between the words of the label, and the words below."""
    below = f"\\X{label.below}" if label.below else ""
    if label.redrawn is None:
        return label.plain + below
    return f"{label.redrawn.before}<>{label.redrawn.after}{below}"


def _overrides(redrawn: Redrawn, measured: float) -> dict[str, Any]:
    """Places and deviations of one dimension; `measured` is in the printed unit."""
    zeros = _NO_FIRST_ZERO if redrawn.keeps_zeros else _NO_LAST_ZEROS
    found: dict[str, Any] = {"dimdec": redrawn.places, "dimzin": zeros}
    if redrawn.limits is not None:
        high, low = (float(limit) for limit in redrawn.limits)
        found |= {"dimlim": 1, "dimtp": high - measured, "dimtm": measured - low}
        return found | {"dimtdec": redrawn.places, "dimtzin": zeros}
    if redrawn.deviations is not None:
        upper, lower = (float(deviation) for deviation in redrawn.deviations)
        found |= {"dimtol": 1, "dimtp": upper, "dimtm": -lower}
        if not redrawn.keeps_zeros:
            # A bare 0 beside a deviation, but equal places in a pair.
            zeros = _NO_LAST_ZEROS if not upper or not lower or upper == -lower else 0
        return found | {"dimtdec": redrawn.deviation_places or redrawn.places, "dimtzin": zeros}
    return found


def add_lane_dimension(
    document: Any, space: Any, line: DimensionLine, scale: float, heads: Sequence[Line] = ()
) -> Any:
    """A length or an end diameter in its lane, its extension lines broken where they meet one of the arrow heads."""
    block = document.blocks.new_anonymous_block(type_char="D")
    picture = Picture(Pen(block, scale))
    placed, request = line.placed, line.request
    low, high = placed.item.low, placed.item.high

    def point(along: float, across: float) -> Point:
        return (across, along) if line.upright else (along, across)

    over = line.at + line.outward * OVERSHOOT_MM
    for along, root in ((low, line.root_low), (high, line.root_high)):
        for start_of, end_of in broken(point(along, root), point(along, over), heads):
            picture.line(start_of, end_of)
    picture.line(point(min(placed.low, low), line.at), point(max(placed.high, high), line.at))
    turn = 90.0 if line.upright else 0.0
    inward = 0.0 if placed.arrows_inside else 180.0
    picture.arrow(point(low, line.at), turn + 180.0 + inward)
    picture.arrow(point(high, line.at), turn + inward)
    label = request.label
    start = placed.text - label.width_mm / 2
    picture.label(label, point(start, line.at), upright=line.upright, centre=label.width_mm / 2)
    if isinstance(request, LengthLine):
        ends, left_out = sorted((request.start, request.end)), request.left_out_mm
    else:
        ends, left_out = [-request.radius, request.radius], 0.0
    roots = (line.root_low / scale, line.root_high / scale)
    attributes = {
        "dimtype": _LINEAR | _WHOLE_BLOCK | _OWN_TEXT_PLACE,
        "angle": turn,
        "defpoint": point(ends[1], line.at / scale),
        "defpoint2": point(ends[0], roots[0]),
        "defpoint3": point(ends[1], roots[1]),
        "actual_measurement": ends[1] - ends[0],
    }
    middle = placed.text / scale, (line.at + (-2.7 if line.upright else 2.7)) / scale
    return _entity(space, block, attributes, label, request.address, point(*middle), left_out_mm=left_out)


def add_leader_size(
    document: Any,
    space: Any,
    block: Any,
    label: Label,
    address: str,
    measured: tuple[Point, Point],
    text_at: Point,
    *,
    horizontal: bool,
) -> Any:
    """A size told by a leader: `block` already holds its picture, the entity measures between its two points."""
    (x0, y0), (x1, y1) = measured
    attributes = {
        "dimtype": _LINEAR | _WHOLE_BLOCK | _OWN_TEXT_PLACE,
        "angle": 0.0 if horizontal else 90.0,
        "defpoint": (x1, y1),
        "defpoint2": (x0, y0),
        "defpoint3": (x1, y1),
        "actual_measurement": abs(x1 - x0) if horizontal else abs(y1 - y0),
    }
    return _entity(space, block, attributes, label, address, text_at)


def add_angular(
    space: Any, block: Any, label: Label, angle_deg: float, address: str, generator: tuple[Point, Point], text_at: Point
) -> Any:
    """An included angle between a cone's upper generator and its mirror image, as a two-line angular dimension."""
    (z0, r0), (z1, r1) = generator
    small, large = ((z0, r0), (z1, r1)) if r0 <= r1 else ((z1, r1), (z0, r0))
    middle = ((small[0] + large[0]) / 2, 0.0)
    # The entity measures counter-clockwise from its first line, so the line that comes first depends on the slope.
    half = 1.0 if small[0] > large[0] else -1.0
    attributes = {
        "dimtype": _ANGULAR | _WHOLE_BLOCK | _OWN_TEXT_PLACE,
        "defpoint2": (small[0], half * small[1]),
        "defpoint3": (large[0], half * large[1]),
        "defpoint4": (small[0], -half * small[1]),
        "defpoint": (large[0], -half * large[1]),
        "defpoint5": middle,
        "actual_measurement": math.radians(angle_deg),
    }
    return _entity(space, block, attributes, label, address, text_at)
