"""Can the turning tool reach the end of the work? Gaps between tool and tailstock, and what is cheap to change.

Plan view: z = 0 at the work's end face, positive into the work (to the headstock); r from the axis to the operator.
A right-hand tool cuts away from the tailstock, its holder on the tailstock side of the tip.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import NamedTuple

from generator.reckoning.access_shapes import Gap, Point, Shape, gap_between, least_along, moved, rotated
from generator.reckoning.amounts import need
from generator.reckoning.angles import arctangent_deg, cosine, sine, tangent

__all__ = [
    "Angles", "Centre", "Cut", "Holder", "Obstacle", "Stage", "Tightest", "angles_left", "least_diameter_mm",
    "least_gap", "obstacles", "tool_shapes",
]

QUILL_SHOWN_MM = 200.0
CASTING_SHOWN_MM = 150.0
SLIDE_SHOWN_MM = 120.0
_SAME_MM = 1e-6


class Stage(NamedTuple):
    """One length of the centre behind the point's cone, front to rear: diameter in front, length, diameter behind."""

    name: str
    diameter_mm: float
    length_mm: float
    rear_mm: float


@dataclass(frozen=True, slots=True)
class Centre:
    """What stands at the tailstock: point in a hole of this mouth, stages behind it, quill and casting.

    `flat_mm` is the height above the axis at which a half point is cut away over its cone, None for a full one.
    `casting_mm` is how far the casting reaches from the axis towards the operator; 0 leaves it out, as it does a quill.
    """

    mouth_mm: float
    stages: tuple[Stage, ...]
    point_deg: float = 60.0
    quill_mm: float = 0.0
    quill_out_mm: float = 0.0
    casting_mm: float = 0.0
    flat_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Holder:
    """The turning tool by a few caliper sizes, as it stands unswung: edge at the tip, shank square to the axis.

    `tip_ahead`: tip ahead of the holder's front. `tip_beside`: tip beside its headstock flank (below zero: inside it).
    `insert_width`: insert and seat, from the tip towards the tailstock. `trailing_deg` given instead: the front recedes
    from the tip at that angle, as it does on holders for sharp inserts. `out_mm`: tip ahead of the tool post.
    `post_reach`, `slide_reach`: how far post and top slide reach from the tip towards the tailstock (0 leaves it out);
    `slide_behind`: front of the top slide behind the tip; `slide_below`: its top below centre height.
    """

    width_mm: float
    tip_ahead_mm: float = 0.0
    tip_beside_mm: float = 0.0
    insert_width_mm: float = 0.0
    trailing_deg: float | None = None
    approach_deg: float = 93.0
    out_mm: float = 40.0
    post_reach_mm: float = 0.0
    slide_reach_mm: float = 0.0
    slide_behind_mm: float = 0.0
    slide_below_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Cut:
    """The cut: finished diameter, where the tip starts (before the end face below zero), where it ends, the retract.

    `waits_mm`: how far past the end face the tip stands, retracted, before a cut; at the start of the cut without it.
    """

    diameter_mm: float
    start_mm: float = 0.0
    length_mm: float = 50.0
    retract_mm: float = 2.0
    waits_mm: float | None = None


class Obstacle(NamedTuple):
    """One convex piece of what stands at the tailstock: from the axis out to its outline."""

    name: str
    shape: Shape


class Tightest(NamedTuple):
    """The least gap: how much, between what, where on the obstacle, during what, and the tip's place then."""

    gap_mm: float
    tool: str
    obstacle: str
    gap: Gap
    during: str
    tip_z_mm: float
    tip_r_mm: float


class Angles(NamedTuple):
    """What is left of a tool's angles after a swing."""

    approach_deg: float
    trailing_deg: float
    side_rake_deg: float
    back_rake_deg: float
    clearance_deg: float


def obstacles(centre: Centre) -> tuple[Obstacle, ...]:
    """The centre, the quill and the casting as convex pieces, front to rear.

    Source: geometry: a point seats with its cone on the mouth of the hole, at the work's end face.
    """
    return tuple(_obstacles(centre))


