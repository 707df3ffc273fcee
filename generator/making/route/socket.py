"""How a finished taper goes into the headstock spindle: straight, by a sleeve, or in a socket bored in place."""

from __future__ import annotations

from generator import tables
from generator.description import Surface
from generator.making.workshop import Workshop
from generator.reckoning.taper import taper_of_half_angle

__all__ = ["morse_number", "sleeve_words"]

_CLOSE_MM, _CLOSE_SHARE = 0.01, 1e-3


def morse_number(taper: Surface) -> int | None:
    """The Morse size of a cone by its gauge diameter and its taper; None for another cone.

    Source: table morse (ISO 296).
    """
    ratio = taper_of_half_angle(abs(taper.half_angle_deg))
    for number in range(7):
        row = tables.morse(number)
        same = abs(row.gauge_diameter_mm - taper.diameter.nominal_mm) < _CLOSE_MM
        if same and abs(row.ratio * ratio - 1.0) < _CLOSE_SHARE:
            return number
    return None


def sleeve_words(shop: Workshop, taper: Surface) -> str:
    """Where a finished taper is held, with the sleeve that it wants in this headstock.

    Source: geometry; a socket bored in place is common practice, no source.
    """
    own, spindle = morse_number(taper), shop.headstock_taper
    if own == spindle:
        return "in the headstock spindle"
    if own is not None and own < spindle:
        return f"in the headstock spindle, sleeve Morse {spindle} to {own}"
    return "wrung into a socket bored in place, in a stub in the chuck that is not taken out before this is done"
