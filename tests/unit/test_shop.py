"""The shop file: read strictly, written so that it is accepted, filled into jobs, made into a workshop.

Shops here are invented. What a figure must come out at is reckoned by hand or taken from the standard named beside it.
"""

from __future__ import annotations

import re
from dataclasses import fields, replace
from pathlib import Path

import pytest
from pydantic import BaseModel

import templates
from generator.errors import InputError
from generator.job.design import inspect, work_out
from generator.job.faults import models_in
from generator.job.reader import find_job, read_job
from generator.job.shop import read_shop
from generator.job.shop_tables import Shop
from generator.job.shop_writer import new_shop
from generator.job.workshop import method_for, workshop_from, workshop_of
from generator.job.writer import new_job
from generator.kinds import kinds, use_templates
from generator.making.operations import operations_for
from generator.making.stock import stock_for
from generator.making.usual import usual_workshop
from generator.making.workshop import BoringBar, Chuck, Dial, Drill, ShelfBar, Sleeve, ToolPost
from tests.unit.tiny_kind import JOB, write_tiny

UNITS = pytest.mark.parametrize("unit", ["mm", "in"])
MORSE_3 = JOB + '[socket]\ntaper = "Morse 3"\n'


@pytest.fixture(autouse=True)
def _place(monkeypatch, tmp_path, tmp_path_factory):
    """Stand in an empty folder, with the tiny kind known and no shop file anywhere."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path_factory.mktemp("config")))
    monkeypatch.setenv(templates.FOLDER_VARIABLE, str(write_tiny(tmp_path_factory.mktemp("templates"))))
    monkeypatch.setenv("COLUMNS", "200")
    monkeypatch.chdir(tmp_path)
    use_templates()
    yield
    templates.use_folders(())


def at(text: str, job: str = MORSE_3):
    """The workshop of a job with this shop file."""
    return workshop_of(read_job(job, shop=read_shop(text)))


def switched_on(text: str) -> str:
    """The file with every key and every entry on, as by taking one mark off each line."""
    return re.sub(r"(?m)^#(?!#) ?", "", text)


# --- what is written ---


@UNITS
def test_a_new_file_says_nothing_yet_and_describes_the_usual_shop(unit):
    shop = read_shop(new_shop(unit)).shop
    assert shop.units == unit
    assert shop.model_copy(update={"units": "mm"}) == Shop()
    assert workshop_from(shop) == workshop_from(Shop())


@UNITS
def test_with_every_mark_taken_away_it_is_accepted_and_describes_that_same_shop(unit):
    found, usual = workshop_from(read_shop(switched_on(new_shop(unit))).shop), workshop_from(Shop())
    assert found.defaults == frozenset()
    # These have no default, or show by an example how they are told.
    shown = {"defaults", "sources", "sleeves", "post", "bars", "drills", "cutters"}
    for field in fields(usual):
        if field.name not in shown:
            assert getattr(found, field.name) == getattr(usual, field.name), field.name
    long = Drill(10.0, 121.0, 184.0)
    assert [drill for drill in found.drills if drill != long] == list(usual.drills)
    plain = {"holder_mm": 0.0, "insert_mm": 0.0, "out_mm": 0.0}
    assert tuple(replace(cutter, **plain) for cutter in found.cutters) == usual.cutters


def test_every_key_that_the_reader_knows_stands_in_the_file_with_its_words():
    text = new_shop()
    for table, field in Shop.model_fields.items():
        model = next(models_in(field.annotation), None)
        if model is None:
            continue
        start = re.search(rf"(?m)^(# )?\[+{table}\]+$", text)
        assert start is not None, table
        inside = text[start.end() :]
        for key, inner in model.model_fields.items():
            if not isinstance(inner.annotation, type) or not issubclass(inner.annotation, BaseModel):
                assert f"## {inner.description}\n# {key} = " in inside, f"{table}.{key}"


@UNITS
@pytest.mark.parametrize("table", [name for name, field in Shop.model_fields.items() if name != "units"])
def test_each_table_alone_may_be_switched_on(table, unit):
    """Each [table] or [[entry]] of the file, all its keys on, the rest off; a quill dial needs its screw."""
    text, out, on = new_shop(unit), [], False
    for line in text.splitlines():
        if heading := re.fullmatch(r"(?:# )?\[+(\w+)\]+", line):
            on = heading.group(1) == table
        out.append(re.sub(r"^#(?!#) ?", "", line) if on else line)
    if table == "dials":
        with pytest.raises(InputError, match=r"machine\.screw_lead is missing"):
            read_shop("\n".join(out))
        out = [line for line in out if not line.startswith("quill_division")]
    assert read_shop("\n".join(out)).shop != Shop()


def test_lengths_of_an_inch_file_are_the_same_lengths():
    inch, metric = (read_shop(switched_on(new_shop(unit))).shop for unit in ("in", "mm"))
    assert inch.machine.quill_travel == pytest.approx(metric.machine.quill_travel, abs=1e-9)
    assert [drill for row in inch.drill for drill in row.sizes] == pytest.approx(
        [drill for row in metric.drill for drill in row.sizes], abs=1e-9
    )


# --- what is read ---

FULL = """
units = "in"
reamer = []
[machine]
taper = "MT3"
quill_travel = 4
screw_lead = 0.1
handwheel_diameter = 6
quill_face_diameter = "1 3/4 in"
centre_height = 6
between_centres = 36
speeds = "50 to 1100"
top_slide_travel = 3.75
set_over = "none"
set_over_lead = 0.0625
set_over_screws = "one"
tail_centre = "revolving"
tail_centre_runout = 0.0004
leadscrew = "inch"
leadscrew_pitch = 0.125
taper_attachment = 12
steady = "none"
[dials]
cross_division = 0.001
cross_turn = 0.05
cross_reads = "diameter"
top_division = 0.001
top_turn = "100 thou"
carriage_division = 0.01
carriage_turn = 0.8
quill_division = "none"
[headstock]
taper = "Morse 4"
bore = 1
runout = "0.01 mm"
[measuring]
indicator = 0.0005
micrometer = 0.0001
[threads]
taps = ["M6 x 1", "1/4-20 UNC"]
dies = []
[beside]
milling = "none"
grinding = "none"
furnace = "none"
furnace_length = 6
[post]
reach = 2
[[sleeve]]
outside = "MT4"
inside = "MT3"
runout = "0.02 mm"
[[chuck]]
kind = "collet"
most = 1
runout = 0.0005
[[drill]]
sizes = ["1/2 in", 0.25]
[[drill]]
sizes = [0.75]
flute = 6
overall = 9
shank = "MT2"
[[boring_bar]]
bar = 0.5
least_bore = 0.75
reach = 3.5
carbide = true
[[bar]]
diameter = 2
[[bar]]
diameter = 1.5
length = 12
material = "C45"
"""


def test_a_full_shop_becomes_a_workshop_in_mm():
    found = at(FULL)
    assert (found.quill_travel_mm, found.screw_lead_mm, found.handwheel_mm, found.quill_mm) == pytest.approx(
        (101.6, 2.54, 152.4, 44.45)
    )
    assert (found.centre_height_mm, found.between_centres_mm, found.top_slide_travel_mm) == pytest.approx(
        (152.4, 914.4, 95.25)
    )
    assert (found.speeds_rpm, found.has_steps) == ((50.0, 1100.0), False)
    assert (found.set_over_most_mm, found.steady_most_mm, found.quill_dial) == (0.0, None, None)
    assert found.attachment_mm == pytest.approx(304.8)
    # A division marked 0.001 in that tells the diameter moves the slide half of that: 100 of them in 0.05 in.
    assert found.cross_dial == Dial(pytest.approx(0.0127), pytest.approx(1.27), reads_diameter=True)
    assert found.top_dial == Dial(pytest.approx(0.0254), pytest.approx(2.54))
    assert found.carriage_dial == Dial(pytest.approx(0.254), pytest.approx(20.32))
    assert (found.headstock_taper, found.spindle_bore_mm) == (4, pytest.approx(25.4))
    assert found.sleeves == (Sleeve(4, 3, 0.02),)
    assert found.sleeve_run_out_mm == pytest.approx(0.03)
    assert (found.indicator_mm, found.micrometer_mm) == pytest.approx((0.0127, 0.00254))
    assert (found.taps, found.dies, found.reamers) == (("M6", "1/4-20 UNC"), (), ())
    assert found.post == ToolPost(pytest.approx(50.8))
    assert found.chucks == (Chuck("collet", pytest.approx(25.4), pytest.approx(0.0127)),)
    assert found.boring_bars == (BoringBar(12.7, pytest.approx(19.05), pytest.approx(88.9), carbide=True),)
    assert found.bars == (ShelfBar(pytest.approx(38.1), pytest.approx(304.8), "C45"), ShelfBar(pytest.approx(50.8)))
    assert (found.set_over_lead_mm, found.set_over_screws) == (pytest.approx(1.5875), "one")
    assert (found.tail_centre, found.tail_centre_run_out_mm) == ("revolving", pytest.approx(0.01016))
    assert (found.leadscrew, found.leadscrew_pitch_mm) == ("inch", pytest.approx(3.175))
    assert (found.milling, found.wheel, found.furnace_c, found.furnace_mm) == ("none", "none", None, 152.4)
    own = {"cutters", "taper_method", "headstock_support", "tailstock_support"}
    assert found.defaults == own


def test_drills_of_which_only_the_size_is_told_have_the_standards_lengths():
    found = at(FULL).drills
    # DIN 338, published lists: over 6 to 6.7 mm 101/63, over 11.8 to 13.2 mm 151/101 (overall/flute).
    assert found == (
        Drill(6.35, 63.0, 101.0, "straight"), Drill(12.7, 101.0, 151.0, "straight"),
        Drill(pytest.approx(19.05), pytest.approx(152.4), pytest.approx(228.6), "Morse 2"),
    )


def test_each_figure_says_where_it_comes_from():
    found = at("[machine]\ntop_slide_travel = 120\n[making]\ntailstock_support = \"60-degree\"\n")
    assert found.sources["top_slide_travel_mm"] == "shop file, machine.top_slide_travel"
    assert found.sources["tailstock_support"] == "shop file, making.tailstock_support"
    assert found.sources["tailstock_taper"] == "the job, socket.taper"
    assert "from memory" in found.sources["centre_height_mm"]
    assert found.is_default("centre_height_mm")
    assert not found.is_default("top_slide_travel_mm")
    assert set(found.sources) == {field.name for field in fields(found)} - {"defaults", "sources"}


def test_an_empty_shop_file_is_the_usual_shop():
    without = workshop_of(read_job(MORSE_3))
    assert at("") == without
    usual = usual_workshop(3)
    assert {name for name in usual.defaults if name not in without.defaults} == {"tailstock_taper"}


def test_a_shop_with_another_tailstock_keeps_its_lathe_and_loses_its_tailstock():
    text = (
        '[machine]\ntaper = "Morse 2"\nquill_travel = 61\nscrew_lead = 1.6\nhandwheel_diameter = 81\n'
        'quill_face_diameter = 26\ncentre_height = 115\n[dials]\nquill_division = 0.04\n'
    )
    job = read_job(MORSE_3, shop=read_shop(text))
    found, usual = workshop_of(job), usual_workshop(3)
    for name in ("quill_travel_mm", "screw_lead_mm", "handwheel_mm", "quill_mm", "quill_dial"):
        assert getattr(found, name) == getattr(usual, name)
        assert found.is_default(name)
    assert found.tailstock_taper == 3
    assert (found.centre_height_mm, found.is_default("centre_height_mm")) == (115.0, False)
    # What nobody gave is usual of the lathe that stands there, not of one with the job's taper.
    assert found.between_centres_mm == usual_workshop(2).between_centres_mm
    assert job.notes == ("tailstock of the shop file not used: it has Morse 2, the job wants Morse 3",)
    same = workshop_of(read_job(MORSE_3.replace("3\"", '2"'), shop=read_shop(text)))
    assert (same.quill_travel_mm, same.quill_dial) == (61.0, Dial(0.04, 1.6))


# --- how the tool is made ---


# Source of the lengths: ISO 296, plain shanks from the gauge plane: Morse 2 64 mm, 3 81 mm, 4 102.5 mm.
@pytest.mark.parametrize(
    ("number", "travel", "method"),
    [(2, 69.9, "set-over"), (2, 70.0, "top slide"), (3, 86.9, "set-over"), (3, 87.0, "top slide"),
     (4, 108.4, "set-over"), (4, 108.5, "top slide")],
)
def test_the_top_slide_cuts_what_it_travels_along_and_6_mm_more(number, travel, method):
    assert method_for(travel, number) == method
    job = JOB + f'[socket]\ntaper = "Morse {number}"\n'
    found = at(f"[machine]\ntop_slide_travel = {travel}\n", job)
    assert found.taper_method == method
    assert found.is_default("taper_method")
    assert f"{travel:g} mm" in found.sources["taper_method"]


def test_the_job_says_how_the_taper_is_cut_else_the_shop_else_the_slide():
    shop = '[making]\ntaper_method = "attachment"\nheadstock_support = "60-degree"\n'
    found = at(shop)
    assert (found.taper_method, found.headstock_support, found.tailstock_support) == ("attachment", "60-degree", "ball")
    assert not found.is_default("taper_method")
    found = at(shop, MORSE_3 + '[making]\ntaper_method = "set-over"\n')
    assert (found.taper_method, found.sources["taper_method"]) == ("set-over", "the job, making.taper_method")
    # Beyond 2 % points wear their holes, and every Morse taper is beyond: balls, unless somebody says otherwise.
    assert found.headstock_support == "60-degree"
    assert at("", MORSE_3 + '[making]\ntaper_method = "set-over"\n').headstock_support == "ball"
    assert at("", MORSE_3 + '[making]\ntaper_method = "top slide"\n').headstock_support == "60-degree"


@pytest.mark.parametrize("kind", ["tiny", *kinds()])
def test_a_new_job_shows_how_it_is_made_with_the_rule(kind):
    shop = read_shop("[machine]\ntop_slide_travel = 120\n")
    text = new_job(kind, "fresh", shop=shop).text
    assert re.search(r"(?m)^\[making\]$", text)
    assert '# taper_method = "top slide"   # top slide of 120 mm covers the cone' in text
    fixed = re.sub(r"(?m)^# ((?:taper_method|tailstock_support|headstock_support) = .*   # .*)$", r"\1", text)
    assert fixed.count("_support = ") == text.count("_support = ")
    assert fixed != text
    fixed_at, loose_at = (workshop_of(read_job(one, shop=shop)) for one in (fixed, text))
    assert replace(fixed_at, defaults=loose_at.defaults, sources=loose_at.sources) == loose_at
    habit = read_shop('[making]\ntaper_method = "bought shank"\n')
    assert 'taper_method = "bought shank"   # from the shop file' in new_job(kind, "fresh", shop=habit).text


def test_a_job_with_a_way_that_is_none_is_refused():
    with pytest.raises(InputError, match=r"line 7, making\.taper_method: must be 'top slide', 'set-over'"):
        read_job(JOB + '[making]\ntaper_method = "compound"\n')


# --- sleeves ---


@pytest.mark.parametrize(
    ("text", "run_out", "is_default"),
    [
        # Nothing is known: 0.005 for the socket and 0.005 for a sleeve (shop choice).
        ("", 0.010, True),
        ('[headstock]\ntaper = "Morse 3"\nrunout = 0.003\n', 0.003, False),
        ('[headstock]\ntaper = "Morse 5"\nrunout = 0.003\n', 0.008, True),
        ('[headstock]\ntaper = "Morse 5"\nrunout = 0.003\n[[sleeve]]\noutside = "5"\ninside = "3"\nrunout = 0.01\n',
         0.013, False),
        # Two sleeves, one in the other; of two ways the truer one.
        ('[headstock]\ntaper = "Morse 5"\nrunout = 0.003\n[[sleeve]]\noutside = "5"\ninside = "4"\nrunout = 0.004\n'
         '[[sleeve]]\noutside = "4"\ninside = "3"\nrunout = 0.004\n', 0.011, False),
        ('[headstock]\ntaper = "Morse 5"\nrunout = 0.003\n[[sleeve]]\noutside = "5"\ninside = "3"\nrunout = 0.02\n'
         '[[sleeve]]\noutside = "5"\ninside = "4"\nrunout = 0.004\n[[sleeve]]\noutside = "4"\ninside = "3"\n'
         "runout = 0.004\n", 0.011, False),
        # A sleeve that leads nowhere helps nothing.
        ('[headstock]\ntaper = "Morse 5"\nrunout = 0.003\n[[sleeve]]\noutside = "4"\ninside = "3"\nrunout = 0.02\n',
         0.008, True),
    ],
)
def test_socket_and_sleeves_add_up(text, run_out, is_default):
    found = at(text)
    assert found.sleeve_run_out_mm == pytest.approx(run_out)
    assert found.is_default("sleeve_run_out_mm") == is_default


# --- into the job ---


def test_a_tailstock_gives_its_screw_and_handwheel_to_the_loads():
    shop = read_shop('[machine]\ntaper = "Morse 3"\nscrew_lead = 2.5\nhandwheel_diameter = 125\n')
    text = Path(find_job("demo")).read_text(encoding="utf-8")
    silent = re.sub(r"(?m)^(screw_lead|handwheel_diameter) = .*\n", "", text)
    job = read_job(silent, shop=shop)
    assert (job.params.loads.screw_lead, job.params.loads.handwheel_diameter) == (2.5, 125.0)
    assert {"loads.screw_lead", "loads.handwheel_diameter"} <= set(job.from_shop)
    # A job is never overruled.
    assert read_job(text, shop=shop).params.loads.screw_lead == 4.0


@pytest.mark.parametrize("kind", kinds())
def test_a_job_in_a_full_shop_is_checked_and_planned(kind):
    """The usual shop with everything given, and the inch one above: checks run, and operations are found."""
    for text in (switched_on(new_shop("in")), FULL):
        job = read_job(new_job(kind, "fresh").text, shop=read_shop(text))
        design = inspect(work_out(job))
        assert "check-not-run" not in {finding.code for finding in design.findings}
        setups = tuple(job.kind.order(design.choices, design.tool, workshop_of(job)))
        stock = stock_for(design.tool, setups, design.choices, job.unit)
        steps = sum(len(setup.steps) for setup in setups)
        assert len(operations_for(design.tool, setups, workshop_of(job), design.choices, stock, job.unit)) == steps


@pytest.mark.parametrize("number", range(7))
@pytest.mark.parametrize("kind", kinds())
def test_the_way_that_follows_cuts_the_taper_of_every_example(kind, number):
    """In the usual shop of any Morse taper the plan finds nothing against the method that nobody chose."""
    job = read_job(new_job(kind, "fresh").text.replace('taper = "Morse 3"', f'taper = "Morse {number}"'))
    assert workshop_of(job).tailstock_taper == number
    against = {"order-slide-short", "order-set-over", "order-set-over-share", "order-taper-method"}
    assert not against & {finding.code for finding in inspect(work_out(job)).findings}
