"""Values of the sheets: lettering, arrows, distances, layers and line types, all in mm on paper.

Sources: ISO 128-2 (line widths and types), ISO 129-1 (dimensions), ISO 3098 (lettering), ISO 5457 (sheets), read at
second hand in books on technical drawing; a value marked "shop choice" lies inside what they allow.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "ARROW_HALF_MM",
    "ARROW_MM",
    "ATTACH_APP",
    "CENTRE_PAST_MM",
    "CLEAR_MM",
    "FIRST_LANE_MM",
    "FRAME_HEIGHT_MM",
    "LANE_PITCH_MM",
    "LARGE_TEXT_MM",
    "LAYERS",
    "LINE_TYPES",
    "NUMBER_TEXT_MM",
    "OVERSHOOT_MM",
    "SMALL_TEXT_MM",
    "TEXT_GAP_MM",
    "TEXT_MM",
    "LayerStyle",
    "hatch_pitch_mm",
    "scale_text",
]

TEXT_MM = 3.5
SMALL_TEXT_MM = 2.5
LARGE_TEXT_MM = 5.0
NUMBER_TEXT_MM = 7.0

ARROW_MM = 3.5
ARROW_HALF_MM = 0.46
"""Half the width of an arrow head: length x tan 7.5 degrees."""

TEXT_GAP_MM = 1.0
OVERSHOOT_MM = 2.0
CENTRE_PAST_MM = 3.0
FIRST_LANE_MM = 10.0
LANE_PITCH_MM = 7.0
CLEAR_MM = 0.8
"""Least clear space round a text to anything else. Shop choice."""

FRAME_HEIGHT_MM = 7.0

ATTACH_APP = "TAILSTOCK"
"""Application name under which the address of a size is kept with its DIMENSION."""


@dataclass(frozen=True, slots=True)
class LayerStyle:
    """One layer by purpose: line width in 1/100 mm, colour and line type; everything on it is drawn BYLAYER.

    No colour serves two widths, so that a program of the R12 days can plot widths by colour. On paper all is black.
    """

    name: str
    width: int
    colour: int
    line_type: str = "Continuous"
    purpose: str = ""
    is_plotted: bool = True


LAYERS = (
    LayerStyle("OUTLINE", 50, 7, purpose="visible edges and outlines"),
    LayerStyle("HIDDEN", 25, 4, "TS_HIDDEN", "hidden edges"),
    LayerStyle("CENTRE", 25, 1, "TS_CENTRE", "axes, pitch circles, gauge planes"),
    LayerStyle("NEIGHBOUR", 25, 6, "TS_NEIGHBOUR", "neighbouring parts, extreme positions"),
    LayerStyle("HATCH", 25, 8, purpose="cut surfaces"),
    LayerStyle("DIM", 25, 3, purpose="dimension, extension and leader lines, thread roots, crosses on flats"),
    LayerStyle("BREAK", 25, 3, purpose="zigzag lines at the gap of an interrupted view"),
    LayerStyle("TEXT", 35, 5, purpose="words and figures"),
    LayerStyle("SYMBOL", 35, 5, purpose="tolerance frames, datums, surface finish, taper"),
    LayerStyle("ZONE", 50, 30, "TS_ZONE", "stretches with a required treatment"),
    LayerStyle("FRAME", 70, 252, purpose="frame and centring marks"),
    LayerStyle("BLOCK", 35, 251, purpose="title block"),
    LayerStyle("CONSTRUCTION", 13, 9, purpose="definition points and viewport borders, not plotted", is_plotted=False),
)

# ISO 128-2: long dash 24 d, dash 12 d, gap 3 d, dot 0.5 d with d = 0.25; dots and gaps a little longer, so that they
# survive a print (shop choice). The wide zone line has d = 0.5.
LINE_TYPES: dict[str, tuple[str, tuple[float, ...]]] = {
    "TS_HIDDEN": ("narrow dashed", (3.0, -1.0)),
    "TS_CENTRE": ("narrow long-dash-dot", (8.0, -1.0, 0.5, -1.0)),
    "TS_NEIGHBOUR": ("narrow long-dash-double-dot", (8.0, -1.0, 0.5, -1.0, 0.5, -1.0)),
    "TS_ZONE": ("wide long-dash-dot", (8.0, -1.5, 0.8, -1.5)),
}


def hatch_pitch_mm(least_wall_on_paper_mm: float) -> float:
    """Distance of hatch lines on paper for the thinnest wall to be hatched. Shop choice in the span of 1.5 to 6."""
    for limit, pitch in ((6.0, 1.5), (15.0, 2.0), (40.0, 3.0)):
        if least_wall_on_paper_mm < limit:
            return pitch
    return 4.0


def scale_text(scale: float) -> str:
    """The printed form of a scale: "1:1", "2:1", "1:2"."""
    return f"{scale:g}:1" if scale >= 1 else f"1:{1 / scale:g}"
