"""Faults of a finished drawing, found in the DXF document: figures that touch, marks off the sheet, sizes missing.

Everything is read back from the entities as they will be printed, views through their viewports, so a mistake of the
layout cannot hide itself. Hatch counts where it runs through words.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from generator.description import Part
from generator.drawing.boxes import Box, Line, hits, overlaps
from generator.drawing.font import text_width_mm
from generator.drawing.style import ATTACH_APP

__all__ = ["DrawingFault", "Marks", "find_faults", "marks_of", "size_faults", "sizes_on", "touching_faults"]

Point = tuple[float, float]

_NEAR_MM = 0.12
_SAME_MM = 1e-6
# Two places are printed of an auxiliary size, one second of arc of an angle.
_ROUNDED_MM = 0.00501
_DESCENDS = frozenset("gjpqyQ,;()[]/@|")
_NO_DIAMETER = ("chamfer", "drill point")


@dataclass(frozen=True, slots=True)
class DrawingFault:
    """One fault: its kind in one word, where on the sheet (mm from the lower left corner), and what is wrong."""

    kind: str
    at: Point
    what: str

    def __str__(self) -> str:
        """The fault as one line."""
        return f"{self.kind} at {self.at[0]:.0f}, {self.at[1]:.0f}: {self.what}"


@dataclass(frozen=True, slots=True)
class _Words:
    text: str
    box: Box
    in_view: bool


@dataclass(frozen=True, slots=True)
class _Stroke:
    line: Line
    layer: str
    in_view: bool


@dataclass(slots=True)
class Marks:
    """All words, strokes and hatched areas of a sheet in mm on paper."""

    words: list[_Words] = field(default_factory=list)
    strokes: list[_Stroke] = field(default_factory=list)
    hatched: list[list[Point]] = field(default_factory=list)

    def add(self, other: Marks, window: Box) -> None:
        """Take over what of a view can be seen through its window."""
        self.words += [w for w in other.words if overlaps(w.box, window)]
        self.strokes += [s for s in other.strokes if _is_seen(s.line, window)]
        self.hatched += [area for area in other.hatched if _covers(area, window)]


def _is_seen(line: Line, window: Box) -> bool:
    return any(
        window.left <= x <= window.right and window.bottom <= y <= window.top for x, y in (line.start, line.end)
    ) or hits(line, window)


def _window_of(port: Any) -> Box:
    x, y, width, height = port.dxf.center.x, port.dxf.center.y, port.dxf.width, port.dxf.height
    return Box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)


@dataclass(frozen=True, slots=True)
class _Map:
    """From a space to the paper: paper = factor x point + shift."""

    factor: float = 1.0
    dx: float = 0.0
    dy: float = 0.0
    in_view: bool = False

    def at(self, point: Any) -> Point:
        return (self.factor * point[0] + self.dx, self.factor * point[1] + self.dy)

    def inner(self, factor: float, insert: Any) -> _Map:
        x, y = self.at(insert)
        return _Map(self.factor * factor, x, y, self.in_view)


def marks_of(document: Any, layout_name: str) -> Marks:
    """Everything on one sheet, views included, in mm on paper."""
    marks = Marks()
    layout = document.layouts.get(layout_name)
    for entity in layout:
        if entity.dxftype() == "VIEWPORT":
            if entity.dxf.id == 1:
                continue
            factor = entity.dxf.height / entity.dxf.view_height
            centre, view = entity.dxf.center, entity.dxf.view_center_point
            seen = _Map(factor, centre.x - factor * view.x, centre.y - factor * view.y, True)
            through = Marks()
            for shown in document.modelspace():
                _read(document, shown, seen, through)
            marks.add(through, _window_of(entity))
        else:
            _read(document, entity, _Map(), marks)
    return marks


def _read(document: Any, entity: Any, where: _Map, marks: Marks) -> None:
    kind = entity.dxftype()
    if kind in ("TEXT", "ATTRIB"):
        if entity.dxf.text:
            marks.words.append(_Words(entity.dxf.text, _text_box(entity, where), where.in_view))
    elif kind == "DIMENSION":
        for inner in document.blocks[entity.dxf.geometry]:
            _read(document, inner, where, marks)
    elif kind == "INSERT":
        inside = where.inner(entity.dxf.xscale, entity.dxf.insert)
        for inner in document.blocks[entity.dxf.name]:
            if inner.dxftype() != "ATTDEF":
                _read(document, inner, inside, marks)
        for attribute in entity.attribs:
            _read(document, attribute, where, marks)
    elif kind == "HATCH":
        marks.hatched += [[where.at(v) for v in path.vertices] for path in entity.paths if hasattr(path, "vertices")]
    else:
        for line in _lines(entity, kind, where):
            marks.strokes.append(_Stroke(line, entity.dxf.layer, where.in_view))


def _text_box(entity: Any, where: _Map) -> Box:
    """The box of a line of text that reads level or upwards."""
    height = entity.dxf.height * where.factor
    width = text_width_mm(entity.dxf.text, height, entity.dxf.width)
    is_placed = entity.dxf.halign or entity.dxf.valign
    x, y = where.at(entity.dxf.align_point if is_placed else entity.dxf.insert)
    back = {0: 0.0, 1: width / 2, 2: width}.get(entity.dxf.halign, 0.0)
    down = {0: 0.0, 2: height / 2, 3: height}.get(entity.dxf.valign, 0.0)
    low = -0.25 * height if _DESCENDS & set(entity.dxf.text) else 0.0
    left, right, bottom, top = -back, width - back, low - down, height - down
    if abs(entity.dxf.rotation - 90.0) < 1.0:
        return Box(x - top, y + left, x - bottom, y + right)
    return Box(x + left, y + bottom, x + right, y + top)


def _lines(entity: Any, kind: str, where: _Map) -> Iterator[Line]:
    if kind == "LINE":
        yield Line(where.at(entity.dxf.start), where.at(entity.dxf.end))
    elif kind == "LWPOLYLINE":
        points = [where.at(p) for p in entity.get_points("xy")]
        ends = points[1:] + (points[:1] if entity.closed else [])
        yield from (Line(a, b) for a, b in zip(points, ends, strict=False))
    elif kind == "SOLID":
        corners = [where.at(entity.dxf.get(f"vtx{i}")) for i in range(3)]
        yield from (Line(corners[i], corners[(i + 1) % 3]) for i in range(3))
    elif kind in ("CIRCLE", "ARC"):
        yield from _round(entity, kind, where)


def _round(entity: Any, kind: str, where: _Map) -> Iterator[Line]:
    start, end = (0.0, 360.0) if kind == "CIRCLE" else (entity.dxf.start_angle, entity.dxf.end_angle)
    span = (end - start) % 360.0 or 360.0
    centre, radius = where.at(entity.dxf.center), entity.dxf.radius * where.factor
    angles = [math.radians(start + span * i / 24) for i in range(25)]
    points = [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in angles]
    yield from (Line(a, b) for a, b in pairwise(points))


def find_faults(document: Any, layout_name: str, part: Part | None = None) -> list[DrawingFault]:
    """Every fault of a finished sheet; with `part`, sizes are compared with its description as well."""
    marks = marks_of(document, layout_name)
    faults = [*touching_faults(marks), *_off_sheet(document.layouts.get(layout_name), marks)]
    if part is not None:
        faults += size_faults(document, part)
    return faults


def touching_faults(marks: Marks) -> list[DrawingFault]:
    """Words that touch other words, a line, an arrow or hatch."""
    faults: list[DrawingFault] = []
    for i, words in enumerate(marks.words):
        box = words.box.grown(_NEAR_MM)
        for other in marks.words[i + 1 :]:
            if overlaps(box, other.box):
                faults.append(_fault("text over text", words, f'"{words.text}" meets "{other.text}"'))
        for stroke in marks.strokes:
            if hits(stroke.line, box):
                faults.append(_fault("text over line", words, f'"{words.text}" meets a line on {stroke.layer}'))
                break
        if any(_covers(area, words.box) for area in marks.hatched):
            faults.append(_fault("text over hatch", words, f'"{words.text}" stands in a hatched area'))
    return faults


def _fault(kind: str, words: _Words, what: str) -> DrawingFault:
    return DrawingFault(kind, (words.box.left, words.box.bottom), what)


def _covers(area: Sequence[Point], box: Box) -> bool:
    """True where a polygon and a box share an area."""
    if max(x for x, _ in area) <= box.left or min(x for x, _ in area) >= box.right:
        return False
    if any(hits(Line(a, b), box) for a, b in zip(area, [*area[1:], area[0]], strict=True)):
        return True
    x, y = (box.left + box.right) / 2, (box.bottom + box.top) / 2
    inside = False
    for (x0, y0), (x1, y1) in zip(area, [*area[1:], area[0]], strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            inside = not inside
    return inside


def _off_sheet(layout: Any, marks: Marks) -> Iterator[DrawingFault]:
    """Words and view lines outside the frame, and view marks over the title block."""
    frame = next((_extent(e) for e in layout.query("LWPOLYLINE") if e.dxf.layer == "FRAME"), None)
    if frame is None:
        yield DrawingFault("frame", (0.0, 0.0), "the sheet has no frame")
        return
    insert = next(iter(layout.query('INSERT[name=="TITLE_BLOCK"]')), None)
    block = None
    if insert is not None:
        corner = insert.dxf.insert
        block = Box(corner.x, corner.y, frame.right, corner.y + _block_height(layout.doc))
    for words in marks.words:
        box = words.box
        if not (frame.left <= box.left and box.right <= frame.right and frame.bottom <= box.bottom <= frame.top):
            yield _fault("outside the frame", words, f'"{words.text}" leaves the frame')
        if words.in_view and block is not None and overlaps(box, block):
            yield _fault("over the block", words, f'"{words.text}" stands on the title block')
    for stroke in marks.strokes:
        if not stroke.in_view:
            continue
        for x, y in (stroke.line.start, stroke.line.end):
            if not (frame.left <= x <= frame.right and frame.bottom <= y <= frame.top):
                yield DrawingFault("outside the frame", (x, y), f"a line on {stroke.layer} leaves the frame")
        if block is not None and hits(stroke.line, block):
            what = f"a line on {stroke.layer} runs over the title block"
            yield DrawingFault("over the block", stroke.line.start, what)


def _extent(polyline: Any) -> Box:
    points = list(polyline.get_points("xy"))
    across, up = [p[0] for p in points], [p[1] for p in points]
    return Box(min(across), min(up), max(across), max(up))


def _block_height(document: Any) -> float:
    outline = next(iter(document.blocks["TITLE_BLOCK"].query("LWPOLYLINE")))
    return _extent(outline).top


@dataclass(frozen=True, slots=True)
class _Shown:
    """A DIMENSION as read back: address, what it measures, and its printed words."""

    address: str
    measured: float
    printed: str


def sizes_on(document: Any) -> list[_Shown]:
    """Every dimension of the drawing with its address, its own measurement and its printed label."""
    found = []
    for dimension in document.modelspace().query("DIMENSION"):
        tags = dimension.get_xdata(ATTACH_APP) if dimension.has_xdata(ATTACH_APP) else []
        address = next((str(t.value) for t in tags if t.code == 1000), "")
        block = document.blocks[dimension.dxf.geometry]
        printed = " ".join(entity.dxf.text for entity in block if entity.dxftype() == "TEXT")
        found.append(_Shown(address, float(dimension.get_measurement()), printed))
    return found


def wanted_sizes(part: Part) -> dict[str, float]:
    """Nominal of every size that the sheet must print once, by address, straight from the description."""
    sizes = {f"{part.name}/{n.name}": n.size for n in part.lengths if abs(n.size.nominal_mm) > _SAME_MM}
    chamfers = {s.name for s in part.surfaces if s.role in _NO_DIAMETER}
    threads = {z.surface for z in part.zones if z.form == "thread" and re.match(r"M\d", z.text)}
    skipped = chamfers | threads
    sizes |= {f"{part.name}/{s.name}/diameter": s.diameter for s in part.surfaces if s.name not in skipped}
    sizes |= {f"{part.name}/{p.face}/diameter": p.diameter for p in part.places if p.surface not in chamfers}
    sizes |= {f"{part.name}/{c.name}/{key}": size for c in part.cross for key, size in c.sizes.items()}
    return {address: size.nominal_mm for address, size in sizes.items() if not size.derived}


def size_faults(document: Any, part: Part) -> list[DrawingFault]:
    """Sizes of the part that are missing, doubled, or printed or measured otherwise than described."""
    nowhere = (0.0, 0.0)
    shown = sizes_on(document)
    counts = Counter(size.address for size in shown)
    wanted = wanted_sizes(part)
    faults = [DrawingFault("missing size", nowhere, address) for address in wanted if not counts[address]]
    faults += [DrawingFault("doubled size", nowhere, address) for address, count in counts.items() if count > 1]
    for size in shown:
        printed = _first_number(size.printed)
        allowed = _ROUNDED_MM if size.printed.startswith("(") else 1e-4
        if printed is None or abs(printed - abs(size.measured)) > allowed:
            what = f"{size.address}: measures {size.measured:g}, prints {size.printed!r}"
            faults.append(DrawingFault("wrong figure", nowhere, what))
        nominal = wanted.get(size.address)
        if nominal is not None and abs(abs(nominal) - abs(size.measured)) > 1e-6:
            what = f"{size.address}: measures {size.measured:g}, described as {nominal:g}"
            faults.append(DrawingFault("wrong figure", nowhere, what))
    return faults


def _first_number(words: Iterable[str] | str) -> float | None:
    found = re.search(r"-?\d+(?:\.\d+)?", str(words))
    return abs(float(found[0])) if found else None
