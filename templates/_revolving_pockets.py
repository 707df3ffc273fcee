"""From the rings of a revolving centre to spacers, pockets and seats: lengths along the axis, each with its rule."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from generator import tables
from generator.description import Choices, Size
from generator.errors import Fault, InputError
from generator.fittings.shoulders import face_size, shoulder_mm
from generator.fittings.sizes import by_class, general, round_down, round_up, within
from templates._revolving_stack import Stack
from templates._revolving_walls import FLOOR_MM

if TYPE_CHECKING:
    from templates.revolving_centre import Params

__all__ = ["COVER_GAP_MM", "PROUD_MM", "derive_pocket", "derive_seats", "derive_stack_lengths"]

COVER_GAP_MM = (0.0, 0.06)
"""Least and most between the front outer ring and the cover that holds it. Shop choice."""
PROUD_MM = (0.1, 0.5)
"""By how much the front outer ring stands out of the ledge under a screwed cover. Shop choice."""
FLOAT_MM = 0.25
"""Room behind a ring that floats, beside what widths and play of the rings may take up. Shop choice."""
SLIM_MM = 1.35
"""A spacer less than this wider than its seat is made to closer limits, or its wall falls below 0.45. Shop choice."""
LEAST_FACE_MM = 1.0
"""The least difference of diameters that leaves a spacer its wall of 0.45 at worst. Shop choice."""
RELIEF_DEPTH_MM = 0.8
"""Depth of the relief in a step of the pocket. Shop choice."""
LEVER_WANTED = 3.0
"""How many times a load at the work the front ring may feel. Shop choice."""


def derive_stack_lengths(choices: Choices, params: Params, stack: Stack) -> None:
    """Spacers between rings: as given, as the barrel has room for, or up to the lever factor wanted."""
    count = len(stack.rings)
    base = choices.sizes["spindle/slim" if choices.counts["slim"] else "spindle/nose"].nominal_mm
    mouth = choices.sizes["work/mouth"].nominal_mm if "work/mouth" in choices.sizes else base / 2
    cone = (base - mouth) / 2 / math.tan(math.radians(choices.facts["point_half_deg"]))
    arm = choices.sizes["spindle/overhang"].nominal_mm + cone + stack.rings[0].ring.width_mm / 2
    choices.facts["arm"] = arm
    spans = [(front.width_mm + rear.width_mm) / 2 for front, rear in pairwise(stack.rings)]
    for index in range(1, count):
        given = stack.spacers[index - 1]
        length, rule = (given, "given") if given is not None else (0.0, "bearings side by side")
        if given is None and index == 1:
            fixed = sum(s or 0.0 for s in stack.spacers[1:])
            want = arm / (LEVER_WANTED - 1.0) - sum(spans) - fixed
            length, rule = max(0.0, round_up(want, 0.5)), f"bearings spread for a lever factor of {LEVER_WANTED:g}"
            if params.body.barrel_length is not None:
                length = _room_for_spacer(choices, params.body.barrel_length, stack)
                rule = "bearings spread over the room in the barrel"
            if 0.0 < length < 3.0:
                length = 3.0
        if given is None and length < 3.0 and stack.matched(index):
            length, rule = 3.0, "inner and outer spacer ground to match: bearings of one pocket must not fight"
        if given is None and length < 3.0 and stack.rubs(index):
            length, rule = 3.0, "the inner ring ahead turns: it must not rub on the outer ring behind"
        choices.decide(f"stack.spacer_{index}", given, length, rule)
        choices.counts[f"rubs_{index}"] = int(stack.rubs(index))
        choices.counts[f"spacer_{index}"] = int(length > 0)
        choices.counts[f"same_pocket_{index}"] = int(stack.same_pocket(index))
        choices.counts[f"same_seat_{index}"] = int(stack.same_seat(index))
        reach = 0.01 if stack.matched(index) else 0.05
        inner = within(length, reach, -reach, f"stack.spacer_{index}")
        words = "= measured outer spacer" if stack.matched(index) else ""
        choices.size(f"spacer_{index}/length", replace(inner, fitted=words))
        _derive_spacer(choices, stack, index)
    span = sum(spans) + sum(choices.sizes[f"spacer_{i}/length"].nominal_mm for i in range(1, count))
    choices.facts["span"] = span


def _float_mm(choices: Choices, index: int) -> float:
    """Room behind ring `index` where it floats: the rings up to it may be narrow, the first and it have their play."""
    widths = -sum(choices.sizes[f"ring_{i}/outer_width"].lower_mm for i in range(1, index + 1))
    play = choices.sizes["ring_1/play"].upper_mm + choices.sizes[f"ring_{index}/play"].upper_mm
    return round_up(FLOAT_MM + widths + play, 0.05)


def _room_for_spacer(choices: Choices, barrel_length_mm: float, stack: Stack) -> float:
    """Length left for the first spacer when the barrel's length is fixed."""
    taken = sum(plan.width_mm for plan in stack.rings) + sum(s or 0.0 for s in stack.spacers[1:])
    float_mm = 0.0 if stack.one_pocket else _float_mm(choices, len(stack.rings))
    behind = float_mm + choices.facts["tail"] + FLOOR_MM
    room = barrel_length_mm - choices.sizes["body/recess_depth"].nominal_mm - taken - behind
    return max(0.0, round_down(room, 0.5))


