"""A finished drawing as the proof reads it: ink on paper, views, plain geometry of model space, symbols, title block.

Nothing but the DXF document is read; lengths of model space are in its own units.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Any

from generator.drawing.boxes import Box
from generator.drawing.style import ATTACH_APP
from generator.ink import Ink

__all__ = [
    "BLOCK_NAME", "DETAIL_TITLE", "Point", "Segment", "Sheet", "Symbol", "Window", "Words", "address_of", "pieces_of",
]

Point = tuple[float, float]
BLOCK_NAME = "TITLE_BLOCK"
DETAIL_TITLE = re.compile(r"([A-Z])\s?\((\d+(?:[.,]\d+)?\s?:\s?\d+(?:[.,]\d+)?)\)")
_ROUND_PIECES = 24


@dataclass(frozen=True, slots=True)
class Segment:
    """A straight piece of an entity of model space or of paper, in the units of its space."""

    start: Point
    end: Point
    layer: str
    handle: str
    kind: str

    @property
    def length(self) -> float:
        """Length in the units of the space."""
        return math.dist(self.start, self.end)


@dataclass(frozen=True, slots=True)
class Words:
    """A text of model space or of paper as it stands in its own space; `at` is its anchor."""

    text: str
    at: Point
    height: float
    layer: str
    handle: str
    rotation: float = 0.0


@dataclass(frozen=True, slots=True)
class Symbol:
    """An inserted block with the values of its attributes."""

    name: str
    at: Point
    values: dict[str, str]
    handle: str
    layer: str
    rotation: float
    address: str
    scale: float = 1.0


@dataclass(frozen=True, slots=True)
class Window:
    """A view of model space: its rectangle on paper, and how a point of model space comes to the paper."""

    box: Box
    factor: float
    dx: float
    dy: float
    handle: str
    layer: str

    def at(self, point: Point) -> Point:
        """A point of model space on the paper."""
        return (self.factor * point[0] + self.dx, self.factor * point[1] + self.dy)

    def shows(self, point: Point) -> bool:
        """True where the window shows this point of model space."""
        x, y = self.at(point)
        return self.box.left <= x <= self.box.right and self.box.bottom <= y <= self.box.top


class Sheet:
    """One paper layout of a document with everything the tests ask of it, each thing read once."""

    def __init__(self, document: Any, layout: Any, ink: Ink) -> None:
        self.document = document
        self.layout = layout
        self.ink = ink
        self.name = str(layout.name)

    @cached_property
    def model(self) -> list[Any]:
        """Entities of model space."""
        return list(self.document.modelspace())

    @cached_property
    def paper(self) -> list[Any]:
        """Entities of the layout, its windows included."""
        return [e for e in self.layout if not (e.dxftype() == "VIEWPORT" and e.dxf.id == 1)]

    @cached_property
    def windows(self) -> list[Window]:
        """All views: those without a detail's title first, among them the largest."""
        found = [_window(e) for e in self.paper if e.dxftype() == "VIEWPORT" and e.dxf.view_height > 0]
        titles = [w.at for w in self.model_words if DETAIL_TITLE.fullmatch(w.text.strip())]

        def rank(window: Window) -> tuple[bool, float]:
            box = window.box
            return any(map(window.shows, titles)), -(box.right - box.left) * (box.top - box.bottom)

        return sorted(found, key=rank)

    @cached_property
    def details(self) -> list[Window]:
        """Views with a detail's title over them."""
        titles = [w.at for w in self.model_words if DETAIL_TITLE.fullmatch(w.text.strip())]
        return [window for window in self.windows if any(map(window.shows, titles))]

    @property
    def factor(self) -> float:
        """Paper over model of the main view; 1 where there is none."""
        return self.windows[0].factor if self.windows else 1.0

    def on_paper(self, point: Point) -> Point:
        """Where a point of model space is printed: in the first view that shows it, else by the main one."""
        for window in self.windows:
            if window.shows(point):
                return window.at(point)
        return self.windows[0].at(point) if self.windows else point

    def factor_at(self, point: Point) -> float:
        """Paper over model of the view that shows a point of model space."""
        return next((window.factor for window in self.windows if window.shows(point)), self.factor)

    def is_in_detail(self, point: Point) -> bool:
        """True where a narrow circle round the spot sends the reader to a detail."""
        return any(
            math.dist(point, e.dxf.center.vec2) <= e.dxf.radius
            for e in self.model
            if e.dxftype() == "CIRCLE" and e.dxf.layer == "DIM"
        )

    @cached_property
    def segments(self) -> list[Segment]:
        """Straight pieces of the lines of model space; pictures of dimensions and symbols are not among them."""
        return [piece for entity in self.model for piece in pieces_of(entity)]

    @cached_property
    def model_words(self) -> list[Words]:
        """Plain texts of model space."""
        return [_words(e) for e in self.model if e.dxftype() == "TEXT"]

    @cached_property
    def paper_words(self) -> list[Words]:
        """Plain texts of the layout."""
        return [_words(e) for e in self.paper if e.dxftype() == "TEXT"]

    @cached_property
    def symbols(self) -> list[Symbol]:
        """Blocks inserted in model space."""
        return [_symbol(e) for e in self.model if e.dxftype() == "INSERT"]

    @cached_property
    def paper_symbols(self) -> list[Symbol]:
        """Blocks inserted on the paper, without the title block."""
        return [_symbol(e) for e in self.paper if e.dxftype() == "INSERT" and e.dxf.name != BLOCK_NAME]

    @cached_property
    def frame(self) -> Box | None:
        """The frame: the largest closed rectangle on its layer."""
        boxes = [_extent(e) for e in self.paper if e.dxftype() == "LWPOLYLINE" and e.dxf.layer == "FRAME"]
        return max(boxes, key=lambda b: (b.right - b.left) * (b.top - b.bottom), default=None)

    @cached_property
    def block(self) -> Any:
        """The INSERT of the title block, or None."""
        return next((e for e in self.paper if e.dxftype() == "INSERT" and e.dxf.name == BLOCK_NAME), None)

    @cached_property
    def block_lines(self) -> list[Segment]:
        """Lines of the title block on paper."""
        if self.block is None:
            return []
        x, y = self.block.dxf.insert.x, self.block.dxf.insert.y
        return [
            Segment((x + p.start[0], y + p.start[1]), (x + p.end[0], y + p.end[1]), p.layer, p.handle, p.kind)
            for entity in self.document.blocks[BLOCK_NAME]
            for p in pieces_of(entity)
        ]

    @cached_property
    def block_box(self) -> Box | None:
        """The rectangle of the title block on paper."""
        spots = [spot for line in self.block_lines if line.kind != "CIRCLE" for spot in (line.start, line.end)]
        return _box_of(spots) if spots else None

    @cached_property
    def fields(self) -> dict[str, str]:
        """Attributes of the title block by tag."""
        return {} if self.block is None else {a.dxf.tag: str(a.dxf.text) for a in self.block.attribs}

    @cached_property
    def is_inch(self) -> bool:
        """True where the block says that sizes are in inches."""
        return self.fields.get("UNITS", "").strip().lower().startswith(("in", "zoll", '"'))

    @cached_property
    def item_numbers(self) -> list[tuple[str, Point, float, str]]:
        """Balloons in model space: number, centre, radius, handle of the text."""
        circles = [e for e in self.model if e.dxftype() == "CIRCLE" and e.dxf.layer == "SYMBOL"]
        found = []
        for words in self.model_words:
            if not words.text.isdigit():
                continue
            for circle in circles:
                if math.dist(words.at, circle.dxf.center.vec2) < 0.25 * circle.dxf.radius:
                    found.append((words.text, words.at, float(circle.dxf.radius), words.handle))
                    break
        return found

    @cached_property
    def list_column(self) -> list[Words]:
        """The item column of the parts list, from below; empty without one."""
        columns: dict[int, list[Words]] = {}
        for words in self.paper_words:
            if words.text.isdigit() and self._in_table(words.at):
                columns.setdefault(round(words.at[0] * 2), []).append(words)
        return sorted(columns[min(columns)], key=lambda w: w.at[1]) if columns else []

    @cached_property
    def _table_lines(self) -> list[Segment]:
        lines = [p for e in self.paper if e.dxf.layer in ("BLOCK", "DIM") for p in pieces_of(e)]
        return [p for p in lines if p.kind == "LINE" and abs(p.start[0] - p.end[0]) < 1e-6]

    def _in_table(self, at: Point) -> bool:
        """True for a point between two upright lines of a table."""
        beside = [
            p.start[0] - at[0]
            for p in self._table_lines
            if min(p.start[1], p.end[1]) <= at[1] <= max(p.start[1], p.end[1])
        ]
        return any(d <= 0 for d in beside) and any(d >= 0 for d in beside)

    @cached_property
    def is_assembly(self) -> bool:
        """True for a sheet with item numbers or a parts list."""
        return bool(self.item_numbers or self.list_column)


