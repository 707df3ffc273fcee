"""Printed sizes and lanes: pure text and pure numbers.

Rules of form come from ISO 129-1 and ISO 3040 as told in books on technical drawing; Morse 3 figures from ISO 296
(taper 1:19.922 on the diameter, half angle 1 deg 26 min 16 s).
"""

from __future__ import annotations

import random
from decimal import Decimal
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.description import Size, exact
from generator.drawing.labels import DIAMETER, angle_text, label_of, taper_text
from generator.drawing.lanes import Item, Side, lay_out
from generator.drawing.manner import manner_of
from generator.drawing.style import CLEAR_MM, scale_text


@pytest.mark.parametrize(
    ("size", "sign", "plain"),
    [
        # Class with limits in brackets: shop practice, common practice, no source.
        (Size(35.0, 0.014, -0.011, tolerance_class="J7"), DIAMETER, "⌀35 J7 (+0.014/-0.011)"),
        # Upper over lower, a bare 0 without sign (ISO 129-1).
        (Size(12.0, 0.0, -0.021), DIAMETER, "⌀12 0/-0.021"),
        # Equal numbers of decimals in a pair (ISO 129-1).
        (Size(12.0, 0.1, -0.025), "", "12 +0.100/-0.025"),
        (Size(17.0, 0.012, 0.001, tolerance_class="k6"), DIAMETER, "⌀17 k6 (+0.012/+0.001)"),
        (Size(18.0, 0.02, -0.02), "", "18 ±0.02"),
        (Size(38.0, 0.0, -0.3), "AF ", "AF 38 0/-0.3"),
        (Size(10.0, 0.2, -0.2, general=True), "", "10"),
        # ISO 2768-1 gives nothing under 0.5 mm, so the deviation stands at the size.
        (Size(0.4, 0.1, -0.1, general=True), "", "0.4 ±0.1"),
        (exact(23.825), DIAMETER, "⌀23.825"),
        (Size(0.1 + 0.2, 0.0, 0.0), "", "0.3"),
        (Size(5.0, 0.00005, 0.0), "", "5 +0.00005/0"),
    ],
)
def test_printed_form(size: Size, sign: str, plain: str) -> None:
    assert label_of(size, sign).plain == plain


def test_basic_sizes_are_boxed_and_carry_no_deviation() -> None:
    label = label_of(exact(23.825), DIAMETER)
    assert label.boxed
    assert not label.upper


def test_auxiliary_size_stands_in_brackets_without_tolerance() -> None:
    assert label_of(Size(60.0574, 0.1, -0.1), bracketed=True).plain == "(60.06)"


def test_words_of_a_size_left_to_the_fitter_stand_with_it() -> None:
    assert label_of(Size(18.0, 0.02, -0.02, fitted="bore to the measured stack")).below == "bore to the measured stack"


def test_a_size_made_to_measure_does_not_stand_over_an_equals_sign() -> None:
    """Over "= measured stack + 0.03 mm" the expected 10 ±0.015 would read as one side of an equation."""
    size = Size(10.0, 0.015, -0.015, fitted="= measured stack + 0.03 mm")
    assert label_of(size).below == "to measured stack + 0.03 mm"
    assert label_of(size, manner=manner_of("mm", "comma", "de")).below == "Maß: gemessenes Paket + 0,03 mm"


@given(
    nominal=st.integers(1, 400_000),
    upper=st.integers(-400, 400),
    width=st.integers(1, 600),
    tolerance_class=st.sampled_from(("", "h6")),
)
def test_printed_limits_are_the_described_limits(nominal: int, upper: int, width: int, tolerance_class: str) -> None:
    # Micrometres in, decimals out: what is printed, read back as decimals, is the size to the last micrometre.
    size = Size(nominal / 1000, upper / 1000, (upper - width) / 1000, tolerance_class=tolerance_class)
    label = label_of(size)
    first = label.main.split(" ")[0]
    assert Decimal(first) == Decimal(nominal) / 1000
    if "±" in label.main:
        high = Decimal(label.main.rsplit("±", 1)[1])
        low = -high
    else:
        high, low = Decimal(label.upper), Decimal(label.lower)
        places = {len(text.partition(".")[2]) for text in (label.upper, label.lower) if text != "0"}
        assert len(places) == 1
    assert (high, low) == (Decimal(upper) / 1000, Decimal(upper - width) / 1000)


def test_taper_callout() -> None:
    assert taper_text(1.4377, "ISO 296 Morse 3") == "1:19.922 (half angle 1°26'16\") ISO 296 Morse 3"


def test_angles_and_scales() -> None:
    assert angle_text(60.0) == "60°"
    assert [scale_text(s) for s in (1.0, 2.0, 0.5, 0.2)] == ["1:1", "2:1", "1:2", "1:5"]


def _random_items(seed: int) -> list[Item]:
    rng = random.Random(seed)
    marks = sorted(rng.uniform(0, 120) for _ in range(rng.randint(3, 10)))
    items = []
    for i in range(len(marks) - 1):
        start, end = (marks[i], marks[i + 1]) if rng.random() < 0.6 else (marks[0], marks[i + 1])
        items.append(Item(str(i), start, end, rng.uniform(4, 40), rng.choice((4.5, 6.7)), rng.choice((0.0, 0.0, 4.3))))
    return items


def _side(seed: int, *, text_inward: bool) -> Side:
    side = lay_out(_random_items(seed), text_inward=text_inward)
    assert side is not None
    return side


@pytest.mark.parametrize("seed", range(60))
def test_no_extension_line_runs_through_a_figure(seed: int) -> None:
    lanes = _side(seed, text_inward=True).lanes
    for inner, outer in combinations(lanes, 2):
        for figure in inner:
            for other in outer:
                for x in (other.item.low, other.item.high):
                    assert not figure.text_low - CLEAR_MM + 1e-6 < x < figure.text_high + CLEAR_MM - 1e-6


@pytest.mark.parametrize("seed", range(60))
def test_labels_of_one_side_do_not_touch(seed: int) -> None:
    # Boxes of the labels are rebuilt here from lane distances and compared pair by pair.
    for text_inward in (True, False):
        side = _side(seed, text_inward=text_inward)
        boxes = []
        for lane, offset in zip(side.lanes, side.offsets, strict=True):
            for p in lane:
                near, far = (p.item.above, p.item.under) if text_inward else (p.item.under, p.item.above)
                boxes.append((p.text_low, p.text_high, offset - near, offset + far))
        for a, b in combinations(boxes, 2):
            assert a[1] <= b[0] or b[1] <= a[0] or a[3] <= b[2] or b[3] <= a[2]


@pytest.mark.parametrize("seed", range(30))
def test_every_item_is_placed_once_and_lanes_keep_their_distance(seed: int) -> None:
    side = _side(seed, text_inward=True)
    assert sorted(p.item.key for lane in side.lanes for p in lane) == sorted(i.key for i in _random_items(seed))
    # First line 10 mm off, further ones 7 mm or more: drafting books after ISO 129-1.
    assert side.offsets[0] >= 10.0
    assert all(b - a >= 7.0 - 1e-9 for a, b in zip(side.offsets, side.offsets[1:], strict=False))


def test_a_chain_shares_one_lane() -> None:
    items = [Item("a", 0, 30, 8, 4.5), Item("b", 30, 60, 8, 4.5)]
    side = lay_out(items, text_inward=True)
    assert side is not None
    assert len(side.lanes) == 1
