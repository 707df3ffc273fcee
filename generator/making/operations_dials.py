"""Where to stop, in the divisions of this machine: whole turns and the remainder, or a block and a feeler."""

from __future__ import annotations

import math
from typing import NamedTuple

from generator.making.figures import Figures
from generator.making.workshop import Dial, Workshop
from generator.reckoning.amounts import need

__all__ = ["Move", "dial_move", "in_words", "infeed_text", "length_text", "quill_text"]

FEELER_MM = 0.05
WARNING_MM = 1.0
"""Feeler for the last touch of a stop, and how far before it the power feed goes off. Common practice, no source."""


class Move(NamedTuple):
    """A travel as whole turns of a dial and whole divisions beyond them, and what it really comes to."""

    turns: int
    divisions: int
    travel_mm: float


def dial_move(travel_mm: float, dial: Dial) -> Move:
    """The turns and divisions of a dial that come nearest to this travel, never more than half a division away.

    Raises: RangeError for a travel below zero or a dial without divisions.
    Source: arithmetic.

    >>> dial_move(35.5, Dial(0.02, 3.0))
    Move(turns=11, divisions=125, travel_mm=35.5)
    """
    need("travel", travel_mm, "mm", least=0)
    need("division", dial.division_mm, "mm", above=0)
    need("turn of the dial over its division", dial.turn_mm / dial.division_mm, least=2)
    turns = math.floor(travel_mm / dial.turn_mm + 1e-9)
    divisions = round((travel_mm - turns * dial.turn_mm) / dial.division_mm)
    if divisions * dial.division_mm > dial.turn_mm - 1e-9:
        whole = (turns + 1) * dial.turn_mm
        if abs(whole - travel_mm) <= dial.division_mm / 2 + 1e-9:
            return Move(turns + 1, 0, whole)
        divisions = math.floor((dial.turn_mm - 1e-9) / dial.division_mm)
    return Move(turns, divisions, turns * dial.turn_mm + divisions * dial.division_mm)


def in_words(move: Move) -> str:
    """A move as it is counted at the dial: "2 turns and 14 divisions".

    Source: see `dial_move`.
    """
    turns = f"{move.turns} turn{'s' if move.turns != 1 else ''}"
    divisions = f"{move.divisions} division{'s' if move.divisions != 1 else ''}"
    if move.turns and move.divisions:
        return f"{turns} and {divisions}"
    return turns if move.turns else divisions


def infeed_text(start_mm: float, end_mm: float, workshop: Workshop, figures: Figures) -> str:
    """How far the cross slide goes in (or out, in a bore) from one diameter to another.

    Source: half the difference of the diameters, see `dial_move`.
    """
    move = dial_move(abs(start_mm - end_mm) / 2, workshop.cross_dial)
    shown = 2 * move.travel_mm if workshop.cross_dial.reads_diameter else move.travel_mm
    reads = "off the diameter" if workshop.cross_dial.reads_diameter else "off the radius"
    if end_mm > start_mm:
        reads = reads.replace("off", "on")
    word = "out" if end_mm > start_mm else "in"
    dial = "diameter dial" if workshop.cross_dial.reads_diameter else "radius dial"
    touch = figures.length(start_mm, 2)
    return f"cross slide ({dial}): touch at dia {touch}, then {word} {in_words(move)} ({figures.length(shown)} {reads})"


def length_text(distance_mm: float, from_face: str, workshop: Workshop, figures: Figures, *, swung: bool) -> str:
    """Where the tool stops along the work; `swung` where the top slide stands at an angle and cannot tell a length.

    Source: see `dial_move`; block and feeler at a bed stop common practice, no source.
    """
    distance = figures.length(distance_mm, 3)
    if workshop.carriage_dial is not None:
        move = dial_move(distance_mm, workshop.carriage_dial)
        return f"carriage {in_words(move)} from the {from_face} ({distance}); feed off one turn before"
    if distance_mm <= workshop.top_slide_travel_mm and not swung:
        move = dial_move(distance_mm, workshop.top_dial)
        return f"carriage locked, top slide parallel: {in_words(move)} from the {from_face} ({distance})"
    feeler = figures.length(FEELER_MM)
    return (
        f"bed stop: touch the {from_face} through a feeler of {feeler}, clamp the stop against a block of {distance} "
        f"and that feeler before the carriage, take both out; feed off {figures.length(WARNING_MM)} before (indicator "
        "on the bed: one turn of warning), then by hand against the stop"
    )


def quill_text(depth_mm: float, from_face: str, workshop: Workshop, figures: Figures) -> str:
    """Where a drill, reamer or tap in the tailstock stops; by a tape where the quill does not go so far.

    Source: see `dial_move`.
    """
    depth = figures.length(depth_mm, 1)
    tape = f"tape round the drill {depth} from the corner of its edges; stop with it at the {from_face}"
    if workshop.quill_dial is None:
        return tape
    if depth_mm > workshop.quill_travel_mm:
        travel = figures.length(workshop.quill_travel_mm, 0)
        return f"{tape}; the quill goes {travel}: wound back, tailstock slid up and clamped again on the way"
    move = dial_move(depth_mm, workshop.quill_dial)
    return f"quill {in_words(move)} from where the full diameter enters the {from_face} ({depth})"
