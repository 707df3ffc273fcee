"""A small reader of STEP text (ISO 10303-21, clear text encoding), with no modelling kernel behind it.

It knows the grammar (instances, complex instances, strings with control directives, lists, enumerations) and just as
much of AP214's entities as the checks ask for: products, pieces of an assembly and where they stand, faces and the
surfaces they lie on, colours, units. Source: ISO 10303-21:2016, clauses on tokens, strings and the exchange structure;
entity attributes in the order of ISO 10303-42 (geometry, topology), -41 (products), -46 (colours). From memory,
checked against files of the kernel.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

__all__ = ["Face", "Piece", "StepFile", "read_step", "revolved_volume_mm3"]

_TOKEN = re.compile(
    r"""\s*(?:(?P<string>'(?:[^']|'')*')|(?P<ref>\#\d+)|(?P<enum>\.[A-Z0-9_]+\.)
    |(?P<number>[-+]?\d+(?:\.\d*)?(?:E[-+]?\d+)?)|(?P<word>!?[A-Z_][A-Z0-9_-]*)|(?P<mark>[()=,;$*]))""",
    re.VERBOSE,
)


@dataclass(frozen=True)
class Ref:
    """A reference to another instance."""

    number: int


@dataclass(frozen=True)
class Record:
    """An entity: its type and its attributes."""

    kind: str
    values: tuple[Any, ...]


@dataclass(frozen=True)
class Face:
    """An advanced face: name, surface record, whether its normal is the surface's, and its corner points."""

    name: str
    surface: Record
    same_sense: bool
    points: tuple[tuple[float, float, float], ...]
    origin: tuple[float, float, float]
    axis: tuple[float, float, float]

    @property
    def kind(self) -> str:
        return self.surface.kind

    @property
    def is_about_x(self) -> bool:
        """True for a surface of revolution about the x axis."""
        return self.kind != "PLANE" and abs(abs(self.axis[0]) - 1) < 1e-12 and math.hypot(*self.origin[1:]) < 1e-9

    def radius_at(self, x: float) -> float:
        """Radius in mm of a cylinder or cone about x."""
        radius: float = self.surface.values[2]
        if self.kind == "CYLINDRICAL_SURFACE":
            return radius
        return radius + (x - self.origin[0]) * self.axis[0] * math.tan(self.surface.values[3])

    @property
    def x_range(self) -> tuple[float, float]:
        xs = [point[0] for point in self.points]
        return min(xs), max(xs)


@dataclass(frozen=True)
class Piece:
    """One piece of an assembly: its name, the name of its product, where it stands, its own x axis in the assembly."""

    identifier: str
    name: str
    product: str
    origin: tuple[float, float, float]
    x_axis: tuple[float, float, float]
    z_axis: tuple[float, float, float]


def decode(quoted: str) -> str:
    r"""The text of a quoted string: quotes halved, line breaks dropped, \X2\ and \X4\ decoded."""
    text = re.sub(r"[\r\n]", "", quoted[1:-1]).replace("''", "'")

    def directive(found: re.Match[str]) -> str:
        if found[0] == "\\\\":
            return "\\"
        width = 4 if found["width"] == "2" else 8
        digits = found["digits"]
        assert len(digits) % width == 0, found[0]
        return "".join(chr(int(digits[i : i + width], 16)) for i in range(0, len(digits), width))

    text, _ = re.subn(r"\\\\|\\X(?P<width>[24])\\(?P<digits>[0-9A-F]+)\\X0\\", directive, text)
    return text


def _tokens(text: str) -> Iterator[tuple[str, str]]:
    position, end = 0, len(text.rstrip())
    while position < end:
        found = _TOKEN.match(text, position)
        assert found, f"not Part 21: {text[position : position + 40]!r}"
        position = found.end()
        assert found.lastgroup
        yield found.lastgroup, found[found.lastgroup]


