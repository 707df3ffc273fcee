"""Pages of settings for the tapers and points of a tool, read at the lathe: what to set, then what to check."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from generator.making.settings import Setting
from generator.plan.wording import joined, sources_in_short
from generator.prints.content import Block, KeyValue, KeyValues, Paragraph, TextPage

__all__ = ["settings_pages"]

_TITLES = {False: "Settings for the taper", True: "Check and prove the taper"}


def settings_pages(settings: Sequence[Setting]) -> tuple[TextPage, ...]:
    """What to set, then what is wanted after the first cut, one box for each heading; none without a setting."""
    return tuple(
        TextPage(title, tuple(_blocks([one for one in settings if one.after is after])), far=True)
        for after, title in _TITLES.items()
        if any(one.after is after for one in settings)
    )


def _blocks(settings: Sequence[Setting]) -> Iterator[Block]:
    for heading, group in groupby(settings, key=lambda one: one.group):
        yield KeyValues(tuple(KeyValue(one.label, one.value, one.note, one.main) for one in group), heading)
    if any("(default)" in one.value + one.note for one in settings):
        yield Paragraph("(default): nobody gave this figure. Measure yours and write it into the shop file.")
    sources = joined((sources_in_short(source) for one in settings for source in one.source.split("; ")), "; ")
    yield Paragraph(f"Sources: {sources}.", "small")
