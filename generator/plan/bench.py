"""Overview of the order of work: every clamping in a row of its own, read at the lathe."""

from __future__ import annotations

from collections.abc import Sequence

from generator.description import Tool
from generator.making.figures import Figures
from generator.making.setups import SetUp, earned
from generator.plan.wording import BOX, headed, joined, without_part
from generator.prints.content import Table, TextPage
from generator.units import FileUnit

__all__ = ["order_page"]


def order_page(tool: Tool, setups: Sequence[SetUp], unit: FileUnit) -> TextPage | None:
    """One clamping a row: what it finishes, how it is held, from where lengths are set, and the run-out it earns."""
    if not setups:
        return None
    figures = Figures(unit)
    table = Table(
        ("", "no.", "one clamping, and what it finishes", "held", "touch off", f"earns, {unit}"),
        tuple(_row(tool, setup, figures) for setup in setups),
        (9.0, 12.0, 64.0, 54.0, 22.0, 19.0), ("centre", "centre"),
        ("One number is one clamping: do not unclamp before everything under it is finished and measured. "
         "Run-out earned is the usual worst: common practice, no source; a dash earns nothing.",),
        close=True,
    )
    return TextPage("Order of work", (table,), far=True)


def _row(tool: Tool, setup: SetUp, figures: Figures) -> tuple[str, ...]:
    names = joined(without_part(address, setup) for address in setup.finishes if _is_worth_naming(tool, address))
    lines = [f"{figures.prose(headed(tool, setup))}."]
    lines += [f"Finish {names}."] if names else []
    lines += ["No way back from here."] if setup.no_return else []
    found = earned(setup)
    gain = "-" if found.high_mm is None else figures.bare(found.high_mm, 3)
    held = figures.prose(setup.holding)
    return BOX, str(setup.number), "\n".join(lines), held, without_part(setup.touches_off, setup), gain


def _is_worth_naming(tool: Tool, address: str) -> bool:
    """Chamfers and reliefs go without saying."""
    part, _, name = address.partition("/")
    surface = tool.parts[part].by_name.get(name) if part in tool.parts else None
    return surface is None or surface.role not in {"chamfer", "relief"}
