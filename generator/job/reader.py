"""A job file read: which kind, its parameters in mm and degrees, and every fault of the file in one error.

Nothing in the file is executed and no path in it is opened.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from importlib.resources import files
from pathlib import Path as FilePath
from typing import Any

from pydantic import BaseModel, ValidationError

from generator.errors import Fault, InputError
from generator.job.faults import MISSING, faults_of, in_file_order, model_at, shown
from generator.job.places import Path, line_of
from generator.job.shop import ShopFile, fill_in, own_rings
from generator.job.shop_tables import Shop
from generator.job.toml_text import TomlText, read_file, read_text
from generator.job.toml_write import value_text
from generator.kinds import Kind, load_kind
from generator.parameters.base import JobBase
from generator.parameters.fields import unit_of
from generator.tables import OwnRing
from generator.units import FileUnit

__all__ = ["Job", "find_job", "located", "read_job", "shipped_jobs"]

_SHOP_TABLES = set(Shop.model_fields) - set(JobBase.model_fields) - {"bar"}
_RING = re.compile(r"(\w+), ring (\d+)")


@dataclass(frozen=True)
class Job:
    """A job file that can be used: its kind, its parameters, and the text they came from."""

    kind: Kind
    params: Any
    text: str
    source: str
    unit: FileUnit
    data: Mapping[str, Any] = field(repr=False, default_factory=dict)
    lines: Mapping[Path, int] = field(repr=False, default_factory=dict)
    shop: ShopFile | None = None
    from_shop: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @cached_property
    def name(self) -> str:
        """Name of the tool, safe in file names."""
        return str(self.params.name)

    @cached_property
    def own_rings(self) -> tuple[OwnRing, ...]:
        """The drawer's bearings that no table has."""
        return () if self.shop is None else own_rings(self.shop.shop)

    @property
    def kind_name(self) -> str:
        """Name of the kind as it stands in the file."""
        return str(self.params.kind)


def shipped_jobs() -> list[str]:
    """Names of the jobs that come with the program."""
    return sorted(
        entry.name.removesuffix(".toml") for entry in files("generator.job").iterdir() if entry.name.endswith(".toml")
    )


def find_job(given: str) -> FilePath:
    """The file that a word on the command line means: a shipped job by its bare name, otherwise a path."""
    if given in shipped_jobs():
        return FilePath(str(files("generator.job").joinpath(f"{given}.toml")))
    return FilePath(given)


def read_job(source: FilePath | str, *, shop: ShopFile | None = None, name: str = "job") -> Job:
    """The job in the file at a path; a plain text is the job itself, called `name` in messages.

    Raises: InputError with all faults in file order.
    """
    read = read_file(source) if isinstance(source, FilePath) else read_text(source, name)
    return read_data(read, shop)


def read_data(read: TomlText, shop: ShopFile | None = None) -> Job:
    """The job in data that is already read; faults as in `read_job`."""
    if "kind" not in read.data and (_SHOP_TABLES & set(read.data)):
        rule, cure = "this looks like a shop file, not a job file", "give a job file, and this one with --shop"
        raise InputError([Fault("the file", rule, "", cure)], read.source)
    faults = list(read.faults)
    unit: FileUnit = "in" if read.data.get("units") == "in" else "mm"
    kind = _kind_of(read, faults)
    model: type[BaseModel] = JobBase if kind is None else kind.Params
    data: dict[str, Any] = dict(read.data)
    if kind is None:
        # Without its kind only what all kinds share can be judged.
        data = {key: value for key, value in data.items() if key in JobBase.model_fields} | {"kind": "unknown"}
    filled = None if shop is None or kind is None else fill_in(data, model, shop.shop)
    data = data if filled is None else filled.data
    params = _validated(model, data, unit, read, faults)
    if kind is not None and any(fault.rule == MISSING for fault in faults):
        faults = _with_examples(faults, kind, unit)
    if faults or kind is None or params is None:
        raise InputError(in_file_order(faults), read.source)
    job = Job(kind, params, read.text, read.source, unit, data, read.lines, shop)
    return job if filled is None else replace(job, from_shop=filled.from_shop, notes=filled.notes)


