"""What the duty of a job puts on the point of a centre, from the parameters under "loads."."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from generator.checks.judged import told
from generator.description import Choices
from generator.errors import TableError
from generator.findings import Finding
from generator.making.usual import INCH_LEAD_MM
from generator.reckoning import cutting
from generator.reckoning.mass import propped_share, turned_kg, weight_n
from generator.reckoning.thrust import EFFICIENCY, RESERVE, least_thrust_n, thrust_by_hand_n
from generator.tables import load, machine_defaults, material
from generator.tables.loader import Row

__all__ = ["BLUNT", "DUTY", "LIFE_H", "SAFETY", "Duty", "duty_finding", "duty_of", "force_row", "screw_of", "yield_of"]

BLUNT = 1.5
"""A blunt tool presses this much harder: upper end of 1.3 to 1.5. From memory."""
SAFETY, LIFE_H = 1.5, 500.0
"""Static safety and life wanted where a job does not say: makers' 1 to 2 for balls, from memory; shop choice."""
DUTY = tuple(
    f"loads.{key}" for key in ("work_length", "work_material", "held", "depth", "feed", "speed", "thrust")
)
"""What a duty is made of beside the diameter of the work."""
STEEL_G_CM3 = 7.85
FEW = 3
SOURCE = "Kienzle; shares of feed and depth from memory; statics of two supports; cut at the tailstock end"


@dataclass(frozen=True, slots=True)
class Duty:
    """Loads at the point in N: across the axis in a sharp cut and at worst, along it between `thrust_low` and `high`.

    `low` and `high` are one figure where the thrust is given; from a pull at the handwheel they are its band.
    `defaults` names what nobody gave. `force_source` is the row behind the cutting force.
    """

    work_diameter_mm: float
    work_length_mm: float
    weight_n: float
    cut: cutting.Forces
    radial_n: float
    worst_radial_n: float
    least_thrust_n: float
    thrust_low_n: float
    thrust_high_n: float
    thrust_from: str
    speed_rpm: float
    defaults: tuple[str, ...]
    force_source: str

    @property
    def is_given(self) -> bool:
        """True where the cut itself was given, so that a load is more than a guess."""
        return not {"loads.depth", "loads.feed", "loads.work_material"} & set(self.defaults)

    @property
    def is_thrust_given(self) -> bool:
        """True where the job names the thrust, or the pull that sets it."""
        return "loads.thrust" not in self.defaults

    @property
    def basis(self) -> str:
        """The words that follow a figure: what was taken by default."""
        if not self.defaults:
            return ""
        if len(self.defaults) > FEW:
            return " Rests on a default duty." if len(self.defaults) == len(DUTY) else " Rests in part on defaults."
        return f" Rests on defaults: {_named(self.defaults)}."


def force_row(name: str) -> Row | None:
    """The Kienzle row for a material: the one whose name holds the words, the classical list first."""
    wanted = name.casefold().strip()
    for place in ("classical", "catalogue"):
        for row in load("kienzle").rows:
            if row.text("list") == place and wanted and wanted in row.text("material").casefold():
                return row
    return None


def duty_of(choices: Choices, point_half_deg: float) -> Duty | None:
    """The duty, or None where no diameter of the work is known."""
    at = choices.parameters
    if "loads.work_diameter" not in at:
        return None

    def number(key: str) -> float:
        return float(at[f"loads.{key}"].value)

    diameter, length = number("work_diameter"), number("work_length")
    name = str(at["loads.work_material"].value)
    row = force_row(name)
    feed, depth = number("feed"), number("depth")
    kc11, exponent = (row.number("kc11_n_mm2"), row.number("mc_factor")) if row else (2220.0, 0.14)
    main = cutting.main_force_n(cutting.specific_force_mpa(kc11, exponent, feed), depth, feed)
    cut = cutting.turning_forces(main)
    weight = _weight_n(choices, diameter, length, name)
    share = propped_share(0.5, 1.0) if at["loads.held"].value == "chuck" else 0.5
    sharp, blunt = (
        cutting.tailstock_load_n(forces, weight, diameter, tool_share=1.0, weight_share=share, between_mm=length)
        for forces in (cut, cutting.Forces(*(BLUNT * force for force in cut)))
    )
    worst = max(sharp.radial_n, blunt.radial_n, weight * share)
    half = min(max(2 * point_half_deg, 30.0), 120.0)
    least = least_thrust_n(worst, half)
    low, high, words = _thrust(choices, least)
    missing = tuple(address for address, choice in at.items() if choice.is_default and address.startswith("loads."))
    if not any(f"loads.{key}" in at for key in ("thrust", "pull")):
        missing = (*missing, "loads.thrust")
    source = f"{row.text('material')}: {row.source}" if row else f"no row for {name}: C45 taken"
    return Duty(
        diameter, length, weight, cut, sharp.radial_n, worst, least, low, high, words, number("speed"), missing, source
    )


