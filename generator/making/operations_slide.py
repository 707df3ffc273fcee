"""The top slide between operations: which way it is swung for a cone, and when it is brought back parallel."""

from __future__ import annotations

import re

from generator.description import diameter_at
from generator.making.figures import Figures
from generator.making.operations_faces import open_face
from generator.making.operations_target import Target
from generator.making.setups import Step
from generator.making.workshop import Workshop

__all__ = ["brought_back", "is_swung_by", "swung_text", "wants_parallel"]

_SWUNG_DEG = 5.0
"""Half angles above this are cut with the top slide swung, not by the tool's own form. Shop choice."""

_CLOCKED_MM = 50.0
"""Travel over which the slide is clocked parallel. Common practice, no source."""
_PARALLEL = re.compile(r"top slide parallel|by the top slide, carriage locked")


def swung_text(target: Target) -> str:
    """How the top slide stands for the cone of an operation and which way it is swung; "" where none is cut.

    Source: geometry: a cone with its small end at the tailstock is fed from there towards whoever stands in front.
    """
    main = target.main
    if main is None or not main.surface.at or abs(main.surface.half_angle_deg) <= _SWUNG_DEG:
        return ""
    if main.surface.role == "chamfer" or main.inside:
        return f"top slide swung to {abs(main.surface.half_angle_deg):g} deg: fed by it alone, carriage locked"
    side, handle = ("tailstock", "away from you") if _narrows_outwards(target) else ("headstock", "towards you")
    return (
        f"top slide swung to {abs(main.surface.half_angle_deg):g} deg, its handle {handle} (small end at the {side}): "
        "fed by it alone, carriage locked"
    )


def _narrows_outwards(target: Target) -> bool:
    """Whether the small end of the cone looks towards the tailstock; in its own bearings a point always does."""
    part, main, z_of = target.part, target.main, target.z_of
    if part is None or main is None or target.setup.located == "own bearings":
        return True
    tail = z_of.get(open_face(part, target.setup, z_of))
    if tail is None:
        return True
    small, large = sorted(
        (z_of[main.surface.near], z_of[main.surface.far]), key=lambda z: diameter_at(part, main.surface, z, z_of)
    )
    return abs(small - tail) < abs(large - tail)


def is_swung_by(step: Step, stop: str, workshop: Workshop) -> bool:
    """Whether the top slide stands at an angle after this operation.

    Source: the way tapers are cut here, and what the stop says.
    """
    return (step.work == "taper" and workshop.taper_method == "top slide") or "top slide swung" in stop


def wants_parallel(stop: str, how: tuple[str, ...]) -> bool:
    """Whether an operation measures or feeds by the top slide as it stands along the bed.

    Source: the words of the stop.
    """
    return bool(_PARALLEL.search(stop)) or any(_PARALLEL.search(line) for line in how)


def brought_back(workshop: Workshop, figures: Figures) -> str:
    """How the top slide comes back parallel before it is used along the bed again.

    Source: common practice, no source.
    """
    reads = figures.length(workshop.indicator_mm, 3)
    return (
        "first bring the top slide back to 0 and clock it parallel: indicator in the post, along a bar that runs true, "
        f"within {reads} over {figures.length(_CLOCKED_MM)} of its travel"
    )
