"""From a cutting speed to the speeds a machine has, and what else limits them: ring, seal, dead support."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from generator.errors import TableError
from generator.reckoning.amounts import need
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse

if TYPE_CHECKING:
    from generator.tables import Row

__all__ = [
    "RECKONING", "Choice", "choose_speed", "cutting_time_min", "rpm_of_speed", "speed_of_rpm_m_min", "speeds_of",
]

DEAD_RUBBING_M_MIN = {"steel, greased": 10.0, "carbide, greased": 25.0}
"""Rubbing speed at the mouth of the hole on a point that stands still. Common practice, no source; shop choice."""


class Choice(NamedTuple):
    """The machine's speed to set, the speed it may not pass, and the name of what sets that limit."""

    rpm: float
    limit_rpm: float
    limited_by: str


def rpm_of_speed(speed_m_min: float, diameter_mm: float) -> float:
    """Revolutions in a minute that give this cutting speed.

    Source: n = v / (pi d); F. D. Jones, Turning and Boring, works 60 ft/min on 5 in.

    >>> round(rpm_of_speed(60 * 0.3048, 5 * 25.4), 1)
    45.8
    """
    need("cutting speed", speed_m_min, "m/min", above=0)
    need("diameter", diameter_mm, "mm", above=0)
    return speed_m_min * 1000 / (math.pi * diameter_mm)


def speed_of_rpm_m_min(rpm: float, diameter_mm: float) -> float:
    """Cutting speed at these revolutions.

    Source: v = pi d n.
    """
    need("spindle speed", rpm, "rpm", least=0)
    need("diameter", diameter_mm, "mm", above=0)
    return math.pi * diameter_mm * rpm / 1000


def cutting_time_min(length_mm: float, feed_mm: float, rpm: float) -> float:
    """Minutes for one pass.

    Source: length over feed and revolutions.
    """
    need("length", length_mm, "mm", least=0)
    need("feed", feed_mm, "mm/rev", above=0)
    need("spindle speed", rpm, "rpm", above=0)
    return length_mm / (feed_mm * rpm)


def choose_speed(limits: Mapping[str, float], speeds: Sequence[float], *, steps: bool = True) -> Choice:
    """The fastest of the machine's speeds that passes no limit; between two ends where it has no steps.

    Raises: RangeError where even its slowest speed is too fast.
    Source: next lower speed, common practice.
    """
    limited_by = min(limits, key=lambda name: limits[name])
    limit = limits[limited_by]
    slowest, fastest = min(speeds), max(speeds)
    need(f"the least limit ({limited_by}) against the machine's slowest speed", limit, "rpm", least=slowest)
    if not steps:
        return Choice(min(limit, fastest), limit, limited_by if limit <= fastest else "machine")
    chosen = max(speed for speed in speeds if speed <= limit * (1 + 1e-9))
    return Choice(chosen, limit, limited_by if limit <= fastest else "machine")


def speeds_of(text: str) -> tuple[tuple[float, ...], bool]:
    """The speeds of a text such as "70 115 190 300" (steps) or "50 to 1100" (no steps), and whether it has steps.

    Raises: InputError.
    Source: the machine's plate.
    """
    words = text.replace(",", " ").split()
    is_range = len(words) == 3 and words[1] == "to"
    numbers = [words[0], words[2]] if is_range else words
    try:
        speeds = tuple(float(word) for word in numbers)
    except ValueError:
        speeds = ()
    if not speeds or not all(0 < speed <= 100000 for speed in speeds):
        refuse("speed, speeds", "the machine's speeds are numbers, or two of them with 'to' between", repr(text[:40]),
               'write speeds="70 115 190 300 460" or speeds="50 to 1100"')
    return tuple(sorted(speeds)), not is_range


