"""The record of a result: what went in, with hashes; what was decided and found; what came out, with hashes.

The record also says which files of a folder are this program's own, so that nothing else is ever replaced.
"""

from __future__ import annotations

import hashlib
import json
import platform
from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import Any

from generator.description import ChainResult, Tool, evaluate_gap, positions
from generator.description.choices import Choices
from generator.job.design import Design
from generator.job.workshop import workshop_of

__all__ = ["RECORD", "chain_of", "chains_of", "record_text", "strangers"]

RECORD = "record.json"
_LIBRARIES = ("cadquery-ocp", "ezdxf", "matplotlib", "numpy", "pydantic", "reportlab")


def record_text(design: Design, setups: Iterable[Any], operations: Iterable[Any], folder: Path) -> str:
    """The record of a design and of the files that stand in the folder, as JSON; the same inputs give the same text.

    An operation is told by its number; its words and sizes stand with its set-up.
    """
    job = design.job
    shop = job.shop
    content = {
        "form": 1,
        "name": job.name,
        "kind": job.kind_name,
        "program": _version("tailstock"),
        "python": platform.python_version(),
        "libraries": {name: _version(name) for name in _LIBRARIES},
        "tables_sha256": _tables_hash(),
        "template_sha256": _hash(Path(job.kind.__file__ or "")),
        "job": {"text": job.text, "sha256": hashlib.sha256(job.text.encode()).hexdigest()},
        "shop": None if shop is None else {
            "file": Path(shop.source).name, "found": shop.found or "given", "text": shop.text,
            "sha256": hashlib.sha256(shop.text.encode()).hexdigest(), "used": list(job.from_shop),
            "not_used": list(job.notes),
        },
        "workshop": _plain(workshop_of(job)),
        "parameters": _parameters(design.choices),
        "sizes": {name: _plain(size) for name, size in design.choices.sizes.items()},
        "findings": [_plain(finding) for finding in design.findings],
        "chains": chains_of(design.tool),
        "set_ups": [_plain(each) for each in setups],
        "operations": [{key: held for key, held in _plain(each).items() if key != "step"} for each in operations],
        "files": {path.name: _hash(path) for path in sorted(folder.iterdir()) if path.name != RECORD},
    }
    return json.dumps(content, indent=1, ensure_ascii=False, default=_plain) + "\n"


def strangers(folder: Path) -> list[str]:
    """What stands in a folder and is not, or no longer, as this program made it, in words."""
    known = _recorded(folder)
    found = []
    for path in sorted(folder.iterdir()):
        if path.name == RECORD and known:
            continue
        if path.name not in known or not path.is_file():
            found.append(path.name)
        elif _hash(path) != known[path.name]:
            found.append(f"{path.name} (changed since)")
    return found


def chains_of(tool: Tool) -> dict[str, dict[str, Any]]:
    """Every gap of a tool worked out, as plain data by the gap's name."""
    forms = positions(tool)
    return {gap.name: chain_of(evaluate_gap(tool, gap, forms)) for gap in tool.gaps}


def chain_of(result: ChainResult) -> dict[str, Any]:
    """One chain as plain data: gap, limits wanted, values, contributors largest first."""
    return {
        "title": result.gap.title,
        "least_mm": result.gap.least_mm,
        "most_mm": result.gap.most_mm,
        **{
            name: _rounded(getattr(result, name))
            for name in (
                "nominal_mm", "low_mm", "high_mm", "likely_low_mm", "likely_high_mm", "fit_low_mm", "fit_high_mm",
            )
        },
        "contributors": [
            {"address": term.address, "coefficient": _rounded(term.coefficient), **_limits(term.size)}
            for term in result.contributors
        ],
    }


def _limits(size: Any) -> dict[str, Any]:
    return {
        "nominal_mm": _rounded(size.best), "low_mm": _rounded(size.low), "high_mm": _rounded(size.high),
    }


def _parameters(choices: Choices) -> list[dict[str, Any]]:
    return [_plain(choice) for choice in choices.parameters.values()]


def _plain(value: Any) -> Any:
    """Dataclasses, tuples and mappings as what JSON knows."""
    if is_dataclass(value) and not isinstance(value, type):
        return {part.name: _plain(getattr(value, part.name)) for part in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): _plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(inner) for inner in value]
    if isinstance(value, set | frozenset):
        return sorted(_plain(inner) for inner in value)
    return _rounded(value) if isinstance(value, float) else value


def _rounded(value: float | None) -> float | None:
    """Digits that mean something: a millionth of a millimetre, and never a minus before zero."""
    return None if value is None else round(value, 9) + 0.0


def _recorded(folder: Path) -> dict[str, str]:
    """File names and hashes by the folder's record; none where there is no sound record."""
    try:
        files = json.loads((folder / RECORD).read_text(encoding="utf-8"))["files"]
    except (OSError, ValueError, KeyError, TypeError):
        return {}
    return files if isinstance(files, dict) else {}


def _hash(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else ""


@cache
def _tables_hash() -> str:
    """One hash over all table files, by name and content."""
    from importlib.resources import files

    total = hashlib.sha256()
    for entry in sorted(files("generator.tables").iterdir(), key=lambda entry: entry.name):
        if entry.name.endswith(".csv"):
            total.update(entry.name.encode() + b"\0" + entry.read_bytes())
    return total.hexdigest()


def _version(name: str) -> str:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return "not installed"
