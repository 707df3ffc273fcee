"""Pages read at the lathe: order of work, operations."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from itertools import groupby

from generator.description import Tool
from generator.making.figures import Figures
from generator.making.order import transfers
from generator.making.setups import SetUp, earned
from generator.plan.wording import BOX, estimated_height_mm, joined, part_titles, plain, sentence
from generator.prints.content import Block, Table, TextPage
from generator.units import FileUnit

__all__ = ["operations_page", "order_page"]


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
