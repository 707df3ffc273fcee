"""How a point sits in the centre hole of the work: findings that every kind with a point shares."""

from __future__ import annotations

import math

from generator.findings import PRACTICE, Finding

__all__ = ["mouth_finding", "tip_finding"]

LEAST_SPARE_MM = 1.0
LEAST_FLANK_MM = 0.5


def mouth_finding(address: str, base_mm: float, mouth_mm: float, cures: tuple[str, ...]) -> Finding:
    """How far the cone reaches beyond the mouth of the hole; a stop where it would stand on its edge.

    Source: common practice, no source.
    """
    spare = base_mm - mouth_mm
    return Finding(
        "point",
        "stop" if spare < LEAST_SPARE_MM else "note",
        address,
        "point beyond the mouth of the centre hole (diameter)",
        spare,
        f"at least {LEAST_SPARE_MM}",
        source=PRACTICE,
        advice="The cone must carry on its flank, not on its edge.",
        miss=max(0.0, LEAST_SPARE_MM - spare),
        cures=cures,
    )


def tip_finding(address: str, mouth_mm: float, tip_mm: float, half_deg: float, cures: tuple[str, ...]) -> Finding:
    """How much of the cone lies inside the hole; a stop where the tip would carry.

    Source: common practice, no source.
    """
    flank = (mouth_mm - tip_mm) / 2 / math.tan(math.radians(half_deg))
    return Finding(
        "flank",
        "stop" if flank <= LEAST_FLANK_MM else "note",
        address,
        "length of the point inside the centre hole",
        flank,
        f"at least {LEAST_FLANK_MM}",
        source=PRACTICE,
        advice="Only the flanks may touch; the pilot hole takes the tip.",
        miss=max(0.0, LEAST_FLANK_MM - flank),
        cures=cures,
    )
