"""From a job to every size of a revolving centre: the slimmest and shortest that passes, each choice with its rule."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from generator import tables
from generator.checks.hold import settle_clamping
from generator.description import Choices, Size
from generator.errors import Fault, InputError, TableError
from generator.fittings.access import Passing, nose_end_needed_mm
from generator.fittings.quill import derive_quill, mouth_mm, work_shown_mm
from generator.fittings.ring import derive_ring
from generator.fittings.shank import derive_shank, morse_number
from generator.fittings.shoulders import RUB_MM, chamfer_top_mm, face_size, shoulder_mm
from generator.fittings.sizes import by_class, circlip_thickness, derived, general, round_down, round_up, within
from generator.parameters.loads import derive_loads
from templates._revolving_pockets import derive_pocket, derive_seats, derive_stack_lengths
from templates._revolving_retention import derive_retention
from templates._revolving_screwed import SPANNERS_MM, cover_thread, derive_screwed, threaded_mm
from templates._revolving_stack import Stack, read_stack
from templates._revolving_walls import POCKET_WALL_MM, RIM_WALL_MM, least_barrel_mm
from templates._units import derive_units

if TYPE_CHECKING:
    from templates.revolving_centre import Params, Passes

LEDGE_MM = 1.5
"""Width of the ledge round the front ring that the cover stands on. Shop choice."""
_SHORTEST = "shortest that lets the holder past the barrel and leaves the spindle something to be held by"
FLATS_ROOM_MM, HOLE_ROOM_MM, JAWS_ROOM_MM = 6.0, 4.0, 5.0
"""Length of the nose that flats for a spanner, a tommy hole or soft jaws need. Shop choice."""
SNAP_GAP_MM = (0.0, 0.06)
"""Least and most between a snap ring and the far side of its groove. Shop choice."""
LEAST_ROOT_MM = 0.4
"""Least radius asked for in the root of nose and slim extension: a sharp root breaks. Shop choice."""
FLATS_NOSE_MM = 8.0
"""A thinner nose gets no flats, it is held in soft jaws. Shop choice."""


def derive(params: Params) -> Choices:
    """All choices of the job, in the order in which they depend on each other."""
    choices = Choices()
    derive_units(choices, params.units)
    number = morse_number(params.socket.taper)
    taper = tables.morse(number)
    choices.decide("socket.taper", params.socket.taper, params.socket.taper, "given", "")
    choices.facts.update(ratio=taper.ratio, half_angle_deg=taper.half_angle_deg)
    choices.counts["morse"] = number
    stack = read_stack(params)
    choices.counts["rings"] = len(stack.rings)
    choices.counts["doubled"] = int(stack.doubled)
    if stack.doubled:
        choices.decide("stack[0].count", None, 2, "two of the only bearing: one cannot hold a point steady", "")
    for index, ring in enumerate(stack.rings, start=1):
        derive_ring(choices, index, ring, params.loads.accuracy or "Normal", params.loads.clearance)
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
    _derive_steels(choices, params)
    _derive_cover(choices, params, stack)
    _derive_barrel_diameter(choices, params, stack)
    _derive_point(choices, params, stack)
    derive_retention(choices, params, stack, taper)
    derive_stack_lengths(choices, params, stack)
    derive_pocket(choices, params, stack)
    _derive_flats(choices, params)
    derive_seats(choices, params, stack)
    settle_clamping(choices)
    derive_loads(choices, params.loads, params.passes.work_diameter if params.passes is not None else None)
    return choices


def _derive_steels(choices: Choices, params: Params) -> None:
    choices.names["body/material"] = choices.decide(
        "body.material", params.body.material, "42CrMo4", "tough, machines pre-hardened, common practice, no source", ""
    )
    choices.names["spindle/material"] = choices.decide(
        "spindle.material",
        params.spindle.material,
        "16MnCr5",
        "case-hardening steel, point 58-62 HRC, common practice, no source",
        "",
    )


def _derive_cover(choices: Choices, params: Params, stack: Stack) -> None:
    """Cover in its recess: thickness, recess, relief that clears the turning inner ring."""
    ring = stack.rings[0].ring
    given_style = params.cover.style if "style" in params.cover.model_fields_set else None
    style = choices.decide("cover.style", given_style, "pressed", "pressed: nothing stands in the way of the tool", "")
    choices.names["cover_style"] = style
    gap = choices.decide(
        "cover.gap", params.cover.gap, 0.2, "0.1 to 0.2 per side for a shop-made cover, common practice, no source"
    )
    screwed = style == "screwed"
    thread = cover_thread(ring.outside_mm + 1.0) if screwed else None
    thickness = choices.decide(
        "cover.thickness",
        params.cover.thickness,
        max(2.5, round_up(0.08 * ring.outside_mm, 0.5)) if thread is None else threaded_mm(thread),
        "the thread's relief and four pitches" if screwed else
        "a twelfth of the front bearing's outside diameter, 2.5 at least",
    )
    collar = choices.decide(
        "spindle.collar_diameter",
        params.spindle.collar_diameter,
        _collar_mm(ring),
        "between the shoulder that the bearing wants and its inner land",
    )
    close = collar - 0.1 < shoulder_mm(ring) <= collar - 0.05
    choices.size("spindle/collar", within(collar, 0.0, -0.05 if close else -0.1, "spindle.collar_diameter"))
    recess = round_up(ring.outside_mm + 2 * LEDGE_MM, 0.5)
    if style == "snap ring":
        recess = _circlip_recess(recess)
    if thread is not None:
        recess = derive_screwed(choices, thread, thickness, collar + 2 * gap)
    else:
        fit = "p6" if style == "pressed" else "g6"
        choices.size("cover/outside", by_class(recess, fit, "rule: front bearing and a ledge"))
        choices.size("body/cover_recess", by_class(recess, "H7", "rule: front bearing and a ledge"))
    choices.facts["recess"] = recess
    bore = collar + 2 * gap
    relief = max(round_down(ring.outer_land_min_mm, 0.5), bore + 0.5)
    choices.size("cover/thickness", within(thickness, 0.0, -0.1, "cover.thickness"))
    choices.size("cover/bore", within(bore, 0.1, 0.0, "cover.gap"))
    choices.size("cover/relief", general(relief, "rule: clear of the inner ring, bearing on the outer"))
    choices.size("cover/relief_depth", within(0.5, 0.2, 0.0, "rule: clear of the inner ring"))
    _derive_snap_ring(choices, recess, style)


def _circlip_recess(least_mm: float) -> float:
    """The next bore above `least_mm` for which there is an internal circlip."""
    for step in range(13):
        bore = round_up(least_mm, 1.0) + step
        try:
            tables.circlip_inside(bore)
        except TableError:
            continue
        return bore
    rule = f"no internal circlip for a bore from {least_mm:g} mm up"
    raise InputError([Fault("cover.style", rule, "'snap ring'", 'choose style = "pressed"')])


def _derive_snap_ring(choices: Choices, recess: float, style: str) -> None:
    thickness = choices.sizes["cover/thickness"].nominal_mm
    depth = thickness + (0.8 if style == "screwed" else 0.3)
    if style == "snap ring":
        clip = tables.circlip_inside(recess)
        choices.names["snap_ring"] = f"circlip DIN 472 - {recess:g}"
        depth = thickness + clip.groove_width_mm + clip.edge_margin_mm
        choices.size(
            "snap/groove",
            Size(clip.groove_diameter_mm, clip.groove_upper_mm, clip.groove_lower_mm, clip.source, "cover.style"),
        )
        # DIN 472 m: the width of a groove is H13; from memory.
        choices.size("snap/width", by_class(clip.groove_width_mm, "H13", "cover.style"))
        over = sum(SNAP_GAP_MM) / 2
        place = round(thickness + clip.thickness_mm - clip.groove_width_mm + over, 3)
        words = f"= measured cover + snap ring - groove + {over:g} mm"
        choices.size(
            "snap/place",
            Size(place, 0.015, -0.015, "shop choice", "cover.thickness", fitted=words),
        )
        choices.size("snap/thickness", circlip_thickness(clip.thickness_mm, "cover.style"))
        choices.size("snap/inside", derived(recess - 2 * clip.radial_width_mm, "DIN 472"))
    choices.size("body/recess_depth", within(round_up(depth, 0.1), 0.1, 0.0, "rule: cover and what holds it"))


def _collar_mm(ring: tables.Ring) -> float:
    """A shoulder that stands on the inner ring's face: no lower than the bearing wants, below its land."""
    low, high = max(shoulder_mm(ring), chamfer_top_mm(ring)), ring.inner_land_min_mm
    middle = round_down(low + 0.6 * (high - low), 0.1)
    return middle if middle - 0.1 >= low and middle < high - RUB_MM else face_size(ring, "").nominal_mm


