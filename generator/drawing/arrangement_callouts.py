"""What is called out on an arrangement and where its leaders may end: items, gaps, neighbours. Millimetres on paper."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from generator.description import ChainResult, ListRow
from generator.drawing.arrangement_lines import Box, Point, Segment, box_hits, segment_hits_box
from generator.drawing.arrangement_profile import Half, Placed, radii_at
from generator.drawing.arrangement_view import Scene
from generator.drawing.balloons import Callout, Spot, Tip
from generator.drawing.font import text_width_mm
from generator.drawing.neighbours import Neighbour, inside
from generator.drawing.style import LARGE_TEXT_MM, SMALL_TEXT_MM, TEXT_MM

__all__ = [
    "GAP_LETTERS", "Grid", "LetteredGap", "Word", "gap_callouts", "item_callouts", "lettered_gaps", "name_neighbours",
]

GAP_LETTERS = "ABCDEFGH"
_DOT_CLEAR_MM = 1.0
_LEAST_CLEAR_MM = 0.8
_OFF_AXIS_MM = 2.0
_DOTS_IN_MM = (1.2, 0.9)
_WORD_CLEAR_MM = 0.9
_TIPS_APART_MM = 2.0
_TIPS_PER_SIDE = 3


@dataclass(frozen=True, slots=True)
class LetteredGap:
    """A gap that the sheet shows: its letter, its result, and where it is in the upper half (model mm)."""

    letter: str
    result: ChainResult
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Word:
    """Words that stand in the view without a leader, one line or two: middle of their box, height of a capital."""

    lines: tuple[str, ...]
    centre: Point
    height_mm: float

    @property
    def half_size(self) -> Point:
        """Half the width and height of the words."""
        width = max(text_width_mm(line, self.height_mm) for line in self.lines)
        return width / 2, self.height_mm * (0.5 + 0.8 * (len(self.lines) - 1))

    @property
    def box(self) -> Box:
        """Their box with the clear space round it."""
        (x, y), (w, h) = self.centre, self.half_size
        w, h = w + _WORD_CLEAR_MM, h + _WORD_CLEAR_MM
        # Small letters reach a quarter of a capital below the line.
        return (x - w, y - h - 0.25 * self.height_mm, x + w, y + h)

    def placed_lines(self) -> list[tuple[str, Point]]:
        """Each line with the middle of it."""
        x, y = self.centre
        step = 1.6 * self.height_mm
        top = y + step * (len(self.lines) - 1) / 2
        return [(line, (x, top - step * k)) for k, line in enumerate(self.lines)]


class Grid:
    """Strokes by place along the axis, so that only near ones are measured."""

    _CELL_MM = 5.0

    def __init__(self, strokes: Iterable[Segment], scale: float) -> None:
        self.cells: dict[int, list[Segment]] = {}
        for x0, y0, x1, y1 in strokes:
            self.add((x0 * scale, y0 * scale, x1 * scale, y1 * scale))

    def add(self, stroke: Segment) -> None:
        """One more stroke, in mm on paper."""
        low, high = sorted((math.floor(stroke[0] / self._CELL_MM), math.floor(stroke[2] / self._CELL_MM)))
        for cell in range(low, high + 1):
            self.cells.setdefault(cell, []).append(stroke)

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


def item_callouts(rows: Sequence[ListRow], scene: Scene, scale: float) -> list[Callout]:
    """One callout for each row of the parts list, with the places where its leader may end; circles of no size yet."""
    grid = Grid(scene.strokes(), scale)
    placed = {part.name: part for part in scene.section.placed}
    found = []
    for row in rows:
        tips = [tip for name in row.parts for tip in _tips(placed[name], scene, grid, scale)]
        tips.sort(key=lambda tip: tip.cost)
        kept = [tip for side in (1, -1) for tip in _apart([t for t in tips if t.side == side])[:_TIPS_PER_SIDE]]
        found.append(Callout(str(row.number), 0.0, 0.0, tuple(kept), number=row.number))
    return found


def _apart(tips: Iterable[Tip]) -> list[Tip]:
    """The tips without those that stand beside a better one, which would only make the search longer."""
    found: list[Tip] = []
    for tip in tips:
        if all(math.dist(tip.point, other.point) >= _TIPS_APART_MM for other in found):
            found.append(tip)
    return found


def _tips(part: Placed, scene: Scene, grid: Grid, scale: float) -> list[Tip]:
    """Places in one part for the dot of a leader, those clear of every line if there are any."""
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
                edges.append(Tip((z * scale, side * (outer + inner) / 2), side, "dot", 2.0))
    return found or edges


def _stations(half: Half, scale: float) -> list[float]:
    """Places along a half: the middle of short stretches, three or more in long ones."""
    found = []
    for slab in half:
        length = (slab.z1 - slab.z0) * scale
        shares = (0.5,) if length < 9.0 else (0.2, 0.5, 0.8) if length < 40.0 else (0.1, 0.3, 0.5, 0.7, 0.9)
        found += [slab.z0 + share * (slab.z1 - slab.z0) for share in shares if length > 0.3]
    if not found and half:
        longest = max(half, key=lambda slab: slab.z1 - slab.z0)
        found = [(longest.z0 + longest.z1) / 2]
    return found


def _in_ball(point: Point, scene: Scene, scale: float) -> bool:
    return any(
        math.hypot(point[0] - z * scale, point[1] - r * scale) < radius * scale + _DOT_CLEAR_MM
        for z, r, radius in scene.section.circles
    )


def lettered_gaps(scene: Scene, chains: Mapping[str, ChainResult]) -> list[LetteredGap]:
    """The gaps that the sheet shows, at most eight, in the order given.

    Where there are more, those made to measure come first, then those that are nearest to their limits at worst.
    """
    located = [(result, points) for result in chains.values() if (points := _gap_points(result, scene))]
    ranks = sorted(range(len(located)), key=lambda k: (_margin(located[k][0]), k))
    main = sorted(ranks[: len(GAP_LETTERS)])
    return [LetteredGap(letter, *located[k]) for letter, k in zip(GAP_LETTERS, main, strict=False)]


def _margin(result: ChainResult) -> float:
    """Room left at worst to the nearer limit, as a share of the spread; least for a gap made to measure."""
    if result.gap.fit:
        return -math.inf
    least, most = result.gap.least_mm, result.gap.most_mm
    room = [math.inf]
    if least is not None:
        room.append(result.low_mm - least)
    if most is not None:
        room.append(most - result.high_mm)
    return min(room) / max(0.01, result.high_mm - result.low_mm)


def _gap_points(result: ChainResult, scene: Scene) -> tuple[Point, ...]:
    """Places in the middle of a gap, along its length; none where its faces are not on this view."""
    ends = []
    for address in (result.gap.start, result.gap.end):
        name, _, detail = address.partition("/")
        part = next((p for p in (*scene.section.placed, *scene.others) if p.name == name), None)
        if part is None:
            return ()
        ends.append((part, detail))
    (a, first), (b, second) = ends
    if result.gap.direction == "axial":
        z0, z1 = a.face(first), b.face(second)
        low, high = _common(_face_radii(a, z0), _face_radii(b, z1))
        return tuple(((z0 + z1) / 2, low + share * (high - low)) for share in (0.5, 0.2, 0.8))
    walls = [_wall(part, detail) for part, detail in ends]
    if walls[0] is None or walls[1] is None:
        return ()
    (near, far, radius), (other_near, other_far, other_radius) = walls[0], walls[1]
    z0, z1 = max(near, other_near), min(far, other_far)
    return tuple((z0 + share * (z1 - z0), (radius + other_radius) / 2) for share in (0.5, 0.2, 0.8))


def _wall(part: Placed, name: str) -> tuple[float, float, float] | None:
    """From where to where a surface, or the flats of a cross feature, reach, and how far they stand from the axis."""
    surface = part.part.by_name.get(name)
    if surface is not None:
        near, far = sorted((part.face(surface.near), part.face(surface.far)))
        return near, far, surface.diameter.nominal_mm / 2
    cross = next((feature for feature in part.part.cross if feature.name == name), None)
    if cross is None:
        return None
    near, far = sorted((part.face(cross.near), part.face(cross.far)))
    return near, far, next(iter(cross.sizes.values())).nominal_mm / 2


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
    """A letter for each gap, its leader from either row with a dot in the gap: an arrow would lie across its lines."""
    size = LARGE_TEXT_MM / 2 + 1.7
    found = []
    for gap in gaps:
        tips: list[Tip] = []
        for side in (-1, 1):
            before = 0.0 if side < 0 else 0.4
            points = enumerate(gap.points)
            tips += _apart(Tip((z * scale, side * r * scale), side, "dot", 0.3 * k + before) for k, (z, r) in points)
        found.append(Callout(gap.letter, size, size, tuple(tips)))
    return found


def name_neighbours(
    scene: Scene, scale: float, spots: Sequence[Spot] = (), lines: Sequence[Segment] = ()
) -> tuple[list[Word], list[Callout]]:
    """Names of the neighbours: words that stand inside them where there is room, else callouts with a leader.

    `spots` are callouts that stand already, `lines` are extension lines (mm on paper); all are kept clear.
    """
    grid = Grid([*scene.strokes(), _axis(scene)], scale)
    for line in (*lines, *(spot.leader for spot in spots)):
        grid.add(line)
    words: list[Word] = []
    callouts: list[Callout] = []
    own = [loop for loops in scene.section.loops.values() for loop in loops]
    for neighbour in scene.neighbours:
        if not neighbour.lines or not neighbour.title:
            continue
        taken = [*(word.box for word in words), *(spot.box for spot in spots)]
        word = _word_inside(neighbour, grid, scene.section.placed, taken, scale)
        if word is not None:
            words.append(word)
        else:
            callouts.append(_word_outside(neighbour, own, grid, scale))
    return words, callouts


def _axis(scene: Scene) -> Segment:
    box = scene.box
    return (box[0] - 10.0, 0.0, box[2] + 10.0, 0.0)


def _word_inside(
    neighbour: Neighbour, grid: Grid, placed: Sequence[Placed], taken: Sequence[Box], scale: float
) -> Word | None:
    """The name in the neighbour's own area, clear of every line."""
    xs = [v * scale for line in neighbour.lines for v in (line[0], line[2])]
    ys = [v * scale for line in neighbour.lines for v in (line[1], line[3])]
    middle = (min(xs) + max(xs)) / 2
    for height in (TEXT_MM, SMALL_TEXT_MM):
        for lines in _line_breaks(neighbour.title):
            trial = Word(lines, (0.0, 0.0), height)
            half_width, half_height = trial.box[2], -trial.box[1]
            xs_wanted = _steps(min(xs) + half_width, max(xs) - half_width, 3.0)
            ys_wanted = _steps(max(ys) - half_height - 0.3, min(ys) + half_height + 0.3, -1.0)
            for x in sorted(xs_wanted, key=lambda x: abs(x - middle)):
                free = [
                    word
                    for y in ys_wanted
                    if inside((x / scale, y / scale), neighbour.loops)
                    and grid.is_free((word := Word(lines, (x, y), height)).box)
                    and not _over_tool(word.box, placed, scale)
                    and not any(box_hits(word.box, other) for other in taken)
                ]
                if free:
                    return max(free, key=lambda w: (grid.clearance(w.centre[0], w.centre[1], 8.0), w.centre[1]))
    return None


