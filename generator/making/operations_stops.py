"""The figure to reach and where to stop for one operation."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.description import Length, Part, Size, diameter_at
from generator.making.cuts import limits_text, size_text
from generator.making.figures import Figures
from generator.making.flat_height import below_top
from generator.making.operations_bores import mouth_of
from generator.making.operations_dials import dial_move, in_words, infeed_text, length_text, quill_text
from generator.making.operations_faces import cut_here, open_face
from generator.making.operations_named import is_slender
from generator.making.operations_past import PAST_MM, over_bar_mm
from generator.making.operations_slide import swung_text
from generator.making.operations_target import Target
from generator.making.operations_threads import is_turned_by_hand
from generator.making.touch import SOCKET_END, why_hidden
from generator.making.workshop import Workshop
from generator.reckoning.taper import taper_of_half_angle
from generator.units import INCH_MM

__all__ = ["figure_to", "limits_in", "stop_of", "stop_rests_on"]

_FROM_TAILSTOCK = frozenset({"drill", "centre", "ream", "tap"})
_SIGNS = {"across": "across flats ", "diameter": "dia ", "height": "above the axis "}


def limits_in(size: Size, figures: Figures, sign: str = "") -> str:
    """A size as a turner reads it at the machine, in the unit of the job; inch limits are rounded inwards.

    >>> limits_in(Size(17.0, 0.012, 0.001), Figures("in"))
    '0.6694 to 0.6697 in'
    """
    if figures.unit == "mm" or size.general or size.fitted or size.upper_mm == size.lower_mm:
        return figures.prose(limits_text(size, sign))
    return f"{sign}{figures.within(size.low, size.high)} in"


def figure_to(target: Target, figures: Figures) -> str:
    """The sizes to reach, one a line, diameters first; for roughing what each surface is left at."""
    lines = [_labelled(target, name, size, figures) for name, size in target.sizes]
    if target.part is not None:
        angled = (name.partition("/")[2] for name in target.step.cuts if name.endswith(("/angle", "/leg")))
        lines += [figures.prose(size_text(target.part, name)) for name in angled]
    main = target.main
    if target.step.work in {"bore", "drill"} and main is not None and main.surface.near and not main.left_mm:
        cut = {name.rpartition("/")[0] for name, _ in target.sizes if name.endswith("/diameter")}
        if target.sizes and main.surface.name not in cut and not main.surface.at:
            why = ", for the thread" if main.surface.diameter.derived else ""
            lines.insert(0, f"dia {figures.length(main.surface.diameter.nominal_mm)}{why}")
    if target.zone is not None:
        lines.insert(0, target.zone.text)
    lines += [f"dia {figures.length(one.end_mm)}" for one in target.passes if not one.surface.near]
    if target.step.allowance_mm > 0 or target.step.work == "rough":
        left = [one for one in target.passes if one.left_mm > 0]
        lines += [
            f"{_plain(one.surface.name)} dia {figures.length(one.end_mm if not one.surface.at else one.other_mm, 1)}"
            for one in left
        ]
    lines = [line for line in lines if line]
    return "\n".join(dict.fromkeys(lines)) or figures.prose(target.step.size)


def _labelled(target: Target, name: str, size: Size, figures: Figures) -> str:
    part = target.part
    if part is None:
        return ""
    if any(one.name == name for one in part.lengths):
        return limits_in(size, figures, f"{_plain(name)} ")
    key = name.rpartition("/")[2]
    sign = _SIGNS.get(key, "dia ") if key != "height" else ""
    depth = below_top(part, size) if key == "height" else None
    if depth is not None:
        low, high, head = depth
        return f"{figures.within(low, high)} {figures.unit} below the top of the {head}"
    text = limits_in(size, figures, sign)
    return f"{text} above the axis" if key == "height" else text


def _plain(name: str) -> str:
    return name.replace("/", " ").replace("_", " ")


SHOULDER_MM = 0.3
"""What roughing leaves on a shoulder to be faced. Common practice, no source."""
_EDGE_MM = 3.0
"""A chamfer no longer than this lies between a shoulder and the diameter behind it. Shop choice."""


def stop_of(target: Target, workshop: Workshop, figures: Figures) -> str:
    """Where to stop: the infeed, then the length, in the divisions of this machine; "" where nothing is told."""
    return "; ".join(_stops(target, workshop, figures))


def stop_rests_on(target: Target, workshop: Workshop) -> tuple[str, ...]:
    """Fields of the shop that nobody gave and that the stops rest on."""
    if target.setup.located == "own bearings":
        return ()
    if target.step.work in _FROM_TAILSTOCK:
        wanted: tuple[str, ...] = ("quill_dial",)
    else:
        wanted = ("cross_dial", "carriage_dial", "top_dial")
    return tuple(name for name in wanted if workshop.is_default(name))


def _stops(target: Target, workshop: Workshop, figures: Figures) -> Iterator[str]:
    work, main = target.step.work, target.main
    if target.setup.located == "bench":
        return
    if target.setup.located == "own bearings":
        yield from (text for text in (swung_text(target),) if text and work in {"grind", "turn"})
        return
    if work in _FROM_TAILSTOCK:
        if work != "centre":
            deep = _depth(target)
            if target.through:
                yield "through: until the whole diameter is out at the far end"
            elif deep is not None:
                yield quill_text(deep[0], _plain(deep[1]) or "face", workshop, figures)
        return
    if work == "taper":
        yield from _taper_stop(target, workshop, figures)
        return
    turned = work in {"turn", "bore", "rough", "groove"}
    if work in {"turn", "rough"}:
        yield from _beginning(target, figures)
    if turned and main is not None and main.surface.role == "chamfer":
        leg = min(main.length_mm, abs(main.end_mm - main.other_mm) / 2)
        yield f"from the touch {in_words(dial_move(leg, workshop.cross_dial))} of the cross slide"
        return
    straight = main is not None and (not main.surface.at or (work == "rough" and is_slender(main.surface)))
    if turned and main is not None and straight and main.start_mm > 0 and main.deep_mm > 1e-9:
        yield infeed_text(main.start_mm, main.end_mm, workshop, figures)
    if work == "rough" and len(target.passes) > 1 and not target.lengths:
        return
    if work == "thread":
        found = _along(target)
        if found is not None and found[0] > 0.005:
            ends = f"{figures.length(found[0], 2)} from the {found[1]}"
            leave = "stop turning there" if is_turned_by_hand(target, workshop) else "run the tool out there"
            yield f"carriage free, half-nuts in: the thread ends {ends}; mark it on the bed, {leave}"
        return
    swung = swung_text(target) if turned or work == "grind" else ""
    if swung:
        yield swung
        return
    whole = target.setup.grips == "bar" and target.step.size and not target.lengths
    if work == "face" and whole and target.face and not _is_shoulder(target):
        much = figures.length(target.facing_mm, 1)
        yield f"measure over both ends as they stand, take off what is over: {much} where it was sawn as listed"
        return
    over = _over_which(target) if work == "face" else None
    if over is not None:
        yield _taken_off(target, *over, figures)
        return
    if work == "groove" and any(one.size.fitted for one in target.lengths):
        # Its place is reckoned from what was measured: no dial can tell it beforehand.
        return
    if turned or (work in {"face", "part"} and (target.lengths or _is_shoulder(target))):
        found = _along(target)
        if found is not None and found[0] <= 0.005 and _turned_to_a_shoulder(target, _touched(target)):
            yield f"at the {found[1]}, where it was touched: no deeper"
        if found is not None and found[0] > 0.005:
            yield from _read_first(target, found[1], figures)
            past = _past_the_end(target) if turned else None
            more = -_to_the_shoulder(target) if past is None else past[0]
            short = target.step.short_mm
            yield length_text(found[0] + more - short, found[1], workshop, figures, swung=_swung(target, workshop))
            if short and any(one.size.fitted for one in target.lengths):
                yield "measure there, bring the rest, reckoned from what was measured, by an indicator on the carriage"
            if past is not None:
                beyond = more if main is not None and main.inside else PAST_MM
                where = "into" if main is not None and main.inside else "over"
                yield f"{figures.length(beyond, 1)} past the {_plain(past[1])}, {where} bar that goes later"


def _is_shoulder(target: Target) -> bool:
    """Whether a face lies between the ends of its part."""
    z = target.z_of.get(target.face)
    return z is not None and min(target.z_of.values()) + 1e-6 < z < max(target.z_of.values()) - 1e-6


def _over_which(target: Target) -> tuple[Length, str] | None:
    """The length that facing sets and its other face, where no tool can be touched on that one here."""
    part, z_of = target.part, target.z_of
    if part is None or z_of.get(target.face) not in (min(z_of.values()), max(z_of.values())):
        return None
    for one in target.lengths:
        if target.face in (one.face, one.from_face):
            other = one.from_face if target.face == one.face else one.face
            if other == _touched(target):
                return None
            return (one, other) if why_hidden(part, target.setup, other, z_of) else None
    return None


def _taken_off(target: Target, length: Length, other: str, figures: Figures) -> str:
    """How a face is brought to length that no tool can reach the other side of: measured over both.

    Source: common practice, no source.
    """
    out = " (out of the jaws, wiped, then back against the step)" if target.setup.located == "soft jaws" else ""
    size = "the size that was measured for it" if length.size.fitted else figures.length(length.size.middle, 3)
    return (
        f"touch the {_plain(target.face)} as it stands, measure over it and the {_plain(other)}{out}, take off what is "
        f"over {size} by the top slide, carriage locked"
    )


def _read_first(target: Target, from_face: str, figures: Figures) -> Iterator[str]:
    """What is read first where a floor is drawn from one that lies too deep to be touched, so that nothing is lost."""
    part, main, z_of = target.part, target.main, target.z_of
    start = _open_face(target)
    if part is None or main is None or main.surface.side != "inside" or from_face != _plain(start) or start not in z_of:
        return
    made = _stop_face(target, _touched(target))
    for one in target.lengths:
        other = one.from_face if made == one.face else one.face
        if made in (one.face, one.from_face) and other != start and why_hidden(part, target.setup, other, z_of):
            stands = figures.length(abs(z_of[other] - z_of[start]), 3)
            yield f"read the {_plain(other)} from the {from_face} first, what it is over {stands} goes on top"


def _touched(target: Target) -> str:
    """The face touched off on; where that is the end of a socket, the gauge plane of the cone that lies in it."""
    name = target.setup.touches_off.partition("/")[2]
    if target.setup.touches_off == SOCKET_END and target.part is not None:
        return next((one.at for one in target.part.surfaces if one.role == "taper" and one.side == "outside"), name)
    return name


def _past_the_end(target: Target) -> tuple[float, str] | None:
    """How far a cut runs on over, or in, bar that goes later, and past which end: short of it a rim would stay.

    None where it ends within the part, or where what lies beyond its end is not bar.
    """
    main, z_of, part = target.main, target.z_of, target.part
    made = _stop_face(target, _touched(target))
    start = z_of.get(_open_face(target))
    if main is None or part is None or target.setup.grips != "bar" or main.surface.side not in {"outside", "inside"}:
        return None
    if made not in z_of or start is None:
        return None
    end = max(z_of, key=lambda face: (abs(z_of[face] - start), face))
    between = abs(z_of[end] - z_of[made])
    if main.inside:
        told = (target.step.length_mm or 0.0) - abs(z_of[end] - start)
        return (max(PAST_MM, told), end) if between < 1e-6 and target.step.work == "bore" else None
    more = over_bar_mm(target)
    return (more, end) if more else None


def _beginning(target: Target, figures: Figures) -> Iterator[str]:
    """Where the tool goes in, if what stands between it and the end that it comes from stays larger."""
    main = target.main
    if main is None or target.begins_mm is None:
        return
    if target.setup.touches_off == SOCKET_END:
        within = max(abs(z - target.z_of[_touched(target)]) for z in (main.near_mm, main.far_mm))
        yield f"go in within {figures.length(within, 3)} of the {SOCKET_END}: what stands before it stays larger"
        return
    where = f"{figures.length(target.begins_mm, 3)} from the {_plain(_open_face(target))}"
    yield f"go in no sooner than {where}: what stands before it stays larger"


def _to_the_shoulder(target: Target) -> float:
    """What a roughing cut stops short of a shoulder, for facing it; 0 where it meets none."""
    part, main, z_of = target.part, target.main, target.z_of
    start = z_of.get(_open_face(target))
    if target.step.work != "rough" or part is None or main is None or main.inside or start is None:
        return 0.0
    end = max((main.near_mm, main.far_mm), key=lambda z: abs(z - start))
    beyond = [
        max(diameter_at(part, one, z, z_of) for z in (z_of[one.near], z_of[one.far]))
        for one in part.surfaces if one.side == "outside" and one.role not in {"chamfer", "relief"}
        and min(z_of[one.near], z_of[one.far]) - _EDGE_MM <= end <= max(z_of[one.near], z_of[one.far]) + _EDGE_MM
        and max(abs(z_of[one.near] - start), abs(z_of[one.far] - start)) > abs(end - start) + 1e-6
    ]  # fmt: skip
    return SHOULDER_MM if max(beyond, default=0.0) > main.end_mm + 1e-6 else 0.0


def _swung(target: Target, workshop: Workshop) -> bool:
    """Whether the top slide stands at the taper's angle in this set-up."""
    return workshop.taper_method == "top slide" and any(step.work == "taper" for step in target.setup.steps)


