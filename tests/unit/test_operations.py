"""Whole plans of operations: every step of every kind has its settings or says why not; what the shop lacks is said."""

from __future__ import annotations

import json
import re
from dataclasses import fields, replace
from pathlib import Path

import pytest

from generator.description import Choices, Tool
from generator.job.design import work_out
from generator.job.reader import find_job, read_job, shipped_jobs
from generator.kinds import kinds, load_kind
from generator.making.operations import Operation, operations_for
from generator.making.operations_list import set_up_times, tools_for, total_minutes
from generator.making.operations_threads import BY_HANDLE
from generator.making.setups import SetUp, Step
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from generator.making.workshop import BoringBar, Cutter, Dial, Workshop
from generator.plan.tools import tools_page
from generator.prints.content import Table
from generator.reckoning.set_over import change_error_mm
from generator.record import record_text
from tests.helpers import CENTRE, Worked, centre, worked
from tests.sample import sample_tool

SHOP = usual_workshop(3)
CUTTING = {"face", "centre", "rough", "turn", "taper", "groove", "thread", "part", "drill", "ream", "bore"}
JOBS = {
    **{name: (name, load_kind(name).EXAMPLE) for name in kinds()},
    "nut": (CENTRE, centre(retention={"style": "nut"})),
    "screwed, drawbar": (CENTRE, centre(cover={"style": "screwed"}, shank={"end": "drawbar"})),
    "three bearings, large ahead": (CENTRE, centre(("6204-2RS", "6003-2RS", "6001-2RS"))),
    "half point": ("dead-centre", {
        "socket": {"taper": "Morse 3"}, "point": {"work_diameter": 14, "form": "half"}, "shank": {"end": "tang"},
    }),
}


@pytest.fixture(scope="module", params=list(JOBS))
def job(request: pytest.FixtureRequest) -> Worked:
    kind, data = JOBS[request.param]
    return worked(kind, data)


def planned(found: Worked, shop: Workshop = SHOP, unit: str = "mm") -> tuple[Operation, ...]:
    setups = found.kind.order(found.choices, found.tool, shop)
    stock = stock_for(found.tool, setups, found.choices, unit)  # type: ignore[arg-type]
    return operations_for(found.tool, setups, shop, found.choices, stock, unit)  # type: ignore[arg-type]


# --- every kind ------------------------------------------------------------------------------------------------------


def test_every_step_has_a_speed_from_the_list_or_a_reason(job: Worked) -> None:
    for one in planned(job):
        assert one.speed_note, one.number
        assert one.rpm is None or one.rpm in SHOP.speeds_rpm, one.number
        assert one.step.work, one.number
        if one.step.work in CUTTING and one.located not in {"bench", "own bearings"}:
            # A thread that ends at a floor is turned by hand; so says its note, and its caution how.
            by_hand = one.step.work == "thread" and one.speed_note == BY_HANDLE
            assert (one.rpm is None) == by_hand, (one.number, one.speed_note)
            assert ("locked out before the handle goes in" in one.caution) == by_hand
            assert one.feed_mm is not None, one.number
            assert one.cutter, one.number


def test_a_thread_towards_a_floor_is_never_cut_under_power() -> None:
    """Common practice, no source: nobody opens the half-nuts in time before a floor."""
    job = worked(CENTRE, centre(cover={"style": "screwed"}))
    inside = [one for one in planned(job) if one.step.work == "thread" and one.step.cuts[0].startswith("body/")]
    assert inside
    assert all(one.rpm is None and one.speed_note == BY_HANDLE for one in inside)
    outside = [one for one in planned(job) if one.step.work == "thread" and one.step.cuts[0].startswith("cover/")]
    assert outside
    assert all(one.rpm is not None for one in outside)


