"""Which fixed words a sheet needs. A language is one instance; a field it forgets is an error of the type checker."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

__all__ = ["Words"]

_NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?(?![\w])")
_CONTACT = re.compile(r"(.+?) against (.+?) of (.+)")


@dataclass(frozen=True, slots=True)
class Words:
    """Every word on a sheet that does not come from the description or from the user.

    Names in curly brackets are filled in. `kinds` are the tolerated properties by their English names. `phrases`
    are sentences of the description that this language knows, by their English wording; others stay English. A phrase
    "Bearing …" knows every bearing by its designation, one with # every number in its place. `names` are surfaces and
    faces in plain words.
    """

    # Title block
    material: str
    stock: str
    mass: str
    scale: str
    general_tolerance: str
    finish: str
    units: str
    edges: str
    created: str
    approved: str
    date: str
    owner: str
    title: str
    document: str
    number: str
    revision: str
    sheet: str
    do_not_scale: str
    check_line: str
    made_with: str
    # What a field says
    general_arrangement: str
    part_drawing: str
    see_parts_list: str
    not_stated: str
    not_issued: str
    not_approved: str
    unless_shown: str
    edges_value: str
    # Revision table
    change: str
    changed_on: str
    by: str
    # Notes
    notes: str
    unsolved: str
    unsolved_mark: str
    inches_only: str
    mm_govern: str
    inches_govern: str
    general_in_inches: str
    band: str
    finish_on: str
    frame_in_words: str
    relation_of_face: str
    face: str
    at: str
    beside_flats: str
    stub: str
    relation: str
    # Parts list
    item: str
    quantity: str
    description: str
    material_or_standard: str
    remark: str
    # Gaps
    gap: str
    what: str
    nominal: str
    at_worst: str
    wanted: str
    made_to_measure: str
    fitted: str
    span: str
    at_least: str
    at_most: str
    any: str
    all_in: str
    inches: str
    gap_left: str
    gaps_left: str
    # Assembly, views
    assembly: str
    order_of_assembly: str
    isometric_view: str
    step: str
    onto: str
    into: str
    against: str
    from_work_side: str
    from_tailstock_side: str
    with_pliers: str
    as_arrangement_shows: str
    until: str
    # Beside a figure, with the space that parts them from it
    across_flats: str
    to_fit: str
    through: str
    flat_at: str
    from_axis: str
    half_angle: str
    kinds: Mapping[str, str]
    phrases: Mapping[str, str]
    contact: str
    names: Mapping[str, str]

    def kind(self, name: str) -> str:
        """The tolerated property in this language."""
        return self.kinds.get(name, name)

    def phrase(self, english: str) -> str:
        """A sentence of the description in this language where it is known, otherwise in English."""
        first, _, rest = english.partition(" ")
        named = self.phrases.get(f"{first} …")
        told = self.phrases.get(english) or (named.replace("…", rest) if named and rest else None)
        return told or self._numbered(english)

    def _numbered(self, english: str) -> str:
        """A phrase known but for the numbers in it, which stand in the same order in every language."""
        numbers = _NUMBER.findall(english)
        known = self.phrases.get(_NUMBER.sub("#", english)) if numbers else None
        for number in numbers if known else ():
            known = known.replace("#", number, 1) if known else None
        return known or english

    def name(self, name: str) -> str:
        """A surface or face of the description in plain words: "pocket_1" is "pocket 1"."""
        plain = name.replace("_", " ")
        if plain in self.names:
            return self.names[plain]
        # "seat 2 end": the number may stand anywhere in a name.
        numbers = _NUMBER.findall(plain)
        known = self.names.get(_NUMBER.sub("#", plain)) if numbers else None
        if known:
            return known.replace("#", numbers[0], 1)
        first, _, last = plain.rpartition(" ")
        if first and last.isdigit():
            return f"{self.names.get(first, first)} {last}"
        return plain

    def order_text(self, english: str) -> str:
        """What is ordered, "circlip DIN 471 - 17", in this language: designations and sizes stay as they are."""
        return ", ".join(self.phrase(piece) for piece in english.split(", "))

    def contact_of(self, english: str) -> str:
        """What the making says of a contact, "front against floor 1 of Body", in this language."""
        found = _CONTACT.fullmatch(english)
        if found is None:
            return english
        return self.contact.format(face=self.name(found[1]), other=self.name(found[2]), part=self.within(found[3]))

    def within(self, title: str) -> str:
        """The title of a part in the middle of a sentence."""
        told = self.phrase(title)
        return title[:1].lower() + title[1:] if told == title else told
