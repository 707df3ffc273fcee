"""Which faces a tool can be touched off on in a set-up, and why it cannot on the others."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from generator.description import Part, Surface, diameter_at, face_positions
from generator.fittings.centre_hole import end_hole
from generator.making.setups import SetUp

__all__ = ["LEAST_RING_MM", "SOCKET_END", "free_way", "is_step", "why_hidden"]

LEAST_RING_MM = 0.5
"""Height of a step, or width of a ring, that a tool can be touched on. Shop choice."""
SOCKET_END = "end of the socket"
"""Touched off where a bought taper is held: it lies in the gauge plane, and no face of the part is cut yet."""
_SEEN_SHARE = 0.5
"""Depth of a floor over its bore up to which a tool is touched on it by eye. Shop choice."""
_COUNTERSINK_MM = 2.0
"""A countersunk mouth over its bore. Shop choice."""
_EDGE_MM = 3.0
"""What lies so near to an end counts as its edge. Shop choice."""
_JAWS = frozenset({"three-jaw", "soft jaws", "four-jaw"})
_CLOSE_MM = 1e-6


class _Ring(NamedTuple):
    """A face as it is seen along the axis: inside or outside, the way it looks, and its two diameters."""

    inside: bool
    looks: float
    small_mm: float
    large_mm: float


def free_way(part: Part, setup: SetUp, z_of: Mapping[str, float]) -> float:
    """1 where tools come from the work end of the part, -1 from its other end, 0 where nothing tells.

    Source: geometry of what is held and cut.
    """
    if setup.located in {"bench", ""}:
        return 0.0
    if setup.located == "own bearings":
        return 1.0
    low, high = min(z_of.values()), max(z_of.values())

    def end(face: str) -> float:
        if face not in z_of:
            return 0.0
        return 1.0 if high - z_of[face] < _CLOSE_MM else -1.0 if z_of[face] - low < _CLOSE_MM else 0.0

    cut = {end(name.partition("/")[2]) for name in setup.finishes if name.startswith(f"{part.name}/")} - {0.0}
    if len(cut) == 1:
        return cut.pop()
    own, _, name = setup.grips.partition("/")
    held = part.by_name.get(name) if own == part.name else None
    if held is not None and held.side == "outside":
        beyond = low + high - z_of[held.near] - z_of[held.far]
        return 0.0 if abs(beyond) < _CLOSE_MM else 1.0 if beyond > 0 else -1.0
    return end(setup.touches_off.partition("/")[2])


def is_step(part: Part, face: str, z_of: Mapping[str, float]) -> bool:
    """True where the outline of a part has a step at this face, however low.

    Source: geometry.
    """
    return any(True for _ in _rings(part, face, z_of))


def why_hidden(part: Part, setup: SetUp, face: str, z_of: Mapping[str, float] | None = None) -> str:
    """Why no tool can be touched off on this face in this set-up; "" where one can, or where nothing tells.

    Source: geometry; least ring and greatest depth are shop choices.
    """
    z_of = face_positions(part) if z_of is None else z_of
    if face not in z_of:
        return ""
    rings = list(_rings(part, face, z_of))
    if not rings:
        is_end = z_of[face] in (min(z_of.values()), max(z_of.values()))
        return "" if is_end else "it is no face but a place on a surface"
    if setup.located == "bench":
        return ""
    way = free_way(part, setup, z_of)
    if not way:
        return ""
    reasons = [_why(part, setup, face, one, way, z_of) for one in rings]
    return min(reasons, key=bool)


def _why(part: Part, setup: SetUp, face: str, ring: _Ring, way: float, z_of: Mapping[str, float]) -> str:
    """Why this ring of a face cannot be touched; "" where it can."""
    if ring.looks != way:
        return "it looks towards the headstock, where no tool comes from"
    if _in_jaws(part, setup, face, way, z_of):
        return "it is in the jaws"
    end = (max if way > 0 else min)(z_of.values())
    carried = setup.support == "centre" or setup.located == "centres"
    small, large = ring.small_mm, ring.large_mm
    if ring.inside:
        if carried:
            return "the centre closes the bore that it lies in"
        if abs(end - z_of[face]) > _SEEN_SHARE * ring.large_mm + _CLOSE_MM:
            return "it lies too deep in its bore to be seen"
    elif carried and abs(end - z_of[face]) < _CLOSE_MM:
        small = max(small, _mouth_mm(part, face, small))
    if not ring.inside and abs(end - z_of[face]) < _CLOSE_MM:
        large = max(large, _uncut_mm(part, setup, end, z_of))
    high = (large - small) / 2.0
    covered = " beside the mouth of the centre hole" if small > ring.small_mm else ""
    return "" if high >= LEAST_RING_MM - _CLOSE_MM else f"only {max(high, 0.0):.2g} mm of it stand out{covered}"


def _mouth_mm(part: Part, face: str, hole_mm: float) -> float:
    """What the centre covers of an end: the mouth of its centre hole, or of the bore that it runs in."""
    if hole_mm > 0.0:
        return hole_mm + _COUNTERSINK_MM
    hole = end_hole(part, face)
    return 0.0 if hole is None else hole.countersink_mm


def _uncut_mm(part: Part, setup: SetUp, end: float, z_of: Mapping[str, float]) -> float:
    """Diameter at an end before this set-up cuts there: its chamfer comes after the touch, the bar is larger."""
    if setup.grips == "bar":
        return math.inf
    cut = (
        diameter_at(part, one, z, z_of) for one in part.surfaces for z in (z_of[one.near], z_of[one.far])
        if one.side == "outside" and f"{part.name}/{one.name}" in setup.finishes and abs(z - end) < _EDGE_MM
    )  # fmt: skip
    return max(cut, default=0.0)


def _in_jaws(part: Part, setup: SetUp, face: str, way: float, z_of: Mapping[str, float]) -> bool:
    """Whether jaws on the outside reach over this face."""
    held = part.by_name.get(setup.grips.partition("/")[2])
    if setup.located not in _JAWS or held is None or held.side != "outside" or setup.grip_mm is None:
        return False
    back = (min if way > 0 else max)(z_of[held.near], z_of[held.far])
    return way * (z_of[face] - back) < min(setup.grip_mm, abs(z_of[held.far] - z_of[held.near])) - _CLOSE_MM


def _rings(part: Part, face: str, z_of: Mapping[str, float]) -> Iterator[_Ring]:
    """The steps of the finished outline at the place of a face."""
    z = z_of[face]
    outer = [_diameter(part, "outside", z, way, z_of) for way in (-1.0, 1.0)]
    inner = [_diameter(part, "inside", z, way, z_of) for way in (-1.0, 1.0)]
    low, high = outer
    if abs(low - high) > _CLOSE_MM:
        looks = 1.0 if low > high else -1.0
        beside = inner[0] if looks > 0 else inner[1]
        yield _Ring(False, looks, max(min(low, high), beside), max(low, high))
    if min(outer) > 0.0 and abs(inner[0] - inner[1]) > _CLOSE_MM:
        yield _Ring(True, 1.0 if inner[1] > inner[0] else -1.0, min(inner), max(inner))


def _diameter(part: Part, side: str, z: float, way: float, z_of: Mapping[str, float]) -> float:
    """Diameter of the outline on one side just beside a place; 0 where there is nothing."""
    found = (
        diameter_at(part, one, z, z_of) for one in part.surfaces
        if one.side == side and _runs_by(one, z, way, z_of)
    )  # fmt: skip
    return max(0.0, max(found, default=0.0))


def _runs_by(one: Surface, z: float, way: float, z_of: Mapping[str, float]) -> bool:
    low, high = sorted((z_of[one.near], z_of[one.far]))
    return low < z - _CLOSE_MM and z <= high + _CLOSE_MM if way < 0 else low <= z + _CLOSE_MM and z < high - _CLOSE_MM
