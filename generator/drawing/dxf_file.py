"""A finished document as the bytes of a DXF file: the same drawing gives the same bytes in every process.

R12 has neither line widths nor closed light polylines, hatch patterns or Unicode: the DXF library's own exporter turns
the entities into what that version has (hatch becomes lines in a block), widths stay with the layer's colour.
"""

from __future__ import annotations

import re
from io import StringIO
from typing import Any, Literal

__all__ = ["DXF_VERSIONS", "DxfVersion", "dxf_bytes", "dxf_text"]

DxfVersion = Literal["R2013", "R12"]
DXF_VERSIONS: tuple[DxfVersion, ...] = ("R2013", "R12")

# Signs that R12 writes by code, whatever the code page. The file keeps its text as one line after a group code of 1.
_CODES = {"⌀": "%%c", "°": "%%d", "±": "%%p"}
_TEXT_LINE = re.compile(r"(?<=\n  1\n)([^\n]*)")
_CODE_PAGE = "cp1252"


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
        return _r12_bytes(document)
    return (text or dxf_text(document)).encode(document.output_encoding)


def _r12_bytes(document: Any) -> bytes:
    from ezdxf.addons import r12export

    text = StringIO()
    r12export.write(document, text)
    coded = _TEXT_LINE.sub(lambda found: _coded(found[1]), text.getvalue())
    return coded.encode(_CODE_PAGE, errors="dxfreplace")


def _coded(words: str) -> str:
    for sign, code in _CODES.items():
        words = words.replace(sign, code)
    return words
