"""Ink: what a DXF layout leaves on paper.

Checked against the numbers put into the document, against the font file read with fontTools, and against the
dash and hatch patterns that the DXF document itself states.
"""

import hashlib
import os
import random
import subprocess
import sys
from itertools import pairwise
from math import dist, hypot
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from generator.drawing import font
from generator.drawing.font import STYLE_NAME, WIDTH_FACTOR, prepare_fonts, use_font
from generator.errors import OutputError
from generator.ink import Ink, Outline, Stroke, read_ink

prepare_fonts()

import ezdxf  # noqa: E402  (after the fonts, as the program does)
from ezdxf import units  # noqa: E402

ROOT = Path(__file__).parents[2]
PENS = {"OUTLINE": 50, "CENTRE": 25, "DIM": 25, "HATCH": 18, "FRAME": 70, "FINE": 13}
BODY = [(0, 0), (0, 10), (40, 10), (40, 15), (100, 18), (100, 0)]


def new_document():
    doc = ezdxf.new("R2013", setup=["linetypes"], units=units.MM)
    use_font(doc)
    for name, pen in PENS.items():
        doc.layers.add(name, lineweight=pen, linetype="CENTER2" if name == "CENTRE" else "CONTINUOUS")
    doc.layers.add("VIEW").dxf.plot = 0
    return doc


def add_dimension(doc, y, text):
    """A real DIMENSION with a picture of our own, its lines on layer 0."""
    dimension = doc.modelspace().add_linear_dim((0, y), (0, 0), (100, 0), dxfattribs={"layer": "DIM"}).dimension
    block = doc.blocks.new_anonymous_block(type_char="D")
    block.add_line((0, 0), (0, y - 2))
    block.add_line((0, y), (100, y))
    block.add_solid([(0, y), (3, y + 0.5), (3, y - 0.5), (3, y - 0.5)])
    look = {"style": STYLE_NAME, "char_height": 3.5, "attachment_point": 8, "insert": (50, y + 0.8)}
    block.add_mtext(text, dxfattribs=look)
    block.add_point((0, 0), dxfattribs={"layer": "Defpoints"})
    dimension.dxf.geometry = block.name
    dimension.dxf.text_midpoint = (50, y + 2, 0)
    return dimension


def sheet_document():
    doc = new_document()
    msp = doc.modelspace()
    msp.add_lwpolyline(BODY, close=True, dxfattribs={"layer": "OUTLINE"})
    hatch = msp.add_hatch(dxfattribs={"layer": "HATCH"})
    hatch.set_pattern_fill("ANSI31", scale=0.8)
    hatch.paths.add_polyline_path(BODY, is_closed=True)
    hatch.paths.add_polyline_path([(20, 3), (30, 3), (30, 7), (20, 7)], is_closed=True)
    msp.add_line((-5, 0), (105, 0), dxfattribs={"layer": "CENTRE"})
    msp.add_circle((70, 8), 4, dxfattribs={"layer": "FINE"})
    add_dimension(doc, -8, "Ø100 h6\\H0.6x;\\S+0.021^ 0;")
    layout = doc.layouts.new("A4")
    layout.page_setup(size=(210, 297), margins=(0, 0, 0, 0))
    layout.add_lwpolyline([(20, 10), (200, 10), (200, 287), (20, 287)], close=True, dxfattribs={"layer": "FRAME"})
    layout.add_line((50, 280), (150, 280), dxfattribs={"layer": "DIM"})
    add_view(layout, (110, 160), (170, 220), (50, 0), 1)
    add_view(layout, (150, 40), (80, 40), (70, 8), 2)
    return doc


def add_view(layout, centre, size, looks_at, scale):
    return layout.add_viewport(
        center=centre,
        size=size,
        view_center_point=looks_at,
        view_height=size[1] / scale,
        dxfattribs={"layer": "VIEW"},
    )


@pytest.fixture(scope="module")
def doc():
    return sheet_document()


@pytest.fixture(scope="module")
def ink(doc):
    return read_ink(doc, "A4")


def on_layer(ink: Ink, layer: str) -> list[Stroke]:
    return [stroke for stroke in ink.strokes if stroke.layer == layer]


def length(stroke: Stroke) -> float:
    points = list(stroke.outline.points())
    return sum(dist(p, q) for p, q in pairwise(points))


