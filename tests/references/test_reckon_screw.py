"""Screws against published worked examples, each named where it is used."""

from __future__ import annotations

import math

import numpy as np
import pint
import pytest

from generator.errors import TableError
from generator.reckoning import screw
from generator.reckoning.amounts import RangeError
from generator.reckoning.registry import run
from generator.tables import thread

UNITS = pint.UnitRegistry()


def test_m1_preload_and_torque() -> None:
    """aionlinecalculator page: M12 8.8, 84.3 mm2, 580 MPa, 70 %, K 0.2: about 34 kN and 82 N m."""
    preload = screw.preload_n(84.3, screw.property_class("8.8", 12.0).proof_mpa, 0.7)
    assert preload == pytest.approx(34.23e3, abs=5)
    assert screw.simple_torque_n_mm(preload, 12.0) / 1000 == pytest.approx(82.1, abs=0.1)


def test_m3_inch_screw() -> None:
    """Wentzell, Machine Design, ex. 6.1, p. 120: 3/4-10 UNC, 0.334 in2, 85 ksi, 85 %, K 0.2: 3619.7 lb in."""
    found = run("screw", {
        "thread": "3/4-10 UNC", "area": "0.334 in2", "proof": "85 ksi", "share": "85 %", "nut_factor": "0.2",
    }).results
    torque = (found["torque"]["value"] * UNITS.newton * UNITS.meter).to("lbf * inch").magnitude
    assert torque == pytest.approx(3619.7, abs=0.05)
    pounds = (found["preload"]["value"] * UNITS.newton).to("lbf").magnitude
    assert pounds == pytest.approx(24131, abs=1)


@pytest.mark.parametrize(("pitch", "printed"), [(2.0, 156.7), (1.5, 167.2)])
def test_m5_stress_area(pitch: float, printed: float) -> None:
    """Jindal, Machine Design, ex. 9-1, p. 266: M16 x 2 and M16 x 1.5 (the second, 167.25, printed rounded down)."""
    assert screw.stress_area_mm2(16.0, pitch) == pytest.approx(printed, abs=0.055)


@pytest.mark.parametrize(
    ("name", "printed"),
    [("1/4-20 UNC", 0.0318), ("1/4-28 UNF", 0.0364), ("1/2-13 UNC", 0.1419), ("3/4-10 UNC", 0.334), ("1-8 UNC", 0.606)],
)
def test_unified_stress_areas(name: str, printed: float) -> None:
    """ASME B1.1 tensile stress areas as printed in any inch handbook (0.334 also in Wentzell ex. 6.1); from memory."""
    assert thread(name).stress_area_mm2 / 25.4**2 == pytest.approx(printed, abs=0.6 * 10 ** -3)


def test_m7_stripping_in_aluminium() -> None:
    """Paper at Taylor and Francis: M10 10.9, 69 600 N, 130 MPa, major 9.968, pitch diameter 9.206: 21.6 mm."""
    area = screw.inner_shear_area_mm2_per_mm(9.968, 9.206, 1.5)
    assert area == pytest.approx(24.84, abs=0.005)
    assert screw.engagement_needed_mm(1200.0 * 58.0, 130.0, area) == pytest.approx(21.6, abs=0.06)
    found = run("screw", {
        "thread": "M10", "load": "69600 N", "nut_shear": "130 MPa", "screw_major": "9.968",
        "nut_pitch_diameter": "9.206",
    }).results
    assert found["engagement_needed"]["value"] == pytest.approx(21.55, abs=0.005)
    assert found["strips_first"]["value"] == "thread in the hole"


def test_m9_over_wires() -> None:
    """Sharma, Production Engineering, ex. 17.2, p. 670: M20 x 2.5: wire 1.444, over wires 20.541 mm.

    The printed wire is rounded up from 1.4434; the size belongs to the exact one.
    """
    wire = screw.best_wire_mm(2.5)
    assert wire == pytest.approx(1.444, abs=0.001)
    assert screw.size_over_wires_mm(18.376, 2.5, wire) == pytest.approx(20.541, abs=0.0005)
    assert screw.pitch_diameter_from_wires_mm(20.541, 2.5, wire) == pytest.approx(18.376, abs=0.0005)


def test_wires_by_plane_geometry() -> None:
    """Independent: distance of the wire's middle to the flank is its radius, for 55 and 60 degree threads."""
    for included in (55.0, 60.0):
        pitch, pitch_diameter, wire = 2.0, 20.0, 1.2
        over = screw.size_over_wires_mm(pitch_diameter, pitch, wire, included)
        centre = (over - wire) / 2
        half = math.radians(included / 2)
        # At the pitch radius the groove is half a pitch wide: flank through (pitch / 4, pitch_diameter / 2).
        distance = pitch / 4 * math.cos(half) + (centre - pitch_diameter / 2) * math.sin(half)
        assert distance == pytest.approx(wire / 2)


def test_torque_with_friction_follows_the_wedge() -> None:
    """Independent: without friction the torque times one turn is the force times the pitch (work), within 3 %."""
    torque = screw.thread_torque_n_mm(1000.0, 1.75, 10.863, 0.02)
    friction_part = 1000.0 * 0.02 * 10.863 / 2 / math.cos(math.radians(30))
    assert (torque - friction_part) * 2 * math.pi == pytest.approx(1000.0 * 1.75)
    back = screw.preload_from_torque_n(screw.torque_n_mm(5000.0, 1.75, 10.863, 15.6, 0.14), 1.75, 10.863, 15.6, 0.14)
    assert back == pytest.approx(5000.0)


def test_tightening_torque_of_a_table() -> None:
    """VDI 2230 table for M10 8.8 at friction 0.12: preload 27.3 kN, torque 46 N m; from memory, 2 % allowed."""
    torque = screw.torque_n_mm(27.3e3, 1.5, 9.026, 13.5, 0.12) / 1000
    assert torque == pytest.approx(46.0, rel=0.02)


def test_arrays_ranges_and_unknown_class() -> None:
    pitches = np.array([1.0, 1.5, 2.0])
    assert screw.stress_area_mm2(16.0, pitches).shape == (3,)
    assert screw.size_over_wires_mm(np.array([18.376]), 2.5, 1.4434)[0] == pytest.approx(20.541, abs=0.001)
    with pytest.raises(TableError, match=r"no property class '9\.9' is known; known: 4\.6"):
        screw.property_class("9.9", 10.0)
    with pytest.raises(RangeError, match="wire over best wire"):
        screw.size_over_wires_mm(18.376, 2.5, 0.5)
    with pytest.raises(RangeError, match=r"share of the proof strength is 1\.2"):
        screw.preload_n(84.3, 580.0, 1.2)
