"""Rows of the set-up pages: one operation each, what it is set to, and the figure to stop at."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence

from generator.making.figures import Figures
from generator.making.operations import Operation
from generator.making.workshop import Workshop
from generator.plan.operation_fields import drilled_deep, setting_fields, stop_fields
from generator.plan.wording import sentence
from generator.prints.content import OperationRow, Reach

__all__ = ["cautions_of", "operation_rows", "reaches", "shared_cautions", "without_likes"]

_SENTENCE = re.compile(r"(?<=[.!]) +(?=[A-Z])")
_FIGURE = re.compile(
    r"(?P<before>.*?)(?P<figure>(?:[-+±] ?)?\d[\d./]*(?: to [-+]?\d[\d./]*)?"
    r"(?: (?:mm|in|deg|°C|°F)\b|°| \+\d+ HRC)(?: x \d[\d.]* deg)?|[MG]\d[^ ]*(?: x [\d.]+)?)(?P<after>.*)",
    re.DOTALL,
)
_LONGEST = 34
"""A figure of more characters than this is told in ordinary size. Shop choice."""

_ALIKE = 0.7
"""Share of the longer words of one caution in another from which they say the same. Shop choice."""
_WORD = re.compile(r"[a-z]{4,}")


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


def without_likes(lines: Sequence[str], others: Sequence[str] = ()) -> tuple[str, ...]:
    """The lines, without those that another one, or one of the `others`, says as well in more words.

    >>> without_likes(["Clear swarf often: a long drill packs."], ["A long drill packs: clear swarf often, no hand."])
    ()
    """
    kept = tuple(dict.fromkeys(lines))
    every = (*kept, *others)
    return tuple(one for one in kept if not any(_is_said_by(one, other) for other in every if other != one))


def _is_said_by(line: str, other: str) -> bool:
    words, others = set(_WORD.findall(line.casefold())), set(_WORD.findall(other.casefold()))
    return len(words) < len(others) and len(words & others) >= _ALIKE * len(words) > 0


def operation_rows(
    operations: Sequence[Operation], workshop: Workshop, figures: Figures, told: frozenset[str]
) -> tuple[OperationRow, ...]:
    """One row for each operation; cautions that are `told` above are left out."""
    return tuple(
        OperationRow(
            one.number,
            sentence(figures.prose(one.step.text)),
            tuple(setting_fields(one, workshop, figures)),
            tuple(reaches(_one_depth(one, figures))),
            tuple(stop_fields(one, workshop, figures)),
            " ".join(figures.prose(line) for line in cautions_of(one.caution) if line not in told),
        )
        for one in operations
    )


_HOLD = re.compile(r"^hold start\b", re.MULTILINE)
_DEPTH = re.compile(r"(?:^|, |(?<=mm ))[\d.]+ (?:mm|in) (?:deep|from the [a-z]).*$", re.MULTILINE)


def _one_depth(one: Operation, figures: Figures) -> str:
    """What to reach; a drill's depth is the figure that its dial is set by, in place of a rounded one."""
    deep = drilled_deep(one, figures)
    if not deep:
        return _HOLD.sub("start of the hold", one.to)
    lines = [line for line in _DEPTH.sub("", one.to).split("\n") if line]
    return "\n".join((*lines, deep))


def reaches(text: str) -> Iterator[Reach]:
    """What to reach, line by line: the figure apart from the words before and after it.

    >>> next(reaches("pocket 1 depth 24.050 to 24.250 mm"))
    Reach(figure='24.050 to 24.250 mm', before='pocket 1 depth', after='')
    >>> next(reaches("depth = measured stack + 0.03 mm, ±0.015 mm"))
    Reach(figure='= measured stack + 0.03 mm', before='depth', after='±0.015 mm')
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
        # Between a figure and its unit no line is broken.
        yield Reach(figure, before, after.replace(" °C", "\u00a0°C"))
