"""Pages read at the lathe and on the bench: order of work, operations, putting together, inspection."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from itertools import groupby

from generator.description import ChainResult, Tool
from generator.making.assembly import Move, assembly_moves
from generator.making.figures import Figures
from generator.making.inspection import inspection_rows
from generator.making.order import Promise, promises, transfers
from generator.making.setups import SetUp, earned
from generator.plan.wording import BOX, estimated_height_mm, joined, part_titles, plain, run_out, sentence
from generator.prints.content import Block, Paragraph, Table, TextPage
from generator.units import FileUnit

__all__ = ["assembly_page", "inspection_page", "operations_page", "order_page"]


def order_page(tool: Tool, setups: Sequence[SetUp], unit: FileUnit) -> TextPage | None:
    """The set-ups on one page: one clamping each, what it finishes, from where, and the run-out that it earns.

    Where they would not fit, clampings of one part that carry no caution share a row; after that cautions are
    shortened to a word here and stand in full at the operations; last, all clampings of one part share a row.
    """
    if not setups:
        return None
    figures = Figures(unit)
    alone: list[tuple[SetUp, ...]] = [(setup,) for setup in setups]
    shared = _sharing(setups)
    ways = [(alone, True), (shared, True), (shared, False)]
    ways += [(_sharing(setups, parts), False) for parts in _longest_first(setups)]
    for groups, full in ways:
        rows = tuple(_overview(tool, group, figures, full=full) for group in groups)
        if estimated_height_mm(rows, _ORDER_WIDTHS_MM) <= _ORDER_ROOM_MM:
            break
    table = Table(
        ("", "no.", "one clamping, and what it finishes", "held", "true to", "touch off", f"earns, {unit}"),
        rows, _ORDER_WIDTHS_MM, ("centre", "centre"),
        ("One number is one clamping: do not unclamp before everything under it is finished and measured. "
         "Run-out earned is the usual worst: common practice, no source; a dash earns nothing.",),
    )
    return TextPage("Order of work", (table,))


_ORDER_WIDTHS_MM = (8.0, 9.0, 79.0, 34.0, 16.0, 19.0, 15.0)
_ORDER_ROOM_MM = 232.0


def _longest_first(setups: Sequence[SetUp]) -> list[set[tuple[str, ...]]]:
    """Growing sets of parts whose cautions no longer keep set-ups apart, those with most set-ups first."""
    counts = Counter(setup.parts for setup in setups)
    ordered = [parts for parts, _ in counts.most_common()]
    return [set(ordered[: count + 1]) for count in range(len(ordered))]


def _sharing(setups: Sequence[SetUp], packed: Collection[tuple[str, ...]] = ()) -> list[tuple[SetUp, ...]]:
    """Neighbouring set-ups of one part put together; those with a caution stay alone unless the part is `packed`."""
    groups: list[tuple[SetUp, ...]] = []
    for setup in setups:
        before = groups[-1][-1] if groups else None
        if before is not None and before.parts == setup.parts and (
            setup.parts in packed or not (before.caution or setup.caution)
        ):
            groups[-1] = (*groups[-1], setup)
        else:
            groups.append((setup,))
    return groups


def _overview(tool: Tool, group: Sequence[SetUp], figures: Figures, *, full: bool) -> tuple[str, ...]:
    """One row for one clamping, or for several of one part, each with its number in front of what differs."""
    columns = list(zip(*(_cells(tool, setup, figures, full) for setup in group), strict=True))
    if len(group) == 1:
        return BOX, str(group[0].number), *(column[0] for column in columns)
    shown = [_shared_cell([setup.number for setup in group], column) for column in columns]
    return "\n".join(BOX for _ in group), "\n".join(str(setup.number) for setup in group), *shown


def _shared_cell(numbers: Sequence[int], texts: Sequence[str]) -> str:
    """One text where all agree or only one says anything, else one line each with its number in front."""
    spoken = [(number, text) for number, text in zip(numbers, texts, strict=True) if text.strip("-")]
    if len({text for _, text in spoken}) <= 1:
        return spoken[0][1] if spoken else texts[0]
    return "\n".join(f"{number} {text}" for number, text in spoken)


def _cells(tool: Tool, setup: SetUp, figures: Figures, full: bool) -> tuple[str, ...]:
    names = joined(_without_part(address, setup) for address in setup.finishes if _is_worth_naming(tool, address))
    what = joined((f"{figures.prose(_headed(tool, setup))}.", names and f"Finish {names}."), " ")
    if setup.caution:
        what += f"\nCAUTION: {sentence(figures.prose(setup.caution))}" if full else " CAUTION: see operations."
    found = earned(setup)
    true_to = "" if setup.located == "bar" else _without_part(setup.locates_on, setup)
    gain = "-" if found.high_mm is None else figures.bare(found.high_mm, 3)
    return what, setup.holding, true_to, _without_part(setup.touches_off, setup), gain


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
            (12.0, 92.0, 46.0, 30.0), title=part_titles(tool, parts),
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
    return TextPage("Operations, step by step", tuple(blocks))


def _operations(tool: Tool, setup: SetUp, figures: Figures) -> Iterator[tuple[str, ...]]:
    """A row that names the clamping, then one for each operation, the caution last."""
    title = figures.prose(_headed(tool, setup).partition(": ")[2] or setup.title)
    yield str(setup.number), f"{title.upper()} ({setup.holding})", "", ""
    for index, step in enumerate(setup.steps, start=1):
        yield f"{setup.number}.{index}", sentence(figures.prose(step.text)), figures.prose(step.size), step.tool
    if setup.caution:
        yield "", f"CAUTION: {sentence(figures.prose(setup.caution))}", "", ""


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
