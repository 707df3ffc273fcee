"""Which edges of a group of bodies are seen in a pictorial view: exact rays towards the eye against frusta.

Every edge is sampled; between a sample that is seen and one that is hidden the change is found by division. All rays of
one step are asked together, so arrays are worth their import here (the DXF library brings them along anyway).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Any

from generator.drawing.arrangement_profile import CLOSE_MM, Slab
from generator.drawing.pictorial_bodies import Body, Slot
from generator.drawing.pictorial_edges import Arc, Place, Way

__all__ = ["VIEW", "are_seen", "seen_pieces"]

VIEW: Place = (1.0, 1.0, 1.0)
"""Towards the eye: from the work end, from above and from the reader's side, all three alike. Source: isometric axes of
ISO 5456-3, at second hand."""

_GRAZE = 2e-3
"""Rays that run in material for less than this only graze it (mm along each axis)."""

_ARC_STEP = math.radians(5.0)
_WAY_STEP_MM = 2.0
_BULKY = 4
_SECTIONS, _ROUNDS = 16, 3
"""Brings 5 degrees down to about a thousandth of a degree, 2 mm to half a micrometre."""

Interval = tuple[Any, Any]


def seen_pieces(edges: Sequence[Arc | Way], bodies: Sequence[Body]) -> list[Arc | Way]:
    """The pieces of the edges that no body hides, in their order."""
    import numpy as np

    if not edges:
        return []
    steps = [_steps(edge) for edge in edges]
    ends = np.cumsum([count + 1 for count in steps])
    shares = np.concatenate([np.linspace(0.0, 1.0, count + 1) for count in steps])
    owner = np.repeat(np.arange(len(edges)), [count + 1 for count in steps])
    # Ends of an edge lie on corners, where a ray grazes neighbours: a hair inside tells what is seen there.
    asked = np.clip(shares, 1e-4, 1.0 - 1e-4)
    table = _Table(edges)
    sight = _Sight(bodies)
    seen = ~sight.hidden(table.places(owner, asked))
    joined = owner[1:] == owner[:-1]
    change = np.flatnonzero(joined & (seen[1:] != seen[:-1]))
    low, high = asked[change], asked[change + 1]
    inner = np.arange(1, _SECTIONS) / _SECTIONS
    for _ in range(_ROUNDS if len(change) else 0):
        between = low[:, None] + (high - low)[:, None] * inner
        rows = np.repeat(owner[change], _SECTIONS - 1)
        states = ~sight.hidden(table.places(rows, between.ravel())).reshape(between.shape)
        # The first section that does not begin and end alike; the last one where all inner samples are as the first.
        differs = np.column_stack([states != seen[change][:, None], np.ones(len(change), dtype=bool)])
        at = differs.argmax(axis=1)
        width = (high - low) / _SECTIONS
        low, high = low + at * width, low + (at + 1) * width
    turns = dict(zip(change.tolist(), ((low + high) / 2).tolist(), strict=True))
    found: list[Arc | Way] = []
    for index, edge in enumerate(edges):
        start, stop = int(ends[index]) - steps[index] - 1, int(ends[index]) - 1
        found += [piece for a, b in _stretches(seen, turns, start, stop) for piece in _piece(edge, a, b)]
    return found


def are_seen(places: Sequence[Place], bodies: Sequence[Body]) -> list[bool]:
    """For each place whether no body stands between it and the eye."""
    import numpy as np

    if not places:
        return []
    seen: list[bool] = (~_Sight(bodies).hidden(np.array(places))).tolist()
    return seen


def _steps(edge: Arc | Way) -> int:
    """Into how many steps an edge is divided."""
    if isinstance(edge, Arc):
        return max(4, math.ceil((edge.end - edge.start) / _ARC_STEP))
    return min(80, max(4, math.ceil(_length(edge.points) / _WAY_STEP_MM)))


def _length(points: Sequence[Place]) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(points))


def _stretches(seen: Any, turns: dict[int, float], start: int, stop: int) -> list[tuple[float, float]]:
    """Stretches of one edge that are seen, as shares of it."""
    found: list[tuple[float, float]] = []
    begin = 0.0 if seen[start] else None
    for row in range(start, stop):
        turn = turns.get(row)
        if turn is None:
            continue
        if begin is None:
            begin = turn
        else:
            found.append((begin, turn))
            begin = None
    if begin is not None:
        found.append((begin, 1.0))
    return found


def _piece(edge: Arc | Way, a: float, b: float) -> list[Arc | Way]:
    """The piece of an edge between two shares of it; nothing where it is a mere dot."""
    if isinstance(edge, Arc):
        span = edge.end - edge.start
        if (b - a) * span * edge.radius < 5 * _GRAZE:
            return []
        return [Arc(edge.z, edge.radius, edge.start + a * span, edge.start + b * span)]
    whole = _length(edge.points)
    if (b - a) * whole < 5 * _GRAZE:
        return []
    points: list[Place] = []
    along = 0.0
    for p, q in pairwise(edge.points):
        reach = math.dist(p, q) / whole
        if reach <= 0.0 or along + reach <= a or along >= b:
            along += reach
            continue
        low, high = max(0.0, (a - along) / reach), min(1.0, (b - along) / reach)
        piece = [tuple(u + t * (v - u) for u, v in zip(p, q, strict=True)) for t in (low, high)]
        points += [(x[0], x[1], x[2]) for x in (piece if not points else piece[1:])]
        along += reach
    return [Way(tuple(points))] if len(points) > 1 else []


class _Table:
    """All edges as arrays, so that places along many of them are worked out at once."""

    def __init__(self, edges: Sequence[Arc | Way]) -> None:
        import numpy as np

        self.np = np
        self.is_arc = np.array([isinstance(edge, Arc) for edge in edges])
        arcs = [(e.z, e.radius, e.start, e.end - e.start) if isinstance(e, Arc) else (0.0,) * 4 for e in edges]
        self.arcs = np.array(arcs)
        corners: list[Place] = []
        lengths: list[float] = []
        self.first = np.zeros(len(edges), dtype=int)
        self.count = np.zeros(len(edges), dtype=int)
        for index, edge in enumerate(edges):
            if isinstance(edge, Way):
                self.first[index], self.count[index] = len(corners), len(edge.points)
                whole = _length(edge.points) or 1.0
                along = 0.0
                for k, point in enumerate(edge.points):
                    along += math.dist(edge.points[k - 1], point) / whole if k else 0.0
                    corners.append(point)
                    # Ways follow each other on one scale, two units apart, so that one search serves all.
                    lengths.append(2.0 * index + along)
        self.corners = np.array(corners) if corners else np.zeros((1, 3))
        self.lengths = np.array(lengths) if lengths else np.zeros(1)

    def places(self, owner: Any, share: Any) -> Any:
        """Places (rows of z, y, s) at shares along the edges."""
        np = self.np
        places = np.empty((len(owner), 3))
        arc = self.is_arc[owner]
        z, radius, start, span = self.arcs[owner[arc]].T
        angle = start + share[arc] * span
        places[arc] = np.stack([z, radius * np.cos(angle), radius * np.sin(angle)], axis=1)
        way = ~arc
        if way.any():
            mine = owner[way]
            along = 2.0 * mine + share[way]
            right = np.searchsorted(self.lengths, along)
            right = np.clip(right, self.first[mine] + 1, self.first[mine] + self.count[mine] - 1)
            a, b = self.lengths[right - 1], self.lengths[right]
            part = np.clip((along - a) / np.maximum(b - a, 1e-12), 0.0, 1.0)[:, None]
            places[way] = self.corners[right - 1] * (1.0 - part) + self.corners[right] * part
        return places


class _Sight:
    """Rays towards the eye against all bodies: plain frusta all at once, those with flats and holes one by one."""

    def __init__(self, bodies: Iterable[Body]) -> None:
        import numpy as np

        pairs = [(slab, body) for body in bodies for slab in body.slabs]
        self.special = [pair for pair in pairs if _is_crossed(*pair)]
        plain = [slab for slab, body in pairs if not _is_crossed(slab, body)]
        # The bulky ones hide most places, and only what is left is asked of the others.
        plain.sort(key=lambda slab: -max(slab.outer0, slab.outer1) * (slab.z1 - slab.z0))
        rows = np.array([(s.z0, s.z1, s.outer0, s.outer1, s.inner0, s.inner1) for s in plain]).reshape(-1, 6)
        self.plain = [rows[:_BULKY], rows[_BULKY:]]

    def hidden(self, places: Any) -> Any:
        """True for every place from which the ray towards the eye runs into material."""
        import numpy as np

        found = np.zeros(len(places), dtype=bool)
        for slabs in self.plain:
            left = np.flatnonzero(~found)
            found[left] = _blocked_plainly(slabs, places[left])
        for one, body in self.special:
            left = np.flatnonzero(~found)
            z, y, s = places[left].T
            near = np.flatnonzero(_may_meet(one.z0, one.z1, max(one.outer0, one.outer1), z, y, s))
            if len(near):
                found[left[near[_blocked(one, body, z[near], y[near], s[near])]]] = True
        return found


def _blocked_plainly(slabs: Any, places: Any) -> Any:
    """True for every place whose ray runs through one of the plain frusta (rows of their sizes)."""
    import numpy as np

    found = np.zeros(len(places), dtype=bool)
    z0, z1, outer0, outer1, _, _ = slabs.T
    z, y, s = places.T[:, :, None]
    ray, slab = np.nonzero(_may_meet(z0, z1, np.maximum(outer0, outer1), z, y, s))
    z, y, s = places[ray].T
    z0, z1, outer0, outer1, inner0, inner1 = slabs[slab].T
    low, high = _through(z0, z1, outer0, outer1, z, y, s, np.maximum(z0 - z, 0.0), z1 - z)
    blocked = high - low > _GRAZE
    hollow = np.flatnonzero(blocked & (np.maximum(inner0, inner1) > CLOSE_MM))
    if len(hollow):
        z0, z1, inner0, inner1, z, y, s = (values[hollow] for values in (z0, z1, inner0, inner1, z, y, s))
        free = np.full(len(hollow), np.inf)
        bore = _through(z0, z1, inner0, inner1, z, y, s, -free, free)
        blocked[hollow] = _is_long(_without([(low[hollow], high[hollow])], bore))
    found[ray[blocked]] = True
    return found


def _is_crossed(slab: Slab, body: Body) -> bool:
    """True if flats, gaps or holes run through a slab."""
    if body.slots or any(min(cut.far, slab.z1) - max(cut.near, slab.z0) > CLOSE_MM for cut in body.cuts):
        return True
    return any(hole.z + hole.radius > slab.z0 and hole.z - hole.radius < slab.z1 for hole in body.holes)


def _may_meet(z0: Any, z1: Any, radius: Any, z: Any, y: Any, s: Any) -> Any:
    """Rays that pass a slab's cylinder near enough; cheap and generous."""
    reach = math.sqrt(2.0) * radius
    rise = y + s
    # Along the ray y - s stays as it is, y + s grows by two for each mm of z.
    return (
        (z1 - z > _GRAZE) & (abs(y - s) < reach) & (rise < reach) & (rise + 2.0 * (z0 - z) < reach)
        & (rise + 2.0 * (z1 - z) > -reach)
    )  # fmt: skip


