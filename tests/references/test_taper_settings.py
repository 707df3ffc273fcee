"""Taper settings against published worked examples and shop tables, each named where it is used."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.reckoning import set_over as s
from generator.reckoning import taper as t
from generator.reckoning import taper_prove as proof
from generator.reckoning.amounts import RangeError
from generator.reckoning.taper_shop import (
    gauge_diameter_from_balls_mm,
    half_angle_of_balls_deg,
    half_angle_of_rolls_deg,
)

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


def test_a_printed_set_over_of_an_examination() -> None:
    """US Coast Guard question bank, QMED05, question 66: 1/2 in per foot on 18 in of work: 3/8 in (tangent form)."""
    taper = 0.5 / 12
    assert t.set_over_mm(18 * 25.4, taper) / 25.4 == pytest.approx(0.375, abs=0.0005)
    assert t.set_over_mm(18.0, taper) / math.cos(math.atan(taper / 2)) == pytest.approx(3 / 8, abs=1e-12)


def test_a_24_inch_bar_comes_down_to_23_and_a_half() -> None:
    """Turning and boring tapers, 1902: centres that enter a quarter of an inch at each end leave 23 1/2 of 24 in."""
    mouth = 2 * 0.25 * math.tan(math.radians(30))
    assert t.length_apex_to_apex_mm(24.0, mouth, mouth) == pytest.approx(23.5, abs=1e-12)


# --- the blank turned about its supports ---------------------------------------------------------------------------
#
# Plane geometry from the shapes alone: where each support stands in its hole is searched for, the blank is turned until
# its second support stands over by the set-over, and the cone is measured that a tool parallel to the bed leaves.


def _ball_place(mouth: float, ball: float) -> float:
    """How far a ball's middle lies outside the face: the least at which no point of the flank lies inside the ball."""
    radii = np.linspace(0.0, min(mouth, ball) / 2, 20001)
    depths = (mouth / 2 - radii) / math.tan(math.radians(30))
    return float(np.max(np.sqrt((ball / 2) ** 2 - radii**2) - depths))


def _support_place(support: s.Support, tilt: float) -> tuple[float, float]:
    """Place of a support's own fixed point in the blank, outside its face and sideways: ball's middle, point's apex."""
    if support.form == "ball":
        return _ball_place(support.mouth_mm, support.ball_mm), 0.0
    back, sideways = _tipped_apex(support.mouth_mm, support.pilot_mm, tilt)
    return back - support.mouth_mm / 2 / math.tan(math.radians(30)), sideways


def _taper_cut(faced: float, head: s.Support, tail: s.Support, set_over: float) -> float:
    """The taper that is cut: the blank is turned until the fixed point of its tailstock end stands over by this."""

    def over(tilt: float) -> float:
        (out_head, side_head), (out_tail, side_tail) = (_support_place(end, tilt) for end in (head, tail))
        # Blank's frame: axis x from the headstock's face, y towards the tool; both sideways shifts mirror each other.
        x, y = faced + out_tail + out_head, -side_tail - side_head
        return x * math.sin(tilt) + y * math.cos(tilt)

    low, high = 1e-4, 0.2
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if over(middle) < set_over else (low, middle)
    tilt = (low + high) / 2
    # Two places on the tool's path, as distance along and from the turned axis.
    path = [(x, 20.0) for x in (10.0, 90.0)]
    along = [x * math.cos(tilt) + y * math.sin(tilt) for x, y in path]
    radius = [y * math.cos(tilt) - x * math.sin(tilt) for x, y in path]
    return t.taper_between(2 * radius[0], 2 * radius[1], along[1] - along[0])


HOLES = [(3.35, 1.6), (4.25, 2.0), (5.3, 2.5), (6.7, 3.15), (8.5, 4.0), (10.6, 5.0)]
SUPPORTS = st.tuples(st.sampled_from(HOLES), st.sampled_from(["ball", "point"]), st.floats(0.3, 0.9)).map(
    lambda drawn: s.Support(
        drawn[1], *drawn[0], (drawn[0][1] + drawn[2] * (drawn[0][0] - drawn[0][1])) / math.cos(math.radians(30))
    )
)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.floats(80.0, 400.0), SUPPORTS, SUPPORTS, st.sampled_from(sorted(MORSE_ONE_IN)))
def test_the_set_over_reproduces_the_taper(faced: float, head: s.Support, tail: s.Support, number: int) -> None:
    """Balls, sharp points and every mixture: the cone cut agrees with the taper wanted to a ten-thousandth."""
    taper = 1 / MORSE_ONE_IN[number]
    amount = t.set_over_mm(s.support_length_mm(faced, head, tail), taper)
    assert _taper_cut(faced, head, tail, amount) == pytest.approx(taper, rel=1e-4)


