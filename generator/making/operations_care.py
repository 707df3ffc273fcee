"""What can hurt at an operation, and the minutes it takes beside the cutting: one table for each, by kind of work."""

from __future__ import annotations

from generator.making.operations_target import Target

__all__ = ["CAUTIONS", "FILED_MIN", "HANDLING_MIN", "SET_UP_MIN", "TIME_ASSUMES", "WAITING_MIN", "caution_of"]

CAUTIONS = {
    "part": "Parting: tool square and on centre, short out, steady feed, oil; never on work held between centres; "
            "do not catch the piece by hand.",
    "file": "Filing: left-handed, handle on the file, sleeves tight, clear of the jaws. Emery never by hand round the "
            "turning work: on a backing board, no gloves.",
    "mill": "Interrupted cut: clamp hard. Never an end mill in a drill chuck, nor in a taper without a drawbar: it "
            "walks out.",
    "tap": "Tapping: under power the tap breaks when it bottoms; by hand, back a half turn to break the chip.",
    "thread": "Hand on the half-nut lever before the tool enters; try the run-out dry with the tool withdrawn.",
    "harden": "Glasses, gloves, no water near hot oil; quench outside, lid at hand: oil may catch fire.",
    "temper": "The piece looks cold and is not: tongs.",
    "case": "Open the box cool and in fresh air; tongs; no damp in a hot furnace.",
    "stop off": "Brush only; fumes of the paste and of copper plating: fresh air.",
    "grind": "Sparks and grit: glasses, slides and bed covered and wiped after; ring the wheel, stand aside at its "
             "start.",
    "lap": "Lapping compound never near bearings and slides: wash both before anything is put together.",
    "knurl": "Chips are needles: brush, no rag near the rollers.",
    "saw": "Vice jaws tight, soft jaws on finished faces; the last strokes slow.",
    "press": "Glasses; press on the ring that is tight only; nothing hard on hard.",
    "ream": "Never backwards; withdraw with the spindle stopped or forward.",
    "deburr": "Edges cut: file away from the fingers, not a turning edge by finger.",
}
"""Caution of one operation by kind of work.

Source: common practice, no source; emery and filing after HSE and MCA bulletins (lathe, hand-held emery).
"""

BETWEEN_CENTRES = (
    "Carrier guarded, tail of the dog inside; tailstock and quill locked; grease a dead centre, look again after the "
    "first cut: work grows and it tightens."
)
BETWEEN_REVOLVING = (
    "Carrier guarded, tail of the dog inside; tailstock and quill locked; the revolving centre pushed up until it "
    "turns with the work, look again after the first cut: work grows. It is thicker than the dead centre the way was "
    "tried with: tool past it by hand first."
)
FILING_IN_VICE = "Filing: handle on the file, soft jaws tight; edges cut, chips off with a brush, not by hand."
HALF_NUTS_IN = (
    "Half-nuts are not opened between passes: hand on the switch, tool drawn out before the spindle stops and turns "
    "back; reverse only at a standstill, a screwed-on chuck locked. Try the run-out dry with the tool withdrawn."
)
GRIND_ON_BENCH = "Sparks and grit: glasses; ring the wheel, stand aside at its start; work held in a vice, not by hand."
GRIND_IN_BEARINGS = (
    "Sparks and grit: glasses, slides and bed covered and wiped after, bearings sealed off; ring the wheel, stand "
    "aside at its start."
)
BORING_BLIND = "Boring blind: feed off well before the floor, the last by hand; stop to clear chips, no finger."
LONG_DRILL = "A deep drill packs and snatches: clear it often, do not hold the drill chuck by hand."
HELD_BY_TAPER = "Held by its taper: drawbar drawn up or light cuts without interruption, else it walks out."
DRILL_IN_TAPER = "Held by its taper: the drill's thrust keeps it home; stop the spindle before the drill is drawn back."

SET_UP_MIN = {
    "": 15.0, "bar": 10.0, "three-jaw": 10.0, "soft jaws": 25.0, "four-jaw": 25.0, "mandrel": 20.0, "centres": 20.0,
    "finished taper": 20.0, "own bearings": 40.0, "bench": 10.0,
}
"""Minutes to hold, indicate and set before the first cut of a set-up. Shop choice; common practice, no source."""

