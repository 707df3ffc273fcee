"""The floor of a bore that a bar squares, fed from its wall inwards: how far in, and whether the bar has room there."""

from __future__ import annotations

from generator.description import Part, Surface, face_positions
from generator.making.workshop import BoringBar

__all__ = ["SQUARED", "has_room", "hole_in_floor_mm", "room_mm"]

SQUARED = "the bar fed from its wall inwards"
"""In the text of a step of boring: the bar faces the floor, and must not meet the wall behind it."""


def hole_in_floor_mm(part: Part, bore: Surface) -> float:
    """The hole in the floor of a bore, where facing ends; 0 where the floor is whole.

    Source: geometry.
    """
    z_of = face_positions(part)
    floors = [z_of[bore.near], z_of[bore.far]]
    within = (
        one.diameter.nominal_mm for one in part.surfaces
        if one.side == "inside" and one is not bore and one.diameter.nominal_mm < bore.diameter.nominal_mm
        and any(abs(z_of[face] - z) < 1e-6 for face in (one.near, one.far) for z in floors)
    )
    return max(within, default=0.0)


def room_mm(bore_mm: float, to_mm: float) -> float:
    """What tip and bar may measure across when the tip stands at the inner diameter and the bar's back at the wall.

    Source: geometry, half of either diameter.

    >>> room_mm(36.0, 11.6)
    23.8
    """
    return (bore_mm + to_mm) / 2


def has_room(bar: BoringBar, bore_mm: float, to_mm: float) -> bool:
    """Whether a bar can face the floor of a bore down to a diameter: the least bore that it enters is what it measures.

    Source: see `room_mm`; tip to back of a bar is a millimetre less than its least bore (ISO 6261, table boring_bars).
    """
    return bar.least_bore_mm <= room_mm(bore_mm, to_mm) + 1e-9
