"""Parts as bodies for a pictorial view: stacks of frusta about one axis, flats as planes, cross holes as cylinders.

Pure geometry in model millimetres. Places are (z, y, s): z along the axis towards the work, y up, s towards the reader
of the section, and angles about the axis run from y to s.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generator.description import Cross, Part, Tool, nominal_positions, outline
from generator.drawing.arrangement_profile import CLOSE_MM, Slab, slabs_of

__all__ = ["Body", "Cut", "Hole", "Slot", "bodies_of", "moved", "seals_of", "without_chamfers"]

_SEAL_SHARE = 0.06
"""How far a seal stands back from the faces of its bearing, as a share of the width. Shop choice: for the picture."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A flat from `near` to `far`: all beyond `height` in the direction `angle` (radians) is taken off."""

    near: float
    far: float
    angle: float
    height: float


@dataclass(frozen=True, slots=True)
class Hole:
    """A through hole square to the axis at z, in the direction `angle`."""

    z: float
    angle: float
    radius: float


@dataclass(frozen=True, slots=True)
class Slot:
    """A gap in a ring from the axis outward in the direction `angle`, `half` wide to either side, from end to end."""

    angle: float
    half: float

    def holds(self, radius: float, angle: float) -> bool:
        """True for a place inside the gap."""
        turned = angle - self.angle
        return math.cos(turned) > 0.0 and abs(radius * math.sin(turned)) < self.half


@dataclass(frozen=True, slots=True)
class Body:
    """One part in its place along the axis."""

    name: str
    slabs: tuple[Slab, ...]
    cuts: tuple[Cut, ...] = ()
    holes: tuple[Hole, ...] = ()
    slots: tuple[Slot, ...] = ()

    @property
    def near_z(self) -> float:
        """The end towards the tailstock."""
        return self.slabs[0].z0

    @property
    def far_z(self) -> float:
        """The end towards the work."""
        return self.slabs[-1].z1

    @property
    def radius(self) -> float:
        """The largest outside radius."""
        return max(max(slab.outer0, slab.outer1) for slab in self.slabs)


def bodies_of(tool: Tool) -> list[Body]:
    """A body for each part of the tool itself, in the order of its parts."""
    z_of = nominal_positions(tool)
    return [
        _body(part, z_of[f"{part.name}/{part.origin_face}"], part.name in tool.flipped)
        for part in tool.parts.values()
        if not part.neighbour
    ]


def _body(part: Part, zero: float, flipped: bool) -> Body:
    shape = outline(part)
    outer = [edge for edge in shape.outer if not edge.is_face]
    inner = [edge for edge in shape.inner if not edge.is_face]
    slabs = slabs_of(outer, inner, ())
    cuts: list[Cut] = []
    holes: list[Hole] = []
    slots: list[Slot] = []
    for cross in part.cross:
        near, far = sorted((shape.z_of[cross.near], shape.z_of[cross.far]))
        angle = math.radians(cross.angle_deg)
        if cross.kind == "hole":
            holes.append(Hole((near + far) / 2, angle, cross.sizes["diameter"].nominal_mm / 2))
        elif cross.kind == "slot":
            slots.append(Slot(angle, cross.sizes["width"].nominal_mm / 2))
        else:
            near = -math.inf if near <= shape.near_z + CLOSE_MM else near
            far = math.inf if far >= shape.far_z - CLOSE_MM else far
            cuts += [Cut(near, far, turned, height) for turned, height in _planes(cross, angle)]
    body = Body(part.name, slabs, tuple(cuts), tuple(holes), tuple(slots))
    return moved(_turned_round(body) if flipped else body, zero)


def _planes(cross: Cross, angle: float) -> Iterator[tuple[float, float]]:
    """Direction and height of the planes of flats, a tang or a half."""
    if cross.kind == "half":
        yield angle, cross.sizes["height"].nominal_mm
        return
    for turned in (angle, angle + math.pi):
        yield turned, cross.sizes["across"].nominal_mm / 2


def _turned_round(body: Body) -> Body:
    """The body turned about the upright axis, so that its ends change places."""
    slabs = tuple(Slab(-s.z1, -s.z0, s.outer1, s.outer0, s.inner1, s.inner0) for s in reversed(body.slabs))
    cuts = tuple(Cut(-c.far, -c.near, -c.angle, c.height) for c in body.cuts)
    holes = tuple(Hole(-h.z, -h.angle, h.radius) for h in body.holes)
    return Body(body.name, slabs, cuts, holes, tuple(replace(s, angle=-s.angle) for s in body.slots))


def moved(body: Body, by: float) -> Body:
    """The body shifted along the axis."""
    return Body(
        body.name,
        tuple(replace(s, z0=s.z0 + by, z1=s.z1 + by) for s in body.slabs),
        tuple(replace(c, near=c.near + by, far=c.far + by) for c in body.cuts),
        tuple(replace(h, z=h.z + by) for h in body.holes),
        body.slots,
    )


def without_chamfers(body: Body, fine_mm: float) -> Body:
    """The body with sharp corners in place of chamfers smaller than `fine_mm` both ways."""
    slabs = []
    for slab in body.slabs:
        short = slab.z1 - slab.z0 < fine_mm
        if short and 0.0 < abs(slab.outer1 - slab.outer0) < fine_mm:
            radius = max(slab.outer0, slab.outer1)
            slab = replace(slab, outer0=radius, outer1=radius)
        if short and 0.0 < abs(slab.inner1 - slab.inner0) < fine_mm:
            radius = min(slab.inner0, slab.inner1)
            slab = replace(slab, inner0=radius, inner1=radius)
        slabs.append(slab)
    return replace(body, slabs=tuple(slabs))


def seals_of(tool: Tool, bodies: Sequence[Body]) -> list[Body]:
    """Plain discs that close the room between the rings of each bearing; they have no edges of their own.

    Rings are described without cage and seals; without a disc one would look through the bearing.
    """
    by_name = {body.name: body for body in bodies}
    found = []
    for part in tool.parts.values():
        if not part.balls or part.neighbour:
            continue
        inner = by_name[part.name]
        others = [by_name[p.name] for p in tool.parts.values() if p.item == part.item and p is not part and p.item]
        for outer in others:
            near, far = max(inner.near_z, outer.near_z), min(inner.far_z, outer.far_z)
            back = _SEAL_SHARE * (far - near)
            low, high = inner.radius, min(max(s.inner0, s.inner1) for s in outer.slabs)
            if high > low and far - near > 2 * back:
                found.append(Body(part.name, (Slab(near + back, far - back, high, high, low, low),)))
    return found