def located(problem: InputError, job: Job) -> InputError:
    """The same error with the job's source, and the line of every fault that names an address of the job file."""
    faults = [
        fault if fault.line is not None else replace(fault, line=line_of(_address_of(fault.place, job), job.lines))
        for fault in problem.faults
    ]
    return InputError(in_file_order(faults), problem.source or job.source)


def _address_of(place: str, job: Job) -> str:
    """The address of the entry that holds the ring of a place such as "stack, ring 2", rings counted one by one."""
    found = _RING.fullmatch(place)
    entries = job.data.get(found[1]) if found is not None else None
    if found is None or not isinstance(entries, list):
        return place
    rings = [position for position, entry in enumerate(entries) if "spacer" not in entry]
    counted = [position for position in rings for _ in range(entries[position].get("count", 1))]
    # A lone entry without a count stands for as many rings as the kind decides.
    entry = counted[min(int(found[2]), len(counted)) - 1] if counted else 0
    return f"{found[1]}[{entry}]"


def _kind_of(read: TomlText, faults: list[Fault]) -> Kind | None:
    line = read.line_of(("kind",))
    value = read.data.get("kind")
    try:
        if value is None:
            load_kind("")
        if not isinstance(value, str):
            rule, cure = "must be a text in double quotes", 'name a kind, for example kind = "revolving-centre"'
            raise InputError([Fault("kind", rule, shown(value), cure, line)])
        return load_kind(value, "kind", line)
    except InputError as problem:
        found = problem.faults[0]
        if value is None:
            found = replace(found, rule="is missing", value="", cure=f"add it; {found.cure}")
        faults.append(found)
        return None


def _with_examples(faults: list[Fault], kind: Kind, unit: FileUnit) -> list[Fault]:
    """The faults, where something is missing with the lines of the kind's example that give it."""
    example = read_text(kind.EXAMPLE, "example").data
    told = []
    for fault in faults:
        lines = _example_lines(fault.place, example, kind.Params, unit) if fault.rule == MISSING else ""
        told.append(replace(fault, cure=f"{fault.cure}; for example {lines}") if lines else fault)
    return told


def _example_lines(place: str, example: Mapping[str, Any], params: type[BaseModel], unit: FileUnit) -> str:
    """What stands at this place of the example, which is in mm, as words; empty where nothing does."""
    path = tuple(place.split("."))
    value: Any = example
    for name in path:
        value = value.get(name) if isinstance(value, Mapping) else None
    is_list = isinstance(value, list)
    value = value[0] if isinstance(value, list) and value else value
    if value is None:
        return ""
    if not isinstance(value, Mapping):
        return _example_line(path[-1], value, model_at(params, path[:-1]), unit)
    heading = f"[[{place}]]" if is_list else f"[{place}]"
    model = model_at(params, path)
    return f"{heading} and below it {', '.join(_example_line(key, one, model, unit) for key, one in value.items())}"


def _example_line(key: str, value: Any, model: type[BaseModel] | None, unit: FileUnit) -> str:
    field = None if model is None else model.model_fields.get(key)
    is_length = field is not None and isinstance(value, int | float) and unit_of(field) == "mm"
    return f"{key} = {value_text(f'{value} mm' if is_length and unit == 'in' else value)}"


def _validated(
    model: type[BaseModel], data: dict[str, Any], unit: FileUnit, read: TomlText, faults: list[Fault]
) -> Any:
    try:
        return model.model_validate(data, context={"unit": unit})
    except ValidationError as problem:
        known = {fault.place for fault in faults}
        faults += [fault for fault in faults_of(problem, model, data, read.lines) if fault.place not in known]
        return None
