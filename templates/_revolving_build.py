"""From the choices to the parts and seats of a revolving centre. Branches on names and counts only."""

from __future__ import annotations

from dataclasses import replace

from generator.checks.assembly import way_apart, way_together
from generator.description import Choices, Part, PartDraft, Seat, Tool, nominal_positions
from generator.fittings.access import passing_of, silhouettes
from generator.fittings.quill import ejector_part, ejector_seat, quill_part, work_part
from generator.fittings.ring import play_term, ring_parts
from generator.fittings.shank import hang_drawbar, hang_shank, seat_in_quill, shank_notes
from generator.fittings.sizes import derived
from generator.making.route.heat import hardening_of
from templates._revolving_gaps import gaps

_GAP_SHARE, _GAP_AT_DEG = 0.35, 60.0
CASE_NOTE = "Point case-hardened 0.8 to 1.2 mm deep; thread, seats, collar and nose left soft."
CORNER = "R {:.1f} max"


def build(choices: Choices) -> Tool:
    """The whole tool with its neighbours: quill, ejector, and the work where the job names it."""
    parts: list[Part] = [quill_part(choices, choices.facts["half_angle_deg"]), ejector_part(choices)]
    seats = [ejector_seat(choices), seat_in_quill("body", choices, choices.facts["ratio"])]
    parts.append(_body(choices))
    parts.append(_spindle(choices))
    _add_rings(choices, parts, seats)
    _add_retention(choices, parts, seats)
    _add_cover(choices, parts, seats)
    if "work" in choices.counts:
        size = choices.sizes
        parts.append(
            work_part(size["work/diameter"], size["work/mouth"], choices.facts["point_half_deg"], size["work/shown"])
        )
        seats.append(Seat("work", "mouth", "spindle", "contact", "cone"))
    rings = choices.counts["rings"]
    turning = {"spindle", *(f"ring_{i}_inner" for i in range(1, rings + 1))}
    turning |= {f"spacer_{i}_inner" for i in range(1, rings)} | {"washer", "screw", "nut", "clip", "shim"}
    names = {part.name for part in parts}
    tool = Tool(
        "revolving-centre",
        "Revolving centre",
        "quill",
        {part.name: part for part in parts},
        tuple(seats),
        gaps(choices),
        frozenset(turning & names),
        put_together=way_together(choices),
        take_apart=way_apart(choices),
    )
    passing = passing_of(choices)
    if passing is None:
        return tool
    return replace(tool, silhouettes=silhouettes(passing, nominal_positions(tool)["work/mouth"]))


def _body(choices: Choices) -> Part:
    size, pockets = choices.sizes, choices.counts["pockets"]
    notes, steel = shank_notes(choices), choices.names["body/material"]
    draft = PartDraft("body", "Body", "front", material=steel, notes=notes)
    draft.length("recess/depth", "ledge", "front", -1, size["body/recess_depth"])
    for step in range(1, pockets + 1):
        draft.length(f"pocket_{step}/depth", f"floor_{step}", "ledge", -1, size[f"pocket_{step}/depth"])
    floor = f"floor_{pockets}"
    draft.length("floor_recess/depth", "recess_bottom", floor, -1, size["body/floor_recess_depth"])
    draft.length("barrel/length", "back", "front", -1, size["body/barrel_length"])
    draft.length("flats/width", "flats_front", "back", 1, size["body/flats_width"])
    barrel = size["body/barrel"]
    front_end = draft.chamfer("front_chamfer", "outside", "front", -1, barrel, size["body/front_chamfer"])
    back_end = "back"
    if choices.counts["back_chamfer"]:
        back_end = draft.chamfer("back_chamfer", "outside", "back", 1, barrel, size["body/back_chamfer"])
    draft.cylinder("barrel", "outside", back_end, front_end, barrel, finish_ra_um=3.2)
    hang_shank(draft, choices, "back", choices.facts["half_angle_deg"])
    _hang_pocket(draft, choices, pockets)
    bore_end = hang_drawbar(draft, choices) if choices.names["shank_end"] == "drawbar" else "end"
    if choices.counts["through"]:
        draft.cylinder("through_bore", "inside", bore_end, "recess_bottom", size["body/through_bore"])
    draft.crossing("spanner_flats", "flats", "back", "flats_front", across=size["body/flats_across"])
    return draft.done()


