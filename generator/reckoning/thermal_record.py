"""The calculation `thermal`: warm sizes and waiting, shrink fits, growth between centres; whatever the keys allow."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from generator.reckoning import thermal
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse

__all__ = ["RECKONING"]

_TEMPERING_C = 180.0
_RING_C = 120.0
HEAT_CAUTION = (
    "Caution: hot parts burn and look cold. Gloves and eyes covered, no flame on oil or grease, no sealed hollow parts "
    "(they burst); have the shaft, a stop and a way to press ready, for there are seconds."
)
RING_CAUTION = (
    f"Above about {_TEMPERING_C:g} degC hardened parts lose hardness; rolling bearings and their grease are spoilt "
    f"above about {_RING_C:g} degC (from memory)."
)


def _expansion(given: Mapping[str, Any], key: str, own: str) -> tuple[float, float, float, tuple[str, ...]]:
    """Expansion, modulus in MPa, Poisson's ratio and source of a material named under `key`; steel without one."""
    if given[key] is None:
        expansion, modulus, poisson, sources = 11.5, 210000.0, 0.3, (f"{key}: general steel, taken for want of a name",)
    else:
        from generator.tables import material

        row = material(given[key])
        modulus = row.modulus_gpa * 1000 if row.modulus_gpa is not None else 210000.0
        poisson = row.poisson_ratio if row.poisson_ratio is not None else 0.3
        expansion = row.expansion_um_m_k if row.expansion_um_m_k is not None else 11.5
        sources = (f"{row.name}: {row.source}",)
    return given[own] if given[own] is not None else expansion, modulus, poisson, sources


def _work(given: Mapping[str, Any]) -> Outcome:
    values: dict[str, Any] = {}
    notes: list[str] = []
    sources: list[str] = []
    if given["measured"] is not None:
        _warm(given, values, sources)
    if given["interference"] is not None:
        _shrink(given, values, sources, notes)
    if given["between"] is not None:
        _growth(given, values, sources)
    if given["grown"] is not None and given["size"] is not None:
        expansion, *_, source = _expansion(given, "material", "expansion")
        values["rise_needed"] = thermal.rise_for_growth_k(given["grown"], given["size"], expansion)
        sources += source
    if not values:
        refuse("thermal", "there is nothing to reckon", "",
               "give measured and temperature; or interference, joint and outside; or between and rise; or size and "
               "grown")
    return Outcome(values, tuple(sources), tuple(notes))


def _warm(given: Mapping[str, Any], values: dict[str, Any], sources: list[str]) -> None:
    if given["temperature"] is None:
        refuse("thermal", "the temperature of the work is not known", "", "give temperature")
    expansion, *_, source = _expansion(given, "material", "expansion")
    sources += source
    at, measured = given["temperature"], given["measured"]
    size = thermal.true_reading_mm(measured, at, expansion, given["gauge_temperature"], given["gauge_expansion"])
    values |= {"size_at_20": size, "change": size - measured}
    if given["outside"] is None or given["length"] is None:
        return
    allowed = given["within"] / (expansion * 1e-3 * measured)
    excess = at - given["air"]
    values["error_at_air"] = abs(thermal.growth_mm(measured, given["air"] - thermal.REFERENCE_C, expansion)) * 1000
    if abs(excess) <= allowed:
        values |= {"wait_short": 0.0, "wait_long": 0.0}
        return
    volume, surface = _cylinder(given["outside"], given["bore"], given["length"])
    films = (given["film"], given["film"]) if given["film"] else thermal.STILL_AIR_W_M2K
    of = thermal.metal(given["metal"])
    wanted = given["air"] + math.copysign(allowed, excess)
    for name, film in (("wait_long", films[0]), ("wait_short", films[1])):
        cooling = thermal.cooling_constant_min(volume, surface, of, film)
        values[name] = thermal.cooling_min(cooling.constant_min, at, given["air"], wanted)
        values["evenness"] = cooling.evenness
    values["wait_until"] = wanted


def _cylinder(outside_mm: float, bore_mm: float, length_mm: float) -> tuple[float, float]:
    """Volume and surface of a plain cylinder or ring, its bore open to the air."""
    face = math.pi / 4 * (outside_mm**2 - bore_mm**2)
    return face * length_mm, 2 * face + math.pi * (outside_mm + bore_mm) * length_mm


def _shrink(given: Mapping[str, Any], values: dict[str, Any], sources: list[str], notes: list[str]) -> None:
    if given["joint"] is None:
        refuse("thermal", "the diameter of the joint is not known", "", "give joint")
    expansion, outer_mpa, outer_nu, source = _expansion(given, "material", "expansion")
    _, inner_mpa, inner_nu, inner_source = _expansion(given, "shaft_material", "expansion")
    sources += (*source, *inner_source)
    joint, interference = given["joint"], given["interference"]
    outer_mpa, inner_mpa = given["modulus"] or outer_mpa, given["modulus"] or inner_mpa
    play = given["play"] if given["play"] is not None else max(0.05, 0.001 * joint)
    values["heat_to"] = thermal.heating_c(joint, interference, play, expansion, given["air"])
    values["play_hot"] = play
    notes += [HEAT_CAUTION, RING_CAUTION]
    if values["heat_to"] > _TEMPERING_C:
        notes.append("This is hot enough to soften hardened parts: cool the shaft as well, or take less interference.")
    if given["outside"] is None:
        return
    pressure = thermal.pressure_of_interference_mpa(
        joint, given["outside"], given["bore"], max(0.0, interference - given["flattened"]),
        (outer_mpa, outer_nu), (inner_mpa, inner_nu),
    )
    length = given["length"] or 1.0
    fit = thermal.shrink_fit(pressure, joint, given["outside"], given["bore"], length, given["friction"])
    values |= {
        "pressure": fit.pressure_mpa, "outer_hoop": fit.outer_hoop_mpa, "inner_hoop": fit.inner_hoop_mpa,
        "outer_equivalent": fit.outer_equivalent_mpa,
    }
    if given["length"] is not None:
        values |= {"hold": fit.hold_n, "torque": fit.torque_n_mm / 1000}


