"""Rings of the user's own, from the shop file: measured, in no published table. They serve wherever table rings do.

One set for a process: the command line lays it out when it reads the shop file, and clears it when there is none.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass

__all__ = ["OwnRing", "own_ring", "own_rows", "use_own_rings"]

OWN_SOURCE = "own measurement (shop file)"


@dataclass(frozen=True, slots=True)
class OwnRing:
    """A ring as its owner measured it, in mm and N; None where nothing was measured or stamped on it."""

    name: str
    bore_mm: float
    outside_mm: float
    width_mm: float
    chamfer_mm: float | None = None
    inner_land_mm: float | None = None
    outer_land_mm: float | None = None
    dynamic_n: float | None = None
    static_n: float | None = None


_OWN: dict[str, OwnRing] = {}


def use_own_rings(rings: Iterable[OwnRing]) -> None:
    """Let these rings serve from now on, and no others of an earlier set."""
    _OWN.clear()
    _OWN.update({_folded(ring.name): ring for ring in rings})


def own_ring(name: str) -> OwnRing | None:
    """The user's ring of this name, or None."""
    return _OWN.get(_folded(name))


def own_rows() -> tuple[Mapping[str, float | str | None], ...]:
    """The user's rings as rows for printing, with their source."""
    return tuple({**asdict(ring), "source": OWN_SOURCE, "confidence": "as measured"} for ring in _OWN.values())


def _folded(name: str) -> str:
    return name.strip().casefold()
