"""Symbols with readable attributes: surface finish, tolerance frame, datum triangle, taper. Drawn as lines, in blocks.

Sources: ISO 1302 (now ISO 21920-1), ISO 1101, ISO 5459, ISO 3040, shapes at second hand or from memory.
"""

from __future__ import annotations

import math
from typing import Any

from generator.drawing.base import Pen, Point
from generator.drawing.callouts import FINISH_KNEE_MM, FINISH_LEFT_MM, FINISH_RISE_MM
from generator.drawing.font import STYLE_NAME, WIDTH_FACTOR, text_width_mm
from generator.drawing.style import FRAME_HEIGHT_MM, TEXT_MM

__all__ = ["centre_hole_block", "datum_block", "edge_block", "finish_block", "frame_block", "taper_block"]


def _attribute(block: Any, name: str, at: Point) -> None:
    block.add_attdef(
        name, at, dxfattribs={"layer": "TEXT", "style": STYLE_NAME, "height": TEXT_MM, "width": WIDTH_FACTOR}
    )


def finish_block(document: Any, words: str) -> str:
    """Name of the block of a machined-surface symbol wide enough for its words; attribute FINISH, tip at the origin."""
    width = text_width_mm(words, TEXT_MM)
    name = f"FINISH_{round(width * 10)}"
    if name not in document.blocks:
        block = document.blocks.new(name)
        pen = Pen(block)
        short = FINISH_LEFT_MM * math.sqrt(3.0)
        pen.line((-FINISH_LEFT_MM, short), (0, 0), "SYMBOL")
        pen.line((-FINISH_LEFT_MM, short), (FINISH_LEFT_MM, short), "SYMBOL")
        pen.polyline(
            [(0, 0), (FINISH_KNEE_MM, FINISH_RISE_MM), (FINISH_KNEE_MM + width + 1.5, FINISH_RISE_MM)], "SYMBOL"
        )
        _attribute(block, "FINISH", (FINISH_KNEE_MM + 0.8, FINISH_RISE_MM - TEXT_MM - 1.2))
    return name


def frame_block(document: Any, kind: str, cells: tuple[float, float, float]) -> str:
    """Name of the block of a tolerance frame with such cells; attributes VALUE and DATUM, origin lower left."""
    name = f"FRAME_{kind.upper().replace('-', '_').replace(' ', '_')}_{round(sum(cells) * 10)}"
    if name not in document.blocks:
        block = document.blocks.new(name)
        pen = Pen(block)
        width, height = sum(cells), FRAME_HEIGHT_MM
        pen.polyline([(0, 0), (width, 0), (width, height), (0, height)], "SYMBOL", closed=True)
        for x in (cells[0], cells[0] + cells[1]):
            pen.line((x, 0), (x, height), "SYMBOL")
        _sign(pen, kind)
        _attribute(block, "VALUE", (cells[0] + 1.5, (height - TEXT_MM) / 2))
        _attribute(block, "DATUM", (cells[0] + cells[1] + 2.2, (height - TEXT_MM) / 2))
    return name


def _sign(pen: Pen, kind: str) -> None:
    """The sign of the tolerated property in the first cell."""
    if kind in ("run-out", "total run-out"):
        starts = ((2.2, 1.4),) if kind == "run-out" else ((1.4, 1.4), (3.2, 1.4))
        for x, y in starts:
            tip = (x + 2.6, y + 4.2)
            pen.line((x, y), tip, "SYMBOL")
            pen.arrow(tip, math.degrees(math.atan2(4.2, 2.6)), "SYMBOL")
        if len(starts) > 1:
            pen.line(starts[0], starts[1], "SYMBOL")
    elif kind in ("coaxiality", "concentricity", "coaxial"):
        for radius in (1.2, 2.3):
            pen.circle((3.5, 3.5), radius, "SYMBOL")
    elif kind in ("squareness", "perpendicularity"):
        pen.line((1.5, 1.5), (5.5, 1.5), "SYMBOL")
        pen.line((3.5, 1.5), (3.5, 5.5), "SYMBOL")
    elif kind == "parallelism":
        for x in (1.8, 3.4):
            pen.line((x, 1.5), (x + 1.8, 5.5), "SYMBOL")
    else:
        pen.text(kind[:2], (1.0, 1.8), TEXT_MM)


def datum_block(document: Any) -> str:
    """Name of the block of a datum letter in its square; attribute DATUM, origin at the middle of its lower side."""
    if "DATUM" not in document.blocks:
        block = document.blocks.new("DATUM")
        half = FRAME_HEIGHT_MM / 2
        Pen(block).polyline(
            [(-half, 0), (half, 0), (half, FRAME_HEIGHT_MM), (-half, FRAME_HEIGHT_MM)], "SYMBOL", closed=True
        )
        _attribute(block, "DATUM", (-text_width_mm("A", TEXT_MM) / 2, (FRAME_HEIGHT_MM - TEXT_MM) / 2))
    return "DATUM"


def taper_block(document: Any, narrow_end: str) -> str:
    """Name of the block of a taper symbol whose narrow end points left or right; origin at its left on the line."""
    name = f"TAPER_{narrow_end.upper()}"
    if name not in document.blocks:
        base, tip = (7.0, 0.0) if narrow_end == "left" else (0.0, 7.0)
        pen = Pen(document.blocks.new(name))
        pen.polyline([(base, -1.75), (base, 1.75), (tip, 0.0)], "SYMBOL", closed=True)
    return name


def edge_block(document: Any, place: str) -> str:
    """Name of the block of an edge symbol on a corner seen "outside" or "inside"; attribute EDGE, origin lower left.

    Source: ISO 13715 at second hand, the shape from memory.
    """
    name = f"EDGE_{place.upper()}"
    if name not in document.blocks:
        block = document.blocks.new(name)
        pen = Pen(block)
        if place == "outside":
            corner, ends = (8.0, 4.0), ((0.0, 4.0), (8.0, 0.0))
        else:
            corner, ends = (4.0, 0.5), ((4.0, 10.0), (14.0, 0.5))
        for end in ends:
            pen.line(corner, end, "OUTLINE")
        knee = (corner[0] + 2.0, corner[1] + 2.0)
        pen.line(corner, knee, "SYMBOL")
        pen.line(knee, (knee[0], knee[1] + 4.5), "SYMBOL")
        pen.line(knee, (knee[0] + 11.0, knee[1]), "SYMBOL")
        _attribute(block, "EDGE", (knee[0] + 1.2, knee[1] + 1.0))
    return name


def centre_hole_block(document: Any, meaning: str, hand: int) -> str:
    """Name of the block of a centre-hole symbol, its tip at the origin, opening to the right (hand +1) or left (-1).

    `meaning` is "remains" (open angle), "may remain" (no angle at all) or "must not remain" (angle closed at its tip).
    Source: ISO 6411 at second hand, the pictures from memory.
    """
    name = f"CENTRE_HOLE_{meaning.upper().replace(' ', '_')}_{'RIGHT' if hand > 0 else 'LEFT'}"
    if name not in document.blocks:
        pen = Pen(document.blocks.new(name))
        if meaning != "may remain":
            pen.polyline([(hand * 4.3, 2.5), (0.0, 0.0), (hand * 4.3, -2.5)], "SYMBOL")
        if meaning == "must not remain":
            pen.line((0.0, 2.5), (0.0, -2.5), "SYMBOL")
    return name
