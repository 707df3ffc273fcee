"""The meridian of a part: the one road from faces and surfaces to geometry.

A sweep over the breakpoints of the named surfaces keeps every edge's name; nothing is recovered from polygons later.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from generator.description.chain import Form
from generator.description.memo import once
from generator.description.part import Part, Surface, diameter_at, face_forms, face_positions
from generator.errors import GeometryError

__all__ = ["Edge", "Outline", "Wall", "least_wall", "outline", "polygon", "volume_mm3"]

_CLOSE_MM = 1e-7
MOST_SLACK_MM = 3.0
"""Steps further apart than this beyond the thinnest wall are not looked at for what their lengths allow."""


@dataclass(frozen=True, slots=True)
class Edge:
    """One straight edge of the meridian: from (z0, r0) to (z1, r1), named after the surface or face it lies on."""

    z0: float
    r0: float
    z1: float
    r1: float
    name: str
    is_face: bool = False


@dataclass(frozen=True, slots=True)
class Outline:
    """Outer and inner edges from tailstock end to work end; stretches without bore have no inner edges."""

    outer: tuple[Edge, ...]
    inner: tuple[Edge, ...]
    z_of: Mapping[str, float]

    @property
    def near_z(self) -> float:
        """Position of the tailstock end."""
        return self.outer[0].z0

    @property
    def far_z(self) -> float:
        """Position of the work end."""
        return self.outer[-1].z1


def outline(part: Part, shift_mm: float = 0.0) -> Outline:
    """Named edges of the part at nominal size.

    `shift_mm` thins the part by that much on every outside radius and opens every bore by as much: 0 for the drawing.
    Raises GeometryError if the outside has a hole or an overlap, a surface ends before it begins, or no wall is left.
    """
    return _drawn_outline(part) if shift_mm == 0.0 else _outline(part, shift_mm)


@once
def _drawn_outline(part: Part) -> Outline:
    return _outline(part, 0.0)


def _outline(part: Part, shift_mm: float) -> Outline:
    z_of = face_positions(part)
    for surface in part.surfaces:
        if z_of[surface.far] - z_of[surface.near] < -_CLOSE_MM:
            message = (
                f"{part.name}/{surface.name}: ends {z_of[surface.near] - z_of[surface.far]:.3f} mm before it begins "
                f"(from {surface.near} to {surface.far})"
            )
            raise GeometryError(message)
    outer = _profile(part, "outside", z_of, -shift_mm)
    inner = _profile(part, "inside", z_of, shift_mm)
    _refuse_gaps(part, outer)
    result = Outline(tuple(_join(outer, z_of)), tuple(_join(inner, z_of)), z_of)
    _refuse_no_wall(part, result)
    return result


def _profile(part: Part, side: str, z_of: Mapping[str, float], shift_mm: float) -> list[Edge]:
    """Edges along the surfaces of one side, grooves cut in, without the upright faces between them."""
    base = [s for s in part.surfaces if s.side == side and z_of[s.far] - z_of[s.near] > _CLOSE_MM]
    grooves = [s for s in part.surfaces if s.side == f"{side} groove"]
    base.sort(key=lambda s: (z_of[s.near], z_of[s.far]))
    for before, after in pairwise(base):
        if z_of[after.near] < z_of[before.far] - _CLOSE_MM:
            message = f"{part.name}: {before.name} and {after.name} overlap between {after.near} and {before.far}"
            raise GeometryError(message)
    edges: list[Edge] = []
    for surface in base:
        cuts = {z_of[surface.near], z_of[surface.far]}
        for groove in grooves:
            cuts.update(z for z in (z_of[groove.near], z_of[groove.far]) if z_of[surface.near] < z < z_of[surface.far])
        marks = sorted(cuts)
        for z0, z1 in pairwise(marks):
            cut = next((g for g in grooves if z_of[g.near] <= z0 + _CLOSE_MM and z1 <= z_of[g.far] + _CLOSE_MM), None)
            edges.append(_along(part, cut or surface, z0, z1, z_of, shift_mm))
    return edges


def _along(part: Part, surface: Surface, z0: float, z1: float, z_of: Mapping[str, float], shift: float) -> Edge:
    r0, r1 = (max(0.0, diameter_at(part, surface, z, z_of) / 2 + shift) for z in (z0, z1))
    return Edge(z0, r0, z1, r1, surface.name)


def _refuse_gaps(part: Part, outer: list[Edge]) -> None:
    if not outer:
        message = f"{part.name}: has no outside surface"
        raise GeometryError(message)
    for before, after in pairwise(outer):
        if after.z0 - before.z1 > _CLOSE_MM:
            message = f"{part.name}: no outside surface between {before.name} and {after.name}"
            raise GeometryError(message)


def _face_at(z_of: Mapping[str, float], z: float) -> str:
    """Name of the first face at this position."""
    return next((face for face, at in z_of.items() if abs(at - z) < 1e-6), "")


def _join(edges: list[Edge], z_of: Mapping[str, float]) -> Iterator[Edge]:
    """The edges with the upright faces between them; a break in the bore is closed down to the axis."""
    before: Edge | None = None
    for edge in edges:
        if before is not None:
            broken = edge.z0 - before.z1 > _CLOSE_MM
            if broken and before.r1 > 0:
                yield Edge(before.z1, before.r1, before.z1, 0.0, _face_at(z_of, before.z1), is_face=True)
            start = 0.0 if broken else before.r1
            if abs(start - edge.r0) > _CLOSE_MM:
                yield Edge(edge.z0, start, edge.z0, edge.r0, _face_at(z_of, edge.z0), is_face=True)
        yield edge
        before = edge


def _refuse_no_wall(part: Part, found: Outline) -> None:
    """Refuse a bore that runs out of the part's end, or that leaves no wall anywhere along its length."""
    inner = [edge for edge in found.inner if not edge.is_face]
    outer = [edge for edge in found.outer if not edge.is_face]
    for edge in inner:
        for z in (edge.z0, edge.z1):
            if z < found.near_z - _CLOSE_MM or z > found.far_z + _CLOSE_MM:
                message = f"{part.name}/{edge.name}: the bore reaches {z:.3f} mm, beyond the end of the part"
                raise GeometryError(message)
    # Both outlines are straight between breakpoints: a wall that vanishes does so at one, or all the way between two.
    marks = sorted({z for edge in (*inner, *outer) for z in (edge.z0, edge.z1)})
    for z in (*marks, *((a + b) / 2 for a, b in pairwise(marks))):
        bores, outsides = _radii_at(inner, z), _radii_at(outer, z)
        if not bores or not outsides:
            continue
        bore, outside = max(bores), min(outsides)
        wall = outside[0] - bore[0]
        at_end = z < found.near_z + _CLOSE_MM or z > found.far_z - _CLOSE_MM
        if wall < -_CLOSE_MM or (wall <= _CLOSE_MM and not at_end):
            message = f"{part.name}/{bore[1]}: no wall left inside {outside[1]} ({wall:.3f} mm)"
            raise GeometryError(message)


