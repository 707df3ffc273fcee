"""What a job in inches prints, in the plan and on the sheets: limits never wider than the described ones, shop words.

An inch is 25.4 mm exactly (agreement of 1959); limits are converted and rounded inwards: ANSI/IEEE 268, at second hand.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import ezdxf
import pypdf
import pytest

from generator.checks import chains
from generator.checks.duty import screw_of
from generator.description import Size
from generator.drawing.labels import limit_text
from generator.drawing.manner import Manner
from generator.job.design import Design, inspect, work_out
from generator.job.reader import read_job
from generator.job.work import work_of
from generator.job.workshop import workshop_of
from generator.make import make
from generator.making.cuts import limits_text
from generator.making.figures import Figures
from generator.making.inspection import inspection_rows
from generator.making.route.blank import bar_mm
from generator.making.usual import usual_workshop
from tests.unit.test_sheet_words import texts_of

JOB = """
kind = "revolving-centre"
name = "inch"
units = "in"
[socket]
taper = "Morse 4"
[shank]
end = "tang"
[passes]
holder_width = 0.75
tip_ahead = 0.3
work_diameter = 1.0
[[stack]]
ring = "6204-2RS"
[[stack]]
ring = "6003-2RS"
"""
INCH = Fraction(254, 10)
FIGURES = Figures("in")
NOISE = Fraction(1, 10**7)


@dataclass(frozen=True)
class Printed:
    design: Design
    folder: Path
    plan: str

    @property
    def sheets(self) -> Iterator[tuple[str, list[str]]]:
        """The texts of every sheet by file name."""
        for path in sorted(self.folder.glob("*.dxf")):
            if not path.name.endswith("-profile.dxf"):
                yield path.name, texts_of(ezdxf.readfile(path))


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Printed:
    """One inch job made whole, its design and the words of its plan."""
    folder = tmp_path_factory.mktemp("inch") / "out"
    make(read_job(JOB), folder)
    pages = pypdf.PdfReader(folder / "inch.pdf").pages
    plan = re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))
    return Printed(inspect(work_out(read_job(JOB))), folder, plan)


def inches(text: str) -> list[Fraction]:
    return [Fraction(figure) for figure in re.findall(r"\d*\.\d+", text)]


# --- limits ---------------------------------------------------------------------------------------------------------


def test_limits_of_the_inspection_never_overstep_those_of_the_description(printed: Printed) -> None:
    design = printed.design
    gaps = tuple(chains(design.tool).values())
    rows = [row for row in inspection_rows(design.tool, gaps, "in") if row.low_mm is not None]
    assert len(rows) > 20
    for row in rows:
        told = inches(row.limits.rpartition("expected")[2])
        low, high = told if len(told) == 2 else (Fraction(0), told[0])
        assert Fraction(str(round(row.low_mm or 0.0, 6))) - NOISE <= low * INCH, row
        assert high * INCH <= Fraction(str(round(row.high_mm or 0.0, 6))) + NOISE, row
        assert low < high


def test_the_file_to_fill_in_has_the_limits_of_the_page(printed: Printed) -> None:
    table = list(csv.DictReader((printed.folder / "inch-inspection.csv").read_text(encoding="utf-8").splitlines()))
    gaps = tuple(chains(printed.design.tool).values())
    rows = {row.address: row for row in inspection_rows(printed.design.tool, gaps, "in")}
    held = [(row["least"], row["most"], rows[row["address"]]) for row in table if row["address"] in rows]
    for least, most, row in held:
        if row.limits.endswith(" or less"):
            assert row.limits == f"{most} or less"
        elif row.low_mm is not None:
            assert row.limits.endswith(f"{least} to {most}"), row


def test_one_size_has_the_same_limits_on_sheet_set_up_page_and_inspection(printed: Printed) -> None:
    """The cover's 50 p6, 50.026 / 50.042 mm: 1.96953 and 1.97016 in, inwards 1.9696 and 1.9701."""
    texts = next(texts for name, texts in printed.sheets if name == "inch-cover.dxf")
    assert any("1.9701" in text for text in texts)
    assert printed.plan.count("1.9696 to 1.9701") >= 2
    assert "1.9695 to 1.9702" not in printed.plan


