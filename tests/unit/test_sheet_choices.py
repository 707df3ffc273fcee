"""Sheets in every manner: limits converted inwards, languages alike, redrawn sizes the same, R12, angle, revisions."""

from __future__ import annotations

import random
import re
from dataclasses import fields, replace
from fractions import Fraction
from functools import cache
from io import StringIO
from typing import Any

import ezdxf
import pytest

from benchmarks.random_jobs import sheets_of
from generator.description import Size
from generator.drawing.dxf_file import dxf_bytes, dxf_text
from generator.drawing.labels import DIAMETER, corner_label, finish_label, label_of
from generator.drawing.manner import METRIC, Manner
from generator.drawing.part_sheet import part_sheet
from generator.drawing.wording import LANGUAGES, Words, words_of
from generator.errors import InputError
from generator.job.design import Design, inspect, work_out
from generator.job.reader import find_job, read_job, shipped_jobs
from generator.job.writer import new_job
from generator.kinds import kinds
from generator.proof import document_of, proof_document, proof_file
from generator.titles import manner_for, part_block

# One inch is 25.4 mm exactly. Source: international yard and pound agreement of 1959.
INCH = Fraction(254, 10)
RANDOM_LIMITS = 2000
CHOICES = {
    "inches": 'units = "in"',
    "both": 'units = "mm [in]"',
    "inches first": 'units = "in [mm]"',
    "comma, German": 'decimal = "comma"\nlanguage = "de"',
    "all at once": 'units = "in [mm]"\ndecimal = "comma"\nlanguage = "de"\nprojection = "third angle"',
    "third angle": 'projection = "third angle"',
}


def demo_text(keys: str, rows: str = "") -> str:
    """The demo with more keys of its table [sheet]."""
    text = find_job("demo").read_text(encoding="utf-8")
    assert "[sheet]\n" in text
    return text.replace("[sheet]\n", f"[sheet]\n{keys}\n", 1) + rows


@cache
def demo(keys: str, rows: str = "") -> Design:
    """The demo worked out with more keys of its table [sheet]."""
    return inspect(work_out(read_job(demo_text(keys, rows))))


@cache
def drawn(keys: str) -> dict[str, Any]:
    """The demo's sheets by name."""
    return dict(sheets_of(demo(keys)))


def figure(text: str) -> Fraction:
    """A printed figure, comma or point, as an exact number."""
    return Fraction(text.replace(",", "."))


def pair(text: str) -> tuple[Fraction, Fraction]:
    """Upper and lower limit from "a/b"."""
    high, low = text.split("/")
    return figure(high), figure(low)


def random_size(rng: random.Random) -> tuple[Size, Fraction, Fraction]:
    """A size with limits, and those limits exactly: low, high."""
    nominal = Fraction(rng.randint(500, 200_000), 1000)
    width = Fraction(rng.choice((4, 9, 15, 25, 40, 100, 250, 600)) + rng.randint(0, 5), 1000)
    upper = Fraction(rng.randint(-50, 60), 1000)
    lower = upper - width
    size = Size(float(nominal), float(upper), float(lower), source="test", origin="test")
    return size, nominal + lower, nominal + upper


@pytest.mark.parametrize("has_comma", [False, True])
def test_converted_limits_lie_within_those_that_govern(has_comma: bool) -> None:
    """Source: ANSI/IEEE 268 at second hand: rounded limits of a converted size never overstep the original ones."""
    rng = random.Random(20_261)
    shrunk = 0
    for _ in range(RANDOM_LIMITS):
        size, low, high = random_size(rng)
        label = label_of(size, DIAMETER, manner=Manner("mm [in]", has_comma))
        over, under = (limit * INCH for limit in pair(re.fullmatch(r"\[(.*)\]", label.below)[1]))
        assert low <= under <= over <= high, label
        shrunk += (over, under) != (high, low)
        label = label_of(size, DIAMETER, manner=Manner("in [mm]", has_comma))
        assert label.is_limits
        over, under = figure(label.upper), figure(label.lower)
        assert low <= under * INCH <= over * INCH <= high, label
        second, first = pair(re.fullmatch(r"\[(.*)\]", label.below)[1])
        assert under * INCH <= first <= second <= over * INCH, label
    # Hardly any millimetre limit is round in inches: most must have moved, or nothing was rounded at all.
    assert shrunk > 0.9 * RANDOM_LIMITS


