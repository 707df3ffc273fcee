"""Any accepted job, in any shop and unit, has settings for its tapers that can be read: no figure missing or absurd."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.errors import InputError
from generator.kinds import load_kind
from generator.making.settings import settings_for, tapers
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from tests.helpers import Worked, worked
from tests.properties.jobs import centres, dead_centres

JOBS = st.one_of(
    st.tuples(st.just("revolving-centre"), centres()), st.tuples(st.just("dead-centre"), dead_centres())
)
SHOPS = st.fixed_dictionaries({
    "taper_method": st.sampled_from(["set-over", "top slide", "attachment", "bought shank"]),
    "headstock_support": st.sampled_from(["ball", "60-degree"]),
    "tailstock_support": st.sampled_from(["ball", "60-degree"]),
    "attachment_mm": st.sampled_from([None, 200.0, 400.0]),
})


def accepted(kind: str, data: dict[str, Any]) -> Worked | None:
    try:
        return worked(kind, data)
    except InputError:
        return None


@settings(max_examples=120, deadline=None, derandomize=True)
@given(JOBS, SHOPS, st.sampled_from(["mm", "in"]))
def test_any_job_has_settings_that_can_be_read(drawn, shop, unit):
    kind, data = drawn
    job = accepted(kind, data)
    if job is None or job.stops:
        return
    workshop = replace(usual_workshop(int(job.choices.parameters["socket.taper"].value[-1])), **shop)
    setups = load_kind(kind).order(job.choices, job.tool, workshop)
    stock = stock_for(job.tool, setups, job.choices, unit)
    rows = settings_for(job.tool, job.choices, stock, workshop, unit)
    assert len(rows) >= 12 * len(tapers(job.tool))
    for one in rows:
        shown = f"{one.label} {one.value} {one.note}"
        assert one.label, one
        assert one.value, one
        assert not re.search(r"nan|inf\b|\d{6}|-0(\.0+)? ", shown), one
        if one.main:
            # Set large: it must fit a narrow column.
            assert len(one.value) <= 12, one
    assert len({(one.group, one.label) for one in rows}) == len(rows)
