"""The longitudinal view of a part: what of it is drawn where; nothing is drawn here."""

from __future__ import annotations

import re
from dataclasses import dataclass

from generator.description import Outline, Part, Zone, outline
from generator.drawing.base import Point
from generator.drawing.gap import Gap
from generator.drawing.meridian import Half, halves, sectioned_spans

__all__ = ["View", "look_at", "thread_diameter_mm", "treated_line"]

_CLOSE_MM = 1e-6
_TREATED_OFF_MM = 2.0


@dataclass(frozen=True, slots=True)
class View:
    """A part as placed in a drawing: its halves, what is cut, and where it stands.

    `x0` is where the part's z = 0 stands; `flip` turns it end for end; `side` is "both", "upper" or "lower". `gap` is
    that of an interrupted view, which shows both halves.
    """

    part: Part
    shape: Outline
    upper: Half
    lower: Half
    spans: tuple[Point, ...]
    x0: float = 0.0
    flip: bool = False
    side: str = "both"
    gap: Gap | None = None

    def at(self, z: float, y: float = 0.0) -> Point:
        """The drawing point of position z at height y."""
        return (self.x0 + (-z if self.flip else z), y)

    def shown(self) -> tuple[Half, ...]:
        """The halves that are drawn."""
        return {"both": (self.upper, self.lower), "upper": (self.upper,), "lower": (self.lower,)}[self.side]

    def pieces(self, start: float, end: float) -> tuple[Point, ...]:
        """A stretch as it is drawn: whole, or on both sides of the gap."""
        if self.gap is None or not self.gap.lies_within(start, end):
            return ((start, end),)
        return (start, self.gap.start), (self.gap.end, end)

    def is_cut(self, z: float) -> bool:
        """True where the view is a section."""
        return any(start - _CLOSE_MM <= z <= end + _CLOSE_MM for start, end in self.spans)


def look_at(
    part: Part, *, scale: float = 1.0, x0: float = 0.0, flip: bool = False, side: str = "both", gap: Gap | None = None
) -> View:
    """The view of a part at a place, nothing drawn yet."""
    shape = outline(part)
    upper, lower = halves(part, shape)
    return View(part, shape, upper, lower, sectioned_spans(part, shape, scale), x0, flip, side, gap)


_METRIC = re.compile(r"M(\d+(?:\.\d+)?)")


def thread_diameter_mm(zone: Zone) -> float | None:
    """Nominal diameter of a metric thread as its callout says, or None for another thread."""
    found = _METRIC.match(zone.text)
    return float(found[1]) if found else None


def treated_line(view: View, zone: Zone, scale: float) -> list[tuple[Point, Point]]:
    """The line 2 mm off the surface over the stretch that is to be treated, in pieces; none on a bore.

    Source: ISO 15787 at second hand, wide long-dash-dot line outside the outline.
    """
    z_of = view.shape.z_of
    surface = view.part.surface(zone.surface)
    if surface.side.startswith("inside"):
        return []
    off = _TREATED_OFF_MM / scale
    near, far = z_of[zone.near], z_of[zone.far]
    ends = {h.sign: (h.outer_radius(near + 1e-5), h.outer_radius(far - 1e-5)) for h in view.shown()}
    places = [near + share * (far - near) for share in (0.2, 0.5, 0.8)]
    whole = {h.sign: sum(h.outer_radius(z) for z in places) for h in view.shown()}
    sign = max(ends, key=lambda half: (round(whole[half], 6), half))
    start, end = (sign * (radius + off) for radius in ends[sign])
    return [(view.at(near, start), view.at(far, end))]
