"""What a job decided and what followed from it: every parameter with its value, the rule behind it, and its sizes.

A kind's `derive` fills a `Choices` from the job; its `build` reads only that and may branch on names, counts and
booleans alone, so that arrays of designs can stand in for the numbers.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from generator.description.size import Size

__all__ = ["Choice", "Choices"]

Plain = TypeVar("Plain", float, str, int, bool)


@dataclass(frozen=True, slots=True)
class Choice:
    """One parameter: its address in the job file, value, unit, and either that it was given or the rule behind it."""

    address: str
    value: float | str | int | bool
    unit: str
    rule: str
    given: bool
    is_default: bool = False


@dataclass(slots=True)
class Choices:
    """Parameters by address, sizes by name, and the facts (`facts`) that a kind hands from `derive` to its readers."""

    parameters: dict[str, Choice] = field(default_factory=dict)
    sizes: dict[str, Size] = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)
    counts: dict[str, int] = field(default_factory=dict)
    facts: dict[str, float] = field(default_factory=dict)

    def decide(self, address: str, given: Plain | None, fallback: Plain, rule: str, unit: str = "mm") -> Plain:
        """The given value or else the fallback, recorded with the rule that gave it."""
        value = fallback if given is None else given
        self.parameters[address] = Choice(address, value, unit, rule, given is not None)
        return value

    def assume(self, address: str, given: Plain | None, fallback: Plain, source: str, unit: str = "mm") -> Plain:
        """Like `decide`, for a default about the user's machine that nobody measured: marked default everywhere."""
        value = fallback if given is None else given
        self.parameters[address] = Choice(address, value, unit, f"default: {source}", given is not None, given is None)
        return value

    def size(self, name: str, size: Size) -> Size:
        """Keep a size under a name for `build`."""
        self.sizes[name] = size
        return size

    def rule_of(self, address: str) -> str:
        """How the value at this address came about, in words."""
        choice = self.parameters.get(address)
        return "" if choice is None else ("given" if choice.given else choice.rule)

    def values(self) -> Mapping[str, float | str | int | bool]:
        """Plain values by address."""
        return {address: choice.value for address, choice in self.parameters.items()}
