"""Ratings, factors and speed limits of rings."""

from __future__ import annotations

from dataclasses import dataclass

from generator.errors import TableError
from generator.tables.loader import Row, load, nearest
from generator.tables.own import OWN_SOURCE, own_ring
from generator.tables.rings import Ring, ring

__all__ = ["LoadFactor", "RingRating", "load_factors", "ring_rating"]

# A contact seal rubs: the share of the grease limit that it leaves. From memory; catalogues give 0.6 to 0.75.
CONTACT_SEAL_SHARE = 0.65


@dataclass(frozen=True, slots=True)
class RingRating:
    """What one maker states for a ring; None where it states nothing. Speed limits are for the ring as built."""

    designation: str
    maker: str
    dynamic_n: float
    static_n: float
    f0: float | None
    e: float | None
    x: float | None
    y: float | None
    y0: float | None
    grease_rpm: float | None
    oil_rpm: float | None
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class LoadFactor:
    """One step of the ISO 281 table: e and Y at a relative axial load f0 Fa / C0."""

    load_ratio: float
    e: float
    x: float
    y: float


def ring_rating(of: Ring | str, maker: str | None = None) -> RingRating:
    """The rating of a ring by a maker; without a maker the lowest static rating in the table.

    Factors and speed limits come from the first row that gives them. A contact seal lowers the grease limit.

    Raises: TableError where no rating is known.
    Source: bearing catalogues; see the row.
    """
    wanted = ring(of) if isinstance(of, str) else of
    own = own_ring(wanted.designation)
    if own is not None and own.static_n is not None and own.dynamic_n is not None:
        return RingRating(
            wanted.designation, "owner's figure", own.dynamic_n, own.static_n,
            *(None,) * 7, source=OWN_SOURCE, confidence="as given",
        )
    rows = [row for row in load("ring_ratings").rows if row.text("designation") == wanted.designation]
    if not rows:
        known = [row.text("designation") for row in load("ring_ratings").rows]
        message = f"no rating is known for {wanted.designation}; nearest known: {nearest(wanted.designation, known)}"
        raise TableError(message)
    chosen = min((row for row in rows if maker in (None, row.text("maker"))), key=_static, default=None)
    if chosen is None:
        makers = ", ".join(row.text("maker") for row in rows)
        message = f"no rating of {wanted.designation} by {maker!r} is known; makers: {makers}"
        raise TableError(message)
    grease_rpm = _first(rows, "grease_rpm")
    return RingRating(
        designation=wanted.designation,
        maker=chosen.text("maker"),
        dynamic_n=chosen.number("dynamic_kn") * 1000,
        static_n=chosen.number("static_kn") * 1000,
        f0=_first(rows, "f0_factor"),
        e=_first(rows, "e_factor"),
        x=_first(rows, "X_factor"),
        y=_first(rows, "Y_factor"),
        y0=_first(rows, "Y0_factor"),
        grease_rpm=grease_rpm * CONTACT_SEAL_SHARE if grease_rpm and wanted.sealed else grease_rpm,
        oil_rpm=None if wanted.sealed or wanted.shielded else _first(rows, "oil_rpm"),
        source=chosen.source,
        confidence=chosen.confidence,
    )


def load_factors(ring_type: str = "deep groove") -> tuple[LoadFactor, ...]:
    """The steps of e and Y for a type, "deep groove" or "angular contact 15 deg", rising; ISO 281 interpolates.

    Raises: TableError for another type.
    Source: ISO 281, as printed in a bearing catalogue; see the rows.
    """
    rows = [row for row in load("iso281_factors").rows if row.text("type") == ring_type]
    if not rows:
        message = f"no load factors for {ring_type!r}; known: deep groove, angular contact 15 deg"
        raise TableError(message)
    return tuple(
        LoadFactor(row.number("load_ratio"), row.number("e_factor"), row.number("X_factor"), row.number("Y_factor"))
        for row in rows
    )


def _static(row: Row) -> float:
    return row.number("static_kn")


def _first(rows: list[Row], column: str) -> float | None:
    return next((value for row in rows if (value := row.maybe(column)) is not None), None)
