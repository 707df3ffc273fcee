"""The printed text of a size: pure words and figures, no drawing.

Figures are decimal, half rounds away from zero, never with fewer places than a limit needs. Source: ISO 129-1 (upper
over lower, equal places, a bare 0), at second hand; limits in brackets behind a tolerance class are shop practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from generator.description import Size
from generator.drawing.font import text_width_mm
from generator.drawing.style import SMALL_TEXT_MM, TEXT_MM

__all__ = ["DIAMETER", "Label", "angle_label", "angle_text", "label_of", "taper_text", "words_label"]

DIAMETER = "⌀"
_MINUS = "-"
_STACK_GAP_MM = 0.7
_BOX_RIM_MM = 1.0
_LIFT_MM = 0.6
_TAILED = frozenset("()gjpqyQ,;")
# Sizes are described to a tenth of a micrometre at most; more places are float noise.
_PLACES = 4
# A deviation is never rounded away: beyond a nanometre there is only float noise.
_DEVIATION_PLACES = 6
# ISO 2768-1 gives no deviations under 0.5 mm: they stand at the size.
_LEAST_GENERAL_MM = 0.5
# An auxiliary size informs and binds nobody: two places.
_AUXILIARY = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class Label:
    """A printed size: `main`, a stack of two deviations, `tail` behind it; `below` stands under the dimension line."""

    main: str
    upper: str = ""
    lower: str = ""
    tail: str = ""
    below: str = ""
    boxed: bool = False

    @property
    def plain(self) -> str:
        """The label in one line, as a reader would say it."""
        if not self.upper:
            return self.main + self.tail
        gap = "" if self.main.endswith("(") else " "
        return f"{self.main}{gap}{self.upper}/{self.lower}{self.tail}"

    @property
    def stack_width_mm(self) -> float:
        """Width of the stack of deviations on paper."""
        return max(text_width_mm(self.upper, SMALL_TEXT_MM), text_width_mm(self.lower, SMALL_TEXT_MM))

    @property
    def main_width_mm(self) -> float:
        """Width up to the stack on paper, with the gap before it."""
        gap = 0.8 if self.upper and not self.main.endswith("(") else 0.2
        return text_width_mm(self.main, TEXT_MM) + (gap if self.upper else 0.0)

    @property
    def width_mm(self) -> float:
        """Width on paper of the part that stands on the dimension line."""
        width = self.main_width_mm + text_width_mm(self.tail, TEXT_MM)
        if self.upper:
            width += self.stack_width_mm + (0.2 if self.tail else 0.0)
        return width + (2 * _BOX_RIM_MM if self.boxed else 0.0)

    @property
    def full_width_mm(self) -> float:
        """Width with the words below counted in."""
        return max(self.width_mm, text_width_mm(self.below, SMALL_TEXT_MM))

    @property
    def lift_mm(self) -> float:
        """How much higher a line with brackets or tailed letters stands, so that they clear arrow heads."""
        return _LIFT_MM if not self.upper and _TAILED & set(self.main + self.tail) else 0.0

    @property
    def height_mm(self) -> float:
        """Height on paper above the dimension line's gap."""
        if self.upper:
            return 2 * SMALL_TEXT_MM + _STACK_GAP_MM
        return TEXT_MM + self.lift_mm + (2 * _BOX_RIM_MM if self.boxed else 0.0)


def _decimal(value_mm: float, places: int = _PLACES) -> Decimal:
    """The value as an exact decimal of at most so many places."""
    found = Decimal(repr(float(value_mm))).quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)
    return found or Decimal(0)


def _plain(value: Decimal) -> str:
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _places(value: Decimal) -> int:
    _, _, after = _plain(value).partition(".")
    return len(after)


def _deviation(value: Decimal, places: int) -> str:
    """A signed deviation with so many places; zero is bare."""
    if not value:
        return "0"
    sign = "+" if value > 0 else _MINUS
    return f"{sign}{abs(value):.{places}f}"


def label_of(size: Size, sign: str = "", *, suffix: str = "", bracketed: bool = False) -> Label:
    """The label of a size; `sign` stands before the figure (a diameter sign, "AF "), `suffix` behind everything.

    >>> label_of(Size(35.0, 0.014, -0.011, tolerance_class="J7"), DIAMETER).plain
    '⌀35 J7 (+0.014/-0.011)'
    """
    upper, lower = (_decimal(deviation, _DEVIATION_PLACES) for deviation in (size.upper_mm, size.lower_mm))
    figure = sign + _plain(_decimal(size.nominal_mm))
    below = size.fitted
    if bracketed:
        rounded = Decimal(repr(float(size.nominal_mm))).quantize(_AUXILIARY, rounding=ROUND_HALF_UP)
        return Label(f"({sign}{_plain(rounded)}){suffix}")
    if size.basic:
        return Label(figure, tail=suffix, below=below, boxed=True)
    bare = size.general and size.nominal_mm >= _LEAST_GENERAL_MM
    if bare or (not upper and not lower):
        return Label(figure + suffix, below=below)
    places = max(_places(upper), _places(lower))
    if size.tolerance_class:
        over, under = _deviation(upper, places), _deviation(lower, places)
        return Label(f"{figure} {size.tolerance_class} (", over, under, f"){suffix}", below)
    if upper == -lower:
        return Label(f"{figure} ±{_plain(upper)}{suffix}", below=below)
    return Label(figure, _deviation(upper, places), _deviation(lower, places), suffix, below)


def words_label(words: str) -> Label:
    """A label of words alone: a thread, a corner, a treatment."""
    return Label(words)


def angle_text(angle_deg: float) -> str:
    """An angle in degrees without trailing zeros: "60°".

    >>> angle_text(60.0)
    '60°'
    """
    return f"{_plain(_decimal(angle_deg))}°"


def _sexagesimal(angle_deg: float) -> str:
    """Degrees, minutes and seconds, seconds to a whole figure."""
    seconds = int(Decimal(repr(angle_deg * 3600.0)).quantize(Decimal(1), rounding=ROUND_HALF_UP))
    degrees, rest = divmod(seconds, 3600)
    return f"{degrees}°{rest // 60:02d}'{rest % 60:02d}\""


def angle_label(angle_deg: float) -> Label:
    """The label of an included angle."""
    return Label(angle_text(angle_deg))


def taper_text(half_angle_deg: float, name: str = "") -> str:
    """The taper callout behind its symbol: ratio, half angle in brackets, name of the taper.

    The ratio is the growth of the diameter over the length, 1:x. Source: ISO 3040, at second hand.
    """
    ratio = 1.0 / (2.0 * math.tan(math.radians(abs(half_angle_deg))))
    places = Decimal("0.001") if ratio < 100 else Decimal("0.1")
    shown = _plain(Decimal(repr(ratio)).quantize(places, rounding=ROUND_HALF_UP))
    text = f"1:{shown} (half angle {_sexagesimal(abs(half_angle_deg))})"
    return f"{text} {name}".rstrip()
