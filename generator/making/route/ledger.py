"""What has been cut of each part, so that every operation names the sizes that it brings to their limits.

A length is finished by the cut that makes the later of its two faces. So each size falls to one operation, whatever the
order, and none is left over or named twice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from generator.description import Choices, Cross, Part, Surface, Tool, Zone, diameter_at, face_positions, outline
from generator.making.cuts import size_text
from generator.making.route.blank import bar_mm
from generator.making.setups import SetUp, Step, Way, Work
from generator.making.tail_centre import with_tail_centre
from generator.making.workshop import Workshop

__all__ = ["Ledger", "Wishes", "Workpiece"]

_UNSIZED = frozenset({"chamfer", "drill point"})


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a kind knows and no description tells: words that stand behind an operation, and the joining of the tool.

    `also` is said behind the cut of a surface, by its address. `mouth_mm` is the countersink of a bored shank end.
    `joined` are the operations that put the tool together before a point is finished in its own bearings.
    """

    also: dict[str, str] = field(default_factory=dict)
    mouth_mm: float | None = None
    joined: tuple[Step, ...] = ()


@dataclass
class Ledger:
    """The set-ups so far, and of each part what is cut."""

    tool: Tool
    choices: Choices
    workshop: Workshop
    wishes: Wishes
    setups: list[SetUp] = field(default_factory=list)

    def add(
        self, part: Part, title: str, holding: str, located: Way, locates_on: str, touches_off: str,
        finishes: Iterable[str], steps: Iterable[Step], **more: object,
    ) -> None:
        """Add one set-up of a part; `finishes` are names on it, `more` the other fields of a set-up."""
        done = tuple(f"{part.name}/{name}" for name in dict.fromkeys(finishes))
        setup = SetUp(
            len(self.setups) + 1, (part.name,), f"{part.title}: {title}", holding, locates_on, touches_off, done,
            tuple(steps), located=located,
        )
        self.setups.append(with_tail_centre(replace(setup, **more), self.workshop))  # type: ignore[arg-type]

    def piece(self, part: Part) -> Workpiece:
        """A part about to be cut."""
        return Workpiece(part, bar_mm(self.tool, part, self.choices, self.workshop.bars), self.wishes)


