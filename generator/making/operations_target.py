"""What an operation cuts: surfaces, sizes, where along the part, from which diameter to which, and how hard it is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from generator.description import (
    Cross,
    Length,
    Part,
    Size,
    Surface,
    Tool,
    Zone,
    diameter_at,
    face_positions,
    outline,
)
from generator.making.operations_blank import BEYOND_MM, Blank
from generator.making.operations_faces import open_face
from generator.making.operations_named import FORMED, is_slender, sizes_of, surfaces_of, with_relief
from generator.making.setups import SetUp, Step
from generator.making.stock import facing_mm
from generator.making.thread_blank import thread_blank_mm

__all__ = ["Pass", "Target", "started", "target_of"]

_SLICES = 8
_SAME_MM = 0.001
"""Diameters that differ by no more are cut in one go. Shop choice."""
_SHOULDER_MM = 0.3
"""What is left on a face that was cut before. Common practice, no source."""
_KEEP_MM = 0.3
"""What stays on a diameter that is still to be finished. Common practice, no source."""
_HARDENS = frozenset({"harden", "temper"})


@dataclass(frozen=True, slots=True)
class Pass:
    """One surface as the tool meets it: between which places, from which diameter to which, and its finish wanted.

    `end_mm` is the smaller end of an outside cone and the larger of an inside one, where most is cut away;
    `other_mm` its other end. Both are equal for a cylinder. `left_mm` is what stays on the diameter.
    """

    surface: Surface
    near_mm: float
    far_mm: float
    start_mm: float
    end_mm: float
    other_mm: float
    left_mm: float = 0.0

    @property
    def inside(self) -> bool:
        """True for a bore or a groove in one."""
        return self.surface.side.startswith("inside")

    @property
    def length_mm(self) -> float:
        """Length along the axis."""
        return self.far_mm - self.near_mm

    @property
    def deep_mm(self) -> float:
        """What is cut away on the radius."""
        return abs(self.start_mm - self.end_mm) / 2


@dataclass(frozen=True, slots=True)
class Target:
    """One operation in terms of the part: `sizes` are those it brings to their limits, by address on the part.

    `lengths` are those of the drawing among them; `face` is the face that a facing cut makes, `hole_mm` what hole is
    there already where a centre hole is wanted or a ring is parted. `material` is that of the part, `hard` true where
    it has been hardened there, `through` where its hole goes through the whole part, `opens_through` where some hole
    of the part does. `begins_mm` is how far from the end that it comes from an outside tool goes in, None where it may
    cut all the way from there.
    """

    setup: SetUp
    step: Step
    part: Part | None = None
    material: str = ""
    sizes: tuple[tuple[str, Size], ...] = ()
    passes: tuple[Pass, ...] = ()
    zone: Zone | None = None
    cross: Cross | None = None
    lengths: tuple[Length, ...] = ()
    face: str = ""
    across_mm: float = 0.0
    facing_mm: float = 0.0
    hole_mm: float = 0.0
    hard: bool = False
    through: bool = False
    opens_through: bool = False
    z_of: Mapping[str, float] = field(default_factory=dict)
    begins_mm: float | None = None

    @property
    def main(self) -> Pass | None:
        """The surface on which most is cut away."""
        return max(self.passes, key=lambda one: one.deep_mm, default=None)

    @property
    def diameter_mm(self) -> float | None:
        """The largest diameter that the edge meets: on it the cutting speed rests."""
        if self.step.diameter_mm is not None:
            return self.step.diameter_mm
        if self.passes:
            return max(max(one.start_mm, one.end_mm, one.other_mm) for one in self.passes)
        return self.across_mm or None

    @property
    def length_mm(self) -> float | None:
        """How far the tool goes along the axis: as the step says, else over all its surfaces."""
        if self.step.length_mm is not None:
            return self.step.length_mm
        if self.through and self.part is not None:
            return max(self.z_of.values()) - min(self.z_of.values())
        if self.zone is not None and self.part is not None:
            return abs(self.z_of[self.zone.far] - self.z_of[self.zone.near])
        return sum(one.length_mm for one in self.passes) or None


def target_of(tool: Tool, setup: SetUp, step: Step, blanks: Mapping[str, Blank]) -> Target:
    """The operation in terms of its part, and the blank brought to where it stands afterwards.

    Nothing is known of a step that names no part of the tool; it comes back with its set-up and step alone.
    """
    part = _part_of(tool, setup, step)
    if part is None or part.name not in blanks:
        return Target(setup, step)
    blank, z_of = blanks[part.name], face_positions(part)
    if step.work in _HARDENS:
        blank.hardened = True
    blank.parted = blank.parted or step.work == "part"
    blank.sawn_mm = step.allowance_mm if step.work == "saw" else blank.sawn_mm
    names = [name.partition("/")[2] for name in (*step.cuts, step.surface) if name.startswith(f"{part.name}/")]
    surfaces = tuple(dict.fromkeys(surfaces_of(part, step, names, z_of)))
    passes = tuple(_pass(part, surface, step, blank, z_of) for surface in surfaces)
    passes = passes or _band(part, setup, step, blank, z_of)
    face = _face_of(part, setup, step, names)
    lengths = tuple(one for one in part.lengths if one.name in names)
    across = _across(part, blank, face, z_of) if step.work in {"face", "saw"} else 0.0
    hole = _hole_at(blank, setup, z_of) if step.work == "centre" else 0.0
    if step.work == "part":
        across, hole = _parted(part, blank, setup, z_of)
    target = Target(
        setup, step, part, part.material, tuple(sizes_of(part, step)), passes,
        next((one for one in part.zones if one.name in names and one.form == "thread"), None),
        next((one for one in part.cross for name in names if name.partition("/")[0] == one.name), None),
        lengths, face,
        across,
        _facing(part, blank, face, z_of) if face else _end_faced(blank, setup, step),
        hole,
        blank.hardened and _gets_hard(part, surfaces), _is_through(part, surfaces, step, z_of), _hollow(part, z_of),
        z_of,
    )
    target = replace(target, begins_mm=_begins(target, blank))
    _leave(target, blank)
    return target


def started(target: Target, starter_mm: float | None) -> Target:
    """The operation begun in the hole that was drilled for its boring bar."""
    if starter_mm is None:
        return target
    return replace(target, passes=tuple(replace(one, start_mm=max(one.start_mm, starter_mm)) for one in target.passes))


def _part_of(tool: Tool, setup: SetUp, step: Step) -> Part | None:
    spoken = [name.partition("/")[0] for name in (*step.cuts, step.surface) if name]
    name = next((one for one in (*spoken, *setup.parts) if one in tool.parts), None)
    return None if name is None else tool.parts[name]


def _ends(part: Part) -> tuple[float, float]:
    found = outline(part)
    return found.near_z, found.far_z


def _pass(part: Part, surface: Surface, step: Step, blank: Blank, z_of: Mapping[str, float]) -> Pass:
    near, far = z_of[surface.near], z_of[surface.far]
    ends = [diameter_at(part, surface, z, z_of) for z in (near, far)]
    inside, left = surface.side.startswith("inside"), step.allowance_mm
    if not surface.at:
        on_thread = thread_blank_mm(part, surface) if step.work != "thread" else None
        ends = [surface.diameter.middle if on_thread is None else on_thread] * 2
    elif step.work == "rough" and is_slender(surface):
        # A slender cone is roughed as a cylinder of its large end, the relief behind that end with it.
        ends = [max(ends)] * 2
        near, far = with_relief(part, surface, z_of)
    if inside:
        # The hole at the mouth of the bore: further in, the bar squares what a drill's point has left.
        mouth = max(blank.hole_mm(near, near + 0.1), blank.hole_mm(far - 0.1, far))
        start, end, other = min(mouth, max(ends)), max(ends) - left, min(ends) - left
    else:
        end, other = min(ends) + left, max(ends) + left
        start = max(blank.outside_mm(near, far), end)
    return Pass(surface, near, far, start, end, other, left)


def _band(part: Part, setup: SetUp, step: Step, blank: Blank, z_of: Mapping[str, float]) -> tuple[Pass, ...]:
    """A band that is no surface of the drawing, such as the steady runs on: from what stands to the step's diameter."""
    if step.work not in {"rough", "turn"} or step.diameter_mm is None or step.length_mm is None:
        return ()
    start = z_of.get(open_face(part, setup, z_of), max(z_of.values()))
    inwards = 1.0 if abs(start - min(z_of.values())) < 1e-6 else -1.0
    near, far = sorted((start, start + inwards * step.length_mm))
    size = Size(step.diameter_mm, source="the operation", general=True)
    stands = max(blank.outside_mm(near, far), step.diameter_mm)
    return (Pass(Surface("band", "outside", "", "", size), near, far, stands, step.diameter_mm, step.diameter_mm),)


