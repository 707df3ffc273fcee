"""The trial assembly before a ring is faced to what it fills: all else on the spindle, the gap measured."""

from __future__ import annotations

from collections.abc import Iterator

from generator.description import ChainResult, Part, Tool
from generator.making.assembly import assembly_moves
from generator.making.route.ledger import Ledger
from generator.making.route.measured import fit_of
from generator.making.route.spindle import is_spindle
from generator.making.route.words import the
from generator.making.setups import Step

__all__ = ["tried_together"]


def tried_together(ledger: Ledger, ring: Part) -> None:
    """A set-up of its own that measures what this ring fills on a spindle; none for a ring that fills nothing there.

    Source: common practice, no source.
    """
    tool = ledger.tool
    found = [fit for one in ring.lengths if one.size.fitted and (fit := fit_of(tool, f"{ring.name}/{one.name}"))]
    for fit in found:
        names = {term.address.partition("/")[0] for term in fit.contributors}
        spindle = next((part for part in tool.made if part.name in names and is_spindle(part)), None)
        if spindle is not None:
            _add(ledger, ring, spindle, fit)


def _add(ledger: Ledger, ring: Part, spindle: Part, fit: ChainResult) -> None:
    outside = [one for one in spindle.surfaces if one.side == "outside" and not one.at and one.role != "chamfer"]
    held = max(outside, key=lambda one: one.diameter.nominal_mm)
    ledger.add(
        spindle, f"trial assembly for the {ring.title.lower()}", f"vice, soft jaws on {the(held.name)}", "bench",
        f"{spindle.name}/{held.name}", "", [], _steps(ledger.tool, ring, spindle, fit),
        grips=f"{spindle.name}/{held.name}", before="not before the gap is measured and written down",
    )  # fmt: skip


def _steps(tool: Tool, ring: Part, spindle: Part, fit: ChainResult) -> Iterator[Step]:
    """Bearings and spacers stay on; what is sprung on behind them comes off again."""
    on = [move for move in assembly_moves(tool) if move.into == spindle.title and ring.name not in move.pieces]
    stay = ", ".join(_in_words(move.title) for move in on if move.side != "pliers")
    sprung = ", ".join(_in_words(move.title) for move in on if move.side == "pliers")
    if stay:
        words = f"put on {stay}, each hard against the last, as the page of assembly says: they stay on"
        yield Step(words, work="press")
    if sprung:
        yield Step(f"spring the {sprung} on without the {ring.title.lower()}", "", f"{sprung} pliers", work="hold")
    size = ""
    if fit.fit_low_mm is not None and fit.fit_high_mm is not None:
        middle = ((fit.gap.least_mm or 0.0) + (fit.gap.most_mm or 0.0)) / 2
        size = f"{fit.fit_low_mm + middle:.2f} to {fit.fit_high_mm + middle:.2f} mm"
    away = f", the {sprung} pushed away from it" if sprung else ""
    yield Step(
        f"measure the gap that the {ring.title.lower()} fills at three places{away}; write it down", size,
        "feelers or slips", work="measure",
    )  # fmt: skip
    if sprung:
        yield Step(f"take the {sprung} off again", "", f"{sprung} pliers", work="hold")


def _in_words(title: str) -> str:
    """A title within a sentence; one with a designation keeps its number."""
    return title[:1].lower() + title[1:]
