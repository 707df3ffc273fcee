"""What the order of work of a revolving centre cannot read off its parts: countersink, roots, how it is joined."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.screw import torque_n_m
from generator.description import Choices, Tool
from generator.making.route import Wishes, work_out
from generator.making.setups import SetUp, Step
from generator.making.workshop import Workshop

__all__ = ["order"]


def order(choices: Choices, tool: Tool, workshop: Workshop) -> tuple[SetUp, ...]:
    """All set-ups, part by part, the point last in its own bearings."""
    corners = {
        f"spindle/{name}": f"R {choices.facts[f'{name}/corner']:g} mm in its root"
        for name in ("nose", "slim")
        if f"{name}/corner" in choices.facts
    }
    mouth = choices.names.get("shank/mouth", "").removesuffix(" mm")
    joined = (*_drawn_up(choices), *_closed(choices))
    return work_out(tool, choices, workshop, Wishes(corners, float(mouth) if mouth else None, joined))


def _drawn_up(choices: Choices) -> Iterator[Step]:
    """Everything that turns, put on the spindle and drawn up on the bench.

    Source: common practice, no source.
    """
    style, held = choices.names["retention"], choices.names["held_by"]
    if style == "circlip":
        # Bearings and spacers stay on from the trial assembly that measured the gap of the shim.
        yield Step("slide the shim ring on behind the bearings", work="hold")
        yield Step("spring the circlip into its groove: it turns in it by hand", "", "circlip pliers", work="hold")
        return
    what = "nut" if style == "nut" else "screw and washer"
    yield Step("put bearings and spacers on the spindle as the page of assembly says", work="press")
    yield Step(
        f"wipe the threads free of oil, thread-locking compound of medium strength on them, the {what} on by hand",
        "", "thread-locking compound, medium strength", work="hold",
    )  # fmt: skip
    # A nut with two flats takes no socket.
    key = f"open jaws of {choices.sizes['nut/across'].nominal_mm:g} mm" if style == "nut" else choices.names["key"]
    spanner = f", {held.partition(' on ')[0].removeprefix('a ')}" if held.startswith("a spanner") else ""
    yield Step(
        f"tighten the {style} before the compound sets, the spindle held by {held}", f"{torque_n_m(choices):.1f} N m",
        f"torque wrench, {key}{spanner}", work="hold",
    )  # fmt: skip


def _closed(choices: Choices) -> Iterator[Step]:
    """Spindle and cover put into the body.

    Source: common practice, no source.
    """
    cover = choices.names["cover_style"]
    proud = cover == "screwed"
    yield Step("press the spindle into the body, by a tube on the outer ring", work="press")
    what = "how far the front bearing stands proud of the ledge" if proud else "the ledge to the front bearing"
    shown = "write it down" if proud else "the gap, shimmed if the page of assembly says so"
    yield Step(f"measure {what} at three places: {shown}", "", "depth micrometer", work="measure")
    if cover == "screwed":
        yield Step(
            "cover's thread dry, thread-locking compound of low strength on it; screw the cover down on the outer ring",
            "hand-tight", f"spanner of {choices.names['cover/spanner']}, thread-locking compound, low strength",
            work="hold",
        )  # fmt: skip
    elif cover == "snap ring":
        yield Step("put the cover in by hand, against the ledge", work="hold")
        yield Step(
            "spring the snap ring into its groove, home all round: the cover has no play", "", "circlip pliers, inside",
            work="hold",
        )  # fmt: skip
    elif cover == "stuck":
        yield Step(
            "stick the cover in, a thin film on its dry rim: none may reach the bearing", "",
            "retaining compound, low strength", work="hold",
        )  # fmt: skip
    else:
        yield Step("press the cover in square, by a tube on its rim", work="press")
