"""Tables against sources other than those they were built from; the source stands beside each check."""

from __future__ import annotations

import pytest

from generator.tables import (
    cap_screw,
    chuck_taper,
    circlip_inside,
    circlip_outside,
    general_angle_tolerance,
    general_tolerance,
    hex_key,
    it_grade,
    limits,
    load,
    material,
    morse,
    plain_washer,
    radial_clearance,
    ring,
    ring_limits,
    thread,
)


@pytest.mark.parametrize(
    ("number", "ratio", "gauge_mm", "large_end_mm", "plain_length_mm"),
    [
        (0, 19.212, 9.045, 9.2, 50),
        (1, 20.047, 12.065, 12.2, 53.5),
        (2, 20.020, 17.780, 18, 64),
        (3, 19.922, 23.825, 24.1, 81),
        (4, 19.254, 31.267, 31.6, 102.5),
    ],
)
def test_morse_shanks_as_din_807_prints_them(
    number: int, ratio: float, gauge_mm: float, large_end_mm: float, plain_length_mm: float
) -> None:
    # Source: DIN 807, November 1966 (English translation 1979), page 1, lathe centres, taper shank A to DIN 228.
    taper = morse(number)
    found = (taper.ratio, taper.gauge_diameter_mm, taper.large_end_mm, taper.plain_length_mm)
    assert found == (ratio, gauge_mm, large_end_mm, plain_length_mm)


@pytest.mark.parametrize(
    ("number", "angle_deg", "stand_off_mm"),
    [(0, 1.4908, 3.0), (1, 1.4287, 3.5), (2, 1.4307, 5.0), (3, 1.4377, 5.0), (4, 1.4876, 6.5), (5, 1.5073, 6.5)],
)
def test_morse_half_angles_and_stand_off(number: int, angle_deg: float, stand_off_mm: float) -> None:
    # Sources: half angles vintagemachinery.org, Dimensions of Standard Tapers, from the inch taper per foot;
    # stand-off toolsandmods.com, Morse taper dimensions, column D.
    assert morse(number).half_angle_deg == pytest.approx(angle_deg, abs=1e-4)
    assert morse(number).stand_off_max_mm == stand_off_mm


@pytest.mark.parametrize(
    ("name", "large_in", "small_in", "length_in"),
    [
        ("J0", 0.25000, 0.22844, 0.43750),
        ("J1", 0.38400, 0.33341, 0.65625),
        ("J2", 0.55900, 0.48764, 0.87500),
        ("J2S", 0.54880, 0.48764, 0.75000),
        ("J3", 0.81100, 0.74610, 1.21875),
        ("J4", 1.12400, 1.03720, 1.65625),
        ("J6", 0.67600, 0.62409, 1.00000),
        ("J33", 0.62401, 0.56051, 1.00000),
    ],
)
def test_jacobs_tapers_in_inches(name: str, large_in: float, small_in: float, length_in: float) -> None:
    # Source: hobby-machinist.com, taper sizes by measurement. Jacobs 5 is left out, the lists differ by 0.007 mm.
    taper = chuck_taper(name)
    # Both lists round to 0.001 mm.
    assert taper.large_end_mm == pytest.approx(25.4 * large_in, abs=0.0012)
    assert taper.small_end_mm == pytest.approx(25.4 * small_in, abs=0.0012)
    assert taper.length_mm == pytest.approx(25.4 * length_in, abs=0.0012)


@pytest.mark.parametrize(
    ("designation", "size"),
    [
        ("625", (5, 16, 5)), ("626", (6, 19, 6)), ("627", (7, 22, 7)), ("608", (8, 22, 7)), ("609", (9, 24, 7)),
        ("629", (9, 26, 8)), ("6000", (10, 26, 8)), ("6200", (10, 30, 9)), ("6300", (10, 35, 11)),
        ("6001", (12, 28, 8)), ("6201", (12, 32, 10)), ("6301", (12, 37, 12)), ("6002", (15, 32, 9)),
        ("6202", (15, 35, 11)), ("6302", (15, 42, 13)), ("6003", (17, 35, 10)), ("6203", (17, 40, 12)),
        ("6303", (17, 47, 14)), ("6004", (20, 42, 12)), ("6204", (20, 47, 14)), ("6304", (20, 52, 15)),
        ("6005", (25, 47, 12)), ("6205", (25, 52, 15)), ("6305", (25, 62, 17)), ("6006", (30, 55, 13)),
        ("6206", (30, 62, 16)), ("6007", (35, 62, 14)),
        ("51100", (10, 24, 9)), ("51101", (12, 26, 9)), ("51102", (15, 28, 9)), ("51103", (17, 30, 9)),
        ("51104", (20, 35, 10)), ("51105", (25, 42, 11)), ("51200", (10, 26, 11)), ("51201", (12, 28, 11)),
        ("51202", (15, 32, 12)), ("51203", (17, 35, 12)), ("51204", (20, 40, 14)), ("51205", (25, 47, 15)),
    ],
)
def test_ring_sizes(designation: str, size: tuple[float, float, float]) -> None:
    # Source: BOLTS parts library, data/bearings.blt: DIN 625-1 from kgm-kugeln.de, DIN 711 from medias.schaeffler.de.
    found = ring(designation)
    assert (found.bore_mm, found.outside_mm, found.width_mm) == size


