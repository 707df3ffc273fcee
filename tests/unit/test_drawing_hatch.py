"""Hatch on the sheets: no line of it along a long edge, and thin touching parts told apart.

Sources: hatch at 30 or 60 degrees where an edge lies at or near 45; neighbours of opposite slope or another pitch,
walls too thin for that filled, but not two filled ones side by side: school books on technical drawing.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from generator.description import Part, PartDraft, Size
from generator.drawing.arrangement_hatch import differ, hatch_styles
from generator.drawing.arrangement_profile import Placed, Slab
from generator.drawing.hatch_slope import free_slope
from generator.drawing.part_sheet import part_sheet
from tests.unit.test_drawing_sheets import BLOCK


def right_angled_point(length_mm: float) -> Part:
    """A bush that ends in a cone of 90 degrees, whose edges lie at 45."""
    draft = PartDraft("nose", "Nose", "back")
    draft.length("length", "front", "back", 1, Size(30.0))
    draft.length("point", "shoulder", "front", -1, Size(length_mm))
    draft.cylinder("outside", "outside", "back", "shoulder", Size(40.0))
    draft.cone("point", "outside", "shoulder", "front", Size(40.0), "shoulder", -45.0)
    draft.cylinder("bore", "inside", "back", "front", Size(10.0))
    return draft.done()


def ring(name: str, near_z: float, wall_mm: float) -> Placed:
    """A thin ring 1 mm wide, of bore 20."""
    half = (Slab(near_z, near_z + 1.0, 10.0 + wall_mm, 10.0 + wall_mm, 10.0, 10.0),)
    part = PartDraft(name, name, "front")
    part.length("width", "back", "front", -1, Size(1.0))
    part.cylinder("outside", "outside", "back", "front", Size(20.0 + 2 * wall_mm))
    return Placed(name, part.done(), near_z, 1.0, half, half, (-math.inf, math.inf), (), {})


@pytest.mark.parametrize("wanted", [45.0, 135.0])
def test_a_part_sheet_turns_its_hatch_off_a_cone_of_ninety_degrees(wanted: float) -> None:
    sheet = part_sheet(right_angled_point(12.0), BLOCK, hatch_angle_deg=wanted)
    angles = [h.pattern.lines[0].angle for h in sheet.document.modelspace().query("HATCH[layer=='HATCH']")]
    assert angles
    for angle in angles:
        assert min(abs(angle - edge) for edge in (45.0, 135.0)) > 5.0


def test_a_short_edge_turns_no_hatch() -> None:
    chamfer = [(0.0, 0.0), (20.0, 0.0), (20.0, 8.0), (19.0, 9.0), (0.0, 9.0)]
    assert free_slope([chamfer], 135.0, 1.0) == 135.0
    assert free_slope([chamfer], 135.0, 5.0) != 135.0


@pytest.mark.parametrize("count", [2, 3, 4])
def test_thin_rings_that_touch_are_not_all_filled(count: int) -> None:
    placed = [ring(f"ring_{i}", float(i), 0.9) for i in range(count)]
    styles = hatch_styles(placed, 0.5)
    assert any(style.solid for style in styles.values())
    for i in range(count - 1):
        one, other = styles[f"ring_{i}"], styles[f"ring_{i + 1}"]
        assert differ(one, other)
        assert not (one.solid and other.solid)


@pytest.mark.parametrize("count", [3, 4, 5])
def test_a_filled_ring_differs_from_its_neighbours_where_a_detail_shows_it_hatched(count: int) -> None:
    # A ring that spans all the others touches each of them: no turned slope is left for the last of three.
    placed = [ring(f"ring_{i}", float(i), 0.9 if i % 2 else 6.0) for i in range(count)]
    sleeve = Slab(0.0, float(count), 9.9, 9.9, 8.0, 8.0)
    long = replace(ring("sleeve", 0.0, 1.0), upper=(sleeve,), lower=(sleeve,))
    styles = hatch_styles([*placed, long], 0.5)
    hatched = {name: replace(style, solid=False) for name, style in styles.items()}
    for i in range(count):
        assert differ(hatched[f"ring_{i}"], hatched["sleeve"])
        if i:
            assert differ(hatched[f"ring_{i - 1}"], hatched[f"ring_{i}"])
