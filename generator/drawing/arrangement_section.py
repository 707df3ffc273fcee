"""The longitudinal section of a whole tool as lines, circles and hatched areas in model millimetres. Pure geometry."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

from generator.description import Cross, Surface, Zone
from generator.drawing.arrangement_hatch import HatchStyle, hatch_styles
from generator.drawing.arrangement_lines import Segment, edges_of, ranked, wave
from generator.drawing.arrangement_profile import CLOSE_MM, Half, Placed, Point, loops_of, radii_at
from generator.drawing.meridian import is_edge_on

__all__ = ["Area", "Circle", "Section", "section_of"]

Circle = tuple[float, float, float]
Vertex = tuple[float, float, float]

# Coarse pitches; source: ISO 261, from memory.
_COARSE_PITCH = {
    2.0: 0.4, 2.5: 0.45, 3.0: 0.5, 4.0: 0.7, 5.0: 0.8, 6.0: 1.0, 8.0: 1.25, 10.0: 1.5, 12.0: 1.75, 14.0: 2.0,
    16.0: 2.0, 18.0: 2.5, 20.0: 2.5, 22.0: 2.5, 24.0: 3.0, 27.0: 3.0, 30.0: 3.5, 36.0: 4.0,
}  # fmt: skip
_THREAD = re.compile(r"M\s*(\d+(?:\.\d+)?)(?:\s*[x×]\s*(\d+(?:\.\d+)?))?")
_LEAST_LINE_GAP_MM = 0.7


@dataclass(frozen=True, slots=True)
class Area:
    """The cut face of one part: closed loops of (z, r, bulge), and how it is hatched."""

    part: str
    loops: tuple[tuple[Vertex, ...], ...]
    style: HatchStyle


@dataclass(frozen=True, slots=True)
class Section:
    """What is seen of the tool: wide lines, narrow lines (thread roots), circles (balls), broken edges, cut faces.

    `loops` are the shapes of the parts by name, closed loops of (z, r), as the view shows them.
    """

    placed: tuple[Placed, ...]
    wide: list[Segment]
    narrow: list[Segment]
    circles: list[Circle]
    breaks: list[list[Point]]
    areas: list[Area]
    loops: dict[str, list[list[Point]]]

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Least and largest z and r of the tool's own parts: (z0, r0, z1, r1)."""
        radius = max(p.radius for p in self.placed)
        return (min(p.near_z for p in self.placed), -radius, max(p.far_z for p in self.placed), radius)


def section_of(placed: Sequence[Placed], scale: float = 1.0) -> Section:
    """The full longitudinal section of the tool's own parts; `scale` (paper over model) sets hatch and small steps."""
    drawing = _Pencil(tuple(placed), scale)
    styles = hatch_styles(placed, scale)
    for part in placed:
        drawing.shape(part, styles.get(part.name))
        drawing.threads(part)
    drawing.bore_edges()
    wide, narrow = ranked([drawing.wide, drawing.narrow])
    return Section(
        drawing.placed, wide, narrow, drawing.circles, drawing.breaks, drawing.areas, drawing.loops
    )


