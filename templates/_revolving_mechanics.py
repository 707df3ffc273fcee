"""The mechanics of a revolving centre: what each check of loads, rings, fits, strength and truth is asked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.checks.assembly import assembly_finding, dismantling_finding, sealing_finding
from generator.checks.bearings import life_findings, speed_finding, static_findings, thrust_window
from generator.checks.duty import Duty, duty_finding, duty_of
from generator.checks.fits import fit_findings, play_finding
from generator.checks.grip import drag_of_rings, grip_finding
from generator.checks.hold import hold_finding
from generator.checks.judged import not_run, try_out
from generator.checks.points import pressure_finding
from generator.checks.screw import clamp_finding, nut_finding, screw_findings
from generator.checks.spindle import Spindle, spindle_of
from generator.checks.stiffness import deflection_finding, strength_finding
from generator.checks.truth import truth_findings
from generator.description import ChainResult, Choices, Tool, evaluate_gap, positions
from generator.errors import GeneratorError
from generator.findings import Finding

__all__ = ["mechanics"]


def mechanics(choices: Choices, tool: Tool) -> Iterator[Finding]:
    """Everything that is reckoned, each check by itself: one that cannot run leaves the others standing."""
    forms = positions(tool)
    at = {address: form.nominal for address, form in forms.items()}
    chains = {gap.name: evaluate_gap(tool, gap, forms) for gap in tool.gaps if gap.name in _CHAINS}
    duty = _duty(choices)
    if isinstance(duty, Finding):
        yield duty
        duty = None
    else:
        yield from duty_finding(duty)
    try:
        spindle = spindle_of(choices, tool, at)
    except GeneratorError as problem:
        yield not_run("spindle", "spindle", "loads of the bearings, fits, strength, stiffness, truth", str(problem))
    else:
        if duty is not None:
            yield from _under_load(choices, spindle, duty, at)
        yield from _unloaded(choices, spindle, duty, chains)
    yield from try_out("assembly", "tool", "order of assembly", assembly_finding(choices, tool))
    yield from try_out("dismantling", "body", "way out", dismantling_finding(choices))
    yield from try_out("hold", "spindle/nose", "hold of the spindle", hold_finding(choices))
    if choices.names["retention"] != "circlip":
        yield from try_out("clamp", "stack", "pressure on the inner rings", clamp_finding(choices))
    if choices.names["retention"] == "screw":
        yield from try_out("screw", "screw", "screw", screw_findings(choices, chains.get("screw_engagement")))
    if choices.names["retention"] == "nut":
        yield from try_out("nut", "nut", "nut", nut_finding(choices))


_CHAINS = frozenset({"screw_engagement", "cover_collar"})


def _duty(choices: Choices) -> Duty | Finding | None:
    try:
        return duty_of(choices, choices.facts["point_half_deg"])
    except GeneratorError as problem:
        return not_run("duty", "loads", "duty", str(problem).rstrip("."))


def _under_load(choices: Choices, spindle: Spindle, duty: Duty, at: dict[str, float]) -> Iterator[Finding]:
    """Static load and thrust first: shop tools die of those."""
    at_job, size = choices.parameters, choices.sizes
    safety, life = float(at_job["loads.safety"].value), float(at_job["loads.life"].value)
    head = at["spindle/point_end"]
    asked: list[tuple[str, str, str, Iterable[Finding]]] = [
        ("static", "stack", "static safety", static_findings(spindle, duty, safety)),
        ("thrust", "loads.thrust", "thrust", thrust_window(spindle, duty, safety, choices)),
        ("life", "stack", "life of the bearings", life_findings(spindle, duty, life)),
        ("speed", "loads.speed", "speed", speed_finding(spindle, duty)),
        ("strength", "spindle", "strength", strength_finding(spindle, duty)),
        ("deflection", "spindle/point", "stiffness", deflection_finding(spindle, duty, choices, head)),
        ("grip", "shank", "grip of the taper", grip_finding(choices, duty, drag_of_rings(spindle, duty))),
    ]
    if "work/mouth" in size:
        mouth, tip = size["work/mouth"].nominal_mm, size["spindle/tip"].nominal_mm
        half, hole = choices.facts["point_half_deg"], "passes.centre_hole"
        pressed = pressure_finding(duty, "spindle/point", hole, mouth, tip, half)
        asked.append(("pressure", "spindle/point", "pressure in the centre hole", pressed))
    for code, address, title, work in asked:
        yield from try_out(code, address, title, work)


def _unloaded(
    choices: Choices, spindle: Spindle, duty: Duty | None, chains: dict[str, ChainResult]
) -> Iterator[Finding]:
    """What needs no load: fits, play, truth, sealing."""
    yield from try_out("fit", "stack", "fits of the bearings", fit_findings(choices, spindle, duty))
    yield from try_out("play", "stack", "play of the bearings", play_finding(choices, spindle))
    yield from try_out("truth", "spindle/point", "truth of the point", truth_findings(choices, spindle))
    running, front = chains.get("cover_collar"), spindle.rings[0]
    yield from try_out("sealing", "cover", "sealing", sealing_finding(choices, front, running))
