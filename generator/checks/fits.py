"""Fits of the rings of a spindle by which ring turns, what is left of their clearance, and the play to be set."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.duty import Duty
from generator.checks.judged import Limit, Say, judged, told
from generator.checks.spindle import Held, Spindle
from generator.description import Choices, Size
from generator.findings import Change, Finding
from generator.reckoning.fit import (
    Deviations,
    Span,
    clearance_span_mm,
    effective_interference_mm,
    inner_ring_share,
    likely_clearance_span_mm,
    outer_ring_share,
    raceway_diameters_mm,
)
from generator.reckoning.fit_seat import FLAT_SOURCE, LAME_SOURCE, clearance_left_mm
from generator.reckoning.seats import RULE_SOURCE, WEIGHT_SOURCE, seats_for, weight_of
from generator.tables import axial_play

__all__ = ["fit_findings", "left_span_mm", "play_finding", "spans_mm"]

LOOSE_MM = 0.005
"""Clearance that a ring turning under its load may have on its seat at worst, before it creeps. Shop choice."""
TIGHT_MM = 0.022
"""Interference of a ring at rest in its pocket beyond which it cannot be pushed home by hand tools. Shop choice."""
SPRING_N_MM = (5.0, 10.0)
"""Spring force of a quiet ball pair for each mm of bore. Bearing maker's motor rule, from memory."""


def _deviations(size: Size) -> Deviations:
    """Limits as deviations, a reading with its doubt where there is one."""
    return Deviations(size.high - size.nominal_mm, size.low - size.nominal_mm)


def _seat(choices: Choices, index: int) -> tuple[str, Size]:
    """The seat on the spindle that carries a ring."""
    for seat in range(1, choices.counts["seats"] + 1):
        if index <= choices.counts[f"seat_{seat}/last_ring"]:
            return f"seat_{seat}", choices.sizes[f"seat_{seat}/diameter"]
    message = f"bearing {index} has no seat"
    raise LookupError(message)


def _pocket(choices: Choices, index: int) -> Size:
    return choices.sizes[f"pocket_{choices.counts[f'ring_{index}/pocket']}/diameter"]


def spans_mm(choices: Choices, index: int) -> tuple[tuple[Span, Span], tuple[Span, Span]]:
    """Clearance of the inner ring on its seat and of the outer ring in its pocket: (worst, likely) each."""
    seat, pocket = _seat(choices, index)[1], _pocket(choices, index)
    bore, outside = choices.sizes[f"ring_{index}/bore"], choices.sizes[f"ring_{index}/outside"]
    inner, outer = (_deviations(bore), _deviations(seat)), (_deviations(pocket), _deviations(outside))
    return (
        (clearance_span_mm(*inner), likely_clearance_span_mm(*inner)),
        (clearance_span_mm(*outer), likely_clearance_span_mm(*outer)),
    )


def fit_findings(choices: Choices, spindle: Spindle, duty: Duty | None) -> Iterator[Finding]:
    """Each ring on its seat (it turns under the load), in its pocket (it rests), and the clearance left in it."""
    for held in spindle.rings:
        inner, outer = spans_mm(choices, held.index)
        yield _on_seat(choices, held, inner, spindle, duty)
        yield _in_pocket(choices, held, outer)
        yield _left(choices, held)


def _on_seat(
    choices: Choices, held: Held, spans: tuple[Span, Span], spindle: Spindle, duty: Duty | None
) -> Finding:
    worst, likely = spans
    name, size = _seat(choices, held.index)
    advice = (
        f"The inner ring turns under a load that stands still: {size.tolerance_class} on its bore gives "
        f"{_words(worst)}, likely {_words(likely)}."
    )
    changes: tuple[Change, ...] = ()
    limit, value = Limit(most=LOOSE_MM * 1000), worst.most * 1000
    weight = _weight(held, spindle, duty)
    if weight is not None and duty is not None:
        wanted = seats_for("inner", "fixed", weight, held.ring.bore_mm).shaft
        advice += f" Load {weight} for this bearing, usual class {wanted}."
        heavy = duty.is_given and weight == "heavy" and size.tolerance_class in {"j6", "h6"}
        if heavy:
            limit = Limit(most=0.0)
            advice += " Under it a bearing as loose as this creeps."
        changes = (Change("spindle.seat_fit", wanted if heavy else "k5", ""),)
    return judged(
        "fit_inner", f"spindle/{name}/ring_{held.index}", f"bearing {held.index} on its seat, most clearance", value,
        limit,
        Say(f"{RULE_SOURCE}; {WEIGHT_SOURCE}", advice, "um", changes=changes,
            worst=(worst.least * 1000, worst.most * 1000)),
    )  # fmt: skip


def _weight(held: Held, spindle: Spindle, duty: Duty | None) -> str | None:
    """How heavy the cut's load across the axis is for a ring: that load makes it creep. None where it is not known."""
    if duty is None or held.rating is None:
        return None
    return weight_of(spindle.borne_n(held, duty.radial_n), held.rating.dynamic_n)


