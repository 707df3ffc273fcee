"""Where a cut begins and ends, from what stands by then; order of diameters: common practice, no source."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from generator.making.operations import Operation, operations_for
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from tests.helpers import CENTRE, Worked, centre, worked

HALF = {"socket": {"taper": "Morse 3"}, "shank": {"end": "drawbar"},
        "point": {"form": "half", "material": "O1", "work_diameter": 14}}  # fmt: skip
JOBS = {
    "centre": (CENTRE, centre()),
    "nut": (CENTRE, centre(retention={"style": "nut"})),
    "three": (CENTRE, centre(("6204-2RS", "6003-2RS", "6001-2RS"))),
    "half": ("dead-centre", HALF),
}


@pytest.fixture(scope="module", params=list(JOBS))
def job(request: pytest.FixtureRequest) -> Worked:
    kind, data = JOBS[request.param]
    return worked(kind, data)


def operations_of(job: Worked) -> tuple[Operation, ...]:
    shop = usual_workshop(3)
    setups = job.kind.order(job.choices, job.tool, shop)
    return operations_for(job.tool, setups, shop, job.choices, stock_for(job.tool, setups, job.choices))


def between_centres(job: Worked, *works: str) -> list[Operation]:
    return [one for one in operations_of(job) if one.located == "centres" and one.step.work in works]


def place(operations: list[Operation], words: str) -> int:
    return next(index for index, one in enumerate(operations) if words in one.step.text)


def length_of(one: Operation) -> float:
    found = re.search(r"(?:\(|block of )([\d.]+) mm(?:\)| and that)", one.stop)
    assert found, one.stop
    return float(found[1])


def test_every_roughing_cut_has_one_diameter_and_its_own_length(job: Worked) -> None:
    """A dial belongs to one diameter, and a cut along a shoulder wants a stop."""
    for one in between_centres(job, "rough"):
        if not one.step.surface:
            continue
        assert "\n" not in one.to, one.step.text
        if "top slide swung" in one.stop:
            continue
        assert one.stop.count("touch at dia") == 1, one.step.text
        assert re.search(r"block of|top slide parallel:|carriage \d", one.stop), one.step.text


def test_a_cone_is_roughed_as_a_cylinder_of_its_large_end(job: Worked) -> None:
    """A dial set to the small end and fed along would cut the large end away: geometry."""
    for one in between_centres(job, "rough"):
        owner, _, name = one.step.surface.partition("/")
        part = job.tool.parts.get(owner)
        surface = None if part is None else part.by_name[name]
        if part is None or surface is None or surface.role != "taper":
            continue
        over, end = re.search(r"touch at dia ([\d.]+) mm, then in .*?\(([\d.]+) mm off", one.stop).groups()  # type: ignore[union-attr]
        assert float(over) - float(end) >= surface.diameter.nominal_mm


def test_roughing_leaves_the_shoulder_to_be_faced() -> None:
    """Seat 1 reaches to its shoulder; what is over for facing: 0.3 mm, common practice, no source."""
    found = between_centres(worked(*JOBS["nut"]), "rough", "face")
    seats = [one for one in found if one.step.work == "rough" and "/seat" in one.step.surface]
    rough = {one.step.surface: length_of(one) for one in seats}
    faced = {one.step.surface: one for one in found if one.step.work == "face"}
    first_end, shoulder = faced["spindle/seat_1_end"], faced["spindle/shoulder"]
    assert length_of(first_end) - rough["spindle/seat_2"] == pytest.approx(0.3, abs=0.01)
    # The shoulder's stop counts from the seat 1 end that was faced before it.
    assert "from the seat 1 end" in shoulder.stop
    whole = length_of(first_end) + length_of(shoulder)
    assert whole - rough["spindle/seat_1"] == pytest.approx(0.3, abs=0.01)


def test_the_collar_comes_before_the_nose_and_is_not_run_over() -> None:
    found = [one for one in between_centres(worked(*JOBS["centre"]), "rough", "turn") if "point" not in one.step.text]
    for work in ("rough", "turn"):
        of_work = [one for one in found if one.step.work == work]
        assert place(of_work, "collar") < place(of_work, "nose")
        assert "no sooner than" in of_work[place(of_work, "nose")].stop


def test_a_head_hardly_larger_than_its_taper_leaves_the_taper_its_blank() -> None:
    """Head 24 over a Morse 3 of 23.825 at its gauge plane (ISO 296): fed from the shank end it would thin the blank."""
    found = between_centres(worked(*JOBS["half"]), "turn")
    head = next(one for one in found if one.step.surface.endswith("/head"))
    assert head.stop.startswith("go in no sooner than")


def test_what_a_tool_runs_over_comes_down_with_it() -> None:
    """A seat roughed behind a collar is touched at what the collar's cut has left, not at the bar."""
    found = between_centres(worked(*JOBS["centre"]), "rough")
    touched = [float(re.search(r"touch at dia ([\d.]+)", one.stop)[1])  # type: ignore[index]
               for one in found if one.step.surface.startswith("spindle/") and "touch at dia" in one.stop]  # fmt: skip
    bar = touched[0]
    seats = [one for one in found if "/seat_" in one.step.surface]
    for one in seats:
        assert float(re.search(r"touch at dia ([\d.]+)", one.stop)[1]) < bar - 0.5  # type: ignore[index]


