"""Spindles, shoulders and thrust against textbook examples and a general-purpose structural library.

TC: open archive of textbook companions (github OJB-Quantum/Python-Textbook-Companions).
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from Pynite import FEModel3D

from generator.reckoning.beam import Beam, Load, Section, Solution, Support, solve_beam
from generator.reckoning.bending import (
    near_reaction_n,
    notch_factor,
    second_moment_mm4,
    tip_deflection_mm,
)
from generator.reckoning.registry import run
from generator.reckoning.thrust import growth_um, handwheel_pull_n, least_thrust_n, thrust_by_hand_n
from generator.reckoning.truth import levers


def test_d1_overhanging_beam() -> None:
    """TC, Hibbeler, Mechanics of Materials, example 12.12, page 612: reactions -5 and +10 kip, tip 2.75 in down."""
    found = run("reactions", {
        "span": "12 ft", "overhang": "12 ft", "force": "5000 lbf", "second_moment": "125 in4", "modulus": "29000 ksi",
    }).results
    kip = 4448.2216152605
    assert found["reaction_1"]["value"] / kip == pytest.approx(-5, abs=1e-6)
    assert found["reaction_2"]["value"] / kip == pytest.approx(10, abs=1e-6)
    assert found["deflection_at_point"]["value"] / 25.4 == pytest.approx(2.7457, abs=0.00005)


def test_d3_load_between_supports() -> None:
    """TC, Pytel, example 6.3, page 198: 3 m, 300 N at 2 m, E I 20 480 N m2: largest deflection 7.09 mm."""
    second_moment = 40 * 80**3 / 12
    diameter = (64 * second_moment / math.pi) ** 0.25
    beam = Beam((Section(3000, diameter),), (Support(0), Support(3000)), (Load(2000, 300),), 12_000.0)
    place, most = max(solve_beam(beam).extremes(), key=lambda held: held[1])
    assert most == pytest.approx(7.088, abs=0.0005)
    assert place == pytest.approx(1633, abs=0.5)


def test_d6_overhanging_shaft() -> None:
    """Beam tables: F (L + a) / L, -F a / L, F a^2 (L + a) / 3 E I, bow F a L^2 / (9 sqrt 3 E I) at L / sqrt 3."""
    beam = Beam((Section(180, 25),), (Support(0), Support(120)), (Load(180, 1000),), 207_000.0)
    found = solve_beam(beam)
    assert found.borne_n == pytest.approx((-500, 1500))
    assert found.deflection_at_mm(180) == pytest.approx(0.05442, abs=0.000005)
    place, bow = min(found.extremes(), key=lambda held: held[1])
    assert bow == pytest.approx(-0.01396, abs=0.000005)
    assert place == pytest.approx(120 / math.sqrt(3), abs=1e-6)
    assert tip_deflection_mm(1000, 120, 60, second_moment_mm4(25), 207_000) == pytest.approx(0.05442, abs=0.000005)
    assert near_reaction_n(1000, 120, 60) == 1500


def test_wrong_in_print_overhang_with_even_load() -> None:
    """TC, Hibbeler, example 12.14: E I x tip is printed as 52 (integer division); right is 53.33.

    4 m span under 5 kN/m, 2 m overhang with 10 kN; the even load is laid on as 400 equal forces.
    """
    count, span = 400, 4000.0
    even = tuple(Load((number + 0.5) * span / count, 5.0 * span / count) for number in range(count))
    diameter, modulus = 100.0, 200_000.0
    beam = Beam((Section(6000, diameter),), (Support(0), Support(span)), (*even, Load(6000, 10_000)), modulus)
    tip = solve_beam(beam).deflection_at_mm(6000) * modulus * second_moment_mm4(diameter) / 1e12
    assert tip == pytest.approx(53.33, abs=0.005)


def pynite_answer(beam: Beam) -> tuple[dict[float, float], list[float]]:
    """Deflections by place and what each support bears, by the structural library."""
    model = FEModel3D()
    model.add_material("steel", beam.modulus_mpa, beam.modulus_mpa / 2.6, 0.3, 7.85e-6)
    ends = [sum(section.length_mm for section in beam.sections[:number]) for number in range(len(beam.sections) + 1)]
    places = sorted({*ends, *(one.place_mm for one in beam.supports), *(one.place_mm for one in beam.loads)})
    for place in places:
        model.add_node(f"n{place}", place, 0, 0)
    for number, (near, far) in enumerate(pairwise(places)):
        held = next(section for section, end in zip(beam.sections, ends[1:], strict=True) if (near + far) / 2 < end)
        inertia = math.pi * (held.diameter_mm**4 - held.bore_mm**4) / 64
        area = math.pi * (held.diameter_mm**2 - held.bore_mm**2) / 4
        model.add_section(f"s{number}", area, inertia, inertia, 2 * inertia)
        model.add_member(f"m{number}", f"n{near}", f"n{far}", "steel", f"s{number}")
    for number, support in enumerate(beam.supports):
        name, stiff = f"n{support.place_mm}", support.stiffness_n_um == 0
        # The first support also holds the spindle lengthwise and against rolling; neither bears anything here.
        model.def_support(name, number == 0, stiff, True, number == 0, False, False)
        if not stiff:
            model.def_support_spring(name, "DY", 1000 * support.stiffness_n_um)
    for load in beam.loads:
        model.add_node_load(f"n{load.place_mm}", "FY", load.force_n)
    model.analyze(check_statics=False)
    deflections = {place: float(model.nodes[f"n{place}"].DY["Combo 1"]) for place in places}
    borne = [
        -float(model.nodes[f"n{one.place_mm}"].RxnFY["Combo 1"]) if one.stiffness_n_um == 0
        else 1000 * one.stiffness_n_um * deflections[one.place_mm]
        for one in beam.supports
    ]
    return deflections, borne


BEAMS = {
    "stepped on two": Beam(
        (Section(60, 15), Section(40, 20), Section(25, 16, 4)), (Support(8), Support(72)),
        (Load(125, 800), Load(90, -150)),
    ),
    "three stiff rings": Beam(
        (Section(50, 12), Section(70, 17), Section(45, 20, 6)), (Support(6), Support(60), Support(112)),
        (Load(165, 650), Load(30, 200)),
    ),
    "four sprung rings": Beam(
        (Section(80, 17), Section(90, 20)), (Support(5, 30), Support(50, 18), Support(95, 45), Support(130, 60)),
        (Load(170, 900),),
    ),
    "stiff and sprung": Beam(
        (Section(55, 15), Section(80, 20, 8)), (Support(10), Support(70, 25), Support(100, 40)), (Load(135, 500),)
    ),
}


@pytest.mark.parametrize("name", BEAMS)
def test_against_a_structural_library(name: str) -> None:
    """PyNiteFEA: deflection at every step, ring and load, and what every ring bears."""
    beam = BEAMS[name]
    found: Solution = solve_beam(beam)
    deflections, borne = pynite_answer(beam)
    largest = max(map(abs, deflections.values()))
    for place, deflection in deflections.items():
        assert found.deflection_at_mm(place) == pytest.approx(deflection, abs=1e-7 * largest)
    assert found.borne_n == pytest.approx(borne, rel=1e-6, abs=1e-4)
    assert sum(found.borne_n) == pytest.approx(sum(load.force_n for load in beam.loads))


def test_notch_factor_of_a_read_chart() -> None:
    """Shigley's Mechanical Engineering Design, figure A-15-9: 38 to 32 mm, fillet 3 mm in bending, read as 1.65."""
    assert notch_factor(38, 32, 3) == pytest.approx(1.65, abs=0.01)


