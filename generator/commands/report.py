"""Findings, parameters and tables as text for a terminal, or as plain data for --json."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, replace
from textwrap import wrap
from typing import Any

from generator.errors import InputError, place_in_words
from generator.findings import Change, Finding
from generator.job.design import Design
from generator.job.reader import Job
from generator.units import FileUnit, show_in, show_mm

__all__ = [
    "change_text", "design_data", "faults_data", "finding_lines", "report_lines", "row_lines", "shop_lines",
    "table_lines", "verdict",
]

_WORDS = {"stop": "STOP", "warn": "WARNING", "note": "note"}
_SHOWN_IN_NOTES = 3
_LAST = ("source", "confidence", "check")


def report_lines(design: Design, width: int, *, all_details: bool = False) -> Iterator[str]:
    """The report of a check: what it is, the verdict, the findings, the verdict once more.

    Stops and warnings stand in full, notes in a line each unless all details are wanted.
    """
    job = design.job
    yield from wrap(f"{job.kind.TITLE} {job.name} ({job.source})", width)
    yield from wrap(verdict(design), width)
    yield from shop_lines(job, width)
    is_brief = False
    for finding in design.findings:
        if finding.severity == "note" and not all_details:
            if not is_brief:
                yield ""
            is_brief = True
            yield from wrap(_brief(finding, job.unit), width, subsequent_indent="    ")
        else:
            yield ""
            yield from finding_lines(finding, job.unit, width)
    yield ""
    if is_brief:
        yield from wrap("Notes are in short; --all tells all their details.", width)
    yield from wrap(verdict(design), width)


def shop_lines(job: Job, width: int) -> Iterator[str]:
    """Which shop file serves, what of it went into the job, and what of it could not be used; nothing without one."""
    if job.shop is None:
        return
    found = f", {job.shop.found}" if job.shop.found else ""
    taken = f"; into the job: {', '.join(map(place_in_words, job.from_shop))}" if job.from_shop else ""
    yield from wrap(f"shop file: {job.shop.source}{found}{taken}", width, subsequent_indent="  ")
    for note in job.notes:
        yield from wrap(note, width, initial_indent="shop file: ", subsequent_indent="  ")


def verdict(design: Design) -> str:
    """The count of findings and what follows from it, in one sentence."""
    counts = {name: sum(found.severity == name for found in design.findings) for name in _WORDS}
    parts = [
        f"{counts['stop']} stop{'' if counts['stop'] == 1 else 's'}",
        f"{counts['warn']} warning{'' if counts['warn'] == 1 else 's'}",
        f"{counts['note']} note{'' if counts['note'] == 1 else 's'}",
    ]
    end = "do not make it as it stands" if counts["stop"] else "nothing found that forbids making it"
    return f"{', '.join(parts)}: {end}."


def finding_lines(finding: Finding, unit: FileUnit, width: int) -> Iterator[str]:
    """One finding, in this order: what, how much against what, why, from which sizes, by whose rule, the cure."""
    head = f"{_WORDS[finding.severity]}  {finding.title} [{place_in_words(finding.address)}]"
    yield from wrap(head, width, subsequent_indent="    ")
    for label, text in _parts(finding, unit):
        yield from wrap(text, width, initial_indent=f"    {label}", subsequent_indent=" " * 6)


def _brief(finding: Finding, unit: FileUnit) -> str:
    """A note in one line: what, how much against what."""
    said = _value_text(replace(finding, worst_low=None), unit) or finding.advice
    return f"{_WORDS[finding.severity]}  {finding.title}{f': {said}' if said else ''}"


def _parts(finding: Finding, unit: FileUnit) -> Iterator[tuple[str, str]]:
    if value := _value_text(finding, unit):
        yield "", value
    if finding.advice:
        yield "", finding.advice[:1].upper() + finding.advice[1:]
    if finding.contributors:
        yield "from: ", "; ".join(_contributors(finding))
    if finding.source:
        yield "source: ", finding.source
    if finding.changes:
        yield "change: ", "; ".join(change_text(change, unit) for change in finding.changes)
    elif finding.cures and finding.severity != "note":
        yield "look at: ", ", ".join(map(place_in_words, finding.cures))


def _value_text(finding: Finding, unit: FileUnit) -> str:
    limit = finding.limit
    if any(character.isdigit() for character in limit):
        limit = f"wanted {limit} {finding.unit}".rstrip()
    if finding.value is None:
        return limit
    text = f"{_figure(finding.value, finding.unit)} {finding.unit}".rstrip()
    if finding.unit == "mm" and unit == "in":
        text += f" ({show_in(finding.value)} in)"
    if finding.worst_low is not None and finding.worst_high is not None:
        low, high = _figure(finding.worst_low, finding.unit), _figure(finding.worst_high, finding.unit)
        text += f", at worst {low} to {high}"
    return f"{text}; {limit}" if limit else text


def _figure(value: float, unit: str) -> str:
    return show_mm(value, 3) if unit == "mm" else f"{round(value, 4) + 0.0:g}"


def _contributors(finding: Finding) -> Sequence[str]:
    held = finding.contributors
    if finding.severity != "note" or len(held) <= _SHOWN_IN_NOTES:
        return held
    return (*held[:_SHOWN_IN_NOTES], f"and {len(held) - _SHOWN_IN_NOTES} smaller")


def change_text(change: Change, unit: FileUnit) -> str:
    """A change as it is written in a job file of this unit."""
    if change.unit == "mm" and unit == "in" and isinstance(change.value, int | float):
        value = float(change.value)
        return f"{place_in_words(change.parameter)} = {show_in(value)} in ({show_mm(value)} mm)"
    return str(replace(change, parameter=place_in_words(change.parameter)))


def design_data(design: Design) -> dict[str, Any]:
    """A check as plain data for --json."""
    job = design.job
    counts = {name: sum(found.severity == name for found in design.findings) for name in _WORDS}
    return {
        "job": job.name,
        "kind": job.kind_name,
        "source": job.source,
        "units": job.unit,
        "counts": counts,
        "may_be_made": counts["stop"] == 0,
        "parameters": [_clean(asdict(choice)) for choice in design.choices.parameters.values()],
        "shop": None if job.shop is None else {"file": job.shop.source, "found": job.shop.found},
        "from_shop": list(job.from_shop),
        "shop_notes": list(job.notes),
        "findings": [_clean(finding.as_dict()) for finding in design.findings],
    }


def _clean(row: dict[str, Any]) -> dict[str, Any]:
    """The row without digits that mean nothing, and never a minus before zero."""
    return {key: round(value, 9) + 0.0 if isinstance(value, float) else value for key, value in row.items()}


def faults_data(problem: InputError) -> dict[str, Any]:
    """The faults of a bad input as plain data for --json."""
    return {"source": problem.source, "faults": [asdict(fault) for fault in problem.faults]}


def table_lines(names: Mapping[str, str], width: int) -> Iterator[str]:
    """Every table with what it holds."""
    longest = max(map(len, names), default=0)
    for name, what in sorted(names.items()):
        yield from wrap(f"{name:<{longest}}  {what}", width, subsequent_indent=" " * (longest + 2))


def row_lines(rows: Iterable[Mapping[str, Any]], width: int) -> Iterator[str]:
    """Rows of a table, one block a row: sizes first, then where they come from."""
    for number, row in enumerate(rows):
        if number:
            yield ""
        cells = [f"{column} {_cell(value)}" for column, value in row.items() if column not in _LAST]
        yield from wrap(", ".join(cells), width, subsequent_indent="  ")
        for column in _LAST:
            if row.get(column):
                yield from wrap(f"{column}: {row[column]}", width, initial_indent="  ", subsequent_indent="    ")


def _cell(value: Any) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)