def _blocked(slab: Slab, body: Body, z: Any, y: Any, s: Any) -> Any:
    """True for rays that run through the material of one slab; places go (z + t, y + t, s + t)."""
    import numpy as np

    low, high = np.maximum(slab.z0 - z, 0.0), slab.z1 - z
    low, high = _through(slab.z0, slab.z1, slab.outer0, slab.outer1, z, y, s, low, high)
    return _blocked_with_cuts(slab, body, z, y, s, low, high)


def _blocked_with_cuts(slab: Slab, body: Body, z: Any, y: Any, s: Any, low: Any, high: Any) -> Any:
    """The same between `low` and `high`, piece by piece between the ends of the flats."""
    import numpy as np

    marks = {slab.z0, slab.z1}
    marks.update(m for cut in body.cuts for m in (cut.near, cut.far) if slab.z0 < m < slab.z1)
    stops = sorted(marks)
    blocked = np.zeros(len(z), dtype=bool)
    for z0, z1 in pairwise(stops):
        a, b = np.maximum(low, z0 - z), np.minimum(high, z1 - z)
        for cut in body.cuts:
            if cut.near < (z0 + z1) / 2 < cut.far:
                cos, sin = math.cos(cut.angle), math.sin(cut.angle)
                room, rate = cut.height - (y * cos + s * sin), cos + sin
                if abs(rate) < 1e-12:
                    b = np.where(room > 0.0, b, a)
                elif rate > 0:
                    b = np.minimum(b, room / rate)
                else:
                    a = np.maximum(a, room / rate)
        blocked |= _remains([(a, b)], slab, body, z, y, s)
    return blocked


