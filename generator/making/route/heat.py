"""How a point is hardened, by its steel: the callout, the heats and colours, and the operations in order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.findings import Finding
from generator.making.route.words import POINT_MM
from generator.making.setups import Step

__all__ = ["Hardening", "carburising_h", "hardening_of", "hardness_finding", "steps_of"]

CASE_MM = (0.8, 1.2)
"""Depth of case that a finished point keeps. Shop choice."""

_CARBURISE_C = 920.0
_TEMPER = "an hour for each 25 mm of section, an hour at least"


@dataclass(frozen=True, slots=True)
class Hardening:
    """A way to harden: the steels it is for, hardness reached, heats, what to quench in, and whose figures they are."""

    steels: tuple[str, ...]
    hardness: str
    heat: str
    quench: str
    temper: str
    source: str
    is_case: bool = False


_MEMORY = "from memory (data sheets)"
_WAYS = (
    Hardening(
        ("16mncr5", "20mncr5", "8620", "en36", "en32", "aisi 1018"), "58 +4 HRC", "780 to 820 °C, cherry red",
        "oil", "150 to 200 °C", _MEMORY, is_case=True,
    ),
    Hardening(
        ("o1", "100mncrw4"), "60 +3 HRC", "about 800 °C (788 to 816), bright cherry red, a magnet no longer pulls",
        "warm oil", "150 to 220 °C, pale straw to straw on a bright face",
        "startoolsupply.com, Starrett page on O1; colours and temper from memory",
    ),
    Hardening(
        ("silver steel", "115crv3", "w1"), "60 +3 HRC", "780 to 820 °C, cherry red", "water",
        "150 to 250 °C, pale straw to straw on a bright face", _MEMORY,
    ),
    Hardening(
        ("100cr6", "52100"), "60 +3 HRC", "830 to 850 °C, bright cherry red", "oil",
        "150 to 180 °C, pale straw on a bright face", _MEMORY,
    ),
    Hardening(
        ("42crmo4", "4140"), "50 +4 HRC", "about 840 °C, bright cherry red", "oil",
        "180 to 220 °C, straw on a bright face", _MEMORY,
    ),
    Hardening(
        ("c45", "en8", "080m40"), "52 +5 HRC", "820 to 860 °C, bright cherry red", "water",
        "180 to 220 °C, straw on a bright face", _MEMORY,
    ),
)  # fmt: skip
"""Heats and hardness of the steels that points are made of. Sources in each row; the band of hardness is a shop choice.
"""


def hardening_of(material: str) -> Hardening | None:
    """The way to harden this steel, or None where none is known for it.

    Source: see the row.
    """
    words = material.casefold().replace("/", " ").split()
    plain = " ".join(words)
    return next(
        (way for way in _WAYS if any(name in words or (" " in name and name in plain) for name in way.steels)), None
    )


def carburising_h(depth_mm: float, heat_c: float = _CARBURISE_C) -> float:
    """Hours at heat for a case of this depth, from when the box is hot through.

    Source: Harris, depth in inches = 31.6 * sqrt(hours) / 10 ** (6700 / degrees Rankine), from memory.
    """
    rankine = (heat_c + 273.15) * 1.8
    per_root_hour_mm = 25.4 * 31.6 / 10.0 ** (6700.0 / rankine)
    hours: float = (depth_mm / per_root_hour_mm) ** 2
    return hours


def steps_of(way: Hardening, point: str, soft: str, surface: str) -> list[Step]:
    """Hardening and tempering in order: `point` is what gets hard, at `surface`, `soft` what must not.

    Source: the way's own.
    """
    # What is left to be ground goes off the case again.
    low, high = (round(depth + POINT_MM / 2.0, 1) for depth in CASE_MM)
    hours = f"{carburising_h(low):.1f} to {carburising_h(high):.1f} h"
    packed = (
        f"pack {point} only, carburise for a case of {low:g} to {high:g} mm, {POINT_MM / 2.0:g} mm to be ground off: "
        f"{hours} at heat, counted from when the box is hot through"
    )
    if way.is_case:
        first = [
            Step(f"stop off {soft} with copper plate or stop-off paste, plug threads with clay: they stay soft",
                 work="stop off"),
            Step(packed, f"{_CARBURISE_C:g} °C", "furnace, closed box", work="case", surface=surface),
            Step(f"harden, quench {point} first in {way.quench}", way.heat, "furnace", work="harden", surface=surface),
        ]  # fmt: skip
    else:
        first = [
            Step(f"heat {point} only by torch, {soft} clamped in a heat sink of brass or copper", way.heat,
                 "torch or furnace", work="harden", surface=surface),
            Step(f"quench upright in {way.quench}, {point} first, moving", work="harden", surface=surface),
        ]  # fmt: skip
    return [
        *first,
        Step(f"temper at once, while warm to the hand: {_TEMPER}", way.temper, "oven, or the colour", work="temper",
             surface=surface),
        Step("try with a file: it must skate", way.hardness, "old smooth file", work="measure"),
    ]  # fmt: skip


def hardness_finding(material: str, address: str) -> Iterator[Finding]:
    """What the hardness of the point rests on, or that it stays soft.

    Source: the way's own.
    """
    way = hardening_of(material)
    if way is None:
        yield Finding(
            "hardness", "note", address, f"{material}: no way to harden it is known, the point stays soft", unit="",
            source="common practice, no source",
            advice="A soft point wears and picks up: take 16MnCr5 or O1, or harden by the steel's own data sheet.",
        )
        return
    yield Finding(
        "hardness", "note", address, f"point hardened to {way.hardness}, in the order of work", unit="",
        source=way.source, advice=f"Heat {way.heat}; quench in {way.quench}; temper {way.temper}.",
    )
