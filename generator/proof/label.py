"""Printed sizes read as a machinist reads them: sign, figure, class, limits, brackets. Pure text, no drawing.

Words of one line come joined, a stack of two deviations or of two limits of size written as "{upper|lower}".
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

__all__ = ["Printed", "is_thread", "looks_like_thread", "read_label", "value_of"]

_NUMBER = r"(?:\d+(?:[.,]\d+)?|[.,]\d+)"
_FIGURE = re.compile(rf"(?<![\d.,])({_NUMBER})")
_TIMES = re.compile(r"^\s*\d+\s*[x×]\s*(?=[⌀ØRMS])")
_FRACTION = re.compile(r"^\D*(?:(\d+)[ -])?(\d+)/(\d+)")
_SEXAGESIMAL = re.compile(r"(\d+)°(\d+)['′](?:(\d+(?:[.,]\d+)?)[\"″])?")
_CLASS = re.compile(r"(?<=[\d ])\s([A-HJ-Za-hj-z]{1,2}\d{1,2})(?=[\s({]|$)")
_STACK = re.compile(r"\{([^|{}]*)\|([^|{}]*)\}")
_IN_LINE = re.compile(rf"([+\-−±]?{_NUMBER})\s*/\s*([+\-−±]?{_NUMBER})")
_PLUS_MINUS = re.compile(rf"±\s*({_NUMBER})")
_SECOND = re.compile(r"\[([^\]]*)\]")
_THREAD = re.compile(
    r"(?:M\d+(?:[.,]\d+)?(?:\s?[x×]\s?\d+(?:[.,]\d+)?)?(?:\s?-\s?\d[gGhHefEF](?:\d[gGhHefEF])?)?"
    r"|(?:\d+[ -])?\d+/\d+\s?-\s?\d+\s?UN(?:C|F|EF|S)?(?:\s?-\s?[123][AB])?"
    r"|#\d+\s?-\s?\d+\s?UN(?:C|F)?(?:\s?-\s?[123][AB])?"
    r"|Tr\s?\d+\s?[x×]\s?\d+(?:[.,]\d+)?|G\s?\d+(?:/\d+)?(?:\s?[AB])?)"
    r"(?:\s?(?:LH|RH))?(?:\s.*)?"
)
# A call-out that begins like a thread: M and a figure, or a fraction and threads to the inch.
_LIKE_THREAD = re.compile(r"M\s?\d|(?:\d+[ -])?\d+/\d+\s?-\s?\d+|#\d+\s?-|Tr\s?\d")


@dataclass(frozen=True, slots=True)
class Printed:
    """One printed size. Figures are kept as printed, so that their decimals can be judged."""

    text: str
    figure: str | None
    value: float | None
    tolerance_class: str = ""
    upper: str = ""
    lower: str = ""
    is_auxiliary: bool = False
    is_diameter: bool = False
    is_across_flats: bool = False
    is_thread: bool = False
    is_angle: bool = False
    second: str = ""

    @property
    def has_limits(self) -> bool:
        """True where deviations or limits are printed."""
        return bool(self.upper)

    @property
    def is_limits(self) -> bool:
        """True where the stack holds limits of size in place of a nominal: no figure before it, no signs in it."""
        return self.figure is None and bool(re.match(r"[\d.,]", self.upper))

    @property
    def step(self) -> float:
        """One unit of the last printed decimal."""
        return 10.0 ** -places_of(self.figure or "")


def places_of(figure: str) -> int:
    """Decimals of a printed figure."""
    return len(re.split(r"[.,]", figure)[1]) if re.search(r"[.,]", figure) else 0


def value_of(figure: str) -> float:
    """The printed figure as a number; a comma is a decimal sign, a long minus a minus."""
    return float(Decimal(figure.replace(",", ".").replace("−", "-").replace("±", "")))


def is_thread(words: str) -> bool:
    """True for the full name of a thread.

    >>> is_thread("M12 x 1.5"), is_thread("M6-6H"), is_thread("1/2-13 UNC-2A"), is_thread("M x 6"), is_thread("M6q")
    (True, True, True, False, False)
    """
    return _THREAD.fullmatch(words.strip()) is not None


def looks_like_thread(words: str) -> bool:
    """True for a call-out that begins like the name of a thread."""
    return _LIKE_THREAD.match(words.strip()) is not None


def read_label(text: str) -> Printed:
    """The parts of a printed size.

    >>> found = read_label("⌀35 J7 ({+0.014|-0.011})")
    >>> found.figure, found.tolerance_class, found.upper, found.lower
    ('35', 'J7', '+0.014', '-0.011')
    """
    second = _SECOND.search(text)
    main = _SECOND.sub("", text).strip()
    bare = _TIMES.sub("", main)
    thread = looks_like_thread(bare)
    figure, value = _figure(bare, thread)
    stack = _STACK.search(main) or (_IN_LINE.search(main) if not thread else None)
    if stack and re.match(r"[\d.,]", stack[1]) and not re.search(r"\d", main[: stack.start()]):
        # Limits of size stand in place of a figure; what follows them is a class.
        figure, value = None, None
    equal = _PLUS_MINUS.search(main)
    upper, lower = ("", "")
    if stack:
        upper, lower = stack[1].strip(), stack[2].strip()
    elif equal:
        upper, lower = f"+{equal[1]}", f"-{equal[1]}"
    named = None if thread else _CLASS.search(_STACK.sub("0", main) if figure is None else _STACK.sub("", main))
    return Printed(
        main,
        figure,
        value,
        named[1] if named else "",
        upper,
        lower,
        is_auxiliary=main.startswith("("),
        is_diameter=bool(re.match(r"\(?\s*S?[⌀Ø]", bare)),
        is_across_flats=bool(re.match(r"\(?\s*(AF|SW|[□▢])", bare)),
        is_thread=thread,
        is_angle=bool(re.match(rf"\(?\s*{_NUMBER}\s*°", bare)),
        second=second[1] if second else "",
    )


def _figure(bare: str, thread: bool) -> tuple[str | None, float | None]:
    """The leading figure as printed, and its value; a thread in inches counts in mm."""
    parts = _SEXAGESIMAL.search(bare)
    if parts:
        seconds = value_of(parts[3]) if parts[3] else 0.0
        return parts[0], int(parts[1]) + int(parts[2]) / 60 + seconds / 3600
    fraction = _FRACTION.match(bare) if thread else None
    if fraction:
        return fraction[0], 25.4 * (int(fraction[1] or 0) + int(fraction[2]) / int(fraction[3]))
    found = _FIGURE.search(_STACK.sub("", bare))
    return (found[1], value_of(found[1])) if found else (None, None)
