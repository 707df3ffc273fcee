"""Prints: read back with pdfplumber and pypdf, which know nothing of how the files were made."""

import hashlib
import io
import os
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pdfplumber
import pypdf
import pytest

from generator.drawing.font import CAP_HEIGHT, STYLE_NAME, WIDTH_FACTOR, prepare_fonts, text_width_mm, use_font
from generator.errors import OutputError
from generator.ink import Fill, Ink, Outline, Stroke, TextRun, read_ink
from generator.prints.content import (
    Beside,
    Caution,
    Facts,
    Field,
    Figure,
    FindingBlock,
    Group,
    HoldingRow,
    KeyValue,
    KeyValues,
    OperationRow,
    Operations,
    Paragraph,
    Plan,
    Reach,
    SheetPage,
    Table,
    TextPage,
)
from generator.prints.plan import write_plan
from generator.prints.svg import svg_text

ROOT = Path(__file__).parents[2]
MM = 72 / 25.4
SVG = "{http://www.w3.org/2000/svg}"
WORD = "x" * 200
FOOTER = "Computed figures are not ratings. Load, speed and thrust are not checked: guard the work."


def straight(start, end, width_mm, layer="DIM"):
    return Stroke(Outline(start, (end,), False), width_mm, layer, "1")


def written(text, x, y, height_mm=3.5, turned=False, clip=()):
    k = WIDTH_FACTOR
    matrix = (0.0, k, -1.0, 0.0, x, y) if turned else (k, 0.0, 0.0, 1.0, x, y)
    return TextRun(text, matrix, height_mm, text_width_mm(text, height_mm), "DIM", "1", clip)


def sheet(width_mm=210.0, height_mm=297.0):
    """Check lines across and upright, a curve, a triangle with a hole, and text: plain, turned, cut by a window."""
    hole = Outline((62.0, 61.0), ((64.0, 61.0), (63.0, 63.0)), True)
    triangle = Outline((60.0, 60.0), ((66.0, 60.0), (63.0, 66.0)), True)
    arc = Outline((30.0, 50.0), ((35.0, 60.0, 45.0, 60.0, 50.0, 50.0),), False)
    return Ink(
        width_mm,
        height_mm,
        (
            straight((50.0, 280.0), (150.0, 280.0), 0.25),
            straight((30.0, 100.0), (30.0, 200.0), 0.5, "OUTLINE"),
            Stroke(arc, 0.13, "FINE <&>", "2"),
            straight((20.0, 10.0), (20.0, 10.0), 0.7, "FRAME"),
        ),
        (Fill((triangle, hole), "DIM", "3"),),
        (
            written("Ø100 h6 ⌀12 ±0.02° → A & <B>", 60, 150),
            written("turned text", 40, 120, 5.0, turned=True),
            written("cut by a window", 100, 30, clip=((100.0, 20.0), (110.0, 20.0), (110.0, 40.0), (100.0, 40.0))),
        ),
    )


def plan_of(*items, title="Revolving centre, Morse 3"):
    return Plan(title, "Rings of 12 and 17 bore", "RC-1", "2025-01-05", "Bench", FOOTER, items)


def printed(*items, **more) -> bytes:
    stream = io.BytesIO()
    write_plan(plan_of(*items, **more), stream)
    return stream.getvalue()


def sample_items():
    """One of everything that a plan can hold."""
    steps = tuple(
        OperationRow(
            f"1.{n}", "Face and centre", (Field("tool", "knife tool, 460 rpm"),),
            (Reach("16.989 to 17.000 mm", "dia"),), (Field("dial", "in 26 divisions"),), "mind the jaws" * (n % 2),
        )
        for n in range(1, 9)
    )
    rows = tuple((str(n), f"Ø{n} h6", "0 / -0.011", "") for n in range(40))
    return (
        SheetPage(sheet(), "Arrangement"),
        TextPage(
            "Settings",
            (
                Caution(("Wear eye protection.", "Stop the lathe before measuring.")),
                KeyValues((KeyValue("Top slide", "1° 29' 15\"", "half angle"),), title="Taper"),
                Paragraph("Order", "strong"),
                Paragraph("Read all of it first, <then> cut & measure.\nSecond line."),
                Operations("Set-up 1", steps),
                Table(
                    ("no.", "size", "limits", "as made"),
                    rows,
                    (20, 50, 50, 60),
                    ("right",),
                    ("ISO 286-2",),
                    "Inspection",
                ),
                Paragraph("small print", "small"),
            ),
        ),
        SheetPage(sheet(297.0, 420.0), "Body"),
        SheetPage(sheet(297.0, 210.0), "Spindle"),
        TextPage(
            "Findings",
            (
                FindingBlock("stop", "body: wall", "2.1 mm; 3.0 wanted", "shop choice", ("body_diameter = 41.8 mm",)),
                FindingBlock("warn", "point: overhang", "3.1 times the nose"),
                FindingBlock("note", "rings", "measure them"),
                Figure(sheet(100.0, 90.0), 50.0, "Figure 1"),
            ),
        ),
    )


