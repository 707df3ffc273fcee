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
_QUESTIONS: tuple[tuple[str, frozenset[str]], ...] = (
    ("Do the bearings suit their seats and pocket?",
     frozenset({"fit_inner", "fit_outer", "clearance_left", "collar", "shoulder", "housing_shoulder", "play"})),
    ("Does everything fit in, clear of what turns?", frozenset({"gap", "assembly", "dismantling", "sealing"})),
    ("Do the walls hold?", frozenset({
        "wall", "flats_wall", "pocket_wall", "rim_wall", "groove_wall", "floor_wall", "shank_wall", "head_wall"})),
    ("Does the tool get in?", frozenset({"access"})),
    ("Does the shank hold, and come out?", frozenset({"grip", "rubbing"})),
    ("Is it strong, stiff and fast enough?", frozenset({
        "static", "thrust", "life", "speed", "strength", "half_strength", "pressure", "deflection", "lever"})),
    ("Is it held together?", frozenset({"screw", "nut", "hold", "clamp", "stripping", "retention"})),
    ("Does the point bear and run true?", frozenset({"point", "flank", "half", "offset", "runout", "lost_motion"})),
    ("Can it be made so?", frozenset({"bar", "bar_length", "order-earned"})),
)
"""What a reader asks of the tool, and the findings that answer."""
_EACH = frozenset({
    "static", "thrust", "play", "screw", "nut", "deflection", "offset", "runout",
    "lost_motion", "grip", "rubbing", "strength", "half_strength", "pressure", "life", "speed", "access", "fit_inner",
    "fit_outer", "lever", "clearance_left",
})
"""Findings whose own figure is told; of the others only how many there are, and the nearest to its limit."""
_SPEAKS = frozenset({"thrust", "play", "screw", "nut", "rubbing"})
"""Findings whose words are wanted at the bench beside their figure."""


def verdict_page(findings: Sequence[Finding], unit: FileUnit) -> TextPage:
    """Stops and warnings, and what is still to be done or known."""
    figures = Figures(unit)
    serious = [finding for finding in by_severity(findings) if finding.severity != "note"]
    blocks: list[Block] = [Paragraph(_summary(findings)), *(_finding_block(one, figures) for one in serious)]
    blocks += _to_do([one for one in _notes(findings) if one.code not in _ANSWERS], figures)
    return TextPage("Verdict", tuple(blocks))


def checked_page(findings: Sequence[Finding], unit: FileUnit) -> TextPage | None:
    """What was found right, by what a reader asks; None where nothing was. Every figure stands in the record."""
    figures = Figures(unit)
    right = _notes(findings)
    rows = [row for question, codes in _QUESTIONS
            for row in _answer(question, [one for one in right if one.code in codes], figures)]  # fmt: skip
    rest = [one for one in right if one.code not in _ANSWERS and _is_measured(one)]
    rows += _answer("And besides?", rest, figures)
    duty = [Paragraph(sentence(figures.prose(f"{one.title}: {one.advice}"))) for one in right if one.code in _DUTY]
    if not rows:
        return None
    note = (
        "All of it is found right. Each figure with its rule, sources and worst limits stands in record.json, and "
        "`tailstock check` prints it. Walls and access at nominal size, gaps also with every size at its worst."
    )
    table = Table(("what", "found", "limit"), tuple(rows), (108.0, 32.0, 40.0), (), (note,), close=True)
    return TextPage("What was checked", (*duty, table))


_DUTY = frozenset({"duty", "duty-default"})
_ANSWERS = _DUTY.union(*(codes for _, codes in _QUESTIONS))


def _answer(question: str, found: Sequence[Finding], figures: Figures) -> Iterator[tuple[str, str, str]]:
    """The question, then a row for each finding that is told by itself, and one that counts the others."""
    told = [one for one in found if one.code in _EACH or not _is_measured(one)]
    others = [one for one in found if one.code not in _EACH and _is_measured(one)]
    if found:
        yield question.upper(), "", ""
    for one in told:
        words = f"{figures.prose(one.title)}"
        if one.code in _SPEAKS and one.advice:
            words += f": {figures.prose(one.advice)}"
        limit = _limit(one, figures) if any(sign.isdigit() for sign in one.limit) else ""
        yield sentence(words), "" if one.value is None else _amount(one.value, one.unit, figures), limit
    if others:
        yield f"{len(others)} {'more ' if told else ''}figures, each within its limit.", "right", ""


def _notes(findings: Sequence[Finding]) -> list[Finding]:
    return [one for one in findings if one.severity == "note"]


def _summary(findings: Sequence[Finding]) -> str:
    counts = {kind: sum(one.severity == kind for one in findings) for kind in ("stop", "warn")}
    head = "Do not make it before every stop is solved." if counts["stop"] else "Nothing found that forbids making it."
    words = ", ".join(
        f"{count} {name if count == 1 else name + 's'}"
        for name, count in (("stop", counts["stop"]), ("warning", counts["warn"]))
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


def _value(finding: Finding, figures: Figures) -> str:
    return "" if finding.value is None else f"found: {_amount(finding.value, finding.unit, figures)}"


def _amount(value: float, unit: str, figures: Figures) -> str:
    # More digits than the reckoning carries would look like knowledge.
    return figures.quantity(value, unit) if unit in {"mm", "in"} else figures.quantity(float(f"{value:.4g}"), unit)


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
            "Sources: HSE case, Safety Bulletin 21; WorkSafe Victoria; lathe manuals; common practice.",
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
