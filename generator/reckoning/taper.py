"""Taper turning: angles, settings, set-over and what a cut does to the depth at which a shank seats.

A taper is held as its ratio: diameter gained for each unit of length along the axis (Morse 3: 1/19.922 = 0.0502).
Where only sums, products and roots are used, arrays of ratios pass through as single ones do; functions with an angle
in degrees take single numbers.
"""

from __future__ import annotations

import math
from typing import NamedTuple

__all__ = [
    "DegMinSec",
    "apex_below_face_mm",
    "ball_centre_outside_face_mm",
    "ball_contact_diameter_mm",
    "deg_min_sec",
    "depth_gained_mm",
    "diameter_at_mm",
    "half_angle_deg",
    "largest_ball_mm",
    "length_apex_to_apex_mm",
    "length_ball_to_ball_mm",
    "length_tipped_centres_mm",
    "pitch_for_difference_mm",
    "pivot_below_face_mm",
    "rise_along_axis_mm",
    "rise_along_slide_mm",
    "scaled_set_over_mm",
    "set_over_mm",
    "sine_bar_stack_mm",
    "slide_travel_mm",
    "taper_between",
    "taper_of_half_angle",
    "taper_per_foot_in",
]

CONE_HALF_DEG = 30.0
"""Half angle of a centre and of its hole. Source: ISO 6411, 60 degrees included."""

_COS_30 = math.cos(math.radians(CONE_HALF_DEG))
_TAN_30 = math.tan(math.radians(CONE_HALF_DEG))
_ROOT_3 = math.sqrt(3.0)


class DegMinSec(NamedTuple):
    """An angle below 360 degrees, as dials and protractors are read."""

    degrees: int
    minutes: int
    seconds: int


def _secant_of_half(taper: float) -> float:
    secant: float = (1.0 + taper * taper / 4.0) ** 0.5
    return secant


def _sine_of_half(taper: float) -> float:
    return taper / 2.0 / _secant_of_half(taper)


def deg_min_sec(angle_deg: float) -> DegMinSec:
    """Degrees, minutes and whole seconds of an angle of 0 or more.

    Source: sixty minutes to the degree, sixty seconds to the minute.

    >>> deg_min_sec(1.4377029)
    DegMinSec(degrees=1, minutes=26, seconds=16)
    """
    minutes, seconds = divmod(round(angle_deg * 3600), 60)
    degrees, minutes = divmod(minutes, 60)
    return DegMinSec(degrees, minutes, seconds)


def taper_between(large_mm: float, small_mm: float, distance_mm: float) -> float:
    """Taper ratio from two diameters a distance apart along the axis, distance above 0.

    Source: ISO 3040, rate of taper C = (D - d) / L.
    """
    return (large_mm - small_mm) / distance_mm


def taper_of_half_angle(half_deg: float) -> float:
    """Taper ratio of a cone with this half angle, 0 to below 90 degrees.

    Source: ISO 3040, C = 2 tan(half angle).
    """
    return 2.0 * math.tan(math.radians(half_deg))


def half_angle_deg(taper: float) -> float:
    """Half angle in degrees of a taper ratio of 0 or more: what a top slide is swung by.

    Source: ISO 3040, C = 2 tan(half angle).
    """
    return math.degrees(math.atan(taper / 2.0))


def taper_per_foot_in(taper: float) -> float:
    """Inches of diameter in each foot of length, as inch tables give a taper.

    Source: twelve inches to the foot.
    """
    return taper * 12.0


def diameter_at_mm(gauge_mm: float, taper: float, distance_mm: float) -> float:
    """Diameter at a distance from the gauge plane towards the small end (negative: towards the large end).

    Source: ISO 3040, C = (D - d) / L.
    """
    return gauge_mm - taper * distance_mm


def rise_along_axis_mm(travel_mm: float, taper: float) -> float:
    """What an indicator rises on the flank when the carriage moves this far along the axis of the taper.

    Source: tangent of the half angle, by geometry.
    """
    return travel_mm * taper / 2.0


def rise_along_slide_mm(travel_mm: float, taper: float) -> float:
    """What an indicator square to the lathe's axis reads on a parallel bar when the swung top slide moves this far.

    Source: sine of the half angle, by geometry; on a Morse taper 0.03 % less than the tangent.
    """
    return travel_mm * _sine_of_half(taper)


def depth_gained_mm(off_diameter_mm: float, taper: float) -> float:
    """How much further a shank enters its socket when this much is taken off its diameter; taper above 0.

    Source: ISO 3040, C = (D - d) / L, solved for L.
    """
    return off_diameter_mm / taper


def pitch_for_difference_mm(difference_mm: float, taper: float) -> float:
    """Distance along the axis over which the diameter changes by this difference; taper above 0.

    Two flanges cut this far apart show the difference when the slide is set right.
    Source: ISO 3040, C = (D - d) / L; the two-flange test piece is Harold Hall, homews.co.uk, pages 47 to 50.
    """
    return difference_mm / taper


