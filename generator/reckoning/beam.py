"""A stepped spindle on two or more rings, solved whole, so that three rings are no harder than two.

The spindle is cut into beam elements (Euler-Bernoulli, two degrees of freedom at each node). Places in mm from one
end, forces in N, positive the same way as the deflection; what a ring bears is positive when the spindle presses it the
way a positive load does. Stiffness of a ring in N/um, zero standing for one that does not give.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from generator.reckoning.amounts import need
from generator.reckoning.bending import STEEL_MPA, second_moment_mm4

__all__ = [
    "Beam", "Load", "Section", "Shoulder", "Solution", "Support", "shoulders_of", "solve_beam",
]

MOST_SUPPORTS = 6

Matrix = list[list[float]]


class Section(NamedTuple):
    """One length of the spindle; `fillet_mm` is the radius at the shoulder towards the next one."""

    length_mm: float
    diameter_mm: float
    bore_mm: float = 0.0
    fillet_mm: float = 0.0


class Support(NamedTuple):
    """A ring on the spindle; stiffness zero means that it does not give."""

    place_mm: float
    stiffness_n_um: float = 0.0


class Load(NamedTuple):
    """A force across the spindle."""

    place_mm: float
    force_n: float


class Beam(NamedTuple):
    """The spindle with what bears and loads it."""

    sections: tuple[Section, ...]
    supports: tuple[Support, ...]
    loads: tuple[Load, ...]
    modulus_mpa: float = STEEL_MPA


class Solution(NamedTuple):
    """What the spindle does at every named place; between them its line is a cubic, so nothing is lost."""

    places_mm: tuple[float, ...]
    deflections_mm: tuple[float, ...]
    slopes: tuple[float, ...]
    moments_n_mm: tuple[float, ...]
    borne_n: tuple[float, ...]

    def deflection_at_mm(self, place_mm: float) -> float:
        """The deflection at a named place."""
        return self.deflections_mm[_node(self.places_mm, place_mm)]

    def moment_at_n_mm(self, place_mm: float) -> float:
        """The bending moment at a named place."""
        return self.moments_n_mm[_node(self.places_mm, place_mm)]

    def extremes(self) -> tuple[tuple[float, float], ...]:
        """Place and deflection of every node and of every crest between two nodes, from one end on."""
        found = [(self.places_mm[0], self.deflections_mm[0])]
        for number in range(1, len(self.places_mm)):
            found += self._crests(number)
            found.append((self.places_mm[number], self.deflections_mm[number]))
        return tuple(found)

    def _crests(self, number: int) -> list[tuple[float, float]]:
        """Where the slope of one element's cubic is zero inside it."""
        start, length = self.places_mm[number - 1], self.places_mm[number] - self.places_mm[number - 1]
        first, last = self.deflections_mm[number - 1 : number + 1]
        in_slope, out_slope = (length * slope for slope in self.slopes[number - 1 : number + 1])
        cube = 2 * first - 2 * last + in_slope + out_slope
        square = -3 * first + 3 * last - 2 * in_slope - out_slope
        inside = sorted(share for share in _roots(3 * cube, 2 * square, in_slope) if 0.0 < share < 1.0)
        return [
            (start + share * length, first + share * (in_slope + share * (square + share * cube))) for share in inside
        ]


def _roots(square: float, single: float, alone: float) -> list[float]:
    if abs(square) < 1e-12 * (abs(single) + abs(alone)) or square == 0:
        return [-alone / single] if single else []
    under = single * single - 4 * square * alone
    if under < 0:
        return []
    # The stable form: the larger root by the formula, the other by their product.
    half = -(single + math.copysign(math.sqrt(under), single)) / 2
    return [half / square, *([alone / half] if half else [])]


class Shoulder(NamedTuple):
    """A step in diameter: its place, both diameters, bore and fillet."""

    place_mm: float
    large_mm: float
    small_mm: float
    bore_mm: float
    fillet_mm: float


def shoulders_of(sections: Sequence[Section]) -> tuple[Shoulder, ...]:
    """Every step in diameter along the spindle.

    Source: geometry.
    """
    found, place = [], 0.0
    for here, after in pairwise(sections):
        place += here.length_mm
        if here.diameter_mm != after.diameter_mm:
            small, large = sorted((here, after), key=lambda section: section.diameter_mm)
            found.append(Shoulder(place, large.diameter_mm, small.diameter_mm, small.bore_mm, here.fillet_mm))
    return tuple(found)


