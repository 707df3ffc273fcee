"""Three numbers kept apart: offset standing still, run-out from what turns, lost motion from clearance.

Each is a sum of contributors at the point: amount times coefficient. Errors whose directions are free of each other add
by the root of the sum of squares; clearances add to their middle first. Amounts in um.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from generator.reckoning.amounts import need
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse

__all__ = ["RECKONING", "Contributor", "Total", "levers", "total_of_clearances", "total_of_errors"]

RINGS_SOURCE = "run-out of the rings ISO 492, clearance ISO 5753-1 before fitting"
EARNED = {"pocket_runout": 10.0, "socket_runout": 10.0, "seat_runout": 5.0, "point_runout": 10.0}
GROUND_IN_PLACE_UM = 2.0
EARNED_SOURCE = "not given: pocket 10, socket 10, seats 5, point 10 um, ground in place 2 um (shop choice)"


class Contributor(NamedTuple):
    """One cause: its least and most amount, and how many times it shows at the point."""

    name: str
    least_um: float
    most_um: float
    coefficient: float

    @property
    def share_um(self) -> float:
        """The most it can do at the point."""
        return abs(self.coefficient) * self.most_um


class Total(NamedTuple):
    """A sum of contributors."""

    worst_um: float
    likely_um: float
    largest: tuple[Contributor, ...]

    @property
    def words(self) -> str:
        """The contributors that do something, largest first."""
        return ", ".join(f"{one.name} {one.share_um:.1f}" for one in self.largest if one.share_um > 0)


def levers(overhang_mm: float, span_mm: float) -> tuple[float, float]:
    """How many times a movement at the front ring and at the rear ring shows at the point.

    Source: straight spindle through both rings, (a + b) / b and a / b.
    """
    need("span", span_mm, "mm", above=0)
    need("overhang", overhang_mm, "mm", least=0)
    return (overhang_mm + span_mm) / span_mm, overhang_mm / span_mm


def total_of_errors(contributors: Sequence[Contributor]) -> Total:
    """Errors whose directions are free of each other: all one way at worst, root of the sum of squares likely.

    Source: root of the sum of squares of independent errors.
    """
    worst = sum(one.share_um for one in contributors)
    likely = sum(one.share_um**2 for one in contributors) ** 0.5
    return Total(worst, likely, _largest(contributors))


def total_of_clearances(contributors: Sequence[Contributor]) -> Total:
    """Movements that always add: the sum of all at worst; likely the sum of the middles and a root of squares.

    Source: root of the sum of squares about the middle of each.
    """
    worst = sum(one.share_um for one in contributors)
    middles = sum(abs(one.coefficient) * (one.least_um + one.most_um) / 2 for one in contributors)
    spread = sum((one.coefficient * (one.most_um - one.least_um) / 2) ** 2 for one in contributors) ** 0.5
    return Total(worst, middles + spread, _largest(contributors))


def _largest(contributors: Sequence[Contributor]) -> tuple[Contributor, ...]:
    return tuple(sorted(contributors, key=lambda one: -one.share_um))


def _work(given: Mapping[str, Any]) -> Outcome:
    front, rear = levers(given["overhang"], given["span"])
    totals = {
        "offset": total_of_errors(_offset(given)),
        "runout": total_of_errors(_runout(given, front, rear)),
        "lost_motion": total_of_clearances(_lost_motion(given, front, rear)),
    }
    values: dict[str, float | str | None] = {"front_lever": front, "rear_lever": rear}
    for name, total in totals.items():
        wanted = given[f"{name}_wanted"]
        values |= {f"{name}_worst": total.worst_um, f"{name}_likely": total.likely_um, f"{name}_from": total.words}
        if wanted is not None:
            values[f"{name}_verdict"] = _verdict(total, wanted)
    used_earned = any(given[name] is None for name in EARNED)
    return Outcome(values, (RINGS_SOURCE, EARNED_SOURCE) if used_earned else (RINGS_SOURCE,))


def _verdict(total: Total, wanted_um: float) -> str:
    if total.worst_um <= wanted_um:
        return "kept at worst"
    return "likely kept" if total.likely_um <= wanted_um else "not kept: work on the largest"


def _earned(given: Mapping[str, Any], name: str) -> float:
    return EARNED[name] if given[name] is None else float(given[name])


def _offset(given: Mapping[str, Any]) -> list[Contributor]:
    """Half of each indicator movement is an offset of the axis."""
    tilt = given["pocket_tilt"] * given["head"] / 100.0
    pocket, socket = (_earned(given, name) for name in ("pocket_runout", "socket_runout"))
    return [
        Contributor("pocket against taper", 0.0, pocket, 0.5),
        Contributor("socket or sleeve it was held in", 0.0, socket, 0.5),
        Contributor("pocket out of line", 0.0, tilt, 1.0),
    ]


def _runout(given: Mapping[str, Any], front: float, rear: float) -> list[Contributor]:
    """Indicator movement at the point. A cone ground in its own bearings cancels all that turned with it."""
    if given["finished_in_bearings"]:
        earned = GROUND_IN_PLACE_UM if given["point_runout"] is None else given["point_runout"]
        return [Contributor("grinding in its own bearings", 0.0, earned, 1.0)]
    rings = [
        Contributor(f"{place} ring", 0.0, _ring_runout(given, place), lever)
        for place, lever in (("front", front), ("rear", rear))
    ]
    return [
        *rings,
        Contributor("seats against each other", 0.0, _earned(given, "seat_runout"), front),
        Contributor("point against seats", 0.0, _earned(given, "point_runout"), 1.0),
    ]


def _ring_runout(given: Mapping[str, Any], place: str) -> float:
    """Run-out of the ring that turns, in um."""
    if given[f"{place}_runout"] is not None:
        return float(given[f"{place}_runout"])
    from generator.tables import ring, ring_limits

    of = ring(_designation(given, place, f"{place}_runout"))
    held = ring_limits(of.bore_mm, of.outside_mm, given["accuracy"])
    return 1000 * (held.inner_runout_mm if given["turning"] == "inner" else held.outer_runout_mm)


def _lost_motion(given: Mapping[str, Any], front: float, rear: float) -> list[Contributor]:
    found = []
    for place, lever in (("front", front), ("rear", rear)):
        if not given["preloaded"]:
            found.append(Contributor(f"clearance of the {place} ring", *_clearance(given, place), lever))
        seat = given[f"{place}_seat_clearance"]
        if seat:
            found.append(Contributor(f"{place} ring in its seat", 0.0, seat, lever))
    return found


def _clearance(given: Mapping[str, Any], place: str) -> tuple[float, float]:
    if given[f"{place}_clearance"] is not None:
        return float(given[f"{place}_clearance"]), float(given[f"{place}_clearance"])
    from generator.tables import radial_clearance, ring

    of = ring(_designation(given, place, f"{place}_clearance"))
    least, most = radial_clearance(of.bore_mm, of.clearance_group)
    return 1000 * least, 1000 * most


def _designation(given: Mapping[str, Any], place: str, instead: str) -> str:
    name: str | None = given[f"{place}_ring"]
    if name is None:
        refuse(f"truth, {place}_ring", "the ring is not given", "", f"give {place}_ring or {instead}")
    return name


_UM = "um"
RECKONING = Reckoning(
    name="truth",
    summary="offset, run-out and lost motion at the point: three numbers, each worst and likely, with what makes them",
    inputs=(
        Input("overhang", "from the front ring to the point", "length", "mm", required=True, least=0),
        Input("span", "between both rings", "length", "mm", required=True, above=0),
        Input("front_ring", "designation of the ring nearest the point", "text"),
        Input("rear_ring", "designation of the other ring", "text"),
        Input("accuracy", "accuracy class of the rings", "choice", default="Normal", choices=("Normal", "P6", "P5")),
        Input("turning", "which ring of a bearing turns", "choice", default="inner", choices=("inner", "outer")),
        Input("finished_in_bearings", "point finished while turning in its own bearings", "yes or no", default=False),
        Input("preloaded", "both rings preloaded", "yes or no", default=False),
        Input("front_runout", "run-out of the front ring as measured", "length", _UM, least=0),
        Input("rear_runout", "run-out of the rear ring as measured", "length", _UM, least=0),
        Input("front_clearance", "radial clearance left in the front ring (reckon fit)", "length", _UM, least=0),
        Input("rear_clearance", "radial clearance left in the rear ring", "length", _UM, least=0),
        Input(
            "front_seat_clearance", "clearance of the front ring in a loose seat",
            "length", _UM, default=0.0, least=0,
        ),
        Input("rear_seat_clearance", "clearance of the rear ring in a loose seat", "length", _UM, default=0.0, least=0),
        Input("seat_runout", "indicator movement of one seat against the other", "length", _UM, least=0),
        Input("point_runout", "indicator movement of the point against its seats", "length", _UM, least=0),
        Input("pocket_runout", "indicator movement of the pocket against the taper", "length", _UM, least=0),
        Input("socket_runout", "of the socket or sleeve in which the pocket was bored", "length", _UM, least=0),
        Input("pocket_tilt", "pocket out of line with the taper, on 100 mm", "length", _UM, default=0.0, least=0),
        Input("head", "from the taper to the point, for the tilt", "length", "mm", default=0.0, least=0),
        Input("offset_wanted", "offset allowed", "length", _UM, above=0),
        Input("runout_wanted", "run-out allowed", "length", _UM, above=0),
        Input("lost_motion_wanted", "lost motion allowed", "length", _UM, above=0),
    ),
    outputs=(
        Output("front_lever", "", "what a movement at the front ring becomes at the point"),
        Output("rear_lever", "", "what a movement at the rear ring becomes at the point"),
        *(
            Output(f"{name}_{end}", unit, text)
            for name, what in (
                ("offset", "offset of the axis, standing still"),
                ("runout", "run-out at the point, indicator movement"),
                ("lost_motion", "lost motion at the point, to and fro"),
            )
            for end, unit, text in (
                ("worst", _UM, f"{what}, worst"), ("likely", _UM, f"{what}, likely"),
                ("from", "", "contributors in um, largest first"), ("verdict", "", "against what is wanted"),
            )
        ),
    ),
    work=_work,
    source="geometry of a straight spindle; root of the sum of squares",
    validity="At the point, without load. Clearance is the ring's own unless what is left after fitting is given.",
    example={"overhang": "52 mm", "span": "44 mm", "front_ring": "6004", "rear_ring": "6203"},
)
