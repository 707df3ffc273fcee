"""What draws the rings up on the spindle: a cap screw through the shank where its head passes, else nut or circlip."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from generator import tables
from generator.description import Choices, Size
from generator.errors import Fault, InputError, TableError
from generator.fittings.shank import derive_mouth
from generator.fittings.shoulders import face_size
from generator.fittings.sizes import by_class, circlip_thickness, derived, general, round_down, round_up, within
from generator.tables.loader import load
from templates._revolving_stack import Stack

if TYPE_CHECKING:
    from templates.revolving_centre import Params

SEAT_SHORT_MM = 0.15
"""By how much more a seat ends short of its last ring for every ring on it. Shop choice."""
WIDTH_MM = 0.12
"""By how much a ring may be narrower than its name says, for rings of small bores (ISO 492 Normal)."""
SCREWS = ("M4", "M5", "M6", "M8", "M10", "M12")
NUT_THREADS = (
    "M3x0.35", "M4x0.5", "M5x0.5", "M6x0.75", "M8x1", "M10x1", "M12x1", "M14x1", "M16x1", "M18x1", "M20x1", "M22x1",
    "M24x1", "M25x1", "M27x1", "M28x1", "M30x1", "M33x1.5", "M35x1.5", "M38x1.5", "M40x1.5", "M45x1.5", "M48x1.5",
)  # fmt: skip
"""Fine threads that taps and dies are common in. Shop choice."""
NUT_SPANNERS_MM = (
    5.5, 7.0, 8.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0, 16.0, 17.0, 18.0, 19.0, 21.0, 22.0, 24.0, 27.0, 30.0, 32.0,
    34.0, 36.0, 38.0, 41.0, 46.0, 50.0, 55.0, 60.0,
)  # fmt: skip
"""Widths across flats of common spanners (ISO 272 series, from memory)."""
NUT_WALL_MM = 1.1
"""Least wall from the thread's crests to a flat, 1.0 when the flats are 0.2 under. Common practice, no source."""
NUT_FLANGE_MM = 1.5
"""How much of a nut is left round behind its flats, on the bearing's side. Shop choice."""
NUT_PITCHES = 3.5
"""Full threads of a nut that bear at least, beyond the relief of its stud. Shop choice."""
TANG_SHARE = 0.4
"""Bore through a tang over its thickness: three tenths of it are left on either side. Shop choice."""
HEAD_GAP_MM = 0.25
"""Air round a screw's head in the bore it passes, per side. Shop choice."""
LEAST_BORE_MM = 2.5
"""A thinner bore cannot be drilled the length of a shank; the shank is left solid. Common practice, no source."""
DEEPEST_DRILL = 25.0
"""Depth of a bore over its diameter beyond which it is not drilled. Common practice, no source."""
NOSE_WALL_MM = 2.0
"""Wall wanted round the thread in the spindle. Shop choice."""
CLIP_GAP_MM = (0.0, 0.1)
"""Least and most between a circlip and the far side of its groove. Shop choice."""
KEY_GRIP_MM = 15.0
"""How much of a key must stand out to turn it by. Common practice, no source."""
BEHIND_HEAD_MM = 9.0
"""Floor of the pocket, room behind the washer, and what the chain may add. Shop choice."""
HEAD_WALL_MM = 0.9
"""Least wall left round the hexagon's corners when a head is turned down. Shop choice."""