@pytest.mark.parametrize(
    ("metric", "told"),
    [
        # 50.026 and 50.042 mm are 1.969528 and 1.970157 in.
        ("50.026 to 50.042 mm", "1.9696 to 1.9701 in"),
        # 0.8 and 1.2 mm are .03150 and .04724 in.
        ("0.8 to 1.2 mm deep", "0.032 to 0.047 in deep"),
        # 0.1 mm are .003937 in, 0.005 mm are .000197 in.
        ("clock it, 0.1 mm or less", "clock it, 0.003 in or less"),
        ("at most 0.005 mm", "at most 0.0001 in"),
        ("at least 0.3 mm over", "at least 0.012 in over"),
        ("0.3 mm or more", "0.012 in or more"),
        ("leave 0.3 mm", "leave 0.012 in"),
    ],
)
def test_a_sentence_allows_no_more_in_inches(metric: str, told: str) -> None:
    assert FIGURES.prose(metric) == told


def test_limits_of_a_missed_size_are_rounded_inwards() -> None:
    # 19.996 and 20.009 mm (20 j6) are .787244 and .787756 in.
    assert FIGURES.prose(limits_text(Size(20.0, 0.009, -0.004))) == "0.7873 to 0.7877 in"


def test_a_size_made_to_measure_is_told_in_inches_everywhere(printed: Printed) -> None:
    """0.03 mm are .0012 in, 0.015 mm are .0006 in."""
    assert "measured stack + 0.03 mm" not in printed.plan
    assert "= measured stack + 0.0012 in; expected" in printed.plan
    assert "= measured stack + 0.0012 in, ±0.0006 in, too long" in printed.plan
    told = [text for _, texts in printed.sheets for text in texts if "measured stack" in text]
    assert set(told) == {"to measured stack + .0012 in"}


# --- bar ------------------------------------------------------------------------------------------------------------


def test_bar_is_bought_by_the_fraction_and_the_route_reckons_with_the_same_bar(printed: Printed) -> None:
    """Inch bars come in eighths and quarters: 57.15 mm is 2 1/4 in exactly."""
    work = work_of(printed.design.job, printed.design.choices, printed.design.tool)
    bars = {row.part: row.bar_mm for row in work.stock}
    for part in printed.design.tool.made:
        assert bars[part.name] == bar_mm(printed.design.tool, part, printed.design.choices)
        assert (Fraction(str(bars[part.name])) / INCH * 16).limit_denominator(1000).denominator == 1, part.name
    assert "2 1/4 in (2.250) round" in printed.plan
    assert "7/8 in (0.875) round" in printed.plan
    texts = dict(printed.sheets)
    assert any("2 1/4 (2.250) x" in text for text in texts["inch-body.dxf"])


def test_a_metric_job_buys_metric_bar() -> None:
    design = work_out(read_job(JOB.replace('units = "in"\n', "").replace("0.75", "19").replace("0.3", "8")
                               .replace("= 1.0", "= 25")))  # fmt: skip
    assert {bar_mm(design.tool, part, design.choices) % 1 for part in design.tool.made} == {0.0}


# --- dials ----------------------------------------------------------------------------------------------------------


def test_the_usual_shop_of_an_inch_job_has_dials_of_a_thousandth(printed: Printed) -> None:
    """A cut of .0200 in on the diameter is 20 divisions of a dial that reads the diameter in thousandths."""
    found, metric = workshop_of(printed.design.job), usual_workshop(4)
    assert found.cross_dial.reads_diameter
    assert (2 * found.cross_dial.division_mm, found.top_dial.division_mm) == pytest.approx((0.0254, 0.0254))
    assert (found.quill_dial.division_mm, found.quill_dial.turn_mm) == pytest.approx((0.0254, 25.4 / 8))
    assert screw_of(printed.design.choices)[0] == found.screw_lead_mm
    assert found.is_default("cross_dial")
    assert found.is_default("micrometer_mm")
    assert (found.speeds_rpm, found.drills) == (metric.speeds_rpm, metric.drills)
    moves = re.findall(r"in in (\d+) div \(0\.(\d{3}) in off dia\)", printed.plan)
    assert len(moves) > 5
    assert {count.zfill(3) == told for count, told in moves} == {True}


