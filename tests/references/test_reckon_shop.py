"""Warm work, cutting, speeds, set-over, taper, mass against published worked examples, each named where it is used."""

from __future__ import annotations

import math

import numpy as np
import pint
import pytest

from generator.reckoning import cutting, mass, set_over, speed, taper, taper_shop, thermal
from generator.reckoning.amounts import RangeError
from generator.reckoning.registry import run

UNITS = pint.UnitRegistry()


def value(name: str, key: str, **texts: str) -> float:
    return float(run(name, texts).results[key]["value"])


# Taper and sine bar -------------------------------------------------------------------------------------------------


def test_t2_taper_of_a_whole_piece() -> None:
    """ques10.com: D 50, d 30, length 60: 9.46 deg, 333.33 mm/m; set-over 10 mm by the textbook form."""
    sizes = {"large": "50", "small": "30", "length": "60"}
    assert value("taper", "slide_setting", **sizes) == pytest.approx(9.46, abs=0.005)
    assert value("taper", "per_metre", **sizes) == pytest.approx(333.33, abs=0.005)
    assert value("set-over", "set_over_textbook", faced="60", **sizes) == pytest.approx(10.0, abs=1e-9)


def test_t3_whole_length_counts() -> None:
    """Question bank in a public repository: D 40, d 30, taper 100 of 200 mm: 10 mm."""
    found = run("set-over", {"large": "40", "small": "30", "length": "100", "faced": "200"}).results
    assert found["set_over_textbook"]["value"] == pytest.approx(10.0, abs=1e-9)
    assert found["set_over"]["value"] == pytest.approx(10.0, rel=0.01)


def test_t4_t5_morse_angles_from_inches_per_foot() -> None:
    """canadianhobbymetalworkers forum, Morse 3: 2.8754058 and 1.4377029 deg; Morse 2 derived: 2.86138, 1.43069."""
    assert value("taper", "included_angle", ratio="0.60235 in/ft") == pytest.approx(2.8754058, abs=6e-8)
    assert value("taper", "half_angle", ratio="0.60235 in/ft") == pytest.approx(1.4377029, abs=6e-8)
    assert value("taper", "included_angle", ratio="0.59941 in/ft") == pytest.approx(2.86138, abs=6e-6)
    assert value("taper", "half_angle", ratio="0.59941 in/ft") == pytest.approx(1.43069, abs=6e-6)


@pytest.mark.parametrize(
    ("key", "texts", "printed_mm", "digit"),
    [
        ("sine_bar_half", {"half_angle": "23 deg 41'", "sine_bar": "5 in"}, 2.0084 * 25.4, 5e-5 * 25.4),
        ("sine_bar_half", {"half_angle": "12.8", "sine_bar": "100"}, 22.1548, 5e-5),
        ("sine_bar_half", {"ratio": "0.60235 in/ft", "sine_bar": "5 in"}, 0.12545 * 25.4, 5e-6 * 25.4),
        ("sine_bar_half", {"ratio": "0.60235 in/ft", "sine_bar": "100"}, 2.5090, 5e-5),
        ("sine_bar_full", {"ratio": "0.60235 in/ft", "sine_bar": "5 in"}, 0.25082 * 25.4, 5e-6 * 25.4),
    ],
)
def test_s3_s4_s6_sine_bar(key: str, texts: dict[str, str], printed_mm: float, digit: float) -> None:
    """US Army TC 9-524, appendix C (2.0084 in); Agrawal, ch. 5 ex. 3, p. 88 (22.1548 mm); Morse 3, derived."""
    assert value("taper", key, **texts) == pytest.approx(printed_mm, abs=1.1 * digit)


