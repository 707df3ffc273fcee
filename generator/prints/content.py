"""What a bench plan says, in order and in words; nothing here knows how it is printed.

Texts are plain: no mark-up, a line break is a new line. Lengths are millimetres on paper.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from generator.ink.model import Ink

__all__ = [
    "Align",
    "Beside",
    "Block",
    "Caution",
    "Facts",
    "Field",
    "Figure",
    "FindingBlock",
    "Group",
    "HoldingRow",
    "KeyValue",
    "KeyValues",
    "OperationRow",
    "Operations",
    "Paragraph",
    "Plan",
    "Reach",
    "Severity",
    "SheetPage",
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
    without an alignment are set left. Notes stand below. `close` rows leave no room to write in.
    """

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths_mm: tuple[float, ...] = ()
    align: tuple[Align, ...] = ()
    notes: tuple[str, ...] = ()
    title: str = ""
    close: bool = False


@dataclass(frozen=True, slots=True)
class Field:
    """A figure or a few words behind the label that says what they are."""

    label: str
    text: str


@dataclass(frozen=True, slots=True)
class Facts:
    """Labelled words, each on lines of its own."""

    fields: tuple[Field, ...]


@dataclass(frozen=True, slots=True)
class Reach:
    """A figure to stop at, printed largest, with the words before and after it in ordinary size."""

    figure: str
    before: str = ""
    after: str = ""


@dataclass(frozen=True, slots=True)
class OperationRow:
    """One operation with a box to tick.

    `stops` say where the figures to stop at are on the dials and what to measure with. `settings` are cutter, speed,
    feed and passes. `caution` stands in a frame in the row itself.
    """

    number: str
    what: str
    settings: tuple[Field, ...] = ()
    figures: tuple[Reach, ...] = ()
    stops: tuple[Field, ...] = ()
    caution: str = ""


@dataclass(frozen=True, slots=True)
class Caution:
    """Lines that must be seen before work begins, in a heavy frame under a word of warning."""

    lines: tuple[str, ...]
    word: str = "CAUTION"


@dataclass(frozen=True, slots=True)
class HoldingRow:
    """A line across the operations of a table: from here on the work is held anew, as its fields say."""

    number: str
    title: str
    fields: tuple[Field, ...] = ()
    cautions: tuple[Caution, ...] = ()


@dataclass(frozen=True, slots=True)
class Operations:
    """Operations in order; the heading is repeated on every page that they run on to."""

    heading: str
    rows: tuple[OperationRow | HoldingRow, ...]


@dataclass(frozen=True, slots=True)
class KeyValue:
    """One figure to set or to know; a large one is read from where the lathe's handles are."""

    label: str
    value: str
    note: str = ""
    large: bool = False


@dataclass(frozen=True, slots=True)
class KeyValues:
    """A box of settings; widths are those of label and value, the note takes the rest."""

    rows: tuple[KeyValue, ...]
    title: str = ""
    widths_mm: tuple[float, float] = (48.0, 42.0)


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture among the text; without a width it stands at full size, and shrinks only where the page is smaller."""

    ink: Ink
    width_mm: float | None = None
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Beside:
    """A narrow picture with facts to its right."""

    figure: Figure
    facts: Facts


@dataclass(frozen=True, slots=True)
class FindingBlock:
    """One finding, with what to change, each change as a line of text."""

    severity: Severity
    title: str
    text: str
    source: str = ""
    changes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Group:
    """Blocks that belong together under a title: on one page where they fit, else from where half a page is left."""

    title: str
    blocks: tuple[Block, ...]


Block = Paragraph | Table | Facts | Operations | Caution | KeyValues | Figure | Beside | FindingBlock | Group


@dataclass(frozen=True, slots=True)
class TextPage:
    """A page of text, and as many more as it needs; A4 upright. `far` is read at the lathe, from 60 cm."""

    title: str
    blocks: tuple[Block, ...]
    far: bool = False


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
