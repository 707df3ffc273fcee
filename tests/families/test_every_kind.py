"""Every kind of tool, on its example and on variants: sound findings, a whole order of work, arrays of designs."""

from __future__ import annotations

import copy
import json
import re
from dataclasses import replace

import numpy as np
import pytest

from generator.checks.advice import with_changes
from generator.description import Choices, Size, evaluate_gap, nominal_positions, outline, positions, volume_mm3
from generator.drawing.requests import requests_of
from generator.job.reader import find_job, read_job, shipped_jobs
from generator.kinds import kinds, load_kind
from generator.making.order import promises, twice_finished, unfinished, unknown_addresses
from generator.making.usual import usual_workshop
from tests.helpers import CENTRE, Worked, centre, of_params, worked

DEAD = "dead-centre"


def dead(**tables):
    data = {"socket": {"taper": "Morse 3"}, "point": {"work_diameter": 14}}
    return {**data, **{name: {**data.get(name, {}), **values} for name, values in tables.items()}}


VARIANTS = {
    "two unequal": (CENTRE, centre()),
    "two equal": (CENTRE, centre(("6003-2RS", "6003-2RS"))),
    "one named": (CENTRE, centre(("6003-2RS",))),
    "three in three pockets": (CENTRE, centre(("6204-2RS", "6003-2RS", "6001-2RS"))),
    "three in two pockets": (CENTRE, centre(("6003-2RS", "6003-2RS", "6001-2RS"))),
    "large ahead of small": (CENTRE, centre(("6204-2RS", "6000-2RS"))),
    "outright": (CENTRE, centre(({"bore": 14, "outside": 33, "width": 8.5}, "6001-2RS"))),
    "measured": (CENTRE, centre(({"ring": "6003-2RS", "measured_width": 9.97, "measured_bore": 16.995},))),
    "spacer": (CENTRE, centre(("6003-2RS", {"spacer": 12}, "6001-2RS"))),
    "tang": (CENTRE, centre(shank={"end": "tang"})),
    "drawbar": (CENTRE, centre(shank={"end": "drawbar"})),
    "nut": (CENTRE, centre(retention={"style": "nut"})),
    "circlip": (CENTRE, centre(retention={"style": "circlip"})),
    "stuck": (CENTRE, centre(cover={"style": "stuck"})),
    "snap ring": (CENTRE, centre(cover={"style": "snap ring"})),
    "screwed": (CENTRE, centre(cover={"style": "screwed"})),
    "slim": (CENTRE, centre(spindle={"slim_diameter": 10})),
    "hole": (CENTRE, centre(spindle={"hold": "hole"})),
    "solid shank": (CENTRE, centre(("608", "608"), socket={"taper": "Morse 0"}, shank={"end": "tang"})),
    "no tool to pass": (
        CENTRE,
        {k: v for k, v in centre(spindle={"nose_diameter": 18, "overhang": 12}).items() if k != "passes"},
    ),
    "full point": (DEAD, dead()),
    "half point": (DEAD, dead(point={"form": "half"})),
    "half point, tang": (DEAD, dead(point={"form": "half"}, shank={"end": "tang"})),
    "full point, drawbar": (DEAD, dead(shank={"end": "drawbar"})),
}


@pytest.fixture(scope="module", params=list(VARIANTS))
def variant(request) -> Worked:
    kind, data = VARIANTS[request.param]
    return worked(kind, data)


@pytest.mark.parametrize("name", kinds())
def test_the_example_of_a_kind_is_a_sound_job(name):
    assert worked(name, load_kind(name).EXAMPLE).stops == []


def test_every_kind_has_variants_here():
    assert {kind for kind, _ in VARIANTS.values()} >= {CENTRE, DEAD}


@pytest.mark.parametrize("name", shipped_jobs())
def test_a_shipped_job_has_no_stop_and_no_warning(name):
    job = read_job(find_job(name))
    found = of_params(job.kind_name, job.params)
    assert [f.key for f in found.findings if f.severity != "note"] == []


def test_a_variant_has_no_stop_and_no_warning(variant):
    assert [f.key for f in variant.findings if f.severity != "note"] == []


def test_every_part_can_be_formed_and_holds_metal(variant):
    for part in variant.tool.parts.values():
        outline(part)
        assert volume_mm3(part) > 0.0, part.name


def test_findings_say_by_whose_rule_and_what_to_do(variant):
    for found in variant.findings:
        assert found.title, found.key
        assert found.source, found.key
        assert found.advice, found.key
        assert json.loads(json.dumps(found.as_dict()))["code"] == found.code


def test_no_two_findings_say_the_same(variant):
    keys = [found.key for found in variant.findings]
    assert len(keys) == len(set(keys))


def test_every_gap_is_a_finding(variant):
    assert {gap.name for gap in variant.tool.gaps} == {f.address for f in variant.findings if f.code == "gap"}


def test_cures_are_parameters_that_the_job_has(variant):
    known = variant.choices.parameters
    for cure in {cure for found in variant.findings for cure in found.cures}:
        value = known[cure].value if cure in known else 10.0
        with_changes(variant.params, {cure: value})


# --- order of work ---


def test_the_order_of_work_finishes_everything_once(variant):
    order = variant.kind.order(variant.choices, variant.tool, usual_workshop())
    assert unfinished(variant.tool, order) == ()
    assert twice_finished(order) == ()
    assert unknown_addresses(variant.tool, order) == ()


