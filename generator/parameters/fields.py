"""Field types for the job file: plain floats inside (mm, degrees), unit-carrying text at the door.

Bare numbers are in the file's unit, which reaches the validators as context {"unit": "mm" or "in"}. A validator says
what is wrong as "rule|value|cure", which the reader takes apart again.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date as calendar_date
from functools import cache
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, ValidationInfo, model_validator
from pydantic.fields import FieldInfo

from generator.units import Kind, UnitError, read_quantity

__all__ = [
    "DOTS", "AngleDeg", "DateWord", "ForceN", "JobModel", "JobSheet", "LengthMm", "MassKg", "RevisionRow", "SheetWords",
    "SignedLengthMm", "SpeedRpm", "Word", "short", "unit_of",
]


class JobModel(BaseModel):
    """Base of every table of a job file: unknown keys are refused, values are never silently turned into others."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, allow_inf_nan=False)

    @model_validator(mode="before")
    @classmethod
    def _rows_as_tuples(cls, data: Any) -> Any:
        """TOML knows lists only; a field that holds a tuple may be written as one."""
        if not isinstance(data, dict):
            return data
        tuples = _tuple_fields(cls)
        return {
            key: tuple(value) if key in tuples and isinstance(value, list) else value for key, value in data.items()
        }


@cache
def _tuple_fields(model: type[BaseModel]) -> frozenset[str]:
    def holds_tuple(annotation: Any) -> bool:
        if get_origin(annotation) in (Union, UnionType):
            return any(holds_tuple(inner) for inner in get_args(annotation))
        return get_origin(annotation) is tuple

    return frozenset(name for name, field in model.model_fields.items() if holds_tuple(field.annotation))


def short(text: str, most: int = 40) -> str:
    """The text, cut with dots if it is longer than `most` characters."""
    return text if len(text) <= most else f"{text[: most - 3]}..."


def _reader(kind: Kind, *, signed: bool = False) -> Callable[[Any, ValidationInfo], float]:
    def read(value: Any, info: ValidationInfo) -> float:
        unit = (info.context or {}).get("unit", "mm")
        try:
            return read_quantity(value, kind, unit, signed=signed)
        except UnitError as error:
            message = f"{error.rule}|{error.value}|{error.cure}"
            raise ValueError(message) from error

    return read


DOTS = "..."
"""Stands in a new file for a value that nobody has given yet."""


def _printable(text: str) -> str:
    if text.strip() == DOTS:
        message = "the dots stand for a value that is not given|'...'|write one in their place, or put the # back"
        raise ValueError(message)
    if text.strip() and text.isprintable():
        return text
    message = f"is printed on the sheet: one line of letters, digits and signs|{short(repr(text))}|write plain words"
    raise ValueError(message)


def _day(text: str) -> str:
    try:
        if calendar_date.fromisoformat(text).isoformat() == text:
            return text
    except ValueError:
        pass
    message = f"a date is written year-month-day|{short(repr(text))}|write for example 2025-03-31"
    raise ValueError(message)


LengthMm = Annotated[float, BeforeValidator(_reader("length")), Field(json_schema_extra={"unit": "mm"})]
SignedLengthMm = Annotated[
    float, BeforeValidator(_reader("length", signed=True)), Field(json_schema_extra={"unit": "mm"})
]
AngleDeg = Annotated[float, BeforeValidator(_reader("angle")), Field(json_schema_extra={"unit": "deg"})]
ForceN = Annotated[float, BeforeValidator(_reader("force")), Field(json_schema_extra={"unit": "N"})]
MassKg = Annotated[float, BeforeValidator(_reader("mass")), Field(json_schema_extra={"unit": "kg"})]
SpeedRpm = Annotated[float, BeforeValidator(_reader("speed")), Field(json_schema_extra={"unit": "rpm"})]
Word = Annotated[str, Field(min_length=1, max_length=60), AfterValidator(_printable)]
DateWord = Annotated[str, AfterValidator(_day)]


