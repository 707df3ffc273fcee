"""Can the taper be cut the way that was chosen: on this slide, with this tailstock, on these supports."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.findings import PRACTICE, Finding
from generator.making.plan_checks.plan import Plan, by_whom, found
from generator.making.plan_checks.surfaces import words
from generator.making.setups import SetUp
from generator.reckoning import taper as reckon
from generator.reckoning.set_over import MUCH_SHARE

__all__ = ["about_tapers"]

_RUN_MM = 3.0
"""Slide travel wanted beyond the cone at each end. Shop choice."""


def about_tapers(plan: Plan) -> Iterator[Finding]:
    """Findings about the method of every outside taper that the plan cuts, or that comes with a bought shank.

    Source: geometry (`generator.reckoning.taper`); set-over on points, common practice, no source.
    """
    method = plan.workshop.taper_method
    for setup in plan.setups:
        for address in setup.finishes:
            known = plan.surface(address)
            if known is None or known[1].role != "taper" or known[1].side != "outside":
                continue
            part, surface = known
            near, far = plan.span(part, surface)
            ratio = reckon.taper_of_half_angle(abs(surface.half_angle_deg))
            if _is_cut(plan, address) is not (method != "bought shank"):
                yield _at_odds(plan, setup, address)
                continue
            if method == "bought shank":
                continue
            if method == "top slide":
                yield from _slide(plan, setup, address, far - near, ratio)
            elif method == "set-over":
                yield from _set_over(plan, setup, address, ratio)
            elif method == "attachment":
                yield from _attachment(plan, setup, address, far - near)


def _is_cut(plan: Plan, address: str) -> bool:
    """False where every step that has to do with this taper only tries or measures it; steps without a kind count."""
    mine = [cut.step.work for cut in plan.steps if address in cut.features]
    return not mine or any(work not in {"measure", "fit", "indicate"} for work in mine)


def _at_odds(plan: Plan, setup: SetUp, address: str) -> Finding:
    """A finished shank for which a way of cutting is set, or a taper that is cut although the shank is bought."""
    method = plan.workshop.taper_method
    if method == "bought shank":
        title = f"cuts {words(address)}, although the shank is bought with it finished"
        advice = "cut nothing on the taper of a bought shank, or name the way it is cut as the taper method"
    else:
        what = "the tailstock set over" if method == "set-over" else f"the {method}"
        title = f"{words(address)} comes finished with its shank: there is nothing to cut it by {what} for"
        advice = 'give taper_method = "bought shank", or make the shank from bar'
    source = "a finished taper is only proved; common practice, no source"
    return found("order-taper-method", "stop", setup, address, title, advice, source=source)


def _slide(plan: Plan, setup: SetUp, address: str, cone_mm: float, ratio: float) -> Iterator[Finding]:
    """A top slide shorter than the cone cannot cut it in one pass; one with no room to run out is awkward."""
    has = plan.workshop.top_slide_travel_mm
    bare, with_room = (reckon.slide_travel_mm(cone_mm, ratio, run) for run in (0.0, _RUN_MM))
    if has >= with_room - 0.05:
        return
    severity, source = by_whom(plan, "top_slide_travel_mm")
    short = has < bare
    yield found(
        "order-slide-short", severity if short else "warn", setup, address,
        f"the top slide does not travel along the whole of {words(address)}" if short
        else f"the top slide has little room to run out at {words(address)}",
        "cut this taper another way: tailstock set over, taper attachment, or a bought shank" if short
        else "set the slide so that both ends of the cone are covered before cutting",
        value=has, least=bare if short else with_room, source=f"geometry; {source}",
    )  # fmt: skip


def _set_over(plan: Plan, setup: SetUp, address: str, ratio: float) -> Iterator[Finding]:
    """Set-over needs both centres, and a tailstock that goes so far; on 60 degree points it wears the holes."""
    if setup.located != "centres":
        yield found(
            "order-taper-method", "stop", setup, address,
            f"the tailstock is set over for {words(address)}, but the work is not held between centres",
            "cut it between centres, driven by a carrier, or with the top slide",
            source="trade practice: set-over only between centres; lifelarn.com, offsetting the tailstock",
        )  # fmt: skip
        return
    blank = plan.blanks.get(address.partition("/")[0])
    if blank is None:
        return
    shop = plan.workshop
    sine = math.sin(math.atan(ratio / 2.0))
    # Held by the part itself, its stub is gone.
    move = (blank.faced_mm if setup.grips in {"bar", ""} else blank.finished_mm) * sine
    if move > shop.set_over_most_mm:
        severity, source = by_whom(plan, "set_over_most_mm")
        yield found(
            "order-set-over", severity, setup, address, f"the tailstock does not go over so far for {words(address)}",
            "keep the blank shorter between its ends, or cut the taper with the top slide",
            value=move, most=shop.set_over_most_mm, source=source,
        )  # fmt: skip
    points = "60-degree" in (shop.headstock_support, shop.tailstock_support)
    if points and sine > MUCH_SHARE:
        yield found(
            "order-set-over-share", "warn", setup, address,
            f"set over by {100 * sine:.1f} % of the length, a 60 degree point wears its hole",
            "put balls in both centre holes, take light cuts, grease again and again, then prove with a test bar",
            value=100 * sine, most=100 * MUCH_SHARE, unit="% of the length", source=PRACTICE,
        )  # fmt: skip


def _attachment(plan: Plan, setup: SetUp, address: str, cone_mm: float) -> Iterator[Finding]:
    has = plan.workshop.attachment_mm
    if has is None:
        yield found(
            "order-taper-method", "stop", setup, address, "there is no taper attachment in this shop",
            "give its length in the shop file, or choose another method", source="the shop file",
        )  # fmt: skip
    elif has < cone_mm:
        yield found(
            "order-taper-method", "stop", setup, address,
            f"the taper attachment is shorter than {words(address)}", "set the tailstock over instead",
            value=has, least=cone_mm, source="the shop file",
        )  # fmt: skip
