"""Walls of a revolving centre's body: what the defaults leave, and a warning where a job leaves less."""

from __future__ import annotations

from collections.abc import Iterator

from generator.description import Choices
from generator.findings import Finding

__all__ = ["FLOOR_MM", "GROOVE_WALL_MM", "POCKET_WALL_MM", "RIM_WALL_MM", "body_walls", "least_barrel_mm"]

POCKET_WALL_MM = 3.0
RIM_WALL_MM = 2.0
GROOVE_WALL_MM = 1.25
FLOOR_MM = 5.0
"""Round the front pocket, the cover recess and the groove of a snap ring, and behind the floor recess. Shop choice."""


def least_barrel_mm(choices: Choices, pocket_mm: float) -> float:
    """The slimmest barrel that leaves every wall."""
    least = max(pocket_mm + 2 * POCKET_WALL_MM, choices.facts["recess"] + 2 * RIM_WALL_MM)
    if "snap/groove" in choices.sizes:
        least = max(least, choices.sizes["snap/groove"].high + 2 * GROOVE_WALL_MM)
    return least


def body_walls(choices: Choices) -> Iterator[Finding]:
    """The walls that decide how slim and how short the barrel may be."""
    size = choices.sizes
    barrel = size["body/barrel"].nominal_mm
    rows = [
        ("pocket_wall", "body/pocket_1", "wall round the front pocket",
         (barrel - size["pocket_1/diameter"].nominal_mm) / 2, POCKET_WALL_MM, "body.barrel_diameter",
         "a thin wall closes on the bearing when it is held, and opens under load"),
        ("rim_wall", "body/cover_recess", "rim round the cover", (barrel - choices.facts["recess"]) / 2, RIM_WALL_MM,
         "body.barrel_diameter", "a thin rim opens when the cover goes in"),
    ]  # fmt: skip
    if "snap/groove" in size:
        rows.append(
            ("groove_wall", "body/snap_groove", "rim beyond the groove of the snap ring",
             (barrel - size["snap/groove"].high) / 2, GROOVE_WALL_MM, "body.barrel_diameter",
             "the snap ring leans on this rim")
        )  # fmt: skip
    last = size[f"pocket_{choices.counts['pockets']}/depth"].nominal_mm
    used = size["body/recess_depth"].nominal_mm + last + size["body/floor_recess_depth"].nominal_mm
    rows.append(
        ("floor_wall", "body/recess_bottom", "floor between the pocket and the back face",
         size["body/barrel_length"].nominal_mm - used, FLOOR_MM, "body.barrel_length",
         "the floor carries the thrust into the shank")
    )  # fmt: skip
    for code, address, title, value, least, cure, why in rows:
        miss = max(0.0, least - value)
        thin = miss > 1e-6
        yield Finding(
            code,
            "warn" if thin else "note",
            address,
            title,
            value,
            f"at least {least:g}",
            source="shop choice",
            advice=f"{why.capitalize()}.",
            miss=miss if thin else 0.0,
            cures=(cure,),
        )
