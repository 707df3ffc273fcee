"""The general arrangement read back from the finished document.

What is demanded comes from drawing practice (ISO 128, 6433, 7573 as told in books on technical drawing): numbers agree
with the list, leaders end in their parts, nothing touches a text, hatches of touching parts differ, neighbours are in
long-dash-double-dot line. The tools are invented.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import STRtree
from shapely.geometry import LineString, Point, Polygon

from generator.description import (
    Gap,
    Part,
    PartDraft,
    Seat,
    Silhouette,
    Size,
    Tool,
    evaluate_gap,
    nominal_positions,
    parts_list,
    polygon,
    positions,
)
from generator.drawing.arrangement import ArrangementSheet, arrangement, arrangement_picture
from generator.drawing.arrangement_callouts import lettered_gaps
from generator.drawing.arrangement_detail import detail_of
from generator.drawing.arrangement_hatch import differ, touching
from generator.drawing.arrangement_profile import radii_at
from generator.drawing.balloons import crossings
from generator.drawing.sheet import TitleBlock
from generator.errors import OutputError
from generator.ink import Ink, read_ink
from tests.sample import sample_tool, size
from tests.sheet_faults import find_faults

BLOCK = TitleBlock(
    "Own shop", "T-100", "Revolving centre", "2025-01-31", "1 of 4", "A. Turner", "B. Fitter", "General arrangement",
    "see list", "see list", "1.2 kg", "1:1", "ISO 2768-m", "see parts", "see parts",
)  # fmt: skip
REMARK = "Not checked: load, speed, thrust."


def exact_size(value: float) -> Size:
    return size(value, 0.0, 0.0)


def quill(diameter: float, length: float, large: float) -> Part:
    draft = PartDraft("quill", "Quill", "face", neighbour=True)
    draft.length("length", "rear", "face", -1, exact_size(length))
    draft.cylinder("outside", "outside", "rear", "face", exact_size(diameter))
    draft.cone("socket", "inside", "rear", "face", exact_size(large), "face", 1.43)
    return draft.done()


def centre_body(k: float, shank: float, pocket: float) -> Part:
    """A body with a shank of `shank` mm behind the gauge plane and a pocket; `k` scales the diameters."""
    draft = PartDraft("body", "Body", "front", material="42CrMo4")
    draft.length("barrel", "back", "front", -1, exact_size(pocket + 6 * k))
    draft.length("stand_off", "gauge", "back", -1, exact_size(3.0))
    draft.length("shank", "end", "gauge", -1, exact_size(shank))
    draft.length("pocket", "floor", "front", -1, exact_size(pocket))
    draft.cylinder("barrel_outside", "outside", "back", "front", exact_size(24 * k))
    draft.cone("taper", "outside", "end", "back", exact_size(9 * k), "gauge", 1.43, role="taper")
    draft.cylinder("pocket_bore", "inside", "floor", "front", exact_size(18 * k), role="pocket")
    return draft.done()


def pin(k: float, pocket: float, nose: float) -> Part:
    draft = PartDraft("pin", "Point", "rear", material="C45", sectioned=False)
    draft.length("in_pocket", "mouth", "rear", 1, exact_size(pocket))
    draft.length("nose", "base", "mouth", 1, exact_size(nose))
    draft.cylinder("stem", "outside", "rear", "mouth", exact_size(6 * k))
    draft.cylinder("head", "outside", "mouth", "base", exact_size(8 * k))
    draft.cone("point", "outside", "base", "tip", exact_size(8 * k), "base", -30.0, role="point")
    draft.place("tip", "point", exact_size(0.5))
    return draft.done()


def washer(number: int, k: float, thickness: float) -> Part:
    draft = PartDraft(f"ring_{number}", f"Distance ring {number}", "rear", material="C45")
    draft.length("thickness", "front", "rear", 1, exact_size(thickness))
    draft.cylinder("outside", "outside", "rear", "front", exact_size((17.6 - 0.3 * (number % 2)) * k))
    draft.cylinder("bore", "inside", "rear", "front", exact_size(6 * k))
    return draft.done()


def stacked(rows: int, k: float = 1.5, shank: float = 60.0, ring: float = 3.0, nose: float = 15.0) -> Tool:
    """A tool of so many rows in the parts list: body, point and a stack of rings between them."""
    rings = max(0, rows - 2)
    pocket = max(8.0, rings * ring)
    parts = [quill(30 * k, shank + 25.0, 9 * k), centre_body(k, shank, pocket)]
    seats = [Seat("body", "gauge", "quill", "face", "cone")]
    if rows > 1:
        parts.append(pin(k, pocket, nose))
        seats.append(Seat("pin", "rear", "body", "floor"))
    on = ("body", "floor")
    for number in range(1, rings + 1):
        parts.append(washer(number, k, ring))
        seats.append(Seat(f"ring_{number}", "rear", *on))
        on = (f"ring_{number}", "front")
    return Tool("sample", "Stacked centre", "quill", {p.name: p for p in parts}, tuple(seats))


def bearing_tool() -> Tool:
    """The sample with gaps and a tool holder that must pass."""
    holder = Silhouette("holder", "Tool holder", ((45.0, 12.0), (45.0, 80.0), (62.0, 80.0), (62.0, 12.0)))
    gaps = (
        Gap("stand_off", "back face clear of the quill", "quill/face", "body/back", 1.0, None, "wear", "practice"),
        Gap("play", "pocket over the outer ring", "ring_outer/outer", "body/pocket", 0.0, 0.02, "fit", "practice",
            direction="radial"),
        Gap("seat", "spindle end clear of the recess", "spindle/seat_end", "body/floor", 0.3, 9.0,
            "room", "practice"),
    )
    return replace(sample_tool(), gaps=gaps, silhouettes=(holder,))


def sheet_of(tool: Tool, **fields: object) -> ArrangementSheet:
    forms = positions(tool)
    chains = {gap.name: evaluate_gap(tool, gap, forms) for gap in tool.gaps}
    return arrangement(tool, BLOCK, chains=chains, remarks=(REMARK,), **fields)  # type: ignore[arg-type]


def ink_of(sheet: ArrangementSheet) -> Ink:
    return read_ink(sheet.document, sheet.layout_name)


def faults(ink: Ink) -> list[str]:
    """Texts that meet another text, a line, an arrow or a hatch line, and texts outside the frame."""
    boxes = [Polygon(text.box()) for text in ink.texts]
    lines = [LineString(list(s.outline.points())).buffer(s.width_mm / 2) for s in ink.strokes]
    lines += [Polygon(list(o.points())).buffer(0) for f in ink.fills for o in f.outlines]
    names = [s.layer for s in ink.strokes] + [f.layer for f in ink.fills for _ in f.outlines]
    tree = STRtree(lines)
    found = []
    for text, place in zip(ink.texts, boxes, strict=True):
        if place.bounds[0] > ink.width_mm - 190.0 and place.bounds[1] < 52.5:
            continue  # the title block is tested with the sheet that all drawings share
        grown = place.buffer(0.15)
        found += [f"{text.text!r} on a line of {names[k]}" for k in tree.query(grown, predicate="intersects")]
        x0, y0, x1, y1 = place.bounds
        if x0 < 20.0 or y0 < 10.0 or x1 > ink.width_mm - 10.0 or y1 > ink.height_mm - 10.0:
            found.append(f"{text.text!r} outside the frame")
    found += [
        f"{ink.texts[a].text!r} on {ink.texts[b].text!r}"
        for a, b in combinations(range(len(boxes)), 2)
        if boxes[a].buffer(0.1).intersects(boxes[b])
    ]
    return found


VARIANTS = {
    "sample": sample_tool,
    "bearing and holder": bearing_tool,
    "one row": lambda: stacked(1),
    "three rows": lambda: stacked(3),
    "nine rows": lambda: stacked(9),
    "fourteen rows": lambda: stacked(14, ring=2.5),
    "very small": lambda: stacked(4, k=0.9, shank=32.0, ring=2.0, nose=6.0),
    "very small, fourteen rows": lambda: stacked(14, k=0.9, shank=32.0, ring=1.2, nose=6.0),
    "large": lambda: stacked(9, k=6.0, shank=215.0, ring=12.0, nose=60.0),
}


@pytest.fixture(scope="module", params=list(VARIANTS))
def drawn(request: pytest.FixtureRequest) -> tuple[Tool, ArrangementSheet, Ink]:
    tool = VARIANTS[request.param]()
    sheet = sheet_of(tool, stock={"body": "bar 45 x 130"})
    return tool, sheet, ink_of(sheet)


def test_no_text_touches_anything_and_all_lie_in_the_frame(drawn: tuple[Tool, ArrangementSheet, Ink]) -> None:
    assert faults(drawn[2]) == []


def test_the_fault_finder_of_all_sheets_finds_nothing(drawn: tuple[Tool, ArrangementSheet, Ink]) -> None:
    assert find_faults(drawn[1].document, drawn[1].layout_name) == []


def test_every_row_has_its_number_once_and_the_list_agrees(drawn: tuple[Tool, ArrangementSheet, Ink]) -> None:
    tool, sheet, ink = drawn
    rows = parts_list(tool)
    circled = []
    for circle in sheet.document.modelspace().query("CIRCLE[layer=='SYMBOL']"):
        words = [
            t.dxf.text
            for t in sheet.document.modelspace().query("TEXT")
            if t.dxf.align_point.isclose(circle.dxf.center)
        ]
        circled += words
    assert sorted(map(int, circled)) == [row.number for row in rows]
    printed = [text.text for text in ink.texts]
    for row in rows:
        assert row.title in printed


def test_list_rises_from_its_heading(drawn: tuple[Tool, ArrangementSheet, Ink]) -> None:
    tool, _, ink = drawn
    heading = next(t for t in ink.texts if t.text == "Item")
    column = [
        t for t in ink.texts
        if t.text.isdigit() and abs(t.box()[0][0] + t.box()[1][0] - heading.box()[0][0] - heading.box()[1][0]) < 1.0
        and t.box()[0][1] > heading.box()[0][1]
    ]  # fmt: skip
    column.sort(key=lambda t: t.box()[0][1])
    numbers = [int(t.text) for t in column if t.cap_height_mm < 5.0][: len(parts_list(tool))]
    assert numbers == [row.number for row in parts_list(tool)]


def test_leaders_end_in_their_part(drawn: tuple[Tool, ArrangementSheet, Ink]) -> None:
    tool, sheet, _ = drawn
    z_of = nominal_positions(tool)
    for row, spot in zip(parts_list(tool), sheet.spots, strict=False):
        x, y = (value / sheet.scale for value in spot.tip.point)
        shapes = []
        for name in row.parts:
            part = tool.parts[name]
            zero = z_of[f"{name}/{part.origin_face}"]
            shapes.append(Polygon([(zero + z, r) for z, r in polygon(part)]))
        distance = min(shape.distance(Point(x, abs(y))) for shape in shapes)
        assert distance < 1e-6 if spot.tip.end == "dot" else distance < 0.2, spot.callout.text
        if spot.tip.end == "dot":
            rim = min(shape.exterior.distance(Point(x, abs(y))) for shape in shapes) * sheet.scale
            assert rim >= 0.5 or abs(y) * sheet.scale < 3.0, spot.callout.text


def test_leaders_neither_cross_nor_run_parallel(drawn: tuple[Tool, ArrangementSheet, Ink]) -> None:
    lines = [(s.callout.text, s.leader) for s in drawn[1].spots]
    for (one, a), (other, b) in combinations(lines, 2):
        first, second = (LineString([line[:2], line[2:]]) for line in (a, b))
        assert not first.intersects(second), (one, other)
        turn = abs(math.atan2(a[3] - a[1], a[2] - a[0]) - math.atan2(b[3] - b[1], b[2] - b[0])) % math.pi
        if (a[1] > 0) is (b[1] > 0):
            assert min(turn, math.pi - turn) > 1e-3, (one, other)


def test_hatches_of_touching_parts_can_be_told_apart(drawn: tuple[Tool, ArrangementSheet, Ink]) -> None:
    _, sheet, _ = drawn
    read = {}
    for hatch in sheet.document.modelspace().query("HATCH[layer=='HATCH']"):
        [name] = [value for _, value in hatch.get_xdata("TAILSTOCK") if str(value).startswith("part ")]
        if hatch.dxf.solid_fill:
            read[name.removeprefix("part ")] = (0.0, 0.01)
        else:
            line = hatch.pattern.lines[0]
            read[name.removeprefix("part ")] = (line.angle, math.hypot(*line.offset))
    styles = {area.part: area.style for area in sheet.scene.section.areas}
    assert set(read) == set(styles)
    for name, others in touching(sheet.scene.section.placed, 0.05).items():
        for other in others:
            turn = abs(read[name][0] - read[other][0]) % 180.0
            pitches = sorted((read[name][1], read[other][1]))
            assert min(turn, 180.0 - turn) >= 30.0 or pitches[1] / pitches[0] >= 1.3, (name, other)
            assert differ(styles[name], styles[other])


def test_parts_that_are_never_cut_carry_no_hatch(drawn: tuple[Tool, ArrangementSheet, Ink]) -> None:
    tool, sheet, _ = drawn
    hatched = {area.part for area in sheet.scene.section.areas}
    whole = {p.name for p in sheet.scene.section.placed if p.cut is None}
    assert hatched.isdisjoint(whole)
    assert whole <= {name for name, part in tool.parts.items() if not part.sectioned}


def test_neighbours_are_chain_lines_on_their_own_layer(drawn: tuple[Tool, ArrangementSheet, Ink]) -> None:
    tool, sheet, _ = drawn
    document = sheet.document
    layer = document.layers.get("NEIGHBOUR")
    dashes = [t.value for t in document.linetypes.get(layer.dxf.linetype).pattern_tags.tags if t.code == 49]
    assert len(dashes) == 6
    assert sum(1 for d in dashes if 0 <= d < 1.0) == 2
    quill_part = tool.parts["quill"]
    radius = max(r for _, r in polygon(quill_part))
    found = [
        point
        for entity in document.modelspace().query("LINE LWPOLYLINE")
        for point in ([entity.dxf.start, entity.dxf.end] if entity.dxftype() == "LINE" else entity.get_points("xy"))
        if abs(abs(point[1]) - radius) < 1e-6 and entity.dxf.layer == "NEIGHBOUR"
    ]
    assert found
    for entity in document.modelspace():
        assert entity.dxf.layer != "0"
        assert not entity.dxf.hasattr("linetype")


def test_a_long_quill_is_cut_off(drawn: tuple[Tool, ArrangementSheet, Ink]) -> None:
    _, sheet, _ = drawn
    near = sheet.scene.section.box[0]
    assert sheet.scene.box[0] > near - 12.0 / sheet.scale


def test_names_of_the_neighbours_and_remarks_are_printed(drawn: tuple[Tool, ArrangementSheet, Ink]) -> None:
    tool, _, ink = drawn
    printed = " ".join(text.text for text in ink.texts)
    assert REMARK in printed
    for part in tool.parts.values():
        if part.neighbour:
            assert part.title in printed
    for shape in tool.silhouettes:
        assert all(word in printed for word in shape.title.split())


def test_dimensions_print_what_they_measure(drawn: tuple[Tool, ArrangementSheet, Ink]) -> None:
    tool, sheet, _ = drawn
    z_of = nominal_positions(tool)
    own = [p for p in tool.parts.values() if not p.neighbour]
    ends = [z_of[f"{p.name}/{p.origin_face}"] + z for p in own for z, _ in polygon(p)]
    overall, ahead = max(ends) - min(ends), max(ends) - z_of["quill/face"]
    largest = 2 * max(r for p in own for _, r in polygon(p))
    printed = {}
    for dimension in sheet.document.modelspace().query("DIMENSION"):
        words = [t.dxf.text for t in sheet.document.blocks[dimension.dxf.geometry].query("TEXT")]
        assert len(words) == 1
        assert words[0].startswith("(")
        printed[words[0]] = dimension
    expected = [overall, ahead, z_of["quill/face"] - min(ends)]
    for value in expected:
        match = [d for d in printed.values() if d.dimtype == 0 and abs(d.dxf.actual_measurement - value) < 1e-6]
        assert match, value
        text = next(words for words, d in printed.items() if d is match[0])
        assert float(text.strip("()")) == pytest.approx(value, abs=0.051)
    assert f"(⌀{largest:g})" in printed
    assert printed[f"(⌀{largest:g})"].get_measurement() == pytest.approx(largest)


def test_audit_finds_nothing(drawn: tuple[Tool, ArrangementSheet, Ink]) -> None:
    auditor = drawn[1].document.audit()
    assert not auditor.errors
    assert not auditor.fixes


def test_page_and_scale_follow_the_size() -> None:
    small = sheet_of(VARIANTS["very small"]())
    assert (small.page, small.scale) == ("A4 portrait", 1.0)
    large = sheet_of(VARIANTS["large"]())
    assert (large.page, large.scale) == ("A3 landscape", 0.5)


def test_scale_in_the_block_is_the_scale_of_the_view() -> None:
    sheet = sheet_of(VARIANTS["large"]())
    [port] = [v for v in sheet.document.paperspace(sheet.layout_name).viewports() if v.dxf.id != 1]
    assert port.dxf.height / port.dxf.view_height == pytest.approx(sheet.scale)
    [block] = sheet.document.paperspace(sheet.layout_name).query("INSERT")
    assert block.get_attrib_text("SCALE") == "1:2"


def test_gaps_are_lettered_in_table_and_view() -> None:
    tool = bearing_tool()
    sheet = sheet_of(tool)
    printed = [text.text for text in ink_of(sheet).texts]
    for letter, gap in zip("ABC", tool.gaps, strict=True):
        assert printed.count(letter) == 2
        assert gap.title in printed
    # Stand-off of the sample: gauge plane 5 mm behind the back face, +-0.3.
    assert "5.00" in printed
    assert "4.70 .. 5.30" in printed
    assert "at least 1.00" in printed
    z_of = nominal_positions(tool)
    arrow = next(s for s in sheet.spots if s.callout.text == "A").tip.point
    assert arrow[0] / sheet.scale == pytest.approx((z_of["quill/face"] + z_of["body/back"]) / 2)


def test_more_than_eight_gaps_are_left_to_the_plan() -> None:
    tool = bearing_tool()
    many = tuple(replace(tool.gaps[0], name=f"gap_{k}", title=f"gap number {k}") for k in range(12))
    sheet = sheet_of(replace(tool, gaps=many))
    printed = [text.text for text in ink_of(sheet).texts]
    assert sum(text.startswith("gap number") for text in printed) == 8
    assert any("4 more gaps" in text for text in printed)


def test_a_screw_in_a_tapped_hole_is_shown_by_a_local_section() -> None:
    tool = sample_tool()
    draft = PartDraft("screw", "Cap screw", "seat", bought="ISO 4762 - M6 x 20", sectioned=False)
    draft.length("length", "tip", "seat", 1, size(20.0))
    draft.length("head", "head_rear", "seat", -1, size(6.0))
    draft.cylinder("head_outside", "outside", "head_rear", "seat", size(10.0))
    draft.cylinder("shank", "outside", "seat", "tip", size(6.0), role="thread")
    parts = {**tool.parts, "screw": draft.done()}
    seats = (*tool.seats, Seat("screw", "tip", "spindle", "thread_end"))
    sheet = sheet_of(replace(tool, parts=parts, seats=seats))
    section = sheet.scene.section
    spindle = next(p for p in section.placed if p.name == "spindle")
    assert spindle.cut is not None
    assert math.isfinite(spindle.cut[1])
    assert {area.part for area in section.areas} >= {"spindle"}
    assert "screw" not in {area.part for area in section.areas}
    # The hatch of the spindle ends at the screw's outside, not at the smaller core of the thread.
    z_of = nominal_positions(tool)
    for share in (0.2, 0.5, 0.8):
        z = z_of["spindle/seat_end"] + share * (z_of["spindle/thread_end"] - z_of["spindle/seat_end"])
        radii = radii_at(spindle.upper, z)
        assert radii is not None
        assert radii[0] == pytest.approx(3.0)
    # Root of M6: core of the external thread 6 - 1.2269 x 1 mm = 4.773 mm (ISO 724 and ISO 68-1, from memory).
    tip = z_of["spindle/thread_end"]
    roots = {round(abs(y0), 2) for x0, y0, x1, y1 in section.narrow if y0 == y1 and x0 < tip - 1.0 < x1}
    assert 2.3 in roots or 2.39 in roots
    assert faults(ink_of(sheet)) == []


def test_balls_are_round_and_free_of_hatch() -> None:
    document = arrangement_picture(sample_tool())
    circles = [c for c in document.modelspace().query("CIRCLE") if c.dxf.radius == pytest.approx(2.5)]
    # Pitch diameter 26, in both halves.
    assert sorted(round(c.dxf.center.y, 6) for c in circles if abs(c.dxf.center.y) > 5) == [-13.0, 13.0]
    bulged = [
        path for h in document.modelspace().query("HATCH") for path in h.paths if any(v[2] for v in path.vertices)
    ]
    assert len(bulged) == 4


def test_picture_knows_its_extents_and_holds_no_frame() -> None:
    document = arrangement_picture(bearing_tool())
    low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]
    ink = read_ink(document, "Model", (low[0], low[1], high[0], high[1]))
    assert ink.strokes
    for stroke in ink.strokes:
        for x, y in stroke.outline.points():
            assert -0.01 <= x <= ink.width_mm + 0.01
            assert -0.01 <= y <= ink.height_mm + 0.01
    assert {e.dxf.layer for e in document.modelspace()}.isdisjoint({"FRAME", "BLOCK"})


def test_same_tool_gives_the_same_drawing() -> None:
    def entities(sheet: ArrangementSheet) -> list[str]:
        return [str(e.dxfattribs()) for e in sheet.document.modelspace()]

    assert entities(sheet_of(bearing_tool())) == entities(sheet_of(bearing_tool()))


@settings(max_examples=20, deadline=None, derandomize=True)
@given(
    rows=st.integers(1, 10),
    k=st.floats(0.9, 5.0),
    shank=st.floats(40.0, 180.0),
    ring=st.floats(2.5, 9.0),
    nose=st.floats(5.0, 60.0),
)
def test_any_stack_gives_a_clean_sheet(rows: int, k: float, shank: float, ring: float, nose: float) -> None:
    values = [round(value, 1) for value in (k, shank, ring, nose)]
    sheet = sheet_of(stacked(rows, *values))
    assert faults(ink_of(sheet)) == []
    assert crossings(sheet.spots) == []


def test_a_list_that_no_page_takes_is_refused_in_words() -> None:
    with pytest.raises(OutputError, match="does not fit on A3"):
        arrangement(stacked(60, ring=1.0), BLOCK)


def ring_corner() -> Tool:
    """The sample with narrow gaps within and without its ring, and wide ones elsewhere."""
    tool = bearing_tool()
    seat = Gap("bore", "ring over its seat", "spindle/seat", "ring_inner/bore", -0.02, 0.02, "fit", "practice",
               direction="radial")  # fmt: skip
    return replace(tool, gaps=(*tool.gaps, seat))


def test_narrow_gaps_are_lettered_in_an_enlarged_detail() -> None:
    tool = ring_corner()
    chains = {gap.name: evaluate_gap(tool, gap, positions(tool)) for gap in tool.gaps}
    scene = arrangement(tool, BLOCK, chains=chains).scene
    gaps = lettered_gaps(scene, chains)
    detail = detail_of(gaps, 1.0, (45.0, 135.0))
    assert detail is not None
    assert detail.scale == 5.0
    nominal = {gap.letter: abs(gap.result.nominal_mm) for gap in gaps}
    assert all(nominal[gap.letter] < 0.9 for gap in detail.gaps)
    assert len(detail.gaps) >= 2
    z0, r0, z1, r1 = detail.window
    by_letter = {gap.letter: gap for gap in detail.gaps}
    assert {spot.callout.text for spot in detail.spots} == set(by_letter)
    for spot in detail.spots:
        # Back from paper to the tool: the arrow ends in the gap, inside the window.
        z = (z0 + z1) / 2 + spot.tip.point[0] / detail.scale
        r = (r0 + r1) / 2 + spot.tip.point[1] / detail.scale
        assert z0 < z < z1
        assert r0 < r < r1
        assert min(math.dist((z, r), point) for point in by_letter[spot.callout.text].points) < 1e-9
    assert crossings(detail.spots) == []


def test_a_single_narrow_gap_asks_for_no_detail() -> None:
    tool = bearing_tool()
    chains = {gap.name: evaluate_gap(tool, gap, positions(tool)) for gap in tool.gaps}
    gaps = [gap for gap in lettered_gaps(arrangement(tool, BLOCK).scene, chains) if gap.result.gap.name == "stand_off"]
    assert detail_of(gaps, 1.0, ()) is None


def test_the_detail_shows_the_section_five_times_as_large() -> None:
    tool = ring_corner()
    chains = {gap.name: evaluate_gap(tool, gap, positions(tool)) for gap in tool.gaps}
    notes = tuple(f"Remark {k} that takes up room on a small page, so that the large one is taken." for k in range(14))
    sheet = arrangement(tool, BLOCK, chains=chains, remarks=notes)
    ink = ink_of(sheet)
    assert faults(ink) == []
    assert sheet.page == "A3 landscape"
    printed = [text.text for text in ink.texts]
    assert "Z (5:1)" in printed
    assert printed.count("Z") == 1
    ports = [port for port in sheet.document.layouts.get(sheet.layout_name).query("VIEWPORT") if port.dxf.id != 1]
    assert sorted(round(port.dxf.height / port.dxf.view_height, 6) for port in ports) == [1.0, 5.0]
    for letter in (gap.letter for gap in lettered_gaps(sheet.scene, chains)):
        assert printed.count(letter) == 2, letter
