"""Whether the tool gets past the support and the jaws, seen before the cut; what to change, and what that does.

Plan view as in `generator.reckoning.access`: z = 0 at the end face that the tailstock carries, positive into the work.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.description import Choices, Surface, diameter_at
from generator.errors import GeneratorError
from generator.fittings.centre_hole import end_hole
from generator.making.balls import ball_for
from generator.making.figures import Figures
from generator.making.operations_past import over_bar_mm
from generator.making.operations_target import Target
from generator.making.workshop import Cutter, ToolPost, Workshop
from generator.reckoning.access import Centre, Cut, Holder, Stage, least_gap, obstacles
from generator.reckoning.access_cures import Cure, Limits, dead_centre_of, ranked
from generator.reckoning.set_over import Support, change_error_mm, support_length_mm
from generator.reckoning.taper import taper_of_half_angle

__all__ = ["Way", "carried_end", "mouth_at", "way_of"]

AIR_MM = 0.5
"""Least gap wanted between tool and support. Shop choice."""

QUILL_OUT_MM = 30.0
"""Quill out of its casting while it carries work: about an inch (a maker's manual); shop choice."""

BALL_NOSE_MM, BALL_OVER_MM = 12.0, 4.0
"""A ball centre as usually made: nose behind the ball, and how much larger than the ball it is. Shop choice."""

BALL = "ball centre"
_IN_JAWS = frozenset({"bar", "three-jaw", "soft jaws", "four-jaw"})
_CUTS = frozenset({"turn", "rough", "taper", "groove", "thread"})


@dataclass(frozen=True, slots=True)
class Way:
    """What was found: in words, whether the tool gets there, what is missing, and shop fields that nobody gave."""

    text: str = ""
    clear: bool = True
    missing: tuple[str, ...] = ()
    rests_on: tuple[str, ...] = ()


def way_of(
    target: Target, cutter: Cutter | None, workshop: Workshop, choices: Choices | None, faced_mm: float | None,
    figures: Figures,
) -> Way:
    """The way of the tool past tailstock and jaws for an outside cut; nothing for other work.

    Source: geometry (`generator.reckoning.access`); cures in order of effort, common practice.
    """
    main = target.main
    if cutter is None or main is None or main.inside or target.step.work not in _CUTS:
        return Way()
    found = [_past_jaws(target, workshop, figures)]
    if target.setup.support == "centre" or target.setup.located == "centres":
        found.append(_past_support(target, cutter, workshop, choices, faced_mm, figures))
    return Way(
        "; ".join(one.text for one in found if one.text), all(one.clear for one in found),
        tuple(text for one in found for text in one.missing),
        tuple(dict.fromkeys(text for one in found for text in one.rests_on)),
    )


def carried_end(target: Target) -> str:
    """The face that the tailstock carries: away from what is gripped, else that touched off on; "" where not told."""
    part, z_of = target.part, target.z_of
    if part is None:
        return ""
    ends = {min(z_of, key=lambda one: z_of[one]), max(z_of, key=lambda one: z_of[one])}
    name = target.setup.grips.partition("/")[2]
    if name in part.by_name:
        held = part.by_name[name]
        middle = (z_of[held.near] + z_of[held.far]) / 2
        return max(sorted(ends), key=lambda one: abs(z_of[one] - middle))
    touched = target.setup.touches_off.partition("/")[2]
    return next((one for one in ends if touched in z_of and abs(z_of[one] - z_of[touched]) < 1e-6), "")


def mouth_at(target: Target, face: str, choices: Choices | None) -> tuple[float, float] | None:
    """Mouth and pilot of the centre hole in a face: the countersink of its bore, else the usual hole for its diameter.

    Source: centre holes ISO 6411, choice by diameter common practice; countersink 2 mm over the bore, shop choice.
    """
    part, z_of = target.part, target.z_of
    if part is None:
        return None
    bore = next((one for one in part.surfaces if one.side == "inside" and face in (one.near, one.far)), None)
    end = min((one.diameter.nominal_mm for one in _outside_near(target, z_of[face])), default=6.0)
    if bore is not None:
        shank = any(one.role == "taper" for one in part.surfaces)
        said = (choices.names.get("shank/mouth", "") if choices is not None and shank else "").split(" ")[0]
        hole_mm = bore.diameter.nominal_mm
        wide = float(said) if said.replace(".", "", 1).isdigit() else min(hole_mm + 2.0, end - 1.0)
        return max(wide, hole_mm + 0.5), hole_mm
    hole = end_hole(part, face)
    return None if hole is None else (hole.countersink_mm, hole.pilot_mm)


def _outside_near(target: Target, z: float) -> Iterator[Surface]:
    assert target.part is not None
    for one in target.part.surfaces:
        near = min(abs(target.z_of[one.near] - z), abs(target.z_of[one.far] - z))
        if one.side == "outside" and one.role != "chamfer" and near < 3.0:
            yield one


def _past_jaws(target: Target, workshop: Workshop, figures: Figures) -> Way:
    """How near to the jaws the cut ends, where the set-up tells how far the work stands out."""
    out, main = target.setup.out_mm, target.main
    touched = target.z_of.get(target.setup.touches_off.partition("/")[2])
    if out is None or main is None or touched is None or target.setup.located not in _IN_JAWS:
        return Way()
    far = max(abs(main.near_mm - touched), abs(main.far_mm - touched))
    # What is cut on over bar that goes later ends nearer to the jaws than its surface.
    left = out - far - over_bar_mm(target)
    if left >= 1.0:
        return Way(f"ends {figures.length(left, 1)} before the jaws")
    return Way(f"THE CUT ENDS AT THE JAWS ({figures.length(left, 1)}): let the work stand out further", clear=False)


def _past_support(
    target: Target, cutter: Cutter, workshop: Workshop, choices: Choices | None, faced_mm: float | None,
    figures: Figures,
) -> Way:
    face = carried_end(target)
    hole = mouth_at(target, face, choices) if face else None
    if hole is None:
        return Way("which end the tailstock carries is not told: try the tool past it with the lathe standing")
    rests = tuple(one for one in ("cutters", "tailstock_support", "tailstock_taper") if workshop.is_default(one))
    try:
        centre, name = _support(workshop, hole)
        cut, holder = _cut_from(target, face), _holder(cutter, workshop.post)
        tight = least_gap(holder, cut, obstacles(centre))
        if tight.gap_mm >= AIR_MM:
            gap = figures.length(min(tight.gap_mm, 99.0), 1)
            return Way(f"tried past the {name}: least gap {gap}", rests_on=rests)
        cures = _cures(holder, cut, centre, name, cutter, workshop, hole)
        ways = dict.fromkeys((*cures[:1], *(one for one in cures if "centre" in one.what)))
        told = [
            f"{one.what}: {one.cost}{_effect(one, target, workshop, hole, faced_mm, figures)}" for one in (*ways,)[:2]
        ]
    except GeneratorError as error:
        return Way(f"try the tool past the support with the lathe standing (not reckoned: {error})", rests_on=rests)
    where = "the holder" if tight.tool == "holder" else f"the {tight.tool}"
    word = name if tight.obstacle == "point" else tight.obstacle
    gap = figures.length(abs(tight.gap_mm), 1)
    meets = f"meets the {word} by {gap}" if tight.gap_mm <= 0 else f"has only {gap} to the {word}"
    found = f"BLOCKED: {where} {meets}"
    if not cures:
        lack = f"support that lets the tool past at the {face.replace('_', ' ')}: half centre, or leave that end longer"
        return Way(found, clear=False, missing=(lack,), rests_on=rests)
    return Way(f"{found}; {'; or '.join(told)}", clear=False, rests_on=rests)


def _cures(
    holder: Holder, cut: Cut, centre: Centre, name: str, cutter: Cutter, workshop: Workshop, hole: tuple[float, float]
) -> list[Cure]:
    """What clears, in order of effort; a ball centre instead of a point comes first, for it keeps the tool."""
    quill_more = max(0.0, workshop.quill_travel_mm - QUILL_OUT_MM)
    limits = Limits(AIR_MM, quill_more, cutter.shank_mm, workshop.tailstock_taper)
    cures = [one for one in ranked(holder, cut, centre, limits) if one.clears]
    ball = None if name == BALL else _ball_centre(workshop, hole)
    gap = -1.0 if ball is None else least_gap(holder, cut, obstacles(ball)).gap_mm
    if gap >= AIR_MM:
        cures.insert(0, Cure(BALL, gap, None, True, "stands still: grease, light cuts"))
    return cures


def _support(workshop: Workshop, hole: tuple[float, float]) -> tuple[Centre, str]:
    """What stands at the tailstock, front to rear, and its name."""
    ball = _ball_centre(workshop, hole) if workshop.tailstock_support == "ball" else None
    if ball is not None:
        return ball, BALL
    stages = dead_centre_of(workshop.tailstock_taper, hole[0], half=False)
    return Centre(hole[0], stages, quill_mm=workshop.quill_mm, quill_out_mm=QUILL_OUT_MM), "dead centre"


def _ball_centre(workshop: Workshop, hole: tuple[float, float]) -> Centre | None:
    """A ball centre in this hole, None where no stocked ball bears in it."""
    ball = ball_for(*hole)[1]
    if not ball:
        return None
    wide = max(ball, hole[0])
    stages = (
        Stage("ball", wide, 0.5 * ball, wide),
        Stage("nose of the ball centre", ball + BALL_OVER_MM, BALL_NOSE_MM, ball + BALL_OVER_MM),
        *(one._replace(name="head of the ball centre") if "head" in one.name else one
          for one in dead_centre_of(workshop.tailstock_taper, ball, half=False)),
    )
    # As blunt a cone as the reckoning takes: a ball is never fatter ahead of its middle.
    return Centre(hole[0], stages, 120.0, workshop.quill_mm, QUILL_OUT_MM)


def _cut_from(target: Target, face: str) -> Cut:
    """The cut as seen from the carried end: the surface nearest to it, which is the tightest."""
    assert target.part is not None
    tail = target.z_of[face]
    first = min(target.passes, key=lambda one: min(abs(one.near_mm - tail), abs(one.far_mm - tail)))
    ends = sorted((abs(first.near_mm - tail), abs(first.far_mm - tail)))
    start = first.near_mm if abs(first.near_mm - tail) < abs(first.far_mm - tail) else first.far_mm
    wide = diameter_at(target.part, first.surface, start, target.z_of) + first.left_mm
    run_in = -1.0 if ends[0] < 0.5 else ends[0]
    return Cut(wide, run_in, max(ends[1], run_in + 0.5))


def _holder(cutter: Cutter, post: ToolPost | None) -> Holder:
    """A tool of the shop as the reckoning of access takes it; where nobody says, one and a half shanks out."""
    deep = cutter.reach_mm if cutter.width_mm > 0 else 0.0
    insert = cutter.insert_mm or cutter.width_mm
    away = post or ToolPost()
    return Holder(
        cutter.holder_mm or cutter.shank_mm, max(deep, cutter.tip_ahead_mm), cutter.tip_beside_mm, insert,
        None if insert > 0 else cutter.trailing_deg, cutter.approach_deg,
        cutter.out_mm or deep + max(1.5 * cutter.shank_mm, cutter.tip_ahead_mm + 5.0),
        away.reach_mm, away.slide_reach_mm, away.slide_behind_mm, away.slide_below_mm,
    )


def _effect(
    cure: Cure, target: Target, workshop: Workshop, hole: tuple[float, float], faced_mm: float | None,
    figures: Figures,
) -> str:
    """What another support does to the taper of this part."""
    part = target.part
    cone = next((one for one in part.surfaces if one.role == "taper" and one.side == "outside"), None) if part else None
    if cone is None or "centre" not in cure.what:
        return ""
    if workshop.taper_method != "set-over" or faced_mm is None:
        return f"; the taper is cut by {workshop.taper_method} and does not feel it"
    before = _pivots(workshop.headstock_support, hole), _pivots(workshop.tailstock_support, hole)
    after = before[0], _pivots("ball" if cure.what == BALL else "60-degree", hole)
    lengths = [support_length_mm(faced_mm, *pair) for pair in (before, after)]
    if abs(lengths[0] - lengths[1]) < 0.005:
        return "; pivots where they were, so the taper stays"
    over = abs(target.z_of[cone.far] - target.z_of[cone.near])
    ratio = taper_of_half_angle(abs(cone.half_angle_deg))
    error = change_error_mm(ratio, lengths[0], lengths[1], over)
    too = "steep" if error > 0 else "slow"
    return (
        f"; between pivots then {figures.length(lengths[1])} instead of {figures.length(lengths[0])}: with the "
        f"set-over left the taper comes {figures.length(abs(error), 3)} too {too} over its length, set it anew"
    )


def _pivots(support: str, hole: tuple[float, float]) -> Support:
    ball = ball_for(*hole)[1] if support == "ball" else 0.0
    return Support("ball", *hole, ball) if ball else Support("point", *hole)
