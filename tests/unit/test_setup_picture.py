"""Pictures of the workpiece: material only goes, the last picture is the part, heavy strokes lie on what was cut.

The part itself is the measure: its closed meridian as `description.polygon` gives it, compared by shapely.
"""

from __future__ import annotations

import re
import tomllib
from functools import cache
from itertools import pairwise

import pytest
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

from generator.description import Choices, Part, Tool, outline, polygon
from generator.ink.model import Ink
from generator.kinds import load_kind
from generator.making.figures import Figures
from generator.making.operations import operations_for
from generator.making.setups import SetUp
from generator.making.stock import StockRow, stock_for
from generator.making.usual import usual_workshop
from generator.plan.clearing import cleared_by_steps
from generator.plan.operation_fields import drilled_deep
from generator.plan.picture_frame import FINE_MM, HEAVY_MM, WORD_MM, spread
from generator.plan.setup_picture import NARROW_MM, WIDTH_MM, frame_of, setup_picture
from generator.plan.workpiece import History, Workpiece
from tests.helpers import CENTRE, centre, worked
from tests.sample import sample_tool
from tests.unit.plans import good_plan

JOBS = ("sample", "screw", "nut", "dead", "half")
NUT = {"retention": {"style": "nut"}, "cover": {"style": "snap ring"}, "shank": {"end": "tang"}}


@cache
def plan_of(job: str) -> tuple[Tool, tuple[SetUp, ...], tuple[StockRow, ...]]:
    if job == "sample":
        tool, setups = sample_tool(), good_plan()
        return tool, setups, stock_for(tool, setups, Choices())
    if job in {"dead", "half"}:
        point = {"form": "half" if job == "half" else "full", "work_diameter": 14}
        found = worked("dead-centre", {"socket": {"taper": "Morse 3"}, "point": point})
    else:
        found = worked(CENTRE, centre(**NUT) if job == "nut" else centre())
    setups = tuple(found.kind.order(found.choices, found.tool, usual_workshop()))
    return found.tool, setups, stock_for(found.tool, setups, found.choices)


def histories(job: str) -> list[History]:
    tool, setups, stock = plan_of(job)
    rows = {row.part: row for row in stock}
    used = {name for setup in setups for name in setup.parts}
    return [History(part, setups, rows.get(part.name)) for part in tool.made if part.name in used]


def area(piece: Workpiece) -> Polygon:
    """The material on one side of the axis as a polygon."""
    whole = Polygon([(piece.low_z, 0.0), *((z, r) for e in piece.outer for z, r in ((e.z0, e.r0), (e.z1, e.r1))),
                     (piece.high_z, 0.0)])  # fmt: skip
    holes = [Polygon([(e.z0, 0.0), (e.z0, e.r0), (e.z1, e.r1), (e.z1, 0.0)]) for e in piece.inner]
    return whole.buffer(0).difference(unary_union([hole.buffer(0) for hole in holes]))


@pytest.mark.parametrize("job", JOBS)
def test_material_only_goes(job: str) -> None:
    for history in histories(job):
        before = None
        for setup in history.setups:
            now = area(history.after(setup.number))
            if before is not None:
                assert now.difference(before.buffer(1e-6)).area < 1e-4, (history.part.name, setup.number)
            before = now


@pytest.mark.parametrize("job", JOBS)
def test_every_set_up_that_finishes_a_turned_surface_takes_something_off(job: str) -> None:
    for history in histories(job):
        for before, setup in pairwise(history.setups):
            piece = history.after(setup.number)
            if any(edge.name in piece.cut for edge in (*piece.outer, *piece.inner)):
                assert area(piece).area < area(history.after(before.number)).area


@pytest.mark.parametrize("job", JOBS)
def test_the_last_picture_is_the_part(job: str) -> None:
    for history in histories(job):
        last = area(history.after(history.setups[-1].number))
        part = Polygon(polygon(history.part)).buffer(0)
        assert last.symmetric_difference(part).area == pytest.approx(0.0, abs=1e-4), history.part.name