def test_notch_factor_branches_meet() -> None:
    """Roark, table 17.1: two sets of figures, meeting at a shoulder of twice the fillet; within 1 % as printed."""
    assert notch_factor(24.0, 20.0, 1.0000001) == pytest.approx(notch_factor(24.0, 20.0, 0.9999999), rel=0.01)


def test_lever_of_a_long_nose() -> None:
    """Statics: the point 55 mm ahead of a 35 mm span puts 2.6 times the load on the front ring."""
    assert levers(55, 35)[0] == pytest.approx(2.57, abs=0.005)
    found = run("reactions", {"span": "35 mm", "overhang": "55 mm", "force": "100 N", "diameter": "17 mm"}).results
    assert found["lever"]["value"] == "ring 2 bears 2.57 times the load"


@pytest.mark.parametrize(("angle", "share"), [(60, 0.58), (75, 0.77), (90, 1.0)])
def test_least_thrust_of_the_usual_points(angle: float, share: float) -> None:
    """Statics of a cone: tangent of the half angle (trigonometric table)."""
    assert least_thrust_n(1.0, angle) == pytest.approx(share, abs=0.005)


def test_thrust_by_hand() -> None:
    """Screw with 3 mm lead, 5 N m at the wheel, efficiency 0.25 to 0.35: 2.6 to 3.7 kN (2 pi T eta / p)."""
    for efficiency, thrust in ((0.25, 2618), (0.35, 3665)):
        assert thrust_by_hand_n(5000 / 80, 3, 160, efficiency) == pytest.approx(thrust, abs=0.5)
        assert handwheel_pull_n(thrust, 3, 160, efficiency) == pytest.approx(62.5, abs=0.05)


def test_growth_of_a_long_bar() -> None:
    """300 mm of steel, 30 degrees warmer, 11.5e-6: 0.10 mm."""
    assert growth_um(300, 11.5, 30) / 1000 == pytest.approx(0.10, abs=0.005)
