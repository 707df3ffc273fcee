"""The top slide swung, and the taper attachment: what to set, what to read, and how far either reaches."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.description import Part, diameter_at, face_positions
from generator.findings import PRACTICE
from generator.making.figures import Figures
from generator.making.settings_rows import GEOMETRY, Cone, Setting, counted
from generator.making.workshop import Workshop
from generator.reckoning import taper as reckon
from generator.reckoning.amounts import RangeError
from generator.reckoning.taper_prove import flank_of_low_tool_mm, take_up_mm
from generator.reckoning.taper_shop import attachment_offset_mm
from generator.units import INCH_MM

__all__ = ["attachment_rows", "attachment_short", "point_rows", "slide_rows", "slide_short"]

RUN_MM = 3.0
"""Travel wanted beyond the cone at each end. Shop choice."""

_CURVED = "chestofbooks.com, Compound slide; amount by geometry"
_OLD_LIMIT_IN_PER_FT = 3.0
"""Steepest taper of one old attachment. Source: chestofbooks.com, Compound slide."""


def scale_words(angle_deg: float) -> str:
    """Where an angle stands on a scale of whole degrees.

    Source: scales of whole degrees, common practice, no source.

    >>> scale_words(1.4377)
    '1 and 0.44 of the next degree'
    """
    whole = math.floor(angle_deg + 1e-9)
    part = angle_deg - whole
    return f"{whole} and {part:.2f} of the next degree" if part > 0.005 else f"{whole} exactly"


def slide_rows(cone: Cone, group: str) -> Iterator[Setting]:
    """Every setting of the top slide for one taper.

    Source: named in each row.
    """
    figures = cone.figures
    handle = "towards you" if cone.inside else "away from you"
    large = "large end at the tailstock, cut on your side of the bore" if cone.inside else "small end at the tailstock"
    yield Setting(
        group, "Swing the top slide", figures.angle(cone.half_deg),
        f"{cone.half_deg:.4f}°; scale: {scale_words(cone.half_deg)}, its handle {handle} ({large}). The scale only "
        "begins it, the indicator settles it", "the drawing; ISO 3040", main=True,
    )
    per = figures.length(cone.travel_mm)
    over = figures.length(cone.over_mm)
    off = 0.5 * cone.error_mm
    yield Setting(
        group, "Along a finished taper", "0 all along",
        "held where the work will be, indicator in the post at centre height, moved by the top slide. Off by "
        f"{cone.fine(off)} over {over}, the diameters are off by {cone.fine(2 * off)}", GEOMETRY,
    )
    yield Setting(
        group, f"Rise per {per}, carriage", figures.length(reckon.rise_along_axis_mm(cone.travel_mm, cone.ratio), 4),
        "on the flank of a finished taper held true, carriage moved (tan)", GEOMETRY,
    )
    yield Setting(
        group, f"Rise per {per}, top slide", figures.length(reckon.rise_along_slide_mm(cone.travel_mm, cone.ratio), 4),
        "on a parallel bar held true, top slide moved (sin)", GEOMETRY,
    )
    yield _travel(cone, group)
    yield from _tool_height(cone, group)
    yield Setting(
        group, "Feed and depth", "feed: top slide; depth: cross slide",
        "carriage locked, keen HSS for the last cuts. Or the carriage "
        f"{figures.length(_step_mm(cone))} towards the headstock{_carriage_words(cone)}: the shank goes "
        f"{figures.length(_step_mm(cone))} deeper",
        "homews.co.uk, page 243; geometry",
    )


def _step_mm(cone: Cone) -> float:
    return 0.05 * float(INCH_MM) if cone.figures.unit == "in" else 1.0


def _carriage_words(cone: Cone) -> str:
    dial = cone.workshop.carriage_dial
    return f" ({counted(_step_mm(cone), dial)} of its dial)" if dial is not None else ""


def _travel(cone: Cone, group: str) -> Setting:
    figures, shop = cone.figures, cone.workshop
    needed = reckon.slide_travel_mm(cone.length_mm, cone.ratio, RUN_MM)
    bare = reckon.slide_travel_mm(cone.length_mm, cone.ratio, 0.0)
    just = "just enough: start it at its very end, so that both ends of the cone are covered"
    short = just if shop.top_slide_travel_mm >= bare - 0.05 else "TOO SHORT: take another way below"
    words = "enough" if _reaches(cone) else short
    has = cone.shop("top_slide_travel_mm", figures.length(shop.top_slide_travel_mm))
    return Setting(
        group, "Top slide travel needed", figures.length(needed, 1),
        f"{figures.length(RUN_MM)} over at each end; yours {has}: {words}",
        shop.sources.get("top_slide_travel_mm", "the shop file"),
    )


def _reaches(cone: Cone) -> bool:
    needed = reckon.slide_travel_mm(cone.length_mm, cone.ratio, RUN_MM)
    return cone.workshop.top_slide_travel_mm >= needed - 0.05


def _tool_height(cone: Cone, group: str) -> Iterator[Setting]:
    high = 0.02 * float(INCH_MM) if cone.figures.unit == "in" else 0.5
    try:
        flank = flank_of_low_tool_mm(cone.large_mm, cone.small_mm, high)
    except RangeError:
        return
    yield Setting(
        group, "Tool height", "dead on centre",
        f"{cone.figures.length(high)} off, above or below: small end {cone.fine(flank.small_end_mm)} too large, flank "
        f"hollow by {cone.figures.length(flank.hollow_mm, 4)}; four times that at twice as much", _CURVED,
    )


def slide_short(cone: Cone) -> Iterator[tuple[str, str, str]]:
    """The top slide as the way out.

    Source: geometry.
    """
    row = _travel(cone, "")
    yield "Top slide", f"swing {cone.figures.angle(cone.half_deg)}", f"travel {row.value}; {row.note}"


def attachment_rows(cone: Cone, group: str) -> Iterator[Setting]:
    """Every setting of a taper attachment.

    Source: named in each row.
    """
    figures, shop = cone.figures, cone.workshop
    yield Setting(
        group, "Swing the guide bar", figures.angle(cone.half_deg),
        f"{cone.half_deg:.4f}°, from the bed; a scale of included angles reads {figures.angle(2 * cone.half_deg)}. "
        f"{'Large' if cone.inside else 'Small'} end at the tailstock: tailstock end of the bar "
        f"{'towards' if cone.inside else 'away from'} you", "the drawing; ISO 3040", main=True,
    )
    yield Setting(
        group, "Scale of tapers", f"{reckon.taper_per_foot_in(cone.ratio):.4f} in per ft",
        f"or {100 * cone.ratio:.3f} mm per 100 mm, both on the diameter", GEOMETRY,
    )
    bar = shop.attachment_mm
    if bar is not None:
        middle = attachment_offset_mm(bar, cone.ratio)
        end = attachment_offset_mm(bar, cone.ratio, pivot_in_middle=False)
        yield Setting(
            group, "Offset at the bar's ends", f"{figures.length(middle, 3)} each way",
            f"at marks {cone.shop('attachment_mm', figures.length(bar))} apart, pivot in the middle; pivoted at one "
            f"end, {cone.fine(end)} at the other", GEOMETRY,
        )
    rise = reckon.rise_along_axis_mm(cone.travel_mm, cone.ratio)
    yield Setting(
        group, f"Rise per {figures.length(cone.travel_mm)}", figures.length(rise, 4),
        "indicator in the post on a parallel bar held true, carriage moved towards the headstock: reads less (tan); "
        "along a finished taper it stays at 0", GEOMETRY,
    )
    yield from _attachment_reach(cone, group)
    yield from _tool_height(cone, group)
    yield Setting(
        group, "Feed and depth", "depth: top slide square to the bed",
        "the cross screw is let go or telescopes; top slide across, one division of its dial is travel; check the bar "
        "against the bed with the indicator afterwards", PRACTICE,
    )


def _attachment_reach(cone: Cone, group: str) -> Iterator[Setting]:
    figures, bar = cone.figures, cone.workshop.attachment_mm
    lost = 0.004 * float(INCH_MM) if figures.unit == "in" else 0.1
    takes = take_up_mm(lost, cone.ratio)
    before = 2 * takes + RUN_MM
    yield Setting(
        group, "Take up the lost motion", f"begin {figures.length(before, 1)} before the work",
        f"{figures.length(lost, 2)} of slack in shoe and slide takes {figures.length(takes, 1)} of travel before the "
        "tool follows; cut towards the headstock only, draw out, go back, come in again", GEOMETRY,
    )
    wanted = cone.length_mm + before + RUN_MM
    if bar is None:
        words, source = "none in the shop file: write how long it is, or take another way below", "the shop file"
    else:
        words = f"yours {cone.shop('attachment_mm', figures.length(bar))}: "
        words += "enough" if bar >= wanted else "TOO SHORT: in two settings it shows a step, take another way below"
        source = cone.workshop.sources.get("attachment_mm", "the shop file")
    yield Setting(group, "Length it must cover", figures.length(wanted, 1), words, source)
    if reckon.taper_per_foot_in(cone.ratio) > _OLD_LIMIT_IN_PER_FT:
        yield Setting(
            group, "Steep for an attachment", f"{reckon.taper_per_foot_in(cone.ratio):.2f} in per ft",
            "old makes end at about 3 in per ft", "chestofbooks.com, Compound slide",
        )


def attachment_short(cone: Cone) -> Iterator[tuple[str, str, str]]:
    """The attachment as the way out, where the shop has one.

    Source: geometry.
    """
    bar = cone.workshop.attachment_mm
    if bar is not None:
        reach = "" if bar >= cone.length_mm else f"; TOO SHORT, the cone is {cone.figures.length(cone.length_mm)}"
        yield (
            "Taper attachment", f"swing {cone.figures.angle(cone.half_deg)}",
            f"{reckon.taper_per_foot_in(cone.ratio):.4f} in per ft, {100 * cone.ratio:.3f} mm per 100 mm{reach}",
        )


def point_rows(part: Part, workshop: Workshop, figures: Figures) -> Iterator[Setting]:
    """The swing of the top slide for every point of a part, with the travel along its flank.

    Source: named in each row.
    """
    z_of = face_positions(part)
    for surface in part.surfaces:
        if surface.role != "point":
            continue
        half = abs(surface.half_angle_deg)
        low, high = sorted(diameter_at(part, surface, z_of[face], z_of) for face in (surface.near, surface.far))
        flank = (high - low) / 2 / math.sin(math.radians(half))
        group = "The point, with the top slide"
        yield Setting(
            group, "Swing for the point", f"{half:g}°",
            f"{part.title.lower()}, {2 * half:g}° included; from the axis: {90 - half:g}° where the scale reads 0 "
            "across the bed", "the drawing", main=True,
        )
        enough = "enough" if workshop.top_slide_travel_mm >= flank + RUN_MM else "TOO SHORT"
        has = figures.length(workshop.top_slide_travel_mm)
        mark = " (default)" if workshop.is_default("top_slide_travel_mm") else ""
        yield Setting(
            group, "Travel along the flank", figures.length(flank, 1),
            f"from dia {figures.bare(high)} to {figures.length(low)}; yours {has}{mark}: {enough}. One division of the "
            f"cross slide moves the cone {figures.length(_along_mm(workshop, half), 3)} along", GEOMETRY,
        )


def _along_mm(workshop: Workshop, half_deg: float) -> float:
    """How far the cone moves along its axis for one division of the cross slide."""
    return workshop.cross_dial.division_mm / math.tan(math.radians(half_deg))
