"""Interrupted views: long parts stay at full size, their lengths say the truth, and spoilt ones are found out.

What is demanded: a view is interrupted before it is reduced, two narrow zigzag lines, true figures over the gap
(ISO 128-3, ISO 129-1 at second hand in books on technical drawing). Parts are invented.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from io import StringIO
from typing import Any

import pytest

from generator.description import Part, PartDraft, Size, outline
from generator.drawing.dxf_file import dxf_bytes
from generator.drawing.interrupted import interruptions
from generator.drawing.manner import Manner
from generator.drawing.part_sheet import PartSheet, part_sheet
from generator.proof import document_of, proof_document
from generator.proof.gaps import gaps_of
from generator.proof.sheet import Segment, pieces_of
from tests.unit.test_drawing_sheets import BLOCK

GENERAL: dict[str, Any] = {"source": "ISO 2768-m", "general": True}


def mandrel(length_mm: float, *, from_far_end: bool = False, bore_mm: float = 0.0) -> Part:
    """A mandrel of a seat, a long plain middle and a thread; the origin at either end."""
    draft = PartDraft("mandrel", "Mandrel", "work" if from_far_end else "end", sectioned=bore_mm > 0)
    if from_far_end:
        draft.length("overall", "end", "work", -1, Size(length_mm, **GENERAL))
    else:
        draft.length("overall", "work", "end", 1, Size(length_mm, **GENERAL))
    draft.length("thread/length", "thread_end", "end", 1, Size(22.0, **GENERAL))
    draft.length("seat/length", "seat_end", "work", -1, Size(35.0, 0.1, -0.1))
    draft.cylinder("thread_major", "outside", "end", "thread_end", Size(16.0, 0.0, -0.1), role="thread")
    draft.cylinder("middle", "outside", "thread_end", "seat_end", Size(24.0, **GENERAL))
    draft.cylinder("seat", "outside", "seat_end", "work", Size(20.0, -0.007, -0.02, tolerance_class="g6"))
    if bore_mm:
        draft.cylinder("bore", "inside", "end", "work", Size(bore_mm, **GENERAL))
    draft.zone("thread", "thread_major", "end", "thread_end", "thread", "M16x1.5")
    return draft.done()


def reread(sheet: PartSheet) -> Any:
    stream = StringIO()
    sheet.document.write(stream)
    return document_of(stream.getvalue())


def codes(document: Any) -> Counter[str]:
    stream = StringIO()
    document.write(stream)
    return Counter(one.code for one in proof_document(document_of(stream.getvalue())).faults if one.severity == "fault")


def dimension(document: Any, address: str) -> Any:
    return next(e for e in document.modelspace().query("DIMENSION") if e.get_xdata("TAILSTOCK")[0].value == address)


def factor(entity: Any) -> float:
    style = entity.get_acad_dstyle(entity.get_dim_style())
    return float(style.get("dimlfac", entity.get_dim_style().dxf.dimlfac))


def zigzags(document: Any) -> list[Any]:
    return list(document.modelspace().query("LWPOLYLINE[layer=='BREAK']"))


@pytest.mark.parametrize("from_far_end", [False, True])
@pytest.mark.parametrize("bore_mm", [0.0, 9.0])
@pytest.mark.parametrize("length_mm", [430.0, 620.0, 900.0])
def test_a_long_part_is_drawn_at_full_size_and_says_its_true_lengths(
    length_mm: float, bore_mm: float, *, from_far_end: bool
) -> None:
    sheet = part_sheet(mandrel(length_mm, from_far_end=from_far_end, bore_mm=bore_mm), BLOCK)
    document = reread(sheet)
    assert (sheet.scale, sheet.page[:2]) in ((1.0, "A4"), (1.0, "A3"))
    assert len(zigzags(document)) == 2
    overall = dimension(document, "mandrel/overall")
    assert overall.get_measurement() < length_mm - 25.0
    assert overall.get_measurement() * factor(overall) == pytest.approx(length_mm, abs=1e-9)
    words = [text.dxf.text for text in document.blocks[overall.dxf.geometry].query("TEXT")]
    assert f"{length_mm:g}" in words
    for address, true_mm in (("mandrel/thread/length", 22.0), ("mandrel/seat/length", 35.0)):
        assert dimension(document, address).get_measurement() == pytest.approx(true_mm)
        assert factor(dimension(document, address)) == 1.0
    assert codes(document) == Counter()


def test_a_part_that_fits_is_drawn_whole() -> None:
    assert zigzags(part_sheet(mandrel(300.0), BLOCK).document) == []


def test_no_interruption_where_no_plain_stretch_is_long() -> None:
    draft = PartDraft("cone", "Cone", "end", sectioned=False)
    draft.length("overall", "work", "end", 1, Size(400.0, **GENERAL))
    draft.cone("flank", "outside", "end", "work", at="end", diameter=Size(20.0), half_angle_deg=1.5)
    assert list(interruptions(draft.done(), 1.0)) == []


def test_the_gap_lies_in_the_long_stretch_whichever_end_is_the_origin() -> None:
    for from_far_end in (False, True):
        for found in interruptions(mandrel(900.0, from_far_end=from_far_end), 1.0):
            shape = outline(found.part)
            assert shape.z_of["thread_end"] + 10 < found.gap.start < found.gap.end < shape.z_of["seat_end"] - 10
            assert shape.far_z - shape.near_z == pytest.approx(900.0 - found.gap.left_out_mm)


def test_an_inch_sheet_keeps_its_own_factor_beside_that_of_the_gap() -> None:
    document = reread(part_sheet(mandrel(508.0), replace(BLOCK, manner=Manner("in"))))
    overall = dimension(document, "mandrel/overall")
    assert overall.get_measurement() * factor(overall) == pytest.approx(20.0)
    assert codes(document) == Counter()


def test_the_old_file_says_the_same() -> None:
    text = dxf_bytes(part_sheet(mandrel(620.0), BLOCK).document, "R12").decode("cp1252")
    proof = proof_document(document_of(text))
    assert [one for one in proof.faults if one.severity == "fault"] == []
    assert len(gaps_of(proof_segments(text))) == 1


def proof_segments(text: str) -> list[Segment]:
    """Straight pieces of model space as the proof reads them."""
    return [piece for entity in document_of(text).modelspace() for piece in pieces_of(entity)]


def lose_factor(document: Any) -> None:
    entity = dimension(document, "mandrel/overall")
    style = entity.get_acad_dstyle(entity.get_dim_style())
    entity.set_acad_dstyle(style | {"dimlfac": 1.0})


def other_factor(document: Any) -> None:
    entity = dimension(document, "mandrel/thread/length")
    style = entity.get_acad_dstyle(entity.get_dim_style())
    entity.set_acad_dstyle(style | {"dimlfac": 2.0})


def lose_zigzags(document: Any) -> None:
    for line in zigzags(document):
        document.modelspace().delete_entity(line)


def step_at_gap(document: Any) -> None:
    gap_x = max(line.get_points()[0][0] for line in zigzags(document))
    for outline_of in document.modelspace().query("LWPOLYLINE[layer=='OUTLINE']"):
        points = [tuple(p[:2]) for p in outline_of.get_points()]
        if any(abs(x - gap_x) < 1e-6 for x, _ in points):
            outline_of.set_points([(x, y + 0.8) if abs(x - gap_x) < 1e-6 else (x, y) for x, y in points], format="xy")


@pytest.mark.parametrize(
    ("spoil", "wanted"),
    [
        (lose_factor, {"figure-wrong", "gap-length"}),
        (other_factor, {"figure-wrong", "gap-length"}),
        (lose_zigzags, {"gap-length"}),
        (step_at_gap, {"gap-uneven"}),
    ],
    ids=lambda value: getattr(value, "__name__", ""),
)
def test_a_spoilt_gap_is_found_out(spoil: Callable[[Any], None], wanted: set[str]) -> None:
    document = reread(part_sheet(mandrel(620.0), BLOCK))
    assert codes(document) == Counter()
    spoil(document)
    assert wanted <= set(codes(document))