def test_inch_ring_r4() -> None:
    # Source: aerospace-bearing.com, NSN 3110-01-038-4408: bore 0.2500, outside 0.6250, width 0.1960 in.
    found = ring("R4")
    assert (found.bore_mm, found.outside_mm) == (6.35, 15.875)
    assert found.width_mm == pytest.approx(0.1960 * 25.4, abs=0.001)


@pytest.mark.parametrize(
    ("accuracy", "bore_mm", "bore_um", "runout_um", "width_um", "variation_um"),
    [
        ("Normal", 8, -8, 10, -120, 15), ("P6", 8, -7, 6, -120, 15), ("P5", 8, -5, 4, -40, 5),
        ("Normal", 15, -8, 10, -120, 20), ("P6", 15, -7, 7, -120, 20), ("P5", 15, -5, 4, -80, 5),
        ("Normal", 25, -10, 13, -120, 20), ("P6", 25, -8, 8, -120, 20), ("P5", 25, -6, 4, -120, 5),
        ("Normal", 40, -12, 15, -120, 20), ("P6", 40, -10, 10, -120, 20), ("P5", 40, -8, 5, -120, 5),
    ],
)
def test_iso_492_inner_rings(
    accuracy: str, bore_mm: float, bore_um: int, runout_um: int, width_um: int, variation_um: int
) -> None:
    # Source: gld-bearing.com, precision of radial bearings, inner rings; class P5 also nodeshk.com, P5 tolerances.
    found = ring_limits(bore_mm, bore_mm + 20, accuracy)
    microns = (found.bore_lower_mm, found.inner_runout_mm, found.width_lower_mm, found.width_variation_mm)
    assert [round(value * 1000) for value in microns] == [bore_um, runout_um, width_um, variation_um]


@pytest.mark.parametrize(
    ("bore_mm", "c2", "cn", "c3"),
    [
        (10, (0, 7), (2, 13), (8, 23)),
        (10.1, (0, 9), (3, 18), (11, 25)),
        (18, (0, 9), (3, 18), (11, 25)),
        (24, (0, 10), (5, 20), (13, 28)),
        (30, (1, 11), (5, 20), (13, 28)),
        (40, (1, 11), (6, 20), (15, 33)),
        (50, (1, 11), (6, 23), (18, 36)),
    ],
)
def test_iso_5753_clearances(bore_mm: float, c2: tuple[int, int], cn: tuple[int, int], c3: tuple[int, int]) -> None:
    # Source: ktaiballbearing.com, internal clearance of standard deep groove ball bearings (18 to 24 C3: tritanpt.com
    # and bmzbearings.com print 28 where one other list misprints 25).
    for group, microns in (("C2", c2), ("CN", cn), ("C3", c3)):
        assert tuple(round(value * 1000) for value in radial_clearance(bore_mm, group)) == microns


