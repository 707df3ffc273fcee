"""Dimensions read back: what each measures, what its picture prints, what the entity keeps."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from generator.drawing.boxes import Line
from generator.drawing.font import text_width_mm
from generator.proof.label import Printed, read_label
from generator.proof.sheet import Point, Segment, Sheet, address_of, pieces_of

__all__ = ["Dimension", "dimensions_of"]

_LINEAR, _ALIGNED, _ANGULAR, _DIAMETER, _RADIUS, _ANGULAR_3P, _ORDINATE = range(7)
_KEPT = ("dimlfac", "dimtol", "dimlim", "dimtp", "dimtm")
_DEGREES = (_ANGULAR, _ANGULAR_3P)
_STACKED = re.compile(r"\\S([^;]*?)[\^/#]\s?([^;]*);")


@dataclass(frozen=True)
class Dimension:
    """A DIMENSION entity as the file holds it, with its picture."""

    entity: Any
    picture: tuple[Any, ...]
    label: Printed
    words: str
    is_boxed: bool
    lines: tuple[Segment, ...]
    heads: tuple[Point, ...]

    @property
    def handle(self) -> str:
        """Handle of the entity."""
        return str(self.entity.dxf.handle or "")

    @property
    def kind(self) -> int:
        """Type of dimension by the DXF reference."""
        return int(self.entity.dxf.dimtype) & 7

    @property
    def is_linear(self) -> bool:
        """True for a distance between two points."""
        return self.kind in (_LINEAR, _ALIGNED)

    @property
    def is_angle(self) -> bool:
        """True for an angle."""
        return self.kind in _DEGREES

    @cached_property
    def address(self) -> str:
        """Address of its size, empty where the file tells none."""
        return address_of(self.entity)

    @cached_property
    def turn_deg(self) -> float:
        """Direction in which a linear dimension measures."""
        if self.kind == _ALIGNED:
            (x0, y0), (x1, y1) = self.ends
            return math.degrees(math.atan2(y1 - y0, x1 - x0)) % 180.0
        return float(self.entity.dxf.get("angle", 0.0)) % 180.0

    @cached_property
    def ends(self) -> tuple[Point, Point]:
        """The two points that it measures between."""
        one, other = self.entity.dxf.defpoint2, self.entity.dxf.defpoint3
        return (one.x, one.y), (other.x, other.y)

    @property
    def is_level(self) -> bool:
        """True for a distance along the x axis."""
        return self.is_linear and min(self.turn_deg, 180.0 - self.turn_deg) < 0.01

    @property
    def is_upright(self) -> bool:
        """True for a distance along the y axis."""
        return self.is_linear and abs(self.turn_deg - 90.0) < 0.01

    @cached_property
    def measured(self) -> float | None:
        """What it measures in model units or degrees; None where its points make no sense."""
        try:
            found = self.entity.get_measurement()
            return abs(float(found))
        except (TypeError, ValueError, ZeroDivisionError, AttributeError):
            return None

    @cached_property
    def recorded(self) -> tuple[float, float] | None:
        """Upper and lower deviation that the entity itself keeps, in printed units; None where it keeps none."""
        style = self._style
        if not style.get("dimtol"):
            return None
        return float(style.get("dimtp", 0.0)), -float(style.get("dimtm", 0.0))

    @cached_property
    def recorded_limits(self) -> tuple[float, float] | None:
        """How far its high and low limit lie over the figure, in printed units; None where it keeps no limits."""
        style = self._style
        if style.get("dimtol") or not style.get("dimlim"):
            return None
        return float(style.get("dimtp", 0.0)), -float(style.get("dimtm", 0.0))

    @cached_property
    def factor(self) -> float:
        """Printed over measured by the dimension's own style."""
        return float(self._style.get("dimlfac", 1.0)) or 1.0

    @cached_property
    def _base_factor(self) -> float:
        """The factor of the style that the dimension is made in, its own overrides left out."""
        style, document = self.entity.dxf.get("dimstyle", "Standard"), self.entity.doc
        if document is None or not document.dimstyles.has_entry(style):
            return 1.0
        return float(document.dimstyles.get(style).dxf.get("dimlfac", 1.0)) or 1.0

    @cached_property
    def true(self) -> float | None:
        """What it tells: what it measures, and over the gap of an interrupted view what its own factor adds."""
        if self.measured is None or not self.is_linear:
            return self.measured
        return self.measured * self.factor / self._base_factor

    @property
    def left_out(self) -> float:
        """How much more it tells than it measures."""
        return (self.true or 0.0) - (self.measured or 0.0)

    @property
    def unit_factor(self) -> float:
        """Printed over model units by its style."""
        return self._base_factor

    @cached_property
    def _style(self) -> dict[str, Any]:
        style = self.entity.dxf.get("dimstyle", "Standard")
        document = self.entity.doc
        kept: dict[str, Any] = {}
        if document is not None and document.dimstyles.has_entry(style):
            base = document.dimstyles.get(style).dxf
            kept = {name: base.get(name) for name in _KEPT if base.hasattr(name)}
        own = self.entity.get_acad_dstyle(self.entity.get_dim_style()) if self.entity.has_xdata("ACAD") else {}
        return kept | own

    @cached_property
    def text_at(self) -> Point:
        """Where its figure stands, in its own space."""
        at = self.entity.dxf.text_midpoint if self.entity.dxf.hasattr("text_midpoint") else self.entity.dxf.defpoint
        return (at.x, at.y)

    def line(self) -> Line | None:
        """The dimension line in model space: the piece of the picture that passes the definition point."""
        if not self.is_linear:
            return None
        at = self.entity.dxf.defpoint
        turn = math.radians(self.turn_deg)
        ux, uy = math.cos(turn), math.sin(turn)
        for piece in self.lines:
            dx, dy = piece.end[0] - piece.start[0], piece.end[1] - piece.start[1]
            length = math.hypot(dx, dy)
            if length < 1e-9 or abs(dx * uy - dy * ux) > 1e-4 * length:
                continue
            if abs((at.x - piece.start[0]) * uy - (at.y - piece.start[1]) * ux) < 1e-4:
                return Line(piece.start, piece.end)
        return None


