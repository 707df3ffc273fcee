"""Set-over for turning a taper between centres: what length really counts, which way, and how to check it.

Each end of the work is held by a ball or by a 60 degree point. A ball is a true pivot; a point tips in its hole. The
length between the two pivots is what the set-over belongs to, so a support that is changed half-way changes the taper.
"""

from __future__ import annotations

import math
from typing import Literal, NamedTuple

from generator.reckoning import taper as t
from generator.reckoning.amounts import need

__all__ = [
    "Band", "Check", "Support", "band_mm", "change_error_mm", "check_diameters", "direction", "indicator_rise_mm",
    "outside_face_mm", "screw_turns", "screw_words", "set_over_of_indicator_mm", "share_of_length", "support_length_mm",
    "supported_diameter_error_mm",
]

Form = Literal["ball", "point"]

MUCH_SHARE = 0.02
"""Set-over over length from which a point in a 60 degree hole is said to suffer. Common practice, no source."""


class Support(NamedTuple):
    """One end of the work: ball or 60 degree point, mouth and pilot of its centre hole, diameter of the ball."""

    form: Form
    mouth_mm: float
    pilot_mm: float
    ball_mm: float = 0.0


class Band(NamedTuple):
    """Least, likely and largest length between the pivots."""

    least_mm: float
    likely_mm: float
    most_mm: float


class Check(NamedTuple):
    """Two diameters to measure, a distance apart along the work, and their difference."""

    near_mm: float
    far_mm: float
    difference_mm: float


def outside_face_mm(support: Support) -> float:
    """How far the pivot of a support lies outside the face of the work; below zero inside it.

    Raises: RangeError for a ball that does not bear on the cone of the hole, between pilot and mouth.
    Source: geometry, see `taper.ball_centre_outside_face_mm` and `taper.pivot_below_face_mm`.
    """
    need("mouth of the centre hole", support.mouth_mm, "mm", above=0)
    need("pilot of the centre hole", support.pilot_mm, "mm", above=0, below=support.mouth_mm)
    if support.form == "point":
        return -t.pivot_below_face_mm(support.mouth_mm, support.pilot_mm)
    circle = t.ball_contact_diameter_mm(support.ball_mm)
    need("circle on which the ball bears (0.866 x ball; between pilot and mouth)", circle, "mm",
         least=support.pilot_mm, most=support.mouth_mm)
    return t.ball_centre_outside_face_mm(support.ball_mm, support.mouth_mm)


def support_length_mm(faced_mm: float, headstock: Support, tailstock: Support) -> float:
    """Length between the pivots for work of this length between its faces, any mixture of supports.

    Source: geometry.
    """
    need("length between faces", faced_mm, "mm", above=0)
    length = faced_mm + outside_face_mm(headstock) + outside_face_mm(tailstock)
    need("length between the pivots", length, "mm", above=0)
    return length


def band_mm(faced_mm: float, headstock: Support, tailstock: Support) -> Band:
    """The length between the pivots with its doubt: a ball has none, a worn hole lets a point tip about its apex.

    Source: geometry; apex to apex is the old shop rule (Turning and boring tapers, 1902).
    """
    likely = support_length_mm(faced_mm, headstock, tailstock)
    least = faced_mm + math.fsum(
        -t.apex_below_face_mm(end.mouth_mm) if end.form == "point" else outside_face_mm(end)
        for end in (headstock, tailstock)
    )
    return Band(least, likely, likely)


def share_of_length(set_over_mm: float, length_mm: float) -> float:
    """Set-over over length; from 0.02 on balls are advised, for every Morse taper needs about 0.025.

    Source: the 2 % are common practice, no source.
    """
    need("length", length_mm, "mm", above=0)
    return set_over_mm / length_mm


def direction(*, small_end_at_tailstock: bool) -> str:
    """Which way the tailstock goes, the tool working from the front.

    Source: geometry: what comes towards the tool is cut smaller.
    """
    return "towards the operator" if small_end_at_tailstock else "away from the operator"


