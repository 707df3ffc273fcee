"""Nothing fine goes through the fire, and what is hard is ground, not cut."""

from __future__ import annotations

from collections.abc import Iterator

from generator.description import Surface
from generator.findings import Finding, Severity
from generator.making.plan_checks.plan import Cut, Plan, found
from generator.making.plan_checks.surfaces import words

__all__ = ["about_heat"]

_FIRE = frozenset({"harden", "case"})
_HARD_CUTS = frozenset({"grind", "lap"})
_SOFT_CUTS = frozenset({
    "saw", "face", "centre", "rough", "turn", "taper", "groove", "thread", "part", "knurl", "drill", "ream", "bore",
    "tap", "mill", "file",
})  # fmt: skip
_FINE = frozenset({"seat", "pocket", "taper", "point"})
_FORMED = frozenset({"chamfer", "relief", "drill point", "thread"})
_FINE_RA_UM = 0.8
_SCALE = "heat bends steel and leaves scale; common practice, no source"
_HARD = "a file skates on it, so do drill, tap and turning tool; common practice, no source"


def about_heat(plan: Plan) -> Iterator[Finding]:
    """Stops for fine surfaces that are finished before the part is hardened, and for soft cuts on what is hard.

    Source: common practice, no source.
    """
    for fire in plan.steps:
        if fire.step.work in _FIRE:
            yield from _through_the_fire(plan, fire)
            yield from _cut_when_hard(plan, fire)
            yield from _never_ground(plan, fire)


def _through_the_fire(plan: Plan, fire: Cut) -> Iterator[Finding]:
    """Fine surfaces finished before; only a warning where a torch heats one end and this is not that end."""
    fires = [step for step in fire.setup.steps if step.work in _FIRE]
    torch = any("torch" in f"{step.tool} {step.text}".casefold() for step in fires)
    local = torch and not any(step.work == "case" for step in fires)
    for name in fire.setup.parts:
        part = plan.tool.parts[name]
        for surface in part.surfaces:
            address = f"{name}/{surface.name}"
            if not _is_fine(surface) or not plan.is_made_before(address, fire.place):
                continue
            mild = local and bool(fire.step.surface) and address not in fire.features
            severity: Severity = "warn" if mild else "stop"
            yield found(
                "order-heat", severity, fire.setup, address,
                f"{words(address)} is finished already when the part is hardened",
                "keep it cool in a heat sink, and measure it again" if mild
                else "leave 0.3 to 0.5 mm on it, harden, then finish it: grind what is hard, turn what stayed soft",
                source=_SCALE,
            )  # fmt: skip


def _is_fine(surface: Surface) -> bool:
    if surface.role in _FORMED:
        return False
    fine_finish = surface.finish_ra_um is not None and surface.finish_ra_um <= _FINE_RA_UM
    return surface.role in _FINE or fine_finish or bool(surface.diameter.tolerance_class)


def _hardened(plan: Plan, fire: Cut) -> frozenset[str]:
    """Addresses that are hard after the fire: what the step names, else the whole of each part in it."""
    if fire.features:
        return frozenset(fire.features)
    if fire.step.surface:
        return frozenset()
    return frozenset(f"{name}/{one}" for name in fire.setup.parts for one in plan.features_of(name))


def _cut_when_hard(plan: Plan, fire: Cut) -> Iterator[Finding]:
    """Soft cuts on hardened surfaces after the fire."""
    hard = _hardened(plan, fire)
    for cut in plan.steps:
        if not fire.is_before(cut) or cut.step.work not in _SOFT_CUTS:
            continue
        for address in cut.features:
            if address in hard:
                yield found(
                    "order-hard", "stop", cut.setup, address,
                    f"{words(address)} is hard since set-up {fire.setup.number}: to {cut.step.work} it is too late",
                    "do it before the part is hardened, or grind it", source=_HARD,
                )  # fmt: skip


def _never_ground(plan: Plan, fire: Cut) -> Iterator[Finding]:
    """Hardened fine surfaces whose last set-up grinds nothing."""
    for address in fire.features:
        known, places = plan.surface(address), plan.cut_in.get(address, ())
        if known is None or not _is_fine(known[1]) or not places or places[-1] <= fire.place:
            continue
        setup = plan.setups[places[-1]]
        if all(step.work for step in setup.steps) and not any(step.work in _HARD_CUTS for step in setup.steps):
            yield found(
                "order-hard", "stop", setup, address,
                f"{words(address)} is hard since set-up {fire.setup.number}, and nothing here grinds it",
                "grind it to size, with a tool-post grinder if there is no other", source=_HARD,
            )  # fmt: skip
