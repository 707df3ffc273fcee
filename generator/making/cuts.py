"""The sizes of a part as an operation names them: one address, one text with its unit."""

from __future__ import annotations

from collections.abc import Iterable

from generator.description import Part, Size, face_positions
from generator.errors import GeometryError
from generator.making.setups import Step

__all__ = ["cut", "limits_text", "size_text"]

_SIGNS = {"across": "across flats ", "diameter": "dia "}


def limits_text(size: Size, sign: str = "") -> str:
    """The size as a turner reads it at the machine: both limits, or the nominal under the general tolerance."""
    if size.fitted:
        even = abs(size.upper_mm + size.lower_mm) < 1e-9
        return f"{sign}{size.fitted}, " + (
            f"±{size.upper_mm:g} mm" if even else f"+{size.upper_mm:g} mm {size.lower_mm:g} mm"
        )
    if size.general or size.upper_mm == size.lower_mm:
        return f"{sign}{round(size.nominal_mm, 3):g} mm"
    return f"{sign}{size.nominal_mm + size.lower_mm:.3f} to {size.nominal_mm + size.upper_mm:.3f} mm"


def size_text(part: Part, address: str) -> str:
    """The size at an address of the part ("recess/depth", "barrel/diameter", "end_chamfer/leg") in words.

    Raises: GeometryError where the part has no such size.
    """
    length = next((one for one in part.lengths if one.name == address), None)
    if length is not None:
        return limits_text(length.size, f"{_plain(address)} ")
    zone = next((one for one in part.zones if one.name == address), None)
    if zone is not None:
        return zone.text
    name, _, key = address.rpartition("/")
    surface = part.by_name.get(name)
    if surface is not None:
        if key == "leg":
            z_of = face_positions(part)
            return f"{abs(z_of[surface.far] - z_of[surface.near]):g} mm x {abs(surface.half_angle_deg):g} deg"
        if key == "angle":
            return f"{2 * abs(surface.half_angle_deg):g} deg included"
        return limits_text(surface.diameter, "dia ")
    cross = next((one for one in part.cross if one.name == name), None)
    if cross is not None and key in cross.sizes:
        text = limits_text(cross.sizes[key], _SIGNS.get(key, ""))
        return f"{text} above the axis" if key == "height" else text
    place = next((one for one in part.places if one.face == name), None)
    if place is None:
        message = f"{part.name} has no size {address}"
        raise GeometryError(message)
    return limits_text(place.diameter, "dia ")


def cut(part: Part, text: str, names: Iterable[str], tool: str = "", also: str = "") -> Step:
    """An operation that brings these sizes of the part to their limits; `also` stands behind them."""
    wanted = tuple(names)
    words = [*(size_text(part, name) for name in wanted), *([also] if also else [])]
    return Step(text, "\n".join(words), tool, tuple(f"{part.name}/{name}" for name in wanted))


def _plain(name: str) -> str:
    return name.replace("/", " ").replace("_", " ")
