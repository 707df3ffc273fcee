"""The calculation `reactions`: what each ring bears, the lever in words, stress, and deflection at the point by cause.

What is not known is given as a band, and the band says on what it rests.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, NamedTuple

from generator.reckoning.amounts import RangeError
from generator.reckoning.beam import (
    MOST_SUPPORTS,
    Beam,
    Load,
    Section,
    Shoulder,
    Solution,
    Support,
    shoulders_of,
    solve_beam,
)
from generator.reckoning.bending import bending_stress_mpa, lever_words, notch_factor, quill_deflection_mm
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse

__all__ = ["RECKONING", "Band", "band_of_rings", "deflection_bands", "joint_band"]

JOINT_SHARE = (0.1, 0.5)
RING_STIFFNESS_N_UM = (15.0, 60.0)
QUILL_CLAMP = (1.0, 2.0)
JOINT_SOURCE = "taper joint: a tenth to a half of the whole at the point, from memory"
RING_SOURCE = "ball rings of 12 to 20 mm bore: 15 to 60 N/um radially, from memory"
QUILL_SOURCE = "quill: stiffly clamped to twice as soft (shop choice)"
NOTCH_SOURCE = "shoulders: Roark's Formulas for Stress and Strain, table 17.1"
NO_FACTOR = "no factor: give the fillet of the shoulder, 1/20 to 4 times its height"


class Band(NamedTuple):
    """Least and most of a deflection whose cause is not known exactly, in mm."""

    low: float
    high: float


def joint_band(others: Band, share: tuple[float, float] = JOINT_SHARE) -> Band:
    """What the taper joint adds at the point, as a share of the whole that includes it.

    Source: a tenth to a half of the whole, from memory.
    """
    return Band(others.low * share[0] / (1 - share[0]), others.high * share[1] / (1 - share[1]))


def band_of_rings(beam: Beam, point_mm: float, stiff_mm: float) -> Band:
    """What the springing of the rings adds at the point; a band where no ring's stiffness is given.

    Source: beam on springs less beam on stiff rings; stiffness of ball rings from memory where none is given.
    """
    if any(support.stiffness_n_um for support in beam.supports):
        added = abs(solve_beam(beam, (point_mm,)).deflection_at_mm(point_mm) - stiff_mm)
        return Band(added, added)
    ends = []
    for stiffness in reversed(RING_STIFFNESS_N_UM):
        sprung = tuple(Support(support.place_mm, stiffness) for support in beam.supports)
        found = solve_beam(beam._replace(supports=sprung), (point_mm,))
        ends.append(abs(found.deflection_at_mm(point_mm) - stiff_mm))
    return Band(*ends)


def deflection_bands(beam: Beam, point_mm: float, quill_mm: float | None) -> dict[str, Band]:
    """The deflection at the point by cause: spindle, rings, quill where it is known, taper joint.

    Source: beam elements; bands from memory, see the sources of the calculation.
    """
    stiff = beam._replace(supports=tuple(Support(support.place_mm) for support in beam.supports))
    spindle = solve_beam(stiff, (point_mm,)).deflection_at_mm(point_mm)
    bands = {"spindle": Band(abs(spindle), abs(spindle)), "rings": band_of_rings(beam, point_mm, spindle)}
    if quill_mm is not None:
        bands["quill"] = Band(*(abs(quill_mm) * softer for softer in QUILL_CLAMP))
    others = Band(sum(band.low for band in bands.values()), sum(band.high for band in bands.values()))
    return {**bands, "joint": joint_band(others)}


def _work(given: Mapping[str, Any]) -> Outcome:
    beam = _beam(given)
    point = given["point"] if given["point"] is not None else beam.loads[-1].place_mm
    found = solve_beam(beam, (point,))
    whole = sum(load.force_n for load in beam.loads)
    bands = deflection_bands(beam, point, _quill(given, whole))
    place, crest = max(found.extremes(), key=lambda held: abs(held[1]))
    moment_place, moment = max(zip(found.places_mm, found.moments_n_mm, strict=True), key=lambda held: abs(held[1]))
    # A section given by its second moment alone has no known outside, so no stress can be told.
    told = given["second_moment"] is None
    stress, notched, where, words = _stress(beam, found) if told else (None, None, None, None)
    values: dict[str, float | str | None] = {
        **{f"reaction_{number}": force for number, force in enumerate(found.borne_n, 1)},
        "lever": lever_words(found.borne_n, whole) if whole else None,
        "moment_most": abs(moment) / 1000, "moment_place": moment_place,
        "stress_most": stress, "stress_at_shoulder": notched, "stress_place": where, "shoulders": words,
        "safety": given["yield"] / max(stress, notched or 0.0) if given["yield"] and stress else None,
        "deflection_at_point": found.deflection_at_mm(point), "deflection_most": crest, "deflection_place": place,
        **_band_values(bands),
    }
    sources = [JOINT_SOURCE, *([QUILL_SOURCE] if "quill" in bands else []), *([NOTCH_SOURCE] if notched else [])]
    if not any(support.stiffness_n_um for support in beam.supports):
        sources.append(RING_SOURCE)
    return Outcome(values, tuple(sources))


def _beam(given: Mapping[str, Any]) -> Beam:
    modulus = given["modulus"] * 1000
    if given["sections"]:
        if given["span"] is not None or given["overhang"] is not None:
            refuse("reactions", "span or overhang is given beside sections", "", "leave span and overhang out")
        if not given["supports"] or not given["loads"]:
            refuse("reactions", "sections need supports and loads", "", "give supports and loads as rows")
        return Beam(
            tuple(Section(*row) for row in given["sections"]), tuple(Support(*row) for row in given["supports"]),
            tuple(Load(*row) for row in given["loads"]), modulus,
        )
    missing = [name for name in ("span", "overhang", "force") if given[name] is None]
    if missing or (given["diameter"] is None) == (given["second_moment"] is None):
        rule = f"{', '.join(missing) or 'one of diameter and second_moment'} not given"
        refuse("reactions", rule, "", "give span, overhang, force and diameter; or sections, supports and loads")
    # A section given by its second moment is reckoned as the round bar that bends alike; its stress is not told.
    diameter = given["diameter"] or (64 * given["second_moment"] / math.pi) ** 0.25
    total = given["span"] + given["overhang"]
    stiffness = given["stiffness"] or 0.0
    return Beam(
        (Section(total, diameter),), (Support(0.0, stiffness), Support(given["span"], stiffness)),
        (Load(total, given["force"]),), modulus,
    )


def _quill(given: Mapping[str, Any], force_n: float) -> float | None:
    wanted = [given[name] for name in ("quill_out", "quill_diameter", "head")]
    if all(value is None for value in wanted):
        return None
    if any(value is None for value in wanted):
        refuse("reactions", "the quill needs three sizes", "", "give quill_out, quill_diameter and head")
    out, diameter, head = given["quill_out"], given["quill_diameter"], given["head"]
    return quill_deflection_mm(force_n, out, head, diameter, given["quill_bore"], given["modulus"] * 1000)


def _stress(beam: Beam, found: Solution) -> tuple[float, float | None, float, str | None]:
    """Most nominal stress, most stress in a shoulder, the place of the worse of both, the shoulders in words."""
    stress, place = _nominal(beam, found)
    notched, words = None, []
    for shoulder in shoulders_of(beam.sections):
        moment = found.moment_at_n_mm(shoulder.place_mm)
        nominal = bending_stress_mpa(moment, shoulder.small_mm, shoulder.bore_mm)
        factor = _factor(shoulder)
        told = f"factor {factor:.2f}, {factor * nominal:.0f} MPa" if factor else NO_FACTOR
        words.append(f"at {shoulder.place_mm:g} mm, {shoulder.large_mm:g} to {shoulder.small_mm:g}: {told}")
        if factor and factor * nominal > (notched or 0.0):
            notched = factor * nominal
            place = shoulder.place_mm if notched > stress else place
    return stress, notched, place, "; ".join(words) or None


def _nominal(beam: Beam, found: Solution) -> tuple[float, float]:
    """Most nominal stress and its place: in each section the moment is greatest at a named place."""
    worst, start = (0.0, 0.0), 0.0
    for section in beam.sections:
        end = start + section.length_mm
        for place, moment in zip(found.places_mm, found.moments_n_mm, strict=True):
            if start - 1e-3 <= place <= end + 1e-3:
                worst = max(worst, (bending_stress_mpa(moment, section.diameter_mm, section.bore_mm), place))
        start = end
    return worst


def _factor(shoulder: Shoulder) -> float | None:
    try:
        return notch_factor(shoulder.large_mm, shoulder.small_mm, shoulder.fillet_mm)
    except RangeError:
        return None


def _band_values(bands: Mapping[str, Band]) -> dict[str, float | str | None]:
    low, high = sum(band.low for band in bands.values()), sum(band.high for band in bands.values())
    values: dict[str, float | str | None] = {"whole_low": low, "whole_high": high}
    for name, band in bands.items():
        values |= {f"from_{name}_low": band.low, f"from_{name}_high": band.high}
    if high > 0:
        shares = {name: _share(name, band, bands) for name, band in bands.items()}
        values["shares"] = ", ".join(
            f"{name} {low:.0f} to {high:.0f} %" if round(low) != round(high) else f"{name} {low:.0f} %"
            for name, (low, high) in shares.items()
        )
    return values


def _share(name: str, band: Band, bands: Mapping[str, Band]) -> tuple[float, float]:
    """Least and most share of a cause in percent: itself at one end with all others at the other."""
    others = [held for key, held in bands.items() if key != name]
    least = band.low / (band.low + sum(held.high for held in others)) if band.low else 0.0
    most = band.high / (band.high + sum(held.low for held in others)) if band.high else 0.0
    return 100 * least, 100 * most


_SECTION_FIELDS = (
    Input("length", "length", "length", "mm", above=0, required=True),
    Input("diameter", "diameter", "length", "mm", above=0, required=True),
    Input("bore", "bore", "length", "mm", default=0.0, least=0),
    Input("fillet", "radius at the shoulder to the next one", "length", "mm", default=0.0, least=0),
)
_SUPPORT_FIELDS = (
    Input("place", "distance from the first end", "length", "mm", least=0, required=True),
    Input("stiffness", "radial stiffness, zero for stiff", "stiffness", "N/um", default=0.0, least=0),
)
_LOAD_FIELDS = (
    Input("place", "distance from the first end", "length", "mm", least=0, required=True),
    Input("force", "force, below zero the other way", "force", "N", required=True),
)
_CAUSES = {
    "spindle": "bending of the spindle", "rings": "springing of the rings", "quill": "bending of the quill",
    "joint": "the taper joint",
}

RECKONING = Reckoning(
    name="reactions",
    summary="what each ring of a spindle bears, moment, stress at shoulders, deflection at the point by cause",
    inputs=(
        Input("span", "between two rings, for an even spindle", "length", "mm", above=0),
        Input("overhang", "from the near ring to the load", "length", "mm", least=0),
        Input("force", "load at the end of the overhang", "force", "N"),
        Input("diameter", "of an even spindle", "length", "mm", above=0),
        Input("second_moment", "of an even spindle, instead of its diameter", "second moment", "mm4", above=0),
        Input("stiffness", "radial stiffness of each ring of an even spindle", "stiffness", "N/um", above=0),
        Input("sections", "a stepped spindle from its first end", "rows", fields=_SECTION_FIELDS),
        Input("supports", "two to six rings", "rows", fields=_SUPPORT_FIELDS),
        Input("loads", "loads anywhere", "rows", fields=_LOAD_FIELDS),
        Input("point", "where the deflection is wanted; else at the last load", "length", "mm", least=0),
        Input("modulus", "modulus of the spindle and the quill", "pressure", "GPa", default=206.0, least=1, most=700),
        Input("yield", "yield strength of the spindle", "pressure", "MPa", above=0),
        Input("quill_out", "how far the quill is out of its clamp", "length", "mm", least=0),
        Input("quill_diameter", "of the quill", "length", "mm", above=0),
        Input("quill_bore", "of the quill", "length", "mm", default=0.0, least=0),
        Input("head", "from the face of the quill to the point", "length", "mm", least=0),
    ),
    outputs=(
        *(Output(f"reaction_{number}", "N", f"what ring {number} bears") for number in range(1, MOST_SUPPORTS + 1)),
        Output("lever", "", "the hardest pressed ring against the whole load"),
        Output("moment_most", "N m", "greatest bending moment"),
        Output("moment_place", "mm", "where"),
        Output("stress_most", "MPa", "greatest nominal bending stress"),
        Output("stress_at_shoulder", "MPa", "greatest stress in a fillet, notch factor included"),
        Output("stress_place", "mm", "where the worse of both stands"),
        Output("shoulders", "", "each shoulder with its notch factor"),
        Output("safety", "", "yield strength over the worse of both"),
        Output("deflection_at_point", "mm", "of the spindle on its rings, at the point"),
        Output("deflection_most", "mm", "greatest deflection anywhere"),
        Output("deflection_place", "mm", "where"),
        Output("whole_low", "mm", "at the point, all causes at their least"),
        Output("whole_high", "mm", "at the point, all causes at their most"),
        *(Output(f"from_{name}_{end}", "mm", f"{what}, {words}") for name, what in _CAUSES.items()
          for end, words in (("low", "least"), ("high", "most"))),
        Output("shares", "", "share of each cause at the point"),
    ),
    work=_work,
    source="Euler-Bernoulli beams",
    validity="Loads in one plane; slender spindle, shear left out; a spindle shorter than about twice its diameter "
    "gives more than this.",
    example={
        "sections": "70 mm, 17 mm, 0, 0.5 mm; 25 mm, 20 mm, 0, 1 mm; 40 mm, 16 mm",
        "supports": "8 mm; 78 mm", "loads": "130 mm, 800 N",
    },
)
