"""Balloons of the inspection page: one for each characteristic, apart, pointing at the part."""

from __future__ import annotations

from itertools import combinations
from math import dist

import pytest

from generator.making.inspection import inspection_rows
from generator.plan.inspection_picture import balloon_picture
from tests.helpers import CENTRE, centre, worked


@pytest.fixture(scope="module", params=[CENTRE, "dead-centre"])
def tool(request):
    data = centre() if request.param == CENTRE else {
        "socket": {"taper": "Morse 3"}, "point": {"form": "half", "work_diameter": 14}
    }  # fmt: skip
    return worked(request.param, data).tool


def test_every_characteristic_has_its_balloon_and_none_touch(tool):
    for part in tool.made:
        rows = [row for row in inspection_rows(tool) if row.address.partition("/")[0] == part.name]
        picture = balloon_picture(part, rows)
        assert picture is not None
        assert sorted(int(text.text) for text in picture.texts) == [row.number for row in rows]
        middles = [(t.matrix[4] + t.advance_mm / 2, t.matrix[5]) for t in picture.texts]
        assert all(dist(one, other) >= 7.0 for one, other in combinations(middles, 2))


def test_nothing_leaves_the_paper(tool):
    for part in tool.made:
        rows = [row for row in inspection_rows(tool) if row.address.partition("/")[0] == part.name]
        picture = balloon_picture(part, rows)
        for stroke in picture.strokes:
            left, low, right, high = stroke.outline.extents()
            assert left >= 0
            assert low >= 0
            assert right <= picture.width_mm
            assert high <= picture.height_mm


def test_a_part_without_characteristics_has_no_picture(tool):
    assert balloon_picture(tool.made[0], []) is None