def _growth(given: Mapping[str, Any], values: dict[str, Any], sources: list[str]) -> None:
    if given["rise"] is None:
        refuse("thermal", "the rise of temperature is not known", "", "give rise")
    expansion, modulus, _, source = _expansion(given, "material", "expansion")
    sources += source
    grown = thermal.growth_mm(given["between"], given["rise"], expansion)
    values["growth"] = grown
    if given["outside"] is not None:
        area = math.pi / 4 * (given["outside"] ** 2 - given["bore"] ** 2)
        values["thrust_if_rigid"] = thermal.thrust_of_growth_n(grown, given["between"], area, modulus)
        if given["stiffness"] is not None:
            values["thrust_added"] = thermal.thrust_of_growth_n(
                grown, given["between"], area, modulus, given["stiffness"]
            )


RECKONING = Reckoning(
    name="thermal",
    summary="warm sizes at 20 degrees and how long to wait; shrink fits; growth between centres",
    inputs=(
        Input("measured", "shaft or bore as it measures now", "length", "mm", above=0),
        Input("temperature", "temperature of the work now", "temperature", "degC", least=-200, most=600),
        Input("gauge_temperature", "temperature of the measuring tool", "temperature", "degC", default=20.0, least=-50,
              most=200),
        Input("gauge_expansion", "expansion of the measuring tool", "expansion", "um/m/K", default=11.5, least=0,
              most=300),
        Input("material", "name of the material in the table; of the outer part of a fit", "text"),
        Input("expansion", "expansion, instead of the material's", "expansion", "um/m/K", above=0, most=300),
        Input("metal", "metal that cools", "choice", default="steel", choices=thermal.METALS),
        Input("outside", "outside diameter", "length", "mm", above=0),
        Input("bore", "bore; of the inner part of a fit", "length", "mm", default=0.0, least=0),
        Input("length", "length of the part, or of the joint", "length", "mm", above=0),
        Input("air", "temperature of the shop", "temperature", "degC", default=20.0, least=-30, most=60),
        Input("within", "error of size that may be left from being warm", "length", "um", default=2.0, above=0),
        Input("film", "heat given off in W for each m2 and K; 5 to 15 in still air without it", "number", least=1,
              most=20000),
        Input("joint", "diameter of the joint", "length", "mm", above=0),
        Input("interference", "interference on the diameter", "length", "mm", above=0),
        Input("flattened", "interference lost as the surfaces flatten", "length", "mm", default=0.0, least=0),
        Input("play", "play wanted while it is dropped in; 0.001 x diameter, at least 0.05, without it", "length",
              "mm", least=0),
        Input("shaft_material", "material of the inner part", "text"),
        Input("modulus", "modulus of both parts, instead of the materials'", "pressure", "MPa", above=0),
        Input("friction", "friction in the joint", "number", default=0.12, least=0.02, most=0.6),
        Input("between", "length of work between centres", "length", "mm", above=0),
        Input("rise", "rise of its temperature", "temperature difference", "K", least=-200, most=600),
        Input("stiffness", "stiffness of the tailstock with its centre, along the axis", "stiffness", "N/um", above=0),
        Input("size", "size that is to grow", "length", "mm", above=0),
        Input("grown", "growth wanted", "length", "mm"),
    ),
    outputs=(
        Output("size_at_20", "mm", "size at 20 degrees"),
        Output("change", "mm", "that less the reading"),
        Output("wait_short", "min", "wait, heat given off readily"),
        Output("wait_long", "min", "wait, heat given off poorly"),
        Output("wait_until", "degC", "temperature at which the error allowed is left over the shop's own"),
        Output("error_at_air", "um", "error of size that stays as long as the shop is not at 20 degrees"),
        Output("evenness", "", "Biot number; below 0.1 the estimate holds"),
        Output("heat_to", "degC", "temperature of the outer part for dropping in"),
        Output("play_hot", "mm", "play then"),
        Output("pressure", "MPa", "pressure in the joint"),
        Output("outer_hoop", "MPa", "hoop stress of the outer part at the joint"),
        Output("inner_hoop", "MPa", "hoop stress of the inner part at the joint"),
        Output("outer_equivalent", "MPa", "outer part, hoop and pressure together, to compare with its yield strength"),
        Output("hold", "N", "force along the axis that the joint holds"),
        Output("torque", "N m", "torque that the joint holds"),
        Output("growth", "mm", "growth between centres"),
        Output("thrust_if_rigid", "N", "thrust it adds if the machine does not give at all: the upper bound"),
        Output("thrust_added", "N", "thrust it adds with the stiffness given"),
        Output("rise_needed", "K", "rise that makes the size grow by as much"),
    ),
    work=_work,
    source=(
        "thermal expansion and ISO 1; lumped capacity rho c V / (h A); Lame for thick rings; heat given off to still "
        "air 5 to 15 W/m2/K and data of metals from memory"
    ),
    validity=(
        "Waiting: the part is equally warm right through and hangs free in still air. Fits: elastic, ends left out; "
        "what a joint holds is a reckoned figure, no rating."
    ),
    example={"measured": "52.010 mm", "temperature": "45", "outside": "70", "bore": "52", "length": "40"},
)
