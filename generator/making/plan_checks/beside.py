"""What stands beside the lathe for hard points: is the furnace enough for the fire, is there a wheel for after it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import PRACTICE, Finding
from generator.making.heat_here import TORCH_MM, heat_of, in_a_furnace, why_not_here
from generator.making.plan_checks.plan import Cut, Plan, found
from generator.making.plan_checks.surfaces import words

__all__ = ["about_beside"]


def about_beside(plan: Plan) -> Iterator[Finding]:
    """A warning for each set-up whose fire this shop has not, or whose hard surface nothing grinds.

    Source: the shop file; common practice, no source.
    """
    seen: set[tuple[str, int]] = set()
    for cut in plan.steps:
        for finding in (*_fire(plan, cut), *_wheel(plan, cut)):
            if (finding.code, cut.place) not in seen:
                seen.add((finding.code, cut.place))
                yield finding


def _fire(plan: Plan, cut: Cut) -> Iterator[Finding]:
    part = plan.part_of(cut.setup)
    if part is None:
        return
    z_of, known = plan.z_of(part), plan.surface(cut.step.surface)
    length = max(z_of.values()) - min(z_of.values())
    reason = why_not_here(cut.step, length, None if known is None else plan.widest_mm(*known), plan.workshop)
    if not reason:
        return
    where = words(cut.step.surface) if cut.step.surface else part.title
    steel = f"write steel ({part.material}), hardness and what stays soft on the order"
    other = (
        "take a steel that a torch hardens, such as O1 or silver steel" if in_a_furnace(cut.step)
        else f"keep the hard end to {TORCH_MM:g} mm, which a torch heats through"
    )
    value, least = (plan.workshop.furnace_c, heat_of(cut.step)) if "reaches" in reason else (None, None)
    yield found(
        "order-furnace", "warn", cut.setup, cut.step.surface or part.name,
        f"{where} cannot be hardened in this shop: {reason}",
        f"send it out to a heat-treater: {steel}; or {other}",
        value=value, least=least, unit="°C",
        source=f"{plan.workshop.sources.get('furnace_c', 'the shop file')}; {PRACTICE}",
    )  # fmt: skip


def _wheel(plan: Plan, cut: Cut) -> Iterator[Finding]:
    if cut.step.work != "grind" or plan.workshop.wheel != "none":
        return
    address = cut.features[0] if cut.features else (cut.setup.parts or ("work",))[0]
    yield found(
        "order-wheel", "warn", cut.setup, address,
        f"nothing grinds in this shop, and {words(address)} is hard",
        "clamp a die grinder on the top slide, or turn it with a CBN tip in cuts of 0.05 mm; or send it out to be "
        "ground true to what it runs on here, 0.2 mm left on it",
        source=f"{plan.workshop.sources.get('wheel', 'the shop file')}; {PRACTICE}",
    )  # fmt: skip