class _Parser:
    def __init__(self, text: str) -> None:
        self._tokens = list(_tokens(text))
        self._at = 0

    def done(self) -> bool:
        return self._at >= len(self._tokens)

    def take(self, *expected: str) -> str:
        _, value = self._tokens[self._at]
        assert not expected or value in expected, f"{value!r} instead of {expected}"
        self._at += 1
        return value

    def peek(self) -> str:
        return self._tokens[self._at][1]

    def values(self) -> tuple[Any, ...]:
        """A list in brackets."""
        self.take("(")
        found: list[Any] = []
        while self.peek() != ")":
            found.append(self.value())
            if self.peek() != ")":
                self.take(",")
        self.take(")")
        return tuple(found)

    def value(self) -> Any:
        group, token = self._tokens[self._at]
        if token == "(":
            return self.values()
        self._at += 1
        if group == "string":
            return decode(token)
        if group == "ref":
            return Ref(int(token[1:]))
        if group == "number":
            return float(token)
        if group == "word":
            return Record(token, self.values())
        return token

    def records(self) -> tuple[Record, ...]:
        """One record, or the records of a complex instance."""
        if self.peek() != "(":
            return (Record(self.take(), self.values()),)
        self.take("(")
        found = []
        while self.peek() != ")":
            found.append(Record(self.take(), self.values()))
        self.take(")")
        return tuple(found)


class StepFile:
    """The header records and the instances of one file, and what the checks ask of them."""

    def __init__(self, header: dict[str, tuple[Any, ...]], instances: dict[int, tuple[Record, ...]]) -> None:
        self.header = header
        self.instances = instances

    @property
    def counts(self) -> Counter[str]:
        """How many records of each type the file holds."""
        return Counter(record.kind for records in self.instances.values() for record in records)

    def all_of(self, kind: str) -> list[tuple[int, Record]]:
        return [(n, record) for n, records in self.instances.items() for record in records if record.kind == kind]

    def get(self, ref: Ref, *kinds: str) -> Record:
        """The record that a reference points to, of one of these types where any are given."""
        records = self.instances[ref.number]
        return next(record for record in records if not kinds or record.kind in kinds)

    # -- products

    @property
    def product_names(self) -> list[str]:
        return [record.values[1] for _, record in self.all_of("PRODUCT")]

    def product_of(self, definition: Ref) -> str:
        formation = self.get(self.get(definition, "PRODUCT_DEFINITION").values[2])
        name: str = self.get(formation.values[2], "PRODUCT").values[1]
        return name

    def solids_of(self, product: str) -> list[Record]:
        """The solids in the shape of a product."""
        found = []
        for _, link in self.all_of("SHAPE_DEFINITION_REPRESENTATION"):
            shape = self.get(link.values[0], "PRODUCT_DEFINITION_SHAPE")
            definition = self.get(shape.values[2])
            if definition.kind != "PRODUCT_DEFINITION" or self.product_of(shape.values[2]) != product:
                continue
            items = [self.get(item) for item in self.get(link.values[1]).values[1]]
            found += [item for item in items if item.kind == "MANIFOLD_SOLID_BREP"]
        return found

    @property
    def pieces(self) -> list[Piece]:
        """The pieces of the assembly in the file, in file order."""
        return [self._piece(link) for _, link in self.all_of("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION")]

    def _piece(self, link: Record) -> Piece:
        usage = self.get(self.get(link.values[1]).values[2], "NEXT_ASSEMBLY_USAGE_OCCURRENCE")
        moved = self.get(link.values[0], "REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION")
        transformation = self.get(moved.values[0], "ITEM_DEFINED_TRANSFORMATION")
        start, end = (self._placement(transformation.values[index]) for index in (2, 3))
        assert start == ((0, 0, 0), (0, 0, 1), (1, 0, 0)), "a piece's own axes are not the plain ones"
        origin, z_axis, x_axis = end
        return Piece(usage.values[0], usage.values[1], self.product_of(usage.values[4]), origin, x_axis, z_axis)

    def _placement(self, ref: Ref) -> tuple[tuple[float, float, float], ...]:
        """Origin, axis and reference direction."""
        placement = self.get(ref, "AXIS2_PLACEMENT_3D")
        return tuple(self.triple(item) for item in placement.values[1:])

    def triple(self, ref: Ref) -> tuple[float, float, float]:
        x, y, z = self.get(ref, "CARTESIAN_POINT", "DIRECTION").values[1]
        return x, y, z

    # -- shape

    def faces(self, solid: Record | None = None) -> list[Face]:
        """The faces of one solid, or of all in the file."""
        solids = [solid] if solid else [record for _, record in self.all_of("MANIFOLD_SOLID_BREP")]
        shells = [self.get(one.values[1], "CLOSED_SHELL") for one in solids]
        return [self._face(ref) for shell in shells for ref in shell.values[1]]

    def _face(self, ref: Ref) -> Face:
        name, bounds, surface, sense = self.get(ref, "ADVANCED_FACE").values
        record = self.get(surface)
        placement = self.get(record.values[1], "AXIS2_PLACEMENT_3D")
        points = tuple(point for bound in bounds for point in self._corners(self.get(bound)))
        origin, axis = self.triple(placement.values[1]), self.triple(placement.values[2])
        return Face(name, record, sense == ".T.", points, origin, axis)

    def _corners(self, bound: Record) -> Iterator[tuple[float, float, float]]:
        loop = self.get(bound.values[1])
        if loop.kind == "VERTEX_LOOP":
            yield self._vertex(loop.values[1])
            return
        for ref in loop.values[1]:
            edge = self.get(self.get(ref, "ORIENTED_EDGE").values[3], "EDGE_CURVE")
            yield self._vertex(edge.values[1])
            yield self._vertex(edge.values[2])

    def _vertex(self, ref: Ref) -> tuple[float, float, float]:
        return self.triple(self.get(ref, "VERTEX_POINT").values[1])

    @property
    def length_units(self) -> set[tuple[str, str]]:
        """Prefix and name of every length unit in the file."""
        return {
            (record.values[0], record.values[1])
            for records in self.instances.values()
            if any(record.kind == "LENGTH_UNIT" for record in records)
            for record in records
            if record.kind == "SI_UNIT"
        }

    @property
    def painted(self) -> dict[int, tuple[float, float, float]]:
        """Red, green and blue from 0 to 1 of each styled item, by instance number of the solid or face."""
        found: dict[int, tuple[float, float, float]] = {}
        shown = self.all_of("MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION")
        for ref in (item for _, record in shown for item in record.values[1]):
            style = self.get(ref, "STYLED_ITEM", "OVER_RIDING_STYLED_ITEM")
            usage = self.get(self.get(style.values[1][0], "PRESENTATION_STYLE_ASSIGNMENT").values[0][0])
            side = self.get(usage.values[1], "SURFACE_SIDE_STYLE")
            fill = self.get(self.get(side.values[1][0], "SURFACE_STYLE_FILL_AREA").values[0], "FILL_AREA_STYLE")
            colour = self.get(self.get(fill.values[1][0], "FILL_AREA_STYLE_COLOUR").values[1], "COLOUR_RGB")
            red, green, blue = colour.values[1:4]
            found[style.values[2].number] = (red, green, blue)
        return found


