"""Callouts drawn: leaders with sizes, words and symbols, in the places that were found for them."""

from __future__ import annotations

from typing import Any

from generator.description import Size
from generator.drawing.base import Pen
from generator.drawing.boxes import Line
from generator.drawing.callouts import HEADLESS, TAPER_SYMBOL_MM, PlacedCallout, frame_cells
from generator.drawing.certain import certain
from generator.drawing.compose import BEFORE_END_MM
from generator.drawing.dimension import Picture, add_angular, add_leader_size, tag
from generator.drawing.font import STYLE_NAME, WIDTH_FACTOR
from generator.drawing.style import LARGE_TEXT_MM, TEXT_GAP_MM, TEXT_MM
from generator.drawing.symbols import centre_hole_block, datum_block, finish_block, frame_block, taper_block

__all__ = ["draw_callout"]


def draw_callout(document: Any, space: Any, placed: PlacedCallout, scale: float) -> None:
    """Draw a callout where it was placed: a leader with a size, words or a symbol."""
    callout = placed.callout
    if callout.kind in ("size", "angle"):
        _draw_size(document, space, placed, scale)
        return
    picture = Picture(Pen(space, scale))
    if not placed.stands:
        _draw_leader(picture, placed)
    if callout.kind == "letter":
        x, y = placed.box.left + 1.0, _level(placed) + TEXT_GAP_MM
        picture.pen.text(callout.label.main, picture.at(x, y), LARGE_TEXT_MM)
        return
    if callout.kind == "words":
        picture.label(callout.label, (placed.box.left + 0.5, _level(placed)))
        return
    tag(_symbol(document, picture, placed), callout.address)


def _level(placed: PlacedCallout) -> float:
    """Height of the reference line of a callout."""
    return certain(placed.reference, Line, f"the reference line of {placed.callout.address}").start[1]


def _draw_leader(picture: Picture, placed: PlacedCallout) -> None:
    points = [picture.at(*p) for p in placed.points]
    kind = placed.callout.kind
    is_datum = kind == "datum"
    picture.pen.leader(points, end="none" if kind in HEADLESS else "arrow")
    if placed.reference is not None:
        picture.line(placed.reference.start, placed.reference.end)
    if is_datum:
        (x, y), (_, away) = placed.points[0], placed.points[1]
        tip = y + (3.0 if away > y else -3.0)
        corners = [picture.at(x - 1.75, y), picture.at(x + 1.75, y), picture.at(x, tip)]
        picture.pen.space.add_solid(corners, dxfattribs={"layer": "SYMBOL"})


def _symbol(document: Any, picture: Picture, placed: PlacedCallout) -> Any:
    """Insert the symbol of a callout; the entity that carries its values."""
    callout, box = placed.callout, placed.box
    pen = picture.pen
    words = callout.label.main
    if callout.kind == "finish":
        foot = placed.points[0] if placed.stands else (box.left + 3.4, placed.points[-1][1])
        return pen.insert(finish_block(document, words), picture.at(*foot), {"FINISH": words})
    if callout.kind == "frame":
        kind, value, letter = callout.cells
        name = frame_block(document, kind, frame_cells(callout))
        return pen.insert(name, picture.at(box.left, box.bottom), {"VALUE": value, "DATUM": letter})
    if callout.kind == "centre":
        return _centre_hole(document, picture, placed)
    if callout.kind == "datum":
        return pen.insert(
            datum_block(document), picture.at((box.left + box.right) / 2, box.bottom), {"DATUM": words}
        )
    y = _level(placed)
    centre = callout.label.full_width_mm / 2
    picture.label(callout.label, (box.left + TAPER_SYMBOL_MM + 2.0, y), centre=centre)
    at = picture.at(box.left + 0.5, y + TEXT_GAP_MM + 1.75)
    return pen.insert(taper_block(document, callout.cells[0]), at)


def _centre_hole(document: Any, picture: Picture, placed: PlacedCallout) -> Any:
    """The symbol of a centre hole on its end face; the code is an attribute of it, where the leader ends."""
    callout, box = placed.callout, placed.box
    meaning, end = callout.cells
    face = placed.points[0][0] - int(end) * BEFORE_END_MM
    insert = picture.pen.insert(centre_hole_block(document, meaning, int(end)), picture.at(face, 0.0))
    y = (box.bottom + box.top - TEXT_MM) / 2
    form = {"layer": "TEXT", "style": STYLE_NAME, "height": TEXT_MM / picture.pen.scale, "width": WIDTH_FACTOR}
    insert.add_attrib("CODE", callout.label.main, picture.at(box.left + 1.0, y), dxfattribs=form)
    return insert


def _draw_size(document: Any, space: Any, placed: PlacedCallout, scale: float) -> None:
    callout, level = placed.callout, _level(placed)
    size = certain(callout.size, Size, f"the size {callout.address}")
    measured = certain(callout.measured, tuple, f"what {callout.address} measures")
    block = document.blocks.new_anonymous_block(type_char="D")
    picture = Picture(Pen(block, scale))
    _draw_leader(picture, placed)
    width = callout.label.width_mm
    start = placed.box.left + 0.5
    picture.label(callout.label, (start, level), centre=callout.label.full_width_mm / 2)
    text_at = picture.at(start + width / 2, level + TEXT_GAP_MM + 1.75)
    if callout.kind == "angle":
        add_angular(space, block, callout.label, size.nominal_mm, callout.address, measured, text_at)
        return
    add_leader_size(
        document, space, block, callout.label, callout.address, measured, text_at,
        horizontal=callout.horizontal,
    )
