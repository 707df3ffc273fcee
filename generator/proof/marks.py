"""Marks that touch: words over words, lines, arrow heads and hatch; lines through arrow heads; marks out of place."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Any

import numpy as np

from generator.drawing.boxes import Box, Line, hits, overlaps
from generator.ink import Fill, TextRun
from generator.proof.rules import Fault, fault
from generator.proof.sheet import Point, Sheet

__all__ = ["mark_faults"]

_NEAR_MM = 0.1
_ARROW_TIP_MM = 0.7
_ARROW_BACK_MM = 0.3
_ON_FRAME_MM = 0.01
_MARK_LAYERS = frozenset({"FRAME"})


@dataclass(frozen=True, slots=True)
class _Run:
    """A run of text with its box: upright box on paper, and the turn that makes it level."""

    run: TextRun
    box: Box
    is_level: bool

    @property
    def at(self) -> Point:
        """Lower left corner."""
        return (self.box.left, self.box.bottom)

    def meets(self, start: Point, end: Point, by: float) -> bool:
        """True where a line comes nearer than `by` to the letters."""
        if self.is_level:
            return hits(Line(start, end), self.box.grown(by))
        # A slanting text is laid level, and the line with it.
        p, q, _, s = self.run.box()
        width, height = math.dist(p, q), math.dist(p, s)
        along = ((q[0] - p[0]) / width, (q[1] - p[1]) / width) if width else (1.0, 0.0)
        level = [
            ((x - p[0]) * along[0] + (y - p[1]) * along[1], (y - p[1]) * along[0] - (x - p[0]) * along[1])
            for x, y in (start, end)
        ]
        return hits(Line(level[0], level[1]), Box(0.0, 0.0, width, height).grown(by))


class _Marks:
    """The ink of a sheet as arrays, so that each text is compared with few lines."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.runs = [_run(run) for run in sheet.ink.texts if run.text.strip()]
        self.owners: list[int] = []
        ends: list[tuple[float, float, float, float]] = []
        for index, stroke in enumerate(sheet.ink.strokes):
            points = list(stroke.outline.points())
            if stroke.outline.closed:
                points.append(points[0])
            for (x0, y0), (x1, y1) in pairwise(points):
                ends.append((x0, y0, x1, y1))
                self.owners.append(index)
        self.ends = np.array(ends, dtype=float).reshape(-1, 4)
        self.halves = np.array([sheet.ink.strokes[i].width_mm / 2 for i in self.owners], dtype=float)
        x, y = self.ends[:, 0::2], self.ends[:, 1::2]
        self.low = np.stack([x.min(axis=1), y.min(axis=1)], axis=1) if len(ends) else np.zeros((0, 2))
        self.high = np.stack([x.max(axis=1), y.max(axis=1)], axis=1) if len(ends) else np.zeros((0, 2))

    def near(self, box: Box, by: float = 0.0) -> list[int]:
        """Indices of pieces whose own boxes meet a box."""
        found = (
            (self.low[:, 0] - self.halves < box.right + by)
            & (self.high[:, 0] + self.halves > box.left - by)
            & (self.low[:, 1] - self.halves < box.top + by)
            & (self.high[:, 1] + self.halves > box.bottom - by)
        )
        return [int(i) for i in np.flatnonzero(found)]

    def piece(self, index: int) -> tuple[Point, Point]:
        """A piece of a stroke as two points."""
        x0, y0, x1, y1 = self.ends[index].tolist()
        return (x0, y0), (x1, y1)

    @cached_property
    def heads(self) -> list[tuple[Fill, list[Point], Box]]:
        """Filled areas with their corners and boxes."""
        found = [(fill, list(outline.points())) for fill in self.sheet.ink.fills for outline in fill.outlines]
        return [(fill, corners, _box_of(corners)) for fill, corners in found]


def _run(run: TextRun) -> _Run:
    corners = run.box()
    (ax, ay), (bx, by) = corners[0], corners[1]
    is_level = min(abs(bx - ax), abs(by - ay)) < 1e-6
    return _Run(run, _box_of(corners), is_level)


def mark_faults(sheet: Sheet) -> Iterator[Fault]:
    """Every mark that touches another or stands where it must not."""
    marks = _Marks(sheet)
    yield from _text_over_text(marks)
    for run in marks.runs:
        yield from _text_over_line(marks, run)
        yield from _text_over_head(marks, run)
    yield from _text_over_hatch(marks)
    yield from _lines_through_heads(marks)
    yield from _outside(marks)
    yield from _over_block(marks)


