"""Rings of the user's own, from the shop file: measured, in no published table. They serve wherever table rings do.

They serve within `with use_own_rings(...)` and nowhere else, each run of the program's work in its own set: whatever
works on a job (`generator.job.design`, `generator.make`) lays out the rings of that job's shop file.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
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


_NO_RINGS: Mapping[str, OwnRing] = {}
_OWN: ContextVar[Mapping[str, OwnRing]] = ContextVar("own_rings", default=_NO_RINGS)


@contextmanager
def use_own_rings(rings: Iterable[OwnRing]) -> Iterator[None]:
    """Let these rings serve within the block, and no others of an outer one."""
    before = _OWN.set({_folded(ring.name): ring for ring in rings})
    try:
        yield
    finally:
        _OWN.reset(before)


def own_ring(name: str) -> OwnRing | None:
    """The user's ring of this name, or None."""
    return _OWN.get().get(_folded(name))


def own_rows() -> tuple[Mapping[str, float | str | None], ...]:
    """The user's rings as rows for printing, with their source."""
    return tuple({**asdict(ring), "source": OWN_SOURCE, "confidence": "as measured"} for ring in _OWN.get().values())


def _folded(name: str) -> str:
    return name.strip().casefold()
