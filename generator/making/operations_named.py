"""What an operation names on its part: the sizes of the drawing that it brings to their limits, and its surfaces."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from generator.description import Part, Size, Surface, diameter_at
from generator.making.setups import Step

__all__ = ["FORMED", "is_slender", "sizes_of", "surfaces_of", "with_relief"]

_SWUNG_DEG = 5.0
"""Half angles above this are cut with the top slide swung, not by the tool's own form. Shop choice."""
FORMED = frozenset({"chamfer", "drill point"})
_ON_SURFACES = frozenset({
    "rough", "turn", "taper", "groove", "thread", "knurl", "drill", "ream", "bore", "tap", "grind", "lap",
})


def sizes_of(part: Part, step: Step) -> Iterator[tuple[str, Size]]:
    """Every size of the drawing that the step brings to its limits; diameters first.

    Source: the description.
    """
    names = [name.partition("/")[2] for name in step.cuts if name.startswith(f"{part.name}/")]
    found = [(name, size) for name in names if (size := _size(part, name)) is not None]
    yield from sorted(found, key=lambda one: not one[0].endswith("/diameter"))


def _size(part: Part, name: str) -> Size | None:
    length = next((one for one in part.lengths if one.name == name), None)
    if length is not None:
        return length.size
    owner, _, key = name.rpartition("/")
    surface = part.by_name.get(owner)
    if surface is not None:
        return surface.diameter if key == "diameter" else None
    cross = next((one for one in part.cross if one.name == owner), None)
    if cross is not None:
        return cross.sizes.get(key)
    place = next((one for one in part.places if one.face == owner), None)
    return None if place is None else place.diameter


def surfaces_of(part: Part, step: Step, names: Sequence[str], z_of: Mapping[str, float]) -> Iterator[Surface]:
    """Surfaces that the step cuts: by name or diameter, by thread, else those that its lengths span.

    Source: the description.
    """
    if step.work and step.work not in _ON_SURFACES:
        return
    lengths = {one.name for one in part.lengths}
    own = step.surface.partition("/")[2]
    named = [found for name in names if (name not in lengths or name == own)
             and (found := _owner(part, name)) is not None]
    plain = [one for one in named if one.role not in FORMED]
    yield from plain or named
    if step.work == "rough" and len(plain) > 1:
        yield from _beside(part, plain)
    if named or step.work not in {"turn", "rough", "bore", "grind", "drill"}:
        return
    side = "inside" if step.work in {"bore", "drill"} else "outside"
    wanted = [one for one in part.surfaces if one.side == side and one.role not in FORMED]
    spans = [sorted((z_of[one.face], z_of[one.from_face])) for one in part.lengths if one.name in names]
    if not spans and step.work == "rough" and not names and step.diameter_mm is None:
        yield from wanted
    for low, high in spans:
        spanned = [one for one in wanted if z_of[one.near] < high - 1e-6 and z_of[one.far] > low + 1e-6]
        yield from spanned
        yield from _beside(part, spanned)


def _beside(part: Part, surfaces: Sequence[Surface]) -> Iterator[Surface]:
    """Outside reliefs that border on what is roughed or turned: the tool goes over them as well."""
    ends = {face for one in surfaces if one.side == "outside" for face in (one.near, one.far)}
    yield from (one for one in part.surfaces if one.side == "outside" and one.role == "relief" and
                {one.near, one.far} & ends)


def _owner(part: Part, name: str) -> Surface | None:
    if name in part.by_name:
        return part.by_name[name]
    owner, _, key = name.rpartition("/")
    if key in {"diameter", "angle", "leg"} and owner in part.by_name:
        return part.by_name[owner]
    zone = next((one for one in part.zones if one.name == name), None)
    return None if zone is None else part.by_name.get(zone.surface)


def is_slender(surface: Surface) -> bool:
    """Whether a cone is so slender that it is no matter of the top slide swung wide.

    Source: shop choice.
    """
    return bool(surface.at) and abs(surface.half_angle_deg) <= _SWUNG_DEG


def with_relief(part: Part, cone: Surface, z_of: Mapping[str, float]) -> tuple[float, float]:
    """From where to where a cone is roughed: with an outside relief that borders on its large end.

    Source: common practice, no source.
    """
    near, far = z_of[cone.near], z_of[cone.far]
    large = cone.near if diameter_at(part, cone, near, z_of) > diameter_at(part, cone, far, z_of) else cone.far
    beside = [one for one in part.surfaces if one.side == "outside" and one.role == "relief" and
              large in (one.near, one.far)]  # fmt: skip
    places = [near, far, *(z_of[face] for one in beside for face in (one.near, one.far))]
    return min(places), max(places)
