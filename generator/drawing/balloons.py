"""Where item numbers, gap letters and neighbours' names stand round a view, and how their leaders run. Pure geometry.

All in millimetres on paper. Callouts stand in one row above and one below the view; leaders do not cross and are not
parallel to one another. Source: ISO 6433 practice as told in books on technical drawing; the search is our own.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from generator.drawing.arrangement_lines import Box, Point, Segment, box_hits, segment_hits_box, segments_cross

__all__ = ["Callout", "Obstacles", "Shelf", "Spot", "Tip", "crossings", "faults_of", "place_callouts"]

_APART_MM = 2.5
_FAN = 0.55
_LEAST_TURN_DEG = 2.0
_SWEEPS = 4
_TIPS_APART_MM = 4.0
_OUT_OF_ORDER = 3.0
_FIXED = 1e6
_SHIFTS = 8
_OFF_WORDS_MM = 1.1


@dataclass(frozen=True, slots=True)
class Tip:
    """A place where a leader may end: the row it can be reached from (+1 above, -1 below), and how unwelcome it is.

    `slope_deg` is that of the line it ends on, which the leader must not run along.
    """

    point: Point
    side: int
    end: str = "dot"
    cost: float = 0.0
    slope_deg: float | None = None


@dataclass(frozen=True, slots=True)
class Callout:
    """A number in a circle, a letter, or words; `number` only for what should run in order round the view."""

    text: str
    half_width_mm: float
    half_height_mm: float
    tips: tuple[Tip, ...]
    is_round: bool = True
    number: int | None = None


@dataclass(frozen=True, slots=True)
class Shelf:
    """A row of callouts: its side of the view, its height, its ends, and upright lines that pass through it."""

    side: int
    y: float
    left: float
    right: float
    upright: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Obstacles:
    """What leaders and callouts keep off: boxes of words (never), lines they should rather not cross."""

    boxes: tuple[Box, ...] = ()
    lines: tuple[Segment, ...] = ()
    hatch_deg: tuple[float, ...] = (45.0, 135.0)


@dataclass(frozen=True, slots=True)
class Spot:
    """A callout in its place: its middle, the box round it, and its leader from the tip to the callout's edge.

    The leader is aimed at the centre of a circle, or at the near side of words. `span` is what all of it takes up
    along the row, with room for another tip.
    """

    callout: Callout
    tip: Tip
    centre: Point
    box: Box
    leader: Segment
    span: tuple[float, float]


def _spot(callout: Callout, tip: Tip, centre: Point) -> Spot:
    (x, y), (tx, ty) = centre, tip.point
    w, h = callout.half_width_mm, callout.half_height_mm
    if callout.is_round:
        length = math.hypot(x - tx, y - ty)
        share = 1.0 - h / length if length > 0 else 0.0
        leader = (tx, ty, tx + share * (x - tx), ty + share * (y - ty))
    else:
        leader = (tx, ty, x, y - math.copysign(h + _OFF_WORDS_MM, y - ty))
    span = (min(tx - _TIPS_APART_MM, x - w), max(tx, x + w))
    return Spot(callout, tip, centre, (x - w, y - h, x + w, y + h), leader, span)


Members = tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class _Row:
    """One row set out: its callouts by index, and how bad it is."""

    spots: dict[int, Spot]
    cost: float
    numbers: tuple[int, ...]


@dataclass(slots=True)
class _Search:
    """Layouts by which tip each callout uses. Leaders of one row never meet those of the other, so rows are kept."""

    callouts: Sequence[Callout]
    shelves: Sequence[Shelf]
    obstacles: Obstacles
    known: dict[tuple[int, Members], _Row] = field(default_factory=dict)

    def layout(self, chosen: Sequence[int]) -> tuple[float, list[Spot]]:
        """How bad the layout is, and the callouts in their places, in their order."""
        spots: dict[int, Spot] = {}
        numbers: list[int] = []
        total = 0.0
        for shelf in self.shelves:
            members = tuple((i, t) for i, t in enumerate(chosen) if self.callouts[i].tips[t].side == shelf.side)
            row = self.known.get((shelf.side, members))
            if row is None:
                row = self.known[(shelf.side, members)] = self._row(members, shelf)
            spots.update(row.spots)
            total += row.cost
            numbers += row.numbers
        return total + _OUT_OF_ORDER * _disorder(numbers), [spots[i] for i in range(len(chosen))]

    def _row(self, members: Members, shelf: Shelf) -> _Row:
        """One row, uncrossed by exchanging places."""
        items = [(self.callouts[i], self.callouts[i].tips[t]) for i, t in members]
        wanted = [_wanted(tip, shelf) for _, tip in items]
        order = sorted(range(len(items)), key=lambda k: (wanted[k], -abs(items[k][1].point[1])))
        spots = _set_out(items, order, wanted, shelf)
        for _ in range(len(items)):
            crossed = _first_crossing(spots, order)
            if crossed is None:
                break
            a, b = crossed
            order[a], order[b] = order[b], order[a]
            spots = _set_out(items, order, wanted, shelf)
        running = [spots[k].callout.number for k in order]
        numbers = [n for n in (running if shelf.side > 0 else running[::-1]) if n is not None]
        placed = {i: spot for (i, _), spot in zip(members, spots, strict=True)}
        return _Row(placed, self._cost(spots, shelf), tuple(numbers))

    def _cost(self, spots: Sequence[Spot], shelf: Shelf) -> float:
        """How bad a row is: faults weigh a hundred, blemishes a few, millimetres of leader a little."""
        total = 0.0
        angles = [math.degrees(math.atan2(s.leader[3] - s.leader[1], s.leader[2] - s.leader[0])) % 180.0 for s in spots]
        for i, (spot, angle) in enumerate(zip(spots, angles, strict=True)):
            total += self._single(spot, angle, shelf)
            for other, turned in zip(spots[:i], angles, strict=False):
                total += _pair(spot, other, _turn(angle, turned))
        return total

    def _single(self, spot: Spot, angle: float, shelf: Shelf) -> float:
        """Faults of one callout by itself."""
        lead, own = spot.leader, spot.box
        across, up = abs(lead[2] - lead[0]), abs(lead[3] - lead[1])
        total = spot.tip.cost + 0.06 * math.hypot(across, up) + 0.15 * max(0.0, across - up)
        low, high = min(lead[0], lead[2]) - 0.5, max(lead[0], lead[2]) + 0.5
        for x in shelf.upright:
            total += 60.0 if own[0] - 1.0 < x < own[2] + 1.0 else 3.0 if low < x < high else 0.0
        beyond = max(shelf.left - own[0], own[2] - shelf.right)
        if beyond > 1e-6:
            total += 30.0 + 5.0 * beyond
        total += sum(100.0 for box in self.obstacles.boxes if box_hits(own, box) or segment_hits_box(lead, box))
        total += sum(1.5 for line in self.obstacles.lines if segments_cross(lead, line))
        if spot.tip.end == "dot" and any(_turn(angle, h) < 6.0 for h in self.obstacles.hatch_deg):
            total += 1.0
        if spot.tip.slope_deg is not None and _turn(angle, spot.tip.slope_deg) < 20.0:
            total += 15.0
        return total


def _pair(a: Spot, b: Spot, turn: float) -> float:
    """Faults between two callouts of a row."""
    total = 4.0 if turn < _LEAST_TURN_DEG else 0.0
    if a.span[1] < b.span[0] or b.span[1] < a.span[0]:
        return total
    if segments_cross(a.leader, b.leader):
        total += 100.0
    if segment_hits_box(a.leader, b.box) or segment_hits_box(b.leader, a.box) or box_hits(a.box, b.box):
        total += 100.0
    apart = math.hypot(a.leader[0] - b.leader[0], a.leader[1] - b.leader[1])
    return total + 2.0 * max(0.0, _TIPS_APART_MM - apart)


def place_callouts(
    callouts: Sequence[Callout], shelves: Sequence[Shelf], obstacles: Obstacles, before: Sequence[Spot] = ()
) -> list[Spot]:
    """A place for every callout, in their order: the best that single changes lead to from the cheapest tips.

    `before` is an earlier answer for some of the callouts, to begin from.
    """
    if not callouts:
        return []
    search = _Search(callouts, shelves, obstacles)
    heights = {shelf.side: shelf.y for shelf in shelves}
    tips = [[t for t, tip in enumerate(c.tips) if tip.side in heights] for c in callouts]
    begun = {spot.callout.text: spot.tip for spot in before}
    chosen = []
    for callout, own in zip(callouts, tips, strict=True):
        guesses = {t: _first_guess(callout.tips[t], heights, begun.get(callout.text)) for t in own}
        chosen.append(min(guesses, key=lambda t: guesses[t]))
    best, spots = search.layout(chosen)
    for _ in range(_SWEEPS):
        earlier = best
        for i, own in enumerate(tips):
            for t in own:
                trial = [*chosen[:i], t, *chosen[i + 1 :]]
                cost, found = search.layout(trial)
                if cost < best - 1e-9:
                    chosen, spots, best = trial, found, cost
        if best > earlier - 0.5:
            break
    return spots


def faults_of(spots: Sequence[Spot], shelves: Sequence[Shelf]) -> int:
    """How many faults a layout has: leaders that cross, callouts beyond the end of their row or on an upright line."""
    count = len(crossings(spots))
    for shelf in shelves:
        for spot in spots:
            if spot.tip.side == shelf.side:
                left, _, right, _ = spot.box
                count += left < shelf.left - 1e-6 or right > shelf.right + 1e-6
                count += sum(left < x < right for x in shelf.upright)
    return count


def crossings(spots: Sequence[Spot]) -> list[tuple[str, str]]:
    """Pairs of callouts whose leaders cross, or of which one leader runs through the other's box."""
    found = []
    for i, a in enumerate(spots):
        for b in spots[:i]:
            if (
                segments_cross(a.leader, b.leader)
                or segment_hits_box(a.leader, b.box)
                or segment_hits_box(b.leader, a.box)
            ):
                found.append((b.callout.text, a.callout.text))
    return found