def _radii_at(edges: list[Edge], z: float) -> list[tuple[float, str]]:
    """Radius and name of every edge that reaches this position, from either side."""
    found = []
    for edge in edges:
        if edge.z0 - _CLOSE_MM <= z <= edge.z1 + _CLOSE_MM:
            share = min(1.0, max(0.0, (z - edge.z0) / (edge.z1 - edge.z0)))
            found.append((edge.r0 + share * (edge.r1 - edge.r0), edge.name))
    return found


def polygon(part: Part) -> tuple[tuple[float, float], ...]:
    """Corners (z, r) of the closed meridian, in order, first corner not repeated."""
    found = outline(part)
    corners = [(found.near_z, found.outer[0].r0)]
    corners += [(edge.z1, edge.r1) for edge in found.outer]
    inner = found.inner
    back: list[tuple[float, float]] = []
    if not inner or inner[-1].z1 < found.far_z - _CLOSE_MM:
        back.append((found.far_z, 0.0))
        if inner:
            back.append((inner[-1].z1, 0.0))
    for edge in reversed(inner):
        back += [(edge.z1, edge.r1), (edge.z0, edge.r0)]
    if not inner or inner[0].z0 > found.near_z + _CLOSE_MM:
        if inner:
            back.append((inner[0].z0, 0.0))
        back.append((found.near_z, 0.0))
    return tuple(_tidy([*corners, *back]))


