"""The order of work of a dead centre: found from its one part."""

from __future__ import annotations

from generator.description import Choices, Tool
from generator.making.route import Wishes, work_out
from generator.making.setups import SetUp
from generator.making.workshop import Workshop

__all__ = ["order"]


def order(choices: Choices, tool: Tool, workshop: Workshop) -> tuple[SetUp, ...]:
    """Shank first, point last, true to the shank."""
    mouth = choices.names.get("shank/mouth", "").removesuffix(" mm")
    round_out = {"centre/flat": "R 1 mm or more where it runs out: a sharp corner breaks there"}
    return work_out(tool, choices, workshop, Wishes(round_out, float(mouth) if mouth else None))
