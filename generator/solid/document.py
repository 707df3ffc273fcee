"""A STEP document on its way to a file: named products, coloured solids, placed pieces, and a header that repeats.

Two things the kernel leaves to chance are done here: pieces are numbered from 1 in each file, and colours are added in
the order of the products, where the kernel's own order hangs on memory addresses.
"""

from __future__ import annotations

import io
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
from OCP.IFSelect import IFSelect_RetDone
from OCP.Interface import Interface_Static
from OCP.Message import Message, Message_Gravity
from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.STEPConstruct import STEPConstruct_Styles
from OCP.STEPControl import STEPControl_AsIs
from OCP.StepData import StepData_StepModel
from OCP.StepRepr import StepRepr_HArray1OfRepresentationItem, StepRepr_NextAssemblyUsageOccurrence
from OCP.StepVisual import StepVisual_ColourRgb, StepVisual_MechanicalDesignGeometricPresentationRepresentation
from OCP.TCollection import TCollection_ExtendedString, TCollection_HAsciiString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS_Face, TopoDS_Solid
from OCP.XCAFDoc import XCAFDoc_DocumentTool

from generator.errors import OutputError
from generator.solid.faces import NamedFace

__all__ = ["Colour", "StepDocument", "part21_text"]

Colour = tuple[float, float, float]
"""Red, green and blue, each from 0 to 1."""

_NOT_PLAIN = re.compile(r"[^ -\[\]-~]+")


@dataclass(frozen=True, slots=True)
class _Paint:
    """A solid with its colour, and faces of it that have another."""

    solid: TopoDS_Solid
    colour: Colour
    faces: list[TopoDS_Face]
    face_colour: Colour


class StepDocument:
    """Products and pieces collected for one STEP file."""

    def __init__(self) -> None:
        self._held = TDocStd_Document(TCollection_ExtendedString("tailstock"))
        self._shapes = XCAFDoc_DocumentTool.ShapeTool_s(self._held.Main())
        self._paints: list[_Paint] = []

    def add_product(
        self, name: str, solid: TopoDS_Solid, faces: Sequence[NamedFace], colour: Colour, zone_colour: Colour
    ) -> TDF_Label:
        """Add a solid with names for its faces and return the product's label."""
        label = self._shapes.AddShape(solid, False)
        _name(label, name)
        for found in faces:
            _name(self._shapes.AddSubShape(label, found.face), found.name)
        zones = [found.face for found in faces if found.is_zone]
        self._paints.append(_Paint(solid, colour, zones, zone_colour))
        return label

    def add_assembly(self, name: str) -> TDF_Label:
        """Add an empty assembly and return its label."""
        label = self._shapes.NewShape()
        _name(label, name)
        return label

    def add_piece(self, whole: TDF_Label, product: TDF_Label, name: str, x_mm: float, flipped: bool) -> None:
        """Stand a piece in the assembly, its origin at x, turned about the upright axis if flipped."""
        move = gp_Trsf()
        if flipped:
            move.SetRotation(gp_Ax1(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(0.0, 0.0, 1.0)), math.pi)
        move.SetTranslationPart(gp_Vec(x_mm, 0.0, 0.0))
        _name(self._shapes.AddComponent(whole, product, TopLoc_Location(move)), name)

    def write(self, path: Path, stamp: str) -> None:
        """Write the file. Raises OutputError."""
        text = self._text(path.name, stamp)
        try:
            path.write_bytes(text)
        except OSError as failure:
            message = f"{path}: cannot be written ({failure.strerror})"
            raise OutputError(message) from failure

    def _text(self, file_name: str, stamp: str) -> bytes:
        self._shapes.UpdateAssemblies()
        _silence()
        writer = STEPCAFControl_Writer()
        # The settings are known only once a writer exists.
        _set_up(file_name)
        writer.SetNameMode(True)
        writer.SetColorMode(False)
        writer.SetLayerMode(False)
        if not writer.Transfer(self._held, STEPControl_AsIs):
            message = f"{file_name}: the solids cannot be put into STEP"
            raise OutputError(message)
        model = writer.ChangeWriter().Model()
        _number_pieces(model)
        _paint(writer, self._paints)
        _set_header(model, file_name, stamp)
        text = io.BytesIO()
        if writer.WriteStream(text) != IFSelect_RetDone:
            message = f"{file_name}: the STEP text cannot be made"
            raise OutputError(message)
        return text.getvalue()


