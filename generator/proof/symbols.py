"""Symbols and call-outs: tolerance frames and datums, threads, centre holes, finish, tapers, details."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator, Sequence

from generator.proof.form import scale_value
from generator.proof.label import is_thread, looks_like_thread, value_of
from generator.proof.rules import Fault, fault
from generator.proof.sheet import DETAIL_TITLE, Point, Segment, Sheet, Symbol
from generator.proof.sizes import Dimension

__all__ = ["symbol_faults"]

_TIP_MM = 0.2
_VALUE = re.compile(r"([⌀Ø]?)\s*(\d*[.,]?\d+)")
_CENTRE_HOLE = re.compile(r"ISO 6411\s?[-–]\s?([ABR])\s?(\d+(?:[.,]\d+)?)\s?/\s?(\d+(?:[.,]\d+)?)")
_ROUGHNESS = re.compile(r"R[az]\s?\d+(?:[.,]\d+)?")
_LINES = ("OUTLINE", "DIM", "NEIGHBOUR", "HIDDEN")


def symbol_faults(sheet: Sheet, dimensions: Sequence[Dimension]) -> Iterator[Fault]:
    """Every fault of symbols and call-outs."""
    yield from _datums(sheet)
    yield from _threads(sheet, dimensions)
    yield from _centre_holes(sheet)
    yield from _finishes(sheet, dimensions)
    yield from _general_finish(sheet)
    yield from _general_edges(sheet)
    yield from _tapers(sheet)
    yield from _details(sheet)


def _told(sheet: Sheet, code: str, what: str, symbol: Symbol) -> Fault:
    return fault(code, what, sheet.on_paper(symbol.at), symbol.handle, symbol.layer)


def _datums(sheet: Sheet) -> Iterator[Fault]:
    """Letters in frames against letters at datums."""
    frames = [s for s in sheet.symbols if "VALUE" in s.values]
    letters = [s for s in sheet.symbols if "DATUM" in s.values and "VALUE" not in s.values]
    counts = Counter(s.values["DATUM"].strip() for s in letters)
    used: set[str] = set()
    for one in frames:
        yield from _frame(sheet, one)
        wanted = [letter for letter in re.split(r"[-–\s|]+", one.values.get("DATUM", "").strip()) if letter]
        used.update(wanted)
        for letter in wanted:
            if not counts[letter]:
                yield _told(sheet, "datum-missing", f"a frame names the datum {letter}, which stands nowhere", one)
    seen: set[str] = set()
    for one in letters:
        letter = one.values["DATUM"].strip()
        if not letter:
            yield _told(sheet, "datum-missing", "a datum has no letter", one)
        elif letter in seen:
            yield _told(sheet, "datum-doubled", f"the datum {letter} stands {counts[letter]} times", one)
        elif letter not in used and not _is_in_notes(sheet, letter):
            yield _told(sheet, "datum-unused", f"no frame uses the datum {letter}", one)
        seen.add(letter)


def _is_in_notes(sheet: Sheet, letter: str) -> bool:
    """True where a note names the letter with a value, such as a run-out that found no room in the view."""
    word = re.compile(rf"(?<![\w.-]){re.escape(letter)}(?![\w.-])")
    return any(word.search(w.text) and re.search(r"[.,]\d", w.text) for w in sheet.paper_words)


def _frame(sheet: Sheet, one: Symbol) -> Iterator[Fault]:
    words = one.values["VALUE"].strip()
    value = _VALUE.fullmatch(words)
    if value is None or value_of(value[2]) <= 0:
        yield _told(sheet, "frame-incomplete", f"the frame's value reads {words!r}", one)
    elif "RUN_OUT" in one.name and value[1]:
        yield _told(sheet, "frame-incomplete", f"a run-out carries a diameter sign: {words!r}", one)
    if "RUN_OUT" in one.name and not one.values.get("DATUM", "").strip():
        yield _told(sheet, "frame-incomplete", "a run-out has no datum", one)


def _threads(sheet: Sheet, dimensions: Sequence[Dimension]) -> Iterator[Fault]:
    for words in sheet.model_words:
        if looks_like_thread(words.text) and not is_thread(words.text):
            at = sheet.on_paper(words.at)
            yield fault("thread-unreadable", f"{words.text!r} is no name of a thread", at, words.handle, words.layer)
    for one in dimensions:
        shown = re.sub(r"^\s*\d+\s*[x×]\s*(?=M)|\{.*?\}|[()]", "", one.label.text).strip()
        if one.label.is_thread and not is_thread(shown):
            at = sheet.on_paper(one.text_at)
            what = f"{shown!r} is no name of a thread"
            yield fault("thread-unreadable", what, at, one.handle, one.entity.dxf.layer)


def _centre_holes(sheet: Sheet) -> Iterator[Fault]:
    for words in (*sheet.model_words, *sheet.paper_words):
        if "6411" not in words.text:
            continue
        code = _CENTRE_HOLE.search(words.text)
        if code is None or value_of(code[3]) <= value_of(code[2]):
            what = f"{words.text!r} does not name form, pilot and a larger mouth"
            yield fault("centre-hole", what, sheet.on_paper(words.at), words.handle, words.layer)


def _finishes(sheet: Sheet, dimensions: Sequence[Dimension]) -> Iterator[Fault]:
    """Finish symbols: a value, level or upright, the tip on a line."""
    symbols = [s for s in sheet.symbols if "FINISH" in s.values]
    if not symbols:
        return
    lines = [s for s in sheet.segments if s.layer in _LINES]
    lines += [piece for one in dimensions for piece in one.lines]
    for one in symbols:
        words = one.values["FINISH"].strip()
        if not _ROUGHNESS.fullmatch(words):
            yield _told(sheet, "finish-symbol", f"the symbol's value reads {words!r}", one)
        if min(abs(one.rotation % 360.0 - turn) for turn in (0.0, 90.0, 360.0)) > 0.1:
            yield _told(sheet, "finish-symbol", f"the symbol {words} is turned by {one.rotation:g} degrees", one)
        if not any(_distance(one.at, line) * sheet.factor < _TIP_MM for line in lines):
            yield _told(sheet, "finish-symbol", f"the symbol {words} stands on no line", one)


def _general_finish(sheet: Sheet) -> Iterator[Fault]:
    """The row of finishes on the paper, the general one first, against the block, the view and the notes."""
    row = sorted((s for s in sheet.paper_symbols if "FINISH" in s.values), key=lambda s: s.at[0])
    used = {s.values["FINISH"].strip() for s in sheet.symbols if "FINISH" in s.values}
    used |= {m[0] for w in sheet.paper_words if w.text.strip() for m in _ROUGHNESS.finditer(w.text)}
    if not row:
        if used and not sheet.is_assembly:
            yield fault("general-finish", "no general finish stands on the sheet", layer="SYMBOL")
        return
    general, others = row[0].values["FINISH"].strip(), {s.values["FINISH"].strip() for s in row[1:]}
    named = _ROUGHNESS.search(sheet.fields.get("FINISH", ""))
    first = row[0]
    if named is not None and named[0] != general:
        what = f"the general finish is {general} on the sheet and {named[0]} in the block"
        yield fault("general-finish", what, first.at, first.handle, first.layer)
    for value in sorted(used - others - {general}):
        what = f"{value} is used and is not in the brackets"
        yield fault("general-finish", what, first.at, first.handle, first.layer)
    for symbol in row[1:]:
        if symbol.values["FINISH"].strip() not in used:
            what = f"{symbol.values['FINISH']} stands in the brackets and nowhere else"
            yield fault("general-finish", what, symbol.at, symbol.handle, symbol.layer)


def _general_edges(sheet: Sheet) -> Iterator[Fault]:
    """The two edge symbols against the block's note, value for value."""
    row = sorted((s for s in sheet.paper_symbols if "EDGE" in s.values), key=lambda s: s.at[0])
    noted = re.findall(r"(?<![\d.,])[-+]\s?\d*[.,]?\d+", sheet.fields.get("EDGES", ""))
    shown = [s.values["EDGE"].strip() for s in row]
    if shown and noted and shown != [value.replace(" ", "") for value in noted]:
        what = f"the edge symbols say {', '.join(shown)}, the block {', '.join(noted)}"
        yield fault("general-edges", what, row[0].at, row[0].handle, row[0].layer)


