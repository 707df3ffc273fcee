"""Which centre holes of a turned part the sheet speaks of: where one is needed, may stay, or must not stay."""

from __future__ import annotations

from collections.abc import Iterator

from generator import tables
from generator.description import Outline, Part, outline
from generator.drawing.wanted import CentreHole
from generator.errors import TableError
from generator.fittings.centre_hole import end_hole

__all__ = ["centres_of"]

_CLOSE_MM = 1e-6
_SLENDER = 3.0


def centres_of(part: Part) -> tuple[CentreHole, ...]:
    """The centre holes of a part that is turned between centres; none for one that is short or bored through.

    At the small end of a taper the hole is needed as long as the part lives, because it is ground again on it; at a
    point it stands in a stub that is cut off; at any other solid end it may stay. An end with a bore has no hole of
    its own: its mouth takes the centre. Sources: meanings and code, ISO 6411 at second hand; where, common practice;
    size of the hole, `generator.fittings.centre_hole`.
    """
    shape = outline(part)
    length = shape.far_z - shape.near_z
    widest = 2 * max(max(edge.r0, edge.r1) for edge in shape.outer)
    roles = {surface.role for surface in part.surfaces if surface.side == "outside"}
    if not roles & {"taper", "point"} and length < _SLENDER * widest:
        return ()
    return tuple(_holes(part, shape))


def _holes(part: Part, shape: Outline) -> Iterator[CentreHole]:
    edges = [edge for edge in shape.outer if not edge.is_face]
    for end, z, last in ((-1, shape.near_z, edges[0]), (1, shape.far_z, edges[-1])):
        if any(not edge.is_face and min(abs(edge.z0 - z), abs(edge.z1 - z)) < _CLOSE_MM for edge in shape.inner):
            continue
        surface = part.by_name.get(last.name)
        if surface is not None and surface.role == "point":
            meaning, hole = "must not remain", _stub_hole(2 * max(last.r0, last.r1))
        else:
            meaning = "remains" if end == _taper_end(part, shape) else "may remain"
            hole = end_hole(part, min(shape.z_of, key=lambda face: abs(shape.z_of[face] - z)))
        if hole is not None:
            yield CentreHole(end, f"ISO 6411 - {hole.form} {hole.pilot_mm:g}/{hole.countersink_mm:g}", meaning)


def _taper_end(part: Part, shape: Outline) -> int:
    """The end (-1 or +1) that lies at the small end of the outside taper; 0 without one."""
    taper = next((s for s in part.surfaces if s.role == "taper" and s.side == "outside"), None)
    if taper is None:
        return 0
    edge = next(e for e in shape.outer if e.name == taper.name)
    return -1 if edge.r0 < edge.r1 else 1


def _stub_hole(diameter_mm: float) -> tables.CentreHole | None:
    """The hole in the stub ahead of a point; None where none is listed."""
    try:
        return tables.centre_hole_for(diameter_mm)
    except TableError:
        return None
