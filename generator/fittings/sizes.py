"""Ready-made sizes: by general tolerance, by ISO 286 class, or with limits of the shop's own."""

from __future__ import annotations

import math

from generator import tables
from generator.description import Size

__all__ = ["by_class", "circlip_thickness", "derived", "general", "round_down", "round_up", "within"]


_CIRCLIP_UNDER_MM = ((0.8, 0.05), (1.75, 0.06), (2.5, 0.07), (3.0, 0.08), (float("inf"), 0.1))


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


def circlip_thickness(nominal_mm: float, origin: str) -> Size:
    """The thickness of a circlip with the limits of its standard.

    Source: DIN 471 and DIN 472, s: 0.05 under up to 0.8, 0.06 up to 1.75, 0.07 up to 2.5, 0.08 at 3, 0.1 above; from
    memory.
    """
    under = next(less for most, less in _CIRCLIP_UNDER_MM if nominal_mm <= most)
    return Size(nominal_mm, 0.0, -under, "DIN 471, DIN 472, limits from memory", origin)


def derived(nominal_mm: float, origin: str) -> Size:
    """A size that follows from others and is not printed."""
    return Size(nominal_mm, origin=origin, derived=True)


def round_up(value_mm: float, step_mm: float) -> float:
    """The next multiple of `step_mm` not below the value."""
    return round(math.ceil(value_mm / step_mm - 1e-9) * step_mm, 6)


def round_down(value_mm: float, step_mm: float) -> float:
    """The last multiple of `step_mm` not above the value."""
    return round(math.floor(value_mm / step_mm + 1e-9) * step_mm, 6)