def _spacer_faces(stack: Stack, index: int, *, is_wanted: bool) -> tuple[Size, Size, bool]:
    """Outside of a spacer at its front and its rear face, and whether its wall is thin.

    Raises: InputError where a land is too narrow for any spacer.
    """
    ahead, behind = stack.rings[index - 1].ring, stack.rings[index].ring
    front = face_size(ahead, "rule: on the front bearing's inner ring, below its land")
    rear = face_size(behind, "rule: on the rear bearing's inner ring, below its land")
    most = round_down(behind.outside_mm - 0.8, 0.05)
    if not stack.same_pocket(index) and front.nominal_mm > most:
        usual = general(most, front.origin)
        front = usual if usual.low >= shoulder_mm(ahead) else within(most, 0.0, -0.05, front.origin)
    if rear.nominal_mm > front.nominal_mm:
        rear = front
    least = min(rear.nominal_mm, front.nominal_mm) - behind.bore_mm
    if is_wanted and least < LEAST_FACE_MM:
        rule = f"the face of its inner ring, {behind.bore_mm:g} to {rear.nominal_mm:.2f} mm, bears no spacer"
        cure = "take the open or shielded bearing of this size: its inner land is wider"
        raise InputError([Fault("stack", rule, behind.designation or f"{behind.bore_mm:g} mm bore", cure)])
    slim = least < SLIM_MM
    if slim:
        front, rear = (
            within(size.nominal_mm, 0.0, -0.05, size.origin) if size.general else size for size in (front, rear)
        )
    return front, rear, slim


def _derive_spacer(choices: Choices, stack: Stack, index: int) -> None:
    """Inner spacer between ring `index` and the next; an outer one too where both stand in one pocket.

    It is stepped where one diameter would not do for both bearings.
    """
    ahead, rear, name = stack.rings[index - 1].ring, stack.rings[index].ring, f"spacer_{index}"
    front_face, rear_face, slim = _spacer_faces(stack, index, is_wanted=bool(choices.counts[name]))
    bore = within(rear.bore_mm + 0.02, 0.03, 0.0, "rule: close on the seat, to keep its wall") if slim else within(
        rear.bore_mm + 0.1, 0.05, 0.0, "rule: slides on the seat"
    )
    choices.size(f"{name}/bore", bore)
    length = choices.sizes[f"{name}/length"].nominal_mm
    step = front_face.nominal_mm - rear_face.nominal_mm
    stepped = rear_face.low < shoulder_mm(ahead) if length < 4.0 or step <= 1.0 else True
    stepped = stepped and step > 0.0
    choices.counts[f"{name}/stepped"] = int(stepped)
    choices.size(f"{name}/front_outside", front_face if stepped else rear_face)
    choices.size(f"{name}/rear_outside", rear_face)
    if stepped:
        flange = round_down(length / 3, 0.5) or round_down(length / 3, 0.01)
        choices.size(f"{name}/flange", general(flange, "rule: a third of the length"))
    _derive_outer_spacer(choices, ahead, rear, index)


