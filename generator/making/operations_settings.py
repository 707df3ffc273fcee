"""Speed, feed, depth and passes of one operation, by kind of work; why there is no speed where there is none."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from generator.description import Choices, outline
from generator.making.figures import Figures
from generator.making.operations_access import carried_end, mouth_at
from generator.making.operations_passes import (
    FIT_MM,
    LEFT_MM,
    Passes,
    deepest_mm,
    grinding,
    passes_for,
)
from generator.making.operations_speed import (
    CARRIER_RPM,
    FREE_RPM,
    FREE_SHARE,
    RIM_M_S,
    Band,
    Speed,
    cutting_band,
    drill_feed_mm,
    finish_feed_mm,
    held_rpm,
    rough_feed_mm,
    speed_for,
)
from generator.making.operations_target import Target
from generator.making.operations_threads import (
    BY_HANDLE,
    by_hand_rpm,
    by_leadscrew,
    infeed_of,
    is_turned_by_hand,
    stays_in,
)
from generator.making.operations_tools import Chosen, is_die
from generator.making.tail_centre import revolves
from generator.making.tail_support import REVOLVING_CENTRE, standing_in
from generator.making.workshop import Workshop
from generator.reckoning.speed import DEAD_RUBBING_M_MIN, rpm_of_speed, speed_of_rpm_m_min

__all__ = ["NO_SPEED", "Settings", "settings_of"]

NO_SPEED = {
    "saw": "hacksaw or bandsaw, the lathe stands",
    "tap": "by hand, the spindle out of gear",
    "mill": "speed by the end mill's diameter: `tailstock reckon speed`",
    "file": "by hand in the vice",
    "harden": "no spindle", "temper": "no spindle", "case": "no spindle", "stop off": "no spindle",
    "press": "no spindle", "fit": "no spindle", "mark": "no spindle", "hold": "spindle stands",
    "lap": "by hand, or the slowest speed", "deburr": "by hand, the spindle stands",
    "indicate": "turned by hand, out of gear", "measure": "spindle stands",
    "": "the order of work does not say what kind of operation this is",
}
_CUTTING = frozenset({
    "face", "centre", "rough", "turn", "taper", "groove", "thread", "part", "knurl", "drill", "ream", "bore", "grind",
})
_ALONG = frozenset({"rough", "turn", "taper", "bore", "grind", "knurl"})
BORING_MM = 0.1
"""Most feed of a boring bar, roughing. Shop choice."""

MOST_GROUND_MM = 1.0
"""More than this on the diameter is no grinding allowance. Shop choice."""

GENERAL_RA_UM = 3.2
"""Finish where the drawing gives none. Common practice, no source."""

RUBBING = " rubbing in its hole"
WORK_M_MIN = Band(10.0, 20.0, "work under a wheel on the tool post: from memory")
BY_HAND_MM = {"centre": 0.05, "part": 0.05, "groove": 0.03}
"""Feed by hand in mm a turn. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What the machine is set to for one operation, and how it goes, line by line."""

    rpm: float | None = None
    speed_note: str = ""
    feed_mm: float | None = None
    passes: Passes | None = None
    finish_feed_mm: float | None = None
    how: tuple[str, ...] = ()
    rests_on: tuple[str, ...] = ()
    slow: bool = False


def settings_of(
    target: Target, chosen: Chosen, workshop: Workshop, choices: Choices | None, figures: Figures
) -> Settings:
    """Speed, feed and passes of an operation; where no speed applies, why not.

    Source: see the functions that it calls.
    """
    work = target.step.work
    if work not in _CUTTING:
        return Settings(speed_note=_no_speed(work, workshop))
    if target.setup.located == "own bearings":
        found = _passes(target, workshop)
        note = "turned by a cord, the headstock stands"
        return Settings(speed_note=note, passes=found, how=_in_words(found, target, None, figures))
    if target.setup.located == "bench":
        return Settings(speed_note="on the bench, the lathe stands")
    by_hand = is_turned_by_hand(target, workshop)
    speed = Speed(None, BY_HANDLE) if by_hand else _speed(target, chosen, workshop, choices)
    if work == "thread":
        return _screw_cut(target, chosen, speed, workshop, figures)
    feed, finish = _feeds(target, chosen, workshop)
    found = _passes(target, workshop)
    if found is not None and not found.rough and finish is not None:
        feed, finish = finish, None
    rests = tuple(name for name in ("centre_height_mm",) if found is not None and workshop.is_default(name))
    way = _TAPER_WAYS.get(workshop.taper_method, "") if work == "taper" else ""
    how = (*([way] if way else []), *_in_words(found, target, finish or feed, figures))
    chucks = ("chucks",) if "chuck" in speed.why and workshop.is_default("chucks") else ()
    return Settings(
        speed.rpm, speed.why, feed, found, finish, how, (*speed.rests_on, *rests, *chucks),
        _is_slow(target, chosen, speed),
    )


_TAPER_WAYS = {
    "top slide": "fed by the top slide alone, carriage locked, both hands, even; the tool dead on centre height",
    "set-over": "fed by the carriage, top slide parallel and locked; the tool dead on centre height",
    "attachment": "fed by the carriage, take up its play before each pass from the same side; the tool dead on centre",
}
"""How each way of cutting a taper is fed. Common practice, no source; height: chestofbooks.com, Compound slide."""


def _is_slow(target: Target, chosen: Chosen, speed: Speed) -> bool:
    """Whether the speed that is left is far too slow for carbide: below two fifths it rubs. Shop choice."""
    band, wide = cutting_band(target.material, target.step.work, "carbide"), target.diameter_mm
    if chosen.material != "carbide" or band is None or speed.rpm is None or not wide:
        return False
    return speed_of_rpm_m_min(speed.rpm, wide) < 0.4 * band.low_m_min


def _screw_cut(
    target: Target, chosen: Chosen, speed: Speed, workshop: Workshop, figures: Figures
) -> Settings:
    """Feed, passes and infeed of screw-cutting; a die wants no leadscrew."""
    found = infeed_of(target, workshop, figures)
    if found is None:
        return Settings(speed.rpm, speed.why, how=("the thread is in no table: infeed by its gauge",))
    rests = (*speed.rests_on, *(("cross_dial",) if workshop.is_default("cross_dial") else ()))
    lines = () if is_die(chosen) else by_leadscrew(target, workshop)
    rests += tuple(name for name in ("leadscrew", "leadscrew_pitch_mm") if lines and workshop.is_default(name))
    return Settings(speed.rpm, speed.why, found.pitch_mm, found.passes, None, (*found.how, *lines), rests)


def _no_speed(work: str, workshop: Workshop) -> str:
    if work == "mill" and workshop.milling == "slide":
        return "speed of the spindle by the end mill's diameter: `tailstock reckon speed`"
    return NO_SPEED.get(work, NO_SPEED[""])


def _speed(target: Target, chosen: Chosen, workshop: Workshop, choices: Choices | None) -> Speed:
    work, diameter = target.step.work, _diameter(target, chosen)
    if work == "grind":
        band: Band | None = WORK_M_MIN
    elif target.hard and chosen.material == "CBN":
        band = Band(100.0, 150.0, "hard turning, CBN, lower half of the table: from memory (shop handbooks)")
    else:
        band = cutting_band(target.material, work, "HSS" if chosen.material == "CBN" else chosen.material)
    if band is None or diameter is None or diameter <= 0:
        return Speed(None, "no diameter is told: reckon it with `tailstock reckon speed`")
    limits = _limits(target, workshop, choices)
    found = speed_for(band, diameter, workshop, limits)
    if RUBBING in found.why:
        others = {name: rpm for name, rpm in limits.items() if not name.endswith(RUBBING)}
        free = speed_for(band, diameter, workshop, others)
        rests = ("tail_centre",) if workshop.is_default("tail_centre") else ()
        # Where a revolving centre would turn no faster, or cannot stand, there is nothing to say of it.
        may = revolves(target.setup, replace(workshop, tail_centre="revolving")) and free.rpm != found.rpm
        why = f"{found.why}; {free.rpm:.0f} rpm with a revolving centre" if may else found.why
        found = replace(found, why=why, rests_on=(*found.rests_on, *rests))
    return found


def _diameter(target: Target, chosen: Chosen) -> float | None:
    """The diameter that the cutting speed is reckoned on."""
    if target.step.work == "centre" and target.hole_mm > 0:
        return target.step.diameter_mm or target.hole_mm + 2.0
    if target.step.work == "centre":
        sizes = [float(word) for word in chosen.name.replace("/", " ").split() if word.replace(".", "", 1).isdigit()]
        return max(sizes, default=5.0)
    return target.diameter_mm


def _stands_free(target: Target) -> bool:
    """Whether a bar stands further out of its chuck than twice its diameter and nothing carries its end by now.

    Source: common practice, no source.
    """
    setup, part = target.setup, target.part
    if setup.grips != "bar" or setup.out_mm is None or part is None or setup.support == "centre":
        return False
    before = setup.steps[: next((at for at, one in enumerate(setup.steps) if one is target.step), 0)]
    is_carried = any(one.work == "hold" and "steady" in one.text for one in before)
    widest = 2.0 * max(max(edge.r0, edge.r1) for edge in outline(part).outer)
    return not is_carried and setup.out_mm > FREE_SHARE * widest


def _limits(target: Target, workshop: Workshop, choices: Choices | None) -> dict[str, float]:
    """What else limits the speed: rim of the chuck, carrier, light hold, dead support.

    Source: constants of `operations_speed`, `reckoning.speed`.
    """
    found: dict[str, float] = {}
    setup = target.setup
    wanted = {"bar": "three-jaw", "soft jaws": "three-jaw", "three-jaw": "three-jaw", "four-jaw": "four-jaw"}
    kind = wanted.get(setup.located)
    chuck = next((one for one in workshop.chucks if one.kind == kind), None)
    if chuck is not None:
        found["rim of the chuck"] = rpm_of_speed(60 * RIM_M_S, chuck.most_mm)
    if setup.located == "centres":
        found["carrier to one side"] = CARRIER_RPM
    held = held_rpm(setup)
    if held is not None:
        found[held[0]] = held[1]
    if _stands_free(target):
        found["bar standing out without support"] = FREE_RPM
    brought_up = setup.support == "steady" and target.step.work == "rough"
    if setup.located == "centres" or setup.support == "centre" or brought_up:
        face = setup.touches_off.partition("/")[2] if brought_up else carried_end(target)
        hole = mouth_at(target, face, choices) if face else None
        name = standing_in(hole, replace(setup, support="centre") if brought_up else setup, workshop)
        if hole is not None and name != REVOLVING_CENTRE:
            rubbing = rpm_of_speed(DEAD_RUBBING_M_MIN["steel, greased"], hole[0])
            found[f"{name}{RUBBING}"] = max(rubbing, min(workshop.speeds_rpm))
    if target.step.work == "thread":
        closed = stays_in(target, workshop)
        found["hand at switch and cross slide" if closed else "hand at the half-nuts"] = by_hand_rpm(target)
    return found


def _feeds(target: Target, chosen: Chosen, workshop: Workshop) -> tuple[float | None, float | None]:
    """Feed of roughing and of the last passes."""
    work = target.step.work
    if work in BY_HAND_MM:
        return BY_HAND_MM[work], None
    if work in {"drill", "ream"}:
        diameter = target.diameter_mm or 10.0
        feed = drill_feed_mm(target.material, diameter)
        return feed * (1.0 if work == "drill" else 2.0), None
    if work == "grind":
        return 1.0, None
    main = target.main
    ra = [one.surface.finish_ra_um for one in target.passes if one.surface.finish_ra_um]
    inside = main is not None and main.inside
    finish = finish_feed_mm(min(ra, default=GENERAL_RA_UM), max(chosen.nose_mm, 0.05), chosen.trailing_deg, bore=inside)
    rough = rough_feed_mm(target.material, workshop)
    if inside:
        rough = min(rough, BORING_MM)
    return rough, min(finish, rough)


def _is_fine(target: Target) -> bool:
    """Whether two equal passes finish it: a fine tolerance, a seat, a pocket, a taper."""
    if target.step.work == "taper" or any(one.surface.role in {"seat", "pocket"} for one in target.passes):
        return True
    spans = [size.upper_mm - size.lower_mm for name, size in target.sizes if name.endswith("/diameter")]
    return any(0 < span <= FIT_MM for span in spans)


def _passes(target: Target, workshop: Workshop) -> Passes | None:
    """Passes from the diameter that stands to the one wanted, on the surface where most comes off."""
    work, main = target.step.work, target.main
    setup = target.setup
    inside = main is not None and main.inside
    slack = setup.located == "finished taper" or _stands_far_out(target)
    if work == "face":
        most = deepest_mm(workshop, target.material, inside=False, slack=slack)
        return passes_for(target.facing_mm or 0.5, most, 0.3, fine=False)
    if main is None or work not in _ALONG:
        return None
    if work == "grind" or target.hard:
        # Of a cone it is the thick end that tells what roughing left: the thin one vanishes in what stood before.
        left = main.start_mm - max(main.end_mm, main.other_mm)
        return grinding(left if 0 < left <= MOST_GROUND_MM else 0.3)
    if work == "knurl" or main.deep_mm <= 1e-9 or main.surface.role == "chamfer":
        return None
    most = deepest_mm(workshop, target.material, inside=inside, slack=slack)
    fine = _is_fine(target)
    key = "taper" if work == "taper" else ("inside" if inside else "outside") + (" fine" if fine else "")
    only = work == "rough" or target.step.allowance_mm > 0
    return passes_for(_deep(target), most, LEFT_MM[key], fine=fine, only_rough=only)


def _deep(target: Target) -> float:
    return target.main.deep_mm if target.main is not None else 0.0


def _stands_far_out(target: Target) -> bool:
    """More than three diameters out of the chuck without support. Common practice, no source (makers say 2.5)."""
    setup, wide = target.setup, target.diameter_mm
    return setup.out_mm is not None and not setup.support and wide is not None and setup.out_mm > 3 * wide


def _in_words(found: Passes | None, target: Target, feed_mm: float | None, figures: Figures) -> tuple[str, ...]:
    """The passes as one does them."""
    if found is None or not found.number:
        return ()
    if target.step.work == "grind" or target.hard:
        deep = figures.length(found.finish_mm, 3)
        return (f"{found.finish} passes of {deep}, then two without infeed, till no sparks",)
    lines = []
    if found.rough:
        lines.append(_roughing(found, target, figures))
    if found.finish == 2:
        left = figures.length(4 * found.finish_mm)
        lines.append(f"measure, {left} left on the diameter; 2 passes {figures.length(found.finish_mm)} deep, "
                     f"both alike, feed {figures.length(feed_mm or 0.05)}")
    elif found.finish:
        tail = f", feed {figures.length(feed_mm)}" if feed_mm else ""
        lines.append(f"last pass {figures.length(found.finish_mm)} deep{tail}")
    return tuple(lines)


def _roughing(found: Passes, target: Target, figures: Figures) -> str:
    """Roughing passes in words, for each surface where there are several."""
    deep = figures.length(found.rough_mm)
    if len(target.passes) < 2:
        return f"{found.rough} pass{'es' if found.rough > 1 else ''} {deep} deep"
    numbers = [
        (one.surface.name.replace("_", " "), math.ceil(one.deep_mm / found.rough_mm - 1e-9)) for one in target.passes
    ]
    return f"{deep} deep: " + ", ".join(f"{name} {one} pass{'es' if one > 1 else ''}" for name, one in numbers if one)
