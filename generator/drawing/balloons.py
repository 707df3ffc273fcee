"""Where item numbers, gap letters and neighbours' names stand round a view, and how their leaders run. Pure geometry.

All in millimetres on paper. Callouts stand in one row above and one below the view; leaders do not cross and are not
parallel to one another. Source: ISO 6433 practice as told in books on technical drawing; the search is our own.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from generator.drawing.arrangement_lines import Box, Point, Segment, segment_hits_box, segments_cross
from generator.drawing.balloon_rows import CROSSING, Pin, Row, RowMaker, Shelf, wanted_place
from generator.drawing.certain import certain
from generator.drawing.style import ARROW_MM

__all__ = ["Callout", "Obstacles", "Shelf", "Spot", "Tip", "crossings", "faults_of", "place_callouts"]

_SWEEPS = 4
_OUT_OF_ORDER = 8.0
_TROUBLE = 2.0
_SETTLED = 0.5
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
class Obstacles:
    """What leaders and callouts keep off: boxes of words (never), lines they should rather not cross.

    No `strokes` of the view shall run through an arrow head.
    """

    boxes: tuple[Box, ...] = ()
    lines: tuple[Segment, ...] = ()
    hatch_deg: tuple[float, ...] = (45.0, 135.0)
    strokes: Sequence[Segment] = ()


@dataclass(frozen=True, slots=True)
class Spot:
    """A callout in its place: its middle, the box round it, and its leader from the tip to the callout's edge.

    The leader is aimed at the centre of a circle, or at the near side of words; `is_crossed` where a line of the view
    runs through its arrow head.
    """

    callout: Callout
    tip: Tip
    centre: Point
    box: Box
    leader: Segment
    is_crossed: bool = False


def _spot(callout: Callout, tip: Tip, centre: Point) -> Spot:
    (x, y), (tx, ty) = centre, tip.point
    w, h = callout.half_width_mm, callout.half_height_mm
    if callout.is_round:
        length = math.hypot(x - tx, y - ty)
        share = 1.0 - h / length if length > 0 else 0.0
        leader = (tx, ty, tx + share * (x - tx), ty + share * (y - ty))
    else:
        leader = (tx, ty, x, y - math.copysign(h + _OFF_WORDS_MM, y - ty))
    return Spot(callout, tip, centre, (x - w, y - h, x + w, y + h), leader)


def _is_near(line: Segment, x: float, y: float) -> bool:
    """True for a line that an arrow head at a point could meet."""
    x0, y0, x1, y1 = line
    reach = ARROW_MM
    return (
        min(x0, x1) < x + reach and x - reach < max(x0, x1) and min(y0, y1) < y + reach and y - reach < max(y0, y1)
    )


Members = tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class _Layout:
    """All rows for one choice of tips: how bad they are, and each callout's share of the blame."""

    cost: float
    blame: tuple[float, ...]


