"""Mass of bar, tube and stepped work, where its middle lies, and the share of it that the tailstock carries."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from generator.reckoning.amounts import need
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse
from generator.units import GRAVITY_M_S2

__all__ = [
    "RECKONING", "Balance", "Piece", "balance_of", "hexagon_kg", "propped_share", "tailstock_share", "turned_kg",
    "weight_n",
]

STEEL_G_CM3 = 7.85


class Piece(NamedTuple):
    """One length of turned work: diameters at its two ends (equal: a cylinder), its bore, its length."""

    near_mm: float
    far_mm: float
    length_mm: float
    bore_mm: float = 0.0


class Balance(NamedTuple):
    """Mass, overall length, and where the middle of the mass lies from the near end."""

    mass_kg: float
    length_mm: float
    middle_mm: float


def turned_kg(diameter_mm: float, length_mm: float, density_g_cm3: float, bore_mm: float = 0.0) -> float:
    """Mass of a round bar, or of a tube.

    Source: geometry, volume x density.

    >>> round(turned_kg(45.0, 1000.0, 7.85), 3)
    12.485
    """
    need("diameter", diameter_mm, "mm", least=0)
    need("length", length_mm, "mm", least=0)
    need("density", density_g_cm3, "g/cm3", above=0, most=25)
    need("bore", bore_mm, "mm", least=0)
    need("wall (diameter less bore)", diameter_mm - bore_mm, "mm", least=0)
    return math.pi / 4 * (diameter_mm**2 - bore_mm**2) * length_mm * density_g_cm3 * 1e-6


def hexagon_kg(across_flats_mm: float, length_mm: float, density_g_cm3: float) -> float:
    """Mass of a hexagon bar by its width across flats.

    Source: geometry, area = (root 3 / 2) x width squared.
    """
    need("width across flats", across_flats_mm, "mm", least=0)
    need("length", length_mm, "mm", least=0)
    need("density", density_g_cm3, "g/cm3", above=0, most=25)
    return math.sqrt(3) / 2 * across_flats_mm**2 * length_mm * density_g_cm3 * 1e-6


def balance_of(pieces: Sequence[Piece], density_g_cm3: float) -> Balance:
    """Mass and middle of stepped or tapered work, its pieces in order from the headstock.

    Source: geometry, frustums: V = pi l (D^2 + D d + d^2) / 12, middle at l (D^2 + 2 D d + 3 d^2) / 4 (D^2 + D d + d^2)
    from the end of diameter D.
    """
    need("density", density_g_cm3, "g/cm3", above=0, most=25)
    mass = moment = at = 0.0
    for piece in pieces:
        need("length of a piece", piece.length_mm, "mm", above=0)
        need("bore of a piece", piece.bore_mm, "mm", least=0)
        need("diameter of a piece", min(piece.near_mm, piece.far_mm), "mm", least=piece.bore_mm, above=0)
        near, far, length = piece.near_mm, piece.far_mm, piece.length_mm
        whole = near**2 + near * far + far**2
        outer = math.pi * length * whole / 12
        bore = math.pi / 4 * piece.bore_mm**2 * length
        middle = length * (near**2 + 2 * near * far + 3 * far**2) / (4 * whole)
        mass += outer - bore
        moment += outer * (at + middle) - bore * (at + length / 2)
        at += length
    need("volume of the work", mass, "mm3", above=0)
    return Balance(mass * density_g_cm3 * 1e-6, at, moment / mass)


def weight_n(mass_kg: float) -> float:
    """Weight of a mass.

    Source: standard gravity, ISO 80000-3.
    """
    need("mass", mass_kg, "kg", least=0)
    return mass_kg * float(GRAVITY_M_S2)


def tailstock_share(at_mm: float, between_mm: float) -> float:
    """Share of a load that the tailstock carries, the load standing this far from the headstock support.

    Between centres exactly; with the headstock end held in a chuck it is the most the tailstock can get, and what it
    gets when the grip is short. A load beyond the tailstock has a share above 1.
    Source: lever, statics.
    """
    need("distance between the supports", between_mm, "mm", above=0)
    need("distance of the load from the headstock", at_mm, "mm", least=0)
    return at_mm / between_mm


def propped_share(at_mm: float, between_mm: float) -> float:
    """Share that the tailstock carries when the chuck holds the other end quite stiffly and the work is even.

    Source: beam built in at one end and propped at the other, a^2 (3 L - a) / (2 L^3); e.g. Roark, Formulas for Stress.
    """
    need("distance between the supports", between_mm, "mm", above=0)
    need("distance of the load from the headstock", at_mm, "mm", least=0)
    need("load's distance over distance between the supports", at_mm / between_mm, least=0, most=1)
    share: float = at_mm**2 * (3 * between_mm - at_mm) / (2 * between_mm**3)
    return share


def density_of(given: Mapping[str, Any]) -> tuple[float, tuple[str, ...]]:
    """The density given, or that of the material named; with its source.

    Source: table materials.
    """
    if given["density"] is not None:
        return given["density"], ()
    if given["material"] is None:
        return STEEL_G_CM3, ("density 7.85 g/cm3: steel, taken because no material is named",)
    from generator.tables import material

    row = material(given["material"])
    if row.density_g_cm3 is None:
        refuse("mass, material", "no density is known for it", row.name, "give density")
    return row.density_g_cm3, (f"{row.name}: {row.source}",)


def _work(given: Mapping[str, Any]) -> Outcome:
    density, sources = density_of(given)
    if given["hexagon"] is not None and given["length"] is not None:
        balance = Balance(hexagon_kg(given["hexagon"], given["length"], density), given["length"], given["length"] / 2)
    elif given["steps"]:
        pieces = [Piece(row[0], row[2] or row[0], row[1], row[3]) for row in given["steps"]]
        balance = balance_of(pieces, density)
    elif given["diameter"] is not None and given["length"] is not None:
        piece = Piece(given["diameter"], given["diameter"], given["length"], given["bore"])
        balance = balance_of([piece], density)
    else:
        refuse("mass", "neither bar nor steps are given", "", "give diameter (or hexagon) and length, or steps")
    between = given["between"] or balance.length_mm - given["gripped"]
    weight = weight_n(balance.mass_kg)
    share = tailstock_share(balance.middle_mm - given["gripped"], between)
    values: dict[str, Any] = {
        "mass": balance.mass_kg, "weight": weight, "length": balance.length_mm, "middle": balance.middle_mm,
        "mass_per_metre": balance.mass_kg / balance.length_mm * 1000,
        "tailstock_share": share, "tailstock_load": weight * share, "headstock_load": weight * (1 - share),
    }
    return Outcome(values, sources)


RECKONING = Reckoning(
    name="mass",
    summary="mass of a bar, a tube or stepped work, and the share of its weight at the tailstock",
    inputs=(
        Input("diameter", "diameter of a round bar", "length", "mm", above=0),
        Input("hexagon", "width across flats of a hexagon bar", "length", "mm", above=0),
        Input("length", "length of the bar", "length", "mm", above=0),
        Input("bore", "bore of a tube", "length", "mm", default=0.0, least=0),
        Input("steps", "stepped work from the headstock end", "rows", fields=(
            Input("diameter", "diameter, or that at the headstock end of a taper", "length", "mm", required=True,
                  above=0),
            Input("length", "length of this step", "length", "mm", required=True, above=0),
            Input("far_diameter", "diameter at the tailstock end of a taper", "length", "mm", above=0),
            Input("bore", "bore through this step", "length", "mm", default=0.0, least=0),
        )),
        Input("material", "name of the material in the table", "text"),
        Input("density", "density, instead of a material", "density", "g/cm3", above=0, most=25),
        Input("between", "headstock support to tailstock centre; without it all that is not gripped", "length", "mm",
              above=0),
        Input("gripped", "length of work behind the headstock support, as in a chuck", "length", "mm", default=0.0,
              least=0),
    ),
    outputs=(
        Output("mass", "kg", "mass"),
        Output("weight", "N", "weight"),
        Output("length", "mm", "overall length"),
        Output("middle", "mm", "middle of the mass, from the headstock end"),
        Output("mass_per_metre", "kg/m", "mass for each metre of length"),
        Output("tailstock_share", "", "share of the weight at the tailstock, by the lever"),
        Output("tailstock_load", "N", "weight at the tailstock"),
        Output("headstock_load", "N", "weight at the headstock"),
    ),
    work=_work,
    source="geometry; the lever; standard gravity (ISO 80000-3)",
    validity=(
        "Work at rest on two supports. A chuck with a long stiff grip takes part of the tailstock's share; the lever "
        "gives the most."
    ),
    example={"diameter": "36 mm", "length": "300 mm"},
)
