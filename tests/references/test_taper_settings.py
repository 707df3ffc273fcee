"""Taper settings against published worked examples and shop tables, each named where it is used."""

from __future__ import annotations

import math

import numpy as np
import pytest

from generator.reckoning import taper as t

# Morse ratios 1:x as printed in DIN 807:1966; the same values follow from ISO 296 to the last digit.
MORSE_ONE_IN = {0: 19.212, 1: 20.047, 2: 20.020, 3: 19.922, 4: 19.254, 5: 19.002, 6: 19.180}
# ASME B5.10 taper per foot in inches.
MORSE_PER_FOOT_IN = {0: 0.62460, 1: 0.59858, 2: 0.59941, 3: 0.60235, 4: 0.62326, 5: 0.63151, 6: 0.62565}


def test_example_t2_whole_piece_tapered() -> None:
    """ques10.com: D 50, d 30, length 60: compound setting 9.46 deg, taper 333.33 mm/m, set-over 10 mm."""
    taper = t.taper_between(50.0, 30.0, 60.0)
    assert 1000.0 * taper == pytest.approx(333.33, abs=0.005)
    half = t.half_angle_deg(taper)
    assert half == pytest.approx(9.46, abs=0.005)
    # The textbook takes the tangent where the swung work makes it a sine: its 10 mm is ours divided by the cosine.
    assert t.set_over_mm(60.0, taper) / math.cos(math.radians(half)) == pytest.approx(10.0, abs=1e-9)


def test_example_t3_whole_length_between_supports_counts() -> None:
    """Question bank in a public repository: D 40, d 30, taper 100 of 200 mm: set-over 10 mm (1 % allowed)."""
    assert t.set_over_mm(200.0, t.taper_between(40.0, 30.0, 100.0)) == pytest.approx(10.0, rel=0.01)


def test_example_t4_morse_3_angles() -> None:
    """canadianhobbymetalworkers forum: 0.60235 in/ft: included 2.8754058, half 1.4377029 deg."""
    half = t.half_angle_deg(0.60235 / 12)
    assert half == pytest.approx(1.4377029, abs=5e-8)
    assert 2 * half == pytest.approx(2.8754058, abs=1e-7)


def test_example_t5_morse_2_angles() -> None:
    """Derived with atan(taper per foot / 24): half 1.43069, included 2.86138 deg."""
    half = t.half_angle_deg(0.59941 / 12)
    assert half == pytest.approx(math.degrees(math.atan(0.59941 / 24)), abs=1e-12)
    assert half == pytest.approx(1.43069, abs=5e-6)
    assert 2 * half == pytest.approx(2.86138, abs=5e-6)


@pytest.mark.parametrize("number", range(7))
def test_millimetre_and_inch_tables_of_morse_tapers_agree(number: int) -> None:
    """DIN 807 ratio against ASME B5.10 taper per foot: equal to the last printed digit of the ratio."""
    assert t.taper_per_foot_in(1 / MORSE_ONE_IN[number]) == pytest.approx(MORSE_PER_FOOT_IN[number], abs=2.5e-5)
    assert t.taper_of_half_angle(t.half_angle_deg(1 / MORSE_ONE_IN[number])) == pytest.approx(1 / MORSE_ONE_IN[number])


@pytest.mark.parametrize(
    ("number", "printed"),
    [(0, (1, 29, 27)), (1, (1, 25, 43)), (2, (1, 25, 50)), (3, (1, 26, 16)), (4, (1, 29, 15)), (5, (1, 30, 26)),
     (6, (1, 29, 36))],
)
def test_half_angles_in_degrees_minutes_seconds(number: int, printed: tuple[int, int, int]) -> None:
    """Half angles as Machinery-type tables print them, worked from the DIN 807 ratios."""
    assert tuple(t.deg_min_sec(t.half_angle_deg(1 / MORSE_ONE_IN[number]))) == printed


def test_seconds_carry_into_minutes() -> None:
    assert tuple(t.deg_min_sec(1.99999999)) == (2, 0, 0)


