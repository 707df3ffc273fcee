"""Page kept at the lathe: what to do when a size that matters comes out beyond its limit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.description import ChainResult, Tool
from generator.making.figures import Figures
from generator.making.rescue import Ladder, Rung, ladders
from generator.plan.wording import sentence
from generator.prints.content import Block, Paragraph, Table, TextPage
from generator.units import FileUnit

__all__ = ["rescue_page"]

_EACH_ITS_OWN = "can be put right"


def rescue_page(
    tool: Tool, chains: Sequence[ChainResult], unit: FileUnit, drawer: Sequence[tuple[str, float]] = ()
) -> TextPage | None:
    """Every size that matters with its ladder of rescues, part by part; None where nothing depends on a size."""
    found = ladders(tool, chains, drawer)
    if not found:
        return None
    figures = Figures(unit)
    blocks: list[Block] = [
        Paragraph(
            "Stop and measure again before you mend anything: clean, cold, twice. The first way is the best one. "
            "A thicker shim or more compound never makes up for a wall or a thread that is gone."
        )
    ]
    for part in tool.made:
        mine = [one for one in found if one.address.partition("/")[0] == part.name]
        blocks += [_table(part.title, one, figures) for one in mine]
    return TextPage("If a size is missed", tuple(blocks), far=True)


def _table(part: str, ladder: Ladder, figures: Figures) -> Table:
    title = f"{part}: {ladder.title}, {figures.prose(ladder.limits)}; come out {ladder.missed}"
    rows = tuple(
        (f"to {figures.length(rung.over_mm)}", rung.verdict, sentence(figures.prose("; or ".join(rung.ways))))
        for rung in _steps(ladder.rungs)
    )
    return Table(("beyond limit", "it is", "do this, best first"), rows, (26.0, 40.0, 114.0), (), (), title)


def _steps(rungs: Sequence[Rung]) -> Iterator[Rung]:
    """Rungs of one verdict in a row put together: the farthest speaks for them where its ways serve the nearer too."""
    for index, rung in enumerate(rungs):
        after = rungs[index + 1] if index + 1 < len(rungs) else None
        same = after is not None and after.verdict == rung.verdict
        if not same or (rung.verdict == _EACH_ITS_OWN and after is not None and after.ways != rung.ways):
            yield rung