def _distance(at: Point, line: Segment) -> float:
    (x0, y0), (x1, y1) = line.start, line.end
    dx, dy = x1 - x0, y1 - y0
    length = dx * dx + dy * dy
    share = 0.0 if length == 0 else max(0.0, min(1.0, ((at[0] - x0) * dx + (at[1] - y0) * dy) / length))
    return math.hypot(at[0] - x0 - share * dx, at[1] - y0 - share * dy)


def _tapers(sheet: Sheet) -> Iterator[Fault]:
    """The narrow end of a taper symbol points the way in which the cone that its leader meets grows smaller."""
    for one in sheet.symbols:
        if not one.name.startswith("TAPER"):
            continue
        corners = [
            (float(x), float(y))
            for e in sheet.document.blocks[one.name]
            if e.dxftype() == "LWPOLYLINE"
            for x, y in e.get_points("xy")
        ]
        tip = _tip(corners)
        cone = _cone_of(sheet, one)
        if tip is None:
            yield _told(sheet, "taper-symbol", "the taper symbol is no triangle", one)
        elif cone is not None and tip * cone < 0:
            yield _told(sheet, "taper-symbol", "the taper symbol's narrow end points to the larger diameter", one)


def _tip(corners: Sequence[Point]) -> int | None:
    """+1 where a triangle's lone corner points right, -1 left."""
    if len(corners) != 3:
        return None
    for i, corner in enumerate(corners):
        (x1, _), (x2, _) = corners[(i + 1) % 3], corners[(i + 2) % 3]
        if abs(x1 - x2) < 1e-6 and abs(corner[0] - x1) > 1e-6:
            return 1 if corner[0] > x1 else -1
    return None


