"""A carrier on a finished piece that is too narrow for its screw."""

from __future__ import annotations

from collections.abc import Iterator

from generator.description import face_positions
from generator.findings import Finding
from generator.making.plan_checks.plan import Plan, found

__all__ = ["about_carriers"]

_LEAST_MM = 8.0


def about_carriers(plan: Plan) -> Iterator[Finding]:
    """A warning where a carrier grips a finished surface shorter than 8 mm.

    Source: common practice, no source.
    """
    for setup in plan.setups:
        known = plan.surface(setup.grips) if "carrier" in setup.holding.casefold() else None
        if setup.located != "centres" or known is None:
            continue
        part, surface = known
        z_of = face_positions(part)
        long_mm = abs(z_of[surface.far] - z_of[surface.near])
        if long_mm < _LEAST_MM - 1e-6:
            yield found(
                "order-grip", "warn", setup, setup.grips, "too narrow for a carrier",
                "drive it by flats, a fork or a pin, or make it longer", value=round(long_mm, 2), least=_LEAST_MM,
            )  # fmt: skip
