"""The figure to reach and where to stop for one operation."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.description import Part, Size
from generator.making.cuts import limits_text
from generator.making.figures import Figures
from generator.making.operations_dials import dial_move, in_words, infeed_text, length_text, quill_text
from generator.making.operations_target import Target
from generator.making.workshop import Workshop
from generator.reckoning.taper import taper_of_half_angle
from generator.units import INCH_MM

__all__ = ["figure_to", "limits_in", "stop_of", "stop_rests_on"]

_FROM_TAILSTOCK = frozenset({"drill", "centre", "ream", "tap"})
_SIGNS = {"across": "across flats ", "diameter": "dia ", "height": "above the axis "}


def limits_in(size: Size, figures: Figures, sign: str = "") -> str:
    """A size as a turner reads it at the machine, in the unit of the job; inch limits are rounded inwards.

    >>> limits_in(Size(17.0, 0.012, 0.001), Figures("in"))
    '0.6694 to 0.6697 in'
    """
    if figures.unit == "mm" or size.general or size.fitted or size.upper_mm == size.lower_mm:
        return figures.prose(limits_text(size, sign))
    per = float(INCH_MM) / 1e4
    low = math.ceil((size.nominal_mm + size.lower_mm) / per - 1e-6) / 1e4
    high = math.floor((size.nominal_mm + size.upper_mm) / per + 1e-6) / 1e4
    return f"{sign}{low:.4f} to {high:.4f} in" if high >= low else figures.prose(limits_text(size, sign))


def figure_to(target: Target, figures: Figures) -> str:
    """The sizes to reach, one a line, diameters first; for roughing what each surface is left at."""
    lines = [_labelled(target, name, size, figures) for name, size in target.sizes]
    if target.zone is not None:
        lines.insert(0, target.zone.text)
    if target.step.allowance_mm > 0 or target.step.work == "rough":
        left = [one for one in target.passes if one.left_mm > 0]
        lines += [
            f"{_plain(one.surface.name)} dia {figures.length(one.end_mm if not one.surface.at else one.other_mm, 1)}"
            for one in left
        ]
    lines = [line for line in lines if line]
    return "\n".join(dict.fromkeys(lines)) or figures.prose(target.step.size)


def _labelled(target: Target, name: str, size: Size, figures: Figures) -> str:
    part = target.part
    if part is None:
        return ""
    if any(one.name == name for one in part.lengths):
        return limits_in(size, figures, f"{_plain(name)} ")
    key = name.rpartition("/")[2]
    sign = _SIGNS.get(key, "dia ") if key != "height" else ""
    text = limits_in(size, figures, sign)
    return f"{text} above the axis" if key == "height" else text


def _plain(name: str) -> str:
    return name.replace("/", " ").replace("_", " ")


def stop_of(target: Target, workshop: Workshop, figures: Figures) -> str:
    """Where to stop: the infeed, then the length, in the divisions of this machine; "" where nothing is told."""
    return "; ".join(_stops(target, workshop, figures))


def stop_rests_on(target: Target, workshop: Workshop) -> tuple[str, ...]:
    """Fields of the shop that nobody gave and that the stops rest on."""
    if target.step.work in _FROM_TAILSTOCK:
        wanted: tuple[str, ...] = ("quill_dial",)
    else:
        wanted = ("cross_dial", "carriage_dial", "top_dial")
    return tuple(name for name in wanted if workshop.is_default(name))


def _stops(target: Target, workshop: Workshop, figures: Figures) -> Iterator[str]:
    work, main = target.step.work, target.main
    touched = _plain(target.setup.touches_off.partition("/")[2]) or "face"
    if target.setup.located in {"bench", "own bearings"}:
        return
    if work in _FROM_TAILSTOCK:
        if work != "centre":
            deep = _depth(target)
            if target.through or deep is None:
                yield "through: until the whole diameter is out at the far end" if target.through else "at the mark"
            else:
                yield quill_text(deep, touched, workshop, figures)
        return
    if work == "taper":
        yield from _taper_stop(target, workshop, figures)
        return
    turned = work in {"turn", "bore", "rough", "groove"}
    if turned and main is not None and main.surface.role == "chamfer":
        leg = min(main.length_mm, abs(main.end_mm - main.other_mm) / 2)
        yield f"from the touch {in_words(dial_move(leg, workshop.cross_dial))} of the cross slide"
        return
    if turned and main is not None and not main.surface.at and main.start_mm > 0 and main.deep_mm > 1e-9:
        yield infeed_text(main.start_mm, main.end_mm, workshop, figures)
    if work == "rough" and len(target.passes) > 1 and target.length is None:
        return
    if turned or work == "thread" or (work in {"face", "part"} and target.length is not None):
        found = _along(target)
        if found is not None and found[0] > 0.005:
            yield length_text(found[0], found[1], workshop, figures, swung=_swung(target, workshop))


def _swung(target: Target, workshop: Workshop) -> bool:
    """Whether the top slide stands at the taper's angle in this set-up."""
    return workshop.taper_method == "top slide" and any(step.work == "taper" for step in target.setup.steps)


def _depth(target: Target) -> float | None:
    if target.length is not None:
        return target.length.size.middle
    return target.length_mm


def _along(target: Target) -> tuple[float, str] | None:
    """How far from which face the tool stops: the drawing's own length where its start can be touched here."""
    part = target.part
    if part is None:
        return None
    touched = target.setup.touches_off.partition("/")[2]
    length = target.length
    if length is not None and target.face == length.from_face:
        return length.size.middle, _plain(length.face)
    if length is not None and (length.from_face == touched or length.from_face in _cut_here(target, part)):
        return length.size.middle, _plain(length.from_face)
    z_of = target.z_of
    if length is None:
        ends = (min(z_of.values()), max(z_of.values()))
        cut = _cut_here(target, part)
        touched = next((face for face in z_of if face in cut and z_of[face] in ends), touched)
    if touched not in z_of:
        return None
    start = z_of[touched]
    if length is not None:
        return abs(z_of[length.face] - start), _plain(touched)
    if target.zone is not None:
        reached = [z_of[target.zone.near], z_of[target.zone.far]]
    elif target.main is not None:
        reached = [target.main.near_mm, target.main.far_mm]
    else:
        return None
    return max(abs(z - start) for z in reached), _plain(touched)


def _cut_here(target: Target, part: Part) -> set[str]:
    """Faces that this set-up cuts, so that the tool can be touched off on them."""
    names = {name.partition("/")[2] for name in target.setup.finishes if name.startswith(f"{part.name}/")}
    cut = [part.by_name[name] for name in names if name in part.by_name]
    return names | {face for one in cut for face in (one.near, one.far)}


def _taper_stop(target: Target, workshop: Workshop, figures: Figures) -> Iterator[str]:
    """How far the cross slide goes in for what the taper still stands out of its socket."""
    main = target.main
    if main is None or not main.surface.half_angle_deg:
        return
    ratio = taper_of_half_angle(abs(main.surface.half_angle_deg))
    travel = float(INCH_MM) / 16 if figures.unit == "in" else 1.0
    exact = figures.length(travel * ratio, 3)
    step = figures.length(2 * workshop.cross_dial.division_mm / ratio, 2)
    yield (
        f"by the stand-off in the socket: every {figures.length(travel, 3)} that it stands out too far is {exact} on "
        f"the diameter; one division of the cross slide takes it {step} further in"
    )
