"""One job in, one folder out: solids, drawings, plan and record, all of them or none.

The solids are made by a second process while this one checks and draws. Dates come from the job alone, so the same
inputs give the same bytes.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

from generator.description import Part, Tool
from generator.job.design import Design, advised, inspect, work_out
from generator.job.reader import Job
from generator.record import RECORD, record_text, strangers
from generator.solid import worker
from generator.swap import replacing

if TYPE_CHECKING:
    from generator.ink import Ink
    from generator.making.setups import SetUp
    from generator.making.stock import StockRow

__all__ = ["Made", "file_names", "make"]

_LONGEST_WAIT_S = 600.0
_NO_DATE = "1970-01-01"
"""Stands in the STEP header where the job gives no date; the sheets then say "not issued"."""

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Made:
    """What came of it: the design with its findings, and the folder with its files, or None where a stop forbade it."""

    design: Design
    folder: Path | None
    files: tuple[str, ...] = ()


class _RefusedError(Exception):
    """A stop was found and nobody said anyway."""

    def __init__(self, design: Design) -> None:
        super().__init__()
        self.design = design


def make(
    job: Job, out: Path | None = None, *, anyway: bool = False, progress: Progress = lambda _: None
) -> Made:
    """Write everything for a job into the folder `out`, by default outputs/NAME, and return what came of it.

    What was made there before is replaced as a whole. A stop forbids it unless `anyway`; every sheet is marked then.
    Raises: InputError where nothing can be built, OutputError where it cannot be written; the earlier folder stands.
    """
    design = work_out(job)
    target = Path("outputs") / job.name if out is None else out
    try:
        with replacing(target, strangers) as folder:
            design = _write_all(design, folder, anyway, progress)
            files = tuple(sorted(path.name for path in folder.iterdir()))
    except _RefusedError as refused:
        return Made(refused.design, None)
    return Made(design, target, files)


def file_names(job_name: str, tool: Tool) -> dict[str, dict[str, str]]:
    """Names of the files by what they are ("step", "dxf", "profile") and by part; "" is the whole tool."""
    stems = {worker.WHOLE_TOOL: job_name}
    stems |= {part.name: f"{job_name}-{re.sub(r'[^A-Za-z0-9_]', '-', part.name)}" for part in tool.made}
    return {
        "step": {name: f"{stem}.step" for name, stem in stems.items()},
        "dxf": {name: f"{stem}.dxf" for name, stem in stems.items()},
        "profile": {name: f"{stem}-profile.dxf" for name, stem in stems.items() if name != worker.WHOLE_TOOL},
    }


def _write_all(design: Design, folder: Path, anyway: bool, progress: Progress) -> Design:
    """Write every file into the folder and return the design with its findings."""
    job, tool = design.job, design.tool
    names = file_names(job.name, tool)
    stamp = f"{job.params.sheet.date or _NO_DATE}T00:00:00"
    progress("solids begun in a second process")
    with worker.start(tool, names["step"], folder, stamp) as solids:
        progress("checks")
        design = advised(inspect(design))
        if design.stops and not anyway:
            raise _RefusedError(design)
        setups = tuple(job.kind.order(design.choices, tool))
        with _fixed_metadata():
            _write_papers(design, setups, names, folder, progress)
        progress("waiting for the solids")
        solids.result(_LONGEST_WAIT_S)
    progress("record")
    (folder / RECORD).write_text(record_text(design, setups, folder), encoding="utf-8", newline="\n")
    return design


def _write_papers(
    design: Design, setups: tuple[SetUp, ...], names: Mapping[str, Mapping[str, str]], folder: Path, progress: Progress
) -> None:
    """Sheets, profiles, picture and plan."""
    from generator.checks import chains
    from generator.making.stock import stock_for
    from generator.prints.svg import svg_text

    job, tool = design.job, design.tool
    stock = stock_for(tool, setups, design.choices, job.unit)
    gaps = chains(tool)
    progress("arrangement")
    whole = _write_arrangement(design, gaps, stock, folder / names["dxf"][worker.WHOLE_TOOL])
    sheets = {}
    for part in tool.made:
        progress(f"sheet of {part.title.lower()}")
        sheets[part.name] = _write_part(design, part, stock, folder / names["dxf"][part.name])
        _write_profile(design, part, folder / names["profile"][part.name])
    progress("plan")
    (folder / f"{job.name}.svg").write_text(svg_text(whole), encoding="utf-8", newline="\n")
    _write_plan(design, setups, stock, gaps, whole, sheets, folder / f"{job.name}.pdf")


def _write_arrangement(design: Design, gaps: Mapping[str, Any], stock: Iterable[StockRow], path: Path) -> Ink:
    from generator.drawing.arrangement import arrangement
    from generator.ink import read_ink
    from generator.titles import arrangement_block, stock_texts

    block = arrangement_block(design)
    sheet = arrangement(design.tool, block, chains=gaps, stock=stock_texts(stock, block.manner))
    _write_dxf(sheet.document, path, design)
    return read_ink(sheet.document, sheet.layout_name)


def _write_part(design: Design, part: Part, stock: Iterable[StockRow], path: Path) -> Ink:
    from generator.drawing.part_sheet import part_sheet
    from generator.ink import read_ink
    from generator.titles import part_block

    sheet = part_sheet(part, part_block(design, part, stock))
    _write_dxf(sheet.document, path, design)
    return read_ink(sheet.document, sheet.layout_name)


def _write_profile(design: Design, part: Part, path: Path) -> None:
    from generator.drawing.profile import profile

    _write_dxf(profile(part), path, design)


def _write_plan(
    design: Design,
    setups: tuple[SetUp, ...],
    stock: tuple[StockRow, ...],
    gaps: Mapping[str, Any],
    whole: Ink,
    sheets: Mapping[str, Ink],
    path: Path,
) -> None:
    from generator.making.settings import settings_for
    from generator.plan import compose_plan
    from generator.prints.plan import write_plan

    job, tool = design.job, design.tool
    settings = settings_for(tool, design.choices, stock, job.unit)
    plan = compose_plan(
        job.name, job.params.sheet, tool, design.choices, design.findings, tuple(gaps.values()), setups, stock,
        settings, sheets, whole, job.unit,
    )
    # Through memory, so that a full disk is met in one place only.
    printed = BytesIO()
    write_plan(plan, printed)
    path.write_bytes(printed.getvalue())


def _write_dxf(document: Any, path: Path, design: Design) -> None:
    from generator.drawing.dxf_file import dxf_bytes

    path.write_bytes(dxf_bytes(document, design.job.params.sheet.dxf_version or "R2013"))


@contextmanager
def _fixed_metadata() -> Iterator[None]:
    """Hold the drawing library's time stamps and random identifiers still; they go in at birth and at writing."""
    from generator.drawing.font import prepare_fonts

    prepare_fonts()
    import ezdxf

    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before
