"""Wrong plans by what the shop has and what comes in the wrong order: drills, bars, machine, heat, centres, tapers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.making.floors import SQUARED
from generator.making.setups import Step
from generator.making.usual import usual_workshop
from generator.making.workshop import BoringBar, Chuck, Drill
from tests.sample import sample_tool
from tests.unit.plans import about, given, good_plan, in_order, judged, stop, with_set_up, with_steps

# --- drills and boring bars --------------------------------------------------------------------------------------


def deep(old: Step) -> Step:
    """The through bore drilled from the shank end alone."""
    return replace(old, length_mm=87.0) if old.work == "drill" else old


def test_a_drill_too_short_is_refused_and_the_other_end_proposed() -> None:
    """DIN 338: 10.5 mm has 87 mm of flute; less 1.5 d it drills 71.25 mm (common practice), the bore has 87."""
    one = stop(judged(with_steps(1, deep)), "order-drill", "set-up 1/body/through_bore/10.5")
    assert one.value == pytest.approx(87.0 - 1.5 * 10.5)
    assert one.limit == "at least 87"
    assert "from both ends" in one.advice


def test_a_hole_too_long_even_from_both_ends_wants_a_longer_drill() -> None:
    """26 mm of flute less 1.5 x 10.5 leave 10.25 mm from each end; (87 + 2) / 2 + 15.75 = 60 mm of flute would do."""
    stub = (Drill(10.5, 26.0, 60.0), Drill(20.0, 140.0, 238.0), Drill(5.0, 52.0, 86.0))
    one = stop(judged(good_plan(), shop=given(drills=stub)), "order-drill", "set-up 1/body/through_bore/10.5")
    assert "flute of 60 mm and drill from both ends" in one.advice
    unsure = replace(usual_workshop(), drills=stub)
    assert {found.severity for found in about(judged(good_plan(), shop=unsure), "order-drill")} == {"warn"}


def test_a_long_drill_in_the_drawer_will_do() -> None:
    drills = (*usual_workshop().drills, Drill(10.5, 130.0, 200.0))
    assert drills[-1].usable_mm == pytest.approx(114.25)
    assert not about(judged(with_steps(1, deep), shop=given(drills=drills)), "order-drill")


def test_a_blind_hole_that_no_drill_reaches_is_a_warning_by_usual_drills_and_a_stop_by_own_ones() -> None:
    plan = with_steps(6, lambda old: replace(old, length_mm=70.0) if old.work == "drill" else old)
    assert [one.severity for one in about(judged(plan), "order-drill")] == ["warn"]
    own = given(drills=usual_workshop().drills)
    assert "flute of 78 mm" in stop(judged(plan, shop=own), "order-drill", "set-up 6/spindle/tapped_hole/5").advice


def test_a_drill_that_is_not_there_is_told() -> None:
    found = about(judged(good_plan(), shop=given(drills=(Drill(5.0, 52.0, 86.0),))), "order-drill")
    assert {one.severity for one in found} == {"note"}
    assert {one.address for one in found} == {
        "set-up 1/body/through_bore/10.5", "set-up 4/body/through_bore/10.5", "set-up 4/body/pocket/20"
    }


def behind(large_mm: float, deep_mm: float):
    """The pocket opened by a drill of this size, the through bore behind it drilled so deep, both from the front."""

    def changed(old: Step) -> Step:
        if old.work != "drill":
            return old
        if old.surface == "body/pocket":
            return replace(old, diameter_mm=large_mm, surface="", length_mm=24.0)
        return replace(old, length_mm=deep_mm)

    return with_steps(4, changed)


def test_a_bore_behind_what_is_narrow_takes_its_share_of_the_flute() -> None:
    """DIN 338: 10.5 mm clears 71.25 mm; chips leave beside it only in a hole twice as wide (shop choice)."""
    free = {one.code for one in judged(behind(22.0, 60.0)) if one.severity == "warn"}
    assert "order-drill-behind" not in free
    (one,) = about(judged(behind(15.0, 60.0)), "order-drill-behind")
    assert one.severity == "warn"
    assert one.value == pytest.approx(71.25)
    assert "twice as wide" in one.advice


def test_a_chuck_does_not_enter_the_work() -> None:
    """A straight shank is held 20 mm long (common practice, no source): 142 mm over all stand 122 out."""
    stubby = tuple(Drill(10.5, 87.0, 100.0) if one.diameter_mm == 10.5 else one for one in usual_workshop().drills)
    (one,) = about(judged(behind(22.0, 65.0), shop=given(drills=stubby)), "order-drill-chuck")
    assert one.value == pytest.approx(80.0)
    assert not about(judged(behind(22.0, 65.0)), "order-drill-chuck")


def squared(bars: tuple[BoringBar, ...]):
    """The floor recess of the sample's body faced by a bar after it is bored."""

    def changed(old: Step) -> Step:
        return replace(old, text=f"square the floor: {SQUARED}") if "body/floor_recess/diameter" in old.cuts else old

    return about(judged(with_steps(4, changed), shop=given(boring_bars=bars)), "order-bar-room")


