"""What the models found wrong with a file's data, each as one fault with place, line, rule, value and cure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, get_args, get_origin

from pydantic import BaseModel, ValidationError

from generator.errors import Fault
from generator.job.places import Path, address, line_of
from generator.parameters.fields import DOTS, short

__all__ = ["MISSING", "MOST_FAULTS", "faults_of", "in_file_order", "model_at", "models_in", "shown"]

MOST_FAULTS = 50
"""So many are told one by one; a file with more is a different file."""

MISSING = "is missing"
_BOUNDS = {"ge": "at least", "gt": "more than", "le": "at most", "lt": "less than"}
_TYPES = {
    "int_type": "a whole number", "int_from_float": "a whole number", "float_type": "a number",
    "bool_type": "true or false",
    "string_type": "a text in double quotes", "list_type": "a list", "tuple_type": "a list", "model_type": "a table",
    "model_attributes_type": "a table", "dict_type": "a table", "is_instance_of": "a table",
}


def faults_of(
    problem: ValidationError, model: type[BaseModel], data: Mapping[str, Any], lines: Mapping[Path, int]
) -> list[Fault]:
    """One fault for every place that the model refused."""
    found: dict[Path, Fault] = {}
    for error in problem.errors(include_url=False):
        if len(found) > MOST_FAULTS:
            break
        path = _real_path(error["loc"], data, missing=error["type"] == "missing")
        if path not in found or "|" in str(error.get("msg", "")):
            found[path] = _fault(error, path, model, lines)
    return list(found.values())


def in_file_order(faults: Sequence[Fault]) -> list[Fault]:
    """The faults by line, those without one last; beyond a screenful only their number."""
    ordered = sorted(faults, key=lambda fault: fault.line if fault.line is not None else 1_000_000)
    if len(ordered) <= MOST_FAULTS:
        return ordered
    left = Fault("the file", f"more than {MOST_FAULTS} faults; the others are not shown", "", "correct these first")
    return [*ordered[:MOST_FAULTS], left]


def shown(value: Any) -> str:
    """The value as it stands in the file, cut if it is long."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict | list | tuple):
        return f"a {'table' if isinstance(value, dict) else 'list'} of {len(value)}"
    return short(repr(value)) if isinstance(value, str) else short(str(value))


def _real_path(loc: Sequence[str | int], data: Any, missing: bool) -> Path:
    """The location without the names that the model library puts in for the branches of a union."""
    path: list[str | int] = []
    here = data
    for position, part in enumerate(loc):
        if _holds(here, part):
            here = here[part]
        elif not (missing and position == len(loc) - 1):
            continue
        path.append(part)
    return tuple(path)


def _holds(here: Any, part: str | int) -> bool:
    if isinstance(part, int):
        return isinstance(here, list | tuple) and part < len(here)
    return isinstance(here, dict) and part in here


def _fault(error: Any, path: Path, model: type[BaseModel], lines: Mapping[Path, int]) -> Fault:
    place = address(path) or "the file"
    line = line_of(place, lines) if path else None
    rule, value, cure = _words(error, path, model)
    return Fault(place, rule, value, cure, line)


def _words(error: Any, path: Path, model: type[BaseModel]) -> tuple[str, str, str]:
    kind, value = error["type"], shown(error.get("input"))
    if kind != "extra_forbidden" and error.get("input") == DOTS:
        return "the dots stand for a value that is not given", value, "write one in their place, or put the # back"
    if kind == "extra_forbidden":
        name, here = str(path[-1]), model_at(model, path[:-1])
        return "there is no such key here", shown(name), _nearest(name, here, model)
    if kind == "missing":
        return MISSING, "", _how_to_add(model_at(model, path[:-1]), str(path[-1]))
    if kind == "value_error":
        return _taken_apart(error["msg"].removeprefix("Value error, "), value)
    context = error.get("ctx", {})
    if kind == "literal_error":
        return f"must be {context['expected']}", value, "choose one of these"
    if kind in _TYPES:
        return f"must be {_TYPES[kind]}", value, _cure_of_type(kind)
    return _bounded(kind, context, value) or (str(error["msg"]), value, "correct the value")


