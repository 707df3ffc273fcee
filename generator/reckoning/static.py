"""Static safety of a bearing and the thrust it may be given: first of the checks, since shop tools die of load.

Letters of ISO 76 inside the formulas only: P0 equivalent static load, X0 and Y0 factors, C0 static capacity, s0 safety.
Loads in newtons; floats or arrays alike.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from generator.reckoning.amounts import larger, need, plain, where
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse

if TYPE_CHECKING:
    from generator.tables import Ring, RingRating

__all__ = [
    "RECKONING", "StaticFactors", "axial_limit_n", "most_axial_n", "static_equivalent_n", "static_factors",
    "static_safety", "thrust_static_equivalent_n",
]

DEEP_GROOVE = (0.6, 0.5)
ANGULAR_X0 = 0.5
USUAL_AXIAL_SHARE = 0.5
LIGHT_AXIAL_SHARE = 0.25
LIGHT_SERIES = ("617", "618", "619", "160")
SMALL_BORE_MM = 12.0
DEFAULT_SAFETY = 1.5

STATIC_SOURCE = "ISO 76, factors as printed in a bearing catalogue (E1102e)"
SHARE_SOURCE = "share of C0 that thrust may reach: makers' rule, from memory"
SAFETY_SOURCE = "safety 1.5 wanted: shop choice within makers' 1 to 2 for balls, from memory"


class StaticFactors(NamedTuple):
    """Factors of the equivalent static load."""

    radial: float
    axial: float


def static_equivalent_n(radial_n: float, axial_n: float, factors: StaticFactors | tuple[float, float]) -> float:
    """The static load that strains the ring as both loads together do; never below the radial load.

    Source: ISO 76, P0 = X0 Fr + Y0 Fa, not below Fr.

    >>> static_equivalent_n(600.0, 1000.0, (0.6, 0.5))
    860.0
    """
    need("radial load", radial_n, "N", least=0)
    need("axial load", axial_n, "N", least=0)
    both: float = plain(larger(factors[0] * radial_n + factors[1] * axial_n, radial_n + 0.0))
    return both


def thrust_static_equivalent_n(radial_n: float, axial_n: float, contact_angle_deg: float) -> float:
    """The static load of a thrust ball ring; at 90 degrees it takes no radial load at all.

    Raises: RangeError for a radial load at 90 degrees.
    Source: ISO 76, P0 = Fa + 2.3 Fr tan(contact angle) below 90 degrees.
    """
    need("contact angle", contact_angle_deg, "deg", above=45, most=90)
    need("axial load", axial_n, "N", least=0)
    if contact_angle_deg == 90:
        need("radial load on a thrust ring of 90 degrees", radial_n, "N", least=0, most=0)
        return axial_n
    need("radial load", radial_n, "N", least=0)
    return axial_n + 2.3 * radial_n * math.tan(math.radians(contact_angle_deg))


def static_safety(static_capacity_n: float, equivalent_n: float) -> float:
    """How many times the equivalent static load fits into the static capacity.

    Source: ISO 76, s0 = C0 / P0.
    """
    need("static capacity", static_capacity_n, "N", above=0)
    need("equivalent static load", equivalent_n, "N", above=0)
    return static_capacity_n / equivalent_n


def axial_limit_n(static_capacity_n: float, *, light: bool) -> float:
    """The thrust a deep groove ring should not be given: half of C0, a quarter for light series and small bores.

    Source: bearing makers' rule, from memory.
    """
    need("static capacity", static_capacity_n, "N", above=0)
    return static_capacity_n * (LIGHT_AXIAL_SHARE if light else USUAL_AXIAL_SHARE)


def most_axial_n(
    static_capacity_n: float, radial_n: float, factors: StaticFactors | tuple[float, float], safety: float
) -> float:
    """The thrust at which the wanted safety is just kept beside this radial load; zero where there is none left.

    Source: ISO 76, P0 = X0 Fr + Y0 Fa solved for Fa.
    """
    need("static capacity", static_capacity_n, "N", above=0)
    need("safety", safety, above=0)
    need("axial factor", factors[1], above=0)
    allowed = static_capacity_n / safety
    left = (allowed - factors[0] * radial_n) / factors[1]
    limit: float = plain(where(radial_n <= allowed, left, left * 0.0))
    return limit


def static_factors(ring_type: str, contact_angle_deg: float | None, axial_factor: float | None) -> StaticFactors:
    """The factors of a single ring of this type; an angular or taper ring needs its axial factor.

    Source: ISO 76; axial factors of angular and taper rings from the ring's row.
    """
    if ring_type == "deep groove":
        return StaticFactors(*DEEP_GROOVE)
    if axial_factor is None:
        from generator.tables import load

        for row in load("iso281_constants").rows:
            named = f"{ring_type} {contact_angle_deg or 0:g} deg"
            if row.text("type") == named and row.text("quantity") == "Y0 single":
                axial_factor = float(row.text("value"))
    if axial_factor is None:
        refuse("y0", f"no static axial factor is known for {ring_type}", "", "give y0 from the maker's catalogue")
    return StaticFactors(ANGULAR_X0, axial_factor)


def is_light(ring: Ring) -> bool:
    """Whether a ring is of a light series or small, so that less thrust is allowed.

    Source: bearing makers' rule, from memory.
    """
    return ring.bore_mm <= SMALL_BORE_MM or ring.designation.startswith(("68", "69", *LIGHT_SERIES))


def _work(given: Mapping[str, Any]) -> Outcome:
    ring, rating = ring_and_rating(given)
    static_n = given["c0"] if given["c0"] is not None else rating.static_n if rating else None
    if static_n is None:
        refuse("static", "neither ring nor c0 is given", "", "give ring=6204, or c0 and type from a catalogue")
    kind = ring.type if ring else given["type"] or DEFAULT_TYPE
    radial_n, axial_n = given["radial"], given["axial"]
    if radial_n == 0 and axial_n == 0:
        refuse("static", "both loads are zero", "", "give radial, axial or both")
    if kind == "thrust":
        return _thrust(given, static_n, rating)
    angle = ring.contact_angle_deg if ring else None
    axial_factor = given["y0"] if given["y0"] is not None else rating.y0 if rating and kind != "deep groove" else None
    found = static_factors(kind, angle, axial_factor)
    factors = StaticFactors(given["x0"] if given["x0"] is not None else found.radial, axial_factor or found.axial)
    equivalent = static_equivalent_n(radial_n, axial_n, factors)
    light = is_light(ring) if ring else given["light"]
    by_safety = most_axial_n(static_n, radial_n, factors, given["safety"])
    by_rule = axial_limit_n(static_n, light=light) if kind == "deep groove" else None
    limit = by_safety if by_rule is None else min(by_safety, by_rule)
    safety = static_safety(static_n, equivalent)
    fine = safety >= given["safety"] and axial_n <= limit
    verdict = "enough" if fine else f"too little: {'thrust' if axial_n > limit else 'load'} beyond what is wanted"
    values = {
        "static_capacity": static_n, "radial_factor": factors.radial, "axial_factor": factors.axial,
        "equivalent_load": equivalent, "safety": safety, "axial_limit_by_rule": by_rule,
        "axial_limit_by_safety": by_safety, "axial_limit": limit, "verdict": verdict,
        "maker": rating.maker if rating and given["c0"] is None else None,
    }
    sources = tuple(filter(None, (rating.source if rating else "", SHARE_SOURCE if by_rule is not None else "")))
    return Outcome(values, sources)


def _thrust(given: Mapping[str, Any], static_n: float, rating: RingRating | None) -> Outcome:
    equivalent = thrust_static_equivalent_n(given["radial"], given["axial"], 90.0)
    safety, limit = static_safety(static_n, equivalent), static_n / given["safety"]
    verdict = "enough" if safety >= given["safety"] else "too little: thrust beyond what is wanted"
    values = {
        "static_capacity": static_n, "equivalent_load": equivalent, "safety": safety, "axial_limit_by_safety": limit,
        "axial_limit": limit, "verdict": verdict, "maker": rating.maker if rating and given["c0"] is None else None,
    }
    return Outcome(values, (rating.source,) if rating else ())


def ring_and_rating(given: Mapping[str, Any]) -> tuple[Ring | None, RingRating | None]:
    """The ring named in the inputs and what its maker states, or what the lowest maker states; None without a ring.

    Source: tables rings and ring_ratings.
    """
    if given["ring"] is None:
        return None, None
    from generator.tables import ring, ring_rating

    of = ring(given["ring"])
    rated = given["c0"] is not None and given.get("c", given["c0"]) is not None
    return of, None if rated else ring_rating(of, given["maker"])


DEFAULT_TYPE = "deep groove"
TYPES = ("deep groove", "angular contact", "taper roller", "thrust")
RING_INPUTS = (
    Input("ring", "designation of the ring, such as 6204-2RS", "text"),
    Input("maker", "maker whose figures count; without one the lowest known count", "text"),
    Input("c0", "static capacity, instead of the maker's", "force", "N", above=0),
    Input("type", "of a ring given by its capacity alone; else deep groove", "choice", choices=TYPES),
)

RECKONING = Reckoning(
    name="static",
    summary="static safety of a ring and the thrust it may be given (ISO 76)",
    inputs=(
        *RING_INPUTS,
        Input("radial", "radial load on this ring", "force", "N", default=0.0, least=0),
        Input("axial", "thrust on this ring; unmatched rings do not share it", "force", "N", default=0.0, least=0),
        Input("x0", "radial factor from a catalogue, instead of the standard's", "number", least=0, most=1),
        Input("y0", "axial factor from a catalogue, instead of the table's", "number", above=0, most=5),
        Input("light", "small or light series, where c0 is given instead of a ring", "yes or no", default=False),
        Input("safety", "static safety wanted", "number", default=DEFAULT_SAFETY, least=0.5, most=20),
    ),
    outputs=(
        Output("static_capacity", "N", "static capacity C0 of the ring"),
        Output("maker", "", "whose figure it is"),
        Output("radial_factor", "", "X0"),
        Output("axial_factor", "", "Y0"),
        Output("equivalent_load", "N", "equivalent static load P0"),
        Output("safety", "", "static safety s0 = C0 / P0"),
        Output("axial_limit_by_rule", "N", "share of C0 a deep groove ring may be pushed with"),
        Output("axial_limit_by_safety", "N", "thrust at which the wanted safety is just kept"),
        Output("axial_limit", "N", "the smaller of both"),
        Output("verdict", "", "against the safety wanted and the axial limit"),
    ),
    work=_work,
    source=f"{STATIC_SOURCE}; {SAFETY_SOURCE}",
    validity="One ring standing still or turning slowly. C0 belongs to the ring, not to the tool built with it.",
    example={"ring": "6204", "radial": "600 N", "axial": "1000 N"},
)
