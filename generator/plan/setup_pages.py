"""Pages of the set-ups, read at the lathe: one clamping each with its picture, how it is held, and its operations."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from generator.description import Tool
from generator.making.figures import Figures
from generator.making.operations import Operation
from generator.making.order import Transfer, transfers
from generator.making.setups import SetUp, earned
from generator.making.stock import StockRow
from generator.making.workshop import Workshop
from generator.plan.operation_fields import how_to_read
from generator.plan.operation_rows import cautions_of, operation_rows, shared_cautions, without_likes
from generator.plan.setup_picture import NARROW_MM, setup_picture
from generator.plan.wording import headed, joined, part_titles, plain, run_out, sentence, without_part
from generator.plan.workpiece import History
from generator.prints.content import (
    Beside,
    Block,
    Caution,
    Facts,
    Field,
    Figure,
    Group,
    HoldingRow,
    OperationRow,
    Operations,
    Paragraph,
    TextPage,
)
from generator.units import FileUnit

__all__ = ["setup_pages"]

_SMALL, _SHORT = 3, 2
"""A part of no more set-ups than this is small; the operations of a set-up that goes on in a table. Shop choice."""


def setup_pages(
    tool: Tool, setups: Sequence[SetUp], stock: Sequence[StockRow], operations: Sequence[Operation],
    workshop: Workshop, unit: FileUnit,
) -> tuple[TextPage, ...]:
    """All set-ups in order, one after the other on the paper; before them stands how their pages are read."""
    figures, blanks = Figures(unit), {row.part: row for row in stock}
    histories = {
        part.name: History(part, setups, blanks.get(part.name))
        for part in tool.made if any(part.name in setup.parts for setup in setups)
    }  # fmt: skip
    moved = {setup.number: [one for one in transfers(tool, setups) if one.setup == setup.number] for setup in setups}
    page = _Page(tool, histories, operations, moved, workshop, figures, blanks)
    read = tuple(how_to_read(tuple(operations), workshop, figures, pictured=bool(histories)))
    lead = [Group("How the pages of the set-ups are read", (Facts(read),))] if read and setups else []
    pages = []
    for run in (list(found) for _, found in groupby(setups, key=lambda one: one.parts)):
        groups = [_group(page, shared) for shared in _tables(run)]
        pages.append(TextPage(_title(tool, run), (*lead, *groups), far=True))
        lead = []
    return tuple(pages)


@dataclass(frozen=True, slots=True)
class _Page:
    """What the pages of all set-ups are written from."""

    tool: Tool
    histories: Mapping[str, History]
    operations: Sequence[Operation]
    moved: Mapping[int, Sequence[Transfer]]
    workshop: Workshop
    figures: Figures
    blanks: Mapping[str, StockRow]


def _tables(run: Sequence[SetUp]) -> Iterator[list[SetUp]]:
    """Set-ups of one part that share a table: a short one goes on in that of the one before."""
    shared: list[SetUp] = []
    for setup in run:
        short = len(setup.steps) <= _SHORT
        saws = setup.located == "bench" and any(step.work == "saw" for step in setup.steps)
        if shared and not (short and (saws or len(run) <= _SMALL)):
            yield shared
            shared = []
        shared.append(setup)
    if shared:
        yield shared


def _group(page: _Page, shared: Sequence[SetUp]) -> Group:
    first, *others = shared
    title = f"{first.number}  {page.figures.prose(headed(page.tool, first))}"
    return Group(title, tuple(_blocks(page, first, others)))


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


def _blocks(page: _Page, first: SetUp, others: Sequence[SetUp]) -> Iterator[Block]:
    """Picture and holding of the first set-up, then one table of operations of all that share it."""
    figures = page.figures
    facts = Facts(tuple(_facts(page, first)))
    pictures = [
        Figure(setup_picture(page.histories[part], first, figures)) for part in first.parts if part in page.histories
    ]
    if len(pictures) == 1 and pictures[0].ink.width_mm <= NARROW_MM:
        yield Beside(pictures[0], facts)
    else:
        yield from pictures
        yield facts
    cautions, rows = _worked(page, first)
    yield from cautions
    numbers = [str(first.number)]
    for setup in others:
        cautions, more = _worked(page, setup)
        title = figures.prose(setup.title)
        held = tuple(_facts(page, setup))
        rows += [HoldingRow(str(setup.number), title, held, tuple(cautions)), *more]
        numbers.append(str(setup.number))
    if rows:
        yield Operations(f"Set-up{'s' if others else ''} {joined(numbers)}", tuple(rows))
    for setup in (first, *others):
        yield from _notes(_of(setup, page.operations), page.moved[setup.number], figures)


def _worked(page: _Page, setup: SetUp) -> tuple[list[Caution], list[OperationRow | HoldingRow]]:
    """What must be seen before a set-up is worked, and its operations."""
    figures, operations = page.figures, _of(setup, page.operations)
    frames = []
    if setup.no_return:
        frames.append(Caution((sentence(figures.prose(setup.no_return)),), "POINT OF NO RETURN"))
    own, shared = cautions_of(setup.caution), shared_cautions(operations)
    single = tuple(line for one in operations for line in cautions_of(one.caution) if line not in shared)
    lines = without_likes((*own, *shared), single)
    if lines:
        frames.append(Caution((" ".join(sentence(figures.prose(line)) for line in lines),)))
    return frames, list(operation_rows(operations, page.workshop, figures, frozenset((*own, *shared))))


def _tail_words(setup: SetUp, operations: Sequence[Operation]) -> str:
    """Which centre stands in the tailstock, and that it is changed where another stood there before."""
    numbers = [(int(one.number.partition(".")[0]), one.tail) for one in operations if one.tail]
    here = list(dict.fromkeys(tail for number, tail in numbers if number == setup.number))
    before = [tail for number, tail in numbers if number < setup.number]
    if not here:
        return ""
    words = "; then ".join(here)
    return f"{words}; changed from the {before[-1]}" if before and before[-1] != here[0] else words


_REST_MM = 3.0
"""Bar behind the jaws below which nothing is said of it: facing takes as much. Shop choice."""


def _rest_of_bar(page: _Page, setup: SetUp) -> Iterator[str]:
    """Where the rest of a bar stands that is longer than what is held and what is out.

    Source: arithmetic with the blank.
    """
    blank = next((page.blanks[part] for part in setup.parts if part in page.blanks), None)
    if setup.located != "bar" or setup.grips != "bar" or setup.grip_mm is None or setup.out_mm is None or blank is None:
        return
    rest = blank.cut_mm - setup.grip_mm - setup.out_mm
    if rest > _REST_MM:
        goes = blank.bar_mm <= page.workshop.spindle_bore_mm + 1e-9
        where = "in the bore of the spindle" if goes else "behind the jaws, in the chuck"
        yield f"the other {page.figures.length(rest, 0)} or so {where}"


def _facts(page: _Page, setup: SetUp) -> Iterator[Field]:
    """How the work is held, to what it runs true, from what lengths are set, what must not be undone."""
    figures, tail = page.figures, _tail_words(setup, page.operations)
    held = (setup.holding, *_lengths_held(setup, figures), *_rest_of_bar(page, setup))
    yield Field("held", sentence(figures.prose(joined(held))))
    if tail:
        yield Field("tailstock", sentence(figures.prose(tail)))
    found = earned(setup)
    true_to = "" if setup.located == "bar" else without_part(setup.locates_on, setup)
    if true_to and setup.located != "bench":
        within = "" if found.high_mm is None else f" within {run_out(figures, found.low_mm, found.high_mm)}"
        yield Field("true to", f"{true_to}{within}.")
    if setup.touches_off:
        yield Field("touch off on", f"{without_part(setup.touches_off, setup)}.")
    if setup.indicate:
        yield Field("indicate", sentence(figures.prose(setup.indicate)))
    if setup.before:
        yield Field("keep clamped", sentence(figures.prose(setup.before)))
    if setup.leaves_mm:
        yield Field("keep on", f"{figures.length(setup.leaves_mm, 1)}: {figures.prose(setup.leaves_why)}.")


def _lengths_held(setup: SetUp, figures: Figures) -> Iterator[str]:
    if setup.grip_mm is not None:
        on = "the bar" if setup.grips == "bar" else without_part(setup.grips, setup) or "it"
        yield f"{figures.length(setup.grip_mm, 1)} of {on} held"
    if setup.out_mm is not None:
        yield f"{figures.length(setup.out_mm, 1)} out"
    if setup.support and setup.support not in setup.holding.casefold():
        yield {"centre": "tailstock centre up", "steady": "steady on"}[setup.support]


def _notes(
    operations: Sequence[Operation], moved: Sequence[Transfer], figures: Figures
) -> Iterator[Block]:
    """Lengths set from another face than their own, and what the shop lacks."""
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
