"""Depth and number of passes: roughing in equal passes, the last two alike; infeed of screw-cutting."""

from __future__ import annotations

import math
from dataclasses import dataclass

from generator.making.operations_speed import group_of
from generator.making.workshop import Workshop
from generator.reckoning.amounts import need

__all__ = ["THREAD_SHARE", "Passes", "deepest_mm", "grinding", "passes_for", "thread_infeed"]

FIT_MM = 0.06
"""A tolerance finer than this is finished with two equal passes after a measurement. Shop choice."""

LEFT_MM = {"outside fine": 0.6, "outside": 0.4, "inside fine": 0.4, "inside": 0.4, "taper": 0.3}
"""What roughing leaves on the diameter; in bores 0.3 to 0.5 (table boring_rules). Common practice, no source."""

GRIND_MM = 0.01
"""Depth of one pass of a wheel on a tool post. Common practice, no source."""

THREAD_SHARE = {"outside": 0.6134, "inside": 0.5413}
"""Depth of the groove over the pitch. Source: ISO 68-1, h3 of a screw and H1 of a nut."""


@dataclass(frozen=True, slots=True)
class Passes:
    """Roughing passes of one depth, then finishing passes of one depth, in mm; 0 where there are none."""

    rough: int
    rough_mm: float
    finish: int
    finish_mm: float

    @property
    def number(self) -> int:
        """All passes."""
        return self.rough + self.finish

    @property
    def deep_mm(self) -> float:
        """All that they cut away on the radius."""
        return self.rough * self.rough_mm + self.finish * self.finish_mm


def deepest_mm(workshop: Workshop, material: str, *, inside: bool, slack: bool) -> float:
    """The deepest roughing pass in mm for a machine of this centre height; less in a bore and where the hold is slack.

    `slack`: work that stands far out without support, or is held by a taper alone.
    Source: common practice, no source; the material's share by `group_of`.
    """
    height = workshop.centre_height_mm
    deep = 0.75 if height <= 125 else 1.5 if height <= 170 else 2.5
    deep *= group_of(material).depth * (0.6 if inside else 1.0) * (0.7 if slack else 1.0)
    return max(0.1, round(deep, 2))


def passes_for(deep_mm: float, most_mm: float, left_mm: float, *, fine: bool, only_rough: bool = False) -> Passes:
    """Passes that cut this deep on the radius, `left_mm` on the diameter kept for the finish.

    Fine: two last passes alike, so that tool and work spring alike in both; else one.
    Source: common practice, no source (table boring_rules, finish in passes of equal depth).

    >>> passes_for(4.3, 1.5, 0.6, fine=True)
    Passes(rough=3, rough_mm=1.3333333333333333, finish=2, finish_mm=0.15)
    """
    need("depth to cut away", deep_mm, "mm", least=0)
    need("deepest pass", most_mm, "mm", above=0)
    if only_rough:
        number = math.ceil(deep_mm / most_mm - 1e-9)
        return Passes(number, deep_mm / number if number else 0.0, 0, 0.0)
    # What is little more than the finish is not worth a pass of its own.
    keep = deep_mm if deep_mm <= 1.5 * left_mm / 2 else left_mm / 2
    number = math.ceil((deep_mm - keep) / most_mm - 1e-9)
    finish = 0 if keep <= 0 else 2 if fine else 1
    rough_mm = (deep_mm - keep) / number if number else 0.0
    return Passes(number, rough_mm, finish, keep / finish if finish else 0.0)


def grinding(left_mm: float) -> Passes:
    """Passes of a wheel over what is left on the diameter, the last two without more infeed not counted.

    Source: 0.01 mm a pass, common practice, no source.
    """
    number = max(1, math.ceil(left_mm / 2 / GRIND_MM - 1e-9))
    return Passes(0, 0.0, number, left_mm / 2 / number)


def thread_infeed(pitch_mm: float, depth_mm: float) -> tuple[float, ...]:
    """The infeed on the radius that each pass ends at, every chip of the same section; two more at the last figure.

    Source: depth x root (k / n), from memory; number of passes 4 + 4 x pitch, common practice, no source.
    """
    need("pitch", pitch_mm, "mm", above=0, most=10)
    need("depth of the groove", depth_mm, "mm", above=0)
    number = math.ceil(4 + 4 * pitch_mm - 1e-9)
    cuts = [depth_mm * math.sqrt(one / number) for one in range(1, number + 1)]
    return (*cuts, depth_mm, depth_mm)
