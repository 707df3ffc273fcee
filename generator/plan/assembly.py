"""Page read on the bench when the tool goes together: order, gaps made to measure, and the way apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.description import ChainResult, Tool
from generator.making.assembly import Move, assembly_moves
from generator.making.figures import Figures
from generator.plan.wording import BOX, plain, sentence
from generator.prints.content import Block, Paragraph, Table, TextPage
from generator.units import FileUnit

__all__ = ["assembly_page"]


def assembly_page(tool: Tool, chains: Sequence[ChainResult], unit: FileUnit) -> TextPage | None:
    """The pieces in the order in which they go together, the gaps that must come out, and how the tool comes apart.

    None for a tool of one piece.
    """
    moves = assembly_moves(tool)
    if not moves:
        return None
    blocks: list[Block] = [
        Paragraph("Clean and dry. Grease the rings, not the tapers. Press only on the ring that is tight."),
        Table(
            ("", "no.", "piece", "on or into", "from", "until"),
            tuple(_put_in(number, move) for number, move in enumerate(moves, start=1)),
            (9.0, 9.0, 42.0, 28.0, 34.0, 58.0), ("centre", "centre"), (), "Put together",
        ),
    ]
    blocks += [Paragraph(words) for words in tool.put_together]
    gaps = _gap_rows(chains, Figures(unit))
    if gaps:
        blocks.append(
            Table(
                ("gap", "wanted", "left after fitting", "fit this size", "why"), gaps,
                (38.0, 26.0, 26.0, 40.0, 50.0), (),
                ("Measure the stack, cut the size to suit, measure the gap before the tool is closed.",),
                "Made to measure",
            )
        )
    blocks += _apart(tool, moves)
    return TextPage("Putting together and taking apart", tuple(blocks))


_FROM = {
    "work side": "work side",
    "tailstock side": "tailstock side",
    "pliers": "with circlip pliers",
    "": "no straight way: see the drawing",
}


def _put_in(number: int, move: Move) -> tuple[str, ...]:
    touching = "; ".join(move.contacts)
    return BOX, str(number), move.title, move.into, _FROM[move.side], touching


def _gap_rows(chains: Sequence[ChainResult], figures: Figures) -> tuple[tuple[str, ...], ...]:
    return tuple(
        (
            result.gap.title, _wanted(result, figures),
            f"{figures.bare(result.low_mm, 3)} to {figures.length(result.high_mm, 3)}", _fit_words(result, figures),
            sentence(figures.prose(result.gap.why)),
        )
        for result in chains
        if result.gap.fit
    )


def _wanted(result: ChainResult, figures: Figures) -> str:
    least, most = result.gap.least_mm, result.gap.most_mm
    if least is None and most is None:
        return "free"
    if most is None:
        return f"{figures.length(least or 0.0, 3)} or more"
    if least is None:
        return f"{figures.length(most, 3)} or less"
    return f"{figures.bare(least, 3)} to {figures.length(most, 3)}"


def _fit_words(result: ChainResult, figures: Figures) -> str:
    if result.fit_low_mm is None or result.fit_high_mm is None:
        return ""
    low, high = sorted((result.fit_low_mm, result.fit_high_mm))
    return f"{plain(result.gap.fit)}: {figures.bare(low, 3)} to {figures.length(high, 3)}"


def _apart(tool: Tool, moves: Sequence[Move]) -> Iterator[Block]:
    yield Paragraph("Take apart", "strong")
    lines = []
    if any(seat.kind == "cone" for seat in tool.seats):
        lines.append("Out of the quill: one hand under the tool, wind the quill back until its screw pushes the shank.")
    lines += tool.take_apart or [f"{move.title} off {move.into}, {_OUT[move.side]}." for move in reversed(moves)]
    lines.append("Pull a ring only by the ring that is tight; a ring pulled through its balls is scrap.")
    yield Paragraph("\n".join(f"{number}. {line}" for number, line in enumerate(lines, start=1)))


_OUT = {
    "work side": "towards the work side",
    "tailstock side": "towards the tailstock side",
    "pliers": "with circlip pliers",
    "": "no straight way out: see the drawing",
}