def _obstacles(centre: Centre) -> Iterator[Obstacle]:
    _check_centre(centre)
    front = centre.stages[0].diameter_mm
    back = -(front - centre.mouth_mm) / 2 / tangent(centre.point_deg / 2)
    if centre.flat_mm is None:
        yield Obstacle("point", _frustum(0.0, centre.mouth_mm, back, front))
    else:
        yield Obstacle("half point", _frustum(0.0, 2 * centre.flat_mm, back, 2 * centre.flat_mm))
    for stage in centre.stages:
        yield Obstacle(stage.name, _frustum(back, stage.diameter_mm, back - stage.length_mm, stage.rear_mm))
        back -= stage.length_mm
    if centre.quill_mm:
        yield Obstacle("quill", _frustum(back, centre.quill_mm, back - QUILL_SHOWN_MM, centre.quill_mm))
    if centre.casting_mm:
        front_z = back - centre.quill_out_mm
        yield Obstacle("casting", _frustum(front_z, 2 * centre.casting_mm, front_z - CASTING_SHOWN_MM,
                                           2 * centre.casting_mm))


def _check_centre(centre: Centre) -> None:
    need("mouth of the centre hole", centre.mouth_mm, "mm", above=0)
    need("point angle", centre.point_deg, "deg", least=30, most=120)
    need("number of stages behind the point", len(centre.stages), least=1, most=20)
    need("diameter behind the point's cone", centre.stages[0].diameter_mm, "mm", least=centre.mouth_mm)
    for stage in centre.stages:
        need(f"length of the {stage.name}", stage.length_mm, "mm", least=0, most=1000)
        need(f"diameter of the {stage.name}", min(stage.diameter_mm, stage.rear_mm), "mm", above=0, most=1000)
    need("quill out", centre.quill_out_mm, "mm", least=0, most=1000)


def _frustum(front_z: float, front_mm: float, back_z: float, back_mm: float) -> Shape:
    """Half the frustum, operator's side, down to the axis; a length of nothing becomes a face."""
    back_z = min(back_z, front_z - 1e-6)
    return ((front_z, 0.0), (front_z, front_mm / 2), (back_z, back_mm / 2), (back_z, 0.0))


def tool_shapes(holder: Holder, swing_deg: float = 0.0) -> dict[str, Shape]:
    """Insert, holder, post and top slide as convex shapes round the tip at (0, 0); all but the slide swing.

    A swing is counted from the tailstock: above zero the rear of the holder moves towards the headstock.
    Source: geometry.
    """
    need("swing", swing_deg, "deg", least=-60, most=60)
    need("holder width", holder.width_mm, "mm", above=0, most=200)
    need("tip ahead of the post", holder.out_mm, "mm", above=holder.tip_ahead_mm, most=500)
    shapes = {"holder": _holder_shape(holder)}
    if holder.trailing_deg is None and holder.tip_ahead_mm > 0 and holder.insert_width_mm > 0:
        ahead, wide = holder.tip_ahead_mm, holder.insert_width_mm
        # Insert: from the tip back to the seat, its trailing edge a little behind the tip.
        shapes["insert"] = ((0.0, 0.0), (0.0, ahead), (-wide, ahead), (-wide, min(1.0, ahead / 2)))
    if holder.post_reach_mm > 0:
        near, out = -holder.post_reach_mm, holder.out_mm
        shapes["tool post"] = ((near, out), (0.0, out), (0.0, out + SLIDE_SHOWN_MM), (near, out + SLIDE_SHOWN_MM))
    shapes = {name: rotated(shape, swing_deg) for name, shape in shapes.items()}
    if holder.slide_reach_mm > 0:
        near, front = -holder.slide_reach_mm, holder.slide_behind_mm
        shapes["top slide"] = ((near, front), (0.0, front), (0.0, front + SLIDE_SHOWN_MM),
                               (near, front + SLIDE_SHOWN_MM))
    return shapes


