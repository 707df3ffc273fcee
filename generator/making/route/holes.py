"""Holes: drilled by what lies in the drawer, from both ends where it is short, and opened for a boring bar."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.description import Part, Surface
from generator.making.driving import driven
from generator.making.route.ledger import Workpiece
from generator.making.route.words import the
from generator.making.setups import Step
from generator.making.workshop import Workshop

__all__ = ["MEET_MM", "drilled", "from_the_front", "reach_of", "starter"]

_POINT_SHARE = 0.3
"""Length of a 118 degree point over its diameter. Geometry."""
_UNDER_MM = 1.0
_NEAR_MM = 0.26
"""How far a drill of the drawer may be from the size. Shop choice."""
MEET_MM = 2.0
"""How far holes from both ends overlap. Shop choice."""


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

    Source: common practice, no source.
    """
    size = surface.diameter.nominal_mm
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
        yield piece.cut("bore", f"bore {name}", surface, length_mm=deep_mm, also=also)
        return
    if both_ends and best.usable_mm < deep_mm:
        here = min(deep_mm, best.usable_mm)
        yield piece.cut(
            "drill", f"drill {name} as deep as the drill goes; the rest from the front", surface, length_mm=here,
            also=f"{here:.0f} mm deep",
        )
        return
    if surface.diameter.derived:
        text = "drill, or open the bore, to the tap drill"
        yield piece.cut("drill", text, surface, length_mm=deep_mm, also=f"dia {size:g} mm")
        return
    fine = " and ream" if surface.diameter.tolerance_class else ""
    yield piece.cut("drill", f"drill{fine} {name}", surface, length_mm=deep_mm, also=f"{deep_mm:.0f} mm deep")


def starter(
    piece: Workpiece, pockets: Sequence[Surface], tail: Sequence[Surface], shop: Workshop, front: str,
    held_by: Surface | None = None,
) -> Iterator[Step]:
    """The hole from the front that lets the boring bar in, and the rest of a bore that was drilled from the shank end.

    `held_by` is the taper that alone holds the work: no drill is taken that would turn it in its socket.
    Source: common practice, no source; torque `making.driving`.
    """
    bores = [one for one in pockets if one.side == "inside"]
    if not bores:
        return
    z_of = piece.z_of
    floor = min(z_of[one.near] for one in bores)
    for one in tail:
        deep = z_of[one.far] - z_of[one.near]
        near = [d for d in shop.drills if abs(d.diameter_mm - one.diameter.nominal_mm) <= _NEAR_MM]
        reach = max((d.usable_mm for d in near), default=0.0)
        from_end = z_of[one.far] - piece.near_mm
        if near and reach < from_end and one.role == "":
            rest = from_end - reach + MEET_MM
            yield Step(
                f"centre, then drill the rest of {the(one.name)}, to meet the hole from the shank end",
                f"{z_of[front] - floor + rest:.0f} mm from the front", "", (), "drill", f"{piece.part.name}/{one.name}",
                one.diameter.nominal_mm, min(deep, rest),
            )  # fmt: skip
    least = min(one.diameter.nominal_mm for one in bores)
    deepest = z_of[front] - floor
    fitting = [d for d in shop.drills if d.diameter_mm <= least - _UNDER_MM and d.usable_mm >= deepest]
    before = max((one.diameter.nominal_mm for one in tail), default=0.0)
    if held_by is not None:
        fitting = [d for d in fitting if not _turns(piece.part, held_by, d.diameter_mm, before)]
    drill = max(fitting, key=lambda d: d.diameter_mm, default=None)
    if drill is not None:
        deep = max(deepest - _POINT_SHARE * drill.diameter_mm, 1.0)
        text = "drill out for the boring bar" if before else "centre, then drill out for the boring bar"
        yield Step(
            text, f"dia {drill.diameter_mm:g} mm, {deep:.0f} mm deep to the point's corners",
            "", (), "drill", "", drill.diameter_mm, deep,
        )  # fmt: skip


def _turns(part: Part, taper: Surface, wide_mm: float, before_mm: float) -> bool:
    reckoned = driven(part, taper, wide_mm, before_mm if before_mm < wide_mm else 0.0)
    return reckoned is not None and reckoned.slips
