"""What the proof of a drawing tests, by whose rule, and what it cannot test; and the fault that it reports.

KG, TZ, EDFP, MYAIE, EE, NETH, JIS and the like are school books and courses on technical drawing that quote the
standards; no ISO text was read whole. "From memory" and "shop choice" are said where they apply.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Literal

__all__ = ["NOT_TESTED", "RULES", "Fault", "Rule", "Severity", "fault"]

Point = tuple[float, float]
Severity = Literal["fault", "remark"]


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule: what a sheet must be, by which source; a remark is told and refuses nothing."""

    says: str
    source: str
    severity: Severity = "fault"


@dataclass(frozen=True, slots=True)
class Fault:
    """One breach: its code, what is wrong in words, and where: mm on the sheet, entity handle, layer."""

    code: str
    what: str
    at_mm: Point | None = None
    handle: str = ""
    layer: str = ""
    sheet: str = ""

    @property
    def rule(self) -> Rule:
        """The rule that is broken."""
        return RULES[self.code]

    @property
    def severity(self) -> Severity:
        """Whether it is a fault or a mere remark."""
        return self.rule.severity

    @property
    def place(self) -> str:
        """Where it is, in words."""
        spot = "" if self.at_mm is None else f"at {self.at_mm[0]:.1f}, {self.at_mm[1]:.1f} mm"
        entity = f"entity {self.handle}" if self.handle else ""
        layer = f"layer {self.layer}" if self.layer else ""
        return ", ".join(word for word in (self.sheet, spot, entity, layer) if word)

    def __str__(self) -> str:
        """The fault as one line."""
        return f"{self.code} ({self.place}): {self.what}" if self.place else f"{self.code}: {self.what}"

    def as_dict(self) -> dict[str, Any]:
        """Plain data for --json."""
        at = None if self.at_mm is None else [round(value, 2) + 0.0 for value in self.at_mm]
        return {
            "code": self.code, "severity": self.severity, "what": self.what, "sheet": self.sheet, "at_mm": at,
            "handle": self.handle, "layer": self.layer, "rule": self.rule.says, "source": self.rule.source,
        }


def fault(code: str, what: str, at: Point | None = None, handle: str = "", layer: str = "") -> Fault:
    """A fault with its place rounded to what can be seen."""
    spot = None if at is None else (round(float(at[0]), 3), round(float(at[1]), 3))
    return Fault(code, what, spot, handle, layer)


_READABLE = "ISO 129-1 at second hand: nothing may touch a figure (KG p. 60)"
_ONCE = "ISO 129-1 at second hand: each size once, repeats in brackets only"
_WIDTHS = "ISO 128-2 at second hand (KG p. 30)"
_BYLAYER = "one layer, one line type, width and colour: shop choice"

