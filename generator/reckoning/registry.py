"""Every shop calculation by name: what it takes, what it gives, where it comes from; and the one way to run it.

To add a calculation:

1. Write its pure functions in a module of this package: units in every name, floats or arrays in, a `Source:` line in
   every docstring, ranges checked with `amounts.need`.
2. In the same module (or beside it, where that one is full) add the constant `RECKONING = Reckoning(...)`: its inputs,
   its outputs, an `example` that runs, source, validity, and `work`, a function from the values read to an `Outcome`.
   `work` gets a mapping with every input: floats in the unit the input states, `None` where an optional one was left
   out, a tuple of tuples for `rows`. Refuse combinations that make no sense with `refuse(...)`.
3. Name the module in `HOMES` below. It is imported only when its calculation is asked for.

The command line, `--json`, the listing and the tests of every example need nothing more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from importlib import import_module
from typing import Any, NoReturn

from generator.errors import Fault, GeneratorError, InputError
from generator.reckoning.amounts import RangeError, need
from generator.reckoning.quantities import QuantityError, read_amount, reject

__all__ = [
    "HOMES", "Input", "Outcome", "Output", "Reckoning", "Result", "find", "names", "read_inputs", "refuse", "run",
]

Value = float | str | bool

HOMES: dict[str, str] = {
    "access": "access_record",
    "cutting": "cutting_record",
    "fit": "fit_seat",
    "grip": "grip",
    "life": "life_duty",
    "mass": "mass",
    "reactions": "reactions",
    "screw": "screw_record",
    "seats": "seats",
    "set-over": "set_over_record",
    "speed": "speed",
    "static": "static",
    "taper": "taper_shop",
    "thermal": "thermal_record",
    "thrust": "thrust",
    "truth": "truth",
}
"""Name of a calculation -> module of this package that holds it."""

LONGEST_WORD = 80
LONGEST_PATH = 1000
LONGEST_ROWS = 2000
MOST_ROWS = 50


@dataclass(frozen=True, slots=True)
class Input:
    """One input. `kind` is a kind of quantity, or number, whole, text, file, choice, yes or no, rows."""

    name: str
    what: str
    kind: str
    unit: str = ""
    default: Value | None = None
    required: bool = False
    least: float | None = None
    most: float | None = None
    above: float | None = None
    below: float | None = None
    choices: tuple[str, ...] = ()
    fields: tuple[Input, ...] = ()


@dataclass(frozen=True, slots=True)
class Output:
    """One result: its name, its unit (empty for words and plain numbers) and what it is."""

    name: str
    unit: str
    what: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the work of a calculation found; `sources` and `notes` are those that only the case at hand brings in."""

    values: Mapping[str, Value | None]
    sources: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Reckoning:
    """A shop calculation."""

    name: str
    summary: str
    inputs: tuple[Input, ...]
    outputs: tuple[Output, ...]
    work: Callable[[Mapping[str, Any]], Outcome]
    source: str
    validity: str
    example: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Result:
    """A calculation done: every value with its unit."""

    name: str
    inputs: Mapping[str, Mapping[str, Any]]
    results: Mapping[str, Mapping[str, Any]]
    source: str
    validity: str

    def as_data(self) -> dict[str, Any]:
        """The result as plain data."""
        return {
            "reckoning": self.name,
            "inputs": {name: dict(held) for name, held in self.inputs.items()},
            "results": {name: dict(held) for name, held in self.results.items()},
            "source": self.source,
            "validity": self.validity,
        }


def names() -> tuple[str, ...]:
    """The names of all calculations, in alphabetical order."""
    return tuple(sorted(HOMES))


def find(name: str) -> Reckoning:
    """The calculation of this name; only its own module is imported.

    Raises: InputError with the nearest name.
    """
    if name not in HOMES:
        cure = f"known: {', '.join(names())}"
        refuse(name[:LONGEST_WORD], f"no calculation has this name{_like(name, HOMES)}", "", cure)
    found = import_module(f"generator.reckoning.{HOMES[name]}").RECKONING
    if isinstance(found, Reckoning) and found.name == name:
        return found
    held: Reckoning = found[name]
    return held


def refuse(place: str, rule: str, value: str, cure: str) -> NoReturn:
    """Raise the one fault as InputError."""
    raise InputError([Fault(place, rule, value, cure)])


def run(name: str, texts: Mapping[str, str]) -> Result:
    """The calculation of this name worked on inputs given as texts.

    Raises: InputError with every fault of the texts; another GeneratorError where a formula does not hold.
    """
    reckoning = find(name)
    given = read_inputs(reckoning, texts)
    outcome = reckoning.work(given)
    units = {output.name: output.unit for output in reckoning.outputs}
    results = {
        key: {"value": _plain(value), "unit": units[key]}
        for key, value in outcome.values.items()
        if value is not None
    }
    used = {
        entry.name: _used(entry, given[entry.name], given_by_user=entry.name in texts)
        for entry in reckoning.inputs
        if given[entry.name] not in (None, ())
    }
    return Result(
        name, used, results,
        source="; ".join(dict.fromkeys((reckoning.source, *outcome.sources))),
        validity=" ".join((reckoning.validity, *outcome.notes)),
    )


