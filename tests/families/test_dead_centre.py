"""The dead centre, full and half: sound by default, wrong where it is spoilt."""

import math

import pytest

from generator.checks import advise
from generator.description import face_positions, outline
from generator.errors import InputError
from generator.making.usual import usual_workshop
from tests.helpers import worked

DEAD = "dead-centre"


def dead(taper="Morse 3", end="plain", **point):
    return worked(DEAD, {"socket": {"taper": taper}, "shank": {"end": end}, "point": {"work_diameter": 14, **point}})


@pytest.mark.parametrize("work", [4, 8, 14, 30, 60])
@pytest.mark.parametrize("form", ["full", "half"])
@pytest.mark.parametrize("end", ["plain", "tang", "drawbar"])
@pytest.mark.parametrize("number", range(7))
def test_a_taper_and_the_work_make_a_sound_job(number, end, form, work):
    if (number, end) == (0, "drawbar"):
        with pytest.raises(InputError, match="Morse 0 has no drawbar form"):
            dead("Morse 0", end)
        return
    assert dead(f"Morse {number}", end, form=form, work_diameter=work).stops == []


@pytest.mark.parametrize("form", ["full", "half"])
def test_the_point_is_a_cone_of_the_angle_asked_for(form):
    part = dead(form=form, angle=75).tool.parts["centre"]
    edge = next(edge for edge in outline(part).outer if edge.name == "point")
    assert math.degrees(math.atan2(edge.r0 - edge.r1, edge.z1 - edge.z0)) == pytest.approx(37.5)


def test_a_half_point_keeps_more_than_half_of_the_cone():
    job = dead(form="half")
    found = job.one("half", "centre/flat")
    assert found.severity == "note"
    assert found.value > 0.0
    (flat,) = [cross for cross in job.tool.parts["centre"].cross if cross.kind == "half"]
    z_of = face_positions(job.tool.parts["centre"])
    # The flat runs back over the cone but for the radius it ends in, to within the rounding, so that the tool passes.
    assert z_of["point_end"] + 1.0 <= z_of[flat.near] <= z_of["point_end"] + 1.5
    assert flat.sizes["height"].low > 0.0


@pytest.mark.parametrize(
    ("point", "key"),
    [
        ({"centre_hole": 23.5, "work_diameter": 30}, ("point", "centre/point")),
        ({"form": "half", "flat_height": 0.05}, ("half", "centre/flat")),
        ({"form": "half", "flat_height": 4.3}, ("half", "centre/flat")),
        ({"form": "half", "flat_height": 14}, ("half", "centre/flat")),
        ({"form": "half", "flat_length": 4.0}, ("half_reach", "centre/flat")),
    ],
)
def test_a_spoilt_point_is_a_stop(point, key):
    assert key in dead(**point).stops


def test_a_slim_half_point_takes_a_centre_hole_that_a_tool_gets_past():
    # Morse 1: a head of 12 mm. Work of 54 mm usually has a hole of 10.6, which would swallow the whole flat.
    job = dead("Morse 1", form="half", work_diameter=54)
    found = job.one("half_reach", "centre/flat")
    assert found.severity == "note"
    assert found.value >= 1.0


@pytest.mark.parametrize("angle", [0.5, 20, 130, 180])
def test_an_angle_that_no_centre_has_is_a_fault(angle):
    with pytest.raises(InputError, match=r"point\.angle: point angle must lie between 30 and 120 deg"):
        dead(angle=angle)


@pytest.mark.parametrize("point", [{"tip": 30}, {"head_diameter": 0.4}, {"centre_hole": 40}])
def test_a_point_that_cannot_be_is_a_fault_or_a_stop(point):
    try:
        stops = dead(**point).stops
    except InputError as problem:
        stops = list(problem.faults)
    assert stops


@pytest.mark.parametrize(
    ("tables", "key"),
    [
        ({"shank": {"stand_off": 0.5}}, ("gap", "stand_off")),
        ({"socket": {"taper": "Morse 3", "ejector_depth": 95}}, ("gap", "ejection")),
    ],
)
def test_a_spoilt_shank_is_a_stop(tables, key):
    job = worked(DEAD, {"socket": {"taper": "Morse 3"}, "point": {"work_diameter": 14}, **tables})
    assert key in job.stops


def test_a_flat_far_too_high_is_told_once_and_with_one_cure():
    job = dead(form="half", flat_height=40)
    (found,) = [f for f in advise(job.kind, job.params, job.findings) if f.severity == "stop"]
    assert found.code == "half"
    assert "more than" not in found.limit
    assert "lets no tool past" in found.advice
    assert [change.parameter for change in found.changes] == ["point.flat_height"]


@pytest.mark.parametrize(
    ("material", "words"), [("O1", "788 to 816"), ("silver steel 115CrV3", "780 to 820"), ("S355", "stays soft")]
)
def test_the_heat_that_hardens_is_that_of_the_steel(material, words):
    """O1: startoolsupply.com, Starrett's page, 788 to 816 °C, oil; silver steel: data sheets, from memory."""
    job = dead(material=material)
    found = job.one("hardness")
    assert words in found.title + found.advice
    titles = [setup.title for setup in job.kind.order(job.choices, job.tool, usual_workshop())]
    assert any("hardened and tempered" in title for title in titles) == (material != "S355")
    assert "Dead centre: stub sawn off" in titles


def test_the_flat_of_a_half_point_runs_out_in_a_radius():
    """A sharp root in hard steel breaks: common practice, no source."""
    assert any("runs out at its end in R 1 or more" in note for note in dead(form="half").tool.parts["centre"].notes)
    assert not any("runs out" in note for note in dead(form="full").tool.parts["centre"].notes)