@dataclass
class Workpiece:
    """One part with the bar it is made of, the faces that are cut and the sizes that are named.

    `near_mm` and `far_mm` are the places of its tailstock end and its work end.
    """

    part: Part
    bar_mm: float
    wishes: Wishes
    faces: set[str] = field(default_factory=set)
    named: set[str] = field(default_factory=set)
    z_of: Mapping[str, float] = field(init=False)
    near_mm: float = field(init=False)
    far_mm: float = field(init=False)

    def __post_init__(self) -> None:
        """Place every face and both ends, once: every cut asks for them."""
        self.z_of = face_positions(self.part)
        found = outline(self.part)
        self.near_mm, self.far_mm = found.near_z, found.far_z

    @property
    def length_mm(self) -> float:
        """Length over everything."""
        return self.far_mm - self.near_mm

    @property
    def _ends(self) -> set[str]:
        """End faces, which facing makes."""
        return {f for f, z in self.z_of.items() if min(abs(z - self.near_mm), abs(z - self.far_mm)) < 1e-6}

    def beyond_mm(self, held: Surface, end: str) -> float:
        """Length between what a carrier holds and the end that the centre carries."""
        return round(min(abs(self.z_of[face] - self.z_of[end]) for face in (held.near, held.far)), 1)

    def end_face(self, z_mm: float) -> str:
        """The face that bounds the part at one of its ends."""
        at_end = [name for name, z in self.z_of.items() if abs(z - z_mm) < 1e-6]
        ends = {s.near for s in self.part.surfaces} | {s.far for s in self.part.surfaces}
        return next((name for name in at_end if name in ends), at_end[0] if at_end else self.part.origin_face)

    def cut(
        self, work: Work, text: str, *surfaces: Surface, faces: Iterable[str] = (), zones: Iterable[Zone] = (),
        cross: Iterable[Cross] = (), tool: str = "", also: str = "", caution: str = "",
        length_mm: float | None = None, diameter_mm: float | None = None,
    ) -> Step:
        """An operation with every size that it is the last to settle."""
        zones, cross = tuple(zones), tuple(cross)
        new = set(faces) | {f for s in surfaces for f in self.made_by(s)}
        zoned = {f for zone in zones for f in (zone.near, zone.far)}
        zoned |= {f for one in cross for f in (one.near, one.far, one.at) if f}
        new |= zoned - self._ends
        wanted = [*self._own(surfaces, zones, cross), *self._lengths(new)]
        names = [name for name in wanted if name not in self.named]
        self.named.update(names)
        self.faces |= new
        cut = (*(one.name for one in surfaces), *(one.name for one in cross))
        extra = (self.wishes.also.get(f"{self.part.name}/{name}", "") for name in cut)
        # What no size tells stands with the operation: the figures printed large are those of the drawing.
        text = ", ".join((text, *dict.fromkeys(one for one in extra if one)))
        words = [*(size_text(self.part, name) for name in names), *([also] if also else [])]
        where = f"{self.part.name}/{surfaces[0].name}" if surfaces else ""
        where = where or (f"{self.part.name}/{next(iter(faces))}" if faces else "")
        return Step(
            text, "\n".join(words), tool, tuple(f"{self.part.name}/{name}" for name in names), work, where,
            diameter_mm, length_mm, 0.0, caution,
        )  # fmt: skip

    def made_by(self, surface: Surface) -> Iterator[str]:
        """Faces that come about when this surface is cut.

        A step in a bore is cut by the wider bore, a shoulder by the slimmer diameter; end faces by facing, but for the
        tip of a point.
        """
        if surface.at:
            yield surface.at
        for face in (surface.near, surface.far):
            z_mm = self.z_of[face]
            at_end = min(abs(z_mm - self.near_mm), abs(z_mm - self.far_mm)) < 1e-6
            if (at_end and surface.role != "point") or self._left_to_another(surface, face, z_mm):
                continue
            yield face

    def _left_to_another(self, surface: Surface, face: str, z_mm: float) -> bool:
        """True where another surface of the same side, which cuts deeper, ends on this face."""
        if surface.side.endswith("groove"):
            return False
        mine = diameter_at(self.part, surface, z_mm, self.z_of)
        for other in self.part.surfaces:
            if other is surface or other.side != surface.side or face not in (other.near, other.far):
                continue
            its = diameter_at(self.part, other, z_mm, self.z_of)
            if abs(its - mine) < 1e-6 and other.diameter.derived and not surface.diameter.derived:
                return True
            if (its > mine + 1e-6) if surface.side == "inside" else (its < mine - 1e-6):
                return True
        return False

    def _own(self, surfaces: Iterable[Surface], zones: Iterable[Zone], cross: Iterable[Cross]) -> Iterator[str]:
        """Sizes that lie on these features alone."""
        for one in surfaces:
            if one.role == "chamfer":
                yield f"{one.name}/leg"
                continue
            if not (one.diameter.derived or one.role in _UNSIZED):
                yield f"{one.name}/diameter"
            if one.at and one.role not in {"taper", *_UNSIZED}:
                yield f"{one.name}/angle"
            for place in self.part.places:
                if place.surface == one.name and not (place.diameter.derived or one.role in _UNSIZED):
                    yield f"{place.face}/diameter"
        yield from (one.name for one in zones if one.form == "thread")
        for feature in cross:
            yield from (f"{feature.name}/{key}" for key, size in feature.sizes.items() if not size.derived)

    def _lengths(self, new: set[str]) -> Iterator[str]:
        """Lengths whose second face is made by this cut."""
        known = self.faces | new
        for length in self.part.lengths:
            ends = {length.face, length.from_face}
            if ends <= known and ends & new and not length.size.derived:
                yield length.name

    def rough(self, text: str, allowance_mm: float, *surfaces: Surface) -> Step:
        """A roughing cut over these surfaces that leaves an allowance on the diameter."""
        first = f"{self.part.name}/{surfaces[0].name}" if surfaces else ""
        rest = tuple(f"{self.part.name}/{one.name}" for one in surfaces)
        return Step(text, "", "", (), "rough", first if len(rest) == 1 else "", None, None, allowance_mm)