def slide_travel_mm(cone_mm: float, taper: float, run_mm: float) -> float:
    """Travel along the swung slide for a cone of this length along the axis, with `run_mm` free at each end.

    Source: geometry, length / cos(half angle).
    """
    return cone_mm * _secant_of_half(taper) + 2.0 * run_mm


def sine_bar_stack_mm(bar_mm: float, angle_deg: float) -> float:
    """Height of the gauge blocks under one roller of a sine bar with this distance between rollers.

    Source: definition of the sine; worked in US Army TC 9-524, appendix C.
    """
    return bar_mm * math.sin(math.radians(angle_deg))


def largest_ball_mm(mouth_mm: float) -> float:
    """Largest ball that still bears on the 60 degree cone of a hole with this mouth, and not on its rim.

    Source: geometry, a ball touches a 60 degree cone on a circle of 0.866 x its diameter.
    """
    return mouth_mm / _COS_30


def ball_contact_diameter_mm(ball_mm: float) -> float:
    """Diameter of the circle on which a ball bears in a 60 degree hole; it must lie between pilot and mouth.

    Source: geometry, 0.866 x the ball.
    """
    return ball_mm * _COS_30


def ball_centre_outside_face_mm(ball_mm: float, mouth_mm: float) -> float:
    """How far the middle of a ball in a 60 degree centre hole lies outside the face of the work (negative: inside).

    Geometry: the middle lies radius / sin 30 = one ball diameter from the apex of the cone, and the apex lies
    0.866 x mouth below the face. Holds while the ball bears on the cone: 0.866 x ball between pilot and mouth.
    Source: geometry.
    """
    return ball_mm - apex_below_face_mm(mouth_mm)


def apex_below_face_mm(mouth_mm: float) -> float:
    """Depth of the apex of a 60 degree centre hole below the face, from its mouth diameter.

    Source: geometry, (mouth / 2) / tan 30 = 0.866 x mouth.
    """
    return mouth_mm / 2.0 / _TAN_30


def pivot_below_face_mm(mouth_mm: float, pilot_mm: float) -> float:
    """Depth below the face of the point about which a 60 degree centre tips in a sharp new 60 degree hole.

    Geometry: tipped by a small angle and pressed home, two equal cones touch at the rim of the mouth on one side and
    at the rim of the pilot on the other. The normals of the two contacts meet on the axis (mouth + pilot) / sqrt 3
    from the apex, just as if a ball bore half-way between the two rims. That is within 0.02 x mouth of the face for
    the usual mouth of 2.12 x pilot. Source: geometry.
    """
    return apex_below_face_mm(mouth_mm) - (mouth_mm + pilot_mm) / _ROOT_3


def length_ball_to_ball_mm(
    faced_mm: float, ball_mm: float, near_mouth_mm: float, far_mouth_mm: float
) -> float:
    """Distance between ball centres for work of this length between faces, the same ball size at both ends.

    It does not change with set-over: balls are true pivots. Source: geometry.
    """
    return (
        faced_mm
        + ball_centre_outside_face_mm(ball_mm, near_mouth_mm)
        + ball_centre_outside_face_mm(ball_mm, far_mouth_mm)
    )


def length_apex_to_apex_mm(faced_mm: float, near_mouth_mm: float, far_mouth_mm: float) -> float:
    """Distance between the apexes of two 60 degree centre holes: the old shop rule for the length to reckon with.

    It is the least that the supported length can be; a set-over reckoned from it leaves metal at the small end.
    Source: F. D. Jones, Turning and Boring, and Turning and boring tapers, 1902: take off what the centres enter.
    """
    return faced_mm - apex_below_face_mm(near_mouth_mm) - apex_below_face_mm(far_mouth_mm)


def length_tipped_centres_mm(
    faced_mm: float, near_hole_mm: tuple[float, float], far_hole_mm: tuple[float, float]
) -> float:
    """Distance between the points about which 60 degree centres tip in sharp holes, each hole as (mouth, pilot).

    Source: geometry, see `pivot_below_face_mm`. Worn or bell-mouthed holes lie between this and apex to apex.
    """
    return faced_mm - pivot_below_face_mm(*near_hole_mm) - pivot_below_face_mm(*far_hole_mm)


def set_over_mm(supported_mm: float, taper: float) -> float:
    """How far to move one support sideways so that work held between pivots this far apart is cut to the taper.

    The axis of the work swings about the fixed pivot and the tool runs parallel to the bed, so the set-over is
    supported length x sin(half angle). The textbook formula L (D - d) / 2 l takes the tangent: 0.03 % more on a Morse
    taper. The whole length between supports counts, not the length of the taper.
    Source: geometry; textbook form in F. D. Jones, Turning and Boring, and J. Rose, Modern Machine-Shop Practice.
    """
    return supported_mm * _sine_of_half(taper)


def scaled_set_over_mm(set_over_now_mm: float, wanted_difference_mm: float, found_difference_mm: float) -> float:
    """The next set-over after a check cut: scaled by the wanted over the found difference of two diameters.

    Source: set-over is proportional to the taper it cuts while the supports stay as they are.
    """
    return set_over_now_mm * wanted_difference_mm / found_difference_mm
