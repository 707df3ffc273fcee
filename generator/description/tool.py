"""A tool: parts, which face seats on which, and the gaps that must stay within what is wanted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from generator.description.part import Part
from generator.description.size import Term
from generator.errors import GeometryError

__all__ = ["Gap", "ListRow", "Seat", "Silhouette", "Tool", "parts_list"]


@dataclass(frozen=True, slots=True)
class Silhouette:
    """The plan-view outline of something that is not turned (the tool that must pass), drawn in thin chain line.

    Corners are (z, r) in mm in the tool's frame, r towards the operator; the outline is open or closed.
    """

    name: str
    title: str
    corners: tuple[tuple[float, float], ...]
    closed: bool = True


@dataclass(frozen=True, slots=True)
class ListRow:
    """One line of the parts list: the parts it stands for, how many, what to make it of or order."""

    number: int
    quantity: int
    title: str
    material: str
    is_made: bool
    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Seat:
    """Face `face` of `part` stands on `on_face` of `on_part`; `terms` push it towards the work from there.

    kind "face": flat on flat. "cone": a taper in its socket; `terms` hold the two gauge diameters, each times the
    taper's ratio. "slide": free within the range of its terms (a ring's axial play). A part has exactly one seat that
    locates it; every other possible contact is a `Gap`.
    """

    part: str
    face: str
    on_part: str
    on_face: str
    kind: str = "face"
    terms: tuple[Term, ...] = ()


@dataclass(frozen=True, slots=True)
class Gap:
    """The room from one face to another (towards the work), or from one diameter to a larger one (per side).

    `start` and `end` are addresses "part/face" (direction "axial") or "part/surface" (direction "radial"). `least_mm`
    and `most_mm` are the limits wanted, None where one side is free, and `why` the reason in words. A gap that
    catalogue tolerances cannot hold is made to measure: `fit` is the address of the size left to the fitter.
    `cures` are parameters in the order in which changing them is sensible.
    """

    name: str
    title: str
    start: str
    end: str
    least_mm: float | None
    most_mm: float | None
    why: str
    source: str
    direction: str = "axial"
    fit: str = ""
    cures: tuple[str, ...] = ()
    severity: str = "stop"


@dataclass(frozen=True, slots=True)
class Tool:
    """Everything that goes into the quill together, and the neighbours it meets there.

    `put_together` is what the order of assembly does not tell by itself, one sentence each. `take_apart` is the way
    apart, step by step, where it is not the way together read backwards.
    """

    kind: str
    title: str
    root: str
    parts: Mapping[str, Part]
    seats: tuple[Seat, ...]
    gaps: tuple[Gap, ...] = ()
    turning: frozenset[str] = frozenset()
    flipped: frozenset[str] = frozenset()
    silhouettes: tuple[Silhouette, ...] = ()
    notes: tuple[str, ...] = ()
    put_together: tuple[str, ...] = ()
    take_apart: tuple[str, ...] = ()
    seat_of: Mapping[str, Seat] = field(init=False, repr=False, compare=False)
    memo: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Index the seats; refuse a part with none or with two."""
        index: dict[str, Seat] = {}
        for seat in self.seats:
            if seat.part in index:
                message = f"{seat.part}: two seats locate it; make one of them a gap"
                raise GeometryError(message)
            unknown = [name for name in (seat.part, seat.on_part) if name not in self.parts]
            if unknown:
                message = f"{seat.part} seats on {seat.on_part}: {unknown[0]} is no part of the tool"
                raise GeometryError(message)
            index[seat.part] = seat
        loose = [name for name in self.parts if name != self.root and name not in index]
        if loose:
            message = f"no seat locates {', '.join(loose)}"
            raise GeometryError(message)
        object.__setattr__(self, "seat_of", index)

    @property
    def made(self) -> tuple[Part, ...]:
        """Parts that the shop cuts, in order."""
        return tuple(part for part in self.parts.values() if part.is_made)


def parts_list(tool: Tool) -> tuple[ListRow, ...]:
    """Rows of the parts list: made parts first, then bought-in ones, equal items counted together, no neighbours."""
    groups: dict[str, list[Part]] = {}
    for part in tool.parts.values():
        if not part.neighbour:
            groups.setdefault(part.item or part.name, []).append(part)
    by_order = sorted(groups.values(), key=lambda group: not group[0].is_made)
    merged: dict[tuple[str, str], list[list[Part]]] = {}
    for group in by_order:
        first = group[0]
        key = (first.bought, first.title) if first.bought else (first.name, first.title)
        merged.setdefault(key, []).append(group)
    return tuple(
        ListRow(
            number,
            len(same),
            same[0][0].title,
            same[0][0].bought or same[0][0].material,
            same[0][0].is_made,
            tuple(part.name for group in same for part in group),
        )
        for number, same in enumerate(merged.values(), start=1)
    )
