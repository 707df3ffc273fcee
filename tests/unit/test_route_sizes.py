"""Every operation tells the size it goes to, also where none of the drawing does; what is over: common practice."""

from __future__ import annotations

import re

import pytest

from generator.making.operations import operations_for
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from tests.helpers import Worked, centre, worked

HALF = {"socket": {"taper": "Morse 3"}, "shank": {"end": "drawbar"},
        "point": {"form": "half", "material": "O1", "work_diameter": 14}}  # fmt: skip
NUT = centre(retention={"style": "nut"}, cover={"style": "screwed"})


def operations_of(job: Worked):
    shop = usual_workshop()
    setups = job.kind.order(job.choices, job.tool, shop)
    return operations_for(job.tool, setups, shop, job.choices, stock_for(job.tool, setups, job.choices))


@pytest.mark.parametrize("data", [centre(), NUT])
def test_a_ring_is_parted_off_at_a_told_length(data: dict[str, object]) -> None:
    job = worked("revolving-centre", data)
    parted = [one for one in operations_of(job) if one.step.work == "part"]
    assert parted
    for one in parted:
        part = job.tool.parts[one.step.surface.partition("/")[0]]
        long_mm = max(size.size.nominal_mm for size in part.lengths)
        found = re.match(r"([\d.]+) mm from the", one.to)
        assert found, one.to
        assert float(found[1]) == pytest.approx(long_mm + 0.3, abs=0.051)


@pytest.mark.parametrize("data", [centre(), NUT])
def test_each_groove_tells_its_diameter(data: dict[str, object]) -> None:
    grooves = [one for one in operations_of(worked("revolving-centre", data)) if one.step.work == "groove"]
    assert grooves
    for one in grooves:
        assert re.search(r"\bdia [\d.]+", one.to), (one.number, one.to)


def test_the_floor_is_squared_after_the_drill_has_left_its_point() -> None:
    """A 118 degree point stands 0.3 of its diameter deep: no bore is flat behind it (geometry)."""
    found = operations_of(worked("revolving-centre", centre()))
    place = next(i for i, one in enumerate(found) if one.step.text.startswith("square the floor"))
    assert "body/floor_recess/depth" in found[place - 1].step.cuts
    assert found[place].cutter.startswith("boring bar")
    assert re.fullmatch(r"dia [\d.]+ mm to (dia [\d.]+ mm|the middle)", found[place].to)
    assert "from the front" in found[place].stop


def test_a_half_point_tells_what_its_flat_is_roughed_to_and_how_it_runs_out() -> None:
    """From a sharp corner a hardened point breaks: R 1, common practice, no source."""
    job = worked("dead-centre", HALF)
    height = next(one for one in job.tool.parts["centre"].cross if one.kind == "half").sizes["height"]
    flats = [one for one in operations_of(job) if "the flat" in one.step.text]
    assert [one.step.work for one in flats] == ["mill", "grind"]
    for one in flats:
        assert "R 1 mm or more" in one.step.text
    head = max(one.diameter.middle for one in job.tool.parts["centre"].surfaces if one.side == "outside" and not one.at)
    # No axis can be touched: the depth is told from the top of the head, and measured there.
    assert f"{head / 2 - height.middle - 0.3:.2f} mm below the top of the" in flats[0].to
    for one, limit in ((flats[1], height.high), (flats[1], height.low)):
        assert f"{head / 2 - limit:.3f}" in one.to
    assert "depth micrometer from the top of the" in flats[1].instrument
    assert all("axis" not in one.to and "protractor" not in one.instrument for one in flats)
    assert "tool post" not in flats[1].cutter
    assert not any("bearings" in one.caution for one in flats)
    assert "from the back" in flats[0].to


def test_the_rear_end_of_a_spindle_is_faced_to_a_told_length() -> None:
    job = worked("revolving-centre", centre())
    facing = next(one for one in operations_of(job) if one.step.text.endswith("face the rear end"))
    setups = job.kind.order(job.choices, job.tool, usual_workshop())
    faced = next(row.faced_mm for row in stock_for(job.tool, setups, job.choices) if row.part == "spindle")
    assert facing.to == f"{faced:.1f} mm between the faced ends"
