"""Instruments: what this shop has that resolves a tolerance, by the tenth rule, else how to get there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from generator.description import Size
from generator.making.figures import Figures
from generator.making.flat_height import less_words
from generator.making.heat_here import heat_of
from generator.making.operations_target import Target
from generator.making.setups import Step
from generator.making.workshop import Workshop
from generator.reckoning.amounts import need
from generator.units import INCH_MM

__all__ = ["Gauge", "gauge_for", "is_enough"]

CALIPERS_MM = 0.02
"""What calipers read with trust; every shop is taken to have them. Common practice, no source."""

SHARE = 0.25
"""Resolution over tolerance that is still good; a tenth is better. Common practice, no source."""

_OTHERS = {
    "taper": "marking blue and the quill's own socket (or a sleeve), then the stand-off by depth gauge",
    "point": "protractor or centre gauge at 60 degrees, then the indicator",
    "thread": "its mate, else a thread gauge",
    "indicate": "dial test indicator",
    "centre": "calipers across the mouth",
    "deburr": "thumbnail",
    "fit": "the mating piece, clean and dry",
    "saw": "rule", "part": "calipers",
}


_HEATED = frozenset({"harden", "temper", "case"})
_ASKED = re.compile(r"([\d.]+) mm or less")


@dataclass(frozen=True, slots=True)
class Gauge:
    """What to measure an operation with, what is missing with a substitute, and fields of the shop that nobody gave."""

    name: str = ""
    missing: tuple[str, ...] = ()
    rests_on: tuple[str, ...] = ()


def is_enough(resolution_mm: float, tolerance_mm: float) -> bool:
    """Whether an instrument resolves a tolerance: a quarter of it or finer.

    Source: rule of a tenth, a quarter still good: common practice, no source.

    >>> is_enough(0.01, 0.04), is_enough(0.01, 0.011)
    (True, False)
    """
    need("resolution", resolution_mm, "mm", above=0)
    return resolution_mm <= SHARE * tolerance_mm + 1e-9


def gauge_for(target: Target, workshop: Workshop, figures: Figures) -> Gauge:
    """The instruments of an operation, one for each kind of size it brings to its limits.

    Source: common practice, no source.
    """
    work, main = target.step.work, target.main
    flat = less_words(target.part, target.cross, target.step.allowance_mm) if target.part and target.cross else None
    if flat is not None:
        tool = "depth rod of the calipers" if target.step.allowance_mm > 0 else "depth micrometer"
        head, less_mm = flat
        return Gauge(f"{tool} from the top of the {head}: half its measured diameter less {figures.length(less_mm)}")
    if work == "rough" or target.step.allowance_mm > 0:
        return Gauge("calipers")
    if target.step.tool.startswith("micrometer"):
        return Gauge(target.step.tool, rests_on=_finest(workshop))
    if work in _HEATED:
        return Gauge(_of_heat(target.step))
    role = main.surface.role if main is not None else ""
    for key in (role, work):
        if key in _OTHERS and key != "thread":
            reads = key in {"point", "indicate"} and workshop.is_default("indicator_mm")
            lacks = tuple(_finer_indicator(target, workshop, figures)) if work == "indicate" else ()
            return Gauge(_OTHERS[key], lacks, ("indicator_mm",) if reads else ())
    if target.zone is not None:
        return _thread(target)
    found = list(_of_sizes(target, workshop, figures)) or ([Gauge("calipers")] if target.step.cuts else [])
    names = tuple(dict.fromkeys(one.name for one in found if one.name))
    missing = tuple(dict.fromkeys(text for one in found for text in one.missing))
    rests = tuple(dict.fromkeys(text for one in found for text in one.rests_on))
    return Gauge("; ".join(names), missing, rests)


def _of_heat(step: Step) -> str:
    """What tells a heat: below red only a thermometer, or a colour that the step itself names.

    Source: common practice, no source; a magnet lets go at about 770 °C, from memory.
    """
    if heat_of(step) is None:
        return ""
    if step.work == "temper":
        seen = "straw" in step.size
        return "thermometer in the oven" + (", or the colour on a bright face" if seen else "")
    if step.work == "harden":
        return "thermometer of the furnace, else the colour in the shade and a magnet that no longer pulls"
    return "thermometer of the furnace"


def _finer_indicator(target: Target, workshop: Workshop, figures: Figures) -> Iterator[str]:
    """An indicator that reads what is asked for, where the shop's does not."""
    asked = _ASKED.match(target.step.size)
    if asked is not None and workshop.indicator_mm > float(asked[1]) + 1e-9:
        reads = _reading(workshop.indicator_mm, figures)
        yield (
            f"indicator finer than {reads}: borrow one that reads 0.002 mm; or a long arm on the one that is there, a "
            "lever of five to one"
        )


