"""The calculation `cutting`: forces, torque, power and finish of turning, drilling, taps and dies."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from generator.reckoning import cutting
from generator.reckoning.mass import propped_share, tailstock_share, weight_n
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse

__all__ = ["RECKONING", "specific_force_of"]

_TAP_DEPTH, _DIE_DEPTH = 0.5413, 0.6134
"""Depth of the groove over pitch. Source: ISO 68-1, 5/8 H and 17/24 H."""

MEMORY = "shares of feed force and force of depth, factors for drill points and wear: from memory"


def specific_force_of(given: Mapping[str, Any], thickness_mm: float) -> tuple[float, tuple[str, ...]]:
    """Specific cutting force for a chip thickness from the force, the constants or the material given; its sources.

    Source: table kienzle.
    """
    if given["specific_force"] is not None:
        return given["specific_force"], ()
    if given["kc11"] is not None and given["mc"] is not None:
        return cutting.specific_force_mpa(given["kc11"], given["mc"], thickness_mm), ()
    if given["material"] is None:
        refuse("cutting", "the material is not known", "", "give material, or kc11 and mc, or specific_force")
    row = _kienzle_row(given["material"])
    found = cutting.specific_force_mpa(row.number("kc11_n_mm2"), row.number("mc_factor"), thickness_mm)
    return found, (f"{row.text('material')}: {row.source}",)


def _kienzle_row(name: str) -> Any:
    """The one row whose name holds the words; the classical list first, since its names are those of steels."""
    from generator.tables import load
    from generator.tables.loader import nearest

    rows = load("kienzle").rows
    wanted = name.casefold()
    for place in ("classical", "catalogue"):
        hits = [row for row in rows if row.text("list") == place and wanted in row.text("material").casefold()]
        if len(hits) == 1:
            return hits[0]
        if hits:
            many = "; ".join(row.text("material") for row in hits[:6])
            refuse("cutting, material", "several materials have that in their name", repr(name), f"choose: {many}")
    known = nearest(name, [row.text("material") for row in rows])
    return refuse("cutting, material", "no such material in the table kienzle", repr(name), f"nearest: {known}")


def _needed(given: Mapping[str, Any], *names: str) -> None:
    missing = [name for name in names if given[name] is None]
    if missing:
        refuse("cutting", f"{given['operation']} needs {', '.join(missing)}", "", f"give {' and '.join(missing)}")


def _turning(given: Mapping[str, Any]) -> Outcome:
    _needed(given, "feed", "depth")
    feed, depth = given["feed"], given["depth"]
    thickness = cutting.chip_thickness_mm(feed, given["approach"])
    specific, sources = specific_force_of(given, thickness)
    main = cutting.main_force_n(specific, depth, feed, given["worn"])
    forces = cutting.turning_forces(main, given["feed_share"], given["depth_share"], given["approach"])
    values: dict[str, Any] = {
        "chip_thickness": thickness, "specific_force": specific, "main_force": forces.main_n,
        "feed_force": forces.feed_n, "depth_force": forces.depth_n,
    }
    notes = []
    if given["diameter"] is not None:
        values["torque"] = main * given["diameter"] / 2000
    if (speed := _speed(given)) is not None:
        values |= {
            "cutting_speed": speed, "metal_removed": cutting.metal_removed_mm3_s(depth, feed, speed),
            "power": cutting.cutting_power_kw(main, speed),
            "motor_power": cutting.cutting_power_kw(main, speed, given["efficiency"]),
        }
    if given["nose"] is not None:
        values["finish_height"] = cutting.finish_height_um(feed, given["nose"], given["trailing"])
        if given["finish"] is not None:
            values["feed_for_finish"] = cutting.feed_for_finish_mm(given["finish"], given["nose"], given["trailing"])
        if depth < given["nose"]:
            notes.append("The cut is shallower than the nose: more of the push than reckoned here points at the axis.")
    if given["between"] is not None:
        values |= _at_tailstock(given, forces)
    return Outcome(values, (*sources, MEMORY), tuple(notes))


def _speed(given: Mapping[str, Any]) -> float | None:
    if given["speed"] is not None:
        return float(given["speed"])
    if given["rpm"] is None or given["diameter"] is None:
        return None
    return float(math.pi * given["diameter"] * given["rpm"] / 1000)


def _at_tailstock(given: Mapping[str, Any], forces: cutting.Forces) -> dict[str, Any]:
    """What reaches the tailstock with a sharp tool, with a blunt one, and with the work standing still."""
    _needed(given, "diameter")
    between, diameter = given["between"], given["diameter"]
    at = between if given["tool_at"] is None else given["tool_at"]
    weight = weight_n(given["mass"])
    middle = between / 2 if given["middle"] is None else given["middle"]
    own = tailstock_share(middle, between)
    share = tailstock_share(at, between)
    load, blunt = (
        cutting.tailstock_load_n(
            cut, weight, diameter, tool_share=share, weight_share=own, between_mm=between
        )
        for cut in (forces, cutting.Forces(*(1.5 * force for force in forces)))
    )
    return {
        "weight_share": weight * own, "tool_share": share, "tool_share_stiff_chuck": propped_share(at, between),
        "tailstock_up": load.upward_n, "tailstock_rear": load.rearward_n, "tailstock_radial": load.radial_n,
        "tailstock_angle": math.degrees(math.atan2(load.rearward_n, load.upward_n)),
        "tailstock_radial_blunt": blunt.radial_n, "tailstock_worst": max(load.radial_n, blunt.radial_n, weight * own),
        "towards_headstock": load.towards_headstock_n,
    }


def _drilling(given: Mapping[str, Any]) -> Outcome:
    _needed(given, "feed", "diameter")
    feed, diameter = given["feed"], given["diameter"]
    thickness = cutting.chip_thickness_mm(feed / 2, given["point"] / 2)
    specific, sources = specific_force_of(given, thickness)
    sizes = (specific, feed, diameter, given["hole"])
    torque = cutting.drilling_torque_n_mm(*sizes, worn=given["worn"])
    low, high = (
        cutting.drilling_thrust_n(*sizes, point_deg=given["point"], web=web, worn=given["worn"]) for web in (0.5, 1.0)
    )
    values: dict[str, Any] = {
        "chip_thickness": thickness, "specific_force": specific, "torque": torque / 1000, "thrust_low": low,
        "thrust_high": high,
    }
    if given["rpm"] is not None:
        values["power"] = torque / 1000 * given["rpm"] * math.pi / 30 / 1000
        values["cutting_speed"] = math.pi * diameter * given["rpm"] / 1000
        area = math.pi / 4 * (diameter**2 - given["hole"] ** 2)
        values["metal_removed"] = area * feed * given["rpm"] / 60
    return Outcome(values, (*sources, MEMORY))


def _threading(given: Mapping[str, Any]) -> Outcome:
    if given["thread"] is not None:
        from generator.tables import thread

        row = thread(given["thread"])
        pitch, pitch_diameter = row.pitch_mm, row.pitch_diameter_mm
    else:
        _needed(given, "pitch", "diameter")
        pitch = given["pitch"]
        pitch_diameter = given["diameter"] - 0.649519 * pitch
    is_tap = given["operation"] == "tap"
    depth = (_TAP_DEPTH if is_tap else _DIE_DEPTH) * pitch
    thickness = max(cutting.THIN_MM, cutting.thread_chip_mm(depth, given["lead_threads"], given["flutes"]))
    specific, sources = specific_force_of(given, thickness)
    reckon = cutting.tapping_torque_n_mm if is_tap else cutting.die_torque_n_mm
    torque = reckon(specific, pitch, pitch_diameter, given["worn"]) / 1000
    values = {
        "chip_thickness": thickness, "specific_force": specific, "torque": torque, "torque_blunt": 2.5 * torque,
    }
    return Outcome(values, (*sources, "groove of ISO 68-1, geometry; blunt or dry: 2.5 times, from memory"))


def _work(given: Mapping[str, Any]) -> Outcome:
    if given["operation"] == "turning":
        return _turning(given)
    return _drilling(given) if given["operation"] == "drilling" else _threading(given)


RECKONING = Reckoning(
    name="cutting",
    summary="forces, torque, power and finish of turning, drilling, taps and dies; what reaches the tailstock",
    inputs=(
        Input("operation", "what cuts", "choice", default="turning", choices=("turning", "drilling", "tap", "die")),
        Input("material", "words from the name of a material in the table kienzle", "text"),
        Input("kc11", "Kienzle constant kc1.1, instead of a material", "pressure", "MPa", above=0, most=10000),
        Input("mc", "Kienzle exponent", "number", least=0, below=0.6),
        Input("specific_force", "specific cutting force or energy, instead of both", "pressure", "MPa", above=0),
        Input("feed", "feed", "feed", "mm/rev", above=0),
        Input("depth", "depth of cut on the radius", "length", "mm", above=0),
        Input("approach", "approach angle of the edge, 90 square to the axis", "angle", "deg", default=90.0, least=10,
              most=120),
        Input("diameter", "diameter of work, drill or thread", "length", "mm", above=0),
        Input("speed", "cutting speed", "cutting speed", "m/min", above=0),
        Input("rpm", "spindle speed", "speed", "rpm", above=0),
        Input("efficiency", "share of the motor's power that reaches the tool", "share", "", default=0.75, least=0.2,
              most=1),
        Input("worn", "factor for a blunt tool: 1 sharp, 1.3 to 1.5 blunt", "number", default=1.0, least=1, most=3),
        Input("feed_share", "feed force over main force", "number", default=cutting.FEED_SHARE, least=0, most=1.5),
        Input("depth_share", "force of depth over main force", "number", default=cutting.DEPTH_SHARE, least=0,
              most=1.5),
        Input("nose", "nose radius of the tool", "length", "mm", above=0),
        Input("trailing", "trailing angle of the tool, after any swing", "angle", "deg", default=90.0, above=0,
              most=90),
        Input("finish", "height of ridges wanted", "length", "um", above=0),
        Input("between", "distance from headstock support to tailstock centre", "length", "mm", above=0),
        Input("tool_at", "tool from the headstock support; at the tailstock, the worst, without it", "length", "mm",
              least=0),
        Input("mass", "mass of the work", "mass", "kg", default=0.0, least=0),
        Input("middle", "middle of its mass from the headstock support; half-way without it", "length", "mm", least=0),
        Input("hole", "hole drilled before", "length", "mm", default=0.0, least=0),
        Input("point", "point angle of the drill", "angle", "deg", default=118.0, least=60, most=180),
        Input("thread", "thread of tap or die", "text"),
        Input("pitch", "pitch, where no thread is named", "length", "mm", above=0),
        Input("lead_threads", "threads in the lead of tap or die", "number", default=3.0, least=1, most=15),
        Input("flutes", "flutes of tap or die", "whole", default=4.0, least=1, most=10),
    ),
    outputs=(
        Output("chip_thickness", "mm", "thickness of the chip"),
        Output("specific_force", "MPa", "specific cutting force"),
        Output("main_force", "N", "main force, tangential"),
        Output("feed_force", "N", "feed force, along the axis"),
        Output("depth_force", "N", "force of depth, away from the axis"),
        Output("torque", "N m", "torque at spindle, drill, tap or die"),
        Output("torque_blunt", "N m", "the same with a blunt or dry tap or die"),
        Output("thrust_low", "N", "thrust of a drill with thinned or split point"),
        Output("thrust_high", "N", "thrust of a plain drill"),
        Output("cutting_speed", "m/min", "cutting speed"),
        Output("metal_removed", "mm3/s", "metal removed"),
        Output("power", "kW", "power at the tool"),
        Output("motor_power", "kW", "power of the motor"),
        Output("finish_height", "um", "height of the ridges the nose leaves"),
        Output("feed_for_finish", "mm/rev", "largest feed for the height wanted"),
        Output("weight_share", "N", "weight at the tailstock"),
        Output("tool_share", "", "share of the tool's forces at the tailstock, by the lever"),
        Output("tool_share_stiff_chuck", "", "the same with the other end held stiffly in a chuck"),
        Output("tailstock_up", "N", "load on the point, upward (below zero: downward)"),
        Output("tailstock_rear", "N", "load on the point, to the rear"),
        Output("tailstock_radial", "N", "both together"),
        Output("tailstock_angle", "deg", "its direction, from upward to the rear"),
        Output("tailstock_radial_blunt", "N", "the same with forces half as large again, as a blunt tool makes them"),
        Output("tailstock_worst", "N", "largest of cut, blunt cut and standing still"),
        Output("towards_headstock", "N", "feed force that eases the thrust when feeding to the headstock"),
    ),
    work=_work,
    source=(
        "Kienzle, kc = kc1.1 h^-mc; Fc = kc x depth x feed; torque of a drill kc f d^2 / 8; ridges f^2 / (8 r); statics"
    ),
    validity=(
        "Forces within about a quarter either way for a sharp tool. Tool in front of the work, cutting upward on it. "
        "Loads are what a cut puts on the point, no rating of any centre."
    ),
    example={"material": "C45", "feed": "0.2", "depth": "1", "diameter": "36", "between": "300 mm", "mass": "2.4 kg",
             "speed": "30 m/min", "nose": "0.4 mm"},
)
