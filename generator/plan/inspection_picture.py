"""Picture of a part with a numbered balloon at everything that is measured on it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from generator.description import Edge, Part, diameter_at, outline
from generator.ink.model import Ink, Point
from generator.ink.pen import Pen
from generator.making.inspection import InspectionRow

__all__ = ["balloon_picture"]

_WIDTH_MM, _TALLEST_MM = 176.0, 45.0
_BALLOON_MM, _APART_MM, _ROW_MM = 3.4, 8.6, 12.0
_NUMBER_MM = 2.8
_At = Callable[[float, float], Point]
_SCALES = (5.0, 2.0, 1.0, 0.5, 0.2, 0.1)


@dataclass(frozen=True, slots=True)
class _Mark:
    """A number and the place on the part that it points at: position along the axis, radius, above or below it."""

    number: int
    z_mm: float
    r_mm: float
    above: bool


def balloon_picture(part: Part, rows: Sequence[InspectionRow]) -> Ink | None:
    """The part in half section with its balloons, work side to the right; None for a part with nothing to measure."""
    marks = [mark for row in rows if (mark := _mark(part, row)) is not None]
    if not marks:
        return None
    found = outline(part)
    long, tall = found.far_z - found.near_z, 2 * max(max(e.r0, e.r1) for e in found.outer)
    scale = next((s for s in _SCALES if long * s <= _WIDTH_MM - 20 and tall * s <= _TALLEST_MM), _SCALES[-1])
    above = [mark for mark in marks if mark.above]
    below = [mark for mark in marks if not mark.above]
    foot = _ROW_MM if below else 2.0
    axis = foot + tall * scale / 2
    height = axis + tall * scale / 2 + (_ROW_MM if above else 2.0)
    left = (_WIDTH_MM - long * scale) / 2

    def at(z: float, r: float) -> Point:
        return left + (z - found.near_z) * scale, axis + r * scale

    pen = Pen()
    _part_lines(pen, part, at)
    _balloons(pen, above, at, height - _BALLOON_MM - 0.5)
    _balloons(pen, below, at, _BALLOON_MM + 0.5)
    return pen.ink(_WIDTH_MM, height)


def _part_lines(pen: Pen, part: Part, at: _At) -> None:
    """Outside in full, the lower half cut open: its inner outline too, and the axis."""
    found = outline(part)
    upper = [(found.near_z, 0.0), (found.near_z, found.outer[0].r0), *((e.z1, e.r1) for e in found.outer)]
    upper.append((found.far_z, 0.0))
    pen.line([at(z, r) for z, r in upper], 0.5)
    for edge in found.outer:
        if edge.is_face and edge not in (found.outer[0], found.outer[-1]):
            pen.line([at(edge.z0, 0.0), at(edge.z0, min(edge.r0, edge.r1))], 0.25)
    for edge in (*found.outer, *found.inner):
        pen.line([at(edge.z0, -edge.r0), at(edge.z1, -edge.r1)], 0.5)
    for z, edges in ((found.near_z, found.outer[:1]), (found.far_z, found.outer[-1:])):
        radius = edges[0].r0 if z == found.near_z else edges[0].r1
        pen.line([at(z, -_opening(found.inner, z)), at(z, -radius)], 0.5)
    pen.dashed(_beside(at(found.near_z, 0.0), -4.0), _beside(at(found.far_z, 0.0), 4.0), 0.25)


def _opening(inner: Sequence[Edge], z_mm: float) -> float:
    """Radius of the bore where it comes out of an end of the part, 0 where it does not."""
    radii = [r for e in inner for z, r in ((e.z0, e.r0), (e.z1, e.r1)) if abs(z - z_mm) < 1e-6]
    return max(radii, default=0.0)


def _beside(point: Point, by_mm: float) -> Point:
    return point[0] + by_mm, point[1]


def _balloons(pen: Pen, marks: Sequence[_Mark], at: _At, y_mm: float) -> None:
    """A row of balloons, in the order of what they point at, evenly kept apart, each with its leader."""
    ordered = sorted(marks, key=lambda mark: (mark.z_mm, mark.r_mm))
    wanted = [at(mark.z_mm, 0.0)[0] for mark in ordered]
    for mark, x in zip(ordered, _spread(wanted), strict=True):
        place = at(mark.z_mm, mark.r_mm)
        pen.circle((x, y_mm), _BALLOON_MM, 0.25)
        pen.word(str(mark.number), (x, y_mm - _NUMBER_MM / 2), _NUMBER_MM, 0.5)
        edge = y_mm - _BALLOON_MM if mark.above else y_mm + _BALLOON_MM
        pen.line([(x, edge), place], 0.25)
        pen.dot(place, 0.6)


def _spread(wanted: Sequence[float]) -> list[float]:
    """Places as near the wanted ones as they can be without touching, within the width of the picture."""
    least, most = _BALLOON_MM + 1.0, _WIDTH_MM - _BALLOON_MM - 1.0
    places: list[float] = []
    for x in wanted:
        places.append(max(x, places[-1] + _APART_MM if places else least))
    for index in range(len(places) - 1, -1, -1):
        limit = most if index == len(places) - 1 else places[index + 1] - _APART_MM
        places[index] = min(places[index], limit)
    return places


def _mark(part: Part, row: InspectionRow) -> _Mark | None:
    """Where a characteristic lies: the middle of its surface, or the later face of its length."""
    name = row.address.partition("/")[2]
    z_of = outline(part).z_of
    surface = part.by_name.get(name) or part.by_name.get(name.rpartition("/")[0])
    if surface is None:
        zone = next((one for one in part.zones if one.name == name), None)
        surface = part.by_name[zone.surface] if zone is not None else None
    if surface is not None:
        middle = (z_of[surface.near] + z_of[surface.far]) / 2
        radius = diameter_at(part, surface, middle, z_of) / 2
        inside = surface.side.startswith("inside")
        return _Mark(row.number, middle, -radius if inside else radius, not inside)
    length = next((one for one in part.lengths if one.name == name), None)
    if length is not None:
        return _at_face(part, row.number, z_of[length.face])
    cross = next((one for one in part.cross if one.name == name), None)
    if cross is None:
        return None
    middle = (z_of[cross.near] + z_of[cross.far]) / 2
    radius = max((_radius(e, middle) for e in outline(part).outer if e.z0 <= middle <= e.z1), default=0.0)
    return _Mark(row.number, middle, radius, above=True)


def _at_face(part: Part, number: int, z_mm: float) -> _Mark:
    """A balloon at a face: below for one that only the bore shows, above for all others."""
    found = outline(part)
    for edges, above in ((found.outer, True), (found.inner, False)):
        for edge in edges:
            if edge.is_face and abs(edge.z0 - z_mm) < 1e-6:
                radius = (edge.r0 + edge.r1) / 2
                return _Mark(number, z_mm, radius if above else -radius, above)
    ends = [e for e in found.outer if abs(e.z0 - z_mm) < 1e-6 or abs(e.z1 - z_mm) < 1e-6]
    radius = max((e.r0 if abs(e.z0 - z_mm) < 1e-6 else e.r1 for e in ends), default=0.0)
    return _Mark(number, z_mm, radius, above=True)


def _radius(edge: Edge, z_mm: float) -> float:
    span = edge.z1 - edge.z0
    return edge.r0 if span <= 0 else edge.r0 + (z_mm - edge.z0) / span * (edge.r1 - edge.r0)
