"""The tailstock set over for one taper on one blank: how far, how it is read, and how it comes back.

Lengths count between the pivots of the two supports, whichever they are: a ball has one, a 60 degree point tips about
a place between the apex of its hole (worn) and the middle of its flank (sharp).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from generator import tables
from generator.description import diameter_at, face_positions, outline
from generator.errors import TableError
from generator.findings import PRACTICE
from generator.fittings.centre_hole import end_hole
from generator.making.balls import ball_for
from generator.making.figures import Figures
from generator.making.route.heat import hardening_of
from generator.making.route.words import POINT_MM
from generator.making.settings_rows import GEOMETRY, Cone, Setting, counted, turned
from generator.making.workshop import Screws
from generator.reckoning import set_over as s
from generator.reckoning import taper as reckon
from generator.reckoning.amounts import RangeError
from generator.units import INCH_MM, FileUnit

__all__ = ["End", "SetOver", "back_rows", "master_rows", "screw_way", "set_over_for", "set_over_rows", "set_over_short"]

_CLOSE_MM = 1e-6
_LEAST_END_MM = 6.0
_WIDER_MM = 2.0
"""How much wider than its bore a countersink for a centre is taken where no size says so. Shop choice."""

_SHARE_SOURCE = "2 %: common practice, no source"
_INDICATED = "trade practice; homews.co.uk, setting up to turn a precision taper"
_MASTERS_MM = (75.0, 100.0, 125.0, 150.0, 175.0, 200.0, 250.0, 300.0)
_MASTERS_IN = (3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0, 12.0)


class End(NamedTuple):
    """One end of the blank: its centre hole and what stands in it; `ball` names the ball, "" for a point."""

    hole: str
    support: s.Support
    ball: str


class SetOver(NamedTuple):
    """Set-over for one blank: its ends, the length between the pivots with its doubt, and the distance to move.

    `least_mm` is the set-over for worn holes, equal to `amount_mm` on balls. Where the taper comes after the fire the
    stub is gone: `in_hollow` is True, the point runs in a hollow centre, and `faced_mm` counts to the point's apex.
    """

    faced_mm: float
    head: End
    tail: End
    band: s.Band
    amount_mm: float
    least_mm: float
    in_hollow: bool = False

    @property
    def has_point(self) -> bool:
        """True where at least one end runs on a 60 degree point."""
        return "point" in (self.head.support.form, self.tail.support.form)


def set_over_for(cone: Cone) -> SetOver | None:
    """The set-over with the supports of this shop in the holes of this blank; None where no hole or blank is known.

    Source: geometry (`generator.reckoning.set_over`); centre holes ISO 6411, which hole: common practice, no source.
    """
    blank, shop = cone.blank, cone.workshop
    if blank is None or cone.inside:
        return None
    try:
        tail = _end(_tail_hole(cone), shop.tailstock_support, cone.figures.unit)
        if (long_mm := _to_the_apex_mm(cone)) is not None:
            return _in_hollow(cone, long_mm, tail)
        head = _end(_listed_hole(blank.bar_mm), shop.headstock_support, cone.figures.unit)
        band = s.band_mm(blank.faced_mm, head.support, tail.support)
    except (TableError, RangeError):
        return None
    least, amount = (reckon.set_over_mm(length, cone.ratio) for length in (band.least_mm, band.likely_mm))
    return SetOver(blank.faced_mm, head, tail, band, amount, least)


def _to_the_apex_mm(cone: Cone) -> float | None:
    """From the shank end to the apex of the roughed point, where a case is hardened before the taper is cut.

    Source: geometry; what the point is left over, common practice, no source.
    """
    way = hardening_of(cone.part.material)
    point = next((one for one in cone.part.surfaces if one.role == "point" and one.side == "outside"), None)
    if point is None or way is None or not way.is_case or point.half_angle_deg * cone.surface.half_angle_deg >= 0:
        return None
    z_of = face_positions(cone.part)
    end = (min if cone.surface.half_angle_deg > 0 else max)(z_of.values())
    tip = min((point.near, point.far), key=lambda face: diameter_at(cone.part, point, z_of[face], z_of))
    over = diameter_at(cone.part, point, z_of[tip], z_of) + POINT_MM
    return abs(z_of[tip] - end) + over / 2.0 / math.tan(math.radians(abs(point.half_angle_deg)))


def _in_hollow(cone: Cone, long_mm: float, tail: End) -> SetOver:
    """The piece without its stub: a cone in a hollow of its own angle tips about their common apex.

    Source: geometry.
    """
    sharp = long_mm + s.outside_face_mm(tail.support)
    point = tail.support.form == "point"
    worn = long_mm - reckon.apex_below_face_mm(tail.support.mouth_mm) if point else sharp
    least, amount = (reckon.set_over_mm(length, cone.ratio) for length in (worn, sharp))
    head = End("a hollow centre, on the roughed point", tail.support, "")
    return SetOver(long_mm, head, tail, s.Band(worn, sharp, sharp), amount, least, in_hollow=True)


class _Hole(NamedTuple):
    name: str
    mouth_mm: float
    pilot_mm: float


def _listed_hole(diameter_mm: float) -> _Hole:
    return _named(tables.centre_hole_for(max(_LEAST_END_MM, diameter_mm)))


def _named(hole: tables.CentreHole) -> _Hole:
    return _Hole(f"A {hole.pilot_mm:g}/{hole.countersink_mm:g}", hole.countersink_mm, hole.pilot_mm)


def _tail_hole(cone: Cone) -> _Hole:
    """The hole at the small end: the countersunk mouth of a bore that opens there, or the usual centre hole."""
    shape = outline(cone.part)
    z = shape.near_z if cone.surface.half_angle_deg > 0 else shape.far_z
    bores = [
        2 * (edge.r0 if abs(edge.z0 - z) < _CLOSE_MM else edge.r1)
        for edge in shape.inner
        if not edge.is_face and min(abs(edge.z0 - z), abs(edge.z1 - z)) < _CLOSE_MM
    ]
    if not bores:
        found = end_hole(cone.part, min(shape.z_of, key=lambda face: abs(shape.z_of[face] - z)))
        return _listed_hole(cone.small_mm) if found is None else _named(found)
    bore = min(bores)
    told = cone.choices.names.get("shank/mouth", "").removesuffix(" mm")
    mouth = float(told) if told else bore + _WIDER_MM
    return _Hole(f"the bore's 60° mouth, dia {cone.figures.length(mouth, 1)}", mouth, bore)


def _end(hole: _Hole, support: str, unit: FileUnit) -> End:
    """The end with its support; a point where no stocked ball bears in the hole."""
    name, ball = ball_for(hole.mouth_mm, hole.pilot_mm, unit) if support == "ball" else ("", 0.0)
    form: s.Form = "ball" if ball else "point"
    return End(hole.name, s.Support(form, hole.mouth_mm, hole.pilot_mm, ball), name)


def set_over_short(cone: Cone) -> Iterator[tuple[str, str, str]]:
    """Set-over as the way out: label, value, note.

    Source: geometry, as `set_over_for`.
    """
    found = set_over_for(cone)
    if found is not None:
        far = cone.workshop.set_over_most_mm
        enough = "" if found.amount_mm <= far else f"; MORE than your tailstock goes ({cone.figures.length(far)})"
        yield (
            "Set-over between centres", f"{cone.figures.fixed(found.amount_mm)} towards you",
            f"{_supports(found)}; {cone.figures.length(found.band.likely_mm)} between them{enough}",
        )


def _supports(found: SetOver) -> str:
    if found.in_hollow:
        stands = f"{found.tail.ball} ball" if found.tail.ball else "60° point"
        return f"tailstock: {stands} in {found.tail.hole}, carrier end: {found.head.hole}"
    ends = (("tailstock", found.tail), ("carrier end", found.head))
    return ", ".join(f"{where}: {f'{end.ball} ball' if end.ball else '60° point'} in {end.hole}" for where, end in ends)


def set_over_rows(cone: Cone, group: str) -> Iterator[Setting]:
    """Every setting of the tailstock set over, in the order in which it is set.

    Source: named in each row.
    """
    found = set_over_for(cone)
    figures, shop = cone.figures, cone.workshop
    if found is None:
        why = "no bar or no centre hole is known for this end; measure the length between supports x sine of half angle"
        yield Setting(group, "Set the tailstock towards you", "not reckoned", why, GEOMETRY)
        return
    yield Setting(
        group, "Set the tailstock towards you", figures.fixed(found.amount_mm),
        "small end at the tailstock, tool on your side; clamp base and quill, then read again", GEOMETRY, main=True,
    )
    yield Setting(
        group, "Length between the supports", figures.both(found.band.likely_mm),
        f"{_what_is_long(found, figures)}; {_supports(found)}. Another length or hole: reckon again",
        "geometry; ISO 6411; this bar",
    )
    yield from _doubt(cone, found, group)
    yield from _reading(cone, found, group)
    yield _screw(cone, found, group, back=False)
    most = shop.set_over_most_mm
    words = "enough" if found.amount_mm <= most + 1e-9 else "TOO LITTLE: shorter blank, or another way below"
    yield Setting(
        group, "Your tailstock goes over", cone.shop("set_over_most_mm", figures.length(most)), words,
        shop.sources.get("set_over_most_mm", "the shop file"),
    )
    yield from _share(found, group)
    yield from _changed(cone, found, group)
    yield Setting(
        group, "Before it turns", "once round by hand",
        "the carrier moves in and out with every turn: guard it; light cuts, grease a point that stands still again "
        "between cuts", PRACTICE,
    )


def _what_is_long(found: SetOver, figures: Figures) -> str:
    if found.in_hollow:
        return f"the stub is gone by then: {figures.length(found.faced_mm)} from the shank end to the point's apex"
    return f"bar faced to {figures.length(found.faced_mm)}"


def _doubt(cone: Cone, found: SetOver, group: str) -> Iterator[Setting]:
    asked = {"tailstock": (cone.workshop.tailstock_support, found.tail),
             "carrier end": (cone.workshop.headstock_support, found.head)}
    for where, (support, end) in asked.items():
        if found.in_hollow and end is found.head:
            continue
        if support == "ball" and not end.ball:
            yield Setting(
                group, f"Ball at the {where}", "none listed fits", f"a point is reckoned with in {end.hole}", "ISO 3290"
            )
    if found.has_point:
        yield Setting(
            group, "In worn or torn holes", f"{cone.figures.fixed(found.least_mm)} towards you",
            f"{cone.figures.length(found.band.least_mm)}, point's apex counted; in doubt begin here: metal is left",
            "Turning and boring tapers, 1902",
        )


def _reading(cone: Cone, found: SetOver, group: str) -> Iterator[Setting]:
    figures, shop = cone.figures, cone.workshop
    yield Setting(
        group, "Read on the quill", turned(found.amount_mm, shop.indicator_mm),
        f"of {cone.shop('indicator_mm', cone.division(shop.indicator_mm))}; plunger level, on your side of the quill "
        "at centre height, quill out as in use, 0 while true: reads more as the tailstock comes", _INDICATED,
    )
    yield Setting(
        group, "Or by the cross slide", f"{counted(found.amount_mm, shop.cross_dial)} out",
        f"of {cone.shop('cross_dial', cone.division(shop.cross_dial.division_mm))}; rod in the post touches the quill "
        "through a feeler; a turn too far out, back in to the mark; tailstock up to the feeler", PRACTICE,
    )
    rise = s.indicator_rise_mm(found.amount_mm, found.band.likely_mm, 0.0, cone.travel_mm)
    yield Setting(
        group, "Or on the blank, turned parallel", f"{figures.length(rise, 4)} per {figures.length(cone.travel_mm)}",
        "indicator on the carriage, on your side: reads more towards the tailstock. True for every support and length",
        "geometry, tangent of the half angle",
    )


def _screw(cone: Cone, found: SetOver, group: str, *, back: bool) -> Setting:
    """How far the set-over screw is turned for it, or for the way back."""
    shop = cone.workshop
    lead = cone.shop("set_over_lead_mm", cone.division(shop.set_over_lead_mm))
    how = screw_way(shop.set_over_screws, back=back)
    return Setting(
        group, "Back by the set-over screw" if back else "By the set-over screw",
        s.screw_words(found.amount_mm, shop.set_over_lead_mm), f"of {lead} a turn; "
        f"{cone.shop('set_over_screws', how)}. A hexagon's flat is 60°. It gets near, the indicator decides", PRACTICE,
    )  # fmt: skip


def screw_way(screws: Screws, *, back: bool) -> str:
    """How set-over screws are worked, in words.

    Source: common practice, no source.
    """
    if screws == "one":
        return "one screw draws it both ways: turn it past and come back, so that its play lies on the same side"
    if back:
        return "two opposed screws: slacken the one that pushed by so much, push with the other; both nipped up"
    return "two opposed screws: slacken the one by more than that, push with the other, nip up the first"


def _share(found: SetOver, group: str) -> Iterator[Setting]:
    share = s.share_of_length(found.amount_mm, found.band.likely_mm)
    if not found.has_point:
        note = "on balls that wears nothing"
    elif share > s.MUCH_SHARE:
        note = (
            "WARNING: beyond 2 % a 60° point tears its hole and heats. Balls are advised; else light cuts, fresh "
            "grease, and measure again after each cut. No reason to stop"
        )
    else:
        note = "below 2 %: points will do"
    yield Setting(group, "Set-over by length", f"{100 * share:.1f} %", note, _SHARE_SOURCE)


def _changed(cone: Cone, found: SetOver, group: str) -> Iterator[Setting]:
    """What the other support at the tailstock would spoil."""
    now = found.tail.support
    if now.form == "ball":
        other, words = now._replace(form="point"), "point for the ball"
    else:
        name, ball = ball_for(now.mouth_mm, now.pilot_mm, cone.figures.unit)
        if not ball:
            return
        other, words = now._replace(form="ball", ball_mm=ball), f"{name} ball for the point"
    after = found.band.likely_mm + s.outside_face_mm(other) - s.outside_face_mm(now)
    error = s.change_error_mm(cone.ratio, found.band.likely_mm, after, cone.over_mm)
    again = reckon.set_over_mm(after, cone.ratio)
    yield Setting(
        group, "Keep to these supports", f"{'+' if error > 0 else '-'}{cone.fine(abs(error))}",
        f"difference over {cone.figures.length(cone.over_mm)} changes so much with a {words} at the tailstock; it "
        f"then wants {cone.figures.fixed(again)}", GEOMETRY,
    )


def master_rows(cone: Cone, group: str) -> Iterator[Setting]:
    """Setting along a finished taper of another length: what to read, and the first cut's error if it reads level.

    Source: named in each row.
    """
    found = set_over_for(cone)
    if found is None:
        return
    figures, over = cone.figures, cone.over_mm
    travel = 2 * cone.travel_mm
    yield Setting(
        group, "How", f"per {figures.length(travel)} of carriage",
        "old centre, arbor or plug of this same taper between the same supports, small end at the tailstock; "
        "indicator on the carriage, on your side, moving towards the tailstock", _INDICATED,
    )
    for length in _masters(cone, found.band.likely_mm):
        rise = s.indicator_rise_mm(found.amount_mm, length, cone.ratio, travel)
        error = s.supported_diameter_error_mm(cone.ratio, found.band.likely_mm, length, over)
        yield Setting(
            group, f"{figures.length(length)} between its supports", f"{_signed(cone, rise)}",
            f"set level instead, the first cut's difference over {figures.length(over)} is {cone.fine(abs(error))} "
            f"too {'much (too steep)' if error > 0 else 'little (too shallow)'}", GEOMETRY,
        )
    yield Setting(
        group, "Another length", f"{figures.bare(travel, 0)} x ({figures.bare(found.amount_mm)} / its length - "
        f"{cone.ratio / 2:.4f})",
        "+ reads more towards the tailstock. Pivots count: a ball's middle, a point's place in its hole. Then make the "
        "check cut below", GEOMETRY,
    )


def _signed(cone: Cone, value_mm: float) -> str:
    if abs(value_mm) < 0.0005:
        return f"0 {cone.figures.unit}"
    return f"{'+' if value_mm > 0 else '-'}{cone.fine(abs(value_mm))}"


def _masters(cone: Cone, own_mm: float) -> Sequence[float]:
    """Three round lengths of finished tapers about as long as the work, none shorter than its cone."""
    inch = cone.figures.unit == "in"
    sizes = [one * float(INCH_MM) for one in _MASTERS_IN] if inch else list(_MASTERS_MM)
    able = [one for one in sizes if one >= cone.length_mm + 10.0] or sizes[-1:]
    return sorted(sorted(able, key=lambda one: abs(one - own_mm))[:3])


def back_rows(cone: Cone, group: str) -> Iterator[Setting]:
    """The way back to parallel, and how it is proved.

    Source: named in each row.
    """
    figures = cone.figures
    apart = 8 * float(INCH_MM) if figures.unit == "in" else 200.0
    if cone.workshop.between_centres_mm < apart + 50.0:
        apart /= 2
    long = 1.25 * apart
    found = set_over_for(cone)
    if found is not None:
        yield Setting(
            group, "Back", f"{figures.fixed(found.amount_mm)} away from you",
            "until the indicator on the quill stands at its zero again; clamp, read again", PRACTICE,
        )
        yield _screw(cone, found, group, back=True)
    yield Setting(
        group, "Test bar between centres", f"{cone.error_text()} or less",
        f"between two readings {figures.length(apart)} apart, on your side", "homews.co.uk, page 320",
    )
    yield Setting(
        group, "Or two collars turned", f"{figures.length(apart)} apart, equal",
        f"differ by {cone.error_text()} on a bar {figures.length(long)} between centres: tailstock "
        f"{cone.fine(cone.error_mm / 2 * long / apart)}, towards you if the collar at the tailstock is the larger",
        "homews.co.uk, page 320; geometry",
    )
