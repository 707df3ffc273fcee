"""Can it be put together, with which key, and does it come apart again? And is dirt kept out of its rings?"""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.judged import Limit, Say, judged, told
from generator.checks.screw import torque_n_m
from generator.checks.spindle import Held
from generator.description import ChainResult, Choices, Tool
from generator.findings import Finding
from generator.making.assembly import assembly_moves

__all__ = ["assembly_finding", "dismantling_finding", "sealing_finding", "way_apart", "way_together"]

PRACTICE = "common practice, no source"
MOST_GAP_MM = {"sealed": 0.5, "shielded": 0.4, "open": 0.3}
"""Widest running gap of the cover, per side, by what the front ring itself keeps out. Shop choice."""
DRIFT_MM = 0.75
"""Least width of the ring of steel that a drift must find, per side. Shop choice."""


def assembly_finding(choices: Choices, tool: Tool) -> Iterator[Finding]:
    """The order in which it goes together, and whether every piece finds a straight way in."""
    moves = assembly_moves(tool)
    if not moves:
        return
    stuck = [move.title for move in moves if not move.side]
    order = "; ".join(
        f"{move.title.lower() if move.title[:1].isupper() and not move.title.startswith('Bearing') else move.title}"
        f" from the {move.side}" if move.side not in ("", "pliers") else f"{move.title} with pliers"
        for move in moves if move.side
    )  # fmt: skip
    advice = f"In this order: {order}. {' '.join(way_together(choices))}"
    if stuck:
        advice = f"No straight way in was found for {', '.join(stuck)}. {advice}"
    yield judged(
        "assembly", "tool", "pieces without a straight way in", float(len(stuck)), Limit(most=0.0),
        Say("this program, meridians at nominal size", advice, "pieces"), "warn",
    )


def way_together(choices: Choices) -> tuple[str, ...]:
    """How the rings are drawn up and when, one sentence each; the order of assembly does not tell it."""
    return (*_drawn_up(choices), *_cover_on(choices))


def _drawn_up(choices: Choices) -> tuple[str, ...]:
    by, style = choices.names["held_by"], choices.names["retention"]
    if style == "circlip":
        return ("The circlip is sprung on before the spindle enters the body.",)
    torque = f"{torque_n_m(choices):.1f} N m"
    held, lock = f"Hold the spindle by {by}.", "Thread-locking compound of medium strength on the dry thread."
    if style == "nut":
        tight = f"Tighten the nut to {torque} by a spanner on its flats before the spindle enters the body."
        return tight, held, lock
    later = "the spindle held by its nose" if by.startswith("the collar") else "the spindle held alike"
    return (
        f"Tighten the screw to {torque} on the bench, before the spindle enters the body.", held, lock,
        f"Take the screw out with a {choices.names['key']} through the shank, {later}.",
    )


def _cover_on(choices: Choices) -> tuple[str, ...]:
    style = choices.names["cover_style"]
    if style == "stuck":
        return (
            "Stick the cover in with retaining compound of low strength, a thin film on its dry rim: none may reach "
            "the bearing.",
        )
    if style == "pressed":
        return ("Press the cover in square, by a tube on its rim.",)
    if style != "screwed":
        return ()
    return (
        f"Screw the cover down on the outer ring hand-tight, by a spanner of {choices.names['cover/spanner']} on the "
        "flats of its rim.",
        "Thread-locking compound of low strength on the cover's dry thread.",
    )


def way_apart(choices: Choices) -> tuple[str, ...]:
    """The way apart step by step where it is more than the cover drawn off first; empty where it is not."""
    cover = choices.names["cover_style"]
    if cover == "screwed":
        return _screwed_apart(choices)
    if cover not in {"pressed", "stuck"}:
        return ()
    steps = ["Warm the front of the body to about 100 °C, no more: seals and grease."] if cover == "stuck" else []
    lost = (
        "the balls take the push: gently and warm the bearings may serve again, driven hard they are scrap"
        if cover == "stuck" else
        "the balls take the push and are dented: count these bearings as scrap, spindle and cover serve again"
    )  # fmt: skip
    steps += _screw_out(choices)
    steps.append(f"{_push(choices)}: spindle, bearings and cover come out together, towards the work side.")
    steps.append(f"The front bearing drives the cover off, and {lost}.")
    steps.append(_off_the_spindle(choices))
    return tuple(steps)


def _screwed_apart(choices: Choices) -> tuple[str, ...]:
    """The way apart of a tool whose cover is screwed in and locked."""
    return (
        f"Screw the cover off by a spanner of {choices.names['cover/spanner']} on its rim; warm the rim a little if "
        "the compound holds it, no more than 100 °C: seals and grease.",
        *_screw_out(choices),
        f"{_push(choices)}: spindle and bearings come out together, towards the work side.",
        _off_the_spindle(choices),
    )


def _screw_out(choices: Choices) -> list[str]:
    if choices.names["retention"] != "screw":
        return []
    return [f"Screw out with the {choices.names['key']} through the shank, the spindle held by its nose."]


def _push(choices: Choices) -> str:
    if choices.counts["through"]:
        return "Soft rod, a little thinner than the bore, through the shank on the spindle's end and press or drive"
    return "No rod reaches the spindle from behind: grip its nose and draw with a sliding hammer"


def _off_the_spindle(choices: Choices) -> str:
    behind = {"screw": "Washer", "nut": "Nut (warm it: its thread is locked)", "circlip": "Circlip, shim"}
    return f"{behind[choices.names['retention']]}, bearings and spacers off the spindle, towards the tailstock side."


def dismantling_finding(choices: Choices) -> Iterator[Finding]:
    """The way out of spindle, rings and cover when they are worn."""
    words = " ".join(way_apart(choices)) or (
        "Take the cover off first, then push the spindle out from behind with a soft rod through the shank."
        if choices.counts["through"] else "Take the cover off first, then draw the spindle out by its nose."
    )  # fmt: skip
    if choices.names["retention"] != "screw" or not choices.counts["through"]:
        yield told("dismantling", "body", "the way apart", PRACTICE, words)
        return
    bore, hole = choices.sizes["body/through_bore"], choices.sizes["screw/major"]
    yield judged(
        "dismantling", "body/through_bore", "ring of the spindle's end that a drift through the shank finds (per side)",
        (bore.low - hole.high) / 2, Limit(DRIFT_MM),
        Say(
            PRACTICE,
            f"A rod of {bore.low - 0.2:.1f} mm passes. {words}",
            "mm", ("body.through_bore",),
        ),
    )  # fmt: skip


def sealing_finding(choices: Choices, front: Held, running: ChainResult | None) -> Iterator[Finding]:
    """The running gap of the cover at its widest, against what the front ring keeps out by itself."""
    if running is None:
        return
    kind = "sealed" if front.ring.sealed else "shielded" if front.ring.shielded else "open"
    says = {
        "sealed": "Contact seals keep splash out; the gap keeps swarf off them.",
        "shielded": "Shields stop swarf, not coolant: grease the gap.",
        "open": "An open bearing has only this gap: pack it with grease, or fit a sealed bearing (2RS).",
    }[kind]
    yield judged(
        "sealing", "cover/bore", f"widest running gap of the cover (per side), front bearing {kind}", running.high_mm,
        Limit(most=MOST_GAP_MM[kind]),
        Say("0.1 to 0.2 per side and 5 to 8 long, common practice, no source", says, "mm", ("cover.gap",)),
    )