@pytest.fixture(scope="module")
def sample() -> bytes:
    return printed(*sample_items())


@pytest.fixture(scope="module")
def pages(sample):
    with pdfplumber.open(io.BytesIO(sample)) as pdf:
        yield pdf.pages


def fonts_of(data: bytes) -> dict[str, bool]:
    """Every font that a page or form names, and whether its file is embedded."""
    found: dict[str, bool] = {}
    for thing in _dictionaries(data):
        if thing.get("/Type") == "/Font":
            descriptor = thing.get("/FontDescriptor")
            embedded = descriptor is not None and "/FontFile2" in descriptor.get_object()
            found[thing["/BaseFont"]] = embedded
    return found


def _dictionaries(data: bytes):
    reader = pypdf.PdfReader(io.BytesIO(data))
    for number in range(1, reader.trailer["/Size"]):
        thing = reader.get_object(number)
        if isinstance(thing, pypdf.generic.DictionaryObject):
            yield thing


def test_pages_are_exactly_the_sheets(sample):
    boxes = [
        (float(page.mediabox.width) / MM, float(page.mediabox.height) / MM)
        for page in pypdf.PdfReader(io.BytesIO(sample)).pages
    ]
    assert boxes[0] == pytest.approx((210, 297), abs=0.1)
    assert boxes[-3] == pytest.approx((297, 420), abs=0.1)
    assert boxes[-2] == pytest.approx((297, 210), abs=0.1)
    assert all(box == pytest.approx((210, 297), abs=0.1) for box in boxes[1:-3])


@pytest.mark.parametrize("index", [0, -3, -2])
def test_check_lines_measure_100_mm_and_stand_in_their_place(pages, index):
    across = next(
        line for line in pages[index].lines if abs(line["y0"] - line["y1"]) < 0.01 and line["x1"] - line["x0"] > 9
    )
    upright = next(line for line in pages[index].lines if line["y1"] - line["y0"] > 9)
    assert (across["x1"] - across["x0"]) / MM == pytest.approx(100.0, abs=0.02)
    assert (upright["y1"] - upright["y0"]) / MM == pytest.approx(100.0, abs=0.02)
    assert (across["x0"] / MM, across["y0"] / MM) == pytest.approx((50.0, 280.0), abs=0.02)


def test_pens_are_exact(sample):
    page = pypdf.PdfReader(io.BytesIO(sample)).pages[0]
    operations = pypdf.generic.ContentStream(page["/Contents"], None).operations
    scale = next(operands for operands, operator in operations if operator == b"cm" and float(operands[0]) > 2)
    assert float(scale[0]) == pytest.approx(MM, abs=1e-5)
    widths = {float(operands[0]) for operands, operator in operations if operator == b"w"}
    assert {0.13, 0.25, 0.5, 0.7} <= widths


def test_holes_in_a_fill_stay_open(sample):
    page = pypdf.PdfReader(io.BytesIO(sample)).pages[0]
    operators = [operator for _, operator in pypdf.generic.ContentStream(page["/Contents"], None).operations]
    # f* fills by the even-odd rule, f by the winding number (ISO 32000-1, 8.5.3).
    assert b"f*" in operators
    assert b"f" not in operators


def test_text_of_a_sheet_is_whole_and_where_it_belongs(sample, pages):
    text = pypdf.PdfReader(io.BytesIO(sample)).pages[0].extract_text()
    for run in sheet().texts:
        assert run.text in text
    letter = next(c for c in pages[0].chars if c["text"] == "Ø")
    assert letter["x0"] / MM == pytest.approx(60.0, abs=0.01)
    last = next(c for c in pages[0].chars if c["text"] == ">")
    assert last["x1"] / MM == pytest.approx(60.0 + sheet().texts[0].advance_mm, abs=0.02)
    # The height of the em square on the page, of which a capital takes its part.
    assert letter["size"] * CAP_HEIGHT / MM == pytest.approx(3.5, abs=0.01)


