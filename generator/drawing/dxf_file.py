"""A finished document as the bytes of a DXF file: the same drawing gives the same bytes in every process.

R12 has neither line widths nor closed light polylines, hatch patterns or Unicode: the DXF library's own exporter turns
the entities into what that version has (hatch becomes lines in a block), widths stay with the layer's colour.
"""

from __future__ import annotations

import logging
import random
import re
from collections.abc import Iterator
from contextlib import contextmanager
from io import StringIO
from typing import Any, Literal

__all__ = ["DXF_VERSIONS", "DxfVersion", "dxf_bytes", "dxf_text"]

DxfVersion = Literal["R2013", "R12"]
DXF_VERSIONS: tuple[DxfVersion, ...] = ("R2013", "R12")

# Signs that R12 writes by code, whatever the code page. The file keeps its text as one line after a group code of 1.
_CODES = {"⌀": "%%c", "°": "%%d", "±": "%%p"}
_TEXT_LINE = re.compile(r"(?<=\n  1\n)([^\n]*)")
# The time of making, which the exporter takes from the clock.
_MADE = re.compile(r"(\$TDCREATE\n *40\n)[^\n]*")
_CODE_PAGE = "cp1252"
_NEWER_LINES = ("LWPOLYLINE", "ELLIPSE", "SPLINE")
_SAGITTA_MM = 0.01


def dxf_text(document: Any) -> str:
    """The document as the text of an R2013 file, as its bytes will be read."""
    # The library keeps the classes it adds in a set, whose order changes from process to process.
    document.classes.add_required_classes(document.dxfversion)
    document.classes.classes = dict(sorted(document.classes.classes.items()))
    text = StringIO()
    document.write(text)
    return text.getvalue().encode(document.output_encoding, errors="dxfreplace").decode(document.output_encoding)


def dxf_bytes(document: Any, version: DxfVersion = "R2013", text: str = "") -> bytes:
    """The document as a file of a version; `text` is what `dxf_text` gave for it, where that is at hand."""
    if version == "R12":
        return _r12_bytes(document, text)
    return (text or dxf_text(document)).encode(document.output_encoding)


def _r12_bytes(document: Any, text: str) -> bytes:
    from ezdxf.addons import r12export

    copy = _read_again(text or dxf_text(document))
    for layout in copy.layouts:
        if layout.is_any_paperspace:
            _flatten(layout)
    written = StringIO()
    with _hushed(), _repeatable():
        r12export.write(copy, written)
    made = f"\\g<1>{document.header['$TDCREATE']}"
    coded = _TEXT_LINE.sub(lambda found: _coded(found[1]), _MADE.sub(made, written.getvalue()))
    return coded.encode(_CODE_PAGE, errors="dxfreplace")


@contextmanager
def _hushed() -> Iterator[None]:
    """The library says for every file that R12 has no unit of the drawing; that is known."""
    logger = logging.getLogger("ezdxf")
    level = logger.level
    logger.setLevel(logging.ERROR)
    try:
        yield
    finally:
        logger.setLevel(level)


@contextmanager
def _repeatable() -> Iterator[None]:
    """The library shifts the origin of a hatch by chance, a ten-thousandth or so: always by the same chance here."""
    state = random.getstate()
    random.seed(0)
    try:
        yield
    finally:
        random.setstate(state)


def _read_again(text: str) -> Any:
    """A document of one's own, so that what R12 lacks can be replaced in it."""
    import ezdxf

    return ezdxf.read(StringIO(text))


def _flatten(layout: Any) -> None:
    """Lines of the paper that R12 lacks, as polylines of the paper: the exporter's own would stand in model space."""
    from ezdxf import path

    for entity in list(layout):
        if entity.dxftype() not in _NEWER_LINES:
            continue
        line = path.make_path(entity)
        points = [point.vec2 for point in line.flattening(_SAGITTA_MM)]
        kept = {name: entity.dxf.get(name) for name in ("layer", "color", "linetype") if entity.dxf.hasattr(name)}
        closed = bool(line.is_closed)
        layout.add_polyline2d(points[:-1] if closed else points, close=closed, dxfattribs=kept)
        layout.delete_entity(entity)


def _coded(words: str) -> str:
    for sign, code in _CODES.items():
        words = words.replace(sign, code)
    return words
