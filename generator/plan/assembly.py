"""Page read on the bench when the tool goes together: order, gaps made to measure, and the way apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.description import ChainResult, Part, Tool
from generator.making.assembly import Move, assembly_moves
from generator.making.figures import Figures
from generator.making.joining import WARMEST_C, Joint, joints
from generator.plan.wording import BOX, plain, sentence
from generator.prints.content import Block, Paragraph, Table, TextPage
from generator.units import FileUnit

__all__ = ["assembly_page"]


def assembly_page(tool: Tool, chains: Sequence[ChainResult], unit: FileUnit) -> TextPage | None:
    """The pieces in the order in which they go together, how each goes on, the gaps that must come out, the way apart.

    None for a tool of one piece.
    """
    moves = assembly_moves(tool)
    if not moves:
        return None
    figures = Figures(unit)
    blocks: list[Block] = [
        Paragraph(
            "All pieces deburred, washed and dry; bench clean, no rag that sheds. A film of oil on seats and pockets, "
            "none on the taper. Push only on the ring that is tight."
        ),
        *_going_on(tool, figures),
        Table(
            ("", "no.", "piece", "on or into", "from", "until"),
            tuple(_put_in(number, move) for number, move in enumerate(moves, start=1)),
            (9.0, 12.0, 42.0, 27.0, 34.0, 56.0), ("centre", "centre"), (), "Put together",
        ),
    ]
    blocks += [Paragraph(figures.prose(words)) for words in tool.put_together]
    gaps = _gap_rows(chains, figures)
    if gaps:
        blocks.append(
            Table(
                ("gap", "wanted", "left after fitting", "fit this size", "why"), gaps,
                (38.0, 26.0, 26.0, 40.0, 50.0), (),
                ("Measure the stack, cut the size to suit, measure the gap before the tool is closed.",),
                "Made to measure",
            )
        )
        blocks += _shim_sheet(tool, chains, figures)
    blocks += _apart(tool, moves, figures)
    return TextPage("Putting together and taking apart", tuple(blocks), far=True)


def _going_on(tool: Tool, figures: Figures) -> Iterator[Table]:
    """By hand, warm or by press: one row for each seat and pocket, with the tube that pushes."""
    rows = tuple(
        (one.piece, one.on, _clearance(one, figures), figures.prose(_way_on(one)), _tube(one, figures))
        for one in joints(tool)
    )
    hottest = figures.prose("100 °C")
    if rows:
        yield Table(
            ("piece", "on or into", "fit, by limits", "how", "push with a tube, inside x outside"), rows,
            (32.0, 22.0, 36.0, 56.0, 34.0), (),
            ("Forces at the tightest limits, friction 0.10 to 0.20 (from memory): a measured pair may need none. Warm "
             "on a plate with a thermometer or by a bearing heater, never with a flame and never in oil, which washes "
             f"the grease out behind the seals; bearings no hotter than {hottest}.",),
            "How each goes on",
        )


def _clearance(one: Joint, figures: Figures) -> str:
    loose, tight = one.most_clearance_mm, -one.least_clearance_mm
    if tight <= 0:
        return f"{figures.bare(-tight, 3)} to {figures.length(loose, 3)} loose"
    if loose <= 0:
        return f"{figures.bare(-loose, 3)} to {figures.length(tight, 3)} tight"
    return f"{figures.length(tight, 3)} tight to {figures.length(loose, 3)} loose"


def _way_on(one: Joint) -> str:
    if one.slides:
        return "by hand; if it does not slide, clean and look for a burr"
    low, high = (max(10, round(force, -1)) for force in one.force_n)
    press = f"{low:.0f} to {high:.0f} N by press"
    if one.warm_c <= WARMEST_C:
        return f"{one.warmed} at {round(one.warm_c / 5 + 0.5) * 5:.0f} °C, by hand; or cold, {press}"
    return f"{one.warmed} at {WARMEST_C:.0f} °C, the rest by press; cold, {press}"


def _tube(one: Joint, figures: Figures) -> str:
    if one.tube_mm is None or one.slides:
        return ""
    return f"{figures.bare(one.tube_mm[0], 1)} x {figures.length(one.tube_mm[1], 1)}"


def _shim_sheet(tool: Tool, chains: Sequence[ChainResult], figures: Figures) -> Iterator[Block]:
    """A line to reckon each gap on: the ring that fills it, or the shim where it came out wrong."""
    for result in chains:
        gap = result.gap
        term = next((one for one in result.contributors if one.address == gap.fit), None)
        if term is None or gap.least_mm is None or gap.most_mm is None:
            continue
        middle = figures.length((gap.least_mm + gap.most_mm) / 2, 3)
        head = f"{gap.title[:1].upper()}{gap.title[1:]}:"
        least = f"(none if below {figures.length(0.01, 4)})"
        ring = tool.parts[gap.fit.partition("/")[0]]
        if _fills(ring):
            yield Paragraph(
                f"{head} gap measured without the {ring.title.lower()} at three places, mean ________ less {middle} = "
                f"thickness of the {ring.title.lower()} ________. Face it parallel."
            )
        elif term.coefficient > 0:
            yield Paragraph(
                f"{head} gap measured at three places, mean ________ less {middle} = shim ________ {least}. "
                f"Grind it parallel; {_bears(tool, result)}."
            )
        else:
            yield Paragraph(
                f"{head} measured at three places, mean ________. Below {figures.length(gap.least_mm, 3)}: {middle} "
                f"less the mean = shim ________, ground parallel; {_bears(tool, result)}. Above "
                f"{figures.length(gap.most_mm, 3)}: {_named(gap.fit)} larger by the mean less {middle}."
            )


def _named(address: str) -> str:
    """A size of a part in words, without its part."""
    return address.partition("/")[2].replace("/", " ").replace("_", " ")


def _fills(part: Part) -> bool:
    """True for a plain ring that is itself made to what it fills, between bore and outside and two faces."""
    return len(part.lengths) == 1 and all(one.size.fitted for one in part.lengths)


def _bears(tool: Tool, result: ChainResult) -> str:
    """What a shim for this gap lies on: what is sprung in has it below, on what it holds."""
    seat = tool.seat_of.get(result.gap.start.partition("/")[0])
    if seat is not None and "circlip" in tool.parts[seat.part].bought.lower():
        below, sprung = tool.parts[seat.on_part].title.lower(), tool.parts[seat.part].title.lower()
        return f"it lies on the {below}, below the {sprung}"
    return "it bears on the outer ring only"


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
        return f"{figures.at_least(least or 0.0)} {figures.unit} or more"
    if least is None:
        return f"{figures.at_most(most)} {figures.unit} or less"
    return f"{figures.within(least, most)} {figures.unit}"


def _fit_words(result: ChainResult, figures: Figures) -> str:
    if result.fit_low_mm is None or result.fit_high_mm is None:
        return ""
    low, high = sorted((result.fit_low_mm, result.fit_high_mm))
    return f"{plain(result.gap.fit)}: {figures.within(low, high)} {figures.unit}"


def _apart(tool: Tool, moves: Sequence[Move], figures: Figures) -> Iterator[Block]:
    yield Paragraph("Take apart", "strong")
    lines = []
    if any(seat.kind == "cone" for seat in tool.seats):
        lines.append("Out of the quill: one hand under the tool, wind the quill back until its screw pushes the shank.")
    lines += tool.take_apart or [f"{move.title} off {move.into}, {_OUT[move.side]}." for move in reversed(moves)]
    lines.append("Pull a ring only by the ring that is tight; a ring pulled through its balls is scrap.")
    yield Paragraph("\n".join(f"{number}. {figures.prose(line)}" for number, line in enumerate(lines, start=1)))


_OUT = {
    "work side": "towards the work side",
    "tailstock side": "towards the tailstock side",
    "pliers": "with circlip pliers",
    "": "no straight way out: see the drawing",
}
