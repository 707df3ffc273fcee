"""Inspection as a table to fill and to read back: what was measured, what it means, and which gaps are left as made."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from generator.description import ChainResult, Part, Size, Tool
from generator.description.size import MEASURING_DOUBT_MM
from generator.errors import Fault, InputError
from generator.making.figures import Figures
from generator.making.inspection import InspectionRow, inspection_rows
from generator.making.missed import miss_of
from generator.making.rescue import WORKS, rung_of
from generator.units import FileUnit, UnitError, read_length, text_of

__all__ = ["AsMade", "Judged", "as_made", "inspection_table", "judge", "read_readings"]

COLUMNS = ("number", "part", "address", "what", "nominal", "least", "most", "unit", "instrument", "reading")
_YES = frozenset({"ok", "yes", "good", "go"})
_NO = frozenset({"not ok", "no", "bad", "no go"})
_LONGEST = 100_000
_CLOSE_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Judged:
    """One reading held against its limits: `state` is "within", "metal left", "metal gone", "good" or "bad".

    `by_mm` is how far outside it is; `do` says what to do about it.
    """

    row: InspectionRow
    reading: str
    state: str
    by_mm: float = 0.0
    do: str = ""

    @property
    def is_right(self) -> bool:
        """True where nothing needs doing."""
        return self.state in {"within", "good"}


@dataclass(frozen=True, slots=True)
class AsMade:
    """A gap with every size that was measured at its reading: its range, and how far outside what is wanted."""

    result: ChainResult
    low_mm: float
    high_mm: float
    outside_mm: float


def _all_rows(tool: Tool, chains: Sequence[ChainResult], unit: FileUnit) -> tuple[InspectionRow, ...]:
    """Characteristics of the made parts, then sizes of the bearings that gaps depend on."""
    met = {term.address: term.size for result in chains for term in result.contributors}
    bought = [
        InspectionRow(
            address, "width as bought", text_of(size.nominal_mm, unit, 3), "", "micrometer", 0, size.low, size.high
        )
        for address, size in met.items()
        if (part := tool.parts.get(address.partition("/")[0])) is not None and part.item and _is_width(part, address)
    ]
    return (*inspection_rows(tool, chains, unit), *bought)


def _is_width(part: Part, address: str) -> bool:
    return any(f"{part.name}/{one.name}" == address for one in part.lengths)


def inspection_table(tool: Tool, chains: Sequence[ChainResult], unit: FileUnit = "mm") -> str:
    """The characteristics as comma-separated text with an empty column for readings, one line each.

    Bearings' widths stand at the end: with them read, gaps are worked out as made.
    """
    written = io.StringIO()
    table = csv.writer(written, lineterminator="\n")
    table.writerow(COLUMNS)
    for row in _all_rows(tool, chains, unit):
        part = row.address.partition("/")[0]
        ends = _printed(row, unit)
        table.writerow(
            [row.number or "", tool.parts[part].title, row.address, row.what, row.nominal, *ends,
             unit if row.low_mm is not None else "", row.instrument, ""]
        )  # fmt: skip
    return written.getvalue()


def _printed(row: InspectionRow, unit: FileUnit) -> list[str]:
    """Both limits as the page of the inspection prints them; empty where a reading is no length."""
    if row.low_mm is None or row.high_mm is None:
        return ["", ""]
    if unit == "mm":
        return [text_of(value, unit, 3) for value in (row.low_mm, row.high_mm)]
    figures = Figures(unit)
    if row.low_mm == 0:
        return [figures.bare(0.0, 3), figures.at_most(row.high_mm)]
    return figures.within(row.low_mm, row.high_mm).split(" to ")


# --- reading back --------------------------------------------------------------------------------------------------


def read_readings(
    text: str, tool: Tool, chains: Sequence[ChainResult], source: str = "readings", unit: FileUnit = "mm"
) -> dict[str, str | float]:
    """Readings by address: lengths in mm, words for what is no length; blank lines of the table are left out.

    A spreadsheet may have written semicolons between columns and commas in figures.
    Raises: InputError with every fault, each with its line.
    """
    if len(text) > _LONGEST:
        raise InputError([Fault("the file", "too long for an inspection table", f"{len(text)} characters",
                                "give the table that make wrote")], source)  # fmt: skip
    lines = text.removeprefix("\ufeff").splitlines()
    separator = ";" if lines and lines[0].count(";") > lines[0].count(",") else ","
    rows = list(csv.DictReader(lines, delimiter=separator))
    faults = _faults_of_head(rows, lines, separator)
    if faults:
        raise InputError(faults, source)
    known = {row.address: row for row in _all_rows(tool, chains, unit)}
    found: dict[str, str | float] = {}
    for line, row in enumerate(rows, start=2):
        address, given = (row.get("address") or "").strip(), (row.get("reading") or "").strip()
        if given:
            faults += _take(found, known, address, given, (row.get("unit") or "").strip(), line, separator)
    if faults:
        raise InputError(faults, source)
    return found


def _faults_of_head(rows: Sequence[object], lines: Sequence[str], separator: str) -> list[Fault]:
    head = next(csv.reader(lines[:1], delimiter=separator), [])
    missing = [name for name in ("address", "reading", "unit") if name not in head]
    if missing:
        cure = "keep the first line of the table that make wrote"
        return [Fault("first line", "the columns address, unit and reading must stand in it", ", ".join(head), cure, 1)]
    return [] if rows else [Fault("the file", "there is no line below the heading", "", "give the whole table", 1)]


def _take(
    found: dict[str, str | float], known: Mapping[str, InspectionRow], address: str, given: str, unit: str, line: int,
    separator: str,
) -> Iterator[Fault]:
    """Put one reading among those found, or yield what is wrong with it."""
    row = known.get(address)
    if row is None:
        close = get_close_matches(address, known, n=1)
        cure = f"nearest: {close[0]}" if close else "leave the addresses as make wrote them"
        yield Fault("address", "this tool has no such characteristic", address, cure, line)
    elif address in found:
        yield Fault("address", "read twice", address, "leave one of the two blank", line)
    elif row.low_mm is None:
        words = given.casefold()
        if words in _YES | _NO or _percent(words) is not None:
            found[address] = words
        else:
            yield Fault("reading", 'no length is asked here: "ok", "not ok" or a share such as "70 %"', given,
                        "write one of these", line)  # fmt: skip
    elif unit not in ("mm", "in"):
        yield Fault("unit", "must be mm or in", unit, "leave it as make wrote it", line)
    else:
        try:
            figure = given.replace(",", ".") if separator == ";" else given
            found[address] = read_length(_plain(figure), "in" if unit == "in" else "mm")
        except UnitError as problem:
            yield Fault("reading", problem.rule, problem.value, problem.cure, line)


def _plain(figure: str) -> float | str:
    try:
        return float(figure)
    except ValueError:
        return figure


def _percent(words: str) -> float | None:
    try:
        return float(words.removesuffix("%").strip()) if words.endswith("%") else None
    except ValueError:
        return None


# --- what it means -------------------------------------------------------------------------------------------------


def judge(
    tool: Tool, chains: Sequence[ChainResult], readings: Mapping[str, str | float], unit: FileUnit = "mm",
    drawer: Sequence[tuple[str, float]] = (),
) -> tuple[Judged, ...]:
    """Every reading of a characteristic against its limits, with the way out where too much metal is gone."""
    rows = (row for row in _all_rows(tool, chains, unit) if row.address in readings)
    return tuple(_judged(tool, chains, row, readings[row.address], unit, drawer) for row in rows)


def _judged(
    tool: Tool, chains: Sequence[ChainResult], row: InspectionRow, reading: str | float, unit: FileUnit,
    drawer: Sequence[tuple[str, float]],
) -> Judged:
    if isinstance(reading, str):
        share = _percent(reading)
        good = reading in _YES if share is None else share >= LEAST_CONTACT_PERCENT
        return Judged(row, reading, "good" if good else "bad", 0.0, "" if good else "see the settings page: correct it")
    shown = f"{text_of(reading, unit, 4 if unit == 'in' else 3)} {unit}"
    low, high = row.low_mm or 0.0, row.high_mm or 0.0
    by = max(low - reading, reading - high, 0.0)
    if by <= _CLOSE_MM:
        return Judged(row, shown, "within")
    address = _size_address(tool, row.address)
    sign = miss_of(tool, address) if tool.parts[address.partition("/")[0]].is_made else 0
    if not sign or (row.address.count("/") > 1 and address not in _sizes(chains)):
        return Judged(row, shown, "bad", by, "outside: set up again and correct, or make it anew")
    if (sign > 0) == (reading < low):
        amount = f"{text_of(by, unit, 4 if unit == 'in' else 3)} {unit}"
        return Judged(row, shown, "metal left", by, f"take off {amount} or a little more, up to the other limit")
    rung = rung_of(tool, chains, address, by, drawer)
    ways = "; or ".join(rung.ways) if rung is not None else "nothing else depends on it: write it down"
    return Judged(row, shown, "metal gone", by, f"{rung.verdict if rung else WORKS}: {ways}")


LEAST_CONTACT_PERCENT = 60.0
"""Least share of a cone that must bear. Common practice, no source."""


def _sizes(chains: Sequence[ChainResult]) -> set[str]:
    return {term.address for result in chains for term in result.contributors}


def _size_address(tool: Tool, address: str) -> str:
    """The address of the size that a characteristic's address names: surfaces have a diameter."""
    part, _, name = address.partition("/")
    return f"{address}/diameter" if name in tool.parts[part].by_name else address


def as_made(
    tool: Tool, chains: Sequence[ChainResult], readings: Mapping[str, str | float]
) -> tuple[AsMade, ...]:
    """Every gap in which something was measured, with those sizes at their readings and the rest at their limits."""
    read = {_size_address(tool, address): mm for address, mm in readings.items() if isinstance(mm, float)}
    found = []
    for result in chains:
        if not any(term.address in read for term in result.contributors):
            continue
        if result.gap.fit and result.gap.fit not in read:
            continue
        low = high = 0.0
        for term in result.contributors:
            ends = sorted(term.coefficient * value for value in _ends(term.size, read.get(term.address)))
            low, high = low + ends[0], high + ends[1]
        least, most = result.gap.least_mm, result.gap.most_mm
        outside = max((least - low) if least is not None else 0.0, (high - most) if most is not None else 0.0, 0.0)
        found.append(AsMade(result, low, high, outside if outside > _CLOSE_MM else 0.0))
    return tuple(found)


def _ends(size: Size, reading_mm: float | None) -> tuple[float, float]:
    if reading_mm is None:
        return size.low, size.high
    return reading_mm - MEASURING_DOUBT_MM, reading_mm + MEASURING_DOUBT_MM
