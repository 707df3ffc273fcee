"""New files for the user: written whole or not at all, and never over something that is there."""

from __future__ import annotations

import re
from pathlib import Path

from generator.errors import Fault, InputError, OutputError
from generator.job.reader import Job
from generator.job.shop import ShopFile
from generator.job.shop_writer import new_shop
from generator.job.writer import new_job
from generator.units import FileUnit

__all__ = ["write_job", "write_shop"]


def write_job(
    kind: str, path: Path, like: Job | None, unit: FileUnit | None, shop: ShopFile | None
) -> tuple[str, ...]:
    """Write a new job file and return the keys of the earlier job that this kind does not have."""
    _refuse_existing(path)
    made = new_job(kind, _name_for(path), like=like, unit=unit, shop=shop)
    _write(path, made.text)
    return made.left_out


def write_shop(path: Path, unit: FileUnit) -> None:
    """Write a shop file to fill in."""
    _refuse_existing(path)
    _write(path, new_shop(unit))


def _name_for(path: Path) -> str:
    """The tool's name after the file's, with what a name may not hold replaced."""
    name = re.sub(r"[^A-Za-z0-9_-]+", "-", path.name.removesuffix(".toml")).strip("-_")[:40]
    return name or "tool"


def _refuse_existing(path: Path) -> None:
    if path.exists() or path.is_symlink():
        rule = "there is a folder of this name" if path.is_dir() else "there is a file of this name already"
        raise InputError([Fault("FILE", rule, str(path), "give another name, or take the old one away")])


def _reason(path: Path, failure: OSError) -> str:
    """Why a file cannot be begun, and what to do."""
    if not path.parent.exists():
        return f"there is no folder {path.parent}; make the folder first, or give another"
    if not path.parent.is_dir():
        return f"{path.parent} is a file, not a folder; give another folder"
    if isinstance(failure, PermissionError):
        return f"you may not write into the folder {path.parent}; give another folder"
    return f"{failure.strerror}; give another name"


def _write(path: Path, text: str) -> None:
    try:
        stream = path.open("x", encoding="utf-8", newline="\n")
    except OSError as failure:
        message = f"{path}: cannot be written: {_reason(path, failure)}"
        raise OutputError(message) from failure
    try:
        with stream:
            stream.write(text)
    except BaseException as failure:
        path.unlink(missing_ok=True)
        if isinstance(failure, OSError):
            message = f"{path}: cannot be written: {failure.strerror}; make room, or give another folder"
            raise OutputError(message) from failure
        raise