class _Pencil:
    """Collects the lines of the section part by part."""

    def __init__(self, placed: tuple[Placed, ...], scale: float) -> None:
        self.placed = placed
        self.scale = scale
        self.circles: list[Circle] = [
            (round(p.face(b.face) + p.sign * b.offset_mm, 6), side * b.pitch_diameter_mm / 2, b.ball_diameter_mm / 2)
            for p in placed
            for b in p.part.balls
            for side in (1, -1)
        ]
        self.wide: list[Segment] = []
        self.narrow: list[Segment] = []
        self.breaks: list[list[Point]] = []
        self.areas: list[Area] = []
        self.loops: dict[str, list[list[Point]]] = {}

    def shape(self, part: Placed, style: HatchStyle | None) -> None:
        """Outline, cut face and outside edges of one part."""
        shapes: list[list[Point]] = []
        faces: list[tuple[Vertex, ...]] = []
        for side in (1, -1):
            half = part.half(side)
            for piece, is_cut in _pieces(half, part.cut):
                for loop in loops_of(piece, side, solid=not is_cut):
                    shapes.append(loop)
                    rounded, edges = self._round_balls(loop) if is_cut else (None, edges_of(loop))
                    self.wide += [e for e in edges if not _hidden(e, part)]
                    if rounded is not None:
                        faces.append(_waved(rounded, part, self.scale))
        self.loops[part.name] = shapes
        if part.cut is None or part.cut[0] > -math.inf or part.cut[1] < math.inf:
            self._outside_edges(part)
            self._break_lines(part)
        if style is not None and faces:
            self.areas.append(Area(part.name, tuple(faces), style))

    def _round_balls(self, loop: list[Point]) -> tuple[list[Vertex], list[Segment]]:
        """The cut face with the balls taken out by arcs, and its edges without what lies in a ball."""
        vertices: list[Vertex] = [(z, r, 0.0) for z, r in loop]
        edges = edges_of(loop)
        for circle in self.circles:
            low, high = min(p[0] for p in loop), max(p[0] for p in loop)
            if circle[0] + circle[2] < low or circle[0] - circle[2] > high:
                continue
            vertices = _with_arc(vertices, circle)
            edges = [piece for edge in edges for piece in _outside_circle(edge, circle)]
        return vertices, edges

    def _outside_edges(self, part: Placed) -> None:
        """Upright lines of an outside view: each edge that the outline does not show already."""
        for z, _ in part.rims:
            if part.is_cut_at(z):
                continue
            for side in (1, -1):
                half = part.half(side)
                found = [r for step in (-1e-4, 1e-4) if (r := radii_at(half, z + step)) is not None]
                if found:
                    self.wide.append((z, 0.0, z, side * max(r[1] for r in found)))
        for feature in part.part.cross:
            self._cross_feature(part, feature)

    def _cross_feature(self, part: Placed, feature: Cross) -> None:
        """A hole or flats that face the reader on an outside view."""
        near, far = sorted((part.face(feature.near), part.face(feature.far)))
        middle = (near + far) / 2
        if is_edge_on(part.part, feature) or part.is_cut_at(middle):
            return
        if feature.kind == "hole":
            self.circles.append((middle, 0.0, feature.sizes["diameter"].nominal_mm / 2))
        elif feature.kind in ("flats", "tang"):
            radii = radii_at(part.upper, middle)
            half = feature.sizes["across"].nominal_mm / 2
            if radii is not None and radii[1] > half:
                high = math.sqrt(radii[1] ** 2 - half**2)
                self.wide += edges_of([(near, -high), (far, -high), (far, high), (near, high)])
                self.narrow += [(near, -high, far, high), (near, high, far, -high)]

    def _break_lines(self, part: Placed) -> None:
        """Freehand lines where a local section ends."""
        for z in part.cut or ():
            radii = radii_at(part.upper, z) if math.isfinite(z) else None
            below = radii_at(part.lower, z) if math.isfinite(z) else None
            if radii is not None and below is not None:
                self.breaks.append(_break_at(z, below[1], radii[1], self.scale))

    def threads(self, part: Placed) -> None:
        """Narrow root lines of threads that can be seen, and the wide line where the usable thread ends."""
        named = {zone.surface for zone in part.part.zones if zone.form == "thread"}
        for zone in part.part.zones:
            if zone.form == "thread":
                near, far = sorted((part.face(zone.near), part.face(zone.far)))
                inside = part.part.surface(zone.surface).side.startswith("inside")
                if inside and part.is_cut_at((near + far) / 2):
                    self._inside_thread(part, zone, near, far)
                elif not inside:
                    self._outside_thread(part, part.part.surface(zone.surface), zone.text, near, far)
        for surface in part.part.surfaces:
            if surface.role == "thread" and surface.side == "outside" and surface.name not in named:
                self._outside_thread(part, surface, part.part.bought, *_screw_thread(part, surface))

    def _outside_thread(self, part: Placed, surface: Surface, name: str, near: float, far: float) -> None:
        radius = surface.diameter.nominal_mm / 2
        root = radius - max(0.6134 * _pitch(name, 2 * radius), _LEAST_LINE_GAP_MM / self.scale)
        for side in (1, -1):
            self.narrow.append((near, side * root, far, side * root))
            for z in (near, far):
                self.wide.append((z, 0.0 if not part.is_cut_at(z) else side * root, z, side * radius))

    def _inside_thread(self, part: Placed, zone: Zone, near: float, far: float) -> None:
        core = part.part.surface(zone.surface).diameter.nominal_mm / 2
        named = _THREAD.search(zone.text)
        major = float(named.group(1)) / 2 if named else core * 1.15
        root = max(major, core + _LEAST_LINE_GAP_MM / self.scale)
        for side in (1, -1):
            for slab in part.half(side):
                z0, z1 = max(slab.z0, near), min(slab.z1, far)
                if z1 - z0 > CLOSE_MM and abs(slab.at((z0 + z1) / 2)[0] - core) < 1e-3:
                    self.narrow.append((z0, side * root, z1, side * root))
                    for z in {z0, z1} & {near, far}:
                        self.wide.append((z, side * core, z, side * root))

    def bore_edges(self) -> None:
        """Edges seen behind the cut, in the bores: down to what stands there, across the bore where nothing does."""
        for part in self.placed:
            if part.cut is None:
                continue
            for side in (1, -1):
                for z, radius in _bore_corners(part.half(side)):
                    if part.is_cut_at(z) and radius > CLOSE_MM:
                        low = max(self._filled(side, z + step, radius) for step in (-1e-4, 1e-4))
                        if radius - low > 0.05:
                            self.wide.append((z, side * low, z, side * radius))

    def _filled(self, side: int, z: float, radius: float) -> float:
        """The largest radius of material inside `radius` at z."""
        low = 0.0
        for part in self.placed:
            radii = radii_at(part.half(side), z) if part.near_z <= z <= part.far_z else None
            if radii is not None and radii[1] > radii[0] + CLOSE_MM:
                inner = radii[0] if part.is_cut_at(z) else 0.0
                if inner < radius - 1e-3:
                    low = max(low, min(radii[1], radius))
        for at, ring, ball in self.circles:
            if side * ring > 0 and abs(at - z) < ball:
                reach = math.sqrt(ball**2 - (at - z) ** 2)
                if abs(ring) - reach < radius:
                    low = max(low, min(abs(ring) + reach, radius))
        return low


