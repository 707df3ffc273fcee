"""The form of a sheet: paper, frame, check lines, scales, views, layers, widths, heights of lettering."""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from generator.drawing.boxes import Box, Line, hits, overlaps
from generator.drawing.font import missing_characters
from generator.drawing.style import LAYERS
from generator.proof.old_version import is_old
from generator.proof.rules import Fault, fault
from generator.proof.sheet import Point, Segment, Sheet, Window, pieces_of

__all__ = ["form_faults", "scale_value"]

_A_SIZES_MM = ((210.0, 297.0), (297.0, 420.0), (420.0, 594.0), (594.0, 841.0), (841.0, 1189.0))
_MARGINS_MM = (20.0, 10.0, 10.0, 10.0)
_PAPER_MM = 0.5
_FRAME_MM = 0.05
_CHECK_MM = 100.0
_CHECK_NEAR_MM = 0.01
_LEAST_TEXT_MM = 2.5
_HEIGHTS_MM = (2.5, 3.5, 5.0, 7.0, 10.0)
_MOST_HEIGHTS = 4
# Layers that the file format or the library makes by itself and that carry no lines of a drawing.
_SERVICE_LAYERS = frozenset({"0", "Defpoints", "DEFPOINTS", "VIEWPORTS"})
_BY_LAYER, _BY_BLOCK = 256, 0
_PURPOSES = {layer.name: layer for layer in LAYERS}
_WIDE, _NARROW = ("OUTLINE", "ZONE"), ("HIDDEN", "CENTRE", "NEIGHBOUR", "HATCH", "DIM", "BREAK")
_LETTERING = ("TEXT", "SYMBOL", "BLOCK")
_GROUPS_MM = (0.25, 0.35, 0.5, 0.7, 1.0, 1.4)
_SCALE = re.compile(r"(?<![\d.:])(\d+(?:[.,]\d+)?)\s*:\s*(\d+(?:[.,]\d+)?)(?![\d.:])")


def form_faults(sheet: Sheet) -> Iterator[Fault]:
    """Every fault in the form of a sheet."""
    yield from _paper(sheet)
    yield from _check_lines(sheet)
    yield from _scales(sheet)
    yield from _views(sheet)
    yield from _layers(sheet)
    yield from _widths(sheet)
    yield from _heights(sheet)


def _paper(sheet: Sheet) -> Iterator[Fault]:
    width, height = sheet.ink.width_mm, sheet.ink.height_mm
    short, long = sorted((width, height))
    if not any(abs(short - a) < _PAPER_MM and abs(long - b) < _PAPER_MM for a, b in _A_SIZES_MM):
        yield fault("paper-size", f"the paper is {width:g} x {height:g} mm")
    frame = sheet.frame
    if frame is None:
        yield fault("frame", "there is no frame on the layer FRAME")
        return
    margins = (frame.left, frame.bottom, width - frame.right, height - frame.top)
    if any(abs(found - wanted) > _FRAME_MM for found, wanted in zip(margins, _MARGINS_MM, strict=True)):
        shown = ", ".join(f"{m:g}" for m in margins)
        yield fault("frame", f"margins left, below, right, above are {shown} mm", (frame.left, frame.bottom))


def _check_lines(sheet: Sheet) -> Iterator[Fault]:
    """A line of 100 mm with ticks at its ends, one across and one upright."""
    lines = [piece for e in sheet.paper if e.dxftype() == "LINE" for piece in pieces_of(e)]
    for name, axis in (("across", 0), ("upright", 1)):
        ticked = [
            line
            for line in lines
            if abs(line.start[1 - axis] - line.end[1 - axis]) < 1e-6
            and line.length > _CHECK_MM / 2
            and all(_has_tick(lines, spot, axis) for spot in (line.start, line.end))
        ]
        if not ticked:
            yield fault("check-line", f"there is no check line {name}")
        for line in ticked:
            if abs(line.length - _CHECK_MM) > _CHECK_NEAR_MM:
                what = f"the check line {name} is {line.length:.3f} mm long"
                yield fault("check-line", what, line.start, line.handle, line.layer)


def _has_tick(lines: Iterable[Segment], spot: Point, axis: int) -> bool:
    return any(
        0.5 < line.length < 6.0
        and abs(line.start[axis] - spot[axis]) < 1e-6
        and abs(line.end[axis] - spot[axis]) < 1e-6
        and abs((line.start[1 - axis] + line.end[1 - axis]) / 2 - spot[1 - axis]) < 1e-6
        for line in lines
    )


