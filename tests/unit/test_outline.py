"""The meridian: closed polygon, volume, walls; against shapely's areas and distances and Guldin's rule.

Volume by Guldin's rule: area of the meridian times the path of its centroid (any handbook of mathematics).
"""

import math
from itertools import pairwise

import pytest
from shapely.geometry import LineString, Polygon

from generator.description import PartDraft, least_wall, outline, polygon, volume_mm3
from generator.errors import GeometryError
from tests.helpers import frustum_mm3, rod, size, tube
from tests.sample import sample_body, sample_ring, sample_spindle


def guldin_mm3(corners):
    shape = Polygon(corners)
    assert shape.is_valid
    return shape.area * 2 * math.pi * shape.centroid.y


def chamfered(side):
    """A tube with a chamfer at both ends of one side."""
    draft = PartDraft("rod", "Rod", "front")
    draft.length("length", "rear", "front", -1, size(40.0))
    outside, bore = size(20.0), size(10.0)
    diameter = outside if side == "outside" else bore
    front = draft.chamfer("front_chamfer", side, "front", -1, diameter, size(1.5))
    rear = draft.chamfer("rear_chamfer", side, "rear", 1, diameter, size(1.0))
    draft.cylinder("outside", "outside", *((rear, front) if side == "outside" else ("rear", "front")), outside)
    draft.cylinder("bore", "inside", *((rear, front) if side == "inside" else ("rear", "front")), bore)
    return draft.done()


def grooved(side, near_mm=10.0, diameter=None):
    draft = rod()
    draft.cylinder("bore", "inside", "rear", "front", size(10.0))
    draft.length("groove/place", "groove_front", "front", -1, size(near_mm))
    draft.length("groove/width", "groove_near", "groove_front", -1, size(2.0))
    cut = diameter or (16.0 if side == "outside" else 13.0)
    draft.cylinder("groove", f"{side} groove", "groove_near", "groove_front", size(cut))
    return draft.done()


def blind(from_front):
    draft = rod()
    end, towards = ("front", -1) if from_front else ("rear", 1)
    draft.length("depth", "bottom", end, towards, size(25.0))
    near, far = ("bottom", end) if from_front else (end, "bottom")
    draft.cylinder("bore", "inside", near, far, size(10.0))
    return draft.done()


def drilled():
    draft = rod()
    draft.length("depth", "bottom", "rear", 1, size(25.0))
    draft.cylinder("bore", "inside", "rear", "bottom", size(10.0))
    draft.cone("point", "inside", "bottom", "drill_tip", size(10.0), "bottom", -59.0, role="drill point")
    draft.place("drill_tip", "point", size(0.0))
    return draft.done()


CYLINDER = math.pi * 100 * 40
BORE = math.pi * 25 * 40
EXPECTED = {
    "rod": (rod().done(), CYLINDER),
    "tube": (tube(), CYLINDER - BORE),
    # Ring of a chamfer: frustum against the cylinder it replaces.
    "chamfers outside": (
        chamfered("outside"),
        math.pi * 100 * 37.5 + frustum_mm3(20.0, 17.0, 1.5) + frustum_mm3(20.0, 18.0, 1.0) - BORE,
    ),
    "chamfers inside": (
        chamfered("inside"),
        CYLINDER - math.pi * 25 * 37.5 - frustum_mm3(13.0, 10.0, 1.5) - frustum_mm3(12.0, 10.0, 1.0),
    ),
    "groove outside": (grooved("outside"), CYLINDER - BORE - math.pi * (100 - 64) * 2),
    "groove inside": (grooved("inside"), CYLINDER - BORE - math.pi * (6.5**2 - 25) * 2),
    "blind from the front": (blind(True), CYLINDER - math.pi * 25 * 25),
    "blind from the rear": (blind(False), CYLINDER - math.pi * 25 * 25),
    "drilled": (drilled(), CYLINDER - math.pi * 25 * 25 - math.pi * 25 * (5 / math.tan(math.radians(59))) / 3),
}


@pytest.mark.parametrize("name", EXPECTED)
def test_volume_is_that_of_the_formula(name):
    part, expected = EXPECTED[name]
    assert volume_mm3(part) == pytest.approx(expected, rel=1e-12)


