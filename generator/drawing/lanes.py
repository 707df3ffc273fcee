"""Dimension lines of one side of a view, set in lanes so that nothing touches a figure. Pure numbers, mm on paper.

A side is a stack of lanes that grows away from the view. An item spans from `low` to `high` along the side; its label
stands on its dimension line, inside or beyond one end. Hard rules: intervals in one lane do not overlap, and no
extension line of an outer lane runs through a label of an inner one. A beam search puts each item into an existing lane
or a new one anywhere in the stack, shortest spans first; chains and parallel dimensions need no special case.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import accumulate
from math import inf
from operator import itemgetter

from generator.drawing.style import ARROW_MM, CENTRE_PAST_MM, CLEAR_MM, FIRST_LANE_MM, LANE_PITCH_MM, OVERSHOOT_MM

__all__ = ["Item", "Placed", "Side", "lay_out"]

Lane = tuple["Placed", ...]

_TOUCH_MM = 0.05
# A label at an end keeps this far off the end of the centre line.
_OFF_AXIS_MM = 0.3
_LEAST_LANE_ROOM_MM = 2 * ARROW_MM + 1.0
_COST_CROSSING = 3.0
_COST_LANE = 1.2
_ARROW_SHARE = 1.5
_OUT_OF_ORDER = 2.0
_COST_BESIDE = 0.9
_COST_SHIFTED = 0.25
_COST_FARTHER = 0.5
_COST_IN_THE_WAY = 1.4
_COST_ABROAD = 1.0
_FARTHER_MM = (0.0, 7.0, 15.0)
_BEAMS = (8, 24, 60, 160)
# A side that costs more than this for each item is searched once more with a wider beam.
_WELL_SET = 4.0


@dataclass(frozen=True, slots=True)
class Item:
    """One dimension to set: its ends, its label's width, how far the label reaches above and under the line.

    A label that leaves `home` costs extra: it would push away what stands round the corner.
    """

    key: str
    low: float
    high: float
    width: float
    above: float
    under: float = 0.0
    home: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Placed:
    """An item in its lane: middle of its label, extent of label and of the whole, and where the arrows stand."""

    item: Item
    text: float
    text_low: float
    text_high: float
    low: float
    high: float
    arrows_inside: bool


@dataclass(frozen=True, slots=True)
class Side:
    """Lanes from the view outwards, and the distance of each one's dimension line from the view."""

    lanes: tuple[Lane, ...]
    offsets: tuple[float, ...]

    @property
    def depth(self) -> float:
        """Distance that the side needs from the view outwards."""
        if not self.lanes:
            return 0.0
        reach = max(max(p.item.above, p.item.under) for p in self.lanes[-1])
        return self.offsets[-1] + max(OVERSHOOT_MM, reach) + CLEAR_MM

    @property
    def extent(self) -> tuple[float, float]:
        """Least and greatest coordinate along the side that anything reaches."""
        every = [p for lane in self.lanes for p in lane]
        return min((p.low for p in every), default=0.0), max((p.high for p in every), default=0.0)


def _modes(item: Item) -> Iterator[tuple[Placed, float]]:
    """Ways to set an item within a lane, with their cost."""
    middle, span, half = (item.low + item.high) / 2, item.high - item.low, item.width / 2
    inside = span >= _LEAST_LANE_ROOM_MM
    if span >= item.width + 2 * CLEAR_MM:
        room = (span - item.width) / 2 - CLEAR_MM
        shifts = [0.0]
        if room > 3.0:
            shifts += [room * share for share in (0.5, -0.5, 1.0, -1.0)]
        for shift in shifts:
            at = middle + shift
            low, high = (item.low, item.high) if inside else (item.low - 2 * ARROW_MM, item.high + 2 * ARROW_MM)
            cost = _COST_SHIFTED if shift else 0.0
            yield Placed(item, at, at - half, at + half, low, high, inside), cost
    run = ARROW_MM + 1.0 if not inside else 1.5
    for step, farther in enumerate(_FARTHER_MM):
        for sign in (1, -1):
            start = (item.high if sign > 0 else item.low) + sign * (run + farther)
            stop = start + sign * item.width
            text_low, text_high = min(start, stop), max(start, stop)
            low, high = (item.low, item.high) if inside else (item.low - 2 * ARROW_MM, item.high + 2 * ARROW_MM)
            placed = Placed(
                item, (start + stop) / 2, text_low, text_high, min(low, text_low), max(high, text_high), inside
            )
            yield placed, _COST_BESIDE + step * _COST_FARTHER


