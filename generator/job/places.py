"""On which line of a TOML text each key stands.

The standard library's reader gives no positions. This scanner follows a text which that reader has already accepted,
so it needs no judgement of its own: headers, dotted and quoted keys, strings of all four forms, arrays, inline tables.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Mapping, Sequence

__all__ = ["Path", "address", "line_of", "lines_by_path"]

Path = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_KEY_PART = re.compile(r'[A-Za-z0-9_-]+|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'')
_DOT = re.compile(r"[ \t]*\.[ \t]*")
_TEXT = re.compile(
    r'"""(?:\\.|[^\\])*?"""(?:"{0,2})'
    r"|'''.*?'''(?:'{0,2})"
    r'|"(?:\\.|[^"\\\n])*"'
    r"|'[^'\n]*'",
    re.DOTALL,
)
_PLAIN = re.compile(r"[^,\]}#\n]*")
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_ADDRESS_PART = re.compile(r"([^.\[\]]+)|\[(\d+)\]")


def lines_by_path(text: str) -> dict[Path, int]:
    """The line number of every key, table and array entry of a sound TOML text, entries counted from 0."""
    return _Scanner(text).run()


def address(path: Sequence[str | int]) -> str:
    """The path as data: `body.barrel_diameter`, `stack[1].bore`; entries count from 0 here and from 1 in messages."""
    shown = ""
    for part in path:
        if isinstance(part, int):
            shown += f"[{part}]"
        else:
            name = part if _BARE.fullmatch(part) else repr(part)
            shown += f".{name}" if shown else name
    return shown


def line_of(printed: str, lines: Mapping[Path, int]) -> int | None:
    """The line of a printed address, or of the nearest table that holds it; None where the text has neither."""
    path: Path = tuple(int(entry) if entry else name for name, entry in _ADDRESS_PART.findall(printed))
    while path:
        if path in lines:
            return lines[path]
        path = path[:-1]
    return None


class _Scanner:
    def __init__(self, text: str) -> None:
        self._text = text
        self._at = 0
        self._newlines = [match.start() for match in re.finditer("\n", text)]
        self._lines: dict[Path, int] = {}
        self._entries: dict[Path, int] = {}

    def run(self) -> dict[Path, int]:
        table: Path = ()
        self._skip(_BLANK)
        while self._at < len(self._text):
            if self._text[self._at] == "[":
                table = self._header()
            else:
                self._pair(table)
            self._skip(_BLANK)
        return self._lines

    def _skip(self, pattern: re.Pattern[str]) -> str:
        found = pattern.match(self._text, self._at)
        if found is None:
            return ""
        self._at = found.end()
        return found.group()

    def _line(self) -> int:
        return bisect_right(self._newlines, self._at - 1) + 1

    def _header(self) -> Path:
        is_array = self._text.startswith("[[", self._at)
        line = self._line()
        self._at += 2 if is_array else 1
        self._skip(_BLANK)
        names = self._key()
        self._skip(_BLANK)
        self._at += 2 if is_array else 1
        path: Path = ()
        for position, name in enumerate(names):
            path = (*path, name)
            if is_array and position == len(names) - 1:
                self._lines.setdefault(path, line)
                self._entries[path] = self._entries.get(path, -1) + 1
            if path in self._entries:
                path = (*path, self._entries[path])
            self._lines.setdefault(path, line)
        return path

    def _key(self) -> tuple[str, ...]:
        parts = []
        while part := self._skip(_KEY_PART):
            parts.append(_decoded(part))
            if not self._skip(_DOT):
                break
        return tuple(parts)

    def _pair(self, table: Path) -> None:
        line, start = self._line(), self._at
        path = table
        for name in self._key():
            path = (*path, name)
            self._lines.setdefault(path, line)
        self._skip(_BLANK)
        self._at += 1  # the equals sign
        self._skip(_BLANK)
        self._value(path)
        if self._at == start:
            self._at = len(self._text)  # never round in a circle, whatever the text

    def _value(self, path: Path) -> None:
        mark = self._text[self._at : self._at + 1]
        if mark == "[":
            self._array(path)
        elif mark == "{":
            self._inline_table(path)
        elif not self._skip(_TEXT):
            self._skip(_PLAIN)

    def _array(self, path: Path) -> None:
        self._at += 1
        entry = 0
        while self._more("]"):
            self._lines.setdefault((*path, entry), self._line())
            self._value((*path, entry))
            entry += 1

    def _inline_table(self, path: Path) -> None:
        self._at += 1
        while self._more("}"):
            self._pair(path)

    def _more(self, end: str) -> bool:
        """True where another entry follows; otherwise the closing mark has been passed."""
        self._skip(_BLANK)
        if self._text.startswith(",", self._at):
            self._at += 1
            self._skip(_BLANK)
        if self._text.startswith(end, self._at) or self._at >= len(self._text):
            self._at += 1
            return False
        return True


def _decoded(part: str) -> str:
    if part[0] == "'" or (part[0] == '"' and "\\" not in part):
        return part[1:-1]
    if part[0] == '"':
        return next(iter(tomllib.loads(f"{part} = 0")))
    return part
