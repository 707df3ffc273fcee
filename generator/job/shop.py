"""The shop file: what stands on the bench and lies in the drawer, so that a job need not say it again.

A shop file fills in what a job is silent about and never overrules it: words for the sheet, the tailstock's own sizes,
measured sizes of a ring, the one bar on the shelf. What it could not apply is told as a note.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any, Literal

from pydantic import BaseModel, Field, ValidationError, model_validator

from generator.errors import Fault, InputError
from generator.job.faults import faults_of, in_file_order, model_at, shown
from generator.job.toml_text import TomlText, read_file, read_text
from generator.parameters.fields import ForceN, JobModel, LengthMm, SheetWords, Word
from generator.tables import OwnRing

__all__ = ["Filled", "Shop", "ShopFile", "fill_in", "own_rings", "read_shop"]


class Machine(JobModel):
    """The tailstock."""

    name: Word | None = Field(default=None, description="which lathe")
    taper: Word | None = Field(default=None, description='taper of the tailstock quill, "Morse 0" to "Morse 6"')
    ejector_depth: LengthMm | None = Field(default=None, description="quill face to screw nose, quill wound right in")
    ejector_nose_diameter: LengthMm | None = Field(default=None, description="diameter of the screw nose")
    quill_face_diameter: LengthMm | None = Field(default=None, description="outside diameter of the quill")


class ShelfBar(JobModel):
    """A bar on the shelf."""

    diameter: LengthMm = Field(description="diameter by micrometer or as ordered")
    length: LengthMm | None = Field(default=None, description="length that is left")
    material: Word | None = Field(default=None, description="steel, if known")


class DrawerRing(JobModel):
    """A bearing in the drawer: readings of a known one, or one of no table with all its sizes."""

    ring: Word = Field(description="designation of the bearing, with suffixes, or a name of your own")
    bore: LengthMm | None = Field(default=None, description="bore of a bearing that no table has")
    outside: LengthMm | None = Field(default=None, description="its outside diameter")
    width: LengthMm | None = Field(default=None, description="its width")
    chamfer: LengthMm | None = Field(default=None, description="its corner chamfer")
    inner_land: LengthMm | None = Field(default=None, description="outside diameter of its inner ring, by caliper")
    outer_land: LengthMm | None = Field(default=None, description="inside diameter of its outer ring, by caliper")
    dynamic_capacity: ForceN | None = Field(default=None, description="C as its maker states it")
    static_capacity: ForceN | None = Field(default=None, description="C0 as its maker states it")
    measured_width: LengthMm | None = Field(default=None, description="width by micrometer")
    measured_bore: LengthMm | None = Field(default=None, description="bore by gauge")
    measured_outside: LengthMm | None = Field(default=None, description="outside diameter by micrometer")

    @model_validator(mode="after")
    def _whole(self) -> DrawerRing:
        """A bearing of no table needs all three sizes, of which the outside must leave room for balls."""
        sizes = (self.bore, self.outside, self.width)
        if any(size is not None for size in sizes) and None in sizes:
            message = "a bearing of no table needs bore, outside and width|one is missing|measure all three"
            raise ValueError(message)
        if self.bore is not None and self.outside is not None and self.outside < self.bore + 4.0:
            message = (
                f"outside must leave room for balls round the bore|{self.outside:g} round {self.bore:g} mm|"
                "measure outside diameter and bore again"
            )
            raise ValueError(message)
        return self


class Shop(JobModel):
    """A shop file."""

    units: Literal["mm", "in"] = Field(default="mm", description='unit of bare numbers, "mm" or "in"')
    machine: Machine = Field(default_factory=lambda: Machine())
    sheet: SheetWords = Field(default_factory=lambda: SheetWords())
    bar: list[ShelfBar] = Field(default_factory=list, max_length=200, description="bars on the shelf")
    ring: list[DrawerRing] = Field(default_factory=list, max_length=500, description="bearings in the drawer")


@dataclass(frozen=True, slots=True)
class ShopFile:
    """A shop file that was read: its content and its text."""

    shop: Shop
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class Filled:
    """A job's data with the shop's words in it, which addresses came from the shop, and what could not be used."""

    data: dict[str, Any]
    from_shop: tuple[str, ...]
    notes: tuple[str, ...]


def read_shop(source: FilePath | str) -> ShopFile:
    """The shop file at a path, or in a text. Raises InputError with all its faults."""
    read = read_file(source, "shop file") if isinstance(source, FilePath) else read_text(source, "shop", "shop file")
    return ShopFile(_validated(read), read.text, read.source)


def own_rings(shop: Shop) -> tuple[OwnRing, ...]:
    """The drawer's bearings that no table has."""
    return tuple(
        OwnRing(
            held.ring, held.bore, held.outside, held.width, held.chamfer, held.inner_land, held.outer_land,
            held.dynamic_capacity, held.static_capacity,
        )
        for held in shop.ring
        if held.bore is not None and held.outside is not None and held.width is not None
    )


