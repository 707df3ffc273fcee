"""The registry of shop calculations: every one runs, reads strictly, tells all faults, and is cheap to start."""

from __future__ import annotations

import json
import subprocess
import sys
from fractions import Fraction

import pint
import pytest

from generator.cli import run as command
from generator.errors import InputError
from generator.reckoning.quantities import OWN_UNITS, QuantityError, read_amount
from generator.reckoning.registry import Reckoning, find, names, read_inputs, run

REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry()
# Our spelling -> the spelling of pint, where they differ.
PINT_NAMES = {
    "N m": "newton*meter", "Nm": "newton*meter", "N mm": "newton*millimeter", "Nmm": "newton*millimeter",
    "kgf m": "kilogram_force*meter", "lbf ft": "pound_force*foot", "lbf in": "pound_force*inch",
    "N/mm2": "newton/millimeter**2", "N/um": "newton/micrometer", "N/µm": "newton/micrometer",
    "kN/mm": "kilonewton/millimeter", "N/mm": "newton/millimeter", "lbf/in": "pound_force/inch",
    "m/min": "meter/minute", "m/s": "meter/second", "ft/min": "foot/minute", "sfm": "foot/minute",
    "mm/rev": "millimeter/revolution", "in/rev": "inch/revolution", "thou/rev": "thou/revolution",
    "mm2": "millimeter**2", "cm2": "centimeter**2", "in2": "inch**2", "mm4": "millimeter**4", "cm4": "centimeter**4",
    "in4": "inch**4", "g/cm3": "gram/centimeter**3", "kg/m3": "kilogram/meter**3", "lb/in3": "pound/inch**3",
    "um/m/K": "micrometer/meter/kelvin", "ppm/K": "1e-6/kelvin", "1/K": "1/kelvin", "ppm/degF": "1e-6/delta_degF",
    "mm/mm": "millimeter/millimeter", "mm/m": "millimeter/meter", "in/ft": "inch/foot", "": "dimensionless",
    "%": "0.01 dimensionless", "hp": "horsepower", "h": "hour", "s": "second", "min": "minute",
}


@pytest.mark.parametrize("kind", OWN_UNITS)
def test_units_agree_with_an_independent_library(kind: str) -> None:
    """pint, its own definitions."""
    house = next(name for name, factor in OWN_UNITS[kind].items() if factor == Fraction(1))
    for name, factor in OWN_UNITS[kind].items():
        expected = REGISTRY(PINT_NAMES.get(name, name)) / REGISTRY(PINT_NAMES.get(house, house))
        plain = expected.to("").magnitude if hasattr(expected, "to") else expected
        assert float(factor) == pytest.approx(plain, rel=1e-9), name


@pytest.mark.parametrize("name", names())
def test_every_example_runs(name: str) -> None:
    reckoning = find(name)
    result = run(name, reckoning.example)
    data = json.loads(json.dumps(result.as_data(), allow_nan=False))
    assert data["results"]
    assert data["source"]
    assert data["validity"]
    known = {output.name: output.unit for output in reckoning.outputs}
    for key, held in data["results"].items():
        assert held["unit"] == known[key]


@pytest.mark.parametrize("name", names())
def test_inputs_and_outputs_are_told_once(name: str) -> None:
    reckoning: Reckoning = find(name)
    for told in (reckoning.inputs, reckoning.outputs):
        given = [one.name for one in told]
        assert len(given) == len(set(given))
        assert all(one.what for one in told)
    for entry in reckoning.inputs:
        if entry.kind not in ("number", "whole", "text", "file", "choice", "yes or no", "rows", "share"):
            assert entry.unit, entry.name


@pytest.mark.parametrize(
    ("text", "kind", "unit", "expected"),
    [
        ("55 mm", "length", "mm", 55.0),
        ("1 5/8 in", "length", "mm", 41.275),
        ("3 thou", "length", "um", 76.2),
        ("12", "length", "um", 12.0),
        ("900 rpm", "speed", "rpm", 900.0),
        ("2500 N", "force", "N", 2500.0),
        ("-40 N", "force", "N", -40.0),
        ("2.5 kN", "force", "N", 2500.0),
        ("29000 ksi", "pressure", "GPa", 199.9479614),
        ("10/3", "number", "", 10 / 3),
        ("68 degF", "temperature", "degC", 20.0),
        ("33 %", "share", "", 0.33),
    ],
)
def test_amounts_are_read(text: str, kind: str, unit: str, expected: float) -> None:
    assert read_amount(text, kind, unit) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("text", "kind", "unit", "rule"),
    [
        ("55 mm", "force", "N", "a length stands where a force is wanted"),
        ("5 5", "number", "", "a plain number is wanted"),
        ("nan", "number", "", "a plain number is wanted"),
        ("1e99", "number", "", "the number is not credible"),
        ("1,5 N", "force", "N", "the decimal mark is a point"),
        ("5 Mpa", "pressure", "MPa", "no unit of pressure"),
        ("1/0", "number", "", "zero below the line"),
        ("5; import os", "torque", "N m", "no unit of torque"),
        ("", "torque", "N m", "begins with a number"),
    ],
)
def test_amounts_are_refused(text: str, kind: str, unit: str, rule: str) -> None:
    with pytest.raises(QuantityError, match=rule):
        read_amount(text, kind, unit)


def test_no_message_speaks_of_a_file() -> None:
    for unit in ("um", "mm"):
        with pytest.raises(QuantityError) as caught:
            read_amount("wide", "length", unit)
        assert caught.value.cure.startswith(f"write a bare number in {unit}, or a text")


