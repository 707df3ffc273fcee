"""Dead centre: a solid point on a Morse shank, full or cut away to half so that a tool can pass close to the axis.

    quill | shank -- head -- point > work

Source: ISO 296 (shank); head length and half form are common practice of the trade.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Literal

from pydantic import Field

from generator import tables
from generator.description import Choices, Part, PartDraft, Seat, Tool
from generator.errors import Fault, InputError
from generator.findings import PRACTICE, Finding
from generator.fittings.quill import (
    derive_quill,
    ejector_gaps,
    ejector_part,
    ejector_seat,
    mouth_mm,
    quill_part,
    stand_off_gap,
    work_part,
    work_shown_mm,
)
from generator.fittings.shank import derive_shank, hang_drawbar, hang_shank, morse_number, seat_in_quill, shank_notes
from generator.fittings.sizes import derived, general, round_down, within
from generator.making.route.heat import hardening_of, hardness_finding
from generator.making.setups import SetUp
from generator.making.workshop import Workshop
from generator.parameters.base import JobBase
from generator.parameters.bounds import WorkDiameter
from generator.parameters.fields import AngleDeg, JobModel, LengthMm, Word
from generator.parameters.loads import Loads, derive_loads
from templates import _dead_order
from templates._dead_mechanics import mechanics
from templates._points import mouth_finding
from templates._units import derive_units

TITLE = "Dead centre"
SUMMARY = "A solid point on a Morse shank, full, or half so that the tool reaches the end of slim work."
HARD_NOTE = "Point hardened as marked, ground last; head and shank left soft."
FLAT_NOTE = "Flat runs out at its end in R 1 or more: from a sharp corner a hardened point breaks."
_FLAT_STOPS_MM = 1.0
"""How far before the head a flat ends at least: the radius that it runs out in. Shop choice."""
_ROUNDED_MM = 0.5
"""Step to which the length of a flat is rounded."""
_PAST_WORK_MM = 1.0
"""How far a flat reaches beyond the face of the work at least: the tool's own overrun. Shop choice."""
SLOW_M_MIN = 20.0
"""Cutting speed taken where a job gives no speed: slow, since the point stands still. Shop choice."""

EXAMPLE = """\
[socket]
taper = "Morse 3"

[point]
form = "half"
work_diameter = 14
"""


class Socket(JobModel):
    """What the tool goes into."""

    taper: Word = Field(description='tailstock taper, "Morse 0" to "Morse 6"')
    ejector_depth: LengthMm | None = Field(None, description="quill face to screw nose, quill wound right in")
    ejector_nose_diameter: LengthMm | None = Field(None, description="diameter of the screw nose that pushes tools out")
    quill_face_diameter: LengthMm | None = Field(None, description="outside diameter of the quill")


class Shank(JobModel):
    """The tailstock taper."""

    end: Literal["plain", "tang", "drawbar"] = Field("plain", description="plain, tang or drawbar thread")
    stand_off: LengthMm | None = Field(None, description="gauge plane to the head's back face")
    length: LengthMm | None = Field(None, description="gauge plane to the shank's end")


class Point(JobModel):
    """The point and the head behind it."""

    form: Literal["full", "half"] = Field("full", description="full point, or half: cut away above the axis")
    work_diameter: WorkDiameter = Field(description="finished diameter of the work at the tailstock end")
    centre_hole: LengthMm | None = Field(None, description="mouth diameter of the centre hole in the work")
    angle: AngleDeg | None = Field(None, description="included angle of the point")
    tip: LengthMm | None = Field(None, description="flat at the tip of the point")
    head_diameter: LengthMm | None = Field(None, description="diameter of the head and of the point's base")
    head_length: LengthMm | None = Field(None, description="back face to where the point's cone begins")
    flat_height: LengthMm | None = Field(None, description="half point: height of the flat above the axis")
    flat_length: LengthMm | None = Field(None, description="half point: how far the flat runs back from the tip")
    material: Word | None = Field(None, description="steel")


class Params(JobBase):
    """The job file of a dead centre."""

    socket: Socket
    point: Point
    shank: Shank = Shank()
    loads: Loads = Loads()