HANDLING_MIN = {
    "saw": 8.0, "face": 3.0, "centre": 3.0, "rough": 4.0, "turn": 5.0, "taper": 45.0, "groove": 5.0, "thread": 20.0,
    "part": 4.0, "knurl": 5.0, "drill": 5.0, "ream": 6.0, "bore": 8.0, "tap": 8.0, "mill": 25.0, "file": 10.0,
    "grind": 40.0, "harden": 40.0, "temper": 75.0, "case": 360.0, "stop off": 20.0, "lap": 20.0, "press": 10.0,
    "fit": 8.0, "deburr": 3.0, "indicate": 6.0, "measure": 5.0, "hold": 6.0, "mark": 3.0, "": 8.0,
}
"""Minutes beside the cutting: tool change, trial cut, measuring, waiting. Shop choice; common practice, no source."""

WAITING_MIN = {"case": 330.0, "temper": 60.0}
"""Of these, minutes in which the furnace works by itself. Shop choice; common practice, no source."""

FILED_MIN = 60.0
"""Minutes to saw and file flats by hand. Shop choice; common practice, no source."""

FIT_MIN, PASS_MIN = 12.0, 0.5
"""More for a size fitted to its bearing, and for each pass beside its cutting. Shop choice."""

TIME_ASSUMES = (
    "Cutting at the speed, feed and passes of each operation, half a minute more for each pass; tool change, trial cut "
    "and measuring by kind of work; set-up by kind of holding.",
    "One piece, tools at hand, no mishap: a first one takes twice as long. Common practice, no source.",
)


HANDLE_CAUTION = "Motor off and locked out before the handle goes in, handle out before it may run again."
BY_HANDLE_CAUTION = f"{HANDLE_CAUTION} Half-nuts stay in: tool drawn out, turned back."


def caution_of(
    target: Target, *, by_hand: bool = False, revolving: bool = False, half_nuts_in: bool = False, by_die: bool = False
) -> str:
    """The caution of one operation: its own first, then by kind of work, hole and holding.

    `by_hand`: the spindle is turned by a handle. `revolving`: the tailstock carries it by a revolving centre.
    `half_nuts_in`: they stay in between the passes of a thread. `by_die`: a die leads itself, the leadscrew rests.

    Source: common practice, no source.
    """
    step, main = target.step, target.main
    turned_by_hand = by_hand and step.work == "thread"
    usual = FILING_IN_VICE if step.work == "file" and target.setup.located == "bench" else CAUTIONS.get(step.work, "")
    if step.work == "grind":
        usual = {"bench": GRIND_ON_BENCH, "own bearings": GRIND_IN_BEARINGS}.get(target.setup.located, usual)
    usual = HALF_NUTS_IN if half_nuts_in else usual
    by_handle = HANDLE_CAUTION if by_die else BY_HANDLE_CAUTION
    found = [step.caution, by_handle if turned_by_hand else usual]
    inside = main is not None and main.inside
    deep = target.length_mm or 0.0
    if step.work == "bore" and inside and not _opens_through(target):
        found.append(BORING_BLIND)
    wide = main.end_mm if main is not None else step.diameter_mm
    if step.work == "drill" and wide and deep > 5 * wide:
        found.append(LONG_DRILL)
    cutting = step.work in {"turn", "rough", "taper", "groove", "thread"}
    if target.setup.located == "centres" and cutting:
        found.append(BETWEEN_REVOLVING if revolving else BETWEEN_CENTRES)
    if target.setup.located == "finished taper" and step.work in {"turn", "bore", "face", "groove", "thread"}:
        found.append(HELD_BY_TAPER)
    if target.setup.located == "finished taper" and step.work == "drill":
        found.append(DRILL_IN_TAPER)
    return " ".join(dict.fromkeys(text for text in found if text))


def _opens_through(target: Target) -> bool:
    """Whether a bore comes out at the other end at its own size."""
    main, ends = target.main, (min(target.z_of.values()), max(target.z_of.values()))
    return main is not None and abs(main.near_mm - ends[0]) < 0.01 and abs(main.far_mm - ends[1]) < 0.01
