"""What the title blocks of one design say: the user's words, stock, mass, and what stands on every sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import ROUND_FLOOR, Decimal
from functools import cache
from importlib import metadata
from typing import Literal

from generator import tables
from generator.checks.verdict import BY_DEFAULT, unchecked
from generator.conversion import clean_mm, converted
from generator.description import Part, Tool, parts_list, volume_mm3
from generator.drawing.labels import DIAMETER
from generator.drawing.manner import Manner, manner_of
from generator.drawing.sheet import Revision, TitleBlock
from generator.errors import TableError
from generator.job.design import Design
from generator.making.stock import StockRow
from generator.units import inch_fraction

__all__ = ["arrangement_block", "assembly_block", "is_assembled", "manner_for", "part_block", "stock_texts"]

_GENERAL_CLASS = "m"
_GENERAL_TOLERANCE = f"ISO 2768-1 {_GENERAL_CLASS}"
_FINISH_RA_UM = 3.2
_EDGE_MM = 0.3
"""Usual general notes for turned steel. Common practice, no source."""
_LONGEST_GENERAL_MM = 400.0
_STEEL_G_CM3 = 7.85
_KG_PER_LB = 0.45359237
# A size under the general tolerance is printed to .001 in; half of that is kept back from each deviation.
_INCH_STEP = Decimal("0.001")


def manner_for(design: Design) -> Manner:
    """How figures and words are printed on this design's sheets."""
    words = design.job.params.sheet
    usual: Literal["point", "comma"] = "comma" if words.language == "de" else "point"
    return manner_of(words.units or design.job.unit, words.decimal or usual, words.language or "en")


def arrangement_block(design: Design) -> TitleBlock:
    """The title block of the general arrangement."""
    return _whole_block(design, manner_for(design).words.general_arrangement, 1, "")


def assembly_block(design: Design) -> TitleBlock:
    """The title block of the assembly sheet, which follows the arrangement."""
    return _whole_block(design, manner_for(design).words.assembly, 2, "-0")


def is_assembled(tool: Tool) -> bool:
    """True for a tool of more than one piece: it has an assembly sheet."""
    return sum(row.quantity for row in parts_list(tool)) > 1


def _whole_block(design: Design, document: str, sheet: int, suffix: str) -> TitleBlock:
    parts = {name for row in parts_list(design.tool) for name in row.parts}
    mass = sum(_mass_kg(part) for name, part in design.tool.parts.items() if name in parts)
    words = manner_for(design).words
    title = design.job.params.title or words.phrase(design.tool.title)
    return _block(design, title, document, sheet, suffix, words.see_parts_list, words.see_parts_list, mass)


def part_block(design: Design, part: Part, stock: Iterable[StockRow]) -> TitleBlock:
    """The title block of one made part's sheet; sheets follow in the order of the tool's parts."""
    number = next(row.number for row in parts_list(design.tool) if part.name in row.parts)
    sheet = [made.name for made in design.tool.made].index(part.name) + 2 + is_assembled(design.tool)
    words = manner_for(design).words
    blank = stock_texts(stock, manner_for(design)).get(part.name, words.not_stated)
    return _block(
        design, words.phrase(part.title), words.part_drawing, sheet, f"-{number}", part.material or words.not_stated,
        blank, _mass_kg(part),
    )


def stock_texts(stock: Iterable[StockRow], manner: Manner) -> Mapping[str, str]:
    """Bar and cut length by part name, rounded up: the plan needs that much."""
    return {
        row.part: f"{DIAMETER}{_bar(row.bar_mm, manner)} x {manner.length_up(row.cut_mm, 0)} {manner.unit}"
        for row in stock
    }


def _bar(bar_mm: float, manner: Manner) -> str:
    """The bar's diameter without its unit; in inches as the stockist sells it, the decimals behind it."""
    said = inch_fraction(bar_mm) if manner.unit == "in" else ""
    figure = manner.length_up(bar_mm)
    return f"{said} ({figure})" if said else figure


