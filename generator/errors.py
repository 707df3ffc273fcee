"""The exceptions of the program, and nothing else.

    GeneratorError
    |-- InputError (ValueError)     the job or shop file cannot be used; carries every fault found
    |-- TableError (LookupError)    a standard's table has no such row, or is itself unsound
    |-- GeometryError (ValueError)  a description from which no sound part can be built
    `-- OutputError (OSError)       the result could not be written; the earlier result stands

Whatever an engineer could argue about is a `Finding`, never an exception.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

__all__ = [
    "Fault", "GeneratorError", "GeometryError", "InputError", "OutputError", "TableError", "place_in_words",
]

_ENTRY = re.compile(r"([\w.-]+)\[(\d+)\](?:\.(.+))?")
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


class GeneratorError(Exception):
    """Base of everything this program raises on purpose."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with an input: where it stands, the rule it breaks, what was found, what to do."""

    place: str
    rule: str
    value: str
    cure: str
    line: int | None = None

    def __str__(self) -> str:
        """The fault as one printed line."""
        place = place_in_words(self.place)
        where = f"line {self.line}, {place}" if self.line is not None else place
        found = f" (found {self.value})" if self.value else ""
        return f"{where}: {self.rule}{found}; {self.cure}"


def place_in_words(address: str) -> str:
    """An address for people, who count from one: `stack[1].ring` is "second [[stack]], ring"."""
    found = _ENTRY.fullmatch(address)
    if found is None:
        return address
    number, key = int(found[2]) + 1, found[3]
    which = _ORDINALS[number - 1] if number <= len(_ORDINALS) else f"{number}th"
    return f"{which} [[{found[1]}]]{f', {place_in_words(key)}' if key else ''}"


class InputError(GeneratorError, ValueError):
    """Input that cannot be used; `faults` holds all that was found, in file order."""

    def __init__(self, faults: Sequence[Fault], source: str = "") -> None:
        self.faults = tuple(faults)
        self.source = source
        head = f"{source}: " if source else ""
        count = len(self.faults)
        noun = "fault" if count == 1 else "faults"
        super().__init__("\n".join([f"{head}{count} {noun}", *(f"  {fault}" for fault in self.faults)]))


class TableError(GeneratorError, LookupError):
    """A table has no such row, or a table file is unsound; the message gives the range covered."""


class GeometryError(GeneratorError, ValueError):
    """The description contradicts itself: a face introduced twice, a surface that ends before it begins."""


class OutputError(GeneratorError, OSError):
    """The result could not be written; what stood there before is untouched."""
