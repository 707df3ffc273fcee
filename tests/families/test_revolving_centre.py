"""The revolving centre: sound by default in all its forms, no larger than it must be, or refused with the place."""

from __future__ import annotations

import pytest

from generator.checks.advice import with_changes
from generator.errors import InputError
from generator.findings import count_stops
from tests.helpers import CENTRE, ENDS, RINGS, centre, of_params, read, stacks, worked


@pytest.mark.parametrize("stack", ["unequal", "one", "equal", "three"])
@pytest.mark.parametrize("end", ENDS)
@pytest.mark.parametrize("number", RINGS)
def test_a_taper_a_bearing_and_the_tool_that_must_pass_make_a_sound_job(number, end, stack):
    data = centre(stacks(number)[stack], socket={"taper": f"Morse {number}"}, shank={"end": end})
    if number == 0:
        # Rings of 8 mm bore bear fine cuts only.
        data["loads"] = {"depth": 0.15, "feed": 0.05}
    if (number, end) == (0, "drawbar"):
        with pytest.raises(InputError, match="Morse 0 has no drawbar form in ISO 296"):
            worked(CENTRE, data)
        return
    # The top slide of a usual lathe is shorter than the taper of a large shank: the shop's limit, not the tool's.
    shop = {"order-slide-short"} if number >= 4 else set()
    # A thick body and a long thin bore ask for more than the steady and the drills of a usual shop.
    shop |= {"order-steady-room", "order-drill", "order-boring-bar"} if number >= 5 else set()
    assert [f.key for f in worked(CENTRE, data).findings if f.severity != "note" and f.code not in shop] == []


@pytest.mark.parametrize("retention", ["screw", "nut", "circlip"])
@pytest.mark.parametrize("cover", ["pressed", "stuck", "snap ring", "screwed"])
@pytest.mark.parametrize(
    "stack", [("6003-2RS", "6001-2RS"), ("6003-2RS", "6003-2RS"), ("6204-2RS", "6003-2RS", "6001-2RS")]
)
def test_every_cover_goes_with_every_retention(cover, retention, stack):
    job = worked(CENTRE, centre(stack, cover={"style": cover}, retention={"style": retention}))
    assert [f.key for f in job.findings if f.severity != "note"] == []
    assert (job.value("cover.style"), job.value("retention.style")) == (cover, retention)


@pytest.mark.parametrize("work", [6, 8, 10, 14, 22, 40, 80])
@pytest.mark.parametrize("angle", [60, 75, 90])
def test_thick_and_thin_work_and_other_points(work, angle):
    job = worked(CENTRE, centre(passes={"work_diameter": work}, spindle={"point_angle": angle}))
    assert job.stops == []


def test_an_inch_job_with_two_unequal_bearings_and_morse_4():
    data = {
        "socket": {"taper": "Morse 4", "ejector_depth": 3.75},
        "passes": {"holder_width": 0.625, "tip_ahead": "1/4 in", "work_diameter": 1.0},
        "stack": [{"ring": "6004-2RS"}, {"bore": "15 mm", "outside": "32 mm", "width": "9 mm"}],
    }
    job = worked(CENTRE, data, unit="in")
    assert job.stops == []
    assert job.value("passes.work_diameter") == pytest.approx(25.4)
    assert job.value("passes.tip_ahead") == pytest.approx(6.35)
    same = worked(CENTRE, {
        "socket": {"taper": "Morse 4", "ejector_depth": 95.25},
        "passes": {"holder_width": 15.875, "tip_ahead": 6.35, "work_diameter": 25.4},
        "stack": [{"ring": "6004-2RS"}, {"bore": 15, "outside": 32, "width": 9}],
    })  # fmt: skip
    plain = {k: v for k, v in same.choices.values().items() if isinstance(v, float)}
    assert {k: job.choices.values()[k] for k in plain} == pytest.approx(plain)


def test_inch_bearings_by_name_make_a_sound_job():
    assert worked(CENTRE, centre(("R10", "R8"), socket={"taper": "Morse 4"})).stops == []


# --- bearings ---


def test_a_lone_bearing_is_taken_twice_and_says_so():
    job = worked(CENTRE, centre(("6003-2RS",)))
    assert job.choices.counts["rings"] == 2
    assert "one cannot hold a point steady" in job.choices.rule_of("stack[0].count")


def test_one_bearing_asked_for_outright_is_a_stop():
    job = worked(CENTRE, centre(({"ring": "6003-2RS", "count": 1},)))
    assert ("lever", "stack") in job.stops


def test_a_counted_bearing_may_have_its_spacer_listed_after_it():
    job = worked(CENTRE, centre(({"ring": "6003-2RS", "count": 2}, {"spacer": 7})))
    assert job.value("stack.spacer_1") == 7
    assert job.choices.counts["rings"] == 2