def _leave(target: Target, blank: Blank) -> None:
    """Bring the blank to where it stands after the operation."""
    part = target.part
    if part is None:
        return
    if target.through and target.passes:
        blank.open(-BEYOND_MM, BEYOND_MM, min(one.end_mm for one in target.passes))
    start = target.z_of.get(open_face(part, target.setup, target.z_of))
    for one in target.passes:
        if not one.surface.near:
            continue
        if target.step.work == "drill" and (span := _drilled_to(target, one)) is not None:
            blank.open(*span, one.end_mm)
            continue
        if start is not None and not one.inside and target.begins_mm is None and _fed_along(target, one):
            # The tool is fed from the free end: what is before the surface comes down with it.
            blank.turn(min(start, one.near_mm), max(start, one.far_mm), one.end_mm)
        if start is not None and target.step.work == "bore" and one.surface.side == "inside" and not one.surface.at:
            for low, high in _bored_on_the_way(target, one, start):
                blank.open(low, high, one.end_mm)
        cone = bool(one.surface.at) and abs(one.end_mm - one.other_mm) > 1e-9
        if not one.inside:
            blank.worked.add(one.surface.name)
        steps = _SLICES if cone else 1
        for number in range(steps):
            low = one.near_mm + one.length_mm * number / steps
            high = one.near_mm + one.length_mm * (number + 1) / steps
            at = [diameter_at(part, one.surface, z, target.z_of) for z in (low, high)]
            if one.inside:
                blank.open(low, high, min(at) - one.left_mm if cone else one.end_mm)
            else:
                blank.turn(low, high, max(at) + one.left_mm if cone else one.end_mm)
    if target.step.work in {"drill", "ream"} and not target.passes and target.step.diameter_mm:
        blank.open(*_hole_ends(target), target.step.diameter_mm)
    if target.face:
        blank.faced.add(target.face)


