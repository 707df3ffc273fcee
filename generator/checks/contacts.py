"""Every face that bears on a bearing: large enough to hold it, small enough not to rub on what turns or stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.checks.judged import Limit, Say, judged
from generator.description import Choices, Size
from generator.findings import Finding
from generator.fittings.shoulders import RUB_MM

__all__ = ["Contact", "contact_findings", "inner_contacts"]

SOURCE = "bearing catalogue, shoulder diameters of the shaft; chamfer after ISO 582, from memory"


@dataclass(frozen=True, slots=True)
class Contact:
    """A face on the inner ring of bearing `index`: its address, its name in words, its outside diameter."""

    address: str
    title: str
    index: int
    outside: Size


def inner_contacts(choices: Choices) -> Iterator[Contact]:
    """The faces that clamp the inner rings, front to rear."""
    size, last = choices.sizes, choices.counts["rings"]
    yield Contact("spindle/collar", "collar", 1, size["spindle/collar"])
    for index in range(1, last):
        if choices.counts[f"spacer_{index}"]:
            name = f"spacer_{index}"
            for end, ring in (("front", index), ("rear", index + 1)):
                title = f"{end} face of the inner spacer"
                yield Contact(f"{name}_inner/{end}", title, ring, size[f"{name}/{end}_outside"])
    part = {"screw": "washer", "nut": "nut", "circlip": "shim"}[choices.names["retention"]]
    words = {"washer": "clamp washer", "nut": "nut", "shim": "shim"}[part]
    yield Contact(f"{part}/front", words, last, size[f"{part}/outside"])


def contact_findings(choices: Choices) -> Iterator[Finding]:
    """One finding for each face on an inner ring, then those that an outer ring stands on."""
    for contact in inner_contacts(choices):
        yield _on_inner(choices, contact)
    yield from _on_outer(choices)


def _on_inner(choices: Choices, contact: Contact) -> Finding:
    """A stop where the face is on the chamfer or rubs; a warning where it is lower than a shoulder should be."""
    facts, ring, outside = choices.facts, f"ring_{contact.index}", contact.outside
    land = choices.sizes[f"{ring}/inner_land"]
    least, top, most = facts[f"{ring}/shoulder"], facts[f"{ring}/chamfer_top"], land.nominal_mm - RUB_MM
    front = contact.address == "spindle/collar"
    advice = (
        f"Outside {outside.low:.2f} to {outside.high:.2f} mm; too small it sits on the chamfer, too large it rubs on "
        "the seal or the cage."
    )
    if least > most:
        advice += " No diameter suits both: take the open or shielded bearing of this size, its inner ring is higher."
    elif outside.high > land.low:
        advice += f" The land may be as small as {land.low:.2f}: measure it before this face is turned."
    grave = outside.low < top - 1e-9 or outside.high > most + 1e-9
    value = outside.high if outside.high > most else outside.low
    return judged(
        "collar" if front else "shoulder", contact.address,
        f"{contact.title} on the inner ring of bearing {contact.index} (diameter)", value,
        Limit(min(least, most), max(least, most), 4) if grave or least <= most else Limit(least, digits=4),
        Say(SOURCE, advice, "mm", ("spindle.collar_diameter",) if front else ()), "stop" if grave else "warn",
    )  # fmt: skip


def _on_outer(choices: Choices) -> Iterator[Finding]:
    """What outer rings stand on: its opening must not reach their chamfer."""
    size, facts = choices.sizes, choices.facts
    trapped = max(i for i in range(1, choices.counts["rings"] + 1) if choices.counts[f"ring_{i}/pocket"] == 1)
    rows = [("cover/rear", "cover", 1, size["cover/relief"], "")]
    rows.append(("body/floor_1", "floor of the pocket", trapped, *_opening(choices)))
    for index in range(1, trapped):
        if choices.counts[f"spacer_{index}"]:
            name = f"spacer_{index}"
            rows.append((f"{name}_outer/front", "outer spacer", index, size[f"{name}/outer_inside"], ""))
    for address, words, index, opening, cure in rows:
        most = facts.get(f"ring_{index}/housing_shoulder")
        if most is None:
            continue
        yield judged(
            "housing_shoulder", address, f"{words} on the outer ring of bearing {index} (its opening)",
            opening.nominal_mm, Limit(most=most, digits=4),
            Say(
                "bearing catalogue, shoulder diameters of the housing; at nominal size",
                "A wider opening leaves the outer ring standing on its chamfer.", "mm", (cure,) if cure else (),
            ),
        )  # fmt: skip


def _opening(choices: Choices) -> tuple[Size, str]:
    """The bore that the floor of the front pocket leaves open, and the parameter that decides it."""
    if choices.counts.get("pocket_1/relief"):
        return choices.sizes["pocket_1/relief"], ""
    if choices.counts["pockets"] > 1:
        return choices.sizes["pocket_2/diameter"], ""
    return choices.sizes["body/floor_recess"], "body.floor_recess_diameter"