def test_every_font_is_embedded_as_a_subset(sample):
    fonts = fonts_of(sample)
    assert fonts
    assert all(fonts.values()), fonts
    assert all(name[1:].split("+")[0].isupper() and "+DejaVuSans" in name for name in fonts)


def test_text_pages_say_everything(sample):
    text = "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(sample)).pages)
    wanted = (
        "Rings of 12 and 17 bore",
        "CAUTION",
        "Stop the lathe",
        "Top slide",
        "1° 29' 15\"",
        "<then> cut & measure",
        "Set-up 1",
        "16.989 to",
        "in 26 divisions",
        "mind the jaws",
        "as made",
        "ISO 286-2",
        "STOP",
        "WARN",
        "NOTE",
        "→ body_diameter = 41.8 mm",
        "Source: shop choice",
        "Figure 1",
    )
    assert [words for words in wanted if words not in text] == []


def test_text_pages_are_numbered_of_the_whole_and_carry_the_caution(sample):
    texts = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(sample)).pages]
    for number, text in enumerate(texts, start=1):
        if "turned text" in text and "Figure 1" not in text:
            continue
        squeezed = " ".join(text.split())
        assert f"page {number} of {len(texts)}" in squeezed
        assert FOOTER in squeezed


def test_headings_of_a_table_are_repeated(sample):
    texts = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(sample)).pages]
    with_rows = [text for text in texts if "0 / -0.011" in text]
    assert len(with_rows) > 1
    assert all("as made" in text for text in with_rows)


def test_contents_lead_to_the_pages(sample):
    reader = pypdf.PdfReader(io.BytesIO(sample))
    entries = {entry.title: reader.get_destination_page_number(entry) for entry in reader.outline}
    assert list(entries) == ["Arrangement", "Settings", "Body", "Spindle", "Findings"]
    assert entries["Arrangement"] == 0
    assert entries["Body"] == len(reader.pages) - 3
    assert reader.metadata.title == "Revolving centre, Morse 3"


def test_a_figure_stands_at_its_width(pages):
    # The ink is 100 wide and the figure 50, so its upright line of 100 measures 50.
    upright = [line for line in pages[-1].lines if line["y1"] - line["y0"] > 9]
    assert max(line["y1"] - line["y0"] for line in upright) / MM == pytest.approx(50.0, abs=0.02)


def test_same_plan_same_bytes_also_in_another_process(sample):
    assert printed(*sample_items()) == sample
    code = (
        "import importlib.util, hashlib;"
        f"spec = importlib.util.spec_from_file_location('prints', {str(Path(__file__))!r});"
        "prints = importlib.util.module_from_spec(spec); spec.loader.exec_module(prints);"
        "print(hashlib.sha256(prints.printed(*prints.sample_items())).hexdigest());"
        "print(hashlib.sha256(prints.svg_text(prints.sheet()).encode()).hexdigest())"
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONHASHSEED": "11"}
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=environment)
    here = [hashlib.sha256(data).hexdigest() for data in (sample, svg_text(sheet()).encode())]
    assert run.stdout.split() == here


ROUGH = {
    "words": (Paragraph(WORD * 3), Paragraph(WORD, "strong"), Paragraph("p " * 4000), Paragraph("<b>&amp; \x00\ud800")),
    "rows": (Table(("a", WORD, "c"), tuple((WORD, str(n), "word " * 6) for n in range(90)), (200, 90, 30)),),
    "tall cell": (Table(("one", "two"), (("long " * 5000, "b"),), title=WORD),),
    "many columns": (Table(tuple("abcdefghijklmnopqrstuvwxyz"), (("many letters",) * 26,)),),
    "nothing": (Table((), ()), Table((), (("q",), ("r", "s"))), KeyValues(()), Operations("", ()), Caution(()),
                Group("", ()), Paragraph("")),
    "operations": (
        Operations(WORD, (
            OperationRow(
                "11.11", "do " * 300, (Field("set", "set " * 300),), (Reach("9", WORD),),
                (Field("turn", "turn " * 300),), "mind " * 99,
            ),
            HoldingRow("2", WORD, (Field("held", "chuck " * 90),), (Caution((WORD, "care " * 40)),)),
            HoldingRow("3", "long", (Field("held", "chuck " * 900),), (Caution((WORD,)),)),
            OperationRow("1.2", "small"),
        )),
    ),
    "group": (Group(WORD, (Paragraph("p " * 4000), Figure(sheet()), Group(WORD, (Paragraph("q"),)))), Group("b", ())),
    "beside": (
        Beside(Figure(Ink(90.0, 60.0, (), (), ())), Facts((Field(WORD, "word " * 40), Field("held", "chuck")))),
    ),
    "caution": (Caution(("care " * 4000, WORD)),),
    "values": (KeyValues((KeyValue(WORD, WORD, "n " * 3000),)),),
    "finding": (FindingBlock("stop", WORD, "t " * 4000, WORD, (WORD,)),),
    "figure": (Paragraph("above", "strong"), Figure(sheet(10.0, 4000.0), 500.0), Figure(sheet(), None, WORD)),
}


