"""Ink on a PDF page, true to scale, text as text."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from typing import Any

from reportlab.lib.units import mm

from generator.drawing.font import CAP_HEIGHT
from generator.ink.model import Ink, Outline, Stroke, TextRun
from generator.prints.digits import pair, printable
from generator.prints.lettering import REGULAR, register_fonts

__all__ = ["draw_ink"]

_ROUND = 1
_EVEN_ODD = 0


class _Path:
    """A path in PDF operators, ready-made: the library's own path object formats each number five times slower."""

    def __init__(self, outlines: Iterable[Outline]) -> None:
        self.code = " ".join(map(_operators, outlines))

    def getCode(self) -> str:  # noqa: N802  (the name by which the canvas asks for it)
        return self.code


def _operators(outline: Outline) -> str:
    parts = [f"{pair(outline.start)} m"]
    parts += [f"{pair(segment)} {'l' if len(segment) == 2 else 'c'}" for segment in outline.segments]
    if outline.closed:
        parts.append("h")
    return " ".join(parts)


def _corners(points: Iterable[tuple[float, float]]) -> Outline:
    start, *others = points
    return Outline(start, tuple(others), True)


def by_width(strokes: Iterable[Stroke]) -> dict[float, list[Outline]]:
    """Outlines by pen, in the order in which each pen is first used: ink has one colour, so order does not show."""
    pens: dict[float, list[Outline]] = {}
    for stroke in strokes:
        pens.setdefault(stroke.width_mm, []).append(stroke.outline)
    return pens


def draw_ink(canvas: Any, ink: Ink, *, cut: bool = False) -> None:
    """Draws the ink with its lower left corner at the origin of the canvas, one millimetre to the millimetre.

    `cut` keeps marks inside the frame of the ink, for a picture among text.
    """
    register_fonts()
    canvas.saveState()
    canvas.scale(mm, mm)
    if cut:
        frame = _corners([(0.0, 0.0), (ink.width_mm, 0.0), (ink.width_mm, ink.height_mm), (0.0, ink.height_mm)])
        canvas.clipPath(_Path([frame]), stroke=0, fill=0)
    canvas.setStrokeGray(0)
    canvas.setFillGray(0)
    canvas.setLineCap(_ROUND)
    canvas.setLineJoin(_ROUND)
    for width_mm, outlines in by_width(ink.strokes).items():
        canvas.setLineWidth(width_mm)
        canvas.drawPath(_Path(outlines), stroke=1, fill=0)
    for fill in ink.fills:
        canvas.drawPath(_Path(fill.outlines), stroke=0, fill=1, fillMode=_EVEN_ODD)
    for clip, runs in groupby(ink.texts, key=lambda run: run.clip):
        if clip:
            canvas.saveState()
            canvas.clipPath(_Path([_corners(clip)]), stroke=0, fill=0)
        _draw_texts(canvas, runs)
        if clip:
            canvas.restoreState()
    canvas.restoreState()


def _draw_texts(canvas: Any, runs: Iterable[TextRun]) -> None:
    text = canvas.beginText()
    for run in runs:
        text.setFont(REGULAR, run.cap_height_mm / CAP_HEIGHT)
        text.setTextTransform(*run.matrix)
        text.textOut(printable(run.text))
    canvas.drawText(text)
