"""Is every surface, face, thread and cross feature cut, once, and does the plan name only what is there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from generator.description import Part, Surface, Tool
from generator.findings import Finding
from generator.making.setups import SetUp

__all__ = [
    "about_surfaces", "cut_in", "must_finish", "names_of", "never_cut", "twice_cut", "twice_finished", "unfinished",
    "unknown_addresses", "words",
]

_MATTERS = frozenset({"seat", "pocket", "taper", "point"})
_FORMED_BY_TOOL = frozenset({"chamfer", "relief", "drill point"})
_RULE = "every surface is finished in exactly one set-up"


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


def never_cut(tool: Tool, setups: Sequence[SetUp]) -> tuple[str, ...]:
    """Addresses of threads, cross features and faces of made parts that no set-up finishes, by name or by what ends
    on them.
    """
    done = {address for setup in setups for address in setup.finishes}
    found = []
    for part in tool.made:
        named = [cross.name for cross in part.cross] + [zone.name for zone in part.zones if zone.form == "thread"]
        found += [f"{part.name}/{name}" for name in named if f"{part.name}/{name}" not in done]
        for length in part.lengths:
            if length.size.derived or length.size.basic:
                continue
            around = {f"{part.name}/{name}" for name in (length.face, *_ending_on(part, length.face))}
            # A face of a thread or cross feature that is missing already is not told a second time.
            if not around & done and around.isdisjoint(found):
                found.append(f"{part.name}/{length.face}")
    return tuple(dict.fromkeys(found))


def twice_finished(setups: Sequence[SetUp]) -> tuple[str, ...]:
    """Addresses that more than one set-up claims to finish, in order."""
    return _repeated([address for setup in setups for address in setup.finishes])


def twice_cut(setups: Sequence[SetUp]) -> tuple[str, ...]:
    """Addresses of sizes that more than one step brings to their limits, in order."""
    return _repeated([address for setup in setups for step in setup.steps for address in step.cuts])


def _repeated(listed: Sequence[str]) -> tuple[str, ...]:
    return tuple(address for address, count in Counter(listed).items() if count > 1)


def unknown_addresses(tool: Tool, setups: Sequence[SetUp]) -> tuple[str, ...]:
    """Addresses in set-ups that name nothing on any part of the tool."""
    known = {f"{part.name}/{name}" for part in tool.parts.values() for name in names_of(part)}
    spoken = (
        address
        for setup in setups
        for address in (
            *setup.finishes, setup.touches_off, setup.locates_on, setup.grips, *(step.surface for step in setup.steps)
        )
        if "/" in address
    )
    return tuple(dict.fromkeys(address for address in spoken if address not in known))


def names_of(part: Part) -> set[str]:
    """Everything a set-up can speak of: surfaces, faces, zones, cross features."""
    faces = {part.origin_face, *(length.face for length in part.lengths), *(place.face for place in part.places)}
    return faces | set(part.by_name) | {zone.name for zone in part.zones} | {cross.name for cross in part.cross}


def words(address: str) -> str:
    """What an address names, in shop words: "body/large_relief" is "the large relief of the body"."""
    part, _, name = address.partition("/")
    if not name:
        return f"the {part.replace('_', ' ')}"
    return f"the {name.replace('/', ' ').replace('_', ' ')} of the {part.replace('_', ' ')}"


def _ending_on(part: Part, face: str) -> Iterator[str]:
    """Surfaces, cross features and zones that end on a face."""
    return (name for name, faces in _ends(part) if face in faces)


def _ends(part: Part) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Each surface, cross feature and zone with the faces that it ends on."""
    yield from ((s.name, (s.near, s.far, s.at)) for s in part.surfaces)
    yield from ((cross.name, (cross.near, cross.far, cross.at)) for cross in part.cross)
    yield from ((zone.name, (zone.near, zone.far)) for zone in part.zones)


def cut_in(tool: Tool, setups: Sequence[SetUp]) -> Mapping[str, tuple[int, ...]]:
    """By address, the places in the sequence of the set-ups that cut a surface, or a face: by its own name, else by
    the surfaces and features that end on it.
    """
    direct: dict[str, list[int]] = {}
    for place, setup in enumerate(setups):
        for address in setup.finishes:
            direct.setdefault(address, []).append(place)
    found = {address: tuple(places) for address, places in direct.items()}
    for part in tool.parts.values():
        by_face: dict[str, set[int]] = {}
        for name, faces in _ends(part):
            for face in faces:
                by_face.setdefault(face, set()).update(direct.get(f"{part.name}/{name}", ()))
        for face, places in by_face.items():
            if face and places:
                found.setdefault(f"{part.name}/{face}", tuple(sorted(places)))
    return found


def about_surfaces(tool: Tool, setups: Sequence[SetUp]) -> Iterator[Finding]:
    """A stop for every address that nobody knows, that no set-up finishes, or that two of them do.

    Source: shop choice.
    """
    cases = (
        ("order-unknown", unknown_addresses(tool, setups), "the order of work names something that no part has"),
        ("order-unfinished", (*unfinished(tool, setups), *never_cut(tool, setups)), "no set-up finishes this"),
        ("order-twice", (*twice_finished(setups), *twice_cut(setups)), "more than one set-up or step finishes this"),
    )
    for code, addresses, title in cases:
        for address in dict.fromkeys(addresses):
            yield Finding(
                code, "stop", address, title, unit="", source=_RULE,
                advice="mend the order of work of this kind of tool: each surface in exactly one set-up",
            )
