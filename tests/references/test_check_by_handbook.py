"""What check says against figures worked by hand from handbooks and published examples; the source stands at each."""

from __future__ import annotations

import math

import pytest

from generator.checks.duty import duty_of
from generator.checks.points import segment_below
from generator.checks.screw import screw_findings
from generator.checks.walls import wall_findings
from generator.description import PartDraft, Tool, least_wall
from tests.helpers import CENTRE, centre, rod, size, worked

GIVEN = {
    "work_length": 180, "work_material": "C45", "held": "centres", "depth": 0.5, "feed": 0.1, "speed": 900,
    "thrust": 1000,
}  # fmt: skip


@pytest.fixture(scope="module")
def job():
    return worked(CENTRE, centre(loads=GIVEN))


def test_kienzle_force_of_the_duty(job):
    # Kienzle: kc = kc1.1 h^-mc with C45 2220 / 0.14 (Victor's tables, from memory); 0.1 x 0.5 mm.
    duty = duty_of(job.choices, 30.0)
    assert duty.cut.main_n == pytest.approx(2220 * 0.1**-0.14 * 0.1 * 0.5, rel=1e-6)
    assert duty.cut.main_n == pytest.approx(153.2, abs=0.1)


def test_weight_of_the_work(job):
    # Machinery's Handbook, weight of a round bar: pi/4 d^2 l rho; 22 mm, 180 long, steel 7.85: 0.537 kg, 5.27 N.
    assert duty_of(job.choices, 30.0).weight_n == pytest.approx(5.27, abs=0.01)


def test_least_thrust_is_the_cone_of_statics(job):
    # Statics: F tan(half angle), 0.577 F at 60 degrees included.
    duty = duty_of(job.choices, 30.0)
    assert duty.least_thrust_n == pytest.approx(duty.worst_radial_n / math.sqrt(3))


def test_screw_at_what_the_faces_it_clamps_bear(job):
    # ISO 898-1: M6 stress area 20.1 mm2, 8.8 proof 580 MPa: 8.17 kN. The face of the spacer on the 6001, from its
    # chamfer at 12.6 mm to 14.0 mm, bears 0.3 of 305 MPa (C45): 2.68 kN; T = 0.2 F d: 3.2 N m.
    force = 0.3 * 305 * math.pi / 4 * (14.0**2 - 12.6**2)
    (found, stripping) = screw_findings(job.choices, None), job.one("stripping")
    (screw,) = found
    assert "tighten to 3.2 N m" in screw.advice
    assert "about 2.7 kN" in screw.advice
    # VDI 2230: the thread twists with F (0.159 P + 0.577 mu d2), mu 0.14.
    twist = force * (0.159 * 1.0 + 0.577 * 0.14 * 5.350)
    shear = 16 * twist / (math.pi * math.sqrt(4 * 20.12 / math.pi) ** 3)
    assert screw.value == pytest.approx(math.sqrt((force / 20.12) ** 2 + 3 * shear**2), rel=2e-3)
    # FED-STD-H28 shear area of the nut thread, basic sizes: pi/1 x 6 x (0.5 + tan 30 (6 - 5.350)) = 16.50 mm2 a mm;
    # 20.1 x 800 N over 0.6 x 640 MPa and that.
    needed = float(stripping.limit.removeprefix("at least "))
    assert needed == pytest.approx(20.12 * 800 / (0.6 * 640 * 16.50), rel=3e-3)


def test_grip_of_a_morse_3_by_both_formulas(job):
    # Formula A and B as in Wentzell ex. 16.3 and Khurmi and Gupta ex. 10.34, friction 0.08, thrust 1000 N.
    half = math.radians(1.4377)
    cone = 81.0 - 5.0
    mean = 23.825 - cone / 19.922 / 2
    b = 0.08 * 1000 * mean / (2 * math.sin(half)) / 1000
    a = 0.08 * 1000 * mean / (2 * (math.sin(half) + 0.08 * math.cos(half))) / 1000
    grip = job.one("grip")
    assert grip.value == pytest.approx(b, rel=2e-3)
    assert f"formula A, from a push that seated it before, {a:.1f} N m" in grip.advice


def test_a_6003_at_its_catalogue_figures(job):
    # Koyo catalogue B2001: 6003 C 6.0, C0 3.25 kN, grease 21 000 rpm; ISO 281 and ISO 76 by hand.
    speed = job.one("speed")
    assert speed.limit == f"at most {0.65 * 21000:.0f}"
    load = job.one("static", "ring_1").advice
    assert "C0 3250 N (Koyo)" in load


@pytest.mark.parametrize(
    ("height", "area", "middle", "second"),
    # Roark's Formulas for Stress and Strain, table A.1: solid circle and half circle of radius 10.
    [(10.0, math.pi * 100, 0.0, math.pi / 4 * 1e4), (0.0, math.pi * 50, -4 * 10 / (3 * math.pi), 0.1098 * 1e4)],
)
def test_what_is_left_of_a_half_point(height, area, middle, second):
    left = segment_below(20.0, height)
    assert left.area_mm2 == pytest.approx(area, rel=1e-9)
    assert left.middle_mm == pytest.approx(middle, abs=1e-9)
    assert left.second_moment_mm4 == pytest.approx(second, rel=5e-4)


def test_a_wall_at_worst_limits_by_hand():
    # Geometry: (20 - 10.2) / 2.
    draft = rod()
    draft.cylinder("bore", "inside", "rear", "front", size(10.0, 0.2))
    found = least_wall(draft.done(), worst=True)
    assert found is not None
    assert found.thickness_mm == pytest.approx((20.0 - 10.2) / 2)


def test_the_bottom_of_a_blind_bore_at_worst_lengths_by_hand():
    # Rod 40 +-0.3 long, bore 35 +-0.2 deep from one end: 5 mm bottom, 4.5 at worst.
    draft = PartDraft("rod", "Rod", "front")
    draft.length("length", "rear", "front", -1, size(40.0, 0.3, -0.3))
    draft.length("depth", "bottom", "rear", 1, size(35.0, 0.2, -0.2))
    draft.cylinder("outside", "outside", "rear", "front", size(40.0))
    draft.cylinder("bore", "inside", "rear", "bottom", size(10.0))
    part = draft.done()
    nominal, worst = least_wall(part), least_wall(part, worst=True)
    assert nominal is not None
    assert worst is not None
    assert (nominal.thickness_mm, worst.thickness_mm) == (pytest.approx(5.0), pytest.approx(4.5))
    (found,) = wall_findings(Tool("test", "Test", "rod", {"rod": part}, ()))
    assert (found.value, found.worst_low, found.severity) == (pytest.approx(5.0), pytest.approx(4.5), "note")


def test_a_wall_right_as_drawn_and_thin_at_worst_is_a_warning():
    draft = rod()
    draft.cylinder("bore", "inside", "rear", "front", size(17.9, 0.4))
    (found,) = wall_findings(Tool("test", "Test", "rod", {"rod": draft.done()}, ()))
    assert (found.severity, found.miss) == ("warn", pytest.approx(0.15))
