"""Drills, reamers, taps and centre drills of an operation: which, from which ends, how deep at a time."""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.fittings.centre_hole import end_hole
from generator.making.figures import Figures
from generator.making.operations_target import Target
from generator.making.operations_tools import Chosen, thread_of, tool_size
from generator.making.setups import FLAT
from generator.making.workshop import Drill, Workshop

__all__ = ["centred", "drilled", "reamed", "tapped"]

PILOT_SHARE, PILOT_FROM_MM, LEAST_PILOT_MM = 0.2, 10.0, 3.0
"""Pilot over its drill (0.15 to 0.25), from which size, at least. Source: table drill_rules, common practice."""

_SAME_MM = 0.05
"""How near a drill is to a size to be called by it. Shop choice."""


def drilled(target: Target, workshop: Workshop, figures: Figures) -> Chosen:
    """The drill nearest below the hole, its pilot, how deep to peck, and from which ends.

    Source: common practice, no source; table drill_rules.
    """
    wanted, deep = _hole(target)
    rests = ("drills",) if workshop.is_default("drills") else ()
    if wanted is None:
        return Chosen("drill", rests_on=rests)
    if FLAT in target.step.text:
        return _flat(wanted, figures, rests)
    drill, near = _drill_for(target, wanted, workshop)
    if drill is None or not near:
        name = f"drill {tool_size(wanted, figures)}"
        under = "" if drill is None else f"drill {tool_size(drill.diameter_mm, figures)}, then bore"
        got = under or "bore from the next hole"
        return Chosen(name, how=_pecks(wanted, deep, figures), missing=(f"{name}: {got}",), rests_on=rests)
    name = f"drill {tool_size(drill.diameter_mm, figures)}"
    how, missing = _depth(drill, deep, target.through, figures)
    pilot = _pilot(drill.diameter_mm, _there_mm(target), workshop)
    also = ["centre drill"] if target.step.text.startswith("centre, ") else []
    if pilot is not None:
        least = deep if pilot.usable_mm >= deep > 0 else pilot.usable_mm
        tip = f"pilot drill {tool_size(pilot.diameter_mm, figures)}"
        also.append(tip)
        how = (f"{tip} first, {figures.length(least, 0)} deep, then {name}", *how)
    how = (*how, *_as_drilled(target, drill, wanted, figures))
    missing = (*missing, *_chuck_in_the_way(target, drill, deep, figures))
    return Chosen(f"{name}, {drill.shank} shank", how=how, also=tuple(also), missing=missing, rests_on=rests)


def _flat(wanted_mm: float, figures: Figures, rests: tuple[str, ...]) -> Chosen:
    """A drill without a point, which nobody buys: a worn one is ground. Source: common practice, no source."""
    name = f"drill {tool_size(wanted_mm, figures)} {FLAT}"
    how = ("turn slowly, feed by hand, draw it out often: without a point it wanders where it finds no hole",)
    return Chosen(name, how=how, missing=(f"{name}: grind a worn one, both lips square and alike",), rests_on=rests)


def _chuck_in_the_way(target: Target, drill: Drill, deep: float, figures: Figures) -> Iterator[str]:
    """A drill that stands too little out of its chuck for a hole far behind the face.

    Source: common practice, no source.
    """
    face = target.z_of.get(target.setup.touches_off.partition("/")[2])
    if face is None or target.main is None or face not in (min(target.z_of.values()), max(target.z_of.values())):
        return
    deep += min(abs(target.main.near_mm - face), abs(target.main.far_mm - face))
    if deep > drill.out_mm + 1e-6 and not target.through:
        name = f"drill {tool_size(drill.diameter_mm, figures)} that stands {figures.length(deep, 0)} out of its chuck"
        yield f"{name}: braze or sleeve it on a longer shank thinner than itself; or buy the long series"


def _as_drilled(target: Target, drill: Drill, wanted_mm: float, figures: Figures) -> Iterator[str]:
    """That a hole a little off the drawing's figure stays as this drill leaves it, where its limits allow that."""
    if target.main is not None and abs(drill.diameter_mm - wanted_mm) > _SAME_MM:
        size = target.main.surface.diameter
        yield f"left as it is drilled: {figures.length(size.low)} to {figures.length(size.high)} will do"


def _drill_for(target: Target, wanted_mm: float, workshop: Workshop) -> tuple[Drill | None, bool]:
    """The drill of the drawer for a hole, and whether it makes the hole: within the drawing's limits, or the size.

    Else the nearest below, to be bored after.
    """
    size = target.main.surface.diameter if target.main is not None else None
    low, high = wanted_mm - _SAME_MM, wanted_mm + _SAME_MM
    if size is not None and size.general and not size.derived:
        low, high = min(low, size.low), max(high, size.high)
    within = [one for one in workshop.drills if low - 1e-9 <= one.diameter_mm <= high + 1e-9]
    if within:
        return min(within, key=lambda one: (abs(one.diameter_mm - wanted_mm), -one.usable_mm)), True
    below = (one for one in workshop.drills if one.diameter_mm <= wanted_mm)
    return max(below, key=lambda one: one.diameter_mm, default=None), False


def _there_mm(target: Target) -> float:
    """The hole that is there when this drill begins; 0 in the solid."""
    return max(target.hole_mm, 0.0 if target.main is None else target.main.start_mm)


