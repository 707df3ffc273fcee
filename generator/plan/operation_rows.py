"""Rows of the set-up pages: one operation each, what it is set to, and the figure to stop at."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence

from generator.making.figures import Figures
from generator.making.operations import Operation
from generator.making.workshop import Workshop
from generator.plan.shop_words import SIGN
from generator.plan.wording import sentence
from generator.prints.content import OperationRow, Reach
from generator.units import text_of

__all__ = ["cautions_of", "operation_rows", "shared_cautions"]

_SENTENCE = re.compile(r"(?<=[.!]) +(?=[A-Z])")
_FIGURE = re.compile(
    r"(?P<before>.*?)(?P<figure>(?:[-+±] ?)?\d[\d./]*(?: to [-+]?\d[\d./]*)?"
    r"(?: (?:mm|in|deg|°C|°F)\b|°| \+\d+ HRC)(?: x \d[\d.]* deg)?|[MG]\d[^ ]*(?: x [\d.]+)?)(?P<after>.*)",
    re.DOTALL,
)
_LONGEST = 34
"""A figure of more characters than this is told in ordinary size. Shop choice."""

_GAP = re.compile(r"least gap (\d+(?:\.\d+)?)")
_TIGHT_MM = 5.0
"""Room past the centre below which it is told. Shop choice."""
_RANGE = re.compile(r"^[\d.]+ to [\d.]+ m/min$")
_DIALS = frozenset({"cross_dial", "top_dial", "carriage_dial", "quill_dial"})
_SPEEDS = frozenset({"speeds_rpm", "has_steps"})
_GAUGES = frozenset({"micrometer_mm", "indicator_mm"})


def cautions_of(text: str) -> tuple[str, ...]:
    """The sentences of a caution, each with a capital and a stop.

    >>> cautions_of("Clear swarf often. No hand near it")
    ('Clear swarf often.', 'No hand near it.')
    """
    return tuple(sentence(one) for one in _SENTENCE.split(text.strip()) if one)


def shared_cautions(operations: Sequence[Operation]) -> tuple[str, ...]:
    """Cautions that more than one operation of a set-up carries: they are told once, above them."""
    counts = Counter(one for operation in operations for one in dict.fromkeys(cautions_of(operation.caution)))
    return tuple(one for one, count in counts.items() if count > 1)


def operation_rows(
    operations: Sequence[Operation], workshop: Workshop, figures: Figures, told: frozenset[str]
) -> tuple[OperationRow, ...]:
    """One row for each operation; cautions that are `told` above are left out."""
    return tuple(
        OperationRow(
            one.number,
            sentence(figures.prose(one.step.text)),
            _flowing(_settings(one, workshop, figures)),
            tuple(reaches(one.to)),
            _flowing(_stops(one, workshop, figures)),
            " ".join(figures.prose(line) for line in cautions_of(one.caution) if line not in told),
        )
        for one in operations
    )


def reaches(text: str) -> Iterator[Reach]:
    """What to reach, line by line: the figure apart from the words before and after it.

    >>> next(reaches("pocket 1 depth 24.050 to 24.250 mm"))
    Reach(figure='24.050 to 24.250 mm', before='pocket 1 depth', after='')
    >>> next(reaches("depth = measured stack + 0.03 mm, +0.015 mm -0.015 mm"))
    Reach(figure='= measured stack + 0.03 mm', before='depth', after='+0.015 mm -0.015 mm')
    """
    for line in text.split("\n"):
        if " = " in line or line.startswith("= "):
            # A size made to measure is one expression; its last term alone would be read as the size.
            before, _, rest = line.partition("= ")
            figure, _, after = rest.partition(", ")
            yield Reach(f"= {figure}", before.strip(), after)
            continue
        found = _FIGURE.fullmatch(line)
        if found is None or len(found["figure"]) > _LONGEST:
            if line:
                yield Reach("", line)
            continue
        before, figure, after = (found[key].strip(" ,;") for key in ("before", "figure", "after"))
        yield Reach(figure, before, after)


def _mark(one: Operation, workshop: Workshop, names: frozenset[str]) -> str:
    return SIGN if any(name in names and workshop.is_default(name) for name in one.rests_on) else ""


def _settings(one: Operation, workshop: Workshop, figures: Figures) -> Iterator[str]:
    """Cutter; speed and feed; passes and the rest of the way; whether the tool gets there."""
    others = frozenset(one.rests_on) - _DIALS - _SPEEDS - _GAUGES
    mark = _mark(one, workshop, others)
    tools = [f"{sentence(figures.prose(one.cutter)).rstrip('.')}{mark}"] if one.cutter else []
    speed = [] if one.rpm is None else [f"{one.rpm:g} rpm{_mark(one, workshop, _SPEEDS)}"]
    if one.feed_mm is not None:
        speed.append(f"feed {_fine(one.feed_mm, figures)} a turn")
    if one.passes is not None and one.depth_mm is not None and not any("pass" in line for line in one.how):
        speed.append(f"{one.passes} x {_fine(one.depth_mm, figures)} deep")
    if tools or speed:
        yield ", ".join((*tools, *speed))
    if one.tools and not all(any(also in line for line in one.how) for also in one.tools):
        yield f"With it: {', '.join(one.tools)}."
    if one.speed_note and not _RANGE.match(one.speed_note):
        yield sentence(figures.prose(one.speed_note))
    yield from (sentence(figures.prose(line)) for line in one.how)
    if one.access and (one.blocked or _is_tight(one.access)):
        yield sentence(figures.prose(one.access))


def _is_tight(access: str) -> bool:
    """True where the tool passes, but with less room than a turner sees from where he stands."""
    found = _GAP.search(access)
    return found is None or float(found[1]) < _TIGHT_MM


def _flowing(lines: Iterator[str]) -> tuple[str, ...]:
    """Lines run on into one paragraph: the first of them stays the one that sets the machine."""
    text = " ".join(line if line.endswith((".", "!", ":")) else f"{line}." for line in lines)
    return (text,) if text else ()


def _fine(value_mm: float, figures: Figures) -> str:
    return f"{text_of(value_mm, 'in', 4)} in" if figures.unit == "in" else f"{round(value_mm, 3):g} mm"


def _stops(one: Operation, workshop: Workshop, figures: Figures) -> Iterator[str]:
    """Where to stop on the dials, part by part, and what to measure with."""
    lines = [part for part in one.stop.split("; ") if part]
    for index, line in enumerate(lines):
        mark = _mark(one, workshop, _DIALS) if index == len(lines) - 1 else ""
        yield f"{sentence(figures.prose(line)).rstrip('.')}{mark}."
    if one.instrument:
        yield f"Measure: {figures.prose(one.instrument)}{_mark(one, workshop, _GAUGES)}."
