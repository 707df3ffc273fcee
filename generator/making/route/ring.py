"""Set-ups of rings, washers, covers and nuts: all from the bar at one setting, then the second face."""

from __future__ import annotations

from collections.abc import Iterator

from generator.description import Part, Surface
from generator.making.route.blank import grip_mm
from generator.making.route.flats import flat_cut
from generator.making.route.inside_thread import cored, is_tapped, threaded
from generator.making.route.ledger import Ledger, Workpiece
from generator.making.route.measured import spare_mm
from generator.making.route.trial import tried_together
from generator.making.route.words import plain, the
from generator.making.setups import Step, Way
from generator.making.thread_blank import blank_words

__all__ = ["ring_part"]

_PART_OFF_MM = 6.0
_FACED_MM = 0.3
"""Left by parting off for the second face. Common practice, no source."""
_LONG_ENOUGH = 0.5
"""Length over diameter from which a ring sits well on a mandrel. Common practice, no source."""
_GRIPPED = 0.5
"""Least share of its length by which a ring is held in soft jaws. Shop choice."""
_FLAT_MM = 2.0
"""Thickness up to which no jaw finds a hold: such a ring is stuck on for its second face. Shop choice."""
_THIN = 0.1
"""Wall over diameter below which jaws press a ring out of round. Common practice, no source."""


def ring_part(ledger: Ledger, part: Part) -> None:
    """All set-ups of a simple ring: from the bar, to length, flats.

    Source: common practice, no source.
    """
    piece = ledger.piece(part)
    near, far = piece.end_face(piece.near_mm), piece.end_face(piece.far_mm)
    first, second = (far, near) if part.origin_face == far else (near, far)
    steps = [*_from_bar(ledger, piece, first)]
    milled = {f for one in part.cross for f in (one.near, one.far)}
    ends = {f for one in part.surfaces for f in (one.near, one.far)}
    faces = [f for one in part.lengths for f in (one.face, one.from_face) if f in ends and f not in milled - ends]
    done = [*(one.name for one in part.surfaces), *(z.name for z in part.zones), first, *faces]
    spare = spare_mm(ledger.tool, part)
    out = min(piece.length_mm + spare + _PART_OFF_MM, 2.5 * piece.bar_mm)
    ledger.add(
        part, "all at one setting from the bar", "three-jaw on the bar", "bar", "bar", f"{part.name}/{first}",
        [name for name in done if name != second], steps, grips="bar", grip_mm=grip_mm(piece.bar_mm), out_mm=out,
        indicate="not needed: all is cut at this setting",
        before="not parted off before bore and outside are measured",
    )  # fmt: skip
    tried_together(ledger, part)
    _to_length(ledger, piece, first, second)
    _flats(ledger, piece)


def _is_behind(piece: Workpiece, surface: Surface, first: str) -> bool:
    """True where a larger outside stands between this one and the free end: no tool is fed over it."""
    z_of = piece.z_of
    way = abs((z_of[surface.near] + z_of[surface.far]) / 2 - z_of[first])
    return any(
        one.side == "outside" and one.diameter.nominal_mm > surface.diameter.nominal_mm + 1e-6
        and abs((z_of[one.near] + z_of[one.far]) / 2 - z_of[first]) < way
        for one in piece.part.surfaces if one.role != "chamfer"
    )


def _from_bar(ledger: Ledger, piece: Workpiece, first: str) -> Iterator[Step]:
    part = piece.part
    yield piece.cut("face", "face the bar", faces=[first])
    inside = [one for one in part.surfaces if one.side == "inside"]
    tapped = [one for one in inside if one.diameter.derived and one.role != "chamfer"]
    if inside and len(tapped) < len(inside):
        least = min(one.diameter.nominal_mm for one in inside)
        drills = [d for d in ledger.workshop.drills if d.diameter_mm <= least - 0.4]
        drill = max(drills, key=lambda d: d.diameter_mm, default=None)
        if drill is not None:
            deep = piece.length_mm + spare_mm(ledger.tool, part) + _PART_OFF_MM
            yield Step("centre, then drill through", f"dia {drill.diameter_mm:g} mm, {deep:.0f} mm deep", "", (),
                       "drill", "", drill.diameter_mm, deep)  # fmt: skip
    for one in part.surfaces:
        if one.side == "outside" and one.role != "chamfer":
            behind = _is_behind(piece, one, first)
            text = f"plunge {the(one.name)} behind what is larger" if behind else f"turn {the(one.name)}"
            yield piece.cut("groove" if behind else "turn", text, one, also=blank_words(part, one))
    cut = {zone.surface: zone for zone in part.zones if zone.form == "thread"
           and part.surface(zone.surface).side == "inside"
           and not is_tapped(zone, part.surface(zone.surface).diameter.nominal_mm, ledger.workshop)}  # fmt: skip
    for one in sorted(inside, key=lambda one: one.diameter.nominal_mm):
        if one.name in cut and len(inside) == 1:
            yield from cored(piece, one, cut[one.name], first, ledger.workshop)
            continue
        if one in tapped and len(tapped) == len(inside):
            yield piece.cut("drill", "centre, drill through to the tap drill", one, also=blank_words(part, one),
                            length_mm=piece.length_mm + _PART_OFF_MM)  # fmt: skip
            continue
        word = "bore through" if one.name == "bore" else f"bore {the(one.name)}"
        yield piece.cut("bore", word, one, also=blank_words(part, one))
    for one in part.surfaces:
        if one.side.endswith("groove"):
            yield piece.cut("groove", f"cut {the(one.name)}", one)
    for one in part.surfaces:
        if one.role == "chamfer":
            yield piece.cut("turn", plain(one.name), one)
    for zone in part.zones:
        if zone.form == "thread":
            if part.surface(zone.surface).side == "inside":
                yield threaded(piece, zone, tapped=zone.surface not in cut)
            else:
                yield piece.cut("thread", "screw-cut the thread, try its mate", zones=[zone])
    yield Step("break the edges", work="deburr")
    cut_off = f"{part.name}/{_held(piece, '').name}"
    over_mm = round(spare_mm(ledger.tool, part) + _FACED_MM, 1)
    long_mm = piece.length_mm + over_mm
    yield Step(f"part off, {over_mm:g} mm over", f"{long_mm:.1f} mm from the {plain(first)}", "parting blade", (),
               "part", cut_off, piece.bar_mm)  # fmt: skip