@pytest.mark.parametrize("far", [False, True], ids=["near", "far"])
@pytest.mark.parametrize("blocks", ROUGH.values(), ids=ROUGH)
def test_nothing_runs_off_a_page(blocks, far):
    data = printed(TextPage(WORD, blocks, far), title="T" * 120)
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            for mark in page.chars:
                assert mark["x0"] >= 20 * MM - 0.1
                assert mark["x1"] <= page.width - 10 * MM + 0.1
                assert mark["top"] >= 10 * MM
                assert mark["bottom"] <= page.height - 8 * MM
            foot = min(
                line["top"] for line in page.lines if line["top"] > page.height - 40 * MM and line["width"] > 500
            )
            assert all(c["bottom"] <= foot + 0.5 or c["top"] >= foot - 0.5 for c in page.chars)


def letters(data: bytes) -> list[tuple[str, float]]:
    """Every letter of the text pages, above their foot, with the height of its em in mm."""
    found = []
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            low = page.height - 40 * MM
            foot = min(line["top"] for line in page.lines if line["top"] > low and line["width"] > 500)
            found += [(c["text"], c["size"] / MM) for c in page.chars if c["bottom"] <= foot + 0.5]
    return found


def test_a_page_for_the_lathe_has_capitals_of_3_5_mm_and_figures_of_5_mm():
    """20 minutes of arc, what is read without strain, are 3.5 mm at 60 cm (geometry; the angle from memory)."""
    row = OperationRow("1.1", "Turn", (Field("tool", "knife"),), (Reach("17.000 to 17.011 mm", "dia"),), (), "mind it")
    blocks = (
        Operations("Set-up 1", (row, HoldingRow("2", "Turned round", (Field("held", "in the chuck"),)))),
        Facts((Field("held", "so"),)), Table(("a",), (("b",),)), Paragraph("words"), Caution(("care",)),
        KeyValues((KeyValue("Swing", "1 deg", "this way", True), KeyValue("Rise", "2", "there"))),
    )
    found = letters(printed(TextPage("Page", (Group("Title", blocks),), far=True)))
    heights = [size * CAP_HEIGHT for _, size in found[len("Revolving centre, Morse 3") :]]
    assert sum(height >= 5.0 for height in heights) >= len("17.000to17.011mm1deg")
    plan_head = ("Rings of 12 and 17 bore", "RC-1")
    small = [text for text, size in found if size * CAP_HEIGHT < 3.5]
    assert len(small) <= len("".join(plan_head)) + 40


def test_no_text_of_a_page_is_smaller_than_an_em_of_3_5_mm(sample):
    with pdfplumber.open(io.BytesIO(sample)) as pdf:
        # The last page holds a sheet at half its size.
        text_pages = [page for page in pdf.pages[:-1] if "page " in page.extract_text()]
        assert text_pages
        for page in text_pages:
            assert min(c["size"] for c in page.chars) / MM >= 3.5


def test_a_group_stays_whole_where_it_fits_and_has_an_entry_of_its_own():
    groups = tuple(Group(f"Group {n}", (Paragraph(f"first {n}\n" + "line\n" * 22 + f"last {n}"),)) for n in range(5))
    data = printed(TextPage("Pages", groups, far=True))
    texts = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]
    for n in range(5):
        assert [i for i, text in enumerate(texts) if f"first {n}" in text] == [
            i for i, text in enumerate(texts) if f"last {n}" in text
        ]
    outline = pypdf.PdfReader(io.BytesIO(data)).outline
    assert [entry.title for entry in outline[1]] == [f"Group {n}" for n in range(5)]


