"""The shop that is usual where nobody said what stands in it: a machine of the class of its tailstock taper."""

from __future__ import annotations

from dataclasses import fields, replace
from functools import cache

from generator import tables
from generator.findings import PRACTICE
from generator.making.workshop import BoringBar, Chuck, Cutter, Dial, Drill, Reamer, Workshop
from generator.reckoning.speed import speeds_of
from generator.units import INCH_MM, FileUnit

__all__ = ["INCH_LEAD_MM", "SLEEVE_RUN_OUT_MM", "SOCKET_RUN_OUT_MM", "usual_workshop"]

SOCKET_RUN_OUT_MM = 0.005
"""What the headstock spindle's taper runs out. Shop choice."""

SLEEVE_RUN_OUT_MM = 0.005
"""What a sound sleeve adds. Shop choice."""

_MEMORY = "usual of the class, from memory"
_CHOSEN = "usual of a small shop, shop choice"
_OF_PRACTICE = frozenset({
    "set_over_lead_mm", "set_over_screws", "tail_centre", "milling", "wheel", "furnace_c", "furnace_mm",
})
_BARS = "ISO 6261, from memory (table boring_bars)"
_OF_CHOICE = frozenset({
    "attachment_mm", "carriage_dial", "sleeve_run_out_mm", "sleeves", "chucks", "steady_most_mm", "indicator_mm",
    "micrometer_mm", "drills", "reamers", "taps", "dies", "cutters", "post", "bars", "taper_method",
    "headstock_support", "tailstock_support",
})
_NEAR = {0: 1, 5: 4, 6: 4}
"""Tapers whose class of lathe is not wholly listed, and the one whose listed class is nearest. Shop choice."""

_CLASS_OF = {1: "180 to 250", 2: "180 to 250", 3: "280 to 330", 4: "350 to 400"}
_SHANKS = {"180 to 250": 10.0, "280 to 330": 16.0, "350 to 400": 20.0}
_CHUCK = {"180 to 250": 100.0, "280 to 330": 160.0, "350 to 400": 200.0}
_STEADY = {"180 to 250": 50.0, "280 to 330": 70.0, "350 to 400": 100.0}


@cache
def usual_workshop(taper_number: int = 3, unit: FileUnit = "mm") -> Workshop:
    """The usual shop about a lathe with this Morse taper in its tailstock; every figure is marked a default.

    For an inch job its slides have inch screws and dials, and its instruments read inches.

    Source: classes of lathes, from memory (table machines); chucks, steadies and small tools are a shop choice.
    """
    number = _NEAR.get(taper_number, taper_number)
    swing = _CLASS_OF[number]
    figure = _Usual(swing)
    speeds, has_steps = speeds_of(figure.text("spindle speeds", _GEARED[swing]))
    shank = _SHANKS[swing]
    shop = {
        "tailstock_taper": taper_number,
        "quill_mm": tables.machine_defaults(taper_number).quill_diameter_mm.usual,
        "quill_travel_mm": figure("tailstock", "quill travel"),
        "screw_lead_mm": figure("tailstock", "screw lead"),
        "handwheel_mm": figure("tailstock", "handwheel diameter"),
        "centre_height_mm": sum(float(end) for end in swing.split(" to ")) / 4.0,
        "between_centres_mm": figure("bed", "centre distance"),
        "speeds_rpm": speeds,
        "has_steps": has_steps,
        "cross_dial": Dial(
            figure("dials", "cross slide division"), figure("dials", "cross slide screw lead"),
            figure.text("dials", "cross slide dial").startswith("diameter"),
        ),
        "top_dial": Dial(figure("dials", "top slide division"), 2.0 if shank < 16.0 else 3.0),
        "carriage_dial": None,
        "quill_dial": Dial(figure("tailstock", "handwheel dial"), figure("tailstock", "screw lead")),
        "top_slide_travel_mm": figure("bed", "top slide travel"),
        "set_over_most_mm": figure("tailstock", "set-over each side"),
        "set_over_lead_mm": 1.5,
        "set_over_screws": "two",
        "tail_centre": "dead",
        "tail_centre_run_out_mm": 0.01,
        "leadscrew": "metric",
        "leadscrew_pitch_mm": figure("dials", "lead screw pitch"),
        "attachment_mm": None,
        "headstock_taper": int(figure.text("spindle", "internal taper").removeprefix("MT")),
        "spindle_bore_mm": figure("spindle", "through bore"),
        "sleeve_run_out_mm": SOCKET_RUN_OUT_MM + SLEEVE_RUN_OUT_MM,
        "chucks": (Chuck("three-jaw", _CHUCK[swing], 0.08), Chuck("four-jaw", 1.25 * _CHUCK[swing], 0.01)),
        "steady_most_mm": _STEADY[swing],
        "indicator_mm": 0.01,
        "micrometer_mm": 0.01,
        "drills": _drills(),
        "reamers": tuple(Reamer(float(size)) for size in (3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20)),
        "taps": ("M3", "M4", "M5", "M6", "M8", "M10", "M12", "M16", "M20"),
        "dies": ("M3", "M4", "M5", "M6", "M8", "M10", "M12"),
        "cutters": _cutters(shank),
        "boring_bars": _boring_bars(),
        "milling": "machine",
        "wheel": "tool post",
        "furnace_c": 1000.0,
        "furnace_mm": 300.0,
    }
    names = frozenset(one.name for one in fields(Workshop)) - {"defaults", "sources"}
    sources = {name: _whence(name) for name in sorted(names)}
    found = Workshop(**shop, defaults=names, sources={**sources, "boring_bars": _BARS})  # type: ignore[arg-type]
    return _in_inches(found) if unit == "in" else found


