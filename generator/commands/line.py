"""The command line: each command reads, calls one function, prints, and returns its exit code.

0 done, 1 a finding forbids making the tool, 2 bad input or nothing could be written; an interrupt goes on to the entry.
"""

from __future__ import annotations

import argparse
import io
import os
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

from generator.commands.arguments import Command, parser_for
from generator.errors import GeneratorError, InputError, OutputError

if TYPE_CHECKING:
    from generator.job.design import Design
    from generator.job.reader import Job
    from generator.job.shop import ShopFile
    from generator.tables import OwnRing

__all__ = ["run_line"]

DONE, STOP, BAD = 0, 1, 2
PIPE_CLOSED = 141
# Their only options carry no value, so that the order of the words may be changed.
_OPEN_LISTS = ("table", "reckon")
TRACE_VARIABLE = "TAILSTOCK_TRACE"


def run_line(arguments: Sequence[str]) -> int:
    """Run the command of these words and return its exit code; KeyboardInterrupt passes through."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A terminal that cannot show a diameter sign gets a question mark, not a crash.
            stream.reconfigure(errors="replace")
    try:
        code = _parse_and_run(arguments)
        _flush()
    except BrokenPipeError:
        _silence_stdout()
        return PIPE_CLOSED
    except OutputError as problem:
        _silence_stdout()
        _complain(str(problem))
        return BAD
    return code


def _parse_and_run(arguments: Sequence[str]) -> int:
    try:
        options = parser_for(_COMMANDS).parse_args(_flags_first(arguments))
    except SystemExit as left:
        return left.code if isinstance(left.code, int) else BAD
    return _run_command(options)


def _flags_first(arguments: Sequence[str]) -> list[str]:
    """The words with options before the rest: argparse takes none between the words of an open list."""
    if not arguments or arguments[0] not in _OPEN_LISTS:
        return list(arguments)
    options: list[str] = []
    words: list[str] = []
    rest = iter(arguments[1:])
    for word in rest:
        if not word.startswith("-"):
            words.append(word)
            continue
        options.append(word)
        if word == "--shop":
            options += [value for value in [next(rest, None)] if value is not None]
    return [arguments[0], *options, *words]


def _run_command(options: argparse.Namespace) -> int:
    command: Callable[[argparse.Namespace], int] = options.command
    try:
        return command(options)
    except InputError as problem:
        return _tell_faults(problem, options)
    except GeneratorError as problem:
        _complain(str(problem))
        return BAD
    except BrokenPipeError:
        raise
    except OSError as problem:
        where = f": {problem.filename}" if problem.filename else ""
        _complain(f"{problem.strerror or problem}{where}")
        return BAD
    except Exception as problem:
        if os.environ.get(TRACE_VARIABLE):
            raise
        words = " ".join(str(problem).split())[:200]
        _complain(
            f"a fault of this program, not of your input ({type(problem).__name__}: {words}); nothing was written. "
            f"Set {TRACE_VARIABLE}=1 and run it again to see where."
        )
        return BAD


def _tell_faults(problem: InputError, options: argparse.Namespace) -> int:
    if getattr(options, "json", False):
        from generator.commands.report import faults_data

        _print_json(faults_data(problem))
    else:
        _complain(str(problem))
    return BAD


def _complain(text: str) -> None:
    with suppress(BrokenPipeError):
        print(f"tailstock: {text}", file=sys.stderr)


def _silence_stdout() -> None:
    """Let the interpreter's last flush go nowhere instead of complaining about the closed pipe."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _say(lines: Iterable[str]) -> None:
    # Line by line: an unbuffered output may drop the rest of a long write unnoticed when its reader goes away.
    for line in lines:
        with _told_of_stdout():
            sys.stdout.write(f"{line}\n")


def _flush() -> None:
    with _told_of_stdout():
        sys.stdout.flush()


@contextmanager
def _told_of_stdout() -> Iterator[None]:
    """A failure to print names its place; a reader that went away is no failure."""
    try:
        yield
    except BrokenPipeError:
        raise
    except OSError as problem:
        message = f"standard output: cannot be written: {problem.strerror}; make room, or send it somewhere else"
        raise OutputError(message) from problem


def _print_json(data: Any) -> None:
    import json

    _say(json.dumps(data, indent=1, ensure_ascii=False).split("\n"))


def _list(options: argparse.Namespace) -> int:
    from generator.commands.width import terminal_width
    from generator.kinds import survey, use_templates

    use_templates(options.templates)
    found = survey()
    if options.json:
        _print_json([
            {"kind": line.name, "title": line.title, "summary": line.summary, "problem": line.problem} for line in found
        ])
        return DONE
    from textwrap import wrap

    longest = max((len(line.name) for line in found), default=0)
    for line in found:
        words = f"cannot be loaded: {line.problem}" if line.problem else f"{line.title}. {line.summary}"
        _say(wrap(f"{line.name:<{longest}}  {words}", terminal_width(), subsequent_indent=" " * (longest + 2)))
    return DONE


def _new(options: argparse.Namespace) -> int:
    from shlex import quote

    from generator.commands.new import write_job, write_shop
    from generator.kinds import use_templates

    use_templates(options.templates)
    if options.kind == "shop":
        write_shop(options.file, options.units or "mm")
        _say(_how_found(options.file))
        return DONE
    like = None if options.like is None else _read(options.like, None)
    shop = _shop(options, options.file)
    left_out = write_job(options.kind, options.file, like, options.units, shop)
    _say(_told(shop))
    if left_out:
        _say([f"left out, unknown to this kind: {', '.join(left_out)}"])
    _say([f"{options.file}: written; next: tailstock check {quote(str(options.file))}"])
    return DONE


