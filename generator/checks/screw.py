"""What draws the rings up: tightening torque of screw or nut, the screw's stress and engagement against stripping."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.checks.contacts import Contact, inner_contacts
from generator.checks.duty import yield_of
from generator.checks.judged import Limit, Say, judged, told
from generator.description import ChainResult, Choices
from generator.errors import TableError
from generator.findings import Finding
from generator.reckoning import screw
from generator.tables import cap_screw, thread

__all__ = ["clamp_finding", "nut_finding", "screw_findings", "settled_preload_n", "strength_mpa", "torque_n_m"]

CLASS = "8.8"
USE, NUT_FACTOR, FRICTION = 0.7, 0.2, 0.14
NUT_STEEL, NUT_USE = "C45", 0.1
"""The nut presses rings only: a tenth of what its thread could bear. Shop choice."""
LEAST_N_MM = 20.0
"""Least preload that keeps spindle, rings and spacers together, for each mm of the last bore. Shop choice."""
HOLD_SHARE = 0.8
"""How much of what holds the spindle the torque may use. Shop choice."""
FACE_SHARE = 0.3
"""Pressure on a soft face that clamps an inner ring over its yield strength: it stays flat and square, and the inner
ring straight. Shop choice."""
SOURCE = "ISO 898-1 from memory; K = 0.2 as received, common practice; VDI 2230 for the twist"


def _face_mm2(choices: Choices, contact: Contact) -> float:
    """Area on which a face and the inner ring of its bearing meet: from the chamfer out to the lesser of both."""
    ring = f"ring_{contact.index}"
    out = min(contact.outside.low, choices.sizes[f"{ring}/inner_land"].nominal_mm)
    return math.pi / 4 * max(out**2 - choices.facts[f"{ring}/face_from"] ** 2, 0.01)


def strength_mpa(steel: str) -> float:
    """Yield strength of a steel; that of plain carbon steel where nothing is known of it."""
    try:
        return yield_of(steel)[0]
    except TableError:
        return yield_of(NUT_STEEL)[0]


def _bears_mpa(choices: Choices, contact: Contact) -> float:
    """The pressure allowed on the softer of both, which is never the hardened ring."""
    is_spindle = contact.address.startswith("spindle/")
    return FACE_SHARE * strength_mpa(choices.names["spindle/material"] if is_spindle else NUT_STEEL)


def _weakest(choices: Choices) -> tuple[float, Contact]:
    """The clamping force that the weakest face on an inner ring bears, and that face."""
    faces = [(_face_mm2(choices, face) * _bears_mpa(choices, face), face) for face in inner_contacts(choices)]
    return min(faces, key=lambda held: held[0])


def _usual_preload_n(choices: Choices) -> float:
    """What the screw or the nut's thread would bear, whatever it presses on."""
    if choices.names["retention"] == "nut":
        of = thread(choices.names["nut/thread"])
        return screw.preload_n(screw.stress_area_mm2(of.major_mm, of.pitch_mm), strength_mpa(NUT_STEEL), NUT_USE)
    of, held = thread(choices.names["tapped_hole/thread"]), screw.property_class(CLASS, choices.facts["screw_major"])
    return screw.preload_n(screw.stress_area_mm2(of.major_mm, of.pitch_mm), held.proof_mpa, USE)


def _major_mm(choices: Choices) -> float:
    style = choices.names["retention"]
    return thread(choices.names["nut/thread" if style == "nut" else "tapped_hole/thread"]).major_mm


def settled_preload_n(choices: Choices, held_n_m: float) -> float:
    """The preload of screw or nut: what its thread, the faces on the inner rings and the spindle's hold all bear.

    No less than keeps the stack together, even if something does not bear that: the check says so.
    """
    by_hold = HOLD_SHARE * held_n_m * 1000 / (NUT_FACTOR * _major_mm(choices))
    least = LEAST_N_MM * choices.sizes[f"ring_{choices.counts['rings']}/bore"].nominal_mm
    return max(least, min(_usual_preload_n(choices), _weakest(choices)[0], by_hold))


def torque_n_m(choices: Choices) -> float:
    """Torque of screw or nut as received at its preload, in N m."""
    return screw.simple_torque_n_mm(choices.facts["preload_n"], _major_mm(choices), NUT_FACTOR) / 1000


def clamp_finding(choices: Choices) -> Iterator[Finding]:
    """Pressure on the face that bears least of all those that clamp the inner rings."""
    _, face = _weakest(choices)
    force, usual, area = choices.facts["preload_n"], _usual_preload_n(choices), _face_mm2(choices, face)
    style = choices.names["retention"]
    words = f"{force / 1000:.2f} kN on {area:.0f} mm2, the {face.title} on bearing {face.index}."
    if usual > force:
        words += (
            f" At the {usual / 1000:.1f} kN that the {style}'s thread could bear it would be {usual / area:.0f} MPa: "
            "the torque is held down to what faces and hold bear."
        )
    yield judged(
        "clamp", face.address, f"pressure on the weakest face that the {style} clamps an inner ring by", force / area,
        Limit(most=_bears_mpa(choices, face)),
        Say(f"force over area; {FACE_SHARE:g} of the yield strength, shop choice", words, "MPa"),
    )  # fmt: skip


def nut_finding(choices: Choices) -> Iterator[Finding]:
    """Torque of the round nut, and what keeps it from working loose."""
    yield told(
        "nut", "nut", f"tightening and locking of the {choices.names['nut/thread']} nut",
        "K = 0.2 as received, common practice; a tenth of the yield, shop choice",
        f"Tighten to {torque_n_m(choices):.1f} N m (about {choices.facts['preload_n'] / 1000:.1f} kN), the spindle "
        "held by its nose. Thread-locking compound of medium strength on the clean dry thread: nothing else keeps it "
        "where it is, and nobody can reach it once the body is closed.",
    )  # fmt: skip


def screw_findings(choices: Choices, engagement: ChainResult | None) -> Iterator[Finding]:
    """Torque and stress of the screw at the preload usual, and the length of thread that must hold it."""
    name = choices.names["tapped_hole/thread"]
    of, held = thread(name), screw.property_class(CLASS, choices.facts["screw_major"])
    area = screw.stress_area_mm2(of.major_mm, of.pitch_mm)
    preload = choices.facts["preload_n"]
    twist = screw.torsion_stress_mpa(
        screw.thread_torque_n_mm(preload, of.pitch_mm, of.pitch_diameter_mm, FRICTION), area
    )
    stress = screw.combined_stress_mpa(preload / area, twist)
    yield judged(
        "screw", "screw", f"stress in the {name} screw at its preload", stress, Limit(most=held.proof_mpa),
        Say(
            SOURCE,
            f"Class {CLASS}: tighten to {torque_n_m(choices):.1f} N m (about {preload / 1000:.1f} kN), the "
            f"spindle held by its nose; key {cap_screw(name).key_mm:g} mm. So lightly stretched a screw may work "
            "loose: thread-locking compound of medium strength on the clean dry thread.", "MPa",
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
