"""The file of a sheet: layers by purpose, units, style of dimensions, audit; choices that come from the shop file."""

from __future__ import annotations

from functools import cache
from io import StringIO
from typing import Any

import ezdxf
import pytest

from benchmarks.random_jobs import sheets_of
from generator.drawing.dxf_file import dxf_bytes, dxf_text
from generator.drawing.profile import profile
from generator.drawing.style import LAYERS
from generator.job.design import Design, inspect, work_out
from generator.job.reader import find_job, read_job
from generator.job.shop import read_shop
from generator.titles import arrangement_block

MM = 4  # $INSUNITS. Source: DXF reference, header variables.
DEMO = find_job("demo").read_text(encoding="utf-8")


@cache
def design(units: str) -> Design:
    return inspect(work_out(read_job(DEMO.replace("[sheet]\n", f'[sheet]\nunits = "{units}"\n'))))


@cache
def documents(units: str) -> dict[str, Any]:
    """The demo's sheets by name, read again from their files."""
    return {name: ezdxf.read(StringIO(dxf_text(sheet.document))) for name, sheet in sheets_of(design(units))}


def test_no_colour_serves_two_widths() -> None:
    """Pens by colour plot R12 files. Common practice, no source."""
    widths: dict[int, set[int]] = {}
    for layer in LAYERS:
        widths.setdefault(layer.colour, set()).add(layer.width)
    assert all(len(found) == 1 for found in widths.values()), widths
    assert len(widths) >= 8


@pytest.mark.parametrize("units", ["mm", "in", "in [mm]"])
def test_model_space_is_in_mm_whatever_is_printed(units: str) -> None:
    """The unit of the file is that of its geometry; the style of the dimensions turns it into what is printed."""
    for name, document in documents(units).items():
        assert document.header["$INSUNITS"] == MM, name
        factor = document.dimstyles.get(document.header["$DIMSTYLE"]).dxf.dimlfac
        assert factor == pytest.approx(1.0 if units == "mm" else 1 / 25.4, abs=1e-12), name
        assert not document.audit().has_errors, name
    # The body is as long in every file.
    body = documents(units)["body"].modelspace()
    longest = max(d.get_measurement() for d in body.query("DIMENSION") if d.dimtype == 0)
    assert longest == pytest.approx(121.5, abs=1e-6)


@pytest.mark.parametrize("units", ["mm", "in [mm]"])
def test_everything_lies_on_a_layer_of_ours_and_looks_like_it(units: str) -> None:
    known = {layer.name: layer for layer in LAYERS}
    for name, document in documents(units).items():
        for layer in LAYERS:
            kept = document.layers.get(layer.name).dxf
            assert (kept.lineweight, kept.color, kept.linetype) == (layer.width, layer.colour, layer.line_type)
        spaces = [document.modelspace(), *(s for s in document.layouts if s.is_any_paperspace)]
        for entity in (entity for space in spaces for entity in space):
            if entity.dxftype() == "VIEWPORT" and entity.dxf.id == 1:
                continue
            assert entity.dxf.layer in known, (name, str(entity))
            assert entity.dxf.get("color", 256) == 256, (name, str(entity))
            assert entity.dxf.get("lineweight", -1) == -1, (name, str(entity))
        styles = {t.dxf.style for b in document.blocks for t in b.query("TEXT ATTDEF")}
        assert len(styles) == 1, name


@pytest.mark.parametrize("version", ["R2013", "R12"])
def test_profile_is_one_closed_line_in_both_versions(version: Any) -> None:
    for part in design("mm").tool.made:
        data = dxf_bytes(profile(part), version)
        document = ezdxf.read(StringIO(data.decode("cp1252" if version == "R12" else "utf-8")))
        entities = list(document.modelspace())
        assert [e.dxftype() for e in entities] == ["POLYLINE" if version == "R12" else "LWPOLYLINE"]
        line = entities[0]
        assert line.is_closed
        places = line.points() if version == "R12" else line.vertices()
        corners = [tuple(point)[:2] for point in places]
        assert max(x for x, _ in corners) == pytest.approx(0.0, abs=1e-9)
        assert min(r for _, r in corners) >= -1e-9


def test_the_shop_file_chooses_and_the_job_wins() -> None:
    shop = read_shop('[sheet]\nunits = "in [mm]"\ndecimal = "comma"\nlanguage = "de"\nowner = "Shop"\n')
    job = read_job(DEMO.replace("[sheet]\n", '[sheet]\nlanguage = "en"\n'), shop=shop)
    block = arrangement_block(inspect(work_out(job)))
    assert block.units == "in [mm]"
    assert block.manner.has_comma
    assert block.manner.words.material == "Material"
    assert block.owner == "Lower Mill workshop"


def test_a_shop_file_has_no_revisions() -> None:
    with pytest.raises(ValueError, match="revision"):
        read_shop('[[sheet.revision]]\nletter = "A"\nchange = "x"\ndate = "2026-01-02"\nby = "y"\n')


def test_defaults_are_true_words_and_never_empty() -> None:
    """Eight fields of ISO 7200 (at second hand) hold something where the user gave nothing."""
    text = DEMO.replace(DEMO[DEMO.index("[sheet]") : DEMO.index("[socket]")], "")
    block = arrangement_block(inspect(work_out(read_job(text))))
    assert (block.owner, block.created) == ("not stated", "not stated")
    assert (block.approved, block.date) == ("not approved", "not issued")
    assert block.number == "valve-spindle-centre"
    assert (block.revision, block.sheet, block.projection) == ("-", "1/7", "first angle")
    assert all((block.title, block.document_type, block.made_with))
