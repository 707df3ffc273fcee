"""A shop file with faults: every one told with its place, rule, value and cure; none gets past the reader otherwise."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.errors import InputError
from generator.job.faults import models_in
from generator.job.reader import read_job
from generator.job.shop import read_shop
from generator.job.shop_tables import Shop
from generator.job.toml_write import length_text, value_text
from generator.job.workshop import workshop_from, workshop_of
from generator.kinds import load_kind


def faults(text: str):
    with pytest.raises(InputError) as caught:
        read_shop(text)
    return caught.value.faults


def only(text: str):
    found = faults(text)
    assert len(found) == 1, found
    return found[0]


@pytest.mark.parametrize(
    ("text", "place", "rule", "value", "cure"),
    [
        ("[machine]\nquil_travel = 3\n", "machine.quil_travel", "there is no such key here", "'quil_travel'",
         "nearest known: quill_travel"),
        ("[machine]\ntaps = []\n", "machine.taps", "there is no such key here", "'taps'", "it belongs in [threads]"),
        ("[mashine]\nname = \"x\"\n", "mashine", "there is no such key here", "'mashine'", "nearest known: machine"),
        ("[[chucks]]\nkind = \"collet\"\n", "chucks", "there is no such key here", "'chucks'", "nearest known: chuck"),
        ("[machine]\ntaper = \"5C\"\n", "machine.taper", "must name a Morse taper", "'5C'", '"Morse 3"'),
        ("[machine]\nquill_travel = 9\n", "machine.quill_travel", "between 10 and 500 mm", "9 mm", "check the unit"),
        ("[machine]\nquill_travel = \"2 kg\"\n", "machine.quill_travel", "a mass stands where a length is wanted",
         "2 kg", "known units"),
        ("[machine]\nset_over = 0\n", "machine.set_over", '"none" where there is none', "0 mm", "check the unit"),
        ("[machine]\nset_over = \"nothing\"\n", "machine.set_over",
         "a length begins with a number", "nothing", "write"),
        ("[machine]\nquill_travel = \"none\"\n", "machine.quill_travel",
         "a length begins with a number", "none", "write"),
        ("[machine]\nspeeds = []\n", "machine.speeds", "a list of numbers", "[]", "[70, 115, 190]"),
        ("[machine]\nspeeds = \"fast\"\n", "machine.speeds", "numbers, or two of them", "fast", "50 to 1100"),
        ("[machine]\nspeeds = [70, \"115\"]\n", "machine.speeds", "a list of numbers", "115", "[70, 115, 190]"),
        ("[machine]\nspeeds = [70, 1e9]\n", "machine.speeds", "times a minute", "1e+09", "plate"),
        ("[machine]\nspeeds = \"50 to 50\"\n", "machine.speeds", "two different ends", "50 to 50", "50 to 1100"),
        ("[machine]\nspeeds = 70\n", "machine.speeds", "a list of numbers", "70", "[70, 115, 190]"),
        ("[machine]\nspeeds = [true]\n", "machine.speeds", "a list of numbers", "True", "[70, 115, 190]"),
        ("[machine]\nspeeds = [nan]\n", "machine.speeds", "a list of numbers", "nan", "[70, 115, 190]"),
        ("[dials]\ncross_division = 0.02\ncross_reads = \"radius\"\n", "dials",
         "cross_turn is missing", "", "cross_turn"),
        ("[dials]\ncross_division = 0.02\ncross_turn = 3\n", "dials", "cross_reads is missing", "", "indicator"),
        ("[dials]\ntop_turn = 3\n", "dials", "top_division is missing", "", "give top_division"),
        ("[dials]\ntop_division = 0.025\ntop_turn = 2.51\n", "dials", "a whole number of divisions",
         "100.4 of 0.025 mm in 2.51 mm", "count them on the collar"),
        ("[dials]\nquill_division = 0.05\n", "the file",
         "machine.screw_lead is missing", "", "screw_lead in [machine]"),
        ("[machine]\nscrew_lead = 2.54\n[dials]\nquill_division = 0.05\n", "the file", "a whole number of divisions",
         "50.8", "count them"),
        ("[headstock]\nrunout = 0.5\n", "headstock.runout", "more is damage", "0.5 mm", "check the unit"),
        ("[[sleeve]]\noutside = \"3\"\ninside = \"4\"\n", "sleeve[0]", "larger outside than inside",
         "Morse 4 in Morse 3", "change them over"),
        ("[[chuck]]\nkind = \"six-jaw\"\nmost = 100\nrunout = 0.1\n", "chuck[0].kind", "'three-jaw', 'four-jaw' or",
         "six-jaw", "choose"),
        ("[[chuck]]\nkind = \"collet\"\nmost = 20\n", "chuck[0].runout", "is missing", "", "add runout"),
        ("[[drill]]\nsizes = []\n", "drill[0].sizes", "at least 1 entries", "", "add"),
        ("[[drill]]\nsizes = [3, 0.1]\n", "drill[0].sizes[1]", "between 0.2 and 100 mm", "0.1 mm", "check the unit"),
        ("[[drill]]\nsizes = [10]\nflute = 90\n", "drill[0]", "overall is missing", "", "give overall"),
        ("[[drill]]\nsizes = [10]\nflute = 90\noverall = 80\n", "drill[0]",
         "the flute is shorter", "90 of 80 mm", "measure"),
        ("[[drill]]\nsizes = [10]\nshank = \"square\"\n", "drill[0].shank",
         "must name a Morse taper", "square", "write"),
        ("[[reamer]]\nsizes = [10]\ntolerance_class = \"K7\"\n", "reamer[0].tolerance_class",
         "must be 'H6'", "K7", "choose"),
        ("[threads]\ntaps = [\"M4.5\"]\n", "threads.taps[0]", "no thread 'M4.5' is known", "M4.5", "nearest known: M"),
        ("[[cutter]]\nname = \"a\"\nwork = \"part\"\nshank = 16\n", "cutter[0]", "needs its cutting width",
         "width and reach missing", "give width and reach"),
        ("[[cutter]]\nname = \"a\"\nwork = \"turn\"\nshank = 16\napproach = 130\n", "cutter[0].approach",
         "must be at most 120", "130", "correct"),
        ("[[cutter]]\nname = \"a\"\nwork = \"turn\"\nshank = 16\nout = 4\n", "cutter[0]",
         "further ahead of the tool post",
         "out 4 mm", "measure"),
        ("[[boring_bar]]\nbar = 12\nleast_bore = 5\nreach = 40\n", "boring_bar[0]", "half its own size",
         "12 mm in 5 mm", "measure"),
        ("[[bar]]\ndiameter = 900\n", "bar[0].diameter", "between 1 and 500 mm", "900 mm", "check the unit"),
        ("[making]\ntaper_method = \"file\"\n", "making.taper_method", "must be 'top slide'", "file", "choose"),
        ("units = \"ft\"\n", "units", "must be 'mm' or 'in'", "ft", "choose"),
        ("kind = \"tiny\"\n", "the shop file", "looks like a job file", "'tiny'", "without --shop"),
    ],
)
def test_each_wrong_figure_has_one_clear_fault(text, place, rule, value, cure):
    fault = only(text)
    assert fault.place == place
    assert rule in fault.rule
    assert value in fault.value
    assert cure in fault.cure


def test_a_carriage_without_a_dial_needs_no_turn():
    found = workshop_from(read_shop('[dials]\ncarriage_division = "none"\n').shop)
    assert found.carriage_dial is None
    assert not found.is_default("carriage_dial")


def test_all_faults_are_told_at_once_in_file_order():
    found = faults(
        '[machine]\ntaper = "B16"\nquill_travel = 1e6\n[dials]\ncross_turn = 3\n[[drill]]\nsizes = ["x"]\n[[bar]]\n'
        'length = 3\n[shet]\n'
    )
    assert [(fault.line, fault.place) for fault in found] == [
        (2, "machine.taper"), (3, "machine.quill_travel"), (4, "dials"), (7, "drill[0].sizes[0]"),
        (8, "bar[0].diameter"), (10, "shet"),
    ]


# --- any shop ---

_PIECES = st.one_of(
    st.integers(-5, 3000), st.floats(allow_nan=True, allow_infinity=True), st.booleans(),
    st.sampled_from(["none", "Morse 3", "MT5", "1/2 in", "3 thou", "50 to 900", "radius", "M6", "straight", "", "..."]),
    st.lists(st.one_of(st.integers(1, 40), st.sampled_from(["M5", "1/4 in", "x"])), max_size=4),
)


@st.composite
def shops(draw):
    """Data of a shop file: real tables and keys with values of every sort, a wrong name now and then."""
    data = {}
    for table, field in Shop.model_fields.items():
        model = next(models_in(field.annotation), None)
        if model is None or draw(st.integers(0, 2)):
            continue
        names = st.sampled_from([*model.model_fields, "wrong"])
        is_plain = isinstance(field.annotation, type)
        rows = draw(st.lists(st.dictionaries(names, _PIECES, max_size=5), min_size=1, max_size=1 if is_plain else 3))
        data[table] = rows[0] if is_plain else rows
    return data


@settings(max_examples=300, deadline=None, derandomize=True)
@given(shops())
def test_any_shop_is_refused_in_clear_words_or_makes_a_workshop(data):
    rows = []
    for table, held in data.items():
        for row in [held] if isinstance(held, dict) else held:
            rows.append(f"[{table}]" if isinstance(held, dict) else f"[[{table}]]")
            rows += [f"{key} = {_written(value)}" for key, value in row.items()]
    shop = _accepted("\n".join(rows))
    if shop is None:
        return
    found = workshop_of(read_job('kind = "dead-centre"\nname = "a"\n' + load_kind("dead-centre").EXAMPLE, shop=shop))
    assert found.tailstock_taper == 3
    assert all(speed > 0 for speed in found.speeds_rpm)
    assert list(found.drills) == sorted(found.drills, key=lambda one: (one.diameter_mm, one.overall_mm))
    assert shop.shop.model_fields_set <= set(data)


def _accepted(text):
    """The shop file, or None where it is refused with faults that speak."""
    try:
        return read_shop(text)
    except InputError as problem:
        found = problem.faults
    assert found
    for fault in found:
        assert fault.place, fault
        assert fault.rule, fault
        assert fault.cure, fault
    return None


def _written(value):
    if isinstance(value, float) and math.isnan(value):
        return "nan"
    if isinstance(value, float) and math.isinf(value):
        return str(value)
    return value_text(value)


@settings(max_examples=100, deadline=None, derandomize=True)
@given(st.lists(st.integers(20, 2000), min_size=1, max_size=8, unique=True), st.sampled_from(["mm", "in"]))
def test_sizes_of_a_drawer_come_back_as_they_were_written(hundredths, unit):
    sizes = [number / 100 for number in hundredths]
    text = f'units = "{unit}"\n[[reamer]]\nsizes = [{", ".join(length_text(size, unit) for size in sizes)}]\n'
    found = [one.diameter_mm for one in workshop_from(read_shop(text).shop).reamers]
    assert found == pytest.approx(sorted(sizes), abs=1e-9)
