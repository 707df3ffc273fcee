"""Ink as an SVG picture in millimetres, text as text."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from xml.sax.saxutils import escape, quoteattr
from zlib import crc32

from generator.drawing.font import CAP_HEIGHT, FAMILY
from generator.ink.model import Ink, Outline, TextRun
from generator.prints.digits import digits, pair, printable

__all__ = ["svg_text"]

_SPACE = "http://www.w3.org/2000/svg"


def svg_text(ink: Ink) -> str:
    """The picture as one SVG document; the same ink gives the same text.

    Lengths of text are stated, so that they hold where the font is not installed.
    """
    width, height = digits(ink.width_mm), digits(ink.height_mm)
    parts = [
        f'<svg xmlns="{_SPACE}" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">',
        '<g fill="none" stroke="#000" stroke-linecap="round" stroke-linejoin="round">',
        *_strokes(ink),
        '</g><g fill="#000" fill-rule="evenodd">',
        *_fills(ink),
        f'</g><g fill="#000" font-family="\'{FAMILY}\', sans-serif" style="white-space:pre;font-kerning:none">',
        *_texts(ink),
        "</g></svg>",
    ]
    return "\n".join(parts) + "\n"


def _data(outlines: Iterable[Outline], height_mm: float) -> str:
    return "".join(_commands(outline, height_mm) for outline in outlines)


def _commands(outline: Outline, height_mm: float) -> str:
    x, y = outline.start
    parts = [f"M{digits(x)} {digits(height_mm - y)}"]
    for segment in outline.segments:
        turned = [height_mm - value if index % 2 else value for index, value in enumerate(segment)]
        parts.append(("L" if len(segment) == 2 else "C") + pair(turned))
    if outline.closed:
        parts.append("Z")
    return "".join(parts)


def _strokes(ink: Ink) -> Iterable[str]:
    groups: dict[tuple[str, float], list[Outline]] = {}
    for stroke in ink.strokes:
        groups.setdefault((stroke.layer, stroke.width_mm), []).append(stroke.outline)
    for (layer, width_mm), outlines in groups.items():
        data = _data(outlines, ink.height_mm)
        yield f'<path data-layer={_quoted(layer)} stroke-width="{digits(width_mm)}" d="{data}"/>'


def _fills(ink: Ink) -> Iterable[str]:
    for layer, fills in groupby(ink.fills, key=lambda fill: fill.layer):
        paths = "".join(f'<path d="{_data(fill.outlines, ink.height_mm)}"/>' for fill in fills)
        yield f"<g data-layer={_quoted(layer)}>{paths}</g>"


def _texts(ink: Ink) -> Iterable[str]:
    for clip, runs in groupby(ink.texts, key=lambda run: run.clip):
        texts = [_text(run, ink.height_mm) for run in runs]
        if not clip:
            yield from texts
            continue
        start, *others = clip
        data = _commands(Outline(start, tuple(others), True), ink.height_mm)
        # Named by what it cuts, so that pictures can stand together on one page.
        name = f"window-{crc32(data.encode()):08x}"
        yield f'<clipPath id="{name}"><path d="{data}"/></clipPath><g clip-path="url(#{name})">'
        yield from texts
        yield "</g>"


def _text(run: TextRun, height_mm: float) -> str:
    a, b, c, d, x, y = run.matrix
    size = digits(run.cap_height_mm / CAP_HEIGHT)
    natural = digits(run.advance_mm / run.width_factor) if run.width_factor else "0"
    matrix = f"{digits(a)} {digits(-b)} {digits(-c)} {digits(d)} {digits(x)} {digits(height_mm - y)}"
    place = f'transform="matrix({matrix})" font-size="{size}" textLength="{natural}" lengthAdjust="spacingAndGlyphs"'
    return f"<text {place}>{escape(printable(run.text))}</text>"


def _quoted(text: str) -> str:
    return quoteattr(printable(text))
