"""Rating life of a rolling bearing, with thrust, duty steps, least load and speed limit.

Letters of ISO 281 inside the formulas only: P equivalent load, X, Y, e factors, C capacity, L10 life that nine rings in
ten reach. Loads in newtons, speeds in revolutions per minute; floats or arrays alike.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from generator.reckoning.amounts import need, plain, where
from generator.reckoning.registry import refuse

if TYPE_CHECKING:
    from generator.tables import Ring, RingRating

__all__ = [
    "Factors", "Step", "equivalent_load_n", "exponent_for", "factors_at", "factors_for", "hours_at", "induced_thrust_n",
    "least_load_n", "life_mrev", "mean_load_n", "mean_speed_rpm", "pair_capacity_n", "pair_factors",
]

BALL_EXPONENT = 3.0
ROLLER_EXPONENT = 10.0 / 3.0
ROLLERS = ("taper roller", "roller")
PAIR_POWER = 0.7
BALL_LEAST_SHARE, ROLLER_LEAST_SHARE = 0.01, 0.02


class Factors(NamedTuple):
    """Factors of the equivalent load: limit e; above it radial Fr + axial Fa, up to it the two factors `below`."""

    limit: float
    radial: float
    axial: float
    radial_below: float = 1.0
    axial_below: float = 0.0


class Step(NamedTuple):
    """One step of a duty: part of the time, loads and speed."""

    part: float
    radial_n: float
    axial_n: float
    speed_rpm: float


def life_mrev(capacity_n: float, equivalent_n: float, exponent: float = BALL_EXPONENT) -> float:
    """The life in million revolutions that nine of ten rings reach.

    Source: ISO 281, L10 = (C / P)^p, p = 3 for balls and 10/3 for rollers.
    """
    need("dynamic capacity", capacity_n, "N", above=0)
    need("equivalent load", equivalent_n, "N", above=0)
    need("exponent", exponent, least=3, most=ROLLER_EXPONENT)
    life: float = (capacity_n / equivalent_n) ** exponent
    return life


def hours_at(life_in_mrev: float, speed_rpm: float) -> float:
    """The life in hours at a steady speed.

    Source: ISO 281, L10h = 10^6 L10 / (60 n).
    """
    need("speed", speed_rpm, "rpm", above=0)
    return life_in_mrev * 1e6 / (60.0 * speed_rpm)


def exponent_for(ring_type: str) -> float:
    """The exponent of the life equation for a type of ring.

    Source: ISO 281, 3 for balls, 10/3 for rollers.
    """
    return ROLLER_EXPONENT if ring_type in ROLLERS else BALL_EXPONENT


def equivalent_load_n(radial_n: float, axial_n: float, factors: Factors, rotation_factor: float = 1.0) -> float:
    """The radial load that wears the ring as both loads together do; the branch at e included.

    `rotation_factor` is 1; older editions take 1.2 where the outer ring turns under the load.
    Source: ISO 281, P = V Fr where Fa / (V Fr) is not above e, otherwise X V Fr + Y Fa.
    """
    need("radial load", radial_n, "N", least=0)
    need("axial load", axial_n, "N", least=0)
    need("rotation factor", rotation_factor, least=1, most=1.2)
    turned = rotation_factor * radial_n
    below = factors.radial_below * turned + factors.axial_below * axial_n
    above = factors.radial * turned + factors.axial * axial_n
    load: float = plain(where(axial_n > factors.limit * turned, above, below))
    return load


def factors_at(load_ratio: float, ring_type: str = "deep groove") -> Factors:
    """Factors at a relative axial load f0 Fa / C0, by straight lines between the steps, held at the ends.

    Source: ISO 281, table of e and Y for radial ball bearings; see table iso281_factors.
    """
    from generator.tables import load_factors

    need("relative axial load", load_ratio, least=0)
    steps = load_factors(ring_type)
    ratios = [step.load_ratio for step in steps]
    limit = _between(load_ratio, ratios, [step.e for step in steps])
    return Factors(limit, steps[0].x, _between(load_ratio, ratios, [step.y for step in steps]))


def _between(value: Any, places: Sequence[float], heights: Sequence[float]) -> Any:
    if getattr(value, "shape", ()):
        import numpy as np

        return np.interp(value, places, heights)
    upper = min(max(bisect_right(places, value), 1), len(places) - 1)
    share = (value - places[upper - 1]) / (places[upper] - places[upper - 1])
    return heights[upper - 1] + min(max(share, 0.0), 1.0) * (heights[upper] - heights[upper - 1])


def factors_for(
    ring: Ring | None, rating: RingRating | None, ring_type: str, axial_n: float, static_n: float | None,
    f0: float | None, contact_angle_deg: float | None = None,
) -> Factors:
    """Factors of a single ring from its type, its row and, where they depend on it, its relative axial load.

    Source: ISO 281; e and Y of taper rings from the ring's row.
    """
    if ring_type == "roller":
        need("thrust on a cylindrical roller or needle ring", axial_n, "N", least=0, most=0)
        return Factors(1.0, 1.0, 0.0)
    angle = ring.contact_angle_deg if ring else contact_angle_deg
    if ring_type == "angular contact" and angle != 15:
        return _steep_factors(angle)
    if ring_type == "taper roller":
        if rating is None or rating.e is None or rating.y is None:
            refuse("life", "e and y of this taper ring are not known", "", "give x, y and e from its catalogue")
        return Factors(rating.e, rating.x or 0.4, rating.y)
    if static_n is None or f0 is None:
        if axial_n == 0:
            return Factors(1.0, 1.0, 0.0)
        refuse("life", "thrust needs C0 and f0 of the ring", "", "give c0 and f0, or x, y and e, from a catalogue")
    name = "deep groove" if ring_type == "deep groove" else "angular contact 15 deg"
    return factors_at(f0 * axial_n / static_n, name)


def _steep_factors(angle_deg: float | None) -> Factors:
    found = _constants(angle_deg)
    return Factors(found["e"], found["X single, Fa/Fr>e"], found["Y single, Fa/Fr>e"])


def pair_factors(contact_angle_deg: float) -> Factors:
    """Factors of a matched pair of angular contact rings, back to back or face to face.

    Source: ISO 281 as printed in a bearing catalogue; see table iso281_constants (25, 30 and 40 degrees).
    """
    found = _constants(contact_angle_deg)
    return Factors(
        found["e"], found["X back-to-back, Fa/Fr>e"], found["Y back-to-back, Fa/Fr>e"],
        axial_below=found["Y back-to-back, Fa/Fr<=e (X=1)"],
    )


def _constants(angle_deg: float | None) -> dict[str, float]:
    from generator.tables import load

    name = f"angular contact {angle_deg or 0:g} deg"
    found = {
        row.text("quantity"): float(row.text("value"))
        for row in load("iso281_constants").rows
        if row.text("type") == name
    }
    if not found:
        cure = "25, 30 and 40 degrees are; give x, y and e from a catalogue"
        refuse("life", "no factors are known for this contact angle", f"{angle_deg or 0:g} deg", cure)
    return found


def pair_capacity_n(capacity_n: float) -> float:
    """The dynamic capacity of two like rings that share the load because they are matched.

    Source: ISO 281, i^0.7 times the capacity of one ball ring.
    """
    need("dynamic capacity", capacity_n, "N", above=0)
    pair: float = 2.0**PAIR_POWER * capacity_n
    return pair


def mean_speed_rpm(steps: Sequence[Step]) -> float:
    """The mean speed of a duty.

    Source: revolutions of all steps over their time.
    """
    return sum(step.part * step.speed_rpm for step in steps) / sum(step.part for step in steps)


def mean_load_n(steps: Sequence[Step], loads_n: Sequence[float], exponent: float = BALL_EXPONENT) -> float:
    """The steady load that wears the ring as the equivalent loads of the steps do, one load for each step.

    Source: ISO 281, P mean = (sum of P^p N / sum of N)^(1/p), N the revolutions of each step.
    """
    for step in steps:
        need("part of the time", step.part, above=0)
        need("speed", step.speed_rpm, "rpm", above=0)
    turns = [step.part * step.speed_rpm for step in steps]
    worn = sum(turn * load**exponent for turn, load in zip(turns, loads_n, strict=True))
    mean: float = (worn / sum(turns)) ** (1.0 / exponent)
    return mean


def least_load_n(capacity_n: float, ring_type: str = "deep groove") -> float:
    """The load below which the rolling elements may slip: 1 % of C for balls, 2 % for rollers.

    Source: bearing makers' rule, from memory.
    """
    need("dynamic capacity", capacity_n, "N", above=0)
    return capacity_n * (ROLLER_LEAST_SHARE if ring_type in ROLLERS else BALL_LEAST_SHARE)


def induced_thrust_n(radial_n: float, axial_factor: float) -> float:
    """The thrust that a radial load brings forth in an angular contact or taper ring and the other ring must hold.

    Source: bearing makers' rule Fr / (2 Y), from memory.
    """
    need("radial load", radial_n, "N", least=0)
    need("axial factor", axial_factor, above=0)
    return radial_n / (2.0 * axial_factor)
