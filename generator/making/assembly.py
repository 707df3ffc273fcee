"""The order in which a tool goes together, found by asking which piece can be drawn out along the axis next.

Works at nominal size on the meridians. What turns is put together first and goes in as one, where it can.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.description import Edge, Part, Tool, nominal_positions, outline, volume_mm3

__all__ = ["Move", "assembly_moves"]

_TOUCH_MM = 0.06
"""Radii that overlap by less than this pass each other: a press fit at nominal size."""

_FACES_MM = 0.15
"""Faces that overlap by less than this only touch: outlines are nominal, places follow measured widths."""

_THREAD_SHARE, _THREAD_DEEP_MM = 0.8, 1.0
"""A screw passes its thread: its radius is taken at less than the core, by no more than the deepest. Shop choice."""

_CONE_STEP_MM = 1.0


@dataclass(frozen=True, slots=True)
class Move:
    """One piece put in place: what, onto or into what, from which side, and the faces that then touch.

    `side` is "work side", "tailstock side", "pliers" for a circlip, or "" where no straight way in was found.
    """

    pieces: tuple[str, ...]
    title: str
    into: str
    side: str
    contacts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Slice:
    """A ring of a piece between two places along the axis, by its radii."""

    near: float
    far: float
    inner: float
    outer: float


@dataclass(frozen=True, slots=True)
class _Piece:
    """Parts that move as one."""

    parts: tuple[str, ...]
    title: str
    slices: tuple[_Slice, ...]
    springs: bool = False


def assembly_moves(tool: Tool) -> tuple[Move, ...]:
    """Moves in the order of assembly; empty for a tool of one piece."""
    pieces = _pieces(tool)
    if len(pieces) < 2:
        return ()
    core = _core(tool, pieces)
    turning = [piece for piece in pieces if tool.turning.intersection(piece.parts) and piece is not core]
    others = [piece for piece in pieces if piece is not core and piece not in turning]
    carried = _carried(tool, turning, others)
    turning = [piece for piece in pieces if piece in turning or piece in carried]
    others = [piece for piece in others if piece not in carried]
    whole = _together(turning) if len(turning) > 1 else None
    if whole is not None:
        out, stuck = _take_out([core, *others, whole], core)
        if not stuck:
            inner_core = max(turning, key=lambda piece: _made_volume(tool, piece))
            inside, inner_stuck = _take_out(turning, inner_core)
            moves = [*_moves(tool, inner_core, inside, inner_stuck)]
            return (*moves, *_moves(tool, core, out, [], (whole, inner_core.title)))
    out, stuck = _take_out(pieces, core)
    return tuple(_moves(tool, core, out, stuck))


def _carried(tool: Tool, turning: Sequence[_Piece], others: Sequence[_Piece]) -> list[_Piece]:
    """What does not turn but stands between two pieces that do, as a spacer between outer rings: it goes with them."""
    names = {name for piece in turning for name in piece.parts}
    found = []
    for piece in others:
        seats = [seat for seat in tool.seats if {seat.part, seat.on_part} & set(piece.parts)]
        others_met = [name for seat in seats for name in (seat.part, seat.on_part) if name not in piece.parts]
        if len(others_met) > 1 and names.issuperset(others_met):
            found.append(piece)
    return found


def _pieces(tool: Tool) -> list[_Piece]:
    """One piece for every item that is bought or made; inner and outer ring of a bearing are one."""
    positions = nominal_positions(tool)
    groups: dict[str, list[Part]] = {}
    for part in tool.parts.values():
        if not part.neighbour:
            groups.setdefault(part.item or part.name, []).append(part)
    found = []
    for parts in groups.values():
        slices = [
            one
            for part in parts
            for one in _slices(part, positions[f"{part.name}/{part.origin_face}"], part.name in tool.flipped)
        ]
        names = tuple(part.name for part in parts)
        found.append(_Piece(names, parts[0].title, tuple(slices), "circlip" in parts[0].bought.lower()))
    return found


def _slices(part: Part, shift: float, flipped: bool) -> Iterator[_Slice]:
    """The part cut into rings at every place where its outline changes, cones in short steps."""
    found = outline(part)
    threads = {s.name for s in part.surfaces if s.role == "thread"}
    threads |= {zone.surface for zone in part.zones if zone.form == "thread"}
    lead_ins = {s.name for s in part.surfaces if s.role == "chamfer"}
    marks = {z for edge in (*found.outer, *found.inner) for z in (edge.z0, edge.z1)}
    for edge in (*found.outer, *found.inner):
        if not edge.is_face and abs(edge.r1 - edge.r0) > 1e-9:
            steps = int((edge.z1 - edge.z0) / _CONE_STEP_MM)
            marks.update(edge.z0 + step * _CONE_STEP_MM for step in range(1, steps + 1))
    for near, far in pairwise(sorted(marks)):
        outer = inner = 0.0
        for edge in _over(found.outer, near, far):
            radii = _radius(edge, near), _radius(edge, far)
            outer = min(radii) if edge.name in lead_ins else max(radii)
            outer = max(_THREAD_SHARE * outer, outer - _THREAD_DEEP_MM) if edge.name in threads else outer
        for edge in _over(found.inner, near, far):
            inner = min(_radius(edge, near), _radius(edge, far))
        if outer > inner:
            ends = (shift - far, shift - near) if flipped else (shift + near, shift + far)
            yield _Slice(*ends, inner, outer)


def _over(edges: Iterable[Edge], near: float, far: float) -> Iterator[Edge]:
    """The edge that lies along this stretch, if there is one."""
    middle = (near + far) / 2
    return (edge for edge in edges if not edge.is_face and edge.z0 <= middle <= edge.z1)


def _radius(edge: Edge, z: float) -> float:
    span = edge.z1 - edge.z0
    share = 0.0 if span <= 0 else min(1.0, max(0.0, (z - edge.z0) / span))
    return edge.r0 + share * (edge.r1 - edge.r0)


def _core(tool: Tool, pieces: Sequence[_Piece]) -> _Piece:
    """The piece that stays where it is: the one that seats on a neighbour, else the heaviest made one."""
    for piece in pieces:
        if any(name == tool.root or tool.parts[tool.seat_of[name].on_part].neighbour for name in piece.parts):
            return piece
    return max(pieces, key=lambda piece: _made_volume(tool, piece))


def _made_volume(tool: Tool, piece: _Piece) -> float:
    return sum(volume_mm3(tool.parts[name]) for name in piece.parts if tool.parts[name].is_made)


def _together(pieces: Sequence[_Piece]) -> _Piece:
    names = tuple(name for piece in pieces for name in piece.parts)
    return _Piece(names, "", tuple(one for piece in pieces for one in piece.slices))


def _is_blocked(moving: _Piece, standing: Iterable[_Piece], towards_work: bool) -> bool:
    for other in standing:
        for mine in moving.slices:
            for its in other.slices:
                ahead = its.far > mine.near + _FACES_MM if towards_work else its.near < mine.far - _FACES_MM
                if ahead and min(mine.outer, its.outer) - max(mine.inner, its.inner) > _TOUCH_MM:
                    return True
    return False


def _way_out(piece: _Piece, rest: Sequence[_Piece]) -> str:
    """The side on which a piece comes out, or nothing. A circlip is sprung out of its groove wherever it sits."""
    if piece.springs:
        return "pliers"
    sides = ("work side", "tailstock side")
    return next((side for side in sides if not _is_blocked(piece, rest, side == "work side")), "")


def _take_out(pieces: Sequence[_Piece], core: _Piece) -> tuple[list[tuple[_Piece, str]], list[_Piece]]:
    """Pieces in the order in which they come out, each with its side, and those for which there is no straight way."""
    left = [piece for piece in pieces if piece is not core]
    out: list[tuple[_Piece, str]] = []
    while left:
        for piece in reversed(left):
            rest = [core, *(other for other in left if other is not piece)]
            side = _way_out(piece, rest)
            if side:
                out.append((piece, side))
                left.remove(piece)
                break
        else:
            return out, left
    return out, []


def _moves(
    tool: Tool,
    core: _Piece,
    out: Sequence[tuple[_Piece, str]],
    stuck: Sequence[_Piece],
    whole: tuple[_Piece, str] | None = None,
) -> Iterator[Move]:
    """The way out, read backwards; pieces without a straight way come first, being the innermost."""
    placed = set(core.parts)
    for piece, side in [*((piece, "") for piece in stuck), *reversed(out)]:
        title = f"{whole[1]} with all that turns" if whole is not None and piece is whole[0] else piece.title
        yield Move(piece.parts, title, core.title, side, tuple(_contacts(tool, piece.parts, placed)))
        placed.update(piece.parts)


def _contacts(tool: Tool, names: Sequence[str], placed: set[str]) -> Iterator[str]:
    for seat in tool.seats:
        if seat.kind != "face":
            continue
        mine, its = (seat.part, seat.face), (seat.on_part, seat.on_face)
        if its[0] in names:
            mine, its = its, mine
        if mine[0] in names and its[0] in placed:
            face = its[1].replace("_", " ")
            yield f"{mine[1].replace('_', ' ')} against {face} of {tool.parts[its[0]].title}"
