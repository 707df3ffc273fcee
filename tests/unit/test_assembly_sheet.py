"""The assembly sheet read back: every piece shown once and clear of the others, numbers and order as the list has them.

What is demanded comes from drawing practice (ISO 6433, 7573 as told in books on technical drawing); the order itself is
checked against the geometry with shapely: a piece that goes in later stands farther out. The tools are invented.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations, pairwise

import pytest
from shapely.geometry import LineString, Point, Polygon

from generator.description import Tool, parts_list
from generator.drawing.arrangement import arrangement
from generator.drawing.assembly_sheet import AssemblySheet, Joining, assembly_sheet, order_in_words
from generator.drawing.exploded import exploded, relation_word
from generator.drawing.pictorial import on_paper
from generator.drawing.pictorial_bodies import bodies_of
from generator.ink import Ink, read_ink
from generator.making.assembly import assembly_moves
from generator.proof import proof_sheet
from tests.sheet_faults import find_faults
from tests.unit.test_arrangement import BLOCK as PLAIN_BLOCK
from tests.unit.test_arrangement import bearing_tool, faults, sheet_of, stacked

BLOCK = replace(
    PLAIN_BLOCK, edges="ISO 13715: outside -0.3, inside +0.3", finish="Ra 3.2", sheet="2/4",
    general_tolerance="ISO 2768-1 m",
)  # fmt: skip

TOOLS = {
    "bearings": bearing_tool,
    "two pieces": lambda: stacked(2),
    "nine pieces": lambda: stacked(9),
    "fourteen pieces": lambda: stacked(14, ring=2.5),
    "large": lambda: stacked(9, k=6.0, shank=215.0, ring=12.0, nose=60.0),
    "small": lambda: stacked(4, k=0.9, shank=32.0, ring=2.0, nose=6.0),
}


def joinings(tool: Tool) -> list[Joining]:
    return [Joining(m.pieces, m.title, m.into, m.side, m.contacts) for m in assembly_moves(tool)]


@pytest.fixture(scope="module", params=list(TOOLS))
def drawn(request: pytest.FixtureRequest) -> tuple[Tool, AssemblySheet, Ink]:
    tool = TOOLS[request.param]()
    sheet = assembly_sheet(tool, BLOCK, joinings(tool))
    return tool, sheet, read_ink(sheet.document, sheet.layout_name)


def test_nothing_touches_a_text_and_all_lies_in_the_frame(drawn: tuple[Tool, AssemblySheet, Ink]) -> None:
    assert faults(drawn[2]) == []
    assert find_faults(drawn[1].document, drawn[1].layout_name) == []


def test_the_proof_of_finished_drawings_finds_no_fault(drawn: tuple[Tool, AssemblySheet, Ink]) -> None:
    _, sheet, ink = drawn
    assert [f for f in proof_sheet(sheet.document, sheet.layout_name, ink) if f.severity == "fault"] == []


def test_every_item_of_the_list_is_numbered_once(drawn: tuple[Tool, AssemblySheet, Ink]) -> None:
    tool, sheet, _ = drawn
    space = sheet.document.modelspace()
    circles = space.query("CIRCLE[layer=='SYMBOL']")
    numbers = [
        int(t.dxf.text) for t in space.query("TEXT") for c in circles if t.dxf.align_point.isclose(c.dxf.center)
    ]
    assert sorted(numbers) == [row.number for row in parts_list(tool)]


def test_leaders_end_on_their_own_part_and_do_not_cross(drawn: tuple[Tool, AssemblySheet, Ink]) -> None:
    tool, sheet, _ = drawn
    bodies = {body.name: body for body in sheet.bodies}
    level = math.radians(30.0)
    for row, spot in zip(parts_list(tool), sheet.spots, strict=True):
        x, y = (value / sheet.scale for value in spot.tip.point)
        # Back from the level axis to the slanting one.
        point = Point(x * math.cos(level) + y * math.sin(level), -x * math.sin(level) + y * math.cos(level))
        rims = []
        for name in row.parts:
            for slab in bodies[name].slabs:
                ends = ((slab.z0, slab.outer0), (slab.z1, slab.outer1))
                rims += [
                    on_paper((z, r * math.cos(a), r * math.sin(a)))
                    for z, r in ends
                    for a in (math.tau * k / 72 for k in range(72))
                ]
        assert Polygon(rims).convex_hull.buffer(0.2).contains(point), row.title
    for a, b in combinations(sheet.spots, 2):
        assert not LineString([a.leader[:2], a.leader[2:]]).intersects(LineString([b.leader[:2], b.leader[2:]]))


def test_pieces_stand_clear_of_each_other_along_the_axis(drawn: tuple[Tool, AssemblySheet, Ink]) -> None:
    tool, sheet, _ = drawn
    items = {part.name: part.item or part.name for part in tool.parts.values()}
    ordered = sorted(sheet.bodies, key=lambda body: body.near_z)
    for a, b in pairwise(ordered):
        if items[a.name] != items[b.name]:
            assert b.near_z > a.far_z + 1.0, (a.name, b.name)


def test_pieces_stand_in_the_order_in_which_they_go_in(drawn: tuple[Tool, AssemblySheet, Ink]) -> None:
    tool, sheet, _ = drawn
    at = {body.name: body for body in sheet.bodies}
    outermost: dict[tuple[str, str], float] = {}
    for step in joinings(tool):
        sign = -1.0 if step.side == "tailstock side" else 1.0
        if step.side not in ("tailstock side", "work side"):
            continue
        key = (step.target, step.side)
        place = max(sign * (at[name].near_z + at[name].far_z) / 2 for name in step.parts)
        assert place > outermost.get(key, -math.inf), step.title
        outermost[key] = place


def test_every_step_is_told_once_with_its_number(drawn: tuple[Tool, AssemblySheet, Ink]) -> None:
    tool, _, ink = drawn
    rows = parts_list(tool)
    steps = joinings(tool)
    words = order_in_words(tool, rows, bodies_of(tool), steps)
    assert len(words) == len(steps)
    printed = " ".join(text.text for text in ink.texts)
    number_of = {name: row.number for row in rows for name in row.parts}
    for index, (step, sentence) in enumerate(zip(steps, words, strict=True), start=1):
        assert f"{step.title} ({number_of[step.parts[0]]})" in sentence
        assert f"{index}  {step.title}" in printed


def test_the_axis_is_a_chain_line_between_the_pieces(drawn: tuple[Tool, AssemblySheet, Ink]) -> None:
    lines = drawn[1].document.modelspace().query("LINE[layer=='CENTRE']")
    assert len(lines) >= 2
    for line in lines:
        run = line.dxf.end - line.dxf.start
        assert math.degrees(math.atan2(run.y, run.x)) == pytest.approx(-30.0, abs=1e-6)


def test_how_pieces_are_joined_follows_from_their_radii() -> None:
    tool = bearing_tool()
    bodies = bodies_of(tool)
    inner, outer = Joining(("ring_inner",), "Ring", "Spindle", "", ()), Joining(("ring_outer",), "Ring", "Body", "", ())
    # By hand: a bore of 17 goes onto a seat of 17, an outside of 35 into a pocket of 35.
    assert relation_word(tool, bodies, inner) == "onto"
    assert relation_word(tool, bodies, outer) == "into"
    spindle = Joining(("spindle",), "Spindle", "Body", "", ())
    assert relation_word(tool, bodies, spindle) == "into"


def test_a_sprung_ring_stands_beside_what_it_holds() -> None:
    tool = stacked(5)
    steps = joinings(tool)
    last = steps[-1]
    sprung = [*steps[:-1], Joining(last.parts, last.title, last.target, "pliers", last.contacts)]
    held = tool.seat_of[last.parts[0]].on_part
    ordered = [body.name for body in sorted(exploded(tool, bodies_of(tool), sprung), key=lambda body: body.near_z)]
    assert abs(ordered.index(last.parts[0]) - ordered.index(held)) == 1


def test_the_arrangement_shows_the_tool_in_isometric_view_with_true_ellipses() -> None:
    sheet = sheet_of(TOOLS["large"]())
    assert sheet.page == "A3 landscape"
    ellipses = sheet.document.layouts.get(sheet.layout_name).query("ELLIPSE")
    assert len(ellipses) >= 8
    for ellipse in ellipses:
        # A circle seen along (1, 1, 1): the small half axis is the large one over the root of three.
        assert ellipse.dxf.ratio == pytest.approx(1 / math.sqrt(3), abs=1e-9)
        long = ellipse.dxf.major_axis
        assert math.degrees(math.atan2(long.y, long.x)) % 180.0 == pytest.approx(60.0)
    printed = [text.text for text in read_ink(sheet.document, sheet.layout_name).texts]
    assert any(text.startswith("Isometric view (") for text in printed)


def test_pictures_stand_on_the_arrangement_only_where_there_is_room() -> None:
    crowded = stacked(14, ring=2.5)
    sheet = arrangement(crowded, BLOCK, remarks=tuple(f"Remark {k}." for k in range(30)))
    assert faults(read_ink(sheet.document, sheet.layout_name)) == []
