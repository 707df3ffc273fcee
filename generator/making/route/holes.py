"""Holes: drilled by what lies in the drawer, from both ends where it is short, and opened for a boring bar."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from generator.description import Part, Surface
from generator.making.driving import driven
from generator.making.floors import hole_in_floor_mm
from generator.making.route.ledger import Workpiece
from generator.making.route.words import the
from generator.making.setups import FLAT, Step
from generator.making.workshop import Drill, Workshop

__all__ = ["MEET_MM", "drilled", "from_the_front", "leaves_flat", "reach_of", "starter", "the_rest"]

_POINT_SHARE = 0.3
"""Length of a 118 degree point over its diameter. Geometry."""
_UNDER_MM = 1.0
_WIDE = 2.0
"""A hole of so many diameters lets chips out beside the drill. Shop choice."""
_NEAR_MM = 0.26
"""How far a drill of the drawer may be from the size. Shop choice."""
MEET_MM = 2.0
"""How far holes from both ends overlap. Shop choice."""


def leaves_flat(steps: Iterable[Step]) -> bool:
    """Whether one of these steps takes the point's cone off the floor, so that no bar needs room to square it.

    Source: this program.
    """
    return any(FLAT in step.text for step in steps)


def reach_of(shop: Workshop, surface: Surface) -> float:
    """How deep the longest drill of this size goes from one end; 0 where there is none.

    Source: flute less 1.5 diameters, table drill_rules.
    """
    size = surface.diameter.nominal_mm
    return max((one.usable_mm for one in shop.drills if abs(one.diameter_mm - size) <= _NEAR_MM), default=0.0)


def from_the_front(piece: Workpiece, surface: Surface, shop: Workshop) -> Iterator[Step]:
    """A bore through the shank drilled from the pocket's side, as deep as the drill goes.

    Source: common practice, no source.
    """
    deep = piece.z_of[surface.far] - piece.z_of[surface.near]
    here = min(deep, reach_of(shop, surface) or deep)
    rest = "; the rest from the shank end" if here < deep else ""
    yield piece.cut(
        "drill", f"drill {the(surface.name)}{rest}", surface, length_mm=here, also=f"{here:.0f} mm deep from the floor"
    )


def drilled(
    piece: Workpiece, surface: Surface, deep_mm: float, shop: Workshop, *, both_ends: bool
) -> Iterator[Step]:
    """A hole from one end of the part: drilled to size, or drilled and bored; told where it must be met from behind.

    `deep_mm` counts from the end; a step's own length counts from where its hole begins, which a wider one may lead to.
    Source: common practice, no source.
    """
    size, own_mm = surface.diameter.nominal_mm, abs(piece.z_of[surface.far] - piece.z_of[surface.near])
    near = [one for one in shop.drills if abs(one.diameter_mm - size) <= _NEAR_MM]
    best = max(near, key=lambda one: one.usable_mm, default=None)
    name = the(surface.name)
    if best is None:
        smaller = max((one for one in shop.drills if one.diameter_mm < size), key=lambda d: d.diameter_mm, default=None)
        if smaller is not None:
            yield Step(
                f"drill for {name}", f"dia {smaller.diameter_mm:g} mm", "", (), "drill", "", smaller.diameter_mm,
                deep_mm,
            )  # fmt: skip
        also = f"dia {size:g} mm, for the thread" if surface.diameter.derived else ""
        yield piece.cut("bore", f"bore {name}", surface, length_mm=own_mm, also=also)
        return
    before_mm = max(0.0, deep_mm - own_mm)
    if both_ends and before_mm < best.usable_mm < deep_mm:
        yield piece.cut(
            "drill", f"drill {name} as deep as the drill goes; the rest from the front", surface,
            length_mm=best.usable_mm - before_mm, also=f"{best.usable_mm:.1f} mm deep from the end",
        )
        return
    if surface.diameter.derived:
        text = "drill, or open the bore, to the tap drill"
        yield piece.cut("drill", text, surface, length_mm=own_mm, also=f"dia {size:g} mm")
        return
    fine = " and ream" if surface.diameter.tolerance_class else ""
    step = piece.cut("drill", f"drill{fine} {name}", surface, length_mm=own_mm)
    told = any(one.name == cut.partition("/")[2] for cut in step.cuts for one in piece.part.lengths)
    if not told:
        step = replace(step, size="\n".join(one for one in (step.size, f"{deep_mm:.1f} mm deep") if one))
    yield step


def starter(
    piece: Workpiece, pockets: Sequence[Surface], tail: Sequence[Surface], shop: Workshop, front: str,
    held_by: Surface | None = None,
) -> Iterator[Step]:
    """The hole from the front that lets the boring bar in, and its floor.

    It comes before the small drill, which then has no more to clear than what is left behind it. `held_by` is the
    taper that alone holds the work: no drill is taken that would turn it in its socket.
    Source: common practice, no source; torque `making.driving`.
    """
    bores = [one for one in pockets if one.side == "inside"]
    if not bores:
        return
    met = [one for one in tail if _rest_mm(piece, one, shop) is not None]
    drill = _wide_drill(piece, bores, tail, shop, front, held_by)
    floor = min(piece.z_of[one.near] for one in bores)
    deepest = piece.z_of[front] - floor
    if drill is not None:
        deep = max(deepest - _POINT_SHARE * drill.diameter_mm, 1.0)
        solid = all(one in met or abs(piece.z_of[one.far] - floor) > 1e-6 for one in tail)
        text = "centre, then drill out for the boring bar" if solid else "drill out for the boring bar"
        yield Step(
            text, f"dia {drill.diameter_mm:g} mm, {deep:.1f} mm deep to the point's corners",
            "", (), "drill", "", drill.diameter_mm, deep,
        )  # fmt: skip
        last = min(bores, key=lambda one: (piece.z_of[one.near], piece.z_of[one.far]))
        fine = last.role == "pocket" or last.diameter.tolerance_class
        if not fine and drill.diameter_mm > hole_in_floor_mm(piece.part, last) + 1e-6:
            flat_mm = math.floor(10 * deepest + 1e-6) / 10
            yield Step(
                f"take the point's cone off the floor of {the(last.name)} by a drill of this size {FLAT}",
                f"dia {drill.diameter_mm:g} mm, {flat_mm:.1f} mm from the front", "", (), "drill", "",
                drill.diameter_mm, flat_mm,
            )  # fmt: skip


def the_rest(
    piece: Workpiece, pockets: Sequence[Surface], tail: Sequence[Surface], shop: Workshop, front: str,
    begun: Sequence[Step],
) -> tuple[tuple[Step, ...], bool]:
    """The rest of bores that were drilled from the shank end, and whether it waits until the pockets are roughed.

    It waits where what has `begun` leaves a hole too narrow for the chips of a drill so deep in the work.
    Source: common practice, no source; table drill_rules.
    """
    bores = [one for one in pockets if one.side == "inside"]
    if not bores:
        return (), False
    wide_mm = max((step.diameter_mm or 0.0 for step in begun), default=0.0)
    deepest = piece.z_of[front] - min(piece.z_of[one.near] for one in bores)
    steps, waits = [], False
    for one in tail:
        rest_mm, size = _rest_mm(piece, one, shop), one.diameter.nominal_mm
        if rest_mm is None:
            continue
        waits = waits or (wide_mm < _WIDE * size and rest_mm + deepest > reach_of(shop, one))
        begin = "drill" if begun else "centre, then drill"
        steps.append(Step(
            f"{begin} the rest of {the(one.name)}, to meet the hole from the shank end",
            f"{deepest + rest_mm:.1f} mm from the front", "", (), "drill", f"{piece.part.name}/{one.name}",
            size, min(piece.z_of[one.far] - piece.z_of[one.near], rest_mm),
        ))  # fmt: skip
    return tuple(steps), waits


def _rest_mm(piece: Workpiece, one: Surface, shop: Workshop) -> float | None:
    """How much of a bore the drill from the shank end leaves to the front; None where it goes through, or none does."""
    reach, from_end = reach_of(shop, one), piece.z_of[one.far] - piece.near_mm
    if not reach or reach >= from_end or one.role != "":
        return None
    return from_end - reach + MEET_MM


def _wide_drill(
    piece: Workpiece, bores: Sequence[Surface], tail: Sequence[Surface], shop: Workshop, front: str,
    held_by: Surface | None,
) -> Drill | None:
    """The largest drill that goes to the floor inside every bore, and turns no taper that alone holds the work."""
    least = min(one.diameter.nominal_mm for one in bores)
    deepest = piece.z_of[front] - min(piece.z_of[one.near] for one in bores)
    fitting = [d for d in shop.drills if d.diameter_mm <= least - _UNDER_MM and d.usable_mm >= deepest]
    if held_by is not None:
        # A pilot as large as the bore behind it is the worst for the taper: it takes the thrust that holds.
        before = max((one.diameter.nominal_mm for one in tail), default=0.0)
        fitting = [d for d in fitting if not _turns(piece.part, held_by, d.diameter_mm, before)]
    return max(fitting, key=lambda d: d.diameter_mm, default=None)


def _turns(part: Part, taper: Surface, wide_mm: float, before_mm: float) -> bool:
    reckoned = driven(part, taper, wide_mm, before_mm if before_mm < wide_mm else 0.0)
    return reckoned is not None and reckoned.slips
