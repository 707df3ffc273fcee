"""Morse shanks as built, against the inch table and the relations of ISO 296.

Sources: ASME B5.10 / Machinery's Handbook, Morse taper table: taper per foot, diameter A at the gauge line, diameter D
at the small end of the plug, plug depth P (from memory; sizes.com gives the same). ISO 296: gauge diameter D, stand-off
a, lengths l1 and l3, small end d3, tang thickness b (from memory; DIN 228 lists the same).
"""

import math

import pytest

from generator.description import diameter_at, face_positions, outline
from tests.helpers import centre, worked

INCH = 25.4
# taper per foot, A, D at depth P (inches)
ASME = {
    0: (0.62460, 0.3561, 0.252, 2.0),
    1: (0.59858, 0.4750, 0.369, 2.125),
    2: (0.59941, 0.7000, 0.572, 2.5625),
    3: (0.60235, 0.9380, 0.778, 3.1875),
    4: (0.62326, 1.2310, 1.020, 4.0625),
    5: (0.63151, 1.7480, 1.475, 5.1875),
    6: (0.62565, 2.4940, 2.116, 7.25),
}
# D, a, l1, d3, l3, b, D1 (mm)
ISO = {
    0: (9.045, 3.0, 50.0, 6.4, 56.5, 3.9, 9.2),
    1: (12.065, 3.5, 53.5, 9.4, 62.0, 5.2, 12.2),
    2: (17.780, 5.0, 64.0, 14.6, 75.0, 6.3, 18.0),
    3: (23.825, 5.0, 81.0, 19.8, 94.0, 7.9, 24.1),
    4: (31.267, 6.5, 102.5, 25.9, 117.5, 11.9, 31.6),
    5: (44.399, 6.5, 129.5, 37.6, 149.5, 15.9, 44.7),
    6: (63.348, 8.0, 182.0, 53.9, 210.0, 19.0, 63.8),
}
DRAWBAR = {1: ("M6", 16.0), 2: ("M10", 24.0), 3: ("M12", 24.0), 4: ("M16", 32.0), 5: ("M20", 40.0), 6: ("M24", 47.0)}
KINDS = ["dead-centre", "revolving-centre"]
RINGS = {0: "608", 1: "6000", 2: "6002", 3: "6003", 4: "6004", 5: "6206", 6: "6208"}


def shank(kind, number, end="plain"):
    """The built part with the shank, and the positions of its faces."""
    socket = {"socket": {"taper": f"Morse {number}"}, "shank": {"end": end}}
    if kind == "dead-centre":
        part = worked(kind, {**socket, "point": {"work_diameter": 14}}).tool.parts["centre"]
    else:
        part = worked(kind, centre((RINGS[number], RINGS[number]), **socket)).tool.parts["body"]
    return part, face_positions(part)


def diameter_behind(part, z_of, distance):
    """Diameter of the cone this far behind its gauge plane."""
    return diameter_at(part, part.surface("taper"), z_of["gauge"] - distance, z_of)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("number", ASME)
def test_the_built_cone_is_that_of_the_inch_table(kind, number):
    per_foot, gauge, small, depth = ASME[number]
    part, z_of = shank(kind, number)
    edge = next(edge for edge in outline(part).outer if edge.name == "taper")
    slope = 2 * (edge.r1 - edge.r0) / (edge.z1 - edge.z0)
    # ISO 296 prints 1 : 19.922 with three decimals: 0.0005 / 20 of the taper, 1.3e-6 in 0.05.
    assert slope == pytest.approx(per_foot / 12, abs=2e-6)
    assert math.degrees(math.atan(slope / 2)) == pytest.approx(math.degrees(math.atan(per_foot / 24)), abs=1e-4)
    # Gauge diameters of the two systems differ by up to 2 um, the inch table's small ends are rounded to 0.001 in.
    assert diameter_behind(part, z_of, 0.0) == pytest.approx(gauge * INCH, abs=0.003)
    assert diameter_behind(part, z_of, depth * INCH) == pytest.approx(small * INCH, abs=0.5 * 0.001 * INCH + 0.003)


@pytest.mark.parametrize("number", ISO)
def test_the_plain_shank_is_that_of_iso_296(number):
    gauge, stand_off, length, small, _, _, large = ISO[number]
    part, z_of = shank("revolving-centre", number)
    assert part.surface("taper").diameter.nominal_mm == gauge
    assert part.surface("taper").diameter.basic
    assert z_of["back"] - z_of["gauge"] == pytest.approx(stand_off)
    assert z_of["gauge"] - z_of["end"] == pytest.approx(length)
    # ISO 296 rounds d3 and D1 to a tenth.
    assert diameter_behind(part, z_of, length) == pytest.approx(small, abs=0.06)
    assert diameter_behind(part, z_of, -stand_off) == pytest.approx(large, abs=0.06)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("number", ISO)
def test_the_tanged_shank_is_that_of_iso_296(kind, number):
    tang_length, thickness = ISO[number][4], ISO[number][5]
    part, z_of = shank(kind, number, "tang")
    assert z_of["gauge"] - z_of["end"] == pytest.approx(tang_length)
    (tang,) = [cross for cross in part.cross if cross.kind == "tang"]
    assert tang.sizes["across"].nominal_mm == thickness
    # Machinery's Handbook: the tang's slot stops it, so it may not be thicker than nominal.
    assert tang.sizes["across"].upper_mm == 0.0


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("number", DRAWBAR)
def test_the_drawbar_shank_has_its_thread(kind, number):
    thread, depth = DRAWBAR[number]
    part, z_of = shank(kind, number, "drawbar")
    (zone,) = [zone for zone in part.zones if zone.name == "drawbar"]
    assert zone.text == f"{thread}-6H"
    # Depth i of Morse 3 and 6 differs between lists (24 or 28, 47 or 50): only those agreed on are compared.
    if number not in (3, 6):
        assert z_of["drawbar_thread_end"] - z_of["end"] == pytest.approx(depth)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("end", ["plain", "tang"])
@pytest.mark.parametrize("number", ISO)
def test_reliefs_lie_below_the_cone_they_end(kind, end, number):
    part, z_of = shank(kind, number, end)
    for relief, face in (("small_relief", "cone_small"), ("large_relief", "cone_large")):
        cone = diameter_at(part, part.surface("taper"), z_of[face], z_of)
        assert part.surface(relief).diameter.nominal_mm < cone - 0.1
    # Two thirds of the standard's cone at least must be left to bear (common practice, no source).
    assert z_of["cone_large"] - z_of["cone_small"] > 2 / 3 * ISO[number][2]
