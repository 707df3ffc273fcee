"""Bearing life, static load and fits against published examples, each named where it is used.

NSK-E1102e: rolling-bearing catalogue E1102e, calculation examples, pages A34 to A36.
TC: open archive of textbook companions (github OJB-Quantum/Python-Textbook-Companions), which re-run the books'
arithmetic; some of its results are wrong and stand here as negative tests.
"""

from __future__ import annotations

import pytest

from generator.reckoning.fit import (
    Deviations,
    clearance_span_mm,
    fit_pressure_mpa,
    inner_ring_share,
    outer_ring_share,
)
from generator.reckoning.life import Factors, equivalent_load_n, factors_at, life_mrev
from generator.reckoning.registry import run
from generator.reckoning.static import static_equivalent_n


def value(name: str, wanted: str, **texts: str) -> float:
    """One number of a calculation worked on texts, as a user gives them."""
    found = run(name, texts).results[wanted]["value"]
    assert isinstance(found, float)
    return found


def test_b1_radial_load_alone() -> None:
    """NSK-E1102e example 1: 6208, 2500 N, 900 rpm: speed factor 0.333, life factor 3.88, about 29 000 h."""
    hours = value("life", "life_h", ring="6208", maker="NSK", radial="2500 N", speed="900 rpm")
    assert hours == pytest.approx(29_206, abs=0.5)
    assert round(hours, -3) == 29_000
    # The catalogue's own way round: life = 500 h x life factor^3, life factor = speed factor x C / P.
    life_factor = (hours / 500) ** (1 / 3)
    assert life_factor == pytest.approx(3.88, abs=0.005)
    over = value("life", "capacity_over_load", ring="6208", maker="NSK", radial="2500 N", speed="900 rpm")
    assert life_factor / over == pytest.approx(0.333, abs=0.0005)


def test_b3_older_6208() -> None:
    """Lecture on antifriction bearings (scribd 365728687): C 22.4 kN, 3.2 kN, 650 rpm: 343 million rev, 8795 h."""
    given = {"c": "22.4 kN", "radial": "3.2 kN", "speed": "650 rpm"}
    assert value("life", "life_mrev", **given) == pytest.approx(343, abs=0.5)
    assert value("life", "life_h", **given) == pytest.approx(8795, abs=0.5)
    assert value("life", "life_h", **{**given, "c": "29.1 kN"}) == pytest.approx(19_283, abs=0.5)


def test_b5_in_pounds() -> None:
    """TC, Wentzell, Machine Design, example 20.1, page 431: C 5050 lb, P 2400 lb, 1750 rpm: 88.73 h."""
    hours = value("life", "life_h", c="5050 lbf", radial="2400 lbf", speed="1750 rpm")
    assert hours == pytest.approx(88.73, abs=0.005)


def test_b8_radial_and_axial_load() -> None:
    """NSK-E1102e example 3: 6208, 2500 and 1000 N, 900 rpm: f0 Fa/C0 0.782, e 0.26, Y 1.67, P 3070 N, 15 800 h."""
    given = {"ring": "6208", "maker": "NSK", "radial": "2500 N", "axial": "1000 N", "speed": "900 rpm"}
    found = {name: held["value"] for name, held in run("life", given).results.items()}
    assert found["relative_axial_load"] == pytest.approx(0.782, abs=0.0005)
    assert found["limit_e"] == pytest.approx(0.2655, abs=0.00005)
    assert found["radial_factor"] == 0.56
    assert found["axial_factor"] == pytest.approx(1.67, abs=0.005)
    assert found["equivalent_load"] == pytest.approx(3070, abs=5)
    assert found["capacity_over_load"] == pytest.approx(9.48, rel=0.01)
    assert found["life_h"] == pytest.approx(15_828, abs=0.5)
    assert (found["life_h"] / 500) ** (1 / 3) == pytest.approx(3.16, abs=0.005)


@pytest.mark.parametrize(("rotation", "load", "life"), [("1", 1450, 57.30), ("1.2", 1590, 43.46)])
def test_b12_factors_from_a_catalogue(rotation: str, load: float, life: float) -> None:
    """TC, Jindal, example 18-2, page 508: C 5590, 1250 and 625 N, X 0.56, Y 1.2: 57.3 and 43.46 million rev."""
    given = {"c": "5590", "radial": "1250", "axial": "625", "x": "0.56", "y": "1.2", "rotation_factor": rotation}
    assert value("life", "equivalent_load", **given) == pytest.approx(load, abs=1e-6)
    assert value("life", "life_mrev", **given) == pytest.approx(life, abs=0.005)


