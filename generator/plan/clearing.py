"""What roughing, drilling and bands for a steady leave of the bar, before a surface has its final form."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from generator.description import Part, Surface
from generator.making.setups import SetUp, Step

if TYPE_CHECKING:
    from generator.plan.workpiece import History

__all__ = ["Cleared", "End", "cleared_by_steps", "left_by", "surfaces_of"]

End = Literal["near", "far"]
"""Tailstock end and work end of a part in its finished place."""

_FORMED = frozenset({"chamfer", "drill point"})


@dataclass(frozen=True, slots=True)
class Cleared:
    """What one step left of a stretch: its radius by then, or how far above the final radius it stays."""

    number: int
    z0: float
    z1: float
    inside: bool
    radius_mm: float | None = None
    over_mm: float = 0.0


def cleared_by_steps(history: History) -> Iterator[Cleared]:
    """Every stretch that a step leaves rough, drilled or turned for a steady, in order."""
    for setup in history.setups:
        for step in setup.steps:
            surfaces = list(surfaces_of(history.part, step))
            if step.work == "rough" and not surfaces and step.diameter_mm and step.length_mm:
                yield _from_the_end(history, setup, step.length_mm, step.diameter_mm, inside=False)
            elif step.allowance_mm > 0 or step.work == "rough":
                for one in _with_chamfers(history.part, surfaces or _outsides(history.part, step)):
                    span = history.z_of[one.near], history.z_of[one.far]
                    inside = one.side.startswith("inside")
                    yield Cleared(setup.number, *span, inside, over_mm=step.allowance_mm / 2)
            if step.work in {"drill", "ream", "bore"}:
                yield from _hole(history, setup, step, surfaces)


def left_by(one: Cleared, r0: float, r1: float) -> tuple[float, float]:
    """Radii that a step leaves over a stretch whose final radii these are; it never cuts into the part."""
    if one.inside:
        if one.radius_mm is not None:
            least = min(one.radius_mm, r0, r1)
            return least, least
        return max(0.0, r0 - one.over_mm), max(0.0, r1 - one.over_mm)
    if one.radius_mm is not None:
        return max(one.radius_mm, r0, r1), max(one.radius_mm, r0, r1)
    return r0 + one.over_mm, r1 + one.over_mm


def surfaces_of(part: Part, step: Step) -> Iterator[Surface]:
    """Surfaces of the part that a step names, or a size of which it brings to its limits."""
    for address in (step.surface, *step.cuts):
        owner, _, name = address.partition("/")
        for key in (name, name.rpartition("/")[0]):
            if owner == part.name and key in part.by_name:
                yield part.by_name[key]
                break


def _with_chamfers(part: Part, surfaces: Sequence[Surface]) -> Iterator[Surface]:
    """The surfaces, and the chamfers that break their edges: a roughing cut goes over both."""
    yield from surfaces
    faces = {face for one in surfaces for face in (one.near, one.far)}
    for one in part.surfaces:
        if one.role == "chamfer" and one not in surfaces and faces & {one.near, one.far}:
            yield one


def _outsides(part: Part, step: Step) -> list[Surface]:
    if step.work != "rough":
        return []
    return [one for one in part.surfaces if one.side == "outside" and one.role not in _FORMED]


def _from_the_end(
    history: History, setup: SetUp, length_mm: float, diameter_mm: float, *, inside: bool
) -> Cleared:
    """A stretch of this length inwards from the end where the tool works."""
    end = history.worked_end(setup)
    start = history.end_z(end)
    stop = start + length_mm * (1 if end == "near" else -1)
    return Cleared(setup.number, min(start, stop), max(start, stop), inside, diameter_mm / 2)


def _hole(history: History, setup: SetUp, step: Step, surfaces: Sequence[Surface]) -> Iterator[Cleared]:
    """A hole from the end where the tool enters to the depth of the step, or to the far side of its surface.

    The depth of a drill in a bore of the part counts from where that bore begins; what a bar cuts in a bore of the part
    is seen once it is finished.
    """
    inside = [one for one in surfaces if one.side == "inside"]
    diameter_mm = step.diameter_mm
    if diameter_mm is None and step.work != "bore":
        diameter_mm = min((one.diameter.nominal_mm for one in inside if not one.at), default=None)
    if diameter_mm is None:
        return
    if inside and step.work == "bore":
        return
    if step.length_mm is not None and inside:
        end = history.worked_end(setup)
        places = [history.z_of[face] for one in inside for face in (one.near, one.far)]
        deep = min(places) + step.length_mm if end == "near" else max(places) - step.length_mm
        start = history.end_z(end)
        yield Cleared(setup.number, min(start, deep), max(start, deep), True, diameter_mm / 2)
    elif step.length_mm is not None:
        yield _from_the_end(history, setup, step.length_mm, diameter_mm, inside=True)
    elif inside:
        end = history.worked_end(setup)
        places = [history.z_of[face] for one in inside for face in (one.near, one.far)]
        start, stop = history.end_z(end), max(places) if end == "near" else min(places)
        yield Cleared(setup.number, min(start, stop), max(start, stop), True, diameter_mm / 2)