RULES: Mapping[str, Rule] = MappingProxyType({
    # the file
    "file-damaged": Rule("The file is sound and passes an audit without repair.", "DXF reference of the file format"),
    "no-sheet": Rule("The drawing holds a framed sheet with a title block.", "ISO 5457, ISO 7200 at second hand"),
    "unprintable": Rule("Everything on the sheet can be printed as lines and text.", "shop choice"),
    # words and lines
    "text-over-text": Rule("No text touches another.", _READABLE),
    "text-over-line": Rule("No line runs through or against a text.", _READABLE),
    "text-over-arrow": Rule("No arrow head or dot touches a text.", _READABLE),
    "text-over-hatch": Rule("Hatch breaks around text.", "ISO 128-3 at second hand (KG p. 88)"),
    "line-through-arrow": Rule("No line runs through an arrow head.", "common practice, no source"),
    "dimension-lines-cross": Rule("Dimension lines do not cross.", "ISO 129-1 at second hand (KG p. 56)", "remark"),
    "dimension-lines-close": Rule(
        "Parallel dimension lines keep 7 mm, the first 10 mm from the outline.", "KG p. 56; 7 mm from memory", "remark"
    ),
    "outside-frame": Rule("Nothing but marks lies outside the frame.", "ISO 5457 at second hand"),
    "over-title-block": Rule("Nothing lies on the title block.", "ISO 7200 at second hand"),
    "views-overlap": Rule("Views keep apart.", "common practice, no source"),
    # lettering
    "text-too-small": Rule("No text is under 2.5 mm on paper.", "ISO 3098 at second hand (EDFP p. 30)"),
    "text-height": Rule("Text heights are 2.5, 3.5, 5, 7 or 10 mm, at most four of them.", "ISO 3098 (KG p. 22)"),
    "character-missing": Rule("Every character can be printed.", "shop choice"),
    "two-decimal-signs": Rule("One decimal sign on a sheet.", "ISO 129-1 at second hand"),
    # sizes
    "figure-wrong": Rule("A dimension measures exactly the nominal that it prints.", "ISO 129-1 at second hand"),
    "redrawn-differs": Rule(
        "A program that draws the dimension anew prints the same size.", "DXF reference: dimension text and tolerance"
    ),
    "picture-wrong": Rule("Arrows stand where the dimension measures.", "ISO 129-1 at second hand"),
    "size-unreadable": Rule("Every dimension prints a figure.", "ISO 129-1 at second hand"),
    "limits-wrong": Rule(
        "Upper over lower, equal decimals, a bare 0 in mm; an exact or auxiliary size carries none.",
        "ISO 129-1 at second hand (KG p. 129, EE)",
    ),
    "class-and-limits": Rule("The limits behind a tolerance class are those of ISO 286.", "ISO 286-2, see the tables"),
    "class-unknown": Rule("The tolerance class can be looked up.", "ISO 286-2, see the tables", "remark"),
    "small-size-bare": Rule("A size under 0.5 mm carries its own deviations.", "ISO 2768-1 at second hand"),
    "inch-figure": Rule(
        "No inch figure begins with 0, no mm figure with the decimal sign; converted limits stay inside.",
        "ASME Y14.5 at second hand; ISO 370 for limits",
    ),
    "size-in-the-air": Rule("A dimension ends on an edge, an axis or a plane of the view.", "ISO 129-1 at second hand"),
    "size-doubled": Rule("Each size is given once.", _ONCE),
    "gap-length": Rule(
        "Lengths over the gap of an interrupted view leave out the same; no other tells more than it measures.",
        "ISO 129-1 at second hand; DXF reference: factor of a dimension",
    ),
    "gap-uneven": Rule("Edges go on beyond the gap of an interrupted view.", "ISO 128-3 at second hand"),
    "closed-chain": Rule("One length of every closed ring is left out or in brackets.", "ISO 129-1 at second hand"),
    "face-without-size": Rule("Every face is reached by sizes without brackets.", "common practice, no source"),
    "surface-without-size": Rule("Every cylinder, cone and thread has its size.", "common practice, no source"),
    "cone-overdefined": Rule("A cone has three sizes, a fourth in brackets only.", "TZ p. 129"),
    # the form of the sheet
    "paper-size": Rule("The paper is an A size.", "ISO 5457 at second hand (KG p. 15)"),
    "frame": Rule("The frame leaves 20 mm at the left and 10 mm elsewhere.", "ISO 5457:1999, from memory"),
    "check-line": Rule(
        "A line of 100 mm across and one upright show the print's scale.", "common practice, no source"
    ),
    "scale-not-standard": Rule("Scales are 1, 2 or 5 times a power of ten.", "ISO 5455 at second hand (KG p. 22)"),
    "scale-differs": Rule("The title block prints the scale that most of the view area has.", "ISO 5455 (IB p. 72)"),
    "scale-not-told": Rule("A view at another scale says so.", "ISO 5455, from memory"),
    "line-width": Rule("Wide and narrow lines are of one group, 2 : 1; no third width.", _WIDTHS),
    "line-type": Rule("A layer has the line type of its purpose.", "ISO 128-2 at second hand (TZ p. 11)"),
    "unknown-layer": Rule("Layers are named by purpose and listed.", _BYLAYER),
    "layer-zero": Rule("Nothing lies on layer 0 outside blocks.", _BYLAYER),
    "own-look": Rule("Colour, width and line type come from the layer.", _BYLAYER),
    "line-over-line": Rule(
        "Of two lines on one another only the higher-ranking is drawn.", "ISO 128 at second hand (JIS)", "remark"
    ),
    "lines-too-close": Rule(
        "Parallel outlines keep 0.7 mm on paper, or a detail shows them.", "ISO 128-2 at second hand", "remark"
    ),
    # the title block
    "field-empty": Rule("No field of the title block is empty or a place-holder.", "ISO 7200 at second hand"),
    "field-dash": Rule("The fields of ISO 7200 say more than a dash.", "ISO 7200 at second hand", "remark"),
    "field-too-long": Rule("The words of a field stay inside its cell.", "ISO 7200 at second hand"),
    "field-unreadable": Rule("Date, sheet, scale, tolerance, finish and edges are given in their form.",
                             "ISO 7200, 5455, 2768-1, 1302, 13715 at second hand"),
    "projection-symbol": Rule(
        "The symbol is that of the projection: the small end points left, first angle has its circles at the right.",
        "ISO 5456-2, proportions from memory",
    ),
    # hatch
    "hatch-alike": Rule("Touching parts differ by 30 degrees or 1.3 in pitch.", "ISO 128-3 (KG p. 88); shop choice"),
    "hatch-changes": Rule("One part keeps slope and pitch.", "ISO 128-3 at second hand (KG p. 88)"),
    "hatch-along-edge": Rule("Hatch does not run along an edge.", "TPUB-SL, PIS; 5 degrees: shop choice"),
    # symbols
    "datum-missing": Rule("Every letter in a tolerance frame stands at a datum.", "ISO 5459 at second hand"),
    "datum-doubled": Rule("A datum letter stands once.", "ISO 5459 at second hand"),
    "datum-unused": Rule("A datum letter is used by a frame.", "common practice, no source"),
    "frame-incomplete": Rule("A run-out frame has a value without diameter sign, and a datum.", "ISO 1101 (NETH)"),
    "thread-unreadable": Rule("A thread is named as ISO 6410 or ASME B1.1 have it.", "ISO 6410 at second hand"),
    "centre-hole": Rule("A centre-hole code names form, pilot and a larger mouth.", "ISO 6411 (KG p. 187)"),
    "finish-symbol": Rule(
        "A finish symbol stands on a line, level or upright, with a value.", "ISO 1302 (TZ p. 88)"
    ),
    "general-finish": Rule(
        "The general finish stands by the block, its exceptions in brackets are those of view and notes.",
        "ISO 1302 at second hand (KG p. 148)",
    ),
    "general-edges": Rule(
        "Edge symbols give the values of the block's note.", "ISO 13715 at second hand (KG p. 173)"
    ),
    "taper-symbol": Rule(
        "The taper symbol's narrow end points to the smaller diameter.", "ISO 3040 at second hand (KG p. 163)"
    ),
    "detail-letter": Rule("A detail's letter stands at its circle and over its view.", "KG p. 184"),
    # items
    "items-differ": Rule("Items in the view are those of the parts list, each once.", "ISO 6433, ISO 7573 (TZ p. 50)"),
    "list-order": Rule("A list on the block rises from bottom to top.", "ISO 7573 at second hand (GRIF)"),
    "letters-differ": Rule("Letters in the view are those of the table.", "common practice, no source"),
    "item-leaders-cross": Rule("Leaders of items do not cross.", "ISO 6433 at second hand (TZ p. 50)"),
    "revision": Rule("Revision in block and table agree.", "from memory"),
    # a bare profile
    "profile": Rule(
        "A profile for the lathe is one closed outline, no words, one end at 0.", "shop choice"
    ),
})

NOT_TESTED: Mapping[str, str] = MappingProxyType({
    "dashes meet at corners, chain lines cross on dashes": "dash patterns are left to the plotting program",
    "each end view lies on the side its projection demands": "the file does not say which end a view shows",
    "no hatch on a part of the never-cut list": "the file names cut parts, not their kinds",
    "each chamfer, radius, undercut and knurl has one callout": "corners and knurls are not entities of their own",
    "hole depth is at least usable length and 2.5 pitches": "depth and thread belong together only in the description",
    "each turned end held on a centre has a centre-hole symbol": "the set-up is not in the file",
    "datum triangle on a dimension line or 4 mm from it": "axis or surface is meant: the file does not say which",
    "each hardness zone has both ends dimensioned and a value": "a treated stretch may be named in the notes",
    "a size flagged as functional is not bare": "the flag is in the description only",
    "item leader ends in or on its part": "the outline of a part is not an entity of its own",
    "revision letter agrees with file name and record": "one file is read, not its neighbours",
    "page of the print equals the sheet": "the PDF is another file",
    "stock, quantity, mating note and centre-hole decision": "quantity and mating notes are words without a form",
})
"""Tests of the house's drawing rules that a reader of one finished file cannot make, and why."""
