"""The assembly sheet: the tool pulled apart along its axis, numbered as in the parts list, and the order in words."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from generator.description import ListRow, Tool, parts_list
from generator.drawing.arrangement_callouts import Grid
from generator.drawing.arrangement_lines import Segment
from generator.drawing.arrangement_tables import Table, draw_table, short_list_table
from generator.drawing.balloons import Callout, Obstacles, Shelf, Spot, Tip, place_callouts
from generator.drawing.base import Pen, Point, new_document
from generator.drawing.dimension import add_dimension_style
from generator.drawing.exploded import Joining, exploded, relation_word, target_of
from generator.drawing.manner import Manner
from generator.drawing.pictorial import Picture, draw_picture, on_paper, picture_of, size_of, strokes_of
from generator.drawing.pictorial_bodies import Body, bodies_of, seals_of
from generator.drawing.pictorial_edges import Place
from generator.drawing.pictorial_sight import VIEW, are_seen
from generator.drawing.sheet import (
    CHECK_STRIP_MM,
    LAST_PAGE,
    PAGES,
    Page,
    Rect,
    TitleBlock,
    add_sheet,
    add_viewport,
    draw_notes,
    note_lines,
    notes_height_mm,
)
from generator.drawing.style import SMALL_TEXT_MM, TEXT_MM, scale_text
from generator.drawing.wording import Words
from generator.drawing.wording.english import ENGLISH
from generator.errors import OutputError
from generator.making.figures import Figures

__all__ = ["AssemblySheet", "Joining", "assembly_sheet", "order_in_words"]

LAYOUT_NAME = "Assembly"
_TORQUE = re.compile(r"\d+(?:\.\d+)? N m\b")
_LEADS = (*((scale, PAGES[1:]) for scale in (1.0, 0.5, 0.2, 0.1)), (0.1, (LAST_PAGE,)))
_NUMBER_MM, _CIRCLE_MM = 5.0, 5.0
_SHELF_MM = 8.0
_PAST_MM = 8.0
_CLEAR_MM = 4.0
_CHECK_COLUMN_MM = 10.0
_DOT_CLEAR_MM, _ENOUGH_MM = 0.9, 2.5
_LINE_MM = 4.5
_HEADING_MM = 8.0
_PLACES = 12
_TURN = math.radians(30.0)
"""The axis of an isometric view falls by 30 degrees; numbers stand in rows along it."""


@dataclass(frozen=True, slots=True)
class AssemblySheet:
    """The finished sheet: its document, the paper layout in it, the scale of the view, the page, the items placed."""

    document: Any
    layout_name: str
    scale: float
    page: str
    spots: tuple[Spot, ...]
    bodies: tuple[Body, ...]


@dataclass(frozen=True, slots=True)
class _Draft:
    """What stands where: the picture, its callouts (mm on paper, the axis laid level), and room for everything."""

    page: Page
    scale: float
    picture: Picture
    spots: tuple[Spot, ...]
    box: tuple[float, float, float, float]
    view: Rect
    parts: Table
    order: tuple[str, ...]
    notes: tuple[str, ...]


def assembly_sheet(tool: Tool, block: TitleBlock, steps: Sequence[Joining]) -> AssemblySheet:
    """The tool pulled apart, and the order of assembly in words. `steps` in order, at least one.

    Raises OutputError where no page takes it.
    """
    rows = parts_list(tool)
    whole = bodies_of(tool)
    apart = exploded(tool, whole, steps)
    words = order_in_words(tool, rows, whole, steps, block.manner.words)
    for scale, pages in _LEADS:
        if not _may_fit(apart, pages[-1], scale):
            continue
        shown = _shown(rows, apart, seals_of(tool, apart), scale)
        for page in pages:
            draft = _on_page(page.for_block(block), scale, shown, rows, words, tool.put_together, block)
            if draft is not None:
                return _drawn(draft, block, apart)
    message = f"{tool.title}: the assembly does not fit on A2 at 1:10; shorten the tool or the parts list"
    raise OutputError(message)


def order_in_words(
    tool: Tool, rows: Sequence[ListRow], bodies: Sequence[Body], steps: Sequence[Joining], words: Words = ENGLISH
) -> tuple[str, ...]:
    """One sentence for each step, parts with their numbers in the parts list."""
    number_of = {name: row.number for row in rows for name in row.parts}
    sides = {
        "work side": words.from_work_side,
        "tailstock side": words.from_tailstock_side,
        "pliers": words.with_pliers,
        "": words.as_arrangement_shows,
    }
    ways = {"onto": words.onto, "into": words.into, "against": words.against}

    def called(title: str, name: str) -> str:
        return f"{title} ({number_of[name]})" if name in number_of else title

    found = []
    for step in steps:
        target = target_of(tool, step)
        until = words.until.format(contacts="; ".join(map(words.contact_of, step.contacts))) if step.contacts else ""
        found.append(
            words.step.format(
                part=called(words.phrase(step.title), step.parts[0]),
                way=ways[relation_word(tool, bodies, step)],
                target=called(words.within(tool.parts[target].title), target),
                side=sides[step.side],
                until=until,
            )
        )
    return tuple(found)


# --- the view, the axis laid level


@dataclass(frozen=True, slots=True)
class _Shown:
    """The picture, its callouts, and the corners of the hull round both on paper."""

    picture: Picture
    spots: tuple[Spot, ...]
    hull: tuple[Point, ...]

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Ends on paper: left, bottom, right, top."""
        xs, ys = [x for x, _ in self.hull], [y for _, y in self.hull]
        return (min(xs), min(ys), max(xs), max(ys))


