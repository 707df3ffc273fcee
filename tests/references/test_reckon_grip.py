"""Grip of a taper against published worked examples, each named where it is used."""

from __future__ import annotations

import math

import numpy as np
import pytest

from generator.reckoning import grip
from generator.reckoning.amounts import RangeError
from generator.reckoning.registry import run
from generator.tables import morse

POUND_INCH_N_MM = 4.4482216152605 * 25.4


@pytest.mark.parametrize(("half", "printed", "formula_b"), [(20.0, 234.75, 460.5), (10.0, 303.86, 907.0)])
def test_k1_cone_clutch_engaged(half: float, printed: float, formula_b: float) -> None:
    """E. Wentzell, Machine Design, ex. 16.3, p. 360: mu 0.35, mean radius 6 in, 75 lb; last printed digit.

    The values of formula B stand beside them as what must not come out.
    """
    torque = grip.torque_from_seating_n_mm(75 * 4.4482216152605, 12 * 25.4, half, 0.35) / POUND_INCH_N_MM
    assert torque == pytest.approx(printed, abs=0.005)
    other = grip.torque_under_thrust_n_mm(75 * 4.4482216152605, 12 * 25.4, half, 0.35) / POUND_INCH_N_MM
    assert other == pytest.approx(formula_b, rel=2e-4)


def test_k3_cone_clutch_running() -> None:
    """Khurmi and Gupta, Machine Design, ex. 10.34, p. 316: mean dia 75, 15 deg, mu 0.3, 180 N: 7.8 N m."""
    torque = grip.torque_under_thrust_n_mm(180.0, 75.0, 15.0, 0.3) / 1000
    assert torque == pytest.approx(7.8, abs=0.05)
    assert torque == pytest.approx(7.824, abs=0.0005)


@pytest.mark.parametrize(
    ("number", "mean", "a", "b", "release"), [(2, 16.18, 6.70, 38.9, 655.0), (3, 21.79, 9.01, 52.1, 654.0)]
)
def test_k7_morse_tapers(number: int, mean: float, a: float, b: float, release: float) -> None:
    """Derived by hand from the two formulas for a push of 1000 N and mu 0.12; no published Morse example is known."""
    row = morse(number)
    found = grip.mean_diameter_mm(row.gauge_diameter_mm, row.gauge_diameter_mm - row.plain_length_mm / row.ratio)
    assert found == pytest.approx(mean, abs=0.005)
    half = row.half_angle_deg
    assert grip.torque_from_seating_n_mm(1000.0, found, half, 0.12) / 1000 == pytest.approx(a, abs=0.005)
    assert grip.torque_under_thrust_n_mm(1000.0, found, half, 0.12) / 1000 == pytest.approx(b, abs=0.05)
    assert grip.release_force_n(1000.0, half, 0.12) == pytest.approx(release, abs=0.5)


def test_one_force_in_both_formulas() -> None:
    """The K7 figures as the command gives them; a force that is not there leaves its formula out."""
    found = run("grip", {"taper": "Morse 3", "force": "1000 N", "friction": "0.12"}).results
    assert found["torque_a_low"]["value"] == pytest.approx(9.01, abs=0.005)
    assert found["torque_b_low"]["value"] == pytest.approx(52.1, abs=0.05)
    assert found["applies"]["value"].startswith("A if the force only seated")
    assert found["torque_held_low"]["value"] == found["torque_a_low"]["value"]
    assert "torque_b_low" not in run("grip", {"taper": "Morse 3", "seated": "1000 N"}).results


def test_common_figures_of_the_trade() -> None:
    """1000 N on a mean diameter of 22 hold about 9 N m; release takes 0.52 to 0.72 of the push for mu 0.08 to 0.16.

    Worked by hand from the balance of forces.
    """
    half = morse(3).half_angle_deg
    assert grip.torque_from_seating_n_mm(1000.0, 22.0, half, 0.12) / 1000 == pytest.approx(9.0, abs=0.15)
    assert grip.release_force_n(1.0, half, 0.08) == pytest.approx(0.52, abs=0.005)
    assert grip.release_force_n(1.0, half, 0.16) == pytest.approx(0.72, abs=0.01)


def test_balance_of_forces_by_vectors() -> None:
    """Independent of the formulas: normal and friction on one generator added as vectors give the axial push."""
    half, friction, push = math.radians(5.0), 0.2, 700.0
    torque = grip.torque_from_seating_n_mm(push, 30.0, 5.0, friction)
    normal = torque / (friction * 15.0)
    axial = normal * math.sin(half) + friction * normal * math.cos(half)
    assert axial == pytest.approx(push)
    assert friction * normal * math.cos(half) - normal * math.sin(half) == pytest.approx(
        grip.release_force_n(push, 5.0, friction)
    )


def test_which_formula_applies() -> None:
    thrust = run("grip", {"taper": "Morse 3", "seated": "500 N", "thrust": "800 N", "friction": "0.12"}).results
    assert thrust["applies"]["value"].startswith("B")
    assert thrust["torque_held_low"]["value"] == pytest.approx(thrust["torque_b_low"]["value"])
    tapped = run("grip", {"taper": "Morse 3", "seated": "500 N", "friction": "0.12"}).results
    assert tapped["applies"]["value"].startswith("A")
    steep = run("grip", {"mean_diameter": "40", "half_angle": "12 deg", "thrust": "300 N", "friction": "0.15"}).results
    assert steep["applies"]["value"].startswith("B only")
    assert "torque_held_low" not in steep


def test_friction_range_of_the_table_is_carried() -> None:
    dry = run("grip", {"taper": "Morse 2", "seated": "1 kN"}).results
    oiled = run("grip", {"taper": "Morse 2", "seated": "1 kN", "surface": "oiled"}).results
    assert dry["torque_a_low"]["value"] < dry["torque_a_high"]["value"]
    assert oiled["torque_a_low"]["value"] < dry["torque_a_low"]["value"]


def test_seating_needed_closes_the_circle() -> None:
    push = grip.seating_needed_n(12000.0, 21.79, 1.4377, 0.12)
    assert grip.torque_from_seating_n_mm(push, 21.79, 1.4377, 0.12) == pytest.approx(12000.0)


def test_arrays_and_ranges() -> None:
    pushes = np.array([0.0, 500.0, 1000.0])
    held = grip.grip_under(pushes, 200.0, 21.79, 1.4377, 0.12).held_n_mm
    assert held.shape == (3,)
    assert held[2] == pytest.approx(grip.grip_under(1000.0, 200.0, 21.79, 1.4377, 0.12).held_n_mm)
    with pytest.raises(RangeError, match="holds itself"):
        grip.release_force_n(100.0, 10.0, 0.1)
    with pytest.raises(RangeError, match=r"friction coefficient is 0; it must be more than 0"):
        grip.torque_from_seating_n_mm(100.0, 20.0, 1.4, 0.0)
