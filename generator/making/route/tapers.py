"""How a taper is cut in this shop, in the words of its settings page."""

from __future__ import annotations

from generator.making.settings_slide import RUN_MM
from generator.making.workshop import Workshop
from generator.reckoning import taper as reckon

__all__ = ["TAILSTOCK_BACK", "taper_words"]

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