def _may_fit(bodies: Sequence[Body], page: Page, scale: float) -> bool:
    """False where the picture alone is larger than the page's frame."""
    width, height = size_of(bodies)
    return width * scale < page.frame.width and height * scale < page.frame.height


def _shown(rows: Sequence[ListRow], bodies: Sequence[Body], seals: Sequence[Body], scale: float) -> _Shown:
    """The picture with its item numbers, and the hull round both on paper."""
    picture = picture_of(bodies, scale, screens=seals, past_mm=_PAST_MM / scale)
    lines = strokes_of(picture)
    strokes = [_level_line(line, scale) for line in lines]
    reach = max(body.radius for body in bodies) * scale
    xs = [x for line in strokes for x in (line[0], line[2])]
    height = reach + _SHELF_MM + _CIRCLE_MM
    shelves = tuple(Shelf(side, side * height, min(xs), max(xs)) for side in (1, -1))
    callouts = _callouts(rows, bodies, [*bodies, *seals], Grid(strokes, 1.0), scale)
    spots = place_callouts(callouts, shelves, Obstacles((), (), ()))
    rim = _CIRCLE_MM + 1.5
    corners = [(x * scale, y * scale) for line in lines for x, y in (line[:2], line[2:])]
    for x, y in (_turned(spot.centre) for spot in spots):
        corners += [(x + dx, y + dy) for dx in (-rim, rim) for dy in (-rim, rim)]
    return _Shown(picture, tuple(spots), tuple(_hull(corners)))


def _hull(points: Sequence[Point]) -> list[Point]:
    """The convex hull, counter-clockwise (monotone chain)."""
    ordered = sorted(set(points))
    chains: list[list[Point]] = []
    for run in (ordered, ordered[::-1]):
        chain: list[Point] = []
        for point in run:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], point) <= 0.0:
                chain.pop()
            chain.append(point)
        chains.append(chain[:-1])
    return [*chains[0], *chains[1]]


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _level(point: Point) -> Point:
    """A point of the picture turned so that the axis lies level."""
    x, y = point
    return (x * math.cos(_TURN) - y * math.sin(_TURN), x * math.sin(_TURN) + y * math.cos(_TURN))


def _turned(point: Point) -> Point:
    """The way back from `_level`."""
    x, y = point
    return (x * math.cos(_TURN) + y * math.sin(_TURN), -x * math.sin(_TURN) + y * math.cos(_TURN))


def _level_line(line: Segment, scale: float) -> Segment:
    a, b = _level((line[0] * scale, line[1] * scale)), _level((line[2] * scale, line[3] * scale))
    return (*a, *b)


