"""Bores of a part from its front inwards, each with its grooves and its thread."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from generator.description import Surface, Tool
from generator.making.floors import SQUARED, hole_in_floor_mm
from generator.making.rescue_fits import held_by
from generator.making.route.ledger import Workpiece
from generator.making.route.measured import fit_of, made_first, short_mm
from generator.making.route.words import plain, the
from generator.making.setups import Step

__all__ = ["bored", "roughed"]

_UNDER_MM = 0.5
"""Left on the diameter of a fine bore by roughing. Common practice, no source."""



def roughed(
    tool: Tool, piece: Workpiece, pockets: Sequence[Surface], then: Sequence[Step] = ()
) -> Iterator[Step]:
    """Fine bores roughed before any is finished, so that neither heat nor freed stress spoils one that is done.

    A floor made to measure is left short: what it is made to may come out smaller than drawn. `then` follows while all
    is rough and before it cools.

    Source: common practice, no source.
    """
    fine = [one for one in pockets if one.side == "inside" and (one.role == "pocket" or one.diameter.tolerance_class)]
    for bore in sorted(fine, key=lambda one: -piece.z_of[one.far]):
        short = short_mm(tool, piece.part, bore.near)
        yield Step(
            f"rough {the(bore.name)}, {_UNDER_MM:g} mm under" + (f", its floor {short:g} mm short" if short else ""),
            work="bore", surface=f"{piece.part.name}/{bore.name}", allowance_mm=_UNDER_MM, short_mm=short,
        )  # fmt: skip
    yield from then
    if fine:
        yield Step("let it cool to the hand: warm steel measures large", work="measure")


def bored(tool: Tool, piece: Workpiece, pockets: Sequence[Surface], *, flat: bool = False) -> Iterator[Step]:
    """Bores from the front inwards; a groove and a thread follow the bore that they lie in.

    `flat` is True where the floor of the deepest is drilled flat already: nothing is left there to square.

    Source: common practice, no source.
    """
    z_of, part = piece.z_of, piece.part
    bores = sorted(
        (one for one in pockets if one.side == "inside"),
        key=lambda one: (-round(z_of[one.far], 6), -round(z_of[one.near], 6)),
    )
    grooves = [one for one in pockets if one.side == "inside groove"]
    for bore in bores:
        held = held_by(tool, part, bore)
        bearing = held is not None and held.is_bearing
        fit = ", fit to its bearing as measured; last two cuts alike" if bearing else ""
        if held is not None and not bearing:
            ready = any(tool.parts[name].title == held.title for name in made_first(tool, part))
            mate = held.title.lower()
            fit = f", fit to the {mate}, which is made: it slides in" if ready else f", the {mate} is fitted to it"
        size = f"dia {bore.diameter.nominal_mm:g} mm, for the thread" if bore.diameter.derived else ""
        instrument = "bore gauge, depth micrometer" if bore.role == "pocket" else ""
        cut = piece.cut("bore", f"bore {the(bore.name)}{fit}", bore, tool=instrument, also=size)
        yield replace(cut, short_mm=short_mm(tool, part, bore.near))
        if bore is bores[-1] and not flat:
            yield _squared(piece, bore)
        for groove in grooves:
            if z_of[groove.near] > z_of[bore.near] - 1e-6 and z_of[groove.far] < z_of[bore.far] + 1e-6:
                yield _grooved(tool, piece, groove)
        for zone in part.zones:
            if zone.surface == bore.name and zone.form == "thread":
                yield piece.cut("thread", f"screw-cut {the(zone.name)}: its mate is cut to it", zones=[zone])
    yield Step("break the edges; measure each bore, a bearing pressed in does not come out whole", work="deburr")


def _grooved(tool: Tool, piece: Workpiece, groove: Surface) -> Step:
    """A groove in a bore; one made to measure is set from the face that its size is drawn from.

    Source: common practice, no source.
    """
    part, words = piece.part, f"cut {the(groove.name)}"
    for length in (one for one in part.lengths if one.face == groove.near and one.size.fitted):
        fit = fit_of(tool, f"{part.name}/{length.name}")
        low, high = (None, None) if fit is None else (fit.fit_low_mm, fit.fit_high_mm)
        between = "" if low is None or high is None else f" ({low:.2f} to {high:.2f} mm)"
        words += (
            f": touch the {plain(length.from_face)} with the tool's rear edge, come out by the place as reckoned"
            f"{between}, plunge to size, then widen towards the front"
        )
    return piece.cut("groove", words, groove)


def _squared(piece: Workpiece, bore: Surface) -> Step:
    """The floor of the deepest bore squared: the drill that let the bar in left its point there.

    Source: common practice, no source.
    """
    to_mm = hole_in_floor_mm(piece.part, bore)
    end = f"to dia {to_mm:g} mm" if to_mm else "to the middle"
    return Step(
        f"square the floor of {the(bore.name)}: {SQUARED}, light cuts, until the drill's point is gone",
        f"dia {bore.diameter.nominal_mm:g} mm {end}", "", (), "bore", f"{piece.part.name}/{bore.name}",
    )  # fmt: skip
