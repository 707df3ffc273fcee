"""Static safety, the window of thrust, life and speed of the rings of a spindle under the job's duty."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.duty import Duty, screw_of
from generator.checks.judged import Limit, Say, judged, not_run
from generator.checks.spindle import Held, Spindle
from generator.description import Choices
from generator.findings import Finding, Severity
from generator.reckoning.life import equivalent_load_n, factors_for, hours_at, least_load_n, life_mrev
from generator.reckoning.static import (
    DEEP_GROOVE,
    SHARE_SOURCE,
    STATIC_SOURCE,
    axial_limit_n,
    is_light,
    most_axial_n,
    static_equivalent_n,
    static_safety,
)
from generator.reckoning.thrust import (
    EFFICIENCY,
    GRAVITY_M_S2,
    STEEL_UM_M_K,
    STIFFNESS_N_UM,
    handwheel_pull_n,
    warming_used_up_k,
)

__all__ = ["hand_words", "life_findings", "most_thrust_n", "speed_finding", "static_findings", "thrust_window"]

SEAL_SHARE = 0.65
LOAD_CURES = ("loads.depth", "loads.feed", "stack.spacer_1", "spindle.overhang")
UNKNOWN = "no maker's figures are known for {}: name the bearing by a designation of the table rings"


def _severity(duty: Duty, *, is_grave: bool) -> Severity:
    """A stop only where the figures were given; what rests on a default warns."""
    return "stop" if is_grave and duty.is_given else "warn"


def _loads(spindle: Spindle, held: Held, duty: Duty) -> tuple[float, float]:
    """Worst radial load of a ring, and the thrust it may get: any trapped ring may get all of it."""
    return spindle.borne_n(held, duty.worst_radial_n), duty.thrust_high_n if held.is_trapped else 0.0


def static_findings(spindle: Spindle, duty: Duty, safety: float) -> Iterator[Finding]:
    """Static safety of each ring at worst: first of all, since shop tools die of load and thrust, not of hours.

    A stop where what the job itself gives, cut or thrust, already takes more than C0; defaults only warn.
    """
    for held in spindle.rings:
        title = f"static safety of bearing {held.index}, {held.label}"
        if held.rating is None:
            yield not_run("static", held.name, title, UNKNOWN.format(held.label))
            continue
        radial, axial = _loads(spindle, held, duty)
        load = static_equivalent_n(radial, axial, DEEP_GROOVE)
        certain = static_equivalent_n(
            radial if duty.is_given else 0.0, axial if duty.is_thrust_given else 0.0, DEEP_GROOVE
        )
        value = static_safety(held.rating.static_n, load)
        advice = (
            f"It bears {radial:.0f} N across and {axial:.0f} N along the axis at worst, P0 {load:.0f} N, "
            f"against C0 {held.rating.static_n:.0f} N ({held.rating.maker}).{duty.basis}"
        )
        yield judged(
            "static", held.name, title, value, Limit(safety),
            Say(f"{STATIC_SOURCE}; {held.rating.source}", advice, "", (*LOAD_CURES, "loads.thrust")),
            "stop" if certain > held.rating.static_n else "warn",
        )


def most_thrust_n(spindle: Spindle, duty: Duty, safety: float) -> tuple[float, str] | None:
    """The thrust that the trapped rings bear beside their radial load, and which one sets it; None if unknown."""
    found = []
    for held in spindle.rings:
        if not held.is_trapped:
            continue
        if held.rating is None:
            return None
        radial = spindle.borne_n(held, duty.worst_radial_n)
        by_safety = most_axial_n(held.rating.static_n, radial, DEEP_GROOVE, safety)
        by_rule = axial_limit_n(held.rating.static_n, light=is_light(held.ring))
        found.append((min(by_safety, by_rule) + 0.0, held.label))
    return min(found)


def thrust_window(spindle: Spindle, duty: Duty, safety: float, choices: Choices) -> Iterator[Finding]:
    """The thrust set, between what keeps the work seated and what the rings bear."""
    title = "thrust set, in its window"
    most = most_thrust_n(spindle, duty, safety)
    if most is None:
        words = next(held.label for held in spindle.rings if held.is_trapped and held.rating is None)
        yield not_run("thrust", "loads.thrust", title, UNKNOWN.format(words))
        return
    limit, label = most
    source = f"statics of a cone; {SHARE_SOURCE}"
    if duty.least_thrust_n > limit:
        advice = f"No thrust will do: the work asks for {duty.least_thrust_n:.0f} N, {label} bears {limit:.0f} N."
        yield judged(
            "thrust", "loads.thrust", "window of thrust", limit - duty.least_thrust_n, Limit(0.0),
            Say(source, advice + duty.basis, "N", LOAD_CURES), _severity(duty, is_grave=True),
        )
        return
    low, high = duty.thrust_low_n, duty.thrust_high_n
    value = low if low < duty.least_thrust_n else high
    grave = value < duty.least_thrust_n
    advice = (
        f"Below {duty.least_thrust_n:.0f} N a blunt tool lifts the work out of the point; above {limit:.0f} N bearing "
        f"{label} is pushed too hard. {hand_words(choices, value)}{_warm_words(duty, limit)}{duty.basis}"
    )
    yield judged(
        "thrust", "loads.thrust", title, value, Limit(duty.least_thrust_n, limit),
        Say(source, advice, "N", ("loads.thrust", "loads.pull", *LOAD_CURES)), _severity(duty, is_grave=grave),
    )


def hand_words(choices: Choices, thrust_n: float) -> str:
    """The pull on a luggage scale at the handwheel's rim that sets a thrust."""
    lead, wheel, given = screw_of(choices)
    pull = handwheel_pull_n(thrust_n, lead, wheel, sum(EFFICIENCY) / 2)
    usual = "" if given else f" (lead {lead:g} mm, wheel {wheel:g} mm usual of the class: measure yours)"
    return f"About {pull / GRAVITY_M_S2:.1f} kg on a luggage scale at the handwheel's rim sets {thrust_n:.0f} N{usual}."