def test_a_bar_that_faces_a_floor_has_room_for_its_back() -> None:
    """Tip at the inner diameter, back at the wall: half of both diameters (geometry); bars by ISO 6261."""
    body = sample_tool().parts["body"]
    bore, hole = (body.surface(name).diameter.nominal_mm for name in ("floor_recess", "through_bore"))
    most = (bore + hole) / 2
    assert not squared((BoringBar(8.0, 11.0, 60.0), BoringBar(12.0, most, 60.0)))
    (one,) = squared((BoringBar(8.0, 11.0, 10.0), BoringBar(16.0, most + 0.5, 90.0)))
    assert one.severity == "stop"
    assert one.limit == f"at most {most:g}"


def test_a_drill_across_is_measured_by_the_part() -> None:
    """The tommy hole of 5 mm goes through 16 mm of nose; DIN 338 gives 52 mm of flute, 44.5 of them usable."""
    plan = with_steps(11, lambda old: replace(old, diameter_mm=None, length_mm=None))
    assert not judged(plan)
    short = given(drills=(Drill(5.0, 20.0, 60.0), Drill(10.5, 87.0, 133.0), Drill(20.0, 140.0, 238.0)))
    one = stop(judged(plan, shop=short), "order-drill", "set-up 11/spindle/tommy_hole/5")
    assert (one.value, one.limit) == (12.5, "at least 16")


def test_two_holes_that_do_not_meet_are_refused() -> None:
    plan = with_steps(1, lambda old: replace(old, length_mm=40.0) if old.work == "drill" else old)
    one = stop(judged(plan), "order-drill-meets", "set-up 4/body/through_bore")
    assert (one.value, one.limit) == (70.0, "at least 87")


def test_a_boring_bar_that_does_not_enter_its_hole_is_refused() -> None:
    """ISO 6261 bars by their least bore: 20 mm for a bar of 16; the pocket of 35 can be opened to 20 by the drill."""
    stiff = (BoringBar(16.0, 20.0, 64.0),)
    assert not about(judged(good_plan(), shop=given(boring_bars=stiff)), "order-boring-bar")
    small = tuple(drill for drill in usual_workshop().drills if drill.diameter_mm <= 13.0)
    plan = with_steps(4, lambda old: None if old.work == "drill" and old.surface == "body/pocket" else old)
    shop = given(boring_bars=stiff, drills=small)
    one = stop(judged(plan, shop=shop), "order-boring-bar", "set-up 4/body/cover_recess")
    assert (one.value, one.limit) == (13.0, "at least 20")
    assert "larger starter hole" in one.advice


