"""A length is set from a face that a tool reaches where the work is held by then.

What a tool reaches is geometry: nothing that looks towards the headstock, lies in the jaws or behind the support.
"""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from generator.description import face_positions
from generator.making.operations import operations_for
from generator.making.order import compare
from generator.making.plan_checks.lengths import transfers
from generator.making.stock import stock_for
from generator.making.touch import SOCKET_END, is_step, why_hidden
from generator.making.usual import usual_workshop
from tests.helpers import centre, worked
from tests.sample import sample_tool
from tests.unit.plans import good_plan, judged, stop, with_set_up

JOBS = (
    ("revolving-centre", centre()),
    ("revolving-centre", centre(retention={"style": "nut"}, cover={"style": "screwed"})),
    ("revolving-centre", centre(retention={"style": "circlip"}, cover={"style": "snap ring"})),
    ("dead-centre", {"name": "half", "socket": {"taper": "Morse 3"}, "shank": {"end": "drawbar"},
                     "point": {"form": "half", "material": "O1", "work_diameter": 14}}),
)  # fmt: skip
_STARTS = re.compile(r"(?:divisions?|turns?) from the ([a-z_0-9 ]+) \(|touch the ([a-z_0-9 ]+) through")


@pytest.mark.parametrize(("number", "face", "why"), [
    (4, "back", "looks towards the headstock"),
    (4, "floor", "too deep in its bore"),
    (4, "gauge", "a place on a surface"),
    (13, "floor", "too deep in its bore"),
])  # fmt: skip
def test_a_face_that_no_tool_reaches_is_refused(number: int, face: str, why: str) -> None:
    one = stop(judged(with_set_up(number, touches_off=f"body/{face}")), "order-touch", f"set-up {number}/body/{face}")
    assert why in one.title
    assert "touch off on an end or shoulder" in one.advice


def test_an_end_in_soft_jaws_or_in_the_bore_behind_a_centre_is_hidden() -> None:
    body = sample_tool().parts["body"]
    held = replace(good_plan()[3], located="soft jaws", grips="body/barrel", grip_mm=60.0, finishes=("body/end",))
    assert "jaws" in why_hidden(body, held, "front") or "headstock" in why_hidden(body, held, "front")
    assert why_hidden(body, held, "end") == ""
    carried = replace(good_plan()[3], support="centre")
    assert "closes the bore" in why_hidden(body, carried, "ledge")


@pytest.mark.parametrize("job", JOBS)
@pytest.mark.parametrize("method", ["top slide", "set-over", "bought shank"])
def test_every_face_that_a_stop_is_set_from_can_be_touched(job: tuple[str, dict[str, object]], method: str) -> None:
    made, shop = worked(*job), replace(usual_workshop(), taper_method=method)  # type: ignore[arg-type]
    setups = made.kind.order(made.choices, made.tool, shop)
    stock = stock_for(made.tool, setups, made.choices)
    told = 0
    for one in operations_for(made.tool, setups, shop, made.choices, stock):
        setup = setups[int(one.number.partition(".")[0]) - 1]
        part = made.tool.parts[setup.parts[0]]
        for words in _STARTS.findall(one.stop):
            face = next(found for found in words if found)
            at_socket = face == SOCKET_END and setup.touches_off == SOCKET_END
            assert at_socket or why_hidden(part, setup, face.replace(" ", "_")) == "", f"{one.number} {one.stop}"
            told += 1
    assert told > 0


def test_a_face_cut_to_length_by_measuring_over_both_loses_no_tolerance() -> None:
    """Read over both faces and taken off by the dial, nothing comes between them: geometry."""
    made, shop = worked(*JOBS[0]), usual_workshop()
    setups = made.kind.order(made.choices, made.tool, shop)
    front = next(one for one in setups if one.located == "finished taper")
    assert front.touches_off == "body/front"
    assert "body/barrel/length" not in {one.address for one in transfers(made.tool, setups)}
    stock = stock_for(made.tool, setups, made.choices)
    facing = next(one for one in operations_for(made.tool, setups, shop, made.choices, stock)
                  if "body/barrel/length" in one.step.cuts)  # fmt: skip
    assert "touch the front as it stands, measure over it and the back" in facing.stop
    floor = next(one for one in operations_for(made.tool, setups, shop, made.choices, stock)
                 if "body/floor_recess/depth" in one.step.cuts)  # fmt: skip
    assert "read the floor 2 from the front first, what it is over" in floor.stop


def test_a_head_on_a_bought_shank_is_set_from_the_socket_as_long_as_its_front_is_not_faced() -> None:
    """The end of a socket lies in the gauge plane (ISO 296): what stands out of it is measured from there."""
    made, shop = worked(*JOBS[0]), replace(usual_workshop(), taper_method="bought shank")
    setups = made.kind.order(made.choices, made.tool, shop)
    head = next(one for one in setups if one.touches_off == SOCKET_END)
    stock = stock_for(made.tool, setups, made.choices)
    mine = [one for one in operations_for(made.tool, setups, shop, made.choices, stock)
            if one.number.startswith(f"{head.number}.")]  # fmt: skip
    faced = next(place for place, one in enumerate(mine) if "body/barrel/length" in one.step.cuts)
    before = [one.stop for one in mine[:faced] if " from the " in one.stop]
    assert before
    assert not [text for text in before if "from the front" in text]
    places = face_positions(made.tool.parts["body"])
    away = places["back"] - places["gauge"]
    assert any(f"from the {SOCKET_END} ({away:.3f} mm)" in text for text in before)


def test_a_back_without_a_step_is_not_measured_from() -> None:
    """A relief as thick as the head leaves no shoulder behind it: geometry."""
    made = worked("dead-centre", {"socket": {"taper": "Morse 0"}, "shank": {"stand_off": 8.9},
                                  "point": {"work_diameter": 3.1, "form": "full"}})  # fmt: skip
    part, shop = made.tool.parts["centre"], usual_workshop(0)
    assert not is_step(part, "back", face_positions(part))
    setups = made.kind.order(made.choices, made.tool, shop)
    sawn = next(one for one in setups if "sawn off" in one.title)
    assert sawn.touches_off == "centre/end"
    found = compare(made.tool, setups, shop, stock_for(made.tool, setups, made.choices))
    assert not [one for one in found if one.code == "order-touch"]