def _holder_shape(holder: Holder) -> Shape:
    far, out, beside = -(holder.width_mm + holder.tip_beside_mm), holder.out_mm, -holder.tip_beside_mm
    if holder.trailing_deg is None:
        ahead = holder.tip_ahead_mm
        return ((far, ahead), (beside, ahead), (beside, out), (far, out))
    need("trailing angle", holder.trailing_deg, "deg", least=0, below=90)
    front = min(out - 1.0, -far * tangent(holder.trailing_deg))
    if beside <= 0:
        return ((0.0, 0.0), (beside, out), (far, out), (far, front))
    # Tip within the width, as on a neutral tool: the headstock side recedes at the approach angle.
    lead = min(out - 1.0, beside * tangent(min(holder.approach_deg, 89.0)))
    return ((0.0, 0.0), (beside, lead), (beside, out), (far, out), (far, front))


def least_gap(
    holder: Holder, cut: Cut, things: Sequence[Obstacle], swing_deg: float = 0.0, *, at_end_only: bool = False,
    during: str = "",
) -> Tightest:
    """The least gap between any part of the tool and any obstacle: at the start, along the cut, and at retract.

    `during` "cut" or "retract" looks at that move alone.

    The top slide lies below centre height: round obstacles are narrower there. It is not met by the point and nose.
    Source: geometry of convex shapes; least along each straight move.
    """
    need("finished diameter", cut.diameter_mm, "mm", above=0)
    need("length of cut", cut.length_mm, "mm", above=cut.start_mm)
    need("retract", cut.retract_mm, "mm", least=0)
    need("number of obstacles", len(things), least=1)
    pairs = [one for one in _pairs(holder, cut, things, swing_deg, at_end_only=at_end_only)
             if not during or one.during == during]  # fmt: skip
    need("number of pairs of tool and obstacle", len(pairs), least=1)
    # Pairs that may lie nearest come first; those that stay further apart than what was found are not worked out.
    found: list[tuple[float, int, Tightest]] = []
    for bound_mm, place in sorted((one.bound_mm, place) for place, one in enumerate(pairs)):
        if found and bound_mm > found[0][0] + _SAME_MM:
            break
        tight = pairs[place].tightest()
        found = sorted([*found, (round(tight.gap_mm, 9), place, tight)])[:1]
    return found[0][2]


@dataclass(frozen=True, slots=True)
class _Pair:
    """A piece of the tool and an obstacle on one straight move of the tip."""

    during: str
    tool: str
    shape: Shape
    obstacle: str
    against: Shape
    start: Point
    end: Point

    @property
    def bound_mm(self) -> float:
        """What the gap is at least on the whole move: that of the boxes round both; anything where these meet."""
        apart = [0.0, 0.0]
        for axis in (0, 1):
            moves = (self.start[axis], self.end[axis])
            low = min(point[axis] for point in self.shape) + min(moves)
            high = max(point[axis] for point in self.shape) + max(moves)
            beyond = min(point[axis] for point in self.against) - high
            before = low - max(point[axis] for point in self.against)
            apart[axis] = max(0.0, beyond, before)
        return math.hypot(*apart) if any(apart) else -math.inf

    def tightest(self) -> Tightest:
        """The least gap on the move."""
        gap, tip = _along(self.shape, self.against, self.start, self.end)
        return Tightest(gap.gap_mm, self.tool, self.obstacle, gap, self.during, *tip)


def _pairs(
    holder: Holder, cut: Cut, things: Sequence[Obstacle], swing_deg: float, *, at_end_only: bool
) -> Iterator[_Pair]:
    """Every piece of the tool with every obstacle on every move."""
    shapes = tool_shapes(holder, swing_deg)
    for during, start, end in _moves(cut, at_end_only=at_end_only):
        for tool, shape in shapes.items():
            for thing in things:
                against = _lowered(thing, holder.slide_below_mm) if tool == "top slide" else thing.shape
                if against is not None:
                    yield _Pair(during, tool, shape, thing.name, against, start, end)


def _moves(cut: Cut, *, at_end_only: bool) -> Iterator[tuple[str, tuple[float, float], tuple[float, float]]]:
    radius = cut.diameter_mm / 2
    start = (cut.start_mm, radius)
    if at_end_only:
        yield "end of the work", start, start
        return
    out = radius + cut.retract_mm
    yield "cut", start, (cut.length_mm, radius)
    back = cut.start_mm if cut.waits_mm is None else min(-cut.waits_mm, cut.start_mm)
    yield "retract", (back, out), (cut.length_mm, out)