def address_of(entity: Any) -> str:
    """The address kept with an entity, empty where there is none."""
    if not entity.has_xdata(ATTACH_APP):
        return ""
    return next((str(t.value) for t in entity.get_xdata(ATTACH_APP) if t.code == 1000), "")


def pieces_of(entity: Any) -> Iterator[Segment]:
    """The straight pieces of a line, polyline, circle or arc; nothing of other entities."""
    kind = entity.dxftype()
    layer, handle = entity.dxf.layer, entity.dxf.handle or ""
    if kind == "LINE":
        start, end = entity.dxf.start, entity.dxf.end
        yield Segment((start.x, start.y), (end.x, end.y), layer, handle, kind)
    elif kind == "LWPOLYLINE":
        points = [(float(x), float(y)) for x, y in entity.get_points("xy")]
        if entity.closed and points:
            points.append(points[0])
        yield from (Segment(a, b, layer, handle, kind) for a, b in pairwise(points))
    elif kind in ("CIRCLE", "ARC"):
        points = list(_round(entity, kind))
        yield from (Segment(a, b, layer, handle, kind) for a, b in pairwise(points))


def _round(entity: Any, kind: str) -> Iterator[Point]:
    begin, end = (0.0, 360.0) if kind == "CIRCLE" else (entity.dxf.start_angle, entity.dxf.end_angle)
    span = (end - begin) % 360.0 or 360.0
    centre, radius = entity.dxf.center, entity.dxf.radius
    for i in range(_ROUND_PIECES + 1):
        angle = math.radians(begin + span * i / _ROUND_PIECES)
        yield centre.x + radius * math.cos(angle), centre.y + radius * math.sin(angle)


