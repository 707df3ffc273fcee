"""What draws the rings up: tightening torque of screw or nut, the screw's stress and engagement against stripping."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.duty import yield_of
from generator.checks.judged import Limit, Say, judged, told
from generator.description import ChainResult, Choices
from generator.findings import Finding
from generator.reckoning import screw
from generator.tables import cap_screw, thread

__all__ = ["nut_finding", "nut_torque_n_m", "screw_findings", "screw_torque_n_m"]

CLASS = "8.8"
USE, NUT_FACTOR, FRICTION = 0.7, 0.2, 0.14
NUT_STEEL, NUT_USE = "C45", 0.1
"""The nut presses rings only: a tenth of what its thread could bear. Shop choice."""
SOURCE = "ISO 898-1 from memory; K = 0.2 as received, common practice; VDI 2230 for the twist"


def screw_torque_n_m(choices: Choices) -> float:
    """Torque as received at the usual preload, in N m."""
    of, held = thread(choices.names["tapped_hole/thread"]), screw.property_class(CLASS, choices.facts["screw_major"])
    preload = screw.preload_n(screw.stress_area_mm2(of.major_mm, of.pitch_mm), held.proof_mpa, USE)
    return screw.simple_torque_n_mm(preload, of.major_mm, NUT_FACTOR) / 1000


def _nut_preload_n(choices: Choices) -> float:
    of = thread(choices.names["nut/thread"])
    return screw.preload_n(screw.stress_area_mm2(of.major_mm, of.pitch_mm), yield_of(NUT_STEEL)[0], NUT_USE)


def nut_torque_n_m(choices: Choices) -> float:
    """Torque of the round nut as received, in N m."""
    major_mm = thread(choices.names["nut/thread"]).major_mm
    return screw.simple_torque_n_mm(_nut_preload_n(choices), major_mm, NUT_FACTOR) / 1000


def nut_finding(choices: Choices) -> Iterator[Finding]:
    """Torque of the round nut, and what keeps it from working loose."""
    yield told(
        "nut", "nut", f"tightening and locking of the {choices.names['nut/thread']} nut",
        "K = 0.2 as received, common practice; a tenth of the yield, shop choice",
        f"Tighten to {nut_torque_n_m(choices):.1f} N m (about {_nut_preload_n(choices) / 1000:.1f} kN), the spindle "
        "held by its nose. Thread-locking compound of medium strength on the clean dry thread: nothing else keeps it "
        "where it is, and nobody can reach it once the body is closed.",
    )  # fmt: skip


def screw_findings(choices: Choices, engagement: ChainResult | None) -> Iterator[Finding]:
    """Torque and stress of the screw at the preload usual, and the length of thread that must hold it."""
    name = choices.names["tapped_hole/thread"]
    of, held = thread(name), screw.property_class(CLASS, choices.facts["screw_major"])
    area = screw.stress_area_mm2(of.major_mm, of.pitch_mm)
    preload = screw.preload_n(area, held.proof_mpa, USE)
    twist = screw.torsion_stress_mpa(
        screw.thread_torque_n_mm(preload, of.pitch_mm, of.pitch_diameter_mm, FRICTION), area
    )
    stress = screw.combined_stress_mpa(preload / area, twist)
    yield judged(
        "screw", "screw", f"stress in the {name} screw at its preload", stress, Limit(most=held.proof_mpa),
        Say(
            SOURCE,
            f"Class {CLASS}: tighten to {screw_torque_n_m(choices):.1f} N m (about {preload / 1000:.1f} kN), the "
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