def _derive_barrel_diameter(choices: Choices, params: Params, stack: Stack) -> None:
    pocket = stack.rings[0].ring.outside_mm
    diameter = choices.decide(
        "body.barrel_diameter",
        params.body.barrel_diameter,
        round_up(least_barrel_mm(choices, pocket), 1.0),
        f"pocket and two walls of {POCKET_WALL_MM:g}, cover recess and two rims of {RIM_WALL_MM:g}, rounded up",
    )
    choices.size("body/barrel", within(diameter, 0.0, -0.1, "body.barrel_diameter"))
    choices.size("body/front_chamfer", general(0.5, "shop choice"))
    choices.size("body/back_chamfer", general(1.0, "shop choice"))
    # A barrel slimmer than the shank behind it has no edge there to break.
    choices.counts["back_chamfer"] = int(diameter > choices.sizes["shank/large_relief"].nominal_mm + 2.0)
    if params.bar is not None:
        choices.decide("bar.diameter", params.bar.diameter, params.bar.diameter, "given")
        if params.bar.length is not None:
            choices.decide("bar.length", params.bar.length, params.bar.length, "given")


def _derive_point(choices: Choices, params: Params, stack: Stack) -> None:
    """Point, nose and overhang from the space problem, unless the job fixes them."""
    spindle, passes = params.spindle, params.passes
    if passes is None and (spindle.nose_diameter is None or spindle.overhang is None):
        rule = "say what must pass, or fix both spindle.nose_diameter and spindle.overhang"
        raise InputError(
            [Fault("passes", rule, "", "add a [passes] table with holder_width, tip_ahead, work_diameter")]
        )
    angle = choices.decide(
        "spindle.point_angle", spindle.point_angle, 60.0, "60 degrees, the angle of centre holes (ISO 6411)", "deg"
    )
    if not 30.0 <= angle <= 120.0:
        rule = "point angle must lie between 30 and 120 deg"
        raise InputError(
            [Fault("spindle.point_angle", rule, f"{angle:g} deg", "60 suits centre holes; 75 or 90 heavy work")]
        )
    choices.facts["point_half_deg"] = angle / 2
    collar = choices.sizes["spindle/collar"].nominal_mm
    clearance = 0.5
    if passes is not None:
        clearance = choices.decide(
            "passes.clearance",
            passes.clearance,
            0.5,
            "least air that a hand-set tool needs, common practice, no source",
        )
        limit = passes.work_diameter - 2 * clearance
        nose_rule = "stiffest that lets the tip run off the end: work less the clearance, no more than the collar"
        nose_default = max(1.0, round_down(min(limit, collar), 0.5))
        if nose_default > collar - 0.05:
            # Nose and collar of one diameter would leave no edge to measure the collar's length to.
            nose_default = max(1.0, nose_default - 0.5)
    else:
        nose_rule, nose_default = "given", collar
    nose = choices.decide("spindle.nose_diameter", spindle.nose_diameter, nose_default, nose_rule)
    tip = choices.decide(
        "spindle.tip",
        spindle.tip,
        min(1.0, round_up(0.06 * nose, 0.1)),
        "flat that survives; smaller than the pilot hole",
    )
    choices.size("spindle/nose", general(nose, "spindle.nose_diameter"))
    choices.size("spindle/tip", within(tip, 0.0, -min(0.3, tip / 2), "spindle.tip"))
    clear = round_up(_cover_front_mm(choices) + 1.0, 0.5)
    choices.size("spindle/collar_length", general(clear, "rule: stands clear of the cover"))
    slim = _derive_slim(choices, params)
    overhang = _derive_overhang(choices, params, slim or nose, clearance)
    choices.size("spindle/overhang", general(overhang, "spindle.overhang"))
    _derive_hold(choices, params, nose, overhang)


