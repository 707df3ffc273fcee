"""A bar too thick for the spindle and too long for the chuck: centred at the bench, then banded for the steady."""

from __future__ import annotations

from generator.description import Part
from generator.making.route.chuck import hole_text
from generator.making.route.ledger import Ledger
from generator.making.route.words import CARRIER_CAUTION, HOLES
from generator.making.setups import Step

__all__ = ["band_step", "centred_by_hand", "over_all", "work_end_centred"]

_BAND_MM = 15.0


def band_step(text: str, bar_mm: float) -> Step:
    """A band for the steady, just clean.

    Source: common practice, no source.
    """
    return Step(text, f"{_BAND_MM:g} mm long", "", (), "rough", "", bar_mm - 1.0, _BAND_MM)


def over_all(*, banded: bool) -> str:
    """Between what the length of a bar is told: where it was centred by hand its work end stays as sawn.

    Source: none needed.
    """
    return "over all, the work end as sawn" if banded else "between the faced ends"


def work_end_centred(ledger: Ledger, part: Part, bar_mm: float, grip_mm: float, out_mm: float, stub_mm: float) -> None:
    """The work end faced and centred from the bar: a rest for the next set-ups, sawn off in the end.

    Source: common practice, no source.
    """
    ledger.add(
        part, "work end faced and centred", "three-jaw, the bar as sawn", "bar", "bar", "", [],
        [
            Step("face the work end until it is clean", work="face", diameter_mm=bar_mm),
            Step("centre it: this hole goes with the stub", hole_text(bar_mm), "centre drill", (), "centre"),
        ],
        grips="bar", grip_mm=grip_mm, out_mm=out_mm, leaves_mm=stub_mm,
        leaves_why="stub ahead of the part for the carrier, sawn off later",
        indicate="not needed: this end is only a rest for the next set-ups",
    )  # fmt: skip


def centred_by_hand(
    ledger: Ledger, part: Part, near: str, bar_mm: float, hole_mm: float, stub_mm: float, faced_mm: float
) -> None:
    """Both ends centred under the drill, then a band near the end called `near`, between these centres.

    Source: common practice, no source.
    """
    ledger.add(
        part, "both ends centred at the bench", "vee blocks under the drill", "bench", "bar", "", [],
        [
            Step("find both centres with a centre square, punch them", work="mark"),
            Step("centre the work end", hole_text(bar_mm), "centre drill", (), "centre"),
            Step(f"centre {near}", hole_text(hole_mm), "centre drill", (), "centre"),
        ],
        grips="bar", leaves_mm=stub_mm, leaves_why="stub ahead of the part for the carrier, sawn off later",
    )  # fmt: skip
    ledger.add(
        part, "band for the steady", "between centres, carrier on the work end", "centres", "centre holes", "",
        [], [band_step(f"turn a band near {near}, just clean", bar_mm)],
        grips="bar", grip_mm=stub_mm, out_mm=round(faced_mm - stub_mm, 1), support="centre", indicate=HOLES,
        caution=CARRIER_CAUTION,
    )  # fmt: skip
