"""Sizes in inches and in two units: against exact fractions, and figures worked by hand.

An inch is 25.4 mm exactly (agreement of 1959). Limits are converted and rounded inwards: ANSI/IEEE 268, at second hand;
the form of inch figures: ASME Y14.5, at second hand; the ladder of steps: from memory.
"""

from __future__ import annotations

import random
import re
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from generator.conversion import inward, step_places
from generator.description import ChainResult, Gap, Size, exact
from generator.drawing.arrangement_tables import wanted_text
from generator.drawing.labels import DIAMETER, Label, label_of, limit_text
from generator.drawing.manner import METRIC, Manner
from generator.job.design import inspect, work_out
from generator.job.reader import find_job, read_job
from generator.titles import arrangement_block

INCH = Fraction(254, 10)
INCHES = Manner("in")
BOTH = Manner("mm [in]")
INCHES_FIRST = Manner("in [mm]")


def number(text: str) -> Fraction:
    return Fraction(text.replace(",", "."))


def limits_of(label: Label, sign: str = "") -> tuple[Fraction, Fraction]:
    """Low and high limit that an inch label prints."""
    if label.is_limits:
        return number(label.lower), number(label.upper)
    figure, _, even = label.main.removeprefix(sign).partition(" ±")
    if even:
        return number(figure) - number(even), number(figure) + number(even)
    return number(figure) + number(label.lower), number(figure) + number(label.upper)


def test_an_example_worked_by_hand() -> None:
    """11.979 / 12.000 mm: 0.471614 and 0.472441 in, rounded inwards to .4717 and .4724, as a micrometer shows them."""
    size = Size(12.0, 0.0, -0.021)
    assert label_of(size, DIAMETER, manner=BOTH).below == "[.4724/.4717]"
    label = label_of(size, DIAMETER, manner=INCHES)
    assert (label.main, label.upper, label.lower) == (DIAMETER, ".4724", ".4717")
    # .4724 in are 11.99896 mm, .4717 in are 11.98118 mm.
    assert label_of(size, DIAMETER, manner=INCHES_FIRST).below == "[11.9989/11.9812]"


@pytest.mark.parametrize(
    ("size", "plain"),
    [
        (Size(41.275, 0.0508, -0.0508), "1.625 ±.002"),
        (Size(12.7, 0.0, -0.0508), ".500 +.000/-.002"),
        (Size(11.1125, 0.2, -0.2, general=True), ".4375"),
        (Size(12.7, general=True), ".500"),
        (Size(10.0, general=True), ".394"),
        (exact(23.825), ".93799"),
        (Size(35.0, 0.014, -0.011, tolerance_class="J7"), "1.3785/1.3776 J7"),
    ],
)
def test_form_of_inch_figures(size: Size, plain: str) -> None:
    label = label_of(size, manner=INCHES)
    assert label.plain == plain
    assert label.boxed is size.basic


def test_a_finer_place_stands_only_where_four_leave_next_to_nothing() -> None:
    # 4 micrometres are .00016 in: two ten-thousandths find no room between. 8 are .00031: they just do.
    narrow, wide = (label_of(Size(12.7, 0.0, -width), manner=INCHES) for width in (0.004, 0.008))
    assert (narrow.upper, narrow.lower) == (".500000", ".499843")
    assert (wide.upper, wide.lower) == (".5000", ".4997")


def random_size(rng: random.Random) -> Size:
    """Any size a tool may have, in whole micrometres or round in inches."""
    tolerance_class = ""
    if rng.random() < 0.3:
        thou = Fraction(254, 10_000)
        nominal, upper = rng.randint(40, 5000) * thou, rng.randint(0, 10) * thou
        lower = upper - rng.randint(1, 20) * thou
    else:
        nominal, upper = Fraction(rng.randint(1000, 150_000), 1000), Fraction(rng.randint(-60, 60), 1000)
        lower = upper - Fraction(rng.randint(1, 700), 1000)
        tolerance_class = rng.choice(("", "h6"))
    return Size(float(nominal), float(upper), float(lower), tolerance_class=tolerance_class)


def test_no_printed_limit_oversteps_the_described_one() -> None:
    rng = random.Random(411)
    forms = set()
    for _ in range(2000):
        size = random_size(rng)
        low, high = (
            Fraction(Decimal(str(size.nominal_mm))) + Fraction(Decimal(str(round(deviation, 9))))
            for deviation in (size.lower_mm, size.upper_mm)
        )
        label = label_of(size, DIAMETER, manner=INCHES)
        first, last = limits_of(label, DIAMETER)
        assert low <= first * INCH <= last * INCH <= high, label.plain
        over, under = label_of(size, manner=BOTH).below.strip("[]").split("/")
        assert low <= number(under) * INCH <= number(over) * INCH <= high, label.plain
        above, beneath = label_of(size, manner=INCHES_FIRST).below.strip("[]").split("/")
        assert first * INCH <= number(beneath) <= number(above) <= last * INCH, label.plain
        forms.add(label.is_limits)
    assert forms == {True, False}


