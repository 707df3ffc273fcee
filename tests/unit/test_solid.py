from __future__ import annotations

import hashlib
import math
import os
import pickle
import signal
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from OCP.BRepCheck import BRepCheck_Analyzer

from generator.description import Part, PartDraft, Tool, volume_mm3
from generator.errors import GeometryError, OutputError
from generator.solid import worker
from generator.solid.build import solid_of, volume_of_mm3
from generator.solid.document import part21_text
from generator.solid.faces import named_faces
from generator.solid.step import Solids, write_part, write_tool
from generator.solid.worker import WHOLE_TOOL
from tests.references.part21 import decode, read_step, revolved_volume_mm3
from tests.sample import sample_body, sample_quill, sample_ring, sample_spindle, sample_tool, size

STAMP = "2025-01-31T12:00:00"
ROOT = Path(__file__).resolve().parents[2]
NAMES = {WHOLE_TOOL: "sample.step", "body": "sample-body.step", "spindle": "sample-spindle.step"}
PATIENCE_S = 120.0


def rod(length_mm: float = 30.0, diameter_mm: float = 20.0) -> PartDraft:
    draft = PartDraft("rod", "Rod", "rear")
    draft.length("length", "front", "rear", 1, size(length_mm))
    draft.cylinder("outside", "outside", "rear", "front", size(diameter_mm))
    return draft


# -- solids


@pytest.mark.parametrize(
    "part", [sample_body(), sample_spindle(), sample_ring("inner"), sample_ring("outer"), sample_quill()]
)
def test_turned_volume_is_the_described_one(part: Part) -> None:
    assert volume_of_mm3(solid_of(replace(part, cross=()))) == pytest.approx(volume_mm3(part), rel=1e-9)


def test_every_face_has_a_name_of_the_description() -> None:
    for part in (sample_body(), sample_spindle()):
        faces = named_faces(part, solid_of(part))
        names = {found.name for found in faces}
        known = {surface.name for surface in part.surfaces} | {cross.name for cross in part.cross}
        known |= {length.face for length in part.lengths} | {place.face for place in part.places} | {part.origin_face}
        assert names - known == ({"THREAD M6"} if part.zones else set())
        assert {cross.name for cross in part.cross} <= names
        assert {found.name for found in faces if found.is_zone} == names - known


def test_a_zone_in_the_middle_gets_a_face_of_its_own() -> None:
    draft = rod()
    draft.length("zone/start", "zone_start", "rear", 1, size(8.0))
    draft.length("zone/end", "zone_end", "zone_start", 1, size(9.0))
    draft.zone("knurl", "outside", "zone_start", "zone_end", "knurl", "RAA 0.8")
    part = draft.done()
    names = [found.name for found in named_faces(part, solid_of(part))]
    assert sorted(names) == ["KNURL RAA 0.8", "front", "outside", "outside", "rear"]


@pytest.mark.parametrize(
    ("kind", "sizes", "message"),
    [
        ("flats", {"across": 20.0}, "rod/cut: a flat 10.000 mm from the axis takes nothing off"),
        ("tang", {"across": 25.0}, "rod/cut: a flat 12.500 mm from the axis takes nothing off"),
        ("tang", {"across": 0.0}, "rod/cut: a flat 0.000 mm"),
        ("half", {"height": 10.0}, "rod/cut: a flat 10.000 mm"),
        ("half", {"height": -10.5}, "rod/cut: a flat -10.500 mm"),
        ("hole", {"diameter": 20.0}, "rod/cut: a cross hole of 20.000 mm in a diameter of 20.000 mm"),
        ("hole", {"diameter": 0.0}, "rod/cut: a cross hole of 0.000 mm"),
        ("slot", {"width": 20.0}, "rod/cut: a slot of 20.000 mm in a diameter of 20.000 mm"),
        ("notch", {"width": 5.0}, "rod/cut: no cross feature of kind notch"),
    ],
)
def test_senseless_cross_features_are_refused(kind: str, sizes: dict[str, float], message: str) -> None:
    draft = rod()
    draft.crossing("cut", kind, "rear", "front", 0.0, **{name: size(value) for name, value in sizes.items()})
    with pytest.raises(GeometryError, match=message):
        solid_of(draft.done())


