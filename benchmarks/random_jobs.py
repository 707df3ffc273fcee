"""Random jobs of every kind, their sheets drawn, read back and proofed; solids are not made.

    python benchmarks/random_jobs.py [COUNT [FIRST_SEED]] [--keep DIR]

A job is taken where the reader accepts it and nothing forbids making the tool. The same seed gives the same job.
Prints each faulty job with its faults, then a summary; leaves with 1 if a sheet has a fault. `--keep` writes the jobs
and sheets that are faulty into a folder.
"""

from __future__ import annotations

import argparse
import random
import sys
import time
import tomllib
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from io import StringIO
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from generator.errors import GeneratorError, InputError
from generator.job.design import Design, inspect, work_out
from generator.job.reader import read_job
from generator.job.toml_write import value_text
from generator.job.workshop import workshop_of
from generator.kinds import load_kind, survey
from generator.proof import Fault, document_of, proof_document
from generator.tables.loader import load

RINGS = tuple(
    row.text("designation")
    for row in load("rings").rows
    if row.text("type") == "deep groove" and 8 <= row.number("bore_mm") <= 30
)
_OWN_SIZES = {row.text("designation"): row for row in load("rings").rows}


# -- jobs


def _tenths(rng: random.Random, low: float, high: float) -> float:
    return round(rng.uniform(low, high), 1)


def _some(rng: random.Random, share: float, **fields: Callable[[], Any]) -> dict[str, Any]:
    return {name: make() for name, make in fields.items() if rng.random() < share}


def _revolving(rng: random.Random) -> dict[str, Any]:
    count = rng.choice((1, 1, 2, 2, 2, 3))
    names = rng.sample(RINGS, count)
    names.sort(key=lambda name: (-_OWN_SIZES[name].number("outside_mm"), -_OWN_SIZES[name].number("bore_mm")))
    stack: list[dict[str, Any]] = []
    for name in names:
        stack.append({"ring": name})
        if rng.random() < 0.2:
            stack[-1]["measured_width"] = round(_OWN_SIZES[name].number("width_mm") - rng.choice((0.01, 0.03)), 3)
        if rng.random() < 0.15 and name != names[-1]:
            stack.append({"spacer": _tenths(rng, 2, 15)})
    largest = max(_OWN_SIZES[name].number("outside_mm") for name in names)
    taper = 2 if largest < 27 else 3 if largest < 40 else rng.choice((4, 5))
    return {
        "socket": {"taper": f"Morse {rng.choice((taper, taper, min(taper + 1, 6)))}"},
        "passes": {
            "holder_width": _tenths(rng, 8, 25), "tip_ahead": _tenths(rng, 3, 9),
            "work_diameter": _tenths(rng, 10, 40),
        } | _some(rng, 0.3, tip_beside=lambda: _tenths(rng, 0.5, 3), insert_width=lambda: _tenths(rng, 4, 9)),
        "stack": stack,
        "shank": _some(rng, 0.5, end=lambda: rng.choice(("plain", "tang", "drawbar"))),
        "body": _some(rng, 0.15, flats_across=lambda: float(round(largest * 0.95)))
        | _some(rng, 0.1, barrel_length=lambda: _tenths(rng, 60, 300)),
        "spindle": _some(
            rng, 0.25, hold=lambda: rng.choice(("flats", "hole", "none")),
            point_angle=lambda: rng.choice((60, 60, 75, 90)), tip=lambda: _tenths(rng, 0.5, 2),
        ) | _some(rng, 0.15, overhang=lambda: _tenths(rng, 20, 200)),
        "retention": _some(rng, 0.3, style=lambda: rng.choice(("screw", "nut", "circlip"))),
        "cover": _some(rng, 0.5, style=lambda: rng.choice(("pressed", "stuck", "snap ring", "screwed"))),
    }


def _dead(rng: random.Random) -> dict[str, Any]:
    return {
        "socket": {"taper": f"Morse {rng.randint(0, 6)}"},
        "shank": _some(rng, 0.4, end=lambda: rng.choice(("plain", "tang", "drawbar"))),
        "point": {"work_diameter": _tenths(rng, 4, 60), "form": rng.choice(("full", "half"))}
        | _some(
            rng, 0.25, head_length=lambda: _tenths(rng, 4, rng.choice((30, 30, 300))),
            tip=lambda: _tenths(rng, 0.3, 2),
        ),
    }


def _varied(value: Any, rng: random.Random) -> Any:
    """An example with every number changed by up to a quarter, for a kind that has no maker of its own."""
    if isinstance(value, dict):
        return {key: _varied(inner, rng) for key, inner in value.items()}
    if isinstance(value, list):
        return [_varied(inner, rng) for inner in value]
    if isinstance(value, bool) or not isinstance(value, int | float):
        return value
    return round(value * rng.uniform(0.8, 1.25), 1)


MAKERS: dict[str, Callable[[random.Random], dict[str, Any]]] = {"revolving-centre": _revolving, "dead-centre": _dead}


def job_text(seed: int) -> str:
    """The job of a seed as TOML, accepted or not; kinds take turns."""
    rng = random.Random(seed)
    kinds = [line.name for line in survey() if not line.problem]
    kind = kinds[seed % len(kinds)]
    maker = MAKERS.get(kind, lambda rng: _varied(tomllib.loads(load_kind(kind).EXAMPLE), rng))
    sheet = _some(
        rng, 0.6, owner=lambda: rng.choice(("Lower Mill workshop", "A. Berger, model engineer", "Quay Street")),
        number=lambda: f"LM-{rng.randint(1, 9999):04d}", drawn_by=lambda: "R. Hale", approved_by=lambda: "J. Okoro",
        date=lambda: "2026-11-16",
    )
    data = {"kind": kind, "name": f"random-{seed}", "units": "mm", "sheet": sheet, **maker(rng)}
    return "".join(f"{key} = {value_text(value)}\n" for key, value in data.items() if value not in ({}, []))


