"""Findings: what the program has to say about a design, in the order a foreman would want to hear it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any, Literal

__all__ = ["PRACTICE", "Change", "Finding", "Severity", "by_severity", "count_stops"]

PRACTICE = "common practice, no source"
"""Source of a figure that turners agree on and nobody has published."""

Severity = Literal["stop", "warn", "note"]
_ORDER = {"stop": 0, "warn": 1, "note": 2}


@dataclass(frozen=True, slots=True)
class Change:
    """One parameter to change, and to what, found by solving; applying all changes of a finding clears it."""

    parameter: str
    value: float | str
    unit: str = "mm"

    def __str__(self) -> str:
        """The change as words for a sheet."""
        shown = f"{self.value:g}" if isinstance(self.value, float) else self.value
        return f"{self.parameter} = {shown} {self.unit}".rstrip()


@dataclass(frozen=True, slots=True)
class Finding:
    """What was found at one address, against which limit, by whose rule, and what to change.

    `value` and `limit` are in `unit`. `miss` is how far the value is outside its limit (0 when it is inside): solving
    for `changes` drives it to 0. `cures` are the parameters worth trying, best first. `contributors` name the sizes
    behind the value, largest first.
    """

    code: str
    severity: Severity
    address: str
    title: str
    value: float | None = None
    limit: str = ""
    unit: str = "mm"
    source: str = ""
    advice: str = ""
    miss: float = 0.0
    cures: tuple[str, ...] = ()
    contributors: tuple[str, ...] = ()
    changes: tuple[Change, ...] = ()
    worst_low: float | None = None
    worst_high: float | None = None

    @property
    def key(self) -> tuple[str, str]:
        """What makes a finding the same one after a change."""
        return self.code, self.address

    def as_dict(self) -> dict[str, Any]:
        """Plain data for the record and for --json."""
        return asdict(self)


def by_severity(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Stops first, then warnings, then notes; within each in the order they were found."""
    return tuple(sorted(findings, key=lambda finding: _ORDER[finding.severity]))


def count_stops(findings: Iterable[Finding]) -> int:
    """Number of findings that forbid making the tool."""
    return sum(finding.severity == "stop" for finding in findings)
