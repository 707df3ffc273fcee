"""What helps when the tool does not reach: cheap cures first, each with the gap it would give; making a centre last."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generator.reckoning.access import Centre, Cut, Holder, Stage, angles_left, least_diameter_mm, least_gap, obstacles
from generator.reckoning.amounts import need

__all__ = ["Cure", "Limits", "dead_centre_of", "nose_needed_mm", "ranked", "table_holders"]

SWINGS_DEG = (5.0, 10.0, 15.0, 20.0, 25.0, 30.0)
LEAST_APPROACH_DEG = 45.0
"""Below this a swung tool pushes slender work away more than it feeds. Common practice, no source."""
HALF_FLAT_SHARE = 0.12
HEAD_MM = 10.0
"""A dead centre as the kind of tool in this program makes it: flat 0.12 of the mouth above the axis, head 10 long."""


@dataclass(frozen=True, slots=True)
class Cure:
    """One thing to change: what, the gap and least diameter it gives, whether that is enough, and what it costs."""

    what: str
    gap_mm: float
    least_diameter_mm: float | None
    clears: bool
    cost: str
    swing_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Limits:
    """What may be used: air wanted, how far the quill may still go out, shank height that fits the post, Morse size.

    `swing_deg` is how the tool stands swung now; it stays so in the cures that leave the tool alone.
    """

    clearance_mm: float
    quill_more_mm: float = 0.0
    shank_height_mm: float | None = None
    morse: int | None = None
    nose_mm: float | None = None
    swing_deg: float = 0.0


def table_holders(height_mm: float) -> tuple[tuple[str, Holder, str], ...]:
    """Holders of the table that fit the post, as shapes, each with its name and how far its row is to be trusted.

    A lower shank is packed up. The front recedes at the insert's free angle; out of the post by one and a half heights.
    Source: table holders (ISO 5610), overhang common practice.
    """
    from generator.tables import load

    need("shank height", height_mm, "mm", above=0, most=60)
    found = []
    for row in load("holders").rows:
        free, height = row.text("free_angle"), row.number("shank_height_mm")
        if height > height_mm + 0.01 or not free.replace(".", "", 1).isdigit():
            continue
        width, offset = row.number("shank_width_mm"), row.number("tip_offset_mm")
        approach = row.maybe("approach_deg") or 93.0
        holder = Holder(
            width, tip_beside_mm=offset - width, trailing_deg=float(free), approach_deg=approach, out_mm=1.5 * height_mm
        )
        found.append((f"{row.text('item')} {row.text('size')}", holder, row.confidence))
    return tuple(found)


def dead_centre_of(morse: int, mouth_mm: float, *, half: bool) -> tuple[Stage, ...]:
    """Stages behind the point of a plain dead centre with this Morse shank.

    Source: ISO 296, table morse; head length and diameter as this program's own dead centre.
    """
    from generator.tables import morse as row_of

    row = row_of(morse)
    head = math.floor(row.large_end_mm * 2) / 2
    need("head of the dead centre", head, "mm", least=mouth_mm)
    name = "head of the half centre" if half else "head of the dead centre"
    return (Stage(name, head, HEAD_MM, head), Stage("stand-off", row.gauge_diameter_mm, row.stand_off_max_mm,
                                                    row.gauge_diameter_mm))


def nose_needed_mm(
    holder: Holder, cut: Cut, centre: Centre, nose_mm: float, clearance_mm: float, swing_deg: float = 0.0
) -> float | None:
    """Length of a nose of this diameter that keeps the rest of the centre clear; None where none up to 300 mm does.

    Source: bisection on the length of the nose.
    """
    need("nose diameter", nose_mm, "mm", least=centre.mouth_mm)

    def gap(length: float) -> float:
        nose = Stage("nose", nose_mm, length, nose_mm)
        behind = tuple(stage for stage in centre.stages if stage.diameter_mm > nose_mm or stage.rear_mm > nose_mm)
        tried = replace(centre, stages=(nose, *behind), flat_mm=None)
        return least_gap(holder, cut, obstacles(tried), swing_deg).gap_mm

    low, high = 0.0, 300.0
    if gap(high) < clearance_mm:
        return None
    while high - low > 0.01:
        middle = (low + high) / 2
        low, high = (low, middle) if gap(middle) >= clearance_mm else (middle, high)
    return high


def ranked(holder: Holder, cut: Cut, centre: Centre, limits: Limits) -> tuple[Cure, ...]:
    """Every cheap cure: those that clear first, in order of effort, then the others by their gap; "make one" last.

    Source: order of effort common practice, no source.
    """
    cheap = list(_cheap(holder, cut, centre, limits))
    enough = [cure for cure in cheap if cure.clears]
    others = sorted((cure for cure in cheap if not cure.clears), key=lambda cure: -cure.gap_mm)
    return (*enough, *others, *_made(holder, cut, centre, limits))


def _cheap(holder: Holder, cut: Cut, centre: Centre, limits: Limits) -> Iterator[Cure]:
    yield from _swung(holder, cut, centre, limits)
    yield from _quill_out(holder, cut, centre, limits)
    yield from _other_holders(holder, cut, centre, limits)
    yield from _dead(holder, cut, centre, limits)


def _judged(
    what: str, cost: str, holder: Holder, cut: Cut, centre: Centre, limits: Limits, swing_deg: float = 0.0
) -> Cure:
    things = obstacles(centre)
    gap = least_gap(holder, cut, things, swing_deg).gap_mm
    least = least_diameter_mm(holder, cut, things, limits.clearance_mm, swing_deg, centre.mouth_mm)
    return Cure(what, gap, least, gap >= limits.clearance_mm - 1e-6, cost, swing_deg)


def _swung(holder: Holder, cut: Cut, centre: Centre, limits: Limits) -> Iterator[Cure]:
    """The smallest swing that clears, or the one that gives most."""
    things = obstacles(centre)
    usable = [swing for swing in SWINGS_DEG if holder.approach_deg - swing >= LEAST_APPROACH_DEG]
    if not usable:
        return
    gaps = {swing: least_gap(holder, cut, things, swing).gap_mm for swing in usable}
    clear = [swing for swing in usable if gaps[swing] >= limits.clearance_mm]
    swing = clear[0] if clear else max(usable, key=lambda one: gaps[one])
    left = angles_left(holder, swing)
    square = "still cuts a square shoulder" if left.approach_deg >= 90 else "no square shoulder"
    cost = f"approach {left.approach_deg:.0f}, trailing {left.trailing_deg:.0f} degrees left; {square}"
    yield _judged(f"swing the tool {swing:g} degrees", cost, holder, cut, centre, limits, swing)


def _quill_out(holder: Holder, cut: Cut, centre: Centre, limits: Limits) -> Iterator[Cure]:
    """The least further extension, in steps of 5 mm, that clears, or all there is."""
    if limits.quill_more_mm <= 0:
        return
    steps = [*range(5, int(limits.quill_more_mm) + 1, 5), limits.quill_more_mm]
    tried = limits.quill_more_mm
    for step in steps:
        further = replace(centre, quill_out_mm=centre.quill_out_mm + step)
        if least_gap(holder, cut, obstacles(further), limits.swing_deg).gap_mm >= limits.clearance_mm:
            tried = step
            break
    out = centre.quill_out_mm + tried
    cost = "stiffness of the quill falls with the cube of what is out"
    further = replace(centre, quill_out_mm=out)
    yield _judged(f"quill out to {out:g} mm", cost, holder, cut, further, limits, limits.swing_deg)


def _other_holders(holder: Holder, cut: Cut, centre: Centre, limits: Limits, most: int = 3) -> Iterator[Cure]:
    """The best holders of the table, one of each sort."""
    if limits.shank_height_mm is None:
        return
    best: dict[str, Cure] = {}
    things = obstacles(centre)
    gaps = []
    for name, other, trust in table_holders(limits.shank_height_mm):
        other = replace(
            other, post_reach_mm=holder.post_reach_mm, slide_reach_mm=holder.slide_reach_mm,
            slide_behind_mm=holder.slide_behind_mm, slide_below_mm=holder.slide_below_mm,
            out_mm=max(other.out_mm, holder.out_mm),
        )
        gaps.append((least_gap(other, cut, things, at_end_only=True).gap_mm, name, other, trust))
    for _, name, other, trust in sorted(gaps, key=lambda one: -one[0]):
        sort = name.split()[0]
        if sort not in best and len(best) < most:
            approach = other.approach_deg
            square = "" if approach >= 90 else f"no square shoulder (approach {approach:g} degrees); "
            cost = f"{square}a holder to buy or borrow; its shape by the table, {trust}: measure it"
            best[sort] = _judged(f"holder {name}", cost, other, cut, centre, limits)
    yield from best.values()


def _dead(holder: Holder, cut: Cut, centre: Centre, limits: Limits) -> Iterator[Cure]:
    """A dead centre and a half centre in the same taper."""
    if limits.morse is None:
        return
    for half in (False, True):
        stages = dead_centre_of(limits.morse, centre.mouth_mm, half=half)
        flat = HALF_FLAT_SHARE * centre.mouth_mm if half else None
        other = replace(centre, stages=stages, flat_mm=flat, point_deg=60.0)
        cost = "stands still: grease, slow speed, light thrust" + (", less cone to carry" if half else "")
        name = "half centre" if half else "dead centre"
        yield _judged(name, cost, holder, cut, other, limits, limits.swing_deg)


def _made(holder: Holder, cut: Cut, centre: Centre, limits: Limits) -> Sequence[Cure]:
    """A centre made for the job: the nose it needs with the fat parts as they are."""
    nose = limits.nose_mm if limits.nose_mm is not None else max(centre.mouth_mm, min(cut.diameter_mm, 16.0))
    length = nose_needed_mm(holder, cut, centre, nose, limits.clearance_mm, limits.swing_deg)
    wanted = f"make one: nose {nose:g} mm"
    behind = tuple(stage for stage in centre.stages if stage.diameter_mm > nose or stage.rear_mm > nose)
    made = replace(centre, stages=(Stage("nose", nose, length or 300.0, nose), *behind), flat_mm=None)
    if length is None:
        text = f"{wanted} does not clear whatever its length; a slimmer nose or larger work is needed"
        return [_judged(text, "", holder, cut, made, limits, limits.swing_deg)]
    cost = "days of work; a long nose bends with the cube of its length"
    text = f"{wanted}, {length:.1f} mm long before the fat part"
    return [_judged(text, cost, holder, cut, made, limits, limits.swing_deg)]
