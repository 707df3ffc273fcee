"""STEP files of a part or of a whole tool: ISO 10303-21 text, AP214, millimetres, named, coloured, repeatable.

Product names are the number in the parts list and the title, face names those of the description; the parts of a tool
stand where its seats put them at nominal size, neighbours are left out. The same inputs and time stamp give the same
bytes.
"""

from __future__ import annotations

import io
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
from OCP.IFSelect import IFSelect_RetDone
from OCP.Interface import Interface_Static
from OCP.Message import Message, Message_Gravity
from OCP.Quantity import Quantity_Color, Quantity_TOC_sRGB
from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.STEPControl import STEPControl_AsIs
from OCP.StepData import StepData_StepModel
from OCP.StepRepr import StepRepr_NextAssemblyUsageOccurrence
from OCP.TCollection import TCollection_ExtendedString, TCollection_HAsciiString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS_Solid
from OCP.XCAFDoc import XCAFDoc_ColorGen, XCAFDoc_ColorSurf, XCAFDoc_DocumentTool

from generator.description import Part, Tool, face_positions, nominal_positions, parts_list, polygon
from generator.errors import GeometryError, OutputError
from generator.solid.build import solid_of, volume_of_mm3
from generator.solid.faces import named_faces
from generator.solid.written import Written

__all__ = ["Solids", "part21_text", "write_part", "write_tool"]

_MADE = (0.60, 0.63, 0.67)
_TURNING = (0.74, 0.76, 0.79)
_BOUGHT = (0.76, 0.66, 0.42)
_ZONE = (0.42, 0.48, 0.56)
"""Colours as red, green, blue from 0 to 1: grey steel where the shop cuts, lighter where it turns with the work, brass
for what is bought, slate for threads and other zones. Shop choice."""

ShapeKey = tuple[object, ...]

_NOT_PLAIN = re.compile(r"[^ -\[\]-~]+")


class Solids:
    """Solids made so far, so that equal pieces and the part files of a tool are built once."""

    def __init__(self) -> None:
        self._made: dict[ShapeKey, TopoDS_Solid] = {}

    def of(self, part: Part, number: int = 0) -> TopoDS_Solid:
        """The solid of a part; pieces that differ in number, title or shape get solids of their own."""
        key = _shape_key(part, number)
        if key not in self._made:
            self._made[key] = solid_of(part)
        return self._made[key]


@dataclass(frozen=True, slots=True)
class _Placed:
    """A part that goes into a file, with its number, its colour and where its origin face stands."""

    part: Part
    number: int
    colour: tuple[float, float, float]
    product: str
    x_mm: float = 0.0
    flipped: bool = False


def write_part(
    part: Part, path: Path, stamp: str, number: int = 0, turning: bool = False, solids: Solids | None = None
) -> Written:
    """Write one part in its own axes to a STEP file and return what is in it.

    `stamp` is the time written into the header, in the form of ISO 8601 ("2025-01-31T12:00:00"); `number` is the
    part's number in the parts list, 0 for none.
    """
    placed = _Placed(part, number, _colour_of(part, turning), _product_name(part, number))
    document, volumes, faces = _Document(solids or Solids()), {}, 0
    _, volumes[part.name], faces = document.add_product(placed)
    document.write(path, stamp)
    return Written(volumes[part.name], volumes, faces)


def write_tool(tool: Tool, path: Path, stamp: str, solids: Solids | None = None) -> Written:
    """Write a tool as an assembly of its parts, neighbours left out, and return what is in it."""
    document = _Document(solids or Solids())
    whole = document.add_assembly(tool.title)
    products: dict[ShapeKey, tuple[TDF_Label, float, int]] = {}
    volumes: dict[str, float] = {}
    faces = 0
    for placed in _placed_parts(tool):
        key = _shape_key(placed.part, placed.number)
        if key not in products:
            products[key] = document.add_product(placed)
        label, volumes[placed.part.name], count = products[key]
        document.add_occurrence(whole, label, placed)
        faces += count
    if not volumes:
        message = f"{tool.title}: holds no part to write, only neighbours"
        raise GeometryError(message)
    document.write(path, stamp)
    return Written(sum(volumes.values()), volumes, faces)


def _shape_key(part: Part, number: int) -> ShapeKey:
    """What two pieces must share to be one product: number, title, outline, cross features, names of surfaces."""
    z_of = face_positions(part)
    crosses = tuple(
        (cross.kind, z_of[cross.near], z_of[cross.far], cross.angle_deg, *(s.nominal_mm for s in cross.sizes.values()))
        for cross in part.cross
    )
    names = tuple(surface.name for surface in part.surfaces)
    return (number, part.title, polygon(part), crosses, names, part.zones)


