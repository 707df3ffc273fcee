"""What follows from a thing that never changes is worked out once and kept with the thing."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, Protocol, TypeVar

__all__ = ["Remembering", "once"]



class Remembering(Protocol):
    """A frozen thing with a place for what was found of it; a changed copy of it begins with an empty place."""

    @property
    def memo(self) -> dict[str, Any]:
        """Results by the name of the function that found them."""


Thing = TypeVar("Thing", bound=Remembering)
Found = TypeVar("Found")


def once(work: Callable[[Thing], Found]) -> Callable[[Thing], Found]:
    """The same function, its result found once for each thing; who asks again gets the same object, not to be changed.

    A failure is not kept: it is met again at each call.
    """
    key = f"{work.__module__}.{work.__qualname__}"

    @wraps(work)
    def remembered(thing: Thing) -> Found:
        memo = thing.memo
        if key not in memo:
            memo[key] = work(thing)
        found: Found = memo[key]
        return found

    return remembered
