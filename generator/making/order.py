"""What an order of work leaves to be wished: surfaces never finished, run-out not earned, lengths transferred."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from generator.description import Form, Length, Part, Relation, Surface, Tool, face_forms, face_positions
from generator.findings import Finding
from generator.making.setups import ONE_SETTING, SetUp, earned

__all__ = [
    "Promise",
    "Transfer",
    "compare",
    "must_finish",
    "promises",
    "transfers",
    "twice_finished",
    "unfinished",
    "unknown_addresses",
]

_MATTERS = frozenset({"seat", "pocket", "taper", "point"})
_FORMED_BY_TOOL = frozenset({"chamfer", "relief", "drill point"})
_OWN_RULE = "shop choice"


@dataclass(frozen=True, slots=True)
class Promise:
    """A run-out that the drawing wants, and what the order of work earns for it, by which steps."""

    address: str
    relation: Relation
    low_mm: float | None
    high_mm: float | None
    how: str

    @property
    def is_kept(self) -> bool:
        """True where even the usual high figure stays within the limit."""
        return self.high_mm is not None and self.high_mm <= self.relation.limit_mm + 1e-9


@dataclass(frozen=True, slots=True)
class Transfer:
    """A length whose two faces are cut in different set-ups and not set from one another.

    `set_mm` is the distance to set from the touch-off face; `left_mm` is half the tolerance that remains for it when
    the sizes between have taken theirs (below 0: it cannot be held this way).
    """

    address: str
    setup: int
    face: str
    from_face: str
    set_mm: float
    left_mm: float


def must_finish(part: Part) -> Iterator[Surface]:
    """Surfaces of a made part that some set-up must bring to size."""
    for surface in part.surfaces:
        if surface.role in _MATTERS or not (surface.role in _FORMED_BY_TOOL or surface.diameter.derived):
            yield surface


def unfinished(tool: Tool, setups: Sequence[SetUp]) -> tuple[str, ...]:
    """Addresses of surfaces of made parts that no set-up finishes."""
    done = {address for setup in setups for address in setup.finishes}
    wanted = (f"{part.name}/{surface.name}" for part in tool.made for surface in must_finish(part))
    return tuple(address for address in wanted if address not in done)


def twice_finished(setups: Sequence[SetUp]) -> tuple[str, ...]:
    """Addresses that more than one set-up claims to finish, in order."""
    listed = [address for setup in setups for address in setup.finishes]
    return tuple(dict.fromkeys(address for address in listed if listed.count(address) > 1))


def unknown_addresses(tool: Tool, setups: Sequence[SetUp]) -> tuple[str, ...]:
    """Addresses in set-ups that name nothing on any part of the tool."""
    known = {f"{part.name}/{name}" for part in tool.parts.values() for name in _names(part)}
    spoken = (
        address
        for setup in setups
        for address in (*setup.finishes, setup.touches_off, setup.locates_on)
        if "/" in address
    )
    return tuple(dict.fromkeys(address for address in spoken if address not in known))


def _names(part: Part) -> set[str]:
    """Everything a set-up can speak of: surfaces, faces, zones, cross features."""
    faces = {part.origin_face, *(length.face for length in part.lengths), *(place.face for place in part.places)}
    return faces | {s.name for s in part.surfaces} | {z.name for z in part.zones} | {c.name for c in part.cross}


def _set_ups_of(part: Part, name: str, setups: Sequence[SetUp]) -> list[SetUp]:
    """Set-ups that cut a surface, or a face: by its own name, else by the surfaces and features that end on it."""
    named = [setup for setup in setups if f"{part.name}/{name}" in setup.finishes]
    if named:
        return named
    ends = {s.name for s in part.surfaces if name in (s.near, s.far, s.at)}
    ends |= {c.name for c in part.cross if name in (c.near, c.far)}
    ends |= {z.name for z in part.zones if name in (z.near, z.far)}
    return [setup for setup in setups if any(f"{part.name}/{end}" in setup.finishes for end in ends)]


# --- run-out -----------------------------------------------------------------------------------------------------


def promises(tool: Tool, setups: Sequence[SetUp]) -> tuple[Promise, ...]:
    """Every run-out wanted on a made part, with what the order of work earns for it."""
    return tuple(
        _promise(tool, part, relation, setups)
        for part in tool.made
        for relation in part.relations
    )


def _promise(tool: Tool, part: Part, relation: Relation, setups: Sequence[SetUp]) -> Promise:
    address = f"{part.name}/{relation.surface}"
    path = partial(_earned_between, tool, setups, address)
    found = [path(datum) for datum in _data(part, relation.datum)]
    worst = max(found, key=lambda one: -1.0 if one[1] is None else one[1])
    missing = next((one for one in found if one[1] is None), None)
    low, high, how = missing or worst
    return Promise(address, relation, low, high, how)


def _data(part: Part, datum: str) -> list[str]:
    """Addresses of the datum surfaces: one, or several joined by a hyphen or a plus sign."""
    names = [datum] if datum in _names(part) or "/" in datum else datum.replace("+", "-").split("-")
    return [name.strip() if "/" in name else f"{part.name}/{name.strip()}" for name in names]


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a walk from a surface through its set-ups has come to: a node, the surface met there, errors so far."""

    node: str
    surface: str
    low_mm: float
    high_mm: float
    words: tuple[str, ...]


