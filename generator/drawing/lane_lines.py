"""Dimension lines as they stand: sizes for the lanes, lines in their lanes, and the sides above and below a view."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.drawing.boxes import Box, union
from generator.drawing.lanes import Item, Placed, Side, lay_out
from generator.drawing.style import FIRST_LANE_MM, TEXT_GAP_MM
from generator.drawing.views import View
from generator.drawing.wanted import Callout, Diameter, LengthLine

__all__ = ["DimensionLine", "diameter_callout", "lane_item", "level_sides"]

# An outside length helps out above where it is this far from any inside length; a short one goes first.
_APART_MM = 4.0
_SHORT_MM = 25.0
_FEW_LANES = 2


@dataclass(frozen=True, slots=True)
class DimensionLine:
    """A dimension in its lane: `upright` for a diameter at an end; `at` is the place of its line across the lane's run.

    `root_low` and `root_high` are where its extension lines begin, `outward` the direction in which they run (+1, -1).
    """

    request: LengthLine | Diameter
    placed: Placed
    at: float
    upright: bool
    root_low: float
    root_high: float
    outward: int

    def text_box(self) -> Box:
        """Box of the label, words below its line included."""
        low, high = self.placed.text_low, self.placed.text_high
        over, under = self.placed.item.above, self.placed.item.under
        if self.upright:
            return Box(self.at - over, low, self.at + under, high)
        return Box(low, self.at - under, high, self.at + over)

    def reach(self) -> Box:
        """Box of everything but the extension lines' roots."""
        text = self.text_box()
        low, high = self.placed.low, self.placed.high
        line = Box(self.at - 2, low, self.at + 2, high) if self.upright else Box(low, self.at - 2, high, self.at + 2)
        return union((text, line))


def lane_item(
    request: LengthLine | Diameter, low: float, high: float, home: tuple[float, float] | None = None
) -> Item:
    """A size as the lanes take it, from `low` to `high` along its side."""
    label = request.label
    over = label.height_mm + TEXT_GAP_MM
    return Item(request.address, low, high, label.full_width_mm, over, label.under_mm, home)


def diameter_callout(diameter: Diameter) -> Callout:
    """A diameter that no end shows, as a leader to its surface."""
    near, far, radius = diameter.near, diameter.far, diameter.radius
    tips = tuple((near + share * (far - near), radius) for share in (0.5, 0.25, 0.75, 0.1, 0.9))
    middle = (near + far) / 2
    measured = ((middle, -radius), (middle, radius))
    return Callout(
        diameter.address, "size", diameter.label, tips, measured, diameter.size, is_inside=diameter.is_inside
    )


def _level_lanes(view: View, group: Sequence[LengthLine], scale: float, *, text_inward: bool) -> Side | None:
    home = (view.shape.near_z * scale - FIRST_LANE_MM + 2.0, view.shape.far_z * scale + FIRST_LANE_MM - 2.0)
    items = [lane_item(n, min(n.start, n.end) * scale, max(n.start, n.end) * scale, home) for n in group]
    return lay_out(items, text_inward=text_inward)


def level_sides(view: View, lengths: Sequence[LengthLine], scale: float) -> list[dict[int, Side]]:
    """Ways to share the lengths between the sides above (+1) and below (-1), the fewest lanes first.

    Inside lengths stand above and outside lengths below; outside ones clear of any bore may help out above, where a
    shank often has nothing to say.
    """
    above = [length for length in lengths if length.is_inside]
    below = [length for length in lengths if not length.is_inside]
    inner = [z * scale for length in above for z in (length.start, length.end)]
    movable = [n for n in below if not _is_overall(view, n) and _is_clear(n, inner, scale)]
    short = [n for n in movable if abs(n.end - n.start) * scale < _SHORT_MM]
    found: list[dict[int, Side]] = []
    for moved in {tuple(m): m for m in ([], short, movable)}.values():
        if found and len(found[0][1].lanes) + len(found[0][-1].lanes) <= _FEW_LANES:
            break
        over = _level_lanes(view, [*above, *moved], scale, text_inward=False)
        under = _level_lanes(view, [n for n in below if n not in moved], scale, text_inward=True)
        if over is not None and under is not None:
            found.append({1: over, -1: under})
    return sorted(found, key=lambda sides: len(sides[1].lanes) + len(sides[-1].lanes))


def _is_overall(view: View, length: LengthLine) -> bool:
    low, high = sorted((length.start, length.end))
    return low < view.shape.near_z + 1e-6 and high > view.shape.far_z - 1e-6


def _is_clear(length: LengthLine, inner: Sequence[float], scale: float) -> bool:
    """True where a length stands wholly to one side of all inside lengths."""
    low, high = sorted((length.start * scale, length.end * scale))
    return not inner or high < min(inner) - _APART_MM or low > max(inner) + _APART_MM
