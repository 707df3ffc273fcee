"""The order of work as it is found from the description: what is cut where, held how, and in which order."""

from __future__ import annotations

from dataclasses import replace
from math import radians, tan

import pytest

from generator.making.route.blank import ANOTHER_TRY_MM, grip_mm, spare_mm
from generator.making.route.ledger import Wishes, Workpiece
from generator.making.stock import carrier_room_mm, stock_for
from generator.making.usual import usual_workshop
from generator.making.workshop import Drill, ShelfBar
from tests.helpers import CENTRE, centre, worked

DEAD = {"socket": {"taper": "Morse 3"}, "point": {"form": "full", "work_diameter": 14}}


def order_of(job, **shop):
    return job.kind.order(job.choices, job.tool, replace(usual_workshop(3), **shop))


@pytest.fixture(scope="module")
def job():
    return worked(CENTRE, centre())


def place(setups, words: str) -> int:
    return next(index for index, one in enumerate(setups) if words in one.title)


def test_a_step_falls_to_the_wider_bore_and_the_slimmer_diameter(job):
    """Which tool cuts a shoulder: geometry, common practice, no source."""
    body = Workpiece(job.tool.parts["body"], 45.0, Wishes())
    spindle = Workpiece(job.tool.parts["spindle"], 20.0, Wishes())
    part = body.part
    assert "floor_1" in set(body.made_by(part.surface("pocket_1")))
    assert "floor_1" not in set(body.made_by(part.surface("pocket_2")))
    assert "recess_bottom" not in set(body.made_by(part.surface("through_bore")))
    assert "shoulder" in set(spindle.made_by(spindle.part.surface("seat_1")))
    assert "shoulder" not in set(spindle.made_by(spindle.part.surface("collar")))


def test_shank_before_pocket_and_the_stub_between(job):
    titles = order_of(job)
    assert place(titles, "outside and taper") < place(titles, "stub sawn off") < place(titles, "front and pockets")
    assert titles[place(titles, "front and pockets")].locates_on == "body/taper"


def test_every_set_up_on_the_lathe_says_how_the_work_is_held(job):
    for setup in order_of(job):
        assert all(step.work for step in setup.steps), setup.title
        if setup.located in {"bar", "soft jaws", "three-jaw"}:
            assert setup.grips
            assert setup.grip_mm
            assert setup.out_mm is not None


def test_the_point_of_no_return_is_where_the_stub_goes_and_where_it_gets_hard(job):
    marked = [setup.title for setup in order_of(job) if setup.no_return]
    assert any("stub sawn off" in title for title in marked)
    assert any("hardened" in title for title in marked)


def test_a_taper_can_be_tried_again_by_the_length_of_one_more_cut():
    """Morse 3, 1 : 19.922 (ISO 296): 0.25 mm on the diameter moves the cone 4.98 mm, whole millimetres up."""
    half = 1.4377
    assert ANOTHER_TRY_MM / (2 * tan(radians(half))) == pytest.approx(4.98, abs=0.01)
    assert spare_mm(half) == 5.0


def test_the_blank_holds_stub_and_spare_with_their_reasons(job):
    rows = {row.part: row for row in stock_for(job.tool, order_of(job), job.choices)}
    why = dict(rows["body"].why)
    stub = next(mm for words, mm in why.items() if "carrier" in words)
    assert stub == carrier_room_mm(rows["body"].bar_mm)
    assert next(mm for words, mm in why.items() if "another try" in words) == 5.0


def test_a_grip_is_seven_tenths_of_the_bar_and_at_least_fifteen():
    assert grip_mm(45.0) == 35.0  # 31.5 up to the next five
    assert grip_mm(10.0) == 15.0


