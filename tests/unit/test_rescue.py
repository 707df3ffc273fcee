"""The ladder of rescues: gaps, fits, walls and the drawer decide what a missed size is worth."""

from __future__ import annotations

import pytest

from generator.checks import chains
from generator.description import PartDraft, Tool
from generator.making.missed import broken_by, face_moves, miss_of, recut_for, shift_of
from generator.making.rescue import MISSES_MM, ladders, rung_of
from generator.making.route.blank import spare_mm
from generator.plan.rescue import rescue_page
from generator.tables import load
from tests.helpers import CENTRE, centre, worked


@pytest.fixture(scope="module")
def tool() -> Tool:
    return worked(CENTRE, centre()).tool


@pytest.fixture(scope="module")
def gaps(tool):
    return tuple(chains(tool).values())


def ladder_of(tool, gaps, address, drawer=()):
    return next(one for one in ladders(tool, gaps, drawer) if one.address == address)


def test_faces_are_cut_into_the_metal(tool):
    moves = face_moves(tool.parts["body"])
    assert moves["front"] == -1, "the front faces the work"
    assert moves["floor_1"] == -1, "a pocket's floor faces the work"
    assert moves["end"] == 1, "the shank end faces the tailstock"
    assert moves["back"] == 1, "the back of the barrel faces the tailstock"
    assert face_moves(tool.parts["washer"]) == {"front": -1, "rear": 1}


@pytest.mark.parametrize(
    ("address", "sign"),
    [("body/pocket_1/diameter", 1), ("spindle/seat_1/diameter", -1), ("body/pocket_1/depth", 1),
     ("washer/thickness", -1), ("body/shank/length", -1)],
)
def test_metal_that_is_gone_makes_bores_and_depths_grow_and_outsides_shrink(tool, address, sign):
    assert miss_of(tool, address) == sign


def test_a_gap_moves_by_what_is_missed(tool, gaps):
    """A pocket 0.1 too deep leaves 0.1 more under the cover: the coefficient of its depth is 1, by hand."""
    result = next(one for one in gaps if one.gap.fit == "body/pocket_1/depth")
    low, high = shift_of(result, "body/pocket_1/depth", 0.1, 1)
    middle = (result.low_mm + result.high_mm) / 2
    cut = next(t.size for t in result.contributors if t.address == "body/pocket_1/depth")
    assert (low + high) / 2 == pytest.approx(middle + 0.1 + (cut.upper_mm - cut.lower_mm) / 2)


def test_a_recut_sets_the_gap_right_and_breaks_none(tool, gaps):
    missed = ("body/pocket_1/depth", 0.1, 1)
    broken = broken_by(gaps, {}, missed)
    assert broken
    recut = recut_for(tool, gaps, missed, broken)
    assert recut is not None
    assert (recut.part, recut.face) == ("body", "ledge")
    assert not broken_by(gaps, {"body/pocket_1/depth": -recut.by_mm, "body/recess/depth": recut.by_mm,
                                "body/pocket_2/depth": -recut.by_mm}, missed)


def test_a_taper_too_small_goes_deeper_by_its_ratio(tool, gaps):
    """Morse 3 is 1 : 19.922, ISO 296 as printed in the trade table: 0.5 mm on the diameter is 9.96 mm along it."""
    rungs = {rung.over_mm: rung for rung in ladder_of(tool, gaps, "body/taper/diameter").rungs}
    assert rungs[0.02].verdict == "works as it is"
    assert "up to 0.4 mm deeper" in rungs[0.02].ways[0]
    # Half a millimetre wants 9.96 mm of the bar: more than the spare that the blank has, so no other try is promised.
    assert spare_mm(tool.parts["body"].surface("taper").half_angle_deg) < 9.96
    assert rungs[0.5].verdict == "scrap"
    again = rung_of(tool, gaps, "body/taper/diameter", 0.22)
    assert again is not None
    assert any("4.4 mm further" in way for way in again.ways)


def test_compound_is_offered_only_for_gaps_that_a_grade_fills(tool, gaps):
    most = max(row.number("gap_max_mm") for row in load("retaining").rows)
    pocket = tool.parts["body"].surface("pocket_1").diameter
    ring = tool.parts["ring_1_outer"].surface("outside").diameter
    for rung in ladder_of(tool, gaps, "body/pocket_1/diameter").rungs:
        fills = pocket.high + rung.over_mm - ring.low <= most
        assert any("compound" in way for way in rung.ways) is fills


def test_another_bearing_needs_metal_away_and_leaves_the_wall(tool, gaps):
    rung = ladder_of(tool, gaps, "body/pocket_2/diameter").rungs[-1]
    way = next(way for way in rung.ways if " instead:" in way)
    designation = way.split(" ")[1]
    row = load("rings").find(designation)
    assert row.number("bore_mm") == 12.0
    assert 28.5 < row.number("outside_mm") < 35.0, "it must pass the front pocket of 35"


def test_no_bearing_is_offered_that_cannot_get_to_its_pocket(tool, gaps):
    """The next one of 17 bore is 40 across, the opening for the cover 38: geometry."""
    for rung in ladder_of(tool, gaps, "body/pocket_1/diameter").rungs:
        assert not any(" instead:" in way for way in rung.ways)