def test_converted_limits_give_away_little() -> None:
    """Rounding to about a twentieth of the tolerance takes at most a fifth of it, ladder from memory.

    Narrow ones are held to the ten-thousandths of a micrometer, which may take half.
    """
    rng = random.Random(7)
    for _ in range(RANDOM_LIMITS):
        size, low, high = random_size(rng)
        over, under = pair(label_of(size, manner=Manner("mm [in]")).below.strip("[]"))
        kept = Fraction(8, 10) if high - low >= Fraction(5, 100) else Fraction(1, 2)
        assert (over - under) * INCH >= (high - low) * kept, size


@pytest.mark.parametrize(
    ("size", "manner", "plain", "below"),
    [
        (Size(12.7, 0.0254, 0.0), Manner("in"), ".500 +.001/+.000", ""),
        (Size(25.4, 0.0127, -0.0127), Manner("in [mm]"), "1.0000 ±.0005", "[25.412/25.388]"),
        (Size(20.0, 0.1, -0.1), Manner("in"), ".7913/.7835", ""),
        (Size(20.0, 0.1, -0.1), Manner("mm", True), "20 ±0,1", ""),
        (Size(20.5, general=True), Manner("mm [in]", True), "20,5", "[,807]"),
    ],
)
def test_sizes_as_printed(size: Size, manner: Manner, plain: str, below: str) -> None:
    """Inches without the first zero, equal places. Source: ASME Y14.5, at second hand; figures worked by hand."""
    label = label_of(replace(size, source="test", origin="test"), manner=manner)
    assert (label.plain, label.below) == (plain, below)


def test_roughness_and_corners_in_inches() -> None:
    """Ra 0.8 is 32, Ra 3.2 is 125 microinches. Source: ASME B46.1, from memory. A largest radius is rounded down."""
    assert [finish_label(ra, Manner("in")).main for ra in (0.8, 1.6, 3.2)] == ["Ra 32", "Ra 63", "Ra 125"]
    assert finish_label(0.8, Manner("mm", True)).main == "Ra 0,8"
    told = re.fullmatch(r"R (\S+) max", corner_label("R 0.3 max", Manner("in")).main)
    assert told is not None
    assert 0 < figure(told[1]) * INCH <= Fraction(3, 10)


def test_every_language_has_the_same_words_with_the_same_places() -> None:
    names = {field.name for field in fields(Words)}
    english = words_of("en")
    for language in LANGUAGES:
        words = words_of(language)
        for name in names - {"kinds", "phrases", "names"}:
            told, model = getattr(words, name), getattr(english, name)
            assert told, (language, name)
            assert sorted(re.findall(r"{\w*}", told)) == sorted(re.findall(r"{\w*}", model)), (language, name)


def test_the_other_language_leaves_no_fixed_english_word_on_a_sheet() -> None:
    english = words_of("en")
    plain = {getattr(english, f.name).strip() for f in fields(Words) if isinstance(getattr(english, f.name), str)} - {
        getattr(words_of("de"), f.name).strip() for f in fields(Words) if isinstance(getattr(english, f.name), str)
    }
    for name, sheet in drawn(CHOICES["comma, German"]).items():
        told = {run for run in texts_of(sheet.document) if run in plain}
        assert not told, name


def texts_of(document: Any) -> list[str]:
    """Every text of a document, in spaces, blocks and attributes."""
    found = []
    for space in (*document.layouts, *document.blocks):
        for entity in space:
            if entity.dxftype() == "TEXT":
                found.append(entity.dxf.text)
            elif entity.dxftype() == "INSERT":
                found += [attribute.dxf.text for attribute in entity.attribs]
    return found


def test_no_figure_has_the_wrong_decimal_mark() -> None:
    """Numbers of materials and of taper standards keep their point; every size, table and note has the comma."""
    for name, sheet in drawn(CHOICES["comma, German"]).items():
        odd = [text for text in texts_of(sheet.document) if re.search(r"\d\.\d", text)]
        assert [text for text in odd if not re.search(r"1\.\d{4}|8\.8|tailstock \d", text)] == [], name


