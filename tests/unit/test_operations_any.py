"""Any job that can be formed gets its operations in any shop, however little stands in it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.description import outline
from generator.errors import GeometryError, InputError
from generator.making.operations import operations_for
from generator.making.operations_list import tools_for, total_minutes
from generator.making.setups import SetUp
from generator.making.stock import StockRow, stock_for
from generator.making.usual import usual_workshop
from generator.making.workshop import Dial, Workshop
from generator.units import FileUnit
from tests.helpers import Worked, worked
from tests.properties.jobs import centres, dead_centres

JOBS = st.one_of(
    st.tuples(st.just("revolving-centre"), centres()), st.tuples(st.just("dead-centre"), dead_centres())
)
CHANGES: tuple[dict[str, Any], ...] = (
    {},
    {"drills": (), "boring_bars": (), "cutters": (), "taps": (), "dies": (), "reamers": (), "chucks": ()},
    {"tailstock_support": "60-degree", "taper_method": "set-over", "carriage_dial": Dial(0.1, 18.0)},
    {"quill_dial": None, "boring_bars": (), "taper_method": "attachment", "attachment_mm": 200.0},
    {"has_steps": False, "speeds_rpm": (50.0, 2000.0), "steady_most_mm": None, "micrometer_mm": 0.001},
)


def planned(drawn: tuple[str, dict[str, Any]], shop: Workshop, unit: FileUnit) -> tuple[Worked, Any, Any] | None:
    """The job with its set-ups and blanks; None for one that is refused or has a part that cannot be formed."""
    try:
        job = worked(*drawn)
        for part in job.tool.parts.values():
            outline(part)
    except (InputError, GeometryError):
        return None
    setups: tuple[SetUp, ...] = job.kind.order(job.choices, job.tool, shop)
    stock: tuple[StockRow, ...] = stock_for(job.tool, setups, job.choices, unit)
    return job, setups, stock


@settings(max_examples=40, deadline=None, derandomize=True)
@given(JOBS, st.sampled_from(CHANGES), st.sampled_from(["mm", "in"]))
def test_any_job_gets_its_operations_in_any_shop(
    drawn: tuple[str, dict[str, Any]], change: dict[str, Any], unit: FileUnit
) -> None:
    shop = replace(usual_workshop(int(drawn[1]["socket"]["taper"][-1])), **change)
    found = planned(drawn, shop, unit)
    if found is None:
        return
    job, setups, stock = found
    operations = operations_for(job.tool, setups, shop, job.choices, stock, unit)
    assert len(operations) == sum(len(setup.steps) for setup in setups)
    slowest, fastest = min(shop.speeds_rpm), max(shop.speeds_rpm)
    for one in operations:
        assert one.speed_note
        assert one.rpm is None or slowest <= one.rpm <= fastest
        assert one.rpm is None or not shop.has_steps or one.rpm in shop.speeds_rpm
        assert one.depth_mm is None or one.depth_mm > 0
    assert all(row.substitute for row in tools_for(operations) if row.is_missing)
    assert total_minutes(operations) > 0
