"""Settings for cutting and proving the tapers of a tool, reckoned for this bar."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator import tables
from generator.description import Choices, Part, Surface, Tool, diameter_at, face_positions
from generator.errors import TableError
from generator.findings import PRACTICE
from generator.making.figures import Figures
from generator.making.stock import StockRow
from generator.reckoning import taper as reckon
from generator.units import INCH_MM, FileUnit

__all__ = ["SetOver", "Setting", "set_over_for", "settings_for", "tapers"]

SLIDE_ADDRESS = "machine.top_slide_travel"
_RUN_MM = 3.0
_SLIDE = "With the top slide"
_LEAST_END_MM = 6.0
_GEOMETRY = "geometry"


@dataclass(frozen=True, slots=True)
class Setting:
    """One figure to set or to prove, under the heading `group`."""

    group: str
    label: str
    value: str
    note: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class SetOver:
    """Set-over of the tailstock for one blank: supports, lengths between them, and the distance to move.

    `ball_mm` is 0 where no stocked ball bears in the hole. The true figure for 60 degree centres lies between
    `apex_mm` (old shop rule, worn holes) and `tipped_mm` (sharp new holes).
    """

    faced_mm: float
    pilot_mm: float
    mouth_mm: float
    ball: str
    ball_mm: float
    ball_length_mm: float
    ball_set_over_mm: float
    apex_length_mm: float
    apex_set_over_mm: float
    tipped_length_mm: float
    tipped_set_over_mm: float


def tapers(tool: Tool) -> tuple[tuple[Part, Surface], ...]:
    """Every tool taper on a made part."""
    return tuple((part, surface) for part in tool.made for surface in part.surfaces if surface.role == "taper")


def settings_for(
    tool: Tool, choices: Choices, stock: Sequence[StockRow], unit: FileUnit = "mm"
) -> tuple[Setting, ...]:
    """All settings of all tapers and points of the tool, in the order in which they are wanted at the lathe."""
    figures = Figures(unit)
    rows: list[Setting] = []
    for part, surface in tapers(tool):
        blank = next((row for row in stock if row.part == part.name), None)
        rows += _angle_rows(part, surface, figures)
        rows += _slide_rows(part, surface, choices, figures)
        if blank is not None and surface.side == "outside":
            rows += _set_over_rows(part, surface, blank, figures)
        rows += _proof_rows(surface, figures)
    points = [row for part in tool.made for row in _point_rows(part)]
    last = max((index for index, row in enumerate(rows, start=1) if row.group == _SLIDE), default=len(rows))
    return (*rows[:last], *points, *rows[last:])


def _ratio(surface: Surface) -> float:
    return reckon.taper_of_half_angle(abs(surface.half_angle_deg))


def _small_end_first(surface: Surface) -> tuple[str, str]:
    """Faces at the small and the large end of a cone."""
    return (surface.near, surface.far) if surface.half_angle_deg > 0 else (surface.far, surface.near)


def _angle_rows(part: Part, surface: Surface, figures: Figures) -> Iterator[Setting]:
    group = f"{part.title}: {surface.name.replace('_', ' ')}"
    ratio, z_of = _ratio(surface), face_positions(part)
    source = surface.diameter.source
    half = abs(surface.half_angle_deg)
    per_foot = f"{reckon.taper_per_foot_in(ratio):.5f} in per ft on the diameter"
    yield Setting(group, "Taper", f"1 : {1 / ratio:.3f}", per_foot, source)
    yield Setting(group, "Half angle", figures.angle(half), f"{half:.4f} deg, swing of the top slide", source)
    beside = _gauge_distances(part, surface, figures)
    yield Setting(group, "Gauge diameter", figures.both(surface.diameter.nominal_mm, 3), beside, source)
    small, large = _small_end_first(surface)
    low, high = (diameter_at(part, surface, z_of[face], z_of) for face in (small, large))
    length = figures.length(abs(z_of[surface.far] - z_of[surface.near]))
    ends = f"{figures.bare(low, 3)}, {figures.length(high, 3)}"
    yield Setting(group, "Cone, small and large end", ends, f"{length} apart along the axis", _GEOMETRY)


def _gauge_distances(part: Part, surface: Surface, figures: Figures) -> str:
    """Where the gauge plane lies, by the lengths of the drawing that begin or end on it."""
    found = [
        f"{figures.length(one.size.nominal_mm)} from {other.replace('_', ' ')}"
        for one in part.lengths
        for here, other in ((one.face, one.from_face), (one.from_face, one.face))
        if here == surface.at
    ]
    return ", ".join(found) if found else f"at {surface.at.replace('_', ' ')}"


def _slide_rows(part: Part, surface: Surface, choices: Choices, figures: Figures) -> Iterator[Setting]:
    group = _SLIDE
    ratio, z_of = _ratio(surface), face_positions(part)
    travel = float(INCH_MM) if figures.unit == "in" else 25.0
    per = figures.length(travel)
    axial = reckon.rise_along_axis_mm(travel, ratio)
    slide = reckon.rise_along_slide_mm(travel, ratio)
    yield Setting(
        group, f"Rise per {per}, carriage", figures.length(axial, 4),
        "indicator on the flank of a finished taper (tan)", _GEOMETRY,
    )
    yield Setting(
        group, f"Rise per {per}, top slide", figures.length(slide, 4),
        "indicator on the slide, parallel bar (sin)", _GEOMETRY,
    )
    needed = reckon.slide_travel_mm(abs(z_of[surface.far] - z_of[surface.near]), ratio, _RUN_MM)
    note, source = _slide_note(needed, choices, surface, figures)
    yield Setting(group, "Top slide travel needed", figures.length(needed, 1), note, source)
    yield Setting(
        group, "Tool height", "dead on centre", "else the flank is hollow and the angle wrong",
        "chestofbooks.com, Compound slide",
    )


def _slide_note(needed_mm: float, choices: Choices, surface: Surface, figures: Figures) -> tuple[str, str]:
    """Whether the top slide reaches: by the travel given, else by what is usual for this taper, marked default."""
    run = f"{figures.length(_RUN_MM)} over at each end"
    given = choices.parameters.get(SLIDE_ADDRESS)
    if given is not None and isinstance(given.value, float | int):
        has, words, source = float(given.value), "given" if given.given else "default", given.rule
    else:
        usual = _usual_slide(surface)
        if usual is None:
            return f"{run}; measure your slide", PRACTICE
        (has, source), words = usual, "default"
    verdict = "enough" if has >= needed_mm - 0.05 else "TOO SHORT, set the tailstock over"
    return f"{run}; slide {figures.length(has)}, {words}: {verdict}", source


def _usual_slide(surface: Surface) -> tuple[float, str] | None:
    """Usual top slide travel on lathes with this taper in the tailstock, and its source; None if not listed."""
    for number in range(7):
        if abs(tables.morse(number).gauge_diameter_mm - surface.diameter.nominal_mm) > 0.01:
            continue
        swing = tables.machine_defaults(number).swing_class
        for row in tables.load("machines").rows:
            if row.text("class_swing") == swing and row.text("quantity") == "top slide travel":
                return float(row.text("usual")), row.source
    return None


def set_over_for(part: Part, surface: Surface, blank: StockRow, unit: FileUnit = "mm") -> SetOver | None:
    """Set-over for this taper on this blank with the usual centre hole at both ends; None where no hole is listed.

    Source: geometry (see `generator.reckoning.taper`); centre holes ISO 6411, choice of hole common practice.
    """
    z_of = face_positions(part)
    small, _ = _small_end_first(surface)
    end_mm = max(_LEAST_END_MM, min(diameter_at(part, surface, z_of[small], z_of), blank.bar_mm))
    try:
        hole = tables.centre_hole_for(end_mm)
    except TableError:
        return None
    ratio, mouth, pilot = _ratio(surface), hole.countersink_mm, hole.pilot_mm
    name, ball = _ball_for(mouth, pilot, unit)
    lengths = (
        reckon.length_ball_to_ball_mm(blank.faced_mm, ball, mouth, mouth),
        reckon.length_apex_to_apex_mm(blank.faced_mm, mouth, mouth),
        reckon.length_tipped_centres_mm(blank.faced_mm, (mouth, pilot), (mouth, pilot)),
    )
    moves = [reckon.set_over_mm(length, ratio) for length in lengths]
    return SetOver(
        blank.faced_mm, pilot, mouth, name, ball, lengths[0], moves[0], lengths[1], moves[1], lengths[2], moves[2]
    )


def _ball_for(mouth_mm: float, pilot_mm: float, unit: FileUnit) -> tuple[str, float]:
    """Largest stocked ball that bears well inside the hole, below the rim and clear of the pilot; 0 if there is none.

    A ball of the job's own system comes first.
    """
    fitting = [
        (row.text("ball").endswith(unit), row.number("diameter_mm"), row.text("ball"))
        for row in tables.load("balls").rows
        if pilot_mm * 1.1 <= reckon.ball_contact_diameter_mm(row.number("diameter_mm")) <= mouth_mm * 0.97
    ]
    _, size, name = max(fitting, default=(False, 0.0, ""))
    return name, size


def _set_over_rows(part: Part, surface: Surface, blank: StockRow, figures: Figures) -> Iterator[Setting]:
    found = set_over_for(part, surface, blank, figures.unit)
    if found is None:
        return
    group = "With the tailstock set over"
    hole = f"A {found.pilot_mm:g}/{found.mouth_mm:g}"
    yield Setting(
        group, "Bar between faced ends", figures.both(found.faced_mm),
        f"hole {hole} mm in both ends, before boring", "ISO 6411; this bar",
    )
    if found.ball_mm:
        yield Setting(
            group, "Set-over on balls", figures.fixed(found.ball_set_over_mm),
            f"{found.ball} balls, {figures.length(found.ball_length_mm)} between their middles",
            _GEOMETRY,
        )
    low, high = found.apex_set_over_mm, found.tipped_set_over_mm
    yield Setting(
        group, "Set-over on 60-deg centres", f"{figures.fixed(low)} to {figures.fixed(high)}",
        f"begin at the least; supports {figures.bare(found.apex_length_mm)} (apexes, worn) to "
        f"{figures.length(found.tipped_length_mm)} (sharp new holes) apart",
        "geometry; old shop rule in Turning and boring tapers, 1902",
    )
    yield Setting(
        group, "Which way", "tailstock towards you", "small end at the tailstock, tool on your side", _GEOMETRY
    )
    share = 100 * found.ball_set_over_mm / found.ball_length_mm
    yield Setting(
        group, "Set-over by length", f"{share:.1f} %",
        "wears the holes: balls, light cuts, grease; then bring back and prove with a test bar",
        PRACTICE,
    )


def _proof_rows(surface: Surface, figures: Figures) -> Iterator[Setting]:
    group = "Prove it and correct it"
    ratio = _ratio(surface)
    difference = 0.040 * float(INCH_MM) if figures.unit == "in" else 1.0
    pitch = reckon.pitch_for_difference_mm(difference, ratio)
    yield Setting(
        group, "Check cut: two flanges", f"{figures.length(pitch, 3)} apart",
        f"same edge of each; must differ by {figures.length(difference, 3)}",
        "homews.co.uk, Setting up to turn a precision taper",
    )
    yield Setting(
        group, "Next set-over", "old x wanted / found",
        f"difference wanted over {figures.length(50.0, 1)}: {figures.length(50.0 * ratio, 3)}",
        _GEOMETRY,
    )
    small_off = 0.0005 * float(INCH_MM) if figures.unit == "in" else 0.01
    off = f"{small_off / float(INCH_MM):.4f} in" if figures.unit == "in" else f"{small_off:.2f} mm"
    yield Setting(
        group, "Depth gained", f"{figures.fixed(reckon.depth_gained_mm(small_off, ratio))} for {off}",
        "further into the socket, for that off the diameter", _GEOMETRY,
    )
    yield Setting(
        group, "Blueing", "60 % or more",
        "and a whole ring at the large end; touches only there: angle too big, only at the small end: too small",
        f"{PRACTICE}; wyldar.com for the procedure",
    )


def _point_rows(part: Part) -> Iterator[Setting]:
    for surface in part.surfaces:
        if surface.role == "point":
            half = abs(surface.half_angle_deg)
            yield Setting(
                _SLIDE, "Swing for the point", f"{half:g} deg", f"{part.title.lower()}, {2 * half:g} deg included",
                "the drawing",
            )
