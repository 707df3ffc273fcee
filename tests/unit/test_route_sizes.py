"""Every operation tells the size it goes to, also where none of the drawing does; what is over: common practice."""

from __future__ import annotations

import re

import pytest

from generator.description import face_positions
from generator.making.operations import operations_for
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from tests.helpers import Worked, centre, stacks, worked

HALF = {"socket": {"taper": "Morse 3"}, "shank": {"end": "drawbar"},
        "point": {"form": "half", "material": "O1", "work_diameter": 14}}  # fmt: skip
DRAWN_IN = centre(("6204-2RS", "6004-2RS"), socket={"taper": "Morse 4"}, shank={"end": "drawbar"},
                  retention={"style": "circlip"}, cover={"style": "snap ring"},
                  passes={"holder_width": 20, "tip_ahead": 8, "work_diameter": 28})  # fmt: skip
NUT = centre(retention={"style": "nut"}, cover={"style": "screwed"})


def operations_of(job: Worked, taper: int = 3):
    shop = usual_workshop(taper)
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


def test_the_floor_is_drilled_flat_before_any_fine_bore_is_finished() -> None:
    """A 118 degree point stands 0.3 of its diameter deep: no bore is flat behind it (geometry).

    A bar that is fed along to the floor first runs into what the point has left: common practice, no source.
    """
    found = [one for one in operations_of(worked("revolving-centre", centre())) if one.step.work in {"drill", "bore"}]
    flat = next(i for i, one in enumerate(found) if "ground flat across its end" in one.step.text)
    point = found[flat - 1]
    assert point.step.diameter_mm == found[flat].step.diameter_mm
    assert found[flat].step.length_mm - point.step.length_mm == pytest.approx(0.3 * point.step.diameter_mm, abs=0.11)
    assert "ground flat" in found[flat].cutter
    assert "from the front" in found[flat].to
    recess = next(i for i, one in enumerate(found) if "body/floor_recess/depth" in one.step.cuts)
    assert flat < min(i for i, one in enumerate(found) if "body/pocket_1/diameter" in one.step.cuts) < recess
    # No drill goes through a bore that is finished.
    assert not any("drill" in tool for tool in found[recess].tools)
    assert not any(one.step.text.startswith("square the floor") for one in found)


def test_the_large_drill_goes_first_from_the_front_and_the_small_one_fits_behind_it() -> None:
    """Flutes full of chips clear nothing: flute less 1.5 d counts from where the wide hole ends (table drill_rules)."""
    found = [one for one in operations_of(worked("revolving-centre", centre())) if one.step.work == "drill"]
    wide = next(i for i, one in enumerate(found) if "for the boring bar" in one.step.text)
    rest = next(i for i, one in enumerate(found) if "to meet the hole" in one.step.text)
    assert wide < rest
    assert "centre drill" in found[wide].tools
    assert "centre drill" not in found[rest].tools


def test_holes_from_both_ends_meet_and_every_figure_of_one_agrees() -> None:
    """Both depths less the overlap are the length of hole and way in (geometry); a bore behind a wider drawbar hole."""
    job = worked("revolving-centre", DRAWN_IN)
    found = operations_of(job)
    rear = next(one for one in found if "the rest from the front" in one.step.text)
    front = next(one for one in found if "to meet the hole" in one.step.text)
    told = [float(re.search(r"\(([\d.]+) mm\)", one.stop)[1]) for one in (rear, front)]
    body = job.tool.parts["body"]
    z_of = face_positions(body)
    assert sum(told) == pytest.approx(max(z_of.values()) - min(z_of.values()) + 2.0, abs=0.11)
    assert f"{told[0]:.1f} mm deep from the end" in rear.step.size
    drill = next(one for one in usual_workshop().drills if one.diameter_mm == 11.5)
    assert told[0] == pytest.approx(drill.usable_mm, abs=0.06)
    # Within the general tolerance a hole stays as it is drilled: ISO 2768-1 m, 11.6 +- 0.2.
    assert front.cutter.startswith("drill 11.5 mm")
    assert not front.missing


def test_no_pilot_goes_into_a_hole_that_is_larger() -> None:
    job = worked("revolving-centre", DRAWN_IN)
    tap_drill = next(one for one in operations_of(job) if "drawbar_hole" in one.step.surface)
    assert "pilot" not in " ".join((*tap_drill.tools, *tap_drill.how))
    assert tap_drill.to.startswith("dia 14 mm")


def test_no_depth_of_a_hole_is_told_twice() -> None:
    for data in (centre(), NUT):
        for one in operations_of(worked("revolving-centre", data)):
            depths = re.findall(r"([\d.]+) mm(?: deep)?$", one.step.size, flags=re.MULTILINE)
            assert one.step.work != "drill" or len(depths) == len(set(depths)), one.step.size


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


def test_a_parting_blade_need_reach_no_deeper_than_the_wall() -> None:
    """A drilled and turned ring falls off when the blade is through its wall: geometry."""
    job = worked("revolving-centre", centre(
        ("6002-2RS", "6001-2RS"), socket={"taper": "Morse 2"}, retention={"style": "nut"}, cover={"style": "screwed"},
        passes={"holder_width": 12, "tip_ahead": 6, "work_diameter": 18},
    ))
    parted = [one for one in operations_of(job, 2) if one.step.work == "part"]
    assert {one.cutter for one in parted} == {"parting blade, HSS"}
    assert not any(one.missing for one in parted)


def test_a_run_out_in_a_bore_wants_a_grooving_tool() -> None:
    """A bar leaves the slope of its edge in both corners of a groove: common practice, no source."""
    found = [one for one in operations_of(worked("revolving-centre", NUT)) if "run-out" in one.step.text]
    opened = [one for one in found if one.step.work == "bore"]
    assert opened
    for one in opened:
        assert one.cutter.startswith("inside grooving tool")
        assert one.missing


def test_a_small_drill_waits_for_the_roughed_pockets_where_the_large_one_leaves_no_room() -> None:
    """A 25 mm hole is not twice 24 mm wide; 66 mm in it and the rest are more than a 24 mm drill clears (table drills).
    """
    job = worked("revolving-centre", centre(stacks(6)["one"], socket={"taper": "Morse 6"}))
    texts = [one.step.text for one in operations_of(job, 6)]
    rest = next(i for i, text in enumerate(texts) if "to meet the hole" in text)
    assert texts[rest - 1].startswith("rough pocket 1")
    assert not any(one.code == "order-drill-behind" for one in job.findings)
