"""What can be said on a part sheet: lengths, diameters and callouts, and the shape they are read from. Pure data."""

from __future__ import annotations

from dataclasses import dataclass

from generator.description import Outline, Part, Size, Surface, diameter_at
from generator.drawing.labels import Label
from generator.drawing.manner import METRIC, Manner
from generator.drawing.meridian import Half

__all__ = ["CLOSE_MM", "Callout", "CentreHole", "Diameter", "LengthLine", "Requests", "Shape"]

Point = tuple[float, float]

CLOSE_MM = 1e-6
_CUT_AWAY_MM = 0.02


@dataclass(frozen=True, slots=True)
class LengthLine:
    """A length along the axis from `start` to `end` (its introduced face), with the radii its extension lines leave.

    `left_out_mm` is what the gap of an interrupted view leaves out between them.
    """

    address: str
    label: Label
    size: Size
    start: float
    end: float
    start_radius: float
    end_radius: float
    is_inside: bool
    is_auxiliary: bool = False
    left_out_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Diameter:
    """A diameter (or a width across flats) that holds from `near` to `far`, shown at radius `radius`."""

    address: str
    label: Label
    size: Size
    near: float
    far: float
    radius: float
    is_inside: bool


@dataclass(frozen=True, slots=True)
class Callout:
    """A leader with words or a symbol. `tips` are (z, y) on the line it points at, best first.

    A tip with negative y is shown by the lower half alone.
    kind: "size" (a real dimension between `measured` points), "angle", "words", "taper", "finish", "frame", "datum",
    "letter" (of a detail), "centre" (a centre hole: `cells` are its meaning and its end).
    `horizontal` says that the size is measured along the axis. `cells` are the frame's kind, value and datum letter.
    `side` is +1 or -1 where only the upper or the lower half shows what is pointed at.
    """

    address: str
    kind: str
    label: Label
    tips: tuple[Point, ...]
    measured: tuple[Point, Point] | None = None
    size: Size | None = None
    horizontal: bool = False
    is_inside: bool = False
    cells: tuple[str, ...] = ()
    side: int = 0


@dataclass(frozen=True, slots=True)
class CentreHole:
    """A centre hole of ISO 6411 that the order of work holds the part on.

    `end` is -1 for the tailstock end, +1 for the work end; `code` is "ISO 6411 - A 2.5/5.3"; `meaning` is "remains",
    "may remain" or "must not remain".
    """

    end: int
    code: str
    meaning: str = "may remain"


@dataclass(frozen=True, slots=True)
class Requests:
    """Everything a part sheet has to say, and the manner in which it is printed."""

    lengths: tuple[LengthLine, ...]
    diameters: tuple[Diameter, ...]
    callouts: tuple[Callout, ...]
    notes: tuple[str, ...]
    manner: Manner = METRIC


@dataclass(frozen=True, slots=True)
class Shape:
    """A part with its outline and both halves as drawn, and the manner in which its sizes are printed."""

    part: Part
    found: Outline
    upper: Half
    lower: Half
    manner: Manner = METRIC

    def z(self, face: str) -> float:
        """Position of a face."""
        return self.found.z_of[face]

    def inner_radius(self, z: float) -> float:
        """The larger inner radius at z, 0 where the part is solid."""
        radii = [s.radius(z) for s in self.upper.inner if s.z0 - CLOSE_MM <= z <= s.z1 + CLOSE_MM]
        return max(radii, default=0.0)

    def middle_tips(self, near: float, far: float, surface: Surface) -> tuple[Point, ...]:
        """Points on a surface between two positions, the middle first, where nothing is cut away.

        A point that only the lower half still shows has a negative y.
        """
        places = [near + share * (far - near) for share in (0.5, 0.25, 0.75, 0.12, 0.88)]
        if surface.side.startswith("inside"):
            return tuple((z, self.inner_radius(z)) for z in places)
        whole: list[Point] = []
        for z in places:
            true = diameter_at(self.part, surface, z, self.found.z_of) / 2
            if abs(self.upper.outer_radius(z) - true) < _CUT_AWAY_MM:
                whole.append((z, true))
            elif abs(self.lower.outer_radius(z) - true) < _CUT_AWAY_MM:
                whole.append((z, -true))
        # The stub of a cone above a flat is no place to point at where its whole flank shows below.
        flank = [point for point in whole if point[1] < 0.0]
        whole = flank if len(flank) > len(whole) / 2 else whole
        return tuple(whole) or tuple((z, self.upper.outer_radius(z)) for z in places)

    def radius_on(self, surface: Surface, z: float) -> float:
        """Radius of a surface at z as drawn."""
        if surface.side.startswith("inside"):
            return self.inner_radius(z)
        return self.upper.outer_radius(z)
