"""A workpiece between two operations: what stands of its outside and of its hole, from the bar on."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from generator.description import Part, Tool
from generator.errors import TableError
from generator.making.stock import StockRow, least_bar_mm
from generator.tables import next_bar

__all__ = ["BEYOND_MM", "Blank", "blanks_of"]

BEYOND_MM = 5000.0
"""How far a blank is taken to go on beyond the origin of its part, both ways."""


class Blank:
    """A workpiece as it stands between two operations: its outside and its hole, stretch by stretch along the axis.

    `over_mm` is what the bar as sawn has over its length between faced ends, None where no blank is known;
    `is_end_settled` is True when the end that is sawn off later will not be faced any more, `sawn_mm` what the saw left
    where that stub was.
    """

    def __init__(self, bar_mm: float) -> None:
        self.bar_mm = bar_mm
        self._outside = [(-BEYOND_MM, BEYOND_MM, bar_mm)]
        self._hole = [(-BEYOND_MM, BEYOND_MM, 0.0)]
        self.faced: set[str] = set()
        self.worked: set[str] = set()
        self.over_mm: float | None = None
        self.is_end_settled = False
        self.sawn_mm = 0.0
        self.hardened = False
        self.parted = False

    def outside_mm(self, near_mm: float, far_mm: float) -> float:
        """Largest diameter that stands between two places."""
        return max(d for _, _, d in _within(self._outside, near_mm, far_mm))

    def hole_mm(self, near_mm: float, far_mm: float) -> float:
        """Smallest hole between two places; 0 where the work is solid."""
        return min(d for _, _, d in _within(self._hole, near_mm, far_mm))

    def turn(self, near_mm: float, far_mm: float, diameter_mm: float) -> None:
        """Cut the outside between two places down to a diameter."""
        self._outside = _cut(self._outside, near_mm, far_mm, lambda was: min(was, diameter_mm))

    def open(self, near_mm: float, far_mm: float, diameter_mm: float) -> None:
        """Open the hole between two places to a diameter."""
        self._hole = _cut(self._hole, near_mm, far_mm, lambda was: max(was, diameter_mm))


Stretch = tuple[float, float, float]


def _within(stretches: Sequence[Stretch], near: float, far: float) -> list[Stretch]:
    found = [one for one in stretches if one[1] > near + 1e-6 and one[0] < far - 1e-6]
    return found or [one for one in stretches if one[0] - 1e-6 <= near <= one[1] + 1e-6]


def _cut(
    stretches: Sequence[Stretch], near: float, far: float, change: Callable[[float], float]
) -> list[Stretch]:
    found: list[Stretch] = []
    for low, high, diameter in stretches:
        edges = sorted({low, high, *(at for at in (near, far) if low < at < high)})
        for start, end in pairwise(edges):
            inside = start >= near - 1e-9 and end <= far + 1e-9
            found.append((start, end, change(diameter) if inside else diameter))
    return found


def blanks_of(tool: Tool, stock: Sequence[StockRow]) -> dict[str, Blank]:
    """Every made part as it comes from the bar."""
    bars = {row.part: row.bar_mm for row in stock}
    blanks = {part.name: Blank(bars.get(part.name) or _usual_bar(part)) for part in tool.made}
    for row in (one for one in stock if one.part in blanks):
        blanks[row.part].over_mm = row.cut_mm - row.faced_mm
    return blanks


def _usual_bar(part: Part) -> float:
    least = least_bar_mm(part)
    try:
        return next_bar(least, "mm")
    except TableError:
        return least