def test_back_from_stack_rolls_and_balls() -> None:
    """Independent: a taper measured by three methods comes back; contacts found by plane geometry."""
    ratio = 1 / 19.922
    half = math.atan(ratio / 2)
    stack = 100.0 * math.sin(2 * half)
    assert taper_shop.taper_of_stack(stack, 100.0) == pytest.approx(ratio)
    assert value("taper", "one_in", stack=repr(stack)) == pytest.approx(19.922)
    # Equal rolls against the flanks: middles a radius / cos(half) beyond the flank, whatever the height.
    over = [20.0 + 2 * height * math.tan(half) + 8.0 / math.cos(half) + 8.0 for height in (0.0, 50.0)]
    assert taper_shop.half_angle_of_rolls_deg(over[1], over[0], 50.0) == pytest.approx(math.degrees(half))
    assert value("taper", "one_in", rolls_above=repr(over[1]), rolls_below=repr(over[0]), rolls_rise="50"
                 ) == pytest.approx(19.922)
    # Balls in a socket of 24 mm at the face: the middle sits where the flank is a radius away.
    tops = []
    for ball in (23.0, 21.0):
        depth = (24.0 / 2 - ball / 2 / math.cos(half)) / math.tan(half)
        tops.append(depth - ball / 2)
        assert taper_shop.gauge_diameter_from_balls_mm(ball, tops[-1], ratio) == pytest.approx(24.0)
    assert taper_shop.half_angle_of_balls_deg(23.0, 21.0, *tops) == pytest.approx(math.degrees(half))
    found = run("taper", {
        "ball_large": "23", "ball_small": "21", "ball_large_depth": repr(tops[0]), "ball_small_depth": repr(tops[1]),
    }).results
    assert found["one_in"]["value"] == pytest.approx(19.922)
    assert found["socket_diameter"]["value"] == pytest.approx(24.0)


def test_angle_correction_of_practice() -> None:
    """0.01 mm over 60 mm is 17 seconds, 0.008 mm at 100 mm radius: common practice, worked by hand."""
    angle = taper_shop.angle_error_deg(0.01, 60.0, 1 / 19.922)
    assert angle * 3600 == pytest.approx(17.0, abs=0.5)
    assert taper_shop.swing_move_mm(angle, 100.0) == pytest.approx(0.008, abs=0.0005)


# Set-over -----------------------------------------------------------------------------------------------------------


def test_apex_rule_and_its_error() -> None:
    """Turning and boring tapers, 1902: two 6.3 mouths leave 289.1 of 300; with Morse 3 0.12 mm wrong over 65."""
    hole = set_over.Support("point", 6.3, 2.5)
    band = set_over.band_mm(300.0, hole, hole)
    assert band.least_mm == pytest.approx(289.1, abs=0.05)
    wrong = set_over.supported_diameter_error_mm(1 / 19.922, band.least_mm, 300.0, 65.0)
    assert wrong == pytest.approx(0.12, abs=0.005)
    assert value("set-over", "effective_length_least", taper="Morse 3", faced="300", headstock_mouth="6.3",
                 tailstock_mouth="6.3") == pytest.approx(289.1, abs=0.05)


def test_largest_ball_of_practice() -> None:
    """Ball at most 1.15 x mouth; its circle 0.866 x ball: geometry of a 60 degree cone."""
    found = run("set-over", {"taper": "Morse 3", "faced": "300", "headstock": "ball", "headstock_mouth": "6"}).results
    assert found["headstock_ball_largest"]["value"] == pytest.approx(1.1547 * 6, abs=1e-3)
    with pytest.raises(RangeError, match=r"circle on which the ball bears .* is 6\.06"):
        set_over.outside_face_mm(set_over.Support("ball", 6.0, 2.8, 7.0))


def test_mixed_supports_lie_between() -> None:
    ball, point = set_over.Support("ball", 5.3, 2.5, 6.0), set_over.Support("point", 5.3, 2.5)
    both_balls = set_over.support_length_mm(200.0, ball, ball)
    mixed = set_over.support_length_mm(200.0, ball, point)
    assert set_over.support_length_mm(200.0, point, point) < mixed < both_balls
    assert mixed == pytest.approx(set_over.support_length_mm(200.0, point, ball))


def test_changed_support_by_cutting_it() -> None:
    """Independent: the taper cut with the old set-over on the new length, by the angle of the swung axis."""
    ratio, before, after = 1 / 20.0, 200.0, 204.0
    swing = math.asin(before * math.sin(math.atan(ratio / 2)) / after)
    expected = (2 * math.tan(swing) - ratio) * 80.0
    assert set_over.change_error_mm(ratio, before, after, 80.0) == pytest.approx(expected, abs=1e-12)
    assert expected < 0


