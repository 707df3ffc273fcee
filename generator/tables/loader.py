"""Reading of the table files: one CSV, checked on the way in, kept for the life of the program."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import NamedTuple

from generator.errors import TableError
from generator.tables.index import INDEX, Entry

__all__ = ["LAST_COLUMNS", "Row", "Table", "band", "load", "nearest", "read_table"]

LAST_COLUMNS = ("source", "confidence", "check")
NUMBER_ENDINGS = (
    "_mm", "_um", "_in", "_deg", "_n", "_kn", "_rpm", "_kg", "_gpa", "_mpa", "_mm2", "_m_min", "_tpi", "_ratio",
    "_kg_m", "_um_m_k", "_g_cm3", "_factor", "_percent", "_kn_mm", "_in_ft", "_mm_rev", "_n_mm2", "_kw", "_hb",
)
_NUMBER = re.compile(r"[+-]?\d+(?:\.\d+)?", re.ASCII)

Cell = str | float | None


class _Column(NamedTuple):
    name: str
    is_number: bool
    may_be_empty: bool


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table: its cells, and where it stands for messages."""

    place: str
    cells: Mapping[str, Cell]

    def number(self, column: str) -> float:
        """The number in a column; an empty cell is an error."""
        value = self.cells[column]
        if isinstance(value, float):
            return value
        message = f"{self.place}, column {column}: no figure is known"
        raise TableError(message)

    def maybe(self, column: str) -> float | None:
        """The number in a column, or None where the table gives none."""
        return self.number(column) if self.cells[column] is not None else None

    def text(self, column: str) -> str:
        """The text in a column, empty where the table gives none."""
        value = self.cells[column]
        return "" if value is None else str(value)

    @property
    def source(self) -> str:
        """Where the row comes from."""
        return self.text("source")

    @property
    def confidence(self) -> str:
        """How far the row is to be trusted."""
        return self.text("confidence")

    @property
    def rests_on_memory(self) -> bool:
        """Whether the row, or part of it, was written from memory; what rests on it must say so."""
        return "from memory" in (self.source + self.confidence)


@dataclass(frozen=True, slots=True)
class Table:
    """One published table."""

    name: str
    what: str
    keys: tuple[str, ...]
    columns: tuple[str, ...]
    rows: tuple[Row, ...]

    def find(self, *key: str | float) -> Row:
        """The row with this key.

        Raises: TableError, with the nearest known keys.
        """
        wanted = tuple(_folded(part) for part in key)
        for row in self.rows:
            if tuple(_folded(row.cells[column]) for column in self.keys) == wanted:
                return row
        asked = " ".join(_shown(part) for part in key)
        message = f"table {self.name} has no {asked}; nearest known: {self._nearest_keys(key, asked)}"
        raise TableError(message)

    def _nearest_keys(self, key: tuple[str | float, ...], asked: str) -> str:
        if len(key) == 1 and isinstance(wanted := key[0], float | int):
            sizes = sorted((row.number(self.keys[0]) for row in self.rows), key=lambda size: abs(size - wanted))
            return "; ".join(f"{size:g}" for size in sorted(sizes[:4]))
        return nearest(asked, [" ".join(_shown(row.cells[column]) for column in self.keys) for row in self.rows])


@cache
def load(name: str) -> Table:
    """The table of this name, read on first use.

    Raises: TableError for an unknown name or an unsound file.
    """
    if name not in INDEX:
        message = f"no table is called {name!r}; nearest known: {nearest(name, list(INDEX))}"
        raise TableError(message)
    return read_table(Path(__file__).with_name(f"{name}.csv"), name, INDEX[name])


def read_table(path: Path, name: str, entry: Entry) -> Table:
    """The table in a file, every rule of table files enforced.

    Raises: TableError naming file, line, column and value.
    """
    try:
        with path.open(encoding="utf-8", newline="") as stream:
            lines = csv.reader(stream, strict=True)
            columns = _read_columns(path, next(lines, []), entry)
            rows = tuple(_read_row(path, lines.line_num, columns, cells) for cells in lines)
    except (OSError, UnicodeDecodeError, csv.Error) as problem:
        message = f"table {name}: {path.name} cannot be read: {problem}"
        raise TableError(message) from problem
    if not rows:
        message = f"{path.name}: the table has no rows"
        raise TableError(message)
    _refuse_duplicates(rows, entry)
    return Table(name, entry.what, entry.keys, tuple(column.name for column in columns), rows)


