"""Can it be put together, with which key, and does it come apart again? And is dirt kept out of its rings?"""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.judged import Limit, Say, judged, told
from generator.checks.spindle import Held
from generator.description import ChainResult, Choices, Tool
from generator.findings import Finding
from generator.making.assembly import assembly_moves

__all__ = ["assembly_finding", "dismantling_finding", "sealing_finding"]

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
    advice = f"In this order: {order}. {_key_words(choices)}"
    if stuck:
        advice = f"No straight way in was found for {', '.join(stuck)}. {advice}"
    yield judged(
        "assembly", "tool", "pieces without a straight way in", float(len(stuck)), Limit(most=0.0),
        Say("this program, meridians at nominal size", advice, "pieces"), "warn",
    )


def _key_words(choices: Choices) -> str:
    hold = {"flats": "a spanner on the flats of the nose", "hole": "a tommy bar in the nose"}
    by = hold.get(choices.names["hold"], "the nose in soft jaws")
    style = choices.names["retention"]
    if style == "screw":
        return f"The screw is turned by a {choices.names['key']} through the shank, the spindle held by {by}."
    if style == "nut":
        return f"The nut is turned by a spanner on its flats before the cartridge goes in, the spindle held by {by}."
    return "The circlip is sprung on before the cartridge goes in."


def dismantling_finding(choices: Choices) -> Iterator[Finding]:
    """The way out of spindle, rings and cover when they are worn."""
    caution = (
        "Driven out so, the rings push the cover ahead of them and their balls are dented: they are scrap; two jacking "
        "holes in the cover save them."
        if choices.names["cover_style"] in {"pressed", "stuck"} else "Take the cover off first."
    )
    if choices.names["retention"] != "screw" or not choices.counts["through"]:
        yield told(
            "dismantling", "body", "spindle and rings come out by the nose", PRACTICE,
            f"No drift reaches them from behind: pull at the nose, the body warmed. {caution} Two knock-out holes "
            "behind the outer ring make it easy.",
        )
        return
    bore, hole = choices.sizes["body/through_bore"], choices.sizes["screw/major"]
    yield judged(
        "dismantling", "body/through_bore", "ring of the spindle's end that a drift through the shank finds (per side)",
        (bore.low - hole.high) / 2, Limit(DRIFT_MM),
        Say(
            PRACTICE,
            f"Screw out, soft drift of {bore.low - 0.2:.1f} mm on the spindle's end, out to the front. {caution}",
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
        "open": "An open ring has only this gap: pack it with grease, or fit a sealed ring (2RS).",
    }[kind]
    yield judged(
        "sealing", "cover/bore", f"widest running gap of the cover (per side), front ring {kind}", running.high_mm,
        Limit(most=MOST_GAP_MM[kind]),
        Say("0.1 to 0.2 per side and 5 to 8 long, common practice, no source", says, "mm", ("cover.gap",)),
    )
