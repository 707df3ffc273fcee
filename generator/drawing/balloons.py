"""Where item numbers, gap letters and neighbours' names stand round a view, and how their leaders run. Pure geometry.

All in millimetres on paper. Callouts stand in one row above and one below the view; leaders do not cross and are not
parallel to one another. Source: ISO 6433 practice as told in books on technical drawing; the search is our own.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from generator.drawing.arrangement_lines import Box, Point, Segment, box_hits, segment_hits_box, segments_cross

__all__ = ["Callout", "Obstacles", "Shelf", "Spot", "Tip", "crossings", "place_callouts"]

_APART_MM = 2.5
_FAN = 0.55
_LEAST_TURN_DEG = 2.0
_SWEEPS = 4
_TIPS_APART_MM = 4.0
_OUT_OF_ORDER = 3.0


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

    The leader is aimed at the centre of a circle, or at the near side of words.
    """

    callout: Callout
    tip: Tip
    centre: Point
    box: Box
    leader: Segment


def _spot(callout: Callout, tip: Tip, centre: Point) -> Spot:
    (x, y), (tx, ty) = centre, tip.point
    w, h = callout.half_width_mm, callout.half_height_mm
    if callout.is_round:
        length = math.hypot(x - tx, y - ty)
        share = 1.0 - h / length if length > 0 else 0.0
        leader = (tx, ty, tx + share * (x - tx), ty + share * (y - ty))
    else:
        leader = (tx, ty, x, y - math.copysign(h + 0.6, y - ty))
    return Spot(callout, tip, centre, (x - w, y - h, x + w, y + h), leader)


@dataclass(slots=True)
class _Search:
    """The state of the search: which tip each callout uses."""

    callouts: Sequence[Callout]
    shelves: dict[int, Shelf]
    obstacles: Obstacles
    chosen: list[int] = field(default_factory=list)

    def spots(self, chosen: Sequence[int]) -> list[Spot]:
        """The callouts in their places for a choice of tips, in the order of the callouts."""
        found: dict[int, Spot] = {}
        for side, shelf in self.shelves.items():
            members = [i for i, c in enumerate(self.callouts) if c.tips[chosen[i]].side == side]
            for i, spot in zip(members, self._row([(i, chosen[i]) for i in members], shelf), strict=True):
                found[i] = spot
        return [found[i] for i in range(len(self.callouts))]

    def _row(self, members: list[tuple[int, int]], shelf: Shelf) -> list[Spot]:
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
        return spots

    def cost(self, spots: Sequence[Spot]) -> float:
        """How bad a layout is: faults weigh a hundred, blemishes a few, millimetres of leader a little."""
        total = 0.0
        leaders = [spot.leader for spot in spots]
        boxes = [spot.box for spot in spots]
        angles = [math.degrees(math.atan2(s[3] - s[1], s[2] - s[0])) % 180.0 for s in leaders]
        for i, spot in enumerate(spots):
            lead = leaders[i]
            shelf = self.shelves[spot.tip.side]
            total += spot.tip.cost + 0.06 * math.hypot(lead[2] - lead[0], lead[3] - lead[1])
            total += 0.15 * max(0.0, abs(lead[2] - lead[0]) - abs(lead[3] - lead[1]))
            total += sum(60.0 for x in shelf.upright if boxes[i][0] - 1.0 < x < boxes[i][2] + 1.0)
            total += sum(3.0 for x in shelf.upright if min(lead[0], lead[2]) - 0.5 < x < max(lead[0], lead[2]) + 0.5)
            if boxes[i][0] < shelf.left or boxes[i][2] > shelf.right:
                total += 30.0
            total += sum(100.0 for box in self.obstacles.boxes if box_hits(boxes[i], box) or segment_hits_box(lead, box))
            total += sum(1.5 for line in self.obstacles.lines if segments_cross(lead, line))
            if spot.tip.end == "dot" and any(_turn(angles[i], h) < 6.0 for h in self.obstacles.hatch_deg):
                total += 1.0
            if spot.tip.slope_deg is not None and _turn(angles[i], spot.tip.slope_deg) < 20.0:
                total += 15.0
            for j in range(i):
                total += self._pair(lead, leaders[j], boxes[i], boxes[j], _turn(angles[i], angles[j]))
        return total + _OUT_OF_ORDER * _disorder(spots)

    @staticmethod
    def _pair(a: Segment, b: Segment, box_a: Box, box_b: Box, turn: float) -> float:
        """Faults between two callouts."""
        total = 0.0
        if segments_cross(a, b):
            total += 100.0
        if segment_hits_box(a, box_b) or segment_hits_box(b, box_a) or box_hits(box_a, box_b):
            total += 100.0
        if turn < _LEAST_TURN_DEG:
            total += 4.0
        total += 2.0 * max(0.0, _TIPS_APART_MM - math.hypot(a[0] - b[0], a[1] - b[1]))
        return total