def _callouts(
    rows: Sequence[ListRow], bodies: Sequence[Body], hiding: Sequence[Body], grid: Grid, scale: float
) -> list[Callout]:
    """The item number of each row, with places on its parts that are seen, or else on their edges."""
    owners = {name: row.number for row in rows for name in row.parts}
    places = [(owners[body.name], place) for body in bodies for place in _places(body)]
    seen = are_seen([place for _, place in places], hiding)
    tips: dict[int, list[Tip]] = {row.number: [] for row in rows}
    for (number, place), is_seen in zip(places, seen, strict=True):
        if is_seen:
            x, y = _level(on_paper(place))
            point = (x * scale, y * scale)
            clear = grid.clearance(*point, _ENOUGH_MM)
            if clear >= _DOT_CLEAR_MM:
                tips[number].append(Tip(point, 1 if point[1] > 0 else -1, "dot", 0.6 * (_ENOUGH_MM - clear)))
    found = []
    for row in rows:
        own = sorted(tips[row.number], key=lambda tip: tip.cost)
        kept = [tip for side in (1, -1) for tip in [t for t in own if t.side == side][:4]]
        edges = [tip for body in bodies if body.name in row.parts for tip in _on_edge(body, scale)]
        found.append(Callout(str(row.number), _CIRCLE_MM, _CIRCLE_MM, tuple(kept or edges), number=row.number))
    return found


def _places(body: Body) -> Iterator[Place]:
    """Places on the outside of a body that face the eye, and on its end towards it."""
    towards = math.atan2(VIEW[2], VIEW[1])
    for slab in body.slabs:
        for share in (0.5, 0.25, 0.75):
            z = slab.z0 + share * (slab.z1 - slab.z0)
            for lean in (55.0, -55.0, 75.0, -75.0, 35.0, -35.0):
                angle = towards + math.radians(lean)
                radius = slab.at(z)[1] + 1e-3
                yield (z, radius * math.cos(angle), radius * math.sin(angle))
    last = body.slabs[-1]
    middle = (last.inner1 + last.outer1) / 2
    for lean in (90.0, -90.0, 60.0, -60.0, 120.0, -120.0):
        angle = towards + math.radians(lean)
        yield (last.z1 + 1e-3, middle * math.cos(angle), middle * math.sin(angle))


def _on_edge(body: Body, scale: float) -> Iterator[Tip]:
    """Places on the edge of a body, above and below, for an arrow."""
    slab = max(body.slabs, key=lambda s: (max(s.outer0, s.outer1), s.z1 - s.z0))
    z = (slab.z0 + slab.z1) / 2
    x, _ = _level(on_paper((z, 0.0, 0.0)))
    for side in (1, -1):
        yield Tip((x * scale, side * slab.at(z)[1] * scale), side, "arrow", 2.0)


# --- the page


def _on_page(
    page: Page,
    scale: float,
    shown: _Shown,
    rows: Sequence[ListRow],
    words: Sequence[str],
    put_together: Sequence[str],
    block: TitleBlock,
) -> _Draft | None:
    """Everything set out on a page, or None where the view finds no room; how rings and cover are held is a note."""
    frame, corner = page.frame, page.block
    left, right = frame.left + _CHECK_COLUMN_MM, corner.left - _CLEAR_MM
    parts = short_list_table(rows, block.manner)
    order = tuple(note_lines(words, right - left))
    manner = block.manner
    told = (manner.prose(_torque(manner.words.phrase(sentence), manner)) for sentence in put_together)
    notes = tuple(note_lines((*told, *block.notes), right - left))
    order_top = frame.bottom + _CLEAR_MM + notes_height_mm(notes) + _order_height_mm(order)
    list_top = corner.top + CHECK_STRIP_MM + parts.height_mm
    area = Rect(left, frame.bottom + _CLEAR_MM, frame.right - _CLEAR_MM, frame.top - _CLEAR_MM)
    blocked = [
        Rect(left, frame.bottom, right, order_top).shrunk(-_CLEAR_MM),
        Rect(corner.left, frame.bottom, frame.right, corner.top + CHECK_STRIP_MM).shrunk(-_CLEAR_MM),
        Rect(frame.right - parts.width_mm, frame.bottom, frame.right, list_top).shrunk(-_CLEAR_MM),
    ]
    view = _free_place(shown, area, blocked)
    if view is None:
        return None
    return _Draft(page, scale, shown.picture, shown.spots, shown.box, view, parts, order, notes)


def _torque(sentence: str, manner: Manner) -> str:
    """The sentence with its torque in the unit of the sheet; its lengths are left to the manner of the sheet."""
    return _TORQUE.sub(lambda found: Figures(manner.unit).prose(found[0]), sentence)


