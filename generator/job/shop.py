"""The shop file: what stands on the bench and lies in the drawer, so that a job need not say it again.

A shop file fills in what a job is silent about and never overrules it: words for the sheet, the tailstock's own sizes,
measured sizes of a ring, the one bar on the shelf, how tapers are cut. What it could not apply is told as a note. The
rest of it is the workshop in which the tool is made (`generator.job.workshop`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any

from pydantic import BaseModel, ValidationError

from generator.errors import Fault, InputError
from generator.job.faults import faults_of, in_file_order, model_at, shown
from generator.job.shop_tables import Machine, Shop
from generator.job.toml_text import TomlText, file_text, read_text
from generator.tables import OwnRing

__all__ = ["Filled", "ShopFile", "fill_in", "morse_digits", "own_rings", "read_shop"]


@dataclass(frozen=True, slots=True)
class ShopFile:
    """A shop file that was read: its content, its text, its name, and how it was found ("" where it was given)."""

    shop: Shop
    text: str
    source: str
    found: str = ""


@dataclass(frozen=True, slots=True)
class Filled:
    """A job's data with the shop's words in it, which addresses came from the shop, and what could not be used."""

    data: dict[str, Any]
    from_shop: tuple[str, ...]
    notes: tuple[str, ...]


def read_shop(source: FilePath | str, found: str = "") -> ShopFile:
    """The shop file at a path, or in a text; `found` says where it was met with, where nobody named it.

    Raises: InputError with all its faults.
    """
    name = "shop"
    if isinstance(source, FilePath):
        # One that nobody named is told with its whole path, or it would be looked for in vain.
        name, source = str(source) if found else source.name, file_text(source, "shop file")
    read = read_text(source, name, "shop file")
    return ShopFile(_validated(read, found), read.text, read.source, found)


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


def _validated(read: TomlText, found: str) -> Shop:
    if "kind" in read.data:
        rule = "this looks like a job file, not a shop file"
        cure = "call the job otherwise, or leave the shop out with --no-shop" if found else "give it without --shop"
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
    offers += [("making", key, value) for key, value in _given(shop.making)]
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


_SOCKET = ("taper", "ejector_depth", "ejector_nose_diameter", "quill_face_diameter")
_LOADS = ("screw_lead", "handwheel_diameter")


def _machine_offers(data: Mapping[str, Any], machine: Machine, notes: list[str]) -> list[tuple[str, str, Any]]:
    """What the tailstock gives to a job for the same taper."""
    socket = data.get("socket", {})
    wanted = socket.get("taper") if isinstance(socket, dict) else None
    if isinstance(wanted, str) and machine.taper is not None and morse_digits(wanted) != morse_digits(machine.taper):
        notes.append(f"tailstock of the shop file not used: it has {machine.taper}, the job wants {wanted}")
        return []
    given = dict(_given(machine))
    return [
        (table, key, given[key]) for table, keys in (("socket", _SOCKET), ("loads", _LOADS)) for key in keys
        if key in given
    ]


def morse_digits(text: str) -> str:
    """The digits of a taper's name, by which two names of one taper are alike."""
    return "".join(character for character in text if character.isdigit())


def _bar_offers(data: Mapping[str, Any], shop: Shop, notes: list[str]) -> list[tuple[str, str, Any]]:
    if not shop.bar or "bar" in data:
        return []
    if len(shop.bar) > 1:
        held = f"bar: the shop file has {len(shop.bar)}"
        notes.append(f"{held}; each part takes the slimmest that serves, unless the job names one")
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

