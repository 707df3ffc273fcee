"""One job in, one folder out: solids, drawings, plan and record, all of them or none.

The solids are made by a second process while this one checks and draws. Dates come from the job alone, so the same
inputs give the same bytes.
"""

from __future__ import annotations

import gc
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

from generator.description import Part, Tool
from generator.findings import Finding, by_severity
from generator.job.design import Design, advised, inspect, work_out
from generator.job.reader import Job
from generator.job.work import Work, work_of
from generator.job.workshop import drawer_of
from generator.record import RECORD, record_text, strangers
from generator.solid import worker
from generator.swap import replacing
from generator.tables import use_own_rings

if TYPE_CHECKING:
    from generator.ink import Ink
    from generator.making.stock import StockRow

__all__ = ["Made", "file_names", "make"]

_LONGEST_WAIT_S = 600.0
ASSEMBLY = "/assembly"
"""Stands for the assembly sheet among names of parts, which hold no stroke."""

_NO_DATE = "1970-01-01"
"""Stands in the STEP header where the job gives no date; the sheets then say "not issued"."""

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Made:
    """What came of it: the design with its findings, and the folder with its files, or None where a stop forbade it."""

    design: Design
    folder: Path | None
    files: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Drawn:
    """The sheets as read back from what is written: arrangement, assembly and each part as ink, and their faults."""

    whole: Ink
    assembly: Ink | None
    parts: Mapping[str, Ink]
    findings: tuple[Finding, ...]


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
        with replacing(target, strangers) as folder, _uncollected(), use_own_rings(job.own_rings):
            design = _write_all(design, folder, anyway, progress)
            files = tuple(sorted(path.name for path in folder.iterdir()))
    except _RefusedError as refused:
        return Made(refused.design, None)
    return Made(design, target, files)


def file_names(job_name: str, tool: Tool) -> dict[str, dict[str, str]]:
    """Names of the files by what they are ("step", "dxf", "profile") and by part; "" is the whole tool.

    The assembly sheet, of a tool that is put together, is the "dxf" of `ASSEMBLY`.
    """
    stems = {worker.WHOLE_TOOL: job_name}
    stems |= {part.name: f"{job_name}-{re.sub(r'[^A-Za-z0-9_]', '-', part.name)}" for part in tool.made}
    return {
        "step": {name: f"{stem}.step" for name, stem in stems.items()},
        "dxf": {name: f"{stem}.dxf" for name, stem in (stems | _assembly_stem(job_name, tool, stems)).items()},
        "profile": {name: f"{stem}-profile.dxf" for name, stem in stems.items() if name != worker.WHOLE_TOOL},
    }


def _assembly_stem(job_name: str, tool: Tool, stems: Mapping[str, str]) -> dict[str, str]:
    """Name of the assembly sheet without its ending, unlike that of any part."""
    from generator.titles import is_assembled

    stem = f"{job_name}-assembly"
    while stem in stems.values():
        stem += "-sheet"
    return {ASSEMBLY: stem} if is_assembled(tool) else {}


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
        work = design.work or work_of(job, design.choices, tool)
        with _fixed_metadata():
            design = _write_papers(design, work, names, folder, anyway, progress)
        progress("waiting for the solids")
        solids.result(_LONGEST_WAIT_S)
    progress("record")
    content = record_text(design, work.setups, work.operations, folder)
    (folder / RECORD).write_text(content, encoding="utf-8", newline="\n")
    return design


def _write_papers(
    design: Design,
    work: Work,
    names: Mapping[str, Mapping[str, str]],
    folder: Path,
    anyway: bool,
    progress: Progress,
) -> Design:
    """Sheets, profiles, picture and plan; the design with what the proof of the sheets found."""
    from generator.checks import chains
    from generator.making.readings import inspection_table
    from generator.prints.svg import svg_text

    job, tool = design.job, design.tool
    gaps = chains(tool)
    drawn = _draw_sheets(design, gaps, work.stock, names["dxf"], folder, progress)
    if drawn.findings:
        design = replace(design, findings=by_severity((*design.findings, *drawn.findings)))
        if not anyway:
            raise _RefusedError(design)
        # Once more, so that every sheet carries the mark; what is wrong with them is known by now.
        drawn = _draw_sheets(design, gaps, work.stock, names["dxf"], folder, progress)
    table = inspection_table(tool, tuple(gaps.values()), job.unit)
    (folder / f"{job.name}-inspection.csv").write_text(table, encoding="utf-8", newline="\n")
    for part in tool.made:
        _write_profile(design, part, folder / names["profile"][part.name])
    progress("plan")
    (folder / f"{job.name}.svg").write_text(svg_text(drawn.whole), encoding="utf-8", newline="\n")
    _write_plan(design, work, gaps, drawn, folder / f"{job.name}.pdf")
    return design


