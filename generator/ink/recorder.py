"""The far end of the replay: takes what the drawing add-on draws and keeps it as ink."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot, isclose
from typing import Any

from ezdxf.addons.drawing.backend import BackendInterface

from generator.drawing.font import text_width_mm
from generator.errors import OutputError
from generator.ink.model import Fill, Matrix, Outline, Point, Segment, Stroke, TextRun

__all__ = ["Recorder"]

_LINE_TO, _CURVE3_TO, _CURVE4_TO = 1, 2, 3


class Recorder(BackendInterface):  # type: ignore[misc]
    """Collects strokes, fills and texts; paper = drawing units x scale + offset."""

    def __init__(self, scale: float, offset: Point) -> None:
        self.scale = scale
        self.offset = offset
        self.strokes: list[Stroke] = []
        self.fills: list[Fill] = []
        self.texts: list[TextRun] = []

    def place(self, x: float, y: float) -> Point:
        """A point of the layout in millimetres of paper."""
        return x * self.scale + self.offset[0], y * self.scale + self.offset[1]

    def _placed(self, vertices: Any) -> list[Point]:
        return [(x, y) for x, y in (vertices * self.scale + self.offset).tolist()]

    def _add_stroke(self, start: Point, segments: tuple[Segment, ...], closed: bool, properties: Any) -> None:
        outline = Outline(start, segments, closed)
        self.strokes.append(Stroke(outline, properties.lineweight, properties.layer, properties.handle))

    def draw_point(self, pos: Any, properties: Any) -> None:
        """Keeps a dot as a stroke without length: a round pen set down."""
        spot = self.place(pos.x, pos.y)
        self._add_stroke(spot, (spot,), False, properties)

    def draw_line(self, start: Any, end: Any, properties: Any) -> None:
        """Keeps one straight line."""
        self._add_stroke(self.place(start.x, start.y), (self.place(end.x, end.y),), False, properties)

    def draw_solid_lines(self, lines: Iterable[tuple[Any, Any]], properties: Any) -> None:
        """Keeps dashes and hatch lines; pieces of one dash that follow a curve become one stroke."""
        start: Point | None = None
        last: Point | None = None
        bends: list[Segment] = []
        for begin, end in lines:
            here, there = self.place(begin.x, begin.y), self.place(end.x, end.y)
            if here == last:
                bends.append(there)
            else:
                if start is not None:
                    self._add_stroke(start, tuple(bends), False, properties)
                start, bends = here, [there]
            last = there
        if start is not None:
            self._add_stroke(start, tuple(bends), False, properties)

    def draw_path(self, path: Any, properties: Any) -> None:
        """Keeps lines and curves as they are."""
        for outline in self._outlines(path):
            self._add_stroke(outline.start, outline.segments, outline.closed, properties)

    def draw_filled_paths(self, paths: Iterable[Any], properties: Any) -> None:
        """Keeps a filled area with its holes."""
        outlines = tuple(outline for path in paths for outline in self._outlines(path, closed=True))
        if outlines:
            self.fills.append(Fill(outlines, properties.layer, properties.handle))

    def draw_filled_polygon(self, points: Any, properties: Any) -> None:
        """Keeps a filled polygon, such as an arrow head."""
        corners = self._placed(points.np_vertices())
        if len(corners) > 2:
            outline = Outline(corners[0], tuple(corners[1:]), True)
            self.fills.append(Fill((outline,), properties.layer, properties.handle))

    def draw_image(self, image_data: Any, properties: Any) -> None:
        """Refuses pictures: a sheet is lines and text."""
        message = f"drawing / entity {properties.handle}: a picture cannot be printed; remove it from the drawing"
        raise OutputError(message)

    def _outlines(self, path: Any, closed: bool = False) -> list[Outline]:
        return [
            _outline(self._placed(part.np_vertices()), part.command_codes(), closed)
            for part in path.sub_paths()
            if len(part)
        ]

    def measure_text(self, text: str, matrix: Matrix, cap_height: float, layer: str, handle: str) -> TextRun:
        """The run of text as it stands on the paper; it is kept by `keep_text`."""
        a, b, c, d, e, f = matrix
        stretch = hypot(c, d)
        if stretch == 0.0:
            message = f"drawing / entity {handle}: text {text!r} has no height; give it one"
            raise OutputError(message)
        upright = (a / stretch, b / stretch, c / stretch, d / stretch, *self.place(e, f))
        height_mm = cap_height * stretch * self.scale
        advance_mm = text_width_mm(text, height_mm, hypot(upright[0], upright[1]))
        return TextRun(text, upright, height_mm, advance_mm, layer, handle)

    def keep_text(self, run: TextRun) -> None:
        """Keeps a run of text; words that follow each other on one base line become one run again."""
        joined = _joined(self.texts[-1], run) if self.texts else None
        if joined is None:
            self.texts.append(run)
        else:
            self.texts[-1] = joined

    def configure(self, config: Any) -> None:
        """Nothing to do: the recorder has no settings."""

    def enter_entity(self, entity: Any, properties: Any) -> None:
        """Nothing to do: the handle comes with each mark."""

    def exit_entity(self, entity: Any) -> None:
        """Nothing to do: the handle comes with each mark."""

    def set_background(self, color: str) -> None:
        """Nothing to do: paper is white."""

    def clear(self) -> None:
        """Forgets all marks."""
        self.strokes.clear()
        self.fills.clear()
        self.texts.clear()

    def finalize(self) -> None:
        """Nothing to do: marks are complete when made."""


def _outline(vertices: Sequence[Point], codes: Sequence[int], closed: bool) -> Outline:
    segments: list[Segment] = []
    here, index = vertices[0], 1
    for code in codes:
        if code == _LINE_TO:
            end = vertices[index]
            segments.append(end)
            index += 1
        elif code == _CURVE3_TO:
            (x1, y1), end = vertices[index], vertices[index + 1]
            # The same parabola as a cubic: control points two thirds of the way to the old one.
            rise = (here[0] + 2 * (x1 - here[0]) / 3, here[1] + 2 * (y1 - here[1]) / 3)
            fall = (end[0] + 2 * (x1 - end[0]) / 3, end[1] + 2 * (y1 - end[1]) / 3)
            segments.append((*rise, *fall, *end))
            index += 2
        elif code == _CURVE4_TO:
            end = vertices[index + 2]
            segments.append((*vertices[index], *vertices[index + 1], *end))
            index += 3
        else:
            message = f"drawing: a path holds the unknown command {code}; draw it with lines and arcs"
            raise OutputError(message)
        here = end
    if not closed:
        closed = len(segments) > 1 and hypot(here[0] - vertices[0][0], here[1] - vertices[0][1]) < 1e-6
    return Outline(vertices[0], tuple(segments), closed)


def _joined(left: TextRun, right: TextRun) -> TextRun | None:
    """Both runs as one where the right one goes on exactly where the left one, or a blank after it, ends."""
    if left.handle != right.handle or left.clip != right.clip or left.cap_height_mm != right.cap_height_mm:
        return None
    if not all(isclose(p, q, abs_tol=1e-9) for p, q in zip(left.matrix[:4], right.matrix[:4], strict=True)):
        return None
    a, b, *_ = left.matrix
    factor = left.width_factor
    if factor == 0.0:
        return None
    dx, dy = right.matrix[4] - left.matrix[4], right.matrix[5] - left.matrix[5]
    along, aside = (dx * a + dy * b) / factor, (dy * a - dx * b) / factor
    if abs(aside) > 1e-6:
        return None
    for blank in ("", " "):
        text = left.text + blank
        if abs(along - text_width_mm(text, left.cap_height_mm, factor)) < 1e-6:
            text += right.text
            advance_mm = text_width_mm(text, left.cap_height_mm, factor)
            return TextRun(text, left.matrix, left.cap_height_mm, advance_mm, left.layer, left.handle, left.clip)
    return None
