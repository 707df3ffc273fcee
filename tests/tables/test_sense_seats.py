"""Physical sense of tapers, rings and limits: relations that hold in metal whatever the source says."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from generator.errors import TableError
from generator.tables import (
    Row,
    chuck_taper,
    it_grade,
    limits,
    load,
    load_factors,
    morse,
    radial_clearance,
    ring,
    ring_limits,
    ring_rating,
    rows,
    thread,
)


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


@pytest.mark.parametrize(
    ("asked", "first"),
    [("6OO1", "6001"), ("6001-QQ", "6001"), ("62O4 zz-Q", "6204"), ("6320-2RS", "6308"), ("7204Q", "7204")],
)
def test_the_ring_that_was_meant_is_offered_first(asked: str, first: str) -> None:
    """Letters for figures, suffixes unknown, a size too large for the table: same series and type, nearest size."""
    with pytest.raises(TableError, match=rf"nearest known: {first};") as caught:
        ring(asked)
    offered = str(caught.value).partition("nearest known: ")[2].split("; ")
    assert len({ring(name).designation for name in offered}) == 5
    assert ring(first).type in {ring(name).type for name in offered[:2]}


def test_a_ring_in_the_table_is_found_with_its_makers_suffixes() -> None:
    assert rows("rings", "6001-2RSH/C3") == rows("rings", "6001")
    with pytest.raises(TableError, match=r"nearest known: ([A-Z0-9/-]{3,6}; ){4}[A-Z0-9/-]{3,6}$"):
        rows("rings", "ZZTOP")


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
