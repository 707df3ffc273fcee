"""Pages read before the lathe is started: parts and bar to cut, rings to measure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.description import Tool, parts_list
from generator.making.figures import Figures
from generator.making.inspection import RingRow, bought_rings
from generator.making.stock import StockRow
from generator.plan.wording import sentence
from generator.prints.content import Block, Table, TextPage
from generator.units import FileUnit

__all__ = ["parts_page"]


def parts_page(tool: Tool, stock: Sequence[StockRow], unit: FileUnit) -> TextPage:
    """Parts to make with bar and cut length, things to buy, rings to measure first."""
    figures = Figures(unit)
    blocks: list[Block] = [_to_make(tool, stock, figures)]
    blocks += _to_buy(tool)
    rings = bought_rings(tool, unit)
    if rings:
        blocks.append(_to_measure(rings, unit))
    return TextPage("Parts and bar to cut", tuple(blocks))


def _to_make(tool: Tool, stock: Sequence[StockRow], figures: Figures) -> Table:
    blanks = {row.part: row for row in stock}
    rows = []
    for line in parts_list(tool):
        if not line.is_made:
            continue
        blank = blanks.get(line.parts[0])
        rows.append((str(line.number), str(line.quantity), line.title, line.material, *_blank_cells(blank, figures)))
    notes = [f"{row.title}: {_sum(row, figures)}" for row in stock]
    notes += [f"{row.title}: {sentence(row.note)}" for row in stock if row.note]
    notes.append("Bar: next stocked size (from memory) that cleans up. Allowances: common practice, no source.")
    return Table(
        ("item", "qty", "part", "material", "bar", "cut length", "mass of blank"), tuple(rows),
        (13.0, 11.0, 40.0, 32.0, 36.0, 24.0, 24.0), ("right", "right", "left", "left", "left", "right", "right"),
        tuple(notes), "Make", close=True,
    )


def _blank_cells(blank: StockRow | None, figures: Figures) -> tuple[str, str, str]:
    if blank is None:
        return "", "", ""
    own = ", yours" if blank.is_own else ""
    short = "" if blank.enough else ", TOO SMALL"
    bar = f"{figures.bar(blank.bar_mm)} round{own}{short}"
    return bar, figures.length(blank.cut_mm, 1), _mass(blank.mass_kg, figures)


def _mass(mass_kg: float, figures: Figures) -> str:
    """Kilograms, or grams where there are few; pounds in an inch job."""
    if figures.unit == "in":
        return figures.quantity(mass_kg, "kg")
    return f"{mass_kg:.2f} kg" if mass_kg >= 0.095 else f"{max(1, round(1000 * mass_kg))} g"


def _sum(row: StockRow, figures: Figures) -> str:
    terms = " + ".join(f"{label} {figures.bare(mm, 1)}" for label, mm in row.why)
    total = figures.length(sum(mm for _, mm in row.why), 1)
    return f"{terms} = {total}; largest diameter {figures.length(row.finished_diameter_mm)}."


def _to_buy(tool: Tool) -> Iterator[Table]:
    rows = tuple(
        (str(line.number), str(line.quantity), line.title, line.material)
        for line in parts_list(tool)
        if not line.is_made
    )
    if rows:
        yield Table(
            ("item", "qty", "what", "order text"), rows, (13.0, 11.0, 60.0, 96.0), ("right", "right"), (), "Buy",
            close=True,
        )


def _to_measure(rings: Sequence[RingRow], unit: FileUnit) -> Table:
    """Limits of the standard beside empty columns: what counts is what lies on the bench."""
    rows = tuple(
        (
            f"{ring.item}: {ring.order}" + (" (readings in the job)" if ring.measured else ""),
            ring.bore, "", ring.outside, "", ring.width, "",
        )
        for ring in rings
    )
    return Table(
        ("ring", f"bore, {unit}", "reads", f"outside, {unit}", "reads", f"width, {unit}", "reads"), rows,
        (32.0, 33.0, 16.0, 33.0, 16.0, 33.0, 17.0), (),
        (
            "Measure these rings before anything is cut to them: bore and outside at two places, width at three. "
            "Write the readings here and into the job, and run it again: seats and pocket then fit these rings.",
        ),
        "Measure these rings first",
    )
