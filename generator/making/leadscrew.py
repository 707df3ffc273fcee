"""A thread against the leadscrew of this lathe: wheels where their systems differ, and when the half-nuts close."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import gcd

from generator.making.workshop import Workshop
from generator.tables import Thread
from generator.units import INCH_MM

__all__ = ["Match", "common_travel_mm", "leadscrew_mm", "match_of", "pitch_mm"]

_HUNDRED_FOR_127 = Fraction(63, 80)
"""Stands in for 100 : 127, one part in 8000 too much: 8001 / 8000. Source: arithmetic."""


@dataclass(frozen=True, slots=True)
class Match:
    """What a thread asks of the leadscrew, line by line; `closed` where the half-nuts stay in to the last pass."""

    lines: tuple[str, ...]
    closed: bool


def pitch_mm(thread: Thread) -> Fraction:
    """The exact pitch of a thread: of an inch one from its threads to the inch.

    Source: ASME B1.1, ISO 261.
    """
    if _is_inch(thread):
        return INCH_MM / Fraction(round(2 * float(INCH_MM) / thread.pitch_mm), 2)
    return Fraction(str(round(thread.pitch_mm, 4)))


def leadscrew_mm(workshop: Workshop) -> Fraction:
    """The exact pitch of the leadscrew.

    Source: the shop file; an inch screw has whole or half threads to the inch.
    """
    given = workshop.leadscrew_pitch_mm
    if workshop.leadscrew == "inch":
        return INCH_MM / Fraction(round(2 * float(INCH_MM) / given), 2)
    return Fraction(str(round(given, 3)))


def common_travel_mm(one: Fraction, other: Fraction) -> Fraction:
    """The least travel that is a whole number of both pitches.

    Source: least common multiple of fractions, arithmetic.

    >>> common_travel_mm(Fraction(5, 4), Fraction(3))
    Fraction(15, 1)
    """
    shared = gcd(one.numerator * other.denominator, other.numerator * one.denominator)
    return one * other * one.denominator * other.denominator / shared


def match_of(thread: Thread, workshop: Workshop) -> Match:
    """What the leadscrew of this lathe asks for at this thread.

    Source: ratio of the wheels is pitch over pitch of the leadscrew, 5 p n / 127 for p mm on n threads to the inch
    (workshop handbooks, from memory); half-nuts and thread dial common practice, no source.
    """
    pitch, screw = pitch_mm(thread), leadscrew_mm(workshop)
    if _is_inch(thread) != (workshop.leadscrew == "inch"):
        return Match((_wheels(pitch / screw, workshop), _STAY_IN), closed=True)
    if (screw / pitch).denominator == 1:
        anywhere = f"leadscrew {_told(screw, workshop)}, a whole multiple: the half-nuts may close anywhere"
        return Match((anywhere,), closed=False)
    return Match((_dial(common_travel_mm(pitch, screw), screw, workshop),), closed=False)


_STAY_IN = (
    "no thread dial serves: half-nuts stay in from first cut to last, tool out, spindle reversed or turned back"
)


def _wheels(ratio: Fraction, workshop: Workshop) -> str:
    """The change wheels with their 127, and what stands in for it."""
    over = workshop.leadscrew == "inch"
    plain = ratio * Fraction(127, 100) if over else ratio * Fraction(100, 127)
    near = _HUNDRED_FOR_127 if over else 1 / _HUNDRED_FOR_127
    rest = "" if plain == 1 else f" x {_ratio(plain)}"
    off = "long" if over else "short"
    return (
        f"leadscrew {_told(leadscrew_mm(workshop), workshop)}: 127-tooth wheel, spindle to leadscrew {_ratio(ratio)}; "
        f"without one {_ratio(near)}{rest}, pitch then 1 part in 8000 {off}"
    )


def _ratio(value: Fraction) -> str:
    return f"{value.numerator} : {value.denominator}"


def _dial(common: Fraction, screw: Fraction, workshop: Workshop) -> str:
    """When the half-nuts close on a thread whose pitch does not go into the leadscrew's."""
    teeth = common / screw
    if workshop.leadscrew == "inch":
        every = f"every {common / INCH_MM} in of carriage"
    else:
        every = f"every {float(common):g}\u00a0mm of carriage"
    return (
        f"leadscrew {_told(screw, workshop)}, no whole multiple: half-nuts close only {every}, by a thread dial whose "
        f"wheel has a multiple of {teeth} teeth; without one they stay in and the spindle is reversed"
    )


def _told(screw: Fraction, workshop: Workshop) -> str:
    """The leadscrew as its own system tells it."""
    if workshop.leadscrew == "inch":
        return f"{float(INCH_MM / screw):g} to the inch"
    # A space that does not break keeps the pitch as the screw's own, also in an inch job.
    return f"{float(screw):g}\u00a0mm"


def _is_inch(thread: Thread) -> bool:
    return thread.series.startswith("UN")
