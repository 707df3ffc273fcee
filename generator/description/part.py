"""A part: faces hung on a tree along its axis, surfaces between faces, zones and cross features on them.

Each face but the origin face is introduced exactly once: by a `Length` from a face that exists, or by a `Place`, where
a conical surface has a given diameter. So the drawing can show each edge of the tree once, and nothing twice.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from generator.description.memo import once
from generator.description.size import Size, Term
from generator.errors import GeometryError

__all__ = [
    "Ball",
    "Corner",
    "Cross",
    "Length",
    "Part",
    "Place",
    "Relation",
    "Surface",
    "Zone",
    "diameter_at",
    "face_forms",
    "face_positions",
]


@dataclass(frozen=True, slots=True)
class Length:
    """`face` stands `size` away from `from_face`, towards the work (sign +1) or the tailstock (-1)."""

    name: str
    face: str
    from_face: str
    sign: int
    size: Size


@dataclass(frozen=True, slots=True)
class Place:
    """`face` is where the cone `surface` has this diameter (gauge plane, sharp end, end of a chamfer, drill bottom)."""

    face: str
    surface: str
    diameter: Size


@dataclass(frozen=True, slots=True)
class Surface:
    """A cylinder or cone about the axis from face `near` (tailstock side) to face `far` (work side).

    `side` is "outside", "inside", "outside groove" or "inside groove". A cone has its `diameter` at face `at` and a
    signed half angle: positive where the diameter grows towards the work. `role` says what it is for in one word:
    "", "taper", "point", "seat", "pocket", "chamfer", "relief", "drill point", "thread".
    """

    name: str
    side: str
    near: str
    far: str
    diameter: Size
    at: str = ""
    half_angle_deg: float = 0.0
    role: str = ""
    finish_ra_um: float | None = None


@dataclass(frozen=True, slots=True)
class Zone:
    """A thread, knurl or hardened stretch on a surface from `near` to `far`; `text` is its callout ("M6")."""

    name: str
    surface: str
    near: str
    far: str
    form: str
    text: str


@dataclass(frozen=True, slots=True)
class Cross:
    """A feature across the axis between two faces.

    kind "flats": two parallel flats, sizes {"across"}. "tang": the same at a shank end, sizes {"across"}.
    kind "half": one flat parallel to the axis, all above `height` removed, sizes {"height"} (from the axis, + is up).
    kind "slot": a gap from the axis outward, as an open ring has, sizes {"width"} (at 0 upwards, in no section).
    kind "hole": through hole square to the axis in the middle of near and far, sizes {"diameter"}.
    `at` is the face in its middle where sizes place that, with `near` and `far` derived from it.
    `angle_deg` turns it about the axis (0: flats lie horizontal, holes run vertical).
    """

    name: str
    kind: str
    near: str
    far: str
    sizes: Mapping[str, Size]
    angle_deg: float = 0.0
    at: str = ""


@dataclass(frozen=True, slots=True)
class Relation:
    """A geometrical demand: `surface` to `datum` ("run-out"), with its limit and how the shop gets it."""

    surface: str
    datum: str
    kind: str
    limit_mm: float
    how: str


@dataclass(frozen=True, slots=True)
class Corner:
    """The inner corner where `surface` meets `face`: `text` is its callout ("R 0.3 max")."""

    surface: str
    face: str
    text: str


@dataclass(frozen=True, slots=True)
class Ball:
    """A row of balls drawn in the section of a bought ring: middle at `face` + `offset_mm`, on a pitch circle."""

    face: str
    offset_mm: float
    pitch_diameter_mm: float
    ball_diameter_mm: float


@dataclass(frozen=True, slots=True)
class Part:
    """One piece: made, bought in (`bought` holds its order text), or a neighbour drawn for understanding.

    `item` groups pieces that are one line of the parts list (inner and outer ring of a bearing).
    `least_wall_mm` is the thinnest wall that may be left: 1.0 for what is bored by hand (common practice, no source),
    less for a plain sleeve that only carries a clamping load.
    """

    name: str
    title: str
    origin_face: str
    lengths: tuple[Length, ...] = ()
    places: tuple[Place, ...] = ()
    surfaces: tuple[Surface, ...] = ()
    zones: tuple[Zone, ...] = ()
    cross: tuple[Cross, ...] = ()
    relations: tuple[Relation, ...] = ()
    corners: tuple[Corner, ...] = ()
    balls: tuple[Ball, ...] = ()
    notes: tuple[str, ...] = ()
    material: str = ""
    bought: str = ""
    neighbour: bool = False
    item: str = ""
    sectioned: bool = True
    least_wall_mm: float = 1.0
    by_name: Mapping[str, Surface] = field(init=False, repr=False, compare=False)
    memo: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Index the surfaces; refuse two of one name."""
        index = {surface.name: surface for surface in self.surfaces}
        if len(index) != len(self.surfaces):
            names = [surface.name for surface in self.surfaces]
            twice = ", ".join(name for name in index if names.count(name) > 1)
            message = f"{self.name}: two surfaces are called {twice}"
            raise GeometryError(message)
        object.__setattr__(self, "by_name", index)

    @property
    def is_made(self) -> bool:
        """True for a part that the shop cuts itself."""
        return not self.bought and not self.neighbour

    def surface(self, name: str) -> Surface:
        """The surface of this name; GeometryError if there is none."""
        try:
            return self.by_name[name]
        except KeyError:
            message = f"{self.name}: no surface called {name}; there are {', '.join(self.by_name)}"
            raise GeometryError(message) from None


