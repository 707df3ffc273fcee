"""Nothing left out: every face reached by sizes, every surface with its diameter, no size that ends nowhere."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator, Sequence

from generator.proof.graph import Groups, Reading, Size
from generator.proof.rules import Fault, fault
from generator.proof.shape import CLOSE_MM, Cone, LongView, Surface, same
from generator.proof.sheet import Point, Sheet

__all__ = ["completeness_faults"]

_ANGLE_NEAR_DEG = 0.02
_RATIO_NEAR = 2e-4
# The gap of a thread's two lines is widened to 0.7 mm on paper where the true one is less.
_THREAD_GAP_MM = 0.75
_DRILL_DEG = (58.0, 60.1)
_CHAMFER = re.compile(r"[x×]\s*(\d+(?:[.,]\d+)?)\s*°")
_NOTED = re.compile(r"(\d+(?:[.,]\d+)?)\s*[x×]\s*(\d+(?:[.,]\d+)?)\s*°")
_RATIO = re.compile(r"\b1\s?:\s?(\d+(?:[.,]\d+)?)")


def completeness_faults(reading: Reading) -> Iterator[Fault]:
    """Faces that no size reaches, surfaces without a diameter, sizes that end nowhere; on part sheets only."""
    view = reading.view
    if view is None:
        return
    known = [cone for cone in view.cones if _angle_known(reading, cone)]
    yield from _unreached(reading, view, known)
    yield from _unsized(reading, view)
    yield from _overdefined(reading, view, known)
    yield from _in_the_air(reading, view)


def _is_drilled(cone: Cone) -> bool:
    """True for what the point of a drill leaves: its place follows from the hole's depth."""
    return min(cone.r0, cone.r1) < CLOSE_MM and _DRILL_DEG[0] < cone.half_angle_deg < _DRILL_DEG[1]


def _is_noted(sheet: Sheet, cone: Cone) -> bool:
    """True for what flats leave of a chamfer that a note names with leg and angle."""
    named = (_NOTED.search(words.text) for words in sheet.paper_words)
    return any(
        m is not None
        and abs(float(m[2].replace(",", ".")) - cone.half_angle_deg) < _ANGLE_NEAR_DEG
        and cone.x1 - cone.x0 <= float(m[1].replace(",", ".")) + CLOSE_MM
        for m in named
    )


def _angle_known(reading: Reading, cone: Cone) -> bool:
    """True where an angle, a chamfer's words or a taper tell the slope, or it is what a drill leaves."""
    half = cone.half_angle_deg
    if _is_drilled(cone) or _is_noted(reading.sheet, cone):
        return True
    if any(d.measured and abs(d.measured / 2 - half) < _ANGLE_NEAR_DEG for d in reading.angles):
        return True
    chamfers = (_CHAMFER.search(size.dimension.label.text) for size in reading.sizes)
    if any(m and abs(float(m[1].replace(",", ".")) - half) < _ANGLE_NEAR_DEG for m in chamfers):
        return True
    taper = 2 * math.tan(math.radians(half))
    ratios = [float(m[1].replace(",", ".")) for w in reading.sheet.model_words for m in _RATIO.finditer(w.text)]
    return any(x > 0 and abs(1 / x - taper) < _RATIO_NEAR * taper + 1e-6 for x in ratios)


def _unreached(reading: Reading, view: LongView, known: Sequence[Cone]) -> Iterator[Fault]:
    groups = Groups()
    for size in reading.binding:
        if size.is_along:
            groups.join(*size.along)
    for cone in known:
        spots = _known_spots(reading, view, cone)
        for spot in spots[1:]:
            groups.join(spots[0], spot)
    for middle in view.hole_middles:
        # A hole's own diameter is measured along the axis: its edges and its middle are one place.
        for size in reading.binding:
            if size.is_along and size.is_round and same(sum(size.along) / 2, middle):
                groups.join(middle, size.along[0])
    if not view.faces:
        return
    main = Counter(groups.top(x) for x, _ in view.faces).most_common(1)[0][0]
    for x, handle in view.faces:
        if groups.top(x) != main:
            at = reading.sheet.on_paper((x, view.axis_y))
            yield fault("face-without-size", f"no path of sizes reaches the face at x = {x:.6g}", at, handle, "OUTLINE")
    for middle in view.hole_middles:
        if groups.top(middle) != main:
            at = reading.sheet.on_paper((middle, view.axis_y))
            yield fault("face-without-size", f"no path of sizes reaches the hole at x = {middle:.6g}", at)


def _known_spots(reading: Reading, view: LongView, cone: Cone) -> list[float]:
    """Places along a cone of known slope where its diameter is known: from one follow the others."""
    if _is_drilled(cone) or _is_noted(reading.sheet, cone):
        return [cone.x0, cone.x1]
    spots = [x for x, r in ((cone.x0, cone.r0), (cone.x1, cone.r1)) if r < CLOSE_MM or reading.knows(r)]
    for size in reading.binding:
        x, radius = size.ends[0][0], view.radius(size.ends[0][1])
        here = cone.radius(x) if size.is_across else None
        if here is not None and same(here, radius):
            spots.append(x)
    return spots


