"""What stands in the shop besides its lathe, as the shop file tells it, and what the plan then says otherwise.

Shops are invented. A figure that must come out is reckoned by hand beside it, or its source is named.
"""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from generator.errors import InputError
from generator.job.shop import read_shop
from generator.job.workshop import workshop_from
from generator.making.operations import Operation, operations_for
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from generator.making.workshop import Workshop
from generator.reckoning import registry
from generator.reckoning.set_over import screw_turns, screw_words
from tests.helpers import CENTRE, Worked, centre, worked
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
    """The case hardened dead centre is held in a hollow centre, whose set-over is the one of its caution.

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
        assert any(f"Set the tailstock over by {over:.2f} mm" in one.caution for one in setups)


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
