"""The wall left while it is clamped: a thin ring goes out of round in hard jaws, and is bored round only there."""

from __future__ import annotations

from collections.abc import Iterator

from generator.description import Part, Surface, diameter_at
from generator.findings import PRACTICE, Finding
from generator.making.plan_checks.plan import HARD_JAWS, Plan, found
from generator.making.plan_checks.surfaces import words
from generator.making.setups import SetUp

__all__ = ["about_squeeze"]

_HARD_SHARE, _SOFT_SHARE = 0.1, 0.03
"""Least wall in hard jaws and in soft jaws bored to the size, of the outside diameter."""
_SOURCE = f"{PRACTICE}: a tenth of the diameter in hard jaws, 0.03 of it in soft jaws that go all round"
_CURE = (
    "hold it in soft jaws bored to its size, or bore it before it is parted from the bar, or turn the outside on a "
    "mandrel that fits the bore"
)


def about_squeeze(plan: Plan) -> Iterator[Finding]:
    """A finding for every set-up that clamps a wall too thin for its jaws; a stop where it cuts something round.

    Source: least walls, common practice, no source.
    """
    for place, setup in enumerate(plan.setups):
        share = _HARD_SHARE if setup.located in HARD_JAWS else _SOFT_SHARE if setup.located == "soft jaws" else None
        held = plan.surface(setup.grips)
        if share is None or held is None or held[1].side != "outside":
            continue
        walled = _wall(plan, setup, place, *held)
        if walled is None:
            continue
        wall_mm, outside_mm = walled
        least_mm = share * outside_mm
        if wall_mm >= least_mm - 1e-6:
            continue
        round_work = any((one := plan.surface(address)) is not None and not one[1].at for address in setup.finishes)
        hard = setup.located in HARD_JAWS
        yield found(
            "order-thin-wall", "stop" if hard and round_work else "warn", setup, setup.grips,
            f"wall of {wall_mm:.2f} mm under the jaws on {words(setup.grips)}: it is squeezed out of round",
            _CURE if hard else "grip lightly, or turn it on a mandrel that fits the bore",
            value=wall_mm, least=least_mm, source=_SOURCE,
        )  # fmt: skip


def _wall(plan: Plan, setup: SetUp, place: int, part: Part, surface: Surface) -> tuple[float, float] | None:
    """Wall left and outside diameter where the jaws bear, when this set-up is done; None where it is solid there."""
    low, high = _under_jaws(plan, setup, part, surface)
    bores = [
        _largest_between(plan, part, bore, low, high)
        for bore in part.surfaces
        if bore.side.startswith("inside") and plan.is_made_before(f"{part.name}/{bore.name}", place + 1)
    ]
    bore_mm = max(bores, default=0.0)
    if not bore_mm:
        return None
    outside_mm = _largest_between(plan, part, surface, low, high)
    return (outside_mm - bore_mm) / 2.0, outside_mm


def _under_jaws(plan: Plan, setup: SetUp, part: Part, surface: Surface) -> tuple[float, float]:
    """The stretch of the surface that is held: at its end away from what is cut."""
    low, high = plan.span(part, surface)
    if setup.grip_mm is None or setup.grip_mm >= high - low:
        return low, high
    z_of = plan.z_of(part)
    mine = [name for owner, _, name in (address.partition("/") for address in setup.finishes) if owner == part.name]
    # Faces and outsides tell at which end the tool is; bores may reach from there past the jaws.
    middles = [z_of[name] for name in mine if name in z_of]
    for side in ("outside", "inside"):
        cut = [part.by_name[name] for name in mine if name in part.by_name and part.by_name[name].side.startswith(side)]
        middles = middles or [sum(plan.span(part, one)) / 2.0 for one in cut]
    cut_at = sum(middles) / len(middles) if middles else high
    return (low, low + setup.grip_mm) if cut_at >= (low + high) / 2.0 else (high - setup.grip_mm, high)


def _largest_between(plan: Plan, part: Part, surface: Surface, low: float, high: float) -> float:
    """Largest diameter of a surface between two places, 0 where it does not reach there."""
    near, far = plan.span(part, surface)
    start, end = max(low, near), min(high, far)
    if end - start <= 1e-6:
        return 0.0
    z_of = plan.z_of(part)
    return max(diameter_at(part, surface, z, z_of) for z in (start, end))
