"""A TOML file from the user's disk as plain data, under limits, with the line of every key.

Nothing here knows what the keys mean. Whatever is wrong is a `Fault` with its line; a file from which no data can be
had at all raises `InputError` at once.
"""

from __future__ import annotations

import os
import re
import stat
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, time
from pathlib import Path as FilePath
from typing import Any

from generator.errors import Fault, InputError
from generator.job.places import Path, address, line_of, lines_by_path
from generator.parameters.fields import short

__all__ = ["LARGEST_FILE_BYTES", "LONGEST_TEXT", "TomlText", "file_text", "read_file", "read_text"]

LARGEST_FILE_BYTES = 200_000
LONGEST_TEXT = 1000
LONGEST_LINE = 2000
DEEPEST = 8
"""Limits far beyond any job a person writes; they keep a hostile or mistaken file from holding up the program."""

_AT = re.compile(r"^(?P<what>.*?)(?: \(at (?:line (?P<line>\d+), column (?P<column>\d+)|(?P<end>end of document))\))?$")
_DOUBLED = re.compile(r"Cannot overwrite a value|Cannot declare .* twice|Duplicate inline table key|Cannot mutate")
_COMMA = re.compile(r"=\s*(\d+),(\d+)")
_DAY = re.compile(r"=\s*\d{4}-\d\d-\d\d")
_BARE_POINT = re.compile(r"=\s*(\.\d+)")
_UNQUOTED = re.compile(r"=\s*([^\s\"'\[{#][^\"'#]{0,40})")
_KEY_OF_LINE = re.compile(r"\s*([A-Za-z0-9_.\"' -]{1,60}?)\s*=")


@dataclass(frozen=True, slots=True)
class TomlText:
    """A text that is TOML: its data, where its keys stand, and the faults found so far."""

    text: str
    source: str
    data: dict[str, Any]
    lines: dict[Path, int]
    faults: tuple[Fault, ...] = field(default=())

    def line_of(self, path: Path) -> int | None:
        """The line of this key, or of the nearest table around it."""
        return line_of(address(path), self.lines)


def read_file(path: FilePath, what: str = "job file") -> TomlText:
    """The data of a file. Raises InputError for a file that is missing, too large, not UTF-8 or not TOML."""
    return read_text(file_text(path, what), path.name, what)


def file_text(path: FilePath, what: str) -> str:
    """The text of a file. Raises InputError for a file that is missing, too large or not UTF-8."""
    return _decode(_read_bytes(path, what), path.name, what)


def read_text(text: str, source: str, what: str = "job file") -> TomlText:
    """The data of a text. Raises InputError where it is not TOML or too large."""
    if len(text) > LARGEST_FILE_BYTES:
        raise InputError([_too_large(what, len(text.encode()))], source)
    if too_long := list(_long_lines(text)):
        raise InputError(too_long, source)
    data = _parse(text, source, what)
    if too_deep := _too_deep(data):
        rule = f"tables stand at most {DEEPEST} deep"
        raise InputError([Fault(address(too_deep), rule, "", "flatten the file")], source)
    lines = lines_by_path(text)
    faults: list[Fault] = []
    data = _plain(data, (), lines, faults)
    return TomlText(text, source, data, lines, tuple(faults))


def _a(what: str) -> str:
    """The thing with its article."""
    return f"{'an' if what[:1] in 'aeiou' else 'a'} {what}"


def _read_bytes(path: FilePath, what: str) -> bytes:
    shown = short(str(path), 120)
    writer = "make" if what == "inspection table" else "new"
    cure = f'give the path of {_a(what)}; "tailstock {writer}" writes one'
    try:
        with path.open("rb") as stream:
            status = os.fstat(stream.fileno())
            size = status.st_size if stat.S_ISREG(status.st_mode) else 0
            content = stream.read(LARGEST_FILE_BYTES + 1) if size <= LARGEST_FILE_BYTES else b""
    except FileNotFoundError:
        meant = path.with_name(f"{path.name}.toml") if path.name else path
        if meant.is_file():
            cure = f"{short(str(meant), 120)} is there; give that name"
        raise InputError([Fault(what, "there is no such file", shown, cure)]) from None
    except IsADirectoryError:
        raise InputError([Fault(what, "this is a folder, not a file", shown, cure)]) from None
    except (OSError, ValueError) as problem:
        reason = getattr(problem, "strerror", None) or str(problem)
        raise InputError([Fault(what, f"the file cannot be read: {reason}", shown, cure)]) from None
    if size > LARGEST_FILE_BYTES or len(content) > LARGEST_FILE_BYTES:
        raise InputError([_too_large(what, size or None)], path.name)
    return content


def _too_large(what: str, size: int | None) -> Fault:
    limit = f"{LARGEST_FILE_BYTES // 1000} kB"
    found = f"more than {limit}" if size is None else f"{size / 1000:.1f} kB"
    return Fault(what, f"a {what} may have at most {limit}", found, "give the file that was meant, or shorten it")


