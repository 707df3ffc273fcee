"""The proof of a finished drawing: clean sheets are clean, and each way of spoiling one is found and named alone."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable
from functools import cache
from io import StringIO
from typing import Any

import pytest
from ezdxf.math import Vec3
from shapely import LineString, Polygon
from shapely.ops import unary_union

from benchmarks.random_jobs import sheets_of
from generator.description import Part, PartDraft, Size
from generator.drawing.part_sheet import part_sheet
from generator.job.design import inspect, work_out
from generator.job.reader import find_job, read_job
from generator.proof import NOT_TESTED, RULES, document_of, proof_document
from tests.unit.test_drawing_sheets import BLOCK

Spoil = Callable[[Any], None]
ARRANGEMENT, BODY, SPINDLE, COVER = "arrangement", "body", "spindle", "cover"


@cache
def demo_texts() -> dict[str, str]:
    """The demo's sheets as DXF text by name."""
    design = inspect(work_out(read_job(find_job("demo"))))
    found = {}
    for name, sheet in sheets_of(design):
        stream = StringIO()
        sheet.document.write(stream)
        found[name] = stream.getvalue()
    return found


def found_in(document: Any) -> Counter[str]:
    """Codes of faults and remarks after the document went through a file once more."""
    stream = StringIO()
    document.write(stream)
    return Counter(one.code for one in proof_document(document_of(stream.getvalue())).faults)


@cache
def clean_codes(name: str) -> Counter[str]:
    """What is remarked of an unspoilt sheet."""
    return found_in(document_of(demo_texts()[name]))


def space_of(document: Any) -> Any:
    return document.modelspace()


def paper_of(document: Any) -> Any:
    return next(layout for layout in document.layouts if layout.name != "Model" and len(layout) > 5)


def dimension(document: Any, address: str) -> Any:
    for entity in space_of(document).query("DIMENSION"):
        if entity.get_xdata("TAILSTOCK")[0].value == address:
            return entity
    raise AssertionError(address)


def words_of(document: Any, address: str) -> list[Any]:
    return list(document.blocks[dimension(document, address).dxf.geometry].query("TEXT"))


def rewrite(address: str, old: str, new: str) -> Spoil:
    """Change a word of a dimension's picture."""

    def spoil(document: Any) -> None:
        hit = [text for text in words_of(document, address) if text.dxf.text == old]
        assert hit, [text.dxf.text for text in words_of(document, address)]
        hit[0].dxf.text = new

    return spoil


def note(document: Any) -> Any:
    """The heading of the notes."""
    return next(e for e in paper_of(document).query("TEXT") if e.dxf.text == "Notes")


def place(entity: Any, at: tuple[float, float]) -> None:
    entity.dxf.insert = at
    entity.dxf.align_point = at


def block_of(document: Any) -> Any:
    return paper_of(document).query('INSERT[name=="TITLE_BLOCK"]').first


def field(document: Any, tag: str) -> Any:
    return next(a for a in block_of(document).attribs if a.dxf.tag == tag)


def fill(tag: str, words: str) -> Spoil:
    return lambda document: setattr(field(document, tag).dxf, "text", words)


def view(document: Any) -> Any:
    ports = [v for v in paper_of(document).query("VIEWPORT") if v.dxf.id != 1]
    return max(ports, key=lambda v: v.dxf.width * v.dxf.height)


def text_over_text(document: Any) -> None:
    other = next(e for e in paper_of(document).query("TEXT") if e.dxf.text.startswith("1  "))
    at = other.dxf.insert
    place(note(document), (at.x + 8.0, at.y))


def text_over_line(document: Any) -> None:
    upright = next(e for e in paper_of(document).query("LINE") if e.dxf.start.x == e.dxf.end.x
                   and math.isclose(abs(e.dxf.start.y - e.dxf.end.y), 100.0))
    place(note(document), (upright.dxf.start.x - 2.0, max(upright.dxf.start.y, upright.dxf.end.y) - 20.0))


def text_over_arrow(document: Any) -> None:
    """A dot with a figure on it, where nothing else is."""
    paper = paper_of(document)
    at = note(document).dxf.insert
    corners = [(at.x + 30 + math.cos(a), at.y + 3 + math.sin(a)) for a in (0.0, 2.1, 4.2)]
    paper.add_solid(corners, dxfattribs={"layer": "DIM"})
    paper.add_text("7", height=2.5, dxfattribs={"insert": (at.x + 29.5, at.y + 2.0), "layer": "TEXT", "width": 0.85})


