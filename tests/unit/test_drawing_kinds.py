"""Sheets of every part of invented jobs of both kinds: nothing touches, nothing is missing, full size on A4 if it fits.

What is demanded: ISO 129-1 (each size once, nothing touches a figure), ISO 128-3 (details), ISO 5456-2 (sides of the
end view), ISO 6411, ISO 13715, as told in books on technical drawing. Jobs are invented.
"""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from generator.description import Part, PartDraft, Size, Zone
from generator.drawing.part_sheet import CentreHole, PartSheet, part_sheet
from generator.drawing.sheet import TitleBlock
from generator.errors import GeneratorError
from generator.job.design import work_out
from generator.job.reader import read_job
from tests.sheet_faults import find_faults, sizes_on

BLOCK = TitleBlock(
    "Own shop", "T-300-01", "Part of an invented job", "2025-01-31", "1/3", "A. Turner", "B. Fitter",
    "Part drawing", "42CrMo4", "round 45 x 120", "0.42 kg", "1:1", "ISO 2768-1 m", "Ra 3.2 unless shown",
    "ISO 13715: outside -0.3, inside +0.3",
)  # fmt: skip
RINGS = ("608-2RS", "6000-2RS", "6001-2RS", "6002-2RS", "6003-2RS", "6004-2RS", "6005-2RS", "6204-2RS", "6206-2RS")


def job_text(seed: int) -> str:
    """A job of either kind, most of it left to the rules."""
    rng = random.Random(seed)
    end = f'[shank]\nend = "{rng.choice(("plain", "plain", "tang", "drawbar"))}"\n'
    taper = f'[socket]\ntaper = "Morse {rng.randint(1, 6)}"\n'
    if rng.random() < 0.3:
        form, work = rng.choice(("full", "half")), rng.randint(8, 40)
        point = f'[point]\nform = "{form}"\nwork_diameter = {work}\n'
        return f'kind = "dead-centre"\nname = "try-{seed}"\nunits = "mm"\n{taper}{point}{end}'
    first = rng.randrange(2, len(RINGS))
    second = rng.randrange(max(0, first - 2), first + 1)
    stack = "".join(f'[[stack]]\nring = "{RINGS[i]}"\n' for i in (first, second))
    work = rng.randint(12, 60)
    passes = f"[passes]\nholder_width = {rng.choice((12, 16, 20))}\ntip_ahead = 6\nwork_diameter = {work}\n"
    style = f'[retention]\nstyle = "{rng.choice(("screw", "nut", "circlip"))}"\n'
    cover = f'[cover]\nstyle = "{rng.choice(("pressed", "screwed", "snap ring"))}"\n'
    hold = f'[spindle]\nhold = "{rng.choice(("flats", "hole", "none"))}"\n'
    body = f'kind = "revolving-centre"\nname = "try-{seed}"\nunits = "mm"\n{taper}{passes}{stack}{end}'
    return body + "".join(words for words in (style, cover, hold) if rng.random() < 0.5)


@cache
def parts_of(seed: int) -> tuple[Part, ...]:
    """The made parts of a job, none where the kind refuses it in words."""
    try:
        return tuple(work_out(read_job(job_text(seed), name=f"try-{seed}")).tool.made)
    except GeneratorError:
        return ()


def sheet_of(part: Part, **more: Any) -> PartSheet:
    return part_sheet(part, BLOCK, **more)


SEEDS = [seed for seed in range(60) if parts_of(seed)][:14]


@pytest.mark.parametrize("seed", SEEDS)
def test_no_sheet_of_a_job_has_a_fault(seed: int) -> None:
    for part in parts_of(seed):
        sheet = sheet_of(part)
        assert [str(fault) for fault in find_faults(sheet.document, sheet.layout_name, part)] == []
        assert not sheet.document.audit().errors


