"""Settings and stops of an operation as short labelled fields; how they are used stands once before the set-ups."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from itertools import groupby

from generator.making.figures import Figures
from generator.making.operations import Operation
from generator.making.operations_dials import FEELER_MM, WARNING_MM
from generator.making.workshop import Workshop
from generator.plan.shop_words import SIGN
from generator.prints.content import Field
from generator.units import text_of

__all__ = ["drilled_deep", "how_to_read", "setting_fields", "stop_fields"]

_DIALS = frozenset({"cross_dial", "top_dial", "carriage_dial", "quill_dial"})
_SPEEDS = frozenset({"speeds_rpm", "has_steps", "tail_centre"})
_GAUGES = frozenset({"micrometer_mm", "indicator_mm"})
_IN_LINES = {
    "of its screw": frozenset({"set_over_lead_mm", "set_over_screws"}),
    "leadscrew ": frozenset({"leadscrew", "leadscrew_pitch_mm"}),
}
"""Words of a line of the way it is done, and the figures of the shop that it rests on: they are signed there."""
_OF_LINES = frozenset(name for names in _IN_LINES.values() for name in names)
_GAP = re.compile(r"least gap (\d+(?:\.\d+)?)")
_TIGHT_MM = 5.0
"""Room past the centre below which it is told. Shop choice."""
_RANGE = re.compile(r"^[\d.]+ to [\d.]+ m/min$")
_NOTHING_TURNS = frozenset({"no spindle", "spindle stands"})
_PASSES = re.compile(r"pass(?:es)? |\bdeep: ")
_SAID_OTHERWISE = (
    (re.compile(r"^thumbnail$"), "feel with the thumbnail"),
    (re.compile(r"^nose of "), "corner radius "),
    (re.compile(r"^last pass (?=\d)"), "last "),
    (re.compile(r"^measure, (.+?) left on the diameter; "), r"measure at \1 left on dia; "),
    (re.compile(r"\bfastest the machine has\b"), "top speed"),
    (re.compile(r"\bpass(?:es)? (?=\d)"), "x "),
    (re.compile(r"(?<=mm) deep\b|(?<=in) deep\b"), ""),
    (re.compile(r"^tried past the (.+?): least gap (.+)$"), r"\2 past the \1"),
    (re.compile(r"limited by (\w+ centre) rubbing in its hole; (.+?) with a revolving centre"),
     r"\1; \2 with a revolving one"),
    (re.compile(r"limited by (\w+ centre) rubbing in its hole"), r"\1"),
)
_BAR_OUT = re.compile(r"^bar out of its holder (?P<out>.+)$")

# What `making.operations_dials` and `making.operations_stops` say, and the fields that this becomes.
_STOPS: tuple[tuple[re.Pattern[str], tuple[tuple[str, str], ...]], ...] = (
    (re.compile(r"cross slide \((?:diameter|radius) dial\): touch at dia (?P<at>[^,]+), then (?P<move>in|out) "
                r"(?P<count>[^(]+) \((?P<much>.+?) (?P<way>off|on) the (?P<what>diameter|radius)\)"),
     (("dial", "from dia {at} {move} {count} ({much} {way} {what})"),)),
    (re.compile(r"bed stop: touch the (?P<face>.+?) through a feeler .+? a block of (?P<long>.+?) and that feeler .*?"
                r"by hand against the stop"),
     (("bed stop", "block {long} from the {face}"),)),
    (re.compile(r"carriage locked, top slide parallel: (?P<count>.+?) from the (?P<face>.+?) \((?P<long>[^)]+)\)"),
     (("stop", "{long} from the {face}"), ("top slide", "{count}"))),
    (re.compile(r"carriage (?P<count>\d.*?) from the (?P<face>.+?) \((?P<long>[^)]+)\); feed off one turn before"),
     (("stop", "{long} from the {face}"), ("carriage dial", "{count}"))),
    (re.compile(r"quill (?P<count>.+?) from where the full diameter enters the (?P<face>.+?) \((?P<long>[^)]+)\)"),
     (("deep", "{long} from the {face}"), ("quill dial", "{count}"))),
    (re.compile(r"from the touch (?P<count>.+?) of the cross slide"), (("dial", "from the touch {count}"),)),
    (re.compile(r"through: (?P<rest>[^;]+)"), (("deep", "through, {rest}"),)),
    (re.compile(r"go in no sooner than (?P<rest>[^;]+)"), (("begin", "no sooner than {rest}"),)),
    (re.compile(r"read the (?P<rest>[^;]+) first, (?P<more>[^;]+ goes on top)"),
     (("first", "read the {rest}: {more}"),)),
    (re.compile(r"by the stand-off in the socket: (?P<rest>.+)"), (("correct", "by the stand-off: {rest}"),)),
)  # fmt: skip
_QUILL = next(index for index, (_, fields) in enumerate(_STOPS) if fields[-1][0] == "quill dial")
_ON_DIALS = frozenset({"dial", "bed stop", "top slide", "carriage dial", "quill dial"})


def setting_fields(one: Operation, workshop: Workshop, figures: Figures) -> Iterator[Field]:
    """Tool; speed and feed; passes; the rest of the way; whether the tool gets there."""
    others = frozenset(one.rests_on) - _DIALS - _SPEEDS - _GAUGES - _OF_LINES
    tools = [f"{figures.prose(one.cutter)}{_mark(one, workshop, others)}"] if one.cutter else []
    if one.tools and not all(any(also in line for line in one.how) for also in one.tools):
        tools += one.tools
    if tools:
        yield Field("tool", ", ".join(tools))
    speed = _speed(one, workshop, figures)
    if speed:
        yield Field("speed", speed)
    for label, lines in groupby(_how(one, workshop, figures), key=lambda found: found.label):
        yield Field(label, "; ".join(line.text for line in lines))
    if one.access and (one.blocked or _is_tight(one.access)):
        yield Field("way", _reworded(figures.prose(one.access)))


def _speed(one: Operation, workshop: Workshop, figures: Figures) -> str:
    goes_without = _RANGE.match(one.speed_note) or one.speed_note in _NOTHING_TURNS
    note = "" if goes_without else _reworded(figures.prose(one.speed_note))
    if one.rpm is None:
        return note
    feed = "" if one.feed_mm is None else f", {_fine(one.feed_mm, figures)} a turn"
    return f"{one.rpm:g} rpm{_mark(one, workshop, _SPEEDS)}{feed}" + (f" ({note})" if note else "")


def _how(one: Operation, workshop: Workshop, figures: Figures) -> Iterator[Field]:
    """Lines of the way it is done under what they tell: passes, bar, the rest."""
    if one.passes is not None and one.depth_mm is not None and not any("pass" in line for line in one.how):
        yield Field("passes", f"{one.passes} x {_fine(one.depth_mm, figures)}")
    for line in one.how:
        out = _BAR_OUT.match(line)
        if out:
            yield Field("bar out", figures.prose(out["out"]))
        else:
            rests = frozenset(name for words, names in _IN_LINES.items() if words in line for name in names)
            words = f"{_reworded(figures.prose(line))}{_mark(one, workshop, rests)}"
            yield Field("passes" if _PASSES.search(line) else "how", words)


def stop_fields(one: Operation, workshop: Workshop, figures: Figures) -> Iterator[Field]:
    """Where to stop on each dial, and what to measure with."""
    mark, rest = _mark(one, workshop, _DIALS), figures.prose(one.stop)
    drilled = drilled_deep(one, figures)
    while rest:
        field, rest = _next_stop(rest)
        for label, text in field:
            if label == "deep" and drilled:
                continue
            yield Field(label, f"{_counted(text)}{mark if label in _ON_DIALS else ''}")
    if one.instrument:
        yield Field("measure", f"{_reworded(figures.prose(one.instrument))}{_mark(one, workshop, _GAUGES)}")


def drilled_deep(one: Operation, figures: Figures) -> str:
    """How deep a drill goes and from which face, where its quill dial tells it; else ""."""
    found = _STOPS[_QUILL][0].match(figures.prose(one.stop)) if one.step.work == "drill" else None
    return f"{found['long']} deep from the {found['face']}" if found else ""


def _next_stop(text: str) -> tuple[list[tuple[str, str]], str]:
    """The fields of the first thing that a text says, and what is left of it."""
    for pattern, fields in _STOPS:
        found = pattern.match(text)
        if found and text[found.end() : found.end() + 2] in {"", "; "}:
            told = {key: "dia" if value == "diameter" else value for key, value in found.groupdict().items()}
            return [(label, words.format(**told)) for label, words in fields], text[found.end() + 2 :]
    first, _, rest = text.partition("; ")
    return [("stop", first)], rest


def _counted(text: str) -> str:
    """Turns and divisions as they are counted at a dial.

    >>> _counted("4 turns and 22 divisions")
    '4 turns + 22 div'
    """
    return re.sub(r"(?<=\d) divisions?\b", " div", re.sub(r"(turns?) and (?=\d)", r"\1 + ", text))


def _reworded(text: str) -> str:
    for pattern, words in _SAID_OTHERWISE:
        text = pattern.sub(words, text)
    return text


def _fine(value_mm: float, figures: Figures) -> str:
    return f"{text_of(value_mm, 'in', 4)} in" if figures.unit == "in" else f"{round(value_mm, 3):g} mm"


def _mark(one: Operation, workshop: Workshop, names: frozenset[str]) -> str:
    return SIGN if any(name in names and workshop.is_default(name) for name in one.rests_on) else ""


def _is_tight(access: str) -> bool:
    """True where the tool passes, but with less room than a turner sees from where he stands."""
    found = _GAP.search(access)
    return found is None or float(found[1]) < _TIGHT_MM


# --- told once, before the first set-up ---------------------------------------------------------------------------


def _bed_stop(figures: Figures) -> str:
    feeler, before = figures.length(FEELER_MM), figures.length(WARNING_MM)
    return (
        f"Touch the face through a feeler of {feeler}, clamp the stop against the block and that feeler before the "
        f"carriage, take both out. Feed off {before} before (indicator on the bed: one turn of warning), then by hand "
        "against the stop."
    )


_EXPLAINED: tuple[tuple[str, Callable[[Figures], str]], ...] = (
    ("dial", lambda _: "Touch the work at the diameter told, cross slide dial to 0, then in or out as told."),
    ("bed stop", _bed_stop),
    ("top slide", lambda _: "Carriage locked, top slide parallel: touch the face, its dial to 0, then as told."),
    ("carriage dial", lambda _: "Touch the face, dial to 0; feed off one turn before, the rest by hand."),
    ("quill dial", lambda _: "0 where the full diameter enters the face; depths are of the full diameter, the point "
                             "goes deeper."),
)  # fmt: skip


def how_to_read(
    operations: tuple[Operation, ...], workshop: Workshop, figures: Figures, *, pictured: bool
) -> Iterator[Field]:
    """What every set-up page means by its labels and signs, as far as these operations use them."""
    if pictured:
        yield Field(
            "picture", "The work as it stands after the set-up, headstock to the left; cut surfaces heavy, with the "
            "number of their operation; lengths from the face touched off on, marked 0."
        )
    used = {field.label for one in operations for field in stop_fields(one, workshop, figures)}
    for label, words in _EXPLAINED:
        if label in used:
            reads = "reads the diameter" if workshop.cross_dial.reads_diameter else "reads the radius"
            yield Field(label, words(figures) + (f" It {reads}." if label == "dial" else ""))
    if any(workshop.is_default(name) for one in operations for name in one.rests_on):
        yield Field(SIGN, "Rests on a usual figure that nobody gave: see the page What rests on a default.")
