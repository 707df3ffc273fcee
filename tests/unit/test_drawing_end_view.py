"""End views: what is seen behind flats and through a bore's mouth. ISO 128-3 at second hand; parts are invented."""

from __future__ import annotations

from typing import Any

import pytest

from generator.description import Part, PartDraft, Size
from generator.drawing.part_sheet import part_sheet
from tests.unit.test_drawing_sheets import BLOCK

GENERAL: dict[str, Any] = {"source": "ISO 2768-m", "general": True}


def nut(flats_mm: float, *, floor: bool = False) -> Part:
    """A round nut of 30 with two flats over so much of its 12 mm, and a bore that narrows from 20 to 12."""
    draft = PartDraft("nut", "Nut", "rear", sectioned=True)
    draft.length("length", "front", "rear", 1, Size(12.0, **GENERAL))
    draft.length("flats", "flats_end", "rear", 1, Size(flats_mm, **GENERAL))
    draft.length("step", "step", "rear", 1, Size(5.0, **GENERAL))
    draft.cylinder("outside", "outside", "rear", "front", Size(30.0, **GENERAL))
    draft.cylinder("wide", "inside", "rear", "step", Size(20.0, 0.021, 0.0, tolerance_class="H7"))
    if not floor:
        draft.cylinder("bore", "inside", "step", "front", Size(12.0, **GENERAL))
    draft.crossing("flats", "flats", "rear", "flats_end", across=Size(27.0, 0.0, -0.2))
    return draft.done()


def rounds(part: Part) -> tuple[set[float], set[float]]:
    """Radii of the whole circles and of the arcs of the end view."""
    sheet = part_sheet(part, BLOCK)
    space = sheet.document.modelspace()
    circles = {round(e.dxf.radius, 3) for e in space.query("CIRCLE[layer=='OUTLINE']")}
    return circles, {round(e.dxf.radius, 3) for e in space.query("ARC[layer=='OUTLINE']")}


def test_the_round_of_a_flange_is_seen_whole_behind_the_flats_of_its_hub() -> None:
    circles, arcs = rounds(nut(10.0))
    assert 15.0 in circles
    assert 15.0 not in arcs


def test_flats_from_end_to_end_leave_two_arcs() -> None:
    circles, arcs = rounds(nut(12.0))
    assert 15.0 in arcs
    assert 15.0 not in circles


@pytest.mark.parametrize("floor", [False, True])
def test_a_narrower_bore_is_seen_through_the_mouth_of_a_wider_one(*, floor: bool) -> None:
    circles, _ = rounds(nut(10.0, floor=floor))
    assert 10.0 in circles
    assert (6.0 in circles) is not floor
