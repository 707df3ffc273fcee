"""Bar to cut for each made part: diameter, length with the reasons for it, mass of the blank."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator import tables
from generator.description import Choices, Part, Surface, Tool, outline
from generator.errors import TableError
from generator.making.setups import SetUp
from generator.making.workshop import ShelfBar
from generator.units import FileUnit

__all__ = [
    "GRIP_MM", "SAW_MM", "StockRow", "as_drawn", "carrier_room_mm", "facing_mm", "fitting_bars",
    "largest_diameter_mm", "least_bar_mm", "overall_mm", "sawn_over_mm", "stock_for",
]

SAW_MM = 3.0
"""Length lost to one cut in a cutting list, whatever the saw. Common practice, no source."""

GRIP_MM = 20.0
"""Jaw grip left when a short piece is parted from the bar. Common practice, no source."""

_SAME_MM = 0.02
"""A bar that differs no more from a size is of that size. Shop choice."""
BAR_ADDRESS = "bar.diameter"
BAR_LENGTH_ADDRESS = "bar.length"
_STEEL_G_CM3 = 7.85


@dataclass(frozen=True, slots=True)
class StockRow:
    """The blank for one part.

    `faced_mm` is the length between faced ends while it is held between centres; `cut_mm` what to saw off. `is_own`
    is True for the user's own bar, `enough` False where that bar cannot make the part. `why` gives the sum of the cut
    length in words, `note` what to watch.
    """

    part: str
    title: str
    material: str
    finished_diameter_mm: float
    finished_mm: float
    least_bar_mm: float
    bar_mm: float
    faced_mm: float
    cut_mm: float
    mass_kg: float
    why: tuple[tuple[str, float], ...]
    is_own: bool
    enough: bool
    note: str
    source: str


def cleaning_mm(diameter_mm: float) -> float:
    """What a bar must be larger than the part, on the diameter, to be turned true all round in a three-jaw.

    Bright drawn bar runs out and is not round; thick bar comes rolled, with a black skin.
    Source: 1 mm to 50 mm, 2 above; common practice, no source.
    """
    return 1.0 if diameter_mm <= 50.0 else 2.0


def least_bar_mm(part: Part) -> float:
    """The slimmest bar that cleans up to a part; a general size is aimed at its middle.

    Source: see `cleaning_mm`.
    """
    found = outline(part)
    rough = 2.0 * max(max(edge.r0, edge.r1) for edge in found.outer)
    sizes = (one.diameter for one in part.surfaces if one.side == "outside" and not one.at)
    wanted = max([rough, *(one.nominal_mm if one.general else one.high for one in sizes)])
    return wanted + cleaning_mm(wanted)


def as_drawn(part: Part, bar_mm: float) -> Surface | None:
    """The largest outside, where the bar has its very diameter and nothing asks more of it than a general size.

    Source: common practice, no source.
    """
    outside = [one for one in part.surfaces if one.side == "outside" and not one.at and one.role != "chamfer"]
    largest = max(outside, key=lambda one: one.diameter.nominal_mm, default=None)
    if largest is None or largest.role or not largest.diameter.general:
        return None
    asked = {name for one in part.relations for name in (one.surface, one.datum)} | {one.surface for one in part.zones}
    wider = any(one.high > bar_mm + largest.diameter.high - largest.diameter.nominal_mm + 1e-9
                for one in (other.diameter for other in outside))  # fmt: skip
    same = abs(bar_mm - largest.diameter.nominal_mm) < _SAME_MM
    return largest if same and not wider and largest.name not in asked else None


def facing_mm(diameter_mm: float) -> float:
    """What to leave on each sawn end.

    Source: 1 below 25 mm, 1.5 to 50 mm, 2 above; common practice, no source.
    """
    if diameter_mm < 25.0:
        return 1.0
    return 1.5 if diameter_mm <= 50.0 else 2.0


def sawn_over_mm(diameter_mm: float) -> float:
    """What a hacksaw leaves on a face that is faced afterwards: it wanders the more the thicker the bar.

    Source: 1 below 25 mm, 2 to 50 mm, 3 above; common practice, no source.
    """
    if diameter_mm < 25.0:
        return 1.0
    return 2.0 if diameter_mm <= 50.0 else 3.0


def carrier_room_mm(diameter_mm: float) -> float:
    """Length to leave on a bar for a one-screw carrier, with room to centre and driver.

    Source: from memory; 18 mm to 12 mm of diameter, 22 to 20, 26 to 32, 32 above.
    """
    for up_to_mm, room_mm in ((12.0, 18.0), (20.0, 22.0), (32.0, 26.0)):
        if diameter_mm <= up_to_mm:
            return room_mm
    return 32.0


def largest_diameter_mm(part: Part) -> float:
    """Largest outside diameter of a part at its upper limit."""
    found = outline(part)
    rough = 2.0 * max(max(edge.r0, edge.r1) for edge in found.outer)
    return max([rough, *(s.diameter.high for s in part.surfaces if s.side == "outside" and not s.at)])


def overall_mm(part: Part) -> float:
    """Nominal length of a part over everything."""
    found = outline(part)
    return found.far_z - found.near_z


def stock_for(
    tool: Tool, setups: Sequence[SetUp], choices: Choices, unit: FileUnit = "mm", shelf: Sequence[ShelfBar] = ()
) -> tuple[StockRow, ...]:
    """One blank for each made part; the user's bar goes to the part of the largest diameter.

    Other parts come from the slimmest bar of the shelf that is thick and long enough; what one takes is gone for the
    next.
    """
    made = tool.made
    if not made:
        return ()
    largest = max(made, key=largest_diameter_mm).name
    own_mm, length_mm = (_number(choices, address) for address in (BAR_ADDRESS, BAR_LENGTH_ADDRESS))
    left = list(shelf)
    rows = []
    for part in made:
        given = own_mm if part.name == largest else None
        row = _row(part, setups, unit, given, length_mm if part.name == largest else None)
        if given is None:
            row = _from_shelf(part, setups, row, left)
        elif row.is_own:
            _take(left, next((bar for bar in left if bar.diameter_mm == given), None), row.cut_mm)
        rows.append(row)
    return tuple(rows)


def _take(left: list[ShelfBar], bar: ShelfBar | None, cut_mm: float) -> None:
    """Shorten a bar of the shelf by what is sawn off it."""
    if bar is None:
        return
    left.remove(bar)
    if bar.length_mm is None or bar.length_mm > cut_mm:
        left.append(bar if bar.length_mm is None else replace(bar, length_mm=bar.length_mm - cut_mm))


def _from_shelf(part: Part, setups: Sequence[SetUp], bought: StockRow, left: list[ShelfBar]) -> StockRow:
    """The blank out of the slimmest bar on the shelf that serves; that bar is shortened."""
    for bar in sorted(fitting_bars(part, left), key=lambda one: (one.diameter_mm, one.length_mm or math.inf)):
        row = _row(part, setups, "mm", bar.diameter_mm, bar.length_mm)
        if row.enough:
            _take(left, bar, row.cut_mm)
            return replace(row, source=_join("a bar on the shelf", row.source))
    return bought


def fitting_bars(part: Part, shelf: Sequence[ShelfBar]) -> list[ShelfBar]:
    """Bars of the shelf thick enough for a part and not of another steel.

    Source: see `cleaning_mm`.
    """
    wanted = part.material.casefold()
    return [
        bar for bar in shelf
        if (bar.diameter_mm >= least_bar_mm(part) - 1e-9 or as_drawn(part, bar.diameter_mm) is not None)
        and (not bar.material or bar.material.casefold() in wanted or wanted in bar.material.casefold())
    ]


def _number(choices: Choices, address: str) -> float | None:
    choice = choices.parameters.get(address)
    value = choice.value if choice is not None else None
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None


def _row(
    part: Part, setups: Sequence[SetUp], unit: FileUnit, own_mm: float | None, own_length_mm: float | None
) -> StockRow:
    diameter, length = largest_diameter_mm(part), overall_mm(part)
    least = least_bar_mm(part)
    drawn = None if own_mm is None else as_drawn(part, own_mm)
    bar, is_own, note, source = _choose_bar(drawn.diameter.nominal_mm if drawn else diameter, least, unit, own_mm)
    if drawn is not None:
        name = drawn.name.replace("_", " ")
        note = f"the {name} stays as drawn: the bar has its diameter, choose a clean, round piece"
    held = _kept_for_holding([one for one in setups if part.name in one.parts], bar, length)
    faced = length + sum(mm for _, mm in held)
    why = (("part", length), *held, ("facing, both ends", 2 * facing_mm(bar)), ("saw", SAW_MM))
    cut = float(math.ceil(sum(mm for _, mm in why) - 1e-9))
    enough = drawn is not None or bar >= diameter - 1e-9
    if own_length_mm is not None and is_own and own_length_mm < cut:
        note = _join(note, f"the bar is shorter than the blank ({own_length_mm:g} mm)")
        enough = False
    if _is_bought(part, setups):
        note = _join(note, "not a bar: a bought shank with a soft head, see the settings of the taper")
    density, density_source = _density(part.material)
    mass = math.pi / 4 * bar**2 * cut * density * 1e-6
    return StockRow(
        part.name, part.title, part.material, diameter, length, least, bar, faced, cut, mass, why, is_own, enough,
        note, _join(source, density_source),
    )


def _is_bought(part: Part, setups: Sequence[SetUp]) -> bool:
    """True where a taper on the outside of a part is finished without being cut."""
    tapers = {f"{part.name}/{one.name}" for one in part.surfaces if one.role == "taper" and one.side == "outside"}
    done = [setup for setup in setups if tapers & set(setup.finishes)]
    return any(step.work for setup in done for step in setup.steps) and not any(
        step.work in {"taper", "turn", "grind"} for setup in done for step in setup.steps
    )


def _kept_for_holding(setups: Sequence[SetUp], bar_mm: float, length_mm: float) -> list[tuple[str, float]]:
    """Length left on the blank to hold it by: what the set-ups ask for, else a grip where the part is too short.

    Source: least grip 0.7 of the diameter and 15 mm, chuck waste 15 to 25 mm; common practice, no source.
    """
    held = [(one.leaves_why or "held by this", one.leaves_mm) for one in setups if one.leaves_mm > 0]
    if held or not setups or setups[0].located != "bar":
        return held
    first = setups[0]
    if any(step.work == "part" for step in first.steps):
        over = max(0.0, (first.out_mm or length_mm) - length_mm - facing_mm(bar_mm))
        return [("grip in the chuck", first.grip_mm or GRIP_MM), *([("parting off", over)] if over else [])]
    return [("grip in the chuck", GRIP_MM)] if length_mm < max(15.0, 0.7 * bar_mm) else []


def _choose_bar(diameter: float, least: float, unit: FileUnit, own: float | None) -> tuple[float, bool, str, str]:
    """Bar diameter, whether it is the user's own, what to watch, source."""
    if own is not None and own >= diameter:
        note = "" if own >= least else "the bar's own skin stays in places: choose a clean, round piece"
        return own, True, note, "the bar given in the job"
    try:
        bar = tables.next_bar(least, unit)
        source = "stocked sizes, from memory"
    except TableError:
        bar, source = math.ceil(least), "larger than stocked bar: to be ordered"
    note = "" if own is None else f"the bar of {own:g} mm is too small for this part"
    return bar, False, note, source


def _density(name: str) -> tuple[float, str]:
    """Density in g/cm3 and its source; plain steel where the table has no figure."""
    try:
        found = tables.material(name) if name else None
    except TableError:
        found = None
    if found is None or found.density_g_cm3 is None:
        return _STEEL_G_CM3, "density of steel, from memory"
    return found.density_g_cm3, ""


def _join(*texts: str) -> str:
    return "; ".join(text for text in texts if text)
