"""STEP files of a part or of a whole tool: ISO 10303-21 text, AP214, millimetres, named, coloured, repeatable.

Product names are the number in the parts list and the title, face names those of the description; the parts of a tool
stand where its seats put them at nominal size, neighbours are left out. The same inputs and time stamp give the same
bytes.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from OCP.Standard import Standard_Failure
from OCP.TDF import TDF_Label
from OCP.TopoDS import TopoDS_Solid

from generator.description import Part, Tool, face_positions, nominal_positions, parts_list, polygon
from generator.errors import GeometryError, OutputError
from generator.solid.build import solid_of, volume_of_mm3
from generator.solid.document import Colour, StepDocument
from generator.solid.faces import named_faces
from generator.solid.written import Written

__all__ = ["Solids", "write_part", "write_tool"]

_MADE = (0.60, 0.63, 0.67)
_TURNING = (0.74, 0.76, 0.79)
_BOUGHT = (0.76, 0.66, 0.42)
_ZONE = (0.42, 0.48, 0.56)
"""Colours: grey steel where the shop cuts, lighter where it turns with the work, brass for what is bought, slate for
threads and other zones. Shop choice."""

ShapeKey = tuple[object, ...]


class Solids:
    """Solids made so far, so that equal pieces and the part files of a tool are built once."""

    def __init__(self) -> None:
        self._made: dict[ShapeKey, TopoDS_Solid] = {}

    def of(self, part: Part, key: ShapeKey) -> TopoDS_Solid:
        """The solid of a part; pieces with different keys get solids of their own."""
        if key not in self._made:
            self._made[key] = solid_of(part)
        return self._made[key]


@dataclass(frozen=True, slots=True)
class _Product:
    """A product in a document: its label, its volume, its count of faces."""

    label: TDF_Label
    volume_mm3: float
    faces: int


def write_part(
    part: Part, path: Path, stamp: str, number: int = 0, turning: bool = False, solids: Solids | None = None
) -> Written:
    """Write one part in its own axes to a STEP file and return what is in it.

    `stamp` is the time written into the header, in the form of ISO 8601 ("2025-01-31T12:00:00"); `number` is the
    part's number in the parts list, 0 for none; `turning` is True for a part that turns with the work.
    Raises GeometryError as `solid_of` does, OutputError if the file cannot be written.
    """
    document = StepDocument()
    made = _add_product(document, solids or Solids(), part, number, turning, _product_name(part, number))
    _write(document, path, stamp)
    return Written(made.volume_mm3, {part.name: made.volume_mm3}, made.faces)


def write_tool(tool: Tool, path: Path, stamp: str, solids: Solids | None = None) -> Written:
    """Write a tool as an assembly of its parts, neighbours left out, and return what is in it.

    Equal pieces are one product that stands in several places. Raises as `write_part` does.
    """
    document, shared = StepDocument(), solids or Solids()
    whole = document.add_assembly(tool.title)
    stands = nominal_positions(tool)
    products: dict[ShapeKey, _Product] = {}
    pieces: dict[str, _Product] = {}
    for row in parts_list(tool):
        parts = [tool.parts[name] for name in row.parts]
        shapes = {_shape_key(part, row.number, False) for part in parts}
        for part in parts:
            turning = part.name in tool.turning
            key = _shape_key(part, row.number, turning)
            if key not in products:
                name = _product_name(part, row.number) + (f" ({part.name})" if len(shapes) > 1 else "")
                products[key] = _add_product(document, shared, part, row.number, turning, name)
            pieces[part.name] = products[key]
            x_mm = float(stands[f"{part.name}/{part.origin_face}"])
            document.add_piece(whole, products[key].label, part.name, x_mm, part.name in tool.flipped)
    if not pieces:
        message = f"{tool.title}: holds no part to write, only neighbours"
        raise GeometryError(message)
    _write(document, path, stamp)
    volumes = {name: piece.volume_mm3 for name, piece in pieces.items()}
    return Written(sum(volumes.values()), volumes, sum(piece.faces for piece in pieces.values()))


def _shape_key(part: Part, number: int, turning: bool) -> ShapeKey:
    """What two pieces must share to be one product: number, title, colour, and all that shape and names hang on."""
    crosses = tuple(
        (cross.name, cross.kind, cross.near, cross.far, cross.angle_deg, name, size.nominal_mm)
        for cross in part.cross
        for name, size in cross.sizes.items()
    )
    surfaces = tuple((surface.name, surface.near, surface.far) for surface in part.surfaces)
    positions = tuple(face_positions(part).items())
    return (number, part.title, _colour_of(part, turning), polygon(part), positions, surfaces, crosses, part.zones)


def _add_product(document: StepDocument, solids: Solids, part: Part, number: int, turning: bool, name: str) -> _Product:
    solid = solids.of(part, _shape_key(part, number, turning))
    faces = named_faces(part, solid)
    label = document.add_product(name, solid, faces, _colour_of(part, turning), _ZONE)
    return _Product(label, volume_of_mm3(solid), len(faces))


def _write(document: StepDocument, path: Path, stamp: str) -> None:
    try:
        document.write(path, stamp)
    except Standard_Failure as failure:
        message = f"{path.name}: the STEP text cannot be made ({type(failure).__name__}: {failure})"
        raise OutputError(message) from failure


def _product_name(part: Part, number: int) -> str:
    return f"{number} {part.title}" if number else part.title


def _colour_of(part: Part, turning: bool) -> Colour:
    if not part.is_made:
        return _BOUGHT
    return _TURNING if turning else _MADE