def test_b13_two_steps_on_either_side_of_e() -> None:
    """TC, Jindal, example 18-10, page 513: 227.66 h; the first step lies under e, the second above it."""
    given = {"c": "1430", "e": "0.3795", "y": "1.13", "steps": "2/3, 600, 200, 1440; 1/3, 300, 120, 720"}
    assert value("life", "equivalent_load", **given) == pytest.approx(562.9, abs=0.05)
    assert value("life", "life_h", **given) == pytest.approx(227.66, abs=0.005)
    branch = str(run("life", given).results["branch"]["value"])
    assert branch.index("not above e") < branch.index("step 2") < branch.index("above e 0.380, X Fr")
    factors = Factors(0.3795, 0.56, 1.13)
    assert equivalent_load_n(600.0, 200.0, factors) == 600.0
    assert equivalent_load_n(300.0, 120.0, factors) == pytest.approx(303.6, abs=1e-9)


def test_factors_as_printed_at_the_steps() -> None:
    """NSK-E1102e page B9, and the rule behind the table: at Fa/Fr = e both formulas agree, X + Y e = 1."""
    for ratio, limit, axial in ((0.172, 0.19, 2.30), (1.38, 0.30, 1.45), (6.89, 0.44, 1.00)):
        found = factors_at(ratio)
        assert (found.limit, found.axial) == (pytest.approx(limit), pytest.approx(axial))
        assert found.radial + found.axial * found.limit == pytest.approx(1.0, abs=0.01)


def test_angular_ring_of_40_degrees_is_continuous_at_e() -> None:
    """NSK-E1102e page B51: e 1.14, X 0.35, Y 0.57; at Fa/Fr = 1.14, 0.35 + 0.57 x 1.14 = 0.9998."""
    given = {"ring": "7203B", "radial": "1000 N", "speed": "1000 rpm"}
    below = value("life", "equivalent_load", axial="1140 N", **given)
    above = value("life", "equivalent_load", axial="1140.01 N", **given)
    assert below == 1000.0
    assert above == pytest.approx(999.8, abs=0.05)


def test_roller_life_by_its_own_exponent() -> None:
    """NSK-E1102e appendix 12: speed factor of rollers at 600 rpm 0.420, life 500 h x (fn C/P)^(10/3)."""
    hours = value("life", "life_h", c="20 kN", type="roller", radial="5 kN", speed="600 rpm")
    assert hours == pytest.approx(500 * (0.420 * 4) ** (10 / 3), rel=0.005)
    assert life_mrev(2.0, 1.0) == 8.0


def test_static_load_factors_of_deep_groove_rings() -> None:
    """NSK-E1102e, foot of the tables: P0 = 0.6 Fr + 0.5 Fa, and Fr where that is less."""
    assert static_equivalent_n(1000.0, 2000.0, (0.6, 0.5)) == pytest.approx(1600.0)
    # 0.6 Fr + 0.5 Fa = Fr at Fa = 0.8 Fr: the branch point.
    assert static_equivalent_n(1000.0, 800.0, (0.6, 0.5)) == pytest.approx(1000.0)
    assert static_equivalent_n(1000.0, 700.0, (0.6, 0.5)) == 1000.0


