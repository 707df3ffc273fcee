"""Limits taken from mm to inches and back without ever overstepping them. Exact decimal arithmetic.

Limits are converted, never a nominal and its deviations apart: divide or multiply by 25.4, then round the upper limit
down and the lower limit up. Source: ANSI/IEEE 268, at second hand; the ladder of steps by tolerance, ISO 370 and the
same standard, from memory.
"""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

from generator.units import FileUnit

__all__ = [
    "EXACT_PLACES", "clean_mm", "converted", "inch_at_least", "inch_at_most", "inch_limits", "inward", "is_exact",
    "nearest", "outward", "step_places",
]

EXACT_PLACES = 5
"""A value is round in inches where five places write it exactly. Shop choice: a hundred-thousandth is never turned."""

_INCH_MM = Decimal("25.4")
# Float noise ends here: a millionth of a millimetre.
_NOISE = Decimal("0.000001")
_FINEST_PLACES = 9
# What an inch micrometer shows, and the least width between limits worth rounding to it. Shop choice.
_MICROMETER_PLACES = 4
_LEAST_INCH_WIDTH = Decimal("0.0002")


def converted(value: Decimal, to: FileUnit) -> Decimal:
    """A length in the other unit, not rounded."""
    return value / _INCH_MM if to == "in" else value * _INCH_MM


def clean_mm(value_mm: float) -> Decimal:
    """A length in mm without float noise."""
    return Decimal(repr(float(value_mm))).quantize(_NOISE, rounding=ROUND_HALF_UP)


def is_exact(value: Decimal, places: int) -> bool:
    """True where so many places write the value without a remainder."""
    return value == value.quantize(Decimal(1).scaleb(-places))


def nearest(value: Decimal, places: int) -> Decimal:
    """The value with so many places, half away from zero."""
    return value.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)


def step_places(tolerance: Decimal, to: FileUnit) -> int:
    """Decimal places of a converted limit: a step of about a twentieth of the tolerance, which is in the other unit.

    mm 0.05 to under 0.5 is given to 0.0001 in, inches .001 to under .01 to 0.001 mm; each tenth adds a place.
    """
    if tolerance <= 0:
        return EXACT_PLACES if to == "in" else 4
    # adjusted() is the power of ten of the first figure; the inch ladder changes at 5, the mm ladder at 1.
    if to == "in":
        return max(0, 3 - (tolerance * 2).adjusted())
    return max(0, -tolerance.adjusted())


def inward(low: Decimal, high: Decimal, places: int) -> tuple[Decimal, Decimal, int]:
    """Low limit rounded up, high limit rounded down, and the places used: more where fewer leave nothing between."""
    for used in range(places, _FINEST_PLACES + 1):
        step = Decimal(1).scaleb(-used)
        rounded = low.quantize(step, rounding=ROUND_CEILING), high.quantize(step, rounding=ROUND_FLOOR)
        if rounded[0] <= rounded[1]:
            return (*rounded, used)
    return nearest(low, _FINEST_PLACES), nearest(high, _FINEST_PLACES), _FINEST_PLACES


def outward(low: Decimal, high: Decimal, places: int) -> tuple[Decimal, Decimal]:
    """Low rounded down and high rounded up, for what may happen rather than what is allowed."""
    step = Decimal(1).scaleb(-places)
    return low.quantize(step, rounding=ROUND_FLOOR), high.quantize(step, rounding=ROUND_CEILING)


def inch_limits(low_mm: Decimal, high_mm: Decimal) -> tuple[Decimal, Decimal, int]:
    """Limits in inches, rounded inwards, low first, and their places.

    Ten-thousandths are the finest that a micrometer shows; a fifth place stands only where fewer leave next to nothing.
    """
    low, high = converted(low_mm, "in"), converted(high_mm, "in")
    places = step_places(high_mm - low_mm, "in")
    if places > _MICROMETER_PLACES:
        found = inward(low, high, _MICROMETER_PLACES)
        if found[2] == _MICROMETER_PLACES and found[1] - found[0] >= _LEAST_INCH_WIDTH:
            return found
    return inward(low, high, places)


def inch_at_most(limit_mm: Decimal) -> Decimal:
    """What may not be exceeded, in inches: four places, rounded down; one place more where four would leave nothing.

    >>> inch_at_most(Decimal("0.01"))
    Decimal('0.0003')
    """
    value = converted(limit_mm, "in")
    for places in range(_MICROMETER_PLACES, _FINEST_PLACES + 1):
        rounded = value.quantize(Decimal(1).scaleb(-places), rounding=ROUND_FLOOR)
        if rounded > 0 or value <= 0:
            return rounded
    return value


def inch_at_least(limit_mm: Decimal) -> Decimal:
    """What must be had, in inches: four places, rounded up."""
    return converted(limit_mm, "in").quantize(Decimal(1).scaleb(-_MICROMETER_PLACES), rounding=ROUND_CEILING)
