"""The back of a shank part and what is beside it: what is roughed at one diameter, and in which order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from generator.description import diameter_at
from generator.making.route.words import plain
from generator.making.setups import Step

if TYPE_CHECKING:
    from generator.description import Surface
    from generator.making.route.shank import Shank

__all__ = ["at_back", "back_and_shank", "roughed_together"]

_SAME_MM = 0.2
"""A head no larger than this over its taper is roughed with it at one diameter. Shop choice."""
_LOW_MM = 2.0
"""A head that stands out less over its taper has no back before the relief is plunged. Shop choice."""


def roughed_together(shank: Shank, cylinders: Sequence[Surface]) -> Iterator[tuple[Surface, str]]:
    """What is roughed by itself, with what it takes along: the taper behind a head that is hardly larger.

    Source: common practice, no source.
    """
    same = [one for one in cylinders if shank.back in (one.near, one.far) and _hardly_larger(shank, one, _SAME_MM)]
    for one in cylinders:
        yield one, " and the taper, all at one diameter" if one in same else ""
    if not same:
        yield shank.taper, ""


def at_back(shank: Shank, one: Surface) -> bool:
    """True for the chamfer of the back, which follows when the back is faced.

    Source: none needed.
    """
    return one.role == "chamfer" and shank.back in (one.near, one.far)


def back_and_shank(shank: Shank) -> Iterator[Step]:
    """The back faced, its chamfer after it, then the shank; a relief first, where only its wall makes the back.

    Source: common practice, no source.
    """
    z_of = shank.piece.z_of
    beside = [one for one in shank.head if shank.back in (one.near, one.far) and not one.at]
    relief = [one for one in shank.shank if one.role == "relief" and shank.back in (one.near, one.far)]
    first = relief if beside and all(_hardly_larger(shank, one, _LOW_MM) for one in beside) else []
    yield from (shank.turned(one) for one in first)
    how = "just clean" if first else "square to the shank"
    yield shank.piece.cut(
        "face", f"face the back, {how}", faces=[shank.back],
        also=f"{z_of[shank.back] - z_of[shank.end]:.1f} mm from the shank end",
    )  # fmt: skip
    yield from (shank.piece.cut("turn", plain(one.name), one) for one in shank.head if at_back(shank, one))
    yield from shank.shank_steps(first)


def _hardly_larger(shank: Shank, head: Surface, by_mm: float) -> bool:
    """Whether a diameter of the head stands out over the large end of the taper by no more than this."""
    part, taper, z_of = shank.part, shank.taper, shank.piece.z_of
    large = max(diameter_at(part, taper, z_of[face], z_of) for face in (taper.near, taper.far))
    return head.diameter.nominal_mm - large <= by_mm
