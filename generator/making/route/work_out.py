"""The whole order of work of a tool: shanks, spindles, rings, then points in their own bearings."""

from __future__ import annotations

from generator.description import Choices, Tool
from generator.making.route.ledger import Ledger, Wishes
from generator.making.route.ring import ring_part
from generator.making.route.shank import is_shank, shank_part
from generator.making.route.spindle import Spindle, is_spindle
from generator.making.setups import SetUp
from generator.making.workshop import Workshop

__all__ = ["work_out"]


def work_out(tool: Tool, choices: Choices, workshop: Workshop, wishes: Wishes | None = None) -> tuple[SetUp, ...]:
    """All set-ups of all made parts, numbered in the order in which the parts are wanted.

    Source: common practice, no source.
    """
    ledger = Ledger(tool, choices, workshop, wishes or Wishes())
    for part in tool.made:
        if is_shank(part):
            shank_part(ledger, part)
    spindles = [Spindle(ledger, part) for part in tool.made if is_spindle(part)]
    for spindle in spindles:
        spindle.make()
    for part in tool.made:
        if not (is_shank(part) or is_spindle(part)):
            ring_part(ledger, part)
    for spindle in spindles:
        spindle.point_in_its_bearings()
    return tuple(ledger.setups)