def _held(piece: Workpiece, end: str) -> Surface:
    """The outside that is gripped: the one at the end away from the cut, else the longest; no thread."""
    part, z_of = piece.part, piece.z_of
    threads = {zone.surface for zone in part.zones if zone.form == "thread"}
    outside = [one for one in part.surfaces if one.side == "outside" and one.role != "chamfer"]
    plain_ones = [one for one in outside if one.name not in threads] or outside
    at_end = [one for one in plain_ones if end in (one.near, one.far)]
    return max(at_end or plain_ones, key=lambda one: z_of[one.far] - z_of[one.near])


def _to_length(ledger: Ledger, piece: Workpiece, first: str, second: str) -> None:
    """The second face, the ring held so that it is not pressed out of round."""
    part = piece.part
    outside = _held(piece, first)
    z_of = piece.z_of
    inside = [s for s in part.surfaces
              if s.side == "inside" and s.role != "chamfer" and abs(z_of[s.far] - z_of[s.near]) > 1e-6]  # fmt: skip
    # A relief right through leaves nothing of the bore to hold by.
    bores = [s for s in inside if s.role != "relief"] or inside
    held: Surface = outside
    located: Way = "soft jaws"
    words = "soft jaws bored to its outside, all round, light grip; the first face against a turned step"
    if bores:
        bore = min(bores, key=lambda s: s.diameter.nominal_mm)
        wall = (outside.diameter.nominal_mm - bore.diameter.nominal_mm) / 2 / outside.diameter.nominal_mm
        threaded = any(zone.surface == bore.name for zone in part.zones)
        gripped = abs(piece.z_of[outside.far] - piece.z_of[outside.near])
        thin = wall < _THIN and piece.length_mm >= _LONG_ENOUGH * bore.diameter.nominal_mm
        if (thin or gripped < _GRIPPED * piece.length_mm) and not threaded:
            held, located = bore, "mandrel"
            words = "on a mandrel turned to its bore, pushed on by hand, nothing presses the wall"
        if piece.length_mm <= _FLAT_MM and not threaded:
            held, located = bore, "mandrel"
            words = "stuck with a drop of glue on a stub faced true in the chuck, a short spigot in its bore"
    long = abs(z_of[held.far] - z_of[held.near])
    grip = round(max(min(long, piece.length_mm - 1.0), 0.6 * long), 1)
    step = piece.cut(
        "face", "face to length, both faces parallel within 0.005 mm", faces=[second], tool="micrometer, three places"
    )
    ledger.add(
        part, "to length", words, located, f"{part.name}/{held.name}", f"{part.name}/{second}", [second],
        [step, Step("break the edges of the new face, inside and out", work="deburr")],
        grips=f"{part.name}/{held.name}", grip_mm=grip, out_mm=piece.length_mm - grip,
        indicate="the faced side by pushing it flat: no gap under a feeler",
        caution="Light cuts, kept cool: warmth lets the glue go. Warm it off afterwards, wipe it clean."
        if "glue" in words else "",
    )  # fmt: skip


def _flats(ledger: Ledger, piece: Workpiece) -> None:
    part = piece.part
    if not part.cross:
        return
    outside = _held(piece, "")
    ways = [(one, flat_cut(ledger.workshop, the(one.name))) for one in part.cross]
    steps = [piece.cut(way.work, way.text, cross=[one], tool=way.tool) for one, way in ways]
    ends = {f for one in part.surfaces for f in (one.near, one.far)}
    new = {f for one in part.cross for f in (one.near, one.far)} - ends
    faces = [one.face for one in part.lengths if one.face in new]
    ledger.add(
        part, "flats", "vice, soft jaws", "bench", f"{part.name}/{outside.name}", "",
        [*(one.name for one in part.cross), *faces], steps, grips=f"{part.name}/{outside.name}",
    )  # fmt: skip
