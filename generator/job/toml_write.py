"""Values as TOML text; lengths in the file's unit, digit for digit what will be read again."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from generator.units import FileUnit, read_length

__all__ = ["angle_text", "length_text", "value_text"]

_ESCAPES = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r", "\b": "\\b", "\f": "\\f"}
_INCH_PLACES = 5
_MM_PLACES = 6


def value_text(value: Any) -> str:
    """Any plain value of a job file as TOML."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{"".join(_escaped(character) for character in value)}"'
    if isinstance(value, float):
        return _decimal(value)
    if isinstance(value, int):
        return str(value)
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{value_text(str(key))} = {value_text(inner)}" for key, inner in value.items()) + " }"
    return "[" + ", ".join(value_text(inner) for inner in value) + "]"


def length_text(value_mm: float, unit: FileUnit) -> str:
    """A length as a bare number in the file's unit; in an inch file, a size that is round only in mm says so."""
    if unit == "mm":
        return _decimal(round(value_mm, _MM_PLACES))
    for places in range(1, _INCH_PLACES + 1):
        text = f"{value_mm / 25.4:.{places}f}"
        if abs(read_length(float(text), "in") - value_mm) < 5e-10:
            return text
    return f'"{_decimal(round(value_mm, _MM_PLACES)).removesuffix(".0")} mm"'


def angle_text(value_deg: float) -> str:
    """An angle as a bare number of degrees."""
    return _decimal(round(value_deg, 9))


def _decimal(value: float) -> str:
    """Digits without an exponent, at least one place after the point."""
    text = f"{Decimal(repr(float(value))):f}"
    return text if "." in text else f"{text}.0"


def _escaped(character: str) -> str:
    if character in _ESCAPES:
        return _ESCAPES[character]
    return character if character.isprintable() else (
        f"\\u{ord(character):04x}" if ord(character) < 0x10000 else f"\\U{ord(character):08x}"
    )