def derive(params: Params) -> Choices:
    """Everything the job left open, decided by rule."""
    choices = Choices()
    derive_units(choices, params.units)
    number = morse_number(params.socket.taper)
    taper, point = tables.morse(number), params.point
    choices.decide("socket.taper", params.socket.taper, params.socket.taper, "given", "")
    choices.facts.update(ratio=taper.ratio, half_angle_deg=taper.half_angle_deg)
    choices.counts["morse"] = number
    given_end = params.shank.end if "end" in params.shank.model_fields_set else None
    end = choices.decide("shank.end", given_end, "plain", "plain: shortest, leaves most travel", "")
    derive_shank(choices, taper, end, params.shank.stand_off, params.shank.length)
    derive_quill(
        choices,
        taper,
        params.socket.quill_face_diameter,
        params.socket.ejector_depth,
        params.socket.ejector_nose_diameter,
    )
    choices.names["material"] = choices.decide(
        "point.material", point.material, "O1", "tool steel, point 60-63 HRC", ""
    )
    choices.names["form"] = choices.decide("point.form", point.form, "full", "full: strongest", "")
    angle = choices.decide("point.angle", point.angle, 60.0, "60 degrees, the angle of centre holes (ISO 6411)", "deg")
    if not 30.0 <= angle <= 120.0:
        rule = "point angle must lie between 30 and 120 deg"
        raise InputError([Fault("point.angle", rule, f"{angle:g} deg", "60 suits centre holes; 75 or 90 heavy work")])
    choices.facts["half_deg"] = angle / 2
    head = choices.decide(
        "point.head_diameter",
        point.head_diameter,
        round_down(taper.large_end_mm, 0.5),
        "as the large end of the shank: nothing stands proud",
    )
    mouth = choices.decide(
        "point.centre_hole",
        point.centre_hole,
        mouth_mm(point.work_diameter, _widest_mouth_mm(choices, head), point.centre_hole, "point"),
        "mouth of the usual centre hole for the work's diameter",
    )
    choices.decide("point.work_diameter", point.work_diameter, point.work_diameter, "given")
    tip = choices.decide("point.tip", point.tip, 0.5, "flat that survives; smaller than the pilot hole")
    length = choices.decide("point.head_length", point.head_length, 10.0, "room for a spanner or a wedge, no longer")
    choices.size("point/head", general(head, "point.head_diameter"))
    choices.size("point/head_length", general(length, "point.head_length"))
    choices.size("point/tip", within(tip, 0.0, -min(0.3, tip / 2), "point.tip"))
    choices.size("work/mouth", derived(mouth, "point.centre_hole"))
    choices.size("work/diameter", derived(point.work_diameter, "point.work_diameter"))
    choices.size("work/shown", derived(work_shown_mm(point.work_diameter, mouth, angle / 2), "rule: drawn short"))
    if choices.names["form"] == "half":
        _derive_half(choices, point, mouth, head, tip)
    derive_loads(choices, params.loads, point.work_diameter, cutting_speed_m_min=SLOW_M_MIN, has_rings=False)
    return choices


def _widest_mouth_mm(choices: Choices, head: float) -> float:
    """The widest centre hole that the head leaves a flank behind, and a half point's flat a tool's way past it."""
    if choices.names["form"] != "half":
        return head - 1.0
    behind = _FLAT_STOPS_MM + _ROUNDED_MM + _PAST_WORK_MM
    return round_down(head - 2.0 * behind * math.tan(math.radians(choices.facts["half_deg"])), 0.1)


def _derive_half(choices: Choices, point: Point, mouth: float, head: float, tip: float) -> None:
    """The flat of a half point: a little above the axis, back over the whole cone."""
    height = choices.decide(
        "point.flat_height",
        point.flat_height,
        round_down(0.12 * mouth, 0.1),
        "an eighth of the centre hole above the axis: more than half the cone carries",
    )
    cone = (head - tip) / 2 / math.tan(math.radians(choices.facts["half_deg"]))
    length = choices.decide(
        "point.flat_length", point.flat_length, max(0.5, round_down(cone - _FLAT_STOPS_MM, _ROUNDED_MM)),
        "over the cone but for the radius in which it runs out: the tool may pass to the head",
    )
    choices.size("point/flat_height", within(height, 0.1, 0.0, "point.flat_height"))
    choices.size("point/flat_length", general(length, "point.flat_length"))


def build(choices: Choices) -> Tool:
    """One part, the quill, the ejector and the work."""
    size, bore = choices.sizes, ""
    if choices.names["shank_end"] == "drawbar":
        bore = "centre/drawbar_hole"
    parts = [
        quill_part(choices, choices.facts["half_angle_deg"]),
        ejector_part(choices),
        _centre(choices),
        work_part(size["work/diameter"], size["work/mouth"], choices.facts["half_deg"], size["work/shown"]),
    ]
    seats = (
        ejector_seat(choices),
        seat_in_quill("centre", choices, choices.facts["ratio"]),
        Seat("work", "mouth", "centre", "contact", "cone"),
    )
    gaps = (stand_off_gap("centre"), *ejector_gaps("centre", bore))
    return Tool("dead-centre", "Dead centre", "quill", {part.name: part for part in parts}, seats, gaps)


