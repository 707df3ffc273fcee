"""Settings of the taper for each way of cutting it, against hand arithmetic or a source named beside it."""

from __future__ import annotations

import math
import re
import tomllib
from dataclasses import replace

import pytest

from generator.description import Choices, PartDraft, Seat, Size, Tool, exact
from generator.making.figures import Figures
from generator.making.settings import Setting, settings_for, tapers
from generator.making.settings_rows import Cone, cone_of
from generator.making.settings_set_over import set_over_for
from generator.making.stock import StockRow, stock_for
from generator.making.usual import usual_workshop
from generator.making.workshop import Dial, TaperMethod, Workshop
from generator.plan.settings import settings_pages
from generator.prints.content import KeyValues
from generator.units import FileUnit
from templates import dead_centre, revolving_centre
from tests.sample import sample_body, sample_quill, sample_tool

METHODS: tuple[TaperMethod, ...] = ("set-over", "top slide", "attachment", "bought shank")
# Morse 3 by DIN 807: 1 : 19.922, sine of 1 deg 26 min 16 s.
SINE = 0.0250900


def shop(method: TaperMethod = "top slide", **fields: object) -> Workshop:
    return replace(usual_workshop(3), taper_method=method, **fields)  # type: ignore[arg-type]


def blank(faced_mm: float = 145.0, bar_mm: float = 45.0) -> StockRow:
    return StockRow(
        "body", "Body", "42CrMo4", 44.0, 120.0, 45.0, bar_mm, faced_mm, 150.0, 1.0, (), True, True, "", "",
    )


def cone(workshop: Workshop, faced_mm: float = 145.0, unit: FileUnit = "mm") -> Cone:
    ((part, surface),) = tapers(sample_tool())
    return cone_of(part, surface, Choices(), blank(faced_mm), workshop, Figures(unit))


def rows_of(workshop: Workshop, unit: FileUnit = "mm", faced_mm: float = 145.0) -> tuple[Setting, ...]:
    return settings_for(sample_tool(), Choices(), (blank(faced_mm),), workshop, unit)


def row(rows: tuple[Setting, ...], label: str) -> Setting:
    found = [one for one in rows if one.label == label]
    assert len(found) == 1, (label, [one.label for one in rows])
    return found[0]


def first_number(text: str) -> float:
    found = re.search(r"-?\d+(?:\.\d+)?", text.replace("+", ""))
    assert found is not None, text
    return float(found[0])


# --- what holds for every way --------------------------------------------------------------------------------------


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("method", METHODS)
def test_the_chosen_way_stands_whole_and_first_and_the_others_are_the_way_out(
    method: TaperMethod, unit: FileUnit
) -> None:
    rows = rows_of(shop(method, attachment_mm=300.0), unit)
    words = {"set-over": "set over", "top slide": "slide", "attachment": "attachment", "bought shank": "bought shank"}
    groups = list(dict.fromkeys(one.group for one in rows))
    assert groups[0] == "Body: taper"
    assert groups[1].startswith("Set: ")
    assert words[method] in groups[1]
    assert sum(one.main for one in rows if one.group == groups[1]) == (method != "bought shank")
    short = [one.label for one in rows if one.group.startswith("The way out")]
    full = {"set-over": "Set-over between centres", "top slide": "Top slide", "attachment": "Taper attachment",
            "bought shank": "Bought shank"}
    assert short == [label for other, label in full.items() if other != method]
    assert all(one.label and one.value and one.note and one.source for one in rows)
    assert not any("http" in one.source or "www" in one.source for one in rows)
    # Two settings of one name under one heading would not be told apart.
    assert len({(one.group, one.label) for one in rows}) == len(rows)


@pytest.mark.parametrize("method", METHODS)
def test_inch_jobs_are_told_in_inches(method: TaperMethod) -> None:
    for one in rows_of(shop(method, attachment_mm=300.0), "in"):
        shown = f"{one.value} {one.note}"
        if one.label in {"Scale of tapers", "Taper attachment"}:
            # An attachment's scale is marked as it is marked.
            continue
        outside = re.sub(r"\([^()]*mm\)|A \d+(\.\d+)?/\d+(\.\d+)?|\d+(\.\d+)? mm ball", "", shown)
        assert not re.search(r"\d mm\b", outside), one


