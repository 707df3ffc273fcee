"""Texts of several styles, laid out once: the same text in another place, view or drawing costs next to nothing.

Laying out stacked limits takes about half of a replay, and most texts of a sheet stay the same when one size changes.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from ezdxf.addons.drawing.mtext_complex import ComplexMTextRenderer
from ezdxf.addons.drawing.properties import RenderContext
from ezdxf.entities.textstyle import get_textstyle
from ezdxf.math import Vec3
from ezdxf.tools.text_layout import LayoutAlignment

__all__ = ["draw_paragraphs"]

_KEPT_LAYOUTS = 4096
# Text without a width of its own is not to be wrapped; the library would guess a width and wrap at that.
_ROOMY_HEIGHTS = 1000.0
_NO_WIDTH = 1e-6
_FRAMED = 16


@dataclass(slots=True)
class _LaidOut:
    """What the layout draws, with the insertion point at zero and unturned; takes the place of the pipeline."""

    words: list[tuple[str, Any, float]] = field(default_factory=list)
    lines: list[tuple[Any, Any]] = field(default_factory=list)

    def draw_text(self, text: str, transform: Any, properties: Any, cap_height: float) -> None:
        self.words.append((text, transform, cap_height))

    def draw_line(self, start: Any, end: Any, properties: Any) -> None:
        self.lines.append((Vec3(start), Vec3(end)))

    def draw_filled_polygon(self, points: Iterable[Any], properties: Any) -> None:
        """Leaves out a background in the colour of the paper: it is not ink."""


_laid_out: dict[tuple[Any, ...], _LaidOut] = {}


def _key(mtext: Any) -> tuple[Any, ...]:
    dxf, style = mtext.dxf, get_textstyle(mtext).dxf
    look = (style.font, style.width, style.oblique, dxf.char_height, dxf.attachment_point, dxf.get("width", 0.0))
    frame = (dxf.get("bg_fill", 0), dxf.get("box_fill_scale", 1.5))
    return mtext.text, *look, dxf.line_spacing_factor, *frame


def _lay_out(mtext: Any, properties: Any) -> _LaidOut:
    if mtext.dxf.get("width", 0.0) < _NO_WIDTH and not mtext.dxf.get("bg_fill", 0) & _FRAMED:
        mtext = mtext.copy()
        mtext.dxf.width = _ROOMY_HEIGHTS * mtext.dxf.char_height
    drawn = _LaidOut()
    engine = ComplexMTextRenderer(RenderContext(), drawn, properties).layout_engine(mtext)
    engine.place(align=LayoutAlignment(mtext.dxf.attachment_point))
    engine.render()
    return drawn


def draw_paragraphs(mtext: Any, properties: Any, pipeline: Any) -> None:
    """Draws an MTEXT with inline formats through the pipeline."""
    if mtext.has_columns:
        drawn = _lay_out(mtext, properties)
    else:
        key = _key(mtext)
        found = _laid_out.get(key)
        if found is None:
            if len(_laid_out) >= _KEPT_LAYOUTS:
                _laid_out.clear()
            found = _laid_out[key] = _lay_out(mtext, properties)
        drawn = found
    place = mtext.ucs().matrix
    for text, transform, cap_height in drawn.words:
        pipeline.draw_text(text, transform @ place, properties, cap_height)
    for start, end in drawn.lines:
        pipeline.draw_line(place.transform(start), place.transform(end), properties)
