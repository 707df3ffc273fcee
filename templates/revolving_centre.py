"""Revolving centre: a point that turns in rings, in a body with a Morse shank, slim enough to let the tool in.

    quill | shank ---------- barrel [ rear ring | spacer | front ring | cover ] collar, nose, point > work

The rings are clamped on the spindle between its shoulder and a washer drawn up from the rear through the shank by a
cap screw, or by a nut or circlip where no screw can pass. The front group of rings is trapped between a floor of
the pocket and the cover; rings of smaller outside diameter further back float in their own step of the pocket.

Sources: ISO 296 (shank), ISO 492 and ISO 15 (rings), ISO 286 (fits), ISO 4762 (screw); arrangement and clearances are
common practice of the trade.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from pydantic import Field

from generator.description import Choices, Tool
from generator.findings import Finding
from generator.making.setups import SetUp
from generator.making.workshop import Workshop
from generator.parameters.base import JobBase
from generator.parameters.bounds import HolderWidth, TipAhead, WorkDiameter
from generator.parameters.fields import AngleDeg, JobModel, LengthMm, Word
from generator.parameters.loads import Loads
from templates import _revolving_build, _revolving_derive, _revolving_inspect, _revolving_order

TITLE = "Revolving centre"
SUMMARY = "A point that turns in bearings, made slim where the tool must pass and short where it must be stiff."

EXAMPLE = """\
[socket]
taper = "Morse 3"

[passes]
holder_width = 16
tip_ahead = 6
tip_beside = 1
work_diameter = 22

[[stack]]
ring = "6003-2RS"

