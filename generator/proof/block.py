"""The title block: fields filled and in their form, words inside their cells, the symbol of the projection."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from generator.drawing.boxes import Box
from generator.drawing.font import text_width_mm
from generator.proof.rules import Fault, fault
from generator.proof.sheet import BLOCK_NAME, Point, Segment, Sheet

__all__ = ["block_faults"]

_ISO_7200 = ("OWNER", "NUMBER", "DATE", "SHEET", "TITLE", "APPROVED", "CREATED", "DOCUMENT_TYPE")
_SHOP = ("MATERIAL", "STOCK", "MASS", "SCALE", "GENERAL_TOLERANCE", "FINISH", "UNITS", "EDGES")
_PLACE_HOLDER = re.compile(
    r"[?_.*]+|x{2,}|t\.?b\.?[acd]\.?|to ?do|n/?a|none given|unknown|title|owner|name|<.*>|\{.*\}|\[.*\]", re.IGNORECASE
)
_DATE = re.compile(r"\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])")
_LOOKS_LIKE_DATE = re.compile(r"\d+[./-]\d+[./-]\d+")
_SHEET = re.compile(r"(\d+)(?:\s?(?:/|of|von)\s?(\d+))?")
_TOLERANCE = re.compile(r"ISO\s?2768(?:-1)?\s?[-–]?\s?([fmcv])(?:[HKL])?\b")
_RA = re.compile(r"R[az]\s?\d+(?:[.,]\d+)?")
_EDGE_VALUE = re.compile(r"[-+±−]\s?(\d*[.,]?\d+)")
_EDGE_VALUES = (2.5, 1.0, 0.5, 0.3, 0.1, 0.05, 0.02)
_RIM_MM = 0.5
_NEAR = 0.08


def block_faults(sheet: Sheet) -> Iterator[Fault]:
    """Every fault of a title block."""
    if sheet.block is None:
        yield fault("no-sheet", f"there is no title block (a block of the name {BLOCK_NAME})")
        return
    handle = sheet.block.dxf.handle
    yield from _filled(sheet, handle)
    yield from _forms(sheet.fields, handle)
    for attribute in sheet.block.attribs:
        yield from _fits(sheet, attribute)
    yield from _symbol(sheet, handle)
    yield from _revision(sheet, handle)


def _filled(sheet: Sheet, handle: str) -> Iterator[Fault]:
    places = {a.dxf.tag: a for a in sheet.block.attribs}
    for tag in (*_ISO_7200, *_SHOP, *(tag for tag in places if tag not in (*_ISO_7200, *_SHOP))):
        name = tag.lower().replace("_", " ")
        attribute = places.get(tag)
        if attribute is None:
            yield fault("field-empty", f"there is no field for {name}", handle=handle, layer="BLOCK")
            continue
        words, spot = str(attribute.dxf.text).strip(), attribute.dxf.insert
        where = ((spot.x, spot.y), attribute.dxf.handle or handle, attribute.dxf.layer)
        if not words:
            yield fault("field-empty", f"{name} is empty", *where)
        elif _PLACE_HOLDER.fullmatch(words):
            yield fault("field-empty", f"{name} reads {words!r}", *where)
        elif tag in _ISO_7200 and words in ("-", "–", "—"):
            yield fault("field-dash", f"{name} is a dash", *where)


def _forms(fields: dict[str, str], handle: str) -> Iterator[Fault]:
    """Fields with a form of their own; a date may be words, such as that it is not issued."""
    said: list[tuple[str, str]] = []
    date = fields.get("DATE", "")
    if _LOOKS_LIKE_DATE.search(date) and not _DATE.fullmatch(date.strip()):
        said.append(("date", f"{date!r} is not of the form 2026-11-16"))
    number = _SHEET.fullmatch(fields.get("SHEET", "1").strip())
    if number is None or (number[2] and int(number[1]) > int(number[2])):
        said.append(("sheet", f"{fields['SHEET']!r} is not a sheet of so many"))
    tolerance = fields.get("GENERAL_TOLERANCE", "")
    if tolerance and not _TOLERANCE.search(tolerance):
        said.append(("general tolerance", f"{tolerance!r} names no class of ISO 2768-1"))
    finish = fields.get("FINISH", "")
    if finish and finish.strip() != "-" and not _RA.search(finish) and "see" not in finish:
        said.append(("finish", f"{finish!r} names no roughness"))
    edges = fields.get("EDGES", "")
    if edges:
        values = [float(v.replace(",", ".")) for v in _EDGE_VALUE.findall(edges.replace("13715", ""))]
        metric = [v for v in values if any(abs(v - wanted) < 1e-6 for wanted in _EDGE_VALUES)]
        inch = [v for v in values if any(abs(v * 25.4 - wanted) < 0.06 * wanted + 0.01 for wanted in _EDGE_VALUES)]
        if "ISO 13715" not in edges or len(values) < 2 or len(values) not in (len(metric), len(inch)):
            said.append(("edges", f"{edges!r} is not a note of ISO 13715 for outside and inside edges"))
    for name, what in said:
        yield fault("field-unreadable", f"{name}: {what}", handle=handle, layer="BLOCK")


def _fits(sheet: Sheet, attribute: Any) -> Iterator[Fault]:
    """The words of a field against the lines round its beginning."""
    words = str(attribute.dxf.text)
    if not words.strip() or attribute.is_invisible:
        return
    at = attribute.dxf.insert
    middle = (at.x + 0.2, at.y + attribute.dxf.height / 2)
    cell = _cell(sheet.block_lines, middle, sheet.frame)
    right = at.x + text_width_mm(words, attribute.dxf.height, attribute.dxf.width)
    tag = attribute.dxf.tag.lower().replace("_", " ")
    if cell is None:
        yield fault("field-too-long", f"{tag} stands in no cell", (at.x, at.y), attribute.dxf.handle, "TEXT")
    elif right > cell.right - _RIM_MM or at.x < cell.left + _RIM_MM:
        what = f"{tag}: {words!r} needs {right - at.x:.1f} mm, the cell has {cell.right - cell.left:.1f}"
        yield fault("field-too-long", what, (at.x, at.y), attribute.dxf.handle, attribute.dxf.layer)


def _cell(lines: Sequence[Segment], at: Point, frame: Box | None) -> Box | None:
    """The lines next to a point on all four sides; the frame counts as lines."""
    x, y = at
    upright = [line.start[0] for line in lines if _spans(line, 0, y)]
    level = [line.start[1] for line in lines if _spans(line, 1, x)]
    if frame is not None:
        upright += [frame.left, frame.right]
        level += [frame.bottom, frame.top]
    sides = (
        max((v for v in upright if v <= x), default=None),
        max((v for v in level if v <= y), default=None),
        min((v for v in upright if v > x), default=None),
        min((v for v in level if v > y), default=None),
    )
    return None if None in sides else Box(*sides)  # type: ignore[arg-type]


def _spans(line: Segment, axis: int, across: float) -> bool:
    """True for a line that stands upright (axis 0) or lies level (axis 1) and passes a point in its length."""
    if line.kind not in ("LINE", "LWPOLYLINE") or abs(line.start[axis] - line.end[axis]) > 1e-6:
        return False
    low, high = sorted((line.start[1 - axis], line.end[1 - axis]))
    return low - 1e-6 <= across <= high + 1e-6


def _symbol(sheet: Sheet, handle: str) -> Iterator[Fault]:
    """Frustum and circles of the projection symbol, against each other and against what the file records."""
    block = sheet.document.blocks[BLOCK_NAME]
    circles = [e for e in block if e.dxftype() == "CIRCLE"]
    cones = [e for e in block if e.dxftype() == "LWPOLYLINE" and e.closed and len(e) == 4]
    found = _symbol_kind([_corners(e) for e in cones], circles)
    origin = sheet.block.dxf.insert
    at = None
    if circles:
        at = (origin.x + circles[0].dxf.center.x, origin.y + circles[0].dxf.center.y)
    if isinstance(found, bool):
        recorded = _recorded(sheet)
        if recorded is not None and recorded is not found:
            names = {True: "first", False: "third"}
            what = f"the symbol is that of the {names[found]} angle, the file records the {names[recorded]} angle"
            yield fault("projection-symbol", what, at, handle, "BLOCK")
    else:
        yield fault("projection-symbol", found, at, handle, "BLOCK")


def _corners(polyline: Any) -> list[Point]:
    return [(float(x), float(y)) for x, y in polyline.get_points("xy")]


def _symbol_kind(cones: Sequence[Sequence[Point]], circles: Sequence[Any]) -> bool | str:
    """True for first angle, False for third, or what is wrong."""
    slanted = [c for c in cones if len({round(y, 3) for _, y in c}) == 4]
    if len(slanted) != 1 or len(circles) != 2:
        return "there is no frustum with two circles"
    corners = slanted[0]
    xs = sorted({round(x, 6) for x, _ in corners})
    if len(xs) != 2:
        return "the frustum's ends are not upright"
    ends = [[y for x, y in corners if abs(x - side) < 1e-6] for side in xs]
    heights = [max(ys) - min(ys) for ys in ends]
    radii = sorted(circle.dxf.radius for circle in circles)
    centres = {(round(c.dxf.center.x, 3), round(c.dxf.center.y, 3)) for c in circles}
    if heights[0] >= heights[1]:
        return "the frustum's small end does not point left"
    if len(centres) != 1 or any(abs(2 * r - h) > _NEAR * h for r, h in zip(radii, heights, strict=True)):
        return "the circles are not the two ends of the frustum about one centre"
    return bool(next(iter(centres))[0] > xs[1])


def _recorded(sheet: Sheet) -> bool | None:
    """True where the file records first angle, False for third, None where it records nothing."""
    words = sheet.fields.get("PROJECTION", "")
    custom = sheet.document.header.custom_vars
    if not words and custom.has_tag("PROJECTION"):
        words = custom.get("PROJECTION") or ""
    words = words.lower()
    if re.search(r"\b(first|1st|1\.?)\b|^e\b|\bmethode 1\b", words):
        return True
    return False if re.search(r"\b(third|3rd|3\.?)\b|^a\b|\bmethode 3\b", words) else None


def _revision(sheet: Sheet, handle: str) -> Iterator[Fault]:
    """The letter in the block is the highest of the table of revisions, where there is one."""
    letter = sheet.fields.get("REVISION", "").strip()
    rows = sorted(
        str(a.dxf.text).strip()
        for e in sheet.paper
        if e.dxftype() == "INSERT" and e.dxf.name.startswith("REVISION")
        for a in e.attribs
        if a.dxf.tag in ("LETTER", "REVISION")
    )
    rows += sorted(words for tag, words in sheet.fields.items() if re.fullmatch(r"REVISION_\d+_LETTER", tag))
    if rows and letter and letter != rows[-1]:
        what = f"the block says {letter}, the highest letter of the table is {rows[-1]}"
        yield fault("revision", what, handle=handle, layer="BLOCK")
