"""The edges of bodies in a pictorial view: circles about the axis, silhouettes, flats and cross holes, hidden ones too.

Pure geometry in model millimetres, in the places (z, y, s) of the bodies.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from generator.drawing.arrangement_profile import CLOSE_MM, Slab
from generator.drawing.pictorial_bodies import Body, Cut, Hole, Slot

__all__ = ["Arc", "Place", "Way", "edges_of_body"]

Place = tuple[float, float, float]

_STEP_MM = 1e-3
_INWARD_MM = 1e-2
_HOLE_STEPS = 72
_CURVE_STEPS = 24


@dataclass(frozen=True, slots=True)
class Arc:
    """An edge that is an arc about the axis, from one angle (radians) on to a larger one."""

    z: float
    radius: float
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Way:
    """An edge along straight pieces."""

    points: tuple[Place, ...]


def edges_of_body(body: Body, view: Place) -> Iterator[Arc | Way]:
    """All edges and silhouettes of a body seen in a direction, hidden ones too (`view` points towards the eye)."""
    yield from _rims(body)
    yield from _silhouettes(body, view)
    for cut in body.cuts:
        yield from _edges_of_cut(body, cut)
    for hole in body.holes:
        yield from _rims_of_hole(body, hole)
    for slot in body.slots:
        yield from _edges_of_slot(body, slot)


def _has(body: Body, z: float, radius: float, angle: float) -> bool:
    """True if there is material of the body at a place."""
    slab = next((s for s in body.slabs if s.z0 <= z <= s.z1), None)
    if slab is None:
        return False
    inner, outer = slab.at(z)
    if not inner <= radius <= outer:
        return False
    if any(c.near < z < c.far and radius * math.cos(angle - c.angle) > c.height for c in body.cuts):
        return False
    if any(slot.holds(radius, angle) for slot in body.slots):
        return False
    return not any(math.hypot(z - h.z, radius * math.sin(angle - h.angle)) < h.radius for h in body.holes)


# --- arcs about the axis


def _rims(body: Body) -> Iterator[Arc]:
    """Circles at the corners of the meridian and where flats end, without what cross features take off."""
    kept: set[tuple[float, float, int]] = set()
    for z, radius, inward in _corners(body):
        key = (round(z, 3), round(radius, 3), inward)
        if key in kept or radius < 0.02:
            continue
        kept.add(key)
        for start, end in _spans(body, z, radius):
            middle = (start + end) / 2
            near, far = (_has(body, z + step, radius + inward * _INWARD_MM, middle) for step in (-_STEP_MM, _STEP_MM))
            if near or far:
                yield Arc(z, radius, start, end)
    for z in sorted({z for cut in body.cuts for z in (cut.near, cut.far) if math.isfinite(z)}):
        slab = next((s for s in body.slabs if s.z0 + _STEP_MM < z < s.z1 - _STEP_MM), None)
        if slab is None:
            continue
        radius = slab.at(z)[1]
        for start, end in _spans(body, z, radius):
            middle = (start + end) / 2
            near, far = (_has(body, z + step, radius - _INWARD_MM, middle) for step in (-_STEP_MM, _STEP_MM))
            if near is not far:
                yield Arc(z, radius, start, end)


def _corners(body: Body) -> Iterator[tuple[float, float, int]]:
    """Corners (z, radius) of the outside (inward -1) and of the bore (inward +1)."""
    outside = [(s.z0, s.outer0, s.z1, s.outer1) for s in body.slabs]
    yield from ((z, r, -1) for z, r in _bends(outside))
    for run in _runs([(s.z0, s.inner0, s.z1, s.inner1) for s in body.slabs if max(s.inner0, s.inner1) > CLOSE_MM]):
        yield from ((z, r, 1) for z, r in _bends(run))


_Edge = tuple[float, float, float, float]


def _runs(edges: Sequence[_Edge]) -> Iterator[list[_Edge]]:
    """Edges in groups without a break."""
    run: list[_Edge] = []
    for edge in edges:
        if run and edge[0] - run[-1][2] > CLOSE_MM:
            yield run
            run = []
        run.append(edge)
    if run:
        yield run


def _bends(edges: Sequence[_Edge]) -> list[tuple[float, float]]:
    """Places where a meridian line turns, both ends among them."""
    first, last = edges[0], edges[-1]
    found = [(first[0], first[1])]
    for a, b in pairwise(edges):
        if abs(a[3] - b[1]) > CLOSE_MM:
            found += [(a[2], a[3]), (b[0], b[1])]
        elif abs((a[3] - a[1]) * (b[2] - b[0]) - (b[3] - b[1]) * (a[2] - a[0])) > 1e-6:
            found.append((a[2], a[3]))
    return [*found, (last[2], last[3])]


def _spans(body: Body, z: float, radius: float) -> Iterator[tuple[float, float]]:
    """The full circle parted at all angles where a cross feature may begin or end."""
    marks: list[float] = []
    for cut in body.cuts:
        if cut.near - _STEP_MM <= z <= cut.far + _STEP_MM and abs(cut.height) < radius:
            half = math.acos(cut.height / radius)
            marks += [cut.angle - half, cut.angle + half]
    for hole in body.holes:
        across = hole.radius**2 - (z - hole.z) ** 2
        if 0.0 < across < radius**2:
            half = math.asin(math.sqrt(across) / radius)
            marks += [hole.angle + turn + side * half for turn in (0.0, math.pi) for side in (-1, 1)]
    for slot in body.slots:
        if slot.half < radius:
            half = math.asin(slot.half / radius)
            marks += [slot.angle - half, slot.angle + half]
    marks = sorted({round(mark % math.tau, 9) for mark in marks})
    if not marks:
        yield 0.0, math.tau
        return
    yield from ((a, b) for a, b in pairwise([*marks, marks[0] + math.tau]) if b - a > 1e-6)


# --- silhouettes


def _silhouettes(body: Body, view: Place) -> Iterator[Way]:
    """Generators along which the outside turns away from the eye; bores have none that can be seen."""
    across = math.hypot(view[1], view[2])
    towards = math.atan2(view[2], view[1])
    for slab in body.slabs:
        slope = (slab.outer1 - slab.outer0) / (slab.z1 - slab.z0)
        share = slope * view[0] / across
        if abs(share) >= 1.0:
            continue
        for angle in (towards + math.acos(share), towards - math.acos(share)):
            marks = {slab.z0, slab.z1}
            for cut in body.cuts:
                lean = math.cos(angle - cut.angle)
                marks.update(z for z in (cut.near, cut.far) if slab.z0 < z < slab.z1)
                if lean > 1e-9 and abs(slope) > 1e-9:
                    z = slab.z0 + (cut.height / lean - slab.outer0) / slope
                    marks.update({z} if slab.z0 < z < slab.z1 else ())
            for hole in body.holes:
                marks.update(_where_hole_crosses(hole, slab, angle))
            for z0, z1 in pairwise(sorted(marks)):
                middle = (z0 + z1) / 2
                if z1 - z0 > _STEP_MM and _has(body, middle, slab.at(middle)[1] - _STEP_MM, angle):
                    yield Way(tuple(_at(z, slab.at(z)[1], angle) for z in (z0, z1)))


def _where_hole_crosses(hole: Hole, slab: Slab, angle: float) -> Iterator[float]:
    """Places along a generator where a cross hole begins or ends."""
    low, high = max(slab.z0, hole.z - hole.radius), min(slab.z1, hole.z + hole.radius)
    for z0, z1 in ((low, hole.z), (hole.z, high)):
        if z1 <= z0:
            continue
        inside = [math.hypot(z - hole.z, slab.at(z)[1] * math.sin(angle - hole.angle)) < hole.radius for z in (z0, z1)]
        if inside[0] is inside[1]:
            continue
        for _ in range(40):
            z = (z0 + z1) / 2
            within = math.hypot(z - hole.z, slab.at(z)[1] * math.sin(angle - hole.angle)) < hole.radius
            z0, z1 = (z, z1) if within is inside[0] else (z0, z)
        yield z0


def _at(z: float, radius: float, angle: float) -> Place:
    return (z, radius * math.cos(angle), radius * math.sin(angle))


# --- flats


def _edges_of_cut(body: Body, cut: Cut) -> Iterator[Way]:
    """The edges of one flat: across the axis where it ends or the part steps, and along the outside."""
    low, high = max(cut.near, body.near_z), min(cut.far, body.far_z)
    stations = {low, high, *(z for s in body.slabs for z in (s.z0, s.z1) if low < z < high)}
    for z in sorted(stations):
        yield from _across(body, cut, z)
    for slab in body.slabs:
        ends = max(low, slab.z0), min(high, slab.z1)
        yield from _along(body, cut, slab, *ends, -_INWARD_MM)
        if max(slab.inner0, slab.inner1) > abs(cut.height):
            yield from _along(body, cut, replace(slab, outer0=slab.inner0, outer1=slab.inner1), *ends, _INWARD_MM)


def _across(body: Body, cut: Cut, z: float) -> Iterator[Way]:
    """Straight edges on a flat, square to the axis."""
    marks = {0.0}
    for slab in body.slabs:
        if slab.z0 - _STEP_MM <= z <= slab.z1 + _STEP_MM:
            for radius in slab.at(min(max(z, slab.z0), slab.z1)):
                if radius > abs(cut.height):
                    half = math.sqrt(radius**2 - cut.height**2)
                    marks.update((-half, half))
    for a, b in pairwise(sorted(marks)):
        middle = (a + b) / 2
        heights = [cut.height + rise for rise in (-_STEP_MM, _STEP_MM)]
        corners = [
            _has(body, z + step, math.hypot(height, middle), cut.angle + math.atan2(middle, height))
            for step in (-_STEP_MM, _STEP_MM)
            for height in heights
        ]
        is_plain = corners[0] is corners[2] and corners[1] is corners[3]
        is_end = corners[0] is corners[1] and corners[2] is corners[3]
        if b - a > _STEP_MM and not is_plain and not is_end:
            yield Way((_on(cut, z, a), _on(cut, z, b)))


def _along(body: Body, cut: Cut, slab: Slab, z0: float, z1: float, inward_mm: float) -> Iterator[Way]:
    """Where a flat meets the outside of a slab between two places; material lies `inward_mm` farther out."""
    if z1 - z0 < _STEP_MM:
        return
    slope = (slab.outer1 - slab.outer0) / (slab.z1 - slab.z0)
    height = abs(cut.height)
    if slab.at(z0)[1] <= height or slab.at(z1)[1] <= height:
        if abs(slope) < 1e-9 or (slab.at(z0)[1] <= height and slab.at(z1)[1] <= height):
            return
        meet = slab.z0 + (height - slab.outer0) / slope
        z0, z1 = (meet, z1) if slope > 0 else (z0, meet)
    first, last = (math.sqrt(max(0.0, slab.at(z)[1] ** 2 - height**2)) for z in (z0, z1))
    for side in (-1, 1):
        run: list[Place] = []
        for a, b in pairwise(_curve(slab, slope, height, (z0, first), (z1, last))):
            ends = _on(cut, a[0], side * a[1]), _on(cut, b[0], side * b[1])
            z, aside = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2 + inward_mm
            within = cut.height - _INWARD_MM
            if _has(body, z, math.hypot(within, aside), cut.angle + math.atan2(side * aside, within)):
                run = [*run, ends[1]] if run else [*ends]
            elif run:
                yield Way(tuple(run))
                run = []
        if run:
            yield Way(tuple(run))


def _curve(
    slab: Slab, slope: float, height: float, start: tuple[float, float], end: tuple[float, float]
) -> list[tuple[float, float]]:
    """Places (z, distance from the middle) along the hyperbola that a flat cuts out of a cone, even across it."""
    if abs(slope) < 1e-9:
        return [start, end]
    asides = (start[1] + k / _CURVE_STEPS * (end[1] - start[1]) for k in range(1, _CURVE_STEPS))
    between = [(slab.z0 + (math.hypot(aside, height) - slab.outer0) / slope, aside) for aside in asides]
    return [start, *between, end]


def _on(cut: Cut, z: float, aside: float) -> Place:
    """A place on a flat, `aside` from its middle."""
    cos, sin = math.cos(cut.angle), math.sin(cut.angle)
    return (z, cut.height * cos - aside * sin, cut.height * sin + aside * cos)


# --- gaps of open rings


def _edges_of_slot(body: Body, slot: Slot) -> Iterator[Way]:
    """The edges of both ends of an open ring: across its faces and along its outside and bore."""
    cos, sin = math.cos(slot.angle), math.sin(slot.angle)
    for side in (-slot.half, slot.half):
        for slab in body.slabs:
            corners = [
                (z, reach * cos - side * sin, reach * sin + side * cos)
                for z in (slab.z0, slab.z1)
                for reach in (math.sqrt(max(0.0, radius**2 - slot.half**2)) for radius in slab.at(z))
            ]
            for one, other in ((0, 1), (2, 3), (0, 2), (1, 3)):
                yield Way((corners[one], corners[other]))


# --- cross holes


def _rims_of_hole(body: Body, hole: Hole) -> Iterator[Way]:
    """The curves in which a cross hole breaks through the outside and into the bore."""
    for turn in (0.0, math.pi):
        for is_bore in (False, True):
            yield from _rim(body, hole, hole.angle + turn, is_bore)


def _rim(body: Body, hole: Hole, angle: float, is_bore: bool) -> Iterator[Way]:
    run: list[Place] = []
    cos, sin = math.cos(angle), math.sin(angle)
    for k in range(_HOLE_STEPS + 1):
        turned = math.tau * k / _HOLE_STEPS
        z, aside = hole.z + hole.radius * math.cos(turned), hole.radius * math.sin(turned)
        reach = _reach(body, z, aside, angle, is_bore)
        if reach is None:
            if len(run) > 1:
                yield Way(tuple(run))
            run = []
            continue
        run.append((z, reach * cos - aside * sin, reach * sin + aside * cos))
    if len(run) > 1:
        yield Way(tuple(run))


def _reach(body: Body, z: float, aside: float, angle: float, is_bore: bool) -> float | None:
    """How far from the axis a line of the hole's wall meets the outside or the bore."""
    slab = next((s for s in body.slabs if s.z0 <= z <= s.z1), None)
    if slab is None:
        return None
    radius = slab.at(z)[0 if is_bore else 1]
    if radius <= abs(aside):
        return None
    reach = math.sqrt(radius**2 - aside**2)
    for cut in body.cuts:
        lean = math.cos(angle - cut.angle)
        if not is_bore and cut.near < z < cut.far and lean > 1e-9:
            reach = min(reach, (cut.height - aside * math.sin(cut.angle - angle)) / lean)
    return reach

