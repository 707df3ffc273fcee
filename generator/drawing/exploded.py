"""A tool pulled apart along its axis in the order in which it goes together. Pure geometry in model millimetres."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from generator.description import Tool
from generator.drawing.arrangement_profile import CLOSE_MM
from generator.drawing.pictorial_bodies import Body, moved

__all__ = ["Joining", "exploded", "relation_word", "target_of"]

_APART_MM, _OF_SMALLER, _OF_LARGER = 5.0, 0.6, 0.25
"""Pieces stand apart by this much, and by shares of both their radii, so that their faces are seen. Shop choice."""

_FIT_MM = 0.3
_THREAD_SHARE = 0.8
"""A thread goes into a bore that is smaller by no more than this. Shop choice."""


@dataclass(frozen=True, slots=True)
class Joining:
    """One step of the assembly in plain words: which parts, called what, joined to what, from which side, until when.

    `side` is "work side", "tailstock side", "pliers" for a ring that is sprung in, "" where no straight way is known.
    """

    parts: tuple[str, ...]
    title: str
    target: str
    side: str
    contacts: tuple[str, ...]


def target_of(tool: Tool, step: Joining) -> str:
    """Name of the part that a step is joined to."""
    named = [part for part in tool.parts.values() if part.title == step.target and part.name not in step.parts]
    own = [part for part in named if not part.neighbour]
    return min(own or named, key=lambda part: not part.is_made).name


def exploded(tool: Tool, bodies: Sequence[Body], steps: Iterable[Joining]) -> list[Body]:
    """The bodies pulled apart: every step undone on its own side, what was joined before it moving along.

    A sprung ring stands beside what it holds, whatever else lies on its way.
    """
    placed = {body.name: body for body in bodies}
    at = dict(placed)
    group_of = {body.name: [body.name] for body in bodies}
    for step in steps:
        still = group_of[target_of(tool, step)]
        names = [name for part in step.parts for name in group_of[part]]
        moving = [name for name in dict.fromkeys(names) if name not in still]
        if not moving:
            continue
        held = next((tool.seat_of[n].on_part for n in moving if n in tool.seat_of), "")
        if step.side in ("work side", "tailstock side") or held not in still:
            _take_out(at, moving, still, step.side != "tailstock side")
        else:
            before = sum(_ends(placed, moving)) < placed[held].near_z + placed[held].far_z
            _set_beside(at, moving, still, held, -1 if before else 1)
        joined = [*still, *moving]
        for name in joined:
            group_of[name] = joined
    return [at[body.name] for body in bodies]


def _take_out(at: dict[str, Body], moving: Sequence[str], still: Sequence[str], towards_work: bool) -> None:
    """Move some bodies clear of the others on one side."""
    near, far = _ends(at, moving)
    low, high = _ends(at, still)
    # Only what stands at the end on that side has to be cleared.
    last = [n for n in still if (at[n].far_z > high - CLOSE_MM if towards_work else at[n].near_z < low + CLOSE_MM)]
    apart = _apart(at, moving, last)
    by = high + apart - near if towards_work else low - apart - far
    for name in moving:
        at[name] = moved(at[name], by)


def _set_beside(at: dict[str, Body], moving: Sequence[str], still: Sequence[str], held: str, sign: int) -> None:
    """Put bodies beside the one that they hold, on one side, and push aside what stands farther out."""
    near, far = _ends(at, moving)
    end = at[held].far_z if sign > 0 else at[held].near_z
    apart = _apart(at, moving, [held])
    for name in still:
        body = at[name]
        if name != held and (body.near_z > end - CLOSE_MM if sign > 0 else body.far_z < end + CLOSE_MM):
            at[name] = moved(body, sign * (apart + far - near))
    by = end + apart - near if sign > 0 else end - apart - far
    for name in moving:
        at[name] = moved(at[name], by)


def _apart(at: Mapping[str, Body], some: Sequence[str], others: Sequence[str]) -> float:
    radii = sorted(max(at[name].radius for name in names) for names in (some, others))
    return _APART_MM + _OF_SMALLER * radii[0] + _OF_LARGER * radii[1]


def _ends(at: Mapping[str, Body], names: Iterable[str]) -> tuple[float, float]:
    both = [(at[name].near_z, at[name].far_z) for name in names]
    return min(near for near, _ in both), max(far for _, far in both)


def relation_word(tool: Tool, bodies: Sequence[Body], step: Joining) -> str:
    """How a step is joined to its target: "onto" what passes through it, "into" what holds it, else "against"."""
    at = {body.name: body for body in bodies}
    target = at.get(target_of(tool, step))
    if target is None:
        return "against"
    for name in step.parts:
        for mine in at[name].slabs:
            middle = (mine.z0 + mine.z1) / 2
            inner, outer = mine.at(middle)
            its = next((slab for slab in target.slabs if slab.z0 <= middle <= slab.z1), None)
            if its is None:
                continue
            bore, outside = its.at(middle)
            if inner > CLOSE_MM and _THREAD_SHARE * outside <= inner + _FIT_MM:
                return "onto"
            if bore > CLOSE_MM and _THREAD_SHARE * outer <= bore + _FIT_MM:
                return "into"
    return "against"
