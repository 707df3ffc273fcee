"""Places for leader callouts close to the view: words, symbols, frames and datums that nothing touches. Pure numbers.

Coordinates are mm on paper, the view's axis at y = 0. Places are tried cheapest first: short steep leaders, above
before below, where no dimension has to make room.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from generator.drawing.boxes import Box, Line
from generator.drawing.font import text_width_mm
from generator.drawing.room import Room
from generator.drawing.style import ARROW_MM, CLEAR_MM, FRAME_HEIGHT_MM, LARGE_TEXT_MM, TEXT_GAP_MM, TEXT_MM
from generator.drawing.wanted import Callout

__all__ = [
    "FINISH_KNEE_MM",
    "FINISH_LEFT_MM",
    "FINISH_RISE_MM",
    "HEADLESS",
    "TAPER_SYMBOL_MM",
    "LaneEdge",
    "PlacedCallout",
    "frame_cells",
    "place_callouts",
    "reach_over",
    "size_of",
]

Point = tuple[float, float]

HEADLESS = ("datum", "letter", "centre")
"""Kinds of callouts whose leaders end without an arrow."""
FINISH_RISE_MM = 10.5
FINISH_LEFT_MM = 2.9
FINISH_KNEE_MM = 6.1
TAPER_SYMBOL_MM = 7.0
_COST_SAME_TIP = 5.0
_TIP_APART_MM = 8.0
# Tips on a surface stand at 0.12 to 0.88 of its length.
_TIPS_SHORT_OF_ENDS = 0.12 / 0.76
_TRIES = 9
_PATIENT_TRIES = 3
_CROSSED_TRIES = 6
_MOST_CROSSED = 99
_THIN_WALL_MM = ARROW_MM + 0.5
# A finish further off than this is better said in a note.
_MOST_FOR_FINISH = 8.0
_MOST_FOR_CORNER = 9.0
_MOST_FOR_FRAME = 20.0


@dataclass(frozen=True, slots=True)
class PlacedCallout:
    """A callout with its leader from tip to text, the box of its words or symbol, and where the reference line runs.

    `is_crossed` where a line of the view runs through its arrow head.
    """

    callout: Callout
    points: tuple[Point, ...]
    box: Box
    reference: Line | None
    stands: bool = False
    is_crossed: bool = False

    def lines(self) -> list[Line]:
        """Leader and reference line."""
        found = [Line(a, b) for a, b in pairwise(self.points)]
        return found + ([self.reference] if self.reference else [])


@dataclass(frozen=True, slots=True)
class LaneEdge:
    """The level dimension lanes of one side: reach of each line along x, and the |y| up to which it stays there."""

    spans: tuple[tuple[float, float, float], ...]

    def push(self, placed: PlacedCallout, sign: int) -> float:
        """How far a callout, leader and all, pushes the lanes out; 0 where it does not stand before them."""
        return max((reach_over(placed, sign, low, high) - free for low, high, free in self.spans), default=0.0)


def reach_over(placed: PlacedCallout, sign: int, low: float, high: float) -> float:
    """The greatest |y| that a callout, leader and all, takes between two x; 0 where it stands elsewhere."""
    low, high = low - 2.0, high + 2.0
    box = placed.box
    reach = 0.0
    if box.left < high and box.right > low:
        reach = sign * (box.top if sign > 0 else box.bottom)
    for line in placed.lines():
        start, end = line.start, line.end
        (x0, y0), (x1, y1) = (start, end) if start[0] <= end[0] else (end, start)
        if x1 <= low or x0 >= high:
            continue
        slope = (y1 - y0) / (x1 - x0) if x1 > x0 else 0.0
        ends = (y0 + slope * (max(low, x0) - x0), y1 + slope * (min(high, x1) - x1))
        reach = max(reach, sign * ends[0], sign * ends[1])
    return max(0.0, reach)


def frame_cells(callout: Callout) -> tuple[float, float, float]:
    """Widths of the three cells of a tolerance frame."""
    _, value, letter = callout.cells
    widths = [text_width_mm(text, TEXT_MM) + 3.0 for text in (value, letter)]
    return FRAME_HEIGHT_MM, widths[0], max(FRAME_HEIGHT_MM, widths[1])


def size_of(callout: Callout) -> tuple[float, float]:
    """Width and height on paper of what stands at the end of the leader."""
    label = callout.label
    if callout.kind == "finish":
        return FINISH_LEFT_MM + FINISH_KNEE_MM + text_width_mm(label.main, TEXT_MM) + 2.0, FINISH_RISE_MM + 0.5
    if callout.kind == "frame":
        return sum(frame_cells(callout)), FRAME_HEIGHT_MM
    if callout.kind == "letter":
        return text_width_mm(label.main, LARGE_TEXT_MM) + 2.0, LARGE_TEXT_MM + TEXT_GAP_MM
    if callout.kind == "datum":
        return FRAME_HEIGHT_MM, FRAME_HEIGHT_MM
    if callout.kind == "centre":
        return label.full_width_mm + 2.0, label.height_mm + TEXT_GAP_MM
    width = label.full_width_mm + (TAPER_SYMBOL_MM + 2.0 if callout.kind == "taper" else 0.0)
    return width + 1.0, label.height_mm + TEXT_GAP_MM


def place_callouts(
    callouts: Sequence[Callout], scale: float, room: Room, lanes: dict[int, LaneEdge]
) -> tuple[list[PlacedCallout], list[Callout]] | None:
    """Places for the callouts, and finishes left over for the notes; None where no order of placing them works.

    A finish is the first thing to give way on a crowded sheet, because words in a note say it as well.
    """
    order = sorted(callouts, key=_difficulty)
    best: tuple[list[PlacedCallout], list[Callout]] | None = None
    crossed_before = _MOST_CROSSED
    for attempt in range(_TRIES):
        if attempt >= _PATIENT_TRIES:
            order.sort(key=_can_be_told)
        found, stuck = _placed_in(order, scale, room, lanes)
        if found is not None:
            crossed = [placed.callout for placed in found[0] if placed.is_crossed]
            if len(crossed) < crossed_before:
                best, crossed_before = found, len(crossed)
            if not crossed or attempt >= _CROSSED_TRIES:
                break
            stuck = crossed[0]
        order = [one for one in order if one is stuck] + [one for one in order if one is not stuck]
    return best


def _placed_in(
    order: Sequence[Callout], scale: float, room: Room, lanes: dict[int, LaneEdge]
) -> tuple[tuple[list[PlacedCallout], list[Callout]] | None, Callout | None]:
    """The callouts placed one by one, and those left for the notes; or None and the one that found no place."""
    room.reset()
    placed: list[PlacedCallout] = []
    left_over: list[Callout] = []
    pushed = dict.fromkeys(lanes, 0.0)
    for callout in order:
        best = _Search(callout, scale, room, lanes, placed, pushed).best()
        if best is not None:
            placed.append(best)
            room.take(best.box, best.lines())
            pushed = {sign: max(pushed[sign], edge.push(best, sign)) for sign, edge in lanes.items()}
        elif _can_be_told(callout):
            left_over.append(callout)
        else:
            return None, callout
    return (placed, left_over), None


def _can_be_told(callout: Callout) -> bool:
    """True for a finish, a corner or a run-out, which a note says as well where the view has no room."""
    return callout.kind in ("finish", "frame") or callout.address.endswith("/corner")


def _most(callout: Callout) -> float:
    """The dearest place worth having before a note says it."""
    if callout.kind == "finish":
        return _MOST_FOR_FINISH
    if callout.kind == "frame":
        return _MOST_FOR_FRAME
    return _MOST_FOR_CORNER if _can_be_told(callout) else math.inf


def _difficulty(callout: Callout) -> tuple[bool, bool, bool, bool, float]:
    """Sorts the hardest to place first: frames, then what can point at few places, then the wide; finishes last."""
    kind = callout.kind
    return kind == "finish", kind == "datum", kind == "letter", len(callout.tips) > 3, -size_of(callout)[0]


class _Search:
    """The search for the cheapest place of one callout."""

    def __init__(
        self,
        callout: Callout,
        scale: float,
        room: Room,
        lanes: dict[int, LaneEdge],
        placed: Sequence[PlacedCallout],
        pushed: dict[int, float],
    ) -> None:
        self.callout, self.room, self.lanes, self.placed, self.pushed = callout, room, lanes, placed, pushed
        self.width, self.height = size_of(callout)
        self.below = callout.label.under_mm
        self.tips = [(z * scale, abs(r) * scale) for z, r in callout.tips]
        self.below_only = [r < 0 for _, r in callout.tips]
        self.skies = [{s: max(r, room.sky_at(x, s)) for s in (1, -1)} for x, r in self.tips]
        # Where a wall is thinner than an arrow head is long, the leader comes through the bore from the far side; the
        # letter of a detail has no head, and its circle stands on one side only.
        has_head = callout.is_inside and callout.kind != "letter"
        self.led_to = [
            (x, -r if has_head and 0.0 < sky[1] - r < _THIN_WALL_MM and r > _THIN_WALL_MM else r)
            for (x, r), sky in zip(self.tips, self.skies, strict=True)
        ]
        self.shape = "frame" if callout.kind in ("frame", "centre") else "datum" if callout.kind == "datum" else "words"

    def best(self) -> PlacedCallout | None:
        """The cheapest place found, or None."""
        standing = next(self._standing(), None) if self.callout.kind == "finish" else None
        found = standing or self._led_out()
        if found is None and self.shape == "datum":
            # A letter too wide for its place between two extension lines stands aside on a bent line.
            self.shape = "frame"
            found = self._led_out()
        return found

    def _led_out(self) -> PlacedCallout | None:
        """The cheapest place at the end of a leader, or None."""
        # Brings numpy, which nothing that only describes a part should have to load.
        from generator.drawing.ways import Asked, best_place

        asked = Asked(
            self.shape, self.width, self.height, self.below, self.led_to, self.skies,
            [(not low and self.callout.side >= 0, self.callout.side <= 0) for low in self.below_only],
            [{sign: self._tip_cost(x, sign * r) for sign in (1, -1)} for x, r in self.led_to],
            _most(self.callout), self.callout.is_inside, self.callout.kind not in HEADLESS,
        )  # fmt: skip
        spans = {sign: edge.spans for sign, edge in self.lanes.items()}
        place = best_place(asked, self.room, spans, self.pushed)
        if place is None:
            return None
        found = self._place(place.tip, place.sign, place.hand, (place.knee, place.y), Box(*place.box))
        return replace(found, is_crossed=place.is_crossed)

    def _place(self, index: int, sign: int, hand: int, knee: Point, box: Box) -> PlacedCallout:
        tip = (self.led_to[index][0], sign * self.led_to[index][1])
        if self.shape == "datum":
            end = (tip[0], box.bottom if sign > 0 else box.top)
            return PlacedCallout(self.callout, (tip, end), box, None)
        if self.shape == "frame":
            middle = (box.bottom + box.top) / 2
            end = (box.left if hand > 0 else box.right, middle)
            return PlacedCallout(self.callout, (tip, (tip[0], middle), end), box, None)
        reference = Line((min(box.left, knee[0]), knee[1]), (max(box.right, knee[0]), knee[1]))
        return PlacedCallout(self.callout, (tip, knee), box, reference)

    def _standing(self) -> Iterator[PlacedCallout]:
        """A finish symbol set right on its surface: on top of the outline, or on the lower wall of a wide bore."""
        rim = CLEAR_MM
        for index, (x, r) in enumerate(self.tips):
            inside = self.callout.is_inside
            if self.below_only[index] or (inside and r < self.height + CLEAR_MM):
                continue
            y = -r if inside else r
            if inside and not self._is_along(x - FINISH_LEFT_MM - rim, x - FINISH_LEFT_MM + self.width + rim):
                continue
            box = Box(x - FINISH_LEFT_MM, y + 0.3, x - FINISH_LEFT_MM + self.width, y + self.height)
            if not inside and y + 0.2 < self.room.highest(box.left - rim, box.right + rim, 1):
                continue
            area = Box(box.left - rim, box.bottom + 0.5, box.right + rim, box.top + rim)
            if self.room.is_free(area, -1 if inside else 1):
                yield PlacedCallout(self.callout, ((x, y),), box, None, stands=True)

    def _is_along(self, low: float, high: float) -> bool:
        """True where a stretch lies within the bore that the tips point at, clear of the edges at its ends."""
        places = [x for x, _ in self.tips]
        spare = (max(places) - min(places)) * _TIPS_SHORT_OF_ENDS
        return min(places) - spare < low and high < max(places) + spare

    def _tip_cost(self, x: float, y: float) -> float:
        """Cost of pointing where another leader points already."""
        cost = 0.0
        for other in self.placed:
            x1, y1 = other.points[0]
            cost += _COST_SAME_TIP * max(0.0, 1.0 - max(abs(x - x1), abs(y - y1)) / _TIP_APART_MM)
        return cost
