"""Walls as distances between outer and inner outline, and whether the bar on the shelf suffices."""

from __future__ import annotations

from collections.abc import Iterator

from generator import tables
from generator.description import Choices, Tool, least_wall, outline
from generator.errors import GeometryError, TableError
from generator.findings import Change, Finding

__all__ = ["CLEAN_UP_MM", "bar_finding", "wall_findings"]

CLEAN_UP_MM = 0.5
"""What must come off a bar's skin, on the diameter. Common practice, no source."""


def wall_findings(tool: Tool) -> Iterator[Finding]:
    """The thinnest wall of every made part at nominal size; a part that cannot be formed at all is a stop."""
    for part in tool.made:
        try:
            wall = least_wall(part)
        except GeometryError as error:
            yield Finding(
                "form",
                "stop",
                part.name,
                "the part cannot be formed",
                unit="",
                source="geometry",
                advice=f"{error}. Change the sizes it names.",
                miss=1.0,
                cures=("body.barrel_diameter", "body.through_bore", "body.barrel_length"),
            )
            continue
        if wall is None:
            continue
        least = part.least_wall_mm
        thin = wall.thickness_mm < least - 1e-6
        yield Finding(
            "wall",
            "stop" if thin else "note",
            part.name,
            f"thinnest wall, between {wall.outside} and {wall.inside}",
            wall.thickness_mm,
            f"at least {least:.1f}",
            source="common practice, no source",
            advice="Thin walls spring open under the tool and close on the rings."
            if thin
            else "Wall left after boring.",
            miss=max(0.0, least - wall.thickness_mm) if thin else 0.0,
            cures=("body.barrel_diameter", "body.through_bore"),
        )


def _next_bar(least_mm: float) -> tuple[Change, ...]:
    """The next stocked bar, as a change; none where the list ends below it."""
    try:
        return (Change("bar.diameter", tables.next_bar(least_mm, "mm")),)
    except TableError:
        return ()


def bar_finding(choices: Choices, tool: Tool) -> Iterator[Finding]:
    """Does the bar named in the job clean up to the largest made part?"""
    bar = choices.parameters.get("bar.diameter")
    if bar is None:
        return
    largest, name = 0.0, ""
    for part in tool.made:
        widest = 2 * max(max(edge.r0, edge.r1) for edge in outline(part).outer)
        if widest > largest:
            largest, name = widest, part.name
    left = float(bar.value) - largest
    short = left < CLEAN_UP_MM
    yield Finding(
        "bar",
        "stop" if short else "note",
        name,
        f"bar of {float(bar.value):g} mm cleans up to the {name}",
        left,
        f"at least {CLEAN_UP_MM:.1f}",
        source="common practice, no source",
        advice="The bar is too thin: take a thicker bar or a slimmer body." if short else "Enough to clean up.",
        miss=max(0.0, CLEAN_UP_MM - left),
        changes=_next_bar(largest + CLEAN_UP_MM) if short else (),
    )