def _set_up(file_name: str) -> None:
    """Tell the kernel which schema, unit and details to write."""
    for key, value in (("write.step.schema", "AP214IS"), ("write.step.unit", "MM")):
        if not Interface_Static.SetCVal_s(key, value):
            message = f"{file_name}: the kernel does not know {key} = {value}"
            raise OutputError(message)
    # Faces of planes, cylinders and cones need no curves in their own parameters: files are smaller, and as exact.
    for key, number in (("write.surfacecurve.mode", 0), ("write.stepcaf.subshapes.name", 1)):
        if not Interface_Static.SetIVal_s(key, number):
            message = f"{file_name}: the kernel does not know {key} = {number}"
            raise OutputError(message)


def _number_pieces(model: StepData_StepModel) -> None:
    """Number the pieces of an assembly from 1; the kernel counts on through the life of the process."""
    count = 0
    for index in range(1, model.NbEntities() + 1):
        entity = model.Value(index)
        if isinstance(entity, StepRepr_NextAssemblyUsageOccurrence):
            count += 1
            entity.SetId(TCollection_HAsciiString(str(count)))


def _paint(writer: STEPCAFControl_Writer, paints: list[_Paint]) -> None:
    """Give each solid its colour, and its zone faces theirs over it."""
    session = writer.ChangeWriter().WS()
    known: dict[Colour, StepVisual_ColourRgb] = {}

    def colour(parts: Colour) -> StepVisual_ColourRgb:
        if parts not in known:
            known[parts] = StepVisual_ColourRgb()
            known[parts].Init(TCollection_HAsciiString(""), *parts)
        return known[parts]

    for paint in paints:
        styles = STEPConstruct_Styles(session)
        base = styles.AddStyle(paint.solid, styles.MakeColorPSA(None, colour(paint.colour), None, None, 0.0), None)
        for face in paint.faces:
            over = styles.MakeColorPSA(None, colour(paint.face_colour), None, None, 0.0)
            styles.AddStyle(face, over, base)
        items = StepRepr_HArray1OfRepresentationItem(1, styles.NbStyles())
        for index in range(1, styles.NbStyles() + 1):
            items.SetValue(index, styles.Style(index))
        shown = StepVisual_MechanicalDesignGeometricPresentationRepresentation()
        shown.Init(TCollection_HAsciiString(""), items, styles.FindContext(paint.solid))
        session.Model().AddWithRefs(shown)


def _set_header(model: StepData_StepModel, file_name: str, stamp: str) -> None:
    """Fill the header with nothing that depends on the machine or the moment."""
    header = APIHeaderSection_MakeHeader(model)
    program = TCollection_HAsciiString("tailstock")
    header.SetName(TCollection_HAsciiString(part21_text(file_name)))
    header.SetTimeStamp(TCollection_HAsciiString(part21_text(stamp)))
    header.SetOriginatingSystem(program)
    header.SetAuthorisation(TCollection_HAsciiString(""))
    header.SetAuthorValue(1, program)
    header.SetOrganizationValue(1, program)
    header.SetDescriptionValue(1, TCollection_HAsciiString("solids at nominal size"))


def _name(label: TDF_Label, text: str) -> None:
    TDataStd_Name.Set_s(label, TCollection_ExtendedString(part21_text(text)))


def part21_text(text: str) -> str:
    r"""The text with backslashes and all outside printable ASCII as \X2\ or \X4\ hexadecimal.

    The kernel doubles quotes by itself. Backslashes are encoded here, because it doubles only those that do not look
    like the start of a directive.
    Source: ISO 10303-21, encoding of characters outside the basic alphabet (from memory).
    """

    def encoded(run: re.Match[str]) -> str:
        width = 4 if max(run[0]) <= "\uffff" else 8
        digits = "".join(f"{ord(character):0{width}X}" for character in run[0])
        return f"\\X{width // 2}\\{digits}\\X0\\"

    return _NOT_PLAIN.sub(encoded, text)


def _silence() -> None:
    """Keep the kernel's reports of its own transfers off standard output."""
    for printer in Message.DefaultMessenger_s().Printers():
        printer.SetTraceLevel(Message_Gravity.Message_Fail)
