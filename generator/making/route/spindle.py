"""Set-ups of a part that carries bearings: between centres, hardened at its point, finished in its own bearings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress

from generator import tables
from generator.description import Cross, Part, Surface, Zone
from generator.errors import TableError
from generator.making.route.blank import stub_mm
from generator.making.route.chuck import hole_text, in_chuck
from generator.making.route.heat import hardening_of, steps_of
from generator.making.route.holes import drilled
from generator.making.route.ledger import Ledger, Workpiece
from generator.making.route.words import CARRIER_CAUTION, FIRE_CAUTION, plain, the
from generator.making.setups import Step

__all__ = ["Spindle", "is_spindle"]

_ROUGH_MM = 0.5
_POINT_MM = 0.6


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
        self.nose = [one for one in outside if z_of[one.near] > ahead + 1e-6]
        self.body = [one for one in outside if one not in self.nose]
        self.grooves = [one for one in part.surfaces if one.side == "outside groove"]
        collar = [one for one in self.nose if abs(z_of[one.near] - ahead) < 1e-6]
        # The piece that the front bearing stands against is finished with the seats; what is ahead of it carries.
        self.body += [one for one in outside if abs(z_of[one.near] - ahead) < 1e-6 and one not in self.body]
        self.nose = [one for one in self.nose if one not in self.body and one not in collar]
        self.stub_mm = stub_mm(self.piece.bar_mm)
        self.faced_mm = self.piece.length_mm + self.stub_mm

    def make(self) -> None:
        """All set-ups up to the point, which is finished when the tool is together."""
        self._ends()
        if self.way is None:
            self._between("all diameters at one setting", [*self._nose_steps(), *self._body_steps()],
                          [*self.nose, *self.body, *self.grooves], "carrier on the stub", "bar")  # fmt: skip
            self._stub_off()
            self._cross()
            return
        steps = [*self._nose_steps(), *self._roughed()]
        self._between("nose finished, the rest roughed", steps, self.nose, "carrier on the stub", "bar")
        self._stub_off()
        self._fire()
        hollow = Step(
            "rear hole lapped clean; the roughed point in a hollow centre, 60 degrees, bored true in the headstock",
            work="hold",
        )
        steps = [hollow, *self._body_steps()]
        named = f"carrier on the {plain(self._carried().name)} over copper, the point in a hollow centre"
        self._between("seats at one setting", steps, [*self.body, *self.grooves], named,
                      f"{self.part.name}/{self._carried().name}")  # fmt: skip
        self._cross()

    def _carried(self) -> Surface:
        return max(self.nose or self.body, key=lambda one: one.diameter.nominal_mm)

    def _ends(self) -> None:
        grip, out = in_chuck(self.piece.bar_mm, self.faced_mm, self.shop.spindle_bore_mm)
        self.ledger.add(
            self.part, "work end faced and centred", "three-jaw, the bar as sawn", "bar", "bar", "", [],
            [
                Step("face the work end until it is clean", work="face", diameter_mm=self.piece.bar_mm),
                Step("centre it: this hole goes with the stub", hole_text(self.piece.bar_mm), "centre drill", (),
                     "centre"),
            ],
            grips="bar", grip_mm=grip, out_mm=out, leaves_mm=self.stub_mm,
            leaves_why="stub ahead of the point for the carrier, sawn off later",
            indicate="not needed: this end is only a rest for the next set-ups",
        )  # fmt: skip
        steps = [self.piece.cut("face", "turn round; face the rear end", faces=[self.rear])]
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
        size = self._mouth(zones) if self.inside else hole_text(self._least_mm())
        steps.append(Step(hole, size, "centre drill", (), "centre", f"{self.part.name}/{self.rear}"))
        self.ledger.add(
            self.part, "rear end", "three-jaw on the bar", "bar", "bar", f"{self.part.name}/{self.rear}",
            [self.rear, *(one.name for one in self.inside), *(z.name for z in zones)], steps,
            grips="bar", grip_mm=grip, out_mm=out,
            indicate="the bar, 0.1 mm or less; more only makes the centre hole lean",
        )  # fmt: skip

    def _mouth(self, zones: Sequence[Zone]) -> str:
        """Countersink that leaves no thread for the centre to bruise."""
        hole = max(one.diameter.nominal_mm for one in self.inside)
        majors = [hole]
        for zone in zones:
            with suppress(TableError):
                majors.append(tables.thread(zone.text.partition("-")[0]).major_mm)
        return f"dia {max(majors) + 0.5:g} mm"

    def _least_mm(self) -> float:
        return min(one.diameter.nominal_mm for one in self.body if one.role != "chamfer")

    def _nose_steps(self) -> Iterator[Step]:
        for one in self.nose:
            if one.role != "chamfer":
                yield self.piece.rough(f"rough {the(one.name)}, {_ROUGH_MM:g} mm over", _ROUGH_MM, one)
        for one in self.nose:
            yield self.piece.cut("turn", f"turn {the(one.name)}", one)
        for one in self.point:
            yield self.piece.rough(f"rough the point, {_POINT_MM:g} mm over", _POINT_MM, one)

    def _roughed(self) -> Iterator[Step]:
        for one in self.body:
            if one.role != "chamfer":
                yield self.piece.rough(
                    f"rough {the(one.name)}, {_ROUGH_MM:g} mm over, faces 0.2 mm over", _ROUGH_MM, one
                )

    def _body_steps(self) -> Iterator[Step]:
        if self.way is None:
            yield from self._roughed()
        z_of = self.piece.z_of
        for one in sorted(self.body, key=lambda one: (one.role == "chamfer", -z_of[one.far])):
            fit = ", fit to its bearing as measured; last two cuts alike" if one.role == "seat" else ""
            size = f"dia {one.diameter.nominal_mm:g} mm, for the thread" if one.diameter.derived else ""
            size = "" if one.role == "chamfer" else size
            tool = "micrometer" if one.role == "seat" else ""
            yield self.piece.cut("turn", f"turn {the(one.name)}{fit}", one, tool=tool, also=size)
        for one in self.grooves:
            yield self.piece.cut("groove", f"cut {the(one.name)}", one)
        names = {one.name for one in self.body}
        for zone in self.part.zones:
            if zone.surface in names and zone.form == "thread":
                yield self.piece.cut("thread", f"screw-cut {the(zone.name)}, try its nut", zones=[zone])
        yield Step("break all edges lightly; try each bearing on its seat before the carrier comes off", work="deburr")

    def _between(
        self, title: str, steps: Sequence[Step], surfaces: Sequence[Surface], carrier: str, grips: str
    ) -> None:
        names = {one.name for one in surfaces}
        zones = [z.name for z in self.part.zones if z.surface in names and z.form == "thread"]
        shoulders = [] if not set(self.body) & set(surfaces) else self._shoulders()
        self.ledger.add(
            self.part, title, f"between centres, {carrier}", "centres", "centre holes",
            f"{self.part.name}/{self.rear}", [*(one.name for one in surfaces), *zones, *shoulders], steps,
            grips=grips, grip_mm=self.stub_mm if grips == "bar" else None, out_mm=self.faced_mm, support="centre",
            indicate="nothing to clock: both holes are the axis; wipe them and the centres",
            before="not off the centres before both seats are tried with their bearings" if shoulders else "",
            caution=CARRIER_CAUTION,
        )  # fmt: skip

    def _shoulders(self) -> list[str]:
        """Plain faces between the surfaces of the body that bearings stand against."""
        faces = {f for one in self.body for f in (one.near, one.far)}
        seats = {f for one in self.body if one.role == "seat" for f in (one.near, one.far)}
        return [f for f in self.piece.z_of if f in faces & seats and f == self.part.origin_face]

    def _stub_off(self) -> None:
        name = self._carried().name
        self.ledger.add(
            self.part, "stub sawn off", f"vice, soft jaws on the {plain(name)}", "bench", f"{self.part.name}/{name}",
            "", [], [Step("saw the stub off, leave the point 0.5 mm long", work="saw", diameter_mm=self.piece.bar_mm)],
            grips=f"{self.part.name}/{name}",
            no_return="the centre hole at the work end goes with the stub" + (
                ": the point in a hollow centre takes its place" if self.way is not None
                else ": all that runs true to it is finished and measured by now"
            ),
        )  # fmt: skip

    def _cross(self) -> None:
        for one in self.part.cross:
            flats = "across" in one.sizes
            step = self.piece.cut(
                "mill" if flats else "drill", "mill two flats" if flats else "drill the cross hole", cross=[one],
                tool="end mill in a collet, never in a drill chuck" if flats else "",
            )
            name = self._carried().name
            self.ledger.add(
                self.part, "flats to hold it by" if flats else "hole to hold it by",
                f"vice, soft jaws on the {plain(name)}", "bench", f"{self.part.name}/{name}", self._touch(one),
                [one.name], [step],
                grips=f"{self.part.name}/{name}",
            )  # fmt: skip

    def _touch(self, one: Cross) -> str:
        """The face that the drawing gives the place of a cross feature from."""
        ends = {face for surface in self.part.surfaces for face in (surface.near, surface.far)}
        found = [n for n in self.part.lengths if n.face in (one.near, one.far) and n.from_face in ends]
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

    def point_in_its_bearings(self) -> None:
        """The point finished last, the spindle turning in its own bearings."""
        if not self.point:
            return
        hard = self.way is not None
        verb = "grind" if hard else "turn"
        steps = [Step(words, work="press" if "into" in words else "fit") for words in self.piece.wishes.joined]
        steps += [self.piece.cut(verb, f"{verb} the point", one) for one in self.point]  # type: ignore[arg-type]
        steps.append(Step("indicate the point", "0.005 mm or less", "dial test indicator", (), "indicate"))
        seat = max((one for one in self.part.surfaces if one.role == "seat"), key=lambda one: self.piece.z_of[one.far])
        self.ledger.add(
            self.part, "assembled, point finished in its own bearings",
            "shank in the headstock spindle, which stands still; the nose turned by a cord or belt", "own bearings",
            f"{self.part.name}/{seat.name}", f"{self.part.name}/{self.part.origin_face}",
            [*(one.name for one in self.point), self.front], steps,
            indicate="the point's flank, 0.005 mm or less: this figure is the tool's run-out",
            caution="Headstock locked, motor isolated. Cover the bearings from grit when grinding; glasses on."
            if hard else "Headstock locked, motor isolated. Glasses on.",
        )  # fmt: skip

