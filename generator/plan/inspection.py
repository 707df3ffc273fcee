"""Pages of what to measure on the finished parts, with room for what was found."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.description import ChainResult, Part, Tool
from generator.making.figures import Figures
from generator.making.inspection import InspectionRow, inspection_rows
from generator.making.order import Promise, promises
from generator.making.setups import SetUp
from generator.plan.inspection_picture import balloon_picture
from generator.plan.wording import plain, run_out
from generator.prints.content import Block, Figure, Paragraph, Table, TextPage
from generator.units import FileUnit

__all__ = ["inspection_pages"]

_ROWS_OF_A_PAGE = 16
"""Rows of characteristics that fill a page at the size in which it is written upon."""


def inspection_pages(
    tool: Tool, setups: Sequence[SetUp], chains: Sequence[ChainResult], unit: FileUnit
) -> tuple[TextPage, ...]:
    """What to measure on every made part, with empty columns for what was found; small parts share a page."""
    rows = inspection_rows(tool, chains, unit)
    earned = tuple(_promise_table(tool, setups, Figures(unit)))
    pages: list[TextPage] = []
    for group in _groups(tool, rows):
        blocks: list[Block] = [block for part in group for block in _of_part(part, rows, unit, named=len(group) > 1)]
        head = () if pages else (Paragraph(Figures(unit).prose(_FIRST), "small"),)
        title = "Inspection: " + ", ".join(part.title.lower() for part in group)
        pages.append(TextPage(title, (*head, *blocks)))
    if earned and pages:
        pages[-1] = TextPage(pages[-1].title, (*pages[-1].blocks, *earned))
    return tuple(pages)


_FIRST = (
    "Numbers are those of the balloons and of the inspection file. Sizes without limits of their own: caliper, to the "
    "general tolerance. Measure at 20 °C, part and instrument alike; run-out at three places."
)


def _groups(tool: Tool, rows: Sequence[InspectionRow]) -> Iterator[list[Part]]:
    """Parts that share a page, in the order of the tool."""
    group: list[Part] = []
    filled = 0
    for part in tool.made:
        count = sum(row.address.partition("/")[0] == part.name for row in rows)
        if not count:
            continue
        if group and filled + count > _ROWS_OF_A_PAGE:
            yield group
            group, filled = [], 0
        group.append(part)
        filled += count + 5
    if group:
        yield group


def _of_part(part: Part, rows: Sequence[InspectionRow], unit: FileUnit, *, named: bool) -> Iterator[Block]:
    """Balloons on a picture of the part, and the table that they belong to."""
    mine = [row for row in rows if row.address.partition("/")[0] == part.name]
    picture = balloon_picture(part, mine)
    if picture is not None:
        if named:
            yield Paragraph(part.title, "strong")
        yield Figure(picture)
    yield _table(part, mine, unit)


def _table(part: Part, rows: Sequence[InspectionRow], unit: FileUnit) -> Table:
    mine = tuple(
        (str(row.number), _named(row.address), row.what, row.nominal, row.limits, row.instrument, "", "")
        for row in rows
    )
    return Table(
        ("no.", "size", "what", "nominal", f"limits, {unit}", "with", "reads", "ok"), mine,
        (11.0, 28.0, 30.0, 21.0, 33.0, 29.0, 18.0, 10.0), ("right",),
    )


def _named(address: str) -> str:
    """What an address names on its part, in words."""
    return address.partition("/")[2].replace("/", " ").replace("_", " ")


def _promise_table(tool: Tool, setups: Sequence[SetUp], figures: Figures) -> Iterator[Table]:
    """Run-out wanted against what the order of work earns, one row each."""
    rows = tuple(_promise_row(one, figures) for one in promises(tool, setups))
    if rows:
        yield Table(
            ("surface", "run-out wanted", "earned", "by"), rows, (36.0, 44.0, 38.0, 62.0), (),
            ("Earned run-out is common practice, no source; the indicator decides.",), "Run-out, wanted and earned",
        )


def _promise_row(one: Promise, figures: Figures) -> tuple[str, ...]:
    wanted = f"{figures.at_most(one.relation.limit_mm)} {figures.unit}, to {plain(one.relation.datum)}"
    return plain(one.address), wanted, run_out(figures, one.low_mm, one.high_mm), one.how