def _whence(name: str) -> str:
    return PRACTICE if name in _OF_PRACTICE else _CHOSEN if name in _OF_CHOICE else _MEMORY


def _in_inches(at: Workshop) -> Workshop:
    """The same shop about an inch lathe: dials of a thousandth on screws of ten threads an inch.

    Source: from memory; instruments are a shop choice (a vernier micrometer reads a ten-thousandth).
    """
    inch = float(INCH_MM)
    on_work = 0.0005 * inch if at.cross_dial.reads_diameter else _THOU * inch
    return replace(
        at,
        screw_lead_mm=INCH_LEAD_MM,
        leadscrew="inch",
        leadscrew_pitch_mm=inch / _LEADSCREW_TPI,
        quill_dial=Dial(_THOU * inch, INCH_LEAD_MM),
        cross_dial=replace(at.cross_dial, division_mm=on_work, turn_mm=_TURN * inch),
        top_dial=Dial(_THOU * inch, _TURN * inch),
        micrometer_mm=0.0001 * inch,
        indicator_mm=0.0005 * inch,
    )


INCH_LEAD_MM = 3.175
"""Lead of the tailstock screw of an inch lathe: eight threads an inch. From memory."""
_LEADSCREW_TPI = 8
"""Threads an inch of the leadscrew of an inch lathe. From memory."""
_THOU, _TURN = 0.001, 0.1
"""A division and a turn of a slide's dial in inches of travel. From memory."""


_GEARED = {
    "180 to 250": "belt, 6 speeds (9 in class)",
    "280 to 330": "gear, 8 speeds (13 in class)",
    "350 to 400": "gear, 12 speeds (16 in class)",
}


class _Usual:
    """What is usual in one class of lathes, by part and quantity."""

    def __init__(self, swing: str) -> None:
        rows = tables.load("machines").rows
        self._rows = {
            (row.text("part"), row.text("quantity")): row for row in rows if row.text("class_swing") == swing
        }

    def text(self, part: str, quantity: str) -> str:
        return self._rows[part, quantity].text("usual")

    def __call__(self, part: str, quantity: str) -> float:
        return float(self.text(part, quantity))


def _drills() -> tuple[Drill, ...]:
    """Jobber drills in half millimetres to 13, Morse shanks above.

    Source: lengths DIN 338 and DIN 345 from memory (table drills); which sizes lie in the drawer is a shop choice.
    """
    wanted = [("jobber", step / 2.0) for step in range(2, 27)]
    wanted += [("morse shank", step / 2.0) for step in range(27, 51)]
    found = []
    for series, size in wanted:
        row = next(
            row for row in tables.load("drills").rows
            if row.text("series") == series and row.number("over_mm") < size <= row.number("incl_mm")
        )
        found.append(Drill(size, row.number("flute_mm"), row.number("overall_mm"), row.text("shank")))
    return tuple(found)


def _boring_bars() -> tuple[BoringBar, ...]:
    """Indexable bars by the least bore that they enter."""
    found = (
        BoringBar(row.number("bar_mm"), row.number("least_bore_mm"), row.number("reach_mm"))
        for row in tables.load("boring_bars").rows
        if row.text("kind") == "indexable bar"
    )
    return tuple(sorted(found, key=lambda one: one.least_bore_mm))


def _cutters(shank_mm: float) -> tuple[Cutter, ...]:
    """The turning tools of a small shop in one size of shank. Shop choice."""
    blade, depth = (2.0, 15.0) if shank_mm < 16.0 else (2.5, 25.0)
    return (
        Cutter("knife tool, HSS", "turn", "HSS", shank_mm, 0.4, 90.0, 30.0, 6.0, 2.0),
        Cutter("side and facing tool, carbide", "turn", "carbide", shank_mm, 0.4, 93.0, 32.0, 8.0, 0.25 * shank_mm),
        Cutter("facing tool, carbide", "face", "carbide", shank_mm, 0.4, 95.0, 5.0, 8.0, 0.25 * shank_mm),
        Cutter("parting blade, HSS", "part", "HSS", shank_mm, 0.1, 90.0, 2.0, depth, 0.0, blade, depth),
        Cutter("grooving tool, HSS", "groove", "HSS", shank_mm, 0.1, 90.0, 2.0, 6.0, 0.0, 1.0, 4.0),
        Cutter("threading tool, 60 degrees", "thread", "HSS", shank_mm, 0.1, 60.0, 60.0, 6.0, 2.0),
    )
