"""Figures as a plan prints them: every one with its unit, in the unit of the job."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import floor, log10

from generator.reckoning.taper import deg_min_sec
from generator.units import FileUnit, text_of

__all__ = ["Figures"]

_NUMBER = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)(?![\w.])(?! *(?:deg|°|%|mm|in\b|places))")
_LENGTH = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)(?:( to )(\d+(?:\.\d+)?))? mm\b")
_OTHER = re.compile(
    r"(?<![\w.])(\d+(?:\.\d+)?)(?:( to )(\d+(?:\.\d+)?))? (N mm|N m|kN|N|kg|g|m/min|°C)(?![\w/²])"
    r"(?: \((\d+)( to )(\d+)\))?"
)
_INCH_SHOP: dict[str, tuple[str, float]] = {
    "N m": ("lbf ft", 0.737562), "N mm": ("lbf in", 0.00885075), "kN": ("lbf", 224.809), "N": ("lbf", 0.224809),
    "kg": ("lb", 2.20462), "g": ("oz", 0.035274), "m/min": ("ft/min", 3.28084), "MPa": ("psi", 145.038),
}
"""What an inch shop says instead, and how many of those make one. Source: yard and pound of 1959, exact."""
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

    def both(self, value_mm: float, places: int = 2) -> str:
        """A length with its unit; in an inch job with the millimetres behind it."""
        behind = f" ({text_of(value_mm, 'mm', places)} mm)" if self.unit == "in" else ""
        return self.length(value_mm, places) + behind

    def fixed(self, value_mm: float) -> str:
        """A setting with its unit, to a hundredth of a millimetre or a thousandth of an inch, zeros kept."""
        return self.length(value_mm) if self.unit == "in" else f"{value_mm:.2f} mm"

    def prose(self, text: str) -> str:
        """A sentence with its figures ("0.3 mm", "17.001 to 17.012 mm", "6 N m") in the units of the job.

        >>> Figures("in").prose("tighten to 6.1 N m, 0.3 mm over")
        'tighten to 4.5 lbf ft, 0.012 in over'
        """
        return text if self.unit == "mm" else _OTHER.sub(_in_inch_shop, _LENGTH.sub(_inches, text))

    def quantity(self, value: float, unit: str) -> str:
        """A figure of any unit, in what the job's shop says instead.

        >>> Figures("in").quantity(100.0, "N")
        '22.5 lbf'
        """
        if unit == "mm":
            return self.length(value, 3)
        if self.unit == "in" and unit in _INCH_SHOP:
            unit, factor = _INCH_SHOP[unit]
            return f"{_digits(value * factor, 3)} {unit}"
        return f"{value:g} {unit}".strip()

    def in_words(self, text: str) -> str:
        """A text whose bare numbers are millimetres, written with its unit in the unit of the job."""
        if not _NUMBER.search(text):
            return text
        if self.unit == "in":
            text = _NUMBER.sub(lambda found: text_of(float(found[1]), "in", 4), text)
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
        inside = f" ({_fahrenheit(inner)}{inner_between}{_fahrenheit(outer)})" if inner else ""
        return f"{(between or '').join(ends)} °F{inside}"
    other, factor = _INCH_SHOP[unit]
    kept = found[0][found[0].index(unit) + len(unit) :]
    places = [max(2, len(one.replace(".", "").lstrip("0"))) for one in (first, second) if one]
    ends = [
        _digits(float(one) * factor, count) for one, count in zip((first, second), places, strict=False) if one
    ]
    return f"{(between or '').join(ends)} {other}{kept}"


def _fahrenheit(celsius: str) -> str:
    return f"{round((float(celsius) * 9 / 5 + 32) / 5) * 5:d}"


def _digits(value: float, count: int) -> str:
    """A number to so many digits that count, without an exponent."""
    if value == 0:
        return "0"
    places = count - 1 - floor(log10(abs(value)))
    return f"{round(value, places):.{max(0, places)}f}"


def _inches(found: re.Match[str]) -> str:
    """One length or a range in inches, two places finer than it was given, between a thousandth and a tenth of one."""
    first, between, second = found.groups()
    return f"{_inch(first)}{between}{_inch(second)} in" if second else f"{_inch(first)} in"


def _inch(figure: str) -> str:
    return text_of(float(figure), "in", min(4, max(3, len(figure.partition(".")[2]) + 2)))
