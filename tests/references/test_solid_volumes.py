"""Volumes of solids against what geometry and an independent mesh library say.

Sources: Pappus' second theorem (volume = area x path of its centroid); cylinder, cone and frustum; area of a circular
segment; the common volume of two crossing cylinders, 16 r^3 / 3 where they are equal (Archimedes; Steinmetz).
The manifold3d library cuts the same part from facets, and trimesh measures what is left.
"""

from __future__ import annotations

import math
from itertools import pairwise

import manifold3d
import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.description import Cross, Part, PartDraft, face_positions, outline, polygon
from generator.solid.build import solid_of, volume_of_mm3
from tests.sample import sample_body, sample_ring, sample_spindle, size

SIDES = 1024
# A regular polygon of this many sides on a circle of radius 1 has this share of the circle's area.
FACET_FACTOR = SIDES / (2 * math.pi) * math.sin(2 * math.pi / SIDES)
# Radii are enlarged so that polygon and circle have equal areas: turned volumes are then exact, and the outline of a
# facet lies no farther from the true circle than this share of the radius.
SWELL = FACET_FACTOR**-0.5
AWAY = max(SWELL - 1, 1 - SWELL * math.cos(math.pi / SIDES))


def plain(length_mm: float, diameter_mm: float) -> PartDraft:
    draft = PartDraft("plain", "Plain", "rear")
    draft.length("length", "front", "rear", 1, size(length_mm))
    draft.cylinder("outside", "outside", "rear", "front", size(diameter_mm))
    return draft


def test_cylinder_by_hand() -> None:
    # 10^2 x 30 = 3000 times pi.
    assert volume_of_mm3(solid_of(plain(30.0, 20.0).done())) == pytest.approx(3000 * math.pi, rel=1e-12)


def test_cone_by_hand() -> None:
    # A 60 degree point on 20 mm: height 10 / tan 30, a third of base area times height.
    draft = PartDraft("point", "Point", "base")
    draft.cone("point", "outside", "base", "tip", size(20.0), "base", -30.0)
    draft.place("tip", "point", size(0.0))
    height = 10 / math.tan(math.radians(30))
    assert volume_of_mm3(solid_of(draft.done())) == pytest.approx(math.pi * 100 * height / 3, rel=1e-9)


@pytest.mark.parametrize("part", [sample_body(), sample_spindle(), sample_ring("inner"), sample_ring("outer")])
def test_turned_volume_by_pappus(part: Part) -> None:
    corners = polygon(part)
    steps = [(z0 * r1 - z1 * r0, r0 + r1) for (z0, r0), (z1, r1) in pairwise([*corners, corners[0]])]
    area = sum(step for step, _ in steps) / 2
    centroid = sum(step * sums for step, sums in steps) / (6 * area)
    bare = Part(part.name, part.title, part.origin_face, part.lengths, part.places, part.surfaces)
    # Sixteen digits go into sums over hundreds of mm of position; ten are left.
    assert volume_of_mm3(solid_of(bare)) == pytest.approx(2 * math.pi * abs(centroid * area), rel=1e-10)


@pytest.mark.parametrize("across", [19.9, 15.0, 8.0])
def test_flats_take_two_circular_segments(across: float) -> None:
    draft = plain(30.0, 20.0)
    draft.length("flats", "flats_end", "rear", 1, size(12.0))
    draft.crossing("flats", "flats", "rear", "flats_end", across=size(across))
    half = across / 2
    segment = 100 * math.acos(half / 10) - half * math.sqrt(100 - half * half)
    expected = 3000 * math.pi - 2 * 12 * segment
    assert volume_of_mm3(solid_of(draft.done())) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("height", [0.0, 0.5, -2.0, 9.0])
def test_half_takes_one_circular_segment(height: float) -> None:
    draft = plain(30.0, 20.0)
    draft.length("half", "half_start", "front", -1, size(12.0))
    draft.crossing("half", "half", "half_start", "front", height=size(height))
    segment = 100 * math.acos(height / 10) - height * math.sqrt(100 - height * height)
    expected = 3000 * math.pi - 12 * segment
    assert volume_of_mm3(solid_of(draft.done())) == pytest.approx(expected, rel=1e-9)


