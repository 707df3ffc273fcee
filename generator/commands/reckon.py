"""The shop calculations on the command line: the list, what one takes, or its results."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from shlex import quote
from textwrap import wrap
from typing import Any

from generator.errors import Fault, InputError
from generator.reckoning.registry import Input, Reckoning, Result, find, names, run

__all__ = ["reckon"]

_ONE_OF = ("choice", "yes or no")


def reckon(what: str | None, pairs: Sequence[str], width: int, *, as_json: bool = False) -> Iterator[str]:
    """The lines to print: all calculations, the inputs of one, or its results.

    Raises: GeneratorError for bad input.
    """
    if what is None:
        yield from _all_lines(width, as_json)
    elif not pairs:
        described = find(what)
        if as_json:
            yield _json(_description(described))
        else:
            yield from _about_lines(described, width)
    else:
        result = run(what, _texts(what, pairs))
        if as_json:
            yield _json(result.as_data())
        else:
            yield from _result_lines(find(what), result, width)


def _texts(what: str, pairs: Sequence[str]) -> dict[str, str]:
    """The words key=value as a mapping.

    Raises: InputError with every word that is none, and every key given twice.
    """
    texts: dict[str, str] = {}
    faults = []
    for pair in pairs:
        key, mark, value = pair.partition("=")
        key = key.strip()
        if not mark:
            cure = "write key=value, in quotes where it holds a blank"
            faults.append(Fault(what, "this is no key=value", repr(pair[:40]), cure))
        elif key in texts:
            faults.append(Fault(f"{what}, {key}", "is given twice", repr(value[:40]), "give it once"))
        else:
            texts[key] = value
    if faults:
        raise InputError(faults)
    return texts


def _all_lines(width: int, as_json: bool) -> Iterator[str]:
    every = [find(name) for name in names()]
    if as_json:
        yield _json([_description(one) for one in every])
        return
    for one in every:
        yield from wrap(f"{one.name}: {one.summary}", width)
        taken = ", ".join(f"{entry.name}{f' ({entry.unit})' if entry.unit else ''}" for entry in one.inputs)
        given = ", ".join(f"{entry.name}{f' ({entry.unit})' if entry.unit else ''}" for entry in one.outputs)
        yield from wrap(taken, width, initial_indent="  takes ", subsequent_indent="    ")
        yield from wrap(given, width, initial_indent="  gives ", subsequent_indent="    ")


def _about_lines(one: Reckoning, width: int) -> Iterator[str]:
    yield from wrap(f"{one.name}: {one.summary}", width)
    yield "takes"
    longest = max(len(entry.name) for entry in one.inputs)
    for entry in one.inputs:
        yield from wrap(
            f"{entry.name:<{longest}}  {_input_text(entry)}", width, initial_indent="  ",
            subsequent_indent=" " * (longest + 4), break_on_hyphens=False,
        )
    yield "gives"
    longest = max(len(output.name) for output in one.outputs)
    for output in one.outputs:
        unit = f" [{output.unit}]" if output.unit else ""
        yield from wrap(
            f"{output.name:<{longest}}  {output.what}{unit}", width, initial_indent="  ",
            subsequent_indent=" " * (longest + 4),
        )
    example = " ".join(f"{key}={quote(value)}" for key, value in one.example.items())
    yield f"example: tailstock reckon {one.name} {example}"
    yield from wrap(f"source: {one.source}", width, subsequent_indent="  ")
    yield from wrap(f"validity: {one.validity}", width, subsequent_indent="  ")


def _input_text(entry: Input) -> str:
    parts = [entry.what]
    if entry.kind == "rows":
        cells = ", ".join(f"{one.name}{f' [{one.unit}]' if one.unit else ''}" for one in entry.fields)
        parts.append(f"rows parted by semicolons, each: {cells}")
    elif entry.kind in _ONE_OF:
        parts.append(f"one of: {', '.join(entry.choices or ('yes', 'no'))}")
    elif entry.unit:
        parts.append(f"[{entry.unit}]")
    elif entry.kind in ("number", "whole"):
        parts.append("[a number]")
    if entry.required:
        parts.append("must be given")
    elif entry.default is not None:
        parts.append(f"default {_shown(entry.default)}")
    return "; ".join(parts)


def _result_lines(one: Reckoning, result: Result, width: int) -> Iterator[str]:
    taken = [
        f"{name} {_shown(held['value'])} {held['unit']}".rstrip() + ("" if held["given"] else " (default)")
        for name, held in result.inputs.items()
        if held["given"] or held["value"]
    ]
    yield from wrap(f"{one.name}: {one.summary}", width)
    yield from wrap(", ".join(taken), width, initial_indent="from ", subsequent_indent="  ")
    meaning = {output.name: output.what for output in one.outputs}
    longest = max((len(name) for name in result.results), default=0)
    for name, held in result.results.items():
        text = f"{_shown(held['value'])} {held['unit']}".rstrip()
        yield from wrap(
            f"{name:<{longest}}  {text}  ({meaning[name]})", width, initial_indent="  ",
            subsequent_indent=" " * (longest + 4), break_on_hyphens=False,
        )
    yield from wrap(f"source: {result.source}", width, subsequent_indent="  ")
    yield from wrap(f"validity: {result.validity}", width, subsequent_indent="  ")


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return "; ".join(", ".join(_cell(cell) for cell in row.values() if cell["value"] is not None) for row in value)
    if isinstance(value, float):
        return f"{value:.0f}" if abs(value) >= 1e5 else f"{value:.5g}"
    return str(value)


def _cell(cell: Mapping[str, Any]) -> str:
    return f"{_shown(cell['value'])} {cell['unit']}".rstrip()


def _description(one: Reckoning) -> dict[str, Any]:
    return {
        "reckoning": one.name,
        "summary": one.summary,
        "inputs": {entry.name: _input_data(entry) for entry in one.inputs},
        "results": {output.name: {"unit": output.unit, "what": output.what} for output in one.outputs},
        "example": dict(one.example),
        "source": one.source,
        "validity": one.validity,
    }


def _input_data(entry: Input) -> Mapping[str, Any]:
    data: dict[str, Any] = {
        "what": entry.what, "kind": entry.kind, "unit": entry.unit, "required": entry.required,
        "default": entry.default, "least": entry.least, "more_than": entry.above, "most": entry.most,
        "less_than": entry.below, "choices": list(entry.choices),
    }
    if entry.fields:
        data["fields"] = {one.name: _input_data(one) for one in entry.fields}
    return {key: value for key, value in data.items() if value not in (None, [])}


def _json(data: Any) -> str:
    return json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False)
