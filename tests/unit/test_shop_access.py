"""Tool access: geometry against shapely, the cases a turner meets, the picture, the cures."""

from __future__ import annotations

import math
import random
import xml.etree.ElementTree as ElementTree
from dataclasses import replace
from pathlib import Path

import pytest
from shapely import affinity
from shapely.geometry import MultiPoint, Polygon
from shapely.ops import unary_union

from generator.errors import InputError, OutputError
from generator.reckoning import access, access_cures
from generator.reckoning.access_shapes import gap_between, moved, rotated
from generator.reckoning.amounts import RangeError
from generator.reckoning.registry import find, run

TOOL = access.Holder(16.0, tip_ahead_mm=6.0, tip_beside_mm=1.0, insert_width_mm=7.0, out_mm=32.0)
CENTRE = access.Centre(
    6.3,
    (access.Stage("nose", 20.0, 3.0, 20.0), access.Stage("barrel", 55.0, 40.0, 55.0)),
    quill_mm=42.0, quill_out_mm=30.0, casting_mm=45.0,
)
CUT = access.Cut(22.0)


def _convex(count: int, left: float, right: float) -> Polygon:
    points = [(random.uniform(left, right), random.uniform(0.0, 10.0)) for _ in range(count)]
    return MultiPoint(points).convex_hull


def test_gap_of_convex_shapes_against_shapely() -> None:
    random.seed(20)
    for _ in range(400):
        one, two = _convex(6, 0.0, 10.0), _convex(5, 5.0, 18.0)
        found = gap_between(tuple(one.exterior.coords[:-1]), tuple(two.exterior.coords[:-1]))
        assert max(found.gap_mm, 0.0) == pytest.approx(one.distance(two), abs=1e-9)
        if found.gap_mm > 0:
            assert math.dist(found.first, found.second) == pytest.approx(found.gap_mm, abs=1e-9)


def _least_left(one: Polygon, two: Polygon, by_mm: float) -> float:
    """The least area two shapes share when one is moved this far in any direction."""
    ways = [math.pi * step / 180 for step in range(360)]
    moves = [affinity.translate(one, math.cos(way) * by_mm, math.sin(way) * by_mm) for way in ways]
    return min(move.intersection(two).area for move in moves)


def test_depth_of_overlap_against_shapely() -> None:
    """Moved by the depth some direction parts the shapes; moved by a tenth less none does."""
    random.seed(21)
    tried = 0
    while tried < 12:
        one, two = _convex(6, 0.0, 10.0), _convex(5, 5.0, 18.0)
        depth = -gap_between(tuple(one.exterior.coords[:-1]), tuple(two.exterior.coords[:-1])).gap_mm
        if depth < 0.2:
            continue
        tried += 1
        assert _least_left(one, two, 1.001 * depth) == pytest.approx(0.0, abs=2e-3)
        assert _least_left(one, two, 0.9 * depth) > 0


def test_least_gap_along_the_cut_against_shapely() -> None:
    """The whole tool moved in small steps against the whole outline."""
    for swing in (0.0, 15.0, 30.0):
        cut = access.Cut(30.0, start_mm=1.0, length_mm=20.0, retract_mm=3.0, waits_mm=4.0)
        things = access.obstacles(CENTRE)
        obstacle = unary_union([Polygon(thing.shape) for thing in things])
        tool = unary_union([Polygon(shape) for shape in access.tool_shapes(TOOL, swing).values()])
        steps = [(1.0 + 19.0 * i / 200, 15.0) for i in range(201)] + [(-4.0 + 24.0 * i / 200, 18.0) for i in range(201)]
        apart = min(affinity.translate(tool, *step).distance(obstacle) for step in steps)
        found = access.least_gap(TOOL, cut, things, swing)
        if apart > 0:
            assert found.gap_mm == pytest.approx(apart, abs=1e-6)
        else:
            assert found.gap_mm <= 0


def test_the_holder_meets_the_barrel_by_hand() -> None:
    """Cone 13.7 / 2 / tan 30 long, nose 3: barrel 14.864 behind the face; holder's flank 17 behind the tip."""
    tightest = access.least_gap(TOOL, CUT, access.obstacles(CENTRE))
    assert tightest.gap_mm == pytest.approx(6.85 / math.tan(math.radians(30)) + 3.0 - 17.0)
    assert (tightest.tool, tightest.obstacle) == ("holder", "barrel")
    assert 2 * tightest.gap.second[1] == pytest.approx(34.0)
    assert tightest.during == "cut"


def test_stopping_short_of_the_end_makes_room() -> None:
    things = access.obstacles(CENTRE)
    full = access.least_gap(TOOL, CUT, things).gap_mm
    short = access.least_gap(TOOL, replace(CUT, start_mm=5.0), things).gap_mm
    assert short == pytest.approx(full + 5.0)


