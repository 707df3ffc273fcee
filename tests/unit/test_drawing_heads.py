"""Arrow heads on the sheets: no line of the view runs through one, and extension lines are broken at them.

Sources: nothing may run through an arrow head, common practice, no source; an extension line may be broken at one, ASME
Y14.5 as told in books on technical drawing. Lines and heads are taken from the file as printed, and met with geometry
of an independent library.
"""

from __future__ import annotations

import math
from io import StringIO
from itertools import pairwise

import pytest
from shapely import STRtree
from shapely.geometry import LineString

from generator.description import Part, PartDraft, Size
from generator.drawing.boxes import Line
from generator.drawing.heads import broken
from generator.drawing.part_sheet import PartSheet, part_sheet
from generator.ink import Ink, read_ink
from generator.proof import document_of
from tests.sample import sample_body, sample_spindle
from tests.unit.test_drawing_sheets import BLOCK, arbor, bush, half_centre, washer


def treated_point() -> Part:
    """A hardened point with a finish, a run-out and both sizes of its cone: all of them want to point at one edge."""
    draft = PartDraft("point", "Point", "back", sectioned=False)
    draft.length("length", "front", "back", 1, Size(55.0))
    draft.length("nose", "shoulder", "front", -1, Size(17.0, 0.1, -0.1))
    draft.cylinder("seat", "outside", "back", "shoulder", Size(20.0, 0.0, -0.01), finish_ra_um=0.8)
    draft.cone("cone", "outside", "shoulder", "front", Size(20.0, derived=True), "shoulder", -30.0, role="point",
               finish_ra_um=0.4)  # fmt: skip
    draft.zone("hard", "cone", "shoulder", "front", "treated", "58 +4 HRC")
    draft.relation("cone", "seat", "run-out", 0.005, "ground in one setting")
    return draft.done()


def thin_bush() -> Part:
    """A bush with a wall thinner than an arrow head is long, and two chamfers to point at in its bore."""
    draft = PartDraft("sleeve", "Sleeve", "back")
    draft.length("length", "front", "back", 1, Size(45.0))
    bore = Size(26.0, 0.021, 0.0)
    draft.cylinder("outside", "outside", "back", "front", Size(30.0))
    near = draft.chamfer("near", "inside", "back", 1, bore, Size(1.0))
    far = draft.chamfer("far", "inside", "front", -1, bore, Size(1.0))
    draft.cylinder("bore", "inside", near, far, bore, finish_ra_um=0.8)
    return draft.done()


MAKERS = {
    maker.__name__: maker
    for maker in (treated_point, thin_bush, washer, arbor, bush, half_centre, sample_body, sample_spindle)
}


def printed(sheet: PartSheet) -> Ink:
    stream = StringIO()
    sheet.document.write(stream)
    return read_ink(document_of(stream.getvalue()), sheet.layout_name)


def heads_on(ink: Ink) -> list[tuple[str, LineString]]:
    """The inner stretch of each slender triangle: handle of its entity, and the line."""
    found = []
    for fill in ink.fills:
        for outline in fill.outlines:
            corners = list(dict.fromkeys((round(x, 6), round(y, 6)) for x, y in outline.points()))
            if len(corners) != 3 or fill.layer not in ("DIM", "SYMBOL"):
                continue
            tip = max(corners, key=lambda c: sum(math.dist(c, other) for other in corners))
            b, c = (corner for corner in corners if corner != tip)
            back = ((b[0] + c[0]) / 2, (b[1] + c[1]) / 2)
            if math.dist(b, c) < math.dist(tip, back) / 2:
                way = [tuple(p + share * (q - p) for p, q in zip(tip, back, strict=True)) for share in (0.25, 0.9)]
                found.append((fill.handle, LineString(way)))
    return found


def pieces_on(ink: Ink) -> list[tuple[str, LineString]]:
    """Every straight piece of every stroke but hatch, with its layer."""
    found = []
    for stroke in ink.strokes:
        points = list(stroke.outline.points())
        points += points[:1] if stroke.outline.closed else []
        if stroke.layer != "HATCH":
            found += [(stroke.layer, LineString(pair)) for pair in pairwise(points) if math.dist(*pair) > 1e-6]
    return found


def turn_deg(one: LineString, other: LineString) -> float:
    """Angle between two straight lines, 0 to 90."""
    ways = [math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in (one.coords, other.coords)]
    turn = math.degrees(abs(ways[0] - ways[1])) % 180.0
    return min(turn, 180.0 - turn)


@pytest.mark.parametrize("name", MAKERS)
def test_no_line_runs_through_an_arrow_head(name: str) -> None:
    ink = printed(part_sheet(MAKERS[name](), BLOCK))
    heads, pieces = heads_on(ink), pieces_on(ink)
    assert heads
    tree = STRtree([line for _, line in pieces])
    for handle, head in heads:
        for index in tree.query(head, predicate="intersects"):
            layer, piece = pieces[int(index)]
            # What runs along a head is its own shaft.
            assert turn_deg(head, piece) < 1.5, (layer, handle, head.wkt, piece.wkt)


def test_a_line_is_broken_at_the_heads_that_it_meets_only() -> None:
    heads = [Line((-2.0, 4.0), (2.0, 4.0)), Line((5.0, 6.0), (9.0, 6.0)), Line((0.0, 8.0), (0.0, 9.0))]
    pieces = list(broken((0.0, 0.0), (0.0, 10.0), heads))
    assert [y for a, b in pieces for y in (a[1], b[1])] == pytest.approx([0.0, 2.8, 5.2, 10.0])


def test_a_line_keeps_no_crumb_between_two_heads() -> None:
    heads = [Line((-2.0, y), (2.0, y)) for y in (1.0, 3.6, 9.5)]
    pieces = list(broken((0.0, 0.0), (0.0, 10.0), heads))
    assert [y for a, b in pieces for y in (a[1], b[1])] == pytest.approx([4.8, 8.3])


def test_a_line_that_meets_no_head_is_whole() -> None:
    assert list(broken((1.0, 2.0), (1.0, 2.3), [])) == [((1.0, 2.0), (1.0, 2.3))]
