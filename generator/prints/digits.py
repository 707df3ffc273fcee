"""Numbers and characters as they may stand in a PDF or SVG."""

from __future__ import annotations

import re
from collections.abc import Iterable

__all__ = ["digits", "pair", "printable"]

# Characters that XML 1.0 does not allow, and half pairs that no encoding can write.
_FORBIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")


def digits(value: float) -> str:
    """A number to a thousandth, in millimetres one micrometre, without idle zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def pair(numbers: Iterable[float]) -> str:
    """Numbers in a row, a blank between."""
    return " ".join(map(digits, numbers))


def printable(text: str) -> str:
    """The text with a replacement character for each one that may not stand in a file."""
    return _FORBIDDEN.sub("\ufffd", text)