def test_half_point_at_the_axis_is_half_a_cone() -> None:
    draft = PartDraft("point", "Half point", "rear")
    draft.length("length", "base", "rear", 1, size(30.0))
    draft.cylinder("outside", "outside", "rear", "base", size(20.0))
    draft.cone("point", "outside", "base", "tip", size(20.0), "base", -30.0)
    draft.place("tip", "point", size(0.0))
    draft.crossing("half", "half", "base", "tip", height=size(0.0))
    cone = math.pi * 100 * (10 / math.tan(math.radians(30))) / 3
    assert volume_of_mm3(solid_of(draft.done())) == pytest.approx(3000 * math.pi + cone / 2, rel=1e-9)


def crossing_volume_mm3(hole_radius: float, radius: float) -> float:
    """Common volume of a cylinder and a smaller one square through its axis, 8 times the integral over a quarter."""
    count = 400
    angles = [(k + 0.5) * math.pi / (2 * count) for k in range(count)]
    heights = [
        (hole_radius * math.cos(t)) ** 2 * math.sqrt(radius**2 - (hole_radius * math.sin(t)) ** 2) for t in angles
    ]
    return 8 * math.fsum(heights) * math.pi / (2 * count)


def test_crossing_volume_of_equal_cylinders() -> None:
    # The midpoint rule at the corner of equal cylinders converges with the square of the step only.
    assert crossing_volume_mm3(3.0, 3.0) == pytest.approx(16 * 27 / 3, rel=1e-5)


@pytest.mark.parametrize("diameter", [1.0, 5.0, 12.0])
def test_cross_hole_takes_the_common_volume(diameter: float) -> None:
    draft = plain(40.0, 20.0)
    draft.crossing("hole", "hole", "rear", "front", diameter=size(diameter))
    expected = 4000 * math.pi - crossing_volume_mm3(diameter / 2, 10.0)
    # The kernel holds the two curves where the cylinders meet to 1e-7 mm, over 2 x 50 mm at most.
    assert volume_of_mm3(solid_of(draft.done())) == pytest.approx(expected, abs=1e-5)


@settings(max_examples=60, deadline=None)
@given(
    st.integers(500, 60_000),
    st.integers(4_000, 60_000),
    st.floats(0.02, 0.98),
    st.floats(-360.0, 360.0),
    st.sampled_from(["flats", "half", "hole"]),
)
def test_any_one_cross_feature_takes_what_geometry_says(
    length_um: int, diameter_um: int, share: float, angle_deg: float, kind: str
) -> None:
    length, radius = length_um / 1000, diameter_um / 2000
    draft = plain(length, 2 * radius)
    if kind == "hole":
        hole = share * min(length, 2 * radius) * 0.95
        draft.crossing("cut", "hole", "rear", "front", angle_deg, diameter=size(hole))
        removed = crossing_volume_mm3(hole / 2, radius)
    else:
        height = radius * (2 * share - 1) if kind == "half" else radius * share
        sizes = {"height": size(height)} if kind == "half" else {"across": size(2 * height)}
        draft.crossing("cut", kind, "rear", "front", angle_deg, **sizes)
        segment = radius**2 * math.acos(height / radius) - height * math.sqrt(radius**2 - height**2)
        removed = length * segment * (1 if kind == "half" else 2)
    whole = math.pi * radius**2 * length
    assert volume_of_mm3(solid_of(draft.done())) == pytest.approx(whole - removed, abs=1e-7 * whole)


# -- mesh boolean


def mesh_volume_mm3(part: Part) -> float:
    """Volume of the part cut from facets, each circle replaced by a polygon of equal area."""
    corners = [(SWELL * r, z) for z, r in polygon(part)]
    area = sum(r0 * z1 - r1 * z0 for (r0, z0), (r1, z1) in pairwise([*corners, corners[0]]))
    section = manifold3d.CrossSection([corners if area > 0 else corners[::-1]])
    body = manifold3d.Manifold.revolve(section, SIDES)
    for cross in part.cross:
        for cutter in mesh_cutters(part, cross):
            body = body - cutter
    mesh = body.to_mesh64()
    measured = trimesh.Trimesh(np.asarray(mesh.vert_properties)[:, :3], np.asarray(mesh.tri_verts), process=False)
    assert measured.is_watertight
    return float(measured.volume)