@pytest.mark.parametrize("kind", [revolving_centre, dead_centre])
@pytest.mark.parametrize("method", METHODS)
def test_every_kind_has_its_settings(kind, method: TaperMethod) -> None:
    name = kind.__name__.rpartition(".")[2].replace("_", "-")
    text = f'kind = "{name}"\nname = "bench"\n{kind.EXAMPLE}'
    choices = kind.derive(kind.Params.model_validate(tomllib.loads(text), context={"unit": "mm"}))
    tool = kind.build(choices)
    workshop = shop(method)
    rows = settings_for(tool, choices, stock_for(tool, kind.order(choices, tool, workshop), choices), workshop)
    assert len(rows) > 15
    assert not any("not reckoned" in one.value for one in rows)
    assert row(rows, "Swing for the point").value == "30°"


def test_a_tool_without_taper_or_point_has_none() -> None:
    draft = PartDraft("pin", "Pin", "front")
    draft.length("length", "back", "front", -1, Size(20.0))
    draft.cylinder("body", "outside", "back", "front", Size(10.0))
    pin = draft.done()
    tool = Tool("pin", "Pin", "pin", {"pin": pin}, ())
    assert settings_for(tool, Choices(), (), shop()) == ()
    assert settings_pages(()) == ()


def test_figures_that_nobody_gave_are_marked() -> None:
    assert "(default)" in row(rows_of(shop()), "Top slide travel needed").note
    known = replace(shop(), top_slide_travel_mm=90.0, defaults=frozenset())
    rows = rows_of(known)
    assert "(default)" not in row(rows, "Top slide travel needed").note
    assert not any("(default)" in one.value + one.note for one in rows)


def test_pages_hold_every_setting_once_the_setting_before_the_check() -> None:
    rows = rows_of(shop("set-over"))
    pages = settings_pages(rows)
    assert [page.title for page in pages] == ["Settings for the taper", "Check and prove the taper"]
    shown = [pair.label for page in pages for box in page.blocks if isinstance(box, KeyValues) for pair in box.rows]
    assert sorted(shown) == sorted(one.label for one in rows)


# --- top slide -----------------------------------------------------------------------------------------------------


def test_top_slide_of_a_morse_3_shank() -> None:
    """Half angle 1 deg 26 min 16 s and 19.922 for 1.000 of diameter: DIN 807 and ISO 296 ratio of Morse 3."""
    rows = rows_of(shop())
    assert row(rows, "Taper").value == "1 : 19.922"
    assert row(rows, "Swing the top slide").value == "1° 26′ 16″"
    assert "1 and 0.44 of the next degree" in row(rows, "Swing the top slide").note
    assert row(rows, "Or two flanges").value == "19.922 mm apart"
    assert row(rows, "Rise per 25 mm, carriage").value == "0.6274 mm"
    assert row(rows, "Rise per 25 mm, top slide").value == "0.6272 mm"


def test_flanges_of_an_inch_job() -> None:
    """Harold Hall, homews.co.uk page 49, by its rule: 0.040 in over 0.7969 in for Morse 3."""
    assert row(rows_of(shop(), "in"), "Or two flanges").value == "0.7969 in apart"


def test_a_short_top_slide_is_said() -> None:
    """The cone of the sample is 73 mm long: with 3 mm over at each end 79.02 along its flank."""
    needed = row(rows_of(shop()), "Top slide travel needed")
    by_hand = cone(shop()).length_mm / math.cos(math.radians(1.4377)) + 6
    assert first_number(needed.value) == pytest.approx(by_hand, abs=0.05)
    assert "enough" in needed.note
    assert "TOO SHORT" in row(rows_of(shop(top_slide_travel_mm=60.0)), "Top slide travel needed").note


def test_angle_correction_by_the_published_rule() -> None:
    """0.01 mm over 60 mm: 17 seconds of arc, 0.008 mm at 100 mm (two-diameter rule: error / (2 x distance))."""
    found = row(rows_of(shop()), "For each 0.01 mm too little, swing more")
    assert found.value == "17″"
    assert found.note.startswith("0.008 mm by indicator 100 mm")
    assert row(rows_of(shop()), "Or by touch").value == "cross slide 0.005 mm in"


@pytest.mark.parametrize("reads_diameter", [True, False])
def test_a_division_goes_deeper_by_twice_its_travel_over_the_taper(reads_diameter: bool) -> None:
    """ISO 3040: 0.02 of travel is 0.04 of diameter is 0.04 x 19.922 = 0.80 of depth, on either kind of dial."""
    rows = rows_of(shop(cross_dial=Dial(0.02, 4.0, reads_diameter)))
    found = row(rows, "One division of the cross slide")
    assert first_number(found.value) == pytest.approx(0.80, abs=0.005)
    assert ("diameter dial" if reads_diameter else "radius dial") in found.note


