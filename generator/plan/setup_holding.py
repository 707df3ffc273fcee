"""How the work is held, as simple shapes beside its picture: jaws, socket, centre, steady, carrier, vice."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians, tan

from generator.ink.pen import Pen
from generator.making.setups import SetUp
from generator.plan.clearing import End
from generator.plan.picture_frame import THIN_MM, Place, hatch
from generator.plan.workpiece import OTHER, History, Workpiece

__all__ = ["SIDE_MM", "draw_holding"]

SIDE_MM = 20.0
"""Paper kept free for chuck and centre on either side of the work."""

_BODY_MM = 9.0
_JAW_MM = 7.0
_CENTRE_HALF_DEG = 30.0
_GRIP_MM = 20.0
_TIP_MM, _HOLLOW_MM, _POINTED_MM = 3.0, 6.0, 4.0
_STEADY_MM = 8.0
_WORDS = {"soft jaws": "soft jaws", "three-jaw": "three-jaw", "four-jaw": "four-jaw", "bar": "chuck"}


def draw_holding(
    pen: Pen, history: History, setup: SetUp, piece: Workpiece, place: Place
) -> Iterator[tuple[str, float]]:
    """Draws what holds and carries the work; yields the word for each shape and where along the paper it stands."""
    right = history.worked_end(setup)
    left = OTHER[right]
    words = setup.holding.casefold()
    if setup.located == "finished taper":
        yield from _socket(pen, history, setup, place)
    elif setup.located == "mandrel":
        yield from _mandrel(pen, history, setup, piece, place)
    elif setup.located == "centres":
        if "chuck" in words or (setup.grip_mm and "carrier" not in words):
            yield from _jaws(pen, history, setup, piece, place, left)
        else:
            yield from _centre(pen, piece, place, left)
            yield from _carrier(pen, history, setup, piece, place, left)
        yield from _centre(pen, piece, place, right)
    elif setup.located == "bench":
        if "tongs" not in words:
            yield from _vice(pen, history, setup, piece, place)
    elif setup.located != "own bearings":
        yield from _jaws(pen, history, setup, piece, place, left)
    if setup.located != "centres" and setup.support == "centre":
        yield from _centre(pen, piece, place, right)
    if setup.support == "steady":
        yield from _steady(pen, piece, place, right)


def _end_z(piece: Workpiece, end: End) -> float:
    return piece.low_z if end == "near" else piece.high_z


def _bar_end_z(history: History, piece: Workpiece, end: End) -> float:
    """The end of the bar, beyond where the piece was parted off."""
    z = _end_z(piece, end)
    if piece.parted is None or abs(piece.parted - z) > 1e-6:
        return z
    beyond = history.bar_beyond_mm(end)
    return z - beyond if end == "near" else z + beyond


def _largest(piece: Workpiece, low: float, high: float) -> float:
    found = [max(e.r0, e.r1) for e in piece.outer if e.z0 < high - 1e-6 and e.z1 > low + 1e-6]
    return max(found, default=max(max(e.r0, e.r1) for e in piece.outer))


def _gripped(history: History, setup: SetUp, piece: Workpiece, end: End) -> tuple[float, float]:
    """From where to where jaws hold: on a finished surface or on the bar, as long as the set-up says."""
    held = history.held(setup)
    length = setup.grip_mm or (history.bar_beyond_mm(end) if held is None else None) or _GRIP_MM
    if held is None:
        back, free = _bar_end_z(history, piece, end), _end_z(piece, OTHER[end])
        towards = 1.0 if end == "near" else -1.0
        front = back + towards * length if setup.out_mm is None else free - towards * setup.out_mm
        low, high = sorted((back, front))
        return (low, high) if (front - back) * towards > 0 else (back, back + towards * 1.0)
    low, high = held
    if setup.grip_mm is None:
        return low, high
    return (low, min(high, low + length)) if end == "near" else (max(low, high - length), high)


def _jaws(
    pen: Pen, history: History, setup: SetUp, piece: Workpiece, place: Place, end: End
) -> Iterator[tuple[str, float]]:
    """Two jaws on the work, and the chuck's face behind them."""
    low, high = _gripped(history, setup, piece, end)
    radius = _largest(piece, low, high) if piece.parted is None or history.held(setup) else history.bar_radius_mm
    xs = sorted((place.x(low), place.x(high)))
    bar = place.x(_bar_end_z(history, piece, end))
    back = max(1.5, min(xs[0], bar) - 3.0)
    for sign in (1, -1):
        edge = place.axis_y + sign * radius * place.scale
        top = edge + sign * _JAW_MM
        corners = [(back, edge), (xs[1], edge), (xs[1], top), (back, top)]
        pen.line(corners, 0.5, closed=True)
        if setup.located == "soft jaws":
            hatch(pen, corners)
    reach = radius * place.scale + _JAW_MM
    front = max(back - _BODY_MM, 0.6)
    pen.line([(back, place.axis_y + reach), (front, place.axis_y + reach), (front, place.axis_y - reach),
              (back, place.axis_y - reach)], 0.5, closed=True)  # fmt: skip
    name = "collet" if "collet" in setup.holding.casefold() else _WORDS.get(setup.located, "chuck")
    yield name, (front + xs[1]) / 2


