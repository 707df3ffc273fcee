"""Numbers with units: strict text in, floats in the house unit out, and back to print.

House units: mm, deg, kg, N, rpm, K. A number is digits, a decimal point, or a fraction; nothing is evaluated, and what
remains of a text after its number must be exactly the name of a unit.
"""

from __future__ import annotations

import math
import re
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Literal, NoReturn

from generator.errors import GeneratorError

__all__ = [
    "FileUnit", "Kind", "UnitError", "how_to_write", "inch_fraction", "read_length", "read_quantity", "show_in",
    "show_mm", "text_of", "unit_names",
]

FileUnit = Literal["mm", "in"]
Kind = Literal["length", "angle", "mass", "force", "speed", "temperature difference"]

LONGEST_TEXT = 60
LONGEST_SHOWN = 40

INCH_MM = Fraction(254, 10)
POUND_KG = Fraction(45359237, 100000000)
GRAVITY_M_S2 = Fraction(980665, 100000)

# Source: inch, foot, pound and standard gravity are exact by definition (ISO 80000-3, ISO 80000-4).
UNITS: dict[Kind, dict[str, Fraction]] = {
    "length": {
        "mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000),
        "um": Fraction(1, 1000), "µm": Fraction(1, 1000), "μm": Fraction(1, 1000),
        "in": INCH_MM, "inch": INCH_MM, "inches": INCH_MM, '"': INCH_MM, "″": INCH_MM,
        "thou": INCH_MM / 1000, "ft": INCH_MM * 12, "foot": INCH_MM * 12, "feet": INCH_MM * 12,
    },
    "angle": {
        "deg": Fraction(1), "degree": Fraction(1), "degrees": Fraction(1), "°": Fraction(1),
        "'": Fraction(1, 60), "′": Fraction(1, 60), "arcmin": Fraction(1, 60),
        '"': Fraction(1, 3600), "″": Fraction(1, 3600), "arcsec": Fraction(1, 3600),
        "rad": Fraction(180 / math.pi),
    },
    "mass": {"kg": Fraction(1), "g": Fraction(1, 1000), "lb": POUND_KG, "oz": POUND_KG / 16},
    "force": {
        "N": Fraction(1), "kN": Fraction(1000), "kgf": GRAVITY_M_S2, "lbf": POUND_KG * GRAVITY_M_S2,
    },
    "speed": {
        "rpm": Fraction(1), "rev/min": Fraction(1), "1/min": Fraction(1), "rev/s": Fraction(60),
    },
    "temperature difference": {
        "K": Fraction(1), "degC": Fraction(1), "°C": Fraction(1), "degF": Fraction(5, 9), "°F": Fraction(5, 9),
    },
}

# Beyond these a value is a slip of the keyboard, not a size of anything on a manual lathe (shop choice).
LARGEST: dict[Kind, Fraction] = {
    "length": Fraction(10_000),
    "angle": Fraction(360),
    "mass": Fraction(100_000),
    "force": Fraction(10_000_000),
    "speed": Fraction(100_000),
    "temperature difference": Fraction(1000),
}
HOUSE_UNIT: dict[Kind, str] = {
    "length": "mm", "angle": "deg", "mass": "kg", "force": "N", "speed": "rpm", "temperature difference": "K",
}

_NUMBER = re.compile(
    r"(?P<sign>[+-]?)(?:(?P<whole>\d+)(?: +|-))?(?P<above>\d+)/(?P<below>\d+)"
    r"|(?P<plain>[+-]?(?:\d+\.?\d*|\.\d+))",
    re.ASCII,
)
_DEGREES = re.compile(
    r"(?P<sign>[+-]?)(?P<deg>\d+) *(?:deg|degrees|°) *(?P<min>\d+(?:\.\d+)?) *['′]"
    r"(?: *(?P<sec>\d+(?:\.\d+)?) *(?:\"|″|''))?",
    re.ASCII,
)


