"""One part's solid: its meridian turned about the axis, all cross features taken off in one cut.

The part's own z runs along x of the solid; y points to the operator's side and z up, so that a look along +y shows the
same view as the sheet. Threads stay plain cylinders and balls are left out. Nominal sizes throughout.
"""

from __future__ import annotations

from itertools import pairwise

from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakeRevol
from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt
from OCP.GProp import GProp_GProps
from OCP.Standard import Standard_Failure
from OCP.TopAbs import TopAbs_SOLID
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Shape, TopoDS_Solid
from OCP.TopTools import TopTools_ListOfShape

from generator.description import Part, outline, polygon, volume_mm3
from generator.errors import GeometryError
from generator.solid.cross import cutters
from generator.solid.faces import named_faces, nearest_edge

__all__ = ["solid_of", "volume_of_mm3"]

_NEAR_MM = 1e-6
_VOLUME_SHARE = 1e-6
"""Largest share by which the turned solid's volume may differ from the description's."""

_INTEGRATION_SHARE = 1e-7
"""Largest share of error asked of the kernel's integration over each face; what it reaches is far smaller."""


def solid_of(part: Part) -> TopoDS_Solid:
    """The valid solid of a part at nominal size.

    Raises GeometryError with the part's name if the description gives no valid single piece, or if a cross feature
    takes nothing off.
    """
    try:
        turned = _turned(part)
        if not part.cross:
            return turned
        return _crossed(part, turned)
    except Standard_Failure as failure:
        message = f"{part.name}: the solid cannot be made ({type(failure).__name__}: {failure})"
        raise GeometryError(message) from failure


def volume_of_mm3(solid: TopoDS_Shape) -> float:
    """Volume of a solid in mm3, from its exact surfaces."""
    properties = GProp_GProps()
    # Adaptive integration: the kernel's plain one is wrong in the sixth digit where a face is trimmed by a cross hole.
    BRepGProp.VolumeProperties_s(solid, properties, _INTEGRATION_SHARE)
    return float(properties.Mass())


def _turned(part: Part) -> TopoDS_Solid:
    """The meridian turned about the axis, checked against the volume of the description."""
    wire = BRepBuilderAPI_MakePolygon()
    for z, r in _split_at_zones(part):
        wire.Add(gp_Pnt(z, r, 0.0))
    wire.Close()
    face = BRepBuilderAPI_MakeFace(wire.Wire(), True).Face()
    if not BRepCheck_Analyzer(face).IsValid():
        message = f"{part.name}: outside and bore cross each other"
        raise GeometryError(message)
    shape = BRepPrimAPI_MakeRevol(face, gp_Ax1(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(1.0, 0.0, 0.0))).Shape()
    solid = _single_piece(part, shape)
    described, found = volume_mm3(part), volume_of_mm3(solid)
    if abs(found - described) > _VOLUME_SHARE * described:
        message = f"{part.name}: the solid holds {found:.6g} mm3, the description {described:.6g} mm3"
        raise GeometryError(message)
    return solid


def _split_at_zones(part: Part) -> list[tuple[float, float]]:
    """Corners of the meridian with one more wherever a zone begins or ends, so that a zone gets faces of its own."""
    corners = polygon(part)
    if not part.zones:
        return list(corners)
    found = outline(part)
    split: list[tuple[float, float]] = []
    for start, end in pairwise([*corners, corners[0]]):
        split.append(start)
        if start[1] == end[1] == 0.0:
            continue
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        name = nearest_edge(found, *middle).name
        limits = {found.z_of[face] for zone in part.zones if zone.surface == name for face in (zone.near, zone.far)}
        for z in sorted(limits, reverse=end[0] < start[0]):
            if min(start[0], end[0]) + _NEAR_MM < z < max(start[0], end[0]) - _NEAR_MM:
                share = (z - start[0]) / (end[0] - start[0])
                split.append((z, start[1] + share * (end[1] - start[1])))
    return split


def _single_piece(part: Part, shape: TopoDS_Shape) -> TopoDS_Solid:
    """The one valid solid in a shape."""
    pieces = []
    found = TopExp_Explorer(shape, TopAbs_SOLID)
    while found.More():
        pieces.append(TopoDS.Solid_s(found.Current()))
        found.Next()
    if len(pieces) != 1:
        fate = "falls into separate pieces" if pieces else "has no material left"
        message = f"{part.name}: the part {fate}; look at its cross features"
        raise GeometryError(message)
    if not BRepCheck_Analyzer(pieces[0]).IsValid():
        message = f"{part.name}: the faces of the solid do not close"
        raise GeometryError(message)
    return pieces[0]


def _crossed(part: Part, turned: TopoDS_Solid) -> TopoDS_Solid:
    """The solid with every cross feature taken off in one cut, which costs less than one after the other."""
    found = outline(part)
    arguments, tools = TopTools_ListOfShape(), TopTools_ListOfShape()
    arguments.Append(turned)
    for cross in part.cross:
        for tool in cutters(part, cross, found):
            tools.Append(tool)
    cut = BRepAlgoAPI_Cut()
    cut.SetArguments(arguments)
    cut.SetTools(tools)
    cut.Build()
    if not cut.IsDone():
        message = f"{part.name}: {', '.join(cross.name for cross in part.cross)} cannot be cut"
        raise GeometryError(message)
    solid = _single_piece(part, cut.Shape())
    _refuse_lost_cut(part, solid)
    return solid


def _refuse_lost_cut(part: Part, solid: TopoDS_Solid) -> None:
    """The kernel can fail to cut without saying so: every cross feature must have left a face."""
    left = {found.name for found in named_faces(part, solid)}
    lost = [cross.name for cross in part.cross if cross.name not in left]
    if lost:
        message = f"{part.name}: {', '.join(lost)} leaves no face of its own; it is lost in another feature or not cut"
        raise GeometryError(message)
