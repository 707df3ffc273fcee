"""A thread in a ring: by the tap that lies in the drawer, else screw-cut right through with room to run out."""

from __future__ import annotations

from collections.abc import Iterator

from generator import tables
from generator.description import Surface, Zone
from generator.errors import TableError
from generator.making.route.ledger import Workpiece
from generator.making.route.words import plain
from generator.making.setups import Step
from generator.making.workshop import Workshop

__all__ = ["cored", "is_tapped", "threaded"]

_LEAST_CORE_MM = 8.0
"""Core that an inside threading tool, ground from an HSS bit, enters. Common practice, no source."""
_RUN_OUT_PITCHES, _OVER_MM = 2.0, 0.3
"""Width of the run-out behind a ring, and what it is wider than the thread. Common practice, no source."""
_PARTED_MM = 0.3
"""Left by parting off, ahead of the run-out. Common practice, no source."""
_BORED_MM = 1.0
"""Least that is left for boring the core. Common practice, no source."""


def is_tapped(zone: Zone, core_mm: float, shop: Workshop) -> bool:
    """True where a tap of this thread lies in the drawer, or no tool enters its core to cut it.

    Source: common practice, no source.
    """
    return _name(zone) in shop.taps or core_mm < _LEAST_CORE_MM


def _name(zone: Zone) -> str:
    return zone.text.split("-")[0].strip()


def _run_out(zone: Zone, core_mm: float) -> tuple[float, float]:
    """Diameter and width of the run-out behind a ring."""
    try:
        found = tables.thread(_name(zone))
    except TableError:
        return core_mm + 2.5, 3.0
    return found.major_mm + _OVER_MM, max(_RUN_OUT_PITCHES * found.pitch_mm, 2.0)


def cored(piece: Workpiece, core: Surface, zone: Zone, first: str, shop: Workshop) -> Iterator[Step]:
    """The hole of a thread that is screw-cut: drilled, bored to the core past the rear, a run-out opened behind it.

    The parting blade takes the run-out away.
    Source: common practice, no source.
    """
    size, long_mm = core.diameter.nominal_mm, piece.length_mm
    wide, run_mm = _run_out(zone, size)
    deep = long_mm + _PARTED_MM + run_mm
    drills = [one for one in shop.drills if one.diameter_mm <= size - _BORED_MM]
    drill = max(drills, key=lambda one: one.diameter_mm, default=None)
    if drill is not None:
        yield Step("centre, then drill past the rear", f"dia {drill.diameter_mm:g} mm, {deep + 1.0:.0f} mm deep", "",
                   (), "drill", "", drill.diameter_mm, deep + 1.0)  # fmt: skip
    yield piece.cut("bore", f"bore to the core of the thread, {deep:.1f} mm deep", core,
                    also=f"dia {size:g} mm, for the thread", length_mm=deep)  # fmt: skip
    yield Step(
        "open a run-out behind the rear: the parting blade takes it away",
        f"dia {wide:g} mm, {run_mm:.1f} mm wide, from {long_mm + _PARTED_MM:.1f} mm behind the {plain(first)}", "", (),
        "bore", f"{piece.part.name}/{core.name}", wide, deep,
    )  # fmt: skip


def threaded(piece: Workpiece, zone: Zone, *, tapped: bool) -> Step:
    """The thread itself.

    Source: common practice, no source.
    """
    if tapped:
        return piece.cut("tap", "tap it, started true in the tailstock", zones=[zone])
    return piece.cut(
        "thread", "screw-cut the thread inside, out into the run-out: its mate is cut to it", zones=[zone],
        tool="inside threading tool, 60 degrees",
    )
