"""Any duty on any job is refused in clear words, or gives findings that speak, each once, with finite figures."""

from __future__ import annotations

import json
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.errors import Fault, InputError
from tests.helpers import Worked, worked
from tests.properties.jobs import centres, dead_centres


def between(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


DUTIES = st.fixed_dictionaries({}, optional={
    "work_diameter": between(0.5, 300), "work_length": between(1, 3000), "work_mass": between(0.001, 2000),
    "work_material": st.sampled_from(["C45", "42CrMo4", "POM", "bronze", "no such thing"]),
    "held": st.sampled_from(["chuck", "centres"]), "depth": between(0.001, 20), "feed": between(0.0005, 4),
    "speed": between(1, 90000), "thrust": between(0.1, 1e5), "pull": between(0.1, 500),
    "screw_lead": between(0.5, 10), "handwheel_diameter": between(30, 300), "quill_out": between(0, 300),
    "safety": between(0.5, 20), "life": between(1, 1e5), "offset": between(0.001, 1), "runout": between(0.001, 1),
    "lost_motion": between(0.001, 1), "deflection": between(0.001, 1),
    "accuracy": st.sampled_from(["Normal", "P6", "P5"]), "clearance": st.sampled_from(["C2", "CN", "C3"]),
})  # fmt: skip
JOBS = st.one_of(
    st.tuples(st.just("revolving-centre"), centres()), st.tuples(st.just("dead-centre"), dead_centres())
)
GUESSED = {"static", "thrust", "strength", "life", "pressure", "half_strength", "fit_inner"}


def _worked(kind: str, data: dict[str, Any]) -> tuple[Worked | None, tuple[Fault, ...]]:
    try:
        return worked(kind, data), ()
    except InputError as problem:
        return None, tuple(problem.faults)


@settings(max_examples=100, deadline=None, derandomize=True)
@given(JOBS, DUTIES)
def test_findings_of_any_duty_speak(drawn: tuple[str, dict[str, Any]], loads: dict[str, Any]) -> None:
    kind, data = drawn
    job, faults = _worked(kind, {**data, "loads": loads})
    assert all(fault.place and fault.rule and fault.cure for fault in faults)
    if job is None:
        assert faults
        return
    keys = [found.key for found in job.findings]
    assert len(keys) == len(set(keys))
    for found in job.findings:
        assert found.title
        assert found.source
        assert found.advice
        assert found.miss == 0.0 or found.severity != "note", found
        json.dumps(found.as_dict(), allow_nan=False)
    if not {"depth", "feed", "work_material"} <= set(loads) and not {"thrust", "pull"} & set(loads):
        # A default never stops a job.
        assert not [f.key for f in job.findings if f.code in GUESSED and f.severity == "stop"]