def test_a_short_drill_goes_in_from_both_ends_and_meets(job):
    short = tuple(Drill(10.5, 70.0, 110.0) if d.diameter_mm == 10.5 else d for d in usual_workshop(3).drills)
    steps = [step for setup in order_of(job, drills=short) for step in setup.steps if step.work == "drill"]
    ours = [step for step in steps if step.surface == "body/through_bore"]
    bore = job.tool.parts["body"].surface("through_bore")
    z_of = Workpiece(job.tool.parts["body"], 45.0, Wishes()).z_of
    assert len(ours) == 2
    assert sum(step.length_mm for step in ours) >= z_of[bore.far] - z_of[bore.near]
    long = tuple(Drill(10.5, 200.0, 250.0) if d.diameter_mm == 10.5 else d for d in usual_workshop(3).drills)
    steps = [step for setup in order_of(job, drills=long) for step in setup.steps if step.work == "drill"]
    assert sum(step.surface == "body/through_bore" for step in steps) == 1


@pytest.mark.parametrize(
    ("method", "words"),
    [
        ("top slide", "swing the top slide"), ("set-over", "set the tailstock over"),
        ("attachment", "set the attachment"),
    ],
)
def test_the_taper_is_cut_the_way_the_shop_wants(job, method, words):
    steps = [step for setup in order_of(job, taper_method=method) for step in setup.steps]
    assert sum(words in step.text and "settings page" in step.text for step in steps) == 1
    assert any("bring the tailstock back" in step.text for step in steps) == (method == "set-over")


def test_a_bought_shank_is_never_cut_and_all_is_true_to_it(job):
    setups = order_of(job, taper_method="bought shank")
    assert not any(step.work == "taper" for setup in setups for step in setup.steps)
    assert not any("stub" in setup.title for setup in setups if setup.parts == ("body",))
    assert setups[place(setups, "front and pockets")].locates_on == "body/taper"


def test_a_hard_point_loses_its_stub_before_the_fire_and_keeps_a_centre_after_it():
    """With the stub on, the tip of the cone would get no case: common practice, no source."""
    for job in (worked(CENTRE, centre()), worked("dead-centre", DEAD)):
        setups = order_of(job)
        fire = place(setups, "hardened and tempered")
        part = setups[fire].parts
        stub = next(i for i, one in enumerate(setups) if one.parts == part and "stub" in one.title)
        after = [one for one in setups[fire:] if one.parts == part and one.located == "centres"]
        assert stub < fire
        assert after
        assert all("hollow centre" in one.holding for one in after)


def test_a_bar_too_thick_for_the_spindle_and_too_long_for_the_chuck_is_centred_by_hand():
    job = worked("dead-centre", {**DEAD, "socket": {"taper": "Morse 5"}})
    titles = [setup.title for setup in order_of(job)]
    assert any("centred at the bench" in title for title in titles)
    thin = worked("dead-centre", {**DEAD, "socket": {"taper": "Morse 1"}})
    assert not any("centred at the bench" in setup.title for setup in order_of(thin))


def test_a_thin_ring_is_held_all_round_for_its_second_face(job):
    for setup in order_of(job):
        if "to length" in setup.title:
            assert setup.located in {"soft jaws", "mandrel"}


def test_bars_of_the_shelf_serve_the_parts_that_they_are_thick_and_long_enough_for(job):
    """The slimmest that serves; what the first part takes is gone for the next."""
    bars = (ShelfBar(18.0, 500.0), ShelfBar(25.0, 90.0), ShelfBar(50.0, 400.0, "42CrMo4"))
    setups = order_of(job, bars=bars)
    rows = {row.part: row for row in stock_for(job.tool, setups, job.choices, shelf=bars)}
    assert rows["body"].bar_mm == 50.0
    assert rows["washer"].bar_mm == 18.0
    assert rows["cover"].bar_mm not in {18.0, 25.0, 50.0}, "C45 is not sawn off a bar of another steel"
    taken = sum(row.cut_mm for row in rows.values() if row.bar_mm == 25.0)
    assert 0 < taken <= 90.0