def derive_retention(choices: Choices, params: Params, stack: Stack, taper: tables.MorseTaper) -> None:
    """Decide the style, its sizes, the through bore, and the room (`facts` tail) taken behind the last ring."""
    most_bore = largest_bore_mm(choices, taper)
    choices.facts["through_bore_most"] = most_bore
    seat = stack.rings[-1].ring.bore_mm
    depth = choices.sizes["shank/length"].nominal_mm + choices.sizes["shank/stand_off"].nominal_mm
    deepest = _deepest_hole_mm(choices, stack)
    fitting = [
        name
        for name in SCREWS
        if _screw_fits(name, seat, most_bore, depth + 0.25 * (len(stack.rings) - 2))
        and _hole_mm(name) <= deepest.get(name, math.inf)
    ]
    asked, screw = params.retention.style, params.retention.screw
    rule = "a cap screw's head passes the shank"
    if not fitting:
        rule = (
            f"no cap screw from M4 up passes a bore of {most_bore:.1f} mm, suits a seat of {seat:g} mm and lies within "
            f"a key's reach {depth:.0f} mm down the shank, in a hole that the spindle has room for"
        )
    style = choices.decide("retention.style", asked, "screw" if fitting or screw else "nut", rule, "")
    choices.names["retention"] = style
    choices.counts["through"] = 1
    if style == "screw":
        _derive_screw(choices, params, stack, fitting, most_bore)
        _derive_bore_end(choices, taper)
        return
    least_bore = max(LEAST_BORE_MM, depth / DEEPEST_DRILL)
    choices.counts["through"] = int(params.body.through_bore is not None or most_bore >= least_bore)
    if choices.counts["through"]:
        bore = choices.decide(
            "body.through_bore",
            params.body.through_bore,
            round_down(min(0.45 * taper.small_end_mm, most_bore, stack.rings[-1].ring.inner_land_min_mm - 1.0), 0.1),
            "lets a soft rod push the spindle out from behind, leaves the pocket its floor",
        )
        choices.size("body/through_bore", general(bore, "body.through_bore"))
        _derive_bore_end(choices, taper)
    if style == "nut":
        _derive_nut(choices, stack)
    else:
        _derive_circlip(choices, stack)


def _derive_bore_end(choices: Choices, taper: tables.MorseTaper) -> None:
    """The countersink of the through bore, and the wall that it leaves a tang."""
    choices.facts["tang_wall"] = round_down((1.0 - TANG_SHARE) / 2 * taper.tang_thickness_mm - 0.3, 0.1)
    bore = choices.sizes["body/through_bore"].nominal_mm
    if choices.names["shank_end"] != "drawbar":
        derive_mouth(choices, bore)
    elif abs(bore - choices.sizes["drawbar/minor"].nominal_mm) < 1e-6:
        # The tap drill goes right through: there is no floor of its own to be told.
        choices.sizes["drawbar/hole_depth"] = replace(choices.sizes["drawbar/hole_depth"], derived=True)


def largest_bore_mm(choices: Choices, taper: tables.MorseTaper) -> float:
    """The largest bore that leaves the shank its wall, its tang whole, or its drawbar thread its crests."""
    end = choices.names["shank_end"]
    small = choices.sizes["shank/small_relief"].nominal_mm
    most = small - 2 * max(2.0, 0.15 * small)
    if end == "tang":
        most = min(most, TANG_SHARE * taper.tang_thickness_mm)
    if end == "drawbar":
        most = min(most, choices.sizes["drawbar/minor"].nominal_mm)
    return round_down(most, 0.1)


def longest_key_mm(key_mm: float) -> float:
    """Long arm of the longest hexagon key sold for this socket (ISO 2936)."""
    key = tables.hex_key(key_mm)
    return max(key.long_arm_mm, key.long_arm_long_mm or 0.0)


def _least_head_mm(screw: tables.CapScrew) -> float:
    """A turned-down head must keep a wall round the corners of its hexagon."""
    return screw.key_mm * 1.1547 + 2 * HEAD_WALL_MM


def _screw_fits(name: str, seat_mm: float, most_bore_mm: float, depth_mm: float) -> bool:
    """True if the screw suits the seat, its head (turned down if need be) passes, and a key reaches it.

    The head lies deeper than the shank is long by the floor of the pocket, less its own height.
    """
    screw = tables.cap_screw(name)
    slim = tables.thread(name).major_mm <= 0.55 * seat_mm
    if depth_mm + BEHIND_HEAD_MM - screw.head_height_mm > longest_key_mm(screw.key_mm) - KEY_GRIP_MM:
        return False
    return slim and _least_head_mm(screw) + 2 * HEAD_GAP_MM <= most_bore_mm