def _free_place(shown: _Shown, area: Rect, blocked: Sequence[Rect]) -> Rect | None:
    """Where the picture stands on free paper, nearest to the middle of what is above the words and the list."""
    x0, y0, x1, y1 = shown.box
    spare_x, spare_y = area.width - (x1 - x0), area.height - (y1 - y0)
    if spare_x < 0.0 or spare_y < 0.0:
        return None
    floor = max(rect.top for rect in blocked)
    wanted = (area.centre[0] - (x1 - x0) / 2, (floor + area.top) / 2 - (y1 - y0) / 2)
    places = [
        (area.left + spare_x * i / _PLACES, area.bottom + spare_y * j / _PLACES)
        for i in range(_PLACES + 1)
        for j in range(_PLACES + 1)
    ]
    for x, y in sorted(places, key=lambda place: math.dist(place, wanted)):
        if not any(_covers(shown.hull, rect, (x - x0, y - y0)) for rect in blocked):
            return Rect(x, y, x + x1 - x0, y + y1 - y0)
    return None


def _covers(hull: Sequence[Point], rect: Rect, shift: Point) -> bool:
    """True if a hull moved by a shift and a rectangle share an area: no side of either keeps them apart."""
    xs, ys = [x + shift[0] for x, _ in hull], [y + shift[1] for _, y in hull]
    if max(xs) <= rect.left or min(xs) >= rect.right or max(ys) <= rect.bottom or min(ys) >= rect.top:
        return False
    dx, dy = shift
    corners = [(x - dx, y - dy) for x in (rect.left, rect.right) for y in (rect.bottom, rect.top)]
    return all(
        any(_turn(a, b, corner) > 0.0 for corner in corners) for a, b in zip(hull, [*hull[1:], hull[0]], strict=True)
    )


def _order_height_mm(lines: Sequence[str]) -> float:
    return len(lines) * _LINE_MM + _HEADING_MM + 2.0


def _drawn(draft: _Draft, block: TitleBlock, bodies: Sequence[Body]) -> AssemblySheet:
    page, scale = draft.page, draft.scale
    document = new_document()
    add_dimension_style(document, scale, block.manner)
    pen = Pen(document.modelspace(), scale)
    box = draft.picture.box
    draw_picture(pen, draft.picture, ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2), 1.0)
    for spot in draft.spots:
        _draw_item(pen, spot)
    sheet = add_sheet(document, page, replace(block, scale=scale_text(scale)), LAYOUT_NAME)
    left, bottom, right, top = draft.box
    add_viewport(sheet, draft.view, ((left + right) / 2 / scale, (bottom + top) / 2 / scale), scale)
    paper = Pen(sheet)
    corner = page.block
    draw_table(paper, draft.parts, page.frame.right - draft.parts.width_mm, corner.top + CHECK_STRIP_MM, heading=-1)
    x, y = page.frame.left + _CHECK_COLUMN_MM, page.frame.bottom + _CLEAR_MM + notes_height_mm(draft.notes)
    draw_notes(paper, draft.notes, x, y, heading=block.manner.words.notes)
    words = block.manner.words
    _draw_order(paper, draft.order, x, y + _order_height_mm(draft.order), words.order_of_assembly)
    return AssemblySheet(document, LAYOUT_NAME, scale, page.name, draft.spots, tuple(bodies))


def _draw_item(pen: Pen, spot: Spot) -> None:
    """One item number in its circle, with its leader, turned back to the picture."""
    scale = pen.scale

    def at(x: float, y: float) -> Point:
        u, v = _turned((x, y))
        return (u / scale, v / scale)

    x0, y0, x1, y1 = spot.leader
    pen.leader([at(x0, y0), at(x1, y1)], end=spot.tip.end)
    centre = at(*spot.centre)
    pen.circle(centre, _CIRCLE_MM / scale, "SYMBOL")
    pen.text(spot.callout.text, centre, _NUMBER_MM, anchor="middle")


def _draw_order(paper: Pen, lines: Sequence[str], left: float, top: float, heading: str) -> None:
    paper.text(heading, (left, top - TEXT_MM - 1.0), TEXT_MM)
    for k, line in enumerate(lines):
        paper.text(line, (left, top - _HEADING_MM - (k + 0.75) * _LINE_MM), SMALL_TEXT_MM)
