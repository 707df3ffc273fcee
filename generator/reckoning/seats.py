"""Which class for the shaft and which for the housing: from what turns, how the load stands and how heavy it is.

A ring that turns relative to the load creeps in a loose seat and wears it; the ring at rest to the load may be loose.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from generator.reckoning.amounts import need
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse

if TYPE_CHECKING:
    from generator.tables import Ring, Row

__all__ = [
    "LIGHT_SHARE", "NORMAL_SHARE", "RECKONING", "Seats", "compound_for", "holds_by_compound_n", "seats_for",
    "weight_of",
]

LIGHT_SHARE, NORMAL_SHARE = 0.06, 0.12
LEAST_GAP_MM = 0.01
STRENGTH_SHARE = 0.25
TURNS, RESTS, EITHER = "turns under the load", "rests under the load", "may turn under the load"
NO_SLIDING = "a ring that turns under the load may not slide on its seat"
RULE_SOURCE = "bearing makers' rules for seats, classes for ball rings on shafts from memory"
WEIGHT_SOURCE = "light up to 0.06 C, normal up to 0.12 C: bearing makers' rule, from memory"
COMPOUND_SOURCE = "retaining compounds: gap and strength mostly from memory; a quarter of it taken, from memory"


class Seats(NamedTuple):
    """The classes and why."""

    shaft: str
    housing: str
    shaft_reason: str
    housing_reason: str


def weight_of(load_n: float, capacity_n: float) -> str:
    """How heavy a load is for a ring: light, normal or heavy.

    Source: bearing makers' rule on P / C, from memory.
    """
    need("load", load_n, "N", least=0)
    need("dynamic capacity", capacity_n, "N", above=0)
    share = load_n / capacity_n
    return "light" if share <= LIGHT_SHARE else "normal" if share <= NORMAL_SHARE else "heavy"


def seats_for(
    turning: str, load: str, weight: str, bore_mm: float, *, rollers: bool = False, slides: str = "none",
    accurate: bool = False,
) -> Seats:
    """Classes of shaft and housing with the reason of each.

    `turning` inner or outer; `load` fixed in space, turning with the ring, or indeterminate; `slides` none, shaft or
    housing: which ring must move along its seat.
    Source: bearing makers' tables of seats (roller bearings on shafts, housings), ball rings from memory.
    """
    need("bore", bore_mm, "mm", above=0, most=100)
    inner, outer = _against_load(turning, load)
    shaft = _shaft(inner, weight, bore_mm, rollers, slides == "shaft")
    housing = _housing(outer, weight, slides == "housing", accurate)
    return Seats(shaft, housing, _reason("inner", inner, weight, slides == "shaft"),
                 _reason("outer", outer, weight, slides == "housing"))


def _against_load(turning: str, load: str) -> tuple[str, str]:
    """What the inner and the outer ring do under the load."""
    if load == "indeterminate":
        return EITHER, EITHER
    inner_turns = (turning == "inner") == (load == "fixed")
    return (TURNS, RESTS) if inner_turns else (RESTS, TURNS)


def _shaft(stands: str, weight: str, bore_mm: float, rollers: bool, slides: bool) -> str:
    if stands == RESTS:
        return "g6" if slides else "h6"
    if slides:
        refuse("seats, slides", NO_SLIDING, "", "let the other ring slide")
    if rollers:
        light, normal = ("j6" if bore_mm <= 25 else "k6"), ("k6" if bore_mm <= 30 else "m6")
        return {"light": light, "normal": normal, "heavy": "n6"}[weight]
    return {"light": "j6", "normal": "k5", "heavy": "m6"}[weight]


def _housing(stands: str, weight: str, slides: bool, accurate: bool) -> str:
    if stands == RESTS:
        return "H7" if slides else "K7" if accurate else "J7"
    if slides:
        refuse("seats, slides", NO_SLIDING, "", "let the other ring slide")
    if stands == EITHER:
        return {"light": "J7", "normal": "K7", "heavy": "M7"}[weight]
    return {"light": "M7", "normal": "N7", "heavy": "P7"}[weight]


def _reason(ring: str, stands: str, weight: str, slides: bool) -> str:
    if stands == RESTS:
        freedom = "loose enough to slide" if slides else "a light fit is enough"
        return f"the {ring} ring {stands}: {freedom}"
    return f"the {ring} ring {stands} ({weight}): it creeps unless it is held"


def compound_for(gap_mm: float) -> Row:
    """The retaining compound for a diametral gap: of those that fill it, the one for the smallest gaps.

    Raises: RangeError below the least and above the largest gap.
    Source: table retaining; least gap 0.01 mm (0.0004 in) as a maker of adhesives advises.
    """
    from generator.tables import load

    rows = sorted(load("retaining").rows, key=lambda row: (row.number("gap_max_mm"), -row.number("strength_low_n_mm2")))
    need("gap on the diameter", gap_mm, "mm", least=LEAST_GAP_MM, most=rows[-1].number("gap_max_mm"))
    return next(row for row in rows if row.number("gap_max_mm") >= gap_mm)


def holds_by_compound_n(strength_mpa: float, seat_mm: float, width_mm: float, share: float = STRENGTH_SHARE) -> float:
    """The push along the axis that a bonded seat holds.

    Source: strength x pi d l x share for gap, material and warmth; share 0.2 to 0.3 from memory.
    """
    need("strength", strength_mpa, "MPa", above=0)
    need("seat", seat_mm, "mm", above=0)
    need("width", width_mm, "mm", above=0)
    need("share of the strength", share, above=0, most=1)
    return strength_mpa * math.pi * seat_mm * width_mm * share


def _work(given: Mapping[str, Any]) -> Outcome:
    from generator.tables import ring

    of = ring(given["ring"])
    if of.type == "thrust":
        return _thrust_seats(of)
    weight, sources = _weight(given, of)
    rollers = of.type == "taper roller"
    found = seats_for(
        given["turning"], given["load"], weight, of.bore_mm, rollers=rollers, slides=given["slides"],
        accurate=given["accurate"],
    )
    values: dict[str, float | str | None] = {
        "shaft": found.shaft, "housing": found.housing, "shaft_reason": found.shaft_reason,
        "housing_reason": found.housing_reason, "weight": weight,
        **(_limits(of, found) if not rollers else {}), **_rescue(given, of),
    }
    if given["gap"] is not None:
        sources.append(COMPOUND_SOURCE)
    return Outcome(values, tuple(sources), _both_tight(given))


def _weight(given: Mapping[str, Any], of: Ring) -> tuple[str, list[str]]:
    if given["force"] is None:
        return given["weight"], []
    from generator.tables import ring_rating

    rating = ring_rating(of)
    return weight_of(given["force"], rating.dynamic_n), [WEIGHT_SOURCE, rating.source]


def _both_tight(given: Mapping[str, Any]) -> tuple[str, ...]:
    if given["load"] != "indeterminate":
        return ()
    return ("Both rings are tight: check the clearance left (reckon fit) and how the rings come out again.",)


def _thrust_seats(of: Ring) -> Outcome:
    gap = 0.001 * of.outside_mm
    reason = f"axial load only: the housing washer must find its own middle, radial gap up to {gap:.3f} mm"
    values = {
        "shaft": "h6", "housing": "H8", "shaft_reason": "axial load only: the shaft washer is centred",
        "housing_reason": reason,
    }
    return Outcome(values)


def _limits(of: Ring, found: Seats) -> dict[str, float | str | None]:
    """Deviations in um and the clearance with the ring's own limits, worst."""
    from generator.reckoning.fit import Deviations, clearance_span_mm
    from generator.tables import limits, ring_limits

    held = ring_limits(of.bore_mm, of.outside_mm)
    shaft, housing = limits(found.shaft, of.bore_mm), limits(found.housing, of.outside_mm)
    inner = clearance_span_mm(
        Deviations(held.bore_upper_mm, held.bore_lower_mm), Deviations(shaft.upper_mm, shaft.lower_mm)
    )
    outer = clearance_span_mm(
        Deviations(housing.upper_mm, housing.lower_mm), Deviations(held.outside_upper_mm, held.outside_lower_mm)
    )
    mm = {
        "shaft_upper": shaft.upper_mm, "shaft_lower": shaft.lower_mm, "housing_upper": housing.upper_mm,
        "housing_lower": housing.lower_mm, "on_shaft_clearance_least": inner.least,
        "on_shaft_clearance_most": inner.most, "in_housing_clearance_least": outer.least,
        "in_housing_clearance_most": outer.most,
    }
    return {name: round(1000 * value, 6) + 0.0 for name, value in mm.items()}


