"""How figures and words are printed on a sheet: unit, second unit in brackets, decimal mark, language. Pure text.

Sources: mm without trailing zeros and with a 0 before the mark, inches without it and with equal places (ASME Y14.5,
at second hand); the second unit in square brackets behind or below the governing one (from memory).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from typing import Literal, get_args

from generator.conversion import clean_mm, converted, nearest
from generator.drawing.wording import Language, Words, words_of
from generator.drawing.wording.english import ENGLISH
from generator.units import FileUnit

__all__ = ["METRIC", "Manner", "SheetUnits", "manner_of"]

SheetUnits = Literal["mm", "in", "mm [in]", "in [mm]"]
SHEET_UNITS: tuple[SheetUnits, ...] = get_args(SheetUnits)

INCH_MM = 25.4
# A hundredth of a millimetre is told to a thousandth of an inch, and so on.
_EXTRA_INCH_PLACES = 1
_MARK = re.compile(r"(?<=\d)\.(?=\d)")
# Numbers of a sentence: not part of a name such as 6003-2RS or ISO 2768-1, nor the number of a material (1.4104).
_PROSE_MARK = re.compile(r"(?<![\w.,/-])(?!1\.\d{4}\b)([-+±]?\d*)\.(\d+)(?![\w.]*\d)")
_PROSE_MM = re.compile(r"(?<![\w.,/-])(\d+(?:\.\d+)?)( to | bis |-| \.\. )?(\d+(?:\.\d+)?)? ?mm\b")
_ROUGHNESS = re.compile(r"\bRa (\d+(?:\.\d+)?)")

# Roughness in micrometres and the microinches that stand for it. Source: ASME B46.1, from memory.
_MICROINCHES = {
    "0.025": 1, "0.05": 2, "0.1": 4, "0.2": 8, "0.4": 16, "0.8": 32, "1.6": 63, "3.2": 125, "6.3": 250, "12.5": 500,
    "25": 1000,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Manner:
    """The user's choice of unit, decimal mark and language."""

    units: SheetUnits = "mm"
    has_comma: bool = False
    words: Words = ENGLISH

    @property
    def unit(self) -> FileUnit:
        """The governing unit."""
        return "in" if self.units.startswith("in") else "mm"

    @property
    def other(self) -> FileUnit | None:
        """The unit in square brackets."""
        return None if "[" not in self.units else "mm" if self.unit == "in" else "in"

    @property
    def units_in_words(self) -> str:
        """The unit or units in words: "mm", "inches", "mm [inches]"."""
        return self.units.replace("in", self.words.inches)

    @property
    def factor(self) -> float:
        """What a measured millimetre is multiplied by to be printed."""
        return 1.0 / INCH_MM if self.unit == "in" else 1.0

    @property
    def decimal_mark(self) -> str:
        """Point or comma."""
        return "," if self.has_comma else "."

    def marked(self, text: str) -> str:
        """A label with the decimal mark of the sheet."""
        return _MARK.sub(",", text) if self.has_comma else text

    def written(self, value: Decimal, places: int, unit: FileUnit | None = None) -> str:
        """A figure in its unit with so many places: mm drop trailing zeros, inches the zero before the mark."""
        text = _digits(value, places)
        if (unit or self.unit) == "mm":
            text = text.rstrip("0").rstrip(".") if "." in text else text
        else:
            text = re.sub(r"^(-?)0\.", r"\1.", text)
        return text.replace(".", self.decimal_mark)

    def kept(self, value: Decimal, places: int, unit: FileUnit | None = None) -> str:
        """A figure with every place written, as one of several that stand in a column."""
        text = _digits(value, places)
        if (unit or self.unit) == "in":
            text = re.sub(r"^(-?)0\.", r"\1.", text)
        return text.replace(".", self.decimal_mark)

    def length(self, value_mm: float, places: int = 2) -> str:
        """A length in the governing unit, without it; `places` are those of millimetres."""
        if self.unit == "mm":
            return self.written(clean_mm(value_mm), places)
        return self.kept(converted(clean_mm(value_mm), "in"), places + _EXTRA_INCH_PLACES)

    def length_up(self, value_mm: float, places: int = 2) -> str:
        """A length that must be had at least, as `length` writes it but rounded up."""
        value, kept = clean_mm(value_mm), places
        if self.unit == "in":
            value, kept = converted(value, "in"), places + _EXTRA_INCH_PLACES
        value = value.quantize(Decimal(1).scaleb(-kept), rounding=ROUND_CEILING)
        return self.written(value, kept) if self.unit == "mm" else self.kept(value, kept)

    def roughness(self, ra_um: float) -> str:
        """The figure of a roughness: micrometres, or microinches on a sheet where inches govern."""
        text = f"{ra_um:g}"
        if self.unit == "mm":
            return text.replace(".", self.decimal_mark)
        return str(_MICROINCHES.get(text) or int(converted(Decimal(text) * 1000, "in").to_integral_value(ROUND_FLOOR)))

    def prose(self, text: str) -> str:
        """A sentence of the description: lengths with "mm" behind them and roughness in the sheet's unit and mark.

        Bare numbers keep their meaning; names of standards, bearings and materials are left alone.
        """
        if self.unit == "in":
            text = _PROSE_MM.sub(self._in_inches, text)
            text = _ROUGHNESS.sub(lambda found: f"Ra {self.roughness(float(found[1]))} µin", text)
        return _PROSE_MARK.sub(r"\1,\2", text) if self.has_comma else text

    def _in_inches(self, found: re.Match[str]) -> str:
        """One length, or a range rounded inwards."""
        if not found[3]:
            return f"{_inch_of(found[1])}{found[2] or ''} in"
        low, high = _inch_of(found[1], ROUND_CEILING), _inch_of(found[3], ROUND_FLOOR)
        if float(low) > float(high):
            low, high = _inch_of(found[1]), _inch_of(found[3])
        return f"{low}{found[2]}{high} in"


def _inch_of(figure: str, rounding: str = ROUND_HALF_UP) -> str:
    """A figure of millimetres in inches, no zero before its mark."""
    places = len(figure.partition(".")[2]) + _EXTRA_INCH_PLACES + 1
    text = f"{converted(Decimal(figure), 'in').quantize(Decimal(1).scaleb(-places), rounding=rounding):f}"
    return re.sub(r"^0\.", ".", text)


def _digits(value: Decimal, places: int) -> str:
    """The value with so many places, a zero never signed."""
    rounded = nearest(value, places)
    return f"{rounded if rounded else abs(rounded):f}"


METRIC = Manner()
"""Millimetres with a point, in English."""


def manner_of(units: SheetUnits, decimal: Literal["point", "comma"] = "point", language: Language = "en") -> Manner:
    """The manner of printing that the user chose."""
    return Manner(units, decimal == "comma", words_of(language))
