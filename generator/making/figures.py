"""Figures as a plan prints them: every one with its unit, in the unit of the job."""

from __future__ import annotations

import re
from dataclasses import dataclass

from generator.reckoning.taper import deg_min_sec
from generator.units import FileUnit, text_of

__all__ = ["Figures"]

_NUMBER = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)(?![\w.])(?! *(?:deg|°|%|mm|in\b|places))")
_LENGTH = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)(?:( to )(\d+(?:\.\d+)?))? mm\b")
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
        """A sentence with its lengths ("0.3 mm", "17.001 to 17.012 mm") in the unit of the job; the rest as it is."""
        return text if self.unit == "mm" else _LENGTH.sub(_inches, text)

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


def _inches(found: re.Match[str]) -> str:
    """One length or a range in inches, two places finer than it was given, between a thousandth and a tenth of one."""
    first, between, second = found.groups()
    return f"{_inch(first)}{between}{_inch(second)} in" if second else f"{_inch(first)} in"


def _inch(figure: str) -> str:
    return text_of(float(figure), "in", min(4, max(3, len(figure.partition(".")[2]) + 2)))