def text_over_hatch(document: Any) -> None:
    """A figure amid hatched material, clear of every line, found by an independent geometry library."""
    hatch = next(h for h in space_of(document).query("HATCH") if h.dxf.layer == "HATCH")
    material = max((Polygon([v[:2] for v in path.vertices]) for path in hatch.paths), key=lambda area: area.area)
    lines = []
    for entity in space_of(document):
        shown = document.blocks[entity.dxf.geometry] if entity.dxftype() == "DIMENSION" else [entity]
        lines += [LineString([e.dxf.start.vec2, e.dxf.end.vec2]) for e in shown if e.dxftype() == "LINE"]
    free = material.buffer(-0.8).difference(unary_union(lines).buffer(0.8)).buffer(-1.7)
    spot = free.representative_point()
    assert not spot.is_empty
    space_of(document).add_text("1", height=2.5, dxfattribs={
        "insert": (spot.x - 0.9, spot.y - 1.25), "layer": "TEXT", "width": 0.85, "style": "TAILSTOCK",
    })  # fmt: skip


def outside_frame(document: Any) -> None:
    place(note(document), (3.0, 20.0))


def over_block(document: Any) -> None:
    corner = block_of(document).dxf.insert
    place(note(document), (corner.x + 160.0, corner.y + 13.5))


def swap_limits(document: Any) -> None:
    upper, lower = (t for t in words_of(document, "body/barrel/diameter") if t.dxf.height < 3)
    upper.dxf.text, lower.dxf.text = lower.dxf.text, upper.dxf.text


def delete(address: str) -> Spoil:
    return lambda document: space_of(document).delete_entity(dimension(document, address))


def double(address: str, *, keep_address: bool) -> Spoil:
    """The same size once more, its picture out of sight."""

    def spoil(document: Any) -> None:
        again = dimension(document, address).copy()
        space_of(document).add_entity(again)
        block = document.blocks.new_anonymous_block(type_char="D")
        for text in words_of(document, address):
            copied = text.copy()
            copied.translate(0, 2000, 0)
            block.add_entity(copied)
        again.dxf.geometry = block.name
        if not keep_address:
            again.discard_xdata("TAILSTOCK")

    return spoil


def note_height(height: float) -> Spoil:
    return lambda document: setattr(note(document).dxf, "height", height)


def tall_note(document: Any) -> None:
    """A fifth height of lettering, far from everything else."""
    heights = {t.dxf.height for t in paper_of(document).query("TEXT")}
    note(document).dxf.update({"height": 10.0, "text": "N"})
    assert 10.0 not in heights


def layer(name: str, **values: Any) -> Spoil:
    return lambda document: document.layers.get(name).dxf.update(values)


def first_line(document: Any) -> Any:
    return next(e for e in space_of(document) if e.dxftype() == "LINE" and e.dxf.layer == "OUTLINE")


def on_layer_0(document: Any) -> None:
    space_of(document).add_line((0, 3000), (5, 3000), dxfattribs={"layer": "0"})


def odd_scale(document: Any) -> None:
    view(document).dxf.view_height *= 1.25


def third_angle_circles(document: Any) -> None:
    """The circles at the other side of the frustum, whose small end then must not point right."""
    for entity in document.blocks["TITLE_BLOCK"]:
        if entity.dxftype() == "LWPOLYLINE" and entity.closed and len(entity) == 4:
            points = [tuple(p) for p in entity.get_points("xy")]
            middle = (min(x for x, _ in points) + max(x for x, _ in points)) / 2
            entity.set_points([(2 * middle - x, y) for x, y in points], format="xy")


def records_third_angle(document: Any) -> None:
    document.header.custom_vars.replace("PROJECTION", "third angle")


def hatch_alike(document: Any) -> None:
    hatches = [h for h in space_of(document).query("HATCH") if h.dxf.layer == "HATCH" and not h.dxf.solid_fill]
    for hatch in hatches:
        hatch.set_pattern_fill("TS_CUT", color=256, definition=[[50.0, (0, 0), (-1.5, 1.3), []]])