def _walk(tool: Tool, setups: Sequence[SetUp], address: str) -> Iterator[_Place]:
    """From a surface to the set-up that cut it, to what that located on, and so on down."""
    low = high = 0.0
    words: tuple[str, ...] = ()
    met: set[int] = set()
    while True:
        part_name, _, name = address.partition("/")
        part = tool.parts.get(part_name)
        cut_in = _set_ups_of(part, name, setups) if part is not None else []
        if not cut_in or cut_in[-1].number in met:
            yield _Place(address, address, low, high, words)
            return
        setup = cut_in[-1]
        met.add(setup.number)
        yield _Place(f"set-up {setup.number}", address, low, high, words)
        gain = earned(setup)
        if gain.high_mm is None or gain.low_mm is None:
            return
        low, high = low + gain.low_mm, high + gain.high_mm
        words = (*words, f"set-up {setup.number}: {gain.how}")
        address = setup.locates_on


def _earned_between(
    tool: Tool, setups: Sequence[SetUp], one: str, other: str
) -> tuple[float | None, float | None, str]:
    """Low and high run-out between two surfaces and how it comes about; None where nothing connects them."""
    here = list(_walk(tool, setups, one))
    there = {place.node: place for place in _walk(tool, setups, other)}
    for place in here:
        meeting = there.get(place.node)
        if meeting is None:
            continue
        low, high = place.low_mm + meeting.low_mm, place.high_mm + meeting.high_mm
        words = [*place.words, *meeting.words]
        if place.surface != meeting.surface and place.node.startswith("set-up "):
            low, high = low + (ONE_SETTING.low_mm or 0.0), high + (ONE_SETTING.high_mm or 0.0)
            words.append(f"{place.node}: {ONE_SETTING.how}")
        return low, high, "; ".join(words)
    return None, None, "no set-up locates one on the other"


# --- lengths -----------------------------------------------------------------------------------------------------


def transfers(tool: Tool, setups: Sequence[SetUp]) -> tuple[Transfer, ...]:
    """Lengths of made parts that the order of work does not cut from face to face."""
    found = (
        _transfer(part, length, setups)
        for part in tool.made
        for length in part.lengths
        if not (length.size.derived or length.size.basic)
    )
    return tuple(one for one in found if one is not None)


def _transfer(part: Part, length: Length, setups: Sequence[SetUp]) -> Transfer | None:
    cut = {face: _set_ups_of(part, face, setups) for face in (length.face, length.from_face)}
    if any(not found for found in cut.values()):
        return None
    numbers = {face: {setup.number for setup in found} for face, found in cut.items()}
    if numbers[length.face] & numbers[length.from_face]:
        return None
    later = max(numbers, key=lambda face: min(numbers[face]))
    other = length.from_face if later == length.face else length.face
    setup = next(s for s in cut[later] if s.number == min(numbers[later]))
    part_name, _, touch = setup.touches_off.partition("/")
    if part_name != part.name or touch == other:
        return None
    z_of = face_positions(part)
    if touch not in z_of:
        return None
    left = (length.size.high - length.size.low) / 2 - _half_range(part, touch, other)
    return Transfer(f"{part.name}/{length.name}", setup.number, later, touch, abs(z_of[later] - z_of[touch]), left)


def _half_range(part: Part, start: str, end: str) -> float:
    """Worst-case half range of the distance between two faces of one part."""
    forms = face_forms(part)
    return Form.of(forms[end]).plus(forms[start], -1.0).half_range


# --- findings ----------------------------------------------------------------------------------------------------


def compare(tool: Tool, setups: Sequence[SetUp]) -> tuple[Finding, ...]:
    """Findings about the order of work: addresses, surfaces, run-out, lengths."""
    return (
        *_about_addresses(tool, setups),
        *(found for one in promises(tool, setups) if (found := _about_promise(one)) is not None),
        *(_about_transfer(one) for one in transfers(tool, setups)),
    )


def _about_addresses(tool: Tool, setups: Sequence[SetUp]) -> Iterable[Finding]:
    cases = (
        ("order-unknown", unknown_addresses(tool, setups), "the order of work names something that no part has"),
        ("order-unfinished", unfinished(tool, setups), "no set-up finishes this surface"),
        ("order-twice", twice_finished(setups), "more than one set-up finishes this"),
    )
    for code, addresses, title in cases:
        for address in addresses:
            yield Finding(
                code, "stop", address, title, unit="", source="every surface is finished in exactly one set-up",
                advice="mend the order of work of this kind of tool",
            )


def _about_promise(promise: Promise) -> Finding | None:
    """A warning where a run-out is not earned, a note where it is earned only with good luck."""
    if promise.is_kept:
        return None
    limit = promise.relation.limit_mm
    lucky = promise.low_mm is not None and promise.low_mm <= limit
    return Finding(
        "order-run-out",
        "note" if lucky else "warn",
        promise.address,
        f"{promise.relation.kind} to {promise.relation.datum}: the order of work may not earn it",
        value=promise.high_mm,
        limit=f"at most {limit:g} mm",
        source=f"common practice, no source ({promise.how})",
        advice="check with the indicator before unclamping and try again, or cut both in one setting",
        contributors=tuple(promise.how.split("; ")),
    )


def _about_transfer(one: Transfer) -> Finding:
    holds = one.left_mm > 0.0
    return Finding(
        "order-transfer",
        "note" if holds else "warn",
        one.address,
        f"set-up {one.setup} sets this length from {one.from_face}, not from its own face: set {one.set_mm:.3f} mm",
        value=round(one.left_mm, 4),
        limit="more than 0 mm left each way",
        source=f"sum of the tolerances between the faces ({_OWN_RULE})",
        advice="" if holds else "touch off on the face that the length is drawn from, or cut both faces in one setting",
    )