def test_bodies_lie_at_full_size_on_a4_or_a3() -> None:
    # ISO 5455: full size is the rule (drafting books); A4 because a turner lays the part on the paper (shop choice).
    sheets = [sheet_of(part) for seed in SEEDS for part in parts_of(seed) if part.name == "body"]
    assert len(sheets) >= 5
    assert {sheet.scale for sheet in sheets} == {1.0}
    assert {sheet.page.split()[0] for sheet in sheets} == {"A3", "A4"}
    assert sum(sheet.page.startswith("A4") for sheet in sheets) >= len(sheets) / 3


def grooved() -> Part:
    """A pin with a circlip groove, two flats and a hardened end."""
    draft = PartDraft("pin", "Grooved pin", "front", sectioned=False)
    draft.length("overall", "back", "front", -1, Size(90.0))
    draft.length("head/length", "head_end", "front", -1, Size(12.0))
    draft.length("groove/place", "groove_far", "back", 1, Size(3.0))
    draft.length("groove/width", "groove_near", "groove_far", -1, Size(1.3, 0.14, 0.0))
    draft.cylinder("stem", "outside", "back", "head_end", Size(20.0, -0.007, -0.02, tolerance_class="g6"))
    draft.cylinder("head", "outside", "head_end", "front", Size(32.0))
    draft.cylinder("groove", "outside groove", "groove_near", "groove_far", Size(19.0, 0.0, -0.21))
    draft.crossing("flats", "flats", "head_end", "front", across=Size(27.0, 0.0, -0.2))
    return draft.done()


def viewports(sheet: PartSheet) -> list[Any]:
    return [v for v in sheet.document.layouts.get(sheet.layout_name).query("VIEWPORT") if v.dxf.id != 1]


def texts(sheet: PartSheet) -> list[str]:
    return [entity.dxf.text for entity in sheet.document.modelspace().query("TEXT")]


def test_a_groove_is_sized_in_its_detail_alone() -> None:
    # ISO 128-3: circle with a letter from the end of the alphabet, letter and scale over the detail (drafting books).
    sheet = sheet_of(grooved())
    scales = sorted(v.dxf.height / v.dxf.view_height for v in viewports(sheet))
    assert scales == pytest.approx([1.0, 5.0])
    assert texts(sheet).count("Z") == 1
    assert texts(sheet).count("Z (5:1)") == 1
    shown = [size.address for size in sizes_on(sheet.document)]
    assert shown.count("pin/groove/width") == shown.count("pin/groove/diameter") == 1
    detail = max(viewports(sheet), key=lambda v: v.dxf.height / v.dxf.view_height)
    low = detail.dxf.view_center_point.y - detail.dxf.view_height / 2
    for dimension in sheet.document.modelspace().query("DIMENSION"):
        is_grooves = dimension.get_xdata("TAILSTOCK")[0].value.startswith("pin/groove/width")
        assert (dimension.dxf.defpoint.y < low + detail.dxf.view_height) is is_grooves or not is_grooves


def test_a_detail_is_true_to_the_part() -> None:
    # The groove is 1.3 wide and 0.5 deep (DIN 471 for 20 mm: 1.3 and 19.0): asked of the lines on the detail's spot.
    sheet = sheet_of(grooved())
    detail = max(viewports(sheet), key=lambda v: v.dxf.height / v.dxf.view_height)
    centre, reach = detail.dxf.view_center_point, detail.dxf.view_height / 2
    lines = [
        (line.dxf.start, line.dxf.end)
        for line in sheet.document.modelspace().query('LINE[layer=="OUTLINE"]')
        if abs(line.dxf.start.y - centre.y) < reach
    ]
    level = {round(abs(a.x - b.x), 6) for a, b in lines if abs(a.y - b.y) < 1e-6}
    steps = {round(abs(a.y - b.y), 6) for a, b in lines if abs(a.x - b.x) < 1e-6}
    assert 1.3 in level
    assert 0.5 in steps


