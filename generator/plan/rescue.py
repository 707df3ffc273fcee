"""Page kept at the lathe: what to do when a size that matters comes out beyond its limit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.description import ChainResult, Tool
from generator.making.figures import Figures
from generator.making.rescue import WORKS, Ladder, Rung, ladders
from generator.plan.wording import sentence
from generator.prints.content import Paragraph, Table, TextPage
from generator.units import FileUnit

__all__ = ["rescue_page"]

_EACH_ITS_OWN = "can be put right"
# Verdicts that the ways beside them do not tell already.
_TOLD = frozenset({WORKS, "scrap"})


def rescue_page(
    tool: Tool, chains: Sequence[ChainResult], unit: FileUnit, drawer: Sequence[tuple[str, float]] = ()
) -> TextPage | None:
    """Every size that matters with its ladder of rescues, part by part; None where nothing depends on a size."""
    found = ladders(tool, chains, drawer)
    if not found:
        return None
    figures = Figures(unit)
    rows = tuple(row for part in tool.made for one in found if _part(one) == part.name
                 for row in _rows(part.title, one, figures))  # fmt: skip
    return TextPage("If a size is missed", (
        Paragraph("Stop and measure again before you mend anything: clean, cold, twice. The first way is the best."),
        Table(("size, and its limits", "out by", "best first"), rows, (62.0, 21.0, 97.0), (), _NOTES, close=True),
    ))  # fmt: skip


_NOTES = (
    "Compound: both faces clean and dry, the piece central while it cures. Sleeve: pressed or bonded in or on, then "
    "finished to the drawing in the same setting as the rest. What works as it is stays out of limits: write it down.",
    "A thicker shim or more compound never makes up for a wall or a thread that is gone.",
)


def _part(ladder: Ladder) -> str:
    return ladder.address.partition("/")[0]


def _rows(part: str, ladder: Ladder, figures: Figures) -> Iterator[tuple[str, str, str]]:
    """A row for each rung that asks for something else; the first one names the size."""
    name = f"{part}: {ladder.title}, {figures.prose(ladder.limits)}, {ladder.missed}"
    for rung in _steps(ladder.rungs):
        ways = figures.prose("; or ".join(rung.ways))
        told = f"{rung.verdict}: {ways}" if rung.verdict in _TOLD else ways
        yield name, figures.length(rung.over_mm), sentence(told)
        name = ""


def _steps(rungs: Sequence[Rung]) -> Iterator[Rung]:
    """Rungs of one verdict in a row put together: the farthest speaks for them where its ways serve the nearer too."""
    for index, rung in enumerate(rungs):
        after = rungs[index + 1] if index + 1 < len(rungs) else None
        same = after is not None and after.verdict == rung.verdict
        if not same or (rung.verdict == _EACH_ITS_OWN and after is not None and after.ways != rung.ways):
            yield rung
