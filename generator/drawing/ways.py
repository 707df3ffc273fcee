"""All manners of leading out a callout, weighed at once: thousands of places as columns of numbers.

Kept apart because it brings numpy. Coordinates are mm on paper, the view's axis at y = 0.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import product
from typing import Any

import numpy as np

from generator.drawing.room import BIN_MM, LEADERS_APART_MM, UPRIGHT_APART_MM, Room
from generator.drawing.style import ARROW_MM, CLEAR_MM

__all__ = ["Asked", "Place", "best_place"]

_LEAST_RISE_MM = 5.0
_OFF_OUTLINE_MM = 1.2
_RISES = (0.0, 2.5, 5.0, 7.5, 10.0, 12.5, 15.0, 18.0, 22.0, 26.0, 31.0, 37.0, 44.0, 52.0, 62.0, 75.0, 90.0)
_LEANS = (0.45, 0.9, 0.15, 1.6, 0.06)
_SHOULDERS = {"words": (0.0, 12.0, 28.0), "frame": (4.0, 11.0, 20.0, 32.0, 50.0), "datum": (0.0,)}
_MOST_TIPS = 5
_COST_TIP = 0.3
_COST_RISE = 0.07
_COST_SHOULDER = 0.06
_COST_BELOW = 0.4
_COST_LEFT = 0.1
_COST_PUSH = 0.7
# A leader that runs far aside is hard to follow.
_COST_REACH = 0.25
_FREE_REACH_MM = 10.0
_THROUGH_BORE = 3.0
_COST_OVERHANG = 0.08
_COST_EXTENSION = 0.8
# A line of the view through an arrow head is a fault; an extension line is broken there, which is a blemish.
_COST_HEAD_CROSSED = 14.0
_COST_HEAD_ON_EXTENSION = 2.5
# The stretch of an arrow head that no line may cross, from its tip.
_HEAD_MM = (0.5, ARROW_MM)
_CHUNK = 250

Column = Any
"""A column of numbers, one for each place."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be placed: its shape, its box, its tips, the outline over each tip, and what pointing there costs.

    `sides` says for each tip whether it may be led out above and below; `most` is the dearest manner worth having.
    """

    shape: str
    width: float
    height: float
    below: float
    tips: Sequence[tuple[float, float]]
    skies: Sequence[Mapping[int, float]]
    sides: Sequence[tuple[bool, bool]]
    tip_costs: Sequence[Mapping[int, float]]
    most: float
    is_inside: bool
    has_head: bool = True


@dataclass(frozen=True, slots=True)
class Place:
    """The place chosen: which tip, above or below, to which hand, where the leader bends, and the box."""

    tip: int
    sign: int
    hand: int
    knee: float
    y: float
    box: tuple[float, float, float, float]
    cost: float
    is_crossed: bool = False


@cache
def _ways(shape: str) -> tuple[Column, ...]:
    """Tip, sign, rise, hand, lean, shoulder and own cost of every manner for a shape, cheapest first."""
    leans = _LEANS if shape == "words" else (0.0,)
    hands = (1,) if shape == "datum" else (1, -1)
    rows = np.array(list(product(range(_MOST_TIPS), (1, -1), _RISES, hands, leans, _SHOULDERS[shape])), dtype=float)
    tip, sign, rise, hand, lean, shoulder = rows.T
    cost = _COST_TIP * tip + _COST_RISE * rise + _COST_SHOULDER * shoulder
    cost += _COST_BELOW * (sign < 0) + _COST_LEFT * (hand < 0)
    if shape == "words":
        cost += np.abs(lean - _LEANS[0])
    order = np.argsort(cost, kind="stable")
    return tip.astype(int)[order], *(column[order] for column in (sign, rise, hand, lean, shoulder, cost))


def best_place(
    asked: Asked,
    room: Room,
    spans: Mapping[int, Sequence[tuple[float, float, float]]],
    pushed: Mapping[int, float],
) -> Place | None:
    """The cheapest free place; `spans` are the level lanes of a `LaneEdge`, `pushed` what they yield already."""
    tip, sign, rise, hand, lean, shoulder, own, side = _allowed(asked)
    if not len(tip):
        return None
    x, r = (column[tip] for column in np.array(asked.tips, dtype=float).T)
    outer = np.array([[s[1], s[-1]] for s in asked.skies])[tip, side] + _LEAST_RISE_MM + rise
    y = np.where(sign > 0, outer + asked.below, -(outer + asked.height))
    knee = x + hand * lean * (np.abs(y) - r)
    start = knee + hand * shoulder
    left = np.where(hand > 0, start, start - asked.width) if asked.shape != "datum" else x - asked.width / 2
    box = np.stack([left, y - asked.below, left + asked.width, y + asked.height])
    reach = np.maximum(0.0, np.abs(start - x) - _FREE_REACH_MM)
    cost = own + _COST_REACH * np.where(r < 0.0, _THROUGH_BORE, 1.0) * reach
    cost += np.array([[c[1], c[-1]] for c in asked.tip_costs])[tip, side]
    cost += _COST_OVERHANG * np.maximum(0.0, np.maximum(room.start - left, box[2] - room.end))
    cost += _COST_PUSH * _pushes(box, sign, spans, pushed)
    worth = np.flatnonzero(cost <= asked.most)
    order = worth[_is_free(room, box[:, worth], sign[worth])]
    order = order[np.argsort(cost[order], kind="stable")]
    ends = np.stack([x, r, sign, hand, knee, y])
    drawn = _near_tips(asked, room) if asked.has_head else None
    best: Place | None = None
    for first in range(0, len(order), _CHUNK):
        chunk = order[first : first + _CHUNK]
        if best is not None and cost[chunk[0]] >= best.cost:
            break
        leaders = _leaders(asked.shape, ends[:, chunk], box[:, chunk])
        total = cost[chunk] + _leader_cost(leaders, sign[chunk], room, spans, pushed, is_inside=asked.is_inside)
        crossed, extensions = _through_head(leaders[0], sign[chunk], room, drawn)
        total += _COST_HEAD_CROSSED * crossed + _COST_HEAD_ON_EXTENSION * extensions
        i = int(np.argmin(total))
        if total[i] <= asked.most and np.isfinite(total[i]) and (best is None or total[i] < best.cost):
            n = chunk[i]
            found = tuple(float(value) for value in box[:, n])
            best = Place(
                int(tip[n]), int(sign[n]), int(hand[n]), float(knee[n]), float(y[n]),
                (found[0], found[1], found[2], found[3]), float(total[i]), bool(crossed[i]),
            )  # fmt: skip
    return best


def _allowed(asked: Asked) -> tuple[Column, ...]:
    """The ways that lead out of a tip that there is, to a side that it may be led out to; that side as a column."""
    ways = _ways(asked.shape)
    tip, sign, own = ways[0], ways[1], ways[6]
    may = np.zeros((_MOST_TIPS, 2), dtype=bool)
    may[: len(asked.tips)] = asked.sides[:_MOST_TIPS]
    side = (sign < 0).astype(int)
    keep = may[tip, side] & (own <= asked.most)
    return tuple(column[keep] for column in (*ways, side))


def _leaders(shape: str, ends: Column, box: Column) -> list[Column]:
    """The straight pieces of each leader as rows of x0, y0, x1, y1, the one at the tip first."""
    x, r, sign, hand, knee, y = ends
    left, bottom, right, top = box
    tip = sign * r
    if shape == "datum":
        return [np.stack([x, tip, x, np.where(sign > 0, bottom, top)])]
    if shape == "frame":
        middle = (bottom + top) / 2
        return [np.stack([x, tip, x, middle]), np.stack([x, middle, np.where(hand > 0, left, right), middle])]
    return [np.stack([x, tip, knee, y]), np.stack([np.minimum(left, knee), y, np.maximum(right, knee), y])]


def _leader_cost(
    leaders: Sequence[Column],
    sign: Column,
    room: Room,
    spans: Mapping[int, Sequence[tuple[float, float, float]]],
    pushed: Mapping[int, float],
    *,
    is_inside: bool,
) -> Column:
    """Cost of what each leader crosses and pushes out; infinite where it touches what it must not."""
    cost = np.zeros(len(sign))
    bad = np.zeros(len(sign), dtype=bool)
    rows = (room.box_rows(), room.line_rows(), room.leader_rows())
    boxes, lines, taken = (np.array(found).reshape(-1, 4) for found in rows)
    boxes = boxes + np.array([-CLEAR_MM, -CLEAR_MM, CLEAR_MM, CLEAR_MM])
    for piece in leaders:
        x0, y0, x1, y1 = piece
        low, high = np.minimum(x0, x1), np.maximum(x0, x1)
        bad |= _hit(piece, boxes).any(axis=1) | _crossing(piece, taken).any(axis=1) | _along(piece, taken).any(axis=1)
        cost += _COST_EXTENSION * _crossing(piece, lines).sum(axis=1)
        for one in (1, -1):
            places = np.array(room.uprights(one))
            here = sign == one
            between = np.searchsorted(places, high - 1e-6, "left") - np.searchsorted(places, low + 1e-6, "right")
            cost += np.where(here, _COST_EXTENSION * np.maximum(0, between), 0.0)
            rim = UPRIGHT_APART_MM
            close = np.searchsorted(places, x0 - rim, "right") < np.searchsorted(places, x0 + rim, "left")
            bad |= here & (x0 == x1) & close
        cost += _COST_PUSH * _pushes(np.stack([low, np.minimum(y0, y1), high, np.maximum(y0, y1)]), sign, spans, pushed)
    if not is_inside:
        bad |= _runs_through(leaders[0], sign, room)
    return np.where(bad, np.inf, cost)


def _near_tips(asked: Asked, room: Room) -> Column:
    """The lines of the view that come near enough to a tip to run through its arrow head."""
    rows = room.drawn_array()
    x, r = (column[:, None] for column in np.array(asked.tips, dtype=float).T)
    left, right = np.minimum(rows[:, 0], rows[:, 2]), np.maximum(rows[:, 0], rows[:, 2])
    low, high = np.minimum(rows[:, 1], rows[:, 3]), np.maximum(rows[:, 1], rows[:, 3])
    across = (left < x + ARROW_MM) & (x - ARROW_MM < right)
    up = [(low < y + ARROW_MM) & (y - ARROW_MM < high) for y in (r, -r)]
    return rows[(across & (up[0] | up[1])).any(axis=0)]


def _through_head(piece: Column, sign: Column, room: Room, drawn: Column | None) -> tuple[Column, Column]:
    """Whether a line of the view runs through the arrow head at each tip, and how many extension lines do."""
    if drawn is None:
        return np.zeros(len(sign), dtype=bool), np.zeros(len(sign))
    x0, y0, x1, y1 = piece
    length = np.maximum(np.hypot(x1 - x0, y1 - y0), _HEAD_MM[1])
    near, far = _HEAD_MM[0] / length, _HEAD_MM[1] / length
    head = np.stack([x0 + near * (x1 - x0), y0 + near * (y1 - y0), x0 + far * (x1 - x0), y0 + far * (y1 - y0)])
    lines = np.array(room.line_rows()).reshape(-1, 4)
    extensions = _crossing(head, lines).sum(axis=1)
    low, high = np.minimum(head[0], head[2]), np.maximum(head[0], head[2])
    for one in (1, -1):
        places = np.array(room.uprights(one))
        between = np.searchsorted(places, high, "left") - np.searchsorted(places, low, "right")
        extensions = extensions + np.where(sign == one, np.maximum(0, between), 0)
    return _crossing(head, drawn).any(axis=1), extensions


def _hit(piece: Column, boxes: Column) -> Column:
    """Which pieces run through which boxes."""
    x0, y0, x1, y1 = piece[:, :, None]
    left, bottom, right, top = boxes.T
    near = (np.minimum(x0, x1) < right) & (left < np.maximum(x0, x1))
    near &= (np.minimum(y0, y1) < top) & (bottom < np.maximum(y0, y1))
    level = (y0 == y1) & (bottom < y0) & (y0 < top) & (np.minimum(x0, x1) < right) & (left < np.maximum(x0, x1))
    upright = (x0 == x1) & (left < x0) & (x0 < right) & (np.minimum(y0, y1) < top) & (bottom < np.maximum(y0, y1))
    dx, dy = x1 - x0, y1 - y0
    off = np.abs(dx * ((bottom + top) / 2 - y0) - dy * ((left + right) / 2 - x0))
    return level | upright | (near & (off < np.abs(dx) * (top - bottom) / 2 + np.abs(dy) * (right - left) / 2))


def _crossing(piece: Column, lines: Column) -> Column:
    """Which pieces properly cross which lines."""
    ax, ay, bx, by = piece[:, :, None]
    cx, cy, dx, dy = lines.T
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    one = (ux * (cy - ay) - uy * (cx - ax)) * (ux * (dy - ay) - uy * (dx - ax))
    other = (vx * (ay - cy) - vy * (ax - cx)) * (vx * (by - cy) - vy * (bx - cx))
    return (one < -1e-9) & (other < -1e-9)


def _along(piece: Column, lines: Column) -> Column:
    """Which level or upright pieces run on or close beside which lines of the same direction."""
    ax, ay, bx, by = piece[:, :, None]
    cx, cy, dx, dy = lines.T
    rim = LEADERS_APART_MM
    level = (ay == by) & (cy == dy) & (np.abs(ay - cy) < rim)
    level &= (np.minimum(ax, bx) < np.maximum(cx, dx)) & (np.minimum(cx, dx) < np.maximum(ax, bx))
    upright = (ax == bx) & (cx == dx) & (np.abs(ax - cx) < rim)
    upright &= (np.minimum(ay, by) < np.maximum(cy, dy)) & (np.minimum(cy, dy) < np.maximum(ay, by))
    return level | upright


def _runs_through(piece: Column, sign: Column, room: Room) -> Column:
    """Which leaders from a point of the outline run through the part again."""
    x0, y0, x1, y1 = piece
    found = np.zeros(len(sign), dtype=bool)
    for share in (0.15, 0.4, 0.7, 1.0):
        x, y = x0 + share * (x1 - x0), np.abs(y0 + share * (y1 - y0))
        for one in (1, -1):
            places, heights = room.sky_path(one)
            over = np.interp(x, places, heights, left=0.0, right=0.0)
            found |= (sign == one) & (y < over - 0.3)
    return found


def _pushes(
    box: Column, sign: Column, spans: Mapping[int, Sequence[tuple[float, float, float]]], pushed: Mapping[int, float]
) -> Column:
    """How far each box pushes the level lanes out beyond what others have done already."""
    rows = [
        (one, low - 2.0, high + 2.0, free + pushed.get(one, 0.0))
        for one, lanes in spans.items()
        for low, high, free in lanes
    ]
    left, bottom, right, top = box
    if not rows:
        return np.zeros_like(left)
    side, low, high, free = np.array(rows).T[:, :, None]
    meets = (sign == side) & (left < high) & (low < right)
    return np.where(meets, np.where(sign > 0, top, -bottom) - free, 0.0).max(axis=0, initial=0.0)


def _is_free(room: Room, box: Column, sign: Column) -> Column:
    """Where a box with its rim meets neither the outline nor anything that is taken already."""
    left, bottom, right, top = box[0] - CLEAR_MM, box[1] - CLEAR_MM, box[2] + CLEAR_MM, box[3] + CLEAR_MM
    near = np.where(sign > 0, bottom, -top)
    free = np.ones(len(left), dtype=bool)
    for one in (1, -1):
        here = sign == one
        places = np.array(room.uprights(one))
        meets = np.searchsorted(places, left, "right") < np.searchsorted(places, right, "left")
        free &= ~(here & (meets | (near - _OFF_OUTLINE_MM < _skies(room, one, left, right))))
    x0, y0, x1, y1 = np.array([*room.box_rows(), *room.line_areas()]).T[:, :, None]
    free &= ~((left < x1) & (x0 < right) & (bottom < y1) & (y0 < top)).any(axis=0)
    taken = np.array(room.leader_rows()).reshape(-1, 4)
    if len(taken):
        rest = np.flatnonzero(free)
        areas = np.stack([left, bottom, right, top], axis=1)[rest]
        free[rest] = ~_hit(taken.T, areas).any(axis=0)
    return free


def _skies(room: Room, sign: int, left: Column, right: Column) -> Column:
    """The greatest |y| of the outline between two x, from maxima over stretches of doubled length."""
    stacked = _sky_tables(room, sign)
    count = stacked.shape[1]
    first = np.clip(((left - room.start) / BIN_MM).astype(int), 0, count)
    last = np.clip(((right - room.start) / BIN_MM).astype(int) + 1, 0, count)
    last = np.where(right < room.start, 0, last)
    length = np.maximum(last - first, 0)
    level = np.where(length > 0, np.log2(np.maximum(length, 1)).astype(int), 0)
    high = np.maximum(
        stacked[level, np.minimum(first, count - 1)], stacked[level, np.clip(last - (1 << level), 0, count - 1)]
    )
    return np.where(length > 0, high, -1e9)


def _sky_tables(room: Room, sign: int) -> Column:
    """The outline's greatest |y| from each strip of half a millimetre over 1, 2, 4 ... strips, one row each."""
    if sign not in room.tables:
        rows = [np.array(room.bins(sign))]
        step = 1
        while 2 * step <= len(rows[0]):
            row = rows[-1].copy()
            row[:-step] = np.maximum(row[:-step], row[step:])
            rows.append(row)
            step *= 2
        room.tables[sign] = np.stack(rows)
    return room.tables[sign]
