"""The finished DXF document, read once, as the marks it leaves on paper.

`model` holds the plain data and needs no CAD library; `replay` is the one place that knows the drawing add-on.
"""

from __future__ import annotations

from typing import Any

from generator.ink.model import Fill, Ink, Outline, Stroke, TextRun

__all__ = ["Fill", "Ink", "Outline", "Stroke", "TextRun", "read_ink"]


def read_ink(doc: Any, layout_name: str = "Model", extents: tuple[float, float, float, float] | None = None) -> Ink:
    """The marks that one layout of a DXF document leaves on paper; see `generator.ink.replay.read_ink`."""
    from generator.drawing.font import prepare_fonts

    prepare_fonts()
    from generator.ink import replay

    return replay.read_ink(doc, layout_name, extents)