def _remains(pieces: list[Interval], slab: Slab, body: Body, z: Any, y: Any, s: Any) -> Any:
    """True where anything is left of the intervals when bore and cross holes are taken out."""
    import numpy as np

    if max(slab.inner0, slab.inner1) > CLOSE_MM:
        low, high = np.full(len(z), -np.inf), np.full(len(z), np.inf)
        pieces = _without(pieces, _through(slab.z0, slab.z1, slab.inner0, slab.inner1, z, y, s, low, high))
    for hole in body.holes:
        if hole.z + hole.radius > slab.z0 and hole.z - hole.radius < slab.z1:
            pieces = _without(pieces, _through_hole(hole.z, hole.angle, hole.radius, z, y, s))
    for slot in body.slots:
        pieces = _without(pieces, _through_slot(slot, y, s))
    return _is_long(pieces)


def _is_long(pieces: list[Interval]) -> Any:
    """True where any of the intervals is more than a graze."""
    blocked = pieces[0][1] - pieces[0][0] > _GRAZE
    for low, high in pieces[1:]:
        blocked |= high - low > _GRAZE
    return blocked


def _without(pieces: list[Interval], hole: Interval) -> list[Interval]:
    import numpy as np

    start, end = hole
    empty = end <= start
    found: list[Interval] = []
    for low, high in pieces:
        found.append((low, np.where(empty, high, np.minimum(high, start))))
        found.append((np.where(empty, high, np.maximum(low, end)), high))
    return found


