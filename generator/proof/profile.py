"""The bare outline for a lathe with numerical control: one closed line, no words, one end at zero."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generator.proof.rules import Fault, fault

__all__ = ["is_profile", "profile_faults"]

_NEAR_MM = 1e-6


def is_profile(document: Any) -> bool:
    """True for a drawing that holds nothing but outlines in model space."""
    entities = list(document.modelspace())
    bare = all(e.dxftype() in ("LWPOLYLINE", "POLYLINE") and e.dxf.layer == "OUTLINE" for e in entities)
    papers = [layout for layout in document.layouts if layout.is_any_paperspace]
    return bool(entities) and bare and not any(_contents(paper) for paper in papers)


def _contents(layout: Any) -> list[Any]:
    return [e for e in layout if e.dxftype() != "VIEWPORT"]


def profile_faults(document: Any) -> Iterator[Fault]:
    """Every fault of a bare outline."""
    entities = list(document.modelspace())
    for entity in entities:
        handle = entity.dxf.handle or ""
        is_closed = bool(entity.closed if entity.dxftype() == "LWPOLYLINE" else entity.is_closed)
        if not is_closed:
            yield fault("profile", "the outline is not closed", None, handle, entity.dxf.layer)
    if len(entities) != 1:
        yield fault("profile", f"there are {len(entities)} outlines, not one", layer="OUTLINE")
        return
    polyline = entities[0]
    points = (
        [(float(x), float(y)) for x, y in polyline.get_points("xy")]
        if polyline.dxftype() == "LWPOLYLINE"
        else [(p.x, p.y) for p in polyline.points()]
    )
    handle = polyline.dxf.handle or ""
    ends = (min(x for x, _ in points), max(x for x, _ in points))
    if min(abs(end) for end in ends) > _NEAR_MM:
        what = f"its ends are at x = {ends[0]:g} and {ends[1]:g}, neither at 0"
        yield fault("profile", what, None, handle, "OUTLINE")
    if min(y for _, y in points) < -_NEAR_MM:
        yield fault("profile", "the outline goes below the axis", None, handle, "OUTLINE")
