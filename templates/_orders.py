"""Set-ups that several kinds share: shanks, simple rings and washers, and helpers to write set-ups shortly."""

from __future__ import annotations

from collections.abc import Iterable

from generator.description import Choices, Part
from generator.making.cuts import cut
from generator.making.setups import SetUp, Step, Way

__all__ = ["Sequencer", "addresses", "drawbar_steps", "mouth_step", "shank_steps"]


def shank_steps(part: Part) -> list[Step]:
    """The shank between centres: length, reliefs, end, and the taper last."""
    reliefs = [f"{end}_relief/diameter" for end in ("large", "small")]
    lengths = [f"shank/{end}_relief_length" for end in ("large", "small")]
    return [
        cut(part, "turn the shank 0.3 mm over", ["shank/length"]),
        cut(part, "cut both reliefs", [reliefs[0], lengths[0], reliefs[1], lengths[1]]),
        cut(part, "chamfer the end", ["end_chamfer/leg"]),
        cut(part, "set the slide, cut the taper, try in the quill with blue", ["taper/diameter", "shank/stand_off"]),
    ]


def drawbar_steps(part: Part) -> list[Step]:
    """Hole and thread for a drawbar."""
    drill = f"dia {part.surface('drawbar_hole').diameter.nominal_mm:g} mm"
    return [
        cut(part, "drill, or open the bore, to the tap drill of the drawbar's thread", ["drawbar/hole_depth"],
            also=drill),
        cut(part, "tap for the drawbar", ["drawbar", "drawbar/depth"]),
    ]  # fmt: skip


def mouth_step(choices: Choices) -> Step:
    """The countersink of a bored shank, which the centre finds."""
    return Step("60 degree countersink in the bore's mouth for the centre", f"dia {choices.names['shank/mouth']}")


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

    def tang(self, part: Part, title: str) -> None:
        """Add the tang of a shank."""
        step = cut(part, "mill the tang", ["tang/across", "tang/length"])
        self.bench(part.name, title, f"{part.name}/taper", f"{part.name}/end", ["tang"], step)

    def ring(self, part: Part) -> None:
        """A washer, spacer or nut: outside, bore and front in one setting, parted off, faced to length."""
        name = part.name
        surfaces = [s.name for s in part.surfaces] + [z.name for z in part.zones]
        first, last = part.lengths[0], part.origin_face
        milled = [one for one in part.lengths[1:] if one.face in {f for c in part.cross for f in (c.near, c.far)}]
        milled = [one for one in milled if one.face not in {f for s in part.surfaces for f in (s.near, s.far)}]
        self.add(
            name,
            f"{part.title}: outside and bore at one setting",
            "three-jaw, bar",
            "bar",
            "bar",
            f"{name}/{last}",
            [*surfaces, last, *(length.face for length in part.lengths[1:] if length not in milled)],
            [*_turned(part), Step("part off, 0.3 mm over")],
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
                cut(
                    part,
                    "face to length, both faces parallel within 0.005 mm",
                    [first.name],
                    "micrometer at three places",
                )
            ],
        )
        if part.cross:
            sizes = [f"{cross.name}/{key}" for cross in part.cross for key in cross.sizes]
            step = cut(part, "mill or file two flats", [*sizes, *(length.name for length in milled)])
            located = f"{name}/{part.surfaces[0].name}"
            finished = [*(cross.name for cross in part.cross), *(length.face for length in milled)]
            self.bench(name, f"{part.title}: flats", located, "", finished, step, "vice, soft jaws")

    def done(self) -> tuple[SetUp, ...]:
        """All set-ups in order."""
        return tuple(self._done)


def _turned(part: Part) -> list[Step]:
    """One operation for every surface of a simple ring, with the lengths that end on it, threads last."""
    rest = list(part.lengths[1:])
    steps = []
    for surface in part.surfaces:
        word = "bore" if surface.side == "inside" else "turn"
        if surface.diameter.derived:
            steps.append(Step(f"{word} for the thread", f"dia {surface.diameter.nominal_mm:g} mm"))
            continue
        ending = [length for length in rest if length.face in (surface.near, surface.far)]
        rest = [length for length in rest if length not in ending]
        text = "bore through" if surface.name == "bore" else f"{word} the {surface.name}".replace("_", " ")
        steps.append(cut(part, text, [f"{surface.name}/diameter", *(length.name for length in ending)]))
    steps += [cut(part, "cut the thread", [zone.name], "tap or single point") for zone in part.zones]
    return steps
