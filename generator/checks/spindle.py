"""A spindle in its rings as the mechanics see it: rings with places, ratings and fits, and the beam through them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.description import Choices, Edge, Outline, Tool, outline
from generator.errors import TableError
from generator.reckoning.beam import Beam, Load, Section, Shoulder, Solution, Support, solve_beam
from generator.tables import Ring, RingRating, radial_clearance, ring, ring_limits, ring_of_size, ring_rating

__all__ = ["Held", "Spindle", "held_rings", "spindle_of"]

CONE_STEPS = 4
_ROOTS = {"slim_start": "slim/corner", "collar_front": "nose/corner"}
"""Faces of the spindle in whose root the sheet asks for a radius of its own."""
FILLET_SHARE = 0.5
"""The fillet taken, over the largest that the ring's chamfer lets in: a sharp tool leaves less. Shop choice."""


@dataclass(frozen=True, slots=True)
class Held:
    """One bearing on the spindle: where it sits (mm ahead of the spindle's rear end), whether it takes thrust.

    `rating` is None where no maker's figures are known. `clearance_mm` is its own radial clearance before fitting.
    """

    index: int
    label: str
    ring: Ring
    rating: RingRating | None
    place_mm: float
    is_trapped: bool
    clearance_mm: tuple[float, float]
    runout_mm: float

    @property
    def name(self) -> str:
        """Its address."""
        return f"ring_{self.index}"


@dataclass(frozen=True, slots=True)
class Spindle:
    """Rings front to rear, the sections from the rear end to the load, and what the rings bear for 1 N across it.

    `steps` are the shoulders of the meridian; a cone, cut into sections for the beam, has none. `plain` are places
    without a notch: from the rear end, with diameter and bore.
    """

    rings: tuple[Held, ...]
    sections: tuple[Section, ...]
    steps: tuple[Shoulder, ...]
    plain: tuple[tuple[float, float, float], ...]
    point_mm: float
    material: str
    per_newton: Solution

    @property
    def arm_mm(self) -> float:
        """From the front ring to the load."""
        return self.point_mm - self.rings[0].place_mm

    @property
    def span_mm(self) -> float:
        """From the front ring to the last."""
        return self.rings[0].place_mm - self.rings[-1].place_mm

    def beam(self, force_n: float) -> Beam:
        """The beam with this force at the point."""
        supports = tuple(Support(held.place_mm) for held in self.rings)
        return Beam(self.sections, supports, (Load(self.point_mm, force_n),))

    def borne_n(self, held: Held, force_n: float) -> float:
        """What one ring bears of a force at the point."""
        return abs(self.per_newton.borne_n[held.index - 1]) * force_n


def held_rings(choices: Choices, at: Mapping[str, float], rear_mm: float) -> tuple[Held, ...]:
    """The bearings of a stack with their places from the rear end of the spindle."""
    accuracy = choices.parameters.get("loads.accuracy")
    group = choices.parameters.get("loads.clearance")
    found = []
    for index in range(1, choices.counts["rings"] + 1):
        size, label = choices.sizes, choices.names[f"ring_{index}/label"]
        bore, outside, width = (
            size[f"ring_{index}/{name}"].nominal_mm for name in ("bore", "outside", "outer_width")
        )
        try:
            of = ring(label)
        except TableError:
            of = ring_of_size(bore, outside, width)
        try:
            rating: RingRating | None = ring_rating(of)
        except TableError:
            rating = None
        middle = (at[f"ring_{index}_inner/front"] + at[f"ring_{index}_inner/rear"]) / 2
        clearance = radial_clearance(bore, str(group.value) if group else of.clearance_group)
        limits = ring_limits(bore, outside, str(accuracy.value) if accuracy else "Normal")
        trapped = choices.counts[f"ring_{index}/pocket"] == 1
        found.append(
            Held(index, label, of, rating, middle - rear_mm, trapped, clearance, limits.inner_runout_mm)
        )
    return tuple(found)


