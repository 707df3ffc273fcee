"""An order of work with what is needed to judge it: the pieces, the shop, the blanks, and what is cut when."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from generator.description import Part, Surface, Tool, diameter_at, face_positions
from generator.findings import PRACTICE, Finding, Severity
from generator.making.plan_checks.surfaces import cut_in
from generator.making.setups import SetUp, Step
from generator.making.stock import StockRow
from generator.making.workshop import Workshop

__all__ = ["HARD_JAWS", "NOT_TOLD", "Cut", "Plan", "by_whom", "found", "is_hard_held"]

HARD_JAWS = frozenset({"bar", "three-jaw", "four-jaw"})
NOT_TOLD = "not all checks of this set-up could run: the template of this kind of tool must tell it"
_PACKED = ("soft", "brass", "copper", "aluminium", "packing", "collet", "tongs")
_NOISE = 1e-9


@dataclass(frozen=True, slots=True)
class Cut:
    """A step where it stands: place of its set-up in the sequence and its own place in it, features that it cuts."""

    place: int
    index: int
    setup: SetUp
    step: Step
    features: tuple[str, ...]

    def is_before(self, other: Cut) -> bool:
        """True if this step is done first."""
        return (self.place, self.index) < (other.place, other.index)


@dataclass(frozen=True)
class Plan:
    """The tool, its set-ups in sequence, the shop, and the blank of each made part by name."""

    tool: Tool
    setups: tuple[SetUp, ...]
    workshop: Workshop
    blanks: Mapping[str, StockRow] = field(default_factory=dict)

    @cached_property
    def cut_in(self) -> Mapping[str, tuple[int, ...]]:
        """By address, the places in the sequence of the set-ups that finish it."""
        return cut_in(self.tool, self.setups)

    @cached_property
    def steps(self) -> tuple[Cut, ...]:
        """Every step in order, with the surfaces, threads and cross features that it cuts."""
        return tuple(
            Cut(place, index, setup, step, self._features(step))
            for place, setup in enumerate(self.setups)
            for index, step in enumerate(setup.steps)
        )

    @cached_property
    def _positions(self) -> dict[str, Mapping[str, float]]:
        return {}

    @cached_property
    def _named(self) -> dict[str, frozenset[str]]:
        return {}

    def features_of(self, name: str) -> frozenset[str]:
        """Names of the surfaces, zones and cross features of a part; none of what is no part."""
        if name not in self._named:
            part = self.tool.parts.get(name)
            zones = () if part is None else (*(z.name for z in part.zones), *(c.name for c in part.cross))
            self._named[name] = frozenset((*part.by_name, *zones)) if part is not None else frozenset()
        return self._named[name]

    def _features(self, step: Step) -> tuple[str, ...]:
        spoken = dict.fromkeys("/".join(address.split("/")[:2]) for address in (*step.cuts, step.surface) if address)
        return tuple(
            address for address in spoken if address.partition("/")[2] in self.features_of(address.partition("/")[0])
        )

    def z_of(self, part: Part) -> Mapping[str, float]:
        """Nominal position of every face of a part."""
        if part.name not in self._positions:
            self._positions[part.name] = face_positions(part)
        return self._positions[part.name]

    def span(self, part: Part, surface: Surface) -> tuple[float, float]:
        """From where to where a surface runs."""
        z_of = self.z_of(part)
        return z_of[surface.near], z_of[surface.far]

    def widest_mm(self, part: Part, surface: Surface) -> float:
        """Largest nominal diameter of a surface."""
        z_of = self.z_of(part)
        return max(diameter_at(part, surface, z, z_of) for z in self.span(part, surface))

    def surface(self, address: str) -> tuple[Part, Surface] | None:
        """The part and the surface at an address, None for what is no surface of a part."""
        name, _, rest = address.partition("/")
        part = self.tool.parts.get(name)
        known = part.by_name.get(rest) if part is not None else None
        return (part, known) if part is not None and known is not None else None

    def is_made_before(self, address: str, place: int) -> bool:
        """True if an earlier set-up finishes what is at this address."""
        return any(one < place for one in self.cut_in.get(address, ()))

    def is_turned_before(self, address: str, place: int) -> bool:
        """True if an earlier set-up finishes this surface, or an earlier step turns it, if only roughly."""
        return self.is_made_before(address, place) or any(
            address in cut.features and cut.place < place and cut.step.work in {"rough", "turn", "taper", "grind"}
            for cut in self.steps
        )

    def made_where(self, address: str) -> str:
        """In which set-up something is finished, in words."""
        places = self.cut_in.get(address)
        return f"only finished in set-up {self.setups[places[-1]].number}" if places else "finished in no set-up"

    def part_of(self, setup: SetUp) -> Part | None:
        """The first made part in the set-up."""
        found_part = (self.tool.parts.get(name) for name in setup.parts)
        return next((part for part in found_part if part is not None and part.is_made), None)

    def held_mm(self, setup: SetUp, place: int) -> float | None:
        """Diameter of the work where it is held: of the surface, or of the bar as long as that is not turned."""
        held = self.surface(setup.grips)
        if held is not None and self.is_turned_before(setup.grips, place):
            return self.widest_mm(*held)
        part = held[0] if held is not None else self.part_of(setup)
        blank = self.blanks.get(part.name) if part is not None else None
        return blank.bar_mm if blank is not None else self.widest_mm(*held) if held is not None else None

    def steps_of(self, part: str, works: frozenset[str]) -> Iterator[Cut]:
        """Steps of these kinds on a part, in order."""
        return (cut for cut in self.steps if cut.step.work in works and part in cut.setup.parts)


def is_hard_held(setup: SetUp) -> bool:
    """True where bare steel jaws bear on the work: by the way of holding, else by the words for it."""
    bare = not any(word in setup.holding.casefold() for word in _PACKED)
    return bare and (setup.located in HARD_JAWS or (setup.located == "bench" and "vice" in setup.holding.casefold()))


def found(
    code: str,
    severity: Severity,
    setup: SetUp,
    about: str,
    title: str,
    advice: str,
    *,
    value: float | None = None,
    least: float | None = None,
    most: float | None = None,
    unit: str = "mm",
    source: str = PRACTICE,
) -> Finding:
    """A finding about one set-up and the surface or part in it; the limit in words and the miss follow."""
    limit, miss = "", 0.0
    if least is not None:
        limit, miss = f"at least {least:.4g}", max(0.0, least - (value or 0.0))
    elif most is not None:
        limit, miss = f"at most {most:.4g}", max(0.0, (value or 0.0) - most)
    return Finding(
        code, severity, f"set-up {setup.number}/{about}", f"set-up {setup.number}: {title}", value, limit,
        unit if value is not None else "", source, advice, 0.0 if severity == "note" or miss <= _NOISE else miss,
    )  # fmt: skip


def by_whom(plan: Plan, name: str) -> tuple[Severity, str]:
    """How bad a figure of the shop makes a finding, and whose figure it is: a usual one never stops anything."""
    source = plan.workshop.sources.get(name, "the shop file")
    return ("warn", f"{source}: measure yours") if plan.workshop.is_default(name) else ("stop", source)