def _how_found(path: Path) -> list[str]:
    """What becomes of a new shop file: found by itself, or to be given."""
    from shlex import quote

    from generator.job.shop_place import SHOP_NAME, standing_shop

    if path.name == SHOP_NAME:
        return [f"{path}: written; fill it in: it serves every job beside it, or all jobs as {standing_shop()}"]
    return [
        f"{path}: written; fill it in and give it with --shop {quote(str(path))}, or call it {SHOP_NAME} beside the "
        f"job, or put it at {standing_shop()}"
    ]


def _told(shop: ShopFile | None) -> list[str]:
    """Which shop file serves, where nobody named one."""
    return [f"shop file: {shop.source}, {shop.found}"] if shop is not None and shop.found else []


def _check(options: argparse.Namespace) -> int:
    from generator.commands.report import design_data, report_lines
    from generator.commands.width import terminal_width
    from generator.job.design import advised, inspect, work_out
    from generator.kinds import use_templates

    use_templates(options.templates)
    design = advised(inspect(work_out(_read(options.job, _shop_of_job(options)))))
    if options.readings is not None:
        return _hold_readings(options, design)
    if options.json:
        _print_json(design_data(design))
    else:
        _say(report_lines(design, terminal_width(), all_details=options.all))
    return STOP if design.stops else DONE


def _hold_readings(options: argparse.Namespace, design: Design) -> int:
    """Print what the readings of a filled table mean for this design."""
    from generator.commands.readings import inspected, readings_data, readings_lines
    from generator.commands.report import design_data, verdict
    from generator.commands.width import terminal_width

    found = inspected(design, options.readings)
    if options.json:
        _print_json({**design_data(design), "inspection": readings_data(found)})
    else:
        _say([*readings_lines(found, design, terminal_width()), f"The design itself: {verdict(design)}"])
    return DONE if found.is_right and not design.stops else STOP


def _make(options: argparse.Namespace) -> int:
    from generator.commands.report import design_data, finding_lines, shop_lines, verdict
    from generator.commands.width import terminal_width
    from generator.kinds import use_templates
    from generator.make import make

    use_templates(options.templates)
    job = _read(options.job, _shop_of_job(options))
    made = make(job, options.out, anyway=options.anyway, progress=_progress())
    design = made.design
    if options.json:
        folder = None if made.folder is None else str(made.folder)
        _print_json({**design_data(design), "folder": folder, "files": list(made.files)})
        return STOP if design.stops else DONE
    _say(shop_lines(job, terminal_width()))
    for finding in design.findings:
        if finding.severity != "note":
            _say([*finding_lines(finding, job.unit, terminal_width()), ""])
    _say([verdict(design)])
    if made.folder is None:
        _say(["Nothing was written. Change what the stops name, or write it with --anyway."])
    else:
        _say([f"{made.folder}: {len(made.files)} files"])
    return STOP if design.stops else DONE


def _table(options: argparse.Namespace) -> int:
    from generator import tables
    from generator.commands.report import row_lines, table_lines
    from generator.commands.width import terminal_width

    with tables.use_own_rings(_own_rings(options)):
        if options.name is None:
            names = tables.names()
            if options.json:
                _print_json(names)
            else:
                _say(table_lines(names, terminal_width()))
            return DONE
        rows = tables.rows(options.name, " ".join(options.key) or None)
    if options.json:
        _print_json(list(rows))
    else:
        _say(row_lines(rows, terminal_width()))
    return DONE


def _reckon(options: argparse.Namespace) -> int:
    from generator.commands.reckon import reckon
    from generator.commands.width import terminal_width
    from generator.tables import use_own_rings

    # The list makes sure that nothing is printed before all of it is known to be right.
    with use_own_rings(_own_rings(options)):
        lines = list(reckon(options.what, options.pairs, terminal_width(), as_json=options.json))
    _say(lines)
    return DONE


def _proof(options: argparse.Namespace) -> int:
    from generator.commands.proof import proof_data, proof_lines
    from generator.commands.width import terminal_width
    from generator.proof import proof_file

    found = proof_file(options.file)
    if options.json:
        _print_json(proof_data(options.file, found))
    else:
        _say(proof_lines(options.file, found, terminal_width()))
    return DONE if found.is_clean else STOP


def _read(given: str, shop: ShopFile | None) -> Job:
    from generator.job.reader import find_job, read_job

    return read_job(find_job(given), shop=shop)


def _shop_of_job(options: argparse.Namespace) -> ShopFile | None:
    from generator.job.reader import find_job

    return _shop(options, find_job(options.job))


def _shop(options: argparse.Namespace, beside: Path | None = None) -> ShopFile | None:
    """The shop file that serves: the one named, none where that is wanted, else the one that is found."""
    if options.no_shop:
        return None
    if options.shop is not None:
        from generator.job.shop import read_shop

        return read_shop(options.shop)
    from generator.job.shop_place import find_shop

    return find_shop(beside)


def _own_rings(options: argparse.Namespace) -> Sequence[OwnRing]:
    """The drawer's bearings of no table, for commands that have no job; nothing heavy is read where none can be."""
    from generator.job.shop_place import standing_shop

    if options.no_shop or (options.shop is None and not standing_shop().is_file()):
        return ()
    from generator.job.shop import own_rings

    shop = _shop(options)
    return () if shop is None else own_rings(shop.shop)


def _progress() -> Callable[[str], None]:
    """Tells each stage on a terminal, and nothing where the output goes to a file or another program."""
    if not sys.stderr.isatty():
        return lambda _: None
    return lambda stage: print(f"  {stage}", file=sys.stderr, flush=True)


_COMMANDS: Mapping[str, Command] = {
    "list": _list, "new": _new, "check": _check, "make": _make, "table": _table, "reckon": _reckon, "proof": _proof,
}
