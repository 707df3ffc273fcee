"""STEP files read as text, without the kernel that wrote them.

Sources: ISO 10303-21 (grammar; the reader stands in part21.py), ISO 10303-42 (CYLINDRICAL_SURFACE radius,
CONICAL_SURFACE radius and half angle, sense of an advanced face), ISO 10303-41 (SI_UNIT), the volume of a frustum.
"""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from generator.description import Part, PartDraft, Seat, Tool, nominal_positions, volume_mm3
from generator.solid.step import Solids, write_part, write_tool
from tests.references.part21 import Face, StepFile, decode, read_step, revolved_volume_mm3
from tests.sample import sample_body, sample_ring, sample_spindle, sample_tool, size

STAMP = "2025-01-31T12:00:00"


@pytest.fixture(scope="module")
def solids() -> Solids:
    return Solids()


def read_part(part: Part, folder: Path, solids: Solids | None = None) -> StepFile:
    path = folder / "part.step"
    write_part(part, path, STAMP, 7, solids=solids)
    return read_step(path.read_bytes())


def turned(part: Part) -> Part:
    return replace(part, cross=())


def by_name(faces: list[Face], name: str) -> list[Face]:
    return [face for face in faces if face.name == name]


# -- the reader itself, against strings written out by hand after the standard


@pytest.mark.parametrize(
    ("quoted", "text"),
    [
        ("'plain'", "plain"),
        ("'it''s'", "it's"),
        (r"'\X2\00D8\X0\ 44'", "\u00d8 44"),
        (r"'\X2\65E5672C\X0\'", "\u65e5\u672c"),
        (r"'\X4\0001D6FC\X0\'", "\U0001d6fc"),
        (r"'a\\b'", r"a\b"),
        ("'over\ntwo lines'", "overtwo lines"),
    ],
)
def test_strings_are_decoded(quoted: str, text: str) -> None:
    assert decode(quoted) == text


@pytest.mark.parametrize("broken", [b"", b"ISO-10303-21;\nDATA;\nENDSEC;\nEND-ISO-10303-21;\n"])
def test_no_exchange_structure_is_refused(broken: bytes) -> None:
    with pytest.raises(AssertionError, match="exchange structure"):
        read_step(broken)


# -- parts


@pytest.mark.parametrize("part", [sample_body(), sample_spindle(), sample_ring("inner"), sample_ring("outer")])
def test_turned_volume_from_text(part: Part, tmp_path: Path) -> None:
    file = read_part(turned(part), tmp_path)
    # Coordinates are written with 12 to 15 digits, so twelve are left after squares and sums.
    assert revolved_volume_mm3(file.faces()) == pytest.approx(volume_mm3(part), rel=1e-12)


def test_turned_part_has_only_true_surfaces(tmp_path: Path) -> None:
    file = read_part(turned(sample_body()), tmp_path)
    kinds = {kind for kind in file.counts if kind.endswith("SURFACE") or kind == "PLANE" or "B_SPLINE" in kind}
    assert kinds == {"CYLINDRICAL_SURFACE", "CONICAL_SURFACE", "PLANE"}
    # Seven cylinders (two reliefs, barrel, recess, pocket, floor recess, bore), three cones (taper, two chamfers).
    assert [file.counts[k] for k in ("CYLINDRICAL_SURFACE", "CONICAL_SURFACE")] == [7, 3]
    # Front, ledge, floor, floor recess, end, back, and both steps of the taper against its reliefs.
    assert file.counts["PLANE"] == 8
    assert file.counts["MANIFOLD_SOLID_BREP"] == 1


def test_cross_features_bring_no_free_form_surface(tmp_path: Path, solids: Solids) -> None:
    for part in (sample_body(), sample_spindle()):
        counts = read_part(part, tmp_path, solids).counts
        assert not [kind for kind in counts if "B_SPLINE_SURFACE" in kind or kind == "SURFACE_OF_REVOLUTION"]


def test_surfaces_have_the_described_sizes(tmp_path: Path, solids: Solids) -> None:
    part = sample_body()
    file = read_part(part, tmp_path, solids)
    for surface in part.surfaces:
        faces = by_name(file.faces(), surface.name)
        assert faces, surface.name
        for face in faces:
            assert face.is_about_x
            assert face.same_sense is (surface.side == "outside"), surface.name
            if surface.at:
                assert math.degrees(face.surface.values[3]) == pytest.approx(abs(surface.half_angle_deg), abs=1e-9)
            else:
                assert face.surface.values[2] == pytest.approx(surface.diameter.nominal_mm / 2, abs=1e-9)


