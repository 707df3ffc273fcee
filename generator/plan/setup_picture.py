"""Picture of the workpiece as it stands after a set-up: what was cut heavy, how it is held, lengths to the stop."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.description import Edge
from generator.ink.model import Ink, Point
from generator.ink.pen import Pen
from generator.making.figures import Figures
from generator.making.setups import SetUp
from generator.plan.picture_frame import FINE_MM, WORD_MM, Place, spread, word_width_mm
from generator.plan.setup_body import above, draw_body
from generator.plan.setup_holding import SIDE_MM, draw_holding
from generator.plan.workpiece import OTHER, History, Workpiece, joints

__all__ = ["NARROW_MM", "WIDTH_MM", "frame_of", "setup_picture"]

WIDTH_MM, NARROW_MM = 178.0, 92.0
_TALLEST_MM, _PLAIN_MM = 30.0, 16.0
"""How high the work stands on paper where there is something to see on it, and as a plain bar. Shop choice."""
_FEW, _HARDLY = 7, 3
"""Operations whose numbers fit over a narrow picture; from how few on a long piece is made to fit one. Shop choice."""
_ROOM_MM = 8.0
"""Above and below the work for jaws and carrier."""
_ROW_MM = 6.2
_SCALES = (5.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.25, 1.0, 0.8, 0.6, 0.5, 0.4, 0.3, 0.25, 0.2, 0.15, 0.1)


def setup_picture(history: History, setup: SetUp, figures: Figures) -> Ink:
    """The workpiece after this set-up, headstock to the left: cut open above the axis where it is hollow.

    Surfaces at their final form since this set-up stand in a heavy line, each with the number of its operation.
    """
    piece = history.after(setup.number)
    place, width, height, foot = frame_of(history, setup, piece)
    pen = Pen("SETUP")
    draw_body(pen, history, setup, piece, place)
    axis = sorted((place.x(piece.low_z), place.x(piece.high_z)))
    pen.dashed((axis[0] - 5.0, place.axis_y), (axis[1] + 5.0, place.axis_y), FINE_MM)
    names = list(draw_holding(pen, history, setup, piece, place))
    _lengths(pen, history, setup, place, figures, (foot - 3.0, width))
    _numbers(pen, history, setup, place, (height - WORD_MM - 0.5, width))
    _words(pen, names, width)
    return pen.ink(width, height)


def frame_of(history: History, setup: SetUp, piece: Workpiece) -> tuple[Place, float, float, float]:
    """Where the work lies on the paper, how wide and high the paper is, how high its foot with words and lengths."""
    right = history.worked_end(setup)
    low, high = piece.low_z, piece.high_z
    if piece.parted is not None:
        beyond = history.bar_beyond_mm(OTHER[right])
        low, high = (low - beyond, high) if right == "far" else (low, high + beyond)
    radius = max(max(e.r0, e.r1) for e in piece.outer)
    radius = max(radius, history.bar_radius_mm if piece.parted is not None else 0.0)
    tallest = _PLAIN_MM if not piece.inner and len(setup.steps) < _HARDLY else _TALLEST_MM
    few = len(setup.steps) <= _HARDLY
    scale = _scale(high - low, 2 * radius, (NARROW_MM if few else WIDTH_MM) - 2 * SIDE_MM, tallest)
    fits = (high - low) * scale <= NARROW_MM - 2 * SIDE_MM and len(setup.steps) <= _FEW
    width = NARROW_MM if fits else WIDTH_MM
    room = width - 2 * SIDE_MM
    foot = (2.3 if history.span_of(setup.touches_off) else 1.0) * _ROW_MM
    half = radius * scale + _ROOM_MM
    height = foot + 2 * half + _ROW_MM
    flipped = right == "near"
    left = SIDE_MM + (room - (high - low) * scale) / 2
    zero = left + (high if flipped else -low) * scale
    return Place(zero, foot + half, scale, flipped), width, height, foot


def _scale(long_mm: float, wide_mm: float, room_mm: float, tallest_mm: float) -> float:
    """The largest scale at which a piece fits."""
    return next((s for s in _SCALES if long_mm * s <= room_mm and wide_mm * s <= tallest_mm), _SCALES[-1])


# --- lengths, numbers, words ------------------------------------------------------------------------------------


def _stops(history: History, setup: SetUp) -> list[float]:
    """Places along the part at which the tool stops in this set-up: ends of what was cut."""
    piece = history.after(setup.number)
    touched = history.span_of(setup.touches_off)
    if touched is None:
        return []
    shaped = {one.name for one in history.part.surfaces if one.role in {"chamfer", "drill point"}}
    edges = [edge for edge in (*piece.outer, *piece.inner) if edge.name in piece.cut - shaped]
    found = {round(z, 4) for edge in edges for z in (edge.z0, edge.z1)}
    for name in piece.cut - set(history.part.by_name):
        found |= {round(z, 4) for z in history.span_of(f"{history.part.name}/{name}") or ()}
    formed = {round(z, 4) for z in _formed_ends(history)}
    faced = {round(history.z_of[name], 4) for name in piece.cut if name in history.z_of}
    ends = {round(z, 4) for z in (piece.low_z, piece.high_z)} - faced
    return sorted(z for z in found - formed - ends if abs(z - touched[0]) > 1e-3)


def _formed_ends(history: History) -> Iterator[float]:
    """Inner ends of chamfers and tips of drills: the form of the tool makes them, nobody stops there."""
    for one in history.part.surfaces:
        if one.role in {"chamfer", "drill point"}:
            yield from (history.z_of[face] for face in (one.near, one.far) if face != one.at)


def _lengths(
    pen: Pen, history: History, setup: SetUp, place: Place, figures: Figures, row: tuple[float, float]
) -> None:
    """Distances along the axis from the face touched off on, one for every place where the tool stops."""
    touched = history.span_of(setup.touches_off)
    if touched is None:
        return
    (y, width), piece = row, history.after(setup.number)
    zero = touched[0]
    lowest = -max(max(e.r0, e.r1) for e in piece.outer)
    marks = sorted([(place.x(z), z) for z in (zero, *_stops(history, setup))])
    texts = ["0" if z == zero else figures.bare(abs(z - zero)) for _, z in marks]
    widths = [word_width_mm(text) + 3.0 for text in texts]
    middles = spread([x for x, _ in marks], widths, 0.5, width - 0.5)
    for (x, z), text, middle in zip(marks, texts, middles, strict=True):
        start = place.at(z, lowest)
        pen.line([start, (x, y + 6.0), (middle, y + 3.0), (middle, y + 0.5)], FINE_MM)
        pen.word(text, (middle, y - WORD_MM), WORD_MM, 0.5)
        if z == zero:
            _zero_mark(pen, start)


def _zero_mark(pen: Pen, at: Point) -> None:
    """A full triangle whose tip stands on the face that is touched off on."""
    x, y = at
    pen.area([(x, y), (x - 2.0, y - 3.6), (x + 2.0, y - 3.6)])


def _numbers(pen: Pen, history: History, setup: SetUp, place: Place, row: tuple[float, float]) -> None:
    """The number of each operation, with a line to what it cuts."""
    y, width = row
    marks = sorted(_operation_marks(history, setup, history.after(setup.number), place))
    texts = [f"{setup.number}.{index}" for _, _, index in marks]
    widths = [word_width_mm(text) + 3.0 for text in texts]
    for (x, edge_y, _), text, middle in zip(
        marks, texts, spread([mark[0] for mark in marks], widths, 0.5, width - 0.5), strict=True
    ):
        pen.word(text, (middle, y), WORD_MM, 0.5)
        pen.line([(middle, y - 0.8), (middle, y - 2.0), (x, edge_y)], FINE_MM)
        pen.dot((x, edge_y), 0.7)


def _operation_marks(
    history: History, setup: SetUp, piece: Workpiece, place: Place
) -> Iterator[tuple[float, float, int]]:
    """Where on the paper each operation cuts, where the picture shows it."""
    for index, step in enumerate(setup.steps, start=1):
        names = [name for address in (step.surface, *step.cuts) for name in _names_in(history, address)]
        edge = next((found for name in names if (found := _edge_of(history, piece, name)) is not None), None)
        if edge is not None:
            # Where a half point is cut away above the axis, the place below it is shown.
            z, r = (edge.z0 + edge.z1) / 2, (edge.r0 + edge.r1) / 2
            stands = any(min(one.z0, one.z1) <= z <= max(one.z0, one.z1) for one in above(history, piece, edge))
            x, y = place.at(z, r if stands else -r)
            yield x, y, index


def _names_in(history: History, address: str) -> Iterator[str]:
    """What an address may mean on this part: a surface or face itself, or the owner of a size."""
    part, _, name = address.partition("/")
    if part != history.part.name:
        return
    yield name
    yield name.rpartition("/")[0]
    zones = {zone.name: zone.surface for zone in history.part.zones}
    if name in zones:
        yield zones[name]
    yield from (one.face for one in history.part.lengths if one.name == name)


def _edge_of(history: History, piece: Workpiece, name: str) -> Edge | None:
    uprights = [*joints(history, piece, inside=False), *joints(history, piece, inside=True)]
    found = [edge for edge in (*piece.outer, *piece.inner, *uprights) if name and edge.name == name]
    if found:
        return max(found, key=lambda edge: abs(edge.z1 - edge.z0) + abs(edge.r1 - edge.r0))
    cross = next((one for one in history.part.cross if one.name == name and name in piece.made), None)
    if cross is not None:
        low, high = sorted((history.z_of[cross.near], history.z_of[cross.far]))
        return Edge(low, 0.0, high, 0.0, name)
    surface = history.part.by_name.get(name)
    if surface is None:
        return None
    low, high = sorted((history.z_of[surface.near], history.z_of[surface.far]))
    side = piece.inner if surface.side.startswith("inside") else piece.outer
    return next((e for e in side if e.z0 <= (low + high) / 2 <= e.z1), None)


def _words(pen: Pen, names: Sequence[tuple[str, float]], width: float) -> None:
    """The word for each shape that holds the work, at the foot of the picture."""
    ordered = sorted(names, key=lambda one: one[1])
    widths = [word_width_mm(text) + 3.0 for text, _ in ordered]
    middles = spread([x for _, x in ordered], widths, 0.5, width - 0.5)
    for (text, _), middle in zip(ordered, middles, strict=True):
        pen.word(text, (middle, 1.2), WORD_MM, 0.5)
