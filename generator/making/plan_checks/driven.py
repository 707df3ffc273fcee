"""A drill driven into work that hangs in its own taper with nothing to draw it in."""

from __future__ import annotations

from collections.abc import Iterator

from generator.description import Surface
from generator.findings import Finding
from generator.making.driving import SOURCE, driven
from generator.making.plan_checks.plan import Cut, Plan, found

__all__ = ["about_driven"]


def about_driven(plan: Plan) -> Iterator[Finding]:
    """A warning for every drill whose torque turns a shank that only its own taper holds.

    Source: `making.driving`.
    """
    for cut in plan.steps:
        if cut.step.work == "drill" and cut.setup.located == "finished taper" and not _drawn_in(cut):
            known = plan.surface(cut.setup.grips)
            if known is not None and known[1].at:
                yield from _judged(plan, cut, known[1])


def _drawn_in(cut: Cut) -> bool:
    return any(step.work == "hold" and "drawbar" in step.text for step in cut.setup.steps)


def _judged(plan: Plan, cut: Cut, taper: Surface) -> Iterator[Finding]:
    wide_mm, part = _wide_mm(plan, cut), plan.part_of(cut.setup)
    if wide_mm is None or part is None:
        return
    before_mm = max((one for one in _drilled_before(plan, cut) if one < wide_mm), default=0.0)
    reckoned = driven(part, taper, wide_mm, before_mm)
    if reckoned is not None and reckoned.slips:
        yield found(
            "order-driven", "warn", cut.setup, cut.features[0] if cut.features else part.name,
            f"torque of the {wide_mm:g} mm drill in work that only its taper holds",
            "take a smaller drill and bore the rest, or draw the shank in by a drawbar: a taper that slips is scored",
            value=round(reckoned.torque_n_m, 1), most=round(reckoned.held_n_m, 1), unit="N m", source=SOURCE,
        )  # fmt: skip


def _wide_mm(plan: Plan, cut: Cut) -> float | None:
    holes = [one[1].diameter.nominal_mm for one in map(plan.surface, cut.features) if one is not None]
    return cut.step.diameter_mm or max(holes, default=None)


def _drilled_before(plan: Plan, cut: Cut) -> Iterator[float]:
    for other in plan.steps:
        same = other.step.work == "drill" and other.is_before(cut) and set(other.setup.parts) & set(cut.setup.parts)
        wide_mm = _wide_mm(plan, other) if same else None
        if wide_mm is not None:
            yield wide_mm
