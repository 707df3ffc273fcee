"""Speeds, feeds, passes, stops, drills and bars of operations, against published figures where there are any."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator import tables
from generator.description import Size
from generator.making.figures import Figures
from generator.making.operations_bores import Section, bar_for, full_depth_mm
from generator.making.operations_dials import dial_move, in_words, infeed_text, length_text, quill_text
from generator.making.operations_gauge import is_enough
from generator.making.operations_passes import THREAD_SHARE, deepest_mm, passes_for, thread_infeed
from generator.making.operations_speed import (
    RIDGE_OVER_RA,
    Band,
    cutting_band,
    drill_feed_mm,
    finish_feed_mm,
    group_of,
    rough_feed_mm,
    speed_for,
)
from generator.making.operations_stops import limits_in
from generator.making.usual import usual_workshop
from generator.making.workshop import BoringBar, Dial, Drill
from generator.reckoning.amounts import RangeError
from generator.reckoning.cutting import feed_for_finish_mm

SHOP = usual_workshop(3)
MM, INCH = Figures("mm"), Figures("in")


# --- speed -----------------------------------------------------------------------------------------------------------


def test_sixty_feet_a_minute_on_five_inches() -> None:
    """F. D. Jones, Turning and Boring: 60 ft/min on 5 in gives 46 rpm; a machine without steps is set just below."""
    band = Band(60 * 0.3048, 60 * 0.3048, "Jones")
    free = replace(SHOP, speeds_rpm=(20.0, 1000.0), has_steps=False)
    assert speed_for(band, 5 * 25.4, free).rpm == pytest.approx(46, abs=1)
    geared = replace(SHOP, speeds_rpm=(28.0, 42.0, 47.0, 70.0), has_steps=True)
    assert speed_for(band, 5 * 25.4, geared).rpm == 42.0


@pytest.mark.parametrize(
    ("material", "work", "tool", "low", "high"),
    [
        # Nominal tutorial cutting speeds (scribd 615349553).
        ("mild steel", "turn", "HSS", 25.0, 45.0),
        ("mild steel", "drill", "HSS", 30.0, 36.0),
        ("cast iron GJL-250", "turn", "HSS", 22.0, 30.0),
        ("stainless 304", "drill", "HSS", 6.0, 15.0),
        # Mechanical Engineer's Data Handbook, p. 192.
        ("bronze CuSn12", "drill", "HSS", 13.0, 13.0),
        ("bronze CuSn12", "ream", "HSS", 4.5, 4.5),
        ("bronze CuSn12", "turn", "carbide", 120.0, 120.0),
    ],
)
def test_cutting_speeds_as_published(material: str, work: str, tool: str, low: float, high: float) -> None:
    found = cutting_band(material, work, tool)
    assert found is not None
    assert (found.low_m_min, found.high_m_min) == (low, high)
    assert found.source


@pytest.mark.parametrize("material", ["42CrMo4", "C45", "16MnCr5", "O1 / 100MnCrW4", "S235", "brass", "unheard-of"])
def test_slow_work_is_slower(material: str) -> None:
    """Common practice, no source: parting, grooving, screw-cutting and reaming go slower than turning and drilling."""
    def speed(work: str) -> float:
        found = cutting_band(material, work, "HSS")
        assert found is not None
        return found.high_m_min

    assert speed("thread") < speed("part") == speed("groove") < speed("turn")
    assert speed("ream") < speed("drill")
    assert speed("tap") < speed("drill")
    assert speed("face") == speed("rough") == speed("taper") == speed("turn")


def test_an_unknown_material_says_what_it_is_taken_for() -> None:
    found = cutting_band("unheard-of", "turn", "HSS")
    assert found is not None
    assert "taken as tough steel" in found.source
    assert group_of("42CrMo4").row == group_of("AISI 4140 annealed").row == "42CrMo4 Q&T"


def test_a_limit_comes_before_the_cutting_speed_and_says_so() -> None:
    band = Band(100.0, 180.0, "test")
    found = speed_for(band, 40.0, SHOP, {"dead centre rubbing in its hole": 260.0})
    assert found.rpm == max(one for one in SHOP.speeds_rpm if one <= 260.0)
    assert "dead centre" in found.why
    slow = speed_for(Band(1.0, 2.0, "test"), 200.0, SHOP)
    assert slow.rpm == min(SHOP.speeds_rpm)
    assert "slowest" in slow.why


# --- feed ------------------------------------------------------------------------------------------------------------


def test_feed_of_a_finish() -> None:
    """Groover, Fundamentals of Modern Manufacturing, surface finish (from memory): feed 0.25, nose 1.2 mm: Ra 1.6 um.

    The book divides by 32 where the parabola of the arc gives 31.2.
    """
    assert feed_for_finish_mm(RIDGE_OVER_RA * 1.6, 1.2) == pytest.approx(0.25, rel=0.03)
    assert pytest.approx(3.897, abs=5e-4) == RIDGE_OVER_RA


def test_finishing_feeds_stay_in_bounds() -> None:
    for ra in (0.4, 0.8, 1.6, 3.2, 6.3):
        for nose in (0.1, 0.2, 0.4, 0.8):
            assert 0.03 <= finish_feed_mm(ra, nose, 30.0, bore=True) <= 0.08
            assert finish_feed_mm(ra, nose, 30.0) <= 0.2
    assert finish_feed_mm(0.8, 0.4, 30.0) < finish_feed_mm(3.2, 0.4, 30.0)
    assert finish_feed_mm(3.2, 0.4, 5.0) <= 2 * 0.4 * math.sin(math.radians(5.0))


def test_a_drill_pressed_by_hand_takes_half_the_power_feed() -> None:
    """Nominal tutorial feeds (scribd 615349553): mild steel 0.25 at 12 mm, 0.41 at 18 mm."""
    assert drill_feed_mm("mild steel", 12.0) == pytest.approx(0.125)
    assert drill_feed_mm("mild steel", 20.0) == pytest.approx(0.205)
    assert drill_feed_mm("42CrMo4", 12.0) < drill_feed_mm("mild steel", 12.0)


def test_small_machines_rough_finer() -> None:
    small, large = usual_workshop(2), usual_workshop(4)
    assert rough_feed_mm("S235", small) < rough_feed_mm("S235", large)
    assert deepest_mm(small, "S235", inside=False, slack=False) < deepest_mm(large, "S235", inside=False, slack=False)
    firm, slack = (deepest_mm(large, "42CrMo4", inside=True, slack=one) for one in (False, True))
    assert slack < firm


# --- passes ----------------------------------------------------------------------------------------------------------


@given(st.floats(0.0, 40.0), st.floats(0.1, 3.0), st.floats(0.1, 1.0), st.booleans(), st.booleans())
def test_passes_come_to_the_depth_and_none_is_too_deep(
    deep: float, most: float, left: float, fine: bool, only_rough: bool
) -> None:
    found = passes_for(deep, most, left, fine=fine, only_rough=only_rough)
    assert found.deep_mm == pytest.approx(deep, abs=1e-9)
    assert found.rough_mm <= most + 1e-9
    assert found.finish in (0, 1, 2)
    if fine and not only_rough and deep > 0:
        assert found.finish == 2
        assert found.finish_mm <= 1.5 * left / 4 + 1e-9
    # One pass less would be too deep.
    assert found.rough < 2 or (found.rough - 1) * most < found.rough * found.rough_mm


def test_infeed_of_a_thread() -> None:
    """ISO 68-1: the groove of M6 (pitch 1) is 0.613 mm deep; every chip of the same section."""
    deep = 1.0 * THREAD_SHARE["outside"]
    assert deep == pytest.approx((6.0 - tables.thread("M6").root_mm) / 2, abs=5e-4)
    cuts = thread_infeed(1.0, deep)
    assert cuts[-3:] == (deep, deep, deep)
    sections = [b**2 - a**2 for a, b in zip((0.0, *cuts), cuts[:-2], strict=False)]
    assert sections == pytest.approx([sections[0]] * len(sections))


# --- stops -----------------------------------------------------------------------------------------------------------


DIALS = st.sampled_from([
    Dial(0.02, 3.0), Dial(0.025, 1.5), Dial(0.05, 4.0), Dial(0.1, 18.0), Dial(0.02, 4.0, reads_diameter=True),
    Dial(0.0254, 2.54), Dial(0.0254, 3.175), Dial(0.0127, 2.54, reads_diameter=True),
])


@given(st.floats(0.0, 400.0), DIALS)
def test_turns_and_divisions_come_within_half_a_division(travel: float, dial: Dial) -> None:
    found = dial_move(travel, dial)
    assert found.turns * dial.turn_mm + found.divisions * dial.division_mm == pytest.approx(found.travel_mm)
    assert abs(found.travel_mm - travel) <= dial.division_mm / 2 + 1e-9
    assert found.divisions * dial.division_mm < dial.turn_mm


def test_an_inch_dial() -> None:
    """Arithmetic: 3/8 in on a dial of 100 divisions of 0.001 in: three turns and 75; the length in inches beside it."""
    dial = Dial(0.0254, 2.54)
    assert dial_move(9.525, dial)[:2] == (3, 75)
    shop = replace(SHOP, carriage_dial=dial, cross_dial=Dial(0.0254, 2.54), quill_dial=dial)
    assert "3 turns and 75 divisions" in length_text(9.525, "front", shop, INCH, swung=False)
    assert "0.3750 in" in length_text(9.525, "front", shop, INCH, swung=False)
    assert "mm" not in infeed_text(25.4, 24.13, shop, INCH) + quill_text(9.525, "end", shop, INCH)
    assert "in 25 divisions (0.025 in off the radius)" in infeed_text(25.4, 24.13, shop, INCH)


def test_diameter_and_radius_dials_tell_different_figures() -> None:
    radius = replace(SHOP, cross_dial=Dial(0.025, 1.5))
    diameter = replace(SHOP, cross_dial=Dial(0.02, 3.0, reads_diameter=True))
    assert "in 1 turn and 20 divisions (2 mm off the radius)" in infeed_text(24.0, 20.0, radius, MM)
    assert "in 100 divisions (4 mm off the diameter)" in infeed_text(24.0, 20.0, diameter, MM)
    assert "out 100 divisions (4 mm on the diameter)" in infeed_text(20.0, 24.0, diameter, MM)


def test_without_a_carriage_dial_the_top_slide_or_a_block_tells_the_length() -> None:
    shop = replace(SHOP, carriage_dial=None, top_dial=Dial(0.025, 2.0), top_slide_travel_mm=60.0)
    assert "12 turns" in length_text(24.0, "front", shop, MM, swung=False)
    for swung, length in ((True, 24.0), (False, 80.0)):
        text = length_text(length, "front", shop, MM, swung=swung)
        assert f"a block of {length:.3f} mm" in text
        assert "feeler of 0.05 mm" in text
        assert "one turn of warning" in text
    assert "tape" in quill_text(18.0, "end", replace(shop, quill_dial=None), MM)
    far = quill_text(70.8, "front", replace(shop, quill_dial=Dial(0.02, 3.0), quill_travel_mm=60.0), MM)
    assert far.startswith("tape round the drill 70.8 mm")
    assert "the quill goes 60 mm" in far


def test_words_of_a_move() -> None:
    assert in_words(dial_move(3.02, Dial(0.02, 3.0))) == "1 turn and 1 division"
    assert in_words(dial_move(6.0, Dial(0.02, 3.0))) == "2 turns"
    assert in_words(dial_move(0.0, Dial(0.02, 3.0))) == "0 divisions"


def test_a_dial_without_divisions_is_refused() -> None:
    with pytest.raises(RangeError, match="division"):
        dial_move(5.0, Dial(0.0, 3.0))


def test_inch_limits_are_rounded_inwards() -> None:
    """Arithmetic: 17.001 to 17.012 mm is 0.66933 to 0.66976 in."""
    size = Size(17.0, 0.012, 0.001, source="ISO 286", tolerance_class="k6")
    assert limits_in(size, INCH) == "0.6694 to 0.6697 in"
    assert limits_in(size, MM) == "17.001 to 17.012 mm"


# --- holes -----------------------------------------------------------------------------------------------------------


def test_a_drill_reaches_its_flute_less_one_and_a_half_diameters() -> None:
    """Common practice (table drill_rules); DIN 338 gives 10 mm a flute of 87."""
    assert Drill(10.0, 87.0, 133.0).usable_mm == 72.0


def test_the_point_of_a_drill() -> None:
    """Geometry: a 118 degree point is 0.30 of the diameter long, half a millimetre is left for the bar."""
    plain = (Section(0.0, 20.0, 12.0),)
    assert full_depth_mm(10.0, plain, through=False) == pytest.approx(20.0 - 0.3004 * 10 - 0.5, abs=2e-3)
    assert math.isinf(full_depth_mm(10.0, plain, through=True))
    # Into a narrower hole behind only as far as the point stays inside it.
    narrow = (Section(0.0, 20.0, 30.0), Section(20.0, 40.0, 12.0))
    assert full_depth_mm(20.0, narrow, through=True) == pytest.approx(20.0 - 8.5 / (2 * math.tan(math.radians(59))))


def test_the_stoutest_bar_that_reaches_and_can_be_let_in() -> None:
    bars = (BoringBar(8.0, 11.0, 32.0), BoringBar(12.0, 16.0, 48.0), BoringBar(20.0, 25.0, 80.0))
    drills = tuple(Drill(float(size), 120.0, 200.0) for size in range(4, 21))
    shop = replace(SHOP, boring_bars=bars, drills=drills)
    bore = Section(0.0, 20.0, 30.0)
    # No drill lets the 20 mm bar in, a hole of 26 does.
    found = bar_for(bore, 0.0, (bore,), shop, through=False)
    assert found is not None
    assert found[0].bar_mm == 12.0
    assert found[1] is not None
    assert found[1].drill_mm == 17.0
    assert found[1].full_mm < 20.0
    assert bar_for(bore, 26.0, (bore,), shop, through=False) == (bars[2], None)
    deep = Section(0.0, 100.0, 30.0)
    assert bar_for(deep, 26.0, (deep,), shop, through=True) is None
    assert bar_for(Section(0.0, 20.0, 10.0), 0.0, (Section(0.0, 20.0, 10.0),), shop, through=True) is None


def test_a_quarter_of_the_tolerance_is_enough() -> None:
    """Common practice, no source: rule of a tenth, a quarter still good."""
    assert is_enough(0.01, 0.04)
    assert not is_enough(0.01, 0.039)