def test_sheet_has_its_size_and_paper_lines_their_place(ink):
    assert (ink.width_mm, ink.height_mm) == (210.0, 297.0)
    assert Outline((50.0, 280.0), ((150.0, 280.0),), False) in [stroke.outline for stroke in on_layer(ink, "DIM")]
    (frame,) = on_layer(ink, "FRAME")
    assert frame.outline.closed
    assert frame.outline.extents() == (20.0, 10.0, 200.0, 287.0)


def test_views_show_model_space_at_their_scale(ink):
    first, second = (stroke.outline.extents() for stroke in on_layer(ink, "FINE"))
    # Curves of a circle reach its box exactly at the quadrants, where their control points lie on it.
    assert first == pytest.approx((126.0, 164.0, 134.0, 172.0), abs=1e-6)
    assert second == pytest.approx((142.0, 32.0, 158.0, 48.0), abs=1e-6)


def test_outline_is_cut_at_the_window(ink):
    for stroke in on_layer(ink, "OUTLINE")[1:]:
        x0, y0, x1, y1 = stroke.outline.extents()
        assert x0 >= 110 - 1e-6
        assert x1 <= 190 + 1e-6
        assert y0 >= 20 - 1e-6
        assert y1 <= 60 + 1e-6


def test_pens_are_those_of_the_layers(ink):
    assert {(s.layer, s.width_mm) for s in ink.strokes} == {(layer, pen / 100) for layer, pen in PENS.items()}


def test_picture_of_a_dimension_takes_layer_pen_and_handle_from_the_dimension(doc, ink):
    (dimension,) = doc.modelspace().query("DIMENSION")
    marks = [mark for mark in (*ink.strokes, *ink.fills, *ink.texts) if mark.handle == dimension.dxf.handle]
    assert len(marks) == 2 + 1 + 3
    assert {mark.layer for mark in marks} == {"DIM"}


def test_dashes_have_the_lengths_of_the_pattern_in_every_view(doc, ink):
    # Dashes of the line type as the document states them: group 49, dash positive.
    tags = doc.linetypes.get("CENTER2").pattern_tags.tags
    dashes = {tag.value for tag in tags if tag.code == 49 and tag.value > 0}
    for low, high in ((50, 270), (20, 60)):
        found = [s for s in on_layer(ink, "CENTRE") if low <= s.outline.start[1] <= high]
        inner = {round(length(s), 6) for s in found[1:-1]}
        assert inner == {round(dash, 6) for dash in dashes}


def test_hatch_has_its_pitch_and_spares_the_inner_boundary(ink):
    lines = [s for s in on_layer(ink, "HATCH") if s.outline.start[1] > 100]
    # ANSI31: one family at 45 degrees, 3.175 mm apart at scale 1.
    offsets = sorted({round((s.outline.start[1] - s.outline.start[0]) / 2**0.5, 3) for s in lines})
    steps = [q - p for p, q in pairwise(offsets)]
    assert steps == pytest.approx([3.175 * 0.8] * len(steps), abs=2e-3)
    for s in lines:
        (x0, y0), (x1, y1) = s.outline.start, s.outline.segments[0]
        middle = ((x0 + x1) / 2 - 60, (y0 + y1) / 2 - 160)
        assert not (20.01 < middle[0] < 29.99 and 3.01 < middle[1] < 6.99)


def test_reading_is_repeatable_and_leaves_chance_alone(doc, ink):
    random.seed(1)
    before = random.getstate()
    assert read_ink(doc, "A4") == ink
    assert random.getstate() == before


def test_ink_is_the_same_in_another_process(ink):
    code = (
        "import importlib.util, hashlib, sys;"
        f"spec = importlib.util.spec_from_file_location('sheet', {str(Path(__file__))!r});"
        "sheet = importlib.util.module_from_spec(spec); spec.loader.exec_module(sheet);"
        "print(hashlib.sha256(repr(sheet.read_ink(sheet.sheet_document(), 'A4')).encode()).hexdigest())"
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONHASHSEED": "7"}
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=environment)
    assert run.stdout.strip() == hashlib.sha256(repr(ink).encode()).hexdigest()


def advance_from_file(text: str, height_mm: float) -> float:
    """Sum of glyph advances straight from the font file, at a cap height taken from the letter H."""
    with TTFont(font.font_path()) as file:
        names, metrics = file.getBestCmap(), file["hmtx"]
        return sum(metrics[names[ord(c)]][0] for c in text) * height_mm / file["glyf"]["H"].yMax


