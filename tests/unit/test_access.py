"""Does the tool pass: hand-worked places, and distances against shapely."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from generator.fittings.access import Passing, holder_corners, insert_corners, least_gap, nose_end_needed_mm
from tests.helpers import centre, worked

# Holder 16 wide, tip 6 ahead and 1 beside, insert 7, work 22, turned to the end, half a millimetre of air.
PASSING = Passing(16.0, 6.0, 1.0, 7.0, 22.0, 0.0, 0.5)


def test_reach_and_front_of_the_holder():
    assert PASSING.reach_mm == 17.0
    assert PASSING.front_radius_mm == 17.0


def test_corners_of_holder_and_insert_with_the_tip_at_the_end_of_the_work():
    # Work's end face at 40: tip at 40, holder's tailstock flank 17 behind it, its front 6 outside the work's 11.
    assert holder_corners(PASSING, 40.0, 50.0) == ((23.0, 67.0), (23.0, 17.0), (39.0, 17.0), (39.0, 67.0))
    corners = insert_corners(PASSING, 40.0)
    assert corners[0] == (40.0, 11.0)
    assert min(z for z, _ in corners) == 33.0
    assert max(r for _, r in corners) == 17.0


@pytest.mark.parametrize(
    ("obstacles", "needed"),
    [
        # A barrel of 42 (radius 21 > 17): front at 3, air 0.5, reach 17, less 2 of cone beyond the nose: 18.5.
        ([(3.0, 21.0)], 18.5),
        # A collar of radius 13: under the holder's front (17), above the work (11): only the insert's 7 count.
        ([(4.0, 13.0)], 9.5),
        # Slimmer than the work: nothing in the way.
        ([(4.0, 10.0)], None),
        ([(3.0, 21.0), (15.0, 13.0)], 20.5),
    ],
)
def test_the_nose_ends_where_holder_and_insert_clear_what_is_fat(obstacles, needed):
    assert nose_end_needed_mm(PASSING, obstacles, 2.0) == (None if needed is None else pytest.approx(needed))


def test_stopping_short_of_the_end_saves_as_much_nose():
    short = Passing(16.0, 6.0, 1.0, 7.0, 22.0, 5.0, 0.5)
    assert nose_end_needed_mm(short, [(3.0, 21.0)], 2.0) == pytest.approx(13.5)


def test_a_gap_is_negative_where_a_corner_lies_inside():
    square = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
    inside = least_gap([("body", (-5.0, 4.0), (2.0, 4.0))], [square])
    assert inside is not None
    assert inside.gap_mm == pytest.approx(-2.0)
    assert inside.part == "body"


def test_nothing_to_meet_is_no_gap():
    assert least_gap([], [((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))]) is None


places = st.tuples(st.integers(-200, 200).map(lambda n: n / 10), st.integers(0, 300).map(lambda n: n / 10))


@settings(max_examples=50, deadline=None, derandomize=True)
@given(st.lists(places, min_size=2, max_size=5, unique=True))
def test_the_least_gap_is_that_of_shapely(corners):
    shape = holder_corners(PASSING, 20.0, 30.0)
    edges = [("body", a, b) for a, b in pairwise(corners)]
    found = least_gap(edges, [shape])
    assert found is not None
    line, solid = LineString(corners), Polygon(shape)
    if line.intersects(solid):
        assert found.gap_mm <= 0.5  # edges are looked at every half millimetre
    else:
        assert found.gap_mm == pytest.approx(line.distance(solid), abs=1e-9)


@pytest.mark.parametrize("holder", [10, 16, 25])
@pytest.mark.parametrize("ahead", [2, 6, 10])
@pytest.mark.parametrize("work", [12, 22, 50])
@pytest.mark.parametrize("end", [0, 4])
def test_the_derived_overhang_gives_the_air_that_was_wanted(holder, ahead, work, end):
    data = centre(passes={"holder_width": holder, "tip_ahead": ahead, "work_diameter": work, "end_distance": end})
    found = worked("revolving-centre", data).one("access")
    assert found.severity == "note"
    assert found.value >= 0.5 - 1e-9


def test_the_holder_is_drawn_where_it_is_checked():
    job = worked("revolving-centre", centre())
    names = {shape.name for shape in job.tool.silhouettes}
    assert names == {"holder", "insert"}
