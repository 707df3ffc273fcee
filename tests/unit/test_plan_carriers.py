"""A carrier needs length to grip: about 8 mm (common practice, no source)."""

from __future__ import annotations

from dataclasses import replace

from generator.description import face_positions
from generator.making.order import compare
from generator.making.usual import usual_workshop
from tests.helpers import CENTRE, centre, worked


def test_a_carrier_on_a_narrow_surface_is_a_warning_and_on_a_long_one_is_not() -> None:
    job = worked(CENTRE, centre(("6002-2RS", "6001-2RS")))
    part = next(one for one in job.tool.made if one.name == "spindle")
    z_of = face_positions(part)
    outside = [one for one in part.surfaces if one.side == "outside" and not one.at]
    first = job.kind.order(job.choices, job.tool, usual_workshop(3))
    between = next(one for one in first if one.located == "centres" and one.parts == ("spindle",))
    judged = {}
    for one in outside:
        held = replace(between, grips=f"spindle/{one.name}", holding="between centres, carrier on it over copper")
        found = compare(job.tool, [held if old is between else old for old in first])
        narrow = [each for each in found if "too narrow for a carrier" in each.title]
        judged[abs(z_of[one.far] - z_of[one.near])] = bool(narrow)
    assert {True, False} == set(judged.values())
    assert all(told == (long_mm < 8.0) for long_mm, told in judged.items())
