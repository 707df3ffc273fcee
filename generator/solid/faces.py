"""Names of a solid's faces, found from where each face lies on the description's meridian or cross features."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.GeomAbs import GeomAbs_Cylinder, GeomAbs_Plane
from OCP.TopAbs import TopAbs_FACE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Face, TopoDS_Shape, TopoDS_Solid

from generator.description import Cross, Edge, Outline, Part, Zone, outline
from generator.solid.cross import flat_height_mm

__all__ = ["NamedFace", "faces_of", "named_faces", "nearest_edge"]

_NEAR_MM = 1e-6


@dataclass(frozen=True, slots=True)
class NamedFace:
    """A face of a solid and the name of the surface, face, cross feature or zone that it belongs to."""

    face: TopoDS_Face
    name: str
    is_zone: bool = False


def faces_of(solid: TopoDS_Shape) -> Iterator[TopoDS_Face]:
    """The faces of a solid, in its own order."""
    found = TopExp_Explorer(solid, TopAbs_FACE)
    while found.More():
        yield TopoDS.Face_s(found.Current())
        found.Next()


def named_faces(part: Part, solid: TopoDS_Solid) -> list[NamedFace]:
    """Every face of the part's solid with its name, found from where the face lies.

    Turned faces are called after their surface or face, zones after their callout ("THREAD M6"), the rest after the
    cross feature that cut them.
    """
    found = outline(part)
    return [_named(part, found, face) for face in faces_of(solid)]


def _named(part: Part, found: Outline, face: TopoDS_Face) -> NamedFace:
    surface = BRepAdaptor_Surface(face)
    kind = surface.GetType()
    point = surface.Value(
        (surface.FirstUParameter() + surface.LastUParameter()) / 2,
        (surface.FirstVParameter() + surface.LastVParameter()) / 2,
    )
    place = (point.X(), point.Y(), point.Z())
    if kind == GeomAbs_Plane:
        direction = surface.Plane().Axis().Direction()
        if abs(direction.X()) < 0.5:
            return NamedFace(face, _cross_name(part, found, place, ("flats", "tang", "half", "slot")))
        return NamedFace(face, _upright_name(found, place[0]))
    if kind == GeomAbs_Cylinder and abs(surface.Cylinder().Axis().Direction().X()) < 0.5:
        return NamedFace(face, _cross_name(part, found, place, ("hole",)))
    edge = nearest_edge(found, place[0], math.hypot(place[1], place[2]))
    zone = _zone_at(part, found, edge.name, place[0])
    if zone is None:
        return NamedFace(face, edge.name)
    return NamedFace(face, f"{zone.form.upper()} {zone.text}".strip(), is_zone=True)


def _upright_name(found: Outline, x: float) -> str:
    """Name of the face that stands square to the axis at x."""
    for edge in (*found.outer, *found.inner):
        if edge.is_face and edge.name and abs(edge.z0 - x) < _NEAR_MM:
            return edge.name
    return min(found.z_of, key=lambda face: abs(found.z_of[face] - x))


def _zone_at(part: Part, found: Outline, surface: str, x: float) -> Zone | None:
    for zone in part.zones:
        start, end = sorted((found.z_of[zone.near], found.z_of[zone.far]))
        if zone.surface == surface and start <= x <= end:
            return zone
    return None


def nearest_edge(found: Outline, z: float, r: float) -> Edge:
    """The named edge of the meridian that a point lies on."""

    def away(edge: Edge) -> float:
        along = (edge.z1 - edge.z0, edge.r1 - edge.r0)
        square = along[0] ** 2 + along[1] ** 2
        share = ((z - edge.z0) * along[0] + (r - edge.r0) * along[1]) / square if square else 0.0
        share = min(1.0, max(0.0, share))
        return math.hypot(z - edge.z0 - share * along[0], r - edge.r0 - share * along[1])

    return min((*found.outer, *found.inner), key=away)


def _cross_name(part: Part, found: Outline, place: tuple[float, float, float], kinds: tuple[str, ...]) -> str:
    """Name of the cross feature on whose flat or hole wall a point lies."""

    def away(cross: Cross) -> float:
        ends = sorted((found.z_of[cross.near], found.z_of[cross.far]))
        angle = math.radians(cross.angle_deg)
        up = -place[1] * math.sin(angle) + place[2] * math.cos(angle)
        across = place[1] * math.cos(angle) + place[2] * math.sin(angle)
        if cross.kind == "hole":
            from_middle = math.hypot(place[0] - sum(ends) / 2, across)
            return abs(from_middle - cross.sizes["diameter"].nominal_mm / 2)
        if cross.kind == "slot":
            return abs(abs(across) - cross.sizes["width"].nominal_mm / 2)
        outside = max(0.0, ends[0] - place[0], place[0] - ends[1])
        height = up if cross.kind == "half" else abs(up)
        return abs(height - flat_height_mm(part, cross)) + outside

    return min((cross for cross in part.cross if cross.kind in kinds), key=away).name
