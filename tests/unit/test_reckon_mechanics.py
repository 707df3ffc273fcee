"""Shop calculations: arrays agree with single numbers, ranges are kept, branches and words are as intended."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from generator.reckoning import bending, fit, life, seats, static, thrust, truth
from generator.reckoning.amounts import RangeError
from generator.reckoning.beam import Beam, Section, Support, shoulders_of, solve_beam
from generator.reckoning.reactions import Band, joint_band
from generator.reckoning.registry import find, run

DEEP = life.Factors(0.3, 0.56, 1.45)
ARRAYS: list[tuple[Callable[..., Any], tuple[Any, ...]]] = [
    (lambda a: static.static_equivalent_n(600.0, a, (0.6, 0.5)), (0.0, 300.0, 900.0)),
    (lambda a: static.most_axial_n(6000.0, a, (0.6, 0.5), 1.5), (0.0, 3900.0, 4000.0, 4100.0)),
    (lambda a: static.static_safety(6000.0, a), (100.0, 900.0)),
    (lambda a: life.equivalent_load_n(1000.0, a, DEEP), (0.0, 300.0, 301.0)),
    (lambda a: life.life_mrev(9000.0, a), (100.0, 900.0)),
    (lambda a: life.hours_at(a, 900.0), (100.0, 900.0)),
    (lambda a: life.factors_at(a).axial, (0.0, 0.172, 0.782, 3.0, 6.89, 9.0)),
    (lambda a: life.factors_at(a).limit, (0.0, 0.345, 0.5, 9.0)),
    (lambda a: fit.effective_interference_mm(a, 20.0), (-0.01, 0.0, 0.02)),
    (lambda a: fit.inner_ring_share(20.0, a), (24.0, 26.0)),
    (lambda a: fit.outer_ring_share(a, 47.0, 70.0), (38.0, 41.6)),
    (lambda a: fit.clearance_lost_to_warmth_mm(20.0, 47.0, a), (0.0, 10.0)),
    (lambda a: bending.tip_deflection_mm(1000.0, 120.0, a, 19174.0), (0.0, 60.0)),
    (lambda a: bending.second_moment_mm4(a, 5.0), (12.0, 20.0)),
    (lambda a: bending.near_reaction_n(800.0, a, 50.0), (30.0, 70.0)),
    (lambda a: thrust.least_thrust_n(a, 60.0), (0.0, 600.0)),
    (lambda a: thrust.handwheel_pull_n(a, 3.0, 125.0, 0.3), (0.0, 600.0)),
    (lambda a: thrust.warming_used_up_k(a, 40.0, 300.0, 11.5), (100.0, 600.0)),
]


@pytest.mark.parametrize("number", range(len(ARRAYS)))
def test_arrays_agree_with_single_numbers(number: int) -> None:
    work, amounts = ARRAYS[number]
    singles = [work(amount) for amount in amounts]
    assert all(isinstance(single, float) for single in singles)
    assert work(np.array(amounts)) == pytest.approx(np.array(singles), rel=1e-14)


@pytest.mark.parametrize(
    ("work", "told"),
    [
        (lambda: static.static_safety(0.0, 5.0), "static capacity is 0 N; it must be more than 0 N"),
        (lambda: static.static_equivalent_n(np.array([5.0, -2.0]), 0.0, (0.6, 0.5)), "radial load is -2 N"),
        (lambda: static.thrust_static_equivalent_n(5.0, 100.0, 90.0), "radial load on a thrust ring"),
        (lambda: life.life_mrev(100.0, float("nan")), "equivalent load is nan"),
        (lambda: life.hours_at(5.0, 0.0), "speed is 0 rpm"),
        (lambda: thrust.least_thrust_n(5.0, 170.0), "angle of the point is 170 deg; it must be at least 30"),
        (lambda: bending.notch_factor(20.0, 19.0, 5.0), "height of the shoulder over fillet is 0.1"),
        (lambda: bending.second_moment_mm4(10.0, 10.0), "wall around the bore is 0 mm"),
        (lambda: seats.compound_for(0.004), "gap on the diameter is 0.004 mm"),
        (lambda: solve_beam(Beam((Section(50, 10),), (Support(5),), ())), "number of supports is 1"),
        (lambda: solve_beam(Beam((Section(50, 10),), (Support(5), Support(5)), ())), "distance between two"),
    ],
)
def test_ranges_name_value_and_range(work: Callable[[], Any], told: str) -> None:
    with pytest.raises(RangeError, match=told):
        work()


def results(name: str, **texts: str) -> dict[str, Any]:
    return {key: held["value"] for key, held in run(name, texts).results.items()}


def test_lowest_maker_counts_for_a_ring_of_no_known_maker() -> None:
    """Table ring_ratings: 6208 is 17.8 kN by one maker and 17.9 by another."""
    assert results("static", ring="6208", axial="500")["static_capacity"] == 17_800
    assert results("static", ring="6208", maker="NSK", axial="500")["static_capacity"] == 17_900


def test_thrust_is_limited_to_a_share_of_the_static_capacity() -> None:
    """Makers' rule, from memory: half of C0, a quarter for light series and small bores."""
    usual, thin, small = (results("static", ring=name, axial="500") for name in ("6204", "61805", "6201"))
    assert usual["axial_limit_by_rule"] == usual["static_capacity"] / 2
    assert thin["axial_limit_by_rule"] == thin["static_capacity"] / 4
    assert small["axial_limit_by_rule"] == small["static_capacity"] / 4
    assert results("static", ring="6204", axial="4000")["verdict"].startswith("too little: thrust")