def _text_over_text(marks: _Marks) -> Iterator[Fault]:
    order = sorted(marks.runs, key=lambda run: run.box.left)
    for i, one in enumerate(order):
        for other in order[i + 1 :]:
            if other.box.left >= one.box.right + _NEAR_MM:
                break
            if one.box.bottom - _NEAR_MM < other.box.top and other.box.bottom - _NEAR_MM < one.box.top:
                what = f"{one.run.text!r} meets {other.run.text!r}"
                yield fault("text-over-text", what, one.at, one.run.handle, one.run.layer)


def _text_over_line(marks: _Marks, run: _Run) -> Iterator[Fault]:
    """The first line that touches a text; hatch lines are told by their area."""
    for index in marks.near(run.box, _NEAR_MM):
        stroke = marks.sheet.ink.strokes[marks.owners[index]]
        if stroke.layer == "HATCH":
            continue
        if run.meets(*marks.piece(index), stroke.width_mm / 2 + _NEAR_MM):
            what = f"{run.run.text!r} meets a line on {stroke.layer} (entity {stroke.handle})"
            yield fault("text-over-line", what, run.at, run.run.handle, run.run.layer)
            return


def _text_over_head(marks: _Marks, run: _Run) -> Iterator[Fault]:
    box = run.box.grown(_NEAR_MM)
    for fill, corners, around in marks.heads:
        if not overlaps(box, around):
            continue
        if _inside(run.box, corners) or any(
            run.meets(a, b, _NEAR_MM) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)
        ):
            what = f"{run.run.text!r} meets an arrow head or dot on {fill.layer} (entity {fill.handle})"
            yield fault("text-over-arrow", what, run.at, run.run.handle, run.run.layer)
            return


def _box_of(points: Sequence[Point]) -> Box:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


def _inside(box: Box, corners: Sequence[Point]) -> bool:
    """True where the middle of a box lies inside a polygon."""
    return _is_in((box.left + box.right) / 2, (box.bottom + box.top) / 2, [corners])


def _is_in(x: float, y: float, loops: Sequence[Sequence[Point]]) -> bool:
    """True for a point inside the loops by the even-odd rule."""
    inside = False
    for loop in loops:
        for (x0, y0), (x1, y1) in zip(loop, [*loop[1:], loop[0]], strict=True):
            if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
                inside = not inside
    return inside


def _text_over_hatch(marks: _Marks) -> Iterator[Fault]:
    areas = [area for window in marks.sheet.windows for area in _hatched(marks.sheet, window)]
    for run in marks.runs:
        for handle, loops, boxes in areas:
            near = [loop for loop, box in zip(loops, boxes, strict=True) if overlaps(run.box, box)]
            if not near:
                continue
            edges = ((a, b) for loop in near for a, b in zip(loop, [*loop[1:], loop[0]], strict=True))
            middle = ((run.box.left + run.box.right) / 2, (run.box.bottom + run.box.top) / 2)
            if _is_in(*middle, loops) or any(run.meets(a, b, 0.0) for a, b in edges):
                what = f"{run.run.text!r} stands in hatch (entity {handle})"
                yield fault("text-over-hatch", what, run.at, run.run.handle, run.run.layer)
                break


def _hatched(sheet: Sheet, window: Any) -> Iterator[tuple[str, list[list[Point]], list[Box]]]:
    """Handle, loops on paper and their boxes of every hatched area that a view shows."""
    for entity in sheet.model:
        if entity.dxftype() != "HATCH" or entity.dxf.layer != "HATCH":
            continue
        loops = [
            [window.at((v[0], v[1])) for v in path.vertices] for path in entity.paths if hasattr(path, "vertices")
        ]
        boxes = [_box_of(loop) for loop in loops]
        if any(overlaps(window.box, box) for box in boxes):
            yield entity.dxf.handle, loops, boxes