def _screw_thread(part: Placed, surface: Surface) -> tuple[float, float]:
    """The threaded stretch of a screw's shank: 2 d + 12 mm from its free end (ISO 4762, from memory)."""
    near, far = sorted((part.face(surface.near), part.face(surface.far)))
    length = min(far - near, 2 * surface.diameter.nominal_mm + 12.0)
    return (far - length, far) if abs(far - part.far_z) < CLOSE_MM else (near, near + length)


def _pieces(half: Half, cut: tuple[float, float] | None) -> list[tuple[Half, bool]]:
    """The half split into what is shown cut and what is shown from outside."""
    if cut is None:
        return [(half, False)]
    near, far = cut
    parts = []
    for low, high, is_cut in ((-math.inf, near, False), (near, far, True), (far, math.inf, False)):
        piece = tuple(
            slab.between(max(slab.z0, low), min(slab.z1, high))
            for slab in half
            if min(slab.z1, high) - max(slab.z0, low) > CLOSE_MM
        )
        if piece:
            parts.append((piece, is_cut))
    return parts


def _hidden(edge: Segment, part: Placed) -> bool:
    """True for an edge that is none: on the axis, or where a local section ends."""
    on_axis = abs(edge[1]) < 1e-5 and abs(edge[3]) < 1e-5
    ends_cut = part.cut is not None and any(abs(edge[0] - z) < 1e-5 and abs(edge[2] - z) < 1e-5 for z in part.cut)
    return on_axis or ends_cut


def _break_at(z: float, below: float, above: float, scale: float) -> list[Point]:
    return wave((z, -below), (z, above), 0.7 / scale, 5.0 / scale)


