"""Proof of files: what is no drawing, drawings of other programs, damaged ones, profiles; rarer rules; the gate."""

from __future__ import annotations

import json
import random
from collections import Counter
from io import StringIO
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from ezdxf.math import Vec3

import generator.drawing.part_sheet as part_sheet_module
from generator.cli import run
from generator.drawing.profile import profile
from generator.errors import InputError
from generator.job.reader import read_job
from generator.make import make
from generator.proof import document_of, proof_document, proof_file
from generator.proof.label import read_label
from tests.sample import sample_body
from tests.unit.test_proof import (
    ARRANGEMENT,
    BODY,
    COVER,
    SPINDLE,
    Spoil,
    block_of,
    clean_codes,
    demo_texts,
    dimension,
    fill,
    found_in,
    ids,
    note,
    paper_of,
    rewrite,
    space_of,
    words_of,
)

DEAD = """
kind = "dead-centre"
name = "plug"
[socket]
taper = "Morse 2"
[point]
work_diameter = 20
"""


def free_spot(document: Any) -> tuple[float, float]:
    """A spot on the paper right of the word "Notes", where nothing stands."""
    at = note(document).dxf.insert
    return at.x + 30.0, at.y + 2.0


def struck_arrow(document: Any) -> None:
    x, y = free_spot(document)
    paper = paper_of(document)
    paper.add_solid([(x, y), (x + 3.5, y + 0.46), (x + 3.5, y - 0.46)], dxfattribs={"layer": "DIM"})
    paper.add_line((x + 2, y - 1), (x + 2, y + 1), dxfattribs={"layer": "DIM"})


def moved_arrow(document: Any) -> None:
    heads = document.blocks[dimension(document, "body/barrel/length").dxf.geometry].query("SOLID")
    heads[0].translate(0.5, 0, 0)


def unseen_finish(document: Any) -> None:
    name = next(block.name for block in document.blocks if block.name.startswith("FINISH"))
    insert = space_of(document).add_blockref(name, (0, 3000), dxfattribs={"layer": "SYMBOL"})
    insert.add_auto_attribs({"FINISH": "Ra 0.8"})


def unseen_outlines(document: Any) -> None:
    for y in (3000.0, 3000.3):
        space_of(document).add_line((0, y), (9, y), dxfattribs={"layer": "OUTLINE"})


def unseen_axis_on_outline(document: Any) -> None:
    for layer in ("OUTLINE", "CENTRE"):
        space_of(document).add_line((0, 3000), (9, 3000), dxfattribs={"layer": layer})


def silent_detail(document: Any) -> None:
    next(t for t in space_of(document).query("TEXT") if t.dxf.text == "Z (5:1)").dxf.text = "Z"


def revised(document: Any) -> None:
    paper, block = paper_of(document), document.blocks.new("REVISION_ROW")
    block.add_attdef("LETTER", (0, 0))
    row = paper.add_blockref("REVISION_ROW", free_spot(document), dxfattribs={"layer": "BLOCK"})
    style = {"layer": "TEXT", "height": 2.5, "style": "TAILSTOCK", "width": 0.85}
    row.add_attrib("LETTER", "B", free_spot(document), dxfattribs=style)
    block_of(document).add_attrib("REVISION", "A", (25.0, 22.0), dxfattribs=style)


def long_given(document: Any) -> None:
    """The length of the point beside its angle and both its diameters."""
    rewrite("spindle/overall", "(47.86)", "47.858")(document)
    size = dimension(document, "spindle/overall")
    size.dxf.text = "<>"
    words_of(document, "spindle/overall")[0].dxf.text = f"{size.get_measurement():.4f}"


def crossing_leader(document: Any) -> None:
    space = space_of(document)
    circles = [c for c in space.query("CIRCLE") if c.dxf.layer == "SYMBOL"]
    left = min(circles, key=lambda c: c.dxf.center.x)
    right = max((c for c in circles if c.dxf.center.y == left.dxf.center.y), key=lambda c: c.dxf.center.x)
    (x0, y0, _), (x1, _, _), r = left.dxf.center, right.dxf.center, left.dxf.radius
    space.add_line((x0, y0 - r), (x1, y0 - 4 * r), dxfattribs={"layer": "DIM"})
    space.add_line((x1, y0 - r), (x0, y0 - 4 * r), dxfattribs={"layer": "DIM"})


def crowded(document: Any) -> None:
    size = dimension(document, "body/barrel/length")
    for entity in document.blocks[size.dxf.geometry]:
        if entity.dxftype() != "TEXT" and not (entity.dxftype() == "LINE" and entity.dxf.start.x == entity.dxf.end.x):
            entity.translate(0, 4, 0)
    size.dxf.defpoint = size.dxf.defpoint + Vec3(0, 4, 0)


