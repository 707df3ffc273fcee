"""A shank that is bought: its taper is there, so all else is cut true to it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from generator.making.route.holes import MEET_MM, reach_of
from generator.making.route.words import POINT_MM, ROUGH_MM, plain, the
from generator.making.setups import Step
from generator.making.touch import SOCKET_END

if TYPE_CHECKING:
    from generator.description import Surface
    from generator.making.route.shank import Shank

__all__ = ["bought"]


def bought(shank: Shank) -> None:
    """The bought shank proved; its taper and its end are there, so all else is cut true to it at one setting.

    Source: common practice, no source.
    """
    _proved(shank)
    beside, chamfers = _beside(shank), [one for one in shank.head if one.role == "chamfer" and not shank.at_front(one)]
    cylinders = [one for one in shank.head if one.role not in {"chamfer", "point"}]
    steps = [
        *(shank.piece.rough(f"rough {the(one.name)}, {ROUGH_MM:g} mm over", ROUGH_MM, one) for one in cylinders),
        *(shank.piece.cut("turn", f"turn {the(one.name)}", one) for one in cylinders),
        shank.piece.cut("face", "face the back", faces=[shank.back]),
        *(shank.piece.cut("turn", f"turn {the(one.name)}", one) for one in beside),
        *(shank.piece.cut("turn", plain(one.name), one) for one in chamfers),
        *(shank.piece.rough(f"rough the point, {POINT_MM:g} mm over", POINT_MM, one) for one in shank.point),
    ]
    names = [*(one.name for one in (*cylinders, *beside, *chamfers)), shank.back]
    if shank.point:
        shank.hold_by_taper(
            "head turned true to the bought shank", names, [*shank.seated(), *steps], SOCKET_END
        )
        return
    through = [one for one in shank.tail if one.name not in _with_the_shank(shank)]
    rest = [one for one in through if _short_by_mm(shank, one) > 0.0]
    shank.on_the_taper(steps, [*names, *(one.name for one in through if one not in rest)], through, SOCKET_END)
    for one in rest:
        _rest_from_the_shank(shank, one)


def _beside(shank: Shank) -> list[Surface]:
    """What lies against the back: part of the soft head, cut with it."""
    return [one for one in shank.shank if shank.back in (one.near, one.far)]


def _with_the_shank(shank: Shank) -> set[str]:
    """Holes that a shank is bought with: those with a thread, and their drill points."""
    threaded = {zone.surface for zone in shank.part.zones if zone.form == "thread"}
    return {one.name for one in shank.tail if one.name in threaded or one.role == "drill point"}


def _proved(shank: Shank) -> None:
    """Every size that comes with the shank measured before anything is cut."""
    beside, with_it = _beside(shank), _with_the_shank(shank)
    rest = [one for one in shank.shank if one not in beside]
    holes = [one for one in shank.tail if one.name in with_it]
    zones = [zone for zone in shank.part.zones if zone.name in shank.tail_zones()]
    steps = [
        shank.piece.cut("measure", "try the shank in the quill with blue; measure it", shank.taper, faces=[shank.end]),
        *(shank.piece.cut("measure", f"measure {the(one.name)}", one) for one in (*rest, *holes)),
        *(shank.piece.cut("measure", f"try the thread of {the(zone.name)}", zones=[zone]) for zone in zones),
        Step("file the soft end: it must bite, what is hard can neither be turned nor drilled", work="measure"),
    ]
    shank.ledger.add(
        shank.part, "bought shank proved", "by hand", "bench", "bar", f"{shank.part.name}/{shank.end}",
        [shank.taper.name, shank.end, *(one.name for one in (*rest, *holes)), *(zone.name for zone in zones)], steps,
        indicate="the cone between its own centre holes, 0.01 mm or less; it matters, all else is cut true to it",
    )  # fmt: skip


def _short_by_mm(shank: Shank, surface: Surface) -> float:
    """What is left of a bore when the longest drill of its size has gone in from the front; 0 where it is through."""
    return max(0.0, shank.bore_mm(surface) - reach_of(shank.shop, surface))


def _rest_from_the_shank(shank: Shank, surface: Surface) -> None:
    """The rest of a bore from the shank end, held by the turned head."""
    grip, rest = shank.grip(), _short_by_mm(shank, surface) + MEET_MM
    held = abs(shank.piece.z_of[grip.far] - shank.piece.z_of[grip.near])
    step = Step(
        f"drill {the(surface.name)} from this end, to meet the hole from the front", f"{rest:.0f} mm deep", "", (),
        "drill", f"{shank.part.name}/{surface.name}", surface.diameter.nominal_mm, rest,
    )  # fmt: skip
    shank.ledger.add(
        shank.part, "drilled from the shank end", f"soft jaws bored to {the(grip.name)}", "soft jaws",
        f"{shank.part.name}/{grip.name}", f"{shank.part.name}/{shank.end}", [surface.name], [step],
        grips=f"{shank.part.name}/{grip.name}", grip_mm=round(held, 1), out_mm=round(shank.piece.length_mm - held, 1),
        indicate="the taper by the head, 0.05 mm or less; the bore needs no better",
    )  # fmt: skip