@dataclass(frozen=True, slots=True)
class _State:
    cost: float
    lanes: tuple[Lane, ...]


def _hits_text(x: float, placed: Placed) -> bool:
    return placed.text_low - CLEAR_MM < x < placed.text_high + CLEAR_MM


def _crossings(outer: Placed, inner: Placed) -> float:
    """How often extension lines of `outer` cross the line of `inner`; infinite where one runs through its label.

    A line through an arrow head counts more than one through the line between the heads, and so does a short size that
    stands outside a longer one.
    """
    one, two = outer.item, inner.item
    overlap = min(one.high, two.high) - max(one.low, two.low)
    is_shorter = one.high - one.low < two.high - two.low - _TOUCH_MM
    count = _OUT_OF_ORDER if is_shorter and overlap > _TOUCH_MM else 0.0
    for x in (outer.item.low, outer.item.high):
        if _hits_text(x, inner):
            return inf
        if inner.low + _TOUCH_MM < x < inner.high - _TOUCH_MM:
            count += 1.0
            away = min(abs(x - inner.item.low), abs(x - inner.item.high))
            count += _ARROW_SHARE if _TOUCH_MM < away < ARROW_MM else 0.0
    return count


def _clash(one: Placed, other: Placed) -> bool:
    """True where two items cannot share a lane; ends may touch in a chain with arrows inside."""
    if one.high <= other.low + _TOUCH_MM or other.high <= one.low + _TOUCH_MM:
        low, high = (one, other) if one.high <= other.low + _TOUCH_MM else (other, one)
        gap = high.low - low.high
        is_chain = low.arrows_inside and high.arrows_inside and abs(low.item.high - high.item.low) < _TOUCH_MM
        plain_ends = low.high == low.item.high and high.low == high.item.low
        return not (is_chain and plain_ends) and gap < 2.0
    return True


