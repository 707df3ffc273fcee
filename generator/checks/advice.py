"""Advice by solving: try the parameters that could cure a finding, rebuild, and keep what clears it without harm."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from types import ModuleType
from typing import Any

from generator.checks.verdict import check
from generator.description import Choice
from generator.errors import GeneratorError
from generator.findings import Change, Finding
from generator.making.workshop import Workshop

__all__ = ["advise", "with_changes"]

_TRIES = 12
_GRAINS = {"mm": 0.1, "N": 10.0, "rpm": 10.0, "kg": 0.1}
_FINE = {"loads.feed": 0.01, "loads.depth": 0.05}


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


def advise(
    kind: ModuleType, params: Any, findings: Sequence[Finding], workshop: Workshop | None = None
) -> tuple[Finding, ...]:
    """The findings, each stop and warning with `changes` where one parameter could be found that clears it.

    Every proposal is tried, those that a check makes itself too: the finding must be gone or a note, and no stop may
    be new.
    """
    stops = frozenset(finding.key for finding in findings if finding.severity == "stop")
    bench = _Bench(kind, params, stops, workshop)
    return tuple(
        replace(finding, changes=_changes(bench, finding)) if finding.severity != "note" and finding.miss else finding
        for finding in findings
    )


class _Bench:
    """One job on the bench: what it finds with one parameter changed, each change worked out once."""

    def __init__(
        self, kind: ModuleType, params: Any, stops: frozenset[tuple[str, str]], workshop: Workshop | None
    ) -> None:
        self.kind, self.params, self.stops, self.workshop = kind, params, stops, workshop
        self.parameters: Mapping[str, Choice] = kind.derive(params).parameters
        self._known: dict[tuple[str, float | str], tuple[Finding, ...] | None] = {}

    def find(self, parameter: str, value: float | str) -> tuple[Finding, ...] | None:
        """The findings after one change, None where nothing can be built."""
        key = parameter, value
        if key not in self._known:
            try:
                choices = self.kind.derive(with_changes(self.params, {parameter: value}))
                self._known[key] = check(self.kind, choices, self.kind.build(choices), self.workshop)
            except (GeneratorError, ValueError):
                self._known[key] = None
        return self._known[key]

    def cures(self, finding: Finding, parameter: str, value: float | str) -> bool:
        """True if the change clears the finding and adds no stop."""
        after = self.find(parameter, value)
        if after is None or _miss_of(after, finding):
            return False
        return not {found.key for found in after if found.severity == "stop"} - self.stops


def _changes(bench: _Bench, finding: Finding) -> tuple[Change, ...]:
    if finding.changes:
        change = finding.changes[0]
        return finding.changes if bench.cures(finding, change.parameter, change.value) else ()
    for parameter in finding.cures:
        choice = bench.parameters.get(parameter)
        if choice is None or isinstance(choice.value, str | bool) or choice.unit not in _GRAINS:
            continue
        value = _solve(bench, finding, parameter, float(choice.value), _grain(choice))
        if value is not None:
            return (Change(parameter, value, choice.unit),)
    return ()


def _grain(choice: Choice) -> float:
    """The step in which a parameter is set: tenths of a millimetre, finer for a feed or a depth of cut."""
    return _FINE.get(choice.address, _GRAINS[choice.unit])


def _miss_of(findings: Iterable[Finding], wanted: Finding) -> float:
    """How far the finding still misses after a change; 0 when it is gone or no more than a note."""
    return next((f.miss for f in findings if f.key == wanted.key and f.severity != "note"), 0.0)


def _solve(bench: _Bench, finding: Finding, parameter: str, base: float, grain: float) -> float | None:
    """A value of the parameter that clears the finding: slope from a small step, then steps of the miss."""
    before = bench.find(parameter, base)
    miss0 = _miss_of(before, finding) if before is not None else finding.miss
    for direction in (1.0, -1.0):
        nudged = bench.find(parameter, base + direction * grain)
        gained = miss0 - _miss_of(nudged, finding) if nudged is not None else 0.0
        if gained <= 1e-9:
            continue
        slope, value, miss = gained / grain, base, miss0
        for _ in range(_TRIES):
            value = _further(value, direction, max(miss / slope, grain / 2), grain)
            after = bench.find(parameter, value)
            if after is None:
                break
            miss = _miss_of(after, finding)
            if not miss:
                return value if bench.cures(finding, parameter, value) else None
    if parameter.startswith("loads."):
        return None
    return _stride(bench, finding, parameter, base, grain)


def _further(value: float, direction: float, step: float, grain: float) -> float:
    """The next value to try; a step that would pass zero halves the value instead."""
    moved = _rounded_on(value + direction * step, direction, grain)
    return moved if moved > 0 else _rounded_on(value / 2, direction, grain)


def _stride(bench: _Bench, finding: Finding, parameter: str, base: float, grain: float) -> float | None:
    """The smallest of a few growing steps that clears a finding which a small step does not touch."""
    for steps in (5, 10, 20, 30, 50, 80, 120):
        for value in (base + steps * grain, base - steps * grain):
            even = round(round(value / grain) * grain, 6)
            if even > 0 and bench.cures(finding, parameter, even):
                return even
    return None


def _rounded_on(value: float, direction: float, grain: float) -> float:
    """The value on the grain, away from where it came, so that rounding never undoes the cure."""
    parts = value / grain
    whole = math.ceil(parts - 1e-9) if direction > 0 else math.floor(parts + 1e-9)
    return round(whole * grain, 6)