def test_with_an_attachment_the_top_slide_feeds_in() -> None:
    """The cross screw is let go: 0.025 of travel is 0.05 x 19.922 = 1.0 of depth."""
    rows = rows_of(shop("attachment", attachment_mm=300.0, top_dial=Dial(0.025, 2.0)))
    assert row(rows, "One division of the top slide, set across").value == "1 mm deeper"
    assert "nearest on the top slide, set across: 1 division" in row(rows, "To bring it 1 mm in").note


def test_the_carriage_dial_is_named_where_there_is_one() -> None:
    assert "(2 divisions of its dial)" in row(rows_of(shop(carriage_dial=Dial(0.5, 20.0))), "Feed and depth").note


# --- set-over ------------------------------------------------------------------------------------------------------


def test_set_over_on_balls_by_hand() -> None:
    """A 4/8.5 in the bar, the bore's mouth 10.5 + 2 at the shank's end.

    Geometry: a ball's middle lies ball - 0.866 x mouth outside its face.
    """
    found = set_over_for(cone(shop("set-over", headstock_support="ball", tailstock_support="ball")))
    assert found is not None
    head, tail = found.head.support, found.tail.support
    assert (head.mouth_mm, head.pilot_mm, tail.mouth_mm, tail.pilot_mm) == (8.5, 4.0, 12.5, 10.5)
    for end in (head, tail):
        assert end.pilot_mm < 0.8660 * end.ball_mm < end.mouth_mm
    by_hand = 145.0 + head.ball_mm - 0.86603 * 8.5 + tail.ball_mm - 0.86603 * 12.5
    assert found.band.likely_mm == pytest.approx(by_hand, abs=0.001)
    assert found.amount_mm == pytest.approx(by_hand * SINE, abs=0.0005)
    assert found.least_mm == found.amount_mm


def test_set_over_on_worn_points_by_the_old_rule() -> None:
    """Turning and boring tapers, 1902: take off what the centres enter, 0.866 x mouth at each end."""
    found = set_over_for(cone(shop("set-over", headstock_support="60-degree", tailstock_support="60-degree")))
    assert found is not None
    by_hand = 145.0 - 0.86603 * (8.5 + 12.5)
    assert found.band.least_mm == pytest.approx(by_hand, abs=0.001)
    assert found.least_mm == pytest.approx(by_hand * SINE, abs=0.0005)
    assert found.least_mm < found.amount_mm


def test_each_end_adds_its_own_length_whatever_stands_in_the_other() -> None:
    lengths = {}
    for head in ("60-degree", "ball"):
        for tail in ("60-degree", "ball"):
            found = set_over_for(cone(shop("set-over", headstock_support=head, tailstock_support=tail)))
            assert found is not None
            assert [end.support.form for end in (found.head, found.tail)] == [
                {"ball": "ball", "60-degree": "point"}[form] for form in (head, tail)
            ]
            lengths[head, tail] = found.band.likely_mm
    assert len(set(lengths.values())) == 4
    mixed = lengths["60-degree", "ball"] + lengths["ball", "60-degree"]
    assert mixed == pytest.approx(lengths["ball", "ball"] + lengths["60-degree", "60-degree"])


def test_the_hole_at_the_shank_end_is_the_one_of_the_drawing() -> None:
    choices = Choices()
    choices.names["shank/mouth"] = "14 mm"
    ((part, surface),) = tapers(sample_tool())
    found = set_over_for(cone_of(part, surface, choices, blank(), shop("set-over"), Figures("mm")))
    assert found is not None
    assert found.tail.support.mouth_mm == 14.0


def test_set_over_is_told_as_it_is_read() -> None:
    at = shop("set-over", headstock_support="ball")
    rows = rows_of(at)
    found = set_over_for(cone(at))
    assert found is not None
    assert row(rows, "Set the tailstock towards you").value == f"{found.amount_mm:.2f} mm"
    turns, divisions = map(int, re.findall(r"\d+", row(rows, "Read on the quill").value))
    assert turns + divisions / 100 == pytest.approx(found.amount_mm, abs=0.005)
    turns, divisions = map(int, re.findall(r"\d+", row(rows, "Or by the cross slide").value))
    cross = at.cross_dial
    told = turns * cross.turn_mm + divisions * cross.division_mm
    assert told == pytest.approx(found.amount_mm, abs=cross.division_mm / 2)
    assert "away from you" in row(rows, "Back").value
    assert "wears nothing" in row(rows, "Set-over by length").note


