"""Physical sense of fasteners, stock, machines and cutting: relations that hold whatever the source says."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from generator.tables import (
    Row,
    bars,
    cap_screw,
    circlip_inside,
    circlip_outside,
    it_grade,
    load,
    machine_defaults,
    morse,
    thread,
)

STEEL_KG_M_PER_MM2 = 7.85e-3


def column(table: str, name: str) -> list[float]:
    return [row.number(name) for row in load(table).rows]


def rising(values: list[float]) -> bool:
    return all(a < b for a, b in pairwise(values))


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
