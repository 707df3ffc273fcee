"""The tables of an arrangement: the parts list on the title block, numbers rising from the heading, and the gaps.

Source: list on the sheet stands on the block, numbers rising from bottom to top, columns of 10, 13, 54, 68 and 35 mm as
in ISO 7573 practice, at second hand.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from generator.conversion import clean_mm, converted, outward
from generator.description import ChainResult, ListRow
from generator.drawing.arrangement_callouts import LetteredGap
from generator.drawing.base import Pen
from generator.drawing.font import text_width_mm
from generator.drawing.manner import METRIC, Manner
from generator.drawing.style import SMALL_TEXT_MM, TEXT_MM
from generator.units import FileUnit

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
_LIST_COLUMNS_MM = (10.0, 13.0, 54.0, 68.0, 35.0)
_GAP_COLUMNS_MM = (10.0, 74.0, 19.0, 33.0, 34.0)


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


def list_table(
    rows: Sequence[ListRow], stock: Mapping[str, str], width_mm: float = LIST_WIDTH_MM, manner: Manner = METRIC
) -> Table:
    """The parts list, highest number on top, heading at the bottom; `stock` gives the cut length by part name."""
    words = manner.words
    cells = [
        (
            str(row.number),
            str(row.quantity),
            words.phrase(row.title),
            words.order_text(row.material) if row.material else words.not_stated,
            "; ".join(dict.fromkeys(stock[name] for name in row.parts if name in stock)),
        )
        for row in rows
    ]
    heading = (words.item, words.quantity, words.description, words.material_or_standard, words.remark)
    return _set_out([*reversed(cells), heading], _fitted(_LIST_COLUMNS_MM, width_mm), centred=(0, 1))


def short_list_table(rows: Sequence[ListRow], manner: Manner = METRIC) -> Table:
    """The parts list by number, quantity and description alone, for a sheet beside the arrangement."""
    words = manner.words
    cells = [(str(row.number), str(row.quantity), words.phrase(row.title)) for row in rows]
    heading = (words.item, words.quantity, words.description)
    return _set_out([*reversed(cells), heading], _LIST_COLUMNS_MM[:3], centred=(0, 1))


def gap_table(
    gaps: Sequence[LetteredGap], left_out: int, width_mm: float = GAP_WIDTH_MM, manner: Manner = METRIC
) -> Table:
    """The lettered gaps: what, nominal, worst case, wanted; the heading on top."""
    words = manner.words
    cells = []
    for gap in gaps:
        what, result = words.phrase(gap.result.gap.title), gap.result
        nominal = words.fitted if result.gap.fit else _told(manner, _nominal(result))
        what = words.made_to_measure.format(what=what) if result.gap.fit else what
        worst = _told(manner, _worst(result))
        cells.append((gap.letter, what, nominal, worst, wanted_text(result, manner)))
    heading = (words.gap, words.what, words.nominal, words.at_worst, words.wanted)
    foot = words.all_in.format(unit=manner.units_in_words)
    if left_out:
        foot += f" {words.gap_left if left_out == 1 else words.gaps_left.format(count=left_out)}"
    return _set_out([heading, *cells], _fitted(_GAP_COLUMNS_MM, width_mm), centred=(0,), foot=foot)


Writer = Callable[[Manner, FileUnit], str]
"""Writes one entry of the table in one unit."""


def _told(manner: Manner, writer: Writer) -> str:
    """An entry in the sheet's unit, with the other one in square brackets behind it."""
    text = writer(manner, manner.unit)
    return text if manner.other is None else f"{text} [{writer(manner, manner.other)}]"


def _places(result: ChainResult, unit: FileUnit) -> int:
    """Two places of a millimetre, or three where what is wanted or what comes out is finer; inches have one more."""
    limits = [abs(v) for v in (result.gap.least_mm, result.gap.most_mm) if v]
    fine = any(abs(v * 100 - round(v * 100)) > 1e-6 for v in limits) or result.high_mm - result.low_mm < 0.03
    return (3 if fine else 2) + (1 if unit == "in" else 0)


def _in(value_mm: float, unit: FileUnit) -> Decimal:
    value = clean_mm(value_mm)
    return converted(value, "in") if unit == "in" else value


def _nominal(result: ChainResult) -> Writer:
    return lambda manner, unit: manner.kept(_in(result.nominal_mm, unit), _places(result, unit), unit)


def _worst(result: ChainResult) -> Writer:
    """What may come out: in inches never less than may be, in mm to the nearest."""

    def write(manner: Manner, unit: FileUnit) -> str:
        places = _places(result, unit)
        low, high = _in(result.low_mm, unit), _in(result.high_mm, unit)
        if unit == "in":
            low, high = outward(low, high, places)
        return f"{manner.kept(low, places, unit)} .. {manner.kept(high, places, unit)}"

    return write


def wanted_text(result: ChainResult, manner: Manner = METRIC) -> str:
    """The limits of a gap in words: "0.10 to 0.50", "at least 0.30", "at most 2.00", "any"."""
    words, gap = manner.words, result.gap
    least = "" if gap.least_mm is None else _told(manner, _limit(result, gap.least_mm, ROUND_CEILING))
    most = "" if gap.most_mm is None else _told(manner, _limit(result, gap.most_mm, ROUND_FLOOR))
    if least and most:
        return words.span.format(low=least, high=most)
    if least:
        return words.at_least.format(value=least)
    return words.at_most.format(value=most) if most else words.any


def _limit(result: ChainResult, limit_mm: float, rounding: str) -> Writer:
    """A wanted limit, rounded so that it never allows more."""

    def write(manner: Manner, unit: FileUnit) -> str:
        places = _places(result, unit)
        return manner.kept(_in(limit_mm, unit).quantize(Decimal(1).scaleb(-places), rounding=rounding), places, unit)

    return write


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
