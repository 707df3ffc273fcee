"""The diameter that an outside thread is cut on: a little under its nominal size."""

from __future__ import annotations

from generator import tables
from generator.description import Part, Surface
from generator.errors import TableError

__all__ = ["blank_words", "thread_blank_mm", "under_mm"]

_SHARE = 0.1
"""What a blank is under the nominal diameter, as a share of the pitch. Common practice, no source."""


def under_mm(pitch_mm: float) -> float:
    """What the blank of an outside thread is under its nominal diameter, in whole hundredths.

    Source: common practice, no source; the crest so lies within 6g of ISO 965-1.

    >>> under_mm(1.0)
    0.1
    """
    return round(_SHARE * pitch_mm, 2)


def thread_blank_mm(part: Part, surface: Surface) -> float | None:
    """The diameter that an outside surface is turned to for its thread; None where it carries none that is known.

    Source: see `under_mm`.
    """
    if surface.side != "outside" or not surface.diameter.derived:
        return None
    zone = next((one for one in part.zones if one.form == "thread" and one.surface == surface.name), None)
    if zone is None:
        return None
    try:
        pitch_mm = tables.thread(zone.text.split("-")[0].strip()).pitch_mm
    except TableError:
        return None
    return round(surface.diameter.nominal_mm - under_mm(pitch_mm), 3)


def blank_words(part: Part, surface: Surface) -> str:
    """The size of a diameter that a thread goes on or in, in words; "" for any other.

    Source: see `under_mm`.
    """
    if not surface.diameter.derived:
        return ""
    blank_mm = thread_blank_mm(part, surface)
    return f"dia {surface.diameter.nominal_mm if blank_mm is None else blank_mm:g} mm, for the thread"