@pytest.mark.parametrize(
    ("bar", "angle", "printed", "places"),
    [
        (5.0, 23 + 41 / 60, 2.0084, 4),  # US Army TC 9-524, appendix C, inches
        (100.0, 12.8, 22.1548, 4),  # Agrawal, Basic Mechanical Engineering, ch. 5 ex. 3, p. 88
        (5.0, 1.4377029, 0.12545, 5),  # Morse 3 half angle on a 5 in bar, derived
        (100.0, 1.4377029, 2.5090, 4),  # Morse 3 half angle on 100 mm, derived
        (5.0, 2.8754058, 0.25082, 5),  # Morse 3 full angle on a 5 in bar, derived
    ],
)
def test_sine_bar_stacks(bar: float, angle: float, printed: float, places: int) -> None:
    assert t.sine_bar_stack_mm(bar, angle) == pytest.approx(printed, abs=0.55 * 10**-places)


@pytest.mark.parametrize(
    ("number", "pitch_in"), [(0, 0.7685), (1, 0.8019), (2, 0.8008), (3, 0.7969), (4, 0.7702)]
)
def test_two_flange_pitch_for_forty_thou(number: int, pitch_in: float) -> None:
    """Harold Hall, homews.co.uk page 49, prints "just under 0.802" for Morse 1; the others by the same rule."""
    found = t.pitch_for_difference_mm(0.040 * 25.4, 1 / MORSE_ONE_IN[number]) / 25.4
    assert found == pytest.approx(pitch_in, abs=5.5e-5)


@pytest.mark.parametrize(
    ("number", "rise"), [(0, 0.651), (1, 0.624), (2, 0.624), (3, 0.627), (4, 0.649), (5, 0.658)]
)
def test_rise_per_25_mm(number: int, rise: float) -> None:
    """Tangent of the half angle x 25 mm, worked by hand from DIN 807 ratios."""
    taper = 1 / MORSE_ONE_IN[number]
    assert t.rise_along_axis_mm(25.0, taper) == pytest.approx(rise, abs=0.0005)
    slide = t.rise_along_slide_mm(25.0, taper)
    assert slide == pytest.approx(25.0 * math.sin(math.radians(t.half_angle_deg(taper))), rel=1e-12)
    assert 0 < 1 - slide / t.rise_along_axis_mm(25.0, taper) < 0.0004


def test_depth_for_one_thou() -> None:
    """Common shop rule, no single source: a thou off the diameter lets a Morse plug go 20 thou deeper."""
    for one_in in MORSE_ONE_IN.values():
        assert t.depth_gained_mm(0.001, 1 / one_in) == pytest.approx(0.020, rel=0.06)


def test_apex_rule_shortens_a_300_bar() -> None:
    """Old shop rule (Turning and boring tapers, 1902): two 6.3 mouths on a 300 bar leave 289.1 mm.

    Reckoning a Morse 3 with 300 where 289.1 is true makes it 0.12 mm wrong over 65 mm.
    """
    length = t.length_apex_to_apex_mm(300.0, 6.3, 6.3)
    assert length == pytest.approx(289.1, abs=0.05)
    taper = 1 / MORSE_ONE_IN[3]
    wrong = taper * 65.0 * (300.0 / length - 1.0)
    assert wrong == pytest.approx(0.12, abs=0.005)


def test_ball_centre_from_the_distance_of_a_point_to_a_cone() -> None:
    """Independent geometry: the ball's middle is one radius from the flank of the hole, measured as a line."""
    ball, mouth = 6.0, 6.3
    outside = t.ball_centre_outside_face_mm(ball, mouth)
    # Flank in the plane: through the rim (0, mouth/2), direction 30 degrees to the axis, into the work towards -x.
    direction = (-math.cos(math.radians(30)), -math.sin(math.radians(30)))
    to_centre = (outside, -mouth / 2)
    distance = abs(direction[0] * to_centre[1] - direction[1] * to_centre[0])
    assert distance == pytest.approx(ball / 2, abs=1e-12)
    along = direction[0] * to_centre[0] + direction[1] * to_centre[1]
    contact_radius = mouth / 2 + along * direction[1]
    assert 2 * contact_radius == pytest.approx(t.ball_contact_diameter_mm(ball), abs=1e-12)
    assert t.largest_ball_mm(mouth) == pytest.approx(1.1547 * mouth, rel=1e-4)
    assert t.length_ball_to_ball_mm(300.0, ball, mouth, mouth) == pytest.approx(300.0 + 2 * outside)