def test_the_first_picture_is_the_bar_with_its_stub() -> None:
    """The sample body is sawn to 122.5 with 25 of grip in front; its shank end is faced first."""
    body = histories("sample")[0]
    first = body.after(1)
    row = next(row for row in plan_of("sample")[2] if row.part == "body")
    assert first.outer[0].name == ""
    assert {edge.r0 for edge in first.outer} == {row.bar_mm / 2}
    assert first.high_z - outline(body.part).far_z == pytest.approx(25.0 + 1.5)
    assert first.low_z == outline(body.part).near_z
    assert body.after(4).high_z == outline(body.part).far_z


def test_a_hole_goes_as_deep_as_its_step_says() -> None:
    """The sample body is drilled 60 mm from its shank end, 10.5 mm wide, before the other end is reached."""
    body = histories("sample")[0]
    (hole,) = body.after(1).inner
    assert (hole.z1 - hole.z0, hole.r0) == (pytest.approx(60.0), pytest.approx(5.25))


def test_roughing_leaves_its_allowance_and_keeps_the_stub() -> None:
    spindle = histories("sample")[1]
    rough = spindle.after(8)
    assert spindle.rest_mm("far", 8) > 12.0
    assert spindle.rest_mm("far", 12) == pytest.approx(0.5)
    assert all(edge.name == "" for edge in rough.outer)


def heavy(ink: Ink) -> list[LineString]:
    return [LineString(list(one.outline.points())) for one in ink.strokes if one.width_mm == HEAVY_MM]


def finished_lines(part: Part, setup: SetUp, history: History) -> list[LineString]:
    """On paper, both sides of the axis: every edge and face of the part that this set-up says it finishes."""
    place = frame_of(history, setup, history.after(setup.number))[0]
    cut = history.after(setup.number).cut
    z_of = outline(part).z_of
    lines = []
    for edge in (*outline(part).outer, *outline(part).inner):
        if edge.name in cut:
            lines += [LineString([place.at(edge.z0, s * edge.r0), place.at(edge.z1, s * edge.r1)]) for s in (1, -1)]
    for name in cut & set(z_of):
        tallest = max(max(e.r0, e.r1) for e in outline(part).outer) + 5.0
        lines.append(LineString([place.at(z_of[name], -tallest), place.at(z_of[name], tallest)]))
    for cross in part.cross:
        if cross.name in cut:
            low, high = sorted((z_of[cross.near], z_of[cross.far]))
            corners = [(low, -60.0), (high, -60.0), (high, 60.0), (low, 60.0)]
            lines.append(Polygon([place.at(z, r) for z, r in corners]).buffer(0.01))
    return lines


@pytest.mark.parametrize("job", JOBS)
def test_heavy_strokes_lie_on_what_the_set_up_finished_and_on_all_of_it(job: str) -> None:
    for history in histories(job):
        for setup in history.setups:
            strokes = heavy(setup_picture(history, setup, Figures("mm")))
            wanted = finished_lines(history.part, setup, history)
            allowed = unary_union(wanted).buffer(0.02) if wanted else None
            for stroke in strokes:
                assert allowed is not None
                assert allowed.covers(stroke), (history.part.name, setup.number)
            turned = [line for line in wanted if line.geom_type == "LineString"]
            drawn = unary_union(strokes).buffer(0.02) if strokes else None
            piece = history.after(setup.number)
            here = [edge for edge in piece.outer if edge.name in piece.cut]
            assert bool(here) <= bool(strokes)
            if here:
                place = frame_of(history, setup, piece)[0]
                assert turned
                for edge in here:
                    below = LineString([place.at(edge.z0, -edge.r0), place.at(edge.z1, -edge.r1)])
                    assert drawn is not None
                    assert drawn.covers(below), (history.part.name, setup.number, edge.name)


@pytest.mark.parametrize("job", JOBS)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_nothing_leaves_the_paper_and_words_can_be_read(job: str, unit: str) -> None:
    for history in histories(job):
        for setup in history.setups:
            ink = setup_picture(history, setup, Figures(unit))  # type: ignore[arg-type]
            assert ink.width_mm in {NARROW_MM, WIDTH_MM}
            for stroke in ink.strokes:
                left, low, right, high = stroke.outline.extents()
                assert left >= 0
                assert low >= 0
                assert right <= ink.width_mm
                assert high <= ink.height_mm
                assert stroke.width_mm >= 0.13
            boxes = [Polygon(run.box()) for run in ink.texts]
            assert all(run.cap_height_mm >= WORD_MM for run in ink.texts)
            for index, box in enumerate(boxes):
                assert all(box.intersection(other).area < 0.2 for other in boxes[:index]), (setup.number, index)


