"""Figures as a plan prints them: every one with its unit, in the unit of the job."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from math import floor, log10

from generator.conversion import clean_mm, converted, inch_at_least, inch_at_most, inch_limits
from generator.reckoning.taper import deg_min_sec
from generator.units import FileUnit, inch_fraction, text_of

__all__ = ["Figures"]

_NUMBER = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)(?![\w.])(?! *(?:deg|°|%|mm|in\b|places))")
_LENGTH = re.compile(
    r"(?P<least>\bat least )?(?P<most>\b(?:at|no) mo(?:st|re than) )?"
    r"(?:(?<![\w.])(?P<by>\d+(?:\.\d+)?) x )?(?<![\w.])(?P<low>\d+(?:\.\d+)?)(?: to (?P<high>\d+(?:\.\d+)?))? mm\b"
    r"(?P<behind> or (?:less|more)\b| at (?:most|least)\b)?"
)
_OTHER = re.compile(
    r"(?<![\w.])(\d+(?:\.\d+)?)(?:( to )(\d+(?:\.\d+)?))? (N mm|N m|kN|N|kg|g|m/min|MPa|um|K|°C)(?![\w/²])"
    r"(?: \((\d+)( to )(\d+)\))?"
)
_INCH_SHOP: dict[str, tuple[str, float]] = {
    "N m": ("lbf ft", 0.737562), "N mm": ("lbf in", 0.00885075), "kN": ("lbf", 224.809), "N": ("lbf", 0.224809),
    "kg": ("lb", 2.20462), "g": ("oz", 0.035274), "m/min": ("ft/min", 3.28084), "MPa": ("psi", 145.038),
    "um": ("in", 1.0 / 25400.0), "K": ("°F", 1.8),
}
"""What an inch shop says instead, and how many of those make one (kelvins: of a difference, never of a temperature).

