"""A point on the shank itself: flat roughed, hardened, then finished true to the finished shank; the flat last."""

from __future__ import annotations

from typing import TYPE_CHECKING

from generator.making.flat_height import below_top
from generator.making.route.flats import flat_cut
from generator.making.route.heat import hardening_of, steps_of
from generator.making.route.words import FIRE_CAUTION, plain
from generator.making.setups import Step

if TYPE_CHECKING:
    from generator.description import Cross
    from generator.making.route.heat import Hardening
    from generator.making.route.shank import Shank

__all__ = ["point_true_to_shank"]

_OVER_MM = 0.3
"""What a roughed flat keeps for grinding. Common practice, no source."""


def point_true_to_shank(shank: Shank) -> None:
    """From the roughed point to the finished one.

    Source: common practice, no source.
    """
    part, way = shank.part, hardening_of(shank.part.material)
    flats = [one for one in part.cross if one.kind == "half"]
    cut = flat_cut(shank.shop, "the flat")
    for one in flats:
        how = cut.text if cut.work == "file" else "mill or file the flat"
        step = Step(
            f"{how}, {_OVER_MM:g} mm over, {shank.piece.wishes.also.get(f'{part.name}/{one.name}', '')}".rstrip(", "),
            _rough_flat(shank, one), cut.tool, (), cut.work, f"{part.name}/{one.name}", allowance_mm=_OVER_MM,
        )  # fmt: skip
        shank.bench(f"{plain(one.name)} roughed", [], [step])
    if way is not None:
        _hardened(shank, way)
    verb, word = ("grind", "ground") if way is not None else ("turn", "finished")
    text = f"{verb} the point, what it leaves of the head read from the back"
    steps = [
        *shank.seated(),
        *(shank.piece.cut(verb, text, cone) for cone in shank.point),  # type: ignore[arg-type]
        Step("indicate the point", f"{shank.seat_mm:g} mm or less", "dial test indicator", (), "indicate"),
    ]
    names = [*(one.name for one in shank.point), shank.front]
    shank.hold_by_taper(f"point {word} true to the shank", names, steps)
    for one in flats:
        step = (
            shank.piece.cut("grind", "grind the flat", cross=[one]) if way is not None
            else shank.piece.cut(cut.work, cut.text, cross=[one], tool=cut.tool)
        )
        shank.bench(f"{plain(one.name)} {word} last", [one.name], [step], (one.near, one.far))


def _rough_flat(shank: Shank, flat: Cross) -> str:
    """What the flat is roughed to: below the head's top, and from its back, since the point is over size yet."""
    z_of = shank.piece.z_of
    back = min(z_of[flat.near], z_of[flat.far]) - z_of[shank.back]
    to = f"to {back:.1f} mm from the back"
    depth = below_top(shank.part, flat.sizes["height"])
    if depth is None:
        return f"{flat.sizes['height'].middle + _OVER_MM:.2f} mm above the axis\n{to}"
    low, high, head = depth
    return f"{(low + high) / 2 - _OVER_MM:.2f} mm below the top of the {head}\n{to}"


def _hardened(shank: Shank, way: Hardening) -> None:
    """The fire, and the shank after it where it is not finished yet."""
    is_bought = shank.shop.taper_method == "bought shank"
    again = Step("when it is cold, try the taper in the quill with blue: nothing may have moved", work="measure")
    point = f"{shank.part.name}/{shank.point[0].name}"
    shank.ledger.add(
        shank.part, "point hardened and tempered", "tongs, by the shank", "bench",
        f"{shank.part.name}/{shank.taper.name}", "", [],
        [*steps_of(way, "the point end", "the shank", point), *([again] if shank.early or is_bought else [])],
        caution=FIRE_CAUTION, no_return="what is hard can only be ground from here on",
    )  # fmt: skip
    if not (is_bought or shank.early):
        shank.shank_after_the_fire()
