"""What the spindle is held by while its screw or nut is drawn up, and whether that bears the torque."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.checks.judged import Limit, Say, judged
from generator.checks.screw import settled_preload_n, strength_mpa, torque_n_m
from generator.description import Choices
from generator.findings import Finding

__all__ = ["JAWS_MM", "hold_capacity_n_m", "hold_finding", "settle_clamping"]

JAWS_MM = 4.0
"""Least length of a round nose or collar that soft jaws can hold. Common practice, no source."""
JAWS_MPA, FRICTION = 20.0, 0.15
"""Pressure of soft jaws all round, and dry steel on brass or aluminium. From memory."""
BAR_MPA = 500.0
"""Bending stress that a tommy bar of silver steel bears. From memory."""


def settle_clamping(choices: Choices) -> None:
    """Keep the preload of screw or nut and what holds the spindle meanwhile, once all sizes are known."""
    choices.names["held_by"] = _words(choices)
    if choices.names["retention"] != "circlip":
        choices.facts["preload_n"] = settled_preload_n(choices, hold_capacity_n_m(choices))


def _words(choices: Choices) -> str:
    """What to hold the spindle by, as it goes into a sentence."""
    across = f"a spanner of {choices.sizes['spindle/hold_across'].nominal_mm:g} mm on the flats of the nose"
    bar = f"a tommy bar of {choices.sizes['spindle/hold_hole'].nominal_mm:g} mm in the nose"
    jaws = "the nose in soft jaws" if _nose_in_jaws_n_m(choices) else "the collar in soft jaws"
    return {"flats": across, "hole": bar}.get(choices.names["hold"], jaws)


def hold_capacity_n_m(choices: Choices) -> float:
    """The torque that flats, tommy bar or soft jaws bear, in N m; 0 where there is nothing long enough to be held.

    Source: strength of materials; a spanner presses on half of each flat, from nothing in the middle to the yield
    strength at the edge.
    """
    size, nose = choices.sizes, choices.sizes["spindle/nose"].low
    style = choices.names["hold"]
    if style == "flats":
        chord = nose**2 - size["spindle/hold_across"].high ** 2
        return strength_mpa(choices.names["spindle/material"]) * chord * size["spindle/hold_width"].low / 6000
    if style == "hole":
        return 2 * BAR_MPA * math.pi / 32 * size["spindle/hold_hole"].low ** 3 / 1000
    return _nose_in_jaws_n_m(choices) or _in_jaws_n_m(
        size["spindle/collar"].low, size["spindle/collar_length"].nominal_mm
    )


def _nose_in_jaws_n_m(choices: Choices) -> float:
    """What soft jaws hold on the nose; 0 where it is too short, or so much thinner than the collar that that serves."""
    nose, length = choices.sizes["spindle/nose"].low, choices.facts["nose_room"]
    return _in_jaws_n_m(nose, length) if nose >= choices.sizes["spindle/collar"].low / 2 else 0.0


def _in_jaws_n_m(diameter_mm: float, length_mm: float) -> float:
    """Friction of soft jaws round a cylinder, over its length."""
    if length_mm < JAWS_MM - 1e-9:
        return 0.0
    return FRICTION * JAWS_MPA * math.pi / 2 * diameter_mm**2 * length_mm / 1000


def hold_finding(choices: Choices) -> Iterator[Finding]:
    """The torque of the screw or nut against what holds the spindle meanwhile; nothing for a circlip."""
    style = choices.names["retention"]
    if style == "circlip":
        return
    torque = torque_n_m(choices)
    bears = hold_capacity_n_m(choices)
    advice = f"Held by {choices.names['held_by']}: that bears about {bears:.1f} N m."
    yield judged(
        "hold", "spindle/nose", f"torque of the {style}, against what holds the spindle meanwhile", torque,
        Limit(most=bears),
        Say("strength of materials; friction and pressure of soft jaws from memory", advice, "N m",
            ("spindle.overhang", "spindle.nose_diameter")), "stop",
    )  # fmt: skip