def spindle_of(choices: Choices, tool: Tool, at: Mapping[str, float]) -> Spindle:
    """The spindle of a stack with its beam, loaded at its contact with the work."""
    part = tool.parts["spindle"]
    zero = at[f"spindle/{part.origin_face}"]
    found = outline(part)
    rear = zero + found.near_z
    contact = at.get("spindle/contact", at["spindle/point_end"]) - zero
    rings = held_rings(choices, at, rear)
    sections = tuple(_sections(found.outer, found.inner, contact))
    steps = tuple(_steps(found, contact, choices))
    plain = tuple(_plain(found, sections))
    point = sum(section.length_mm for section in sections)
    supports = tuple(Support(held.place_mm) for held in rings)
    per_newton = solve_beam(Beam(sections, supports, (Load(point, 1.0),)))
    return Spindle(rings, sections, steps, plain, point, part.material, per_newton)


def _steps(found: Outline, end_mm: float, choices: Choices) -> Iterator[Shoulder]:
    """The shoulders behind the load, places from the rear end, each with the fillet in its root."""
    edges = [edge for edge in found.outer if not edge.is_face and edge.z0 < end_mm - 1e-6]
    drawn = {found.z_of[face]: choices.facts[name] for face, name in _ROOTS.items() if name in choices.facts}
    seats = [choices.facts[f"seat_{seat}/corner"] for seat in range(1, choices.counts["seats"] + 1)]
    for here, after in pairwise(edges):
        if abs(here.r1 - after.r0) < 1e-9:
            continue
        small, large = sorted((here.r1, after.r0))
        place = after.z0
        bore = max((_radius(edge, place) for edge in found.inner if edge.z0 <= place <= edge.z1), default=0.0)
        fillet = next((r for z, r in drawn.items() if abs(z - place) < 1e-6), FILLET_SHARE * min(seats))
        yield Shoulder(place - found.near_z, 2 * large, 2 * small, 2 * bore, fillet)


def _plain(found: Outline, sections: Sequence[Section]) -> Iterator[tuple[float, float, float]]:
    """Both ends of every section with the true diameter there, which on a cone is not that of the section."""
    place = 0.0
    edges = [edge for edge in found.outer if not edge.is_face]
    for section in sections:
        middle = found.near_z + place + section.length_mm / 2
        edge = next(edge for edge in edges if edge.z0 <= middle <= edge.z1)
        for at in (place, place + section.length_mm):
            yield at, 2 * _radius(edge, found.near_z + at), section.bore_mm
        place += section.length_mm


def _sections(outer: Sequence[Edge], inner: Sequence[Edge], end_mm: float) -> Iterator[Section]:
    """Even lengths of the outline up to the load; cones in steps; a tapped hole counts as a bore."""
    edges = [edge for edge in outer if not edge.is_face and edge.z0 < end_mm - 1e-6]
    marks = {edge.z0 for edge in edges} | {min(edge.z1, end_mm) for edge in edges}
    marks |= {z for edge in inner for z in (edge.z0, edge.z1) if z < end_mm}
    for edge in edges:
        if edge.r0 != edge.r1:
            far = min(edge.z1, end_mm)
            marks |= {edge.z0 + (far - edge.z0) * step / CONE_STEPS for step in range(1, CONE_STEPS)}
    for near, far in pairwise(sorted(marks)):
        if far - near < 1e-6:
            continue
        middle = (near + far) / 2
        radius = next((_radius(edge, middle) for edge in edges if edge.z0 <= middle <= edge.z1), 0.0)
        bore = max((_radius(edge, middle) for edge in inner if edge.z0 <= middle <= edge.z1), default=0.0)
        yield Section(far - near, 2 * radius, 2 * bore)


def _radius(edge: Edge, z: float) -> float:
    if edge.z1 - edge.z0 < 1e-9:
        return edge.r1
    return edge.r0 + (edge.r1 - edge.r0) * (z - edge.z0) / (edge.z1 - edge.z0)
