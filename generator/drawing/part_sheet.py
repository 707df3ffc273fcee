"""The sheet of one part: the first scale and page on which everything fits without a clash.

Full size on A4 comes first, because a turner lays the part on the paper; parts under 40 mm are drawn larger where that
fits; a reduction is the last resort.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from generator.description import Part, outline
from generator.drawing.base import Pen, Point, new_document
from generator.drawing.boxes import Box
from generator.drawing.callout_drawing import draw_callout
from generator.drawing.compose import Composition, compositions
from generator.drawing.details import Detail
from generator.drawing.dimension import add_dimension_style, add_lane_dimension
from generator.drawing.end_view import draw_end_view
from generator.drawing.gap import Gap
from generator.drawing.general_marks import draw_group, groups_of
from generator.drawing.hatch_slope import free_slope
from generator.drawing.heads import heads_of
from generator.drawing.interrupted import interruptions, true_requests
from generator.drawing.labels import finish_label
from generator.drawing.manner import Manner
from generator.drawing.page_fit import Fit, fit_on, rooms_on
from generator.drawing.request_marks import told_name
from generator.drawing.requests import Requests, requests_of
from generator.drawing.sheet import (
    LAST_PAGE,
    PAGES,
    Page,
    Rect,
    TitleBlock,
    add_sheet,
    add_viewport,
    draw_notes,
)
from generator.drawing.style import CENTRE_PAST_MM, LARGE_TEXT_MM, scale_text
from generator.drawing.view_drawing import draw_view
from generator.drawing.wanted import Callout, CentreHole
from generator.errors import OutputError

__all__ = ["CentreHole", "PartSheet", "part_sheet"]

LAYOUT_NAME = "Sheet"
_SMALL_PART_MM = 40.0
_COULD_BE_LARGER_MM = 65.0
_TINY_PART_MM = 14.0
_DETAIL_HATCH_MM = 3.0


@dataclass(frozen=True, slots=True)
class PartSheet:
    """A finished sheet: the DXF document, its paper layout, scale and page."""

    document: Any
    layout_name: str
    scale: float
    page: str


def part_sheet(
    part: Part,
    block: TitleBlock,
    *,
    hatch_angle_deg: float = 45.0,
    remarks: Sequence[str] = (),
    projection: str = "",
    centres: Sequence[CentreHole] = (),
) -> PartSheet:
    """The dimensioned sheet of a part. Raises OutputError where no scale and page hold it.

    `projection` is "first angle" or "third angle"; without it the title block's own counts. `centres` are the centre
    holes that the order of work holds the part on.
    """
    block = replace(block, projection=projection) if projection else block
    general_ra_um = _general_ra_um(part, block)
    requests = requests_of(part, general_ra_um, block.manner)
    whole = _Ways(part, requests, block.projection, tuple(centres), general_ra_um)
    for pages, scale, is_whole in _choices(part):
        tried = [whole] if is_whole else whole.interrupted(scale)
        chosen = next(filter(None, (_first_fit(ways, pages, scale, block, remarks) for ways in tried)), None)
        if chosen is None:
            continue
        if scale == 1.0 and _largest_mm(part) < _COULD_BE_LARGER_MM and _words(chosen[0]):
            # A small part that leaves its run-outs to the notes at full size says them itself at twice the size.
            larger = _first_fit(whole, PAGES[:2], 2.0, block, remarks)
            chosen = larger if larger is not None and _words(larger[0]) < _words(chosen[0]) else chosen
        return _draw(*chosen, block, hatch_angle_deg)
    message = (
        f"{part.name}: its sheet does not fit on A2 without figures touching; "
        "split the part, or leave out sizes that follow from others"
    )
    raise OutputError(message)


def _first_fit(
    ways: _Ways, pages: Sequence[Page], scale: float, block: TitleBlock, remarks: Sequence[str]
) -> tuple[Composition, Fit] | None:
    """The first composition that fits one of the pages, and how."""
    pages = [page.for_block(block) for page in pages]
    for found in ways.on(pages, scale):
        for page in pages:
            fit = fit_on(found, page, _notes(found, block, remarks), groups_of(block, _finishes(found)))
            if fit is not None:
                return found, fit
    return None


def _words(found: Composition) -> int:
    """How much besides finishes is left to the notes."""
    return sum(callout.kind != "finish" for callout in found.in_words)


def _largest_mm(part: Part) -> float:
    """Length or greatest diameter of a part, whichever is more."""
    shape = outline(part)
    return max(shape.far_z - shape.near_z, 2 * max(max(e.r0, e.r1) for e in shape.outer))


@dataclass(frozen=True, slots=True)
class _Ways:
    """The compositions of a part, made as they are asked for."""

    part: Part
    requests: Requests
    projection: str
    centres: tuple[CentreHole, ...]
    general_ra_um: float | None
    gap: Gap | None = None

    def interrupted(self, scale: float) -> Iterator[_Ways]:
        """The same for the part drawn as interrupted views, the longer first."""
        for shorter in interruptions(self.part, scale):
            drawn = requests_of(shorter.part, self.general_ra_um, self.requests.manner)
            requests = true_requests(drawn, self.requests, shorter.gap)
            yield replace(self, part=shorter.part, requests=requests, gap=shorter.gap)

    def on(self, pages: Sequence[Page], scale: float) -> Iterator[Composition]:
        """With end view and all details first, then with what the sheet cannot do without; few words in notes first."""
        most = [room for page in pages for room in rooms_on(page)]
        for projection in dict.fromkeys((self.projection, "")):
            has_details = True
            for needed_only in (False, True):
                if needed_only and not has_details:
                    break
                found = compositions(
                    self.part, scale, self.requests, needed_only=needed_only, projection=projection, most=most,
                    centres=self.centres, gap=self.gap,
                )  # fmt: skip
                held = []
                for composition in found:
                    has_details = bool(composition.details)
                    if not _words(composition):
                        yield composition
                    else:
                        held.append(composition)
                yield from sorted(held, key=lambda composition: len(composition.in_words))


def _general_ra_um(part: Part, block: TitleBlock) -> float | None:
    """The roughness among the part's own that the title block's field of finish names first."""
    found = re.search(r"Ra\s*\d+(?:[.,]\d+)?", block.finish)
    asked = {s.finish_ra_um for s in part.surfaces if s.finish_ra_um is not None}
    return next((ra for ra in asked if found and finish_label(ra, block.manner).main == found[0]), None)


def _finishes(found: Composition) -> list[str]:
    """The finishes that view and notes ask for."""
    return [callout.label.main for callout in _all_callouts(found) if callout.kind == "finish"]


def _notes(found: Composition, block: TitleBlock, remarks: Sequence[str]) -> tuple[str, ...]:
    """The notes of a sheet: the block's, the part's, finishes that found no room in the view, and remarks."""
    words = block.manner.words
    by_value: dict[str, list[str]] = {}
    for callout in found.in_words:
        _, where, *rest = callout.address.split("/")
        value = callout.label.main
        if callout.kind == "frame":
            kind, limit, datum = callout.cells
            value = words.frame_in_words.format(kind=words.kind(kind), value=limit, datum=datum)
            value = value[0].upper() + value[1:]
        place = [told_name(found.part, name, block.manner) for name in (where, *rest[:-1])]
        by_value.setdefault(value, []).append(words.at.join(place))
    told = tuple(words.finish_on.format(value=value, names=", ".join(names)) for value, names in by_value.items())
    has_stub = any(c.kind == "centre" and "must not remain" in c.cells for c in _all_callouts(found))
    stub = (words.stub,) if has_stub else ()
    return _told_once((*block.notes, *found.requests.notes, *told, *stub, *remarks), found.part, block.manner)


def _told_once(notes: Sequence[str], part: Part, manner: Manner) -> tuple[str, ...]:
    """The notes with the diameter of a counted surface where it is named first, and not again."""
    full = {told_name(part, name, manner): manner.words.name(name) for name in part.by_name}
    left = {told: plain for told, plain in full.items() if told != plain}
    result = []
    for note in notes:
        said = {told for told in left if told in note}
        for told in full:
            if told not in left:
                note = note.replace(told, full[told])
        for told in said:
            del left[told]
        result.append(note)
    return tuple(result)


def _all_callouts(found: Composition) -> list[Callout]:
    """What stands in the view and what is left to the notes."""
    return [*(placed.callout for placed in found.callouts), *found.in_words]


def _choices(part: Part) -> Iterator[tuple[Sequence[Page], float, bool]]:
    """Pages, scales and whether the view is whole, in the order in which they are tried.

    A turner lays the part on an A4 sheet at full size; a view is interrupted before it is reduced.
    """
    largest = _largest_mm(part)
    small, large = PAGES[:2], PAGES[2:]
    if largest < _TINY_PART_MM:
        yield small, 5.0, True
    if largest < _SMALL_PART_MM:
        yield small, 2.0, True
    yield small, 1.0, True
    yield large, 1.0, True
    yield small, 1.0, False
    yield large, 1.0, False
    yield (LAST_PAGE,), 1.0, True
    for scale in (0.5, 0.2):
        yield PAGES, scale, True
        yield PAGES, scale, False


def _draw(found: Composition, fit: Fit, block: TitleBlock, hatch_angle_deg: float) -> PartSheet:
    scale = found.scale
    document = new_document()
    add_dimension_style(document, scale, block.manner)
    space = document.modelspace()
    pen = Pen(space, scale)
    draw_view(pen, found.view, hatch_angle_deg=hatch_angle_deg)
    _gauge_planes(pen, found)
    if found.end_view is not None:
        draw_end_view(pen, found.end_view)
    heads = heads_of(found.dimensions, found.callouts)
    for line in found.dimensions:
        add_lane_dimension(document, space, line, scale, heads)
    for placed in found.callouts:
        draw_callout(document, space, placed, scale)
    for detail in found.details:
        _draw_detail(document, pen, detail, hatch_angle_deg, block.manner)
    layout = add_sheet(document, fit.page, replace(block, scale=scale_text(scale)), LAYOUT_NAME)
    _show(layout, found.box, (fit.origin[0] + found.box.left, fit.origin[1] + found.box.bottom), scale)
    for detail, corner in zip(found.details, fit.details, strict=True):
        _show(layout, detail.box, corner, detail.scale)
    for group, corner in zip(groups_of(block, _finishes(found)), fit.groups, strict=True):
        draw_group(document, layout, group, corner)
    draw_notes(Pen(layout), fit.lines, fit.notes.left, fit.notes.top, heading=block.manner.words.notes)
    return PartSheet(document, LAYOUT_NAME, scale, fit.page.name)


def _show(layout: Any, box: Box, corner: Point, scale: float) -> None:
    """A viewport on a box of model space (mm on paper), its lower left corner at a point of the page."""
    width, height = box.right - box.left, box.top - box.bottom
    middle = ((box.left + box.right) / 2 / scale, (box.bottom + box.top) / 2 / scale)
    add_viewport(layout, Rect(corner[0], corner[1], corner[0] + width, corner[1] + height), middle, scale)


def _draw_detail(document: Any, pen: Pen, detail: Detail, hatch_angle_deg: float, manner: Manner) -> None:
    """The circle in the view, and the detail on its own spot of model space."""
    pen.circle(detail.window.middle, detail.window.reach, "DIM")
    own = replace(pen, scale=detail.scale)
    add_dimension_style(document, detail.scale, manner)
    for start, end, layer in detail.lines:
        own.line(start, end, layer)
    if detail.cut:
        own.hatch(detail.cut, free_slope(detail.cut, hatch_angle_deg, detail.scale), _DETAIL_HATCH_MM)
    heads = heads_of(detail.dimensions, detail.callouts)
    for line in detail.dimensions:
        add_lane_dimension(document, own.space, line, detail.scale, heads)
    for placed in detail.callouts:
        draw_callout(document, own.space, placed, detail.scale)
    words = f"{detail.letter} ({scale_text(detail.scale)})"
    own.text(words, (detail.title[0] / detail.scale, detail.title[1] / detail.scale), LARGE_TEXT_MM)


def _gauge_planes(pen: Pen, found: Composition) -> None:
    """A chain line through the gauge plane of every taper."""
    for surface in found.part.surfaces:
        if surface.role == "taper":
            z = found.view.shape.z_of[surface.at]
            reach = surface.diameter.nominal_mm / 2 + CENTRE_PAST_MM / pen.scale
            pen.line((z, -reach), (z, reach), "CENTRE")