def _hang_pocket(draft: PartDraft, choices: Choices, pockets: int) -> None:
    """Cover recess, steps of the pocket and the relief in its floor, with their run-outs."""
    size = choices.sizes
    if choices.names["cover_style"] == "screwed":
        draft.cylinder("cover_recess", "inside", "ledge", "front", size["body/cover_recess"], role="thread")
        draft.length("thread_relief/width", "thread_relief_end", "ledge", 1, size["body/thread_relief_width"])
        groove = size["body/thread_relief"]
        draft.cylinder("thread_relief", "inside groove", "ledge", "thread_relief_end", groove, role="relief")
        thread = f"{choices.names['cover/thread']}-6H"
        draft.zone("cover_thread", "cover_recess", "thread_relief_end", "front", "thread", thread)
    else:
        draft.cylinder(
            "cover_recess", "inside", "ledge", "front", size["body/cover_recess"], role="pocket", finish_ra_um=1.6
        )
    if choices.names["cover_style"] == "snap ring":
        draft.length("snap/place", "snap_near", "ledge", 1, size["snap/place"])
        draft.length("snap/width", "snap_far", "snap_near", 1, size["snap/width"])
        draft.cylinder("snap_groove", "inside groove", "snap_near", "snap_far", size["snap/groove"])
    start = "ledge"
    for step in range(1, pockets + 1):
        draft.cylinder(
            f"pocket_{step}",
            "inside",
            f"floor_{step}",
            start,
            size[f"pocket_{step}/diameter"],
            role="pocket",
            finish_ra_um=1.6,
        )
        draft.corner(f"pocket_{step}", f"floor_{step}", CORNER.format(choices.facts[f"pocket_{step}/corner"]))
        draft.relation(
            f"pocket_{step}",
            "taper",
            "run-out",
            choices.facts["run_out"],
            "bore in one setting, finished shank in the headstock spindle",
        )
        start = f"floor_{step}"
        if choices.counts.get(f"pocket_{step}/relief"):
            draft.length(f"pocket_{step}/relief", f"relief_{step}", start, -1, size[f"pocket_{step}/relief_depth"])
            draft.cylinder(
                f"relief_{step}", "inside", f"relief_{step}", start, size[f"pocket_{step}/relief"], role="relief"
            )
            start = f"relief_{step}"
    draft.cylinder("floor_recess", "inside", "recess_bottom", start, size["body/floor_recess"], role="relief")


def _spindle(choices: Choices) -> Part:
    size, seats = choices.sizes, choices.counts["seats"]
    material = choices.names["spindle/material"]
    way = hardening_of(material)
    notes = (CASE_NOTE,) if way is not None and way.is_case else ()
    draft = PartDraft("spindle", "Spindle", "shoulder", material=material, sectioned=False, notes=notes)
    draft.length("collar/length", "collar_front", "shoulder", 1, size["spindle/collar_length"])
    draft.length("nose/overhang", "point_end", "shoulder", 1, size["spindle/overhang"])
    nose_end, base = "point_end", size["spindle/nose"]
    if choices.counts["slim"]:
        nose_end, base = "slim_start", size["spindle/slim"]
        draft.length("slim/length", "slim_start", "point_end", -1, size["spindle/slim_length"])
        draft.cylinder("slim", "outside", "slim_start", "point_end", base)
        if "slim/corner" in choices.facts:
            draft.corner("slim", "slim_start", f"R {choices.facts['slim/corner']:g}")
    cone_base = replace(base, derived=True)
    draft.cone(
        "point",
        "outside",
        "point_end",
        "tip",
        cone_base,
        "point_end",
        -choices.facts["point_half_deg"],
        role="point",
        finish_ra_um=0.8,
    )
    draft.place("tip", "point", size["spindle/tip"])
    if "work" in choices.counts:
        draft.place("contact", "point", size["work/mouth"])
    draft.cylinder("nose", "outside", "collar_front", nose_end, size["spindle/nose"])
    if "nose/corner" in choices.facts:
        draft.corner("nose", "collar_front", f"R {choices.facts['nose/corner']:g}")
    draft.cylinder("collar", "outside", "shoulder", "collar_front", size["spindle/collar"])
    _hang_hold(draft, choices)
    start = "shoulder"
    for seat in range(1, seats + 1):
        draft.length(f"seat_{seat}/reach", f"seat_{seat}_end", "shoulder", -1, size[f"seat_{seat}/reach"])
        if seat < seats:
            _hang_seat(draft, choices, seat, f"seat_{seat}_end", start)
            start = f"seat_{seat}_end"
    _hang_tail(draft, choices, start)
    if way is not None:
        draft.zone("hardened", "point", "point_end", "tip", "hardness", way.hardness)
    draft.corner("seat_1", "shoulder", CORNER.format(choices.facts["seat_1/corner"]))
    for seat in range(2, seats + 1):
        draft.relation(
            f"seat_{seat}", "seat_1", "run-out", choices.facts["run_out_fine"],
            "turn all seats at one setting between centres",
        )  # fmt: skip
    last = "finish the point last, the spindle turning in its own bearings"
    draft.relation("point", "seat_1", "run-out", choices.facts["run_out_fine"], last)
    return draft.done()


