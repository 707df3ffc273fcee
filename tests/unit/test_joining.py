"""How pieces go on: by hand where they slide, warm or by press where they do not, and pushed by the tight ring."""

from __future__ import annotations

from math import pi

import pytest

from generator.checks import chains
from generator.making.joining import joints
from generator.plan.assembly import assembly_page
from generator.prints.content import Table
from tests.helpers import CENTRE, centre, worked


@pytest.fixture(scope="module")
def tool():
    return worked(CENTRE, centre()).tool


@pytest.fixture(scope="module")
def by_name(tool):
    return {(one.piece, one.on): one for one in joints(tool)}


def test_clearances_are_those_of_the_limits(tool, by_name):
    """17 j6 (+8 / -3 um, ISO 286) in a bore of 17 0 / -8 um (ISO 492): 16 um tight to 3 um loose, by hand."""
    one = by_name["Bearing 6003-2RS", "Spindle"]
    assert one.least_clearance_mm == pytest.approx(-0.016)
    assert one.most_clearance_mm == pytest.approx(0.003)


def test_what_slides_needs_neither_force_nor_warmth(by_name):
    slides = [one for one in by_name.values() if one.slides]
    assert slides
    assert all(one.force_n == (0.0, 0.0) and one.warm_c == 20.0 for one in slides)


def test_warmth_opens_the_ring_by_the_interference_and_the_ease(by_name):
    """Linear expansion: 17 mm x 11.5e-6 x (T - 20) = 0.016 + 0.015, so T = 178.6 degrees."""
    assert by_name["Bearing 6003-2RS", "Spindle"].warm_c == pytest.approx(178.6, abs=0.1)


def test_force_is_friction_on_the_pressed_face(by_name):
    """By hand: ring 17 to 20.6 on a shaft with the screw's hole of 5, E 206 GPa, 16 um less flattening d / (d + 3)."""
    one = by_name["Bearing 6003-2RS", "Spindle"]
    pressed = 0.016 * 17 / 20
    ring, shaft = (20.6**2 + 17**2) / (20.6**2 - 17**2) + 0.3, (17**2 + 5**2) / (17**2 - 5**2) - 0.3
    pressure = pressed / (17 / 206000 * (ring + shaft))
    assert one.force_n[0] == pytest.approx(0.10 * pressure * pi * 17 * 10, rel=0.02)
    assert one.force_n[1] == pytest.approx(2 * one.force_n[0])


def test_the_tube_touches_the_tight_ring_alone(tool, by_name):
    for (piece, on), one in by_name.items():
        if one.tube_mm is None:
            continue
        ring = next(name for name, part in tool.parts.items() if part.title == piece and name.endswith("inner"))
        inner, outer = tool.parts[ring], tool.parts[ring.replace("inner", "outer")]
        if on == "Spindle":
            assert inner.surface("bore").diameter.nominal_mm < one.tube_mm[0] < one.tube_mm[1]
            assert one.tube_mm[1] < inner.surface("land").diameter.low
        else:
            assert outer.surface("land").diameter.high < one.tube_mm[0] < one.tube_mm[1]
            assert one.tube_mm[1] < outer.surface("outside").diameter.nominal_mm


def test_the_page_has_a_line_for_the_shim(tool):
    page = assembly_page(tool, tuple(chains(tool).values()), "mm")
    assert page is not None
    words = " ".join(getattr(block, "text", "") for block in page.blocks)
    assert "less 0.030 mm = shim" in words
    notes = " ".join(note for one in page.blocks if isinstance(one, Table) for note in one.notes)
    assert "never in oil" in notes
    assert next(block.title for block in page.blocks if isinstance(block, Table)) == "How each goes on"


def words_of(stack, **tables):
    found = worked(CENTRE, centre(stack, **tables)).tool
    page = assembly_page(found, tuple(chains(found).values()), "mm")
    assert page is not None
    return " ".join(getattr(block, "text", "") for block in page.blocks)


def test_each_bearing_of_a_shared_seat_has_its_row():
    """Two rings of one bore stand on one seat of the spindle."""
    found = worked(CENTRE, centre(("6003-2RS", "6003-2RS"))).tool
    shared = [one for one in found.parts["spindle"].surfaces if one.role == "seat"]
    on = [one.piece for one in joints(found) if one.on == "Spindle"]
    assert len(shared) == 1
    assert any("6003" in one for one in on)
    mixed = worked(CENTRE, centre(("6203-2RS", "6003-2RS"))).tool
    assert {"Bearing 6203-2RS", "Bearing 6003-2RS"} <= {one.piece for one in joints(mixed) if one.on == "Spindle"}


def test_each_gap_has_its_own_sentence():
    """A shim fills what is too wide; it raises a ring that stands too low, by what is lacking: arithmetic."""
    sprung = words_of(("6203-2RS", "6003-2RS"), cover={"style": "snap ring"}, retention={"style": "circlip"})
    assert "it lies on the cover, below the snap ring" in sprung
    assert "gap measured without the shim ring" in sprung
    screwed = words_of(("6003-2RS", "6001-2RS"), cover={"style": "screwed"})
    assert "Below 0.100 mm: 0.300 mm less the mean = shim" in screwed
    assert "Above 0.500 mm: pocket 1 depth larger by the mean less 0.300 mm" in screwed
