"""The tables of an arrangement: the parts list on the title block, numbers rising from the heading, and the gaps.

Source: list on the sheet stands on the block, numbers rising from bottom to top, columns of 10, 13, 54, 68 and 35 mm as
in ISO 7573 practice, at second hand.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.description import ChainResult, ListRow
from generator.drawing.arrangement_callouts import LetteredGap
from generator.drawing.base import Pen
from generator.drawing.font import text_width_mm
from generator.drawing.style import SMALL_TEXT_MM, TEXT_MM

__all__ = [
    "GAP_WIDTH_MM",
    "LIST_WIDTH_MM",
    "Table",
    "draw_table",
    "gap_table",
    "list_table",
    "short_list_table",
    "wanted_text",
]

LIST_WIDTH_MM = 180.0
GAP_WIDTH_MM = 170.0
_RIM_MM = 1.0
_LINE_MM = 4.2
_LIST_COLUMNS = (("Item", 10.0), ("Qty", 13.0), ("Description", 54.0), ("Material or standard", 68.0), ("Remark", 35.0))
_GAP_COLUMNS = (("Gap", 10.0), ("What", 74.0), ("Nominal", 19.0), ("At worst", 33.0), ("Wanted", 34.0))


@dataclass(frozen=True, slots=True)
class Table:
    """A table set out: widths, rows from top to bottom as lines of text for each cell, heights, text height."""

    widths: tuple[float, ...]
    rows: tuple[tuple[tuple[str, ...], ...], ...]
    heights: tuple[float, ...]
    text_mm: float
    centred: tuple[int, ...]
    foot: str = ""

    @property
    def width_mm(self) -> float:
        """Width on paper."""
        return sum(self.widths)

    @property
    def height_mm(self) -> float:
        """Height on paper with the line under it."""
        return sum(self.heights) + (5.0 if self.foot else 0.0)


def list_table(rows: Sequence[ListRow], stock: Mapping[str, str], width_mm: float = LIST_WIDTH_MM) -> Table:
    """The parts list, highest number on top, heading at the bottom; `stock` gives the cut length by part name."""
    cells = [
        (
            str(row.number),
            str(row.quantity),
            row.title,
            row.material or "-",
            "; ".join(dict.fromkeys(stock[name] for name in row.parts if name in stock)),
        )
        for row in rows
    ]
    heading = tuple(name for name, _ in _LIST_COLUMNS)
    return _set_out([*reversed(cells), heading], _fitted([w for _, w in _LIST_COLUMNS], width_mm), centred=(0, 1))


def short_list_table(rows: Sequence[ListRow]) -> Table:
    """The parts list by number, quantity and description alone, for a sheet beside the arrangement."""
    cells = [(str(row.number), str(row.quantity), row.title) for row in rows]
    columns = _LIST_COLUMNS[:3]
    heading = tuple(name for name, _ in columns)
    return _set_out([*reversed(cells), heading], tuple(width for _, width in columns), centred=(0, 1))


def gap_table(gaps: Sequence[LetteredGap], left_out: int, width_mm: float = GAP_WIDTH_MM) -> Table:
    """The lettered gaps in mm: what, nominal, worst case, wanted; the heading on top."""
    cells = [
        (
            gap.letter,
            gap.result.gap.title + (", made to measure" if gap.result.gap.fit else ""),
            _figure(gap.result.nominal_mm, gap.result) if not gap.result.gap.fit else "fitted",
            f"{_figure(gap.result.low_mm, gap.result)} .. {_figure(gap.result.high_mm, gap.result)}",
            wanted_text(gap.result),
        )
        for gap in gaps
    ]
    heading = tuple(name for name, _ in _GAP_COLUMNS)
    foot = "All in mm."
    if left_out:
        foot += f" {left_out} more {'gap stands' if left_out == 1 else 'gaps stand'} in the plan."
    return _set_out([heading, *cells], _fitted([w for _, w in _GAP_COLUMNS], width_mm), centred=(0,), foot=foot)


def millimetres(value_mm: float, places: int) -> str:
    """A length with so many places, a plain 0 never signed."""
    text = f"{value_mm:.{places}f}"
    return text.lstrip("-") if float(text) == 0 else text


def _places(result: ChainResult) -> int:
    """Two places, or three where what is wanted or what comes out is finer than that."""
    limits = [abs(v) for v in (result.gap.least_mm, result.gap.most_mm) if v]
    fine = any(abs(v * 100 - round(v * 100)) > 1e-6 for v in limits) or result.high_mm - result.low_mm < 0.03
    return 3 if fine else 2


def _figure(value_mm: float, result: ChainResult) -> str:
    return millimetres(value_mm, _places(result))


def wanted_text(result: ChainResult) -> str:
    """The limits of a gap in words: "0.10 to 0.50", "at least 0.30", "at most 2.00", "any"."""
    least, most = result.gap.least_mm, result.gap.most_mm
    if least is not None and most is not None:
        return f"{_figure(least, result)} to {_figure(most, result)}"
    if least is not None:
        return f"at least {_figure(least, result)}"
    return f"at most {_figure(most, result)}" if most is not None else "any"


def _fitted(widths: Sequence[float], width_mm: float) -> tuple[float, ...]:
    """Columns brought to a total width: the widest gives or takes the difference."""
    widest = max(range(len(widths)), key=lambda k: widths[k])
    spare = width_mm - sum(widths)
    return tuple(w + spare if k == widest else w for k, w in enumerate(widths))


def _set_out(
    cells: Sequence[Sequence[str]], widths: tuple[float, ...], centred: tuple[int, ...], foot: str = ""
) -> Table:
    """Cells broken into lines: in the larger text where every cell fits on one line, else in the smaller one."""
    large = all(
        text_width_mm(word, TEXT_MM) <= w - 2 * _RIM_MM for row in cells for word, w in zip(row, widths, strict=True)
    )
    size = TEXT_MM if large else SMALL_TEXT_MM
    rows = tuple(
        tuple(tuple(_lines(words, width - 2 * _RIM_MM, size)) for words, width in zip(row, widths, strict=True))
        for row in cells
    )
    single = 6.5 if large else 5.5
    heights = tuple(single + _LINE_MM * (max(len(cell) for cell in row) - 1) for row in rows)
    return Table(widths, rows, heights, size, centred, foot)


def _lines(words: str, room_mm: float, size: float) -> list[str]:
    """The words broken into lines; a single word that is too long is broken where it must."""
    lines: list[str] = []
    line = ""
    for word in words.split():
        for piece in _broken(word, room_mm, size):
            longer = f"{line} {piece}".strip()
            if line and text_width_mm(longer, size) > room_mm:
                lines.append(line)
                longer = piece
            line = longer
    return [*lines, line]


def _broken(word: str, room_mm: float, size: float) -> list[str]:
    pieces = []
    while text_width_mm(word, size) > room_mm and len(word) > 1:
        count = next(n for n in range(len(word) - 1, 0, -1) if n == 1 or text_width_mm(word[:n], size) <= room_mm)
        pieces.append(word[:count])
        word = word[count:]
    return [*pieces, word]


def draw_table(pen: Pen, table: Table, left: float, bottom: float, heading: int) -> None:
    """Draw a table with its lower left corner at a point; row `heading` (0 or -1) is set off by wide lines."""
    y = bottom + table.height_mm
    right = left + table.width_mm
    last = len(table.rows) - 1
    head = heading % len(table.rows)
    pen.line((left, y), (right, y), "BLOCK")
    for index, (row, height) in enumerate(zip(table.rows, table.heights, strict=True)):
        x = left
        for column, (cell, width) in enumerate(zip(row, table.widths, strict=True)):
            for k, words in enumerate(cell):
                if not words:
                    continue
                base = y - (height - _LINE_MM * (len(cell) - 1)) / 2 - table.text_mm / 2 - k * _LINE_MM
                if column in table.centred:
                    pen.text(words, (x + width / 2, base), table.text_mm, anchor="centre")
                else:
                    pen.text(words, (x + _RIM_MM, base), table.text_mm)
            x += width
        y -= height
        wide = index in (head, head - 1) or index == last
        pen.line((left, y), (right, y), "BLOCK" if wide else "DIM")
    x = left
    for width in (0.0, *table.widths):
        x += width
        pen.line((x, y), (x, bottom + table.height_mm), "BLOCK" if x in (left, right) else "DIM")
    if table.foot:
        pen.text(table.foot, (left, bottom + 1.0), SMALL_TEXT_MM)