def _taken_apart(message: str, value: str) -> tuple[str, str, str]:
    parts = message.split("|")
    if len(parts) == 3:
        return parts[0], parts[1], parts[2]
    if len(parts) > 3:  # the value found holds the mark itself
        return parts[0], "|".join(parts[1:-1]), parts[-1]
    return message, value, "correct the value"


def _bounded(kind: str, context: Mapping[str, Any], value: str) -> tuple[str, str, str] | None:
    for name, words in _BOUNDS.items():
        if name in context:
            return f"must be {words} {context[name]:g}", value, "correct the value"
    if kind.startswith("string_too"):
        limit, words = _length_limit(context)
        return f"must have {words} {limit} characters", value, "write a text of that length"
    if kind.startswith("too_"):
        limit, words = _length_limit(context)
        return f"must have {words} {limit} entries", value, "add or take away entries"
    if kind == "finite_number":
        return "must be a finite number", value, "write a figure"
    if kind == "string_pattern_mismatch":
        rule = "letters, digits, - and _ only, at most 40, beginning with a letter or digit"
        return rule, value, "choose another name"
    return None


def _length_limit(context: Mapping[str, Any]) -> tuple[int, str]:
    if "max_length" in context:
        return context["max_length"], "at most"
    return context.get("min_length", 1), "at least"


def _cure_of_type(kind: str) -> str:
    return {
        "int_type": "write a whole number without quotes",
        "int_from_float": "write a whole number without quotes",
        "string_type": 'put it in double quotes: "..."',
        "bool_type": "write true or false without quotes",
        "list_type": "begin each entry with a heading in double brackets: [[...]]",
        "tuple_type": "begin each entry with a heading in double brackets: [[...]]",
    }.get(kind, "begin it with a heading in brackets: [...]" if "table" in _TYPES[kind] else "correct the value")


def _nearest(name: str, here: type[BaseModel] | None, model: type[BaseModel]) -> str:
    from difflib import get_close_matches

    known = [] if here is None else list(here.model_fields)
    close = get_close_matches(name[:60].lower(), known, n=3, cutoff=0.6)
    elsewhere = [table for table in model.model_fields if name in _keys_of(model, table)]
    if close:
        other = f"; or it belongs in [{elsewhere[0]}]" if len(elsewhere) == 1 else ""
        return f"nearest known: {', '.join(close)}{other}"
    if elsewhere:
        return f"it belongs in [{elsewhere[0]}]"
    return f"known here: {', '.join(known)}" if known else "take it out"


def _keys_of(model: type[BaseModel], table: str) -> list[str]:
    inner = model_at(model, (table,))
    return [] if inner is None else list(inner.model_fields)


def _how_to_add(model: type[BaseModel] | None, name: str) -> str:
    field = None if model is None else model.model_fields.get(name)
    if field is None:
        return f"add {name}"
    if next(models_in(field.annotation), None) is not None:
        heading = f"[[{name}]]" if get_origin(field.annotation) in (list, tuple) else f"[{name}]"
        return f"add a table {heading}{f': {field.description}' if field.description else ''}"
    return f"add {name}{f': {field.description}' if field.description else ''}"


def model_at(model: type[BaseModel], path: Path) -> type[BaseModel] | None:
    """The model that governs the table at this path, None where there is none."""
    here: type[BaseModel] | None = model
    for part in path:
        if isinstance(part, int):
            continue
        field = None if here is None else here.model_fields.get(part)
        here = None if field is None else next(models_in(field.annotation), None)
    return here


def models_in(annotation: Any) -> Iterator[type[BaseModel]]:
    """The models that a field's annotation names, lists and alternatives looked into."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel) and not get_args(annotation):
        yield annotation
    else:
        for inner in get_args(annotation):
            yield from models_in(inner)
