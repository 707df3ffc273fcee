"""Can a step of hardening be done in this shop: furnace there, hot enough, long enough; or a torch that is enough."""

from __future__ import annotations

import re

from generator.making.setups import Step
from generator.making.workshop import Workshop

__all__ = ["BOX_MM", "TORCH_MM", "fire_tool", "heat_of", "in_a_furnace", "why_not_here"]

TORCH_MM = 25.0
"""Thickest point that a hand torch brings to hardening heat. From memory; common practice, no source."""

BOX_MM = 20.0
"""Packing and wall of the closed box beyond each end of the piece. Common practice, no source."""

_HEAT = re.compile(r"(\d+)(?: to \d+)? °C")


def heat_of(step: Step) -> float | None:
    """The least temperature that a step asks for, in degrees Celsius; None where it names none.

    Source: the step's own words.

    >>> heat_of(Step("harden", "780 to 820 °C, cherry red", work="harden"))
    780.0
    """
    found = _HEAT.search(step.size)
    return None if found is None else float(found[1])


def in_a_furnace(step: Step) -> bool:
    """Whether a step of hardening or casing is done in a furnace, not by a torch.

    Source: the step's own words.
    """
    return step.work == "case" or (step.work == "harden" and "torch" not in f"{step.text} {step.tool}".casefold())


def why_not_here(step: Step, length_mm: float | None, thick_mm: float | None, workshop: Workshop) -> str:
    """Why this step cannot be done with this furnace or a torch, in words; "" where it can, or where it needs none.

    Source: the shop file; what a torch heats and what a box needs, common practice, no source.
    """
    heat_c, has_c = heat_of(step), workshop.furnace_c
    if step.work not in {"case", "harden"} or heat_c is None:
        return ""
    cold = "" if has_c is None or has_c >= heat_c else f"the furnace reaches {has_c:g} °C, {heat_c:g} °C are wanted"
    if not in_a_furnace(step):
        if thick_mm is None or thick_mm <= TORCH_MM or (has_c is not None and not cold):
            return ""
        wide = f"a torch does not heat {thick_mm:.0f} mm through, {TORCH_MM:g} mm is about its most"
        return f"{wide}; {cold or 'there is no furnace'}"
    if has_c is None:
        return "there is no furnace"
    room = workshop.furnace_mm
    wanted = None if length_mm is None else length_mm + (2 * BOX_MM if step.work == "case" else 0.0)
    if cold or wanted is None or wanted <= room:
        return cold
    boxed = " with its box" if step.work == "case" else ""
    return f"the furnace takes {room:.0f} mm, the piece{boxed} is {wanted:.0f} mm long"


def fire_tool(step: Step, workshop: Workshop) -> str:
    """What heats the piece in this shop.

    Source: common practice, no source.
    """
    has = workshop.furnace_c is not None
    if step.work == "harden" and heat_of(step) is None:
        return "bath and tongs"
    if step.work == "temper":
        return "oven" if has else "torch and a bright face, by the colour; or a kitchen oven with a thermometer"
    if step.work == "case":
        return "furnace, closed box"
    if in_a_furnace(step):
        return "furnace"
    return "torch or furnace" if has else "torch"