def _hang_seat(draft: PartDraft, choices: Choices, seat: int, near: str, far: str) -> None:
    draft.cylinder(
        f"seat_{seat}", "outside", near, far, choices.sizes[f"seat_{seat}/diameter"], role="seat", finish_ra_um=0.8
    )


def _hang_hold(draft: PartDraft, choices: Choices) -> None:
    """Flats or a tommy hole on the nose."""
    size, style = choices.sizes, choices.names["hold"]
    if style == "none":
        return
    if style == "flats":
        draft.length("hold/start", "hold_near", "collar_front", 1, size["spindle/hold_start"])
        draft.length("hold/width", "hold_far", "hold_near", 1, size["spindle/hold_width"])
        draft.crossing("hold", "flats", "hold_near", "hold_far", across=size["spindle/hold_across"])
    else:
        # A hole is placed by its middle; its diameter says how wide it is, along the axis as well.
        draft.length("hold/middle", "hold_middle", "collar_front", 1, size["spindle/hold_middle"])
        half = replace(size["spindle/hold_hole"], nominal_mm=0.5 * size["spindle/hold_hole"].nominal_mm, derived=True)
        draft.length("hold/near", "hold_near", "hold_middle", -1, half)
        draft.length("hold/far", "hold_far", "hold_middle", 1, half)
        draft.crossing("hold", "hole", "hold_near", "hold_far", at="hold_middle", diameter=size["spindle/hold_hole"])


def _hang_tail(draft: PartDraft, choices: Choices, start: str) -> None:
    """The last seat and what follows it: tapped hole, thread for a nut, or groove for a circlip."""
    size, last = choices.sizes, choices.counts["seats"]
    seat, end, style = size[f"seat_{last}/diameter"], f"seat_{last}_end", choices.names["retention"]
    if style == "nut":
        _hang_seat(draft, choices, last, end, start)
        draft.length("stud/length", "end", end, -1, size["spindle/stud_length"])
        stop = draft.chamfer("end_chamfer", "outside", "end", 1, size["spindle/stud"], size["spindle/end_chamfer"])
        draft.cylinder("stud", "outside", stop, end, replace(size["spindle/stud"], derived=True), role="thread")
        draft.length("stud_relief/width", "relief_end", end, -1, size["spindle/stud_relief_width"])
        groove = size["spindle/stud_relief"]
        draft.cylinder("stud_relief", "outside groove", "relief_end", end, groove, role="relief")
        draft.corner("stud_relief", end, choices.names["spindle/stud_relief_corner"])
        draft.zone("stud_thread", "stud", "end", "relief_end", "thread", f"{choices.names['nut/thread']}-6g")
        return
    stop = draft.chamfer("end_chamfer", "outside", end, 1, seat, size["spindle/end_chamfer"])
    _hang_seat(draft, choices, last, stop, start)
    if style == "circlip":
        draft.length("clip/place", "groove_front", "shoulder", -1, size["clip/place"])
        draft.length("clip/width", "groove_near", "groove_front", -1, size["clip/width"])
        draft.cylinder("clip_groove", "outside groove", "groove_near", "groove_front", size["clip/groove"])
        return
    draft.length("tapped_hole/thread", "thread_end", end, 1, size["tapped_hole/thread"])
    draft.length("tapped_hole/depth", "hole_bottom", end, 1, size["tapped_hole/depth"])
    draft.cylinder("tapped_hole", "inside", end, "hole_bottom", size["tapped_hole/minor"], role="thread")
    draft.cone(
        "drill_point",
        "inside",
        "hole_bottom",
        "drill_tip",
        size["tapped_hole/minor"],
        "hole_bottom",
        -59.0,
        role="drill point",
    )
    draft.place("drill_tip", "drill_point", replace(size["tapped_hole/minor"], nominal_mm=0.0 * seat.nominal_mm))
    draft.zone("thread", "tapped_hole", end, "thread_end", "thread", f"{choices.names['tapped_hole/thread']}-6H")


