"""What a layout must hold by the time it is drawn: the thing itself, or one clear error instead of a traceback."""

from __future__ import annotations

from typing import TypeVar

from generator.errors import OutputError

__all__ = ["certain"]

Thing = TypeVar("Thing")


def certain(thing: object, kind: type[Thing], what: str) -> Thing:
    """The thing, which is of its kind.

    Raises: OutputError, which names what is missing, where it is another or None.
    """
    if not isinstance(thing, kind):
        message = f"a sheet cannot be drawn: {what} is missing from its layout; a fault of this program, not of the job"
        raise OutputError(message)
    return thing
