"""How far an outside cut runs on over bar that is cut off later, so that no rim stays."""

from __future__ import annotations

from generator.making.operations_faces import open_face
from generator.making.operations_target import Target

__all__ = ["PAST_MM", "over_bar_mm"]

PAST_MM = 2.0
"""How far a cut goes beyond the end of a part over the bar that is cut off later. Common practice, no source."""


def over_bar_mm(target: Target) -> float:
    """How far an outside cut runs on past the end of its own surface; 0 where no bar that goes later lies there.

    Source: geometry of what is held and cut.
    """
    main, z_of, part = target.main, target.z_of, target.part
    if main is None or part is None or target.setup.grips != "bar" or main.surface.side != "outside":
        return 0.0
    if not main.surface.near or target.step.work not in {"turn", "rough", "bore", "groove"}:
        return 0.0
    start = z_of.get(open_face(part, target.setup, z_of))
    if start is None:
        return 0.0
    end = max(z_of, key=lambda face: (abs(z_of[face] - start), face))
    made = max((main.near_mm, main.far_mm), key=lambda z: abs(z - start))
    between = abs(z_of[end] - made)
    edge = sum(abs(z_of[one.far] - z_of[one.near]) for one in part.surfaces
               if one.side == "outside" and one.role == "chamfer" and end in (one.near, one.far))  # fmt: skip
    return between + PAST_MM if between <= edge + 1e-6 else 0.0
