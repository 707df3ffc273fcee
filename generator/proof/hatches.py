"""Hatch: touching parts told apart, one part hatched alike throughout, no hatch along an edge."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.proof.rules import Fault, fault
from generator.proof.sheet import Point, Sheet, address_of

__all__ = ["hatch_faults"]

_LEAST_TURN_DEG = 30.0
_LEAST_PITCH_RATIO = 1.3
_ALONG_DEG = 5.0
_LONG_EDGE_MM = 3.0
_SHARED_MM = 0.5
_STEP_MM = 0.05


@dataclass(frozen=True, slots=True)
class _Area:
    """One hatched area: its part where the file names it, slope, pitch on paper (none where solid), corners."""

    part: str
    angle_deg: float
    pitch_mm: float
    is_solid: bool
    factor: float
    loops: tuple[tuple[Point, ...], ...]
    handle: str


def hatch_faults(sheet: Sheet) -> Iterator[Fault]:
    """Every fault of hatching."""
    areas = list(_areas(sheet))
    yield from _along_edges(sheet, areas)
    yield from _changes(sheet, areas)
    yield from _alike(sheet, areas)


def _areas(sheet: Sheet) -> Iterator[_Area]:
    for entity in sheet.model:
        if entity.dxftype() != "HATCH" or entity.dxf.layer != "HATCH":
            continue
        lines = entity.pattern.lines if entity.pattern is not None and not entity.dxf.solid_fill else []
        paths = [path for path in entity.paths if hasattr(path, "vertices")]
        loops = tuple(tuple((float(v[0]), float(v[1])) for v in path.vertices) for path in paths)
        part = address_of(entity)
        handle = entity.dxf.handle or ""
        if not any(loops):
            continue
        factor = sheet.factor_at(loops[0][0])
        if not lines:
            yield _Area(part, 0.0, 0.0, True, factor, loops, handle)
            continue
        pitch = math.hypot(lines[0].offset.x, lines[0].offset.y) * factor
        yield _Area(part, float(lines[0].angle) % 180.0, pitch, False, factor, loops, handle)


def _edges(area: _Area) -> Iterator[tuple[Point, Point]]:
    for loop in area.loops:
        yield from zip(loop, (*loop[1:], loop[0]), strict=True)


def _turn(one: float, other: float) -> float:
    turn = abs(one - other) % 180.0
    return min(turn, 180.0 - turn)


def _along_edges(sheet: Sheet, areas: Sequence[_Area]) -> Iterator[Fault]:
    for area in areas:
        if area.is_solid:
            continue
        for a, b in _edges(area):
            if math.dist(a, b) * area.factor <= _LONG_EDGE_MM:
                continue
            slope = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 180.0
            if _turn(slope, area.angle_deg) < _ALONG_DEG:
                what = f"hatch at {area.angle_deg:g} degrees runs along an edge at {slope:.0f}"
                yield fault("hatch-along-edge", what, sheet.on_paper(a), area.handle, "HATCH")
                break


def _changes(sheet: Sheet, areas: Sequence[_Area]) -> Iterator[Fault]:
    """Areas of one named part with unlike hatches."""
    first: dict[str, _Area] = {}
    for area in areas:
        if not area.part:
            continue
        known = first.setdefault(area.part, area)
        same = known.is_solid is area.is_solid and _turn(known.angle_deg, area.angle_deg) < 0.1
        if not (same and abs(known.pitch_mm - area.pitch_mm) < 0.01):
            what = f"{area.part} is hatched in two ways (entity {known.handle})"
            yield fault("hatch-changes", what, sheet.on_paper(area.loops[0][0]), area.handle, "HATCH")


def _differ(one: _Area, other: _Area) -> bool:
    if one.is_solid or other.is_solid:
        return one.is_solid is not other.is_solid
    if _turn(one.angle_deg, other.angle_deg) >= _LEAST_TURN_DEG - 0.01:
        return True
    low, high = sorted((one.pitch_mm, other.pitch_mm))
    return high / low >= _LEAST_PITCH_RATIO - 1e-6


def _alike(sheet: Sheet, areas: Sequence[_Area]) -> Iterator[Fault]:
    """Areas of two parts that share an edge and cannot be told apart."""
    if len({area.part or area.handle for area in areas}) < 2:
        return
    told: set[tuple[int, int]] = set()
    for key, edges in _shared(areas).items():
        for i, (low, high, one) in enumerate(edges):
            for low1, high1, other in edges[i + 1 :]:
                pair = (min(one, other), max(one, other))
                a, b = areas[pair[0]], areas[pair[1]]
                if one == other or pair in told or (min(high, high1) - max(low, low1)) * a.factor < _SHARED_MM:
                    continue
                if (a.part and a.part == b.part) or _differ(a, b):
                    continue
                told.add(pair)
                names = " and ".join(area.part or f"entity {area.handle}" for area in (a, b))
                at = sheet.on_paper(_place(key, max(low, low1)))
                yield fault("hatch-alike", f"{names} touch and are hatched alike", at, b.handle, "HATCH")


_Key = tuple[int, int]


def _shared(areas: Sequence[_Area]) -> dict[_Key, list[tuple[float, float, int]]]:
    """Edges by the line that they lie on: direction in tenths of a degree, distance from zero in steps."""
    found: dict[_Key, list[tuple[float, float, int]]] = defaultdict(list)
    for index, area in enumerate(areas):
        for a, b in _edges(area):
            if math.dist(a, b) < 1e-6:
                continue
            turn = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 180.0
            key_turn = round(turn * 10) % 1800
            way = math.radians(key_turn / 10)
            ux, uy = math.cos(way), math.sin(way)
            away = (a[1] + b[1]) / 2 * ux - (a[0] + b[0]) / 2 * uy
            low, high = sorted((a[0] * ux + a[1] * uy, b[0] * ux + b[1] * uy))
            found[(key_turn, round(away / _STEP_MM))].append((low, high, index))
    return found


def _place(key: _Key, along: float) -> Point:
    way, away = math.radians(key[0] / 10), key[1] * _STEP_MM
    return (along * math.cos(way) - away * math.sin(way), along * math.sin(way) + away * math.cos(way))