def _hole(target: Target) -> tuple[float | None, float]:
    """Diameter and depth of the hole; the depth 0 where nothing tells it."""
    main = target.main
    return target.step.diameter_mm if main is None else main.end_mm, target.length_mm or 0.0


def _depth(drill: Drill, deep: float, through: bool, figures: Figures) -> tuple[tuple[str, ...], tuple[str, ...]]:
    pecks = _pecks(drill.diameter_mm, deep, figures)
    usable = drill.usable_mm
    reach = f"this drill clears its chips to {figures.length(usable, 0)}"
    if deep <= usable + 1e-9:
        return pecks, ()
    if through and deep <= 2 * usable:
        half = figures.length(deep / 2, 0)
        both = f"from both ends, {half} each: {reach}; the two holes meet within 0.2 mm, ream or bore after"
        return (both, *pecks), ()
    lack = f"drill {tool_size(drill.diameter_mm, figures)} that goes {figures.length(deep, 0)} deep"
    return (f"{reach}, the hole goes {figures.length(deep, 0)}", *pecks), (
        f"{lack}: braze or sleeve the drill on a longer shank, clear it every diameter; or buy the long series",
    )


def _pecks(diameter_mm: float, deep: float, figures: Figures) -> tuple[str, ...]:
    """How often to bring the drill out. Source: first at 3 diameters, then every one; common practice, no source."""
    if deep <= 3 * diameter_mm:
        return ()
    first, every = figures.length(3 * diameter_mm, 0), figures.length(diameter_mm, 0)
    return (f"out to clear at {first}, then every {every}; oil each time",)


def _pilot(diameter_mm: float, there_mm: float, workshop: Workshop) -> Drill | None:
    """The drill before a large one; None for a small one, and where a hole as large is there already."""
    wanted = max(LEAST_PILOT_MM, PILOT_SHARE * diameter_mm)
    best = min(workshop.drills, key=lambda one: abs(one.diameter_mm - wanted), default=None)
    none_wanted = diameter_mm < PILOT_FROM_MM or best is None or there_mm >= best.diameter_mm - _SAME_MM
    return None if none_wanted else best


def reamed(target: Target, workshop: Workshop, figures: Figures) -> Chosen:
    """The reamer of an operation and the drill before it; a boring bar where the shop has no reamer of the size.

    Source: reamer 0.2 to 0.4 mm over the drill, common practice, no source.
    """
    wanted, _ = _hole(target)
    rests = ("reamers",) if workshop.is_default("reamers") else ()
    if wanted is None:
        return Chosen("reamer", rests_on=rests)
    nominal = target.main.surface.diameter.nominal_mm if target.main is not None else wanted
    name = f"reamer {tool_size(nominal, figures)}"
    having = next((one for one in workshop.reamers if abs(one.diameter_mm - nominal) < 0.01), None)
    under = figures.length(nominal - 0.3)
    how = (f"hole {under} before it; slow, plenty of oil, never backwards",)
    if having is not None:
        return Chosen(f"{name} {having.tolerance_class}", how=how, rests_on=rests)
    return Chosen(name, how=how, missing=(f"{name}: bore to size, or make a D-bit of silver steel",), rests_on=rests)


def tapped(target: Target, workshop: Workshop, figures: Figures) -> Chosen:
    """The tap of an operation, the hole before it, and how it is started true.

    Source: tap drills of table threads; common practice, no source.
    """
    found, rests = thread_of(target), ("taps",) if workshop.is_default("taps") else ()
    name = target.zone.text.split("-")[0].strip() if target.zone is not None else ""
    if not name:
        return Chosen("tap", rests_on=rests)
    how = ["by hand, the chuck pulled round and gears out, the centre or a guide in the tailstock behind the tap"]
    if found is not None:
        how.insert(0, f"hole {tool_size(found.tap_drill_mm, figures)}")
    missing = () if name in workshop.taps else (f"tap {name}: screw-cut it, or choose a thread the shop can cut",)
    return Chosen(f"taps {name}, taper and bottoming", how=tuple(how), missing=missing, rests_on=rests)


def centred(target: Target, workshop: Workshop, figures: Figures) -> Chosen:
    """The centre drill for the diameter at that end.

    Source: table centre_hole_choice, common practice; sizes ISO 6411.
    """
    if target.hole_mm > 0:
        wide = target.step.diameter_mm or target.hole_mm + 2.0
        return Chosen("countersink, 60 degrees", how=(f"mouth {figures.length(wide)}, smooth: the centre runs in it",))
    told = re.search(r"pilot ([\d.]+) mm, mouth ([\d.]+)", target.step.size)
    if told is not None:
        size = f"A {told[1]}/{told[2]}"
        return Chosen(f"centre drill {size}", how=("short out of the chuck, oil",), also=("drill chuck",))
    face = target.setup.touches_off.partition("/")[2]
    hole = end_hole(target.part, face) if target.part is not None and face in target.z_of else None
    if hole is None:
        return Chosen("centre drill")
    size = f"A {hole.pilot_mm:g}/{hole.countersink_mm:g}"
    how = (f"centre hole {size}, mouth {figures.length(hole.countersink_mm)}; short out of the chuck, oil",)
    return Chosen(f"centre drill {size}", how=how, also=("drill chuck",))
