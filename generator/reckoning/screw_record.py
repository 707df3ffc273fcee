"""The calculation `screw`: from a thread and a torque or a share of its strength to preload, stress and engagement."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from generator.reckoning import screw
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse

if TYPE_CHECKING:
    from generator.tables import Thread

__all__ = ["RECKONING"]

_HEAD_MEAN_OVER_DIAMETER = 1.3
"""Mean friction diameter under a cap screw's head over its thread. From memory of VDI 2230; ISO 4762 heads give 1.25
to 1.35."""


def _thread_of(given: Mapping[str, Any]) -> tuple[float, float, float, float, Thread | None]:
    """Diameter, pitch, pitch diameter, stress area and the row of the thread named, or those of the sizes given."""
    if given["thread"] is not None:
        from generator.tables import thread

        row = thread(given["thread"])
        return row.major_mm, row.pitch_mm, row.pitch_diameter_mm, given["area"] or row.stress_area_mm2, row
    diameter, pitch = given["diameter"], given["pitch"]
    if diameter is None or pitch is None:
        refuse("screw", "no thread is given", "", "give thread=M12, or diameter and pitch")
    area = given["area"] or screw.stress_area_mm2(diameter, pitch)
    return diameter, pitch, diameter - 0.649519 * pitch, area, None


def _preload(given: Mapping[str, Any], sizes: tuple[float, float, float, float], proof: float | None) -> float | None:
    diameter, pitch, pitch_diameter, area = sizes
    if given["preload"] is not None:
        return float(given["preload"])
    if given["torque"] is None:
        return None if proof is None else screw.preload_n(area, proof, given["share"])
    if given["friction"] is not None:
        head = given["head_mean"] or _HEAD_MEAN_OVER_DIAMETER * diameter
        return screw.preload_from_torque_n(given["torque"] * 1000, pitch, pitch_diameter, head, given["friction"])
    return float(given["torque"] * 1000 / screw.simple_torque_n_mm(1.0, diameter, given["nut_factor"]))


def _work(given: Mapping[str, Any]) -> Outcome:
    diameter, pitch, pitch_diameter, area, row = _thread_of(given)
    proof, tensile = given["proof"], given["tensile"]
    sources: list[str] = [row.source] if row else []
    if given["class"] is not None:
        found = screw.property_class(given["class"], diameter)
        proof, tensile = proof or found.proof_mpa, tensile or found.tensile_mpa
        sources.append("ISO 898-1, strengths from memory")
    sizes = (diameter, pitch, pitch_diameter, area)
    values: dict[str, Any] = {"stress_area": area, "pitch_diameter": pitch_diameter}
    values |= _wires(given, pitch_diameter, pitch)
    preload = _preload(given, sizes, proof)
    if preload is not None:
        values |= _tightened(given, sizes, preload, proof)
    values |= _stripping(given, sizes, row, tensile, preload)
    return Outcome(values, tuple(sources))


def _tightened(
    given: Mapping[str, Any], sizes: tuple[float, float, float, float], preload: float, proof: float | None
) -> dict[str, Any]:
    diameter, pitch, pitch_diameter, area = sizes
    simple = screw.simple_torque_n_mm(preload, diameter, given["nut_factor"]) / 1000
    tension = preload / area
    values: dict[str, Any] = {"preload": preload, "torque": simple, "tension": tension}
    friction = given["friction"]
    if friction is not None:
        head = given["head_mean"] or _HEAD_MEAN_OVER_DIAMETER * diameter
        values["torque"] = screw.torque_n_mm(preload, pitch, pitch_diameter, head, friction) / 1000
        twist = screw.thread_torque_n_mm(preload, pitch, pitch_diameter, friction)
        values["torsion"] = screw.torsion_stress_mpa(twist, area)
        values["combined_stress"] = screw.combined_stress_mpa(tension, values["torsion"])
    if proof is not None:
        values["share_of_proof"] = values.get("combined_stress", tension) / proof
    return values


def _wires(given: Mapping[str, Any], pitch_diameter: float, pitch: float) -> dict[str, Any]:
    best = screw.best_wire_mm(pitch, given["thread_angle"])
    wire = given["wire"] or best
    values = {
        "best_wire": best, "wire_used": wire,
        "over_wires": screw.size_over_wires_mm(pitch_diameter, pitch, wire, given["thread_angle"]),
    }
    if given["measured_over_wires"] is not None:
        values["measured_pitch_diameter"] = screw.pitch_diameter_from_wires_mm(
            given["measured_over_wires"], pitch, wire, given["thread_angle"]
        )
    return values


def _stripping(
    given: Mapping[str, Any], sizes: tuple[float, float, float, float], row: Thread | None, tensile: float | None,
    preload: float | None,
) -> dict[str, Any]:
    """Shear areas at the limits given or at basic sizes; engagement for the load, or the load for the engagement."""
    diameter, pitch, pitch_diameter, area = sizes
    minor = row.minor_internal_mm if row else diameter - 1.082532 * pitch
    inner = screw.inner_shear_area_mm2_per_mm(
        given["screw_major"] or diameter, given["nut_pitch_diameter"] or pitch_diameter, pitch
    )
    outer = screw.outer_shear_area_mm2_per_mm(
        given["nut_minor"] or minor, given["screw_pitch_diameter"] or pitch_diameter, pitch
    )
    values: dict[str, Any] = {"nut_shear_area": inner, "screw_shear_area": outer}
    nut_shear = given["nut_shear"] or (given["nut_tensile"] or 0.0) * screw.SHEAR_OF_TENSILE or None
    screw_shear = tensile * screw.SHEAR_OF_TENSILE if tensile else None
    breaking = tensile * area if tensile else preload
    load = given["load"] or breaking
    if nut_shear and load:
        values["load"] = load
        by_nut = screw.engagement_needed_mm(load, nut_shear, inner)
        by_screw = screw.engagement_needed_mm(load, screw_shear, outer) if screw_shear else 0.0
        values["engagement_needed"] = max(by_nut, by_screw)
        values["strips_first"] = "thread in the hole" if by_nut >= by_screw else "thread on the screw"
    if nut_shear and given["engagement"]:
        loads = [screw.stripping_load_n(given["engagement"], nut_shear, inner)]
        loads += [screw.stripping_load_n(given["engagement"], screw_shear, outer)] if screw_shear else []
        values["stripping_load"] = min(loads)
    return values


RECKONING = Reckoning(
    name="screw",
    summary="preload, torque, stress, engagement against stripping, size over wires",
    inputs=(
        Input("thread", 'thread, such as "M12", "M12x1.5" or "3/4-10 UNC"', "text"),
        Input("diameter", "major diameter, where no thread is named", "length", "mm", above=0),
        Input("pitch", "pitch, where no thread is named", "length", "mm", above=0),
        Input("area", "stress area, instead of the table's", "area", "mm2", above=0),
        Input("class", "property class", "choice", choices=screw.CLASSES),
        Input("proof", "proof strength, instead of a class", "pressure", "MPa", above=0),
        Input("tensile", "tensile strength of the screw, instead of a class", "pressure", "MPa", above=0),
        Input("share", "share of the proof strength to be used", "share", "", default=0.7, above=0, most=1),
        Input("torque", "tightening torque, to find the preload", "torque", "N m", above=0),
        Input("preload", "preload, instead of a share", "force", "N", above=0),
        Input("nut_factor", "nut factor, used where no friction is given", "number", default=0.2, least=0.05, most=0.5),
        Input("friction", "friction in thread and under head", "number", least=0.02, most=0.6),
        Input("head_mean", "mean friction diameter under the head; 1.3 x thread without it", "length", "mm", above=0),
        Input("engagement", "full thread in engagement", "length", "mm", above=0),
        Input("load", "load not to be stripped by; without it the screw's own strength", "force", "N", above=0),
        Input("nut_tensile", "tensile strength of the tapped material", "pressure", "MPa", above=0),
        Input("nut_shear", "shear strength of the tapped material", "pressure", "MPa", above=0),
        Input("screw_major", "least major diameter of the screw", "length", "mm", above=0),
        Input("nut_pitch_diameter", "largest pitch diameter of the hole", "length", "mm", above=0),
        Input("nut_minor", "largest minor diameter of the hole", "length", "mm", above=0),
        Input("screw_pitch_diameter", "least pitch diameter of the screw", "length", "mm", above=0),
        Input("wire", "measuring wire at hand; the best wire without it", "length", "mm", above=0),
        Input("measured_over_wires", "size measured over three wires", "length", "mm", above=0),
        Input("thread_angle", "included angle of the thread", "angle", "deg", default=60.0, least=20, most=90),
    ),
    outputs=(
        Output("stress_area", "mm2", "tensile stress area"),
        Output("pitch_diameter", "mm", "basic pitch diameter"),
        Output("best_wire", "mm", "wire that touches at the pitch diameter"),
        Output("wire_used", "mm", "wire reckoned with"),
        Output("over_wires", "mm", "size over three wires at the basic pitch diameter"),
        Output("measured_pitch_diameter", "mm", "pitch diameter from the size measured"),
        Output("preload", "N", "preload"),
        Output("torque", "N m", "tightening torque"),
        Output("tension", "MPa", "tension in the stress area"),
        Output("torsion", "MPa", "torsion while tightening"),
        Output("combined_stress", "MPa", "both as one stress"),
        Output("share_of_proof", "", "that stress (tension alone without friction) over the proof strength"),
        Output("nut_shear_area", "mm2/mm", "thread of the hole sheared for each mm of engagement"),
        Output("screw_shear_area", "mm2/mm", "thread of the screw sheared for each mm"),
        Output("load", "N", "load reckoned with for stripping"),
        Output("engagement_needed", "mm", "engagement that does not strip below that load"),
        Output("strips_first", "", "which thread strips first"),
        Output("stripping_load", "N", "load at which the engagement given strips"),
    ),
    work=_work,
    source=(
        "ISO 898-1 and ASME B1.1 (stress area); T = K F d, or VDI 2230 where friction is given; FED-STD-H28 (shear "
        "areas); three wires, any handbook; shear strength 0.6 of tensile, from memory"
    ),
    validity=(
        "Threads of 60 degrees at basic sizes unless limits are given. A torque sets the preload within about a third "
        "either way. Stripping counts full threads only: leave out chamfer and run-out."
    ),
    example={"thread": "M12", "class": "8.8"},
)
