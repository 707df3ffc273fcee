"""The sheet of one part: the first scale and page on which everything fits without a clash.

Full size on A4 comes first, because a turner lays the part on the paper; parts under 40 mm are drawn larger where that
fits; a reduction is the last resort.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from generator.description import Part, outline
from generator.drawing.base import Pen, new_document
from generator.drawing.callouts import TAPER_SYMBOL_MM, PlacedCallout, frame_cells
from generator.drawing.compose import Composition, compose
from generator.drawing.dimension import (
    Picture,
    add_angular,
    add_dimension_style,
    add_lane_dimension,
    add_leader_size,
    tag,
)
from generator.drawing.requests import requests_of
from generator.drawing.sheet import (
    CHECK_STRIP_MM,
    LAST_PAGE,
    PAGES,
    Page,
    Rect,
    TitleBlock,
    add_sheet,
    add_viewport,
    draw_notes,
    note_lines,
    notes_height_mm,
)
from generator.drawing.style import CENTRE_PAST_MM, TEXT_GAP_MM, scale_text
from generator.drawing.symbols import datum_block, finish_block, frame_block, taper_block
from generator.drawing.views import draw_view
from generator.errors import OutputError

__all__ = ["PartSheet", "part_sheet"]

LAYOUT_NAME = "Sheet"
_UPRIGHT_CHECK_MM = 10.0
_RIM_MM = 3.0
_SMALL_PART_MM = 40.0
_TINY_PART_MM = 14.0


@dataclass(frozen=True, slots=True)
class PartSheet:
    """A finished sheet: the DXF document, its paper layout, scale and page."""

    document: Any
    layout_name: str
    scale: float
    page: str


@dataclass(frozen=True, slots=True)
class _Fit:
    """A page on which a composition fits: where its view window and its notes stand."""

    page: Page
    window: Rect
    notes: Rect
    lines: tuple[str, ...]


def part_sheet(
    part: Part, block: TitleBlock, *, hatch_angle_deg: float = 45.0, remarks: Sequence[str] = ()
) -> PartSheet:
    """The dimensioned sheet of a part. Raises OutputError where no scale and page hold it."""
    requests = requests_of(part, block.manner)
    full: Composition | None = None
    for scale in _scales(part):
        found = compose(part, scale, requests)
        if found is None:
            continue
        full = found if scale == 1.0 else full
        notes = _notes(found, block, remarks)
        for page in PAGES:
            fit = _fit(found, page.for_block(block), notes)
            if fit is not None:
                return _draw(found, fit, block, hatch_angle_deg)
    fit = _fit(full, LAST_PAGE.for_block(block), _notes(full, block, remarks)) if full is not None else None
    if full is not None and fit is not None:
        return _draw(full, fit, block, hatch_angle_deg)
    message = (
        f"{part.name}: its sheet does not fit on A2 without figures touching; "
        "split the part, or leave out sizes that follow from others"
    )
    raise OutputError(message)


def _notes(found: Composition, block: TitleBlock, remarks: Sequence[str]) -> tuple[str, ...]:
    """The notes of a sheet: the block's, the part's, finishes that found no room in the view, and remarks."""
    by_value: dict[str, list[str]] = {}
    for callout in found.in_words:
        by_value.setdefault(callout.label.main, []).append(callout.address.split("/")[-2].replace("_", " "))
    told = block.manner.words.finish_on
    finishes = tuple(told.format(value=value, names=", ".join(names)) for value, names in by_value.items())
    return (*block.notes, *found.requests.notes, *finishes, *remarks)


def _scales(part: Part) -> Iterator[float]:
    """Scales in the order in which they are tried."""
    shape = outline(part)
    largest = max(shape.far_z - shape.near_z, 2 * max(max(e.r0, e.r1) for e in shape.outer))
    if largest < _TINY_PART_MM:
        yield 5.0
    if largest < _SMALL_PART_MM:
        yield 2.0
    yield from (1.0, 0.5, 0.2)


def _fit(found: Composition, page: Page, notes: Sequence[str]) -> _Fit | None:
    """Where view and notes stand on the page, or None."""
    frame, block = page.frame, page.block
    if page.is_upright:
        lines = note_lines(notes, frame.width - _UPRIGHT_CHECK_MM - 2 * _RIM_MM)
        floor = block.top + CHECK_STRIP_MM
        height = notes_height_mm(lines)
        notes_at = Rect(frame.left + _UPRIGHT_CHECK_MM, floor, frame.right - _RIM_MM, floor + height)
        room = Rect(frame.left + _UPRIGHT_CHECK_MM, floor + height + _RIM_MM, frame.right, frame.top)
    else:
        column = block.left - frame.left - _UPRIGHT_CHECK_MM - 2 * _RIM_MM
        lines = note_lines(notes, column)
        floor = max(block.top + CHECK_STRIP_MM, frame.bottom + notes_height_mm(lines) + _RIM_MM)
        top = frame.bottom + notes_height_mm(lines) + _RIM_MM
        notes_at = Rect(frame.left + _UPRIGHT_CHECK_MM + _RIM_MM, frame.bottom, block.left - _RIM_MM, top)
        room = Rect(frame.left + _UPRIGHT_CHECK_MM, floor, frame.right, frame.top)
    rooms = [(room, notes_at, lines)]
    if not page.is_upright:
        rooms.append(_beside_block(page, notes))
    for place, words_at, broken in rooms:
        inner = place.shrunk(_RIM_MM)
        box = found.box
        if box.right - box.left <= inner.width and box.top - box.bottom <= inner.height:
            return _Fit(page, inner, words_at, tuple(broken))
    return None


def _beside_block(page: Page, notes: Sequence[str]) -> tuple[Rect, Rect, list[str]]:
    """The tall column left of the block for the view, with the notes above the block."""
    frame, block = page.frame, page.block
    lines = note_lines(notes, block.width - 2 * _RIM_MM)
    floor = block.top + CHECK_STRIP_MM
    notes_at = Rect(block.left + _RIM_MM, floor, frame.right, floor + notes_height_mm(lines))
    return Rect(frame.left + _UPRIGHT_CHECK_MM, frame.bottom, block.left, frame.top), notes_at, lines


def _draw(found: Composition, fit: _Fit, block: TitleBlock, hatch_angle_deg: float) -> PartSheet:
    scale = found.scale
    document = new_document()
    add_dimension_style(document, scale, block.manner)
    space = document.modelspace()
    pen = Pen(space, scale)
    draw_view(pen, found.view, hatch_angle_deg=hatch_angle_deg)
    _gauge_planes(pen, found)
    for line in found.dimensions:
        add_lane_dimension(document, space, line, scale)
    for placed in found.callouts:
        _draw_callout(document, space, placed, scale)
    layout = add_sheet(document, fit.page, replace(block, scale=scale_text(scale)), LAYOUT_NAME)
    middle = ((found.box.left + found.box.right) / 2 / scale, (found.box.bottom + found.box.top) / 2 / scale)
    add_viewport(layout, fit.window, middle, scale)
    draw_notes(Pen(layout), fit.lines, fit.notes.left, fit.notes.top, heading=block.manner.words.notes)
    return PartSheet(document, LAYOUT_NAME, scale, fit.page.name)


def _gauge_planes(pen: Pen, found: Composition) -> None:
    """A chain line through the gauge plane of every taper."""
    for surface in found.part.surfaces:
        if surface.role == "taper":
            z = found.view.shape.z_of[surface.at]
            reach = surface.diameter.nominal_mm / 2 + CENTRE_PAST_MM / pen.scale
            pen.line((z, -reach), (z, reach), "CENTRE")


def _draw_callout(document: Any, space: Any, placed: PlacedCallout, scale: float) -> None:
    callout = placed.callout
    if callout.kind in ("size", "angle"):
        _draw_size(document, space, placed, scale)
        return
    picture = Picture(Pen(space, scale))
    if not placed.stands:
        _draw_leader(picture, placed)
    if callout.kind == "words":
        assert placed.reference is not None
        picture.label(callout.label, (placed.box.left + 0.5, placed.reference.start[1]))
        return
    tag(_symbol(document, picture, placed), callout.address)


def _draw_leader(picture: Picture, placed: PlacedCallout) -> None:
    points = [picture.at(*p) for p in placed.points]
    is_datum = placed.callout.kind == "datum"
    picture.pen.leader(points, end="none" if is_datum else "arrow")
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
    if callout.kind == "datum":
        return pen.insert(
            datum_block(document), picture.at((box.left + box.right) / 2, box.bottom), {"DATUM": words}
        )
    assert placed.reference is not None
    y = placed.reference.start[1]
    picture.label(callout.label, (box.left + TAPER_SYMBOL_MM + 2.0, y))
    at = picture.at(box.left + 0.5, y + TEXT_GAP_MM + 1.75)
    return pen.insert(taper_block(document, callout.cells[0]), at)


def _draw_size(document: Any, space: Any, placed: PlacedCallout, scale: float) -> None:
    callout = placed.callout
    assert callout.size is not None
    assert callout.measured is not None
    assert placed.reference is not None
    block = document.blocks.new_anonymous_block(type_char="D")
    picture = Picture(Pen(block, scale))
    _draw_leader(picture, placed)
    width = callout.label.width_mm
    start = placed.box.left + 0.5
    picture.label(callout.label, (start, placed.reference.start[1]), centre=callout.label.full_width_mm / 2)
    text_at = picture.at(start + width / 2, placed.reference.start[1] + TEXT_GAP_MM + 1.75)
    if callout.kind == "angle":
        add_angular(space, block, callout.label, callout.size.nominal_mm, callout.address, callout.measured, text_at)
        return
    add_leader_size(
        document, space, block, callout.label, callout.address, callout.measured, text_at,
        horizontal=callout.horizontal,
    )