def _depth(target: Target) -> tuple[float, str] | None:
    """How deep a drill, reamer or tap goes, and below which face."""
    deep = target.step.length_mm
    face = _open_face(target)
    if target.lengths:
        thread = target.zone
        ends = {thread.near, thread.far} if thread is not None else set()
        found = next((one for one in target.lengths if {one.face, one.from_face} & ends), target.lengths[0])
        return found.size.middle, face
    if target.main is not None and face in target.z_of:
        z = target.z_of[face]
        before = min(abs(target.main.near_mm - z), abs(target.main.far_mm - z))
        return before + (deep if deep is not None else target.main.length_mm), face
    return None if deep is None else (deep, face)


def _open_face(target: Target) -> str:
    """The end face that a tool goes in at, else the one touched off on."""
    touched = _touched(target)
    return touched if target.part is None else open_face(target.part, target.setup, target.z_of) or touched


def _along(target: Target) -> tuple[float, str] | None:
    """How far from which face the tool stops: the drawing's own length where its start can be touched here."""
    part, z_of = target.part, target.z_of
    if part is None:
        return None
    touched = _touched(target)
    made = target.face or _stop_face(target, touched)
    found = _told(target, made, touched)
    if found is not None:
        return found
    if target.face and target.lengths and touched not in z_of:
        return None
    # The front of a head on a bought shank is faced last: what is turned before it is set from the socket.
    at_socket = target.setup.touches_off == SOCKET_END and target.main is not None and not target.main.inside
    shoulder = _turned_to_a_shoulder(target, touched)
    start = touched if target.face or at_socket or shoulder else _open_face(target)
    if start not in z_of or made not in z_of:
        return None
    return abs(z_of[made] - z_of[start]), _face_name(target, start)


