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


@dataclass(frozen=True, slots=True)
class Stack:
    """Rings front to rear, and the spacer given behind each (None where the job leaves it open)."""

    rings: tuple[RingPlan, ...]
    spacers: tuple[float | None, ...]

    def same_pocket(self, index: int) -> bool:
        """True if ring `index` (from 1) and the next have the same outside diameter."""
        return self.rings[index - 1].ring.outside_mm == self.rings[index].ring.outside_mm

    def same_seat(self, index: int) -> bool:
        """True if ring `index` (from 1) and the next have the same bore."""
        return self.rings[index - 1].ring.bore_mm == self.rings[index].ring.bore_mm

    @property
    def one_pocket(self) -> bool:
        """True if all rings have one outside diameter."""
        return len({plan.ring.outside_mm for plan in self.rings}) == 1


def read_stack(params: Params) -> Stack:
    """The stack in order; InputError with every fault found."""
    faults: list[Fault] = []
    rings: list[RingPlan] = []
    spacers: dict[int, float] = {}
    for number, item in enumerate(params.stack):
        place = f"stack[{number}]"
        if item.spacer is not None:
            if not rings:
                faults.append(Fault(place, "a spacer stands between rings", f"{item.spacer:g} mm", "list a ring first"))
            elif len(rings) in spacers:
                faults.append(Fault(place, "two spacers follow each other", f"{item.spacer:g} mm", "add them up"))
            else:
                spacers[len(rings)] = item.spacer
            continue
        plan = _plan(item, place, faults)
        if plan is not None:
            rings += [plan] * item.count
    faults += _order_faults(rings)
    if not rings and not faults:
        faults.append(Fault("stack", "holds no ring", "", 'add [[stack]] with ring = "6003-2RS"'))
    if faults:
        raise InputError(faults)
    return Stack(tuple(rings), tuple(spacers.get(index) for index in range(1, len(rings))))


def _plan(item: StackItem, place: str, faults: list[Fault]) -> RingPlan | None:
    outright = (item.bore, item.outside, item.width)
    if (item.ring is None) == all(size is None for size in outright):
        found = "nothing" if item.ring is None else "a designation and sizes"
        faults.append(
            Fault(
                place,
                "an entry is a ring by designation, a ring by bore, outside and width, or a spacer",
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
    label = item.ring or f"{ring.bore_mm:g} x {ring.outside_mm:g} x {ring.width_mm:g}"
    return RingPlan(ring, label, item.measured_width, item.measured_bore, item.measured_outside)


def _ring_of(item: StackItem) -> tables.Ring:
    if item.ring is not None:
        return tables.ring(item.ring)
    if item.bore is None or item.outside is None or item.width is None:
        missing = [name for name in ("bore", "outside", "width") if getattr(item, name) is None]
        message = f"a ring given outright lacks {' and '.join(missing)}"
        raise ValueError(message)
    if item.outside < item.bore + 4.0:
        message = f"outside {item.outside:g} mm leaves no room for balls round a bore of {item.bore:g} mm"
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
                    "must not have a larger bore than the ring in front of it",
                    f"{rear.ring.bore_mm:g} behind {front.ring.bore_mm:g} mm",
                    "list the larger bearing first",
                )
            )
        if rear.ring.outside_mm > front.ring.outside_mm:
            faults.append(
                Fault(
                    f"stack, ring {number}",
                    "must not be larger outside than the ring in front of it",
                    f"{rear.ring.outside_mm:g} behind {front.ring.outside_mm:g} mm",
                    "list the larger bearing first",
                )
            )
    return faults
