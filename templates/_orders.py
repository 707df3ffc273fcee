"""Set-ups that several kinds share: simple rings and washers, and helpers to write set-ups shortly."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from generator.description import Part, Size
from generator.making.setups import SetUp, Step, Way

__all__ = ["Sequencer", "addresses", "gauge_text", "limits_text"]


def limits_text(size: Size, sign: str = "") -> str:
    """The size as a turner reads it at the machine: both limits in mm."""
    if size.upper_mm == size.lower_mm:
        return f"{sign}{size.nominal_mm:.3f}"
    return f"{sign}{size.nominal_mm + size.lower_mm:.3f} to {size.nominal_mm + size.upper_mm:.3f}"


def gauge_text(sizes: Mapping[str, Size]) -> str:
    """Gauge diameter and the place of its plane, as the taper is cut to them."""
    gauge, place = sizes["shank/gauge_diameter"].nominal_mm, sizes["shank/stand_off"].nominal_mm
    return f"dia {gauge:g}, {place:g} from the back face"


def addresses(part: str, names: Iterable[str]) -> tuple[str, ...]:
    """Full addresses of surfaces of one part."""
    return tuple(f"{part}/{name}" for name in names)


class Sequencer:
    """Numbers set-ups as they are added."""

    def __init__(self) -> None:
        self._done: list[SetUp] = []

    def add(
        self,
        part: str,
        title: str,
        holding: str,
        located: Way,
        locates_on: str,
        touches_off: str,
        finishes: Iterable[str],
        steps: Iterable[Step],
        *,
        caution: str = "",
        leaves_mm: float = 0.0,
        leaves_why: str = "",
    ) -> None:
        """Add one set-up of one part; `finishes` are names on that part."""
        setup = SetUp(
            len(self._done) + 1,
            (part,),
            title,
            holding,
            locates_on,
            touches_off,
            addresses(part, finishes),
            tuple(steps),
            located=located,
            caution=caution,
            leaves_mm=leaves_mm,
            leaves_why=leaves_why,
        )
        self._done.append(setup)

    def bench(
        self,
        part: str,
        title: str,
        locates_on: str,
        touches_off: str,
        finishes: Iterable[str],
        step: Step,
        holding: str = "vice or dividing head",
    ) -> None:
        """Add what is milled or filed last on one part; no run-out comes from it."""
        self.add(part, title, holding, "bench", locates_on, touches_off, finishes, [step])

    def tang(self, part: str, title: str, across: Size) -> None:
        """Add the tang of a shank."""
        step = Step("mill the tang", limits_text(across))
        self.bench(part, title, f"{part}/taper", f"{part}/end", ["tang"], step)

    def ring(self, part: Part) -> None:
        """A washer, spacer or nut: outside, bore and front in one setting, parted off, faced to length."""
        name = part.name
        surfaces = [s.name for s in part.surfaces] + [z.name for z in part.zones]
        first, last = part.lengths[0], part.origin_face
        steps = [
            Step(f"{'bore' if s.side == 'inside' else 'turn'} {s.name}", limits_text(s.diameter, "dia "))
            for s in part.surfaces
        ]
        steps += [Step(f"thread {zone.text}", "", "tap or single point") for zone in part.zones]
        self.add(
            name,
            f"{part.title}: outside and bore at one setting",
            "three-jaw, bar",
            "bar",
            "bar",
            f"{name}/{last}",
            [*surfaces, last, *(length.face for length in part.lengths[1:])],
            [*steps, Step("part off, 0.3 over")],
        )
        self.add(
            name,
            f"{part.title}: to length",
            "soft jaws, light grip",
            "soft jaws",
            f"{name}/{part.surfaces[0].name}",
            f"{name}/{last}",
            [first.face],
            [
                Step(
                    "face to length, both faces parallel within 0.005",
                    limits_text(first.size),
                    "micrometer at three places",
                )
            ],
        )
        crosses = [cross.name for cross in part.cross]
        if crosses:
            step = Step("mill or file two flats", limits_text(part.cross[0].sizes["across"]))
            located = f"{name}/{part.surfaces[0].name}"
            self.bench(name, f"{part.title}: flats", located, "", crosses, step, "vice, soft jaws")

    def done(self) -> tuple[SetUp, ...]:
        """All set-ups in order."""
        return tuple(self._done)