def _add_rings(choices: Choices, parts: list[Part], seats: list[Seat]) -> None:
    """Rings and spacers. The front group's outer rings stand on its floor; all others hang on their inner rings."""
    rings, count = {}, choices.counts["rings"]
    for index in range(1, count + 1):
        rings[index] = ring_parts(choices, index)
        parts += rings[index]
    trapped = max(i for i in rings if choices.counts[f"ring_{i}/pocket"] == 1)
    floor = ("body", "floor_1")
    for index in range(trapped, 0, -1):
        seats.append(Seat(f"ring_{index}_outer", "rear", *floor))
        floor = (f"ring_{index}_outer", "front")
        if index > 1 and choices.counts[f"spacer_{index - 1}"]:
            spacer = _outer_spacer(choices, index - 1)
            parts.append(spacer)
            seats.append(Seat(spacer.name, "rear", *floor))
            floor = (spacer.name, "front")
    seats.append(Seat("ring_1_inner", "front", "ring_1_outer", "front", "slide", (play_term(choices, 1),)))
    seats.append(Seat("spindle", "shoulder", "ring_1_inner", "front"))
    behind = ("ring_1_inner", "rear")
    for index in range(2, count + 1):
        if choices.counts[f"spacer_{index - 1}"]:
            spacer = _inner_spacer(choices, index - 1)
            parts.append(spacer)
            seats.append(Seat(spacer.name, "front", *behind))
            behind = (spacer.name, "rear")
        seats.append(Seat(f"ring_{index}_inner", "front", *behind))
        behind = (f"ring_{index}_inner", "rear")
        if index > trapped:
            play = (play_term(choices, index),)
            seats.append(Seat(f"ring_{index}_outer", "front", f"ring_{index}_inner", "front", "slide", play))


def _inner_spacer(choices: Choices, index: int) -> Part:
    size, name = choices.sizes, f"spacer_{index}"
    draft = PartDraft(f"{name}_inner", "Inner spacer", "front", material="C45", least_wall_mm=0.45)
    draft.length("length", "rear", "front", -1, size[f"{name}/length"])
    draft.cylinder("bore", "inside", "rear", "front", size[f"{name}/bore"])
    if choices.counts[f"{name}/stepped"]:
        draft.length("flange", "step", "front", -1, size[f"{name}/flange"])
        draft.cylinder("flange", "outside", "step", "front", size[f"{name}/front_outside"])
        draft.cylinder("sleeve", "outside", "rear", "step", size[f"{name}/rear_outside"])
    else:
        draft.cylinder("flange", "outside", "rear", "front", size[f"{name}/front_outside"])
    return draft.done()


def _outer_spacer(choices: Choices, index: int) -> Part:
    size, name = choices.sizes, f"spacer_{index}"
    draft = PartDraft(f"{name}_outer", "Outer spacer", "front", material="C45", least_wall_mm=0.45)
    draft.length("length", "rear", "front", -1, size[f"{name}/outer_length"])
    draft.cylinder("outside", "outside", "rear", "front", size[f"{name}/outer_outside"])
    draft.cylinder("inside", "inside", "rear", "front", size[f"{name}/outer_inside"])
    return draft.done()


def _add_retention(choices: Choices, parts: list[Part], seats: list[Seat]) -> None:
    size, style = choices.sizes, choices.names["retention"]
    last = f"ring_{choices.counts['rings']}_inner"
    if style == "screw":
        parts += [_washer(choices), _screw(choices)]
        seats += [Seat("washer", "front", last, "rear"), Seat("screw", "seat", "washer", "rear")]
    elif style == "nut":
        draft = PartDraft("nut", "Round nut", "front", material="C45")
        draft.length("thickness", "rear", "front", -1, size["nut/thickness"])
        draft.cylinder("outside", "outside", "rear", "front", size["nut/outside"])
        draft.cylinder("bore", "inside", "rear", "front", size["nut/minor"], role="thread")
        draft.length("flats/flange", "flange", "front", -1, size["nut/flange"])
        draft.zone("thread", "bore", "rear", "front", "thread", f"{choices.names['nut/thread']}-6H")
        draft.crossing("flats", "flats", "rear", "flange", across=size["nut/across"])
        parts.append(draft.done())
        seats.append(Seat("nut", "front", last, "rear"))
    else:
        parts += [_shim(choices), _clip(choices)]
        seats += [Seat("shim", "front", last, "rear"), Seat("clip", "front", "shim", "rear")]


