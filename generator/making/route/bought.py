"""A shank that is bought: its taper is there, so all else is cut true to it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from generator.making.route.holes import drilled
from generator.making.route.words import plain, the

if TYPE_CHECKING:
    from generator.making.route.shank import Shank
    from generator.making.setups import Step

__all__ = ["bought"]


def bought(shank: Shank) -> None:
    """The bought shank proved; its taper is there, so all else is cut true to it.

    Source: common practice, no source.
    """
    beside = [one for one in shank.shank if shank.back in (one.near, one.far)]
    rest = [one for one in shank.shank if one not in beside]
    steps = [
        shank.piece.cut("measure", "try the shank in the quill with blue; measure it", shank.taper, faces=[shank.end]),
        *(shank.piece.cut("measure", f"measure {the(one.name)}", one) for one in rest),
    ]
    shank.ledger.add(
        shank.part, "bought shank proved", "by hand", "bench", "bar", f"{shank.part.name}/{shank.end}",
        [shank.taper.name, shank.end, *(one.name for one in rest)], steps,
        indicate="in the headstock spindle on the soft head, before anything is cut: note where it is high",
    )  # fmt: skip
    cylinders = [one for one in shank.head if one.role not in {"chamfer", "point"}]
    chamfers = [one for one in shank.head if one.role == "chamfer" and not shank.at_front(one)]
    steps = [
        *shank.seated(),
        *(shank.piece.cut("turn", f"turn {the(one.name)}", one) for one in cylinders),
        shank.piece.cut("face", "face the back", faces=[shank.back]),
        *(shank.piece.cut("turn", f"turn {the(one.name)}", one) for one in beside),
        *(shank.piece.cut("turn", plain(one.name), one) for one in chamfers),
    ]
    names = [*(one.name for one in (*cylinders, *beside, *chamfers)), shank.back]
    shank.hold_by_taper("head turned true to the bought shank", names, steps, shank.taper.at)
    if shank.tail:
        _drilled_from_the_shank(shank)

def _drilled_from_the_shank(shank: Shank) -> None:
    """Holes of a bought shank from its own end, held by the turned head."""
    grip = shank.grip()
    steps: list[Step] = []
    for surface in sorted(shank.tail, key=lambda one: (-shank.piece.z_of[one.far], one.role == "drill point")):
        if surface.role == "drill point":
            shank.piece.faces |= {surface.near, surface.far}
            continue
        reach = shank.piece.z_of[surface.far] - shank.piece.z_of[shank.end]
        steps += drilled(shank.piece, surface, reach, shank.shop, both_ends=bool(shank.pockets))
    steps += [shank.piece.cut("tap", f"tap {plain(z.name)}", zones=[z], tool="tap, started true")
              for z in shank.part.zones if z.name in shank.tail_zones() and z.form == "thread"]  # fmt: skip
    held = abs(shank.piece.z_of[grip.far] - shank.piece.z_of[grip.near])
    shank.ledger.add(
        shank.part, "drilled from the shank end", f"soft jaws bored to {the(grip.name)}", "soft jaws",
        f"{shank.part.name}/{grip.name}", f"{shank.part.name}/{shank.end}",
        [*(one.name for one in shank.tail), *shank.tail_zones()], steps, grips=f"{shank.part.name}/{grip.name}",
        grip_mm=round(held, 1), out_mm=round(shank.piece.length_mm - held, 1),
        indicate="the taper by the head, 0.02 mm or less; the bore itself needs no better",
        caution="A bought shank may be hard: try it with a file; a hard one cannot be drilled.",
    )  # fmt: skip
