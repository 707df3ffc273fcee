"""The whole order of work of a tool: shanks, spindles, rings, then points in their own bearings."""

from __future__ import annotations

from generator.description import Choices, Part, Tool
from generator.making.route.ledger import Ledger, Wishes
from generator.making.route.measured import made_first
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
    rings = [part for part in tool.made if not (is_shank(part) or is_spindle(part))]
    shanks = [part for part in tool.made if is_shank(part)]
    # What is measured for a size of the shank lies ready when that size is cut.
    wanted = {name for part in shanks for name in made_first(tool, part)}
    early = [part for part in rings if part.name in wanted]
    for part in early:
        ring_part(ledger, part)
    for part in shanks:
        shank_part(ledger, part)
    # A nut is the gauge of the thread that it goes on.
    nuts = [part for part in rings if _is_nut(part) and part not in early]
    for part in nuts:
        ring_part(ledger, part)
    spindles = [Spindle(ledger, part) for part in tool.made if is_spindle(part)]
    for spindle in spindles:
        spindle.make()
    for part in rings:
        if part not in nuts and part not in early:
            ring_part(ledger, part)
    for spindle in spindles:
        spindle.point_in_its_bearings()
    return tuple(ledger.setups)


def _is_nut(part: Part) -> bool:
    """True for a ring with a thread in its bore."""
    threads = {zone.surface for zone in part.zones if zone.form == "thread"}
    return any(one.name in threads and one.side == "inside" for one in part.surfaces)
