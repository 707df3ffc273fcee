"""The inspection table is filled, read back, judged; gaps are worked out as made."""

from __future__ import annotations

import csv
import io

import pytest

from generator.checks import chains
from generator.errors import InputError
from generator.making.inspection import inspection_rows
from generator.making.readings import as_made, inspection_table, judge, read_readings
from tests.helpers import CENTRE, centre, worked


@pytest.fixture(scope="module")
def tool():
    return worked(CENTRE, centre()).tool


@pytest.fixture(scope="module")
def gaps(tool):
    return tuple(chains(tool).values())


def filled(tool, gaps, unit="mm", separator=",", **readings: str) -> str:
    """The table that make writes, with readings at addresses ("/" written as "__")."""
    wanted = {address.replace("__", "/"): value for address, value in readings.items()}
    rows = list(csv.DictReader(io.StringIO(inspection_table(tool, gaps, unit))))
    written = io.StringIO()
    table = csv.DictWriter(written, rows[0].keys(), delimiter=separator)
    table.writeheader()
    for row in rows:
        table.writerow({**row, "reading": wanted.pop(row["address"], "")})
    assert not wanted, "every reading has its line"
    return written.getvalue()


def test_characteristics_are_numbered_from_one_on_every_part(tool, gaps):
    rows = inspection_rows(tool, gaps)
    for part in tool.made:
        numbers = [row.number for row in rows if row.address.partition("/")[0] == part.name]
        assert numbers == list(range(1, len(numbers) + 1))


def test_the_table_holds_every_characteristic_and_the_widths_of_the_bearings(tool, gaps):
    found = {row["address"] for row in csv.DictReader(io.StringIO(inspection_table(tool, gaps)))}
    assert {row.address for row in inspection_rows(tool, gaps)} <= found
    assert {"ring_1_outer/width", "ring_2_inner/width"} <= found


def test_limits_of_the_table_are_those_of_the_description(tool, gaps):
    rows = {row["address"]: row for row in csv.DictReader(io.StringIO(inspection_table(tool, gaps)))}
    # ISO 286-2 as printed in the trade table: 10 to 18, j6 about a bore of 17, +8 / -3 um.
    assert (rows["spindle/seat_1"]["least"], rows["spindle/seat_1"]["most"]) == ("16.997", "17.008")


@pytest.mark.parametrize(("unit", "separator", "reading"), [("mm", ",", "17.003"), ("mm", ";", "17,003"),
                                                            ("in", ",", "0.66941")])
def test_a_reading_comes_back_in_mm_from_either_unit_and_either_spreadsheet(tool, gaps, unit, separator, reading):
    text = filled(tool, gaps, unit, separator, spindle__seat_1=reading)
    assert read_readings(text, tool, gaps, unit=unit) == {"spindle/seat_1": pytest.approx(17.003, abs=2e-5)}


def test_all_faults_are_told_at_once_each_with_its_line(tool, gaps):
    text = filled(tool, gaps, spindle__seat_1="about 17", body__taper="most of it", body__pocket_1="-35")
    text = text.replace("body/barrel,", "body/barel,").replace("spindle/seat_2,", "spindle/seat_2,", 1)
    text = text.replace("micrometer,\r\n", "micrometer,42\r\n", 1)
    with pytest.raises(InputError, match="fault") as refused:
        read_readings(text, tool, gaps)
    assert len(refused.value.faults) == 4
    assert all(fault.line for fault in refused.value.faults)
    assert "nearest: body/barrel" in str(refused.value)


def test_a_table_without_its_heading_is_refused(tool, gaps):
    with pytest.raises(InputError, match="address, unit and reading"):
        read_readings("1,2,3\n4,5,6\n", tool, gaps)
    with pytest.raises(InputError, match="fault"):
        read_readings("", tool, gaps)


def test_metal_left_and_metal_gone_are_told_apart(tool, gaps):
    states = {
        reading: judge(tool, gaps, {"spindle/seat_1": reading})[0].state for reading in (17.003, 17.02, 16.98)
    }
    assert states == {17.003: "within", 17.02: "metal left", 16.98: "metal gone"}
    left = judge(tool, gaps, {"spindle/seat_1": 17.02})[0]
    assert "take off 0.012 mm" in left.do
    gone = judge(tool, gaps, {"body/pocket_1": 35.034})[0]
    assert gone.by_mm == pytest.approx(0.020)
    assert "compound" in gone.do


def test_words_are_judged_by_what_they_say(tool, gaps):
    def state(words: str) -> str:
        return judge(tool, gaps, {"body/taper": words})[0].state

    assert [state(words) for words in ("ok", "70 %", "40 %", "not ok")] == ["good", "good", "bad", "bad"]


def test_a_gap_as_made_is_the_sum_of_its_readings(tool, gaps):
    """Recess of the cover against its thickness: 3.36 - 2.95 = 0.41 by hand, each reading doubtful by 0.005."""
    found = as_made(tool, gaps, {"body/recess/depth": 3.36, "cover/thickness": 2.95})
    room = next(one for one in found if one.result.gap.name == "cover_room")
    assert (room.low_mm, room.high_mm) == (pytest.approx(0.40), pytest.approx(0.42))
    assert room.outside_mm == 0.0


def test_a_fitted_depth_is_held_against_the_bearing_as_measured(tool, gaps):
    read = {"body/pocket_1/depth": 10.10, "ring_1_outer/width": 9.97}
    clamp = next(one for one in as_made(tool, gaps, read) if one.result.gap.fit == "body/pocket_1/depth")
    assert clamp.low_mm == pytest.approx(0.12)
    # Wanted 0.00 to 0.06: 0.14 at worst is 0.08 too much.
    assert clamp.outside_mm == pytest.approx(clamp.high_mm - clamp.result.gap.most_mm)
    assert clamp.outside_mm > 0
