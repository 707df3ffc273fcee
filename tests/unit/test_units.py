"""The number grammar: what it reads, what it refuses, and agreement with an independent unit library."""

from __future__ import annotations

import math
import subprocess
import sys

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import GeneratorError
from generator.units import UNITS, Kind, UnitError, read_length, read_quantity, show_in, show_mm, text_of

REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry()
# Our spelling -> the spelling of pint, where they differ.
PINT_NAMES = {
    "°": "degree", "'": "arcminute", "′": "arcminute", "arcmin": "arcminute",
    "″": "arcsecond", '"': "arcsecond", "arcsec": "arcsecond", "rev/min": "revolution/minute",
    "rpm": "revolution/minute",
    "1/min": "revolution/minute", "rev/s": "revolution/second", "kgf": "kilogram_force", "lbf": "pound_force",
    "degC": "delta_degC", "°C": "delta_degC", "degF": "delta_degF", "°F": "delta_degF", "K": "kelvin",
}
PINT_INCH = {'"': "inch", "″": "inch", "um": "micrometer", "µm": "micrometer", "μm": "micrometer"}
PINT_HOUSE = {
    "length": "millimeter", "angle": "degree", "mass": "kilogram", "force": "newton",
    "speed": "revolution/minute", "temperature difference": "kelvin",
}


@pytest.mark.parametrize(
    ("text", "expected_mm"),
    [
        ("1 5/8 in", 41.275),
        ("1-5/8 in", 41.275),
        ("15/16 in", 23.8125),
        ("3 thou", 0.0762),
        ("0.02 mm", 0.02),
        ("2.5 cm", 25.0),
        ('0.5"', 12.7),
        (".5in", 12.7),
        ("  12.  mm ", 12.0),
        ("1 ft", 304.8),
        ("40 um", 0.04),
        ("+3 mm", 3.0),
    ],
)
def test_text_carries_its_own_unit(text: str, expected_mm: float) -> None:
    # Source: the inch is 25.4 mm exactly (ISO 80000-3).
    for file_unit in ("mm", "in"):
        assert read_length(text, file_unit) == pytest.approx(expected_mm, rel=1e-15)


def test_bare_numbers_are_in_the_unit_of_the_file() -> None:
    assert read_length(2, "mm") == 2.0
    assert read_length(2, "in") == 50.8
    assert read_length(1.625, "in") == 41.275
    assert read_quantity(60, "angle", "in") == 60.0
    assert read_quantity(2, "mass", "in") == 2.0


def test_degrees_minutes_and_seconds() -> None:
    # 1 deg 26' 16": the half angle of Morse 3 as printed by handbooks, 1.43778 deg (arithmetic).
    assert read_quantity("1 deg 26' 16\"", "angle") == pytest.approx(1 + 26 / 60 + 16 / 3600, rel=1e-15)
    assert read_quantity("30° 30′", "angle") == 30.5
    assert read_quantity("-1 deg 30'", "angle", signed=True) == -1.5
    assert read_quantity("30'", "angle") == 0.5


@pytest.mark.parametrize(
    ("value", "rule"),
    [
        (math.nan, "finite"),
        (math.inf, "finite"),
        (True, "number or a text"),
        (None, "number or a text"),
        ([1], "number or a text"),
        ("", "missing"),
        ("   ", "missing"),
        ("nan mm", "begins with a number"),
        ("mm", "begins with a number"),
        ("9**9**9 mm", "no unit of length"),
        ("2*3 mm", "no unit of length"),
        ("1e3 mm", "no unit of length"),
        ("1_000 mm", "no unit of length"),
        ("1 000 mm", "no unit of length"),
        ("12 MM", "no unit of length"),
        ("12 mm mm", "no unit of length"),
        ("٣ mm", "begins with a number"),
        ("1,5 mm", "point, not a comma"),
        ("2 kg", "a mass stands where a length is wanted"),
        ("60 deg", "an angle stands where a length is wanted"),
        ("5", "carries its unit"),
        ("1/0 in", "zero below the line"),
        ("x" * 61, "at most 60 characters"),
        (10_000.1, "not credible"),
        ("11 m", "not credible"),
        (10**400, "not credible"),
        (-1, "below zero"),
        ("-0.1 mm", "below zero"),
    ],
)
def test_what_is_no_length_is_refused_by_rule(value: object, rule: str) -> None:
    with pytest.raises(UnitError, match=rule) as caught:
        read_length(value, "mm")  # type: ignore[arg-type]
    error = caught.value
    assert isinstance(error, GeneratorError)
    assert isinstance(error, ValueError)
    assert error.cure
    assert len(error.value) <= 60
    assert error.rule in str(error)