@pytest.mark.parametrize("keys", CHOICES.values(), ids=CHOICES)
def test_every_choice_gives_sheets_without_fault(keys: str) -> None:
    for name, sheet in drawn(keys).items():
        found = proof_document(document_of(dxf_text(sheet.document)))
        assert found.is_clean, (name, [(one.code, one.what) for one in found.faults])


SPOILT = [
    ("both", r"\[\.9141/\.9063\]", "[.9143/.9063]", "figure-wrong"),
    ("both", r"\[3\.189\]", "[3.289]", "figure-wrong"),
    ("inches", r"\.9141", ".9151", "redrawn-differs"),
    ("inches", r"3\.189", "3.198", "figure-wrong"),
    ("inches", r"\.157", "0.157", "inch-figure"),
]


@pytest.mark.parametrize(("choice", "old", "new", "code"), SPOILT)
def test_a_wrong_figure_in_the_second_unit_is_found(choice: str, old: str, new: str, code: str) -> None:
    document = document_of(dxf_text(drawn(CHOICES[choice])["body"].document))
    hits = [t for b in document.blocks for t in b.query("TEXT") if re.fullmatch(old, t.dxf.text)]
    assert hits
    for hit in hits:
        hit.dxf.text = new
    assert code in {one.code for one in proof_document(document).faults}


def numbers(text: str) -> list[Fraction]:
    """Every number in a text, without sign, in order of size."""
    return sorted(figure(one) for one in re.findall(r"\d*[.,]?\d+", text))


@pytest.mark.parametrize("choice", ["both", "inches", "comma, German"])
def test_a_dimension_drawn_anew_shows_the_same_numbers(choice: str) -> None:
    """The library draws each size again from what the entity keeps, as any program would: figure, limits, second unit.

    Source: DXF reference, dimension variables DIMLFAC, DIMDEC, DIMDSEP, DIMZIN, DIMTOL, DIMLIM.
    """
    compared = 0
    for sheet in drawn(CHOICES[choice]).values():
        document = ezdxf.read(StringIO(dxf_text(sheet.document)))
        for dimension in document.modelspace().query("DIMENSION"):
            printed = " ".join(t.dxf.text for t in document.blocks[dimension.dxf.geometry].query("TEXT"))
            if dimension.dimtype in (2, 5):
                continue
            # The reference says of DIMRND that 0 rounds nothing; the library takes a written 0 for whole units.
            dimension.get_dim_style().dxf.discard("dimrnd")
            override = dimension.override()
            if override.get("dimlim"):
                # The library leaves the words round a pair of limits out; a class counts among them.
                printed = re.sub(r"to measured .*|[A-Za-z]+\d+", "", printed)
            override.render()
            block = document.blocks[dimension.dxf.geometry]
            again = " ".join(t.plain_text() for t in block.query("MTEXT TEXT"))
            assert numbers(again) == numbers(printed), (printed, again)
            compared += 1
    assert compared > 50


def test_the_projection_puts_the_end_view_on_its_side() -> None:
    """In first angle the view from the left stands at the right, in third at the left. Source: ISO 5456-2."""
    design = demo('units = "mm [in]"')
    body = next(part for part in design.tool.made if part.name == "body")
    block = part_block(design, body, ())

    def side(sheet: Any) -> bool:
        circles = [c for c in sheet.document.modelspace().query("CIRCLE") if c.dxf.layer == "OUTLINE"]
        return bool(circles[0].dxf.center.x > 0)

    first = part_sheet(body, block)
    assert block.projection == "first angle"
    third = part_sheet(body, replace(block, projection="third angle"))
    assert side(first) is not side(third)
    assert side(part_sheet(body, block, projection="third angle")) is side(third)
    assert part_block(demo(CHOICES["third angle"]), body, ()).projection == "third angle"


