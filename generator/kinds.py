"""The kinds of tool that can be made: found by file name, imported only when one is wanted.

A name is checked by pattern before anything is imported, so no job can reach a module that is not a template.
"""

from __future__ import annotations

import importlib
import re
import sys
import traceback
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Any, Protocol, cast

import templates
from generator.errors import Fault, InputError

if TYPE_CHECKING:
    from generator.description import Tool
    from generator.description.choices import Choices
    from generator.findings import Finding
    from generator.making.workshop import Workshop
    from generator.parameters.base import JobBase

__all__ = ["Kind", "KindLine", "kinds", "load_kind", "survey", "use_templates"]

_NAME = re.compile(r"[a-z][a-z0-9-]{0,40}")
_MUST_OFFER = ("TITLE", "SUMMARY", "Params", "EXAMPLE", "derive", "build", "inspect", "order")


class Kind(Protocol):
    """What a module in the templates offers."""

    __name__: str
    __file__: str | None
    TITLE: str
    SUMMARY: str
    EXAMPLE: str
    Params: type[JobBase]

    def derive(self, params: Any) -> Choices:
        """Every parameter, given or derived."""
        ...

    def build(self, choices: Choices) -> Tool:
        """The tool with its gaps."""
        ...

    def inspect(self, choices: Choices, tool: Tool) -> Iterable[Finding]:
        """Findings peculiar to the kind."""
        ...

    def order(self, choices: Choices, tool: Tool, workshop: Workshop) -> tuple[Any, ...]:
        """The set-ups in which it is made with what stands in this shop."""
        ...


@dataclass(frozen=True, slots=True)
class KindLine:
    """One line of the list of kinds: what it is, or why it cannot be used."""

    name: str
    title: str
    summary: str
    problem: str = ""


def use_templates(chosen: Path | None = None) -> None:
    """Search the user's template folders from now on. Raises InputError for a folder that is not there."""
    folders = templates.user_folders(chosen)
    missing = [folder for folder in folders if not folder.is_dir()]
    if missing:
        cure = f"correct the option --templates or the variable {templates.FOLDER_VARIABLE}"
        raise InputError([Fault("templates", "there is no such folder", str(folder), cure) for folder in missing])
    templates.use_folders(folders)


def kinds() -> list[str]:
    """The names of all kinds in alphabetical order, found by file name and not imported."""
    return sorted(name for name in _files() if _NAME.fullmatch(name))


def load_kind(name: str, place: str = "kind", line: int | None = None) -> Kind:
    """The template of this kind, imported now.

    Raises: InputError naming the key at `place` for a name that is none, is unknown, stands twice or cannot be loaded.
    """
    files = _files()
    shown = _shown(name)
    if not isinstance(name, str) or not _NAME.fullmatch(name):
        rule = "the name of a kind is small letters, digits and hyphens, at most 41, beginning with a letter"
        raise _refusal(place, rule, shown, _nearest(name), line)
    if name not in files:
        raise _refusal(place, "no such kind of tool", shown, _nearest(name), line)
    if problem := _doubled(files[name]):
        raise _refusal(place, problem, shown, "rename or remove one of the files", line)
    try:
        return _import(files[name][0])
    except _LoadError as failure:
        cure = "repair the template, or take it out of the template folder"
        rule = f"the template {files[name][0].name} cannot be loaded: {failure}"
        raise _refusal(place, rule, "", cure, line) from None


def survey() -> list[KindLine]:
    """A line for every kind, those that cannot be loaded among them with the reason."""
    return [_line_of(name, files) for name, files in sorted(_files().items())]


class _LoadError(Exception):
    """Why a template cannot be used, in words."""


def _files() -> dict[str, list[Path]]:
    """Template files by kind's name, in the order of the folders."""
    found: dict[str, list[Path]] = {}
    for folder in templates.__path__:
        try:
            names = sorted(path.name for path in Path(folder).iterdir())
        except OSError:
            continue
        for name in names:
            if name.endswith(".py") and not name.startswith(("_", ".")):
                found.setdefault(name.removesuffix(".py").replace("_", "-"), []).append(Path(folder) / name)
    return found


def _line_of(name: str, files: list[Path]) -> KindLine:
    problem = _doubled(files)
    if not problem and not _NAME.fullmatch(name):
        problem = "the file name must be small letters, digits and _, at most 41, beginning with a letter"
    if problem:
        return KindLine(name, "", "", problem)
    try:
        module = _import(files[0])
    except _LoadError as failure:
        return KindLine(name, "", "", str(failure))
    return KindLine(name, module.TITLE, module.SUMMARY)


def _doubled(files: list[Path]) -> str:
    if len(files) < 2:
        return ""
    return f"two templates have this name, {' and '.join(str(path) for path in files)}"


def _import(path: Path) -> Kind:
    full = f"templates.{path.stem}"
    known = sys.modules.get(full)
    if known is not None and Path(known.__file__ or "") != path:
        del sys.modules[full]
    if full not in sys.modules:
        # A folder that changed within the clock's step of the last look would otherwise be taken from memory.
        importlib.invalidate_caches()
    try:
        module = importlib.import_module(full)
    except (Exception, SystemExit) as failure:
        raise _LoadError(_reason(failure, path)) from failure
    _demand(module)
    return cast("Kind", module)


def _demand(module: ModuleType) -> None:
    """Refuse a template that does not offer everything a kind must offer."""
    missing = [part for part in _MUST_OFFER if not hasattr(module, part)]
    if missing:
        message = f"it lacks {', '.join(missing)}"
        raise _LoadError(message)
    from generator.parameters.base import JobBase

    params = module.Params
    if not (isinstance(params, type) and issubclass(params, JobBase)):
        message = "its Params is not a class derived from JobBase"
        raise _LoadError(message)
    for part in ("TITLE", "SUMMARY", "EXAMPLE"):
        if not isinstance(getattr(module, part), str):
            message = f"its {part} is not a text"
            raise _LoadError(message)


def _reason(failure: BaseException, path: Path) -> str:
    """The failure in one line, with the line of the template where it happened."""
    words = " ".join(str(failure).split())[:200]
    text = f"{type(failure).__name__}: {words}" if words else type(failure).__name__
    steps = [step for step in traceback.extract_tb(failure.__traceback__) if Path(step.filename) == path]
    if steps and steps[-1].lineno is not None and not isinstance(failure, SyntaxError):
        return f"{text} (line {steps[-1].lineno})"
    return text


def _nearest(name: object) -> str:
    from difflib import get_close_matches

    known = kinds()
    wanted = name[:60].lower().replace("_", "-") if isinstance(name, str) else ""
    close = get_close_matches(wanted, known, n=3, cutoff=0.4)
    return f"nearest known: {', '.join(close)}" if close else f"known kinds: {', '.join(known) or 'none'}"


def _shown(name: object) -> str:
    text = repr(name)
    return text if len(text) <= 40 else f"{text[:37]}..."


def _refusal(place: str, rule: str, value: str, cure: str, line: int | None) -> InputError:
    return InputError([Fault(place, rule, value, cure, line)])
