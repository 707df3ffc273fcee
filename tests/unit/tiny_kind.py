"""A tiny kind of tool for tests of the job file, the command line and the writing of results. Not a sound design."""

from __future__ import annotations

from pathlib import Path

TINY = '''\
"""A plug with a head: the smallest kind that has a choice, a gap and a list."""

from pydantic import Field

from generator.description import Choices, Gap, PartDraft, Seat, Size, Tool, exact
from generator.errors import Fault, InputError
from generator.findings import Finding
from generator.parameters.fields import AngleDeg, JobModel, LengthMm, Word
from generator.parameters.base import JobBase
from generator.making.setups import SetUp, Step

TITLE = "Plug"
SUMMARY = "A head on a taper."
EXAMPLE = """\\
[head]
diameter = 30

[[stack]]
ring = "6003-2RS"
"""


class Socket(JobModel):
    """What the tool goes into."""

    taper: Word = Field("Morse 3", description="taper of the quill")
    ejector_depth: LengthMm | None = Field(None, description="quill face to screw nose")


class Head(JobModel):
    """The head."""

    diameter: LengthMm = Field(description="outside diameter of the head")
    length: LengthMm | None = Field(None, description="length of the head")
    angle: AngleDeg | None = Field(None, description="included angle of the point")
    sides: int = Field(1, ge=1, le=6, description="how many")


class Entry(JobModel):
    """One ring."""

    ring: Word | None = Field(None, description="designation")
    count: int = Field(1, ge=1, le=4, description="how many")
    measured_width: LengthMm | None = Field(None, description="width by micrometer")


class Bar(JobModel):
    """The bar on the shelf."""

    diameter: LengthMm = Field(description="diameter of the bar")


class Params(JobBase):
    """The job file of a plug."""

    socket: Socket = Socket()
    head: Head
    stack: list[Entry] = Field(default_factory=list, max_length=3, description="rings")
    bar: Bar | None = None


def derive(params):
    choices = Choices()
    if params.head.diameter < 25:
        fault = Fault("head.diameter", "must be larger than the shank", f"{params.head.diameter:g} mm", "make it 25 mm")
        raise InputError([fault])
    choices.decide("head.diameter", params.head.diameter, 30.0, "given")
    choices.decide("head.length", params.head.length, round(params.head.diameter / 2, 1), "half the diameter")
    choices.decide("head.angle", params.head.angle, 60.0, "usual of centre holes", "deg")
    choices.assume("socket.ejector_depth", params.socket.ejector_depth, 88.0, "usual of the class: measure it")
    return choices


def build(choices):
    value = {name: choice.value for name, choice in choices.parameters.items()}
    draft = PartDraft("plug", "Plug", "front", material="C45")
    draft.length("head/length", "back", "front", -1, Size(value["head.length"], 0.2, -0.2, "ISO 2768-m", "head.length"))
    draft.length("shank/stand_off", "gauge", "back", -1, Size(5.0, 0.3, -0.3, "ISO 2768-m", "rule"))
    draft.length("shank/length", "end", "gauge", -1, Size(80.0, 0.3, -0.3, "ISO 2768-m", "rule"))
    head = Size(value["head.diameter"], 0.2, -0.2, "ISO 2768-m", "head.diameter")
    draft.cylinder("head", "outside", "back", "front", head)
    draft.cone("taper", "outside", "end", "back", exact(23.825, "rule", "ISO 296"), "gauge", 1.4377, role="taper")
    quill = PartDraft("quill", "Quill", "face", neighbour=True)
    quill.length("length", "rear", "face", -1, exact(90.0))
    quill.cylinder("outside", "outside", "rear", "face", exact(45.0))
    quill.cone("socket", "inside", "rear", "face", exact(23.825), "face", 1.4377)
    gap = Gap("stand_off", "head clear of quill", "quill/face", "plug/back", 1.0, None, "room to wear in", "no source")
    parts = {"quill": quill.done(), "plug": draft.done()}
    return Tool("tiny", "Plug", "quill", parts, (Seat("plug", "gauge", "quill", "face", "cone"),), (gap,))


def inspect(choices, tool):
    length = choices.parameters["head.length"].value
    if length > 40.0:
        yield Finding("head-length", "stop", "head.length", "head too long", length, "at most 40", source="shop choice",
                      advice="shorten the head", cures=("head.length",), miss=length - 40.0)
    if length > 30.0:
        yield Finding("head-long", "warn", "head.length", "head rather long", length, "at most 30", source="shop")


def order(choices, tool, workshop):
    return (
        SetUp(1, ("plug",), "Face and centre both ends", "three-jaw", "bar", "", (),
              (Step("face both ends", work="face"), Step("centre them", work="centre")),
              located="bar", grips="bar", grip_mm=30.0, out_mm=70.0),
        SetUp(2, ("plug",), "Turn the plug", "between centres", "centre holes", "plug/front",
              ("plug/head", "plug/taper"),
              (Step("turn the head", work="turn", surface="plug/head"),
               Step("turn the taper", work="taper", surface="plug/taper")), located="centres", grips="bar"),
    )
'''

JOB = """\
kind = "tiny"
name = "plug-1"

[head]
diameter = 30
"""


def write_tiny(folder: Path, name: str = "tiny") -> Path:
    """Write the kind as a user's template and return its folder."""
    folder.mkdir(exist_ok=True)
    (folder / f"{name}.py").write_text(TINY, encoding="utf-8")
    return folder