[[stack]]
ring = "6001-2RS"
"""


class Socket(JobModel):
    """What the tool goes into."""

    taper: Word = Field(description='tailstock taper, "Morse 0" to "Morse 6"')
    ejector_depth: LengthMm | None = Field(None, description="quill face to screw nose, quill wound right in")
    ejector_nose_diameter: LengthMm | None = Field(None, description="diameter of the screw nose that pushes tools out")
    quill_face_diameter: LengthMm | None = Field(None, description="outside diameter of the quill")


class Passes(JobModel):
    """The turning tool that must pass, and the work it must reach the end of."""

    holder_width: HolderWidth = Field(description="width of the tool holder along the bed")
    tip_ahead: TipAhead = Field(description="how far the tip stands ahead of the holder's front")
    tip_beside: LengthMm | None = Field(None, description="how far the tip stands beside the holder's headstock flank")
    insert_width: LengthMm | None = Field(None, description="how far insert and seat reach back from the tip")
    work_diameter: WorkDiameter = Field(description="finished diameter at the tailstock end")
    end_distance: LengthMm | None = Field(None, description="tip to the work's end face at the end of the cut")
    centre_hole: LengthMm | None = Field(None, description="mouth diameter of the centre hole in the work")
    clearance: LengthMm | None = Field(None, description="air wanted between holder and centre")


class StackItem(JobModel):
    """One entry of the stack, front to rear: rings by designation or by size, or a spacer between rings."""

    ring: Word | None = Field(None, description="designation of the bearing (ISO 15), with suffixes")
    bore: LengthMm | None = Field(None, description="bore of a bearing given outright")
    outside: LengthMm | None = Field(None, description="outside diameter of a bearing given outright")
    width: LengthMm | None = Field(None, description="width of a bearing given outright")
    count: int | None = Field(None, ge=1, le=4, description="how many of these; two where it is the only one")
    measured_width: LengthMm | None = Field(None, description="width of this bearing by micrometer")
    measured_bore: LengthMm | None = Field(None, description="bore of this bearing by gauge")
    measured_outside: LengthMm | None = Field(None, description="outside diameter of this bearing by micrometer")
    spacer: LengthMm | None = Field(None, description="length of a spacer between the bearings before and after")


class Shank(JobModel):
    """The tailstock taper."""

    end: Literal["plain", "tang", "drawbar"] = Field("plain", description="plain, tang or drawbar thread")
    stand_off: LengthMm | None = Field(None, description="gauge plane to the barrel's back face")
    length: LengthMm | None = Field(None, description="gauge plane to the shank's end")


class Body(JobModel):
    """Barrel and pocket."""

    barrel_diameter: LengthMm | None = Field(None, description="outside diameter of the barrel")
    barrel_length: LengthMm | None = Field(None, description="front face to back face")
    through_bore: LengthMm | None = Field(None, description="bore through the shank")
    floor_recess_diameter: LengthMm | None = Field(None, description="relief in the pocket's floor, diameter")
    floor_recess_depth: LengthMm | None = Field(None, description="relief in the pocket's floor, depth")
    flats_across: LengthMm | None = Field(None, description="spanner flats on the barrel, across")
    flats_width: LengthMm | None = Field(None, description="spanner flats, width along the axis")
    pocket_fit: Literal["H7", "J7", "K7"] | None = Field(None, description="class of the pocket that is trapped")
    material: Word | None = Field(None, description="steel of the body")


class Spindle(JobModel):
    """Point, nose, collar and seats."""

    point_angle: AngleDeg | None = Field(None, description="included angle of the point")
    tip: LengthMm | None = Field(None, description="flat at the tip of the point")
    nose_diameter: LengthMm | None = Field(None, description="diameter of the nose")
    overhang: LengthMm | None = Field(None, description="shoulder to where the point's cone begins")
    slim_diameter: LengthMm | None = Field(None, description="diameter of a slim extension before the point")
    slim_length: LengthMm | None = Field(None, description="length of the slim extension")
    collar_diameter: LengthMm | None = Field(None, description="collar that the front bearing stands against")
    hold: Literal["flats", "hole", "none"] | None = Field(None, description="how the nose is held: flats, hole, none")
    seat_fit: Literal["j6", "k5", "k6", "m6", "n6"] | None = Field(None, description="class of the seats")
    material: Word | None = Field(None, description="steel of the spindle")


class Retention(JobModel):
    """What draws the rings up on the spindle."""

    style: Literal["screw", "nut", "circlip"] | None = Field(None, description="screw from the rear, nut or circlip")
    screw: Word | None = Field(None, description="thread of the cap screw")
    screw_length: LengthMm | None = Field(None, description="length of the cap screw under its head")


class Cover(JobModel):
    """The front cover."""

    style: Literal["pressed", "stuck", "snap ring", "screwed"] = Field("pressed", description="how the cover is held")
    thickness: LengthMm | None = Field(None, description="thickness of the cover")
    gap: LengthMm | None = Field(None, description="running gap to the collar, per side")


class Bar(JobModel):
    """The bar on the shelf."""

    diameter: LengthMm = Field(description="diameter of the bar for the body")
    length: LengthMm | None = Field(None, description="length of the bar")


class Params(JobBase):
    """The job file of a revolving centre."""

    socket: Socket
    passes: Passes | None = None
    stack: list[StackItem] = Field(min_length=1, max_length=8, description="bearings and spacers, front to rear")
    shank: Shank = Shank()
    body: Body = Body()
    spindle: Spindle = Spindle()
    retention: Retention = Retention()
    cover: Cover = Cover()
    bar: Bar | None = None
    loads: Loads = Loads()


def derive(params: Params) -> Choices:
    """Everything the job left open, decided by rule. Raises InputError where nothing sensible can be built."""
    return _revolving_derive.derive(params)


def build(choices: Choices) -> Tool:
    """The tool: parts, seats and gaps. Branches on names and counts only."""
    return _revolving_build.build(choices)


def inspect(choices: Choices, tool: Tool) -> Iterable[Finding]:
    """Findings peculiar to a revolving centre."""
    return _revolving_inspect.inspect(choices, tool)


def order(choices: Choices, tool: Tool, workshop: Workshop) -> tuple[SetUp, ...]:
    """The set-ups that keep pocket and point true to the taper."""
    return _revolving_order.order(choices, tool, workshop)