def mesh_cutters(part: Part, cross: Cross) -> list[manifold3d.Manifold]:
    """Cutters in the mesh's frame: axis along z, up along x, written down again from the words of the description."""
    z_of = face_positions(part)
    near, far = sorted((z_of[cross.near], z_of[cross.far]))
    if cross.kind == "hole":
        radius = SWELL * cross.sizes["diameter"].nominal_mm / 2
        hole = manifold3d.Manifold.cylinder(200.0, radius, radius, SIDES, True)
        cutters = [hole.rotate((0, 90, 0)).translate((0, 0, (near + far) / 2))]
    else:
        height = cross.sizes["height"].nominal_mm if cross.kind == "half" else cross.sizes["across"].nominal_mm / 2
        slab = manifold3d.Manifold.cube((100, 200, far - near)).translate((height, -100, near))
        cutters = [slab] if cross.kind == "half" else [slab, slab.rotate((0, 0, 180))]
    return [cutter.rotate((0, 0, cross.angle_deg)) for cutter in cutters]


def facet_doubt_mm3(part: Part) -> float:
    """Most that facets can change what cross features take: outline deviation times the area of all turned surfaces and
    hole walls within reach of a cross feature.
    """
    found = outline(part)
    largest = max(max(edge.r0, edge.r1) for edge in found.outer)
    doubt = 0.0
    for cross in part.cross:
        if cross.kind == "hole":
            radius = cross.sizes["diameter"].nominal_mm / 2
            near = (found.z_of[cross.near] + found.z_of[cross.far]) / 2 - radius
            far = near + 2 * radius
            doubt += AWAY * radius * 2 * math.pi * radius * 2 * largest
        else:
            near, far = sorted((found.z_of[cross.near], found.z_of[cross.far]))
        for edge in (*found.outer, *found.inner):
            length = min(far, edge.z1) - max(near, edge.z0)
            if not edge.is_face and length > 0:
                radius = max(edge.r0, edge.r1)
                doubt += AWAY * radius * 2 * math.pi * radius * length
    return doubt


def bored_sleeve() -> Part:
    draft = PartDraft("sleeve", "Sleeve", "rear")
    draft.length("length", "front", "rear", 1, size(60.0))
    draft.length("step", "step", "rear", 1, size(35.0))
    draft.length("hole/near", "hole_near", "rear", 1, size(10.0))
    draft.length("hole/far", "hole_far", "rear", 1, size(20.0))
    draft.length("tang", "tang_end", "front", -1, size(12.0))
    draft.cone("cone", "outside", "rear", "step", size(24.0), "rear", 2.0)
    draft.cylinder("neck", "outside", "step", "front", size(18.0))
    draft.cylinder("bore", "inside", "rear", "front", size(8.0))
    draft.crossing("through", "hole", "hole_near", "hole_far", angle_deg=30.0, diameter=size(6.0))
    draft.crossing("tang", "tang", "tang_end", "front", angle_deg=75.0, across=size(13.0))
    return draft.done()


def half_point() -> Part:
    draft = PartDraft("point", "Half point", "shoulder")
    draft.length("nose", "point_end", "shoulder", 1, size(25.0))
    draft.length("half", "half_start", "point_end", -1, size(8.0))
    draft.cylinder("nose", "outside", "shoulder", "point_end", size(18.0))
    draft.cone("point", "outside", "point_end", "tip", size(18.0), "point_end", -30.0)
    draft.place("tip", "point", size(1.0))
    draft.crossing("half", "half", "half_start", "tip", height=size(0.4))
    return draft.done()


@pytest.mark.parametrize("part", [sample_ring("outer"), sample_body(), sample_spindle(), bored_sleeve(), half_point()])
def test_volume_by_mesh_boolean(part: Part) -> None:
    doubt = facet_doubt_mm3(part)
    expected = mesh_volume_mm3(part)
    # The doubt must be small against what the features take off, or the check would say nothing.
    assert doubt < 1e-5 * expected
    assert volume_of_mm3(solid_of(part)) == pytest.approx(expected, abs=doubt + 1e-9 * expected)