def test_every_run_out_wanted_is_earned(variant):
    kept = promises(variant.tool, variant.kind.order(variant.choices, variant.tool, usual_workshop()))
    assert kept
    assert [p.address for p in kept if not p.is_kept] == []


def test_set_ups_are_numbered_in_order_and_say_how_to_hold(variant):
    order = variant.kind.order(variant.choices, variant.tool, usual_workshop())
    assert [setup.number for setup in order] == list(range(1, len(order) + 1))
    assert all(setup.holding and setup.steps and setup.title for setup in order)


def test_the_order_makes_every_part_that_is_made(variant):
    order = variant.kind.order(variant.choices, variant.tool, usual_workshop())
    made = {name for setup in order for name in setup.parts}
    assert made == {part.name for part in variant.tool.made}


def test_every_size_on_a_sheet_is_cut_in_exactly_one_operation(variant):
    """A size on the drawing that no operation names is one that nobody cuts: common practice, no source."""
    order = variant.kind.order(variant.choices, variant.tool, usual_workshop())
    cuts = [address for setup in order for step in setup.steps for address in step.cuts]
    assert [address for address in cuts if cuts.count(address) > 1] == []
    wanted = set()
    for part in variant.tool.made:
        found = requests_of(part)
        wanted |= {one.address for one in found.lengths if not one.is_auxiliary}
        wanted |= {one.address for one in found.diameters}
        wanted |= {one.address for one in found.callouts if one.kind in {"size", "angle"}}
    assert wanted - set(cuts) == set()


def test_every_figure_of_an_operation_has_its_unit(variant):
    bare = re.compile(r"(?<![\w.×])\d+\.\d+(?![\w.])(?!( to \d+(\.\d+)?)? (mm|deg|°C|N m|h)\b)")
    for setup in variant.kind.order(variant.choices, variant.tool, usual_workshop()):
        for step in setup.steps:
            for text in (setup.title, setup.caution, step.text, step.size):
                assert not bare.search(text), text


def test_a_hard_point_is_hardened_before_it_is_finished(variant):
    order = variant.kind.order(variant.choices, variant.tool, usual_workshop())
    titles = [setup.title for setup in order]
    hard = next(n for n, title in enumerate(titles) if "hardened and tempered" in title)
    finished = next(n for n, setup in enumerate(order) if any(one.endswith("/point") for one in setup.finishes))
    seats = [n for n, setup in enumerate(order) if any(one.startswith("spindle/seat_") and not one.endswith("_end")
                                                       for one in setup.finishes)]
    assert hard < finished
    assert all(hard < n for n in seats)


# --- arrays of designs ---


def _second(value: Size, index: int) -> Size:
    """Another design: each size a little larger, and differently so."""
    by = 1.0 + 0.0005 * (index % 7)
    measured = None if value.measured_mm is None else value.measured_mm * by
    return replace(
        value,
        nominal_mm=value.nominal_mm * by,
        upper_mm=value.upper_mm * 1.1,
        lower_mm=value.lower_mm * 0.9,
        measured_mm=measured,
    )


def _together(one: Size, other: Size) -> Size:
    measured = None if one.measured_mm is None else np.array([one.measured_mm, other.measured_mm])
    return replace(
        one,
        nominal_mm=np.array([one.nominal_mm, other.nominal_mm]),
        upper_mm=np.array([one.upper_mm, other.upper_mm]),
        lower_mm=np.array([one.lower_mm, other.lower_mm]),
        measured_mm=measured,
    )


def _with(choices: Choices, sizes: dict[str, Size]) -> Choices:
    changed = copy.copy(choices)
    changed.sizes = sizes
    return changed


FIGURES = ("nominal_mm", "low_mm", "high_mm", "likely_low_mm", "likely_high_mm", "fit_low_mm", "fit_high_mm")


def test_two_designs_pass_through_together_as_they_do_alone(variant):
    first = variant.choices.sizes
    second = {name: _second(value, index) for index, (name, value) in enumerate(first.items())}
    tools = [variant.kind.build(_with(variant.choices, sizes)) for sizes in (first, second)]
    both = variant.kind.build(_with(variant.choices, {name: _together(first[name], second[name]) for name in first}))
    at, alone = nominal_positions(both), [nominal_positions(tool) for tool in tools]
    moved = 0
    for address, value in at.items():
        pair = np.broadcast_to(value, (2,))
        assert pair == pytest.approx([alone[0][address], alone[1][address]], abs=1e-9), address
        moved += pair[0] != pair[1]
    assert moved > len(at) / 2
    forms, single = positions(both), [positions(tool) for tool in tools]
    for gap, *gaps in zip(both.gaps, *(tool.gaps for tool in tools), strict=True):
        found = evaluate_gap(both, gap, forms)
        expected = [evaluate_gap(t, g, f) for t, g, f in zip(tools, gaps, single, strict=True)]
        for figure in FIGURES:
            one = getattr(found, figure)
            if one is None:
                assert getattr(expected[0], figure) is None
                continue
            pair = np.broadcast_to(one, (2,))
            assert pair == pytest.approx([getattr(e, figure) for e in expected], abs=1e-9), (gap.name, figure)
