"""Neighbouring parts and the tool that must pass: outlines cut off where they run on, and room for their names.

Pure geometry in model millimetres. Source: neighbours in narrow long-dash-double-dot line, not hatched, broken ends by
a freehand line, ISO 128.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from generator.description import Silhouette
from generator.drawing.arrangement_lines import Point, Segment, edges_of, ranked, wave
from generator.drawing.arrangement_profile import Placed, loops_of

__all__ = ["Neighbour", "Window", "clipped", "inside", "neighbours_of", "window_round"]

Window = tuple[float, float, float, float]

_RUN_ON_MM = 9.0
_WORK_RUN_ON_MM = 20.0
_BESIDE_MM = 17.0


@dataclass(frozen=True, slots=True)
class Neighbour:
    """One neighbour as shown: its name in words, chain lines, broken ends, and its area for a label."""

    name: str
    title: str
    lines: list[Segment]
    breaks: list[list[Point]]
    loops: list[list[Point]]


def window_round(box: Window, scale: float) -> Window:
    """How far neighbours are shown round the tool's own box."""
    return (
        box[0] - _RUN_ON_MM / scale,
        box[1] - _BESIDE_MM / scale,
        box[2] + _WORK_RUN_ON_MM / scale,
        box[3] + _BESIDE_MM / scale,
    )


def neighbours_of(
    placed: Sequence[Placed], silhouettes: Iterable[Silhouette], box: Window, drawn: Sequence[Segment], scale: float
) -> list[Neighbour]:
    """The neighbours cut off to a window round the tool, without what coincides with the lines already `drawn`."""
    window = window_round(box, scale)
    found = []
    for part in placed:
        loops = [loop for side in (1, -1) for loop in loops_of(part.half(side), side)]
        found.append(_shown(part.name, part.part.title, loops, True, _run_on(part, box, window), scale))
    for shape in silhouettes:
        found.append(_shown(shape.name, shape.title, [list(shape.corners)], shape.closed, window, scale))
    lines = ranked([drawn, *(n.lines for n in found)])[1:]
    return [Neighbour(n.name, n.title, own, n.breaks, n.loops) for n, own in zip(found, lines, strict=True)]


def _run_on(part: Placed, box: Window, window: Window) -> Window:
    """The window for one turned neighbour: an end that stands out past the tool is always cut off, it runs on."""
    near, far = window[0], window[2]
    if part.near_z < box[0]:
        near = max(near, part.near_z + 0.02 * (part.far_z - part.near_z))
    if part.far_z > box[2]:
        far = min(far, part.far_z - 0.02 * (part.far_z - part.near_z))
    if part.radius <= 1.6 * window[3]:
        return (near, -part.radius - 1.0, far, part.radius + 1.0)
    return (near, window[1], far, window[3])


def _shown(name: str, title: str, loops: list[list[Point]], closed: bool, window: Window, scale: float) -> Neighbour:
    edges = [edge for loop in loops for edge in edges_of(loop, closed)]
    lines = [cut for edge in edges if not _on_axis(edge) and (cut := clipped(edge, window)) is not None]
    breaks: list[list[Point]] = []
    if closed:
        for across in (0, 1):
            for at in (window[across], window[across + 2]):
                stretches = [s for loop in loops for s in _inside_at(loop, across, at)]
                for low, high in _merged(stretches):
                    low, high = max(low, window[1 - across]), min(high, window[3 - across])
                    if high - low > 0.2:
                        ends = [(at, low), (at, high)] if across == 0 else [(low, at), (high, at)]
                        breaks.append(wave(ends[0], ends[1], 0.7 / scale, 5.0 / scale))
    return Neighbour(name, title, lines, breaks, loops if closed else [])


def _on_axis(edge: Segment) -> bool:
    return abs(edge[1]) < 1e-6 and abs(edge[3]) < 1e-6


def clipped(edge: Segment, window: Window) -> Segment | None:
    """The part of an edge inside the window, or None."""
    x0, y0, x1, y1 = edge
    low, high = 0.0, 1.0
    for start, step, least, most in ((x0, x1 - x0, window[0], window[2]), (y0, y1 - y0, window[1], window[3])):
        if abs(step) < 1e-12:
            if start < least or start > most:
                return None
            continue
        first, last = sorted(((least - start) / step, (most - start) / step))
        low, high = max(low, first), min(high, last)
    if high - low < 1e-9:
        return None
    return (x0 + low * (x1 - x0), y0 + low * (y1 - y0), x0 + high * (x1 - x0), y0 + high * (y1 - y0))


def _inside_at(loop: Sequence[Point], across: int, at: float) -> list[tuple[float, float]]:
    """Stretches of the line z = at (across 0) or r = at (across 1) that lie inside a closed loop."""
    crossings = []
    for edge in edges_of(loop):
        a, b = (edge[0], edge[1]), (edge[2], edge[3])
        if (a[across] > at) is not (b[across] > at):
            share = (at - a[across]) / (b[across] - a[across])
            crossings.append(a[1 - across] + share * (b[1 - across] - a[1 - across]))
    crossings.sort()
    return list(zip(crossings[::2], crossings[1::2], strict=False))


def _merged(stretches: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Stretches that touch made one (both halves of a solid neighbour share the axis)."""
    found: list[tuple[float, float]] = []
    for low, high in sorted(stretches):
        if found and low <= found[-1][1] + 1e-6:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found


def inside(point: Point, loops: Iterable[Sequence[Point]]) -> bool:
    """True if the point lies inside one of the closed loops."""
    x, y = point
    for loop in loops:
        within = False
        for (x0, y0), (x1, y1) in zip(loop, [*loop[1:], loop[0]], strict=True):
            if (y0 > y) is not (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
                within = not within
        if within:
            return True
    return False


