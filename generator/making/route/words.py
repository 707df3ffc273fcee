"""Words and allowances that several set-ups share."""

from __future__ import annotations

__all__ = ["CARRIER_CAUTION", "FIRE_CAUTION", "HOLES", "POINT_MM", "ROUGH_MM", "plain", "the"]

ROUGH_MM, POINT_MM = 0.5, 0.6
"""Left on the diameter by roughing, and on a point that is finished later. Common practice, no source."""

CARRIER_CAUTION = "Turned once round by hand before the motor; no hand near a turning shank with emery."
FIRE_CAUTION = "Glasses, gloves, no water near hot oil; lid at hand: the oil may catch fire."

HOLES = "nothing to clock: both holes are the axis; wipe them and the centres"


def plain(name: str) -> str:
    """A name of the description as words.

    Source: none needed.
    """
    return name.replace("/", " ").replace("_", " ")


def the(name: str) -> str:
    """A name as words with its article; one with a number goes without.

    Source: none needed.
    """
    words = plain(name)
    return words if words[-1:].isdigit() else f"the {words}"
