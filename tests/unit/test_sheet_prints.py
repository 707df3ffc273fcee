"""The print and the drawing file show the same texts, in every choice, on the demo and on random jobs.

Readers: pypdf for the print, ezdxf for the drawing, read again from the bytes of its file.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from io import BytesIO, StringIO
from typing import Any

import ezdxf
import pypdf
import pytest
from reportlab.pdfgen.canvas import Canvas

from benchmarks.random_jobs import accepted, sheets_of
from generator.drawing.dxf_file import dxf_text
from generator.ink import read_ink
from generator.job.design import Design, inspect, work_out
from generator.job.reader import find_job, read_job
from generator.prints.lettering import register_fonts
from generator.prints.pdf import draw_ink

POINTS_IN_MM = 72 / 25.4
CHOICES: dict[str, dict[str, str]] = {
    "mm": {},
    "inches": {"units": "in"},
    "both": {"units": "mm [in]", "decimal": "comma", "language": "de"},
    "inches first": {"units": "in [mm]", "projection": "third angle"},
}
RANDOM_JOBS = 10


@cache
def designs() -> tuple[Design, ...]:
    """The demo and ten random jobs."""
    found = [inspect(work_out(read_job(find_job("demo"))))]
    seed = 0
    while len(found) <= RANDOM_JOBS:
        design = accepted(seed)
        found += [design] if design is not None else []
        seed += 1
    return tuple(found)


def chosen(design: Design, words: dict[str, str]) -> Design:
    """The same design with its sheets drawn in another manner."""
    params = design.job.params
    sheet = params.sheet.model_copy(update=words)
    return replace(design, job=replace(design.job, params=params.model_copy(update={"sheet": sheet})))


def printed(document: Any, layout: str) -> Counter[str]:
    """Every text of the sheet's print."""
    register_fonts()
    ink = read_ink(document, layout)
    stream = BytesIO()
    canvas = Canvas(stream, pagesize=(ink.width_mm * POINTS_IN_MM, ink.height_mm * POINTS_IN_MM))
    draw_ink(canvas, ink)
    canvas.save()
    runs: list[str] = []

    def hear(text: str, *_: Any) -> None:
        runs.extend(text.split("\n"))

    pypdf.PdfReader(stream).pages[0].extract_text(visitor_text=hear)
    return figures(runs)


def figures(texts: list[str]) -> Counter[str]:
    """The figures in texts, with sign and decimal mark, however the texts are cut up at spaces."""
    return Counter(figure for text in texts for figure in re.findall(r"[-+±]?(?:\d+(?:[.,]\d+)*|[.,]\d+)", text))


def drawn(document: Any, layout: str) -> Counter[str]:
    """Every text that the file shows on the sheet: on the paper, in blocks, in the views."""
    views = [v for v in document.layouts.get(layout).query("VIEWPORT") if v.dxf.id != 1]
    assert views
    return figures([*texts_of(document.layouts.get(layout)), *texts_of(document.modelspace())])


def texts_of(space: Any) -> Iterator[str]:
    for entity in space:
        kind = entity.dxftype()
        if kind in ("TEXT", "ATTRIB"):
            yield entity.dxf.text
        elif kind == "DIMENSION":
            yield from texts_of(space.doc.blocks[entity.dxf.geometry])
        elif kind == "INSERT":
            yield from texts_of(space.doc.blocks[entity.dxf.name])
            yield from texts_of(entity.attribs)


@pytest.mark.parametrize("name", CHOICES)
def test_print_and_drawing_show_the_same_figures(name: str) -> None:
    compared = 0
    # The first choice on every job, each other one on some of them, so that the suite stays short.
    jobs = designs() if name == "mm" else designs()[:: len(CHOICES)]
    for design in jobs:
        for what, sheet in sheets_of(chosen(design, CHOICES[name])):
            document = ezdxf.read(StringIO(dxf_text(sheet.document)))
            shown = drawn(document, sheet.layout_name)
            assert sum(shown.values()) > 10
            assert printed(sheet.document, sheet.layout_name) == shown, (design.job.name, what)
            compared += 1
    assert compared >= 2 * len(jobs)


def test_a_figure_that_only_one_of_them_shows_is_noticed() -> None:
    """The comparison itself: a print of a sheet whose file was changed afterwards."""
    _, sheet = next(iter(sheets_of(designs()[0])))
    document = ezdxf.read(StringIO(dxf_text(sheet.document)))
    before = printed(sheet.document, sheet.layout_name)
    document.modelspace().query("TEXT")[0].dxf.text = "4711.5"
    assert before != drawn(document, sheet.layout_name)