def _tipped_apex(mouth: float, pilot: float, tilt: float) -> tuple[float, float]:
    """Least stand-back of a 60 degree point tipped in its hole, found by search, and its sideways place.

    Plane geometry, hole with its apex at 0 and its mouth at +x: no rim of mouth or pilot may lie inside the point.
    """
    rims = [(d / 2 / math.tan(math.radians(30)), side * d / 2) for d in (mouth, pilot) for side in (1, -1)]

    def back_needed(sideways: float) -> float:
        needed = -math.inf
        for x, y in rims:
            for flank in (math.radians(30) + tilt, -math.radians(30) + tilt):
                across = (y - sideways) if flank > 0 else -(y - sideways)
                if (y > 0) == (flank > 0):
                    needed = max(needed, x - across / abs(math.tan(flank)))
        return needed

    low, high = -1.0, 1.0
    for _ in range(200):
        one, two = low + (high - low) / 3, high - (high - low) / 3
        if back_needed(one) < back_needed(two):
            high = two
        else:
            low = one
    sideways = (low + high) / 2
    return back_needed(sideways), sideways


@pytest.mark.parametrize(("mouth", "pilot"), [(6.7, 3.15), (5.3, 2.5), (6.3, 2.5)])
def test_pivot_of_a_tipped_centre_against_a_search(mouth: float, pilot: float) -> None:
    """The pivot is where the tipped axis crosses the axis of the hole; found by search, not from the formula."""
    tilt = math.radians(1.4377)
    back, sideways = _tipped_apex(mouth, pilot, tilt)
    pivot_from_apex = back - sideways / math.tan(tilt)
    assert t.apex_below_face_mm(mouth) - pivot_from_apex == pytest.approx(t.pivot_below_face_mm(mouth, pilot), abs=1e-3)


def test_supports_order_by_length() -> None:
    holes = (5.3, 2.5)
    apex = t.length_apex_to_apex_mm(200.0, 5.3, 5.3)
    tipped = t.length_tipped_centres_mm(200.0, holes, holes)
    balls = t.length_ball_to_ball_mm(200.0, 6.0, 5.3, 5.3)
    assert apex < tipped < 200.0 < balls


def test_set_over_cuts_the_taper_it_was_reckoned_for() -> None:
    """Swing the axis in the plane and measure the diameters a tool parallel to the bed would leave."""
    length, taper = 180.0, 1 / MORSE_ONE_IN[4]
    set_over = t.set_over_mm(length, taper)
    swung = math.asin(set_over / length)
    near, far = 20.0, 80.0
    # Points on the tool's path at radius 25 from the bed axis, as distance from the swung axis.
    radii, places = [], []
    for x in (near, far):
        y = 25.0
        places.append(x * math.cos(swung) + y * math.sin(swung))
        radii.append(y * math.cos(swung) - x * math.sin(swung))
    assert t.taper_between(2 * radii[0], 2 * radii[1], places[1] - places[0]) == pytest.approx(taper, rel=1e-12)


def test_scaling_after_a_check_cut() -> None:
    assert t.scaled_set_over_mm(7.0, 1.0, 0.98) == pytest.approx(7.142857, abs=1e-6)


def test_arrays_of_ratios_pass_through() -> None:
    ratios = 1 / np.array(list(MORSE_ONE_IN.values()))
    assert t.set_over_mm(200.0, ratios)[3] == pytest.approx(t.set_over_mm(200.0, float(ratios[3])))
    assert t.rise_along_slide_mm(25.0, ratios).shape == (7,)
    assert t.diameter_at_mm(23.825, ratios, 65.0)[3] == pytest.approx(23.825 - 65 / 19.922)
    assert t.slide_travel_mm(81.0, ratios, 3.0)[3] == pytest.approx(81 / math.cos(math.radians(1.4377)) + 6, abs=1e-3)