def test_a_group_higher_than_a_page_fills_the_one_it_begins_on():
    rows = tuple(OperationRow(f"1.{n}", f"Turn number {n}") for n in range(1, 30))
    groups = (Group("Short", (Paragraph("few words"),)), Group("Long", (Operations("Set-up 1", rows),)))
    data = printed(TextPage("P", groups, far=True))
    texts = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]
    assert "few words" in texts[0]
    assert "Turn number 12" in texts[0]
    assert "Turn number 29" in texts[1]
    assert "Set-up 1" in texts[1]


def test_groups_of_pages_that_follow_share_paper_and_keep_their_entries():
    pages = [TextPage(f"Part {n}", (Group(f"Clamping {n}", (Paragraph("words"),)),), far=True) for n in range(3)]
    reader = pypdf.PdfReader(io.BytesIO(printed(*pages)))
    assert len(reader.pages) == 1
    entries = [entry.title for entry in reader.outline if not isinstance(entry, list)]
    assert entries == ["Part 0", "Part 1", "Part 2"]


def test_a_new_clamping_within_a_table_is_never_the_last_thing_on_a_page():
    for count in range(8, 24):
        rows = tuple(OperationRow(f"1.{n}", "Turn") for n in range(count))
        rows += (HoldingRow("2", "Turned round", (Field("held", "soft jaws"),)), OperationRow("2.1", "Face to length"))
        data = printed(TextPage("P", (Group("Ring", (Operations("Set-ups 1, 2", rows),)),), far=True))
        texts = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]
        assert [("Turned round" in text) == ("Face to length" in text) for text in texts] == [True] * len(texts)


def test_two_clampings_of_a_table_are_parted_only_where_the_page_before_would_end_above_its_middle():
    held = HoldingRow("2", "Turned round", (Field("held", "soft jaws"),))
    rows = (*(OperationRow(f"1.{n}", "Turn") for n in range(5)), held, *(OperationRow("2.1", "Face") for _ in range(7)))
    for lines, parted in ((12, True), (30, False)):
        washer = Group("Washer", (Operations("Set-ups 1, 2", rows),))
        data = printed(TextPage("P", (Group("Other", (Paragraph("line\n" * lines),)), washer), far=True))
        texts = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]
        pages = [next(i for i, text in enumerate(texts) if word in text) for word in ("Washer", "Turned round")]
        assert pages == ([0, 1] if parted else [1, 1])


def test_a_page_begins_below_a_short_one_but_not_below_a_long_one():
    short, long = Paragraph("few words"), Paragraph("line\n" * 30)
    data = printed(TextPage("One", (short,)), TextPage("Two", (long,)), TextPage("Three", (short,)))
    texts = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]
    assert [("One" in text, "Two" in text, "Three" in text) for text in texts] == [
        (True, True, False), (False, False, True),
    ]  # fmt: skip


def test_every_row_of_a_long_table_is_there():
    data = printed(TextPage("Rows", (Table(("no.",), tuple((f"row-{n}.",) for n in range(300))),)))
    text = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages)
    assert all(f"row-{n}." in text for n in range(300))


@pytest.mark.parametrize("rows", range(14, 26))
def test_a_heading_never_stands_alone_at_the_foot(rows):
    filler = Table(("a",), tuple(("b",) for _ in range(rows)))
    below = Table(("first column",), (("first row",),) * 3, title="The heading")
    data = printed(TextPage("Page", (filler, below, Paragraph("Inner", "strong"), Figure(sheet(100.0, 90.0)))))
    texts = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]
    assert [text for text in texts if "The heading" in text and "first row" not in text] == []
    assert [text for text in texts if "Inner" in text and "turned text" not in text] == []


def test_an_empty_plan_and_an_endless_footer_are_told(tmp_path):
    with pytest.raises(OutputError, match="no page in it"):
        write_plan(plan_of(), io.BytesIO())
    with pytest.raises(OutputError, match=r"title and footer take .* shorten"):
        printed(TextPage("t", ()), title="long title " * 1000)
    with pytest.raises(OutputError, match="cannot be written"):
        write_plan(plan_of(TextPage("t", ())), tmp_path / "missing" / "plan.pdf")


def test_a_plan_goes_to_a_file_as_to_a_stream(tmp_path, sample):
    write_plan(plan_of(*sample_items()), tmp_path / "plan.pdf")
    assert (tmp_path / "plan.pdf").read_bytes() == sample


def test_prints_do_not_load_the_cad_library():
    code = "import sys, generator.prints.plan, generator.prints.svg; assert 'ezdxf' not in sys.modules"
    subprocess.run([sys.executable, "-c", code], check=True, env={**os.environ, "PYTHONPATH": str(ROOT)})


