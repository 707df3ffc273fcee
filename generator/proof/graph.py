"""Sizes given twice: by the same ends, on the same surface, under one address, or closing a ring of lengths."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from generator.proof.rules import Fault, fault
from generator.proof.shape import CLOSE_MM, LongView, long_view, same
from generator.proof.sheet import Point, Sheet
from generator.proof.sizes import Dimension

__all__ = ["Groups", "Reading", "Size", "doubled_faults"]

_DIAMETER = 3


class Groups:
    """Positions joined by sizes: which can be reached from which."""

    def __init__(self) -> None:
        self.root: dict[float, float] = {}

    def top(self, x: float) -> float:
        """The one that stands for all that are joined with x."""
        key = next((k for k in self.root if same(k, x)), None)
        if key is None:
            self.root[x] = x
            return x
        while self.root[key] != key:
            key = self.root[key]
        return key

    def join(self, one: float, other: float) -> bool:
        """Join two positions; False where they were joined already."""
        a, b = self.top(one), self.top(other)
        if a == b:
            return False
        self.root[b] = a
        return True


@dataclass(frozen=True)
class Size:
    """A dimension as the long view has it: `ends` moved back to the axis where a detail shows it.

    `home` is the view that it stands in: "long", "detail" or "end".
    """

    dimension: Dimension
    home: str
    ends: tuple[Point, Point]

    @property
    def is_round(self) -> bool:
        """True for a diameter, a thread, or a width across flats."""
        label = self.dimension.label
        return label.is_diameter or label.is_thread or label.is_across_flats

    @property
    def is_length(self) -> bool:
        """True for a place along the axis."""
        return self.dimension.is_level and self.home != "end" and not self.is_round

    @property
    def is_along(self) -> bool:
        """True for what is measured along the axis, holes across it included."""
        return self.dimension.is_level and self.home != "end"

    @property
    def is_across(self) -> bool:
        """True for a size across the axis, in the long view or a detail."""
        return self.dimension.is_upright and self.home != "end"

    @cached_property
    def along(self) -> tuple[float, float]:
        """The two places it measures between, in its own direction, the lesser first."""
        turn = math.radians(self.dimension.turn_deg)
        low, high = sorted(x * math.cos(turn) + y * math.sin(turn) for x, y in self.ends)
        return low, high

    def radii(self, view: LongView) -> list[float]:
        """Distances from the axis that it gives."""
        label, measured = self.dimension.label, self.dimension.measured or 0.0
        if self.is_across:
            return [view.radius(y) for _, y in self.ends]
        if self.dimension.kind == _DIAMETER or label.is_across_flats or label.is_diameter:
            return [measured / 2]
        return [measured] if self.home == "end" else []

    def told(self, sheet: Sheet, code: str, what: str) -> Fault:
        """A fault at this dimension."""
        at = sheet.on_paper(self.dimension.text_at)
        return fault(code, what, at, self.dimension.handle, self.dimension.entity.dxf.layer)


class Reading:
    """Sheet, long view and sizes, brought together once."""

    def __init__(self, sheet: Sheet, dimensions: Sequence[Dimension]) -> None:
        self.sheet = sheet
        self.view = None if sheet.is_assembly else long_view(sheet)
        self.sizes = [self._home(one) for one in dimensions if one.is_linear]
        self.angles = [one for one in dimensions if one.is_angle]
        self.others = [one for one in dimensions if not (one.is_linear or one.is_angle)]

    def _home(self, one: Dimension) -> Size:
        ends, view = one.ends, self.view
        home = "long" if view is None else view.home(ends)
        if view is not None and home == "detail" and one.is_upright:
            # A diameter in a detail stands about the axis of the detail's own spot.
            shift = (ends[0][1] + ends[1][1]) / 2 - view.axis_y
            ends = ((ends[0][0], ends[0][1] - shift), (ends[1][0], ends[1][1] - shift))
        return Size(one, home, ends)

    @cached_property
    def binding(self) -> list[Size]:
        """Sizes that are not in brackets."""
        return [size for size in self.sizes if not size.dimension.label.is_auxiliary]

    @cached_property
    def radii(self) -> list[float]:
        """All distances from the axis that binding sizes give."""
        if self.view is None:
            return []
        found = {round(r, 6) for size in self.binding for r in size.radii(self.view)}
        found |= {round((d.measured or 0.0) / 2, 6) for d in self.others if d.kind == _DIAMETER}
        return sorted(found)

    def knows(self, radius: float) -> bool:
        """True where a size gives this distance from the axis."""
        return any(same(radius, r) for r in self.radii)


def doubled_faults(reading: Reading) -> Iterator[Fault]:
    """Sizes given twice, and lengths that close a ring."""
    told: set[int] = set()
    for i, one in enumerate(reading.binding):
        for other in reading.binding[i + 1 :]:
            if id(other) not in told and _is_same(one, other, reading):
                told.add(id(other))
                first = one.dimension
                what = f"{first.label.text!r} (entity {first.handle}) and {other.dimension.label.text!r} give one size"
                yield other.told(reading.sheet, "size-doubled", what)
    for k, angle in enumerate(reading.angles):
        for again in reading.angles[k + 1 :]:
            both = (angle, again)
            if not any(d.label.is_auxiliary for d in both) and _is_same_angle(*both):
                what = f"{angle.label.text!r} (entity {angle.handle}) is given once more"
                at = reading.sheet.on_paper(again.text_at)
                yield fault("size-doubled", what, at, again.handle, again.entity.dxf.layer)
    if not reading.sheet.is_assembly:
        yield from _rings(reading, told)


def _is_same_angle(one: Dimension, other: Dimension) -> bool:
    return bool(one.address and one.address == other.address) or _corners(one) == _corners(other)


def _corners(dimension: Dimension) -> set[Point]:
    names = ("defpoint", "defpoint2", "defpoint3", "defpoint4")
    points = [dimension.entity.dxf.get(name) for name in names]
    return {(round(p.x, 3), round(p.y, 3)) for p in points if p is not None}


def _is_same(one: Size, other: Size, reading: Reading) -> bool:
    a, b, view = one.dimension, other.dimension, reading.view
    if a.address and a.address == b.address:
        return True
    if a.label.is_across_flats is not b.label.is_across_flats or "end" in (one.home, other.home):
        return _is_same_in_end_view(one, other, view) and not _is_cut_down(one, other, reading)
    if abs(a.turn_deg - b.turn_deg) > 0.01:
        return False
    if any(not same(p, q) for p, q in zip(one.along, other.along, strict=True)):
        return False
    if one.is_along:
        # The width of a cross hole and its diameter are one size as well.
        return True
    across = sorted(sum(p[0] if a.is_upright else p[1] for p in size.ends) / 2 for size in (one, other))
    if same(*across):
        return True
    radius = (one.along[1] - one.along[0]) / 2
    return view is not None and any(
        same(s.radius, radius) and s.x0 - CLOSE_MM <= across[0] and across[1] <= s.x1 + CLOSE_MM
        for s in view.surfaces
    )


def _is_same_in_end_view(one: Size, other: Size, view: LongView | None) -> bool:
    """Two diameters, one of them in an end view, where the long view has one surface only of that diameter."""
    a, b = one.dimension, other.dimension
    if view is None or not (a.label.is_diameter and b.label.is_diameter) or not same(a.measured or 0, b.measured or 1):
        return False
    runs = {(round(s.x0, 3), round(s.x1, 3)) for s in view.surfaces if same(2 * s.radius, a.measured or 0.0)}
    return len(runs) == 1


def _is_cut_down(one: Size, other: Size, reading: Reading) -> bool:
    """True where flats take the round of one of two sizes off the long view: what it shows there is the other's."""
    a, b = one.dimension, other.dimension
    flats = [d.measured or 0.0 for size in reading.sizes if (d := size.dimension).label.is_across_flats]
    return bool(a.address and b.address) and any(0.0 < across < (a.measured or 0.0) for across in flats)