def test_settings_are_in_sane_bounds(job: Worked) -> None:
    for one in planned(job):
        assert one.feed_mm is None or 0.02 <= one.feed_mm <= 4.0, one
        assert one.depth_mm is None or 0.0 < one.depth_mm <= 3.0, one
        assert one.passes is None or 1 <= one.passes <= 60, one
        assert one.minutes is not None
        assert 0 < one.minutes < 600, one
        assert all(": " in text for text in one.missing), one.missing


def test_a_step_that_brings_sizes_names_them_and_an_instrument(job: Worked) -> None:
    for one in planned(job):
        if one.step.cuts:
            assert one.to, one.number
            assert one.instrument, one.number


def test_numbers_follow_the_set_ups_and_the_plan_is_the_same_twice(job: Worked) -> None:
    setups = job.kind.order(job.choices, job.tool, SHOP)
    found = planned(job)
    assert [one.number for one in found] == [
        f"{setup.number}.{index}" for setup in setups for index in range(1, len(setup.steps) + 1)
    ]
    assert found == planned(job)


def test_an_inch_job_speaks_in_inches(job: Worked) -> None:
    shop = replace(SHOP, cross_dial=Dial(0.0254, 2.54), top_dial=Dial(0.0254, 2.54), carriage_dial=Dial(0.0254, 25.4))
    for one in planned(job, shop, "in"):
        said = " ".join((one.to, one.stop, one.access, one.instrument, *one.how))
        assert not re.search(r"\d mm\b", said), (one.number, said)


def test_what_rests_on_a_default_is_named(job: Worked) -> None:
    resting = [one for one in planned(job) if one.rpm is not None]
    assert all("speeds_rpm" in one.rests_on for one in resting)
    measured = replace(SHOP, defaults=frozenset())
    assert all(not one.rests_on for one in planned(job, measured))


def test_tools_and_times_of_a_plan(job: Worked) -> None:
    found = planned(job)
    rows = tools_for(found)
    assert len({(row.kind, row.name) for row in rows}) == len(rows)
    assert all(row.substitute for row in rows if row.is_missing)
    named = {row.name for row in rows}
    assert {one.cutter for one in found if one.cutter} <= named | {
        text.partition(": ")[0] for one in found for text in one.missing
    }
    times = set_up_times(found)
    assert total_minutes(found) == pytest.approx(sum(one.total_min for one in times))
    waiting = sum(one.waiting_min for one in times)
    assert total_minutes(found) > sum(one.minutes or 0.0 for one in found) - waiting
    assert (waiting > 0) == any(one.step.work in {"case", "temper"} for one in found)
    setups = job.kind.order(job.choices, job.tool, SHOP)
    page = tools_page(found, setups, "mm")
    assert page is not None
    laid = "\n".join(cell for block in page.blocks if isinstance(block, Table) for row in block.rows for cell in row)
    assert all(row.name[1:] in laid for row in rows)
    assert all(setup.holding[1:] in laid for setup in setups)


def test_the_record_holds_every_setting_and_is_the_same_twice(tmp_path: Path) -> None:
    design = work_out(read_job(find_job(shipped_jobs()[0])))
    found = Worked(design.job.kind, design.job.params, design.choices, design.tool, design.findings)
    setups, operations = design.job.kind.order(design.choices, design.tool, SHOP), planned(found)
    texts = {record_text(design, setups, operations, tmp_path) for _ in range(2)}
    assert len(texts) == 1
    content = json.loads(texts.pop())
    assert [one["number"] for one in content["operations"]] == [one.number for one in operations]
    told = content["operations"][0]
    assert told["rpm"] == operations[0].rpm
    assert set(told) == {one.name for one in fields(Operation)} - {"step"}
    assert len(content["set_ups"]) == len(setups)


# --- one made-up tool ------------------------------------------------------------------------------------------------


def between(*steps: Step, **fields: object) -> SetUp:
    given: dict[str, object] = {
        "number": 1, "parts": ("body",), "title": "outside", "holding": "carrier", "locates_on": "centre holes",
        "touches_off": "body/end", "finishes": (), "steps": steps, "located": "centres",
    }
    return SetUp(**{**given, **fields})  # type: ignore[arg-type]


