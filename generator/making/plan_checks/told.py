"""What an order of work does not tell, so that a check of it cannot run."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding
from generator.making.plan_checks.plan import NOT_TOLD, Plan, found
from generator.making.setups import SetUp

__all__ = ["about_untold"]

_JAWS = ("grips", "grip_mm", "out_mm")
_NEEDS = {
    "": ("located",),
    "bar": _JAWS,
    "three-jaw": _JAWS,
    "soft jaws": _JAWS,
    "four-jaw": _JAWS,
    "mandrel": ("grips", "grip_mm"),
    "centres": (),
    "finished taper": ("grips", "out_mm"),
    "own bearings": (),
    "bench": (),
}
_SAID = {
    "located": "how the work is held", "grips": "what holds the work", "grip_mm": "how much of it is held",
    "out_mm": "how far it sticks out",
}


def about_untold(plan: Plan) -> Iterator[Finding]:
    """A warning for each set-up that leaves out what its way of holding needs, or the kind of one of its steps."""
    for setup in plan.setups:
        missing = [*_untold(setup), *(["the kind of every step"] if any(not step.work for step in setup.steps) else [])]
        if missing:
            yield found(
                "order-not-told", "warn", setup, setup.parts[0],
                f"the order of work does not say {', '.join(missing)}",
                NOT_TOLD, source="this program",
            )  # fmt: skip


def _untold(setup: SetUp) -> Iterator[str]:
    for name in _NEEDS[setup.located]:
        if getattr(setup, name) in (None, ""):
            yield _SAID[name]
