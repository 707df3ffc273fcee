"""The one description of a tool: sizes, parts made of faces and surfaces, seats, gaps, and the chains between them.

Every other package reads it and adds nothing of its own about the tool. Standard library only; numbers may be
arrays of designs wherever a function says so.

Axis: a part's own z runs along its axis, 0 at its origin face, positive towards the work. (This is not the lathe's
Z of ISO 841, which points from the work to the tool.) Diameters, never radii, except in outlines. Millimetres.
"""

from generator.description.chain import ChainResult, Form, evaluate_gap, nominal_positions, positions
from generator.description.choices import Choice, Choices
from generator.description.draft import PartDraft
from generator.description.outline import Edge, Outline, Wall, least_wall, outline, polygon, volume_mm3
from generator.description.part import (
    Ball,
    Corner,
    Cross,
    Length,
    Part,
    Place,
    Relation,
    Surface,
    Zone,
    diameter_at,
    face_forms,
    face_positions,
)
from generator.description.size import Size, Term, exact
from generator.description.tool import Gap, ListRow, Seat, Silhouette, Tool, parts_list

__all__ = [
    "Ball",
    "ChainResult",
    "Choice",
    "Choices",
    "Corner",
    "Cross",
    "Edge",
    "Form",
    "Gap",
    "Length",
    "ListRow",
    "Outline",
    "Part",
    "PartDraft",
    "Place",
    "Relation",
    "Seat",
    "Silhouette",
    "Size",
    "Surface",
    "Term",
    "Tool",
    "Wall",
    "Zone",
    "diameter_at",
    "evaluate_gap",
    "exact",
    "face_forms",
    "face_positions",
    "least_wall",
    "nominal_positions",
    "outline",
    "parts_list",
    "polygon",
    "positions",
    "volume_mm3",
]