def _window(entity: Any) -> Window:
    width, height = entity.dxf.width, entity.dxf.height
    factor = height / entity.dxf.view_height
    centre, view = entity.dxf.center, entity.dxf.view_center_point
    box = Box(centre.x - width / 2, centre.y - height / 2, centre.x + width / 2, centre.y + height / 2)
    dx, dy = centre.x - factor * view.x, centre.y - factor * view.y
    return Window(box, factor, dx, dy, entity.dxf.handle or "", entity.dxf.layer)


def _words(entity: Any) -> Words:
    placed = (entity.dxf.halign or entity.dxf.valign) and entity.dxf.hasattr("align_point")
    at = entity.dxf.align_point if placed else entity.dxf.insert
    return Words(
        str(entity.dxf.text), (at.x, at.y), entity.dxf.height, entity.dxf.layer, entity.dxf.handle or "",
        entity.dxf.rotation,
    )


def _symbol(entity: Any) -> Symbol:
    at = entity.dxf.insert
    values = {a.dxf.tag: str(a.dxf.text) for a in entity.attribs}
    return Symbol(
        entity.dxf.name, (at.x, at.y), values, entity.dxf.handle or "", entity.dxf.layer, entity.dxf.rotation,
        address_of(entity), abs(entity.dxf.xscale),
    )


def _extent(polyline: Any) -> Box:
    return _box_of([(float(x), float(y)) for x, y in polyline.get_points("xy")])


def _box_of(points: Iterable[Point]) -> Box:
    spots = list(points)
    across, up = [p[0] for p in spots], [p[1] for p in spots]
    return Box(min(across), min(up), max(across), max(up))
