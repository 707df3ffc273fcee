"""What the proof of a drawing prints."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from textwrap import wrap
from typing import Any

from generator.proof import Proof

__all__ = ["proof_data", "proof_lines"]

_WORDS = {"fault": "FAULT", "remark": "remark"}


def proof_data(path: Path, found: Proof) -> dict[str, Any]:
    """A proof as plain data for --json."""
    counts = {name: sum(one.severity == name for one in found.faults) for name in _WORDS}
    return {
        "file": str(path),
        "clean": found.is_clean,
        "sheets": list(found.sheets),
        "counts": counts,
        "faults": [one.as_dict() for one in found.faults],
    }


def proof_lines(path: Path, found: Proof, width: int) -> Iterator[str]:
    """A proof for a terminal: each fault with its place, the rule and its source, then the verdict."""
    for one in found.faults:
        yield from wrap(f"{_WORDS[one.severity]}  {one.code}: {one.what}", width, subsequent_indent="    ")
        if one.place:
            yield from wrap(one.place, width, initial_indent="    ", subsequent_indent="    ")
        rule = f"{one.rule.says} Source: {one.rule.source}"
        yield from wrap(rule, width, initial_indent="    rule: ", subsequent_indent="      ")
        yield ""
    faults = sum(one.severity == "fault" for one in found.faults)
    remarks = len(found.faults) - faults
    parts = [f"{faults} fault{'' if faults == 1 else 's'}", f"{remarks} remark{'' if remarks == 1 else 's'}"]
    read = ", ".join(found.sheets) or "no sheet"
    yield from wrap(f"{path}: {', '.join(parts)} ({read})", width)
