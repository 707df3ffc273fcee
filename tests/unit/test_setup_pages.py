"""Pages of the set-ups: each clamping whole, each operation a row, figures to stop at large, all of it text."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from io import BytesIO

import pdfplumber
import pytest

from generator.description import Choices
from generator.drawing.font import CAP_HEIGHT
from generator.ink.model import Ink
from generator.making.figures import Figures
from generator.making.operations import Operation, operations_for
from generator.making.operations_dials import infeed_text, length_text, quill_text
from generator.making.setups import SetUp, Step
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from generator.making.workshop import Workshop
from generator.plan.defaults import defaults_page
from generator.plan.operation_fields import stop_fields
from generator.plan.operation_rows import operation_rows, reaches, shared_cautions, without_likes
from generator.plan.setup_pages import setup_pages
from generator.plan.wording import sources_in_short
from generator.prints.content import (
    Beside,
    Caution,
    Facts,
    Field,
    Figure,
    Group,
    HoldingRow,
    OperationRow,
    Operations,
    Paragraph,
    Plan,
    Reach,
    Table,
    TextPage,
)
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


READ = "How the pages of the set-ups are read"


def groups(found: tuple[TextPage, ...]) -> list[Group]:
    """Groups that hold set-ups; how the pages are read stands before them."""
    return [
        block for page in found for block in page.blocks if isinstance(block, Group) and block.title != READ
    ]


def rows_of(group: Group) -> list[OperationRow]:
    table = next(block for block in group.blocks if isinstance(block, Operations))
    return [row for row in table.rows if isinstance(row, OperationRow)]


def holdings(group: Group) -> list[HoldingRow]:
    """Set-ups that go on in the table of the one before."""
    table = next(block for block in group.blocks if isinstance(block, Operations))
    return [row for row in table.rows if isinstance(row, HoldingRow)]


def facts_of(group: Group) -> dict[str, str]:
    block = next(one for one in group.blocks if isinstance(one, Facts | Beside))
    return {one.label: one.text for one in (block.facts if isinstance(block, Beside) else block).fields}


def group_of(found: tuple[TextPage, ...], number: int) -> Group:
    return next(
        one for one in groups(found)
        if one.title.startswith(f"{number} ") or any(row.number == str(number) for row in holdings(one))
    )


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_every_set_up_and_every_operation_has_its_row_in_order(unit: FileUnit) -> None:
    setups, found = good_plan(), groups(pages(unit))
    numbers = [number for one in found for number in (one.title.split()[0], *(row.number for row in holdings(one)))]
    assert numbers == [str(setup.number) for setup in setups]
    assert [row.number for group in found for row in rows_of(group)] == [
        f"{setup.number}.{index}" for setup in setups for index in range(1, len(setup.steps) + 1)
    ]
    for setup in setups:
        group = group_of(pages(unit), setup.number)
        assert setup.title in group.title + "".join(row.title for row in holdings(group))
        assert any(isinstance(block, Figure | Beside) for block in group.blocks)


def test_set_ups_stand_by_part_and_how_they_are_read_before_the_first() -> None:
    assert [page.title for page in pages()] == ["Set-ups 1 to 5: body", "Set-ups 6 to 13: spindle"]
    assert all(page.far for page in pages())
    titles = [block.title for page in pages() for block in page.blocks if isinstance(block, Group)]
    assert titles[0] == READ
    assert titles.count(READ) == 1


def test_a_short_set_up_of_a_small_part_goes_on_in_the_same_table() -> None:
    few = tuple(one for one in good_plan() if one.number in {3, 4})
    short = replace(few[1], steps=few[1].steps[:1])
    (group,) = groups(pages_of((few[0], short), usual_workshop()))
    (held,) = holdings(group)
    assert (held.number, held.title) == ("4", short.title)
    assert {one.label for one in held.fields} >= {"held", "true to"}
    assert [one.word for one in held.cautions][:1] == ["POINT OF NO RETURN"]
    assert rows_of(group)[-1].number == "4.1"
    assert len(groups(pages_of(few, usual_workshop()))) == 1 + (len(few[1].steps) > 2)


def test_the_head_says_how_it_is_held_and_what_must_not_be_undone() -> None:
    setups = with_set_up(
        4, indicate="on the back, 0.01 mm; it matters for the pocket", before="not before the pocket is measured",
        caution="Drawbar tight", support="steady", grip_mm=70.0,
    )
    group = group_of(pages_of(setups, usual_workshop()), 4)
    facts = facts_of(group)
    assert facts["held"] == "Shank in the headstock spindle, 70 mm of taper held, 37 mm out, steady on."
    assert facts["true to"] == "taper within 0.005 to 0.010 mm."
    assert facts["touch off on"] == "front."
    assert facts["indicate"] == "On the back, 0.01 mm; it matters for the pocket."
    assert facts["keep clamped"] == "Not before the pocket is measured."
    framed = {block.word: block.lines for block in group.blocks if isinstance(block, Caution)}
    assert framed["POINT OF NO RETURN"] == ("The front centre hole is gone.",)
    assert "Drawbar tight." in framed["CAUTION"][0]


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
    for one in operations:
        group = group_of(pages(), int(one.number.partition(".")[0]))
        shown = " ".join(row.caution for row in rows_of(group))
        framed = [block for block in group.blocks if isinstance(block, Caution)]
        framed += [caution for row in holdings(group) for caution in row.cautions]
        shown += " ".join(line for block in framed for line in block.lines)
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
        ("depth = measured stack + 0.03 mm, ±0.015 mm", Reach("= measured stack + 0.03 mm", "depth", "±0.015 mm")),
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
    row = rows_of(groups(pages())[2])[0]
    fields = {one.label: one.text for one in row.settings}
    assert fields["speed"].startswith("115 rpm*")
    assert fields["tool"] == "knife tool, HSS*"
    (told,) = [one for one in reading(pages()) if one.label == "*"]
    assert "What rests on a default" in told.text
    assert not any(one.label == "*" for one in reading(pages_of(setups, own)))
    stock = stock_for(tool, setups, Choices())
    operations = operations_for(tool, setups, usual, Choices(), stock)
    page = defaults_page(Choices(), operations, usual, "mm")
    assert page is not None
    (table,) = [block for block in page.blocks if isinstance(block, Table)]
    used = {name for one in operations for name in one.rests_on}
    assert len(table.rows) == len(used)
    row = next(row for row in table.rows if row[0] == "spindle speeds")
    assert "115 rpm" in row[1]
    assert "set-ups 1 to 4, 6 to 8, 10" in row[3]
    assert next(row for row in table.rows if row[0] == "taps")[3] == "6.3"
    assert defaults_page(Choices(), operations, own, "mm") is None


def reading(found: tuple[TextPage, ...]) -> tuple[Field, ...]:
    """What stands before the set-ups, on how they are read."""
    lead = next(block for page in found for block in page.blocks if isinstance(block, Group) and block.title == READ)
    return next(block.fields for block in lead.blocks if isinstance(block, Facts))


def test_no_row_repeats_how_a_dial_or_stop_is_used_and_each_label_of_one_is_explained() -> None:
    told = {one.label for one in reading(pages())}
    labels = {one.label for group in groups(pages()) for row in rows_of(group) for one in row.stops}
    assert labels & {"bed stop", "top slide", "carriage dial"}
    assert labels & {"dial", "bed stop", "top slide", "carriage dial", "quill dial"} <= told
    for group in groups(pages()):
        for row in rows_of(group):
            shown = " ".join(one.text for one in (*row.settings, *row.stops))
            assert not re.search("feeler|carriage locked, top slide parallel:|touch at dia|full diameter enters", shown)


def test_a_stop_becomes_fields_and_what_is_not_known_stays_as_it_is() -> None:
    shop, mm = given(), Figures("mm")
    turned = "; ".join((
        infeed_text(45.0, 42.44, shop, mm), length_text(24.0, "front", shop, mm, swung=False), "mind the step",
    ))
    found = [(one.label, one.text) for one in stop_fields(Operation("1.1", Step("turn"), stop=turned), shop, mm)]
    assert found[0][0] == "dial"
    assert found[0][1].startswith("from dia 45 mm in ")
    assert ("stop", "24.000 mm from the front") in found or ("bed stop", "block 24.000 mm from the front") in found
    assert found[-1] == ("stop", "mind the step")
    long = length_text(121.0, "end", replace(shop, carriage_dial=None), mm, swung=True)
    (stop,) = stop_fields(Operation("1.1", Step("turn"), stop=long), shop, mm)
    assert (stop.label, stop.text) == ("bed stop", "block 121.000 mm from the end")


def test_a_drill_has_one_depth_and_its_dial_tells_that_one() -> None:
    shop, mm = usual_workshop(), Figures("mm")
    step = Step("drill out", work="drill")
    for to in ("dia 23 mm, 24 mm deep to the point's corners", "dia 23 mm\n24 mm deep"):
        one = Operation("1.1", step, to=to, stop=quill_text(23.5, "front", shop, mm))
        (row,) = operation_rows([one], shop, mm, frozenset())
        assert [(reach.before, reach.figure, reach.after) for reach in row.figures] == [
            ("dia", "23 mm", ""), ("", "23.5 mm", "deep from the front"),
        ]  # fmt: skip
        assert [field.label for field in row.stops] == ["quill dial"]


def test_what_another_line_says_in_more_words_is_left_out() -> None:
    lines = ("Clear swarf often: a long drill packs and snatches.", "Glasses on.")
    more = "A deep drill packs and snatches: clear it often, do not hold the drill chuck by hand."
    assert without_likes(lines, (more,)) == ("Glasses on.",)
    assert without_likes(lines) == lines


def texts_of(found: tuple[TextPage, ...]) -> list[str]:
    printed = BytesIO()
    write_plan(Plan("Sample", "", "S-1", "", "", "Not a rating.", found), printed)
    with pdfplumber.open(printed) as pdf:
        return [page.extract_text() for page in pdf.pages]


def test_what_the_shop_lacks_is_told_with_its_substitute() -> None:
    group = group_of(pages(), 4)
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
    assert figures >= sum(bool(row.figures) for group in groups(pages(unit)) for row in rows_of(group))


def test_the_printed_pages_say_every_figure_as_text() -> None:
    shown = " ".join(" ".join(texts_of(pages())).split())
    for group in groups(pages()):
        assert group.title.split(maxsplit=1)[1] in shown
        for row in rows_of(group):
            assert row.number in shown
            for reach in row.figures:
                assert all(word in shown for word in reach.figure.split())


def test_words_of_any_length_are_taken() -> None:
    long = "held by something that takes many words to say, " * 12
    setups = with_set_up(3, title="t" * 150, holding=long, caution=long, before=long, indicate=long, no_return=long)
    shown = " ".join(" ".join(texts_of(pages_of(setups, usual_workshop()))).split())
    assert shown.count("takes") >= 60


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
    assert len(pictures) == len(groups(pages()))
    assert all(isinstance(one, Ink) and one.strokes for one in pictures)


def test_the_rest_of_a_bar_that_is_longer_than_held_and_out_is_told() -> None:
    """Arithmetic: bar sawn to, less what is held and what is out, stands in the spindle."""
    tool, setups, shop = sample_tool(), good_plan(), usual_workshop()
    cut = {row.part: row.cut_mm for row in stock_for(tool, setups, Choices())}
    told = 0
    for setup in setups:
        if setup.located != "bar" or setup.grip_mm is None or setup.out_mm is None:
            continue
        rest = cut[setup.parts[0]] - setup.grip_mm - setup.out_mm
        held = facts_of(group_of(pages(), setup.number)).get("held", "")
        assert ("bore of the spindle" in held or "in the chuck" in held) == (rest > 3.0), setup.number
        told += rest > 3.0
    assert shop.spindle_bore_mm > 0
    assert told
