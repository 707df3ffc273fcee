"""The order of the pages of a bench plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from generator.description import ChainResult, Choices, Tool
from generator.findings import Finding, count_stops
from generator.ink.model import Ink
from generator.making.operations import Operation
from generator.making.settings import Setting
from generator.making.setups import SetUp
from generator.making.stock import StockRow
from generator.making.usual import usual_workshop
from generator.making.workshop import Workshop
from generator.plan.assembly import assembly_page
from generator.plan.bench import order_page
from generator.plan.commissioning import commissioning_page
from generator.plan.defaults import defaults_page
from generator.plan.inspection import inspection_pages
from generator.plan.material import parts_page
from generator.plan.rescue import rescue_page
from generator.plan.settings import settings_pages
from generator.plan.setup_pages import setup_pages
from generator.plan.tools import tools_page
from generator.plan.verdict import cautions_page, checked_page, verdict_page
from generator.prints.content import Plan, SheetPage, TextPage
from generator.units import FileUnit

__all__ = ["FOOTER", "PlanWords", "compose_plan"]

FOOTER = "No figure here is a rating: read the cautions. Machine manual and local rules come first."


class PlanWords(Protocol):
    """The words of the title block that a plan repeats; None where the user gave none."""

    @property
    def owner(self) -> str | None:
        """Legal owner of the drawing."""

    @property
    def number(self) -> str | None:
        """Drawing number."""

    @property
    def drawn_by(self) -> str | None:
        """Who drew it."""

    @property
    def date(self) -> str | None:
        """Date of issue as the user wrote it."""


def compose_plan(
    job_name: str,
    words: PlanWords,
    tool: Tool,
    choices: Choices,
    findings: Sequence[Finding],
    chains: Sequence[ChainResult],
    setups: Sequence[SetUp],
    stock: Sequence[StockRow],
    settings: Sequence[Setting],
    part_sheets: Mapping[str, Ink],
    arrangement: Ink,
    unit: FileUnit = "mm",
    assembly: Ink | None = None,
    title: str | None = None,
    workshop: Workshop | None = None,
    operations: Sequence[Operation] = (),
    drawer: Sequence[tuple[str, float]] = (),
) -> Plan:
    """The whole plan: arrangement, assembly, a sheet for each made part, then pages of text in the order of the work.

    `part_sheets` is keyed by part name; sheets come in the order of the tool's parts. `title` is the job's own.
    `operations` are those of `setups`; without them the pages show what the steps themselves say.
    """
    shop = workshop or usual_workshop(unit=unit)
    sheets = [SheetPage(arrangement, "Arrangement")]
    sheets += [SheetPage(assembly, "Assembly")] if assembly is not None else []
    sheets += [SheetPage(part_sheets[part.name], part.title) for part in tool.made if part.name in part_sheets]
    pages: list[TextPage | None] = [
        verdict_page(findings, unit),
        parts_page(tool, stock, unit),
        cautions_page(tool, findings),
        order_page(tool, setups, unit, operations),
        tools_page(operations, setups, unit),
        *settings_pages(settings),
        *setup_pages(tool, setups, stock, operations, shop, unit),
        assembly_page(tool, chains, unit),
        rescue_page(tool, chains, unit, drawer),
        *inspection_pages(tool, setups, chains, unit),
        commissioning_page(tool, findings, shop, unit),
        checked_page(findings, unit),
        defaults_page(choices, operations, shop, unit),
    ]
    return Plan(
        title=title or tool.title,
        subtitle=_subtitle(f"{job_name}, {tool.title.lower()}" if title else job_name, findings),
        number=words.number or job_name,
        date=words.date or "",
        author=words.drawn_by or words.owner or "",
        footer=f"{_marked(findings)}{FOOTER}",
        items=(*sheets, *(page for page in pages if page is not None)),
    )


def _subtitle(job_name: str, findings: Sequence[Finding]) -> str:
    stops = count_stops(findings)
    return f"Bench plan of {job_name}" + (f"; {stops} unsolved stops, do not make" if stops else "")


def _marked(findings: Sequence[Finding]) -> str:
    return "NOT TO BE MADE: a stop is unsolved. " if count_stops(findings) else ""
