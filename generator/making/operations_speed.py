"""Spindle speed and feed of an operation: cutting speed by material and tool, the machine's own step."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from generator import tables
from generator.findings import PRACTICE
from generator.making.setups import SetUp
from generator.making.workshop import Workshop
from generator.reckoning.cutting import feed_for_finish_mm
from generator.reckoning.speed import choose_speed, rpm_of_speed

__all__ = [
    "FREE_RPM", "FREE_SHARE", "Band", "Group", "Speed", "cutting_band", "drill_feed_mm", "finish_feed_mm", "group_of",
    "held_rpm", "rough_feed_mm", "speed_for",
]

MEMORY = "from memory (shop handbooks)"
RIDGE_OVER_RA = 9 * 3**0.5 / 4
"""Height of the ridges over Ra for the arcs a round nose leaves. Source: geometry of the parabola, 3.897."""

REACTION_S = 0.7
"""From seeing the groove to open half-nuts. From memory; shop choice."""

RIM_M_S = 20.0
"""Rim speed of a cast-iron chuck that is not passed without its maker's figure. From memory; its own plate comes first.
"""

FREE_RPM, FREE_SHARE = 500.0, 2.0
"""Most turns a minute of a bar that stands out by more than so many diameters and is carried by nothing: it whips.

Common practice, no source.
"""
CARRIER_RPM = 600.0
"""Most with a carrier or other weight to one side. Common practice, no source; shop choice."""

_HELD_RPM = (
    ("glue", "work held by glue", 400.0),
    ("mandrel", "work held by friction on a mandrel", 500.0),
    ("light grip", "work held by a light grip", 500.0),
)
"""Most for work that nothing but glue or friction keeps on. Common practice, no source; shop choice."""


@dataclass(frozen=True, slots=True)
class Group:
    """A group of materials that cut alike.

    `row` is its name in the table of cutting speeds, `share` what of those speeds it stands, `depth` what of the usual
    depth, `feed_row` and `feed` the same in the table of feeds.
    """

    row: str
    share: float
    depth: float
    feed_row: str
    feed: float
    source: str


@dataclass(frozen=True, slots=True)
class Band:
    """Cutting speeds from low to high in m/min, and whence."""

    low_m_min: float
    high_m_min: float
    source: str


@dataclass(frozen=True, slots=True)
class Speed:
    """The speed to set, and what made it; `rpm` is None where none applies and `why` says why not."""

    rpm: float | None
    why: str
    source: str = ""
    rests_on: tuple[str, ...] = ()


_STEEL = ("mild steel", "mild steel")
_GROUPS: tuple[tuple[tuple[str, ...], Group], ...] = (
    (("42crmo4", "4140", "34crnimo6", "4340", "en24", "en19"),
     Group("42CrMo4 Q&T", 1.0, 0.7, _STEEL[0], 0.6, MEMORY)),
    (("16mncr5", "20mncr5", "8620", "en36", "en32"), Group("16MnCr5", 1.0, 0.8, _STEEL[0], 0.8, MEMORY)),
    (("o1", "100mncrw4", "silver", "115crv3", "w1", "100cr6", "52100"),
     Group("42CrMo4 Q&T", 1.0, 0.7, _STEEL[0], 0.6, "annealed tool steel cut as 42CrMo4: from memory")),
    (("c45", "en8", "080m40", "1144", "c60"), Group("carbon steel C45", 1.0, 0.9, _STEEL[0], 0.8, MEMORY)),
    (("stainless", "304", "316", "303", "440c"), Group("stainless steel", 1.0, 0.7, "stainless steel", 0.5, MEMORY)),
    (("iron", "gjl-250", "gjs-400"), Group("cast iron", 1.0, 1.0, "cast iron", 1.0, MEMORY)),
    (("aluminium", "6082", "6061", "7075", "2024"), Group("aluminium", 1.0, 1.5, "aluminium", 1.0, MEMORY)),
    (("bronze", "cusn12"), Group("phosphor bronze", 1.0, 1.0, "brass", 0.7, MEMORY)),
    (("brass", "cuzn39pb3"), Group("brass", 1.0, 1.5, "brass", 1.0, MEMORY)),
    (("11smn30", "11smnpb30", "12l14", "en1a"), Group("mild steel", 1.2, 1.2, _STEEL[0], 1.0, MEMORY)),
)
_MILD = Group("mild steel", 1.0, 1.0, _STEEL[0], 1.0, MEMORY)
_UNKNOWN = Group(
    "42CrMo4 Q&T", 1.0, 0.7, _STEEL[0], 0.6, "the material is in no list: taken as tough steel, shop choice"
)

_NAMES = {
    ("turn", "HSS"): ("turning, HSS", "HSS rough turning"),
    ("turn", "carbide"): ("turning, carbide", "rough turning, carbide", "carbide rough turning"),
    ("bore", "HSS"): ("boring, HSS",),
    ("bore", "carbide"): ("boring, carbide",),
    ("drill", "HSS"): ("drilling, HSS", "HSS drilling"),
    ("ream", "HSS"): ("reaming, HSS", "HSS reaming and threading"),
    ("tap", "HSS"): ("tapping, HSS", "HSS reaming and threading"),
}
_SHARES = {
    "bore": ("turn", 0.75), "drill": ("turn", 0.8), "ream": ("drill", 0.5), "tap": ("drill", 0.4),
    "thread": ("turn", 0.33), "part": ("turn", 0.5), "groove": ("turn", 0.5), "knurl": ("turn", 0.33),
}
"""What kinds of work stand of another's cutting speed where no table has them. Common practice, no source."""

