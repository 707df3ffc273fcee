"""A size with its limits, and the term that a chain of sizes is made of."""

from __future__ import annotations

from dataclasses import dataclass, replace

__all__ = ["MEASURING_DOUBT_MM", "Size", "Term", "exact"]

MEASURING_DOUBT_MM = 0.005
"""Doubt of a micrometer reading in a small shop, each way. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Size:
    """A length or diameter in mm with signed deviations, the reason for them, and where the number came from.

    `nominal_mm`, `upper_mm` and `lower_mm` may be arrays of equal shape (many designs at once).
    `origin` is the address of the parameter in the job file, or a rule in words.
    `basic` sizes are theoretically exact (boxed on the sheet). `derived` sizes follow from others and are not printed.
    `fitted` says in words how a size left to the fitter is found ("bore to the measured stack").
    """

    nominal_mm: float
    upper_mm: float = 0.0
    lower_mm: float = 0.0
    source: str = ""
    origin: str = ""
    tolerance_class: str = ""
    basic: bool = False
    derived: bool = False
    general: bool = False
    fitted: str = ""
    measured_mm: float | None = None

    @property
    def low(self) -> float:
        """Lower limit, or the measured size less the measuring doubt."""
        if self.measured_mm is not None:
            return self.measured_mm - MEASURING_DOUBT_MM
        return self.nominal_mm + self.lower_mm

    @property
    def high(self) -> float:
        """Upper limit, or the measured size plus the measuring doubt."""
        if self.measured_mm is not None:
            return self.measured_mm + MEASURING_DOUBT_MM
        return self.nominal_mm + self.upper_mm

    @property
    def middle(self) -> float:
        """Middle of the limits."""
        return (self.low + self.high) / 2

    @property
    def best(self) -> float:
        """The measured size where there is one, otherwise the nominal."""
        return self.nominal_mm if self.measured_mm is None else self.measured_mm

    def measured(self, value_mm: float) -> Size:
        """The same size with a reading in place of its limits."""
        return replace(self, measured_mm=value_mm)


def exact(nominal_mm: float, origin: str = "", source: str = "") -> Size:
    """A theoretically exact size: no deviations, boxed on the sheet."""
    return Size(nominal_mm, source=source, origin=origin, basic=True)


@dataclass(frozen=True, slots=True)
class Term:
    """One contributor of a chain: coefficient x size, and the address of the size."""

    coefficient: float
    size: Size
    address: str
