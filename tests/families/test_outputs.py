"""Every kind's example made whole, then read back with readers that share nothing with the writers.

Readers: ezdxf for the DXF (a library, not our labels), pdfplumber for the PDF, the Part-21 text reader of
tests/references for the STEP (ISO 10303-21; no modelling kernel).
"""

from __future__ import annotations

import json
import math
import subprocess
import sys
import zipfile
from pathlib import Path

import ezdxf
import pdfplumber
import pytest

from generator.description import Part, face_positions, volume_mm3
from generator.job.reader import find_job, read_job
from generator.kinds import kinds, load_kind
from generator.make import Made, make
from tests.references.part21 import read_step

ROOT = Path(__file__).resolve().parents[2]
POINT_MM = 25.4 / 72


def job_text(kind: str) -> str:
    return f'kind = "{kind}"\nname = "example"\n{load_kind(kind).EXAMPLE}'


@pytest.fixture(scope="module", params=["demo", *kinds()])
def made(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Made:
    source = find_job("demo") if request.param == "demo" else job_text(request.param)
    return make(read_job(source), tmp_path_factory.mktemp("made") / "out")


def parts_of(made: Made) -> tuple[Part, ...]:
    return made.design.tool.made


def dimensions(path: Path) -> dict[str, float]:
    """Measurement of every DIMENSION in a file by the address it carries."""
    found: dict[str, float] = {}
    for entity in ezdxf.readfile(path).modelspace().query("DIMENSION"):
        address = next(value for code, value in entity.get_xdata("TAILSTOCK") if code == 1000)
        assert address not in found, f"{address} is dimensioned twice"
        found[address] = entity.get_measurement()
    return found


def wanted(part: Part) -> dict[str, float]:
    """Every tree edge and every diameter of a part that its sheet must show, by address."""
    sizes = {f"{part.name}/{length.name}": length.size for length in part.lengths}
    for surface in part.surfaces:
        if surface.role != "chamfer":
            sizes[f"{part.name}/{surface.name}/diameter"] = surface.diameter
    return {address: size.nominal_mm for address, size in sizes.items() if not size.derived}


def test_every_edge_and_diameter_is_a_dimension_once_and_measures_its_nominal(made):
    for part in parts_of(made):
        shown = dimensions(made.folder / f"{made.design.job.params.name}-{part.name}.dxf")
        for address, nominal in wanted(part).items():
            assert address in shown, f"{address} is not dimensioned"
            assert shown[address] == pytest.approx(nominal, abs=5e-4), address


def test_the_plan_prints_each_sheet_with_a_true_check_line(made):
    with pdfplumber.open(made.folder / f"{made.design.job.params.name}.pdf") as plan:
        sheets = [page for page in plan.pages if "print at 100 %" in (page.extract_text() or "")]
        assert len(sheets) >= 1 + len(parts_of(made))
        for page in sheets:
            level = [line for line in page.lines if abs(line["y0"] - line["y1"]) < 0.01]
            lengths = [(line["x1"] - line["x0"]) * POINT_MM for line in level]
            assert any(abs(length - 100.0) <= 0.02 for length in lengths), page.page_number


def test_the_plan_speaks_of_every_made_part_and_of_what_is_not_checked(made):
    with pdfplumber.open(made.folder / f"{made.design.job.params.name}.pdf") as plan:
        text = "\n".join(page.extract_text() or "" for page in plan.pages)
    for part in parts_of(made):
        assert part.title in text
    for word in ("Order of work", "Settings for the taper", "Verdict", "Cautions", "rating"):
        assert word in text


def test_the_solids_name_their_parts_in_millimetres(made):
    name = made.design.job.params.name
    for part in parts_of(made):
        step = read_step((made.folder / f"{name}-{part.name}.step").read_bytes())
        assert step.length_units == {(".MILLI.", ".METRE.")}
        assert any(part.title in product for product in step.product_names)
        assert not [kind for kind in step.counts if kind.startswith("B_SPLINE_SURFACE")]


def test_profiles_are_closed_and_as_long_as_the_part(made):
    name = made.design.job.params.name
    for part in parts_of(made):
        lines = list(ezdxf.readfile(made.folder / f"{name}-{part.name}-profile.dxf").modelspace())
        assert {entity.dxftype() for entity in lines} == {"LWPOLYLINE"}
        assert all(line.closed for line in lines)
        xs = [x for line in lines for x, *_ in line.get_points()]
        outside = {face for s in part.surfaces if s.side == "outside" for face in (s.near, s.far)}
        z_of = [z for face, z in face_positions(part).items() if face in outside]
        assert min(abs(min(xs)), abs(max(xs))) == pytest.approx(0.0, abs=1e-6), "one end stands at x = 0"
        assert max(xs) - min(xs) == pytest.approx(max(z_of) - min(z_of), abs=1e-6)


def test_profiles_turn_into_the_volume_described(made):
    """Pappus: area of the upper half times the way of its centroid, from the polyline's corners alone."""
    name = made.design.job.params.name
    for part in parts_of(made):
        volume = 0.0
        for line in ezdxf.readfile(made.folder / f"{name}-{part.name}-profile.dxf").modelspace():
            points = [(x, y) for x, y, *_ in line.get_points()]
            for (x0, y0), (x1, y1) in zip(points, [*points[1:], points[0]], strict=True):
                volume += math.pi / 3 * (x0 - x1) * (y0 * y0 + y0 * y1 + y1 * y1)
        assert abs(volume) == pytest.approx(volume_mm3(part), rel=1e-6)


def test_the_record_lists_every_file(made):
    record = json.loads((made.folder / "record.json").read_text())
    on_disk = {path.name for path in made.folder.iterdir()} - {"record.json"}
    assert set(record["files"]) == on_disk


def test_the_wheel_works_from_another_folder(tmp_path):
    """Built without isolation, unpacked, and run with nothing of this checkout on the path."""
    subprocess.run(
        [*(sys.executable, "-m", "pip", "wheel", "-q", "--no-deps"), "--no-build-isolation", "-w", tmp_path, ROOT],
        check=True,
    )
    (wheel,) = tmp_path.glob("*.whl")
    place = tmp_path / "unpacked"
    with zipfile.ZipFile(wheel) as packed:
        packed.extractall(place)
    tops = {path.name for path in place.iterdir() if not path.name.endswith(".dist-info")}
    assert tops == {"generator", "templates"}
    code = "import generator; from generator.cli import run; print(generator.__file__); exit(run(['check', 'demo']))"
    ran = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, env={"PYTHONPATH": str(place), "PATH": ""}, capture_output=True,
        text=True, check=False,
    )
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout.startswith(str(place))
