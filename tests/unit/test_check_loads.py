"""Checks of loads, rings, fits, strength and truth: each is there, goes wrong when spoilt, is mended by its change."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from generator.checks import advise
from generator.checks.advice import with_changes
from generator.checks.duty import duty_of
from generator.checks.spindle import spindle_of
from generator.description import nominal_positions
from generator.errors import InputError
from generator.reckoning.registry import run
from generator.reckoning.static import static_equivalent_n, static_safety
from tests.helpers import CENTRE, Worked, centre, of_params, read, worked

DEAD = "dead-centre"
GIVEN = {
    "work_length": 180, "work_material": "C45", "held": "chuck", "depth": 0.5, "feed": 0.1, "speed": 800, "thrust": 400,
}  # fmt: skip


def job(**loads: Any) -> Worked:
    """The small centre of the tests with a duty given in full, but for what is changed (None: left out)."""
    kept = {key: value for key, value in {**GIVEN, **loads}.items() if value is not None}
    return worked(CENTRE, centre(loads=kept))


def dead(loads: dict[str, Any] | None = None, **point: Any) -> Worked:
    duty = {**GIVEN, **(loads or {})}
    return worked(DEAD, {"socket": {"taper": "Morse 3"}, "point": {"work_diameter": 14, **point}, "loads": duty})


# --- what is there, and in which order ---

PROMISED = {
    "duty", "static", "thrust", "wall", "fit_inner", "fit_outer", "clearance_left", "collar", "play", "sealing",
    "assembly", "dismantling", "screw", "stripping", "point", "pressure", "access", "life", "strength", "lever",
    "deflection", "offset", "runout", "lost_motion", "grip", "speed",
}  # fmt: skip


def test_a_sound_centre_gets_every_check_and_none_complains():
    found = job().findings
    assert {f.code for f in found} >= PROMISED
    assert [f.key for f in found if f.severity != "note"] == []
    assert not [f.code for f in found if f.code.endswith("-not-run")]


def test_static_load_and_thrust_come_first():
    codes = [f.code for f in job().findings]
    assert codes[:4] == ["duty", "static", "static", "thrust"]
    assert codes.index("life") > codes.index("fit_inner") > codes.index("wall")


def test_a_dead_centre_gets_what_applies_to_it():
    codes = {f.code for f in dead(form="half", centre_hole=5).findings}
    assert codes >= {"thrust", "pressure", "rubbing", "grip", "half_strength"}
    assert not codes & {"static", "life", "fit_inner", "offset"}


def test_no_figure_is_called_a_rating():
    words = " ".join(f"{f.title} {f.advice}" for f in (*job().findings, *dead(form="half").findings)).lower()
    assert "no rating" in words
    assert "rating" not in words.replace("no rating", "")
    assert "rated" not in words.replace("separated", "")


# --- what goes wrong when it is spoilt, and what mends it ---

SPOILT: dict[str, tuple[dict[str, Any], str, str, str | None]] = {
    "static": ({"depth": 3.0, "feed": 0.3}, "static", "stop", "loads.depth"),
    "thrust too low": ({"thrust": 100}, "thrust", "stop", "loads.thrust"),
    "thrust too high": ({"thrust": 3000}, "thrust", "warn", "loads.thrust"),
    "no window": ({"depth": 3.0, "feed": 0.3}, "thrust", "stop", "loads.depth"),
    "life": ({"life": 90000}, "life", "warn", None),
    "speed beyond the seals": ({"speed": 16000}, "speed", "warn", "loads.speed"),
    "speed beyond the ring": ({"speed": 30000}, "speed", "stop", "loads.speed"),
    "strength": ({"depth": 1.5, "feed": 0.1}, "strength", "warn", "loads.depth"),
    "pressure": ({"depth": 3.0, "feed": 0.3}, "pressure", "warn", "passes.centre_hole"),
    "deflection": ({"deflection": 0.1}, "deflection", "warn", None),
    "offset": ({"offset": 0.01}, "offset", "warn", None),
    "run-out": ({"runout": 0.001}, "runout", "warn", None),
    "lost motion": ({"lost_motion": 0.01}, "lost_motion", "warn", None),
    "safety": ({"safety": 6.0}, "static", "warn", None),
    "seat": ({"depth": 1.5, "feed": 0.15}, "fit_inner", "warn", "spindle.seat_fit"),
}


@pytest.mark.parametrize("name", SPOILT)
def test_a_spoilt_duty_is_found(name):
    loads, code, severity, _ = SPOILT[name]
    found = [f for f in job(**loads).findings if f.code == code]
    assert severity in {f.severity for f in found}
    assert all(f.miss > 0 for f in found if f.severity != "note")


@pytest.mark.parametrize("name", [name for name, row in SPOILT.items() if row[3]])
def test_its_change_mends_it(name):
    loads, code, _, parameter = SPOILT[name]
    before = job(**loads)
    advised = advise(before.kind, before.params, before.findings)  # type: ignore[arg-type]
    changed = [f for f in advised if f.code == code and f.severity != "note" and f.changes]
    assert changed
    for found in changed:
        assert found.changes[0].parameter == parameter
        after = of_params(CENTRE, with_changes(before.params, {c.parameter: c.value for c in found.changes}))
        assert [f for f in after.findings if f.key == found.key and f.severity != "note"] == []
        assert set(after.stops) <= set(before.stops)


@pytest.mark.parametrize(
    ("tables", "code"),
    [
        ({"cover": {"gap": 0.6}}, "sealing"), ({"body": {"through_bore": 6.5}}, "dismantling"),
        ({"retention": {"screw_length": 6}}, "stripping"), ({"bar": {"diameter": 45, "length": 120}}, "bar_length"),
    ],
)  # fmt: skip
def test_a_spoilt_part_is_found(tables, code):
    found = [f for f in worked(CENTRE, centre(loads=GIVEN, **tables)).findings if f.code == code]
    assert [f.severity for f in found if f.severity != "note"]


@pytest.mark.parametrize(
    ("loads", "point", "code", "severity"),
    [
        ({"thrust": 50}, {}, "thrust", "stop"), ({"thrust": 9000}, {}, "thrust", "warn"),
        ({"speed": 1500}, {}, "rubbing", "warn"), ({"depth": 2.0, "feed": 0.3}, {}, "pressure", "warn"),
        ({"depth": 2.0, "feed": 0.3}, {"form": "half"}, "half_strength", "warn"),
    ],
)  # fmt: skip
def test_a_spoilt_dead_centre_is_found(loads, point, code, severity):
    assert dead(loads, **point).one(code).severity == severity


def test_open_rings_want_a_narrower_gap_than_sealed_ones():
    for ring, gap, severity in (("6003", 0.3, "warn"), ("6003-2RS", 0.3, "note"), ("6003-ZZ", 0.4, "warn")):
        found = worked(CENTRE, centre((ring, "6001-2RS"), cover={"gap": gap})).one("sealing")
        assert found.severity == severity, ring


# --- defaults, and what could not run ---


def test_what_nobody_gave_is_named_as_a_default():
    duty = worked(CENTRE, centre()).one("duty-default")
    for word in ("work length", "depth", "feed", "speed", "work material", "thrust"):
        assert word in duty.advice
    one = job(speed=None).one("duty-default")
    assert "Defaults, for want of yours in [loads]: speed." in one.advice


def test_a_default_duty_never_stops_a_job():
    small = worked(CENTRE, centre(("688", "688"), socket={"taper": "Morse 0"}))
    assert {f.severity for f in small.findings if f.code == "static"} == {"warn"}
    assert small.stops == []


def test_the_taper_decides_no_load():
    figures = []
    for taper in ("Morse 2", "Morse 3", "Morse 4"):
        found = worked(CENTRE, centre(socket={"taper": taper}))
        figures.append([f.value for f in found.findings if f.code in {"static", "life", "thrust"}])
    assert figures[0] == figures[1] == figures[2]


def test_without_work_there_is_no_duty_but_fits_all_the_same():
    data = centre(spindle={"nose_diameter": 18, "overhang": 12})
    del data["passes"]
    found = worked(CENTRE, data)
    assert "give loads.work_diameter" in found.one("duty").advice
    codes = {f.code for f in found.findings}
    assert codes >= {"fit_inner", "clearance_left", "offset", "screw"}
    assert not codes & {"static", "thrust", "life"}
    assert worked(CENTRE, {**data, "loads": {"work_diameter": 22}}).one("static", "ring_1").value is not None


def test_a_ring_of_no_known_figures_says_what_to_give():
    found = worked(CENTRE, centre(({"bore": 14, "outside": 33, "width": 8.5}, "6001-2RS")))
    for code in ("static-not-run", "life-not-run"):
        assert "name the bearing by a designation" in found.one(code, "ring_1").advice
    assert found.one("static", "ring_2").severity == "note"


def test_one_bearing_leaves_the_beam_unsolved_and_says_so():
    found = worked(CENTRE, centre(({"ring": "6003-2RS", "count": 1},)))
    assert "number of supports" in found.one("spindle-not-run").advice
    assert found.one("screw").value is not None


def test_a_material_without_cutting_forces_is_refused_with_the_nearest():
    with pytest.raises(InputError, match="no cutting force is known for this material"):
        job(work_material="C46X")


@pytest.mark.parametrize("key", ["depth", "feed", "speed", "thrust", "work_length", "work_mass"])
def test_nothing_of_the_duty_may_be_zero(key):
    with pytest.raises(ValidationError, match="must be more than zero"):
        read(CENTRE, centre(loads={key: 0}))


def test_loads_carry_their_units():
    params = read(CENTRE, {"socket": {"taper": "Morse 3"}, "stack": [{"ring": "6003"}],
                           "loads": {"depth": "20 thou", "thrust": "50 lbf", "work_mass": "2 lb", "feed": 0.004}}, "in")
    assert params.loads.depth == pytest.approx(0.508)
    assert params.loads.feed == pytest.approx(0.1016)
    assert params.loads.thrust == pytest.approx(222.41, abs=0.01)
    assert params.loads.work_mass == pytest.approx(0.9072, abs=1e-4)


# --- figures equal to the shop calculations ---


def parts_of(found: Worked):
    duty = duty_of(found.choices, found.choices.facts["point_half_deg"])
    assert duty is not None
    return duty, spindle_of(found.choices, found.tool, nominal_positions(found.tool))


def test_rings_bear_what_statics_says_and_static_safety_is_the_shop_calculation():
    found = job()
    duty, spindle = parts_of(found)
    arm, span = spindle.arm_mm, spindle.span_mm
    assert spindle.borne_n(spindle.rings[0], 100.0) == pytest.approx(100 * (arm + span) / span)
    assert spindle.borne_n(spindle.rings[1], 100.0) == pytest.approx(100 * arm / span)
    front = duty.worst_radial_n * (arm + span) / span
    assert found.one("static", "ring_1").value == pytest.approx(
        static_safety(3250.0, static_equivalent_n(front, 400.0, (0.6, 0.5))), rel=1e-3
    )


def test_life_is_the_shop_calculation():
    found = job()
    duty, spindle = parts_of(found)
    radial = spindle.borne_n(spindle.rings[0], duty.radial_n)
    result = run("life", {"ring": "6003-2RS", "radial": f"{radial:.4f} N", "axial": "400 N", "speed": "800 rpm"})
    assert found.one("life", "ring_1").value == pytest.approx(result.results["life_h"]["value"], rel=1e-3)


def test_clearance_left_is_the_shop_calculation():
    found = job()
    barrel = found.choices.sizes["body/barrel"].nominal_mm
    result = run("fit", {"ring": "6003-2RS", "shaft": "j6", "hole": "J7", "housing_outside": f"{barrel} mm"}).results
    left = found.one("clearance_left", "ring_1")
    assert left.worst_low == pytest.approx(result["left_least"]["value"], rel=1e-3)
    assert left.worst_high == pytest.approx(result["left_most"]["value"], rel=1e-3)
    middle = (result["left_likely_least"]["value"] + result["left_likely_most"]["value"]) / 2
    assert left.value == pytest.approx(middle, rel=1e-3)


def test_thrust_least_is_the_shop_calculation():
    found = job(thrust=None)
    duty, _ = parts_of(found)
    result = run("thrust", {"radial": f"{duty.worst_radial_n:.6f} N"}).results
    assert duty.least_thrust_n == pytest.approx(result["thrust_least"]["value"])
    assert found.one("thrust").value == pytest.approx(1.5 * duty.least_thrust_n, rel=1e-3)


def test_a_pull_at_the_handwheel_is_a_band_of_thrust():
    duty, _ = parts_of(job(thrust=None, pull=20, screw_lead=4, handwheel_diameter=125))
    # 2 pi r pull efficiency / lead with efficiency 0.25 to 0.35.
    assert duty.thrust_low_n == pytest.approx(3.14159265 * 125 * 20 * 0.25 / 4)
    assert duty.thrust_high_n == pytest.approx(3.14159265 * 125 * 20 * 0.35 / 4)


def test_work_between_centres_weighs_more_on_the_point():
    heavy = {"work_mass": 40.0, "depth": 0.05, "feed": 0.02}
    chuck, _ = parts_of(job(**heavy))
    centres, _ = parts_of(job(**heavy, held="centres"))
    # Standing still is the worst here. Beam tables (from memory): a prop bears 5/16 of an even load on a beam held at
    # its other end, and half of it on a beam that rests on two props.
    assert chuck.worst_radial_n == pytest.approx(5 / 16 * 40 * 9.80665)
    assert centres.worst_radial_n == pytest.approx(0.5 * 40 * 9.80665)


def test_thrust_and_the_pull_that_sets_it_exclude_each_other():
    with pytest.raises(InputError, match="both given"):
        job(pull=20)


def test_accuracy_and_clearance_of_the_rings_reach_fits_and_play():
    normal, better = job(), job(accuracy="P5", clearance="C3")
    assert better.choices.sizes["ring_1/bore"].lower_mm > normal.choices.sizes["ring_1/bore"].lower_mm
    assert better.one("clearance_left", "ring_1").value > normal.one("clearance_left", "ring_1").value + 5
    assert better.choices.sizes["ring_1/play"].upper_mm > normal.choices.sizes["ring_1/play"].upper_mm
    named = worked(CENTRE, centre(("6003-2RS/C3", "6001-2RS"), loads=GIVEN))
    assert named.one("clearance_left", "ring_1").value > normal.one("clearance_left", "ring_1").value + 5


def test_a_clearance_outside_the_tables_is_refused_with_what_is_covered():
    with pytest.raises(InputError, match="known: C2, CN, C3"):
        worked(CENTRE, centre(("6003-2RS/C4", "6001-2RS")))