def read_step(text: bytes) -> StepFile:
    """Read a whole file; it must be plain ASCII."""
    plain = text.decode("ascii")
    shape = re.fullmatch(
        r"ISO-10303-21;\s*HEADER;(?P<header>.*?)ENDSEC;\s*DATA;(?P<data>.*)ENDSEC;\s*END-ISO-10303-21;\s*",
        plain,
        re.DOTALL,
    )
    assert shape, "no exchange structure of ISO 10303-21"
    header: dict[str, tuple[Any, ...]] = {}
    parser = _Parser(shape["header"])
    while not parser.done():
        kind = parser.take()
        header[kind] = parser.values()
        parser.take(";")
    instances: dict[int, tuple[Record, ...]] = {}
    parser = _Parser(shape["data"])
    while not parser.done():
        number = int(parser.take()[1:])
        parser.take("=")
        assert number not in instances, f"#{number} stands twice"
        instances[number] = parser.records()
        parser.take(";")
    return StepFile(header, instances)


def revolved_volume_mm3(faces: list[Face]) -> float:
    """Volume between cylinders and cones about x: frusta under outward surfaces less frusta under inward ones.

    Upright planes bound no volume of their own. Source: volume of a frustum, pi/3 h (r^2 + r R + R^2).
    """
    total = []
    for face in faces:
        if face.kind == "PLANE":
            assert abs(abs(face.axis[0]) - 1) < 1e-12, f"{face.name} is no upright plane"
            continue
        assert face.is_about_x, f"{face.name} does not turn about x"
        start, end = face.x_range
        r0, r1 = face.radius_at(start), face.radius_at(end)
        frustum = math.pi / 3 * (end - start) * (r0 * r0 + r0 * r1 + r1 * r1)
        total.append(frustum if face.same_sense else -frustum)
    return math.fsum(total)
