"""German sheets: of every variant of both kinds no word, phrase or name is left in English, and figures have commas."""

from __future__ import annotations

import re
from dataclasses import dataclass, fields
from functools import cache
from typing import Any

import pytest

from generator.drawing import manner
from generator.drawing.wording import Words
from generator.drawing.wording.english import ENGLISH
from generator.drawing.wording.german import GERMAN
from generator.job.design import inspect, work_out
from generator.job.reader import read_job
from tests.unit.test_sheet_words import long_words, texts_of, whole

SHEET = """
[sheet]
language = "de"
"""
BIG = [("6204-2RS", 0.0), ("6003-2RS", 0.0)]
SMALL = [("6003-2RS", 9.98), ("6001-2RS", 7.97)]
# What is the same in both languages: standards, tapers, "max", and the name of this program.
SAME = frozenset({"iso", "din", "morse", "max", "tailstock"})


def revolving(
    retention: str = "nut", cover: str = "pressed", end: str = "plain", hold: str = "flats",
    rings: list[tuple[str, float]] | None = None, more: str = "",
) -> str:  # fmt: skip
    stack = rings or BIG
    rows = "".join(
        f'[[stack]]\nring = "{name}"\n' + (f"measured_width = {width}\n" if width else "") for name, width in stack
    )
    taper = "Morse 4" if stack[0][0].startswith("6204") else "Morse 3"
    return f"""kind = "revolving-centre"
name = "spitze"
{SHEET}
[socket]
taper = "{taper}"
[shank]
end = "{end}"
[passes]
holder_width = 16
tip_ahead = 6
work_diameter = 24
[retention]
style = "{retention}"
[cover]
style = "{cover}"
[spindle]
hold = "{hold}"
{more}
{rows}"""


def dead(end: str, form: str, material: str) -> str:
    return f"""kind = "dead-centre"
name = "spitze"
{SHEET}
[socket]
taper = "Morse 3"
[shank]
end = "{end}"
[point]
form = "{form}"
work_diameter = 14
material = "{material}"
"""


JOBS = {
    "screw, pressed": revolving("screw", "pressed", "drawbar", "none"),
    "screw, stuck": revolving("screw", "stuck", "plain", "hole", SMALL),
    "screw, snap ring": revolving("screw", "snap ring", "plain", "flats", [("6003-2RS", 0.0)]),
    "screw, screwed": revolving("screw", "screwed", "drawbar", "hole"),
    "nut, pressed": revolving("nut", "pressed", "tang", "flats", [*BIG, ("6001-2RS", 0.0)]),
    "nut, stuck": revolving("nut", "stuck", "plain", "none", more='material = "O1"'),
    "nut, snap ring": revolving("nut", "snap ring", "tang", "flats", SMALL),
    "nut, screwed": revolving("nut", "screwed", "tang", "hole", SMALL, 'material = "C45"'),
    "circlip, pressed": revolving("circlip", "pressed", "plain", "flats", SMALL),
    "circlip, stuck": revolving("circlip", "stuck", "tang", "hole"),
    "circlip, snap ring": revolving("circlip", "snap ring", "drawbar", "none"),
    "circlip, screwed": revolving("circlip", "screwed", "plain", "flats", [*BIG, ("6001-2RS", 0.0)]),
    "soft spindle": revolving(rings=SMALL, more='material = "S235"'),
    "duty in part": revolving(rings=SMALL, more="[loads]\ndepth = 0.5\nspeed = 400\n"),
    "in two units": revolving(rings=SMALL).replace("[sheet]", '[sheet]\nunits = "mm [in]"'),
    "in inches": revolving(rings=SMALL).replace("[sheet]", '[sheet]\nunits = "in"'),
    "bought shank": revolving(rings=SMALL, more='[making]\ntaper_method = "bought shank"\n'),
    "must not be made": revolving(rings=SMALL, more="[bar]\ndiameter = 25\n"),
    "dead, full, O1": dead("plain", "full", "O1"),
    "dead, half, case-hardened": dead("tang", "half", "16MnCr5"),
    "dead, full, 42CrMo4": dead("drawbar", "full", "42CrMo4"),
    "dead, half, soft": dead("drawbar", "half", "S235"),
}