def test_indicator_along_a_finished_taper_of_another_length() -> None:
    """Independent: two points of the flank on the tool's side, placed by turning the finished taper in the plane."""
    amount, length, ratio, travel = 7.5, 180.0, 1 / 19.922, 50.0
    swing = math.asin(amount / length)
    # Headstock pivot at the origin, operator at +y; the small end, at the tailstock, comes towards the operator.
    places = []
    for along in (40.0, 140.0):
        radius = 15.0 - along * ratio / 2
        places.append((
            along * math.cos(swing) - radius * math.sin(swing), along * math.sin(swing) + radius * math.cos(swing),
        ))
    (x0, y0), (x1, y1) = places
    rise = (y1 - y0) / (x1 - x0) * travel
    assert set_over.indicator_rise_mm(amount, length, ratio, travel) == pytest.approx(rise, abs=1e-9)
    assert set_over.set_over_of_indicator_mm(rise, travel, length, ratio) == pytest.approx(amount)
    level = taper.set_over_mm(length, ratio)
    assert set_over.indicator_rise_mm(level, length, ratio, travel) == pytest.approx(0.0, abs=1e-12)


def test_direction() -> None:
    """Common practice, no source; by the same plane geometry as above."""
    assert run("set-over", {"taper": "Morse 3", "faced": "200"}).results["move"]["value"] == "towards the operator"
    other = run("set-over", {"taper": "Morse 3", "faced": "200", "small_end": "headstock"}).results
    assert other["move"]["value"] == "away from the operator"


# Warm work ----------------------------------------------------------------------------------------------------------


def test_h2_rise_for_growth() -> None:
    """Wentzell, Machine Design, ex. 6.3, p. 122: 5 in, 0.01204 in, 6.5e-6 per degF: 370.46 degF; through pint."""
    rise = value("thermal", "rise_needed", size="5 in", grown="0.01204 in", expansion="6.5 ppm/degF")
    assert UNITS.Quantity(rise, "delta_degC").to("delta_degF").magnitude == pytest.approx(370.46, abs=0.005)


def test_h3_sleeve_on_sleeve() -> None:
    """Bhavikatti, Strength of Materials, ex. 8.16, p. 348: radii 100/125/150, 30 MPa, 200 GPa: 0.189 mm on radius."""
    steel = (200e3, 0.3)
    per_mm = thermal.pressure_of_interference_mpa(250.0, 300.0, 200.0, 1.0, steel, steel)
    assert 30.0 / per_mm / 2 == pytest.approx(0.189, abs=0.0005)
    fit = thermal.shrink_fit(30.0, 250.0, 300.0, 200.0, 100.0, 0.12)
    assert fit.outer_hoop_mpa == pytest.approx(166.36, abs=0.005)
    assert fit.inner_hoop_mpa == pytest.approx(-136.67, abs=0.005)


def test_growth_of_practice() -> None:
    """300 mm of steel, 30 K: 0.10 mm. Worked by hand from 11.5e-6."""
    assert thermal.growth_mm(300.0, 30.0, 11.5) == pytest.approx(0.10, abs=0.005)


def test_warm_bore_and_cooling_by_stepping() -> None:
    """Independent: Newton's cooling stepped in small time steps."""
    assert thermal.true_reading_mm(52.010, 45.0, 11.5, 20.0, 11.5) == pytest.approx(52.010 / (1 + 11.5e-6 * 25))
    cooling = thermal.cooling_constant_min(5.0e4, 1.2e4, thermal.metal("steel"), 10.0)
    seconds = cooling.constant_min * 60
    assert seconds == pytest.approx(7850.0 * 470.0 * 5.0e-5 / (10.0 * 1.2e-2))
    temperature, elapsed, step = 80.0, 0.0, 0.5
    while temperature > 25.0:
        temperature -= (temperature - 20.0) / seconds * step
        elapsed += step
    assert thermal.cooling_min(cooling.constant_min, 80.0, 20.0, 25.0) * 60 == pytest.approx(elapsed, rel=1e-3)
    with pytest.raises(RangeError, match="never quite reached"):
        thermal.cooling_min(10.0, 80.0, 20.0, 20.0)


def test_both_warm_alike_reads_true() -> None:
    assert thermal.true_reading_mm(40.0, 27.0, 11.5, 27.0, 11.5) == pytest.approx(40.0, abs=1e-12)


def test_heat_brings_a_caution() -> None:
    found = run("thermal", {"joint": "30", "interference": "0.03"})
    assert "burn" in found.validity
    assert found.results["heat_to"]["value"] == pytest.approx(20 + 0.08 / (30 * 11.5e-6))


# Cutting ------------------------------------------------------------------------------------------------------------


