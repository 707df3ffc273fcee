"""A new shop file as text: every key with what it means, off, showing what is taken as long as nobody gives it.

Taking every `#` away gives a sound shop file which describes that same workshop.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from generator import tables
from generator.job.faults import models_in
from generator.job.shop_kinds import NONE
from generator.job.shop_tables import Shop
from generator.job.toml_write import angle_text, length_text, value_text
from generator.job.workshop import workshop_from
from generator.making.usual import SLEEVE_RUN_OUT_MM, SOCKET_RUN_OUT_MM
from generator.making.workshop import BoringBar, Cutter, Dial, Workshop
from generator.parameters.fields import unit_of
from generator.units import FileUnit

__all__ = ["new_shop"]

_HEAD = """\
## Shop file: the lathe, what lies in its drawers, bars on the shelf, bearings in hand, your words on the sheet.
##
## As shop.toml beside a job it is found by itself, and so it is in the configuration folder (tailstock/shop.toml);
## elsewhere give it with --shop. It fills in what a job does not say and never overrules a job.
## Bare numbers are in the unit of the file; a text carries its own: "1 5/8 in", "3 thou", "0.02 mm".
##
## Lines that begin with ## are words. Those with one # are off: each shows what is taken meanwhile and why, and the
## plan marks what rests on it. Measure your own, write it in place of that value and take the # away.
## What comes in entries ([[chuck]], [[drill]] ...) stands for all there is of its kind as soon as one entry is on:
## take the # off every entry that you have, and strike out the others. An empty list right below the units says that
## there is none: reamer = []
"""
_EXAMPLE = "an example: there is no usual one"


class _Key(NamedTuple):
    """What stands for a key as long as it is off, and why."""

    value: Any
    why: str


_Table = Mapping[str, _Key]


def new_shop(unit: FileUnit = "mm") -> str:
    """The text of a shop file that says nothing yet, every key off with its present default."""
    at = workshop_from(Shop())
    plain, entries = _plain_tables(at, unit), _entry_tables(at)
    rows = [_HEAD, f"units = {value_text(unit)}\n"]
    for name, table in plain.items():
        model = next(models_in(Shop.model_fields[name].annotation))
        rows += ["\n", _note(model), f"[{name}]\n", *_lines(model, table, unit)]
    for name, shown in entries.items():
        model = next(models_in(Shop.model_fields[name].annotation))
        told: set[str] = set()
        for place, table in enumerate(shown):
            rows += ["\n", _note(model) if place == 0 else "", f"# [[{name}]]\n"]
            rows += _lines(model, table, unit, told)
            told |= set(table)
    return "".join(rows)


def _note(model: type[BaseModel]) -> str:
    return f"## {(model.__doc__ or '').strip().splitlines()[0]}\n"


def _lines(model: type[BaseModel], table: _Table, unit: FileUnit, told: Collection[str] = ()) -> Iterator[str]:
    """What a key means, unless an earlier entry told it, and the key with its value, off."""
    for key, field in model.model_fields.items():
        if key not in table:
            continue
        if key not in told:
            yield f"## {field.description}\n"
        held = table[key]
        yield f"# {key} = {_text(held.value, field, unit)}{f'   # {held.why}' if held.why else ''}\n"


def _text(value: Any, field: FieldInfo, unit: FileUnit) -> str:
    """A value as TOML; lengths in the unit of the file."""
    if isinstance(value, str | bool):
        return value_text(value)
    if isinstance(value, _Sizes):
        return f"[{', '.join(length_text(size, unit) for size in value)}]"
    if isinstance(value, Sequence):
        return value_text(value)
    if unit_of(field) == "mm":
        return length_text(float(value), unit)
    return angle_text(float(value)) if unit_of(field) == "deg" else value_text(value)


class _Sizes(tuple[float, ...]):
    """Lengths in mm that stand in one list."""

    __slots__ = ()


def _plain_tables(at: Workshop, unit: FileUnit) -> dict[str, _Table]:
    return {
        "machine": _machine(at), "dials": _dials(at),
        "headstock": {
            "taper": _of(at, "headstock_taper", f"Morse {at.headstock_taper}"),
            "bore": _of(at, "spindle_bore_mm"),
            "runout": _Key(SOCKET_RUN_OUT_MM, at.sources["sleeve_run_out_mm"]),
        },
        "measuring": {"indicator": _of(at, "indicator_mm"), "micrometer": _of(at, "micrometer_mm")},
        "making": {key: _of(at, key) for key in ("taper_method", "headstock_support", "tailstock_support")},
        "threads": {key: _of(at, key, list(getattr(at, key))) for key in ("taps", "dies")},
        "beside": {
            "milling": _of(at, "milling"), "grinding": _of(at, "wheel"),
            "furnace": _of(at, "furnace_c", _or_none(at.furnace_c)), "furnace_length": _of(at, "furnace_mm"),
        },
        "post": {key: _Key(size, _EXAMPLE) for key, size in _POST.items()},
        "sheet": {
            **{key: _Key(text, _EXAMPLE) for key, text in _WORDS.items()},
            "projection": _Key("first angle", ""), "units": _Key(unit, "otherwise the units of the job"),
            "decimal": _Key("point", ""), "language": _Key("en", ""), "dxf_version": _Key("R2013", ""),
        },
    }


# Invented, and marked as examples where they are printed.
_WORDS = {
    "owner": "Name of the owner", "number": "D-0001", "drawn_by": "A. Turner", "approved_by": "B. Fitter",
    "date": "2026-01-31",
}
_POST = {"reach": 40.0, "slide_reach": 60.0, "slide_behind": 50.0, "slide_below": 15.0}


def _of(at: Workshop, field: str, value: Any = None) -> _Key:
    """A field of the workshop with its source."""
    return _Key(getattr(at, field) if value is None else value, at.sources[field])


def _or_none(value: float | None) -> float | str:
    return NONE if value is None or value == 0 else value


def _machine(at: Workshop) -> _Table:
    usual, taper = tables.machine_defaults(at.tailstock_taper), tables.morse(at.tailstock_taper)
    ends = f"{at.speeds_rpm[0]:g} to {at.speeds_rpm[-1]:g}"
    return {
        "name": _Key("small lathe", _EXAMPLE),
        "taper": _of(at, "tailstock_taper", f"Morse {at.tailstock_taper}"),
        "ejector_depth": _Key(usual.ejector_depth_mm.usual, at.sources["quill_travel_mm"]),
        "ejector_nose_diameter": _Key(
            round(0.75 * taper.small_end_mm, 1), "three quarters of the shank's small end, no source"
        ),
        "quill_face_diameter": _of(at, "quill_mm"),
        "quill_travel": _of(at, "quill_travel_mm"),
        "screw_lead": _of(at, "screw_lead_mm"),
        "handwheel_diameter": _of(at, "handwheel_mm"),
        "centre_height": _of(at, "centre_height_mm"),
        "between_centres": _of(at, "between_centres_mm"),
        "speeds": _of(at, "speeds_rpm", list(at.speeds_rpm) if at.has_steps else ends),
        "top_slide_travel": _of(at, "top_slide_travel_mm"),
        "set_over": _of(at, "set_over_most_mm", _or_none(at.set_over_most_mm)),
        "set_over_lead": _of(at, "set_over_lead_mm"), "set_over_screws": _of(at, "set_over_screws"),
        "tail_centre": _of(at, "tail_centre"), "tail_centre_runout": _of(at, "tail_centre_run_out_mm"),
        "leadscrew": _of(at, "leadscrew"), "leadscrew_pitch": _of(at, "leadscrew_pitch_mm"),
        "taper_attachment": _of(at, "attachment_mm", _or_none(at.attachment_mm)),
        "steady": _of(at, "steady_most_mm", _or_none(at.steady_most_mm)),
    }


def _dials(at: Workshop) -> _Table:
    cross = at.cross_dial
    twice = 2.0 if cross.reads_diameter else 1.0
    found = {
        "cross_division": _of(at, "cross_dial", cross.division_mm * twice),
        "cross_turn": _of(at, "cross_dial", cross.turn_mm),
        "cross_reads": _of(at, "cross_dial", "diameter" if cross.reads_diameter else "radius"),
        "top_division": _of(at, "top_dial", at.top_dial.division_mm),
        "top_turn": _of(at, "top_dial", at.top_dial.turn_mm),
        "carriage_division": _of(at, "carriage_dial", _division(at.carriage_dial)),
        "quill_division": _of(at, "quill_dial", _division(at.quill_dial)),
    }
    turn = _Key(20.0, "an example, for a carriage with a dial") if at.carriage_dial is None else None
    return {**found, "carriage_turn": turn or _of(at, "carriage_dial", at.carriage_dial and at.carriage_dial.turn_mm)}


def _division(dial: Dial | None) -> float | str:
    return NONE if dial is None else dial.division_mm


def _entry_tables(at: Workshop) -> dict[str, Sequence[_Table]]:
    outside = max(at.headstock_taper, at.tailstock_taper + 1)
    reamers = [(one.diameter_mm, one.tolerance_class) for one in at.reamers]
    return {
        "sleeve": [_row(
            "an example, usual run-out", outside=f"Morse {outside}", inside=f"Morse {at.tailstock_taper}",
            runout=SLEEVE_RUN_OUT_MM,
        )],
        "chuck": [
            _row(at.sources["chucks"], kind=one.kind, most=one.most_mm, runout=one.run_out_mm) for one in at.chucks
        ],
        "drill": _drills(at),
        "reamer": [
            _row(at.sources["reamers"], sizes=_Sizes(mm for mm, other in reamers if other == of), tolerance_class=of)
            for of in dict.fromkeys(of for _, of in reamers)
        ],
        "cutter": _cutters(at),
        "boring_bar": [_boring_bar(one, at.sources["boring_bars"]) for one in at.boring_bars],
        "bar": [_row(_EXAMPLE, diameter=45.0, length=400.0, material="C45")],
        "ring": [_row(_EXAMPLE, **_RING)],
    }  # fmt: skip


# Invented: a bearing of no table, every key of it.
_RING = {
    "ring": "drawer A", "bore": 16.0, "outside": 36.0, "width": 11.0, "chamfer": 0.6, "inner_land": 21.5,
    "outer_land": 30.5, "dynamic_capacity": "5.2 kN", "static_capacity": "2.6 kN", "measured_width": 10.98,
    "measured_bore": 15.997, "measured_outside": 35.995,
}


def _row(why: str, **values: Any) -> _Table:
    """An entry, the reason beside its first key only."""
    return {key: _Key(value, why if place == 0 else "") for place, (key, value) in enumerate(values.items())}


def _drills(at: Workshop) -> list[_Table]:
    """The usual drills by their shank, with the standard's lengths, and how a longer one is told."""
    straight = _Sizes(one.diameter_mm for one in at.drills if one.shank == "straight")
    taper = _Sizes(one.diameter_mm for one in at.drills if one.shank != "straight")
    why = at.sources["drills"]
    sizes: dict[str, Any] = {"sizes": _Sizes((10.0,)), "flute": 121.0, "overall": 184.0}
    long = _row("an example: a long drill, DIN 340", **sizes, shank="straight")
    return [_row(why, sizes=straight), _row(why, sizes=taper), long]


