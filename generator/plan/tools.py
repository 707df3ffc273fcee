"""The page of tools: what must lie ready, what holds the work, what is missing and what stands in for it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import zip_longest

from generator.making.figures import Figures
from generator.making.operations import Operation
from generator.making.operations_list import ToolRow, tools_for
from generator.making.operations_threads import BY_HANDLE
from generator.making.setups import SetUp
from generator.making.tail_centre import WITH_REVOLVING
from generator.plan.wording import BOX, in_short, joined, sentence
from generator.prints.content import Table, TextPage
from generator.units import FileUnit

__all__ = ["tools_page", "tools_table"]


def tools_page(operations: Sequence[Operation], setups: Sequence[SetUp], unit: FileUnit) -> TextPage | None:
    """Tools, gauges and what holds the work on one page, what is missing first; None without operations."""
    if not operations:
        return None
    return TextPage("Tools and gauges", tuple(_tables(operations, setups, unit)))


def _tables(operations: Sequence[Operation], setups: Sequence[SetUp], unit: FileUnit) -> Iterator[Table]:
    rows, figures = tools_for(operations), Figures(unit)
    lacking = [row for row in rows if row.is_missing]
    if lacking:
        yield Table(
            ("", "not in the shop file", "instead", "for"),
            tuple((BOX, sentence(figures.prose(row.name)), sentence(figures.prose(row.substitute)), in_short(row.used))
                  for row in lacking),
            (8.0, 62.0, 80.0, 30.0), ("centre",), (), "Missing, and what stands in", close=True,
        )
    yield tools_table(rows, figures)
    yield _pairs("To hold it", [*_holding(setups, figures), *_centres(operations, setups), *_for_the_work(setups)])


def tools_table(rows: Sequence[ToolRow], figures: Figures) -> Table:
    """Every tool and gauge that the shop has, with a box to tick and the operations that want it."""
    return _pairs("Tools and gauges", [
        (sentence(figures.prose(row.name)).removesuffix("."), in_short(row.used)) for row in rows if not row.is_missing
    ])  # fmt: skip


def _pairs(title: str, having: Sequence[tuple[str, str]]) -> Table:
    """Things to lay ready, two in a row."""
    half = (len(having) + 1) // 2
    cells = [(BOX, *one) for one in having]
    pairs = zip_longest(cells[:half], cells[half:], fillvalue=("", "", ""))
    return Table(
        ("", "lay ready", "for", "", "lay ready", "for"), tuple((*left, *right) for left, right in pairs),
        (7.0, 58.0, 25.0, 7.0, 58.0, 25.0), ("centre", "left", "left", "centre"), (), title, close=True,
    )


def _holding(setups: Sequence[SetUp], figures: Figures) -> Iterator[tuple[str, str]]:
    """Each way of holding once, with the set-ups held so."""
    used: dict[str, list[str]] = {}
    for setup in setups:
        used.setdefault(setup.holding, []).append(f"{setup.number}.0")
    for holding, numbers in used.items():
        yield sentence(figures.prose(holding)).removesuffix("."), _set_ups(numbers)


def _centres(operations: Sequence[Operation], setups: Sequence[SetUp]) -> Iterator[tuple[str, str]]:
    """Centres, what drives the work and what goes with it. Source: common practice, no source."""
    used: dict[str, list[str]] = {}
    for setup in setups:
        holding, number = setup.holding.casefold(), f"{setup.number}.0"
        if setup.located == "centres":
            head = "hollow centre" if "hollow centre" in holding else "centre"
            used.setdefault(f"{head} for the headstock spindle", []).append(number)
            used.setdefault("driver plate", []).append(number)
        for word in ("carrier", "fork", "pin"):
            if setup.located == "centres" and re.search(rf"\b{word}\b", holding):
                used.setdefault(_DRIVERS[word], []).append(number)
    for one in operations:
        number = f"{one.number.partition('.')[0]}.0"
        said = " ".join((one.step.text, *one.how))
        wanted = [
            f"{one.tail} for the tailstock" if one.tail else "",
            "handle in the rear of the spindle" if one.speed_note == BY_HANDLE else "",
            "test bar between centres" if "test bar" in said else "",
            "parallel bar that runs true" if "a bar that runs true" in said else "",
            "thread dial on the carriage" if "thread dial" in said else "",
        ]
        for name in filter(None, wanted):
            numbers = used.setdefault(name, [])
            if number not in numbers:
                numbers.append(number)
    for name, numbers in used.items():
        yield sentence(name).removesuffix("."), _set_ups(numbers)


_DRIVERS = {
    "carrier": "carrier to the diameter, copper under its screw", "fork": "fork for the flats, on the driver plate",
    "pin": "pin for the cross hole, in the driver plate",
}


def _for_the_work(setups: Sequence[SetUp]) -> Iterator[tuple[str, str]]:
    """What is used up: oil, grease, blue. Source: common practice, no source."""
    turned = [f"{one.number}.0" for one in setups if one.located != "bench"]
    yield "Cutting oil, brush and hook for chips, layout blue", _set_ups(turned)
    for support, thing in (("centre", "Grease for a centre that stands still"), ("steady", "Oil for the steady")):
        numbers = [f"{one.number}.0" for one in setups if one.support == support and WITH_REVOLVING not in one.holding]
        if numbers:
            yield thing, _set_ups(numbers)


def _set_ups(numbers: Sequence[str]) -> str:
    """Numbers of set-ups as a run of them."""
    runs = in_short(numbers) if len(numbers) > 4 else joined(one.partition(".")[0] for one in numbers)
    return runs.removeprefix("set-ups ").removeprefix("set-up ")