def _first_guess(tip: Tip, heights: Mapping[int, float], begun: Tip | None) -> float:
    """The cheaper, the likelier; the tip of an earlier answer before all."""
    return -1.0 if tip is begun else tip.cost + 0.06 * abs(heights[tip.side] - tip.point[1])


def _wanted(tip: Tip, shelf: Shelf) -> float:
    """Where a callout would stand if it were alone: leaders fan out from the middle of the row."""
    middle, half = (shelf.left + shelf.right) / 2, max(1.0, (shelf.right - shelf.left) / 2)
    lean = _FAN * (tip.point[0] - middle) / half
    if abs(lean) < 0.08:
        lean = 0.08 if lean >= 0 else -0.08
    return tip.point[0] + lean * abs(shelf.y - tip.point[1])


def _set_out(
    items: Sequence[tuple[Callout, Tip]], order: Sequence[int], wanted: Sequence[float], shelf: Shelf
) -> list[Spot]:
    """The row in this order, each as near as may be to where it is wanted; the result in the order of the items.

    An upright line counts as a callout of no width that will not move.
    """
    row = [(wanted[k], items[k][0].half_width_mm, 1.0, k) for k in order]
    for x in sorted(shelf.upright):
        before = sum(1 for target, _, _, _ in row if target < x)
        row.insert(before, (x, 0.0, _FIXED, -1))
    places = _spaced(row, shelf.left, shelf.right)
    for _ in range(_SHIFTS):
        if not _shifted(row, places):
            break
        places = _spaced(row, shelf.left, shelf.right)
    found: dict[int, Spot] = {}
    for (_, _, _, k), x in zip(row, places, strict=True):
        if k >= 0:
            found[k] = _spot(*items[k], (x, shelf.y))
    return [found[k] for k in range(len(items))]


