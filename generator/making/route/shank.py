"""Set-ups of a part with a tool taper on its outside: shank first, then whatever must run true to it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.description import Part, Surface
from generator.making.route.blank import spare_mm, stub_mm
from generator.making.route.bores import bored, roughed
from generator.making.route.bought import bought
from generator.making.route.by_hand import band_step, centred_by_hand, over_all, work_end_centred
from generator.making.route.chuck import MOST_OUT, end_hole_text, in_chuck
from generator.making.route.flats import flat_cut
from generator.making.route.heat import hardening_of
from generator.making.route.holes import drilled, from_the_front, leaves_flat, starter, the_rest
from generator.making.route.ledger import Ledger, Workpiece
from generator.making.route.neck import neck_of, roughed_point, sawn_off
from generator.making.route.shank_back import at_back, back_and_shank, roughed_together
from generator.making.route.shank_point import point_true_to_shank
from generator.making.route.socket import sleeve_words
from generator.making.route.tapers import TAILSTOCK_BACK, taper_words
from generator.making.route.words import CARRIER_CAUTION, HOLES, POINT_MM, ROUGH_MM, plain, the
from generator.making.setups import Step
from generator.making.stock import as_drawn, sawn_over_mm
from generator.making.touch import is_step

__all__ = ["is_shank", "shank_part"]

_NARROW_MM = 3.0
"""Reliefs up to this width are plunged with a grooving tool. Shop choice."""
_SEAT_MM = 0.02
"""What a taper may be seen to sit out where no run-out is asked. Common practice, no source."""
_ONLY_WAY = (
    "not out of the dog before the taper bears: to try it in the quill, off the centres dog and all, and back with its "
    "tail in the same slot of the driver"
)


def is_shank(part: Part) -> bool:
    """True for a part that goes into a socket by a taper of its own.

    Source: the description.
    """
    return any(one.role == "taper" and one.side == "outside" for one in part.surfaces)


class Shank:
    """A shank part on its way through the shop."""

    def __init__(self, ledger: Ledger, part: Part) -> None:
        self.ledger, self.part, self.shop = ledger, part, ledger.workshop
        self.piece: Workpiece = ledger.piece(part)
        self.taper = next(one for one in part.surfaces if one.role == "taper" and one.side == "outside")
        z_of = self.piece.z_of
        self.end, self.front = self.piece.end_face(self.piece.near_mm), self.piece.end_face(self.piece.far_mm)
        beyond = z_of[self.taper.far] - 1e-6
        outside = [one for one in part.surfaces if one.side == "outside" and one is not self.taper]
        self.head = [one for one in outside if z_of[one.near] > beyond and one.role != "relief"]
        self.shank = [one for one in outside if one not in self.head]
        inside = [one for one in part.surfaces if one.side.startswith("inside")]
        self.tail = [
            one for one in inside if one.role in {"", "drill point", "thread"} and z_of[one.near] < beyond
        ]
        self.pockets = [one for one in inside if one not in self.tail]
        self.point = [one for one in self.head if one.role == "point"]
        self.back = min((one.near for one in self.head), key=lambda face: z_of[face])
        way = hardening_of(part.material) if self.point else None
        # A tailstock set over needs both centre holes: where a torch hardens the point alone, the taper comes first.
        self.early = way is None or (self.shop.taper_method == "set-over" and not way.is_case)
        self.neck = neck_of(self.piece, self.point[0], hard=way is not None) if self.point else None
        limits = [one.limit_mm for one in part.relations if one.datum == self.taper.name]
        self.seat_mm = min(limits, default=_SEAT_MM)
        self.drawn = as_drawn(part, self.piece.bar_mm)
        self.stub_mm = stub_mm(self.piece.bar_mm)
        self.spare_mm = spare_mm(self.taper.half_angle_deg)
        self.faced_mm = self.piece.length_mm + self.stub_mm + self.spare_mm

    # --- from the bar ---

    def ends(self) -> None:
        """Both ends faced and centred, the shank end drilled and tapped while the bar is held."""
        grip, out = in_chuck(self.piece.bar_mm, self.faced_mm, self.shop.spindle_bore_mm)
        if out > MOST_OUT * self.piece.bar_mm:
            centred_by_hand(
                self.ledger, self.part, "the shank end", self.piece.bar_mm, self._small_mm(), self.stub_mm,
                self.faced_mm,
            )  # fmt: skip
            self._shank_end(grip, out, banded=True)
            return
        work_end_centred(self.ledger, self.part, self.piece.bar_mm, grip, out, self.stub_mm)
        self._shank_end(grip, out, banded=False)

    def _shank_end(self, grip: float, out: float, *, banded: bool) -> None:
        """The shank end faced and centred, its holes drilled; in the steady where there are any, or it is long."""
        steadied = banded or bool(self.tail)
        steps = [Step("set the steady on the band, oil it", work="hold")] if banded else []
        steps += [
            self.piece.cut("face", "face the shank end" if banded else "turn round; face the shank end",
                           faces=[self.end], also=f"{self.faced_mm:.1f} mm {over_all(banded=banded)}"),
            Step("centre it", end_hole_text(self.part, self.end), "centre drill", (), "centre"),
        ]  # fmt: skip
        if self.tail:
            steps += self._tail_steps(banded=banded)
        self.ledger.add(
            self.part, "shank end" + (", drilled" if self.tail else ""),
            "three-jaw on the bar" + (", steady at the shank end" if steadied else ""), "bar", "bar",
            f"{self.part.name}/{self.end}", [self.end, *(one.name for one in self.tail), *self.tail_zones()], steps,
            grips="bar", grip_mm=grip, out_mm=out, support="steady" if steadied else "",
            leaves_mm=self.spare_mm, leaves_why="spare for another try at the taper",
            indicate="the bar at the shank end, 0.1 mm or less; more only makes the centre hole lean",
            caution="Clear swarf often: a long drill packs and snatches." if self.tail else "",
        )  # fmt: skip

    def _small_mm(self) -> float:
        return min(one.diameter.nominal_mm for one in (self.taper, *self.shank))

    def tail_zones(self) -> list[str]:
        names = {one.name for one in self.tail}
        return [zone.name for zone in self.part.zones if zone.surface in names]

    def _tail_steps(self, *, banded: bool) -> Iterator[Step]:
        """A band, the steady on it, the holes from this end, the mouth that the centre finds again."""
        if not banded:
            yield band_step("bring up the centre, turn a band for the steady, just clean", self.piece.bar_mm)
            yield Step("set the steady on the band, oil it, take the centre away", work="hold")
        for surface in sorted(self.tail, key=lambda one: (-self.piece.z_of[one.far], one.role == "drill point")):
            if surface.role == "drill point":
                self.piece.faces |= {surface.near, surface.far}
                continue
            reach = self.piece.z_of[surface.far] - self.piece.z_of[self.end]
            yield from drilled(self.piece, surface, reach, self.shop, both_ends=bool(self.pockets))
        for zone in self.part.zones:
            if zone.name in self.tail_zones() and zone.form == "thread":
                yield self.piece.cut("tap", f"tap {plain(zone.name)}", zones=[zone], tool="tap, started true")
        mouth = self.piece.wishes.mouth_mm
        yield Step(
            "countersink the mouth 60 degrees: the centre runs in it from now on",
            "" if mouth is None else f"dia {mouth:g} mm", "", (), "centre", f"{self.part.name}/{self.end}", mouth,
        )  # fmt: skip

    # --- between centres ---

    def between_centres(self) -> None:
        """Head and shank at one setting, the taper last, tried in the quill."""
        steps = [*self._head_steps(), *back_and_shank(self), *self._point_steps()]
        self.ledger.add(
            self.part, "outside and taper at one setting", "between centres, carrier on the stub", "centres",
            "centre holes", f"{self.part.name}/{self.end}", [*self._head_names(), *self._shank_names(), self.back],
            steps, grips="bar", grip_mm=self.stub_mm, out_mm=round(self.faced_mm - self.stub_mm, 1),
            support="centre", indicate=HOLES, before=_ONLY_WAY, no_return=self._last_cut(), caution=CARRIER_CAUTION,
        )  # fmt: skip

    def _last_cut(self) -> str:
        """What is left to do when the taper comes out too small, while there is a stub."""
        return (
            f"the last cut of the taper: too small, and {self.spare_mm:g} mm of spare are left for one more try; face "
            "the shank end back by what the gauge plane is out, everything moves that much towards the front"
        )

    def head_between_centres(self) -> None:
        """The head finished and the shank roughed, where the fire comes before the taper."""
        self.ledger.add(
            self.part, "head finished, shank roughed", "between centres, carrier on the stub", "centres",
            "centre holes", f"{self.part.name}/{self.end}",
            [one.name for one in self.head if one.name in self._head_names() and not at_back(self, one)],
            [*self._head_steps(), *self._point_steps()],
            grips="bar", grip_mm=self.stub_mm, out_mm=round(self.faced_mm - self.stub_mm, 1), support="centre",
            indicate=HOLES,
            caution=CARRIER_CAUTION,
        )  # fmt: skip

    def shank_after_the_fire(self) -> None:
        """The shank finished between its own hole and a hollow centre on the roughed point."""
        grip = self.grip().name
        hollow = Step(
            "shank hole lapped clean; the roughed point in a hollow centre, 60 degrees, bored true in the headstock",
            work="hold",
        )
        by_set_over = self.shop.taper_method == "set-over"
        # The settings page reckons this taper without its stub.
        set_over = "The stub is gone: the set-over is that of the piece in its hollow centre." if by_set_over else ""
        self.ledger.add(
            self.part, "shank and taper at one setting",
            f"between centres, carrier on the {plain(grip)} over copper, the point in a hollow centre", "centres",
            "centre holes", f"{self.part.name}/{self.end}",
            [*self._shank_names(), self.back, *(one.name for one in self.head if at_back(self, one))],
            [hollow, *back_and_shank(self)],
            grips=f"{self.part.name}/{grip}", out_mm=self.piece.beyond_mm(self.grip(), self.end), support="centre",
            indicate="the head, once round before the first cut: 0.3 mm or less, or the fire has bent it and the shank "
            "will not clean up; it matters for nothing else",
            before=_ONLY_WAY, no_return="the last cut of the taper: the spare went with the stub, there is no second "
            "try after this one", caution=" ".join(one for one in (CARRIER_CAUTION, set_over) if one),
        )  # fmt: skip

    def _head_names(self) -> list[str]:
        return [*(one.name for one in self.head if one not in self.point and not self.at_front(one))]

    def _shank_names(self) -> list[str]:
        return [*(one.name for one in self.shank), self.taper.name]

    def at_front(self, one: Surface) -> bool:
        return one.role == "chamfer" and self.front in (one.near, one.far)

    def _head_steps(self) -> list[Step]:
        cylinders = [one for one in self.head if one.role not in {"chamfer", "point"} and one is not self.drawn]
        chamfers = [one for one in self.head if one.role == "chamfer" and not self.at_front(one)]
        drawn = [] if self.drawn is None else [
            self.piece.cut("measure", f"{the(self.drawn.name)} stays as drawn: measure the bar, look for scores",
                           self.drawn)]  # fmt: skip
        return [
            *drawn,
            *(self.piece.rough(f"rough {the(one.name)}{also}, {ROUGH_MM:g} mm over", ROUGH_MM, one)
              for one, also in roughed_together(self, cylinders)),
            *(self.piece.cut("turn", f"turn {the(one.name)}", one) for one in cylinders),
            *(self.piece.cut("turn", plain(one.name), one) for one in chamfers if not at_back(self, one)),
        ]  # fmt: skip

    def _point_steps(self) -> Iterator[Step]:
        if self.neck is not None:
            yield from roughed_point(self.piece, self.point[0], self.neck, POINT_MM)

    def shank_steps(self, done: Sequence[Surface]) -> Iterator[Step]:
        yield from (
            self.turned(one) for one in sorted(self.shank, key=lambda one: one.role == "chamfer") if one not in done
        )
        yield from self._taper_steps()

    def turned(self, one: Surface) -> Step:
        z_of = self.piece.z_of
        narrow = one.role == "relief" and z_of[one.far] - z_of[one.near] <= _NARROW_MM
        verb = "plunge" if narrow else "turn"
        return self.piece.cut("groove" if narrow else "turn", f"{verb} {the(one.name)}", one)

    def _taper_steps(self) -> Iterator[Step]:
        z_of = self.piece.z_of
        words = taper_words(self.shop, z_of[self.taper.far] - z_of[self.taper.near], self.taper.half_angle_deg)
        yield self.piece.cut(
            "taper", f"{words}; try it in the quill with blue, correct, finish", self.taper, tool="keen tool on centre"
        )
        if self.shop.taper_method == "set-over":
            yield Step(TAILSTOCK_BACK, "0.01 mm in 200 mm", "indicator", (), "indicate")
        yield Step("break all edges, wipe, try once more in the quill: no rock", work="deburr")

    # --- off the stub, and true to the shank ---

    def stub_off(self) -> None:
        """The stub sawn off: the way back between centres ends."""
        z_of = self.piece.z_of
        ends = [z_of[face] for one in self.head for face in (one.near, one.far)]
        datum = self._bench_datum()
        sawn_mm = max((abs(z - z_of[datum]) for z in ends), default=0.0) + sawn_over_mm(self.piece.bar_mm)
        self.ledger.add(
            self.part, "stub sawn off", f"vice, soft jaws on the {plain(self.grip().name)}", "bench",
            f"{self.part.name}/{self.taper.name}", f"{self.part.name}/{datum}", [],
            sawn_off(
                self.neck, self.piece.bar_mm, f"{sawn_mm:g} mm from the {plain(datum)}",
                hard=self.neck is not None and hardening_of(self.part.material) is not None,
            ),
            grips=f"{self.part.name}/{self.grip().name}",
            before="not before all that was turned between centres is measured",
            no_return="the centre hole at the work end goes with the stub: here the way back between centres ends",
        )  # fmt: skip

    def _bench_datum(self) -> str:
        """The back, where it is a step to measure from; else the shank end."""
        return self.back if is_step(self.part, self.back, self.piece.z_of) else self.end

    def grip(self) -> Surface:
        return max((one for one in self.head if not one.at), key=lambda one: one.diameter.nominal_mm)

    def on_the_taper(
        self, first: Sequence[Step] = (), finished: Sequence[str] = (), through: Sequence[Surface] = (),
        touches: str = "",
    ) -> None:
        """Front, recess and pockets at one setting, held by the finished taper; `first` is cut there before them.

        The back is behind the work there: lengths are set from the front.

        `through` are bores through the shank that are drilled from here.
        """
        front = [one for one in self.head if self.at_front(one)]
        steps = [*self.seated(), *first, self.piece.cut("face", "face the front", faces=[self.front])]
        steps += [self.piece.cut("turn", f"turn {the(one.name)}", one) for one in front]
        alone = None if self._drawbar() else self.taper
        tail = () if through else self.tail
        begun = tuple(starter(self.piece, self.pockets, tail, self.shop, self.front, alone))
        rest, waits = the_rest(self.piece, self.pockets, tail, self.shop, self.front, begun)
        steps += (*begun, *(() if waits else rest))
        for one in through:
            steps += from_the_front(self.piece, one, self.shop)
        steps += roughed(self.ledger.tool, self.piece, self.pockets, rest if waits else ())
        steps += bored(self.ledger.tool, self.piece, self.pockets, flat=leaves_flat(begun))
        names = [*finished, self.front, *(one.name for one in (*front, *self.pockets))]
        pocket_names = {one.name for one in self.pockets}
        names += [zone.name for zone in self.part.zones if zone.surface in pocket_names]
        title = "head, front and pockets at one setting" if first else "front and pockets at one setting"
        self.hold_by_taper(title, names, steps, touches or f"{self.part.name}/{self.front}")

    def bore_mm(self, surface: Surface) -> float:
        """Length of a hole."""
        return self.piece.z_of[surface.far] - self.piece.z_of[surface.near]

    def hold_by_taper(
        self, title: str, finishes: Sequence[str], steps: Sequence[Step], touches: str = ""
    ) -> None:
        out = self.piece.z_of[self.front] - self.piece.z_of[self.taper.at]
        drawn = "drawn in by its drawbar" if self._drawbar() else "seated by a blow, nothing draws it in"
        self.ledger.add(
            self.part, title, f"finished shank {sleeve_words(self.shop, self.taper)}, {drawn}", "finished taper",
            f"{self.part.name}/{self.taper.name}", touches, finishes, steps,
            grips=f"{self.part.name}/{self.taper.name}", out_mm=round(out, 1),
            indicate=f"{self._clocked()}, {self.seat_mm:g} mm or less: it matters, what it shows goes into all that is "
            "cut here; if more, out, wipe, seat it again a quarter turn round",
            before="not out of the taper before every bore is measured" if self.pockets else "",
            no_return="the last cut of each pocket: what is too large goes to the page of rescues" if self.pockets
            else "",
            caution="Wipe sleeve and socket; a taper that turns in its socket scores both.",
        )  # fmt: skip

    def _drawbar(self) -> bool:
        return bool(self.tail_zones())

    def _clocked(self) -> str:
        """Where the indicator shows how the taper sits: on what was cut at one setting with it, else on the cone."""
        if self.early and self.shop.taper_method != "bought shank" and self.drawn is None:
            return f"{the(self.grip().name)} by the back"
        return "the cone itself where it stands out of the socket"

    def seated(self) -> Iterator[Step]:
        if self._drawbar():
            yield Step("draw the shank in by a drawbar through the spindle, tight", work="hold")
        else:
            yield Step(
                "seat it with one blow of a soft hammer, draw a pencil line across shank and sleeve; light cuts, the "
                "line looked at after every pass", work="hold",
            )  # fmt: skip
        yield Step(f"indicate {self._clocked()}", f"{self.seat_mm:g} mm or less",
                   "dial test indicator", (), "indicate")  # fmt: skip

    def bench(self, title: str, finishes: Sequence[str], steps: Sequence[Step], faces: Sequence[str] = ()) -> None:
        """A set-up in the vice; its lengths are set from the face that the drawing gives them from."""
        grip = self.grip()
        ends = {face for one in self.part.surfaces for face in (one.near, one.far)}
        new = [one for one in self.part.lengths if one.face in faces and one.face not in ends]
        touch = new[0].from_face if new and new[0].from_face != self.back else self._bench_datum()
        self.ledger.add(
            self.part, title, f"vice, soft jaws on the {plain(grip.name)}", "bench", f"{self.part.name}/{grip.name}",
            f"{self.part.name}/{touch}", finishes, steps, grips=f"{self.part.name}/{grip.name}",
        )  # fmt: skip

    def milled(self) -> None:
        """Flats and tang, milled while the part is solid and, where it can be, on its stub."""
        for one in self.part.cross:
            if one.kind == "half":
                continue
            way = flat_cut(self.shop, "the tang" if one.kind == "tang" else "two flats")
            step = (
                self.piece.cut("drill", f"drill {the(one.name)}", cross=[one]) if one.kind == "hole"
                else self.piece.cut(way.work, way.text, cross=[one], tool=way.tool)
            )
            self.bench(plain(one.name), [one.name], [step], (one.near, one.far))


def shank_part(ledger: Ledger, part: Part) -> None:
    """All set-ups of a shank part up to its last milled feature.

    Source: common practice, no source.
    """
    work = Shank(ledger, part)
    if ledger.workshop.taper_method == "bought shank":
        bought(work)
    else:
        work.ends()
        if work.early and work.neck is None:
            work.between_centres()
            work.milled()
            work.stub_off()
        else:
            # A stub on a thin neck goes before anything is milled.
            (work.between_centres if work.early else work.head_between_centres)()
            work.stub_off()
            if work.early:
                work.milled()
    if work.point:
        point_true_to_shank(work)
    elif ledger.workshop.taper_method != "bought shank":
        work.on_the_taper()
    if not work.early or ledger.workshop.taper_method == "bought shank":
        work.milled()