RARER: list[tuple[str, Spoil, set[str]]] = [
    (BODY, lambda document: setattr(note(document).dxf, "text", "Notes 中"), {"character-missing"}),
    (BODY, struck_arrow, {"line-through-arrow"}),
    (BODY, moved_arrow, {"picture-wrong"}),
    (BODY, rewrite("body/front_chamfer/leg", "0.5 × 45°", ".5 × 45°"), {"inch-figure"}),
    (BODY, unseen_finish, {"finish-symbol"}),
    (BODY, unseen_outlines, {"lines-too-close"}),
    (BODY, unseen_axis_on_outline, {"line-over-line"}),
    (SPINDLE, long_given, {"cone-overdefined"}),
]

SEVERAL: list[tuple[str, Spoil, set[str]]] = [
    (BODY, silent_detail, {"scale-not-told"}),
    (COVER, revised, {"revision"}),
    (ARRANGEMENT, crossing_leader, {"item-leaders-cross"}),
    (BODY, crowded, {"dimension-lines-close"}),
    (COVER, fill("UNITS", "inch"), {"figure-wrong", "inch-figure"}),
]


@pytest.mark.parametrize("case", RARER, ids=ids)
def test_a_rarer_fault_is_found_alone(case: tuple[str, Spoil, set[str]]) -> None:
    name, spoil, expected = case
    document = document_of(demo_texts()[name])
    spoil(document)
    assert set(found_in(document) - clean_codes(name)) == expected


@pytest.mark.parametrize("case", SEVERAL, ids=ids)
def test_a_rarer_fault_is_found_among_others(case: tuple[str, Spoil, set[str]]) -> None:
    name, spoil, expected = case
    document = document_of(demo_texts()[name])
    spoil(document)
    assert set(found_in(document) - clean_codes(name)) >= expected


# -- labels, against figures as books print them


@pytest.mark.parametrize(
    ("text", "value", "upper", "lower", "name"),
    [
        # A fit with limits in brackets, stacked limits, plus-minus: forms of ISO 129-1 and ISO 286 in school books.
        ("⌀35 J7 ({+0.014|-0.011})", 35.0, "+0.014", "-0.011", "J7"),
        ("⌀42{0|-0.1}", 42.0, "0", "-0.1", ""),
        ("10 ±0.015", 10.0, "+0.015", "-0.015", ""),
        ("12,5 h6", 12.5, "", "", "h6"),
        ("(121.5)", 121.5, "", "", ""),
        ("M12 x 1.5", 12.0, "", "", ""),
        # 1/2 inch is 12.7 mm by definition (ISO 31-1, international inch).
        ("1/2-13 UNC-2A", 12.7, "", "", ""),
        ("2 × ⌀5", 5.0, "", "", ""),
        ("1 × 45°", 1.0, "", "", ""),
        (".9449{+.0008|-.0000} [24]", 0.9449, "+.0008", "-.0000", ""),
    ],
)
def test_labels_are_read_as_printed(text: str, value: float, upper: str, lower: str, name: str) -> None:
    found = read_label(text)
    assert found.value == pytest.approx(value)
    assert (found.upper, found.lower, found.tolerance_class) == (upper, lower, name)


def test_an_angle_in_degrees_minutes_and_seconds() -> None:
    # 1 degree 26 minutes 16 seconds is 1.43778 degrees.
    assert read_label("1°26'16\"").value == pytest.approx(1.43778, abs=1e-5)


# -- files


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (None, "no such file"),
        (b"", "empty"),
        (b"a shopping list\neggs\n", "not a DXF file"),
        (b"\x00\x01" * 99, "not a DXF"),
        (b"1\n2\n3\n4\n", "not a DXF file"),
    ],
    ids=["missing", "empty", "words", "binary", "numbers"],
)
def test_what_is_no_drawing_is_refused_in_words(content: bytes | None, said: str, tmp_path: Path) -> None:
    path = tmp_path / "sheet.dxf"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(InputError, match=said):
        proof_file(path)
    assert run(["proof", str(path)]) == 2


def test_a_damaged_file_is_read_as_far_as_it_goes_or_refused(tmp_path: Path) -> None:
    data = demo_texts()[COVER].encode()
    rng = random.Random(4)
    path = tmp_path / "damaged.dxf"
    for _ in range(25):
        spoilt = bytearray(data[: rng.randrange(2000, len(data))])
        for _ in range(rng.randrange(0, 12)):
            spoilt[rng.randrange(len(spoilt))] = rng.randrange(32, 127)
        path.write_bytes(bytes(spoilt))
        try:
            is_clean = proof_file(path).is_clean
        except InputError:
            is_clean = False
        assert not is_clean