def _turned_to_a_shoulder(target: Target, touched: str) -> bool:
    """True where the face touched off on is a shoulder between the centres, made before: all is set from it.

    One touch serves the whole set-up; a second one, on the end beside the centre, would only add its doubt.
    Source: common practice, no source.
    """
    part, z_of, main = target.part, target.z_of, target.main
    if part is None or main is None or main.inside or touched not in z_of or target.setup.located != "centres":
        return False
    ends = (min(z_of.values()), max(z_of.values()))
    is_end = any(abs(z_of[touched] - z) < 1e-6 for z in ends)
    made = f"{part.name}/{touched}" not in target.setup.finishes
    return not is_end and made and not why_hidden(part, target.setup, touched, z_of)


def _face_name(target: Target, face: str) -> str:
    """A face in words, the gauge plane of a cone in its socket by what is there to touch."""
    return SOCKET_END if target.setup.touches_off == SOCKET_END and face == _touched(target) else _plain(face)


def _told(target: Target, made: str, touched: str) -> tuple[float, str] | None:
    """The drawing's own length to the face that is made, where the tool can be touched on its other face."""
    part, z_of = target.part, target.z_of
    if part is None or made not in z_of:
        return None
    from_z, cut = z_of.get(_open_face(target)), cut_here(part, target.setup)
    for wanted in (True, False):
        for length in (one for one in target.lengths if made in (one.face, one.from_face)):
            start = length.from_face if made == length.face else length.face
            if wanted:
                usable = start == touched
            else:
                before = target.face or (from_z is not None and abs(z_of[start] - from_z) < abs(z_of[made] - from_z))
                usable = bool(before) and start in cut and _is_step(part, start, z_of)
            at_socket = start == touched and target.setup.touches_off == SOCKET_END
            if usable and (at_socket or not why_hidden(part, target.setup, start, z_of)):
                return length.size.middle, _face_name(target, start)
    return None


