"""Strict reading of the texts given to a shop calculation: quantities, words, yes or no, and rows of them.

Lengths, angles, masses, forces, speeds and temperature differences are read by `generator.units`; the other kinds a
calculation needs have their units here, by the same rule: what remains after the number is exactly a unit's name.
A bare number is in the unit the calculation states for that input.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from fractions import Fraction
from typing import NoReturn, cast, get_args

from generator.errors import GeneratorError
from generator.units import GRAVITY_M_S2, INCH_MM, POUND_KG, UNITS, Kind, UnitError, how_to_write, read_quantity

__all__ = ["OWN_UNITS", "QuantityError", "known_units", "read_amount", "read_number", "reject"]

LONGEST_TEXT = 60
_POUND_N = POUND_KG * GRAVITY_M_S2
_FOOT_M = INCH_MM * 12 / 1000

# Source: exact by definition (ISO 80000); horsepower is the mechanical one of 550 ft lbf/s.
OWN_UNITS: dict[str, dict[str, Fraction]] = {
    "torque": {
        "N m": Fraction(1), "Nm": Fraction(1), "N mm": Fraction(1, 1000), "Nmm": Fraction(1, 1000),
        "kgf m": GRAVITY_M_S2, "lbf ft": _POUND_N * _FOOT_M, "lbf in": _POUND_N * INCH_MM / 1000,
    },
    "pressure": {
        "MPa": Fraction(1), "N/mm2": Fraction(1), "GPa": Fraction(1000), "kPa": Fraction(1, 1000),
        "bar": Fraction(1, 10), "psi": _POUND_N / INCH_MM**2, "ksi": _POUND_N * 1000 / INCH_MM**2,
    },
    "stiffness": {
        "N/um": Fraction(1), "N/µm": Fraction(1), "kN/mm": Fraction(1), "N/mm": Fraction(1, 1000),
        "lbf/in": _POUND_N / INCH_MM / 1000,
    },
    "time": {"h": Fraction(1), "min": Fraction(1, 60), "s": Fraction(1, 3600)},
    "cutting speed": {
        "m/min": Fraction(1), "m/s": Fraction(60), "ft/min": _FOOT_M, "sfm": _FOOT_M,
    },
    "feed": {"mm/rev": Fraction(1), "in/rev": INCH_MM, "thou/rev": INCH_MM / 1000},
    "power": {"kW": Fraction(1), "W": Fraction(1, 1000), "hp": _POUND_N * _FOOT_M * 550 / 1000},
    "area": {"mm2": Fraction(1), "cm2": Fraction(100), "in2": INCH_MM**2},
    "second moment": {"mm4": Fraction(1), "cm4": Fraction(10**4), "in4": INCH_MM**4},
    "density": {"g/cm3": Fraction(1), "kg/m3": Fraction(1, 1000), "lb/in3": POUND_KG * 10**6 / INCH_MM**3},
    "expansion": {"um/m/K": Fraction(1), "ppm/K": Fraction(1), "1/K": Fraction(10**6), "ppm/degF": Fraction(9, 5)},
    "taper": {"mm/mm": Fraction(1), "mm/m": Fraction(1, 1000), "in/ft": Fraction(1, 12)},
    "share": {"": Fraction(1), "%": Fraction(1, 100)},
}
_CELSIUS, _FAHRENHEIT = ("degC", "°C"), ("degF", "°F")
_SHARED = get_args(Kind)
_NUMBER = re.compile(
    r"(?P<whole>[+-]?\d+)/(?P<below>\d+)|(?P<plain>[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,2})?)", re.ASCII
)


class QuantityError(GeneratorError, ValueError):
    """A text that is not what an input wants: the rule it breaks, what was found, what to write."""

    def __init__(self, rule: str, value: str, cure: str) -> None:
        self.rule, self.value, self.cure = rule, value, cure
        super().__init__(f"{rule} (found {value}); {cure}")


def reject(rule: str, value: str, cure: str) -> NoReturn:
    """Raise QuantityError with these parts."""
    raise QuantityError(rule, value, cure)


def known_units(kind: str) -> str:
    """The units a text of this kind may carry, as one printed list."""
    if kind == "temperature":
        return ", ".join((*_CELSIUS, *_FAHRENHEIT))
    names = UNITS[cast("Kind", kind)] if kind in _SHARED else OWN_UNITS.get(kind, {})
    return ", ".join(name for name in names if name)


def read_number(text: str) -> float:
    """The number of a text that holds nothing else: digits with a point, or a fraction such as 10/3.

    Raises: QuantityError.
    """
    found = _NUMBER.fullmatch(text.strip())
    if found is None:
        reject("a plain number is wanted", _shown(text), "write digits with a point, such as 0.35")
    return float(_value(found, text))


def read_amount(text: str, kind: str, unit: str) -> float:
    """The value, in `unit`, of a text of this kind; a bare number is in that unit already.

    >>> read_amount("3 thou", "length", "um")
    76.2

    Raises: QuantityError.
    """
    trimmed = text.strip()
    if kind == "number":
        return read_number(trimmed)
    if len(trimmed) > LONGEST_TEXT:
        reject(f"a {kind} is written in at most {LONGEST_TEXT} characters", _shown(text), "shorten it")
    if _NUMBER.fullmatch(trimmed):
        return read_number(trimmed)
    if kind in _SHARED:
        return _read_shared(trimmed, cast("Kind", kind), unit)
    return _read_own(trimmed, kind, unit)


def _read_shared(text: str, kind: Kind, unit: str) -> float:
    try:
        house = read_quantity(text, kind, "mm", signed=True)
    except UnitError as problem:
        # There is no file here whose unit a bare number could have.
        cure = how_to_write(kind, unit) if problem.cure == how_to_write(kind) else problem.cure
        raise QuantityError(problem.rule, problem.value, cure) from problem
    # Twelve digits: what the change of unit adds behind them is noise of the division.
    return float(f"{house / float(UNITS[kind][unit]):.12g}")


def _read_own(text: str, kind: str, unit: str) -> float:
    found = _NUMBER.match(text)
    if found is None:
        reject(f"a {kind} begins with a number", _shown(text), f"write it such as 12.5 {unit}")
    name, value = text[found.end() :].strip(), _value(found, text)
    if kind == "temperature":
        return _read_temperature(value, name, text)
    units: Mapping[str, Fraction] = OWN_UNITS[kind]
    if name not in units:
        rule = f"what follows the number is no unit of {kind}"
        reject(rule, _shown(text), f"known units: {known_units(kind)}")
    return float(value * units[name] / units[unit])


def _read_temperature(value: Fraction, name: str, text: str) -> float:
    if name in _CELSIUS:
        return float(value)
    if name in _FAHRENHEIT:
        return float((value - 32) * 5 / 9)
    rule = "what follows the number is no unit of temperature"
    reject(rule, _shown(text), f"known units: {known_units('temperature')}")


def _value(found: re.Match[str], text: str) -> Fraction:
    if (plain := found["plain"]) is not None:
        value = Fraction(plain)
    elif not int(found["below"]):
        reject("a fraction may not have zero below the line", _shown(text), "write it in full")
    else:
        value = Fraction(int(found["whole"]), int(found["below"]))
    if not math.isfinite(float(value)) or abs(value) > 10**12:
        reject("the number is not credible", _shown(text), "check the figure and its unit")
    return value


def _shown(text: str) -> str:
    return repr(text if len(text) <= 40 else text[:37] + "...")