def test_lengths_are_told_from_the_face_that_is_touched_off_on() -> None:
    """Sample body, fourth set-up: from its front, the ledge is 3, the floor 21, the recess 25 away."""
    body = histories("sample")[0]
    setup = next(one for one in body.setups if one.number == 4)
    words = [run.text for run in setup_picture(body, setup, Figures("mm")).texts]
    assert {"0", "3", "21", "25"} <= set(words)
    assert "spindle's taper" in words
    assert {"4.3", "4.7"} <= set(words)


def test_the_headstock_is_to_the_left() -> None:
    body = histories("sample")[0]
    by_number = {setup.number: setup for setup in body.setups}
    # Shank end faced and taper between centres: the shank points to the tailstock. Pocket: held by the shank.
    assert [body.worked_end(by_number[number]) for number in (1, 3, 4)] == ["near", "near", "far"]


@pytest.mark.parametrize(
    ("words", "fields"),
    [("chuck", {"located": "bar", "grips": "bar"}), ("soft jaws", {"located": "soft jaws", "grips": "body/barrel"}),
     ("centre", {"located": "three-jaw", "grips": "body/barrel", "support": "centre"}),
     ("steady", {"located": "three-jaw", "grips": "body/barrel", "support": "steady"}),
     ("mandrel", {"located": "mandrel", "locates_on": "body/through_bore"}),
     ("collet", {"located": "three-jaw", "grips": "body/barrel", "holding": "collet"})],
)
def test_what_holds_and_carries_the_work_is_named(words: str, fields: dict[str, str]) -> None:
    tool, _, stock = plan_of("sample")
    plain = {"holding": "chuck", "locates_on": "bar", **fields}
    setup = SetUp(1, ("body",), "t", touches_off="body/end", finishes=("body/end",), steps=(), **plain)  # type: ignore[arg-type]
    history = History(tool.parts["body"], (setup,), stock[0])
    assert words in [run.text for run in setup_picture(history, setup, Figures("mm")).texts]


def test_words_are_spread_without_touching() -> None:
    found = spread([10.0, 10.0, 10.0], [4.0, 4.0, 4.0], 0.0, 20.0)
    assert all(b - a >= 4.0 - 1e-9 for a, b in pairwise(found))
    assert found[0] >= 2.0
    assert found[-1] <= 18.0
    assert FINE_MM < HEAVY_MM


def test_a_kind_is_read_from_plain_text() -> None:
    """The dead centre of its own example: every set-up has a picture."""
    kind = load_kind("dead-centre")
    given = {"kind": "dead-centre", "name": "t", **tomllib.loads(kind.EXAMPLE)}
    choices = kind.derive(kind.Params.model_validate(given, context={"unit": "mm"}))
    tool = kind.build(choices)
    setups = tuple(kind.order(choices, tool, usual_workshop()))
    history = History(tool.made[0], setups, stock_for(tool, setups, choices)[0])
    assert all(setup_picture(history, setup, Figures("mm")).strokes for setup in setups)


@pytest.mark.parametrize("end", ["plain", "drawbar"])
def test_a_drilled_hole_is_drawn_as_deep_as_its_operation_says(end: str) -> None:
    job = worked(CENTRE, centre(shank={"end": end}))
    shop = usual_workshop(3)
    setups = job.kind.order(job.choices, job.tool, shop)
    stock = stock_for(job.tool, setups, job.choices)
    history = History(job.tool.parts["body"], setups, next(row for row in stock if row.part == "body"))
    drawn = {(one.number, round(one.z1 - one.z0, 1)) for one in cleared_by_steps(history) if one.inside}
    told = {
        (int(one.number.partition(".")[0]), float(found[1]))
        for one in operations_for(job.tool, setups, shop, job.choices, stock)
        if one.step.work == "drill" and one.step.surface.startswith("body/")
        for found in [re.search(r"([\d.]+) mm deep from", drilled_deep(one, Figures("mm")))] if found
    }
    assert told
    assert {(number, round(deep, 0)) for number, deep in told} <= {(number, round(deep, 0)) for number, deep in drawn}