class UnitError(GeneratorError, ValueError):
    """A value that is not a quantity of the wanted kind: the rule it breaks, what was found, what to write."""

    def __init__(self, rule: str, value: str, cure: str) -> None:
        self.rule = rule
        self.value = value
        self.cure = cure
        found = f" (found {value})" if value else ""
        super().__init__(f"{rule}{found}; {cure}")


def unit_names(kind: Kind) -> str:
    """The unit names a text of this kind may carry, as one printed list."""
    return ", ".join(UNITS[kind])


def read_length(value: int | float | str, file_unit: FileUnit, *, signed: bool = False) -> float:
    """The length in mm of a bare number in the file's unit, or of a text that carries its own unit.

    >>> read_length("1 5/8 in", "mm")
    41.275
    """
    return read_quantity(value, "length", file_unit, signed=signed)


def read_quantity(value: int | float | str, kind: Kind, file_unit: FileUnit = "mm", *, signed: bool = False) -> float:
    """The value in the house unit of its kind; below zero only where `signed`.

    Raises: UnitError.
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return _refuse(f"{_a(kind)} is a number or a text with a unit", _shown(value), how_to_write(kind))
    amount = _read_text(value, kind) if isinstance(value, str) else _read_number(value, kind, file_unit)
    if abs(amount) > LARGEST[kind]:
        limit = f"{int(LARGEST[kind])} {HOUSE_UNIT[kind]}"
        rule = f"{_a(kind)} of more than {limit} is not credible"
        return _refuse(rule, _shown(value), "check the figure and its unit")
    if amount < 0 and not signed:
        return _refuse(f"this {kind} may not be below zero", _shown(value), "write it without the minus sign")
    return float(amount)


def text_of(value_mm: float, unit: FileUnit, places: int) -> str:
    """A length to print: decimal arithmetic, half rounds away from zero, never "-0".

    Millimetres drop trailing zeros, inches keep them, as drawings in either unit do.
    """
    exact = Decimal(repr(value_mm))
    if unit == "in":
        exact = exact / Decimal("25.4")
    rounded = exact.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)
    if not rounded:
        rounded = abs(rounded)
    text = f"{rounded:f}"
    return text.rstrip("0").rstrip(".") if unit == "mm" and "." in text else text


def inch_fraction(value_mm: float) -> str:
    """A length as an inch shop says it, in sixty-fourths at the finest; empty where it is none of those.

    >>> inch_fraction(57.15), inch_fraction(22.225), inch_fraction(25.4), inch_fraction(25.0)
    ('2 1/4', '7/8', '1', '')
    """
    sixty_fourths = float(Fraction(value_mm) / INCH_MM * 64)
    if abs(sixty_fourths - round(sixty_fourths)) > 5e-4 or sixty_fourths < 1:
        return ""
    whole, rest = divmod(Fraction(round(sixty_fourths), 64), 1)
    return " ".join(str(one) for one in (whole, rest) if one)


def show_mm(value_mm: float, places: int = 3) -> str:
    """A length in mm to print, without unit and without trailing zeros."""
    return text_of(value_mm, "mm", places)


def show_in(value_mm: float, places: int = 4) -> str:
    """A length given in mm to print in inches, without unit, every place written."""
    return text_of(value_mm, "in", places)


def _read_number(value: int | float, kind: Kind, file_unit: FileUnit) -> Fraction:
    if isinstance(value, float) and not math.isfinite(value):
        _refuse(f"{_a(kind)} must be a finite number", _shown(value), how_to_write(kind))
    return Fraction(value) * (INCH_MM if kind == "length" and file_unit == "in" else 1)


def _read_text(text: str, kind: Kind) -> Fraction:
    if len(text) > LONGEST_TEXT:
        _refuse(f"{_a(kind)} is written in at most {LONGEST_TEXT} characters", _shown(text), how_to_write(kind))
    trimmed = text.strip()
    if not trimmed:
        _refuse(f"{_a(kind)} is missing", _shown(text), how_to_write(kind))
    if kind == "angle" and (parts := _DEGREES.fullmatch(trimmed)):
        return _read_degrees(parts, text)
    found = _NUMBER.match(trimmed)
    if found is None:
        _refuse(f"{_a(kind)} begins with a number", _shown(text), how_to_write(kind))
    rest = trimmed[found.end() :]
    if re.match(r",\d", rest):
        _refuse("the decimal mark is a point, not a comma", _shown(text), _comma_cure(trimmed))
    amount = _value_of(found, text)
    return amount * _factor(rest.strip(), kind, text, amount)


def _value_of(found: re.Match[str], text: str) -> Fraction:
    if (plain := found["plain"]) is not None:
        return Fraction(plain)
    if not int(found["below"]):
        _refuse("a fraction may not have zero below the line", _shown(text), "write the fraction in full, such as 5/8")
    value = int(found["whole"] or 0) + Fraction(int(found["above"]), int(found["below"]))
    return -value if found["sign"] == "-" else value


def _factor(name: str, kind: Kind, text: str, amount: Fraction) -> Fraction:
    if name in UNITS[kind]:
        return UNITS[kind][name]
    if not name:
        _refuse(f"{_a(kind)} written as text carries its unit", _shown(text), f"add one of {unit_names(kind)}")
    other = next((k for k, names in UNITS.items() if name in names), None)
    rule = (
        f"{_a(other)} stands where {_a(kind)} is wanted" if other else f"what follows the number is no unit of {kind}"
    )
    cure = _weight_cure(name, kind, amount) if other else ""
    return _refuse(rule, _shown(text), cure or f"known units: {unit_names(kind)}")


def _weight_cure(name: str, kind: Kind, amount: Fraction) -> str:
    """What to write where a scale's kilograms or pounds stand for a force, or the other way round."""
    pairs = {"kg": "kgf", "g": "kgf", "lb": "lbf", "oz": "lbf", "kgf": "kg", "lbf": "lb"}
    meant = pairs.get(name, "")
    if meant not in UNITS[kind]:
        return ""
    shown = amount * {"g": Fraction(1, 1000), "oz": Fraction(1, 16)}.get(name, Fraction(1))
    what = "for the pull of that weight" if kind == "force" else "for what weighs that much"
    return f'write "{float(shown):g} {meant}" {what}; known units: {unit_names(kind)}'