def test_a_file_that_breaks_off_is_told_so_in_words_and_not_in_a_librarys(tmp_path: Path) -> None:
    """Source: DXF reference, a file ends with group 0, EOF."""
    data = demo_texts()[COVER].encode()
    path = tmp_path / "cut.dxf"
    for length in (*range(1000, 6000, 500), len(data) // 2, len(data) * 9 // 10):
        path.write_bytes(data[:length])
        try:
            told = " ".join(one.what for one in proof_file(path).faults)
        except InputError as problem:
            told = str(problem)
        assert "breaks off" in told
        assert "end mark EOF is missing" in told
        assert "$" not in told


def test_a_drawing_of_another_program(tmp_path: Path) -> None:
    document = ezdxf.new("R2010", setup=True)
    space = document.modelspace()
    dim = space.add_linear_dim(base=(0, 10), p1=(0, 0), p2=(25, 0), override={"dimtad": 1})
    dim.render()
    space.add_mtext("A note\\Pin two lines", dxfattribs={"char_height": 3})
    space.add_spline([(0, 0), (10, 20), (30, 5)])
    path = tmp_path / "other.dxf"
    document.saveas(path)
    assert [one.code for one in proof_file(path).faults] == ["no-sheet"]
    layout = document.layouts.get("Layout1")
    layout.page_setup(size=(420, 297), margins=(0, 0, 0, 0), units="mm")
    layout.add_viewport(center=(200, 150), size=(200, 100), view_center_point=(10, 5), view_height=50)
    for words in ("one word", "another"):
        layout.add_text(words, height=3.5, dxfattribs={"insert": (50, 50)})
    document.saveas(path)
    codes = Counter(one.code for one in proof_file(path).faults)
    assert codes["no-sheet"] == 1
    assert codes["text-over-text"] == 1
    assert "figure-wrong" not in codes
    dim.dimension.dxf.defpoint3 = (27, 0)
    document.saveas(path)
    assert "figure-wrong" in {one.code for one in proof_file(path).faults}


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_other_versions_of_the_format_are_read(version: str, tmp_path: Path) -> None:
    document = document_of(demo_texts()[COVER])
    document.dxfversion = version
    path = tmp_path / "old.dxf"
    document.saveas(path)
    found = proof_file(path)
    assert found.sheets or version == "R12"


def test_the_text_of_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "cover.dxf"
    path.write_text(demo_texts()[COVER], encoding="utf-8")
    assert run(["proof", str(path)]) == 0
    assert ": 0 faults" in " ".join(capsys.readouterr().out.split())
    document = document_of(demo_texts()[COVER])
    fill("APPROVED", "")(document)
    document.saveas(path)
    assert run(["proof", str(path)]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "FAULT field-empty: approved is empty" in said
    assert "Source: ISO 7200" in said
    assert run(["proof", str(path), "--json"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert data["clean"] is False
    assert [one["code"] for one in data["faults"] if one["severity"] == "fault"] == ["field-empty"]
    assert data["faults"][0]["handle"]


def _profile_faults(document: Any) -> list[str]:
    stream = StringIO()
    document.write(stream)
    return [one.what for one in proof_document(document_of(stream.getvalue())).faults]


def test_profiles() -> None:
    assert _profile_faults(profile(sample_body())) == []
    opened = profile(sample_body())
    opened.modelspace()[0].close(False)
    assert _profile_faults(opened) == ["the outline is not closed"]
    moved = profile(sample_body())
    moved.modelspace()[0].translate(1.0, 0, 0)
    assert len(_profile_faults(moved)) == 1
    lowered = profile(sample_body())
    lowered.modelspace()[0].translate(0, -30.0, 0)
    assert "the outline goes below the axis" in _profile_faults(lowered)
    double = profile(sample_body())
    double.modelspace().add_entity(double.modelspace()[0].copy())
    assert _profile_faults(double) == ["there are 2 outlines, not one"]


# -- the gate of make


@pytest.fixture
def careless(monkeypatch: pytest.MonkeyPatch) -> None:
    """Part sheets whose note heading has slipped on the title block."""
    drawn = part_sheet_module.part_sheet

    def slipped(*given: Any, **named: Any) -> Any:
        sheet = drawn(*given, **named)
        corner = block_of(sheet.document).dxf.insert
        heading = note(sheet.document)
        heading.dxf.insert = heading.dxf.align_point = (corner.x + 160.0, corner.y + 13.5)
        return sheet

    monkeypatch.setattr(part_sheet_module, "part_sheet", slipped)


@pytest.mark.usefixtures("careless")
def test_make_refuses_a_sheet_with_a_fault(tmp_path: Path) -> None:
    made = make(read_job(DEAD), tmp_path / "out")
    assert made.folder is None
    assert not (tmp_path / "out").exists()
    found = [one for one in made.design.findings if one.code == "drawing-fault"]
    assert [one.severity for one in found] == ["stop"]
    assert "stands on the title block" in found[0].title
    assert found[0].source.startswith("ISO 7200")


@pytest.mark.usefixtures("careless")
def test_make_anyway_writes_it_marked_and_recorded(tmp_path: Path) -> None:
    made = make(read_job(DEAD), tmp_path / "out", anyway=True)
    assert made.folder is not None
    record = json.loads((made.folder / "record.json").read_text(encoding="utf-8"))
    assert "drawing-fault" in {one["code"] for one in record["findings"]}
    words = " ".join(t.dxf.text for t in paper_of(ezdxf.readfile(made.folder / "plug-centre.dxf")).query("TEXT"))
    assert "NOT TO BE MADE" in words


def test_make_writes_sound_sheets(tmp_path: Path) -> None:
    made = make(read_job(DEAD), tmp_path / "out")
    assert made.folder is not None
    for path in sorted(made.folder.glob("*.dxf")):
        assert [str(one) for one in proof_file(path).faults if one.severity == "fault"] == [], path.name