def _socket(pen: Pen, history: History, setup: SetUp, place: Place) -> Iterator[tuple[str, float]]:
    """The spindle's nose round the taper."""
    held = history.held(setup) or history.span_of(setup.locates_on)
    if held is None:
        return
    surface = next(
        (history.part.by_name[name] for address in (setup.grips, setup.locates_on)
         if (name := address.partition("/")[2]) in history.part.by_name), None,
    )  # fmt: skip
    ends = {}
    for z in held:
        radii = [_at(e.r0, e.r1, e.z0, e.z1, z) for e in history.after(setup.number).outer
                 if e.z0 - 1e-6 <= z <= e.z1 + 1e-6 and (surface is None or e.name == surface.name)]  # fmt: skip
        ends[z] = max(radii, default=0.0)
    outside = max(ends.values()) * place.scale + 6.0
    for sign in (1, -1):
        corners = [
            (place.x(held[0]), place.axis_y + sign * (ends[held[0]] * place.scale + 0.5)),
            (place.x(held[1]), place.axis_y + sign * (ends[held[1]] * place.scale + 0.5)),
            (place.x(held[1]), place.axis_y + sign * outside),
            (place.x(held[0]), place.axis_y + sign * outside),
        ]
        pen.line(corners, THIN_MM, closed=True)
        hatch(pen, corners)
    yield "spindle's taper", (place.x(held[0]) + place.x(held[1])) / 2


def _at(r0: float, r1: float, z0: float, z1: float, z: float) -> float:
    return r0 if z1 <= z0 else r0 + (z - z0) / (z1 - z0) * (r1 - r0)


def _mandrel(
    pen: Pen, history: History, setup: SetUp, piece: Workpiece, place: Place
) -> Iterator[tuple[str, float]]:
    """A rod through the bore, out on both sides."""
    radii = [min(e.r0, e.r1) for e in piece.inner]
    radius = min(radii, default=0.0) * place.scale
    ends = sorted((place.x(piece.low_z), place.x(piece.high_z)))
    left, right = ends[0] - SIDE_MM * 0.7, ends[1] + SIDE_MM * 0.5
    pen.line([(left, place.axis_y - radius), (right, place.axis_y - radius), (right, place.axis_y + radius),
              (left, place.axis_y + radius)], 0.5, closed=True)  # fmt: skip
    yield "mandrel", left + 8.0


def _mouth(piece: Workpiece, end: End) -> float:
    z = _end_z(piece, end)
    radii = [r for e in piece.inner for at, r in ((e.z0, e.r0), (e.z1, e.r1)) if abs(at - z) < 1e-6]
    return max(radii, default=0.0)