def hatch_along_edge(document: Any) -> None:
    hatch = next(h for h in space_of(document).query("HATCH") if h.dxf.layer == "HATCH")
    hatch.set_pattern_fill("TS_CUT", color=256, definition=[[1.4, (0, 0), (0.0, 2.0), []]])


def hatch_changes(document: Any) -> None:
    hatch = next(h for h in space_of(document).query("HATCH") if h.dxf.layer == "HATCH" and not h.dxf.solid_fill)
    other = hatch.copy()
    space_of(document).add_entity(other)
    for path in other.paths:
        path.vertices = [(x, y + 3000.0, b) for x, y, b in path.vertices]
    other.set_pattern_fill("TS_CUT", color=256, definition=[[20.0, (0, 0), (-1.5, 2.0), []]])


def balloon(number: str, new: str) -> Spoil:
    def spoil(document: Any) -> None:
        centres = [c.dxf.center for c in space_of(document).query("CIRCLE") if c.dxf.layer == "SYMBOL"]
        for text in space_of(document).query("TEXT"):
            at = text.dxf.align_point
            if text.dxf.text == number and any(c.distance(at) < 0.1 for c in centres):
                text.dxf.text = new
                return
        raise AssertionError(number)

    return spoil


def lose_row(document: Any) -> None:
    """The item number 5 of the list."""
    column = [t for t in paper_of(document).query("TEXT") if t.dxf.text == "5"]
    paper_of(document).delete_entity(min(column, key=lambda t: t.dxf.align_point.x))


def reorder_list(document: Any) -> None:
    texts = paper_of(document).query("TEXT")
    one, other = (min((t for t in texts if t.dxf.text == n), key=lambda t: t.dxf.align_point.x) for n in ("2", "4"))
    one.dxf.text, other.dxf.text = other.dxf.text, one.dxf.text


def gap_letter(document: Any) -> None:
    next(t for t in space_of(document).query("TEXT") if t.dxf.text == "B").dxf.text = "Q"


def symbol(document: Any, tag: str, others: tuple[str, ...] = ()) -> Any:
    for insert in space_of(document).query("INSERT"):
        tags = {a.dxf.tag for a in insert.attribs}
        if tag in tags and not tags & set(others):
            return insert
    raise AssertionError(tag)


def symbol_value(tag: str, words: str, others: tuple[str, ...] = ()) -> Spoil:
    def spoil(document: Any) -> None:
        for attribute in symbol(document, tag, others).attribs:
            if attribute.dxf.tag == tag:
                attribute.dxf.text = words

    return spoil


def lose_datum(document: Any) -> None:
    space_of(document).delete_entity(symbol(document, "DATUM", ("VALUE",)))


def second_datum(document: Any) -> None:
    again = symbol(document, "DATUM", ("VALUE",)).copy()
    space_of(document).add_entity(again)
    again.translate(0, 3000, 0)


def unused_datum(document: Any) -> None:
    second_datum(document)
    newest = list(space_of(document).query("INSERT"))[-1]
    newest.attribs[0].dxf.text = "K"


def unseen_words(words: str) -> Spoil:
    """A text where no view looks."""
    return lambda document: space_of(document).add_text(
        words, height=3.5, dxfattribs={"insert": (0, 3000), "layer": "TEXT", "style": "TAILSTOCK", "width": 0.85}
    )


def short_check_line(document: Any) -> None:
    lines = paper_of(document).query("LINE")
    long = next(e for e in lines if e.dxf.start.y == e.dxf.end.y and math.isclose(e.dxf.end.x - e.dxf.start.x, 100))
    end = long.dxf.end.x
    for line in lines:
        if line.dxf.start.x == line.dxf.end.x == end and abs(line.dxf.start.y - long.dxf.end.y) < 3:
            line.dxf.start, line.dxf.end = line.dxf.start - (0.2, 0, 0), line.dxf.end - (0.2, 0, 0)
    long.dxf.end -= (0.2, 0, 0)


def lose_check_line(document: Any) -> None:
    paper = paper_of(document)
    long = next(e for e in paper.query("LINE") if e.dxf.start.x == e.dxf.end.x
                and math.isclose(abs(e.dxf.start.y - e.dxf.end.y), 100.0))
    paper.delete_entity(long)


def wide_paper(document: Any) -> None:
    paper_of(document).dxf_layout.dxf.paper_width += 3.0


