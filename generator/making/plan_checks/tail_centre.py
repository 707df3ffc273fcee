"""Is the revolving centre true enough for what is finished on it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.description import Surface
from generator.findings import PRACTICE, Finding
from generator.making.plan_checks.plan import Plan, found
from generator.making.plan_checks.surfaces import words
from generator.making.tail_centre import revolves

__all__ = ["about_tail_centre"]

_FINE = frozenset({"seat", "pocket", "taper", "point"})
_TAPER_MM = 0.01
"""Wanted of a taper or a point, whose drawing gives no band on the diameter. Common practice, no source."""
_SHARE = 0.5
"""Of the band of a size that run-out of its support may take. Shop choice."""


def about_tail_centre(plan: Plan) -> Iterator[Finding]:
    """A warning for each set-up that finishes something finer than its revolving centre runs; the finest is named.

    Source: run-out by the shop file; share of the band a shop choice.
    """
    run_out = plan.workshop.tail_centre_run_out_mm
    for setup in plan.setups:
        if setup.located != "centres" or not revolves(setup, plan.workshop):
            continue
        known = ((address, plan.surface(address)) for address in setup.finishes)
        fine = [(_band_mm(one[1]), address) for address, one in known if one is not None and one[1].role in _FINE]
        band, address = min(fine, default=(0.0, ""))
        if address and run_out > _SHARE * band:
            yield found(
                "order-tail-centre", "warn", setup, address,
                f"{words(address)} is finished on a revolving centre that may run out by more than half of its band",
                "rough on the revolving centre, then finish on a dead one, greased and slow, without unclamping the "
                "carrier; or measure the centre's run-out and give it",
                value=run_out, most=_SHARE * band,
                source=f"{plan.workshop.sources.get('tail_centre_run_out_mm', 'the shop file')}; {PRACTICE}",
            )  # fmt: skip


def _band_mm(surface: Surface) -> float:
    """Width of the band of a diameter; of a taper or a point what is wanted of its form."""
    band = surface.diameter.upper_mm - surface.diameter.lower_mm
    return band if band > 0 and surface.role in {"seat", "pocket"} else _TAPER_MM
