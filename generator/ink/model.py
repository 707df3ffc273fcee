"""What is on a sheet of paper, as plain numbers: strokes, fills and text runs in millimetres, y up from the lower left.

Every print reads this and nothing else of the drawing, so that PDF, SVG, the proof of a sheet and comparisons all speak
of the same marks. All ink is black.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot, sqrt

from generator.drawing.font import text_reach_mm

__all__ = ["Box", "Fill", "Ink", "Matrix", "Outline", "Point", "Segment", "Stroke", "TextRun"]

Point = tuple[float, float]
# Two numbers: a straight line to that point. Six: a cubic curve, both control points and the end.
Segment = tuple[float, ...]
# (a, b, c, d, e, f) takes (u, v) to (a u + c v + e, b u + d v + f).
Matrix = tuple[float, float, float, float, float, float]
Box = tuple[Point, Point, Point, Point]


@dataclass(frozen=True, slots=True)
class Outline:
    """One run of lines and curves from a start point; `closed` joins the end to the start."""

    start: Point
    segments: tuple[Segment, ...]
    closed: bool

    def points(self, sagitta_mm: float = 0.05) -> Iterator[Point]:
        """The outline as points of a polyline; curves are followed within the given sagitta."""
        yield self.start
        here = self.start
        for segment in self.segments:
            if len(segment) == 2:
                here = (segment[0], segment[1])
                yield here
            else:
                yield from _flatten(here, segment, sagitta_mm)
                here = (segment[4], segment[5])

    def extents(self) -> tuple[float, float, float, float]:
        """Least x and y, greatest x and y of all corners and control points: never smaller than the outline."""
        xs = [self.start[0], *(x for segment in self.segments for x in segment[::2])]
        ys = [self.start[1], *(y for segment in self.segments for y in segment[1::2])]
        return min(xs), min(ys), max(xs), max(ys)


def _flatten(start: Point, segment: Segment, sagitta_mm: float) -> Iterator[Point]:
    x0, y0 = start
    x1, y1, x2, y2, x3, y3 = segment
    # The second difference of the control points bounds how far a chord can stray from a cubic.
    stray = 0.75 * max(hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2), hypot(x1 - 2 * x2 + x3, y1 - 2 * y2 + y3))
    count = max(1, int(sqrt(stray / sagitta_mm)) + 1)
    for index in range(1, count + 1):
        t = index / count
        s = 1 - t
        k0, k1, k2, k3 = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        yield k0 * x0 + k1 * x1 + k2 * x2 + k3 * x3, k0 * y0 + k1 * y1 + k2 * y2 + k3 * y3


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line drawn with a round pen; dashes of a line type are strokes of their own.

    `handle` names the entity of the DXF document that lies directly in its layout; what comes out of a block or a
    dimension carries the handle of the reference.
    """

    outline: Outline
    width_mm: float
    layer: str
    handle: str


@dataclass(frozen=True, slots=True)
class Fill:
    """An area filled by the even-odd rule between closed outlines."""

    outlines: tuple[Outline, ...]
    layer: str
    handle: str


@dataclass(frozen=True, slots=True)
class TextRun:
    """One run of text on one base line.

    The matrix takes text set at its true cap height and natural width to the paper, so its second column has length
    one and its first the width factor. `clip` is the window of a view that cuts through the text, else empty.
    """

    text: str
    matrix: Matrix
    cap_height_mm: float
    advance_mm: float
    layer: str
    handle: str
    clip: tuple[Point, ...] = ()

    @property
    def width_factor(self) -> float:
        """How much narrower the text is set than the font's own width."""
        return hypot(self.matrix[0], self.matrix[1])

    def box(self) -> Box:
        """Corners of the ink, lower left first and anticlockwise as read: full advance, lowest to highest mark."""
        a, b, c, d, e, f = self.matrix
        low, high = text_reach_mm(self.text, self.cap_height_mm)
        natural = self.advance_mm / self.width_factor if self.width_factor else 0.0
        corners = ((0.0, low), (natural, low), (natural, high), (0.0, high))
        p, q, r, s = ((a * u + c * v + e, b * u + d * v + f) for u, v in corners)
        return p, q, r, s


@dataclass(frozen=True, slots=True)
class Ink:
    """All marks on one sheet."""

    width_mm: float
    height_mm: float
    strokes: tuple[Stroke, ...]
    fills: tuple[Fill, ...]
    texts: tuple[TextRun, ...]
