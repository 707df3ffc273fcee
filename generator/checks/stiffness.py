"""Strength and stiffness of a spindle under its duty: stress at its shoulders, deflection of the point by cause."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.duty import Duty, yield_of
from generator.checks.judged import Limit, Say, judged
from generator.checks.spindle import Spindle
from generator.description import Choices
from generator.findings import Finding
from generator.reckoning.amounts import RangeError
from generator.reckoning.beam import Shoulder, solve_beam
from generator.reckoning.bending import bending_stress_mpa, notch_factor, quill_deflection_mm
from generator.reckoning.reactions import JOINT_SOURCE, NOTCH_SOURCE, QUILL_SOURCE, RING_SOURCE, deflection_bands

__all__ = ["deflection_finding", "strength_finding"]

ENDURANCE_SHARE = 0.35
"""Stress, notch taken in, that a turning spindle bears for ever, over its tensile strength: 0.5, less for finish and
size. From memory."""
STEEPEST = 20.0


def strength_finding(spindle: Spindle, duty: Duty) -> Iterator[Finding]:
    """The worst bending stress on the spindle, notches taken in, against what a turning spindle bears for ever."""
    _, tensile, source = yield_of(spindle.material)
    found = solve_beam(spindle.beam(duty.worst_radial_n))
    worst, place, words = 0.0, 0.0, "nowhere bent"
    for at, diameter, bore in spindle.plain:
        moment = found.moment_at_n_mm(at)
        stress = bending_stress_mpa(moment, diameter, bore)
        if stress > worst:
            worst, place = stress, at
            words = f"where it is {diameter:.1f} mm thick, no notch there, {abs(moment) / 1000:.1f} N m"
    for shoulder in spindle.steps:
        factor = _factor(shoulder)
        moment = found.moment_at_n_mm(shoulder.place_mm)
        stress = factor * bending_stress_mpa(moment, shoulder.small_mm, shoulder.bore_mm)
        if stress > worst:
            worst, place = stress, shoulder.place_mm
            words = (
                f"at the step {shoulder.large_mm:.1f} to {shoulder.small_mm:.1f} mm, fillet {shoulder.fillet_mm:.2f}, "
                f"notch factor {factor:.1f}, {abs(moment) / 1000:.1f} N m"
            )
    ahead = spindle.point_mm - place
    yield judged(
        "strength", "spindle", "bending stress where the spindle is worst notched", worst,
        Limit(most=ENDURANCE_SHARE * tensile),
        Say(
            f"{NOTCH_SOURCE}; endurance {ENDURANCE_SHARE:g} of the tensile strength, from memory; {source}",
            f"{words[:1].upper()}{words[1:]}, {ahead:.1f} mm behind the load; core of {spindle.material}.{duty.basis}",
            "MPa", ("spindle.overhang", "loads.depth", "loads.feed", "spindle.nose_diameter"),
        ),
        "stop" if duty.is_given and worst > tensile else "warn",
    )


def _factor(shoulder: Shoulder) -> float:
    """The notch factor; 1 for a step so shallow that it is none, that of the steepest known beyond the data."""
    try:
        return notch_factor(shoulder.large_mm, shoulder.small_mm, shoulder.fillet_mm)
    except RangeError:
        height = (shoulder.large_mm - shoulder.small_mm) / 2
        if height < shoulder.fillet_mm:
            return 1.0
        return notch_factor(shoulder.large_mm, shoulder.small_mm, height / STEEPEST)


def deflection_finding(spindle: Spindle, duty: Duty, choices: Choices, head_mm: float) -> Iterator[Finding]:
    """How far the point gives under the sharp cut: a band by cause, since rings, joint and quill are known as bands."""
    quill_out = choices.parameters.get("loads.quill_out")
    quill = None
    if quill_out is not None:
        quill = quill_deflection_mm(
            duty.radial_n, float(quill_out.value), head_mm, choices.sizes["quill/face_diameter"].nominal_mm,
            choices.sizes["quill/socket"].nominal_mm,
        )  # fmt: skip
    bands = deflection_bands(spindle.beam(duty.radial_n), spindle.point_mm, quill)
    low, high = sum(band.low for band in bands.values()), sum(band.high for band in bands.values())
    causes = ", ".join(f"{name} {1000 * band.low:.1f} to {1000 * band.high:.1f}" for name, band in bands.items())
    wanted = choices.parameters.get("loads.deflection")
    out = "" if quill is not None else " The quill is left out: give loads.quill_out, it counts with its third power."
    given = "" if wanted is not None else " Give loads.deflection to have it judged."
    sources = (RING_SOURCE, JOINT_SOURCE, *((QUILL_SOURCE,) if quill is not None else ()))
    yield judged(
        "deflection", "spindle/point", "deflection of the point in the cut, middle of the band", (low + high) / 2,
        Limit(most=float(wanted.value)) if wanted is not None else Limit(),
        Say(
            f"beam elements; {'; '.join(sources)}",
            f"By cause in um: {causes}.{out}{given}{duty.basis}", "mm",
            ("spindle.overhang", "stack.spacer_1", "loads.depth", "loads.feed", "loads.quill_out"), worst=(low, high),
        ),
    )  # fmt: skip