def band(table: Table, value_mm: float, rows: Sequence[Row] | None = None) -> Row:
    """The row whose band "over ... up to and including ..." holds the value; the one place for this rule.

    The smallest size of the table belongs to its first band, so a first band "0 up to 3" holds everything up to 3.

    Raises: TableError, with the range covered.
    """
    chosen = table.rows if rows is None else rows
    for row in chosen:
        if row.number("over_mm") < value_mm <= row.number("incl_mm"):
            return row
    least = min(row.number("over_mm") for row in chosen)
    most = max(row.number("incl_mm") for row in chosen)
    message = f"table {table.name} covers sizes over {least:g} up to and including {most:g} mm, not {value_mm:g} mm"
    raise TableError(message)


def nearest(asked: str, known: Sequence[str], count: int = 5) -> str:
    """Up to `count` known names most like the one asked for, as one printed list."""
    from difflib import get_close_matches

    unique = list(dict.fromkeys(known))
    close = get_close_matches(asked[:40], unique, n=count, cutoff=0.5)
    return "; ".join(close or unique[:count])


def _read_columns(path: Path, header: list[str], entry: Entry) -> tuple[_Column, ...]:
    columns = tuple(header)
    if columns[-3:] != LAST_COLUMNS:
        message = f"{path.name}, line 1: the last three columns must be {', '.join(LAST_COLUMNS)}, found {columns[-3:]}"
        raise TableError(message)
    missing = [key for key in (*entry.keys, *entry.optional) if key not in columns]
    if missing or len(set(columns)) != len(columns):
        message = f"{path.name}, line 1: columns missing or doubled: {', '.join(missing) or ', '.join(columns)}"
        raise TableError(message)
    return tuple(_column_of(name, entry) for name in columns)


def _column_of(name: str, entry: Entry) -> _Column:
    """A number where the name ends in a unit; numbers and keys are filled in, and so are source and confidence."""
    is_number = name.endswith(NUMBER_ENDINGS)
    is_vital = name in entry.keys or name in ("source", "confidence")
    return _Column(name, is_number, not is_vital and (name in entry.optional or not is_number))


def _read_row(path: Path, line: int, columns: Sequence[_Column], cells: list[str]) -> Row:
    if len(cells) != len(columns):
        first = (cells or [""])[0][:40]
        message = f"{path.name}, line {line}: {len(cells)} cells where the header has {len(columns)}; begins {first!r}"
        raise TableError(message)
    place = f"{path.name}, line {line}"
    read: dict[str, Cell] = {}
    for column, text in zip(columns, cells, strict=True):
        if not text:
            if not column.may_be_empty:
                message = f"{place}, column {column.name}: may not be empty (found '')"
                raise TableError(message)
            read[column.name] = None
        elif column.is_number:
            if not _NUMBER.fullmatch(text):
                message = f"{place}, column {column.name}: not a number (found {text[:40]!r})"
                raise TableError(message)
            read[column.name] = float(text)
        else:
            read[column.name] = text
    return Row(place, read)


def _refuse_duplicates(rows: Sequence[Row], entry: Entry) -> None:
    seen: dict[tuple[str, ...], Row] = {}
    for row in rows:
        key = tuple(_folded(row.cells[column]) for column in entry.keys)
        if key in seen:
            shown = " ".join(_shown(row.cells[column]) for column in entry.keys)
            message = f"{row.place}, column {entry.keys[0]}: the key {shown!r} stands already in {seen[key].place}"
            raise TableError(message)
        seen[key] = row


def _folded(value: Cell) -> str:
    return _shown(value).replace(" ", "")


def _shown(value: Cell) -> str:
    return f"{value:g}" if isinstance(value, float | int) else str(value or "")
