"""Morse tapers and drill-chuck tapers."""

from __future__ import annotations

from dataclasses import dataclass

from generator.errors import TableError
from generator.tables.loader import load

__all__ = ["ChuckTaper", "MorseTaper", "chuck_taper", "morse"]


@dataclass(frozen=True, slots=True)
class MorseTaper:
    """One Morse size: shank and socket, ISO 296. Lengths count from the gauge plane towards the small end."""

    number: int
    gauge_diameter_mm: float
    ratio: float
    half_angle_deg: float
    stand_off_max_mm: float
    large_end_mm: float
    plain_length_mm: float
    small_end_mm: float
    tang_total_mm: float
    tang_small_end_mm: float
    tang_diameter_mm: float
    tang_thickness_mm: float
    tang_flat_mm: float
    tang_runout_mm: float
    tang_radius_mm: float
    drawbar_thread: str | None
    drawbar_depth_mm: float | None
    drawbar_clearance_mm: float | None
    socket_depth_mm: float
    socket_small_bore_mm: float
    slot_start_mm: float
    slot_width_mm: float
    slot_length_mm: float
    socket_gap_mm: float
    low_confidence: tuple[str, ...]
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class ChuckTaper:
    """One drill-chuck taper, Jacobs or DIN 238 B."""

    name: str
    large_end_mm: float
    small_end_mm: float
    length_mm: float
    ratio: float
    half_angle_deg: float
    source: str
    confidence: str


def morse(number: int) -> MorseTaper:
    """The Morse taper of this number, 0 to 6.

    Raises: TableError outside 0 to 6.
    Source: ISO 296, from memory; see the row.
    """
    if isinstance(number, bool) or number not in range(7):
        message = f"Morse tapers are numbered 0 to 6, not {number}"
        raise TableError(message)
    row = load("morse").find(f"MT{int(number)}")
    return MorseTaper(
        number=int(number),
        gauge_diameter_mm=row.number("gauge_diameter_mm"),
        ratio=row.number("taper_ratio"),
        half_angle_deg=row.number("half_angle_deg"),
        stand_off_max_mm=row.number("stand_off_max_mm"),
        large_end_mm=row.number("large_end_mm"),
        plain_length_mm=row.number("plain_length_mm"),
        small_end_mm=row.number("small_end_mm"),
        tang_total_mm=row.number("tang_total_mm"),
        tang_small_end_mm=row.number("tang_small_end_mm"),
        tang_diameter_mm=row.number("tang_diameter_mm"),
        tang_thickness_mm=row.number("tang_thickness_mm"),
        tang_flat_mm=row.number("tang_flat_mm"),
        tang_runout_mm=row.number("tang_runout_mm"),
        tang_radius_mm=row.number("tang_radius_mm"),
        drawbar_thread=row.text("drawbar_thread") or None,
        drawbar_depth_mm=row.maybe("drawbar_depth_mm"),
        drawbar_clearance_mm=row.maybe("drawbar_clearance_mm"),
        socket_depth_mm=row.number("socket_depth_mm"),
        socket_small_bore_mm=row.number("socket_small_bore_mm"),
        slot_start_mm=row.number("slot_start_mm"),
        slot_width_mm=row.number("slot_width_mm"),
        slot_length_mm=row.number("slot_length_mm"),
        socket_gap_mm=row.number("socket_gap_mm"),
        low_confidence=tuple(row.text("low_confidence").split()),
        source=row.source,
        confidence=row.confidence,
    )


def chuck_taper(name: str) -> ChuckTaper:
    """The drill-chuck taper of this name, such as "J33" or "B16".

    Raises: TableError for an unknown name.
    Source: ISO 239, DIN 238; see the row.
    """
    row = load("chuck_tapers").find(_plain(name))
    return ChuckTaper(
        name=row.text("taper"),
        large_end_mm=row.number("large_end_mm"),
        small_end_mm=row.number("small_end_mm"),
        length_mm=row.number("length_mm"),
        ratio=row.number("taper_ratio"),
        half_angle_deg=row.number("half_angle_deg"),
        source=row.source,
        confidence=row.confidence,
    )


def _plain(name: str) -> str:
    folded = name.upper().replace(" ", "")
    return f"J{folded[2:]}" if folded.startswith("JT") else folded
