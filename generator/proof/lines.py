"""Lines among lines: dimension lines that cross or crowd, lines on one another, outlines too close to print."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from generator.drawing.boxes import Line, crosses
from generator.proof.rules import Fault, fault
from generator.proof.sheet import Segment, Sheet
from generator.proof.sizes import Dimension

__all__ = ["line_faults"]

_PITCH_MM = 7.0
_LEAST_OVERLAP_MM = 0.5
_LEAST_GAP_MM = 0.7
_NEAR = 1e-4
# Higher-ranking lines first.
_RANK = ("OUTLINE", "HIDDEN", "CENTRE", "NEIGHBOUR")


def line_faults(sheet: Sheet, dimensions: Sequence[Dimension]) -> Iterator[Fault]:
    """Every remark about lines among lines."""
    yield from _dimension_lines(sheet, dimensions)
    yield from _level_pairs(sheet)


def _dimension_lines(sheet: Sheet, dimensions: Sequence[Dimension]) -> Iterator[Fault]:
    found = [(one, line) for one in dimensions if (line := one.line()) is not None and len(one.heads) == 2]
    for i, (one, line) in enumerate(found):
        for other, line1 in found[i + 1 :]:
            at = sheet.on_paper(other.text_at)
            if crosses(line, line1):
                what = f"the lines of {one.label.text!r} and {other.label.text!r} cross"
                yield fault("dimension-lines-cross", what, at, other.handle, "DIM")
            gap = _gap(one, line, other, line1)
            apart = 0.0 if gap is None else gap * sheet.factor_at(other.text_at)
            if _NEAR < apart < _PITCH_MM - 0.01:
                what = f"the lines of {one.label.text!r} and {other.label.text!r} are {apart:.1f} mm apart"
                yield fault("dimension-lines-close", what, at, other.handle, "DIM")


def _gap(one: Dimension, line: Line, other: Dimension, line1: Line) -> float | None:
    """Distance of two level or two upright dimension lines that run beside each other."""
    if not ((one.is_level and other.is_level) or (one.is_upright and other.is_upright)):
        return None
    along = 0 if one.is_level else 1
    low, high = sorted((line.start[along], line.end[along]))
    low1, high1 = sorted((line1.start[along], line1.end[along]))
    if min(high, high1) - max(low, low1) <= _NEAR:
        return None
    return abs(line.start[1 - along] - line1.start[1 - along])


def _level_pairs(sheet: Sheet) -> Iterator[Fault]:
    """Level and upright lines of views that lie on one another or nearly so; one remark for each pair of entities."""
    for axis in (0, 1):
        lines = [
            (s.start[1 - axis], min(s.start[axis], s.end[axis]), max(s.start[axis], s.end[axis]), s)
            for s in sheet.segments
            if s.layer in _RANK and abs(s.start[1 - axis] - s.end[1 - axis]) < _NEAR
        ]
        lines.sort(key=lambda item: item[:3])
        yield from _pairs(sheet, lines)


def _pairs(sheet: Sheet, lines: Sequence[tuple[float, float, float, Segment]]) -> Iterator[Fault]:
    told: dict[tuple[str, str], bool] = defaultdict(bool)
    for i, (at, low, high, one) in enumerate(lines):
        for at1, low1, high1, other in lines[i + 1 :]:
            if (at1 - at) * sheet.factor >= _LEAST_GAP_MM - 0.01:
                break
            factor = sheet.factor_at(other.start)
            gap, over = (at1 - at) * factor, (min(high, high1) - max(low, low1)) * factor
            pair = (one.handle, other.handle)
            if over < _LEAST_OVERLAP_MM or told[pair] or one.handle == other.handle:
                continue
            spot = sheet.on_paper(other.start)
            if gap < _NEAR and one.layer != other.layer:
                told[pair] = True
                what = f"a line on {other.layer} lies on one on {one.layer} over {over:.1f} mm"
                yield fault("line-over-line", what, spot, other.handle, other.layer)
            elif 0.02 <= gap < _LEAST_GAP_MM and one.layer == other.layer == "OUTLINE" and not sheet.is_assembly:
                # In an arrangement fits and clearances are as they are; a part's small step goes into a detail.
                told[pair] = True
                if sheet.is_in_detail(other.start) or sheet.is_in_detail(one.end):
                    continue
                yield fault("lines-too-close", f"two outlines are {gap:.2f} mm apart", spot, other.handle, other.layer)