def scale_value(words: str) -> float | None:
    """The first scale in some words, paper over model."""
    found = _SCALE.search(words)
    if found is None:
        return None
    upper, lower = (float(part.replace(",", ".")) for part in found.groups())
    return upper / lower if lower else None


def _is_standard(scale: float) -> bool:
    ratio = scale if scale >= 1 else 1 / scale
    power = math.floor(math.log10(ratio) + 1e-9)
    return any(abs(ratio / 10**power - step) < 1e-6 for step in (1.0, 2.0, 5.0))


def _shown(scale: float) -> str:
    return f"{scale:.4g}:1" if scale >= 1 else f"1:{1 / scale:.4g}"


def _scales(sheet: Sheet) -> Iterator[Fault]:
    areas: dict[float, float] = defaultdict(float)
    for window in sheet.windows:
        box, is_detail = window.box, window in sheet.details
        # An enlarged detail may well take more paper than the view it is taken from.
        areas[round(window.factor, 6)] += 0.0 if is_detail else (box.right - box.left) * (box.top - box.bottom)
        if not _is_standard(window.factor):
            at = (box.left, box.bottom)
            yield fault("scale-not-standard", f"a view is {_shown(window.factor)}", at, window.handle, window.layer)
    if not areas:
        return
    main = max(areas, key=lambda scale: areas[scale])
    printed = sheet.fields.get("SCALE")
    if printed is not None and printed.strip():
        value = scale_value(printed)
        if value is None:
            yield fault("field-unreadable", f"the scale reads {printed!r}", layer="BLOCK")
        elif abs(value - main) > 1e-6 * main:
            what = f"the title block says {printed}, most of the view area is {_shown(main)}"
            yield fault("scale-differs", what, handle=sheet.block.dxf.handle, layer="BLOCK")
    told = [scale_value(words.text) for words in (*sheet.paper_words, *sheet.model_words)]
    told += [scale_value(printed or "")]
    for scale in areas:
        if scale != main and not any(t is not None and abs(t - scale) < 1e-6 * scale for t in told):
            yield fault("scale-not-told", f"a view is {_shown(scale)} and nothing on the sheet says so")


def _views(sheet: Sheet) -> Iterator[Fault]:
    """Views whose outlines stand on one another: each has lines in the box of the other."""
    views = [(window, lines) for window in sheet.windows if (lines := _content(sheet, window))]
    for i, (one, lines) in enumerate(views):
        for other, others in views[i + 1 :]:
            box, other_box = _box_of(lines), _box_of(others)
            if not overlaps(box, other_box):
                continue
            if any(hits(line, other_box) for line in lines) and any(hits(line, box) for line in others):
                what = f"the view of entity {other.handle} stands on that of entity {one.handle}"
                at = (max(box.left, other_box.left), max(box.bottom, other_box.bottom))
                yield fault("views-overlap", what, at, other.handle, other.layer)


def _content(sheet: Sheet, window: Window) -> list[Line]:
    """The outlines on paper that a view shows, as far as its window."""
    rim = window.box
    found = []
    for piece in sheet.segments:
        if piece.layer not in ("OUTLINE", "NEIGHBOUR", "HIDDEN"):
            continue
        line = Line(window.at(piece.start), window.at(piece.end))
        if hits(line, rim):
            found.append(line)
    return found


def _box_of(lines: Sequence[Line]) -> Box:
    xs = [p[0] for line in lines for p in (line.start, line.end)]
    ys = [p[1] for line in lines for p in (line.start, line.end)]
    return Box(min(xs), min(ys), max(xs), max(ys))


def _layers(sheet: Sheet) -> Iterator[Fault]:
    document = sheet.document
    strange = [
        layer.dxf.name
        for layer in document.layers
        if layer.dxf.name not in _PURPOSES and layer.dxf.name not in _SERVICE_LAYERS
    ]
    if strange:
        shown = ", ".join(sorted(strange)[:12])
        yield fault("unknown-layer", f"layers without a purpose here: {shown}", layer=sorted(strange)[0])
    for layer in document.layers:
        purpose = _PURPOSES.get(layer.dxf.name)
        if purpose is not None and layer.dxf.linetype.upper() != purpose.line_type.upper():
            what = f"{purpose.purpose} are drawn {layer.dxf.linetype}, not {purpose.line_type}"
            yield fault("line-type", what, layer=purpose.name)
    listed = {layer.dxf.name for layer in document.layers}
    missing: set[str] = set()
    spaces = ((*sheet.model, *sheet.paper), *_block_contents(sheet))
    for number, entities in enumerate(spaces):
        for entity in entities:
            layer = entity.dxf.layer
            if layer not in listed and layer not in missing:
                missing.add(layer)
                yield fault("unknown-layer", f"the layer {layer} is not listed", None, entity.dxf.handle or "", layer)
            if number == 0 and layer == "0":
                what = f"a {entity.dxftype()} lies on layer 0"
                yield fault("layer-zero", what, _spot(sheet, entity), entity.dxf.handle or "", layer)
            own = _own_look(entity)
            if own:
                what = f"a {entity.dxftype()} has its own {own}"
                yield fault("own-look", what, _spot(sheet, entity), entity.dxf.handle or "", layer)


