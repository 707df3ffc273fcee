"""How flats come about in this shop: milled, milled on the vertical slide, or filed by hand."""

from __future__ import annotations

from typing import Literal, NamedTuple

from generator.making.workshop import Milling, Workshop

__all__ = ["FILED", "FlatCut", "flat_cut", "flat_how"]

FILED = "hacksaw, second-cut and smooth file"
"""Tools of a flat that is filed. Common practice, no source."""

_MILL = "end mill in a collet, never in a drill chuck"


class FlatCut(NamedTuple):
    """An operation that makes flats: kind of work, words, tool."""

    work: Literal["mill", "file"]
    text: str
    tool: str


def flat_cut(shop: Workshop, what: str) -> FlatCut:
    """The operation that makes `what` ("two flats", "the tang", "the flat") in this shop.

    Source: common practice, no source.
    """
    words: dict[Milling, str] = {
        "machine": f"mill {what}",
        "slide": f"mill {what} on the vertical slide",
        "none": f"saw beside the line, file {what} by hand",
    }
    filed = shop.milling == "none"
    return FlatCut("file" if filed else "mill", words[shop.milling], FILED if filed else _MILL)


def flat_how(milling: Milling, *, both: bool) -> tuple[str, ...]:
    """How it is set for where no machine mills it; `both` where a second flat stands opposite the first.

    Source: common practice, no source.
    """
    if milling == "slide":
        return ("work clamped in the vertical slide, end mill in the spindle by collet and drawbar, saddle locked",)
    if milling == "none":
        second = "; the other side half a turn round, the first flat on a parallel" if both else ""
        return (f"on a filing rest: two hardened rollers set to the height of the flat{second}",)
    return ()
