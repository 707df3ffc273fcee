"""The placed profile of each part of a tool: radii over the axis, upper and lower half, in the tool's frame.

Pure geometry in model millimetres; the section, the neighbours and the balloons read it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from generator.description import Edge, Part, Tool, nominal_positions, outline
from generator.drawing.meridian import is_edge_on

__all__ = ["Half", "Placed", "Point", "Slab", "loops_of", "placed_parts", "radii_at", "slabs_of"]

Point = tuple[float, float]
CLOSE_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Slab:
    """A stretch of the axis over which outer and inner radius run straight."""

    z0: float
    z1: float
    outer0: float
    outer1: float
    inner0: float = 0.0
    inner1: float = 0.0

    def at(self, z: float) -> tuple[float, float]:
        """Inner and outer radius at z within the slab."""
        share = (z - self.z0) / (self.z1 - self.z0)
        return (
            self.inner0 + share * (self.inner1 - self.inner0),
            self.outer0 + share * (self.outer1 - self.outer0),
        )

    def between(self, z0: float, z1: float) -> Slab:
        """The part of the slab from z0 to z1."""
        inner0, outer0 = self.at(z0)
        inner1, outer1 = self.at(z1)
        return Slab(z0, z1, outer0, outer1, inner0, inner1)


Half = tuple[Slab, ...]


@dataclass(frozen=True, slots=True)
class Placed:
    """A part in its place. `zero` and `sign` carry its own z into the tool's frame: zero + sign x z.

    `cut` is the stretch of the axis over which it is shown cut (None: outside view, everywhere: -inf to inf).
    `rims` are the outside edges (z, r) that an outside view shows as upright lines; `z_of` its own faces.
    """

    name: str
    part: Part
    zero: float
    sign: float
    upper: Half
    lower: Half
    cut: tuple[float, float] | None
    rims: tuple[Point, ...]
    z_of: Mapping[str, float]

    @property
    def near_z(self) -> float:
        """The end towards the tailstock."""
        return self.upper[0].z0

    @property
    def far_z(self) -> float:
        """The end towards the work."""
        return self.upper[-1].z1

    @property
    def radius(self) -> float:
        """The largest outside radius."""
        return max(max(s.outer0, s.outer1) for s in (*self.upper, *self.lower))

    def half(self, side: int) -> Half:
        """The upper (side +1) or lower (side -1) half."""
        return self.upper if side > 0 else self.lower

    def face(self, name: str) -> float:
        """Where a face of the part stands in the tool's frame."""
        return round(self.zero + self.sign * self.z_of[name], 6)

    def is_cut_at(self, z: float) -> bool:
        """True where the part is shown cut."""
        return self.cut is not None and self.cut[0] <= z <= self.cut[1]


def radii_at(half: Half, z: float) -> tuple[float, float] | None:
    """Inner and outer radius at z, or None beyond the ends."""
    if not half or z < half[0].z0 or z > half[-1].z1:
        return None
    for slab in half:
        if z <= slab.z1:
            return slab.at(z) if z >= slab.z0 else None
    return None


def placed_parts(tool: Tool) -> tuple[tuple[Placed, ...], tuple[Placed, ...]]:
    """The tool's own parts in their places, fasteners let into what holds them; and the neighbours, in theirs."""
    z_of = nominal_positions(tool)
    found = [_place(part, z_of, part.name in tool.flipped) for part in tool.parts.values()]
    own = [p for p in found if not p.part.neighbour]
    return tuple(_let_in(own)), tuple(p for p in found if p.part.neighbour)


def _place(part: Part, z_of: Mapping[str, float], flipped: bool) -> Placed:
    zero = z_of[f"{part.name}/{part.origin_face}"]
    sign = -1.0 if flipped else 1.0
    found = outline(part)
    outer = [edge for edge in found.outer if not edge.is_face]
    inner = [edge for edge in found.inner if not edge.is_face]
    slabs = slabs_of(outer, inner, (found.z_of[face] for c in part.cross for face in (c.near, c.far)))
    halves = [_moved(_crossed(slabs, part, found.z_of, side), zero, sign) for side in (1, -1)]
    rims = sorted({(round(zero + sign * z, 6), round(r, 6)) for e in outer for z, r in ((e.z0, e.r0), (e.z1, e.r1))})
    cut = (-math.inf, math.inf) if part.sectioned else None
    return Placed(part.name, part, zero, sign, halves[0], halves[1], cut, tuple(rims), found.z_of)


