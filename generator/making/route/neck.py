"""The neck between a point and its stub: thick enough to turn by, then thin enough to leave the cone whole."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.description import Surface
from generator.making.route.ledger import Workpiece
from generator.making.setups import Step
from generator.making.stock import stub_over_mm

__all__ = ["Neck", "neck_of", "roughed_point", "sawn_off"]

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


def roughed_point(piece: Workpiece, point: Surface, neck: Neck, left_mm: float) -> Iterator[Step]:
    """The neck plunged and the cone roughed down into it, when nothing else is turned from the stub any more.

    Source: common practice, no source.
    """
    swing = f"{abs(point.half_angle_deg):g} deg"
    yield Step(
        "plunge a neck between tip and stub", f"dia {neck.turning_mm:g} mm, {_WIDE_MM:g} mm wide", "", (), "groove", "",
        piece.bar_mm, _WIDE_MM,
    )  # fmt: skip
    yield piece.rough(f"swing the top slide to {swing}, rough the point down into the neck, {left_mm:g} mm over",
                      left_mm, point)  # fmt: skip
    if neck.is_thinned:
        yield Step(
            "carry the cone on by light cuts until the neck is thin, the tailstock eased",
            f"neck dia {neck.last_mm:g} mm", "", (), "turn", "", neck.turning_mm,
            caution="Nothing else may be turned by this neck any more.",
        )  # fmt: skip


def sawn_off(neck: Neck | None, bar_mm: float, where: str = "", *, hard: bool) -> list[Step]:
    """The stub sawn off: through the neck of a point, else through the bar, as far from a face as `where` tells.

    Source: common practice, no source.
    """
    if neck is None:
        over_mm = stub_over_mm(bar_mm)
        stays = f" {where}: {over_mm:g} mm stays to be faced" if where else f", {over_mm:g} mm long"
        words = f"saw the stub off{stays}"
        return [Step(words, work="saw", diameter_mm=bar_mm)]
    words = f"saw through the neck of {neck.last_mm:g} mm, leave the point 0.5 mm long"
    steps = [Step(words, work="saw", diameter_mm=neck.last_mm)]
    if hard:
        steps.append(Step(
            "file the tip to the cone by the gauge: it must be whole before the fire", "60 deg gauge", "smooth file",
            (), "file",
        ))  # fmt: skip
    return steps