def test_boring_without_any_hole_is_refused() -> None:
    plan = with_steps(4, lambda old: None if old.work == "drill" else old)
    plan = tuple(
        replace(one, steps=tuple(s for s in one.steps if s.work != "drill")) if one.number == 1 else one
        for one in plan
    )
    one = stop(judged(plan, shop=given(boring_bars=(), drills=())), "order-boring-bar", "set-up 4/body/cover_recess")
    assert "no hole to lead a boring bar into" in one.title


def test_a_boring_bar_too_short_or_too_slim() -> None:
    """The floor of the pocket lies 21 mm behind the front; 4 diameters of a steel bar of 5 mm are 20."""
    short = given(boring_bars=(BoringBar(12.0, 16.0, 15.0),))
    assert "reaches the end" in stop(judged(good_plan(), shop=short), "order-boring-bar", "set-up 4/body/pocket").title
    slim = given(boring_bars=(BoringBar(5.0, 6.5, 60.0),))
    found = {one.address: one for one in about(judged(good_plan(), shop=slim), "order-boring-bar")}
    assert found["set-up 4/body/pocket"].severity == "warn"
    assert found["set-up 4/body/pocket"].value == pytest.approx(21.0 / 5.0)
    assert found["set-up 4/body/pocket"].limit == "at most 4"
    assert "set-up 4/body/cover_recess" not in found
    carbide = given(boring_bars=(BoringBar(5.0, 6.5, 60.0, carbide=True),))
    assert not about(judged(good_plan(), shop=carbide), "order-boring-bar")


# --- machine -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("fields", "code", "address", "value"), [
    ({"centre_height_mm": 22.0}, "order-swing", "set-up 1/body", 45.0),
    ({"between_centres_mm": 130.0}, "order-between-centres", "set-up 3/body", 137.0),
    ({"chucks": (Chuck("three-jaw", 40.0, 0.08),)}, "order-chuck", "set-up 1/bar", 45.0),
])  # fmt: skip
def test_work_that_the_machine_does_not_take(
    fields: dict[str, object], code: str, address: str, value: float
) -> None:
    assert stop(judged(good_plan(), shop=given(**fields)), code, address).value == value
    # The same figures, not given but taken as usual, only warn.
    usual = replace(given(**fields), defaults=usual_workshop().defaults)
    assert {one.severity for one in about(judged(good_plan(), shop=usual), code)} == {"warn"}


def test_a_chuck_that_is_not_there() -> None:
    shop = given(chucks=(Chuck("collet", 26.0, 0.01),))
    assert "no three-jaw in this shop" in stop(judged(good_plan(), shop=shop), "order-chuck", "set-up 1/bar").title


def test_a_bar_held_short_must_pass_the_spindle() -> None:
    """143 mm of blank, 34 held and 40 out: 69 mm must go behind the jaws of a chuck that has room for 40."""
    plan = with_set_up(1, out_mm=40.0)
    one = stop(judged(plan, shop=given(spindle_bore_mm=38.0)), "order-spindle-bore", "set-up 1/body")
    assert "69 mm of the work" in one.title
    assert not about(judged(plan, shop=given(spindle_bore_mm=46.0)), "order-spindle-bore")


# --- heat --------------------------------------------------------------------------------------------------------


def test_hardening_after_finishing_is_refused() -> None:
    found = judged(in_order(1, 2, 3, 4, 5, 6, 7, 8, 10, 9, 11, 12, 13))
    assert [(one.severity, one.address) for one in about(found, "order-heat")] == [("warn", "set-up 10/spindle/seat")]
    whole = [
        replace(one, steps=(Step("harden", tool="furnace", work="harden"),)) if one.title == "hardened" else one
        for one in in_order(1, 2, 3, 4, 5, 6, 7, 8, 10, 9, 11, 12, 13)
    ]
    one = stop(judged(whole), "order-heat", "set-up 10/spindle/seat")
    assert "finished already when the part is hardened" in one.title
    assert "grind" in one.advice