def _tidy(corners: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Drop corners that repeat their neighbour."""
    kept: list[tuple[float, float]] = []
    for corner in corners:
        if not kept or math.dist(kept[-1], corner) > _CLOSE_MM:
            kept.append(corner)
    if math.dist(kept[0], kept[-1]) <= _CLOSE_MM:
        kept.pop()
    return kept


def volume_mm3(part: Part) -> float:
    """Volume of the turned form in mm3 as a sum of frusta; cross features are not taken off."""
    found = outline(part)
    return math.fsum(_frustum(e) for e in found.outer) - math.fsum(_frustum(e) for e in found.inner)


def _frustum(edge: Edge) -> float:
    return math.pi / 3 * (edge.z1 - edge.z0) * (edge.r0**2 + edge.r0 * edge.r1 + edge.r1**2)


@dataclass(frozen=True, slots=True)
class Wall:
    """The thinnest place between outside and bore."""

    thickness_mm: float
    outside: str
    inside: str


def least_wall(part: Part, skip: tuple[str, ...] = (), *, worst: bool = False) -> Wall | None:
    """The least distance between outer and inner outline, or None for a solid part.

    At nominal size, or at worst limits: outside diameters at their least, bores at their largest, and steps moved
    towards each other by all that the lengths between them allow. Corners and upright faces count, so it is the
    distance of edges, not the difference of radii; the bottom of a blind bore counts against the end it comes near to.
    `skip` names inner surfaces left out; chamfers are no wall.
    Raises GeometryError where no wall is left at all.
    """
    made = _at_worst(part) if worst else part
    found = outline(made)
    inner = [edge for edge in found.inner if _bounds_wall(part, edge) and edge.name not in skip]
    outer = [edge for edge in found.outer if _bounds_wall(part, edge)]
    if found.inner:
        outer += _closed_ends(found)
    slack = _slacks(part) if worst else None
    best: Wall | None = None
    for inside in inner:
        for outside in outer:
            reach = _edge_distance(outside, inside)
            if slack is not None and (best is None or reach < best.thickness_mm + MOST_SLACK_MM):
                by = slack(outside.name, inside.name)
                reach = min(reach, *(_edge_distance(outside, _moved(inside, shift)) for shift in (-by, by)))
            if best is None or reach < best.thickness_mm:
                best = Wall(reach, outside.name, inside.name)
    return best


def _at_worst(part: Part) -> Part:
    """The part with outside cylinders at their least and inside ones at their largest diameter."""
    return replace(part, surfaces=tuple(surface if surface.at else _thin(surface) for surface in part.surfaces))


def _thin(surface: Surface) -> Surface:
    size = surface.diameter
    limit = size.low if surface.side.startswith("outside") else size.high
    return replace(surface, diameter=replace(size, nominal_mm=limit, measured_mm=None))


def _slacks(part: Part) -> Callable[[str, str], float]:
    """A function that tells by how much the lengths between two edges, named, let them move towards each other."""
    forms = face_forms(part)
    known: dict[tuple[str, str], float] = {}

    def ends(name: str) -> tuple[str, ...]:
        surface = part.by_name.get(name)
        return (name,) if surface is None else (surface.near, surface.far)

    def between(one: str, other: str) -> float:
        return Form.of(forms.get(one, ())).plus(forms.get(other, ()), -1.0).half_range

    def slack(outside: str, inside: str) -> float:
        key = outside, inside
        if key not in known:
            known[key] = max(between(one, other) for one in ends(outside) for other in ends(inside))
        return known[key]

    return slack


def _moved(edge: Edge, by: float) -> Edge:
    return Edge(edge.z0 + by, edge.r0, edge.z1 + by, edge.r1, edge.name, edge.is_face)


def _bounds_wall(part: Part, edge: Edge) -> bool:
    return edge.is_face or part.surface(edge.name).role != "chamfer"


def _closed_ends(found: Outline) -> list[Edge]:
    """The end faces of the part that no bore opens."""
    ends = []
    for z, radius, is_open in (
        (found.near_z, found.outer[0].r0, found.inner[0].z0 <= found.near_z + _CLOSE_MM),
        (found.far_z, found.outer[-1].r1, found.inner[-1].z1 >= found.far_z - _CLOSE_MM),
    ):
        if not is_open:
            ends.append(Edge(z, 0.0, z, radius, _face_at(found.z_of, z), is_face=True))
    return ends


def _edge_distance(a: Edge, b: Edge) -> float:
    """Least distance of two edges that do not cross."""
    return min(
        _point_distance(a.z0, a.r0, b),
        _point_distance(a.z1, a.r1, b),
        _point_distance(b.z0, b.r0, a),
        _point_distance(b.z1, b.r1, a),
    )


def _point_distance(z: float, r: float, edge: Edge) -> float:
    dz, dr = edge.z1 - edge.z0, edge.r1 - edge.r0
    long = dz * dz + dr * dr
    share = 0.0 if long == 0 else min(1.0, max(0.0, ((z - edge.z0) * dz + (r - edge.r0) * dr) / long))
    return math.hypot(z - edge.z0 - share * dz, r - edge.r0 - share * dr)
