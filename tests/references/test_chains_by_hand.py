"""Chains worked by hand, the arithmetic written out beside each.

Source: worst case is the sum, the likely range the root of the sum of squares, of the half tolerances (any textbook of
tolerancing, from memory). Cones by trigonometry. Morse 3 is 1 in 19.922 (ISO 296, from memory).
"""

import math

import pytest

from generator.description import Gap, PartDraft, Seat, Term, Tool, evaluate_gap, exact, positions
from generator.description.size import MEASURING_DOUBT_MM
from generator.fittings.quill import work_part
from generator.fittings.shank import cone_terms
from tests.helpers import centre, size, worked

RATIO = 19.922


def evaluated(parts, seats, gap):
    made = Tool("test", "Test", parts[0].name, {p.name: p for p in parts}, tuple(seats), (gap,))
    return evaluate_gap(made, gap, positions(made))


def in_the_quill(shank, socket):
    """A shank with its gauge plane 5 +- 0.3 mm behind the back face, in a quill."""
    quill = PartDraft("quill", "Quill", "face")
    quill.length("shown", "rear", "face", -1, size(100.0))
    quill.cone("socket", "inside", "rear", "face", socket, "face", 1.4377)
    quill.cylinder("outside", "outside", "rear", "face", size(45.0))
    body = PartDraft("body", "Body", "back")
    body.length("stand_off", "gauge", "back", -1, size(5.0, 0.3, -0.3))
    body.cone("taper", "outside", "gauge", "back", shank, "gauge", 1.4377)
    seat = Seat("body", "gauge", "quill", "face", "cone", cone_terms(RATIO, shank, socket, "body"))
    gap = Gap("stand_off", "", "quill/face", "body/back", 1.0, None, "", "")
    return evaluated([quill.done(), body.done()], [seat], gap)


def test_five_hundredths_on_the_diameter_are_a_millimetre_along_the_cone():
    right = in_the_quill(exact(23.825), exact(23.825))
    large = in_the_quill(exact(23.875), exact(23.825))
    small = in_the_quill(exact(23.775), exact(23.825))
    # 0.05 x 19.922 = 0.996 mm further out, and as much further in.
    assert right.nominal_mm == pytest.approx(5.0)
    assert large.nominal_mm == pytest.approx(5.996, abs=5e-4)
    assert small.nominal_mm == pytest.approx(4.004, abs=5e-4)


def test_the_cone_seat_multiplies_limits_by_twenty():
    found = in_the_quill(exact(23.825), size(23.825, 0.01, -0.01))
    # worst: 0.3 + 19.922 x 0.01 = 0.49922; likely: sqrt(0.3^2 + 0.19922^2) = 0.36012
    assert found.low_mm == pytest.approx(5.0 - 0.49922, abs=1e-5)
    assert found.high_mm == pytest.approx(5.0 + 0.49922, abs=1e-5)
    assert found.likely_low_mm == pytest.approx(5.0 - 0.36012, abs=1e-5)
    assert found.likely_high_mm == pytest.approx(5.0 + 0.36012, abs=1e-5)
    coefficients = {t.address: t.coefficient for t in found.contributors}
    assert coefficients == pytest.approx(
        {"body/stand_off": 1.0, "quill/socket/diameter": -19.922, "body/taper/diameter": 19.922}
    )


@pytest.mark.parametrize(("angle", "factor"), [(60.0, 0.8660), (75.0, 0.6516), (90.0, 0.5)])
def test_a_centre_hole_on_its_point_moves_by_half_the_cotangent_of_half_the_angle(angle, factor):
    # Mouth diameter to axial place: 1 / (2 tan(angle / 2)): 0.866 at 60 deg, 0.652 at 75 deg, 0.5 at 90 deg.
    half = angle / 2
    assert factor == pytest.approx(0.5 / math.tan(math.radians(half)), abs=5e-5)
    mouth = size(8.0, 0.2, -0.2)
    point = PartDraft("point", "Point", "base")
    point.length("length", "rear", "base", -1, size(20.0))
    point.cylinder("shank", "outside", "rear", "base", size(16.0))
    point.cone("cone", "outside", "base", "tip", size(16.0, 0.0, -0.1, derived=True), "base", -half)
    point.place("tip", "cone", size(1.0))
    point.place("contact", "cone", mouth)
    work = work_part(size(22.0), mouth, half, size(20.0))
    gap = Gap("reach", "", "point/base", "work/mouth", None, 10.0, "", "")
    found = evaluated([point.done(), work], [Seat("work", "mouth", "point", "contact", "cone")], gap)
    assert found.nominal_mm == pytest.approx((16.0 - 8.0) * factor, abs=2e-3)
    coefficients = {t.address: t.coefficient for t in found.contributors}
    assert coefficients["point/contact/diameter"] == pytest.approx(-factor, abs=5e-5)
    assert coefficients["point/cone/diameter"] == pytest.approx(factor, abs=5e-5)
    # worst half range: (0.2 + 0.05) x factor
    assert found.high_mm - found.low_mm == pytest.approx(2 * 0.25 * factor, abs=2e-4)