def _unsized(reading: Reading, view: LongView) -> Iterator[Fault]:
    """Level edges whose radius no diameter gives: one fault for each radius and place."""
    chords = _chords(reading)
    told: set[tuple[float, float]] = set()
    for surface in view.surfaces:
        key = (round(surface.radius, 3), round(surface.x0, 3))
        if surface.radius < CLOSE_MM or key in told or reading.knows(surface.radius):
            continue
        if any(same(surface.radius, chord) for chord in chords) or _is_thread(reading, view, surface):
            continue
        told.add(key)
        at = reading.sheet.on_paper(((surface.x0 + surface.x1) / 2, view.axis_y + surface.radius))
        what = f"no diameter is given for the surface of {2 * surface.radius:.6g} at x = {surface.x0:.6g}"
        yield fault("surface-without-size", what, at, surface.handle, "OUTLINE")


def _chords(reading: Reading) -> list[float]:
    """Half heights of flats that face the viewer: they follow from the width across and a diameter."""
    sizes = [s for s in reading.binding if s.dimension.label.is_across_flats or (s.home == "end" and not s.is_round)]
    halves = [(s.dimension.measured or 0.0) * share for s in sizes for share in (0.5, 1.0)]
    # A half shows its flat at a height from the axis: any size across that begins on the axis.
    halves += [max(map(abs, s.along)) for s in reading.binding if s.is_across and min(map(abs, s.along)) < CLOSE_MM]
    return [math.sqrt(r * r - h * h) for h in halves for r in reading.radii if r > h]


def _is_thread(reading: Reading, view: LongView, surface: Surface) -> bool:
    """True where a narrow line runs beside the edge, as a thread has, and a thread is named that fits between."""
    near = _THREAD_GAP_MM / reading.sheet.factor
    beside = [
        line.radius
        for line in view.narrow
        if line.x0 <= surface.x1 - CLOSE_MM
        and line.x1 >= surface.x0 + CLOSE_MM
        and abs(line.radius - surface.radius) < max(near, 0.3 * surface.radius)
    ]
    named = [(s.dimension.measured or 0.0) / 2 for s in reading.binding if s.dimension.label.is_thread]
    return any(abs(radius - r) < near for r in named for radius in (*beside, surface.radius) if beside)


def _overdefined(reading: Reading, view: LongView, known: Sequence[Cone]) -> Iterator[Fault]:
    """Cones with both diameters, the angle and the length, none of them in brackets."""
    lengths = Groups()
    for size in reading.binding:
        if size.is_length:
            lengths.join(*size.along)
    for cone in dict.fromkeys(known):
        ends = ((cone.x0, cone.r0), (cone.x1, cone.r1))
        both = all(any(_is_at(size, view, x, r) for size in reading.binding) for x, r in ends)
        if both and min(cone.r0, cone.r1) > CLOSE_MM and lengths.top(cone.x0) == lengths.top(cone.x1):
            middle = ((cone.x0 + cone.x1) / 2, view.axis_y + (cone.r0 + cone.r1) / 2)
            what = f"the cone from {2 * cone.r0:.6g} to {2 * cone.r1:.6g} has two diameters, an angle and a length"
            yield fault("cone-overdefined", what, reading.sheet.on_paper(middle), layer="OUTLINE")


def _is_at(size: Size, view: LongView, x: float, radius: float) -> bool:
    """True where a diameter is given at this very place."""
    return size.is_across and same(size.ends[0][0], x) and same(view.radius(size.ends[0][1]), radius)


def _in_the_air(reading: Reading, view: LongView) -> Iterator[Fault]:
    """Lengths that end at no face, diameters that end on no edge; end views are left out."""
    places = [x for x, _ in view.faces]
    places += [x for s in (*view.surfaces, *view.narrow) for x in (s.x0, s.x1)]
    places += view.planes
    for size in reading.sizes:
        where = ""
        if size.is_along:
            loose = [x for x in size.along if not any(same(x, p) for p in places) and not _is_rim(reading.sheet, x)]
            where = f"x = {loose[0]:.6g}" if loose else ""
        elif size.is_across and not size.dimension.label.is_across_flats and not _is_beside_narrow(reading, view, size):
            ends: list[Point] = [p for p in size.ends if not (view.radius(p[1]) < CLOSE_MM or view.on_edge(p))]
            where = f"{ends[0][0]:.6g}, {ends[0][1]:.6g}" if ends else ""
        if where:
            what = f"{size.dimension.label.text!r} ends at {where}, where there is no edge"
            yield size.told(reading.sheet, "size-in-the-air", what)


def _is_beside_narrow(reading: Reading, view: LongView, size: Size) -> bool:
    """True for a thread's size by its narrow line, which is drawn further off where the true gap would not print."""
    if not size.dimension.label.is_thread:
        return False
    x, radius, near = size.ends[0][0], view.radius(size.ends[0][1]), _THREAD_GAP_MM / reading.sheet.factor
    return any(s.x0 - CLOSE_MM <= x <= s.x1 + CLOSE_MM and abs(s.radius - radius) < near for s in view.narrow)


def _is_rim(sheet: Sheet, x: float) -> bool:
    """True where a drawn circle reaches just to x."""
    return any(same(abs(x - e.dxf.center.x), e.dxf.radius) for e in sheet.model if e.dxftype() in ("CIRCLE", "ARC"))