def _derive_slim(choices: Choices, params: Params) -> float | None:
    """The slim extension before the point, where the job asks for one."""
    spindle = params.spindle
    choices.counts["slim"] = int(spindle.slim_diameter is not None)
    if spindle.slim_diameter is None:
        return None
    diameter = choices.decide("spindle.slim_diameter", spindle.slim_diameter, spindle.slim_diameter, "given")
    length = choices.decide(
        "spindle.slim_length", spindle.slim_length, round_up(diameter, 1.0), "as long as it is thick: stiff enough"
    )
    if diameter >= choices.sizes["spindle/nose"].nominal_mm:
        rule = f"slim extension must be thinner than the nose of {choices.sizes['spindle/nose'].nominal_mm:g} mm"
        raise InputError([Fault("spindle.slim_diameter", rule, f"{diameter:g} mm", "make it smaller or leave it out")])
    _derive_root(choices, "slim", choices.sizes["spindle/nose"].nominal_mm - diameter)
    choices.size("spindle/slim", general(diameter, "spindle.slim_diameter"))
    choices.size("spindle/slim_length", general(length, "spindle.slim_length"))
    return diameter


def _derive_root(choices: Choices, name: str, step_mm: float, most_mm: float = 1.0) -> None:
    """The radius in the root of a step of this difference of diameters; a step too low for one gets none."""
    root = min(most_mm, round_down(step_mm / 2, 0.1))
    if root >= LEAST_ROOT_MM:
        choices.facts[f"{name}/corner"] = root