def slabs_of(outer: list[Edge], inner: list[Edge], more: Iterable[float]) -> Half:
    """Slabs between all places where the radius of an outer or inner edge changes, and at `more` places."""
    first, last = outer[0].z0, outer[-1].z1
    marks = sorted({round(z, 7) for edge in (*outer, *inner) for z in (edge.z0, edge.z1)} | {round(z, 7) for z in more})
    slabs = []
    for z0, z1 in pairwise(m for m in marks if first - CLOSE_MM <= m <= last + CLOSE_MM):
        if z1 - z0 < CLOSE_MM:
            continue
        outside = _radii(outer, z0, z1)
        if outside is None:
            continue
        inside = _radii(inner, z0, z1) or (0.0, 0.0)
        slabs.append(Slab(z0, z1, outside[0], outside[1], inside[0], inside[1]))
    return tuple(slabs)


def _radii(edges: list[Edge], z0: float, z1: float) -> tuple[float, float] | None:
    """Radii at both ends of a stretch that one edge covers."""
    middle = (z0 + z1) / 2
    for edge in edges:
        if edge.z0 <= middle <= edge.z1:
            slope = (edge.r1 - edge.r0) / (edge.z1 - edge.z0)
            return edge.r0 + slope * (z0 - edge.z0), edge.r0 + slope * (z1 - edge.z0)
    return None


def _crossed(slabs: Half, part: Part, z_of: Mapping[str, float], side: int) -> Half:
    """The half with flats, tangs and holes that lie in the plane of the paper taken off."""
    for feature in part.cross:
        near, far = sorted((z_of[feature.near], z_of[feature.far]))
        if not is_edge_on(part, feature):
            continue
        if feature.kind in ("flats", "tang"):
            slabs = _limited(slabs, near, far, feature.sizes["across"].nominal_mm / 2)
        elif feature.kind == "half" and side > 0:
            slabs = _limited(slabs, near, far, max(0.0, feature.sizes["height"].nominal_mm))
        elif feature.kind == "hole" and part.sectioned:
            middle, radius = (near + far) / 2, feature.sizes["diameter"].nominal_mm / 2
            slabs = _pierced(slabs, middle - radius, middle + radius)
    return slabs


def _limited(slabs: Half, near: float, far: float, most: float) -> Half:
    """No outer radius over `most` between near and far."""
    found: list[Slab] = []
    for slab in slabs:
        if slab.z1 <= near + CLOSE_MM or slab.z0 >= far - CLOSE_MM or max(slab.outer0, slab.outer1) <= most:
            found.append(slab)
            continue
        pieces = [slab]
        if min(slab.outer0, slab.outer1) < most:
            z = slab.z0 + (most - slab.outer0) / (slab.outer1 - slab.outer0) * (slab.z1 - slab.z0)
            pieces = [slab.between(slab.z0, z), slab.between(z, slab.z1)]
        for piece in pieces:
            outer0, outer1 = min(piece.outer0, most), min(piece.outer1, most)
            inner0, inner1 = min(piece.inner0, outer0), min(piece.inner1, outer1)
            if piece.z1 - piece.z0 > CLOSE_MM:
                found.append(Slab(piece.z0, piece.z1, outer0, outer1, inner0, inner1))
    return tuple(found)


def _pierced(slabs: Half, near: float, far: float) -> Half:
    """The half without the stretch from near to far."""
    found: list[Slab] = []
    for slab in slabs:
        if slab.z0 < near - CLOSE_MM:
            found.append(slab if slab.z1 <= near else slab.between(slab.z0, near))
        if slab.z1 > far + CLOSE_MM:
            found.append(slab if slab.z0 >= far else slab.between(far, slab.z1))
    return tuple(found)


def _moved(slabs: Half, zero: float, sign: float) -> Half:
    """The half carried into the tool's frame."""
    if sign > 0:
        return tuple(replace(s, z0=round(zero + s.z0, 6), z1=round(zero + s.z1, 6)) for s in slabs)
    return tuple(
        Slab(round(zero - s.z1, 6), round(zero - s.z0, 6), s.outer1, s.outer0, s.inner1, s.inner0)
        for s in reversed(slabs)
    )


def _let_in(found: list[Placed]) -> list[Placed]:
    """Parts with the fasteners inside them let in: a local section where an uncut part holds another one.

    An uncut fastener, and any male thread, is drawn over the female one, so the part round it begins where it ends.
    """
    result = []
    for part in found:
        inside = [other for other in found if other is not part and _sits_in(other, part)]
        if part.cut is None and inside:
            part = replace(part, cut=_local_section(part, inside))
        for other in inside:
            if other.cut is None or _has_male_thread(other.part):
                part = replace(part, upper=_opened(part.upper, other.upper), lower=_opened(part.lower, other.lower))
        result.append(part)
    return result


def _has_male_thread(part: Part) -> bool:
    return any(zone.form == "thread" and part.surface(zone.surface).side == "outside" for zone in part.zones)


