"""The screwed cover of a revolving centre: its thread with a relief, and a rim with flats to turn it by."""

from __future__ import annotations

from generator import tables
from generator.description import Choices, Gap
from generator.errors import Fault, InputError, TableError
from generator.findings import PRACTICE
from generator.fittings.sizes import derived, general, round_down, round_up, within

__all__ = ["RIM_MM", "SPANNERS_MM", "cover_thread", "derive_screwed", "screwed_gaps", "threaded_mm"]

SPANNERS_MM = (
    5.5, 7.0, 8.0, 10.0, 11.0, 13.0, 16.0, 17.0, 18.0, 21.0, 24.0, 27.0, 30.0, 34.0, 36.0, 41.0, 46.0, 50.0, 55.0,
    60.0, 65.0, 70.0, 75.0, 80.0, 85.0, 90.0, 95.0, 100.0,
)  # fmt: skip
"""Widths across flats of common spanners (ISO 272 series, from memory)."""
RIM_MM = 5.0
"""Length of the rim that a spanner finds, half a millimetre of it in the body. Shop choice."""
RIM_WALL_MM = 2.0
"""Wall between the flats and the cover's bore. Shop choice."""
RELIEF_MM = {1.0: 2.5, 1.5: 3.8, 2.0: 5.0}
"""Width of a short run-out groove of an inside thread, by pitch: DIN 76-1 form D, from memory."""
RELIEF_OVER_MM = 0.5
"""How much wider than the thread that groove is, on the diameter: DIN 76-1, from memory."""


def cover_thread(least_mm: float) -> tables.Thread:
    """The smallest fine thread whose tap drill clears the front ring."""
    for major in (*range(10, 49, 1), *range(50, 101, 5)):
        for pitch in ("1", "1.5"):
            try:
                thread = tables.thread(f"M{major}x{pitch}")
            except TableError:
                continue
            if thread.tap_drill_mm >= least_mm:
                return thread
    rule = f"no fine thread in the table has a tap drill of {least_mm:.1f} mm or more"
    raise InputError([Fault("cover.style", rule, "'screwed'", 'choose style = "pressed"')])


def threaded_mm(thread: tables.Thread) -> float:
    """How thick the threaded part of the cover must be: over the relief and four pitches."""
    return round_up(RELIEF_MM[thread.pitch_mm] + 4 * thread.pitch_mm, 0.5)


def derive_screwed(choices: Choices, thread: tables.Thread, thickness_mm: float, bore_mm: float) -> float:
    """Sizes of thread, relief, rim and flats; returns the widest diameter cut into the body.

    Raises: InputError where no spanner goes between the cover's bore and its thread.
    """
    choices.names["cover/thread"] = thread.name
    choices.facts["cover_pitch"] = thread.pitch_mm
    choices.size("cover/outside", derived(thread.major_mm, "cover thread"))
    choices.size("body/cover_recess", derived(thread.tap_drill_mm, "cover thread"))
    source = "DIN 76-1 form D, from memory"
    relief = thread.major_mm + RELIEF_OVER_MM
    choices.size("body/thread_relief", within(relief, 0.2, 0.0, "cover thread", source))
    choices.size("body/thread_relief_width", within(RELIEF_MM[thread.pitch_mm], 0.3, 0.0, "cover thread", source))
    most = round_down(thread.tap_drill_mm - 0.3, 0.1)
    least = bore_mm + 2 * RIM_WALL_MM + 0.25
    across = next((spanner for spanner in SPANNERS_MM if least <= spanner <= 0.96 * most), None)
    if across is None:
        rule = f"no spanner goes on a rim between the cover's bore of {bore_mm:.1f} mm and its thread {thread.name}"
        raise InputError([Fault("cover.style", rule, "'screwed'", 'choose style = "pressed" or "snap ring"')])
    choices.size("cover/across", within(across, 0.0, -0.25, "rule: next spanner that leaves the rim its wall"))
    choices.size("cover/rim", general(min(most, round_up(across / 0.92, 0.5)), "rule: flats a twelfth of it deep"))
    choices.size("cover/height", within(thickness_mm + RIM_MM, 0.0, -0.1, "cover.thickness"))
    choices.names["cover/spanner"] = f"{across:g} mm"
    return relief


def screwed_gaps(choices: Choices) -> tuple[Gap, ...]:
    """What holds a screwed cover: threads beyond the relief, and flats that stand out of the body."""
    return (
        Gap(
            "cover_threads",
            "full threads of the cover beyond the body's relief",
            "body/thread_relief_end",
            "cover/rim_start",
            3.0 * choices.facts["cover_pitch"],
            None,
            "three full threads must bear at least",
            PRACTICE,
            cures=("cover.thickness",),
        ),
        Gap(
            "cover_spanner",
            "flats of the cover's rim stand out of the body",
            "body/front",
            "cover/front",
            3.5,
            None,
            "a thin spanner must find them",
            PRACTICE,
        ),
    )
