"""Which tool of the shop cuts an operation, and what stands in for one that the shop does not have."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from generator.errors import TableError
from generator.making.figures import Figures
from generator.making.operations_past import over_bar_mm
from generator.making.operations_target import Target
from generator.making.workshop import BoringBar, Cutter, Workshop
from generator.tables import Thread, thread
from generator.units import INCH_MM

__all__ = [
    "Chosen", "chosen_for", "groove_tool", "inside_groove_tool", "is_die", "thread_of", "tool_size", "turning_tool",
]

_CUTTERS_OF = {
    "turn": ("turn", "face"), "rough": ("turn", "face"), "taper": ("turn",), "face": ("face", "turn"),
    "part": ("part",), "groove": ("groove",), "thread": ("thread",), "knurl": ("knurl",),
}
_SUBSTITUTES = {
    "turn": "grind one from an HSS blank, 8 degrees clearance", "face": "use the knife tool, swung a few degrees",
    "part": "hacksaw beside the line with the lathe stopped, then face", "groove": "grind a parting blade to the width",
    "thread": "grind an HSS blank to 60 degrees by the thread gauge", "knurl": "leave plain; no fit rests on a knurl",
}
_INSIDE = "grind a boring tool's tip to the width, clearance behind its heel"


@dataclass(frozen=True, slots=True)
class Chosen:
    """The tool of an operation: its name, its edge, what else is wanted, and what the shop lacks with a substitute."""

    name: str = ""
    material: str = "HSS"
    nose_mm: float = 0.4
    trailing_deg: float = 32.0
    cutter: Cutter | None = None
    bar: BoringBar | None = None
    also: tuple[str, ...] = ()
    how: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    rests_on: tuple[str, ...] = ()
    starter_mm: float | None = None
    starter_deep_mm: float = 0.0


def tool_size(size_mm: float, figures: Figures) -> str:
    """The size of a drill, reamer or bar as it is stamped on it; in an inch job 64ths, else metric with its inches.

    >>> tool_size(10.5, Figures("in")), tool_size(12.7, Figures("in")), tool_size(10.5, Figures("mm"))
    ('10.5 metric (0.413 in)', '1/2 in', '10.5 mm')
    """
    if figures.unit == "mm":
        return f"{size_mm:.3g} mm" if size_mm < 100 else f"{size_mm:g} mm"
    parts = size_mm / float(INCH_MM) * 64
    # A 25 mm tool is within a hundredth of 63/64 in, and nobody stamps it so.
    if abs(parts - round(parts)) < 0.005:
        return f"{Fraction(round(parts), 64)} in"
    return f"{size_mm:.3g} metric ({figures.length(size_mm)})"


def chosen_for(target: Target, workshop: Workshop) -> Chosen:
    """The tool of an operation that cuts outside, or cuts a thread; nothing for other work.

    Source: shop choice among what the shop file lists; common practice where a note says so.
    """
    work = target.step.work
    if work == "thread" and target.zone is not None:
        return _thread_tool(target, workshop)
    if work in {"groove", "part"}:
        return groove_tool(target, workshop)
    if work in _CUTTERS_OF:
        return turning_tool(target, workshop)
    return Chosen()


def turning_tool(target: Target, workshop: Workshop, *, keen: bool = False) -> Chosen:
    """A tool that turns or faces: HSS for a taper and for fits, carbide for the rest; for hard work CBN or a wheel.

    `keen` prefers HSS, for speeds at which carbide rubs.

    Source: a keen HSS edge for fine cuts on a taper, carbide rubs: Harold Hall, homews.co.uk.
    """
    work = target.step.work
    rests = tuple(name for name in ("cutters",) if workshop.is_default(name))
    if target.hard:
        lack = "insert of CBN for hard steel: grind with a wheel on the tool post, glasses on and slides covered"
        return Chosen("CBN insert or wheel on the tool post", "CBN", 0.4, 32.0, missing=(lack,), rests_on=rests)
    kinds = _CUTTERS_OF[work]
    having = [one for one in workshop.cutters if one.work in kinds]
    if not having:
        name = {"knurl": "knurling tool"}.get(work, f"tool that will {kinds[0]}")
        return Chosen(name, missing=(f"{name}: {_SUBSTITUTES[kinds[0]]}",), rests_on=rests)
    fine = keen or work == "taper" or any(one.surface.role == "seat" for one in target.passes)

    def rank(one: Cutter) -> tuple[bool, int, bool]:
        other = (one.material == "HSS") != fine
        return keen and other, kinds.index(one.work), other

    best = min(having, key=rank)
    corner = None if work == "rough" else _corner_mm(target)
    notes: tuple[str, ...] = ()
    if corner is not None and best.nose_mm > corner + 1e-9:
        notes = (f"nose of {best.nose_mm:g} mm is larger than the corner allows: stone it to {corner:g} mm or less",)
    edge = min(best.nose_mm, corner) if corner is not None else best.nose_mm
    return Chosen(
        best.name, best.material, max(edge, 0.05), best.trailing_deg, best, how=tuple(notes), rests_on=rests
    )


def _corner_mm(target: Target) -> float | None:
    """The largest corner radius that the drawing allows on what is cut."""
    if target.part is None:
        return None
    names = {one.surface.name for one in target.passes}
    found = [corner.text for corner in target.part.corners if corner.surface in names]
    radii = [float(word) for text in found for word in text.split() if word.replace(".", "", 1).isdigit()]
    return min(radii, default=None)


def inside_groove_tool(width_mm: float, deep_mm: float) -> Chosen:
    """A grooving tool for a bore, which is ground: a bar with its tip behind it reaches no corner of a groove.

    Source: substitute common practice, no source.
    """
    name = f"inside grooving tool {width_mm:.2g} mm wide or less, {deep_mm:.2g} mm deep"
    return Chosen(name, missing=(f"{name}: {_INSIDE}",))


def groove_tool(target: Target, workshop: Workshop) -> Chosen:
    """A grooving or parting tool that is narrow enough for the groove and reaches deep enough.

    Source: geometry; substitutes common practice, no source.
    """
    work = target.step.work
    rests = tuple(name for name in ("cutters",) if workshop.is_default(name))
    main = target.main
    inside = main is not None and main.inside
    width = main.length_mm if main is not None and main.length_mm > 0 else target.step.length_mm or 1000.0
    width += over_bar_mm(target)
    deep = main.deep_mm if main is not None else (target.across_mm - target.hole_mm) / 2
    having = [one for one in workshop.cutters if one.work in {work, "groove", "part"} and not inside]
    fitting = [one for one in having if one.width_mm <= width + 1e-9 and one.reach_mm >= deep - 1e-9]
    if fitting:
        best = max(fitting, key=lambda one: (one.work == work, one.width_mm))
        how = () if work == "part" or best.width_mm > width - 0.05 else (
            f"plunge {best.width_mm:g} mm wide beside itself until the groove is {width:.2f} mm wide",
        )
        nose = max(best.nose_mm, 0.05)
        return Chosen(best.name, best.material, nose, best.trailing_deg, best, how=how, rests_on=rests)
    place = "inside grooving tool" if inside else f"{'parting' if work == 'part' else 'grooving'} tool"
    name = f"{place} {min(width, 3.0):.2g} mm wide or less, {deep:.2g} mm deep"
    other = _INSIDE if inside else _SUBSTITUTES[work]
    if work == "groove" and main is not None and main.surface.role == "relief" and width > 2.0:
        relief = next((one for one in workshop.cutters if one.work == "turn"), None)
        if relief is not None and not inside:
            return Chosen(relief.name, relief.material, relief.nose_mm, relief.trailing_deg, relief, rests_on=rests)
    return Chosen(name, missing=(f"{name}: {other}",), rests_on=rests)


def thread_of(target: Target) -> Thread | None:
    """The thread that the operation cuts, or None where it is in no table."""
    if target.zone is None:
        return None
    try:
        return thread(target.zone.text.split("-")[0].strip())
    except TableError:
        return None


def is_die(chosen: Chosen) -> bool:
    """Whether a thread is cut by a die, which wants no leadscrew.

    Source: the tool's own name.
    """
    return chosen.name.startswith("die ")


def _thread_tool(target: Target, workshop: Workshop) -> Chosen:
    """A die for an outside thread that the shop has one for, else a single point; inside, a threading bar.

    Source: common practice, no source.
    """
    name = target.zone.text.split("-")[0].strip() if target.zone is not None else ""
    inside = target.main is not None and target.main.inside
    rests = tuple(one for one in ("cutters",) if workshop.is_default(one))
    if not inside:
        best = next((one for one in workshop.cutters if one.work == "thread"), None)
        if best is not None:
            return Chosen(best.name, best.material, cutter=best, also=("thread gauge, 60 degrees",), rests_on=rests)
        if name in workshop.dies:
            how = ("with the die in the tailstock, the chuck turned by hand",)
            rests = ("dies",) if workshop.is_default("dies") else ()
            return Chosen(f"die {name} in its holder", how=how, rests_on=rests)
        lack = f"threading tool, 60 degrees: {_SUBSTITUTES['thread']}; or a die {name}"
        return Chosen("threading tool, 60 degrees", missing=(lack,), rests_on=rests)
    tool = "inside threading tool, 60 degrees"
    bought = f"; or buy a nut {name}" if target.part is not None and target.part.name == "nut" else ""
    lack = f"{tool}: grind an HSS bit to 60 degrees and clamp it in a boring bar{bought}"
    return Chosen(tool, also=("thread gauge, 60 degrees",), missing=(lack,))
