"""Ways out where a seat or a pocket is missed: the bearing in hand, compound, another bearing, a sleeve."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf

from generator.description import Part, Size, Surface, Tool, face_positions, nominal_positions, outline
from generator.tables import load

__all__ = ["Held", "all_held", "fit_ways", "held_by"]

BOND_BEST_MM = 0.05
"""Most clearance at which compound is strong and centres well. Common practice, no source (table retaining_rules)."""
SLEEVE_WALL_MM = 2.0
"""Wall of a sleeve that can be pressed or bonded in and then bored or turned. Shop choice."""
CORE_SHARE = 0.75
"""Least share of a seat's diameter that must stay under a sleeve. Shop choice."""
_CLOSE_MM = 1e-6
_SAME_MM = 0.5


@dataclass(frozen=True, slots=True)
class Held:
    """What sits on a seat or in a pocket: a bearing by its designation, or the made part that is its mate.

    `size` is the bore or outside diameter that meets the surface; `wall_mm` is the metal that surface has behind it,
    `other_mm` the bearing's other diameter and `width_mm` its width.
    """

    title: str
    size: Size
    wall_mm: float
    is_bearing: bool
    other_mm: float = 0.0
    width_mm: float = 0.0


def held_by(tool: Tool, part: Part, surface: Surface) -> Held | None:
    """The bearing or made part that sits on this seat or in this pocket, or None for any other surface."""
    return next(all_held(tool, part, surface), None)


def all_held(tool: Tool, part: Part, surface: Surface) -> Iterator[Held]:
    """Everything that sits on this seat or in this pocket: one seat may carry several bearings.

    Source: the description.
    """
    if surface.role not in {"seat", "pocket"}:
        return
    inside = surface.side.startswith("inside")
    here = _span(tool, part, surface)
    for other in tool.parts.values():
        if other.name == part.name or other.neighbour:
            continue
        for mate in other.surfaces:
            faces = mate.side == ("outside" if inside else "inside") and not mate.at
            near = abs(mate.diameter.nominal_mm - surface.diameter.nominal_mm) <= _SAME_MM
            if faces and near and _overlap(here, _span(tool, other, mate)):
                yield _held(tool, part, surface, other, mate)
                break


def _held(tool: Tool, part: Part, surface: Surface, other: Part, mate: Surface) -> Held:
    bearing = bool(other.bought and other.item)
    rest = [p for p in tool.parts.values() if bearing and p.item == other.item]
    bores = [s.diameter.nominal_mm for p in rest for s in p.surfaces if s.side == "inside"]
    outsides = [s.diameter.nominal_mm for p in rest for s in p.surfaces if s.side == "outside"]
    beyond = (max(outsides) if mate.side == "inside" else min(bores)) if bearing else 0.0
    width = max((one.size.nominal_mm for one in other.lengths), default=0.0)
    return Held(other.title, mate.diameter, _wall(part, surface), bearing, beyond, width)


def _span(tool: Tool, part: Part, surface: Surface) -> tuple[float, float]:
    place = nominal_positions(tool)
    low, high = sorted(place[f"{part.name}/{face}"] for face in (surface.near, surface.far))
    return low, high


