"""From a job to its design: every choice, the tool, and what was found, with each failure placed in the job file."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from types import ModuleType
from typing import TYPE_CHECKING, Any, TypeVar, cast

from generator.description import Tool
from generator.description.choices import Choices
from generator.errors import Fault, GeneratorError, GeometryError, InputError, TableError
from generator.findings import Finding, by_severity, count_stops
from generator.job.reader import Job, located
from generator.job.workshop import workshop_of
from generator.tables import use_own_rings

if TYPE_CHECKING:
    from generator.job.work import Work

__all__ = ["Design", "advised", "choices_of", "inspect", "work_out"]

Made = TypeVar("Made")


@dataclass(frozen=True)
class Design:
    """A job worked out: choices, tool, findings with stops first, and how it is made, once it is inspected."""

    job: Job
    choices: Choices
    tool: Tool
    findings: tuple[Finding, ...] = ()
    work: Work | None = None

    @property
    def stops(self) -> int:
        """Number of findings that forbid making the tool."""
        return count_stops(self.findings)


def choices_of(job: Job) -> Choices:
    """Everything the job gives and everything that follows. Raises InputError where nothing sensible can be built."""
    return _placed(job, lambda: job.kind.derive(job.params))


def work_out(job: Job) -> Design:
    """The job's choices and tool, not yet checked. Raises InputError where nothing sensible can be built."""
    choices = choices_of(job)
    return Design(job, choices, _placed(job, lambda: job.kind.build(choices)))


def inspect(design: Design) -> Design:
    """The same design with its findings, stops first, and the work that makes it, where that can be worked out."""
    return _placed(design.job, lambda: _inspected(design))


def _inspected(design: Design) -> Design:
    from generator.checks import check
    from generator.job.work import blocked_findings, order_of, work_of

    job, choices, tool = design.job, design.choices, design.tool
    try:
        setups = order_of(job, choices, tool)
    except GeometryError:
        # The checks meet the same failure, and say in their own words what the tool lacks.
        setups = None
    work = None
    found = check(cast("ModuleType", job.kind), choices, tool, workshop_of(job), setups)
    if all(one.code != "check-not-run" for one in found):
        work = work_of(job, choices, tool, setups)
        found = (*found, *blocked_findings(work))
    return replace(design, findings=by_severity(found), work=work)


def advised(design: Design) -> Design:
    """The same design, its findings with the changes that clear them."""
    from generator.checks import advise

    job = design.job
    found = _placed(job, lambda: advise(cast("ModuleType", job.kind), job.params, design.findings, workshop_of(job)))
    return replace(design, findings=by_severity(found))


def _placed(job: Job, work: Callable[[], Made]) -> Made:
    """What the work gives, the drawer's bearings at hand; its failures become faults of the job file."""
    try:
        with use_own_rings(job.own_rings):
            return work()
    except InputError as problem:
        raise located(problem, job) from None
    except (TableError, GeometryError) as problem:
        raise _fault(job, str(problem), "change the value that is named") from None
    except GeneratorError:
        raise
    except Exception as problem:
        rule = f"the template {job.kind_name} failed: {_where(problem)}"
        raise _fault(job, rule, "nothing is wrong with the form of the job; the template has a fault") from problem


def _fault(job: Job, rule: str, cure: str) -> InputError:
    return InputError([Fault("the job", rule, "", cure)], job.source)


def _where(problem: Exception) -> str:
    """The failure in one line, with the file and line where it happened."""
    trace: Any = problem.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    words = " ".join(f"{type(problem).__name__}: {problem}".split())[:160]
    if trace is None:
        return words
    name = trace.tb_frame.f_code.co_filename.replace("\\", "/").rsplit("/", 1)[-1]
    return f"{words} ({name}, line {trace.tb_lineno})"