def _waved(loop: list[Vertex], part: Placed, scale: float) -> tuple[Vertex, ...]:
    """The cut face with its edge at the end of a local section following the freehand line."""
    if part.cut is None:
        return tuple(loop)
    found: list[Vertex] = []
    for vertex, after in zip(loop, [*loop[1:], loop[0]], strict=True):
        found.append(vertex)
        for z in part.cut:
            if abs(vertex[0] - z) < 1e-5 and abs(after[0] - z) < 1e-5 and abs(vertex[1] - after[1]) > 1e-5:
                upper, lower = radii_at(part.upper, z), radii_at(part.lower, z)
                if upper is not None and lower is not None:
                    low, high = sorted((vertex[1], after[1]))
                    way = [(x, y, 0.0) for x, y in _break_at(z, lower[1], upper[1], scale) if low < y < high]
                    found += way if after[1] > vertex[1] else way[::-1]
    return tuple(found)


def _with_arc(loop: list[Vertex], circle: Circle) -> list[Vertex]:
    """The loop with the arc of a circle in place of each chord that the circle cuts out of an edge."""
    z, r, radius = circle
    turn = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(loop, [*loop[1:], loop[0]], strict=True))
    found: list[Vertex] = []
    for a, b in zip(loop, [*loop[1:], loop[0]], strict=True):
        found.append(a)
        ends = _chord((a[0], a[1], b[0], b[1]), circle)
        if ends is None or a[2] or ends[0] <= 0.0 or ends[1] >= 1.0:
            continue
        p, q = ((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])) for t in ends)
        half = math.dist(p, q) / 2
        # Distance of the centre from the chord, positive on the side of the material.
        offset = ((q[0] - p[0]) * (r - p[1]) - (q[1] - p[1]) * (z - p[0])) / (2 * half) * (1 if turn > 0 else -1)
        bulge = (radius + offset) / half * (-1 if turn > 0 else 1)
        found += [(*p, bulge), (*q, 0.0)]
    return found


def _chord(edge: Segment, circle: Circle) -> tuple[float, float] | None:
    """Where along an edge (0 to 1) it enters and leaves a circle."""
    dx, dy = edge[2] - edge[0], edge[3] - edge[1]
    fx, fy = edge[0] - circle[0], edge[1] - circle[1]
    a, b, c = dx * dx + dy * dy, fx * dx + fy * dy, fx * fx + fy * fy - circle[2] ** 2
    inside = b * b - a * c
    if inside <= 1e-12:
        return None
    root = math.sqrt(inside)
    return (-b - root) / a, (-b + root) / a


def _outside_circle(edge: Segment, circle: Circle) -> list[Segment]:
    """The pieces of an edge that lie outside a circle."""
    ends = _chord(edge, circle)
    if ends is None or ends[1] <= 0.0 or ends[0] >= 1.0:
        return [edge]

    def at(t: float) -> Point:
        return edge[0] + t * (edge[2] - edge[0]), edge[1] + t * (edge[3] - edge[1])

    found: list[Segment] = []
    if ends[0] > 0.0:
        found.append((edge[0], edge[1], *at(ends[0])))
    if ends[1] < 1.0:
        found.append((*at(ends[1]), edge[2], edge[3]))
    return found


def _bore_corners(half: Half) -> list[Point]:
    """Corners (z, r) of the bore, where its slope or radius changes or the material ends."""
    found: dict[Point, None] = {}
    before = None
    for slab in half:
        if before is None or slab.z0 - before.z1 > CLOSE_MM:
            if before is not None:
                found[(before.z1, before.inner1)] = None
            found[(slab.z0, slab.inner0)] = None
        else:
            slopes = [(s.inner1 - s.inner0) / (s.z1 - s.z0) for s in (before, slab)]
            if abs(before.inner1 - slab.inner0) > 1e-5 or abs(slopes[0] - slopes[1]) > 1e-6:
                found[(before.z1, before.inner1)] = None
                found[(slab.z0, slab.inner0)] = None
        before = slab
    if before is not None:
        found[(before.z1, before.inner1)] = None
    return list(found)


def _pitch(text: str, diameter_mm: float) -> float:
    """Pitch in mm by the thread's name, the coarse one if it names none; "M6 x 16" of a screw tells its length."""
    named = _THREAD.search(text)
    nominal = float(named.group(1)) if named else diameter_mm
    if named and named.group(2) and float(named.group(2)) < 0.35 * nominal:
        return float(named.group(2))
    return _COARSE_PITCH.get(nominal, 0.15 * nominal)
