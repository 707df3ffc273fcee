"""Interrupted views: a long plain stretch of a part drawn shorter than it is, between two zigzag lines.

The part is drawn as one whose lengths over the gap are shorter by what is left out; everything that is printed is the
true part's. A dimension over the gap measures what is drawn and keeps a factor of its own, so that it prints, and is
drawn anew with, the true figure. Source: ISO 128-3 at second hand (interrupted views, their narrow
zigzag lines).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from generator.description import Edge, Length, Part, face_positions, outline
from generator.drawing.gap import Gap
from generator.drawing.wanted import Callout, Diameter, LengthLine, Requests

__all__ = ["Interrupted", "interruptions", "true_requests"]

_GAP_MM = 4.0
"""Distance of the two zigzag lines on paper. Shop choice."""
_KEPT_MM = (80.0, 40.0)
"""How much of the stretch stays to be seen on paper, gap included, the more first. Shop choice."""
_LEAST_LEFT_OUT_MM = 25.0
"""A view is not interrupted for less on paper. Shop choice."""
_GAP_AT = 0.62
"""Where in the stretch the gap stands: off the middle, where callouts point. Shop choice."""
_CLOSE_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Interrupted:
    """A part as an interrupted view draws it, and its gap."""

    part: Part
    gap: Gap


def interruptions(part: Part, scale: float) -> Iterator[Interrupted]:
    """The part with its longest plain stretch drawn shorter, less and more; nothing where no stretch is long enough."""
    stretch = _longest_plain(part)
    if stretch is None:
        return
    start, end = stretch
    for kept_mm in _KEPT_MM:
        left_out = math.floor(end - start - kept_mm / scale)
        if left_out * scale < _LEAST_LEFT_OUT_MM:
            continue
        # Places are reckoned from the origin face: what lies before it moves when the part is drawn shorter.
        begin = start + left_out if end <= _CLOSE_MM else start
        at, half = begin + _GAP_AT * (end - start - left_out), _GAP_MM / 2 / scale
        yield Interrupted(_shortened(part, start, end, float(left_out)), Gap(at - half, at + half, float(left_out)))


def _longest_plain(part: Part) -> tuple[float, float] | None:
    """The longest stretch without a face, cylinder outside and plain inside, that nothing across the part touches."""
    z_of = face_positions(part)
    shape = outline(part)
    marks = sorted({*z_of.values(), *(z for e in (*shape.outer, *shape.inner) for z in (e.z0, e.z1))})
    level = [e for e in (*shape.outer, *shape.inner) if not e.is_face and abs(e.r1 - e.r0) < _CLOSE_MM]
    sloped = [e for e in (*shape.outer, *shape.inner) if not e.is_face and abs(e.r1 - e.r0) >= _CLOSE_MM]
    across = [(z_of[cross.near], z_of[cross.far]) for cross in part.cross if cross.kind != "half"]
    plain = [
        (low, high)
        for low, high in pairwise(marks)
        if high - low > _CLOSE_MM
        and any(_covers(edge, low, high) for edge in level)
        and not any(_covers(edge, low, high) for edge in sloped)
        and not any(min(ends) < high and max(ends) > low for ends in across)
    ]
    return max(plain, key=lambda ends: ends[1] - ends[0], default=None)


def _covers(edge: Edge, low: float, high: float) -> bool:
    return edge.z0 <= low + _CLOSE_MM and edge.z1 >= high - _CLOSE_MM


def _shortened(part: Part, start: float, end: float, by_mm: float) -> Part:
    """The part with every length over the stretch shorter by so much."""
    z_of = face_positions(part)
    lengths = tuple(_shorter(length, z_of, start, end, by_mm) for length in part.lengths)
    return replace(part, lengths=lengths)


def _shorter(length: Length, z_of: Mapping[str, float], start: float, end: float, by_mm: float) -> Length:
    low, high = sorted((z_of[length.from_face], z_of[length.face]))
    if low > start + _CLOSE_MM or high < end - _CLOSE_MM:
        return length
    return replace(length, size=replace(length.size, nominal_mm=length.size.nominal_mm - by_mm))


def true_requests(drawn: Requests, true: Requests, gap: Gap) -> Requests:
    """What is said of the part as drawn, in the true part's figures; lengths over the gap know what is left out."""
    lengths = {length.address: length for length in true.lengths}
    callouts = {(callout.address, callout.kind): callout for callout in true.callouts}
    diameters = {diameter.address: diameter for diameter in true.diameters}
    return replace(
        drawn,
        lengths=tuple(_true_length(length, lengths[length.address], gap) for length in drawn.lengths),
        diameters=tuple(_true_diameter(diameter, diameters[diameter.address]) for diameter in drawn.diameters),
        callouts=tuple(_true_callout(callout, callouts[callout.address, callout.kind]) for callout in drawn.callouts),
        notes=true.notes,
    )


def _true_length(drawn: LengthLine, true: LengthLine, gap: Gap) -> LengthLine:
    left_out = gap.left_out_mm if gap.lies_within(drawn.start, drawn.end) else 0.0
    return replace(drawn, label=true.label, size=true.size, left_out_mm=left_out)


def _true_diameter(drawn: Diameter, true: Diameter) -> Diameter:
    return replace(drawn, label=true.label, size=true.size)


def _true_callout(drawn: Callout, true: Callout) -> Callout:
    return replace(drawn, label=true.label, size=true.size)