def _weight_n(choices: Choices, diameter: float, length: float, name: str) -> float:
    given = choices.parameters.get("loads.work_mass")
    if given is not None:
        return weight_n(float(given.value))
    density = next((row.maybe("density_g_cm3") for row in load("materials").rows if row.text("material") == name), None)
    return weight_n(turned_kg(diameter, length, density or STEEL_G_CM3))


def _thrust(choices: Choices, least: float) -> tuple[float, float, str]:
    """The band of thrust that is set, and where it comes from."""
    at = choices.parameters
    if "loads.thrust" in at:
        set_n = float(at["loads.thrust"].value)
        return set_n, set_n, "as given"
    if "loads.pull" in at:
        lead, wheel, _ = screw_of(choices)
        pull = float(at["loads.pull"].value)
        low, high = (thrust_by_hand_n(pull, lead, wheel, efficiency) for efficiency in EFFICIENCY)
        return low, high, f"by a pull of {pull:.0f} N at the handwheel"
    return RESERVE * least, RESERVE * least, f"{RESERVE:g} times the least (shop choice)"


def screw_of(choices: Choices) -> tuple[float, float, bool]:
    """Lead of the tailstock screw, diameter of its handwheel, and whether both were given."""
    at = choices.parameters
    usual = machine_defaults(choices.counts["morse"])
    lead, wheel = at.get("loads.screw_lead"), at.get("loads.handwheel_diameter")
    usual_mm = INCH_LEAD_MM if choices.names.get("units") == "in" else usual.screw_lead_mm.usual
    lead_mm = float(lead.value) if lead else usual_mm
    wheel_mm = float(wheel.value) if wheel else usual.handwheel_diameter_mm.usual
    return lead_mm, wheel_mm, lead is not None and wheel is not None


def duty_finding(duty: Duty | None) -> Iterator[Finding]:
    """What the duty comes to in words, with the defaults it rests on."""
    if duty is None:
        advice = "Load, thrust, life, stress and stiffness were not reckoned: give loads.work_diameter, or [passes]."
        yield told("duty", "loads", "no duty is known", "this program", advice)
        return
    newtons = f"{duty.radial_n:.0f} N across the axis in the cut, {duty.worst_radial_n:.0f} N with a blunt tool"
    advice = (
        f"Work {duty.work_diameter_mm:g} x {duty.work_length_mm:g} mm, {duty.weight_n:.0f} N heavy: cutting force "
        f"{duty.cut.main_n:.0f} N, at the point {newtons}; thrust {_band(duty)} {duty.thrust_from}."
    )
    code = "duty-default" if duty.defaults else "duty"
    if duty.defaults:
        advice += f" Defaults, for want of yours in [loads]: {_named(duty.defaults)}."
    said = told(code, "loads", "the duty reckoned with", f"{SOURCE}; {duty.force_source}", advice)
    yield replace(said, contributors=duty.defaults)


def _named(addresses: tuple[str, ...]) -> str:
    return ", ".join(address.removeprefix("loads.").replace("_", " ") for address in addresses)


def _band(duty: Duty) -> str:
    if math.isclose(duty.thrust_low_n, duty.thrust_high_n):
        return f"{duty.thrust_high_n:.0f} N"
    return f"{duty.thrust_low_n:.0f} to {duty.thrust_high_n:.0f} N"


def yield_of(name: str) -> tuple[float, float, str]:
    """Yield and tensile strength of a material in MPa, and the row's source.

    Raises: TableError where it is not in the table or has no figure there.
    """
    row = material(name)
    if row.yield_mpa is None or row.tensile_mpa is None:
        message = f"no strength is known for {row.name}; name a material of the table materials"
        raise TableError(message)
    return row.yield_mpa, row.tensile_mpa, f"{row.name}: {row.source}"
