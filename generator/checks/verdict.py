"""All findings of one tool in one list, stops first."""

from __future__ import annotations

from collections.abc import Iterator
from types import ModuleType

from generator.checks.gaps import chains, gap_findings
from generator.checks.walls import bar_finding, wall_findings
from generator.description import Choices, Tool
from generator.errors import GeometryError
from generator.findings import Finding, by_severity
from generator.making.order import compare

__all__ = ["NOT_CHECKED", "check"]

NOT_CHECKED = "Not checked here: load, speed and thrust on the bearings, strength and stiffness of the spindle."
"""What stands in words on every sheet as long as the program does not work these out."""


def check(kind: ModuleType, choices: Choices, tool: Tool) -> tuple[Finding, ...]:
    """Every finding: gaps, walls, bar, the kind's own, the order of work, defaults used, what was not checked."""
    found = list(gap_findings(tool, chains(tool)))
    found += wall_findings(tool)
    found += bar_finding(choices, tool)
    try:
        found += kind.inspect(choices, tool)
        found += compare(tool, kind.order(choices, tool))
    except GeometryError as error:
        found.append(_not_run(str(error)))
    found += _defaults(choices)
    found.append(
        Finding(
            "not-checked", "note", "tool", "load, speed and thrust", advice=NOT_CHECKED, unit="", source="this program"
        )
    )
    return by_severity(found)


def _not_run(reason: str) -> Finding:
    return Finding(
        "check-not-run",
        "stop",
        "tool",
        "a check could not run",
        unit="",
        source="this program",
        advice=f"{reason}. Change the size it names, then check again.",
    )


def _defaults(choices: Choices) -> Iterator[Finding]:
    """Machine sizes that nobody measured."""
    for choice in choices.parameters.values():
        if choice.is_default:
            yield Finding(
                "default",
                "note",
                choice.address,
                "a default stands in for your machine",
                float(choice.value),
                "measure",
                choice.unit,
                choice.rule,
                f"Measure it and give {choice.address}.",
            )