def test_a_feature_lost_in_another_is_refused() -> None:
    draft = rod()
    draft.crossing("deep", "flats", "rear", "front", across=size(8.0))
    draft.crossing("shallow", "flats", "rear", "front", across=size(12.0))
    with pytest.raises(GeometryError, match="rod: shallow leaves no face of its own"):
        solid_of(draft.done())


def test_a_part_cut_in_two_is_refused() -> None:
    draft = rod()
    draft.cylinder("bore", "inside", "rear", "front", size(12.0))
    draft.crossing("flats", "flats", "rear", "front", across=size(8.0))
    with pytest.raises(GeometryError, match="rod: the part falls into separate pieces"):
        solid_of(draft.done())


def test_a_bore_that_breaks_out_is_refused() -> None:
    draft = rod(40.0, 12.0)
    draft.cone("bore", "inside", "rear", "front", size(2.0), "rear", 8.0)
    with pytest.raises(GeometryError, match="rod/bore: no wall left inside outside"):
        solid_of(draft.done())


@st.composite
def stepped_parts(draw: st.DrawFn) -> Part:
    """A shaft of cylinders and cones with a stepped bore that leaves a wall, and perhaps a thread on a step."""
    draft = PartDraft("shaft", "Shaft", "at_0")
    steps = draw(st.integers(1, 6))
    micrometres = st.integers(12_000, 60_000)
    smallest = math.inf
    for index in range(steps):
        draft.length(f"l{index}", f"at_{index + 1}", f"at_{index}", 1, size(draw(st.integers(500, 40_000)) / 1000))
        diameter = draw(micrometres) / 1000
        part = draft.done()
        length = part.lengths[-1].size.nominal_mm
        if draw(st.booleans()):
            half_angle = draw(st.sampled_from([-30.0, -1.4377, 1.4377, 5.0, 45.0]))
            end = diameter + 2 * length * math.tan(math.radians(half_angle))
            if end < 10.0:
                half_angle, end = 1.4377, diameter
            draft.cone(
                f"s{index}", "outside", f"at_{index}", f"at_{index + 1}", size(diameter), f"at_{index}", half_angle
            )
            smallest = min(smallest, end)
        else:
            draft.cylinder(f"s{index}", "outside", f"at_{index}", f"at_{index + 1}", size(diameter))
        smallest = min(smallest, diameter)
    for index in range(draw(st.integers(0, steps))):
        bore = draw(st.integers(1_000, int(smallest * 900))) / 1000
        draft.cylinder(f"b{index}", "inside", f"at_{index}", f"at_{index + 1}", size(bore))
    if draw(st.booleans()):
        draft.zone("thread", "s0", "at_0", "at_1", "thread", "M20x1.5")
    return draft.done()


@settings(max_examples=60, deadline=None)
@given(stepped_parts())
def test_any_stepped_part_is_valid_and_as_described(part: Part) -> None:
    solid = solid_of(part)
    assert BRepCheck_Analyzer(solid).IsValid()
    assert volume_of_mm3(solid) == pytest.approx(volume_mm3(part), rel=1e-9)
    assert all(found.name for found in named_faces(part, solid))


@settings(max_examples=25, deadline=None)
@given(stepped_parts(), st.floats(0.05, 0.95), st.floats(-180, 180), st.sampled_from(["flats", "half", "hole", "tang"]))
def test_any_cross_feature_leaves_a_valid_solid(part: Part, share: float, angle_deg: float, kind: str) -> None:
    first = part.surfaces[0]
    smallest = min(s.diameter.nominal_mm for s in part.surfaces if s.side == "outside")
    bore = max((s.diameter.nominal_mm for s in part.surfaces if s.side == "inside"), default=0.0)
    draft = PartDraft("cut", "Cut", "at_0")
    if kind == "hole":
        sizes = {"diameter": size(share * min(smallest, part.lengths[0].size.nominal_mm) * 0.9)}
    elif kind == "half":
        sizes = {"height": size((bore + share * (smallest - bore)) / 2)}
    else:
        sizes = {"across": size(bore + share * (smallest - bore))}
    draft.crossing("feature", kind, first.near, first.far, angle_deg, **sizes)
    cut = replace(part, cross=draft.done().cross)
    solid = solid_of(cut)
    assert BRepCheck_Analyzer(solid).IsValid()
    assert 0.0 < volume_of_mm3(solid) < volume_mm3(part)
    assert "feature" in {found.name for found in named_faces(cut, solid)}


