"""The order of work of a revolving centre: shank first, pocket true to the shank, point last in its own bearings."""

from __future__ import annotations

from generator.description import Choices, Part, Tool
from generator.making.cuts import cut
from generator.making.setups import SetUp, Step
from generator.making.workshop import Workshop
from templates._orders import Sequencer, drawbar_steps, mouth_step, shank_steps
from templates._revolving_spindle_order import point_set_up, spindle_set_ups


def order(choices: Choices, tool: Tool, workshop: Workshop) -> tuple[SetUp, ...]:
    """All set-ups, part by part, in the order in which the parts are wanted."""
    work, body = Sequencer(), tool.parts["body"]
    _shank_end(work, choices, body)
    _outside_and_taper(work, body)
    _front_and_pocket(work, choices, body)
    _flats_and_tang(work, choices, body)
    spindle_set_ups(work, choices, tool.parts["spindle"])
    for part in tool.made:
        if part.name not in {"body", "spindle"}:
            work.ring(part)
    point_set_up(work, choices, tool.parts["spindle"])
    return work.done()


def _shank_end(work: Sequencer, choices: Choices, body: Part) -> None:
    """Shank end, faced and bored through from the bar."""
    through = bool(choices.counts["through"])
    bore = [Step("face the shank end, centre")]
    finishes = ["end"]
    if through:
        bore.append(cut(body, "drill and ream or bore through", ["through_bore/diameter"]))
        finishes.append("through_bore")
    if choices.names["shank_end"] == "drawbar":
        bore += drawbar_steps(body)
        finishes += ["drawbar_hole", "drawbar"]
    if finishes != ["end"]:
        bore.append(mouth_step(choices))
    work.add(
        "body",
        "Body: shank end and through bore" if through else "Body: shank end",
        "three-jaw, steady",
        "bar",
        "bar",
        "body/end",
        finishes,
        bore,
        caution="Clear swarf often: a long drill packs and snatches." if through else "",
    )


def _outside_and_taper(work: Sequencer, body: Part) -> None:
    """Barrel and taper between centres, so that they share one axis."""
    work.add(
        "body",
        "Body: outside and taper",
        "front end in chuck, centre at the shank end",
        "centres",
        "centre holes",
        "body/end",
        ["barrel", "back", "large_relief", "small_relief", "taper", "back_chamfer", "end_chamfer"],
        [cut(body, "turn barrel, chamfer its back", ["barrel/diameter", "back_chamfer/leg"]), *shank_steps(body)],
        caution="Tailstock locked, quill clamped; no hand near a turning shank with emery.",
        leaves_mm=25.0,
        leaves_why="grip at the front end, faced off later",
    )


def _front_and_pocket(work: Sequencer, choices: Choices, body: Part) -> None:
    """Front, recess and pockets at one setting, true to the finished taper."""
    names = ["front", "front_chamfer", "cover_recess", "ledge", "floor_recess", "recess_bottom"]
    steps = [cut(body, "face the front, chamfer it", ["barrel/length", "front_chamfer/leg"])]
    if choices.names["cover_style"] == "screwed":
        bored = f"dia {choices.sizes['body/cover_recess'].nominal_mm:g} mm"
        steps += [
            cut(body, "bore cover recess for its thread", ["recess/depth"], also=bored),
            cut(body, "cut the thread's relief at the ledge", ["thread_relief/diameter", "thread_relief/width"]),
            cut(body, "screw-cut for the cover", ["cover_thread"]),
        ]
        names += ["cover_thread", "thread_relief"]
    else:
        steps.append(cut(body, "bore cover recess", ["cover_recess/diameter", "recess/depth"]))
    if choices.names["cover_style"] == "snap ring":
        steps.append(cut(body, "groove for the snap ring", ["snap_groove/diameter", "snap/place", "snap/width"]))
        names.append("snap_groove")
    steps += _pocket_steps(choices, body, names)
    steps.append(cut(body, "bore the floor recess", ["floor_recess/diameter", "floor_recess/depth"]))
    work.add(
        "body",
        "Body: front and pocket at one setting",
        "finished shank in the spindle's own taper, sleeve if needed, drawn in",
        "finished taper",
        "body/taper",
        "body/back",
        names,
        steps,
        caution="Drawbar or gentle cuts only: a taper without a drawbar works loose under an interrupted cut.",
    )


def _pocket_steps(choices: Choices, body: Part, names: list[str]) -> list[Step]:
    """Every step of the pocket with its depth from the ledge and its relief; adds what they finish to `names`."""
    steps = []
    for step in range(1, choices.counts["pockets"] + 1):
        names += [f"pocket_{step}", f"floor_{step}"]
        text = f"bore pocket {step}, fit to its bearing as measured; depth from the ledge"
        sizes = [f"pocket_{step}/diameter", f"pocket_{step}/depth"]
        steps.append(cut(body, text, sizes, "bore gauge, depth micrometer"))
        if choices.counts.get(f"pocket_{step}/relief"):
            names.append(f"relief_{step}")
            steps.append(cut(body, f"relieve floor {step}", [f"relief_{step}/diameter", f"pocket_{step}/relief"]))
    return steps


def _flats_and_tang(work: Sequencer, choices: Choices, body: Part) -> None:
    """What is milled last, by the vice."""
    flats = cut(body, "mill two flats", ["spanner_flats/across", "flats/width"])
    work.bench("body", "Body: spanner flats", "body/barrel", "body/back", ["spanner_flats"], flats)
    if choices.names["shank_end"] == "tang":
        work.tang(body, "Body: tang")
