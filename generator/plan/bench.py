"""Pages read at the lathe and on the bench: order of work, operations, putting together, inspection."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

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
    table = Table(
        ("done", "no.", "one clamping, and what it finishes", "held", "true to", "touch off", "run-out earned"),
        tuple(_overview(tool, setup, figures) for setup in setups),
        (10.0, 9.0, 72.0, 33.0, 19.0, 18.0, 19.0),
        ("centre", "centre"),
        ("One number is one clamping: do not unclamp before everything under it is finished and measured. "
         "Run-out earned is common practice, no source; a dash earns nothing.",),
    )
    return TextPage("Order of work", (table,))


def _overview(tool: Tool, setup: SetUp, figures: Figures) -> tuple[str, ...]:
    names = joined(_without_part(address, setup) for address in setup.finishes if _is_worth_naming(tool, address))
    what = joined(
        (
            f"{_headed(tool, setup)}.",
            names and f"Finish {names}.",
            setup.caution and f"CAUTION: {sentence(setup.caution)}",
        ),
        "\n",
    )
    found = earned(setup)
    true_to = "" if setup.located == "bar" else _without_part(setup.locates_on, setup)
    gain = run_out(figures, found.low_mm, found.high_mm)
    return "\u2610", str(setup.number), what, setup.holding, true_to, _without_part(setup.touches_off, setup), gain


def _is_worth_naming(tool: Tool, address: str) -> bool:
    """Chamfers and reliefs go without saying."""
    part, _, name = address.partition("/")
    surface = tool.parts[part].by_name.get(name) if part in tool.parts else None
    return surface is None or surface.role not in {"chamfer", "relief"}


def _headed(tool: Tool, setup: SetUp) -> str:
    """The title of the set-up, with the part in front where it does not name it already."""
    titles = part_titles(tool, setup.parts)
    return setup.title if ":" in setup.title or setup.title.startswith(titles) else f"{titles}: {setup.title}"


def _without_part(address: str, setup: SetUp) -> str:
    """The address as words, without its part where the set-up holds only that one."""
    part, _, name = address.partition("/")
    return name.replace("_", " ") if setup.parts == (part,) else plain(address)


def operations_page(tool: Tool, setups: Sequence[SetUp], unit: FileUnit) -> TextPage | None:
    """Every operation of every set-up with its size and its tool, and the lengths set from another face."""
    figures = Figures(unit)
    blocks: list[Block] = [
        Table(
            ("no.", "operation", "to size", "tool"),
            tuple(row for setup in group for row in _operations(tool, setup, figures)),
            (12.0, 88.0, 46.0, 34.0), title=part_titles(tool, parts),
        )
        for parts, group in groupby(setups, key=lambda setup: setup.parts)
    ]
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


def _operations(tool: Tool, setup: SetUp, figures: Figures) -> Iterator[tuple[str, ...]]:
    """A row that names the clamping, then one for each operation, the caution last."""
    yield str(setup.number), f"{_headed(tool, setup)} ({setup.holding})", "", ""
    for index, step in enumerate(setup.steps, start=1):
        yield f"{setup.number}.{index}", sentence(step.text), figures.in_words(step.size), step.tool
    if setup.caution:
        yield "", f"CAUTION: {sentence(setup.caution)}", "", ""


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
                ("gap", "wanted", "left after fitting", "fit this size", "why"), gaps, (38.0, 26.0, 26.0, 40.0, 50.0), (),
                ("Measure the stack, cut the size to suit, measure the gap before the tool is closed.",),
                "Made to measure",
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
            result.gap.title, _wanted(result, figures),
            f"{figures.bare(result.low_mm, 3)} to {figures.length(result.high_mm, 3)}", _fit_words(result, figures),
            sentence(result.gap.why),
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
    blocks: list[Block] = [
        Paragraph("Sizes without limits of their own: caliper, to the general tolerance of the drawing.", "small")
    ]
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
                    ("address", "what", f"nominal, {unit}", f"limits, {unit}", "with", "as made"), mine,
                    (36.0, 42.0, 18.0, 36.0, 28.0, 20.0), (), (), part.title,
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
