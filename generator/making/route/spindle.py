"""Set-ups of a part that carries bearings: between centres, hardened at its point, finished in its own bearings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.description import Cross, Part, Surface
from generator.fittings.centre_hole import tapped_mouth_mm
from generator.making.route.blank import stub_mm
from generator.making.route.by_hand import centred_by_hand, over_all, work_end_centred
from generator.making.route.chuck import MOST_OUT, hole_text, in_chuck
from generator.making.route.flats import flat_cut
from generator.making.route.heat import hardening_of, steps_of
from generator.making.route.holes import drilled
from generator.making.route.ledger import Ledger, Workpiece
from generator.making.route.neck import neck_of, roughed_point, sawn_off
from generator.making.route.words import CARRIER_CAUTION, FIRE_CAUTION, HOLES, POINT_MM, ROUGH_MM, plain, the
from generator.making.setups import Step
from generator.making.thread_blank import blank_words

__all__ = ["Spindle", "is_spindle"]

_CARRIER_MM = 8.0
"""Least length that a carrier finds room on. Common practice, no source."""


_POINT_RUN_OUT_MM = 0.005
"""What a point may run out where the drawing does not say. Shop choice."""
_TRIED = "not off the centres before every seat is measured against its bearing"


def is_spindle(part: Part) -> bool:
    """True for a part with seats for bearings on its outside and no taper of its own.

    Source: the description.
    """
    roles = {one.role for one in part.surfaces if one.side == "outside"}
    return "seat" in roles and "taper" not in roles


class Spindle:
    """A spindle on its way through the shop."""

    def __init__(self, ledger: Ledger, part: Part) -> None:
        self.ledger, self.part, self.shop = ledger, part, ledger.workshop
        self.piece: Workpiece = ledger.piece(part)
        self.rear, self.front = self.piece.end_face(self.piece.near_mm), self.piece.end_face(self.piece.far_mm)
        self.inside = [one for one in part.surfaces if one.side.startswith("inside")]
        self.point = [one for one in part.surfaces if one.role == "point"]
        self.way = hardening_of(part.material) if self.point else None
        outside = [one for one in part.surfaces if one.side == "outside" and one not in self.point]
        z_of, seats = self.piece.z_of, [one for one in outside if one.role == "seat"]
        ahead = max(z_of[one.far] for one in seats)
        # What the front bearing stands against, what is ahead of it, and what carries bearings or holds them.
        self.collar = [one for one in outside if abs(z_of[one.near] - ahead) < 1e-6]
        self.nose = [one for one in outside if z_of[one.near] > ahead + 1e-6]
        self.body = [one for one in outside if one not in self.nose and one not in self.collar]
        self.grooves = [one for one in part.surfaces if one.side == "outside groove"]
        self.neck = neck_of(self.piece, self.point[0], hard=self.way is not None) if self.point else None
        self.stub_mm = stub_mm(self.piece.bar_mm)
        self.faced_mm = self.piece.length_mm + self.stub_mm

    def make(self) -> None:
        """All set-ups up to the point, which is finished when the tool is together."""
        self._ends()
        ahead = [*self.nose, *self.collar]
        if self.way is None:
            steps = [*self._nose_steps(), *self._roughed(), *self._seat_steps(), *self._point_steps()]
            self._between("all diameters at one setting", steps, [*ahead, *self.body, *self.grooves], self._shoulders(),
                          self.rear)  # fmt: skip
            self._stub_off()
            self._cross()
            return
        steps = [*self._nose_steps(), *self._roughed(), *self._shoulder_steps(), *self._point_steps()]
        self._between("lengths and nose to size, seats roughed", steps, ahead, self._shoulders(), self.rear)
        self._stub_off()
        self._cross()
        self._fire()
        self._seats_after_the_fire()

    def _carried(self) -> Surface:
        return max(self.nose or self.collar or self.body, key=lambda one: one.diameter.nominal_mm)

    def _driven(self) -> str:
        """What turns the spindle when its stub is gone: by flats or hole, else by a carrier on what is long enough."""
        kinds = {"flats" if "across" in one.sizes else "hole" for one in self.part.cross}
        if "flats" in kinds:
            return "driven by a fork on its flats"
        if "hole" in kinds:
            return "driven by a pin through its cross hole"
        z_of, held = self.piece.z_of, self._carried()
        short = z_of[held.far] - z_of[held.near] < _CARRIER_MM
        return f"carrier on {the(held.name)} over copper" + (", a narrow one" if short else "")

    def _ends(self) -> None:
        grip, out = in_chuck(self.piece.bar_mm, self.faced_mm, self.shop.spindle_bore_mm)
        if out > MOST_OUT * self.piece.bar_mm:
            centred_by_hand(
                self.ledger, self.part, "the rear end", self.piece.bar_mm, self._least_mm(), self.stub_mm, self.faced_mm
            )
            self._rear_end(grip, out, banded=True)
            return
        work_end_centred(self.ledger, self.part, self.piece.bar_mm, grip, out, self.stub_mm)
        self._rear_end(grip, out, banded=False)

    def _rear_end(self, grip: float, out: float, *, banded: bool) -> None:
        """The rear end faced, drilled, tapped and centred; in the steady where the bar sticks out far."""
        steps = [Step("set the steady on the band, oil it", work="hold")] if banded else []
        text = "face the rear end" if banded else "turn round; face the rear end"
        long = f"{self.faced_mm:.1f} mm {over_all(banded=banded)}"
        steps.append(self.piece.cut("face", text, faces=[self.rear], also=long))
        zones = [z for z in self.part.zones if z.surface in {one.name for one in self.inside}]
        for one in self.inside:
            if one.role == "drill point":
                self.piece.faces |= {one.near, one.far}
                continue
            deep = abs(self.piece.z_of[one.far] - self.piece.z_of[one.near])
            steps += drilled(self.piece, one, deep, self.shop, both_ends=False)
        steps += [self.piece.cut("tap", f"tap for the screw, {plain(z.text)}", zones=[z], tool="tap, started true")
                  for z in zones]  # fmt: skip
        hole = "countersink the mouth 60 degrees for the centre" if self.inside else "centre it"
        mouth = tapped_mouth_mm(self.part)
        size = hole_text(self._least_mm()) if mouth is None else f"dia {mouth:g} mm"
        steps.append(Step(hole, size, "centre drill", (), "centre", f"{self.part.name}/{self.rear}", mouth))
        self.ledger.add(
            self.part, "rear end", "three-jaw on the bar" + (", steady at the rear end" if banded else ""),
            "bar", "bar", f"{self.part.name}/{self.rear}",
            [self.rear, *(one.name for one in self.inside), *(z.name for z in zones)], steps,
            grips="bar", grip_mm=grip, out_mm=out, support="steady" if banded else "",
            indicate="the bar, 0.1 mm or less; more only makes the centre hole lean",
        )  # fmt: skip

    def _least_mm(self) -> float:
        return min(one.diameter.nominal_mm for one in self.body if one.role != "chamfer")

    def _nose_steps(self) -> Iterator[Step]:
        """All ahead of the seats: roughed, then to size; the collar first, so that nothing cuts it small."""
        ahead = [*self.collar, *self.nose]
        for one in ahead:
            if one.role != "chamfer":
                yield self.piece.rough(f"rough {the(one.name)}, {ROUGH_MM:g} mm over", ROUGH_MM, one)
        for one in ahead:
            yield self.piece.cut("turn", f"turn {the(one.name)}", one)

    def _point_steps(self) -> Iterator[Step]:
        if self.neck is not None:
            yield from roughed_point(self.piece, self.point[0], self.neck, POINT_MM)

    def _roughed(self) -> Iterator[Step]:
        for one in sorted(self.body, key=lambda one: -self.piece.z_of[one.far]):
            if one.role != "chamfer":
                yield self.piece.rough(f"rough {the(one.name)}, {ROUGH_MM:g} mm over", ROUGH_MM, one)

    def _shoulder_steps(self) -> Iterator[Step]:
        """Shoulders to their lengths while all is soft; the seats between them follow when the fire has bent it."""
        z_of, end = self.piece.z_of, self.piece.z_of[self.rear]
        for face in sorted(self._shoulders(), key=lambda face: abs(z_of[face] - end)):
            place = f"{abs(z_of[face] - end):.2f} mm from the {plain(self.rear)}"
            yield self.piece.cut("face", f"face {the(face)}, square", faces=[face], also=place)

    def _seat_steps(self) -> Iterator[Step]:
        z_of = self.piece.z_of
        clean = "; its shoulder just clean, no more" if self.way is not None else ""
        for one in sorted(self.body, key=lambda one: (one.role == "chamfer", -z_of[one.far])):
            fit = f", fit to its bearing as measured; last two cuts alike{clean}" if one.role == "seat" else ""
            size = blank_words(self.part, one)
            size = "" if one.role == "chamfer" else size
            tool = "micrometer" if one.role == "seat" else ""
            yield self.piece.cut("turn", f"turn {the(one.name)}{fit}", one, tool=tool, also=size)
        for one in self.grooves:
            yield self.piece.cut("groove", f"cut {the(one.name)}", one)
        names = {one.name for one in self.body}
        for zone in self.part.zones:
            if zone.surface in names and zone.form == "thread":
                yield self.piece.cut("thread", f"screw-cut {the(zone.name)}, try its nut", zones=[zone])
        yield Step("break all edges lightly; measure every seat once more", work="deburr")

    def _between(
        self, title: str, steps: Sequence[Step], surfaces: Sequence[Surface], faces: Sequence[str], touches: str
    ) -> None:
        names = {one.name for one in surfaces}
        zones = [z.name for z in self.part.zones if z.surface in names and z.form == "thread"]
        seats = any(one.role == "seat" for one in surfaces)
        self.ledger.add(
            self.part, title, "between centres, carrier on the stub", "centres",
            "centre holes", f"{self.part.name}/{touches}", [*(one.name for one in surfaces), *zones, *faces], steps,
            grips="bar", grip_mm=self.stub_mm, out_mm=round(self.faced_mm - self.stub_mm, 1), support="centre",
            indicate=HOLES,
            before=_TRIED if seats else "not off the centres before every length is measured", caution=CARRIER_CAUTION,
        )  # fmt: skip

    def _seats_after_the_fire(self) -> None:
        """Seats, threads and grooves between the rear hole and a hollow centre on the roughed point."""
        hollow = Step(
            "rear hole lapped clean; the roughed point in a hollow centre, 60 degrees, bored true in the headstock",
            work="hold",
        )
        surfaces = [*self.body, *self.grooves]
        names = {one.name for one in surfaces}
        zones = [z.name for z in self.part.zones if z.surface in names and z.form == "thread"]
        self.ledger.add(
            self.part, "seats at one setting", f"between centres, {self._driven()}, the point in a hollow centre",
            "centres", "centre holes", f"{self.part.name}/{self.part.origin_face}",
            [*(one.name for one in surfaces), *zones], [hollow, *self._seat_steps()],
            grips=f"{self.part.name}/{self._carried().name}",
            out_mm=self.piece.beyond_mm(self._carried(), self.rear), support="centre",
            indicate="a seat, once round before the first cut: 0.3 mm or less, or the fire has bent it and it will not "
            "clean up; it matters for nothing else", before=_TRIED, caution=CARRIER_CAUTION,
        )  # fmt: skip

    def _shoulders(self) -> list[str]:
        """Faces between the seats and what bounds them, but for the rear end."""
        faces = {f for one in self.body for f in (one.near, one.far)}
        chamfers = {f for one in self.body if one.role == "chamfer" for f in (one.near, one.far)}
        named = {length.face for length in self.part.lengths} | {self.part.origin_face}
        return [f for f in self.piece.z_of if f in (faces & named) - chamfers and f != self.rear]

    def _stub_off(self) -> None:
        name = self._carried().name
        self.ledger.add(
            self.part, "stub sawn off", f"vice, soft jaws on {the(name)}", "bench", f"{self.part.name}/{name}",
            "", [], sawn_off(self.neck, self.piece.bar_mm, hard=self.way is not None), grips=f"{self.part.name}/{name}",
            before="not before all that was turned between centres is measured",
            no_return="the centre hole at the work end goes with the stub" + (
                ": the point in a hollow centre takes its place" if self.way is not None
                else ": all that runs true to it is finished and measured by now"
            ),
        )  # fmt: skip

    def _cross(self) -> None:
        """Flats or a hole while all is soft, when the stub is gone; held by the longest seat."""
        z_of, seats = self.piece.z_of, [one for one in self.body if one.role == "seat"]
        seat = max(seats, key=lambda one: abs(z_of[one.far] - z_of[one.near]))
        rough = self.way is not None
        words = "vice, soft jaws on {} as roughed" if rough else "vee block, clamp over brass on {}"
        held = words.format(the(seat.name))
        for one in self.part.cross:
            flats = "across" in one.sizes
            way = flat_cut(self.ledger.workshop, "two flats")
            step = self.piece.cut(
                way.work if flats else "drill", way.text if flats else "drill the cross hole", cross=[one],
                tool=way.tool if flats else "",
            )
            self.ledger.add(
                self.part, "flats to hold it by" if flats else "hole to hold it by", held, "bench",
                f"{self.part.name}/{self._carried().name}", self._touch(one), [one.name], [step],
                grips=f"{self.part.name}/{seat.name}",
            )  # fmt: skip

    def _touch(self, one: Cross) -> str:
        """The face that the drawing gives the place of a cross feature from."""
        ends = {face for surface in self.part.surfaces for face in (surface.near, surface.far)}
        found = [n for n in self.part.lengths if n.face in (one.near, one.far, one.at) and n.from_face in ends]
        return f"{self.part.name}/{found[0].from_face}" if found else ""

    def _fire(self) -> None:
        if self.way is None:
            return
        soft = "nose, collar, seats, threads and the rear centre hole"
        self.ledger.add(
            self.part, "point hardened and tempered", "tongs, by the rear end", "bench",
            f"{self.part.name}/{self._carried().name}", "", [],
            steps_of(self.way, "the point end", soft, f"{self.part.name}/{self.point[0].name}"),
            caution=FIRE_CAUTION, no_return="what is hard can only be ground from here on",
        )  # fmt: skip

    def _measured_from(self) -> str:
        """The front of what carries the spindle: the shoulder is covered when the tool is together."""
        outer = next((part for part in self.ledger.tool.made if any(
            one.role == "taper" and one.side == "outside" for one in part.surfaces)), None)  # fmt: skip
        if outer is None:
            return ""
        whole = self.ledger.piece(outer)
        return f"{outer.name}/{whole.end_face(whole.far_mm)}"

    def _point_run_out(self) -> str:
        """What the drawing lets the point run out, in words."""
        points = {one.name for one in self.point}
        limits = [one.limit_mm for one in self.part.relations if one.surface in points and one.kind == "run-out"]
        return f"{min(limits, default=_POINT_RUN_OUT_MM):g} mm or less"

    def point_in_its_bearings(self) -> None:
        """The point finished last, the spindle turning in its own bearings."""
        if not self.point:
            return
        hard = self.way is not None
        verb = "grind" if hard else "turn"
        steps = [*self.piece.wishes.joined]
        steps += [self.piece.cut(verb, f"{verb} the point", one) for one in self.point]  # type: ignore[arg-type]
        allowed = self._point_run_out()
        steps.append(Step("indicate the point", allowed, "dial test indicator", (), "indicate"))
        seat = max((one for one in self.part.surfaces if one.role == "seat"), key=lambda one: self.piece.z_of[one.far])
        self.ledger.add(
            self.part, "assembled, point finished in its own bearings",
            "shank in the headstock spindle, which stands still; the nose turned by a cord or belt", "own bearings",
            f"{self.part.name}/{seat.name}", self._measured_from(),
            [*(one.name for one in self.point), self.front], steps,
            indicate=f"the point's flank, {allowed}: this figure is the tool's run-out",
            caution="Headstock locked, motor isolated. Cover the bearings from grit when grinding; glasses on."
            if hard else "Headstock locked, motor isolated. Glasses on.",
        )  # fmt: skip

