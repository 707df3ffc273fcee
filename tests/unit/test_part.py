"""Faces on a tree: each introduced once, placed by lengths or where a cone has a diameter."""

import math

import pytest

from generator.description import PartDraft, diameter_at, face_forms, face_positions
from generator.errors import GeometryError
from tests.helpers import rod, size


def test_positions_are_sums_along_the_tree_whatever_the_order_of_entry():
    draft = PartDraft("body", "Body", "front")
    draft.length("inner", "floor", "ledge", -1, size(18.0))
    draft.length("recess", "ledge", "front", -1, size(3.0))
    draft.length("nose", "tip", "front", 1, size(7.5))
    assert face_positions(draft.done()) == pytest.approx({"front": 0.0, "ledge": -3.0, "floor": -21.0, "tip": 7.5})


def test_a_face_introduced_twice_is_refused():
    draft = rod()
    draft.length("again", "rear", "front", -1, size(39.0))
    with pytest.raises(GeometryError, match="rod: face rear is introduced more than once"):
        face_forms(draft.done())


def test_the_origin_face_needs_no_length():
    draft = rod()
    draft.length("odd", "front", "rear", 1, size(40.0))
    with pytest.raises(GeometryError, match="face front is introduced more than once"):
        face_forms(draft.done())


def test_a_face_that_no_length_leads_to_is_refused():
    draft = rod()
    draft.length("loose", "collar", "shoulder", 1, size(5.0))
    with pytest.raises(GeometryError, match="no path of sizes leads to face collar"):
        face_forms(draft.done())


def test_lengths_in_a_circle_are_refused():
    draft = rod()
    draft.length("there", "a", "b", 1, size(5.0))
    draft.length("back", "b", "a", -1, size(5.0))
    with pytest.raises(GeometryError, match="no path of sizes leads to face a, b"):
        face_forms(draft.done())


def test_two_surfaces_of_one_name_are_refused():
    draft = rod()
    draft.cylinder("outside", "inside", "rear", "front", size(5.0))
    with pytest.raises(GeometryError, match="rod: two surfaces are called outside"):
        draft.done()


def test_an_unknown_surface_is_refused_with_those_there_are():
    draft = rod()
    draft.place("tip", "point", size(1.0))
    with pytest.raises(GeometryError, match="no surface called point; there are outside"):
        face_forms(draft.done())


@pytest.mark.parametrize(
    ("half_angle", "at_mm"),
    [
        (30.0, (20.0 - 16.0) / 2 / math.tan(math.radians(30.0))),
        (-30.0, -(20.0 - 16.0) / 2 / math.tan(math.radians(30.0))),
    ],
)
def test_a_place_on_a_cone_lies_where_the_diameter_is(half_angle, at_mm):
    draft = PartDraft("plug", "Plug", "front")
    draft.cone("cone", "outside", "front", "end", size(16.0), "front", half_angle)
    draft.place("spot", "cone", size(20.0))
    part = draft.done()
    z_of = face_positions(part)
    assert z_of["spot"] == pytest.approx(at_mm)
    assert diameter_at(part, part.surface("cone"), z_of["spot"], z_of) == pytest.approx(20.0)


def test_a_place_has_two_contributors_with_opposite_signs():
    # 60 degree point: 1 mm of diameter is 0.5 / tan 30 = 0.866 mm of length.
    draft = PartDraft("plug", "Plug", "base")
    draft.cone("point", "outside", "base", "tip", size(16.0), "base", -30.0)
    draft.place("tip", "point", size(1.0))
    terms = {term.address: term.coefficient for term in face_forms(draft.done())["tip"]}
    assert terms["plug/point/diameter"] == pytest.approx(0.8660, abs=1e-4)
    assert terms["plug/tip/diameter"] == pytest.approx(-0.8660, abs=1e-4)


def test_a_place_can_lie_on_a_cone_that_hangs_on_another_place():
    draft = PartDraft("plug", "Plug", "base")
    draft.cone("first", "outside", "base", "neck", size(20.0), "base", -45.0)
    draft.place("neck", "first", size(10.0))
    draft.cone("second", "outside", "neck", "tip", size(10.0), "neck", -30.0)
    draft.place("tip", "second", size(2.0))
    assert face_positions(draft.done())["tip"] == pytest.approx(5.0 + 4.0 / math.tan(math.radians(30.0)))
