"""A whole plan for the sample tool, told to the last figure, for tests to spoil in one place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from generator.description import Choices, Tool
from generator.findings import Finding
from generator.making.order import compare
from generator.making.setups import SetUp, Step, Work
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from generator.making.workshop import Workshop
from tests.sample import sample_tool

Plan = tuple[SetUp, ...]


def step(work: Work, *cuts: str, surface: str = "", d: float | None = None, l: float | None = None) -> Step:  # noqa: E741
    """One step by its kind, the sizes it brings to their limits, and what it goes over."""
    return Step(work, cuts=cuts, work=work, surface=surface, diameter_mm=d, length_mm=l)


def good_plan() -> tuple[SetUp, ...]:
    """Body and spindle of the sample tool: shank between centres, pocket true to it, point hardened, then ground."""
    return (*_body(), *_spindle())


def _body() -> tuple[SetUp, ...]:
    return (
        SetUp(
            1, ("body",), "shank end", "three-jaw", "bar", "body/end", ("body/end",),
            (step("face", surface="body/end"), step("drill", surface="body/through_bore", d=10.5, l=60.0),
             step("centre")),
            located="bar", grips="bar", grip_mm=34.0, out_mm=103.0, leaves_mm=25.0, leaves_why="grip",
        ),
        SetUp(
            2, ("body",), "front end", "three-jaw", "bar", "body/end", (), (step("face"), step("centre")),
            located="bar", grips="bar", grip_mm=34.0, out_mm=103.0,
        ),
        SetUp(
            3, ("body",), "outside and taper", "carrier on the stub", "centre holes", "body/end",
            ("body/barrel", "body/back", "body/large_relief", "body/small_relief", "body/taper", "body/back_chamfer"),
            (step("turn", "body/barrel/diameter"), step("taper", "body/taper/diameter")),
            located="centres", grips="bar",
        ),
        SetUp(
            4, ("body",), "front and pocket", "shank in the headstock spindle", "body/taper", "body/front",
            ("body/front", "body/front_chamfer", "body/cover_recess", "body/ledge", "body/pocket", "body/floor",
             "body/floor_recess", "body/through_bore"),
            (step("hold"), step("saw"), step("face", surface="body/front"),
             step("drill", surface="body/pocket", d=20.0, l=24.0),
             step("drill", "body/through_bore/diameter", surface="body/through_bore", d=10.5, l=30.0),
             step("bore", "body/cover_recess/diameter"), step("bore", "body/pocket/diameter"),
             step("bore", "body/floor_recess/diameter")),
            located="finished taper", grips="body/taper", out_mm=37.0, no_return="the front centre hole is gone",
        ),
        SetUp(
            5, ("body",), "flats", "vice, soft jaws", "body/barrel", "body/back", ("body/spanner_flats",),
            (step("mill", "body/spanner_flats/across"),), located="bench", grips="body/barrel",
        ),
    )  # fmt: skip


def _spindle() -> tuple[SetUp, ...]:
    return (
        SetUp(
            6, ("spindle",), "rear end", "three-jaw", "bar", "spindle/seat_end",
            ("spindle/seat_end", "spindle/tapped_hole", "spindle/thread"),
            (step("face", surface="spindle/seat_end"),
             step("drill", "spindle/tapped_hole/depth", surface="spindle/tapped_hole", d=5.0, l=15.0),
             step("tap", "spindle/thread"), step("centre")),
            located="bar", grips="bar", grip_mm=20.0, out_mm=50.0,
        ),
        SetUp(
            7, ("spindle",), "point end", "three-jaw", "bar", "spindle/seat_end", (), (step("face"), step("centre")),
            located="bar", grips="bar", grip_mm=20.0, out_mm=50.0,
        ),
        SetUp(
            8, ("spindle",), "roughed", "carrier on the stub", "centre holes", "spindle/seat_end", (),
            (step("rough", surface="spindle/seat"), step("rough", surface="spindle/collar"),
             step("rough", surface="spindle/point")),
            located="centres", grips="bar", leaves_mm=12.0, leaves_why="stub",
        ),
        SetUp(
            9, ("spindle",), "hardened", "tongs, by the rear end", "", "", (),
            (Step("heat the point only", tool="torch or furnace", work="harden", surface="spindle/point"),
             step("temper")),
            located="bench", grips="spindle/seat",
        ),
        SetUp(
            10, ("spindle",), "diameters", "carrier on the stub", "centre holes", "spindle/seat_end",
            ("spindle/collar", "spindle/seat", "spindle/seat_chamfer", "spindle/nose", "spindle/shoulder",
             "spindle/collar_front"),
            (step("turn", "spindle/collar/diameter"), step("turn", "spindle/seat/diameter")),
            located="centres", grips="bar",
        ),
        SetUp(
            11, ("spindle",), "tommy hole", "vice, soft jaws", "spindle/nose", "spindle/collar_front",
            ("spindle/tommy_hole",), (step("drill", "spindle/tommy_hole/diameter", d=5.0, l=16.0),),
            located="bench", grips="spindle/nose",
        ),
        SetUp(
            12, ("spindle",), "stub off", "vice, soft jaws", "spindle/nose", "", (), (step("saw"),),
            located="bench", grips="spindle/nose", no_return="the centre hole goes with the stub",
        ),
        SetUp(
            13, ("spindle",), "point", "in its own bearings", "spindle/seat", "body/front",
            ("spindle/point", "spindle/tip", "spindle/point_end"), (step("grind", "spindle/point/angle"),),
            located="own bearings", grips="body/taper",
        ),
    )  # fmt: skip


def given(**fields: object) -> Workshop:
    """The usual shop about a Morse 3 tailstock, with some of its figures given by the user."""
    usual = usual_workshop()
    return replace(usual, defaults=usual.defaults - set(fields), **fields)  # type: ignore[arg-type]


def judged(setups: Sequence[SetUp], tool: Tool | None = None, shop: Workshop | None = None) -> tuple[Finding, ...]:
    """What the checks say against a plan, by default for the sample tool in the usual shop."""
    return tuple(one for one in all_of(setups, tool, shop) if one.code != "order-earned")


def all_of(setups: Sequence[SetUp], tool: Tool | None = None, shop: Workshop | None = None) -> tuple[Finding, ...]:
    """All that the checks say of a plan."""
    tool = tool or sample_tool()
    return compare(tool, setups, shop or usual_workshop(), stock_for(tool, setups, Choices()))


def with_set_up(number: int, **fields: object) -> Plan:
    """The good plan with one set-up changed."""
    return tuple(replace(one, **fields) if one.number == number else one for one in good_plan())  # type: ignore[arg-type]


def with_steps(number: int, change: Callable[[Step], Step | None]) -> Plan:
    """The good plan with the steps of one set-up changed or left out."""
    setup = next(one for one in good_plan() if one.number == number)
    steps = tuple(new for old in setup.steps if (new := change(old)) is not None)
    return with_set_up(number, steps=steps)


def in_order(*numbers: int) -> Plan:
    """The good plan with its set-ups done in another order, numbered anew."""
    by_number = {one.number: one for one in good_plan()}
    return tuple(replace(by_number[number], number=place) for place, number in enumerate(numbers, start=1))


def stop(found: Sequence[Finding], code: str, address: str) -> Finding:
    """The stop of this code at this address."""
    keys = [(one.severity, one.code, one.address) for one in found]
    assert ("stop", code, address) in keys, keys
    return next(one for one in found if one.key == (code, address))


def about(found: Sequence[Finding], code: str) -> list[Finding]:
    """The findings of this code."""
    return [one for one in found if one.code == code]
