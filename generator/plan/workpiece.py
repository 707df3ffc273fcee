"""The workpiece as it stands after each set-up: what is at its final form, what is still bar, what is roughed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.description import Edge, Part, outline
from generator.making.setups import SetUp, Step
from generator.making.stock import StockRow, facing_mm
from generator.making.touch import SOCKET_END
from generator.plan.clearing import End, cleared_by_steps, left_by, surfaces_of

__all__ = ["OTHER", "History", "Workpiece", "joints"]

OTHER: dict[End, End] = {"near": "far", "far": "near"}

_CLOSE_MM = 1e-6
_SAWN_OVER_MM = 0.5
"""Length left by a saw or a parting tool whose step says nothing. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Workpiece:
    """Stretches of outside and hole in order along the axis, without the upright faces between them.

    A stretch at its final form carries the name of its surface, all else "". `cut` names the surfaces, faces and cross
    features that set-up `number` finished, `made` all that are finished by now. `parted` is where the piece comes off
    the bar in this set-up, None where it does not: the bar then goes on beyond the piece.
    """

    outer: tuple[Edge, ...]
    inner: tuple[Edge, ...]
    cut: frozenset[str]
    made: frozenset[str]
    number: int
    parted: float | None = None

    @property
    def low_z(self) -> float:
        """Position of the tailstock end of what is there."""
        return self.outer[0].z0

    @property
    def high_z(self) -> float:
        """Position of the work end of what is there."""
        return self.outer[-1].z1