def test_the_back_is_faced_before_its_chamfer_and_after_the_relief_that_makes_it() -> None:
    body = between_centres(worked(*JOBS["centre"]), "turn", "face", "groove")
    assert place(body, "face the back") < place(body, "back chamfer")
    half = between_centres(worked(*JOBS["half"]), "turn", "face", "groove")
    assert place(half, "large relief") < place(half, "face the back")


def test_every_shoulder_is_faced_by_itself_to_a_stop_of_its_own() -> None:
    """One stop serves one face."""
    faced = [one for one in between_centres(worked(*JOBS["nut"]), "face") if one.step.surface.startswith("spindle/")]
    assert len(faced) >= 3
    assert len({one.step.surface for one in faced}) == len(faced)
    for one in faced:
        assert length_of(one) > 0.0


def test_the_back_is_faced_to_a_stop() -> None:
    for name in ("centre", "half"):
        found = between_centres(worked(*JOBS[name]), "face")
        back = found[place(found, "face the back")]
        told = re.search(r"([\d.]+) mm from the shank end", back.step.size)
        assert told
        assert length_of(back) == pytest.approx(float(told[1]), abs=0.06)


def depth_of(one: Operation) -> float:
    """All that the passes of an operation take off."""
    rest = (one.finish_passes or 0) * (one.finish_depth_mm or 0.0)
    return (one.passes or 0) * (one.depth_mm or 0.0) + rest


@pytest.mark.parametrize("name", list(JOBS))
@pytest.mark.parametrize("bore_mm", [20.0, 70.0])
def test_facing_both_ends_takes_the_bar_as_sawn_to_its_length(name: str, bore_mm: float) -> None:
    """Arithmetic: what the cutting list saws off less what stands between the faced ends."""
    job, shop = worked(*JOBS[name]), replace(usual_workshop(3), spindle_bore_mm=bore_mm)
    setups = job.kind.order(job.choices, job.tool, shop)
    stock = stock_for(job.tool, setups, job.choices)
    rows = {row.part: row for row in stock}
    operations = operations_for(job.tool, setups, shop, job.choices, stock)
    tried = 0
    for part in ("body", "spindle", "centre"):
        first = [setup.number for setup in setups if part in setup.parts and setup.grips == "bar"
                 and setup.located == "bar"]  # fmt: skip
        faced = [one for one in operations if one.step.work == "face" and int(one.number.partition(".")[0]) in first]
        if not faced:
            continue
        tried += 1
        assert sum(map(depth_of, faced)) == pytest.approx(rows[part].cut_mm - rows[part].faced_mm, abs=0.01)
        words = "between the faced ends" if len(faced) == 2 else "the work end as sawn"
        assert words in faced[-1].step.size
        assert "measure over both ends" in faced[-1].stop
    assert tried


def test_facing_a_sawn_end_takes_what_the_saw_has_left() -> None:
    """At least 2 mm over a bar above 25 mm, since a hacksaw wanders: common practice, no source."""
    operations = operations_of(worked(*JOBS["centre"]))
    sawn = next(one for one in operations if "stays to be faced" in one.step.text)
    left = float(re.search(r": ([\d.]+) mm stays", sawn.step.text)[1])  # type: ignore[index]
    assert left >= 2.0
    faced = next(one for one in operations if one.step.text == "face the front")
    assert depth_of(faced) == pytest.approx(left, abs=0.01)


def test_a_recess_is_touched_at_what_the_pockets_behind_it_have_opened() -> None:
    """The bar for the first pocket has gone in through the recess: the wall stands at the roughed pocket."""
    found = operations_of(worked(CENTRE, centre(retention={"style": "nut"}, cover={"style": "screwed"})))
    recess = place(list(found), "bore the cover recess")
    roughed = [one for one in found[:recess] if "rough pocket" in one.step.text]
    assert roughed
    widest = max(float(re.search(r"dia ([\d.]+)", one.to)[1]) for one in roughed)  # type: ignore[index]
    assert float(re.search(r"touch at dia ([\d.]+)", found[recess].stop)[1]) == widest  # type: ignore[index]
