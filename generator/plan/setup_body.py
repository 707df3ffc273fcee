"""The workpiece itself on its picture: outside, hole, flats, and the bar that it was parted from."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import sqrt

from generator.description import Cross, Edge
from generator.ink.pen import Pen
from generator.making.setups import SetUp
from generator.plan.picture_frame import FINE_MM, HEAVY_MM, THIN_MM, Place, hatch
from generator.plan.workpiece import OTHER, History, Workpiece, joints

__all__ = ["above", "draw_body"]

_SLIT_MM = 2.0


def draw_body(pen: Pen, history: History, setup: SetUp, piece: Workpiece, place: Place) -> None:
    """Draws the workpiece, what this set-up finished in a heavy line."""
    _outline(pen, history, piece, place)
    _crossings(pen, history, piece, place)
    _beyond(pen, history, setup, piece, place)


def _outline(pen: Pen, history: History, piece: Workpiece, place: Place) -> None:
    """Outside above and below; the hole above the axis, where the work is cut open."""
    outer = [*piece.outer, *joints(history, piece, inside=False)]
    hollow = bool(piece.inner)
    for edge in outer:
        width = _width(edge, piece)
        end = edge.is_face and edge.z0 in (piece.low_z, piece.high_z)
        for kept in above(history, piece, edge):
            pen.line([place.at(kept.z0, kept.r0), place.at(kept.z1, kept.r1)], width)
        low = 0.0 if end else edge.r0
        pen.line([place.at(edge.z0, -low), place.at(edge.z1, -edge.r1)], width)
        if not edge.is_face or end:
            continue
        # A shoulder is seen from the side as one upright line down to the axis.
        pen.line([place.at(edge.z0, -min(edge.r0, edge.r1)), place.at(edge.z0, 0.0)], THIN_MM)
        if not hollow:
            pen.line([place.at(edge.z0, min(edge.r0, edge.r1)), place.at(edge.z0, 0.0)], THIN_MM)
    if not hollow:
        return
    for edge in (*piece.inner, *joints(history, piece, inside=True)):
        pen.line([place.at(edge.z0, edge.r0), place.at(edge.z1, edge.r1)], _width(edge, piece))
        if edge.is_face:
            pen.line([place.at(edge.z0, min(edge.r0, edge.r1)), place.at(edge.z0, 0.0)], FINE_MM)
    hatch(pen, [place.at(z, r) for z, r in _section(piece)])


def above(history: History, piece: Workpiece, edge: Edge) -> Iterator[Edge]:
    """What is left of an edge above the axis where a half point has been cut away."""
    halves = [(one, over) for one, over in _present(history, piece) if one.kind == "half"]
    if not halves:
        yield edge
        return
    cross, over = halves[0]
    low, high = sorted((history.z_of[cross.near], history.z_of[cross.far]))
    height = cross.sizes["height"].nominal_mm + over
    marks = [0.0, 1.0]
    for value, start, end in ((low, edge.z0, edge.z1), (high, edge.z0, edge.z1), (height, edge.r0, edge.r1)):
        if abs(end - start) > 1e-9 and 0.0 < (value - start) / (end - start) < 1.0:
            marks.append((value - start) / (end - start))
    for a, b in pairwise(sorted(marks)):
        z, r = _along(edge, (a + b) / 2)
        if not (low <= z <= high and r > height):
            yield Edge(*_along(edge, a), *_along(edge, b), edge.name, edge.is_face)


def _along(edge: Edge, share: float) -> tuple[float, float]:
    return edge.z0 + share * (edge.z1 - edge.z0), edge.r0 + share * (edge.r1 - edge.r0)


def _width(edge: Edge, piece: Workpiece) -> float:
    return HEAVY_MM if edge.name and edge.name in piece.cut else THIN_MM


def _section(piece: Workpiece) -> list[tuple[float, float]]:
    """Corners of the material above the axis."""
    corners = [(z, r) for e in piece.outer for z, r in ((e.z0, e.r0), (e.z1, e.r1))]
    back: list[tuple[float, float]] = [(piece.low_z, 0.0)]
    here = piece.low_z
    for edge in piece.inner:
        if edge.z0 > here + 1e-6:
            back += [(here, 0.0), (edge.z0, 0.0)]
        back += [(edge.z0, edge.r0), (edge.z1, edge.r1)]
        here = edge.z1
    back += [(here, 0.0), (piece.high_z, 0.0)] if here < piece.high_z - 1e-6 else []
    if piece.inner and piece.inner[0].z0 <= piece.low_z + 1e-6:
        back = back[1:]
    return [*corners, *reversed(back)]


def _crossings(pen: Pen, history: History, piece: Workpiece, place: Place) -> None:
    """Flats, tangs, half points and holes across the axis that are there by now."""
    for cross, over in _present(history, piece):
        width = HEAVY_MM if cross.name in piece.cut else THIN_MM
        low, high = sorted((history.z_of[cross.near], history.z_of[cross.far]))
        radius = max((max(e.r0, e.r1) for e in piece.outer if e.z0 < high - 1e-6 and e.z1 > low + 1e-6), default=0.0)
        for points in _crossing(cross, low, high, radius, over):
            pen.line([place.at(z, r) for z, r in points], width)
        if cross.kind in {"flats", "tang"}:
            # The crossed lines that mark a flat.
            half = _half_chord(cross, radius, over)
            for sign in (1, -1):
                pen.line([place.at(low, -sign * half), place.at(high, sign * half)], FINE_MM)


def _present(history: History, piece: Workpiece) -> Iterator[tuple[Cross, float]]:
    """Features across the axis that are there by now, each with what is still left on it."""
    for cross in history.part.cross:
        if cross.name in piece.made:
            yield cross, 0.0
        elif (over := history.roughed_over_mm(cross.name, piece.number)) is not None:
            yield cross, over


def _half_chord(cross: Cross, radius: float, over: float) -> float:
    across = cross.sizes["across"].nominal_mm / 2 + over
    return sqrt(max(0.0, radius**2 - across**2))


def _crossing(
    cross: Cross, low: float, high: float, radius: float, over: float
) -> Iterator[list[tuple[float, float]]]:
    if cross.kind in {"flats", "tang"}:
        half = _half_chord(cross, radius, over)
        yield [(low, -half), (high, -half), (high, half), (low, half), (low, -half)]
    elif cross.kind == "half":
        height = cross.sizes["height"].nominal_mm + over
        yield [(low, max(height, radius)), (low, height), (high, height)]
    else:
        half = cross.sizes["diameter"].nominal_mm / 2
        middle = (low + high) / 2
        yield [(middle - half, -radius), (middle - half, radius)]
        yield [(middle + half, -radius), (middle + half, radius)]


def _beyond(pen: Pen, history: History, setup: SetUp, piece: Workpiece, place: Place) -> None:
    """The bar from which the piece was parted, a slit away."""
    if piece.parted is None:
        return
    end = OTHER[history.worked_end(setup)]
    z = piece.parted
    stop = z - history.bar_beyond_mm(end) if end == "near" else z + history.bar_beyond_mm(end)
    start = z + (-1 if end == "near" else 1) * _SLIT_MM / place.scale
    r = history.bar_radius_mm
    pen.line([place.at(start, -r), place.at(start, r), place.at(stop, r), place.at(stop, -r)], THIN_MM, closed=True)
