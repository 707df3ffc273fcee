"""The shop calculations as the command runs them: examples, nothing declared in vain, cautions, faults in words."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from generator.errors import GeneratorError, InputError
from generator.reckoning import registry

ROOT = Path(__file__).parents[2]
MINE = ("access", "cutting", "grip", "mass", "screw", "set-over", "speed", "taper", "thermal")

# Together with the examples these bring out every result that is declared.
CALLS: dict[str, list[dict[str, str]]] = {
    "access": [
        {"feed": "0.1", "nose": "0.4", "picture": "yes", "swing": "10"},
        {"stand_off": "2", "quill_travel": "100", "make_nose": "14"},
    ],
    "cutting": [
        {"finish": "10 um"},
        {"operation": "tap", "thread": "M10"},
        {"operation": "drilling", "rpm": "400", "feed": "0.1"},
    ],
    "grip": [{"torque": "5 N m", "thrust": "300 N"}],
    "mass": [],
    "screw": [
        {"torque": "80 N m", "friction": "0.14", "measured_over_wires": "12.3", "nut_tensile": "290 MPa",
         "engagement": "15"},
    ],
    "set-over": [
        {"changed_to": "ball", "tailstock_pilot": "2.5", "finished_length": "180", "rise_found": "0.5",
         "found_difference": "2.4", "screw_lead": "1.5"},
        {"taper": "Morse 3", "large": "24"},
    ],
    "speed": [
        {"dead": "steel, greased", "mouth": "6.3", "chuck_limit": "1500", "length": "200", "feed": "0.1"},
    ],
    "taper": [
        {"at": "30", "length": "81", "guide_bar": "300", "visible": "4", "diameter_error": "0.02",
         "difference_found": "2.5"},
        {"ball_large": "23", "ball_small": "21", "ball_large_depth": "-3", "ball_small_depth": "38.8"},
    ],
    "thermal": [
        {"interference": "0.03", "joint": "30", "outside": "60", "length": "25", "bore": "10"},
        {"between": "300", "rise": "30", "outside": "36", "bore": "0", "stiffness": "50"},
        {"size": "100", "grown": "0.05"},
    ],
}


@pytest.mark.parametrize("name", MINE)
def test_every_declared_result_comes_out_of_some_call(name: str, tmp_path_factory: pytest.TempPathFactory) -> None:
    record = registry.find(name)
    calls = [{}, *CALLS[name]]
    if name == "access":
        calls[1] = {**calls[1], "svg": str(tmp_path_factory.mktemp("svg") / "a.svg")}
    seen: set[str] = set()
    for extra in calls:
        seen |= set(registry.run(name, {**record.example, **extra}).results)
    assert {output.name for output in record.outputs} - seen == set()


@pytest.mark.parametrize("name", MINE)
def test_nothing_is_called_a_rating(name: str) -> None:
    record = registry.find(name)
    words = " ".join([record.summary, *(output.name + " " + output.what for output in record.outputs)])
    assert "rating" not in words.casefold()
    assert "capacity" not in words.casefold()


@pytest.mark.parametrize(
    ("name", "extra", "word"),
    [
        ("set-over", {}, "Caution"),
        ("thermal", {"interference": "0.03", "joint": "60"}, "Caution: hot parts burn"),
        ("speed", {"dead": "steel, greased", "mouth": "6.3"}, "Caution: a dead point is greased"),
        ("access", {}, "Caution: bring the tool up by hand"),
    ],
)
def test_cautions_where_it_can_hurt(name: str, extra: dict[str, str], word: str) -> None:
    assert word in registry.run(name, {**registry.find(name).example, **extra}).validity


@pytest.mark.parametrize(
    ("name", "texts", "words"),
    [
        ("grip", {"taper": "Morse 3"}, "neither seating force nor thrust"),
        ("grip", {"taper": "Jacobs 3", "seated": "100 N"}, "must name a Morse taper"),
        ("grip", {"seated": "100 N"}, "the taper is not known"),
        ("screw", {}, "no thread is given"),
        ("screw", {"thread": "M11.5"}, "no thread"),
        ("cutting", {"feed": "0.1", "depth": "1"}, "the material is not known"),
        ("cutting", {"material": "steel", "feed": "0.1", "depth": "1"}, "several materials"),
        ("cutting", {"material": "cheese", "feed": "0.1", "depth": "1"}, "no such material"),
        ("cutting", {"material": "C45", "feed": "0.1"}, "turning needs depth"),
        ("thermal", {}, "nothing to reckon"),
        ("thermal", {"measured": "50"}, "temperature of the work is not known"),
        ("thermal", {"interference": "0.03"}, "diameter of the joint"),
        ("speed", {"diameter": "30", "speed": "30"}, "machine's speeds are not known"),
        ("speed", {"diameter": "30", "speed": "30", "speeds": "fast"}, "the machine's speeds are numbers"),
        ("speed", {"diameter": "30", "speeds": "100"}, "cutting speed is not known"),
        ("speed", {"diameter": "30", "speed": "30", "machine": "280 to 330"}, "not the name of one row"),
        ("speed", {"diameter": "30", "speed": "30", "speeds": "100", "dead": "steel, greased"}, "mouth of the centre"),
        ("set-over", {"faced": "200"}, "the taper is not known"),
        ("set-over", {"faced": "200", "large": "20", "small": "30", "length": "50"}, "large must be more than small"),
        ("mass", {}, "neither bar nor steps"),
        ("mass", {"diameter": "20", "length": "100", "material": "unobtainium"}, "nearest known"),
        ("taper", {"taper": "Morse 3", "at": "600"}, "diameter there"),
        ("taper", {"rolls_above": "30", "rolls_rise": "50"}, "rolls_below is missing"),
    ],
)
def test_faults_are_told_in_words(name: str, texts: dict[str, str], words: str) -> None:
    with pytest.raises(GeneratorError) as caught:
        registry.run(name, texts)
    assert words in str(caught.value)


def test_all_faults_of_the_texts_come_at_once() -> None:
    with pytest.raises(InputError) as caught:
        registry.run("speed", {"diameter": "-3", "speed": "30 lb", "colour": "red"})
    assert len(caught.value.faults) == 3


def test_table_speeds_and_rows_are_used() -> None:
    found = registry.run("speed", {
        "diameter": "36", "material": "mild steel", "operation": "turning, HSS", "machine": "gear, 8 speeds (13",
        "ring": "6003-2RS",
    })
    # 25 and 45 m/min on 36 mm, by hand: 221 and 398; the next lower speed of that row is 300.
    assert found.results["wanted_low"]["value"] == pytest.approx(221.0, abs=0.1)
    assert found.results["wanted_high"]["value"] == pytest.approx(397.9, abs=0.1)
    assert found.results["set"]["value"] == 300.0
    assert "memory" in found.source


def test_stepped_work_and_gripped_length() -> None:
    plain = registry.run("mass", {"diameter": "30", "length": "200"}).results
    steps = registry.run("mass", {"steps": "30, 120; 30, 80"}).results
    assert steps["mass"]["value"] == pytest.approx(plain["mass"]["value"])
    gripped = registry.run("mass", {"diameter": "30", "length": "200", "gripped": "40"}).results
    assert gripped["tailstock_share"]["value"] == pytest.approx(60 / 160)


@pytest.mark.parametrize("name", MINE)
def test_plain_numbers_start_without_heavy_libraries(name: str) -> None:
    code = (
        "import sys; from generator.reckoning import registry; "
        f"registry.run({name!r}, registry.find({name!r}).example); "
        "print(sorted({'numpy', 'shapely', 'ezdxf', 'OCP', 'reportlab', 'pydantic', 'scipy'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    assert done.stdout.strip() == "[]"
