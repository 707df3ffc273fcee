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
    return work_out(tool, choices, workshop, Wishes(mouth_mm=float(mouth) if mouth else None))