def test_two_percent_on_points_warns_and_never_stops() -> None:
    """Every Morse taper needs about 2.5 %: sine of 1.4377 deg. The 2 % are common practice, no source."""
    found = row(rows_of(shop("set-over", tailstock_support="60-degree")), "Set-over by length")
    assert found.value == "2.5 %"
    assert "WARNING" in found.note
    assert "Balls are advised" in found.note
    assert "No reason to stop" in found.note


def test_the_machine_may_not_go_so_far() -> None:
    assert "TOO LITTLE" in row(rows_of(shop("set-over", set_over_most_mm=3.0)), "Your tailstock goes over").note
    assert row(rows_of(shop("set-over", set_over_most_mm=9.0)), "Your tailstock goes over").note == "enough"


def test_without_a_bar_the_set_over_is_not_made_up() -> None:
    rows = settings_for(sample_tool(), Choices(), (), shop("set-over"))
    assert row(rows, "Set the tailstock towards you").value == "not reckoned"
    assert not any("its supports" in one.label for one in rows)


def test_a_master_reads_level_only_where_it_is_as_long_as_the_work() -> None:
    """Plane geometry by complex numbers: the master's flank turned about the headstock's pivot."""
    at = cone(shop("set-over"))
    found = set_over_for(at)
    assert found is not None
    masters = [one for one in rows_of(shop("set-over")) if one.label.endswith("between its supports")]
    assert len(masters) == 3
    half = math.radians(1.437701)
    for one in masters:
        length = first_number(one.label)
        swing = math.asin(found.amount_mm / length)
        flank = complex(math.cos(swing - half), math.sin(swing - half))
        assert first_number(one.value) == pytest.approx(50.0 * flank.imag / flank.real, abs=0.0006)
        # Level along this master means its own half angle over its own length.
        level = length * math.sin(half)
        cut = 2 * math.tan(math.asin(level / found.band.likely_mm))
        error = (cut - 2 * math.tan(half)) * at.over_mm
        told = first_number(one.note.partition(" is ")[2])
        assert told == pytest.approx(abs(error), abs=0.0006)
        assert ("too much" if error > 0 else "too little") in one.note


def test_correction_of_the_set_over_by_hand() -> None:
    """0.01 over 60 with 148.2 between supports: 148.2 / 60 x 0.01 / 2 = 0.012 (sine and tangent differ by 0.1 %)."""
    at = shop("set-over")
    found = set_over_for(cone(at))
    assert found is not None
    told = row(rows_of(at), "For each 0.01 mm too little, tailstock further")
    assert first_number(told.value) == pytest.approx(found.band.likely_mm / 60 * 0.005, abs=0.0005)


def test_no_listed_ball_is_said() -> None:
    """A mouth hardly wider than its bore: no ball of the list bears between the two rims."""
    choices = Choices()
    choices.names["shank/mouth"] = "10.7 mm"
    rows = settings_for(sample_tool(), choices, (blank(),), shop("set-over", headstock_support="ball"))
    assert row(rows, "Ball at the tailstock").value == "none listed fits"
    assert any(one.label == "In worn or torn holes" for one in rows)


# --- attachment, bought shank --------------------------------------------------------------------------------------


def test_attachment_by_hand() -> None:
    """300 mm between marks: 150 x 0.025090 = 3.7635 each way. 0.1 mm of slack takes 0.1 / tan = 3.98 mm."""
    rows = rows_of(shop("attachment", attachment_mm=300.0))
    assert row(rows, "Swing the guide bar").value == "1° 26′ 16″"
    assert row(rows, "Offset at the bar's ends").value == "3.763 mm each way"
    assert row(rows, "Scale of tapers").value == "0.6023 in per ft"
    assert "4 mm of travel" in row(rows, "Take up the lost motion").note
    assert "enough" in row(rows, "Length it must cover").note
    assert "TOO SHORT" in row(rows_of(shop("attachment", attachment_mm=60.0)), "Length it must cover").note
    missing = rows_of(shop("attachment"))
    assert "none in the shop file" in row(missing, "Length it must cover").note
    assert not any(one.label == "Offset at the bar's ends" for one in missing)


