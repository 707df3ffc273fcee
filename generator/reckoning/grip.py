"""Grip of a self-holding taper: the torque it holds, the force that frees it, and which published formula applies.

Two formulas are in use and on a slow taper they differ about sixfold:

A  from the push that seated it. Friction resisted the seating, so less normal force is left.
   T = mu F dm / (2 (sin a + mu cos a))
B  from a thrust that acts while the torque acts. Once the taper begins to slip round, friction along the axis is spent,
   the shank is wedged in further, and T = mu F dm / (2 sin a).

Here mu is the friction coefficient, F the axial force, dm the mean diameter, a the half angle.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from generator.reckoning.amounts import larger, need, plain
from generator.reckoning.angles import arctangent_deg, cosine, sine, tangent
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse

if TYPE_CHECKING:
    from generator.tables import MorseTaper

__all__ = [
    "RECKONING", "Grip", "grip_under", "mean_diameter_mm", "release_force_n", "seating_needed_n",
    "torque_from_seating_n_mm", "torque_under_thrust_n_mm",
]

MOST_FRICTION = 0.6
SOURCES = (
    "A: E. Wentzell, Machine Design, cone clutch, ex. 16.3; B: Khurmi and Gupta, Machine Design, ex. 10.34; "
    "release: the same balance of forces with friction turned round"
)
ADVICE = (
    "Clean and dry both tapers: cleaning, oil and seating technique alone change the grip several times over. "
    "Where it slips, a larger taper is the cure, not a tang."
)


class Grip(NamedTuple):
    """Torque in N mm by both formulas, what is held, and which formula decides."""

    by_seating_n_mm: Any
    by_thrust_n_mm: Any
    held_n_mm: Any


def mean_diameter_mm(large_mm: float, small_mm: float) -> float:
    """Mean diameter of the cone that touches.

    Source: arithmetic mean; exact for even pressure on a slow taper within 1 %.
    """
    need("large diameter", large_mm, "mm", above=0)
    need("small diameter", small_mm, "mm", above=0)
    return (large_mm + small_mm) / 2


def torque_from_seating_n_mm(push_n: float, mean_mm: float, half_deg: float, friction: float) -> float:
    """Formula A: torque held by a taper that was pushed home with this force and then left alone.

    Source: cone clutch engaged against friction; E. Wentzell, Machine Design, ex. 16.3, p. 360.

    >>> round(torque_from_seating_n_mm(1000.0, 22.0, 1.4377, 0.12) / 1000, 1)
    9.1
    """
    _check(push_n, mean_mm, half_deg, friction)
    return friction * push_n * mean_mm / (2 * (sine(half_deg) + friction * cosine(half_deg)))


def torque_under_thrust_n_mm(thrust_n: float, mean_mm: float, half_deg: float, friction: float) -> float:
    """Formula B: torque held while this thrust presses the taper home, friction along the axis being spent.

    Source: cone clutch in steady running; Khurmi and Gupta, Machine Design, ex. 10.34, p. 316.
    """
    _check(thrust_n, mean_mm, half_deg, friction)
    return friction * thrust_n * mean_mm / (2 * sine(half_deg))


def grip_under(seated_n: float, thrust_n: float, mean_mm: float, half_deg: float, friction: float) -> Grip:
    """What holds a taper tapped or wound in with `seated_n` while `thrust_n` acts in the cut: the larger of A and B.

    Thrust that is not there during the cut counts for nothing in B; the push that seated the taper stays locked in by
    friction and counts in A. Holds for self-holding tapers only.
    Source: both published formulas; taking the larger is this program's reading of when each applies.
    """
    need_self_holding(half_deg, friction)
    seating = torque_from_seating_n_mm(seated_n, mean_mm, half_deg, friction)
    under = torque_under_thrust_n_mm(thrust_n, mean_mm, half_deg, friction)
    return Grip(seating, under, plain(larger(seating + 0.0, under + 0.0)))


def release_force_n(seated_n: float, half_deg: float, friction: float) -> float:
    """Force along the axis that frees a taper seated with this push, friction now holding it in.

    Source: balance of forces, F (mu cos a - sin a) / (mu cos a + sin a).
    """
    need_self_holding(half_deg, friction)
    need("seating force", seated_n, "N", least=0)
    down, along = friction * cosine(half_deg), sine(half_deg)
    return seated_n * (down - along) / (down + along)


def seating_needed_n(torque_n_mm: float, mean_mm: float, half_deg: float, friction: float) -> float:
    """Push that must seat the taper so that formula A gives this torque.

    Source: formula A solved for the push.
    """
    need("torque", torque_n_mm, "N mm", least=0)
    return torque_n_mm / torque_from_seating_n_mm(1.0, mean_mm, half_deg, friction)


def need_self_holding(half_deg: float, friction: float) -> None:
    """Nothing, if friction alone keeps the taper in its socket.

    Raises: RangeError where the half angle is not below the friction angle.
    Source: balance of forces, tan a < mu.
    """
    need("friction coefficient", friction, above=0, most=MOST_FRICTION)
    need("half angle", half_deg, "deg", above=0, below=90)
    need("tangent of the half angle over friction (below 1 the taper holds itself)", tangent(half_deg) / friction,
         above=0, below=1)


def _check(push_n: float, mean_mm: float, half_deg: float, friction: float) -> None:
    need("axial force", push_n, "N", least=0)
    need("mean diameter", mean_mm, "mm", above=0)
    need("half angle", half_deg, "deg", above=0, below=90)
    need("friction coefficient", friction, above=0, most=MOST_FRICTION)


def morse_of(text: str) -> MorseTaper:
    """The Morse taper of a text such as "Morse 3".

    Source: ISO 296, table morse.
    """
    from generator.fittings.shank import morse_number
    from generator.tables import morse

    return morse(morse_number(text, "taper"))


def _cone(given: Mapping[str, Any]) -> tuple[float, float, tuple[str, ...]]:
    """Mean diameter, half angle and source of the cone named or measured."""
    if given["taper"] is not None:
        taper = morse_of(given["taper"])
        small = taper.gauge_diameter_mm - taper.plain_length_mm / taper.ratio
        mean = mean_diameter_mm(taper.gauge_diameter_mm, small)
        return given["mean_diameter"] or mean, taper.half_angle_deg, (taper.source,)
    if given["large"] is not None and given["small"] is not None and given["length"] is not None:
        half = arctangent_deg((given["large"] - given["small"]) / 2 / given["length"])
        return mean_diameter_mm(given["large"], given["small"]), half, ()
    if given["mean_diameter"] is None or given["half_angle"] is None:
        cure = 'give taper="Morse 3", or large, small and length, or mean_diameter and half_angle'
        refuse("grip", "the taper is not known", "", cure)
    return given["mean_diameter"], given["half_angle"], ()


def _frictions(given: Mapping[str, Any]) -> tuple[float, float, tuple[str, ...]]:
    if given["friction"] is not None:
        return given["friction"], given["friction"], ()
    from generator.tables import load

    pair = "steel/steel, dry clean taper" if given["surface"] == "dry" else "steel/steel, oiled taper"
    row = load("friction").find(pair, "friction coefficient for taper holding")
    return row.number("low_factor"), row.number("high_factor"), (f"friction: {row.source}",)


def _work(given: Mapping[str, Any]) -> Outcome:
    mean, half, sources = _cone(given)
    low, high, more = _frictions(given)
    seated, thrust = given["seated"] or given["force"] or 0.0, given["thrust"] or given["force"] or 0.0
    if not seated and not thrust:
        refuse("grip", "neither seating force nor thrust is given", "", "give seated, thrust or both; or force")
    only_force = given["seated"] is None and given["thrust"] is None
    values: dict[str, Any] = {"mean_diameter": mean, "half_angle": half, "friction_low": low, "friction_high": high}
    for mu, end in ((low, "low"), (high, "high")):
        by_seating = torque_from_seating_n_mm(seated, mean, half, mu) / 1000
        by_thrust = torque_under_thrust_n_mm(thrust, mean, half, mu) / 1000
        values |= {f"torque_a_{end}": by_seating if seated else None, f"torque_b_{end}": by_thrust if thrust else None}
        if tangent(half) < mu:
            values |= {
                # Of one force nobody knows whether it lasts: the smaller of the two counts.
                f"torque_held_{end}": by_seating if only_force else max(by_seating, by_thrust),
                f"release_{end}": release_force_n(max(seated, thrust), half, mu),
            }
    values["applies"] = _applies(given, values, tangent(half) < low)
    if (wanted := given["torque"]) is not None:
        values["seating_needed"] = seating_needed_n(wanted * 1000, mean, half, low)
        held = values.get("torque_held_low", values["torque_b_low"])
        values["margin"] = held / wanted if wanted and held is not None else None
    return Outcome(values, (*sources, *more))


def _applies(given: Mapping[str, Any], values: Mapping[str, Any], holds_itself: bool) -> str:
    if not holds_itself:
        return "B only: the taper does not hold itself at this friction and lets go when the thrust ends"
    if given["seated"] is None and given["thrust"] is None:
        return "A if the force only seated the taper and is gone; B as long as it acts together with the torque"
    if (values["torque_b_low"] or 0.0) > (values["torque_a_low"] or 0.0):
        return "B, as long as the thrust lasts; when it ends, A with the largest push so far"
    return "A: the push that seated it; no thrust in the cut adds to it"


RECKONING = Reckoning(
    name="grip",
    summary="torque a taper holds and the force that frees it, by both published formulas",
    inputs=(
        Input("taper", 'Morse taper, such as "Morse 3"', "text"),
        Input("large", "large diameter of the cone that touches", "length", "mm", above=0),
        Input("small", "small diameter of the cone that touches", "length", "mm", above=0),
        Input("length", "length between them along the axis", "length", "mm", above=0),
        Input("mean_diameter", "mean diameter of the cone that touches", "length", "mm", above=0),
        Input("half_angle", "half angle of the taper", "angle", "deg", above=0, below=90),
        Input("seated", "push with which it was seated, no longer acting", "force", "N", least=0),
        Input("thrust", "thrust that acts while the torque acts", "force", "N", least=0),
        Input("force", "one force put into both formulas, to compare them", "force", "N", above=0),
        Input("surface", "state of the tapers, where friction is not given", "choice", default="dry",
              choices=("dry", "oiled")),
        Input("friction", "friction coefficient", "number", above=0, most=MOST_FRICTION),
        Input("torque", "torque that must be held", "torque", "N m", least=0),
    ),
    outputs=(
        Output("mean_diameter", "mm", "mean diameter of the cone"),
        Output("half_angle", "deg", "half angle"),
        Output("friction_low", "", "lowest friction reckoned with"),
        Output("friction_high", "", "highest friction reckoned with"),
        Output("torque_a_low", "N m", "formula A, from the seating push, low friction"),
        Output("torque_a_high", "N m", "formula A, high friction"),
        Output("torque_b_low", "N m", "formula B, from the thrust that acts now, low friction"),
        Output("torque_b_high", "N m", "formula B, high friction"),
        Output("torque_held_low", "N m", "what the taper holds, low friction"),
        Output("torque_held_high", "N m", "what the taper holds, high friction"),
        Output("release_low", "N", "force that frees it, low friction"),
        Output("release_high", "N", "force that frees it, high friction"),
        Output("applies", "", "which formula decides"),
        Output("seating_needed", "N", "seating push for the torque wanted, by A at low friction"),
        Output("margin", "", "torque held at low friction over the torque wanted"),
    ),
    work=_work,
    source=SOURCES,
    validity=(
        "Full contact, even pressure; friction is the great unknown, so both ends of its range are given. A torque "
        f"held is a reckoned figure, no rating. {ADVICE}"
    ),
    example={"taper": "Morse 3", "seated": "1000 N", "friction": "0.12"},
)