def _centre(pen: Pen, piece: Workpiece, place: Place, end: End) -> Iterator[tuple[str, float]]:
    """A 60 degree point in the hole of an end, on the mouth of the bore where there is one; a hollow one on a tip."""
    away = -1.0 if (end == "far") == place.flipped else 1.0
    x, y = place.x(_end_z(piece, end)), place.axis_y
    slope = tan(radians(_CENTRE_HALF_DEG))
    tip, z = (piece.outer[0].r0 if end == "near" else piece.outer[-1].r1), _end_z(piece, end)
    behind = _largest(piece, *sorted((z, z + (_POINTED_MM if end == "near" else -_POINTED_MM))))
    if behind > 1.5 * tip and tip * place.scale < _TIP_MM and not _mouth(piece, end):
        mouth, back = x - away * _HOLLOW_MM, x + away * _HOLLOW_MM
        low, high = _HOLLOW_MM * slope + tip * place.scale, _HOLLOW_MM * slope + 3.5
        pen.line([(x, y), (mouth, y + low), (mouth, y + high), (back, y + high), (back, y - high), (mouth, y - high),
                  (mouth, y - low)], 0.5, closed=True)  # fmt: skip
        yield "hollow centre", back
        return
    radius = max(_mouth(piece, end) * place.scale, 1.6)
    point = x - away * radius / slope
    large = max(radius + 2.5, 5.0)
    root = point + away * large / slope
    back = root + away * 3.0
    pen.line([(point, y), (root, y + large), (back, y + large), (back, y - large), (root, y - large)], 0.5, closed=True)
    yield "centre", back


def _carrier(
    pen: Pen, history: History, setup: SetUp, piece: Workpiece, place: Place, end: End
) -> Iterator[tuple[str, float]]:
    """A carrier on what the set-up says it grips, else on the end of the work, with its tail."""
    inwards = 1.0 if (end == "far") == place.flipped else -1.0
    held = history.held(setup)
    start = _end_z(piece, end) if held is None else held[1] if end == "far" else held[0]
    x = place.x(start) + inwards * (3.0 if held is None else 0.5)
    other = x + inwards * 5.0
    low, high = sorted((start, start + (other - place.x(start)) / place.scale * (-1 if place.flipped else 1)))
    radius = _largest(piece, low, high) * place.scale
    for sign in (1, -1):
        y = place.axis_y + sign * radius
        pen.line([(x, y), (other, y), (other, y + sign * 5.0), (x, y + sign * 5.0)], 0.5, closed=True)
    tail = place.axis_y + radius + 5.0
    pen.line([(x, tail), (x - inwards * 8.0, tail), (x - inwards * 8.0, tail - 2.5), (x, tail - 2.5)], 0.5)
    yield "carrier", (x + other) / 2


def _steady(pen: Pen, piece: Workpiece, place: Place, end: End) -> Iterator[tuple[str, float]]:
    """Two fingers of a steady near the free end."""
    free = _end_z(piece, end)
    length = piece.high_z - piece.low_z
    inwards_mm = min(0.18 * length, _STEADY_MM)
    z = free - inwards_mm if end == "far" else free + inwards_mm
    radius = _largest(piece, z - 1.0, z + 1.0) * place.scale
    x = place.x(z)
    for sign in (1, -1):
        y = place.axis_y + sign * radius
        pen.line([(x - 1.5, y), (x + 1.5, y), (x + 3.0, y + sign * 6.0), (x - 3.0, y + sign * 6.0)], 0.5, closed=True)
    yield "steady", x


def _vice(
    pen: Pen, history: History, setup: SetUp, piece: Workpiece, place: Place
) -> Iterator[tuple[str, float]]:
    """The jaws of a vice or the blocks of a dividing head on what is held; nothing where the set-up does not say."""
    held = history.held(setup)
    if held is None:
        return
    radius = _largest(piece, *held) * place.scale
    xs = sorted((place.x(held[0]), place.x(held[1])))
    for sign in (1, -1):
        y = place.axis_y + sign * radius
        pen.line([(xs[0], y), (xs[1], y), (xs[1], y + sign * 5.0), (xs[0], y + sign * 5.0)], THIN_MM, closed=True)
    yield "held here", (xs[0] + xs[1]) / 2
