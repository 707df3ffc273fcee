"""What holds the work: a taper against the torque of a drill, a blank as long as what is held and stands out."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from generator.description import face_positions
from generator.making.driving import driven
from generator.making.operations_speed import drill_feed_mm
from generator.making.plan_checks import compare
from generator.making.setups import Step
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from generator.reckoning.cutting_record import specific_force_of
from tests.helpers import CENTRE, centre, stacks, worked

SHOP = usual_workshop(3)


def driven_findings(setups, tool):
    return {one.title: one for one in compare(tool, setups, SHOP) if one.code == "order-driven"}


def with_drill(job, wide_mm):
    """The order of work with the widest drill of the held taper at another size."""
    setups = job.kind.order(job.choices, job.tool, SHOP)
    place = next(i for i, one in enumerate(setups) if one.located == "finished taper")
    steps = tuple(
        replace(step, diameter_mm=wide_mm) if step.work == "drill" and step.diameter_mm else step
        for step in setups[place].steps
    )
    return (*setups[:place], replace(setups[place], steps=steps), *setups[place + 1 :]), place


@pytest.fixture(scope="module")
def job():
    return worked(CENTRE, centre())


def test_torque_and_hold_by_hand():
    """Torque kc f (D2 - d2) / 8, Kalpakjian ex. 22.2; taper mu F D / (2 sin a), Khurmi ex. 10.34."""
    body = worked(CENTRE, centre()).tool.parts["body"]
    taper = body.surface("taper")
    found = driven(body, taper, 20.0, 10.0)
    assert found is not None
    feed = drill_feed_mm(body.material, 20.0)
    given = {"specific_force": None, "kc11": None, "mc": None, "material": body.material}
    force = specific_force_of(given, feed / 2)[0]
    assert found.torque_n_m == pytest.approx(1.5 * force * feed * (400 - 100) / 8 / 1000)
    # A worn drill turns harder; that it also pushes harder is not counted on.
    thrust = 0.5 * force * feed * 5.0 * math.sin(math.radians(59))
    # Morse 3: 23.825 at the gauge plane, 81 mm long at 1 : 19.922, less the reliefs at both ends.
    half = math.atan(1 / 19.922 / 2)
    assert found.held_n_m / (thrust / (2 * math.sin(half)) / 1000) / 0.08 == pytest.approx(22.0, abs=1.0)


@pytest.mark.parametrize("number", [1, 2, 3, 4])
def test_no_order_of_work_takes_a_drill_that_turns_the_taper(number):
    for stack in stacks(number).values():
        job = worked(CENTRE, centre(stack, socket={"taper": f"Morse {number}"}))
        assert driven_findings(job.kind.order(job.choices, job.tool, SHOP), job.tool) == {}


def test_a_drill_too_wide_for_the_taper_is_warned_of_with_its_cure(job):
    setups, place = with_drill(job, 60.0)
    worst = max(driven_findings(setups, job.tool).values(), key=lambda one: one.value or 0.0)
    assert worst.severity == "warn"
    assert "draw the shank in" in worst.advice
    assert worst.miss > 0
    assert f"set-up {setups[place].number}" in worst.address


def test_what_is_drawn_in_needs_no_such_figure(job):
    setups, place = with_drill(job, 60.0)
    held = replace(setups[place], steps=(Step("draw it in by a drawbar", work="hold"), *setups[place].steps))
    assert driven_findings((*setups[:place], held, *setups[place + 1 :]), job.tool) == {}


def test_no_chuck_holds_and_stands_out_more_than_the_blank_is_long(job):
    """Geometry. The blank of each ring is sawn to what its set-up holds, stands out and parts off."""
    setups = job.kind.order(job.choices, job.tool, SHOP)
    stock = stock_for(job.tool, setups, job.choices)
    long_mm = {row.part: row.cut_mm for row in stock}
    held = [one for one in setups if one.located == "bar" and one.grip_mm and one.out_mm]
    assert {one.parts[0] for one in held} == set(long_mm)
    assert all(one.grip_mm + one.out_mm <= long_mm[one.parts[0]] + 0.5 for one in held)
    first = held[0]
    spoilt = [replace(one, out_mm=long_mm[first.parts[0]]) if one is first else one for one in setups]
    codes = {(one.code, one.severity) for one in compare(job.tool, spoilt, SHOP, stock)}
    assert ("order-grip", "stop") in codes


@pytest.mark.parametrize(("kind", "data", "method"), [
    ("revolving-centre", centre(), "set-over"), ("revolving-centre", centre(), "top slide"),
    ("dead-centre", {"socket": {"taper": "Morse 3"}, "point": {"work_diameter": 14, "material": "16MnCr5"}}, ""),
])  # fmt: skip
def test_between_centres_stands_out_what_is_not_in_the_carrier(kind: str, data: dict[str, Any], method: str) -> None:
    """What the carrier holds and what is out of it are together the piece between its faced ends: arithmetic."""
    job, shop = worked(kind, data), usual_workshop()
    shop = replace(shop, taper_method=method) if method else shop  # type: ignore[arg-type]
    setups = job.kind.order(job.choices, job.tool, shop)
    faced = {row.part: row.faced_mm for row in stock_for(job.tool, setups, job.choices)}
    between = [one for one in setups if one.located == "centres"]
    assert between
    for setup in between:
        part = job.tool.parts[setup.parts[0]]
        assert setup.out_mm is not None
        if setup.grips == "bar":
            assert setup.grip_mm is not None
            assert setup.grip_mm + setup.out_mm == pytest.approx(faced[part.name], abs=0.06)
        else:
            held = part.by_name[setup.grips.partition("/")[2]]
            places = face_positions(part)
            rest = min(places[held.near], places[held.far]) - min(places.values())
            assert setup.out_mm == pytest.approx(rest, abs=0.06)


def test_a_carrier_and_what_is_out_of_it_are_no_longer_than_the_faced_bar() -> None:
    job, shop = worked("revolving-centre", centre()), usual_workshop()
    setups = job.kind.order(job.choices, job.tool, shop)
    stock = stock_for(job.tool, setups, job.choices)
    place, setup = next((i, one) for i, one in enumerate(setups) if one.located == "centres" and one.grips == "bar")
    faced = next(row.faced_mm for row in stock if row.part == setup.parts[0])
    spoilt = (*setups[:place], replace(setup, out_mm=faced), *setups[place + 1 :])
    found = [one for one in compare(job.tool, spoilt, shop, stock) if one.code == "order-grip"]
    assert [one.severity for one in found] == ["stop"]
    assert "more than the blank has" in found[0].title
