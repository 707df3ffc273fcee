"""What is called out on an arrangement and where its leaders may end: items, gaps, neighbours. Millimetres on paper."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from generator.description import ChainResult, ListRow, Tool
from generator.drawing.arrangement_lines import Box, Point, Segment, segment_hits_box
from generator.drawing.arrangement_profile import Half, Placed, radii_at
from generator.drawing.arrangement_view import Scene
from generator.drawing.balloons import Callout, Tip
from generator.drawing.font import text_width_mm
from generator.drawing.neighbours import Neighbour, inside
from generator.drawing.style import LARGE_TEXT_MM, SMALL_TEXT_MM, TEXT_MM

__all__ = ["GAP_LETTERS", "LetteredGap", "Word", "gap_callouts", "item_callouts", "lettered_gaps", "name_neighbours"]

GAP_LETTERS = "ABCDEFGH"
_DOT_CLEAR_MM = 1.0
_LEAST_CLEAR_MM = 0.8
_OFF_AXIS_MM = 2.0
_WORD_CLEAR_MM = 0.9


@dataclass(frozen=True, slots=True)
class LetteredGap:
    """A gap that the sheet shows: its letter, its result, and where it is in the upper half (model mm)."""

    letter: str
    result: ChainResult
    point: Point


@dataclass(frozen=True, slots=True)
class Word:
    """A word that stands in the view without a leader: middle of its box, height of a capital."""

    text: str
    centre: Point
    height_mm: float

    @property
    def box(self) -> Box:
        """Its box with the clear space round it."""
        w, h = text_width_mm(self.text, self.height_mm) / 2 + 0.5, self.height_mm * 0.75
        x, y = self.centre
        return (x - w, y - h, x + w, y + h)


class _Grid:
    """Strokes by place along the axis, so that only near ones are measured."""

    _CELL_MM = 5.0

    def __init__(self, strokes: Iterable[Segment], scale: float) -> None:
        self.cells: dict[int, list[Segment]] = {}
        for stroke in strokes:
            x0, y0, x1, y1 = (value * scale for value in stroke)
            low, high = math.floor(min(x0, x1) / self._CELL_MM), math.floor(max(x0, x1) / self._CELL_MM)
            for cell in range(low, high + 1):
                self.cells.setdefault(cell, []).append((x0, y0, x1, y1))

    def near(self, left: float, right: float) -> Iterable[Segment]:
        """Strokes that may reach between two places; some may come twice."""
        for cell in range(math.floor(left / self._CELL_MM), math.floor(right / self._CELL_MM) + 1):
            yield from self.cells.get(cell, ())

    def clearance(self, x: float, y: float, enough: float) -> float:
        """Distance from a point to the nearest stroke, or `enough` if all are farther."""
        best = enough
        for x0, y0, x1, y1 in self.near(x - enough, x + enough):
            if max(y0, y1) < y - best or min(y0, y1) > y + best:
                continue
            dx, dy = x1 - x0, y1 - y0
            long = dx * dx + dy * dy
            t = 0.0 if long == 0 else min(1.0, max(0.0, ((x - x0) * dx + (y - y0) * dy) / long))
            best = min(best, math.hypot(x - x0 - t * dx, y - y0 - t * dy))
        return best

    def is_free(self, box: Box) -> bool:
        """True if no stroke touches the box."""
        return not any(segment_hits_box(stroke, box) for stroke in self.near(box[0], box[2]))


def item_callouts(rows: Sequence[ListRow], scene: Scene, scale: float, radius_mm: float) -> list[Callout]:
    """One callout for each row of the parts list, with the places where its leader may end."""
    grid = _Grid(scene.strokes(), scale)
    placed = {part.name: part for part in scene.section.placed}
    found = []
    for row in rows:
        tips = [tip for name in row.parts for tip in _tips(placed[name], scene, grid, scale)]
        tips.sort(key=lambda tip: tip.cost)
        kept = [tip for side in (1, -1) for tip in [t for t in tips if t.side == side][:6]]
        found.append(Callout(str(row.number), radius_mm, radius_mm, tuple(kept), number=row.number))
    return found


def _tips(part: Placed, scene: Scene, grid: _Grid, scale: float) -> list[Tip]:
    """Places in one part for the dot of a leader; where none is wide enough, places on its edge for an arrow."""
    found: list[Tip] = []
    edges: list[Tip] = []
    for side in (1, -1):
        for z in _stations(part.half(side), scale):
            radii = radii_at(part.half(side), z)
            if radii is None:
                continue
            inner, outer = (r * scale for r in radii)
            inner = inner if part.is_cut_at(z) else 0.0
            depth = min(2.5, (outer - inner) / 2)
            for r in (outer - depth, (outer + max(inner, _OFF_AXIS_MM)) / 2):
                point = (z * scale, side * r)
                if r < _OFF_AXIS_MM or _in_ball(point, scene, scale):
                    continue
                clear = grid.clearance(*point, 3.0)
                if clear >= _LEAST_CLEAR_MM:
                    cost = 0.8 * max(0.0, _DOT_CLEAR_MM + 0.6 - clear)
                    found.append(Tip(point, side, "dot", cost))
            if outer - inner > 1e-3:
                edges.append(Tip((z * scale, side * outer), side, "arrow", 2.0))
    return found or edges


def _stations(half: Half, scale: float) -> list[float]:
    """Places along a half: the middle of short stretches, three or more in long ones."""
    found = []
    for slab in half:
        length = (slab.z1 - slab.z0) * scale
        shares = (0.5,) if length < 9.0 else (0.2, 0.5, 0.8) if length < 40.0 else (0.1, 0.3, 0.5, 0.7, 0.9)
        found += [slab.z0 + share * (slab.z1 - slab.z0) for share in shares if length > 0.3]
    return found


def _in_ball(point: Point, scene: Scene, scale: float) -> bool:
    return any(
        math.hypot(point[0] - z * scale, point[1] - r * scale) < radius * scale + _DOT_CLEAR_MM
        for z, r, radius in scene.section.circles
    )


def lettered_gaps(tool: Tool, scene: Scene, chains: Mapping[str, ChainResult]) -> list[LetteredGap]:
    """The gaps that the sheet shows, at most eight: those that stop the job first, then in the order given."""
    results = list(chains.values())
    ranks = sorted(range(len(results)), key=lambda k: (results[k].gap.severity != "stop", k))
    located = []
    for k in sorted(ranks):
        point = _gap_point(results[k], tool, scene)
        if point is not None:
            located.append((ranks.index(k), k, point))
    main = sorted(sorted(located)[: len(GAP_LETTERS)], key=lambda item: item[1])
    return [
        LetteredGap(letter, results[k], point) for letter, (_, k, point) in zip(GAP_LETTERS, main, strict=False)
    ]


def _gap_point(result: ChainResult, tool: Tool, scene: Scene) -> Point | None:
    """The middle of a gap, or None where its faces are not on this view."""
    ends = []
    for address in (result.gap.start, result.gap.end):
        name, _, detail = address.partition("/")
        part = next((p for p in (*scene.section.placed, *scene.others) if p.name == name), None)
        if part is None:
            return None
        ends.append((part, detail))
    (a, first), (b, second) = ends
    if result.gap.direction == "axial":
        z0, z1 = a.face(first), b.face(second)
        low, high = _common(_face_radii(a, z0), _face_radii(b, z1))
        return ((z0 + z1) / 2, (low + high) / 2)
    spans = [tuple(sorted((p.face(s.near), p.face(s.far)))) for p, s in ((a, a.part.surface(first)), (b, b.part.surface(second)))]
    z0, z1 = max(spans[0][0], spans[1][0]), min(spans[0][1], spans[1][1])
    radii = [part.part.surface(detail).diameter.nominal_mm / 2 for part, detail in ends]
    return ((z0 + z1) / 2, sum(radii) / 2)


def _face_radii(part: Placed, z: float) -> tuple[float, float]:
    """From where to where the part has material just beside a face."""
    best: tuple[float, float] | None = None
    sides = [radii_at(part.upper, z + step) for step in (-1e-3, 1e-3)]
    known = [r for r in sides if r is not None]
    if len(known) == 2:
        (i0, o0), (i1, o1) = known
        if abs(o0 - o1) > abs(i0 - i1):
            best = (min(o0, o1), max(o0, o1))
        elif abs(i0 - i1) > 1e-6:
            best = (min(i0, i1), max(i0, i1))
    if best is None and known:
        best = known[0]
    return best or (0.0, 0.0)


def _common(a: tuple[float, float], b: tuple[float, float]) -> tuple[float, float]:
    """The radii that two faces have in common, or those between them."""
    return max(a[0], b[0]), min(a[1], b[1])


def gap_callouts(gaps: Sequence[LetteredGap], scale: float) -> list[Callout]:
    """A letter for each gap, with an arrow to it from either row."""
    size = LARGE_TEXT_MM / 2 + 0.6
    return [
        Callout(
            gap.letter,
            size,
            size,
            tuple(
                Tip((gap.point[0] * scale, side * gap.point[1] * scale), side, "arrow", 0.0 if side < 0 else 0.4)
                for side in (1, -1)
            ),
        )
        for gap in gaps
    ]


def name_neighbours(scene: Scene, scale: float) -> tuple[list[Word], list[Callout]]:
    """Names of the neighbours: words that stand inside them where there is room, else callouts with a leader."""
    grid = _Grid([*scene.strokes(), _axis(scene)], scale)
    words: list[Word] = []
    callouts: list[Callout] = []
    own = [loop for loops in scene.section.loops.values() for loop in loops]
    for neighbour in scene.neighbours:
        if not neighbour.lines:
            continue
        word = _word_inside(neighbour, grid, own, words, scale)
        if word is not None:
            words.append(word)
        else:
            callouts.append(_word_outside(neighbour, scale))
    return words, callouts


def _axis(scene: Scene) -> Segment:
    box = scene.box
    return (box[0] - 10.0, 0.0, box[2] + 10.0, 0.0)


def _word_inside(
    neighbour: Neighbour, grid: _Grid, own: Sequence[Sequence[Point]], words: Sequence[Word], scale: float
) -> Word | None:
    """The name in the neighbour's own area, clear of every line."""
    xs = [v * scale for line in neighbour.lines for v in (line[0], line[2])]
    ys = [v * scale for line in neighbour.lines for v in (line[1], line[3])]
    for height in (TEXT_MM, SMALL_TEXT_MM):
        half_width = text_width_mm(neighbour.title, height) / 2 + _WORD_CLEAR_MM
        half_height = height / 2 + _WORD_CLEAR_MM
        places = [
            (x, y)
            for y in _steps(max(ys) - half_height - 0.3, min(ys) + half_height + 0.3, -1.0)
            for x in _steps(min(xs) + half_width, max(xs) - half_width, 4.0)
        ]
        middle = (min(xs) + max(xs)) / 2
        for x, y in sorted(places, key=lambda p: (round(abs(p[0] - middle) / 8.0), -p[1])):
            box = (x - half_width, y - half_height, x + half_width, y + half_height)
            point = (x / scale, y / scale)
            if (
                grid.is_free(box)
                and inside(point, neighbour.loops)
                and not inside(point, own)
                and not any(_overlap(box, word.box) for word in words)
            ):
                return Word(neighbour.title, (x, y), height)
    return None


def _steps(start: float, stop: float, step: float) -> list[float]:
    count = int((stop - start) / step + 1e-9)
    return [start + step * k for k in range(count + 1)] if count >= 0 else []


def _overlap(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _word_outside(neighbour: Neighbour, scale: float) -> Callout:
    """The name as a callout, its arrow on the longest lines of the neighbour, above or below."""
    tips = []
    for side in (1, -1):
        lines = [line for line in neighbour.lines if side * (line[1] + line[3]) >= 0]
        lines.sort(key=lambda s: -math.hypot(s[2] - s[0], s[3] - s[1]))
        for rank, line in enumerate(lines[:3]):
            middle = ((line[0] + line[2]) / 2 * scale, (line[1] + line[3]) / 2 * scale)
            tips.append(Tip(middle, side, "arrow", 0.5 * rank))
    half = text_width_mm(neighbour.title, TEXT_MM) / 2
    return Callout(neighbour.title, half, TEXT_MM / 2 + 0.4, tuple(tips), is_round=False)
