"""How bearings and covers go on and in: by hand, by press or warm, with which tube, and how warm."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from generator import tables
from generator.description import Part, Surface, Tool
from generator.errors import TableError
from generator.making.rescue_fits import Held, all_held
from generator.reckoning.fit import effective_interference_mm, fit_pressure_mpa, raceway_diameters_mm

__all__ = ["WARMEST_C", "Joint", "joints"]

FRICTION = (0.10, 0.20)
"""Friction of a turned steel seat pressed home, oiled to dry. From memory."""
EASE_MM = 0.015
"""Clearance that lets a warm ring slide on without sticking half way. Common practice, no source."""
WARMEST_C = 100.0
"""Warmest for a bearing with seals and its grease inside. Bearing makers' rule of 80 to 110, from memory."""
ROOM_C = 20.0
WALL_SHARE = 0.6
"""Share of a ring's wall up to its raceway that a tube may cover and clear a seal. Shop choice."""
STEEL_UM_M_K = 11.5
"""Expansion where the material has no figure. From memory."""


@dataclass(frozen=True, slots=True)
class Joint:
    """One seat with what it carries: clearance at worst (below 0: interference), press force, temperature, tube.

    `force_n` is the usual low and high force at the most interference, (0, 0) where it slides. `warm_c` is what the
    outer piece is warmed to so that it slides on, 20 where it does so cold. `tube_mm` is the inside and outside
    diameter of a tube that pushes on the tight ring alone, None where no tube is wanted.
    """

    piece: str
    on: str
    least_clearance_mm: float
    most_clearance_mm: float
    force_n: tuple[float, float]
    warm_c: float
    warmed: str
    tube_mm: tuple[float, float] | None

    @property
    def slides(self) -> bool:
        """True where it goes together by hand at any limits."""
        return self.least_clearance_mm >= 0.0


def joints(tool: Tool) -> tuple[Joint, ...]:
    """Every seat and pocket of a made part with the bearing or part that goes on or into it, each joint once.

    Source: thick-walled cylinders (Lame) for the pressure, linear expansion for warming; friction and ease as named.
    """
    found: dict[tuple[str, str], Joint] = {}
    for part in tool.made:
        for surface in part.surfaces:
            for held in all_held(tool, part, surface):
                found.setdefault((held.title, part.title), _joint(part, surface, held))
    return tuple(found.values())


def _joint(part: Part, surface: Surface, held: Held) -> Joint:
    inside = surface.side.startswith("inside")
    hole, shaft = (surface.diameter, held.size) if inside else (held.size, surface.diameter)
    least, most = hole.low - shaft.high, hole.high - shaft.low
    force = (0.0, 0.0) if least >= 0 else _force_n(part, surface, held, -least)
    warmed = part.title.lower() if inside else held.title
    warm = ROOM_C
    if least < 0:
        rate = (_expansion(part) if inside else STEEL_UM_M_K) * 1e-6 * surface.diameter.nominal_mm
        warm = ROOM_C + (EASE_MM - least) / rate
    return Joint(held.title, part.title, least, most, force, warm, warmed, _tube_mm(held, inside))


def _expansion(part: Part) -> float:
    try:
        found = tables.material(part.material) if part.material else None
    except TableError:
        return STEEL_UM_M_K
    return (found.expansion_um_m_k if found is not None else None) or STEEL_UM_M_K


def _force_n(part: Part, surface: Surface, held: Held, interference_mm: float) -> tuple[float, float]:
    """Force to press it home at the most interference, low and high friction, on the width that touches."""
    joint = surface.diameter.nominal_mm
    pressed = effective_interference_mm(interference_mm, joint, "turned")
    if surface.side.startswith("inside"):
        hole = _hole_mm(held, joint)
        pressure = fit_pressure_mpa(pressed, joint, hole, joint + 2 * held.wall_mm)
    else:
        outside = raceway_diameters_mm(joint, held.other_mm)[0] if held.is_bearing else joint + 2 * held.wall_mm
        pressure = fit_pressure_mpa(pressed, joint, max(0.0, joint - 2 * held.wall_mm), outside)
    normal = pressure * pi * joint * held.width_mm
    return FRICTION[0] * normal, FRICTION[1] * normal


def _hole_mm(held: Held, outside_mm: float) -> float:
    """Hole in what is pressed in: the outer raceway of a bearing; a made ring is taken as half open."""
    return raceway_diameters_mm(held.other_mm, outside_mm)[1] if held.is_bearing else outside_mm / 2


def _tube_mm(held: Held, inside: bool) -> tuple[float, float] | None:
    """A tube that bears on the ring that is tight and touches no seal: on the outer part of that ring's wall."""
    if not held.is_bearing:
        return None
    if inside:
        outside, bore = held.size.nominal_mm, held.other_mm
        return outside - WALL_SHARE * (outside - raceway_diameters_mm(bore, outside)[1]), outside - 0.5
    bore, outside = held.size.nominal_mm, held.other_mm
    return bore + 0.5, bore + WALL_SHARE * (raceway_diameters_mm(bore, outside)[0] - bore)