def front(*steps: Step, located: str = "finished taper", **fields: object) -> SetUp:
    finishes = ("body/front", "body/ledge", "body/cover_recess", "body/pocket", "body/floor", "body/floor_recess")
    return between(
        *steps, number=2, holding="shank in the spindle", locates_on="body/taper", touches_off="body/front",
        finishes=finishes, located=located, **fields,
    )


def one_of(setup: SetUp, shop: Workshop = SHOP, unit: str = "mm") -> Operation:
    return operations_for(sample_tool(), (setup,), shop, unit=unit)[-1]  # type: ignore[arg-type]


def test_a_turned_diameter() -> None:
    """Barrel 44 -0.1 from the next bar of 45, between centres: arithmetic by hand."""
    step = Step("turn the barrel", cuts=("body/barrel/diameter",), work="turn")
    found = one_of(between(step))
    assert found.to == "dia 43.900 to 44.000 mm"
    # 45 to 43.95: 0.525 on the radius, 0.2 of it kept for the last pass.
    assert found.passes is not None
    assert found.depth_mm is not None
    assert found.finish_passes == 1
    assert found.passes * found.depth_mm + (found.finish_depth_mm or 0.0) == pytest.approx(0.525, abs=0.001)
    assert "touch at dia 45 mm, then in 26 divisions" in found.stop
    assert "Carrier guarded" in found.caution
    assert found.instrument == "calipers"
    assert "dead centre" in found.access or "ball centre" in found.access


def test_a_shoulder_that_stays_is_not_run_over() -> None:
    """The relief behind the cone is thinner than the cone's large end, 78 mm from the shank's end."""
    step = Step("turn the large relief", cuts=("body/large_relief/diameter",), work="turn")
    found = one_of(between(step))
    assert found.stop.startswith("go in no sooner than 78.000 mm from the end")
    free = one_of(between(Step("turn the small relief", cuts=("body/small_relief/diameter",), work="turn")))
    assert "no sooner" not in free.stop


def test_lengths_are_told_from_a_face_that_can_be_touched() -> None:
    """A boundary of two nearly equal diameters is no face to touch; a ledge of 3 mm is."""
    step = Step("turn", cuts=("body/large_relief/diameter", "body/shank/relief"), work="turn")
    assert "from the end" in one_of(between(step)).stop or "the end through" in one_of(between(step)).stop
    pocket = Step("bore", cuts=("body/pocket/diameter", "body/pocket/depth"), work="bore")
    assert "from the ledge" in one_of(front(pocket)).stop


def test_a_band_for_the_steady_leaves_the_rest_of_the_bar() -> None:
    band = Step("turn a band", work="rough", diameter_mm=44.0, length_mm=15.0)
    barrel = Step("turn the barrel", cuts=("body/barrel/diameter",), work="turn")
    first, second = operations_for(sample_tool(), (between(band, barrel),), SHOP)
    assert first.to == "dia 44 mm"
    assert (first.passes, first.depth_mm) == (1, 0.5)
    assert "touch at dia 45 mm" in second.stop


def test_a_taper_gets_a_keen_tool_two_equal_passes_and_its_socket() -> None:
    step = Step("cut the taper", cuts=("body/taper/diameter",), work="taper")
    found = one_of(between(step))
    assert "HSS" in found.cutter
    assert found.finish_passes == 2
    assert found.finish_depth_mm == pytest.approx(0.075)
    assert "socket" in found.instrument
    # A division of 0.02 on a diameter dial is 0.04 on the diameter: 0.04 x 19.922 = 0.8 mm of depth.
    assert "0.8 mm further in" in found.stop