PARTS = {name: part for name, (part, _) in EXPECTED.items()} | {
    "body": sample_body(),
    "spindle": sample_spindle(),
    "ring": sample_ring("inner"),
}


@pytest.mark.parametrize("name", PARTS)
def test_the_polygon_is_closed_simple_and_turns_into_the_same_volume(name):
    part = PARTS[name]
    corners = polygon(part)
    assert len(set(corners)) == len(corners)
    assert min(r for _, r in corners) >= 0.0
    assert guldin_mm3(corners) == pytest.approx(volume_mm3(part), rel=1e-9)


@pytest.mark.parametrize("name", PARTS)
def test_edges_follow_each_other_without_a_gap(name):
    found = outline(PARTS[name])
    for edges in (found.outer, found.inner):
        for before, after in pairwise(edges):
            assert after.z0 == pytest.approx(before.z1) or (before.r1 == 0.0 and edges is found.inner)
            assert after.r0 == pytest.approx(before.r1)
        assert all(edge.name for edge in edges)


# --- walls ---


@pytest.mark.parametrize("name", [name for name, part in PARTS.items() if outline(part).inner])
def test_least_wall_is_the_distance_of_the_two_outlines(name):
    part = PARTS[name]
    found = outline(part)
    inner = [e for e in found.inner if e.is_face or part.surface(e.name).role != "chamfer"]
    outer = [e for e in found.outer if e.is_face or part.surface(e.name).role != "chamfer"]
    outside = [LineString([(e.z0, e.r0), (e.z1, e.r1)]) for e in outer]
    # An end that no bore opens is a wall as well.
    if found.inner[0].z0 > found.near_z:
        outside.append(LineString([(found.near_z, 0.0), (found.near_z, found.outer[0].r0)]))
    if found.inner[-1].z1 < found.far_z:
        outside.append(LineString([(found.far_z, 0.0), (found.far_z, found.outer[-1].r1)]))
    wall = least_wall(part)
    assert wall is not None
    assert wall.thickness_mm == pytest.approx(
        min(LineString([(e.z0, e.r0), (e.z1, e.r1)]).distance(line) for e in inner for line in outside), abs=1e-9
    )


def test_a_corner_comes_nearer_than_the_radii_say():
    # Pocket 30 x 12 in a head of 50 that steps down to 20: corner (12, 15) to corner (15, 10) is sqrt(9 + 25).
    draft = PartDraft("head", "Head", "front")
    draft.length("pocket/depth", "floor", "front", -1, size(12.0))
    draft.length("head/length", "back", "front", -1, size(15.0))
    draft.length("shank", "end", "back", -1, size(30.0))
    draft.cylinder("head", "outside", "back", "front", size(50.0))
    draft.cylinder("shank", "outside", "end", "back", size(20.0))
    draft.cylinder("pocket", "inside", "floor", "front", size(30.0))
    wall = least_wall(draft.done())
    assert wall is not None
    # The pocket's floor lies 3 mm ahead of the upright back face: that is nearer still.
    assert wall.thickness_mm == pytest.approx(3.0)


def test_a_sloping_wall_is_measured_square_to_the_slope():
    draft = PartDraft("cup", "Cup", "front")
    draft.length("length", "rear", "front", -1, size(40.0))
    draft.cone("outside", "outside", "rear", "front", size(40.0), "rear", 10.0)
    draft.cone("bore", "inside", "rear", "front", size(30.0), "rear", 10.0)
    wall = least_wall(draft.done())
    assert wall is not None
    assert wall.thickness_mm == pytest.approx(5.0 * math.cos(math.radians(10.0)))


@pytest.mark.parametrize("from_front", [True, False])
def test_the_bottom_of_a_blind_bore_is_a_wall(from_front):
    draft = rod()
    end, towards = ("front", -1) if from_front else ("rear", 1)
    draft.length("depth", "bottom", end, towards, size(39.4))
    near, far = ("bottom", end) if from_front else (end, "bottom")
    draft.cylinder("bore", "inside", near, far, size(10.0))
    wall = least_wall(draft.done())
    assert wall is not None
    assert wall.thickness_mm == pytest.approx(0.6)
    assert wall.outside == ("rear" if from_front else "front")


