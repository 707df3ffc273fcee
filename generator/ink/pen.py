"""A pen for small pictures of the plan that no DXF document holds: lines, circles and words in mm of paper."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from generator.drawing.font import WIDTH_FACTOR, text_width_mm
from generator.ink.model import Fill, Ink, Outline, Point, Stroke, TextRun

__all__ = ["Pen"]

_QUARTER = 4.0 * (sqrt(2.0) - 1.0) / 3.0
"""Handle of a cubic that follows a quarter of a circle, over its radius. Geometry."""


class Pen:
    """Gathers marks; `ink` is the picture. Points are x to the right and y up from the lower left, in mm."""

    def __init__(self, layer: str = "PICTURE") -> None:
        self._layer = layer
        self._strokes: list[Stroke] = []
        self._fills: list[Fill] = []
        self._texts: list[TextRun] = []

    def line(self, points: Sequence[Point], width_mm: float, *, closed: bool = False) -> None:
        """A run of straight lines."""
        outline = Outline(points[0], tuple((x, y) for x, y in points[1:]), closed)
        self._strokes.append(Stroke(outline, width_mm, self._layer, ""))

    def dashed(
        self, start: Point, end: Point, width_mm: float, pattern_mm: Sequence[float] = (8.0, 1.5, 1.0, 1.5)
    ) -> None:
        """A straight line of dashes and gaps in turn, by default the chain line of an axis."""
        length = sqrt((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2)
        done, step = 0.0, 0
        while done < length:
            reach = min(length, done + pattern_mm[step % len(pattern_mm)])
            if step % 2 == 0:
                ends = [_between(start, end, at / length) for at in (done, reach)]
                self.line(ends, width_mm)
            done, step = reach, step + 1

    def circle(self, middle: Point, radius_mm: float, width_mm: float) -> None:
        """A whole circle."""
        self._strokes.append(Stroke(_round(middle, radius_mm), width_mm, self._layer, ""))

    def dot(self, middle: Point, radius_mm: float) -> None:
        """A full black dot."""
        self._fills.append(Fill((_round(middle, radius_mm),), self._layer, ""))

    def area(self, points: Sequence[Point]) -> None:
        """A black area within straight sides."""
        outline = Outline(points[0], tuple((x, y) for x, y in points[1:]), True)
        self._fills.append(Fill((outline,), self._layer, ""))

    def word(self, text: str, at: Point, height_mm: float, align: float = 0.0) -> None:
        """A line of text of this cap height; `align` 0 begins at the point, 0.5 is centred on it, 1 ends there."""
        width = text_width_mm(text, height_mm)
        matrix = (WIDTH_FACTOR, 0.0, 0.0, 1.0, at[0] - align * width, at[1])
        self._texts.append(TextRun(text, matrix, height_mm, width, self._layer, ""))

    def ink(self, width_mm: float, height_mm: float) -> Ink:
        """The picture on a piece of paper of this size."""
        return Ink(width_mm, height_mm, tuple(self._strokes), tuple(self._fills), tuple(self._texts))


def _between(start: Point, end: Point, share: float) -> Point:
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _round(middle: Point, radius_mm: float) -> Outline:
    x, y = middle
    r, k = radius_mm, radius_mm * _QUARTER
    return Outline(
        (x + r, y),
        (
            (x + r, y + k, x + k, y + r, x, y + r),
            (x - k, y + r, x - r, y + k, x - r, y),
            (x - r, y - k, x - k, y - r, x, y - r),
            (x + k, y - r, x + r, y - k, x + r, y),
        ),
        True,
    )
