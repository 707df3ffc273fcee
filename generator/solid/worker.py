"""STEP files made in a second process, so that sheets are drawn meanwhile and a crash of the kernel is one error.

Importing this module loads no kernel; `python -m generator.solid` is the second process. The description goes to it,
and what was written comes back, pickled through files without names, so neither side waits for the other to read.
"""

from __future__ import annotations

import os
import pickle
import signal
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import IO

from generator.description import Tool, parts_list
from generator.errors import GeneratorError, GeometryError, OutputError
from generator.solid.written import Written

__all__ = ["WHOLE_TOOL", "Job", "serve", "start"]

WHOLE_TOOL = ""
"""The key of `names` that stands for the file of the whole tool."""


@dataclass(frozen=True, slots=True)
class _Order:
    """What the second process is asked for."""

    tool: Tool
    names: Mapping[str, str]
    folder: str
    stamp: str


def start(tool: Tool, names: Mapping[str, str], folder: Path, stamp: str) -> Job:
    """Begin to write STEP files and return the running job.

    `names` gives the file name for each part's name, and for `WHOLE_TOOL` that of the assembly; files go into `folder`,
    which exists. `stamp` is the time for the headers, in the form of ISO 8601.
    Raises OutputError if the second process cannot be started, GeometryError if the tool has no such part.
    """
    unknown = [name for name in names if name != WHOLE_TOOL and name not in tool.parts]
    if unknown:
        message = f"{tool.title}: no part called {', '.join(unknown)}; there are {', '.join(tool.parts)}"
        raise GeometryError(message)
    root = str(Path(__file__).resolve().parents[2])
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, (root, os.environ.get("PYTHONPATH"))))}
    # -P keeps modules lying about in the caller's folder out of the second process.
    command = [sys.executable, "-P", "-m", "generator.solid"]
    with ExitStack() as files:
        try:
            order, answer, complaints = (files.enter_context(tempfile.TemporaryFile()) for _ in range(3))
            pickle.dump(_Order(tool, dict(names), str(folder.absolute()), stamp), order, pickle.HIGHEST_PROTOCOL)
            order.seek(0)
            process = subprocess.Popen(command, stdin=order, stdout=answer, stderr=complaints, env=environment)
        except OSError as failure:
            message = f"the solids' process cannot be started ({failure.strerror})"
            raise OutputError(message) from failure
        return Job(process, answer, complaints, files.pop_all())


class Job:
    """STEP files on their way. Leaving a `with` block ends the second process if it still runs."""

    def __init__(
        self, process: subprocess.Popen[bytes], answer: IO[bytes], complaints: IO[bytes], files: ExitStack
    ) -> None:
        self._process = process
        self._files = files
        self._answer = answer
        self._complaints = complaints

    def __enter__(self) -> Job:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    @property
    def process_id(self) -> int:
        """Number of the second process."""
        return self._process.pid

    def close(self) -> None:
        """End the second process if it still runs, and let go of its files."""
        if self._process.poll() is None:
            self._process.kill()
            self._process.wait()
        self._files.close()

    def result(self, timeout_s: float) -> dict[str, Written]:
        """What was written, by file name; waits for it, once.

        Raises GeometryError as `solid_of` does, and OutputError if a file cannot be written, the kernel crashes, or the
        time runs out; the second process has ended in every case.
        """
        try:
            self._process.wait(timeout_s)
            return self._read()
        except subprocess.TimeoutExpired as late:
            message = f"the solids were not ready after {timeout_s:g} s; their process was ended"
            raise OutputError(message) from late
        finally:
            self.close()

    def _read(self) -> dict[str, Written]:
        code = self._process.returncode
        if code != 0:
            self._complaints.seek(0)
            said = self._complaints.read().decode("utf-8", "replace").strip().splitlines()
            message = f"the solids' process ended early ({_fate(code)}{': ' + said[-1] if said else ''})"
            raise OutputError(message)
        self._answer.seek(0)
        try:
            answer = pickle.load(self._answer)
        except (EOFError, pickle.UnpicklingError) as failure:
            message = "the solids' process ended without an answer"
            raise OutputError(message) from failure
        if isinstance(answer, GeneratorError):
            raise answer
        written: dict[str, Written] = answer
        return written


def _fate(code: int) -> str:
    """How a process ended, in words."""
    if code < 0:
        return signal.strsignal(-code) or f"signal {-code}"
    return f"code {code}"


def serve() -> None:
    """Be the second process: write what standard input orders and answer on standard output."""
    # The kernel may print from compiled code: it gets the error channel for its output, the answer keeps the real one.
    with os.fdopen(os.dup(1), "wb") as answer:
        os.dup2(2, 1)
        order: _Order = pickle.load(sys.stdin.buffer)
        try:
            reply: dict[str, Written] | GeneratorError = _write(order)
        except (GeometryError, OutputError) as error:
            reply = error
        pickle.dump(reply, answer)


def _write(order: _Order) -> dict[str, Written]:
    """Write the files of an order, solids built once."""
    from generator.solid.step import Solids, write_part, write_tool

    tool, folder, solids = order.tool, Path(order.folder), Solids()
    number_of = {name: row.number for row in parts_list(tool) for name in row.parts}
    written: dict[str, Written] = {}
    for name, file_name in order.names.items():
        path = folder / file_name
        if name == WHOLE_TOOL:
            written[file_name] = write_tool(tool, path, order.stamp, solids)
        else:
            part, number = tool.parts[name], number_of.get(name, 0)
            written[file_name] = write_part(part, path, order.stamp, number, name in tool.turning, solids)
    return written