def _meeting(placed: Placed, other: Placed) -> tuple[float, float, bool]:
    """What the two cost with `other` nearer the view, and with it farther out; True where one lane is too short."""
    inner, outer = _crossings(placed, other), _crossings(other, placed)
    return _COST_CROSSING * inner, _COST_CROSSING * outer, _clash(placed, other)


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to set an item, its cost, and what was found of it beside others, by their identity."""

    placed: Placed
    cost: float
    met: dict[int, tuple[float, float, bool]] = field(default_factory=dict)

    def costs(self, lanes: tuple[Lane, ...]) -> Iterator[tuple[float, int, bool]]:
        """Cost of this way in each lane, then in a new lane at each height: cost, place, and whether it is new."""
        # Up to each lane what lies nearer the view, from each lane on what lies farther out.
        nearer, outer, room = [0.0], [], []
        for lane in lanes:
            inside, outside, clashes = self._beside(lane)
            nearer.append(nearer[-1] + inside)
            outer.append(outside)
            room.append(not clashes)
        farther = [*accumulate(reversed(outer), initial=0.0)][::-1]
        for index, free in enumerate(room):
            if free:
                yield self.cost + nearer[index] + farther[index + 1], index, False
        for index, near in enumerate(nearer):
            yield self.cost + _COST_LANE + near + farther[index], index, True

    def _beside(self, lane: Lane) -> tuple[float, float, bool]:
        """The meeting with all that stands in a lane; the same pair comes again in many states."""
        inside = outside = 0.0
        clashes = False
        for other in lane:
            met = self.met.get(id(other))
            if met is None:
                met = self.met[id(other)] = _meeting(self.placed, other)
            inside += met[0]
            outside += met[1]
            clashes = clashes or met[2]
        return inside, outside, clashes


def _with(lanes: tuple[Lane, ...], placed: Placed, index: int, *, new: bool) -> tuple[Lane, ...]:
    """The lanes with an item put into lane `index`, or into a new lane inserted there."""
    if new:
        return (*lanes[:index], (placed,), *lanes[index:])
    return (*lanes[:index], (*lanes[index], placed), *lanes[index + 1 :])


def _search(ways_of_all: Sequence[Sequence[_Way]], beam: int) -> _State | None:
    """The cheapest state that a beam of this width finds, the items put in one after the other."""
    states = [_State(0.0, ())]
    for ways in ways_of_all:
        # Only what the beam keeps is built; until then a state is its cost and where it would come from.
        grown = [
            (state.cost + cost, state, way.placed, index, new)
            for state in states
            for way in ways
            for cost, index, new in way.costs(state.lanes)
            if cost < inf
        ]
        if not grown:
            return None
        grown.sort(key=itemgetter(0))
        states = [
            _State(cost, _with(state.lanes, placed, index, new=new)) for cost, state, placed, index, new in grown[:beam]
        ]
    return states[0]


def _worth_trying(item: Item, items: Sequence[Item]) -> list[_Way]:
    """Ways to set an item, dearer where its label would stand in the way of longer items' extension lines."""
    longer = {x for other in items if other.high - other.low > item.high - item.low for x in (other.low, other.high)}
    found = []
    for placed, cost in _modes(item):
        in_the_way = sum(_hits_text(x, placed) for x in longer)
        is_abroad = item.home is not None and (placed.low < item.home[0] or placed.high > item.home[1])
        found.append(_Way(placed, cost + _COST_IN_THE_WAY * in_the_way + _COST_ABROAD * is_abroad))
    return found


def _offsets(lanes: Sequence[Lane], first: float, *, text_inward: bool) -> tuple[float, ...]:
    """Distances of the dimension lines, close enough to save paper, far enough for the labels between them."""
    found: list[float] = []
    for i, lane in enumerate(lanes):
        inward = max((p.item.above if text_inward else p.item.under) for p in lane)
        if i == 0:
            found.append(max(first, inward + CENTRE_PAST_MM + _OFF_AXIS_MM))
            continue
        outward = max((p.item.under if text_inward else p.item.above) for p in lanes[i - 1])
        between = inward + max(OVERSHOOT_MM, outward) + CLEAR_MM
        found.append(found[-1] + max(LANE_PITCH_MM, between))
    return tuple(found)


def lay_out(items: Sequence[Item], *, text_inward: bool, first_mm: float = FIRST_LANE_MM) -> Side | None:
    """The items of one side in lanes, or None where no arrangement without a clash was found.

    `text_inward`: labels stand on the view's side of their lines (below and right of a view), otherwise beyond them.
    """
    return _laid_out(tuple(items), text_inward, first_mm)


@lru_cache(maxsize=256)
def _laid_out(items: tuple[Item, ...], text_inward: bool, first_mm: float) -> Side | None:
    """The side itself: one part asks for the same one again with and without its details."""
    if not items:
        return Side((), ())
    shortest_first = sorted(items, key=lambda i: (i.high - i.low, i.low, i.key))
    ways = [_worth_trying(item, items) for item in shortest_first]
    best: _State | None = None
    for beam in _BEAMS:
        found = _search(ways, beam) if best is None or beam < _BEAMS[-1] else None
        if found is not None and (best is None or found.cost < best.cost):
            best = found
        if best is not None and best.cost <= _WELL_SET * len(items):
            break
    return Side(best.lanes, _offsets(best.lanes, first_mm, text_inward=text_inward)) if best is not None else None
