"""Sizes made to measure: the range they may come out at, and which parts must be there to be measured first."""

from __future__ import annotations

import math

from generator.description import ChainResult, Part, Tool, evaluate_gap, positions

__all__ = ["SHORT_MM", "fit_of", "made_first", "short_mm", "spare_mm"]

SHORT_MM = 0.3
"""Left on a face made to measure until the measuring is done. Common practice, no source."""


def fit_of(tool: Tool, address: str) -> ChainResult | None:
    """The gap that this size is made to measure for, worked out; None for a size that is not.

    Source: the chains of the description.
    """
    gap = next((one for one in tool.gaps if one.fit == address), None)
    return None if gap is None else evaluate_gap(tool, gap, positions(tool))


def made_first(tool: Tool, part: Part) -> frozenset[str]:
    """Names of other made parts whose sizes are measured for one that this part is cut to.

    Source: the chains of the description.
    """
    found = (fit_of(tool, f"{part.name}/{length.name}") for length in part.lengths if length.size.fitted)
    names = {term.address.partition("/")[0] for one in found if one is not None for term in one.contributors}
    return frozenset(name for name in names if name != part.name and name in tool.parts and tool.parts[name].is_made)


def spare_mm(tool: Tool, part: Part) -> float:
    """How much longer than drawn a part is left that is faced to a gap not measured yet; 0 for any other part.

    Source: the chains of the description.
    """
    found = ((one, fit_of(tool, f"{part.name}/{one.name}")) for one in part.lengths if one.size.fitted)
    most = (fit.fit_high_mm - one.size.nominal_mm for one, fit in found if fit is not None and fit.fit_high_mm)
    return math.ceil(max(0.0, *most, 0.0) * 10.0 - 1e-6) / 10.0


def short_mm(tool: Tool, part: Part, face: str) -> float:
    """How far short of its nominal depth a face is left until what it is made to is measured; 0 for other faces.

    Source: the chains of the description; what is left besides, common practice, no source.
    """
    for length in part.lengths:
        fit = fit_of(tool, f"{part.name}/{length.name}") if length.face == face and length.size.fitted else None
        if fit is not None and fit.fit_low_mm is not None:
            return round(max(0.0, length.size.nominal_mm - fit.fit_low_mm) + SHORT_MM, 2)
    return 0.0
