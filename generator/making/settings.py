"""Settings for cutting and proving the tapers of a tool: the user's method whole, the others short as the way out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from generator.description import Choices, Part, Surface, Tool
from generator.making.figures import Figures
from generator.making.settings_proof import check_cut_rows, prove_rows, stand_off_rows
from generator.making.settings_rows import GEOMETRY, Cone, Setting, cone_of
from generator.making.settings_set_over import back_rows, master_rows, set_over_rows, set_over_short
from generator.making.settings_shank import shank_rows, shank_short
from generator.making.settings_slide import (
    attachment_rows,
    attachment_short,
    point_rows,
    slide_rows,
    slide_short,
)
from generator.making.stock import StockRow
from generator.making.workshop import TaperMethod, Workshop
from generator.reckoning import taper as reckon
from generator.units import FileUnit

__all__ = ["Setting", "settings_for", "tapers"]

_Rows = Callable[[Cone, str], Iterator[Setting]]
_Short = Callable[[Cone], Iterator[tuple[str, str, str]]]

_FULL: dict[TaperMethod, tuple[str, _Rows]] = {
    "set-over": ("tailstock set over between centres", set_over_rows),
    "top slide": ("with the top slide", slide_rows),
    "attachment": ("with the taper attachment", attachment_rows),
    "bought shank": ("on a bought shank", shank_rows),
}
_SHORT: dict[TaperMethod, _Short] = {
    "set-over": set_over_short, "top slide": slide_short, "attachment": attachment_short, "bought shank": shank_short,
}


def tapers(tool: Tool) -> tuple[tuple[Part, Surface], ...]:
    """Every tool taper on a made part."""
    return tuple((part, surface) for part in tool.made for surface in part.surfaces if surface.role == "taper")


def settings_for(
    tool: Tool, choices: Choices, stock: Sequence[StockRow], workshop: Workshop, unit: FileUnit = "mm"
) -> tuple[Setting, ...]:
    """All settings of all tapers and points of the tool, in the order in which they are wanted at the lathe."""
    figures = Figures(unit)
    blanks = {row.part: row for row in stock}
    found = tapers(tool)
    cones = [
        cone_of(
            part, surface, choices, blanks.get(part.name), workshop, figures,
            f"{part.title}: " if len(found) > 1 else "",
        )
        for part, surface in found
    ]
    return (
        *(row for cone in cones for row in _setting_rows(cone)),
        *(replace(row, after=True) for cone in cones for row in _checking_rows(cone)),
        *(replace(row, after=True) for part in tool.made for row in point_rows(part, workshop, figures)),
    )


def _method(cone: Cone) -> TaperMethod:
    """The user's way; a socket is bored, which neither set-over nor a bought shank can do."""
    method = cone.workshop.taper_method
    return "top slide" if cone.inside and method in ("set-over", "bought shank") else method


def _setting_rows(cone: Cone) -> Iterator[Setting]:
    head, method = cone.head, _method(cone)
    words, rows = _FULL[method]
    yield from _known_rows(cone, f"{cone.part.title}: {cone.surface.name.replace('_', ' ')}")
    yield from rows(cone, f"{head}Set: {words}")
    if method == "set-over":
        yield from master_rows(cone, f"{head}Or set along a finished taper of another length")
        yield from back_rows(cone, f"{head}Afterwards: tailstock back to true")


def _checking_rows(cone: Cone) -> Iterator[Setting]:
    head, method = cone.head, _method(cone)
    if method != "bought shank":
        yield from check_cut_rows(cone, method, f"{head}Check cut and correction")
    if not cone.inside:
        yield from stand_off_rows(cone, method, f"{head}How far it stands out")
    yield from prove_rows(cone, method, f"{head}Prove the taper")
    for other, short in _SHORT.items():
        if other == method or (cone.inside and other in ("set-over", "bought shank")):
            continue
        if method == "bought shank" and other == "set-over":
            yield Setting(
                f"{head}The way out, if that will not do", "Set-over between centres", "not on a bought shank",
                "its taper is finished and it has no stub: a shank from bar, and its own order of work", GEOMETRY,
            )
        else:
            for label, value, note in short(cone):
                yield Setting(f"{head}The way out, if that will not do", label, value, note, GEOMETRY)


def _known_rows(cone: Cone, group: str) -> Iterator[Setting]:
    figures, size = cone.figures, cone.surface.diameter
    per_foot = f"{reckon.taper_per_foot_in(cone.ratio):.5f} in per ft on the diameter"
    half = f"half angle {figures.angle(cone.half_deg)}"
    yield Setting(group, "Taper", f"1 : {1 / cone.ratio:.3f}", f"{per_foot}; {half}", size.source)
    yield Setting(group, "Gauge diameter", figures.both(size.nominal_mm, 3), _gauge_place(cone), size.source)
    yield Setting(
        group, "Cone, small and large end", f"{figures.bare(cone.small_mm, 3)}, {figures.length(cone.large_mm, 3)}",
        f"{figures.length(cone.length_mm)} apart along the axis", GEOMETRY,
    )


def _gauge_place(cone: Cone) -> str:
    """Where the gauge plane lies, by the lengths of the drawing that begin or end on it."""
    at = cone.surface.at
    found = [
        f"{cone.figures.length(one.size.nominal_mm)} from {other.replace('_', ' ')}"
        for one in cone.part.lengths
        for here, other in ((one.face, one.from_face), (one.from_face, one.face))
        if here == at
    ]
    return ", ".join(found) if found else f"at {at.replace('_', ' ')}"
