"""The bar of a part and the lengths that are kept on it to hold it by."""

from __future__ import annotations

import math
from collections.abc import Sequence

from generator import tables
from generator.description import Choices, Part, Tool
from generator.errors import TableError
from generator.making.stock import (
    BAR_ADDRESS,
    as_drawn,
    carrier_room_mm,
    fitting_bars,
    largest_diameter_mm,
    least_bar_mm,
)
from generator.making.workshop import ShelfBar
from generator.units import FileUnit

__all__ = ["ANOTHER_TRY_MM", "bar_mm", "grip_mm", "spare_mm", "stub_mm"]

ANOTHER_TRY_MM = 0.25
"""Off the diameter of a cone that came out wrong and is cut once more. Common practice, no source."""


def bar_mm(tool: Tool, part: Part, choices: Choices, shelf: Sequence[ShelfBar] = ()) -> float:
    """Diameter of the bar: the user's own for the part of the largest diameter, else one of the shelf, else bought.

    Source: stocked sizes, from memory.
    """
    diameter, least = largest_diameter_mm(part), least_bar_mm(part)
    own = choices.parameters.get(BAR_ADDRESS)
    largest = max(tool.made, key=largest_diameter_mm).name
    if own is not None and part.name == largest and isinstance(own.value, int | float):
        given = float(own.value)
        if given >= diameter or as_drawn(part, given) is not None:
            return given
    on_shelf = min((one.diameter_mm for one in fitting_bars(part, shelf)), default=None)
    if on_shelf is not None:
        return on_shelf
    try:
        unit: FileUnit = "in" if choices.names.get("units") == "in" else "mm"
        return tables.next_bar(least, unit)
    except TableError:
        return math.ceil(least)


def grip_mm(diameter_mm: float) -> float:
    """Length in the jaws of a chuck.

    Source: 0.7 of the diameter, not below 15 mm, common practice, no source.
    """
    return float(5 * math.ceil(max(0.7 * diameter_mm, 15.0) / 5.0))


def stub_mm(diameter_mm: float) -> float:
    """Stub ahead of the work for a carrier and its centre.

    Source: see `carrier_room_mm`, from memory.
    """
    return carrier_room_mm(diameter_mm)


def spare_mm(half_angle_deg: float) -> float:
    """Length to spare for another try at a taper: how far the cone moves when it is cut once more.

    Source: geometry; what one more cut takes off is common practice, no source.
    """
    return float(math.ceil(ANOTHER_TRY_MM / (2.0 * math.tan(math.radians(abs(half_angle_deg))))))
