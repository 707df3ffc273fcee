"""Drills, reamers, taps and boring bars of an operation: which, how deep, and the hole a bar needs first."""

from __future__ import annotations

import math

from generator import tables
from generator.making.figures import Figures
from generator.making.operations_target import Target
from generator.making.operations_tools import Chosen, thread_of
from generator.making.workshop import BoringBar, Drill, Workshop

__all__ = ["bar_for", "bored", "centred", "drilled", "reamed", "starter_for", "tapped", "usable_mm"]

ROOM_MM = 2.0
"""How much further than the hole is deep a bar must reach: chips, and the holder clear of the face. Shop choice."""

LEFT_MM = 0.5
"""Least that is left on the diameter for boring after a drill. Source: table boring_rules, common practice."""

PILOT_SHARE, PILOT_FROM_MM = 0.2, 10.0
"""Pilot for drills from this size, over their diameter: 0.15 to 0.25. Source: table drill_rules, common practice."""

POINT_SHARE = 0.3004
"""Length of a 118 degree point over the diameter. Source: geometry, 0.5 cot(59 degrees); table drill_rules."""


def usable_mm(drill: Drill) -> float:
    """How deep a drill goes from one side and still clears its chips.

    Source: flute less 1.5 diameters, table drill_rules, common practice.

    >>> usable_mm(Drill(10.0, 87.0, 133.0))
    72.0
    """
    return max(0.0, drill.flute_mm - 1.5 * drill.diameter_mm)


def drilled(target: Target, workshop: Workshop, figures: Figures) -> Chosen:
    """The drill nearest below the hole, its pilot, how deep to peck, and from which ends.

    Source: common practice, no source; table drill_rules.
    """
    wanted, deep = _hole(target)
    rests = ("drills",) if workshop.is_default("drills") else ()
    if wanted is None:
        return Chosen("drill", rests_on=rests)
    drill = max((one for one in workshop.drills if one.diameter_mm <= wanted + 0.05),
                key=lambda one: one.diameter_mm, default=None)
    name = f"drill {figures.length(wanted)}"
    near = drill is not None and drill.diameter_mm >= wanted - 0.05
    if drill is None or not near:
        got = "bore from the next hole" if drill is None else f"drill {figures.length(drill.diameter_mm)}, then bore"
        how = _pecks(wanted, deep, figures)
        return Chosen(name, how=how, missing=(f"{name}: {got}",), rests_on=rests)
    how, missing = _depth(drill, deep, target.through, figures)
    pilot = _pilot(wanted, workshop, figures)
    also = (pilot,) if pilot else ()
    first = (f"{pilot} first, then {name}",) if pilot else ()
    return Chosen(f"{name}, {drill.shank} shank", how=(*first, *how), also=also, missing=missing, rests_on=rests)


def _hole(target: Target) -> tuple[float | None, float]:
    """Diameter and depth of the hole; the depth 0 where nothing tells it."""
    main = target.main
    return target.step.diameter_mm if main is None else main.end_mm, target.length_mm or 0.0


def _depth(drill: Drill, deep: float, through: bool, figures: Figures) -> tuple[tuple[str, ...], tuple[str, ...]]:
    pecks = _pecks(drill.diameter_mm, deep, figures)
    usable = usable_mm(drill)
    reach = f"this drill clears its chips to {figures.length(usable, 0)}"
    if deep <= usable + 1e-9:
        return pecks, ()
    if through and deep <= 2 * usable:
        half = figures.length(deep / 2, 0)
        both = f"from both ends, {half} each: {reach}; the two holes meet within a tenth or two, ream or bore after"
        return (both, *pecks), ()
    lack = f"drill {figures.length(drill.diameter_mm)} that goes {figures.length(deep, 0)} deep"
    return (f"{reach}, the hole goes {figures.length(deep, 0)}", *pecks), (
        f"{lack}: braze or sleeve the drill on a longer shank, clear it every diameter; or buy the long series",
    )


def _pecks(diameter_mm: float, deep: float, figures: Figures) -> tuple[str, ...]:
    """How often to bring the drill out. Source: first at 3 diameters, then every one; common practice, no source."""
    if deep <= 3 * diameter_mm:
        return ()
    first, every = figures.length(3 * diameter_mm, 0), figures.length(diameter_mm, 0)
    return (f"out to clear at {first}, then every {every}; oil each time",)


def _pilot(diameter_mm: float, workshop: Workshop, figures: Figures) -> str:
    if diameter_mm < PILOT_FROM_MM:
        return ""
    wanted = PILOT_SHARE * diameter_mm
    best = min(workshop.drills, key=lambda one: abs(one.diameter_mm - wanted), default=None)
    return "" if best is None else f"pilot drill {figures.length(best.diameter_mm)}"


def bar_for(bore_mm: float, deep_mm: float, hole_mm: float, workshop: Workshop) -> BoringBar | None:
    """The stoutest boring bar that reaches the bottom and enters what hole there is or a drill can make; or None.

    Source: common practice, no source (table boring_rules).
    """
    fitting = [
        one for one in workshop.boring_bars
        if one.least_bore_mm <= bore_mm - LEFT_MM + 1e-9 and one.reach_mm >= deep_mm + ROOM_MM - 1e-9
    ]
    entering = [one for one in fitting if hole_mm >= one.least_bore_mm - 1e-9
                or starter_for(one, bore_mm, hole_mm, workshop) is not None]
    return max(entering, key=lambda one: one.bar_mm, default=None)


