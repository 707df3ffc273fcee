"""Overview of the order of work: every clamping in a row of its own, read at the lathe."""

from __future__ import annotations

from collections.abc import Sequence

from generator.description import Tool
from generator.making.figures import Figures
from generator.making.operations import Operation
from generator.making.operations_care import TIME_ASSUMES
from generator.making.operations_list import SetUpTime, set_up_times
from generator.making.setups import SetUp, earned
from generator.plan.wording import BOX, headed, joined, without_part
from generator.prints.content import Table, TextPage
from generator.units import FileUnit

__all__ = ["order_page"]


def order_page(
    tool: Tool, setups: Sequence[SetUp], unit: FileUnit, operations: Sequence[Operation] = ()
) -> TextPage | None:
    """One clamping a row: what it finishes, how it is held, how true it comes, and rough minutes."""
    if not setups:
        return None
    figures = Figures(unit)
    spent = set_up_times(operations)
    times = {one.setup: one.total_min for one in spent}
    notes = (
        "One number is one clamping: do not unclamp before everything under it is finished and measured. True to: "
        "run-out that such holding leaves, the usual worst; common practice, no source.",
        *(_times_in_words(spent) if spent else ()),
    )
    table = Table(
        ("", "no.", "one clamping, and what it finishes", "held", f"true to, {unit}", "min"),
        tuple((*_row(tool, setup, figures), f"{times[setup.number]:.0f}" if setup.number in times else "")
              for setup in setups),
        _WIDTHS_MM[unit], ("centre", "centre", "left", "left", "right", "right"), notes, close=True,
    )  # fmt: skip
    return TextPage("Order of work", (table,), far=True)


_WIDTHS_MM: dict[FileUnit, tuple[float, ...]] = {
    "mm": (9.0, 11.0, 74.0, 56.0, 17.0, 13.0), "in": (9.0, 11.0, 70.0, 53.0, 24.0, 13.0),
}


def _times_in_words(spent: Sequence[SetUpTime]) -> tuple[str, ...]:
    waiting = sum(one.waiting_min for one in spent) / 60
    together = f"Together about {sum(one.total_min for one in spent) / 60:.0f} h"
    furnace = f", and {waiting:.1f} h more in which the furnace works by itself" if waiting else ""
    return (f"{together}{furnace}. {' '.join(TIME_ASSUMES)}",)


def _row(tool: Tool, setup: SetUp, figures: Figures) -> tuple[str, ...]:
    names = joined(without_part(address, setup) for address in setup.finishes if _is_worth_naming(tool, address))
    lines = [f"{figures.prose(headed(tool, setup))}" + (f": {names}." if names else ".")]
    lines += ["No way back from here."] if setup.no_return else []
    found = earned(setup)
    gain = "" if found.high_mm is None else figures.bare(found.high_mm, 3)
    return BOX, str(setup.number), "\n".join(lines), figures.prose(setup.holding), gain


def _is_worth_naming(tool: Tool, address: str) -> bool:
    """Chamfers and reliefs go without saying."""
    part, _, name = address.partition("/")
    surface = tool.parts[part].by_name.get(name) if part in tool.parts else None
    return surface is None or surface.role not in {"chamfer", "relief"}