def _over_tool(box: Box, placed: Sequence[Placed], scale: float) -> bool:
    """True if a box stands over the tool's own parts or in their bores."""
    low = 0.0 if box[1] < 0.0 < box[3] else min(abs(box[1]), abs(box[3]))
    side = 1 if box[3] > 0.0 else -1
    for part in placed:
        for x in (box[0], (box[0] + box[2]) / 2, box[2]):
            radii = radii_at(part.half(side), x / scale)
            if radii is not None and radii[1] * scale > low:
                return True
    return False


def _line_breaks(title: str) -> list[tuple[str, ...]]:
    """The title on one line, and on two where it has a space near its middle."""
    spaces = [k for k, letter in enumerate(title) if letter == " "]
    if not spaces:
        return [(title,)]
    at = min(spaces, key=lambda k: abs(2 * k - len(title)))
    return [(title,), (title[:at], title[at + 1 :])]


def _steps(start: float, stop: float, step: float) -> list[float]:
    count = int((stop - start) / step + 1e-9)
    return [start + step * k for k in range(count + 1)] if count >= 0 else []


def _word_outside(neighbour: Neighbour, own: Sequence[Sequence[Point]], grid: Grid, scale: float) -> Callout:
    """The name as a callout, its arrow on the longest lines of the neighbour, or its dot just inside them."""
    tips = []
    for side in (1, -1):
        lines = [line for line in neighbour.lines if side * (line[1] + line[3]) >= 0]
        lines.sort(key=lambda s: -math.hypot(s[2] - s[0], s[3] - s[1]))
        for rank, (x0, y0, x1, y1) in enumerate(lines[:3]):
            slope = math.degrees(math.atan2(y1 - y0, x1 - x0))
            for share in (0.5, 0.2, 0.8):
                point = (x0 + share * (x1 - x0), y0 + share * (y1 - y0))
                cost = 0.5 * rank + (3.0 if inside(point, own) else 0.0)
                tips.append(Tip((point[0] * scale, point[1] * scale), side, "arrow", cost, slope))
                for depth_mm in _DOTS_IN_MM:
                    within = (point[0], point[1] - side * depth_mm / scale)
                    spot = (within[0] * scale, within[1] * scale)
                    is_own = inside(within, neighbour.loops) and not inside(within, own)
                    if is_own and grid.clearance(*spot, _DOT_CLEAR_MM) >= _LEAST_CLEAR_MM:
                        tips.append(Tip(spot, side, "dot", cost + 2.0))
                        break
    half = text_width_mm(neighbour.title, TEXT_MM) / 2
    return Callout(neighbour.title, half, TEXT_MM / 2 + 0.4, tuple(tips), is_round=False)