def _lines_through_heads(marks: _Marks) -> Iterator[Fault]:
    for fill, corners, _ in marks.heads:
        core = _core(corners)
        if core is None or fill.layer not in ("DIM", "SYMBOL"):
            continue
        (x0, y0), (x1, y1) = core
        box = Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
        for index in marks.near(box):
            stroke = marks.sheet.ink.strokes[marks.owners[index]]
            if stroke.layer in ("HATCH", "FRAME") or stroke.handle == fill.handle:
                continue
            if _cross(core, marks.piece(index)):
                what = f"a line on {stroke.layer} (entity {stroke.handle}) runs through an arrow head"
                yield fault("line-through-arrow", what, corners[0], fill.handle, fill.layer)
                break


def _core(corners: Sequence[Point]) -> tuple[Point, Point] | None:
    """The middle of an arrow head from behind its tip to before its back; None for what is no arrow head."""
    if len(corners) > 3 and math.dist(corners[-1], corners[-2]) < 1e-9:
        corners = corners[:-1]
    if len(corners) != 3:
        return None
    tip, b, c = max(
        ((corners[i], corners[(i + 1) % 3], corners[(i + 2) % 3]) for i in range(3)),
        key=lambda t: math.dist(t[0], t[1]) + math.dist(t[0], t[2]),
    )
    back = ((b[0] + c[0]) / 2, (b[1] + c[1]) / 2)
    length = math.dist(tip, back)
    if length < _ARROW_TIP_MM + _ARROW_BACK_MM or math.dist(b, c) > length / 2:
        return None
    ux, uy = (back[0] - tip[0]) / length, (back[1] - tip[1]) / length
    reach = length - _ARROW_BACK_MM
    return (tip[0] + ux * _ARROW_TIP_MM, tip[1] + uy * _ARROW_TIP_MM), (tip[0] + ux * reach, tip[1] + uy * reach)


def _cross(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """True where two lines cross at an angle of more than about one degree."""
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    turn = ux * vy - uy * vx
    if abs(turn) <= 0.02 * math.hypot(ux, uy) * math.hypot(vx, vy):
        return False
    s = ((cx - ax) * vy - (cy - ay) * vx) / turn
    t = ((cx - ax) * uy - (cy - ay) * ux) / turn
    return 0.0 <= s <= 1.0 and 0.0 <= t <= 1.0


def _outside(marks: _Marks) -> Iterator[Fault]:
    """Words and lines beyond the frame: one fault for each entity."""
    frame = marks.sheet.frame
    if frame is None:
        return
    inner = frame.grown(_ON_FRAME_MM)
    for run in marks.runs:
        box = run.box
        is_in = inner.left <= box.left and box.right <= inner.right and inner.bottom <= box.bottom
        if not (is_in and box.top <= inner.top) and run.run.layer not in _MARK_LAYERS:
            what = f"{run.run.text!r} leaves the frame"
            yield fault("outside-frame", what, run.at, run.run.handle, run.run.layer)
    beyond = (
        (marks.low[:, 0] < inner.left)
        | (marks.high[:, 0] > inner.right)
        | (marks.low[:, 1] < inner.bottom)
        | (marks.high[:, 1] > inner.top)
    )
    seen: set[str] = set()
    for index in np.flatnonzero(beyond):
        stroke = marks.sheet.ink.strokes[marks.owners[int(index)]]
        if stroke.layer not in _MARK_LAYERS and stroke.handle not in seen:
            seen.add(stroke.handle)
            what = f"a line on {stroke.layer} leaves the frame"
            yield fault("outside-frame", what, marks.piece(int(index))[0], stroke.handle, stroke.layer)


def _over_block(marks: _Marks) -> Iterator[Fault]:
    """Marks on the title block that are not its own: one fault for each entity."""
    sheet, block = marks.sheet, marks.sheet.block_box
    if block is None:
        return
    own = {sheet.block.dxf.handle, *(attribute.dxf.handle for attribute in sheet.block.attribs)}
    inner = block.grown(-_NEAR_MM)
    for run in marks.runs:
        if run.run.handle not in own and overlaps(inner, run.box):
            what = f"{run.run.text!r} stands on the title block"
            yield fault("over-title-block", what, run.at, run.run.handle, run.run.layer)
    seen: set[str] = set()
    for index in marks.near(inner):
        stroke = marks.sheet.ink.strokes[marks.owners[index]]
        if stroke.handle in seen | own or stroke.layer == "FRAME":
            continue
        if hits(Line(*marks.piece(index)), inner):
            seen.add(stroke.handle)
            what = f"a line on {stroke.layer} runs over the title block"
            yield fault("over-title-block", what, marks.piece(index)[0], stroke.handle, stroke.layer)
