"""Rolling-bearing rings: by designation or by size, with the land diameters that decide what may touch them."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from functools import cache

from generator.errors import TableError
from generator.tables.loader import Row, load
from generator.tables.own import OWN_SOURCE, OwnRing, own_ring

__all__ = ["Ring", "axial_play", "nearest_rings", "ring", "ring_of_size"]

# Shares of the section D - d. Source: own fit to the catalogue rows of this table, see table ring_relations.
INNER_LAND = (0.262, 0.32, 0.400)
INNER_LAND_SEALED = (0.156, 0.215, 0.275)
OUTER_LAND = (0.254, 0.31, 0.364)
OUTER_LAND_SEALED = (0.175, 0.221, 0.260)
ANGULAR_INNER_LAND = (0.37, 0.40, 0.45)
ANGULAR_OUTER_LAND = (0.33, 0.37, 0.42)
# One maker's figure says nothing of another's ring: the most that two catalogues differ by (shop choice).
MAKERS_DIFFER = 0.04
BALL_SHARE = 0.30
GROOVE_CURVATURE = 0.04

# Suffixes of the usual makers. Source: makers' designation keys, from memory.
_SEALS = (
    "2RS1 2RS2 2RSH 2RSL 2RSR 2RS 2RZ 2HRS RS1 RS2 RSH RSL RSR RS RZ DDU DD DU LLU LLB LLH LU LB LH VV DW 2NSE 2NKE BRS"
)
_SHIELDS = "2ZR 2Z ZZE ZZS ZZ ZR Z"
_CLEARANCES = "C2 C3 C4 C5 CN CM"
_OTHERS = (
    "ETN9 TN9 TNG TNH TNX TN TVP TVH BEP BEJ BEM BEY BE EP JP JR P0 P4 P5 P6 XL HC5 HLC MT GJN LHT23 W64 WT VA201"
    " M J F Y P E"
)
_PREFIXES = ("SKF", "FAG", "NSK", "NTN", "SS", "S", "W")
_LONGEST_TOKEN = 5
_LONGEST_COMPARED = 16
_SERIES_FIGURES = 2
_MISTAKEN = str.maketrans("OIL", "011")
OWN_LAND_MM = 0.1
"""Doubt of a land measured by caliper, each way. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Ring:
    """One bearing. Lands are the bare diameters beside the raceway; each has a band for clearances at their worst."""

    designation: str
    type: str
    bore_mm: float
    outside_mm: float
    width_mm: float
    chamfer_mm: float
    contact_angle_deg: float | None
    sealed: bool
    shielded: bool
    clearance_group: str
    inner_land_mm: float
    inner_land_min_mm: float
    inner_land_max_mm: float
    outer_land_mm: float
    outer_land_min_mm: float
    outer_land_max_mm: float
    land_confidence: str
    land_source: str
    ball_diameter_mm: float
    shaft_shoulder_mm: float | None
    housing_shoulder_mm: float | None
    inner_width_mm: float
    outer_width_mm: float
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class _Build:
    sealed: bool = False
    shielded: bool = False
    clearance: str = "CN"


def ring(designation: str) -> Ring:
    """The ring of this designation; suffixes for seals, shields, clearance and cage are understood.

    >>> ring("6001-2RSH/C3").bore_mm
    12.0

    Raises: TableError, with the nearest known designations.
    Source: see the row.
    """
    asked = designation.strip()
    if len(asked) > 40:
        message = f"a ring designation has at most 40 characters, found {asked[:37]!r}..."
        raise TableError(message)
    own = own_ring(asked)
    if own is not None:
        return _ring_of_own(own)
    folded = _without_prefix(asked.upper().replace(" ", ""))
    known = {name: row for row in load("rings").rows for name in _names(row)}
    for length in range(len(folded), 1, -1):
        row = known.get(folded[:length])
        if row is not None and (build := _read_suffixes(folded[length:])) is not None:
            return _ring_of_row(row, build)
    message = f"no ring {asked!r} is known; nearest known: {nearest_rings(asked)}"
    raise TableError(message)


def nearest_rings(asked: str, count: int = 5) -> str:
    """Known designations most like the one asked for, as one printed list, one name for each ring.

    Letters mistaken for figures are read as figures; then come rings of the same series, deep groove rings first, the
    nearest size first.
    """
    folded = _without_prefix(asked.upper().replace(" ", ""))[:_LONGEST_COMPARED].translate(_MISTAKEN)
    begun = re.match(r"[A-Z]*\d+", folded)
    wanted = begun.group() if begun else folded
    known = {name: row for row in load("rings").rows for name in _names(row)}

    def unlikeness(name: str) -> tuple[bool, bool, int, int, float]:
        alike = next((place for place, (one, other) in enumerate(zip(name, wanted, strict=False)) if one != other),
                     min(len(name), len(wanted)))
        apart = abs(int(name) - int(wanted)) if name.isdigit() and wanted.isdigit() else 10**_LONGEST_COMPARED
        same_series = alike >= _SERIES_FIGURES
        other_type = known[name].text("type") != "deep groove"
        return not same_series, other_type, -alike, apart, -SequenceMatcher(None, name, wanted).ratio()

    found: dict[str, str] = {}
    for name in sorted(known, key=unlikeness):
        found.setdefault(known[name].text("designation"), name)
    return "; ".join(list(found.values())[:count])


