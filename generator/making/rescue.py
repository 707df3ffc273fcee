"""The ladder of rescues beside every size that matters: what to do when it comes out beyond its limit.

For each amount of too much metal gone: still good, another face cut back, a shim, the mate made to suit, retaining
compound, another bearing, a sleeve, or a new piece. Found through the gaps, the fits and the walls, never by rote.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.description import ChainResult, Length, Part, Surface, Tool
from generator.findings import PRACTICE
from generator.making.cuts import limits_text
from generator.making.missed import Broken, broken_by, miss_of, recut_for, sized
from generator.making.rescue_fits import Held, fit_ways, held_by
from generator.making.route.blank import spare_mm

__all__ = ["MISSES_MM", "WORKS", "Ladder", "Rung", "ladders", "rung_of"]

MISSES_MM = (0.02, 0.05, 0.1, 0.5)
"""How far beyond the limit: a slip of the dial, of the eye, of a division, of the hand. Common practice, no source."""

_MATTERS = frozenset({"seat", "pocket", "taper"})
_LEAST_SHIM_MM = 0.025
"""Thinnest shim foil that is sold. From memory."""
WORKS = "works as it is"
"""Verdict on a size beyond its limit that spoils no gap, fit or wall: it is out of the drawing all the same."""


@dataclass(frozen=True, slots=True)
class Rung:
    """A miss of `over_mm` beyond the limit: what it is worth in one or two words, and what to do, best way first."""

    over_mm: float
    verdict: str
    ways: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ladder:
    """One size that matters, its limits in words, which way it is missed, and a rung for each amount."""

    address: str
    title: str
    limits: str
    missed: str
    rungs: tuple[Rung, ...]
    source: str = PRACTICE


def ladders(tool: Tool, chains: Sequence[ChainResult], drawer: Sequence[tuple[str, float]] = ()) -> tuple[Ladder, ...]:
    """A ladder for every size of a made part that a fit, a taper or a gap depends on, part by part.

    `drawer` holds measured outside diameters of bearings at hand, with their designations. Sizes for which every rung
    works as it is are left out: nothing depends on them.
    """
    found = (_ladder(tool, chains, part, item, drawer) for part in tool.made for item in _critical(part, chains))
    return tuple(one for one in found if one is not None and any(rung.verdict != WORKS for rung in one.rungs))


def rung_of(
    tool: Tool, chains: Sequence[ChainResult], address: str, over_mm: float, drawer: Sequence[tuple[str, float]] = ()
) -> Rung | None:
    """The rung for one size that came out beyond its limit by this much; None where nothing depends on the size."""
    part = tool.parts[address.partition("/")[0]]
    item, sign = sized(part, address), miss_of(tool, address)
    if item is None or not sign or item not in tuple(_critical(part, chains)):
        return None
    held = held_by(tool, part, item) if isinstance(item, Surface) else None
    return Rung(over_mm, *_judge(tool, chains, part, item, (address, over_mm, sign), held, drawer))


def _critical(part: Part, chains: Sequence[ChainResult]) -> Iterator[Surface | Length]:
    met = {term.address for result in chains for term in result.contributors}
    for surface in part.surfaces:
        address = f"{part.name}/{surface.name}/diameter"
        own = not (surface.diameter.derived or surface.role == "chamfer")
        if surface.role in _MATTERS or (own and address in met):
            yield surface
    for length in part.lengths:
        if f"{part.name}/{length.name}" in met and not length.size.derived:
            yield length


def _ladder(
    tool: Tool, chains: Sequence[ChainResult], part: Part, item: Surface | Length, drawer: Sequence[tuple[str, float]]
) -> Ladder | None:
    size = item.diameter if isinstance(item, Surface) else item.size
    address = f"{part.name}/{item.name}" + ("/diameter" if isinstance(item, Surface) else "")
    sign = miss_of(tool, address)
    if not sign:
        return None
    found = (rung_of(tool, chains, address, over, drawer) for over in MISSES_MM)
    rungs = tuple(rung for rung in found if rung is not None)
    words = f"{item.name.replace('_', ' ').replace('/', ' ')}{' diameter' if isinstance(item, Surface) else ''}"
    return Ladder(address, words, limits_text(size), _direction(item, sign), rungs)


def _direction(item: Surface | Length, sign: int) -> str:
    if isinstance(item, Surface):
        return "too large" if sign > 0 else "too small"
    return "too long or deep" if sign > 0 else "too short"


def _judge(
    tool: Tool,
    chains: Sequence[ChainResult],
    part: Part,
    item: Surface | Length,
    missed: tuple[str, float, int],
    held: Held | None,
    drawer: Sequence[tuple[str, float]],
) -> tuple[str, tuple[str, ...]]:
    """What a miss is worth, and the ways out of it."""
    ways: list[str] = []
    verdict = WORKS
    broken = broken_by(chains, {}, missed)
    if broken:
        ways = [*_chain_ways(tool, chains, missed, broken), *_mate_ways(tool, missed, broken)]
        ways = ways or [*_packed(tool, part, item, missed[1])]
        ways += _another_try(item, missed[1]) if _is_taper(item) else []
        verdict = "can be put right" if ways else "scrap"
        ways = ways or [f"new piece: {_named(broken[0])}"]
    if isinstance(item, Surface) and held is not None and verdict != "scrap":
        fit_verdict, more = fit_ways(part, item, held, missed[1], drawer)
        if fit_verdict != WORKS:
            ways += more
            verdict = fit_verdict
    if verdict == WORKS:
        ways = _good_words(chains, missed)
        if _is_taper(item):
            deeper_mm = missed[1] / _slope(item)
            ways = [f"up to {deeper_mm:.1f} mm deeper in its socket; every gap has room for it"]
            if deeper_mm > _stand_off_mm(part):
                # Beyond what the drawing allows: the spare of the blank is there for it.
                ways += _another_try(item, missed[1])
    return verdict, tuple(dict.fromkeys(ways))


def _good_words(chains: Sequence[ChainResult], missed: tuple[str, float, int]) -> list[str]:
    """What stays to be done though the size is still good: a size made to measure follows it."""
    fitted = [
        result.gap.fit for result in chains
        if result.gap.fit and result.gap.fit != missed[0] and any(t.address == missed[0] for t in result.contributors)
    ]
    return [f"measure, and cut {_words(address)} to suit" for address in fitted] or ["write down what it measures"]


def _chain_ways(
    tool: Tool, chains: Sequence[ChainResult], missed: tuple[str, float, int], broken: Sequence[Broken]
) -> Iterator[str]:
    recut = recut_for(tool, chains, missed, broken)
    if recut is not None:
        fitted = {result.gap.fit for result in chains}
        rest = [(address, mm) for address, mm in recut.lengths if address != missed[0] and address not in fitted]
        lengths = ", ".join(f"{_words(address)} then {mm:.2f} mm" for address, mm in rest)
        face, part_name = recut.face.replace("_", " "), recut.part.replace("_", " ")
        yield f"cut the {face} of the {part_name} back {recut.by_mm:.2f} mm" + (f" ({lengths})" if lengths else "")
    wide = [one for one in broken if one.by_mm > 0 and one.result.gap.direction == "axial"]
    if len(wide) == len(broken) == 1:
        gap = wide[0].result.gap
        middle = wide[0].by_mm + ((gap.most_mm or 0.0) - (gap.least_mm or 0.0)) / 2
        if middle >= _LEAST_SHIM_MM:
            yield f"shim of about {middle:.2f} mm there ({gap.title}), the gap measured first"


def _packed(tool: Tool, part: Part, item: Surface | Length, over_mm: float) -> Iterator[str]:
    """A ring under what stands on a floor that is too deep: every gap is then as it was drawn."""
    if isinstance(item, Surface):
        return
    for seat in tool.seats:
        on = tool.parts[seat.part]
        if seat.kind == "face" and (seat.on_part, seat.on_face) == (part.name, item.face) and not on.is_made:
            by = over_mm + (item.size.upper_mm - item.size.lower_mm) / 2
            yield (
                f"ring of {by:.2f} mm, ground parallel, on that floor behind {_in_words(on.title)}, on the "
                f"{'outer' if miss_of(tool, f'{part.name}/{item.name}') > 0 else 'inner'} ring only"
            )


def _in_words(title: str) -> str:
    return title[:1].lower() + title[1:]


def _mate_ways(tool: Tool, missed: tuple[str, float, int], broken: Sequence[Broken]) -> Iterator[str]:
    """The made part opposite, where one gap across the axis is all that is wrong and that part can still be cut."""
    if len(broken) != 1 or broken[0].result.gap.direction == "axial":
        return
    for term in broken[0].result.contributors:
        part = tool.parts[term.address.partition("/")[0]]
        if term.address == missed[0] or not part.is_made:
            continue
        larger = (term.coefficient > 0) == (broken[0].by_mm < 0)
        by = abs(broken[0].by_mm / term.coefficient)
        yield f"make the {_words(term.address)} {by:.2f} mm {'larger' if larger else 'smaller'}, if not cut yet"


def _stand_off_mm(part: Part) -> float:
    """How far a shank may stand deeper than drawn by the limits of its stand-off."""
    found = (one.size for one in part.lengths if one.name.endswith("stand_off"))
    return max((abs(size.lower_mm) for size in found), default=0.0)


def _is_taper(item: Surface | Length) -> bool:
    """True for a cone that sits in a socket."""
    return isinstance(item, Surface) and item.role == "taper"


def _slope(item: Surface | Length) -> float:
    """What a cone grows on the diameter for each millimetre along the axis."""
    return 2.0 * math.tan(math.radians(abs(item.half_angle_deg))) if isinstance(item, Surface) else 1.0


def _another_try(item: Surface | Length, over_mm: float) -> Iterator[str]:
    """How far the cone must go towards the work, where the blank has so much to spare."""
    back_mm = over_mm / _slope(item)
    if isinstance(item, Surface) and back_mm <= spare_mm(item.half_angle_deg):
        yield (
            f"another try while the spare length is still on: everything up to the front {back_mm:.1f} mm further "
            "towards the work, as much off the shank end"
        )


def _named(broken: Broken) -> str:
    way = "too much room" if broken.by_mm > 0 else "too little room"
    return f"{broken.result.gap.title}, {abs(broken.by_mm):.2f} mm {way}"


def _words(address: str) -> str:
    part, _, name = address.partition("/")
    return f"{name.removesuffix('/diameter').replace('/', ' ').replace('_', ' ')} of the {part.replace('_', ' ')}"

