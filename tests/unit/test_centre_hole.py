"""One centre hole for one end: on the sheet, in the order of work, under the tailstock, and in the set-over."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.description import diameter_at, face_positions
from generator.drawing.centres import centres_of
from generator.fittings.centre_hole import end_hole
from generator.making.settings import settings_for
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from tests.helpers import CENTRE, centre, stacks, worked


@pytest.mark.parametrize("end", ["tang", "plain"])
@pytest.mark.parametrize("number", [0, 1, 2, 3, 4, 5, 6])
def test_sheet_order_and_settings_speak_of_the_same_hole(number, end):
    """ISO 6411 codes; a mouth within 0.7 of what a tang leaves of the face, shop choice."""
    job = worked(CENTRE, centre(stacks(number)["equal"], socket={"taper": f"Morse {number}"}, shank={"end": end},
                                **({"loads": {"depth": 0.15, "feed": 0.05}} if number == 0 else {})))  # fmt: skip
    body, shop = job.tool.parts["body"], replace(usual_workshop(number), taper_method="set-over")
    holes = [one for one in centres_of(body) if one.meaning == "remains"]
    found = end_hole(body, "end")
    assert found is not None
    code = f"A {found.pilot_mm:g}/{found.countersink_mm:g}"
    wide = min(diameter_at(body, one, face_positions(body)[one.near], face_positions(body)) for one in body.surfaces
               if one.side == "outside" and one.role != "chamfer")  # fmt: skip
    across = [one.sizes["across"].nominal_mm for one in body.cross if one.near == "end" or one.far == "end"]
    assert found.countersink_mm <= 0.7 * min([wide, *across]) + 1e-9
    setups = job.kind.order(job.choices, job.tool, shop)
    from_end = [one for one in setups if one.touches_off == "body/end"]
    told = [step.size for one in from_end for step in one.steps if step.text == "centre it"]
    assert told == [f"form A, pilot {found.pilot_mm:g} mm, mouth {found.countersink_mm:g} mm"]
    if not holes:
        # A bore opens there: its mouth takes the centre.
        assert any(one.side == "inside" and "end" in (one.near, one.far) for one in body.surfaces)
        return
    assert [one.code for one in holes] == [f"ISO 6411 - {code}"]
    stock = stock_for(job.tool, setups, job.choices)
    rows = settings_for(job.tool, job.choices, stock, shop)
    (between,) = [one for one in rows if one.label == "Length between the supports"]
    assert code in between.note
