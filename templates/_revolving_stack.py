"""The stack of a revolving centre as the job lists it: rings front to rear, with spacers between."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from generator import tables
from generator.errors import Fault, InputError, TableError
from generator.fittings.ring import RingPlan

if TYPE_CHECKING:
    from templates.revolving_centre import Params, StackItem

BALL_SHARE = 0.3
"""Ball diameter over the difference of outside diameter and bore, deep groove. From memory, no source."""


@dataclass(frozen=True, slots=True)
class Stack:
    """Rings front to rear, and the spacer given behind each (None where the job leaves it open).

    `doubled` is True where the job names one bearing without a count and two of them are taken.
    """

    rings: tuple[RingPlan, ...]
    spacers: tuple[float | None, ...]
    doubled: bool = False

    def same_pocket(self, index: int) -> bool:
        """True if ring `index` (from 1) and the next have the same outside diameter."""
        return self.rings[index - 1].ring.outside_mm == self.rings[index].ring.outside_mm

    def same_seat(self, index: int) -> bool:
        """True if ring `index` (from 1) and the next have the same bore."""
        return self.rings[index - 1].ring.bore_mm == self.rings[index].ring.bore_mm

    def matched(self, index: int) -> bool:
        """True if ring `index` and the next are both held inside and outside, so that what lies between must match."""
        first = self.rings[0].ring.outside_mm
        return all(plan.ring.outside_mm == first for plan in self.rings[: index + 1])

    def rubs(self, index: int) -> bool:
        """True if ring `index`, turning, would rub on the standing outer ring of the next one with nothing between."""
        front, rear = self.rings[index - 1].ring, self.rings[index].ring
        return front.inner_land_max_mm + 0.4 > rear.outer_land_min_mm

    @property
    def one_pocket(self) -> bool:
        """True if all rings have one outside diameter."""
        return len({plan.ring.outside_mm for plan in self.rings}) == 1


def read_stack(params: Params) -> Stack:
    """The stack in order; InputError with every fault found."""
    faults: list[Fault] = []
    rings: list[RingPlan] = []
    spacers: dict[int, float] = {}
    doubled = _is_lone(params)
    count = 1
    for number, item in enumerate(params.stack):
        place = f"stack[{number}]"
        if item.spacer is not None:
            if any(size is not None for size in (item.ring, item.bore, item.outside, item.width)):
                rule = "an entry is a bearing or a spacer, not both"
                faults.append(Fault(place, rule, f"spacer {item.spacer:g} mm", "give the spacer its own [[stack]]"))
            elif not rings:
                rule = "a spacer stands between bearings"
                faults.append(Fault(place, rule, f"{item.spacer:g} mm", "list a bearing first"))
            elif len(rings) in spacers:
                faults.append(Fault(place, "two spacers follow each other", f"{item.spacer:g} mm", "add them up"))
            else:
                spacers[len(rings)] = item.spacer
            continue
        plan = _plan(item, place, faults)
        if plan is not None:
            count = item.count or (2 if doubled else 1)
            rings += [plan] * count
    _last_spacer(rings, spacers, count, faults)
    faults += _order_faults(rings)
    if not rings and not faults:
        faults.append(Fault("stack", "holds no bearing", "", 'add [[stack]] with ring = "6003-2RS"'))
    if faults:
        raise InputError(faults)
    return Stack(tuple(rings), tuple(spacers.get(index) for index in range(1, len(rings))), doubled)


def _is_lone(params: Params) -> bool:
    """True where the job names a single bearing and leaves open how many: one cannot hold a point steady."""
    entries = [item for item in params.stack if item.spacer is None]
    return len(entries) == 1 and entries[0].count is None


def _last_spacer(rings: list[RingPlan], spacers: dict[int, float], count: int, faults: list[Fault]) -> None:
    """A spacer listed last stands before the last ring of a counted entry; behind the last ring it is a fault."""
    length = spacers.pop(len(rings), None) if rings else None
    if length is None:
        return
    if count > 1 and len(rings) - 1 not in spacers:
        spacers[len(rings) - 1] = length
    else:
        rule = "no bearing follows the last spacer"
        faults.append(Fault("stack", rule, f"{length:g} mm", "list a bearing behind it"))


def _plan(item: StackItem, place: str, faults: list[Fault]) -> RingPlan | None:
    outright = (item.bore, item.outside, item.width)
    if (item.ring is None) == all(size is None for size in outright):
        found = "nothing" if item.ring is None else "a designation and sizes"
        faults.append(
            Fault(
                place,
                "an entry is a bearing by designation, a bearing by bore, outside and width, or a spacer",
                found,
                'write ring = "6003-2RS", or bore, outside and width',
            )
        )
        return None
    try:
        ring = _ring_of(item)
    except TableError as error:
        faults.append(Fault(f"{place}.ring", str(error), repr(item.ring), "or give bore, outside and width"))
        return None
    except ValueError as error:
        faults.append(Fault(place, str(error), "", "give bore, outside and width of the bearing"))
        return None
    if ring.type != "deep groove":
        rule = "a stack is of deep groove ball bearings: their play, thrust and lands are known"
        faults.append(Fault(f"{place}.ring", rule, f"{item.ring!r}, {ring.type}", 'choose for example "6003-2RS"'))
        return None
    try:
        tables.ring_limits(ring.bore_mm, ring.outside_mm)
        tables.axial_play(ring, tables.radial_clearance(ring.bore_mm, ring.clearance_group)[1])
    except TableError as error:
        faults.append(Fault(place, f"the bearing is outside the tables: {error}", "", "choose another bearing"))
        return None
    label = item.ring or f"{ring.bore_mm:g} x {ring.outside_mm:g} x {ring.width_mm:g}"
    return RingPlan(ring, label, item.measured_width, item.measured_bore, item.measured_outside)


def _ring_of(item: StackItem) -> tables.Ring:
    if item.ring is not None:
        return tables.ring(item.ring)
    if item.bore is None or item.outside is None or item.width is None:
        missing = [name for name in ("bore", "outside", "width") if getattr(item, name) is None]
        message = f"a bearing given outright lacks {' and '.join(missing)}"
        raise ValueError(message)
    if item.outside < item.bore + 4.0:
        message = f"outside {item.outside:g} mm leaves no room for balls round a bore of {item.bore:g} mm"
        raise ValueError(message)
    if item.width < BALL_SHARE * (item.outside - item.bore):
        message = (
            f"width {item.width:g} mm is less than the balls that fit between {item.bore:g} and {item.outside:g} mm"
        )
        raise ValueError(message)
    return tables.ring_of_size(item.bore, item.outside, item.width)


def _order_faults(rings: list[RingPlan]) -> list[Fault]:
    """Rings go on the spindle from the rear and into the pocket from the front, so none may grow towards the rear."""
    faults = []
    for number, (front, rear) in enumerate(pairwise(rings), start=2):
        if rear.ring.bore_mm > front.ring.bore_mm:
            faults.append(
                Fault(
                    f"stack, ring {number}",
                    "must not have a larger bore than the bearing in front of it",
                    f"{rear.ring.bore_mm:g} behind {front.ring.bore_mm:g} mm",
                    "list the larger bearing first",
                )
            )
        if rear.ring.outside_mm > front.ring.outside_mm:
            faults.append(
                Fault(
                    f"stack, ring {number}",
                    "must not be larger outside than the bearing in front of it",
                    f"{rear.ring.outside_mm:g} behind {front.ring.outside_mm:g} mm",
                    "list the larger bearing first",
                )
            )
    return faults
