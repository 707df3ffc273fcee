"""Page for the first running of the finished tool, to be filled in and kept with it."""

from __future__ import annotations

from collections.abc import Sequence

from generator.description import Tool
from generator.findings import Finding
from generator.making.commissioning import runnings, truths
from generator.making.figures import Figures
from generator.making.workshop import Workshop
from generator.plan.wording import BOX, sentence
from generator.prints.content import Block, Caution, Paragraph, Table, TextPage
from generator.units import FileUnit

__all__ = ["commissioning_page"]

_UM_IN_MM = 1000.0


def commissioning_page(tool: Tool, findings: Sequence[Finding], workshop: Workshop, unit: FileUnit) -> TextPage:
    """Spin, warm run, three truths and what may be engraved, with room for what was found."""
    figures = Figures(unit)
    blocks: list[Block] = [_by_hand(tool)]
    steps = runnings(tool, findings, workshop)
    if steps:
        heat = "°F" if unit == "in" else "°C"
        same = len({step.watch for step in steps}) == 1
        watch = (sentence(figures.prose(steps[0].watch)),) if same else ()
        rows = tuple(
            (BOX, f"{step.rpm:g} rpm", f"{step.minutes} min",
             "" if same else sentence(figures.prose(step.watch)), "", "")
            for step in steps
        )
        blocks.append(
            Table(
                ("", "speed", "for", "what you see and hear", f"at the end, {heat}", "ok"), rows,
                (9.0, 22.0, 18.0, 79.0, 36.0, 16.0), ("centre", "right", "right"),
                (*watch, "Work between the centres, guard closed, the quill's thrust as for the job; speeds are the "
                 "machine's, up to what the job asks for and no faster."),
                "Warm run",
            )
        )
        blocks.append(
            Caution(("Begin at the lowest step. Stand aside at each change. Never spin it up with an air line.",))
        )
    measured = tuple(
        (one.name[:1].upper() + one.name[1:], figures.prose(one.how),
         "" if one.likely_um is None else _micro(one.likely_um, figures),
         _limit(one.most_um, figures), "", "", "")
        for one in truths(tool, findings)
    )
    if measured:
        blocks.append(
            Table(
                ("what", "how", "likely", "allowed", "1", "2", "3"), measured,
                (34.0, 62.0, 21.0, 27.0, 12.0, 12.0, 12.0),
                (), ("Three places or three tries each. They are different numbers: none stands for another.",),
                "How true it is",
            )
        )
    blocks.append(
        Paragraph(
            "Engrave drawing number, taper and date, nothing else: a load or a speed on the tool would be read as a "
            "rating. Date, name, temperature of the shop:  ______________________"
        )
    )
    return TextPage("First running", tuple(blocks), far=True)


def _by_hand(tool: Tool) -> Table:
    checks = [
        ("Shank wiped and dry, pushed home by hand: no rock, no light at the large end", ""),
        ("Wound back, the tool lets go of the quill and is caught by hand", ""),
    ]
    if tool.turning:
        checks[1:1] = [("Spun by hand: turns freely, no notch, no scrape, runs out without a jerk", "")]
    rows = tuple((BOX, what, found) for what, found in checks)
    return Table(("", "by hand", "found"), rows, (9.0, 131.0, 40.0), ("centre",), (), "Before it is run")


def _micro(value_um: float, figures: Figures) -> str:
    return figures.length(value_um / _UM_IN_MM, 3)


def _limit(most_um: float | None, figures: Figures) -> str:
    return "not given" if most_um is None else f"{figures.length(most_um / _UM_IN_MM, 3)} or less"
