"""The calculation `fit`: two classes, or one or two classes against a ring with its own limits."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

from generator.reckoning.fit import (
    FLATTENING_MM,
    RING_EXPANSION_UM_M_K,
    STEEL_GPA,
    Deviations,
    Span,
    clearance_lost_to_warmth_mm,
    clearance_span_mm,
    effective_interference_mm,
    fit_pressure_mpa,
    inner_ring_share,
    likely_clearance_span_mm,
    outer_ring_share,
    raceway_diameters_mm,
    warmth_change_mm,
)
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse

if TYPE_CHECKING:
    from generator.tables import Ring, RingLimits

__all__ = ["RECKONING", "Seat", "clearance_left_mm", "read_deviations", "seat_of"]

_DEVIATIONS = re.compile(r"([+-]?\d+(?:\.\d+)?) */ *([+-]?\d+(?:\.\d+)?) *(um|µm|mm)?", re.ASCII)
RADIAL_BALL = ("deep groove", "angular contact")
THICK = 3.0
"""A housing of unknown outside is taken as this many times the bore: walls beyond it change nothing (shop choice)."""
LAME_SOURCE = "thick-walled cylinders (Lame), raceways (4 d + D) / 5 and (d + 4 D) / 5 from memory"
FLAT_SOURCE = "flattening d / (d + 2) ground, d / (d + 3) turned: bearing makers' rule, from memory"
LIKELY_SOURCE = "likely: root of the sum of squares, sizes centred (assumption)"


class _Names(NamedTuple):
    """What the results of one fit are called."""

    place: str
    hole: str
    shaft: str


_PAIR = _Names("", "hole", "shaft")
_PLACES = {
    "shaft": _Names("on_shaft_", "ring_bore", "shaft"),
    "housing": _Names("in_housing_", "housing", "ring_outside"),
}


@dataclass(frozen=True, slots=True)
class Seat:
    """One fit: deviations of hole and shaft, clearance at worst and likely, warmth included."""

    hole: Deviations
    shaft: Deviations
    worst: Span
    likely: Span
    source: str

    @property
    def words(self) -> str:
        """What kind of fit it is."""
        least, most = self.worst
        if least >= 0:
            return "clearance"
        return "interference" if most <= 0 else "transition"


def read_deviations(text: str, nominal_mm: float, place: str = "fit") -> tuple[Deviations, str]:
    """Deviations from a class such as H7, or written out such as +41/+28 in um (or in mm if it says so).

    Raises: InputError, TableError.
    Source: ISO 286-2, or as given.
    """
    found = _DEVIATIONS.fullmatch(text.strip())
    if found is None:
        from generator.tables import limits

        row = limits(text, nominal_mm)
        return Deviations(row.upper_mm, row.lower_mm), row.source
    scale = 1.0 if found[3] == "mm" else 1e-3
    upper, lower = float(found[1]) * scale, float(found[2]) * scale
    if upper < lower:
        refuse(place, "the upper deviation stands first", repr(text), f"write {found[2]}/{found[1]}")
    if max(abs(upper), abs(lower)) > nominal_mm / 10:
        refuse(place, "these deviations are not credible for the size", repr(text), "write um, or say mm")
    return Deviations(upper, lower), "deviations as given"


def seat_of(hole: Deviations, shaft: Deviations, closing_mm: float, source: str) -> Seat:
    """The fit of a hole and a shaft; `closing_mm` is what warmth takes from the clearance.

    Source: ISO 286-1; root of the sum of squares for the likely span.
    """
    spans = clearance_span_mm(hole, shaft), likely_clearance_span_mm(hole, shaft)
    worst, likely = (Span(least - closing_mm, most - closing_mm) for least, most in spans)
    return Seat(hole, shaft, worst, likely, source)


def clearance_left_mm(own: Span, lost: tuple[tuple[Span, float], ...], likely: bool = False) -> Span:
    """The span of radial clearance that is left of a ring's own after each (interference, share) is taken off.

    Source: share of the interference by thick-walled cylinders; likely by the root of the sum of squares.
    """
    takes = [Span(share * max(held.least, 0.0), share * max(held.most, 0.0)) for held, share in lost]
    if not likely:
        return Span(own.least - sum(take.most for take in takes), own.most - sum(take.least for take in takes))
    middle = (own.least + own.most) / 2 - sum((take.least + take.most) / 2 for take in takes)
    half = sum(((span.most - span.least) / 2) ** 2 for span in (own, *takes)) ** 0.5
    return Span(middle - half, middle + half)


def _work(given: Mapping[str, Any]) -> Outcome:
    if given["ring"] is None:
        return _plain_fit(given)
    if given["size"] is not None:
        refuse("fit, size", "the ring has its own sizes", f"{given['size']:g} mm", "leave size out")
    if given["shaft"] is None and given["hole"] is None:
        refuse("fit", "a ring needs a seat", "", "give shaft=k5, hole=H7, or both")
    return _ring_fit(given)


def _plain_fit(given: Mapping[str, Any]) -> Outcome:
    missing = [name for name in ("size", "hole", "shaft") if given[name] is None]
    if missing:
        refuse("fit", f"{' and '.join(missing)} not given", "", "give size, hole and shaft, or ring and hole or shaft")
    size = given["size"]
    hole, hole_source = read_deviations(given["hole"], size, "fit, hole")
    shaft, shaft_source = read_deviations(given["shaft"], size, "fit, shaft")
    closing = warmth_change_mm(size, given["shaft_expansion"], given["rise"] + given["shaft_warmer"])
    closing -= warmth_change_mm(size, given["housing_expansion"], given["rise"] + given["housing_warmer"])
    seat = seat_of(hole, shaft, closing, f"{hole_source}; {shaft_source}")
    values = _seat_values(seat, _PAIR)
    most = effective_interference_mm(-seat.worst.least, size, given["finish"])
    if given["housing_outside"] is not None and most > 0:
        values["effective_interference_most"] = 1000 * most
        values["pressure_most"] = fit_pressure_mpa(
            most, size, given["shaft_bore"], given["housing_outside"], given["shaft_modulus"], given["housing_modulus"]
        )
    return Outcome(values, (hole_source, shaft_source, LIKELY_SOURCE))


def _ring_fit(given: Mapping[str, Any]) -> Outcome:
    from generator.tables import axial_play, radial_clearance, ring, ring_limits

    of = ring(given["ring"])
    if of.type not in RADIAL_BALL:
        refuse("fit, ring", "limits are known here for radial ball rings", of.type, "give size, hole and shaft instead")
    held = ring_limits(of.bore_mm, of.outside_mm, given["accuracy"])
    values: dict[str, float | str | None] = {}
    worst, likely, sources = [], [], [held.source]
    for place, seat, share in _seats(given, of, held):
        names = _PLACES[place]
        values |= _seat_values(seat, names)
        diameter = of.bore_mm if place == "shaft" else of.outside_mm
        pressed = [
            Span(*(effective_interference_mm(-end, diameter, given["finish"]) for end in (span.most, span.least)))
            for span in (seat.worst, seat.likely)
        ]
        values[f"{names.place}effective_interference_most"] = 1000 * pressed[0].most
        values[f"{names.place}share"] = share
        worst.append((pressed[0], share))
        likely.append((pressed[1], share))
        sources.append(seat.source)
    if of.type == "deep groove":
        own = Span(*radial_clearance(of.bore_mm, given["clearance"] or of.clearance_group))
        warm = clearance_lost_to_warmth_mm(of.bore_mm, of.outside_mm, given["inner_warmer"])
        left = clearance_left_mm(Span(own.least - warm, own.most - warm), tuple(worst))
        hoped = clearance_left_mm(Span(own.least - warm, own.most - warm), tuple(likely), likely=True)
        values |= _left_values(own, left, hoped)
        values["axial_play_most"] = axial_play(of, left.most) if left.most >= 0 else None
        sources.append("own clearance: ISO 5753-1")
    return Outcome(values, (*sources, LAME_SOURCE, FLAT_SOURCE, LIKELY_SOURCE))


def _seats(given: Mapping[str, Any], of: Ring, held: RingLimits) -> list[tuple[str, Seat, float]]:
    """Each seat asked for, with the share of its interference that the ring's own clearance loses."""
    inner_mm, outer_mm = raceway_diameters_mm(of.bore_mm, of.outside_mm)
    found = []
    if given["shaft"] is not None:
        shaft, source = read_deviations(given["shaft"], of.bore_mm, "fit, shaft")
        bore = Deviations(held.bore_upper_mm, held.bore_lower_mm)
        closing = _over_ring(of.bore_mm, given["shaft_expansion"], given["rise"], given["shaft_warmer"])
        share = inner_ring_share(of.bore_mm, inner_mm, given["shaft_bore"], given["shaft_modulus"])
        found.append(("shaft", seat_of(bore, shaft, closing, source), share))
    if given["hole"] is not None:
        hole, source = read_deviations(given["hole"], of.outside_mm, "fit, hole")
        outside = Deviations(held.outside_upper_mm, held.outside_lower_mm)
        closing = -_over_ring(of.outside_mm, given["housing_expansion"], given["rise"], given["housing_warmer"])
        housing = given["housing_outside"] or THICK * of.outside_mm
        share = outer_ring_share(outer_mm, of.outside_mm, housing, given["housing_modulus"])
        found.append(("housing", seat_of(hole, outside, closing, source), share))
    return found