def _thread(target: Target) -> Gauge:
    """The mate as a gauge, where it is made by then."""
    later = "mate is cut to it" in target.step.text
    return Gauge("calipers over the core, thread gauge for the form" if later else _OTHERS["thread"])


def _of_sizes(target: Target, workshop: Workshop, figures: Figures) -> Iterator[Gauge]:
    inside = target.main is not None and target.main.inside
    text = target.step.text
    lies_ready = "bearing" if "bearing" in text else "part" if "which is made" in text else ""
    for name, size in target.sizes:
        if size.basic:
            continue
        if name.endswith("/diameter"):
            yield _inside(size, lies_ready, workshop, figures) if inside else _outside(size, workshop, figures)
        elif inside:
            yield _depth(size, workshop)
        else:
            yield _length(size, workshop, figures)


def _tolerance(size: Size) -> float:
    return size.upper_mm - size.lower_mm


def _finest(workshop: Workshop) -> tuple[str, ...]:
    return ("micrometer_mm",) if workshop.is_default("micrometer_mm") else ()


def _outside(size: Size, workshop: Workshop, figures: Figures) -> Gauge:
    tolerance, reads = _tolerance(size), workshop.micrometer_mm
    if is_enough(CALIPERS_MM, tolerance):
        return Gauge("calipers")
    if is_enough(reads, tolerance):
        return Gauge(f"micrometer reading {_reading(reads, figures)}", rests_on=_finest(workshop))
    if reads <= tolerance + 1e-9:
        return Gauge(
            f"micrometer reading {_reading(reads, figures)}, set at the size on slips; estimate between the lines",
            (_finer(workshop, figures),), _finest(workshop),
        )
    return Gauge("the bearing in hand as a gauge", (_finer(workshop, figures),), _finest(workshop))


def _reading(resolution_mm: float, figures: Figures) -> str:
    return f"{resolution_mm / float(INCH_MM):.1g} in" if figures.unit == "in" else f"{resolution_mm:g} mm"


def _finer(workshop: Workshop, figures: Figures) -> str:
    return (
        f"instrument finer than {_reading(workshop.micrometer_mm, figures)}: set the micrometer at the size on slips "
        "or on the piece that goes with it, and read the difference; or borrow one"
    )


def _inside(size: Size, lies_ready: str, workshop: Workshop, figures: Figures) -> Gauge:
    tolerance = _tolerance(size)
    if is_enough(CALIPERS_MM, tolerance):
        return Gauge("calipers, inside jaws")
    reads = _reading(workshop.micrometer_mm, figures)
    name = f"telescopic or bore gauge over the micrometer reading {reads}"
    if is_enough(workshop.micrometer_mm, tolerance):
        return Gauge(name, rests_on=_finest(workshop))
    # What its step names lies there when the bore is cut; any other mate is made after this bore, and to it.
    last = f"last by the {lies_ready} that goes in" if lies_ready else "written down: its mate is made to it"
    return Gauge(f"{name}; {last}", (_finer(workshop, figures),), _finest(workshop))


def _depth(size: Size, workshop: Workshop) -> Gauge:
    tolerance = _tolerance(size)
    if size.fitted:
        rests = ("indicator_mm",) if workshop.is_default("indicator_mm") else ()
        return Gauge("depth micrometer, or indicator on the carriage, against what was measured for it", rests_on=rests)
    if is_enough(CALIPERS_MM, tolerance):
        return Gauge("depth rod of the calipers")
    rests = ("indicator_mm",) if workshop.is_default("indicator_mm") else ()
    return Gauge("depth micrometer, or indicator on the carriage", rests_on=rests)


def _length(size: Size, workshop: Workshop, figures: Figures) -> Gauge:
    if size.fitted:
        return Gauge("micrometer, against what was measured", rests_on=_finest(workshop))
    if is_enough(CALIPERS_MM, _tolerance(size)):
        return Gauge("calipers")
    return Gauge(f"micrometer reading {_reading(workshop.micrometer_mm, figures)}", rests_on=_finest(workshop))
