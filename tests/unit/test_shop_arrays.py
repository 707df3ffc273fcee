"""Arrays go through the shop functions as single numbers do, branches included; values out of range are refused."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from generator.reckoning import cutting, grip, mass, screw, set_over, speed, taper_shop, thermal
from generator.reckoning.amounts import RangeError

STEEL = (210e3, 0.3)

# A function of one varied amount, and amounts on both sides of its branches.
CASES: dict[str, tuple[Callable[..., float], tuple[float, ...]]] = {
    "torque by A": (lambda x: grip.torque_from_seating_n_mm(1000.0, 22.0, x, 0.12), (1.0, 1.44, 3.0)),
    "torque by B": (lambda x: grip.torque_under_thrust_n_mm(x, 22.0, 1.44, 0.12), (0.0, 500.0)),
    "torque held": (lambda x: grip.grip_under(x, 200.0, 22.0, 1.44, 0.12).held_n_mm, (100.0, 1000.0, 1400.0)),
    "release": (lambda x: grip.release_force_n(1000.0, 1.44, x), (0.08, 0.12, 0.2)),
    "stress area": (lambda x: screw.stress_area_mm2(x, 1.5), (10.0, 16.0)),
    "torque with friction": (lambda x: screw.torque_n_mm(5000.0, 1.5, 9.0, 13.0, x), (0.08, 0.14)),
    "combined stress": (lambda x: screw.combined_stress_mpa(x, 100.0), (0.0, 400.0)),
    "shear area": (lambda x: screw.inner_shear_area_mm2_per_mm(x, 9.2, 1.5), (9.7, 9.97)),
    "over wires": (lambda x: screw.size_over_wires_mm(18.376, 2.5, x), (1.4, 1.6)),
    "specific force": (lambda x: cutting.specific_force_mpa(2220.0, 0.14, x), (0.05, 0.4)),
    "chip": (lambda x: cutting.chip_thickness_mm(0.2, x), (45.0, 93.0)),
    "depth force": (lambda x: cutting.turning_forces(500.0, 0.5, 0.3, x).depth_n, (30.0, 60.0, 90.0)),
    "finish": (lambda x: cutting.finish_height_um(x, 0.4, 10.0), (0.05, 0.13, 0.14, 0.4)),
    "feed for finish": (lambda x: cutting.feed_for_finish_mm(x, 0.4, 10.0), (1.0, 50.0)),
    "drill": (lambda x: cutting.drilling_thrust_n(2000.0, 0.1, x), (3.0, 10.0)),
    "radial load": (
        lambda x: cutting.tailstock_load_n(
            cutting.Forces(500.0, 250.0, 200.0), x, 30.0, tool_share=1.0, weight_share=0.5, between_mm=300.0
        ).radial_n,
        (0.0, 40.0, 2000.0),
    ),
    "growth": (lambda x: thermal.growth_mm(300.0, x, 11.5), (-20.0, 30.0)),
    "true reading": (lambda x: thermal.true_reading_mm(40.0, x, 11.5, 20.0, 11.5), (0.0, 45.0)),
    "cooling": (lambda x: thermal.cooling_min(10.0, x, 20.0, 21.0), (30.0, 120.0)),
    "pressure": (lambda x: thermal.pressure_of_interference_mpa(30.0, 60.0, 0.0, x, STEEL, STEEL), (0.0, 0.03)),
    "thrust of growth": (lambda x: thermal.thrust_of_growth_n(x, 300.0, 1000.0, 210e3, 50.0), (0.0, 0.1)),
    "speed": (lambda x: speed.rpm_of_speed(30.0, x), (10.0, 36.0)),
    "bar": (lambda x: mass.turned_kg(x, 300.0, 7.85), (20.0, 36.0)),
    "lever": (lambda x: mass.tailstock_share(x, 300.0), (0.0, 400.0)),
    "propped": (lambda x: mass.propped_share(x, 300.0), (0.0, 150.0, 300.0)),
    "changed support": (lambda x: set_over.change_error_mm(0.05, 200.0, x, 80.0), (195.0, 204.0)),
    "diameter left": (lambda x: taper_shop.diameter_left_mm(x, 5.0, 0.05), (3.0, 9.0)),
    "attachment": (lambda x: taper_shop.attachment_offset_mm(300.0, x), (0.02, 0.05)),
}


@pytest.mark.parametrize("name", CASES)
def test_an_array_gives_what_its_numbers_give(name: str) -> None:
    function, amounts = CASES[name]
    together = function(np.array(amounts))
    assert np.asarray(together) == pytest.approx([function(one) for one in amounts], rel=1e-12, abs=1e-12)
    assert all(isinstance(function(one), float) for one in amounts)


@pytest.mark.parametrize(
    ("refused", "words"),
    [
        (lambda: cutting.specific_force_mpa(2220.0, 0.14, 5.0), r"chip thickness is 5 mm; it must be at least 0\.01"),
        (lambda: cutting.finish_height_um(np.array([0.1, 0.9]), 0.4), "feed over nose radius is 2.25"),
        (lambda: cutting.drilling_torque_n_mm(2000.0, 0.1, 10.0, 12.0), "hole drilled before"),
        (lambda: mass.turned_kg(10.0, 100.0, 7.85, 12.0), "wall"),
        (lambda: mass.propped_share(400.0, 300.0), "at most 1"),
        (lambda: mass.balance_of([], 7.85), "volume of the work is 0"),
        (lambda: thermal.pressure_of_interference_mpa(30.0, 25.0, 0.0, 0.02, STEEL, STEEL), "outside less joint"),
        (lambda: thermal.growth_mm(300.0, 900.0, 11.5), "rise of temperature is 900 K"),
        (lambda: thermal.cooling_min(10.0, 30.0, 20.0, 40.0), "excess at the start"),
        (lambda: speed.rpm_of_speed(30.0, 0.0), "diameter is 0 mm; it must be more than 0 mm"),
        (lambda: set_over.check_diameters(20.0, 0.05, 30.0, 30.0), "second place beyond the first"),
        (lambda: set_over.check_diameters(5.0, 0.1, 0.0, 60.0), "diameter at the second place is -1 mm"),
        (lambda: set_over.support_length_mm(0.0, _HOLE, _HOLE), "length between faces is 0 mm"),
        (lambda: taper_shop.diameter_left_mm(3.0, 5.0, 0.0), "taper is 0"),
        (lambda: taper_shop.half_angle_of_balls_deg(20.0, 21.0, 5.0, 40.0), "difference of the balls' radii"),
        (lambda: taper_shop.half_angle_of_rolls_deg(30.0, 31.0, 50.0), "size above less size below"),
    ],
)
def test_out_of_range_is_refused_by_name_and_value(refused: Callable[[], float], words: str) -> None:
    with pytest.raises(RangeError, match=words):
        refused()


_HOLE = set_over.Support("point", 6.3, 2.5)


def test_two_measuring_places() -> None:
    found = set_over.check_diameters(40.0, 0.1, 10.0, 60.0)
    assert found == pytest.approx((39.0, 34.0, 5.0))
