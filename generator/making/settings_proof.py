"""Proving a taper: the check cut with its correction, blue, rolls, sine bar, balls, and how far it stands off."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.description import face_positions
from generator.findings import PRACTICE
from generator.fittings.shank import CONTACT_PERCENT
from generator.making.settings_rows import GEOMETRY, Cone, Setting, counted, minutes
from generator.making.settings_set_over import set_over_for
from generator.making.workshop import Dial, TaperMethod
from generator.reckoning import taper as reckon
from generator.reckoning.amounts import RangeError
from generator.reckoning.taper_prove import (
    ball_top_mm,
    blue_error_deg,
    difference_tolerance_mm,
    set_over_change_mm,
    size_over_rolls_mm,
)
from generator.reckoning.taper_shop import angle_error_deg, attachment_offset_mm, swing_move_mm
from generator.units import INCH_MM

__all__ = ["check_cut_rows", "prove_rows", "stand_off_rows"]

_HALL = "homews.co.uk, setting up to turn a precision taper"
_AT6 = "ISO 1947 grade AT6, from memory"
_FILM_MM = 0.004
"""Thickness of a film of blue. Common practice, no source."""

_TOO_MUCH = "too much: back by as much"
_BLOCKS_MM = (75.0, 50.0, 25.0, 20.0, 10.0, 5.0)
_BLOCKS_IN = (3.0, 2.0, 1.0, 0.75, 0.5, 0.25)
_BALL_IN_MM = 3.0
"""How far the middle of a ball lies inside either end of a socket. Shop choice."""

_FINE_SWING_DEG = 6.0
"""Swing at which a top slide feeds a tenth of its dial into the work. Common practice, no source."""


def check_cut_rows(cone: Cone, method: TaperMethod, group: str) -> Iterator[Setting]:
    """The first cut, what it must measure, and how the setting moves for what it measured instead.

    Source: named in each row.
    """
    figures, over = cone.figures, cone.over_mm
    yield Setting(
        group, f"Two diameters {figures.length(over)} apart differ by", cone.fine(over * cone.ratio),
        f"measured so: {_spread(cone)}; {_resolution(cone)}", f"ISO 3040; tolerance {_AT6}", main=True,
    )
    difference = 0.040 * float(INCH_MM) if figures.unit == "in" else 1.0
    pitch = reckon.pitch_for_difference_mm(difference, cone.ratio)
    yield Setting(
        group, "Or two flanges", f"{figures.length(pitch, 3)} apart",
        f"same edge of each, cut at one setting of the depth: must differ by {figures.length(difference, 3)}", _HALL,
    )
    yield from _correction(cone, method, group)
    yield from _depth(cone, method, group)


def _spread(cone: Cone) -> str:
    """The tolerance of the difference: a shank may be a little too steep, a socket a little too shallow."""
    try:
        most = difference_tolerance_mm(cone.length_mm, cone.over_mm)
    except RangeError:
        return "no tolerance is listed for so short a cone"
    low, high = (cone.over_mm * cone.ratio + change for change in ((-most, 0.0) if cone.inside else (0.0, most)))
    return f"{cone.figures.within(low, high)} {cone.figures.unit}, bearing at the large end first"


def _resolution(cone: Cone) -> str:
    reads = cone.workshop.micrometer_mm
    try:
        most = difference_tolerance_mm(cone.length_mm, cone.over_mm)
    except RangeError:
        return "same face of the micrometer at both"
    if reads <= most:
        return "same face of the micrometer at both"
    known = cone.shop("micrometer_mm", cone.division(reads))
    return f"a micrometer that reads {known} cannot tell so little: blue decides"


def _correction(cone: Cone, method: TaperMethod, group: str) -> Iterator[Setting]:
    error, over, figures = cone.error_mm, cone.over_mm, cone.figures
    label = f"For each {cone.error_text()} too little,"
    if method == "set-over":
        found = set_over_for(cone)
        if found is None:
            return
        move = set_over_change_mm(found.band.likely_mm, cone.ratio, error, over)
        yield Setting(
            group, f"{label} tailstock further", cone.fine(move),
            f"towards you, by the indicator on the quill; {_TOO_MUCH}", GEOMETRY, main=True,
        )
        yield Setting(
            group, "Next set-over", "old x wanted / found",
            f"found 0.1 % too little: {cone.fine(found.amount_mm * 0.001)} further", GEOMETRY,
        )
        return
    angle = angle_error_deg(error, over, cone.ratio)
    radius = 4 * float(INCH_MM) if figures.unit == "in" else 100.0
    if method == "top slide":
        yield Setting(
            group, f"{label} swing more", minutes(angle),
            f"{cone.fine(swing_move_mm(angle, radius))} by indicator {figures.length(radius)} from the pivot; "
            f"{_TOO_MUCH}", GEOMETRY, main=True,
        )
        division = cone.workshop.cross_dial.division_mm
        yield Setting(
            group, "Or by touch", f"cross slide {cone.fine(error / 2)} in",
            f"tool touching the large flange, in by half the error (a division is {cone.division(division)}), swing "
            "the slide until it touches again, cut both anew", _HALL,
        )
        return
    bar = cone.workshop.attachment_mm or radius
    move = attachment_offset_mm(bar, cone.ratio + error / over) - attachment_offset_mm(bar, cone.ratio)
    yield Setting(
        group, f"{label} swing more", minutes(angle),
        f"{cone.fine(move)} by indicator at the bar's end, {figures.length(bar / 2)} from its pivot; {_TOO_MUCH}",
        GEOMETRY, main=True,
    )


def _depth(cone: Cone, method: TaperMethod, group: str) -> Iterator[Setting]:
    figures, shop = cone.figures, cone.workshop
    name, field, dial = _depth_dial(cone, method)
    deeper = reckon.depth_gained_mm(2 * dial.division_mm, cone.ratio)
    into = "takes in the plug" if cone.inside else "goes in"
    marked = "diameter" if dial.reads_diameter else "radius"
    yield Setting(
        group, f"One division of the {name}", f"{figures.length(deeper)} deeper",
        f"{cone.shop(field, cone.division(dial.division_mm))} of travel, "
        f"{cone.division(2 * dial.division_mm)} on the diameter ({marked} dial); so much further it {into}", GEOMETRY,
    )
    if method == "set-over":
        top = shop.top_dial.division_mm
        fine = 2 * top * reckon.rise_along_slide_mm(1.0, reckon.taper_of_half_angle(_FINE_SWING_DEG))
        yield Setting(
            group, "Finer: one of the top slide", f"{figures.length(reckon.depth_gained_mm(fine, cone.ratio))} deeper",
            f"swung {_FINE_SWING_DEG:g}° from the axis: {cone.shop('top_dial', cone.division(top))} along it takes "
            f"{figures.length(fine, 4)} off the diameter", f"geometry; the swing: {PRACTICE}",
        )


def _depth_dial(cone: Cone, method: TaperMethod) -> tuple[str, str, Dial]:
    """The slide that feeds in, its field in the shop and its dial: with an attachment the cross screw is let go."""
    if method == "attachment":
        return "top slide, set across", "top_dial", cone.workshop.top_dial
    return "cross slide", "cross_dial", cone.workshop.cross_dial


def prove_rows(cone: Cone, method: TaperMethod, group: str) -> Iterator[Setting]:
    """Blue, rolls, sine bar and balls: how it is done, what it reads, how far it may be off.

    Source: named in each row.
    """
    yield from _blue(cone, method, group)
    if not cone.inside:
        yield from _rolls(cone, group)
        yield from _sine(cone, group)
    yield from _balls(cone, group)


_TO_MORE: dict[TaperMethod, str] = {
    "set-over": "tailstock further towards you", "top slide": "swing the slide more",
    "attachment": "swing the bar more",
}
_TO_LESS: dict[TaperMethod, str] = {
    "set-over": "tailstock back, away from you", "top slide": "swing the slide less",
    "attachment": "swing the bar less",
}


def _blue(cone: Cone, method: TaperMethod, group: str) -> Iterator[Setting]:
    yield Setting(
        group, "Blue touches on at least", f"{CONTACT_PERCENT} %",
        "thin film along the plug, push lightly, an eighth of a turn at most, straight out; with a whole ring at the "
        "large end", f"{PRACTICE}; wyldar.com for the procedure", main=True,
    )
    bare = cone.length_mm / 2
    angle = blue_error_deg(_FILM_MM, bare)
    off = f"half of it bare: {minutes(angle)}, {cone.fine(2 * _FILM_MM * cone.over_mm / bare)} on the difference"
    if method == "bought shank":
        yield Setting(
            group, "Touches at one end only", "send it back",
            "or it is the quill: try a second shank in it, and this one in another socket", PRACTICE,
        )
        return
    yield Setting(
        group, "Touches at the large end only", "too steep: less",
        f"{_TO_LESS[method]}; {off}. Read where blue was rubbed off", f"{PRACTICE}; film {_FILM_MM:g} mm",
    )
    yield Setting(
        group, "Touches at the small end only", "too shallow: more", f"{_TO_MORE[method]}, by the same rule", PRACTICE
    )


def _rolls(cone: Cone, group: str) -> Iterator[Setting]:
    """Two equal rolls beside the plug on a plate, low on blocks and then higher."""
    figures = cone.figures
    inch = figures.unit == "in"
    scale = float(INCH_MM) if inch else 1.0
    roll = 0.25 * scale if inch else 6.0
    begin = (cone.small_mm - cone.foot_mm) / cone.ratio
    step = 0.1 * scale if inch else 2.0
    first = step * math.ceil(max(0.0, begin + 1.0 - roll / 2) / step)
    room = begin + cone.length_mm - 1.0 - roll / 2 - first
    block = next((one * scale for one in (_BLOCKS_IN if inch else _BLOCKS_MM) if one * scale <= room), 0.0)
    if not block:
        return
    low, high = (size_over_rolls_mm(cone.foot_mm, cone.ratio, roll, up) for up in (first, first + block))
    has_tang = any(one.kind == "tang" for one in cone.part.cross)
    stands = "hold it upright against an angle plate, tang" if has_tang else "stand it on its small end,"
    yield Setting(
        group, "Two equal rolls", f"{figures.bare(low, 3)}, then {cone.fine(high)}",
        f"{stands} on the plate; rolls {figures.length(roll, 1)} on blocks of {figures.length(first, 1)}, then "
        f"{figures.length(block)} higher: {cone.fine(high - low)} more, {_within(cone, block)}. Counts from the "
        "shank's end: both too large alike, the diameter there is so much too large",
        "geometry; guide How to measure a taper",
    )


def _within(cone: Cone, over_mm: float) -> str:
    """The tolerance of a difference over this distance."""
    try:
        return f"within +{cone.fine(difference_tolerance_mm(cone.length_mm, over_mm))} / 0"
    except RangeError:
        return "no tolerance listed"


def _sine(cone: Cone, group: str) -> Iterator[Setting]:
    figures, over = cone.figures, cone.over_mm
    bar = 5 * float(INCH_MM) if figures.unit == "in" else 100.0
    whole, half = (reckon.sine_bar_stack_mm(bar, angle) for angle in (2 * cone.half_deg, cone.half_deg))
    yield Setting(
        group, f"Sine bar {figures.length(bar)}", f"blocks {cone.fine(whole)}",
        f"plug lying on its flank: top level over {figures.length(over)}, {_within(cone, over)} (large end high: too "
        f"steep); between sine centres {cone.fine(half)} and half of that",
        "definition of the sine; US Army TC 9-524, appendix C",
    )


def _balls(cone: Cone, group: str) -> Iterator[Setting]:
    """Two balls in the socket: this one, or that of the quill where a plug touches badly."""
    figures = cone.figures
    step = float(INCH_MM) / 32 if figures.unit == "in" else 1.0
    mouth = cone.large_mm if cone.inside else cone.surface.diameter.nominal_mm
    large = step * math.floor((mouth - cone.ratio * _BALL_IN_MM) / step)
    small = step * math.ceil((mouth - cone.ratio * (cone.length_mm - _BALL_IN_MM)) / step)
    if small >= large:
        return
    tops = [ball_top_mm(mouth, cone.ratio, ball) for ball in (large, small)]
    apart = (large - small) / cone.ratio
    try:
        doubt = difference_tolerance_mm(cone.length_mm, apart) / cone.ratio
    except RangeError:
        return
    what = "this socket" if cone.inside else "the quill's socket, where a good plug touches badly"
    yield Setting(
        group, "Two balls in the socket", f"{figures.length(tops[1] - tops[0])} apart",
        f"{what}: tops of balls {figures.bare(large)} and {figures.length(small)} lie {figures.bare(tops[0])} and "
        f"{figures.length(tops[1])} below its face (below 0: above it). Distance within {figures.length(doubt)}; "
        "further apart: too shallow", f"geometry; homemadetools.net, measuring female tapers; {_AT6}",
    )


def stand_off_rows(cone: Cone, method: TaperMethod, group: str) -> Iterator[Setting]:
    """How far the plug stands out of the quill, and what a cut does to that.

    Source: named in each row.
    """
    figures = cone.figures
    step = 0.05 * float(INCH_MM) if figures.unit == "in" else 1.0
    for face, size_low, size, size_high in _beyond_gauge(cone):
        yield Setting(
            group, f"Quill face to {face}", figures.length(size),
            f"plug pushed home dry: {figures.within(size_low, size_high, 2)} {figures.unit}, slips or drill shanks in "
            "the gap. Then the gauge plane lies in the quill's face", "the drawing; ISO 296", main=True,
        )
    if method == "bought shank":
        return
    name, _, dial = _depth_dial(cone, method)
    division = 2 * dial.division_mm
    yield Setting(
        group, f"To bring it {figures.length(step)} in", f"{cone.fine(step * cone.ratio)} off the diameter",
        f"nearest on the {name}: {counted(step * cone.ratio / 2, dial)}; each division brings "
        f"it {figures.length(reckon.depth_gained_mm(division, cone.ratio))} in", GEOMETRY,
    )
    yield Setting(
        group, "Stop short", f"{cone.fine(cone.ratio * step / 2)} on the diameter",
        f"leave it {figures.length(step / 2)} out: polishing and wear bring it in, nothing brings it out", PRACTICE,
    )


def _beyond_gauge(cone: Cone) -> Iterator[tuple[str, float, float, float]]:
    """Faces at the large end that are measured from the gauge plane, each with its least, own and most length."""
    z_of = face_positions(cone.part)
    towards_large = 1 if cone.surface.half_angle_deg > 0 else -1
    at = cone.surface.at
    for one in cone.part.lengths:
        if at in (one.face, one.from_face):
            other = one.from_face if one.face == at else one.face
            if towards_large * (z_of[other] - z_of[at]) > 0:
                title = f"{cone.part.title.lower()}, {other.replace('_', ' ')}"
                yield title, one.size.low, one.size.nominal_mm, one.size.high