def test_a_solid_part_has_no_wall():
    assert least_wall(rod().done()) is None


# --- what cannot be formed ---


def test_a_surface_that_ends_before_it_begins_is_refused():
    draft = rod()
    draft.length("a", "a", "front", -1, size(10.0))
    draft.length("b", "b", "front", -1, size(12.0))
    draft.cylinder("bore", "inside", "a", "b", size(4.0))
    with pytest.raises(GeometryError, match=r"rod/bore: ends 2.000 mm before it begins \(from a to b\)"):
        outline(draft.done())


@pytest.mark.parametrize("bore", [20.0, 21.0])
def test_a_bore_as_wide_as_the_part_is_refused(bore):
    with pytest.raises(GeometryError, match="rod/bore: no wall left inside outside"):
        outline(tube(bore=bore))


def test_a_groove_that_breaks_through_to_the_bore_is_refused():
    with pytest.raises(GeometryError, match="rod/bore: no wall left inside groove"):
        outline(grooved("outside", diameter=9.0))
    with pytest.raises(GeometryError, match="rod/groove: no wall left inside outside"):
        outline(grooved("inside", diameter=20.5))


def test_a_neck_thinner_than_the_bore_is_refused():
    draft = PartDraft("rod", "Rod", "front")
    for name, at in (("a", 10.0), ("b", 20.0), ("rear", 30.0)):
        draft.length(name, name, "front", -1, size(at))
    draft.cylinder("head", "outside", "a", "front", size(20.0))
    draft.cylinder("neck", "outside", "b", "a", size(8.0))
    draft.cylinder("tail", "outside", "rear", "b", size(20.0))
    draft.cylinder("bore", "inside", "rear", "front", size(10.0))
    with pytest.raises(GeometryError, match="rod/bore: no wall left inside neck"):
        outline(draft.done())


def test_a_bore_that_ends_where_a_thinner_part_begins_cuts_it_off():
    draft = PartDraft("rod", "Rod", "front")
    draft.length("head", "back", "front", -1, size(10.0))
    draft.length("tail", "rear", "back", -1, size(10.0))
    draft.cylinder("head", "outside", "back", "front", size(20.0))
    draft.cylinder("tail", "outside", "rear", "back", size(8.0))
    draft.cylinder("bore", "inside", "back", "front", size(10.0))
    with pytest.raises(GeometryError, match="rod/bore: no wall left inside tail"):
        outline(draft.done())


def test_a_bore_that_leaves_the_part_is_refused():
    draft = rod()
    draft.length("deep", "deep", "front", -1, size(45.0))
    draft.cylinder("bore", "inside", "deep", "front", size(10.0))
    with pytest.raises(GeometryError, match=r"rod/bore: the bore reaches -45\.000 mm, beyond the end"):
        outline(draft.done())


def test_overlapping_surfaces_are_refused():
    draft = rod()
    draft.length("half", "half", "front", -1, size(20.0))
    draft.cylinder("collar", "outside", "half", "front", size(25.0))
    with pytest.raises(GeometryError, match="rod: outside and collar overlap"):
        outline(draft.done())


def test_a_hole_in_the_outside_is_refused():
    draft = PartDraft("rod", "Rod", "front")
    for name, at in (("a", 10.0), ("b", 12.0), ("rear", 30.0)):
        draft.length(name, name, "front", -1, size(at))
    draft.cylinder("head", "outside", "a", "front", size(20.0))
    draft.cylinder("tail", "outside", "rear", "b", size(20.0))
    with pytest.raises(GeometryError, match="rod: no outside surface between tail and head"):
        outline(draft.done())


def test_a_part_without_outside_is_refused():
    draft = PartDraft("rod", "Rod", "front")
    draft.length("length", "rear", "front", -1, size(10.0))
    draft.cylinder("bore", "inside", "rear", "front", size(5.0))
    with pytest.raises(GeometryError, match="rod: has no outside surface"):
        outline(draft.done())
