"""A drawing of the version R12 read as the tests want it: old polylines, signs by code and views made current.

Source: DXF reference of R12: text codes %%c %%d %%p, views of paper space in the extended data MVIEW, POLYLINE
with vertices, the size of the paper in $PLIMMIN and $PLIMMAX. The version knows no line widths, and hatches are blocks
of lines.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any

__all__ = ["is_old", "made_current"]

_R12 = "AC1009"
# Of a view's real numbers the first four: its turn, the height of what it shows, and the middle of that.
_MVIEW_REALS = 4
_SIGNS = {"c": "⌀", "d": "°", "p": "±"}
_CODE = re.compile(r"%%([cdp])", re.IGNORECASE)


def is_old(document: Any) -> bool:
    """True for a version that knows neither line widths nor hatches."""
    return bool(document.dxfversion <= _R12)


def made_current(document: Any, text: str) -> Any:
    """The same document, what R12 writes in its own way put as a current drawing has it; `text` is the file's."""
    if not is_old(document):
        return document
    views = dict(_views_in(text))
    _set_paper(document)
    for space in (*document.layouts, *document.blocks):
        for entity in list(space):
            kind = entity.dxftype()
            if kind == "VIEWPORT" and entity.dxf.id in views:
                entity.dxf.view_height, *centre = views[entity.dxf.id]
                entity.dxf.view_center_point = tuple(centre)
            elif kind == "POLYLINE" and entity.is_2d_polyline:
                _replace_polyline(space, entity)
            else:
                _decode(_texts_of(entity))
    return document


def _set_paper(document: Any) -> None:
    """The size of the paper, which R12 keeps as the limits of its one paper space."""
    low, high = document.header["$PLIMMIN"], document.header["$PLIMMAX"]
    for layout in document.layouts:
        if layout.is_any_paperspace and high[0] > low[0] and high[1] > low[1]:
            layout.dxf_layout.dxf.paper_width = high[0] - low[0]
            layout.dxf_layout.dxf.paper_height = high[1] - low[1]


def _views_in(text: str) -> Iterator[tuple[int, tuple[float, float, float]]]:
    """Height and middle of what each view shows, by its number, from the file: the DXF library loses them."""
    lines = text.splitlines()
    number, is_view = 0, False
    reals: list[float] | None = None
    for code, value in zip(lines[::2], lines[1::2], strict=False):
        match int(code):
            case 0:
                is_view, reals = value.strip() == "VIEWPORT", None
            case 69 if is_view:
                number = int(value)
            case 1000 if is_view and value.strip() == "MVIEW":
                reals = []
            case 1040 if reals is not None:
                reals.append(float(value))
                if len(reals) == _MVIEW_REALS:
                    yield number, (reals[1], reals[2], reals[3])


def _replace_polyline(space: Any, entity: Any) -> None:
    # The document would not make one by itself: the version has only the old kind.
    from ezdxf.entities import factory

    names = ("layer", "color", "linetype")
    kept = {name: entity.dxf.get(name) for name in names if entity.dxf.hasattr(name)}
    points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0.0)) for v in entity.vertices]
    line = factory.create_db_entry("LWPOLYLINE", kept, entity.doc)
    line.set_points(points, format="xyb")
    line.closed = entity.is_closed
    space.delete_entity(entity)
    space.add_entity(line)


def _texts_of(entity: Any) -> Iterator[Any]:
    if entity.dxftype() in ("TEXT", "ATTRIB", "ATTDEF", "DIMENSION"):
        yield entity
    elif entity.dxftype() == "INSERT":
        yield from entity.attribs


def _decode(entities: Iterable[Any]) -> None:
    for entity in entities:
        if entity.dxf.hasattr("text"):
            entity.dxf.text = _CODE.sub(lambda found: _SIGNS[found[1].lower()], entity.dxf.text)
