"""What stands in the shop besides its lathe, as the shop file tells it, and what the plan then says otherwise.

Shops are invented. A figure that must come out is reckoned by hand beside it, or its source is named.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest

from generator.checks.verdict import _ORDER
from generator.description import Relation, face_positions
from generator.errors import InputError
from generator.findings import Finding
from generator.job.shop import read_shop
from generator.job.workshop import workshop_from
from generator.making.figures import Figures
from generator.making.leadscrew import match_of
from generator.making.operations import Operation, operations_for
from generator.making.setups import earned
from generator.making.stock import stock_for
from generator.making.tail_centre import with_tail_centre
from generator.making.usual import usual_workshop
from generator.making.workshop import Workshop
from generator.plan.operation_fields import setting_fields
from generator.plan.tools import tools_page
from generator.reckoning import registry
from generator.reckoning.set_over import screw_turns, screw_words
from generator.tables import thread
from tests.helpers import CENTRE, Worked, centre, worked
from tests.sample import sample_tool
from tests.unit.plans import good_plan, judged, with_steps
from tests.unit.test_settings import row, rows_of, shop

SET_OVER = {"taper_method": "set-over", "set_over_most_mm": 15.0}
DEAD = {"socket": {"taper": "Morse 3"}, "point": {"work_diameter": 14}, "shank": {"end": "tang"}}

CASED = {"socket": {"taper": "Morse 3"}, "point": {"work_diameter": 14, "material": "16MnCr5"}}


def bench(text: str) -> Workshop:
    """The workshop that a shop file with these lines describes."""
    return workshop_from(read_shop(text).shop)


def usual(**fields: object) -> Workshop:
    """The usual shop with these figures given."""
    known = usual_workshop(3)
    return replace(known, defaults=known.defaults - set(fields), **fields)  # type: ignore[arg-type]


def planned(found: Worked, at: Workshop) -> tuple[Operation, ...]:
    """The operations of a tool in this shop."""
    setups = found.kind.order(found.choices, found.tool, at)
    stock = stock_for(found.tool, setups, found.choices, "mm")
    return operations_for(found.tool, setups, at, found.choices, stock, "mm")


def turned_by(words: str) -> float:
    """Turns of a screw read back from words, a degree being a 360th."""
    found = re.search(r"(?:(\d+) turns?)?(?: and )?(?:(\d+)°)?", words)
    assert found is not None
    return int(found[1] or 0) + int(found[2] or 0) / 360.0


def said(one: Operation) -> str:
    """All that an operation says of how it is done."""
    return "; ".join((one.step.text, one.cutter, one.speed_note, *one.how, one.stop, one.caution))


# --- the set-over screw ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("amount_mm", "lead_mm", "turns", "words"),
    [
        # 3.64 / 1.5 = 2.4267 turns, 0.4267 x 360 = 153.6 degrees.
        (3.64, 1.5, (2, 154), "2 turns and 154°"),
        (3.0, 1.5, (2, 0), "2 turns"),
        (0.5, 2.0, (0, 90), "90°"),
        # A rest that rounds to a whole turn is one.
        (1.4999, 1.5, (1, 0), "1 turn"),
        # Ten threads to the inch: 0.250 in are two turns and a half.
        (6.35, 2.54, (2, 180), "2 turns and 180°"),
    ],
)
def test_turns_of_the_set_over_screw(amount_mm, lead_mm, turns, words):
    """Lead of a screw is its travel in one turn (ISO 5408, from memory); arithmetic beside each case."""
    assert screw_turns(amount_mm, lead_mm) == turns
    assert screw_words(amount_mm, lead_mm) == words


def test_the_calculation_tells_the_turns_too():
    given = {"taper": "Morse 3", "faced": "300 mm", "headstock": "ball", "tailstock": "ball", "screw_lead": "2 mm"}
    results = registry.run("set-over", given).results
    turns, rest, over = (results[name]["value"] for name in ("screw_turns", "screw_rest", "set_over"))
    assert (turns + rest / 360.0) * 2.0 == pytest.approx(over, abs=0.5 * 2.0 / 360.0 + 1e-9)


def test_the_settings_say_the_screw_there_and_back():
    rows = rows_of(shop("set-over", set_over_lead_mm=2.0, set_over_screws="one", defaults=frozenset()))
    over = float(row(rows, "Set the tailstock towards you").value.split()[0])
    there, back = row(rows, "By the set-over screw"), row(rows, "Back by the set-over screw")
    assert there.value == back.value
    assert turned_by(there.value) * 2.0 == pytest.approx(over, abs=0.01)
    assert "2 mm a turn" in there.note
    assert "its play lies on the same side" in there.note
    assert "(default)" not in there.note
    assert "the indicator decides" in there.note


def test_opposed_screws_are_slackened_before_they_push_and_a_lead_that_nobody_gave_is_marked():
    rows = rows_of(shop("set-over"))
    there, back = row(rows, "By the set-over screw"), row(rows, "Back by the set-over screw")
    assert "slacken the one by more than that, push with the other" in there.note
    assert "slacken the one that pushed" in back.note
    assert there.note.count("(default)") == 2


@pytest.mark.parametrize(("kind", "data"), [(CENTRE, centre()), ("dead-centre", CASED)])
def test_the_operations_say_how_far_the_screw_is_turned(kind, data):
    """The case hardened dead centre is held in a hollow centre, whose set-over is that of the settings page.

    Turns x lead 2.5 mm is the set-over, within the hundredth to which that is told.
    """
    found = worked(kind, data)
    plan = planned(found, usual(**SET_OVER, set_over_lead_mm=2.5, set_over_screws="two"))
    taper = next(one for one in plan if one.step.work == "taper")
    back = next(one for one in plan if "bring the tailstock back" in one.step.text)
    over = float(taper.how[0].partition("tailstock ")[2].split(" mm")[0])
    assert 1.0 < over < 15.0
    there = taper.how[0].partition("towards you, ")[2]
    assert turned_by(there) * 2.5 == pytest.approx(over, abs=0.01)
    assert f"{over:.2f} mm back away from you, {there.partition(' of its')[0]} of its screw" in back.how[0]
    if kind == "dead-centre":
        setups = found.kind.order(found.choices, found.tool, usual(**SET_OVER))
        assert any("The stub is gone" in one.caution for one in setups)
        # Half the taper, 1 : 19.922 (ISO 296, Morse 3), over the piece without stub; pivots lie a little within.
        z_of = face_positions(found.tool.parts["centre"])
        length_mm = max(z_of.values()) - min(z_of.values())
        assert 0.93 * length_mm < over * 2 * 19.922 < 1.02 * length_mm


def test_turns_that_rest_on_a_usual_lead_are_signed_and_other_ways_say_nothing():
    found = worked(CENTRE, centre())
    taper = next(one for one in planned(found, usual(**SET_OVER)) if one.step.work == "taper")
    assert {"set_over_lead_mm", "set_over_screws"} <= set(taper.rests_on)
    slide = next(one for one in planned(found, usual(taper_method="top slide")) if one.step.work == "taper")
    assert "screw" not in said(slide)
    assert "set_over_lead_mm" not in slide.rests_on


def test_a_shop_file_tells_the_screw():
    at = bench('[machine]\nset_over_lead = "1/16 in"\nset_over_screws = "one"\n')
    assert (at.set_over_lead_mm, at.set_over_screws) == (pytest.approx(25.4 / 16), "one")
    assert not at.is_default("set_over_lead_mm")
    with pytest.raises(InputError, match=r"machine\.set_over_lead.*between 0\.3 and 20"):
        bench("[machine]\nset_over_lead = 50\n")


# --- the centre in the tailstock ---------------------------------------------------------------------------------


REVOLVING = {"tail_centre": "revolving", "tail_centre_run_out_mm": 0.015}


def between(plan: tuple[Operation, ...]) -> list[Operation]:
    """Cuts between centres that the tailstock carries."""
    return [one for one in plan if one.located == "centres" and one.step.work in {"turn", "rough", "taper"}]


def test_a_dead_centre_is_greased_and_holds_the_speed_down_a_revolving_one_does_not():
    """10 m/min rubbing on greased steel: common practice, no source (`reckoning.speed`)."""
    found = worked(CENTRE, centre())
    dead = between(planned(found, usual(tail_centre="dead")))
    turning = between(planned(found, usual(**REVOLVING)))
    assert [one.number for one in dead] == [one.number for one in turning]
    assert all("grease a dead centre" in one.caution for one in dead)
    assert all("grease" not in one.caution for one in turning)
    assert all("pushed up until it turns with the work" in one.caution for one in turning)
    # Where a revolving one would turn no faster nothing is said of it.
    held_down = [one for one in dead if "with a revolving centre" in one.speed_note]
    assert held_down
    assert not any("rubbing" in one.speed_note for one in turning)
    faster = {one.number: one.rpm for one in turning}
    for one in held_down:
        told = re.search(r"(\d+) rpm with a revolving centre", one.speed_note)
        assert told is not None
        assert faster[one.number] == float(told[1])
    assert all((faster[one.number] or 0) >= (one.rpm or 0) for one in dead)
    assert any((faster[one.number] or 0) > (one.rpm or 0) for one in dead)


def test_a_dead_centre_that_nobody_gave_is_signed_where_it_limits():
    plan = between(planned(worked(CENTRE, centre()), usual_workshop(3)))
    limited = [one for one in plan if "rubbing" in one.speed_note]
    assert limited
    assert all(("tail_centre" in one.rests_on) == ("rubbing" in one.speed_note) for one in plan)
    told = planned(worked(CENTRE, centre()), usual(tail_centre="dead"))
    assert not any("tail_centre" in one.rests_on for one in told)


def test_the_run_out_of_a_revolving_centre_goes_into_what_is_finished_on_it():
    """By hand: 0.01 mm between centres (`setups.WAYS`, common practice) and 0.015 of the centre are 0.025 mm."""
    found = worked(CENTRE, centre())
    setups = found.kind.order(found.choices, found.tool, usual(**REVOLVING))
    centred = [one for one in setups if one.located == "centres"]
    assert centred
    for one in centred:
        assert earned(one).high_mm == pytest.approx(0.025)
        assert "revolving centre in one of them adds its own run-out" in earned(one).how
        assert one.holding.endswith("revolving centre at the tailstock")
    plain = found.kind.order(found.choices, found.tool, usual(tail_centre="dead"))
    assert {earned(one).high_mm for one in plain if one.located == "centres"} == {0.01}


def test_a_run_out_that_the_revolving_centre_spoils_is_told_with_the_dead_centre_as_the_cure():
    """Collar and seat at two settings on the same holes: 0.01 twice and 0.1 twice, 0.22 mm where 0.05 is wanted."""
    tool = sample_tool()
    wanted = Relation("collar", "seat", "run-out", 0.05, "the same holes")
    tool = replace(tool, parts={**tool.parts, "spindle": replace(tool.parts["spindle"], relations=(wanted,))})
    at = usual(tail_centre="revolving", tail_centre_run_out_mm=0.1)
    plan = []
    for one in good_plan():
        if one.number != 10:
            plan.append(one)
            continue
        first = tuple(name for name in one.finishes if "collar" not in name)
        plan.append(replace(one, finishes=first, steps=one.steps[1:]))
        plan.append(replace(one, finishes=("spindle/collar", "spindle/collar_front"), steps=one.steps[:1]))
    plan = [replace(one, number=place) for place, one in enumerate(plan, start=1)]
    assert not [one for one in judged(plan, tool, usual(tail_centre="dead")) if one.code == "order-run-out"]
    setups = [with_tail_centre(one, at) for one in plan]
    found = [one for one in judged(setups, tool, at) if one.code == "order-run-out"]
    assert [(one.severity, one.address, one.value) for one in found] == [
        ("warn", "spindle/collar", pytest.approx(0.22))
    ]
    assert "finish it on a dead centre, greased" in found[0].advice


def test_what_is_finer_than_the_revolving_centre_runs_is_warned_of():
    """Half of the band, shop choice; the seat of the sample spindle is k6 at 17 mm, 0.011 mm wide (ISO 286-2)."""
    fine, coarse = usual(**REVOLVING), usual(tail_centre="revolving", tail_centre_run_out_mm=0.002)
    found = [one for one in judged(good_plan(), shop=fine) if one.code == "order-tail-centre"]
    assert {one.severity for one in found} == {"warn"}
    assert "set-up 10/spindle/seat" in {one.address for one in found}
    assert all("finish on a dead one" in one.advice for one in found)
    for at in (coarse, usual(tail_centre="dead", tail_centre_run_out_mm=0.1)):
        assert "order-tail-centre" not in {one.code for one in judged(good_plan(), shop=at)}


def test_a_ball_in_the_tailstock_set_over_stands_still_whatever_centre_there_is():
    found = worked(CENTRE, centre())
    plan = planned(found, usual(**SET_OVER, **REVOLVING, tailstock_support="ball"))
    taper = next(one for one in plan if one.step.work == "taper")
    assert "grease a dead centre" in taper.caution
    point = planned(found, usual(**SET_OVER, **REVOLVING, tailstock_support="60-degree"))
    assert "grease" not in next(one for one in point if one.step.work == "taper").caution


def test_grease_is_laid_ready_only_for_a_centre_that_stands_still():
    found = worked(CENTRE, centre())
    for at, wanted in ((usual(tail_centre="dead"), True), (usual(**REVOLVING), False)):
        setups = found.kind.order(found.choices, found.tool, at)
        page = tools_page(planned(found, at), setups, "mm")
        assert page is not None
        cells = {cell for block in page.blocks for line in block.rows for cell in line}  # type: ignore[union-attr]
        assert ("Grease for a centre that stands still" in cells) == wanted


def test_a_shop_file_tells_the_centre():
    at = bench('[machine]\ntail_centre = "revolving"\ntail_centre_runout = "0.0005 in"\n')
    assert (at.tail_centre, at.tail_centre_run_out_mm) == ("revolving", pytest.approx(0.0127))
    with pytest.raises(InputError, match=r"machine\.tail_centre"):
        bench('[machine]\ntail_centre = "live"\n')


# --- milling -----------------------------------------------------------------------------------------------------

HALF = {"socket": {"taper": "Morse 3"}, "point": {"work_diameter": 14, "form": "half"}, "shank": {"end": "tang"}}


def flats_of(found: Worked, at: Workshop) -> list[Operation]:
    """Operations that make flats, a tang or a half point."""
    cross = {f"{part.name}/{one.name}" for part in found.tool.made for one in part.cross if one.kind != "hole"}
    named = {one.number: {"/".join(name.split("/")[:2]) for name in (*one.step.cuts, one.step.surface)}
             for one in planned(found, at)}
    return [one for one in planned(found, at) if named[one.number] & cross and one.step.work in {"mill", "file"}]


@pytest.mark.parametrize(("kind", "data"), [(CENTRE, centre(spindle={"hold": "flats"})), ("dead-centre", HALF)])
def test_flats_are_milled_on_the_slide_or_filed_on_a_rest_as_the_shop_has_it(kind, data):
    found = worked(kind, data)
    milled, slide, filed = (flats_of(found, usual(milling=one)) for one in ("machine", "slide", "none"))
    assert milled
    assert len(milled) == len(slide) == len(filed)
    assert {one.step.work for one in milled} == {one.step.work for one in slide} == {"mill"}
    assert all("end mill" in one.cutter and not one.missing for one in (*milled, *slide))
    assert all("spindle by collet and drawbar" in said(one) and "vertical slide" in one.tools for one in slide)
    assert not any("vertical slide" in said(one) for one in milled)
    for one in filed:
        assert one.step.work == "file"
        assert "end mill" not in said(one)
        assert "saw beside the line, file" in one.step.text
        assert "filing rest: two hardened rollers" in said(one)
        assert one.rpm is None
        assert (one.minutes or 0.0) > next(other.minutes or 0.0 for other in milled if other.number == one.number)


def test_without_a_word_about_milling_the_end_mill_is_taken_signed_and_its_substitute_told():
    found = worked(CENTRE, centre(spindle={"hold": "flats"}))
    for one in flats_of(found, usual_workshop(3)):
        assert (one.step.work, one.cutter) == ("mill", "end mill in a collet")
        assert "milling" in one.rests_on
        assert any(text.startswith("milling machine or slide") for text in one.missing)


def test_what_is_filed_brings_the_same_sizes_to_their_limits():
    """The order of work stays whole: every surface finished, nothing twice, in either shop."""
    for kind, data in ((CENTRE, centre(spindle={"hold": "flats"})), ("dead-centre", HALF)):
        found = worked(kind, data)
        cuts = []
        for way in ("machine", "none"):
            setups = found.kind.order(found.choices, found.tool, usual(milling=way))
            assert not {"order-unfinished", "order-twice", "order-unknown"} & {
                one.code for one in judged(setups, found.tool, usual(milling=way))
            }
            cuts.append(sorted(name for one in setups for step in one.steps for name in step.cuts))
        assert cuts[0] == cuts[1]


@pytest.mark.parametrize(("band_mm", "severity"), [(0.2, "note"), (0.1, "note"), (0.03, "warn")])
def test_a_file_does_not_keep_a_fine_band(band_mm, severity):
    """0.1 mm with care: from memory, common practice, no source."""
    tool = sample_tool()
    body = tool.parts["body"]
    flat = next(one for one in body.cross if one.name == "spanner_flats")
    sizes = {"across": replace(flat.sizes["across"], upper_mm=0.0, lower_mm=-band_mm, general=False)}
    others = tuple(replace(one, sizes=sizes) if one is flat else one for one in body.cross)
    tool = replace(tool, parts={**tool.parts, "body": replace(body, cross=others)})
    plan = with_steps(5, lambda old: replace(old, work="file"))
    found = [one for one in judged(plan, tool, usual(milling="none")) if one.code == "order-filed"]
    assert [(one.severity, one.address) for one in found] == [(severity, "set-up 5/body/spanner_flats")]
    assert ("send it out to be milled, or borrow" in found[0].advice) == (severity == "warn")
    assert not [one for one in judged(plan, tool, usual(milling="machine")) if one.code == "order-filed"]


def test_a_shop_file_tells_what_mills():
    assert bench('[beside]\nmilling = "none"\n').milling == "none"
    assert bench("").is_default("milling")
    with pytest.raises(InputError, match=r"beside\.milling"):
        bench('[beside]\nmilling = "big"\n')


# --- furnace and wheel -------------------------------------------------------------------------------------------


def of_work(found: Worked, at: Workshop, *works: str) -> list[Operation]:
    """Operations of these kinds."""
    return [one for one in planned(found, at) if one.step.work in works]


def findings_of(found: Worked, at: Workshop, code: str) -> list[Finding]:
    """What the checks say under this code of the order of work in this shop."""
    setups = found.kind.order(found.choices, found.tool, at)
    return [one for one in judged(setups, found.tool, at) if one.code == code]


@pytest.mark.parametrize(
    ("fields", "reason"),
    [
        ({"furnace_c": None}, "there is no furnace"),
        # Carburising at 920 degrees: `route.heat`.
        ({"furnace_c": 880.0}, "the furnace reaches 880 °C, 920 °C are wanted"),
        # The centre is 116 mm long by its sheet; 20 mm of box and packing beyond each end make 156.
        ({"furnace_c": 1000.0, "furnace_mm": 150.0}, "the furnace takes 150 mm, the piece with its box is 156 mm long"),
    ],
)
def test_a_point_that_this_shop_cannot_case_harden_is_sent_out(fields, reason):
    found = worked("dead-centre", CASED)
    at = usual(**fields)
    told = findings_of(found, at, "order-furnace")
    assert [one.severity for one in told] == ["warn"]
    assert reason in told[0].title
    assert "send it out to a heat-treater: write steel (16MnCr5)" in told[0].advice
    fire = of_work(found, at, "case", "harden", "temper")
    assert {one.step.work for one in fire} == {"case", "harden", "temper"}
    for one in fire:
        assert one.cutter.startswith("order to a heat-treater")
        assert one.how == (f"SEND IT OUT: {reason}",)


@pytest.mark.parametrize("fields", [{"furnace_c": 920.0, "furnace_mm": 160.0}, {}])
def test_a_furnace_hot_and_long_enough_serves_and_one_that_nobody_gave_is_signed(fields):
    found = worked("dead-centre", CASED)
    at = usual(**fields)
    assert not findings_of(found, at, "order-furnace")
    fire = of_work(found, at, "case", "harden", "temper")
    assert [one.cutter for one in fire] == ["furnace, closed box", "furnace", "oven"]
    assert all(("furnace_c" in one.rests_on) == (not fields) for one in fire)
    assert all(bool(one.missing) == (not fields) for one in fire)


def test_a_slim_point_hardens_by_a_torch_without_a_furnace_a_thick_one_does_not():
    """25 mm is about what a hand torch heats through: from memory, common practice, no source."""
    at = usual(furnace_c=None)
    slim, thick = (
        worked("dead-centre", {**DEAD, "point": {"work_diameter": 14, "head_diameter": size}}) for size in (24, 40)
    )
    assert not findings_of(slim, at, "order-furnace")
    assert [one.cutter for one in of_work(slim, at, "harden")] == ["torch", "bath and tongs"]
    heat, quench = of_work(slim, usual_workshop(3), "harden")
    assert ("furnace_c" in heat.rests_on, "furnace_c" in quench.rests_on) == (True, False)
    assert "kitchen oven" in of_work(slim, at, "temper")[0].cutter
    told = findings_of(thick, at, "order-furnace")
    assert len(told) == 1
    assert "a torch does not heat" in told[0].title
    assert not findings_of(thick, usual(furnace_c=900.0), "order-furnace")
    # An oven for tempering is no furnace: O1 hardens at about 800 degrees (`route.heat`, its maker's page).
    assert "reaches 300 °C, 800 °C are wanted" in findings_of(thick, usual(furnace_c=300.0), "order-furnace")[0].title


def test_without_a_wheel_the_hard_point_has_its_cure():
    found = worked("dead-centre", DEAD)
    told = findings_of(found, usual(wheel="none"), "order-wheel")
    assert [one.severity for one in told] == ["warn"]
    assert all(words in told[0].advice for words in ("die grinder", "CBN", "send it out"))
    (ground,) = of_work(found, usual(wheel="none"), "grind")
    assert ground.cutter == "die grinder clamped on the top slide"
    for at in (usual(wheel="tool post"), usual_workshop(3)):
        assert not findings_of(found, at, "order-wheel")
        (ground,) = of_work(found, at, "grind")
        assert ground.cutter == "wheel on the tool post"
        assert ("wheel" in ground.rests_on) == at.is_default("wheel") == bool(ground.missing)


def test_a_shop_file_tells_furnace_and_wheel():
    at = bench('units = "in"\n[beside]\nfurnace = 1100\nfurnace_length = 8\ngrinding = "none"\n')
    assert (at.furnace_c, at.furnace_mm, at.wheel) == (1100.0, pytest.approx(203.2), "none")
    assert bench('[beside]\nfurnace = "none"\n').furnace_c is None
    with pytest.raises(InputError, match=r"beside\.furnace.*between 100 and 1400"):
        bench("[beside]\nfurnace = 2012\n")
    assert {"order-furnace", "order-wheel", "order-filed", "order-tail-centre"} <= set(_ORDER)


# --- leadscrew ---------------------------------------------------------------------------------------------------

EIGHT = {"leadscrew": "inch", "leadscrew_pitch_mm": 25.4 / 8}
THREE = {"leadscrew": "metric", "leadscrew_pitch_mm": 3.0}


@pytest.mark.parametrize(
    ("name", "threads", "wheels"),
    [
        # Workshop handbooks, from memory: 5 p n / 127 for a pitch of p mm on n threads to the inch.
        ("M12x1.5", 8, "60 : 127; without one 63 : 80 x 3 : 5"),
        ("M8", 8, "50 : 127; without one 63 : 80 x 1 : 2"),
        ("M24", 4, "60 : 127; without one 63 : 80 x 3 : 5"),
        ("M20", 8, "100 : 127; without one 63 : 80, pitch"),
    ],
)
def test_a_metric_thread_on_an_inch_leadscrew_wants_127_teeth(name, threads, wheels):
    match = match_of(thread(name), usual(leadscrew="inch", leadscrew_pitch_mm=25.4 / threads))
    assert match.closed
    assert f"127-tooth wheel, spindle to leadscrew {wheels}" in match.lines[0]
    assert f"leadscrew {threads} to the inch" in match.lines[0]
    assert "half-nuts stay in from first cut to last" in match.lines[1]
    first, *more = re.findall(r"(\d+) : (\d+)", match.lines[0])
    exact = Fraction(int(first[0]), int(first[1]))
    # The pitch itself, by hand: wheels x 25.4 / n.
    assert float(exact) * 25.4 / threads == pytest.approx(thread(name).pitch_mm, rel=1e-12)
    near = Fraction(1)
    for over, under in more:
        near *= Fraction(int(over), int(under))
    assert near / exact == Fraction(8001, 8000)


def test_an_inch_thread_on_a_metric_leadscrew_wants_it_too():
    """By hand: 25.4 / 20 over 3 mm is 127 : 300."""
    match = match_of(thread("1/4-20 UNC"), usual(**THREE))
    assert match.closed
    assert "spindle to leadscrew 127 : 300; without one 80 : 63 x 1 : 3, pitch then" in match.lines[0]
    assert match.lines[0].endswith("1 part in 8000 short")


@pytest.mark.parametrize(
    ("name", "screw", "words"),
    [
        ("M12x1.5", THREE, "may close anywhere"),
        # Dial wheels of 14, 15 and 16 teeth stand beside a leadscrew of 3 mm: common practice, from memory.
        ("M8", THREE, "every 15\u00a0mm of carriage, by a thread dial whose wheel has a multiple of 5 teeth"),
        ("M12", THREE, "every 21\u00a0mm of carriage, by a thread dial whose wheel has a multiple of 7 teeth"),
        # Odd numbers of threads to the inch on the numbered lines, a whole inch apart: common practice, no source.
        ("1/2-13 UNC", EIGHT, "every 1 in of carriage, by a thread dial whose wheel has a multiple of 8 teeth"),
        ("5/16-24 UNF", EIGHT, "may close anywhere"),
    ],
)
def test_half_nuts_close_where_both_pitches_come_round(name, screw, words):
    match = match_of(thread(name), usual(**screw))
    assert not match.closed
    assert len(match.lines) == 1
    assert words in match.lines[0]


def test_screw_cutting_on_a_foreign_leadscrew_keeps_the_half_nuts_in():
    found = worked(CENTRE, centre(retention={"style": "nut"}))
    own, foreign = (
        [one for one in planned(found, usual(**screw)) if one.step.work == "thread"] for screw in (THREE, EIGHT)
    )
    assert own
    assert [one.number for one in own] == [one.number for one in foreign]
    for one, other in zip(own, foreign, strict=True):
        assert "127-tooth" not in said(one)
        assert "127-tooth wheel" in said(other)
        assert ("127-tooth wheel" in other.tools, "127-tooth wheel" in one.tools) == (True, False)
        # All threads here run into a short relief beside a shoulder: the spindle is turned by hand, the nuts stay in.
        for thread_cut in (one, other):
            assert thread_cut.rpm is None
            assert "Half-nuts stay in" in thread_cut.caution
            assert "half-nut lever" not in thread_cut.caution


def test_a_die_asks_nothing_of_the_leadscrew():
    found = worked(CENTRE, centre(retention={"style": "nut"}))
    names = {zone.text.split("-")[0] for part in found.tool.made for zone in part.zones if zone.form == "thread"}
    at = usual(**EIGHT, cutters=(), dies=tuple(sorted(names)))
    by_die = [one for one in planned(found, at) if one.step.work == "thread" and one.cutter.startswith("die ")]
    for one in by_die:
        assert "127-tooth" not in said(one)
        assert "127-tooth wheel" not in one.tools
        assert "Half-nuts" not in one.caution
    assert by_die


def test_a_spindle_turned_by_a_handle_hears_of_the_wheels_only():
    found = worked(CENTRE, centre(cover={"style": "screwed"}))
    for at, wanted in ((usual(**EIGHT), 1), (usual(leadscrew="metric", leadscrew_pitch_mm=4.0), 0)):
        inside = [one for one in planned(found, at) if one.step.work == "thread" and one.rpm is None]
        assert inside
        for one in inside:
            assert sum("127-tooth" in line for line in one.how) == wanted
            assert not any("thread dial" in line for line in one.how)


def test_the_wheels_for_a_foreign_leadscrew_are_told_as_how_and_not_as_passes():
    found = worked(CENTRE, centre(retention={"style": "nut"}))
    foreign = usual(**EIGHT)
    for one in (one for one in planned(found, foreign) if one.step.work == "thread"):
        fields = [field for field in setting_fields(one, foreign, Figures("mm")) if "40 : 127" in field.text]
        assert [field.label for field in fields] == ["how"]


def test_a_shop_file_tells_the_leadscrew_and_a_pitch_must_be_of_its_system():
    at = bench('[machine]\nleadscrew = "inch"\nleadscrew_pitch = "0.125 in"\n')
    assert (at.leadscrew, at.leadscrew_pitch_mm) == ("inch", pytest.approx(3.175))
    half = bench('[machine]\nleadscrew = "inch"\n')
    assert half.leadscrew_pitch_mm == pytest.approx(3.175)
    assert half.is_default("leadscrew_pitch_mm")
    with pytest.raises(InputError, match="leadscrew is missing"):
        bench("[machine]\nleadscrew_pitch = 3\n")
    with pytest.raises(InputError, match=r"8\.467 threads to the inch"):
        bench('[machine]\nleadscrew = "inch"\nleadscrew_pitch = 3\n')
    with pytest.raises(InputError, match=r"a pitch in whole 0\.05 mm"):
        bench('[machine]\nleadscrew = "metric"\nleadscrew_pitch = "0.125 in"\n')


def test_a_bar_that_stands_far_out_of_its_chuck_is_not_whirled_before_something_carries_it():
    # Twice its diameter out of the jaws is as far as a bar is turned free (common practice, no source).
    found = worked(CENTRE, centre())
    shop = usual()
    setup = next(one for one in found.kind.order(found.choices, found.tool, shop) if one.support == "steady")
    mine = [one for one in planned(found, shop) if one.number.startswith(f"{setup.number}.")]
    carried = next(at for at, one in enumerate(mine) if "set the steady" in one.step.text)
    assert setup.out_mm > 2 * 45
    assert all(one.rpm <= 500 for one in mine[:carried] if one.rpm)
    assert any("standing out without support" in one.speed_note for one in mine[:carried])
    assert not any("standing out without support" in one.speed_note for one in mine[carried:])
