"""Any job that the file accepts is refused in clear words, or gives a tool that closes, with findings that speak."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.description import Tool, face_forms, nominal_positions, outline, polygon, volume_mm3
from generator.errors import GeometryError, InputError
from generator.making.order import twice_finished, unfinished, unknown_addresses
from generator.making.usual import usual_workshop
from generator.solid.build import solid_of, volume_of_mm3
from tests.helpers import Worked, worked
from tests.properties.jobs import centres, dead_centres

JOBS = st.one_of(
    st.tuples(st.just("revolving-centre"), centres()),
    st.tuples(st.just("revolving-centre"), centres()),
    st.tuples(st.just("dead-centre"), dead_centres()),
)
THOROUGH = settings(max_examples=150, deadline=None, derandomize=True)


def accepted(kind: str, data: dict[str, Any]) -> Worked | None:
    """The job worked out, or None where it is refused with a clear fault."""
    try:
        return worked(kind, data)
    except InputError as problem:
        faults = problem.faults
    assert faults
    for fault in faults:
        assert fault.place, fault
        assert fault.rule, fault
        assert fault.cure, fault
    return None


def formed(tool: Tool, job: Worked) -> list[Any]:
    """Parts that can be formed; each that cannot must be a stop of its own."""
    found = []
    for part in tool.parts.values():
        try:
            outline(part)
        except GeometryError:
            assert {code for code, _ in job.stops} & {"form", "check-not-run"}, part.name
            continue
        found.append(part)
    return found


@THOROUGH
@given(JOBS)
def test_any_job_is_refused_clearly_or_closes(drawn):
    kind, data = drawn
    job = accepted(kind, data)
    if job is None:
        return
    at = nominal_positions(job.tool)
    assert all(math.isfinite(value) for value in at.values())
    for part in formed(job.tool, job):
        corners = polygon(part)
        assert len(corners) >= 3
        assert min(r for _, r in corners) >= 0.0
        assert volume_mm3(part) > 0.0
        # Lengths close: the ends of the meridian are faces of the tree, and sums of its sizes.
        z = {face: sum(t.coefficient * t.size.nominal_mm for t in form) for face, form in face_forms(part).items()}
        for end in (min(z0 for z0, _ in corners), max(z0 for z0, _ in corners)):
            assert min(abs(end - at_face) for at_face in z.values()) < 1e-9


@THOROUGH
@given(JOBS)
def test_findings_of_any_job_speak(drawn):
    job = accepted(*drawn)
    if job is None:
        return
    keys = [found.key for found in job.findings]
    assert len(keys) == len(set(keys))
    for found in job.findings:
        assert found.title
        assert found.source
        assert found.advice
        assert found.miss >= 0.0
        assert found.miss == 0.0 or found.severity != "note", found
        assert json.loads(json.dumps(found.as_dict(), allow_nan=False))["address"] == found.address


@settings(max_examples=60, deadline=None, derandomize=True)
@given(JOBS)
def test_any_order_of_work_is_whole(drawn):
    job = accepted(*drawn)
    if job is None:
        return
    order = job.kind.order(job.choices, job.tool, usual_workshop())
    assert (unfinished(job.tool, order), twice_finished(order), unknown_addresses(job.tool, order)) == ((), (), ())


@settings(max_examples=8, deadline=None, derandomize=True)
@given(JOBS)
def test_solids_of_a_job_without_stops_are_valid_and_hold_what_is_described(drawn):
    job = accepted(*drawn)
    if job is None or job.stops:
        return
    for part in job.tool.made:
        # Flats and cross holes take something off; the turned form holds the most.
        assert 0.0 < volume_of_mm3(solid_of(part)) <= volume_mm3(part) * (1 + 1e-6)
        if not part.cross:
            assert volume_of_mm3(solid_of(part)) == pytest.approx(volume_mm3(part), rel=1e-6)