def test_c1_turning() -> None:
    """Power-chuck manual RN-1391, p. 48: C45, feed 0.5, depth 5, 2.50 kN/mm2: 6.25 kN; Kienzle at 45 deg 6.42."""
    assert value("cutting", "main_force", specific_force="2500 MPa", feed="0.5", depth="5") == pytest.approx(6250.0)
    kienzle = run("cutting", {"kc11": "2220 MPa", "mc": "0.14", "feed": "0.5", "depth": "5", "approach": "45"}).results
    assert kienzle["specific_force"]["value"] == pytest.approx(2568, abs=0.5)
    assert kienzle["main_force"]["value"] == pytest.approx(6420, abs=5)


def test_c5_drilling() -> None:
    """Kalpakjian, ex. 22.2, p. 632: 10 mm, 0.2 mm/rev, 800 rpm, 0.5 W s/mm3: 209 mm3/s, 1.25 N m, 104.7 W."""
    found = run("cutting", {
        "operation": "drilling", "specific_force": "500 MPa", "feed": "0.2", "diameter": "10", "rpm": "800",
    }).results
    assert found["metal_removed"]["value"] == pytest.approx(209.4, abs=0.05)
    assert found["torque"]["value"] == pytest.approx(1.25, abs=1e-9)
    assert found["power"]["value"] * 1000 == pytest.approx(104.7, abs=0.05)


def test_groove_sections_of_the_iso_profile() -> None:
    """Independent: trapezium areas of the ISO 68-1 profile, H = 0.866 P, nut 5/8 H deep, screw 17/24 H deep."""
    height = math.sqrt(3) / 2
    nut = (3 / 4 + 1 / 8) / 2 * 5 / 8 * height
    screw_groove = (7 / 8 + 7 / 8 - 2 * 17 / 24 * height * math.tan(math.radians(30))) / 2 * 17 / 24 * height
    assert nut == pytest.approx(cutting.TAP_SECTION, abs=5e-5)
    assert screw_groove == pytest.approx(cutting.DIE_SECTION, abs=5e-5)
    # P^2 d kc / 8 of handbooks (from memory) takes a whole triangle on the major diameter: a sixth more.
    handbook = 1.5**2 * 10.0 * 3000.0 / 8
    assert handbook / cutting.tapping_torque_n_mm(3000.0, 1.5, 9.026) == pytest.approx(7 / 6, rel=0.005)


def _ridge_um(feed: float, nose: float, trailing: float) -> float:
    """Height of the ridge between two passes of a nose with a trailing edge, by sampling the profile."""
    angle = math.radians(trailing)
    x = np.linspace(0.0, feed, 200001)

    def profile(at: np.ndarray) -> np.ndarray:
        arc = nose - np.sqrt(np.maximum(nose**2 - at**2, 0.0))
        flank = nose - nose * math.cos(angle) - (at + nose * math.sin(angle)) * math.tan(angle)
        return np.where(at < -nose * math.sin(angle), flank, arc)

    return float(np.minimum(profile(x), profile(x - feed)).max()) * 1000


@pytest.mark.parametrize(
    ("feed", "nose", "trailing", "share"),
    [
        (0.1, 0.4, 32.0, 0.005), (0.2, 0.8, 30.0, 0.005),
        (0.3, 0.4, 5.0, 1e-5), (0.1, 0.8, 2.0, 1e-5), (0.4, 0.4, 10.0, 1e-5),
    ],
)
def test_finish_height_by_sampling(feed: float, nose: float, trailing: float, share: float) -> None:
    """f^2 / (8 r) is the first term of the arc: (f / 4 r)^2 is left out; with a trailing edge the sum is exact."""
    assert cutting.finish_height_um(feed, nose, trailing) == pytest.approx(_ridge_um(feed, nose, trailing), rel=share)


def test_finish_height_of_handbooks() -> None:
    """f 0.2, nose 0.8: 6.25 um; f 0.1, nose 0.4: 3.125 um, as printed in any cutting-tool handbook."""
    assert cutting.finish_height_um(0.2, 0.8) == pytest.approx(6.25)
    assert cutting.finish_height_um(np.array([0.1, 0.2]), 0.4)[0] == pytest.approx(3.125)
    assert cutting.finish_height_um(cutting.feed_for_finish_mm(6.25, 0.8), 0.8) == pytest.approx(6.25)


