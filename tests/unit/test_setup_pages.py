"""Pages of the set-ups: each clamping whole, each operation a row, figures to stop at large, all of it text."""

from __future__ import annotations

import re
from functools import cache
from io import BytesIO

import pdfplumber
import pytest

from generator.description import Choices
from generator.drawing.font import CAP_HEIGHT
from generator.ink.model import Ink
from generator.making.figures import Figures
from generator.making.operations import Operation, operations_for
from generator.making.setups import SetUp, Step
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from generator.making.workshop import Workshop
from generator.plan.defaults import defaults_page
from generator.plan.operation_rows import operation_rows, reaches, shared_cautions
from generator.plan.setup_pages import setup_pages
from generator.plan.wording import sources_in_short
from generator.prints.content import Beside, Caution, Figure, Group, Operations, Paragraph, Plan, Reach, Table, TextPage
from generator.prints.plan import write_plan
from generator.units import FileUnit
from tests.sample import sample_tool
from tests.unit.plans import given, good_plan, with_set_up

MM = 72 / 25.4


@cache
def pages(unit: FileUnit = "mm") -> tuple[TextPage, ...]:
    return pages_of(good_plan(), usual_workshop(), unit)


def pages_of(setups: tuple[SetUp, ...], shop: Workshop, unit: FileUnit = "mm") -> tuple[TextPage, ...]:
    tool = sample_tool()
    stock = stock_for(tool, setups, Choices(), unit)
    operations = operations_for(tool, setups, shop, Choices(), stock, unit)
    return setup_pages(tool, setups, stock, operations, shop, unit)


def groups(found: tuple[TextPage, ...]) -> list[Group]:
    return [block for page in found for block in page.blocks if isinstance(block, Group)]


def rows_of(group: Group) -> Operations:
    return next(block for block in group.blocks if isinstance(block, Operations))


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_every_set_up_has_its_page_and_every_operation_its_row(unit: FileUnit) -> None:
    setups, found = good_plan(), groups(pages(unit))
    assert [group.title.split()[0] for group in found] == [str(setup.number) for setup in setups]
    for group, setup in zip(found, setups, strict=True):
        assert setup.title in group.title
        assert [row.number for row in rows_of(group).rows] == [
            f"{setup.number}.{index}" for index in range(1, len(setup.steps) + 1)
        ]
        assert any(isinstance(block, Figure | Beside) for block in group.blocks)


def test_each_part_begins_a_page_and_small_ones_share() -> None:
    assert [page.title for page in pages()] == ["Set-ups 1 to 5: body", "Set-ups 6 to 13: spindle"]
    assert all(page.far for page in pages())
    few = tuple(one for one in good_plan() if one.number in {1, 2, 6, 7})
    assert [page.title for page in pages_of(few, usual_workshop())] == ["Set-ups 1 to 7: body, spindle"]


def test_the_head_says_how_it_is_held_and_what_must_not_be_undone() -> None:
    setups = with_set_up(
        4, indicate="on the back, 0.01 mm; it matters for the pocket", before="not before the pocket is measured",
        caution="Drawbar tight", support="steady", grip_mm=70.0,
    )
    group = next(one for one in groups(pages_of(setups, usual_workshop())) if one.title.startswith("4 "))
    facts = dict(next(block for block in group.blocks if isinstance(block, Table)).rows)
    assert facts["held"] == "Shank in the headstock spindle, 70 mm of taper held, 37 mm out, steady on."
    assert facts["true to"] == "taper; earns 0.005 to 0.010 mm"
    assert facts["touch off on"] == "back (0 in the picture)"
    assert facts["indicate"] == "On the back, 0.01 mm; it matters for the pocket."
    assert facts["keep clamped"] == "Not before the pocket is measured."
    framed = {block.word: block.lines for block in group.blocks if isinstance(block, Caution)}
    assert framed["POINT OF NO RETURN"] == ("The front centre hole is gone.",)
    assert "Drawbar tight." in framed["CAUTION"]


def test_a_caution_of_several_operations_is_told_once_above_them() -> None:
    texts = ("Keep clear. Glasses on.", "Keep clear.")
    operations = [Operation(f"1.{n}", Step("turn"), caution=text) for n, text in enumerate(texts, start=1)]
    assert shared_cautions(operations) == ("Keep clear.",)
    rows = operation_rows(operations, usual_workshop(), Figures("mm"), frozenset({"Keep clear."}))
    assert [row.caution for row in rows] == ["Glasses on.", ""]


def test_each_caution_of_each_operation_is_on_its_page() -> None:
    tool, setups = sample_tool(), good_plan()
    stock = stock_for(tool, setups, Choices())
    operations = operations_for(tool, setups, usual_workshop(), Choices(), stock)
    by_number = {group.title.split()[0]: group for group in groups(pages())}
    for one in operations:
        group = by_number[one.number.partition(".")[0]]
        shown = " ".join(row.caution for row in rows_of(group).rows)
        shown += " ".join(line for block in group.blocks if isinstance(block, Caution) for line in block.lines)
        assert all(words.strip(" .") in shown for words in re.split(r"(?<=\.) ", one.caution)), one.number


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("dia 16.997 to 17.008 mm", Reach("16.997 to 17.008 mm", "dia", "")),
        ("pocket 1 depth 24.050 to 24.250 mm", Reach("24.050 to 24.250 mm", "pocket 1 depth", "")),
        ("1 mm x 45 deg", Reach("1 mm x 45 deg", "", "")),
        ("60 deg included", Reach("60 deg", "", "included")),
        ("M6-6H", Reach("M6-6H", "", "")),
        ("58 +4 HRC", Reach("58 +4 HRC", "", "")),
        ("about 800 °C (788 to 816), bright", Reach("800 °C", "about", "(788 to 816), bright")),
        ("depth = measured stack + 0.03 mm, +0.015 mm", Reach("= measured stack + 0.03 mm", "depth", "+0.015 mm")),
        ("dia 0.6694 to 0.6697 in", Reach("0.6694 to 0.6697 in", "dia", "")),
        ("as the finger feels it", Reach("", "as the finger feels it")),
    ],
)
def test_the_figure_to_stop_at_is_told_apart_from_its_words(text: str, wanted: Reach) -> None:
    assert list(reaches(text)) == [wanted]


