"""The height of a flat on a half point, told from a place that can be measured from: the top of the head."""

from __future__ import annotations

from generator.description import Cross, Part, Size, Surface

__all__ = ["below_top", "head_of", "less_words"]


def head_of(part: Part) -> Surface | None:
    """The cylinder whose top a depth is measured from: the largest outside one; None for a part without any.

    Source: the description.
    """
    plain = [one for one in part.surfaces if one.side == "outside" and not one.at and one.role != "chamfer"]
    return max(plain, key=lambda one: one.diameter.nominal_mm, default=None)


def below_top(part: Part, height: Size) -> tuple[float, float, str] | None:
    """From how far to how far below the top of the head a flat lies, and the name of that head.

    Source: geometry: half the middle of the diameter, less the height above the axis.
    """
    head = head_of(part)
    if head is None:
        return None
    radius = head.diameter.middle / 2
    return radius - height.high, radius - height.low, head.name.replace("_", " ")


def less_words(part: Part, cross: Cross, over_mm: float = 0.0) -> tuple[str, float] | None:
    """The name of the head and what half its measured diameter is lessened by, to come to the depth of a flat.

    `over_mm` is what the flat is still left over. Source: geometry.
    """
    head = head_of(part)
    if head is None or cross.kind != "half":
        return None
    return head.name.replace("_", " "), cross.sizes["height"].middle + over_mm
