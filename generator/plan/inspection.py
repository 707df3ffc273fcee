"""Page of what to measure on the finished parts, with room for what was found."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.description import ChainResult, Tool
from generator.making.figures import Figures
from generator.making.inspection import inspection_rows
from generator.making.order import Promise, promises
from generator.making.setups import SetUp
from generator.plan.wording import plain, run_out
from generator.prints.content import Block, Paragraph, Table, TextPage
from generator.units import FileUnit

__all__ = ["inspection_page"]


def inspection_page(
    tool: Tool, setups: Sequence[SetUp], chains: Sequence[ChainResult], unit: FileUnit
) -> TextPage:
    """What to measure on every made part, with empty columns for what was found."""
    blocks: list[Block] = [
        Paragraph("Sizes without limits of their own: caliper, to the general tolerance of the drawing.", "small")
    ]
    rows = inspection_rows(tool, chains, unit)
    for part in tool.made:
        mine = tuple(
            (_named(row.address), row.what, row.nominal, row.limits, row.instrument, "")
            for row in rows
            if row.address.partition("/")[0] == part.name
        )
        if mine:
            blocks.append(
                Table(
                    ("size", "what", "nominal", f"limits, {unit}", "with", "as made"), mine,
                    (36.0, 38.0, 18.0, 36.0, 34.0, 18.0), (), (), part.title,
                )
            )
    blocks += _promise_table(tool, setups, Figures(unit))
    blocks.append(
        Paragraph(
            "Measure at 20 °C, part and instrument alike. Run-out at three places, each written down. "
            "Offset standing still, run-out when turning and play are three different numbers.",
            "small",
        )
    )
    return TextPage("Inspection", tuple(blocks))


def _named(address: str) -> str:
    """What an address names on its part, in words."""
    return address.partition("/")[2].replace("/", " ").replace("_", " ")


def _promise_table(tool: Tool, setups: Sequence[SetUp], figures: Figures) -> Iterator[Table]:
    """Run-out wanted against what the order of work earns, one row each."""
    rows = tuple(_promise_row(one, figures) for one in promises(tool, setups))
    if rows:
        yield Table(
            ("surface", "run-out wanted", "earned", "by", "as made"), rows, (32.0, 40.0, 34.0, 56.0, 18.0), (),
            ("Earned run-out is common practice, no source; the indicator decides.",), "Run-out, wanted and earned",
        )


def _promise_row(one: Promise, figures: Figures) -> tuple[str, ...]:
    wanted = f"{figures.length(one.relation.limit_mm, 3)}, to {plain(one.relation.datum)}"
    return plain(one.address), wanted, run_out(figures, one.low_mm, one.high_mm), one.how, ""
