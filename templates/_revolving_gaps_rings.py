"""Gaps round the rings of a revolving centre: the stack in its pocket, second contacts, floors, rings held apart."""

from __future__ import annotations

from generator.description import Choices, Gap
from generator.findings import PRACTICE
from templates._revolving_pockets import COVER_GAP_MM, PROUD_MM

__all__ = ["apart", "clamp_gaps", "floor_gaps", "inner_floors", "second_contacts", "stack_gaps"]


def stack_gaps(choices: Choices) -> list[Gap]:
    if choices.names["cover_style"] == "screwed":
        return [
            Gap(
                "stack_in_pocket",
                "front outer ring proud of the ledge",
                "body/ledge",
                "ring_1_outer/front",
                *PROUD_MM,
                "the screwed cover must press the outer ring, not the body",
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
            *COVER_GAP_MM,
            "the cover holds the bearing without squeezing its balls; widths of +0/-0.12 mm cannot hold this, so the "
            "pocket is bored to the bearings as measured",
            PRACTICE,
            fit="body/pocket_1/depth",
        )
    ]


def second_contacts(choices: Choices) -> list[Gap]:
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
                f"bearing {index}: inner and outer stack of equal length",
                f"ring_{index}_inner/rear",
                f"ring_{index}_outer/rear",
                -play,
                play,
                "bearings clamped inside and trapped outside are over-constrained: the difference must stay within the "
                "axial play, or the bearings are loaded against each other",
                PRACTICE,
                fit=f"spacer_{index - 1}_inner/length" if has_spacer else "",
                severity="stop" if has_spacer else "warn",
                cures=(f"stack.spacer_{index - 1}",) if has_spacer else (),
            )
        )
    return found


def clamp_gaps(choices: Choices) -> list[Gap]:
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
                "the bearings must be clamped before anything else touches",
                PRACTICE,
            )
        )
    return found


def floor_gaps(choices: Choices) -> list[Gap]:
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
                    f"bearing {index} floats ahead of its floor",
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


def inner_floors(choices: Choices) -> list[Gap]:
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


def apart(choices: Choices) -> list[Gap]:
    """Rings whose faces overlap, one turning and one standing: they must be held apart."""
    return [
        Gap(
            f"apart_{index + 1}",
            f"bearing {index + 1}: standing outer ring clear of the turning inner ring ahead",
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