def starter_for(bar: BoringBar, bore_mm: float, hole_mm: float, workshop: Workshop) -> float | None:
    """The smallest drill that lets the bar in and leaves something to bore; None where the hole there is enough.

    Source: least bore and half a millimetre over it, table boring_rules, common practice.
    """
    if hole_mm >= bar.least_bore_mm - 1e-9:
        return None
    for extra in (0.5, 0.0):
        fitting = [
            one.diameter_mm for one in workshop.drills
            if bar.least_bore_mm + extra - 1e-9 <= one.diameter_mm <= bore_mm - LEFT_MM + 1e-9
        ]
        if fitting:
            return min(fitting)
    return None


def bored(target: Target, workshop: Workshop, figures: Figures) -> Chosen:
    """The boring bar of an operation and the hole it needs first; what to do where no bar reaches.

    Source: common practice, no source (table boring_rules); a hole goes as deep as from the face to its floor.
    """
    main = target.main
    rests = tuple(name for name in ("boring_bars", "drills") if workshop.is_default(name))
    if main is None:
        return Chosen("boring bar", "carbide", rests_on=rests[:1])
    deep = _from_open_end(target, main.near_mm, main.far_mm)
    smallest = min(one.end_mm for one in target.passes)
    bar = bar_for(smallest, deep, main.start_mm, workshop)
    if bar is None:
        lack = f"boring bar that enters {figures.length(smallest)} and reaches {figures.length(deep + ROOM_MM, 0)}"
        if target.step.allowance_mm <= 0 and smallest < 12:
            other = "drill 0.3 mm under and ream, or turn a bar from silver steel with an HSS bit"
        else:
            other = "turn a bar from the stoutest steel that enters, HSS bit, light cuts; or bore from both ends"
        return Chosen("boring bar", "HSS", 0.2, 30.0, missing=(f"{lack}: {other}",), rests_on=rests[:1])
    starter = starter_for(bar, smallest, main.start_mm, workshop)
    how: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    if starter is not None:
        also = (f"drill {figures.length(starter)}",)
        blind = f", {figures.length(POINT_SHARE * starter + 0.5, 1)} short of the floor for its point"
        how = (f"drill {figures.length(starter)} first for the bar{'' if target.through else blind}",)
    out = f"bar out of its holder {figures.length(deep + ROOM_MM, 0)}"
    return Chosen(
        f"boring bar {figures.length(bar.bar_mm, 1)}", "carbide", 0.4, 30.0, bar=bar, also=also, how=(*how, out),
        rests_on=rests if starter is not None else rests[:1], starter_mm=starter,
    )


def _from_open_end(target: Target, near: float, far: float) -> float:
    """From the end that the hole opens at to its bottom: by the face touched off on, else from the nearer end."""
    assert target.part is not None
    ends = min(target.z_of.values()), max(target.z_of.values())
    touched = target.z_of.get(target.setup.touches_off.partition("/")[2])
    from_low, from_high = far - ends[0], ends[1] - near
    cut = {name.rpartition("/")[2] for name in target.setup.finishes}
    for face, deep in ((ends[0], from_low), (ends[1], from_high)):
        faces = {name for name, z in target.z_of.items() if abs(z - face) < 1e-6}
        if (touched is not None and abs(touched - face) < 1e-6) or faces & cut:
            return deep
    return min(from_low, from_high)


def reamed(target: Target, workshop: Workshop, figures: Figures) -> Chosen:
    """The reamer of an operation and the drill before it; a boring bar where the shop has no reamer of the size.

    Source: reamer 0.2 to 0.4 mm over the drill, common practice, no source.
    """
    wanted, _ = _hole(target)
    rests = ("reamers",) if workshop.is_default("reamers") else ()
    if wanted is None:
        return Chosen("reamer", rests_on=rests)
    nominal = target.main.surface.diameter.nominal_mm if target.main is not None else wanted
    name = f"reamer {figures.length(nominal)}"
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
        how.insert(0, f"hole {figures.length(found.tap_drill_mm)}")
    missing = () if name in workshop.taps else (f"tap {name}: screw-cut it, or choose a thread the shop can cut",)
    return Chosen(f"taps {name}, taper and bottoming", how=tuple(how), missing=missing, rests_on=rests)


def centred(target: Target, workshop: Workshop, figures: Figures) -> Chosen:
    """The centre drill for the diameter at that end.

    Source: table centre_hole_choice, common practice; sizes ISO 6411.
    """
    if target.hole_mm > 0:
        wide = target.step.diameter_mm or target.hole_mm + 2.0
        return Chosen("countersink, 60 degrees", how=(f"mouth {figures.length(wide)}, smooth: the centre runs in it",))
    end = _end_diameter(target)
    if end is None:
        return Chosen("centre drill")
    try:
        hole = tables.centre_hole_for(min(200.0, max(6.0, end)))
    except tables.TableError:
        return Chosen("centre drill")
    size = f"A {hole.pilot_mm:g}/{hole.countersink_mm:g}"
    how = (f"centre hole {size} mm, mouth {figures.length(hole.countersink_mm)}; short out of the chuck, oil",)
    return Chosen(f"centre drill {size}", how=how, also=("drill chuck",))


def _end_diameter(target: Target) -> float | None:
    """Outside diameter at the face that is touched off on."""
    part, face = target.part, target.setup.touches_off.partition("/")[2]
    if part is None or face not in target.z_of:
        return None
    z = target.z_of[face]
    at = [
        one.diameter.nominal_mm for one in part.surfaces
        if one.side == "outside" and one.role != "chamfer" and min(abs(target.z_of[one.near] - z),
                                                                     abs(target.z_of[one.far] - z)) < 3.0
    ]
    return min(at) if at and math.isfinite(min(at)) else None