def _along(
    shape: Shape, against: Shape, start: tuple[float, float], end: tuple[float, float]
) -> tuple[Gap, tuple[float, float]]:
    """The least gap while the tip moves straight from start to end, and where the tip is then."""
    def place(share: float) -> tuple[float, float]:
        return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])

    @cache
    def gap_at(share: float) -> Gap:
        return gap_between(moved(shape, *place(share)), against)

    share = 0.0 if start == end else least_along(lambda at: gap_at(at).gap_mm)
    return gap_at(share), place(share)


def _lowered(thing: Obstacle, below_mm: float) -> Shape | None:
    """A round obstacle as wide as it is that far below centre height; the casting stands on the bed and stays."""
    if thing.name == "casting":
        return thing.shape
    (front_z, _), (_, front), (back_z, back), _ = thing.shape
    if min(front, back) <= below_mm:
        return None
    narrow = [math.sqrt(radius**2 - below_mm**2) for radius in (front, back)]
    return ((front_z, 0.0), (front_z, narrow[0]), (back_z, narrow[1]), (back_z, 0.0))


def least_diameter_mm(
    holder: Holder, cut: Cut, things: Sequence[Obstacle], clearance_mm: float, swing_deg: float = 0.0,
    smallest_mm: float = 1.0,
) -> float | None:
    """Least work diameter that can be turned up to the start of the cut with this clearance; None above 1 m.

    Source: bisection; the gap does not shrink while the tool stands further out.
    """
    need("clearance", clearance_mm, "mm", least=0, most=50)
    need("smallest diameter looked at", smallest_mm, "mm", above=0, below=1000)

    def clears(diameter: float) -> bool:
        at = replace(cut, diameter_mm=diameter)
        return least_gap(holder, at, things, swing_deg, at_end_only=True).gap_mm >= clearance_mm - 1e-9

    if clears(smallest_mm):
        return smallest_mm
    low, high = smallest_mm, 1000.0
    if not clears(high):
        return None
    while high - low > 0.005:
        middle = (low + high) / 2
        low, high = (low, middle) if clears(middle) else (middle, high)
    return high


def angles_left(
    holder: Holder, swing_deg: float, side_rake_deg: float = 0.0, back_rake_deg: float = 0.0,
    clearance_deg: float = 7.0, feed_mm: float = 0.0, diameter_mm: float = 100.0,
) -> Angles:
    """Approach, trailing, rake and clearance angles left after the tool is swung in plan.

    The approach angle falls by the swing and the trailing angle grows by it. Rake is that along the axis (side) and
    along the shank's direction of depth (back). Clearance is measured along the feed, less the helix of the feed.
    Source: geometry: the slopes of face and flank turned in plan.
    """
    trailing = holder.trailing_deg if holder.trailing_deg is not None else _trailing_of(holder)
    need("approach angle left", holder.approach_deg - swing_deg, "deg", least=15, most=150)
    need("flank clearance", clearance_deg, "deg", least=0, most=40)
    need("feed", feed_mm, "mm/rev", least=0)
    need("work diameter", diameter_mm, "mm", above=0)
    side, back = tangent(side_rake_deg), tangent(back_rake_deg)
    turned_side = side * cosine(swing_deg) - back * sine(swing_deg)
    turned_back = side * sine(swing_deg) + back * cosine(swing_deg)
    approach = holder.approach_deg - swing_deg
    along_feed = arctangent_deg(tangent(clearance_deg) / sine(approach))
    helix = arctangent_deg(feed_mm / (math.pi * diameter_mm))
    return Angles(
        approach, trailing + swing_deg, arctangent_deg(turned_side), arctangent_deg(turned_back), along_feed - helix
    )


def _trailing_of(holder: Holder) -> float:
    """Trailing angle of an insert given by caliper sizes: that of the edge assumed in `tool_shapes`."""
    if holder.insert_width_mm <= 0 or holder.tip_ahead_mm <= 0:
        return 0.0
    return arctangent_deg(min(1.0, holder.tip_ahead_mm / 2) / holder.insert_width_mm)
