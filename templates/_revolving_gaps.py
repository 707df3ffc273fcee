"""Every contact of a revolving centre that is not a seat: how much room is wanted, and why."""

from __future__ import annotations

from generator.description import Choices, Gap
from generator.fittings.quill import ejector_gaps, stand_off_gap
from templates._revolving_retention import KEY_GRIP_MM

PRACTICE = "common practice, no source"


def gaps(choices: Choices) -> tuple[Gap, ...]:
    """All gaps, in the order in which a fitter meets them."""
    return (
        *_stack_gaps(choices),
        *_second_contacts(choices),
        *_cover_gaps(choices),
        *_clamp_gaps(choices),
        *_retention_gaps(choices),
        *_floor_gaps(choices),
        *_inner_floors(choices),
        *_apart(choices),
        stand_off_gap("body"),
        *ejector_gaps("body", _shank_bore(choices), ("body.through_bore",)),
        *_tang_gaps(choices),
    )


def _shank_bore(choices: Choices) -> str:
    if choices.names["shank_end"] == "drawbar":
        return "body/drawbar_hole"
    return "body/through_bore" if choices.counts["through"] else ""


def _stack_gaps(choices: Choices) -> list[Gap]:
    if choices.names["cover_style"] == "screwed":
        return [
            Gap(
                "stack_in_pocket",
                "front outer ring proud of the ledge",
                "body/ledge",
                "ring_1_outer/front",
                0.1,
                0.5,
                "the screwed cover must press the ring, not the body",
                PRACTICE,
                fit="body/pocket_1/depth",
                cures=("cover.thickness",),
            )
        ]
    return [
        Gap(
            "stack_in_pocket",
            "front outer ring below the cover",
            "ring_1_outer/front",
            "cover/rear",
            0.0,
            0.06,
            "the cover holds the ring without squeezing its balls; ring widths of +0/-0.12 cannot hold this, so the "
            "pocket is bored to the rings as measured",
            PRACTICE,
            fit="body/pocket_1/depth",
        )
    ]


def _second_contacts(choices: Choices) -> list[Gap]:
    """Rings trapped together inside and outside: two paths between them, which must agree within their play."""
    found = []
    for index in range(2, choices.counts["rings"] + 1):
        if choices.counts[f"ring_{index}/pocket"] != 1:
            continue
        play = choices.sizes[f"ring_{index}/play"].upper_mm
        has_spacer = choices.counts[f"spacer_{index - 1}"]
        found.append(
            Gap(
                f"second_contact_{index}",
                f"ring {index}: inner and outer stack of equal length",
                f"ring_{index}_inner/rear",
                f"ring_{index}_outer/rear",
                -play,
                play,
                "rings clamped inside and trapped outside are over-constrained: the difference must stay within the "
                "axial play, or the rings are loaded against each other",
                PRACTICE,
                fit=f"spacer_{index - 1}_inner/length" if has_spacer else "",
                severity="stop" if has_spacer else "warn",
                cures=(f"stack.spacer_{index - 1}",) if has_spacer else (),
            )
        )
    return found


