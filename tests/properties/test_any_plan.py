"""No design that is accepted gets an order of work that fails its own check, whichever way its taper is cut."""

from __future__ import annotations

import json
from dataclasses import replace
from random import Random
from typing import Any, get_args

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.checks import check
from generator.errors import InputError
from generator.job.shop_tables import Shop
from generator.job.workshop import workshop_from
from generator.making.order import compare
from generator.making.setups import WAYS, Step, Work
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from generator.making.workshop import Workshop
from tests.helpers import CENTRE, Worked, centre, worked
from tests.properties.jobs import centres, dead_centres

JOBS = st.one_of(
    st.tuples(st.just("revolving-centre"), centres()),
    st.tuples(st.just("revolving-centre"), centres()),
    st.tuples(st.just("dead-centre"), dead_centres()),
)
METHODS = st.sampled_from(["", "top slide", "set-over", "bought shank"])
SUPPORTS = st.sampled_from(["ball", "60-degree"])


def workshop_for(data: dict[str, Any], method: str, head: str, tail: str) -> Workshop:
    """The shop of a job without a shop file, its tapers cut as they ask for, or one way or the other."""
    usual = workshop_from(Shop(), int(data["socket"]["taper"].removeprefix("Morse ")))
    chosen = {"taper_method": method} if method else {}
    return replace(usual, headstock_support=head, tailstock_support=tail, **chosen)  # type: ignore[arg-type]


def accepted(kind: str, data: dict[str, Any], shop: Workshop) -> Worked | None:
    """The job worked out, or None where it is refused, or stopped by what is no fault of its order of work."""
    try:
        job = worked(kind, data)
    except InputError:
        return None
    found = check(job.kind, job.choices, job.tool, shop)  # type: ignore[arg-type]
    others = [one for one in found if one.severity == "stop" and not one.code.startswith("order-")]
    return None if others else replace(job, findings=found)


@settings(max_examples=200, deadline=None, derandomize=True)
@given(JOBS, METHODS, SUPPORTS, SUPPORTS)
def test_no_accepted_design_gets_a_plan_that_fails_its_own_check(
    drawn: tuple[str, dict[str, Any]], method: str, head: str, tail: str
) -> None:
    kind, data = drawn
    shop = workshop_for(data, method, head, tail)
    job = accepted(kind, data, shop)
    if job is None:
        return
    assert job.stops == []
    setups = job.kind.order(job.choices, job.tool, shop)
    found = compare(job.tool, setups, shop, stock_for(job.tool, setups, job.choices))
    assert {one.key for one in found} <= {one.key for one in job.findings}


SPOILT = st.fixed_dictionaries({}, optional={
    "located": st.sampled_from(list(WAYS)),
    "locates_on": st.sampled_from(["", "bar", "centre holes", "body/taper", "spindle/seat_1", "body/no such thing"]),
    "grips": st.sampled_from(["", "bar", "body/taper", "body/barrel", "spindle/nose", "spindle/point", "cover/bore"]),
    "grip_mm": st.one_of(st.none(), st.floats(0.1, 300.0)),
    "out_mm": st.one_of(st.none(), st.floats(0.1, 900.0)),
    "support": st.sampled_from(["", "centre", "steady"]),
    "steps": st.lists(st.builds(
        Step, st.just("a step"), work=st.sampled_from(get_args(Work)),
        cuts=st.sampled_from([(), ("body/taper/diameter",), ("body/pocket_1/diameter",), ("spindle/seat_1/diameter",)]),
        surface=st.sampled_from(["", "body/through_bore", "body/front", "spindle/point"]),
        diameter_mm=st.one_of(st.none(), st.floats(0.5, 60.0)), length_mm=st.one_of(st.none(), st.floats(0.5, 300.0)),
    ), max_size=4).map(tuple),
})  # fmt: skip


@settings(max_examples=100, deadline=None, derandomize=True)
@given(st.randoms(use_true_random=False), st.lists(SPOILT, min_size=1, max_size=6))
def test_any_plan_however_spoilt_gets_findings_that_speak(random: Random, spoilt: list[dict[str, Any]]) -> None:
    job = worked(CENTRE, centre())
    shop = usual_workshop()
    setups = list(job.kind.order(job.choices, job.tool, shop))
    random.shuffle(setups)
    for place, fields in enumerate(spoilt):
        setups[place] = replace(setups[place], **fields)
    found = compare(job.tool, setups, shop, stock_for(job.tool, setups, job.choices))
    assert len({one.key for one in found}) == len(found)
    for one in found:
        assert one.title, one
        assert one.source, one
        assert one.advice, one
        assert one.miss >= 0.0, one
        assert one.miss == 0.0 or one.severity != "note", one
        json.dumps(one.as_dict(), allow_nan=False)
