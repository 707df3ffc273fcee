"""What a turner would say against an order of work: necks, fire, sleeves, slides, seats and shanks that are bought."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from math import radians, sin, tan

import pytest

from generator.making.order import compare
from generator.making.route.heat import carburising_h, hardening_of, steps_of
from generator.making.route.ledger import Wishes, Workpiece
from generator.making.route.neck import neck_of
from generator.making.route.socket import morse_number, sleeve_words
from generator.making.route.tapers import taper_words
from generator.making.settings import settings_for
from generator.making.setups import SetUp, Step
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from tests.helpers import CENTRE, Worked, centre, worked

MORSE_3_HALF_DEG = 1.4377  # 1 : 19.922, ISO 296


def dead(**point: object) -> Worked:
    return worked("dead-centre", {"socket": {"taper": "Morse 3"}, "point": {"work_diameter": 14, **point}})


def order_of(job: Worked, **shop: object) -> tuple[SetUp, ...]:
    return job.kind.order(job.choices, job.tool, replace(usual_workshop(3), **shop))  # type: ignore[arg-type]


def of_part(setups: Sequence[SetUp], name: str) -> list[SetUp]:
    return [one for one in setups if name in one.parts]


def at(setups: Sequence[SetUp], words: str) -> int:
    return next(place for place, one in enumerate(setups) if words in one.title)


def steps_with(setups: Sequence[SetUp], words: str) -> list[Step]:
    return [step for setup in setups for step in setup.steps if words in step.text]


# --- point, neck and fire --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("job", "name"), [(worked(CENTRE, centre()), "spindle"), (dead(), "centre")])
def test_a_stub_hangs_on_a_neck_whose_size_is_told_until_the_cone_is_whole(job: Worked, name: str) -> None:
    """Turned by about a third of its base; less than 6 mm is never driven through: common practice, no source."""
    part = job.tool.parts[name]
    point = next(one for one in part.surfaces if one.role == "point")
    neck = neck_of(Workpiece(part, 25.0, Wishes()), point, hard=True)
    assert neck.turning_mm >= 0.3 * point.diameter.nominal_mm
    assert neck.last_mm == 6.0
    mine = of_part(order_of(job), name)
    plunged, thin = steps_with(mine, "plunge a neck"), steps_with(mine, "plunge the neck on")
    assert f"dia {neck.turning_mm:g} mm" in plunged[0].size
    between = next(one for one in mine if plunged[0] in one.steps)
    assert bool(thin) == (neck.turning_mm > 6.0)
    for step in thin:
        assert "dia 6 mm, no less" in step.size
        assert "thrown" in step.caution
        assert between.steps[-1] is step, "nothing may be turned by a thin neck"
    z_of = Workpiece(part, 25.0, Wishes()).z_of
    long = z_of[point.far] - min(z_of.values())
    for step in (*plunged, *thin):
        begins, ends = (float(one) for one in re.findall(r"([\d.]+) to ([\d.]+) mm from the", step.size)[0])
        assert begins < long < ends
        # Where the cone, 0.6 mm over, has the diameter of the neck: geometry of 60 degrees.
        neck_mm = neck.last_mm if step in thin else neck.turning_mm
        tip = next((one.diameter.nominal_mm for one in part.places if one.face == point.far), 0.0)
        assert (long - begins) * 2 * tan(radians(30)) == pytest.approx(neck_mm - 0.6 - tip, abs=0.12)
    sawn = next(step for one in mine for step in one.steps if step.work == "saw")
    assert f"{neck.last_mm:g} mm" in sawn.text


def test_a_soft_point_keeps_its_thick_neck_and_is_cleaned_when_it_is_turned_true() -> None:
    job = dead(material="S355")
    point = job.tool.parts["centre"].surface("point")
    neck = neck_of(Workpiece(job.tool.parts["centre"], 25.0, Wishes()), point, hard=False)
    assert not neck.is_thinned
    assert steps_with(order_of(job), "plunge the neck on") == []


def test_what_is_milled_and_every_length_comes_before_the_fire_and_seats_after_it() -> None:
    mine = of_part(order_of(worked(CENTRE, centre())), "spindle")
    fire = at(mine, "hardened and tempered")
    for place, setup in enumerate(mine):
        if any(step.work == "mill" for step in setup.steps):
            assert place < fire
        cut = {address for step in setup.steps for address in step.cuts}
        assert not (cut & {"spindle/seat_1/diameter", "spindle/seat_2/diameter"}) or place > fire
        assert not (cut & {"spindle/collar/length", "spindle/seat_1/reach", "spindle/seat_2/reach"}) or place < fire


@pytest.mark.parametrize(("hold", "words"), [("flats", "fork on its flats"), ("hole", "pin through its cross hole")])
def test_without_its_stub_a_spindle_is_driven_by_what_it_is_held_by(hold: str, words: str) -> None:
    mine = of_part(order_of(worked(CENTRE, centre(spindle={"hold": hold}))), "spindle")
    seats = mine[at(mine, "seats at one setting")]
    assert words in seats.holding
    assert "carrier" not in seats.holding


def test_set_over_cuts_the_taper_while_both_centre_holes_are_there() -> None:
    """Only between centres (lifelarn.com, offsetting the tailstock); so the torch comes after it, and blue again."""
    mine = order_of(dead(), taper_method="set-over")
    fire = at(mine, "hardened and tempered")
    taper = next(n for n, one in enumerate(mine) if any(step.work == "taper" for step in one.steps))
    assert taper < at(mine, "stub sawn off") < fire
    assert any("blue" in step.text for step in mine[fire].steps)
    usual = order_of(dead())
    assert at(usual, "hardened and tempered") < at(usual, "taper at one setting")


def test_set_over_after_the_fire_is_reckoned_without_the_stub() -> None:
    """Through the box the taper must come after: by hand, sine of the half angle over the length between pivots."""
    job = dead(material="16MnCr5")
    shop = replace(usual_workshop(3), taper_method="set-over", tailstock_support="60-degree")
    mine = job.kind.order(job.choices, job.tool, shop)
    setup = next(one for one in mine if any(step.work == "taper" for step in one.steps))
    assert setup.grips == "centre/head"
    assert "stub is gone" in setup.caution
    stock = stock_for(job.tool, mine, job.choices)
    rows = [row for row in settings_for(job.tool, job.choices, stock, shop) if row.group.startswith("Set: ")]
    amount = next(row for row in rows if row.main)
    # 81 + 5 + 10 mm to the cone; 12 mm of radius and 0.3 that the fire takes, at 30 degrees to its apex.
    # The shank's hole A 2.5/5.3 tips (5.3 + 2.5) / sqrt 3 ahead of its own apex, which lies 5.3 / 2 x sqrt 3 deep.
    below = 5.3 / 2 * 3.0**0.5 - (5.3 + 2.5) / 3.0**0.5
    by_hand = (96.0 + 12.3 * 3.0**0.5 - below) * sin(radians(MORSE_3_HALF_DEG))
    assert float(amount.value.split(" ")[0]) == pytest.approx(by_hand, abs=0.006)
    assert any("the stub is gone by then" in row.note for row in rows)


def test_a_taper_that_comes_with_a_bought_shank_is_not_cut_by_setting_over() -> None:
    """A finished taper is only proved: common practice, no source."""
    job = dead(material="16MnCr5")
    bought = replace(usual_workshop(3), taper_method="bought shank")
    mine = job.kind.order(job.choices, job.tool, bought)
    stock = stock_for(job.tool, mine, job.choices)
    assert not [one for one in compare(job.tool, mine, bought, stock) if one.code == "order-taper-method"]
    over = replace(bought, taper_method="set-over")
    (found,) = [one for one in compare(job.tool, mine, over, stock) if one.code == "order-taper-method"]
    assert found.severity == "stop"
    assert "comes finished with its shank" in found.title
    cut = job.kind.order(job.choices, job.tool, over)
    (other,) = [one for one in compare(job.tool, cut, bought, stock) if one.code == "order-taper-method"]
    assert "although the shank is bought" in other.title
    rows = settings_for(job.tool, job.choices, stock, bought)
    assert [row.value for row in rows if row.label == "Set-over between centres"] == ["not on a bought shank"]


def test_no_cutter_presses_on_a_thin_neck() -> None:
    """The stub is sawn off next after the neck is thin, before anything is milled: common practice, no source."""
    for job, name in ((worked(CENTRE, centre()), "spindle"), (dead(form="half"), "centre")):
        mine = of_part(order_of(job), name)
        thin = next(n for n, one in enumerate(mine) if any("into the neck" in step.text for step in one.steps))
        assert at(mine, "stub sawn off") == thin + 1
        assert mine[thin + 1].grips.startswith(f"{name}/")


def test_flats_are_milled_with_the_longest_seat_in_the_vice() -> None:
    """Common practice, no source."""
    job = worked(CENTRE, centre(retention={"style": "nut"}))
    mine = of_part(order_of(job), "spindle")
    flats = mine[at(mine, "flats to hold it by")]
    part = job.tool.parts["spindle"]
    z_of = Workpiece(part, 25.0, Wishes()).z_of
    long = {one.name: abs(z_of[one.far] - z_of[one.near]) for one in part.surfaces if one.role == "seat"}
    assert long[flats.grips.partition("/")[2]] == max(long.values())


# --- sleeve, slide, seat ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("headstock", "words"), [
    (3, "in the headstock spindle"), (5, "in the headstock spindle, sleeve Morse 5 to 3"), (2, "socket bored in place"),
])
def test_the_sleeve_is_that_of_the_part_in_this_headstock(headstock: int, words: str) -> None:
    taper = worked(CENTRE, centre()).tool.parts["body"].surface("taper")
    assert morse_number(taper) == 3
    found = sleeve_words(replace(usual_workshop(5), headstock_taper=headstock), taper)
    assert words in found
    assert ("sleeve" in found) == (headstock == 5)


@pytest.mark.parametrize(("travel", "words"), [
    (60.0, "another way of the settings page"), (81.0, "just covers"), (120.0, "by hand feed"),
])
def test_a_slide_too_short_is_not_swung(travel: float, words: str) -> None:
    shop = replace(usual_workshop(3), top_slide_travel_mm=travel)
    assert words in taper_words(shop, 79.0, MORSE_3_HALF_DEG)
    assert ("swing" in taper_words(shop, 79.0, MORSE_3_HALF_DEG)) == (travel > 79.1)


def test_what_holds_the_pocket_is_clocked_to_the_run_out_that_the_drawing_wants() -> None:
    job = worked(CENTRE, centre())
    wanted = min(one.limit_mm for one in job.tool.parts["body"].relations)
    mine = of_part(order_of(job), "body")
    setup = mine[at(mine, "pockets at one setting")]
    assert f"{wanted:g} mm or less" in setup.indicate
    assert [step.size for step in setup.steps if step.work == "indicate"] == [f"{wanted:g} mm or less"]
    assert at(mine, "spanner flats") < at(mine, "pockets at one setting"), "a thin wall is not put in the vice"


def test_no_pocket_is_finished_before_all_are_rough() -> None:
    setups = order_of(worked(CENTRE, centre()))
    steps = next(one for one in setups if "pockets" in one.title).steps
    rough = [n for n, step in enumerate(steps) if step.work == "bore" and step.allowance_mm > 0]
    fine = [n for n, step in enumerate(steps) if any(one.startswith("body/pocket") for one in step.cuts)]
    assert rough
    assert max(rough) < min(fine)


def test_the_nut_is_there_when_its_thread_is_cut() -> None:
    setups = order_of(worked(CENTRE, centre(retention={"style": "nut"})))
    nut = next(n for n, one in enumerate(setups) if one.parts == ("nut",))
    stud = next(n for n, one in enumerate(setups) if any("stud_thread" in two for s in one.steps for two in s.cuts))
    assert nut < stud
    sized = [one.title for one in setups for step in one.steps if "nut/thickness" in step.cuts]
    assert sized == ["Round nut: to length"]


@pytest.mark.parametrize(("retention", "ring", "words"), [
    ("circlip", "shim", "glue"), ("circlip", "spacer_1_inner", "mandrel"), ("screw", "washer", "soft jaws"),
])
def test_a_ring_is_held_for_its_second_face_by_wall_and_thickness(retention: str, ring: str, words: str) -> None:
    """Stuck where no jaw finds a hold, on a mandrel where the wall is thin and long: common practice, no source."""
    setups = of_part(order_of(worked(CENTRE, centre(retention={"style": retention}))), ring)
    setup = setups[at(setups, "to length")]
    assert words in setup.holding
    assert (words == "soft jaws") == (setup.located == "soft jaws")


# --- bought shank ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("end", ["plain", "drawbar", "tang"])
def test_a_bought_shank_is_proved_then_all_is_cut_at_one_seating(end: str) -> None:
    job = worked(CENTRE, centre(shank={"end": end}))
    mine = of_part(order_of(job, taper_method="bought shank"), "body")
    held = [one for one in mine if one.located == "finished taper"]
    assert len(held) == 1
    assert {"body/barrel", "body/back", "body/front", "body/pocket_1"} <= set(held[0].finishes)
    proved = {address for step in mine[0].steps for address in step.cuts}
    assert "body/taper/diameter" in proved
    assert not any(step.work == "tap" for one in mine for step in one.steps), "its thread is bought with it"
    setups = order_of(job, taper_method="bought shank")
    notes = {row.part: row.note for row in stock_for(job.tool, setups, job.choices)}
    assert "bought shank" in notes["body"]
    assert "bought shank" not in notes["spindle"]
    assert "bought shank" not in stock_for(job.tool, order_of(job), job.choices)[0].note


@pytest.mark.parametrize("end", ["plain", "drawbar", "tang"])
@pytest.mark.parametrize("form", ["full", "half"])
def test_a_point_on_a_bought_shank_is_roughed_before_the_fire_and_nothing_is_refused(end: str, form: str) -> None:
    job = worked("dead-centre", {
        "socket": {"taper": "Morse 3"}, "shank": {"end": end}, "point": {"work_diameter": 14, "form": form},
    })
    shop = replace(usual_workshop(3), taper_method="bought shank")
    setups = job.kind.order(job.choices, job.tool, shop)
    rough = next(n for n, one in enumerate(setups) if any("rough the point" in step.text for step in one.steps))
    assert rough < at(setups, "hardened and tempered")
    found = compare(job.tool, setups, shop, stock_for(job.tool, setups, job.choices))
    assert [one.key for one in found if one.severity == "stop"] == []


def test_carburising_time_goes_by_the_square_of_the_depth() -> None:
    """At 925 degrees the case is 0.635 mm deep after an hour, 1.27 mm after four (rule of thumb, from memory)."""
    assert carburising_h(0.635, 925.0) == pytest.approx(1.0, rel=0.03)
    assert carburising_h(1.27, 925.0) == pytest.approx(4.0, rel=0.03)
    assert carburising_h(1.0, 880.0) > carburising_h(1.0, 925.0)


@pytest.mark.parametrize("steel", ["16MnCr5", "O1", "42CrMo4"])
def test_heat_steps_tell_how_long(steel: str) -> None:
    way = hardening_of(steel)
    assert way is not None
    steps = steps_of(way, "the point", "the shank", "centre/point")
    assert all("an hour" in step.text for step in steps if step.work == "temper")
    assert all(" h at heat" in step.text for step in steps if step.work == "case")
    assert any(step.work == "case" for step in steps) == way.is_case


def test_a_case_is_made_as_much_deeper_as_is_ground_off() -> None:
    # 0.6 on the diameter stays to be ground: 0.26 square to the flank of a 60 degree point, 0.3 in round figures.
    way = hardening_of("16MnCr5")
    assert way is not None
    (text,) = [step.text for step in steps_of(way, "the point", "the shank", "x/point") if step.work == "case"]
    assert "1.1 to 1.5 mm" in text


def test_a_cover_whose_relief_goes_right_through_is_held_by_what_is_there() -> None:
    """A bore of no length holds nothing: geometry."""
    job = worked(CENTRE, {
        "socket": {"taper": "Morse 0"}, "passes": {"holder_width": 4.0, "tip_ahead": 0.5, "work_diameter": 7.5},
        "stack": [{"ring": "6800"}], "cover": {"thickness": 0.5},
    })  # fmt: skip
    mine = job.kind.order(job.choices, job.tool, usual_workshop(0))
    cover = next(one for one in mine if one.parts == ("cover",) and "to length" in one.title)
    assert cover.grip_mm is not None
    assert cover.grip_mm > 0.0
    stock = stock_for(job.tool, mine, job.choices)
    assert not [one for one in compare(job.tool, mine, usual_workshop(0), stock) if one.severity == "stop"]