def _rings(reading: Reading, told: set[int]) -> Iterator[Fault]:
    """Lengths that close a ring: their ends are joined by others already. A cross hole's diameter counts as one."""
    root: dict[Node, Node] = {}

    def top(node: Node) -> Node:
        while root.setdefault(node, node) != node:
            node = root[node]
        return node

    lengths = [size for size in reading.binding if id(size) not in told and (size.is_length or _is_hole(size))]
    for one in sorted(lengths, key=lambda size: size.dimension.measured or 0.0):
        near, far = (top(_node(reading, one, end)) for end in one.ends)
        if near == far:
            what = f"{one.dimension.label.text!r} follows from other sizes along the axis and has no brackets"
            yield one.told(reading.sheet, "closed-chain", what)
        root[far] = near


Node = tuple[float, int]


def _node(reading: Reading, size: Size, end: Point) -> Node:
    """Place and edge that a size ends at; the rim of a hole is no face that happens to stand at its place."""
    view = reading.view
    if view is not None and _is_hole(size) and any(same(end[0], x) for x, _ in view.faces):
        return round(end[0], 4), -1
    return round(end[0], 4), 0 if view is None else view.edge_at(*end)


def _is_hole(size: Size) -> bool:
    label = size.dimension.label
    return size.is_along and label.is_diameter and not label.is_across_flats