def test_a_bearing_of_the_drawer_that_fits_is_named(tool, gaps):
    over = 0.02
    size = tool.parts["body"].surface("pocket_1").diameter.high + over
    found = ladder_of(tool, gaps, "body/pocket_1/diameter", [("6003-2RS", size - 0.005)]).rungs[0]
    assert found.verdict == "depends on the bearing"
    assert "from the drawer" in found.ways[0]
    assert "drawer" not in " ".join(ladder_of(tool, gaps, "body/pocket_1/diameter", [("6003-2RS", 34.9)]).rungs[0].ways)


def test_every_ladder_has_a_rung_for_each_amount_and_worse_is_never_better(tool, gaps):
    order = ["works as it is", "can be put right", "depends on the bearing", "mate to suit", "retaining compound",
             "another bearing or a sleeve", "scrap"]
    for one in ladders(tool, gaps):
        assert tuple(rung.over_mm for rung in one.rungs) == MISSES_MM
        assert all(rung.ways for rung in one.rungs)
        ranks = [order.index(rung.verdict) for rung in one.rungs]
        assert ranks == sorted(ranks), one.address


def test_a_size_on_which_nothing_depends_has_no_ladder(tool, gaps):
    assert "body/end_chamfer/diameter" not in {one.address for one in ladders(tool, gaps)}


def test_nothing_made_has_no_page():
    draft = PartDraft("quill", "Quill", "face", neighbour=True)
    draft.length("shown", "end", "face", -1, 10.0)
    draft.cylinder("outside", "outside", "end", "face", 30.0)
    assert rescue_page(Tool("t", "T", "quill", {"quill": draft.done()}, (), ()), (), "mm") is None


def test_the_page_speaks_inches_in_an_inch_job(tool, gaps):
    page = rescue_page(tool, gaps, "in")
    assert page is not None
    words = " ".join(cell for block in page.blocks[1:] for row in block.rows for cell in row)
    assert " mm" not in words.replace("mm)", "")
    assert " in" in words


def test_a_smaller_miss_is_never_worse_where_a_snap_ring_holds_the_cover():
    """Found with a pocket too deep by 0.02: scrap, where 0.05 was shimmed. Foil of 0.025 mm: from memory."""
    job = worked(CENTRE, centre(("6203-2RS", "6002-2RS"), cover={"style": "snap ring"}, retention={"style": "nut"},
                                shank={"end": "tang"}))  # fmt: skip
    results = tuple(chains(job.tool).values())
    found = ladders(job.tool, results)
    assert found
    for one in found:
        scrapped = [rung.verdict == "scrap" for rung in one.rungs]
        assert scrapped == sorted(scrapped), one.address


@pytest.fixture(scope="module")
def sprung():
    job = worked(CENTRE, centre(("6203-2RS", "6003-2RS"), cover={"style": "snap ring"}, retention={"style": "circlip"}))
    return job.tool, tuple(chains(job.tool).values())


@pytest.mark.parametrize("over", MISSES_MM)
def test_a_snap_place_too_short_is_saved_by_facing_the_cover(sprung, over):
    """A thinner cover needs its groove so much nearer to the ledge: arithmetic."""
    rung = rung_of(*sprung, "body/snap/place", over)
    assert rung is not None
    assert rung.verdict == "can be put right"
    assert "of the cover back" in rung.ways[0]
    by = float(rung.ways[0].split(" back ")[1].split()[0])
    assert over - 0.03 <= by <= over + 0.06


@pytest.mark.parametrize("over", [0.5, 1.0])
def test_a_pocket_too_deep_gets_a_ring_on_its_floor(sprung, over):
    """What stands on a packed floor stands as drawn: the ring is as thick as what is over the middle of the limits."""
    rung = rung_of(*sprung, "body/pocket_1/depth", over)
    assert rung is not None
    assert rung.verdict == "can be put right"
    packed = next(way for way in rung.ways if way.startswith("ring of"))
    assert float(packed.split()[2]) == pytest.approx(over + 0.015, abs=0.006)
    assert "on the outer ring only" in packed


def test_no_way_out_is_offered_that_is_none(sprung):
    tool, gaps = sprung
    ways = [way for one in ladders(tool, gaps) for rung in one.rungs for way in rung.ways]
    assert ways
    assert not [way for way in ways if "no compound" in way]


def test_a_taper_deeper_than_its_stand_off_allows_has_the_spare_beside_it(tool, gaps):
    # 0.1 mm on a taper of 1 : 19.922 is 2 mm deeper, beyond 0.3 of stand-off (ISO 296, Morse 3); 0.005 is 0.1 mm.
    far = rung_of(tool, gaps, "body/taper/diameter", 0.1)
    near = rung_of(tool, gaps, "body/taper/diameter", 0.005)
    assert far is not None
    assert near is not None
    assert any("another try" in way for way in far.ways)
    assert not any("another try" in way for way in near.ways)


def test_a_narrow_gap_is_not_cut_from_one_limit_to_the_other(tool, gaps):
    # A pocket 0.02 too deep: the ledge goes back by those 0.02, not by a round 0.05 that would squeeze the bearing.
    rung = rung_of(tool, gaps, "body/pocket_1/depth", 0.02)
    assert rung is not None
    cut = [way for way in rung.ways if "ledge" in way]
    assert cut
    assert "0.02 mm" in cut[0]