def _fed_along(target: Target, one: Pass) -> bool:
    """Whether a surface is cut by a tool that is fed along the axis, at its outside."""
    fed = target.step.work in {"turn", "rough"} and target.setup.located != "bench" and not one.inside
    return fed and one.surface.role not in FORMED and (not one.surface.at or is_slender(one.surface))


def _bored_on_the_way(target: Target, one: Pass, start_mm: float) -> Iterator[tuple[float, float]]:
    """Where a bar that is fed in from the mouth opens what lies before its bore: all that gets as wide or wider."""
    assert target.part is not None
    for other in target.part.surfaces:
        low, high = sorted((target.z_of[other.near], target.z_of[other.far]))
        way = min(start_mm, one.near_mm) - 1e-6 <= low and high <= max(start_mm, one.far_mm) + 1e-6
        if other.side == "inside" and other is not one.surface and way and other.diameter.nominal_mm >= one.end_mm:
            yield low, high


def _begins(target: Target, blank: Blank) -> float | None:
    """How far from the free end an outside tool must go in, since what stands before it has to stay larger.

    What has been cut stays as it stands; what has not keeps as much over its size as this cut leaves, and enough to be
    finished.
    """
    part, main, z_of = target.part, target.main, target.z_of
    start = z_of.get(open_face(part, target.setup, z_of)) if part is not None else None
    if part is None or start is None or main is None or main.inside or not main.surface.near:
        return None
    if target.step.work not in {"turn", "rough"} or main.surface.role == "chamfer":
        return None
    begins = min(abs(main.near_mm - start), abs(main.far_mm - start))
    own = {one.surface.name for one in target.passes}
    for one in part.surfaces:
        low, high = sorted((z_of[one.near], z_of[one.far]))
        before = max(abs(low - start), abs(high - start)) <= begins + 1e-6
        if one.side != "outside" or one.role in FORMED or one.name in own or not before:
            continue
        stays = [diameter_at(part, one, z, z_of) if one.at else one.diameter.middle for z in (low, high)]
        stands = blank.outside_mm(low, high)
        if one.name not in blank.worked:
            stands = min(stands, max(stays) + max(main.left_mm, _KEEP_MM))
        if stands > main.end_mm + _SAME_MM:
            return begins
    return None


def _is_through(part: Part, surfaces: Sequence[Surface], step: Step, z_of: Mapping[str, float]) -> bool:
    """Whether what is cut is the hole that goes through the whole part, from the solid or to size."""
    inside = [one for one in part.surfaces if one.side == "inside"]
    if step.work not in {"drill", "ream", "bore"} or not _hollow(part, z_of):
        return False
    low, high = _ends(part)
    if step.length_mm is not None and step.length_mm < high - low - 0.5:
        return False
    least = min(one.diameter.nominal_mm for one in inside)
    return any(one.side == "inside" and one.diameter.nominal_mm <= least + 1e-9 for one in surfaces)


def _hollow(part: Part, z_of: Mapping[str, float]) -> bool:
    """Whether a hole goes from end to end."""
    inside = [one for one in part.surfaces if one.side == "inside"]
    if not inside or any(one.role == "drill point" for one in inside):
        return False
    low, high = _ends(part)
    nearest, farthest = min(z_of[one.near] for one in inside), max(z_of[one.far] for one in inside)
    return nearest <= low + 0.01 and farthest >= high - 0.01


