"""The page of tools and times: what must lie ready, what is missing and what stands in for it, how long it takes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.making.figures import Figures
from generator.making.operations import Operation
from generator.making.operations_care import TIME_ASSUMES
from generator.making.operations_list import ToolRow, set_up_times, tools_for
from generator.making.setups import SetUp
from generator.making.workshop import Workshop
from generator.plan.wording import BOX, sentence
from generator.prints.content import Block, Paragraph, Table, TextPage
from generator.units import FileUnit

__all__ = ["time_table", "tools_page", "tools_table"]

_FIELDS = {
    "speeds_rpm": "spindle speeds", "cross_dial": "dial of the cross slide", "top_dial": "dial of the top slide",
    "carriage_dial": "dial of the carriage", "quill_dial": "dial of the quill", "cutters": "turning tools",
    "boring_bars": "boring bars", "drills": "drills", "reamers": "reamers", "taps": "taps", "dies": "dies",
    "centre_height_mm": "centre height", "micrometer_mm": "reading of the micrometer",
    "indicator_mm": "reading of the indicator", "tailstock_support": "support at the tailstock",
    "tailstock_taper": "taper of the tailstock", "chucks": "chucks",
}


def tools_page(
    operations: Sequence[Operation], setups: Sequence[SetUp], workshop: Workshop, unit: FileUnit
) -> TextPage | None:
    """Tools, gauges and times on one page; None without operations."""
    if not operations:
        return None
    blocks: list[Block] = [*_tables(operations, unit), time_table(operations, setups)]
    rests = sorted({name for one in operations for name in one.rests_on if workshop.is_default(name)})
    if rests:
        names = ", ".join(_FIELDS.get(name, name.removesuffix("_mm").replace("_", " ")) for name in rests)
        blocks.append(Paragraph(
            f"Usual figures, given by nobody, stand for: {names}. Settings that rest on them hold for such a shop: "
            "write your own into the shop file.", "small",
        ))
    return TextPage("Tools, gauges and times", tuple(blocks))


def _tables(operations: Sequence[Operation], unit: FileUnit) -> Iterator[Table]:
    rows, figures = tools_for(operations), Figures(unit)
    lacking = [row for row in rows if row.is_missing]
    if lacking:
        yield Table(
            ("", "not in the shop file", "instead", "for"),
            tuple((BOX, sentence(figures.prose(row.name)), sentence(figures.prose(row.substitute)), _used(row))
                  for row in lacking),
            (8.0, 62.0, 80.0, 30.0), ("centre",), (), "Missing, and what stands in", close=True,
        )
    yield tools_table(rows, figures)


def tools_table(rows: Sequence[ToolRow], figures: Figures) -> Table:
    """Every tool and gauge that the shop has, with the operations that want it and a box to tick."""
    having = tuple(
        (BOX, sentence(figures.prose(row.name)), row.kind, _used(row)) for row in rows if not row.is_missing
    )
    return Table(
        ("", "lay ready", "", "for"), having, (8.0, 102.0, 16.0, 54.0), ("centre",), (), "Tools and gauges", close=True
    )


def _used(row: ToolRow) -> str:
    return ", ".join(dict.fromkeys(row.used))


def time_table(operations: Sequence[Operation], setups: Sequence[SetUp]) -> Table:
    """Rough times, a row for each set-up, with what they assume."""
    titles = {setup.number: setup.title for setup in setups}
    times = set_up_times(operations)
    rows = [
        (str(one.setup), titles.get(one.setup, ""), f"{one.holding_min:.0f}", f"{one.working_min:.0f}",
         f"{one.total_min:.0f}")
        for one in times
    ]
    whole = sum(one.total_min for one in times)
    rows.append(("", "All set-ups", "", "", f"{whole:.0f} ({whole / 60:.1f} h)"))
    return Table(
        ("no.", "one clamping", "to set, min", "to work, min", "together, min"), tuple(rows),
        (11.0, 85.0, 26.0, 28.0, 30.0), ("right", "left", "right", "right", "right"), TIME_ASSUMES, "Rough times",
        close=True,
    )
