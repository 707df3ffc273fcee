"""Centre holes on the sheets: which ends have one, what it means there, and its code.

Sources: three meanings and the code of form, pilot and mouth, ISO 6411 at second hand; holes of form A, pilot and mouth
of 2/4.25, 2.5/5.3 and 3.15/6.7, DIN 332-1 as printed in drill lists; which end keeps its hole: common practice.
"""

from __future__ import annotations

from collections.abc import Callable
from io import StringIO

import pytest

from generator.description import Part, PartDraft, Size
from generator.drawing.centres import centres_of
from generator.drawing.part_sheet import part_sheet
from generator.proof import document_of, proof_document
from tests.sample import sample_body, sample_spindle
from tests.unit.test_drawing_sheets import BLOCK, arbor, bush, washer


def shank(end_mm: float, *, tang: float | None = None, bore_mm: float | None = None) -> Part:
    """A shank whose small end is a cylinder of this diameter, with a point at its other end."""
    draft = PartDraft("shank", "Shank", "gauge", sectioned=bore_mm is not None)
    draft.length("length", "back", "gauge", -1, Size(60.0))
    draft.length("end/length", "taper_end", "back", 1, Size(12.0))
    draft.length("nose", "nose_end", "gauge", 1, Size(14.0))
    draft.length("tip/length", "tip", "nose_end", 1, Size(10.0))
    draft.cylinder("end", "outside", "back", "taper_end", Size(end_mm))
    draft.cone("taper", "outside", "taper_end", "gauge", Size(23.825), "gauge", 1.4377, role="taper")
    draft.cylinder("head", "outside", "gauge", "nose_end", Size(24.0))
    draft.cone("point", "outside", "nose_end", "tip", Size(24.0, derived=True), "nose_end", -30.0, role="point")
    if bore_mm is not None:
        draft.length("hole/depth", "hole_end", "back", 1, Size(20.0))
        draft.cylinder("hole", "inside", "back", "hole_end", Size(bore_mm))
    if tang is not None:
        draft.crossing("tang", "tang", "back", "taper_end", across=Size(tang, 0.0, -0.2))
    return draft.done()


def told(part: Part) -> list[tuple[int, str, str]]:
    return [(hole.end, hole.code.removeprefix("ISO 6411 - "), hole.meaning) for hole in centres_of(part)]


def test_a_dead_centre_keeps_the_hole_in_its_shank_and_loses_the_one_at_its_point() -> None:
    assert told(shank(20.0)) == [(-1, "A 2.5/5.3", "remains"), (1, "A 3.15/6.7", "must not remain")]


def test_a_bored_end_has_no_hole_of_its_own() -> None:
    assert [end for end, _, _ in told(shank(20.0, bore_mm=8.5))] == [1]


def test_a_tang_bounds_the_hole_in_its_end() -> None:
    # A mouth of 5.3 would leave hardly any land in a tang of 7. The next smaller one takes 0.7 of it at most, and still
    # carries the whole bar, which one chosen by the tang alone would not.
    assert told(shank(20.0, tang=7.0))[0] == (-1, "A 2/4.25", "remains")
    assert told(shank(20.0, tang=6.0))[0] == (-1, "A 1.6/3.35", "remains")


@pytest.mark.parametrize("maker", [washer, bush])
def test_rings_and_bushes_have_none(maker: Callable[[], Part]) -> None:
    assert told(maker()) == []


def test_a_slender_arbor_may_keep_both() -> None:
    # 10 mm thick at its threaded end, 12 at its seat, 230 long.
    assert told(arbor()) == [(-1, "A 2/4.25", "may remain"), (1, "A 2/4.25", "may remain")]


@pytest.mark.parametrize("part", [arbor(), sample_spindle(), sample_body(), shank(20.0), shank(20.0, tang=7.0)])
def test_sheets_carry_each_hole_once_and_proof_finds_no_fault(part: Part) -> None:
    holes = centres_of(part)
    sheet = part_sheet(part, BLOCK, centres=holes)
    inserts = [e for e in sheet.document.modelspace().query("INSERT") if e.dxf.name.startswith("CENTRE_HOLE")]
    assert sorted(e.get_attrib_text("CODE") for e in inserts) == sorted(hole.code for hole in holes)
    stream = StringIO()
    sheet.document.write(stream)
    told = {f.code: str(f) for f in proof_document(document_of(stream.getvalue())).faults if f.severity == "fault"}
    assert {code: words for code, words in told.items() if code.startswith(("text", "centre", "line"))} == {}