def test_what_rests_on_a_default_is_marked_and_explained_and_nothing_else_is() -> None:
    tool, setups = sample_tool(), good_plan()
    usual = usual_workshop()
    own = given(**{name: getattr(usual, name) for name in usual.defaults})
    assert not own.defaults
    shown = "".join(texts_of(pages_of(setups, own)))
    assert "*" not in shown
    marked = groups(pages())[2]
    rows = rows_of(marked).rows
    assert "115 rpm*" in rows[0].settings[0]
    assert rows[0].settings[0].startswith("Knife tool, HSS*")
    foot = [block.text for block in marked.blocks if isinstance(block, Paragraph) and block.style == "small"]
    assert len(foot) == 1
    assert "spindle speeds" in foot[0]
    stock = stock_for(tool, setups, Choices())
    operations = operations_for(tool, setups, usual, Choices(), stock)
    page = defaults_page(Choices(), operations, usual, "mm")
    assert page is not None
    (table,) = [block for block in page.blocks if isinstance(block, Table)]
    used = {name for one in operations for name in one.rests_on}
    assert len(table.rows) == len(used)
    row = next(row for row in table.rows if row[0] == "spindle speeds")
    assert "115 rpm" in row[1]
    assert re.fullmatch(r"\d+, in set-ups 1 to 4, 6 to 8, 10", row[3])
    assert next(row for row in table.rows if row[0] == "taps")[3] == "6.3"
    assert defaults_page(Choices(), operations, own, "mm") is None


def texts_of(found: tuple[TextPage, ...]) -> list[str]:
    printed = BytesIO()
    write_plan(Plan("Sample", "", "S-1", "", "", "Not a rating.", found), printed)
    with pdfplumber.open(printed) as pdf:
        return [page.extract_text() for page in pdf.pages]


def test_what_the_shop_lacks_is_told_with_its_substitute() -> None:
    group = next(one for one in groups(pages()) if one.title.startswith("4 "))
    lines = [block.text for block in group.blocks if isinstance(block, Paragraph)]
    assert any(line.startswith("Not in the shop file, for 4.4:") and "instead" in line for line in lines)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_letters_are_3_5_mm_high_and_figures_to_stop_at_5_mm(unit: FileUnit) -> None:
    """Read back from the printed pages: capitals by the size of the type, which pdfplumber takes from the page."""
    printed = BytesIO()
    write_plan(Plan("Sample", "", "S-1", "", "", "Not a rating.", pages(unit)), printed)
    figures = 0
    with pdfplumber.open(printed) as pdf:
        for index, page in enumerate(pdf.pages):
            foot = min(
                line["top"] for line in page.lines if line["top"] > page.height - 30 * MM and line["width"] > 500
            )
            for line in page.extract_text_lines():
                if line["bottom"] > foot or (index == 0 and line["top"] < 30 * MM):
                    continue
                heights = [c["size"] * CAP_HEIGHT / MM for c in line["chars"]]
                # The note that explains the sign of a default is the one thing that is not read at the work.
                note = 3.5 * CAP_HEIGHT
                assert min(heights) >= (3.49 if max(heights) > 3.0 else note), line["text"]
                figures += max(heights) >= 4.99 and bool(re.search(r"\d", line["text"]))
    assert figures >= sum(bool(row.figures) for group in groups(pages(unit)) for row in rows_of(group).rows)


def test_the_printed_pages_say_every_figure_as_text() -> None:
    shown = " ".join(" ".join(texts_of(pages())).split())
    for group in groups(pages()):
        assert group.title.split(maxsplit=1)[1] in shown
        for row in rows_of(group).rows:
            assert row.number in shown
            for reach in row.figures:
                assert all(word in shown for word in reach.figure.split())


def test_words_of_any_length_are_taken() -> None:
    long = "held by something that takes many words to say, " * 12
    setups = with_set_up(3, title="t" * 150, holding=long, caution=long, before=long, indicate=long, no_return=long)
    shown = " ".join(" ".join(texts_of(pages_of(setups, usual_workshop()))).split())
    assert shown.count("many words to say") >= 60


def test_sources_lose_their_addresses_and_keep_their_titles() -> None:
    assert sources_in_short("a lathe's manual, manualsdump.com: support it") == "a lathe's manual: support it"
    assert sources_in_short("machref.com, lathe tooling reference") == "lathe tooling reference"
    assert sources_in_short("emery: HSE; see https://www.hse.gov.uk/pubns/x.htm") == "emery: HSE; see"
    assert sources_in_short("ISO 286-2:2010, M6 x 1, 0.005 mm. No more") == "ISO 286-2:2010, M6 x 1, 0.005 mm. No more"


def test_pictures_are_ink() -> None:
    pictures = [
        block.figure.ink if isinstance(block, Beside) else block.ink
        for group in groups(pages()) for block in group.blocks if isinstance(block, Figure | Beside)
    ]  # fmt: skip
    assert len(pictures) == len(good_plan())
    assert all(isinstance(one, Ink) and one.strokes for one in pictures)
