"""The draft of an arrangement: page, scale, rows of callouts and where everything stands. Nothing is drawn yet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from generator.description import ChainResult, ListRow, Tool, outline
from generator.drawing.arrangement_callouts import (
    Word,
    gap_callouts,
    item_callouts,
    lettered_gaps,
    name_neighbours,
)
from generator.drawing.arrangement_detail import Detail, detail_of, mark_of
from generator.drawing.arrangement_page import LEADS, Lead, PageLayout, ViewSize, lay_out_page, list_width_mm
from generator.drawing.arrangement_sizes import LeaderSize, Lengths, leader_sizes, lengths_of
from generator.drawing.arrangement_tables import Table, gap_table, list_table
from generator.drawing.arrangement_view import Scene, scene_of
from generator.drawing.balloons import Callout, Obstacles, Shelf, Spot, faults_of, place_callouts
from generator.drawing.pictorial import size_of
from generator.drawing.pictorial_bodies import Body, bodies_of
from generator.drawing.sheet import TitleBlock, note_lines
from generator.errors import OutputError

__all__ = ["LANES_CLOSER_MM", "Draft", "Order", "draft_of"]

_ROWS = ((7.0, 0.6, 0.0), (7.0, 0.75, 20.0), (15.0, 0.6, 0.0), (15.0, 0.75, 30.0), (26.0, 0.75, 30.0))
"""Rows of callouts to try: distance from the view in mm, length as a share of all callouts side by side, and how far at
least they reach past the view. Nearest first, farther where leaders would lie too flat."""
_SMALL_TOOL_MM = 80.0
_SLIM_TOOL_MM = 30.0
"""A tool no thicker than this is hardly legible at full size: its rings have walls of 2 mm. Shop choice."""

LANES_CLOSER_MM = 3.0
"""Below a row of callouts the first dimension line stands this much nearer than below an outline."""


@dataclass(frozen=True, slots=True)
class Order:
    """What is to be drawn and said."""

    tool: Tool
    rows: tuple[ListRow, ...]
    block: TitleBlock
    chains: Mapping[str, ChainResult]
    remarks: Sequence[str]
    stock: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Levels:
    """Heights and ends round the view in mm on paper, the axis at 0: rows of callouts, dimension lines, all of it."""

    above: Shelf
    below: Shelf
    low: float
    high: float
    left: float
    right: float


@dataclass(frozen=True, slots=True)
class _Said:
    """All that is said about the view at one scale, wherever it will stand; `items` have circles of no size yet."""

    scale: float
    scene: Scene
    items: tuple[Callout, ...]
    letters: tuple[Callout, ...]
    others: tuple[Callout, ...]
    sizes: tuple[LeaderSize, ...]
    lengths: Lengths
    gaps: Table | None
    detail: Detail | None
    bodies: tuple[Body, ...]

    def callouts(self, lead: Lead, detail: Detail | None) -> tuple[Callout, ...]:
        """The callouts with their circles as large as the page wants them; gaps in a detail are lettered there."""
        radius = lead.circle_mm
        items = tuple(replace(c, half_width_mm=radius, half_height_mm=radius) for c in self.items)
        if detail is None:
            return (*items, *self.letters, *self.others)
        shown = {gap.letter for gap in detail.gaps}
        letters = (c for c in self.letters if c.text not in shown)
        return (*items, *letters, mark_of(detail, self.scale), *self.others)


@dataclass(frozen=True, slots=True)
class Draft:
    """A sheet set out: what stands where."""

    lead: Lead
    scene: Scene
    layout: PageLayout
    parts: Table
    gaps: Table | None
    sizes: tuple[LeaderSize, ...]
    lengths: Lengths
    levels: Levels
    spots: tuple[Spot, ...]
    words: tuple[Word, ...]
    detail: Detail | None
    bodies: tuple[Body, ...]


def draft_of(order: Order) -> Draft:
    """The first page, scale and rows without a fault; where none is, the one with fewest at full size or more.

    Raises OutputError where no page takes the arrangement.
    """
    said: dict[float, _Said] = {}
    best: tuple[int, Draft] | None = None
    for lead in (replace(lead, page=lead.page.for_block(order.block)) for lead in _leads_for(order.tool)):
        if best is not None and lead.scale < 1.0:
            break
        if lead.scale > 1.0 and not (_is_slim(order.tool) or _is_small(said[1.0].scene)):
            continue
        if lead.scale not in said:
            said[lead.scale] = _said(order, lead.scale)
        for rows in _ROWS:
            draft = _drafted(lead, said[lead.scale], order, rows)
            if draft is None:
                continue
            faults = faults_of(draft.spots, (draft.levels.above, draft.levels.below))
            if not faults:
                return draft
            if best is None or faults < best[0]:
                best = (faults, draft)
    if best is not None:
        return best[1]
    message = f"{order.tool.title}: the arrangement does not fit on A3 at 1:10; shorten the tool or the parts list"
    raise OutputError(message)


def _leads_for(tool: Tool) -> tuple[Lead, ...]:
    """Pages and scales in their order; a slim tool that A4 does not take is drawn at 2:1 on the larger page first."""
    larger = tuple(lead for lead in LEADS if lead.scale > 1.0)
    if not _is_slim(tool):
        return LEADS
    at = next(i for i, lead in enumerate(LEADS) if lead.page == larger[0].page)
    return (*LEADS[:at], *larger, *LEADS[at:])


def _is_slim(tool: Tool) -> bool:
    """True for a tool of several parts that is thin all along."""
    widest = 2 * max(max(edge.r0, edge.r1) for part in tool.made for edge in outline(part).outer)
    return len(tool.made) > 1 and widest <= _SLIM_TOOL_MM


def _is_small(scene: Scene) -> bool:
    """True for a tool that may be drawn larger than it is."""
    near, _, far, _ = scene.section.box
    return far - near < _SMALL_TOOL_MM


def _said(order: Order, scale: float) -> _Said:
    manner = order.block.manner
    scene = scene_of(order.tool, scale)
    named_so = [replace(one, title=manner.words.phrase(one.title)) for one in scene.neighbours]
    scene = replace(scene, neighbours=named_so)
    gaps = lettered_gaps(scene, order.chains)
    lengths = lengths_of(order.tool, scene, scale, manner)
    _, named = name_neighbours(scene, scale, (), lengths.extension_lines(scale))
    sizes = tuple(leader_sizes(scene, scale, manner))
    others = (*(size.callout for size in sizes), *named)
    table = gap_table(gaps, len(order.chains) - len(gaps), manner=manner) if gaps else None
    items = tuple(item_callouts(order.rows, scene, scale))
    slopes = tuple(dict.fromkeys(area.style.angle_deg for area in scene.section.areas))
    letters = tuple(gap_callouts(gaps, scale))
    detail = detail_of(gaps, scale, slopes)
    bodies = tuple(bodies_of(order.tool))
    return _Said(scale, scene, items, letters, others, sizes, lengths, table, detail, bodies)


def _drafted(lead: Lead, said: _Said, order: Order, rows: tuple[float, float, float]) -> Draft | None:
    """The sheet set out on one page at one scale, with the detail where it finds room; None where nothing fits."""
    if said.detail is not None and not lead.page.is_upright:
        found = _set_out(lead, said, order, rows, said.detail)
        if found is not None:
            return found
    return _set_out(lead, said, order, rows, None)


def _set_out(
    lead: Lead, said: _Said, order: Order, rows: tuple[float, float, float], detail: Detail | None
) -> Draft | None:
    """The sheet with a detail, or without one; None where it does not fit."""
    callouts = said.callouts(lead, detail)
    levels = _levels(said, lead, callouts, rows)
    parts = list_table(order.rows, order.stock, list_width_mm(lead.page), order.block.manner)
    own = (order.block.manner.prose(order.block.manner.words.phrase(note)) for note in order.tool.notes)
    notes = (*order.block.notes, *own, *order.remarks)
    view = ViewSize(levels.right - levels.left, levels.high - levels.low)
    layout = lay_out_page(
        lead.page, parts, said.gaps, lambda room: note_lines(notes, room), view,
        detail=detail.size if detail is not None else None, picture=size_of(said.bodies), most_scale=lead.scale,
    )  # fmt: skip
    if layout is None or (detail is not None and layout.detail is None):
        return None
    spots, words = _placed(callouts, levels, said, detail)
    return Draft(
        lead, said.scene, layout, parts, said.gaps, said.sizes, said.lengths, levels, tuple(spots), tuple(words),
        detail, said.bodies,
    )  # fmt: skip


def _levels(said: _Said, lead: Lead, callouts: Sequence[Callout], rows: tuple[float, float, float]) -> Levels:
    """Rows of callouts above and below the view, wide enough for all of them, and room for sizes under it."""
    z0, r0, z1, r1 = (value * said.scale for value in said.scene.box)
    off_view_mm, share, past_mm = rows
    needed = sum(2 * c.half_width_mm + 2.5 for c in callouts) * share
    spare = max(past_mm, (needed - (z1 - z0)) / 2)
    reach = max([lead.circle_mm, *(c.half_height_mm for c in callouts)])
    upright = tuple(z * said.scale for z in said.lengths.roots)
    above = Shelf(1, r1 + off_view_mm + reach, z0 - spare, z1 + spare)
    below = Shelf(-1, r0 - off_view_mm - reach, z0 - spare, z1 + spare, upright)
    low = below.y - reach + LANES_CLOSER_MM - said.lengths.depth_mm - 1.0
    return Levels(above, below, low, above.y + reach + 1.0, z0 - spare - 2.0, z1 + spare + 2.0)


def _placed(
    callouts: tuple[Callout, ...], levels: Levels, said: _Said, detail: Detail | None
) -> tuple[list[Spot], list[Word]]:
    """Callouts in their places, and the names that stand without a leader; one that finds no room gets a leader."""
    scale, scene = said.scale, said.scene
    drawn = [*said.lengths.extension_lines(scale), *(detail.ring(scale) if detail is not None else ())]
    hatches = tuple(dict.fromkeys(area.style.angle_deg for area in scene.section.areas))
    turned = {part.name for part in scene.others}
    passing = tuple(
        (x0 * scale, y0 * scale, x1 * scale, y1 * scale)
        for neighbour in scene.neighbours
        if neighbour.name not in turned
        for x0, y0, x1, y1 in neighbour.lines
    )
    strokes = [(x0 * scale, y0 * scale, x1 * scale, y1 * scale) for x0, y0, x1, y1 in scene.strokes()]
    axis = (scene.box[0] * scale, 0.0, scene.box[2] * scale, 0.0)
    obstacles = Obstacles((), passing, hatches, [*strokes, axis, *drawn])
    spots: list[Spot] = []
    while True:
        spots = place_callouts(callouts, (levels.above, levels.below), obstacles, spots)
        words, named = name_neighbours(scene, scale, spots, drawn)
        called = {callout.text for callout in callouts}
        lost = [callout for callout in named if callout.text not in called]
        if not lost:
            return spots, [word for word in words if " ".join(word.lines) not in called]
        callouts = (*callouts, *lost)