def _through(z0: Any, z1: Any, r0: Any, r1: Any, z: Any, y: Any, s: Any, low: Any, high: Any) -> Interval:
    """Where rays run inside full frusta, cut down to low .. high."""
    import numpy as np

    slope = (r1 - r0) / (z1 - z0)
    low, high = np.maximum(low, z0 - z), np.minimum(high, z1 - z)
    own = r0 + slope * (z - z0)
    return _cut_down(2.0 - slope**2, (y + s) - slope * own, y * y + s * s - own * own, slope > 0, low, high)


def _through_hole(at: float, angle: float, radius: float, z: Any, y: Any, s: Any) -> Interval:
    """Where rays run inside a cross hole."""
    import numpy as np

    cos, sin = math.cos(angle), math.sin(angle)
    aside, rate = s * cos - y * sin, cos - sin
    ahead = z - at
    wide = np.full(len(z), np.inf)
    return _cut_down(1.0 + rate**2, ahead + aside * rate, ahead**2 + aside**2 - radius**2, True, -wide, wide)


def _through_slot(slot: Slot, y: Any, s: Any) -> Interval:
    """Where rays run inside the gap of an open ring: between its two ends, on their side of the axis."""
    import numpy as np

    cos, sin = math.cos(slot.angle), math.sin(slot.angle)
    low, high = np.full(len(y), -np.inf), np.full(len(y), np.inf)
    aside = s * cos - y * sin
    for room, rate in (
        (slot.half - aside, cos - sin), (slot.half + aside, sin - cos), (y * cos + s * sin, -cos - sin),
    ):  # fmt: skip
        if abs(rate) < 1e-12:
            high = np.where(room > 0.0, high, low)
        elif rate > 0.0:
            high = np.minimum(high, room / rate)
        else:
            low = np.maximum(low, room / rate)
    return low, high


def _cut_down(a: Any, b: Any, c: Any, grows: Any, low: Any, high: Any) -> Interval:
    """The interval low .. high without what lies outside a quadric: a t^2 + 2 b t + c > 0 there.

    Where `a` is negative the quadric is a cone flatter than the view, and of its two nappes only the one that is there
    counts: the later one of a cone that `grows` towards the eye.
    """
    import numpy as np

    a = np.where(abs(a) < 1e-12, 1e-12, a)
    inside = b * b - a * c
    root = np.sqrt(np.maximum(inside, 0.0))
    # The sum that does not cancel; the other root from the product of both.
    sum_ = -(b + np.where(b < 0.0, -root, root))
    one = sum_ / a
    other = np.where(sum_ == 0.0, one, c / np.where(sum_ == 0.0, 1.0, sum_))
    first, second = np.minimum(one, other), np.maximum(one, other)
    is_met, is_steep = inside > 0.0, a > 0.0
    start = np.where(is_steep, first, np.where(grows, second, -np.inf))
    end = np.where(is_steep, second, np.where(grows, np.inf, first))
    low = np.where(is_met, np.maximum(low, start), low)
    return low, np.where(is_met, np.minimum(high, end), np.where(is_steep, low, high))
