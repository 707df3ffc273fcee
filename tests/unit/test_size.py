"""Sizes: limits, readings, exact sizes, rounding to shop steps."""

import pytest

from generator.description import exact
from generator.description.size import MEASURING_DOUBT_MM
from generator.fittings.sizes import by_class, general, round_down, round_up
from tests.helpers import size


def test_limits_are_nominal_and_signed_deviations():
    found = size(35.0, 0.014, -0.011)
    assert (found.low, found.high) == pytest.approx((34.989, 35.014))
    assert found.middle == pytest.approx(35.0015)
    assert found.best == 35.0


def test_a_reading_replaces_the_limits_but_keeps_its_doubt():
    found = size(10.0, 0.0, -0.12).measured(9.97)
    assert found.best == 9.97
    assert (found.low, found.high) == pytest.approx((9.97 - MEASURING_DOUBT_MM, 9.97 + MEASURING_DOUBT_MM))
    assert found.nominal_mm == 10.0


def test_an_exact_size_has_no_room_and_is_boxed():
    found = exact(23.825)
    assert found.basic
    assert found.low == found.high == 23.825


@pytest.mark.parametrize(
    ("tolerance_class", "nominal", "lower", "upper"),
    # ISO 286-2:2010, tables for H7, J7, j6, p6 and g6, from memory.
    [
        ("H7", 38.0, 0.0, 0.025),
        ("J7", 35.0, -0.011, 0.014),
        ("j6", 17.0, -0.003, 0.008),
        ("j6", 12.0, -0.003, 0.008),
        ("p6", 38.0, 0.026, 0.042),
        ("g6", 38.0, -0.025, -0.009),
    ],
)
def test_classes_have_the_limits_of_iso_286(tolerance_class, nominal, lower, upper):
    found = by_class(nominal, tolerance_class, "test")
    assert (found.lower_mm, found.upper_mm) == pytest.approx((lower, upper), abs=5e-4)
    assert found.tolerance_class == tolerance_class


@pytest.mark.parametrize(
    ("nominal", "reach"), [(3.0, 0.1), (6.0, 0.1), (6.1, 0.2), (30.0, 0.2), (31.0, 0.3), (121.0, 0.5)]
)
def test_general_sizes_follow_iso_2768_medium(nominal, reach):
    # ISO 2768-1, class m: 0.1 to 6, 0.2 to 30, 0.3 to 120, 0.5 to 400 mm, from memory.
    found = general(nominal, "test")
    assert (found.upper_mm, found.lower_mm) == (reach, -reach)


@pytest.mark.parametrize(
    ("value", "step", "up", "down"), [(10.24, 0.5, 10.5, 10.0), (10.5, 0.5, 10.5, 10.5), (0.3, 0.1, 0.3, 0.3)]
)
def test_rounding_goes_one_way_only_and_leaves_round_values(value, step, up, down):
    assert round_up(value, step) == pytest.approx(up)
    assert round_down(value, step) == pytest.approx(down)
