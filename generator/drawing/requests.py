"""What a part sheet has to say: every size of the part once, as lengths, diameters and callouts. Pure, nothing drawn.

Addresses name the size as the chains and findings do: "body/pocket/depth", "body/barrel/diameter". Sizes flagged
`derived`, drill points and their tips are not dimensioned.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.description import Cross, Part, Size, Surface, diameter_at, outline
from generator.drawing.labels import DIAMETER, Label, angle_label, label_of
from generator.drawing.manner import METRIC, Manner
from generator.drawing.meridian import halves, is_edge_on
from generator.drawing.request_marks import (
    corner_callouts,
    finish_callouts,
    notes_of,
    relation_callouts,
    taper_callouts,
    zone_callouts,
)
from generator.drawing.wanted import CLOSE_MM, Callout, Diameter, LengthLine, Requests, Shape

__all__ = ["Callout", "Diameter", "LengthLine", "Requests", "requests_of"]

Point = tuple[float, float]

# Included angles and diameters of these are told by their callouts or left to the drill.
_NO_ANGLE = ("taper", "chamfer", "drill point")
_NO_DIAMETER = ("chamfer", "drill point")


def requests_of(part: Part, general_ra_um: float | None = None, manner: Manner = METRIC) -> Requests:
    """Every size, corner, thread, finish and relation of the part, each exactly once.

    A surface that asks for the sheet's general finish gets no mark of its own.
    """
    found = outline(part)
    shape = Shape(part, found, *halves(part, found), manner)
    diameters = [*_diameters(shape), *_end_flats(shape)]
    callouts = [
        *_place_sizes(shape),
        *taper_callouts(shape),
        *_chamfers(shape),
        *_angles(shape),
        *_cross_sizes(shape),
        *zone_callouts(shape, diameters),
        *corner_callouts(shape),
        *relation_callouts(shape),
        *finish_callouts(shape, general_ra_um),
    ]
    notes = (*notes_of(part, manner), *_hidden_chamfers(shape))
    return Requests(tuple(_lengths(shape)), tuple(diameters), tuple(callouts), notes, manner)


def _lengths(shape: Shape) -> Iterator[LengthLine]:
    part = shape.part
    inside = {f for s in part.surfaces if s.side.startswith("inside") for f in (s.near, s.far)}
    outside = {f for s in part.surfaces if s.side.startswith("outside") for f in (s.near, s.far)}
    inside |= {f for z in part.zones if part.surface(z.surface).side.startswith("inside") for f in (z.near, z.far)}
    ends = (shape.found.near_z, shape.found.far_z)
    has_overall = False
    for length in part.lengths:
        start, end = shape.z(length.from_face), shape.z(length.face)
        if length.size.derived or abs(end - start) < CLOSE_MM:
            continue
        is_inside = length.face in inside and length.face not in outside
        has_overall |= abs(min(start, end) - ends[0]) < CLOSE_MM and abs(max(start, end) - ends[1]) < CLOSE_MM
        radii = [shape.inner_radius(z) if is_inside else 0.0 for z in (start, end)]
        yield LengthLine(
            f"{part.name}/{length.name}", label_of(length.size, manner=shape.manner), length.size, start, end, radii[0],
            radii[1], is_inside,
        )
    if not has_overall:
        size = Size(ends[1] - ends[0], origin="sum of the lengths", general=True)
        label = label_of(size, bracketed=True, manner=shape.manner)
        yield LengthLine(f"{part.name}/overall", label, size, ends[0], ends[1], 0.0, 0.0, False, is_auxiliary=True)


def _diameters(shape: Shape) -> Iterator[Diameter]:
    part = shape.part
    for surface in part.surfaces:
        near, far = shape.z(surface.near), shape.z(surface.far)
        if surface.diameter.derived or surface.role in _NO_DIAMETER or far - near < CLOSE_MM:
            continue
        address = f"{part.name}/{surface.name}/diameter"
        if surface.at:
            if surface.role == "taper" or not _is_end(shape, surface):
                continue
            near = far = shape.z(surface.at)
        radius = surface.diameter.nominal_mm / 2
        yield Diameter(
            address,
            label_of(surface.diameter, DIAMETER, manner=shape.manner),
            surface.diameter,
            near,
            far,
            radius,
            surface.side.startswith("inside"),
        )


def _is_end(shape: Shape, surface: Surface) -> bool:
    """True where a cone's diameter is given at one of its own ends."""
    at = shape.z(surface.at)
    return min(abs(at - shape.z(surface.near)), abs(at - shape.z(surface.far))) < CLOSE_MM