Source: yard and pound of 1959, exact.
"""
_EACH_INCH = re.compile(r"\b(each|every) 25 mm\b")
_FINEST_INCH = 5
_ROUGH_F = 100.0
"""From here on a temperature is told to five degrees: nobody hardens, warms or tempers closer. Shop choice."""
_UNIT = re.compile(r"\d *(?:deg|°|%|mm|in\b)")


@dataclass(frozen=True, slots=True)
class Figures:
    """Writes lengths in the unit of the job; a setting is followed by the other unit in brackets in an inch job."""

    unit: FileUnit = "mm"

    def bare(self, value_mm: float, places: int = 2) -> str:
        """A length without its unit, `places` counted in mm; inches get two more."""
        if self.unit == "in":
            return text_of(value_mm, "in", places + 1 if places else 2)
        return f"{value_mm:.{places}f}" if places > 2 else text_of(value_mm, "mm", places)

    def length(self, value_mm: float, places: int = 2) -> str:
        """A length with its unit."""
        return f"{self.bare(value_mm, places)} {self.unit}"

    def within(self, low_mm: float, high_mm: float, places: int = 3) -> str:
        """Two limits without their unit, `places` counted in mm; in inches rounded inwards, as on the sheets.

        >>> Figures("in").within(17.001, 17.012), Figures("mm").within(17.001, 17.012)
        ('0.6694 to 0.6697', '17.001 to 17.012')
        """
        if self.unit == "mm":
            return f"{self.bare(low_mm, places)} to {self.bare(high_mm, places)}"
        low, high, places = inch_limits(clean_mm(low_mm), clean_mm(high_mm))
        return f"{low:.{places}f} to {high:.{places}f}"

    def at_most(self, limit_mm: float) -> str:
        """What may not be exceeded, without its unit; in inches rounded down.

        >>> Figures("in").at_most(0.01)
        '0.0003'
        """
        return f"{inch_at_most(clean_mm(limit_mm)):f}" if self.unit == "in" else self.bare(limit_mm, 3)

    def at_least(self, limit_mm: float) -> str:
        """What must be had, without its unit; in inches rounded up."""
        return f"{inch_at_least(clean_mm(limit_mm)):f}" if self.unit == "in" else self.bare(limit_mm, 3)

    def both(self, value_mm: float, places: int = 2) -> str:
        """A length with its unit; in an inch job with the millimetres behind it."""
        behind = f" ({text_of(value_mm, 'mm', places)} mm)" if self.unit == "in" else ""
        return self.length(value_mm, places) + behind

    def bar(self, diameter_mm: float) -> str:
        """A bar with its unit; in inches as the stockist sells it, the decimals behind it.

        >>> Figures("in").bar(57.15), Figures("in").bar(55.0)
        ('2 1/4 in (2.250)', '2.165 in')
        """
        said = inch_fraction(diameter_mm) if self.unit == "in" else ""
        return f"{said} in ({self.bare(diameter_mm)})" if said else self.length(diameter_mm)

    def fixed(self, value_mm: float) -> str:
        """A setting with its unit, to a hundredth of a millimetre or a thousandth of an inch, zeros kept."""
        return self.length(value_mm) if self.unit == "in" else f"{value_mm:.2f} mm"

    def prose(self, text: str) -> str:
        """A sentence with its figures ("0.3 mm", "17.001 to 17.012 mm", "6 N m") in the units of the job.

        In inches ranges are rounded inwards, what is "at most" or "or less" down, what is "at least" or "or more" up.

        >>> Figures("in").prose("tighten to 6.1 N m, 0.3 mm over")
        'tighten to 4.5 lbf ft, 0.012 in over'
        """
        if self.unit == "mm":
            return text
        return _OTHER.sub(_in_inch_shop, _LENGTH.sub(_inches, _EACH_INCH.sub(r"\1 inch", text)))

    def quantity(self, value: float, unit: str) -> str:
        """A figure of any unit, in what the job's shop says instead.

        >>> Figures("in").quantity(100.0, "N")
        '22.5 lbf'
        """
        if unit == "mm":
            return self.length(value, 3)
        if self.unit == "in" and unit in _INCH_SHOP:
            unit, factor = _INCH_SHOP[unit]
            return f"{_inch_digits(value * factor) if unit == 'in' else _digits(value * factor, 3)} {unit}"
        return f"{value:g} {unit}".strip()

    def in_words(self, text: str) -> str:
        """A text whose bare numbers are millimetres, written with its unit in the unit of the job."""
        if not _NUMBER.search(text):
            return text
        if self.unit == "in":
            text = _NUMBER.sub(lambda found: _limit(found, text), text)
        last = list(re.finditer(r"\d+(?:\.\d+)?", text))[-1]
        return text if _UNIT.match(text, last.end() - 1) else f"{text[: last.end()]} {self.unit}{text[last.end() :]}"

    @staticmethod
    def angle(value_deg: float) -> str:
        """An angle in degrees, minutes and seconds."""
        degrees, minutes, seconds = deg_min_sec(value_deg)
        return f"{degrees}° {minutes:02d}′ {seconds:02d}″"


def _in_inch_shop(found: re.Match[str]) -> str:
    """A figure or range of force, torque, mass, speed or heat in the units of an inch shop."""
    first, between, second, unit, inner, inner_between, outer = found.groups()
    if unit == "°C":
        ends = [f"{_fahrenheit(one)}" for one in (first, second) if one]
        inside = f"{_fahrenheit(inner)}{inner_between}{_fahrenheit(outer)}; " if inner else ""
        return f"{(between or '').join(ends)} °F ({inside}{first}{between or ''}{second or ''} °C)"
    other, factor = _INCH_SHOP[unit]
    kept = found[0][found[0].index(unit) + len(unit) :]
    if other == "in":
        return f"{(between or '').join(_inch_digits(float(one) * factor) for one in (first, second) if one)} in{kept}"
    places = [max(2, len(one.replace(".", "").lstrip("0"))) for one in (first, second) if one]
    ends = [
        _digits(float(one) * factor, count) for one, count in zip((first, second), places, strict=False) if one
    ]
    return f"{(between or '').join(ends)} {other}{kept}"


def _fahrenheit(celsius: str) -> str:
    exact = float(celsius) * 9 / 5 + 32
    return f"{round(exact / 5) * 5 if exact >= _ROUGH_F else round(exact):d}"


def _limit(found: re.Match[str], text: str) -> str:
    """A bare figure of millimetres in inches; after "at most" rounded down, after "at least" up."""
    before, value = text[: found.start()], clean_mm(float(found[1]))
    if value and before.endswith("at most "):
        return f"{inch_at_most(value):f}"
    return f"{inch_at_least(value):f}" if before.endswith("at least ") else text_of(float(found[1]), "in", 4)


def _inch_digits(value_in: float) -> str:
    """A reckoned amount in inches: four places, a fifth where it is less than a thousandth."""
    places = 4 if abs(value_in) >= 0.001 else _FINEST_INCH
    return f"{value_in:.{places}f}"


def _digits(value: float, count: int) -> str:
    """A number to so many digits that count, without an exponent."""
    if value == 0:
        return "0"
    places = count - 1 - floor(log10(abs(value)))
    return f"{round(value, places):.{max(0, places)}f}"


def _inches(found: re.Match[str]) -> str:
    """One length or a range in inches, two places finer than it was given, three or four of them."""
    first, second, behind = found["low"], found["high"], found["behind"] or ""
    before = (found["least"] or "") + (found["most"] or "")
    least = bool(found["least"]) or behind in {" or more", " at least"}
    most = bool(found["most"]) or behind in {" or less", " at most"}
    if found["by"]:
        before += f"{_inch(found['by'])} x "
    if second:
        low, high = _inch(first, ROUND_CEILING), _inch(second, ROUND_FLOOR)
        if float(low) >= float(high) and first != second:
            low, high = _inch(first, ROUND_CEILING, 1), _inch(second, ROUND_FLOOR, 1)
        return f"{before}{low} to {high} in{behind}"
    return f"{before}{_inch(first, ROUND_CEILING if least else ROUND_FLOOR if most else ROUND_HALF_UP)} in{behind}"


def _inch(figure: str, rounding: str = ROUND_HALF_UP, finer: int = 0) -> str:
    """A figure of millimetres in inches, so many places finer; a limit that would be rounded away gets four."""
    places = min(4, max(3, len(figure.partition(".")[2]) + 2)) + finer
    value = converted(Decimal(figure), "in")
    rounded = value.quantize(Decimal(1).scaleb(-places), rounding=rounding)
    return f"{rounded if rounded or not value else value.quantize(Decimal(1).scaleb(-4), rounding=rounding):f}"
