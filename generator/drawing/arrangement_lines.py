"""Straight lines of a view: coinciding ones drawn once, by rank, and joined into polylines. Pure geometry."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

__all__ = ["Point", "Segment", "box_hits", "edges_of", "joined", "ranked", "segment_hits_box", "segments_cross", "wave"]

Point = tuple[float, float]
Segment = tuple[float, float, float, float]
Box = tuple[float, float, float, float]

_SHORT_MM = 1e-4
_APART_MM = 2e-3


def edges_of(loop: Sequence[Point], closed: bool = True) -> list[Segment]:
    """The edges of a polyline as segments."""
    ends = [*loop, loop[0]] if closed else list(loop)
    return [(a[0], a[1], b[0], b[1]) for a, b in pairwise(ends) if math.dist(a, b) > _SHORT_MM]


def ranked(ranks: Sequence[Iterable[Segment]]) -> list[list[Segment]]:
    """The segments of each rank, collinear ones united, without what a higher rank (earlier in the row) covers.

    Source: order of coinciding lines as in ISO 128 practice; touching parts share one line.
    """
    groups: dict[int, list[tuple[float, float, float, int]]] = {}
    for rank, segments in enumerate(ranks):
        for x0, y0, x1, y1 in segments:
            angle = math.atan2(y1 - y0, x1 - x0) % math.pi
            key = round(angle * 20000) % 62832
            axis = key / 20000
            cos, sin = math.cos(axis), math.sin(axis)
            ends = sorted((x0 * cos + y0 * sin, x1 * cos + y1 * sin))
            # The offset is taken at the middle, so that the rounding of the angle does not part equal lines.
            offset = ((y0 + y1) * cos - (x0 + x1) * sin) / 2
            groups.setdefault(key, []).append((offset, ends[0], ends[1], rank))
    result: list[list[Segment]] = [[] for _ in ranks]
    for key, lines in groups.items():
        _emit(key / 20000, lines, result)
    return result


def _emit(axis: float, lines: list[tuple[float, float, float, int]], result: list[list[Segment]]) -> None:
    """Write the united segments of all lines of one direction."""
    lines.sort()
    cos, sin = math.cos(axis), math.sin(axis)
    start = 0
    for index in range(1, len(lines) + 1):
        if index < len(lines) and lines[index][0] - lines[index - 1][0] < _APART_MM:
            continue
        bundle = lines[start:index]
        offset = bundle[0][0]
        start = index
        covered: list[tuple[float, float]] = []
        for rank in sorted({line[3] for line in bundle}):
            own = _united([(line[1], line[2]) for line in bundle if line[3] == rank])
            for t0, t1 in _less(own, covered):
                if t1 - t0 > _SHORT_MM:
                    ends = (t0 * cos - offset * sin, t0 * sin + offset * cos)
                    result[rank].append((*ends, t1 * cos - offset * sin, t1 * sin + offset * cos))
            covered = _united([*covered, *own])


def _united(spans: list[tuple[float, float]]) -> list[tuple[float, float]]:
    found: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        if found and low <= found[-1][1] + _APART_MM:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found


def _less(spans: list[tuple[float, float]], holes: list[tuple[float, float]]) -> list[tuple[float, float]]:
    for low, high in holes:
        spans = [
            piece
            for t0, t1 in spans
            for piece in ((t0, min(t1, low)), (max(t0, high), t1))
            if piece[1] - piece[0] > _SHORT_MM
        ]
    return spans


def joined(segments: Iterable[Segment]) -> list[list[Point]]:
    """Polylines through the segments, joined where exactly two of them meet; closed ones end as they begin."""
    links: dict[tuple[int, int], list[tuple[int, int]]] = {}
    place: dict[tuple[int, int], Point] = {}
    for x0, y0, x1, y1 in segments:
        a, b = (round(x0 * 500), round(y0 * 500)), (round(x1 * 500), round(y1 * 500))
        if a == b:
            continue
        place.setdefault(a, (x0, y0))
        place.setdefault(b, (x1, y1))
        links.setdefault(a, []).append(b)
        links.setdefault(b, []).append(a)
    found = []
    starts = [node for node, ends in links.items() if len(ends) != 2]
    for start in [*starts, *links]:
        while links[start]:
            found.append([place[node] for node in _walk(start, links)])
    return found


def _walk(start: tuple[int, int], links: dict[tuple[int, int], list[tuple[int, int]]]) -> list[tuple[int, int]]:
    """One way along unused links, to the next place that is not a plain corner."""
    way = [start]
    node = start
    while links[node]:
        onward = links[node].pop()
        links[onward].remove(node)
        way.append(onward)
        node = onward
        if len(links[node]) != 1 or node == start:
            break
    return way


def segments_cross(a: Segment, b: Segment) -> bool:
    """True if two segments have a point in common."""
    ax, ay, bx, by = a
    cx, cy, dx, dy = b
    # Written out, since the search for places of callouts asks this a hundred thousand times.
    if (ax if ax > bx else bx) < (cx if cx < dx else dx) or (cx if cx > dx else dx) < (ax if ax < bx else bx):
        return False
    if (ay if ay > by else by) < (cy if cy < dy else dy) or (cy if cy > dy else dy) < (ay if ay < by else by):
        return False
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    if (ux * (cy - ay) - uy * (cx - ax)) * (ux * (dy - ay) - uy * (dx - ax)) > 0:
        return False
    return (vx * (ay - cy) - vy * (ax - cx)) * (vx * (by - cy) - vy * (bx - cx)) <= 0


def segment_hits_box(segment: Segment, box: Box) -> bool:
    """True if any of the segment lies in the box (x0, y0, x1, y1)."""
    x0, y0, x1, y1 = segment
    left, bottom, right, top = box
    if (x0 < left and x1 < left) or (x0 > right and x1 > right):
        return False
    if (y0 < bottom and y1 < bottom) or (y0 > top and y1 > top):
        return False
    low, high = 0.0, 1.0
    for start, step, least, most in ((x0, x1 - x0, box[0], box[2]), (y0, y1 - y0, box[1], box[3])):
        if abs(step) < 1e-12:
            if start < least or start > most:
                return False
            continue
        first, last = (least - start) / step, (most - start) / step
        low, high = max(low, min(first, last)), min(high, max(first, last))
        if low > high:
            return False
    return True


def box_hits(a: Box, b: Box) -> bool:
    """True if two boxes overlap."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def wave(start: Point, end: Point, depth_mm: float, pitch_mm: float) -> list[Point]:
    """A freehand-looking line from start to end for the edge of a broken view; it leaves the straight by `depth_mm`.

    Source: narrow freehand line as the end of a broken or partial view, ISO 128.
    """
    length = math.dist(start, end)
    if length < 1e-9:
        return [start, end]
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    count = max(4, round(length / pitch_mm) * 4)
    points = [start]
    for index in range(1, count):
        along = length * index / count
        turn = math.pi / 2 * index
        drift = math.sin(0.37 * turn + 1.0) * math.sin(math.pi * index / count)
        off = depth_mm * (0.75 * math.sin(turn) + 0.35 * drift)
        points.append((start[0] + ux * along - uy * off, start[1] + uy * along + ux * off))
    return [*points, end]