def _warm_words(duty: Duty, limit_n: float) -> str:
    margin = limit_n - duty.thrust_high_n
    if margin <= 0:
        return ""
    soft, stiff = STIFFNESS_N_UM
    low, high = (
        warming_used_up_k(margin, held, duty.work_length_mm, STEEL_UM_M_K) for held in (stiff, soft)
    )
    return f" The work warming by {low:.0f} to {high:.0f} K uses the margin up: ease the quill as it warms."


def life_findings(spindle: Spindle, duty: Duty, wanted_h: float) -> Iterator[Finding]:
    """Hours that nine rings in ten reach in a steady sharp cut, all thrust on any trapped ring."""
    for held in spindle.rings:
        title = f"life of bearing {held.index}, {held.label}"
        rating = held.rating
        if rating is None:
            yield not_run("life", held.name, title, UNKNOWN.format(held.label))
            continue
        radial, axial = spindle.borne_n(held, duty.radial_n), duty.thrust_high_n if held.is_trapped else 0.0
        factors = factors_for(held.ring, rating, held.ring.type, axial, rating.static_n, rating.f0)
        load = equivalent_load_n(radial, axial, factors)
        hours = hours_at(life_mrev(rating.dynamic_n, load), duty.speed_rpm)
        advice = f"P {load:.0f} N against C {rating.dynamic_n:.0f} N at {duty.speed_rpm:.0f} rpm."
        if load < least_load_n(rating.dynamic_n):
            advice += " So lightly loaded its balls may slip: a light preload helps."
        if load > rating.dynamic_n / 2:
            advice += " Above half of C ISO 281 overstates the life: go by static safety."
        yield judged(
            "life", held.name, title, hours, Limit(wanted_h),
            Say(f"ISO 281; {rating.source}", advice + duty.basis, "h", (*LOAD_CURES, "loads.thrust", "loads.speed")),
        )


def speed_finding(spindle: Spindle, duty: Duty) -> Iterator[Finding]:
    """The speed against the limits of the rings with grease and their own seals."""
    known = [held for held in spindle.rings if held.rating is not None and held.rating.grease_rpm is not None]
    unknown = [held.label for held in spindle.rings if held not in known]
    if not known:
        yield not_run("speed", "loads.speed", "speed of the bearings", UNKNOWN.format(", ".join(unknown)))
        return
    limits = [(held.rating.grease_rpm or 0.0) if held.rating else 0.0 for held in known]
    limit = min(limits)
    slow = known[limits.index(limit)]
    sealed = slow.ring.sealed
    open_limit = limit / SEAL_SHARE if sealed else limit
    covered = "with its contact seals" if sealed else "with grease"
    advice = f"{slow.label} {covered} goes first.{' Not known: ' + ', '.join(unknown) + '.' if unknown else ''}"
    given = "loads.speed" not in duty.defaults
    yield judged(
        "speed", "loads.speed", "speed within the limits of bearings and seals", duty.speed_rpm,
        Limit(most=limit, digits=5),
        Say(
            "bearing catalogue; a contact seal leaves 0.65 of it, from memory", advice + duty.basis, "rpm",
            ("loads.speed",),
        ),
        "stop" if given and duty.speed_rpm > open_limit else "warn",
    )