def _validated(read: TomlText) -> Shop:
    if "kind" in read.data:
        rule, cure = "this looks like a job file, not a shop file", "give it without --shop"
        raise InputError([Fault("the shop file", rule, f"kind {shown(read.data['kind'])}", cure)], read.source)
    unit = read.data.get("units", "mm")
    faults = list(read.faults)
    try:
        shop = Shop.model_validate(read.data, context={"unit": unit if unit in ("mm", "in") else "mm"})
    except ValidationError as problem:
        known = {fault.place for fault in faults}
        faults += [fault for fault in faults_of(problem, Shop, read.data, read.lines) if fault.place not in known]
    if faults:
        raise InputError(in_file_order(faults), read.source)
    return shop


def fill_in(data: Mapping[str, Any], params: type[BaseModel], shop: Shop) -> Filled:
    """The job's data with what the shop knows, wherever the job is silent and the kind has the key."""
    notes: list[str] = []
    offers: list[tuple[str, str, Any]] = [("sheet", key, value) for key, value in _given(shop.sheet)]
    offers += _machine_offers(data, shop.machine, notes)
    offers += _bar_offers(data, shop, notes)
    filled = {key: dict(value) if isinstance(value, dict) else value for key, value in data.items()}
    taken = []
    for table, key, value in offers:
        model = model_at(params, (table,))
        inside = filled.get(table, {})
        if model is None or key not in model.model_fields or not isinstance(inside, dict) or key in inside:
            continue
        filled[table] = {**inside, key: value}
        taken.append(f"{table}.{key}")
    taken += _fill_rings(filled, shop, notes)
    return Filled(filled, tuple(taken), tuple(notes))


def _given(model: BaseModel) -> Iterator[tuple[str, Any]]:
    """Keys with a value; lengths as text with their unit, so that they fit a job in either unit."""
    for key in type(model).model_fields:
        value = getattr(model, key)
        if value is not None:
            yield key, _with_unit(value) if isinstance(value, float) else value


def _with_unit(value_mm: float) -> str:
    return f"{value_mm:.9f}".rstrip("0").rstrip(".") + " mm"


def _machine_offers(data: Mapping[str, Any], machine: Machine, notes: list[str]) -> list[tuple[str, str, Any]]:
    socket = data.get("socket", {})
    wanted = socket.get("taper") if isinstance(socket, dict) else None
    if isinstance(wanted, str) and machine.taper is not None and _digits(wanted) != _digits(machine.taper):
        notes.append(f"machine of the shop file not used: it has {machine.taper}, the job wants {wanted}")
        return []
    return [("socket", key, value) for key, value in _given(machine) if key != "name"]


def _digits(text: str) -> str:
    return "".join(character for character in text if character.isdigit())


def _bar_offers(data: Mapping[str, Any], shop: Shop, notes: list[str]) -> list[tuple[str, str, Any]]:
    if not shop.bar or "bar" in data:
        return []
    if len(shop.bar) > 1:
        notes.append(f"bar: the shop file has {len(shop.bar)}; name one in the job, or the tool decides what to buy")
        return []
    return [("bar", key, value) for key, value in _given(shop.bar[0])]


def _fill_rings(filled: dict[str, Any], shop: Shop, notes: list[str]) -> list[str]:
    """Put the sizes of a measured ring into the one stack entry that asks for it."""
    stack = filled.get("stack")
    if not isinstance(stack, list) or not shop.ring:
        return []
    entries = [dict(entry) if isinstance(entry, dict) else entry for entry in stack]
    filled["stack"], taken = entries, []
    for position, entry in enumerate(entries):
        name = entry.get("ring") if isinstance(entry, dict) else None
        held = [ring for ring in shop.ring if ring.ring == name]
        asking = [other for other in entries if isinstance(other, dict) and other.get("ring") == name]
        if not held or any(key.startswith("measured_") for key in entry):
            continue
        if len(held) > 1 or len(asking) > 1 or entry.get("count", 1) != 1:
            notes.append(f"{name}: measured sizes not used, which ring goes where is open; write them in the job")
            continue
        for key, value in _given(held[0]):
            if key.startswith("measured_"):
                entry[key] = value
                taken.append(f"stack[{position}].{key}")
    return taken

