"""Short ways to build parts and to take a job through derive, build and check."""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass
from typing import Any

from generator.checks import check
from generator.description import Choices, Part, PartDraft, Size, Tool
from generator.findings import Finding
from generator.kinds import Kind, load_kind


def size(nominal: float, upper: float = 0.0, lower: float = 0.0, **fields: Any) -> Size:
    """A size with deviations; its source says that a test made it."""
    return Size(nominal, upper, lower, source="test", origin="test", **fields)


def rod(length: float = 40.0, diameter: float = 20.0) -> PartDraft:
    """A plain rod from face "rear" to its origin face "front", to be added to."""
    draft = PartDraft("rod", "Rod", "front")
    draft.length("length", "rear", "front", -1, size(length))
    draft.cylinder("outside", "outside", "rear", "front", size(diameter))
    return draft


def tube(length: float = 40.0, diameter: float = 20.0, bore: float = 10.0) -> Part:
    """A plain tube."""
    draft = rod(length, diameter)
    draft.cylinder("bore", "inside", "rear", "front", size(bore))
    return draft.done()


def frustum_mm3(large_mm: float, small_mm: float, height_mm: float) -> float:
    """Volume of a frustum by the handbook's formula in diameters: pi h / 12 (D^2 + D d + d^2)."""
    return math.pi * height_mm / 12 * (large_mm**2 + large_mm * small_mm + small_mm**2)


@dataclass(frozen=True)
class Worked:
    """A job taken through derive, build and check."""

    kind: Kind
    params: Any
    choices: Choices
    tool: Tool
    findings: tuple[Finding, ...]

    def one(self, code: str, address: str | None = None) -> Finding:
        """The one finding of this code (and address)."""
        found = [f for f in self.findings if f.code == code and address in (None, f.address)]
        assert len(found) == 1, (code, address, [f.key for f in found])
        return found[0]

    @property
    def stops(self) -> list[tuple[str, str]]:
        """Code and address of every stop."""
        return [f.key for f in self.findings if f.severity == "stop"]

    def value(self, address: str) -> Any:
        """Value of a parameter."""
        return self.choices.parameters[address].value


def read(kind: str, data: dict[str, Any] | str, unit: str = "mm") -> Any:
    """Parameters of a kind from plain data or TOML text."""
    plain = tomllib.loads(data) if isinstance(data, str) else data
    named = {"kind": kind, "name": "test", "units": unit, **plain}
    return load_kind(kind).Params.model_validate(named, context={"unit": unit})


def worked(kind: str, data: dict[str, Any] | str, unit: str = "mm") -> Worked:
    """The job worked out, with all findings."""
    return of_params(kind, read(kind, data, unit))


def of_params(kind_name: str, params: Any) -> Worked:
    """The parameters worked out, with all findings."""
    kind = load_kind(kind_name)
    choices = kind.derive(params)
    tool = kind.build(choices)
    return Worked(kind, params, choices, tool, check(kind, choices, tool))  # type: ignore[arg-type]


CENTRE = "revolving-centre"


def centre(stack: tuple[str | dict[str, Any], ...] = ("6003-2RS", "6001-2RS"), **tables: Any) -> dict[str, Any]:
    """Data of a small revolving centre, Morse 3, 22 mm work; `tables` replace or add to its tables."""
    data: dict[str, Any] = {
        "socket": {"taper": "Morse 3"},
        "passes": {"holder_width": 16, "tip_ahead": 6, "tip_beside": 1, "work_diameter": 22},
        "stack": [item if isinstance(item, dict) else {"ring": item} for item in stack],
    }
    for name, values in tables.items():
        data[name] = {**data.get(name, {}), **values}
    return data


RINGS = {0: ("688", "688"), 1: ("6001-2RS", "6000-2RS"), 2: ("6002-2RS", "6001-2RS"), 3: ("6003-2RS", "6001-2RS"),
         4: ("6004-2RS", "6002-2RS"), 5: ("6206-2RS", "6205-2RS"), 6: ("6208", "6207")}  # fmt: skip
ENDS = ["plain", "tang", "drawbar"]


def stacks(number: int) -> dict[str, tuple[str, ...]]:
    """Stacks of bearings that suit a Morse number, by what they are."""
    large, small = RINGS[number]
    return {"unequal": (large, small), "one": (large,), "equal": (large, large), "three": (large, large, small)}
