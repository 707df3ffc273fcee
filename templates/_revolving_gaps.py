"""Every contact of a revolving centre that is not a seat: how much room is wanted, and why."""

from __future__ import annotations

from generator.description import Choices, Gap
from generator.findings import PRACTICE
from generator.fittings.quill import ejector_gaps, stand_off_gap
from templates._revolving_derive import SNAP_GAP_MM
from templates._revolving_gaps_rings import (
    apart,
    clamp_gaps,
    floor_gaps,
    inner_floors,
    second_contacts,
    stack_gaps,
)
from templates._revolving_retention import CLIP_GAP_MM, KEY_GRIP_MM
from templates._revolving_screwed import screwed_gaps


def gaps(choices: Choices) -> tuple[Gap, ...]:
    """All gaps, in the order in which a fitter meets them."""
    return (
        *stack_gaps(choices),
        *second_contacts(choices),
        *_cover_gaps(choices),
        *clamp_gaps(choices),
        *_retention_gaps(choices),
        *floor_gaps(choices),
        *inner_floors(choices),
        *apart(choices),
        stand_off_gap("body"),
        *ejector_gaps("body", _shank_bore(choices), ("body.through_bore",)),
        *_tang_gaps(choices),
    )


def _shank_bore(choices: Choices) -> str:
    if choices.names["shank_end"] == "drawbar":
        return "body/drawbar_hole"
    return "body/through_bore" if choices.counts["through"] else ""


def _cover_gaps(choices: Choices) -> list[Gap]:
    gaps = [
        Gap(
            "cover_room",
            "cover within its recess",
            "cover/rim_start" if choices.names["cover_style"] == "screwed" else "cover/front",
            "body/front",
            0.0,
            1.0 if _is_washer(choices) else None,
            "a cover that stands proud meets the tool first",
            PRACTICE,
            cures=("cover.thickness",),
        ),
        Gap(
            "cover_collar",
            "running gap of the cover to the collar (per side)",
            "spindle/collar",
            "cover/bore",
            0.05,
            0.5,
            "narrow keeps swarf out, touching burns",
            "0.1 to 0.2 per side for a shop-made cover, common practice, no source",
            direction="radial",
            cures=("cover.gap",),
        ),
        *_cover_on_ring(),
    ]
    if choices.names["cover_style"] == "screwed":
        gaps += screwed_gaps(choices)
    if choices.names["cover_style"] == "snap ring":
        gaps.append(_snap_gap())
    return gaps


def _cover_on_ring() -> list[Gap]:
    """The cover presses on the outer ring alone, and the collar stands beyond it."""
    return [
        Gap(
            "cover_land",
            "cover clear of the turning inner ring (per side)",
            "ring_1_inner/land",
            "cover/relief",
            0.2,
            None,
            "the cover may touch the outer ring only",
            PRACTICE,
            direction="radial",
        ),
        Gap(
            "cover_inner_face",
            "cover clear of the inner ring's face",
            "ring_1_inner/front",
            "cover/relief_bottom",
            0.15,
            None,
            "the inner ring turns and moves by its axial play",
            PRACTICE,
        ),
        Gap(
            "cover_bears",
            "cover on the outer ring's face (width)",
            "cover/relief",
            "ring_1_outer/outside",
            0.8,
            None,
            "the cover must find a face to press on",
            PRACTICE,
            direction="radial",
        ),
        Gap(
            "collar_front",
            "collar stands beyond the cover",
            "cover/front",
            "spindle/collar_front",
            0.2,
            None,
            "the gap must run the whole length of the cover",
            PRACTICE,
        ),
    ]


def _snap_gap() -> Gap:
    """The snap ring in its groove, which is cut to what it holds."""
    return Gap(
        "snap_groove",
        "snap ring within its groove",
        "snap_ring/front",
        "body/snap_far",
        *SNAP_GAP_MM,
        "the snap ring must spring home and leave the cover no play; a table's groove cannot hold this, so the "
        "groove is cut to the cover and snap ring as measured",
        PRACTICE,
        fit="body/snap/place",
        cures=("cover.thickness",),
    )


def _is_washer(choices: Choices) -> bool:
    return choices.names["cover_style"] in {"pressed", "stuck"}


def _retention_gaps(choices: Choices) -> list[Gap]:
    style, last = choices.names["retention"], choices.counts["rings"]
    if style == "screw":
        return _screw_gaps(choices, last)
    return _nut_gaps(choices, last) if style == "nut" else _clip_gaps(choices)


