"""The bare outline of a part for a CNC lathe: one closed polyline, no text, nothing else in the file."""

from __future__ import annotations

from typing import Any

from generator.description import Part, outline, polygon
from generator.drawing.font import prepare_fonts

__all__ = ["profile"]

LAYER = "OUTLINE"


def profile(part: Part) -> Any:
    """A DXF document in mm with the closed upper half of the meridian at nominal size, its work end at x = 0.

    x runs along the axis, negative into the part, y is the radius. Every edge of a description is straight, so no arc
    occurs. Flats, tangs and cross holes are not turned and not shown.
    """
    prepare_fonts()
    import ezdxf
    from ezdxf import units

    document = ezdxf.new("R2013", units=units.MM)
    layer = document.layers.add(LAYER, color=7, lineweight=50)
    layer.description = "turned outline, upper half"
    end = outline(part).far_z
    corners = [(z - end, r) for z, r in polygon(part)]
    document.modelspace().add_lwpolyline(corners, close=True, dxfattribs={"layer": LAYER})
    return document