def ring_of_size(
    bore_mm: float, outside_mm: float, width_mm: float, *, chamfer_mm: float | None = None, sealed: bool = False
) -> Ring:
    """A ring given outright: the known deep groove ring of that size, else one with estimated lands.

    Raises: TableError for a size that is no ring.
    Source: table ring_relations for the estimates.
    """
    if not 0 < bore_mm < outside_mm or width_mm <= 0:
        size_text = f"bore {bore_mm:g}, outside {outside_mm:g} and width {width_mm:g} mm"
        message = f"no ring has {size_text}; the bore is below the outside diameter, the width above zero"
        raise TableError(message)
    size = {"bore_mm": bore_mm, "outside_mm": outside_mm, "width_mm": width_mm}
    for row in load("rings").rows:
        same = all(abs(row.number(column) - value) < 1e-3 for column, value in size.items())
        if same and row.text("type") == "deep groove" and chamfer_mm in (None, row.number("chamfer_mm")):
            return _ring_of_row(row, _Build(sealed=sealed))
    section = outside_mm - bore_mm
    inner, outer = _estimated_lands("deep groove", bore_mm, outside_mm, sealed=sealed, shielded=False)
    return Ring(
        designation=f"{bore_mm:g} x {outside_mm:g} x {width_mm:g}",
        type="deep groove", bore_mm=bore_mm, outside_mm=outside_mm, width_mm=width_mm,
        chamfer_mm=_usual_chamfer(section) if chamfer_mm is None else chamfer_mm,
        contact_angle_deg=0.0, sealed=sealed, shielded=False, clearance_group="CN",
        inner_land_min_mm=inner[0], inner_land_mm=inner[1], inner_land_max_mm=inner[2],
        outer_land_min_mm=outer[0], outer_land_mm=outer[1], outer_land_max_mm=outer[2],
        land_confidence="estimated", land_source="fitted relation, table ring_relations",
        ball_diameter_mm=BALL_SHARE * section, shaft_shoulder_mm=None, housing_shoulder_mm=None,
        inner_width_mm=width_mm, outer_width_mm=width_mm,
        source="given by the user", confidence="given by the user",
    )


def axial_play(of: Ring, radial_clearance_mm: float) -> float:
    """The whole axial movement in mm of an unloaded deep groove ring with this radial clearance.

    Ga = sqrt(4 A Gr - Gr^2): A the distance of the groove centres, groove curvature times ball diameter.

    Raises: TableError outside 0 to 2 A, and for other types of ring.
    Source: geometry of a ball between two arcs; groove curvature 0.04 from memory, ball diameter estimated.
    """
    if of.type != "deep groove":
        message = f"{of.designation}: axial play follows from radial clearance on deep groove rings only, not {of.type}"
        raise TableError(message)
    centres_mm = GROOVE_CURVATURE * of.ball_diameter_mm
    if not 0 <= radial_clearance_mm <= 2 * centres_mm:
        covered = f"0 to {2 * centres_mm:.3f} mm for {of.designation}"
        message = f"radial clearance {radial_clearance_mm:g} mm lies outside {covered}"
        raise TableError(message)
    return float((4 * centres_mm * radial_clearance_mm - radial_clearance_mm**2) ** 0.5)


def _names(row: Row) -> list[str]:
    return [name for name in (row.text("designation"), row.text("alias")) if name]


@cache
def _suffix_kinds() -> dict[str, str]:
    groups = {"seal": _SEALS, "shield": _SHIELDS, "clearance": _CLEARANCES, "other": _OTHERS}
    return {token: kind for kind, tokens in groups.items() for token in tokens.split()}


def _ring_of_own(own: OwnRing) -> Ring:
    """A ring of the user's: as measured, lands estimated where they were not."""
    found = ring_of_size(own.bore_mm, own.outside_mm, own.width_mm, chamfer_mm=own.chamfer_mm)
    inner, outer = own.inner_land_mm, own.outer_land_mm
    doubt = OWN_LAND_MM
    if inner is not None:
        low, high = inner - doubt, inner + doubt
        found = replace(found, inner_land_mm=inner, inner_land_min_mm=low, inner_land_max_mm=high)
    if outer is not None:
        low, high = outer - doubt, outer + doubt
        found = replace(found, outer_land_mm=outer, outer_land_min_mm=low, outer_land_max_mm=high)
    trust = "measured" if inner is not None and outer is not None else found.land_confidence
    return replace(found, designation=own.name, source=OWN_SOURCE, land_confidence=trust)


