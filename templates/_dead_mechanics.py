"""The mechanics of a dead centre: thrust, rubbing, pressure in the hole, grip, and what is left of a half point."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.checks.duty import duty_finding, duty_of
from generator.checks.grip import drag_of_point, grip_finding
from generator.checks.judged import not_run, try_out
from generator.checks.points import Cone, dead_thrust, half_strength, pressure_finding, rubbing_finding
from generator.description import Choices
from generator.errors import GeneratorError
from generator.findings import Finding

__all__ = ["mechanics"]


def mechanics(choices: Choices) -> Iterator[Finding]:
    """Everything that is reckoned of a point that stands still."""
    size, half, hole = choices.sizes, choices.facts["half_deg"], "point.centre_hole"
    head, mouth, tip = (size[name].nominal_mm for name in ("point/head", "work/mouth", "point/tip"))
    try:
        duty = duty_of(choices, half)
    except GeneratorError as problem:
        yield not_run("duty", "loads", "duty", str(problem).rstrip("."))
        return
    yield from duty_finding(duty)
    if duty is None:
        return
    asked: list[tuple[str, str, str, Iterable[Finding]]] = [
        ("thrust", "loads.thrust", "thrust", dead_thrust(duty, mouth, tip)),
        ("pressure", "centre/point", "pressure in the centre hole",
         pressure_finding(duty, "centre/point", hole, mouth, tip, half)),
        ("rubbing", "centre/point", "rubbing speed", rubbing_finding(duty, mouth)),
        ("grip", "shank", "grip of the taper",
         grip_finding(choices, duty, drag_of_point(duty, mouth, tip, half))),
    ]  # fmt: skip
    if choices.names["form"] == "half":
        height, flat = size["point/flat_height"].low, size["point/flat_length"].high
        cone = Cone(head, mouth, tip, half)
        left = half_strength(duty, cone, height, flat, choices.names["material"])
        asked.append(("half_strength", "centre/flat", "strength of the half point", left))
    for code, address, title, work in asked:
        yield from try_out(code, address, title, work)