def _cover_gaps(choices: Choices) -> list[Gap]:
    gaps = [
        Gap(
            "cover_room",
            "cover within its recess",
            "cover/front",
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
    if choices.names["cover_style"] == "snap ring":
        gaps.append(
            Gap(
                "snap_groove",
                "snap ring within its groove",
                "snap_ring/front",
                "body/snap_far",
                0.0,
                0.5,
                "the snap ring must spring home in front of the cover",
                "DIN 472",
                cures=("cover.thickness",),
            )
        )
    return gaps


def _is_washer(choices: Choices) -> bool:
    return choices.names["cover_style"] in {"pressed", "stuck"}


def _clamp_gaps(choices: Choices) -> list[Gap]:
    """Whatever clamps must meet the inner ring before it meets the spindle."""
    found = []
    for seat in range(1, choices.counts["seats"] + 1):
        last = choices.counts[f"seat_{seat}/last_ring"]
        if seat == choices.counts["seats"] and choices.names["retention"] == "circlip":
            continue
        found.append(
            Gap(
                f"clamp_{seat}",
                f"seat {seat} ends short of its last inner ring",
                f"ring_{last}_inner/rear",
                f"spindle/seat_{seat}_end",
                0.15,
                1.5,
                "the rings must be clamped before anything else touches",
                PRACTICE,
            )
        )
    return found


def _retention_gaps(choices: Choices) -> list[Gap]:
    style, last = choices.names["retention"], choices.counts["rings"]
    if style == "screw":
        return _screw_gaps(choices, last)
    if style == "nut":
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
    return [
        Gap(
            "clip_play",
            "circlip against its groove",
            "spindle/groove_near",
            "clip/rear",
            0.0,
            0.1,
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


def _floor_gaps(choices: Choices) -> list[Gap]:
    """Floors and steps: under the outer ring they hold, clear of what turns, clear of rings that float."""
    found, pockets, last = [], choices.counts["pockets"], choices.counts["rings"]
    trapped = max(i for i in range(1, last + 1) if choices.counts[f"ring_{i}/pocket"] == 1)
    edge = _edge_behind(choices, 1)
    cures = () if pockets > 1 else ("body.floor_recess_diameter",)
    found.append(
        Gap(
            "floor_bears",
            "pocket floor under the outer ring (width)",
            edge,
            f"ring_{trapped}_outer/outside",
            0.8,
            None,
            "the floor takes the thrust",
            PRACTICE,
            direction="radial",
            cures=cures,
        )
    )
    found.append(
        Gap(
            "floor_land",
            "pocket floor clear of the turning inner ring (per side)",
            f"ring_{trapped}_inner/land",
            edge,
            0.2,
            None,
            "the inner ring turns, the body does not",
            PRACTICE,
            direction="radial",
            cures=cures,
        )
    )
    if choices.counts.get("pocket_1/relief"):
        found.append(_relief_room(trapped, 1))
    for index in range(trapped + 1, last + 1):
        floor = choices.counts[f"ring_{index}/pocket"]
        if index == last or choices.counts[f"ring_{index + 1}/pocket"] != floor:
            found.append(
                Gap(
                    f"float_{index}",
                    f"ring {index} floats ahead of its floor",
                    f"body/floor_{floor}",
                    f"ring_{index}_outer/rear",
                    0.1,
                    None,
                    "only the front group is held; a second shoulder would fight it",
                    PRACTICE,
                )
            )
    if pockets > 1:
        found.append(
            Gap(
                "recess_land",
                "floor recess clear of the turning inner ring (per side)",
                f"ring_{last}_inner/land",
                "body/floor_recess",
                0.2,
                None,
                "the inner ring turns, the body does not",
                PRACTICE,
                direction="radial",
                cures=("body.floor_recess_diameter",),
            )
        )
    return found


def _edge_behind(choices: Choices, pocket: int) -> str:
    """The bore that the floor of this pocket leaves open: its relief, the next pocket, or the floor recess."""
    if choices.counts.get(f"pocket_{pocket}/relief"):
        return f"body/relief_{pocket}"
    return f"body/pocket_{pocket + 1}" if pocket < choices.counts["pockets"] else "body/floor_recess"


def _relief_room(ring: int, pocket: int) -> Gap:
    return Gap(
        f"relief_room_{pocket}",
        f"relief in the floor of pocket {pocket} clear of the turning inner ring",
        f"body/relief_{pocket}",
        f"ring_{ring}_inner/rear",
        0.15,
        None,
        "the inner ring turns and moves by its axial play",
        PRACTICE,
    )


def _inner_floors(choices: Choices) -> list[Gap]:
    """Floors behind rings that float in the middle of the stack: the turning inner ring must not reach them."""
    found, last = [], choices.counts["rings"]
    for index in range(2, last):
        pocket = choices.counts[f"ring_{index}/pocket"]
        if pocket == 1 or choices.counts[f"ring_{index + 1}/pocket"] == pocket:
            continue
        found.append(
            Gap(
                f"floor_land_{index}",
                f"floor of pocket {pocket} clear of the turning inner ring {index} (per side)",
                f"ring_{index}_inner/land",
                _edge_behind(choices, pocket),
                0.2,
                None,
                "the inner ring turns, the body does not",
                PRACTICE,
                direction="radial",
            )
        )
        if choices.counts.get(f"pocket_{pocket}/relief"):
            found.append(_relief_room(index, pocket))
    return found


def _apart(choices: Choices) -> list[Gap]:
    """Rings whose faces overlap, one turning and one standing: they must be held apart."""
    return [
        Gap(
            f"apart_{index + 1}",
            f"ring {index + 1}: standing outer ring clear of the turning ring ahead",
            f"ring_{index + 1}_outer/front",
            f"ring_{index}_inner/rear",
            0.3,
            None,
            "the inner ring ahead turns, the outer ring behind does not",
            PRACTICE,
            cures=(f"stack.spacer_{index}",),
        )
        for index in range(1, choices.counts["rings"])
        if choices.counts[f"rubs_{index}"]
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
            1.2,
            None,
            "a tang with a bore through its flats bends",
            PRACTICE,
            direction="radial",
            cures=("body.through_bore",),
        )
    ]