def english_words() -> set[str]:
    """Words that English sheets use and German ones never do."""
    english = " ".join(str(getattr(ENGLISH, field.name)) for field in fields(Words))
    german = " ".join(str(getattr(GERMAN, one.name)) for one in fields(Words) if one.name not in _MAPS)
    german += " ".join(text for name in _MAPS for text in getattr(GERMAN, name).values())
    keys = " ".join(key for name in _MAPS for key in getattr(GERMAN, name))
    return long_words(f"{english} {keys}") - long_words(german) - SAME


_MAPS = ("kinds", "phrases", "names")


class Recording(Words):
    """German words that keep what they were asked for and gave back as it was."""

    def _kept(self, asked: str, told: str) -> str:
        if told == asked.replace("_", " ") and re.search(r"[a-z]{3}", told):
            LEFT.add(asked)
        return told

    def phrase(self, english: str) -> str:
        return self._kept(english, Words.phrase(self, english))

    def name(self, name: str) -> str:
        return self._kept(name, Words.name(self, name))

    def kind(self, name: str) -> str:
        return self._kept(name, Words.kind(self, name))


LEFT: set[str] = set()


@dataclass(frozen=True)
class Drawn:
    """The texts of every sheet of a job, what was asked for in vain, and the titles of its stops."""

    texts: dict[str, list[str]]
    left: frozenset[str]
    stops: tuple[str, ...]
    units: str | None


@cache
def drawn(job: str) -> Drawn:
    recording = Recording(**{field.name: getattr(GERMAN, field.name) for field in fields(Words)})
    LEFT.clear()
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(manner, "words_of", lambda _: recording)
        design = inspect(work_out(read_job(JOBS[job])))
        texts = {name: texts_of(sheet.document) for name, sheet in whole(design).items()}
    stops = tuple(finding.title for finding in design.findings if finding.severity == "stop")
    return Drawn(texts, frozenset(LEFT), stops, design.job.params.sheet.units)


@pytest.mark.parametrize("job", JOBS)
def test_nothing_on_a_german_sheet_is_left_in_english(job: str) -> None:
    """What a stop says may be English: no language knows the titles of all findings."""
    found = drawn(job)
    assert found.left - set(found.stops) == set()
    english = english_words() - long_words(" ".join(found.stops))
    assert len(english) > 100
    for name, texts in found.texts.items():
        assert {text: left for text in texts if (left := long_words(text) & english)} == {}, name


# The version of the program and a property class keep their points, and so does the number of a material.
_POINTED = re.compile(r"(?<![\w.])\d*\.\d+(?![\w.])")


@pytest.mark.parametrize("job", JOBS)
def test_every_figure_of_a_german_sheet_has_a_comma(job: str) -> None:
    for name, texts in drawn(job).texts.items():
        shown = [re.sub(r"tailstock [\d.]+|- 8\.8\b", "", text) for text in texts]
        assert [text for text in shown if _POINTED.search(text)] == [], name
        assert any(re.search(r"\d,\d", text) for text in shown), name


@pytest.mark.parametrize("job", ["in inches", "in two units"])
def test_no_inch_figure_of_a_german_sheet_begins_with_a_zero(job: str) -> None:
    inches = r"(?<![\d,.])0,\d" if drawn(job).units == "in" else r"\[0,\d"
    for name, texts in drawn(job).texts.items():
        # A mass in pounds is no inch figure.
        assert [text for text in texts if re.search(inches, text) and "lb" not in text] == [], name


def test_a_german_sentence_is_taken_into_inches() -> None:
    """0.8 and 1.2 mm are .0315 and .0472 in: the range is one, whichever word joins its ends."""
    told = manner.manner_of("in", "comma", "de").prose(GERMAN.phrases[_CASE])
    assert "Tiefe ,032 bis ,047 in" in told


_CASE = "Point case-hardened 0.8 to 1.2 mm deep; thread, seats, collar and nose left soft."


def test_no_phrase_is_translated_by_itself() -> None:
    same: list[Any] = [key for name in _MAPS for key, text in getattr(GERMAN, name).items() if key == text]
    assert same == []