@pytest.fixture(scope="module")
def picture():
    return ET.fromstring(svg_text(sheet()))


def test_svg_is_the_sheet_in_millimetres(picture):
    assert (picture.get("width"), picture.get("height"), picture.get("viewBox")) == ("210mm", "297mm", "0 0 210 297")
    paths = {path.get("stroke-width"): path.get("d") for path in picture.iter(f"{SVG}path") if path.get("stroke-width")}
    assert paths["0.25"] == "M50 17L150 17"
    assert paths["0.13"] == "M30 247C35 237 45 237 50 247"
    assert {path.get("data-layer") for path in picture.iter(f"{SVG}path")} >= {"FINE <&>", "DIM", "OUTLINE"}


def test_svg_holds_the_same_texts_at_stated_lengths(picture):
    texts = list(picture.iter(f"{SVG}text"))
    assert [text.text for text in texts] == [run.text for run in sheet().texts]
    for text, run in zip(texts, sheet().texts, strict=True):
        a, b, *_, x, y = (float(part) for part in text.get("transform").removeprefix("matrix(").rstrip(")").split())
        assert float(text.get("textLength")) * (a * a + b * b) ** 0.5 == pytest.approx(run.advance_mm, abs=0.002)
        assert float(text.get("font-size")) * CAP_HEIGHT == pytest.approx(run.cap_height_mm, abs=0.001)
        assert (x, 297 - y) == pytest.approx(run.matrix[4:], abs=0.001)


def test_svg_cuts_text_at_its_window(picture):
    (window,) = picture.iter(f"{SVG}clipPath")
    assert window.find(f"{SVG}path").get("d") == "M100 277L110 277L110 257L100 257Z"
    cut = next(group for group in picture.iter(f"{SVG}g") if group.get("clip-path") == f"url(#{window.get('id')})")
    assert [text.text for text in cut] == ["cut by a window"]


def test_svg_stands_any_text():
    odd = Ink(10.0, 10.0, (), (), (written("\x01<a> & \ud800 'q' \"r\"", 1, 1),))
    (text,) = ET.fromstring(svg_text(odd)).iter(f"{SVG}text")
    assert "<a> & " in text.text


def test_from_the_document_to_paper():
    """A DXF sheet with a view at 2:1 and a stacked limit, through ink to PDF and SVG."""
    prepare_fonts()
    import ezdxf

    doc = ezdxf.new("R2013", setup=["linetypes"])
    use_font(doc)
    doc.layers.add("OUTLINE", lineweight=50)
    doc.layers.add("VIEW").dxf.plot = 0
    msp = doc.modelspace()
    msp.add_line((0, 0), (40, 0), dxfattribs={"layer": "OUTLINE"})
    look = {"style": STYLE_NAME, "char_height": 1.75, "insert": (5, 5), "layer": "OUTLINE"}
    msp.add_mtext("Ø40 h6\\H0.6x;\\S+0.021^ 0;", dxfattribs=look)
    layout = doc.layouts.new("A4")
    layout.page_setup(size=(210, 297), margins=(0, 0, 0, 0))
    window = {"center": (105, 150), "size": (120, 60), "view_center_point": (20, 0), "view_height": 30}
    layout.add_viewport(**window, dxfattribs={"layer": "VIEW"})
    ink = read_ink(doc, "A4")
    data = printed(SheetPage(ink, "Sheet"))
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        (line,) = pdf.pages[0].lines
        assert (line["x1"] - line["x0"]) / MM == pytest.approx(80.0, abs=0.02)
        assert (line["x0"] / MM, line["y0"] / MM) == pytest.approx((65.0, 150.0), abs=0.02)
        text = pdf.pages[0].extract_text()
    assert all(words in text for words in ("Ø40 h6", "+0.021", "0"))
    texts = [text.text for text in ET.fromstring(svg_text(ink)).iter(f"{SVG}text")]
    assert texts == ["Ø40 h6", "+0.021", "0"]


def test_the_number_of_an_operation_is_never_broken():
    """13.10 that runs on to a second line reads as 13.1."""
    rows = (OperationRow("23.15", "Turn the collar.", figures=(Reach("21 mm"),)),)
    page = TextPage("Set-ups", (Operations("Set-up 23", rows),), far=True)
    text = pypdf.PdfReader(io.BytesIO(printed(page))).pages[0].extract_text()
    assert "23.15" in text.split()
