"""What a finished taper reads when it is proved: over rolls, on a sine bar, with balls; and what spoils its flank."""

from __future__ import annotations

import math
from typing import NamedTuple

from generator.reckoning import taper as t
from generator.reckoning.amounts import need

__all__ = [
    "Flank", "ball_top_mm", "blue_error_deg", "difference_tolerance_mm", "flank_of_low_tool_mm", "set_over_change_mm",
    "size_over_rolls_mm", "take_up_mm",
]


class Flank(NamedTuple):
    """What a tool off centre height leaves: the small end too large, and the flank hollow between its ends."""

    small_end_mm: float
    hollow_mm: float


AT6_URAD = (
    (6.0, 315.0), (10.0, 250.0), (16.0, 200.0), (25.0, 160.0), (40.0, 125.0), (63.0, 100.0), (100.0, 80.0),
    (160.0, 63.0), (250.0, 50.0),
)
"""Cone angle tolerance AT6 in microradians for cones longer than each length, ISO 1947, from memory."""


def difference_tolerance_mm(cone_mm: float, over_mm: float) -> float:
    """How much the difference of two diameters this far apart may be off on a cone of this length, grade AT6.

    Raises: RangeError for a cone of 6 mm or less, or above 400.
    Source: ISO 1947, from memory.

    >>> round(difference_tolerance_mm(80.0, 50.0), 4)
    0.005
    """
    need("length of the cone", cone_mm, "mm", above=6, most=400)
    need("distance of the two diameters", over_mm, "mm", above=0)
    return over_mm * next(angle for above, angle in reversed(AT6_URAD) if cone_mm > above) * 1e-6


def size_over_rolls_mm(foot_mm: float, taper: float, roll_mm: float, raised_mm: float) -> float:
    """Size over two equal rolls beside a plug that stands on its small end, the rolls raised on blocks.

    `foot_mm` is the diameter that the cone would have at the plate.
    Source: geometry; procedure in the guide How to measure a taper (rolls and slip blocks).
    """
    need("diameter at the plate", foot_mm, "mm", above=0)
    need("roll", roll_mm, "mm", above=0)
    secant: float = (1.0 + taper * taper / 4.0) ** 0.5
    return foot_mm + taper * (raised_mm + roll_mm / 2.0) + roll_mm * (1.0 + secant)


def ball_top_mm(mouth_mm: float, taper: float, ball_mm: float) -> float:
    """How far the top of a ball lies below the mouth of a tapered socket; below zero where it stands out.

    Source: geometry, centre at (mouth - ball / cos(half)) / taper below the mouth.
    """
    need("ball", ball_mm, "mm", above=0)
    need("taper", taper, above=0, most=2)
    secant: float = (1.0 + taper * taper / 4.0) ** 0.5
    return (mouth_mm - ball_mm * secant) / taper - ball_mm / 2.0


def flank_of_low_tool_mm(large_mm: float, small_mm: float, height_mm: float) -> Flank:
    """What a tool this far above or below centre height does to a cone whose large end is brought to size.

    The radius is then the root of the tool's distance squared plus its height squared, so the flank is hollow.
    Source: geometry (hyperbola); that the flank comes out curved: chestofbooks.com, Compound slide.
    """
    need("small end", small_mm, "mm", above=2 * abs(height_mm), below=large_mm)
    start = math.sqrt(large_mm**2 / 4 - height_mm**2)
    end = start - (large_mm - small_mm) / 2
    found = 2 * math.hypot(end, height_mm)
    middle = 2 * math.hypot((start + end) / 2, height_mm)
    return Flank(found - small_mm, (large_mm + found) / 2 - middle)


def take_up_mm(lost_mm: float, taper: float) -> float:
    """Travel of the carriage in which a taper attachment takes up this much lost motion of the cross slide.

    Source: geometry, lost motion / tan(half angle).
    """
    need("taper", taper, above=0, most=2)
    return 2.0 * lost_mm / taper


def set_over_change_mm(length_mm: float, taper: float, error_mm: float, over_mm: float) -> float:
    """How much further to set over where the difference of two diameters this far apart came out too small by this.

    Source: geometry, length between pivots x sine of the half angle, of both tapers.
    """
    need("distance of the two diameters", over_mm, "mm", above=0)
    return t.set_over_mm(length_mm, taper + error_mm / over_mm) - t.set_over_mm(length_mm, taper)


def blue_error_deg(film_mm: float, bare_mm: float) -> float:
    """Error of the half angle that a film of blue shows which stays untouched over this length.

    Source: geometry, film / bare length.
    """
    need("bare length", bare_mm, "mm", above=0)
    return math.degrees(math.atan(film_mm / bare_mm))
