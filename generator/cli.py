"""The entry: whatever takes time is imported under watch, so that an early Ctrl-C is one line too."""

from __future__ import annotations

import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["INTERRUPTED", "run"]

INTERRUPTED = 130
"""128 and the number of the signal, as shells count."""


def run(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    try:
        from generator.commands.line import run_line

        return run_line(sys.argv[1:] if arguments is None else arguments)
    except KeyboardInterrupt:
        sys.stderr.write("tailstock: interrupted; nothing was written\n")
        return INTERRUPTED


if __name__ == "__main__":
    sys.exit(run())
