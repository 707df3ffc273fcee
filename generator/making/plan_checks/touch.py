"""Is every length set from a face that a tool can reach where the work is held by then."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding
from generator.making.plan_checks.plan import Plan, found
from generator.making.plan_checks.surfaces import words
from generator.making.touch import why_hidden

__all__ = ["about_touch"]


def about_touch(plan: Plan) -> Iterator[Finding]:
    """A stop for each set-up that touches off on a face which no tool reaches there.

    Source: geometry; common practice, no source.
    """
    for setup in plan.setups:
        part = plan.tool.parts.get(setup.touches_off.partition("/")[0])
        if part is None:
            continue
        why = why_hidden(part, setup, setup.touches_off.partition("/")[2], plan.z_of(part))
        if why:
            yield found(
                "order-touch", "stop", setup, setup.touches_off,
                f"sets its lengths from {words(setup.touches_off)}: {why}",
                "touch off on an end or shoulder that the tool reaches, and reckon the length over to it",
                source="a tool touches only what it reaches; common practice, no source",
            )  # fmt: skip