def _rescue(given: Mapping[str, Any], of: Ring) -> dict[str, float | str | None]:
    if given["gap"] is None:
        return {}
    gap_mm = given["gap"] / 1000
    row = compound_for(gap_mm)
    seat = of.bore_mm if given["loose"] == "shaft" else of.outside_mm
    return {
        "compound": row.text("grade"), "compound_gap": 1000 * row.number("gap_max_mm"),
        "compound_holds": holds_by_compound_n(row.number("strength_low_n_mm2"), seat, of.width_mm),
        "compound_removal": row.text("removal"), "compound_offset": given["gap"] / 2,
    }


RECKONING = Reckoning(
    name="seats",
    summary="classes for shaft and housing of a ring, with the reason; a compound for a seat that came out loose",
    inputs=(
        Input("ring", "designation of the ring", "text", required=True),
        Input("turning", "which ring turns", "choice", default="inner", choices=("inner", "outer")),
        Input("load", "how the load stands: fixed in space, turning with the ring, or indeterminate", "choice",
              default="fixed", choices=("fixed", "turning", "indeterminate")),
        Input("weight", "how heavy the load is", "choice", default="normal", choices=("light", "normal", "heavy")),
        Input("force", "load on the ring, to find how heavy it is", "force", "N", least=0),
        Input("slides", "which ring must slide along its seat", "choice", default="none",
              choices=("none", "shaft", "housing")),
        Input("accurate", "running accuracy wanted: a resting outer ring in K7", "yes or no", default=False),
        Input("gap", "clearance on the diameter of a seat that came out loose", "length", "um", above=0),
        Input("loose", "which seat that is", "choice", default="housing", choices=("shaft", "housing")),
    ),
    outputs=(
        Output("shaft", "", "class of the shaft"),
        Output("housing", "", "class of the housing"),
        Output("shaft_reason", "", "why"),
        Output("housing_reason", "", "why"),
        Output("weight", "", "how heavy the load counts"),
        Output("shaft_upper", "um", "upper deviation of the shaft"),
        Output("shaft_lower", "um", "lower deviation of the shaft"),
        Output("housing_upper", "um", "upper deviation of the housing"),
        Output("housing_lower", "um", "lower deviation of the housing"),
        Output("on_shaft_clearance_least", "um", "ring on shaft; below zero an interference"),
        Output("on_shaft_clearance_most", "um", "ring on shaft, most"),
        Output("in_housing_clearance_least", "um", "ring in housing; below zero an interference"),
        Output("in_housing_clearance_most", "um", "ring in housing, most"),
        Output("compound", "", "retaining compound for the gap"),
        Output("compound_gap", "um", "largest gap it fills"),
        Output("compound_holds", "N", "push along the axis that it holds, a quarter of the least strength"),
        Output("compound_removal", "", "how it comes apart"),
        Output("compound_offset", "um", "how far the ring may lie to one side unless it is centred while it cures"),
    ),
    work=_work,
    source=RULE_SOURCE,
    validity="Steel shaft and steel or iron housing of solid section; thin or light-alloy housings want a tighter one.",
    example={"ring": "6204", "turning": "inner", "load": "fixed", "weight": "normal"},
)