def _sits_in(inner: Placed, outer: Placed) -> bool:
    """True if `inner` stands in a bore of `outer` for more than 1 mm."""
    if inner.far_z <= outer.near_z or inner.near_z >= outer.far_z:
        return False
    length = 0.0
    for slab in outer.upper:
        if max(slab.inner0, slab.inner1) <= CLOSE_MM:
            continue
        z0, z1 = max(slab.z0, inner.near_z), min(slab.z1, inner.far_z)
        if z1 - z0 > CLOSE_MM:
            own = radii_at(inner.upper, (z0 + z1) / 2)
            if own and own[1] < slab.at((z0 + z1) / 2)[1] - 0.1:
                length += z1 - z0
    return length > 1.0


def _local_section(part: Placed, inside: list[Placed]) -> tuple[float, float]:
    """From end to end of the bores that hold something, a little into the solid; all of it if little would be left."""
    near, far = math.inf, -math.inf
    for z0, z1 in _bores(part.upper):
        if any(other.near_z < z1 - 1.0 and other.far_z > z0 + 1.0 for other in inside):
            near, far = min(near, z0), max(far, z1)
    near = -math.inf if near <= part.near_z + CLOSE_MM else near - 4.0
    far = math.inf if far >= part.far_z - CLOSE_MM else far + 4.0
    shown = min(far, part.far_z) - max(near, part.near_z)
    if shown > 0.75 * (part.far_z - part.near_z):
        return (-math.inf, math.inf)
    return (near, far)


def _bores(half: Half) -> list[tuple[float, float]]:
    """Stretches of the axis without material on it."""
    found: list[tuple[float, float]] = []
    for slab in half:
        if max(slab.inner0, slab.inner1) <= CLOSE_MM:
            continue
        if found and slab.z0 - found[-1][1] < CLOSE_MM:
            found[-1] = (found[-1][0], slab.z1)
        else:
            found.append((slab.z0, slab.z1))
    return found


def _opened(half: Half, fastener: Half) -> Half:
    """The half with its bore opened to the fastener's outside where that is larger (never through the wall)."""
    marks = sorted({z for s in (*half, *fastener) for z in (s.z0, s.z1)})
    found: list[Slab] = []
    for slab in half:
        stops = [slab.z0, *(z for z in marks if slab.z0 + CLOSE_MM < z < slab.z1 - CLOSE_MM), slab.z1]
        for z0, z1 in pairwise(stops):
            piece = slab.between(z0, z1)
            other = radii_at(fastener, (z0 + z1) / 2)
            if other is not None and max(piece.inner0, piece.inner1) > CLOSE_MM:
                own = next(s for s in fastener if s.z0 <= (z0 + z1) / 2 <= s.z1).between(z0, z1)
                if own.outer0 < piece.outer0 and own.outer1 < piece.outer1:
                    piece = replace(
                        piece, inner0=max(piece.inner0, own.outer0), inner1=max(piece.inner1, own.outer1)
                    )
            found.append(piece)
    return tuple(found)


def loops_of(half: Half, side: int, solid: bool = False) -> list[list[Point]]:
    """Closed loops (z, signed r) of the material of one half; `solid` fills the bores, as an outside view does."""
    loops: list[list[Point]] = []
    run: list[Slab] = []
    for slab in half:
        shown = replace(slab, inner0=0.0, inner1=0.0) if solid else slab
        empty = max(shown.outer0 - shown.inner0, shown.outer1 - shown.inner1) <= CLOSE_MM
        if run and (empty or shown.z0 - run[-1].z1 > CLOSE_MM):
            loops.append(_loop(run, side))
            run = []
        if not empty:
            run.append(shown)
    if run:
        loops.append(_loop(run, side))
    return loops


def _loop(run: list[Slab], side: int) -> list[Point]:
    there = [p for s in run for p in ((s.z0, s.outer0), (s.z1, s.outer1))]
    back = [p for s in reversed(run) for p in ((s.z1, s.inner1), (s.z0, s.inner0))]
    return _tidied([(z, side * r) for z, r in (*there, *back)])


def _tidied(points: list[Point]) -> list[Point]:
    """The loop without repeated corners and corners in the middle of a straight edge."""
    kept: list[Point] = []
    for point in points:
        if kept and math.dist(kept[-1], point) < 1e-5:
            continue
        while len(kept) >= 2 and _straight(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    while len(kept) > 3 and math.dist(kept[0], kept[-1]) < 1e-5:
        kept.pop()
    while len(kept) > 3 and _straight(kept[-2], kept[-1], kept[0]):
        kept.pop()
    while len(kept) > 3 and _straight(kept[-1], kept[0], kept[1]):
        kept.pop(0)
    return kept


def _straight(a: Point, b: Point, c: Point) -> bool:
    """True if b lies on the way from a to c."""
    area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    onward = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return abs(area) < 1e-5 and onward >= 0