def test_retract_past_the_end_counts() -> None:
    """Waiting 10 past the end face, 2 out, the holder (front at 19) is 10 deeper beside the barrel (27.5) by hand."""
    cut = replace(CUT, retract_mm=2.0, waits_mm=10.0)
    found = access.least_gap(TOOL, cut, access.obstacles(CENTRE))
    assert found.during == "retract"
    # Now the shortest way out is outward: 27.5 less the holder's front at 11 + 2 + 6.
    assert found.gap_mm == pytest.approx(-8.5)
    assert access.least_gap(TOOL, replace(cut, retract_mm=30.0), access.obstacles(CENTRE)).during == "cut"


def test_top_slide_passes_under_the_quill_but_meets_the_casting() -> None:
    slide = replace(TOOL, slide_reach_mm=60.0, slide_behind_mm=8.0, slide_below_mm=25.0)
    big = access.Cut(60.0)
    plain = access.least_gap(TOOL, big, access.obstacles(CENTRE))
    assert access.least_gap(slide, big, access.obstacles(CENTRE)).gap_mm <= plain.gap_mm
    casting = replace(CENTRE, quill_out_mm=0.0, stages=(access.Stage("nose", 20.0, 30.0, 20.0),))
    low = access.least_gap(slide, big, access.obstacles(casting))
    assert (low.tool, low.obstacle) == ("top slide", "casting")
    further = access.least_gap(slide, big, access.obstacles(replace(casting, quill_out_mm=40.0)))
    assert further.gap_mm > low.gap_mm


def test_least_diameter_just_clears() -> None:
    things = access.obstacles(CENTRE)
    least = access.least_diameter_mm(TOOL, CUT, things, 0.5)
    assert least is not None
    assert access.least_gap(TOOL, replace(CUT, diameter_mm=least), things, at_end_only=True).gap_mm >= 0.5 - 1e-6
    assert access.least_gap(TOOL, replace(CUT, diameter_mm=least - 0.02), things, at_end_only=True).gap_mm < 0.5
    # By hand: the holder's front must clear the barrel's 27.5 by 0.5 with the tip 6 ahead.
    assert least == pytest.approx(2 * (27.5 + 0.5 - 6.0), abs=0.01)


def test_swing_turns_the_whole_tool_about_the_tip() -> None:
    shape = ((0.0, 0.0), (-10.0, 5.0), (-10.0, 30.0))
    turned = Polygon(rotated(shape, 20.0))
    assert turned.symmetric_difference(affinity.rotate(Polygon(shape), -20.0, origin=(0, 0))).area < 1e-9
    assert moved(shape, 1.0, 2.0)[1] == (-9.0, 7.0)


def test_angles_left_by_turning_planes() -> None:
    """Independent: normals of face and flank turned in plan as vectors."""
    swing, side, back, flank = 20.0, 12.0, 8.0, 7.0
    left = access.angles_left(TOOL, swing, side, back, flank)
    assert left.approach_deg == pytest.approx(73.0)
    # Face: height falls by tan(side) towards the tailstock (-z) and tan(back) away from the axis (+r).
    gradient = complex(math.tan(math.radians(side)), -math.tan(math.radians(back)))
    turned = gradient * complex(math.cos(math.radians(swing)), -math.sin(math.radians(swing)))
    assert math.tan(math.radians(left.side_rake_deg)) == pytest.approx(turned.real)
    assert math.tan(math.radians(left.back_rake_deg)) == pytest.approx(-turned.imag)
    # Flank: square to the edge it falls back by tan(7); along the feed the edge is met at the approach angle.
    assert math.tan(math.radians(left.clearance_deg)) == pytest.approx(
        math.tan(math.radians(flank)) / math.sin(math.radians(73.0))
    )
    fed = access.angles_left(TOOL, 0.0, feed_mm=0.5, diameter_mm=10.0)
    unfed = access.angles_left(TOOL, 0.0)
    assert unfed.clearance_deg - fed.clearance_deg == pytest.approx(math.degrees(math.atan(0.5 / (math.pi * 10.0))))


def test_half_point_gives_room_beside_the_axis() -> None:
    full = replace(CENTRE, stages=(access.Stage("head", 24.0, 10.0, 24.0),))
    half = replace(full, flat_mm=0.75)
    slim = access.Cut(7.0)
    assert (
        access.least_gap(TOOL, slim, access.obstacles(half)).gap_mm
        > access.least_gap(TOOL, slim, access.obstacles(full)).gap_mm
    )


