"""Set-ups, run-out earned, lengths transferred, bar to cut and assembly; what each rests on is named."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from types import ModuleType

import pytest
from shapely import affinity
from shapely.geometry import Polygon
from shapely.ops import unary_union

from generator import tables
from generator.checks import chains
from generator.description import Choices, PartDraft, Seat, Size, Tool, nominal_positions, polygon
from generator.making.assembly import assembly_moves
from generator.making.figures import Figures
from generator.making.inspection import bought_rings, inspection_rows
from generator.making.order import (
    compare,
    promises,
    transfers,
    twice_finished,
    unfinished,
    unknown_addresses,
)
from generator.making.setups import WAYS, SetUp, Step, earned
from generator.making.stock import carrier_room_mm, stock_for
from generator.making.usual import usual_workshop
from templates import dead_centre, revolving_centre
from tests.sample import sample_tool

TWO_RINGS = """
[socket]
taper = "Morse 4"

[passes]
holder_width = 20
tip_ahead = 8
work_diameter = 28

[[stack]]
ring = "6004-2RS"

[[stack]]
ring = "6202-2RS"
"""
JOBS = {
    "screw": (revolving_centre, TWO_RINGS),
    "nut": (revolving_centre, TWO_RINGS + '[retention]\nstyle = "nut"\n'),
    "snap ring": (revolving_centre, TWO_RINGS + '[cover]\nstyle = "snap ring"\n'),
    "tang": (revolving_centre, TWO_RINGS + '[shank]\nend = "tang"\n'),
    "half": (dead_centre, dead_centre.EXAMPLE),
    "full": (dead_centre, '[socket]\ntaper = "Morse 3"\n[point]\nwork_diameter = 20\n'),
}


def designed(kind: ModuleType, text: str) -> tuple[Choices, Tool, tuple[SetUp, ...]]:
    head = f'kind = "{kind.__name__.rpartition(".")[2].replace("_", "-")}"\nname = "bench"\n'
    params = kind.Params.model_validate(tomllib.loads(head + text), context={"unit": "mm"})
    choices = kind.derive(params)
    tool = kind.build(choices)
    return choices, tool, kind.order(choices, tool, usual_workshop())


def sample_setups() -> tuple[SetUp, ...]:
    """Enough set-ups to finish the sample tool once."""
    step = (Step("turn"),)
    return (
        SetUp(1, ("body",), "shank", "between centres", "centre holes", "body/end",
              ("body/taper", "body/barrel", "body/through_bore", "body/end", "body/back"), step, located="centres"),
        SetUp(2, ("body",), "pocket", "shank in the spindle", "body/taper", "body/front",
              ("body/front", "body/ledge", "body/cover_recess", "body/pocket", "body/floor"), step,
              located="finished taper"),
        SetUp(3, ("body",), "flats", "vice", "body/barrel", "body/back", ("body/spanner_flats",), step,
              located="bench"),
        SetUp(4, ("spindle",), "all", "between centres", "centre holes of the spindle", "spindle/shoulder",
              ("spindle/point", "spindle/collar", "spindle/seat", "spindle/tapped_hole"), step, located="centres"),
    )


# --- run-out -----------------------------------------------------------------------------------------------------


def test_a_three_jaw_earns_nothing_useful() -> None:
    """machref.com, lathe tooling reference: a bar in a three-jaw runs out 0.08 to 0.13 mm."""
    three_jaw = WAYS["three-jaw"]
    assert not three_jaw.useful
    assert three_jaw.low_mm is not None
    assert three_jaw.high_mm is not None
    assert three_jaw.low_mm <= 0.13
    assert three_jaw.high_mm >= 0.08


def test_ways_of_locating_rank_as_the_trade_ranks_them() -> None:
    """Common practice, no source: own bearings before a finished taper, before the four-jaw, before the three-jaw."""
    high = [WAYS[way].high_mm or 0.0 for way in ("own bearings", "finished taper", "four-jaw", "three-jaw")]
    assert high == sorted(high)
    assert all(way.source or not way.useful for way in WAYS.values())


def test_a_figure_of_its_own_replaces_the_usual_one() -> None:
    clocked = replace(sample_setups()[1], located="four-jaw", earns_mm=0.004, earns_how="clocked twice")
    found = earned(clocked)
    assert (found.low_mm, found.high_mm, found.how) == (0.004, 0.004, "clocked twice")


def test_pocket_bored_on_the_finished_shank_keeps_its_run_out() -> None:
    tool = sample_tool()
    (promise,) = promises(tool, sample_setups())
    assert promise.is_kept
    assert promise.high_mm == pytest.approx(0.01)


def test_pocket_bored_in_a_three_jaw_is_a_stop() -> None:
    setups = list(sample_setups())
    setups[1] = replace(setups[1], located="three-jaw", locates_on="body/barrel")
    found = [one for one in compare(sample_tool(), setups) if one.code == "order-run-out"]
    assert [one.severity for one in found] == ["stop"]
    assert found[0].address == "body/pocket"
    # The barrel was cut in one setting with the taper, so that setting's spindle error comes on top.
    assert found[0].value == pytest.approx(0.1 + 0.005)


def test_pocket_cut_in_one_setting_with_the_taper_earns_the_spindle() -> None:
    first, second, *rest = sample_setups()
    together = replace(first, finishes=(*first.finishes, *second.finishes))
    (promise,) = promises(sample_tool(), (together, *rest))
    assert (promise.low_mm, promise.high_mm) == (0.003, 0.005)


def test_pocket_from_the_rough_bar_is_connected_to_nothing() -> None:
    setups = list(sample_setups())
    setups[1] = replace(setups[1], located="bar", locates_on="bar")
    (promise,) = promises(sample_tool(), setups)
    assert promise.high_mm is None
    assert not promise.is_kept


# --- surfaces ----------------------------------------------------------------------------------------------------


def test_sample_setups_finish_everything_once() -> None:
    tool, setups = sample_tool(), sample_setups()
    assert unfinished(tool, setups) == ()
    assert twice_finished(setups) == ()
    assert unknown_addresses(tool, setups) == ()


def test_what_is_left_out_done_twice_or_misspelt_is_a_stop() -> None:
    tool, setups = sample_tool(), list(sample_setups())
    setups[3] = replace(setups[3], finishes=("spindle/point", "spindle/coller", "body/taper"))
    found = {(one.code, one.address) for one in compare(tool, setups) if one.severity == "stop"}
    assert {("order-unfinished", "spindle/seat"), ("order-unknown", "spindle/coller"),
            ("order-twice", "body/taper")} <= found


@pytest.mark.parametrize("job", JOBS)
def test_every_kind_finishes_each_surface_once_and_earns_its_run_out(job: str) -> None:
    _, tool, setups = designed(*JOBS[job])
    assert unfinished(tool, setups) == ()
    assert twice_finished(setups) == ()
    assert unknown_addresses(tool, setups) == ()
    for promise in promises(tool, setups):
        assert promise.high_mm is not None, promise
        assert promise.is_kept, promise


# --- lengths -----------------------------------------------------------------------------------------------------


def stepped(last_half: float) -> tuple[Tool, tuple[SetUp, ...]]:
    """Faces A, B, C; B from A is 30 +-0.1, C from B is 20. C is cut later, touching off on A."""
    draft = PartDraft("pin", "Pin", "a")
    draft.length("first", "b", "a", 1, Size(30.0, 0.1, -0.1))
    draft.length("second", "c", "b", 1, Size(20.0, last_half, -last_half))
    draft.cylinder("thick", "outside", "a", "b", Size(20.0, 0.1, -0.1))
    draft.cylinder("thin", "outside", "b", "c", Size(10.0, 0.1, -0.1))
    tool = Tool("pin", "Pin", "pin", {"pin": draft.done()}, ())
    setups = (
        SetUp(1, ("pin",), "first end", "chuck", "bar", "pin/a", ("pin/thick", "pin/thin", "pin/a", "pin/b"), (),
              located="bar"),
        SetUp(2, ("pin",), "turned round", "soft jaws", "pin/thick", "pin/a", ("pin/c",), (), located="soft jaws"),
    )
    return tool, setups


def test_transferred_length_takes_off_the_tolerance_between() -> None:
    """Textbook tolerance transfer: A to C is set to 50, and of C's 0.2 the 0.1 between A and B is spent."""
    (transfer,) = transfers(*stepped(0.2))
    assert transfer.address == "pin/second"
    assert transfer.set_mm == pytest.approx(50.0)
    assert transfer.left_mm == pytest.approx(0.1)