@dataclass(slots=True)
class _Search:
    """Layouts by which tip each callout uses. Leaders of one row never meet those of the other, so rows are kept."""

    callouts: Sequence[Callout]
    makers: Mapping[int, RowMaker]
    strokes: Sequence[Segment]
    pins: list[list[Pin]] = field(init=False)
    floor: list[float] = field(init=False)
    known: dict[tuple[int, Members], Row | float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Work out each callout by each of its tips once."""
        self.pins = [[self._pin(callout, tip) for tip in callout.tips] for callout in self.callouts]
        self.floor = [
            min(_first_guess(tip, self.makers, None) for tip in callout.tips if tip.side in self.makers)
            for callout in self.callouts
        ]

    def _pin(self, callout: Callout, tip: Tip) -> Pin:
        (x, y), w, h = tip.point, callout.half_width_mm, callout.half_height_mm
        wanted = wanted_place(x, y, self.makers[tip.side].shelf) if tip.side in self.makers else x
        near = tuple(line for line in self.strokes if _is_near(line, x, y)) if tip.end == "arrow" else ()
        short = 0.0 if callout.is_round else h + _OFF_WORDS_MM
        return Pin(x, y, w, h, tip.cost, tip.end == "dot", tip.slope_deg, callout.number, wanted, near, short)

    def rows(self, chosen: Sequence[int], most: float = math.inf) -> list[tuple[Members, Row]] | None:
        """The row on each shelf, with the callouts (index, tip) that stand in it; None if they cost over `most`."""
        found = []
        for side, maker in self.makers.items():
            members = tuple((i, t) for i, t in enumerate(chosen) if self.callouts[i].tips[t].side == side)
            row = self.known.get((side, members))
            if row is None or (isinstance(row, float) and row <= most):
                row = self.known[(side, members)] = maker.row([self.pins[i][t] for i, t in members], most)
            if isinstance(row, float):
                return None
            most -= row.cost
            found.append((members, row))
        return found

    def layout(self, chosen: Sequence[int], most: float = math.inf) -> _Layout | None:
        """How bad the layout is, and whose fault; None if it costs over `most`."""
        rows = self.rows(chosen, most)
        if rows is None:
            return None
        blame = [0.0] * len(chosen)
        numbers: list[int] = []
        total = 0.0
        for members, row in rows:
            total += row.cost
            numbers += row.numbers
            for (i, _), share in zip(members, row.blame, strict=True):
                blame[i] = share
        falls = _falls(numbers)
        if len(falls) > 1:
            total += _OUT_OF_ORDER * (len(falls) - 1)
            culprits = {number for pair in falls for number in pair}
            for i, callout in enumerate(self.callouts):
                if callout.number in culprits:
                    blame[i] += _OUT_OF_ORDER
        return _Layout(total, tuple(blame))

    def spots(self, chosen: Sequence[int]) -> list[Spot]:
        """The callouts in their places, in their order."""
        found: dict[int, Spot] = {}
        for (members, row), maker in zip(self.rows(chosen) or (), self.makers.values(), strict=True):
            for (i, t), x in zip(members, row.places, strict=True):
                callout = self.callouts[i]
                spot = _spot(callout, callout.tips[t], (x, maker.shelf.y))
                found[i] = replace(spot, is_crossed=maker.is_crossed(self.pins[i][t], x))
        return [found[i] for i in range(len(chosen))]


def place_callouts(
    callouts: Sequence[Callout], shelves: Sequence[Shelf], obstacles: Obstacles, before: Sequence[Spot] = ()
) -> list[Spot]:
    """A place for every callout, in their order: the best that single changes lead to from one of two beginnings.

    One has every callout at its cheapest tip (or where it was `before`, an earlier answer for some of them), the other
    the numbers in order round the view. The better one goes first; where it leaves a fault, the other is tried as well.
    """
    if not callouts:
        return []
    makers = {s.side: RowMaker(s, obstacles.boxes, obstacles.lines, obstacles.hatch_deg) for s in shelves}
    search = _Search(callouts, makers, obstacles.strokes)
    tips = [[t for t, tip in enumerate(c.tips) if tip.side in makers] for c in callouts]
    begun = {spot.callout.text: spot.tip for spot in before}
    cheapest = [_cheapest(c, own, makers, begun.get(c.text)) for c, own in zip(callouts, tips, strict=True)]
    starts = [cheapest, _in_order(callouts, tips, cheapest, makers)]
    layouts = [search.layout(start) for start in starts]
    ranked = sorted((layout.cost, k) for k, layout in enumerate(layouts) if layout is not None)
    best = (math.inf, cheapest)
    for _, k in ranked:
        if best[0] > CROSSING:
            best = min(best, _improved(search, tips, starts[k]))
    return search.spots(best[1])


def _improved(search: _Search, tips: Sequence[Sequence[int]], chosen: list[int]) -> tuple[float, list[int]]:
    """The best that single changes of what is in trouble lead to."""
    best = certain(search.layout(chosen), _Layout, "the row of callouts")
    for _ in range(_SWEEPS):
        cost, blame = best.cost, best.blame
        for i in sorted(range(len(chosen)), key=lambda k: search.floor[k] - blame[k]):
            if best.blame[i] - search.floor[i] < _TROUBLE:
                continue
            for t in tips[i]:
                trial = [*chosen[:i], t, *chosen[i + 1 :]]
                found = search.layout(trial, best.cost) if t != chosen[i] else None
                if found is not None and found.cost < best.cost - 1e-9:
                    chosen, best = trial, found
        if best.cost > cost - _SETTLED:
            break
    return best.cost, chosen


def _cheapest(callout: Callout, own: Sequence[int], makers: Mapping[int, RowMaker], begun: Tip | None = None) -> int:
    """Which of some tips of a callout promises most."""
    return min(own, key=lambda t: _first_guess(callout.tips[t], makers, begun))


def _first_guess(tip: Tip, makers: Mapping[int, RowMaker], begun: Tip | None) -> float:
    """The cheaper, the likelier; the tip of an earlier answer before all."""
    return -1.0 if tip is begun else tip.cost + 0.06 * abs(makers[tip.side].shelf.y - tip.point[1])


def _in_order(
    callouts: Sequence[Callout], tips: Sequence[Sequence[int]], cheapest: Sequence[int], makers: Mapping[int, RowMaker]
) -> list[int]:
    """A beginning with the first numbers above and the rest below, parted where fewest run against the view."""
    numbered = [i for i, c in enumerate(callouts) if c.number is not None]
    numbered.sort(key=lambda i: callouts[i].number or 0)
    best: tuple[int, int] | None = None
    for split in range(len(numbered) + 1):
        falls = 0
        for group, side in ((numbered[:split], 1), (numbered[split:], -1)):
            xs = [side * callouts[i].tips[cheapest[i]].point[0] for i in group]
            falls += sum(1 for k, x in enumerate(xs) for later in xs[k + 1 :] if later < x)
        rank = (falls, abs(2 * split - len(numbered)))
        if best is None or rank < best:
            best, kept = rank, split
    chosen = list(cheapest)
    for rank_of, i in enumerate(numbered):
        side = 1 if rank_of < kept else -1
        own = [t for t in tips[i] if callouts[i].tips[t].side == side]
        if own:
            chosen[i] = _cheapest(callouts[i], own, makers)
    return chosen


def faults_of(spots: Sequence[Spot], shelves: Sequence[Shelf]) -> int:
    """How many faults a layout has.

    Leaders that cross, callouts beyond the end of their row or on an upright line,
    arrow heads with a line through them.
    """
    count = len(crossings(spots)) + sum(spot.is_crossed for spot in spots)
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


def _falls(numbers: Sequence[int]) -> list[tuple[int, int]]:
    """Where the numbers fall while one goes round the view clockwise; once is unavoidable."""
    return [(a, b) for a, b in zip(numbers, [*numbers[1:], *numbers[:1]], strict=True) if b < a]