def test_all_faults_at_once() -> None:
    with pytest.raises(InputError) as caught:
        run("truth", {"overhang": "x", "turning": "both", "front_rin": "6004", "seat_runout": "-5 um"})
    told = {fault.place: fault for fault in caught.value.faults}
    assert set(told) == {
        "truth, overhang", "truth, turning", "truth, front_rin", "truth, seat_runout", "truth, span",
    }
    assert "nearest: front_ring" in told["truth, front_rin"].rule
    assert "is missing" in told["truth, span"].rule
    assert "inner, outer" in told["truth, turning"].cure
    assert "-5 um; it must be at least 0" in told["truth, seat_runout"].rule


def test_rows_take_their_defaults() -> None:
    texts = {"sections": "40 mm, 17; 1 in, 20, 5 mm", "supports": "0; 30 mm", "loads": "0,1"}
    given = read_inputs(find("reactions"), texts)
    assert given["sections"] == ((40.0, 17.0, 0.0, 0.0), (25.4, 20.0, 5.0, 0.0))
    assert given["supports"] == ((0.0, 0.0), (30.0, 0.0))


@pytest.mark.parametrize("rows", ["", ";", "1", "1,2,3,4,5", "1;" * 60])
def test_rows_of_the_wrong_shape(rows: str) -> None:
    with pytest.raises(InputError, match="reactions, sections"):
        run("reactions", {"sections": rows, "supports": "0; 30", "loads": "40, 5"})


def test_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert command(["reckon"]) == 0
    told = capsys.readouterr().out
    assert all(f"{name}: " in told for name in names())
    assert command(["reckon", "static"]) == 0
    assert "example: tailstock reckon static ring=6204" in capsys.readouterr().out
    for words in (["--json", "static", "ring=6204", "axial=500"], ["static", "--json", "ring=6204", "axial=500"],
                  ["static", "ring=6204", "axial=500", "--json"]):
        assert command(["reckon", *words]) == 0
        data = json.loads(capsys.readouterr().out)
        assert set(data) >= {"inputs", "results", "source", "validity"}
        assert data["results"]["equivalent_load"] == {"value": 250.0, "unit": "N"}
        assert data["inputs"]["axial"] == {"value": 500.0, "unit": "N", "given": True}


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["statik"], "nearest: static"),
        (["static", "ring=6204", "axial=500", "axial=600"], "is given twice"),
        (["static", "ring"], "write key=value"),
        (["static", "ring=6999"], "no ring '6999' is known"),
        (["static", "ring=6204"], "both loads are zero"),
        (["static", "axial=5"], "neither ring nor c0"),
        (["fit", "size=30", "hole=H7"], "shaft not given"),
        (["fit", "ring=30203", "shaft=k5"], "limits are known here for radial ball rings"),
        (["fit", "size=30", "hole=H7", "shaft=q9"], "tolerance class 'q9' is not covered"),
        (["fit", "size=30", "hole=-5/+21", "shaft=h6"], "the upper deviation stands first"),
        (["life", "c=100", "radial=0"], "a load of zero"),
        (["life", "c=100", "radial=5", "axial=5"], "thrust needs C0 and f0"),
        (["life", "ring=51101", "radial=5", "axial=5"], "takes no radial load"),
        (["reactions", "span=35", "overhang=5"], "not given"),
        (["reactions", "sections=50,10", "supports=0;60", "loads=5,5"], "place of a support is 60"),
        (["seats", "ring=6204", "slides=shaft"], "may not slide"),
        (["thrust", "radial=-5"], "at least 0"),
        (["thrust", "radial=5", "taper=Jacobs 3"], "thrust, taper: must name a Morse taper"),
        (["speed", "diameter=30", "speeds=50 to 1100", "material=cheese", "operation=boring"], "no such material"),
        (["speed", "diameter=30", "speeds=50 to 1100", "material=C45", "operation=carving"], "turning, carbide"),
    ],
)
def test_bad_words_end_with_2(words: list[str], told: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert command(["reckon", *words]) == 2
    caught = capsys.readouterr()
    assert told in caught.err
    assert "Traceback" not in caught.err
    assert not caught.out


@pytest.mark.parametrize("written", ["Morse 3", "MT3", "3"])
def test_a_taper_is_spelled_as_in_a_job(written: str) -> None:
    for name, more in (("thrust", {"radial": "500"}), ("grip", {"seated": "500"}), ("taper", {})):
        assert run(name, {"taper": written, **more}).results == run(name, {"taper": "Morse 3", **more}).results


def test_a_material_is_spelled_as_in_a_job() -> None:
    more = {"diameter": "30", "speeds": "50 to 1100", "operation": "turning, HSS"}
    short = run("speed", {**more, "material": "C45"})
    assert short.results == run("speed", {**more, "material": "carbon steel C45"}).results


def test_one_calculation_imports_one_module() -> None:
    code = (
        "import sys; from generator.cli import run; run(['reckon', 'static', 'ring=6204', 'axial=500', '--json']);"
        "print(*sorted(name for name in sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = done.stdout.splitlines()[-1].split()
    heavy = {"numpy", "ezdxf", "OCP", "reportlab", "pydantic", "scipy", "pint", "shapely"}
    assert heavy.isdisjoint(loaded)
    assert "generator.reckoning.static" in loaded
    assert "generator.reckoning.truth" not in loaded
