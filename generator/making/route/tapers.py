"""How a taper is cut in this shop, in the words of its settings page."""

from __future__ import annotations

import math

from generator.description import Part, Surface, diameter_at, face_positions
from generator.fittings.centre_hole import end_hole
from generator.making.settings_slide import RUN_MM
from generator.making.workshop import Workshop
from generator.reckoning import taper as reckon

__all__ = ["TAILSTOCK_BACK", "hollow_centre_mm", "over_a_hollow_centre", "taper_words"]

TAILSTOCK_BACK = "bring the tailstock back, prove it with the test bar"
"""The operation that ends every set-over."""


def taper_words(shop: Workshop, cone_mm: float, half_angle_deg: float) -> str:
    """What to do to cut this cone: by the shop's own way, and what to do where that way is too short for it.

    Source: geometry; common practice, no source.
    """
    if shop.taper_method == "set-over":
        return "set the tailstock over to the settings page, cut the taper under power"
    if shop.taper_method == "attachment":
        return "set the attachment to the settings page, take up its play, cut the taper under power"
    ratio = reckon.taper_of_half_angle(abs(half_angle_deg))
    if shop.top_slide_travel_mm < reckon.slide_travel_mm(cone_mm, ratio, 0.0) - 0.05:
        return (
            f"the top slide goes {shop.top_slide_travel_mm:g} mm, the cone is {cone_mm:.1f} mm long: cut the taper by "
            "another way of the settings page, tailstock set over first"
        )
    if shop.top_slide_travel_mm < reckon.slide_travel_mm(cone_mm, ratio, RUN_MM) - 0.05:
        return "swing the top slide to the settings page, start at its very end: it just covers the cone; hand feed"
    return "swing the top slide to the settings page, cut the taper by hand feed"


def hollow_centre_mm(part: Part, taper: Surface, point: Surface, end: str) -> tuple[float, float]:
    """Length between the pivots and set-over where the point itself runs in a hollow centre.

    Source: geometry: a cone in a hollow of its own angle tips about their common apex; ISO 6411 for the other hole.
    """
    z_of = face_positions(part)
    tip = diameter_at(part, point, z_of[point.far], z_of)
    apex = z_of[point.far] + tip / 2.0 / math.tan(math.radians(abs(point.half_angle_deg)))
    hole = end_hole(part, end)
    below = 0.0 if hole is None else reckon.pivot_below_face_mm(hole.countersink_mm, hole.pilot_mm)
    length = apex - z_of[end] - below
    return length, reckon.set_over_mm(length, reckon.taper_of_half_angle(abs(taper.half_angle_deg)))


def over_a_hollow_centre(part: Part, taper: Surface, point: Surface, end: str) -> str:
    """What the tailstock goes over where the point itself runs in a hollow centre; the settings page reckons the stub.

    Source: see `hollow_centre_mm`.
    """
    length, over = hollow_centre_mm(part, taper, point, end)
    return (
        f"The stub is gone: hollow centre and shank hole tip {length:.0f} mm apart. Set the tailstock over by "
        f"{over:.2f} mm, not by the figure for the bar with its stub; prove it by the check cut."
    )