def test_bought_shank_says_what_to_buy_and_what_is_left() -> None:
    rows = rows_of(shop("bought shank", headstock_taper=5))
    assert row(rows, "Buy").value == "Morse 3 arbor, soft blank end"
    # Barrel 44 + 1 to clean up; from the cone's large end relief 2, barrel 32, and 1.5 to face.
    assert "dia 45 mm x 35.5 mm" in row(rows, "Buy").note
    assert row(rows, "Shank length from the gauge plane").value == "75 mm"
    assert row(rows, "Hold it").value.startswith("sleeve 5 to 3")
    assert "taper" in row(rows, "Leave out of the plan").value
    left = row(rows, "Still to cut").value
    assert "pocket" in left
    assert "barrel" in left
    assert "taper" not in left.split(", ")
    assert not any(one.group == "Check cut and correction" for one in rows)
    # A hard shank is not brought in.
    assert not any(one.label.startswith("To bring it") for one in rows)
    # The run-out of the drawing: 0.01.
    assert row(rows, "Try it first").value == "0.010 mm or less"


# --- proof ---------------------------------------------------------------------------------------------------------


def test_two_diameters_and_their_tolerance() -> None:
    """60 / 19.922 = 3.012; ISO 1947 AT6 for 63 to 100 mm: 100 microradians (from memory), 0.006 over 60."""
    found = row(rows_of(shop()), "Two diameters 60 mm apart differ by")
    assert found.value == "3.012 mm"
    assert "3.012 to 3.018 mm" in found.note
    assert "blue decides" in found.note
    fine = row(rows_of(shop(micrometer_mm=0.001)), "Two diameters 60 mm apart differ by")
    assert "blue decides" not in fine.note


@pytest.mark.parametrize(("method", "less"), [
    ("set-over", "back, away from you"), ("top slide", "swing the slide less"), ("attachment", "swing the bar less"),
])
def test_blue_at_the_large_end_alone_means_too_steep(method: TaperMethod, less: str) -> None:
    """Sign rule: common practice, no source. 4 um bare over half of the cone: film / length in seconds of arc."""
    rows = rows_of(shop(method))
    found = row(rows, "Touches at the large end only")
    assert found.value == "too steep: less"
    assert less in found.note
    bare = cone(shop()).length_mm / 2
    assert f"{math.degrees(0.004 / bare) * 3600:.0f}″" in found.note
    assert row(rows, "Touches at the small end only").value == "too shallow: more"


def test_sine_bar_blocks() -> None:
    """100 x sin 2.8754058 = 5.0164; half angle 2.5090 as derived in a table of worked examples."""
    found = row(rows_of(shop()), "Sine bar 100 mm")
    assert found.value == "blocks 5.016 mm"
    assert "2.509 mm" in found.note
    inch = row(rows_of(shop(), "in"), "Sine bar 5.000 in")
    assert inch.value == "blocks 0.2508 in"


def test_stand_off_and_what_moves_it() -> None:
    rows = rows_of(shop())
    found = row(rows, "Quill face to body, back")
    assert found.value == "5 mm"
    assert "4.7 to 5.3 mm" in found.note
    assert row(rows, "To bring it 1 mm in").value == "0.050 mm off the diameter"


def test_a_socket_is_bored_with_the_slide_and_proved_with_balls() -> None:
    """A Morse 3 socket: the swing turns round, and neither set-over nor a bought shank is offered."""
    draft = PartDraft("sleeve", "Sleeve", "face")
    draft.length("length", "rear", "face", -1, Size(90.0))
    draft.cylinder("outside", "outside", "rear", "face", Size(45.0))
    draft.cone("socket", "inside", "rear", "face", exact(23.825, source="ISO 296"), "face", 1.437701, role="taper")
    tool = Tool("sleeve", "Sleeve", "quill", {"quill": sample_quill(), "sleeve": draft.done()},
                (Seat("sleeve", "face", "quill", "face"),))
    rows = settings_for(tool, Choices(), (), shop("set-over"))
    assert "towards you" in row(rows, "Swing the top slide").note
    assert [one.label for one in rows if one.group.startswith("The way out")] == []
    assert row(rows, "Two balls in the socket").note.startswith("this socket")
    assert not any(one.label in {"Two equal rolls", "Sine bar 100 mm"} for one in rows)


def test_two_tapers_are_told_apart() -> None:
    first = sample_body()
    second = replace(first, name="other", title="Other")
    tool = Tool("two", "Two", "quill", {"quill": sample_quill(), "body": first, "other": second},
                (Seat("body", "gauge", "quill", "face", "cone"), Seat("other", "gauge", "quill", "face", "cone")))
    groups = {one.group for one in settings_for(tool, Choices(), (), shop())}
    assert {"Body: Set: with the top slide", "Other: Set: with the top slide"} <= groups
