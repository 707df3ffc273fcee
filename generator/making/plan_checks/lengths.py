"""Lengths whose two faces are cut in different set-ups, and what of their tolerance is left."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.description import Form, Length, Part, Tool, face_forms, face_positions
from generator.findings import Finding
from generator.making.plan_checks.surfaces import cut_in
from generator.making.setups import SetUp

__all__ = ["Transfer", "about_lengths", "transfers"]

_SOURCE = "sum of the tolerances between the faces (shop choice)"


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


def transfers(
    tool: Tool, setups: Sequence[SetUp], cuts: Mapping[str, tuple[int, ...]] | None = None
) -> tuple[Transfer, ...]:
    """Lengths of made parts that the order of work does not cut from face to face."""
    known = cut_in(tool, setups) if cuts is None else cuts
    found = (
        _transfer(part, length, setups, known)
        for part in tool.made
        for length in part.lengths
        if not (length.size.derived or length.size.basic)
    )
    return tuple(one for one in found if one is not None)


def _transfer(
    part: Part, length: Length, setups: Sequence[SetUp], cuts: Mapping[str, tuple[int, ...]]
) -> Transfer | None:
    places = {face: cuts.get(f"{part.name}/{face}", ()) for face in (length.face, length.from_face)}
    if any(not found for found in places.values()) or set.intersection(*map(set, places.values())):
        return None
    # A face that is cut more than once has its place from the last cut.
    later = max(places, key=lambda face: places[face][-1])
    other = length.from_face if later == length.face else length.face
    setup = setups[places[later][-1]]
    part_name, _, touch = setup.touches_off.partition("/")
    # Touched off on the face that is cut, it is measured over both and what is over is taken off: nothing is lost.
    if part_name != part.name or touch in (other, later):
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


def about_lengths(found: Sequence[Transfer]) -> Iterator[Finding]:
    """A note for every length to set from another face than its own, a warning where no tolerance is left for it.

    Source: sum of the tolerances between the faces, geometry.
    """
    for one in found:
        holds = one.left_mm > 0.0
        yield Finding(
            "order-transfer",
            "note" if holds else "warn",
            one.address,
            f"set-up {one.setup} sets this length from {one.from_face}, not from its own face: set {one.set_mm:.3f} mm",
            value=round(one.left_mm, 4),
            limit="more than 0 mm left each way",
            source=_SOURCE,
            advice=f"set {one.set_mm:.3f} mm from {one.from_face.replace('_', ' ')}: that is the size at the machine"
            if holds
            else "touch off on the face that the length is drawn from, or cut both faces in one setting",
        )
