"""Bar that cleans up, or that is left as drawn: allowances are common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.checks import check
from generator.making.stock import least_bar_mm, stock_for
from generator.making.usual import usual_workshop
from generator.making.workshop import ShelfBar
from tests.helpers import centre, worked

HALF = {"socket": {"taper": "Morse 3"}, "shank": {"end": "drawbar"},
        "point": {"form": "half", "material": "O1", "work_diameter": 14}}  # fmt: skip


@pytest.mark.parametrize("rings", [("6003-2RS", "6001-2RS"), ("6004-2RS", "6002-2RS")])
@pytest.mark.parametrize("style", [{}, {"retention": {"style": "nut"}, "cover": {"style": "screwed"}}])
def test_every_blank_leaves_a_millimetre_to_turn_true(rings: tuple[str, ...], style: dict[str, object]) -> None:
    """A bright bar in a three-jaw runs out by about 0.1 mm and is not round: 1 mm on the diameter cleans it up."""
    job = worked("revolving-centre", centre(rings, **style))
    shop = usual_workshop()
    setups = job.kind.order(job.choices, job.tool, shop)
    for row in stock_for(job.tool, setups, job.choices):
        assert row.bar_mm - row.finished_diameter_mm >= 1.0 - 1e-9, row
        assert row.bar_mm >= least_bar_mm(job.tool.parts[row.part]) - 1e-9


def test_a_bar_of_the_very_diameter_of_a_free_head_stays_as_drawn_and_is_not_indicated() -> None:
    job = worked("dead-centre", HALF)
    head = job.tool.parts["centre"].by_name["head"].diameter
    assert head.general
    shop = replace(usual_workshop(3), bars=(ShelfBar(head.nominal_mm),))
    setups = job.kind.order(job.choices, job.tool, shop)
    (row,) = stock_for(job.tool, setups, job.choices, shelf=shop.bars)
    assert (row.bar_mm, row.enough) == (head.nominal_mm, True)
    assert "the head stays as drawn" in row.note
    texts = [step.text for setup in setups for step in setup.steps]
    assert any("the head stays as drawn" in text for text in texts)
    assert not any(text.startswith(("turn the head", "rough the head", "indicate the head")) for text in texts)
    found = check(job.kind, job.choices, job.tool, shop)  # type: ignore[arg-type]
    assert not [one for one in found if one.severity == "stop"]


def test_a_bar_half_a_millimetre_over_is_left_on_the_shelf() -> None:
    job = worked("dead-centre", HALF)
    nominal_mm = job.tool.parts["centre"].by_name["head"].diameter.nominal_mm
    shop = replace(usual_workshop(3), bars=(ShelfBar(nominal_mm + 0.6),))
    setups = job.kind.order(job.choices, job.tool, shop)
    (row,) = stock_for(job.tool, setups, job.choices, shelf=shop.bars)
    assert row.bar_mm >= nominal_mm + 1.0
    assert row.source.startswith("stocked sizes")
