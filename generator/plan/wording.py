"""Small turns of phrase that several pages share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from textwrap import wrap

from generator.description import Tool
from generator.making.figures import Figures

__all__ = ["BOX", "estimated_height_mm", "joined", "part_titles", "plain", "run_out", "sentence"]


BOX = "\u2610"
"""A box to tick."""

# Shop figures of the page as it is set: text 9.5 points high, about 1.9 mm to the letter, 4.23 mm to the line.
_LETTER_MM, _LINE_MM, _ROW_MM, _SIDES_MM = 1.9, 4.23, 4.6, 2.8


def estimated_height_mm(rows: Iterable[Sequence[str]], widths_mm: Sequence[float]) -> float:
    """About how high a table of these rows stands on the page; good enough to choose the shorter of two wordings."""
    return sum(
        _ROW_MM + _LINE_MM * max(_lines(text, width) for text, width in zip(row, widths_mm, strict=True))
        for row in rows
    )


def _lines(text: str, width_mm: float) -> int:
    """Lines that a text takes in a column, words kept whole."""
    room = max(1, int((width_mm - _SIDES_MM) / _LETTER_MM))
    return sum(max(1, len(wrap(line, room))) for line in text.split("\n"))


def plain(address: str) -> str:
    """An address as words: "body/cover_recess" becomes "body, cover recess"."""
    return address.replace("/", ", ", 1).replace("/", " ").replace("_", " ")


def joined(texts: Iterable[str], between: str = ", ") -> str:
    """The texts that are not empty, each once."""
    return between.join(dict.fromkeys(text for text in texts if text))


def sentence(text: str) -> str:
    """The text with a capital at its head and a stop at its end."""
    trimmed = text.strip()
    if not trimmed:
        return ""
    return trimmed[0].upper() + trimmed[1:] + ("" if trimmed[-1] in ".!?" else ".")


def part_titles(tool: Tool, names: Sequence[str]) -> str:
    """Titles of parts by name; a name that is no part stands as it is."""
    return joined(tool.parts[name].title if name in tool.parts else name for name in names)


def run_out(figures: Figures, low_mm: float | None, high_mm: float | None) -> str:
    """A run-out from low to high with its unit, or a dash where there is none."""
    if low_mm is None or high_mm is None:
        return "-"
    if abs(high_mm - low_mm) < 1e-9:
        return figures.length(high_mm, 3)
    return f"{figures.bare(low_mm, 3)} to {figures.length(high_mm, 3)}"
