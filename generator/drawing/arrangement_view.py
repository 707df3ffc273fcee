"""Puts the section of a tool and its neighbours into model space, each kind of line on its layer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.description import Tool
from generator.drawing.arrangement_hatch import HatchStyle
from generator.drawing.arrangement_lines import Point, Segment, joined
from generator.drawing.arrangement_profile import Placed, placed_parts
from generator.drawing.arrangement_section import Area, Section, section_of
from generator.drawing.base import Pen
from generator.drawing.neighbours import Neighbour, Window, neighbours_of
from generator.drawing.style import ATTACH_APP, CENTRE_PAST_MM

__all__ = ["Scene", "draw_scene", "scene_of"]


@dataclass(frozen=True, slots=True)
class Scene:
    """Everything that is seen, before words and figures are added."""

    section: Section
    neighbours: list[Neighbour]
    others: tuple[Placed, ...] = ()

    def strokes(self) -> list[Segment]:
        """All lines but hatch and centre line, as straight segments (balls as their square)."""
        section = self.section
        found = [*section.wide, *section.narrow]
        found += [edge for way in section.breaks for edge in _edges(way)]
        for neighbour in self.neighbours:
            found += neighbour.lines
            found += [edge for way in neighbour.breaks for edge in _edges(way)]
        for z, r, radius in section.circles:
            corners = [(z - radius, r), (z, r + radius), (z + radius, r), (z, r - radius), (z - radius, r)]
            found += _edges(corners)
        return found

    @property
    def box(self) -> Window:
        """Least and largest z and r of all that is seen: (z0, r0, z1, r1)."""
        own = self.section.box
        xs, ys = [own[0], own[2]], [own[1], own[3]]
        for neighbour in self.neighbours:
            for line in neighbour.lines:
                xs += [line[0], line[2]]
                ys += [line[1], line[3]]
            for way in neighbour.breaks:
                xs += [p[0] for p in way]
                ys += [p[1] for p in way]
        return (min(xs), min(ys), max(xs), max(ys))


def _edges(way: Sequence[Point]) -> list[Segment]:
    return [(a[0], a[1], b[0], b[1]) for a, b in pairwise(way)]


def scene_of(tool: Tool, scale: float = 1.0) -> Scene:
    """Section and neighbours of a tool as they are to be drawn at a scale (paper over model)."""
    own, others = placed_parts(tool)
    section = section_of(own, scale)
    drawn = [*section.wide, *section.narrow]
    return Scene(section, neighbours_of(others, tool.silhouettes, section.box, drawn, scale), others)


def draw_scene(pen: Pen, scene: Scene) -> None:
    """Draw the scene: hatch first, then narrow and wide lines, the centre line last."""
    section = scene.section
    for area in section.areas:
        _hatch(pen, area)
    for neighbour in scene.neighbours:
        _ways(pen, neighbour.lines, "NEIGHBOUR")
        for way in neighbour.breaks:
            pen.polyline(way, "DIM")
    _ways(pen, section.narrow, "DIM")
    for way in section.breaks:
        pen.polyline(way, "DIM")
    _ways(pen, section.wide, "OUTLINE")
    for z, r, radius in section.circles:
        pen.circle((z, r), radius)
    past = CENTRE_PAST_MM / pen.scale
    pen.line((section.box[0] - past, 0.0), (section.box[2] + past, 0.0), "CENTRE")


def _ways(pen: Pen, segments: Iterable[Segment], layer: str) -> None:
    for way in joined(segments):
        if len(way) == 2:
            pen.line(way[0], way[1], layer)
        elif way[0] == way[-1]:
            pen.polyline(way[:-1], layer, closed=True)
        else:
            pen.polyline(way, layer)


def _hatch(pen: Pen, area: Area) -> None:
    style: HatchStyle = area.style
    if style.solid:
        fill = pen.space.add_hatch(color=256, dxfattribs={"layer": "HATCH"})
        for loop in area.loops:
            fill.paths.add_polyline_path(loop, is_closed=True, flags=1)
    else:
        fill = pen.hatch(area.loops, style.angle_deg, style.pitch_mm)  # type: ignore[arg-type]
    # Which part a cut face belongs to, for whoever reads the file back.
    fill.set_xdata(ATTACH_APP, [(1000, f"part {area.part}")])
