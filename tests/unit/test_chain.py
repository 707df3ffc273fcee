"""Chains: paths over seats, coefficients, contributors, made to measure, contradictions refused."""

from dataclasses import replace

import numpy as np
import pytest

from generator.checks.gaps import chains, gap_findings
from generator.description import (
    Form,
    Gap,
    PartDraft,
    Seat,
    Term,
    Tool,
    evaluate_gap,
    nominal_positions,
    positions,
)
from generator.errors import GeometryError
from tests.helpers import size


def block(name, length, *more):
    """A block from face "rear" to its origin face "front"; `more` are (face, from front, size)."""
    draft = PartDraft(name, name.title(), "front")
    draft.length("length", "rear", "front", -1, length)
    for face, depth in more:
        draft.length(f"{face}/depth", face, "front", -1, depth)
    draft.cylinder("outside", "outside", "rear", "front", size(30.0, 0.0, -0.1))
    draft.cylinder("bore", "inside", "rear", "front", size(10.0, 0.1, 0.0))
    return draft.done()


def gap(start, end, least=0.0, most=None, **fields):
    return Gap("room", "Room", start, end, least, most, "needed", "test", **fields)


def tool(parts, seats, gaps=(), **fields):
    return Tool("test", "Test", parts[0].name, {part.name: part for part in parts}, tuple(seats), tuple(gaps), **fields)


def one(of):
    return evaluate_gap(of, of.gaps[0], positions(of))


BASE = block("base", size(30.0, 0.1, -0.1), ("floor", size(20.0, 0.05, -0.05)))
RING = block("ring", size(12.0, 0.0, -0.12))
LID = block("lid", size(5.0, 0.2, -0.2))


def stacked(**fields):
    seats = (Seat("ring", "rear", "base", "floor"), Seat("lid", "rear", "ring", "front"))
    return tool([BASE, RING, LID], seats, **fields)


def test_positions_add_up_over_seats():
    at = nominal_positions(stacked())
    assert at == pytest.approx(
        {
            "base/front": 0,
            "base/rear": -30,
            "base/floor": -20,
            "ring/rear": -20,
            "ring/front": -8,
            "lid/rear": -8,
            "lid/front": -3,
        }
    )


def test_sizes_have_coefficients_of_one_and_their_signs():
    found = one(stacked(gaps=[gap("lid/front", "base/front")]))
    assert {term.address: term.coefficient for term in found.contributors} == {
        "base/floor/depth": 1.0,
        "ring/length": -1.0,
        "lid/length": -1.0,
    }
    assert found.nominal_mm == pytest.approx(20 - 12 - 5)


def test_a_path_that_is_walked_there_and_back_leaves_nothing():
    found = one(stacked(gaps=[gap("base/floor", "ring/rear")]))
    assert found.contributors == ()
    assert found.nominal_mm == found.low_mm == found.high_mm == 0.0


def test_only_the_part_of_the_path_that_differs_counts():
    found = one(stacked(gaps=[gap("ring/rear", "lid/front")]))
    assert [term.address for term in found.contributors] == ["lid/length", "ring/length"]


def test_equal_addresses_are_added_up_and_cancel():
    term = Term(1.0, size(10.0, 0.1, -0.1), "a")
    form = Form.of([term, Term(0.5, term.size, "a"), Term(2.0, size(1.0), "b")])
    assert form.terms["a"].coefficient == 1.5
    assert [t.address for t in form.plus([Term(1.5, term.size, "a")], -1.0).kept()] == ["b"]


def test_contributors_come_largest_first():
    found = one(stacked(gaps=[gap("lid/front", "base/front")]))
    assert [t.address for t in found.contributors] == ["lid/length", "ring/length", "base/floor/depth"]


def test_a_flipped_part_runs_the_other_way():
    seats = (Seat("ring", "rear", "base", "front"),)
    upright, turned = (tool([BASE, RING], seats, flipped=frozenset(f)) for f in ([], ["ring"]))
    assert nominal_positions(upright)["ring/front"] == 12.0
    assert nominal_positions(turned)["ring/front"] == -12.0
    assert nominal_positions(turned)["ring/rear"] == 0.0


def test_a_flipped_part_carries_on_what_seats_on_it():
    seats = (Seat("ring", "front", "base", "front"), Seat("lid", "rear", "ring", "rear"))
    turned = tool([BASE, RING, LID], seats, flipped=frozenset({"ring"}))
    assert nominal_positions(turned)["lid/front"] == pytest.approx(12.0 + 5.0)


def test_a_radial_gap_is_half_the_difference_of_the_diameters():
    found = one(
        tool(
            [BASE, RING],
            [Seat("ring", "rear", "base", "floor")],
            [gap("ring/outside", "base/bore", direction="radial")],
        )
    )
    assert found.nominal_mm == pytest.approx((10 - 30) / 2)
    assert (found.low_mm, found.high_mm) == pytest.approx((-10.0, -9.9))


def test_a_slide_lets_the_part_move_within_its_play():
    play = Term(1.0, size(0.0, 0.1, -0.1), "ring/play")
    found = one(
        tool([BASE, RING], [Seat("ring", "rear", "base", "floor", "slide", (play,))], [gap("base/floor", "ring/rear")])
    )
    assert (found.low_mm, found.nominal_mm, found.high_mm) == pytest.approx((-0.1, 0.0, 0.1))


# --- readings and made to measure ---