def _washer(choices: Choices) -> Part:
    size = choices.sizes
    draft = PartDraft("washer", "Clamp washer", "front", material="C45")
    draft.length("thickness", "rear", "front", -1, size["washer/thickness"])
    draft.cylinder("outside", "outside", "rear", "front", size["washer/outside"])
    draft.cylinder("bore", "inside", "rear", "front", size["washer/bore"])
    return draft.done()


def _screw(choices: Choices) -> Part:
    size = choices.sizes
    turned = choices.names["screw/turned"]
    draft = PartDraft("screw", "Cap screw", "seat", bought=f"{choices.names['screw/order']}{turned}", sectioned=False)
    draft.length("length", "tip", "seat", 1, size["screw/length"])
    draft.length("head_height", "head_rear", "seat", -1, size["screw/head_height"])
    draft.cylinder("head", "outside", "head_rear", "seat", size["screw/head"])
    draft.cylinder("shank", "outside", "seat", "tip", size["screw/major"], role="thread")
    return draft.done()


def _shim(choices: Choices) -> Part:
    size = choices.sizes
    draft = PartDraft("shim", "Shim ring", "front", material="C45", least_wall_mm=0.5)
    draft.length("thickness", "rear", "front", -1, size["shim/thickness"])
    draft.cylinder("outside", "outside", "rear", "front", size["shim/outside"])
    draft.cylinder("bore", "inside", "rear", "front", size["shim/bore"])
    return draft.done()


def _clip(choices: Choices) -> Part:
    size = choices.sizes
    draft = PartDraft("clip", "Circlip", "front", bought=choices.names["clip/order"])
    draft.length("thickness", "rear", "front", -1, size["clip/thickness"])
    draft.cylinder("outside", "outside", "rear", "front", size["clip/outside"])
    draft.cylinder("inside", "inside", "rear", "front", size["clip/groove"])
    _open_ring(draft, size["clip/groove"].nominal_mm)
    return draft.done()


def _open_ring(draft: PartDraft, bore_mm: float) -> None:
    """Open a bought clip as it comes, so that a picture shows it is one; the width of its gap is a shop choice."""
    width = derived(_GAP_SHARE * bore_mm, "share of the bore")
    draft.crossing("gap", "slot", "rear", "front", angle_deg=_GAP_AT_DEG, width=width)


def _add_cover(choices: Choices, parts: list[Part], seats: list[Seat]) -> None:
    size, style = choices.sizes, choices.names["cover_style"]
    draft = PartDraft("cover", "Cover", "rear", material="C45")
    edge = "rim_start" if style == "screwed" else "front"
    draft.length("thickness", "front", "rear", 1, size["cover/height" if style == "screwed" else "cover/thickness"])
    draft.length("relief_depth", "relief_bottom", "rear", 1, size["cover/relief_depth"])
    draft.cylinder("outside", "outside", "rear", edge, size["cover/outside"], finish_ra_um=3.2)
    draft.cylinder("relief", "inside", "rear", "relief_bottom", size["cover/relief"], role="relief")
    draft.cylinder("bore", "inside", "relief_bottom", "front", size["cover/bore"])
    if style == "screwed":
        draft.length("rim/place", edge, "rear", 1, size["cover/thickness"])
        draft.cylinder("rim", "outside", edge, "front", size["cover/rim"])
        draft.crossing("flats", "flats", edge, "front", across=size["cover/across"])
        draft.zone("thread", "outside", "rear", edge, "thread", f"{choices.names['cover/thread']}-6g")
    parts.append(draft.done())
    seats.append(
        Seat("cover", "rear", "ring_1_outer", "front") if style == "screwed" else Seat("cover", "rear", "body", "ledge")
    )
    if style == "snap ring":
        clip = PartDraft("snap_ring", "Snap ring", "rear", bought=choices.names["snap_ring"])
        clip.length("thickness", "front", "rear", 1, size["snap/thickness"])
        clip.cylinder("outside", "outside", "rear", "front", size["snap/groove"])
        clip.cylinder("inside", "inside", "rear", "front", size["snap/inside"])
        _open_ring(clip, size["snap/inside"].nominal_mm)
        parts.append(clip.done())
        seats.append(Seat("snap_ring", "rear", "cover", "front"))