def _placed_parts(tool: Tool) -> Iterator[_Placed]:
    """The parts of a tool in order of their numbers."""
    stands = nominal_positions(tool)
    for row in parts_list(tool):
        keys = {_shape_key(tool.parts[name], 0) for name in row.parts}
        for name in row.parts:
            part = tool.parts[name]
            product = _product_name(part, row.number)
            if len(keys) > 1:
                product = f"{product} ({name})"
            yield _Placed(
                part,
                row.number,
                _colour_of(part, name in tool.turning),
                product,
                float(stands[f"{name}/{part.origin_face}"]),
                name in tool.flipped,
            )


def _product_name(part: Part, number: int) -> str:
    return f"{number} {part.title}" if number else part.title


def _colour_of(part: Part, turning: bool) -> tuple[float, float, float]:
    if not part.is_made:
        return _BOUGHT
    return _TURNING if turning else _MADE


class _Document:
    """A document of the kernel that holds named and coloured products, on its way to a file."""

    def __init__(self, solids: Solids) -> None:
        self._solids = solids
        self._held = TDocStd_Document(TCollection_ExtendedString("tailstock"))
        self._shapes = XCAFDoc_DocumentTool.ShapeTool_s(self._held.Main())
        self._colours = XCAFDoc_DocumentTool.ColorTool_s(self._held.Main())

    def add_product(self, placed: _Placed) -> tuple[TDF_Label, float, int]:
        """Add a part's solid and return its label, its volume in mm3 and its count of faces."""
        solid = self._solids.of(placed.part, placed.number)
        label = self._shapes.AddShape(solid, False)
        _name(label, placed.product)
        self._colours.SetColor(label, _colour(placed.colour), XCAFDoc_ColorGen)
        faces = named_faces(placed.part, solid)
        for found in faces:
            face_label = self._shapes.AddSubShape(label, found.face)
            _name(face_label, found.name)
            if found.is_zone:
                self._colours.SetColor(face_label, _colour(_ZONE), XCAFDoc_ColorSurf)
        return label, volume_of_mm3(solid), len(faces)

    def add_assembly(self, title: str) -> TDF_Label:
        """Add an empty assembly and return its label."""
        label = self._shapes.NewShape()
        _name(label, title)
        return label

    def add_occurrence(self, whole: TDF_Label, product: TDF_Label, placed: _Placed) -> None:
        """Stand one more piece of a product in the assembly."""
        _name(self._shapes.AddComponent(whole, product, _location(placed)), placed.part.name)

    def write(self, path: Path, stamp: str) -> None:
        """Write the document as a STEP file. Raises OutputError."""
        self._shapes.UpdateAssemblies()
        _silence()
        writer = STEPCAFControl_Writer()
        for key, value in (("write.step.schema", "AP214IS"), ("write.step.unit", "MM")):
            if not Interface_Static.SetCVal_s(key, value):
                message = f"{path.name}: the kernel does not know {key} = {value}"
                raise OutputError(message)
        # Turned faces need no curves in their own parameters; without them files are smaller and as exact.
        Interface_Static.SetIVal_s("write.surfacecurve.mode", 0)
        Interface_Static.SetIVal_s("write.stepcaf.subshapes.name", 1)
        writer.SetNameMode(True)
        writer.SetColorMode(True)
        writer.SetLayerMode(False)
        if not writer.Transfer(self._held, STEPControl_AsIs):
            message = f"{path.name}: the solids cannot be put into STEP"
            raise OutputError(message)
        model = writer.ChangeWriter().Model()
        _number_occurrences(model)
        _set_header(model, path.name, stamp)
        text = io.BytesIO()
        if writer.WriteStream(text) != IFSelect_RetDone:
            message = f"{path.name}: the STEP text cannot be made"
            raise OutputError(message)
        try:
            path.write_bytes(text.getvalue())
        except OSError as failure:
            message = f"{path}: cannot be written ({failure.strerror})"
            raise OutputError(message) from failure


def _number_occurrences(model: StepData_StepModel) -> None:
    """Number the pieces of an assembly from 1 in each file; the kernel counts on through the life of the process."""
    count = 0
    for index in range(1, model.NbEntities() + 1):
        entity = model.Value(index)
        if isinstance(entity, StepRepr_NextAssemblyUsageOccurrence):
            count += 1
            entity.SetId(TCollection_HAsciiString(str(count)))


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


def _location(placed: _Placed) -> TopLoc_Location:
    """Where a part stands: its origin face at x, turned half round the upright axis where it is flipped."""
    move = gp_Trsf()
    if placed.flipped:
        move.SetRotation(gp_Ax1(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(0.0, 0.0, 1.0)), math.pi)
    move.SetTranslationPart(gp_Vec(placed.x_mm, 0.0, 0.0))
    return TopLoc_Location(move)


def _colour(parts: tuple[float, float, float]) -> Quantity_Color:
    return Quantity_Color(*parts, Quantity_TOC_sRGB)


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
