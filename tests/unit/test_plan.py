"""The bench plan's content: pages and their order, figures that agree with the description, one page where promised."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from io import BytesIO
from types import ModuleType
from typing import Literal

import pytest
from pypdf import PdfReader

from generator.checks import chains, check
from generator.description import ChainResult, Choices, Tool
from generator.findings import Change, Finding
from generator.ink.model import Ink
from generator.making.inspection import inspection_rows
from generator.making.operations import operations_for
from generator.making.settings import settings_for
from generator.making.setups import SetUp
from generator.making.stock import StockRow, stock_for
from generator.making.usual import usual_workshop
from generator.plan import compose_plan
from generator.plan.compose import FOOTER
from generator.prints.content import FindingBlock, Plan, SheetPage, Table, TextPage
from generator.prints.plan import write_plan
from templates import dead_centre, revolving_centre

RINGS = """
[socket]
taper = "Morse 3"

[passes]
holder_width = 16
tip_ahead = 6
work_diameter = 24

[[stack]]
ring = "6003-2RS"

[[stack]]
ring = "6201-2RS"
"""
JOBS: dict[str, tuple[ModuleType, str]] = {
    "screw": (revolving_centre, RINGS),
    "long": (
        revolving_centre,
        RINGS + '[retention]\nstyle = "nut"\n[cover]\nstyle = "snap ring"\n[shank]\nend = "tang"\n'
        "[bar]\ndiameter = 50\n",
    ),
    "half": (dead_centre, dead_centre.EXAMPLE),
}
TITLES = [
    "Verdict", "Parts and bar to cut", "Cautions", "Order of work", "Tools and gauges",
    "Settings for the taper", "Check and prove the taper", "Set-ups",
    "Putting together and taking apart", "If a size is missed", "Inspection", "First running",
    "What was checked", "What rests on a default",
]


@dataclass(frozen=True)
class Words:
    owner: str | None = "Upper Mill workshop"
    number: str | None = "UM-7"
    drawn_by: str | None = None
    date: str | None = "2026-02-03"


@dataclass(frozen=True)
class Bench:
    tool: Tool
    choices: Choices
    setups: tuple[SetUp, ...]
    chains: tuple[ChainResult, ...]
    stock: tuple[StockRow, ...]
    findings: tuple[Finding, ...]


@cache
def bench(job: str) -> Bench:
    kind, text = JOBS[job]
    name = kind.__name__.rpartition(".")[2].replace("_", "-")
    given = tomllib.loads(f'kind = "{name}"\nname = "plan"\n{text}')
    params = kind.Params.model_validate(given, context={"unit": "mm"})
    choices = kind.derive(params)
    tool = kind.build(choices)
    setups = kind.order(choices, tool, usual_workshop())
    return Bench(
        tool, choices, setups, tuple(chains(tool).values()), stock_for(tool, setups, choices),
        check(kind, choices, tool),
    )


def planned(
    job: str, unit: Literal["mm", "in"] = "mm", extra: tuple[Finding, ...] = (), words: Words | None = None,
    title: str | None = None,
) -> Plan:
    at = bench(job)
    sheet = Ink(210.0, 297.0, (), (), ())
    stock = stock_for(at.tool, at.setups, at.choices, unit)
    return compose_plan(
        "plan", words or Words(), at.tool, at.choices, (*at.findings, *extra), at.chains, at.setups, stock,
        settings_for(at.tool, at.choices, stock, usual_workshop(), unit),
        {part.name: sheet for part in at.tool.made}, sheet, unit, title=title, workshop=usual_workshop(),
        operations=operations_for(at.tool, at.setups, usual_workshop(), at.choices, stock, unit),
    )


def texts(item: object) -> list[str]:
    """Every text anywhere in a piece of content."""
    if isinstance(item, str):
        return [item]
    if isinstance(item, tuple):
        return [text for one in item for text in texts(one)]
    if is_dataclass(item) and not isinstance(item, Ink):
        return [text for one in fields(item) for text in texts(getattr(item, one.name))]
    return []


def page(plan: Plan, title: str) -> TextPage:
    return next(item for item in plan.items if isinstance(item, TextPage) and item.title == title)


def kind_of(item: TextPage) -> str:
    """Which of TITLES a page is; those of the set-ups say which they hold."""
    return re.sub(r"^Set-ups? \d+( to \d+)?$", "Set-ups", item.title.partition(":")[0])


def words_of(plan: Plan, title: str) -> str:
    """All words of the pages of this title; set-ups and inspection have a page for each large part."""
    pages = [item for item in plan.items if isinstance(item, TextPage) and kind_of(item) == title]
    return "\n".join(word for item in pages for word in texts(item))


@pytest.mark.parametrize("job", JOBS)
def test_sheets_come_first_then_the_pages_in_order(job: str) -> None:
    plan = planned(job)
    sheets = [item.bookmark for item in plan.items if isinstance(item, SheetPage)]
    assert sheets == ["Arrangement", *(part.title for part in bench(job).tool.made)]
    titles = list(dict.fromkeys(kind_of(item) for item in plan.items if isinstance(item, TextPage)))
    assert titles == [title for title in TITLES if title in titles]
    # A dead centre has nothing to put together.
    assert len(titles) == len(TITLES) - (job == "half")
    assert all(item.blocks and any(texts(item.blocks)) for item in plan.items if isinstance(item, TextPage))


def test_title_and_head_come_from_the_job() -> None:
    plan = planned("screw")
    assert (plan.title, plan.subtitle) == ("Revolving centre", "Bench plan of plan")
    named = planned("screw", title="Slim centre")
    assert (named.title, named.subtitle) == ("Slim centre", "Bench plan of plan, revolving centre")
    assert (plan.number, plan.date, plan.author) == ("UM-7", "2026-02-03", "Upper Mill workshop")
    bare = planned("screw", words=Words(None, None, None, None))
    assert (bare.number, bare.date, bare.author) == ("plan", "", "")


@pytest.mark.parametrize("job", JOBS)
def test_the_inspection_page_holds_every_toleranced_size_of_the_description(job: str) -> None:
    shown = words_of(planned(job), "Inspection")
    at = bench(job)
    fits = {one.gap.fit for one in at.chains}
    for part in at.tool.made:
        sizes = [(f"{part.name}/{one.name}", one.size) for one in part.lengths]
        sizes += [
            (f"{part.name}/{one.name}", one.diameter) for one in part.surfaces
            if one.role not in {"taper", "chamfer", "drill point", "thread"}
        ]
        for address, size in sizes:
            if size.derived or size.basic or size.general or address in fits:
                continue
            assert f"{size.nominal_mm + size.lower_mm:.3f} to {size.nominal_mm + size.upper_mm:.3f}" in shown, address
    names = [row.address.partition("/")[2] for row in inspection_rows(at.tool, at.chains)]
    assert all(name.replace("/", " ").replace("_", " ") in shown for name in names)
    assert not any("_" in text for text in shown.split())


@pytest.mark.parametrize("job", JOBS)
def test_the_parts_page_holds_every_blank_and_every_order_text(job: str) -> None:
    at, shown = bench(job), words_of(planned(job), "Parts and bar to cut")
    for row in at.stock:
        assert f"{row.bar_mm:g} mm round" in shown
        assert f"{row.cut_mm:g} mm" in shown
    for part in at.tool.parts.values():
        if part.bought:
            assert part.bought in shown
    assert ("Measure these rings first" in shown) == (job != "half")


@pytest.mark.parametrize("job", JOBS)
def test_every_set_up_stands_in_the_overview_in_a_row_of_its_own(job: str) -> None:
    (table,) = [block for block in page(planned(job), "Order of work").blocks if isinstance(block, Table)]
    setups = bench(job).setups
    assert [row[1] for row in table.rows] == [str(setup.number) for setup in setups]
    for row, setup in zip(table.rows, setups, strict=True):
        assert setup.title in row[2]
        assert setup.holding == row[3]
        assert ("No way back" in row[2]) == bool(setup.no_return)


def test_assembly_is_printed_forwards_and_backwards() -> None:
    shown = words_of(planned("screw"), "Putting together and taking apart")
    blocks = page(planned("screw"), "Putting together and taking apart").blocks
    table = next(block for block in blocks if isinstance(block, Table) and block.title == "Put together")
    pieces = [row[2] for row in table.rows]
    forwards = [pieces.index(word) for word in ("Bearing 6003-2RS", "Spindle with all that turns", "Cover")]
    assert forwards == sorted(forwards)
    apart = shown[shown.index("Take apart") :]
    backwards = [apart.index(word) for word in ("Out of the quill", "Screw out", "drives the cover off")]
    assert backwards == sorted(backwards)
    loose = words_of(planned("long"), "Putting together and taking apart")
    apart = loose[loose.index("Take apart") :]
    steps = ("Out of the quill", "Snap ring off", "Cover off", "Round nut off", "Bearing 6003-2RS off")
    backwards = [apart.index(word) for word in steps]
    assert backwards == sorted(backwards)


def test_the_way_apart_and_the_verdict_say_the_same() -> None:
    at, plan = bench("screw"), planned("screw")
    words = next(one for one in at.findings if one.code == "dismantling").advice
    shown = words_of(plan, "Putting together and taking apart")
    assert at.tool.take_apart
    assert all(step in words and step in shown for step in at.tool.take_apart)
    assert "jacking" not in words + shown
    together = next(one for one in at.findings if one.code == "assembly").advice
    assert "on the bench, before the spindle enters the body" in together
    assert all(step in together and step in shown for step in at.tool.put_together)


def test_made_to_measure_gap_gives_the_range_to_fit() -> None:
    at, shown = bench("screw"), words_of(planned("screw"), "Putting together and taking apart")
    fitted = [one for one in at.chains if one.gap.fit]
    assert fitted
    for one in fitted:
        assert one.fit_low_mm is not None
        assert f"{one.fit_low_mm:.3f}" in shown


# --- verdict -----------------------------------------------------------------------------------------------------

STOP = Finding(
    "cover-room", "stop", "cover/recess", "cover does not fit its recess", value=-0.2, limit="at least 0.10",
    source="common practice, no source", advice="Cut the recess deeper.", contributors=("body/recess/depth",),
    changes=(Change("body.recess_depth", 3.5),), worst_low=-0.3, worst_high=-0.1,
)


def test_a_stop_marks_the_plan_from_end_to_end() -> None:
    plan = planned("screw", extra=(STOP,))
    assert plan.footer.startswith("NOT TO BE MADE")
    assert "do not make" in plan.subtitle
    assert planned("screw").footer.endswith(FOOTER)
    block = next(one for one in page(plan, "Verdict").blocks if isinstance(one, FindingBlock))
    shown = "\n".join(texts(block))
    assert block.severity == "stop"
    for word in ("-0.200 mm", "at least 0.10 mm", "-0.300 mm to -0.100 mm", "body/recess/depth",
                 "Cut the recess deeper", "body.recess_depth = 3.5 mm", "common practice"):
        assert word in shown


def test_verdict_and_checks_name_or_count_every_finding_and_one_table_every_default() -> None:
    at, plan = bench("screw"), planned("screw")
    checked = words_of(plan, "What was checked")
    shown = words_of(plan, "Verdict") + checked
    silent = [one for one in at.findings if one.title[1:] not in shown and one.code != "default"]
    counted = sum(int(count) for count in re.findall(r"(\d+) (?:more )?figures, each within its limit", checked))
    assert counted == len(silent) > 0
    assert all(one.severity == "note" and one.value is not None and one.limit for one in silent)
    for code in ("access", "grip", "static", "life", "speed", "deflection", "runout", "fit_outer"):
        assert all(one.title[1:] in checked for one in at.findings if one.code == code), code
    defaults = [one for one in at.choices.parameters.values() if one.is_default]
    assert defaults
    table = words_of(plan, "What rests on a default")
    assert all(one.address in table for one in defaults)


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("job", JOBS)
def test_sources_are_titles_not_addresses_of_the_web(job: str, unit: Literal["mm", "in"]) -> None:
    plan = planned(job, unit)
    shown = "\n".join(word for item in plan.items if isinstance(item, TextPage) for word in texts(item))
    assert not re.findall(r"\b\S+\.(?:com|org|net|gov|edu|uk|de|au)\b|https?:", shown)


def test_cautions_name_what_is_not_checked_and_whose_word_comes_first() -> None:
    shown = words_of(planned("half"), "Cautions")
    for word in ("load", "speed", "thrust", "No capacity is stated", "local codes", "manual of the machine"):
        assert word in shown
    assert "rating" in FOOTER
    assert not any(word in shown.lower() for word in ("rated", "safe working load", "capacity of"))


# --- on paper ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("job", JOBS)
def test_no_page_is_nearly_empty(job: str, unit: Literal["mm", "in"]) -> None:
    printed = BytesIO()
    write_plan(planned(job, unit), printed)
    pages = [sheet.extract_text() for sheet in PdfReader(printed).pages]
    first = next(i for i, text in enumerate(pages) if re.search("^Verdict$", text, re.MULTILINE))
    foot = len(FOOTER) + len(planned(job, unit).footer)
    assert all(len(text) > foot + 60 for text in pages[first:])


_METRIC = re.compile(r"\d (?:mm|N m|N mm|kN|N|kg|g|m/min)(?![\w/²])|\d °C(?!\))")


@pytest.mark.parametrize("job", JOBS)
def test_the_pages_read_at_the_lathe_hold_no_metric_units_in_an_inch_plan(job: str) -> None:
    plan = planned(job, "in")
    order, setups = words_of(plan, "Order of work"), words_of(plan, "Set-ups")
    assert _METRIC.findall(order + setups) == []
    assert "0.000 in" not in setups
    assert "without a unit" not in setups
    # Limits of an inch drawing have four decimals at most; heat is in Fahrenheit first, Celsius in brackets.
    assert not re.search(r"\d\.\d{5}", order + setups)


@pytest.mark.parametrize("job", JOBS)
def test_forces_torques_and_masses_of_an_inch_plan_are_in_pounds(job: str) -> None:
    plan = planned(job, "in")
    for title in ("Verdict", "What was checked", "Parts and bar to cut", "Putting together and taking apart"):
        # The rule of a seal's drag is quoted as its source has it.
        shown = words_of(plan, title).replace("seals 3 N mm a mm of bore", "")
        assert re.findall(r"\d (?:N m|N mm|kN|N|kg)(?![\w/²])", shown) == [], title


def test_an_inch_plan_gives_inches() -> None:
    plan = planned("screw", "in")
    shown = words_of(plan, "Parts and bar to cut")
    assert "1 3/4 in (1.750) round" in shown
    assert "mm round" not in shown
    assert "limits, in" in words_of(plan, "Inspection")
    # The bore of a 6003 is 17 mm: 0.6693 in, to the last place of a handbook's conversion.
    assert "0.6693" in shown