def test_transferred_length_that_cannot_be_held_is_a_warning() -> None:
    tool, setups = stepped(0.05)
    (found,) = [one for one in compare(tool, setups) if one.code == "order-transfer"]
    assert found.severity == "warn"
    assert found.value == pytest.approx(-0.05)


def test_touching_off_on_the_other_face_is_no_transfer() -> None:
    tool, setups = stepped(0.05)
    assert transfers(tool, (setups[0], replace(setups[1], touches_off="pin/b"))) == ()


# --- bar ---------------------------------------------------------------------------------------------------------


def test_blank_of_the_sample_body() -> None:
    """Sum by hand: 44 and 1 to clean up is a 45 bar; 112 long, 1.5 facing each end, 3 for the saw, 25 held."""
    setups = [replace(one, leaves_mm=25.0, leaves_why="grip") if one.number == 1 else one for one in sample_setups()]
    row = stock_for(sample_tool(), setups, Choices())[0]
    assert (row.bar_mm, row.cut_mm, row.faced_mm) == (45.0, 143.0, 137.0)
    assert sum(mm for _, mm in row.why) == pytest.approx(112.0 + 25.0 + 3.0 + 3.0)
    # Mass against the merchants' figure for the bar, kg for each metre (stock table).
    per_metre = next(
        line.number("mass_kg_m") for line in tables.load("bars").rows
        if line.text("system") == "mm" and line.text("kind") == "round" and line.number("size_mm") == 45.0
    )
    assert row.mass_kg == pytest.approx(per_metre * 0.143, rel=0.01)


