"""What holds for the whole part, as symbols near the title block: general finish with its exceptions, and edges.

Sources: general symbol with the exceptions in brackets, ISO 1302 (now ISO 21920-1); edges outside and inside with the
largest permitted value, ISO 13715; both at second hand, the shape of the edge symbol from memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from generator.drawing.base import Pen, Point
from generator.drawing.callouts import FINISH_KNEE_MM, FINISH_LEFT_MM, FINISH_RISE_MM
from generator.drawing.font import text_width_mm
from generator.drawing.sheet import TitleBlock
from generator.drawing.style import NUMBER_TEXT_MM, TEXT_MM
from generator.drawing.symbols import edge_block, finish_block

__all__ = ["Group", "draw_group", "groups_of"]

_APART_MM = 2.5
_EDGE_WIDTH_MM = 22.0
_EDGE_HEIGHT_MM = 10.6


@dataclass(frozen=True, slots=True)
class Group:
    """Symbols in one row: kind "finish" (the general value first, then exceptions) or "edges" (outside, inside)."""

    kind: str
    values: tuple[str, ...]
    width: float
    height: float


def groups_of(block: TitleBlock, values: Iterable[str]) -> tuple[Group, ...]:
    """The groups of a sheet from its title block's words and the finishes that its views and notes ask for."""
    found = []
    general = re.search(r"Ra\s*\d+(?:[.,]\d+)?", block.finish)
    if general is not None:
        others = sorted(set(values) - {general[0]}, key=lambda words: (len(words), words))
        row = (general[0], *others)
        width = sum(map(_finish_width, row)) + _APART_MM * len(others) + (2 * _bracket_width() if others else 0.0)
        found.append(Group("finish", row, width, FINISH_RISE_MM + 0.5))
    edges = re.findall(r"(?<![\w.,])[+-]\s?(?:\d+(?:[.,]\d+)?|[.,]\d+)", block.edges)
    if len(edges) == 2:
        found.append(Group("edges", tuple(edges), 2 * _EDGE_WIDTH_MM + _APART_MM, _EDGE_HEIGHT_MM))
    return tuple(found)


def _finish_width(words: str) -> float:
    return FINISH_LEFT_MM + FINISH_KNEE_MM + text_width_mm(words, TEXT_MM) + 2.0


def _bracket_width() -> float:
    return text_width_mm("(", NUMBER_TEXT_MM) + 1.0


def draw_group(document: Any, layout: Any, group: Group, corner: Point) -> None:
    """Draw a group on the sheet, its lower left corner at a point."""
    pen = Pen(layout)
    x, y = corner
    if group.kind == "edges":
        for place, value in zip(("outside", "inside"), group.values, strict=True):
            pen.insert(edge_block(document, place), (x, y), {"EDGE": value})
            x += _EDGE_WIDTH_MM + _APART_MM
        return
    x = _finish(document, pen, group.values[0], (x, y))
    if len(group.values) > 1:
        pen.text("(", (x, y + 1.5), NUMBER_TEXT_MM)
        x += _bracket_width()
        for words in group.values[1:]:
            x = _finish(document, pen, words, (x, y)) + _APART_MM
        pen.text(")", (x - _APART_MM, y + 1.5), NUMBER_TEXT_MM)


def _finish(document: Any, pen: Pen, words: str, corner: Point) -> float:
    """Draw one finish symbol; where the next one may begin."""
    pen.insert(finish_block(document, words), (corner[0] + FINISH_LEFT_MM, corner[1]), {"FINISH": words})
    return corner[0] + _finish_width(words)