def test_a_wrong_unit_is_answered_with_the_known_ones() -> None:
    with pytest.raises(UnitError, match="known units: mm, cm, m") as caught:
        read_length("2 kg", "mm")
    assert "thou" in caught.value.cure


@pytest.mark.parametrize(
    ("text", "kind", "cure"),
    [
        ("2 kg", "force", 'write "2 kgf" for the pull of that weight'),
        ("500 g", "force", 'write "0.5 kgf"'),
        ("5 lb", "force", 'write "5 lbf"'),
        ("8 oz", "force", 'write "0.5 lbf"'),
        ("3 kgf", "mass", 'write "3 kg" for what weighs that much'),
        ("3 lbf", "mass", 'write "3 lb"'),
    ],
)
def test_a_scales_reading_is_answered_with_the_force_it_shows(text: str, kind: Kind, cure: str) -> None:
    with pytest.raises(UnitError, match="stands where a") as caught:
        read_quantity(text, kind)
    assert caught.value.cure.startswith(cure)
    read_quantity(caught.value.cure.split('"')[1], kind)


def test_a_comma_is_answered_with_the_same_number_written_right() -> None:
    with pytest.raises(UnitError) as caught:
        read_length("1,5 mm", "mm")
    assert caught.value.cure == 'write "1.5 mm"'


def test_long_texts_are_shown_short() -> None:
    with pytest.raises(UnitError) as caught:
        read_length("7" * 200_000, "mm")
    assert len(caught.value.value) <= 40


def test_signed_lengths_only_on_request() -> None:
    assert read_length("-0.02 mm", "mm", signed=True) == -0.02
    assert read_length(-0.001, "in", signed=True) == pytest.approx(-0.0254)
    with pytest.raises(UnitError, match="not credible"):
        read_length(-10_001, "mm", signed=True)


@pytest.mark.parametrize(("kind", "name"), [(kind, name) for kind, names in UNITS.items() for name in names])
def test_every_unit_agrees_with_pint(kind: Kind, name: str) -> None:
    # Source: pint, an independent library of units (CODATA and SI definitions).
    other = PINT_INCH.get(name, name) if kind == "length" else PINT_NAMES.get(name, name)
    expected = REGISTRY.Quantity(3, other).to(PINT_HOUSE[kind]).magnitude
    assert read_quantity(f"3 {name}", kind) == pytest.approx(expected, rel=1e-12)


@given(st.integers(0, 400), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_fractions_of_an_inch_are_exact(whole: int, above: int, below: int) -> None:
    exact = (whole + above / below) * 25.4
    if exact <= 10_000:
        assert read_length(f"{whole} {above}/{below} in", "mm") == pytest.approx(exact, rel=1e-14)


@given(st.floats(0, 10_000, allow_nan=False), st.integers(0, 6))
def test_printed_millimetres_read_back(value_mm: float, places: int) -> None:
    text = show_mm(value_mm, places)
    assert "e" not in text
    assert text != "-0"
    assert read_length(f"{text} mm", "in") == pytest.approx(value_mm, abs=0.5000001 * 10**-places)


@given(st.floats(-10_000, 10_000, allow_nan=False), st.integers(1, 5))
def test_printed_inches_read_back(value_mm: float, places: int) -> None:
    text = show_in(value_mm, places)
    assert len(text.split(".")[1]) == places
    back_mm = read_length(f"{text} in", "mm", signed=True) if abs(float(text)) <= 393.7 else float(text) * 25.4
    assert back_mm == pytest.approx(value_mm, abs=0.5000001 * 25.4 * 10**-places)


@given(st.text(max_size=80) | st.text(alphabet="0123456789 ./-+,\"'inm degth", max_size=20))
def test_any_text_is_read_or_refused_and_nothing_else(text: str) -> None:
    try:
        value = read_length(text, "mm")
    except UnitError:
        return
    assert 0 <= value <= 10_000


def test_printing_in_decimal() -> None:
    assert text_of(-0.0001, "mm", 3) == "0"
    assert text_of(12.0, "mm", 3) == "12"
    assert text_of(1.0005, "mm", 3) == "1.001"
    assert text_of(0.285, "mm", 2) == "0.29"
    assert text_of(41.275, "in", 4) == "1.6250"
    assert text_of(100.0, "mm", 0) == "100"
    assert text_of(-12.345, "mm", 2) == "-12.35"


def test_units_need_neither_numpy_nor_pint() -> None:
    code = "import sys, generator.units; print(any(name in sys.modules for name in ('numpy', 'pint', 'pydantic')))"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "False\n"
