"""Cutters of the cross features: solids that are taken off a turned part."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCylinder
from OCP.gp import gp_Ax1, gp_Ax2, gp_Dir, gp_Pnt, gp_Trsf
from OCP.TopoDS import TopoDS_Shape

from generator.description import Cross, Edge, Outline, Part
from generator.errors import GeometryError

__all__ = ["cutters", "flat_height_mm"]

_NEAR_MM = 1e-6
_NO_ANGLE_DEG = 1e-9
"""Below this the kernel is given no rotation: one by next to nothing makes it lose the cut without a word."""


def cutters(part: Part, cross: Cross, found: Outline) -> Iterator[TopoDS_Shape]:
    """Solids that take one cross feature off, well clear of the part wherever they leave it."""
    start, end = sorted((found.z_of[cross.near], found.z_of[cross.far]))
    clear = 2.0 * max(edge_reach for edge in found.outer for edge_reach in (edge.r0, edge.r1)) + 1.0
    if cross.kind == "hole":
        yield _hole_cutter(part, cross, (start + end) / 2, found, clear)
        return
    if cross.kind == "slot":
        yield _slot_cutter(part, cross, start, end, found)
        return
    height = flat_height_mm(part, cross)
    _refuse_no_cut(part, cross, height, _largest_radius(found.outer, start, end))
    if start <= found.near_z + _NEAR_MM:
        start = found.near_z - clear
    if end >= found.far_z - _NEAR_MM:
        end = found.far_z + clear
    upper = BRepPrimAPI_MakeBox(gp_Pnt(start, -clear, height), gp_Pnt(end, clear, clear)).Shape()
    yield _rolled(upper, cross.angle_deg)
    if cross.kind != "half":
        yield _rolled(upper, cross.angle_deg + 180.0)


def _slot_cutter(part: Part, cross: Cross, start: float, end: float, found: Outline) -> TopoDS_Shape:
    half, reach = cross.sizes["width"].nominal_mm / 2, _largest_radius(found.outer, start, end)
    if not 0.0 < half < reach:
        message = f"{part.name}/{cross.name}: a slot of {2 * half:.3f} mm in a diameter of {2 * reach:.3f} mm"
        raise GeometryError(message)
    clear = 2.0 * reach + 1.0
    gap = BRepPrimAPI_MakeBox(gp_Pnt(start - clear, -half, 0.0), gp_Pnt(end + clear, half, clear)).Shape()
    return _rolled(gap, cross.angle_deg)


def _hole_cutter(part: Part, cross: Cross, middle: float, found: Outline, clear: float) -> TopoDS_Shape:
    radius = cross.sizes["diameter"].nominal_mm / 2
    reach = _largest_radius(found.outer, middle - radius, middle + radius)
    if not 0.0 < radius < reach:
        message = f"{part.name}/{cross.name}: a cross hole of {2 * radius:.3f} mm in a diameter of {2 * reach:.3f} mm"
        raise GeometryError(message)
    standing = gp_Ax2(gp_Pnt(middle, 0.0, -clear), gp_Dir(0.0, 0.0, 1.0))
    return _rolled(BRepPrimAPI_MakeCylinder(standing, radius, 2.0 * clear).Shape(), cross.angle_deg)


def flat_height_mm(part: Part, cross: Cross) -> float:
    """Distance of a flat from the axis in mm, upwards."""
    if cross.kind in ("flats", "tang"):
        return cross.sizes["across"].nominal_mm / 2
    if cross.kind == "half":
        return cross.sizes["height"].nominal_mm
    kinds = "flats, tang, half, slot, hole"
    message = f"{part.name}/{cross.name}: no cross feature of kind {cross.kind}; there are {kinds}"
    raise GeometryError(message)


def _refuse_no_cut(part: Part, cross: Cross, height: float, reach: float) -> None:
    lowest = -reach if cross.kind == "half" else 0.0
    if not lowest < height < reach:
        message = (
            f"{part.name}/{cross.name}: a flat {height:.3f} mm from the axis takes nothing off, or everything, where "
            f"the part's radius is {reach:.3f} mm"
        )
        raise GeometryError(message)


def _largest_radius(edges: Iterable[Edge], start: float, end: float) -> float:
    """Largest outside radius between two positions."""
    largest = 0.0
    for edge in edges:
        low, high = max(start, edge.z0), min(end, edge.z1)
        if edge.is_face or high - low < _NEAR_MM:
            continue
        slope = (edge.r1 - edge.r0) / (edge.z1 - edge.z0)
        largest = max(largest, edge.r0 + slope * (low - edge.z0), edge.r0 + slope * (high - edge.z0))
    return largest


def _rolled(shape: TopoDS_Shape, angle_deg: float) -> TopoDS_Shape:
    """The shape turned about the axis by a right-hand angle."""
    if abs(angle_deg) < _NO_ANGLE_DEG:
        return shape
    roll = gp_Trsf()
    roll.SetRotation(gp_Ax1(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(1.0, 0.0, 0.0)), math.radians(angle_deg))
    return BRepBuilderAPI_Transform(shape, roll, False).Shape()
