"""What a missed size does to the gaps of a tool, and which other face sets them right again.

A size is missed where more metal is gone than its limits allow: a bore too large, a shank too small, a face cut too
far. Every gap that the size belongs to is worked out anew with the size as it came out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.description import ChainResult, Edge, Length, Part, Surface, Tool, outline
from generator.errors import GeometryError

__all__ = ["Broken", "Recut", "broken_by", "face_moves", "miss_of", "recut_for", "shift_of", "sized"]

_STEP_MM = 0.05
_MOST_RECUT_MM = 3.0
_CLOSE_MM = 1e-6
_DOUBT_MM = 0.01


@dataclass(frozen=True, slots=True)
class Broken:
    """A gap that a missed size takes outside what is wanted: by how much, negative where there is too little room."""

    result: ChainResult
    by_mm: float


@dataclass(frozen=True, slots=True)
class Recut:
    """A face to cut back, by how much, and what each length then measures."""

    part: str
    face: str
    by_mm: float
    lengths: tuple[tuple[str, float], ...]


def miss_of(tool: Tool, address: str) -> int:
    """Sign with which a size grows when metal is taken off: +1 for bores and depths, -1 for outsides; 0 if neither."""
    name, _, rest = address.partition("/")
    part = tool.parts[name]
    surface = part.by_name.get(rest.removesuffix("/diameter"))
    if surface is not None:
        return 1 if surface.side.startswith("inside") != surface.side.endswith("groove") else -1
    length = next((one for one in part.lengths if one.name == rest), None)
    if length is None:
        return 0
    moves = face_moves(part)
    return int(moves.get(length.face, 0) * length.sign) or -int(moves.get(length.from_face, 0) * length.sign)


def face_moves(part: Part) -> dict[str, int]:
    """The way each plain face goes when it is cut back: -1 towards the tailstock, +1 towards the work."""
    try:
        found = outline(part)
    except GeometryError:
        return {}
    moves: dict[str, int] = {}
    for face, z in found.z_of.items():
        outer = _jump(found.outer, z)
        inner = _jump(found.inner, z)
        if abs(outer) > _CLOSE_MM or abs(inner) > _CLOSE_MM:
            # Metal ends towards the work where the outside falls on crossing the face, or else the bore grows.
            ends = outer < 0 if abs(outer) > _CLOSE_MM else inner > 0
            moves[face] = -1 if ends else 1
    return moves


def _jump(edges: Sequence[Edge], z: float) -> float:
    """Radius just ahead of a place less that just behind it, along one outline; beyond its ends there is none."""
    behind, ahead = 0.0, 0.0
    for edge in edges:
        if edge.is_face:
            continue
        if abs(edge.z1 - z) < _CLOSE_MM:
            behind = edge.r1
        elif abs(edge.z0 - z) < _CLOSE_MM:
            ahead = edge.r0
        elif edge.z0 < z < edge.z1:
            return 0.0
    return ahead - behind


def shift_of(result: ChainResult, address: str, over_mm: float, sign: int) -> tuple[float, float]:
    """Least and most of a gap with one of its sizes beyond its limit by `over_mm`, the others at their worst."""
    term = next((one for one in result.contributors if one.address == address), None)
    if term is None:
        return result.low_mm, result.high_mm
    size, share = term.size, term.coefficient
    came_out = (size.high if sign > 0 else size.low) + sign * over_mm
    if result.gap.fit == address:
        # The gap was to come out at its middle; what is over goes straight into it.
        half_cut = (size.upper_mm - size.lower_mm) / 2
        doubt = (result.high_mm - result.low_mm) / 2 - abs(share) * half_cut
        middle = (result.high_mm + result.low_mm) / 2 + share * sign * (half_cut + over_mm)
        return middle - doubt, middle + doubt
    if result.gap.fit:
        return result.low_mm, result.high_mm
    ends = sorted((share * size.low, share * size.high))
    return result.low_mm - ends[0] + share * came_out, result.high_mm - ends[1] + share * came_out


def broken_by(
    chains: Sequence[ChainResult], moved: Mapping[str, float], missed: tuple[str, float, int] | None = None
) -> tuple[Broken, ...]:
    """Gaps outside what is wanted with one size missed (address, over in mm, sign) and others moved on purpose."""
    found = []
    for result in chains:
        gap = result.gap
        low, high = shift_of(result, *missed) if missed else (result.low_mm, result.high_mm)
        by = sum(t.coefficient * moved[t.address] for t in result.contributors if t.address in moved)
        if gap.fit and gap.fit not in moved and gap.fit != (missed or ("",))[0]:
            by = 0.0
        before = _outside(gap.least_mm, gap.most_mm, result.low_mm, result.high_mm)
        now = _outside(gap.least_mm, gap.most_mm, low + by, high + by)
        if abs(now) > abs(before) + _CLOSE_MM:
            found.append(Broken(result, now))
    return tuple(found)


def _outside(least: float | None, most: float | None, low: float, high: float) -> float:
    """How far a range is outside its limits: below as a negative figure, above as a positive one."""
    if least is not None and low < least - _CLOSE_MM:
        return low - least
    if most is not None and high > most + _CLOSE_MM:
        return high - most
    return 0.0


def recut_for(
    tool: Tool, chains: Sequence[ChainResult], missed: tuple[str, float, int], broken: Sequence[Broken]
) -> Recut | None:
    """The face whose cutting back sets every broken gap right and breaks no other, with the least metal; else None.

    The flank of a groove comes last: a groove cut wider holds its ring less well. Common practice, no source.
    """
    best: Recut | None = None
    rank = (True, math.inf)
    for part in tool.made:
        flanks = {f for one in part.surfaces if one.side.endswith("groove") for f in (one.near, one.far)}
        sizes = {f"{part.name}/{one.name}": one.size for one in part.lengths}
        for face, way in face_moves(part).items():
            touched = dict(_touched(part, face, way))
            least = _least(broken, touched) if touched else None
            for needed in () if least is None else _amounts(least, missed[1] if _is_narrow(broken) else 0.0):
                if needed > _MOST_RECUT_MM or (face in flanks, needed) >= rank:
                    continue
                moved = {address: sign * needed for address, sign in touched.items()}
                if not broken_by(chains, moved, missed):
                    lengths = tuple((one, round(sizes[one].nominal_mm + by, 3)) for one, by in moved.items())
                    best, rank = Recut(part.name, face, needed, lengths), (face in flanks, needed)
                    break
    return best


def _is_narrow(broken: Sequence[Broken]) -> bool:
    """True where a gap has so little room that a round figure would take it from one limit to the other."""
    rooms = (one.result.gap for one in broken)
    return any(
        gap.least_mm is not None and gap.most_mm is not None and gap.most_mm - gap.least_mm < 2.0 * _STEP_MM
        for gap in rooms
    )


def _amounts(least_mm: float, out_mm: float) -> tuple[float, ...]:
    """What a face is cut back by: a round figure, else the least to a hundredth where the gap allows no more.

    Where `out_mm` is given the gap is narrow, and just what the size is out is cut off, or the least if that is more.
    """
    if out_mm > 0.0:
        return (round(math.ceil(max(least_mm, out_mm) / _DOUBT_MM - _CLOSE_MM) * _DOUBT_MM, 3),)
    round_mm = math.ceil((least_mm + _DOUBT_MM) / _STEP_MM - _CLOSE_MM) * _STEP_MM
    return round(round_mm, 3), round(math.ceil(least_mm / _DOUBT_MM - _CLOSE_MM) * _DOUBT_MM, 3)


def _touched(part: Part, face: str, way: int) -> Iterator[tuple[str, int]]:
    """Lengths that change when a face is cut back, and whether they grow (+1) or shrink (-1)."""
    for length in part.lengths:
        if length.face == face:
            yield f"{part.name}/{length.name}", way * length.sign
        elif length.from_face == face:
            yield f"{part.name}/{length.name}", -way * length.sign


def _least(broken: Sequence[Broken], touched: Mapping[str, int]) -> float | None:
    """How much to cut off a face so that every broken gap comes right; None where it makes one of them worse."""
    most = 0.0
    for one in broken:
        rate = sum(t.coefficient * touched.get(t.address, 0) for t in one.result.contributors)
        if abs(rate) < _CLOSE_MM or (rate > 0) == (one.by_mm > 0):
            return None
        most = max(most, abs(one.by_mm / rate))
    return most


def sized(part: Part, address: str) -> Surface | Length | None:
    """The surface or length that an address of a made part names."""
    rest = address.partition("/")[2]
    surface = part.by_name.get(rest.removesuffix("/diameter"))
    return surface or next((one for one in part.lengths if one.name == rest), None)