def _in_pocket(choices: Choices, held: Held, spans: tuple[Span, Span]) -> Finding:
    worst, likely = spans
    size = _pocket(choices, held.index)
    task = "is held by the cover" if held.is_trapped else "must slide to float"
    loosest = size.upper_mm - choices.sizes[f"ring_{held.index}/outside"].lower_mm
    limit = Limit(-TIGHT_MM * 1000 if held.is_trapped else -LOOSE_MM * 1000)
    advice = (
        f"The outer ring rests under the load and {task}: {size.tolerance_class} gives {_words(worst)}, likely "
        f"{_words(likely)}."
    )
    if loosest > 0.02:
        advice += " Where it comes out loose, a retaining compound holds it (reckon seats)."
    return judged(
        "fit_outer", f"body/pocket_{choices.counts[f'ring_{held.index}/pocket']}/ring_{held.index}",
        f"bearing {held.index} in its pocket, least clearance", worst.least * 1000, limit,
        Say(f"{RULE_SOURCE}; limits of the interference: shop choice", advice, "um",
            changes=(Change("body.pocket_fit", "H7", ""),), worst=(worst.least * 1000, worst.most * 1000)),
    )  # fmt: skip


def left_span_mm(choices: Choices, held: Held, *, likely: bool) -> Span:
    """Radial clearance left in a ring once both of its rings are fitted."""
    inner, outer = spans_mm(choices, held.index)
    bore, outside = held.ring.bore_mm, held.ring.outside_mm
    raceway_in, raceway_out = raceway_diameters_mm(bore, outside)
    barrel = choices.sizes["body/barrel"].nominal_mm
    shares = inner_ring_share(bore, raceway_in), outer_ring_share(raceway_out, outside, max(barrel, outside + 1.0))
    taken = [
        (Span(*(effective_interference_mm(-end, diameter) for end in (span.most, span.least))), share)
        for (span, diameter, share) in (
            (inner[likely], bore, shares[0]), (outer[likely], outside, shares[1]),
        )
    ]  # fmt: skip
    return clearance_left_mm(Span(*held.clearance_mm), tuple(taken), likely)


def _left(choices: Choices, held: Held) -> Finding:
    worst, likely = (left_span_mm(choices, held, likely=choice) for choice in (False, True))
    middle = 1000 * (likely.least + likely.most) / 2
    words = (
        "some is always left" if worst.least >= 0 else
        "it may be gone at worst limits" if likely.least >= 0 else
        "in an unlucky pair it is gone: choose bearings and seats by measuring, or bearings of clearance C3"
    )  # fmt: skip
    return judged(
        "clearance_left", held.name, f"radial clearance left in bearing {held.index}, middle of what is likely", middle,
        Limit(0.0),
        Say(
            f"ISO 5753-1; {LAME_SOURCE}; {FLAT_SOURCE}",
            f"Likely {likely.least * 1000:.0f} to {likely.most * 1000:.0f} um, {words}.", "um",
            changes=(Change("loads.clearance", "C3", ""),), worst=(1000 * worst.least, 1000 * worst.most),
        ),
    )  # fmt: skip


def play_finding(choices: Choices, spindle: Spindle) -> Iterator[Finding]:
    """Axial play of the front ring that takes the thrust, and what sets it: pocket, shim, or a spring."""
    held = spindle.rings[0]
    left = left_span_mm(choices, held, likely=True)
    most = axial_play(held.ring, max(left.most, 0.0))
    low, high = (force * held.ring.bore_mm for force in SPRING_N_MM)
    by_cover = "pocket_1/depth, bored to the bearings as measured" if choices.names["cover_style"] != "screwed" else (
        "the screwed cover, which presses the outer ring"
    )  # fmt: skip
    free = [other for other in spindle.rings if not other.is_trapped]
    spring = (
        f"A wave spring of {low:.0f} to {high:.0f} N behind the outer ring of bearing {free[-1].index}, which floats, "
        "takes the play out; a ground shim does it stiffer"
        if free else "Both outer rings are held: the matched spacers set the play, grind them to it"
    )  # fmt: skip
    yield told(
        "play", held.name, f"axial play about {most:.2f} mm at most, no preload",
        "geometry of the ball groove; spring force from memory",
        f"The outer ring is set by {by_cover}. {spring}. The thrust of the quill takes the play up in use.",
    )


def _words(span: Span) -> str:
    """A span of clearance in words, um."""
    least, most = 1000 * span.least, 1000 * span.most
    if least >= 0:
        return f"{least:.0f} to {most:.0f} um clearance"
    if most <= 0:
        return f"{-most:.0f} to {-least:.0f} um interference"
    return f"{-least:.0f} um interference to {most:.0f} um clearance"