def _hole_ends(target: Target) -> tuple[float, float]:
    """Between which places a hole goes that no surface tells of: inwards from the face it opens at, else through."""
    assert target.part is not None
    low, high = _ends(target.part)
    start = target.z_of.get(open_face(target.part, target.setup, target.z_of))
    deep = target.step.length_mm
    if start is None or deep is None or deep >= high - low:
        return -BEYOND_MM, BEYOND_MM
    inwards = 1.0 if abs(start - low) < abs(start - high) else -1.0
    first, last = sorted((start - inwards * 10.0, start + inwards * deep))
    return first, last


def _drilled_to(target: Target, one: Pass) -> tuple[float, float] | None:
    """Between which places a drill on its way to a surface leaves a hole: from the face it goes in at, so deep as told.

    None where that face is not known.
    """
    assert target.part is not None
    start = target.z_of.get(open_face(target.part, target.setup, target.z_of))
    if start is None:
        return None
    inwards = 1.0 if abs(start - one.near_mm) < abs(start - one.far_mm) else -1.0
    deep = one.length_mm if target.step.length_mm is None else target.step.length_mm
    end = (one.near_mm if inwards > 0 else one.far_mm) + inwards * deep
    first, last = sorted((start - inwards * 10.0, end))
    return first, last


def _face_of(part: Part, setup: SetUp, step: Step, names: Sequence[str]) -> str:
    """The face that a facing or parting cut makes, "" for other work."""
    if step.work not in {"face", "part"}:
        return ""
    faces = {part.origin_face, *(one.face for one in part.lengths)}
    named = next((name for name in names if name in faces), "")
    if named:
        return named
    z_of = face_positions(part)
    ends = (min(z_of.values()), max(z_of.values()))
    for one in (one for one in part.lengths if one.name in names):
        made = [face for face in (one.face, one.from_face) if any(abs(z_of[face] - z) < 1e-6 for z in ends)]
        cut = [face for face in made if f"{part.name}/{face}" in setup.finishes]
        return (cut or made or [one.face])[0]
    return ""


def _hole_at(blank: Blank, setup: SetUp, z_of: Mapping[str, float]) -> float:
    """The hole that opens in the face touched off on."""
    z = z_of.get(setup.touches_off.partition("/")[2])
    return 0.0 if z is None else max(blank.hole_mm(z - 0.5, z), blank.hole_mm(z, z + 0.5))


def _parted(part: Part, blank: Blank, setup: SetUp, z_of: Mapping[str, float]) -> tuple[float, float]:
    """Outside and hole between which a parting blade cuts, at the end away from the one that is worked from."""
    low, high = _ends(part)
    start = z_of.get(open_face(part, setup, z_of))
    if start is None:
        return blank.outside_mm(low, high), 0.0
    # Just within the part: its outside and its hole are cut on past its end before the blade goes in.
    near, far = (high - 0.2, high - 0.1) if abs(start - low) < abs(start - high) else (low + 0.1, low + 0.2)
    return blank.outside_mm(near, far), blank.hole_mm(near, far)


def _across(part: Part, blank: Blank, face: str, z_of: Mapping[str, float]) -> float:
    """The diameter that a facing or saw cut goes across."""
    if face not in z_of:
        return blank.outside_mm(*_ends(part))
    return blank.outside_mm(z_of[face] - 1.0, z_of[face] + 1.0)


def _facing(part: Part, blank: Blank, face: str, z_of: Mapping[str, float]) -> float:
    """What a facing cut takes off: at an end of the bar all that makes the length, or what the saw has left there."""
    is_end = any(abs(z_of[face] - z) < 1e-6 for z in _ends(part))
    if not is_end or face in blank.faced or blank.parted:
        return _SHOULDER_MM
    if blank.sawn_mm > 0.0:
        return blank.sawn_mm
    if blank.is_end_settled and blank.over_mm is not None:
        return max(blank.over_mm, _SHOULDER_MM)
    return facing_mm(blank.bar_mm)


def _end_faced(blank: Blank, setup: SetUp, step: Step) -> float:
    """What facing takes off an end of the bar that goes later; centring it at the bench settles it as it is."""
    if setup.grips != "bar" or setup.touches_off or step.work not in {"face", "centre"}:
        return 0.0
    if step.work == "centre" or blank.is_end_settled:
        blank.is_end_settled = True
        return 0.0
    blank.is_end_settled, off_mm = True, facing_mm(blank.bar_mm)
    if blank.over_mm is not None:
        blank.over_mm -= off_mm
    return off_mm


def _gets_hard(part: Part, surfaces: Sequence[Surface]) -> bool:
    """Whether one of the surfaces is hardened: by a zone of hardness, else the point alone."""
    hard = {zone.surface for zone in part.zones if zone.form == "hardness"}
    return any(one.name in hard or (not hard and one.role == "point") for one in surfaces)
