"""Run-out wanted on every part, and what the order of work earns for it, set-up by set-up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from generator.description import Part, Relation, Tool
from generator.findings import PRACTICE, Finding, Severity
from generator.making.plan_checks.surfaces import cut_in, names_of, words
from generator.making.setups import ONE_SETTING, SetUp, earned

__all__ = ["Promise", "about_truth", "promises"]

_NOISE_MM = 1e-9


@dataclass(frozen=True, slots=True)
class Promise:
    """A run-out that the drawing wants, and what the order of work earns for it, by which steps.

    `useless` names the set-up of a way that earns nothing useful, "" where every link is sound.
    """

    address: str
    relation: Relation
    low_mm: float | None
    high_mm: float | None
    how: str
    useless: str = ""

    @property
    def is_kept(self) -> bool:
        """True where even the usual high figure stays within the limit."""
        return self.high_mm is not None and self.high_mm <= self.relation.limit_mm + _NOISE_MM

    @property
    def is_earned_with_luck(self) -> bool:
        """True where the usual low figure stays within the limit, by ways that are of use."""
        return self.low_mm is not None and not self.useless and self.low_mm <= self.relation.limit_mm + _NOISE_MM


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a walk from a surface through its set-ups has come to: a node, the surface met there, errors so far."""

    node: str
    surface: str
    low_mm: float
    high_mm: float
    words: tuple[str, ...]
    useless: str


def promises(
    tool: Tool, setups: Sequence[SetUp], cuts: Mapping[str, tuple[int, ...]] | None = None
) -> tuple[Promise, ...]:
    """Every run-out wanted on a made part, with what the order of work earns for it."""
    known = cut_in(tool, setups) if cuts is None else cuts
    return tuple(
        _promise(setups, known, part, relation) for part in tool.made for relation in part.relations
    )


def _promise(
    setups: Sequence[SetUp], cuts: Mapping[str, tuple[int, ...]], part: Part, relation: Relation
) -> Promise:
    """The worst of the data that the relation names; one that nothing connects is worse than any figure."""
    address = f"{part.name}/{relation.surface}"
    between = partial(_earned_between, setups, cuts, address, relation)
    found = [between(datum) for datum in _data(part, relation.datum)]
    missing = next((one for one in found if one.high_mm is None), None)
    return missing or max(found, key=lambda one: (bool(one.useless), one.high_mm or 0.0))


def _data(part: Part, datum: str) -> list[str]:
    """Addresses of the datum surfaces: one, or several joined by a hyphen or a plus sign."""
    names = [datum] if datum in names_of(part) or "/" in datum else datum.replace("+", "-").split("-")
    return [name.strip() if "/" in name else f"{part.name}/{name.strip()}" for name in names]


def _walk(setups: Sequence[SetUp], cuts: Mapping[str, tuple[int, ...]], address: str) -> Iterator[_Place]:
    """From a surface to the set-up that cut it, to what that located on, and so on down; never to a later set-up."""
    low = high = 0.0
    words: tuple[str, ...] = ()
    useless, before = "", len(setups)
    while True:
        place = next((one for one in reversed(cuts.get(address, ())) if one < before), None)
        if place is None:
            yield _Place(address, address, low, high, words, useless)
            return
        setup, before = setups[place], place
        yield _Place(f"set-up {setup.number}", address, low, high, words, useless)
        gain = earned(setup)
        if gain.high_mm is None or gain.low_mm is None:
            return
        low, high = low + gain.low_mm, high + gain.high_mm
        words = (*words, f"set-up {setup.number}: {gain.how}")
        useless = useless or ("" if gain.useful else f"set-up {setup.number}")
        address = setup.locates_on


def _earned_between(
    setups: Sequence[SetUp], cuts: Mapping[str, tuple[int, ...]], one: str, relation: Relation, other: str
) -> Promise:
    """Low and high run-out between two surfaces and how it comes about; None where nothing connects them."""
    here = list(_walk(setups, cuts, one))
    there = {place.node: place for place in _walk(setups, cuts, other)}
    for place in here:
        meeting = there.get(place.node)
        if meeting is None:
            continue
        low, high = place.low_mm + meeting.low_mm, place.high_mm + meeting.high_mm
        words = [*place.words, *meeting.words]
        if place.surface != meeting.surface and place.node.startswith("set-up "):
            low, high = low + (ONE_SETTING.low_mm or 0.0), high + (ONE_SETTING.high_mm or 0.0)
            words.append(f"{place.node}: {ONE_SETTING.how}")
        return Promise(one, relation, low, high, "; ".join(words), place.useless or meeting.useless)
    ends = [_held(setups, cuts, address) for address in (one, other)]
    return Promise(one, relation, None, None, f"no set-up locates one on the other: {'; '.join(ends)}")


def _held(setups: Sequence[SetUp], cuts: Mapping[str, tuple[int, ...]], address: str) -> str:
    """Where a surface is cut and what the work runs true to there, in words."""
    name = address.partition("/")[2].replace("_", " ") or address
    places = cuts.get(address)
    if not places:
        return f"{name} is cut nowhere"
    setup = setups[places[-1]]
    on = setup.locates_on.replace("/", " ").replace("_", " ") or "nothing"
    return f"{name} in set-up {setup.number}, located on {on}"


def about_truth(found: Sequence[Promise]) -> Iterator[Finding]:
    """A note with what is earned; a stop where a run-out cannot be earned, a warning where only luck earns it.

    It cannot where no set-up locates one surface on the other, where a link is a way that earns nothing useful (turned
    round in a three-jaw), or where even the usual low figure lies beyond the limit.
    Source: what each way earns, `setups.WAYS`; how bad that is, shop choice.
    """
    for promise in found:
        yield _kept(promise) if promise.is_kept else _missed(promise)


def _kept(promise: Promise) -> Finding:
    relation = promise.relation
    of, to = words(promise.address), relation.datum.replace("_", " ")
    return Finding(
        "order-earned", "note", promise.address, f"{relation.kind} of {of} to {to}, earned by the order of work",
        promise.high_mm, f"at most {relation.limit_mm:g}", source=PRACTICE, advice=promise.how,
        contributors=tuple(promise.how.split("; ")),
    )  # fmt: skip


def _missed(promise: Promise) -> Finding:
    relation = promise.relation
    of = words(promise.address)
    severity: Severity = "warn" if promise.is_earned_with_luck else "stop"
    to = relation.datum.replace("_", " ")
    if promise.high_mm is None:
        title, cure = "two settings that have nothing to do with one another", _CURE
    elif promise.useless:
        title, cure = f"{promise.useless} earns nothing useful", _CURE
    elif severity == "stop":
        title, cure = "the order of work cannot earn it", _CURE
    else:
        title = "the order of work may not earn it"
        cure = "check with the indicator before unclamping and try again, or cut both in one setting"
        if "revolving centre" in promise.how:
            cure = f"finish it on a dead centre, greased, not on the revolving one; {cure}"
    value = promise.low_mm if severity == "stop" and not promise.useless else promise.high_mm
    return Finding(
        "order-run-out", severity, promise.address, f"{relation.kind} of {of} to {to}: {title}",
        value=value, limit=f"at most {relation.limit_mm:g} mm", source=f"{PRACTICE} ({promise.how})", advice=cure,
        miss=max(0.0, (value or 0.0) - relation.limit_mm), contributors=tuple(promise.how.split("; ")),
    )  # fmt: skip


_CURE = (
    "cut both in one setting, or finish the first and hold the work by it for the second: a taper in the headstock "
    "spindle, a turned diameter between the same centres, in soft jaws bored to it or clocked in a four-jaw"
)
