"""The plans of real kinds, spoilt on purpose, are refused: each for the reason a turner would give."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from generator.findings import Finding
from generator.making.order import compare
from generator.making.setups import SetUp
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from tests.helpers import CENTRE, Worked, centre, worked

DEAD = {"socket": {"taper": "Morse 3"}, "point": {"work_diameter": 20}}
JOBS = {"revolving": (CENTRE, centre(), "body", "pocket_1"), "dead": ("dead-centre", DEAD, "centre", "point")}


def planned(which: str) -> tuple[Worked, tuple[SetUp, ...], str, str]:
    """The job with its order of work, the address of its taper and of what must run true to it."""
    kind, data, part, other = JOBS[which]
    job = worked(kind, data)
    return job, job.kind.order(job.choices, job.tool, usual_workshop()), f"{part}/taper", f"{part}/{other}"


def judged(job: Worked, setups: Sequence[SetUp]) -> tuple[Finding, ...]:
    return compare(job.tool, setups, usual_workshop(), stock_for(job.tool, setups, job.choices))


def stops(found: Sequence[Finding]) -> dict[tuple[str, str], Finding]:
    return {one.key: one for one in found if one.severity == "stop"}


def changed(setups: Sequence[SetUp], finishes: str, **fields: object) -> tuple[int, tuple[SetUp, ...]]:
    """The number of the set-up that finishes this address, and the plan with it changed."""
    setup = next(one for one in setups if finishes in one.finishes)
    new = replace(setup, **fields)  # type: ignore[arg-type]
    return setup.number, tuple(new if one is setup else one for one in setups)


@pytest.mark.parametrize("which", JOBS)
def test_the_right_plan_has_no_stop(which: str) -> None:
    job, setups, *_ = planned(which)
    assert stops(judged(job, setups)) == {}


@pytest.mark.parametrize("which", JOBS)
def test_chuck_and_turn_round(which: str) -> None:
    job, setups, taper, true = planned(which)
    on = taper.replace("taper", "barrel" if which == "revolving" else "head")
    number, wrong = changed(setups, true, located="three-jaw", locates_on=on, grips=on, grip_mm=30.0, out_mm=20.0)
    found = stops(judged(job, wrong))
    assert f"set-up {number} earns nothing useful" in found["order-run-out", true].title


@pytest.mark.parametrize("which", JOBS)
def test_what_must_run_true_before_the_taper(which: str) -> None:
    job, setups, taper, true = planned(which)
    early = next(one for one in setups if true in one.finishes)
    at = next(place for place, one in enumerate(setups) if taper in one.finishes)
    rest = [one for one in setups if one is not early]
    wrong = [replace(one, number=n) for n, one in enumerate([*rest[:at], early, *rest[at:]], start=1)]
    found = stops(judged(job, wrong))
    assert "only finished in set-up" in found["order-not-made", f"set-up {at + 1}/{taper}"].title
    assert ("order-run-out", true) in found


@pytest.mark.parametrize("which", JOBS)
def test_hold_on_the_finished_taper_in_a_three_jaw(which: str) -> None:
    job, setups, taper, true = planned(which)
    held = {"located": "three-jaw", "holding": "three-jaw", "grips": taper, "grip_mm": 40.0, "out_mm": 30.0}
    number, wrong = changed(setups, true, **held)
    assert "along one line only" in stops(judged(job, wrong))["order-marks", f"set-up {number}/{taper}"].title


@pytest.mark.parametrize("which", JOBS)
def test_shank_and_what_must_run_true_to_it_in_unrelated_settings(which: str) -> None:
    job, setups, _, true = planned(which)
    _, wrong = changed(setups, true, located="bar", locates_on="bar", grips="bar")
    assert "nothing to do with one another" in stops(judged(job, wrong))["order-run-out", true].title


def test_a_bar_too_short_for_another_try_at_the_taper() -> None:
    """Another cut of 0.25 mm moves a Morse 3 cone by 0.25 x 19.922 = 4.98 mm (ISO 296 ratio): 5 mm are spared."""
    enough = float(cut_from(900.0).one("bar_length", "body").limit.split()[-1])
    assert cut_from(enough).stops == []
    for length, once in ((enough - 3.0, True), (enough - 8.0, False)):
        found = cut_from(length).one("bar_length", "body")
        assert found.severity == "stop"
        assert ("Enough for one try at the taper, too short for another" in found.advice) == once
        assert "spare for another try at the taper 5.0" in found.advice


def cut_from(length_mm: float) -> Worked:
    """The revolving centre with its body cut from a 45 mm bar of this length."""
    return worked(CENTRE, centre(bar={"diameter": 45, "length": length_mm}))


@pytest.mark.parametrize("which", JOBS)
def test_a_drill_too_short(which: str) -> None:
    """With half the flute in the drawer, the hole planned for the whole drill is refused."""
    job, setups, *_ = planned(which)
    usual = usual_workshop()
    stubby = tuple(replace(one, flute_mm=0.4 * one.flute_mm) for one in usual.drills)
    shop = replace(usual, drills=stubby, defaults=usual.defaults - {"drills"})
    found = compare(job.tool, setups, shop, stock_for(job.tool, setups, job.choices))
    drilled = [one for one in found if one.code == "order-drill"]
    deep = [step for one in setups for step in one.steps if step.work == "drill" and (step.length_mm or 0.0) > 60.0]
    assert bool(drilled) >= bool(deep)
    assert all(one.severity == "stop" and "too short" in one.title for one in drilled)
    if which == "revolving":
        assert drilled
