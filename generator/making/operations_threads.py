"""Screw-cutting: how fast a hand can follow, and the infeed pass by pass in divisions of the cross slide."""

from __future__ import annotations

import math
from dataclasses import dataclass

from generator.making.figures import Figures
from generator.making.leadscrew import match_of
from generator.making.operations_dials import dial_move, in_words
from generator.making.operations_passes import THREAD_SHARE, Passes, thread_infeed
from generator.making.operations_speed import REACTION_S
from generator.making.operations_target import Target
from generator.making.operations_tools import Chosen, is_die, thread_of
from generator.making.thread_blank import under_mm
from generator.making.workshop import Workshop

__all__ = [
    "BY_HANDLE", "Infeed", "by_hand_rpm", "by_leadscrew", "infeed_of", "is_turned_by_hand",
    "stays_in", "wheels_of",
]


BY_HANDLE = "turned by a handle in the spindle, motor off and locked out"
"""How a spindle turns for a thread that ends at a floor or a shoulder. Common practice, no source."""

SHORT_MM = 3.0
"""Run-out up to which nobody cuts a thread under power towards a shoulder. Common practice, no source; shop choice."""


@dataclass(frozen=True, slots=True)
class Infeed:
    """How a thread is cut: pitch in mm, passes, and the words for the dial."""

    pitch_mm: float
    passes: Passes
    how: tuple[str, ...]


def by_hand_rpm(target: Target) -> float:
    """Turns a minute at which a hand still opens the half-nuts within the relief, two pitches without one.

    Source: reaction time from memory, see `REACTION_S`.
    """
    found = thread_of(target)
    pitch = found.pitch_mm if found is not None else 1.5
    if target.zone is None or target.part is None:
        return 2.0 / REACTION_S * 60
    widths = (abs(z_far - z_near) for z_near, z_far in _reliefs(target))
    return max(min(widths, default=0.0), 2 * pitch) / pitch / REACTION_S * 60


def _reliefs(target: Target) -> list[tuple[float, float]]:
    """From where to where the reliefs go that border on the thread."""
    zone, part, z_of = target.zone, target.part, target.z_of
    if zone is None or part is None:
        return []
    edges = (z_of[zone.near], z_of[zone.far])
    spans = [(z_of[one.near], z_of[one.far]) for one in part.surfaces if one.role == "relief"]
    return [span for span in spans if any(abs(a - z) < 1e-6 for a in span for z in edges)]


def _ends_short(target: Target) -> bool:
    """Whether the thread runs into a short run-out with a shoulder behind it, of the part or of the bar.

    Source: common practice, no source.
    """
    part, main, found = target.part, target.main, thread_of(target)
    if part is None or main is None or found is None:
        return False
    if main.inside and target.setup.located == "bar":
        # Behind a ring on its bar stands the solid bar: what was opened there is two pitches wide, 2 mm at least.
        return max(2 * found.pitch_mm, 2.0) <= SHORT_MM
    for span in _reliefs(target):
        behind = max(span, key=lambda z: abs(z - (main.near_mm + main.far_mm) / 2))
        shoulder = any(
            one.side == "outside" and one.diameter.nominal_mm > found.root_mm
            and abs(target.z_of[one.near if behind > main.far_mm - 1e-6 else one.far] - behind) < 1e-6
            for one in part.surfaces
        )
        if shoulder and not main.inside and abs(span[1] - span[0]) <= SHORT_MM:
            return True
    return False


def is_turned_by_hand(target: Target, workshop: Workshop) -> bool:
    """Whether the spindle is turned by a handle: towards a floor, into a short run-out beside a shoulder, or where the
    slowest speed leaves no time to react.

    Source: common practice, no source; reaction see `by_hand_rpm`.
    """
    if target.step.work != "thread":
        return False
    inside = target.main is not None and target.main.inside
    if (inside and not _comes_out(target)) or _ends_short(target):
        return True
    return by_hand_rpm(target) < min(workshop.speeds_rpm)


def by_leadscrew(target: Target, workshop: Workshop) -> tuple[str, ...]:
    """Wheels and half-nuts of screw-cutting on this leadscrew; of half-nuts nothing where a handle turns the spindle.

    Source: `leadscrew.match_of`.
    """
    found = thread_of(target)
    if found is None:
        return ()
    match = match_of(found, workshop)
    if is_turned_by_hand(target, workshop):
        return match.lines[:1] if match.closed else ()
    return match.lines


def stays_in(target: Target, workshop: Workshop) -> bool:
    """Whether the half-nuts stay in from the first pass to the last.

    Source: `leadscrew.match_of`.
    """
    found = thread_of(target)
    return found is not None and target.step.work == "thread" and match_of(found, workshop).closed


def wheels_of(target: Target, chosen: Chosen, workshop: Workshop) -> tuple[str, ...]:
    """The change wheel to lay ready for a thread of the other system than the leadscrew's.

    Source: `leadscrew.match_of`.
    """
    return () if is_die(chosen) or not stays_in(target, workshop) else ("127-tooth wheel",)


def _comes_out(target: Target) -> bool:
    """Whether the tool runs out of the bore at its far end: nothing narrower lies beyond the thread."""
    main, part = target.main, target.part
    if main is None or part is None:
        return False
    ends = (min(target.z_of.values()), max(target.z_of.values()))
    return abs(main.near_mm - ends[0]) < 0.01 and abs(main.far_mm - ends[1]) < 0.01


def infeed_of(target: Target, workshop: Workshop, figures: Figures) -> Infeed | None:
    """The infeed of a single point in divisions from the touch, chips of the same section; None for an unknown thread.

    Source: depth of the groove ISO 68-1; passes see `thread_infeed`.
    """
    found, dial = thread_of(target), workshop.cross_dial
    if found is None:
        return None
    inside = target.main is not None and target.main.inside
    deep = found.pitch_mm * THREAD_SHARE["inside" if inside else "outside"]
    if not inside:
        # The tool is touched on the blank, which is under the nominal size.
        deep -= under_mm(found.pitch_mm) / 2
    cuts = thread_infeed(found.pitch_mm, deep)
    reads = ", ".join(str(math.floor(cut / dial.division_mm + 0.5)) for cut in cuts[:-2])
    shown = figures.length(2 * deep if dial.reads_diameter else deep, 3)
    # A space that does not break keeps the pitch as the thread's own, also in an inch job.
    how = (
        f"pitch {found.pitch_mm:g}\u00a0mm; touch, dial to zero, cross slide at divisions {reads}; twice more at the "
        "last",
        f"in all {in_words(dial_move(deep, dial))} ({shown} on the dial)",
    )
    number = len(cuts) - 2
    return Infeed(found.pitch_mm, Passes(number, deep / number, 2, 0.0), how)
