"""What the figures of a shop file may be: field types with bounds, "none" for what a shop does not have, names."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, NoReturn

from pydantic import AfterValidator, BeforeValidator, Field, WrapValidator

from generator.errors import InputError, TableError
from generator.fittings.shank import morse_number
from generator.parameters.bounds import between
from generator.parameters.fields import AngleDeg, LengthMm, SignedLengthMm, Word, short
from generator.reckoning.speed import speeds_of
from generator.tables import thread

__all__ = [
    "NONE", "Approach", "Attachment", "Away", "BarLength", "BarSize", "BedLength", "Capacity", "CentreHeight",
    "ChuckRunOut", "Division", "DivisionOrNone", "FurnaceHeat", "FurnaceLength", "InsertWidth", "Lead", "LeastBore",
    "MorseName", "Nose", "OutOfPost", "Plunge", "QuillLength", "QuillSize", "Resolution", "RingCorner", "RingSize",
    "RunOut", "SetOver", "ShankName", "ShankSize", "SpeedSet", "Speeds", "SpindleBore", "Steady", "ThreadName",
    "TipAhead", "TipBeside", "ToolLength", "ToolSize", "Trailing", "TurnOfCarriage", "WheelSize", "Width", "refuse",
]

NONE = "none"
"""Written for what the shop does not have; inside it is 0 mm, which no figure of something real may be."""

SLOWEST_RPM, FASTEST_RPM = 1.0, 30_000.0
"""No lathe turns slower or faster. Shop choice."""


def refuse(rule: str, value: str, cure: str) -> NoReturn:
    """Raise ValueError in the form in which the reader takes it apart again."""
    message = f"{rule}|{value}|{cure}"
    raise ValueError(message) from None


def _none_or(value: Any, read: Callable[[Any], float]) -> float:
    return 0.0 if value == NONE else read(value)


_NoneOr = WrapValidator(_none_or)
_LATHE = "no manual lathe has that"
_SLIP = "read it again, and check the unit"
_OR = f'{_LATHE}; "none" where there is none'

# Bounds are shop choices, far beyond what stands in a small shop: they refuse slips of the pen only.
QuillLength = Annotated[LengthMm, between(10.0, 500.0, _LATHE)]
QuillSize = Annotated[LengthMm, between(1.0, 200.0, _LATHE)]
Lead = Annotated[LengthMm, between(0.3, 20.0, _LATHE)]
WheelSize = Annotated[LengthMm, between(20.0, 600.0, _LATHE)]
CentreHeight = Annotated[LengthMm, between(25.0, 800.0, _LATHE)]
BedLength = Annotated[LengthMm, between(50.0, 10000.0, _LATHE)]
SpindleBore = Annotated[LengthMm, between(3.0, 300.0, _LATHE)]
TurnOfCarriage = Annotated[LengthMm, between(1.0, 300.0, _LATHE)]
Division = Annotated[LengthMm, between(0.0005, 1.0, _LATHE)]
DivisionOrNone = Annotated[LengthMm, between(0.0005, 5.0, _OR), _NoneOr]
SetOver = Annotated[LengthMm, between(0.5, 80.0, _OR), _NoneOr]
Attachment = Annotated[LengthMm, between(20.0, 2000.0, _OR), _NoneOr]
FurnaceLength = Annotated[LengthMm, between(20.0, 3000.0, _SLIP)]
Steady = Annotated[LengthMm, between(3.0, 600.0, _OR), _NoneOr]
RunOut = Annotated[LengthMm, between(0.0, 0.2, "more is damage, not run-out")]
ChuckRunOut = Annotated[LengthMm, between(0.0, 1.0, "more is damage, not run-out")]
Capacity = Annotated[LengthMm, between(1.0, 1000.0, _SLIP)]
Resolution = Annotated[LengthMm, between(0.0005, 0.1, _SLIP)]
ToolSize = Annotated[LengthMm, between(0.2, 100.0, _SLIP)]
LeastBore = Annotated[LengthMm, between(0.5, 300.0, _SLIP)]
ToolLength = Annotated[LengthMm, between(1.0, 1000.0, _SLIP)]
ShankSize = Annotated[LengthMm, between(3.0, 80.0, _SLIP)]
Nose = Annotated[LengthMm, between(0.0, 5.0, _SLIP)]
TipAhead = Annotated[LengthMm, between(0.0, 150.0, _SLIP)]
TipBeside = Annotated[SignedLengthMm, between(-60.0, 60.0, _SLIP)]
Width = Annotated[LengthMm, between(0.2, 30.0, _SLIP)]
Plunge = Annotated[LengthMm, between(0.3, 150.0, _SLIP)]
InsertWidth = Annotated[LengthMm, between(0.5, 60.0, _SLIP)]
OutOfPost = Annotated[LengthMm, between(3.0, 300.0, _SLIP)]
Approach = Annotated[AngleDeg, Field(le=120.0)]
Trailing = Annotated[AngleDeg, Field(le=85.0)]
Away = Annotated[LengthMm, between(0.0, 400.0, _SLIP)]
BarSize = Annotated[LengthMm, between(1.0, 500.0, _SLIP)]
BarLength = Annotated[LengthMm, between(1.0, 10000.0, _SLIP)]
RingSize = Annotated[LengthMm, between(0.3, 600.0, "no bearing at a tailstock has that")]
RingCorner = Annotated[LengthMm, between(0.0, 10.0, "no bearing at a tailstock has that")]


def _heat(value_c: float) -> float:
    """A temperature that a furnace or an oven in a shop reaches, in degrees Celsius."""
    if 100.0 <= value_c <= 1400.0:
        return value_c
    rule = "a furnace or oven reaches between 100 and 1400 °C"
    return refuse(rule, f"{value_c:g} °C", 'read its controller again, in degrees Celsius; "none" where there is none')


FurnaceHeat = Annotated[float, AfterValidator(_heat), _NoneOr]


def _morse(text: str) -> str:
    try:
        return f"Morse {morse_number(text)}"
    except InputError as problem:
        refuse(problem.faults[0].rule, problem.faults[0].value, 'write for example "Morse 3"')


def _shank(text: str) -> str:
    return "straight" if text.strip().casefold() == "straight" else _morse(text)


def _thread(text: str) -> str:
    try:
        return thread(text).name
    except TableError as problem:
        rule, _, cure = str(problem).partition("; ")
        refuse(rule, short(repr(text)), cure)


MorseName = Annotated[Word, AfterValidator(_morse)]
ShankName = Annotated[Word, AfterValidator(_shank)]
ThreadName = Annotated[Word, AfterValidator(_thread)]


@dataclass(frozen=True, slots=True)
class SpeedSet:
    """Spindle speeds in turns a minute, rising: every step, or the two ends of a range without steps."""

    speeds_rpm: tuple[float, ...]
    has_steps: bool


def _speeds(value: Any) -> SpeedSet:
    """Speeds from a list of numbers, or from a text as it stands on the machine's plate."""
    cure = 'write [70, 115, 190], or "50 to 1100" without steps'
    if isinstance(value, SpeedSet):
        return value
    if isinstance(value, str):
        try:
            found = SpeedSet(*speeds_of(value))
        except InputError as problem:
            refuse(problem.faults[0].rule, short(repr(value)), cure)
    elif isinstance(value, list | tuple) and value and all(_is_number(one) for one in value):
        found = SpeedSet(tuple(sorted({float(one) for one in value})), has_steps=True)
    else:
        refuse("the spindle's speeds are a list of numbers", short(repr(value)), cure)
    if len(found.speeds_rpm) > 100:
        refuse("a spindle has at most 100 speeds", f"{len(found.speeds_rpm)} speeds", cure)
    odd = [one for one in found.speeds_rpm if not SLOWEST_RPM <= one <= FASTEST_RPM]
    if odd:
        rule = f"a spindle turns between {SLOWEST_RPM:g} and {FASTEST_RPM:g} times a minute"
        refuse(rule, f"{odd[0]:g}", "read the plate again")
    if not found.has_steps and found.speeds_rpm[0] == found.speeds_rpm[-1]:
        refuse("a range has two different ends", short(repr(value)), cure)
    return found


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


Speeds = Annotated[Any, BeforeValidator(_speeds)]
