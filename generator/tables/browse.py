"""Any table by name, for printing."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress

from generator.errors import TableError
from generator.tables.index import INDEX
from generator.tables.loader import Cell, Row, Table, load, nearest
from generator.tables.own import own_rows
from generator.tables.rings import nearest_rings, ring

__all__ = ["names", "rows"]


def names() -> dict[str, str]:
    """Every table's name with one line on what it holds."""
    return {name: entry.what for name, entry in INDEX.items()}


def rows(name: str, key: str | None = None) -> tuple[dict[str, Cell], ...]:
    """The rows of a table, or those that a key finds; empty columns left out.

    A key finds rows by any one key column, or by all of them joined with spaces; upper and lower case are kept apart
    only where both occur, since h6 is a shaft and H6 a hole. Where nothing is found so, a Morse taper may be
    written in other ways ("3" and "Morse 3" both find MT3), a ring with the suffixes of its maker.

    Raises: TableError for an unknown table or a key that finds nothing, with the nearest known.
    """
    mine = own_rows() if name == "rings" else ()
    if key is not None:
        own = [row for row in mine if _folded(str(row["name"])).casefold() == _folded(key).casefold()]
        if own:
            return tuple(_filled(row) for row in own)
    table = load(name)
    found = table.rows if key is None else _rows_with(table, key)
    return (*(_filled(row) for row in (() if key else mine)), *(_filled(row.cells) for row in found))


def _filled(cells: Mapping[str, Cell]) -> dict[str, Cell]:
    """The columns that hold something."""
    return {column: value for column, value in cells.items() if value is not None}


def _rows_with(table: Table, key: str) -> tuple[Row, ...]:
    wanted = _folded(key)
    for fold in (str, str.casefold):
        hits = tuple(row for row in table.rows if fold(wanted) in {fold(text) for text in _keys_of(table, row)})
        if hits:
            return hits
    if table.name.startswith("morse") and wanted.casefold().removeprefix("morse") in set("0123456"):
        return _rows_with(table, f"MT{wanted[-1]}")
    if table.name == "rings":
        with suppress(TableError):
            return _rows_with(table, ring(key).designation)
        known = nearest_rings(key)
    else:
        known = nearest(key, [_text(row.cells[table.keys[0]]) for row in table.rows])
    message = f"table {table.name} has no {key[:40]!r}; nearest known: {known}"
    raise TableError(message)


def _keys_of(table: Table, row: Row) -> list[str]:
    """What a row may be called: any one key, all of them together, or its alias."""
    parts = [_text(row.cells[column]) for column in table.keys]
    alias = row.cells.get("alias")
    return [_folded(name) for name in (*parts, " ".join(parts), *([_text(alias)] if alias else []))]


def _text(value: Cell) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value or "")


def _folded(text: str) -> str:
    return text.replace(" ", "")