_LIKE = {"face": "turn", "rough": "turn", "taper": "turn", "centre": "drill"}


def group_of(material: str) -> Group:
    """The group of a material by the words of its name; an unknown one is taken as tough steel, and says so.

    Source: groups are a shop choice; speeds in the tables.
    """
    words = material.casefold().replace("/", " ").replace(",", " ").split()
    for names, group in _GROUPS:
        if any(word == name or (len(name) > 3 and word.startswith(name)) for word in words for name in names):
            return group
    mild = {"mild", "s235", "s235jr", "s355", "a36", "1018", "bright", "steel"}
    return _MILD if mild & set(words) else _UNKNOWN


@cache
def cutting_band(material: str, work: str, tool: str) -> Band | None:
    """Cutting speeds for a material, kind of work and tool ("HSS", "carbide"), None for work that has none.

    Source: table cutting_speeds; where it has no row, the usual share of turning or drilling, common practice.

    >>> cutting_band("mild steel", "turn", "HSS").high_m_min
    45.0
    """
    group = group_of(material)
    return _band(group, _LIKE.get(work, work), tool)


def _band(group: Group, work: str, tool: str) -> Band | None:
    tool = "HSS" if work in {"drill", "ream", "tap"} else tool
    for name in _NAMES.get((work, tool), ()):
        row = _row(group.row, name)
        if row is not None:
            low, high = row.number("low_m_min") * group.share, row.number("high_m_min") * group.share
            extra = "" if group.source == MEMORY else f"; {group.source}"
            return Band(low, high, f"{row.text('material')}, {row.text('operation')}: {row.source}{extra}")
    if work not in _SHARES:
        return _band(_MILD, work, tool) if group is not _MILD and work == "turn" and tool == "carbide" else None
    base, share = _SHARES[work]
    found = _band(group, base, tool)
    if found is None:
        return None
    return Band(
        found.low_m_min * share, found.high_m_min * share, f"{share:g} of {found.source} (share: {PRACTICE})"
    )


def _row(material: str, operation: str) -> tables.Row | None:
    names = (material, "steel") if material == "mild steel" else (material,)
    rows = tables.load("cutting_speeds").rows
    return next(
        (row for name in names for row in rows
         if row.text("material") == name and row.text("operation") == operation),
        None,
    )


