"""A draft collects the faces and surfaces of one part in the order a turner would name them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from generator.description.part import Ball, Corner, Cross, Length, Part, Place, Relation, Surface, Zone
from generator.description.size import Size

__all__ = ["PartDraft"]


class PartDraft:
    """A part under construction; `done` gives the frozen part."""

    def __init__(self, name: str, title: str, origin_face: str, **fields: Any) -> None:
        self._part = Part(name, title, origin_face, **fields)
        self._lists: dict[str, list[Any]] = {
            key: [] for key in ("lengths", "places", "surfaces", "zones", "cross", "relations", "corners", "balls")
        }

    def length(self, name: str, face: str, from_face: str, sign: int, size: Size) -> None:
        """Introduce `face` by a length from `from_face`: sign +1 towards the work, -1 towards the tailstock."""
        self._lists["lengths"].append(Length(name, face, from_face, sign, size))

    def cylinder(self, name: str, side: str, near: str, far: str, diameter: Size, **fields: Any) -> None:
        """Add a cylinder between two faces."""
        self._lists["surfaces"].append(Surface(name, side, near, far, diameter, **fields))

    def cone(
        self, name: str, side: str, near: str, far: str, diameter: Size, at: str, half_angle_deg: float, **fields: Any
    ) -> None:
        """Add a cone that has `diameter` at face `at`; the half angle is positive where it grows towards the work."""
        self._lists["surfaces"].append(Surface(name, side, near, far, diameter, at, half_angle_deg, **fields))

    def place(self, face: str, surface: str, diameter: Size) -> None:
        """Introduce `face` where the cone `surface` has `diameter`."""
        self._lists["places"].append(Place(face, surface, diameter))

    def chamfer(self, name: str, side: str, face: str, towards: int, meets: Size, leg: Size) -> str:
        """Cut a 45 degree chamfer of `leg` at `face` and return the name of the face where it ends.

        `towards` is the direction from `face` into the part (+1 towards the work); `meets` is the diameter of the
        cylinder that it breaks the edge of.
        """
        inward = 1.0 if side == "outside" else -1.0
        start = replace(meets, nominal_mm=meets.nominal_mm - inward * 2.0 * leg.nominal_mm, derived=True)
        end = f"{name}_end"
        near, far = (face, end) if towards > 0 else (end, face)
        leg_only = replace(start, source=leg.source, origin=leg.origin)
        self.cone(name, side, near, far, leg_only, face, 45.0 * towards * inward, role="chamfer")
        self.place(end, name, replace(meets, derived=True))
        return end

    def zone(self, name: str, surface: str, near: str, far: str, form: str, text: str) -> None:
        """Mark a stretch of a surface as thread, knurl or hardened."""
        self._lists["zones"].append(Zone(name, surface, near, far, form, text))

    def crossing(
        self, name: str, kind: str, near: str, far: str, angle_deg: float = 0.0, at: str = "", **sizes: Size
    ) -> None:
        """Add a feature across the axis between two faces, about a face in its middle where that places it."""
        self._lists["cross"].append(Cross(name, kind, near, far, sizes, angle_deg, at))

    def relation(self, surface: str, datum: str, kind: str, limit_mm: float, how: str) -> None:
        """Demand a geometrical relation between two surfaces."""
        self._lists["relations"].append(Relation(surface, datum, kind, limit_mm, how))

    def corner(self, surface: str, face: str, text: str) -> None:
        """Limit the inner corner between a surface and a face."""
        self._lists["corners"].append(Corner(surface, face, text))

    def ball(self, face: str, offset_mm: float, pitch_diameter_mm: float, ball_diameter_mm: float) -> None:
        """Show a row of balls in the section."""
        self._lists["balls"].append(Ball(face, offset_mm, pitch_diameter_mm, ball_diameter_mm))

    def done(self) -> Part:
        """The finished part."""
        lists: dict[str, Any] = {key: tuple(items) for key, items in self._lists.items()}
        return replace(self._part, **lists)