def _place_sizes(shape: Shape) -> Iterator[Callout]:
    """Gauge diameters (the plane is drawn), and diameters that a face is introduced by."""
    part = shape.part
    for surface in part.surfaces:
        if not surface.at or surface.diameter.derived or surface.role in _NO_DIAMETER:
            continue
        if surface.role != "taper" and _is_end(shape, surface):
            continue
        yield _diameter_at(shape, f"{part.name}/{surface.name}/diameter", surface, surface.diameter, surface.at)
    for place in part.places:
        surface = part.surface(place.surface)
        if place.diameter.derived or surface.role in _NO_DIAMETER:
            continue
        yield _diameter_at(shape, f"{part.name}/{place.face}/diameter", surface, place.diameter, place.face)


def _diameter_at(shape: Shape, address: str, surface: Surface, size: Size, face: str) -> Callout:
    z, radius = shape.z(face), size.nominal_mm / 2
    return Callout(
        address,
        "size",
        label_of(size, DIAMETER, manner=shape.manner),
        ((z, radius),),
        ((z, -radius), (z, radius)),
        size,
        is_inside=surface.side.startswith("inside"),
    )


def _chamfers(shape: Shape) -> Iterator[Callout]:
    """"leg x 45 deg" for every chamfer; the leg follows from the chamfer's two diameters."""
    part = shape.part
    for surface in part.surfaces:
        if surface.role != "chamfer" or _is_cut_away(shape, surface):
            continue
        near, far = shape.z(surface.near), shape.z(surface.far)
        leg, label = _chamfer_leg(shape, surface)
        middle = (near + far) / 2
        radius = shape.radius_on(surface, middle)
        yield Callout(
            f"{part.name}/{surface.name}/leg",
            "size",
            label,
            ((middle, radius),),
            ((near, radius), (far, radius)),
            leg,
            horizontal=True,
            is_inside=surface.side.startswith("inside"),
        )


def _is_cut_away(shape: Shape, surface: Surface) -> bool:
    """True for a chamfer that flats leave only in front of and behind the view: there is nothing to point at."""
    if surface.side.startswith("inside"):
        return False
    middle = (shape.z(surface.near) + shape.z(surface.far)) / 2
    true = diameter_at(shape.part, surface, middle, shape.found.z_of) / 2
    return all(half.outer_radius(middle) < true - CLOSE_MM for half in (shape.upper, shape.lower))


def _hidden_chamfers(shape: Shape) -> Iterator[str]:
    """Notes on chamfers that the view cannot show."""
    for surface in shape.part.surfaces:
        if surface.role == "chamfer" and _is_cut_away(shape, surface):
            name = shape.manner.words.name(surface.name)
            name = name[0].upper() + name[1:]
            figure = _chamfer_leg(shape, surface)[1].plain
            yield shape.manner.words.beside_flats.format(name=name, figure=figure)


def _chamfer_leg(shape: Shape, surface: Surface) -> tuple[Size, Label]:
    """The leg under the general tolerance, and its label: its limits are those of the edge that it breaks."""
    length = abs(shape.z(surface.far) - shape.z(surface.near))
    leg = Size(round(length, 6), source=surface.diameter.source, origin=surface.diameter.origin, general=True)
    angle = angle_label(abs(surface.half_angle_deg), shape.manner).main
    return leg, label_of(leg, suffix=f" × {angle}", manner=shape.manner)


