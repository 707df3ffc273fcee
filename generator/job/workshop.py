"""The workshop of a job: what its shop file gives, the usual for the rest, and how the job wants its tapers cut."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any, NamedTuple

from generator import tables
from generator.job.reader import Job
from generator.job.shop import morse_digits
from generator.job.shop_tables import CutterRow, DrillRow, Post, Shop
from generator.making.usual import SLEEVE_RUN_OUT_MM, SOCKET_RUN_OUT_MM, usual_workshop
from generator.making.workshop import (
    BoringBar,
    Chuck,
    Cutter,
    Dial,
    Drill,
    Reamer,
    ShelfBar,
    Sleeve,
    TaperMethod,
    ToolPost,
    Workshop,
)
from generator.parameters.making import Making
from generator.tables import Row
from generator.units import INCH_MM, FileUnit

__all__ = ["RUN_MM", "drawer_of", "method_for", "method_rule", "workshop_from", "workshop_of"]

RUN_MM = 6.0
"""Travel of the top slide wanted beyond the cone, both ends together. Shop choice."""

_EIGHT_MM = float(INCH_MM) / 8
_BALLS = "set over by more than 2 % of the length, points wear their holes (common practice)"
_TAILSTOCK = ("quill_mm", "quill_travel_mm", "screw_lead_mm", "handwheel_mm", "quill_dial")


class _Given(NamedTuple):
    """A figure that somebody gave: field of the workshop, value, address in the shop file."""

    field: str
    value: Any
    address: str


def drawer_of(job: Job) -> tuple[tuple[str, float], ...]:
    """Bearings of the drawer whose outside was measured: designation and diameter in mm."""
    if job.shop is None:
        return ()
    return tuple((one.ring, one.measured_outside) for one in job.shop.shop.ring if one.measured_outside is not None)


def workshop_of(job: Job) -> Workshop:
    """The workshop in which this job is made, its taper method decided."""
    taper = getattr(getattr(job.params, "socket", None), "taper", "") or ""
    digits = morse_digits(str(taper))
    shop = Shop() if job.shop is None else job.shop.shop
    at = _bench(shop, int(digits) if digits else None, job.unit)
    if digits:
        at = _with(at, {"tailstock_taper": "the job, socket.taper"})
    return _with_making(
        at, job.params.making, lambda key: "shop file" if f"making.{key}" in job.from_shop else "the job"
    )


def workshop_from(shop: Shop, taper_number: int | None = None) -> Workshop:
    """The workshop that a shop file describes, for tools with this Morse taper, by default the tailstock's own.

    Of a tailstock with another taper no figure is used. What nobody gave is usual of the class of lathe.
    """
    return _with_making(_bench(shop, taper_number), shop.making, lambda _: "shop file")


def _bench(shop: Shop, taper_number: int | None, unit: FileUnit = "mm") -> Workshop:
    """The workshop of a shop file before anybody says how tapers are cut."""
    own = None if shop.machine.taper is None else int(morse_digits(shop.machine.taper))
    number = taper_number if taper_number is not None else own if own is not None else 3
    at = usual_workshop(number if own is None else own, unit)
    if own is not None and own != number:
        other = usual_workshop(number, unit)
        at = replace(at, tailstock_taper=number, **{name: getattr(other, name) for name in _TAILSTOCK})
    given = [*_lathe(shop), *_dials(shop), *_lists(shop), *_instruments(shop), *_beside(shop)]
    if own is None or own == number:
        given += _tailstock(shop)
    known = {one.field: one for one in given}
    at = replace(at, **{name: one.value for name, one in known.items()})
    at = _with(at, {name: f"shop file, {one.address}" for name, one in known.items()})
    if at.leadscrew == "inch" and at.is_default("leadscrew_pitch_mm"):
        words = "8 threads an inch, usual of the class, from memory"
        at = replace(at, leadscrew_pitch_mm=_EIGHT_MM, sources={**at.sources, "leadscrew_pitch_mm": words})
    return _with_sleeves(at, shop)


def method_for(top_slide_travel_mm: float, taper_number: int) -> TaperMethod:
    """How a Morse taper is cut where nobody says: by a top slide that travels along the cone and on, else by set-over.

    Source: ISO 296 (length of the plain shank); run-out of the slide a shop choice.
    """
    needed = tables.morse(taper_number).plain_length_mm + RUN_MM
    return "top slide" if top_slide_travel_mm >= needed else "set-over"


def method_rule(at: Workshop) -> str:
    """Why this method, in words."""
    cone = tables.morse(at.tailstock_taper).plain_length_mm
    has = at.top_slide_travel_mm
    covers = "covers" if method_for(has, at.tailstock_taper) == "top slide" else "does not cover"
    return f"top slide of {has:g} mm {covers} the cone of {cone:g} and {RUN_MM:g} mm"


def _with(at: Workshop, sources: dict[str, str]) -> Workshop:
    """The workshop with fields that are no longer defaults, and where they come from."""
    return replace(at, defaults=at.defaults - set(sources), sources={**at.sources, **sources})


def _with_making(at: Workshop, making: Making, whose: Callable[[str], str]) -> Workshop:
    """The workshop with the habits of the job, or of the shop; the method follows from the slide where nobody says."""
    given = {key: value for key in Making.model_fields if (value := getattr(making, key)) is not None}
    at = _with(replace(at, **given), {key: f"{whose(key)}, making.{key}" for key in given})
    if at.is_default("taper_method"):
        method = method_for(at.top_slide_travel_mm, at.tailstock_taper)
        at = replace(at, taper_method=method, sources={**at.sources, "taper_method": method_rule(at)})
    if at.is_default("headstock_support") and at.taper_method == "set-over":
        at = replace(at, headstock_support="ball", sources={**at.sources, "headstock_support": _BALLS})
    return at


def _tailstock(shop: Shop) -> Iterator[_Given]:
    machine, dials = shop.machine, shop.dials
    if machine.taper is not None:
        yield _Given("tailstock_taper", int(morse_digits(machine.taper)), "machine.taper")
    for field, key in (
        ("quill_mm", "quill_face_diameter"), ("quill_travel_mm", "quill_travel"), ("screw_lead_mm", "screw_lead"),
        ("handwheel_mm", "handwheel_diameter"),
    ):  # fmt: skip
        if (value := getattr(machine, key)) is not None:
            yield _Given(field, value, f"machine.{key}")
    if dials.quill_division is not None:
        dial = Dial(dials.quill_division, machine.screw_lead) if dials.quill_division and machine.screw_lead else None
        yield _Given("quill_dial", dial, "dials.quill_division")


def _lathe(shop: Shop) -> Iterator[_Given]:
    machine, head = shop.machine, shop.headstock
    for field, key in (
        ("centre_height_mm", "centre_height"), ("between_centres_mm", "between_centres"),
        ("top_slide_travel_mm", "top_slide_travel"), ("set_over_most_mm", "set_over"),
        ("set_over_lead_mm", "set_over_lead"), ("set_over_screws", "set_over_screws"), ("tail_centre", "tail_centre"),
        ("tail_centre_run_out_mm", "tail_centre_runout"), ("leadscrew", "leadscrew"),
        ("leadscrew_pitch_mm", "leadscrew_pitch"),
    ):  # fmt: skip
        if (value := getattr(machine, key)) is not None:
            yield _Given(field, value, f"machine.{key}")
    for field, key in (("attachment_mm", "taper_attachment"), ("steady_most_mm", "steady")):
        if (value := getattr(machine, key)) is not None:
            yield _Given(field, value or None, f"machine.{key}")
    if machine.speeds is not None:
        yield _Given("speeds_rpm", machine.speeds.speeds_rpm, "machine.speeds")
        yield _Given("has_steps", machine.speeds.has_steps, "machine.speeds")
    if head.taper is not None:
        yield _Given("headstock_taper", int(morse_digits(head.taper)), "headstock.taper")
    if head.bore is not None:
        yield _Given("spindle_bore_mm", head.bore, "headstock.bore")


def _beside(shop: Shop) -> Iterator[_Given]:
    beside = shop.beside
    for field, key in (("milling", "milling"), ("wheel", "grinding"), ("furnace_mm", "furnace_length")):
        if (value := getattr(beside, key)) is not None:
            yield _Given(field, value, f"beside.{key}")
    if beside.furnace is not None:
        yield _Given("furnace_c", beside.furnace or None, "beside.furnace")


def _dials(shop: Shop) -> Iterator[_Given]:
    dials = shop.dials
    if dials.cross_division is not None and dials.cross_turn is not None:
        reads = dials.cross_reads == "diameter"
        dial = Dial(dials.cross_division / (2.0 if reads else 1.0), dials.cross_turn, reads)
        yield _Given("cross_dial", dial, "dials.cross_division")
    if dials.top_division is not None and dials.top_turn is not None:
        yield _Given("top_dial", Dial(dials.top_division, dials.top_turn), "dials.top_division")
    if dials.carriage_division is not None:
        turn = dials.carriage_turn
        carriage = Dial(dials.carriage_division, turn) if dials.carriage_division and turn else None
        yield _Given("carriage_dial", carriage, "dials.carriage_division")


def _instruments(shop: Shop) -> Iterator[_Given]:
    for field, key in (("indicator_mm", "indicator"), ("micrometer_mm", "micrometer")):
        if (value := getattr(shop.measuring, key)) is not None:
            yield _Given(field, value, f"measuring.{key}")
    if any(getattr(shop.post, key) is not None for key in Post.model_fields):
        post = shop.post
        sizes = (post.reach, post.slide_reach, post.slide_behind, post.slide_below)
        yield _Given("post", ToolPost(*(size or 0.0 for size in sizes)), "post")


def _lists(shop: Shop) -> Iterator[_Given]:
    """What lies in drawers and on the shelf, each list rising where it has sizes."""
    if shop.chuck is not None:
        yield _Given("chucks", tuple(Chuck(row.kind, row.most, row.runout) for row in shop.chuck), "chuck")
    if shop.drill is not None:
        drills = {drill for row in shop.drill for drill in _drills(row)}
        yield _Given("drills", tuple(sorted(drills, key=lambda one: (one.diameter_mm, one.overall_mm))), "drill")
    if shop.reamer is not None:
        reamers = {Reamer(size, row.tolerance_class) for row in shop.reamer for size in row.sizes}
        found = tuple(sorted(reamers, key=lambda one: (one.diameter_mm, one.tolerance_class)))
        yield _Given("reamers", found, "reamer")
    for key in ("taps", "dies"):
        if (names := getattr(shop.threads, key)) is not None:
            yield _Given(key, tuple(dict.fromkeys(names)), f"threads.{key}")
    if shop.cutter is not None:
        yield _Given("cutters", tuple(_cutter(row) for row in shop.cutter), "cutter")
    if shop.boring_bar is not None:
        bored = tuple(BoringBar(row.bar, row.least_bore, row.reach, row.carbide) for row in shop.boring_bar)
        yield _Given("boring_bars", tuple(sorted(bored, key=lambda one: (one.least_bore_mm, one.bar_mm))), "boring_bar")
    if shop.bar:
        shelf = (ShelfBar(row.diameter, row.length, row.material or "") for row in shop.bar)
        yield _Given("bars", tuple(sorted(shelf, key=lambda one: (one.diameter_mm, one.length_mm or 0.0))), "bar")


def _cutter(row: CutterRow) -> Cutter:
    return Cutter(
        row.name, row.work, row.material, row.shank, row.nose, row.approach, row.trailing, row.tip_ahead,
        row.tip_beside, row.width or 0.0, row.reach or 0.0, row.holder_width or 0.0, row.insert_width or 0.0,
        row.out or 0.0,
    )


_JOBBER_TO_MM = 13.0
"""Up to here a drill of which only the size is told has a straight shank, above a Morse taper. Shop choice."""


def _drills(row: DrillRow) -> Iterator[Drill]:
    """The drills of one entry, with the standard's lengths where none are given.

    Source: DIN 338, DIN 345, from memory (table drills).
    """
    for size in row.sizes:
        standard = _standard(size, row.shank)
        flute = standard.number("flute_mm") if row.flute is None else row.flute
        overall = standard.number("overall_mm") if row.overall is None else row.overall
        yield Drill(size, flute, overall, row.shank or standard.text("shank"))


def _standard(size_mm: float, shank: str | None) -> Row:
    """The row of the table of drills for this size and shank; the last one of its series beyond its ends."""
    straight = shank == "straight" or (shank is None and size_mm <= _JOBBER_TO_MM)
    series = "jobber" if straight else "morse shank"
    rows = [row for row in tables.load("drills").rows if row.text("series") == series]
    rows.sort(key=lambda row: row.number("over_mm"))
    return next((row for row in rows if size_mm <= row.number("incl_mm")), rows[-1])


def _with_sleeves(at: Workshop, shop: Shop) -> Workshop:
    """The workshop with its sleeves, and what socket and sleeves down to the tailstock's taper run out together.

    The figure stays a default where one of those it is made of is.
    """
    sleeves = tuple(
        Sleeve(int(morse_digits(row.outside)), int(morse_digits(row.inside)), row.runout) for row in shop.sleeve or ()
    )
    if shop.sleeve is not None:
        at = _with(replace(at, sleeves=sleeves), {"sleeves": "shop file, sleeve"})
    socket = SOCKET_RUN_OUT_MM if shop.headstock.runout is None else shop.headstock.runout
    chain = _truest(at.headstock_taper, at.tailstock_taper, sleeves)
    needs_one = at.headstock_taper != at.tailstock_taper
    adds = chain if chain is not None else SLEEVE_RUN_OUT_MM if needs_one else 0.0
    at = replace(at, sleeve_run_out_mm=socket + adds)
    if shop.headstock.runout is None or chain is None:
        return at
    return _with(at, {"sleeve_run_out_mm": "shop file, headstock.runout" + (" and sleeve" if needs_one else "")})


def _truest(outer: int, inner: int, sleeves: tuple[Sleeve, ...]) -> float | None:
    """The least run-out of sleeves that lead from one taper down to another, in mm; None where they do not."""
    if outer == inner:
        return 0.0
    ways = (
        one.run_out_mm + rest
        for one in sleeves
        if one.outside_taper == outer and one.inside_taper >= inner
        and (rest := _truest(one.inside_taper, inner, sleeves)) is not None
    )
    return min(ways, default=None)
