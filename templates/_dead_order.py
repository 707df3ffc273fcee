"""The order of work of a dead centre: shank first, stub off, point hardened, then ground true to the shank."""

from __future__ import annotations

from generator.description import Choices, Part, Tool
from generator.making.cuts import cut
from generator.making.setups import SetUp, Step
from generator.making.workshop import Workshop
from templates._hardening import hardening_of, steps_of
from templates._orders import Sequencer, drawbar_steps, mouth_step, shank_steps

__all__ = ["order"]


def order(choices: Choices, tool: Tool, workshop: Workshop) -> tuple[SetUp, ...]:
    """Shank first, point last, ground true to the shank."""
    work, part = Sequencer(), tool.parts["centre"]
    _shank(work, choices, part)
    if choices.names["shank_end"] == "tang":
        work.tang(part, "Tang")
    half = choices.names["form"] == "half"
    if half:
        rough = Step("mill the flat, leave 0.3 mm")
        work.bench("centre", "Flat of the half point, 0.3 mm over", "centre/head", "centre/back", [], rough)
    stub = Step("saw off the stub, leave the point 0.5 mm long: after hardening no saw takes it")
    work.bench("centre", "Stub cut off", "centre/taper", "centre/back", [], stub, "vice, soft jaws")
    way = hardening_of(choices.names["material"])
    if way is not None:
        work.add(
            "centre",
            "Point hardened and tempered",
            "tongs, by the shank",
            "bench",
            "centre/taper",
            "",
            [],
            steps_of(way, "the point end", "the shank"),
            caution="Glasses, gloves, no water near hot oil; lid at hand: the oil may catch fire.",
        )
    word = "ground" if way is not None else "finished"
    work.add(
        "centre",
        f"Point {word} true to the shank",
        "finished shank in the spindle's own taper",
        "finished taper",
        "centre/taper",
        "centre/back",
        ["point", "tip"],
        [
            cut(part, f"{'grind' if way is not None else 'turn'} the point", ["point/angle", "tip/diameter"]),
            Step("indicate the point", "0.01 mm or less", "dial test indicator"),
        ],
        caution="Cover bed and slides from grit; glasses on.",
    )
    if half:
        text = "grind the flat" if way is not None else "mill or file the flat"
        ground = cut(part, text, ["flat/height", "flat/length"])
        work.bench("centre", f"Flat {word} last", "centre/head", "centre/tip", ["flat"], ground)
    return work.done()


def _shank(work: Sequencer, choices: Choices, part: Part) -> None:
    """Shank end from the bar, then head and taper between centres."""
    drawbar = choices.names["shank_end"] == "drawbar"
    rear = ["end"] + (["drawbar_hole", "drawbar"] if drawbar else [])
    first = [Step("face the shank end, centre"), *([*drawbar_steps(part), mouth_step(choices)] if drawbar else [])]
    work.add("centre", "Shank end", "three-jaw", "bar", "bar", "centre/end", rear, first)
    work.add(
        "centre",
        "Shank and head between centres",
        "carrier on the stub ahead of the point",
        "centres",
        "centre holes",
        "centre/end",
        ["head", "back", "taper", "large_relief", "small_relief", "end_chamfer", "point_end"],
        [
            cut(part, "turn the head", ["head/diameter", "head/length"]),
            Step("rough the point, 0.3 mm over"),
            *shank_steps(part),
        ],
        leaves_mm=15.0,
        leaves_why="stub ahead of the point for the carrier, cut off before hardening",
        caution="Carrier guarded; no hand near a turning shank with emery.",
    )