def _read_degrees(parts: re.Match[str], text: str) -> Fraction:
    minutes, seconds = Fraction(parts["min"]), Fraction(parts["sec"] or 0)
    if minutes >= 60 or seconds >= 60:
        _refuse("minutes and seconds of arc stay below 60", _shown(text), "carry the excess into the degrees")
    value = int(parts["deg"]) + minutes / 60 + seconds / 3600
    return -value if parts["sign"] == "-" else value


def _refuse(rule: str, value: str, cure: str) -> NoReturn:
    raise UnitError(rule, value, cure)


def _a(kind: Kind) -> str:
    return f"an {kind}" if kind == "angle" else f"a {kind}"


def _shown(value: object) -> str:
    if isinstance(value, int) and value.bit_length() > 128:
        return f"a whole number of about {int(value.bit_length() * 0.30103) + 1} digits"
    text = repr(value) if isinstance(value, str) else str(value)
    return text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 3] + "..."


def how_to_write(kind: Kind, bare: str = "") -> str:
    """How a quantity is written; `bare` is the unit of a bare number where that is not a job file's."""
    usual, example = {
        "length": ("the unit of the file", '"12.5 mm" or "1 5/8 in"'),
        "angle": ("degrees", '"60 deg"'),
        "mass": ("kilograms", '"2 kg"'),
        "force": ("newtons", '"500 N"'),
        "speed": ("revolutions per minute", '"800 rpm"'),
        "temperature difference": ("kelvins", '"20 K"'),
    }[kind]
    return f"write a bare number in {bare or usual}, or a text such as {example}"


def _comma_cure(text: str) -> str:
    return f'write "{text.replace(",", ".", 1)}"'
