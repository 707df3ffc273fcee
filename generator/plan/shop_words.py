"""The shop's figures in words, and the sign that marks what rests on one that nobody gave."""

from __future__ import annotations

__all__ = ["SIGN", "shop_words"]

SIGN = "*"
"""Stands behind every figure of the plan that rests on a default."""

_WORDS = {
    "tailstock_taper": "taper of the tailstock", "quill_travel_mm": "travel of the quill",
    "centre_height_mm": "height of centres", "between_centres_mm": "length between centres",
    "speeds_rpm": "spindle speeds", "has_steps": "gears or belt", "cross_dial": "dial of the cross slide",
    "top_dial": "dial of the top slide", "carriage_dial": "dial of the carriage", "quill_dial": "dial of the quill",
    "top_slide_travel_mm": "travel of the top slide", "set_over_most_mm": "most set-over of the tailstock",
    "set_over_lead_mm": "lead of the set-over screw", "set_over_screws": "set-over screws",
    "tail_centre": "centre in the tailstock", "tail_centre_run_out_mm": "run-out of a revolving centre",
    "leadscrew": "leadscrew", "leadscrew_pitch_mm": "pitch of the leadscrew", "milling": "milling",
    "wheel": "grinding wheel", "furnace_c": "furnace, hottest", "furnace_mm": "furnace, length",
    "attachment_mm": "taper attachment", "headstock_taper": "taper of the headstock",
    "spindle_bore_mm": "bore of the spindle", "sleeve_run_out_mm": "run-out of socket and sleeve",
    "chucks": "chucks", "steady_most_mm": "steady", "indicator_mm": "reading of the indicator",
    "micrometer_mm": "reading of the micrometer", "drills": "drills", "reamers": "reamers", "taps": "taps",
    "dies": "dies", "cutters": "turning tools", "boring_bars": "boring bars", "taper_method": "way of cutting tapers",
    "headstock_support": "support at the headstock", "tailstock_support": "support at the tailstock",
}


def shop_words(name: str) -> str:
    """A field of the workshop as one speaks of it.

    >>> shop_words("cross_dial")
    'dial of the cross slide'
    """
    return _WORDS.get(name, name.removesuffix("_mm").removesuffix("_rpm").replace("_", " "))
