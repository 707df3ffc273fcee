"""Small turns of phrase that several pages share."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from generator.description import Tool
from generator.making.figures import Figures
from generator.making.setups import SetUp

__all__ = [
    "BOX", "headed", "in_short", "joined", "part_titles", "plain", "run_out", "sentence", "sources_in_short",
    "without_part",
]


BOX = "\u2610"
"""A box to tick."""

def plain(address: str) -> str:
    """An address as words: "body/cover_recess" becomes "body, cover recess"."""
    return address.replace("/", ", ", 1).replace("/", " ").replace("_", " ")


def joined(texts: Iterable[str], between: str = ", ") -> str:
    """The texts that are not empty, each once."""
    return between.join(dict.fromkeys(text for text in texts if text))


_FEW = 4
"""Operations that are told one by one. Shop choice."""


def in_short(numbers: Sequence[str]) -> str:
    """Numbers of operations; where they are many, the set-ups in which they are.

    >>> in_short(["1.1", "1.2"]), in_short(["1.1", "2.2", "3.1", "3.4", "5.1"])
    ('1.1, 1.2', 'set-ups 1 to 3, 5')
    """
    each = tuple(dict.fromkeys(numbers))
    if len(each) <= _FEW:
        return joined(each)
    runs: list[list[int]] = []
    for one in sorted({int(number.partition(".")[0]) for number in each}):
        if runs and runs[-1][-1] == one - 1:
            runs[-1].append(one)
        else:
            runs.append([one])
    shown = joined(f"{run[0]} to {run[-1]}" if len(run) > 2 else joined(map(str, run)) for run in runs)
    return f"set-up {shown}" if len(runs) == len(runs[0]) == 1 else f"set-ups {shown}"


def sentence(text: str) -> str:
    """The text with a capital at its head and a stop at its end."""
    trimmed = text.strip()
    if not trimmed:
        return ""
    return trimmed[0].upper() + trimmed[1:] + ("" if trimmed[-1] in ".!?" else ".")


def part_titles(tool: Tool, names: Sequence[str]) -> str:
    """Titles of parts by name; a name that is no part stands as it is."""
    return joined(tool.parts[name].title if name in tool.parts else name for name in names)


def headed(tool: Tool, setup: SetUp) -> str:
    """The title of a set-up, with the part in front where it does not name it already."""
    titles = part_titles(tool, setup.parts)
    return setup.title if ":" in setup.title or setup.title.startswith(titles) else f"{titles}: {setup.title}"


def without_part(address: str, setup: SetUp) -> str:
    """The address as words, without its part where the set-up holds only that one."""
    part, _, name = address.partition("/")
    return name.replace("_", " ") if name and setup.parts == (part,) else plain(address)


_ADDRESS = re.compile(
    r"(?:,? |\()?\b(?:https?://)?(?:[a-z0-9-]+\.)+(?:com|org|net|gov|edu|info|eu|au|uk|de|ca|nz|ch|se|us)\b(?:/[^\s,;)]*)?",
    re.IGNORECASE,
)


def sources_in_short(text: str) -> str:
    """Where a figure comes from, by title: an address of the web is of no use on paper.

    >>> sources_in_short("long-shaft tuning, anebonmetal.com: from 10 diameters")
    'long-shaft tuning: from 10 diameters'
    """
    short = _ADDRESS.sub("", text)
    short = re.sub(r"\(\s*\)", "", short)
    return re.sub(r"\s{2,}", " ", re.sub(r"\s+([,;:.])", r"\1", short)).strip(" ,;")


def run_out(figures: Figures, low_mm: float | None, high_mm: float | None) -> str:
    """A run-out from low to high with its unit, or a dash where there is none."""
    if low_mm is None or high_mm is None:
        return "-"
    if abs(high_mm - low_mm) < 1e-9:
        return figures.length(high_mm, 3)
    return f"{figures.bare(low_mm, 3)} to {figures.length(high_mm, 3)}"