class History:
    """One made part through its set-ups. `after(number)` is the workpiece when that set-up is done."""

    def __init__(self, part: Part, setups: Sequence[SetUp], blank: StockRow | None) -> None:
        self.part = part
        self.setups = [one for one in setups if part.name in one.parts]
        self._final = outline(part)
        self._stretches = {
            True: [edge for edge in self._final.inner if not edge.is_face],
            False: [edge for edge in self._final.outer if not edge.is_face],
        }
        self._made = dict(self._named())
        for _ in range(len(part.surfaces)):
            self._made |= dict(self._unnamed())
        largest = max(max(edge.r0, edge.r1) for edge in self._stretches[False])
        self.bar_radius_mm = max(largest, blank.bar_mm / 2 if blank is not None else 0.0)
        self._facing_mm = facing_mm(2 * self.bar_radius_mm)
        self._stubs = dict(self._kept(blank))
        self._complete = dict(self._completed())
        self._cleared = list(cleared_by_steps(self))

    @property
    def z_of(self) -> Mapping[str, float]:
        """Position of every face."""
        return self._final.z_of

    def _named(self) -> Iterator[tuple[str, int]]:
        """What the set-ups themselves call finished, and in which of them."""
        for setup in reversed(self.setups):
            for address in setup.finishes:
                part, _, name = address.partition("/")
                if part == self.part.name:
                    yield name, setup.number

    def _unnamed(self) -> Iterator[tuple[str, int]]:
        """Chamfers, reliefs and the like that no set-up names come with the surface beside them."""
        for surface in self.part.surfaces:
            if surface.name in self._made:
                continue
            beside = [
                self._made[other.name] for other in self.part.surfaces
                if other.name in self._made and other.side == surface.side
                and {other.near, other.far} & {surface.near, surface.far}
            ]  # fmt: skip
            if beside:
                yield surface.name, min(beside)
        for face in self.z_of:
            ending = [self._made[name] for name, ends in self._spans() if face in ends and name in self._made]
            if face not in self._made and ending:
                yield face, max(ending)

    def _spans(self) -> Iterator[tuple[str, tuple[str, str]]]:
        """Surfaces, zones and cross features by name, with the faces between which they lie."""
        yield from ((one.name, (one.near, one.far)) for one in self.part.surfaces)
        yield from ((one.name, (one.near, one.far)) for one in self.part.zones)
        yield from ((one.name, (one.near, one.far)) for one in self.part.cross)

    def _completed(self) -> Iterator[tuple[str, int]]:
        """Holes that a later set-up drills the rest of, and in which of them."""
        for setup in self.setups:
            for step in setup.steps:
                if step.work in {"drill", "ream"}:
                    found = (one for one in surfaces_of(self.part, step) if one.side == "inside")
                    yield from ((one.name, setup.number) for one in found)

    def _is_made(self, name: str, number: int) -> bool:
        made = self._made.get(name)
        return made is not None and max(made, self._complete.get(name, made)) <= number

    # --- ends ---------------------------------------------------------------------------------------------------

    def faces_at(self, z_mm: float) -> list[str]:
        """Names of the faces at a place."""
        return [face for face, at in self.z_of.items() if abs(at - z_mm) < 1e-4]

    def end_z(self, end: End) -> float:
        """Position of an end of the finished part."""
        return self._final.near_z if end == "near" else self._final.far_z

    def _end_made(self, end: End) -> int | None:
        """The set-up in which an end gets its face; that of the surface beside it where none is named."""
        named = [self._made[face] for face in self.faces_at(self.end_z(end)) if face in self._made]
        if named:
            return min(named)
        edge = self._stretches[False][0 if end == "near" else -1]
        return self._made.get(edge.name)

    def _open_end(self, setup: SetUp) -> End:
        """The end at which a set-up keeps length on the bar."""
        left: list[End] = [end for end in _ENDS if (self._end_made(end) or setup.number + 1) > setup.number]
        return left[0] if len(left) == 1 else OTHER[self.worked_end(setup)]

    def _kept(self, blank: StockRow | None) -> Iterator[tuple[End, float]]:
        keeping = [one for one in self.setups if one.leaves_mm > 0]
        sums: dict[End, float] = {}
        for setup in keeping:
            end = self._open_end(setup)
            sums[end] = sums.get(end, 0.0) + setup.leaves_mm
        if not keeping and blank is not None and self.setups and blank.faced_mm > blank.finished_mm:
            sums[self._open_end(self.setups[0])] = blank.faced_mm - blank.finished_mm
        yield from sums.items()

    def _cut_off(self, end: End) -> Iterator[tuple[int, Step]]:
        """Steps that take the stub off an end."""
        last = max((one.number for one in self.setups if one.leaves_mm > 0), default=0)
        for setup in self.setups:
            for step in setup.steps:
                if step.work == "part" or (step.work == "saw" and last and setup.number > last):
                    made = self._end_made(end)
                    if self._stubs.get(end) and (made is None or made >= setup.number):
                        yield setup.number, step

    def rest_mm(self, end: End, number: int) -> float:
        """Length that still stands beyond an end of the finished part."""
        made = self._end_made(end)
        if made is not None and made <= number:
            return 0.0
        if self.setups and made is None and number >= self.setups[-1].number:
            return 0.0
        whole = self._stubs.get(end, 0.0) + self._facing_mm
        cut = [step.allowance_mm or _SAWN_OVER_MM for at, step in self._cut_off(end) if at <= number]
        return min([whole, *cut])

    # --- orientation --------------------------------------------------------------------------------------------

    def worked_end(self, setup: SetUp) -> End:
        """The end from which the tool works: away from what is held, else the end that is faced or touched off on."""
        working = [z for address in setup.finishes for z in self.span_of(address) or ()]
        working = working or list(self.span_of(setup.touches_off) or ())
        middle = (self._final.near_z + self._final.far_z) / 2
        place = sum(working) / len(working) if working else middle
        held = self.held(setup)
        if held is not None:
            return "far" if place > (held[0] + held[1]) / 2 else "near"
        for address in (setup.touches_off, *setup.finishes):
            span = self.span_of(address)
            if span is not None and span[0] == span[1]:
                for end in _ENDS:
                    if abs(span[0] - self.end_z(end)) < 1e-4:
                        return end
        return "far" if place > middle else "near"

    def held(self, setup: SetUp) -> tuple[float, float] | None:
        """From where to where a finished place of the part is held; None where that is the bar, or nothing."""
        found = self.span_of(setup.grips)
        if found is None and not setup.grips and setup.located != "own bearings":
            found = self.span_of(setup.locates_on)
        return found if found is not None and found[1] > found[0] else None

    def bar_beyond_mm(self, end: End) -> float:
        """Length of bar kept beyond an end to hold it by, 0 where there is none."""
        return self._stubs.get(end, 0.0)

    def span_of(self, address: str) -> tuple[float, float] | None:
        """From where to where along the axis something of this part lies; None for what is none of it."""
        part, _, name = address.partition("/")
        if address == SOCKET_END:
            # It lies in the gauge plane of the cone that is held there.
            part, name = self.part.name, next((one.at for one in self.part.surfaces if one.role == "taper"), "")
        if part != self.part.name:
            return None
        for known, faces in self._spans():
            if known == name:
                low, high = sorted(self.z_of[face] for face in faces)
                return low, high
        return (self.z_of[name], self.z_of[name]) if name in self.z_of else None

    # --- between bar and final form -----------------------------------------------------------------------------

    def _stock(self, edge: Edge, inside: bool, number: int) -> Iterator[Edge]:
        """A stretch that is not finished, cut up where roughing or a hole ends."""
        done = [one for one in self._cleared if one.inside == inside and one.number <= number]
        ends = {z for one in done for z in (one.z0, one.z1) if edge.z0 + _CLOSE_MM < z < edge.z1 - _CLOSE_MM}
        for z0, z1 in pairwise(sorted({edge.z0, edge.z1, *ends})):
            r0, r1 = _radius(edge, z0), _radius(edge, z1)
            best = (0.0, 0.0) if inside else (self.bar_radius_mm, self.bar_radius_mm)
            for one in done:
                if one.z0 <= z0 + _CLOSE_MM and z1 <= one.z1 + _CLOSE_MM:
                    best = _nearer(best, left_by(one, r0, r1), inside)
            at_size = edge.name in self._made and max(abs(best[0] - r0), abs(best[1] - r1)) < _CLOSE_MM
            yield Edge(z0, best[0], z1, best[1], edge.name if at_size and inside else "")

    def _base(self, edge: Edge, inside: bool, number: int) -> Edge | None:
        """The stretch before its groove is cut: that of the finished surface on which the groove lies."""
        side = "inside" if inside else "outside"
        for one in self.part.surfaces:
            covers = self.z_of[one.near] <= edge.z0 + _CLOSE_MM and edge.z1 <= self.z_of[one.far] + _CLOSE_MM
            if one.side == side and one.name != edge.name and covers and not one.at and self._is_made(one.name, number):
                radius = one.diameter.nominal_mm / 2
                return Edge(edge.z0, radius, edge.z1, radius, one.name)
        return None

    def _side(self, inside: bool, number: int) -> Iterator[Edge]:
        for edge in self._stretches[inside]:
            if self._is_made(edge.name, number):
                yield edge
                continue
            base = self._base(edge, inside, number)
            if base is not None:
                yield base
            else:
                yield from self._stock(edge, inside, number)

    def after(self, number: int) -> Workpiece:
        """The workpiece when the set-up of this number is done."""
        here = next((one for one in self.setups if one.number == number), None)
        outer = list(self._side(False, number))
        for end in _ENDS:
            rest = self.rest_mm(end, number)
            if rest > _CLOSE_MM:
                z, beside = self.end_z(end), outer[0].r0 if end == "near" else outer[-1].r1
                r = beside if any(at <= number for at, _ in self._cut_off(end)) else self.bar_radius_mm
                if end == "near":
                    outer.insert(0, Edge(z - rest, r, z, r, ""))
                else:
                    outer.append(Edge(z, r, z + rest, r, ""))
        inner = [edge for edge in self._side(True, number) if max(edge.r0, edge.r1) > _CLOSE_MM]
        made = frozenset(name for name, at in self._made.items() if at <= number)
        cut = frozenset(name for name, at in self._made.items() if here is not None and at == number)
        cut |= {name for name, at in self._complete.items() if at == number and name in made}
        return Workpiece(tuple(outer), tuple(inner), cut, made, number, self._parted(number))

    def roughed_over_mm(self, name: str, number: int) -> float | None:
        """What is left on a feature across the axis that is roughed by now and not finished; None where it is not."""
        for setup in self.setups:
            for step in setup.steps:
                found = step.surface == f"{self.part.name}/{name}" and step.allowance_mm > 0
                if found and setup.number <= number and self._made.get(name, number + 1) > number:
                    return step.allowance_mm
        return None

    def _parted(self, number: int) -> float | None:
        for end in _ENDS:
            if any(at == number and step.work == "part" for at, step in self._cut_off(end)):
                z, rest = self.end_z(end), self.rest_mm(end, number)
                return z - rest if end == "near" else z + rest
        return None


