"""A new job file as text: live lines for what the user decided, a commented line for everything that follows.

A commented line holds the present value and its rule; taking away the `#` fixes that value. What is written here is
accepted by the reader and gives the same tool again.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from types import UnionType
from typing import Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from generator.description.choices import Choice
from generator.errors import Fault, InputError
from generator.job.design import choices_of
from generator.job.faults import models_in
from generator.job.reader import Job, read_data, read_job
from generator.job.shop import ShopFile
from generator.job.toml_text import TomlText, read_text
from generator.job.toml_write import angle_text, length_text, value_text
from generator.job.workshop import workshop_of
from generator.kinds import Kind, load_kind
from generator.parameters.base import JobBase
from generator.parameters.fields import DOTS, unit_of
from generator.parameters.making import Making
from generator.units import FileUnit, read_length

__all__ = ["NewJob", "new_job"]

_HEAD = """\
# {title}: {summary}
#
# Bare numbers are in the unit of the file; a text carries its own: "1 5/8 in", "3 thou", "0.02 mm", "60 deg".
# Lines that begin with # are off. Values there follow from the others by the rule beside them; take the # away to
# fix one. "tailstock check" says what it thinks of the result, "tailstock make" writes everything.
"""


@dataclass(frozen=True, slots=True)
class NewJob:
    """The text of a new job file, and keys of the earlier job that this kind does not have."""

    text: str
    left_out: tuple[str, ...] = ()


def new_job(
    kind_name: str, name: str, *, like: Job | None = None, unit: FileUnit | None = None, shop: ShopFile | None = None
) -> NewJob:
    """The text of a new job of this kind, given values taken from `like` or else from the kind's own example.

    Raises: InputError where the kind is unknown or the values given make no tool.
    """
    kind = load_kind(kind_name)
    read = read_text(kind.EXAMPLE, f"example of {kind_name}") if like is None else None
    old = dict(like.data) if like is not None else dict(read.data if read is not None else {})
    old_unit: FileUnit = "in" if old.get("units") == "in" else "mm"
    unit = old_unit if unit is None else unit
    left_out: list[str] = []
    data = _known_only(old, kind.Params, (), left_out)
    data = _converted(data, kind.Params, old_unit, unit)
    data |= {"kind": kind_name, "name": name, "units": unit}
    if like is not None and like.kind_name != kind_name:
        data = _completed(data, kind, unit)
    job = read_data(TomlText("", "the new job", data, {}), shop)
    text = _job_text(job, _shelf(shop, unit))
    _prove(text, job)
    return NewJob(text, tuple(left_out))


def _known_only(
    data: Mapping[str, Any], model: type[BaseModel], at: tuple[str, ...], left_out: list[str]
) -> dict[str, Any]:
    """The data without keys that the model has not; those are noted."""
    kept: dict[str, Any] = {}
    for key, value in data.items():
        if key not in model.model_fields:
            left_out.append(".".join((*at, key)))
            continue
        inner = next(models_in(model.model_fields[key].annotation), None)
        if isinstance(value, Mapping) and inner is not None:
            value = _known_only(value, inner, (*at, key), left_out)
        elif isinstance(value, list) and inner is not None:
            value = [_known_only(row, inner, (*at, key), left_out) for row in value]
        kept[key] = value
    return kept


def _completed(data: dict[str, Any], kind: Kind, unit: FileUnit) -> dict[str, Any]:
    """The data of another kind's job, with what this kind demands beyond it taken from its example, which is in mm."""
    example = _converted(read_text(kind.EXAMPLE, "example").data, kind.Params, "mm", unit)
    for key, value in example.items():
        if key not in data:
            data[key] = value
        elif isinstance(value, dict) and isinstance(data[key], dict):
            data[key] = {**value, **data[key]}
    return data


