"""What check prints of readings: every one that is out, the gaps as made, and how many are still to be taken."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from textwrap import wrap
from typing import Any

from generator.checks import chains
from generator.job.design import Design
from generator.job.toml_text import file_text
from generator.job.workshop import drawer_of
from generator.making.figures import Figures
from generator.making.inspection import inspection_rows
from generator.making.readings import AsMade, Judged, as_made, judge, read_readings
from generator.tables import use_own_rings

__all__ = ["Inspected", "inspected", "readings_data", "readings_lines"]


@dataclass(frozen=True, slots=True)
class Inspected:
    """An inspection table held against its design; `open_n` characteristics are not read yet."""

    source: str
    judged: tuple[Judged, ...]
    gaps: tuple[AsMade, ...]
    open_n: int

    @property
    def is_right(self) -> bool:
        """True where every reading and every gap is as wanted; those not taken yet do not count."""
        return all(one.is_right for one in self.judged) and not any(one.outside_mm for one in self.gaps)


def inspected(design: Design, path: Path) -> Inspected:
    """The readings of a table that make wrote and the shop filled. Raises InputError with all its faults."""
    with use_own_rings(design.job.own_rings):
        return _inspected(design, path)


def _inspected(design: Design, path: Path) -> Inspected:
    tool, unit = design.tool, design.job.unit
    results = tuple(chains(tool).values())
    readings = read_readings(file_text(path, "inspection table"), tool, results, path.name, unit)
    wanted = {row.address for row in inspection_rows(tool, results, unit)}
    found = judge(tool, results, readings, unit, drawer_of(design.job))
    return Inspected(path.name, found, as_made(tool, results, readings), len(wanted - set(readings)))


def readings_lines(found: Inspected, design: Design, width: int) -> Iterator[str]:
    """Readings that are out with what to do, gaps that are out as made, and a last line that sums up."""
    figures = Figures(design.job.unit)
    for one in found.judged:
        if one.is_right:
            continue
        head = f"OUT  {one.row.address}: reads {one.reading}"
        limits = f"; limits {one.row.limits} {design.job.unit if one.row.low_mm is not None else ''}".rstrip()
        yield from wrap(f"{head}{limits}; {one.state}", width, subsequent_indent="    ")
        yield from wrap(figures.prose(one.do), width, initial_indent="    ", subsequent_indent="    ")
    for gap in found.gaps:
        if gap.outside_mm:
            span = f"{figures.bare(gap.low_mm, 3)} to {figures.length(gap.high_mm, 3)}"
            out = f"GAP  {gap.result.gap.title}: {span} as made, {figures.length(gap.outside_mm, 3)} outside"
            yield from wrap(f"{out}. {gap.result.gap.why}", width, subsequent_indent="    ")
    right = sum(one.is_right for one in found.judged)
    held = sum(not gap.outside_mm for gap in found.gaps)
    yield from wrap(
        f"{found.source}: {right} of {len(found.judged)} readings right, {held} of {len(found.gaps)} gaps right as "
        f"made, {found.open_n} still to be read.",
        width,
    )


def readings_data(found: Inspected) -> dict[str, Any]:
    """The same as plain data for --json."""
    return {
        "source": found.source,
        "right": found.is_right,
        "open": found.open_n,
        "readings": [
            {
                "address": one.row.address, "reading": one.reading, "state": one.state,
                "outside_mm": round(one.by_mm, 6), "do": one.do,
            }
            for one in found.judged
        ],
        "gaps": [
            {
                "gap": gap.result.gap.name, "low_mm": round(gap.low_mm, 6), "high_mm": round(gap.high_mm, 6),
                "outside_mm": round(gap.outside_mm, 6),
            }
            for gap in found.gaps
        ],
    }
