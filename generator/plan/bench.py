"""Pages read at the lathe and on the bench: order of work, operations, putting together, inspection."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.description import ChainResult, Tool
from generator.making.assembly import Move, assembly_moves
from generator.making.figures import Figures
from generator.making.inspection import inspection_rows
from generator.making.order import Promise, promises, transfers
from generator.making.setups import SetUp, earned
from generator.plan.wording import joined, part_titles, plain, run_out, sentence
from generator.prints.content import Block, Paragraph, Step, Steps, Table, TextPage
from generator.units import FileUnit

__all__ = ["assembly_page", "inspection_page", "operations_page", "order_page"]


def order_page(tool: Tool, setups: Sequence[SetUp], unit: FileUnit) -> TextPage | None:
    """The set-ups on one page: one clamping each, what it finishes, from where, and the run-out that it earns."""
    if not setups:
        return None
    figures = Figures(unit)
    steps = tuple(_overview(tool, setup, figures) for setup in setups)
    head = Paragraph("One number is one clamping. Do not unclamp before everything under that number is finished.")
    return TextPage("Order of work", (head, Steps(steps)))


def _overview(tool: Tool, setup: SetUp, figures: Figures) -> Step:
    finished = joined(_without_part(address, setup) for address in setup.finishes)
    what = joined((_headed(tool, setup), finished and f"Finish: {finished}."), "\n")
    holding = joined((sentence(setup.holding), _true_to(setup), _touch_off(setup)), "\n")
    found = earned(setup)
    gain = run_out(figures, found.low_mm, found.high_mm)
    words = f"earns {gain}: {found.how}" if gain != "-" else found.how
    return Step(str(setup.number), what, holding, sentence(words), sentence(setup.caution))


def _headed(tool: Tool, setup: SetUp) -> str:
    """The title of the set-up, with the part in front where it does not name it already."""
    titles = part_titles(tool, setup.parts)
    return setup.title if ":" in setup.title or setup.title.startswith(titles) else f"{titles}: {setup.title}"


def _without_part(address: str, setup: SetUp) -> str:
    """The address as words, without its part where the set-up holds only that one."""
    part, _, name = address.partition("/")
    return name.replace("_", " ") if setup.parts == (part,) else plain(address)


def _true_to(setup: SetUp) -> str:
    return f"True to: {plain(setup.locates_on)}." if setup.locates_on else ""


def _touch_off(setup: SetUp) -> str:
    return f"Touch off: {plain(setup.touches_off)}." if setup.touches_off else ""


def operations_page(tool: Tool, setups: Sequence[SetUp], unit: FileUnit) -> TextPage | None:
    """Every operation of every set-up with its size and its tool, and the lengths set from another face."""
    figures = Figures(unit)
    blocks: list[Block] = []
    for setup in setups:
        rows = tuple(
            (f"{setup.number}.{index}", sentence(step.text), figures.in_words(step.size), step.tool)
            for index, step in enumerate(setup.steps, start=1)
        )
        if rows:
            title = f"{setup.number}  {_headed(tool, setup)}"
            blocks.append(Table(("no.", "operation", "to size", "tool"), rows, (13.0, 87.0, 42.0, 38.0), title=title))
    if not blocks:
        return None
    moved = _transfer_rows(tool, setups, figures)
    if moved:
        blocks.append(
            Table(
                ("no.", "length", "set", "to", "tolerance left"), moved, (11.0, 45.0, 60.0, 26.0, 38.0), (),
                ("These lengths are not cut from face to face; the tolerances between have been taken off.",),
                "Lengths set from another face",
            )
        )
    blocks.append(Paragraph("Figures without a unit are millimetres.", "small"))
    return TextPage("Operations, step by step", tuple(blocks))


def _transfer_rows(tool: Tool, setups: Sequence[SetUp], figures: Figures) -> tuple[tuple[str, ...], ...]:
    """Lengths set from another face than their own, one row each."""
    return tuple(
        (
            str(one.setup), plain(one.address), f"{plain(one.face)} from {plain(one.from_face)}",
            figures.length(one.set_mm, 3),
            f"± {figures.length(one.left_mm, 3)}" if one.left_mm > 0 else "none: cut both faces in one setting",
        )
        for one in transfers(tool, setups)
    )


# --- putting together --------------------------------------------------------------------------------------------


def assembly_page(tool: Tool, chains: Sequence[ChainResult], unit: FileUnit) -> TextPage | None:
    """The pieces in the order in which they go together, the gaps that must come out, and how the tool comes apart.

    None for a tool of one piece.
    """
    moves = assembly_moves(tool)
    if not moves:
        return None
    blocks: list[Block] = [
        Paragraph("Clean and dry. Grease the rings, not the tapers. Press only on the ring that is tight."),
        Steps(tuple(_put_in(number, move) for number, move in enumerate(moves, start=1)), "Put together"),
    ]
    gaps = _gap_rows(chains, Figures(unit))
    if gaps:
        blocks.append(
            Table(
                ("gap", "wanted", "nominal", "at worst limits", "why"), gaps, (46.0, 28.0, 20.0, 32.0, 54.0), (),
                ("Where a size is fitted, the worst limits are what is left after fitting.",), "What must come out",
            )
        )
    blocks += _apart(tool, moves)
    return TextPage("Putting together and taking apart", tuple(blocks))


_FROM = {
    "work side": "from the work side",
    "tailstock side": "from the tailstock side",
    "pliers": "with circlip pliers",
    "": "no straight way in: see the drawing",
}


def _put_in(number: int, move: Move) -> Step:
    touching = "; ".join(sentence(contact) for contact in move.contacts)
    return Step(str(number), joined((move.title, touching), "\n"), f"{move.into}, {_FROM[move.side]}")


def _gap_rows(chains: Sequence[ChainResult], figures: Figures) -> tuple[tuple[str, ...], ...]:
    return tuple(
        (
            result.gap.title, _wanted(result, figures), figures.length(result.nominal_mm, 3),
            f"{figures.bare(result.low_mm, 3)} to {figures.length(result.high_mm, 3)}{_fit_words(result, figures)}",
            result.gap.why,
        )
        for result in chains
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
    return f"; fit {plain(result.gap.fit)} between {figures.bare(low, 3)} and {figures.length(high, 3)}"


def _apart(tool: Tool, moves: Sequence[Move]) -> Iterator[Block]:
    yield Paragraph("Take apart", "strong")
    lines = []
    if any(seat.kind == "cone" for seat in tool.seats):
        lines.append("Out of the quill: one hand under the tool, wind the quill back until its screw pushes the shank.")
    lines += [f"{move.title} off {move.into}, {_OUT[move.side]}." for move in reversed(moves)]
    lines.append("Pull a ring only by the ring that is tight; a ring pulled through its balls is scrap.")
    yield Paragraph("\n".join(f"{number}. {line}" for number, line in enumerate(lines, start=1)))


_OUT = {
    "work side": "towards the work side",
    "tailstock side": "towards the tailstock side",
    "pliers": "with circlip pliers",
    "": "no straight way out: see the drawing",
}


# --- inspection --------------------------------------------------------------------------------------------------


def inspection_page(
    tool: Tool, setups: Sequence[SetUp], chains: Sequence[ChainResult], unit: FileUnit
) -> TextPage:
    """What to measure on every made part, with empty columns for what was found."""
    blocks: list[Block] = []
    rows = inspection_rows(tool, chains, unit)
    for part in tool.made:
        mine = tuple(
            (row.address.partition("/")[2], row.what, row.nominal, row.limits, row.instrument, "")
            for row in rows
            if row.address.partition("/")[0] == part.name
        )
        if mine:
            blocks.append(
                Table(
                    ("address", "what", "nominal", "limits", "with", "as made"), mine,
                    (34.0, 38.0, 23.0, 39.0, 28.0, 18.0), (), (), part.title,
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


def _promise_table(tool: Tool, setups: Sequence[SetUp], figures: Figures) -> Iterator[Table]:
    """Run-out wanted against what the order of work earns, one row each."""
    rows = tuple(_promise_row(one, figures) for one in promises(tool, setups))
    if rows:
        yield Table(
            ("surface", "run-out wanted", "earned", "by", "as made"), rows, (38.0, 42.0, 30.0, 52.0, 18.0), (),
            ("Earned run-out is common practice, no source; the indicator decides.",), "Run-out, wanted and earned",
        )


def _promise_row(one: Promise, figures: Figures) -> tuple[str, ...]:
    wanted = f"{figures.length(one.relation.limit_mm, 3)} to {plain(one.relation.datum)}"
    return plain(one.address), wanted, run_out(figures, one.low_mm, one.high_mm), one.how, ""
