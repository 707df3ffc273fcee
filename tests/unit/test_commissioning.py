"""The first running: speeds of the machine, no faster than the job asks, and three truths."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.making.commissioning import runnings, truths
from generator.making.usual import usual_workshop
from generator.plan.commissioning import commissioning_page
from generator.prints.content import Table
from tests.helpers import CENTRE, centre, worked


@pytest.fixture(scope="module")
def job():
    return worked(CENTRE, centre(loads={"speed": 800, "work_mass": 5, "depth": 1, "feed": 0.1, "thrust": 400}))


def test_the_warm_run_rises_over_the_machines_own_speeds_and_stops_at_the_jobs(job):
    shop = usual_workshop(3)
    steps = [one.rpm for one in runnings(job.tool, job.findings, shop)]
    assert steps == sorted(set(steps))
    assert set(steps) <= set(shop.speeds_rpm)
    assert steps[-1] == max(speed for speed in shop.speeds_rpm if speed <= 800)


def test_a_machine_without_steps_runs_the_shares_themselves(job):
    shop = replace(usual_workshop(3), speeds_rpm=(50.0, 2000.0), has_steps=False)
    assert [one.rpm for one in runnings(job.tool, job.findings, shop)] == [200.0, 400.0, 800.0]


def test_three_truths_are_three_numbers(job):
    found = truths(job.tool, job.findings)
    assert [one.name.partition(",")[0] for one in found] == ["offset", "run-out", "lost motion"]
    assert len({one.likely_um for one in found}) == 3


def test_what_stands_still_has_no_warm_run():
    dead = worked("dead-centre", {"socket": {"taper": "Morse 3"}, "point": {"form": "half", "work_diameter": 14}})
    assert runnings(dead.tool, dead.findings, usual_workshop(3)) == ()
    page = commissioning_page(dead.tool, dead.findings, usual_workshop(3), "mm")
    titles = [block.title for block in page.blocks if isinstance(block, Table)]
    assert "Warm run" not in titles
    assert "How true it is" in titles


def test_the_page_forbids_a_load_or_speed_on_the_tool(job):
    page = commissioning_page(job.tool, job.findings, usual_workshop(3), "in")
    words = " ".join(getattr(block, "text", "") for block in page.blocks)
    assert "read as a rating" in words
    cells = " ".join(cell for block in page.blocks if isinstance(block, Table) for row in block.rows for cell in row)
    assert " um" not in cells
    assert " in" in cells
