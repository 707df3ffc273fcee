"""The calculation `taper`: one taper in every form a shop sets, cuts and measures it by. Arithmetic in `taper`."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from generator.reckoning import taper as t
from generator.reckoning.amounts import need
from generator.reckoning.angles import sine
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse
from generator.reckoning.set_over_record import TAPER_INPUTS, taper_of

__all__ = [
    "RECKONING", "angle_error_deg", "attachment_offset_mm", "diameter_left_mm", "gauge_diameter_from_balls_mm",
    "half_angle_of_balls_deg", "half_angle_of_rolls_deg", "stand_off_change_mm", "swing_move_mm", "taper_of_stack",
]


def diameter_left_mm(visible_mm: float, wanted_visible_mm: float, taper: float) -> float:
    """What is still to come off the diameter of a plug of which more is seen outside its socket than is wanted.

    Below zero: the plug is already too small, and what is seen is less than wanted.
    Source: ISO 3040, C = (D - d) / L; the gauge is the socket itself.

    >>> round(diameter_left_mm(9.0, 5.0, 0.05), 3)
    0.2
    """
    need("taper", taper, above=0, most=2)
    return (visible_mm - wanted_visible_mm) * taper


def stand_off_change_mm(diameter_error_mm: float, taper: float) -> float:
    """How much further out a plug stands whose diameter is this much too large (a socket: too small).

    Source: ISO 3040, C = (D - d) / L.
    """
    need("taper", taper, above=0, most=2)
    return t.depth_gained_mm(diameter_error_mm, taper)


def angle_error_deg(difference_error_mm: float, distance_mm: float, taper: float) -> float:
    """Error of the half angle from the error of the difference of two diameters this far apart.

    Source: geometry, difference of two arctangents.
    """
    need("distance of the two diameters", distance_mm, "mm", above=0)
    return t.half_angle_deg(taper + difference_error_mm / distance_mm) - t.half_angle_deg(taper)


def swing_move_mm(error_deg: float, radius_mm: float) -> float:
    """How far the slide moves at this radius from its pivot when it is swung by that error.

    Source: geometry, chord of a small angle.
    """
    need("radius", radius_mm, "mm", above=0)
    return 2 * radius_mm * sine(error_deg / 2)


def attachment_offset_mm(bar_mm: float, taper: float, *, pivot_in_middle: bool = True) -> float:
    """How far the end of a taper attachment's guide bar is moved out, the bar of this length or pivoted at its end.

    Source: geometry, sine of the half angle times the distance from the pivot.
    """
    need("length of the guide bar", bar_mm, "mm", above=0)
    return t.set_over_mm(bar_mm / 2 if pivot_in_middle else bar_mm, taper)


def taper_of_stack(stack_mm: float, bar_mm: float, *, full_angle: bool = True) -> float:
    """Taper ratio from the blocks under a sine bar on which the top of the taper reads level.

    Source: definition of the sine; a taper lying on its flank shows its full angle, one on centres its half angle.
    """
    need("blocks over sine bar", stack_mm / bar_mm, least=0, below=0.9)
    angle = math.degrees(math.asin(stack_mm / bar_mm))
    return t.taper_of_half_angle(angle / 2 if full_angle else angle)


def half_angle_of_rolls_deg(upper_mm: float, lower_mm: float, rise_mm: float) -> float:
    """Half angle of a plug from sizes over two equal rolls, the rolls raised by this much between them.

    The size of the rolls drops out as long as they are equal.
    Source: tan(half) = (M2 - M1) / (2 h), any handbook of measuring.
    """
    need("rise between the two sizes", rise_mm, "mm", above=0)
    need("size above less size below", upper_mm - lower_mm, "mm", above=0)
    return t.half_angle_deg((upper_mm - lower_mm) / rise_mm)


def half_angle_of_balls_deg(
    large_ball_mm: float, small_ball_mm: float, large_top_mm: float, small_top_mm: float
) -> float:
    """Half angle of a socket from two balls: depth of each ball's top below the face (above it: below zero).

    Source: sin(half) = difference of radii / distance of the centres, any handbook of measuring.
    """
    radii = (large_ball_mm - small_ball_mm) / 2
    need("difference of the balls' radii", radii, "mm", above=0)
    centres = small_top_mm + small_ball_mm / 2 - large_top_mm - large_ball_mm / 2
    need("difference of radii over distance of centres", radii / centres, above=0, below=0.9)
    return math.degrees(math.asin(radii / centres))


def gauge_diameter_from_balls_mm(ball_mm: float, top_mm: float, taper: float) -> float:
    """Diameter of a socket at its face from one ball, the depth of its top below the face, and the taper.

    Source: geometry, (ball / cos(half)) + taper x depth of the centre.
    """
    need("ball", ball_mm, "mm", above=0)
    depth = top_mm + ball_mm / 2
    mouth: float = ball_mm * (1 + taper * taper / 4) ** 0.5 + taper * depth
    return mouth


def _found_taper(given: Mapping[str, Any]) -> tuple[float, tuple[str, ...]]:
    """The taper measured with sine bar, rolls or balls, or the one stated."""
    if given["stack"] is not None:
        return taper_of_stack(given["stack"], given["sine_bar"]), ("sine bar",)
    for names, half_angle, what in (
        (("rolls_above", "rolls_below", "rolls_rise"), half_angle_of_rolls_deg, "sizes over two equal rolls"),
        (("ball_large", "ball_small", "ball_large_depth", "ball_small_depth"), half_angle_of_balls_deg, "two balls"),
    ):
        held = [given[name] for name in names]
        if any(one is not None for one in held):
            missing = [name for name, one in zip(names, held, strict=True) if one is None]
            if missing:
                refuse("taper", f"{what}: {', '.join(missing)} is missing", "", f"give {', '.join(names)}")
            return t.taper_of_half_angle(half_angle(*held)), (what,)
    return taper_of(given)


def _work(given: Mapping[str, Any]) -> Outcome:
    taper, sources = _found_taper(given)
    need("taper", taper, above=0, most=2)
    half = t.half_angle_deg(taper)
    values: dict[str, Any] = {
        "ratio": taper, "one_in": 1 / taper, "per_foot": t.taper_per_foot_in(taper), "per_metre": 1000 * taper,
        "half_angle": half, "half_angle_dms": _dms(half), "included_angle": 2 * half,
        "included_angle_dms": _dms(2 * half), "slide_setting": half,
        "pitch_for_1_mm": t.pitch_for_difference_mm(1.0, taper),
        "pitch_for_40_thou": t.pitch_for_difference_mm(1.016, taper),
        "rise_axis": t.rise_along_axis_mm(given["travel"], taper),
        "rise_slide": t.rise_along_slide_mm(given["travel"], taper),
        "sine_bar_half": t.sine_bar_stack_mm(given["sine_bar"], half),
        "sine_bar_full": t.sine_bar_stack_mm(given["sine_bar"], 2 * half),
        "depth_gained": t.depth_gained_mm(given["cut"], taper),
    }
    values |= _measured(given, taper)
    gauge = _gauge(given)
    if gauge is not None and given["at"] is not None:
        values["diameter"] = t.diameter_at_mm(gauge, taper, given["at"])
        need("diameter there", values["diameter"], "mm", least=0)
    if given["length"] is not None:
        values["slide_travel"] = t.slide_travel_mm(given["length"], taper, given["run"])
    if given["guide_bar"] is not None:
        middle = given["guide_pivot"] == "middle"
        values["attachment_offset"] = attachment_offset_mm(given["guide_bar"], taper, pivot_in_middle=middle)
    if given["ball_large"] is not None and given["ball_large_depth"] is not None:
        values["socket_diameter"] = gauge_diameter_from_balls_mm(given["ball_large"], given["ball_large_depth"], taper)
    return Outcome(values, sources)


def _measured(given: Mapping[str, Any], taper: float) -> dict[str, Any]:
    """What readings say: visible length, diameter error, two diameters."""
    found: dict[str, Any] = {}
    if given["visible"] is not None:
        found["diameter_left"] = diameter_left_mm(given["visible"], given["wanted_visible"], taper)
        found["cuts_left"] = found["diameter_left"] / given["cut"]
    if given["diameter_error"] is not None:
        found["stand_off_change"] = stand_off_change_mm(given["diameter_error"], taper)
    if given["difference_found"] is not None:
        distance = given["over"]
        error = given["difference_found"] - taper * distance
        angle = angle_error_deg(error, distance, taper)
        found |= {
            "difference_wanted": taper * distance, "difference_error": error, "angle_error": angle,
            "swing_by": -angle, "swing_move": swing_move_mm(-angle, given["radius"]),
        }
    return found


def _gauge(given: Mapping[str, Any]) -> float | None:
    """Diameter at the gauge plane: the one given, or that of the Morse size."""
    if given["large"] is not None:
        return float(given["large"])
    if given["taper"] is not None:
        from generator.reckoning.grip import morse_of

        return morse_of(given["taper"]).gauge_diameter_mm
    return None


def _dms(angle_deg: float) -> str:
    degrees, minutes, seconds = t.deg_min_sec(angle_deg)
    return f"{degrees} deg {minutes}' {seconds}\""


RECKONING = Reckoning(
    name="taper",
    summary="one taper in every form: angles, settings, depth for a cut, visible length, sine bar, stand-off",
    inputs=(
        *TAPER_INPUTS,
        Input("at", "distance from the large end, or the gauge plane, towards the small end", "length", "mm"),
        Input("cut", "taken off the diameter by one cut", "length", "mm", default=0.01, above=0),
        Input("visible", "length of plug seen outside its socket", "length", "mm"),
        Input("wanted_visible", "length of plug that should be seen", "length", "mm", default=0.0),
        Input("diameter_error", "how much too large a plug measures at its gauge plane", "length", "mm"),
        Input("difference_found", "difference of two diameters found", "length", "mm"),
        Input("over", "distance between those two", "length", "mm", default=50.0, above=0),
        Input("radius", "radius from the slide's pivot at which it is moved", "length", "mm", default=100.0, above=0),
        Input("travel", "travel of the indicator", "length", "mm", default=25.0, above=0),
        Input("sine_bar", "distance between the rollers of the sine bar", "length", "mm", default=100.0, above=0),
        Input("run", "free run of the slide at each end", "length", "mm", default=2.0, least=0),
        Input("stack", "blocks under the sine bar on which the plug's top reads level", "length", "mm", above=0),
        Input("rolls_above", "size over two equal rolls, raised", "length", "mm", above=0),
        Input("rolls_below", "size over the same rolls below", "length", "mm", above=0),
        Input("rolls_rise", "how far they were raised", "length", "mm", above=0),
        Input("ball_large", "larger ball in a socket", "length", "mm", above=0),
        Input("ball_large_depth", "its top below the face; above it below zero", "length", "mm"),
        Input("ball_small", "smaller ball in a socket", "length", "mm", above=0),
        Input("ball_small_depth", "its top below the face", "length", "mm"),
        Input("guide_bar", "length of the taper attachment's guide bar", "length", "mm", above=0),
        Input("guide_pivot", "where that bar is pivoted", "choice", default="middle", choices=("middle", "end")),
    ),
    outputs=(
        Output("ratio", "mm/mm", "diameter gained for each unit of length"),
        Output("one_in", "", "length in which the diameter changes by one"),
        Output("per_foot", "in/ft", "taper in inches for each foot"),
        Output("per_metre", "mm/m", "taper in millimetres for each metre"),
        Output("half_angle", "deg", "half angle"),
        Output("half_angle_dms", "", "the same in degrees, minutes, seconds"),
        Output("included_angle", "deg", "included angle"),
        Output("included_angle_dms", "", "the same in degrees, minutes, seconds"),
        Output("slide_setting", "deg", "swing of the top slide from the axis"),
        Output("pitch_for_1_mm", "mm", "distance over which the diameter changes by 1.000 mm"),
        Output("pitch_for_40_thou", "mm", "distance over which it changes by 0.040 in"),
        Output("rise_axis", "mm", "rise of an indicator while the carriage moves by the travel"),
        Output("rise_slide", "mm", "rise while the swung slide moves by the travel"),
        Output("sine_bar_half", "mm", "blocks under the sine bar for the half angle"),
        Output("sine_bar_full", "mm", "blocks for the included angle"),
        Output("depth_gained", "mm", "how much deeper a plug goes for one cut"),
        Output("diameter", "mm", "diameter at that distance"),
        Output("slide_travel", "mm", "travel of the swung slide for the length, with its free run"),
        Output("attachment_offset", "mm", "how far the end of the guide bar is moved out"),
        Output("socket_diameter", "mm", "diameter of the socket at its face, from the larger ball"),
        Output("diameter_left", "mm", "still to come off the diameter"),
        Output("cuts_left", "", "cuts of the size given until then"),
        Output("stand_off_change", "mm", "how much further out the plug stands"),
        Output("difference_wanted", "mm", "difference of diameters wanted"),
        Output("difference_error", "mm", "found less wanted"),
        Output("angle_error", "deg", "half angle too large by"),
        Output("swing_by", "deg", "swing the slide by"),
        Output("swing_move", "mm", "that at the radius given"),
    ),
    work=_work,
    source="ISO 3040, C = (D - d) / L = 2 tan(half angle); definition of the sine",
    validity="Tool on centre height: above or below it the flank is curved and the taper changes with every cut.",
    example={"taper": "Morse 3"},
)
