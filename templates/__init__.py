"""Kinds of tool, one module each: the shipped ones, and those in the user's own folders.

A module's name is the kind's name with `_` for `-`; names that begin with `_` are helpers, not kinds. A user's folder
comes from the `--templates` option, from the variable TAILSTOCK_TEMPLATES, or is `tailstock/templates` in the user's
configuration folder. It never comes from a job file or from anything beside one.
"""

from __future__ import annotations

import os
from pathlib import Path

__all__ = ["FOLDER_VARIABLE", "configuration_folder", "use_folders", "user_folders"]

FOLDER_VARIABLE = "TAILSTOCK_TEMPLATES"

_shipped = tuple(__path__)


def user_folders(chosen: Path | None = None) -> tuple[Path, ...]:
    """The user's template folders in order: the one chosen now, those of the variable, the configuration folder.

    Folders named by the user are returned whether they exist or not, the configuration folder only where it exists.
    """
    named = [] if chosen is None else [chosen]
    named += [Path(text) for text in os.environ.get(FOLDER_VARIABLE, "").split(os.pathsep) if text]
    standing = configuration_folder() / "tailstock" / "templates"
    if standing.is_dir():
        named.append(standing)
    return tuple(dict.fromkeys(Path(os.path.abspath(folder)) for folder in named))  # noqa: PTH100 (keeps symbolic links)


def use_folders(folders: tuple[Path, ...]) -> tuple[Path, ...]:
    """Let modules of this package be found in these folders after the shipped ones; returns all folders searched."""
    __path__[:] = [*_shipped, *(str(folder) for folder in folders if str(folder) not in _shipped)]
    return tuple(Path(folder) for folder in __path__)


def configuration_folder() -> Path:
    """Where the user's settings live. Source: XDG Base Directory Specification; elsewhere the system's own habit."""
    if os.name == "nt":
        return Path(os.environ.get("APPDATA") or Path.home() / "AppData" / "Roaming")
    given = os.environ.get("XDG_CONFIG_HOME", "")
    return Path(given) if given.startswith("/") else Path.home() / ".config"