@pytest.mark.parametrize(
    ("size_mm", "name", "upper_um", "lower_um"),
    [
        (3, "g6", -2, -8), (3, "k6", 6, 0), (3, "m6", 8, 2), (3, "p6", 12, 6), (3, "f7", -6, -16),
        (6, "g6", -4, -12), (6, "k5", 6, 1), (6, "n6", 16, 8), (6, "s6", 27, 19), (6, "js6", 4, -4),
        (10, "g6", -5, -14), (10, "k6", 10, 1), (10, "m6", 15, 6), (10, "p6", 24, 15), (10, "js7", 7.5, -7.5),
        (14, "f7", -16, -34), (18, "g6", -6, -17), (18, "k5", 9, 1), (18, "k6", 12, 1), (18, "n6", 23, 12),
        (18.5, "k6", 15, 2), (24, "m6", 21, 8), (30, "g6", -7, -20), (30, "p6", 35, 22), (30, "s6", 48, 35),
        (30.5, "k6", 18, 2), (50, "g6", -9, -25), (50, "m6", 25, 9), (50, "n6", 33, 17), (50, "s6", 59, 43),
        (50.5, "k6", 21, 2), (65, "m6", 30, 11), (65, "n6", 39, 20), (65, "s6", 72, 53), (65, "f7", -30, -60),
    ],
)
def test_iso_286_shafts(size_mm: float, name: str, upper_um: float, lower_um: float) -> None:
    # Source: JIS B 0401 (1999) table of regularly used shaft fits, as printed in a Sumitomo tool catalogue.
    found = limits(name, size_mm)
    assert found.upper_mm * 1000 == pytest.approx(upper_um)
    assert found.lower_mm * 1000 == pytest.approx(lower_um)


@pytest.mark.parametrize(
    ("grade", "widths_um"),
    [
        (5, (4, 5, 6, 8, 9, 11, 13, 15, 18)),
        (6, (6, 8, 9, 11, 13, 16, 19, 22, 25)),
        (7, (10, 12, 15, 18, 21, 25, 30, 35, 40)),
        (8, (14, 18, 22, 27, 33, 39, 46, 54, 63)),
        (9, (25, 30, 36, 43, 52, 62, 74, 87, 100)),
        (10, (40, 48, 58, 70, 84, 100, 120, 140, 160)),
        (11, (60, 75, 90, 110, 130, 160, 190, 220, 250)),
        (12, (100, 120, 150, 180, 210, 250, 300, 350, 400)),
    ],
)
def test_iso_286_grades(grade: int, widths_um: tuple[int, ...]) -> None:
    # Sources: grades 5 to 9 catalog.bigdaishowa.com page 139, shaft tolerances h1 to h9;
    # 6 to 12 precisemetal.in, tolerance tables for round bars, h6 to h12.
    sizes_mm = (3, 6, 10, 18, 30, 50, 80, 120, 180)
    assert [round(it_grade(grade, size) * 1000) for size in sizes_mm] == list(widths_um)


def test_iso_286_grade_14() -> None:
    # Source: Wikipedia, IT grade: IT14 is 0.36 mm at 10 mm and 0.87 mm at 100 mm.
    assert it_grade(14, 10) == 0.36
    assert it_grade(14, 100) == 0.87


@pytest.mark.parametrize(
    ("letter", "deviations_mm"),
    [
        ("f", (0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5)),
        ("m", (0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2)),
        ("c", (0.2, 0.3, 0.5, 0.8, 1.2, 2.0, 3.0)),
    ],
)
def test_iso_2768_lengths(letter: str, deviations_mm: tuple[float, ...]) -> None:
    # Source: DIN ISO 2768-1 table 1 as reprinted on several public pages; scribd.com 585640440 misprints 0.15 for
    # class c up to 3 mm and shifts its next column.
    for size_mm, deviation_mm in zip((3, 6, 30, 120, 400, 1000, 2000), deviations_mm, strict=True):
        assert general_tolerance(letter, size_mm) == deviation_mm
    assert general_tolerance(letter, 0.5) == deviations_mm[0]


def test_iso_2768_angles() -> None:
    # Source: handfest.engineer, ISO 2768: class m 1 deg, 30', 20', 10' by the shorter side to 10, 50, 120, 400 mm.
    minutes = [general_angle_tolerance("m", side_mm) * 60 for side_mm in (10, 50, 120, 400)]
    assert minutes == pytest.approx([60, 30, 20, 10], abs=1e-3)


