"""Set-ups: one clamping each, what it locates on, which surfaces it finishes, and the run-out that it earns."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from generator.findings import PRACTICE

__all__ = ["FLAT", "ONE_SETTING", "WAYS", "Earned", "SetUp", "Step", "Way", "Work", "earned"]

Way = Literal[
    "", "bar", "three-jaw", "soft jaws", "four-jaw", "mandrel", "centres", "finished taper", "own bearings", "bench"
]

Work = Literal[
    "", "saw", "face", "centre", "rough", "turn", "taper", "groove", "thread", "part", "knurl", "drill", "ream", "bore",
    "tap", "mill", "file", "grind", "harden", "temper", "case", "stop off", "lap", "press", "fit", "deburr", "indicate",
    "measure", "hold", "mark",
]
"""Kinds of operation. "hold" is a step of clamping (steady, drawbar), "fit" trying one piece in another."""


@dataclass(frozen=True, slots=True)
class Step:
    """One operation of a set-up: what to do, to which size, with which tool.

    Every figure carries its unit; the plan of an inch job turns what has "mm" behind it into inches. `cuts` are the
    addresses of the sizes of the drawing that this operation brings within their limits. `work` is the kind of
    operation, from which speed, feed and cutter follow. `surface` is the address of what is cut where `cuts` does not
    tell it ("body/front" for a facing cut), `diameter_mm` and `length_mm` what the tool goes over where no surface of
    the drawing says so (a pilot hole). `allowance_mm` is what a roughing cut leaves on the diameter,
    `short_mm` what stays before a face that is made to measure. `caution` is the danger of this one operation.
    """

    text: str
    size: str = ""
    tool: str = ""
    cuts: tuple[str, ...] = ()
    work: Work = ""
    surface: str = ""
    diameter_mm: float | None = None
    length_mm: float | None = None
    allowance_mm: float = 0.0
    caution: str = ""
    short_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Earned:
    """Run-out that a way of locating earns, as an indicator shows it: usual low and high, in words, and whence.

    Both figures are None where the way gives no figure at all. `useful` is False where work that matters must not
    rest on it.
    """

    low_mm: float | None
    high_mm: float | None
    how: str
    source: str
    useful: bool = True


@dataclass(frozen=True, slots=True)
class SetUp:
    """One clamping of one or more parts.

    `locates_on` is the address of the finished surface that the work runs true to ("body/taper"), or words for what
    is no surface of a part ("centre holes", "bar"); equal words mean the same thing in every set-up. `touches_off`
    is the address of the face from which lengths are set, one that a tool reaches here (`making.touch`). `finishes`
    lists addresses of surfaces, faces, zones and cross features that have their final size when the set-up is done.
    `located` is the way of locating; `earns_mm` and `earns_how` replace its usual figure. `leaves_mm` is length
    kept on the bar for this set-up and cut off later (carrier stub, chuck grip), with the reason.

    `grips` is the address of the surface that jaws, collet, mandrel or socket hold ("body/taper"), "bar" for the
    bar as sawn, "" where nothing grips; `grip_mm` is the length held and `out_mm` what sticks out of it, between
    centres what is not in the carrier. `support` is what carries the free end: "", "centre", "steady". `indicate`
    says where the indicator goes, to what figure, and whether that matters here. `before` says what may not be
    unclamped before what; `no_return` why there is no way back from here, and is "" where there is one.
    """

    number: int
    parts: tuple[str, ...]
    title: str
    holding: str
    locates_on: str
    touches_off: str
    finishes: tuple[str, ...]
    steps: tuple[Step, ...]
    caution: str = ""
    earns_mm: float | None = None
    earns_how: str = ""
    located: Way = ""
    leaves_mm: float = 0.0
    leaves_why: str = ""
    grips: str = ""
    grip_mm: float | None = None
    out_mm: float | None = None
    support: Literal["", "centre", "steady"] = ""
    indicate: str = ""
    before: str = ""
    no_return: str = ""


FLAT = "ground flat across its end"
"""In the text of a step of drilling: this drill has no point and leaves a flat floor."""

ONE_SETTING = Earned(0.003, 0.005, "cut in one setting: what the spindle bearings leave", PRACTICE)

WAYS: dict[Way, Earned] = {
    "": Earned(None, None, "the way of locating is not stated", "", useful=False),
    "bar": Earned(None, None, "held by the rough bar: true only within this setting", PRACTICE, useful=False),
    "bench": Earned(None, None, "bench work: no run-out comes from it", PRACTICE, useful=False),
    "three-jaw": Earned(
        0.05, 0.1, "turned round in a three-jaw: earns nothing useful",
        "common practice, no source; machref.com, lathe tooling reference, gives 0.08 to 0.13 mm", useful=False,
    ),
    "soft jaws": Earned(0.02, 0.03, "soft jaws bored to the size", PRACTICE),
    "four-jaw": Earned(
        0.01, 0.02, "clocked in a four-jaw: what the indicator was brought to",
        "common practice, no source; machref.com, lathe tooling reference, gives 0.013 mm",
    ),
    "mandrel": Earned(0.01, 0.02, "on a mandrel turned to fit and not moved since", PRACTICE),
    "centres": Earned(0.005, 0.01, "between centres in the same clean centre holes", PRACTICE),
    "finished taper": Earned(0.005, 0.01, "on its own finished taper: socket and sleeve error", PRACTICE),
    "own bearings": Earned(0.002, 0.005, "turning in its own bearings: nearly nothing is left", PRACTICE),
}
"""What each way of locating earns.

Source: common practice, no source, except where a row names one.
"""


def earned(setup: SetUp) -> Earned:
    """The run-out that this set-up earns against what it locates on.

    Source: common practice, no source; a figure of the set-up's own comes first.
    """
    usual = WAYS[setup.located]
    if setup.earns_mm is None:
        return usual if not setup.earns_how else Earned(
            usual.low_mm, usual.high_mm, setup.earns_how, usual.source, usual.useful
        )
    low = min(setup.earns_mm, usual.low_mm) if usual.low_mm is not None else setup.earns_mm
    how = setup.earns_how or usual.how
    return Earned(low, setup.earns_mm, how, usual.source or PRACTICE, usual.useful or not setup.located)
