"""The verdict, and the cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.checks.verdict import unchecked
from generator.description import Tool
from generator.findings import Finding, by_severity
from generator.making.figures import Figures
from generator.plan.wording import joined, plain, sentence, sources_in_short
from generator.prints.content import Block, Caution, FindingBlock, Paragraph, Table, TextPage
from generator.units import FileUnit

__all__ = ["cautions_page", "checked_page", "verdict_page"]

_TO_DO = frozenset({"default", "order-run-out", "order-transfer"})
_SPEAKS = frozenset({
    "duty", "duty-default", "static", "thrust", "play", "assembly", "dismantling", "screw", "nut", "deflection",
    "offset", "runout", "lost_motion", "grip", "rubbing", "strength", "half_strength", "pressure",
})
"""Findings whose words are wanted at the bench, not their figure alone."""


def verdict_page(findings: Sequence[Finding], unit: FileUnit) -> TextPage:
    """Stops and warnings, and what is still to be done or known."""
    figures = Figures(unit)
    serious = [finding for finding in by_severity(findings) if finding.severity != "note"]
    blocks: list[Block] = [Paragraph(_summary(findings)), *(_finding_block(one, figures) for one in serious)]
    blocks += _to_do([one for one in _notes(findings) if one.code not in _SPEAKS], figures)
    return TextPage("Verdict", tuple(blocks))


def checked_page(findings: Sequence[Finding], unit: FileUnit) -> TextPage | None:
    """What was checked and found right, with the rule of each; None where nothing was."""
    figures, notes = Figures(unit), _notes(findings)
    spoken = [one for one in notes if one.code in _SPEAKS]
    blocks: list[Block] = [_words_of_loads(spoken, figures)] if spoken else []
    blocks += _found_right([one for one in notes if one.code not in _SPEAKS and _is_measured(one)], figures)
    return TextPage("What was checked", tuple(blocks)) if blocks else None


def _notes(findings: Sequence[Finding]) -> list[Finding]:
    return [one for one in findings if one.severity == "note"]


def _summary(findings: Sequence[Finding]) -> str:
    counts = {kind: sum(one.severity == kind for one in findings) for kind in ("stop", "warn", "note")}
    head = "Do not make it before every stop is solved." if counts["stop"] else "Nothing found that forbids making it."
    words = ", ".join(
        f"{count} {name if count == 1 else name + 's'}"
        for name, count in (("stop", counts["stop"]), ("warning", counts["warn"]), ("note", counts["note"]))
    )
    return f"{head} {words}. {unchecked(findings)}"


def _finding_block(finding: Finding, figures: Figures) -> FindingBlock:
    lines = [
        joined((_value(finding, figures), finding.limit and f"limit: {_limit(finding, figures)}"), "; "),
        _worst(finding, figures),
        finding.contributors and f"made up of: {joined(finding.contributors[:4])}",
        figures.prose(finding.advice),
    ]
    text = "\n".join(sentence(line) for line in lines if line)
    changes = tuple(f"change {change}" for change in finding.changes)
    title = f"{plain(finding.address)}: {figures.prose(finding.title)}"
    return FindingBlock(finding.severity, title, text, sources_in_short(finding.source), changes)


def _found_right(right: Sequence[Finding], figures: Figures) -> Iterator[Table]:
    """Figures held against a limit, in one table."""
    names = [sources_in_short(one.source) or "this program" for one in right]
    sources = list(dict.fromkeys(names))
    rows = tuple(
        (
            f"{plain(one.address)}: {figures.prose(one.title)}", _amount(one.value or 0.0, one.unit, figures),
            _limit(one, figures), _worst_cell(one, figures), str(sources.index(name) + 1),
        )
        for one, name in zip(right, names, strict=True)
    )
    if rows:
        yield Table(
            ("what", "found", "limit", "at worst limits", "rule"), rows, (70.0, 25.0, 36.0, 37.0, 12.0), (),
            (
                "Rules: " + "; ".join(f"{number} {source}" for number, source in enumerate(sources, start=1)) + ".",
                "Walls and access at nominal size; gaps also with every size at its worst limit.",
            ),
            "Checked and found right", close=True,
        )


def _to_do(notes: Sequence[Finding], figures: Figures) -> Iterator[Table]:
    """Notes that want something done, or known."""
    others = tuple(
        (
            f"{plain(one.address)}: {figures.prose(one.title)}", figures.prose(one.advice or one.limit),
            sources_in_short(one.source),
        )
        for one in notes
        if not _is_measured(one) and one.code != "default"
    )
    if others:
        yield Table(
            ("what", "do", "source"), others, (62.0, 82.0, 36.0), (), (), "Still to be done or known", close=True
        )


def _words_of_loads(spoken: Sequence[Finding], figures: Figures) -> Table:
    """What must be set or known at the lathe: figures of load, thrust, screw, play and truth with their words."""
    rows = tuple(
        (
            figures.prose(one.title),
            "-" if one.value is None else _amount(one.value, one.unit, figures),
            _limit(one, figures) if any(sign.isdigit() for sign in one.limit) else "-",
            sentence(figures.prose(one.advice)),
        )
        for one in spoken
    )
    sources = joined((sources_in_short(one.source) for one in spoken), "; ")
    return Table(
        ("what", "found", "limit", "in words"), rows, (40.0, 20.0, 26.0, 94.0), (), (f"Sources: {sources}.",),
        "Loads, thrust, settings and truth", close=True,
    )


def _is_measured(finding: Finding) -> bool:
    """True for a figure held against a limit, False for advice."""
    has_limit = any(sign.isdigit() for sign in finding.limit)
    return has_limit and finding.value is not None and finding.code not in _TO_DO


def _limit(finding: Finding, figures: Figures) -> str:
    """The limit with its unit, turned into inches in an inch job."""
    if finding.unit == "mm":
        return figures.in_words(finding.limit)
    limit = finding.limit if finding.unit in finding.limit else f"{finding.limit} {finding.unit}"
    return figures.prose(limit)


def _worst_cell(finding: Finding, figures: Figures) -> str:
    if finding.worst_low is None or finding.worst_high is None:
        return "-"
    low, high = (_amount(value, finding.unit, figures) for value in (finding.worst_low, finding.worst_high))
    return f"{low.removesuffix(' ' + figures.unit)} to {high}"


def _value(finding: Finding, figures: Figures) -> str:
    return "" if finding.value is None else f"found: {_amount(finding.value, finding.unit, figures)}"


def _amount(value: float, unit: str, figures: Figures) -> str:
    return figures.quantity(value, unit)


def _worst(finding: Finding, figures: Figures) -> str:
    if finding.worst_low is None or finding.worst_high is None:
        return ""
    low, high = (_amount(value, finding.unit, figures) for value in (finding.worst_low, finding.worst_high))
    return f"at worst limits: {low} to {high}"


# --- cautions ----------------------------------------------------------------------------------------------------


def cautions_page(tool: Tool, findings: Sequence[Finding]) -> TextPage:
    """What can hurt, what is not checked, and whose word comes first.

    Source: HSE case and safety bulletin 21 (emery); worksafe.vic.gov.au (entanglement); lathe manuals on tailstock
    support and ejection; the rest is common practice, no source.
    """
    blocks: list[Block] = [Caution((unchecked(findings), *_LIMITS)), Caution(_AT_THE_LATHE)]
    if len(tool.made) > 1 or tool.turning:
        blocks.append(Caution(_IN_USE))
    blocks.append(Caution(_OUT_OF_THE_QUILL))
    blocks.append(
        Paragraph(
            "Sources: HSE case and Safety Bulletin 21 (emery), WorkSafe Victoria (entanglement), lathe manuals "
            "(tailstock support, ejection); otherwise common practice, no source.",
            "small",
        )
    )
    return TextPage("Cautions", tuple(blocks), far=True)


_LIMITS = (
    "No capacity is stated. No figure in this plan is a rating. Do not mark load or speed on the tool: "
    "mark drawing number, taper and date only.",
    "The manual of the machine, local codes and the licensed or trained practice of your trade come before this plan.",
    "Check every dimension against your own machine and rings before cutting.",
)
_AT_THE_LATHE = (
    "Glasses on, sleeves tight, no gloves, no rings or loose hair at a turning spindle. Key out of the chuck.",
    "Turn the work by hand for one revolution before starting. Carrier and its tail under a guard.",
    "Between centres: tailstock clamped to the bed, quill clamped, dead centre greased. Check again after the first "
    "cut: heat tightens, a dry centre squeals before it seizes.",
    "Work that loses its tailstock support may be thrown out: quill short, clamped, and checked while it warms up.",
    "Emery never by hand round the work: tool post or backing boards, spindle guard on. File left-handed.",
    "Set-over: bring the tailstock back and prove it with a test bar before the next job.",
    "Hardening: oil burns, water in hot salt erupts. Glasses for the quench and for grinding.",
)
_IN_USE = (
    "First run: behind the guard, from low speed upwards, in steps; stop and feel for heat at each.",
    "Never spin bearings with compressed air. No loose cover while it turns. Watch the handwheel: too much thrust "
    "means heat and a short life.",
)
_OUT_OF_THE_QUILL = (
    "Spindle off before you reach in. One hand under the tool when the quill is wound back: it drops.",
    "Clean and dry taper and socket before seating. Never steel hammer on hard steel.",
)