def test_cures_in_order_each_with_the_gap_it_gives() -> None:
    limits = access_cures.Limits(0.5, quill_more_mm=50.0, shank_height_mm=16.0, morse=3, nose_mm=16.0)
    found = access_cures.ranked(TOOL, CUT, CENTRE, limits)
    assert found[-1].what.startswith("make one")
    clear = [cure.clears for cure in found[:-1]]
    assert clear == sorted(clear, reverse=True)
    swing = next(cure for cure in found if cure.what.startswith("swing"))
    again = access.least_gap(TOOL, CUT, access.obstacles(CENTRE), swing.swing_deg)
    assert swing.gap_mm == pytest.approx(again.gap_mm)
    smaller = access.least_gap(TOOL, CUT, access.obstacles(CENTRE), swing.swing_deg - 5.0)
    assert smaller.gap_mm < 0.5 <= swing.gap_mm
    quill = next(cure for cure in found if cure.what.startswith("quill"))
    assert not quill.clears
    assert {"half centre", "dead centre"} <= {cure.what for cure in found}
    assert sum(cure.what.startswith("holder") for cure in found) == 3


def test_nose_needed_just_clears() -> None:
    """By hand: the barrel 17 behind the tip plus 0.5: cone (16 - 6.3) / 2 / tan 30, the rest is nose."""
    length = access_cures.nose_needed_mm(TOOL, CUT, CENTRE, 16.0, 0.5)
    cone = 9.7 / 2 / math.tan(math.radians(30))
    # The nose of 20 mm is wider than the new one, so it stays behind it, 3 long.
    assert length == pytest.approx(17.5 - cone - 3.0, abs=0.02)


def test_picture_is_sound_and_true_to_scale(tmp_path: Path) -> None:
    example = dict(find("access").example)
    path = tmp_path / "tight.svg"
    found = run("access", {**example, "svg": str(path), "picture": "yes"})
    assert found.results["picture"]["value"] == path.read_text(encoding="utf-8")
    root = ElementTree.parse(path).getroot()
    space = "{http://www.w3.org/2000/svg}"
    view = [float(number) for number in root.attrib["viewBox"].split()]
    assert float(root.attrib["width"]) / view[2] == pytest.approx(float(root.attrib["height"]) / view[3], rel=0.01)
    words = " ".join(text.text or "" for text in root.iter(f"{space}text"))
    assert "overlap 2.14" in words
    assert "barrel" in words
    spots = root.findall(f"{space}circle")
    assert float(spots[0].attrib["cx"]) == pytest.approx(found.results["tightest_at"]["value"], abs=1e-3)
    corners = [shape.attrib["points"] for shape in root.iter(f"{space}polygon")]
    assert any("-14.865,27.500" in points for points in corners)


def test_picture_files_are_named_and_refused_in_words(tmp_path: Path) -> None:
    example = dict(find("access").example)
    with pytest.raises(InputError, match=r"name ends in \.svg"):
        run("access", {**example, "svg": str(tmp_path / "tight.png")})
    with pytest.raises(OutputError, match="cannot be written"):
        run("access", {**example, "svg": "nowhere/there/tight.svg"})


def test_what_is_missing_or_unsound_is_told() -> None:
    with pytest.raises(InputError, match="the tool is not known"):
        run("access", {"work_diameter": "22", "nose_diameter": "20", "nose_length": "10"})
    with pytest.raises(InputError, match="the centre is not known"):
        run("access", {"work_diameter": "22", "holder_width": "16"})
    with pytest.raises(InputError, match="nose_length"):
        run("access", {"work_diameter": "22", "holder_width": "16", "nose_diameter": "20"})
    with pytest.raises(InputError, match="no such row in the table holders"):
        run("access", {"work_diameter": "22", "holder": "own", "nose_diameter": "20", "nose_length": "3"})
    with pytest.raises(RangeError, match="approach angle left is"):
        access.angles_left(replace(TOOL, approach_deg=45.0), 35.0)


def test_passing_tool_lists_no_cures_unless_asked() -> None:
    easy = {"work_diameter": "80", "holder": "SDJCR/L 1616H", "nose_diameter": "20", "nose_length": "30",
            "barrel_diameter": "45", "barrel_length": "40"}
    found = run("access", easy).results
    assert found["verdict"]["value"] == "the tool passes"
    assert "cure_1" not in found
    assert "cure_1" in run("access", {**easy, "cures": "yes"}).results


def test_swing_of_the_tool_stays_in_the_other_cures() -> None:
    things = access.obstacles(CENTRE)
    limits = access_cures.Limits(3.0, quill_more_mm=20.0, swing_deg=10.0)
    quill = next(cure for cure in access_cures.ranked(TOOL, CUT, CENTRE, limits) if cure.what.startswith("quill"))
    assert quill.gap_mm == pytest.approx(access.least_gap(TOOL, CUT, things, 10.0).gap_mm)


def test_cut_and_retract_are_told_apart() -> None:
    things = access.obstacles(CENTRE)
    cut = replace(CUT, start_mm=8.0, waits_mm=10.0)
    assert access.least_gap(TOOL, cut, things, during="cut").gap_mm > 0
    assert access.least_gap(TOOL, cut, things, during="retract").gap_mm < 0
    assert access.least_gap(TOOL, cut, things).during == "retract"