def _decode(content: bytes, source: str, what: str) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = content.count(b"\n", 0, problem.start) + 1
        value = f"byte 0x{content[problem.start]:02x}"
        fault = Fault(what, "the file is not UTF-8 text", value, "save it as UTF-8 in the editor", line)
        raise InputError([fault], source) from None


def _long_lines(text: str) -> Iterator[Fault]:
    for number, line in enumerate(text.split("\n"), start=1):
        if len(line) <= LONGEST_LINE:
            continue
        key = _KEY_OF_LINE.match(line)
        if key is not None:
            value = line[key.end() :].strip()
            rule = f"a value may have at most {LONGEST_TEXT} characters"
            yield Fault(key.group(1), rule, f"{short(value)}, {len(value)} characters", "shorten it", number)
        else:
            rule = f"a line may have at most {LONGEST_LINE} characters"
            yield Fault("the file", rule, f"{short(line)}, {len(line)} characters", "shorten it", number)


def _parse(text: str, source: str, what: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as problem:
        raise InputError([_syntax_fault(str(problem), text, what)], source) from None
    except RecursionError:
        fault = Fault(what, f"brackets stand at most {DEEPEST} deep", "", "flatten the file")
        raise InputError([fault], source) from None
    except ValueError as problem:
        # The reader lets through what the language itself refuses: whole numbers of thousands of digits, wrong dates.
        line, value = _bad_value_line(text)
        fault = Fault(what, f"a value cannot be read: {short(str(problem), 100)}", value, "correct the value", line)
        raise InputError([fault], source) from None


def _syntax_fault(message: str, text: str, what: str) -> Fault:
    parts = _AT.match(message)
    if parts is None:
        return Fault(what, f"the file is not TOML: {message}", "", "correct the file")
    rows = text.split("\n")
    line = len(text.rstrip().split("\n")) if parts["end"] else int(parts["line"] or 1)
    row = rows[line - 1].strip() if line <= len(rows) else ""
    key = _KEY_OF_LINE.match(row)
    place = key.group(1) if key else what
    if _DOUBLED.match(parts["what"]):
        return Fault(place, f"a key or table stands twice: {parts['what']}", short(row), "keep one of the two", line)
    if comma := _COMMA.search(row):
        cure = f"write {comma.group(1)}.{comma.group(2)}"
        return Fault(place, "the decimal mark is a point, not a comma", short(row), cure, line)
    column = f" (column {parts['column']})" if parts["column"] else ""
    return Fault(place, f"the file is not TOML: {parts['what']}{column}", short(row), _cure_of(row), line)


def _cure_of(row: str) -> str:
    if bare := _BARE_POINT.search(row):
        return f"write 0{bare.group(1)}"
    if _DAY.search(row):
        return "a date without quotes must be a day of the calendar, written 2025-03-31"
    if text := _UNQUOTED.search(row):
        return f'text, fractions and numbers with a unit stand in double quotes: "{text.group(1).strip()}"'
    return "correct this line or the end of the one before; text stands in double quotes"


def _bad_value_line(text: str) -> tuple[int | None, str]:
    """The first line that is no TOML by itself but looks like a key with a value."""
    for number, line in enumerate(text.split("\n"), start=1):
        if "=" not in line:
            continue
        try:
            tomllib.loads(line)
        except tomllib.TOMLDecodeError:
            continue
        except ValueError:
            return number, short(line.strip())
    return None, ""


def _too_deep(data: dict[str, Any]) -> Path | None:
    """The first path that stands deeper than allowed, or None; without recursion."""
    waiting: list[tuple[Path, Any]] = [((), data)]
    while waiting:
        path, value = waiting.pop()
        if not isinstance(value, dict | list):
            continue
        if len(path) >= DEEPEST:
            return path
        entries = value.items() if isinstance(value, dict) else enumerate(value)
        waiting.extend(((*path, key), inner) for key, inner in entries)
    return None


def _plain(value: Any, path: Path, lines: dict[Path, int], faults: list[Fault]) -> Any:
    """The value with dates as text, as they would be in quotes; texts beyond the limit become faults."""
    if isinstance(value, dict):
        return {key: _plain(inner, (*path, key), lines, faults) for key, inner in value.items()}
    if isinstance(value, list):
        return [_plain(inner, (*path, entry), lines, faults) for entry, inner in enumerate(value)]
    if isinstance(value, date | datetime | time):
        return value.isoformat()
    if isinstance(value, str) and len(value) > LONGEST_TEXT:
        place = address(path)
        rule = f"a value may have at most {LONGEST_TEXT} characters"
        found = f"{short(repr(value))}, {len(value)} characters"
        faults.append(Fault(place, rule, found, "shorten it", line_of(place, lines)))
        return value[:LONGEST_TEXT]
    return value