def _converted(data: dict[str, Any], model: type[BaseModel], old: FileUnit, new: FileUnit) -> dict[str, Any]:
    """The data with bare lengths in the new unit where they are round in it, otherwise as texts in the old one."""
    if old == new:
        return data
    out: dict[str, Any] = {}
    for key, value in data.items():
        field = model.model_fields[key]
        inner = next(models_in(field.annotation), None)
        if isinstance(value, dict) and inner is not None:
            out[key] = _converted(value, inner, old, new)
        elif isinstance(value, list) and inner is not None:
            out[key] = [_converted(row, inner, old, new) for row in value]
        elif isinstance(value, int | float) and not isinstance(value, bool) and unit_of(field) == "mm":
            out[key] = _in_other_unit(value, old, new)
        else:
            out[key] = value
    return out


def _in_other_unit(value: int | float, old: FileUnit, new: FileUnit) -> float | str:
    text = length_text(read_length(value, old), new)
    if text[0] != '"' and read_length(float(text), new) == read_length(value, old):
        return float(text)
    return f"{value!r} {old}"


def _prove(text: str, job: Job) -> None:
    """Read the text as a user's file would be; what is written must be what was meant."""
    again = replace(read_job(text, name="the new job"), shop=job.shop)
    if choices_of(again).values() != choices_of(job).values():
        rule = "the file written would not give the same tool"
        cure = "write the values that --like gives with fewer decimal places"
        raise InputError([Fault("the new job", rule, "", cure)])


def _shelf(shop: ShopFile | None, unit: FileUnit) -> list[str]:
    """The bars of the shop file as comments, in the unit of the job."""
    if shop is None or len(shop.shop.bar) < 2:
        return []
    shown = [(length_text(bar.diameter, unit), bar.material) for bar in shop.shop.bar]
    return [f"# on the shelf: {size}{f', {material}' if material else ''}\n" for size, material in shown]


def _job_text(job: Job, shelf: list[str]) -> str:
    kind, model = job.kind, job.kind.Params
    by_address = {**choices_of(job).parameters, **_making_choices(job)}
    parts = [_HEAD.format(title=kind.TITLE, summary=kind.SUMMARY), "\n"]
    data = job.data
    tables = [key for key, field in model.model_fields.items() if _holds_table(field)]
    plain = [key for key in model.model_fields if key not in tables]
    parts += _field_lines(model, data, by_address, "", job.unit, only=plain)
    # The words for the sheet come last: they decide nothing about the tool.
    for table in sorted(tables, key=lambda key: key in JobBase.model_fields):
        parts.append("\n")
        parts += shelf if table == "bar" else []
        parts += _table_lines(job, table, by_address)
    return "".join(parts)


def _making_choices(job: Job) -> dict[str, Choice]:
    """How the tool is made where the job does not say, as it follows from the shop."""
    at = workshop_of(job)
    return {
        f"making.{key}": Choice(f"making.{key}", getattr(at, key), "", at.sources[key], given=False)
        for key in Making.model_fields
    }


def _holds_table(field: FieldInfo) -> bool:
    return next(models_in(field.annotation), None) is not None


def _table_lines(job: Job, table: str, by_address: Mapping[str, Choice]) -> Iterator[str]:
    field = job.kind.Params.model_fields[table]
    model = next(models_in(field.annotation))
    value = job.data.get(table)
    yield _heading_note(model)
    if _is_list(field.annotation):
        rows = value or [None]
        for position, row in enumerate(rows):
            address = f"{table}[{position}]"
            yield f"{'' if row is not None else '# '}[[{table}]]\n" if position == 0 else f"\n[[{table}]]\n"
            # Keys that are off are shown once, not under every entry.
            only = None if position == 0 else [key for key in model.model_fields if key in row]
            yield from _field_lines(model, row or {}, by_address, address, job.unit, only, job.from_shop)
            yield from _between(table, rows[: position + 1], by_address, job.unit)
        return
    needs_more = any(inner.is_required() for inner in model.model_fields.values())
    off = value is None and (needs_more or (not field.is_required() and field.default is None))
    yield f"{'# ' if off else ''}[{table}]\n"
    inner = [key for key, inside in model.model_fields.items() if _holds_table(inside)]
    plain = [key for key in model.model_fields if key not in inner]
    yield from _field_lines(model, value or {}, by_address, table, job.unit, plain, job.from_shop)
    for key in inner:
        yield from _inner_rows(model.model_fields[key], f"{table}.{key}", (value or {}).get(key), job.unit)