def _washer_mm(thread: tables.Thread) -> float:
    return max(2.0, round_up(0.5 * thread.major_mm, 0.5))


def _hole_mm(name: str) -> float:
    """Depth of the tapped hole that this screw needs, to the tip of the drill."""
    screw, thread = tables.cap_screw(name), tables.thread(name)
    grip = _washer_mm(thread) + 0.5
    return _thread_depth_mm(_stock_mm(screw, thread, grip) - grip, thread)[1] + 1.0 + 0.3 * thread.tap_drill_mm


def _stock_mm(screw: tables.CapScrew, thread: tables.Thread, grip_mm: float) -> float:
    """The stocked length that has one and a half diameters in the thread."""
    wanted = grip_mm + 1.5 * thread.major_mm
    return float(next((length for length in screw.lengths_mm if length >= wanted), screw.lengths_mm[-1]))


def _thread_depth_mm(engaged_mm: float, thread: tables.Thread) -> tuple[float, float]:
    """Depth of full thread, and of the hole drilled for it."""
    full = round_up(engaged_mm + 3 * thread.pitch_mm, 0.5)
    return full, round_up(full + 3 * thread.pitch_mm, 0.5)


def _deepest_hole_mm(choices: Choices, stack: Stack) -> dict[str, float]:
    """For each screw that would leave a thin nose no wall: how deep its hole may go, up to the front of the collar."""
    base = choices.sizes["spindle/slim" if choices.counts["slim"] else "spindle/nose"].nominal_mm
    widths = sum(plan.ring.width_mm for plan in stack.rings) + sum(length or 0.0 for length in stack.spacers)
    room = widths + choices.sizes["spindle/collar_length"].nominal_mm - 2.0
    return {name: room for name in SCREWS if tables.thread(name).tap_drill_mm + 2 * NOSE_WALL_MM > base}


def _derive_screw(choices: Choices, params: Params, stack: Stack, fitting: list[str], most_bore: float) -> None:
    name = choices.decide(
        "retention.screw",
        params.retention.screw,
        fitting[-1] if fitting else "M4",
        "largest that leaves the spindle its wall and passes the shank",
        "",
    )
    try:
        screw, thread = tables.cap_screw(name), tables.thread(name)
    except TableError as error:
        raise InputError([Fault("retention.screw", str(error), repr(name), "choose M4 to M12")]) from error
    full = screw.head_diameter_max_mm
    wanted = round_up(full + 2 * HEAD_GAP_MM, 0.5)
    bore = choices.decide(
        "body.through_bore",
        params.body.through_bore,
        wanted if wanted <= most_bore else round_down(most_bore, 0.1),
        "passes the screw head, leaves the shank its wall",
    )
    head = min(full, round_down(bore - 2 * HEAD_GAP_MM, 0.1))
    choices.counts["head_turned_down"] = int(head < full)
    choices.names["screw/turned"] = f", head turned to dia {head - 0.15:g} to {head:g} mm" if head < full else ""
    choices.size("body/through_bore", general(bore, "body.through_bore"))
    turned = "turned down to pass the shank" if head < full else "ISO 4762"
    choices.size("screw/head", within(head, 0.0, -0.15, "rule: through bore", turned))
    choices.size("screw/head_least", derived(_least_head_mm(screw), "rule: wall round the hexagon"))
    choices.size("screw/head_height", Size(screw.head_height_mm, 0.0, -0.3, "ISO 4762", "retention.screw"))
    choices.size("screw/major", derived(thread.major_mm, "retention.screw"))
    choices.size("screw/socket", derived(screw.key_mm, "retention.screw"))
    washer = _derive_washer(choices, stack, thread)
    _derive_engagement(choices, params, screw, thread, washer)
    choices.names["key"] = f"{screw.key_mm:g} mm hexagon key"
    choices.facts.update(key_mm=screw.key_mm, key_longest_mm=longest_key_mm(screw.key_mm))
    choices.facts["tail"] = round_up(washer + 0.6 + WIDTH_MM * len(stack.rings), 0.5)
    choices.facts["tail_diameter"] = choices.sizes["washer/outside"].nominal_mm