def test_the_quench_after_a_torch_is_as_local_as_the_torch() -> None:
    quench = Step("quench upright in oil, the point first", work="harden", surface="spindle/point")
    plan = [
        replace(one, steps=(*one.steps, quench)) if one.title == "hardened" else one
        for one in in_order(1, 2, 3, 4, 5, 6, 7, 8, 10, 9, 11, 12, 13)
    ]
    assert [(one.severity, one.address) for one in about(judged(plan), "order-heat")] == [
        ("warn", "set-up 10/spindle/seat")
    ]
    case = Step("carburise", tool="furnace", work="case", surface="spindle/point")
    boxed = [replace(one, steps=(case, *one.steps)) if one.title == "hardened" else one for one in plan]
    assert stop(judged(boxed), "order-heat", "set-up 10/spindle/seat")


def test_cutting_what_is_hard_is_refused() -> None:
    """A hardened point is ground; turning tool, mill, drill and tap come too late."""
    plan = with_steps(13, lambda old: replace(old, work="turn"))
    one = stop(judged(plan), "order-hard", "set-up 13/spindle/point")
    assert "hard since set-up 9: to turn it is too late" in one.title
    unground = judged(with_steps(13, lambda old: Step("fit", work="fit")))
    assert "nothing here grinds it" in stop(unground, "order-hard", "set-up 13/spindle/point").title
    through = with_set_up(9, steps=(Step("harden all", tool="furnace", work="harden"),))
    codes = {one.address for one in about(judged(through), "order-hard")}
    assert {"set-up 10/spindle/seat", "set-up 11/spindle/tommy_hole"} <= codes


# --- points of no return -----------------------------------------------------------------------------------------


def test_a_seat_turned_after_its_centres_were_cut_off_is_refused() -> None:
    found = judged(in_order(1, 2, 3, 4, 5, 6, 7, 8, 9, 12, 10, 11, 13))
    one = stop(found, "order-datum-gone", "set-up 11/spindle")
    assert "set-up 10 cut one off" in one.title
    assert "before they are cut off" in one.advice


def test_a_stub_that_is_faced_off_takes_its_centre_hole_along() -> None:
    """The body stands between centres with 25 mm of stub ahead of its front; the front faced, that hole is gone."""
    plan = tuple(
        replace(one, leaves_mm=25.0 if one.number == 3 else 0.0, steps=tuple(s for s in one.steps if s.work != "saw"))
        for one in good_plan()
    )
    assert not about(judged(plan), "order-datum-gone")
    last = replace(plan[4], located="centres", locates_on="centre holes", holding="carrier on the shank")
    assert "set-up 4 cut one off" in stop(
        judged((*plan[:4], last, *plan[5:])), "order-datum-gone", "set-up 5/body"
    ).title


def test_a_hollow_centre_takes_a_point_in_place_of_a_hole_that_is_gone() -> None:
    hollow = Step("the roughed point in a hollow centre", work="hold")
    plan = in_order(1, 2, 3, 4, 5, 6, 7, 8, 9, 12, 10, 11, 13)
    held = tuple(
        replace(one, steps=(hollow, *one.steps), grips="spindle/collar") if one.title == "diameters" else one
        for one in plan
    )
    assert not about(judged(held), "order-datum-gone")
    # A point that nobody has turned yet goes into no hollow centre.
    blunt = tuple(replace(one, steps=one.steps[:2]) if one.title == "roughed" else one for one in held)
    assert stop(judged(blunt), "order-datum-gone", "set-up 11/spindle")


def test_centre_holes_must_be_drilled_before_they_are_used() -> None:
    plan = tuple(
        replace(one, steps=tuple(s for s in one.steps if s.work != "centre")) if "spindle" in one.parts else one
        for one in good_plan()
    )
    assert stop(judged(plan), "order-not-made", "set-up 8/spindle/centre holes")


