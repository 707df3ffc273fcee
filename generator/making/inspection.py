"""What to measure on the finished parts, with which instrument, and which bought pieces to measure before cutting."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generator.description import ChainResult, Length, Part, Relation, Size, Surface, Tool, outline
from generator.fittings.shank import CONTACT_PERCENT
from generator.making.figures import Figures
from generator.units import FileUnit

__all__ = ["InspectionRow", "RingRow", "bought_rings", "inspection_rows"]


@dataclass(frozen=True, slots=True)
class InspectionRow:
    """One characteristic to measure: where, what, how large, within which limits (in the unit of the job), with what.

    `number` counts the characteristics of one part from 1, as balloons do. `low_mm` and `high_mm` are the limits as
    figures, None where a reading is no length (a thread, the share of a cone that bears).
    """

    address: str
    what: str
    nominal: str
    limits: str
    instrument: str
    number: int = 0
    low_mm: float | None = None
    high_mm: float | None = None


@dataclass(frozen=True, slots=True)
class RingRow:
    """A bought ring to be measured before anything is cut to it; limits as texts, in the unit of the job."""

    item: str
    order: str
    bore: str
    outside: str
    width: str
    measured: bool


def inspection_rows(tool: Tool, chains: Sequence[ChainResult] = (), unit: FileUnit = "mm") -> tuple[InspectionRow, ...]:
    """What on the made parts matters and a shop's own instruments can measure, part by part, numbered in each.

    Sizes that the general tolerance governs are left to a caliper and to the drawing. Run-outs come last.
    """
    figures = Figures(unit)
    fits = {result.gap.fit: result for result in chains if result.gap.fit}
    return tuple(
        replace(row, number=number)
        for part in tool.made
        for number, row in enumerate(_of_part(part, figures, fits), start=1)
    )


def _of_part(part: Part, figures: Figures, fits: dict[str, ChainResult]) -> Iterator[InspectionRow]:
    for surface in part.surfaces:
        row = _of_surface(part, surface, figures)
        if row is not None:
            yield row
    for length in part.lengths:
        if _is_left_out(length.size):
            continue
        address = f"{part.name}/{length.name}"
        words = f"{_plain(length.face)} from {_plain(length.from_face)}"
        yield _sized(address, words, length.size, figures, _length_gauge(part, length), fits.get(address))
    for cross in part.cross:
        for name, size in cross.sizes.items():
            if not _is_left_out(size):
                yield _sized(f"{part.name}/{cross.name}", f"{cross.kind}, {name}", size, figures, _outside_gauge(size))
    for zone in part.zones:
        if zone.form == "thread":
            yield InspectionRow(f"{part.name}/{zone.name}", "thread", zone.text, "", "its mate, or a gauge")
    for relation in part.relations:
        yield _run_out(part, relation, figures)


def _run_out(part: Part, relation: Relation, figures: Figures) -> InspectionRow:
    """A run-out as the indicator shows it, at three places of the surface."""
    return InspectionRow(
        f"{part.name}/{relation.surface}/{relation.kind}", f"{relation.kind} to {_plain(relation.datum)}", "",
        f"{figures.at_most(relation.limit_mm)} or less", "dial test indicator, three places", 0, 0.0,
        relation.limit_mm,
    )


def _of_surface(part: Part, surface: Surface, figures: Figures) -> InspectionRow | None:
    address = f"{part.name}/{surface.name}"
    if surface.role == "taper":
        return InspectionRow(
            address, "contact in the socket", "", f"{CONTACT_PERCENT} % or more", "marking blue"
        )
    if surface.role in {"chamfer", "drill point", "thread"} or _is_left_out(surface.diameter):
        return None
    inside = surface.side.startswith("inside")
    gauge = _inside_gauge(surface.diameter) if inside else _outside_gauge(surface.diameter)
    what = f"{'bore' if inside else 'diameter'} {surface.diameter.tolerance_class}".strip()
    return _sized(address, what, surface.diameter, figures, gauge)


def _sized(
    address: str, what: str, size: Size, figures: Figures, gauge: str, fit: ChainResult | None = None
) -> InspectionRow:
    limits = _limits(size, figures)
    low, high = size.low, size.high
    if fit is not None and fit.fit_low_mm is not None and fit.fit_high_mm is not None:
        low, high = sorted((fit.fit_low_mm, fit.fit_high_mm))
        limits = f"expected {figures.within(low, high)}"
        if size.fitted:
            limits = f"{figures.prose(size.fitted)}; {limits}"
    elif size.fitted:
        limits = f"{figures.prose(size.fitted)} ({limits})"
    return InspectionRow(address, what, figures.bare(size.nominal_mm, 3), limits, gauge, 0, low, high)


def _limits(size: Size, figures: Figures) -> str:
    return figures.within(size.low, size.high)


def _is_left_out(size: Size) -> bool:
    return size.derived or size.basic or size.general


def _width(size: Size) -> float:
    return size.upper_mm - size.lower_mm


def _outside_gauge(size: Size) -> str:
    """Common practice, no source: the instrument reads a tenth to a quarter of the tolerance."""
    return "micrometer" if _width(size) <= 0.12 else "caliper"


def _inside_gauge(size: Size) -> str:
    if _width(size) > 0.12:
        return "caliper"
    return "bore gauge"


def _length_gauge(part: Part, length: Length) -> str:
    """How a length is reached: over all, down into a hole, or from a plane that only a socket shows."""
    faces = {length.face, length.from_face}
    if any(surface.role == "taper" and surface.at in faces for surface in part.surfaces):
        return "pushed home in a gauge or the quill: caliper from its face"
    if _width(length.size) > 0.12:
        return "caliper"
    whole = outline(part)
    ends = {round(whole.z_of[face], 6) for face in faces}
    return "micrometer" if ends == {round(whole.near_z, 6), round(whole.far_z, 6)} else "depth micrometer"


def _plain(name: str) -> str:
    return name.replace("_", " ").replace("/", " ")


# --- bought rings ------------------------------------------------------------------------------------------------


def bought_rings(tool: Tool, unit: FileUnit = "mm") -> tuple[RingRow, ...]:
    """Every bearing of the tool, one row each, front to rear as the tool lists them."""
    figures = Figures(unit)
    groups: dict[str, list[Part]] = {}
    for part in tool.parts.values():
        if part.bought and part.item:
            groups.setdefault(part.item, []).append(part)
    return tuple(_ring_row(item, parts, figures) for item, parts in groups.items() if _is_ring(parts))


def _is_ring(parts: Sequence[Part]) -> bool:
    """A bearing: balls are drawn in it, or it is an inner and an outer ring that are one item."""
    return any(part.balls for part in parts) or len(parts) > 1


def _ring_row(item: str, parts: Sequence[Part], figures: Figures) -> RingRow:
    surfaces = [surface for part in parts for surface in part.surfaces]
    bore = min((s.diameter for s in surfaces if s.side == "inside"), key=lambda size: size.nominal_mm)
    outside = max((s.diameter for s in surfaces if s.side == "outside"), key=lambda size: size.nominal_mm)
    widths = [length.size for part in parts for length in part.lengths]
    width = max(widths, key=lambda size: size.nominal_mm)
    measured = all(size.measured_mm is not None for size in (bore, outside, width))
    # What was bought keeps no limits of ours: to the nearest, as lists of bearings print them.
    limits = [f"{figures.bare(size.low, 3)} to {figures.bare(size.high, 3)}" for size in (bore, outside, width)]
    return RingRow(_plain(item), parts[0].bought, limits[0], limits[1], limits[2], measured)