def _is_step(part: Part, face: str, z_of: Mapping[str, float]) -> bool:
    """Whether a tool can be touched on a face: an end of the part, or a step of a millimetre on the diameter."""
    for side in ("outside", "inside"):
        here = [one for one in part.surfaces if one.side == side and face in (one.near, one.far)]
        found = [diameter_at(part, one, z_of[face], z_of) for one in here]
        if found and (len(found) == 1 or max(found) - min(found) >= 1.0):
            return True
    return False


def _stop_face(target: Target, touched: str) -> str:
    """The face at which the tool stops: the floor of a bore, the end of an outside surface away from its way in."""
    main, zone, z_of = target.main, target.zone, target.z_of
    if main is None or not main.surface.near:
        return ""
    near, far = (zone.near, zone.far) if zone is not None else _bounds(target)
    if main.inside and not main.surface.side.endswith("groove"):
        _, inwards = mouth_of(target)
        return far if inwards > 0 else near
    start = z_of.get(_open_face(target), z_of.get(touched))
    if start is None:
        return ""
    return max((near, far), key=lambda face: abs(z_of[face] - start))


def _bounds(target: Target) -> tuple[str, str]:
    """The faces between which a surface is cut; a slender cone is roughed over the relief beside it as well."""
    main = target.main
    assert main is not None
    own = (main.surface.near, main.surface.far)
    if target.step.work != "rough" or not is_slender(main.surface):
        return own
    found = [
        next((face for face, z in target.z_of.items() if abs(z - at) < 1e-6), name)
        for name, at in zip(own, (main.near_mm, main.far_mm), strict=True)
    ]
    return found[0], found[1]


def _taper_stop(target: Target, workshop: Workshop, figures: Figures) -> Iterator[str]:
    """How far the cross slide goes in for what the taper still stands out of its socket."""
    main = target.main
    if main is None or not main.surface.half_angle_deg:
        return
    ratio = taper_of_half_angle(abs(main.surface.half_angle_deg))
    travel = float(INCH_MM) / 16 if figures.unit == "in" else 1.0
    exact = figures.length(travel * ratio, 3)
    step = figures.length(2 * workshop.cross_dial.division_mm / ratio, 2)
    yield (
        f"by the stand-off in the socket: every {figures.length(travel, 3)} that it stands out too far is {exact} on "
        f"the diameter; one division of the cross slide takes it {step} further in"
    )