def _draw_sheets(
    design: Design,
    gaps: Mapping[str, Any],
    stock: Iterable[StockRow],
    files: Mapping[str, str],
    folder: Path,
    progress: Progress,
) -> _Drawn:
    """Draw, write, read back and proof the arrangement and the sheet of every made part."""
    from generator.drawing.arrangement import arrangement
    from generator.drawing.centres import centres_of
    from generator.drawing.part_sheet import part_sheet
    from generator.titles import arrangement_block, part_block, stock_texts

    findings: list[Finding] = []
    progress("arrangement")
    block = arrangement_block(design)
    sheet = arrangement(design.tool, block, chains=gaps, stock=stock_texts(stock, block.manner))
    whole = _read_back(sheet, folder / files[worker.WHOLE_TOOL], design, findings)
    assembly = None
    if ASSEMBLY in files:
        progress("assembly")
        assembly = _read_back(_assembly(design), folder / files[ASSEMBLY], design, findings)
    slope_deg = {area.part: area.style.angle_deg for area in sheet.scene.section.areas}
    parts: dict[str, Ink] = {}
    for part in design.tool.made:
        progress(f"sheet of {part.title.lower()}")
        drawing = part_sheet(
            part, part_block(design, part, stock), hatch_angle_deg=slope_deg.get(part.name, 45.0),
            centres=centres_of(part),
        )  # fmt: skip
        parts[part.name] = _read_back(drawing, folder / files[part.name], design, findings)
    return _Drawn(whole, assembly, parts, tuple(findings))


def _assembly(design: Design) -> Any:
    """The assembly sheet, drawn from the moves that the making found."""
    from generator.drawing.assembly_sheet import Joining, assembly_sheet
    from generator.making.assembly import assembly_moves
    from generator.titles import assembly_block

    moves = assembly_moves(design.tool)
    steps = [Joining(move.pieces, move.title, move.into, move.side, move.contacts) for move in moves]
    return assembly_sheet(design.tool, assembly_block(design), steps)


def _read_back(sheet: Any, path: Path, design: Design, findings: list[Finding]) -> Ink:
    """Write a sheet; the ink of what was written, read as any program would read it. Its faults join the findings."""
    from generator.ink import read_ink
    from generator.proof import document_of, proof_sheet

    document = document_of(_write_dxf(sheet.document, path, design))
    ink = read_ink(document, sheet.layout_name)
    faults = [found for found in proof_sheet(document, sheet.layout_name, ink) if found.severity == "fault"]
    findings += [
        Finding(
            "drawing-fault",
            "stop",
            f"{path.name}/{found.handle or found.layer or found.code}",
            f"{path.name}: {found.what}",
            source=found.rule.source,
            advice=f"{found.rule.says} ({found.place}); the part asks for more than its sheet can say clearly",
        )
        for found in faults
    ]
    return ink


def _write_profile(design: Design, part: Part, path: Path) -> None:
    from generator.drawing.profile import profile

    _write_dxf(profile(part), path, design)


def _write_plan(
    design: Design,
    work: Work,
    gaps: Mapping[str, Any],
    drawn: _Drawn,
    path: Path,
) -> None:
    from generator.making.settings import settings_for
    from generator.plan import compose_plan
    from generator.prints.plan import write_plan

    job, tool = design.job, design.tool
    settings = settings_for(tool, design.choices, work.stock, work.workshop, job.unit)
    plan = compose_plan(
        job.name, job.params.sheet, tool, design.choices, design.findings, tuple(gaps.values()), work.setups,
        work.stock, settings, drawn.parts, drawn.whole, job.unit, drawn.assembly,
        job.params.title, work.workshop, work.operations, drawer_of(job),
    )
    # Through memory, so that a full disk is met in one place only.
    printed = BytesIO()
    write_plan(plan, printed)
    path.write_bytes(printed.getvalue())


def _write_dxf(document: Any, path: Path, design: Design) -> str:
    """Write a drawing in the version that the job wants; the text of the drawing in the version that holds it all."""
    from generator.drawing.dxf_file import dxf_bytes, dxf_text

    text = dxf_text(document)
    path.write_bytes(dxf_bytes(document, design.job.params.sheet.dxf_version or "R2013", text))
    return text


@contextmanager
def _uncollected() -> Iterator[None]:
    """Keep the collector of cyclic garbage off: a run is short, and nearly all that it makes lives to its end."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


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
