"""Thirty random jobs of all kinds: every sheet drawn, read back and proofed; the command runs any number."""

from __future__ import annotations

import sys
from io import StringIO

import pytest

from benchmarks.random_jobs import accepted, job_text, main, results, sheets_of
from generator.job.design import inspect, work_out
from generator.job.reader import read_job
from generator.kinds import survey
from generator.proof import document_of, proof_document

COUNT = 30


def test_sheets_of_random_jobs_are_clean() -> None:
    done = list(results(COUNT))
    assert len(done) == COUNT
    assert {one.kind for one in done} == {line.name for line in survey()}
    found = [
        f"seed {one.seed}, {name}: {fault}" for one in done for name, faults in one.faults.items() for fault in faults
    ]
    assert found == []
    assert [one.undrawn for one in done if one.undrawn] == []
    assert all(one.sheets >= 2 for one in done)


HEAD = """kind = "dead-centre"
name = "long"
socket.taper = "Morse 1"
point = {{ work_diameter = 20, head_length = {} }}"""
REVOLVING = """kind = "revolving-centre"
name = "long"
socket.taper = "Morse 4"
passes = {{ holder_width = 20, tip_ahead = 6, work_diameter = 20 }}
stack = [{{ ring = "6204" }}, {{ ring = "6003" }}]
{}"""


@pytest.mark.parametrize(
    "text",
    [HEAD.format(300), REVOLVING.format("spindle.overhang = 200"), REVOLVING.format("body.barrel_length = 350")],
    ids=["head", "overhang", "barrel"],
)
def test_parts_of_long_tools_are_drawn_at_full_size_and_clean(text: str) -> None:
    # Whether such a tool should be made is another question: its sheets are drawn all the same.
    for name, sheet in sheets_of(inspect(work_out(read_job(text, name="long")))):
        assert sheet.scale >= 1.0 or name in ("arrangement", "assembly")
        stream = StringIO()
        sheet.document.write(stream)
        faults = proof_document(document_of(stream.getvalue())).faults
        assert [str(one) for one in faults if one.severity == "fault"] == []


def test_a_seed_gives_one_job() -> None:
    assert job_text(7) == job_text(7) != job_text(9)
    design = next(found for seed in range(20) if (found := accepted(seed)) is not None)
    assert not design.stops


def test_the_command_tells_what_it_found(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys, "argv", ["random_jobs.py", "1"])
    assert main() == 0
    assert "1 accepted jobs" in capsys.readouterr().out
