"""Item numbers against the parts list, letters against their table, leaders that cross."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator, Sequence

from generator.drawing.boxes import Line, crosses
from generator.proof.rules import Fault, fault
from generator.proof.sheet import Sheet, Words

__all__ = ["item_faults"]

_LETTER_MM = 4.9


def item_faults(sheet: Sheet) -> Iterator[Fault]:
    """Every fault of an arrangement's references."""
    if not sheet.is_assembly:
        return
    yield from _numbers(sheet)
    yield from _order(sheet.list_column)
    yield from _letters(sheet)
    yield from _leaders(sheet)


def _numbers(sheet: Sheet) -> Iterator[Fault]:
    listed = Counter(words.text for words in sheet.list_column)
    shown = Counter(number for number, *_ in sheet.item_numbers)
    for words in sheet.list_column:
        if not shown[words.text]:
            what = f"item {words.text} of the parts list is not in the view"
            yield fault("items-differ", what, words.at, words.handle, words.layer)
    seen: set[str] = set()
    for number, at, _, handle in sheet.item_numbers:
        if not listed[number]:
            what = f"item {number} in the view is not in the parts list"
            yield fault("items-differ", what, sheet.on_paper(at), handle, "TEXT")
        elif number in seen:
            yield fault("items-differ", f"item {number} stands twice in the view", sheet.on_paper(at), handle, "TEXT")
        seen.add(number)


def _order(column: Sequence[Words]) -> Iterator[Fault]:
    numbers = [int(words.text) for words in column]
    for words, below, here in zip(column[1:], numbers, numbers[1:], strict=False):
        if here <= below:
            what = f"item {here} stands above item {below}"
            yield fault("list-order", what, words.at, words.handle, words.layer)


def _letters(sheet: Sheet) -> Iterator[Fault]:
    """Single letters of a table's first column against large single letters in the view."""
    titled = {w.text[0] for w in (*sheet.model_words, *sheet.paper_words) if re.match(r"[A-Z]\s?[(\-–]", w.text)}
    column = {w.text: w for w in sheet.paper_words if re.fullmatch(r"[A-Z]", w.text) and w.text not in titled}
    shown = {
        w.text: w
        for w in sheet.model_words
        if re.fullmatch(r"[A-Z]", w.text) and w.text not in titled and w.height * sheet.factor_at(w.at) > _LETTER_MM
    }
    for letter in sorted(column.keys() - shown.keys()):
        words = column[letter]
        yield fault("letters-differ", f"the letter {letter} is not in the view", words.at, words.handle, words.layer)
    for letter in sorted(shown.keys() - column.keys()):
        words = shown[letter]
        what = f"the letter {letter} in the view is in no table"
        yield fault("letters-differ", what, sheet.on_paper(words.at), words.handle, words.layer)


def _leaders(sheet: Sheet) -> Iterator[Fault]:
    """Leaders that end on an item's circle and cross one another."""
    found: list[tuple[str, Line, str]] = []
    for number, centre, radius, handle in sheet.item_numbers:
        for piece in sheet.segments:
            if piece.layer != "DIM" or piece.kind != "LINE":
                continue
            if any(abs(math.dist(end, centre) - radius) < 0.01 for end in (piece.start, piece.end)):
                found.append((number, Line(piece.start, piece.end), handle))
    for i, (number, line, _) in enumerate(found):
        for other, line1, handle in found[i + 1 :]:
            if crosses(line, line1):
                what = f"the leaders of items {number} and {other} cross"
                yield fault("item-leaders-cross", what, sheet.on_paper(line1.end), handle, "DIM")
