"""Placing of callouts: no crossings, no parallels, nothing on top of anything, rows kept.

The demands come from practice with ISO 6433 as told in books on technical drawing: leaders do not cross, are not
parallel to one another, numbers stand in rows.
"""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, box

from generator.checks import chains
from generator.drawing.arrangement import arrangement
from generator.drawing.balloons import Callout, Obstacles, Shelf, Tip, crossings, place_callouts
from generator.job.design import work_out
from generator.job.reader import read_job
from generator.titles import arrangement_block

RADIUS = 5.0


def item(number: int, *points: tuple[float, float]) -> Callout:
    tips = tuple(Tip(p, 1 if p[1] > 0 else -1) for p in points)
    return Callout(str(number), RADIUS, RADIUS, tips, number=number)


def shelves(left: float = -10.0, right: float = 190.0, upright: tuple[float, ...] = ()) -> tuple[Shelf, Shelf]:
    return Shelf(1, 40.0, left, right), Shelf(-1, -40.0, left, right, upright)


def leader_of(spot) -> LineString:
    x0, y0, x1, y1 = spot.leader
    return LineString([(x0, y0), (x1, y1)])


def test_nothing_to_place_gives_nothing() -> None:
    assert place_callouts([], shelves(), Obstacles()) == []


def test_leader_runs_from_the_tip_to_the_circle_and_aims_at_its_centre() -> None:
    [spot] = place_callouts([item(1, (50.0, 10.0))], shelves(), Obstacles())
    x0, y0, x1, y1 = spot.leader
    assert (x0, y0) == (50.0, 10.0)
    assert math.dist((x1, y1), spot.centre) == pytest.approx(RADIUS)
    toward = math.atan2(spot.centre[1] - y0, spot.centre[0] - x0)
    assert math.atan2(y1 - y0, x1 - x0) == pytest.approx(toward)
    assert spot.centre[1] == 40.0


def test_tips_at_different_depths_do_not_make_leaders_cross() -> None:
    # Sorted by x alone the two leaders would cross: the deep tip lies right of the high one.
    callouts = [item(1, (50.0, 30.0)), item(2, (52.0, 2.0)), item(3, (54.0, 30.0)), item(4, (53.0, 15.0))]
    spots = place_callouts(callouts, shelves(), Obstacles())
    assert crossings(spots) == []


def test_numbers_run_round_the_view_where_the_tips_allow_it() -> None:
    callouts = [item(n, (20.0 * n, 10.0), (20.0 * n, -10.0)) for n in (1, 2, 3, 4)]
    spots = place_callouts(callouts, shelves(), Obstacles())
    above = [s.callout.number for s in sorted(spots, key=lambda s: s.centre[0]) if s.tip.side > 0]
    below = [s.callout.number for s in sorted(spots, key=lambda s: -s.centre[0]) if s.tip.side < 0]
    order = above + below
    start = order.index(1)
    assert order[start:] + order[:start] == [1, 2, 3, 4]


def test_circles_keep_off_upright_lines() -> None:
    callouts = [item(n, (x, -10.0)) for n, x in enumerate((30.0, 60.0, 61.0, 62.0, 100.0), start=1)]
    spots = place_callouts(callouts, shelves(upright=(60.0, 100.0)), Obstacles())
    for spot in spots:
        for line in (60.0, 100.0):
            assert not spot.box[0] < line < spot.box[2]


def test_leader_keeps_off_a_box_of_words_when_it_has_another_way() -> None:
    words = (45.0, 20.0, 65.0, 30.0)
    callout = item(1, (55.0, 10.0), (55.0, -10.0))
    [spot] = place_callouts([callout], shelves(), Obstacles(boxes=(words,)))
    assert not leader_of(spot).intersects(box(*words))


def test_leader_does_not_run_along_the_line_it_ends_on() -> None:
    tips = (Tip((90.0, 20.0), 1, "arrow", 0.0, 90.0), Tip((95.0, 15.0), 1, "arrow", 0.5, 0.0))
    word = Callout("Holder", 10.0, 2.5, tips, is_round=False)
    [spot] = place_callouts([word], shelves(), Obstacles())
    assert spot.tip.slope_deg == 0.0


tips = st.tuples(st.floats(0.0, 180.0), st.floats(3.0, 28.0))


@settings(max_examples=40, deadline=None)
@given(st.lists(tips, min_size=1, max_size=14, unique_by=lambda p: round(p[0] / 3)))
def test_random_tips_never_make_leaders_cross_or_circles_overlap(points: list[tuple[float, float]]) -> None:
    callouts = [item(n, (x, y), (x, -y)) for n, (x, y) in enumerate(points, start=1)]
    spots = place_callouts(callouts, shelves(), Obstacles())
    assert [s.callout for s in spots] == callouts
    for a, b in combinations(spots, 2):
        assert not leader_of(a).intersects(leader_of(b))
        assert math.dist(a.centre, b.centre) >= 2 * RADIUS + 1.0
        assert Point(a.centre).distance(leader_of(b)) >= RADIUS - 1e-6
        assert Point(b.centre).distance(leader_of(a)) >= RADIUS - 1e-6


def test_a_long_slender_tool_has_its_arrangement_too():
    """A row without a balloon costs nothing, and is no row that failed."""
    design = work_out(read_job(
        'kind = "dead-centre"\nname = "long"\n[socket]\ntaper = "Morse 1"\n'
        "[point]\nwork_diameter = 20\nhead_length = 200\n"
    ))  # fmt: skip
    sheet = arrangement(design.tool, arrangement_block(design), chains=chains(design.tool))
    assert sheet.document.modelspace()
