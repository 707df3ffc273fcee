"""Set-ups of the spindle: roughed, hardened at the point, finished between centres, ground in its own bearings."""

from __future__ import annotations

from generator.checks.assembly import way_together
from generator.description import Choices, Part
from generator.making.cuts import cut
from generator.making.setups import Step
from templates._hardening import hardening_of, steps_of
from templates._orders import Sequencer

__all__ = ["point_set_up", "spindle_set_ups"]

_CARRIER = "between centres, carrier on the stub ahead of the point"
_GUARD = "Carrier guarded; stop the lathe to measure."
_STUB_MM, _STUB_WHY = 12.0, "stub with centre hole ahead of the point, cut off when the seats are finished"


def spindle_set_ups(work: Sequencer, choices: Choices, spindle: Part) -> None:
    """From the bar to the stub cut off; the point is finished when the tool is together."""
    _rear(work, choices, spindle)
    _harden(work, choices)
    _diameters(work, choices, spindle)
    _hold(work, choices, spindle)
    stub = Step("saw off the stub, leave the point 0.5 mm long; the stub was kept soft")
    work.bench("spindle", "Spindle: stub cut off", "spindle/nose", "spindle/collar_front", [], stub, "vice, soft jaws")


def _end(choices: Choices) -> str:
    """The face at the spindle's rear end."""
    return "end" if choices.names["retention"] == "nut" else f"seat_{choices.counts['seats']}_end"


def _rear(work: Sequencer, choices: Choices, spindle: Part) -> None:
    """Rear end, with its thread, from the bar."""
    end = _end(choices)
    steps, finishes = [Step("face, centre")], [end]
    if choices.names["retention"] == "screw":
        drill = f"dia {choices.sizes['tapped_hole/minor'].nominal_mm:g} mm"
        steps += [
            cut(spindle, "drill for the screw", ["tapped_hole/depth"], also=drill),
            cut(spindle, "tap, countersink 60 degrees", ["thread", "tapped_hole/thread"]),
        ]
        finishes += ["tapped_hole", "thread"]
    work.add("spindle", "Spindle: rear end", "three-jaw", "bar", "bar", f"spindle/{end}", finishes, steps)


def _harden(work: Sequencer, choices: Choices) -> None:
    """Roughed with stock for what heat bends, then hardened at the point end; the rest stays soft."""
    way = hardening_of(choices.names["spindle/material"])
    if way is None:
        return
    rough = Step("rough all diameters 0.5 mm over, all lengths 0.2 mm over, the point 0.3 mm over")
    work.add(
        "spindle",
        "Spindle: roughed",
        _CARRIER,
        "centres",
        "centre holes",
        f"spindle/{_end(choices)}",
        [],
        [rough],
        caution=_GUARD,
        leaves_mm=_STUB_MM,
        leaves_why=_STUB_WHY,
    )
    work.add(
        "spindle",
        "Spindle: point hardened and tempered",
        "tongs, by the rear end",
        "bench",
        "spindle/nose",
        "",
        [],
        steps_of(way, "the point end", "thread, seats, collar, stub and centre holes"),
        caution="Glasses, gloves, no water near hot oil; lid at hand: the oil may catch fire.",
    )


def _diameters(work: Sequencer, choices: Choices, spindle: Part) -> None:
    """Seats, collar and nose at one setting, so that they share one axis."""
    hard = hardening_of(choices.names["spindle/material"]) is not None
    turned = ["collar", "collar_front", "nose", "shoulder", "end_chamfer"]
    rows = [Step("scrape or lap both centre holes clean of scale")] if hard else []
    rows += [
        cut(spindle, "turn the collar", ["collar/diameter", "collar/length"]),
        cut(spindle, "turn the nose", ["nose/diameter", "nose/overhang"], also=_root(choices, "nose")),
    ]
    if choices.counts["slim"]:
        turned.append("slim")
        rows.append(cut(spindle, "turn slim extension", ["slim/diameter", "slim/length"], also=_root(choices, "slim")))
    if not hard:
        rows.append(Step("rough the point, 0.3 mm over"))
    for seat in range(1, choices.counts["seats"] + 1):
        turned.append(f"seat_{seat}")
        names = [f"seat_{seat}/diameter", f"seat_{seat}/reach"]
        rows.append(cut(spindle, f"finish seat {seat}, fit to its bearing as measured", names, "micrometer"))
    rows.append(cut(spindle, "chamfer the rear end", ["end_chamfer/leg"]))
    rows += _tail(choices, spindle, turned)
    work.add(
        "spindle",
        "Spindle: all diameters at one setting",
        _CARRIER,
        "centres",
        "centre holes",
        f"spindle/{_end(choices)}",
        turned,
        rows,
        leaves_mm=0.0 if hard else _STUB_MM,
        leaves_why="" if hard else _STUB_WHY,
        caution=_GUARD,
    )


def _root(choices: Choices, name: str) -> str:
    """The radius in the root of nose or slim extension, where the sheet asks for one."""
    return f"R {choices.facts[f'{name}/corner']:g} mm in its root" if f"{name}/corner" in choices.facts else ""


def _tail(choices: Choices, spindle: Part, turned: list[str]) -> list[Step]:
    """What holds the rings from behind, where it is turned; adds what it finishes to `turned`."""
    if choices.names["retention"] == "nut":
        turned += ["stud", "stud_relief", "stud_thread"]
        stud = f"dia {choices.sizes['spindle/stud'].nominal_mm:g} mm"
        return [
            cut(spindle, "turn the stud", ["stud/length"], also=stud),
            cut(spindle, "cut the thread's relief", ["stud_relief/diameter", "stud_relief/width"]),
            cut(spindle, "screw-cut the stud, try the nut", ["stud_thread"]),
        ]
    if choices.names["retention"] == "circlip":
        turned.append("clip_groove")
        return [cut(spindle, "groove for the circlip", ["clip_groove/diameter", "clip/place", "clip/width"])]
    return []


def _hold(work: Sequencer, choices: Choices, spindle: Part) -> None:
    """What the spindle is held by while its screw or nut is drawn up."""
    if choices.names["hold"] == "none":
        return
    cross = spindle.cross[0]
    flats = "across" in cross.sizes
    sizes = ["hold/across", "hold/width"] if flats else ["hold/diameter"]
    step = cut(spindle, "mill flats" if flats else "drill the hole", [*sizes, "hold/start"])
    title = "Spindle: flats or hole to hold it by"
    work.bench("spindle", title, "spindle/nose", "spindle/collar_front", [cross.name], step, "vice")


def point_set_up(work: Sequencer, choices: Choices, spindle: Part) -> None:
    """The point finished last, the spindle turning in its own rings."""
    hard = hardening_of(choices.names["spindle/material"]) is not None
    work.add(
        "spindle",
        "Assembled: point finished in its own bearings",
        "body's shank in the headstock, the nose turned by a cord, the body standing",
        "own bearings",
        "spindle/seat_1",
        "spindle/shoulder",
        ["point", "tip"],
        [
            Step("bearings and spacers greased and put on the spindle"),
            *(Step(words[:1].lower() + words[1:].rstrip(".")) for words in way_together(choices)[:1]),
            Step("spindle and cover into the body, gap of the stack checked"),
            cut(spindle, f"{'grind' if hard else 'turn'} the point", ["point/angle", "tip/diameter"]),
            Step("indicate the point", "0.005 mm or less", "dial test indicator"),
        ],
        caution="Cover the bearings from grit when grinding; glasses on.",
    )