@pytest.mark.parametrize(
    ("size", "hole", "shaft", "hole_um", "shaft_um", "clearance_um"),
    [
        # F1: readme of github WaldekS710/isoFits.
        ("29", "H7", "h7", (21, 0), (0, -21), (0, 42)),
        ("29", "H7", "h8", (21, 0), (0, -33), (0, 54)),
        # F3: TC, Jindal, example 4-2, page 112: 25H7/r6, interference 7 to 41 um; r6 written out as printed.
        ("25", "H7", "+41/+28", (21, 0), (41, 28), (-41, -7)),
        # F5: several public tables of ISO 286-2.
        ("10", "H7", "h6", (15, 0), (0, -9), (0, 24)),
        # The steps of ISO 286 at 18, 30 and 50: the size itself belongs to the step below.
        ("18", "H7", "h6", (18, 0), (0, -11), (0, 29)),
        ("18.1", "H7", "h6", (21, 0), (0, -13), (0, 34)),
        ("30", "H7", "h6", (21, 0), (0, -13), (0, 34)),
        ("30.1", "H7", "h6", (25, 0), (0, -16), (0, 41)),
        ("50", "H7", "h6", (25, 0), (0, -16), (0, 41)),
        ("50.1", "H7", "h6", (30, 0), (0, -19), (0, 49)),
    ],
)
def test_classes_as_printed(
    size: str, hole: str, shaft: str, hole_um: tuple[int, int], shaft_um: tuple[int, int], clearance_um: tuple[int, int]
) -> None:
    found = run("fit", {"size": f"{size} mm", "hole": hole, "shaft": shaft}).results
    assert (found["hole_upper"]["value"], found["hole_lower"]["value"]) == hole_um
    assert (found["shaft_upper"]["value"], found["shaft_lower"]["value"]) == shaft_um
    assert (found["clearance_least"]["value"], found["clearance_most"]["value"]) == clearance_um


def test_wrong_in_print_70h8() -> None:
    """TC, Jindal, example 4-1: H8 at 70 comes out as +13 there (integer division); ISO 286-2 has +46, g7 -10/-40."""
    found = run("fit", {"size": "70 mm", "hole": "H8", "shaft": "-10/-40"}).results
    assert found["hole_upper"]["value"] == 46
    assert (found["clearance_least"]["value"], found["clearance_most"]["value"]) == (10, 86)


def test_wrong_in_print_30_itself() -> None:
    """TC, Jindal, example 4-4: +25/0 and +11/-5 "at 30" belong to 30 to 50; 30 itself has +21/0 and +9/-4."""
    found = run("fit", {"size": "30 mm", "hole": "H7", "shaft": "j6"}).results
    assert (found["hole_upper"]["value"], found["shaft_upper"]["value"], found["shaft_lower"]["value"]) == (21, 9, -4)


def test_ring_on_h6_and_j6() -> None:
    """Maker's table of fits (GBB): shaft 10 to 18, h6: 11 clearance to 8 interference; j6: 3 to 16."""
    for tolerance_class, clearance_most, clearance_least in (("h6", 11, -8), ("j6", 3, -16)):
        found = run("fit", {"ring": "6202", "shaft": tolerance_class}).results
        assert found["on_shaft_clearance_most"]["value"] == clearance_most
        assert found["on_shaft_clearance_least"]["value"] == clearance_least


def test_sleeve_on_sleeve_h3() -> None:
    """TC, Bhavikatti, Strength of Materials, example 8.16, page 348: radii 100/125/150, 30 MPa: 0.189 mm on radius."""
    pressure = fit_pressure_mpa(2 * 0.1894, 250.0, 200.0, 300.0, 200.0, 200.0)
    assert pressure == pytest.approx(30.0, abs=0.05)


def test_raceway_shares_by_the_makers_shorter_formulas() -> None:
    """Bearing catalogues: a raceway takes k (1 - k0^2) / (1 - k^2 k0^2) of the interference, all parts of one steel.

    k is bore over raceway and k0 the bore of the shaft over the seat; in a housing raceway over outside and outside
    over the housing's. Formula from memory (catalogues of several makers).
    """
    for hollow in (0.0, 0.4, 0.8):
        k = 20.0 / 25.4
        assert inner_ring_share(20.0, 25.4, hollow * 20.0) == pytest.approx(
            k * (1 - hollow**2) / (1 - k**2 * hollow**2), rel=1e-12
        )
    h, housing = 41.6 / 47.0, 47.0 / 70.0
    short = h * (1 - housing**2) / (1 - h**2 * housing**2)
    assert outer_ring_share(41.6, 47.0, 70.0) == pytest.approx(short, rel=1e-12)


def test_clearance_span_is_exact() -> None:
    """ISO 286-1, definition of clearance: 25H7/r6 as above, in mm."""
    span = clearance_span_mm(Deviations(0.021, 0.0), Deviations(0.041, 0.028))
    assert (span.least, span.most) == (pytest.approx(-0.041), pytest.approx(-0.007))