@pytest.mark.parametrize(("projection", "side"), [("first angle", 1), ("third angle", -1)])
def test_end_view_stands_where_the_projection_demands(projection: str, side: int) -> None:
    # The flats are seen from the left: first angle puts that view at the right, third angle at the left (ISO 5456-2).
    sheet = sheet_of(grooved(), projection=projection)
    rounds = [e for e in sheet.document.modelspace().query("ARC") if e.dxf.radius == pytest.approx(16.0)]
    assert len(rounds) == 2
    assert all((arc.dxf.center.x - (-45.0)) * side > 45.0 for arc in rounds)
    shown = [size.address for size in sizes_on(sheet.document)]
    assert shown.count("pin/flats/across") == 1


def test_centre_hole_is_called_out_by_its_code() -> None:
    # ISO 6411 - form pilot/mouth; the angle closed by a line where the hole must not remain (from memory).
    hole = CentreHole(-1, "ISO 6411 - A 2.5/5.3", "must not remain")
    part = grooved()
    sheet = sheet_of(part, centres=[hole])
    inserts = [e for e in sheet.document.modelspace().query("INSERT") if e.dxf.name.startswith("CENTRE_HOLE")]
    assert [e.dxf.name for e in inserts] == ["CENTRE_HOLE_MUST_NOT_REMAIN_LEFT"]
    assert inserts[0].get_attrib_text("CODE") == hole.code
    assert inserts[0].dxf.insert.x == pytest.approx(-90.0)
    assert find_faults(sheet.document, sheet.layout_name, part) == []


def test_hardened_stretch_has_its_wide_chain_line_and_value() -> None:
    # ISO 15787: wide long-dash-dot line about 2 outside the outline, hardness with scale and tolerance.
    part = replace(grooved(), zones=(Zone("hard", "head", "head_end", "front", "hardness", "60 +3 HRC"),))
    sheet = sheet_of(part)
    (line,) = sheet.document.modelspace().query('LINE[layer=="ZONE"]')
    assert sorted((line.dxf.start.x, line.dxf.end.x)) == pytest.approx([-12.0, 0.0])
    assert abs(line.dxf.start.y) - 16.0 == pytest.approx(2.0)
    assert "60 +3 HRC" in texts(sheet)
    assert find_faults(sheet.document, sheet.layout_name, part) == []


def test_general_finish_and_edges_stand_as_symbols_on_the_sheet() -> None:
    # General symbol, exceptions in brackets (ISO 1302); outside and inside edge (ISO 13715), as the block says them.
    part = next(part for seed in SEEDS for part in parts_of(seed) if part.name == "body")
    sheet = sheet_of(part)
    layout = sheet.document.layouts.get(sheet.layout_name)
    finishes = [e.get_attrib_text("FINISH") for e in layout.query("INSERT") if e.dxf.name.startswith("FINISH")]
    assert finishes[0] == "Ra 3.2"
    used = {f"Ra {s.finish_ra_um:g}" for s in part.surfaces if s.finish_ra_um not in (None, 3.2)}
    assert set(finishes[1:]) == used
    edges = {e.dxf.name: e.get_attrib_text("EDGE") for e in layout.query("INSERT") if e.dxf.name.startswith("EDGE")}
    assert edges == {"EDGE_OUTSIDE": "-0.3", "EDGE_INSIDE": "+0.3"}


def test_a_demand_on_a_face_is_a_note() -> None:
    draft = PartDraft("ring", "Ring", "front")
    draft.length("width", "back", "front", -1, Size(20.0))
    draft.cylinder("outside", "outside", "back", "front", Size(70.0))
    draft.cylinder("bore", "inside", "back", "front", Size(40.0))
    draft.relation("front", "bore", "squareness", 0.02, "face it in the setting of the bore")
    part = draft.done()
    sheet = sheet_of(part)
    words = " ".join(entity.dxf.text for entity in sheet.document.layouts.get(sheet.layout_name).query("TEXT"))
    assert "Squareness 0.02 to A on front." in words
    assert find_faults(sheet.document, sheet.layout_name, part) == []
