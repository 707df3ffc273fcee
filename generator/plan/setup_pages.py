"""Pages of the set-ups, read at the lathe: one clamping each with its picture, how it is held, and its operations."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from generator.description import Tool
from generator.making.figures import Figures
from generator.making.operations import Operation
from generator.making.order import Transfer, transfers
from generator.making.setups import SetUp, earned
from generator.making.stock import StockRow
from generator.making.workshop import Workshop
from generator.plan.operation_rows import cautions_of, operation_rows, shared_cautions
from generator.plan.setup_picture import NARROW_MM, setup_picture
from generator.plan.shop_words import SIGN, shop_words
from generator.plan.wording import headed, joined, part_titles, plain, run_out, sentence, without_part
from generator.plan.workpiece import History
from generator.prints.content import Beside, Block, Caution, Figure, Group, Operations, Paragraph, Table, TextPage
from generator.units import FileUnit

__all__ = ["setup_pages"]

_SMALL = 3
"""Parts of no more set-ups than this share their pages with the next. Shop choice."""


def setup_pages(
    tool: Tool, setups: Sequence[SetUp], stock: Sequence[StockRow], operations: Sequence[Operation],
    workshop: Workshop, unit: FileUnit,
) -> tuple[TextPage, ...]:
    """All set-ups in order; a part with many begins on a page of its own, small parts share theirs."""
    figures, blanks = Figures(unit), {row.part: row for row in stock}
    histories = {
        part.name: History(part, setups, blanks.get(part.name))
        for part in tool.made if any(part.name in setup.parts for setup in setups)
    }  # fmt: skip
    moved = {setup.number: [one for one in transfers(tool, setups) if one.setup == setup.number] for setup in setups}
    pages = []
    for run in _runs(setups):
        groups = tuple(
            Group(
                f"{setup.number}  {figures.prose(headed(tool, setup))}",
                tuple(_blocks(setup, histories, _of(setup, operations), moved[setup.number], workshop, figures)),
            )
            for setup in run
        )
        pages.append(TextPage(_title(tool, run), groups, far=True))
    return tuple(pages)


def _runs(setups: Sequence[SetUp]) -> Iterator[list[SetUp]]:
    """Set-ups that share pages: those of one part, and small parts that follow one another."""
    run: list[SetUp] = []
    was_small = False
    for _, group in groupby(setups, key=lambda one: one.parts):
        part = list(group)
        small = len(part) <= _SMALL
        if run and not (small and was_small):
            yield run
            run = []
        run += part
        was_small = small
    if run:
        yield run


def _title(tool: Tool, run: Sequence[SetUp]) -> str:
    names = joined((part_titles(tool, setup.parts) for setup in run), ", ").lower()
    first, last = run[0].number, run[-1].number
    numbers = f"Set-up {first}" if first == last else f"Set-ups {first} to {last}"
    return f"{numbers}: {names}"


def _of(setup: SetUp, operations: Sequence[Operation]) -> list[Operation]:
    """Operations of one set-up; bare ones of its steps where nobody worked them out."""
    found = [one for one in operations if one.number.partition(".")[0] == str(setup.number)]
    if len(found) == len(setup.steps):
        return found
    return [
        Operation(f"{setup.number}.{index}", step, step.tool, to=step.size, caution=step.caution)
        for index, step in enumerate(setup.steps, start=1)
    ]


def _blocks(
    setup: SetUp, histories: Mapping[str, History], operations: Sequence[Operation], moved: Sequence[Transfer],
    workshop: Workshop, figures: Figures,
) -> Iterator[Block]:
    facts = Table((), tuple(_facts(setup, figures)), (36.0, 144.0), close=True)
    pictures = [Figure(setup_picture(histories[part], setup, figures)) for part in setup.parts if part in histories]
    if len(pictures) == 1 and pictures[0].ink.width_mm <= NARROW_MM:
        yield Beside(pictures[0], Table((), facts.rows, (26.0, 58.0), close=True))
    else:
        yield from pictures
        yield facts
    if setup.no_return:
        yield Caution((sentence(figures.prose(setup.no_return)),), "POINT OF NO RETURN")
    shared = shared_cautions(operations)
    lines = tuple(sentence(figures.prose(line)) for line in (*cautions_of(setup.caution), *shared))
    if lines:
        yield Caution(tuple(dict.fromkeys(lines)))
    seen = frozenset((*cautions_of(setup.caution), *shared))
    rows = operation_rows(operations, workshop, figures, seen)
    if rows:
        yield Operations(f"Set-up {setup.number}", rows)
    yield from _notes(operations, moved, workshop, figures)


def _facts(setup: SetUp, figures: Figures) -> Iterator[tuple[str, str]]:
    """How the work is held, to what it runs true, from what lengths are set, what must not be undone."""
    yield "held", sentence(figures.prose(joined((setup.holding, *_lengths_held(setup, figures)))))
    found = earned(setup)
    true_to = "" if setup.located == "bar" else without_part(setup.locates_on, setup)
    if true_to and setup.located != "bench":
        gain = "" if found.high_mm is None else f" earns {run_out(figures, found.low_mm, found.high_mm)}"
        yield "true to", f"{true_to};{gain}" if gain else true_to
    if setup.touches_off:
        yield "touch off on", f"{without_part(setup.touches_off, setup)} (0 in the picture)"
    if setup.indicate:
        yield "indicate", sentence(figures.prose(setup.indicate))
    if setup.before:
        yield "keep clamped", sentence(figures.prose(setup.before))
    if setup.leaves_mm:
        yield "keep on", f"{figures.length(setup.leaves_mm, 1)}: {sentence(figures.prose(setup.leaves_why))}"


def _lengths_held(setup: SetUp, figures: Figures) -> Iterator[str]:
    if setup.grip_mm is not None:
        on = "the bar" if setup.grips == "bar" else without_part(setup.grips, setup) or "it"
        yield f"{figures.length(setup.grip_mm, 1)} of {on} held"
    if setup.out_mm is not None:
        yield f"{figures.length(setup.out_mm, 1)} out"
    if setup.support and setup.support not in setup.holding.casefold():
        yield {"centre": "tailstock centre up", "steady": "steady on"}[setup.support]


def _notes(
    operations: Sequence[Operation], moved: Sequence[Transfer], workshop: Workshop, figures: Figures
) -> Iterator[Block]:
    """Lengths set from another face than their own, what the shop lacks, what rests on a default."""
    for one in moved:
        some = f"± {figures.length(one.left_mm, 3)}"
        left = f"{some} is left for it" if one.left_mm > 0 else "no tolerance is left for it"
        yield Paragraph(
            f"Set {plain(one.face)} {figures.length(one.set_mm, 3)} from {plain(one.from_face)}: "
            f"{plain(one.address.partition('/')[2])} is not cut from face to face, {left}."
        )
    lacking: dict[str, list[str]] = {}
    for one_operation in operations:
        for missing in one_operation.missing:
            lacking.setdefault(missing, []).append(one_operation.number)
    for missing, numbers in lacking.items():
        name, _, substitute = missing.partition(": ")
        instead = f"; instead: {substitute}" if substitute else ""
        yield Paragraph(f"Not in the shop file, for {joined(numbers)}: {sentence(figures.prose(name + instead))}")
    counts = Counter(name for one in operations for name in one.rests_on if workshop.is_default(name))
    if counts:
        names = joined(shop_words(name) for name in counts)
        yield Paragraph(f"{SIGN} rests on a usual figure that nobody gave: {names}.", "small")