def _cutters(at: Workshop) -> list[_Table]:
    """The usual turning tools; the first one shows the keys of its holder too."""
    why = at.sources["cutters"]
    first = at.cutters[0]
    holder = {"holder_width": first.shank_mm, "out": 1.5 * first.shank_mm, "insert_width": 8.0}
    return [_cutter(first, why, holder), *(_cutter(one, why, {}) for one in at.cutters[1:])]


def _cutter(one: Cutter, why: str, holder: Mapping[str, float]) -> _Table:
    values: dict[str, Any] = {
        "name": one.name, "work": one.work, "material": one.material, "shank": one.shank_mm, "nose": one.nose_mm,
        "approach": one.approach_deg, "trailing": one.trailing_deg, "tip_ahead": one.tip_ahead_mm,
        "tip_beside": one.tip_beside_mm,
    }
    if one.width_mm:
        values |= {"width": one.width_mm, "reach": one.reach_mm}
    shown = dict(_row(why, **values, **holder))
    if "insert_width" in shown:
        shown["insert_width"] = _Key(holder["insert_width"], "an example")
    return shown


def _boring_bar(one: BoringBar, why: str) -> _Table:
    values: dict[str, Any] = {"bar": one.bar_mm, "least_bore": one.least_bore_mm, "reach": one.reach_mm}
    return _row(why, **values, carbide=one.carbide)