def held_rpm(setup: SetUp) -> tuple[str, float] | None:
    """What holds the work lightly, in words, and the most turns a minute for it; None where it is held firmly.

    Source: common practice, no source; shop choice.
    """
    words = f"{setup.located} {setup.holding}".casefold()
    return next(((why, rpm) for word, why, rpm in _HELD_RPM if word in words), None)


def speed_for(
    band: Band, diameter_mm: float, workshop: Workshop, limits_rpm: dict[str, float] | None = None
) -> Speed:
    """The machine's next lower step for a cutting speed on a diameter, within the other limits in turns a minute.

    Where even the slowest step is too fast it is the slowest, and the words say so.
    Source: `generator.reckoning.speed`.
    """
    allowed = {"cutting speed": rpm_of_speed(band.high_m_min, diameter_mm), **(limits_rpm or {})}
    rests = tuple(name for name in ("speeds_rpm",) if workshop.is_default(name))
    slowest = min(workshop.speeds_rpm)
    name = min(allowed, key=lambda one: allowed[one])
    if allowed[name] < slowest:
        why = f"slowest speed there is; {name} would allow {allowed[name]:.0f} rpm"
        return Speed(slowest, why, band.source, rests)
    choice = choose_speed(allowed, workshop.speeds_rpm, steps=workshop.has_steps)
    rpm = choice.rpm if workshop.has_steps else float(int(choice.rpm))
    if choice.limited_by == "cutting speed":
        why = f"{band.low_m_min:.0f} to {band.high_m_min:.0f} m/min"
    else:
        why = f"limited by {choice.limited_by}" if choice.limited_by != "machine" else "fastest the machine has"
    return Speed(rpm, why, band.source, rests)


def rough_feed_mm(material: str, workshop: Workshop) -> float:
    """Feed of roughing in mm a turn: the table's, or what a machine of this size carries, whichever is less.

    Source: table feeds; limits by the machine's size common practice, no source.
    """
    group = group_of(material)
    row = next(
        (row for row in tables.load("feeds").rows
         if row.text("material") == group.feed_row and row.text("operation") == "turning, HSS"), None,
    )
    listed = 0.25 if row is None else row.number("value_mm_rev") * group.feed
    height = workshop.centre_height_mm
    carries = 0.1 if height <= 125 else 0.15 if height <= 170 else 0.25
    return max(0.05, round(min(listed, carries), 2))


def finish_feed_mm(ra_um: float, nose_mm: float, trailing_deg: float, *, bore: bool = False) -> float:
    """Largest feed that leaves this Ra with this nose, in whole hundredths, between 0.03 and 0.2 mm a turn.

    A boring bar takes no more than 0.08.
    Source: f = root (8 r Rt), Rt = 3.9 Ra (geometry); 0.08 boring common practice, no source (table boring_rules).
    """
    wanted = feed_for_finish_mm(RIDGE_OVER_RA * ra_um, nose_mm, min(90.0, max(1.0, trailing_deg)))
    most = 0.08 if bore else 0.2
    return max(0.03, min(most, int(wanted * 100 + 1e-6) / 100))


def drill_feed_mm(material: str, diameter_mm: float) -> float:
    """Feed of a drill pressed by hand in mm a turn: half of what a power feed takes.

    Source: table feeds, the row at or below the diameter (the smallest in proportion below it); half by hand, common
    practice, no source.

    >>> drill_feed_mm("mild steel", 12.0)
    0.125
    """
    group = group_of(material)
    rows = sorted(
        (float(row.text("quantity").split()[-2]), row.number("value_mm_rev"))
        for row in tables.load("feeds").rows
        if row.text("material") == group.feed_row and row.text("operation") == "drilling, HSS"
    )
    at, feed = next(((d, f) for d, f in reversed(rows) if d <= diameter_mm), rows[0])
    if diameter_mm < at:
        feed *= diameter_mm / at
    return round(max(0.02, 0.5 * feed * group.feed), 3)