def _machine(given: Mapping[str, Any]) -> tuple[tuple[float, ...], bool, tuple[str, ...]]:
    """The speeds given, or those of a row of the table of machines."""
    if given["speeds"] is not None:
        return *speeds_of(given["speeds"]), ()
    if given["machine"] is None:
        refuse("speed", "the machine's speeds are not known", "", 'give speeds="70 115 190 ...", or machine')
    from generator.tables import load

    rows = [row for row in load("machines").rows if row.text("part") == "spindle speeds"]
    hits = [row for row in rows if given["machine"] in f"{row.text('class_swing')}, {row.text('quantity')}"]
    if len(hits) != 1:
        names = "; ".join(f"{row.text('class_swing')}, {row.text('quantity')}" for row in hits or rows)
        refuse("speed, machine", "that is not the name of one row of the table of machines", repr(given["machine"]),
               f"choose: {names}")
    return *speeds_of(hits[0].text("usual")), (f"{hits[0].text('quantity')}: {hits[0].source}; read your plate",)


def _speed_band(given: Mapping[str, Any]) -> tuple[float, float, tuple[str, ...]]:
    """The cutting speeds given, or those of the table."""
    if given["speed"] is not None:
        return given["speed"], given["speed"], ()
    if given["material"] is None or given["operation"] is None:
        refuse("speed", "the cutting speed is not known", "",
               'give speed, or material and operation, such as material="mild steel" operation="turning, HSS"')
    row = _row_of(given["material"], given["operation"])
    return row.number("low_m_min"), row.number("high_m_min"), (f"{row.text('material')}: {row.source}",)


def _row_of(material: str, operation: str) -> Row:
    """The row of the table of cutting speeds: of that very name, or the only one whose name holds the words.

    Raises: InputError.
    """
    from generator.tables import load
    from generator.tables.loader import nearest

    wanted = material.casefold().strip()
    rows = load("cutting_speeds").rows
    named = [row for row in rows if row.text("material").casefold() == wanted]
    named = named or [row for row in rows if wanted in row.text("material").casefold()]
    if not named:
        known = nearest(material, [row.text("material") for row in rows])
        refuse("speed, material", "no such material in the table cutting_speeds", repr(material), f"nearest: {known}")
    hits = [row for row in named if row.text("operation").casefold() == operation.casefold().strip()]
    if len(hits) == 1:
        return hits[0]
    if hits:
        many = "; ".join(row.text("material") for row in hits)
        refuse("speed, material", "several materials have that in their name", repr(material), f"choose: {many}")
    known = "; ".join(dict.fromkeys(row.text("operation") for row in named))
    return refuse("speed, operation", f"no such operation is known for {named[0].text('material')}", repr(operation),
                  f"choose: {known}")


def _limits(given: Mapping[str, Any], values: dict[str, Any], sources: list[str]) -> dict[str, float]:
    """Every limit that the inputs bring in, by name."""
    found: dict[str, float] = {}
    if given["ring_limit"] is not None:
        found["ring"] = given["ring_limit"]
    elif given["ring"] is not None:
        from generator.tables import ring_rating

        rating = ring_rating(given["ring"])
        if rating.grease_rpm is None:
            message = f"no speed limit is known for {rating.designation}; give ring_limit from a catalogue"
            raise TableError(message)
        found["ring and seal"] = rating.grease_rpm
        sources.append(f"{rating.designation}: {rating.source}")
    if given["dead"] != "no":
        if given["mouth"] is None:
            refuse("speed", "the mouth of the centre hole is not known", "", "give mouth")
        rubbing = given["rubbing"] or DEAD_RUBBING_M_MIN[given["dead"]]
        found["dead support"] = rpm_of_speed(rubbing, given["mouth"])
    if given["chuck_limit"] is not None:
        found["chuck"] = given["chuck_limit"]
    values |= {f"limit_{name.split()[0]}": value for name, value in found.items()}
    return found


