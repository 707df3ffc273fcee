"""The centre that carries the work at the tailstock: dead and greased, or a revolving one with its own run-out."""

from __future__ import annotations

from dataclasses import replace

from generator.making.setups import WAYS, SetUp
from generator.making.workshop import Workshop

__all__ = ["WITH_REVOLVING", "revolves", "with_tail_centre"]

WITH_REVOLVING = "revolving centre at the tailstock"
"""Stands in the words of how the work is held."""


def revolves(setup: SetUp, workshop: Workshop) -> bool:
    """Whether a revolving centre carries the work of this set-up.

    Not for a taper on a tailstock set over on a ball: what stands there is the ball centre, which stands still.
    Source: the shop file; common practice, no source.
    """
    carried = setup.located == "centres" or setup.support == "centre"
    if workshop.tail_centre != "revolving" or not carried:
        return False
    on_ball = workshop.taper_method == "set-over" and workshop.tailstock_support == "ball"
    return not (on_ball and any(step.work == "taper" for step in setup.steps))


def with_tail_centre(setup: SetUp, workshop: Workshop) -> SetUp:
    """The set-up with a revolving centre said, and its run-out added where the work runs true to its centre holes.

    The point turns with the work: what is cut is true to its bearing, not to the hole. Another time it stands in the
    hole otherwise, so all of its run-out may show. Source: geometry; usual figure `setups.WAYS`.
    """
    if not revolves(setup, workshop):
        return setup
    held = replace(setup, holding=f"{setup.holding}, {WITH_REVOLVING}")
    usual = WAYS["centres"]
    if setup.located != "centres" or setup.earns_mm is not None or usual.high_mm is None:
        return held
    run_out = workshop.tail_centre_run_out_mm
    how = f"{usual.how}, a revolving centre in one of them adds its own run-out"
    return replace(held, earns_mm=round(usual.high_mm + run_out, 4), earns_how=how)
