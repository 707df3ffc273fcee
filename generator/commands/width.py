"""How wide the terminal is; apart, so that commands that print little need not load the reports of designs."""

from __future__ import annotations

import os

__all__ = ["terminal_width"]

_NARROWEST, _WIDEST = 40, 120


def terminal_width() -> int:
    """Columns of the terminal, between sensible bounds; 80 where there is none."""
    given = os.environ.get("COLUMNS", "")
    if given.isdigit():
        columns = int(given)
    else:
        try:
            columns = os.get_terminal_size(1).columns
        except (OSError, ValueError):
            columns = 80
    return max(_NARROWEST, min(columns or 80, _WIDEST))