def _derive_overhang(choices: Choices, params: Params, base: float, clearance: float) -> float:
    """Shoulder to the cone's base: shortest that lets the holder past the barrel's front."""
    spindle, passes = params.spindle, params.passes
    collar_length = choices.sizes["spindle/collar_length"].nominal_mm
    least = collar_length + _hold_room_mm(choices, spindle.hold)
    if choices.counts["slim"]:
        least += choices.sizes["spindle/slim_length"].nominal_mm
    if passes is None:
        return choices.decide("spindle.overhang", spindle.overhang, least, "given")
    beside = choices.decide("passes.tip_beside", passes.tip_beside, 1.0, "usual of turning holders, from memory")
    insert = choices.decide("passes.insert_width", passes.insert_width, passes.tip_ahead, "as wide as the tip is ahead")
    end = choices.decide("passes.end_distance", passes.end_distance, 0.0, "turned right to the end")
    for address, value in (
        ("passes.holder_width", passes.holder_width),
        ("passes.tip_ahead", passes.tip_ahead),
        ("passes.work_diameter", passes.work_diameter),
    ):
        choices.decide(address, value, value, "given")
    mouth = _derive_centre_hole(choices, passes, base)
    passing = Passing(passes.holder_width, passes.tip_ahead, beside, insert, passes.work_diameter, end, clearance)
    face_beyond = (base - mouth) / 2 / math.tan(math.radians(choices.facts["point_half_deg"]))
    recess_depth = choices.sizes["body/recess_depth"].nominal_mm
    obstacles = [
        (recess_depth, choices.sizes["body/barrel"].nominal_mm / 2),
        (collar_length, choices.sizes["spindle/collar"].nominal_mm / 2),
    ]
    if "cover/rim" in choices.sizes:
        obstacles.append((_cover_front_mm(choices), choices.sizes["cover/rim"].nominal_mm / 2))
    needed = nose_end_needed_mm(passing, obstacles, face_beyond)
    shortest = least if needed is None else max(least, needed + 0.25)
    return choices.decide(
        "spindle.overhang", spindle.overhang, round_up(shortest, 0.5), _SHORTEST
    )


def _cover_front_mm(choices: Choices) -> float:
    """How far in front of the spindle's shoulder barrel and cover reach."""
    recess = choices.sizes["body/recess_depth"].nominal_mm
    return max(recess, choices.sizes["cover/height"].nominal_mm + 0.3) if "cover/height" in choices.sizes else recess