@pytest.mark.parametrize(("own", "is_own", "enough"), [(50.0, True, True), (44.0, True, True), (40.0, False, True)])
def test_own_bar_is_used_where_it_suffices(own: float, is_own: bool, enough: bool) -> None:
    choices = Choices()
    choices.decide("bar.diameter", own, own, "given")
    body, spindle = stock_for(sample_tool(), sample_setups(), choices)
    assert (body.is_own, body.enough) == (is_own, enough)
    assert not spindle.is_own
    assert bool(body.note) == (own < 45.0)


def test_own_bar_too_short_is_said() -> None:
    choices = Choices()
    choices.decide("bar.diameter", 50.0, 50.0, "given")
    choices.decide("bar.length", 100.0, 100.0, "given")
    body = stock_for(sample_tool(), sample_setups(), choices)[0]
    assert not body.enough
    assert "shorter" in body.note


def test_inch_jobs_get_inch_bar() -> None:
    row = stock_for(sample_tool(), sample_setups(), Choices(), "in")[0]
    assert row.bar_mm in tables.bars("in")
    assert row.bar_mm >= row.least_bar_mm


def test_carrier_room_rises_with_the_bar() -> None:
    """From memory: 18 mm for 3 to 12, 22 for 12 to 20, 26 for 20 to 32, 32 for 32 to 50 (keys_and_tools table)."""
    assert [carrier_room_mm(d) for d in (10.0, 20.0, 25.0, 45.0)] == [18.0, 22.0, 26.0, 32.0]


# --- figures in words ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "mm", "inch"),
    [
        ("dia 25.400 to 50.8", "dia 25.400 to 50.8 mm", "dia 1.0000 to 2.0000 in"),
        ("60 degrees included", "60 degrees included", "60 degrees included"),
        ("M6", "M6", "M6"),
        ("at least 12.7", "at least 12.7 mm", "at least 0.5000 in"),
        ("12.7 deep", "12.7 mm deep", "0.5000 in deep"),
        ("", "", ""),
    ],
)
def test_sizes_in_words_get_the_unit_of_the_job(text: str, mm: str, inch: str) -> None:
    assert Figures("mm").in_words(text) == mm
    assert Figures("in").in_words(text) == inch


@pytest.mark.parametrize(
    ("text", "inch"),
    [
        # Inches of a handbook's conversion table: 0.3 mm is 0.0118 in, 0.005 mm is 0.0002 in, 17 mm is 0.6693 in.
        ("part off, 0.3 mm over", "part off, 0.012 in over"),
        ("both faces parallel within 0.005 mm", "both faces parallel within 0.0002 in"),
        # Limits inwards: 16.990 and 17.000 mm are 0.66890 and 0.66929 in; 16.997 is 0.66917.
        ("dia 16.990 to 17.000 mm", "dia 0.6689 to 0.6692 in"),
        ("dia 16.997 to 17.000 mm", "dia 0.66918 to 0.66929 in"),
        ("M6x0.75, 60 deg included, 780 to 820 °C", "M6x0.75, 60 deg included, 1435 to 1510 °F (780 to 820 °C)"),
    ],
)
def test_sentences_carry_their_unit_into_an_inch_job(text: str, inch: str) -> None:
    assert Figures("mm").prose(text) == text
    assert Figures("in").prose(text) == inch


# --- inspection --------------------------------------------------------------------------------------------------


def test_inspection_leaves_out_what_cannot_or_need_not_be_measured() -> None:
    rows = {row.address: row for row in inspection_rows(sample_tool())}
    assert rows["body/pocket"].limits == "34.989 to 35.014"
    assert rows["body/pocket"].instrument == "bore gauge"
    assert rows["spindle/seat"].limits == "17.001 to 17.012"
    assert rows["spindle/seat"].instrument == "micrometer"
    assert rows["body/taper"].instrument == "marking blue"
    assert "spindle/nose" not in rows
    assert "body/front_chamfer" not in rows


