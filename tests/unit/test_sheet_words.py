"""Fixed words of the sheets: in a made-up language nothing on a sheet is left in English but names and designations."""

from __future__ import annotations

import re
from dataclasses import fields, replace
from functools import cache
from typing import Any

import pytest

from benchmarks.random_jobs import sheets_of
from generator.checks.verdict import unchecked
from generator.description import Part, Tool
from generator.drawing import manner
from generator.drawing.assembly_sheet import Joining, assembly_sheet
from generator.drawing.wording import LANGUAGES, Words, words_of
from generator.findings import Finding
from generator.job.design import Design, inspect, work_out
from generator.job.reader import find_job, read_job
from generator.making.assembly import assembly_moves
from generator.titles import assembly_block

MARK = "§"
# Names of standards, units and things that are the same in every language, and what the making says of contacts.
NAMES = frozenset({"iso", "morse", "max", "tailstock", "against"})
DEMO = find_job("demo").read_text(encoding="utf-8")
# A bar too thin for the body: a stop, so that every sheet carries its mark.
STOPPED = DEMO.replace("diameter = 45\n", "diameter = 25\n")


class AnyPhrase(dict[str, str]):
    """Knows every sentence of the description."""

    def get(self, key: str, default: Any = None) -> str:
        return default if key.endswith("…") else MARK


@cache
def made_up() -> Words:
    """A language whose every word is a sign; what is filled in keeps its place."""
    english = words_of("en")
    told = {}
    for field in fields(Words):
        value = getattr(english, field.name)
        if isinstance(value, str):
            told[field.name] = re.sub(r"(\{\w+\})|[^\W\d_]+", lambda found: found[1] or MARK, value)
    return replace(english, **told, kinds=AnyPhrase(), phrases=AnyPhrase())


def texts_of(document: Any) -> list[str]:
    """Every text of a document: in its spaces, in blocks, in attributes."""
    found = []
    for space in (*document.layouts, *document.blocks):
        for entity in space:
            if entity.dxftype() in ("TEXT", "MTEXT"):
                found.append(entity.dxf.text)
            elif entity.dxftype() == "INSERT":
                found += [attribute.dxf.text for attribute in entity.attribs]
    return found


def names_in(tool: Tool) -> set[str]:
    """Words of the description that are names: parts, faces, surfaces, materials, order texts, tapers."""

    def of(part: Part) -> list[str]:
        faces = [face for s in part.surfaces for face in (s.near, s.far)] + [n.face for n in part.lengths]
        zones = [zone.text for zone in part.zones]
        sources = [s.diameter.source for s in part.surfaces]
        return [part.name, part.title, part.material or "", part.bought, *faces, *part.by_name, *zones, *sources]

    return long_words(" ".join(word for part in tool.parts.values() for word in of(part)))


def long_words(text: str) -> set[str]:
    """Words of three letters or more, in small letters."""
    return {word.lower() for word in re.findall(r"[^\W\d_]{3,}", text)}