def test_a_reading_replaces_limits_in_the_chain():
    ring = block("ring", size(12.0, 0.0, -0.12).measured(11.95))
    found = one(tool([BASE, ring], [Seat("ring", "rear", "base", "floor")], [gap("ring/front", "base/front")]))
    assert found.nominal_mm == pytest.approx(8.05)
    # 8.05 +- (0.05 of the depth and 0.005 of the reading)
    assert (found.low_mm, found.high_mm) == pytest.approx((7.995, 8.105))


@pytest.mark.parametrize(
    ("fields", "words"),
    [({"fit": "base/nothing"}, "it is not in the chain"), ({"fit": "base/floor/depth"}, "or a limit is missing")],
)
def test_a_size_that_cannot_be_fitted_is_refused(fields, words):
    with pytest.raises(GeometryError, match=f"gap room: .*{words}"):
        one(stacked(gaps=[gap("lid/front", "base/front", **fields)]))


def test_what_no_fitting_can_hold_is_a_stop():
    made = stacked(gaps=[gap("lid/front", "base/front", 0.0, 0.02, fit="base/floor/depth")])
    (finding,) = gap_findings(made, chains(made))
    assert finding.severity == "stop"
    assert "even when made to measure" in finding.advice
    assert finding.miss > 0.0


# --- second contacts ---


def test_a_gap_of_nothing_is_a_second_contact_and_stops():
    made = stacked(gaps=[gap("lid/front", "base/front", 0.0, 0.0)])
    (finding,) = gap_findings(made, chains(made))
    assert finding.severity == "stop"
    assert "Two contacts at once" in finding.advice


@pytest.mark.parametrize(
    ("least", "most", "severity", "words"),
    [
        (2.0, 4.0, "note", "needed"),
        (2.9, 4.0, "warn", "Right at nominal, but outside by 0.15 mm"),
        (3.5, 4.0, "stop", "Outside by 0.50 mm even at nominal"),
        (None, 2.5, "stop", "Outside by 0.50 mm even at nominal"),
    ],
)
def test_a_gap_is_a_note_a_warning_or_a_stop_by_how_it_misses(least, most, severity, words):
    made = stacked(gaps=[gap("lid/front", "base/front", least, most)])
    (finding,) = gap_findings(made, chains(made))
    assert finding.severity == severity
    assert words in finding.advice


def test_a_gap_that_only_warns_never_stops():
    made = stacked(gaps=[gap("lid/front", "base/front", 3.5, 4.0, severity="warn")])
    assert next(gap_findings(made, chains(made))).severity == "warn"


def test_an_unmeasured_machine_size_warns_instead_of_stopping_and_is_named():
    base = replace(
        BASE,
        lengths=tuple(
            replace(x, size=replace(x.size, source="default: nobody measured", origin="socket.depth"))
            if x.name == "floor/depth"
            else x
            for x in BASE.lengths
        ),
    )
    made = tool([base, RING], [Seat("ring", "rear", "base", "floor")], [gap("ring/front", "base/front", 9.0)])
    finding = next(gap_findings(made, chains(made)))
    assert finding.severity == "warn"
    assert "give socket.depth" in finding.advice


# --- seats ---


def test_two_seats_on_one_part_are_refused():
    with pytest.raises(GeometryError, match="ring: two seats locate it"):
        tool([BASE, RING], [Seat("ring", "rear", "base", "floor"), Seat("ring", "front", "base", "front")])


def test_a_part_without_a_seat_is_refused():
    with pytest.raises(GeometryError, match="no seat locates lid"):
        tool([BASE, RING, LID], [Seat("ring", "rear", "base", "floor")])


def test_seats_in_a_circle_are_refused():
    made = tool([BASE, RING, LID], [Seat("ring", "rear", "lid", "front"), Seat("lid", "rear", "ring", "front")])
    with pytest.raises(GeometryError, match="the seats of ring, lid lead round in a circle"):
        positions(made)


@pytest.mark.parametrize("seat", [Seat("ring", "rear", "base", "nowhere"), Seat("ring", "nowhere", "base", "floor")])
def test_a_seat_on_a_face_that_is_not_there_is_refused(seat):
    with pytest.raises(GeometryError, match=r"nowhere.*one of them is no face"):
        positions(tool([BASE, RING], [seat]))


def test_a_seat_on_a_part_that_is_not_there_is_refused():
    with pytest.raises(GeometryError, match="ring seats on block: block is no part of the tool"):
        tool([BASE, RING], [Seat("ring", "rear", "block", "front")])


@pytest.mark.parametrize(
    ("start", "direction"), [("ring/nowhere", "axial"), ("ring/nowhere", "radial"), ("nobody/bore", "radial")]
)
def test_a_gap_from_nowhere_is_refused(start, direction):
    with pytest.raises(GeometryError, match=r"nowhere|nobody"):
        one(stacked(gaps=[gap(start, "base/front" if direction == "axial" else "base/bore", direction=direction)]))


# --- arrays of designs ---


def test_two_designs_at_once_equal_the_two_alone():
    lengths = (12.0, 11.5)
    seats, gaps = (Seat("ring", "rear", "base", "floor"),), (gap("ring/front", "base/front"),)
    both = one(
        tool([BASE, block("ring", size(np.array(lengths), np.array([0.0, 0.1]), np.array([-0.12, -0.1])))], seats, gaps)
    )
    for k, (length, upper, lower) in enumerate([(12.0, 0.0, -0.12), (11.5, 0.1, -0.1)]):
        alone = one(tool([BASE, block("ring", size(length, upper, lower))], seats, gaps))
        for field in ("nominal_mm", "low_mm", "high_mm", "likely_low_mm", "likely_high_mm"):
            assert getattr(both, field)[k] == pytest.approx(getattr(alone, field))
