"""First running of a finished tool: spin, warm run in steps of the machine's speeds, and the three truths."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.description import Tool
from generator.findings import PRACTICE, Finding
from generator.making.workshop import Workshop

__all__ = ["Running", "Truth", "runnings", "truths"]

SHARES = (0.25, 0.5, 1.0)
"""Steps of the warm run as shares of the speed wanted. Common practice, no source."""
MINUTES = (10, 10, 20)
"""How long each step lasts. Common practice, no source."""
WARM_C = 50
"""Hand-warm: what a palm bears for some seconds. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Running:
    """One step of the warm run: the machine's speed to set, how long, and what must not be."""

    rpm: float
    minutes: int
    watch: str


@dataclass(frozen=True, slots=True)
class Truth:
    """One of the three numbers that tell how true a tool is: what it is, how it is taken, what is likely and allowed.

    `likely_um` is what the checks reckon, None where they could not; `most_um` the most that is allowed, None where
    nobody gave it.
    """

    name: str
    how: str
    likely_um: float | None
    most_um: float | None
    source: str


_HOW = {
    "offset": ("offset, standing still", "indicator held in the chuck on the point, chuck turned by hand: half of it"),
    "runout": ("run-out, the point turning", "indicator on the point's flank, square to it, one slow turn"),
    "lost_motion": ("lost motion", "indicator on the nose, pushed to and fro by 20 N without a thrust on the point"),
}


def runnings(tool: Tool, findings: Sequence[Finding], workshop: Workshop) -> tuple[Running, ...]:
    """The warm run of a tool that turns, up to the speed its job asks for and no faster; empty for one that stands.

    Source: quarter, half and whole speed, common practice, no source; speeds are those of the machine.
    """
    speed = next((one for one in findings if one.code == "speed" and one.value), None)
    if not tool.turning or speed is None or speed.value is None:
        return ()
    found: list[Running] = []
    for share, minutes in zip(SHARES, MINUTES, strict=True):
        rpm = _at_most(share * speed.value, workshop)
        watch = f"stop if it gets hotter than the hand bears, about {WARM_C} °C, growls or drags"
        if not found or rpm > found[-1].rpm:
            found.append(Running(rpm, minutes, watch))
    return tuple(found)


def _at_most(rpm: float, workshop: Workshop) -> float:
    """The machine's next speed that is not above this one; its lowest where there is none."""
    if not workshop.has_steps:
        return max(workshop.speeds_rpm[0], min(rpm, workshop.speeds_rpm[-1]))
    return max((step for step in workshop.speeds_rpm if step <= rpm + 1e-9), default=workshop.speeds_rpm[0])


def truths(tool: Tool, findings: Sequence[Finding]) -> tuple[Truth, ...]:
    """Offset, run-out and lost motion with what the checks make of them; for a tool that stands, its run-outs."""
    return tuple(_truths(tool, findings))


def _figure(limit: str) -> float | None:
    """The figure in the words of a limit."""
    found = re.search(r"\d+(?:\.\d+)?", limit)
    return float(found[0]) if found else None


def _truths(tool: Tool, findings: Sequence[Finding]) -> Iterator[Truth]:
    for code, (name, how) in _HOW.items():
        found = next((one for one in findings if one.code == code), None)
        if found is not None:
            yield Truth(name, how, found.value, _figure(found.limit), found.source)
    if tool.turning:
        return
    for part in tool.made:
        for relation in part.relations:
            name = f"{relation.kind} of the {relation.surface.replace('_', ' ')}"
            how = "in the headstock spindle or a known-good socket, indicator square to the flank, one slow turn"
            yield Truth(name, how, None, 1000 * relation.limit_mm, PRACTICE)
