"""A drill in work that hangs in its own taper: the torque that it asks for, and what its thrust lets the taper hold."""

from __future__ import annotations

from typing import NamedTuple

from generator.description import Part, Surface, diameter_at, face_positions
from generator.errors import InputError
from generator.making.operations_speed import drill_feed_mm
from generator.reckoning.cutting import drilling_thrust_n, drilling_torque_n_mm
from generator.reckoning.cutting_record import specific_force_of
from generator.reckoning.grip import mean_diameter_mm, torque_under_thrust_n_mm
from generator.tables import load

__all__ = ["SOURCE", "Driven", "driven"]

SOURCE = "Kienzle, drill opened from a hole before; taper under the drill's own thrust, friction oiled (table friction)"
_WORN = 1.5
"""A drill near its end against a sharp one. Common practice, no source."""
_WEB = 0.5
"""Share of the thrust that is left where the web finds a hole drilled before. From memory, wide."""


class Driven(NamedTuple):
    """Torque of a drill and torque that the taper holds meanwhile, in N m."""

    torque_n_m: float
    held_n_m: float

    @property
    def slips(self) -> bool:
        """True where the taper turns in its socket, and is scored."""
        return self.torque_n_m > self.held_n_m


def driven(part: Part, taper: Surface, wide_mm: float, before_mm: float) -> Driven | None:
    """Torque against hold for a drill of `wide_mm` in a hole of `before_mm` (0: none); None for an unknown material.

    A hole drilled before takes more from the thrust than from the torque: against slip a smaller drill helps, not a
    step between. Source: `reckoning.cutting`, `reckoning.grip`; a worn drill takes half as much again, common practice.
    """
    feed_mm = drill_feed_mm(part.material, wide_mm)
    given = {"specific_force": None, "kc11": None, "mc": None, "material": part.material}
    try:
        force_mpa, _ = specific_force_of(given, feed_mm / 2)
    except InputError:
        return None
    torque = drilling_torque_n_mm(force_mpa, feed_mm, wide_mm, before_mm, _WORN)
    thrust = drilling_thrust_n(force_mpa, feed_mm, wide_mm, before_mm, web=_WEB if before_mm else 1.0)
    z_of = face_positions(part)
    mean_mm = mean_diameter_mm(*sorted((diameter_at(part, taper, z_of[face], z_of) for face in (taper.near, taper.far)),
                                       reverse=True))  # fmt: skip
    friction = load("friction").find("steel/steel, oiled taper", "friction coefficient for taper holding")
    held = torque_under_thrust_n_mm(thrust, mean_mm, abs(taper.half_angle_deg), friction.number("low_factor"))
    return Driven(torque / 1000, held / 1000)