def test_a_fitted_size_shows_the_range_to_fit() -> None:
    _, tool, _ = designed(*JOBS["screw"])
    results = tuple(chains(tool).values())
    fitted = next(one for one in results if one.gap.fit)
    row = next(row for row in inspection_rows(tool, results) if row.address == fitted.gap.fit)
    assert "expected " in row.limits
    assert f"{fitted.fit_high_mm:.3f}" in row.limits


def test_every_bearing_is_a_row_to_measure() -> None:
    _, tool, _ = designed(*JOBS["screw"])
    first, second = bought_rings(tool)
    assert "6004" in first.order
    assert "6202" in second.order
    # ISO 492 Normal, bore 18 to 30 mm: 0 / -10 um; outside 30 to 50: 0 / -11 um.
    assert first.bore == "19.990 to 20.000"
    assert first.outside == "41.989 to 42.000"
    assert not first.measured
    assert bought_rings(designed(*JOBS["half"])[1]) == ()


# --- assembly ----------------------------------------------------------------------------------------------------


def test_what_turns_is_put_together_first() -> None:
    _, tool, _ = designed(*JOBS["screw"])
    moves = assembly_moves(tool)
    assert [move.into for move in moves] == ["Spindle"] * (len(moves) - 2) + ["Body"] * 2
    assert moves[0].title == "Bearing 6004-2RS"
    assert moves[0].contacts == ("front against shoulder of Spindle",)
    assert moves[-1].title == "Cover"
    placed = [name for move in moves for name in move.pieces]
    bodyless = {name for name, part in tool.parts.items() if not part.neighbour} - {"body"}
    assert set(placed) == bodyless


def test_measured_rings_do_not_upset_the_order() -> None:
    """Outlines stay nominal while places follow the readings, so faces may overlap by a ring's width tolerance."""
    measured = TWO_RINGS.replace('ring = "6004-2RS"\n', 'ring = "6004-2RS"\nmeasured_width = 11.9\n')
    _, tool, _ = designed(revolving_centre, measured)
    plain = assembly_moves(designed(*JOBS["screw"])[1])
    assert [(move.title, move.side) for move in assembly_moves(tool)] == [(move.title, move.side) for move in plain]


def test_snap_ring_goes_in_last_with_pliers() -> None:
    _, tool, _ = designed(*JOBS["snap ring"])
    assert assembly_moves(tool)[-1].side == "pliers"


def test_a_solid_tool_is_not_assembled() -> None:
    assert assembly_moves(designed(*JOBS["half"])[1]) == ()


@pytest.mark.parametrize("job", ["screw", "snap ring"])
def test_every_straight_way_in_is_free(job: str) -> None:
    """Drawn out step by step with an independent geometry library (shapely), nothing overlaps on the way."""
    _, tool, _ = designed(*JOBS[job])
    at = nominal_positions(tool)

    def shape(names: tuple[str, ...]) -> Polygon:
        found = []
        for name in names:
            part = tool.parts[name]
            shift = at[f"{name}/{part.origin_face}"]
            found.append(affinity.translate(Polygon(polygon(part)), shift, 0.0))
        return unary_union(found)

    moves = assembly_moves(tool)
    core = {"Spindle": ("spindle",), "Body": ("body",)}
    for index, move in enumerate(moves):
        if move.side not in ("work side", "tailstock side") or "screw" in move.pieces[:1]:
            continue
        before = [one.pieces for one in moves[:index] if one.into == move.into]
        standing = shape(tuple(name for names in (core[move.into], *before) for name in names))
        # Press fits touch at nominal size; a hair off the piece lets them pass.
        piece = shape(move.pieces).buffer(-0.04)
        for step in range(160):
            moved = affinity.translate(piece, step if move.side == "work side" else -step, 0.0)
            assert moved.intersection(standing).area < 1e-3, (move.title, step)


def test_a_closed_in_piece_has_no_way_in() -> None:
    """A ball shut in a bore between two solid ends must be reported, not placed."""
    shell = PartDraft("shell", "Shell", "a")
    shell.length("long", "b", "a", 1, Size(30.0))
    shell.length("floor", "c", "a", 1, Size(10.0))
    shell.length("roof", "d", "c", 1, Size(10.0))
    shell.cylinder("outside", "outside", "a", "b", Size(40.0))
    shell.cylinder("hole", "inside", "c", "d", Size(30.0))
    pin = PartDraft("pin", "Pin", "a")
    pin.length("long", "b", "a", 1, Size(8.0))
    pin.cylinder("outside", "outside", "a", "b", Size(20.0))
    tool = Tool("trap", "Trap", "shell", {"shell": shell.done(), "pin": pin.done()}, (Seat("pin", "a", "shell", "c"),))
    (move,) = assembly_moves(tool)
    assert move.side == ""
