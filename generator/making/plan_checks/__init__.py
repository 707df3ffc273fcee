"""Checks of an order of work before anyone stands at the lathe with it.

`compare` yields every finding: surfaces, run-out, lengths, holding, walls, tools, machine, heat, datums, tapers, and
what could not be judged. Each module holds one subject; `plan` is what they all read.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from generator.description import Tool
from generator.findings import Finding
from generator.making.plan_checks.bars import about_bars
from generator.making.plan_checks.beside import about_beside
from generator.making.plan_checks.carriers import about_carriers
from generator.making.plan_checks.datums import about_datums
from generator.making.plan_checks.driven import about_driven
from generator.making.plan_checks.flats import about_flats
from generator.making.plan_checks.heat import about_heat
from generator.making.plan_checks.holding import about_holding
from generator.making.plan_checks.holes import about_drills
from generator.making.plan_checks.lengths import about_lengths, transfers
from generator.making.plan_checks.machine import about_machine
from generator.making.plan_checks.plan import Plan
from generator.making.plan_checks.squeeze import about_squeeze
from generator.making.plan_checks.surfaces import about_surfaces
from generator.making.plan_checks.tail_centre import about_tail_centre
from generator.making.plan_checks.tapers import about_tapers
from generator.making.plan_checks.told import about_untold
from generator.making.plan_checks.touch import about_touch
from generator.making.plan_checks.truth import about_truth, promises
from generator.making.setups import SetUp
from generator.making.stock import StockRow
from generator.making.usual import usual_workshop
from generator.making.workshop import Workshop

__all__ = ["compare"]

_CHECKS = (
    about_holding, about_squeeze, about_drills, about_driven, about_bars, about_machine, about_heat, about_datums,
    about_tapers, about_untold, about_carriers, about_touch, about_tail_centre, about_flats, about_beside,
)  # fmt: skip
_RANK = {"stop": 0, "warn": 1, "note": 2}


def compare(
    tool: Tool, setups: Sequence[SetUp], workshop: Workshop | None = None, stock: Iterable[StockRow] = ()
) -> tuple[Finding, ...]:
    """Findings about the order of work in this workshop, by default the usual one about a Morse 3 tailstock.

    `stock` is the blank of each part; without it nothing is said about what only the blank decides.
    """
    plan = Plan(tool, tuple(setups), workshop or usual_workshop(), {row.part: row for row in stock})
    return tuple(_each_once(_all(plan)))


def _all(plan: Plan) -> Iterator[Finding]:
    yield from about_surfaces(plan.tool, plan.setups)
    yield from about_truth(promises(plan.tool, plan.setups, plan.cut_in))
    yield from about_lengths(transfers(plan.tool, plan.setups, plan.cut_in))
    for check in _CHECKS:
        yield from check(plan)


def _each_once(found: Iterable[Finding]) -> Iterator[Finding]:
    """The findings without a second one of the same kind at the same place; the worst of them stays."""
    kept: dict[tuple[str, str], Finding] = {}
    for finding in found:
        known = kept.get(finding.key)
        if known is None or _RANK[finding.severity] < _RANK[known.severity]:
            kept[finding.key] = finding
    yield from kept.values()
