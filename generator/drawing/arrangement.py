"""The general arrangement: the whole tool in section with its neighbours, item numbers, parts list, gaps and sizes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from generator.description import ChainResult, ListRow, Tool, parts_list
from generator.drawing.arrangement_callouts import (
    Word,
    gap_callouts,
    item_callouts,
    lettered_gaps,
    name_neighbours,
)
from generator.drawing.arrangement_page import (
    LEADS,
    Lead,
    PageLayout,
    ViewSize,
    lay_out_page,
    list_width_mm,
)
from generator.drawing.arrangement_sizes import (
    LeaderSize,
    Lengths,
    add_leader_sizes,
    add_lengths,
    leader_sizes,
    lengths_of,
)
from generator.drawing.arrangement_tables import Table, draw_table, gap_table, list_table
from generator.drawing.arrangement_view import Scene, draw_scene, scene_of
from generator.drawing.balloons import Callout, Obstacles, Shelf, Spot, faults_of, place_callouts
from generator.drawing.base import Pen, new_document
from generator.drawing.dimension import add_dimension_style
from generator.drawing.sheet import TitleBlock, add_sheet, add_viewport, draw_notes, note_lines
from generator.drawing.style import LARGE_TEXT_MM, TEXT_MM, scale_text
from generator.errors import OutputError

__all__ = ["ArrangementSheet", "arrangement", "arrangement_picture"]

LAYOUT_NAME = "Arrangement"
_OFF_VIEW_MM = (7.0, 15.0, 26.0)
"""Distance of the rows of callouts from the view: nearest first, farther where leaders would lie too flat."""
_LANES_CLOSER_MM = 3.0
"""Below a row of callouts the first dimension line stands nearer than below an outline."""

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


@dataclass(frozen=True, slots=True)
class _Order:
    """What is to be drawn and said."""

    tool: Tool
    rows: tuple[ListRow, ...]
    block: TitleBlock
    chains: Mapping[str, ChainResult]
    remarks: Sequence[str]
    stock: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class _Draft:
    """One try of page and scale that fits: what stands where, and the callouts still to be placed."""

    lead: Lead
    scene: Scene
    layout: PageLayout
    parts: Table
    gaps: Table | None
    callouts: tuple[Callout, ...]
    sizes: tuple[LeaderSize, ...]
    lengths: Lengths
    levels: _Levels


@dataclass(frozen=True, slots=True)
class _Levels:
    """Heights and ends round the view in mm on paper, the axis at 0: rows of callouts, dimension lines, all of it."""

    above: Shelf
    below: Shelf
    low: float
    high: float
    left: float
    right: float


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
    order = _Order(tool, parts_list(tool), block, chains, remarks, stock)
    scenes: dict[float, Scene] = {}
    best: tuple[int, _Draft, list[Spot], list[Word]] | None = None
    for lead in LEADS:
        if best is not None and lead.scale < 1.0:
            break
        if lead.scale not in scenes:
            scenes[lead.scale] = scene_of(tool, lead.scale)
        for off_view_mm in _OFF_VIEW_MM:
            draft = _drafted(lead, scenes[lead.scale], order, off_view_mm)
            if draft is None:
                break
            spots, words = _placed(draft)
            faults = faults_of(spots, (draft.levels.above, draft.levels.below))
            if not faults:
                return _drawn(draft, spots, words, block)
            if best is None or faults < best[0]:
                best = (faults, draft, spots, words)
    if best is not None:
        return _drawn(*best[1:], block)
    message = f"{tool.title}: the arrangement does not fit on A3 at 1:10; shorten the tool or the parts list"
    raise OutputError(message)


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


def _drafted(lead: Lead, scene: Scene, order: _Order, off_view_mm: float) -> _Draft | None:
    """The sheet set out on one page at one scale, or None where it does not fit."""
    gaps = lettered_gaps(scene, order.chains)
    _, named = name_neighbours(scene, lead.scale)
    sizes = leader_sizes(scene, lead.scale)
    lengths = lengths_of(order.tool, scene, lead.scale)
    callouts = (
        *item_callouts(order.rows, scene, lead.scale, lead.circle_mm),
        *gap_callouts(gaps, lead.scale),
        *(size.callout for size in sizes),
        *named,
    )
    levels = _levels(scene, lead, callouts, lengths, off_view_mm)
    width = list_width_mm(lead.page)
    parts = list_table(order.rows, order.stock, width)
    gap_rows = gap_table(gaps, len(order.chains) - len(gaps)) if gaps else None
    notes = (*order.block.notes, *order.tool.notes, *order.remarks)
    view = ViewSize(levels.right - levels.left, levels.high - levels.low)
    layout = lay_out_page(lead.page, parts, gap_rows, lambda room: note_lines(notes, room), view)
    if layout is None:
        return None
    return _Draft(lead, scene, layout, parts, gap_rows, callouts, tuple(sizes), lengths, levels)


def _levels(
    scene: Scene, lead: Lead, callouts: Sequence[Callout], lengths: Lengths, off_view_mm: float
) -> _Levels:
    """Rows of callouts above and below the view, wide enough for all of them, and room for sizes under it."""
    scale = lead.scale
    z0, r0, z1, r1 = (value * scale for value in scene.box)
    needed = sum(2 * c.half_width_mm + 2.5 for c in callouts) * 0.6
    spare = max(0.0, needed - (z1 - z0)) / 2
    reach = max([lead.circle_mm, *(c.half_height_mm for c in callouts)])
    upright = tuple(z * scale for z in lengths.roots)
    above = Shelf(1, r1 + off_view_mm + reach, z0 - spare, z1 + spare)
    below = Shelf(-1, r0 - off_view_mm - reach, z0 - spare, z1 + spare, upright)
    low = below.y - reach + _LANES_CLOSER_MM - lengths.depth_mm - 1.0
    return _Levels(above, below, low, above.y + reach + 1.0, z0 - spare - 2.0, z1 + spare + 2.0)


def _drawn(draft: _Draft, spots: Sequence[Spot], words: Sequence[Word], block: TitleBlock) -> ArrangementSheet:
    """The document with everything on it."""
    lead, levels, layout = draft.lead, draft.levels, draft.layout
    document = new_document()
    add_dimension_style(document, lead.scale)
    pen = Pen(document.modelspace(), lead.scale)
    draw_scene(pen, draft.scene)
    for word in words:
        _write(pen, word)
    told = {size.callout.text for size in draft.sizes}
    for spot in spots:
        if spot.callout.text not in told:
            _call_out(pen, spot, lead)
    add_leader_sizes(document, draft.sizes, spots, lead.scale)
    lowest = min((spot.box[1] for spot in spots if spot.tip.side < 0), default=None)
    start = draft.scene.box[1] * lead.scale if lowest is None else lowest + _LANES_CLOSER_MM
    add_lengths(document, draft.lengths, start, lead.scale)
    sheet = add_sheet(document, lead.page, replace(block, scale=scale_text(lead.scale)), LAYOUT_NAME)
    paper = Pen(sheet)
    centre = ((levels.left + levels.right) / 2 / lead.scale, (levels.low + levels.high) / 2 / lead.scale)
    add_viewport(sheet, layout.view, centre, lead.scale)
    draw_table(paper, draft.parts, *layout.list_at, heading=-1)
    if draft.gaps is not None and layout.gaps_at is not None:
        draw_table(paper, draft.gaps, *layout.gaps_at, heading=0)
    draw_notes(paper, layout.note_lines, *layout.notes_at)
    return ArrangementSheet(document, LAYOUT_NAME, lead.scale, lead.page.name, tuple(spots), draft.scene)


def _placed(draft: _Draft) -> tuple[list[Spot], list[Word]]:
    """Callouts in their places, and the names that stand without a leader; one that finds no room gets a leader."""
    scale, scene = draft.lead.scale, draft.scene
    hatches = tuple(dict.fromkeys(area.style.angle_deg for area in scene.section.areas))
    passing = tuple(
        (x0 * scale, y0 * scale, x1 * scale, y1 * scale)
        for n in scene.neighbours
        if n.name not in {part.name for part in scene.others}
        for x0, y0, x1, y1 in n.lines
    )
    shelves = (draft.levels.above, draft.levels.below)
    callouts, spots = draft.callouts, list[Spot]()
    while True:
        spots = place_callouts(callouts, shelves, Obstacles((), passing, hatches), spots)
        words, named = name_neighbours(scene, scale, spots)
        lost = [c for c in named if c.text not in {other.text for other in callouts}]
        if not lost:
            called = {c.text for c in callouts}
            return spots, [word for word in words if " ".join(word.lines) not in called]
        callouts = (*callouts, *lost)


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
