"""Physical sense, table by table: relations that hold in metal whatever the source says."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from generator.tables import (
    Row,
    bars,
    cap_screw,
    chuck_taper,
    circlip_inside,
    circlip_outside,
    it_grade,
    limits,
    load,
    load_factors,
    machine_defaults,
    morse,
    radial_clearance,
    ring,
    ring_limits,
    ring_rating,
    thread,
)

STEEL_KG_M_PER_MM2 = 7.85e-3


def column(table: str, name: str) -> list[float]:
    return [row.number(name) for row in load(table).rows]


def rising(values: list[float]) -> bool:
    return all(a < b for a, b in pairwise(values))


@pytest.mark.parametrize("number", range(7))
def test_morse_shank_and_socket_fit_each_other(number: int) -> None:
    taper = morse(number)
    row = load("morse").find(f"MT{number}")
    assert taper.half_angle_deg == pytest.approx(math.degrees(math.atan(0.5 / taper.ratio)), abs=1e-6)
    assert taper.small_end_mm == pytest.approx(taper.gauge_diameter_mm - taper.plain_length_mm / taper.ratio, abs=0.06)
    tang_end = taper.gauge_diameter_mm - taper.tang_total_mm / taper.ratio
    assert taper.tang_small_end_mm == pytest.approx(tang_end, abs=0.06)
    assert taper.large_end_mm == pytest.approx(
        taper.gauge_diameter_mm + taper.stand_off_max_mm / taper.ratio, abs=0.06
    )
    assert row.number("plain_overall_mm") == taper.plain_length_mm + taper.stand_off_max_mm
    assert row.number("tang_overall_mm") == taper.tang_total_mm + taper.stand_off_max_mm
    assert taper.tang_diameter_mm < taper.tang_small_end_mm < taper.small_end_mm < taper.gauge_diameter_mm
    assert taper.tang_flat_mm < taper.tang_runout_mm < taper.tang_total_mm - taper.slot_start_mm + taper.tang_runout_mm
    assert taper.slot_start_mm < taper.tang_total_mm < taper.slot_start_mm + taper.slot_length_mm
    assert taper.slot_width_mm == taper.tang_thickness_mm < taper.tang_diameter_mm
    # The shank end passes the small bore of the socket, and the socket is deep enough for the plain shank.
    assert taper.tang_small_end_mm < taper.socket_small_bore_mm < taper.gauge_diameter_mm
    assert taper.plain_length_mm < taper.socket_depth_mm
    if taper.drawbar_thread is not None:
        major = thread(taper.drawbar_thread).major_mm
        assert major < taper.small_end_mm
        assert taper.drawbar_clearance_mm is not None
        assert major < taper.drawbar_clearance_mm < taper.socket_small_bore_mm


@pytest.mark.parametrize("number", range(7))
def test_morse_ratio_against_inch_taper_per_foot(number: int) -> None:
    inch = load("morse_inch").find(f"MT{number}")
    # ISO 296 rounds 12 / (taper per foot) to three decimals; its own slips reach the fourth figure of the last place.
    assert morse(number).ratio == pytest.approx(12 / inch.number("taper_in_ft"), abs=0.0006)
    assert morse(number).gauge_diameter_mm == pytest.approx(25.4 * inch.number("gauge_diameter_in"), abs=0.0006)
    small_in = inch.number("gauge_diameter_in") - inch.number("taper_in_ft") / 12 * inch.number("plug_depth_in")
    assert inch.number("small_end_in") == pytest.approx(small_in, abs=0.0006)
    assert inch.number("tang_thickness_in") < inch.number("keyway_width_in") < inch.number("tang_diameter_in")


def test_morse_sizes_rise_and_generations_differ_only_a_little() -> None:
    for name in ("gauge_diameter_mm", "plain_length_mm", "tang_total_mm", "socket_depth_mm", "tang_thickness_mm"):
        assert rising([row.number(name) for row in load("morse").rows[:7]])
    for row in load("morse_older").rows:
        taper = morse(int(row.text("taper")[2:]))
        assert row.number("gauge_diameter_mm") == pytest.approx(taper.gauge_diameter_mm, abs=0.003)
        assert row.number("small_end_mm") == pytest.approx(taper.small_end_mm, abs=0.25)


@pytest.mark.parametrize("name", [row.text("taper") for row in load("chuck_tapers").rows])
def test_chuck_tapers_close(name: str) -> None:
    taper = chuck_taper(name)
    # Both diameters are rounded to 0.001 mm (Jacobs) or the small one to 0.1 mm (DIN 238).
    small = taper.large_end_mm - taper.length_mm / taper.ratio
    assert taper.small_end_mm == pytest.approx(small, abs=0.003 if name.startswith("J") else 0.06)
    assert taper.half_angle_deg == pytest.approx(math.degrees(math.atan(0.5 / taper.ratio)), abs=2e-4)


@pytest.mark.parametrize("row", load("rings").rows, ids=lambda row: row.text("designation"))
@pytest.mark.parametrize("suffix", ["", "-2RS", "-2Z"])
def test_ring_sizes_and_lands_are_in_order(row: Row, suffix: str) -> None:
    found = ring(row.text("designation") + suffix)
    assert found.designation == row.text("designation")
    assert 0 < found.bore_mm < found.outside_mm
    assert 0 < 2 * found.chamfer_mm < found.width_mm < found.outside_mm
    assert found.bore_mm <= found.inner_land_min_mm <= found.inner_land_mm <= found.inner_land_max_mm
    assert found.outer_land_min_mm <= found.outer_land_mm <= found.outer_land_max_mm <= found.outside_mm
    if found.type in ("deep groove", "angular contact"):
        assert found.bore_mm < found.inner_land_min_mm
        assert found.inner_land_max_mm < found.outer_land_min_mm
        assert found.outer_land_max_mm < found.outside_mm
    if found.type != "thrust" and found.shaft_shoulder_mm is not None:
        assert found.housing_shoulder_mm is not None
        assert found.bore_mm < found.shaft_shoulder_mm < found.housing_shoulder_mm < found.outside_mm


def test_bore_code_of_designations() -> None:
    # Source: ISO 15 designations; 00 01 02 03 mean 10 12 15 17 mm, from 04 on five times the code.
    for row in load("rings").rows:
        name = row.text("designation")
        if row.text("type") in ("deep groove", "angular contact") and name[:4].isdigit() and 4 <= len(name) <= 5:
            code = int(name[2:4])
            assert row.number("bore_mm") == {0: 10, 1: 12, 2: 15, 3: 17}.get(code, code * 5), name


def test_names_and_aliases_of_rings_are_each_used_once() -> None:
    names = [n for row in load("rings").rows for n in (row.text("designation"), row.text("alias")) if n]
    assert len(names) == len(set(names))


def test_a_ring_of_given_size_is_the_known_one_or_estimated() -> None:
    from generator.tables import ring_of_size

    assert ring_of_size(12, 28, 8).designation == "6001"
    assert ring_of_size(12, 28, 8, sealed=True).inner_land_mm == ring("6001-2RS").inner_land_mm
    other = ring_of_size(13, 31, 9)
    assert other.land_confidence == "estimated"
    assert 13 < other.inner_land_min_mm < other.inner_land_max_mm < other.outer_land_min_mm < 31
    assert ring_of_size(13, 31, 9, chamfer_mm=0.5).chamfer_mm == 0.5


def test_estimates_cover_the_catalogue_values_they_were_fitted_to() -> None:
    from generator.tables.rings import INNER_LAND, INNER_LAND_SEALED, OUTER_LAND, OUTER_LAND_SEALED

    columns = {
        "inner_land_mm": (INNER_LAND, 1), "inner_land_sealed_mm": (INNER_LAND_SEALED, 1),
        "outer_land_mm": (OUTER_LAND, -1), "outer_land_sealed_mm": (OUTER_LAND_SEALED, -1),
    }
    for row in load("rings").rows:
        if row.text("type") != "deep groove":
            continue
        section = row.number("outside_mm") - row.number("bore_mm")
        for name, (share, side) in columns.items():
            if (land := row.maybe(name)) is not None:
                found = (land - row.number("bore_mm") if side > 0 else row.number("outside_mm") - land) / section
                assert share[0] - 0.005 <= found <= share[2] + 0.005, (row.text("designation"), name)


def test_ratings() -> None:
    for row in load("ring_ratings").rows:
        assert row.number("dynamic_kn") > 0.3
        assert 0.2 < row.number("static_kn") / row.number("dynamic_kn") < 2.6
        assert (row.maybe("grease_rpm") or 0) <= (row.maybe("oil_rpm") or 1)
        lowest = ring_rating(row.text("designation"))
        assert lowest.static_n <= row.number("static_kn") * 1000
        named = ring_rating(row.text("designation"), row.text("maker"))
        assert named.dynamic_n == pytest.approx(row.number("dynamic_kn") * 1000)
    open_ring, sealed = ring_rating("6202"), ring_rating("6202-2RS")
    assert open_ring.grease_rpm is not None
    assert sealed.grease_rpm is not None
    assert sealed.grease_rpm < open_ring.grease_rpm
    assert sealed.oil_rpm is None


def test_iso_281_factors_meet_at_the_branch_point() -> None:
    # At Fa / Fr = e both branches give P = Fr, so (1 - X) / Y = e; both are printed to two figures.
    for kind in ("deep groove", "angular contact 15 deg"):
        steps = load_factors(kind)
        assert rising([step.load_ratio for step in steps])
        assert rising([step.e for step in steps])
        assert rising([-step.y for step in steps])
        for step in steps:
            assert (1 - step.x) / step.y == pytest.approx(step.e, abs=0.006)


@pytest.mark.parametrize("size_mm", [4, 10, 10.001, 12, 18, 25, 30, 35, 50])
def test_better_rings_have_closer_limits(size_mm: float) -> None:
    normal, p6, p5 = (ring_limits(size_mm, size_mm + 20, accuracy) for accuracy in ("Normal", "P6", "P5"))
    for better, worse in ((p6, normal), (p5, p6)):
        assert 0 > better.bore_lower_mm >= worse.bore_lower_mm
        assert 0 > better.outside_lower_mm >= worse.outside_lower_mm
        assert 0 > better.width_lower_mm >= worse.width_lower_mm
        assert 0 < better.inner_runout_mm <= worse.inner_runout_mm
        assert 0 < better.outer_runout_mm <= worse.outer_runout_mm


@pytest.mark.parametrize("bore_mm", [3, 10, 12, 18, 20, 24, 25, 30, 40, 50])
def test_clearance_groups_rise_and_overlap(bore_mm: float) -> None:
    c2, cn, c3 = (radial_clearance(bore_mm, group) for group in ("C2", "CN", "C3"))
    assert c2[0] < cn[0] <= c2[1] < cn[1]
    assert cn[0] < c3[0] <= cn[1] < c3[1]


@pytest.mark.parametrize("row", load("iso286").rows, ids=lambda r: f"{r.text('tolerance_class')}-{r.text('incl_mm')}")
def test_iso_286_classes_are_as_wide_as_their_grade(row: Row) -> None:
    name = row.text("tolerance_class")
    found = limits(name, row.number("incl_mm"))
    width = it_grade(int("".join(c for c in name if c.isdigit())), row.number("incl_mm"))
    assert found.upper_mm - found.lower_mm == pytest.approx(width, abs=1e-9)
    assert found.upper_mm * 1000 == pytest.approx(row.number("upper_um"))
    assert found.lower_mm * 1000 == pytest.approx(row.number("lower_um"))


def test_iso_286_grades_rise_with_size_and_grade() -> None:
    for grade in range(5, 14):
        sizes = [3, 6, 10, 18, 30, 50, 80, 120, 180]
        assert rising([it_grade(grade, size) for size in sizes])
        assert all(it_grade(grade, size) < it_grade(grade + 1, size) for size in sizes)


@pytest.mark.parametrize("row", load("threads").rows, ids=lambda row: row.text("thread"))
def test_threads_keep_the_basic_profile(row: Row) -> None:
    # Source: ISO 68-1 profile: H = 0.866 P; D1 = d - 5/4 H; d2 = d - 3/4 H; d3 = d - 17/12 H.
    found = thread(row.text("thread"))
    height = math.sqrt(3) / 2 * found.pitch_mm
    assert found.pitch_diameter_mm == pytest.approx(found.major_mm - 0.75 * height, abs=0.0006)
    assert found.minor_internal_mm == pytest.approx(found.major_mm - 1.25 * height, abs=0.0006)
    assert found.root_mm == pytest.approx(found.major_mm - 17 / 12 * height, abs=0.0006)
    engagement = (found.major_mm - found.tap_drill_mm) / (1.25 * height)
    assert 0.60 <= engagement <= 1.02, "the tap drill leaves 60 to 100 % of the thread"
    # Source: ISO 898-1 takes (d2 + d3) / 2 = d - 0.9382 P; ASME B1.1 takes d - 0.9743 P.
    less = 0.9743 if found.series.startswith("UN") else 0.9382
    area_mm2 = math.pi / 4 * (found.major_mm - less * found.pitch_mm) ** 2
    assert found.stress_area_mm2 == pytest.approx(area_mm2, rel=0.001)
    if row.maybe("threads_tpi"):
        assert row.number("threads_tpi") * found.pitch_mm == pytest.approx(25.4, abs=1e-4)


def test_cap_screws() -> None:
    for row in load("cap_screws").rows:
        screw, size = cap_screw(row.text("thread")), thread(row.text("thread"))
        assert screw.head_height_mm == size.major_mm
        assert screw.thread_length_mm == 2 * size.major_mm + 12
        assert size.major_mm < row.number("head_diameter_min_mm") < screw.head_diameter_max_mm
        assert screw.head_diameter_max_mm < screw.head_diameter_knurled_mm
        assert screw.key_mm < size.major_mm
        assert 0.4 * size.major_mm <= screw.socket_depth_min_mm < screw.head_height_mm
        assert load("hex_keys").find(screw.key_mm)
    assert rising(list(cap_screw("M6").lengths_mm))


def test_holes_for_screws() -> None:
    for row in load("clearance_holes").rows:
        major = thread(row.text("thread")).major_mm
        assert major < row.number("fine_mm") < row.number("medium_mm") < row.number("coarse_mm") <= 1.25 * major
    for row in load("counterbores").rows:
        screw = cap_screw(row.text("thread"))
        assert row.number("diameter_mm") > screw.head_diameter_knurled_mm
        assert row.number("depth_mm") > screw.head_height_mm


def test_washers_and_shims() -> None:
    for row in load("washers").rows:
        major = thread(row.text("size")).major_mm
        assert major < row.number("inside_min_mm") < row.number("outside_max_mm")
        assert row.number("thickness_min_mm") < row.number("thickness_mm") < row.number("thickness_max_mm")
    for row in load("shims").rows:
        assert row.number("inside_mm") < row.number("outside_mm")
    assert rising(column("shim_thicknesses", "thickness_mm"))
    assert all(value < 0 for value in column("shim_thicknesses", "lower_mm"))


@pytest.mark.parametrize(("table", "side"), [("circlips_outside", -1), ("circlips_inside", 1)])
def test_circlip_grooves(table: str, side: int) -> None:
    assert rising(column(table, "size_mm"))
    for row in load(table).rows:
        size = row.number("size_mm")
        clip = circlip_outside(size) if side < 0 else circlip_inside(size)
        depth = side * (clip.groove_diameter_mm - size) / 2
        assert 0 < depth < 0.06 * size
        assert clip.groove_width_mm > clip.thickness_mm, "the groove is wider than its ring"
        assert clip.edge_margin_mm >= 2.9 * depth
        assert side * (clip.free_diameter_mm - clip.groove_diameter_mm) > 0, "the ring grips the floor of its groove"
        assert clip.lug_height_mm > clip.radial_width_mm > depth
        assert clip.groove_lower_mm <= 0 <= clip.groove_upper_mm
        assert clip.groove_upper_mm - clip.groove_lower_mm > 0


def test_centre_holes() -> None:
    for row in load("centre_holes").rows:
        pilot = row.number("pilot_mm")
        assert 2.0 * pilot < row.number("countersink_mm") < 2.2 * pilot, "countersink near 2.12 d"
        cone = (row.number("countersink_mm") - pilot) / 2 / math.tan(math.radians(30))
        assert row.number("depth_mm") > cone
        if row.text("form") == "B":
            assert row.number("protecting_mm") > row.number("countersink_mm")
        if row.text("form") == "R":
            assert row.number("flank_radius_min_mm") < row.number("flank_radius_max_mm")
    for form in "ABR":
        mine = [row for row in load("centre_holes").rows if row.text("form") == form]
        assert rising([row.number("depth_mm") for row in mine])
    for row in load("centre_drills").rows:
        assert row.number("body_mm") >= 2.12 * row.number("pilot_mm") * 0.98
    for row in load("centre_hole_choice").rows:
        assert 2.12 * row.number("pilot_mm") <= 0.71 * row.number("over_mm")


def test_dies_keys_balls_and_reliefs() -> None:
    for row in load("dies").rows:
        assert row.number("thickness_mm") < row.number("outside_mm")
    for row in load("hex_keys").rows:
        arms = [row.number("short_arm_mm"), row.number("long_arm_mm"), row.maybe("long_arm_long_mm")]
        assert rising([arm for arm in arms if arm is not None])
    for row in load("hex_keys_older").rows:
        assert row.number("short_arm_mm") < row.number("long_arm_mm")
    assert rising(column("hex_keys", "short_arm_mm"))
    assert rising(column("balls", "diameter_mm"))
    for row in load("thread_reliefs").rows:
        pitch = row.number("pitch_mm")
        assert row.number("width_min_mm") < row.number("width_max_mm") <= 3.6 * pitch
        assert row.number("diameter_less_mm") > 17 / 12 * math.sqrt(3) / 2 * pitch, "the relief is below the root"
    for table in ("undercuts", "ring_undercuts"):
        for row in load(table).rows:
            assert row.number("width_mm") > row.number("radius_mm") >= row.number("depth_mm")
    for row in load("ring_shoulders").rows:
        assert row.number("fillet_max_mm") <= row.number("chamfer_mm") < row.number("shoulder_min_mm")


@pytest.mark.parametrize("row", load("bars").rows, ids=lambda row: f"{row.text('size')} {row.text('finish')}")
def test_bars(row: Row) -> None:
    size = row.number("size_mm")
    area = math.pi / 4 * size**2 if row.text("kind") == "round" else math.sqrt(3) / 2 * size**2
    assert row.number("mass_kg_m") == pytest.approx(area * STEEL_KG_M_PER_MM2, rel=0.01)
    assert row.number("upper_um") == 0, "drawn bar is never over size"
    grade = int(row.text("tolerance").split(" (")[0].rsplit("h", 1)[1])
    wanted = it_grade(grade, size) * 1000
    assert -row.number("lower_um") in (pytest.approx(wanted), pytest.approx(it_grade(11, size) * 1000))


def test_bar_lists_rise() -> None:
    assert rising(list(bars("mm")))
    assert rising(list(bars("in")))
    assert rising(list(bars("mm", "hexagon")))
    assert rising(list(bars("in", "hexagon")))


@pytest.mark.parametrize(
    ("table", "name"), [("general_tolerances", "deviation_mm"), ("general_tolerances_edges", "deviation_mm")]
)
def test_general_tolerances_rise_with_size_and_class(table: str, name: str) -> None:
    rows = load(table).rows
    by_class = {
        letter: [row.number(name) for row in rows if row.text("class_letter") == letter] for letter in "fmcv"
    }
    for values in by_class.values():
        assert all(a <= b for a, b in pairwise(values))
    for finer, coarser in pairwise("fmcv"):
        count = min(len(by_class[finer]), len(by_class[coarser]))
        assert all(a <= b for a, b in zip(by_class[finer][-count:], by_class[coarser][-count:], strict=True))


def test_angles_are_freer_on_short_sides() -> None:
    for letter in "fmcv":
        rows = [row for row in load("general_tolerances_angles").rows if row.text("class_letter") == letter]
        assert rising([-row.number("deviation_deg") for row in rows])


@pytest.mark.parametrize("number", range(7))
def test_machine_defaults_let_a_plain_shank_be_ejected(number: int) -> None:
    defaults = machine_defaults(number)
    for figure in (
        defaults.quill_diameter_mm, defaults.quill_travel_mm, defaults.screw_lead_mm,
        defaults.handwheel_diameter_mm, defaults.ejector_depth_mm,
    ):
        assert 0 < figure.low <= figure.usual <= figure.high
        assert figure.confidence == "low"
    taper = morse(number)
    assert defaults.ejector_depth_mm.usual < taper.plain_length_mm, "the screw nose reaches a plain shank"
    assert defaults.quill_diameter_mm.low > taper.gauge_diameter_mm, "the quill has a wall round the taper"


def test_machine_figures_rise_with_the_class() -> None:
    for name in ("quill_diameter_mm", "quill_travel_mm", "ejector_depth_mm", "handwheel_diameter_mm"):
        assert rising([getattr(machine_defaults(number), name).usual for number in range(1, 7)])


def test_materials() -> None:
    for row in load("materials").rows:
        strength, tensile = row.maybe("yield_mpa"), row.maybe("tensile_mpa")
        if strength is not None and tensile is not None:
            assert 0.3 * tensile < strength < tensile
        name = row.text("material")
        if any(word in name for word in ("steel", "C45", "MnCr", "CrMo", "Cr6", "AISI", "S235", "S355", "SMn", "EN8")):
            if row.maybe("modulus_gpa") is not None:
                assert 190 <= row.number("modulus_gpa") <= 212
            if row.maybe("expansion_um_m_k") is not None:
                assert 10 <= row.number("expansion_um_m_k") <= 17
            if row.maybe("density_g_cm3") is not None:
                assert 7.6 < row.number("density_g_cm3") < 8.1
        if (ratio := row.maybe("poisson_ratio")) is not None:
            assert 0.2 < ratio < 0.5


def test_friction_cutting_and_retaining_ranges() -> None:
    for row in load("friction").rows:
        assert 0 < row.number("low_factor") < row.number("high_factor") < 0.5
    for row in load("kienzle").rows:
        assert 100 < row.number("kc11_n_mm2") < 5500
        assert 0.05 < row.number("mc_factor") < 0.5
    for row in load("cutting_speeds").rows:
        assert 0 < row.number("low_m_min") <= row.number("high_m_min") <= 1500
    for row in load("feeds").rows:
        assert 0 < row.number("value_mm_rev") < 1
    for row in load("retaining").rows:
        assert 0.05 <= row.number("gap_max_mm") <= 0.5
        assert row.number("strength_low_n_mm2") < row.number("strength_high_n_mm2")
    forces = load("cutting_force_by_feed").rows
    for a, b in pairwise(forces):
        if a.text("material") == b.text("material"):
            assert a.number("feed_mm_rev") < b.number("feed_mm_rev")
            assert a.number("kc_n_mm2") > b.number("kc_n_mm2"), "thin chips cost more force per area"
    for row in load("duplex_preload").rows:
        steps = [row.number(name) for name in ("extra_light_n", "light_n", "medium_n", "heavy_n")]
        assert rising(steps)


def test_drills_bars_and_holders_have_room() -> None:
    for row in load("drills").rows:
        assert row.number("flute_mm") < row.number("overall_mm")
    for row in load("drills_inch").rows:
        assert row.number("flute_mm") < row.number("overall_mm")
    for row in load("boring_bars").rows:
        bar, offset = row.maybe("bar_mm"), row.maybe("tip_offset_mm")
        if bar is not None and row.text("kind") != "solid carbide":
            assert bar < row.number("least_bore_mm")
        if offset is not None:
            assert bar is None or row.text("kind") == "solid carbide" or offset > bar / 2
            assert offset < row.number("least_bore_mm")
    for row in load("holders").rows:
        # The tip of a neutral tool stands in the middle of the shank, that of a handed one outside it.
        assert row.number("tip_offset_mm") >= row.number("shank_width_mm") / 2
        assert row.number("length_mm") > 2 * row.number("shank_height_mm")