def shifted_frame(document: Any) -> None:
    frame = next(e for e in paper_of(document).query("LWPOLYLINE") if e.dxf.layer == "FRAME")
    left = min(x for x, _ in frame.get_points("xy"))
    frame.set_points([(x - (2 if x == left else 0), y) for x, y in frame.get_points("xy")], format="xy")


def turned_taper(document: Any) -> None:
    for block in document.blocks:
        if block.name.startswith("TAPER"):
            for polyline in block.query("LWPOLYLINE"):
                points = [tuple(p) for p in polyline.get_points("xy")]
                polyline.set_points([(7.0 - x, y) for x, y in points], format="xy")


def lose_letter(document: Any) -> None:
    space_of(document).delete_entity(next(t for t in space_of(document).query("TEXT") if t.dxf.text == "Z"))


def exact_end(document: Any) -> None:
    """A length that measures to where nothing is; its picture goes with it."""
    size = dimension(document, "body/barrel/length")
    size.dxf.defpoint2 = size.dxf.defpoint2 + Vec3(0.4, 0, 0)
    for entity in document.blocks[size.dxf.geometry]:
        if entity.dxftype() == "TEXT":
            entity.dxf.text = "35.1"
        elif entity.dxftype() == "SOLID" and abs(entity.dxf.vtx0.x - size.dxf.defpoint2.x + 0.4) < 1e-6:
            for k in range(4):
                name = f"vtx{k}"
                entity.dxf.set(name, entity.dxf.get(name) + Vec3(0.4, 0, 0))


def kept_limits(document: Any) -> None:
    dimension(document, "body/pocket_1/diameter").set_acad_dstyle({"dimtol": 1, "dimtp": 0.5, "dimtm": 0.011})


def bracketless(document: Any) -> None:
    """The overall length without its brackets closes the ring."""
    rewrite("body/overall", "(121.5)", "121.5")(document)
    dimension(document, "body/overall").dxf.text = "<>"


def boxed_with_limits(document: Any) -> None:
    boxed = document.blocks[dimension(document, "body/taper/diameter").dxf.geometry]
    text = boxed.query("TEXT").first
    text.dxf.text = "⌀23.825 ±0.1"
    text.dxf.width = 0.4


