"""The general arrangement: the whole tool in section with its neighbours, item numbers, parts list, gaps and sizes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from generator.description import ChainResult, Tool, parts_list
from generator.drawing.arrangement_callouts import Word, name_neighbours
from generator.drawing.arrangement_detail import draw_detail, spot_of_detail
from generator.drawing.arrangement_draft import LANES_CLOSER_MM, Draft, Order, draft_of
from generator.drawing.arrangement_page import CAPTION_MM, Lead
from generator.drawing.arrangement_sizes import add_leader_sizes, add_lengths
from generator.drawing.arrangement_tables import draw_table
from generator.drawing.arrangement_view import Scene, draw_scene, scene_of
from generator.drawing.balloons import Spot
from generator.drawing.base import Pen, new_document
from generator.drawing.dimension import add_dimension_style
from generator.drawing.pictorial import draw_picture, picture_of
from generator.drawing.sheet import TitleBlock, add_sheet, add_viewport, draw_notes
from generator.drawing.style import LARGE_TEXT_MM, TEXT_MM, scale_text

__all__ = ["ArrangementSheet", "arrangement", "arrangement_picture"]

LAYOUT_NAME = "Arrangement"
_NO_CHAINS: Mapping[str, ChainResult] = {}
_NO_STOCK: Mapping[str, str] = {}


@dataclass(frozen=True, slots=True)
class ArrangementSheet:
    """The finished sheet: its document, the paper layout in it, the scale of the view, the page, the items placed."""

    document: Any
    layout_name: str
    scale: float
    page: str
    spots: tuple[Spot, ...]
    scene: Scene


def arrangement(
    tool: Tool,
    block: TitleBlock,
    *,
    chains: Mapping[str, ChainResult] = _NO_CHAINS,
    remarks: Sequence[str] = (),
    stock: Mapping[str, str] = _NO_STOCK,
) -> ArrangementSheet:
    """The general arrangement of a tool on the smallest page that takes it, full size where possible.

    `chains` are the gaps worked out, `remarks` are printed in words, `stock` tells the cut length by part name.
    Raises OutputError where no page takes it.
    """
    return _drawn(draft_of(Order(tool, parts_list(tool), block, chains, remarks, stock)), block)


def arrangement_picture(tool: Tool) -> Any:
    """A document with the section of the whole tool in model space, without frame and lists, for a live picture.

    Its tight extents stand in the header ($EXTMIN, $EXTMAX) and on the model space.
    """
    document = new_document()
    scene = scene_of(tool)
    pen = Pen(document.modelspace())
    draw_scene(pen, scene)
    words, _ = name_neighbours(scene, 1.0)
    for word in words:
        _write(pen, word)
    box = scene.box
    _note_extents(document, (box[0] - 5.0, box[1] - 3.0, box[2] + 5.0, box[3] + 3.0))
    return document


def _note_extents(document: Any, box: tuple[float, float, float, float]) -> None:
    low, high = (box[0], box[1], 0.0), (box[2], box[3], 0.0)
    document.header["$EXTMIN"], document.header["$EXTMAX"] = low, high
    space = document.modelspace()
    space.dxf.extmin, space.dxf.extmax = low, high


def _drawn(draft: Draft, block: TitleBlock) -> ArrangementSheet:
    """The document with everything on it."""
    lead = draft.lead
    document = new_document()
    add_dimension_style(document, lead.scale, block.manner)
    _draw_view(document, draft)
    sheet = add_sheet(document, lead.page, replace(block, scale=scale_text(lead.scale)), LAYOUT_NAME)
    paper, layout, levels = Pen(sheet), draft.layout, draft.levels
    centre = ((levels.left + levels.right) / 2 / lead.scale, (levels.low + levels.high) / 2 / lead.scale)
    add_viewport(sheet, layout.view, centre, lead.scale)
    _show_detail(document, sheet, draft)
    _show_picture(paper, draft, block.manner.words.isometric_view)
    draw_table(paper, draft.parts, *layout.list_at, heading=-1)
    if draft.gaps is not None and layout.gaps_at is not None:
        draw_table(paper, draft.gaps, *layout.gaps_at, heading=0)
    draw_notes(paper, layout.note_lines, *layout.notes_at, heading=block.manner.words.notes)
    return ArrangementSheet(document, LAYOUT_NAME, lead.scale, lead.page.name, draft.spots, draft.scene)


def _draw_view(document: Any, draft: Draft) -> None:
    """Model space: the scene, names, callouts and sizes."""
    lead = draft.lead
    pen = Pen(document.modelspace(), lead.scale)
    draw_scene(pen, draft.scene)
    for word in draft.words:
        _write(pen, word)
    told = {size.callout.text for size in draft.sizes}
    for spot in draft.spots:
        if spot.callout.text not in told:
            _call_out(pen, spot, lead)
    add_leader_sizes(document, draft.sizes, draft.spots, lead.scale)
    lowest = min((spot.box[1] for spot in draft.spots if spot.tip.side < 0), default=None)
    start = draft.scene.box[1] * lead.scale if lowest is None else lowest + LANES_CLOSER_MM
    add_lengths(document, draft.lengths, start, lead.scale)


def _show_detail(document: Any, sheet: Any, draft: Draft) -> None:
    """The detail on its own spot of model space, and the viewport on it."""
    detail, place = draft.detail, draft.layout.detail
    if detail is None or place is None:
        return
    at = spot_of_detail(draft.scene.section, draft.lead.scale)
    space = document.modelspace()
    Pen(space, draft.lead.scale).circle(detail.middle, detail.reach, "DIM")
    draw_detail(Pen(space, detail.scale), detail, draft.scene.section, at)
    left, bottom, right, top = detail.box
    centre = (at[0] + (left + right) / 2 / detail.scale, at[1] + (bottom + top) / 2 / detail.scale)
    add_viewport(sheet, place, centre, detail.scale)


def _show_picture(paper: Pen, draft: Draft, heading: str) -> None:
    """The pictorial view of the whole tool with its caption, on the paper itself."""
    found = draft.layout.picture
    if found is None:
        return
    x, y = found.place.centre
    draw_picture(paper, picture_of(draft.bodies, found.scale), (x, y + CAPTION_MM / 2), found.scale)
    words = f"{heading} ({scale_text(found.scale)})"
    paper.text(words, (x, found.place.bottom + 1.0), TEXT_MM, anchor="centre")


def _write(pen: Pen, word: Word) -> None:
    for words, (x, y) in word.placed_lines():
        pen.text(words, (x / pen.scale, y / pen.scale), word.height_mm, anchor="middle")


def _call_out(pen: Pen, spot: Spot, lead: Lead) -> None:
    """Draw one callout: leader, circle where it is an item, words."""
    scale = pen.scale
    x0, y0, x1, y1 = (value / scale for value in spot.leader)
    pen.leader([(x0, y0), (x1, y1)], end=spot.tip.end)
    centre = (spot.centre[0] / scale, spot.centre[1] / scale)
    is_item = spot.callout.number is not None
    if is_item:
        pen.circle(centre, lead.circle_mm / scale, "SYMBOL")
    height = lead.number_mm if is_item else LARGE_TEXT_MM if spot.callout.is_round else TEXT_MM
    pen.text(spot.callout.text, centre, height, anchor="middle")