def _overlap(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return min(one[1], other[1]) - max(one[0], other[0]) > _CLOSE_MM


def _wall(part: Part, surface: Surface) -> float:
    """Metal behind a cylinder along its length: to the outside of the part, or to its bore or axis."""
    found = outline(part)
    low, high = found.z_of[surface.near], found.z_of[surface.far]
    radius = surface.diameter.nominal_mm / 2
    inside = surface.side.startswith("inside")
    edges = [e for e in (found.outer if inside else found.inner) if not e.is_face and e.z0 < high and e.z1 > low]
    radii = [r for e in edges for r in (e.r0, e.r1)]
    if inside:
        return min(radii, default=inf) - radius
    return radius - max(radii, default=0.0)


# --- ways ----------------------------------------------------------------------------------------------------------


def fit_ways(
    part: Part, surface: Surface, held: Held, over_mm: float, drawer: Sequence[tuple[str, float]]
) -> tuple[str, list[str]]:
    """What a missed fit is worth, and the ways out, best first."""
    size = surface.diameter
    inside = surface.side.startswith("inside")
    came_out = size.high + over_mm if inside else size.low - over_mm
    most_drawn = size.high - held.size.low if inside else held.size.high - size.low
    most_now = most_drawn + over_mm
    if not held.is_bearing:
        return "mate to suit", [
            f"make the {held.title.lower()} {over_mm:.2f} mm {'larger' if inside else 'smaller'} than drawn on its "
            "diameter, a new one if it is finished already",
            *([_bond(most_now)] if 0 < most_now <= _largest_gap_mm() else []),
        ]
    span = most_drawn + _CLOSE_MM
    tightest = held.size.high if inside else held.size.low
    ways: list[str] = []
    if held.size.measured_mm is None and abs(came_out - tightest) <= span:
        bound = came_out - most_drawn if inside else came_out + most_drawn
        ways.append(f"still good if the bearing measures {bound:.3f} mm or {'more' if inside else 'less'}: measure it")
    ways += [
        f"{name} from the drawer measures {mm:.3f} mm: it fits"
        for name, mm in drawer
        if inside and 0.0 <= came_out - mm <= span and abs(mm - held.size.nominal_mm) < _SAME_MM
    ]
    verdict = "depends on the bearing" if ways else ""
    if most_now <= _largest_gap_mm():
        ways.append(_bond(most_now))
        verdict = verdict or "retaining compound"
    more = [*_other_bearing(part, surface, held, came_out), *_sleeve(part, surface, held)]
    verdict = verdict or ("another bearing or a sleeve" if more else "scrap")
    return verdict, ways + more or ["new piece"]


def _grades() -> list[tuple[float, str]]:
    """Gap and name of every grade, the least gap first, those for bearings before others."""
    rows = load("retaining").rows
    return [
        (row.number("gap_max_mm"), row.text("grade"))
        for row in sorted(rows, key=lambda row: (row.number("gap_max_mm"), "bearing" not in row.text("grade")))
    ]


def _largest_gap_mm() -> float:
    return _grades()[-1][0]


def _bond(gap_mm: float) -> str:
    """Which compound fills this gap, and how the bearing is kept central while it cures."""
    grade = next((name for most, name in _grades() if gap_mm <= most + _CLOSE_MM), "")
    central = "" if gap_mm <= BOND_BEST_MM else ", kept central by shims"
    if not grade:
        return "no compound fills that"
    return f"compound ({grade}) for a gap of up to {gap_mm:.3f} mm{central}"


def _other_bearing(part: Part, surface: Surface, held: Held, came_out_mm: float) -> Iterator[str]:
    """The next bearing of the table that needs more metal away, and leaves the wall."""
    inside = surface.side.startswith("inside")
    mine, kept = ("outside_mm", "bore_mm") if inside else ("bore_mm", "outside_mm")
    opening_mm = _way_on_mm(part, surface)
    found = []
    for row in load("rings").rows:
        size = row.number(mine)
        beyond = size > came_out_mm if inside else size < came_out_mm
        beyond = beyond and (opening_mm is None or ((size < opening_mm) if inside else (size > opening_mm)))
        same = abs(row.number(kept) - held.other_mm) < _CLOSE_MM and row.text("type") == "deep groove"
        room = _left(part, surface, held, size)
        if beyond and same and room:
            found.append((abs(size - came_out_mm), abs(row.number("width_mm") - held.width_mm), row))
    if not found:
        return
    row = min(found, key=lambda one: one[:2])[2]
    sizes = " x ".join(f"{row.number(c):g}" for c in ("bore_mm", "outside_mm", "width_mm"))
    where = f"bore to {row.number(mine):g}" if inside else f"turn down to {row.number(mine):g}"
    yield f"bearing {row.text('designation')} ({sizes}) instead: {where} mm, run the job again"


def _way_on_mm(part: Part, surface: Surface) -> float | None:
    """What a bearing must pass on its way: the narrowest bore ahead of a pocket, the thickest place behind a seat."""
    z_of = face_positions(part)
    if surface.side.startswith("inside"):
        ahead = [s for s in part.surfaces if s.side == "inside" and z_of[s.near] >= z_of[surface.far] - 1e-6]
        return min((s.diameter.nominal_mm for s in ahead), default=None)
    behind = [s for s in part.surfaces if s.side == "outside" and z_of[s.far] <= z_of[surface.near] + 1e-6]
    return max((s.diameter.nominal_mm for s in behind), default=None)


def _left(part: Part, surface: Surface, held: Held, size_mm: float) -> bool:
    """True where the part keeps enough metal with its surface at this diameter."""
    now = surface.diameter.nominal_mm
    if surface.side.startswith("inside"):
        return held.wall_mm - (size_mm - now) / 2 >= part.least_wall_mm
    return size_mm >= CORE_SHARE * now and held.wall_mm - (now - size_mm) / 2 >= part.least_wall_mm


def _sleeve(part: Part, surface: Surface, held: Held) -> Iterator[str]:
    inside = surface.side.startswith("inside")
    now = surface.diameter.nominal_mm
    size = now + 2 * SLEEVE_WALL_MM if inside else now - 2 * SLEEVE_WALL_MM
    if not _left(part, surface, held, size):
        return
    yield f"sleeve: {'bore' if inside else 'turn down'} to {size:g} mm for it"
