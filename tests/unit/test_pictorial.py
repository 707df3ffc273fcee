"""Pictorial views against the hidden-line removal of the solid kernel, which shares no line of code with ours.

The kernel (Open CASCADE) projects the solids that the STEP files hold; every edge it sees must be drawn and every edge
drawn must be seen, within 0.1 mm at full size.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepLib import BRepLib
from OCP.GCPnts import GCPnts_UniformAbscissa
from OCP.gp import gp_Ax1, gp_Ax2, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape
from OCP.TopAbs import TopAbs_EDGE
from OCP.TopExp import TopExp_Explorer
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS
from shapely import STRtree
from shapely.geometry import LineString, MultiLineString

from generator.description import Part, PartDraft, Tool, nominal_positions
from generator.drawing.exploded import Joining, exploded
from generator.drawing.pictorial import Picture, on_paper, picture_of
from generator.drawing.pictorial_bodies import bodies_of, seals_of
from generator.drawing.pictorial_edges import Arc
from generator.drawing.pictorial_sight import are_seen
from generator.making.assembly import assembly_moves
from generator.solid.build import solid_of
from tests.sample import sample_tool, size

CLOSE_MM = 0.1
FINE = 1e4  # A scale so large that no chamfer is left out.


def kernel_lines(parts: Sequence[tuple[Part, float, bool]]) -> MultiLineString:
    """Visible edges and outlines by the kernel; each part stands at a place, turned round or not."""
    view = HLRBRep_Algo()
    for part, place, flipped in parts:
        move = gp_Trsf()
        if flipped:
            move.SetRotation(gp_Ax1(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(0.0, 0.0, 1.0)), math.pi)
        move.SetTranslationPart(gp_Vec(place, 0.0, 0.0))
        view.Add(solid_of(part).Moved(TopLoc_Location(move)), 0)
    view.Projector(HLRAlgo_Projector(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(1, -1, 1), gp_Dir(1, 1, 0))))
    view.Update()
    view.Hide()
    shapes = HLRBRep_HLRToShape(view)
    lines = []
    for compound in (shapes.VCompound(), shapes.OutLineVCompound()):
        if compound is None or compound.IsNull():
            continue
        BRepLib.BuildCurves3d_s(compound)
        found = TopExp_Explorer(compound, TopAbs_EDGE)
        while found.More():
            curve = BRepAdaptor_Curve(TopoDS.Edge_s(found.Current()))
            steps = GCPnts_UniformAbscissa(curve, 0.5)
            marks = [steps.Parameter(k) for k in range(1, steps.NbPoints() + 1)] if steps.IsDone() else []
            ends = sorted({curve.FirstParameter(), *marks, curve.LastParameter()})
            points = [curve.Value(t) for t in ends]
            lines.append(LineString([(p.X(), p.Y()) for p in points]))
            found.Next()
    return MultiLineString(lines)


def own_lines(picture: Picture) -> MultiLineString:
    lines = []
    for edge in picture.edges:
        if isinstance(edge, Arc):
            count = max(2, math.ceil((edge.end - edge.start) * edge.radius / 0.5))
            angles = [edge.start + k / count * (edge.end - edge.start) for k in range(count + 1)]
            points = [(edge.z, edge.radius * math.cos(a), edge.radius * math.sin(a)) for a in angles]
        else:
            points = list(edge.points)
        lines.append(LineString([on_paper(point) for point in points]))
    return MultiLineString(lines)


def strays(lines: MultiLineString, others: MultiLineString) -> list[str]:
    """Points of some lines, 0.2 mm apart, that are farther than allowed from all others."""
    tree = STRtree(list(others.geoms))
    found = []
    for line in lines.geoms:
        count = max(1, math.ceil(line.length / 0.2))
        for k in range(count + 1):
            point = line.interpolate(k / count, normalized=True)
            if not len(tree.query(point, predicate="dwithin", distance=CLOSE_MM)):
                found.append(f"({point.x:.2f}, {point.y:.2f})")
    return found


def part_with(kind: str, angle_deg: float, **sizes: float) -> Part:
    """A stepped part with a cone, a bore and one cross feature over a step."""
    draft = PartDraft("piece", "Piece", "back", material="C45")
    draft.length("a", "step", "back", 1, size(20.0))
    draft.length("b", "base", "step", 1, size(18.0))
    draft.length("c", "front", "base", 1, size(16.0))
    draft.length("d", "mark_near", "back", 1, size(sizes.pop("near")))
    draft.length("e", "mark_far", "back", 1, size(sizes.pop("far")))
    draft.length("f", "floor", "front", -1, size(9.0))
    draft.cylinder("foot", "outside", "back", "step", size(30.0))
    draft.cylinder("neck", "outside", "step", "base", size(22.0))
    draft.cone("nose", "outside", "base", "front", size(22.0), "base", -12.0)
    draft.cylinder("bore", "inside", "floor", "front", size(9.0))
    draft.crossing("feature", kind, "mark_near", "mark_far", angle_deg=angle_deg,
                   **{name: size(value) for name, value in sizes.items()})
    return draft.done()


def open_ring(angle_deg: float, width_mm: float) -> Part:
    """A ring with a gap, as a clip has one."""
    draft = PartDraft("ring", "Ring", "back", bought="ring")
    draft.length("thickness", "front", "back", 1, size(3.0))
    draft.cylinder("outside", "outside", "back", "front", size(30.0))
    draft.cylinder("inside", "inside", "back", "front", size(24.0))
    draft.crossing("feature", "slot", "back", "front", angle_deg=angle_deg, width=size(width_mm))
    return draft.done()


PIECES = {
    "ring open towards the eye": open_ring(60.0, 8.0),
    "ring open below": open_ring(170.0, 3.0),
    "ring open behind": open_ring(-110.0, 12.0),
    "flats level": part_with("flats", 0.0, near=8.0, far=28.0, across=20.0),
    "flats turned": part_with("flats", 35.0, near=8.0, far=28.0, across=20.0),
    "tang at the end": part_with("tang", 0.0, near=0.0, far=12.0, across=9.0),
    "half": part_with("half", 0.0, near=38.0, far=54.0, height=5.0),
    "half below the axis": part_with("half", 20.0, near=30.0, far=54.0, height=-2.0),
    "hole upright": part_with("hole", 0.0, near=25.0, far=31.0, diameter=6.0),
    "hole slanting": part_with("hole", 65.0, near=6.0, far=14.0, diameter=8.0),
    "hole in the cone": part_with("hole", 0.0, near=39.0, far=44.0, diameter=5.0),
}


def alone(part: Part, *flipped: str) -> Tool:
    return Tool("piece", "Piece", part.name, {part.name: part}, (), flipped=frozenset(flipped))


@pytest.mark.parametrize("name", list(PIECES))
@pytest.mark.parametrize("flipped", [False, True])
def test_a_part_is_seen_as_the_kernel_sees_it(name: str, flipped: bool) -> None:
    part = PIECES[name]
    tool = alone(part, *([part.name] if flipped else []))
    own = own_lines(picture_of(bodies_of(tool), FINE))
    kernel = kernel_lines([(part, 0.0, flipped)])
    assert strays(own, kernel) == []
    assert strays(kernel, own) == []


def test_a_whole_tool_is_seen_as_the_kernel_sees_it() -> None:
    tool = sample_tool()
    places = nominal_positions(tool)
    parts = [p for p in tool.parts.values() if not p.neighbour]
    own = own_lines(picture_of(bodies_of(tool), FINE))
    kernel = kernel_lines([(p, places[f"{p.name}/{p.origin_face}"], p.name in tool.flipped) for p in parts])
    assert strays(own, kernel) == []
    assert strays(kernel, own) == []


def test_a_tool_pulled_apart_is_seen_as_the_kernel_sees_it() -> None:
    tool = sample_tool()
    places = nominal_positions(tool)
    steps = [Joining(m.pieces, m.title, m.into, m.side, m.contacts) for m in assembly_moves(tool)]
    whole = bodies_of(tool)
    apart = exploded(tool, whole, steps)
    parts = []
    for before, after in zip(whole, apart, strict=True):
        part = tool.parts[before.name]
        at = places[f"{part.name}/{part.origin_face}"] + after.near_z - before.near_z
        parts.append((part, at, part.name in tool.flipped))
    own = own_lines(picture_of(apart, FINE))
    kernel = kernel_lines(parts)
    assert strays(own, kernel) == []
    assert strays(kernel, own) == []


def test_small_chamfers_are_left_sharp_and_larger_ones_shown() -> None:
    draft = PartDraft("disc", "Disc", "back", material="C45")
    draft.length("width", "front", "back", 1, size(10.0))
    end = draft.chamfer("edge", "outside", "front", -1, size(20.0), size(0.5))
    draft.cylinder("rim", "outside", "back", end, size(20.0))
    tool = alone(draft.done())
    # At full size a chamfer of 0.5 would be two lines 0.4 mm apart; five times as large it is 2.5 mm on paper.
    radii = [sorted({e.radius for e in picture_of(bodies_of(tool), s).edges if isinstance(e, Arc)}) for s in (1.0, 5.0)]
    assert radii == [[10.0], [9.5, 10.0]]


def test_a_sealed_bearing_cannot_be_looked_through() -> None:
    tool = sample_tool()
    rings = [body for body in bodies_of(tool) if body.name.startswith("ring_")]
    seals = seals_of(tool, rings)
    assert len(seals) == 1
    behind = (min(body.near_z for body in rings) - 2.0, 13.0, 0.0)
    middle = (max(body.far_z for body in rings) + 1.0, 13.0, 0.0)
    assert are_seen([behind, middle], [*rings, *seals]) == [False, True]