def _hold_room_mm(choices: Choices, given: str | None) -> float:
    """How long the nose must be for something to hold the spindle by it while its screw or nut is drawn up."""
    if given in ("none", "hole"):
        return 2.0 if given == "none" else HOLE_ROOM_MM
    return FLATS_ROOM_MM if choices.sizes["spindle/nose"].nominal_mm >= FLATS_NOSE_MM else JAWS_ROOM_MM


def _derive_centre_hole(choices: Choices, passes: Passes, base: float) -> float:
    """Mouth of the centre hole: as given, or the usual one for the work, kept smaller than the point."""
    mouth = choices.decide(
        "passes.centre_hole",
        passes.centre_hole,
        mouth_mm(passes.work_diameter, max(base - 1.0, base / 2), passes.centre_hole, "passes"),
        "mouth of the usual centre hole for the work's diameter",
    )
    choices.size("work/mouth", derived(mouth, "passes.centre_hole"))
    choices.size("work/diameter", derived(passes.work_diameter, "passes.work_diameter"))
    shown = work_shown_mm(passes.work_diameter, mouth, choices.facts["point_half_deg"])
    choices.size("work/shown", derived(shown, "rule: drawn short"))
    choices.counts["work"] = 1
    return mouth


def _derive_hold(choices: Choices, params: Params, nose: float, overhang: float) -> None:
    """Something to hold the spindle by while its screw or nut is drawn up."""
    room = overhang - choices.sizes["spindle/collar_length"].nominal_mm
    if choices.counts["slim"]:
        room -= choices.sizes["spindle/slim_length"].nominal_mm
    choices.facts["nose_room"] = room
    style = "flats" if room >= FLATS_ROOM_MM and nose >= FLATS_NOSE_MM else "none"
    style = choices.decide("spindle.hold", params.spindle.hold, style, "flats where the nose has 6 mm of room", "")
    if style != "none" and room < HOLE_ROOM_MM:
        rule = f"the nose leaves {room:.1f} mm to hold it by, {HOLE_ROOM_MM:g} are needed"
        raise InputError([Fault("spindle.hold", rule, f"'{style}'", 'choose hold = "none" or a longer overhang')])
    choices.names["hold"] = style
    width = min(8.0, round_down(room - 2.0, 0.5)) if style == "flats" else 4.0
    start = 1.5 if room >= 5.5 else 0.5
    choices.size("spindle/hold_start", general(start, "rule: just ahead of the collar"))
    _derive_root(choices, "nose", choices.sizes["spindle/collar"].nominal_mm - nose, min(1.0, start))
    choices.size("spindle/hold_width", general(max(width, 2.0), "rule: one thin spanner"))
    across = max((s for s in SPANNERS_MM if s <= 0.9 * nose), default=round_down(0.85 * nose, 0.5))
    choices.size("spindle/hold_across", within(across, 0.0, -0.2, "rule: next spanner under nine tenths of the nose"))
    hole = min(4.0, round_down(0.3 * nose, 0.5))
    choices.size("spindle/hold_hole", general(hole, "rule: tommy bar, under a third"))
    choices.size("spindle/hold_middle", general(start + hole / 2, "rule: just ahead of the collar"))


def _derive_flats(choices: Choices, params: Params) -> None:
    barrel = choices.sizes["body/barrel"].nominal_mm
    least_bore = choices.sizes[f"pocket_{choices.counts['pockets']}/diameter"].nominal_mm
    fitting = [s for s in SPANNERS_MM if least_bore + 4.0 <= s <= barrel - 1.5]
    across = choices.decide(
        "body.flats_across",
        params.body.flats_across,
        max(fitting, default=round_down(barrel - 1.5, 0.5)),
        "largest spanner that leaves the barrel its wall",
    )
    width = choices.decide(
        "body.flats_width", params.body.flats_width, 8.0, "width of a thin spanner and room to find it"
    )
    choices.size("body/flats_across", within(across, 0.0, -0.25, "body.flats_across"))
    choices.size("body/flats_width", general(width, "body.flats_width"))