def _derive_outer_spacer(choices: Choices, front: tables.Ring, rear: tables.Ring, index: int) -> None:
    """The spacer between the outer rings, as long as the inner one."""
    length = choices.sizes[f"spacer_{index}/length"].nominal_mm
    outside = rear.outside_mm - 0.1
    choices.size(f"spacer_{index}/outer_outside", within(outside, 0.0, -0.1, "rule: slides in the pocket"))
    inside = round_up(max(front.outer_land_max_mm, rear.outer_land_max_mm) + 0.4, 0.1)
    for ring in (front, rear):
        if ring.housing_shoulder_mm is not None:
            inside = min(inside, ring.housing_shoulder_mm - 0.2)
    rule = "rule: beyond the outer lands, on the faces of the outer rings"
    choices.size(f"spacer_{index}/outer_inside", general(min(inside, outside - 2.0), rule))
    choices.size(f"spacer_{index}/outer_length", within(length, 0.01, -0.01, f"stack.spacer_{index}"))


def derive_pocket(choices: Choices, params: Params, stack: Stack) -> None:
    """Pocket steps, floor recess and barrel length, each from the rings it holds."""
    rule = "the outer rings rest under the load, the front group is held: bearing makers' rule"
    choices.names["pocket_fit"] = choices.decide("body.pocket_fit", params.body.pocket_fit, "J7", rule, "")
    depth = 0.0
    pocket = 0
    for index, plan in enumerate(stack.rings, start=1):
        depth += plan.width_mm
        choices.counts[f"ring_{index}/pocket"] = pocket + 1
        if index == len(stack.rings) or not stack.same_pocket(index):
            pocket += 1
            _derive_step(choices, plan.ring, pocket, depth, index, is_last=index == len(stack.rings))
            if index < len(stack.rings):
                _derive_floor_relief(choices, plan.ring, stack.rings[index].ring, pocket)
        if index < len(stack.rings):
            depth += choices.sizes[f"spacer_{index}/length"].nominal_mm
    choices.counts["pockets"] = pocket
    last = stack.rings[-1].ring
    clear = choices.facts["tail_diameter"] + 1.0
    recess = choices.decide(
        "body.floor_recess_diameter",
        params.body.floor_recess_diameter,
        max(round_down(last.outer_land_min_mm, 0.5), round_up(clear, 0.5)),
        "clear of the inner ring and of what holds it, still under the outer ring",
    )
    recess_depth = choices.decide(
        "body.floor_recess_depth",
        params.body.floor_recess_depth,
        choices.facts["tail"],
        "clear of the washer, nut or circlip behind the last bearing",
    )
    choices.size("body/floor_recess", general(recess, "body.floor_recess_diameter"))
    choices.size("body/floor_recess_depth", general(recess_depth, "body.floor_recess_depth"))
    total = choices.sizes["body/recess_depth"].nominal_mm + choices.sizes[f"pocket_{pocket}/depth"].nominal_mm
    length = choices.decide(
        "body.barrel_length",
        params.body.barrel_length,
        round_up(total + recess_depth + FLOOR_MM, 0.5),
        f"recess, pocket, floor recess and a floor of {FLOOR_MM:g}, rounded up",
    )
    choices.size("body/barrel_length", general(length, "body.barrel_length"))


