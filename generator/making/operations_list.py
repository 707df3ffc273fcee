"""What a whole plan wants: tools and gauges, with what is missing and its substitute, and how long it takes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.making.operations import Operation
from generator.making.operations_care import SET_UP_MIN, WAITING_MIN

__all__ = ["SetUpTime", "ToolRow", "set_up_times", "tools_for", "total_minutes"]


@dataclass(frozen=True, slots=True)
class ToolRow:
    """One tool or gauge ("tool", "gauge"), the operations that want it, and what stands in where it is missing."""

    kind: str
    name: str
    used: tuple[str, ...]
    is_missing: bool = False
    substitute: str = ""


@dataclass(frozen=True, slots=True)
class SetUpTime:
    """Rough minutes of one set-up: holding and setting, all its operations, and what the furnace does by itself."""

    setup: int
    holding_min: float
    working_min: float
    waiting_min: float = 0.0

    @property
    def total_min(self) -> float:
        """Holding and working: the time somebody stands there."""
        return self.holding_min + self.working_min


def tools_for(operations: Sequence[Operation]) -> tuple[ToolRow, ...]:
    """Every tool and gauge of the plan once, in the order in which it is first wanted; what is missing comes first.

    Source: the operations; a missing tool is one that the shop file does not list.
    """
    rows: dict[tuple[str, str], list[str]] = {}
    missing: dict[str, tuple[str, list[str]]] = {}
    for one in operations:
        for text in one.missing:
            name, _, other = text.partition(": ")
            missing.setdefault(name, (other, []))[1].append(one.number)
        lacking = {text.partition(": ")[0] for text in one.missing}
        for kind, name in _wanted(one):
            if name not in lacking:
                rows.setdefault((kind, name), []).append(one.number)
    lacks = [ToolRow("tool", name, tuple(used), True, other) for name, (other, used) in missing.items()]
    return (*lacks, *(ToolRow(kind, name, tuple(used)) for (kind, name), used in rows.items()))


def _wanted(one: Operation) -> Iterator[tuple[str, str]]:
    if one.cutter:
        yield "tool", one.cutter
    yield from (("tool", name) for name in one.tools)
    names = (name.strip() for name in one.instrument.split(";"))
    yield from (("gauge", name) for name in names if name and name != one.cutter and not name.startswith(_NO_THING))


_NO_THING = ("the ", "last by", "written down", "estimate", "thumbnail", "feel")
"""How words begin that say how to judge a size, not what to lay ready."""


def set_up_times(operations: Sequence[Operation]) -> tuple[SetUpTime, ...]:
    """Rough minutes of every set-up, in order.

    Source: `operations_care.SET_UP_MIN` and the minutes of each operation; common practice, no source.
    """
    numbers = dict.fromkeys(one.number.partition(".")[0] for one in operations)
    found = []
    for number in numbers:
        here = [one for one in operations if one.number.partition(".")[0] == number]
        holding = SET_UP_MIN.get(here[0].located, SET_UP_MIN[""])
        waiting = sum(WAITING_MIN.get(one.step.work, 0.0) for one in here)
        working = sum(one.minutes or 0.0 for one in here) - waiting
        found.append(SetUpTime(int(number), holding, round(working, 1), waiting))
    return tuple(found)


def total_minutes(operations: Sequence[Operation]) -> float:
    """Rough minutes at the bench of the whole plan, set-ups included, waiting for the furnace not.

    Source: `set_up_times`.
    """
    return round(sum(one.total_min for one in set_up_times(operations)), 1)