def check_diameters(at_near_mm: float, taper: float, near_mm: float, far_mm: float) -> Check:
    """The two diameters to measure, `near_mm` and `far_mm` from the large end where the diameter is `at_near_mm`.

    Source: ISO 3040, C = (D - d) / L.
    """
    need("distance of the second place beyond the first", far_mm - near_mm, "mm", above=0)
    first, second = (t.diameter_at_mm(at_near_mm, taper, at) for at in (near_mm, far_mm))
    need("diameter at the second place", second, "mm", above=0)
    return Check(first, second, first - second)


def change_error_mm(taper: float, before_mm: float, after_mm: float, over_mm: float) -> float:
    """By how much the difference of diameters over this length is too large, supports changed and the set-over left.

    A shorter length between pivots makes the taper steeper. Source: sine of the half angle = set-over over length.
    """
    need("length between pivots before", before_mm, "mm", above=0)
    need("length between pivots after", after_mm, "mm", above=0)
    sine = t.set_over_mm(before_mm, taper) / after_mm
    need("set-over over length between pivots", sine, above=-1, below=1)
    cut: float = 2 * sine / (1 - sine**2) ** 0.5
    return (cut - taper) * over_mm


def supported_diameter_error_mm(taper: float, true_mm: float, used_mm: float, over_mm: float) -> float:
    """Error of the difference of diameters over this length where the set-over was reckoned with another length.

    Source: as `change_error_mm`, the length used standing for the one before.

    >>> round(supported_diameter_error_mm(1 / 19.922, 289.1, 300.0, 65.0), 2)
    0.12
    """
    return change_error_mm(taper, used_mm, true_mm, over_mm)


def indicator_rise_mm(set_over_mm: float, master_length_mm: float, master_taper: float, travel_mm: float) -> float:
    """What an indicator on the carriage shows along a finished taper held between the same centres.

    The finished taper may be of another length, and of another taper, than the work: its axis swings by
    arcsin(set-over / its own length between pivots). Above zero: the flank on the tool's side comes nearer towards the
    tailstock faster than the finished taper falls away, so the set-over is more than its own. Both have the small end
    at the tailstock. It reads 0 all along when the set-over is right for the finished taper itself.
    Source: geometry, travel x tan(swing - half angle).
    """
    need("length of the finished taper between pivots", master_length_mm, "mm", above=0)
    need("set-over over that length", set_over_mm / master_length_mm, above=-0.5, below=0.5)
    swing = math.asin(set_over_mm / master_length_mm)
    return travel_mm * math.tan(swing - math.atan(master_taper / 2))


def screw_turns(amount_mm: float, lead_mm: float) -> tuple[int, int]:
    """Whole turns of the set-over screw and the whole degrees beyond them that come nearest to this set-over.

    Raises: RangeError for a set-over below zero or a screw without a lead.
    Source: lead of a screw, travel in one turn (ISO 5408).

    >>> screw_turns(3.64, 1.5)
    (2, 154)
    """
    need("set-over", amount_mm, "mm", least=0)
    need("lead of the set-over screw", lead_mm, "mm", above=0)
    turns, rest = divmod(round(360.0 * amount_mm / lead_mm), 360)
    return int(turns), int(rest)


def screw_words(amount_mm: float, lead_mm: float) -> str:
    """A set-over as it is turned at its screw.

    Source: see `screw_turns`.

    >>> screw_words(3.64, 1.5)
    '2 turns and 154°'
    """
    turns, rest = screw_turns(amount_mm, lead_mm)
    whole = f"{turns} turn{'s' if turns != 1 else ''}"
    return f"{whole} and {rest}°" if turns and rest else whole if turns else f"{rest}°"


def set_over_of_indicator_mm(
    rise_mm: float, travel_mm: float, master_length_mm: float, master_taper: float
) -> float:
    """The set-over that is really there, from the rise along a finished taper of this length between pivots.

    Source: `indicator_rise_mm` solved for the set-over.
    """
    need("travel of the indicator", travel_mm, "mm", above=0)
    need("length of the finished taper between pivots", master_length_mm, "mm", above=0)
    need("rise over travel", rise_mm / travel_mm, least=-0.5, most=0.5)
    return master_length_mm * math.sin(math.atan(rise_mm / travel_mm) + math.atan(master_taper / 2))
