"""The sample in the repository is what the program makes of the demo today: whoever reads it reads no old plan."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from generator.job.reader import find_job, read_job
from generator.make import Made, make

SAMPLE = Path(__file__).resolve().parents[2] / "outputs" / "sample"
# What the program worked out; not the versions of the libraries on the machine that wrote it.
WORKED_OUT = ("name", "kind", "job", "workshop", "parameters", "sizes", "findings", "chains", "set_ups", "operations")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    return make(read_job(find_job("demo")), tmp_path_factory.mktemp("sample") / "out")


def record(folder: Path | None) -> dict[str, Any]:
    assert folder is not None
    found: dict[str, Any] = json.loads((folder / "record.json").read_text(encoding="utf-8"))
    return found


@pytest.mark.parametrize("key", WORKED_OUT)
def test_the_record_of_the_sample_is_that_of_a_fresh_make(made, key):
    assert record(made.folder)[key] == record(SAMPLE)[key]


def test_the_sample_holds_the_files_of_a_fresh_make_and_no_others(made):
    assert sorted(path.name for path in SAMPLE.iterdir()) == sorted(made.files)


def test_what_our_own_writers_wrote_is_the_same_to_the_byte(made):
    fresh = made.folder
    assert fresh is not None
    for name in made.files:
        if name.endswith((".svg", ".csv")):
            assert (fresh / name).read_bytes() == (SAMPLE / name).read_bytes(), name
