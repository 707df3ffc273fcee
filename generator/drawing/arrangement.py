"""The general arrangement."""

from __future__ import annotations

from typing import Any

from generator.description import Tool
from generator.drawing.arrangement_view import draw_scene, scene_of
from generator.drawing.base import Pen, new_document

__all__ = ["arrangement_picture"]


def arrangement_picture(tool: Tool) -> Any:
    """A document with the section of the whole tool in model space, without frame and lists, for a live picture.

    Its tight extents stand in the header ($EXTMIN, $EXTMAX) and on the model space.
    """
    document = new_document()
    scene = scene_of(tool)
    draw_scene(Pen(document.modelspace()), scene)
    box = scene.box
    _note_extents(document, (box[0] - 5.0, box[1] - 3.0, box[2] + 5.0, box[3] + 3.0))
    return document


def _note_extents(document: Any, box: tuple[float, float, float, float]) -> None:
    low, high = (box[0], box[1], 0.0), (box[2], box[3], 0.0)
    document.header["$EXTMIN"], document.header["$EXTMAX"] = low, high
    space = document.modelspace()
    space.dxf.extmin, space.dxf.extmax = low, high