def test_no_inch_figure_begins_with_a_zero_and_places_are_equal() -> None:
    rng = random.Random(412)
    for _ in range(500):
        label = label_of(random_size(rng), manner=INCHES)
        shown = [*re.findall(r"[\d.]+", f"{label.main.partition(' ')[0]} {label.upper} {label.lower}")]
        assert not [text for text in shown if text.startswith("0.")], label.plain
        assert len({len(text.partition(".")[2]) for text in shown}) == 1, label.plain


def test_steps_by_tolerance() -> None:
    """mm 0.05 to 0.5: .0001 in; 0.005 to 0.05: .00001 in. Inches .001 to .01: 0.001 mm; .01 to .1: 0.01 mm."""
    places = [step_places(Decimal(t), "in") for t in ("0.005", "0.049", "0.05", "0.499", "0.5", "4.9")]
    assert places == [5, 5, 4, 4, 3, 3]
    places = [step_places(Decimal(t), "mm") for t in (".0001", ".00099", ".001", ".0099", ".01", ".099")]
    assert places == [4, 4, 3, 3, 2, 2]


def test_a_very_narrow_tolerance_gets_places_enough_to_stay_inside() -> None:
    low, high, places = inward(Decimal("0.12344"), Decimal("0.12346"), 4)
    assert (low, high, places) == (Decimal("0.12344"), Decimal("0.12346"), 5)


def test_a_frame_never_allows_more_than_its_value() -> None:
    for hundredths in range(1, 60):
        limit_mm = hundredths / 200
        assert 0 < number(limit_text(limit_mm, INCHES)) * INCH <= Fraction(hundredths, 200)
    assert limit_text(0.01, METRIC) == "0.01"


def test_general_tolerance_in_inches_keeps_rounded_sizes_within_iso_2768() -> None:
    """Deviations of class m up to 400 mm: 0.1 to 6, 0.2 to 30, 0.3 to 120, 0.5 to 400. Source: ISO 2768-1, table 1."""
    text = find_job("demo").read_text(encoding="utf-8").replace("[sheet]\n", '[sheet]\nunits = "in"\n')
    notes = arrangement_block(inspect(work_out(read_job(text)))).notes
    told = next(note for note in notes if "2768" in note)
    bands = [(number(a), number(b)) for a, b in re.findall(r"to ([\d.]+) ±([\d.]+\d)", told)]
    assert len(bands) == 4
    metric = ((6, Fraction(1, 10)), (30, Fraction(2, 10)), (120, Fraction(3, 10)), (400, Fraction(5, 10)))
    rng = random.Random(413)
    for _ in range(2000):
        nominal = Fraction(rng.randint(500, 399_000), 1000)
        allowed = next(deviation for largest, deviation in metric if nominal <= largest)
        figure = number(label_of(Size(float(nominal), general=True), manner=INCHES).main)
        deviation = next(found for largest, found in bands if figure <= largest)
        assert nominal - allowed <= (figure - deviation) * INCH, nominal
        assert (figure + deviation) * INCH <= nominal + allowed, nominal


def wanted(least_mm: float | None, most_mm: float | None, manner: Manner) -> str:
    gap = Gap("g", "gap", "a/x", "b/y", least_mm, most_mm, "test", "test")
    return wanted_text(ChainResult(gap, 0.3, 0.1, 0.5, 0.1, 0.5, ()), manner)


@pytest.mark.parametrize(
    ("least", "most", "manner", "text"),
    [
        (0.1, 0.5, METRIC, "0.10 to 0.50"),
        # 0.1 mm are 0.0039 in, rounded up; 0.5 mm are 0.0197 in, rounded down.
        (0.1, 0.5, INCHES, ".004 to .019"),
        (0.1, None, INCHES, "at least .004"),
        (None, 0.5, BOTH, "at most 0.50 [.019]"),
        (None, None, INCHES, "any"),
    ],
)
def test_wanted_gaps_are_rounded_inwards(least: Any, most: Any, manner: Manner, text: str) -> None:
    assert wanted(least, most, manner) == text


def test_sentences_in_the_unit_of_the_sheet() -> None:
    """Lengths with mm behind them and roughness; names keep their figures; 2 and 3 mm are .0787 and .1181 in."""
    told = "Ra 0.8 over 12.5 mm, groove 2 to 3 mm, ring 6003-2RS, steel 1.4104, ISO 2768-1."
    inches = "Ra 32 µin over .492 in, groove .08 to .11 in, ring 6003-2RS, steel 1.4104, ISO 2768-1."
    assert INCHES.prose(told) == inches
    assert Manner("mm", True).prose(told) == told.replace("0.8", "0,8").replace("12.5", "12,5")


def test_stock_is_rounded_up_to_what_the_work_needs() -> None:
    # 55 mm are 2.16535 in, 28 mm are 1.1024 in: a bar or a cut a little too small would spoil the part.
    assert (INCHES.length_up(55.0), INCHES.length_up(28.0, 0)) == ("2.166", "1.2")
    assert (Manner("mm").length_up(28.001, 0), Manner("mm").length_up(31.75)) == ("29", "31.75")