@settings(max_examples=20, deadline=None, derandomize=True)
@given(st.floats(80.0, 400.0), SUPPORTS, SUPPORTS, st.floats(-0.05, 0.05))
def test_the_correction_of_a_set_over_mends_the_cut(
    faced: float, head: s.Support, tail: s.Support, error: float
) -> None:
    """A set-over that cut 60 mm wrong by this, moved by the correction, cuts the taper wanted."""
    taper, length = 1 / MORSE_ONE_IN[3], s.support_length_mm(faced, head, tail)
    wrong = t.set_over_mm(length, taper - error / 60.0)
    cut = _taper_cut(faced, head, tail, wrong)
    mended = wrong + proof.set_over_change_mm(length, taper, (taper - cut) * 60.0, 60.0)
    assert _taper_cut(faced, head, tail, mended) == pytest.approx(taper, rel=2e-4)


# --- proving -------------------------------------------------------------------------------------------------------


def test_rolls_give_back_the_angle_and_the_size() -> None:
    """tan(half) = (M2 - M1) / (2 h), any handbook of measuring; place of the roll by its distance from the flank."""
    taper, roll = 1 / MORSE_ONE_IN[3], 6.0
    low, high = (proof.size_over_rolls_mm(19.76, taper, roll, up) for up in (4.0, 54.0))
    assert half_angle_of_rolls_deg(high, low, 50.0) == pytest.approx(1.4377, abs=5e-5)
    # Flank as a line from (19.76 / 2, 0), roll's middle at (M / 2 - roll / 2, 4 + roll / 2): one radius away.
    half = math.atan(taper / 2)
    x, y = low / 2 - roll / 2 - 19.76 / 2, 4.0 + roll / 2
    assert x * math.cos(half) - y * math.sin(half) == pytest.approx(roll / 2, abs=1e-12)


def test_balls_of_a_printed_problem() -> None:
    """byjus.com question bank: balls 40 and 32, the larger 8 above the face, the smaller 76 below it: sine 4 / 80."""
    half = half_angle_of_balls_deg(40.0, 32.0, -8.0, 76.0)
    assert half == pytest.approx(math.degrees(math.asin(0.05)), abs=1e-9)
    taper = t.taper_of_half_angle(half)
    mouth = gauge_diameter_from_balls_mm(40.0, -8.0, taper)
    assert proof.ball_top_mm(mouth, taper, 40.0) == pytest.approx(-8.0, abs=1e-9)
    assert proof.ball_top_mm(mouth, taper, 32.0) == pytest.approx(76.0, abs=1e-9)


@pytest.mark.parametrize("height", [0.25, -0.5, 1.0])
def test_a_tool_off_centre_height_against_points_in_space(height: float) -> None:
    """The tool goes along a straight line at this height: distance of each of its points from the axis."""
    large, small = 23.976, 20.010
    flank = proof.flank_of_low_tool_mm(large, small, height)
    start = math.sqrt((large / 2) ** 2 - height**2)
    line = np.linspace(start, start - (large - small) / 2, 101)
    diameters = 2 * np.hypot(line, height)
    assert diameters[0] == pytest.approx(large)
    assert flank.small_end_mm == pytest.approx(diameters[-1] - small, abs=1e-12)
    chord = np.linspace(diameters[0], diameters[-1], 101)
    assert flank.hollow_mm == pytest.approx(float(np.max(chord - diameters)), rel=0.02)
    assert flank.small_end_mm > 0
    with pytest.raises(RangeError, match="small end"):
        proof.flank_of_low_tool_mm(large, small, 11.0)


def test_tolerance_of_a_cone_by_its_length() -> None:
    """ISO 1947 AT6, from memory: 125 microradians up to 63 mm, 100 up to 100 mm, 80 up to 160."""
    for cone, angle in ((40.5, 125e-6), (63.0, 125e-6), (63.1, 100e-6), (100.0, 100e-6), (129.5, 80e-6)):
        assert proof.difference_tolerance_mm(cone, 1000.0) == pytest.approx(1000.0 * angle)
    with pytest.raises(RangeError, match="length of the cone"):
        proof.difference_tolerance_mm(5.0, 3.0)


def test_blue_and_slack() -> None:
    """4 um of blue over 40 mm: 21 seconds of arc. 0.1 mm of slack over tan 1.4377: 3.98 mm."""
    assert proof.blue_error_deg(0.004, 40.0) * 3600 == pytest.approx(20.6, abs=0.05)
    assert proof.take_up_mm(0.1, 1 / MORSE_ONE_IN[3]) == pytest.approx(0.1 / math.tan(math.radians(1.4377)), rel=1e-4)
