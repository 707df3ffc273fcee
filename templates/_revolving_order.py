"""What the order of work of a revolving centre cannot read off its parts: countersink, roots, how it is joined."""

from __future__ import annotations

from generator.checks.assembly import way_together
from generator.description import Choices, Tool
from generator.making.route import Wishes, work_out
from generator.making.setups import SetUp
from generator.making.workshop import Workshop

__all__ = ["order"]


def order(choices: Choices, tool: Tool, workshop: Workshop) -> tuple[SetUp, ...]:
    """All set-ups, part by part, the point last in its own bearings."""
    corners = {
        f"spindle/{name}": f"R {choices.facts[f'{name}/corner']:g} mm in its root"
        for name in ("nose", "slim")
        if f"{name}/corner" in choices.facts
    }
    joined = (
        "put bearings and spacers on the spindle",
        *(words[:1].lower() + words[1:].rstrip(".") for words in way_together(choices)[:1]),
        "press the spindle into the body; depth micrometer from ledge to front bearing, at three places: the gap",
        "shim it if it needs one, then put the cover into the body",
    )
    mouth = choices.names.get("shank/mouth", "").removesuffix(" mm")
    return work_out(tool, choices, workshop, Wishes(corners, float(mouth) if mouth else None, joined))
