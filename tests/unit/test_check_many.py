"""The fast checks over arrays of candidates say of each what a single check says of it."""

from __future__ import annotations

import numpy as np
import pytest

from generator.checks import chains
from generator.checks.duty import duty_of
from generator.checks.many import FAST, Candidates, RatedRing, access_gap_mm, check_many, vary
from generator.checks.spindle import spindle_of
from generator.description import nominal_positions
from generator.fittings.access import Passing, passing_of
from tests.helpers import CENTRE, centre, worked

GIVEN = {"work_length": 180, "work_material": "C45", "held": "chuck", "depth": 0.5, "feed": 0.1, "speed": 800,
         "thrust": 400}  # fmt: skip
THRUSTS = np.array([400.0, 400.0, 3000.0, 50.0])
DEPTHS = np.array([1.0, 9.0, 1.0, 1.0])


@pytest.fixture(scope="module")
def single():
    return worked(CENTRE, centre(loads=GIVEN))


@pytest.fixture(scope="module")
def several(single):
    duty = duty_of(single.choices, 30.0)
    spindle = spindle_of(single.choices, single.tool, nominal_positions(single.tool))
    rated = []
    for held in spindle.rings:
        assert held.rating is not None
        rated.append(RatedRing(held.rating.dynamic_n, held.rating.static_n, held.rating.f0, held.ring.bore_mm <= 12))
    size = single.choices.sizes
    of = Candidates(
        spindle.arm_mm, spindle.span_mm, 17.0, duty.radial_n * DEPTHS, duty.worst_radial_n * DEPTHS, THRUSTS, 800.0,
        *rated, wall_pairs=((size["body/barrel"].low, size["body/cover_recess"].high),),
        obstacles=((size["body/recess_depth"].nominal_mm, size["body/barrel"].nominal_mm / 2),),
        face_mm=nominal_positions(single.tool)["work/mouth"] - nominal_positions(single.tool)["cover/rear"],
        passing=passing_of(single.choices),
    )  # fmt: skip
    return check_many(single.kind, single.choices, of)


def test_the_named_checks_are_all_there(several):
    names = {"gaps" if name.startswith("gap ") else name for name in several.values}
    assert names == set(FAST)


def test_figures_are_those_of_a_single_check(single, several):
    safety = min(f.value for f in single.findings if f.code == "static")
    hours = min(f.value for f in single.findings if f.code == "life")
    assert several.values["static"][0] == pytest.approx(safety, rel=1e-3)
    assert several.values["life"][0] == pytest.approx(hours, rel=1e-3)
    assert several.values["lever"] == pytest.approx(single.one("lever").value, rel=1e-2)


@pytest.mark.parametrize(("check", "passes"), [
    ("static", [True, False, True, True]), ("thrust", [True, False, False, False]),
])  # fmt: skip
def test_spoilt_candidates_fail_by_themselves(several, check, passes):
    assert several.passes[check].tolist() == passes
    assert several.all_pass.tolist() == [True, False, False, False]


def test_gaps_of_varied_sizes_are_those_of_each_alone(single):
    overhangs = np.array([8.0, 14.5, 20.0])
    bores = np.array([19.0, 19.6, 20.8])
    rings = [RatedRing(6000.0, 3250.0, 14.4)] * 2
    load = Candidates(30.0, 15.0, 17.0, 100.0, 150.0, 400.0, 800.0, *rings, wall_pairs=((40.0, 30.0),))
    both = check_many(
        single.kind, vary(single.choices, {"spindle/overhang": overhangs, "cover/bore": bores}), load
    )
    for number, bore in enumerate(bores.tolist()):
        alone = vary(single.choices, {"spindle/overhang": float(overhangs[number]), "cover/bore": bore})
        result = chains(single.kind.build(alone))["cover_collar"]
        gap = result.gap
        miss = max(gap.least_mm - result.low_mm, result.high_mm - gap.most_mm, 0.0)
        assert np.broadcast_to(both.values["gap cover_collar"], (3,))[number] == pytest.approx(miss)


@pytest.mark.parametrize(
    ("front", "radius", "gap"),
    [
        (0.0, 10.0, (23.0**2 + 7.0**2) ** 0.5),  # apart both ways: corner to corner
        (30.0, 15.0, 2.0),  # under the holder, 17 is its front
        (20.0, 30.0, 3.0),  # beside its tailstock flank
        (26.0, 20.0, -3.0),  # in it: 3 mm out along either way
    ],
)
def test_access_by_hand(front, radius, gap):
    passing = Passing(16.0, 6.0, 1.0, 7.0, 22.0, 0.0, 0.5)
    # Tip at 40: holder from 23 to 39, front at radius 17; insert from 33, radius 11.
    found = access_gap_mm(passing, 40.0, front, radius)
    assert found == pytest.approx(gap)
