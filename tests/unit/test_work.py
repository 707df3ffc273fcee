"""The work of a design is worked out once, and a tool that does not get there stands in the verdict."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.job.design import advised, inspect, work_out
from generator.job.reader import find_job, read_job
from generator.job.work import blocked_findings


@pytest.fixture(scope="module")
def design():
    return inspect(work_out(read_job(find_job("demo"))))


def test_an_inspected_design_carries_its_work_on(design):
    assert design.work is not None
    assert {setup.parts[0] for setup in design.work.setups} == {part.name for part in design.tool.made}
    assert len(design.work.operations) == sum(len(setup.steps) for setup in design.work.setups)
    assert advised(design).work is design.work


def test_a_blocked_operation_is_a_warning_with_its_number(design):
    work = design.work
    first = replace(work.operations[3], blocked=True, access="the holder meets the head of the centre by 0.3 mm")
    found = list(blocked_findings(replace(work, operations=(*work.operations[:3], first, *work.operations[4:]))))
    assert [(one.code, one.severity) for one in found] == [("order-blocked", "warn")]
    assert first.number in found[0].title
    assert "0.3 mm" in found[0].advice


def test_nothing_is_blocked_in_the_demo(design):
    assert [one for one in design.findings if one.code == "order-blocked"] == []
