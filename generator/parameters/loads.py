"""The duty of a tool at the tailstock: the work, the cut, the thrust, the speed, and how true it must run.

Everything is optional. What a job leaves out is taken from a default that is marked as one wherever it counts; no load
is ever guessed from the size of the taper.
"""

from __future__ import annotations

import math
from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from generator.checks.duty import LIFE_H, SAFETY, force_row
from generator.description import Choices
from generator.errors import Fault, InputError
from generator.parameters.fields import ForceN, JobModel, LengthMm, MassKg, SpeedRpm, Word
from generator.tables.loader import load, nearest

__all__ = ["Loads", "derive_loads"]

LENGTH_OVER_DIAMETER = 10.0
DEPTH_MM, FEED_MM = 0.5, 0.1
CUTTING_SPEED_M_MIN = 30.0
MATERIAL = "C45"
_RULES = {
    "work_length": "ten times the work's diameter (shop choice)",
    "work_material": "C45, a usual steel (shop choice)",
    "held": "in a chuck (shop choice)",
    "depth": "a light cut (shop choice)",
    "feed": "a light feed (shop choice)",
    "speed": "a usual cutting speed at the work's diameter, 30 m/min, 20 on a dead point (shop choice)",
    "life": "hours of turning in a small shop's years (shop choice)",
    "safety": "within makers' 1 to 2 for balls, from memory",
}


def _above_zero(value: float) -> float:
    if value > 0:
        return value
    message = f"must be more than zero|{value:g}|leave it out to have a default taken"
    raise ValueError(message)


Above = AfterValidator(_above_zero)
Length = Annotated[LengthMm, Above]
Speed = Annotated[SpeedRpm, Above]
Mass = Annotated[MassKg, Above]
Force = Annotated[ForceN, Above]


class Loads(JobModel):
    """The duty: work, cut, thrust, speed, and how true it must run; what is left out is taken from marked defaults."""

    work_diameter: Length | None = Field(None, description="diameter the cut leaves, where the job names no work")
    work_length: Length | None = Field(None, description="length of the work between its supports")
    work_mass: Mass | None = Field(None, description="mass of the work; else reckoned from its size and material")
    work_material: Word | None = Field(None, description="material of the work, as in the table kienzle")
    held: Literal["chuck", "centres"] | None = Field(None, description="headstock end of the work: chuck or centres")
    depth: Length | None = Field(None, description="depth of cut")
    feed: Length | None = Field(None, description="feed for each turn")
    speed: Speed | None = Field(None, description="spindle speed in rpm")
    thrust: Force | None = Field(None, description="thrust of the tailstock in newtons")
    pull: Force | None = Field(None, description="pull at the rim of the handwheel that sets it, by a luggage scale")
    screw_lead: Length | None = Field(None, description="lead of the tailstock screw")
    handwheel_diameter: Length | None = Field(None, description="diameter on which the handwheel is pulled")
    quill_out: LengthMm | None = Field(None, description="how far the quill stands out of its clamp")
    safety: float | None = Field(None, ge=0.5, le=20.0, description="static safety wanted of each ring")
    life: float | None = Field(None, gt=0.0, le=1e6, description="life wanted of each ring in hours")
    offset: Length | None = Field(None, description="offset of the point from the taper allowed")
    runout: Length | None = Field(None, description="run-out of the point allowed, indicator movement")
    lost_motion: Length | None = Field(None, description="lost motion of the point allowed, to and fro")
    deflection: Length | None = Field(None, description="deflection of the point allowed under the cut")
    accuracy: Literal["Normal", "P6", "P5"] | None = Field(None, description="accuracy class of the rings")
    clearance: Literal["C2", "CN", "C3"] | None = Field(None, description="clearance of the rings, where not in a name")


def derive_loads(
    choices: Choices,
    loads: Loads,
    work_diameter_mm: float | None,
    *,
    cutting_speed_m_min: float = CUTTING_SPEED_M_MIN,
    has_rings: bool = True,
) -> None:
    """Decide the duty: given values, marked defaults; nothing of the cut where no work diameter is known.

    Safety and life are decided only where there are rings.

    Raises: InputError for a material without a row in the table of cutting forces, and for thrust beside pull.
    """
    _refuse_unknown(loads.work_material)
    if loads.thrust is not None and loads.pull is not None:
        rule = "thrust and the pull that sets it are both given"
        raise InputError([Fault("loads.pull", rule, f"{loads.pull:g} N", "give one of them")])
    diameter = loads.work_diameter or work_diameter_mm
    for key, unit in (
        ("work_mass", "kg"), ("thrust", "N"), ("pull", "N"), ("screw_lead", "mm"), ("handwheel_diameter", "mm"),
        ("quill_out", "mm"), ("offset", "mm"), ("runout", "mm"), ("lost_motion", "mm"), ("deflection", "mm"),
        ("accuracy", ""), ("clearance", ""),
    ):  # fmt: skip
        value = getattr(loads, key)
        if value is not None:
            choices.decide(f"loads.{key}", value, value, "given", unit)
    if has_rings:
        choices.decide("loads.safety", loads.safety, SAFETY, _RULES["safety"], "")
        choices.decide("loads.life", loads.life, LIFE_H, _RULES["life"], "h")
    if diameter is None:
        return
    choices.decide("loads.work_diameter", loads.work_diameter, diameter, "the work's finished diameter")
    speed = float(math.floor(cutting_speed_m_min * 1000 / (math.pi * diameter) / 10) * 10) or 10.0
    defaults: tuple[tuple[str, float, str], ...] = (
        ("work_length", LENGTH_OVER_DIAMETER * diameter, "mm"), ("depth", min(DEPTH_MM, diameter / 10), "mm"),
        ("feed", FEED_MM, "mm"), ("speed", speed, "rpm"),
    )  # fmt: skip
    for key, fallback, unit in defaults:
        choices.assume(f"loads.{key}", getattr(loads, key), round(fallback, 3), _RULES[key], unit)
    choices.assume("loads.work_material", loads.work_material, MATERIAL, _RULES["work_material"], "")
    choices.assume("loads.held", loads.held, "chuck", _RULES["held"], "")


def _refuse_unknown(name: str | None) -> None:
    if name is None or force_row(name) is not None:
        return
    known = nearest(name, [row.text("material") for row in load("kienzle").rows])
    rule = "no cutting force is known for this material (tailstock table kienzle)"
    raise InputError([Fault("loads.work_material", rule, repr(name), f"name one of the table; nearest: {known}")])