def test_four_sizes_by_worst_case_and_by_root_sum_square():
    # A bush of 20 +- 0.1 holds rings of 7, 7 and 5.5, each +0 / -0.12 (ISO 492 Normal, bores above 10 mm).
    bush = PartDraft("bush", "Bush", "front")
    bush.length("depth", "floor", "front", -1, size(20.0, 0.1, -0.1))
    bush.cylinder("bore", "inside", "floor", "front", size(30.0))
    parts, seats, under = [bush.done()], [], ("bush", "floor")
    for name, width in (("a", 7.0), ("b", 7.0), ("c", 5.5)):
        ring = PartDraft(name, name, "front")
        ring.length("width", "rear", "front", -1, size(width, 0.0, -0.12))
        parts.append(ring.done())
        seats.append(Seat(name, "rear", *under))
        under = (name, "front")
    found = evaluated(parts, seats, Gap("room", "", "c/front", "bush/front", 0.0, None, "", ""))
    # nominal 20 - 7 - 7 - 5.5 = 0.5; middle 0.5 + 3 x 0.06 = 0.68; worst 0.1 + 3 x 0.06 = 0.28
    assert found.nominal_mm == pytest.approx(0.5)
    assert (found.low_mm, found.high_mm) == pytest.approx((0.40, 0.96))
    # root of 0.1^2 + 3 x 0.06^2 = root of 0.0208 = 0.14422
    assert (found.likely_low_mm, found.likely_high_mm) == pytest.approx((0.53578, 0.82422), abs=1e-5)


def made_to_measure(width):
    bush = PartDraft("bush", "Bush", "front")
    bush.length("depth", "floor", "front", -1, size(20.0, 0.015, -0.015, fitted="bore to the rings"))
    parts, seats, under = [bush.done()], [], ("bush", "floor")
    for name in "ab":
        ring = PartDraft(name, name, "front")
        ring.length("width", "rear", "front", -1, width)
        parts.append(ring.done())
        seats.append(Seat(name, "rear", *under))
        under = (name, "front")
    gap = Gap("room", "", "b/front", "bush/front", 0.0, 0.06, "", "", fit="bush/depth")
    return evaluated(parts, seats, gap)


def test_a_size_made_to_measure_has_a_range_and_a_residual():
    found = made_to_measure(size(10.0, 0.0, -0.12))
    # aim 0.03; rings together 19.88 +- 0.12; depth 19.91 +- 0.12
    assert (found.fit_low_mm, found.fit_high_mm) == pytest.approx((19.79, 20.03))
    # what is left: 0.015 of cutting and two readings of 0.005: 0.015 + 0.005 x sqrt 2 = 0.02207
    assert MEASURING_DOUBT_MM == 0.005
    assert (found.low_mm, found.high_mm) == pytest.approx((0.03 - 0.02207, 0.03 + 0.02207), abs=1e-5)
    # likely: root of 0.015^2 + 2 x 0.005^2 = 0.01658
    assert (found.likely_low_mm, found.likely_high_mm) == pytest.approx((0.01342, 0.04658), abs=1e-5)


def test_readings_narrow_the_range_to_their_doubt():
    found = made_to_measure(size(10.0, 0.0, -0.12).measured(9.96))
    # 2 x 9.96 + 0.03 = 19.95, +- two doubts of 0.005
    assert (found.fit_low_mm, found.fit_high_mm) == pytest.approx((19.94, 19.96))


def test_a_size_with_a_factor_is_fitted_through_the_factor():
    # A shim seen through a coefficient of 2: the shim takes half of what is wanted.
    base = PartDraft("base", "Base", "front")
    base.length("depth", "floor", "front", -1, size(10.0, 0.1, -0.1))
    lid = PartDraft("lid", "Lid", "front")
    shim = Term(2.0, size(2.0, 0.01, -0.01), "shim/thickness")
    gap = Gap("room", "", "lid/front", "base/front", 0.0, 0.2, "", "", fit="shim/thickness")
    found = evaluated([base.done(), lid.done()], [Seat("lid", "front", "base", "floor", "face", (shim,))], gap)
    # room = 10 - 2 x shim = 0.1: shim = (10 - 0.1) / 2 = 4.95 +- 0.05
    assert (found.fit_low_mm, found.fit_high_mm) == pytest.approx((4.90, 5.00))


# --- on the revolving centre ---


def test_the_pocket_of_the_example_comes_to_the_hand_sum():
    """6003 alone in the front pocket, pressed cover: depth = ring + 0.03, ring 10 +0 / -0.12."""
    job = worked("revolving-centre", centre())
    found = next(evaluate_gap(job.tool, g, positions(job.tool)) for g in job.tool.gaps if g.name == "stack_in_pocket")
    assert (found.fit_low_mm, found.fit_high_mm) == pytest.approx((9.88 + 0.03, 10.00 + 0.03))


def test_a_measured_ring_moves_the_pocket_with_it():
    job = worked("revolving-centre", centre(({"ring": "6003-2RS", "measured_width": 9.93}, "6001-2RS")))
    found = next(evaluate_gap(job.tool, g, positions(job.tool)) for g in job.tool.gaps if g.name == "stack_in_pocket")
    assert (found.fit_low_mm, found.fit_high_mm) == pytest.approx((9.955, 9.965))


def test_stand_off_of_the_example_by_hand():
    """Morse 3: a = 5 mm; +- 0.3 of the stand-off and 19.922 x 0.01 of the socket."""
    found = worked("revolving-centre", centre()).one("gap", "stand_off")
    assert found.value == pytest.approx(5.0)
    assert (found.worst_low, found.worst_high) == pytest.approx((4.50078, 5.49922), abs=1e-4)


def test_an_undersize_shank_runs_out_of_stand_off():
    """A stand-off of 1.2 mm is right at nominal, but 0.05 undersize takes 1 mm of it: the warning must say so."""
    found = worked("revolving-centre", centre(shank={"stand_off": 1.2})).one("gap", "stand_off")
    assert found.severity == "warn"
    assert any("x 19.9" in line for line in found.contributors)