def _cone_of(sheet: Sheet, symbol: Symbol) -> int | None:
    """+1 where the slanting edge that the symbol's leader meets narrows to the right, -1 left, None unknown."""
    reach = 12.0 / sheet.factor
    lines = [s for s in sheet.segments if s.layer == "DIM" and s.kind == "LINE"]
    shelf = next(
        (
            s for s in lines
            if abs(s.start[1] - s.end[1]) < 1e-6 and abs(s.start[1] - symbol.at[1]) < reach / 2
            and min(s.start[0], s.end[0]) - reach <= symbol.at[0] <= max(s.start[0], s.end[0]) + reach
        ),
        None,
    )
    if shelf is None:
        return None
    ends = (shelf.start, shelf.end)
    for line in lines:
        for joint, tip in ((line.start, line.end), (line.end, line.start)):
            if line is shelf or min(math.dist(joint, end) for end in ends) > 1e-6:
                continue
            for edge in sheet.segments:
                (x0, y0), (x1, y1) = sorted((edge.start, edge.end))
                if edge.layer == "OUTLINE" and x1 - x0 > 1e-6 and abs(y1 - y0) > 1e-6 and _distance(tip, edge) < 0.01:
                    axis = _axis_y(sheet)
                    return 1 if abs(y1 - axis) < abs(y0 - axis) else -1
    return None


def _axis_y(sheet: Sheet) -> float:
    axes = [s for s in sheet.segments if s.layer == "CENTRE" and abs(s.start[1] - s.end[1]) < 1e-6]
    return max(axes, key=lambda s: s.length).start[1] if axes else 0.0


def _details(sheet: Sheet) -> Iterator[Fault]:
    """Letters of details stand at their circle and over their view, at a larger scale than the main one."""
    words = (*sheet.model_words, *sheet.paper_words)
    alone = Counter(w.text.strip() for w in words if re.fullmatch(r"[A-Z]", w.text.strip()))
    for title in words:
        found = DETAIL_TITLE.fullmatch(title.text.strip())
        if found is None:
            continue
        at = sheet.on_paper(title.at)
        if alone[found[1]] != 1:
            what = f"the letter {found[1]} stands {alone[found[1]]} times beside its title {title.text!r}"
            yield fault("detail-letter", what, at, title.handle, title.layer)
        scale = scale_value(found[2])
        if scale is not None and scale <= sheet.factor:
            what = f"the detail {title.text!r} is no larger than the view it is taken from"
            yield fault("detail-letter", what, at, title.handle, title.layer)
