"""Offset, run-out and lost motion of the point: three numbers, each likely and at worst, against what is wanted."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.fits import left_span_mm, spans_mm
from generator.checks.judged import Limit, Say, judged
from generator.checks.spindle import Held, Spindle
from generator.description import Choices
from generator.findings import Finding
from generator.reckoning.truth import (
    EARNED,
    EARNED_SOURCE,
    GROUND_IN_PLACE_UM,
    Contributor,
    Total,
    levers,
    total_of_clearances,
    total_of_errors,
)

__all__ = ["truth_findings"]

TITLES = {
    "offset": "offset of the point from the taper, standing still, likely",
    "runout": "run-out of the point, indicator movement, likely",
    "lost_motion": "lost motion of the point, to and fro without load, likely",
}


def truth_findings(choices: Choices, spindle: Spindle) -> Iterator[Finding]:
    """The three numbers; the point is finished in its own bearings, so their run-out cancels."""
    front, rear = levers(spindle.arm_mm, spindle.span_mm)
    first, last = spindle.rings[0], spindle.rings[-1]
    shifts = [
        Contributor(f"bearing {held.index} to one side of its pocket", 0.0, _aside_um(choices, held), lever)
        for held, lever in ((first, front), (last, rear))
    ]
    offset = total_of_errors([
        Contributor("pocket against taper", 0.0, EARNED["pocket_runout"], 0.5),
        Contributor("socket or sleeve it was held in", 0.0, EARNED["socket_runout"], 0.5), *shifts,
    ])  # fmt: skip
    turned = total_of_errors([Contributor("grinding in its own bearings", 0.0, GROUND_IN_PLACE_UM, 1.0)])
    play = total_of_clearances([
        _play(choices, spindle, 0, front), _play(choices, spindle, len(spindle.rings) - 1, rear)
    ])  # fmt: skip
    not_ground = front * 1000 * first.runout_mm + rear * 1000 * last.runout_mm
    also = {
        "offset": "Turning the tool in the quill turns its direction: mark the best place.",
        "runout": f"Finished elsewhere the bearings alone would add up to {not_ground:.0f} um.",
        "lost_motion": "The thrust of the quill takes most of it up in use.",
    }
    for name, total in (("offset", offset), ("runout", turned), ("lost_motion", play)):
        yield _judged(choices, name, total, also[name])


def _aside_um(choices: Choices, held: Held) -> float:
    """How far a ring may lie to one side of its pocket: half of its clearance there at worst."""
    in_pocket, _ = spans_mm(choices, held.index)[1]
    return 500 * max(in_pocket.most, 0.0)


def _play(choices: Choices, spindle: Spindle, number: int, lever: float) -> Contributor:
    held = spindle.rings[number]
    left = left_span_mm(choices, held, likely=True)
    least, most = (1000 * max(end, 0.0) for end in left)
    return Contributor(f"clearance of bearing {held.index}", least, most, lever)


def _judged(choices: Choices, name: str, total: Total, also: str) -> Finding:
    wanted = choices.parameters.get(f"loads.{name}")
    limit = Limit(most=1000 * float(wanted.value)) if wanted is not None else Limit()
    given = "" if wanted is not None else f" Give loads.{name} to have it judged."
    cures = ("stack.spacer_1", "spindle.overhang") if name != "runout" else ()
    source = f"geometry of a straight spindle, root of the sum of squares; {EARNED_SOURCE}"
    return judged(
        name, "spindle/point", TITLES[name], total.likely_um, limit,
        Say(source, f"From in um: {total.words}. {also}{given}", "um", cures, worst=(0.0, total.worst_um)),
    )