def _angles(shape: Shape) -> Iterator[Callout]:
    part = shape.part
    for surface in part.surfaces:
        if not surface.at or surface.role in _NO_ANGLE:
            continue
        near, far = shape.z(surface.near), shape.z(surface.far)
        if far - near < CLOSE_MM:
            continue
        size = Size(2 * abs(surface.half_angle_deg), origin=surface.diameter.origin, general=True)
        ends = [(z, diameter_at(part, surface, z, shape.found.z_of) / 2) for z in (near, far)]
        yield Callout(
            f"{part.name}/{surface.name}/angle",
            "angle",
            angle_label(size.nominal_mm, shape.manner),
            shape.middle_tips(near, far, surface),
            (ends[0], ends[1]),
            size,
            is_inside=surface.side.startswith("inside"),
        )


def _is_at_end(shape: Shape, cross: Cross) -> bool:
    ends = (shape.found.near_z, shape.found.far_z)
    return min(abs(shape.z(cross.near) - ends[0]), abs(shape.z(cross.far) - ends[1])) < CLOSE_MM


def _end_flats(shape: Shape) -> Iterator[Diameter]:
    """Widths across flats that can be dimensioned at an end of the part."""
    for cross in shape.part.cross:
        if cross.kind in ("flats", "tang") and is_edge_on(shape.part, cross) and _is_at_end(shape, cross):
            size = cross.sizes["across"]
            if not size.derived:
                address = f"{shape.part.name}/{cross.name}/across"
                near, far, radius = shape.z(cross.near), shape.z(cross.far), size.nominal_mm / 2
                label = label_of(size, shape.manner.words.across_flats, manner=shape.manner)
                yield Diameter(address, label, size, near, far, radius, False)


def _cross_sizes(shape: Shape) -> Iterator[Callout]:
    for cross in shape.part.cross:
        near, far = shape.z(cross.near), shape.z(cross.far)
        middle = (near + far) / 2
        for key, size in cross.sizes.items():
            address = f"{shape.part.name}/{cross.name}/{key}"
            if size.derived:
                continue
            if cross.kind == "hole":
                yield _hole(shape, cross, address, size, middle)
            elif cross.kind == "half":
                y = size.nominal_mm
                label = _half_label(shape, size)
                tips = tuple((near + share * (far - near), max(0.0, y)) for share in (0.5, 0.25, 0.75))
                yield Callout(address, "size", label, tips, ((middle, 0.0), (middle, y)), size)
            elif not (is_edge_on(shape.part, cross) and _is_at_end(shape, cross)):
                yield _across_flats(shape, cross, address, size)


def _half_label(shape: Shape, size: Size) -> Label:
    words = shape.manner.words
    return label_of(size, words.flat_at, suffix=words.from_axis, manner=shape.manner)


def _hole(shape: Shape, cross: Cross, address: str, size: Size, middle: float) -> Callout:
    """A hole across: pointed at on its rim where it faces the viewer, on its mouth where it is seen edge-on."""
    radius = size.nominal_mm / 2
    label = label_of(size, DIAMETER, suffix=shape.manner.words.through, manner=shape.manner)
    if is_edge_on(shape.part, cross):
        top = shape.upper.outer_radius(middle)
        inner = shape.inner_radius(middle)
        tips = tuple((middle + side * radius, inner + (top - inner) * 0.6) for side in (1, -1))
    else:
        tips = tuple((middle + side * radius * 0.7071, radius * 0.7071) for side in (1, -1))
    ends = ((middle - radius, 0.0), (middle + radius, 0.0))
    return Callout(address, "size", label, tips, ends, size, horizontal=True, is_inside=True)


def _across_flats(shape: Shape, cross: Cross, address: str, size: Size) -> Callout:
    near, far = shape.z(cross.near), shape.z(cross.far)
    half = size.nominal_mm / 2
    radius = shape.upper.outer_radius((near + far) / 2)
    chord = max(0.0, radius**2 - half**2) ** 0.5
    in_front = not is_edge_on(shape.part, cross)
    y = chord if in_front else half
    tips = tuple((near + share * (far - near), y) for share in (0.5, 0.25, 0.75))
    if in_front:
        # On the ends of a flat that faces the viewer, where its long edges lie too close under the outline.
        tips += ((far, 0.4 * chord), (near, 0.4 * chord))
    middle = (near + far) / 2
    ends = ((middle, -half), (middle, half))
    label = label_of(size, shape.manner.words.across_flats, manner=shape.manner)
    return Callout(address, "size", label, tips, ends, size, is_inside=in_front)
