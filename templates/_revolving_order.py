"""The order of work of a revolving centre: shank first, pocket true to the shank, point last in its own bearings."""

from __future__ import annotations

from generator.description import Choices, Part, Tool
from generator.making.setups import SetUp, Step
from templates._orders import Sequencer, gauge_text, limits_text


def order(choices: Choices, tool: Tool) -> tuple[SetUp, ...]:
    """All set-ups, part by part, in the order in which the parts are wanted."""
    work = Sequencer()
    _shank_end(work, choices)
    _outside_and_taper(work, choices)
    _front_and_pocket(work, choices)
    _flats_and_tang(work, choices)
    _spindle_rear(work, choices)
    _spindle_diameters(work, choices)
    _spindle_hold(work, choices, tool.parts["spindle"])
    for part in tool.made:
        if part.name not in {"body", "spindle"}:
            work.ring(part)
    _point(work, choices)
    return work.done()


def _shank_end(work: Sequencer, choices: Choices) -> None:
    """Shank end, faced and bored through from the bar."""
    size, end = choices.sizes, choices.names["shank_end"]
    through = bool(choices.counts["through"])
    bore = [Step("face the shank end, centre")]
    finishes = ["end"]
    if through:
        bore.append(Step("drill and ream or bore through", limits_text(size["body/through_bore"], "dia ")))
        finishes.append("through_bore")
    if end == "drawbar":
        bore.append(Step(f"tap {choices.names['drawbar_thread']}", f"{size['drawbar/depth'].nominal_mm:g} deep"))
        finishes += ["drawbar_hole", "drawbar"]
    if finishes != ["end"]:
        bore.append(Step("60 degree countersink in the bore's mouth for the centre"))
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


def _outside_and_taper(work: Sequencer, choices: Choices) -> None:
    """Barrel and taper between centres, so that they share one axis."""
    size = choices.sizes
    work.add(
        "body",
        "Body: outside and taper",
        "front end in chuck, centre at the shank end",
        "centres",
        "centre holes",
        "body/end",
        ["barrel", "back", "large_relief", "small_relief", "taper", "back_chamfer", "end_chamfer"],
        [
            Step("turn barrel", limits_text(size["body/barrel"], "dia ")),
            Step(
                "turn shank 0.3 over, cut both reliefs",
                f"dia {size['shank/large_relief'].nominal_mm:g} and {size['shank/small_relief'].nominal_mm:g}",
            ),
            Step(
                "set the slide, cut the taper, try in the quill with blue",
                gauge_text(size),
            ),
        ],
        caution="Tailstock locked, quill clamped; no hand near a turning shank with emery.",
        leaves_mm=25.0,
        leaves_why="grip at the front end, faced off later",
    )


def _front_and_pocket(work: Sequencer, choices: Choices) -> None:
    """Front, recess and pockets at one setting, true to the finished taper."""
    size, pockets = choices.sizes, choices.counts["pockets"]
    steps = [
        Step("face the front", limits_text(size["body/barrel_length"])),
        Step("bore cover recess", limits_text(size["body/cover_recess"], "dia ")),
    ]
    names = ["front", "front_chamfer", "cover_recess", "ledge", "floor_recess", "recess_bottom"]
    if choices.names["cover_style"] == "screwed":
        steps.append(Step(f"screw-cut {choices.names['cover/thread']} for the cover"))
        names.append("cover_thread")
    if choices.names["cover_style"] == "snap ring":
        steps.append(Step("groove for the snap ring", limits_text(size["snap/groove"], "dia ")))
        names.append("snap_groove")
    for step in range(1, pockets + 1):
        names += [f"pocket_{step}", f"floor_{step}"]
        if choices.counts.get(f"pocket_{step}/relief"):
            names.append(f"relief_{step}")
        steps.append(
            Step(
                f"bore pocket {step}, fit to its ring as measured", limits_text(size[f"pocket_{step}/diameter"], "dia ")
            )
        )
    steps.append(
        Step(
            "pocket 1 to the measured stack of rings, from the ledge",
            f"about {size['pocket_1/depth'].nominal_mm:.2f}",
            "depth micrometer",
        )
    )
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


