"""Thirty random jobs of all kinds: every sheet drawn, read back and proofed; the command runs any number."""

from __future__ import annotations

import sys

import pytest

from benchmarks.random_jobs import accepted, job_text, main, results
from generator.kinds import survey

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


def test_a_seed_gives_one_job() -> None:
    assert job_text(7) == job_text(7) != job_text(9)
    design = next(found for seed in range(20) if (found := accepted(seed)) is not None)
    assert not design.stops


def test_the_command_tells_what_it_found(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys, "argv", ["random_jobs.py", "1"])
    assert main() == 0
    assert "1 accepted jobs" in capsys.readouterr().out
