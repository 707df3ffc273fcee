"""Does the taper hold what tries to turn the tool in the quill, and how hard must it be pushed out again?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from generator.checks.duty import Duty
from generator.checks.judged import Limit, Say, judged
from generator.checks.spindle import Spindle
from generator.description import Choices
from generator.findings import Finding
from generator.reckoning.angles import sine
from generator.reckoning.grip import SOURCES, grip_under, mean_diameter_mm, release_force_n
from generator.tables import load

__all__ = ["Turning", "drag_of_point", "drag_of_rings", "grip_finding"]

RESERVE = 2.0
"""Torque held over torque that turns: taper and oil are never quite clean. Shop choice."""
RING_FRICTION = 0.0015
SEAL_N_MM = 3.0
"""Friction of a deep groove ring over its bore radius, and drag of two contact seals for each mm of bore. From memory,
wide."""


class Turning(NamedTuple):
    """What tries to turn the tool: N mm, words, source."""

    torque_n_mm: float
    words: str
    source: str


def drag_of_rings(spindle: Spindle, duty: Duty) -> Turning:
    """The drag of all rings and their seals at worst."""
    total = 0.0
    for held in spindle.rings:
        load_n = spindle.borne_n(held, duty.worst_radial_n) + (duty.thrust_high_n if held.is_trapped else 0.0)
        total += 0.5 * RING_FRICTION * load_n * held.ring.bore_mm
        total += SEAL_N_MM * held.ring.bore_mm if held.ring.sealed else 0.0
    source = "bearing friction 0.0015, seals 3 N mm a mm of bore: from memory"
    return Turning(total, "drag of bearings and seals", source)


def drag_of_point(duty: Duty, mouth_mm: float, tip_mm: float, half_deg: float) -> Turning:
    """The drag of the work on a greased point that stands still, at the most thrust."""
    row = load("friction").find("steel/steel, greased point", "dead centre in its hole")
    friction = row.number("high_factor")
    # The side load presses one flank as the thrust presses all round.
    pressed = max(duty.thrust_high_n / sine(half_deg), duty.worst_radial_n)
    torque = friction * pressed * (mouth_mm + tip_mm) / 4
    return Turning(torque, f"drag of the work on the point, friction {friction:g}", f"friction: {row.source}")


def grip_finding(choices: Choices, duty: Duty, turning: Turning) -> Iterator[Finding]:
    """Torque that the shank holds under the thrust of the cut, both formulas, against what turns it."""
    half, ratio = choices.facts["half_angle_deg"], choices.facts["ratio"]
    gauge = choices.sizes["shank/gauge_diameter"].nominal_mm
    length = choices.sizes["shank/length"].nominal_mm - choices.sizes["shank/small_relief_length"].nominal_mm
    mean = mean_diameter_mm(gauge, gauge - max(length, 1.0) / ratio)
    row = load("friction").find("steel/steel, oiled taper", "friction coefficient for taper holding")
    friction, thrust = row.number("low_factor"), duty.thrust_low_n
    held = grip_under(thrust, thrust, mean, half, friction)
    out = release_force_n(thrust, half, friction)
    advice = (
        f"Against {turning.words}, {turning.torque_n_mm / 1000:.2f} N m. Formula B, from the thrust that acts, holds "
        f"{held.by_thrust_n_mm / 1000:.1f} N m and applies as long as the quill pushes; formula A, from a push that "
        f"seated it before, {held.by_seating_n_mm / 1000:.1f} N m once it no longer does. About {out:.0f} N free it. "
        f"A drill or die in this taper would need its own torque held by A, or B by its thrust.{duty.basis}"
    )
    yield judged(
        "grip", "shank", "torque that the taper holds under the thrust, oiled", held.held_n_mm / 1000,
        Limit(RESERVE * turning.torque_n_mm / 1000),
        Say(f"{SOURCES}; friction: {row.source}; {turning.source}", advice, "N m", ("loads.thrust",)),
    )
