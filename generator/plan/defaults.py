"""One table of what the plan takes for granted: figures of shop and job that nobody gave, and where each comes from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.description import Choices
from generator.making.figures import Figures
from generator.making.operations import Operation
from generator.making.workshop import BoringBar, Chuck, Cutter, Dial, Drill, Reamer, Workshop
from generator.plan.shop_words import SIGN, shop_words
from generator.plan.wording import in_short, joined, sources_in_short
from generator.prints.content import Block, Paragraph, Table, TextPage
from generator.units import FileUnit

__all__ = ["defaults_page"]

_MANY = 9
"""Tools of one kind that are named one by one. Shop choice."""
_UNSURE = ("from memory", "no source", "estimated")


def defaults_page(
    choices: Choices, operations: Sequence[Operation], workshop: Workshop, unit: FileUnit
) -> TextPage | None:
    """Figures of the shop with the operations that rest on them, then those of the job; None where all is given."""
    figures = Figures(unit)
    blocks: list[Block] = []
    shop = tuple(_of_shop(operations, workshop, figures))
    if shop:
        blocks.append(Table(
            ("of the shop", "taken as", "where it comes from", "rests on it"), shop,
            (36.0, 70.0, 40.0, 34.0), (),
            (f"Marked {SIGN} on the pages of the set-ups. Measure yours and write it into the shop file; then run the "
             "job again.",), "Of the shop", close=True,
        ))  # fmt: skip
    job = tuple(_of_job(choices, figures))
    if job:
        blocks.append(Table(
            ("", "address", "value", "where it comes from"), job, (17.0, 50.0, 26.0, 87.0), (),
            ("Measure what is marked default and write it into the job.",), "Of the job", close=True,
        ))  # fmt: skip
    unsure = (size.source for size in choices.sizes.values() if any(word in size.source for word in _UNSURE))
    sources = joined((sources_in_short(one) for one in unsure if not one.startswith("default:")), "; ")
    if sources:
        blocks.append(Paragraph(f"Sizes that rest on memory or practice: {sources}.", "small"))
    return TextPage("What rests on a default", tuple(blocks)) if blocks else None


def _of_shop(
    operations: Sequence[Operation], workshop: Workshop, figures: Figures
) -> Iterator[tuple[str, ...]]:
    used: dict[str, list[str]] = {}
    for one in operations:
        for name in one.rests_on:
            if workshop.is_default(name):
                used.setdefault(name, []).append(one.number)
    for name, numbers in sorted(used.items(), key=lambda one: (-len(one[1]), one[0])):
        source = sources_in_short(workshop.sources.get(name, ""))
        yield shop_words(name), _value(name, getattr(workshop, name), figures), source, in_short(numbers)


def _value(name: str, value: object, figures: Figures) -> str:
    """A figure of the shop in words."""
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "in steps" if value else "without steps"
    if isinstance(value, Dial):
        if value.reads_diameter:
            # Half of it is travel: a dial marked so is told from one that merely moves so far.
            return (
                f"{figures.length(2 * value.division_mm, 3)} on the diameter a division, "
                f"{figures.length(value.division_mm, 3)} of travel; {figures.length(value.turn_mm)} of travel a turn"
            )
        read = "on the radius"
        if name in {"carriage_dial", "quill_dial"}:
            read = "along the bed"
        return f"{figures.length(value.division_mm, 3)} a division, {figures.length(value.turn_mm)} a turn, {read}"
    if isinstance(value, tuple):
        return joined(_item(name, one, figures) for one in value) if len(value) <= _MANY else _many(value, figures)
    if isinstance(value, float) and name.endswith("_c"):
        return figures.prose(f"{value:g} °C")
    if isinstance(value, float) and name.endswith("_mm"):
        return figures.length(value, 3 if value < 0.1 else 2)
    return f"Morse {value}" if name.endswith("_taper") else f"{value:g}" if isinstance(value, float) else str(value)


def _item(name: str, one: object, figures: Figures) -> str:
    if isinstance(one, Chuck):
        return f"{one.kind} to {figures.length(one.most_mm)}"
    if isinstance(one, BoringBar):
        return f"{figures.length(one.bar_mm)} from a bore of {figures.length(one.least_bore_mm)}"
    if isinstance(one, Cutter):
        return one.name
    if isinstance(one, Drill | Reamer):
        return figures.length(one.diameter_mm)
    return f"{one:g} rpm" if name == "speeds_rpm" and isinstance(one, float) else str(one)


def _many(values: tuple[object, ...], figures: Figures) -> str:
    sizes = [one.diameter_mm if isinstance(one, Drill | Reamer) else one.bar_mm for one in values
             if isinstance(one, Drill | Reamer | BoringBar)]  # fmt: skip
    if not sizes:
        return joined(str(one) for one in values)
    return f"{len(values)}, {figures.length(min(sizes))} to {figures.length(max(sizes))}"


def _of_job(choices: Choices, figures: Figures) -> Iterator[tuple[str, ...]]:
    """Parameters nobody gave, whose value is a default or comes from memory or mere practice."""
    for choice in choices.parameters.values():
        if choice.is_default or (not choice.given and any(word in choice.rule for word in _UNSURE)):
            rule = sources_in_short(choice.rule.removeprefix("default: "))
            yield "default" if choice.is_default else "rule", choice.address, _shown(
                choice.value, choice.unit, figures
            ), rule


def _shown(value: float | str | int | bool, unit: str, figures: Figures) -> str:
    if isinstance(value, float):
        return figures.quantity(value, unit)
    return f"{value} {unit}".strip()