def _shifted(row: list[tuple[float, float, float, int]], places: Sequence[float]) -> bool:
    """True if a callout was sent to the other side of an upright line that a crowd had pushed from its place."""
    for at, (thing, x) in enumerate(zip(row, places, strict=True)):
        if thing[3] >= 0 or abs(x - thing[0]) < 0.01:
            continue
        other = at + 1 if x < thing[0] else at - 1
        if 0 <= other < len(row) and row[other][3] >= 0:
            row[at], row[other] = row[other], row[at]
            return True
    return False


def _spaced(row: Sequence[tuple[float, float, float, int]], left: float, right: float) -> list[float]:
    """Positions nearest to the targets that keep things apart and, where there is room, inside the row.

    Each thing is (target, half width, weight, key). Pool adjacent violators: the least squares answer.
    """
    if not row:
        return []
    offsets = [0.0]
    for (_, a, _, _), (_, b, _, _) in pairwise(row):
        offsets.append(offsets[-1] + a + b + _APART_MM)
    pools: list[tuple[float, float, int]] = []
    for (target, _, weight, _), offset in zip(row, offsets, strict=True):
        pools.append((target - offset, weight, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (a, u, n), (b, v, m) = pools[-2:]
            pools[-2:] = [((a * u + b * v) / (u + v), u + v, n + m)]
    flat = [value for value, _, count in pools for _ in range(count)]
    least, most = left + row[0][1], right - row[-1][1] - offsets[-1]
    if most < least:
        least = most = (least + most) / 2
    return [min(max(value, least), most) + offset for value, offset in zip(flat, offsets, strict=True)]


def _first_crossing(spots: Sequence[Spot], order: Sequence[int]) -> tuple[int, int] | None:
    """Places in the row of two callouts whose leaders cross."""
    for b in range(1, len(order)):
        for a in range(b - 1, -1, -1):
            if segments_cross(spots[order[a]].leader, spots[order[b]].leader):
                return a, b
    return None


def _turn(a: float, b: float) -> float:
    """Angle between two directions of lines, 0 to 90."""
    turn = abs(a - b) % 180.0
    return min(turn, 180.0 - turn)


def _disorder(numbers: Sequence[int]) -> int:
    """How often the numbers fall while one goes round the view clockwise; once is unavoidable."""
    falls = sum(1 for a, b in zip(numbers, [*numbers[1:], *numbers[:1]], strict=True) if b < a)
    return max(0, falls - 1)
