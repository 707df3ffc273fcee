"""Advice: what it proposes clears the finding and does no harm; spacers find their place in the stack."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from generator.checks import advise
from generator.checks.advice import with_changes
from generator.errors import InputError
from tests.helpers import CENTRE, Worked, centre, of_params, read, worked


def clears(job: Worked) -> list[str]:
    """Parameters that the advice changes; each change is applied and must clear its finding without a new stop."""
    changed = []
    before = set(job.stops)
    for found in advise(job.kind, job.params, job.findings):  # type: ignore[arg-type]
        if not found.changes or found.severity == "note":
            continue
        after = of_params(CENTRE, with_changes(job.params, {c.parameter: c.value for c in found.changes}))
        left = [f for f in after.findings if f.key == found.key and f.severity != "note"]
        assert left == [], (found.key, found.changes)
        assert set(after.stops) <= before, (found.key, found.changes, after.stops)
        changed += [c.parameter for c in found.changes]
    return changed


SPOILT: dict[str, dict[str, Any]] = {
    "shank.stand_off": {"shank": {"stand_off": 0.6}},
    "spindle.overhang": {"spindle": {"overhang": 8}},
    "body.through_bore": {"body": {"through_bore": 16}},
    "body.barrel_diameter": {"body": {"barrel_diameter": 39}},
    "body.flats_across": {"body": {"flats_across": 20}},
    "spindle.collar_diameter": {"spindle": {"collar_diameter": 26}},
    "retention.screw_length": {"retention": {"screw_length": 8}},
    "spindle.tip": {"spindle": {"tip": 7}},
    "cover.gap": {"cover": {"gap": 0.8}},
    "bar.diameter": {"bar": {"diameter": 42}},
}


@pytest.mark.parametrize("parameter", SPOILT)
def test_what_one_parameter_spoilt_the_same_one_mends(parameter):
    job = worked(CENTRE, centre(**SPOILT[parameter]))
    assert [f for f in job.findings if f.severity != "note"]
    assert parameter in clears(job)


def test_a_sound_job_gets_no_changes():
    job = worked(CENTRE, centre())
    assert [f for f in advise(job.kind, job.params, job.findings) if f.changes] == []  # type: ignore[arg-type]


def test_advice_changes_nothing_but_the_changes():
    job = worked(CENTRE, centre(**SPOILT["spindle.overhang"]))
    advised = advise(job.kind, job.params, job.findings)  # type: ignore[arg-type]
    assert [f.key for f in advised] == [f.key for f in job.findings]


RULES = {
    "shank": {"stand_off": (0.2, 12.0), "length": (50.0, 130.0)},
    "body": {"barrel_diameter": (38.0, 60.0), "through_bore": (4.0, 20.0), "floor_recess_diameter": (12.0, 30.0),
             "floor_recess_depth": (1.0, 8.0), "flats_across": (20.0, 44.0)},
    "spindle": {"overhang": (5.0, 40.0), "nose_diameter": (8.0, 26.0), "collar_diameter": (18.0, 27.0),
                "tip": (0.2, 8.0)},
    "retention": {"screw_length": (6.0, 40.0)},
    "cover": {"thickness": (1.0, 6.0), "gap": (0.1, 1.0)},
    "passes": {"centre_hole": (3.0, 20.0), "end_distance": (0.0, 8.0)},
    "socket": {"ejector_depth": (50.0, 110.0), "ejector_nose_diameter": (6.0, 20.0)},
}  # fmt: skip
CHOICES = [(table, key) for table, keys in RULES.items() for key in keys]


@st.composite
def spoilt(draw: Any) -> dict[str, Any]:
    """The example with one or two parameters anywhere."""
    tables: dict[str, dict[str, float]] = {}
    for table, key in draw(st.lists(st.sampled_from(CHOICES), min_size=1, max_size=2, unique=True)):
        low, high = RULES[table][key]
        value = round(low + draw(st.integers(1, 100)) / 100 * (high - low), 1)
        tables.setdefault(table, {})[key] = value
    return tables


@settings(max_examples=25, deadline=None, derandomize=True)
@given(spoilt(), st.sampled_from([("6003-2RS", "6001-2RS"), ("6003-2RS",), ("6204-2RS", "6000-2RS")]))
def test_any_change_that_is_advised_clears_its_finding_and_adds_no_stop(tables, stack):
    try:
        job = worked(CENTRE, centre(stack, **tables))
    except InputError:
        return
    clears(job)


# --- changes put into a job ---


@pytest.mark.parametrize(
    ("stack", "index", "expected"),
    [
        (("6003", "6001"), 1, [{"ring": "6003"}, {"spacer": 7.0}, {"ring": "6001"}]),
        (("6003", {"spacer": 3.0}, "6001"), 1, [{"ring": "6003"}, {"spacer": 7.0}, {"ring": "6001"}]),
        (("6003",), 1, [{"ring": "6003", "count": 1}, {"spacer": 7.0}, {"ring": "6003", "count": 1}]),
        (({"ring": "6003", "count": 2}, {"spacer": 3.0}), 1, [{"ring": "6003", "count": 2}, {"spacer": 7.0}]),
        (({"ring": "6003", "count": 3}, "6001"), 2,
         [{"ring": "6003", "count": 2}, {"spacer": 7.0}, {"ring": "6003", "count": 1}, {"ring": "6001"}]),
        (({"ring": "6003", "count": 2}, "6001"), 2, [{"ring": "6003", "count": 2}, {"spacer": 7.0}, {"ring": "6001"}]),
    ],
)  # fmt: skip
def test_a_spacer_is_put_behind_its_ring(stack, index, expected):
    changed = with_changes(read(CENTRE, centre(stack)), {f"stack.spacer_{index}": 7.0})
    assert changed.model_dump(exclude_unset=True)["stack"] == expected
    job = of_params(CENTRE, changed)
    assert job.value(f"stack.spacer_{index}") == 7.0
    assert job.choices.rule_of(f"stack.spacer_{index}") == "given"


def test_changes_leave_the_first_job_alone():
    params = read(CENTRE, centre(("6003", {"spacer": 3.0}, "6001")))
    before = params.model_dump()
    with_changes(params, {"stack.spacer_1": 7.0, "body.barrel_diameter": 50.0})
    assert params.model_dump() == before


def test_an_unknown_parameter_is_refused():
    with pytest.raises(ValidationError, match="colour"):
        with_changes(read(CENTRE, centre()), {"body.colour": 7.0})
