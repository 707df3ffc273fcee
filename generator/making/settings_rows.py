"""One taper as it is set up for: its sizes, its blank, the shop it is cut in, and rows that say what to do.

Every row carries its figure in the unit of the job; a figure of the machine that nobody gave says so behind it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from generator.description import Choices, Part, Surface, diameter_at, face_positions
from generator.making.figures import Figures
from generator.making.operations_dials import dial_move, in_words
from generator.making.stock import StockRow
from generator.making.workshop import Dial, Workshop
from generator.reckoning import taper as reckon
from generator.units import INCH_MM, text_of

__all__ = ["GEOMETRY", "Cone", "Setting", "cone_of", "counted", "minutes", "turned"]

GEOMETRY = "geometry"
_OVER_MM = (150.0, 100.0, 75.0, 60.0, 50.0, 40.0, 30.0, 25.0, 20.0, 15.0, 10.0)
_OVER_IN = (6.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.0, 0.75, 0.5, 0.375)
_ENDS_MM = 3.0
"""Kept clear of either end of a cone when two diameters are measured. Shop choice."""


@dataclass(frozen=True, slots=True)
class Setting:
    """One figure to set or to prove, under the heading `group`; `main` is the one to set the machine to.

    `after` is True for what is wanted once the first cut is made: checks, corrections, other ways, the point.
    """

    group: str
    label: str
    value: str
    note: str = ""
    source: str = ""
    main: bool = False
    after: bool = False


@dataclass(frozen=True, slots=True)
class Cone:
    """A taper, with what is needed to set up for it.

    `head` stands before each heading where a tool has more than one taper. `foot_mm` is the diameter that the cone
    would have at the part's end beyond its small end, where it stands on a plate.
    """

    part: Part
    surface: Surface
    choices: Choices
    blank: StockRow | None
    workshop: Workshop
    figures: Figures
    head: str
    ratio: float
    small_mm: float
    large_mm: float
    length_mm: float
    foot_mm: float

    @property
    def inside(self) -> bool:
        """True for a socket."""
        return self.surface.side != "outside"

    @property
    def half_deg(self) -> float:
        """Half angle."""
        return abs(self.surface.half_angle_deg)

    @property
    def over_mm(self) -> float:
        """Distance of two diameters to measure: the longest round one that the cone has room for."""
        inch = self.figures.unit == "in"
        room = self.length_mm - 2 * _ENDS_MM
        sizes = [one * float(INCH_MM) for one in _OVER_IN] if inch else _OVER_MM
        return next((one for one in sizes if one <= room), 0.6 * self.length_mm)

    @property
    def travel_mm(self) -> float:
        """Travel of an indicator: 25 mm, or an inch."""
        return float(INCH_MM) if self.figures.unit == "in" else 25.0

    @property
    def error_mm(self) -> float:
        """A small error to reckon corrections for: a hundredth of a millimetre, or half a thousandth of an inch."""
        return 0.0005 * float(INCH_MM) if self.figures.unit == "in" else 0.01

    def fine(self, value_mm: float) -> str:
        """A small amount with its unit: thousandths of a millimetre, ten-thousandths of an inch."""
        return self.figures.length(value_mm, 3)

    def division(self, value_mm: float) -> str:
        """What a dial or an instrument reads to, with its unit."""
        return f"{text_of(value_mm, self.figures.unit, 4)} {self.figures.unit}"

    def error_text(self) -> str:
        """The small error in words."""
        return "0.0005 in" if self.figures.unit == "in" else "0.01 mm"

    def shop(self, name: str, text: str) -> str:
        """A figure of the shop, marked where nobody gave it."""
        return f"{text} (default)" if self.workshop.is_default(name) else text


def cone_of(
    part: Part, surface: Surface, choices: Choices, blank: StockRow | None, workshop: Workshop, figures: Figures,
    head: str = "",
) -> Cone:
    """The taper with its sizes worked out at nominal.

    Source: ISO 3040, C = 2 tan(half angle).
    """
    z_of = face_positions(part)
    small, large = (surface.near, surface.far) if surface.half_angle_deg > 0 else (surface.far, surface.near)
    end = (min if surface.half_angle_deg > 0 else max)(z_of.values())
    low, high, foot = (diameter_at(part, surface, z, z_of) for z in (z_of[small], z_of[large], end))
    ratio = reckon.taper_of_half_angle(abs(surface.half_angle_deg))
    length = abs(z_of[surface.far] - z_of[surface.near])
    return Cone(part, surface, choices, blank, workshop, figures, head, ratio, low, high, length, foot)


def counted(travel_mm: float, dial: Dial) -> str:
    """A travel in the whole turns and divisions of a dial that come nearest.

    Source: arithmetic.

    >>> counted(3.13, Dial(0.02, 3.0))
    '1 turn and 6 divisions'
    """
    return in_words(dial_move(travel_mm, dial))


def turned(amount_mm: float, indicator_mm: float) -> str:
    """An amount as an indicator shows it, a hundred divisions to the turn.

    Source: dials of a hundred divisions, common practice, no source.

    >>> turned(3.124, 0.01)
    '3 turns and 12 divisions'
    """
    return counted(amount_mm, Dial(indicator_mm, 100 * indicator_mm))


def minutes(angle_deg: float) -> str:
    """A small angle in minutes and tenths, or in seconds below one minute.

    Source: sixty minutes to the degree.

    >>> minutes(0.0055)
    '20″'
    """
    seconds = angle_deg * 3600
    return f"{seconds:.0f}″" if seconds < 60 else f"{math.floor(seconds / 60)}′ {seconds % 60:02.0f}″"
