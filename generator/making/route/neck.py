"""The neck between a point and its stub: thick enough to turn by, then thin enough to leave the cone whole."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.description import Surface
from generator.making.route.ledger import Workpiece
from generator.making.setups import Step

__all__ = ["Neck", "neck_of", "roughed_point", "sawn_off", "thinned"]

_SHARE, _LEAST_MM, _MOST_SHARE = 0.35, 6.0, 0.7
"""Neck to turn by, over the base of the cone; least and most. Shop choice."""
_LAST_MM = 3.0
"""Neck that is left to be sawn where the cone must be whole before the fire. Shop choice."""
_WIDE_MM = 4.0
"""Room for a parting tool beside the stub. Shop choice."""


@dataclass(frozen=True, slots=True)
class Neck:
    """Diameters of a neck: `turning_mm` while anything is turned by it, `last_mm` when it is sawn through."""

    turning_mm: float
    last_mm: float

    @property
    def is_thinned(self) -> bool:
        """True where the cone is carried on into the neck at the end."""
        return self.last_mm < self.turning_mm


def neck_of(piece: Workpiece, point: Surface, *, hard: bool) -> Neck:
    """The neck ahead of a point; it stays thick where the point is turned soft at the end and cleans it away.

    Source: shop choice.
    """
    base = point.diameter.nominal_mm
    tip = next((one.diameter.nominal_mm for one in piece.part.places if one.face == point.far), 0.0)
    turning = max(tip, _half(min(max(_SHARE * base, _LEAST_MM), _MOST_SHARE * base)))
    return Neck(turning, max(tip, min(_LAST_MM, turning)) if hard else turning)


def _half(size_mm: float) -> float:
    return max(0.5, round(2.0 * size_mm) / 2.0)


def _swung(point: Surface) -> str:
    return f"swing the top slide to {abs(point.half_angle_deg):g} deg, afterwards back"


def roughed_point(piece: Workpiece, point: Surface, neck: Neck, left_mm: float) -> Iterator[Step]:
    """The neck plunged, the cone roughed down into it.

    Source: common practice, no source.
    """
    yield Step(
        "plunge a neck between tip and stub", f"dia {neck.turning_mm:g} mm, {_WIDE_MM:g} mm wide", "", (), "groove", "",
        piece.bar_mm, _WIDE_MM,
    )  # fmt: skip
    yield piece.rough(f"{_swung(point)}, rough the point down into the neck, {left_mm:g} mm over", left_mm, point)


def thinned(piece: Workpiece, point: Surface, neck: Neck, left_mm: float) -> Iterator[Step]:
    """The last of the cone, when nothing else is turned by the neck any more.

    Source: common practice, no source.
    """
    if not neck.is_thinned:
        return
    step = piece.rough(f"{_swung(point)}, last of all carry the cone on until the neck is thin", left_mm, point)
    yield Step(step.text, f"neck dia {neck.last_mm:g} mm", step.tool, (), step.work, step.surface, None, None, left_mm,
               "light cuts: nothing may be turned by this neck any more")  # fmt: skip


def sawn_off(neck: Neck | None, bar_mm: float, hard: bool) -> list[Step]:
    """The stub sawn off: through the neck of a point, else through the bar.

    Source: common practice, no source.
    """
    if neck is None:
        return [Step("saw the stub off, 1 mm long", work="saw", diameter_mm=bar_mm)]
    words = f"saw through the neck of {neck.last_mm:g} mm, leave the point 0.5 mm long"
    steps = [Step(words, work="saw", diameter_mm=neck.last_mm)]
    if hard:
        steps.append(Step(
            "file the tip to the cone by the gauge: it must be whole before the fire", "60 deg gauge", "smooth file",
            (), "file",
        ))  # fmt: skip
    return steps
