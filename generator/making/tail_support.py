"""What stands in the tailstock while it carries work, in the same words wherever the plan speaks of it."""

from __future__ import annotations

from generator.description import Choices
from generator.making.balls import ball_for
from generator.making.operations_access import carried_end, mouth_at
from generator.making.operations_target import Target
from generator.making.setups import SetUp
from generator.making.tail_centre import revolves
from generator.making.workshop import Workshop
from generator.units import FileUnit

__all__ = ["BALL_CENTRE", "DEAD_CENTRE", "REVOLVING_CENTRE", "standing_in", "tail_support"]

BALL_CENTRE, DEAD_CENTRE, REVOLVING_CENTRE = "ball centre", "dead centre", "revolving centre"


def standing_in(hole_mm: tuple[float, float] | None, setup: SetUp, workshop: Workshop) -> str:
    """Which centre stands in a hole of this mouth and pilot: revolving, on a ball where one bears in it, else dead.

    Source: the shop file.
    """
    if revolves(setup, workshop):
        return REVOLVING_CENTRE
    on_ball = workshop.tailstock_support == "ball" and hole_mm is not None and ball_for(*hole_mm)[1] > 0
    return BALL_CENTRE if on_ball else DEAD_CENTRE


def tail_support(target: Target, workshop: Workshop, choices: Choices | None, unit: FileUnit) -> str:
    """What carries the work of an operation at the tailstock, a ball with its size; "" where nothing does.

    Source: the shop file; balls by `balls.ball_for`.
    """
    setup = target.setup
    if setup.located != "centres" and setup.support != "centre":
        return ""
    face = carried_end(target)
    hole = mouth_at(target, face, choices) if face else None
    name = standing_in(hole, setup, workshop)
    return f"{name}, {ball_for(*hole, unit)[0]} ball" if name == BALL_CENTRE and hole is not None else name