def test_taper_has_its_gauge_diameter_at_the_gauge_plane(tmp_path: Path, solids: Solids) -> None:
    # The sample's gauge plane stands 32 + 5 mm behind the front face (its own numbers, tests/sample.py).
    (taper,) = by_name(read_part(sample_body(), tmp_path, solids).faces(), "taper")
    assert 2 * taper.radius_at(-37.0) == pytest.approx(23.825, abs=1e-9)
    assert taper.x_range == pytest.approx((-107.0, -34.0))


def test_thread_is_a_named_cylinder_of_its_own_length(tmp_path: Path, solids: Solids) -> None:
    file = read_part(sample_spindle(), tmp_path, solids)
    (thread,) = by_name(file.faces(), "THREAD M6")
    assert thread.kind == "CYLINDRICAL_SURFACE"
    assert thread.surface.values[2] == 2.5
    assert thread.x_range == pytest.approx((-17.5, -5.5))
    (rest,) = by_name(file.faces(), "tapped_hole")
    assert rest.x_range == pytest.approx((-5.5, -2.5))


def test_flats_and_hole_stand_where_described(tmp_path: Path, solids: Solids) -> None:
    flats = by_name(read_part(sample_body(), tmp_path, solids).faces(), "spanner_flats")
    assert sorted(face.origin[2] for face in flats) == pytest.approx([-19.0, 19.0])
    assert {face.kind for face in flats} == {"PLANE"}
    for flat in flats:
        assert flat.x_range == pytest.approx((-32.0, -22.0))
    (hole,) = by_name(read_part(sample_spindle(), tmp_path, solids).faces(), "tommy_hole")
    assert hole.kind == "CYLINDRICAL_SURFACE"
    assert abs(hole.axis[2]) == 1.0
    # Near and far stand 3 and 8 mm before the face of the 6 mm collar: the hole's middle is at 11.5.
    assert (hole.origin[0], hole.origin[1]) == pytest.approx((11.5, 0.0))
    assert not hole.same_sense


def test_a_flipped_hole_and_a_half_turn_with_the_angle(tmp_path: Path) -> None:
    draft = PartDraft("pin", "Pin", "rear")
    draft.length("length", "front", "rear", 1, size(40.0))
    draft.length("half/start", "half_start", "front", -1, size(10.0))
    draft.cylinder("outside", "outside", "rear", "front", size(12.0))
    draft.crossing("pin_hole", "hole", "rear", "half_start", angle_deg=90.0, diameter=size(4.0))
    draft.crossing("half", "half", "half_start", "front", angle_deg=90.0, height=size(1.0))
    faces = read_part(draft.done(), tmp_path).faces()
    (hole,) = by_name(faces, "pin_hole")
    assert abs(hole.axis[1]) == pytest.approx(1.0)
    (flat,) = by_name(faces, "half")
    # A right-hand quarter turn about x takes up (z) to -y.
    assert flat.origin[1] == pytest.approx(-1.0)
    assert min(y for _, y, _ in flat.points) == pytest.approx(-1.0)


def test_units_are_millimetres(tmp_path: Path, solids: Solids) -> None:
    assert read_part(sample_body(), tmp_path, solids).length_units == {(".MILLI.", ".METRE.")}


def test_header_is_fixed(tmp_path: Path) -> None:
    header = read_part(sample_ring("inner"), tmp_path).header
    name, stamp, author, organisation, _, system, authorisation = header["FILE_NAME"]
    assert (name, stamp, author, organisation) == ("part.step", STAMP, ("tailstock",), ("tailstock",))
    assert (system, authorisation) == ("tailstock", "")
    (schema,) = header["FILE_SCHEMA"][0]
    # Object identifier of the AP214 schema, ISO 10303-214.
    assert schema.startswith("AUTOMOTIVE_DESIGN { 1 0 10303 214 ")


@pytest.mark.parametrize(
    "title",
    [
        "Body",
        "K\u00f6rper \u00d844",
        "It's 'tight'",
        r"a\b",
        "tail\\",
        "\\X2\\0041\\X0\\",
        "\u65e5\u672c \U0001d6fc",
        "x" * 200,
        "a long name of words " * 10 + ".",
        "\u00d8 " * 100 + ".",
    ],
)
def test_product_name_survives(title: str, tmp_path: Path) -> None:
    file = read_part(replace(sample_ring("inner"), title=title), tmp_path)
    assert file.product_names == [f"7 {title}"]


# -- tools


@pytest.fixture(scope="module")
def tool_file(tmp_path_factory: pytest.TempPathFactory, solids: Solids) -> StepFile:
    path = tmp_path_factory.mktemp("tool") / "tool.step"
    write_tool(sample_tool(), path, STAMP, solids)
    return read_step(path.read_bytes())