def _read_suffixes(rest: str) -> _Build | None:
    """What the suffixes say, longest one first; None where a piece is no known suffix."""
    kinds = _suffix_kinds()
    found: dict[str, str] = {}
    rest = rest.lstrip("-/.")
    while rest:
        token = next((rest[:n] for n in range(_LONGEST_TOKEN, 0, -1) if rest[:n] in kinds), None)
        if token is None:
            return None
        found[kinds[token]] = token
        rest = rest[len(token) :].lstrip("-/.")
    sealed = "seal" in found
    return _Build(sealed, "shield" in found and not sealed, found.get("clearance", "CN"))


def _without_prefix(folded: str) -> str:
    for prefix in _PREFIXES:
        rest = folded.removeprefix(prefix).lstrip("-")
        if rest != folded and rest[:1].isdigit():
            return rest
    return folded


def _ring_of_row(row: Row, build: _Build) -> Ring:
    covered = build.sealed or build.shielded
    open_width = row.number("width_mm")
    width = (row.maybe("sealed_width_mm") if covered else None) or open_width
    inner, outer, confidence = _lands(row, build)
    section = row.number("outside_mm") - row.number("bore_mm")
    return Ring(
        designation=row.text("designation"),
        type=row.text("type"),
        bore_mm=row.number("bore_mm"), outside_mm=row.number("outside_mm"), width_mm=width,
        chamfer_mm=row.number("chamfer_mm"), contact_angle_deg=row.maybe("contact_angle_deg"),
        sealed=build.sealed, shielded=build.shielded, clearance_group=build.clearance,
        inner_land_min_mm=inner[0], inner_land_mm=inner[1], inner_land_max_mm=inner[2],
        outer_land_min_mm=outer[0], outer_land_mm=outer[1], outer_land_max_mm=outer[2],
        land_confidence=confidence,
        land_source=row.text("land_source") if confidence == "catalogue" else "fitted relation, table ring_relations",
        ball_diameter_mm=BALL_SHARE * section,
        shaft_shoulder_mm=row.maybe("shaft_shoulder_mm"), housing_shoulder_mm=row.maybe("housing_shoulder_mm"),
        inner_width_mm=row.maybe("inner_width_mm") or width, outer_width_mm=row.maybe("outer_width_mm") or width,
        source=row.source, confidence=row.confidence,
    )


Band = tuple[float, float, float]


def _lands(row: Row, build: _Build) -> tuple[Band, Band, str]:
    """Inner and outer land as (least, likely, most), and whether a catalogue or an estimate stands behind both."""
    bore, outside = row.number("bore_mm"), row.number("outside_mm")
    inner, outer = _estimated_lands(row.text("type"), bore, outside, sealed=build.sealed, shielded=build.shielded)
    doubt = MAKERS_DIFFER * (outside - bore)
    inner_column = "inner_land_sealed_mm" if build.sealed else "inner_land_mm"
    outer_column = "outer_land_sealed_mm" if build.sealed or build.shielded else "outer_land_mm"
    inner_known, outer_known = row.maybe(inner_column), row.maybe(outer_column)
    if inner_known is not None:
        inner = _known_band(inner_known, row.maybe("second_inner_land_mm") if not build.sealed else None, doubt)
        narrow = row.maybe("narrow_land_mm")
        inner = (min(inner[0], narrow), *inner[1:]) if narrow is not None else inner
    if outer_known is not None:
        second = row.maybe("second_outer_land_mm") if outer_column == "outer_land_mm" else None
        outer = _known_band(outer_known, second, doubt)
    both = inner_known is not None and outer_known is not None
    return inner, outer, "catalogue" if both else "estimated"


def _known_band(known: float, second: float | None, doubt: float) -> Band:
    if second is not None:
        return min(known, second), known, max(known, second)
    return known - doubt, known, known + doubt


def _estimated_lands(kind: str, bore: float, outside: float, *, sealed: bool, shielded: bool) -> tuple[Band, Band]:
    section = outside - bore
    if kind in ("thrust", "taper roller"):
        # No land figure is known: nothing may be taken as free between the washers or beside the cage.
        middle = (bore + outside) / 2
        return (bore, middle, outside), (bore, middle, outside)
    angular = kind == "angular contact"
    inner = ANGULAR_INNER_LAND if angular else INNER_LAND_SEALED if sealed else INNER_LAND
    outer = ANGULAR_OUTER_LAND if angular else OUTER_LAND_SEALED if sealed or shielded else OUTER_LAND
    least, likely, most = (bore + share * section for share in inner)
    high, usual, low = (outside - share * section for share in outer)
    return (least, likely, most), (low, usual, high)


def _usual_chamfer(section_mm: float) -> float:
    """The chamfer usual on rings of this section D - d; read off the deep groove rows of the table."""
    for most, chamfer in ((6.0, 0.15), (8.0, 0.2), (18.0, 0.3), (23.0, 0.6), (28.0, 1.0)):
        if section_mm <= most:
            return chamfer
    return 1.1
