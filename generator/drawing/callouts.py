"""Places for leader callouts close to the view: words, symbols, frames and datums that nothing touches. Pure numbers.

Coordinates are mm on paper, the view's axis at y = 0. Candidates are tried cheapest first: short steep leaders, above
before below, where no dimension has to make room.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import pairwise, product

from generator.drawing.boxes import Box, Line, crosses, hits, overlaps
from generator.drawing.font import text_width_mm
from generator.drawing.requests import Callout
from generator.drawing.style import CLEAR_MM, FRAME_HEIGHT_MM, TEXT_GAP_MM, TEXT_MM

__all__ = [
    "FINISH_KNEE_MM", "FINISH_LEFT_MM", "FINISH_RISE_MM", "TAPER_SYMBOL_MM", "Obstacles", "PlacedCallout",
    "frame_cells", "place_callouts", "size_of",
]

Point = tuple[float, float]

FINISH_RISE_MM = 10.5
FINISH_LEFT_MM = 2.9
FINISH_KNEE_MM = 6.1
TAPER_SYMBOL_MM = 7.0
_LEAST_RISE_MM = 5.0
_RISES = (0.0, 4.0, 8.0, 12.5, 17.0, 22.0, 27.0, 33.0, 39.0, 46.0, 54.0, 63.0, 73.0)
_LEANS = (0.45, 0.8, 0.2, 1.3)
_COST_EXTENSION = 0.8
_COST_PUSH = 0.12
_COST_SAME_TIP = 2.5
_TIP_APART_MM = 6.0


@dataclass(frozen=True, slots=True)
class PlacedCallout:
    """A callout with its leader from tip to text, the box of its words or symbol, and where the reference line runs."""

    callout: Callout
    points: tuple[Point, ...]
    box: Box
    reference: Line | None
    stands: bool = False

    def lines(self) -> list[Line]:
        """Leader and reference line."""
        found = [Line(a, b) for a, b in pairwise(self.points)]
        return found + ([self.reference] if self.reference else [])


@dataclass
class Obstacles:
    """What callouts keep clear of.

    `sky_top` and `sky_bottom` are the outlines of the two halves (x, |y|); `extension_top` and `extension_bottom` the
    places of upright extension lines with the |y| where each begins; `lines` other dimension lines; `boxes` areas
    taken; `lanes_top` and `lanes_bottom` the reach along x of the dimension lanes, `free_top` and `free_bottom` the |y|
    up to which a callout does not push them outwards.
    """

    sky_top: Sequence[Point]
    sky_bottom: Sequence[Point]
    extension_top: Sequence[Point] = ()
    extension_bottom: Sequence[Point] = ()
    lines: list[Line] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    lanes_top: tuple[float, float] | None = None
    lanes_bottom: tuple[float, float] | None = None
    free_top: float = 0.0
    free_bottom: float = 0.0

    def __post_init__(self) -> None:
        """Turn extension lines into lines that run out of the sheet."""
        self.uprights = [Line((x, y), (x, 999.0)) for x, y in self.extension_top]
        self.uprights += [Line((x, -y), (x, -999.0)) for x, y in self.extension_bottom]

    def sky(self, left: float, right: float, sign: int) -> float:
        """The greatest |y| of the outline between two x, on one side of the axis."""
        path = self.sky_top if sign > 0 else self.sky_bottom
        best = 0.0
        for (x0, y0), (x1, y1) in pairwise(path):
            low, high = max(left, x0), min(right, x1)
            if low > high:
                continue
            for x in (low, high):
                best = max(best, max(y0, y1) if x1 - x0 < 1e-9 else y0 + (y1 - y0) * (x - x0) / (x1 - x0))
        return best


def size_of(callout: Callout) -> tuple[float, float]:
    """Width and height on paper of what stands at the end of the leader."""
    label = callout.label
    if callout.kind == "finish":
        return FINISH_LEFT_MM + FINISH_KNEE_MM + text_width_mm(label.main, TEXT_MM) + 2.0, FINISH_RISE_MM + 0.5
    if callout.kind == "frame":
        return sum(frame_cells(callout)), FRAME_HEIGHT_MM
    if callout.kind == "datum":
        return FRAME_HEIGHT_MM, FRAME_HEIGHT_MM
    width = label.full_width_mm + (TAPER_SYMBOL_MM + 2.0 if callout.kind == "taper" else 0.0)
    return width + 1.0, label.height_mm + TEXT_GAP_MM


def frame_cells(callout: Callout) -> tuple[float, float, float]:
    """Widths of the three cells of a tolerance frame."""
    _, value, letter = callout.cells
    widths = [text_width_mm(text, TEXT_MM) + 3.0 for text in (value, letter)]
    return FRAME_HEIGHT_MM, widths[0], max(FRAME_HEIGHT_MM, widths[1])


def place_callouts(callouts: Sequence[Callout], scale: float, obstacles: Obstacles) -> list[PlacedCallout] | None:
    """A place for every callout, or None where no order of placing them works."""
    order = sorted(callouts, key=lambda c: (c.kind == "datum", len(c.tips), -size_of(c)[0]))
    for _ in range(5):
        boxes, lines = list(obstacles.boxes), list(obstacles.lines)
        placed: list[PlacedCallout] = []
        for callout in order:
            best = _best(callout, scale, obstacles, placed)
            if best is None:
                order = [callout, *(c for c in order if c is not callout)]
                break
            placed.append(best)
            obstacles.boxes.append(best.box)
        obstacles.boxes, obstacles.lines = boxes, lines
        if len(placed) == len(order):
            return placed
    return None


def _best(
    callout: Callout, scale: float, obstacles: Obstacles, placed: Sequence[PlacedCallout]
) -> PlacedCallout | None:
    """The cheapest place for one callout; places are made up lazily, in order of their own cost."""
    found: tuple[float, PlacedCallout] | None = None
    size = size_of(callout)
    for cost, candidate in _candidates(callout, scale, obstacles, size):
        if found is not None and cost >= found[0]:
            break
        extra = _extra_cost(candidate, obstacles, placed)
        if extra is not None and (found is None or cost + extra < found[0]):
            found = (cost + extra, candidate)
    return found[1] if found else None


@dataclass(frozen=True, slots=True)
class _Way:
    """One manner of leading out: which tip, up or down, how far, to which hand, how slanting, how long a shoulder."""

    cost: float
    tip: int
    sign: int
    rise: float
    hand: int
    lean: float
    shoulder: float


@cache
def _ways(kind: str) -> tuple[_Way, ...]:
    """All manners for a kind of callout, cheapest first."""
    leans = _LEANS if kind == "words" else (0.0,)
    shoulders = {"words": (0.0, 9.0, 20.0, 34.0), "frame": (4.0, 11.0, 19.0, 28.0, 40.0, 55.0), "datum": (0.0,)}[kind]
    hands = (1,) if kind == "datum" else (1, -1)
    found = []
    for tip, sign, rise, hand, lean, shoulder in product(range(5), (1, -1), _RISES, hands, leans, shoulders):
        cost = 0.3 * tip + 0.07 * rise + 0.06 * shoulder + (0.4 if sign < 0 else 0.0) + (0.1 if hand < 0 else 0.0)
        cost += abs(lean - _LEANS[0]) if kind == "words" else 0.0
        found.append(_Way(cost, tip, sign, rise, hand, lean, shoulder))
    return tuple(sorted(found, key=lambda way: way.cost))


def _candidates(
    callout: Callout, scale: float, obstacles: Obstacles, size: tuple[float, float]
) -> Iterator[tuple[float, PlacedCallout]]:
    if callout.kind == "finish":
        yield from _standing(callout, scale)
    width, height = size
    tips = [(z * scale, r * scale) for z, r in callout.tips]
    skies = [
        {sign: max(y, obstacles.sky(x - 0.01, x + 0.01, sign)) for sign in (1, -1)} for x, y in tips
    ]
    shape = callout.kind if callout.kind in ("frame", "datum") else "words"
    for way in _ways(shape):
        if way.tip >= len(tips):
            continue
        x, r = tips[way.tip]
        outer = skies[way.tip][way.sign] + _LEAST_RISE_MM + way.rise
        y = outer if way.sign > 0 else -(outer + height)
        tip = (x, way.sign * r)
        if shape == "datum":
            box = Box(x - width / 2, y, x + width / 2, y + height)
            yield way.cost, PlacedCallout(callout, (tip, (x, y if way.sign > 0 else y + height)), box, None)
        elif shape == "frame":
            yield way.cost, _frame_at(callout, tip, y, way, size)
        else:
            knee = (x + way.hand * way.lean * (abs(y) - r), y)
            yield way.cost, _words_at(callout, tip, knee, way, size)


def _standing(callout: Callout, scale: float) -> Iterator[tuple[float, PlacedCallout]]:
    """A finish symbol set right on its surface: on top of the outline, or on the lower wall inside a wide bore."""
    width, height = size_of(callout)
    for index, (z, r) in enumerate(callout.tips):
        x = z * scale
        y = -r * scale if callout.is_inside else r * scale
        if callout.is_inside and r * scale < height + CLEAR_MM:
            continue
        box = Box(x - FINISH_LEFT_MM, y + 0.3, x - FINISH_LEFT_MM + width, y + height)
        yield -1.0 + 0.2 * index, PlacedCallout(callout, ((x, y),), box, None, stands=True)


def _frame_at(callout: Callout, tip: Point, y: float, way: _Way, size: tuple[float, float]) -> PlacedCallout:
    width, height = size
    near = tip[0] + way.hand * way.shoulder
    left, right = (near, near + width) if way.hand > 0 else (near - width, near)
    knee = (tip[0], y + height / 2)
    return PlacedCallout(callout, (tip, knee, (near, knee[1])), Box(left, y, right, y + height), None)


def _words_at(callout: Callout, tip: Point, knee: Point, way: _Way, size: tuple[float, float]) -> PlacedCallout:
    width, height = size
    start = knee[0] + way.hand * way.shoulder
    left, right = (start, start + width) if way.hand > 0 else (start - width, start)
    below = 4.0 if callout.label.below else 0.0
    box = Box(left, knee[1] - below, right, knee[1] + height)
    reference = Line((min(left, knee[0]), knee[1]), (max(right, knee[0]), knee[1]))
    return PlacedCallout(callout, (tip, knee), box, reference)


def _extra_cost(candidate: PlacedCallout, obstacles: Obstacles, placed: Sequence[PlacedCallout]) -> float | None:
    """Cost of what the candidate crosses; None where it touches something it must not."""
    box = candidate.box.grown(CLEAR_MM)
    sign = 1 if (box.bottom + box.top) > 0 else -1
    inside = candidate.stands and candidate.callout.is_inside
    if not inside and not _above_sky(candidate, box, sign, obstacles):
        return None
    if any(overlaps(box, other) for other in obstacles.boxes):
        return None
    if any(hits(line, box) for line in obstacles.uprights) or any(hits(line, box) for line in obstacles.lines):
        return None
    own = candidate.lines()
    for other in placed:
        theirs = other.lines()
        if any(hits(line, box) for line in theirs):
            return None
        if any(crosses(a, b) for a in own for b in theirs):
            return None
    if any(hits(line, other.grown(CLEAR_MM)) for line in own for other in obstacles.boxes):
        return None
    cost = _crossing_cost(candidate, own, box, sign, obstacles)
    if cost is None:
        return None
    tip = candidate.points[0]
    cost += sum(
        _COST_SAME_TIP for other in placed if math.dist(tip, other.points[0]) < _TIP_APART_MM and len(own) > 0
    )
    return cost + _push_cost(box, sign, obstacles, placed)


def _above_sky(candidate: PlacedCallout, box: Box, sign: int, obstacles: Obstacles) -> bool:
    """True where box and leader stay off the outline."""
    clearance = 0.0 if candidate.stands else 1.2
    near = box.bottom if sign > 0 else -box.top
    if candidate.stands:
        near = candidate.points[0][1] + 0.4
    if near - clearance < obstacles.sky(box.left, box.right, sign) - 1e-6:
        return False
    if candidate.callout.is_inside or candidate.stands:
        return True
    (x0, y0), (x1, y1) = candidate.points[0], candidate.points[1]
    for share in (0.15, 0.4, 0.7, 1.0):
        x, y = x0 + share * (x1 - x0), abs(y0 + share * (y1 - y0))
        if y < obstacles.sky(x - 0.01, x + 0.01, sign) - 0.3:
            return False
    return True


def _crossing_cost(
    candidate: PlacedCallout, own: Sequence[Line], box: Box, sign: int, obstacles: Obstacles
) -> float | None:
    cost = 0.0
    for line in obstacles.uprights:
        for leader in own:
            is_upright = abs(leader.start[0] - leader.end[0]) < 1e-6
            if is_upright and abs(leader.start[0] - line.start[0]) < 1.5 and (leader.end[1] > 0) == (line.end[1] > 0):
                return None
            cost += _COST_EXTENSION * crosses(leader, line)
    cost += sum(_COST_EXTENSION for line in obstacles.lines for leader in own if crosses(leader, line))
    return cost


def _push_cost(box: Box, sign: int, obstacles: Obstacles, placed: Sequence[PlacedCallout]) -> float:
    """Cost of the paper that the dimension lanes lose by moving out beyond this callout."""
    lanes = obstacles.lanes_top if sign > 0 else obstacles.lanes_bottom
    if lanes is None:
        return 0.0

    def reach(other: Box) -> float:
        is_over = other.left < lanes[1] + 2.0 and other.right > lanes[0] - 2.0
        return max(0.0, other.top if sign > 0 else -other.bottom) if is_over else 0.0

    free = max((reach(other.box) for other in placed), default=0.0)
    return _COST_PUSH * max(0.0, reach(box) - max(free, obstacles.free_top if sign > 0 else obstacles.free_bottom))
