"""Threads, cap screws, keys, washers and circlips."""

from __future__ import annotations

import re
from dataclasses import dataclass

from generator.errors import TableError
from generator.tables.loader import Row, load, nearest

__all__ = [
    "CapScrew", "Circlip", "HexKey", "Thread", "Washer",
    "cap_screw", "cap_screw_lengths", "circlip_inside", "circlip_outside", "hex_key", "plain_washer", "thread",
]


@dataclass(frozen=True, slots=True)
class Thread:
    """Basic sizes of a screw thread."""

    name: str
    series: str
    major_mm: float
    pitch_mm: float
    pitch_diameter_mm: float
    minor_internal_mm: float
    root_mm: float
    stress_area_mm2: float
    tap_drill_mm: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class CapScrew:
    """Hexagon socket head cap screw."""

    thread: str
    head_diameter_max_mm: float
    head_diameter_knurled_mm: float
    head_height_mm: float
    key_mm: float
    socket_depth_min_mm: float
    thread_length_mm: float
    lengths_mm: tuple[float, ...]
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class HexKey:
    """Hexagon key; the long arm in standard and in long execution where one is listed."""

    size_mm: float
    short_arm_mm: float
    long_arm_mm: float
    long_arm_long_mm: float | None
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class Washer:
    """Plain washer."""

    size: str
    series: str
    inside_mm: float
    outside_mm: float
    thickness_mm: float
    thickness_min_mm: float
    thickness_max_mm: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class Circlip:
    """Circlip and its groove; groove deviations are signed."""

    size_mm: float
    groove_diameter_mm: float
    groove_upper_mm: float
    groove_lower_mm: float
    groove_width_mm: float
    thickness_mm: float
    free_diameter_mm: float
    lug_height_mm: float
    radial_width_mm: float
    edge_margin_mm: float
    source: str
    confidence: str


def thread(name: str) -> Thread:
    """The thread of this name: "M6", "M12x1.5", "1/4-20 UNC"; a coarse pitch may be spelled out.

    >>> thread("M12 x 1.5").tap_drill_mm
    10.5

    Raises: TableError, with the nearest known names.
    Source: ISO 261, ISO 724, ASME B1.1; see the row.
    """
    wanted = _folded(name)
    rows = load("threads").rows
    for row in rows:
        if wanted in _spellings(row):
            return _thread_of(row)
    close = nearest(name.upper(), [row.text("thread") for row in rows])
    message = f"no thread {name[:30]!r} is known; nearest known: {close}"
    raise TableError(message)


def cap_screw(thread_name: str) -> CapScrew:
    """The cap screw with this thread.

    Raises: TableError for a thread without one.
    Source: ISO 4762; see the row.
    """
    row = load("cap_screws").find(_size(thread_name))
    return CapScrew(
        thread=row.text("thread"),
        head_diameter_max_mm=row.number("head_diameter_max_mm"),
        head_diameter_knurled_mm=row.number("knurled_head_max_mm"),
        head_height_mm=row.number("head_height_mm"),
        key_mm=row.number("key_mm"),
        socket_depth_min_mm=row.number("socket_depth_min_mm"),
        thread_length_mm=row.number("thread_length_mm"),
        lengths_mm=cap_screw_lengths(),
        source=row.source,
        confidence=row.confidence,
    )


def cap_screw_lengths() -> tuple[float, ...]:
    """The usual lengths in mm in which cap screws are stocked.

    Source: ISO 4762, from memory.
    """
    return tuple(row.number("length_mm") for row in load("cap_screw_lengths").rows)


def hex_key(size_mm: float) -> HexKey:
    """The hexagon key of this size across flats.

    Raises: TableError, with the sizes known.
    Source: ISO 2936, present edition; see the row.
    """
    row = load("hex_keys").find(size_mm)
    return HexKey(
        size_mm=size_mm,
        short_arm_mm=row.number("short_arm_mm"),
        long_arm_mm=row.number("long_arm_mm"),
        long_arm_long_mm=row.maybe("long_arm_long_mm"),
        source=row.source,
        confidence=row.confidence,
    )


def plain_washer(size: str, series: str = "ISO 7089") -> Washer:
    """The plain washer for a screw, "M6"; series ISO 7089, or ISO 7093 for large ones.

    Raises: TableError, with the sizes known.
    Source: ISO 7089, ISO 7093; see the row.
    """
    row = load("washers").find(_size(size), series)
    return Washer(
        size=row.text("size"),
        series=series,
        inside_mm=row.number("inside_min_mm"),
        outside_mm=row.number("outside_max_mm"),
        thickness_mm=row.number("thickness_mm"),
        thickness_min_mm=row.number("thickness_min_mm"),
        thickness_max_mm=row.number("thickness_max_mm"),
        source=row.source,
        confidence=row.confidence,
    )


def circlip_outside(shaft_mm: float) -> Circlip:
    """The external circlip for a shaft.

    Raises: TableError, with the sizes known.
    Source: DIN 471; see the row.
    """
    return _circlip("circlips_outside", shaft_mm)


def circlip_inside(bore_mm: float) -> Circlip:
    """The internal circlip for a bore.

    Raises: TableError, with the sizes known.
    Source: DIN 472; see the row.
    """
    return _circlip("circlips_inside", bore_mm)


def _circlip(name: str, size_mm: float) -> Circlip:
    rows = load(name).rows
    row = next((r for r in rows if r.number("size_mm") == size_mm), None)
    if row is None:
        close = sorted(rows, key=lambda r: abs(r.number("size_mm") - size_mm))[:4]
        known = ", ".join(f"{r.number('size_mm'):g}" for r in sorted(close, key=lambda r: r.number("size_mm")))
        message = f"table {name} has no size {size_mm:g} mm; nearest known: {known}"
        raise TableError(message)
    return Circlip(
        size_mm=size_mm,
        groove_diameter_mm=row.number("groove_diameter_mm"),
        groove_upper_mm=row.number("groove_upper_mm"),
        groove_lower_mm=row.number("groove_lower_mm"),
        groove_width_mm=row.number("groove_width_mm"),
        thickness_mm=row.number("thickness_mm"),
        free_diameter_mm=row.number("free_diameter_mm"),
        lug_height_mm=row.number("lug_height_mm"),
        radial_width_mm=row.number("radial_width_mm"),
        edge_margin_mm=row.number("edge_margin_mm"),
        source=row.source,
        confidence=row.confidence,
    )


def _thread_of(row: Row) -> Thread:
    return Thread(
        name=row.text("thread"),
        series=row.text("series"),
        major_mm=row.number("major_mm"),
        pitch_mm=row.number("pitch_mm"),
        pitch_diameter_mm=row.number("pitch_diameter_mm"),
        minor_internal_mm=row.number("minor_internal_mm"),
        root_mm=row.number("root_mm"),
        stress_area_mm2=row.number("stress_area_mm2"),
        tap_drill_mm=row.number("tap_drill_mm"),
        source=row.source,
        confidence=row.confidence,
    )


def _spellings(row: Row) -> tuple[str, ...]:
    name = _folded(row.text("thread"))
    if row.text("series") == "metric coarse":
        return name, f"{name}x{row.number('pitch_mm'):g}"
    return (name, re.sub(r"un[cf]$", "", name)) if name.endswith(("unc", "unf")) else (name,)


def _folded(name: str) -> str:
    return re.sub(r"[\s_]+", "", name).casefold().replace("×", "x")


def _size(name: str) -> str:
    folded = _folded(name).upper()
    return folded if folded.startswith("M") else folded[:20]
