"""Where a workpiece lies on its picture, and the strokes that several pictures of the plan share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.drawing.font import text_width_mm
from generator.ink.model import Point
from generator.ink.pen import Pen

__all__ = ["FINE_MM", "HEAVY_MM", "THIN_MM", "WORD_MM", "Place", "hatch", "spread", "word_width_mm"]

HEAVY_MM, THIN_MM, FINE_MM = 0.7, 0.25, 0.18
WORD_MM = 3.5
"""Height of a capital: what is read at 60 cm. Shop choice; 20 minutes of arc at 0.6 m are 3.5 mm."""
_HATCH_MM, _HATCH_APART_MM = 0.13, 3.0


@dataclass(frozen=True, slots=True)
class Place:
    """Takes positions along the part's axis and radii to paper; `flipped` puts the part's work end to the left."""

    zero_x: float
    axis_y: float
    scale: float
    flipped: bool

    def at(self, z_mm: float, r_mm: float) -> Point:
        """A point of the workpiece on paper; a negative radius lies below the axis."""
        return self.x(z_mm), self.axis_y + r_mm * self.scale

    def x(self, z_mm: float) -> float:
        """How far to the right a position along the axis lies."""
        return self.zero_x + (-z_mm if self.flipped else z_mm) * self.scale


def hatch(pen: Pen, corners: Sequence[Point]) -> None:
    """Thin lines at 45 degrees over an area within straight sides, by the even-odd rule."""
    sides = list(pairwise([*corners, corners[0]]))
    offsets = [y - x for x, y in corners]
    step = _HATCH_APART_MM * 2**0.5
    count = int((max(offsets) - min(offsets)) / step) + 1
    for number in range(count):
        offset = min(offsets) + (number + 0.5) * step
        crossings = []
        for (x0, y0), (x1, y1) in sides:
            a, b = y0 - x0 - offset, y1 - x1 - offset
            if (a < 0) != (b < 0):
                share = a / (a - b)
                crossings.append((x0 + share * (x1 - x0), y0 + share * (y1 - y0)))
        crossings.sort()
        for start, end in zip(crossings[::2], crossings[1::2], strict=False):
            pen.line([start, end], _HATCH_MM)


def spread(wanted: Sequence[float], widths: Sequence[float], least: float, most: float) -> list[float]:
    """Middles as near the wanted ones as they can be, in their order, each with its own width, none over another.

    Between `least` and `most` where they fit there.
    """
    places: list[float] = []
    for index, (x, width) in enumerate(zip(wanted, widths, strict=True)):
        before = places[-1] + (widths[index - 1] + width) / 2 if places else least + width / 2
        places.append(max(x, before))
    limit = most
    for index in range(len(places) - 1, -1, -1):
        places[index] = min(places[index], limit - widths[index] / 2)
        limit = places[index] - widths[index] / 2
    return places


def word_width_mm(text: str) -> float:
    """How wide a word of the picture runs."""
    return text_width_mm(text, WORD_MM)
