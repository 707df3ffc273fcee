"""The tailstock taper of a tool: a Morse shank after ISO 296, plain, tanged or with a drawbar thread."""

from __future__ import annotations

import re

from generator import tables
from generator.description import Choices, PartDraft, Seat, Size, Term, exact
from generator.errors import Fault, InputError
from generator.fittings.sizes import derived, general, round_down, round_up, within

__all__ = [
    "CONTACT_PERCENT", "cone_terms",
    "derive_mouth", "derive_shank", "hang_drawbar", "hang_shank", "morse_number", "seat_in_quill",
    "shank_notes", "small_end_mm",
]

CONTACT_PERCENT = 60
"""Least share of a taper that marks blue in its socket. Common practice, no source."""
RELIEF_MM = 0.4
"""How much a relief lies below the cone on the diameter: clear of the flank, still strong. Shop choice."""


TAP_PITCHES = 5.0
"""How much deeper than its thread a tapped hole is, in pitches: the lead of a tap. Common practice, no source."""
MOUTH_MM = 2.0
"""How much wider than its bore the countersink for the centre is, on the diameter. Shop choice."""


def morse_number(taper: str, place: str = "socket.taper") -> int:
    """The number of a Morse taper written "Morse 3", "MT3" or "3". Raises InputError for anything else."""
    found = re.fullmatch(r"\s*(?:morse|mt|mk)?\s*-?\s*([0-6])\s*", taper, re.IGNORECASE)
    if found is None:
        rule = "must name a Morse taper, 0 to 6 (ISO 296)"
        raise InputError([Fault(place, rule, repr(taper[:40]), 'write for example taper = "Morse 3"')])
    return int(found.group(1))


def small_end_mm(taper: tables.MorseTaper, end: str) -> float:
    """Diameter of the cone at its small end in mm."""
    return taper.tang_diameter_mm if end == "tang" else taper.small_end_mm


def derive_shank(
    choices: Choices, taper: tables.MorseTaper, end: str, stand_off_mm: float | None, length_mm: float | None
) -> None:
    """Decide the shank: stand-off, length, reliefs, tang or drawbar thread, with limits.

    Source: ISO 296 (see the table `morse` for edition and confidence); limits and reliefs are shop choices.
    """
    choices.names["shank_end"] = end
    rule = f"ISO 296 a, Morse {taper.number}: gauge plane to barrel"
    stand_off = choices.decide("shank.stand_off", stand_off_mm, taper.stand_off_max_mm, rule)
    standard = taper.tang_total_mm if end == "tang" else taper.plain_length_mm
    length = choices.decide(
        "shank.length", length_mm, standard, f"ISO 296 {'l3' if end == 'tang' else 'l1'}, Morse {taper.number}"
    )
    large_at_end = taper.gauge_diameter_mm + max(stand_off - 2.0, 0.0) / taper.ratio
    end_relief = taper.tang_runout_mm if end == "tang" else min(5.0, round_down(0.07 * length, 0.5))
    cone_end = taper.gauge_diameter_mm - (length - end_relief) / taper.ratio
    relief = taper.tang_diameter_mm if end == "tang" else round_down(cone_end - RELIEF_MM, 0.1)
    gauge = exact(taper.gauge_diameter_mm, "socket.taper", f"ISO 296 Morse {taper.number}")
    choices.size("shank/gauge_diameter", gauge)
    by_diameter = "shop choice: 0.3 of place is 0.015 of diameter"
    choices.size("shank/stand_off", within(stand_off, 0.3, -0.3, "shank.stand_off", by_diameter))
    choices.size("shank/length", general(length, "shank.length"))
    relief_length = min(2.0, max(0.5, round_down(0.4 * stand_off, 0.5)))
    choices.size("shank/large_relief_length", general(relief_length, "rule: 0.4 of the stand-off"))
    choices.size("shank/large_relief", general(round_down(large_at_end - RELIEF_MM, 0.1), "rule: below the cone"))
    choices.size("shank/small_relief_length", general(end_relief, "rule: end of the cone cut clear"))
    choices.size("shank/small_relief", general(relief, "rule: below the cone"))
    choices.size("shank/end_chamfer", general(1.0 if taper.number > 1 else 0.5, "shop choice"))
    if end == "tang":
        choices.size("tang/across", within(taper.tang_thickness_mm, 0.0, -0.2, "socket.taper", "ISO 296 b h13"))
        choices.size("tang/length", general(taper.tang_flat_mm, "ISO 296 c"))
    if end == "drawbar":
        _derive_drawbar(choices, taper)


