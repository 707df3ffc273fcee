"""A new drawing document in mm, and a pen that draws on it by purpose: lines, words, arrows, hatch.

Points are in mm of the space drawn on; text heights and arrow sizes are in mm on paper, and the pen divides them by
its scale, so that the same words come out equally high in a 2:1 viewport.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

from generator.drawing.font import STYLE_NAME, WIDTH_FACTOR, prepare_fonts, text_width_mm, use_font
from generator.drawing.style import ARROW_HALF_MM, ARROW_MM, ATTACH_APP, LAYERS, LINE_TYPES, TEXT_MM

__all__ = ["ANCHORS", "Pen", "Point", "new_document"]

Point = tuple[float, float]

# DXF text alignment by plain words: horizontal code, vertical code.
ANCHORS: dict[str, tuple[int, int]] = {
    "left": (0, 0),
    "centre": (1, 0),
    "right": (2, 0),
    "left middle": (0, 2),
    "middle": (1, 2),
    "right middle": (2, 2),
    "left top": (0, 3),
    "centre top": (1, 3),
    "right top": (2, 3),
}


def new_document() -> Any:
    """An empty R2013 document in mm with our layers, line types and lettering; model space is 1:1."""
    prepare_fonts()
    import ezdxf
    from ezdxf import units

    document = ezdxf.new("R2013", units=units.MM)
    for name, (words, pattern) in LINE_TYPES.items():
        document.linetypes.add(name, [sum(map(abs, pattern)), *pattern], description=words)
    for style in LAYERS:
        layer = document.layers.add(style.name, color=style.colour, linetype=style.line_type, lineweight=style.width)
        layer.dxf.plot = int(style.is_plotted)
        layer.description = style.purpose
    use_font(document)
    document.appids.add(ATTACH_APP)
    header = document.header
    header["$LTSCALE"], header["$PSLTSCALE"], header["$LWDISPLAY"] = 1.0, 1, 1
    header["$DIMASSOC"], header["$TEXTSTYLE"], header["$DIMSTYLE"] = 1, STYLE_NAME, "Standard"
    return document


@dataclass(frozen=True, slots=True)
class Pen:
    """Draws on one space (model space, a paper layout or a block) at one scale (paper mm for 1 mm of the space)."""

    space: Any
    scale: float = 1.0

    def on(self, space: Any) -> Pen:
        """The same pen on another space."""
        return replace(self, space=space)

    def line(self, start: Point, end: Point, layer: str = "OUTLINE") -> Any:
        """A straight line."""
        return self.space.add_line(start, end, dxfattribs={"layer": layer})

    def polyline(self, points: Sequence[Point], layer: str = "OUTLINE", *, closed: bool = False) -> Any:
        """A polyline of straight pieces."""
        return self.space.add_lwpolyline(points, close=closed, dxfattribs={"layer": layer})

    def circle(self, centre: Point, radius: float, layer: str = "OUTLINE") -> Any:
        """A full circle."""
        return self.space.add_circle(centre, radius, dxfattribs={"layer": layer})

    def arc(self, centre: Point, radius: float, start_deg: float, end_deg: float, layer: str = "OUTLINE") -> Any:
        """An arc, counter-clockwise from start to end."""
        return self.space.add_arc(centre, radius, start_deg, end_deg, dxfattribs={"layer": layer})

    def text(
        self,
        words: str,
        at: Point,
        height_mm: float = TEXT_MM,
        *,
        anchor: str = "left",
        angle_deg: float = 0.0,
        layer: str = "TEXT",
        width_factor: float = WIDTH_FACTOR,
    ) -> Any:
        """One line of literal text; `height_mm` is the height of a capital on paper."""
        across, up = ANCHORS[anchor]
        return self.space.add_text(
            words.replace("%%", "%%%"),
            dxfattribs={
                "layer": layer,
                "style": STYLE_NAME,
                "height": height_mm / self.scale,
                "width": width_factor,
                "rotation": angle_deg,
                "halign": across,
                "valign": up,
                "insert": at,
                "align_point": at,
            },
        )

    def text_width(self, words: str, height_mm: float = TEXT_MM) -> float:
        """Width of a line of text in mm of the space."""
        return text_width_mm(words, height_mm) / self.scale

    def arrow(self, tip: Point, pointing_deg: float, layer: str = "DIM") -> Any:
        """A filled arrow head that points in the given direction."""
        length, half = ARROW_MM / self.scale, ARROW_HALF_MM / self.scale
        along, across = math.radians(pointing_deg), math.radians(pointing_deg + 90.0)
        back = (tip[0] - length * math.cos(along), tip[1] - length * math.sin(along))
        side = (half * math.cos(across), half * math.sin(across))
        corners = [tip, (back[0] + side[0], back[1] + side[1]), (back[0] - side[0], back[1] - side[1])]
        return self.space.add_solid(corners, dxfattribs={"layer": layer})

    def dot(self, at: Point, diameter_mm: float = 1.0, layer: str = "DIM") -> None:
        """A filled dot that ends a leader inside an area."""
        radius = diameter_mm / 2 / self.scale
        corners = [
            (at[0] + radius * math.cos(math.radians(a)), at[1] + radius * math.sin(math.radians(a)))
            for a in range(0, 360, 30)
        ]
        fill = self.space.add_hatch(color=256, dxfattribs={"layer": layer})
        fill.paths.add_polyline_path(corners, is_closed=True)

    def leader(self, points: Sequence[Point], layer: str = "DIM", *, end: str = "arrow") -> None:
        """A leader from its tip (first point) to where its words stand; `end` is "arrow", "dot" or "none"."""
        for start, stop in pairwise(points):
            self.line(start, stop, layer)
        (x0, y0), (x1, y1) = points[0], points[1]
        if end == "arrow":
            self.arrow(points[0], math.degrees(math.atan2(y0 - y1, x0 - x1)), layer)
        elif end == "dot":
            self.dot(points[0], layer=layer)

    def hatch(
        self,
        polygons: Iterable[Sequence[Point]],
        angle_deg: float = 45.0,
        pitch_mm: float = 3.0,
        layer: str = "HATCH",
        *,
        voids: Iterable[Sequence[Point]] = (),
    ) -> Any:
        """Hatch lines over closed polygons, `pitch_mm` apart on paper, left out inside `voids`."""
        fill = self.space.add_hatch(color=256, dxfattribs={"layer": layer})
        pitch = pitch_mm / self.scale
        across = math.radians(angle_deg + 90.0)
        offset = (pitch * math.cos(across), pitch * math.sin(across))
        fill.set_pattern_fill("TS_CUT", color=256, definition=[[angle_deg, (0.0, 0.0), offset, []]])
        for polygon in polygons:
            fill.paths.add_polyline_path(polygon, is_closed=True, flags=1)
        for polygon in voids:
            fill.paths.add_polyline_path(polygon, is_closed=True, flags=16)
        return fill

    def insert(self, block: str, at: Point, values: Mapping[str, str] | None = None, *, layer: str = "SYMBOL") -> Any:
        """A block set at a point, its attributes filled from `values`."""
        size = 1.0 / self.scale
        found = self.space.add_blockref(
            block, at, dxfattribs={"layer": layer, "xscale": size, "yscale": size, "zscale": size}
        )
        if values is not None:
            found.add_auto_attribs(dict(values))
        return found