def _letter(text: str) -> str:
    if text in _LETTERS:
        return text
    rule = "a revision has one capital letter, not I, O, Q, S, X or Z"
    message = f"{rule}|{short(repr(text))}|begin with A and go on in order"
    raise ValueError(message)


# Source: letters that are not mistaken for figures or crosses, drafting manuals at second hand.
_LETTERS = "ABCDEFGHJKLMNPRTUVWY"
RevisionLetter = Annotated[str, AfterValidator(_letter)]


class RevisionRow(JobModel):
    """A row of the revision table: what was changed since the sheet was first issued."""

    letter: RevisionLetter = Field(description="letter of the revision, A first")
    change: Word = Field(description="what was changed, the old value in words")
    date: DateWord = Field(description="date of the revision, yyyy-mm-dd")
    by: Word = Field(description="who changed it")


def _otherwise(value: str) -> dict[str, Any]:
    """What stands in place of a word that neither job nor shop file gives."""
    return {"otherwise": value}


class SheetWords(JobModel):
    """What stands in the title block, and how the sheets are drawn."""

    owner: Word | None = Field(default=None, description="legal owner of the drawing")
    number: Word | None = Field(default=None, description="drawing number; otherwise the name of the job")
    drawn_by: Word | None = Field(default=None, description="who drew it")
    approved_by: Word | None = Field(default=None, description="who approved it")
    date: DateWord | None = Field(default=None, description="date of issue, yyyy-mm-dd; never taken from the clock")
    projection: Literal["first angle", "third angle"] | None = Field(
        default=None, description='"first angle" or "third angle"', json_schema_extra=_otherwise("first angle")
    )
    units: Literal["mm", "in", "mm [in]", "in [mm]"] | None = Field(
        default=None,
        description='unit of the printed sizes: "mm", "in", "mm [in]" or "in [mm]"; otherwise the units of the job',
        json_schema_extra=_otherwise("{unit}"),
    )
    decimal: Literal["point", "comma"] | None = Field(
        default=None, description='decimal mark on the sheets, "point" or "comma"; otherwise that of the language',
        json_schema_extra=_otherwise("point"),
    )
    language: Literal["en", "de"] | None = Field(
        default=None, description='language of the fixed words on the sheets, "en" or "de"',
        json_schema_extra=_otherwise("en"),
    )
    dxf_version: Literal["R2013", "R12"] | None = Field(
        default=None, description='version of the DXF files, "R2013" or "R12"', json_schema_extra=_otherwise("R2013")
    )


class JobSheet(SheetWords):
    """What stands in the title block of this job, and how its sheets are drawn."""

    revision: list[RevisionRow] = Field(default_factory=list, max_length=20, description="what was changed since")

    @model_validator(mode="after")
    def _letters_in_order(self) -> JobSheet:
        given = "".join(row.letter for row in self.revision)
        if given == _LETTERS[: len(given)]:
            return self
        message = f"revisions are lettered in order from A|{given}|letter them {', '.join(_LETTERS[: len(given)])}"
        raise ValueError(message)


def unit_of(field: FieldInfo) -> str:
    """The unit of a field's number, "mm" or "deg", or empty."""
    return _unit_in(field.annotation) or _unit_in_metadata((field, *field.metadata))


def _unit_in(annotation: Any) -> str:
    if get_origin(annotation) is Annotated:
        return _unit_in_metadata(annotation.__metadata__)
    if get_origin(annotation) in (Union, UnionType):
        return next((found for inner in get_args(annotation) if (found := _unit_in(inner))), "")
    return ""


def _unit_in_metadata(metadata: Sequence[Any]) -> str:
    for item in metadata:
        extra = item.json_schema_extra if isinstance(item, FieldInfo) else None
        if isinstance(extra, dict) and "unit" in extra:
            return str(extra["unit"])
    return ""
