"""A bought shank in place of a cut one: what to buy, what to try first, how it is held, and what is left to do."""

from __future__ import annotations

from collections.abc import Iterator

from generator import tables
from generator.description import Part, face_positions, outline
from generator.findings import PRACTICE
from generator.making.settings_rows import Cone, Setting
from generator.making.stock import facing_mm, least_bar_mm

__all__ = ["shank_rows", "shank_short"]

_RUN_OUT_MM = 0.01
"""What a shank between its own centres may run out where the drawing asks nothing. Common practice, no source."""

_DRAWN = "trade practice; homemodelenginemachinist.com on Morse tapers"


def shank_rows(cone: Cone, group: str) -> Iterator[Setting]:
    """Everything about a bought shank for one taper.

    Source: named in each row.
    """
    figures, shop = cone.figures, cone.workshop
    name, diameter, length = _wanted(cone)
    yield Setting(
        group, "Buy", f"{name} arbor, soft blank end",
        f"blank end at least dia {figures.length(diameter, 1)} x {figures.length(length, 1)} ahead of the cone; "
        f"{_end_words(cone)}", "this part, with cleaning and facing allowances",
    )
    yield Setting(
        group, "Shank length from the gauge plane", figures.length(_shank_mm(cone)),
        "the same as the drawing's, or work out ejector and drawbar again: a hard shank cannot be shortened but by "
        "grinding", "the drawing",
    )
    yield Setting(
        group, "None so large to be had", "shank with a small soft end",
        "turn a stub on it true, shrink or screw a piece of the bar on, then go on as below", _DRAWN,
    )
    limit = min([one.limit_mm for one in cone.part.relations if one.kind == "run-out"], default=_RUN_OUT_MM)
    yield Setting(
        group, "Try it first", f"{cone.fine(limit)} or less",
        "run-out along the cone between its own centre holes, in three places; then blue it in the quill. The soft end "
        "may run out: it is cut", PRACTICE,
    )
    drawn = "drawbar through the spindle" if _has_drawbar(cone.part) else "tapped home, centre at the free end"
    yield Setting(
        group, "Hold it", _held_in(cone),
        f"clean and dry, {drawn}; socket and sleeve add "
        f"{cone.shop('sleeve_run_out_mm', cone.division(shop.sleeve_run_out_mm))}: indicate the cone's large end, mark "
        "how it sat", PRACTICE,
    )
    gone, left = _shares(cone)
    yield Setting(group, "Leave out of the plan", gone, "bar, set-ups and checks of these fall away", "the drawing")
    yield Setting(
        group, "Still to cut", left,
        "at one setting in the headstock spindle, so that they run true to the shank", "the drawing",
    )


def shank_short(cone: Cone) -> Iterator[tuple[str, str, str]]:
    """A bought shank as the way out.

    Source: the part's own sizes.
    """
    name, diameter, length = _wanted(cone)
    yield (
        "Bought shank", f"{name}, soft blank end",
        f"dia {cone.figures.length(diameter, 1)} x {cone.figures.length(length, 1)} or more ahead of the cone, else a "
        "piece of bar shrunk or screwed on",
    )


def _wanted(cone: Cone) -> tuple[str, float, float]:
    """The taper's name, and the diameter and length of the soft end that the rest of the part is cut from."""
    number = _morse_number(cone)
    z_of, shape = face_positions(cone.part), outline(cone.part)
    small_near = cone.surface.half_angle_deg > 0
    large = z_of[cone.surface.far if small_near else cone.surface.near]
    length = shape.far_z - large if small_near else large - shape.near_z
    bar = least_bar_mm(cone.part)
    name = f"Morse {number}" if number is not None else f"1 : {1 / cone.ratio:.3f}"
    return name, bar, length + facing_mm(bar)


def _morse_number(cone: Cone) -> int | None:
    """The Morse size of this taper; None for another taper."""
    for number in range(7):
        row = tables.morse(number)
        near = abs(row.gauge_diameter_mm - cone.surface.diameter.nominal_mm) < 0.01
        if near and abs(row.ratio * cone.ratio - 1) < 1e-3:
            return number
    return None


def _shank_mm(cone: Cone) -> float:
    """From the gauge plane to the part's end beyond the small end."""
    return abs(cone.surface.diameter.nominal_mm - cone.foot_mm) / cone.ratio


def _has_drawbar(part: Part) -> bool:
    return any(zone.name == "drawbar" for zone in part.zones)


def _end_words(cone: Cone) -> str:
    drawbar = next((zone.text for zone in cone.part.zones if zone.name == "drawbar"), "")
    if drawbar:
        return f"drawbar thread {drawbar} in the shank"
    has_tang = any(one.kind == "tang" for one in cone.part.cross)
    return "with tang" if has_tang else "without tang (a tang may keep the quill out: see the ejector)"


def _held_in(cone: Cone) -> str:
    number, own = cone.workshop.headstock_taper, _morse_number(cone)
    if own is None:
        return "in a sleeve to fit the spindle"
    if own == number:
        text = f"spindle, Morse {number}"
    elif own < number:
        text = f"sleeve {number} to {own} in the spindle"
    else:
        text = f"does not enter Morse {number}"
    return cone.shop("headstock_taper", text)


def _shares(cone: Cone) -> tuple[str, str]:
    """What a bought shank brings, and what is left to cut, by the names of the part's surfaces."""
    z_of = face_positions(cone.part)
    small_near = cone.surface.half_angle_deg > 0
    large = z_of[cone.surface.far if small_near else cone.surface.near]
    gone: list[str] = []
    left: list[str] = []
    for one in cone.part.surfaces:
        ends = [z_of[one.near], z_of[one.far]]
        behind = max(ends) <= large + 1e-6 if small_near else min(ends) >= large - 1e-6
        bought = behind and one.side == "outside"
        (gone if bought or one.name == "drawbar_hole" else left).append(one.name.replace("_", " "))
    return ", ".join(gone), ", ".join(left)