def test_limit_by_safety_is_where_the_safety_is_kept() -> None:
    limit = results("static", ring="7203B", radial="900", axial="500")["axial_limit_by_safety"]
    at = results("static", ring="7203B", radial="900", axial=f"{limit:.9f}")
    assert at["safety"] == pytest.approx(1.5, rel=1e-9)


def test_unmatched_rings_do_not_share_thrust() -> None:
    given = {"ring": "7203B", "radial": "500", "axial": "900", "speed": "1000"}
    one, two, pair, tandem = (
        results("life", rings=rings, **given) for rings in ("one", "two unmatched", "matched pair", "matched tandem")
    )
    assert two["life_h"] == one["life_h"]
    # Like loads, 2^0.7 times the capacity: 2^2.1 times the life.
    assert tandem["life_h"] == pytest.approx(2**2.1 * one["life_h"])
    assert "do not share thrust" in run("life", {**given, "rings": "two unmatched"}).validity
    assert pair["dynamic_capacity"] == pytest.approx(1.6245 * one["dynamic_capacity"], rel=1e-4)


def test_beyond_its_range_a_life_says_so() -> None:
    """ISO 281 holds up to half of C; its table of e and Y ends at f0 Fa / C0 = 6.89."""
    heavy = run("life", {"c": "1000 N", "radial": "501 N", "speed": "900"})
    assert "above half of C" in heavy.validity
    pushed = run("life", {"ring": "6204", "radial": "100 N", "axial": "3500 N", "speed": "900"})
    assert "beyond the table" in pushed.validity
    assert "beyond the table" not in run("life", find("life").example).validity


def test_seal_lowers_the_speed_limit() -> None:
    open_ring, sealed = (results("life", ring=name, radial="500", speed="900") for name in ("6204", "6204-2RS"))
    assert sealed["speed_limit"] < open_ring["speed_limit"]
    assert results("life", ring="6204-2RS", radial="500", speed="20000")["speed_verdict"].startswith("too fast by")


def test_equal_steps_are_one_steady_load() -> None:
    steady = results("life", ring="6204", radial="700", axial="250", speed="800")
    steps = results("life", ring="6204", steps="1, 700, 250, 800; 3, 700, 250, 800")
    assert steps["life_h"] == pytest.approx(steady["life_h"], rel=1e-12)


def test_tight_seats_take_clearance_and_warmth_takes_more() -> None:
    cold = results("fit", ring="6204", shaft="k5", hole="K7")
    warm = results("fit", ring="6204", shaft="k5", hole="K7", inner_warmer="8 K")
    assert cold["left_most"] < cold["ring_clearance_most"]
    assert cold["left_least"] < cold["left_likely_least"] < cold["left_likely_most"] < cold["left_most"]
    # 12.5e-6 x (20 + 4 x 47) / 5 x 8 K = 4.16 um.
    assert cold["left_most"] - warm["left_most"] == pytest.approx(4.16, abs=1e-9)


def test_hollow_shaft_and_thin_housing_pass_on_less() -> None:
    solid = results("fit", ring="6204", shaft="k5", hole="M7")
    yielding = results("fit", ring="6204", shaft="k5", hole="M7", shaft_bore="14 mm", housing_outside="52 mm")
    assert yielding["on_shaft_share"] < solid["on_shaft_share"]
    assert yielding["in_housing_share"] < solid["in_housing_share"]


def test_aluminium_housing_loosens_when_warm() -> None:
    """23.5e-6 against 12.5e-6 over 40 K on 47 mm: 20.68 um."""
    cold = results("fit", ring="6204", hole="M7", housing_expansion="23.5")
    warm = results("fit", ring="6204", hole="M7", housing_expansion="23.5", rise="40 K")
    grown = warm["in_housing_clearance_most"] - cold["in_housing_clearance_most"]
    assert grown == pytest.approx(20.68, abs=1e-6)


@pytest.mark.parametrize(
    ("turning", "load", "shaft", "housing"),
    [
        ("inner", "fixed", "k5", "J7"), ("outer", "fixed", "h6", "N7"), ("inner", "turning", "h6", "N7"),
        ("outer", "turning", "k5", "J7"), ("inner", "indeterminate", "k5", "K7"),
    ],
)
def test_the_ring_that_turns_under_the_load_is_held(turning: str, load: str, shaft: str, housing: str) -> None:
    """Bearing makers' rule: circumferential load wants interference, point load may be loose."""
    found = results("seats", ring="6204", turning=turning, load=load)
    assert (found["shaft"], found["housing"]) == (shaft, housing)
    if load != "indeterminate":
        held = "shaft" if shaft == "k5" else "housing"
        assert "creeps unless it is held" in found[f"{held}_reason"]


