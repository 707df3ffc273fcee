"""check --readings: a filled inspection table as a user gives it on the command line."""

from __future__ import annotations

import csv
import io
import json

import pytest

from generator.checks import chains
from generator.cli import run
from generator.job.design import work_out
from generator.job.reader import find_job, read_job
from generator.making.readings import inspection_table


@pytest.fixture
def table(tmp_path):
    """Writes the demo's table with these readings and returns its path."""
    design = work_out(read_job(find_job("demo")))
    rows = list(csv.DictReader(io.StringIO(inspection_table(design.tool, tuple(chains(design.tool).values())))))

    def write(readings: dict[str, str]) -> str:
        path = tmp_path / "filled.csv"
        with path.open("w", encoding="utf-8", newline="") as stream:
            out = csv.DictWriter(stream, rows[0].keys())
            out.writeheader()
            out.writerows({**row, "reading": readings.get(row["address"], "")} for row in rows)
        return str(path)

    return write


def test_a_right_table_ends_with_zero_and_counts_what_is_open(table, capsys):
    assert run(["check", "demo", "--readings", table({"spindle/seat_2": "12.003"})]) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert "1 of 1 readings right" in shown
    assert "still to be read" in shown


def test_a_size_that_is_out_ends_with_one_and_says_what_to_do(table, capsys):
    assert run(["check", "demo", "--readings", table({"body/pocket_1": "35.031"})]) == 1
    shown = " ".join(capsys.readouterr().out.split())
    assert "OUT body/pocket_1" in shown
    assert "metal gone" in shown
    assert "compound" in shown


def test_plain_data_holds_readings_and_gaps(table, capsys):
    readings = {"body/recess/depth": "3.36", "cover/thickness": "2.2"}
    assert run(["check", "demo", "--json", "--readings", table(readings)]) == 1
    data = json.loads(capsys.readouterr().out)["inspection"]
    assert not data["right"]
    room = next(gap for gap in data["gaps"] if gap["gap"] == "cover_room")
    assert room["outside_mm"] == pytest.approx(0.17)  # 3.36 - 2.2 + 0.01 doubt against 1.00, by hand


def test_bad_readings_are_told_at_once_without_a_traceback(table, capsys):
    path = table({"spindle/seat_1": "tight", "spindle/seat_2": "-3"})
    assert run(["check", "demo", "--readings", path]) == 2
    told = capsys.readouterr().err
    assert "2 faults" in told
    assert run(["check", "demo", "--readings", f"{path}.none"]) == 2
    assert "an inspection table" in capsys.readouterr().err
