"""A printed size as a thing: its words, its stack of deviations, its room on paper, and how it is redrawn."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from generator.drawing.font import text_width_mm
from generator.drawing.style import SMALL_TEXT_MM, TEXT_MM

__all__ = ["Label", "Redrawn"]

_STACK_GAP_MM = 0.7
_BOX_RIM_MM = 1.0
_LIFT_MM = 0.6
# Two limits one over the other stand further apart where the tail of a comma hangs into the gap.
_TAIL_GAP_MM = 0.5
_TAILED = frozenset("()gjpqyQ,;")


@dataclass(frozen=True, slots=True)
class Redrawn:
    """What a program that redraws the dimension needs to write the same: words round the figure, places, limits.

    `deviations` are upper and lower in the printed unit, `limits` high and low. `keeps_zeros` speaks of trailing ones;
    `deviation_places` is None where they are those of the figure.
    """

    before: str
    after: str
    places: int
    deviations: tuple[Decimal, Decimal] | None = None
    limits: tuple[Decimal, Decimal] | None = None
    keeps_zeros: bool = False
    deviation_places: int | None = None


@dataclass(frozen=True, slots=True)
class Label:
    """A printed size: `main`, a stack of two deviations, `tail` behind it; `below` stands under the dimension line."""

    main: str
    upper: str = ""
    lower: str = ""
    tail: str = ""
    below: str = ""
    boxed: bool = False
    redrawn: Redrawn | None = None

    @property
    def plain(self) -> str:
        """The label in one line, as a reader would say it."""
        if not self.upper:
            return self.main + self.tail
        gap = "" if self.is_limits or self.main.endswith("(") else " "
        return f"{self.main}{gap}{self.upper}/{self.lower}{self.tail}"

    @property
    def is_limits(self) -> bool:
        """True where the stack holds limits of size rather than deviations."""
        return self.redrawn is not None and self.redrawn.limits is not None

    @property
    def stack_text_mm(self) -> float:
        """Height of the figures in the stack: limits are the size itself, deviations stand smaller beside it."""
        return TEXT_MM if self.is_limits else SMALL_TEXT_MM

    @property
    def stack_step_mm(self) -> float:
        """Distance of the two lines of the stack."""
        tail = _TAIL_GAP_MM if self.is_limits and "," in self.upper else 0.0
        return self.stack_text_mm + _STACK_GAP_MM + tail

    @property
    def stack_width_mm(self) -> float:
        """Width of the stack of deviations on paper."""
        return max(text_width_mm(self.upper, self.stack_text_mm), text_width_mm(self.lower, self.stack_text_mm))

    @property
    def main_width_mm(self) -> float:
        """Width up to the stack on paper, with the gap before it."""
        gap = 0.2 if self.is_limits or self.main.endswith("(") else 0.8
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
    def under_mm(self) -> float:
        """How far the words below the dimension line reach under it."""
        return SMALL_TEXT_MM + 1.8 if self.below else 0.0

    @property
    def lift_mm(self) -> float:
        """How much higher a line with brackets or tailed letters stands, so that they clear arrow heads."""
        lowest = self.lower if self.is_limits else "" if self.upper else self.main + self.tail
        return _LIFT_MM if _TAILED & set(lowest) else 0.0

    @property
    def height_mm(self) -> float:
        """Height on paper above the dimension line's gap."""
        if self.upper:
            return self.stack_text_mm + self.stack_step_mm + self.lift_mm
        return TEXT_MM + self.lift_mm + (2 * _BOX_RIM_MM if self.boxed else 0.0)