def _over_ring(diameter_mm: float, expansion_um_m_k: float, rise_k: float, warmer_k: float) -> float:
    """How much more a seat grows than the ring on or in it."""
    seat = warmth_change_mm(diameter_mm, expansion_um_m_k, rise_k + warmer_k)
    return seat - warmth_change_mm(diameter_mm, RING_EXPANSION_UM_M_K, rise_k)


def _seat_values(seat: Seat, names: _Names) -> dict[str, float | str | None]:
    um = {
        f"{names.hole}_upper": seat.hole.upper_mm, f"{names.hole}_lower": seat.hole.lower_mm,
        f"{names.shaft}_upper": seat.shaft.upper_mm, f"{names.shaft}_lower": seat.shaft.lower_mm,
        f"{names.place}clearance_least": seat.worst.least, f"{names.place}clearance_most": seat.worst.most,
        f"{names.place}clearance_likely_least": seat.likely.least,
        f"{names.place}clearance_likely_most": seat.likely.most,
    }
    values: dict[str, float | str | None] = {name: round(1000 * mm, 6) + 0.0 for name, mm in um.items()}
    return {**values, f"{names.place}fit": seat.words}


def _left_values(own: Span, left: Span, likely: Span) -> dict[str, float | str | None]:
    verdict = (
        "always some" if left.least >= 0 else "none: the ring is preloaded" if left.most <= 0
        else "may be gone at worst limits" if likely.least >= 0 else "may well be gone: take C3 or a looser fit"
    )
    return {
        "ring_clearance_least": 1000 * own.least, "ring_clearance_most": 1000 * own.most,
        "left_least": 1000 * left.least, "left_most": 1000 * left.most,
        "left_likely_least": 1000 * likely.least, "left_likely_most": 1000 * likely.most, "left_verdict": verdict,
    }


