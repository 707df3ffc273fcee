"""The order of work of a dead centre: found from its one part."""

from __future__ import annotations

from generator.description import Choices, Tool
from generator.making.route import Wishes, work_out
from generator.making.setups import SetUp
from generator.making.workshop import Workshop

__all__ = ["order"]


def order(choices: Choices, tool: Tool, workshop: Workshop) -> tuple[SetUp, ...]:
    """Shank first, point last, true to the shank."""
    mouth = f"dia {choices.names['shank/mouth']}" if "shank/mouth" in choices.names else ""
    return work_out(tool, choices, workshop, Wishes(mouth=mouth))
