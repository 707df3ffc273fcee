"""The neighbours at the tailstock: the quill with its socket, the ejector nose, and the work on the point."""

from __future__ import annotations

import math

from generator import tables
from generator.description import Choices, Gap, Part, PartDraft, Seat, Size, Term
from generator.errors import Fault, InputError, TableError
from generator.findings import PRACTICE
from generator.fittings.sizes import derived, round_up

__all__ = [
    "derive_quill",
    "ejector_gaps",
    "ejector_part",
    "ejector_seat",
    "mouth_mm",
    "quill_part",
    "stand_off_gap",
    "work_part",
    "work_shown_mm",
]

SOCKET_ERROR_MM = 0.01
"""How far a sound quill socket's gauge diameter may be off, each way. From memory, no source."""


def derive_quill(
    choices: Choices,
    taper: tables.MorseTaper,
    face_diameter_mm: float | None,
    ejector_depth_mm: float | None,
    ejector_nose_mm: float | None,
) -> None:
    """Decide what the tool goes into; what nobody measured is a marked default.

    Raises InputError where the quill given has no room for its own socket.
    """
    machine = tables.machine_defaults(taper.number)
    face = choices.assume(
        "socket.quill_face_diameter",
        face_diameter_mm,
        machine.quill_diameter_mm.usual,
        "usual of the class, from memory: measure your quill",
    )
    if face <= taper.gauge_diameter_mm + 2.0:
        rule = f"a quill is thicker than its socket of {taper.gauge_diameter_mm:g} mm"
        raise InputError([Fault("socket.quill_face_diameter", rule, f"{face:g} mm", "measure the quill, or its taper")])
    depth = choices.assume(
        "socket.ejector_depth",
        ejector_depth_mm,
        machine.ejector_depth_mm.usual,
        "usual of the class, from memory: measure from the quill face to the screw nose, quill wound right in",
    )
    nose = choices.assume(
        "socket.ejector_nose_diameter",
        ejector_nose_mm,
        round(0.75 * taper.small_end_mm, 1),
        "three quarters of the shank's small end, no source: measure the screw nose",
    )
    error = SOCKET_ERROR_MM
    choices.size(
        "quill/socket",
        Size(taper.gauge_diameter_mm, error, -error, "default: sound socket, from memory", "socket.taper"),
    )
    choices.size("quill/face_diameter", derived(face, "socket.quill_face_diameter"))
    choices.size("quill/shown", derived(choices.sizes["shank/length"].nominal_mm + 25.0, "rule: beyond the shank"))
    choices.size("ejector/depth", _assumed(choices, depth, 0.5, "socket.ejector_depth"))
    choices.size("ejector/nose", _assumed(choices, nose, 0.2, "socket.ejector_nose_diameter"))
    choices.size("ejector/shown", derived(30.0, "rule: drawn short"))


def _assumed(choices: Choices, value: float, reach: float, address: str) -> Size:
    source = choices.parameters[address].rule if choices.parameters[address].is_default else "given"
    return Size(value, reach, -reach, source, address)


def quill_part(choices: Choices, half_angle_deg: float) -> Part:
    """The quill as a neighbour: socket open to the rear, cut off behind the shank."""
    size = choices.sizes
    draft = PartDraft("quill", "Quill", "face", neighbour=True)
    draft.length("shown", "cut_off", "face", -1, size["quill/shown"])
    draft.cylinder("outside", "outside", "cut_off", "face", size["quill/face_diameter"])
    draft.cone("socket", "inside", "cut_off", "face", size["quill/socket"], "face", half_angle_deg)
    return draft.done()


def ejector_part(choices: Choices) -> Part:
    """The nose of the tailstock screw as a neighbour."""
    size = choices.sizes
    draft = PartDraft("ejector", "Ejector nose", "nose", neighbour=True, sectioned=False)
    draft.length("shown", "cut_off", "nose", -1, size["ejector/shown"])
    draft.cylinder("outside", "outside", "cut_off", "nose", size["ejector/nose"])
    return draft.done()


def ejector_seat(choices: Choices) -> Seat:
    """Where the ejector nose stands with the quill wound right in."""
    behind = Term(-1.0, choices.sizes["ejector/depth"], "ejector/depth")
    return Seat("ejector", "nose", "quill", "face", "face", (behind,))


def stand_off_gap(part: str) -> Gap:
    """The room between the quill's face and the back of the tool's head."""
    return Gap(
        "stand_off",
        "back face clear of the quill face",
        "quill/face",
        f"{part}/back",
        1.0,
        None,
        "room to wear in and to be knocked out; the cone multiplies an error of diameter by about twenty",
        PRACTICE,
        cures=("shank.stand_off",),
    )


def ejector_gaps(part: str, bore: str, cures: tuple[str, ...] = ()) -> tuple[Gap, ...]:
    """Does the ejector reach the shank, and does it push on the shank rather than on what lies in its bore?

    `cures` are the parameters that decide the bore.
    """
    reach = Gap(
        "ejection",
        "shank end reached by the ejector",
        f"{part}/end",
        "ejector/nose",
        1.0,
        None,
        "the ejector must still push when the taper has let go",
        PRACTICE,
        cures=("shank.length",),
    )
    if not bore:
        return (reach,)
    nose = Gap(
        "ejector_on_shank",
        "ejector nose wider than the bore (per side)",
        bore,
        "ejector/outside",
        0.2,
        None,
        "a nose smaller than the bore enters it and pushes on the screw",
        PRACTICE,
        direction="radial",
        cures=cures,
    )
    return reach, nose


def mouth_mm(work_diameter_mm: float, most_mm: float, given_mm: float | None, table: str) -> float:
    """Mouth of the centre hole in the work: as given, or the usual one for its diameter, no more than `most_mm`.

    `table` is the table of the job file that holds `work_diameter` and `centre_hole`.
    Raises: InputError for a hole as wide as the work, or work for which no hole is usual.
    """
    if given_mm is not None:
        if given_mm < work_diameter_mm - 0.5:
            return given_mm
        rule = f"must be smaller than the work of {work_diameter_mm:g} mm"
        cure = "give the mouth of the centre hole, or leave it out"
        raise InputError([Fault(f"{table}.centre_hole", rule, f"{given_mm:g} mm", cure)])
    try:
        usual = tables.centre_hole_for(work_diameter_mm).countersink_mm
    except TableError as error:
        cure = "give the mouth of its centre hole, centre_hole"
        rule = f"no centre hole is usual: {error}"
        raise InputError([Fault(f"{table}.work_diameter", rule, f"{work_diameter_mm:g} mm", cure)]) from error
    return min(usual, most_mm)


def work_shown_mm(work_diameter_mm: float, mouth_diameter_mm: float, half_angle_deg: float) -> float:
    """How much of the work is drawn: beyond its centre hole."""
    hole = mouth_diameter_mm / 2 / math.tan(math.radians(half_angle_deg))
    return max(20.0, 0.8 * work_diameter_mm, round_up(hole + 5.0, 1.0))


def work_part(diameter: Size, mouth: Size, half_angle_deg: float, shown: Size) -> Part:
    """The end of the work as a neighbour, with the mouth of its centre hole on the point."""
    draft = PartDraft("work", "Work", "mouth", neighbour=True)
    draft.length("shown", "cut_off", "mouth", 1, shown)
    draft.cylinder("outside", "outside", "mouth", "cut_off", diameter)
    draft.cone("centre_hole", "inside", "mouth", "hole_end", mouth, "mouth", -half_angle_deg)
    draft.place("hole_end", "centre_hole", derived(0.0, "rule: apex"))
    return draft.done()
