"""Gaps of interrupted views as the zigzag lines tell them, and what the lengths over them leave out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.drawing.boxes import Box
from generator.proof.rules import Fault, fault
from generator.proof.sheet import Segment, Sheet
from generator.proof.sizes import Dimension

__all__ = ["GAP_LAYER", "Gap", "gap_faults", "gaps_of"]

GAP_LAYER = "BREAK"
_CLOSE_MM = 1e-3
_EDGE_LAYERS = ("OUTLINE", "HIDDEN")


@dataclass(frozen=True, slots=True)
class Gap:
    """Two zigzag lines in model space: the box about both, and the places of their straight ends."""

    box: Box
    left: float
    right: float
    handle: str

    def is_under(self, one: Dimension) -> bool:
        """True for a level dimension that runs over the gap."""
        xs = sorted(x for x, _ in one.ends)
        return one.is_level and xs[0] < self.left + _CLOSE_MM and xs[1] > self.right - _CLOSE_MM


def gaps_of(segments: Sequence[Segment]) -> list[Gap]:
    """The gaps among the pieces of model space: zigzag lines that stand beside one another, two by two."""
    by_handle: dict[str, list[Segment]] = {}
    for piece in segments:
        if piece.layer == GAP_LAYER:
            by_handle.setdefault(piece.handle, []).append(piece)
    lines = sorted(by_handle.values(), key=lambda pieces: pieces[0].start[0])
    return [_gap(one, other) for one, other in zip(lines[::2], lines[1::2], strict=False)]


def _gap(one: Sequence[Segment], other: Sequence[Segment]) -> Gap:
    spots = [spot for piece in (*one, *other) for spot in (piece.start, piece.end)]
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return Gap(Box(min(xs), min(ys), max(xs), max(ys)), one[0].start[0], other[0].start[0], one[0].handle)


def gap_faults(sheet: Sheet, dimensions: Sequence[Dimension]) -> Iterator[Fault]:
    """Lengths over a gap that leave out unequal lengths, factors without a gap, edges that do not go on beyond it."""
    gaps = gaps_of(sheet.segments)
    for one in dimensions:
        if one.is_linear and abs(one.left_out) > _CLOSE_MM and not any(gap.is_under(one) for gap in gaps):
            what = f"{one.label.text!r} says {one.left_out:.6g} more than it measures, and runs over no gap"
            yield fault("gap-length", what, sheet.on_paper(one.text_at), one.handle, "DIM")
    for gap in gaps:
        over = [one for one in dimensions if one.is_linear and gap.is_under(one)]
        at = sheet.on_paper((gap.left, gap.box.top))
        odd = sorted({round(one.left_out, 3) for one in over})
        if len(odd) > 1 or not odd or odd[0] <= _CLOSE_MM:
            shown = ", ".join(f"{value:g}" for value in odd) or "no length"
            yield fault("gap-length", f"lengths over the gap leave out {shown}", at, gap.handle, GAP_LAYER)
        ends = [sorted({round(y, 3) for y in _level_ends(sheet, x)}) for x in (gap.left, gap.right)]
        if ends[0] != ends[1]:
            what = "the edges on the two sides of the gap do not meet"
            yield fault("gap-uneven", what, at, gap.handle, GAP_LAYER)


def _level_ends(sheet: Sheet, x: float) -> Iterator[float]:
    """Heights of the level edges that end at this place."""
    for piece in sheet.segments:
        (x0, y0), (x1, y1) = piece.start, piece.end
        is_edge = piece.layer in _EDGE_LAYERS and abs(y0 - y1) < _CLOSE_MM
        if is_edge and min(abs(x0 - x), abs(x1 - x)) < _CLOSE_MM:
            yield y0