@pytest.mark.parametrize(
    "keys", ["", CHOICES["comma, German"], CHOICES["inches first"]], ids=["mm", "German", "inches"]
)
def test_r12_holds_the_same_sheet(keys: str, tmp_path: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    # As `make` writes: no clock in the file.
    monkeypatch.setattr(ezdxf.options, "write_fixed_meta_data_for_testing", True)
    for name, sheet in drawn(keys).items():
        data = dxf_bytes(sheet.document, "R12")
        assert data == dxf_bytes(sheet.document, "R12"), name
        data.decode("cp1252")
        assert b"AC1009" in data
        path = tmp_path / f"{name}.dxf"
        path.write_bytes(data)
        raw = ezdxf.readfile(path)
        assert not [e for e in raw.modelspace() if e.dxf.layer in ("FRAME", "BLOCK")], name
        new = sheet.document.modelspace().query("DIMENSION")
        assert len(raw.modelspace().query("DIMENSION")) == len(new)
        found = proof_file(path)
        assert found.is_clean, (name, [(one.code, one.what) for one in found.faults])


def test_r12_is_proofed_for_what_it_says(tmp_path: Any) -> None:
    data = dxf_bytes(drawn("")["body"].document, "R12")
    assert data.count(b"23.12 %%p0.1") == 1
    path = tmp_path / "spoilt.dxf"
    path.write_bytes(data.replace(b"23.12 %%p0.1", b"23.21 %%p0.1"))
    assert "figure-wrong" in {one.code for one in proof_file(path).faults}


ROWS = """
[[sheet.revision]]
letter = "{0}"
change = "bore was 16.1"
date = "2026-11-18"
by = "R. Hale"

[[sheet.revision]]
letter = "{1}"
change = "thread was M30 x 1"
date = "2026-11-20"
by = "R. Hale"
"""


def test_revisions_stand_on_the_block_and_the_newest_letter_in_it() -> None:
    design = demo("", ROWS.format("A", "B"))
    for name, sheet in sheets_of(design):
        insert = next(e for s in sheet.document.layouts for e in s.query("INSERT") if e.dxf.name == "TITLE_BLOCK")
        rows = [insert.get_attrib_text(f"REVISION_{n}_{tag}") for n in (1, 2) for tag in ("LETTER", "CHANGE")]
        assert rows == ["A", "bore was 16.1", "B", "thread was M30 x 1"], name
        assert insert.get_attrib_text("REVISION") == "B"
        assert proof_document(document_of(dxf_text(sheet.document))).is_clean, name


@pytest.mark.parametrize("letters", ["BA", "AC", "AI", "AA"])
def test_letters_of_revisions_out_of_order_are_refused(letters: str) -> None:
    with pytest.raises(InputError, match="revision"):
        read_job(demo_text("", ROWS.format(*letters)))


@pytest.mark.parametrize("line", ['units = "cm"', 'language = "xx"', 'projection = "second"', 'dxf_version = "R9"'])
def test_a_choice_that_is_none_is_one_clear_fault(line: str) -> None:
    with pytest.raises(InputError) as caught:
        read_job(demo_text(line))
    assert len(caught.value.faults) == 1
    assert line.split(" ")[0] in caught.value.faults[0].place


NEW_KEYS = ("projection", "units", "decimal", "language", "dxf_version")


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("kind", tuple(kinds()))
def test_a_new_job_shows_the_choices_and_takes_them(kind: str, unit: Any) -> None:
    text = new_job(kind, "shown", unit=unit).text
    head, _, tail = text.partition("[sheet]\n")
    live = tail
    for key in NEW_KEYS:
        assert len(re.findall(rf"^# {key} = ", tail, re.MULTILINE)) == 1, key
        live = re.sub(rf"^# ({key} = )", r"\1", live, flags=re.MULTILINE)
    plain, chosen = (inspect(work_out(read_job(one))) for one in (text, f"{head}[sheet]\n{live}"))
    # What stands behind the mark is what happens anyway.
    assert manner_for(chosen) == manner_for(plain)
    assert chosen.choices.values() == plain.choices.values()


def test_without_a_choice_nothing_changes() -> None:
    assert manner_for(demo("")) == METRIC
    assert {name for name in shipped_jobs() if read_job(find_job(name)).params.sheet.units} == set()
