"""The cap screw that draws the rings up: tightening torque, stress, and engagement against stripping."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.duty import yield_of
from generator.checks.judged import Limit, Say, judged
from generator.description import ChainResult, Choices
from generator.findings import Finding
from generator.reckoning import screw
from generator.tables import cap_screw, thread

__all__ = ["screw_findings"]

CLASS = "8.8"
USE, NUT_FACTOR, FRICTION = 0.7, 0.2, 0.14
SOURCE = "ISO 898-1 from memory; K = 0.2 as received, common practice; VDI 2230 for the twist"


def screw_findings(choices: Choices, engagement: ChainResult | None) -> Iterator[Finding]:
    """Torque and stress of the screw at the preload usual, and the length of thread that must hold it."""
    name = choices.names["tapped_hole/thread"]
    of, held = thread(name), screw.property_class(CLASS, choices.facts["screw_major"])
    area = screw.stress_area_mm2(of.major_mm, of.pitch_mm)
    preload = screw.preload_n(area, held.proof_mpa, USE)
    torque = screw.simple_torque_n_mm(preload, of.major_mm, NUT_FACTOR)
    twist = screw.torsion_stress_mpa(
        screw.thread_torque_n_mm(preload, of.pitch_mm, of.pitch_diameter_mm, FRICTION), area
    )
    stress = screw.combined_stress_mpa(preload / area, twist)
    yield judged(
        "screw", "screw", f"stress in the {name} screw at its preload", stress, Limit(most=held.proof_mpa),
        Say(
            SOURCE,
            f"Class {CLASS}: tighten to {torque / 1000:.1f} N m as received (about {preload / 1000:.1f} kN), the "
            f"spindle held by its nose; key {cap_screw(name).key_mm:g} mm.", "MPa",
        ),
    )  # fmt: skip
    if engagement is None:
        return
    _, tensile, source = yield_of(choices.names["spindle/material"])
    per_mm = screw.inner_shear_area_mm2_per_mm(of.major_mm, of.pitch_diameter_mm, of.pitch_mm)
    needed = screw.engagement_needed_mm(area * held.tensile_mpa, screw.SHEAR_OF_TENSILE * tensile, per_mm)
    chamfer = choices.sizes["spindle/end_chamfer"].nominal_mm
    value = engagement.low_mm - chamfer
    yield judged(
        "stripping", "spindle/tapped_hole", "full thread engaged at worst, so that the screw breaks before it strips",
        value, Limit(needed),
        Say(
            f"FED-STD-H28; shear strength {screw.SHEAR_OF_TENSILE:g} of the tensile strength, from memory; {source}",
            "A stripped spindle is scrap, a screw is not.", "mm", ("retention.screw_length",),
        ),
    )  # fmt: skip
