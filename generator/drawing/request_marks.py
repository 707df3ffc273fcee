"""What a part sheet says besides plain sizes: tapers, threads, corners, relations, finishes, notes. Pure data."""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.description import Part, Size
from generator.drawing.labels import (
    DIAMETER,
    Label,
    corner_label,
    finish_label,
    label_of,
    limit_text,
    taper_text,
    thread_label,
    words_label,
)
from generator.drawing.manner import METRIC, Manner
from generator.drawing.views import thread_diameter_mm
from generator.drawing.wanted import Callout, Diameter, Shape
from generator.fittings.centre_hole import tapped_mouth_mm

__all__ = [
    "corner_callouts", "finish_callouts", "notes_of", "relation_callouts", "taper_callouts", "told_name",
    "zone_callouts",
]


def taper_callouts(shape: Shape) -> Iterator[Callout]:
    """Symbol, ratio, half angle and name of every taper."""
    part = shape.part
    for surface in part.surfaces:
        if surface.role != "taper":
            continue
        near, far = shape.z(surface.near), shape.z(surface.far)
        name = surface.diameter.source
        yield Callout(
            f"{part.name}/{surface.name}/taper",
            "taper",
            _taper_label(taper_text(surface.half_angle_deg, name, shape.manner)),
            shape.middle_tips(near, far, surface),
            is_inside=surface.side.startswith("inside"),
            cells=("right" if surface.half_angle_deg < 0 else "left",),
        )


def _taper_label(words: str) -> Label:
    """The taper's words with what is bracketed, the half angle for the slide, under the line."""
    found = re.fullmatch(r"(.*?) \((.*?)\) ?(.*)", words)
    return Label(f"{found[1]} {found[3]}".rstrip(), below=found[2]) if found else words_label(words)


def zone_callouts(shape: Shape, diameters: list[Diameter]) -> Iterator[Callout]:
    """Threads, knurls and treated stretches; a metric thread is a size of its own and stands with the diameters."""
    part = shape.part
    for zone in part.zones:
        surface = part.surface(zone.surface)
        near, far = shape.z(zone.near), shape.z(zone.far)
        inside = surface.side.startswith("inside")
        nominal = thread_diameter_mm(zone) if zone.form == "thread" else None
        address = f"{part.name}/{zone.name}"
        own = f"{part.name}/{surface.name}/diameter"
        label = thread_label(zone.text, shape.manner)
        if nominal is not None:
            size = Size(nominal, origin=surface.diameter.origin, source=surface.diameter.source)
            diameters[:] = [d for d in diameters if d.address != own]
            diameters.append(Diameter(address, label, size, near, far, nominal / 2, inside))
            continue
        yield Callout(address, "words", label, shape.middle_tips(near, far, surface), is_inside=inside)


def corner_callouts(shape: Shape) -> Iterator[Callout]:
    """The largest radius of every limited inner corner."""
    part = shape.part
    for corner in part.corners:
        surface = part.surface(corner.surface)
        z = shape.z(corner.face)
        radius = surface.diameter.nominal_mm / 2
        yield Callout(
            f"{part.name}/{corner.surface}/{corner.face}/corner",
            "words",
            corner_label(corner.text, shape.manner),
            ((z, radius),),
            is_inside=surface.side.startswith("inside"),
        )


def _letters(part: Part) -> dict[str, str]:
    """The letter of every datum, in order of use."""
    letters: dict[str, str] = {}
    for relation in part.relations:
        letters.setdefault(relation.datum, "ABCDEFGH"[len(letters) % 8])
    return letters


def relation_callouts(shape: Shape) -> Iterator[Callout]:
    """A tolerance frame for every relation of a surface, and a letter on every datum; faces are told in the notes."""
    part = shape.part
    letters = _letters(part)
    for relation in part.relations:
        if relation.surface not in part.by_name or relation.datum not in part.by_name:
            continue
        surface = part.surface(relation.surface)
        near, far = shape.z(surface.near), shape.z(surface.far)
        value = limit_text(relation.limit_mm, shape.manner)
        yield Callout(
            f"{part.name}/{relation.surface}/{relation.kind}",
            "frame",
            words_label(value),
            shape.middle_tips(near, far, surface),
            is_inside=surface.side.startswith("inside"),
            cells=(relation.kind, value, letters[relation.datum]),
        )
    for name, letter in letters.items():
        if name not in part.by_name:
            continue
        surface = part.surface(name)
        near, far = shape.z(surface.near), shape.z(surface.far)
        yield Callout(
            f"{part.name}/{name}/datum",
            "datum",
            words_label(letter),
            shape.middle_tips(near, far, surface),
            is_inside=surface.side.startswith("inside"),
        )


def finish_callouts(shape: Shape, general_ra_um: float | None = None) -> Iterator[Callout]:
    """The roughness of every surface that asks for another than the general one."""
    part = shape.part
    for surface in part.surfaces:
        if surface.finish_ra_um is None or surface.finish_ra_um == general_ra_um:
            continue
        near, far = shape.z(surface.near), shape.z(surface.far)
        yield Callout(
            f"{part.name}/{surface.name}/finish",
            "finish",
            finish_label(surface.finish_ra_um, shape.manner),
            shape.middle_tips(near, far, surface),
            is_inside=surface.side.startswith("inside"),
        )


def told_name(part: Part, name: str, manner: Manner = METRIC) -> str:
    """The name of a surface for a note; one that is only counted ("pocket 2") with its diameter, to be found by."""
    surface, told = part.by_name.get(name), manner.words.name(name)
    if surface is None or surface.at or not told[-1:].isdigit():
        return told
    size = Size(surface.diameter.nominal_mm, general=True)
    return f"{told} {label_of(size, DIAMETER, manner=manner).main}"


def notes_of(part: Part, manner: Manner = METRIC) -> Iterator[str]:
    """Notes of the part, and how the shop gets each relation."""
    words = manner.words
    for note in part.notes:
        yield manner.prose(words.phrase(note))
    mouth = tapped_mouth_mm(part) if any(one.role == "seat" for one in part.surfaces) else None
    if mouth is not None:
        yield manner.prose(words.phrase(f"The thread's mouth countersunk 60° to dia {mouth:g} mm for the centre."))
    letters = _letters(part)
    groups: dict[tuple[str, str, str], list[str]] = {}
    for relation in part.relations:
        if relation.surface not in part.by_name or relation.datum not in part.by_name:
            is_surface = relation.datum in part.by_name
            against = letters[relation.datum] if is_surface else words.face.format(name=words.name(relation.datum))
            said = words.relation_of_face.format(
                kind=words.kind(relation.kind), value=limit_text(relation.limit_mm, manner), datum=against,
                surface=told_name(part, relation.surface, manner),
            )
            yield said[0].upper() + said[1:]
        if relation.how:
            key = (relation.kind, relation.datum, relation.how)
            groups.setdefault(key, []).append(told_name(part, relation.surface, manner))
    for (kind, datum, how), surfaces in groups.items():
        said = words.relation.format(
            kind=words.kind(kind), surface=", ".join(surfaces), datum=told_name(part, datum, manner),
            how=manner.prose(words.phrase(how)),
        )  # fmt: skip
        yield said[0].upper() + said[1:]