def _centre(choices: Choices) -> Part:
    size = choices.sizes
    title = "Half centre" if choices.names["form"] == "half" else "Dead centre"
    flat = (FLAT_NOTE,) if choices.names["form"] == "half" else ()
    draft = PartDraft(
        "centre",
        title,
        "back",
        material=choices.names["material"],
        sectioned=False,
        notes=(_hardness_note(choices.names["material"]), *shank_notes(choices), *flat),
    )
    draft.length("head/length", "point_end", "back", 1, size["point/head_length"])
    hang_shank(draft, choices, "back", choices.facts["half_angle_deg"])
    if choices.names["shank_end"] == "drawbar":
        hang_drawbar(draft, choices)
    draft.cylinder("head", "outside", "back", "point_end", size["point/head"])
    draft.cone(
        "point",
        "outside",
        "point_end",
        "tip",
        replace(size["point/head"], derived=True),
        "point_end",
        -choices.facts["half_deg"],
        role="point",
        finish_ra_um=0.4,
    )
    draft.place("tip", "point", size["point/tip"])
    way = hardening_of(choices.names["material"])
    if way is not None:
        draft.zone("hardened", "point", "point_end", "tip", "hardness", way.hardness)
    draft.place("contact", "point", size["work/mouth"])
    draft.relation(
        "point", "taper", "run-out", choices.facts["run_out"],
        "grind the point with the finished shank in the headstock spindle",
    )
    if choices.names["form"] == "half":
        draft.length("flat/length", "flat_end", "tip", -1, size["point/flat_length"])
        draft.crossing("flat", "half", "flat_end", "tip", height=size["point/flat_height"])
    return draft.done()


def _hardness_note(material: str) -> str:
    """What the sheet says of the point's hardness."""
    return "Point left soft." if hardening_of(material) is None else HARD_NOTE


def inspect(choices: Choices, tool: Tool) -> Iterable[Finding]:
    """Point against centre hole, and what is left of a half point."""
    head, mouth = choices.sizes["point/head"].nominal_mm, choices.sizes["work/mouth"].nominal_mm
    yield mouth_finding("centre/point", head, mouth, ("point.head_diameter", "point.centre_hole"))
    if choices.names["form"] == "half":
        yield from _half(choices, mouth)
    yield from hardness_finding(choices.names["material"], "centre/point")
    yield from mechanics(choices)
    yield Finding(
        "dead",
        "note",
        "centre",
        "the point stands still",
        unit="",
        source=PRACTICE,
        advice="Grease the centre hole, run slowly, and feel for heat: a dry dead centre welds itself in.",
    )


def _half(choices: Choices, mouth: float) -> Iterator[Finding]:
    """Share of the circle in the mouth of the centre hole that still carries."""
    height = choices.sizes["point/flat_height"].nominal_mm
    least = 0.05 * mouth
    most = 0.4 * mouth
    miss = max(0.0, least - height, height - most)
    miss = miss if miss > 1e-9 else 0.0
    inside = min(1.0, 2 * height / mouth)
    carries = 360.0 - 2 * math.degrees(math.acos(inside))
    yield Finding(
        "half",
        "stop" if miss else "note",
        "centre/flat",
        "flat above the axis",
        height,
        f"{least:.2f} to {most:.2f}",
        source=PRACTICE,
        advice=f"At the mouth of the hole {carries:.0f} degrees of the cone carry. {_half_words(height, least, most)}",
        miss=miss,
        cures=("point.flat_height",),
    )
    size = choices.sizes
    slope = 2.0 * math.tan(math.radians(choices.facts["half_deg"]))
    past = size["point/flat_length"].nominal_mm - (mouth - size["point/tip"].nominal_mm) / slope
    short = max(0.0, _PAST_WORK_MM - past) if past < _PAST_WORK_MM - 1e-9 else 0.0
    yield Finding(
        "half_reach",
        "stop" if short else "note",
        "centre/flat",
        "flat beyond the face of the work",
        past,
        f"at least {_PAST_WORK_MM:g}",
        source="shop choice",
        advice="The flat ends inside the centre hole: no tool gets past it to the face. Take a smaller centre hole, a "
        "larger head or a longer flat." if short else "So far a tool may pass.",
        miss=short,
        cures=("point.centre_hole", "point.head_diameter", "point.flat_length"),
    )


def _half_words(height: float, least: float, most: float) -> str:
    """What a flat so high, or so low, does."""
    if height > most:
        return "So far above the axis the flat lets no tool past: bring it down to within the limit."
    if height < least:
        return "So near the axis, or below it, the work would climb out towards the tool: raise the flat."
    return "Light cuts, tool pressure downwards."


def order(choices: Choices, tool: Tool, workshop: Workshop) -> tuple[SetUp, ...]:
    """Shank first, point last, ground true to the shank."""
    return _dead_order.order(choices, tool, workshop)
