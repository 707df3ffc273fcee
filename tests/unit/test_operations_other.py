"""Where no holder gets past the support, another tool does the work; what is really in the way stays blocked.

That small chamfers are filed and narrow grooves cut by a bit ground to their width: common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.job.design import inspect, work_out
from generator.job.reader import read_data
from generator.job.toml_text import read_text
from generator.making.operations import Operation, operations_for
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from tests.helpers import RINGS, centre, worked

INCH = """
kind = "revolving-centre"
name = "inch"
units = "in"
[socket]
taper = "Morse 4"
[shank]
end = "tang"
[passes]
holder_width = 0.75
tip_ahead = 0.3
work_diameter = 1.0
[[stack]]
ring = "6204-2RS"
[[stack]]
ring = "6003-2RS"
"""
CLIP: dict[str, Any] = {
    "socket": {"taper": "Morse 4"}, "shank": {"end": "drawbar"},
    "passes": {"holder_width": 20, "tip_ahead": 8, "work_diameter": 28},
    "retention": {"style": "circlip"}, "cover": {"style": "snap ring"},
    "stack": [{"ring": "6204-2RS"}, {"ring": "6004-2RS"}],
}  # fmt: skip


def clip_groove(**shop: object) -> Operation:
    job, at = worked("revolving-centre", CLIP), replace(usual_workshop(4), **shop)  # type: ignore[arg-type]
    setups = job.kind.order(job.choices, job.tool, at)
    found = operations_for(job.tool, setups, at, job.choices, stock_for(job.tool, setups, job.choices))
    return next(one for one in found if "spindle/clip_groove/diameter" in one.step.cuts)


def test_a_small_chamfer_behind_the_centre_is_filed() -> None:
    design = inspect(work_out(read_data(read_text(INCH, "inch.toml"))))
    assert design.work is not None
    assert not [one.address for one in design.findings if one.code == "order-blocked"]
    chamfer = next(one for one in design.work.operations if one.step.surface == "spindle/end_chamfer")
    assert (chamfer.step.text, chamfer.cutter) == ("file the end chamfer", "smooth file")
    assert chamfer.feed_mm is None
    assert "cross slide" not in chamfer.stop


def test_a_clip_groove_beside_the_end_is_cut_by_a_bit_ground_to_its_width() -> None:
    one = clip_groove()
    assert not one.blocked
    assert one.cutter == "HSS bit ground to the groove, 1.3 mm wide"
    assert "tried past the ball centre" in one.access


def test_a_bit_that_would_rub_on_the_seat_stays_blocked() -> None:
    """A blade hardly further ahead than the seat is high beside the groove rubs its flank on the seat: geometry."""
    cutters = tuple(
        replace(one, tip_ahead_mm=0.8, reach_mm=0.8) if one.work == "groove" else one
        for one in usual_workshop(4).cutters if one.work != "part"
    )  # fmt: skip
    assert clip_groove(cutters=cutters).blocked


def test_where_one_turning_tool_does_not_pass_another_of_the_shop_is_taken() -> None:
    data = centre(RINGS[4], socket={"taper": "Morse 4"}, retention={"style": "nut"}, cover={"style": "screwed"})
    job, at = worked("revolving-centre", data), usual_workshop(4)
    setups = job.kind.order(job.choices, job.tool, at)
    stock = stock_for(job.tool, setups, job.choices)
    found = [one for one in operations_for(job.tool, setups, at, job.choices, stock)
             if one.step.surface == "spindle/stud" and one.step.work in {"turn", "rough"}]  # fmt: skip
    assert [one.blocked for one in found] == [False, False]
    assert {one.cutter for one in found} == {"side and facing tool, carbide"}
    alone = replace(at, cutters=tuple(one for one in at.cutters if "side and facing" not in one.name))
    again = operations_for(job.tool, setups, alone, job.choices, stock)
    assert any(one.blocked for one in again if one.step.surface == "spindle/stud")


@pytest.mark.parametrize("support", ["ball", "60-degree"])
def test_what_already_passes_keeps_its_tool(support: str) -> None:
    job, at = worked("revolving-centre", CLIP), replace(usual_workshop(4), tailstock_support=support)
    setups = job.kind.order(job.choices, job.tool, at)
    found = operations_for(job.tool, setups, at, job.choices, stock_for(job.tool, setups, job.choices))
    chamfer = next(one for one in found if one.step.surface == "body/end_chamfer")
    assert chamfer.step.text == "turn the end chamfer"
    assert "tried past" in chamfer.access
