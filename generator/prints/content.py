"""What a bench plan says, in order and in words; nothing here knows how it is printed.

Texts are plain: no mark-up, a line break is a new line. Lengths are millimetres on paper.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from generator.ink.model import Ink

__all__ = [
    "Align",
    "Block",
    "Caution",
    "Figure",
    "FindingBlock",
    "KeyValue",
    "KeyValues",
    "Paragraph",
    "Plan",
    "Severity",
    "SheetPage",
    "Step",
    "Steps",
    "Table",
    "TextPage",
]

Align = Literal["left", "centre", "right"]
Severity = Literal["stop", "warn", "note"]


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text; `strong` is a heading inside a page and stays with what follows."""

    text: str
    style: Literal["body", "small", "strong"] = "body"


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings that are repeated on every page.

    Widths are wished for and shrink in proportion where the page is narrower; without them columns are equal. Columns
    without an alignment are set left. Notes stand below.
    """

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths_mm: tuple[float, ...] = ()
    align: tuple[Align, ...] = ()
    notes: tuple[str, ...] = ()
    title: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One operation: what to do, how the work is held, with which tool or to which size, and what can go wrong."""

    number: str
    what: str
    holding: str = ""
    tool: str = ""
    caution: str = ""


@dataclass(frozen=True, slots=True)
class Steps:
    """Operations in order, each with a box to tick."""

    rows: tuple[Step, ...]
    title: str = ""


@dataclass(frozen=True, slots=True)
class Caution:
    """Lines that must be seen before work begins, in a heavy frame."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class KeyValue:
    """One figure to set or to know; a large one is read from where the lathe's handles are."""

    label: str
    value: str
    note: str = ""
    large: bool = False


@dataclass(frozen=True, slots=True)
class KeyValues:
    """A box of settings."""

    rows: tuple[KeyValue, ...]
    title: str = ""


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture among the text; without a width it stands at full size, and shrinks only where the page is smaller."""

    ink: Ink
    width_mm: float | None = None
    caption: str = ""


@dataclass(frozen=True, slots=True)
class FindingBlock:
    """One finding, with what to change, each change as a line of text."""

    severity: Severity
    title: str
    text: str
    source: str = ""
    changes: tuple[str, ...] = ()


Block = Paragraph | Table | Steps | Caution | KeyValues | Figure | FindingBlock


@dataclass(frozen=True, slots=True)
class TextPage:
    """A page of text, and as many more as it needs; A4 upright."""

    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class SheetPage:
    """One sheet of drawing, alone on a page of exactly its size."""

    ink: Ink
    bookmark: str


@dataclass(frozen=True, slots=True)
class Plan:
    """A whole bench plan; `footer` is the caution that stands at the foot of every page of text."""

    title: str
    subtitle: str
    number: str
    date: str
    author: str
    footer: str
    items: tuple[SheetPage | TextPage, ...]