def _seat_outputs(names: _Names) -> tuple[Output, ...]:
    place, hole, shaft = names.place, names.hole, names.shaft
    where = f" {place.strip('_').replace('_', ' ')}" if place else ""
    below = "below zero an interference"
    return (
        Output(f"{hole}_upper", "um", f"upper deviation, {hole.replace('_', ' ')}"),
        Output(f"{hole}_lower", "um", f"lower deviation, {hole.replace('_', ' ')}"),
        Output(f"{shaft}_upper", "um", f"upper deviation, {shaft.replace('_', ' ')}"),
        Output(f"{shaft}_lower", "um", f"lower deviation, {shaft.replace('_', ' ')}"),
        Output(f"{place}clearance_least", "um", f"least clearance{where}; {below}"),
        Output(f"{place}clearance_most", "um", f"most clearance{where}; {below}"),
        Output(f"{place}clearance_likely_least", "um", f"least clearance likely{where}"),
        Output(f"{place}clearance_likely_most", "um", f"most clearance likely{where}"),
        Output(f"{place}fit", "", f"kind of fit{where}"),
        Output(f"{place}effective_interference_most", "um", f"most interference after flattening{where}"),
    )


RECKONING = Reckoning(
    name="fit",
    summary="clearance or interference of two classes, or of a class and a ring with its own limits; clearance left",
    inputs=(
        Input("size", "nominal diameter, where no ring is given", "length", "mm", above=0, most=500),
        Input("hole", "class of the hole or housing, such as H7, or its deviations such as +21/0 in um", "text"),
        Input("shaft", "class of the shaft, such as k6, or its deviations such as +41/+28 in um", "text"),
        Input("ring", "designation of a ring: its bore goes on the shaft, its outside into the hole", "text"),
        Input("accuracy", "accuracy class of the ring", "choice", default="Normal", choices=("Normal", "P6", "P5")),
        Input(
            "clearance", "clearance group, where the designation does not say it", "choice",
            choices=("C2", "CN", "C3"),
        ),
        Input(
            "finish", "how the seats are finished: flattening", "choice",
            default="ground", choices=tuple(FLATTENING_MM),
        ),
        Input("shaft_bore", "bore of a hollow shaft", "length", "mm", default=0.0, least=0),
        Input("housing_outside", "outside of the housing; else thick", "length", "mm", above=0),
        Input("shaft_modulus", "modulus of the shaft", "pressure", "GPa", default=STEEL_GPA, least=10, most=700),
        Input("housing_modulus", "modulus of the housing", "pressure", "GPa", default=STEEL_GPA, least=10, most=700),
        Input(
            "rise", "all parts warmer than 20 degrees by", "temperature difference", "K",
            default=0.0, least=-100, most=300,
        ),
        Input(
            "shaft_warmer", "shaft warmer than the ring by", "temperature difference", "K",
            default=0.0, least=-100, most=300,
        ),
        Input(
            "housing_warmer", "housing warmer than the ring by", "temperature difference", "K",
            default=0.0, least=-100, most=300,
        ),
        Input(
            "inner_warmer", "inner ring warmer than outer by", "temperature difference", "K",
            default=0.0, least=-100, most=100,
        ),
        Input(
            "shaft_expansion", "expansion of the shaft", "expansion", "um/m/K",
            default=RING_EXPANSION_UM_M_K, least=0, most=40,
        ),
        Input(
            "housing_expansion", "of the housing", "expansion", "um/m/K",
            default=RING_EXPANSION_UM_M_K, least=0, most=40,
        ),
    ),
    outputs=(
        *_seat_outputs(_PAIR),
        Output("pressure_most", "MPa", "pressure at the most interference, where the outside of the hub is given"),
        *(one for one in _seat_outputs(_PLACES["shaft"]) if not one.name.startswith("shaft_")),
        Output("on_shaft_share", "", "share of the interference that the clearance of the ring loses on the shaft"),
        *_seat_outputs(_PLACES["housing"]),
        Output("in_housing_share", "", "share of the interference that the clearance of the ring loses in the housing"),
        Output("ring_clearance_least", "um", "radial clearance of the ring before it is fitted, least"),
        Output("ring_clearance_most", "um", "most"),
        Output("left_least", "um", "radial clearance left, worst; below zero the ring is preloaded"),
        Output("left_most", "um", "most"),
        Output("left_likely_least", "um", "radial clearance left, likely least"),
        Output("left_likely_most", "um", "likely most"),
        Output("left_verdict", "", "what is left, in words"),
        Output("axial_play_most", "mm", "whole axial movement at the most clearance left"),
    ),
    work=_work,
    source="ISO 286-1",
    validity="Round parts of uniform wall. Clearance left holds for deep groove rings.",
    example={"ring": "6204", "shaft": "k5", "hole": "J7"},
)