ALONE: list[tuple[str, Spoil, set[str]]] = [
    (BODY, text_over_text, {"text-over-text"}),
    (BODY, text_over_line, {"text-over-line"}),
    (BODY, text_over_arrow, {"text-over-arrow"}),
    (BODY, text_over_hatch, {"text-over-hatch"}),
    (BODY, outside_frame, {"outside-frame"}),
    (BODY, over_block, {"over-title-block"}),
    (BODY, rewrite("body/barrel/length", "35.5", "35.6"), {"figure-wrong"}),
    (BODY, rewrite("body/barrel/length", "35.5", "xx"), {"size-unreadable"}),
    (BODY, rewrite("body/pocket_2/diameter", "⌀28 H7 (", "⌀28 H8 ("), {"class-and-limits"}),
    (BODY, rewrite("body/pocket_2/diameter", "+0.021", "+0.020"), {"redrawn-differs", "class-and-limits"}),
    (BODY, rewrite("body/pocket_2/diameter", "0", "+0"), {"limits-wrong"}),
    (BODY, rewrite("body/pocket_2/diameter", "0", "0.000"), {"limits-wrong"}),
    (BODY, rewrite("body/pocket_2/diameter", "⌀28 H7 (", "⌀28 Z7 ("), {"class-unknown"}),
    (BODY, swap_limits, {"limits-wrong", "redrawn-differs"}),
    (BODY, kept_limits, {"redrawn-differs"}),
    (BODY, boxed_with_limits, {"limits-wrong", "redrawn-differs"}),
    (BODY, rewrite("body/barrel/length", "35.5", "35,5"), {"two-decimal-signs"}),
    (BODY, exact_end, {"size-in-the-air", "face-without-size"}),
    (BODY, bracketless, {"closed-chain"}),
    (BODY, delete("body/barrel/length"), {"face-without-size"}),
    (BODY, delete("body/pocket_1/depth"), {"face-without-size"}),
    (BODY, delete("body/floor_recess/diameter"), {"surface-without-size"}),
    (SPINDLE, delete("spindle/nose/overhang"), {"face-without-size"}),
    (SPINDLE, delete("spindle/point/angle"), {"face-without-size"}),
    (SPINDLE, delete("spindle/thread"), {"surface-without-size"}),
    (BODY, double("body/barrel/length", keep_address=True), {"size-doubled"}),
    (BODY, double("body/barrel/length", keep_address=False), {"size-doubled"}),
    (BODY, double("body/barrel/diameter", keep_address=False), {"size-doubled"}),
    (SPINDLE, double("spindle/point/angle", keep_address=False), {"size-doubled"}),
    (BODY, note_height(2.0), {"text-too-small"}),
    (BODY, note_height(3.0), {"text-height"}),
    (BODY, tall_note, {"text-height"}),
    (COVER, fill("APPROVED", ""), {"field-empty"}),
    (COVER, fill("OWNER", "TBD"), {"field-empty"}),
    (COVER, fill("OWNER", "-"), {"field-dash"}),
    (COVER, fill("DATE", "16.11.2026"), {"field-unreadable"}),
    (COVER, fill("SHEET", "7/6"), {"field-unreadable"}),
    (COVER, fill("GENERAL_TOLERANCE", "as usual"), {"field-unreadable"}),
    (COVER, fill("EDGES", "deburr"), {"field-unreadable"}),
    (COVER, fill("FINISH", "smooth"), {"field-unreadable"}),
    (COVER, fill("SCALE", "1:20"), {"scale-differs"}),
    (COVER, fill("SCALE", "large"), {"field-unreadable"}),
    (COVER, third_angle_circles, {"projection-symbol"}),
    (COVER, records_third_angle, {"projection-symbol"}),
    (COVER, layer("OUTLINE", lineweight=35), {"line-width"}),
    (BODY, layer("HATCH", lineweight=35), {"line-width"}),
    (COVER, layer("TEXT", lineweight=35), set()),
    (COVER, layer("CENTRE", linetype="Continuous"), {"line-type"}),
    (COVER, lambda document: document.layers.add("FANCY"), {"unknown-layer"}),
    (COVER, on_layer_0, {"layer-zero"}),
    (BODY, lambda document: setattr(first_line(document).dxf, "color", 1), {"own-look"}),
    (BODY, lambda document: setattr(first_line(document).dxf, "linetype", "TS_HIDDEN"), {"own-look"}),
    (BODY, hatch_along_edge, {"hatch-along-edge"}),
    (ARRANGEMENT, hatch_changes, {"hatch-changes"}),
    (ARRANGEMENT, balloon("3", "9"), {"items-differ"}),
    (ARRANGEMENT, balloon("3", "4"), {"items-differ"}),
    (ARRANGEMENT, lose_row, {"items-differ"}),
    (ARRANGEMENT, reorder_list, {"list-order"}),
    (ARRANGEMENT, gap_letter, {"letters-differ"}),
    (SPINDLE, symbol_value("VALUE", "⌀1"), {"frame-incomplete"}),
    (SPINDLE, symbol_value("VALUE", "tight"), {"frame-incomplete"}),
    (SPINDLE, symbol_value("DATUM", "C", ("VALUE",)), {"datum-missing", "datum-unused"}),
    (SPINDLE, lose_datum, {"datum-missing"}),
    (SPINDLE, second_datum, {"datum-doubled"}),
    (SPINDLE, unused_datum, {"datum-unused"}),
    (SPINDLE, rewrite("spindle/thread", "M6-6H", "M6x"), {"thread-unreadable"}),
    (BODY, unseen_words("M12x"), {"thread-unreadable"}),
    (BODY, unseen_words("ISO 6411 - A 5.3/2.5"), {"centre-hole"}),
    (BODY, unseen_words("ISO 6411 - B 2.5/8"), set()),
    (BODY, turned_taper, {"taper-symbol"}),
    (COVER, short_check_line, {"check-line"}),
    (COVER, lose_check_line, {"check-line"}),
    (COVER, wide_paper, {"paper-size", "frame"}),
    (COVER, shifted_frame, {"frame"}),
]


def ids(case: tuple[str, Spoil, set[str]]) -> str:
    return f"{case[0]}-{'+'.join(sorted(case[2])) or 'nothing'}"


