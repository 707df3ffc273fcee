"""The gap of an interrupted view: where it stands along the part as drawn, and what is left out there."""

from __future__ import annotations

from dataclasses import dataclass, replace

from generator.drawing.wanted import Callout

__all__ = ["Gap"]

_TIP_CLEAR_MM = 2.5


@dataclass(frozen=True, slots=True)
class Gap:
    """The gap of an interrupted view from `start` to `end` along the part as drawn, and what is left out there."""

    start: float
    end: float
    left_out_mm: float

    def lies_within(self, one: float, other: float) -> bool:
        """True where a length between two positions runs over the gap."""
        return min(one, other) < self.start and max(one, other) > self.end

    def clear(self, callout: Callout, scale: float) -> Callout:
        """The callout without the tips that would point into the gap or at its zigzag lines."""
        rim = _TIP_CLEAR_MM / scale
        low, high = self.start - rim, self.end + rim
        kept = tuple(tip for tip in callout.tips if not low < tip[0] < high)
        return replace(callout, tips=kept or tuple((low, tip[1]) for tip in callout.tips[:1]))