def _work(given: Mapping[str, Any]) -> Outcome:
    low, high, sources = _speed_band(given)
    speeds, steps, machine_sources = _machine(given)
    held: list[str] = [*sources, *machine_sources]
    values: dict[str, Any] = {
        "wanted_low": rpm_of_speed(low, given["diameter"]), "wanted_high": rpm_of_speed(high, given["diameter"]),
    }
    limits = {"cutting speed": values["wanted_high"], **_limits(given, values, held)}
    choice = choose_speed(limits, speeds, steps=steps)
    values |= {
        "set": choice.rpm, "most": choice.limit_rpm, "limited_by": choice.limited_by,
        "cutting_speed": speed_of_rpm_m_min(choice.rpm, given["diameter"]),
    }
    notes = []
    if choice.rpm < values["wanted_low"]:
        why = "the machine has no step between" if choice.limited_by == "cutting speed" else "the limit goes first"
        notes.append(f"Slower than the cutting speed asks for, since {why}: the tool may rub and build up an edge.")
    if given["dead"] != "no":
        values["rubbing_speed"] = speed_of_rpm_m_min(choice.rpm, given["mouth"])
        notes.append(
            "Caution: a dead point is greased before and during the cut and eased after it, for the work grows; it "
            "squeals before it seizes."
        )
    if given["length"] is not None and given["feed"] is not None:
        values["time"] = cutting_time_min(given["length"], given["feed"], choice.rpm)
    return Outcome(values, tuple(held), tuple(notes))


RECKONING = Reckoning(
    name="speed",
    summary="the machine's own speed for a cutting speed, within the limits of ring, seal and dead support",
    inputs=(
        Input("diameter", "diameter that is cut", "length", "mm", required=True, above=0),
        Input("speed", "cutting speed", "cutting speed", "m/min", above=0),
        Input("material", "words from the name of a material in the table cutting_speeds", "text"),
        Input("operation", "operation in that table", "text"),
        Input("speeds", 'speeds of the machine: "70 115 190 300", or "50 to 1100" without steps', "text"),
        Input("machine", "words from a row of spindle speeds in the table of machines", "text"),
        Input("ring", "ring of the revolving centre", "text"),
        Input("ring_limit", "speed limit of the ring as built, instead of the table's", "speed", "rpm", above=0),
        Input("dead", "dead support, and of what", "choice", default="no", choices=("no", *DEAD_RUBBING_M_MIN)),
        Input("mouth", "mouth of the centre hole that rubs on it", "length", "mm", above=0),
        Input("rubbing", "rubbing speed allowed, instead of the usual one", "cutting speed", "m/min", above=0),
        Input("chuck_limit", "speed limit of the chuck", "speed", "rpm", above=0),
        Input("length", "length of the pass", "length", "mm", above=0),
        Input("feed", "feed", "feed", "mm/rev", above=0),
    ),
    outputs=(
        Output("wanted_low", "rpm", "for the lower cutting speed"),
        Output("wanted_high", "rpm", "for the higher cutting speed"),
        Output("limit_ring", "rpm", "limit of the ring, its seal taken in"),
        Output("limit_dead", "rpm", "limit of the dead support"),
        Output("limit_chuck", "rpm", "limit of the chuck"),
        Output("most", "rpm", "least of all limits"),
        Output("limited_by", "", "what sets it"),
        Output("set", "rpm", "speed to set on the machine"),
        Output("cutting_speed", "m/min", "cutting speed then"),
        Output("rubbing_speed", "m/min", "rubbing speed at the dead support then"),
        Output("time", "min", "time of one pass"),
    ),
    work=_work,
    source=(
        "n = v / (pi d); next lower speed of the machine; rubbing on a dead point 10 m/min steel, 25 carbide: common "
        "practice, no source"
    ),
    validity="Balanced work, held safely. The limits are of the ring's maker or of practice, no rating of a tool.",
    example={"diameter": "36 mm", "speed": "30 m/min", "speeds": "70 115 190 300 460 755", "ring": "6003-2RS"},
)