def test_the_ring_that_must_slide_is_loose() -> None:
    assert results("seats", ring="6204", slides="housing")["housing"] == "H7"
    assert results("seats", ring="6204", turning="outer", slides="shaft")["shaft"] == "g6"


def test_heavy_by_its_share_of_the_capacity() -> None:
    words = [results("seats", ring="6204", force=force)["weight"] for force in ("500 N", "1000 N", "3000 N")]
    assert words == ["light", "normal", "heavy"]


def test_compound_fills_the_gap() -> None:
    for gap in ("60 um", "120 um", "200 um", "400 um"):
        found = results("seats", ring="6204", gap=gap)
        assert found["compound_gap"] >= float(gap.split()[0])


def test_band_of_the_taper_joint_is_a_share_of_the_whole() -> None:
    others = Band(0.02, 0.04)
    joint = joint_band(others)
    assert joint.low / (joint.low + others.low) == pytest.approx(0.1)
    assert joint.high / (joint.high + others.high) == pytest.approx(0.5)


def test_springs_on_a_stiff_spindle_are_levers() -> None:
    """Statics: near ring sinks F (L + a) / L / k, far ring rises F a / L / k; the point sees both by their levers."""
    found = results("reactions", span="60 mm", overhang="40 mm", force="600 N", diameter="900 mm", stiffness="30 N/um")
    rigid = 600 / 30_000 * ((100 / 60) ** 2 + (40 / 60) ** 2)
    assert found["deflection_at_point"] == pytest.approx(rigid, rel=1e-4)
    assert found["from_rings_low"] == found["from_rings_high"] == pytest.approx(rigid, rel=1e-4)


def test_sum_of_causes() -> None:
    found = results(
        "reactions", span="60 mm", overhang="40 mm", force="600 N", diameter="20 mm",
        quill_out="40", quill_diameter="45", head="90",
    )
    for end in ("low", "high"):
        parts = sum(found[f"from_{name}_{end}"] for name in ("spindle", "rings", "quill", "joint"))
        assert found[f"whole_{end}"] == pytest.approx(parts, rel=1e-12)


def test_shoulders_take_the_small_side() -> None:
    found = shoulders_of((Section(10, 17, 4, 0.5), Section(5, 20, 6, 1.0), Section(5, 20), Section(9, 16)))
    assert [(one.place_mm, one.small_mm, one.large_mm, one.bore_mm, one.fillet_mm) for one in found] == [
        (10, 17, 20, 4, 0.5), (20, 16, 20, 0, 0),
    ]


def test_point_finished_in_its_own_bearings_runs_nearly_true() -> None:
    given = {"overhang": "52 mm", "span": "44 mm", "front_ring": "6004", "rear_ring": "6203"}
    built, ground = results("truth", **given), results("truth", finished_in_bearings="yes", **given)
    assert built["runout_worst"] > 50
    assert ground["runout_worst"] == 2.0
    assert ground["offset_worst"] == built["offset_worst"]
    assert ground["lost_motion_worst"] == built["lost_motion_worst"]


def test_contributors_come_largest_first() -> None:
    found = truth.total_of_errors([truth.Contributor("a", 0, 3, 1), truth.Contributor("b", 0, 4, -1)])
    assert (found.worst_um, found.likely_um) == (7, 5)
    assert found.words == "b 4.0, a 3.0"
    moved = truth.total_of_clearances([truth.Contributor("a", 2, 8, 1), truth.Contributor("b", 1, 9, 1)])
    assert (moved.worst_um, moved.likely_um) == (17, 15)


def test_preload_leaves_only_loose_seats() -> None:
    given = {"overhang": "50 mm", "span": "50 mm", "front_ring": "6004", "rear_ring": "6203", "preloaded": "yes"}
    assert results("truth", **given)["lost_motion_worst"] == 0
    assert results("truth", rear_seat_clearance="12", **given)["lost_motion_worst"] == 12


def test_thrust_window_closes() -> None:
    assert results("thrust", radial="600", ring="6204")["window"] == "346 to 3300 N"
    assert results("thrust", radial="6000", angle="90", ring="6000")["window"].startswith("none")
    assert results("thrust", radial="600", set="200", ring="6204")["window"].startswith("the thrust set lies outside")


def test_warming_uses_up_the_margin() -> None:
    found = results("thrust", radial="600", most="2000", set="800", length="300", stiffness="40 N/um")
    force = 40 * thrust.growth_um(300, 11.5, found["warming_least"])
    assert force == pytest.approx(1200, rel=1e-9)