# --- heat, fine figures, words --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("metric", "told"),
    [
        # 780 and 820 degrees Celsius are 1436 and 1508 Fahrenheit, 788 and 816 are 1450 and 1501.
        ("780 to 820 °C, cherry red", "1435 to 1510 °F (780 to 820 °C), cherry red"),
        ("about 800 °C (788 to 816)", "about 1470 °F (1450 to 1500; 800 °C)"),
        ("body at 100 °C", "body at 210 °F (100 °C)"),
        ("Measure at 20 °C, both", "Measure at 68 °F (20 °C), both"),
        ("warming by 10 to 50 K", "warming by 18 to 90 °F"),
        ("an hour for each 25 mm of section", "an hour for each inch of section"),
        ("Work 25.4 x 254 mm, 10 N heavy", "Work 1.000 x 10.000 in, 2.2 lbf heavy"),
        # 224 MPa are 32490 psi, 5 um are .00020 in.
        ("at most 200 MPa", "at most 29000 psi"),
        ("at least -22 um", "at least -0.00087 in"),
    ],
)
def test_a_sentence_speaks_of_heat_stress_and_small_things_as_an_inch_shop_does(metric: str, told: str) -> None:
    assert FIGURES.prose(metric) == told
    assert Figures("mm").prose(metric) == metric


def test_a_reckoned_clearance_is_in_inches() -> None:
    # 4 um are .000157 in, 51.81 um are .002040 in.
    assert (FIGURES.quantity(4.0, "um"), FIGURES.quantity(51.81, "um")) == ("0.00016 in", "0.0020 in")


def test_bare_limits_are_rounded_inwards_too() -> None:
    assert FIGURES.in_words("at most 0.01") == "at most 0.0003 in"
    assert FIGURES.in_words("at least 0.3") == "at least 0.0119 in"
    assert FIGURES.in_words("at most 0") == "at most 0.0000 in"


def test_an_inch_plan_has_no_metric_word_left(printed: Printed) -> None:
    """A machinist's tenth is .0001 in: a tenth or a hundredth of a millimetre is told by its figure."""
    left = re.findall(r"hundredth|\btenths?\b|\d (?:mm|um|MPa|K|N|N m|kg)\b", printed.plan)
    # The gauge diameter stands in both units, the pitch and name of a metric thread are what they are.
    assert [one for one in left if not one.endswith(" mm")] == []
    assert re.findall(r".{12}\d °C(?!\))", printed.plan) == []
    assert "at the end, °F" in printed.plan


# --- run-out --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("limit_mm", [0.003, 0.004, 0.005, 0.006, 0.008, 0.01, 0.015, 0.02, 0.03, 0.05, 0.1])
def test_a_frame_has_four_places_at_most_and_allows_no_more(limit_mm: float) -> None:
    text = limit_text(limit_mm, Manner("in"))
    assert re.fullmatch(r"\.\d{3,4}", text), text
    assert 0 < Fraction(f"0{text}") * INCH <= Fraction(str(limit_mm))


def test_run_outs_of_an_inch_job_are_figures_that_an_indicator_shows(printed: Printed) -> None:
    """Two and four ten-thousandths, on the sheets, in the set-ups, and where wanted and earned are compared."""
    shown = {text for _, texts in printed.sheets for text in texts}
    assert any(re.search(r"\B\.0004\b", text) for text in shown)
    assert any("Run-out .0002 to A" in text for text in shown)
    assert "0.0002 in or less" in printed.plan
    assert "0.0004 in, to taper" in printed.plan
    fine = [text for text in shown if re.search(r"(?<![\d.])\.\d{5,}", text)]
    assert fine == []
