"""All findings of one tool in one list, stops first, and in the order in which a shop tool dies of what they find."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from types import ModuleType

from generator.checks.duty import DUTY
from generator.checks.gaps import chains, gap_findings
from generator.checks.walls import bar_finding, bar_length_finding, wall_findings
from generator.description import Choices, Tool
from generator.errors import GeometryError
from generator.findings import Finding, by_severity
from generator.making.order import compare
from generator.making.setups import SetUp
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from generator.making.workshop import Workshop

__all__ = ["BY_DEFAULT", "check", "unchecked"]

_ORDER = (
    "duty", "duty-default", "static", "thrust", "form", "wall", "flats_wall", "pocket_wall", "rim_wall", "groove_wall",
    "floor_wall", "shank_wall", "head_wall", "cut", "fit_inner", "fit_outer", "clearance_left", "collar", "shoulder",
    "housing_shoulder", "gap", "play", "reading", "doubled", "measure", "hardness", "sealing", "assembly",
    "dismantling", "retention", "hold", "clamp", "screw", "nut", "stripping", "point", "flank", "half", "half_reach",
    "pressure", "access", "life", "strength", "half_strength", "lever", "deflection", "offset", "runout",
    "lost_motion", "grip", "rubbing", "dead", "speed", "bar", "bar_length",
    "order-unknown", "order-unfinished", "order-twice", "order-not-made", "order-datum-gone", "order-touch",
    "order-run-out", "order-marks", "order-grip", "order-thin-wall", "order-overhang", "order-walks-out",
    "order-steady", "order-steady-room", "order-heat", "order-hard", "order-taper-method", "order-slide-short",
    "order-set-over", "order-set-over-share", "order-drill", "order-drill-meets", "order-drill-behind",
    "order-drill-chuck", "order-driven", "order-boring-bar", "order-bar-room",
    "order-blocked", "order-tail-centre", "order-filed", "order-furnace", "order-wheel", "order-chuck", "order-swing",
    "order-between-centres", "order-spindle-bore", "order-earned", "order-transfer", "order-no-return",
    "order-not-told",
)
"""Load and thrust first, since shop tools die of them, not of hours; then what is cut, put together, run and made.

Of the order of work comes first what spoils the piece, then what spoils a size, then what the shop lacks.
"""
_RANK = {code: place for place, code in enumerate(_ORDER)}
_RECKONED = frozenset({"static", "thrust"})
_LOAD_CHECKS = ("spindle", "static", "thrust", "life", "speed", "strength", "pressure", "grip", "half_strength")

_NO_LOADS = "Not checked here: load, speed and thrust on the bearings, strength and stiffness of the spindle."
BY_DEFAULT = "By default:"
"""Goes before the names of what a partly given duty leaves open."""
_LOADS = "Load, thrust and speed reckoned{} from {} duty, no rating. Not checked: shock, unbalance, heat, the machine."


def check(
    kind: ModuleType,
    choices: Choices,
    tool: Tool,
    workshop: Workshop | None = None,
    setups: Sequence[SetUp] | None = None,
) -> tuple[Finding, ...]:
    """Every finding: gaps, walls, bar, the kind's own, the order of work, defaults used, what was not checked.

    The order of work is judged for this workshop, by default the usual one about a Morse 3 tailstock. `setups` is that
    order, where whoever asks has worked it out already.
    """
    found = list(gap_findings(tool, chains(tool)))
    found += wall_findings(tool)
    found += bar_finding(choices, tool)
    try:
        own = tuple(kind.inspect(choices, tool))
        stopped = {finding.address for finding in own if finding.severity == "stop"}
        # What a kind itself stops, with limits of its own, is not told a second time by mere geometry.
        found = [finding for finding in found if finding.code != "cut" or finding.address not in stopped]
        found += own
        workshop = workshop or usual_workshop()
        order = kind.order(choices, tool, workshop) if setups is None else setups
        stock = stock_for(tool, order, choices, shelf=workshop.bars)
        found += compare(tool, order, workshop, stock)
        found += bar_length_finding(choices, tool, order)
    except GeometryError as error:
        found.append(_not_run(str(error)))
    found.sort(key=lambda finding: _RANK.get(finding.code.removesuffix("-not-run"), len(_RANK)))
    found += _defaults(choices)
    advice = unchecked(found)
    title = "what is not checked"
    found.append(Finding("not-checked", "note", "tool", title, unit="", source="this program", advice=advice))
    return by_severity(found)


def unchecked(findings: Iterable[Finding]) -> str:
    """What stands in words on every sheet: on which duty loads rest, and what the program does not work out."""
    findings = tuple(findings)
    codes = {finding.code for finding in findings}
    if not codes & _RECKONED:
        return _NO_LOADS
    partly = " in part" if codes & {f"{code}-not-run" for code in _LOAD_CHECKS} else ""
    missing = next((finding.contributors for finding in findings if finding.code == "duty-default"), ())
    if not missing:
        return _LOADS.format(partly, "the given")
    if len(missing) == len(DUTY):
        return _LOADS.format(partly, "a default")
    names = [address.removeprefix("loads.").replace("_", " ") for address in DUTY if address in missing]
    return f"{_LOADS.format(partly, 'a partly given')} {BY_DEFAULT} {', '.join(names)}."


def _not_run(reason: str) -> Finding:
    return Finding(
        "check-not-run",
        "stop",
        "tool",
        "a check could not run",
        unit="",
        source="this program",
        advice=f"{reason}. Change the size it names, then check again.",
    )


def _defaults(choices: Choices) -> Iterator[Finding]:
    """Machine sizes that nobody measured; what the duty rests on is told with the duty itself."""
    for choice in choices.parameters.values():
        if choice.is_default and not choice.address.startswith("loads."):
            yield Finding(
                "default",
                "note",
                choice.address,
                "a default stands in for your machine",
                float(choice.value),
                "measure",
                choice.unit,
                choice.rule,
                f"Measure it and give {choice.address}.",
            )
