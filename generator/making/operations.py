"""Operations with every setting: cutter, spindle speed, feed, passes, where to stop on the dials, instrument, time."""

from __future__ import annotations

from dataclasses import dataclass

from generator.making.setups import Step

__all__ = ["Operation"]


@dataclass(frozen=True, slots=True)
class Operation:
    """One step of a set-up with what the machine is set to; None and "" where a setting does not apply.

    `number` is set-up and step ("3.2"). `cutter` names the tool of the shop, `access` what was found when its way past
    support and work was tried. `feed_mm` is per turn, `depth_mm` the depth of one pass, `passes` their number. `stop`
    says where to stop in this machine's own divisions, `to` the figure to stop at with limits and unit, printed large.
    `starter_mm` is the hole that a boring bar needs first. `missing` names what the shop does not have, each with a
    substitute. `rests_on` names the shop's figures that nobody gave. `minutes` is a rough time; the plan gives what it
    assumes.
    """

    number: str
    step: Step
    cutter: str = ""
    rpm: float | None = None
    feed_mm: float | None = None
    depth_mm: float | None = None
    passes: int | None = None
    starter_mm: float | None = None
    to: str = ""
    stop: str = ""
    instrument: str = ""
    access: str = ""
    caution: str = ""
    missing: tuple[str, ...] = ()
    rests_on: tuple[str, ...] = ()
    minutes: float | None = None