def _block(
    design: Design, title: str, document: str, sheet: int, suffix: str, material: str, stock: str, mass_kg: float
) -> TitleBlock:
    given, manner = design.job.params.sheet, manner_for(design)
    words = manner.words
    stops = [manner.prose(words.phrase(finding.title)) for finding in design.findings if finding.severity == "stop"]
    return TitleBlock(
        owner=given.owner or words.not_stated,
        number=f"{given.number or design.job.name}{suffix}",
        title=title,
        date=given.date or words.not_issued,
        sheet=f"{sheet}/{len(design.tool.made) + 1 + is_assembled(design.tool)}",
        created=given.drawn_by or words.not_stated,
        approved=given.approved_by or words.not_approved,
        document_type=document,
        material=material,
        stock=stock,
        mass=_mass_text(mass_kg, manner),
        scale="1:1",
        general_tolerance=_GENERAL_TOLERANCE,
        finish=words.unless_shown.format(value=_finish_text(manner)),
        edges=_edges_text(manner),
        projection=given.projection or "first angle",
        notes=tuple(_notes(design, manner, stops)),
        manner=manner,
        revisions=tuple(Revision(row.letter, row.change, row.date, row.by) for row in given.revision),
        mark=words.unsolved_mark.format(count=len(stops)) if stops else "",
        made_with=words.made_with.format(program=_program(), job=design.job.name),
    )


@cache
def _program() -> str:
    """Name and version of this program."""
    try:
        return f"tailstock {metadata.version('tailstock')}"
    except metadata.PackageNotFoundError:
        return "tailstock"


def _notes(design: Design, manner: Manner, stops: list[str]) -> Iterator[str]:
    """What must stand on every sheet in words: unsolved stops first, then which unit governs."""
    words = manner.words
    if stops:
        yield words.unsolved.format(count=len(stops), what="; ".join(stops))
    said, marked, names = unchecked(design.findings).partition(f" {BY_DEFAULT} ")
    told = ", ".join(words.name(name) for name in names.removesuffix(".").split(", "))
    yield words.phrase(said) + (f" {words.phrase(BY_DEFAULT)} {told}." if marked else "")
    if manner.units == "mm [in]":
        yield words.mm_govern
    if manner.unit == "in":
        yield words.inches_only if manner.other is None else words.inches_govern
        yield words.general_in_inches.format(name=_GENERAL_TOLERANCE, bands=", ".join(_bands(manner)))


def _bands(manner: Manner) -> Iterator[str]:
    """The general tolerance in inches, band by band, so that no rounded size may leave its limits in mm.

    A step is kept back from each deviation, half for the rounding of the size and half for its own.
    """
    told: dict[Decimal, Decimal] = {}
    for row in tables.load("general_tolerances").rows:
        largest = row.number("incl_mm")
        if row.text("class_letter") == _GENERAL_CLASS and largest <= _LONGEST_GENERAL_MM:
            deviation = converted(clean_mm(row.number("deviation_mm")), "in") - _INCH_STEP / 2
            rounded = deviation.quantize(_INCH_STEP, rounding=ROUND_FLOOR)
            told[rounded] = converted(clean_mm(largest), "in").quantize(_INCH_STEP, rounding=ROUND_FLOOR)
    for rounded, size in told.items():
        yield manner.words.band.format(size=manner.kept(size, 3), deviation=manner.kept(rounded, 3))


def _finish_text(manner: Manner) -> str:
    unit = " µin" if manner.unit == "in" else ""
    return f"Ra {manner.roughness(_FINISH_RA_UM)}{unit}"


def _edges_text(manner: Manner) -> str:
    edge = clean_mm(_EDGE_MM)
    if manner.unit == "in":
        edge = converted(edge, "in").quantize(_INCH_STEP, rounding=ROUND_FLOOR)
    figure = manner.kept(edge, 3) if manner.unit == "in" else manner.written(edge, 2)
    return manner.words.edges_value.format(outside=f"-{figure}", inside=f"+{figure}")


def _mass_kg(part: Part) -> float:
    """Mass at nominal sizes; cross features are left on."""
    try:
        density = tables.material(part.material).density_g_cm3 if part.material else None
    except TableError:
        density = None
    return volume_mm3(part) * (density or _STEEL_G_CM3) * 1e-6


def _grams(mass_kg: float) -> str:
    return f"{mass_kg * 1000:.0f} g" if mass_kg >= 0.0005 else "< 1 g"


def _mass_text(mass_kg: float, manner: Manner) -> str:
    if manner.unit == "in":
        text = f"{mass_kg / _KG_PER_LB:.2f} lb"
    else:
        text = f"{mass_kg:.2f} kg" if mass_kg >= 0.095 else _grams(mass_kg)
    return manner.marked(text)