def test_a_pocket_gets_bar_starter_and_two_equal_passes() -> None:
    step = Step("bore the pocket", cuts=("body/pocket/diameter", "body/pocket/depth"), work="bore")
    found = one_of(front(step))
    assert found.cutter.startswith("boring bar")
    assert found.starter_mm is not None
    bar = next(one for one in SHOP.boring_bars if f"{one.bar_mm:g} mm" in found.cutter)
    assert bar.least_bore_mm <= found.starter_mm <= 35.0 - 0.5
    assert bar.reach_mm >= 21.0
    assert found.finish_passes == 2
    assert "18.000 mm" in found.stop
    assert "from the ledge" in found.stop
    assert "Boring blind" in found.caution
    assert "Held by its taper" in found.caution
    assert any(text.startswith("instrument finer than 0.01 mm") for text in found.missing)


def test_a_shop_without_a_bar_is_told_what_stands_in() -> None:
    step = Step("bore the pocket", cuts=("body/pocket/diameter",), work="bore")
    found = one_of(front(step), replace(SHOP, boring_bars=(BoringBar(8.0, 11.0, 15.0),)))
    assert any(text.startswith("boring bar that enters 35") and ": " in text for text in found.missing)
    lacks = [row for row in tools_for((found,)) if row.is_missing]
    assert lacks
    assert lacks[0].used == ("2.1",)


def test_a_long_hole_is_drilled_from_both_ends_and_pecked() -> None:
    """A jobber drill of 10.5 mm: flute 87 mm or more (DIN 338), 1.5 diameters of it for chips; the body is 112 long."""
    step = Step("drill through", cuts=("body/through_bore/diameter",), work="drill")
    found = one_of(between(step, located="bar", touches_off="body/end"))
    said = " ".join(found.how)
    assert "drill 10.5 mm" in found.cutter
    assert "from both ends" in said
    assert "out to clear at 32 mm" in said
    assert "deep drill packs" in found.caution


def test_a_tap_is_turned_by_hand_into_its_drill() -> None:
    """ISO 2306: M6 is drilled 5 mm."""
    step = Step("tap", cuts=("spindle/thread",), work="tap")
    found = one_of(between(step, parts=("spindle",), touches_off="spindle/seat_end", located="bar"))
    assert found.rpm is None
    assert "by hand" in found.speed_note
    assert "hole 5 mm" in found.how
    assert "M6" in found.to
    lacking = one_of(between(step, parts=("spindle",), located="bar"), replace(SHOP, taps=("M8",)))
    assert any(text.startswith("tap M6: ") for text in lacking.missing)


def test_a_seat_finer_than_the_micrometer_says_how_to_get_there() -> None:
    step = Step("finish the seat", cuts=("spindle/seat/diameter",), work="turn")
    setup = between(step, parts=("spindle",), touches_off="spindle/seat_end")
    found = one_of(setup)
    assert any(text.startswith("instrument finer than 0.01 mm") for text in found.missing)
    fine = one_of(setup, replace(SHOP, micrometer_mm=0.002))
    assert not any(text.startswith("instrument") for text in fine.missing)
    assert "0.002 mm" in fine.instrument
    # The corner of R 0.3 at the shoulder is smaller than the nose of 0.4.
    assert any("stone it to 0.3 mm" in line for line in found.how)


def test_hard_work_is_ground_or_cut_with_cbn() -> None:
    harden = between(Step("harden the point", work="harden"), parts=("spindle",), located="bench")
    turn = Step("turn the point", cuts=("spindle/point/angle",), work="turn")
    last = between(turn, number=2, parts=("spindle",), located="four-jaw", touches_off="spindle/shoulder")
    soft = one_of(last)
    hard = operations_for(sample_tool(), (harden, last), SHOP)[-1]
    assert "CBN" not in soft.cutter
    assert "CBN" in hard.cutter
    assert any("CBN" in text for text in hard.missing)


def test_own_bearings_have_no_gear() -> None:
    step = Step("grind the point", cuts=("spindle/point/angle",), work="grind")
    found = one_of(between(step, parts=("spindle",), located="own bearings"))
    assert found.rpm is None
    assert "cord" in found.speed_note
    assert "Sparks" in found.caution
    assert found.depth_mm is not None
    assert found.depth_mm <= 0.01


