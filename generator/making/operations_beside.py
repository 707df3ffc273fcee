"""What an operation beside the lathe is done with: flats, the fire, the wheel; and what the shop lacks for it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.making.heat_here import fire_tool, heat_of, why_not_here
from generator.making.operations_target import Target
from generator.making.operations_tools import Chosen
from generator.making.route.flats import FILED, flat_how
from generator.making.workshop import Workshop

__all__ = ["HEAT_TREATER", "chosen_beside", "lacks_beside"]

HEAT_TREATER = "order to a heat-treater: steel, hardness, what stays soft"
TAKEN = ", taken as there till the shop file says"
"""Stands behind what the plan counts on though nobody gave it."""
FLAT_GRINDER = "surface grinder, else a bench wheel and then a hard stone"
"""What grinds a flat in a vice. Common practice, no source."""
_FIRE = frozenset({"harden", "temper", "case"})
_RESTS: dict[str, tuple[str, ...]] = {
    "mill": ("milling",), "grind": ("wheel",), "harden": ("furnace_c",), "temper": ("furnace_c",),
    "case": ("furnace_c", "furnace_mm"),
}
"""What stands beside the lathe for a kind of work, by field of the shop."""


def chosen_beside(target: Target, workshop: Workshop) -> Chosen | None:
    """The tool of an operation for which the lathe itself is not enough; None for other work.

    Source: the shop file; common practice, no source.
    """
    work, cross = target.step.work, target.cross
    rests = tuple(name for name in _RESTS.get(work, ()) if workshop.is_default(name))
    if work in _FIRE:
        out = _sent_out(target, workshop)
        if heat_of(target.step) is None:
            rests = ()
        elif workshop.furnace_c is None:
            rests = tuple(name for name in rests if name == "furnace_c")
        return Chosen(HEAT_TREATER if out else fire_tool(target.step, workshop), how=out, rests_on=rests)
    if work == "grind":
        if target.setup.located == "bench":
            return Chosen(FLAT_GRINDER)
        without = "die grinder clamped on the top slide"
        return Chosen(without if workshop.wheel == "none" else "wheel on the tool post", rests_on=rests)
    if work == "mill":
        on_slide = workshop.milling == "slide"
        how = flat_how("slide", both=cross is not None and cross.kind != "half") if on_slide else ()
        return Chosen("end mill in a collet", also=("vertical slide",) if on_slide else (), how=how, rests_on=rests)
    if work == "file" and cross is not None and workshop.milling == "none":
        return Chosen(FILED, also=("filing rest",), how=flat_how("none", both=cross.kind != "half"))
    return None


def lacks_beside(target: Target, workshop: Workshop) -> Iterator[str]:
    """What the shop file does not list for this work, each with a substitute behind a colon.

    Source: common practice, no source.
    """
    work = target.step.work
    if work == "mill" and workshop.is_default("milling"):
        yield f"milling machine or slide{TAKEN}: saw beside the line and file by a filing guide, measured across"
    on_lathe = target.setup.located != "bench"
    if work == "grind" and on_lathe and (workshop.wheel == "none" or workshop.is_default("wheel")):
        taken = TAKEN if workshop.is_default("wheel") else ""
        instead = "a die grinder clamped on the top slide, or a hard stone for the last 0.01 mm"
        yield f"wheel on the tool post{taken}: {instead}"
    if not workshop.is_default("furnace_c") or heat_of(target.step) is None:
        return
    if work == "case":
        yield f"furnace with a closed box{TAKEN}: a heat-treater by post, or a steel that hardens through"
    if work in {"harden", "temper"}:
        yield f"furnace{TAKEN}: torch and firebrick hearth, an oven with a thermometer for tempering"


def _sent_out(target: Target, workshop: Workshop) -> tuple[str, ...]:
    """That the fire of this set-up is sent out as a whole, and why; nothing where it is done here."""
    length = max(target.z_of.values()) - min(target.z_of.values()) if target.z_of else None
    main = target.main
    thick = None if main is None else max(main.end_mm, main.other_mm)
    reasons = (why_not_here(step, length, thick, workshop) for step in target.setup.steps)
    reason = next((one for one in reasons if one), "")
    return (f"SEND IT OUT: {reason}",) if reason else ()
