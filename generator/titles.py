"""What the title blocks of one design say: the user's words, stock, mass, and what stands on every sheet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from generator import tables
from generator.checks.verdict import unchecked
from generator.description import Part, Tool, parts_list, volume_mm3
from generator.drawing.sheet import TitleBlock
from generator.errors import TableError
from generator.job.design import Design
from generator.making.figures import Figures
from generator.making.stock import StockRow
from generator.units import FileUnit

__all__ = ["arrangement_block", "assembly_block", "is_assembled", "part_block", "stock_texts"]

_NONE = "-"
_NOT_ISSUED = "not issued"
_GENERAL_TOLERANCE = "ISO 2768-1 m"
_FINISH = "Ra 3.2 unless shown"
_EDGES = "ISO 13715: outside -0.3, inside +0.3"
"""Usual general notes for turned steel. Common practice, no source."""
_STEEL_G_CM3 = 7.85
_KG_PER_LB = 0.45359237


def arrangement_block(design: Design) -> TitleBlock:
    """The title block of the general arrangement."""
    return _whole_block(design, "General arrangement", 1, "")


def assembly_block(design: Design) -> TitleBlock:
    """The title block of the assembly sheet, which follows the arrangement."""
    return _whole_block(design, "Assembly", 2, "-0")


def is_assembled(tool: Tool) -> bool:
    """True for a tool of more than one piece: it has an assembly sheet."""
    return sum(row.quantity for row in parts_list(tool)) > 1


def _whole_block(design: Design, document: str, sheet: int, suffix: str) -> TitleBlock:
    parts = {name for row in parts_list(design.tool) for name in row.parts}
    mass = sum(_mass_kg(part) for name, part in design.tool.parts.items() if name in parts)
    return _block(
        design, design.job.params.title or design.tool.title, document, sheet, suffix, "see parts list",
        "see parts list", mass,
    )


def part_block(design: Design, part: Part, stock: Iterable[StockRow]) -> TitleBlock:
    """The title block of one made part's sheet; sheets follow in the order of the tool's parts."""
    number = next(row.number for row in parts_list(design.tool) if part.name in row.parts)
    sheet = [made.name for made in design.tool.made].index(part.name) + 2 + is_assembled(design.tool)
    blank = stock_texts(stock, design.job.unit).get(part.name, _NONE)
    return _block(
        design, part.title, "Part drawing", sheet, f"-{number}", part.material or _NONE, blank, _mass_kg(part)
    )


def stock_texts(stock: Iterable[StockRow], unit: FileUnit) -> Mapping[str, str]:
    """Bar and cut length by part name."""
    figures = Figures(unit)
    return {row.part: f"{figures.bare(row.bar_mm)} x {figures.length(row.cut_mm, 0)}" for row in stock}


def _block(
    design: Design, title: str, document: str, sheet: int, suffix: str, material: str, stock: str, mass_kg: float
) -> TitleBlock:
    words = design.job.params.sheet
    return TitleBlock(
        owner=words.owner or _NONE,
        number=f"{words.number or design.job.name}{suffix}",
        title=title,
        date=words.date or _NOT_ISSUED,
        sheet=f"{sheet}/{len(design.tool.made) + 1 + is_assembled(design.tool)}",
        created=words.drawn_by or _NONE,
        approved=words.approved_by or _NONE,
        document_type=document,
        material=material,
        stock=stock,
        mass=_mass_text(mass_kg, design.job.unit),
        scale=_NONE,
        general_tolerance=_GENERAL_TOLERANCE,
        finish=_FINISH,
        edges=_EDGES,
        notes=_notes(design),
    )


def _notes(design: Design) -> tuple[str, ...]:
    """What must stand on every sheet in words: unsolved stops first."""
    stops = [finding.title for finding in design.findings if finding.severity == "stop"]
    mark = (f"NOT TO BE MADE, {len(stops)} unsolved: {'; '.join(stops)}.",) if stops else ()
    return (*mark, unchecked(design.findings))


def _mass_kg(part: Part) -> float:
    """Mass at nominal sizes; cross features are left on."""
    try:
        density = tables.material(part.material).density_g_cm3 if part.material else None
    except TableError:
        density = None
    return volume_mm3(part) * (density or _STEEL_G_CM3) * 1e-6


def _mass_text(mass_kg: float, unit: FileUnit) -> str:
    if unit == "in":
        return f"{mass_kg / _KG_PER_LB:.2f} lb"
    return f"{mass_kg:.2f} kg" if mass_kg >= 0.095 else f"{mass_kg * 1000:.0f} g"