@pytest.mark.parametrize(
    ("size_mm", "thickness", "free", "lug", "beam", "groove", "width", "margin"),
    [
        (6, 0.7, 5.6, 2.7, 1.3, 5.7, 0.8, 0.5), (8, 0.8, 7.4, 3.2, 1.5, 7.6, 0.9, 0.6),
        (10, 1.0, 9.3, 3.3, 1.8, 9.6, 1.1, 0.6), (12, 1.0, 11.0, 3.3, 1.8, 11.5, 1.1, 0.8),
        (15, 1.0, 13.8, 3.6, 2.2, 14.3, 1.1, 1.1), (17, 1.0, 15.7, 3.8, 2.3, 16.2, 1.1, 1.2),
        (18, 1.2, 16.5, 3.9, 2.4, 17.0, 1.3, 1.5), (19, 1.2, 17.5, 3.9, 2.5, 18.0, 1.3, 1.5),
    ],
)
def test_din_471(
    size_mm: float, thickness: float, free: float, lug: float, beam: float, groove: float, width: float, margin: float
) -> None:
    # Source: capitalbolts.in, DIN 471 retaining rings for shafts.
    clip = circlip_outside(size_mm)
    found = (clip.thickness_mm, clip.free_diameter_mm, clip.lug_height_mm, clip.radial_width_mm)
    assert found == (thickness, free, lug, beam)
    assert (clip.groove_diameter_mm, clip.groove_width_mm, clip.edge_margin_mm) == (groove, width, margin)


@pytest.mark.parametrize(
    ("size_mm", "thickness", "free", "lug", "groove", "width", "margin"),
    [(15, 1.0, 16.2, 3.7, 15.7, 1.1, 1.1), (16, 1.0, 17.3, 3.8, 16.8, 1.1, 1.2)],
)
def test_din_472(
    size_mm: float, thickness: float, free: float, lug: float, groove: float, width: float, margin: float
) -> None:
    # Source: dongbofastener.com, internal retaining ring DIN 472; tolerance of the groove +0.11.
    clip = circlip_inside(size_mm)
    assert (clip.thickness_mm, clip.free_diameter_mm, clip.lug_height_mm) == (thickness, free, lug)
    assert (clip.groove_diameter_mm, clip.groove_width_mm, clip.edge_margin_mm) == (groove, width, margin)
    assert clip.groove_upper_mm == 0.11


@pytest.mark.parametrize(
    ("name", "head", "thread_length", "key", "socket"),
    [
        ("M3", 5.5, 18, 2.5, 1.3), ("M4", 7, 20, 3, 2), ("M5", 8.5, 22, 4, 2.5), ("M6", 10, 24, 5, 3),
        ("M8", 13, 28, 6, 4), ("M10", 16, 32, 8, 5), ("M12", 18, 36, 10, 6), ("M14", 21, 40, 12, 7),
        ("M16", 24, 44, 14, 8), ("M20", 30, 52, 17, 10), ("M24", 36, 60, 19, 12),
    ],
)
def test_cap_screws(name: str, head: float, thread_length: float, key: float, socket: float) -> None:
    # Source: BOLTS parts library, data/hex_socket.blt: ISO 4762 from almetal.nl, DIN 912.
    screw = cap_screw(name)
    found = (screw.head_diameter_max_mm, screw.thread_length_mm, screw.key_mm, screw.socket_depth_min_mm)
    assert found == (head, thread_length, key, socket)


@pytest.mark.parametrize(
    ("size_mm", "short", "standard", "long"),
    [
        (1.5, 15.5, 46.5, 63.5), (2, 18, 52, 77), (2.5, 20.5, 58.5, 87.5), (3, 23, 66, 93), (4, 29, 74, 104),
        (5, 33, 85, 120), (6, 38, 96, 141), (8, 44, 108, 158), (10, 50, 122, 180), (12, 57, 137, 202),
        (14, 70, 154, 229), (17, 80, 177, 262),
    ],
)
def test_hex_keys(size_mm: float, short: float, standard: float, long: float) -> None:
    # Source: JIS B 4648:2008 as excerpted by mikipulley.co.jp, standard and M type.
    key = hex_key(size_mm)
    assert (key.short_arm_mm, key.long_arm_mm, key.long_arm_long_mm) == (short, standard, long)


@pytest.mark.parametrize(
    ("name", "inside", "outside", "thickness"),
    [
        ("M3", 3.2, 7, 0.5), ("M4", 4.3, 9, 0.8), ("M5", 5.3, 10, 1.0), ("M6", 6.4, 12, 1.6), ("M8", 8.4, 16, 1.6),
        ("M10", 10.5, 20, 2.0), ("M12", 13, 24, 2.5), ("M16", 17, 30, 3.0), ("M20", 21, 37, 3.0), ("M24", 25, 44, 4.0),
    ],
)
def test_plain_washers(name: str, inside: float, outside: float, thickness: float) -> None:
    # Source: engineeringhardware.com, ISO 7089 plain washers.
    washer = plain_washer(name)
    assert (washer.inside_mm, washer.outside_mm, washer.thickness_mm) == (inside, outside, thickness)