def test_the_demo_has_no_fault() -> None:
    for name in demo_texts():
        found = proof_document(document_of(demo_texts()[name])).faults
        assert [str(one) for one in found if one.severity == "fault"] == [], name


@pytest.mark.parametrize("case", ALONE, ids=ids)
def test_a_spoilt_sheet_is_found_out_and_nothing_else_is_said(case: tuple[str, Spoil, set[str]]) -> None:
    name, spoil, expected = case
    document = document_of(demo_texts()[name])
    spoil(document)
    assert set(found_in(document) - clean_codes(name)) == expected


def moved_view(document: Any) -> None:
    """The smaller view over the larger one."""
    ports = sorted((v for v in paper_of(document).query("VIEWPORT") if v.dxf.id != 1), key=lambda v: v.dxf.width)
    # On its left half: in the middle of its box, between long view and end view, there may be nothing.
    ports[0].dxf.center = ports[-1].dxf.center - Vec3(0.25 * ports[-1].dxf.width, 0.0)


MANY: list[tuple[str, Spoil, set[str]]] = [
    (BODY, moved_view, {"views-overlap", "text-over-line"}),
    (ARRANGEMENT, hatch_alike, {"hatch-alike"}),
    (BODY, odd_scale, {"scale-not-standard", "scale-differs", "text-height"}),
    (BODY, fill("MATERIAL", "42CrMo4 quenched and tempered to 900 MPa"), {"field-too-long"}),
    (BODY, lose_letter, {"detail-letter"}),
]
"""Spoilt in a way that breaks several rules at once."""


@pytest.mark.parametrize("case", MANY, ids=ids)
def test_a_sheet_spoilt_in_several_ways_at_once(case: tuple[str, Spoil, set[str]]) -> None:
    name, spoil, expected = case
    document = document_of(demo_texts()[name])
    spoil(document)
    assert set(found_in(document) - clean_codes(name)) >= expected


def flanged(recess_mm: float) -> Part:
    """A flange with flats on its hub of 33 and a shallow recess in its face."""
    draft = PartDraft("flange", "Flange", "front")
    draft.length("length", "back", "front", -1, Size(15.0))
    draft.length("rim", "rim_end", "back", 1, Size(10.0))
    draft.length("recess", "recess_end", "back", 1, Size(0.5, 0.2, 0.0))
    draft.cylinder("rim", "outside", "back", "rim_end", Size(45.0))
    draft.cylinder("hub", "outside", "rim_end", "front", Size(33.0))
    draft.cylinder("recess", "inside", "back", "recess_end", Size(recess_mm), role="relief")
    draft.cylinder("bore", "inside", "recess_end", "front", Size(24.9))
    draft.crossing("flats", "flats", "rim_end", "front", across=Size(30.0, 0.0, -0.2))
    return draft.done()


@pytest.mark.parametrize("recess_mm", [31.0, 33.0])
def test_two_surfaces_of_one_diameter_are_no_size_given_twice(recess_mm: float) -> None:
    # The hub's own round is cut away by flats in the long view, where the recess alone has that diameter.
    stream = StringIO()
    part_sheet(flanged(recess_mm), BLOCK).document.write(stream)
    found = proof_document(document_of(stream.getvalue())).faults
    assert [str(one) for one in found if one.code == "size-doubled"] == []


def test_every_fault_says_where_and_by_whose_rule() -> None:
    document = document_of(demo_texts()[BODY])
    rewrite("body/barrel/length", "35.5", "35.6")(document)
    stream = StringIO()
    document.write(stream)
    found = [one for one in proof_document(document_of(stream.getvalue())).faults if one.code == "figure-wrong"]
    assert len(found) == 1
    one = found[0]
    size = dimension(document, "body/barrel/length")
    assert one.handle == size.dxf.handle
    assert one.layer == "DIM"
    assert one.at_mm is not None
    paper = paper_of(document).dxf_layout.dxf
    assert 0 < one.at_mm[0] < paper.paper_width
    assert 0 < one.at_mm[1] < paper.paper_height
    assert "35.6" in one.what
    assert "35.5" in one.what
    assert one.rule.source


def test_every_rule_has_words_and_a_source() -> None:
    for code, rule in RULES.items():
        assert rule.says.endswith("."), code
        assert rule.source, code
    assert all(NOT_TESTED.values())