def dimensions_of(sheet: Sheet) -> list[Dimension]:
    """Every dimension of model space and paper."""
    return [_read(sheet, entity) for entity in (*sheet.model, *sheet.paper) if entity.dxftype() == "DIMENSION"]


def _read(sheet: Sheet, entity: Any) -> Dimension:
    name = entity.dxf.get("geometry", "")
    picture = tuple(sheet.document.blocks[name]) if name and name in sheet.document.blocks else ()
    words, below = _words_of(picture)
    boxed = any(e.dxftype() == "LWPOLYLINE" and e.closed and e.dxf.layer == "SYMBOL" for e in picture)
    lines = tuple(piece for e in picture if e.dxftype() == "LINE" for piece in pieces_of(e))
    heads = tuple((e.dxf.vtx0.x, e.dxf.vtx0.y) for e in picture if e.dxftype() == "SOLID")
    return Dimension(entity, picture, read_label(words), below, boxed, lines, heads)


def _words_of(picture: Sequence[Any]) -> tuple[str, str]:
    """The label in one line, stacks as "{upper|lower}", and words beside it."""
    runs = []
    for entity in picture:
        if entity.dxftype() == "TEXT":
            runs.append(_level(entity, str(entity.dxf.text)))
        elif entity.dxftype() == "MTEXT":
            text = _STACKED.sub(lambda m: f"{{{m[1]}|{m[2]}}}", entity.text)
            return re.sub(r"\\[A-Za-z][^;\\]*;|(?<!\|)[{}](?=\\)|\\P", "", text), ""
    if not runs:
        return "", ""
    tall = max(run[3] for run in runs)
    large = [run for run in runs if run[3] > 0.9 * tall]
    base = min(run[1] for run in large)
    small = [run for run in runs if run[3] <= 0.9 * tall and run[1] > base - 0.7 * tall]
    below = " ".join(run[2] for run in runs if run not in large and run not in small)
    stacks: dict[int, list[tuple[float, float, str, float]]] = {}
    for run in small:
        stacks.setdefault(round(run[0] / (0.2 * tall)), []).append(run)
    # Limits of size stand as high as any figure, one over the other from one left end.
    over = [[one for one in large if abs(one[0] - run[0]) < 0.1 * tall] for run in large]
    stacks |= {-1 - k: pair for k, pair in enumerate(over) if len(pair) == 2 and pair[0] is large[k]}
    main = [run for run, pair in zip(large, over, strict=True) if len(pair) != 2]
    parts: list[tuple[float, str]] = [(run[0], run[2]) for run in main]
    for pair in stacks.values():
        pair.sort(key=lambda run: -run[1])
        text = f"{{{pair[0][2]}|{pair[1][2]}}}" if len(pair) == 2 else " ".join(run[2] for run in pair)
        parts.append((pair[0][0], text))
    return "".join(text for _, text in sorted(parts, key=lambda part: part[0])), below


def _level(entity: Any, words: str) -> tuple[float, float, str, float]:
    """Left end along and place across the direction of reading, words, height."""
    dxf = entity.dxf
    placed = (dxf.halign or dxf.valign) and dxf.hasattr("align_point")
    at = dxf.align_point if placed else dxf.insert
    turn = math.radians(dxf.rotation)
    along = at.x * math.cos(turn) + at.y * math.sin(turn)
    across = at.y * math.cos(turn) - at.x * math.sin(turn)
    width = text_width_mm(words, dxf.height, dxf.width)
    return along - {1: 0.5, 2: 1.0, 4: 0.5}.get(dxf.halign, 0.0) * width, across, words, float(dxf.height)