_ENDS: tuple[End, ...] = ("near", "far")


def _radius(edge: Edge, z_mm: float) -> float:
    span = edge.z1 - edge.z0
    return edge.r0 if span <= 0 else edge.r0 + (z_mm - edge.z0) / span * (edge.r1 - edge.r0)


def _nearer(one: tuple[float, float], other: tuple[float, float], inside: bool) -> tuple[float, float]:
    """Of two states of a stretch the one with less material."""
    better = sum(other) > sum(one) if inside else sum(other) < sum(one)
    return other if better else one


def joints(history: History, piece: Workpiece, *, inside: bool) -> Iterator[Edge]:
    """The upright faces of a workpiece, ends included: named after the face where it is at its final place, else ""."""
    edges = piece.inner if inside else piece.outer
    for before, after in pairwise(edges):
        if after.z0 - before.z1 > _CLOSE_MM:
            yield _upright(history, piece, before.z1, before.r1, 0.0)
            yield _upright(history, piece, after.z0, 0.0, after.r0)
        elif abs(before.r1 - after.r0) > _CLOSE_MM:
            yield _upright(history, piece, after.z0, before.r1, after.r0)
    if not edges:
        return
    for z, radius in ((edges[0].z0, edges[0].r0), (edges[-1].z1, edges[-1].r1)):
        is_end = abs(z - (piece.low_z if z == edges[0].z0 else piece.high_z)) < _CLOSE_MM
        if inside and not is_end and radius > _CLOSE_MM:
            yield _upright(history, piece, z, radius, 0.0)
        elif not inside:
            yield _upright(history, piece, z, _opening(piece, z), radius)


def _opening(piece: Workpiece, z_mm: float) -> float:
    """Radius of the hole where it comes out at a place, 0 where it does not."""
    radii = [r for e in piece.inner for z, r in ((e.z0, e.r0), (e.z1, e.r1)) if abs(z - z_mm) < _CLOSE_MM]
    return max(radii, default=0.0)


def _upright(history: History, piece: Workpiece, z: float, r0: float, r1: float) -> Edge:
    faces = [face for face in history.faces_at(z) if face in piece.made]
    return Edge(z, r0, z, r1, next(iter(sorted(faces, key=lambda face: face not in piece.cut)), ""), is_face=True)
