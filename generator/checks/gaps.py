"""Gap findings: what each chain comes to, against what is wanted, with its contributors and what to change."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.description import ChainResult, Term, Tool, evaluate_gap, positions
from generator.findings import Finding, Severity

__all__ = ["chains", "gap_findings"]

FITTING_REACH_MM = 0.15
"""How far a size made to measure may leave what is drawn before the drawing is simply wrong. Shop choice."""
_ROUNDING_MM = 0.002
"""A miss smaller than this is rounding, not a fault."""


def chains(tool: Tool) -> dict[str, ChainResult]:
    """Every gap of the tool worked out, by name."""
    forms = positions(tool)
    return {gap.name: evaluate_gap(tool, gap, forms) for gap in tool.gaps}


def gap_findings(tool: Tool, results: Mapping[str, ChainResult]) -> Iterator[Finding]:
    """One finding for each gap: a note where it holds, else a warning or a stop with what to change."""
    for result in results.values():
        yield _fitted(tool, result) if result.gap.fit else _plain(tool, result)


def _limit(result: ChainResult) -> str:
    gap = result.gap
    if gap.least_mm is None:
        return f"at most {gap.most_mm:.2f}"
    if gap.most_mm is None:
        return f"at least {gap.least_mm:.2f}"
    return f"{gap.least_mm:.2f} to {gap.most_mm:.2f}"


def _miss(result: ChainResult, low: float, high: float) -> float:
    """How far a range lies outside what is wanted, 0 when inside."""
    gap = result.gap
    below = gap.least_mm - low if gap.least_mm is not None else 0.0
    above = high - gap.most_mm if gap.most_mm is not None else 0.0
    miss = max(below, above, 0.0)
    return 0.0 if miss < _ROUNDING_MM else miss


def _rests_on_default(terms: tuple[Term, ...]) -> str:
    """Address of the machine size that nobody measured, if one decides this gap."""
    return next(
        (t.size.origin for t in terms if t.size.source.startswith("default:") and t.size.origin != "socket.taper"), ""
    )


def _contributors(terms: tuple[Term, ...]) -> tuple[str, ...]:
    """The sizes behind a value, those with most tolerance first, in words."""
    words = []
    for term in terms:
        size = term.size
        half = abs(term.coefficient) * (size.high - size.low) / 2
        spread = f", +-{half:.3f}" if half else ""
        measured = ", measured" if size.measured_mm is not None else ""
        factor = "" if abs(abs(term.coefficient) - 1.0) < 1e-9 else f" x {abs(term.coefficient):.3g}"
        sign = "+" if term.coefficient > 0 else "-"
        words.append(f"{sign} {term.address} {size.best:.3f}{factor}{spread}{measured}")
    return tuple(words)


def _plain(tool: Tool, result: ChainResult) -> Finding:
    gap = result.gap
    nominal_miss = _miss(result, result.nominal_mm, result.nominal_mm)
    worst_miss = _miss(result, result.low_mm, result.high_mm)
    severity: Severity = "note"
    advice = f"{gap.why}."
    if nominal_miss:
        severity = "stop" if gap.severity == "stop" else "warn"
        advice = f"{gap.why}. Outside by {nominal_miss:.2f} mm even at nominal sizes."
    elif worst_miss:
        severity = "warn"
        advice = f"{gap.why}. Right at nominal, but outside by {worst_miss:.2f} mm at worst limits."
    guess = _rests_on_default(result.contributors)
    if guess and severity != "note":
        severity = "warn"
        advice += f" It rests on a default nobody measured: give {guess}."
    second = gap.least_mm == 0.0 and gap.most_mm == 0.0
    if second:
        severity = "stop"
        advice = f"{gap.why}. Two contacts at once cannot both touch: leave one of them a gap."
    return Finding(
        code="gap",
        severity=severity,
        address=gap.name,
        title=gap.title,
        value=result.nominal_mm,
        limit=_limit(result),
        source=gap.source,
        advice=advice,
        miss=nominal_miss or worst_miss,
        cures=gap.cures,
        contributors=_contributors(result.contributors),
        worst_low=result.low_mm,
        worst_high=result.high_mm,
    )


def _apart(result: ChainResult) -> float:
    """How far the size made to measure is drawn outside the range that it may come out at, beyond a fitter's reach."""
    drawn = next(term.size.nominal_mm for term in result.contributors if term.address == result.gap.fit)
    low, high = result.fit_low_mm, result.fit_high_mm
    if low is None or high is None:
        return 0.0
    return max(low - drawn - FITTING_REACH_MM, drawn - high - FITTING_REACH_MM, 0.0)


def _fitted(tool: Tool, result: ChainResult) -> Finding:
    """A gap that a size made to measure sets: measure, then cut to the range given."""
    gap = result.gap
    miss = _miss(result, result.low_mm, result.high_mm)
    others = tuple(term for term in result.contributors if term.address != gap.fit)
    open_ones = [term for term in others if term.size.measured_mm is None and term.size.high - term.size.low > 0.02]
    span = f"{result.fit_low_mm:.3f} to {result.fit_high_mm:.3f} mm"
    if open_ones:
        names = ", ".join(dict.fromkeys(term.address for term in open_ones[:4]))
        advice = f"Measure first ({names}), then cut {gap.fit} to suit: it will come out at {span}. {gap.why}."
    else:
        middle = ((result.fit_low_mm or 0.0) + (result.fit_high_mm or 0.0)) / 2
        advice = f"Cut {gap.fit} to {middle:.3f} mm from the readings given. {gap.why}."
    severity: Severity = "note"
    apart = _apart(result)
    if apart and not miss:
        severity, miss = "stop", apart
        advice = f"{gap.fit} would have to come out at {span}, {apart:.2f} mm beyond what is drawn. {gap.why}."
    elif miss:
        severity = "stop" if gap.severity == "stop" else "warn"
        advice = f"Cannot be held even when made to measure: {miss:.3f} mm outside. {gap.why}."
    return Finding(
        code="gap",
        severity=severity,
        address=gap.name,
        title=gap.title,
        value=result.nominal_mm,
        limit=_limit(result),
        source=gap.source,
        advice=advice,
        miss=miss,
        cures=gap.cures,
        contributors=_contributors(result.contributors),
        worst_low=result.low_mm,
        worst_high=result.high_mm,
    )
