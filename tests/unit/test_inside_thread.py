"""A nut is tapped only by a tap that lies in the drawer; otherwise its thread is screw-cut into a run-out.

Core and major diameter: ISO 724 through table threads. What is left for boring, and the run-out: common practice.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator import tables
from generator.making.operations import operations_for
from generator.making.order import compare
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from generator.making.workshop import Workshop
from tests.helpers import RINGS, centre, worked


def nut_of(number: int, shop: Workshop):
    """The operations of the first set-up of a nut, with its thread's name and what the checks say of it."""
    data = centre(RINGS[number], retention={"style": "nut"}, cover={"style": "screwed"},
                  socket={"taper": f"Morse {number}"})  # fmt: skip
    job = worked("revolving-centre", data)
    setups = job.kind.order(job.choices, job.tool, shop)
    stock = stock_for(job.tool, setups, job.choices)
    thread = job.choices.names["nut/thread"]
    mine = {setup.number for setup in setups if setup.parts == ("nut",)}
    found = operations_for(job.tool, setups, shop, job.choices, stock)
    said = [one for one in compare(job.tool, setups, shop, stock) if "/nut" in one.address]
    return [one for one in found if int(one.number.partition(".")[0]) in mine], thread, said


@pytest.mark.parametrize("number", [3, 4])
def test_without_its_tap_a_nut_is_screw_cut_into_a_run_out(number: int) -> None:
    operations, name, said = nut_of(number, usual_workshop(number))
    assert name not in usual_workshop(number).taps
    thread = tables.thread(name)
    works = [one.step.work for one in operations]
    assert "tap" not in works
    assert works.index("thread") < works.index("part")
    core = next(one for one in operations if one.step.text.startswith("bore to the core"))
    out = next(one for one in operations if one.step.text.startswith("open a run-out"))
    assert f"dia {thread.tap_drill_mm:g} mm" in core.step.size
    assert f"dia {thread.major_mm + 0.3:g} mm" in out.to
    assert core.step.length_mm is not None
    assert "past the rear, into bar that goes later" in core.stop
    assert not said


@pytest.mark.parametrize("number", [3, 4])
def test_with_its_tap_in_the_drawer_a_nut_is_tapped(number: int) -> None:
    shop = usual_workshop(number)
    _, name, _ = nut_of(number, shop)
    operations, _, said = nut_of(number, replace(shop, taps=(*shop.taps, name)))
    tapped = next(one for one in operations if one.step.work == "tap")
    assert tapped.cutter.startswith(f"taps {name}")
    assert not tapped.missing
    assert not any("run-out" in one.step.text for one in operations)
    assert not said


def test_a_core_that_no_tool_enters_is_tapped_and_the_tap_is_missing() -> None:
    operations, name, _ = nut_of(1, usual_workshop(1))
    assert tables.thread(name).tap_drill_mm < 8.0 or any(one.step.work == "thread" for one in operations)
    if tables.thread(name).tap_drill_mm < 8.0:
        assert any(one.missing for one in operations if one.step.work == "tap")