FaceForm = tuple[Term, ...]


def _slope(surface: Surface) -> float:
    """Growth of the diameter in mm for 1 mm towards the work."""
    return 2.0 * math.tan(math.radians(surface.half_angle_deg))


@once
def face_forms(part: Part) -> Mapping[str, FaceForm]:
    """Position of every face as terms from the origin face. Raises GeometryError if the tree is not one."""
    forms: dict[str, FaceForm] = {part.origin_face: ()}
    waiting: list[Length | Place] = [*part.lengths, *part.places]
    introduced = [part.origin_face, *(item.face for item in waiting)]
    twice = sorted({face for face in introduced if introduced.count(face) > 1})
    if twice:
        message = f"{part.name}: face {', '.join(twice)} is introduced more than once"
        raise GeometryError(message)
    while waiting:
        left = [item for item in waiting if not _introduce(part, item, forms)]
        if len(left) == len(waiting):
            names = ", ".join(item.face for item in left)
            message = f"{part.name}: no path of sizes leads to face {names}"
            raise GeometryError(message)
        waiting = left
    return forms


def _introduce(part: Part, item: Length | Place, forms: dict[str, FaceForm]) -> bool:
    """True if the face of `item` could be placed from what is known already."""
    if isinstance(item, Length):
        start = forms.get(item.from_face)
        if start is None:
            return False
        forms[item.face] = (*start, Term(float(item.sign), item.size, f"{part.name}/{item.name}"))
        return True
    cone = part.surface(item.surface)
    start = forms.get(cone.at)
    if start is None:
        return False
    per_mm = 1.0 / _slope(cone)
    forms[item.face] = (
        *start,
        Term(per_mm, item.diameter, f"{part.name}/{item.face}/diameter"),
        Term(-per_mm, cone.diameter, f"{part.name}/{cone.name}/diameter"),
    )
    return True


@once
def face_positions(part: Part) -> Mapping[str, float]:
    """Nominal z of every face in mm (arrays where the sizes are arrays)."""
    return {
        face: sum((term.coefficient * term.size.nominal_mm for term in form), start=0.0)
        for face, form in face_forms(part).items()
    }


def diameter_at(part: Part, surface: Surface, z_mm: float, z_of: Mapping[str, float]) -> float:
    """Nominal diameter of `surface` in mm at part position z."""
    if not surface.at:
        return surface.diameter.nominal_mm
    return surface.diameter.nominal_mm + _slope(surface) * (z_mm - z_of[surface.at])
