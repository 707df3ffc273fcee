"""Nothing that work still rests on is cut off, and what cannot be taken back is marked."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding
from generator.making.plan_checks.plan import Cut, Plan, found
from generator.making.plan_checks.surfaces import words
from generator.making.setups import SetUp

__all__ = ["about_datums"]

_CUTS_OFF = frozenset({"saw", "part"})
_SOURCE = "what is cut off cannot carry the work; common practice, no source"


def about_datums(plan: Plan) -> Iterator[Finding]:
    """Stops where centre holes, stub or bar are gone, or never were, when a set-up still needs them.

    Source: common practice, no source.
    """
    for place, setup in enumerate(plan.setups):
        for name in setup.parts:
            told = any(cut.step.work for cut in plan.steps if name in cut.setup.parts)
            if not told or not plan.tool.parts[name].is_made:
                continue
            yield from _centres(plan, setup, place, name)
            yield from _bar(plan, setup, place, name)
            yield from _unmarked(plan, setup, place, name)


def _needs_centres(setup: SetUp) -> bool:
    return setup.located == "centres" or setup.support == "centre"


def _is_centre(plan: Plan, cut: Cut) -> bool:
    """True for a step that leaves a centre hole or the countersink that stands in for one, or takes to a hollow centre.

    A hollow centre carries a point that is turned by then.
    """
    if cut.step.work == "hold" and "hollow centre" in cut.step.text:
        points = (f"{name}/{one.name}" for name in cut.setup.parts for one in plan.tool.parts[name].surfaces
                  if one.role == "point")  # fmt: skip
        return any(plan.is_turned_before(address, cut.place) for address in points)
    return cut.step.work == "centre" or any("centre_mouth" in address for address in cut.features)


def _cut_off(plan: Plan, place: int, name: str) -> Cut | None:
    """The last step before a set-up that cuts the part off what it was held by, if any."""
    gone = None
    for cut in plan.steps:
        if cut.place >= place or name not in cut.setup.parts or cut.step.work not in _CUTS_OFF:
            continue
        if any(
            before.is_before(cut) and name in before.setup.parts and before.step.work not in _CUTS_OFF | {""}
            for before in plan.steps
        ):
            gone = cut
    return gone


def _faced_away(plan: Plan, place: int, name: str) -> SetUp | None:
    """The last set-up before this one that faces off the stub whose centre hole was in use, if any."""
    part = plan.tool.parts[name]
    z_of = plan.z_of(part)
    outside = [z for one in part.surfaces if one.side == "outside" for z in plan.span(part, one)]
    ends = {f"{name}/{face}" for face, z in z_of.items() if z <= min(outside) + 1e-6 or z >= max(outside) - 1e-6}
    gone, stub = None, False
    for setup in plan.setups[:place]:
        if name in setup.parts and stub and ends & set(setup.finishes):
            gone = setup
        stub = stub or (name in setup.parts and setup.leaves_mm > 0.0 and _needs_centres(setup))
    return gone


def _centres(plan: Plan, setup: SetUp, place: int, name: str) -> Iterator[Finding]:
    """Centre holes that are gone, or that nobody has drilled."""
    if not _needs_centres(setup):
        return
    holes = [
        cut for cut in plan.steps
        if name in cut.setup.parts and _is_centre(plan, cut) and cut.place <= place
    ]  # fmt: skip
    cut, faced = _cut_off(plan, place, name), _faced_away(plan, place, name)
    lost = [cut.setup] if cut is not None and not any(cut.is_before(hole) for hole in holes) else []
    lost += [faced] if faced is not None and not any(hole.setup.number > faced.number for hole in holes) else []
    if lost:
        yield found(
            "order-datum-gone", "stop", setup, name,
            f"needs the centre holes of the {name}, but set-up {lost[0].number} cut one off",
            "finish all that runs true to the centre holes before they are cut off", source=_SOURCE,
        )  # fmt: skip
    elif not holes:
        yield found(
            "order-not-made", "stop", setup, f"{name}/centre holes",
            f"needs centre holes in the {name}, which no step has drilled by then",
            "face and centre the ends in an earlier set-up", source="nothing can run true to what is not there yet",
        )  # fmt: skip


def _bar(plan: Plan, setup: SetUp, place: int, name: str) -> Iterator[Finding]:
    """A set-up held by the bar after the part was cut off it."""
    gone = _cut_off(plan, place, name)
    if gone is None or "bar" not in (setup.grips, setup.locates_on):
        return
    yield found(
        "order-datum-gone", "stop", setup, f"{name}/bar",
        f"holds the bar, but set-up {gone.setup.number} cut the {name} off it",
        "hold it by a finished surface, or do this before it is cut off", source=_SOURCE,
    )  # fmt: skip


def _unmarked(plan: Plan, setup: SetUp, place: int, name: str) -> Iterator[Finding]:
    """A note where a set-up cuts off what work was located on, without saying that there is no way back."""
    if setup.no_return or not any(step.work in _CUTS_OFF for step in setup.steps):
        return
    rested = [
        one for one in plan.setups[:place] if name in one.parts and _needs_centres(one) and one.finishes
    ]  # fmt: skip
    if rested:
        yield found(
            "order-no-return", "note", setup, name,
            f"there is no way back to the centre holes of {words(name)} after this",
            "measure everything that was turned between centres before cutting off", source=_SOURCE,
        )  # fmt: skip
