"""Does the work fit the machine: swing, between centres, chuck, spindle bore."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding
from generator.making.plan_checks.plan import HARD_JAWS, Plan, by_whom, found
from generator.making.plan_checks.surfaces import words
from generator.making.setups import SetUp
from generator.making.stock import StockRow

__all__ = ["about_machine"]

_CHUCK_OF = {"bar": "three-jaw", "three-jaw": "three-jaw", "soft jaws": "three-jaw", "four-jaw": "four-jaw"}
_CHUCK_DEPTH_MM = 40.0
"""Room for the work inside a chuck, ahead of the spindle's bore. From memory."""
_AT_THE_LATHE = HARD_JAWS | {"soft jaws", "mandrel", "centres", "finished taper"}


def about_machine(plan: Plan) -> Iterator[Finding]:
    """A finding for everything that the machine or its chucks do not take.

    A stop by figures that the shop gave; a warning by figures that are only usual.
    Source: the shop file, or what is usual of the class (table machines).
    """
    for place, setup in enumerate(plan.setups):
        part = plan.part_of(setup)
        if part is None or setup.located not in _AT_THE_LATHE:
            continue
        blank = plan.blanks.get(part.name)
        if blank is not None:
            yield from _swing(plan, setup, blank)
            yield from _between_centres(plan, setup, blank)
            yield from _spindle_bore(plan, setup, place, blank)
        yield from _chuck(plan, setup, place)


def _swing(plan: Plan, setup: SetUp, blank: StockRow) -> Iterator[Finding]:
    most = 2.0 * plan.workshop.centre_height_mm
    if blank.bar_mm > most:
        severity, source = by_whom(plan, "centre_height_mm")
        yield found(
            "order-swing", severity, setup, blank.part, "the blank does not swing over the bed",
            "make it on a larger lathe, or of a slimmer bar", value=blank.bar_mm, most=most, source=source,
        )  # fmt: skip


def _between_centres(plan: Plan, setup: SetUp, blank: StockRow) -> Iterator[Finding]:
    if setup.located != "centres" and setup.support != "centre":
        return
    most = plan.workshop.between_centres_mm
    long_mm = blank.faced_mm if setup.located == "centres" else max(setup.out_mm or 0.0, blank.faced_mm / 2.0)
    if long_mm > most:
        severity, source = by_whom(plan, "between_centres_mm")
        yield found(
            "order-between-centres", severity, setup, blank.part, "the blank is longer than the bed between centres",
            "make it on a longer lathe, or the tool in two pieces", value=long_mm, most=most, source=source,
        )  # fmt: skip


def _spindle_bore(plan: Plan, setup: SetUp, place: int, blank: StockRow) -> Iterator[Finding]:
    """A bar held short must go into the spindle; one too thick for its bore finds no room behind the jaws."""
    if setup.located not in _CHUCK_OF or setup.grip_mm is None or setup.out_mm is None:
        return
    length = blank.cut_mm if setup.grips == "bar" else blank.finished_mm
    behind = length - setup.grip_mm - setup.out_mm
    thick = plan.held_mm(setup, place) or blank.bar_mm
    bore = plan.workshop.spindle_bore_mm
    if behind <= _CHUCK_DEPTH_MM or thick <= bore:
        return
    severity, source = by_whom(plan, "spindle_bore_mm")
    yield found(
        "order-spindle-bore", severity, setup, blank.part,
        f"{behind:.0f} mm of the work must go behind the jaws, but it does not pass the spindle's bore",
        "let it stick out and carry the end in a centre or steady, or saw it shorter",
        value=thick, most=bore, source=source,
    )  # fmt: skip


def _chuck(plan: Plan, setup: SetUp, place: int) -> Iterator[Finding]:
    """A finding where the chuck that the set-up names is not there, or does not open far enough."""
    kind = _CHUCK_OF.get(setup.located)
    held = plan.held_mm(setup, place)
    if kind is None or held is None:
        return
    severity, source = by_whom(plan, "chucks")
    mine = [chuck for chuck in plan.workshop.chucks if chuck.kind == kind]
    if not mine:
        yield found(
            "order-chuck", severity, setup, setup.grips or "work", f"there is no {kind} in this shop",
            "give the chuck in the shop file, or hold the work another way", source=source,
        )  # fmt: skip
        return
    most = max(chuck.most_mm for chuck in mine)
    if held > most:
        yield found(
            "order-chuck", severity, setup, setup.grips or "work", f"the {kind} does not open to {words(setup.grips)}",
            "hold it in a larger chuck or by a smaller diameter", value=held, most=most, source=source,
        )  # fmt: skip
