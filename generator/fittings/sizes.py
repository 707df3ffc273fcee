"""Ready-made sizes: by general tolerance, by ISO 286 class, or with limits of the shop's own."""

from __future__ import annotations

import math

from generator import tables
from generator.description import Size

__all__ = ["by_class", "derived", "general", "round_down", "round_up", "within"]


def general(nominal_mm: float, origin: str) -> Size:
    """A size that the general tolerance of the title block governs (ISO 2768-1 class m)."""
    reach = tables.general_tolerance("m", max(nominal_mm, 0.5))
    return Size(nominal_mm, reach, -reach, "ISO 2768-1 m", origin, general=nominal_mm >= 0.5)


def by_class(nominal_mm: float, tolerance_class: str, origin: str) -> Size:
    """A size with the limits of an ISO 286 class."""
    found = tables.limits(tolerance_class, nominal_mm)
    return Size(nominal_mm, found.upper_mm, found.lower_mm, found.source, origin, tolerance_class)


def within(nominal_mm: float, upper_mm: float, lower_mm: float, origin: str, source: str = "shop choice") -> Size:
    """A size with deviations of its own."""
    return Size(nominal_mm, upper_mm, lower_mm, source, origin)


def derived(nominal_mm: float, origin: str) -> Size:
    """A size that follows from others and is not printed."""
    return Size(nominal_mm, origin=origin, derived=True)


def round_up(value_mm: float, step_mm: float) -> float:
    """The next multiple of `step_mm` not below the value."""
    return round(math.ceil(value_mm / step_mm - 1e-9) * step_mm, 6)


def round_down(value_mm: float, step_mm: float) -> float:
    """The last multiple of `step_mm` not above the value."""
    return round(math.floor(value_mm / step_mm + 1e-9) * step_mm, 6)