@pytest.mark.parametrize("angle_deg", [0.0, 60.0, -140.0])
def test_an_open_ring_is_one_valid_piece_with_its_gap(angle_deg: float) -> None:
    draft = PartDraft("clip", "Clip", "back", bought="clip")
    draft.length("thickness", "front", "back", 1, size(2.0))
    draft.cylinder("outside", "outside", "back", "front", size(30.0))
    draft.cylinder("inside", "inside", "back", "front", size(24.0))
    draft.crossing("gap", "slot", "back", "front", angle_deg=angle_deg, width=size(8.0))
    ring = draft.done()
    solid = solid_of(ring)
    assert BRepCheck_Analyzer(solid).IsValid()
    # What a slot of 8 takes off a ring: two segments of circles over the same chord, by the formula of any handbook.
    halves = ((15.0, 1.0), (12.0, -1.0))
    taken = sum(sign * (r * r * math.asin(4.0 / r) + 4.0 * math.sqrt(r * r - 16.0)) for r, sign in halves)
    assert volume_of_mm3(solid) == pytest.approx(volume_mm3(ring) - 2.0 * taken, rel=1e-6)


@settings(max_examples=15, deadline=None)
@given(stepped_parts())
def test_any_stepped_part_reads_back_from_text(part: Part) -> None:
    path = Path(os.environ["PYTEST_TMP"]) / "part.step"
    write_part(part, path, STAMP)
    assert revolved_volume_mm3(read_step(path.read_bytes()).faces()) == pytest.approx(volume_mm3(part), rel=1e-11)