def _derive_floor_relief(choices: Choices, ring: tables.Ring, behind: tables.Ring, pocket: int) -> None:
    """A relief in the floor between two pockets where the pocket behind is too small to clear the turning ring."""
    needed = behind.outside_mm < ring.inner_land_max_mm + 0.6
    choices.counts[f"pocket_{pocket}/relief"] = int(needed)
    if needed:
        name = f"pocket_{pocket}"
        relief = round_down(min(ring.outer_land_min_mm, ring.outside_mm - 2.5), 0.5)
        choices.size(f"{name}/relief", general(relief, "rule: clear of the inner ring, still under the outer ring"))
        choices.size(f"{name}/relief_depth", within(RELIEF_DEPTH_MM, 0.2, 0.0, "rule: clear of the inner ring"))


def _derive_step(choices: Choices, ring: tables.Ring, pocket: int, depth: float, index: int, *, is_last: bool) -> None:
    """One step of the pocket: the first is bored to the measured stack, later ones let their rings float."""
    name = f"pocket_{pocket}"
    fit = choices.names["pocket_fit"] if pocket == 1 else "H7"
    choices.size(f"{name}/diameter", by_class(ring.outside_mm, fit, "stack"))
    if pocket == 1:
        over = -sum(PROUD_MM) / 2 if choices.names["cover_style"] == "screwed" else sum(COVER_GAP_MM) / 2
        words = f"= measured stack {'+' if over > 0 else '-'} {abs(over):g} mm"
        choices.size(
            f"{name}/depth",
            Size(round(depth + over, 3), 0.015, -0.015, "shop choice", "rule: measured stack", fitted=words),
        )
    else:
        choices.size(f"{name}/depth", within(depth + _float_mm(choices, index), 0.1, -0.1, "rule: last bearing floats"))
    choices.facts[f"{name}/corner"] = ring.chamfer_mm
    choices.counts[f"{name}/last"] = int(is_last)


def derive_seats(choices: Choices, params: Params, stack: Stack) -> None:
    """Spindle seats: one for each bore, ending short of the ring behind which something must clamp."""
    seat, length = 1, 0.0
    count = len(stack.rings)
    rule = "the inner rings turn under the load, which is light: bearing makers' rule, from memory"
    fit = choices.decide("spindle.seat_fit", params.spindle.seat_fit, "j6", rule, "")
    for index, plan in enumerate(stack.rings, start=1):
        length += plan.width_mm
        last = index == count
        if last or not stack.same_seat(index):
            behind = -0.4 - 0.15 * index
            rule = f"rule: ends {-behind:g} short of its last bearing"
            if last and choices.names["retention"] == "circlip":
                behind = sum(
                    choices.sizes[f"{name}"].nominal_mm for name in ("shim/thickness", "clip/width", "clip/margin")
                )
                rule = "rule: room for shim and circlip"
            choices.size(f"seat_{seat}/diameter", by_class(plan.ring.bore_mm, fit, "stack"))
            choices.size(f"seat_{seat}/reach", within(round(length + behind, 3), 0.1, -0.1, rule))
            choices.counts[f"seat_{seat}/last_ring"] = index
            choices.facts[f"seat_{seat}/corner"] = plan.ring.chamfer_mm
            seat += 1
        if not last:
            length += choices.sizes[f"spacer_{index}/length"].nominal_mm
    choices.counts["seats"] = seat - 1
    pitch = tables.thread(choices.names["nut/thread"]).pitch_mm if choices.names["retention"] == "nut" else 1.0
    # A stud's chamfer goes down to the core, so that the nut finds its thread.
    choices.size("spindle/end_chamfer", general(max(0.5, round_up(pitch / 2, 0.1)), "shop choice"))
    if choices.names["retention"] == "circlip":
        rule = "rule: bearings, spacers and a shim of 1"
        choices.size("clip/place", within(round(length + 1.0, 3), 0.05, -0.05, rule))