def place_callouts(callouts: Sequence[Callout], shelves: Sequence[Shelf], obstacles: Obstacles) -> list[Spot]:
    """A place for every callout, in their order: the best that single changes lead to from the cheapest tips."""
    if not callouts:
        return []
    search = _Search(callouts, {s.side: s for s in shelves}, obstacles)
    sides = set(search.shelves)
    tips = [[t for t, tip in enumerate(c.tips) if tip.side in sides] for c in callouts]
    chosen = [min(own, key=lambda t, c=c: _first_guess(c.tips[t], search)) for c, own in zip(callouts, tips, strict=True)]
    spots = search.spots(chosen)
    best = search.cost(spots)
    for _ in range(_SWEEPS):
        before = best
        for i, own in enumerate(tips):
            for t in own:
                if t == chosen[i]:
                    continue
                trial = [*chosen[:i], t, *chosen[i + 1 :]]
                found = search.spots(trial)
                cost = search.cost(found)
                if cost < best - 1e-9:
                    chosen, spots, best = trial, found, cost
        if best > before - 1e-6:
            break
    return spots


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


def _first_guess(tip: Tip, search: _Search) -> float:
    return tip.cost + 0.06 * abs(search.shelves[tip.side].y - tip.point[1])


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
    """The row in this order, each as near as may be to where it is wanted; the result in the order of the items."""
    widths = [items[k][0].half_width_mm for k in order]
    targets = _clear_of([wanted[k] for k in order], widths, shelf.upright)
    places = _spaced(targets, widths, shelf.left, shelf.right)
    if shelf.upright:
        places = _spaced(_clear_of(places, widths, shelf.upright), widths, shelf.left, shelf.right)
    found: dict[int, Spot] = {}
    for k, x in zip(order, places, strict=True):
        callout, tip = items[k]
        found[k] = _spot(callout, tip, (x, shelf.y))
    return [found[k] for k in range(len(items))]


def _clear_of(targets: Sequence[float], widths: Sequence[float], upright: Sequence[float]) -> list[float]:
    """Targets moved off upright lines, to the nearer side."""
    found = []
    for x, half in zip(targets, widths, strict=True):
        for line in upright:
            if abs(x - line) < half + 1.5:
                x = line + math.copysign(half + 1.6, x - line)
        found.append(x)
    return found


def _spaced(targets: Sequence[float], halves: Sequence[float], left: float, right: float) -> list[float]:
    """Positions nearest to the targets that keep the callouts apart and, where there is room, inside the row.

    Pool adjacent violators: the least squares answer for fixed distances.
    """
    if not targets:
        return []
    offsets = [0.0]
    for a, b in zip(halves, halves[1:], strict=False):
        offsets.append(offsets[-1] + a + b + _APART_MM)
    pools: list[tuple[float, int]] = []
    for target, offset in zip(targets, offsets, strict=True):
        pools.append((target - offset, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (a, n), (b, m) = pools[-2:]
            pools[-2:] = [((a * n + b * m) / (n + m), n + m)]
    flat = [value for value, count in pools for _ in range(count)]
    least, most = left + halves[0], right - halves[-1] - offsets[-1]
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


def _disorder(spots: Sequence[Spot]) -> int:
    """How often the numbers fall while one goes round the view clockwise; once is unavoidable."""
    numbered = [s for s in spots if s.callout.number is not None]
    above = sorted((s for s in numbered if s.tip.side > 0), key=lambda s: s.centre[0])
    below = sorted((s for s in numbered if s.tip.side < 0), key=lambda s: -s.centre[0])
    round_view = [s.callout.number or 0 for s in (*above, *below)]
    falls = sum(1 for a, b in zip(round_view, [*round_view[1:], *round_view[:1]], strict=True) if b < a)
    return max(0, falls - 1)