@pytest.fixture(autouse=True)
def _folder_for_examples(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTEST_TMP", str(tmp_path))


# -- files


@given(st.text(max_size=40))
def test_names_come_back_from_part_21(text: str) -> None:
    escaped = part21_text(text)
    assert escaped.isascii()
    assert escaped.isprintable()
    assert decode("'" + escaped.replace("'", "''") + "'") == text


def test_same_inputs_same_bytes(tmp_path: Path) -> None:
    digests = set()
    for _ in range(3):
        solids = Solids()
        write_tool(sample_tool(), tmp_path / "sample.step", STAMP, solids)
        write_part(sample_body(), tmp_path / "body.step", STAMP, 1, solids=solids)
        both = (tmp_path / "sample.step").read_bytes() + (tmp_path / "body.step").read_bytes()
        digests.add(hashlib.sha256(both).hexdigest())
    assert len(digests) == 1


def test_the_stamp_is_the_only_difference(tmp_path: Path) -> None:
    path = tmp_path / "ring.step"
    write_part(sample_ring("inner"), path, STAMP)
    first = path.read_bytes()
    write_part(sample_ring("inner"), path, "2026-02-28T01:02:03")
    assert path.read_bytes() == first.replace(STAMP.encode(), b"2026-02-28T01:02:03")


def test_writing_says_nothing(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    write_tool(sample_tool(), tmp_path / "sample.step", STAMP)
    assert capfd.readouterr() == ("", "")


def test_a_folder_that_is_not_there_is_an_output_error(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="cannot be written"):
        write_part(sample_ring("inner"), tmp_path / "none" / "ring.step", STAMP)


def test_a_tool_of_neighbours_only_is_refused(tmp_path: Path) -> None:
    tool = Tool("none", "Nothing", "quill", {"quill": sample_quill()}, ())
    with pytest.raises(GeometryError, match="only neighbours"):
        write_tool(tool, tmp_path / "none.step", STAMP)


# -- second process


def test_descriptions_survive_pickling() -> None:
    tool = sample_tool()
    back = pickle.loads(pickle.dumps(tool))
    assert back == tool
    # Derived fields are left out of comparison and of __init__, so they are looked at one by one.
    assert back.seat_of == tool.seat_of
    for name, part in tool.parts.items():
        assert back.parts[name].by_name == part.by_name
        assert back.parts[name].surface(part.surfaces[0].name) == part.surfaces[0]


def test_the_second_process_writes_what_this_one_would(tmp_path: Path) -> None:
    away, here = tmp_path / "away", tmp_path / "here"
    away.mkdir()
    here.mkdir()
    with worker.start(sample_tool(), NAMES, away, STAMP) as job:
        solids = Solids()
        expected = {
            "sample.step": write_tool(sample_tool(), here / "sample.step", STAMP, solids),
            "sample-body.step": write_part(sample_body(), here / "sample-body.step", STAMP, 1, False, solids),
            "sample-spindle.step": write_part(sample_spindle(), here / "sample-spindle.step", STAMP, 2, True, solids),
        }
        assert job.result(PATIENCE_S) == expected
    assert sorted(path.name for path in away.iterdir()) == sorted(NAMES.values())
    for name in NAMES.values():
        assert (away / name).read_bytes() == (here / name).read_bytes(), name


def test_importing_the_worker_loads_no_kernel() -> None:
    code = "import sys, generator.solid.worker; print([m for m in sys.modules if m.split('.')[0] in ('OCP', 'numpy')])"
    run = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


def test_modules_in_the_working_folder_stay_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("OCP", "pickle", "generator"):
        (tmp_path / f"{name}.py").write_text("raise SystemExit('the wrong module')\n")
    monkeypatch.chdir(tmp_path)
    written = worker.start(sample_tool(), {"ring_inner": "ring.step"}, tmp_path, STAMP).result(PATIENCE_S)
    assert written["ring.step"].volume_mm3 == pytest.approx(volume_mm3(sample_ring("inner")), rel=1e-9)


def test_an_unsound_part_is_a_geometry_error_with_its_name(tmp_path: Path) -> None:
    draft = rod()
    draft.crossing("cut", "flats", "rear", "front", across=size(50.0))
    tool = Tool("rod", "Rod", "rod", {"rod": draft.done()}, ())
    with pytest.raises(GeometryError, match="rod/cut: a flat"):
        worker.start(tool, {WHOLE_TOOL: "rod.step"}, tmp_path, STAMP).result(PATIENCE_S)
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_cannot_be_written_is_an_output_error(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="cannot be written"):
        worker.start(sample_tool(), {"body": "body.step"}, tmp_path / "none", STAMP).result(PATIENCE_S)


def test_an_unknown_part_is_refused_before_anything_starts(tmp_path: Path) -> None:
    with pytest.raises(GeometryError, match="no part called lid"):
        worker.start(sample_tool(), {"lid": "lid.step"}, tmp_path, STAMP)


@pytest.mark.parametrize("number", [signal.SIGSEGV, signal.SIGKILL])
def test_a_crash_is_one_output_error(number: int, tmp_path: Path) -> None:
    job = worker.start(sample_tool(), NAMES, tmp_path, STAMP)
    os.kill(job.process_id, number)
    with pytest.raises(OutputError, match=f"ended early .{signal.strsignal(number)}"):
        job.result(PATIENCE_S)


def test_late_solids_are_an_output_error_and_their_process_ends(tmp_path: Path) -> None:
    job = worker.start(sample_tool(), NAMES, tmp_path, STAMP)
    with pytest.raises(OutputError, match=r"not ready after 0\.01 s"):
        job.result(0.01)
    with pytest.raises(ProcessLookupError):
        os.kill(job.process_id, 0)


def test_an_error_of_the_caller_ends_the_second_process(tmp_path: Path) -> None:
    job = worker.start(sample_tool(), NAMES, tmp_path, STAMP)
    with pytest.raises(KeyError), job:
        raise KeyError
    with pytest.raises(ProcessLookupError):
        os.kill(job.process_id, 0)