def accepted(seed: int) -> Design | None:
    """The job of a seed worked out, or None where it is refused or must not be made."""
    try:
        design = inspect(work_out(read_job(job_text(seed), name=f"job {seed}")))
    except InputError:
        return None
    return None if design.stops else design


# -- sheets


@dataclass(slots=True)
class Result:
    """What became of one job: faults and remarks by sheet, or the reason why a sheet could not be drawn."""

    seed: int
    kind: str
    sheets: int = 0
    faults: dict[str, list[Fault]] = field(default_factory=dict)
    remarks: Counter[str] = field(default_factory=Counter)
    undrawn: str = ""
    texts: dict[str, str] = field(default_factory=dict)

    @property
    def is_clean(self) -> bool:
        """True where every sheet was drawn and has no fault."""
        return not self.undrawn and not self.faults


def sheets_of(design: Design) -> Iterator[tuple[str, Any]]:
    """Name and sheet of the arrangement, of the assembly where there is one, and of each made part."""
    from generator.checks import chains
    from generator.drawing.arrangement import arrangement
    from generator.drawing.assembly_sheet import Joining, assembly_sheet
    from generator.drawing.centres import centres_of
    from generator.drawing.part_sheet import part_sheet
    from generator.making.assembly import assembly_moves
    from generator.making.stock import stock_for
    from generator.titles import (
        arrangement_block,
        assembly_block,
        is_assembled,
        manner_for,
        part_block,
        stock_texts,
    )

    job, tool = design.job, design.tool
    stock = stock_for(tool, tuple(job.kind.order(design.choices, tool, workshop_of(job))), design.choices, job.unit)
    texts = stock_texts(stock, manner_for(design))
    yield "arrangement", arrangement(tool, arrangement_block(design), chains=chains(tool), stock=texts)
    if is_assembled(tool):
        steps = [Joining(move.pieces, move.title, move.into, move.side, move.contacts) for move in assembly_moves(tool)]
        yield "assembly", assembly_sheet(tool, assembly_block(design), steps)
    for part in tool.made:
        yield part.name, part_sheet(part, part_block(design, part, stock), centres=centres_of(part))


def proofed(seed: int, design: Design) -> Result:
    """Every sheet of a job written, read back and proofed."""
    result = Result(seed, design.job.kind_name)
    try:
        for name, sheet in sheets_of(design):
            stream = StringIO()
            sheet.document.write(stream)
            found = proof_document(document_of(stream.getvalue()))
            result.sheets += 1
            faults = [one for one in found.faults if one.severity == "fault"]
            result.remarks.update(one.code for one in found.faults if one.severity != "fault")
            if faults:
                result.faults[name] = faults
                result.texts[name] = stream.getvalue()
    except GeneratorError as problem:
        result.undrawn = str(problem)
    return result


def results(count: int, first_seed: int = 0) -> Iterator[Result]:
    """The results of so many accepted jobs from a seed on."""
    seed = first_seed
    while count:
        design = accepted(seed)
        if design is not None:
            yield proofed(seed, design)
            count -= 1
        seed += 1


def main() -> int:
    """Proof so many jobs and print what was found; 1 if a sheet is faulty."""
    parser = argparse.ArgumentParser(description="Proof the sheets of random accepted jobs.")
    parser.add_argument("count", type=int, nargs="?", default=30)
    parser.add_argument("first", type=int, nargs="?", default=0)
    parser.add_argument("--keep", type=Path)
    options = parser.parse_args()
    start, done = time.perf_counter(), []
    for result in results(options.count, options.first):
        done.append(result)
        if not result.is_clean:
            _tell(result, options.keep)
    _summary(done, time.perf_counter() - start)
    return 0 if all(result.is_clean for result in done) else 1


def _tell(result: Result, keep: Path | None) -> None:
    print(f"seed {result.seed} ({result.kind})" + (f": not drawn: {result.undrawn}" if result.undrawn else ""))
    for name, faults in result.faults.items():
        for one in faults:
            print(f"  {name}: {one}")
    if keep is not None:
        keep.mkdir(parents=True, exist_ok=True)
        (keep / f"{result.seed}.toml").write_text(job_text(result.seed), encoding="utf-8")
        for name, text in result.texts.items():
            (keep / f"{result.seed}-{name}.dxf").write_text(text, encoding="utf-8")


def _summary(done: list[Result], spent_s: float) -> None:
    kinds = Counter(result.kind for result in done)
    sheets = sum(result.sheets for result in done)
    codes = Counter(one.code for result in done for faults in result.faults.values() for one in faults)
    remarks: Counter[str] = sum((result.remarks for result in done), Counter())
    clean = sum(result.is_clean for result in done)
    last = done[-1].seed if done else 0
    print(f"{len(done)} accepted jobs up to seed {last} ({dict(kinds)}), {sheets} sheets in {spent_s:.0f} s")
    print(f"clean: {clean}; not drawn: {sum(bool(result.undrawn) for result in done)}")
    print(f"faults: {dict(codes.most_common()) or 'none'}")
    print(f"remarks: {dict(remarks.most_common()) or 'none'}")


if __name__ == "__main__":
    sys.exit(main())