def _flats_and_tang(work: Sequencer, choices: Choices) -> None:
    """What is milled last, by the vice."""
    size = choices.sizes
    flats = Step("mill two flats", limits_text(size["body/flats_across"]))
    work.bench("body", "Body: spanner flats", "body/barrel", "body/back", ["spanner_flats"], flats)
    if choices.names["shank_end"] == "tang":
        work.tang("body", "Body: tang", size["tang/across"])


def _spindle_end(choices: Choices) -> str:
    """The face at the spindle's rear end."""
    return "end" if choices.names["retention"] == "nut" else f"seat_{choices.counts['seats']}_end"


def _spindle_rear(work: Sequencer, choices: Choices) -> None:
    """Rear end, with its thread, from the bar."""
    size, end = choices.sizes, _spindle_end(choices)
    steps, finishes = [Step("face, centre")], [end]
    if choices.names["retention"] == "screw":
        steps += [
            Step(
                "drill for the screw",
                f"dia {size['tapped_hole/minor'].nominal_mm:g}, {size['tapped_hole/depth'].nominal_mm:g} deep",
            ),
            Step(
                f"tap {choices.names['tapped_hole/thread']}, countersink 60 degrees",
                f"{size['tapped_hole/thread'].nominal_mm:g} deep",
            ),
        ]
        finishes += ["tapped_hole", "thread"]
    work.add("spindle", "Spindle: rear end", "three-jaw", "bar", "bar", f"spindle/{end}", finishes, steps)


def _spindle_diameters(work: Sequencer, choices: Choices) -> None:
    """Seats, collar and nose at one setting, so that they share one axis."""
    size, style = choices.sizes, choices.names["retention"]
    turned = ["collar", "collar_front", "nose", "shoulder", "end_chamfer"]
    rows = [
        Step(
            "turn collar and nose", f"dia {size['spindle/collar'].nominal_mm:g} and {size['spindle/nose'].nominal_mm:g}"
        )
    ]
    if choices.counts["slim"]:
        turned.append("slim")
        rows.append(Step("turn slim extension", limits_text(size["spindle/slim"], "dia ")))
    rows.append(Step("rough the point, 0.3 over"))
    for seat in range(1, choices.counts["seats"] + 1):
        turned.append(f"seat_{seat}")
        rows.append(
            Step(
                f"turn seat {seat}, fit to its ring as measured",
                limits_text(size[f"seat_{seat}/diameter"], "dia "),
                "micrometer",
            )
        )
    if style == "nut":
        turned += ["stud", "stud_thread"]
        rows.append(Step(f"screw-cut {choices.names['nut/thread']}"))
    if style == "circlip":
        turned.append("clip_groove")
        rows.append(Step("groove for the circlip", limits_text(size["clip/groove"], "dia ")))
    work.add(
        "spindle",
        "Spindle: all diameters at one setting",
        "between centres, carrier on the stub ahead of the point",
        "centres",
        "centre holes",
        f"spindle/{_spindle_end(choices)}",
        turned,
        rows,
        leaves_mm=12.0,
        leaves_why="stub with centre hole ahead of the point, cut off when the point is finished",
        caution="Carrier guarded; stop the lathe to measure.",
    )


def _spindle_hold(work: Sequencer, choices: Choices, spindle: Part) -> None:
    """What the spindle is held by while its screw or nut is drawn up."""
    if choices.names["hold"] == "none":
        return
    cross = spindle.cross[0]
    key = "across" if "across" in cross.sizes else "diameter"
    step = Step("mill flats" if key == "across" else "drill the hole", limits_text(cross.sizes[key]))
    title = "Spindle: flats or hole to hold it by"
    work.bench("spindle", title, "spindle/nose", "spindle/collar_front", [cross.name], step, "vice")


def _point(work: Sequencer, choices: Choices) -> None:
    angle = 2 * choices.facts["point_half_deg"]
    work.add(
        "spindle",
        "Assembled: point finished in its own bearings",
        "body's shank in the headstock, spindle driven by its stub, then cut free",
        "own bearings",
        "spindle/seat_1",
        "spindle/shoulder",
        ["point", "tip"],
        [
            Step("rings, spacer and cover fitted and greased, stack gap checked"),
            Step("cut off the stub, finish the point with the spindle driven round", f"{angle:g} degrees included"),
            Step("indicate the point", "0.005 or less", "dial test indicator"),
        ],
        caution="Cover the rings from grit when grinding; glasses on.",
    )