def solve_beam(beam: Beam, points_mm: Sequence[float] = ()) -> Solution:
    """Deflections, slopes, moments and what each ring bears, at every step, ring, load and named point.

    Raises: RangeError for a spindle that cannot stand.
    Source: Euler-Bernoulli beam elements, stiffness method (any structural textbook).
    """
    places = _places(beam, points_mm)
    elements = _elements(beam, places)
    at = [2 * _node(places, support.place_mm) for support in beam.supports]
    stiff = {node for node, support in zip(at, beam.supports, strict=True) if support.stiffness_n_um == 0}
    stiffness = _assembled(elements)
    sprung = [row[:] for row in stiffness]
    for node, support in zip(at, beam.supports, strict=True):
        sprung[node][node] += 1000.0 * support.stiffness_n_um
    force = [0.0] * len(stiffness)
    for load in beam.loads:
        force[2 * _node(places, load.place_mm)] += load.force_n
    moved = _solved(sprung, force, stiff)
    # What a ring bears is what the load on it does not use to bend the spindle.
    near = {node: range(max(0, node - 3), min(len(moved), node + 4)) for node in at}
    borne = [force[node] - sum(stiffness[node][other] * moved[other] for other in near[node]) for node in at]
    ends = [moved[2 * number : 2 * number + 4] for number in range(len(elements))]
    moments = [
        sum(share * end for share, end in zip(element[1], moves, strict=True))
        for element, moves in zip(elements, ends, strict=True)
    ]
    # The free end carries no moment; what the elimination leaves there is noise.
    moments[0] = 0.0
    return Solution(tuple(places), tuple(moved[::2]), tuple(moved[1::2]), (*moments, 0.0), tuple(borne))


def _assembled(elements: Sequence[Matrix]) -> Matrix:
    """The stiffness of the whole spindle; no entry lies further than three places from the diagonal."""
    size = 2 * len(elements) + 2
    whole = [[0.0] * size for _ in range(size)]
    for number, element in enumerate(elements):
        for row, shares in enumerate(element):
            for column, share in enumerate(shares):
                whole[2 * number + row][2 * number + column] += share
    return whole


def _solved(matrix: Matrix, force: Sequence[float], held: set[int]) -> list[float]:
    """What moves under the forces where the places `held` do not: elimination within the band, no exchange of rows."""
    size = len(matrix)
    rows, right = [row[:] for row in matrix], list(force)
    for place in held:
        for other in range(max(0, place - 3), min(size, place + 4)):
            rows[place][other] = rows[other][place] = 0.0
        rows[place][place], right[place] = 1.0, 0.0
    for pivot in range(size):
        for below in range(pivot + 1, min(size, pivot + 4)):
            factor = rows[below][pivot] / rows[pivot][pivot]
            for column in range(pivot, min(size, pivot + 4)):
                rows[below][column] -= factor * rows[pivot][column]
            right[below] -= factor * right[pivot]
    for place in reversed(range(size)):
        beyond = range(place + 1, min(size, place + 4))
        right[place] = (right[place] - sum(rows[place][b] * right[b] for b in beyond)) / rows[place][place]
    return right


def _places(beam: Beam, points_mm: Sequence[float]) -> list[float]:
    """All named places in order, those closer than a micron taken as one."""
    total = _checked_length(beam)
    for point in points_mm:
        need("place of a point", point, "mm", least=0, most=total)
    ends = [0.0]
    for section in beam.sections:
        ends.append(ends[-1] + section.length_mm)
    asked = (*(support.place_mm for support in beam.supports), *(load.place_mm for load in beam.loads), *points_mm)
    places: list[float] = []
    for place in sorted((*ends, *asked)):
        if not places or place - places[-1] > 1e-3:
            places.append(place)
    return places


def _checked_length(beam: Beam) -> float:
    for section in beam.sections:
        need("length of a section", section.length_mm, "mm", above=0)
        second_moment_mm4(section.diameter_mm, section.bore_mm)
    need("modulus", beam.modulus_mpa, "MPa", above=0)
    total = sum(section.length_mm for section in beam.sections)
    # Tables of lengths rarely add up to the last bit: a place that much beyond the end is at the end.
    reach = total + 1e-6
    need("number of supports", len(beam.supports), least=2, most=MOST_SUPPORTS)
    for support in beam.supports:
        need("place of a support", support.place_mm, "mm", least=0, most=reach)
        need("stiffness of a support", support.stiffness_n_um, "N/um", least=0)
    for load in beam.loads:
        need("place of a load", load.place_mm, "mm", least=0, most=reach)
    nodes = sorted(support.place_mm for support in beam.supports)
    for first, second in pairwise(nodes):
        need("distance between two supports", second - first, "mm", least=1.0)
    return reach


def _elements(beam: Beam, places: Sequence[float]) -> list[Matrix]:
    """The stiffness matrix of each piece between two places."""
    ends, sum_mm = [], 0.0
    for section in beam.sections:
        sum_mm += section.length_mm
        ends.append(sum_mm)
    found = []
    for near, far in pairwise(places):
        middle = (near + far) / 2
        within = (section for section, end in zip(beam.sections, ends, strict=True) if middle < end)
        held = next(within, beam.sections[-1])
        length = far - near
        bending = beam.modulus_mpa * second_moment_mm4(held.diameter_mm, held.bore_mm) / length**3
        turn, both, one = 6 * length, 4 * length**2, 2 * length**2
        rows = ((12, turn, -12, turn), (turn, both, -turn, one), (-12, -turn, 12, -turn), (turn, one, -turn, both))
        found.append([[bending * share for share in row] for row in rows])
    return found


def _node(places: Sequence[float], place_mm: float) -> int:
    return min(range(len(places)), key=lambda node: abs(places[node] - place_mm))