def _inner_rows(
    field: FieldInfo, name: str, rows: Sequence[Mapping[str, Any]] | None, unit: FileUnit
) -> Iterator[str]:
    """The entries of a list within a table, or one that is off."""
    model = next(models_in(field.annotation))
    yield f"\n{_heading_note(model)}"
    if not rows:
        yield f"# [[{name}]]\n"
        yield from _field_lines(model, {}, {}, name, unit)
    for position, row in enumerate(rows or ()):
        yield f"[[{name}]]\n" if position == 0 else f"\n[[{name}]]\n"
        yield from _field_lines(model, row, {}, name, unit, list(row))


def _between(
    table: str, rows: Sequence[Mapping[str, Any] | None], by_address: Mapping[str, Choice], unit: FileUnit
) -> Iterator[str]:
    """An entry that was put in by rule behind the pieces listed so far ("stack.spacer_1"), commented out."""
    counted = [row.get("count", 1) for row in rows if row and "spacer" not in row]
    last = rows[-1]
    if last is None or "spacer" in last:
        return
    before, after = sum(counted[:-1]), sum(counted)
    for number in range(before + 1, after + 1):
        choice = by_address.get(f"{table}.spacer_{number}")
        if choice is not None and not choice.given:
            yield f"\n# [[{table}]]\n# spacer = {_choice_text(choice, unit)}   # {' '.join(choice.rule.split())}\n"


def _is_list(annotation: Any) -> bool:
    if get_origin(annotation) in (Union, UnionType):
        return any(_is_list(inner) for inner in get_args(annotation))
    return get_origin(annotation) in (list, tuple)


def _heading_note(model: type[BaseModel]) -> str:
    text = (model.__doc__ or "").strip().split("\n")[0]
    return f"# {text}\n" if text else ""


def _field_lines(
    model: type[BaseModel],
    data: Mapping[str, Any],
    by_address: Mapping[str, Choice],
    table: str,
    unit: FileUnit,
    only: Sequence[str] | None = None,
    from_shop: Sequence[str] = (),
) -> Iterator[str]:
    """Two lines a field: what it means, and the key, live where it is given."""
    for key, field in model.model_fields.items():
        if only is not None and key not in only:
            continue
        if field.description:
            yield f"# {field.description}\n"
        address = f"{table}.{key}" if table else key
        if key in data:
            given = _own_unit(data[key], field, unit) if address in from_shop else value_text(data[key])
            yield f"{key} = {given}{'   # from the shop file' if address in from_shop else ''}\n"
            continue
        choice = by_address.get(address)
        if choice is None:
            yield f"# {key} = {_default_text(field, unit)}\n"
        else:
            yield f"# {key} = {_choice_text(choice, unit)}   # {' '.join(choice.rule.split())}\n"


def _default_text(field: FieldInfo, unit: FileUnit) -> str:
    """What stands for a key that is off: its default, or what is printed where nobody says otherwise."""
    extra = field.json_schema_extra
    if isinstance(extra, dict) and "otherwise" in extra:
        return value_text(str(extra["otherwise"]).format(unit=unit))
    return value_text(DOTS) if field.is_required() or field.default is None else value_text(field.default)


def _own_unit(value: Any, field: FieldInfo, unit: FileUnit) -> str:
    """A length from the shop file, which comes as text in mm, in the unit of the job."""
    return length_text(read_length(value, unit), unit) if unit_of(field) == "mm" else value_text(value)


def _choice_text(choice: Choice, unit: FileUnit) -> str:
    if isinstance(choice.value, float | int) and not isinstance(choice.value, bool):
        if choice.unit == "mm":
            return length_text(float(choice.value), unit)
        if choice.unit == "deg":
            return angle_text(float(choice.value))
    return value_text(choice.value)
