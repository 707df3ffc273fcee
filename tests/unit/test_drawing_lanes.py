"""Level dimensions in their lanes: short ones inside, long ones outside.

Source: small sizes inside, large ones outside, books on technical drawing after ISO 129-1.
"""

from __future__ import annotations

import pytest

from generator.drawing.lanes import Item, lay_out

# Lengths of three spindles, from the shoulder of the collar to both sides: ends and width of the label, mm on paper.
SPINDLES = {
    "screwed": [(0.0, 6.0, 2.6), (0.0, 15.0, 5.2), (-14.45, 0.0, 22.9), (-30.3, 0.0, 20.3), (-30.3, 30.5, 12.3)],
    "with a circlip": [
        (0.0, 10.5, 9.1), (0.0, 16.5, 9.1), (10.5, 12.0, 6.5), (12.0, 16.0, 2.6), (-11.45, 0.0, 22.9),
        (-33.7, 0.0, 20.3), (-31.0, 0.0, 19.0), (-33.7, 37.28, 14.9),
    ],
    "with a nut": [(0.0, 27.5, 14.5), (-27.67, 0.0, 18.0), (-8.42, 0.0, 15.0), (-38.77, -27.67, 7.0)],
}  # fmt: skip


@pytest.mark.parametrize("name", SPINDLES)
def test_no_short_length_stands_outside_a_longer_one(name: str) -> None:
    sizes = SPINDLES[name]
    home = (min(low for low, _, _ in sizes) - 8.0, max(high for _, high, _ in sizes) + 8.0)
    items = [Item(str(k), low, high, width, 4.5, 0.0, home) for k, (low, high, width) in enumerate(sizes)]
    side = lay_out(items, text_inward=True)
    assert side is not None
    placed = [(index, one.item) for index, lane in enumerate(side.lanes) for one in lane]
    assert len(placed) == len(items)
    for outer_lane, outer in placed:
        for inner_lane, inner in placed:
            overlap = min(outer.high, inner.high) - max(outer.low, inner.low)
            if outer_lane > inner_lane and overlap > 0.1:
                assert outer.high - outer.low >= inner.high - inner.low - 0.1, (outer, inner)