@pytest.mark.parametrize(
    ("stack", "words"),
    [
        (({"spacer": 5}, "6003"), "a spacer stands between bearings"),
        (("6003", {"spacer": 5}, {"spacer": 5}, "6001"), "two spacers follow each other"),
        (("6003", "6001", {"spacer": 5}), "no bearing follows the last spacer"),
        (({"ring": "6003", "spacer": 5}, "6001"), "a bearing or a spacer, not both"),
        (({"ring": "6003", "bore": 17},), "by designation, a bearing by bore"),
        (({"bore": 17, "outside": 35},), "lacks width"),
        (({"bore": 17, "outside": 19, "width": 5},), "leaves no room for balls"),
        (("6001", "6003"), "must not have a larger bore"),
        (("6300", {"bore": 10, "outside": 40, "width": 9}), "must not be larger outside"),
        (("7202",), "a stack is of deep groove ball bearings"),
        (({"bore": 75, "outside": 130, "width": 25},), "the bearing is outside the tables"),
        (({"bore": 17, "outside": 35, "width": 4},), "width 4 mm is less than the balls"),
        (("nonsense",), "no ring 'nonsense' is known"),
    ],
)
def test_a_stack_that_makes_no_sense_is_a_fault_with_its_place(stack, words):
    with pytest.raises(InputError, match="stack") as caught:
        worked(CENTRE, centre(stack))
    assert any(words in str(fault) for fault in caught.value.faults)


def test_all_faults_of_a_stack_come_at_once():
    with pytest.raises(InputError) as caught:
        worked(CENTRE, centre(({"spacer": 5}, "nonsense", {"bore": 17, "outside": 35})))
    assert len(caught.value.faults) == 3


def test_measured_rings_narrow_the_fit_and_take_their_note_away():
    nominal = worked(CENTRE, centre())
    measured = worked(CENTRE, centre(({"ring": "6003-2RS", "measured_width": 9.93}, "6001-2RS")))
    assert nominal.one("measure", "ring_1").severity == "note"
    assert ("measure", "ring_1") not in {f.key for f in measured.findings}
    assert "it will come out at 9.910 to 10.030" in nominal.one("gap", "stack_in_pocket").advice
    assert "to 9.960 mm from the readings" in measured.one("gap", "stack_in_pocket").advice


@pytest.mark.parametrize(
    ("reading", "severity"), [(9.9, None), (9.86, "warn"), (10.02, "warn"), (9.5, "stop"), (99.7, "stop")]
)
def test_a_reading_that_cannot_be_of_the_ring_named_is_questioned(reading, severity):
    # 6003: width 10 +0 / -0.12 (ISO 492 Normal), and 0.005 of measuring doubt.
    job = worked(CENTRE, centre(({"ring": "6003-2RS", "measured_width": reading}, "6001-2RS")))
    found = [f.severity for f in job.findings if f.key == ("reading", "ring_1/outer_width")]
    assert found == ([] if severity is None else [severity])


def test_a_ring_that_turns_never_rubs_on_the_one_behind():
    """6204 (20 x 47) ahead of 6000 (10 x 26): its inner land is wider than the small ring's outer land."""
    job = worked(CENTRE, centre(("6204-2RS", "6000-2RS"), body={"barrel_length": 40}))
    assert job.value("stack.spacer_1") >= 3.0
    assert job.one("gap", "apart_2").severity == "note"
    assert job.one("gap", "floor_land").severity == "note"
    assert job.choices.counts["pocket_1/relief"] == 1


def test_rings_given_too_close_are_a_stop():
    job = worked(CENTRE, centre(("6204-2RS", {"spacer": 0.1}, "6000-2RS")))
    assert ("gap", "apart_2") in job.stops


# --- retention ---


@pytest.mark.parametrize("end", ENDS)
def test_morse_1_takes_a_nut_because_no_screw_passes_and_says_why(end):
    """The head of an M4 cap screw is 7 mm (ISO 4762); Morse 1 is 9.4 mm at its small end (ISO 296): no wall is left."""
    job = worked(CENTRE, centre(("6001-2RS", "6000-2RS"), socket={"taper": "Morse 1"}, shank={"end": end}))
    found = job.one("retention")
    assert job.value("retention.style") == "nut"
    assert "o cap screw from M4 up passes" in found.advice
    assert "nut" in job.tool.parts
    assert "screw" not in job.tool.parts


def test_a_screw_where_a_key_would_not_reach_is_not_chosen():
    job = worked(CENTRE, centre(("6208", "6207"), socket={"taper": "Morse 6"}))
    assert job.value("retention.style") == "nut"
    assert "key's reach" in job.one("retention").advice