def test_tailstock_load_by_moments() -> None:
    """Independent: moments of all forces about the headstock support as cross products."""
    forces, weight, between, at, diameter = cutting.Forces(500.0, 250.0, 200.0), 30.0, 300.0, 240.0, 36.0
    load = cutting.tailstock_load_n(
        forces, weight, diameter, tool_share=at / between, weight_share=0.5, between_mm=between
    )
    # x along the axis to the tailstock, y to the operator, z up; forces on the work.
    tool = np.cross([at, diameter / 2, 0.0], [-forces.feed_n, -forces.depth_n, forces.main_n])
    own = np.cross([between / 2, 0.0, 0.0], [0.0, 0.0, -weight])
    support = np.array([0.0, load.rearward_n, -load.upward_n])
    total = tool + own + np.cross([between, 0.0, 0.0], support)
    assert total[1] == pytest.approx(0.0, abs=1e-9)
    assert total[2] == pytest.approx(0.0, abs=1e-9)


def test_propped_share_by_a_unit_load() -> None:
    """Independent: deflection of a cantilever under load and under the prop's force must cancel (Mohr)."""
    between, at = 300.0, 200.0
    down = at**2 * (3 * between - at) / 6
    up = between**3 / 3
    assert mass.propped_share(at, between) == pytest.approx(down / up)
    assert mass.propped_share(between, between) == pytest.approx(1.0)


# Speed and mass -----------------------------------------------------------------------------------------------------


def test_c7_speed() -> None:
    """F. D. Jones, Turning and Boring: 60 ft/min on 5 in: 46 rpm (45.8)."""
    rpm = value("speed", "wanted_high", diameter="5 in", speed="60 ft/min", speeds="20 to 2000")
    assert rpm == pytest.approx(45.8, abs=0.05)
    exact = UNITS.Quantity(60, "ft/min") / (math.pi * UNITS.Quantity(5, "inch"))
    assert rpm == pytest.approx(exact.to("1/min").magnitude)


def test_next_lower_speed_and_limits() -> None:
    speeds = (70.0, 115.0, 190.0, 300.0)
    assert speed.choose_speed({"cutting speed": 250.0}, speeds).rpm == 190.0
    assert speed.choose_speed({"cutting speed": 300.0}, speeds).rpm == 300.0
    limited = speed.choose_speed({"cutting speed": 500.0, "dead support": 120.0}, speeds)
    assert (limited.rpm, limited.limited_by) == (115.0, "dead support")
    assert speed.choose_speed({"cutting speed": 900.0}, speeds).limited_by == "machine"
    assert speed.choose_speed({"cutting speed": 250.0}, (50.0, 1100.0), steps=False).rpm == 250.0
    with pytest.raises(RangeError, match="slowest speed is 60 rpm; it must be at least 70"):
        speed.choose_speed({"cutting speed": 60.0}, speeds)


def test_mass_of_bars() -> None:
    """Round bar 0.00617 d^2 kg/m and hexagon 0.0068 s^2 kg/m in steel: weight tables of bar stock, from memory."""
    assert mass.turned_kg(20.0, 1000.0, 7.85) == pytest.approx(0.00617 * 400, rel=1e-3)
    assert mass.hexagon_kg(20.0, 1000.0, 7.85) == pytest.approx(0.0068 * 400, rel=1e-3)


def test_frustum_and_middle_by_slices() -> None:
    """Independent: the same work cut into thin discs."""
    pieces = [mass.Piece(40.0, 20.0, 120.0, 8.0), mass.Piece(15.0, 15.0, 60.0)]
    found = mass.balance_of(pieces, 7.85)
    slices, at = [], 0.0
    for piece in pieces:
        count = 4000
        for index in range(count):
            share = (index + 0.5) / count
            diameter = piece.near_mm + share * (piece.far_mm - piece.near_mm)
            area = math.pi / 4 * (diameter**2 - piece.bore_mm**2)
            slices.append((area * piece.length_mm / count, at + share * piece.length_mm))
        at += piece.length_mm
    volume = math.fsum(one for one, _ in slices)
    assert found.mass_kg == pytest.approx(volume * 7.85e-6, rel=1e-6)
    assert found.middle_mm == pytest.approx(math.fsum(v * z for v, z in slices) / volume, rel=1e-6)


def test_half_the_weight_of_an_even_bar() -> None:
    """Even bar between centres: half at the tailstock, by the lever."""
    found = run("mass", {"diameter": "36", "length": "300"}).results
    assert found["tailstock_load"]["value"] == pytest.approx(found["weight"]["value"] / 2)
    exact = UNITS.Quantity(found["mass"]["value"], "kg") * UNITS.Quantity(1, "standard_gravity")
    assert found["weight"]["value"] == pytest.approx(exact.to("newton").magnitude)
