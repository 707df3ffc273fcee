"""What may bear on a bearing's inner ring: how large a face must be, how large it may be, and the size between them."""

from __future__ import annotations

from generator import tables
from generator.description import Size
from generator.fittings.sizes import general, round_down, round_up, within
from generator.tables.loader import load

__all__ = ["CHAMFER_ROOM_MM", "RUB_MM", "chamfer_top_mm", "face_from_mm", "face_size", "shoulder_mm"]

CHAMFER_ROOM_MM = 1.0
"""How much larger than its least a ring's chamfer may turn out, on the diameter. From memory of ISO 582."""
RUB_MM = 0.1
"""Air, on the diameter, that a face keeps below the likely land of the inner ring. Shop choice."""
_CLOSE_MM = (0.1, 0.05)


def face_from_mm(ring: tables.Ring) -> float:
    """Where the face of the inner ring begins, beyond a chamfer of the least size."""
    return ring.bore_mm + 2 * ring.chamfer_mm


def chamfer_top_mm(ring: tables.Ring) -> float:
    """Where the face of the inner ring begins at the latest: beyond the largest chamfer."""
    return face_from_mm(ring) + CHAMFER_ROOM_MM


def shoulder_mm(ring: tables.Ring) -> float:
    """The least diameter that a shoulder of the shaft should have.

    Source: bearing catalogue, table rings; by the chamfer where the ring is not in it (table ring_shoulders).
    """
    if ring.shaft_shoulder_mm is not None:
        return ring.shaft_shoulder_mm
    rows = load("ring_shoulders").rows
    heights = [row.number("shoulder_min_mm") for row in rows if row.number("chamfer_mm") >= ring.chamfer_mm - 1e-9]
    return ring.bore_mm + 2 * heights[0] if heights else chamfer_top_mm(ring)


def face_size(ring: tables.Ring, origin: str) -> Size:
    """The outside of a spacer, washer, nut or shim that bears on the inner ring.

    At least the shoulder and below the least land where both can be had, with limits as wide as there is room for; else
    at least the shoulder and below the likely land; else below the land, and the check says what is wrong with it.
    """
    least, low, likely = shoulder_mm(ring), ring.inner_land_min_mm, ring.inner_land_mm
    usual = general(round_down(low - 0.5, 0.1), origin)
    if usual.low >= least:
        return usual
    for reach in _CLOSE_MM:
        nominal = round_down(low - 0.05, 0.05)
        if nominal - reach >= least:
            return within(nominal, 0.0, -reach, origin)
    reach = _CLOSE_MM[-1]
    nominal = round_up(least + reach, 0.05)
    if nominal > likely - RUB_MM:
        nominal = round_down(low - RUB_MM, 0.05)
        if nominal - reach < chamfer_top_mm(ring):
            nominal = round_down(likely - RUB_MM, 0.05)
    return within(nominal, 0.0, -reach, origin)
