"""Thrust of a centre: the least that keeps the work seated, the most the rings bear, and how to set it by hand.

Forces in N, lengths in mm, angles in degrees; floats or arrays alike except for angles, which are single numbers.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from generator import units
from generator.reckoning.amounts import need
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse
from generator.reckoning.static import axial_limit_n, is_light, most_axial_n, static_factors

__all__ = [
    "RECKONING", "growth_um", "handwheel_pull_n", "least_thrust_n", "thrust_by_hand_n", "warming_used_up_k",
]

GRAVITY_M_S2 = float(units.GRAVITY_M_S2)
EFFICIENCY = (0.25, 0.35)
STIFFNESS_N_UM = (20.0, 100.0)
RESERVE = 1.5
STEEL_UM_M_K = 11.5
SCREW_SOURCE = "efficiency of the tailstock screw 0.25 to 0.35, from memory"
STIFFNESS_SOURCE = "stiffness of work, centre and tailstock along the axis 20 to 100 N/um, from memory: measure it"
MACHINE_SOURCE = "lead and wheel usual on such lathes, from memory: measure them"
LIMIT_SOURCE = "most thrust: ISO 76 and makers' share of C0, from memory, see reckon static"


def least_thrust_n(radial_n: float, included_angle_deg: float, friction: float = 0.0) -> float:
    """The thrust below which a radial load lifts the work out of the centre.

    Source: statics of a cone, F tan(half angle); friction takes its own angle off.

    >>> round(least_thrust_n(1000.0, 60.0))
    577
    """
    need("radial load", radial_n, "N", least=0)
    need("angle of the point", included_angle_deg, "deg", least=30, most=120)
    need("friction coefficient", friction, least=0, most=0.3)
    held = math.radians(included_angle_deg / 2.0) - math.atan(friction)
    return radial_n * max(math.tan(held), 0.0)


def handwheel_pull_n(thrust_n: float, lead_mm: float, wheel_diameter_mm: float, efficiency: float) -> float:
    """The pull at the rim of the handwheel that sets this thrust.

    Source: work of one turn, F lead / (2 pi r efficiency).
    """
    _check_screw(lead_mm, wheel_diameter_mm, efficiency)
    need("thrust", thrust_n, "N", least=0)
    return thrust_n * lead_mm / (math.pi * wheel_diameter_mm * efficiency)


def thrust_by_hand_n(pull_n: float, lead_mm: float, wheel_diameter_mm: float, efficiency: float) -> float:
    """The thrust that this pull at the rim of the handwheel gives.

    Source: work of one turn, 2 pi r pull efficiency / lead.
    """
    _check_screw(lead_mm, wheel_diameter_mm, efficiency)
    need("pull", pull_n, "N", least=0)
    return pull_n * math.pi * wheel_diameter_mm * efficiency / lead_mm


def _check_screw(lead_mm: float, wheel_diameter_mm: float, efficiency: float) -> None:
    need("lead of the screw", lead_mm, "mm", above=0)
    need("diameter of the handwheel", wheel_diameter_mm, "mm", above=0)
    need("efficiency of the screw", efficiency, above=0, most=1)


def growth_um(length_mm: float, expansion_um_m_k: float, warmer_k: float) -> float:
    """How much longer the work gets.

    Source: linear expansion.
    """
    return length_mm * expansion_um_m_k * warmer_k / 1000.0


def warming_used_up_k(margin_n: float, stiffness_n_um: float, length_mm: float, expansion_um_m_k: float) -> float:
    """The warming of the work between rigid supports that raises the thrust by this margin.

    Source: growth of the work against the stiffness of all that holds it.
    """
    need("stiffness", stiffness_n_um, "N/um", above=0)
    need("length of the work", length_mm, "mm", above=0)
    need("expansion", expansion_um_m_k, "um/m/K", above=0)
    return margin_n / (stiffness_n_um * growth_um(length_mm, expansion_um_m_k, 1.0))


def _work(given: Mapping[str, Any]) -> Outcome:
    least = least_thrust_n(given["radial"], given["angle"], given["friction"])
    most, most_source = _most(given)
    wanted = given["set"] if given["set"] is not None else least * RESERVE
    values: dict[str, float | str | None] = {
        "thrust_least": least, "thrust_most": most, "thrust_set": wanted,
        "window": _window(least, wanted, most),
        **_hand_values(given, least, wanted, most),
        **_warm_values(given, wanted, most),
    }
    sources = [most_source, SCREW_SOURCE if given["efficiency"] is None and "pull_set_least" in values else ""]
    if given["taper"] is not None:
        sources.append(MACHINE_SOURCE)
    if "warming_least" in values and given["stiffness"] is None:
        sources.append(STIFFNESS_SOURCE)
    return Outcome(values, tuple(filter(None, sources)))


def _most(given: Mapping[str, Any]) -> tuple[float | None, str]:
    if given["most"] is not None:
        return given["most"], "most thrust as given"
    if given["ring"] is None:
        return None, ""
    from generator.tables import ring, ring_rating

    of = ring(given["ring"])
    rating = ring_rating(of)
    if of.type == "thrust":
        return rating.static_n / given["safety"], f"{LIMIT_SOURCE}; {rating.source}"
    factors = static_factors(of.type, of.contact_angle_deg, rating.y0)
    radial = given["ring_radial"] if given["ring_radial"] is not None else given["radial"]
    limit = most_axial_n(rating.static_n, radial, factors, given["safety"])
    if of.type == "deep groove":
        limit = min(limit, axial_limit_n(rating.static_n, light=is_light(of)))
    return limit, f"{LIMIT_SOURCE}; {rating.source}"


def _window(least: float, wanted: float, most: float | None) -> str:
    if most is None:
        return "no upper limit known: give ring or most"
    if least > most:
        return "none: what keeps the work seated is more than the ring bears"
    if not least <= wanted <= most:
        return f"the thrust set lies outside {least:.0f} to {most:.0f} N"
    return f"{least:.0f} to {most:.0f} N"


def _hand_values(
    given: Mapping[str, Any], least: float, wanted: float, most: float | None
) -> dict[str, float | str | None]:
    lead, wheel = _screw(given)
    if lead is None or wheel is None:
        return {}
    low, high = EFFICIENCY if given["efficiency"] is None else (given["efficiency"],) * 2
    values: dict[str, float | str | None] = {"lead": lead, "wheel": wheel}
    for name, thrust in (("least", least), ("set", wanted), ("most", most)):
        if thrust is not None:
            values[f"pull_{name}_least"] = handwheel_pull_n(thrust, lead, wheel, high)
            values[f"pull_{name}_most"] = handwheel_pull_n(thrust, lead, wheel, low)
    reading = handwheel_pull_n(wanted, lead, wheel, (low + high) / 2) / GRAVITY_M_S2
    values["scale_reading"] = f"{reading:.1f} kg on the luggage scale sets about {wanted:.0f} N"
    return values


def _screw(given: Mapping[str, Any]) -> tuple[float | None, float | None]:
    if given["taper"] is None:
        return given["lead"], given["wheel"]
    from generator.fittings.shank import morse_number
    from generator.tables import machine_defaults

    usual = machine_defaults(morse_number(given["taper"], "thrust, taper"))
    return given["lead"] or usual.screw_lead_mm.usual, given["wheel"] or usual.handwheel_diameter_mm.usual


def _warm_values(given: Mapping[str, Any], wanted: float, most: float | None) -> dict[str, float | str | None]:
    if given["length"] is None:
        return {}
    stiff = STIFFNESS_N_UM if given["stiffness"] is None else (given["stiffness"],) * 2
    values: dict[str, float | str | None] = {"growth_per_10_k": growth_um(given["length"], given["expansion"], 10.0)}
    if most is not None and most > wanted:
        for name, stiffness in (("least", stiff[1]), ("most", stiff[0])):
            values[f"warming_{name}"] = warming_used_up_k(most - wanted, stiffness, given["length"], given["expansion"])
    elif most is None:
        refuse("thrust, length", "warming needs a most thrust", "", "give ring or most")
    return values


_PULLS = {"least": "the least thrust", "set": "the thrust set", "most": "the most thrust"}
RECKONING = Reckoning(
    name="thrust",
    summary="least and most thrust of a centre, the pull at the handwheel that sets it, warming that uses it up",
    inputs=(
        Input("radial", "radial load at the point", "force", "N", required=True, least=0),
        Input("angle", "included angle of the point", "angle", "deg", default=60.0, least=30, most=120),
        Input("friction", "friction at the point; 0 is safe, and right for a turning centre", "number",
              default=0.0, least=0, most=0.3),
        Input("ring", "ring that takes the thrust", "text"),
        Input(
            "ring_radial", "radial load on that ring, lever included; else the load at the point",
            "force", "N", least=0,
        ),
        Input("safety", "static safety wanted", "number", default=1.5, least=0.5, most=20),
        Input("most", "most thrust, instead of the ring's", "force", "N", above=0),
        Input("set", "thrust to set; else one and a half times the least (shop choice)", "force", "N", above=0),
        Input("lead", "lead of the tailstock screw", "length", "mm", above=0, most=20),
        Input("wheel", "diameter on which the handwheel is pulled", "length", "mm", above=0, most=600),
        Input("taper", 'Morse taper, such as "Morse 3", to take the usual lead and wheel of such lathes', "text"),
        Input("efficiency", "of the tailstock screw; else 0.25 to 0.35", "number", above=0, most=1),
        Input("length", "length of the work between its supports", "length", "mm", above=0),
        Input("expansion", "expansion of the work", "expansion", "um/m/K", default=STEEL_UM_M_K, above=0, most=40),
        Input("stiffness", "along the axis, of all that holds the work; else 20 to 100", "stiffness", "N/um", above=0),
    ),
    outputs=(
        Output("thrust_least", "N", "keeps the work seated"),
        Output("thrust_most", "N", "the ring bears"),
        Output("thrust_set", "N", "to set"),
        Output("window", "", "what may be set"),
        Output("lead", "mm", "lead reckoned with"),
        Output("wheel", "mm", "handwheel reckoned with"),
        *(Output(f"pull_{name}_{end}", "N", f"pull at the rim for {what}, {end}")
          for name, what in _PULLS.items() for end in ("least", "most")),
        Output("scale_reading", "", "middle of the efficiency"),
        Output("growth_per_10_k", "um", "growth of the work for each 10 degrees"),
        Output("warming_least", "K", "warming that uses up the margin, all held stiffly"),
        Output("warming_most", "K", "warming that uses up the margin, all held softly"),
    ),
    work=_work,
    source="statics of a cone, screw and linear expansion",
    validity="Thrust along the axis, screw turning freely. The most is what the ring bears, not what the work, the "
    "headstock or the jaws do.",
    example={"radial": "600 N", "ring": "6204", "taper": "Morse 3", "length": "300 mm"},
)