# --- access ----------------------------------------------------------------------------------------------------------


FAT = Cutter("wide block", "turn", "HSS", 20.0, 0.4, 45.0, 0.0, 0.5, 0.0)
KEEN = Cutter("keen tool", "turn", "HSS", 20.0, 0.4, 93.0, 52.0, 8.0, 5.0)


def at_the_end(**fields: object) -> Operation:
    """The taper turned up to the end that the tailstock carries."""
    step = Step("turn the relief", cuts=("body/small_relief/diameter",), work="turn")
    shop = replace(SHOP, **{"cutters": (FAT,), "tailstock_support": "60-degree", **fields})  # type: ignore[arg-type]
    tool = solid_tool()
    return operations_for(tool, (between(step),), shop, stock=stock_for(tool, (), Choices()))[-1]


def solid_tool() -> Tool:
    """The sample tool with a body that is not bored: its shank end has a plain centre hole."""
    tool = sample_tool()
    body = tool.parts["body"]
    outside = tuple(one for one in body.surfaces if one.side == "outside")
    solid = replace(body, surfaces=outside, relations=(), corners=())
    return replace(tool, parts={**tool.parts, "body": solid})


def test_a_support_that_blocks_the_tool_is_seen_beforehand() -> None:
    """Geometry: a square block 20 mm wide meets a head of 23.5 mm beside work of 19.2 mm; a keen tool passes it."""
    found = at_the_end()
    assert found.blocked
    assert found.access.startswith("BLOCKED: the holder meets")
    keen = at_the_end(cutters=(KEEN,))
    assert not keen.blocked
    assert "least gap" in keen.access


def test_a_change_of_support_says_what_it_does_to_the_taper() -> None:
    """`change_error_mm` is held to a published rule elsewhere: a longer way between pivots makes the taper slower.

    The cone of a dead centre meets a tool 14 mm wide, the slim nose of a ball centre does not.
    """
    square = replace(FAT, shank_mm=13.0)
    found = at_the_end(cutters=(square,), headstock_support="60-degree", taper_method="set-over")
    assert found.access.startswith("BLOCKED")
    assert "ball centre: stands still" in found.access
    stated = re.search(r"pivots then ([\d.]+) mm instead of ([\d.]+) mm.* comes ([\d.]+) mm too (\w+)", found.access)
    assert stated is not None
    after, before, error = (float(text) for text in stated.groups()[:3])
    assert after > before
    assert stated[4] == "slow"
    # The body's cone is 73 mm long (75 less 5 and 3 more to its large end), Morse 3.
    assert error == pytest.approx(-change_error_mm(1 / 19.922, before, after, 73.0), abs=1.5e-3)
    kept = at_the_end(cutters=(square,), taper_method="top slide")
    assert "does not feel it" in kept.access


def test_a_floor_that_is_squared_gets_a_bar_that_has_room() -> None:
    """Tip at the inner diameter, back at the wall: half of both diameters (geometry); least bores ISO 6261.

    No drill is wider than the through bore: none can be ground flat for the floor, which is left to the bar.
    """
    found = worked(CENTRE, centre())
    shop = replace(SHOP, drills=tuple(one for one in SHOP.drills if one.diameter_mm <= 10.5))
    one = next(one for one in planned(found, shop) if one.step.text.startswith("square the floor"))
    body = found.tool.parts["body"]
    wide, hole = (body.surface(name).diameter.nominal_mm for name in ("floor_recess", "through_bore"))
    bars = {f"boring bar {bar.bar_mm:g} mm": bar.least_bore_mm for bar in SHOP.boring_bars}
    assert bars[one.cutter] <= (wide + hole) / 2
    none = replace(shop, boring_bars=tuple(bar for bar in SHOP.boring_bars if bar.least_bore_mm > (wide + hole) / 2))
    one = next(one for one in planned(found, none) if one.step.text.startswith("square the floor"))
    assert "ground flat" in one.missing[0]
