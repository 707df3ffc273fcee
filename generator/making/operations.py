"""Operations with every setting: cutter, spindle speed, feed, passes, where to stop on the dials, instrument, time."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from generator.description import Choices, Tool
from generator.making.figures import Figures
from generator.making.operations_access import Way, way_of
from generator.making.operations_beside import chosen_beside, lacks_beside
from generator.making.operations_blank import Blank, blanks_of
from generator.making.operations_bores import bored, drilled_span
from generator.making.operations_care import FILED_MIN, FIT_MIN, HANDLING_MIN, PASS_MIN, caution_of
from generator.making.operations_gauge import gauge_for
from generator.making.operations_holes import centred, drilled, reamed, tapped
from generator.making.operations_other import other_way
from generator.making.operations_set_over import screw_of, screw_rests_on
from generator.making.operations_settings import Settings, settings_of
from generator.making.operations_slide import brought_back, is_swung_by, wants_parallel
from generator.making.operations_stops import figure_to, stop_of, stop_rests_on
from generator.making.operations_target import Target, started, target_of
from generator.making.operations_threads import stays_in, wheels_of
from generator.making.operations_tools import Chosen, chosen_for, is_die, turning_tool
from generator.making.setups import SetUp, Step
from generator.making.stock import StockRow
from generator.making.tail_centre import revolves
from generator.making.tail_support import tail_support
from generator.making.workshop import Cutter, Workshop
from generator.reckoning.speed import cutting_time_min
from generator.units import FileUnit

__all__ = ["Operation", "operations_for"]

RUN_IN_MM = 3.0
"""What a pass is longer than its surface. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Operation:
    """One step of a set-up with what the machine is set to; None and "" where a setting does not apply.

    `number` is set-up and step ("3.2"). `cutter` names the tool of the shop, `tools` what else is wanted, `access` what
    was found when its way past support and work was tried, `blocked` whether something was in the way. `speed_note`
    says what set the speed, or why there is none. `feed_mm` is per turn, `depth_mm` the depth of one pass, `passes`
    their number; `finish_feed_mm`, `finish_depth_mm` and `finish_passes` are those of the last passes where they
    differ. `how` tells the same as one does it, line by line. `stop` says where to stop in this machine's own
    divisions, `to` the figure to stop at with limits and unit, printed large. `starter_mm` is the hole that a boring
    bar needs first. `missing` names what the shop does not have, each with a substitute behind a colon. `rests_on`
    names the shop's figures that nobody gave. `minutes` is a rough time; the plan gives what it
    assumes. `tail` is the centre in the tailstock that carries the work.
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
    tools: tuple[str, ...] = ()
    blocked: bool = False
    speed_note: str = ""
    finish_feed_mm: float | None = None
    finish_depth_mm: float | None = None
    finish_passes: int | None = None
    how: tuple[str, ...] = ()
    located: str = ""
    tail: str = ""


def operations_for(
    tool: Tool,
    setups: Sequence[SetUp],
    workshop: Workshop,
    choices: Choices | None = None,
    stock: Sequence[StockRow] = (),
    unit: FileUnit = "mm",
) -> tuple[Operation, ...]:
    """Every step of every set-up with what this shop's machine is set to, in order.

    Source: see `operations_speed`, `operations_passes`, `operations_care` and the others; each figure names its own.
    """
    figures, blanks = Figures(unit), blanks_of(tool, stock)
    shop = _Shop(workshop, choices, {row.part: row for row in stock}, blanks)
    return tuple(_slide_parallel((
        _operation(f"{setup.number}.{index}", target_of(tool, setup, step, blanks), shop, figures)
        for setup in setups
        for index, step in enumerate(setup.steps, start=1)
    ), workshop, figures))


def _slide_parallel(
    operations: Iterable[Operation], workshop: Workshop, figures: Figures
) -> Iterator[Operation]:
    """The operations; the first that needs the top slide parallel after it was swung says so."""
    swung = False
    for one in operations:
        if swung and wants_parallel(one.stop, one.how):
            rests = ("indicator_mm",) if workshop.is_default("indicator_mm") else ()
            line = figures.prose(brought_back(workshop, figures))
            yield replace(one, how=(line, *one.how), rests_on=tuple(dict.fromkeys((*one.rests_on, *rests))))
            swung = False
        else:
            yield one
        swung = swung or is_swung_by(one.step, one.stop, workshop)


@dataclass(frozen=True, slots=True)
class _Shop:
    """What the operations of a plan share: shop, choices of the job, blanks as sawn, blanks as they are by now."""

    workshop: Workshop
    choices: Choices | None
    rows: dict[str, StockRow]
    blanks: dict[str, Blank]


def _operation(number: str, target: Target, shop: _Shop, figures: Figures) -> Operation:
    workshop, part = shop.workshop, target.part
    chosen = _chosen(target, workshop, figures)
    if chosen.starter_mm is not None and part is not None:
        target = started(target, chosen.starter_mm)
        shop.blanks[part.name].open(*drilled_span(target, chosen.starter_deep_mm), chosen.starter_mm)
    settings = settings_of(target, chosen, workshop, shop.choices, figures)
    if settings.slow and chosen.cutter is not None:
        chosen = turning_tool(target, workshop, keen=True)
        settings = settings_of(target, chosen, workshop, shop.choices, figures)
    row = None if part is None else shop.rows.get(part.name)
    faced_mm = None if row is None else row.faced_mm

    def tried(at: Target, cutter: Cutter | None) -> Way:
        return way_of(at, cutter, workshop, shop.choices, faced_mm, figures)

    first = chosen
    target, chosen, way = other_way(target, chosen, tried(target, chosen.cutter), tried, workshop, figures)
    if chosen is not first:
        settings = settings_of(target, chosen, workshop, shop.choices, figures)
    screw = screw_of(target, workshop, shop.choices, row, figures)
    gauge = gauge_for(target, workshop, figures)
    stop = stop_of(target, workshop, figures)
    rests = (
        *chosen.rests_on, *settings.rests_on, *way.rests_on, *gauge.rests_on,
        *(stop_rests_on(target, workshop) if stop else ()), *(screw_rests_on(workshop) if screw else ()),
    )
    lacks = (*_lacks(target, workshop), *chosen.missing, *way.missing, *gauge.missing)
    passes = settings.passes
    rough = passes is not None and passes.rough > 0
    return Operation(
        number, target.step, chosen.name or target.step.tool, settings.rpm, settings.feed_mm,
        None if passes is None else round(passes.rough_mm if rough else passes.finish_mm, 3),
        None if passes is None else passes.rough if rough else passes.finish,
        chosen.starter_mm, figure_to(target, figures), stop, gauge.name or _named_gauge(target), way.text,
        caution_of(
            target, by_hand=settings.rpm is None, revolving=revolves(target.setup, workshop),
            half_nuts_in=not is_die(chosen) and stays_in(target, workshop), by_die=is_die(chosen),
        ),
        tuple(dict.fromkeys(lacks)),
        tuple(dict.fromkeys(rests)), _minutes(target, settings), (*chosen.also, *wheels_of(target, chosen, workshop)),
        not way.clear, settings.speed_note,
        settings.finish_feed_mm if rough else None,
        round(passes.finish_mm, 3) if passes is not None and rough and passes.finish_mm > 0 else None,
        passes.finish if passes is not None and rough and passes.finish else None,
        tuple(figures.prose(line) for line in (*screw, *chosen.how, *settings.how)), target.setup.located,
        tail_support(target, workshop, shop.choices, figures.unit),
    )


def _named_gauge(target: Target) -> str:
    """The instrument that the order of work names for a step of measuring."""
    tool = target.step.tool
    # What clamps or tightens is a tool, and an instrument only where it is one of clocking.
    named = target.step.work in {"indicate", "measure", "fit", ""} or "indicator" in tool
    return tool if named else ""


def _chosen(target: Target, workshop: Workshop, figures: Figures) -> Chosen:
    """The tool of the operation by its kind of work."""
    work = target.step.work
    beside = chosen_beside(target, workshop)
    if beside is not None:
        return beside
    if target.setup.located in {"bench", "own bearings"} and work not in {"drill", "tap", "ream"}:
        return Chosen(_BENCH.get(work, ""))
    found = {"drill": drilled, "ream": reamed, "tap": tapped, "centre": centred, "bore": bored}.get(work)
    if found is not None:
        return found(target, workshop, figures)
    if work in _BENCH:
        return Chosen(_BENCH[work])
    return chosen_for(target, workshop)


_BENCH = {
    "saw": "hacksaw", "file": "smooth file", "lap": "lap and fine compound", "deburr": "smooth file, stone",
    "stop off": "stop-off paste", "press": "press or vice, soft jaws", "indicate": "dial test indicator",
    "mark": "scriber",
}


def _lacks(target: Target, workshop: Workshop) -> Iterator[str]:
    """What holds or drives this work and is not in the shop, each with a substitute.

    Source: common practice, no source.
    """
    setup = target.setup
    if setup.support == "steady" and workshop.steady_most_mm is None:
        yield "steady: a bored block of hard wood or bronze on the bed, greased; or bore from a shorter piece"
    if setup.located == "four-jaw" and not any(one.kind == "four-jaw" for one in workshop.chucks):
        yield "four-jaw chuck: shims under one jaw of the three-jaw until the indicator stands"
    yield from lacks_beside(target, workshop)


def _minutes(target: Target, settings: Settings) -> float:
    """Rough minutes of the operation: cutting, a share for each pass, handling by kind of work.

    Source: `operations_care`; common practice, no source.
    """
    work = target.step.work
    total = HANDLING_MIN.get(work, HANDLING_MIN[""])
    if work == "file" and target.cross is not None:
        total = FILED_MIN
    if any(size.fitted for _, size in target.sizes) or any(one.surface.role == "seat" for one in target.passes):
        total += FIT_MIN
    length = target.across_mm / 2 if work in {"face", "part"} else target.length_mm
    if settings.rpm is None or not settings.feed_mm or not length:
        return round(total, 1)
    passes = settings.passes
    number = max(1, passes.rough or passes.finish) if passes is not None else 1
    path = number * (length + RUN_IN_MM)
    if passes is not None and passes.rough and len(target.passes) > 1:
        path = sum(math.ceil(one.deep_mm / passes.rough_mm - 1e-9) * (one.length_mm + RUN_IN_MM)
                   for one in target.passes)
    total += cutting_time_min(path, settings.feed_mm, settings.rpm)
    if passes is not None and passes.rough and passes.finish and settings.finish_feed_mm:
        total += passes.finish * cutting_time_min(length + RUN_IN_MM, settings.finish_feed_mm, settings.rpm)
    return round(total + PASS_MIN * (passes.number if passes is not None else 1), 1)
