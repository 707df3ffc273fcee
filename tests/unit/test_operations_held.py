"""Work held lightly turns slowly, threads with no room to run out are turned by hand, gauges tell what they can."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from generator.description import Zone
from generator.making.operations import Operation, operations_for
from generator.making.operations_speed import held_rpm
from generator.making.operations_threads import BY_HANDLE
from generator.making.route.neck import sawn_off
from generator.making.setups import SetUp
from generator.making.stock import stock_for
from generator.making.thread_blank import thread_blank_mm
from generator.making.usual import usual_workshop
from generator.making.workshop import Workshop
from generator.plan.tools import tools_page
from generator.prints.content import Table
from tests.helpers import CENTRE, Worked, centre, rod, worked

SHOP = usual_workshop(3)


@pytest.fixture(scope="module")
def screwed() -> Worked:
    return worked(CENTRE, centre(retention={"style": "nut"}, cover={"style": "screwed"}))


def route(found: Worked, shop: Workshop = SHOP) -> list[tuple[SetUp, Operation]]:
    setups = found.kind.order(found.choices, found.tool, shop)
    operations = operations_for(found.tool, setups, shop, found.choices, stock_for(found.tool, setups, found.choices))
    by_number = {str(one.number): one for one in setups}
    return [(by_number[one.number.partition(".")[0]], one) for one in operations]


@pytest.mark.parametrize(("words", "most"), [("glue", 400.0), ("mandrel", 500.0), ("light grip", 500.0)])
def test_work_held_by_glue_or_friction_turns_slowly(screwed: Worked, words: str, most: float) -> None:
    """Common practice, no source: 400 to 500 rpm where glue, a mandrel or a light grip is all that holds."""
    plain = worked(CENTRE, centre())
    held = [(setup, one) for job in (screwed, plain) for setup, one in route(job)
            if words in f"{setup.located} {setup.holding}".casefold() and one.rpm is not None]  # fmt: skip
    if words != "glue":
        assert held
    for setup, one in held:
        assert one.rpm is not None
        assert one.rpm <= most, (setup.title, one.number)
        if one.rpm < max(rpm for rpm in SHOP.speeds_rpm if rpm <= most):
            continue
        assert "limited by work held by" in one.speed_note
    setup = replace(route(plain)[0][0], located="mandrel", holding=f"held by {words}")
    assert held_rpm(setup) is not None
    assert held_rpm(replace(setup, located="three-jaw", holding="three-jaw on the bar")) is None


def test_a_thread_into_a_short_run_out_beside_a_shoulder_is_turned_by_hand(screwed: Worked) -> None:
    """Common practice, no source: a run-out of 2 mm beside a finished seat leaves nobody time at the half-nuts."""
    short = []
    for _, one in route(screwed):
        if one.step.work != "thread" or not one.step.cuts:
            continue
        part = screwed.tool.parts[one.step.cuts[0].partition("/")[0]]
        reliefs = [length.size.nominal_mm for length in part.lengths if "relief" in length.name]
        if part.name == "spindle" and any(wide <= 3.0 for wide in reliefs):
            short.append(one)
    assert short, "no spindle with a short relief behind its thread"
    assert all(one.rpm is None and one.speed_note == BY_HANDLE for one in short)
    assert all("locked out" in one.caution for one in short)


@pytest.mark.parametrize("method", ["top slide", "set-over"])
def test_the_top_slide_comes_back_parallel_before_it_tells_a_length(screwed: Worked, method: str) -> None:
    """Geometry: a slide swung by 30 degrees moves 0.87 of its dial along the bed, and feeds into the work besides."""
    swung, came_back = False, 0
    for _, one in route(screwed, replace(SHOP, taper_method=method)):  # type: ignore[arg-type]
        uses = "top slide parallel" in f"{one.stop} {one.how}" or "by the top slide, carriage locked" in one.stop
        told = any("back to 0 and clock it parallel" in line for line in one.how)
        if uses:
            assert told == swung, one.number
            came_back += told
            swung = False
        swung = swung or "top slide swung" in one.stop or (one.step.work == "taper" and method == "top slide")
    assert came_back >= 1


def test_a_point_tells_which_way_the_top_slide_swings(screwed: Worked) -> None:
    """Geometry: between centres the point grows out of the stub at the headstock; in its own bearings it looks away."""
    cones = [(setup, one) for setup, one in route(screwed) if "top slide swung to 30 deg" in one.stop]
    towards = {setup.located: one.stop for setup, one in cones}
    assert "handle towards you (small end at the headstock)" in towards["centres"]
    assert "handle away from you (small end at the tailstock)" in towards["own bearings"]


@pytest.mark.parametrize("thread", ["M10x1", "M35x1.5"])
def test_a_thread_is_cut_on_a_blank_within_the_limits_of_its_crest(screwed: Worked, thread: str) -> None:
    """ISO 965-2 (from memory): M10x1-6g 9.794 to 9.974, M35x1.5-6g 34.732 to 34.968 over the crests."""
    low, high = {"M10x1": (9.794, 9.974), "M35x1.5": (34.732, 34.968)}[thread]
    draft = rod(diameter=10.0 if thread == "M10x1" else 35.0)
    plain = draft.done()
    surface = replace(plain.by_name["outside"], diameter=replace(plain.by_name["outside"].diameter, derived=True))
    zone = Zone("thread", "outside", "rear", "front", "thread", f"{thread}-6g")
    found = thread_blank_mm(replace(plain, surfaces=(surface,), zones=(zone,)), surface)
    assert found is not None
    assert low <= found <= high
    # In the plan: the outside that carries the stud's thread is turned to that, and the dial goes there.
    turned = [one for _, one in route(screwed) if "for the thread" in one.step.size and one.step.work == "turn"]
    assert turned
    for one in turned:
        size = re.search(r"dia ([\d.]+) mm, for the thread", one.step.size)
        assert size is not None
        assert float(size[1]) % 1.0 > 0.5, one.step.size


@pytest.mark.parametrize(("bar", "over"), [(20.0, 1.0), (40.0, 2.0), (56.0, 3.0)])
def test_a_hacksaw_leaves_more_on_a_thicker_bar(bar: float, over: float) -> None:
    """Common practice, no source: 2 to 3 mm over 40 to 56 mm of diameter."""
    said = sawn_off(None, bar, "5 mm from the back", hard=False)[0].text
    assert f": {over:g} mm stays to be faced" in said


def test_the_front_is_faced_by_what_the_saw_has_left(screwed: Worked) -> None:
    """Arithmetic: the passes of the facing cut are together as deep as what stays on the sawn end."""
    steps = route(screwed)
    sawn = next(one for _, one in steps if one.step.work == "saw" and "stays to be faced" in one.step.text)
    left = float(sawn.step.text.split(": ")[1].split(" ")[0])
    assert left >= 2.0
    faced = next(one for setup, one in steps if setup.located == "finished taper" and one.step.work == "face")
    assert faced.passes is not None
    assert faced.depth_mm is not None
    depth = faced.passes * faced.depth_mm + (faced.finish_passes or 0) * (faced.finish_depth_mm or 0.0)
    assert depth == pytest.approx(left, abs=0.01)


def test_a_cut_past_the_rear_ends_nearer_to_the_jaws_and_makes_a_wider_groove(screwed: Worked) -> None:
    """Arithmetic: what stands out of the jaws, less the stop from the free end, is what is left before them."""
    beyond = [(setup, one) for setup, one in route(worked(CENTRE, centre())) + route(screwed)
              if "over bar that goes later" in one.stop and "before the jaws" in one.access]  # fmt: skip
    assert beyond
    for setup, one in beyond:
        stop = re.search(r"\(([\d.]+) mm\)[^(]*over bar that goes later", one.stop)
        left = re.search(r"ends ([\d.]+) mm before the jaws", one.access)
        assert stop is not None
        assert left is not None
        assert setup.out_mm is not None
        assert float(left[1]) == pytest.approx(setup.out_mm - float(stop[1]), abs=0.06), one.number
        wide = re.search(r"until the groove is ([\d.]+) mm wide", " ".join(one.how))
        if wide is not None:
            span = re.search(r"([\d.]+) mm past the", one.stop)
            assert span is not None
            assert float(wide[1]) > float(span[1]) + 1.0


@pytest.mark.parametrize("method", ["top slide", "set-over"])
def test_one_set_up_speaks_of_one_centre_and_it_is_laid_ready(screwed: Worked, method: str) -> None:
    """The speed, the way past it and the list of tools name the same centre; a ball has its size."""
    shop = replace(SHOP, taper_method=method)  # type: ignore[arg-type]
    steps = route(screwed, shop)
    page = tools_page([one for _, one in steps], list(dict.fromkeys(setup for setup, _ in steps)), "mm")
    assert page is not None
    laid = "\n".join(cell for block in page.blocks if isinstance(block, Table) for row in block.rows for cell in row)
    carried = [one for _, one in steps if one.tail]
    assert carried
    for one in carried:
        name = one.tail.partition(",")[0]
        other = "dead centre" if name == "ball centre" else "ball centre"
        assert f"past the {other}" not in one.access, one.number
        assert f"limited by {other}" not in one.speed_note, one.number
        assert one.tail[1:] in laid
        if name == "ball centre":
            assert re.search(r"\d (mm|in) ball$", one.tail)
    for word in ("Driver plate", "Carrier to the diameter", "for the headstock spindle", "Handle in the rear"):
        assert word in laid, word


def test_a_revolving_centre_that_turns_no_faster_is_not_spoken_of(screwed: Worked) -> None:
    for _, one in route(screwed):
        found = re.search(r"; (\d+) rpm with a revolving centre", one.speed_note)
        assert found is None or float(found[1]) != one.rpm, one.number


def test_a_heat_is_told_by_what_can_tell_it(screwed: Worked) -> None:
    """From memory: a file tells hardness when cold; steel shows no colour at 150 to 200 °C within the hour it takes."""
    fire = {"harden", "temper", "case"}
    heated = [one for _, one in route(screwed) if one.step.work in fire and "°C" in one.step.size]
    assert heated
    for one in heated:
        assert "file" not in one.instrument, one.number
        assert "thermometer" in one.instrument
        if one.step.work == "temper" and "straw" not in one.step.size:
            assert "colour" not in one.instrument, one.number


def test_a_run_out_finer_than_the_indicator_is_on_the_missing_list(screwed: Worked) -> None:
    """Arithmetic: 0.005 mm is half a division of an indicator that reads 0.01 mm."""
    def lacking(reads_mm: float) -> list[str]:
        shop = replace(SHOP, indicator_mm=reads_mm)
        return [one.number for _, one in route(screwed, shop) if one.step.size == "0.005 mm or less"
                and any(text.startswith("indicator finer than") for text in one.missing)]  # fmt: skip

    assert lacking(0.01)
    assert not lacking(0.002)


def test_what_nobody_gave_and_the_plan_counts_on_says_so(screwed: Worked) -> None:
    """The list of what is missing and the page of defaults speak of the same mill, wheel and furnace."""
    lacks = [text for _, one in route(screwed) for text in one.missing if re.match("milling|wheel|furnace", text)]
    assert lacks
    assert all("taken as there" in text.partition(": ")[0] for text in lacks)
    without = replace(SHOP, wheel="none", defaults=SHOP.defaults - {"wheel"})
    wheel = [text for _, one in route(screwed, without) for text in one.missing if text.startswith("wheel")]
    assert wheel
    assert not any("taken as there" in text for text in wheel)
