"""Short ways to a finding: a value held against a limit, and a check that could not run and says what to give."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from generator.errors import GeometryError, InputError, TableError
from generator.findings import Change, Finding, Severity
from generator.reckoning.amounts import RangeError

__all__ = ["Limit", "Say", "judged", "not_run", "told", "try_out"]

_NOISE = 1e-9


@dataclass(frozen=True, slots=True)
class Limit:
    """What is wanted: at least, at most, or both; `digits` are significant ones."""

    least: float | None = None
    most: float | None = None
    digits: int = 3

    @property
    def text(self) -> str:
        """The limit in words."""
        shown = [_figure(value, self.digits) for value in (self.least, self.most) if value is not None]
        if len(shown) == 2:
            return f"{shown[0]} to {shown[1]}"
        return f"at {'least' if self.least is not None else 'most'} {shown[0]}" if shown else "none given"

    def miss(self, value: float) -> float:
        """How far the value lies outside, 0 inside."""
        below = self.least - value if self.least is not None else 0.0
        above = value - self.most if self.most is not None else 0.0
        miss = max(below, above, 0.0)
        return 0.0 if miss <= _NOISE * max(1.0, abs(value)) else miss


@dataclass(frozen=True, slots=True)
class Say:
    """Words about a value: its unit, the rule behind it, advice, what to change, and the span at worst."""

    source: str
    advice: str
    unit: str = "mm"
    cures: tuple[str, ...] = ()
    changes: tuple[Change, ...] = ()
    contributors: tuple[str, ...] = ()
    worst: tuple[float, float] | None = field(default=None)


def judged(
    code: str, address: str, title: str, value: float | None, limit: Limit, say: Say, missed: Severity = "warn"
) -> Finding:
    """The finding of a value: a note inside its limit, `missed` outside."""
    miss = limit.miss(value) if value is not None else 0.0
    low, high = say.worst if say.worst is not None else (None, None)
    if say.unit != "mm":
        value, low, high = (_rounded(number) for number in (value, low, high))
    return Finding(
        code, missed if miss else "note", address, title, value, limit.text, say.unit, say.source, say.advice,
        miss, say.cures, say.contributors, say.changes if miss else (), low, high,
    )  # fmt: skip


def told(code: str, address: str, title: str, source: str, advice: str) -> Finding:
    """A note without a figure."""
    return Finding(code, "note", address, title, unit="", source=source, advice=advice)


def not_run(code: str, address: str, title: str, why: str) -> Finding:
    """A check that could not run, with what to give so that it can."""
    return told(f"{code}-not-run", address, f"{title}: not checked", "this program", f"Not checked: {why}.")


def try_out(code: str, address: str, title: str, work: Iterable[Finding]) -> Iterator[Finding]:
    """The findings of a check not yet begun; where its data lie outside what is known, one finding that says so."""
    try:
        yield from tuple(work)
    except InputError as problem:
        words = "; ".join(f"{fault.rule} ({fault.cure})" for fault in problem.faults)
        yield not_run(code, address, title, words)
    except (TableError, RangeError, GeometryError) as problem:
        yield not_run(code, address, title, str(problem).rstrip("."))


def _rounded(value: float | None) -> float | None:
    """Four digits: none of these figures is worth more."""
    return None if value is None else float(f"{value:.4g}")


def _figure(value: float, digits: int) -> str:
    text = f"{value:.{digits}g}"
    return text if "e" not in text else f"{value:.0f}"
