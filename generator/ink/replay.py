"""Replays a DXF document through the drawing add-on of ezdxf, keeping text as text.

Four things differ from the add-on's own pictures: text is not turned into outlines; the small shift that keeps hatch
lines off corners is fixed instead of drawn by lot; dashes have one length on paper in all views; and an entity that
cannot be drawn is an error, not a gap.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

from ezdxf.addons import acadctb
from ezdxf.addons.drawing.config import BackgroundPolicy, ColorPolicy, Configuration
from ezdxf.addons.drawing.frontend import UniversalFrontend
from ezdxf.addons.drawing.pipeline import RenderPipeline2d, prepare_string_for_rendering
from ezdxf.addons.drawing.properties import RenderContext
from ezdxf.math import Vec2
from ezdxf.npshapes import NumpyPoints2d
from ezdxf.path import make_path
from ezdxf.render import hatching
from ezdxf.tools.clipping_portal import find_best_clipping_shape
from ezdxf.tools.text_layout import LayoutError

from generator.errors import OutputError
from generator.ink.model import Ink, Point, TextRun
from generator.ink.paragraphs import draw_paragraphs
from generator.ink.recorder import Recorder

__all__ = ["read_ink"]

# Part of the hatch pitch by which pattern lines are moved off corners: two unequal numbers in the range the add-on
# draws its own from (0.0003 to 0.0010), about one micrometre at a pitch of 2 mm.
_NUDGE = Vec2(0.00061, 0.00043)
_MM_PER_INCH = 25.4
_CURVE_SAGITTA = 0.01


class _Window:
    """The opening in the paper through which a view is seen, for texts: the add-on cuts lines only."""

    def __init__(self, corners: tuple[Point, ...]) -> None:
        self.corners = corners
        self.shape = find_best_clipping_shape(Vec2.list(corners))

    def show(self, run: TextRun) -> TextRun | None:
        """The run as the window shows it: whole, cut by the window, or nothing."""
        box = Vec2.list(run.box())
        if all(self.shape.clip_point(corner) is not None for corner in box):
            return run
        if any(len(part) for part in self.shape.clip_polygon(NumpyPoints2d(box))):
            return replace(run, clip=self.corners)
        return None


class _InkPipeline(RenderPipeline2d):  # type: ignore[misc]
    """The add-on's pipeline, with text kept and line types of one length in all views."""

    def __init__(self, recorder: Recorder, line_types_on_paper: bool) -> None:
        super().__init__(recorder)
        self.recorder = recorder
        self.line_types_on_paper = line_types_on_paper
        self.window: _Window | None = None

    def get_vp_ltype_scale(self) -> float:
        """One where patterns are measured on paper: lines come here in paper units, already scaled by the view."""
        return 1.0 if self.line_types_on_paper else float(self.current_vp_scale)

    def enter_viewport(self, vp: Any) -> bool:
        """Remembers the window of the view as well, for the texts in it."""
        entered = bool(super().enter_viewport(vp))
        if entered:
            self.window = _Window(
                tuple(self.recorder.place(v.x, v.y) for v in make_path(vp).flattening(_CURVE_SAGITTA))
            )
        return entered

    def exit_viewport(self) -> None:
        """Forgets the window."""
        super().exit_viewport()
        self.window = None

    def draw_text(self, text: str, transform: Any, properties: Any, cap_height: float, dxftype: str = "TEXT") -> None:
        """Keeps the text with its place on paper, if the view shows any of it."""
        if not text.strip():
            return
        text = prepare_string_for_rendering(text, dxftype)
        m = self.clipping_portal.transform_matrix(transform)
        matrix = (m[0, 0], m[0, 1], m[1, 0], m[1, 1], m[3, 0], m[3, 1])
        run = self.recorder.measure_text(text, matrix, cap_height, properties.layer, self._current_entity_handle)
        seen = self.window.show(run) if self.window is not None else run
        if seen is not None:
            self.recorder.keep_text(seen)


