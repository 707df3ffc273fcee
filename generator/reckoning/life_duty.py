"""The calculation `life` as the command line asks for it: which ring, which loads, what follows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from generator.reckoning.life import (
    Factors,
    Step,
    equivalent_load_n,
    exponent_for,
    factors_for,
    hours_at,
    induced_thrust_n,
    least_load_n,
    life_mrev,
    mean_load_n,
    mean_speed_rpm,
    pair_capacity_n,
    pair_factors,
)
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse
from generator.reckoning.static import DEFAULT_TYPE, TYPES, ring_and_rating

if TYPE_CHECKING:
    from generator.tables import Ring, RingRating

__all__ = ["RECKONING"]

ONE, UNMATCHED, OPPOSED, TANDEM = "one", "two unmatched", "matched pair", "matched tandem"
RINGS = (ONE, UNMATCHED, OPPOSED, TANDEM)
RULES_SOURCE = "least load 1 % of C for balls, 2 % for rollers: makers' rule, from memory"
INDUCED_SOURCE = "own thrust Fr / (2 Y) of an angular ring: makers' rule, from memory"
SEAL_SOURCE = "a contact seal leaves 0.65 of the grease limit: from memory"
HIGH_LOAD_SHARE = 0.5
LAST_STEP = 6.89


def _work(given: Mapping[str, Any]) -> Outcome:
    ring, rating = ring_and_rating(given)
    kind = ring.type if ring else given["type"] or DEFAULT_TYPE
    capacity_n = _capacity(given, rating)
    exponent = exponent_for(kind)
    steps = _steps(given)
    factors = [_factors(given, ring, rating, kind, step) for step in steps]
    loads = [_load(given, kind, step, held) for step, held in zip(steps, factors, strict=True)]
    speed = mean_speed_rpm(steps) if steps[0].speed_rpm else None
    load = mean_load_n(steps, loads, exponent) if len(steps) > 1 else loads[0]
    life = life_mrev(capacity_n, load, exponent)
    hours = hours_at(life, speed) if speed else None
    least = least_load_n(capacity_n, kind)
    values = {
        "dynamic_capacity": capacity_n,
        "maker": rating.maker if rating and given["c"] is None else None,
        **_factor_values(given, rating, kind, steps, factors),
        "equivalent_load": load, "capacity_over_load": capacity_n / load, "mean_speed": speed,
        "life_mrev": life, "life_h": hours, "least_load": least,
        "least_load_reached": "yes" if min(loads) >= least else "no: balls or rollers may slip in the lightest step",
        **_speed_values(rating, steps),
        "life_wanted_reached": _wanted(given, hours),
        "induced_thrust": _induced(kind, steps, factors) if given["rings"] != OPPOSED else None,
    }
    return Outcome(values, _sources(ring, rating, values), _notes(given, values, load / capacity_n))


def _capacity(given: Mapping[str, Any], rating: RingRating | None) -> float:
    single: float | None = given["c"] if given["c"] is not None else rating.dynamic_n if rating else None
    if single is None:
        refuse("life", "neither ring nor c is given", "", "give ring=6204, or c and type from a catalogue")
    return pair_capacity_n(single) if given["rings"] in (OPPOSED, TANDEM) else single


def _steps(given: Mapping[str, Any]) -> list[Step]:
    singles = ("radial", "axial", "speed")
    if given["steps"]:
        doubled = [name for name in singles if given[name] not in (None, 0.0)]
        if doubled:
            refuse("life, steps", f"{doubled[0]} is given beside steps", "", "give loads and speed in the steps alone")
        steps = [Step(*row) for row in given["steps"]]
    else:
        steps = [Step(1.0, given["radial"], given["axial"], given["speed"] or 0.0)]
    if any(step.radial_n == 0 and step.axial_n == 0 for step in steps):
        refuse("life", "a load of zero gives no life to reckon", "", "give radial, axial or both in every step")
    return steps


def _factors(
    given: Mapping[str, Any], ring: Ring | None, rating: RingRating | None, kind: str, step: Step
) -> Factors:
    if kind == "thrust":
        return Factors(0.0, 0.0, 1.0)
    own = {name: given[name] for name in ("x", "y", "e") if given[name] is not None}
    if "y" in own:
        # Without its own e the branch lies where both formulas agree: X + Y e = 1.
        radial = own.get("x", 0.56)
        return Factors(own.get("e", (1.0 - radial) / own["y"]), radial, own["y"])
    if own:
        refuse("life", "x or e is given without y", "", "give y as well, or neither")
    if given["rings"] == OPPOSED:
        if kind != "angular contact":
            refuse("life, rings", "a matched pair means angular contact rings", kind, "give x, y and e instead")
        angle = ring.contact_angle_deg if ring else given["contact_angle"]
        return pair_factors(angle or 0.0)
    static_n = given["c0"] if given["c0"] is not None else rating.static_n if rating else None
    f0 = given["f0"] if given["f0"] is not None else rating.f0 if rating else None
    axial_n = step.axial_n / 2.0 if given["rings"] == TANDEM else step.axial_n
    return factors_for(ring, rating, kind, axial_n, static_n, f0, given["contact_angle"])


def _load(given: Mapping[str, Any], kind: str, step: Step, factors: Factors) -> float:
    if kind == "thrust":
        if step.radial_n:
            cure = "give it to another ring"
            refuse("life, radial", "a thrust ring takes no radial load", f"{step.radial_n:g} N", cure)
        return step.axial_n
    return equivalent_load_n(step.radial_n, step.axial_n, factors, given["rotation_factor"])


def _factor_values(
    given: Mapping[str, Any], rating: RingRating | None, kind: str, steps: list[Step], factors: list[Factors]
) -> dict[str, float | str | None]:
    """The factors of the step with most thrust, and which branch each step takes."""
    if kind == "thrust" or all(step.axial_n == 0 for step in steps):
        return {"branch": "one load alone counts"}
    worst = max(range(len(steps)), key=lambda number: steps[number].axial_n)
    used, step = factors[worst], steps[worst]
    static_n = given["c0"] if given["c0"] is not None else rating.static_n if rating else None
    f0 = given["f0"] if given["f0"] is not None else rating.f0 if rating else None
    known = given["y"] is None and static_n and f0 and kind in ("deep groove", "angular contact")
    words = [_branch(given, step, held) for step, held in zip(steps, factors, strict=True)]
    if len(words) > 1:
        words = [f"step {number}: {word}" for number, word in enumerate(words, 1)]
    return {
        "relative_axial_load": f0 * step.axial_n / static_n if known and f0 and static_n else None,
        "limit_e": used.limit, "radial_factor": used.radial, "axial_factor": used.axial, "branch": "; ".join(words),
    }


def _branch(given: Mapping[str, Any], step: Step, factors: Factors) -> str:
    turned = given["rotation_factor"] * step.radial_n
    if turned == 0:
        return "thrust alone, X Fr + Y Fa"
    ratio = step.axial_n / turned
    if ratio > factors.limit:
        return f"Fa/Fr {ratio:.3f} above e {factors.limit:.3f}, X Fr + Y Fa"
    formula = "Fr + Y Fa" if factors.axial_below else "thrust does not count"
    return f"Fa/Fr {ratio:.3f} not above e {factors.limit:.3f}, {formula}"


def _speed_values(rating: RingRating | None, steps: list[Step]) -> dict[str, float | str | None]:
    limit = rating.grease_rpm if rating else None
    fastest = max(step.speed_rpm for step in steps)
    if limit is None:
        return {}
    verdict = None if not fastest else "within" if fastest <= limit else f"too fast by {fastest - limit:.0f} rpm"
    return {"speed_limit": limit, "speed_verdict": verdict}


def _wanted(given: Mapping[str, Any], hours: float | None) -> str | None:
    if given["wanted"] is None or hours is None:
        return None
    return "yes" if hours >= given["wanted"] else f"no: {hours / given['wanted']:.2f} of it"


def _induced(kind: str, steps: list[Step], factors: list[Factors]) -> float | None:
    if kind not in ("angular contact", "taper roller"):
        return None
    return max(induced_thrust_n(step.radial_n, held.axial) for step, held in zip(steps, factors, strict=True))


def _sources(ring: Ring | None, rating: RingRating | None, values: Mapping[str, Any]) -> tuple[str, ...]:
    sealed = ring is not None and ring.sealed and values.get("speed_limit") is not None
    found = (
        rating.source if rating else "", SEAL_SOURCE if sealed else "",
        INDUCED_SOURCE if values["induced_thrust"] is not None else "",
    )
    return tuple(filter(None, found))


def _notes(given: Mapping[str, Any], values: Mapping[str, Any], share: float) -> tuple[str, ...]:
    notes = []
    if given["rings"] == UNMATCHED:
        notes.append("Two rings that are not matched do not share thrust: all of it is put on this one.")
    if (values.get("relative_axial_load") or 0.0) > LAST_STEP:
        notes.append("The thrust is beyond the table of e and Y, whose last step is taken: go by static safety.")
    if share > HIGH_LOAD_SHARE:
        notes.append("The load is above half of C, where ISO 281 overstates the life: go by static safety.")
    return tuple(notes)


_LIFE_TYPES = (*TYPES, "roller")
_RING_INPUTS = (
    Input("ring", "designation of the ring, such as 6204-2RS", "text"),
    Input("maker", "maker whose figures count; without one the lowest known count", "text"),
    Input("c", "dynamic capacity, instead of the maker's", "force", "N", above=0),
    Input("c0", "static capacity, instead of the maker's", "force", "N", above=0),
    Input("f0", "factor of the ring in f0 Fa / C0", "number", least=5, most=25),
    Input("type", "of a ring given by its capacity alone; else deep groove", "choice", choices=_LIFE_TYPES),
    Input("contact_angle", "of an angular ring given by its capacity alone", "angle", "deg", least=15, most=45),
)
_STEP_FIELDS = (
    Input("part", "part of the time, in any unit alike in all rows", "share", above=0, required=True),
    Input("radial", "radial load", "force", "N", least=0, required=True),
    Input("axial", "thrust", "force", "N", least=0, required=True),
    Input("speed", "speed", "speed", "rpm", above=0, required=True),
)

RECKONING = Reckoning(
    name="life",
    summary="hours and revolutions that nine rings in ten reach (ISO 281), least load, speed limit",
    inputs=(
        *_RING_INPUTS,
        Input("radial", "radial load on this ring (on both of a matched pair)", "force", "N", default=0.0, least=0),
        Input("axial", "thrust on this ring (on both of a matched pair)", "force", "N", default=0.0, least=0),
        Input("speed", "speed; without it the life is in revolutions only", "speed", "rpm", above=0),
        Input("steps", "duty in steps, instead of one load and speed", "rows", fields=_STEP_FIELDS),
        Input("rings", "how many rings bear these loads", "choice", default=ONE, choices=RINGS),
        Input("x", "radial factor from a catalogue", "number", least=0, most=1),
        Input("y", "axial factor from a catalogue", "number", above=0, most=5),
        Input("e", "limit of Fa/Fr from a catalogue", "number", least=0, most=2),
        Input("rotation_factor", "1.2 for a turning outer ring, once usual", "number", default=1.0, least=1, most=1.2),
        Input("wanted", "life wanted", "time", "h", above=0),
    ),
    outputs=(
        Output("dynamic_capacity", "N", "dynamic capacity C, of both rings where they are matched"),
        Output("maker", "", "whose figure it is"),
        Output("relative_axial_load", "", "f0 Fa / C0 at the most thrust"),
        Output("limit_e", "", "e at the most thrust"),
        Output("radial_factor", "", "X where Fa/Fr is above e"),
        Output("axial_factor", "", "Y where Fa/Fr is above e"),
        Output("branch", "", "which formula counts"),
        Output("equivalent_load", "N", "equivalent load P, mean of the steps"),
        Output("capacity_over_load", "", "C / P"),
        Output("mean_speed", "rpm", "mean of the steps"),
        Output("life_mrev", "million revolutions", "L10"),
        Output("life_h", "h", "L10h"),
        Output("life_wanted_reached", "", "against the life wanted"),
        Output("least_load", "N", "load below which the rolling elements may slip"),
        Output("least_load_reached", "", "whether every step reaches it"),
        Output("speed_limit", "rpm", "of the ring with grease and its seals"),
        Output("speed_verdict", "", "the fastest step against the speed limit"),
        Output("induced_thrust", "N", "thrust an angular ring brings forth itself, for the other ring to hold"),
    ),
    work=_work,
    source=f"ISO 281; {RULES_SOURCE}",
    validity="Nine rings in ten, clean grease, load up to half of C. C belongs to the ring, not to the tool it is in.",
    example={"ring": "6208", "maker": "NSK", "radial": "2500 N", "axial": "1000 N", "speed": "900 rpm"},
)
