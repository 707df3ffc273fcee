"""Walls as distances between outer and inner outline, and whether the bar on the shelf suffices."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from generator import tables
from generator.description import Choices, Edge, Part, Tool, Wall, face_positions, least_wall, outline
from generator.errors import GeometryError, TableError
from generator.findings import Change, Finding, Severity
from generator.making.setups import SetUp
from generator.making.stock import as_drawn, least_bar_mm, stock_for
from generator.units import FileUnit

__all__ = ["CLEAN_UP_MM", "bar_finding", "bar_length_finding", "wall_findings"]

CLEAN_UP_MM = 1.0
"""What must come off a bright bar at least, on the diameter, held in a three-jaw. Common practice, no source."""

_ADDRESS = re.compile(r"[a-z_]+\.[a-z0-9_]+")
"""An origin that names a parameter of the job, not a rule in words."""


def wall_findings(tool: Tool) -> Iterator[Finding]:
    """The thinnest wall of every made part, nominal and at worst limits; a part that cannot be formed is a stop."""
    for part in tool.made:
        try:
            wall = least_wall(part)
        except GeometryError as error:
            yield Finding(
                "form",
                "stop",
                part.name,
                "the part cannot be formed",
                unit="",
                source="geometry",
                advice=f"{error}. Change the sizes it names.",
                miss=1.0,
                cures=_parameters(part, [*(x.name for x in part.surfaces), *(x.name for x in part.lengths)]),
            )
            continue
        yield from _cut_findings(part)
        yield from _flats_findings(part)
        if wall is None:
            continue
        yield _wall_finding(part, wall)


def _wall_finding(part: Part, wall: Wall) -> Finding:
    """A stop where the wall is too thin as drawn, a warning where only the worst limits make it so."""
    at_worst = _worst_wall(part)
    least = part.least_wall_mm
    miss = max(0.0, least - at_worst.thickness_mm)
    miss = miss if miss > 1e-6 else 0.0
    severity: Severity = "note" if not miss else "stop" if wall.thickness_mm < least - 1e-6 else "warn"
    advice = "Wall left after boring."
    if miss:
        advice = "Thin walls spring open under the tool and close on the bearings."
        if severity == "warn":
            where = f"{_words(at_worst.outside)} and {_words(at_worst.inside)}"
            advice = f"Right as drawn, too thin between {where} at worst. {advice}"
    return Finding(
        "wall",
        severity,
        part.name,
        f"thinnest wall, between {_words(wall.outside)} and {_words(wall.inside)}",
        wall.thickness_mm,
        f"at least {least:.2f}",
        source="common practice, no source",
        advice=advice,
        miss=miss,
        cures=_parameters(part, (at_worst.outside, at_worst.inside, wall.outside, wall.inside)),
        worst_low=at_worst.thickness_mm,
        worst_high=wall.thickness_mm,
    )


def _words(name: str) -> str:
    return name.replace("_", " ")


def _worst_wall(part: Part) -> Wall:
    """The thinnest wall at worst limits, 0 where none is left."""
    try:
        found = least_wall(part, worst=True)
    except GeometryError:
        found = None
    return found if found is not None else Wall(0.0, "outside", "bore")


def _parameters(part: Part, names: Iterable[str]) -> tuple[str, ...]:
    """The parameters of the job behind surfaces and lengths of a part: what may be changed, in the order asked for."""
    sizes = {length.face: length.size for length in part.lengths}
    sizes |= {length.name: length.size for length in part.lengths}
    sizes |= {surface.name: surface.diameter for surface in part.surfaces}
    origins = (sizes[name].origin for name in names if name in sizes)
    return tuple(dict.fromkeys(origin for origin in origins if _ADDRESS.fullmatch(origin)))


def _cut_findings(part: Part) -> Iterator[Finding]:
    """Flats, tangs, half points and cross holes that miss the metal or take all of it: a stop each, else nothing."""
    z_of = face_positions(part)
    outer = [edge for edge in outline(part).outer if not edge.is_face]
    for cross in part.cross:
        (name, size), *_ = cross.sizes.items()
        from_axis = size.nominal_mm if name == "height" else size.nominal_mm / 2
        near, far = sorted((z_of[cross.near], z_of[cross.far]))
        if cross.kind == "hole":
            near, far = (near + far) / 2 - from_axis, (near + far) / 2 + from_axis
        radius = _largest_radius(outer, near, far)
        lowest = -radius if cross.kind == "half" else 0.0
        if lowest < from_axis < radius and far > near:
            continue
        yield Finding(
            "cut",
            "stop",
            f"{part.name}/{cross.name}",
            "the cut takes nothing off, or everything",
            from_axis,
            f"{lowest:.2f} to {radius:.2f}",
            source="geometry",
            advice="Measured from the axis. Change the size of the cut, or what it is cut into.",
            miss=max(from_axis - radius, lowest - from_axis, 0.0) + 0.1,
            cures=tuple(origin for origin in (size.origin,) if _ADDRESS.fullmatch(origin)),
        )


def _largest_radius(outer: Iterable[Edge], near: float, far: float) -> float:
    """Largest outside radius between two positions, 0 where there is no metal."""
    largest = 0.0
    for edge in outer:
        low, high = max(near, edge.z0), min(far, edge.z1)
        if high - low > 1e-6:
            slope = (edge.r1 - edge.r0) / (edge.z1 - edge.z0)
            largest = max(largest, edge.r0 + slope * (low - edge.z0), edge.r0 + slope * (high - edge.z0))
    return largest


def _flats_findings(part: Part) -> Iterator[Finding]:
    """Flats against the bores that lie under them: the wall that is left at the smallest across."""
    inner = [edge for edge in outline(part).inner if not edge.is_face]
    z_of = face_positions(part)
    for cross in part.cross:
        if cross.kind != "flats":
            continue
        near, far = sorted((z_of[cross.near], z_of[cross.far]))
        under = [edge for edge in inner if edge.z1 > near + 1e-6 and edge.z0 < far - 1e-6]
        if not under:
            continue
        bore = max(under, key=lambda edge: _bore_radius(part, edge))
        left = cross.sizes["across"].low / 2 - _bore_radius(part, bore)
        thin = left < part.least_wall_mm - 1e-6
        yield Finding(
            "flats_wall",
            "stop" if thin else "note",
            f"{part.name}/{cross.name}",
            f"wall between the flats and {_words(bore.name)}",
            left,
            f"at least {part.least_wall_mm:.1f}",
            source="common practice, no source",
            advice="Flats milled so deep let the bore spring." if thin else "Wall left under the flats.",
            miss=max(0.0, part.least_wall_mm - left) if thin else 0.0,
            cures=tuple(name for name in (cross.sizes["across"].origin,) if _ADDRESS.fullmatch(name)),
        )


def _bore_radius(part: Part, edge: Edge) -> float:
    """The largest radius of a bore; a metric thread in it counts to its major diameter, where it leaves the metal."""
    majors = [
        float(found[1]) / 2
        for zone in part.zones
        if zone.surface == edge.name and zone.form == "thread" and (found := re.match(r"M(\d+(?:\.\d+)?)", zone.text))
    ]
    return max(edge.r0, edge.r1, *majors)


def _next_bar(least_mm: float, choices: Choices) -> tuple[Change, ...]:
    """The next stocked bar, as a change; none where the list ends below it."""
    unit: FileUnit = "in" if choices.names.get("units") == "in" else "mm"
    try:
        return (Change("bar.diameter", tables.next_bar(least_mm, unit)),)
    except TableError:
        return ()


def bar_finding(choices: Choices, tool: Tool) -> Iterator[Finding]:
    """Does the bar named in the job clean up to the largest made part?"""
    bar = choices.parameters.get("bar.diameter")
    if bar is None:
        return
    largest, widest = 0.0, tool.made[0]
    for part in tool.made:
        found = 2 * max(max(edge.r0, edge.r1) for edge in outline(part).outer)
        if found > largest:
            largest, widest = found, part
    size_mm, name, least = float(bar.value), widest.name, least_bar_mm(widest)
    left, drawn = size_mm - largest, as_drawn(widest, size_mm)
    title, advice = f"bar of {size_mm:g} mm cleans up to the {name}", "Enough to clean up."
    short = left < CLEAN_UP_MM - 1e-9 and drawn is None
    severity: Severity = "note"
    if drawn is not None:
        title = f"bar of {size_mm:g} mm is the {drawn.name.replace('_', ' ')} of the {name} itself"
        advice = "It stays as drawn: its size is a general one and nothing runs true to it."
    elif short:
        severity, advice = "stop", "The bar is too thin: take a thicker bar or a slimmer body."
    elif size_mm < least - 1e-9:
        severity = "warn"
        advice = f"Thin for it: set it true in a four-jaw before it is centred, or take a bar of {least:.4g} mm."
    yield Finding(
        "bar",
        severity,
        name,
        title,
        left,
        "" if drawn is not None else f"at least {least - largest if severity == 'warn' else CLEAN_UP_MM:.1f}",
        source="common practice, no source",
        advice=advice,
        miss=max(0.0, CLEAN_UP_MM - left) if short else 0.0,
        changes=_next_bar(least, choices) if severity != "note" else (),
    )


def bar_length_finding(choices: Choices, tool: Tool, order: Sequence[SetUp]) -> Iterator[Finding]:
    """Is the bar named in the job long enough for its part, with what is held, faced and sawn?"""
    length = choices.parameters.get("bar.length")
    if length is None:
        return
    row = next((row for row in stock_for(tool, order, choices) if row.is_own), None)
    if row is None:
        return
    left = float(length.value) - row.cut_mm
    short = left < -1e-9
    terms = " + ".join(f"{words} {mm:.1f}" for words, mm in row.why)
    spare = sum(mm for words, mm in row.why if "another try" in words)
    once = "Enough for one try at the taper, too short for another. " if short and left + spare >= -1e-9 else ""
    yield Finding(
        "bar_length",
        "stop" if short else "note",
        row.part,
        f"bar of {float(length.value):g} mm length against the blank of the {row.part}",
        float(length.value),
        f"at least {row.cut_mm:g}",
        source="allowances: common practice, no source",
        advice=f"{once}The blank: {terms}.",
        miss=max(0.0, -left) if short else 0.0,
        changes=(Change("bar.length", row.cut_mm),) if short else (),
    )