@pytest.mark.parametrize(
    ("name", "drill_in"),
    [
        ("#4-40 UNC", 0.0890), ("#6-32 UNC", 0.1065), ("#8-32 UNC", 0.1360), ("#10-24 UNC", 0.1495),
        ("1/4-20 UNC", 0.2010), ("5/16-18 UNC", 0.2570), ("3/8-16 UNC", 0.3125), ("7/16-14 UNC", 0.3680),
        ("1/2-13 UNC", 0.4219), ("9/16-12 UNC", 0.4844), ("5/8-11 UNC", 0.5313), ("3/4-10 UNC", 0.6563),
        ("7/8-9 UNC", 0.7656), ("1-8 UNC", 0.8750),
    ],
)
def test_unc_tap_drills(name: str, drill_in: float) -> None:
    # Source: swarf.shop, tap drill chart, column 75 %.
    assert thread(name).tap_drill_mm == pytest.approx(25.4 * drill_in, abs=0.0013)


@pytest.mark.parametrize(
    ("name", "minor_in"),
    [
        ("#4-40 UNC", 0.0849), ("#4-48 UNF", 0.0894), ("#6-32 UNC", 0.104), ("#6-40 UNF", 0.111),
        ("#8-32 UNC", 0.130), ("#8-36 UNF", 0.134), ("#10-24 UNC", 0.145), ("#10-32 UNF", 0.156),
    ],
)
def test_unified_minor_diameters(name: str, minor_in: float) -> None:
    # Source: microadvances.com, unified screw threads class 2B, least minor diameter of the nut = basic, three figures.
    assert thread(name).minor_internal_mm == pytest.approx(25.4 * minor_in, abs=25.4 * 0.0006)


def test_quarter_inch_thread() -> None:
    # Source: swarf.shop, 1/4-20: pitch diameter 0.2175, minor diameter 0.1959 in.
    found = thread("1/4-20")
    assert found.pitch_diameter_mm == pytest.approx(25.4 * 0.2175, abs=0.0013)
    assert found.minor_internal_mm == pytest.approx(25.4 * 0.1959, abs=0.0013)


def test_metric_tap_drills() -> None:
    # Source: utilitiesbunker.com, thread sizes reference, ISO metric coarse.
    drills = {"M3": 2.5, "M4": 3.3, "M5": 4.2, "M6": 5.0, "M8": 6.8, "M10": 8.5, "M12": 10.2, "M16": 14.0, "M20": 17.5}
    assert {name: thread(name).tap_drill_mm for name in drills} == drills


@pytest.mark.parametrize(
    ("over_mm", "depth", "width", "radius", "face"), [(10, 0.2, 2, 0.6, 0.1), (18, 0.3, 2.5, 0.6, 0.2)]
)
def test_din_509_undercuts(over_mm: float, depth: float, width: float, radius: float, face: float) -> None:
    # Source: DIN 509 as tabled in the operating manual of a lathe control, undercut parameters E and F.
    for form in "EF":
        row = load("undercuts").find(form, radius, over_mm, depth)
        assert row.number("width_mm") == width
    assert load("undercuts").find("F", radius, over_mm, depth).number("face_depth_mm") == face


def test_c45() -> None:
    # Sources: technical card C45E (Lucefin Group) to EN 10083-2:2006, normalised, over 16 to 100 mm: Re 305, Rm 580;
    # modulus 205 to 210 GPa and density 7.85: ninesteel-cs.com and szrtjs.com, data of 1.0503.
    found = material("C45")
    assert (found.yield_mpa, found.tensile_mpa, found.density_g_cm3) == (305, 580, 7.85)
    assert found.modulus_gpa == 210


def test_deep_groove_load_factors_in_a_textbook() -> None:
    # Source: Shigley's Mechanical Engineering Design, table 11-1, deep groove: at e 0.28 Y 1.55, at e 0.30 Y 1.45.
    steps = {row.number("e_factor"): row.number("Y_factor") for row in load("iso281_factors").rows
             if row.text("type") == "deep groove"}
    assert steps[0.28] == 1.55
    assert steps[0.30] == 1.45
