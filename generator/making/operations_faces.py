"""Faces of a part as a set-up meets them: which it cuts, and at which end a tool goes in."""

from __future__ import annotations

from collections.abc import Mapping

from generator.description import Part
from generator.making.setups import SetUp

__all__ = ["cut_here", "open_face"]


def cut_here(part: Part, setup: SetUp) -> frozenset[str]:
    """Faces that this set-up cuts, so that the tool can be touched off on them, and names of all else it finishes."""
    names = {name.partition("/")[2] for name in setup.finishes if name.startswith(f"{part.name}/")}
    cut = [part.by_name[name] for name in names if name in part.by_name]
    return frozenset(names | {face for one in cut for face in (one.near, one.far)})


def open_face(part: Part, setup: SetUp, z_of: Mapping[str, float]) -> str:
    """The end face at which a tool goes in: the one touched off on, else one that is cut here; "" for neither."""
    touched = setup.touches_off.partition("/")[2]
    ends = (min(z_of.values()), max(z_of.values()))
    if touched in z_of and z_of[touched] in ends:
        return touched
    cut = cut_here(part, setup)
    return next((face for face in z_of if face in cut and z_of[face] in ends), "")