def _derive_washer(choices: Choices, stack: Stack, thread: tables.Thread) -> float:
    """The clamp washer that presses the last inner ring and nothing else; returns its thickness."""
    last = stack.rings[-1].ring
    thickness = _washer_mm(thread)
    choices.size("washer/thickness", within(thickness, 0.1, -0.1, "rule: half the screw's diameter"))
    choices.size("washer/outside", face_size(last, "rule: on the last bearing's inner ring, below its land"))
    choices.size("washer/bore", within(thread.major_mm + 0.4, 0.2, 0.0, "rule: clears the screw"))
    return thickness


def _derive_engagement(
    choices: Choices, params: Params, screw: tables.CapScrew, thread: tables.Thread, washer: float
) -> None:
    """Screw length from stock, thread and drill depth in the spindle."""
    grip = washer + 0.5
    length = choices.decide(
        "retention.screw_length",
        params.retention.screw_length,
        _stock_mm(screw, thread, grip),
        "stocked length with 1.5 diameters in the thread",
    )
    engaged = length - grip
    choices.names["screw/order"] = f"ISO 4762 - {thread.name} x {length:g} - 8.8"
    choices.size("screw/length", Size(length, 0.3, -0.3, "ISO 4762", "retention.screw_length"))
    thread_depth, hole_depth = _thread_depth_mm(engaged, thread)
    choices.size("tapped_hole/thread", within(thread_depth, 1.0, 0.0, "rule: engagement and three pitches"))
    choices.size("tapped_hole/depth", within(hole_depth, 1.0, 0.0, "rule: tap run-out"))
    choices.size("tapped_hole/minor", derived(thread.tap_drill_mm, "retention.screw"))
    choices.names["tapped_hole/thread"] = thread.name
    choices.facts.update(screw_major=thread.major_mm, screw_pitch=thread.pitch_mm)


def _derive_nut(choices: Choices, stack: Stack) -> None:
    """A made round nut on a fine thread behind the last ring; the cartridge goes in from the front."""
    last = stack.rings[-1].ring
    face = face_size(last, "rule: on the last bearing's inner ring, below its land")
    thread, across = _nut_thread(last.bore_mm, face.nominal_mm)
    relief = _derive_stud_relief(choices, thread)
    thickness = max(
        5.0, round_up(0.5 * thread.major_mm + NUT_FLANGE_MM, 0.5), round_up(relief + NUT_PITCHES * thread.pitch_mm, 0.5)
    )
    choices.names["nut/thread"] = thread.name
    choices.facts["nut_pitch"] = thread.pitch_mm
    choices.size("nut/thickness", general(thickness, "rule: half the thread's diameter beyond the flange"))
    choices.size("nut/flange", general(NUT_FLANGE_MM, "rule: left round, so that the whole face bears"))
    choices.size("nut/outside", face)
    choices.size("nut/minor", derived(thread.tap_drill_mm, "nut thread"))
    choices.size("nut/across", within(across, 0.0, -0.2, "rule: two flats for a common spanner"))
    choices.size("spindle/stud", derived(thread.major_mm, "nut thread"))
    # The seat ends short of the last ring by more, the more widths add up; the stud makes good for it.
    stud = round_up(thickness + 1.3 + SEAT_SHORT_MM * len(stack.rings), 0.1)
    choices.size("spindle/stud_length", general(stud, "rule: nut, and a millimetre beyond it"))
    choices.facts["tail"] = round_up(stud + 0.2 + WIDTH_MM * len(stack.rings), 0.5)
    choices.facts["tail_diameter"] = choices.sizes["nut/outside"].nominal_mm