def read_inputs(reckoning: Reckoning, texts: Mapping[str, str]) -> dict[str, Any]:
    """Every input of the calculation read from its text, or its default.

    Raises: InputError with every fault.
    """
    known = {entry.name: entry for entry in reckoning.inputs}
    faults = [
        Fault(
            f"{reckoning.name}, {key[:LONGEST_WORD]}", f"no input has this name{_like(key, known)}", "",
            f"known: {', '.join(known)}",
        )
        for key in texts
        if key not in known
    ]
    given: dict[str, Any] = {}
    for entry in reckoning.inputs:
        if entry.name in texts:
            faults += _read(entry, texts[entry.name], f"{reckoning.name}, {entry.name}", given)
        elif entry.required:
            place, cure = f"{reckoning.name}, {entry.name}", f"give {entry.name}: {entry.what}"
            faults.append(Fault(place, "is missing", "", cure))
        else:
            given[entry.name] = () if entry.kind == "rows" and entry.default is None else entry.default
    if faults:
        raise InputError(faults)
    return given


def _read(entry: Input, text: str, place: str, given: dict[str, Any]) -> Iterable[Fault]:
    """The fault of one text, if any; its value goes into `given`."""
    try:
        given[entry.name] = _rows(entry, text) if entry.kind == "rows" else _single(entry, text)
    except QuantityError as problem:
        return [Fault(place, problem.rule, problem.value, problem.cure)]
    except RangeError as problem:
        return [Fault(place, str(problem), "", f"{entry.what}; give a value in that range")]
    except GeneratorError as problem:
        return [Fault(place, str(problem), "", entry.what)]
    return []


def _rows(entry: Input, text: str) -> tuple[tuple[Any, ...], ...]:
    """Rows parted by semicolons, cells by commas; fields left out at the end of a row take their default."""
    if len(text) > LONGEST_ROWS:
        reject(f"at most {LONGEST_ROWS} characters are read", repr(text[:37] + "..."), "shorten it")
    rows = [row for row in text.split(";") if row.strip()]
    if not 1 <= len(rows) <= MOST_ROWS:
        shown = repr(text[:40])
        reject(f"1 to {MOST_ROWS} rows are wanted, parted by semicolons", shown, _row_pattern(entry))
    return tuple(_row(entry, row) for row in rows)


def _row(entry: Input, text: str) -> tuple[Any, ...]:
    cells = [cell.strip() for cell in text.split(",")]
    least = sum(one.required for one in entry.fields)
    if not least <= len(cells) <= len(entry.fields):
        reject("the row has too few or too many cells", repr(text.strip()[:40]), _row_pattern(entry))
    read = [_single(one, cell) for one, cell in zip(entry.fields, cells, strict=False)]
    return (*read, *(one.default for one in entry.fields[len(cells) :]))


def _row_pattern(entry: Input) -> str:
    return f"write each row as: {', '.join(one.name for one in entry.fields)}; rows parted by semicolons"


def _single(entry: Input, text: str) -> Value:
    shown = repr(text[:40])
    if entry.kind in ("text", "file", "choice", "yes or no"):
        word = text.strip()
        longest = LONGEST_PATH if entry.kind == "file" else LONGEST_WORD
        choices = ("yes", "no") if entry.kind == "yes or no" else entry.choices
        if not word or len(word) > longest or (choices and word not in choices):
            wanted = ", ".join(choices) or f"a word of at most {longest} characters"
            reject("this is none of the words wanted", shown, f"write {wanted}")
        return word == "yes" if entry.kind == "yes or no" else word
    value = read_amount(text, "number" if entry.kind == "whole" else entry.kind, entry.unit)
    if entry.kind == "whole" and value != int(value):
        reject("a whole number is wanted", shown, "write it without a fraction")
    need(entry.name, value, entry.unit, least=entry.least, most=entry.most, above=entry.above, below=entry.below)
    return value


def _used(entry: Input, value: Any, *, given_by_user: bool) -> dict[str, Any]:
    held: dict[str, Any] = {"value": _plain(value), "unit": entry.unit, "given": given_by_user}
    if entry.kind == "rows":
        held["value"] = [
            {one.name: {"value": cell, "unit": one.unit} for one, cell in zip(entry.fields, row, strict=True)}
            for row in value
        ]
    return held


def _plain(value: Any) -> Any:
    return float(value) + 0.0 if isinstance(value, float) else value


def _like(asked: str, known: Iterable[str]) -> str:
    close = get_close_matches(asked[:40], list(known), n=1, cutoff=0.4)
    return f"; nearest: {close[0]}" if close else ""