@pytest.fixture
def design(monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> Design:
    monkeypatch.setattr(manner, "words_of", lambda _: made_up())
    return inspect(work_out(read_job(request.param)))


def whole(design: Design) -> dict[str, Any]:
    """Every sheet of a design by name, the assembly sheet too."""
    moves = assembly_moves(design.tool)
    sheets = dict(sheets_of(design))
    if moves:
        steps = [Joining(move.pieces, move.title, move.into, move.side, move.contacts) for move in moves]
        sheets["assembly"] = assembly_sheet(design.tool, assembly_block(design), steps)
    return sheets


@pytest.mark.parametrize("design", [DEMO, STOPPED], ids=["sound", "stopped"], indirect=True)
def test_nothing_on_a_sheet_is_printed_from_a_literal(design: Design) -> None:
    given = design.job.params.sheet
    own = " ".join(str(v) for v in (*given.model_dump().values(), design.job.params.title, design.job.name))
    known = NAMES | names_in(design.tool) | long_words(own)
    known |= {word for found in design.findings if found.severity == "stop" for word in long_words(found.title)}
    sheets = whole(design)
    assert sheets
    for name, sheet in sheets.items():
        told = texts_of(sheet.document)
        assert sum(MARK in text for text in told) > 25, name
        left = {word for text in told for word in long_words(text)} - known
        assert left == set(), name


def finding(code: str) -> Finding:
    return Finding(code, "note", "tool", "test", unit="", source="test")


@pytest.mark.parametrize(
    "codes", [(), ("static",), ("static", "duty-default"), ("static", "life-not-run"),
              ("static", "duty-default", "life-not-run")],
)
def test_what_is_not_checked_is_said_in_every_language(codes: tuple[str, ...]) -> None:
    """A caution that only some readers can read is none."""
    english = unchecked([finding(code) for code in codes])
    for language in LANGUAGES:
        if language != "en":
            assert words_of(language).phrase(english) != english


def test_a_designation_goes_through_its_phrase() -> None:
    assert words_of("de").phrase("Bearing 6003-2RS") == "Lager 6003-2RS"
    assert words_of("de").phrase("Nothing known") == "Nothing known"
    assert words_of("en").within("Inner spacer") == "inner spacer"


def test_a_sheet_that_must_not_be_used_says_so_large_on_its_block() -> None:
    sound, stopped = (inspect(work_out(read_job(text))) for text in (DEMO, STOPPED))
    assert stopped.stops
    assert not sound.stops
    for text, marked in ((sound, False), (stopped, True)):
        for name, sheet in whole(text).items():
            insert = next(e for s in sheet.document.layouts for e in s.query("INSERT") if e.dxf.name == "TITLE_BLOCK")
            mark = insert.get_attrib("MARK")
            assert (mark is not None) is marked, name
            if marked:
                assert mark.dxf.text == f"NOT TO BE MADE: {stopped.stops} unsolved"
                assert mark.dxf.height >= 5.0


def test_a_phrase_is_known_whatever_numbers_stand_in_it() -> None:
    german = words_of("de")
    assert german.phrase("seat 2 ends short of its last inner ring") == (
        "Sitz 2 endet vor der Stirn seines letzten Innenrings"
    )
    assert german.phrase("Drawbar: tap drill dia 10.2 mm.") == "Anzugstange: Kernloch Durchmesser 10.2 mm."
    assert german.phrase("seat 2 is unknown") == "seat 2 is unknown"
    assert words_of("en").phrase("seat 2 ends short") == "seat 2 ends short"


def test_a_number_may_stand_anywhere_in_a_name() -> None:
    assert words_of("de").name("seat_3_end") == "Ende von Sitz 3"
    assert words_of("de").name("seat_3") == "Sitz 3"


def test_an_order_text_is_told_piece_by_piece() -> None:
    """Designations stay: a buyer reads DIN 471 and ISO 4762 in every language."""
    german = words_of("de")
    assert german.order_text("circlip DIN 471 - 17") == "Sicherungsring DIN 471 - 17"
    turned = german.order_text("ISO 4762 - M4 x 10 - 8.8, head turned to dia 6.85 to 7 mm")
    assert turned == "ISO 4762 - M4 x 10 - 8.8, Kopf auf Durchmesser 6.85 bis 7 mm abgedreht"
    assert german.order_text("6204-2RS, 20 x 47 x 14") == "6204-2RS, 20 x 47 x 14"


def test_names_and_contacts_are_told_in_one_language() -> None:
    german, english = words_of("de"), words_of("en")
    assert [german.name(name) for name in ("pocket_1", "cover_recess")] == ["Lagerbohrung 1", "Deckelsitz"]
    assert [english.name(name) for name in ("pocket_1", "cover_recess")] == ["pocket 1", "cover recess"]
    said = "rear against floor 1 of Body"
    assert german.contact_of(said) == "Rückseite an Boden 1 (Körper)"
    assert english.contact_of(said) == "rear against floor 1 of body"


def test_no_step_of_the_demo_is_told_half_in_english() -> None:
    design = work_out(read_job(DEMO.replace("[sheet]", '[sheet]\nlanguage = "de"', 1), name="demo"))
    assert design.job.params.sheet.language == "de"
    steps = [m for m in assembly_moves(design.tool) if m.contacts]
    assert steps
    for contact in (contact for step in steps for contact in step.contacts):
        assert not {"against", "of", "front", "rear", "shoulder"} & set(words_of("de").contact_of(contact).split())