class _InkFrontend(UniversalFrontend):  # type: ignore[misc]
    """The add-on's front end, refusing what it would leave out."""

    def skip_entity(self, entity: Any, msg: str) -> None:
        """Passes over what is meant to be invisible; anything else missing from the print is an error."""
        if msg == "invisible":
            return
        handle = entity.dxf.get("handle", None) or self.pipeline._current_entity_handle
        message = f"drawing / {entity.dxftype()} {handle}: cannot be printed ({msg}); draw it with lines and text"
        raise OutputError(message)

    def _build_dispatch_table(self) -> dict[str, Any]:
        table: dict[str, Any] = super()._build_dispatch_table()
        # Pictures are not ink, and a wipe-out depends on the order of drawing, which ink does not keep.
        for dxftype in ("IMAGE", "OLE2FRAME", "WIPEOUT"):
            del table[dxftype]
        return table

    def draw_viewport(self, vp: Any) -> None:
        """Draws one view of model space."""
        if not vp.is_top_view:
            self.skip_entity(vp, "a view that does not look straight down")
        super().draw_viewport(vp)

    def draw_composite_entity(self, entity: Any, properties: Any) -> None:
        """Draws the content of a block; that of a dimension takes layer and pen from the dimension."""
        if entity.dxftype() != "DIMENSION":
            super().draw_composite_entity(entity, properties)
            return
        self.ctx.push_state(properties)
        super().draw_composite_entity(entity, properties)
        self.ctx.pop_state()

    def draw_complex_mtext(self, mtext: Any, properties: Any) -> None:
        """Draws text of several styles."""
        try:
            draw_paragraphs(mtext, properties, self.pipeline)
        except LayoutError as error:
            self.skip_entity(mtext, str(error))

    def draw_hatch_pattern(self, polygon: Any, paths: list[Any], properties: Any) -> None:
        """Draws hatch lines, the same on every run."""
        lines = polygon.pattern.lines if polygon.pattern is not None else []
        if not lines:
            return
        nudge = _NUDGE * (sum(line.offset.magnitude for line in lines) / len(lines))
        properties.linetype_pattern = ()
        strokes = [
            piece
            for line in lines
            for piece in _hatch_strokes(
                hatching.HatchBaseLine(
                    origin=line.base_point + nudge,
                    direction=Vec2.from_deg_angle(line.angle),
                    offset=line.offset,
                    line_pattern=line.dash_length_items,
                ),
                paths,
            )
        ]
        ocs = polygon.ocs()
        if ocs.transform:
            z = polygon.dxf.elevation.z
            strokes = [(ocs.to_wcs((s.x, s.y, z)), ocs.to_wcs((e.x, e.y, z))) for s, e in strokes]
        self.pipeline.draw_solid_lines(strokes, properties)


def _hatch_strokes(baseline: Any, paths: list[Any]) -> list[tuple[Vec2, Vec2]]:
    return [
        piece
        for line in hatching.hatch_paths(baseline, paths)
        for piece in baseline.pattern_renderer(line.distance).render(line.start, line.end)
    ]


@cache
def _plain_plot_styles() -> Any:
    """A plot style table that changes nothing, made once: making it costs more than reading the layers."""
    return acadctb.new_ctb()


def _sheet_frame(layout: Any) -> tuple[float, tuple[float, float, float, float]]:
    """Millimetres per unit of a paper layout, and the sheet in those units: x and y of both corners."""
    dxf = layout.dxf_layout.dxf
    if dxf.get("plot_rotation", 0) != 0:
        message = f"drawing / layout {layout.name}: the sheet is turned for printing; give it its true width and height"
        raise OutputError(message)
    scale = _MM_PER_INCH if dxf.get("plot_paper_units", 1) == 0 else 1.0
    # Zero of a layout is the corner of the printable area, not of the sheet; margins and sizes are always in mm.
    left, bottom = -dxf.get("left_margin", 0.0) / scale, -dxf.get("bottom_margin", 0.0) / scale
    return scale, (left, bottom, left + dxf.paper_width / scale, bottom + dxf.paper_height / scale)


def _frame(doc: Any, layout: Any, extents: tuple[float, float, float, float] | None) -> tuple[float, tuple[float, ...]]:
    if not layout.is_modelspace:
        scale, sheet = _sheet_frame(layout)
        return scale, extents or sheet
    if extents is None:
        message = "drawing / layout Model: model space has no sheet; say which part of it to show"
        raise OutputError(message)
    return (_MM_PER_INCH if doc.header.get("$INSUNITS", 4) == 1 else 1.0), extents


def read_ink(doc: Any, layout_name: str = "Model", extents: tuple[float, float, float, float] | None = None) -> Ink:
    """The marks that one layout of a DXF document leaves on paper.

    A paper layout gives the whole sheet. Model space has none, so `extents` (least x and y, greatest x and y, in
    drawing units) says which part is shown; it is not cut off there. The same document gives the same ink in any
    process.

    Raises OutputError where the layout does not exist or holds an entity that cannot be drawn.
    """
    try:
        layout = doc.layouts.get(layout_name)
    except KeyError as error:
        known = ", ".join(doc.layout_names_in_taborder())
        message = f"drawing / layout {layout_name}: no such layout; choose one of {known}"
        raise OutputError(message) from error
    scale, (left, bottom, right, top) = _frame(doc, layout, extents)
    recorder = Recorder(scale, (-left * scale, -bottom * scale))
    pipeline = _InkPipeline(recorder, doc.header.get("$PSLTSCALE", 1) != 0)
    settings = Configuration(
        pdsize=1,
        color_policy=ColorPolicy.BLACK,
        background_policy=BackgroundPolicy.OFF,
        max_flattening_distance=_CURVE_SAGITTA,
    )
    context = RenderContext(doc, ctb=_plain_plot_styles(), export_mode=True)
    _InkFrontend(context, pipeline, settings).draw_layout(layout)
    return Ink(
        (right - left) * scale,
        (top - bottom) * scale,
        tuple(recorder.strokes),
        tuple(recorder.fills),
        tuple(recorder.texts),
    )
