"""Advice by solving: try the parameters that could cure a finding, rebuild, and keep what clears it without harm."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from types import ModuleType
from typing import Any

from generator.checks.verdict import check
from generator.errors import GeneratorError
from generator.findings import Change, Finding

__all__ = ["advise", "with_changes"]

_TRIES = 12
_STEP_MM = 0.1


def with_changes(params: Any, changes: Mapping[str, float | str]) -> Any:
    """The parameters with some values replaced, by dotted address ("body.barrel_diameter")."""
    data = params.model_dump(exclude_unset=True)
    for address, value in changes.items():
        table, _, key = address.rpartition(".")
        if table == "stack" and key.startswith("spacer_"):
            _set_spacer(data["stack"], int(key.removeprefix("spacer_")), value)
            continue
        target = data
        for name in filter(None, table.split(".")):
            held = target.get(name)
            target[name] = dict(held) if held else {}
            target = target[name]
        target[key] = value
    return type(params).model_validate(data, context={"unit": "mm"})


def _set_spacer(stack: list[dict[str, Any]], index: int, value: float | str) -> None:
    """Give the spacer behind ring `index` a length, adding the entry where the job left it open."""
    rings = 0
    lone = sum("spacer" not in item for item in stack) == 1
    for number, item in enumerate(stack):
        if "spacer" in item:
            continue
        before = rings
        rings += int(item.get("count") or (2 if lone else 1))
        if rings > index:
            rest = stack[number + 1 :]
            if len(rest) == 1 and "spacer" in rest[0] and rings == index + 1:
                rest[0]["spacer"] = value
                return
            halves = ({**item, "count": index - before}, {"spacer": value}, {**item, "count": rings - index})
            stack[number : number + 1] = halves
            return
        if rings == index:
            follows = stack[number + 1] if number + 1 < len(stack) else {}
            if "spacer" in follows:
                stack[number + 1] = {**follows, "spacer": value}
            else:
                stack.insert(number + 1, {"spacer": value})
            return


def advise(kind: ModuleType, params: Any, findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """The findings, each stop and warning with `changes` where one parameter could be found that clears it.

    Every proposal is tried: the finding must be gone or a note, and no stop may be new.
    """
    stops = {finding.key for finding in findings if finding.severity == "stop"}
    return tuple(
        replace(finding, changes=_changes(kind, params, finding, stops))
        if finding.severity != "note" and finding.miss and finding.cures and not finding.changes
        else finding
        for finding in findings
    )


def _changes(kind: ModuleType, params: Any, finding: Finding, stops: set[tuple[str, str]]) -> tuple[Change, ...]:
    for parameter in finding.cures:
        value = _solve(kind, params, finding, parameter, stops)
        if value is not None:
            return (Change(parameter, value),)
    return ()


def _try(kind: ModuleType, params: Any, parameter: str, value: float) -> tuple[Finding, ...] | None:
    try:
        choices = kind.derive(with_changes(params, {parameter: value}))
        return check(kind, choices, kind.build(choices))
    except (GeneratorError, ValueError):
        return None


def _miss_of(findings: Iterable[Finding], wanted: Finding) -> float:
    """How far the finding still misses after a change; 0 when it is gone or no more than a note."""
    return next((f.miss for f in findings if f.key == wanted.key and f.severity != "note"), 0.0)


def _solve(
    kind: ModuleType, params: Any, finding: Finding, parameter: str, stops: set[tuple[str, str]]
) -> float | None:
    """A value of the parameter that clears the finding: slope from a small step, then steps of the miss."""
    start = kind.derive(params).parameters.get(parameter)
    if start is None or not isinstance(start.value, (int, float)) or start.unit != "mm":
        return None
    base = float(start.value)
    before = _try(kind, params, parameter, base)
    miss0 = _miss_of(before, finding) if before is not None else finding.miss
    value = base
    for direction in (1.0, -1.0):
        nudged = _try(kind, params, parameter, base + direction * _STEP_MM)
        if nudged is None:
            continue
        gained = miss0 - _miss_of(nudged, finding)
        if gained <= 1e-9:
            continue
        slope = gained / _STEP_MM
        value = base
        miss = miss0
        for _ in range(_TRIES):
            value = _rounded_on(value + direction * max(miss / slope, _STEP_MM / 2), direction)
            after = _try(kind, params, parameter, value)
            if after is None:
                break
            miss = _miss_of(after, finding)
            if not miss:
                return value if _is_harmless(after, stops) else None
    return _stride(kind, params, finding, parameter, base, stops)


def _is_harmless(after: Iterable[Finding], stops: set[tuple[str, str]]) -> bool:
    return not {finding.key for finding in after if finding.severity == "stop"} - stops


def _stride(
    kind: ModuleType, params: Any, finding: Finding, parameter: str, base: float, stops: set[tuple[str, str]]
) -> float | None:
    """The smallest of a few growing steps that clears a finding which a small step does not touch."""
    for step in (0.5, 1.0, 2.0, 3.0, 5.0, 8.0, 12.0):
        for value in (base + step, base - step):
            after = _try(kind, params, parameter, round(value, 1)) if value > 0 else None
            if after is not None and not _miss_of(after, finding) and _is_harmless(after, stops):
                return round(value, 1)
    return None


def _rounded_on(value: float, direction: float) -> float:
    """The value rounded to a tenth, away from where it came, so that rounding never undoes the cure."""
    tenths = value * 10
    whole = -(-tenths // 1) if direction > 0 else tenths // 1
    return round(whole / 10, 1)