def test_the_bar_is_gone_once_the_part_is_sawn_off() -> None:
    plan = with_set_up(13, located="bar", grips="bar", locates_on="bar", grip_mm=20.0, out_mm=40.0)
    assert stop(judged(plan), "order-datum-gone", "set-up 13/spindle/bar")


def test_a_point_of_no_return_is_marked() -> None:
    (found,) = about(judged(with_set_up(12, no_return="")), "order-no-return")
    assert (found.severity, found.address) == ("note", "set-up 12/spindle")


# --- method of the taper -----------------------------------------------------------------------------------------


def test_a_top_slide_shorter_than_the_cone_needs_another_method() -> None:
    """The cone of the sample is 73 mm long, 73.02 along the slide (geometry)."""
    one = stop(judged(good_plan(), shop=given(top_slide_travel_mm=55.0)), "order-slide-short", "set-up 3/body/taper")
    assert one.limit == "at least 73.02"
    assert "tailstock set over" in one.advice
    usual = replace(usual_workshop(), top_slide_travel_mm=55.0)
    assert [one.severity for one in about(judged(good_plan(), shop=usual), "order-slide-short")] == ["warn"]
    assert not about(judged(good_plan(), shop=given(top_slide_travel_mm=85.0)), "order-slide-short")


def test_set_over_only_between_centres_and_no_further_than_the_tailstock_goes() -> None:
    """Set-over by hand: 137 mm between the ends x sin of 1.4377 deg (0.025090) is 3.437 mm."""
    shop = given(taper_method="set-over", headstock_support="ball")
    assert not judged(good_plan(), shop=shop)
    chucked = with_set_up(3, located="four-jaw", grips="bar", grip_mm=34.0, out_mm=103.0)
    assert stop(judged(chucked, shop=shop), "order-taper-method", "set-up 3/body/taper")
    stiff = replace(shop, set_over_most_mm=3.0, defaults=shop.defaults - {"set_over_most_mm"})
    assert stop(judged(good_plan(), shop=stiff), "order-set-over", "set-up 3/body/taper").value == pytest.approx(
        137.0 * 0.025090, abs=1e-3
    )


def test_much_set_over_on_points_advises_balls_and_never_stops() -> None:
    shop = given(taper_method="set-over", headstock_support="60-degree", tailstock_support="60-degree")
    (found,) = judged(good_plan(), shop=shop)
    assert (found.code, found.severity, found.limit) == ("order-set-over-share", "warn", "at most 2")
    assert found.value == pytest.approx(2.509, abs=1e-3)
    assert "balls" in found.advice


@pytest.mark.parametrize(("length_mm", "severity"), [(None, "stop"), (60.0, "stop"), (90.0, "")])
def test_a_taper_attachment_must_be_there_and_cover_the_cone(length_mm: float | None, severity: str) -> None:
    shop = given(taper_method="attachment", attachment_mm=length_mm)
    assert [one.severity for one in judged(good_plan(), shop=shop)] == ([severity] if severity else [])


# --- what is not told --------------------------------------------------------------------------------------------


def test_a_hole_without_its_sizes_is_told() -> None:
    plan = with_steps(6, lambda old: Step("drill", work="drill") if old.work == "drill" else old)
    (found,) = judged(plan)
    assert (found.code, found.address) == ("order-not-told", "set-up 6/spindle/step 2")
    plan = with_steps(4, lambda old: replace(old, cuts=()) if "body/pocket/diameter" in old.cuts else old)
    (found,) = judged(plan)
    assert "which hole is bored" in found.title


def test_what_is_not_told_is_a_finding() -> None:
    (found,) = judged(with_set_up(1, out_mm=None, grip_mm=None))
    assert (found.code, found.address) == ("order-not-told", "set-up 1/body")
    assert "how much of it is held, how far it sticks out" in found.title
    (kinds,) = judged(with_steps(2, lambda old: replace(old, work="")))
    assert "the kind of every step" in kinds.title
