"""How each cut part is hatched, so that the slope or the pitch turns where two parts touch. Pure geometry."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from generator.drawing.arrangement_profile import Placed, Point, loops_of, radii_at

__all__ = ["PITCH_RATIO", "HatchStyle", "differ", "hatch_styles", "touching"]

PITCH_RATIO = 1.4
LEAST_PITCH_RATIO = 1.3
LEAST_TURN_DEG = 30.0
THIN_MM = 1.0
"""Walls thinner than this on paper are filled. Source: solid black below about 2 mm in school books; 1 mm is a shop
choice, since the rings of small bearings would come out as black blocks."""

# Inner radius, outer radius, name of the part.
Stretch = tuple[float, float, str]

_NEAR_MM = 0.6
_STEP_MM = 1e-3
_LEAST_BESIDE_MM = 0.5


@dataclass(frozen=True, slots=True)
class HatchStyle:
    """Slope and pitch on paper of a hatch; `solid` where the wall is too thin to be hatched."""

    angle_deg: float
    pitch_mm: float
    solid: bool = False


def differ(a: HatchStyle, b: HatchStyle) -> bool:
    """True if two touching parts can be told apart by their hatches."""
    if a.solid or b.solid:
        return a.solid is not b.solid
    if _turn(a, b) >= LEAST_TURN_DEG:
        return True
    return max(a.pitch_mm, b.pitch_mm) / min(a.pitch_mm, b.pitch_mm) >= LEAST_PITCH_RATIO


def _open(style: HatchStyle) -> HatchStyle:
    """The style as an enlarged view has it, where no wall is filled."""
    return replace(style, solid=False)


def _turn(a: HatchStyle, b: HatchStyle) -> float:
    turn = abs(a.angle_deg - b.angle_deg) % 180.0
    return min(turn, 180.0 - turn)


def hatch_styles(placed: Sequence[Placed], scale: float) -> dict[str, HatchStyle]:
    """A style for each cut part, by name: opposite slope where parts touch, a third one by its pitch.

    Of several orders to choose in, that counts which leaves touching parts with one slope along the least length.
    """
    cut = [p for p in placed if p.cut is not None]
    contacts = touching(placed, _NEAR_MM / scale)
    hub = max(cut, key=lambda p: (len(contacts[p.name]), p.name), default=None)
    if hub is None:
        return {}
    orders = (
        sorted(cut, key=lambda p: (-len(contacts.get(p.name, ())), p.near_z, p.name)),
        sorted(cut, key=lambda p: (p.near_z, p.name)),
        sorted(cut, key=lambda p: (-p.far_z, p.name)),
        _by_contact(cut, contacts),
        sorted(cut, key=lambda p: (-(p.far_z - p.near_z), p.name)),
        sorted(cut, key=lambda p: (p is not hub, hub.name not in contacts[p.name], p.near_z - p.far_z, p.name)),
    )
    found = [_in_order(order, contacts, scale) for order in orders]
    return min(found, key=lambda styles: _alike(styles, contacts, cut))


def _by_contact(cut: Sequence[Placed], contacts: Mapping[str, set[str]]) -> list[Placed]:
    """The part that touches most others, then what touches it, and so on outwards."""
    left = sorted(cut, key=lambda p: (-len(contacts.get(p.name, ())), p.near_z, p.name))
    order: list[Placed] = []
    while left:
        seen = {p.name for p in order}
        following = next((p for p in left if contacts.get(p.name, set()) & seen), left[0])
        left.remove(following)
        order.append(following)
    return order


def _alike(
    styles: Mapping[str, HatchStyle], contacts: Mapping[str, set[str]], cut: Sequence[Placed]
) -> tuple[int, float]:
    """How many touching pairs cannot be told apart, and along what length those of one slope lie side by side."""
    by_name = {part.name: part for part in cut}
    same, beside_mm = 0, 0.0
    for name, others in contacts.items():
        for other in (other for other in others if name < other):
            one, two = styles[name], styles[other]
            same += not differ(one, two)
            if _turn(one, two) < LEAST_TURN_DEG and not (one.solid or two.solid):
                a, b = by_name[name], by_name[other]
                beside_mm += max(_LEAST_BESIDE_MM, min(a.far_z, b.far_z) - max(a.near_z, b.near_z))
    return same, beside_mm


def _in_order(
    order: Sequence[Placed], contacts: Mapping[str, set[str]], scale: float
) -> dict[str, HatchStyle]:
    """A style for each part, chosen one after the other."""
    styles: dict[str, HatchStyle] = {}
    for part in order:
        loops = loops_of(part.upper, 1)
        thickness = _thickness(loops) * scale
        met = [styles[other] for other in sorted(contacts.get(part.name, ())) if other in styles]
        choices = _choices(loops, _pitch(thickness), 3.0 / scale, thickness < THIN_MM)
        turned = (
            c for c in choices if all(differ(c, other) and _turn(c, other) >= LEAST_TURN_DEG for other in met)
        )
        # A detail shows hatched what is filled here, so that two styles had better differ without the filling as well.
        both = (c for c in choices if all(differ(c, other) and differ(_open(c), _open(other)) for other in met))
        apart = (c for c in choices if all(differ(c, other) for other in met))
        styles[part.name] = next(turned, None) or next(both, None) or next(apart, choices[0])
    return styles


def _pitch(thickness_mm: float) -> float:
    """Pitch on paper by the wall. Source: shop choice inside the published 1.5 to 6 mm."""
    return next((pitch for most, pitch in ((6.0, 1.5), (15.0, 2.0), (40.0, 3.0)) if thickness_mm < most), 4.0)


def _thickness(loops: list[list[Point]]) -> float:
    """Mean wall in model mm: twice the area over the perimeter."""
    area = perimeter = 0.0
    for loop in loops:
        for (x0, y0), (x1, y1) in zip(loop, [*loop[1:], loop[0]], strict=True):
            area += (x0 * y1 - x1 * y0) / 2
            perimeter += math.hypot(x1 - x0, y1 - y0)
    return 4 * abs(area) / perimeter if perimeter else 0.0


def _choices(loops: list[list[Point]], pitch: float, long_mm: float, solid: bool) -> list[HatchStyle]:
    """Styles in the order in which they are wanted; no slope within 5 degrees of a long edge, in either half.

    A thin wall is filled, but hatched after all where what it touches is filled too.
    """
    edges: set[float] = set()
    for loop in loops:
        for (x0, y0), (x1, y1) in zip(loop, [*loop[1:], loop[0]], strict=True):
            if math.hypot(x1 - x0, y1 - y0) > long_mm:
                slope = math.degrees(math.atan2(y1 - y0, x1 - x0)) % 180.0
                edges.update((slope, 180.0 - slope))
    free = [
        angle
        for angle in (45.0, 135.0, 30.0, 150.0, 60.0, 120.0)
        if all(min(abs(angle - e) % 180.0, 180.0 - abs(angle - e) % 180.0) > 5.0 for e in edges)
    ] or [45.0, 135.0]
    pairs = free[:2]
    pitches = [pitch, pitch * PITCH_RATIO, pitch * PITCH_RATIO**2]
    styles = [HatchStyle(angle, p) for p in pitches for angle in pairs]
    styles += [HatchStyle(angle, p) for p in pitches[:2] for angle in free[2:]]
    return [*(replace(style, solid=True) for style in styles), *styles] if solid else styles


def touching(placed: Sequence[Placed], near_mm: float) -> dict[str, set[str]]:
    """Names of the cut parts that touch each cut part (or come nearer than `near_mm`)."""
    cut = [p for p in placed if p.cut is not None]
    found: dict[str, set[str]] = {p.name: set() for p in cut}
    for z in _marks(cut):
        before, after = _stations(cut, z - _STEP_MM), _stations(cut, z + _STEP_MM)
        for station in (before, after):
            for name, other in _side_by_side(station, near_mm):
                found[name].add(other)
                found[other].add(name)
        far_before, far_after = _stations(cut, z - near_mm), _stations(cut, z + near_mm)
        for left, right in ((before, after), (before, far_after), (far_before, after)):
            for name, other in _end_to_end(left, right):
                found[name].add(other)
                found[other].add(name)
    return found


def _marks(placed: Iterable[Placed]) -> list[float]:
    return sorted({z for p in placed for s in p.upper for z in (s.z0, s.z1)})


def _stations(placed: Iterable[Placed], z: float) -> list[Stretch]:
    """Radial stretches of material at z."""
    found = []
    for part in placed:
        radii = radii_at(part.upper, z) if part.is_cut_at(z) else None
        if radii is not None and radii[1] - radii[0] > _STEP_MM:
            found.append((*radii, part.name))
    return sorted(found)


def _side_by_side(station: list[Stretch], near_mm: float) -> Iterable[tuple[str, str]]:
    for (_, outer, name), (inner, _, other) in pairwise(station):
        if inner - outer < near_mm:
            yield name, other


def _end_to_end(left: list[Stretch], right: list[Stretch]) -> Iterable[tuple[str, str]]:
    for inner, outer, name in left:
        for low, high, other in right:
            if name != other and min(outer, high) - max(inner, low) > 0.05:
                yield name, other
