"""The words of the command line: commands, their options and what is said of them."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

__all__ = ["Command", "parser_for"]

Command = Callable[[argparse.Namespace], int]


def parser_for(run: Mapping[str, Command]) -> argparse.ArgumentParser:
    """The parser of all words; each command sets the function that runs it."""
    parser = argparse.ArgumentParser(
        prog="tailstock",
        description="Designs tailstock tooling for the manual lathe from one job file.",
        epilog="exit code: 0 done, 1 a stop or a faulty drawing, 2 bad input or nothing could be written, "
        "130 interrupted, 141 whoever read the output went away",
    )
    parser.add_argument("--version", action=_Version, nargs=0, help="print the version and leave")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    templates = _option("--templates", type=Path, metavar="DIR", help="a folder with templates of your own")
    shop = _shop_options()
    json = _option("--json", action="store_true", help="print plain data instead of text")
    _add_list(commands, [templates, json], run["list"])
    _add_new(commands, [templates, shop], run["new"])
    _add_check(commands, [templates, shop, json], run["check"])
    _add_make(commands, [templates, shop, json], run["make"])
    _add_table(commands, [shop, json], run["table"])
    _add_reckon(commands, [shop, json], run["reckon"])
    _add_proof(commands, [json], run["proof"])
    return parser


class _Version(argparse.Action):
    """Prints the version; it is looked up only then."""

    def __call__(self, parser: argparse.ArgumentParser, *_: Any, **__: Any) -> None:
        from importlib import metadata

        try:
            version = metadata.version("tailstock")
        except metadata.PackageNotFoundError:
            version = "(not installed)"
        print(f"tailstock {version}")
        parser.exit()


def _option(name: str, **how: Any) -> argparse.ArgumentParser:
    parent = argparse.ArgumentParser(add_help=False)
    parent.add_argument(name, **how)
    return parent


def _shop_options() -> argparse.ArgumentParser:
    """Which shop file serves: the one named, none, or by default the one that is found."""
    parent = argparse.ArgumentParser(add_help=False)
    which = parent.add_mutually_exclusive_group()
    which.add_argument(
        "--shop", type=Path, metavar="FILE",
        help="shop file for what the job does not say; else shop.toml beside the job, else that of the configuration "
        "folder (tailstock/shop.toml)",
    )
    which.add_argument("--no-shop", action="store_true", help="use no shop file, even where one stands")
    return parent


def _add(commands: Any, name: str, help_text: str, parents: list[argparse.ArgumentParser], command: Any) -> Any:
    parser = commands.add_parser(name, help=help_text, description=help_text, parents=parents)
    parser.set_defaults(command=command)
    return parser


def _add_list(commands: Any, parents: list[argparse.ArgumentParser], run: Command) -> None:
    _add(commands, "list", "kinds of tool, one line each", parents, run)


def _add_new(commands: Any, parents: list[argparse.ArgumentParser], run: Command) -> None:
    parser = _add(commands, "new", "write a job file to fill in, or a shop file", parents, run)
    parser.add_argument("kind", metavar="KIND", help='kind of tool (see "tailstock list"), or the word shop')
    parser.add_argument("file", metavar="FILE", type=Path, help="file to write; it must not exist yet")
    parser.add_argument("--like", metavar="JOB", help="take the values given in this job")
    parser.add_argument("--units", choices=("mm", "in"), help="unit of bare numbers")


def _add_check(commands: Any, parents: list[argparse.ArgumentParser], run: Command) -> None:
    parser = _add(commands, "check", "say what is right and wrong with a job", parents, run)
    parser.add_argument("job", metavar="JOB", help="job file, or the name of a shipped job such as demo")
    parser.add_argument("--all", action="store_true", help="notes with all their details, not in a line each")
    parser.add_argument(
        "--readings", type=Path, metavar="FILE", help="the inspection table that make wrote, filled in: what it means"
    )


def _add_make(commands: Any, parents: list[argparse.ArgumentParser], run: Command) -> None:
    parser = _add(commands, "make", "write solids, drawings, plan and record", parents, run)
    parser.add_argument("job", metavar="JOB", help="job file, or the name of a shipped job such as demo")
    parser.add_argument("--out", metavar="DIR", type=Path, help="folder to write; default outputs/NAME")
    parser.add_argument("--anyway", action="store_true", help="write in spite of a stop; every sheet is marked")


def _add_table(commands: Any, parents: list[argparse.ArgumentParser], run: Command) -> None:
    parser = _add(commands, "table", "a standard's rows with their source", parents, run)
    parser.add_argument("name", metavar="NAME", nargs="?", help="name of a table; without it all are listed")
    parser.add_argument("key", metavar="KEY", nargs="*", help="only the rows with this key")


def _add_reckon(commands: Any, parents: list[argparse.ArgumentParser], run: Command) -> None:
    parser = _add(commands, "reckon", "a shop calculation; without keys, what it takes and gives", parents, run)
    parser.add_argument("what", metavar="WHAT", nargs="?", help="name of a calculation; without it all are listed")
    parser.add_argument("pairs", metavar="KEY=VALUE", nargs="*", help='inputs, such as axial="500 N"')


def _add_proof(commands: Any, parents: list[argparse.ArgumentParser], run: Command) -> None:
    parser = _add(commands, "proof", "find the faults of a finished drawing", parents, run)
    parser.add_argument("file", metavar="FILE", type=Path, help="a drawing in the DXF format")