def _nut_gaps(choices: Choices, last: int) -> list[Gap]:
    """What the nut and the stud behind it must stay clear of."""
    return [
        Gap(
            "nut_land",
            "nut clear of the outer ring (per side)",
            "nut/outside",
            f"ring_{last}_outer/land",
            0.2,
            None,
            "the nut turns with the inner ring",
            PRACTICE,
            direction="radial",
        ),
        Gap(
            "nut_recess",
            "nut clear of the floor recess (per side)",
            "nut/outside",
            "body/floor_recess",
            0.3,
            None,
            "the nut turns, the body does not",
            PRACTICE,
            direction="radial",
            cures=("body.floor_recess_diameter",),
        ),
        Gap(
            "stud_room",
            "spindle end clear of the recess bottom",
            "body/recess_bottom",
            "spindle/end",
            0.3,
            None,
            "the spindle turns, the body does not",
            PRACTICE,
            cures=("body.floor_recess_depth",),
        ),
        Gap(
            "nut_threads",
            "full threads of the nut beyond the stud's relief",
            "nut/rear",
            "spindle/relief_end",
            3.0 * choices.facts["nut_pitch"],
            None,
            "three full threads must bear at least",
            PRACTICE,
        ),
        Gap(
            "nut_on_thread",
            "stud beyond the nut",
            "spindle/end",
            "nut/rear",
            0.2,
            None,
            "all threads of the nut must bear",
            PRACTICE,
        ),
    ]


def _clip_gaps(choices: Choices) -> list[Gap]:
    """What circlip and shim must stay clear of."""
    return [
        Gap(
            "clip_play",
            "circlip against its groove",
            "spindle/groove_near",
            "clip/rear",
            *CLIP_GAP_MM,
            "a circlip does not clamp; the shim takes up the play of the stack",
            PRACTICE,
            fit="shim/thickness",
        ),
        Gap(
            "clip_recess",
            "circlip clear of the recess bottom",
            "body/recess_bottom",
            f"spindle/seat_{choices.counts['seats']}_end",
            0.3,
            None,
            "the spindle turns, the body does not",
            PRACTICE,
            cures=("body.floor_recess_depth",),
        ),
        Gap(
            "shim_recess",
            "shim clear of the floor recess (per side)",
            "shim/outside",
            "body/floor_recess",
            0.3,
            None,
            "the shim turns, the body does not",
            PRACTICE,
            direction="radial",
            cures=("body.floor_recess_diameter",),
        ),
    ]


def _screw_gaps(choices: Choices, last: int) -> list[Gap]:
    end = f"spindle/seat_{choices.counts['seats']}_end"
    major, pitch = choices.facts["screw_major"], choices.facts["screw_pitch"]
    return [
        Gap(
            "screw_engagement",
            "screw engaged in the spindle",
            end,
            "screw/tip",
            1.0 * major,
            None,
            "one diameter of thread in steel at least",
            PRACTICE,
            cures=("retention.screw_length",),
        ),
        Gap(
            "screw_end",
            "screw end clear of the end of the thread",
            "screw/tip",
            "spindle/thread_end",
            1.0 * pitch,
            None,
            "a screw that bottoms clamps nothing",
            PRACTICE,
            cures=("retention.screw_length",),
        ),
        Gap(
            "head_bore",
            "screw head in the through bore (per side)",
            "screw/head",
            "body/through_bore",
            0.1,
            None,
            "the head must pass the shank and turn there",
            PRACTICE,
            direction="radial",
            cures=("body.through_bore",),
        ),
        Gap(
            "key_reach",
            "key reaches the screw's head",
            "body/end",
            "screw/head_rear",
            None,
            choices.facts["key_longest_mm"] - KEY_GRIP_MM,
            f"{KEY_GRIP_MM:g} mm of the key must stand out to turn it by",
            "ISO 2936 (key lengths)",
            cures=("retention.screw",),
        ),
        *_washer_gaps(last),
    ]


def _washer_gaps(last: int) -> list[Gap]:
    """What the clamp washer must stay clear of: it turns with the inner ring."""
    return [
        Gap(
            "washer_recess",
            "clamp washer clear of the floor recess (per side)",
            "washer/outside",
            "body/floor_recess",
            0.3,
            None,
            "the washer turns, the body does not",
            PRACTICE,
            direction="radial",
            cures=("body.floor_recess_diameter",),
        ),
        Gap(
            "washer_land",
            "clamp washer clear of the outer ring (per side)",
            "washer/outside",
            f"ring_{last}_outer/land",
            0.2,
            None,
            "the washer turns with the inner ring",
            PRACTICE,
            direction="radial",
        ),
        Gap(
            "washer_room",
            "clamp washer clear of the recess bottom",
            "body/recess_bottom",
            "washer/rear",
            0.3,
            None,
            "the washer turns, the body does not",
            PRACTICE,
            cures=("body.floor_recess_depth",),
        ),
    ]


def _tang_gaps(choices: Choices) -> list[Gap]:
    if choices.names["shank_end"] != "tang" or not choices.counts["through"]:
        return []
    return [
        Gap(
            "tang_whole",
            "tang not split by the bore (wall)",
            "body/through_bore",
            "body/tang",
            choices.facts["tang_wall"],
            None,
            "a tang with a bore through its flats bends",
            PRACTICE,
            direction="radial",
            cures=("body.through_bore",),
        )
    ]