def test_text_widths_are_those_of_the_font_file():
    for text in ("Ø12 H7", "⌀100 ±0.02°", "1:19.922 → A"):
        assert font.text_width_mm(text, 3.5, 1.0) == pytest.approx(advance_from_file(text, 3.5), rel=1e-12)
        assert font.text_width_mm(text, 3.5) == pytest.approx(WIDTH_FACTOR * advance_from_file(text, 3.5))


def test_ink_of_text_reaches_below_the_line_only_where_a_letter_does():
    assert font.text_reach_mm("H", 3.5) == pytest.approx((0.0, 3.5))
    low, high = font.text_reach_mm("Hg", 3.5)
    assert low < -0.5
    assert high == pytest.approx(3.5)


def test_characters_without_a_glyph_are_named():
    assert font.missing_characters("Ø ⌀ ° ± → é") == ""
    assert font.missing_characters("⌖ A ⌖") == "⌖"


def test_words_of_one_line_come_back_as_one_run_and_limits_stacked(ink):
    size, upper, lower = (text for text in ink.texts)
    assert [size.text, upper.text, lower.text] == ["Ø100 h6", "+0.021", "0"]
    assert size.cap_height_mm == pytest.approx(3.5)
    assert upper.cap_height_mm == pytest.approx(2.1)
    assert size.advance_mm == pytest.approx(WIDTH_FACTOR * advance_from_file("Ø100 h6", 3.5))
    assert upper.matrix[5] > lower.matrix[5]
    assert upper.matrix[4] == pytest.approx(size.matrix[4] + size.advance_mm)


def test_turned_text_keeps_its_angle_and_box():
    doc = new_document()
    look = {"style": STYLE_NAME, "width": WIDTH_FACTOR, "rotation": 90, "layer": "DIM"}
    doc.modelspace().add_text("H 25", height=5, dxfattribs=look).set_placement((30, 40))
    (run,) = read_ink(doc, "Model", (0, 0, 100, 100)).texts
    assert run.matrix == pytest.approx((0, WIDTH_FACTOR, -1, 0, 30, 40), abs=1e-9)
    a, b, c, d = run.box()
    assert hypot(b[0] - a[0], b[1] - a[1]) == pytest.approx(WIDTH_FACTOR * advance_from_file("H 25", 5))
    assert (min(p[0] for p in (a, b, c, d)), max(p[0] for p in (a, b, c, d))) == pytest.approx((25, 30), abs=0.2)
    assert run.box()[0][1] == pytest.approx(40)


def test_long_text_without_a_width_is_not_wrapped():
    doc = new_document()
    # Larger letters inside the text are what a guess of its width from the nominal height misses.
    words = "small \\H3x;the pocket is bored with the seat"
    look = {"style": STYLE_NAME, "char_height": 2.5, "insert": (5, 5), "attachment_point": 1}
    doc.modelspace().add_mtext(words, dxfattribs=look)
    small, large = read_ink(doc, "Model", (0, 0, 300, 20)).texts
    assert (small.text, large.text) == ("small", "the pocket is bored with the seat")
    assert small.matrix[4] == pytest.approx(5)
    assert large.cap_height_mm == pytest.approx(7.5)


def test_text_is_whole_cut_or_gone_with_its_window():
    doc = new_document()
    msp = doc.modelspace()
    look = {"style": STYLE_NAME, "width": WIDTH_FACTOR}
    for text, place in (("inside", (5, 5)), ("straddling", (35, 20)), ("outside", (60, 20))):
        msp.add_text(text, height=3.5, dxfattribs=look).set_placement(place)
    layout = doc.layouts.new("A4")
    layout.page_setup(size=(210, 297), margins=(0, 0, 0, 0))
    add_view(layout, (100, 100), (40, 40), (20, 20), 1)
    runs = {run.text: run.clip for run in read_ink(doc, "A4").texts}
    assert runs.keys() == {"inside", "straddling"}
    assert runs["inside"] == ()
    xs, ys = zip(*runs["straddling"], strict=True)
    assert (min(xs), min(ys), max(xs), max(ys)) == (80.0, 80.0, 120.0, 120.0)


def test_layers_that_are_not_plotted_leave_no_ink():
    doc = new_document()
    doc.layers.add("CONSTRUCTION").dxf.plot = 0
    doc.modelspace().add_line((0, 0), (10, 10), dxfattribs={"layer": "CONSTRUCTION"})
    assert read_ink(doc, "Model", (0, 0, 10, 10)).strokes == ()