def test_a_screw_hole_stays_out_of_a_thin_nose():
    job = worked(CENTRE, centre(("6807", "6806"), socket={"taper": "Morse 4"}, passes={"work_diameter": 8}))
    assert job.stops == []


def test_a_solid_shank_where_no_bore_can_be_drilled():
    job = worked(CENTRE, centre(RINGS[0], socket={"taper": "Morse 0"}))
    assert "body.through_bore" not in job.choices.parameters
    assert "through_bore" not in job.tool.parts["body"].by_name


# --- slimmest and shortest ---


@pytest.mark.parametrize(
    ("data", "address", "step"),
    [
        (centre(), "body.barrel_diameter", 1.0),
        (centre(("6003-2RS",)), "body.barrel_diameter", 1.0),
        (centre(cover={"style": "snap ring"}), "body.barrel_diameter", 1.0),
        (centre(("6003-2RS", {"spacer": 4.5}, "6001-2RS")), "body.barrel_length", 0.5),
        (centre(("6003-2RS", {"spacer": 6}, "6003-2RS")), "body.barrel_length", 0.5),
        # 0.25 mm of the overhang is for its own tolerance, 0.5 for the rounding.
        (centre(), "spindle.overhang", 0.75),
        (centre(passes={"holder_width": 20, "tip_ahead": 3}), "spindle.overhang", 0.75),
        (centre(), "passes.clearance", -0.75),
    ],
)
def test_a_step_slimmer_or_shorter_no_longer_passes(data, address, step):
    job = worked(CENTRE, data)
    assert [f.key for f in job.findings if f.severity != "note"] == []
    pinned = {address: round(job.value(address) - step, 3)}
    if address == "passes.clearance":
        pinned["spindle.overhang"] = job.value("spindle.overhang")
    spoilt = of_params(CENTRE, with_changes(job.params, pinned))
    assert [f.key for f in spoilt.findings if f.severity != "note"], pinned


def test_a_stiffer_nose_would_not_let_the_tip_run_off():
    job = worked(CENTRE, centre())
    # 22 mm work less 0.5 mm of air on either side: 21 at most, and no more than the collar.
    assert job.value("spindle.nose_diameter") <= 21.0
    thicker = of_params(
        CENTRE, with_changes(job.params, {"spindle.nose_diameter": job.value("spindle.nose_diameter") + 2})
    )
    assert count_stops(thicker.findings) > 0


def test_rings_are_spread_no_further_than_the_lever_factor_wants():
    job = worked(CENTRE, centre())
    factor = job.one("lever").value
    assert factor <= 3.0 + 1e-9
    shorter = of_params(CENTRE, with_changes(job.params, {"stack.spacer_1": job.value("stack.spacer_1") - 0.5}))
    assert shorter.one("lever").value > 3.0


def test_a_given_barrel_is_filled_with_the_spread_of_its_rings():
    short, long = (worked(CENTRE, centre(body={"barrel_length": length})) for length in (36, 46))
    assert long.value("stack.spacer_1") == pytest.approx(short.value("stack.spacer_1") + 10.0)
    assert long.one("lever").value < short.one("lever").value


# --- a job the reader accepts but that cannot be built ---


@pytest.mark.parametrize(
    ("tables", "place"),
    [
        ({"socket": {"taper": "Morse 7"}}, "socket.taper"),
        ({"spindle": {"point_angle": 20}}, "spindle.point_angle"),
        ({"spindle": {"slim_diameter": 30}}, "spindle.slim_diameter"),
        ({"spindle": {"hold": "flats", "overhang": 6}}, "spindle.hold"),
        ({"retention": {"screw": "M99"}}, "retention.screw"),
        ({"cover": {"style": "snap ring"}, "stack": None}, "cover.style"),
    ],
)
def test_what_cannot_be_built_is_one_clear_fault(tables, place):
    stack = ({"bore": 45, "outside": 85, "width": 19},) if tables.pop("stack", "") is None else ("6003-2RS", "6001-2RS")
    with pytest.raises(InputError) as caught:
        worked(CENTRE, centre(stack, **tables))
    assert [fault.place for fault in caught.value.faults] == [place]
    assert all(fault.rule and fault.cure for fault in caught.value.faults)


def test_without_a_tool_to_pass_nose_and_overhang_must_be_given():
    data = {k: v for k, v in centre().items() if k != "passes"}
    with pytest.raises(InputError, match="say what must pass"):
        worked(CENTRE, data)
    assert worked(CENTRE, {**data, "spindle": {"nose_diameter": 18, "overhang": 12}}).stops == []


def test_a_job_read_twice_is_worked_out_alike():
    assert worked(CENTRE, centre()).choices == of_params(CENTRE, read(CENTRE, centre())).choices
