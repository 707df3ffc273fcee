"""The verdict as a whole: order of severity, walls, bar, defaults, and checks that could not run."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from generator.checks import check
from generator.checks.verdict import unchecked
from generator.checks.walls import bar_finding, wall_findings
from generator.description import Choices, Tool
from generator.errors import GeometryError
from generator.findings import Change, Finding, by_severity, count_stops
from tests.helpers import centre, rod, size, tube, worked


def of_one(part):
    return Tool("test", "Test", part.name, {part.name: part}, ())


def kind(inspect):
    return SimpleNamespace(inspect=inspect, order=lambda choices, tool, workshop: ())


def test_stops_come_first_and_the_order_within_stays():
    found = [Finding(code, severity, "a", "t") for code, severity in
             [("n1", "note"), ("s1", "stop"), ("w1", "warn"), ("s2", "stop"), ("n2", "note")]]  # fmt: skip
    assert [f.code for f in by_severity(found)] == ["s1", "s2", "w1", "n1", "n2"]
    assert count_stops(found) == 2


def test_a_change_prints_as_a_line_of_the_job():
    assert str(Change("body.barrel_diameter", 42.5)) == "body.barrel_diameter = 42.5 mm"
    assert str(Change("retention.style", "nut", "")) == "retention.style = nut"


@pytest.mark.parametrize(("bore", "severity", "miss"), [(17.0, "note", 0.0), (18.0, "note", 0.0), (18.6, "stop", 0.3)])
def test_a_wall_thinner_than_a_part_may_have_is_a_stop(bore, severity, miss):
    (found,) = wall_findings(of_one(tube(bore=bore)))
    assert found.severity == severity
    assert found.value == pytest.approx((20 - bore) / 2)
    assert found.miss == pytest.approx(miss)
    assert found.title == "thinnest wall, between outside and bore"


def test_a_part_that_cannot_be_formed_is_a_stop_that_names_the_place():
    (found,) = wall_findings(of_one(tube(bore=21.0)))
    assert (found.code, found.severity, found.address) == ("form", "stop", "rod")
    assert "no wall left" in found.advice


@pytest.mark.parametrize(
    ("kind_name", "across", "code"),
    [("flats", 16.0, None), ("flats", 11.0, "flats_wall"), ("flats", 24.0, "cut"), ("half", 12.0, "cut")],
)
def test_flats_must_meet_metal_and_leave_a_wall(kind_name, across, code):
    draft = rod()
    draft.cylinder("bore", "inside", "rear", "front", size(10.0))
    draft.length("flats/width", "flats_end", "front", -1, size(8.0))
    name = "height" if kind_name == "half" else "across"
    draft.crossing("flats", kind_name, "flats_end", "front", **{name: size(across)})
    stops = [f.code for f in wall_findings(of_one(draft.done())) if f.severity == "stop"]
    assert stops == ([] if code is None else [code])


def test_flats_beside_the_bore_leave_it_alone():
    draft = rod()
    draft.length("depth", "bottom", "rear", 1, size(20.0))
    draft.cylinder("bore", "inside", "rear", "bottom", size(16.0))
    draft.length("flats/width", "flats_end", "front", -1, size(8.0))
    draft.crossing("flats", "flats", "flats_end", "front", across=size(12.0))
    assert [f.code for f in wall_findings(of_one(draft.done()))] == ["wall"]


def test_bought_parts_are_not_judged_by_their_walls():
    job = worked("revolving-centre", centre())
    judged = {f.address for f in job.findings if f.code == "wall"}
    assert judged == {"body", "spindle", "washer", "cover", "spacer_1_inner"}


@pytest.mark.parametrize(("bar", "severity"), [(20.0, "stop"), (20.9, "stop"), (21.0, "note"), (30.0, "note")])
def test_a_bar_must_clean_up(bar, severity):
    choices = Choices()
    choices.decide("bar.diameter", bar, bar, "given")
    (found,) = bar_finding(choices, of_one(rod().done()))
    assert found.severity == severity
    assert found.address == "rod"
    if severity == "stop":
        (change,) = found.changes
        assert change.parameter == "bar.diameter"
        assert float(change.value) >= 21.0


def test_thick_bar_comes_rolled_and_wants_more_of_its_skin_off():
    """2 mm above 50 mm: common practice, no source."""
    choices = Choices()
    choices.decide("bar.diameter", 61.0, 61.0, "given")
    (found,) = bar_finding(choices, of_one(rod(diameter=60.0).done()))
    assert (found.severity, found.limit) == ("warn", "at least 2.0")
    assert "four-jaw" in found.advice


def test_no_bar_named_is_no_finding():
    assert list(bar_finding(Choices(), of_one(rod().done()))) == []


GIVEN = {"work_length": 180, "work_material": "C45", "held": "chuck", "depth": 0.5, "feed": 0.1, "speed": 800,
         "thrust": 400}  # fmt: skip


@pytest.mark.parametrize(
    ("loads", "words"),
    [
        (None, "from a default duty"),
        (GIVEN, "from the given duty"),
        ({"feed": 0.1}, "from a partly given duty"),
        ({k: v for k, v in GIVEN.items() if k != "held"}, "the machine. By default: held."),
    ],
)
def test_what_was_not_checked_is_always_said_and_on_which_duty_loads_rest(loads, words):
    job = worked("revolving-centre", centre(loads=loads) if loads else centre())
    (last,) = [f for f in job.findings if f.code == "not-checked"]
    assert last.advice == unchecked(job.findings)
    assert words in last.advice
    assert "Not checked: shock, unbalance, heat" in last.advice


def test_rings_without_figures_make_it_partly():
    job = worked("revolving-centre", centre(({"bore": 14, "outside": 33, "width": 8.5}, "6001-2RS")))
    assert "reckoned in part from a default duty" in unchecked(job.findings)


def test_a_kind_that_reckons_no_loads_says_so():
    found = check(kind(lambda choices, tool: ()), Choices(), of_one(rod().done()))
    (last,) = [f for f in found if f.code == "not-checked"]
    assert last.advice.startswith("Not checked here: load, speed and thrust")


def test_a_check_that_cannot_run_is_a_stop_and_no_silence():
    def inspect(choices, tool):
        yield Finding("first", "note", "a", "said before it failed")
        message = "rod/bore: no wall left"
        raise GeometryError(message)

    found = check(kind(inspect), Choices(), of_one(rod().done()))
    (lost,) = [f for f in found if f.code == "check-not-run"]
    assert lost.severity == "stop"
    assert "rod/bore: no wall left" in lost.advice


def test_defaults_about_the_machine_are_named_until_they_are_given():
    guessed = {f.address for f in worked("revolving-centre", centre()).findings if f.code == "default"}
    assert guessed == {"socket.quill_face_diameter", "socket.ejector_depth", "socket.ejector_nose_diameter"}
    told = centre(socket={"quill_face_diameter": 42, "ejector_depth": 72, "ejector_nose_diameter": 15})
    assert not [f for f in worked("revolving-centre", told).findings if f.code == "default"]


def test_a_miss_smaller_than_two_microns_is_rounding():
    job = worked("revolving-centre", centre())
    assert all(f.miss == 0.0 or f.miss >= 0.002 for f in job.findings if f.code == "gap")
