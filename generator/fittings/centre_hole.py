"""Which centre hole an end of a turned part gets: one answer for sheet, order of work and settings."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

from generator import tables
from generator.description import Part, diameter_at, face_positions
from generator.errors import TableError

__all__ = ["MOST_SHARE", "end_hole", "tapped_mouth_mm"]

MOST_SHARE = 0.7
"""A mouth larger than this share of its end face leaves no land round it. Shop choice."""
_NEAR_MM = 3.0
"""Chamfers and edges that count as the end itself. Shop choice."""
_LAND_MM = 0.75
"""Land of a centre outside the thread of a tapped end. Shop choice."""
_LARGEST_MM = 200.0


def end_hole(part: Part, face: str) -> tables.CentreHole | None:
    """The hole usual for the outside at this end, smaller where flats or a tang leave it no land; None where none fits.

    Source: sizes ISO 6411; usual by diameter, common practice, no source (table centre_hole_choice).
    """
    z_of = face_positions(part)
    wide_mm = min(_outside_mm(part, face), default=None)
    if wide_mm is None:
        return None
    across = [
        cross.sizes["across"].nominal_mm for cross in part.cross
        if "across" in cross.sizes and min(abs(z_of[one] - z_of[face]) for one in (cross.near, cross.far)) < 1e-6
    ]
    room_mm = MOST_SHARE * min([wide_mm, *across])
    try:
        usual = tables.centre_hole_for(min(wide_mm, _LARGEST_MM))
        pilots = sorted((row.number("pilot_mm") for row in tables.load("centre_hole_choice").rows), reverse=True)
        holes = (tables.centre_hole(usual.form, pilot) for pilot in pilots if pilot <= usual.pilot_mm)
        return next((one for one in holes if one.countersink_mm <= room_mm), None)
    except TableError:
        return None


def tapped_mouth_mm(part: Part) -> float | None:
    """Diameter of the 60 degree mouth of a tapped end, in which a centre runs; None for a part without a bore.

    It has a land outside the thread, which the centre would bruise, as far as the slimmest outside lets it.
    Source: common practice, no source; the land is a shop choice.
    """
    inside = {one.name: one for one in part.surfaces if one.side == "inside"}
    if not inside:
        return None
    wide = [one.diameter.nominal_mm for one in inside.values()]
    for zone in part.zones:
        if zone.surface in inside:
            with suppress(TableError):
                wide.append(tables.thread(zone.text.partition("-")[0]).major_mm)
    widest = max(wide)
    slimmest = min(one.diameter.nominal_mm for one in part.surfaces if one.side == "outside" and one.role != "chamfer")
    return round(max(widest + 0.5, min(widest + 2.0 * _LAND_MM, slimmest - 2.0)), 1)


def _outside_mm(part: Part, face: str) -> Iterator[float]:
    """Diameters of the outside at an end, its chamfer left out."""
    z_of = face_positions(part)
    for one in part.surfaces:
        if one.side == "outside" and one.role != "chamfer":
            near = min((one.near, one.far), key=lambda edge: abs(z_of[edge] - z_of[face]))
            if abs(z_of[near] - z_of[face]) < _NEAR_MM:
                yield diameter_at(part, one, z_of[near], z_of)
