"""A result folder replaced as a whole: built beside the old one, then put in its place, or not at all.

Beside the folder NAME stand, for as long as the work lasts, `.NAME.lock` (held by the operating system, so that it
falls with the process), `.NAME.new-` with eight digits and, between two renames, `.NAME.old`. The digits keep a helper
process that outlives a killed run out of the folder of the next one.
"""

from __future__ import annotations

import os
import re
import secrets
import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from generator.errors import OutputError

__all__ = ["replacing"]


@contextmanager
def replacing(target: Path, strangers: Callable[[Path], list[str]]) -> Iterator[Path]:
    """A new empty folder that takes the place of `target` when the block ends well, and vanishes otherwise.

    `strangers` names what stands in an existing folder and would be lost.
    Raises: OutputError; what stood at `target` is untouched then.
    """
    place = _real(target)
    with _as_output_error(target, place), _parents(place.parent), _lock(place, target):
        _recover(place)
        _refuse(place, target, strangers)
        fresh = _beside(place, f"new-{secrets.token_hex(4)}")
        fresh.mkdir()
        try:
            yield fresh
            _put_in_place(fresh, place)
        finally:
            shutil.rmtree(fresh, ignore_errors=True)


def _real(target: Path) -> Path:
    """The folder meant, symbolic links followed."""
    place = Path(os.path.realpath(target))
    here = Path.cwd()
    if place == here or place in here.parents:
        message = f"{target}: a folder that you stand in cannot be replaced; give --out a folder of its own"
        raise OutputError(message)
    return place


def _beside(place: Path, ending: str) -> Path:
    return place.with_name(f".{place.name}.{ending}")


@contextmanager
def _as_output_error(target: Path, place: Path) -> Iterator[None]:
    """Failures of the file system in one line."""
    try:
        yield
    except OutputError:
        raise
    except OSError as failure:
        message = f"{target}: cannot be written: {_reason(place, failure)}; what stood there before is untouched"
        raise OutputError(message) from failure


def _reason(place: Path, failure: OSError) -> str:
    """Why, and what to do; files that stand beside the folder only while it is made mean nothing to anybody."""
    reason = failure.strerror or str(failure)
    if failure.filename is None:
        return reason
    named = Path(os.fsdecode(failure.filename))
    if named == place or place in named.parents:
        return f"{reason} ({named})"
    folder = named if named.is_dir() else named.parent
    return f"{reason} in the folder {folder}; give --out a folder elsewhere"


@contextmanager
def _parents(folder: Path) -> Iterator[None]:
    """The folder made where it is missing; taken away again if nothing came of it."""
    missing = []
    while not folder.exists():
        missing.append(folder)
        folder = folder.parent
    try:
        for each in reversed(missing):
            each.mkdir(exist_ok=True)
        yield
    except BaseException:
        for each in missing:
            with suppress(OSError):
                each.rmdir()
        raise


@contextmanager
def _lock(place: Path, target: Path) -> Iterator[None]:
    """Exclusive use of the folder among all runs of this program."""
    path = _beside(place, "lock")
    handle, is_ours = -1, False
    # From the first moment under watch: an interrupt may fall between any two lines.
    try:
        while True:
            handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
            is_ours = _try_lock(handle)
            if not is_ours:
                message = f"{target}: another run is writing there; wait for it to end"
                raise OutputError(message)
            if _is_still(handle, path):
                break
            os.close(handle)  # the run before took its lock file away after we had opened it
            handle = -1
        yield
    finally:
        if handle >= 0:
            # An interrupt may have fallen before the lock was tried; what another run holds is left to it.
            if is_ours or _try_lock(handle):
                with suppress(OSError):
                    path.unlink()
            os.close(handle)


def _is_still(handle: int, path: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(handle), path.stat())
    except FileNotFoundError:
        return False


if sys.platform == "win32":
    import msvcrt

    def _try_lock(handle: int) -> bool:
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _try_lock(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


def _recover(place: Path) -> None:
    """Clear away what a run that was killed left behind; the lock says that none is alive."""
    old = _beside(place, "old")
    if old.exists() and not place.exists():
        old.rename(place)
    unfinished = re.compile(rf"\.{re.escape(place.name)}\.new-[0-9a-f]{{8}}")
    for left in [path for path in place.parent.iterdir() if path == old or unfinished.fullmatch(path.name)]:
        shutil.rmtree(left, ignore_errors=True)
    if old.exists():
        message = f"{old}: cannot be removed; take it away by hand"
        raise OutputError(message)


def _refuse(place: Path, target: Path, strangers: Callable[[Path], list[str]]) -> None:
    if not place.exists():
        return
    if not place.is_dir():
        message = f"{target}: this is a file, not a folder; give --out another name"
        raise OutputError(message)
    if found := strangers(place):
        shown = ", ".join(found[:3]) + (f" and {len(found) - 3} more" if len(found) > 3 else "")
        message = f"{target}: holds what this program did not make: {shown}; move it, or give another --out"
        raise OutputError(message)


def _put_in_place(fresh: Path, place: Path) -> None:
    old = _beside(place, "old")
    if not place.exists():
        fresh.rename(place)
        return
    place.rename(old)
    try:
        fresh.rename(place)
    except BaseException:
        old.rename(place)
        raise
    shutil.rmtree(old, ignore_errors=True)