def test_inch_documents_come_out_in_millimetres():
    doc = new_document()
    doc.units = units.IN
    doc.modelspace().add_line((0, 0), (1, 0), dxfattribs={"layer": "OUTLINE"})
    layout = doc.layouts.new("Letter")
    layout.page_setup(size=(8.5, 11), margins=(0, 0, 0, 0), units="inch")
    layout.add_line((1, 1), (2, 1), dxfattribs={"layer": "OUTLINE"})
    sheet = read_ink(doc, "Letter")
    assert (sheet.width_mm, sheet.height_mm) == pytest.approx((215.9, 279.4))
    assert sheet.strokes[0].outline.extents() == pytest.approx((25.4, 25.4, 50.8, 25.4))
    preview = read_ink(doc, "Model", (-1, -1, 2, 1))
    assert preview.width_mm == pytest.approx(76.2)
    assert preview.strokes[0].outline.extents() == pytest.approx((25.4, 25.4, 50.8, 25.4))


def test_margins_of_a_layout_move_the_sheet_not_the_scale():
    doc = new_document()
    layout = doc.layouts.new("A4")
    layout.page_setup(size=(210, 297), margins=(5, 6, 7, 8))
    layout.add_line((0, 0), (100, 0), dxfattribs={"layer": "OUTLINE"})
    (stroke,) = read_ink(doc, "A4").strokes
    assert stroke.outline.extents() == pytest.approx((8, 7, 108, 7))


def test_curves_are_followed_within_the_sagitta():
    doc = new_document()
    doc.modelspace().add_circle((0, 0), 20, dxfattribs={"layer": "OUTLINE"})
    (stroke,) = read_ink(doc, "Model", (-20, -20, 20, 20)).strokes
    points = list(stroke.outline.points(0.01))
    radii = [hypot(x - 20, y - 20) for x, y in points]
    middles = [hypot((p[0] + q[0]) / 2 - 20, (p[1] + q[1]) / 2 - 20) for p, q in pairwise(points)]
    # Four cubics follow a circle within 2.7e-4 of its radius (known of the usual quarter-circle approximation).
    assert max(abs(radius - 20) for radius in radii) < 20 * 2.8e-4
    assert min(middles) > 20 - 0.01 - 20 * 2.8e-4


@pytest.mark.parametrize(
    ("draw", "named"),
    [
        (lambda msp: msp.new_entity("TOLERANCE", {"content": "{\\Fgdt;r}%%v0.01"}), "TOLERANCE"),
        (lambda msp: msp.add_wipeout([(0, 0), (5, 5)]), "WIPEOUT"),
        (lambda msp: msp.add_text("x", height=3, dxfattribs={"extrusion": (1, 0, 0)}), "TEXT"),
        (lambda msp: msp.add_image(msp.doc.add_image_def("a.png", (9, 9)), (0, 0), (9, 9)), "IMAGE"),
    ],
)
def test_what_cannot_be_drawn_is_an_error_not_a_gap(draw, named):
    doc = new_document()
    draw(doc.modelspace())
    with pytest.raises(OutputError, match=f"{named}.*cannot be printed"):
        read_ink(doc, "Model", (0, 0, 10, 10))


def test_missing_layout_and_missing_extents_are_told(doc):
    with pytest.raises(OutputError, match=r"A9.*Model.*A4"):
        read_ink(doc, "A9")
    with pytest.raises(OutputError, match="which part"):
        read_ink(doc, "Model")


def test_missing_font_package_is_told(monkeypatch):
    monkeypatch.setattr(font, "find_spec", lambda _name: None)
    with pytest.raises(OutputError, match="matplotlib that carries it is not installed"):
        font._find_font(font.FONT_FILE)


def test_fonts_leave_nothing_in_the_users_folder_and_load_no_plotting(tmp_path):
    code = (
        "import sys; from generator.drawing.font import prepare_fonts; prepare_fonts();"
        "from ezdxf.fonts import fonts; assert fonts.font_manager.fallback_font_name() == 'DejaVuSans.ttf';"
        "assert not fonts.font_manager.has_font('DejaVuSerif.ttf'); assert 'matplotlib' not in sys.modules"
    )
    environment = {k: v for k, v in os.environ.items() if k != "XDG_CACHE_HOME"}
    environment |= {"HOME": str(tmp_path), "PYTHONPATH": str(ROOT)}
    subprocess.run([sys.executable, "-c", code], check=True, env=environment)
    assert list(tmp_path.iterdir()) == []