def _derive_drawbar(choices: Choices, taper: tables.MorseTaper) -> None:
    if taper.drawbar_thread is None or taper.drawbar_depth_mm is None:
        rule = f"Morse {taper.number} has no drawbar form in ISO 296"
        raise InputError([Fault("shank.end", rule, "'drawbar'", 'choose end = "plain" or "tang"')])
    thread = tables.thread(taper.drawbar_thread)
    choices.names["drawbar_thread"] = taper.drawbar_thread
    choices.names["drawbar/drill"] = f"{thread.tap_drill_mm:g} mm"
    choices.size("drawbar/minor", derived(thread.tap_drill_mm, "ISO 296 drawbar thread"))
    choices.size("drawbar/depth", general(taper.drawbar_depth_mm, "ISO 296 i"))
    hole = round_up(taper.drawbar_depth_mm + TAP_PITCHES * thread.pitch_mm, 0.5)
    choices.size("drawbar/hole_depth", general(hole, "rule: room for the tap's lead"))
    derive_mouth(choices, thread.tap_drill_mm, thread.major_mm - thread.tap_drill_mm + 1.0)


def derive_mouth(choices: Choices, bore_mm: float, wider_mm: float = MOUTH_MM) -> None:
    """Decide the 60 degree countersink at the shank's end, which the centre of the lathe finds when it is turned."""
    chamfered = choices.sizes["shank/small_relief"].nominal_mm - 2 * choices.sizes["shank/end_chamfer"].nominal_mm
    mouth = round_down(max(min(bore_mm + wider_mm, chamfered - 2.0), bore_mm + 0.2), 0.1)
    choices.names["shank/mouth"] = f"{mouth:g} mm"


def shank_notes(choices: Choices) -> tuple[str, ...]:
    """What the sheet says of the bore's mouth, and of the hole for a drawbar's thread."""
    notes: tuple[str, ...] = ()
    if "shank/mouth" in choices.names:
        notes += (f"Shank end countersunk 60° to dia {choices.names['shank/mouth']}.",)
    if choices.names["shank_end"] == "drawbar":
        notes += (f"Drawbar: tap drill dia {choices.names['drawbar/drill']}.",)
    return (*notes, f"Taper: blue in the quill, {CONTACT_PERCENT} % or more.")


def hang_shank(draft: PartDraft, choices: Choices, back: str, half_angle_deg: float) -> None:
    """Hang the shank on a part behind its face `back`; adds faces gauge, cone_large, cone_small and end."""
    size = choices.sizes
    draft.length("shank/stand_off", "gauge", back, -1, size["shank/stand_off"])
    draft.length("shank/large_relief_length", "cone_large", back, -1, size["shank/large_relief_length"])
    draft.length("shank/length", "end", "gauge", -1, size["shank/length"])
    draft.length("shank/small_relief_length", "cone_small", "end", 1, size["shank/small_relief_length"])
    draft.cylinder("large_relief", "outside", "cone_large", back, size["shank/large_relief"], role="relief")
    draft.cone(
        "taper",
        "outside",
        "cone_small",
        "cone_large",
        size["shank/gauge_diameter"],
        "gauge",
        half_angle_deg,
        role="taper",
        finish_ra_um=0.8,
    )
    relief = size["shank/small_relief"]
    chamfer_end = draft.chamfer("end_chamfer", "outside", "end", 1, relief, size["shank/end_chamfer"])
    draft.cylinder("small_relief", "outside", chamfer_end, "cone_small", relief, role="relief")
    if choices.names["shank_end"] == "tang":
        draft.length("tang/length", "tang_root", "end", 1, size["tang/length"])
        draft.crossing("tang", "tang", "end", "tang_root", across=size["tang/across"])


def hang_drawbar(draft: PartDraft, choices: Choices) -> str:
    """Add the drawbar thread at the shank end; returns the face where a through bore may go on."""
    size, thread = choices.sizes, f"{choices.names['drawbar_thread']}-6H"
    draft.length("drawbar/depth", "drawbar_thread_end", "end", 1, size["drawbar/depth"])
    draft.length("drawbar/hole_depth", "drawbar_bottom", "end", 1, size["drawbar/hole_depth"])
    draft.cylinder("drawbar_hole", "inside", "end", "drawbar_bottom", size["drawbar/minor"], role="thread")
    draft.zone("drawbar", "drawbar_hole", "end", "drawbar_thread_end", "thread", thread)
    return "drawbar_bottom"


def cone_terms(ratio: float, shank: Size, socket: Size, part: str) -> tuple[Term, ...]:
    """The terms of a taper in its socket: a shank 0.05 mm larger stands about 1 mm further out."""
    return (
        Term(ratio, shank, f"{part}/taper/diameter"),
        Term(-ratio, socket, "quill/socket/diameter"),
    )


def seat_in_quill(part: str, choices: Choices, ratio: float) -> Seat:
    """The seat of a shank's gauge plane in the quill's face."""
    terms = cone_terms(ratio, choices.sizes["shank/gauge_diameter"], choices.sizes["quill/socket"], part)
    return Seat(part, "gauge", "quill", "face", "cone", terms)