def _block_contents(sheet: Sheet) -> Iterator[Sequence[Any]]:
    for block in sheet.document.blocks:
        if not block.is_any_layout:
            yield list(block)


def _spot(sheet: Sheet, entity: Any) -> Point | None:
    pieces = list(pieces_of(entity))
    if not pieces:
        return None
    return pieces[0].start if entity.dxf.get("paperspace", 0) else sheet.on_paper(pieces[0].start)


def _own_look(entity: Any) -> str:
    """What an entity sets for itself instead of taking it from its layer."""
    if entity.dxftype() in ("VIEWPORT", "ATTDEF"):
        return ""
    dxf = entity.dxf
    if dxf.get("color", _BY_LAYER) not in (_BY_LAYER, _BY_BLOCK) or dxf.hasattr("true_color"):
        return "colour"
    if dxf.get("lineweight", -1) not in (-1, -2):
        return "line width"
    if dxf.get("linetype", "BYLAYER").upper() not in ("BYLAYER", "BYBLOCK"):
        return "line type"
    return ""


def _widths(sheet: Sheet) -> Iterator[Fault]:
    """Widths as they print, by layer: one wide, one narrow, lettering between."""
    if is_old(sheet.document):
        return
    by_layer: dict[str, set[float]] = defaultdict(set)
    for stroke in sheet.ink.strokes:
        by_layer[stroke.layer].add(round(stroke.width_mm, 3))
    wide = {w for name in _WIDE for w in by_layer.get(name, ())}
    narrow = {w for name in _NARROW for w in by_layer.get(name, ())}
    for what, widths in (("wide", wide), ("narrow", narrow)):
        if len(widths) > 1:
            shown = "; ".join(
                f"{name} {', '.join(f'{w:g}' for w in sorted(by_layer[name]))}"
                for name in (_WIDE if what == "wide" else _NARROW)
                if name in by_layer
            )
            odd = _odd_layer(by_layer, _WIDE if what == "wide" else _NARROW)
            yield fault("line-width", f"{what} lines have {len(widths)} widths: {shown} mm", layer=odd)
    if len(wide) == len(narrow) == 1:
        (w,), (n,) = wide, narrow
        if abs(w - 2 * n) > 0.011 or not any(abs(w - group) < 1e-6 for group in _GROUPS_MM):
            yield fault("line-width", f"wide lines are {w:g} mm, narrow ones {n:g} mm", layer="OUTLINE")
        between = {w2 for name in _LETTERING for w2 in by_layer.get(name, ())}
        for value in sorted(between):
            if not n <= value <= w:
                odd = next(name for name in _LETTERING if value in by_layer.get(name, ()))
                yield fault("line-width", f"lines on {odd} are {value:g} mm wide", layer=odd)


def _odd_layer(by_layer: dict[str, set[float]], names: Sequence[str]) -> str:
    """The layer whose width is not that of its purpose, else the first."""
    for name in names:
        if any(abs(w - _PURPOSES[name].width / 100) > 1e-6 for w in by_layer.get(name, ())):
            return name
    return names[0]


def _heights(sheet: Sheet) -> Iterator[Fault]:
    heights: dict[float, Any] = {}
    for run in sheet.ink.texts:
        height = round(run.cap_height_mm, 3)
        x, y = run.matrix[4], run.matrix[5]
        if height < _LEAST_TEXT_MM - 1e-3:
            yield fault("text-too-small", f"{run.text!r} is {height:g} mm high", (x, y), run.handle, run.layer)
        elif not any(abs(height - wanted) < 2e-3 for wanted in _HEIGHTS_MM):
            yield fault("text-height", f"{run.text!r} is {height:g} mm high", (x, y), run.handle, run.layer)
        else:
            heights.setdefault(height, run)
        lost = missing_characters(run.text)
        if lost:
            yield fault("character-missing", f"{run.text!r}: no sign for {lost!r}", (x, y), run.handle, run.layer)
    if len(heights) > _MOST_HEIGHTS:
        yield fault("text-height", f"{len(heights)} heights of text: {', '.join(f'{h:g}' for h in sorted(heights))} mm")
