"""What the shop holds: bars, centre holes, materials, and what lathes of a class are like."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from generator.errors import TableError
from generator.tables.loader import Row, band, load

__all__ = [
    "CentreHole", "MachineDefaults", "Material", "Usual",
    "bars", "centre_hole", "centre_hole_for", "machine_defaults", "material", "next_bar",
]

BarUnit = Literal["mm", "in"]
BarKind = Literal["round", "hexagon"]
_NOSE_DEPTH = "screw nose behind the quill face, quill fully wound in"


@dataclass(frozen=True, slots=True)
class CentreHole:
    """Centre hole; form B adds the protecting countersink, form R the flank radius."""

    form: str
    pilot_mm: float
    countersink_mm: float
    depth_mm: float
    protecting_mm: float | None
    protecting_depth_mm: float | None
    cut_off_mm: float | None
    flank_radius_mm: float | None
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class Usual:
    """A figure of a class of machines: what is low, usual and high."""

    low: float
    usual: float
    high: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class MachineDefaults:
    """The tailstock usual on lathes with this taper; every figure is to be replaced by a measured one."""

    taper_number: int
    swing_class: str
    quill_diameter_mm: Usual
    quill_travel_mm: Usual
    screw_lead_mm: Usual
    handwheel_diameter_mm: Usual
    ejector_depth_mm: Usual


@dataclass(frozen=True, slots=True)
class Material:
    """A material; None where no figure is known."""

    name: str
    yield_mpa: float | None
    tensile_mpa: float | None
    modulus_gpa: float | None
    poisson_ratio: float | None
    expansion_um_m_k: float | None
    density_g_cm3: float | None
    hardness: str
    treatment: str
    machinability: str
    source: str
    confidence: str


def bars(unit: BarUnit, kind: BarKind = "round") -> tuple[float, ...]:
    """The stocked bar sizes in mm of the mm or the inch list, rising.

    Source: stock lists, from memory.
    """
    rows = [row for row in load("bars").rows if row.text("system") == unit and row.text("kind") == kind]
    if not rows:
        message = f"no bars of kind {kind!r} in {unit!r}; kinds: round, hexagon; units: mm, in"
        raise TableError(message)
    return tuple(sorted({row.number("size_mm") for row in rows}))


def next_bar(least_mm: float, unit: BarUnit, kind: BarKind = "round") -> float:
    """The smallest stocked bar in mm that is not below a size.

    Raises: TableError above the largest.
    Source: stock lists, from memory.
    """
    sizes = bars(unit, kind)
    for size in sizes:
        if size >= least_mm - 1e-9:
            return size
    message = f"stocked {kind} bar ends at {sizes[-1]:g} mm; {least_mm:g} mm must be ordered"
    raise TableError(message)


def centre_hole(form: str, pilot_mm: float) -> CentreHole:
    """The centre hole of a form (A, B, R) and pilot diameter.

    Raises: TableError, with the nearest known.
    Source: ISO 6411, DIN 332-1; see the row.
    """
    row = load("centre_holes").find(form.upper(), pilot_mm)
    return CentreHole(
        form=form.upper(),
        pilot_mm=pilot_mm,
        countersink_mm=row.number("countersink_mm"),
        depth_mm=row.number("depth_mm"),
        protecting_mm=row.maybe("protecting_mm"),
        protecting_depth_mm=row.maybe("protecting_depth_mm"),
        cut_off_mm=row.maybe("cut_off_mm"),
        flank_radius_mm=row.maybe("flank_radius_min_mm"),
        source=row.source,
        confidence=row.confidence,
    )


def centre_hole_for(diameter_mm: float, form: str = "A") -> CentreHole:
    """The centre hole usual in work of this diameter.

    Raises: TableError outside 3 to 200 mm.
    Source: common practice, no source.
    """
    row = band(load("centre_hole_choice"), diameter_mm)
    return centre_hole(form, row.number("pilot_mm"))


def machine_defaults(taper_number: int) -> MachineDefaults:
    """The tailstock of the class of lathe whose usual taper is this one.

    The nose diameter of the screw is in no list: measure it.

    Raises: TableError outside Morse 0 to 6.
    Source: from memory; see the rows.
    """
    rows = load("machines").rows
    name = f"MT{taper_number}"
    tapers = [row for row in rows if row.text("part") == "tailstock" and row.text("quantity") == "taper"]
    for column in ("usual", "low", "high"):
        found = next((row for row in tapers if row.text(column) == name), None)
        if found is not None:
            return _defaults_of(taper_number, found.text("class_swing"), rows)
    message = f"no class of lathe is known with Morse {taper_number} in the tailstock; covered: Morse 0 to 6"
    raise TableError(message)


def material(name: str) -> Material:
    """The material of this name, or the only one whose name holds it.

    Raises: TableError, with the nearest known names.
    Source: data sheets, from memory; see the row.
    """
    table = load("materials")
    wanted = name.casefold().strip()
    hits = [row for row in table.rows if row.text("material").casefold() == wanted]
    hits = hits or [row for row in table.rows if wanted and wanted in row.text("material").casefold()]
    row = hits[0] if len(hits) == 1 else table.find(name[:40])
    return Material(
        name=row.text("material"),
        yield_mpa=row.maybe("yield_mpa"),
        tensile_mpa=row.maybe("tensile_mpa"),
        modulus_gpa=row.maybe("modulus_gpa"),
        poisson_ratio=row.maybe("poisson_ratio"),
        expansion_um_m_k=row.maybe("expansion_um_m_k"),
        density_g_cm3=row.maybe("density_g_cm3"),
        hardness=row.text("hardness"),
        treatment=row.text("treatment"),
        machinability=row.text("machinability"),
        source=row.source,
        confidence=row.confidence,
    )


def _defaults_of(taper_number: int, swing_class: str, rows: tuple[Row, ...]) -> MachineDefaults:
    here = {
        row.text("quantity"): row
        for row in rows
        if row.text("class_swing") == swing_class and row.text("part") == "tailstock"
    }
    return MachineDefaults(
        taper_number=taper_number,
        swing_class=swing_class,
        quill_diameter_mm=_usual(here["quill diameter"]),
        quill_travel_mm=_usual(here["quill travel"]),
        screw_lead_mm=_usual(here["screw lead"]),
        handwheel_diameter_mm=_usual(here["handwheel diameter"]),
        ejector_depth_mm=_usual(here[_NOSE_DEPTH]),
    )


def _usual(row: Row) -> Usual:
    return Usual(float(row.text("low")), float(row.text("usual")), float(row.text("high")), row.source, row.confidence)