def _derive_stud_relief(choices: Choices, thread: tables.Thread) -> float:
    """The relief between the stud's thread and the seat, where the threading tool runs out; returns its width.

    Source: DIN 76-1 form A, table thread_reliefs; the next coarser row where the pitch is finer than any.
    """
    rows = load("thread_reliefs").rows
    row = next(row for row in rows if row.number("pitch_mm") >= thread.pitch_mm - 1e-9)
    width, less = row.number("width_min_mm"), row.number("diameter_less_mm")
    wider = row.number("width_max_mm") - width
    choices.size("spindle/stud_relief_width", within(width, min(0.5, wider), 0.0, "nut thread", row.source))
    choices.size("spindle/stud_relief", within(thread.major_mm - less, 0.0, -0.1, "nut thread", row.source))
    choices.names["spindle/stud_relief_corner"] = f"R {row.number('radius_mm'):g}"
    return width


def _nut_thread(bore_mm: float, outside_mm: float) -> tuple[tables.Thread, float]:
    """The largest common fine thread that the ring slides over, with flats for a spanner outside its crests.

    Raises: InputError where the ring is too small for any.
    """
    for name in reversed(NUT_THREADS):
        thread = tables.thread(name)
        if thread.major_mm > bore_mm - 0.2:
            continue
        least, most = thread.major_mm + 2 * NUT_WALL_MM, outside_mm - 0.4
        fitting = [spanner for spanner in NUT_SPANNERS_MM if least <= spanner <= most]
        if fitting:
            return thread, fitting[-1]
    rule = f"no nut with flats for a spanner goes behind a bearing of {bore_mm:g} mm bore"
    raise InputError([Fault("retention.style", rule, "'nut'", "choose a larger rear bearing, or a circlip")])


def _derive_circlip(choices: Choices, stack: Stack) -> None:
    """An external circlip behind the last ring; a shim ring made to measure takes up the play."""
    last = stack.rings[-1].ring
    try:
        clip = tables.circlip_outside(last.bore_mm)
    except TableError as error:
        raise InputError([Fault("retention.style", str(error), "'circlip'", 'choose style = "nut"')]) from error
    choices.names["clip/order"] = f"circlip DIN 471 - {last.bore_mm:g}"
    choices.size(
        "clip/groove",
        Size(clip.groove_diameter_mm, clip.groove_upper_mm, clip.groove_lower_mm, clip.source, "retention.style"),
    )
    # DIN 471 m: the width of a groove is H13; from memory.
    choices.size("clip/width", by_class(clip.groove_width_mm, "H13", "retention.style"))
    choices.size("clip/margin", general(clip.edge_margin_mm + 0.5, "DIN 471 n"))
    choices.size("clip/thickness", circlip_thickness(clip.thickness_mm, "retention.style"))
    outside = last.bore_mm + 2 * clip.radial_width_mm
    choices.size("clip/outside", derived(outside, "DIN 471 b"))
    words = f"= measured gap - {sum(CLIP_GAP_MM) / 2:g} mm"
    choices.size("shim/thickness", Size(1.0, 0.01, -0.01, "shop choice", "rule: measured stack", fitted=words))
    choices.size("shim/outside", face_size(last, "rule: on the last bearing's inner ring, below its land"))
    choices.size("shim/bore", within(last.bore_mm + 0.1, 0.1, 0.0, "rule: slides on the seat"))
    choices.facts["tail"] = round_up(1.0 + clip.groove_width_mm + clip.edge_margin_mm + 0.5 + 1.0, 0.5)
    lugs = last.bore_mm + 2 * clip.lug_height_mm
    choices.facts["tail_diameter"] = max(lugs, choices.sizes["shim/outside"].nominal_mm)