def test_assembly_names_its_products(tool_file: StepFile) -> None:
    assert tool_file.product_names == [
        "Sample tool",
        "1 Body",
        "2 Spindle",
        "3 Bearing 6003 (ring_outer)",
        "3 Bearing 6003 (ring_inner)",
    ]


def test_assembly_leaves_neighbours_out_and_places_the_rest(tool_file: StepFile) -> None:
    tool = sample_tool()
    stands = nominal_positions(tool)
    assert [piece.identifier for piece in tool_file.pieces] == ["1", "2", "3", "4"]
    found = {piece.name: piece for piece in tool_file.pieces}
    assert set(found) == {"body", "spindle", "ring_outer", "ring_inner"}
    for name, piece in found.items():
        assert piece.origin == pytest.approx((stands[f"{name}/{tool.parts[name].origin_face}"], 0.0, 0.0), abs=1e-9)
        assert piece.x_axis == pytest.approx((1.0, 0.0, 0.0))


def test_stack_length_by_hand(tool_file: StepFile) -> None:
    # Gauge plane in the quill's face at 0; body's front 32 + 5 mm before it; floor 3 + 18 mm behind the front; ring
    # 10 mm wide on the floor; the spindle's shoulder on the ring's front (numbers of tests/sample.py, added by hand).
    found = {piece.name: piece.origin[0] for piece in tool_file.pieces}
    assert found["body"] == pytest.approx(37.0)
    assert found["ring_outer"] == pytest.approx(37.0 - 21.0 + 10.0)
    assert found["spindle"] == pytest.approx(26.0)


def test_each_product_holds_its_volume(tool_file: StepFile) -> None:
    for name, product in (("ring_outer", "3 Bearing 6003 (ring_outer)"), ("ring_inner", "3 Bearing 6003 (ring_inner)")):
        (solid,) = tool_file.solids_of(product)
        found = revolved_volume_mm3(tool_file.faces(solid))
        assert found == pytest.approx(volume_mm3(sample_tool().parts[name]), rel=1e-12)


def test_colours_tell_made_from_bought_and_threads(tool_file: StepFile) -> None:
    painted = tool_file.painted
    solids = [number for number, _ in tool_file.all_of("MANIFOLD_SOLID_BREP")]
    threads = [number for number, face in tool_file.all_of("ADVANCED_FACE") if face.values[0] == "THREAD M6"]
    assert sorted(painted) == sorted([*solids, *threads])
    # In the order of the parts list: body, spindle (turns), two rings (bought).
    body, spindle, outer, inner = (painted[number] for number in solids)
    assert outer == inner
    assert len({body, spindle, outer, painted[threads[0]]}) == 4


def test_equal_rings_are_one_product_and_flipped_parts_look_back(tmp_path: Path) -> None:
    draft = PartDraft("arbor", "Arbor", "rear")
    draft.length("length", "front", "rear", 1, size(50.0))
    draft.length("collar", "shoulder", "rear", 1, size(10.0))
    draft.cylinder("collar", "outside", "rear", "shoulder", size(25.0))
    draft.cylinder("seat", "outside", "shoulder", "front", size(17.0))
    rear_ring = replace(sample_ring("inner"), name="rear_ring", item="rear")
    front_ring = replace(sample_ring("inner"), name="front_ring", item="front")
    tool = Tool(
        "pair",
        "Pair of rings",
        "arbor",
        {part.name: part for part in (draft.done(), rear_ring, front_ring)},
        (Seat("rear_ring", "rear", "arbor", "shoulder"), Seat("front_ring", "front", "rear_ring", "front")),
        flipped=frozenset({"front_ring"}),
    )
    path = tmp_path / "pair.step"
    written = write_tool(tool, path, STAMP)
    file = read_step(path.read_bytes())
    assert file.product_names == ["Pair of rings", "1 Arbor", "2 Bearing 6003"]
    assert file.counts["MANIFOLD_SOLID_BREP"] == 2
    found = {piece.name: piece for piece in file.pieces}
    assert found["rear_ring"].origin == pytest.approx((20.0, 0.0, 0.0))
    assert found["rear_ring"].x_axis == pytest.approx((1.0, 0.0, 0.0))
    # Front on front, so both origin faces stand at 20; turned round, its own x looks back, up stays up.
    assert found["front_ring"].origin == pytest.approx((20.0, 0.0, 0.0))
    assert found["front_ring"].x_axis == pytest.approx((-1.0, 0.0, 0.0))
    assert found["front_ring"].z_axis == pytest.approx((0.0, 0.0, 1.0))
    assert written.volume_of_mm3["front_ring"] == written.volume_of_mm3["rear_ring"]
